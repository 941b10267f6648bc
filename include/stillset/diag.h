/** @file diag.h  Diagnostics: what was wrong in the input, where, and how badly.
 *
 *  The caller owns a list, passes it to calls, and prints it afterwards. The library itself
 *  never prints. */
#ifndef STILLSET_DIAG_H
#define STILLSET_DIAG_H

#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include "stillset/status.h"
#include "stillset/style.h"

#ifdef __cplusplus
extern "C" {
#endif

typedef enum still_severity { STILL_SEV_ERROR, STILL_SEV_WARNING } still_severity;

/** One diagnostic. Strings are borrowed from the list and live as long as it does. */
typedef struct still_diag {
    still_severity severity;
    const char *code;        /**< such as "STILL-0204" */
    const char *file;        /**< path as given; "-" = standard input; "" = no file */
    uint32_t line;           /**< 1-based; 0 = no line */
    uint32_t column;         /**< 1-based, in bytes; 0 = no column */
    const char *component;   /**< id of the element concerned, or "" */
    const char *text;        /**< one line, no full stop */
    const char *source_line; /**< the line of the input, without its newline, or ""; a long one
                                  is cut to a window, with "..." where something is left out */
    uint32_t caret;          /**< where in source_line `column` stands, 1-based; 0 = nowhere */
} still_diag;

typedef struct still_diags still_diags;

/** @return an empty list, or NULL when memory is out. Free with still_diags_free. */
still_diags *still_diags_new(void);
/** Free a list; NULL is allowed. */
void still_diags_free(still_diags *diags);
/** Number of diagnostics held. The list stops growing at its limit (see still_diags_dropped). */
size_t still_diags_count(const still_diags *diags);
/** The i-th diagnostic in the order found, or NULL when i is out of range. */
const still_diag *still_diags_at(const still_diags *diags, size_t i);
/** Number of errors, those beyond the limit included. */
size_t still_diags_errors(const still_diags *diags);
/** Number of warnings, those beyond the limit included. */
size_t still_diags_warnings(const still_diags *diags);
/** Number of diagnostics that were counted but not kept (the list keeps 10,000 at most). */
size_t still_diags_dropped(const still_diags *diags);
/** Sort by file, line, column, code, text. */
void still_diags_sort(still_diags *diags);
/** Write one diagnostic to a file of the caller's: `file:line: error: CODE: text`, then the source
 *  line and a line with a caret, where there is one. Control characters come out as "?".
 *  Failures show in ferror(to). */
void still_diag_write(const still_diag *diag, FILE *to);
/** The same in a style of the caller's: marks only, no line is broken. @param style  NULL = none */
void still_diag_write_styled(const still_diag *diag, FILE *to, const still_style *style);
/** What to do about a message with this code, such as "STILL-0305": one line, no full stop; "" for
 *  a code whose messages say it themselves, and for one that is not known. */
const char *still_diag_next(const char *code);

/** Write a text to a stream with what steers a terminal or turns the direction of text replaced by
 * '?'. */
void still_diag_text(const char *text, FILE *to);

#ifdef __cplusplus
}
#endif
#endif
