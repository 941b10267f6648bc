/** @file shared.h  What several public calls need. Inner header of api/. */
#ifndef STILL_API_SHARED_H
#define STILL_API_SHARED_H

#include "output.h"
#include "stillset/plan.h"
#include "strbuf.h"

/** An ambient temperature as it is asked for; NULL = the default of rule L3.
 *  @return STILL_OK, STILL_E_USAGE (said in diags; *ambient_K is then untouched) */
STILL_NODISCARD still_status still_read_ambient(double *ambient_K, const char *text,
                                                still_diags *diags);
/** Refuse an id that no component has, in words that say which may have been meant.
 *  @param what_for  such as " to be avoided", or "" @return STILL_E_NO_COMP */
STILL_NODISCARD still_status still_refuse_comp(const still_plant *plant, const char *id,
                                               const char *what_for, still_diags *diags);
/** Form of a picture; the format must be one. */
still_picture still_picture_of(still_format format);
/** Hand over what was written, or free it; a buffer that failed is out of memory. */
STILL_NODISCARD still_status still_give(char **bytes, size_t *len, still_buf *buf,
                                        still_status status);
/** What a record of any kind says of the program and of its plant; texts are the plant's. */
#define STILL_SAY_ORIGIN(record, plant)                                                            \
    do {                                                                                           \
        (record)->program = "stillset";                                                            \
        (record)->version = still_version();                                                       \
        (record)->plant_id = still_text((plant), (plant)->id);                                     \
        (record)->plant_name = still_text((plant), (plant)->name);                                 \
        (record)->plant_revision = still_text((plant), (plant)->revision);                         \
        (record)->plant_digest = (plant)->digest;                                                  \
        (record)->plant_file = (plant)->file != NULL ? (plant)->file : "";                         \
    } while (0)

#endif
