/** @file disjoint.h  Disjoint sets over numbers: which ports are joined.
 *
 *  An array `up` of n numbers, up[i] = i at the start. The root of a set is its least member. Path
 * halving (Tarjan, van Leeuwen 1984): near linear in all calls together. */
#ifndef STILL_DISJOINT_H
#define STILL_DISJOINT_H

#include <stdint.h>

/** Least member of the set of i. */
static inline uint32_t still_disjoint_root(uint32_t *up, uint32_t i)
{
    while (up[i] != i) {
        up[i] = up[up[i]];
        i = up[i];
    }
    return i;
}

/** Make one set of those of a and b. */
static inline void still_disjoint_join(uint32_t *up, uint32_t a, uint32_t b)
{
    a = still_disjoint_root(up, a);
    b = still_disjoint_root(up, b);
    if (a < b)
        up[b] = a;
    else
        up[a] = b;
}

#endif
