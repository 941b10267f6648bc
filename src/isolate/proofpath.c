/* Proof paths (I5).
 * Problem: show that no fewer points would do.
 * Method: the flow of the first cut is taken apart into unit paths. Of each, the devices that it
 * pays for are read off; between them the shortest free way is taken (trace.h). Why it is right:
 * docs/METHOD.md, 4. Cost: a search a paid device and path. */
#include "isolate.h"

#include "alloc.h"

typedef struct paid {
    uint32_t near, far; /* states on both sides of a device that the path pays for */
    uint32_t device;
} paid;

typedef struct spelling {
    still_isolation *iso;
    still_trace *trace;
    const still_layers *layers;
    const still_search *search;
    paid *list; /* of the path in hand */
    size_t n_list, list_cap;
    uint32_t entry;    /* feed in which it ends, or STILL_NONE */
    uint32_t isolator; /* its isolator */
    uint32_t *comps, *layer;
    size_t n, cap, layer_cap;
} spelling;

static uint32_t far_node(const still_net_edge *e, uint32_t node)
{
    return e->a == node ? e->b : e->a;
}

/* Sides of a three-way valve by the nodes before and behind its own two. */
static bool sides_of(const spelling *s, const still_device *d, uint32_t before, uint32_t behind,
                     uint32_t layer, int *near, int *far)
{
    const still_network *net = &s->search->root;
    *near = *far = -1;
    for (int k = 0; k < d->n; k++) {
        const still_piece *p = &s->layers->zone->pieces[d->piece[k]];
        uint32_t here = p->work          ? 0
                        : p->wall        ? 1
                        : p->top < layer ? 0
                                         : net->node0[d->piece[k]] + layer - 1;
        if (here == before && *near < 0)
            *near = k;
        else if (here == behind && *far < 0)
            *far = k;
    }
    return *near >= 0 && *far >= 0;
}

static bool read_edge(spelling *s, const uint32_t *edges, size_t i, const uint32_t *nodes)
{
    const still_network *net = &s->search->root;
    const still_edge_of *of = &net->edge_of[edges[i]];
    if (of->entry != STILL_NONE) s->entry = of->entry;
    if (of->isolator != STILL_NONE) s->isolator = of->isolator;
    if (of->device == STILL_NONE) return true;
    const still_device *d = &s->layers->zone->devices[of->device];
    uint32_t layer = of->layer;
    int near = net->net.edges[edges[i]].a == nodes[i] ? 0 : 1, far = 1 - near;
    if (d->n == 3 && !sides_of(s, d, nodes[i - 1], nodes[i + 2], layer, &near, &far)) return false;
    /* A crossing in a direction in which the device does not hold is free. */
    if (!d->holds[far] || !still_device_can_part(d, near, far) ||
        !still_device_serves(s->layers->zone, d, (uint8_t)layer))
        return true;
    if (!still_grow(&s->list, &s->list_cap, s->n_list + 1, sizeof s->list[0])) return false;
    s->list[s->n_list++] = (paid){still_trace_state(d->port[near], layer),
                                  still_trace_state(d->port[far], layer), of->device};
    return true;
}

static still_status read_path(spelling *s, const uint32_t *edges, size_t n)
{
    const still_network *net = &s->search->root;
    uint32_t *nodes = still_calloc(n + 3, sizeof nodes[0]);
    if (nodes == NULL) return STILL_E_NOMEM;
    s->n_list = 0;
    s->entry = s->isolator = STILL_NONE;
    nodes[0] = net->flow.s;
    for (size_t i = 0; i < n; i++) nodes[i + 1] = far_node(&net->net.edges[edges[i]], nodes[i]);
    bool good = true;
    for (size_t i = 0; i < n && good; i++) good = read_edge(s, edges, i, nodes);
    still_free(nodes);
    return good ? STILL_OK : STILL_E_NOMEM;
}

/* A free way from a state (STILL_NONE: the work) to another, appended. @return 1, 0 = none, -1 */
static int walk(spelling *s, uint32_t from, still_goal goal, uint32_t arg)
{
    uint32_t state = still_trace_find(s->trace, from, goal, arg);
    if (state == STILL_NONE) return 0;
    return still_trace_append(s->trace, state, &s->comps, &s->layer, &s->n, &s->cap, &s->layer_cap)
               ? 1
               : -1;
}

/* A device is met at its ports; a pipe that is one has none of its own. */
static bool cross(spelling *s, const paid *p)
{
    uint32_t comp = s->iso->zone.devices[p->device].comp;
    if (s->iso->zone.plant->comps[comp].cls != STILL_CLASS_SPOOL) return true;
    if (!still_grow(&s->comps, &s->cap, s->n + 1, sizeof s->comps[0]) ||
        !still_grow(&s->layer, &s->layer_cap, s->n + 1, sizeof s->layer[0]))
        return false;
    s->comps[s->n] = comp;
    s->layer[s->n++] = p->near % 2 + 1;
    return true;
}

/* A path that comes back to a piece which it had left is cut short: a rise within the piece is
 * free, and what is paid on the round trip proves nothing more. */
static void cut_round_trips(spelling *s)
{
    const uint32_t *piece = s->iso->zone.piece_of_port;
    for (size_t i = 0; i < s->n_list; i++)
        for (int side = 0; side < 2; side++) {
            if (i == 0 && side == 0) continue;
            /* Where it stands before it pays for the i-th device. */
            uint32_t here = piece[(side == 0 ? s->list[i - 1].far : s->list[i].near) / 2];
            size_t again = i; /* entries before it are on the round trip */
            for (size_t j = i; j < s->n_list; j++) {
                if (piece[s->list[j].near / 2] == here) again = j;
                if (piece[s->list[j].far / 2] == here) again = j + 1;
            }
            for (size_t k = again; k < s->n_list; k++) s->list[i + k - again] = s->list[k];
            s->n_list -= again - i;
            if (i == s->n_list) return;
        }
}

/* Spell the path in hand. A device that it pays for and then rises behind is crossed free instead:
 * it is left out of the list, and the free way goes over it. */
static still_status spell(spelling *s)
{
    for (;;) {
        uint32_t from = STILL_NONE;
        size_t i = 0;
        int found = 1;
        s->n = 0;
        for (; i < s->n_list && found == 1; i++) {
            found = walk(s, from, still_goal_state, s->list[i].near);
            if (found == 1 && !cross(s, &s->list[i])) return STILL_E_NOMEM;
            if (found == 1) from = s->list[i].far;
        }
        if (found == 1) {
            i++;
            found = s->entry != STILL_NONE
                        ? walk(s, from, still_goal_comp, s->layers->entries[s->entry].comp)
                        : walk(s, from, still_goal_source, 0);
        }
        if (found == 1) return STILL_OK;
        if (found < 0) return STILL_E_NOMEM;
        /* Nothing leads on from the device before the one that was not reached. */
        if (i < 2) return STILL_E_INTERNAL;
        for (size_t k = i - 2; k + 1 < s->n_list; k++) s->list[k] = s->list[k + 1];
        s->n_list--;
    }
}

/* A way that goes aside only to rise a layer at some other device, and comes back to where it left,
 * may as well rise where it is: a rise over a device, and within a piece, is free. */
static void cut_detours(spelling *s)
{
    for (size_t i = 0; i < s->n; i++) {
        size_t last = i;
        for (size_t j = i + 1; j < s->n; j++)
            if (s->comps[j] == s->comps[i] && s->layer[j] > s->layer[i]) last = j;
        if (last == i) continue;
        for (size_t j = last + 1; j < s->n; j++) {
            s->comps[i + j - last] = s->comps[j];
            s->layer[i + j - last] = s->layer[j];
        }
        s->n -= last - i;
    }
}

static bool keep(spelling *s)
{
    still_isolation *iso = s->iso;
    still_iso_path *path = &iso->paths[iso->n_paths++];
    *path = (still_iso_path){.feed = STILL_NONE, .point = STILL_NONE};
    if (s->entry != STILL_NONE) path->feed = s->layers->entries[s->entry].feed;
    for (size_t i = 0; i < s->n_list; i++)
        if (still_is_point(&iso->zone, s->search->best.label,
                           &iso->zone.devices[s->list[i].device]))
            path->point = iso->zone.devices[s->list[i].device].comp;
    path->comps.n = (uint32_t)s->n;
    path->comps.items = STILL_ARENA_NEW(&iso->arena, s->n, uint32_t);
    path->layers = STILL_ARENA_NEW(&iso->arena, s->n, uint32_t);
    if (path->comps.items == NULL || path->layers == NULL) return false;
    for (size_t k = 0; k < s->n; k++) {
        path->comps.items[k] = s->comps[s->n - 1 - k];
        path->layers[k] = s->layer[s->n - 1 - k];
    }
    return true;
}

static bool is_locked(const spelling *s, uint32_t isolator)
{
    for (uint32_t k = 0; k < s->search->best.n_lock; k++)
        if (s->search->best.lock[k] == isolator) return true;
    return false;
}

still_status still_proof_paths(still_isolation *iso, const still_layers *layers,
                               const still_search *search, still_trace *trace)
{
    spelling s = {.iso = iso, .trace = trace, .layers = layers, .search = search};
    uint32_t *edges = NULL, *starts = NULL;
    iso->by_search = search->root_bound != search->best.cost || iso->zone.priced;
    if (iso->zone.priced) return STILL_OK; /* the first cut counts sources, not points */
    still_status status = still_flow_paths(&search->root.flow, &edges, &starts);
    if (status != STILL_OK) return status;
    uint64_t value = search->root.flow.value;
    iso->paths = STILL_ARENA_NEW(&iso->arena, value, still_iso_path);
    if (iso->paths == NULL) status = STILL_E_NOMEM;
    for (uint64_t i = 0; i < value && status == STILL_OK; i++) {
        status = read_path(&s, edges + starts[i], starts[i + 1] - starts[i]);
        if (status != STILL_OK) break;
        /* A path that ends in a locked isolator proves no device: that feed is counted apart. */
        if (s.isolator != STILL_NONE && is_locked(&s, s.isolator)) continue;
        cut_round_trips(&s);
        status = spell(&s);
        cut_detours(&s);
        if (status == STILL_OK && !keep(&s)) status = STILL_E_NOMEM;
    }
    if (iso->n_paths + (uint64_t)iso->feeds.n != search->best.n_ids) iso->by_search = true;
    still_free(s.list);
    still_free(s.comps);
    still_free(s.layer);
    still_free(edges);
    still_free(starts);
    return status;
}
