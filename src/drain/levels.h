/** @file levels.h  How high liquid stands when a space is drained (E3). */
#ifndef STILL_LEVELS_H
#define STILL_LEVELS_H

#include "space.h"

/** Heights that differ by less count as the same, in metres. */
#define STILL_LEVEL_TOLERANCE_M 0.0005

/** Levels and room to work in; one for all outlets of a space. */
typedef struct still_levels {
    double *level;  /**< by port, in metres; INFINITY = no way to the outlet on known heights */
    uint32_t *heap; /**< inner */
    uint32_t *mark, *side_mark; /**< by component, by side: number of the last pocket it is in */
    uint8_t *seen;              /**< by port */
    uint32_t *list;             /**< components of a pocket */
    uint32_t round;             /**< last number used in mark and side_mark */
} still_levels;

/** @return STILL_OK, STILL_E_NOMEM. Pair: still_levels_clear, in every case. */
STILL_NODISCARD still_status still_levels_init(still_levels *l, const still_space *space);
void still_levels_clear(still_levels *l);

/** Outlets that a space is drained through, one after the other: their ports, and the ways to them.
 */
typedef struct still_drains {
    const uint32_t *outlets;
    const still_outway *ways;
    uint32_t n;
} still_drains;

/** Fill level[] for all ports of the space, drained through these outlets.
 *  @param drains  of the self-closing valves only those on their ways are held open */
void still_levels_settle(still_levels *l, const still_space *space, const still_drains *drains);

/** Whether liquid stays at a port: it lies below its level, and that is known. */
bool still_levels_wet(const still_levels *l, const still_plant *plant, uint32_t port);
/** Whether it is known what stays at a port: its height is, and a way from there to the outlet. */
bool still_levels_known(const still_levels *l, const still_plant *plant, uint32_t port);

#endif
