/** @file places.h  Where new relief valves would close gaps with the fewest valves (L2, L5).
 *
 *  In the worst state of all devices, as segments.h. A new valve stands at one piece, leads to the
 *  open and opens at or below the lowest design pressure of what it shall cover. Argument:
 *  docs/METHOD.md, 5.1. */
#ifndef STILL_PLACES_H
#define STILL_PLACES_H

#include "segments.h"

typedef struct still_place {
    uint32_t segment;             /**< where it would stand */
    uint32_t spool;               /**< bytewise lowest spool id there */
    uint32_t *covers, n_covers;   /**< segments, by lowest id */
    uint32_t *jointly, n_jointly; /**< of these: those that need another new valve too, behind the
                                       other position of a three-way valve */
    double set_bara;              /**< lowest design pressure of `covers`: to open at or below */
} still_place;

typedef struct still_places {
    still_place *items; /**< by spool id */
    uint32_t n;
    uint32_t bound;         /**< no fewer can do */
    bool proven;            /**< n is the least number */
    double ratio;           /**< n is at most this many times the least number */
    uint32_t *left, n_left; /**< wanted segments that no relief valve can cover: design pressure
                                 unknown, or not above the atmosphere's */
} still_places;

/** @param wanted  by segment: 1 = a gap to be closed; only uncovered segments are looked at
 *  @param[out] out  arena memory
 *  @return STILL_OK, STILL_E_NOMEM
 *  Cost: near linear in the plant, and what the gaps' ways out reach, for each last gap. */
STILL_NODISCARD still_status still_places_find(still_places *out, still_arena *arena,
                                               const still_plant *plant, const still_state *state,
                                               const still_segments *segments,
                                               const uint8_t *wanted);

#endif
