/** @file bleedways.h  What a bleed asks of labels, as far as a cut can say it.
 *
 *  A *cell* is what joins under E1 when every device that could be a point is closed: a piece is
 *  made of one or more. A piece between is bled only where each of its cells is joined to an outlet
 *  through pieces that lie between, too. Where all ways of a cell lead on through one piece, that
 *  one lies between with it (docs/METHOD.md, 3.4). */
#ifndef STILL_BLEEDWAYS_H
#define STILL_BLEEDWAYS_H

#include "bleed.h"

typedef struct still_bleed_door {
    uint32_t cell;   /**< the cell on the other side */
    uint32_t device; /**< number of the device */
    uint8_t near, far;
} still_bleed_door;

/** Cells of all pieces in play of which a bleed may be asked; grouped by piece. */
typedef struct still_bleed_ways {
    const still_layers *layers;
    uint32_t n_cells;
    uint32_t *cell_of; /**< by port: 1 + cell, 0 = none */
    uint32_t *piece;   /**< by cell */
    uint8_t *bled;     /**< by cell: 1 = has an outlet of its own; 2 = is taken to have one */
    uint8_t *asked;    /**< by cell: a bleed is asked when it lies between */
    uint32_t *door0;   /**< by cell, n_cells + 1: first of its doors */
    still_bleed_door *doors;
    uint32_t *need0; /**< by cell, n_cells + 1: first of the isolators that its outlets need */
    uint32_t *needs;
    size_t n_needs, needs_cap;
    uint32_t *feed0; /**< by piece, n_pieces + 1: first of its isolators */
    uint32_t *feeds; /**< isolators that something in it or at its edge depends on, but for those
                          that the work depends on in any case */
} still_bleed_ways;

/** Piece `piece` lies between with something behind it only if `with` lies between. */
typedef struct still_bleed_tie {
    uint32_t piece, with;
    bool both; /**< also if nothing lies behind it */
} still_bleed_tie;

/** What holds in one case. */
typedef struct still_bleed_ties {
    uint8_t *never;  /**< by piece: cannot lie between with something behind it */
    uint8_t *mortal; /**< by piece: may lie between, in the best choice, with nothing behind it */
    uint8_t *forced; /**< by piece: lies between */
    bool none;       /**< no labelling */
    still_bleed_tie *ties;
    size_t n_ties, ties_cap;
} still_bleed_ties;

/** @return STILL_OK, STILL_E_NOMEM. Clear in every case. Cost: linear in the zone. */
STILL_NODISCARD still_status still_bleed_ways_build(still_bleed_ways *ways, still_bleeds *bleeds,
                                                    const still_case *root);
void still_bleed_ways_clear(still_bleed_ways *ways);

/** @return STILL_OK, STILL_E_NOMEM. Clear in every case. Cost: linear in the zone, a few times. */
STILL_NODISCARD still_status still_bleed_ties_find(still_bleed_ties *ties,
                                                   const still_bleed_ways *ways,
                                                   const still_case *c);
/** A dead space with this piece may save a feed: some isolator of it need not be locked so far; or
 * the piece lies in a dead space. */
bool still_bleed_reason(const still_bleed_ways *ways, const still_case *c, uint32_t piece);
/** Cells that a cell could be joined to in a space between.
 *  @param[out] parent  by cell, room for n_cells: the next one on a way to `cell` (which has
 * itself); STILL_NONE = cannot be joined. @return STILL_OK, STILL_E_NOMEM */
STILL_NODISCARD still_status still_bleed_ways_reach(const still_bleed_ways *ways,
                                                    const still_case *c, uint32_t cell,
                                                    uint32_t *parent);
void still_bleed_ties_clear(still_bleed_ties *ties);

#endif
