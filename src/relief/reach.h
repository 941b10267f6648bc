/** @file reach.h  What new valves at some pieces would do for the others (L2), for places.c. */
#ifndef STILL_REACH_H
#define STILL_REACH_H

#include "ways.h"

typedef struct still_reach {
    const still_relief *r;
    still_ways ways;
    uint32_t *from0, *from; /**< ways that lead on from piece p: from[from0[p]] … */
    uint32_t *ring_of;      /**< by piece: its ring (strongly connected set of plain ways), numbered
                                 so that plain ways between rings lead to higher numbers */
    uint32_t *order, *order0; /**< pieces of ring k: order[order0[k]] … order[order0[k + 1] - 1] */
    uint32_t n_rings;
    double *value; /**< by piece: lowest opening pressure of a cover, new valves at 0; see settle */
    uint32_t *touched, n_touched;
    uint32_t *queue;
    uint8_t *queued;
    uint32_t *stamp, now; /**< by piece: walk that met it last */
} still_reach;

/** @param relief  borrowed
 *  @return STILL_OK, STILL_E_NOMEM. Clear in every case. Cost: near linear in the plant. */
STILL_NODISCARD still_status still_reach_build(still_reach *reach, const still_relief *relief);
void still_reach_clear(still_reach *reach);

/** By ring: 1 = plain ways lead from it to a marked piece of another ring. */
void still_reach_beyond(const still_reach *reach, const uint8_t *marked, uint8_t *beyond);

/** Set value[] to what holds with new valves, opening at 0, at these pieces. */
void still_reach_settle(still_reach *reach, const uint32_t *pieces, size_t n);
/** With the valves of settle: does a piece whose design pressure is known find cover? */
bool still_reach_covered(const still_reach *reach, uint32_t piece);

/** Walk all ways on from a piece but those through relief valves.
 *  @param[out] met  pieces met, the first one too; room for all pieces
 *  @param[out] three_way  one of the ways leads through a three-way valve
 *  @return how many */
uint32_t still_reach_walk(still_reach *reach, uint32_t piece, uint32_t *met, bool *three_way);

#endif
