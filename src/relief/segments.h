/** @file segments.h  Every piece of a plant that can be shut in, and how it is covered (L1 to L5).
 *
 *  The worst case of all states: every closable device shut (rule L5; docs/METHOD.md, 5). */
#ifndef STILL_SEGMENTS_H
#define STILL_SEGMENTS_H

#include "arena.h"
#include "relief.h"
#include "warming.h"

typedef enum still_cover {
    STILL_COVER_COVERED,
    STILL_COVER_UNCOVERED,
    STILL_COVER_NOT_FULL /**< not full of liquid, and stays below its design pressure (L3) */
} still_cover;

/** The first state, from everyday to worst, in which an uncovered piece finds no cover. */
typedef enum still_shut_by {
    STILL_SHUT_BY_NOBODY, /**< not uncovered */
    STILL_SHUT_BY_ITSELF,
    STILL_SHUT_BY_PERSON,
    STILL_SHUT_BY_PLAN
} still_shut_by;

/** Lists hold component numbers, in the order of the plant file. Arena memory. */
typedef struct still_piece_facts {
    uint32_t *ids, n_ids; /**< components and spools, without what shuts it in and relief valves */
    uint32_t *sides, n_sides;         /**< exchanger sides in it */
    uint32_t *closed_by, n_closed_by; /**< what shuts it in */
    uint32_t *covers, n_covers;       /**< relief valves and open outlets on the way to its cover */
    uint32_t *conditions, n_conditions; /**< devices on that way that must stay as they are */
    uint32_t lowest;                    /**< of ids: bytewise lowest id */
    uint32_t weakest;                   /**< component that declares the lowest design pressure */
    still_cover cover;
    still_shut_by shut_by;
    bool relieved;      /**< a relief valve or rupture disc has its inlet here */
    bool stub;          /**< one device shuts it in, all its other ends are capped */
    bool full;          /**< liquid-full by L3 */
    bool at_limit;      /**< the drawing ends in it, or a port is joined to nothing */
    double design_bara; /**< NAN = unknown */
    double open_bara;   /**< lowest opening pressure of a cover in reach; INFINITY = none */
    uint32_t stronger_by, stronger; /**< hand valve to a piece that opens above the own design
                                         pressure, and the lowest id there (L5); STILL_NONE */
    still_warming warming;
} still_piece_facts;

typedef struct still_segments {
    still_piece_facts *items; /**< pieces with at least one spool, in the order of first port */
    uint32_t n;
} still_segments;

/** @return STILL_OK, STILL_E_NOMEM. Cost: near linear in the plant. */
STILL_NODISCARD still_status still_segments_find(still_segments *out, still_arena *arena,
                                                 const still_plant *plant, const still_state *state,
                                                 double ambient_K);

#endif
