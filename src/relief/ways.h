/** @file ways.h  Ways out of pieces (L2), for relief.c. */
#ifndef STILL_WAYS_H
#define STILL_WAYS_H

#include "relief.h"

typedef enum still_way_kind {
    STILL_WAY_FREE,  /**< an open device, or a check valve forward */
    STILL_WAY_TRI,   /**< out of the common port of a three-way valve, towards one of its others */
    STILL_WAY_RELIEF /**< through a relief valve or rupture disc, in to out */
} still_way_kind;

typedef struct still_way {
    uint32_t from, to, comp;
    still_way_kind kind;
} still_way;

/** All ways of a plant in a state, indexed by where they lead to. */
typedef struct still_ways {
    still_way *items;
    size_t n, cap;
    uint32_t *at0, *at; /**< ways that lead to piece p: at[at0[p]] … at[at0[p + 1] - 1] */
} still_ways;

/** @return STILL_OK, STILL_E_NOMEM. Clear in every case. */
STILL_NODISCARD still_status still_ways_build(still_ways *ways, const still_relief *relief);
void still_ways_clear(still_ways *ways);

/** Ports of a three-way valve: common to all declared positions, and the others named by them.
 *  @return number of others (0: no common port, so no way out) */
unsigned still_three_way_ports(const still_plant *plant, uint32_t comp, uint32_t *common,
                               uint32_t others[2]);

#endif
