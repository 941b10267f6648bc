/** @file figures.h  Figures as a reader wants them: units, decimal sign.
 *
 *  The words of a record hold figures in SI units with a decimal point. For people they are
 *  rewritten: US customary in front and the record's own behind in square brackets, a comma where
 *  the language has one. A figure is never replaced, only accompanied, so what was approved can be
 *  read wherever it stands. */
#ifndef STILL_FIGURES_H
#define STILL_FIGURES_H

#include "messages.h"
#include "strbuf.h"

#include <stdbool.h>

typedef struct still_figures {
    const still_messages *messages; /**< language; NULL = English */
    bool us;                        /**< US customary units in front */
    bool comma;                     /**< decimal comma */
} still_figures;

/** Append words of the program with their figures rewritten. Understood: a number with one of barg,
 *  bara, bar, kPa, Pa, degC, K, m3, L, kg, mm, m, kW, or a rate of them (bar/K, kg/h), behind one
 *  space; for the decimal sign also %, s, min, h, ppm and x. What is not understood stays. */
void still_figures_words(still_buf *out, const still_figures *people, const char *words);
/** Append a figure of the record with its unit ("barg", "kg", …), at most `digits` digits; for
 *  what is unknown the word, without a unit. */
void still_figures_one(still_buf *out, const still_figures *people, double value, int digits,
                       const char *unit);

#endif
