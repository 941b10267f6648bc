/* Time to let down (E2): an estimate, for a person who waits at the gauge. Nothing is proved by it.
 * Problem: about how long does it take to drain a compartment, and to let its pressure off?
 * Method: one orifice, the narrowest bore on the way, of discharge coefficient 0.61 (sharp edge;
 * ISO 5167 and handbooks, from memory).
 * Liquid that boils is driven by the pressure of its service, which its own vapour keeps up:
 * Bernoulli, t = V / (C A sqrt(2 dp / rho)). Other liquid has only its weight once the section is
 * shut: Torricelli with a head that falls evenly to nothing, t = 2 V / (C A sqrt(2 g H)), H from
 * the highest to the drain. Vapour: ideal gas, isothermal in the section, mass flow C A p
 * sqrt(k/RT) (2/(k+1))^((k+1)/(2(k-1))) while the outlet is below the critical pressure, which
 * makes the pressure fall exponentially; then C A p sqrt(2k/((k-1)RT) (r^(2/k) - r^((k+1)/k))), r =
 * outlet/p, integrated with p - outlet = u^2, which takes the root out of the flow. Source: API
 * Standard 520 part I, sizing for critical and subcritical gas flow; ISO 4126-7 (both from memory).
 * k = 1.3, RT = pressure / density at the start. Assumptions: no friction but the orifice;
 * isothermal, no boiling. Boiling liquid flashes in the orifice, which slows it, and goes on making
 * vapour: the time is then a lower bound. Cost: linear in the room. */
#include "letdown.h"

#include <math.h>

static const double PI = 3.14159265358979323846, COEFFICIENT = 0.61, K = 1.3, GRAVITY = 9.80665;
static const double PA_PER_BAR = 1e5;

static double area(double bore_mm)
{
    return PI / 4 * bore_mm * bore_mm * 1e-6;
}

double still_let_down_pressed_s(double volume_m3, double bore_mm, double density_kg_m3, double bar)
{
    if (volume_m3 <= 0) return 0;
    if (!(bar > 0) || !(bore_mm > 0)) return (double)NAN;
    return volume_m3 / (COEFFICIENT * area(bore_mm) * sqrt(2 * bar * PA_PER_BAR / density_kg_m3));
}

double still_let_down_gravity_s(double volume_m3, double bore_mm, double head_m)
{
    if (volume_m3 <= 0) return 0;
    if (!(head_m > 0) || !(bore_mm > 0)) return (double)NAN;
    return 2 * volume_m3 / (COEFFICIENT * area(bore_mm) * sqrt(2 * GRAVITY * head_m));
}

/* Mass flow through a unit of area for a unit of p / sqrt(RT), at outlet / p = r. */
static double flow(double r)
{
    double critical = pow(2 / (K + 1), K / (K - 1));
    if (r <= critical) return sqrt(K) * pow(2 / (K + 1), (K + 1) / (2 * (K - 1)));
    return sqrt(fmax(0, 2 * K / (K - 1) * (pow(r, 2 / K) - pow(r, (K + 1) / K))));
}

double still_let_down_vapour_s(double volume_m3, double bore_mm, double rt, double start_bara,
                               double end_bara)
{
    enum { STEPS = 200 };
    if (isnan(volume_m3 + bore_mm + rt + start_bara + end_bara)) return (double)NAN;
    if (volume_m3 <= 0 || start_bara <= end_bara) return 0;
    if (!(bore_mm > 0) || !(rt > 0)) return (double)NAN;
    double choked = end_bara / pow(2 / (K + 1), K / (K - 1)); /* above it the flow is critical */
    double scale = volume_m3 / (COEFFICIENT * area(bore_mm) * sqrt(rt)), time = 0;
    if (start_bara > choked) time = log(start_bara / choked) / flow(0);
    double width = sqrt(fmin(start_bara, choked) - end_bara) / STEPS;
    for (int i = 0; i < STEPS; i++) {
        double u = (i + 0.5) * width, p = end_bara + u * u;
        time += 2 * u * width / (p * flow(end_bara / p));
    }
    return scale * time;
}

bool still_room_boils(const still_plant *plant, const uint32_t *ids, uint32_t n)
{
    bool any = false;
    for (uint32_t i = 0; i < n; i++) {
        const still_comp *c = &plant->comps[ids[i]];
        bool holds = c->cls == STILL_CLASS_SPOOL || c->cls == STILL_CLASS_VESSEL;
        if (c->cls == STILL_CLASS_EXCHANGER) continue; /* its pipes tell */
        if (c->service == STILL_NONE && !holds) continue;
        if (!still_service_boils_off(plant, c->service)) return false;
        any = true;
    }
    return any;
}

/* Highest pressure among the services of a room; NAN = one of them is unknown. */
static double pressure_of(const still_room *room, const still_plant *plant)
{
    double most = 0;
    for (uint32_t i = 0; i < room->n_ids; i++) {
        const still_comp *c = &plant->comps[room->ids[i]];
        if (c->cls != STILL_CLASS_SPOOL && c->cls != STILL_CLASS_VESSEL) continue;
        double p =
            c->service == STILL_NONE ? (double)NAN : plant->services[c->service].pressure_bara;
        if (isnan(p)) return p;
        most = fmax(most, p);
    }
    return most;
}

static double head_of(const still_room *room, const still_plant *plant, uint32_t outlet)
{
    double top = (double)NAN, drain = still_port_elevation_m(plant, plant->comps[outlet].a);
    for (uint32_t i = 0; i < room->n_ports; i++)
        top = fmax(top, still_port_elevation_m(plant, room->ports[i]));
    return top - drain;
}

/* The narrowest bore on a way; NAN = one of them is unknown. */
static double bore_of(const still_outway *way, const still_plant *plant)
{
    double least = (double)INFINITY;
    for (uint32_t i = 0; i < way->n; i++) {
        double bore = still_comp_bore_mm(plant, way->items[i]);
        if (isnan(bore)) return bore;
        least = fmin(least, bore);
    }
    return least;
}

static void drain(still_let_down *d, const still_room *room, const still_plant *plant, double p)
{
    double volume = room->amount.liquid_m3, density = room->amount.liquid_kg / volume;
    d->liquid = true;
    if (isnan(d->bore_mm)) {
        d->not_estimated = "a bore on the way is not known";
    } else if (isnan(volume)) {
        d->not_estimated = "the volume of liquid is not known";
    } else if (volume <= 0) {
        d->liquid_s = 0;
    } else if (room->flashes && isnan(p + density)) {
        d->not_estimated = "its pressure or density is not known";
    } else if (room->flashes && p > STILL_ATM_BAR) {
        d->liquid_s = still_let_down_pressed_s(volume, d->bore_mm, density, p - STILL_ATM_BAR);
    } else {
        d->liquid_s =
            still_let_down_gravity_s(volume, d->bore_mm, head_of(room, plant, d->through));
        if (isnan(d->liquid_s)) d->not_estimated = "the fall to the drain is not known";
    }
}

/* Mean density of the vapour that fills a room once its liquid has gone; NAN = unknown. */
static double vapour_density(const still_room *room, const still_plant *plant)
{
    double volume = 0, mass = 0;
    for (uint32_t i = 0; i < room->n_ids; i++) {
        const still_comp *c = &plant->comps[room->ids[i]];
        if (c->cls != STILL_CLASS_SPOOL && c->cls != STILL_CLASS_VESSEL) continue;
        double held = still_comp_volume_m3(plant, room->ids[i]);
        if (held <= 0) continue;
        volume += held;
        mass += held *
                still_service_density_kg_m3(plant, c->service, STILL_CONTENTS_VAPOUR, (double)NAN);
    }
    return mass / volume;
}

/* A boiling liquid leaves its own vapour behind it, so all of the room is let off. */
static void vent(still_let_down *d, const still_room *room, const still_plant *plant, double p)
{
    double volume = room->amount.vapour_m3, density = room->amount.vapour_kg / volume;
    d->vapour = true;
    if (room->flashes && !(room->amount.liquid_m3 <= 0)) {
        volume += room->amount.liquid_m3;
        density = vapour_density(room, plant);
    }
    if (isnan(d->bore_mm))
        d->not_estimated = "a bore on the way is not known";
    else if (isnan(volume))
        d->not_estimated = "the volume of vapour is not known";
    else if (volume > 0 && isnan(p + density))
        d->not_estimated = "its pressure or density is not known";
    else
        d->vapour_s =
            still_let_down_vapour_s(volume, d->bore_mm, volume > 0 ? p * PA_PER_BAR / density : 1,
                                    volume > 0 ? p : STILL_ATM_BAR, STILL_ATM_BAR);
}

void still_let_down_estimate(still_room *room, const still_plant *plant)
{
    double p = pressure_of(room, plant);
    room->by_drain.through = room->by_vent.through = STILL_NONE;
    for (int i = 0; i < 2; i++) {
        const still_outway *way = i ? &room->vent : &room->drain;
        still_let_down *d = i ? &room->by_vent : &room->by_drain;
        if (way->n == 0 || room->open_air) continue; /* what stands open holds no pressure */
        uint32_t outlet = way->items[way->n - 1];
        *d = (still_let_down){.through = outlet,
                              .bore_mm = bore_of(way, plant),
                              .liquid_s = (double)NAN,
                              .vapour_s = (double)NAN,
                              .at_least = room->flashes && !(room->amount.liquid_m3 <= 0)};
        uint8_t leads = plant->comps[outlet].leads_to;
        if (leads == STILL_LEADS_RECOVERY || leads == STILL_LEADS_CLOSED_DRAIN) {
            d->liquid = i == 0;
            d->vapour = i == 1;
            d->not_estimated = "the pressure behind the outlet is not known";
        } else if (i == 0) {
            drain(d, room, plant, p);
        } else {
            vent(d, room, plant, p);
        }
    }
}
