/** @file planning.h  What a plan owns. Inner header of api/. */
#ifndef STILL_PLANNING_H
#define STILL_PLANNING_H

#include "arena.h"
#include "plant.h"
#include "procedure.h"
#include "stillset/plan.h"
#include "stillset/record.h"

struct still_plan {
    still_arena arena;
    const still_plant *plant;
    still_record record;
};

/** Fill a plan that is empty. @param standing  what a plan before has done, or NULL
 *  @return as still_plan_make */
STILL_NODISCARD still_status still_plan_fill(still_plan *plan, const still_plant *plant,
                                             const still_state *state, const char *const *targets,
                                             size_t n_targets, const still_plan_opts *opts,
                                             const still_standing *standing, still_diags *diags);
/** A plan that goes on from another: opts->done, found, from. @return as still_plan_make */
STILL_NODISCARD still_status still_plan_go_on(still_plan **out, const still_plant *plant,
                                              const still_state *state, const char *const *targets,
                                              size_t n_targets, const still_plan_opts *opts,
                                              still_diags *diags);

#endif
