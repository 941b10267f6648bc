#include "digest.h"

#include "alloc.h"

#include <nettle/sha2.h>

struct still_digest {
    struct sha256_ctx ctx;
};

still_digest *still_digest_new(void)
{
    still_digest *d = still_malloc(sizeof *d);
    if (d != NULL) sha256_init(&d->ctx);
    return d;
}

void still_digest_free(still_digest *d)
{
    still_free(d);
}

void still_digest_add(still_digest *d, const void *bytes, size_t len)
{
    sha256_update(&d->ctx, len, bytes);
}

void still_digest_text(still_digest *d, char out[STILL_DIGEST_TEXT])
{
    unsigned char raw[SHA256_DIGEST_SIZE];
    sha256_digest(&d->ctx, sizeof raw, raw);
    for (size_t i = 0; i < sizeof raw; i++) {
        out[2 * i] = "0123456789abcdef"[raw[i] >> 4];
        out[2 * i + 1] = "0123456789abcdef"[raw[i] & 15];
    }
    out[64] = '\0';
}
