/** @file import.h  Read a drawing of another format into a plant file.
 *
 *  Call order: still_import_dexpi → still_import_plant, still_import_report → still_import_free.
 *  What cannot be mapped stays as a part that is never closed, a pipe that leads nowhere becomes a
 *  plant limit under pressure, and each such loss is counted and listed. Nothing here prints or
 *  keeps global state. */
#ifndef STILLSET_IMPORT_H
#define STILLSET_IMPORT_H

#include "stillset/diag.h"
#include "stillset/status.h"

#include <stdbool.h>

#ifdef __cplusplus
extern "C" {
#endif

typedef struct still_import still_import;

/** What an import is asked for. Start from STILL_IMPORT_OPTS_INIT. */
typedef struct still_import_opts {
    bool assume_lockable; /**< hand valves get lockable="assumed" */
} still_import_opts;
#define STILL_IMPORT_OPTS_INIT                                                                     \
    {                                                                                              \
        false                                                                                      \
    }

typedef enum still_import_form { STILL_IMPORT_TEXT, STILL_IMPORT_JSON } still_import_form;

/** Import a drawing of DEXPI 1 (Proteus XML).
 *
 *  @param[out] out  the result, owned by the caller (still_import_free); untouched on failure
 *  @param path      file, or "-" for standard input
 *  @param opts      NULL = STILL_IMPORT_OPTS_INIT
 *  @param diags     says why on failure; may be NULL
 *  @return STILL_OK, also with losses (see still_import_losses); STILL_E_INPUT (no such drawing, or
 *          not well-formed), STILL_E_LIMIT (256 MiB or more), STILL_E_IO, STILL_E_NOMEM,
 *          STILL_E_INTERNAL (the plant file made does not pass the reader). Cost: linear in the
 *          file, but for parts with many pipes. */
STILL_NODISCARD still_status still_import_dexpi(still_import **out, const char *path,
                                                const still_import_opts *opts, still_diags *diags);
/** As still_import_dexpi, from memory. @param name  stands for the file in messages */
STILL_NODISCARD still_status still_import_dexpi_memory(still_import **out, const char *name,
                                                       const void *bytes, size_t len,
                                                       const still_import_opts *opts,
                                                       still_diags *diags);
/** The plant file; borrowed, a zero behind it. */
const char *still_import_plant(const still_import *import, size_t *len);
/** The import report, for people or as JSON (`"format": "stillset-import-1"`); borrowed. */
const char *still_import_report(const still_import *import, still_import_form form, size_t *len);
/** How many losses there are; assumptions are not counted. */
size_t still_import_losses(const still_import *import);
/** NULL is allowed. */
void still_import_free(still_import *import);

#ifdef __cplusplus
}
#endif
#endif
