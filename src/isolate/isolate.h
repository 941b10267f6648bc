/** @file isolate.h  Inner parts of isolate/, for its own files. */
#ifndef STILL_ISOLATE_H
#define STILL_ISOLATE_H

#include "trace.h"

/** Spell out the proof paths of a finished search. Sets by_search where they do not prove the cost.
 *  @return STILL_OK, STILL_E_NOMEM, STILL_E_INTERNAL */
STILL_NODISCARD still_status still_proof_paths(still_isolation *iso, const still_layers *layers,
                                               const still_search *search, still_trace *trace);
/** The way to a source that can't be kept out, and what would help (I6).
 *  @return STILL_OK, STILL_E_NOMEM, STILL_E_INTERNAL */
STILL_NODISCARD still_status still_find_obstacle(still_isolation *iso, still_trace *trace);
/** Where one bleed more would make the grade possible, the cheapest plan first.
 *  @return STILL_OK, STILL_E_NOMEM, STILL_E_INTERNAL. Cost: a search for each pipe near the work.
 */
STILL_NODISCARD still_status still_find_bleed_help(still_isolation *iso);
/** What a choice encloses: with the work, between, and further out between two points. */
typedef struct still_enclosure {
    uint64_t grams; /**< of what is known */
    bool mass_unknown;
    uint32_t equipment; /**< the opened aside */
} still_enclosure;
/** @param s  its labelling and positions are read. @return STILL_OK, STILL_E_NOMEM */
STILL_NODISCARD still_status still_enclosed(const still_zone *zone, const still_search *s,
                                            still_enclosure *out);

#endif
