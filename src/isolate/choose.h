/** @file choose.h  The cut network of a zone, and the choice among its least cuts. */
#ifndef STILL_CHOOSE_H
#define STILL_CHOOSE_H

#include "flow.h"
#include "isolation.h"

/** What an edge of the network stands for. */
typedef struct still_edge_of {
    uint32_t device; /**< device number, or STILL_NONE */
    uint32_t feed;   /**< edge w_e → t: feed of the isolator; else STILL_NONE */
    uint32_t fed_piece, fed_comp, fed_feed; /**< edge piece → w_e: where the feed enters */
} still_edge_of;

/** Network of a zone, its flow, and the chosen set of nodes. */
typedef struct still_choice {
    still_net net;
    still_flow flow;
    still_edge_of *edge_of; /**< by edge */
    size_t edges_cap;
    uint32_t *node_of; /**< by piece: node; walls = the sink */
    uint32_t sink;
    uint32_t *isolators; /**< feed number of each isolator within reach; its node = sink + 1 + k */
    size_t n_isolators, isolators_cap;
    uint8_t *in; /**< by node: with the work */
} still_choice;

/** Build the network, solve it, and settle ties by mass and ids (I4).
 *  @return STILL_OK, STILL_E_NOMEM, STILL_E_INTERNAL. Clear in every case. */
STILL_NODISCARD still_status still_choose(still_choice *choice, const still_zone *zone);
void still_choice_clear(still_choice *choice);

#endif
