/** @file judge.h  What the choice of points can't see by itself: relief paths (D4). Inner header of
 *  api/. */
#ifndef STILL_API_JUDGE_H
#define STILL_API_JUDGE_H

#include "isolation.h"
#include "relief.h"
#include "rooms.h"
#include "service.h"

/** Working state of the judge: relief as it is today. */
typedef struct still_judging {
    const still_plant *plant;
    const still_state *state;
    const still_state *home; /**< before any step: relief paths of then can be lost (D4) */
    const still_targets *targets;
    still_relief before;
    bool has_before;
    uint8_t *held;            /**< by component */
    still_in_service service; /**< equipment to be kept in service */
    uint8_t *shut;            /**< by component */
    uint32_t *refused;        /**< points of the first choice that takes some out of service */
    uint32_t n_refused;
    uint32_t *cause; /**< those of them of which one must go */
    uint32_t n_cause;
    still_service_loss loss; /**< what it takes; without an end, and known: the last relief path */
} still_judging;

/** @param kept  equipment that must stay in service, borrowed
 *  @return STILL_OK, STILL_E_NOMEM. Clear in every case. */
STILL_NODISCARD still_status still_judging_init(still_judging *j, const still_plant *plant,
                                                const still_state *state,
                                                const still_targets *targets, const uint32_t *kept,
                                                size_t n_kept);
void still_judging_clear(still_judging *j);
/** still_judge.look: points of which one must go so that what is to stay in service does (then the
 *  choice is none), and no equipment loses its last relief path (then it ranks behind).
 *  Hand devices that the plan opens count as shut or open as they stand today: what is opened is
 * not known yet, and can only add paths. Cost: a pass over the plant, and one more for each point.
 */
STILL_NODISCARD still_status still_judging_look(void *arg, const still_zone *zone,
                                                const uint8_t *label, const uint32_t *points,
                                                uint32_t n_points, uint32_t *culprits,
                                                uint32_t *n_culprits, bool *must);

/** Compartments of a finished choice: those of the work's side, then those between, where these
 * stay apart while they are emptied. For positive isolation both together: the blinds are fitted
 * when they are empty. @return STILL_OK, STILL_E_NOMEM */
STILL_NODISCARD still_status still_judge_rooms(still_rooms *out, still_arena *arena,
                                               const still_isolation *iso);

#endif
