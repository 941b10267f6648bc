/** @file pen.h  Writing text in lines of at most so many columns, 80 if nothing is said.
 *
 *  A pen sits in a column of the current line. Words are put one after another; what does not fit
 *  goes to the next line, at the pen's indent. Everything that passes through is cleaned
 *  (glyph.h). No line ends in spaces. */
#ifndef STILL_PEN_H
#define STILL_PEN_H

#include "strbuf.h"

#include "stillset/record.h"
#include "stillset/style.h"

/** How words stand out where the style has marks; elsewhere nothing is different. */
typedef enum still_ink {
    STILL_INK_PLAIN,
    STILL_INK_BOLD,  /**< headings, and the words that steer a reader */
    STILL_INK_ALARM, /**< what forbids the work, or says what to do when it goes wrong */
    STILL_INK_WARN
} still_ink;

typedef struct still_pen {
    still_buf *out;
    size_t width;  /**< columns of a line */
    size_t indent; /**< of lines that go on */
    size_t column; /**< columns used in this line; 0 = empty */
    bool joined;   /**< the next word follows without a space */
    bool marks;    /**< control sequences are written */
    still_ink ink; /**< of the words that follow */
} still_pen;

/** A pen at the start of a page. @param style  NULL = 80 columns, no marks */
still_pen still_pen_new(still_buf *out, const still_style *style);
/** Put the words of a text in an ink; what follows is plain again. */
void still_pen_marked(still_pen *pen, still_ink ink, const char *text);
/** Text between the marks of an ink, to a buffer; without marks the text alone. */
void still_ink_add(still_buf *out, bool marks, still_ink ink, const char *text, size_t len);
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
/** New line: `label` at column `at`, in the pen's ink, text from column `indent` on, plain. */
void still_pen_label(still_pen *pen, size_t at, size_t indent, const char *label);
/** A heading: empty line, the words, a line of `rule` under it as wide as the page. */
void still_pen_heading(still_pen *pen, const char *words, char rule);
/** A line of `rule` as wide as the page, on a line of its own. */
void still_pen_rule(still_pen *pen, char rule);

#endif
