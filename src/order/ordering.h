/** @file ordering.h  The best order of moves: a search over the sets of moves that are done.
 *
 *  Knows nothing of plants: moves are numbers 0 … n - 1 in the order in which ties are broken.
 *  Argument: docs/METHOD.md, 7. */
#ifndef STILL_ORDERING_H
#define STILL_ORDERING_H

#include "arena.h"
#include "stillset/status.h"

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

/** Rules whose breaches are counted, the gravest first. */
enum { STILL_ORDERING_RULES = 3 };
/** Groups of moves up to which the search is exact, and states that it looks at. */
enum { STILL_ORDERING_GROUPS = 64, STILL_ORDERING_STATES = 2000 };

/** What a move can do to what a state breaks. */
enum { STILL_EASES_NEVER, STILL_EASES_ONLY, STILL_EASES_OR_NOT };

/** What a state breaks, by rule. */
typedef struct still_breaches {
    uint32_t of[STILL_ORDERING_RULES];
} still_breaches;

/** What is to be put in order. All arrays are borrowed. */
typedef struct still_ordering {
    uint32_t n;
    const uint8_t *before; /**< [i * n + k]: move i comes before move k; no cycle */
    const uint32_t *place; /**< by move: equal = the same place */
    uint32_t start;        /**< where one stands first; UINT32_MAX = nowhere */
    const uint8_t *plain;  /**< by move: no state breaks more or less by it; NULL = all are */
    const uint8_t *eases;  /**< by move: a state may break less by it; the others only break more */
    const uint8_t
        *waits; /**< by move: the last of these comes after all that are awaited; or NULL */
    const uint8_t *awaited;
    /** What the state with these moves done breaks; not called when all moves are plain.
     *  @return STILL_OK, or a status that ends the search */
    still_status (*look)(void *data, const uint8_t *done, still_breaches *out);
    void *data;
    uint32_t most_looks; /**< states to look at, at most; 0 = STILL_ORDERING_STATES */
} still_ordering;

/** What was found. */
typedef struct still_ordered {
    uint32_t *moves;                         /**< in order; arena memory */
    uint64_t breaches[STILL_ORDERING_RULES]; /**< sums over the states after each move */
    uint32_t walks;                          /**< changes of place */
    bool complete;                           /**< no order is better; else not all were tried */
} still_ordered;

/** Find an order of least cost: breaches rule by rule, then changes of place.
 *  @return STILL_OK, STILL_E_NOMEM, or what `look` gave
 *  Cost: at most STILL_ORDERING_STATES calls of `look` in the search, and n * n more. */
STILL_NODISCARD still_status still_ordering_find(still_ordered *out, still_arena *arena,
                                                 const still_ordering *given);

#endif
