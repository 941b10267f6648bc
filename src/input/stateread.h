/** @file stateread.h  State file → overlay of what was found today. */
#ifndef STILL_STATEREAD_H
#define STILL_STATEREAD_H

#include "state.h"
#include "stillset/diag.h"
#include "stillset/status.h"

/** Read a state file (docs/FORMAT.md, section 2).
 *  @param[out] out  owned by the caller (still_state_free); untouched on failure
 *  @param plant     whose state it is; borrowed for the call
 *  @param path      file, or "-" for standard input
 *  @param diags     gets every error and warning; may be NULL
 *  @return STILL_OK (warnings are possible), STILL_E_INPUT, STILL_E_LIMIT, STILL_E_IO,
 *          STILL_E_NOMEM. Cost: linear in the file, but for the insertion of what stands out of the
 *          plant's order. */
STILL_NODISCARD still_status still_read_state(still_state **out, const still_plant *plant,
                                              const char *path, still_diags *diags);
/** As still_read_state, from memory. @param name  stands for the file in messages */
STILL_NODISCARD still_status still_read_state_memory(still_state **out, const still_plant *plant,
                                                     const char *name, const void *bytes,
                                                     size_t len, still_diags *diags);

#endif
