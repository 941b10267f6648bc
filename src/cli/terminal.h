/** @file terminal.h  What the standard streams are: how wide, whether words may be marked, and the
 *  line that says that the program is still at work.
 *
 *  Where a stream is no terminal nothing here shows, so what is written to files and pipes depends
 *  on nothing of the kind. */
#ifndef STILL_TERMINAL_H
#define STILL_TERMINAL_H

#include "stillset/style.h"

#include <stdbool.h>
#include <stdio.h>

/** Style for a stream. Marks where it is a terminal that has them: TERM is set and not "dumb", and
 *  NO_COLOR is not set, or empty (no-color.org). Width: of a terminal, else 80. */
still_style still_terminal_style(FILE *stream);

/** From a second on, show "DOING WHAT ... 3 s" on a line of standard error that is written again
 *  each second. Nothing where standard error is no terminal, or runs in the background.
 *  @param what  cleaned and cut here */
void still_terminal_begin(const char *doing, const char *what);
/** Wipe the line, before anything else is written: it comes again after still_terminal_go. */
void still_terminal_hold(void);
void still_terminal_go(void);
/** Wipe the line and stop. */
void still_terminal_end(void);

#endif
