/** @file catalogbytes.h  The catalogues that are built in; made by the build from
 * src/language/. */
#ifndef STILL_CATALOGBYTES_H
#define STILL_CATALOGBYTES_H

#include <stddef.h>

extern const unsigned char still_catalogue_de_bytes[];
extern const size_t still_catalogue_de_bytes_len;

#endif
