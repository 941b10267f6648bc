/* Pockets (E3).
 * Problem: what stays behind when a compartment has been drained, where, how much, and how it is
 * got out.
 * Method: levels by priority flood (levels.c). A port below its level is wet; wet ports that are
 * joined make one pocket, with the pipes at them. Of a pipe counts what lies below the level, of a
 * vessel of known shape likewise (model/shape.c), of a side of an exchanger all of it. A vessel or
 * side can hold liquid below its lowest port as well: its lowest inside point (`bottom`) is asked.
 * Why it is right: the ends of a pipe in a pocket share one level, or one end is the sill and is
 * not lower than it; so one level cuts the pipe. Each volume is an upper bound: the level is, and
 * each shape below it. Unknown (N2): a place of unknown height, or from which only such places lead
 * to the drain, is not shown, nor is a pipe that ends there, nor a vessel or side whose bottom is
 * not said. All else is: it runs out over known heights, whatever the rest does. A vessel without a
 * shape in a pocket holds an unknown volume; a profile that is linear in height would hold too
 * little (a lying drum at 3/4 of its height holds 4/5). Cost: that of the levels. */
#include "puddle.h"

#include "alloc.h"
#include "inventory.h"
#include "letdown.h"
#include "shape.h"

#include <math.h>
#include <string.h>

/* What can hold liquid below its lowest port: a vessel, or a side of an exchanger. */
typedef struct body {
    uint32_t comp, side; /* side: STILL_NONE = a vessel */
    double level_m;      /* INFINITY = not known */
    double bottom_m;     /* NAN = not said */
    bool port_wet;
} body;

/* The body that a port belongs to, looked at from its first port in the space only.
 * @return false: none, or not the first */
static bool body_at(body *b, const still_levels *l, const still_space *s, uint32_t port)
{
    const still_plant *plant = s->plant;
    uint32_t comp = plant->ports[port].comp, side = still_port_side(plant, port);
    const still_comp *c = &plant->comps[comp];
    bool vessel = c->cls == STILL_CLASS_VESSEL;
    if (!vessel && (c->cls != STILL_CLASS_EXCHANGER || side == STILL_NONE)) return false;
    *b = (body){comp, vessel ? STILL_NONE : side, (double)INFINITY,
                vessel ? still_comp_q(plant, comp, STILL_Q_BOTTOM_M) : plant->sides[side].bottom_m,
                false};
    for (uint32_t q = c->a; q < c->a + c->b; q++) {
        if (!s->work_port[q] || (!vessel && still_port_side(plant, q) != side)) continue;
        if (q < port) return false;
        if (still_levels_known(l, plant, q)) b->level_m = fmin(b->level_m, l->level[q]);
        b->port_wet = b->port_wet || still_levels_wet(l, plant, q);
    }
    return true;
}

static bool body_holds(const body *b)
{
    return b->bottom_m < b->level_m - STILL_LEVEL_TOLERANCE_M && b->level_m < (double)INFINITY;
}

static bool body_shown(const body *b)
{
    return b->port_wet || (!isnan(b->bottom_m) && b->level_m < (double)INFINITY);
}

static void add(still_puddle *p, double volume_m3, const still_plant *plant, uint32_t service)
{
    double density =
        still_service_density_kg_m3(plant, service, STILL_CONTENTS_LIQUID, (double)NAN);
    p->volume_m3 += volume_m3;
    if (!(volume_m3 <= 0)) p->mass_kg += volume_m3 * density;
}

static void add_body(still_puddle *p, const still_plant *plant, const body *b)
{
    still_drum drum;
    double said = still_comp_volume_m3(plant, b->comp), below = (double)NAN;
    if (b->bottom_m >= b->level_m) return;
    if (b->side != STILL_NONE) {
        add(p, still_side_volume_m3(plant, b->side), plant, plant->sides[b->side].service);
    } else {
        if (still_vessel_drum(plant, b->comp, &drum)) {
            /* Where the file says that it holds more than its shape makes, so does each part. */
            below = still_drum_below_m3(&drum, b->level_m) *
                    fmax(1, said / still_drum_volume_m3(&drum));
        }
        add(p, below, plant, plant->comps[b->comp].service);
    }
    if (b->bottom_m < p->lowest_m) p->lowest_m = b->bottom_m;
}

static void add_spool(still_puddle *p, const still_space *s, uint32_t spool, double level_m)
{
    const still_plant *plant = s->plant;
    const still_comp *c = &plant->comps[spool];
    double end[2] = {still_port_elevation_m(plant, c->a), still_port_elevation_m(plant, c->b)};
    double volume =
        still_pipe_below_m3(still_comp_q(plant, spool, STILL_Q_BORE_MM) / 1000,
                            still_comp_q(plant, spool, STILL_Q_LENGTH_M), end[0], end[1], level_m);
    /* Where its far end is of unknown height, all of it may lie low. */
    if (isnan(end[0] + end[1])) volume = still_comp_volume_m3(plant, spool);
    add(p, volume, plant, c->service);
}

/* The lowest of its joints that can be loosened; of equal ones the first in the file. */
static void offer_joint(still_puddle *p, const still_plant *plant, uint32_t port)
{
    if (!still_flanged_at(plant, port)) return;
    if (p->loosen_port == STILL_NONE ||
        still_port_elevation_m(plant, port) < still_port_elevation_m(plant, p->loosen_port))
        p->loosen_port = port;
}

static void take(still_levels *l, uint32_t comp, uint32_t *n)
{
    if (comp == STILL_NONE || l->mark[comp] == l->round) return;
    l->mark[comp] = l->round;
    l->list[(*n)++] = comp;
}

/* One wet port of a pocket: what belongs to it. */
static void collect_port(still_puddle *p, still_levels *l, still_space *s, uint32_t port,
                         uint32_t *n)
{
    const still_plant *plant = s->plant;
    uint32_t comp = plant->ports[port].comp, spool = plant->ports[port].spool;
    uint32_t side = still_port_side(plant, port);
    bool vessel = plant->comps[comp].cls == STILL_CLASS_VESSEL;
    bool met = side != STILL_NONE ? l->side_mark[side] == l->round : l->mark[comp] == l->round;
    double height = still_port_elevation_m(plant, port);
    if (height < p->lowest_m || p->lowest == STILL_NONE) {
        p->lowest_m = height;
        p->lowest = comp;
    }
    offer_joint(p, plant, port);
    if (spool != STILL_NONE && l->mark[spool] != l->round) add_spool(p, s, spool, l->level[port]);
    take(l, comp, n);
    take(l, spool, n);
    if (met || (!vessel && side == STILL_NONE)) return;
    if (side != STILL_NONE) l->side_mark[side] = l->round;
    /* All ports of a body are neighbours: the pocket at one has the level of them all. */
    body b = {comp, side, l->level[port],
              vessel ? still_comp_q(plant, comp, STILL_Q_BOTTOM_M) : plant->sides[side].bottom_m,
              true};
    add_body(p, plant, &b);
}

static void begin(still_puddle *p, still_levels *l)
{
    l->round++;
    *p = (still_puddle){
        .lowest_m = (double)INFINITY, .lowest = STILL_NONE, .loosen_port = STILL_NONE};
}

static void collect(still_puddle *p, still_levels *l, still_space *s, uint32_t start, uint32_t *n)
{
    size_t tail = 0;
    begin(p, l);
    s->queue[tail++] = start;
    l->seen[start] = 1;
    for (size_t head = 0; head < tail; head++) {
        uint32_t port = s->queue[head], k = 0, q;
        collect_port(p, l, s, port, n);
        while ((q = still_space_next(s, port, STILL_PASS_ROOM, &k)) != STILL_NONE) {
            if (l->seen[q] || !still_levels_wet(l, s->plant, q)) continue;
            l->seen[q] = 1;
            s->queue[tail++] = q;
        }
    }
}

/* Close a pocket: its components, from l->list, into the arena. */
static still_status finish(still_puddle *p, const still_room *room, still_arena *arena,
                           const still_plant *plant, const still_levels *l, uint32_t n)
{
    p->ids = STILL_ARENA_NEW(arena, n, uint32_t);
    if (p->ids == NULL) return STILL_E_NOMEM;
    memcpy(p->ids, l->list, n * sizeof p->ids[0]);
    p->n_ids = n;
    p->boils = still_room_boils(plant, p->ids, n);
    p->evaporate = p->boils && room->vent.n > 0 ? room->vent.items[room->vent.n - 1] : STILL_NONE;
    return STILL_OK;
}

static still_status list_puddles(still_room *room, still_arena *arena, still_space *s,
                                 still_levels *l)
{
    size_t cap = 0;
    still_puddle *found = NULL;
    still_status status = STILL_OK;
    room->n_puddles = 0;
    for (int bodies = 0; bodies < 2; bodies++) {
        for (uint32_t i = 0; i < room->n_ports && status == STILL_OK; i++) {
            uint32_t port = room->ports[i], n = 0;
            body b;
            bool here = bodies ? body_at(&b, l, s, port) && !b.port_wet && body_holds(&b)
                               : !l->seen[port] && still_levels_wet(l, s->plant, port);
            if (!here) continue;
            if (!still_grow(&found, &cap, room->n_puddles + 1, sizeof found[0])) {
                status = STILL_E_NOMEM;
                break;
            }
            still_puddle *p = &found[room->n_puddles++];
            if (bodies) {
                begin(p, l);
                p->lowest = b.comp;
                take(l, b.comp, &n);
                add_body(p, s->plant, &b);
            } else {
                collect(p, l, s, port, &n);
            }
            status = finish(p, room, arena, s->plant, l, n);
        }
    }
    room->puddles = STILL_ARENA_NEW(arena, room->n_puddles, still_puddle);
    if (room->puddles == NULL) status = STILL_E_NOMEM;
    if (status == STILL_OK && room->n_puddles > 0)
        memcpy(room->puddles, found, room->n_puddles * sizeof found[0]);
    still_free(found);
    return status;
}

/* A part of the room, and no device at its edge. */
static bool part_of(const still_room *room, uint32_t comp)
{
    uint32_t low = 0, high = room->n_ids; /* ids ascend */
    while (low < high) {
        uint32_t middle = (low + high) / 2;
        if (room->ids[middle] < comp)
            low = middle + 1;
        else
            high = middle;
    }
    return low < room->n_ids && room->ids[low] == comp;
}

/* What is not shown (N2): components and pipes of the room. */
static still_status list_unshown(still_room *room, still_arena *arena, const still_space *s,
                                 still_levels *l)
{
    const still_plant *plant = s->plant;
    uint32_t n = 0;
    l->round++;
    for (uint32_t i = 0; i < room->n_ports; i++) {
        uint32_t port = room->ports[i], comp = plant->ports[port].comp;
        body b;
        uint8_t cls = plant->comps[comp].cls;
        bool holds = cls == STILL_CLASS_VESSEL ||
                     (cls == STILL_CLASS_EXCHANGER && still_port_side(plant, port) != STILL_NONE);
        if (body_at(&b, l, s, port) && !body_shown(&b)) take(l, comp, &n);
        uint32_t across = still_port_across(plant, port);
        bool far_known = across == STILL_NONE || !isnan(still_port_elevation_m(plant, across));
        bool known = still_levels_known(l, plant, port);
        if (!known && !holds && part_of(room, comp)) take(l, comp, &n);
        if (!known || !far_known) take(l, plant->ports[port].spool, &n);
    }
    room->unshown = STILL_ARENA_NEW(arena, n, uint32_t);
    if (room->unshown == NULL) return STILL_E_NOMEM;
    if (n > 0) memcpy(room->unshown, l->list, n * sizeof l->list[0]);
    room->n_unshown = n;
    room->drainage_shown = n == 0;
    return STILL_OK;
}

still_status still_puddles_find(still_room *room, still_arena *arena, still_space *s,
                                still_levels *l, const still_drains *drains)
{
    still_levels_settle(l, s, drains);
    for (uint32_t i = 0; i < s->n_ports; i++) l->seen[s->ports[i]] = 0;
    still_status status = list_unshown(room, arena, s, l);
    if (status == STILL_OK) status = list_puddles(room, arena, s, l);
    return status;
}

int still_puddles_compare(const still_room *a, const still_room *b)
{
    size_t unknown[2] = {0, 0};
    double volume[2] = {0, 0};
    if (a->n_unshown != b->n_unshown) return a->n_unshown < b->n_unshown ? -1 : 1;
    for (int i = 0; i < 2; i++) {
        const still_room *room = i ? b : a;
        for (size_t k = 0; k < room->n_puddles; k++) {
            double v = room->puddles[k].volume_m3;
            unknown[i] += isnan(v) ? 1 : 0;
            volume[i] += isnan(v) ? 0 : v;
        }
    }
    if (unknown[0] != unknown[1]) return unknown[0] < unknown[1] ? -1 : 1;
    if (fabs(volume[0] - volume[1]) <= 1e-9) return 0;
    return volume[0] < volume[1] ? -1 : 1;
}
