/* Whether a double isolation is closed, and proved, in two stages (P4; docs/METHOD.md, 7). */
#include "plan_order.h"

#include "describe.h"

#include <math.h>
#include <string.h>

/* Highest known design pressure of what lies behind the points further out; NAN = none is known, or
 * of some part none. */
static double pressure_behind(const still_isolation *iso)
{
    const still_zone *zone = &iso->zone;
    double highest = (double)NAN;
    for (uint32_t i = 0; i < iso->points.n; i++) {
        const still_iso_point *p = &iso->info[i];
        uint32_t piece = p->level == 2 ? zone->piece_of_port[p->outer_port] : 0;
        if (p->level != 2) continue;
        if (piece == 0 || zone->pieces[piece - 1].design_unknown ||
            isnan(zone->pieces[piece - 1].design_max_bara))
            return (double)NAN;
        highest = fmax(isnan(highest) ? 0 : highest, zone->pieces[piece - 1].design_max_bara);
    }
    return highest;
}

/* The compartment at this port, on the side of the work, has a bleed to prove zero by. */
static bool proved_by_room(const still_order *o, uint32_t port)
{
    for (size_t r = 0; r < o->rooms->n_rooms; r++) {
        const still_room *room = &o->rooms->rooms[r];
        if (!room->between && still_room_has(room, port)) return room->prove.n > 0;
    }
    return false;
}

/* Of a double isolation: can the valves next to the work be proved while those further out stand
 * open, the pressure of the line behind them? */
void still_order_look_at_stages(still_order *o)
{
    const still_isolation *iso = o->iso;
    const still_plant *plant = o->plant;
    bool two = false, positive = false, shut = false, driven = false, weak = false, bare = false;
    double behind = pressure_behind(iso);
    for (uint32_t i = 0; i < iso->points.n; i++) {
        const still_iso_point *p = &iso->info[i];
        positive = positive || p->positive;
        if (p->level == 2) {
            two = true;
            driven = driven || !still_by_hand(&plant->comps[p->comp]);
            shut = shut || strcmp(still_describe_position(plant, o->state, p->comp), "closed") == 0;
        } else {
            if (!(still_device_rating_bara(plant, p->comp) >= behind)) weak = true; /* or unknown */
            if (!proved_by_room(o, p->inner_port)) bare = true;
        }
    }
    if (!two || positive) return;
    o->unproved = bare     ? "the space of the work has no bleed there"
                  : driven ? "a valve further out closes with its supply, with the feeds"
                  : shut   ? "a valve further out stands closed already"
                  : weak   ? "the plant file does not say that they stand the pressure behind the "
                             "valves further out (D7)"
                           : NULL;
    o->staged = o->unproved == NULL;
}

/* What goes there leaves the section without opening it to the air. */
static bool closed_outlet(const still_plant *plant, const still_outway *way)
{
    if (way->n == 0) return false;
    uint8_t leads = plant->comps[way->items[way->n - 1]].leads_to;
    return leads == STILL_LEADS_RECOVERY || leads == STILL_LEADS_CLOSED_DRAIN;
}

const still_outway *still_order_recovers(const still_plant *plant, const still_room *room)
{
    if (room->liquid)
        return closed_outlet(plant, &room->drain) && room->drainage_shown && room->n_puddles == 0 &&
                       (room->flashes || room->air_in != STILL_NONE)
                   ? &room->drain
                   : NULL;
    return closed_outlet(plant, &room->vent)    ? &room->vent
           : closed_outlet(plant, &room->drain) ? &room->drain
                                                : NULL;
}

static bool empties_with_work(const still_order *o, const still_room *room)
{
    for (uint32_t i = 0; i < room->n_ports; i++)
        if (o->emptied[room->ports[i]]) return true;
    return false;
}

static bool holds_equipment(const still_order *o, const still_room *room)
{
    for (uint32_t i = 0; i < room->n_ids; i++) {
        const still_comp *c = &o->plant->comps[room->ids[i]];
        uint8_t cls = c->cls;
        if (cls == STILL_CLASS_VESSEL || cls == STILL_CLASS_EXCHANGER || still_is_machine(c))
            return true;
    }
    return false;
}

/* Valves on the ways by which it is emptied. */
static void mark_recovering(still_order *o)
{
    for (size_t r = 0; r < o->rooms->n_rooms; r++) {
        const still_room *room = &o->rooms->rooms[r];
        const still_outway *way = still_order_recovers(o->plant, room);
        for (uint32_t k = 0; way != NULL && !room->between && k < way->n; k++)
            for (uint32_t i = 0; i < o->n_ops; i++)
                if (o->ops[i].outway && o->ops[i].comp == way->items[k]) o->ops[i].recovers = true;
    }
}

/* Its outlet may be closed only once the section is empty (D4). */
static bool relief_path(const still_order *o, const still_op *op)
{
    return op->barrier && op->comp != STILL_NONE && op->behind_relief && !op->late &&
           still_by_hand(&o->plant->comps[op->comp]) && strcmp(op->from, "closed") != 0;
}

/* D4: relief paths may be closed once what they protect is empty, and are, where they can blow
 * back, before anything is opened to the air. Where a pump-down empties it, that is before the last
 * valve of the first stage; else outlets that are not open to the air have to. */
void still_order_look_at_relief(still_order *o)
{
    bool any = false;
    if (o->staged || o->receiver != STILL_NONE) return;
    for (uint32_t i = 0; i < o->n_ops; i++) any = any || relief_path(o, &o->ops[i]);
    for (size_t r = 0; r < o->rooms->n_rooms && any; r++) {
        const still_room *room = &o->rooms->rooms[r];
        if (room->between || still_room_is_open(room)) continue;
        /* The pipe behind a relief valve is not emptied, and need not be. */
        if (!empties_with_work(o, room) && !holds_equipment(o, room)) continue;
        any = still_order_recovers(o->plant, room) != NULL;
    }
    o->relief_stage = any;
    for (uint32_t i = 0; i < o->n_ops && any; i++)
        o->ops[i].outer = o->ops[i].outer || relief_path(o, &o->ops[i]);
    if (any) mark_recovering(o);
}
