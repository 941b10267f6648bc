/* What can stand against the points from further out (D7).
 * Problem: the choice of points compares a rating with the piece that adjoins the point. Through
 * devices that are not points, which count as open (I1), a higher pressure from further out may
 * reach it. Method: one flood over everything outside the boundary, through all that is not a
 * point; for each part so joined the highest known design pressure; each point whose known rating
 * is below that of its part is a finding. Cost: linear in the plant. */
#include "assemble.h"

#include "alloc.h"
#include "zone.h"

#include <math.h>

#define SAY(...) still_arena_printf(a->arena, __VA_ARGS__)

typedef struct live_side {
    still_assembly *a;
    uint32_t *part; /* by port: 1 + part, 0 = not reached */
    uint32_t *queue;
    uint8_t *point;  /* by component */
    double max_bara; /* of the part being filled */
    uint32_t worst;  /* component that declares it */
} live_side;

static void note_design(live_side *l, uint32_t comp, double design_bara)
{
    if (!(design_bara > l->max_bara)) return;
    l->max_bara = design_bara;
    l->worst = comp;
}

static void visit(live_side *l, size_t *tail, uint32_t port, uint32_t part)
{
    if (l->part[port] != 0) return;
    l->part[port] = part;
    l->queue[(*tail)++] = port;
}

static void look_at(live_side *l, uint32_t port)
{
    const still_plant *plant = l->a->plant;
    uint32_t comp = plant->ports[port].comp, spool = plant->ports[port].spool,
             side = still_port_side(plant, port);
    const still_comp *c = &plant->comps[comp];
    if (spool != STILL_NONE)
        note_design(l, spool, still_service_design_bara(plant, plant->comps[spool].service));
    if (l->point[comp]) return;
    note_design(l, comp, still_comp_q(plant, comp, STILL_Q_DESIGN_PRESSURE_BARA));
    if (c->cls == STILL_CLASS_VESSEL)
        note_design(l, comp, still_service_design_bara(plant, c->service));
    if (side == STILL_NONE) return;
    note_design(l, comp, still_side_design_bara(plant, side));
}

/* Fill one part from a port; leaves its highest design pressure in l. */
static void fill_part(live_side *l, uint32_t start, uint32_t part)
{
    const still_plant *plant = l->a->plant;
    size_t tail = 0;
    l->max_bara = -1;
    l->worst = STILL_NONE;
    visit(l, &tail, start, part);
    for (size_t head = 0; head < tail; head++) {
        uint32_t port = l->queue[head], comp = plant->ports[port].comp;
        const still_comp *c = &plant->comps[comp];
        look_at(l, port);
        if (plant->ports[port].spool != STILL_NONE && !l->point[plant->ports[port].spool])
            visit(l, &tail, still_port_across(plant, port), part);
        if (l->point[comp]) continue;
        for (uint32_t i = 0; i < c->b; i++)
            if (c->cls != STILL_CLASS_EXCHANGER ||
                still_port_side(plant, c->a + i) == still_port_side(plant, port))
                visit(l, &tail, c->a + i, part);
    }
}

/* No design pressure of the plant is above this one. Facts that components share count once. */
static double highest_design_bara(const still_plant *plant)
{
    double max = -1;
    for (uint32_t i = 0; i < plant->n_services; i++)
        max = fmax(max, still_service_design_bara(plant, i));
    for (uint32_t i = 0; i < plant->n_sides; i++) max = fmax(max, still_side_design_bara(plant, i));
    for (uint32_t i = 0; i < plant->n_facts; i++)
        if (plant->fact_what[i] == STILL_Q_DESIGN_PRESSURE_BARA)
            max = fmax(max, plant->fact_value[i]);
    return max;
}

/* The flood may reach all of the plant: not where every point holds whatever may come. */
static bool all_hold(const still_assembly *a)
{
    double max = highest_design_bara(a->plant);
    for (uint32_t i = 0; i < a->iso->points.n; i++)
        if (still_device_rating_bara(a->plant, a->iso->points.items[i]) < max) return false;
    return true;
}

void still_assemble_live_side(still_assembly *a)
{
    const still_plant *plant = a->plant;
    if (all_hold(a)) return;
    live_side l = {.a = a};
    double *max_of = still_calloc((size_t)a->iso->points.n + 1, sizeof max_of[0]);
    uint32_t *worst_of = still_calloc((size_t)a->iso->points.n + 1, sizeof worst_of[0]);
    uint32_t n_parts = 0;
    l.part = still_calloc(plant->n_ports, sizeof l.part[0]);
    l.queue = still_calloc(plant->n_ports, sizeof l.queue[0]);
    l.point = still_calloc(plant->n_comps, 1);
    if (!max_of || !worst_of || !l.part || !l.queue || !l.point) {
        a->failed = true;
        goto out;
    }
    for (uint32_t i = 0; i < a->iso->points.n; i++) l.point[a->iso->points.items[i]] = 1;
    for (uint32_t i = 0; i < a->iso->points.n; i++) {
        uint32_t comp = a->iso->points.items[i];
        uint32_t outer = a->iso->info[i].outer_port;
        if (l.part[outer] == 0) {
            fill_part(&l, outer, ++n_parts);
            max_of[n_parts - 1] = l.max_bara;
            worst_of[n_parts - 1] = l.worst;
        }
        uint32_t part = l.part[outer] - 1;
        double rating = still_device_rating_bara(plant, comp);
        if (!(rating < max_of[part])) continue;
        still_add_finding(a, "D7", still_id_of(plant, comp), true, true,
                          SAY("rated %.4g barg; through devices that are no points, %.4g barg "
                              "(design pressure of %s) "
                              "may come to stand against it",
                              rating - STILL_ATM_BAR, max_of[part] - STILL_ATM_BAR,
                              still_id_of(plant, worst_of[part])));
    }
out:
    still_free(max_of);
    still_free(worst_of);
    still_free(l.part);
    still_free(l.queue);
    still_free(l.point);
}
