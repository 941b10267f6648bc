/** @file pen.h  Writing text in lines of at most 80 columns.
 *
 *  A pen sits in a column of the current line. Words are put one after another; what does not fit
 *  goes to the next line, at the pen's indent. Everything that passes through is cleaned
 *  (glyph.h). No line ends in spaces. */
#ifndef STILL_PEN_H
#define STILL_PEN_H

#include "strbuf.h"

#include "stillset/record.h"

enum { STILL_PEN_WIDTH = 80 };

typedef struct still_pen {
    still_buf *out;
    size_t indent; /**< of lines that go on */
    size_t column; /**< columns used in this line; 0 = empty */
    bool joined;   /**< the next word follows without a space */
} still_pen;

/** End the line, if it holds anything, and set the indent of the next ones. */
void still_pen_line(still_pen *pen, size_t indent);
/** End the line and leave one empty. */
void still_pen_blank(still_pen *pen);
/** Put the words of a text; a word wider than a line is broken. */
void still_pen_words(still_pen *pen, const char *text);
/** Put an id that must stay whole, with `after` stuck to it. One that is wider than the room from
 *  the indent gets a line of its own; there `after` is left out when it does not fit. */
void still_pen_id(still_pen *pen, const char *id, const char *after);
/** Put ids with a separator behind each but the last (","), or "none" for an empty list. */
void still_pen_ids(still_pen *pen, still_strings ids, const char *separator);
/** Put a number and its unit, or "unknown". */
void still_pen_number(still_pen *pen, double value, const char *unit);
/** New line: `label` at column `at`, text from column `indent` on. */
void still_pen_label(still_pen *pen, size_t at, size_t indent, const char *label);
/** A heading: empty line, the words, a line of `rule` under it as wide as the page. */
void still_pen_heading(still_pen *pen, const char *words, char rule);

#endif
