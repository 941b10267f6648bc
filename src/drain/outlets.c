/* Outlets of a space, and which serves a compartment best (E2, E4, E5).
 * Problem: for each compartment, where to let pressure off, where to prove zero, where to drain.
 * Method: every outlet in the space is followed inward to the first port that does not lead outward
 * only (space.c); the devices on this way are what must be opened, the room of that port is what it
 * serves. Of the outlets that serve a room and are fit for a use by E4, the best is taken: the
 * fitting kind; for draining one that need not be held open, then the one that leaves least behind
 * (puddle.c); then the height of the place that it takes from; then its own height; then the id.
 * Why it is right: the way is found by search over real joints, so each device on it is named; an
 * outlet that others can pressurise is a source and so never inside the boundary. Cost: a search an
 * outlet. */
#include "outlets.h"

#include "alloc.h"
#include "puddle.h"

#include <math.h>
#include <string.h>

/* Drains of a room that are looked at: each is a flood over the space. */
enum { MOST_DRAINS = 16 };

/* In a cell that does not lead outward. */
bool still_outlets_core(const still_space *s, uint32_t port)
{
    return !s->outward[s->cell_of[port] - 1];
}

/* Where the way from an outlet inward ends: what the outlets serve; in a cell with an outlet of its
 * own, at the first thing that is more than pipework, so that open valves on the way are named too.
 */
static bool served(const still_space *s, uint32_t port)
{
    if (!still_outlets_core(s, port)) return false;
    return s->outlets[s->cell_of[port] - 1] == 0 ||
           still_space_anchors(s, s->plant->ports[port].comp) ||
           still_opened_port(s->plant, s->targets, port);
}

/* Breadth-first from an outlet to what it serves. @return a port there, or STILL_NONE */
static uint32_t inward_end(still_space *s, uint32_t start, still_pass pass)
{
    size_t tail = 0;
    s->round++;
    s->stamp[start] = s->round;
    s->parent[start] = STILL_NONE;
    s->queue[tail++] = start;
    for (size_t head = 0; head < tail; head++) {
        uint32_t port = s->queue[head], k = 0, q;
        if (served(s, port)) return port;
        while ((q = still_space_next(s, port, pass, &k)) != STILL_NONE) {
            if (s->stamp[q] == s->round) continue;
            s->stamp[q] = s->round;
            s->parent[q] = port;
            s->queue[tail++] = q;
        }
    }
    return STILL_NONE;
}

/* A valve that a person can move, and hold open with a lock or tag (E4). */
static bool held_by_hand(const still_space *s, uint32_t comp)
{
    const still_comp *c = &s->plant->comps[comp];
    still_condition now = still_condition_now(s->plant, s->state, comp);
    if (now == STILL_CONDITION_SEIZED || now == STILL_CONDITION_UNREACHABLE) return false;
    return still_kind_stops(c->kind) && c->kind != STILL_KIND_STOP_CHECK && still_by_hand(c);
}

static bool spell_way(still_arena *arena, const still_space *s, still_outlet *o, uint32_t end)
{
    uint32_t n = 0;
    for (uint32_t p = end; p != STILL_NONE; p = s->parent[p]) n++;
    o->way.items = STILL_ARENA_NEW(arena, n + 1, uint32_t);
    if (o->way.items == NULL) return false;
    for (uint32_t p = end; p != STILL_NONE; p = s->parent[p]) {
        uint32_t comp = s->plant->ports[p].comp, before = o->way.n;
        const still_comp *c = &s->plant->comps[comp];
        bool device = c->cls == STILL_CLASS_VALVE || c->cls == STILL_CLASS_BLIND || comp == o->comp;
        /* A device at the inner end, met only at its far port, is not on the way. */
        bool passed = comp == o->comp ||
                      (s->parent[p] != STILL_NONE && s->plant->ports[s->parent[p]].comp == comp);
        if (!device || !passed || (before > 0 && o->way.items[before - 1] == comp)) continue;
        o->way.items[o->way.n++] = comp;
        if (c->cls != STILL_CLASS_VALVE) continue;
        if (c->kind == STILL_KIND_SELF_CLOSING) o->self_closing = true;
        if (held_by_hand(s, comp)) o->hand_valve = true;
    }
    o->way.by_self_closing = o->self_closing;
    return true;
}

still_status still_outlets_list(still_outlets *out, still_space *s, still_arena *arena)
{
    size_t cap = 0;
    for (uint32_t i = 0; i < s->n_ports; i++) {
        uint32_t port = s->ports[i], comp = s->plant->ports[port].comp;
        if (s->plant->comps[comp].cls != STILL_CLASS_OUTLET) continue;
        if (!still_grow(&out->items, &cap, out->n + 1, sizeof out->items[0])) return STILL_E_NOMEM;
        still_outlet *o = &out->items[out->n++];
        *o = (still_outlet){.comp = comp, .port = port, .room = s->room_of[port] - 1};
        o->open = still_outlet_open(&s->plant->comps[comp]);
        uint32_t end = inward_end(s, port, STILL_PASS_ROOM);
        if (end == STILL_NONE) {
            /* Nothing but outlets in its own room: a self-closing valve may lead further in. */
            uint32_t beyond = inward_end(s, port, STILL_PASS_DRAIN);
            if (beyond != STILL_NONE) {
                end = beyond;
            } else {
                s->parent[port] = STILL_NONE;
                end = port;
            }
        }
        if (!spell_way(arena, s, o, end)) return STILL_E_NOMEM;
        o->room = s->room_of[end] - 1;
        o->from = end;
    }
    return STILL_OK;
}

typedef enum use { USE_VENT, USE_DRAIN, USE_PROVE } use;

/* E4: which outlet serves for what. Outlets of the space are not shared (N3). */
static bool fit_for(const still_space *s, const still_outlet *o, use what)
{
    if (what == USE_DRAIN) return o->hand_valve || o->self_closing || o->open;
    if (o->self_closing) return false;
    if (!o->hand_valve && !o->open) return false;
    if (what == USE_VENT) return true;
    return still_outlet_to_open(&s->plant->comps[o->comp]);
}

/* Higher (or lower) comes first, unknown last. @return < 0: a first */
static int by_height(double a, double b, bool low)
{
    if (isnan(a) || isnan(b)) return isnan(a) - isnan(b);
    if (!(a < b || a > b)) return 0;
    return (a < b) == low ? -1 : 1;
}

/* a is better than b for a use: the kind made for it, then the height of the place that it takes
 * from, then its own, then the id (E5). */
static bool better(const still_space *s, const still_outlet *a, const still_outlet *b, use what)
{
    const still_plant *plant = s->plant;
    uint8_t want = what == USE_DRAIN ? STILL_KIND_DRAIN : STILL_KIND_VENT;
    bool ka = plant->comps[a->comp].kind == want, kb = plant->comps[b->comp].kind == want;
    if (ka != kb) return ka;
    bool low = what == USE_DRAIN;
    int first = by_height(still_port_elevation_m(plant, a->from),
                          still_port_elevation_m(plant, b->from), low);
    if (first == 0)
        first = by_height(still_port_elevation_m(plant, a->port),
                          still_port_elevation_m(plant, b->port), low);
    if (first != 0) return first < 0;
    return strcmp(still_id_of(plant, a->comp), still_id_of(plant, b->comp)) < 0;
}

static const still_outlet *best_outlet(const still_space *s, const still_outlets *list,
                                       uint32_t room, use what)
{
    const still_outlet *best = NULL;
    for (size_t i = 0; i < list->n; i++) {
        const still_outlet *o = &list->items[i];
        if (o->room != room || !fit_for(s, o, what)) continue;
        if (best == NULL || better(s, o, best, what)) best = o;
    }
    return best;
}

/* Made as a drain; then, one that nobody has to hold open while it runs. */
static int suits(const still_space *s, const still_outlet *o)
{
    bool made = s->plant->comps[o->comp].kind == STILL_KIND_DRAIN;
    return (made ? 2 : 0) + (o->self_closing ? 0 : 1);
}

/* a is looked at before b. */
static bool before(const still_space *s, const still_outlet *a, const still_outlet *b)
{
    int more = suits(s, a) - suits(s, b);
    return more != 0 ? more > 0 : better(s, a, b, USE_DRAIN);
}

/* The next drain of a room to look at, after `last`; NULL = no more. */
static const still_outlet *next_drain(const still_space *s, const still_outlets *list,
                                      uint32_t room, const still_outlet *last)
{
    const still_outlet *next = NULL;
    for (size_t i = 0; i < list->n; i++) {
        const still_outlet *o = &list->items[i];
        if (o->room != room || !fit_for(s, o, USE_DRAIN)) continue;
        if (last != NULL && (o == last || before(s, o, last))) continue;
        if (next == NULL || before(s, o, next)) next = o;
    }
    return next;
}

/* The drain that leaves least behind, among those that suit best; of equal ones the first by
 * height. Fills what is left. Where there are very many, only the first are looked at. */
static still_status best_drain(still_room *room, uint32_t number, const still_outlets *list,
                               still_space *s, still_arena *arena, still_levels *levels,
                               const still_outlet **drain)
{
    const still_outlet *o = NULL;
    *drain = NULL;
    for (int tried = 0; tried < MOST_DRAINS; tried++) {
        o = next_drain(s, list, number, o);
        if (o == NULL || (*drain != NULL && suits(s, o) < suits(s, *drain))) break;
        still_room trial = *room;
        const still_drains one = {&o->port, &o->way, 1};
        still_status status = still_puddles_find(&trial, arena, s, levels, &one);
        if (status != STILL_OK) return status;
        if (*drain != NULL && still_puddles_compare(&trial, room) >= 0) continue;
        *drain = o;
        *room = trial;
    }
    return STILL_OK;
}

/* Does liquid of a vessel of the room stand above this port, as far as its filling tells? Without a
 * filling it is full to its highest port; a lying drum that is little filled stands somewhat higher
 * than its share. */
static bool under_liquid(const still_space *s, const still_room *room, uint32_t port)
{
    const still_plant *plant = s->plant;
    double height = still_port_elevation_m(plant, port);
    for (uint32_t i = 0; i < room->n_ids && !isnan(height); i++) {
        const still_comp *c = &plant->comps[room->ids[i]];
        if (c->cls != STILL_CLASS_VESSEL) continue;
        still_contents in = still_contents_now(plant, s->state, room->ids[i]);
        if (in == STILL_CONTENTS_NONE || in == STILL_CONTENTS_VAPOUR) continue;
        double low = (double)INFINITY, high = -(double)INFINITY;
        for (uint32_t k = 0; k < c->b; k++) {
            double at = still_port_elevation_m(plant, c->a + k);
            if (isnan(at)) continue;
            low = fmin(low, at);
            high = fmax(high, at);
        }
        double fill = still_comp_q(plant, room->ids[i], STILL_Q_FILL);
        double share = in == STILL_CONTENTS_TWO_PHASE && !isnan(fill) ? fmin(1, fill + 0.1) : 1;
        if (high > low && height < low + share * (high - low) - STILL_LEVEL_TOLERANCE_M)
            return true;
    }
    return false;
}

/* Another outlet by which air or vapour comes in above the drain (E2). */
static uint32_t air_in(const still_space *s, const still_room *served, const still_outlets *list,
                       uint32_t room, const still_outlet *drain)
{
    const still_outlet *best = NULL;
    double level = still_port_elevation_m(s->plant, drain->port);
    for (size_t i = 0; i < list->n; i++) {
        const still_outlet *o = &list->items[i];
        if (o->room != room || o == drain || !fit_for(s, o, USE_VENT)) continue;
        if (!(still_port_elevation_m(s->plant, o->from) > level + STILL_LEVEL_TOLERANCE_M) ||
            under_liquid(s, served, o->from))
            continue;
        if (best == NULL || better(s, o, best, USE_VENT)) best = o;
    }
    return best == NULL ? STILL_NONE : best->comp;
}

/* Another drain whose stub lies in a pocket: the pocket runs out there. */
static const still_outlet *drain_of_pocket(const still_room *room, uint32_t number,
                                           const still_outlets *list, const still_space *s,
                                           const still_drains *used)
{
    const still_outlet *best = NULL;
    for (size_t i = 0; i < list->n; i++) {
        const still_outlet *o = &list->items[i];
        bool here = false, known = false;
        if (o->room != number || !fit_for(s, o, USE_DRAIN)) continue;
        for (uint32_t k = 0; k < used->n; k++) known = known || used->outlets[k] == o->port;
        for (size_t k = 0; k < room->n_puddles && !known; k++)
            for (uint32_t n = 0; n < room->puddles[k].n_ids; n++)
                here = here || room->puddles[k].ids[n] == o->comp;
        if (here && (best == NULL || better(s, o, best, USE_DRAIN))) best = o;
    }
    return best;
}

/* Further drains, one after the other, until no pocket is left that has one. */
static still_status add_drains(still_room *room, uint32_t number, const still_outlets *list,
                               still_space *s, still_arena *arena, still_levels *levels,
                               const still_outlet *first)
{
    still_outway *ways = STILL_ARENA_NEW(arena, list->n, still_outway);
    uint32_t *outlets = STILL_ARENA_NEW(arena, list->n, uint32_t);
    still_drains drains = {outlets, ways, 1};
    if (ways == NULL || outlets == NULL) return STILL_E_NOMEM;
    ways[0] = first->way;
    outlets[0] = first->port;
    for (;;) {
        const still_outlet *o = drain_of_pocket(room, number, list, s, &drains);
        if (o == NULL) break;
        ways[drains.n] = o->way;
        outlets[drains.n++] = o->port;
        still_status status = still_puddles_find(room, arena, s, levels, &drains);
        if (status != STILL_OK) return status;
    }
    room->further = ways + 1;
    room->n_further = drains.n - 1;
    return STILL_OK;
}

still_status still_outlets_serve(still_room *room, uint32_t number, const still_outlets *list,
                                 still_space *s, still_arena *arena, still_levels *levels)
{
    const still_outlet *vent = best_outlet(s, list, number, USE_VENT), *drain = NULL;
    const still_outlet *prove = best_outlet(s, list, number, USE_PROVE);
    room->air_in = STILL_NONE;
    if (vent != NULL) room->vent = vent->way;
    if (prove != NULL) room->prove = prove->way;
    if (!room->liquid) return STILL_OK;
    still_status status = best_drain(room, number, list, s, arena, levels, &drain);
    if (status != STILL_OK || drain == NULL) return status;
    room->drain = drain->way;
    room->air_in = air_in(s, room, list, number, drain);
    room->vent_wet = vent != NULL && (vent == drain || under_liquid(s, room, vent->from));
    return add_drains(room, number, list, s, arena, levels, drain);
}
