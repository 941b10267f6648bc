/* The obstacle (I6).
 * Problem: no plan exists; say along which way, and where one device more would make it possible.
 * Method: the nearest source that can't be kept out, by breadth-first search through all that does
 * not hold. An item helps by itself when no such source is reached once it is a good device; such
 * an item lies on every way, so only items of this one need a trial. If none helps alone: a minimum
 * cut over all places where a device could be, which is then a set that helps together. Why it is
 * right: docs/METHOD.md, 4. Cost: a search for each item of the way; the cut only when no single
 * place helps. */
#include "isolate.h"

#include "alloc.h"

#include <string.h>

/* Where a device could be added or made usable. @return false for what can't be one */
static bool remedy_for(const still_zone *zone, uint32_t comp, still_remedy *remedy)
{
    const still_comp *c = &zone->plant->comps[comp];
    if (still_opened_whole(zone->targets, comp)) return false;
    if (c->cls == STILL_CLASS_SPOOL) {
        *remedy = STILL_REMEDY_ADD_VALVE;
        return true;
    }
    if (zone->device_of[comp] != 0) {
        const still_device *d = &zone->devices[zone->device_of[comp] - 1];
        *remedy = STILL_REMEDY_RATING;
        return !d->holds[0] || !d->holds[1] || (d->n == 3 && !d->holds[2]);
    }
    if (c->cls != STILL_CLASS_VALVE || !still_kind_stops(c->kind)) return false;
    if (!still_by_hand(c))
        *remedy = STILL_REMEDY_DRIVE;
    else if (still_condition_now(zone->plant, zone->state, comp) != STILL_CONDITION_SOUND)
        *remedy = STILL_REMEDY_CONDITION;
    else
        *remedy = STILL_REMEDY_LOCKABLE;
    return true;
}

static bool reaches(still_trace *trace, uint32_t spared)
{
    return still_trace_find(trace, STILL_NONE, still_goal_blocker, spared) != STILL_NONE;
}

/* With its feeds known and lockable the pump at the end of the way could be taken inside. */
static bool feeds_help(still_trace *trace, uint32_t comp)
{
    uint8_t cls = trace->zone->plant->comps[comp].cls;
    if (cls != STILL_CLASS_PUMP && cls != STILL_CLASS_COMPRESSOR) return false;
    return !reaches(trace, comp);
}

/* If the end of the drawing is blind in truth, the plant file can say so. No advice where it says
 * the contrary. */
static bool blind_helps(still_trace *trace, uint32_t comp)
{
    const still_comp *c = &trace->zone->plant->comps[comp];
    if (c->cls != STILL_CLASS_LIMIT || c->dead != STILL_YESNO_NOT_SAID) return false;
    return !reaches(trace, comp);
}

static still_status single_helps(still_isolation *iso, still_trace *trace)
{
    const still_list *way = &iso->obstacle;
    uint8_t *ideal = still_calloc(iso->zone.plant->n_comps + 1, 1);
    iso->help = STILL_ARENA_NEW(&iso->arena, way->n + 1, still_iso_help);
    if (iso->help == NULL || ideal == NULL) {
        still_free(ideal);
        return STILL_E_NOMEM;
    }
    trace->ideal = ideal;
    /* Existing devices first, then places for new ones; nearest to the work first. */
    for (int pass = 0; pass < 2; pass++) {
        for (uint32_t i = way->n; i-- > 0;) {
            still_remedy remedy;
            if (!remedy_for(&iso->zone, way->items[i], &remedy)) continue;
            if ((remedy == STILL_REMEDY_ADD_VALVE) != (pass == 1)) continue;
            ideal[way->items[i]] = 1;
            if (!reaches(trace, STILL_NONE))
                iso->help[iso->n_help++] = (still_iso_help){way->items[i], remedy};
            ideal[way->items[i]] = 0;
        }
        if (pass == 0 && way->n > 0 && feeds_help(trace, way->items[0]))
            iso->help[iso->n_help++] = (still_iso_help){way->items[0], STILL_REMEDY_FEEDS};
    }
    trace->ideal = NULL;
    still_free(ideal);
    if (way->n > 1 && blind_helps(trace, way->items[0]))
        iso->help[iso->n_help++] = (still_iso_help){way->items[0], STILL_REMEDY_BLIND};
    return STILL_OK;
}

/* --- a set of places that helps together --------------------------------------------------------
 */

typedef struct places {
    still_net net;
    const still_zone *zone;
    uint32_t *comp_of; /* by edge: where a device could be, or STILL_NONE */
    size_t cap;
    uint32_t *node_of; /* by state: 1 + node, 0 = not reached for free */
    uint32_t n_nodes;
} places;

/* An edge between two states; one that is not reached for free takes no part. */
static still_status place(places *p, uint32_t from, uint32_t to, uint32_t cap, uint32_t comp)
{
    uint32_t a = p->node_of[from], b = p->node_of[to];
    if (a == 0 || b == 0 || a == b || cap == 0) return STILL_OK;
    if (!still_grow(&p->comp_of, &p->cap, p->net.n_edges + 1, sizeof p->comp_of[0]))
        return STILL_E_NOMEM;
    p->comp_of[p->net.n_edges] = comp;
    return still_net_add(&p->net, a - 1, b - 1, cap, 0);
}

static still_status place_end(places *p, uint32_t state, bool source)
{
    if (!still_grow(&p->comp_of, &p->cap, p->net.n_edges + 1, sizeof p->comp_of[0]))
        return STILL_E_NOMEM;
    p->comp_of[p->net.n_edges] = STILL_NONE;
    uint32_t node = p->node_of[state] - 1;
    return source ? still_net_add(&p->net, p->n_nodes, node, STILL_UNCUT, 0)
                  : still_net_add(&p->net, node, p->n_nodes + 1, STILL_UNCUT, 0);
}

/* A step that a device at `comp` could part: in this layer at the price of one, over it for free.
 */
static still_status place_step(places *p, uint32_t port, uint32_t to, uint32_t layer, uint32_t cap,
                               uint32_t comp)
{
    still_status status =
        place(p, still_trace_state(port, layer), still_trace_state(to, layer), cap, comp);
    if (status == STILL_OK && layer == 1 && comp != STILL_NONE)
        status =
            place(p, still_trace_state(port, 1), still_trace_state(to, 2), STILL_UNCUT, STILL_NONE);
    return status;
}

static still_status place_device(places *p, const still_device *d, uint32_t port, uint32_t layer)
{
    still_status status = STILL_OK;
    int near = 0;
    while (near < d->n && d->port[near] != port) near++;
    for (int far = 0; far < d->n && status == STILL_OK; far++) {
        if (far == near) continue;
        bool serves =
            still_device_serves(p->zone, d, (uint8_t)layer) && still_device_can_part(d, near, far);
        uint32_t cap = !serves ? STILL_UNCUT : d->holds[far] ? 0 : 1;
        status = place_step(p, port, d->port[far], layer, cap, d->comp);
    }
    return status;
}

static still_status place_state(places *p, uint32_t port, uint32_t layer)
{
    const still_zone *zone = p->zone;
    const still_plant *plant = zone->plant;
    uint32_t comp = plant->ports[port].comp, spool = plant->ports[port].spool;
    uint32_t state = still_trace_state(port, layer);
    still_status status = STILL_OK;
    still_remedy remedy;
    if (still_goal_blocker(zone, port, layer, STILL_NONE)) status = place_end(p, state, false);
    if (status == STILL_OK && still_opened_port(plant, zone->targets, port))
        status = place_end(p, state, true);
    if (status == STILL_OK && layer == 1)
        status = place(p, state, still_trace_state(port, 2), STILL_UNCUT, STILL_NONE);
    if (status == STILL_OK && spool != STILL_NONE) {
        uint32_t d = zone->device_of[spool];
        if (d != 0)
            status = place_device(p, &zone->devices[d - 1], port, layer);
        else
            status = place_step(p, port, still_port_across(plant, port), layer,
                                still_opened_whole(zone->targets, spool) ? STILL_UNCUT : 1, spool);
    }
    if (status != STILL_OK) return status;
    if (zone->device_of[comp] != 0)
        return place_device(p, &zone->devices[zone->device_of[comp] - 1], port, layer);
    bool may = remedy_for(zone, comp, &remedy);
    uint32_t k = 0, q;
    while (status == STILL_OK && (q = still_zone_next_joined(zone, port, &k)) != STILL_NONE)
        if (q != port)
            status = place_step(p, port, q, layer, may ? 1 : STILL_UNCUT, may ? comp : STILL_NONE);
    return status;
}

static still_status read_places(still_isolation *iso, const places *p, const still_flow *flow)
{
    still_status status = STILL_E_NOMEM;
    uint8_t *in = still_calloc(p->net.n_nodes, 1);
    iso->help = STILL_ARENA_NEW(&iso->arena, flow->value + 1, still_iso_help);
    if (in == NULL || iso->help == NULL) goto out;
    status = still_flow_close(flow, in, p->n_nodes, false);
    for (size_t e = 0; e < p->net.n_edges && status == STILL_OK; e++) {
        const still_net_edge *edge = &p->net.edges[e];
        if (!in[edge->a] || in[edge->b]) continue;
        still_remedy remedy;
        if (p->comp_of[e] == STILL_NONE || !remedy_for(&iso->zone, p->comp_of[e], &remedy)) {
            status = STILL_E_INTERNAL;
            break;
        }
        bool known = false;
        for (uint32_t i = 0; i < iso->n_help; i++)
            known = known || iso->help[i].comp == p->comp_of[e];
        if (!known && iso->n_help < flow->value)
            iso->help[iso->n_help++] = (still_iso_help){p->comp_of[e], remedy};
    }
    iso->help_is_set = iso->n_help > 1;
out:
    still_free(in);
    return status;
}

static bool nowhere(const still_zone *zone, uint32_t port, uint32_t layer, uint32_t arg)
{
    (void)zone, (void)port, (void)layer, (void)arg;
    return false;
}

static still_status joint_helps(still_isolation *iso, still_trace *trace)
{
    const still_zone *zone = &iso->zone;
    places p = {.zone = zone};
    still_flow flow = {0};
    still_status status = STILL_E_NOMEM;
    p.node_of = still_calloc(2 * (size_t)zone->plant->n_ports + 1, sizeof p.node_of[0]);
    if (p.node_of == NULL) goto out;
    still_trace_find(trace, STILL_NONE, nowhere, 0);
    for (size_t i = 0; i < zone->n_ports; i++)
        for (uint32_t layer = 1; layer <= 2; layer++)
            if (trace->stamp[still_trace_state(zone->ports[i], layer)] == trace->round)
                p.node_of[still_trace_state(zone->ports[i], layer)] = ++p.n_nodes;
    still_net_init(&p.net, p.n_nodes + 2);
    status = STILL_OK;
    for (size_t i = 0; i < zone->n_ports && status == STILL_OK; i++)
        for (uint32_t layer = 1; layer <= 2 && status == STILL_OK; layer++)
            if (p.node_of[still_trace_state(zone->ports[i], layer)] != 0)
                status = place_state(&p, zone->ports[i], layer);
    if (status == STILL_OK) status = still_flow_solve(&flow, &p.net, p.n_nodes, p.n_nodes + 1);
    if (status == STILL_OK && flow.cuttable) status = read_places(iso, &p, &flow);
out:
    still_flow_clear(&flow);
    still_net_clear(&p.net);
    still_free(p.comp_of);
    still_free(p.node_of);
    return status;
}

still_status still_find_obstacle(still_isolation *iso, still_trace *trace)
{
    uint32_t *list = NULL, *layers = NULL;
    size_t n = 0, cap = 0, layers_cap = 0;
    uint32_t state = still_trace_find(trace, STILL_NONE, still_goal_blocker, STILL_NONE);
    if (state == STILL_NONE) return STILL_E_INTERNAL;
    iso->blocker_port = state / 2;
    bool good = still_trace_append(trace, state, &list, &layers, &n, &cap, &layers_cap);
    if (good) {
        iso->obstacle.n = (uint32_t)n;
        iso->obstacle.items = STILL_ARENA_NEW(&iso->arena, n, uint32_t);
        good = iso->obstacle.items != NULL;
    }
    for (size_t i = 0; i < n && good; i++) iso->obstacle.items[i] = list[n - 1 - i];
    still_free(list);
    still_free(layers);
    if (!good) return STILL_E_NOMEM;
    still_status status = single_helps(iso, trace);
    if (status == STILL_OK && iso->n_help == 0) status = joint_helps(iso, trace);
    return status;
}

/* --- bleeds ------------------------------------------------------------------------------------
 */

/** Pipes that are tried, nearest to the work first; and how many are told. */
#define MOST_PIPES 60
#define MOST_TOLD 5

typedef struct bleed_help {
    uint32_t spool;
    uint64_t cost;
} bleed_help;

/* Pipes in the order in which pieces were reached from the work. */
static uint32_t near_pipes(const still_zone *zone, uint32_t *list)
{
    uint32_t n = 0;
    for (size_t i = 0; i < zone->n_ports && n < MOST_PIPES; i++) {
        uint32_t spool = zone->plant->ports[zone->ports[i]].spool;
        bool known = spool == STILL_NONE;
        for (uint32_t k = 0; k < n && !known; k++) known = list[k] == spool;
        if (!known) list[n++] = spool;
    }
    return n;
}

static still_status try_bleed(const still_zone *zone, uint32_t spool, bleed_help *list, uint32_t *n)
{
    still_layers layers = {0};
    still_search search = {0};
    still_status status = still_layers_build(&layers, zone);
    layers.extra_bleed = spool;
    layers.most_cases = STILL_FEW_CASES;
    layers.unproved = true;
    if (status == STILL_OK) status = still_search_run(&search, &layers, NULL);
    if (status == STILL_OK && search.feasible) {
        uint32_t at = *n;
        for (; at > 0 && list[at - 1].cost > search.best.cost; at--)
            if (at < MOST_TOLD) list[at] = list[at - 1];
        if (at < MOST_TOLD) list[at] = (bleed_help){spool, search.best.cost};
        if (*n < MOST_TOLD) ++*n;
    }
    still_search_clear(&search);
    still_layers_clear(&layers);
    return status;
}

still_status still_find_bleed_help(still_isolation *iso)
{
    still_zone zone = {0};
    uint32_t pipes[MOST_PIPES], n_found = 0;
    bleed_help found[MOST_TOLD];
    const still_zone *whole = &iso->zone;
    still_status status =
        still_zone_build(&zone, whole->plant, whole->state, whole->targets, whole->asked, false);
    uint32_t n = status == STILL_OK ? near_pipes(&zone, pipes) : 0;
    for (uint32_t i = 0; i < n && status == STILL_OK; i++)
        status = try_bleed(&zone, pipes[i], found, &n_found);
    iso->help = STILL_ARENA_NEW(&iso->arena, MOST_TOLD, still_iso_help);
    if (iso->help == NULL && status == STILL_OK) status = STILL_E_NOMEM;
    for (uint32_t i = 0; i < n_found && status == STILL_OK; i++)
        iso->help[iso->n_help++] = (still_iso_help){found[i].spool, STILL_REMEDY_BLEED};
    still_zone_clear(&zone);
    return status;
}
