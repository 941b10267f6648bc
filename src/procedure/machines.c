/* Pumps and compressors that would run against a closed way (P9).
 * Problem: a machine that can run must not lose its way from the outlet, nor to the inlet.
 * Method: breadth-first from each of its ports, in the direction of flow or against it, until a
 * vessel or a limit is met; once with self-acting and driven devices open, once with them shut,
 * since nobody holds them. Why it is right: what is a way in neither reading before is not taken
 * away by a move; what was one in either, and is none after, is lost. Assumes that check valves
 * pass forward alone. Cost: linear in what is walked. */
#include "machines.h"

#include "alloc.h"
#include "relief.h"

#include <string.h>

typedef struct walk {
    still_machines *m;
    const uint8_t *held;    /* NULL = nothing is held */
    const uint8_t *stopped; /* by component */
    bool before;            /* before the first move: nothing is stopped */
    bool acting_open; /* what may be open is: self-acting and driven devices, unknown positions */
    bool backward;    /* against the flow */
} walk;

/* Does a three-way valve stand so that it joins the two? Its ports are a, b and c, its ways such as
 * "a-c". */
static bool way_joins(const still_machines *m, uint32_t comp, uint32_t port, uint32_t to,
                      bool unknown)
{
    const char *way = still_way_now(m->plant, m->state, comp);
    if (way[0] == '\0') return unknown;
    uint32_t first = m->plant->comps[comp].a;
    return strchr(way, (int)('a' + (port - first))) != NULL &&
           strchr(way, (int)('a' + (to - first))) != NULL;
}

/* May fluid go through the device, entered at `port`? */
static bool passes(const walk *w, uint32_t comp, uint32_t port, uint32_t to)
{
    const still_plant *plant = w->m->plant;
    const still_comp *c = &plant->comps[comp];
    bool forward = (port == c->a) != w->backward;
    uint8_t held = w->held != NULL ? w->held[comp] : STILL_HELD_NOT;
    still_position now = still_position_now(plant, w->m->state, comp);
    bool open = now == STILL_POSITION_OPEN || now == STILL_POSITION_THROTTLED;
    bool stopped = !w->before && w->stopped != NULL && w->stopped[comp];
    if (w->acting_open && now == STILL_POSITION_UNKNOWN) open = true;
    if (c->cls == STILL_CLASS_PUMP || c->cls == STILL_CLASS_COMPRESSOR)
        return forward && w->acting_open && !stopped;
    if (c->cls == STILL_CLASS_BLIND) return held != STILL_HELD_CLOSED && open;
    if (c->cls != STILL_CLASS_VALVE) return true;
    if (held == STILL_HELD_CLOSED) return false;
    switch (c->kind) {
    case STILL_KIND_RELIEF:
    case STILL_KIND_RUPTURE_DISC: return false;
    case STILL_KIND_UNKNOWN:
    case 0: return w->acting_open;
    case STILL_KIND_CHECK: return forward;
    case STILL_KIND_THREE_WAY: return way_joins(w->m, comp, port, to, w->acting_open);
    default: break;
    }
    if (held == STILL_HELD_OPEN) return c->kind != STILL_KIND_STOP_CHECK || forward;
    if (!still_kind_stops(c->kind) || !still_by_hand(c))
        return w->acting_open && !stopped && now != STILL_POSITION_CLOSED;
    return open && (c->kind != STILL_KIND_STOP_CHECK || forward);
}

/* Is a vessel or a limit met from this port of a machine? */
static bool finds_end(const walk *w, uint32_t start)
{
    still_machines *m = w->m;
    const still_plant *plant = m->plant;
    size_t tail = 0;
    bool found = false;
    m->seen[start] = 1;
    m->queue[tail++] = start;
    for (size_t head = 0; head < tail && !found; head++) {
        uint32_t across = still_port_across(plant, m->queue[head]);
        if (across == STILL_NONE || m->seen[across]) continue;
        m->seen[across] = 1;
        m->queue[tail++] = across;
        uint32_t comp = plant->ports[across].comp;
        const still_comp *c = &plant->comps[comp];
        found = c->cls == STILL_CLASS_VESSEL ||
                (c->cls == STILL_CLASS_LIMIT && c->dead != STILL_YESNO_YES);
        if (found || c->cls == STILL_CLASS_CAP || c->cls == STILL_CLASS_OUTLET) continue;
        for (uint32_t i = 0; i < c->b; i++) {
            uint32_t q = c->a + i;
            if (m->seen[q] || !passes(w, comp, across, q)) continue;
            if (c->cls == STILL_CLASS_EXCHANGER &&
                still_port_side(plant, q) != still_port_side(plant, across))
                continue;
            m->seen[q] = 1;
            m->queue[tail++] = q;
        }
    }
    for (size_t i = 0; i < tail; i++) m->seen[m->queue[i]] = 0;
    return found;
}

static uint8_t ways_of(still_machines *m, uint32_t i, const walk *like, uint8_t wanted)
{
    const still_comp *c = &m->plant->comps[m->comps[i]];
    uint8_t ways = 0;
    for (int k = 0; k < 4; k++) {
        uint8_t bit = (uint8_t)(1u << k);
        walk w = *like;
        w.m = m;
        w.acting_open = k % 2 == 0;
        w.backward = k >= 2;
        if ((wanted & bit) != 0 && finds_end(&w, c->a + (w.backward ? 0 : 1))) ways |= bit;
    }
    return ways;
}

still_status still_machines_build(still_machines *m, const still_plant *plant,
                                  const still_state *state)
{
    *m = (still_machines){.plant = plant, .state = state};
    for (uint32_t c = 0; c < plant->n_comps; c++)
        m->n += plant->comps[c].cls == STILL_CLASS_PUMP ||
                plant->comps[c].cls == STILL_CLASS_COMPRESSOR;
    m->comps = still_calloc(m->n, sizeof m->comps[0]);
    m->before = still_calloc(m->n, 1);
    m->queue = still_calloc(m->n > 0 ? plant->n_ports : 0, sizeof m->queue[0]);
    m->seen = still_calloc(m->n > 0 ? plant->n_ports : 0, 1);
    if (!m->comps || !m->before || !m->queue || !m->seen) return STILL_E_NOMEM;
    uint32_t n = 0;
    for (uint32_t c = 0; c < plant->n_comps; c++)
        if (plant->comps[c].cls == STILL_CLASS_PUMP ||
            plant->comps[c].cls == STILL_CLASS_COMPRESSOR)
            m->comps[n++] = c;
    const walk like = {.before = true};
    for (uint32_t i = 0; i < n; i++) m->before[i] = ways_of(m, i, &like, 15);
    return STILL_OK;
}

void still_machines_clear(still_machines *m)
{
    still_free(m->comps);
    still_free(m->before);
    still_free(m->queue);
    still_free(m->seen);
    *m = (still_machines){0};
}

uint8_t still_machines_lost(still_machines *m, uint32_t i, const uint8_t *held,
                            const uint8_t *stopped)
{
    const walk like = {.held = held, .stopped = stopped};
    return m->before[i] & (uint8_t)~ways_of(m, i, &like, m->before[i]);
}
