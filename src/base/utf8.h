/** @file utf8.h  Stepping through UTF-8, and what may stand on a terminal. */
#ifndef STILL_UTF8_H
#define STILL_UTF8_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

/** Decode the character at s (len bytes are left, len > 0).
 *  @param[out] c  the character, or UINT32_MAX for a byte that is not UTF-8 (RFC 3629)
 *  @return bytes taken, 1 to 4 */
size_t still_utf8_next(const char *s, size_t len, uint32_t *c);
/** Control characters, line and paragraph separators, direction marks, other invisible format
 *  characters, surrogates, noncharacters and UINT32_MAX: what must not reach a terminal raw. */
bool still_utf8_control(uint32_t c);
/** Is all of a string UTF-8 text? */
bool still_utf8_valid(const char *s);
/** Blanks of any width (space, no-break space, ideographic space, …). */
bool still_utf8_blank(uint32_t c);
/** Copy len bytes of s to buf (size bytes with the zero), each control character as `with`;
 *  cut between characters where there is no room. @return length of the copy */
size_t still_utf8_clean(char *buf, size_t size, const char *s, size_t len, char with);

#endif
