/** @file since.h  What changed between two revisions of a plant (coverage.h). */
#ifndef STILL_SINCE_H
#define STILL_SINCE_H

#include "arena.h"
#include "plant.h"
#include "stillset/coverage.h"

/** Compare two records.
 *  @param[out] out  arena memory, its texts too: nothing of the old plant is kept; untouched on
 *                   failure
 *  @return STILL_OK, STILL_E_NOMEM */
STILL_NODISCARD still_status still_since_make(const still_since **out, still_arena *arena,
                                              const still_plant *now_plant,
                                              const still_coverage_record *now,
                                              const still_plant *old_plant,
                                              const still_coverage_record *old);

/** Which component of one plant is which of another. In place. */
typedef struct still_same {
    uint32_t *now_of; /**< by component of the old plant: STILL_NONE = not found again */
    uint32_t *old_of; /**< by component of the new one: STILL_NONE = was not there */
    uint8_t *guessed; /**< by component of the old plant: under another id */
} still_same;

/** @return STILL_OK, STILL_E_NOMEM. Clear in every case. */
STILL_NODISCARD still_status still_same_find(still_same *same, const still_plant *old,
                                             const still_plant *now);
void still_same_clear(still_same *same);

#endif
