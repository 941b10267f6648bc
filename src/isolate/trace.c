#include "trace.h"

#include "alloc.h"

bool still_trace_init(still_trace *t, const still_zone *zone)
{
    size_t n = 2 * (size_t)zone->plant->n_ports + 1;
    *t = (still_trace){.zone = zone};
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

/* Highest layer at a port. */
static uint32_t layers_at(const still_zone *zone, uint32_t port)
{
    return still_grade_layers(still_asked_at(zone->asked, port));
}

bool still_goal_state(const still_zone *zone, uint32_t port, uint32_t layer, uint32_t arg)
{
    (void)zone;
    return still_trace_state(port, layer) == arg;
}

bool still_goal_comp(const still_zone *zone, uint32_t port, uint32_t layer, uint32_t arg)
{
    /* A pump or compressor is stopped as soon as it is enclosed, all else only with the work. */
    uint8_t cls = zone->plant->comps[arg].cls;
    bool machine = (cls == STILL_CLASS_PUMP || cls == STILL_CLASS_COMPRESSOR) &&
                   still_zone_source(zone, arg) != STILL_SOURCE_NONE;
    if (layer != 1 && !machine) return false;
    return zone->plant->ports[port].comp == arg || zone->plant->ports[port].spool == arg;
}

bool still_goal_blocker(const still_zone *zone, uint32_t port, uint32_t layer, uint32_t arg)
{
    uint32_t comp = zone->plant->ports[port].comp;
    if (layer > layers_at(zone, port)) return false;
    if (still_port_dangles(zone->plant, port)) return true;
    return comp != arg && still_zone_source(zone, comp) == STILL_SOURCE_FIXED;
}

bool still_goal_source(const still_zone *zone, uint32_t port, uint32_t layer, uint32_t arg)
{
    (void)arg;
    if (!zone->pieces[zone->piece_of_port[port] - 1].wall || layer > layers_at(zone, port))
        return false;
    return still_port_dangles(zone->plant, port) ||
           still_zone_source(zone, zone->plant->ports[port].comp) != STILL_SOURCE_NONE;
}

static void visit(still_trace *t, size_t *tail, uint32_t port, uint32_t layer, uint32_t from)
{
    uint32_t state = still_trace_state(port, layer);
    if (t->zone->piece_of_port[port] == 0 || t->stamp[state] == t->round) return;
    if (layer > layers_at(t->zone, port)) return;
    t->stamp[state] = t->round;
    t->parent[state] = from;
    t->queue[(*tail)++] = state;
}

static bool is_ideal(const still_trace *t, uint32_t comp)
{
    return t->ideal != NULL && t->ideal[comp];
}

/* Across a device, from its side `near`. */
static void visit_device(still_trace *t, size_t *tail, const still_device *d, int near,
                         uint32_t layer, uint32_t from)
{
    /* Beyond a wall nothing has been looked at: its devices are not settled. */
    if (d->piece[near] == STILL_NONE || t->zone->pieces[d->piece[near]].wall) return;
    for (int far = 0; far < d->n; far++) {
        if (far == near || d->piece[far] == STILL_NONE) continue;
        visit(t, tail, d->port[far], layer + 1, from);
        bool cut = d->holds[far] && still_device_can_part(d, near, far) &&
                   still_device_serves(t->zone, d, (uint8_t)layer);
        if (!cut && !is_ideal(t, d->comp)) visit(t, tail, d->port[far], layer, from);
    }
}

/* Other ports that the component at a port joins to it. */
static void visit_joined(still_trace *t, size_t *tail, uint32_t port, uint32_t layer, uint32_t from)
{
    const still_zone *zone = t->zone;
    uint32_t comp = zone->plant->ports[port].comp, k = 0, q;
    if (zone->device_of[comp] != 0) {
        const still_device *d = &zone->devices[zone->device_of[comp] - 1];
        for (int near = 0; near < d->n; near++)
            if (d->port[near] == port) visit_device(t, tail, d, near, layer, from);
        return;
    }
    uint32_t to = is_ideal(t, comp) ? layer + 1 : layer;
    while ((q = still_zone_next_joined(zone, port, &k)) != STILL_NONE) visit(t, tail, q, to, from);
}

static void visit_spool(still_trace *t, size_t *tail, uint32_t port, uint32_t layer, uint32_t from)
{
    const still_zone *zone = t->zone;
    uint32_t spool = zone->plant->ports[port].spool;
    if (spool == STILL_NONE) return;
    if (zone->device_of[spool] != 0) {
        const still_device *d = &zone->devices[zone->device_of[spool] - 1];
        visit_device(t, tail, d, d->port[0] == port ? 0 : 1, layer, from);
        return;
    }
    visit(t, tail, still_port_across(zone->plant, port), is_ideal(t, spool) ? layer + 1 : layer,
          from);
}

static void visit_work(still_trace *t, size_t *tail)
{
    const still_zone *zone = t->zone;
    for (uint32_t layer = 1; layer <= 2; layer++)
        for (size_t i = 0; i < zone->n_ports; i++)
            if (still_opened_port(zone->plant, zone->targets, zone->ports[i]))
                visit(t, tail, zone->ports[i], layer, STILL_NONE);
}

uint32_t still_trace_find(still_trace *t, uint32_t from, still_goal goal, uint32_t arg)
{
    size_t tail = 0;
    t->round++;
    if (from != STILL_NONE)
        visit(t, &tail, from / 2, from % 2 + 1, STILL_NONE);
    else
        visit_work(t, &tail);
    for (size_t head = 0; head < tail; head++) {
        uint32_t state = t->queue[head], port = state / 2, layer = state % 2 + 1;
        if (goal(t->zone, port, layer, arg)) return state;
        visit_joined(t, &tail, port, layer, state);
        /* Any rise within a piece is free (METHOD 4). */
        if (layer == 1 && !t->zone->pieces[t->zone->piece_of_port[port] - 1].wall)
            visit(t, &tail, port, 2, state);
        visit_spool(t, &tail, port, layer, state);
    }
    return STILL_NONE;
}

typedef struct lists {
    uint32_t **comps, **layers;
    size_t *n, *cap, *layers_cap;
} lists;

static bool push(lists *l, uint32_t comp, uint32_t layer)
{
    if (*l->n > 0 && (*l->comps)[*l->n - 1] == comp) return true;
    if (!still_grow(l->comps, l->cap, *l->n + 1, sizeof **l->comps)) return false;
    if (!still_grow(l->layers, l->layers_cap, *l->n + 1, sizeof **l->layers)) return false;
    (*l->comps)[*l->n] = comp;
    (*l->layers)[(*l->n)++] = layer;
    return true;
}

bool still_trace_append(const still_trace *t, uint32_t goal, uint32_t **comps, uint32_t **layers,
                        size_t *n, size_t *cap, size_t *layers_cap)
{
    const still_plant *plant = t->zone->plant;
    lists l = {comps, layers, n, cap, layers_cap};
    /* States from goal back to start, turned round in the queue's room (its content is spent). */
    size_t len = 0;
    for (uint32_t s = goal; s != STILL_NONE; s = t->parent[s]) t->queue[len++] = s;
    for (size_t i = len; i-- > 0;) {
        uint32_t port = t->queue[i] / 2, layer = t->queue[i] % 2 + 1;
        if (!push(&l, plant->ports[port].comp, layer)) return false;
        if (i == 0) break;
        uint32_t next = t->queue[i - 1] / 2;
        if (plant->ports[port].comp == plant->ports[next].comp &&
            still_port_across(plant, port) != next)
            continue;
        if (still_port_across(plant, port) == next && !push(&l, plant->ports[port].spool, layer))
            return false;
    }
    return true;
}
