/* The network of a case.
 * Nodes: the work (source), what must stay outside (sink), a node for each piece in play and each
 * layer up to its outside, one for each isolator. Node (p, l) is on the side of the source exactly
 * when the label of p is below l. Edges: docs/METHOD.md, 3.2. */
#include "network.h"

#include "alloc.h"
#include "bleedways.h"

#define SOURCE 0
#define SINK 1

static const still_edge_of nothing = {STILL_NONE, STILL_NONE, STILL_NONE, STILL_NONE, 0};

uint32_t still_network_node(const still_network *n, const still_layers *layers, const still_case *c,
                            uint32_t piece, uint8_t layer)
{
    const still_piece *p = &layers->zone->pieces[piece];
    if (p->work) return SOURCE;
    if (p->wall || layer <= c->low[piece]) return SINK;
    if (layer > c->high[piece]) return SOURCE;
    return n->node0[piece] + layer - 1;
}

static still_status add(still_network *n, uint32_t a, uint32_t b, uint32_t ab, uint32_t ba,
                        still_edge_of of)
{
    if (a == b) return STILL_OK;
    if (!still_grow(&n->edge_of, &n->edges_cap, n->net.n_edges + 1, sizeof n->edge_of[0]))
        return STILL_E_NOMEM;
    n->edge_of[n->net.n_edges] = of;
    return still_net_add(&n->net, a, b, ab, ba);
}

static still_status number_nodes(still_network *n, const still_layers *layers)
{
    const still_zone *zone = layers->zone;
    n->node0 = still_calloc(zone->n_pieces, sizeof n->node0[0]);
    if (n->node0 == NULL) return STILL_E_NOMEM;
    n->n_nodes = 2 + (uint32_t)layers->n_isolators;
    for (uint32_t p = 0; p < zone->n_pieces; p++) {
        if (!still_in_play(&zone->pieces[p]) || zone->pieces[p].work) continue;
        n->node0[p] = n->n_nodes;
        n->n_nodes += zone->pieces[p].outside;
    }
    /* A three-way valve has two nodes of its own in each layer. */
    uint32_t inner = 0;
    for (size_t d = 0; d < zone->n_devices; d++) inner += zone->devices[d].n == 3 ? 4 : 0;
    n->piece_of = still_calloc((size_t)n->n_nodes + inner, sizeof n->piece_of[0]);
    n->layer_of = still_calloc((size_t)n->n_nodes + inner, sizeof n->layer_of[0]);
    if (n->piece_of == NULL || n->layer_of == NULL) return STILL_E_NOMEM;
    for (uint32_t i = 0; i < n->n_nodes + inner; i++) n->piece_of[i] = STILL_NONE;
    for (uint32_t p = 0; p < zone->n_pieces; p++) {
        if (!still_in_play(&zone->pieces[p]) || zone->pieces[p].work) continue;
        for (uint32_t l = 0; l < zone->pieces[p].outside; l++) {
            n->piece_of[n->node0[p] + l] = p;
            n->layer_of[n->node0[p] + l] = l + 1;
        }
    }
    still_net_init(&n->net, n->n_nodes + inner);
    return STILL_OK;
}

/* Labels never fall below themselves: on the work side of layer l means so of layer l + 1. */
static still_status add_pieces(still_network *n, const still_layers *layers, const still_case *c)
{
    still_status status = STILL_OK;
    for (uint32_t p = 0; p < layers->zone->n_pieces && status == STILL_OK; p++) {
        const still_piece *piece = &layers->zone->pieces[p];
        if (!still_in_play(piece) || piece->work || piece->outside < 2) continue;
        status =
            add(n, still_network_node(n, layers, c, p, 1), still_network_node(n, layers, c, p, 2),
                STILL_UNCUT, c->hole[p] ? STILL_UNCUT : 0, nothing);
    }
    return status;
}

typedef struct crossing {
    still_network *n;
    const still_layers *layers;
    const still_case *c;
    uint32_t d;
    const still_device *dev;
    uint8_t outside;
} crossing;

static uint32_t node(const crossing *x, int side, uint8_t layer)
{
    return still_network_node(x->n, x->layers, x->c, x->dev->piece[side], layer);
}

static still_status join(const crossing *x, int a, int b)
{
    still_edge_of of = nothing;
    of.over = x->d;
    still_status status = STILL_OK;
    for (uint8_t l = 1; l <= x->outside && status == STILL_OK; l++)
        status = add(x->n, node(x, a, l), node(x, b, l), STILL_UNCUT, STILL_UNCUT, of);
    return status;
}

/* One device is not two: labels on both sides differ by one at most. */
static still_status bind(const crossing *x, int a, int b)
{
    still_edge_of of = nothing;
    of.over = x->d;
    if (x->outside < 2) return STILL_OK;
    still_status status = add(x->n, node(x, a, 1), node(x, b, 2), STILL_UNCUT, 0, of);
    if (status != STILL_OK) return status;
    return add(x->n, node(x, b, 1), node(x, a, 2), STILL_UNCUT, 0, of);
}

/* The piece on this side may lie between, with a point of layer 2 behind it. */
static bool inner(const crossing *x, int side, uint8_t layer)
{
    uint32_t p = x->dev->piece[side];
    if (layer < 2) return true;
    return !x->layers->never_between[p] && (x->c->ties == NULL || !x->c->ties->never[p]);
}

/* Two sides that the device can part: side a from side b, each holding against the other or not. */
static still_status part(const crossing *x, int a, int b, bool holds_a, bool holds_b)
{
    still_edge_of paid = nothing;
    paid.device = x->d;
    still_status status = STILL_OK;
    uint32_t point = x->layers->weights.point;
    for (uint8_t l = 1; l <= x->outside && status == STILL_OK; l++) {
        bool serves = still_device_serves(x->layers->zone, x->dev, l);
        paid.layer = l;
        bool out = serves && holds_b && inner(x, a, l), in = serves && holds_a && inner(x, b, l);
        status = add(x->n, node(x, a, l), node(x, b, l), out ? point : STILL_UNCUT,
                     in ? point : STILL_UNCUT, paid);
    }
    return status == STILL_OK ? bind(x, a, b) : status;
}

static still_status set_to(const crossing *x, uint8_t joined)
{
    const still_device *d = x->dev;
    int first = -1;
    bool holds = true;
    still_status status = STILL_OK;
    for (int k = 0; k < d->n && status == STILL_OK; k++) {
        if ((joined >> k & 1) == 0) continue;
        if (first >= 0) status = join(x, first, k);
        if (first < 0) first = k;
        holds = holds && d->holds[k];
    }
    for (int k = 0; k < d->n && status == STILL_OK; k++)
        if ((joined >> k & 1) == 0 && first >= 0) status = part(x, first, k, holds, d->holds[k]);
    return status;
}

/* A three-way valve of which nothing is settled: it costs one where its sides are not all alike. */
static still_status any_position(const crossing *x, uint32_t *own)
{
    const still_device *d = x->dev;
    still_edge_of over = nothing, paid = nothing;
    over.over = paid.device = x->d;
    still_status status = STILL_OK;
    for (uint8_t l = 1; l <= x->outside && status == STILL_OK; l++) {
        uint32_t u = (*own)++, v = (*own)++;
        bool serves = still_device_serves(x->layers->zone, d, l);
        paid.layer = l;
        status = add(x->n, u, v, serves ? x->layers->weights.point : STILL_UNCUT, 0, paid);
        for (int k = 0; k < 3 && status == STILL_OK; k++) {
            uint32_t port = node(x, k, l);
            status = add(x->n, port, u, STILL_UNCUT, d->holds[k] ? 0 : STILL_UNCUT, over);
            if (status == STILL_OK) status = add(x->n, v, port, STILL_UNCUT, 0, over);
            for (int other = 0; other < 3 && status == STILL_OK && !inner(x, k, l); other++)
                status = add(x->n, port, node(x, other, l), STILL_UNCUT, 0, over);
        }
    }
    for (int a = 0; a < 3 && status == STILL_OK; a++)
        for (int b = a + 1; b < 3 && status == STILL_OK; b++)
            status = still_device_can_part(d, a, b) ? bind(x, a, b) : join(x, a, b);
    return status;
}

static still_status add_device(still_network *n, const still_layers *layers, const still_case *c,
                               uint32_t number, uint32_t *own)
{
    const still_zone *zone = layers->zone;
    const still_device *d = &zone->devices[number];
    crossing x = {n, layers, c, number, d, 0};
    for (int k = 0; k < d->n; k++) {
        /* A device behind a wall may have a side that was never reached: it takes no part. */
        if (d->piece[k] == STILL_NONE || zone->pieces[d->piece[k]].top == UINT8_MAX)
            return STILL_OK;
        const still_piece *p = &zone->pieces[d->piece[k]];
        if (!p->work && p->outside > x.outside) x.outside = p->outside;
    }
    if (x.outside == 0) return STILL_OK; /* the work on all sides */
    still_status status = STILL_OK;
    if (c->alike[number]) {
        for (int k = 1; k < d->n && status == STILL_OK; k++) status = join(&x, 0, k);
        return status;
    }
    if (d->n == 2) return part(&x, 0, 1, d->holds[0], d->holds[1]);
    if (c->position[number] > 0) return set_to(&x, d->joined[c->position[number] - 1]);
    return any_position(&x, own);
}

/* A piece that lies between only together with another one. */
static still_status add_ties(still_network *n, const still_layers *layers, const still_case *c,
                             const still_bleed_ties *ties)
{
    still_status status = STILL_OK;
    for (size_t i = 0; i < ties->n_ties && status == STILL_OK; i++) {
        const still_bleed_tie *t = &ties->ties[i];
        status = add(n, still_network_node(n, layers, c, t->piece, 2),
                     still_network_node(n, layers, c, t->with, 2), STILL_UNCUT, 0, nothing);
        if (status == STILL_OK && t->both)
            status = add(n, still_network_node(n, layers, c, t->with, 1),
                         still_network_node(n, layers, c, t->piece, 1), STILL_UNCUT, 0, nothing);
    }
    return status;
}

static still_status add_feeds(still_network *n, const still_layers *layers, const still_case *c)
{
    still_status status = STILL_OK;
    for (uint32_t i = 0; i < layers->n_entries && status == STILL_OK; i++) {
        const still_entry *e = &layers->entries[i];
        const still_piece *p = &layers->zone->pieces[e->piece];
        if (c->locked[e->isolator] || !(p->work || still_in_play(p))) continue;
        uint8_t layer = e->below < p->outside ? e->below : p->outside;
        still_edge_of of = nothing;
        of.entry = i;
        status = add(n, still_network_node(n, layers, c, e->piece, layer), 2 + e->isolator,
                     STILL_UNCUT, 0, of);
    }
    for (uint32_t k = 0; k < layers->n_isolators && status == STILL_OK; k++) {
        if (c->locked[k]) continue;
        still_edge_of of = nothing;
        of.isolator = k;
        status = add(n, 2 + k, SINK, layers->weights.point, 0, of);
    }
    return status;
}

/* What an enclosed piece costs: only where alternatives are looked for. */
static still_status add_pieces_cost(still_network *n, const still_layers *layers,
                                    const still_case *c)
{
    still_status status = STILL_OK;
    for (uint32_t p = 0; p < layers->zone->n_pieces && status == STILL_OK; p++) {
        const still_piece *piece = &layers->zone->pieces[p];
        uint32_t cost = still_piece_cost(layers, p);
        if (cost == 0 || piece->work || !still_in_play(piece)) continue;
        status =
            add(n, still_network_node(n, layers, c, p, piece->outside), SINK, cost, 0, nothing);
    }
    return status;
}

still_status still_network_build(still_network *n, const still_layers *layers, const still_case *c,
                                 bool paid)
{
    still_status status = number_nodes(n, layers);
    uint32_t inner = n->n_nodes;
    if (status == STILL_OK) status = add_pieces(n, layers, c);
    for (uint32_t d = 0; d < layers->zone->n_devices && status == STILL_OK; d++)
        status = add_device(n, layers, c, d, &inner);
    if (status == STILL_OK && c->ties != NULL) status = add_ties(n, layers, c, c->ties);
    if (status == STILL_OK && paid) status = add_feeds(n, layers, c);
    if (status == STILL_OK && paid) status = add_pieces_cost(n, layers, c);
    return status;
}

/* Sources at their price, all else free: the first stage. */
still_status still_network_price(still_network *n, const still_layers *layers, const still_case *c)
{
    still_status status = STILL_OK;
    for (size_t e = 0; e < n->net.n_edges; e++) {
        still_net_edge *edge = &n->net.edges[e];
        if (edge->cap_ab != STILL_UNCUT) edge->cap_ab = 0;
        if (edge->cap_ba != STILL_UNCUT) edge->cap_ba = 0;
    }
    for (uint32_t p = 0; p < layers->zone->n_pieces && status == STILL_OK; p++) {
        const still_piece *piece = &layers->zone->pieces[p];
        if (piece->n_sources == 0 || piece->work || !still_in_play(piece)) continue;
        status = add(n, still_network_node(n, layers, c, p, piece->outside), SINK, piece->n_sources,
                     0, nothing);
    }
    return status;
}

/* Only sets that cost as few sources as the first stage found: those that no residual edge of it
 * leaves. */
still_status still_network_keep(still_network *n, const still_network *first)
{
    still_status status = STILL_OK;
    for (size_t e = 0; e < first->net.n_edges && status == STILL_OK; e++) {
        const still_net_edge *edge = &first->net.edges[e];
        if (edge->cap_ab != STILL_UNCUT && still_flow_residual(&first->flow, e, true))
            status = add(n, edge->a, edge->b, STILL_UNCUT, 0, nothing);
        if (status == STILL_OK && edge->cap_ba != STILL_UNCUT &&
            still_flow_residual(&first->flow, e, false))
            status = add(n, edge->b, edge->a, STILL_UNCUT, 0, nothing);
    }
    return status;
}

void still_network_clear(still_network *n)
{
    still_net_clear(&n->net);
    still_flow_clear(&n->flow);
    still_free(n->edge_of);
    still_free(n->piece_of);
    still_free(n->layer_of);
    still_free(n->node0);
    *n = (still_network){0};
}
