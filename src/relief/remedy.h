/** @file remedy.h  What would remove a gap that a plan makes: an order, a valve to leave open, a
 *  place to drain (rule L6).
 *
 *  Every candidate is tried by the rules themselves: cover is computed anew with it (relief.h).
 *  Argument: docs/METHOD.md, 5.3. */
#ifndef STILL_REMEDY_H
#define STILL_REMEDY_H

#include "shutin.h"

typedef enum still_gap_kind {
    STILL_GAP_ORDER, /**< close a point last, once the liquid is let out through it */
    STILL_GAP_OPEN,  /**< open a hand valve that is no point, and leave it open */
    STILL_GAP_DRAIN  /**< let the liquid out, or open the segment, at an outlet */
} still_gap_kind;

/** One of them. Component numbers. */
typedef struct still_gap_remedy {
    still_gap_kind kind;
    uint32_t *ids, n_ids; /**< order: the point, the vessel that is emptied into; open: the valve;
                               drain: valves from the segment outward, the outlet last */
    bool stays_open;      /**< drain: the segment then stands open to the open; else it empties */
} still_gap_remedy;

typedef struct still_gap_remedies {
    still_gap_remedy *items;
    size_t n;
    bool vapour_holds; /**< once no liquid is left, it stays below its design pressure up to ambient
                            (L3, saturation) */
    bool untried;      /**< a limit was met: not every candidate was tried */
} still_gap_remedies;

/** Most candidates that are tried for one plan; each costs what relief.h says. */
enum { STILL_REMEDY_TRIES = 256 };

/** Find what removes each uncovered segment.
 *  @param after      the state with all points closed, built with `held`
 *  @param moved      by component: the plan closes it, and it does not stand closed today
 *  @param work_port  by port: on the work side
 *  @param shut       n segments of `after` (shutin.h)
 *  @param[out] out   n entries in arena memory, those of covered segments empty
 *  @return STILL_OK, STILL_E_NOMEM. Cost: linear in the plant for each candidate. */
STILL_NODISCARD still_status still_gap_remedies_find(still_gap_remedies **out, still_arena *arena,
                                                     const still_relief *after,
                                                     const uint8_t *moved, const uint8_t *work_port,
                                                     const still_shut_in *shut, size_t n,
                                                     double ambient_K);

#endif
