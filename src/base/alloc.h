/** @file alloc.h  The only door to the heap. Tests can make the n-th call fail. */
#ifndef STILL_ALLOC_H
#define STILL_ALLOC_H

#include <stddef.h>
#include <stdbool.h>
#include <stdint.h>

/** malloc; size 0 gives a valid pointer. @return NULL when memory is out. Free with still_free. */
void *still_malloc(size_t size);
/** Zeroed array of n items of the given size, with the product checked. NULL when out. */
void *still_calloc(size_t n, size_t size);
/** The same for a table that is probed at random: a large one asks the system for large pages,
 * since looking up the address of a small one takes longer than the memory itself. Free with
 * still_free. */
void *still_calloc_table(size_t n, size_t size);
/** Resize to n items; on failure the old block stays valid and NULL is returned. */
void *still_realloc(void *p, size_t n, size_t size);
/** NULL is allowed. */
void still_free(void *p);
/** Copy of len bytes of s with a zero at the end, or NULL. */
char *still_strndup(const char *s, size_t len);

/** For tests: the n-th allocation from now fails (1 = the next), and all after it;
 *  0 switches this off. */
void still_alloc_fail_at(uint64_t n);
/** For tests: allocations made since the last still_alloc_fail_at. */
uint64_t still_alloc_calls(void);

/** Grow an array (pointer in *items, room for *cap items of item_size) to hold `need` items.
 *  @return false when memory is out; the array is then unchanged. Cost: amortised constant. */
bool still_grow(void *items, size_t *cap, size_t need, size_t item_size);

#endif
