#if defined(__linux__)
#define _DEFAULT_SOURCE /* madvise */
#endif
#include "alloc.h"

#include <stdlib.h>
#include <string.h>

#if defined(__linux__)
#include <sys/mman.h>
#endif

/* Test hook. Not part of any result; 0 in normal use. */
static uint64_t fail_at;
static uint64_t calls;

void still_alloc_fail_at(uint64_t n)
{
    fail_at = n;
    calls = 0;
}

uint64_t still_alloc_calls(void)
{
    return calls;
}

static bool refuse(void)
{
    calls++;
    return fail_at != 0 && calls >= fail_at;
}

void *still_malloc(size_t size)
{
    if (refuse()) return NULL;
    return malloc(size ? size : 1);
}

void *still_calloc(size_t n, size_t size)
{
    if (refuse()) return NULL;
    return calloc(n ? n : 1, size ? size : 1);
}

void *still_calloc_table(size_t n, size_t size)
{
#if defined(__linux__) && defined(MADV_HUGEPAGE)
    const size_t page = (size_t)2 << 20;
    if (size != 0 && n >= page / size && n <= SIZE_MAX / 2 / size) {
        if (refuse()) return NULL;
        size_t bytes = (n * size + page - 1) / page * page;
        void *p = aligned_alloc(page, bytes);
        if (p == NULL) return NULL;
        (void)madvise(p, bytes, MADV_HUGEPAGE); /* a wish: without it the table is slower */
        return memset(p, 0, n * size);
    }
#endif
    return still_calloc(n, size);
}

void *still_realloc(void *p, size_t n, size_t size)
{
    if (refuse()) return NULL;
    if (size != 0 && n > SIZE_MAX / size) return NULL;
    size_t bytes = n * size;
    return realloc(p, bytes ? bytes : 1);
}

void still_free(void *p)
{
    free(p);
}

char *still_strndup(const char *s, size_t len)
{
    if (len == SIZE_MAX) return NULL;
    char *copy = still_malloc(len + 1);
    if (copy == NULL) return NULL;
    memcpy(copy, s, len);
    copy[len] = '\0';
    return copy;
}

bool still_grow(void *items, size_t *cap, size_t need, size_t item_size)
{
    if (need <= *cap) return true;
    size_t want = *cap < 8 ? 8 : *cap + *cap / 2;
    if (want < need) want = need;
    void *old;
    memcpy(&old, items, sizeof old);
    void *fresh = still_realloc(old, want, item_size);
    if (fresh == NULL) return false;
    memcpy(items, &fresh, sizeof fresh);
    *cap = want;
    return true;
}
