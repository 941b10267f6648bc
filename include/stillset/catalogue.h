/** @file catalogue.h  Languages: a message catalogue that texts for people are said by.
 *
 *  English is built in, and needs none. A catalogue is a GNU gettext file (.mo). What it lacks is
 *  said in English; ids, places and names of the plant file are never translated, and JSON and CSV
 *  records neither (docs/FORMAT.md). */
#ifndef STILLSET_CATALOGUE_H
#define STILLSET_CATALOGUE_H

#include "stillset/diag.h"
#include "stillset/status.h"

#ifdef __cplusplus
extern "C" {
#endif

typedef struct still_catalogue still_catalogue;

/** Open a catalogue.
 *  @param[out] out   owned by the caller (still_catalogue_free), and has to outlive each plan made
 *                    with it; NULL for English. Untouched on failure
 *  @param language   "en" or "de", also with a country behind it ("de-AT"): one that is built in.
 *                    With a path: what the texts are in, such as "nl"
 *  @param path       a site's own catalogue, or NULL
 *  @param diags      says why on failure; may be NULL
 *  @return STILL_OK; STILL_E_USAGE (not built in, or no language: letters, digits, '-');
 *          STILL_E_INPUT (no catalogue, or one whose placeholders do not fit), STILL_E_LIMIT
 *          (more than 16 MiB), STILL_E_IO, STILL_E_NOMEM. Cost: linear in the catalogue */
STILL_NODISCARD still_status still_catalogue_open(still_catalogue **out, const char *language,
                                                  const char *path, still_diags *diags);
/** Free a catalogue; NULL is allowed. */
void still_catalogue_free(still_catalogue *catalogue);
/** Language of its texts, as given; "en" for NULL. */
const char *still_catalogue_language(const still_catalogue *catalogue);

#ifdef __cplusplus
}
#endif
#endif
