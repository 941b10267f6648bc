/** @file asking.h  Which grade a plan is made for: what was asked, and what the policy asks (I3).
 * Inner header of api/. */
#ifndef STILL_ASKING_H
#define STILL_ASKING_H

#include "arena.h"
#include "asked.h"
#include "demand.h"
#include "isolation.h"
#include "policy.h"
#include "stillset/plan.h"

typedef struct still_asking {
    still_arena *arena;
    const still_plant *plant;
    const still_state *state;
    const still_targets *targets;
    const still_plan_opts *opts;
    double ambient_K;
    const still_policy *policy;
    const uint8_t *stays; /**< still_asked.stays */
    still_source_demands demands;
    still_grade required; /**< the highest demand of the policy */
    still_asked asked;    /**< what is planned for */
    bool raised; /**< the required grade can't be had, but a better one can: that is planned */
} still_asking;

/** Find the demands and what is planned for. @param through  sources taken inside so far
 *  @return STILL_OK, STILL_E_NOMEM */
STILL_NODISCARD still_status still_ask(still_asking *asking, const uint32_t *through,
                                       size_t n_through);
/** Choose the points for what is asked. Where sources come inside that the demands did not look
 *  through, asks again.
 *  @return as still_isolate */
STILL_NODISCARD still_status still_ask_and_isolate(still_isolation **out, still_asking *asking,
                                                   const still_judge *judge);
/** The best grade below what was asked that can be had everywhere, or STILL_GRADE_POLICY: none.
 *  @param judge  what must hold of a choice, or NULL
 *  @return as still_isolate */
STILL_NODISCARD still_status still_best_grade(still_grade *best, const still_asking *asking,
                                              const still_judge *judge);

#endif
