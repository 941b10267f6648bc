/** @file zone.h  The part of the plant within reach of the work, merged into pieces.
 *
 *  A piece is what stays joined when every closable device is closed (docs/METHOD.md, 3). Only
 *  pieces reached from the target without passing through a wall (a piece with a source that
 *  must stay outside) are looked at. */
#ifndef STILL_ZONE_H
#define STILL_ZONE_H

#include "plant.h"
#include "state.h"
#include "stillset/status.h"

/** A closable device and its two sides. */
typedef struct still_device {
    uint32_t comp;
    uint32_t port[2];  /**< in, out */
    uint32_t piece[2]; /**< pieces of those ports; STILL_NONE = not reached */
    bool holds[2];     /**< holds[k]: against the piece on side k as its live side (D7) */
    bool unsure[2];    /**< it does so only because a rating or a design pressure is unknown */
} still_device;

typedef struct still_piece {
    uint32_t port0, n_ports; /**< in zone.ports */
    uint32_t item0, n_items; /**< in zone.items */
    uint32_t dev0, n_devs;   /**< in zone.piece_devs; a device with both ports here stands twice */
    uint32_t n_sources;      /**< sources that may be taken inside, the target's own aside */
    uint32_t blocker;        /**< port at a source that can't be taken inside, or STILL_NONE */
    uint64_t grams;          /**< mass of what is known */
    bool mass_unknown;
    double design_max_bara; /**< highest known design pressure in it, or NAN */
    bool design_unknown;    /**< some item has none */
    bool forced;            /**< inside in every plan (R of METHOD 3.1) */
    bool wall;              /**< holds a source that must stay outside */
} still_piece;

typedef struct still_zone {
    const still_plant *plant;
    const still_state *state;
    uint32_t target;
    still_piece *pieces; /**< piece 0 holds the target */
    size_t n_pieces, pieces_cap;
    still_device *devices;
    size_t n_devices, devices_cap;
    uint32_t *ports; /**< grouped by piece */
    size_t n_ports, ports_cap;
    uint32_t *items; /**< component numbers grouped by piece; an exchanger once a piece */
    size_t n_items, items_cap;
    uint32_t *piece_devs; /**< device numbers grouped by piece */
    size_t n_piece_devs, piece_devs_cap;
    uint32_t *piece_of_port; /**< by port: 1 + piece, 0 = not reached */
    uint32_t *device_of;     /**< by component: 1 + device, 0 = none */
    uint8_t *seen_comp;      /**< by component */
    uint8_t *seen_side;      /**< by exchanger side */
    bool infeasible;         /**< a forced piece has a blocker */
} still_zone;

/** Closable by docs/METHOD.md, 3: may be a point if its rating holds. */
bool still_closable(const still_plant *plant, const still_state *state, uint32_t target,
                    uint32_t comp);
/** A source (N3) by its component; ports joined to nothing are looked for apart. */
typedef enum still_source_class {
    STILL_SOURCE_NONE,
    STILL_SOURCE_TAKEABLE, /**< vessel, or pump or compressor whose feeds can all be locked */
    STILL_SOURCE_FIXED     /**< cannot be taken inside */
} still_source_class;
still_source_class still_source_of(const still_plant *plant, const still_state *state,
                                   uint32_t comp);
/** A port that nothing is joined to counts as a limit under pressure (N2); caps aside. */
bool still_port_dangles(const still_plant *plant, uint32_t port);
/** Rating of a device in bar absolute: as said, else its own design pressure, else the least of its
 *  spools'; NAN = unknown (D7). */
double still_device_rating_bara(const still_plant *plant, uint32_t comp);
/** An outlet that others can pressurise, or of which that is not excluded (N2, N3). */
bool still_outlet_shared(const still_plant *plant, uint32_t comp);

/** The ports joined to a port by its own component when we isolate, from index *k on: call with
 *  *k = 0 and go on until it returns STILL_NONE. The port itself may be among them. A closable
 *  device joins nothing. */
uint32_t still_zone_next_joined(const still_zone *zone, uint32_t port, uint32_t *k);

/** Explore. @param[out] zone  filled in place; still_zone_clear; cleared on failure
 *  @return STILL_OK, STILL_E_NOMEM */
STILL_NODISCARD still_status still_zone_build(still_zone *zone, const still_plant *plant,
                                              const still_state *state, uint32_t target);
void still_zone_clear(still_zone *zone);

#endif
