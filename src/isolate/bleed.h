/** @file bleed.h  Is a space bled, in each of its compartments (I2, E1, E4)? */
#ifndef STILL_BLEED_H
#define STILL_BLEED_H

#include "layers.h"

/** Working arrays, and what the last check found. */
typedef struct still_bleeds {
    const still_layers *layers;
    uint32_t *room;           /**< by port: number of its compartment in this check, 0 = none */
    uint32_t *stub, *reached; /**< by port: mark of a search */
    uint32_t *parent;         /**< by port, of that search */
    uint32_t *queue, *inner;
    uint32_t mark;
    bool everywhere;    /**< set by the caller: look at all spaces between, asked for or not */
    uint32_t pass_over; /**< set by the caller: so many gaps before the one that is noted */
    bool all_gaps;   /**< set by the caller: note the pieces of every gap, not of the first only */
    uint32_t *noted; /**< by piece, then by device: the check in which it was noted */
    uint32_t n_checks;
    uint8_t *touches;  /**< by piece: its space has a point of layer 2 at its edge */
    uint32_t *stack;   /**< of pieces */
    uint32_t *touched; /**< ports with a room, in the order of the search */
    size_t n_touched;
    /* The first compartment without a bleed: */
    bool gap;
    size_t gap0;                  /**< its ports: from here on in `touched` */
    uint32_t *pieces, n_pieces;   /**< pieces that it touches */
    uint32_t *devices, n_devices; /**< points that bound it */
    uint32_t *lock, n_lock;       /**< isolators that would have to be locked for a way to serve */
} still_bleeds;

/** @return STILL_OK, STILL_E_NOMEM. Clear in every case. */
STILL_NODISCARD still_status still_bleeds_init(still_bleeds *b, const still_layers *layers);
void still_bleeds_clear(still_bleeds *b);

/** What is told of each compartment: its ports, and the way to its bleed (devices from the space
 *  outward, the outlet last; n == 0: none). @return false when memory is out */
typedef bool (*still_bleed_tell)(void *arg, const uint32_t *ports, size_t n_ports,
                                 const uint32_t *way, size_t n_way);

/** Look at all compartments of the spaces with this label, in regions that ask for a bleed there;
 *  between: only of spaces that have a second device behind them.
 *  @param locked  by isolator; NULL = all
 *  @param tell    NULL: stop at the first gap
 *  @return STILL_OK, STILL_E_NOMEM. Cost: linear in these spaces, for each of their outlets. */
STILL_NODISCARD still_status still_bleeds_check(still_bleeds *b, const uint8_t *label,
                                                uint8_t which, const uint8_t *locked,
                                                still_bleed_tell tell, void *arg);

/** Labels as wide as a space with this label can ever be: by piece, room as in still_labelling. */
void still_bleeds_widest(const still_layers *layers, const still_case *root, uint8_t which,
                         uint8_t *label);
/** A port at a fit outlet that can serve as a bleed of a space between with these labels.
 *  @param locked  by isolator; NULL = all. Isolators that would have to be locked are added to
 * b->lock */
bool still_bleeds_outlet(still_bleeds *b, const uint8_t *label, uint32_t port,
                         const uint8_t *locked);

/** Pieces that can never be bled: marked in never_between, or their label is raised in the case.
 *  @return STILL_OK, STILL_E_NOMEM */
STILL_NODISCARD still_status still_bleeds_rule_out(still_bleeds *b, still_layers *layers,
                                                   still_case *root);

#endif
