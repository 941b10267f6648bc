/** @file letdown.h  How long letting off and draining may take: an estimate (E2). */
#ifndef STILL_LETDOWN_H
#define STILL_LETDOWN_H

#include "rooms.h"

/** Everything in a list of components and pipes boils well below room temperature at 1 atm. */
bool still_room_boils(const still_plant *plant, const uint32_t *ids, uint32_t n);

/** Fill room->by_drain and room->by_vent from its ways, amounts and services. */
void still_let_down_estimate(still_room *room, const still_plant *plant);

/** Time in s to let an amount of ideal gas off through an orifice, isothermal.
 *  @param volume_m3     of the room that it fills
 *  @param rt_m2_per_s2  p / density at the start
 *  @param start_bara, end_bara  pressures at the start and behind the orifice
 *  @return 0 when the start is not above the end; NAN where a number is unknown */
double still_let_down_vapour_s(double volume_m3, double bore_mm, double rt_m2_per_s2,
                               double start_bara, double end_bara);
/** Time in s for a volume of liquid through an orifice under a constant pressure difference. */
double still_let_down_pressed_s(double volume_m3, double bore_mm, double density_kg_m3, double bar);
/** Time in s for it to run out by its own weight from a head that falls to nothing. */
double still_let_down_gravity_s(double volume_m3, double bore_mm, double head_m);

#endif
