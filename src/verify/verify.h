/** @file verify.h  The second, separately written check of a plan (rule I7).
 *
 *  Takes the finished record and re-derives, by plain walks over the model, what must hold of it.
 *  Shares no code with graph/ and isolate/. */
#ifndef STILL_VERIFY_H
#define STILL_VERIFY_H

#include "given.h"
#include "plant.h"
#include "state.h"
#include "stillset/diag.h"
#include "stillset/record.h"

/** As still_verify_record, of a record that says only what `given` names (STILL_GIVEN_*). */
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
