/** @file site.h  What a site says of its own work: hold time, gas test, vacuum, tests, gear.
 *
 *  Everything is optional. What is not said is asked for on the plan; no figure is made up for it
 *  (F-PRC-9: no hold time is published). */
#ifndef STILL_SITE_H
#define STILL_SITE_H

#include "arena.h"
#include "digest.h"
#include "stillset/diag.h"

#include <stdbool.h>
#include <stddef.h>

/** Code that the pressure tests follow. */
typedef enum still_test_code {
    STILL_TEST_CODE_NOT_SAID,
    STILL_TEST_CODE_EN_378,
    STILL_TEST_CODE_ASME_B31_5
} still_test_code;
/** "en-378", "asme-b31.5"; "" = not said. */
const char *still_test_code_text(still_test_code code);

/** Limit of the gas test, as the site words it. */
typedef struct still_gas_limit {
    const char *substance; /**< as in a plant file; "" = any that has none of its own */
    const char *limit;
} still_gas_limit;

/** Protective gear that the site prescribes, for what has one of these. */
typedef struct still_gear {
    const char *hazards; /**< statements, "x" for any digit; "" = none named */
    bool asphyxiant;
    double above_K, below_K; /**< warmer, colder than this; NAN = does not look at it */
    const char *wear;
} still_gear;

/** A site file. No text is NULL; NAN = not said. */
typedef struct still_site {
    const char *id;
    char digest[STILL_DIGEST_TEXT]; /**< SHA-256 of the bytes */
    const char *checklists;         /**< its own checklists: a file beside this one; "" = none */
    const char *hold_time;          /**< as written, such as "15 min"; "" = not said */
    double hold_time_s;
    double evacuation_Pa;        /**< absolute */
    const char *evacuation_hold; /**< as written; "" = not said */
    double evacuation_hold_s;
    const char *ambient; /**< as written, such as "35 degC"; "" = not said */
    still_test_code code;
    const still_gas_limit *limits;
    size_t n_limits;
    const still_gear *gear;
    size_t n_gear;
    still_arena arena;
} still_site;

/** Read a site file (docs/FORMAT.md, section 2.2).
 *  @param[out] out  owned by the caller (still_site_free); untouched on failure
 *  @param path      file, or "-" for standard input
 *  @param diags     gets every problem found; may be NULL
 *  @return STILL_OK; STILL_E_INPUT (errors stand in diags); STILL_E_LIMIT (over 1 MiB); STILL_E_IO;
 *          STILL_E_NOMEM. Cost: linear. */
STILL_NODISCARD still_status still_site_read(still_site **out, const char *path,
                                             still_diags *diags);
/** The same from memory. @param name  stands for the file in messages */
STILL_NODISCARD still_status still_site_read_memory(still_site **out, const char *name,
                                                    const void *bytes, size_t len,
                                                    still_diags *diags);
/** NULL is allowed. */
void still_site_free(still_site *site);

/** Limit of the gas test for a substance; "" = the site gives none. NULL site is allowed. */
const char *still_site_gas_limit(const still_site *site, const char *substance);
/** Path of the site's own checklists: beside the site file, unless it is absolute.
 *  @return arena memory, or NULL when memory is out */
const char *still_site_beside(still_arena *arena, const char *site_path, const char *name);

#endif
