/** @file policy.h  The policy: which grade of isolation a job asks for (rule I3).
 *
 *  A policy is a table. Its rows are hazard classes, the most dangerous first; its columns are
 *  conditions on the job; a cell is a grade and, where marked, R: a person must accept what is
 *  left. Conditions of a column only have lower ends ("from 10 barg up"), and of all columns that
 *  apply, and all classes from the job's own downward, the highest grade holds. So no step toward
 *  danger can lower a grade, whatever stands in the cells (docs/METHOD.md, Policy). */
#ifndef STILL_POLICY_H
#define STILL_POLICY_H

#include "arena.h"
#include "digest.h"
#include "stillset/plan.h"

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

/** Most classes, and most columns, that a policy may have. */
enum { STILL_POLICY_MOST = 64 };

/** How much can come out: table D of HSG253 (F-HSG-8). The order counts. */
typedef enum still_release {
    STILL_RELEASE_LOW,
    STILL_RELEASE_MEDIUM,
    STILL_RELEASE_HIGH
} still_release;
/** "low", "medium", "high". */
const char *still_release_text(still_release release);
/** Table D at its worse edge: 10 barg counts as 10 to 50, 20 cm as 20 and more, 5 cm as 5 to 20;
 *  50 barg counts as 10 to 50, since the worst column is above 50.
 *  @param line_mm, pressure_bara  NAN = unknown: the worst row, the worst column
 *  @param people_high             counts one row worse than the line size */
still_release still_release_of(double line_mm, double pressure_bara, bool people_high);

/** What is opened, for policies that tell them apart. The values are bits. */
typedef enum still_opened_kind {
    STILL_OPENING_EQUIPMENT = 1, /**< vessel, pump, compressor, exchanger, strainer, a pipe */
    STILL_OPENING_VALVE = 2,     /**< a valve, a blind, an outlet */
    STILL_OPENING_JOINT = 4      /**< a single joint */
} still_opened_kind;
enum { STILL_OPENING_ANY = 7 };

/** Properties of what flows, beside its hazard statements. Bits. */
enum {
    STILL_TRAIT_AUTO_IGNITION = 1, /**< above its auto-ignition temperature */
    STILL_TRAIT_STEAM = 2,
    STILL_TRAIT_ASPHYXIANT = 4
};

/** A hazard class: a row. It takes what has one of its statements or traits, or is hotter or
 *  colder than it says. */
typedef struct still_policy_class {
    const char *id, *name;
    const char *hazards; /**< parted by blanks: "H220", "H2xx", "EUH029"; "" = none named */
    bool none;           /**< takes what is said to have no statement */
    uint8_t traits;
    double above_K, below_K; /**< strictly above, strictly below; NAN = does not look at it */
} still_policy_class;

/** Conditions of a column. It applies to a job at or beyond all of them. */
typedef struct still_policy_column {
    const char *id, *name;
    still_release release_from;
    double pressure_from_bara; /**< 0 = any */
    double size_from_mm;       /**< 0 = any */
    bool people_high;          /**< only with many people near by */
    uint8_t work;              /**< bit 1 << still_work */
    uint8_t opening;           /**< bits of still_opened_kind */
} still_policy_column;
enum { STILL_POLICY_WORK_ANY = 0x1E };

typedef struct still_policy_cell {
    still_grade grade;
    bool risk; /**< R */
} still_policy_cell;

/** A policy. Read only; all texts live as long as it does. */
typedef struct still_policy {
    const char *id, *name;
    bool builtin;
    char digest[STILL_DIGEST_TEXT]; /**< SHA-256 of the file; "" = built in */
    const still_policy_class *classes;
    const still_policy_column *columns;
    const still_policy_cell *cells; /**< row by row */
    size_t n_classes, n_columns;
    still_arena arena;
} still_policy;

/** The table of rule I3. Static: not freed. Its cells are our own (still_policy_caution). */
const still_policy *still_policy_builtin(void);
/** What every plan has to say of a policy: one sentence, static. */
const char *still_policy_caution(const still_policy *policy);

/** Read a site's policy file (docs/POLICY.md).
 *  @param[out] out  the policy, owned by the caller (still_policy_free); untouched on failure
 *  @param path      file, or "-" for standard input
 *  @param diags     gets every problem found; may be NULL
 *  @return STILL_OK; STILL_E_INPUT (errors stand in diags); STILL_E_LIMIT (over 1 MiB);
 *          STILL_E_IO; STILL_E_NOMEM */
STILL_NODISCARD still_status still_policy_read(still_policy **out, const char *path,
                                               still_diags *diags);
/** The same from memory. @param name  stands for the file in messages */
STILL_NODISCARD still_status still_policy_read_memory(still_policy **out, const char *name,
                                                      const void *bytes, size_t len,
                                                      still_diags *diags);
/** NULL is allowed; not for the one built in. */
void still_policy_free(still_policy *policy);

/** A job, as a policy looks at it. */
typedef struct still_job {
    size_t class_at;      /**< number of its class; 0 = the most dangerous */
    double line_mm;       /**< NAN = unknown: counts as the largest */
    double pressure_bara; /**< NAN = unknown: counts as the highest */
    bool people_high;
    still_work work; /**< not BY_TARGET */
    still_opened_kind opening;
} still_job;

/** What a policy answers. */
typedef struct still_ruling {
    still_policy_cell cell;
    still_release release;
    size_t row, column; /**< that decided; STILL_RULED_BY_WORK: no cell, the kind of work */
} still_ruling;
#define STILL_RULED_BY_WORK SIZE_MAX

/** Look a job up. Entry, hot work and long-term are positive whatever the table says. A job that
 *  no column applies to is positive, too (a policy that was read has none).
 *  Cost: classes times columns. */
still_ruling still_policy_rule(const still_policy *policy, const still_job *job);

/** Does column b apply to every opening job that column a applies to? Then a is as near to danger
 * as b, or nearer. Entry, hot work and long-term are positive in every column. */
bool still_column_beyond(const still_policy_column *a, const still_policy_column *b);

#endif
