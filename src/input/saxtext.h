/** @file saxtext.h  What every use of the XML parser's callbacks needs: its texts as we want them,
 *  and their places in the file. Within input/ only. */
#ifndef STILL_SAXTEXT_H
#define STILL_SAXTEXT_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include <libxml/parser.h>

/** "not well-formed: " and the parser's message, as one line without its full stop.
 *  @param text     gets it, cut to `size` bytes with its end
 *  @param message  as the parser gives it; NULL is allowed */
void still_saxtext_problem(char *text, size_t size, const char *message);
/** A value with the parser's "&#38;" for "&" undone, which it gives since entities are not
 * replaced.
 *  @param out  gets it, without an end: room for `len` bytes; may be `from` itself
 *  @return bytes written */
size_t still_saxtext_value(char *out, const char *from, size_t len);
/** First byte of a text that is not blank, or NULL. */
const xmlChar *still_saxtext_ink(const xmlChar *text, int len);

/** Where the parser stands in its buffer, or NULL. */
const xmlChar *still_saxtext_now(const xmlParserCtxt *ctxt);
/** Is a text given to a callback a part of the parser's buffer, and no copy? */
bool still_saxtext_held(const xmlParserCtxt *ctxt, const xmlChar *text);
/** Byte offset of a place in the parser's buffer; STILL_NOWHERE for any other, and beyond 4 GiB. */
uint32_t still_saxtext_offset(const xmlParserCtxt *ctxt, const xmlChar *at);
/** Offset of the "<" before a place in the parser's buffer. */
uint32_t still_saxtext_tag(const xmlParserCtxt *ctxt, const xmlChar *at);
/** Offset of the start tag whose `n` attributes a callback is given. */
uint32_t still_saxtext_start(const xmlParserCtxt *ctxt, int n, const xmlChar **attributes);

#endif
