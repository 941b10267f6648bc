/* Compartments (E1, E2).
 * Problem: what empties together, what it holds, what must be opened so that it is one.
 * Method: rooms by flood fill (space.c); of each its parts, volume and mass, a gauge, and the
 * outlets that serve it best (outlets.c). Hand devices between two parts are opened, smallest
 * first, unless they lead outward. Cost: linear in the space, and what outlets.c says. */
#include "rooms.h"

#include "alloc.h"
#include "inventory.h"
#include "letdown.h"
#include "outlets.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

static bool in_room(const still_space *s, const still_room *room, uint32_t comp)
{
    for (uint32_t i = 0; i < room->n_ids; i++)
        if (room->ids[i] == comp) return true;
    (void)s;
    return false;
}

/* Seen from the work: at the place of what is opened. */
static bool near_work(const still_space *s, uint32_t gauge)
{
    const still_plant *plant = s->plant;
    const char *place = still_text(plant, plant->gauges[gauge].place);
    for (size_t i = 0; i < s->targets->n && place[0] != '\0'; i++)
        if (strcmp(place, still_comp_t(plant, s->targets->items[i].comp, STILL_T_PLACE)) == 0)
            return true;
    return false;
}

/* The nearer one; of equal ones the lowest id. */
static bool better_gauge(const still_space *s, uint32_t a, uint32_t b)
{
    const still_plant *plant = s->plant;
    if (b == STILL_NONE) return true;
    if (near_work(s, a) != near_work(s, b)) return near_work(s, a);
    return strcmp(still_text(plant, plant->gauges[a].id), still_text(plant, plant->gauges[b].id)) <
           0;
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
        if (better_gauge(s, g, best)) best = g;
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
            still_amount held = still_side_amount(plant, side_done);
            room->volume_m3 += still_side_volume_m3(plant, side_done);
            room->mass_kg += still_side_mass_kg(plant, side_done);
            still_amount_add(&room->amount, &held);
            if (still_side_may_hold_liquid(plant, side_done)) room->liquid = true;
        }
        uint32_t both[2] = {parts ? STILL_NONE : comp, spool};
        for (int k = 0; k < 2; k++) {
            if (both[k] == STILL_NONE || taken[both[k]]) continue;
            taken[both[k]] = 1;
            room->ids[room->n_ids++] = both[k];
            uint8_t cls = plant->comps[both[k]].cls;
            if (cls != STILL_CLASS_SPOOL && cls != STILL_CLASS_VESSEL) continue;
            still_amount held = still_comp_amount(plant, s->state, both[k]);
            room->volume_m3 += still_comp_volume_m3(plant, both[k]);
            room->mass_kg += still_comp_mass_kg(plant, s->state, both[k]);
            still_amount_add(&room->amount, &held);
            if (still_comp_may_hold_liquid(plant, s->state, both[k])) room->liquid = true;
        }
    }
    for (uint32_t i = 0; i < room->n_ids; i++) taken[room->ids[i]] = 0;
    qsort(room->ids, room->n_ids, sizeof room->ids[0], by_number);
    return STILL_OK;
}

/* Parts of a room that only pipework on the way to an outlet joins: the devices between (E5). */
static still_status find_meeting(still_space *s, still_arena *arena, still_room *room)
{
    uint32_t parts = 0;
    room->meet = STILL_ARENA_NEW(arena, room->n_ports, uint32_t);
    if (room->meet == NULL) return STILL_E_NOMEM;
    s->round++;
    for (uint32_t i = 0; i < room->n_ports; i++) {
        size_t tail = 0;
        if (!still_outlets_core(s, room->ports[i]) || s->stamp[room->ports[i]] == s->round)
            continue;
        parts++;
        s->stamp[room->ports[i]] = s->round;
        s->queue[tail++] = room->ports[i];
        for (size_t head = 0; head < tail; head++) {
            uint32_t port = s->queue[head], k = 0, q;
            while ((q = still_space_next(s, port, STILL_PASS_ROOM, &k)) != STILL_NONE) {
                uint32_t n = room->n_meet, comp = s->plant->ports[port].comp;
                if (s->stamp[q] == s->round) continue;
                if (still_outlets_core(s, q)) {
                    s->stamp[q] = s->round;
                    s->queue[tail++] = q;
                } else if (s->plant->ports[q].comp == comp &&
                           (n == 0 || room->meet[n - 1] != comp)) {
                    room->meet[room->n_meet++] = comp;
                }
            }
        }
    }
    if (parts < 2) room->n_meet = 0;
    return STILL_OK;
}

static still_status build_rooms(still_space *s, still_arena *arena, still_rooms *out,
                                const still_outlets *list, still_levels *levels)
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
        if (status == STILL_OK) status = still_outlets_serve(room, r, list, s, arena, levels);
        if (status == STILL_OK) status = find_meeting(s, arena, room);
        if (status != STILL_OK) break;
        room->gauge = gauge_of(s, room);
        room->flashes = still_room_boils(s->plant, room->ids, room->n_ids);
        still_let_down_estimate(room, s->plant);
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
    *room = (still_room){
        .ids = ids, .n_ids = 1, .work = true, .gauge = STILL_NONE, .air_in = STILL_NONE};
    room->by_drain.through = room->by_vent.through = STILL_NONE;
    if (plant->comps[target].cls == STILL_CLASS_VESSEL) {
        room->volume_m3 = still_comp_volume_m3(plant, target);
        room->mass_kg = still_comp_mass_kg(plant, s->state, target);
        room->liquid = still_comp_may_hold_liquid(plant, s->state, target);
        room->amount = still_comp_amount(plant, s->state, target);
    }
    for (uint32_t i = 0; i < plant->n_sides; i++) {
        if (plant->sides[i].comp != target) continue;
        room->volume_m3 += still_side_volume_m3(plant, i);
        room->mass_kg += still_side_mass_kg(plant, i);
        still_amount held = still_side_amount(plant, i);
        still_amount_add(&room->amount, &held);
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
        if (still_outlets_core(s, port) && still_outlets_core(s, q)) return EARLY;
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
    still_outlets outlets = {0};
    still_levels levels = {0};
    still_status status = still_space_build(&space, plant, state, work_port, shut, targets);
    if (status == STILL_OK) status = still_outlets_list(&outlets, &space, arena);
    if (status == STILL_OK) status = still_levels_init(&levels, &space);
    if (status == STILL_OK) status = build_rooms(&space, arena, &rooms, &outlets, &levels);
    if (status == STILL_OK) status = list_openings(&space, arena, &rooms);
    if (status == STILL_OK) status = add_lone_targets(&space, arena, &rooms);
    still_free(outlets.items);
    still_levels_clear(&levels);
    still_space_clear(&space);
    if (status == STILL_OK) *out = rooms;
    return status;
}
