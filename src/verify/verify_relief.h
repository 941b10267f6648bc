/** @file verify_relief.h  Closed-in liquid, re-derived (L1 to L3; METHOD section 5). */
#ifndef STILL_VERIFY_RELIEF_H
#define STILL_VERIFY_RELIEF_H

#include "verify_walk.h"

/** A way out from one piece into another (L2), by number of piece. */
typedef struct still_verify_way {
    uint32_t from, to;
    uint32_t device; /**< component */
} still_verify_way;

/** A relief valve or rupture disc that can cover: set pressure known. */
typedef struct still_verify_cover {
    uint32_t in, out; /**< pieces */
    double set, back; /**< bar above atmosphere; back: declared, NAN = not */
    bool balanced;
} still_verify_cover;

/** A three-way valve with a common port: behind each declared position one piece. */
typedef struct still_verify_fork {
    uint32_t common;
    const uint32_t *behind;
    uint32_t n;
} still_verify_fork;

/** Pieces (L1) of the plant in the state after the phase isolate. Pressures in bar above
 *  atmosphere; INFINITY = no cover. */
typedef struct still_verify_relief {
    uint32_t *piece;     /**< by port */
    uint32_t n;          /**< pieces */
    double *design;      /**< by piece: lowest; NAN = unknown */
    uint8_t *design_gap; /**< by piece: something in it has no design pressure */
    uint8_t *not_vapour, *vapour_vessel, *has_spool; /**< by piece */
    uint32_t *segment; /**< by piece: lowest piece that it is joined with in this state */
    uint8_t *moved;    /**< by segment: a device that closes it in was moved by the plan */
    uint8_t *not_full; /**< by segment: holds vapour (L3) */
    double *open;      /**< by piece: lowest back pressure of an open outlet its ways reach */
    double *opening;   /**< by piece: c(x), the lowest opening pressure its ways reach */
    double *vessel;    /**< by piece: lowest c of a covered vessel its ways reach */
    still_verify_way *ways;
    still_verify_cover *covers;
    still_verify_fork *forks;
    uint32_t n_ways, n_covers, n_forks;
} still_verify_relief;

/** Pieces, their contents, and the ways and covers between them. @return false: out of memory */
bool still_verify_relief_pieces(still_verify *v, still_verify_relief *r);
/** Set open, opening, vessel: the least values that the rules of METHOD section 5 allow. */
void still_verify_relief_settle(still_verify_relief *r);
/** L2: covered by what its own ways reach. */
bool still_verify_covered(const still_verify_relief *r, uint32_t piece);

#endif
