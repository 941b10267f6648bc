/* The choice of points.
 * Problem: fewest points (I4) that part the work from every source outside, feeds of what lies
 * inside included (N5); among equal ones least mass, then lowest ids.
 * Method: one minimum cut; ties on the closed sets of its residual network.
 * Why it is right: docs/METHOD.md, 3.2 and 3.4 (Ford, Fulkerson 1956; Picard, Queyranne 1980).
 * Assumptions: the zone is complete up to its walls; forced pieces hold no blocker.
 * Cost: the cut; then a linear search a candidate that could enter. */
#include "choose.h"

#include "alloc.h"

#include <stdlib.h>
#include <string.h>

uint32_t still_isolator_feed(const still_plant *plant, uint32_t feed)
{
    uint32_t best = feed;
    if (plant->feeds[feed].isolator.v == 0) return feed;
    for (uint32_t i = 0; i < plant->n_feeds; i++) {
        if (plant->feeds[i].isolator.v != plant->feeds[feed].isolator.v) continue;
        if (strcmp(still_text(plant, plant->feeds[i].id),
                   still_text(plant, plant->feeds[best].id)) < 0)
            best = i;
    }
    return best;
}

static still_status add_edge(still_choice *c, uint32_t a, uint32_t b, uint32_t ab, uint32_t ba,
                             still_edge_of of)
{
    if (!still_grow(&c->edge_of, &c->edges_cap, c->net.n_edges + 1, sizeof c->edge_of[0]))
        return STILL_E_NOMEM;
    c->edge_of[c->net.n_edges] = of;
    return still_net_add(&c->net, a, b, ab, ba);
}

/* Number of the isolator of a feed among those within reach; added when new. */
static still_status isolator_of(still_choice *c, const still_plant *plant, uint32_t feed, size_t *k)
{
    uint32_t key = still_isolator_feed(plant, feed);
    for (*k = 0; *k < c->n_isolators; ++*k)
        if (c->isolators[*k] == key) return STILL_OK;
    if (!still_grow(&c->isolators, &c->isolators_cap, c->n_isolators + 1, sizeof c->isolators[0]))
        return STILL_E_NOMEM;
    c->isolators[c->n_isolators++] = key;
    return STILL_OK;
}

/* Visit the feeds of all items of a piece: count isolators (edges == false) or add their edges. */
static still_status feeds_of_piece(still_choice *c, const still_zone *zone, uint32_t p, bool edges)
{
    const still_piece *piece = &zone->pieces[p];
    for (uint32_t i = 0; i < piece->n_items; i++) {
        uint32_t comp = zone->items[piece->item0 + i];
        size_t n;
        const still_comp_feed *feeds = still_comp_feeds(zone->plant, comp, &n);
        for (size_t j = 0; j < n; j++) {
            size_t k;
            still_status status = isolator_of(c, zone->plant, feeds[j].feed, &k);
            if (status == STILL_OK && edges) {
                still_edge_of of = {STILL_NONE, STILL_NONE, p, comp, feeds[j].feed};
                status = add_edge(c, c->node_of[p], c->sink + 1 + (uint32_t)k, STILL_UNCUT, 0, of);
            }
            if (status != STILL_OK) return status;
        }
    }
    return STILL_OK;
}

static still_status build(still_choice *c, const still_zone *zone)
{
    still_status status = STILL_OK;
    c->node_of = still_calloc(zone->n_pieces, sizeof c->node_of[0]);
    if (c->node_of == NULL) return STILL_E_NOMEM;
    uint32_t n = 0;
    for (uint32_t p = 0; p < zone->n_pieces; p++)
        if (!zone->pieces[p].wall) c->node_of[p] = n++;
    c->sink = n;
    for (uint32_t p = 0; p < zone->n_pieces && status == STILL_OK; p++) {
        if (zone->pieces[p].wall)
            c->node_of[p] = c->sink;
        else
            status = feeds_of_piece(c, zone, p, false);
    }
    still_net_init(&c->net, c->sink + 1 + (uint32_t)c->n_isolators);
    for (uint32_t d = 0; d < zone->n_devices && status == STILL_OK; d++) {
        const still_device *dev = &zone->devices[d];
        /* A device behind a wall may have a side that was never reached: it takes no part. */
        if (dev->piece[0] == STILL_NONE || dev->piece[1] == STILL_NONE) continue;
        uint32_t a = c->node_of[dev->piece[0]], b = c->node_of[dev->piece[1]];
        still_edge_of of = {d, STILL_NONE, STILL_NONE, STILL_NONE, STILL_NONE};
        status =
            add_edge(c, a, b, dev->holds[1] ? 1 : STILL_UNCUT, dev->holds[0] ? 1 : STILL_UNCUT, of);
    }
    for (uint32_t p = 0; p < zone->n_pieces && status == STILL_OK; p++)
        if (!zone->pieces[p].wall) status = feeds_of_piece(c, zone, p, true);
    for (size_t k = 0; k < c->n_isolators && status == STILL_OK; k++) {
        still_edge_of of = {STILL_NONE, c->isolators[k], STILL_NONE, STILL_NONE, STILL_NONE};
        status = add_edge(c, c->sink + 1 + (uint32_t)k, c->sink, 1, 0, of);
    }
    return status;
}

/* A device or isolator that some least cut may contain, in one direction. */
typedef struct candidate {
    const char *id;
    uint32_t u, v; /* cut when u is with the work and v is not */
} candidate;

static int by_id(const void *pa, const void *pb)
{
    const candidate *a = pa, *b = pb;
    return strcmp(a->id, b->id);
}

static size_t list_candidates(const still_choice *c, const still_zone *zone, candidate *list)
{
    size_t n = 0;
    for (size_t e = 0; e < c->net.n_edges; e++) {
        const still_edge_of *of = &c->edge_of[e];
        const still_net_edge *edge = &c->net.edges[e];
        const char *id;
        if (of->device != STILL_NONE)
            id = still_id_of(zone->plant, zone->devices[of->device].comp);
        else if (of->feed != STILL_NONE)
            id = still_text(zone->plant, zone->plant->feeds[of->feed].id);
        else
            continue;
        if (still_flow_saturated(&c->flow, e, true)) list[n++] = (candidate){id, edge->a, edge->b};
        if (still_flow_saturated(&c->flow, e, false)) list[n++] = (candidate){id, edge->b, edge->a};
    }
    qsort(list, n, sizeof list[0], by_id);
    return n;
}

/* Walls off what would enclose more mass than the least closed set does (I4). */
static still_status wall_off_mass(const still_choice *c, const still_zone *zone, uint8_t *out)
{
    bool unknown = false;
    still_status status = STILL_OK;
    for (uint32_t p = 0; p < zone->n_pieces; p++)
        if (!zone->pieces[p].wall && c->in[c->node_of[p]] && zone->pieces[p].mass_unknown)
            unknown = true;
    for (uint32_t p = 0; p < zone->n_pieces && !unknown && status == STILL_OK; p++) {
        const still_piece *piece = &zone->pieces[p];
        if (piece->wall || c->in[c->node_of[p]] || (piece->grams == 0 && !piece->mass_unknown))
            continue;
        status = still_flow_close(&c->flow, out, c->node_of[p], true);
    }
    return status;
}

/* Try to make a candidate part of the cut, keeping what was settled before. */
static still_status settle(still_choice *c, const candidate *cand, uint8_t *out, uint8_t *trial)
{
    if (out[cand->u] || c->in[cand->v]) return STILL_OK;
    if (c->in[cand->u] && out[cand->v]) return STILL_OK;
    memset(trial, 0, c->net.n_nodes);
    still_status status = still_flow_close(&c->flow, trial, cand->u, false);
    if (status != STILL_OK || trial[cand->v]) return status;
    status = still_flow_close(&c->flow, c->in, cand->u, false);
    if (status == STILL_OK) status = still_flow_close(&c->flow, out, cand->v, true);
    return status;
}

static still_status break_ties(still_choice *c, const still_zone *zone)
{
    still_status status = STILL_E_NOMEM;
    uint8_t *out = still_calloc(c->net.n_nodes, 1), *trial = still_calloc(c->net.n_nodes, 1);
    candidate *list = still_calloc(2 * c->net.n_edges, sizeof list[0]);
    if (out == NULL || trial == NULL || list == NULL) goto out;
    status = still_flow_close(&c->flow, c->in, c->flow.s, false);
    if (status == STILL_OK) status = still_flow_close(&c->flow, out, c->sink, true);
    if (status == STILL_OK) status = wall_off_mass(c, zone, out);
    size_t n = list_candidates(c, zone, list);
    for (size_t i = 0; i < n && status == STILL_OK; i++) status = settle(c, &list[i], out, trial);
out:
    still_free(out);
    still_free(trial);
    still_free(list);
    return status;
}

still_status still_choose(still_choice *c, const still_zone *zone)
{
    *c = (still_choice){0};
    still_status status = build(c, zone);
    if (status != STILL_OK) return status;
    status = still_flow_solve(&c->flow, &c->net, c->node_of[0], c->sink);
    if (status != STILL_OK) return status;
    /* Forced pieces hold no blocker, so closing their edges is a cut: anything else is a bug. */
    if (!c->flow.cuttable) return STILL_E_INTERNAL;
    c->in = still_calloc(c->net.n_nodes, 1);
    if (c->in == NULL) return STILL_E_NOMEM;
    return break_ties(c, zone);
}

void still_choice_clear(still_choice *c)
{
    still_net_clear(&c->net);
    still_flow_clear(&c->flow);
    still_free(c->edge_of);
    still_free(c->node_of);
    still_free(c->isolators);
    still_free(c->in);
    *c = (still_choice){0};
}
