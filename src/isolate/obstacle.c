/* The obstacle (I6).
 * Problem: no plan exists; say along which way, and where one device more would make it possible.
 * Method: the nearest source that can't be kept out, by breadth-first search through all that does
 * not hold. An item helps by itself when no such source is reached once it is closed; such an item
 * lies on every way, so only items of this one need a trial. If none helps alone: a minimum cut
 * over all places where a device could be, which is then a set that helps together. Why it is
 * right: docs/METHOD.md, 4. Cost: a search for each item of the way; the cut only when no single
 * place helps. */
#include "isolate.h"

#include "alloc.h"

#include <string.h>

/* Where a device could be added or made usable. @return false for what can't be one */
static bool remedy_for(const still_zone *zone, uint32_t comp, still_remedy *remedy)
{
    const still_comp *c = &zone->plant->comps[comp];
    if (comp == zone->target) return false;
    if (c->cls == STILL_CLASS_SPOOL) {
        *remedy = STILL_REMEDY_ADD_VALVE;
        return true;
    }
    if (zone->device_of[comp] != 0) {
        *remedy = STILL_REMEDY_RATING;
        return true;
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

static bool helps_alone(still_trace *trace, uint32_t comp)
{
    const still_comp *target = &trace->zone->plant->comps[trace->zone->target];
    trace->barred = comp;
    uint32_t found = still_trace_find(trace, target->a, target->b, still_goal_blocker, STILL_NONE);
    trace->barred = STILL_NONE;
    return found == STILL_NONE;
}

/* With its feeds known and lockable the pump at the end of the way could be taken inside. */
static bool feeds_help(still_trace *trace, uint32_t comp)
{
    const still_plant *plant = trace->zone->plant;
    const still_comp *target = &plant->comps[trace->zone->target];
    if (plant->comps[comp].cls != STILL_CLASS_PUMP &&
        plant->comps[comp].cls != STILL_CLASS_COMPRESSOR)
        return false;
    return still_trace_find(trace, target->a, target->b, still_goal_blocker, comp) == STILL_NONE;
}

/* If the end of the drawing is blind in truth, the plant file can say so. No advice where it says
 * the contrary. */
static bool blind_helps(still_trace *trace, uint32_t comp)
{
    const still_plant *plant = trace->zone->plant;
    const still_comp *c = &plant->comps[comp], *target = &plant->comps[trace->zone->target];
    if (c->cls != STILL_CLASS_LIMIT || c->dead != STILL_YESNO_NOT_SAID) return false;
    return still_trace_find(trace, target->a, target->b, still_goal_blocker, comp) == STILL_NONE;
}

static still_status single_helps(still_isolation *iso, still_trace *trace)
{
    const still_list *way = &iso->obstacle;
    iso->help = STILL_ARENA_NEW(&iso->arena, way->n + 1, still_iso_help);
    if (iso->help == NULL) return STILL_E_NOMEM;
    /* Existing devices first, then places for new ones; nearest to the work first. */
    for (int pass = 0; pass < 2; pass++) {
        for (uint32_t i = way->n; i-- > 0;) {
            still_remedy remedy;
            if (!remedy_for(&iso->zone, way->items[i], &remedy)) continue;
            if ((remedy == STILL_REMEDY_ADD_VALVE) != (pass == 1)) continue;
            if (!helps_alone(trace, way->items[i])) continue;
            iso->help[iso->n_help++] = (still_iso_help){way->items[i], remedy};
        }
        if (pass == 0 && way->n > 0 && feeds_help(trace, way->items[0]))
            iso->help[iso->n_help++] = (still_iso_help){way->items[0], STILL_REMEDY_FEEDS};
    }
    if (way->n > 1 && blind_helps(trace, way->items[0]))
        iso->help[iso->n_help++] = (still_iso_help){way->items[0], STILL_REMEDY_BLIND};
    return STILL_OK;
}

typedef struct places {
    still_net net;
    uint32_t *comp_of; /* by edge: where a device could be, or STILL_NONE */
    size_t cap;
    uint32_t *node_of; /* by port: 1 + node */
    uint32_t n_nodes;
} places;

static still_status place(places *p, uint32_t a, uint32_t b, uint32_t cap_ab, uint32_t cap_ba,
                          uint32_t comp)
{
    if (!still_grow(&p->comp_of, &p->cap, p->net.n_edges + 1, sizeof p->comp_of[0]))
        return STILL_E_NOMEM;
    p->comp_of[p->net.n_edges] = comp;
    return still_net_add(&p->net, a, b, cap_ab, cap_ba);
}

/* Edges at one port: its spool, its component's other ports, the source that stands there. */
static still_status place_port(places *p, const still_zone *zone, uint32_t port)
{
    const still_plant *plant = zone->plant;
    uint32_t comp = plant->ports[port].comp, across = still_port_across(plant, port);
    uint32_t here = p->node_of[port] - 1;
    still_status status = STILL_OK;
    still_remedy remedy;
    if (across != STILL_NONE && across > port)
        status = place(p, here, p->node_of[across] - 1, 1, 1, plant->ports[port].spool);
    if (status == STILL_OK && still_goal_blocker(zone, port, STILL_NONE))
        status = place(p, here, p->n_nodes + 1, STILL_UNCUT, STILL_UNCUT, STILL_NONE);
    if (status == STILL_OK && comp == zone->target)
        return place(p, p->n_nodes, here, STILL_UNCUT, STILL_UNCUT, STILL_NONE);
    if (zone->device_of[comp] != 0) {
        const still_device *d = &zone->devices[zone->device_of[comp] - 1];
        if (port != d->port[0] || p->node_of[d->port[1]] == 0 || status != STILL_OK) return status;
        return place(p, here, p->node_of[d->port[1]] - 1, d->holds[1] ? 0 : 1, d->holds[0] ? 0 : 1,
                     comp);
    }
    bool may = remedy_for(zone, comp, &remedy);
    uint32_t k = 0, q;
    while (status == STILL_OK && (q = still_zone_next_joined(zone, port, &k)) != STILL_NONE) {
        if (q <= port) continue;
        uint32_t cap = may ? 1 : STILL_UNCUT;
        status = place(p, here, p->node_of[q] - 1, cap, cap, may ? comp : STILL_NONE);
        if (!may) break; /* a chain through the ports is enough */
    }
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
        bool out_ab = in[edge->a] && !in[edge->b] && edge->cap_ab != 0;
        bool out_ba = in[edge->b] && !in[edge->a] && edge->cap_ba != 0;
        if (!out_ab && !out_ba) continue;
        still_remedy remedy;
        if (p->comp_of[e] == STILL_NONE || !remedy_for(&iso->zone, p->comp_of[e], &remedy) ||
            iso->n_help >= flow->value) {
            status = STILL_E_INTERNAL;
            break;
        }
        iso->help[iso->n_help++] = (still_iso_help){p->comp_of[e], remedy};
    }
    iso->help_is_set = iso->n_help > 1;
out:
    still_free(in);
    return status;
}

static still_status joint_helps(still_isolation *iso)
{
    const still_zone *zone = &iso->zone;
    places p = {0};
    still_flow flow = {0};
    still_status status = STILL_E_NOMEM;
    p.node_of = still_calloc(zone->plant->n_ports, sizeof p.node_of[0]);
    if (p.node_of == NULL) goto out;
    for (size_t i = 0; i < zone->n_ports; i++)
        if (zone->pieces[zone->piece_of_port[zone->ports[i]] - 1].forced)
            p.node_of[zone->ports[i]] = ++p.n_nodes;
    still_net_init(&p.net, p.n_nodes + 2);
    status = STILL_OK;
    for (size_t i = 0; i < zone->n_ports && status == STILL_OK; i++)
        if (p.node_of[zone->ports[i]] != 0) status = place_port(&p, zone, zone->ports[i]);
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
    const still_comp *target = &iso->zone.plant->comps[iso->zone.target];
    uint32_t *list = NULL;
    size_t n = 0, cap = 0;
    trace->cross_weak = true;
    iso->blocker_port =
        still_trace_find(trace, target->a, target->b, still_goal_blocker, STILL_NONE);
    if (iso->blocker_port == STILL_NONE) return STILL_E_INTERNAL;
    if (!still_trace_append(trace, iso->blocker_port, &list, &n, &cap)) {
        still_free(list);
        return STILL_E_NOMEM;
    }
    iso->obstacle.n = (uint32_t)n;
    iso->obstacle.items = STILL_ARENA_NEW(&iso->arena, n, uint32_t);
    for (size_t i = 0; i < n && iso->obstacle.items != NULL; i++)
        iso->obstacle.items[i] = list[n - 1 - i];
    still_free(list);
    if (iso->obstacle.items == NULL) return STILL_E_NOMEM;
    still_status status = single_helps(iso, trace);
    if (status == STILL_OK && iso->n_help == 0) status = joint_helps(iso);
    return status;
}
