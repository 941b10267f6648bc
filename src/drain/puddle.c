/* Pockets (E3).
 * Problem: liquid runs only downhill; what lies below every way to the drain stays behind.
 * Method: the level of a place is the least, over all ways to the drain, of the highest elevation
 * on the way (a minimax path). A place below its level keeps liquid. Levels by a worklist from the
 * drain: level(q) = max(elevation(q), level(p)) over neighbours p, least value wins. Why it is
 * right: the liquid surface in a pocket stands at the lowest sill over which it can run out, which
 * is the minimax elevation; a maximum never falls along a way, so values settle. Assumptions:
 * straight runs between ports. A spool or exchanger side with one end in a pocket counts whole: the
 * volume is an upper bound. Unknown elevations: drainage not shown (N2). Cost: quadratic in the
 * worst case of a room, near linear in practice. */
#include "puddle.h"

#include "alloc.h"
#include "inventory.h"

#include <math.h>

static const double TOLERANCE_M = 0.0005;

static void settle_levels(still_space *s, double *level, uint32_t outlet)
{
    size_t head = 0, n = 0, size = s->plant->n_ports;
    for (uint32_t i = 0; i < s->n_ports; i++) level[s->ports[i]] = (double)INFINITY;
    /* stamp marks what is queued: each port at most once at a time, so the ring can't overflow. */
    s->round++;
    level[outlet] = still_port_elevation_m(s->plant, outlet);
    s->queue[n++] = outlet;
    s->stamp[outlet] = s->round;
    while (n > 0) {
        uint32_t p = s->queue[head], k = 0, q;
        head = (head + 1) % size;
        n--;
        s->stamp[p] = s->round - 1;
        while ((q = still_space_next(s, p, STILL_PASS_DRAIN, &k)) != STILL_NONE) {
            /* A sill of unknown height shows no drainage across it. */
            double sill = still_port_elevation_m(s->plant, q);
            if (isnan(sill)) continue;
            double via = fmax(level[p], sill);
            if (!(via < level[q])) continue;
            level[q] = via;
            if (s->stamp[q] == s->round) continue;
            s->stamp[q] = s->round;
            s->queue[(head + n++) % size] = q;
        }
    }
}

static bool below(const still_space *s, const double *level, uint32_t port)
{
    return still_port_elevation_m(s->plant, port) < level[port] - TOLERANCE_M;
}

/* Collect the components of one pocket, starting at a port; ports seen are marked. */
static bool collect(still_space *s, const double *level, uint8_t *seen, uint8_t *taken,
                    uint32_t start, uint32_t *list, uint32_t *n_list)
{
    size_t tail = 0;
    uint32_t n = 0;
    s->queue[tail++] = start;
    seen[start] = 1;
    for (size_t head = 0; head < tail; head++) {
        uint32_t port = s->queue[head], k = 0, q;
        uint32_t both[2] = {s->plant->ports[port].comp, s->plant->ports[port].spool};
        for (int i = 0; i < 2; i++) {
            if (both[i] == STILL_NONE || taken[both[i]]) continue;
            taken[both[i]] = 1;
            list[n++] = both[i];
        }
        while ((q = still_space_next(s, port, STILL_PASS_ROOM, &k)) != STILL_NONE) {
            if (seen[q] || !below(s, level, q)) continue;
            seen[q] = 1;
            s->queue[tail++] = q;
        }
    }
    *n_list = n;
    return n > 0;
}

static void weigh(const still_space *s, still_puddle *puddle)
{
    const still_plant *plant = s->plant;
    puddle->volume_m3 = puddle->mass_kg = 0;
    for (uint32_t i = 0; i < puddle->n_ids; i++) {
        uint32_t comp = puddle->ids[i];
        uint8_t cls = plant->comps[comp].cls;
        if (cls == STILL_CLASS_SPOOL) {
            puddle->volume_m3 += still_comp_volume_m3(plant, comp);
            puddle->mass_kg += still_comp_mass_kg(plant, s->state, comp);
        } else if (cls == STILL_CLASS_VESSEL) {
            /* How much of a vessel lies below a nozzle is not known here. */
            puddle->volume_m3 = puddle->mass_kg = (double)NAN;
        }
        for (uint32_t k = 0; cls == STILL_CLASS_EXCHANGER && k < plant->comps[comp].b; k++) {
            uint32_t side = still_port_side(plant, plant->comps[comp].a + k);
            if (side == STILL_NONE || !s->work_port[plant->comps[comp].a + k]) continue;
            if (k > 0 && still_port_side(plant, plant->comps[comp].a + k - 1) == side) continue;
            puddle->volume_m3 += still_side_volume_m3(plant, side);
            puddle->mass_kg += still_side_mass_kg(plant, side);
        }
    }
}

static still_status list_puddles(still_room *room, still_arena *arena, still_space *s,
                                 const double *level, uint8_t *seen, uint8_t *taken, uint32_t *list)
{
    size_t cap = 0;
    still_puddle *found = NULL;
    still_status status = STILL_OK;
    for (uint32_t i = 0; i < room->n_ports && status == STILL_OK; i++) {
        uint32_t n;
        if (seen[room->ports[i]] || !below(s, level, room->ports[i])) continue;
        if (!collect(s, level, seen, taken, room->ports[i], list, &n)) continue;
        if (!still_grow(&found, &cap, room->n_puddles + 1, sizeof found[0])) {
            status = STILL_E_NOMEM;
            break;
        }
        still_puddle *puddle = &found[room->n_puddles++];
        *puddle = (still_puddle){.ids = STILL_ARENA_NEW(arena, n, uint32_t), .n_ids = n};
        if (puddle->ids == NULL) {
            status = STILL_E_NOMEM;
            break;
        }
        for (uint32_t k = 0; k < n; k++) puddle->ids[k] = list[k];
        weigh(s, puddle);
    }
    room->puddles = STILL_ARENA_NEW(arena, room->n_puddles, still_puddle);
    if (room->puddles == NULL) status = STILL_E_NOMEM;
    for (size_t i = 0; i < room->n_puddles && status == STILL_OK; i++) room->puddles[i] = found[i];
    still_free(found);
    return status;
}

still_status still_puddles_find(still_room *room, still_arena *arena, still_space *s,
                                uint32_t outlet)
{
    const still_plant *plant = s->plant;
    room->drainage_shown = !isnan(still_port_elevation_m(plant, outlet));
    for (uint32_t i = 0; i < room->n_ports; i++)
        if (isnan(still_port_elevation_m(plant, room->ports[i]))) room->drainage_shown = false;
    if (!room->drainage_shown) return STILL_OK;
    still_status status = STILL_E_NOMEM;
    double *level = still_calloc(plant->n_ports, sizeof level[0]);
    uint8_t *seen = still_calloc(plant->n_ports, 1), *taken = still_calloc(plant->n_comps, 1);
    uint32_t *list = still_calloc((size_t)s->n_ports * 2 + 2, sizeof list[0]);
    if (level == NULL || seen == NULL || taken == NULL || list == NULL) goto out;
    settle_levels(s, level, outlet);
    status = list_puddles(room, arena, s, level, seen, taken, list);
out:
    still_free(level);
    still_free(seen);
    still_free(taken);
    still_free(list);
    return status;
}
