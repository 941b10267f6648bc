/** @file contents.h  What lies inside, by service: hazards, oil, pressures that are below
 *  atmosphere (P4, E9, N5). */
#ifndef STILL_CONTENTS_H
#define STILL_CONTENTS_H

#include "isolation.h"
#include "rooms.h"

/** Services of all that is inside or between, ascending; of valves those of their pipes. @return
 * arena memory, or NULL when memory is out */
uint32_t *still_services_inside(still_arena *arena, const still_isolation *iso, uint32_t *n);
/** Services of a compartment, ascending. @return as still_services_inside */
uint32_t *still_services_of_room(still_arena *arena, const still_plant *plant,
                                 const still_room *room, uint32_t *n);
/** Its hazard statements, those of the file and those that the program knows.
 *  @return arena memory, "" = none is known; NULL when memory is out */
const char *still_service_hazards(still_arena *arena, const still_plant *plant, uint32_t service);
/** Its substance is one of the program's words ("ammonia", "carbon-dioxide", …). */
bool still_service_is(const still_plant *plant, uint32_t service, const char *substance);
/** A compartment has a service of this substance. */
bool still_room_carries(const still_plant *plant, const still_room *room, const char *substance);

/** Why oil is expected in a compartment (E9). */
typedef enum still_oil {
    STILL_OIL_NONE,
    STILL_OIL_AMMONIA, /**< low points of liquid ammonia: oil gathers there */
    STILL_OIL_KNOWN    /**< a vessel of the role oil, or a service that is called oil */
} still_oil;
still_oil still_room_oil(const still_plant *plant, const still_room *room);
/** Where oil of a compartment is drained: a stop valve and then a self-closing one.
 *  @param[out] way  these two; what it holds is of no use where there is none */
bool still_oil_drain(const still_plant *plant, const still_room *room, uint32_t way[2]);

/** Normal temperature of an exchanger's side, K; NAN = not said. */
double still_side_K(const still_plant *plant, uint32_t side);
/** Of an exchanger that is partly inside: a side that stays outside and is warmer than the one
 *  inside, or not said to be cooler, such as "HW, 80 degC".
 *  @return "" = none; NULL when memory is out */
const char *still_warmer_side_outside(still_arena *arena, const still_isolation *iso,
                                      uint32_t comp);

/** Normal pressure behind a point, on its live side: the lowest that is known, bar absolute.
 *  @param point    number of the point in iso->points
 *  @param unknown  a service there has none
 *  @return NAN where none is known */
double still_live_pressure_bara(const still_isolation *iso, uint32_t point, bool *unknown);

/** What stands behind a point in service, so that it can be proved against it (P4). */
typedef enum still_pressed {
    STILL_PRESSED_WELL,   /**< by all that the plant file says */
    STILL_PRESSED_BARELY, /**< within 0.5 bar above atmosphere: what passes hardly shows */
    STILL_PRESSED_NEVER   /**< the same, and all ways on are shut or one-way: nitrogen
                             on the side of the work shows nothing either */
} still_pressed;
/** @param point  number of the point in iso->points
 *  @return false when memory is out */
bool still_point_pressed(still_pressed *out, still_arena *arena, const still_isolation *iso,
                         uint32_t point);

#endif
