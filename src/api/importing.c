/* The public calls on imports. */
#include "stillset/import.h"

#include "dexpi_import.h"

still_status still_import_dexpi(still_import **out, const char *path, const still_import_opts *opts,
                                still_diags *diags)
{
    return still_dexpi_import(out, path, opts, diags);
}

still_status still_import_dexpi_memory(still_import **out, const char *name, const void *bytes,
                                       size_t len, const still_import_opts *opts,
                                       still_diags *diags)
{
    return still_dexpi_import_memory(out, name, bytes, len, opts, diags);
}

const char *still_import_plant(const still_import *import, size_t *len)
{
    const still_buf *plant = still_dexpi_import_parts(import).plant;
    if (len != NULL) *len = plant->len;
    return plant->text;
}

const char *still_import_report(const still_import *import, still_import_form form, size_t *len)
{
    still_import_parts parts = still_dexpi_import_parts(import);
    const still_buf *report = form == STILL_IMPORT_JSON ? parts.json : parts.text;
    if (len != NULL) *len = report->len;
    return report->text;
}

size_t still_import_losses(const still_import *import)
{
    return still_dexpi_import_parts(import).losses;
}

void still_import_free(still_import *import)
{
    still_dexpi_import_free(import);
}
