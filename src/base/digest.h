/** @file digest.h  SHA-256 of a stream of bytes (FIPS 180-4, by libnettle). */
#ifndef STILL_DIGEST_H
#define STILL_DIGEST_H

#include <stddef.h>

enum { STILL_DIGEST_TEXT = 65 };

typedef struct still_digest still_digest;

/** @return NULL when memory is out. Free with still_digest_free. */
still_digest *still_digest_new(void);
void still_digest_free(still_digest *d);
void still_digest_add(still_digest *d, const void *bytes, size_t len);
/** Write 64 lower-case hexadecimal digits and a zero; the digest starts anew afterwards. */
void still_digest_text(still_digest *d, char out[STILL_DIGEST_TEXT]);

#endif
