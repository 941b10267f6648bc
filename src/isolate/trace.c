#include "trace.h"

#include "alloc.h"

bool still_trace_init(still_trace *t, const still_zone *zone)
{
    size_t n = zone->plant->n_ports;
    *t = (still_trace){.zone = zone, .barred = STILL_NONE};
    t->stamp = still_calloc(n, sizeof t->stamp[0]);
    t->parent = still_calloc(n, sizeof t->parent[0]);
    t->queue = still_calloc(n, sizeof t->queue[0]);
    return t->stamp != NULL && t->parent != NULL && t->queue != NULL;
}

void still_trace_clear(still_trace *t)
{
    still_free(t->stamp);
    still_free(t->parent);
    still_free(t->queue);
    *t = (still_trace){0};
}

bool still_goal_port(const still_zone *zone, uint32_t port, uint32_t arg)
{
    (void)zone;
    return port == arg;
}

bool still_goal_comp(const still_zone *zone, uint32_t port, uint32_t arg)
{
    return zone->plant->ports[port].comp == arg || zone->plant->ports[port].spool == arg;
}

bool still_goal_blocker(const still_zone *zone, uint32_t port, uint32_t arg)
{
    uint32_t comp = zone->plant->ports[port].comp;
    if (still_port_dangles(zone->plant, port)) return true;
    uint8_t cls = zone->plant->comps[comp].cls;
    if (comp == arg) return false;
    if (comp == zone->target && cls != STILL_CLASS_LIMIT && cls != STILL_CLASS_OUTLET) return false;
    return still_source_of(zone->plant, zone->state, comp) == STILL_SOURCE_FIXED;
}

bool still_goal_source(const still_zone *zone, uint32_t port, uint32_t arg)
{
    uint32_t comp = zone->plant->ports[port].comp;
    (void)arg;
    return still_port_dangles(zone->plant, port) ||
           still_source_of(zone->plant, zone->state, comp) != STILL_SOURCE_NONE;
}

static void visit(still_trace *t, size_t *tail, uint32_t port, uint32_t from)
{
    if (t->stamp[port] == t->round) return;
    t->stamp[port] = t->round;
    t->parent[port] = from;
    t->queue[(*tail)++] = port;
}

/* Other ports that the component at a port joins to it; a device only in its weak direction. */
static void visit_joined(still_trace *t, size_t *tail, uint32_t port)
{
    const still_zone *zone = t->zone;
    uint32_t comp = zone->plant->ports[port].comp;
    if (comp == t->barred) return;
    uint32_t k = 0, q;
    if (zone->device_of[comp] != 0) {
        const still_device *d = &zone->devices[zone->device_of[comp] - 1];
        int other = port == d->port[0] ? 1 : 0;
        if (t->cross_weak && d->piece[other] != STILL_NONE && !d->holds[other])
            visit(t, tail, d->port[other], port);
        return;
    }
    while ((q = still_zone_next_joined(zone, port, &k)) != STILL_NONE) visit(t, tail, q, port);
}

uint32_t still_trace_find(still_trace *t, uint32_t first, uint32_t n, still_goal goal, uint32_t arg)
{
    size_t tail = 0;
    t->round++;
    for (uint32_t i = 0; i < n; i++) visit(t, &tail, first + i, STILL_NONE);
    for (size_t head = 0; head < tail; head++) {
        uint32_t port = t->queue[head];
        if (goal(t->zone, port, arg)) return port;
        visit_joined(t, &tail, port);
        uint32_t spool = t->zone->plant->ports[port].spool;
        if (spool != STILL_NONE && spool != t->barred)
            visit(t, &tail, still_port_across(t->zone->plant, port), port);
    }
    return STILL_NONE;
}

static bool push(uint32_t comp, uint32_t **list, size_t *n, size_t *cap)
{
    if (*n > 0 && (*list)[*n - 1] == comp) return true;
    if (!still_grow(list, cap, *n + 1, sizeof **list)) return false;
    (*list)[(*n)++] = comp;
    return true;
}

bool still_trace_append(const still_trace *t, uint32_t goal, uint32_t **list, size_t *n,
                        size_t *cap)
{
    const still_plant *plant = t->zone->plant;
    /* Ports from goal back to start, turned round in the queue's room (its content is spent). */
    size_t len = 0;
    for (uint32_t p = goal; p != STILL_NONE; p = t->parent[p]) t->queue[len++] = p;
    for (size_t i = len; i-- > 0;) {
        uint32_t port = t->queue[i];
        if (!push(plant->ports[port].comp, list, n, cap)) return false;
        if (i == 0) break;
        uint32_t next = t->queue[i - 1];
        if (plant->ports[port].comp == plant->ports[next].comp &&
            still_port_across(plant, port) != next)
            continue;
        if (still_port_across(plant, port) == next && !push(plant->ports[port].spool, list, n, cap))
            return false;
    }
    return true;
}
