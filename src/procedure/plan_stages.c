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
        for (uint32_t i = 0; i < room->n_ports && !room->between; i++)
            if (room->ports[i] == port) return room->prove.n > 0;
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
