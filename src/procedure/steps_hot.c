/* Heat beside the section: hot gas beside a side that still stands open (E1), and exchangers that
 * lose their flow (N5).
 * Problem: devices inside are opened before the last point is closed, and only after every feed and
 * hot-gas side is closed. Hot gas that joins the pipe behind a way off is no side of the section;
 * what holds it back there may be a solenoid valve.
 * Method: from the live side of each way off outward over pipes, fittings, exchanger sides and
 * devices that act by themselves, up to vessels, limits and the first stop valves by hand. A pipe
 * there, or behind such a stop valve, that carries vapour at a pressure above the highest that is
 * known inside, or of which either is not said (N2), is hot gas; the device before it is named.
 * Nothing is closed for it: that could shut liquid in. Cost: linear in what is reached. */
#include "steps_script.h"

#include "contents.h"
#include "describe.h"

#include <math.h>
#include <string.h>

#define SAY(...) still_arena_printf(s->arena, __VA_ARGS__)

typedef struct hot_walk {
    const still_plant *plant;
    const still_state *state;
    const uint8_t *inside; /* by port */
    uint8_t *seen;
    uint32_t *queue, *gate, *found; /* gate: by port, the last device passed */
    uint32_t tail, n_found;
    double above_bara;
} hot_walk;

static bool hot(const hot_walk *w, uint32_t spool)
{
    uint32_t service = spool == STILL_NONE ? STILL_NONE : w->plant->comps[spool].service;
    return service != STILL_NONE && w->plant->services[service].phase == STILL_PHASE_VAPOUR &&
           !(w->plant->services[service].pressure_bara <= w->above_bara); /* not said: it may be */
}

static void name_gate(hot_walk *w, uint32_t comp)
{
    for (uint32_t i = 0; i < w->n_found; i++)
        if (w->found[i] == comp) return;
    w->found[w->n_found++] = comp;
}

/* Along the pipe at this port. */
static void leave(hot_walk *w, uint32_t port, uint32_t gate)
{
    uint32_t next = still_port_across(w->plant, port);
    if (next == STILL_NONE || w->seen[next] || w->inside[next]) return;
    if (hot(w, w->plant->ports[port].spool)) {
        if (gate != STILL_NONE) name_gate(w, gate);
        return;
    }
    w->seen[next] = 1;
    w->gate[next] = gate;
    w->queue[w->tail++] = next;
}

/* Through the component at this port. */
static void pass(hot_walk *w, uint32_t port)
{
    const still_plant *p = w->plant;
    uint32_t comp = p->ports[port].comp, gate = w->gate[port];
    const still_comp *c = &p->comps[comp];
    if (c->cls == STILL_CLASS_VESSEL || c->cls == STILL_CLASS_LIMIT ||
        c->cls == STILL_CLASS_OUTLET || c->cls == STILL_CLASS_CAP || still_is_machine(c))
        return;
    bool stop = c->cls == STILL_CLASS_VALVE && still_kind_stops(c->kind) && still_by_hand(c);
    if (stop && still_position_now(p, w->state, comp) == STILL_POSITION_CLOSED) return;
    if (c->cls == STILL_CLASS_VALVE) gate = comp;
    for (uint32_t k = 0; k < c->b; k++) {
        uint32_t other = c->a + k;
        if (w->seen[other]) continue;
        if (c->cls == STILL_CLASS_EXCHANGER &&
            still_port_side(p, other) != still_port_side(p, port))
            continue;
        w->seen[other] = 1;
        if (!stop)
            leave(w, other, gate);
        else if (hot(w, p->ports[other].spool))
            name_gate(w, gate);
    }
}

/* NAN = none is known. */
static double highest_inside(still_script *s)
{
    uint32_t n = 0;
    double most = (double)NAN;
    const uint32_t *services = still_services_inside(s->arena, s->order->iso, &n);
    if (services == NULL) s->step.failed = true; /* not for want of hot gas */
    for (uint32_t i = 0; i < n && services != NULL; i++) {
        double here = s->order->plant->services[services[i]].pressure_bara;
        if (isnan(most) || here > most) most = here;
    }
    return most;
}

/* Devices that hold hot gas back beside a way off. @return arena memory, NULL = it ran out */
static uint32_t *gates(still_script *s, uint32_t *n)
{
    const still_order *o = s->order;
    const still_plant *plant = o->plant;
    hot_walk w = {.plant = plant,
                  .state = o->state,
                  .inside = o->iso->work_port,
                  .seen = STILL_ARENA_NEW(s->arena, plant->n_ports, uint8_t),
                  .queue = STILL_ARENA_NEW(s->arena, plant->n_ports, uint32_t),
                  .gate = STILL_ARENA_NEW(s->arena, plant->n_ports, uint32_t),
                  .found = STILL_ARENA_NEW(s->arena, plant->n_comps, uint32_t),
                  .above_bara = highest_inside(s)};
    *n = 0;
    if (w.seen == NULL || w.queue == NULL || w.gate == NULL || w.found == NULL) return NULL;
    for (uint32_t i = 0; i < o->n_ops; i++) {
        const still_op *op = &o->ops[i];
        if (!op->barrier || op->late || !op->downstream || op->point == NULL) continue;
        uint32_t outer = op->point->outer_port;
        if (plant->ports[outer].comp != op->comp || w.seen[outer]) continue;
        w.seen[outer] = 1;
        leave(&w, outer, STILL_NONE);
    }
    for (uint32_t head = 0; head < w.tail; head++) pass(&w, w.queue[head]);
    *n = w.n_found;
    return w.found;
}

void still_script_hot_gas(still_script *s)
{
    uint32_t n, *list = gates(s, &n);
    if (list == NULL) s->step.failed = true;
    if (n == 0) return;
    const char *ids = still_join_all(s->arena, s->order->plant, list, n);
    still_stepper_add(
        &s->step, still_id_of(s->order->plant, list[0]), 0,
        ids == NULL
            ? NULL
            : SAY("Before supplies go off and anything inside is opened: see that no hot gas comes "
                  "to "
                  "the side that stays open, what lets it in held at closed by its control. It "
                  "stands behind %s: a thermometer on the pipe after it, and no flow to be heard; "
                  "somebody watches it until that side is closed.",
                  ids),
        "What is opened inside is opened only once hot gas is held off (rule E1): it would push "
        "into the section, and knock (rule P8).",
        "The thermometer does not rise; no flow.",
        "It is warm, or something flows: hot gas passes. Close nothing yet; have it held off, "
        "and "
        "plan anew with what was closed for it.");
}

/* The hottest other side of an exchanger whose side in this piece loses its flow; NAN = none is
 * hotter by what the plant file says. */
static double hotter_side_K(const still_isolation *iso, uint32_t comp, uint32_t piece)
{
    const still_plant *p = iso->zone.plant;
    const still_comp *c = &p->comps[comp];
    double here = (double)NAN, most = (double)NAN;
    for (uint32_t k = 0; k < c->b; k++)
        if (iso->zone.piece_of_port[c->a + k] == piece) {
            uint32_t side = still_port_side(p, c->a + k);
            if (side != STILL_NONE) here = still_side_K(p, side);
        }
    for (uint32_t k = 0; k < c->b; k++) {
        uint32_t side = still_port_side(p, c->a + k);
        if (side == STILL_NONE || iso->zone.piece_of_port[c->a + k] == piece) continue;
        double other = still_side_K(p, side);
        if (other > here && !(other <= most)) most = other;
    }
    return most;
}

/* Its heat is seen to with the section's own. */
static bool partly_inside(const still_isolation *iso, uint32_t comp)
{
    const still_comp *c = &iso->zone.plant->comps[comp];
    for (uint32_t k = 0; k < c->b; k++)
        if (iso->work_port[c->a + k]) return true;
    return false;
}

void still_script_heat_beyond(still_script *s, bool back)
{
    const still_isolation *iso = s->order->iso;
    const still_plant *p = s->order->plant;
    uint8_t *told = STILL_ARENA_NEW(s->arena, p->n_comps, uint8_t);
    if (told == NULL) s->step.failed = true;
    for (uint32_t i = 0; i < iso->points.n && told != NULL; i++) {
        uint32_t number = iso->zone.piece_of_port[iso->info[i].outer_port];
        if (number == 0 || iso->info[i].positive) continue;
        const still_piece *piece = &iso->zone.pieces[number - 1];
        for (uint32_t k = 0; k < piece->n_items; k++) {
            uint32_t comp = iso->zone.items[piece->item0 + k];
            if (p->comps[comp].cls != STILL_CLASS_EXCHANGER || told[comp] ||
                partly_inside(iso, comp))
                continue;
            double hot_K = hotter_side_K(iso, comp, number);
            if (isnan(hot_K)) continue;
            told[comp] = 1;
            const char *id = still_id_of(p, comp);
            if (back)
                still_stepper_add(
                    &s->step, id, 0,
                    SAY("Put the heat of %s on again, once flow runs through its cooler side.", id),
                    "Heat only where flow carries it away (rule N5).",
                    "Temperatures as in normal service.", "No flow: the heat stays off.");
            else
                still_stepper_add(
                    &s->step, id, 0,
                    SAY("%s, next to %s, loses its flow: take its heat (%.4g degC) off first, in "
                        "the "
                        "plant's own way, and keep it off until flow runs again.",
                        id, still_id_of(p, iso->points.items[i]), hot_K - STILL_ZERO_DEGC_K),
                    "Liquid that stands against a hot wall rises in pressure, and comes back hot "
                    "(rule N5).",
                    "It cools down to its surroundings.",
                    "It stays hot: find what heats it before the flow is stopped.");
        }
    }
}
