/** @file puddle.h  Liquid that stays behind below the way to a drain (E3). */
#ifndef STILL_PUDDLE_H
#define STILL_PUDDLE_H

#include "levels.h"

/** What stays in a room that is drained.
 *  @param levels  room to work in, for this space
 *  @param drains  outlets that it is drained through
 *  Fills room->drainage_shown, unshown, puddles. @return STILL_OK, STILL_E_NOMEM.
 *  Cost: n log n for n ports of the space. */
STILL_NODISCARD still_status still_puddles_find(still_room *room, still_arena *arena,
                                                still_space *space, still_levels *levels,
                                                const still_drains *drains);

/** Which of two rooms keeps less: less that is not shown, then fewer puddles of unknown volume,
 * then less volume of the others. @return < 0: a, > 0: b, 0: the same */
int still_puddles_compare(const still_room *a, const still_room *b);

#endif
