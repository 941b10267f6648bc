/** @file flow.h  Minimum cuts on small integer networks, and all that ties between them.
 *
 *  Hides the solver: nothing outside graph/ knows which one it is. A network has nodes 0..n-1 and
 *  edges with a capacity in each direction; STILL_UNCUT marks a direction that may not be cut. */
#ifndef STILL_FLOW_H
#define STILL_FLOW_H

#include "stillset/status.h"

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#define STILL_UNCUT UINT32_MAX

typedef struct still_net_edge {
    uint32_t a, b;
    uint32_t cap_ab, cap_ba; /**< 0, a small number, or STILL_UNCUT */
} still_net_edge;

typedef struct still_net {
    uint32_t n_nodes;
    still_net_edge *edges;
    size_t n_edges, cap;
} still_net;

/** Start an empty network in place. */
void still_net_init(still_net *net, uint32_t n_nodes);
void still_net_clear(still_net *net);
/** Add an edge; its number is the count of edges before. a == b is allowed and carries nothing.
 *  @return STILL_OK, STILL_E_NOMEM */
STILL_NODISCARD still_status still_net_add(still_net *net, uint32_t a, uint32_t b, uint32_t cap_ab,
                                           uint32_t cap_ba);

/** A maximum flow and its residual network. Keeps a pointer to the net. */
typedef struct still_flow {
    const still_net *net;
    uint32_t s, t;
    uint64_t value;
    bool cuttable;  /**< false: s and t cannot be parted without cutting what may not be cut */
    int64_t *flow;  /**< by edge: net flow from a to b, negative = from b to a */
    uint32_t *adj0; /**< by node, n_nodes + 1: first entry of adj */
    uint32_t *adj;  /**< edge numbers */
    uint64_t uncut; /**< number that stands for STILL_UNCUT */
} still_flow;

/** Solve. @param[out] flow  filled in place, still_flow_clear; untouched on failure
 *  @return STILL_OK, STILL_E_NOMEM, STILL_E_INTERNAL (the solver failed, or its flow is not one) */
STILL_NODISCARD still_status still_flow_solve(still_flow *flow, const still_net *net, uint32_t s,
                                              uint32_t t);
void still_flow_clear(still_flow *flow);

/** Add to `set` (a byte a node) all nodes that `from` reaches in the residual network, itself
 *  included; `backward`: all nodes that reach it. Nodes already in the set are not passed again.
 *  @return STILL_OK, STILL_E_NOMEM. Cost: linear in what is reached. */
STILL_NODISCARD still_status still_flow_close(const still_flow *flow, uint8_t *set, uint32_t from,
                                              bool backward);
/** There is room left on edge e from a to b (forward) or from b to a. */
bool still_flow_residual(const still_flow *flow, size_t e, bool forward);
/** Edge e is saturated from a to b (forward) or from b to a, so that some least cut may cross it
 *  in this direction. */
bool still_flow_saturated(const still_flow *flow, size_t e, bool forward);

/** Take the flow apart into `value` paths of one unit each.
 *  @param[out] edges   edge numbers of all paths, one after the other, s to t; still_free
 *  @param[out] starts  value + 1 entries: where each path starts; still_free
 *  @return STILL_OK, STILL_E_NOMEM, STILL_E_INTERNAL. Shortest of the remaining paths first. */
STILL_NODISCARD still_status still_flow_paths(const still_flow *flow, uint32_t **edges,
                                              uint32_t **starts);

#endif
