/** @file outlets.h  Inner parts of drain/: outlets of a space, and which serves a room (E2, E4,
 * E5). */
#ifndef STILL_OUTLETS_H
#define STILL_OUTLETS_H

#include "levels.h"

/** An outlet of the space and the way to it. */
typedef struct still_outlet {
    uint32_t comp, port, room;
    uint32_t from; /**< port where its way begins: the place in the room that it takes from */
    still_outway way;
    bool hand_valve, self_closing, open;
} still_outlet;

typedef struct still_outlets {
    still_outlet *items; /**< to be freed with still_free */
    size_t n;
} still_outlets;

/** @return STILL_OK, STILL_E_NOMEM. Ways are arena memory. Cost: a search an outlet. */
STILL_NODISCARD still_status still_outlets_list(still_outlets *out, still_space *space,
                                                still_arena *arena);

/** In a cell that does not only lead outward. */
bool still_outlets_core(const still_space *space, uint32_t port);

/** Choose the outlets of a room, and fill its vent, prove, drain, air_in, pockets.
 *  @param number  of the room, from 0. @return STILL_OK, STILL_E_NOMEM.
 *  Cost: a search for each outlet that is fit to drain the room. */
STILL_NODISCARD still_status still_outlets_serve(still_room *room, uint32_t number,
                                                 const still_outlets *outlets, still_space *space,
                                                 still_arena *arena, still_levels *levels);

#endif
