/** @file plan.h  Read a plant, check it, plan an isolation, write it out.
 *
 *  Call order: still_plant_read → still_check (optional) → still_plan_make → still_plan_write.
 *  Nothing here prints or keeps global state. */
#ifndef STILLSET_PLAN_H
#define STILLSET_PLAN_H

#include "stillset/catalogue.h"
#include "stillset/diag.h"
#include "stillset/record.h"
#include "stillset/style.h"

#include <stdio.h>

#ifdef __cplusplus
extern "C" {
#endif

typedef struct still_plant still_plant;
typedef struct still_state still_state;
typedef struct still_plan still_plan;

/** Read a plant file.
 *  @param[out] out  the plant, owned by the caller (still_plant_free); untouched on failure
 *  @param path      file, or "-" for standard input
 *  @param diags     gets every error and warning of the reading; may be NULL
 *  @return STILL_OK (warnings are possible), STILL_E_INPUT, STILL_E_LIMIT, STILL_E_IO,
 * STILL_E_NOMEM Cost: linear in the file. */
STILL_NODISCARD still_status still_plant_read(still_plant **out, const char *path,
                                              still_diags *diags);
/** As still_plant_read, from memory. @param name  stands for the file in messages */
STILL_NODISCARD still_status still_plant_read_memory(still_plant **out, const char *name,
                                                     const void *bytes, size_t len,
                                                     still_diags *diags);
/** Free a plant; NULL is allowed. */
void still_plant_free(still_plant *plant);

/** Read a state file: what was found today, laid over the plant (docs/FORMAT.md, section 2).
 *  @param[out] out  the state, owned by the caller (still_state_free); untouched on failure
 *  @param plant     whose state it is; borrowed for the call. The state fits no other plant
 *  @param path      file, or "-" for standard input
 *  @param diags     gets every error and warning of the reading; may be NULL
 *  @return STILL_OK (warnings are possible), STILL_E_INPUT, STILL_E_LIMIT (more than 1 MiB),
 *          STILL_E_IO, STILL_E_NOMEM. Cost: linear in the file. */
STILL_NODISCARD still_status still_state_read(still_state **out, const still_plant *plant,
                                              const char *path, still_diags *diags);
/** As still_state_read, from memory. @param name  stands for the file in messages */
STILL_NODISCARD still_status still_state_read_memory(still_state **out, const still_plant *plant,
                                                     const char *name, const void *bytes,
                                                     size_t len, still_diags *diags);
/** Free a state; NULL is allowed. */
void still_state_free(still_state *state);

/** Look for what is odd in a plant, though it can be read: warnings only.
 *  @return STILL_OK, STILL_E_NOMEM */
STILL_NODISCARD still_status still_check(const still_plant *plant, still_diags *diags);

/** Grades of isolation, in the order of trust, worst first (rule I2). */
typedef enum still_grade {
    STILL_GRADE_POLICY, /**< derive it from a policy */
    STILL_GRADE_SINGLE,
    STILL_GRADE_DOUBLE,
    STILL_GRADE_SINGLE_BLEED,
    STILL_GRADE_DOUBLE_BLEED,
    STILL_GRADE_POSITIVE
} still_grade;
/** "policy", "single", …; "" when out of range. */
const char *still_grade_text(still_grade grade);

/** Kind of work at the target. */
typedef enum still_work {
    STILL_WORK_BY_TARGET, /**< a vessel: entry; else open */
    STILL_WORK_OPEN,
    STILL_WORK_ENTRY,
    STILL_WORK_HOT_WORK,
    STILL_WORK_LONG_TERM
} still_work;
const char *still_work_text(still_work work);

/** What a plan is asked for, beside plant, state and targets. Start from STILL_PLAN_OPTS_INIT. */
typedef struct still_plan_opts {
    still_grade grade;
    still_work work;
    const char *const *accept; /**< findings accepted by name, each "RULE:ID" */
    size_t n_accept;
    const char *ambient; /**< such as "40 degC", which NULL means: closed-in fluid warms up to it */
    const char *const *avoid; /**< ids of devices found passing, seized or out of reach (D6) */
    size_t n_avoid;
    const char *const *keep; /**< ids of equipment that must stay in service */
    size_t n_keep;
    const char *policy; /**< a site's policy file (docs/POLICY.md); NULL = the one built in */
    bool explain;       /**< text: also why devices near the boundary are no points */
    const char *site;   /**< a site file (docs/FORMAT.md, section 2.2): hold time, gas test, tests;
                           NULL = none, so that the plan asks */
    const char *checklists; /**< work by kind of what is opened; NULL = as the site file says, else
                               those built in */
    const uint32_t
        *done; /**< numbers of the steps done of a plan before this one: go on from there */
    size_t n_done;
    const char *const
        *found; /**< what was found on the way, each "ID=passing", "=stuck", "=open" */
    size_t n_found;
    const char *from; /**< record of the plan before; NULL = the one that the other options give */
    bool paths;       /**< svg, png, pdf: also the paths of the proof */
    bool curves;      /**< pressure against temperature of uncovered liquid, for a pack */
    const still_catalogue *catalogue; /**< language of the texts; NULL = English. Borrowed: it has
                                         to outlive the plan */
} still_plan_opts;
#define STILL_PLAN_OPTS_INIT                                                                       \
    {                                                                                              \
        STILL_GRADE_POLICY, STILL_WORK_BY_TARGET, NULL, 0, NULL, NULL, 0, NULL, 0, NULL, false,    \
            NULL, NULL, NULL, 0, NULL, 0, NULL, false, false, NULL                                 \
    }

/** Plan the isolation of a component.
 *
 *  @param[out] out   the plan, owned by the caller (still_plan_free); untouched on failure
 *  @param plant      borrowed; the plan keeps a pointer to it and must be freed first
 *  @param state      what is different today; NULL = as in the plant file
 *  @param targets    what is opened: "ID", "ID.SIDE" of an exchanger, "ID.PORT" for one joint
 *  @param opts       NULL = STILL_PLAN_OPTS_INIT
 *  @param diags      says why on failure; may be NULL
 *  @return STILL_OK, also when the target cannot be isolated (record->feasible says so);
 *          STILL_E_NO_COMP (no such component), as still_plant_read for a policy file,
 * STILL_E_USAGE (accept names no finding of this plan is not an error; a malformed one is),
 * STILL_E_NOMEM, STILL_E_INTERNAL (the second check did not agree: no plan is given) Cost: one
 * minimum cut on the part of the plant within reach, and walks linear in the plant. */
STILL_NODISCARD still_status still_plan_make(still_plan **out, const still_plant *plant,
                                             const still_state *state, const char *const *targets,
                                             size_t n_targets, const still_plan_opts *opts,
                                             still_diags *diags);
/** The record of a plan; borrowed. */
const still_record *still_plan_record(const still_plan *plan);
/** Free a plan; NULL is allowed. */
void still_plan_free(still_plan *plan);

/** Forms in which a plan can be written. */
typedef enum still_format {
    STILL_FORMAT_TEXT, /**< 80 columns, findings and tag list first */
    STILL_FORMAT_JSON, /**< docs/plan.schema.json */
    STILL_FORMAT_CSV,  /**< the tag list, RFC 4180 */
    STILL_FORMAT_SVG,  /**< the neighbourhood of the work */
    STILL_FORMAT_PNG,  /**< the same picture, 150 dots per inch */
    STILL_FORMAT_PDF   /**< the same picture, one page, fonts in it */
} still_format;

/** Paper of a pack. */
typedef enum still_paper {
    STILL_PAPER_A4,
    STILL_PAPER_A3, /**< the diagram; all else A4 */
    STILL_PAPER_LETTER,
    STILL_PAPER_TABLOID /**< the diagram; all else letter */
} still_paper;

/** How people want a pack. */
typedef struct still_pack_opts {
    still_paper paper; /**< PDF */
    bool us_customary; /**< US customary units in front of the record's own */
    bool decimal_comma;
    const still_catalogue *catalogue; /**< of its own texts; the plan's are made with opts.catalogue
                                       */
    const char *digest; /**< of the English record (still_plan_digest); NULL = this plan's own */
} still_pack_opts;

/** SHA-256 of a plan's record as it is written in JSON.
 *  @param[out] digest  64 hexadecimal digits and a zero; untouched on failure
 *  @return STILL_OK, STILL_E_NOMEM, STILL_E_INTERNAL (as for still_plan_write) */
STILL_NODISCARD still_status still_plan_digest(char digest[65], const still_plan *plan);

/** Write a plan as the pack that people work by (docs/PACK.md).
 *  @param[out] bytes, len  as for still_plan_write
 *  @param html    one HTML file; else PDF
 *  @param opts    NULL = A4, English, SI
 *  @return STILL_OK, STILL_E_NOMEM, STILL_E_INTERNAL (layout failed, or a library is missing) */
STILL_NODISCARD still_status still_plan_pack(char **bytes, size_t *len, const still_plan *plan,
                                             bool html, const still_pack_opts *opts);

/** Write a plan.
 *  @param[out] bytes, len  heap memory with the result, a zero behind it; free with
 *                          still_bytes_free; untouched on failure
 *  @return STILL_OK, STILL_E_NOMEM, STILL_E_INTERNAL (layout failed, or a library for PNG and PDF
 *          is missing) */
STILL_NODISCARD still_status still_plan_write(char **bytes, size_t *len, const still_plan *plan,
                                              still_format format, still_diags *diags);

/** Write a plan as text in a style of the caller's. @param style  NULL = as still_plan_write
 *  @return STILL_OK, STILL_E_NOMEM */
STILL_NODISCARD still_status still_plan_write_text(char **bytes, size_t *len,
                                                   const still_plan *plan,
                                                   const still_style *style);

/** A disagreement of the second check with a plan. */
typedef struct still_disagreement {
    const char *rule, *id; /**< rule id; component, feed, sequence, or "" */
    const char *text;      /**< what is wrong, and along which path */
} still_disagreement;

/** What the second check says of a plan that anyone may have made (rule I7). Strings are never
 *  NULL and live as long as the verdict. */
typedef struct still_verdict_record {
    bool agrees; /**< nothing was found against what was checked */
    const char *plant_id, *plant_digest;
    const still_disagreement *against; /**< in the order found */
    size_t n_against;
    size_t n_more;             /**< found, and not kept: the list is cut at 10,000 */
    still_strings not_checked; /**< what the plan does not say, so that it was not checked */
} still_verdict_record;

typedef struct still_verdict still_verdict;

/** Check a plan record from a file: the boundary by its grade, and all else that it says.
 *
 *  Nothing is computed anew: the plan is taken as it is, and walked over on the plant (METHOD.md,
 *  section 3.6). Keys that a plan made by hand need not have are not checked, and listed.
 *  @param[out] out  the verdict, owned by the caller (still_verdict_free); untouched on failure
 *  @param plant     borrowed for the call
 *  @param state     what is different today; NULL = as in the plant file. A plan made for a state
 * is refuted without that one
 *  @param path      the record as JSON (docs/plan.schema.json), or "-" for standard input
 *  @param diags     says why on failure; may be NULL
 *  @return STILL_OK, also when the plan is refuted; STILL_E_INPUT (no plan record: each fault
 *          names its key), STILL_E_LIMIT, STILL_E_IO, STILL_E_NOMEM
 *  Cost: a fixed number of walks over the plant, and one for each thing that the plan names. */
STILL_NODISCARD still_status still_verify_plan(still_verdict **out, const still_plant *plant,
                                               const still_state *state, const char *path,
                                               still_diags *diags);
/** As still_verify_plan, from memory. @param name  stands for the file in messages */
STILL_NODISCARD still_status still_verify_plan_memory(still_verdict **out, const still_plant *plant,
                                                      const still_state *state, const char *name,
                                                      const void *bytes, size_t len,
                                                      still_diags *diags);
/** The record of a verdict; borrowed. */
const still_verdict_record *still_verdict_record_of(const still_verdict *verdict);
/** Free a verdict; NULL is allowed. */
void still_verdict_free(still_verdict *verdict);
/** Write a verdict.
 *  @param[out] bytes, len  as for still_plan_write
 *  @param format  STILL_FORMAT_TEXT, or STILL_FORMAT_JSON ("stillset-verify-1")
 *  @return STILL_OK, STILL_E_USAGE (another format), STILL_E_NOMEM */
STILL_NODISCARD still_status still_verdict_write(char **bytes, size_t *len,
                                                 const still_verdict *verdict, still_format format,
                                                 still_diags *diags);
/** Write a verdict as text in a style of the caller's, as still_plan_write_text. */
STILL_NODISCARD still_status still_verdict_write_text(char **bytes, size_t *len,
                                                      const still_verdict *verdict,
                                                      const still_style *style);

/** Draw a plant without a plan.
 *  @param[out] bytes, len  as for still_plan_write
 *  @param around   id of the component in the middle, or NULL = the whole plant
 *  @param depth    how many components away from it are drawn (spools are not counted); without
 *                  `around` not used
 *  @param format   STILL_FORMAT_SVG, STILL_FORMAT_PNG or STILL_FORMAT_PDF
 *  @param diags    says why on failure; may be NULL
 *  @return STILL_OK, STILL_E_NO_COMP (no such component), STILL_E_USAGE (a format that is no
 *          picture), STILL_E_NOMEM, STILL_E_INTERNAL (as for still_plan_write)
 *  Cost: grows faster than linearly with what is drawn; of a plant beyond 1500 components only
 *  that many are drawn, and the picture says so. */
STILL_NODISCARD still_status still_draw(char **bytes, size_t *len, const still_plant *plant,
                                        const char *around, unsigned depth, still_format format,
                                        still_diags *diags);
/** Free what a call that writes or draws gave; NULL is allowed. */
void still_bytes_free(char *bytes);

#ifdef __cplusplus
}
#endif
#endif
