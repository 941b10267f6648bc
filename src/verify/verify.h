/** @file verify.h  The second, separately written check of a plan (rule I7).
 *
 *  Takes the finished record and re-derives, by plain walks over the model, what must hold of it.
 *  Shares no code with graph/ and isolate/. */
#ifndef STILL_VERIFY_H
#define STILL_VERIFY_H

#include "plant.h"
#include "state.h"
#include "stillset/diag.h"
#include "stillset/record.h"

/** What a record says. A record made by the planner says all of it; in one made by hand parts may
 *  be missing, and are then not looked at. */
enum {
    STILL_VERIFY_HAS_COST = 1u << 0,
    STILL_VERIFY_HAS_LEVELS = 1u << 1,
    STILL_VERIFY_HAS_INSIDE = 1u << 2,
    STILL_VERIFY_HAS_BETWEEN = 1u << 3,
    STILL_VERIFY_HAS_PROOF = 1u << 4,
    STILL_VERIFY_HAS_STEPS = 1u << 5,
    STILL_VERIFY_HAS_RESTORE = 1u << 6,
    STILL_VERIFY_HAS_START = 1u << 7,
    STILL_VERIFY_HAS_END = 1u << 8,
    STILL_VERIFY_HAS_COMPARTMENTS = 1u << 9,
    STILL_VERIFY_HAS_CLOSED_IN = 1u << 10,
    STILL_VERIFY_HAS_ASSUMPTIONS = 1u << 11,
    STILL_VERIFY_HAS_FINDINGS = 1u << 12,
    STILL_VERIFY_HAS_REQUIRED = 1u << 13,
    STILL_VERIFY_HAS_TREATMENTS = 1u << 14,
    STILL_VERIFY_HAS_HANDLING = 1u << 15, /**< of points: tag, from, hold, legend */
    STILL_VERIFY_HAS_DIGEST = 1u << 16,
    STILL_VERIFY_HAS_OBSTACLE = 1u << 17,
    STILL_VERIFY_HAS_ALL = (1u << 18) - 1
};

/** As still_verify_record, of a record that says only what `given` names (STILL_VERIFY_HAS_*). */
STILL_NODISCARD still_status still_verify_part(bool *agrees, const still_plant *plant,
                                               const still_state *state, const still_record *record,
                                               unsigned given, still_diags *diags);

/** Check a record against the plant and the state that it was made for.
 *  @param[out] agrees  true when nothing was found against it; untouched on failure
 *  @param diags        gets one error for each disagreement: code = the rule id, component, and a
 *                      text that says what is wrong and along which path; may be NULL
 *  @return STILL_OK, STILL_E_NOMEM
 *  Cost: a fixed number of walks over the plant. */
STILL_NODISCARD still_status still_verify_record(bool *agrees, const still_plant *plant,
                                                 const still_state *state,
                                                 const still_record *record, still_diags *diags);

#endif
