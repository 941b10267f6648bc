/** @file puddle.h  Liquid that stays behind below the way to a drain (E3). */
#ifndef STILL_PUDDLE_H
#define STILL_PUDDLE_H

#include "space.h"

/** Pockets of a room that is drained through one outlet.
 *  @param outlet  port of the outlet
 *  Fills room->drainage_shown, room->puddles. @return STILL_OK, STILL_E_NOMEM */
STILL_NODISCARD still_status still_puddles_find(still_room *room, still_arena *arena,
                                                still_space *space, uint32_t outlet);

#endif
