/** @file glyph.h  Text of unknown origin on its way to a screen: decoding, width, cleaning. */
#ifndef STILL_GLYPH_H
#define STILL_GLYPH_H

#include "strbuf.h"

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

/** Decode the character at s, which must not be at its zero.
 *  @param[out] cp  its number, or UINT32_MAX for a byte that is not UTF-8
 *  @return bytes that it takes */
size_t still_glyph_next(const char *s, uint32_t *cp);
/** @return true when all of s is well-formed UTF-8 (RFC 3629) */
bool still_glyph_valid(const char *s);
/** Columns that a character takes on a terminal, never too few: 1, or 2 for wide ones. Combining
 *  marks count 1, so that a line is never wider than counted, however it is shown. */
size_t still_glyph_columns(uint32_t cp);
/** Columns of a whole string. */
size_t still_glyph_width(const char *s);
/** @return true for characters that steer a terminal, turn the direction of text, break a line
 *  or cannot be seen: two ids that differ only in these would look the same */
bool still_glyph_hostile(uint32_t cp);
/** Append s with line breaks and tabs made spaces and hostile characters made '?'; of marks piled
 *  on one character four stay, and a '?' stands for the rest. */
void still_glyph_clean(still_buf *out, const char *s);

#endif
