/** @file saxtext.h  What every use of the XML parser's callbacks needs: its texts as we want them.
 *  Within input/ only. */
#ifndef STILL_SAXTEXT_H
#define STILL_SAXTEXT_H

#include <stddef.h>

/** "not well-formed: " and the parser's message, as one line without its full stop.
 *  @param text     gets it, cut to `size` bytes with its end
 *  @param message  as the parser gives it; NULL is allowed */
void still_saxtext_problem(char *text, size_t size, const char *message);
/** A value with the parser's "&#38;" for "&" undone, which it gives since entities are not
 * replaced.
 *  @param out  gets it, without an end: room for `len` bytes; may be `from` itself
 *  @return bytes written */
size_t still_saxtext_value(char *out, const char *from, size_t len);

#endif
