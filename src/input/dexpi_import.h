/** @file dexpi_import.h  Importing drawings of DEXPI 1; the public calls stand in
 * stillset/import.h. */
#ifndef STILL_DEXPI_IMPORT_H
#define STILL_DEXPI_IMPORT_H

#include "stillset/import.h"
#include "strbuf.h"

/** What an import gave; borrowed. */
typedef struct still_import_parts {
    const still_buf *plant, *text, *json;
    size_t losses;
} still_import_parts;

/** As still_import_dexpi, still_import_dexpi_memory and still_import_free. */
STILL_NODISCARD still_status still_dexpi_import(still_import **out, const char *path,
                                                const still_import_opts *opts, still_diags *diags);
STILL_NODISCARD still_status still_dexpi_import_memory(still_import **out, const char *name,
                                                       const void *bytes, size_t len,
                                                       const still_import_opts *opts,
                                                       still_diags *diags);
still_import_parts still_dexpi_import_parts(const still_import *import);
void still_dexpi_import_free(still_import *import);

#endif
