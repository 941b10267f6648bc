/** @file space.h  Inner parts of drain/: the ports of a space, its rooms and cells. */
#ifndef STILL_SPACE_H
#define STILL_SPACE_H

#include "rooms.h"

/** A space under work. A *room* is what joins once every hand device inside is opened (E1); a
 * *cell* is what joins while those that have to be opened are still shut. */
typedef struct still_space {
    const still_plant *plant;
    const still_state *state;
    const uint8_t *work_port;
    const uint8_t *shut; /**< by component: a point that is closed by now, or NULL */
    const still_targets *targets;
    uint32_t *ports; /**< ports of the space, ascending */
    uint32_t n_ports;
    uint32_t *room_of; /**< by port: 1 + room, 0 = not in the space */
    uint32_t *cell_of; /**< by port: 1 + cell */
    uint32_t n_rooms, n_cells;
    uint8_t *outward; /**< by cell: mere pipework on the way to an outlet */
    uint8_t *outlets; /**< by cell: an outlet belongs to it: 1 = surely capped, 2 = may be open */
    uint8_t *barred;  /**< by component: not opened, since it would let the section out early */
    uint32_t *queue, *parent, *stamp; /**< by port: for searches */
    uint32_t round;
} still_space;

/** What a search may pass. */
typedef enum still_pass {
    STILL_PASS_CELL, /**< only what stands open */
    STILL_PASS_ROOM, /**< also what a person opens */
    STILL_PASS_DRAIN /**< also self-closing valves, held open by a person in attendance */
} still_pass;

/** @return STILL_OK, STILL_E_NOMEM. Clear in every case. */
STILL_NODISCARD still_status still_space_build(still_space *space, const still_plant *plant,
                                               const still_state *state, const uint8_t *work_port,
                                               const uint8_t *shut, const still_targets *targets);
void still_space_clear(still_space *space);

/** More than pipework: the target, equipment, a point, a device that parts rooms. */
bool still_space_anchors(const still_space *space, uint32_t comp);

/** The k-th neighbour of a port: spool first, then ports of its component that `pass` lets through;
 *  call with *k = 0 until STILL_NONE. Only ports of the space. */
uint32_t still_space_next(const still_space *space, uint32_t port, still_pass pass, uint32_t *k);

#endif
