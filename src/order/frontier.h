/** @file frontier.h  Inner parts of order/: what a search still has to go on from, and what it
 * knows.
 */
#ifndef STILL_FRONTIER_H
#define STILL_FRONTIER_H

#include "ordering.h"

/** What an order has cost so far. */
typedef struct still_toll {
    uint64_t breaches[STILL_ORDERING_RULES];
    uint32_t walks;
} still_toll;
int still_toll_compare(const still_toll *a, const still_toll *b);

/** A set of groups done, and the place of the last. */
typedef struct still_node {
    uint64_t mask;
    uint32_t parent, by; /**< node and group that it comes from */
    uint32_t place, steps;
    still_toll toll;
} still_node;

/** A node that waits, by its least cost to the end. */
typedef struct still_waiting {
    still_toll f;
    uint32_t node, steps;
} still_waiting;

/** Queue of nodes; each (set, place) is kept once, with its least cost. All zero at the start. */
typedef struct still_frontier {
    still_node *nodes;
    uint32_t n;
    size_t nodes_cap;
    still_waiting *heap;
    size_t n_heap, heap_cap;
    uint32_t *slots; /**< 1 + node, by hash of (set, place) */
    size_t n_slots;
} still_frontier;

/** Add a node, unless the same set and place was reached as cheaply. @return false: memory is out
 */
bool still_frontier_add(still_frontier *frontier, const still_node *node, const still_toll *f);
/** The node with the least cost to the end; of equals the one with most steps, then the older one.
 *  @return its number, or UINT32_MAX: none is left */
uint32_t still_frontier_take(still_frontier *frontier);
void still_frontier_clear(still_frontier *frontier);

/** Breaches of the sets looked at. All zero at the start. */
typedef struct still_known {
    struct still_known_item *items;
    size_t n, n_slots;
} still_known;
/** @return what is known of a set, or NULL; valid until the next still_known_put */
const still_breaches *still_known_get(const still_known *known, uint64_t mask);
/** @return false: memory is out */
bool still_known_put(still_known *known, uint64_t mask, const still_breaches *breaches);
void still_known_clear(still_known *known);

#endif
