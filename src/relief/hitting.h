/** @file hitting.h  The fewest places that meet every demand (hitting set).
 *
 *  A demand is a list of places, one of which is enough. Places are numbers 0 … n - 1; among equal
 *  answers low numbers come first. */
#ifndef STILL_HITTING_H
#define STILL_HITTING_H

#include "stillset/status.h"

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

/** Places in an independent part up to which the answer is exact. */
enum { STILL_HITTING_EXACT = 20 };

/** Demands: list i is items[start[i]] … items[start[i + 1] - 1]. In place, all zero at the start.
 */
typedef struct still_demands {
    uint32_t *items;
    size_t n_items, items_cap;
    size_t *start;
    size_t n, start_cap;
} still_demands;

/** Add a demand: n different places, at least one. @return false when memory is out */
bool still_demands_add(still_demands *demands, const uint32_t *places, size_t n);
void still_demands_clear(still_demands *demands);

typedef struct still_hitting {
    uint32_t n;     /**< places chosen */
    uint32_t bound; /**< no fewer can do; equals n when proven */
    bool proven;    /**< n is the least number */
    double ratio;   /**< n is at most this many times the least number; 1 when proven */
} still_hitting;

/** @param[out] chosen  by place: 1 = chosen; room for n_places
 *  @return STILL_OK, STILL_E_NOMEM (outputs undefined)
 *  Cost: near linear in the demands; a part of at most 20 places: up to 2^20 small steps; a larger
 *  one: its size times the places chosen in it. */
STILL_NODISCARD still_status still_hitting_find(still_hitting *out, uint8_t *chosen,
                                                const still_demands *demands, uint32_t n_places);

#endif
