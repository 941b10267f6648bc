/* The least labelling of a case.
 * Problem: fewest sources taken inside, then fewest points, then least mass, then lowest ids (I4).
 * Method: one minimum cut, or two where sources have a price: the second among the least cuts of
 * the first. Ties on the closed sets of the residual network. Why it is right: docs/METHOD.md, 3.2
 * and 3.3 (Ford, Fulkerson 1956; Picard, Queyranne 1980). Cost: the cuts; then a linear search a
 * candidate that could enter. */
#include "layers.h"

#include "alloc.h"
#include "isolation.h"
#include "network.h"

#include <stdlib.h>
#include <string.h>

/* Number of the isolator of a feed among those within reach; added when new. */
static still_status isolator_of(still_layers *l, uint32_t feed, uint32_t *k)
{
    uint32_t key = still_isolator_feed(l->zone->plant, feed);
    for (*k = 0; *k < l->n_isolators; ++*k)
        if (l->isolators[*k] == key) return STILL_OK;
    if (!still_grow(&l->isolators, &l->isolators_cap, l->n_isolators + 1, sizeof l->isolators[0]))
        return STILL_E_NOMEM;
    l->isolators[l->n_isolators++] = key;
    return STILL_OK;
}

/* All feeds of a component enter a piece; piece STILL_NONE: they are only numbered. */
static still_status enter(still_layers *l, uint32_t comp, uint32_t piece, uint8_t below)
{
    size_t n;
    const still_comp_feed *feeds = still_comp_feeds(l->zone->plant, comp, &n);
    for (size_t j = 0; j < n; j++) {
        uint32_t k;
        still_status status = isolator_of(l, feeds[j].feed, &k);
        if (status != STILL_OK) return status;
        if (piece == STILL_NONE) continue;
        if (!still_grow(&l->entries, &l->entries_cap, l->n_entries + 1, sizeof l->entries[0]))
            return STILL_E_NOMEM;
        l->entries[l->n_entries++] = (still_entry){piece, comp, feeds[j].feed, k, below};
    }
    return STILL_OK;
}

/* A pump or compressor that is taken inside is stopped, also between the layers (N4). */
static uint8_t entry_label(const still_zone *zone, uint32_t comp)
{
    uint8_t cls = zone->plant->comps[comp].cls;
    bool machine = cls == STILL_CLASS_PUMP || cls == STILL_CLASS_COMPRESSOR;
    return machine && still_zone_source(zone, comp) != STILL_SOURCE_NONE ? 2 : 1;
}

still_status still_layers_build(still_layers *l, const still_zone *zone)
{
    still_status status = STILL_OK;
    *l = (still_layers){.zone = zone,
                        .weights = {1, 0, 0},
                        .extra_bleed = STILL_NONE,
                        .most_cases = STILL_MOST_CASES,
                        .never_between = still_calloc(zone->n_pieces + 1, 1)};
    if (l->never_between == NULL) return STILL_E_NOMEM;
    for (uint32_t p = 0; p < zone->n_pieces && status == STILL_OK; p++) {
        const still_piece *piece = &zone->pieces[p];
        if (!piece->work && !still_in_play(piece)) continue;
        for (uint32_t i = 0; i < piece->n_items && status == STILL_OK; i++) {
            uint32_t comp = zone->items[piece->item0 + i];
            status = enter(l, comp, p, entry_label(zone, comp));
        }
    }
    for (uint32_t d = 0; d < zone->n_devices && status == STILL_OK; d++) {
        const still_device *dev = &zone->devices[d];
        status = enter(l, dev->comp, STILL_NONE, 1);
        for (int k = 0; k < dev->n && status == STILL_OK && dev->supplied; k++) {
            uint32_t p = dev->piece[k];
            if (p == STILL_NONE || !(zone->pieces[p].work || still_in_play(&zone->pieces[p])))
                continue;
            status = enter(l, dev->comp, p, 1);
        }
    }
    return status;
}

void still_layers_clear(still_layers *l)
{
    still_free(l->isolators);
    still_free(l->entries);
    still_free(l->never_between);
    *l = (still_layers){0};
}

uint32_t still_piece_cost(const still_layers *l, uint32_t piece)
{
    const still_piece *p = &l->zone->pieces[piece];
    uint64_t units = l->mass_unit == 0 ? 0 : p->grams / l->mass_unit;
    if (p->mass_unknown) units += l->unknown_units;
    uint64_t cost = units * l->weights.mass + (uint64_t)p->n_equipment * l->weights.equipment;
    return cost < STILL_UNCUT - 1 ? (uint32_t)cost : STILL_UNCUT - 1;
}

static size_t case_size(const still_layers *l)
{
    return 4 * l->zone->n_pieces + 3 * l->zone->n_devices + l->n_isolators + 1;
}

still_status still_case_open(still_case *c, const still_layers *l)
{
    const still_zone *zone = l->zone;
    *c = (still_case){.low = still_calloc(case_size(l), 1)};
    if (c->low == NULL) return STILL_E_NOMEM;
    c->high = c->low + zone->n_pieces;
    c->hole = c->high + zone->n_pieces;
    c->life = c->hole + zone->n_pieces;
    c->alike = c->life + zone->n_pieces;
    c->extra = c->alike + zone->n_devices;
    c->position = c->extra + zone->n_devices;
    c->locked = c->position + zone->n_devices;
    for (uint32_t p = 0; p < zone->n_pieces; p++) {
        uint8_t top = zone->pieces[p].top, outside = zone->pieces[p].outside;
        c->high[p] = top < outside ? top : outside;
    }
    return STILL_OK;
}

still_status still_case_copy(still_case *c, const still_case *from, const still_layers *l)
{
    still_status status = still_case_open(c, l);
    if (status != STILL_OK) return status;
    memcpy(c->low, from->low, case_size(l));
    if (from->n_serves == 0) return STILL_OK;
    c->serves = still_calloc(from->n_serves, sizeof c->serves[0]);
    if (c->serves == NULL) {
        still_case_clear(c);
        return STILL_E_NOMEM;
    }
    memcpy(c->serves, from->serves, from->n_serves * sizeof c->serves[0]);
    c->n_serves = from->n_serves;
    return STILL_OK;
}

still_status still_case_serve(still_case *c, uint32_t cell, uint32_t outlet)
{
    still_serve *more = still_realloc(c->serves, (size_t)c->n_serves + 1, sizeof more[0]);
    if (more == NULL) return STILL_E_NOMEM;
    c->serves = more;
    c->serves[c->n_serves++] = (still_serve){cell, outlet};
    return STILL_OK;
}

void still_case_clear(still_case *c)
{
    still_free(c->low);
    still_free(c->serves);
    *c = (still_case){0};
}

bool still_is_point(const still_zone *zone, const uint8_t *label, const still_device *d)
{
    for (int k = 0; k < d->n; k++)
        if (d->piece[k] == STILL_NONE || zone->pieces[d->piece[k]].top == UINT8_MAX) return false;
    for (int k = 1; k < d->n; k++)
        if (label[d->piece[k]] != label[d->piece[0]]) return true;
    return still_is_extra(zone, label, d);
}

/* A device or isolator that some least cut may contain, in one layer and direction. */
typedef struct candidate {
    const char *id;
    uint32_t u, v; /* cut when u is with the work and v is not */
} candidate;

static int by_id(const void *pa, const void *pb)
{
    const candidate *a = pa, *b = pb;
    int order = strcmp(a->id, b->id);
    if (order != 0) return order;
    if (a->u != b->u) return a->u < b->u ? -1 : 1;
    return a->v < b->v ? -1 : a->v > b->v;
}

static const char *isolator_id(const still_layers *l, uint32_t k)
{
    const still_plant *plant = l->zone->plant;
    return still_text(plant, plant->feeds[l->isolators[k]].id);
}

static size_t list_candidates(const still_network *n, const still_layers *l, candidate *list)
{
    size_t count = 0;
    for (size_t e = 0; e < n->net.n_edges; e++) {
        const still_edge_of *of = &n->edge_of[e];
        const still_net_edge *edge = &n->net.edges[e];
        const char *id = of->device != STILL_NONE
                             ? still_id_of(l->zone->plant, l->zone->devices[of->device].comp)
                         : of->isolator != STILL_NONE ? isolator_id(l, of->isolator)
                                                      : NULL;
        if (id == NULL) continue;
        if (still_flow_saturated(&n->flow, e, true))
            list[count++] = (candidate){id, edge->a, edge->b};
        if (still_flow_saturated(&n->flow, e, false))
            list[count++] = (candidate){id, edge->b, edge->a};
    }
    qsort(list, count, sizeof list[0], by_id);
    return count;
}

/* Sides that are settled so far: what is with the work for sure, what is not. The same ids may come
 * about in several ways, so there may be several such pairs. */
#define MOST_WAYS 32
typedef struct ways {
    uint8_t *in[MOST_WAYS], *out[MOST_WAYS];
    size_t n;
    size_t size;
} ways;

static bool new_way(ways *w, const uint8_t *in, const uint8_t *out)
{
    for (size_t i = 0; i < w->n; i++)
        if (memcmp(w->in[i], in, w->size) == 0 && memcmp(w->out[i], out, w->size) == 0) return true;
    if (w->n == MOST_WAYS) return true; /* said in METHOD 3.3 */
    uint8_t *both = still_calloc(w->size, 2);
    if (both == NULL) return false;
    w->in[w->n] = both;
    w->out[w->n] = both + w->size;
    memcpy(w->in[w->n], in, w->size);
    memcpy(w->out[w->n++], out, w->size);
    return true;
}

static void free_ways(ways *w)
{
    for (size_t i = 0; i < w->n; i++) still_free(w->in[i]);
    w->n = 0;
}

/* Make a candidate part of the cut in one way, if it can be; the result goes to `next`. */
static still_status settle(const still_network *n, const candidate *c, const ways *w, size_t i,
                           uint8_t *in, uint8_t *out, ways *next)
{
    memcpy(in, w->in[i], w->size);
    memcpy(out, w->out[i], w->size);
    if (out[c->u] || in[c->v]) return STILL_OK;
    still_status status = still_flow_close(&n->flow, in, c->u, false);
    if (status != STILL_OK || in[c->v]) return status;
    status = still_flow_close(&n->flow, out, c->v, true);
    if (status != STILL_OK) return status;
    for (size_t k = 0; k < w->size; k++)
        if (in[k] && out[k]) return STILL_OK;
    return new_way(next, in, out) ? STILL_OK : STILL_E_NOMEM;
}

/* Take candidates in the order of ids: each that some way still allows. */
static still_status choose_ids(const still_network *n, const candidate *list, size_t count, ways *w,
                               uint8_t *in, uint8_t *out)
{
    still_status status = STILL_OK;
    for (size_t i = 0; i < count && status == STILL_OK;) {
        ways next = {.size = w->size};
        size_t j = i;
        for (; j < count && strcmp(list[j].id, list[i].id) == 0; j++)
            for (size_t k = 0; k < w->n && status == STILL_OK; k++)
                status = settle(n, &list[j], w, k, in, out, &next);
        i = j;
        if (next.n > 0) {
            free_ways(w);
            *w = next;
        }
    }
    return status;
}

/* Pieces that must stay out so that no mass is added to the smallest set. Unknown masses rank
 * equal, so with one in it any closed set is as good. */
static still_status wall_off_mass(const still_network *n, const still_layers *l,
                                  const still_case *c, const uint8_t *in, uint8_t *out)
{
    const still_zone *zone = l->zone;
    bool unknown = false;
    still_status status = STILL_OK;
    for (int pass = 0; pass < 2; pass++) {
        for (uint32_t p = 0; p < zone->n_pieces && status == STILL_OK; p++) {
            const still_piece *piece = &zone->pieces[p];
            if (!still_in_play(piece) && !piece->work) continue;
            uint32_t node = still_network_node(n, l, c, p, piece->outside);
            if (pass == 0) {
                if (in[node] && piece->mass_unknown) unknown = true;
            } else if (!in[node] && (piece->grams > 0 || piece->mass_unknown)) {
                status = still_flow_close(&n->flow, out, node, true);
            }
        }
        if (unknown) break;
    }
    return status;
}

/* @param[out] in  by node: with the work, in the best of the least cuts */
static still_status break_ties(const still_network *n, const still_layers *l, const still_case *c,
                               uint8_t *in)
{
    size_t size = n->net.n_nodes;
    ways w = {.size = size};
    still_status status = STILL_E_NOMEM;
    uint8_t *out = still_calloc(size, 1), *trial = still_calloc(size, 2);
    candidate *list = still_calloc(2 * n->net.n_edges + 1, sizeof list[0]);
    if (out == NULL || trial == NULL || list == NULL) goto out;
    status = still_flow_close(&n->flow, in, n->flow.s, false);
    if (status == STILL_OK) status = still_flow_close(&n->flow, out, n->flow.t, true);
    if (status == STILL_OK) status = wall_off_mass(n, l, c, in, out);
    if (status == STILL_OK && !new_way(&w, in, out)) status = STILL_E_NOMEM;
    size_t count = list_candidates(n, l, list);
    if (status == STILL_OK) status = choose_ids(n, list, count, &w, trial, trial + size);
    if (status == STILL_OK) memcpy(in, w.in[0], size);
out:
    free_ways(&w);
    still_free(out);
    still_free(trial);
    still_free(list);
    return status;
}

static int by_text(const void *pa, const void *pb)
{
    return strcmp(*(const char *const *)pa, *(const char *const *)pb);
}

/* Feeds that a labelling needs: of what lies inside, of D3 points, and those that the case locks.
 */
static still_status count_feeds(still_labelling *out, const still_layers *l, const still_case *c)
{
    const still_zone *zone = l->zone;
    uint8_t *need = still_calloc(l->n_isolators + 1, 1);
    out->lock = still_calloc(l->n_isolators + 1, sizeof out->lock[0]);
    if (need == NULL || out->lock == NULL) {
        still_free(need);
        return STILL_E_NOMEM;
    }
    for (size_t i = 0; i < l->n_entries; i++) {
        const still_entry *e = &l->entries[i];
        uint8_t outside = zone->pieces[e->piece].outside;
        if (out->label[e->piece] < (e->below < outside ? e->below : outside)) need[e->isolator] = 1;
    }
    for (uint32_t d = 0; d < zone->n_devices; d++) {
        const still_device *dev = &zone->devices[d];
        bool within = true, point = still_is_point(zone, out->label, dev);
        for (int k = 0; k < dev->n; k++)
            within = within && dev->piece[k] != STILL_NONE && out->label[dev->piece[k]] == 0;
        if (!within && !(point && dev->supplied)) continue;
        size_t n;
        const still_comp_feed *feeds = still_comp_feeds(zone->plant, dev->comp, &n);
        for (size_t j = 0; j < n; j++) {
            uint32_t key = still_isolator_feed(zone->plant, feeds[j].feed);
            for (uint32_t k = 0; k < l->n_isolators; k++)
                if (l->isolators[k] == key) need[k] = 1;
        }
    }
    for (uint32_t k = 0; k < l->n_isolators; k++)
        if (need[k] || c->locked[k]) out->lock[out->n_lock++] = k;
    still_free(need);
    return STILL_OK;
}

static void read_labels(still_labelling *out, const still_network *n, const still_layers *l,
                        const still_case *c, const uint8_t *in)
{
    const still_zone *zone = l->zone;
    for (uint32_t p = 0; p < zone->n_pieces; p++) {
        const still_piece *piece = &zone->pieces[p];
        out->label[p] = piece->outside;
        if (piece->work) out->label[p] = 0;
        if (!piece->work && still_in_play(piece)) {
            out->label[p] = 0;
            for (uint8_t layer = 1; layer <= piece->outside; layer++)
                out->label[p] =
                    (uint8_t)(out->label[p] + !in[still_network_node(n, l, c, p, layer)]);
        }
        if (out->label[p] >= piece->outside && !piece->work) continue;
        out->sources += piece->n_sources;
        out->grams += piece->grams;
        if (piece->mass_unknown) out->mass_unknown = true;
    }
}

static still_status read_labelling(still_labelling *out, const still_network *n,
                                   const still_layers *l, const still_case *c, const uint8_t *in)
{
    const still_zone *zone = l->zone;
    *out = (still_labelling){.label = still_calloc(zone->n_pieces + zone->n_devices + 1, 1)};
    if (out->label == NULL) return STILL_E_NOMEM;
    read_labels(out, n, l, c, in);
    memcpy(out->label + zone->n_pieces, c->extra, zone->n_devices);
    still_status status = count_feeds(out, l, c);
    if (status != STILL_OK) return status;
    out->ids = still_calloc(zone->n_devices + out->n_lock + 1, sizeof out->ids[0]);
    if (out->ids == NULL) return STILL_E_NOMEM;
    for (uint32_t d = 0; d < zone->n_devices; d++)
        if (still_is_point(zone, out->label, &zone->devices[d]))
            out->ids[out->n_ids++] = still_id_of(zone->plant, zone->devices[d].comp);
    for (uint32_t k = 0; k < out->n_lock; k++)
        out->ids[out->n_ids++] = isolator_id(l, out->lock[k]);
    qsort(out->ids, out->n_ids, sizeof out->ids[0], by_text);
    uint64_t settled = 0;
    for (size_t k = 0; k < l->n_isolators; k++) settled += c->locked[k];
    for (size_t d = 0; d < zone->n_devices; d++) settled += c->extra[d] != 0;
    out->bound = n->flow.value + settled * l->weights.point;
    out->free_sources = l->free_sources;
    out->cost = (uint64_t)out->n_ids * l->weights.point;
    for (uint32_t p = 0; p < zone->n_pieces; p++)
        if (!zone->pieces[p].work && still_in_play(&zone->pieces[p]) &&
            out->label[p] < zone->pieces[p].outside)
            out->cost += still_piece_cost(l, p);
    return STILL_OK;
}

/* Solve the second stage, or the only one. */
static still_status solve(still_network *n, bool *feasible, const still_layers *l,
                          const still_case *c)
{
    still_network first = {0};
    still_status status = STILL_OK;
    if (l->zone->priced && !l->free_sources) {
        status = still_network_build(&first, l, c, false);
        if (status == STILL_OK) status = still_network_price(&first, l, c);
        if (status == STILL_OK) status = still_flow_solve(&first.flow, &first.net, 0, 1);
        *feasible = status == STILL_OK && first.flow.cuttable;
        if (status != STILL_OK || !*feasible) goto out;
    }
    status = still_network_build(n, l, c, true);
    if (status == STILL_OK && l->zone->priced && !l->free_sources)
        status = still_network_keep(n, &first);
    if (status == STILL_OK) status = still_flow_solve(&n->flow, &n->net, 0, 1);
    *feasible = status == STILL_OK && n->flow.cuttable;
out:
    still_network_clear(&first);
    return status;
}

still_status still_layers_solve(still_labelling *out, bool *feasible, const still_layers *l,
                                const still_case *c, still_network *keep)
{
    still_network own = {0}, *n = keep != NULL ? keep : &own;
    uint8_t *in = NULL;
    *out = (still_labelling){0};
    *n = (still_network){0};
    *feasible = false;
    still_status status = STILL_OK;
    for (uint32_t p = 0; p < l->zone->n_pieces; p++)
        if (c->low[p] > c->high[p] || (c->hole[p] && c->low[p] == 1 && c->high[p] == 1))
            return STILL_OK;
    status = solve(n, feasible, l, c);
    if (status == STILL_OK && *feasible) {
        in = still_calloc(n->net.n_nodes, 1);
        status = in != NULL ? break_ties(n, l, c, in) : STILL_E_NOMEM;
        if (status == STILL_OK) status = read_labelling(out, n, l, c, in);
    }
    still_free(in);
    if (keep == NULL) still_network_clear(&own);
    if (status != STILL_OK) still_labelling_clear(out);
    return status;
}

void still_labelling_clear(still_labelling *l)
{
    still_free(l->label);
    still_free(l->lock);
    still_free(l->ids);
    *l = (still_labelling){0};
}

int still_labelling_compare(const still_labelling *a, const still_labelling *b)
{
    if (!a->free_sources && a->sources != b->sources) return a->sources < b->sources ? -1 : 1;
    if (a->bound != b->bound) return a->bound < b->bound ? -1 : 1;
    if (a->mass_unknown != b->mass_unknown) return a->mass_unknown ? 1 : -1;
    if (!a->mass_unknown && a->grams != b->grams) return a->grams < b->grams ? -1 : 1;
    for (uint32_t i = 0; i < a->n_ids && i < b->n_ids; i++) {
        int order = strcmp(a->ids[i], b->ids[i]);
        if (order != 0) return order;
    }
    return a->n_ids < b->n_ids ? -1 : a->n_ids > b->n_ids;
}
