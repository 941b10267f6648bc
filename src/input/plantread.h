/** @file plantread.h  Reading the plant file (docs/FORMAT.md) into the model. */
#ifndef STILL_PLANTREAD_H
#define STILL_PLANTREAD_H

#include "plant.h"
#include "stillset/diag.h"
#include "stillset/status.h"

/** Read a plant file.
 *
 *  All problems found are added to `diags`, in the order of the file; reading goes on after each
 *  but XML that is not well-formed, another encoding than UTF-8, a document type declaration or a
 *  root element of another format.
 *  @param[out] out  the plant, owned by the caller (still_plant_free); untouched on failure
 *  @param path      file, or "-" for standard input
 *  @param diags     may be NULL
 *  @return STILL_OK (warnings are possible); STILL_E_INPUT (errors stand in diags); STILL_E_LIMIT
 *          (4 GiB or more); STILL_E_IO (cannot be read); STILL_E_NOMEM
 *  Cost: one pass over the file in chunks; memory below the size of the file. */
STILL_NODISCARD still_status still_read_plant(still_plant **out, const char *path,
                                              still_diags *diags);

/** As still_read_plant, from memory, which is copied when the reading succeeds so that later
 *  messages can show a line.
 *  @param name  stands for the file in messages */
STILL_NODISCARD still_status still_read_plant_memory(still_plant **out, const char *name,
                                                     const void *bytes, size_t len,
                                                     still_diags *diags);

#endif
