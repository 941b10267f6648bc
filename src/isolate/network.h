/** @file network.h  Building of networks, for layers.c. */
#ifndef STILL_NETWORK_H
#define STILL_NETWORK_H

#include "layers.h"

/** The network of a case. @param paid  with the feeds
 *  @return STILL_OK, STILL_E_NOMEM. Clear in every case. */
STILL_NODISCARD still_status still_network_build(still_network *n, const still_layers *layers,
                                                 const still_case *c, bool paid);
/** Turn it into one in which only sources cost. @return STILL_OK, STILL_E_NOMEM */
STILL_NODISCARD still_status still_network_price(still_network *n, const still_layers *layers,
                                                 const still_case *c);
/** Restrict it to the least cuts of `first`, which has the same nodes and is solved.
 *  @return STILL_OK, STILL_E_NOMEM */
STILL_NODISCARD still_status still_network_keep(still_network *n, const still_network *first);
/** Node of a piece in a layer: the source's or the sink's where the case settles it. */
uint32_t still_network_node(const still_network *n, const still_layers *layers, const still_case *c,
                            uint32_t piece, uint8_t layer);

#endif
