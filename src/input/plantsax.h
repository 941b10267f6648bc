/** @file plantsax.h  The XML parser behind the reader; the only user of libxml2. Within input/
 * only. */
#ifndef STILL_PLANTSAX_H
#define STILL_PLANTSAX_H

#include "reader.h"

typedef struct still_sax still_sax;

/** A parser that hands every element to the reader (borrowed). @return NULL when memory is out. */
still_sax *still_sax_new(still_reader *r);
/** NULL is allowed. */
void still_sax_free(still_sax *p);
/** Parse the next bytes, fewer than 2^31; none = the end of the file.
 *  @return false when the reading is over before the end: the reason was reported, or stands in
 *          the reader's status */
bool still_sax_feed(still_sax *p, const char *bytes, size_t len);

#endif
