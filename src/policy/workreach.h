/** @file workreach.h  What can be reached from the work: near it, and up to the sources (rule I3).
 *
 *  *Near*: without passing a device that may be a point of a valve layer (D1, D3, D5, a fitted
 *  blind) and is not refused there by its rating (D7); those first devices belong to it.
 *  *Reached*: through everything but what is opened, stopping at each source that is not near.
 *  What is reached falls into regions: parts that do not meet. Inner header of policy/. */
#ifndef STILL_WORKREACH_H
#define STILL_WORKREACH_H

#include "plant.h"
#include "state.h"
#include "stillset/status.h"
#include "targets.h"

/** A port has two halves: the component's (2 * port) and the pipe's (2 * port + 1). They are
 *  joined unless the joint there is opened. */
typedef struct still_halves {
    uint32_t *items;
    size_t n, cap;
} still_halves;

/** A source that was reached: a component, or a port that nothing is joined to. */
typedef struct still_reached {
    uint32_t comp;
    uint32_t port; /**< open port, or STILL_NONE: the component itself */
    uint32_t half; /**< where it was reached first */
} still_reached;

typedef struct still_workreach {
    const still_plant *plant;
    const still_state *state;
    const still_targets *targets;
    const uint32_t *through; /**< sources taken inside, which are passed as well */
    size_t n_through;
    still_halves near;      /**< near the work, first devices included */
    still_halves reached;   /**< all that is reached */
    still_halves queue;     /**< work space */
    uint8_t *is_near;       /**< by half */
    uint32_t *region;       /**< by half: 1 + member of its region, 0 = not reached */
    uint32_t *piece;        /**< by half: 1 + piece, for D7 */
    double *piece_max_bara; /**< by piece: highest known design pressure, or NAN */
    size_t n_pieces, cap_pieces;
    uint32_t *source_at; /**< by component: 1 + its place in sources, 0 = none */
    still_reached *sources;
    size_t n_sources, cap_sources;
} still_workreach;

/** Explore. @param[out] reach  filled in place; pair: still_workreach_clear, also after a failure
 *  @return STILL_OK, STILL_E_NOMEM. Cost: linear in what is reached, nearly; D7 looks at the piece
 *  behind each first device. */
STILL_NODISCARD still_status still_workreach_find(still_workreach *reach, const still_plant *plant,
                                                  const still_state *state,
                                                  const still_targets *targets,
                                                  const uint32_t *through, size_t n_through);
void still_workreach_clear(still_workreach *reach);
/** Number that stands for the region of a half that was reached. */
uint32_t still_region_of(still_workreach *reach, uint32_t half);
/** May the component be a point of a valve layer toward this port of its own? */
bool still_stops_at(const still_workreach *reach, uint32_t port);

/** Next half joined to a half, from *k = 0 on, or STILL_NONE. Sources and devices join. */
uint32_t still_half_next(const still_workreach *reach, uint32_t half, uint32_t *k);

#endif
