/** @file style.h  How the text forms look: how wide they are, and whether words that matter stand
 *  out.
 *
 *  The library does not look at the terminal: the same result with the same style gives the same
 *  bytes. What is marked says in words what the marks say, so nothing is lost without them. */
#ifndef STILLSET_STYLE_H
#define STILLSET_STYLE_H

#include <stdbool.h>

/** Bounds of a width that is used; beyond them the nearer bound is taken. */
enum { STILL_STYLE_NARROWEST = 60, STILL_STYLE_PLAIN = 80, STILL_STYLE_WIDEST = 120 };

/** Where a style is asked for, NULL is STILL_STYLE_INIT. */
typedef struct still_style {
    unsigned width; /**< columns of a line at most, 60 to 120; 0 = 80 */
    bool marks;     /**< bold and colour by control sequences (ECMA-48, SGR): headings bold, what
                         forbids the work bold and red, warnings yellow */
} still_style;
#define STILL_STYLE_INIT                                                                           \
    {                                                                                              \
        STILL_STYLE_PLAIN, false                                                                   \
    }

#endif
