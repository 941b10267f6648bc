/* Compartments and their outlets (E1, E2, E4).
 * Problem: for each compartment, where to let pressure off, where to prove zero, where to drain.
 * Method: every outlet in the space is followed inward to the first port that does not lead outward
 * only (space.c); the devices on this way are what must be opened, the room of that port is what it
 * serves. Of the outlets that serve a room and are fit for a use by E4, the best is taken: the
 * fitting kind, then the height, then the id. Why it is right: the way is found by search over real
 * joints, so each device on it is named; an outlet that others can pressurise is a source and so
 * never inside the boundary. Cost: a search an outlet. */
#include "rooms.h"

#include "alloc.h"
#include "inventory.h"
#include "puddle.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* An outlet of the space and the way to it. */
typedef struct outlet {
    uint32_t comp, port, room;
    still_outway way;
    bool hand_valve, self_closing, open;
} outlet;

/* In a cell that does not lead outward. */
static bool core(const still_space *s, uint32_t port)
{
    return !s->outward[s->cell_of[port] - 1];
}

/* Where the way from an outlet inward ends: what the outlets serve; in a cell with an outlet of its
 * own, at the first thing that is more than pipework, so that open valves on the way are named too.
 */
static bool served(const still_space *s, uint32_t port)
{
    if (!core(s, port)) return false;
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

static bool spell_way(still_arena *arena, const still_space *s, outlet *o, uint32_t end)
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

static still_status list_outlets(still_space *s, still_arena *arena, outlet **list, size_t *n)
{
    size_t cap = 0;
    for (uint32_t i = 0; i < s->n_ports; i++) {
        uint32_t port = s->ports[i], comp = s->plant->ports[port].comp;
        if (s->plant->comps[comp].cls != STILL_CLASS_OUTLET) continue;
        if (!still_grow(list, &cap, *n + 1, sizeof **list)) return STILL_E_NOMEM;
        outlet *o = &(*list)[(*n)++];
        *o = (outlet){.comp = comp, .port = port, .room = s->room_of[port] - 1};
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
    }
    return STILL_OK;
}

typedef enum use { USE_VENT, USE_DRAIN, USE_PROVE } use;

/* E4: which outlet serves for what. Outlets of the space are not shared (N3). */
static bool fit_for(const still_space *s, const outlet *o, use what)
{
    const still_comp *c = &s->plant->comps[o->comp];
    if (what == USE_DRAIN) return o->hand_valve || o->self_closing || o->open;
    if (o->self_closing) return false;
    if (!o->hand_valve && !o->open) return false;
    if (what == USE_VENT) return true;
    return c->leads_to == STILL_LEADS_SAFE_PLACE || c->leads_to == STILL_LEADS_FLARE_OR_SCRUBBER;
}

/* a is better than b for a use: the kind made for it, then the height, then the id. */
static bool better(const still_space *s, const outlet *a, const outlet *b, use what)
{
    uint8_t want = what == USE_DRAIN ? STILL_KIND_DRAIN : STILL_KIND_VENT;
    bool ka = s->plant->comps[a->comp].kind == want, kb = s->plant->comps[b->comp].kind == want;
    if (ka != kb) return ka;
    double ea = still_port_elevation_m(s->plant, a->port);
    double eb = still_port_elevation_m(s->plant, b->port);
    if (isnan(ea) != isnan(eb)) return !isnan(ea);
    if (ea < eb || ea > eb) return what == USE_DRAIN ? ea < eb : ea > eb;
    return strcmp(still_id_of(s->plant, a->comp), still_id_of(s->plant, b->comp)) < 0;
}

static const outlet *best_outlet(const still_space *s, const outlet *list, size_t n, uint32_t room,
                                 use what)
{
    const outlet *best = NULL;
    for (size_t i = 0; i < n; i++) {
        if (list[i].room != room || !fit_for(s, &list[i], what)) continue;
        if (best == NULL || better(s, &list[i], best, what)) best = &list[i];
    }
    return best;
}

static bool in_room(const still_space *s, const still_room *room, uint32_t comp)
{
    for (uint32_t i = 0; i < room->n_ids; i++)
        if (room->ids[i] == comp) return true;
    (void)s;
    return false;
}

/* A pressure gauge proves something only through a root valve that is known and can be opened. */
static uint32_t gauge_of(const still_space *s, const still_room *room)
{
    const still_plant *plant = s->plant;
    uint32_t best = STILL_NONE;
    for (uint32_t g = 0; g < plant->n_gauges; g++) {
        const still_gauge *gauge = &plant->gauges[g];
        if (gauge->kind != STILL_GAUGE_PRESSURE || gauge->via == STILL_NONE) continue;
        still_passage passage = still_passage_of(plant, s->state, gauge->via);
        if (passage != STILL_PASSAGE_JOINS && passage != STILL_PASSAGE_OPEN_IT) continue;
        if (!in_room(s, room, gauge->on) || !in_room(s, room, gauge->via)) continue;
        if (best == STILL_NONE ||
            strcmp(still_text(plant, gauge->id), still_text(plant, plant->gauges[best].id)) < 0)
            best = g;
    }
    return best;
}

static int by_number(const void *pa, const void *pb)
{
    uint32_t a = *(const uint32_t *)pa, b = *(const uint32_t *)pb;
    return a < b ? -1 : a > b;
}

/* A device that parts rooms, or a point: it has a port outside the space. */
static bool bounds(const still_space *s, uint32_t comp)
{
    const still_comp *c = &s->plant->comps[comp];
    if (c->cls != STILL_CLASS_VALVE && c->cls != STILL_CLASS_BLIND) return false;
    for (uint32_t i = 0; i < c->b; i++)
        if (!s->work_port[c->a + i]) return true;
    if (s->shut != NULL && s->shut[comp]) return true;
    return s->barred[comp] || still_passage_of(s->plant, s->state, comp) == STILL_PASSAGE_PARTS;
}

/* Components, volume and mass of a room from its ports. */
static still_status fill_room(still_space *s, still_arena *arena, still_room *room, uint8_t *taken)
{
    const still_plant *plant = s->plant;
    room->ids = STILL_ARENA_NEW(arena, (size_t)room->n_ports * 2, uint32_t);
    if (room->ids == NULL) return STILL_E_NOMEM;
    uint32_t side_done = STILL_NONE;
    for (uint32_t i = 0; i < room->n_ports; i++) {
        uint32_t port = room->ports[i], comp = plant->ports[port].comp,
                 spool = plant->ports[port].spool;
        const still_comp *c = &plant->comps[comp];
        bool parts = bounds(s, comp);
        if (still_opened_port(plant, s->targets, port)) room->work = true;
        if (still_outlet_open(c)) room->open_air = true;
        if (c->cls == STILL_CLASS_EXCHANGER && still_port_side(plant, port) != side_done) {
            side_done = still_port_side(plant, port);
            if (side_done == STILL_NONE) continue;
            room->volume_m3 += still_side_volume_m3(plant, side_done);
            room->mass_kg += still_side_mass_kg(plant, side_done);
            if (still_side_may_hold_liquid(plant, side_done)) room->liquid = true;
        }
        uint32_t both[2] = {parts ? STILL_NONE : comp, spool};
        for (int k = 0; k < 2; k++) {
            if (both[k] == STILL_NONE || taken[both[k]]) continue;
            taken[both[k]] = 1;
            room->ids[room->n_ids++] = both[k];
            uint8_t cls = plant->comps[both[k]].cls;
            if (cls != STILL_CLASS_SPOOL && cls != STILL_CLASS_VESSEL) continue;
            room->volume_m3 += still_comp_volume_m3(plant, both[k]);
            room->mass_kg += still_comp_mass_kg(plant, s->state, both[k]);
            if (still_comp_may_hold_liquid(plant, s->state, both[k])) room->liquid = true;
        }
    }
    for (uint32_t i = 0; i < room->n_ids; i++) taken[room->ids[i]] = 0;
    qsort(room->ids, room->n_ids, sizeof room->ids[0], by_number);
    return STILL_OK;
}

static still_status serve_room(still_space *s, still_arena *arena, still_room *room,
                               uint32_t number, const outlet *list, size_t n)
{
    const outlet *vent = best_outlet(s, list, n, number, USE_VENT);
    const outlet *drain = best_outlet(s, list, n, number, USE_DRAIN);
    const outlet *prove = best_outlet(s, list, n, number, USE_PROVE);
    if (vent != NULL) room->vent = vent->way;
    if (prove != NULL) room->prove = prove->way;
    if (drain != NULL && room->liquid) room->drain = drain->way;
    room->gauge = gauge_of(s, room);
    if (drain == NULL || !room->liquid) return STILL_OK;
    return still_puddles_find(room, arena, s, drain->port);
}

static still_status build_rooms(still_space *s, still_arena *arena, still_rooms *out,
                                const outlet *list, size_t n)
{
    uint8_t *taken = still_calloc(s->plant->n_comps, 1);
    still_status status = taken != NULL ? STILL_OK : STILL_E_NOMEM;
    out->n_rooms = s->n_rooms;
    out->rooms = STILL_ARENA_NEW(arena, s->n_rooms, still_room);
    if (out->rooms == NULL) status = STILL_E_NOMEM;
    for (uint32_t r = 0; r < s->n_rooms && status == STILL_OK; r++) {
        still_room *room = &out->rooms[r];
        for (uint32_t i = 0; i < s->n_ports; i++) room->n_ports += s->room_of[s->ports[i]] == r + 1;
        room->ports = STILL_ARENA_NEW(arena, room->n_ports, uint32_t);
        if (room->ports == NULL) {
            status = STILL_E_NOMEM;
            break;
        }
        uint32_t at = 0;
        for (uint32_t i = 0; i < s->n_ports; i++)
            if (s->room_of[s->ports[i]] == r + 1) room->ports[at++] = s->ports[i];
        status = fill_room(s, arena, room, taken);
        if (status == STILL_OK) status = serve_room(s, arena, room, r, list, n);
    }
    still_free(taken);
    return status;
}

/* A target without a single port in the plant file: a compartment of its own, with no way out. */
static bool lone(const still_space *s, uint32_t target)
{
    const still_comp *c = &s->plant->comps[target];
    return c->b == 0 && (c->cls == STILL_CLASS_VESSEL || c->cls == STILL_CLASS_EXCHANGER);
}

static bool fill_lone(const still_space *s, still_arena *arena, uint32_t target, still_room *room)
{
    const still_plant *plant = s->plant;
    uint32_t *ids = STILL_ARENA_NEW(arena, 1, uint32_t);
    if (ids == NULL) return false;
    ids[0] = target;
    *room = (still_room){.ids = ids, .n_ids = 1, .work = true, .gauge = STILL_NONE};
    if (plant->comps[target].cls == STILL_CLASS_VESSEL) {
        room->volume_m3 = still_comp_volume_m3(plant, target);
        room->mass_kg = still_comp_mass_kg(plant, s->state, target);
        room->liquid = still_comp_may_hold_liquid(plant, s->state, target);
    }
    for (uint32_t i = 0; i < plant->n_sides; i++) {
        if (plant->sides[i].comp != target) continue;
        room->volume_m3 += still_side_volume_m3(plant, i);
        room->mass_kg += still_side_mass_kg(plant, i);
        if (still_side_may_hold_liquid(plant, i)) room->liquid = true;
    }
    return true;
}

static still_status add_lone_targets(const still_space *s, still_arena *arena, still_rooms *out)
{
    size_t n = 0;
    for (size_t i = 0; i < s->targets->n; i++) n += lone(s, s->targets->items[i].comp);
    if (n == 0) return STILL_OK;
    still_room *rooms = STILL_ARENA_NEW(arena, out->n_rooms + n, still_room);
    if (rooms == NULL) return STILL_E_NOMEM;
    if (out->n_rooms > 0) memcpy(rooms, out->rooms, out->n_rooms * sizeof rooms[0]);
    out->rooms = rooms;
    for (size_t i = 0; i < s->targets->n; i++) {
        uint32_t target = s->targets->items[i].comp;
        if (!lone(s, target)) continue;
        if (!fill_lone(s, arena, target, &rooms[out->n_rooms])) return STILL_E_NOMEM;
        out->n_rooms++;
    }
    return STILL_OK;
}

static bool on_way(const still_outway *way, uint32_t comp)
{
    for (uint32_t i = 0; i < way->n; i++)
        if (way->items[i] == comp) return true;
    return false;
}

/* Opened when pressure is let off, as part of a way out. */
static bool opened_on_a_way(const still_rooms *out, uint32_t comp)
{
    for (size_t r = 0; r < out->n_rooms; r++) {
        const still_room *room = &out->rooms[r];
        if (on_way(&room->vent, comp) || on_way(&room->drain, comp) || on_way(&room->prove, comp))
            return true;
    }
    return false;
}

/* Pipework with an outlet that hangs on one device only: it may stay shut. */
static bool is_stub(const still_space *s, uint32_t cell)
{
    uint32_t links = 0;
    if (!s->outward[cell - 1] || s->outlets[cell - 1] == 0) return false;
    for (uint32_t i = 0; i < s->n_ports; i++) {
        uint32_t k = 1, q;
        if (s->cell_of[s->ports[i]] != cell) continue;
        while ((q = still_space_next(s, s->ports[i], STILL_PASS_DRAIN, &k)) != STILL_NONE)
            links += s->cell_of[q] != cell;
    }
    return links <= 1;
}

typedef enum when { NEVER, EARLY, LATE } when;

/* When a device that joins two cells is opened: early if neither leads outward, or no outlet stands
 * at either; late, when pressure has been let off, if one of them does and it is no mere stub. */
static when opened(const still_space *s, const still_rooms *out, uint32_t port)
{
    const still_plant *plant = s->plant;
    uint32_t comp = plant->ports[port].comp, k = 1, q;
    if (port != plant->comps[comp].a) return NEVER;
    still_passage passage = still_passage_of(plant, s->state, comp);
    if (passage != STILL_PASSAGE_OPEN_IT && passage != STILL_PASSAGE_OVERRIDE) return NEVER;
    while ((q = still_space_next(s, port, STILL_PASS_ROOM, &k)) != STILL_NONE) {
        uint32_t here = s->cell_of[port], there = s->cell_of[q];
        if (core(s, port) && core(s, q)) return EARLY;
        if (here == there || opened_on_a_way(out, comp)) continue;
        if (s->outlets[here - 1] == 0 && s->outlets[there - 1] == 0) return EARLY;
        if (!is_stub(s, here) && !is_stub(s, there)) return LATE;
    }
    return NEVER;
}

static still_status list_openings(const still_space *s, still_arena *arena, still_rooms *out)
{
    for (int pass = 0; pass < 2; pass++) {
        if (pass == 1) {
            out->openings = STILL_ARENA_NEW(arena, out->n_openings, still_opening);
            if (out->openings == NULL) return STILL_E_NOMEM;
            out->n_openings = 0;
        }
        for (uint32_t i = 0; i < s->n_ports; i++) {
            when at_all = opened(s, out, s->ports[i]);
            if (at_all == NEVER) continue;
            uint32_t comp = s->plant->ports[s->ports[i]].comp;
            size_t at = out->n_openings++;
            if (pass == 0) continue;
            still_opening o = {comp,
                               still_passage_of(s->plant, s->state, comp) == STILL_PASSAGE_OVERRIDE,
                               at_all == LATE, still_comp_bore_mm(s->plant, comp)};
            for (; at > 0; at--) {
                const still_opening *b = &out->openings[at - 1];
                bool before =
                    isnan(o.bore_mm) ? false : isnan(b->bore_mm) || o.bore_mm < b->bore_mm;
                bool same = (isnan(o.bore_mm) && isnan(b->bore_mm)) ||
                            !(o.bore_mm < b->bore_mm || o.bore_mm > b->bore_mm ||
                              isnan(o.bore_mm) || isnan(b->bore_mm));
                if (!before && !(same && strcmp(still_id_of(s->plant, comp),
                                                still_id_of(s->plant, b->comp)) < 0))
                    break;
                out->openings[at] = *b;
            }
            out->openings[at] = o;
        }
    }
    return STILL_OK;
}

still_status still_rooms_find(still_rooms *out, still_arena *arena, const still_plant *plant,
                              const still_state *state, const uint8_t *work_port,
                              const uint8_t *shut, const still_targets *targets)
{
    still_space space = {0};
    still_rooms rooms = {0};
    outlet *list = NULL;
    size_t n = 0;
    still_status status = still_space_build(&space, plant, state, work_port, shut, targets);
    if (status == STILL_OK) status = list_outlets(&space, arena, &list, &n);
    if (status == STILL_OK) status = build_rooms(&space, arena, &rooms, list, n);
    if (status == STILL_OK) status = list_openings(&space, arena, &rooms);
    if (status == STILL_OK) status = add_lone_targets(&space, arena, &rooms);
    still_free(list);
    still_space_clear(&space);
    if (status == STILL_OK) *out = rooms;
    return status;
}
