/** @file relief.h  Closed-in liquid: pieces, ways out, cover (rules L1 to L3), in one given state.
 *
 *  A function of (plant, state, what the plan holds). Pressures here are differences to the
 *  atmosphere, in bar. Argument: docs/METHOD.md, 5. */
#ifndef STILL_RELIEF_H
#define STILL_RELIEF_H

#include "plant.h"
#include "state.h"
#include "stillset/status.h"

/** Pressures are compared with a thousandth of a millibar of slack for the rounding of units. */
#define STILL_RELIEF_SLACK_BAR 1e-6

/** What a plan holds a device at; by component. An outlet held open has its cap taken off. */
enum { STILL_HELD_NOT, STILL_HELD_OPEN, STILL_HELD_CLOSED };

/** Which hand stop valves and blinds count as open ways, beside what the plan holds. */
typedef enum still_hands {
    STILL_HANDS_TODAY,    /**< those known to be open today */
    STILL_HANDS_NORMAL,   /**< those that stand open in normal operation */
    STILL_HANDS_STANDING, /**< of these, only what nobody closes but for service: valves with
                               use="service", sealed valves, blinds */
    STILL_HANDS_SEALED    /**< only valves sealed open: rule L2 by itself */
} still_hands;

/** A piece (L1). */
typedef struct still_relief_piece {
    uint32_t segment;  /**< segment that it belongs to in this state */
    bool full;         /**< liquid-full by L3 (without warming) */
    bool any_item;     /**< holds a spool, vessel or exchanger side */
    double design_bar; /**< lowest design pressure, or NAN: unknown */
    bool vapour_space; /**< holds a vessel with declared vapour space */
    bool covered;
    bool open_outlet; /**< its ways reach an open outlet */
    double open_bar;  /**< lowest opening pressure of a cover, INFINITY = none */
    double
        back_bar; /**< lowest back pressure where a relief valve discharges here, INFINITY = none */
    uint32_t chain;                /**< how it is covered (still_relief_follow), once it is */
    uint32_t open_link, back_link; /**< how open_bar and back_bar were found last */
    uint32_t outlet;               /**< open outlet that its ways reach, or STILL_NONE */
    uint32_t out_next, out_by;     /**< way to it; STILL_NONE = it stands here */
} still_relief_piece;

/** A step of a derivation: a device and what lies beyond it. Links are only added, each made of
 * older ones, so a chain of them ends, whatever becomes of the values of its pieces later. */
typedef struct still_relief_link {
    uint32_t by;      /**< device passed; STILL_NONE = a vessel: what covers it gives the back
                           pressure */
    uint32_t next[2]; /**< beyond it; two for the positions of a three-way valve; STILL_NONE */
} still_relief_link;
/** A link beyond which a piece reaches an open outlet: this and the piece's number. */
#define STILL_RELIEF_OUT (UINT32_C(1) << 31)

typedef struct still_relief {
    const still_plant *plant;
    const still_state *state;
    const uint8_t *held;
    still_hands hands;
    uint32_t *piece_of_port; /**< by port */
    still_relief_piece *pieces;
    uint32_t n_pieces;
    uint32_t n_segments;
    still_relief_link *links;
    uint32_t n_links;
    size_t cap_links;
} still_relief;

/** Compute pieces, ways and cover.
 *  @param held  by component (STILL_HELD_…), or NULL: the state alone
 *  @param[out] out  in place, still_relief_clear; cleared on failure
 *  @return STILL_OK, STILL_E_NOMEM. Cost: near linear in the plant. */
STILL_NODISCARD still_status still_relief_build(still_relief *out, const still_plant *plant,
                                                const still_state *state, const uint8_t *held);
/** The same with other hand valves open than today's. */
STILL_NODISCARD still_status still_relief_build_as(still_relief *out, const still_plant *plant,
                                                   const still_state *state, const uint8_t *held,
                                                   still_hands hands);
void still_relief_clear(still_relief *relief);

/** Whether a device lets its two ports through in this state: a hand stop valve known to be open,
 *  or what the plan holds open. */
bool still_relief_open(const still_relief *relief, uint32_t comp);
/** Whether a hand stop valve or blind is open by r->hands, what the plan holds aside: a stop-check
 *  then passes forward. */
bool still_relief_stands_open(const still_relief *relief, uint32_t comp);
/** What a follower of covers does (still_relief_follow). */
typedef struct still_follower {
    void *data;
    /** @return true when this was followed before; else remember it. Below n_links + n_pieces. */
    bool (*seen)(void *data, uint32_t what);
    /** A relief valve, rupture disc or outlet (cover), or a device on the way that must pass as it
     *  does. @return false: memory is out */
    bool (*meet)(void *data, uint32_t comp, bool cover);
} still_follower;
/** Follow the way from a piece to its cover, and behind each relief valve to the end of the chain;
 *  behind a three-way valve through both of its positions.
 *  @return false when memory is out. Cost: linear in the chain. */
bool still_relief_follow(const still_relief *relief, uint32_t piece, const still_follower *f);

/** Piece of a spool. */
static inline uint32_t still_relief_piece_of_spool(const still_relief *r, uint32_t spool)
{
    return r->piece_of_port[r->plant->comps[spool].a];
}

#endif
