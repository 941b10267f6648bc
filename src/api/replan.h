/** @file replan.h  Going on from a plan of which some steps are done. */
#ifndef STILL_REPLAN_H
#define STILL_REPLAN_H

#include "planning.h"
#include "procedure.h"
#include "stillset/plan.h"

/** A plan that goes on from another: what that one has done. All in the arena of the new plan. */
typedef struct still_going_on {
    still_standing standing;
    still_state *now;        /**< as it stands, ways out open that were opened; heap */
    still_state *safe;       /**< the same with these shut again; NULL = none is open; heap */
    const still_step *first; /**< the steps from `now` to `safe` */
    size_t n_first;
    const still_step *retreat; /**< the way back from `now` */
    size_t n_retreat;
    uint8_t *override_open; /**< those of `standing`, to be changed by still_going_on_shut */
    uint32_t *comp_tag;
    still_hung *hung; /**< tags that hang; `left` is not filled */
    size_t n_hung;
} still_going_on;

/** What the steps done have left.
 *  @param before  the plan before; its strings are copied
 *  @return STILL_OK; STILL_E_USAGE (a step that is not there, or that can't be gone on from;
 * `found` that is no valve or of another form), STILL_E_NO_COMP, STILL_E_NOMEM. Clear in every case
 */
STILL_NODISCARD still_status still_going_on_from(still_going_on *out, still_arena *arena,
                                                 const still_plant *plant, const still_state *state,
                                                 const still_record *before,
                                                 const still_plan_opts *opts, still_diags *diags);
/** The ways out are shut by the steps `first`: their tags come off. */
void still_going_on_shut(still_going_on *going_on, const still_plant *plant);
void still_going_on_clear(still_going_on *going_on);

#endif
