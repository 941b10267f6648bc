/** @file checklist.h  What is done at the work itself, by kind of what is opened.
 *
 *  A list of lines for each kind: while it is let off, before the joint is opened, at the work,
 *  when it is closed up, and when its function is tested. One file is built into the program
 *  (src/procedure/checklists.xml); a site's own replaces it, kind by kind. Opening a cover (P5) is
 *  no line of these: no file can take it away. */
#ifndef STILL_CHECKLIST_H
#define STILL_CHECKLIST_H

#include "arena.h"
#include "digest.h"
#include "stillset/diag.h"

#include <stdbool.h>
#include <stddef.h>

/** Kinds of what is opened. */
typedef enum still_opened {
    STILL_OPENED_ANY, /**< all that is none of the others */
    STILL_OPENED_MOTOR_VALVE,
    STILL_OPENED_CONTROL_VALVE,
    STILL_OPENED_STOP_VALVE,
    STILL_OPENED_CHECK_VALVE,
    STILL_OPENED_RELIEF_VALVE,
    STILL_OPENED_PUMP,
    STILL_OPENED_COMPRESSOR,
    STILL_OPENED_STRAINER,
    STILL_OPENED_GAUGE,
    STILL_OPENED_EXCHANGER,
    STILL_OPENED_VESSEL,
    STILL_OPENED_VESSEL_ENTRY,
    STILL_OPENED_PIPE,
    STILL_OPENED_COUNT
} still_opened;
/** "motor-operated-valve", …; "" when out of range. */
const char *still_opened_text(still_opened kind);

/** When a line is done. */
typedef enum still_line_when {
    STILL_LINE_LET_OFF,  /**< while the section is let off, before zero is proved */
    STILL_LINE_BEFORE,   /**< before the joint is opened */
    STILL_LINE_WORK,     /**< once it has parted */
    STILL_LINE_CLOSE_UP, /**< when it is closed up */
    STILL_LINE_TRY       /**< functional test, once everything is back in service */
} still_line_when;

/** A line. No text is NULL. */
typedef struct still_work_line {
    still_line_when when;
    const char *what, *expect, *if_not;
    const char *source; /**< where it comes from, or "common practice, no source" */
} still_work_line;

typedef struct still_checklist {
    const still_work_line *lines;
    size_t n;
} still_checklist;

/** A file of checklists. */
typedef struct still_checklists {
    const char *id;
    char digest[STILL_DIGEST_TEXT]; /**< SHA-256 of the bytes; "" = built in */
    still_checklist of[STILL_OPENED_COUNT];
    still_arena arena;
} still_checklists;

/** Read a file of checklists (docs/FORMAT.md, section 2.3).
 *  @param[out] out  owned by the caller (still_checklists_free); untouched on failure
 *  @param path      file, or "-" for standard input
 *  @param diags     gets every problem found; may be NULL
 *  @return STILL_OK; STILL_E_INPUT (errors stand in diags); STILL_E_LIMIT (over 1 MiB); STILL_E_IO;
 *          STILL_E_NOMEM. Cost: linear. */
STILL_NODISCARD still_status still_checklists_read(still_checklists **out, const char *path,
                                                   still_diags *diags);
/** The same from memory. @param name  stands for the file in messages */
STILL_NODISCARD still_status still_checklists_read_memory(still_checklists **out, const char *name,
                                                          const void *bytes, size_t len,
                                                          still_diags *diags);
/** Those built in. @return STILL_OK, STILL_E_NOMEM, STILL_E_INTERNAL */
STILL_NODISCARD still_status still_checklists_builtin(still_checklists **out);
/** NULL is allowed. */
void still_checklists_free(still_checklists *lists);

#endif
