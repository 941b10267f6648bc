/** @file found.h  What a state file says, for the records. */
#ifndef STILL_FOUND_H
#define STILL_FOUND_H

#include "arena.h"
#include "state.h"
#include "stillset/coverage.h"
#include "stillset/record.h"

/** List all that was found, in the order of the plant.
 *  @param state  NULL = nothing; a list of none. @return STILL_OK, STILL_E_NOMEM (outputs
 * untouched) */
STILL_NODISCARD still_status still_found_list(const still_found **out, size_t *n,
                                              still_arena *arena, const still_plant *plant,
                                              const still_state *state);
/** Digest, list and note of the state in the record of relief; nothing is noted without a state.
 *  @return STILL_OK, STILL_E_NOMEM */
STILL_NODISCARD still_status still_found_cover(still_coverage_record *r, still_arena *arena,
                                               const still_plant *plant, const still_state *state);

#endif
