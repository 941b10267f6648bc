/** @file zone.h  The part of the plant within reach of the work, merged into pieces.
 *
 *  A piece is what stays joined when every device that could be a point is closed (docs/METHOD.md,
 *  3). Only pieces reached from the work without passing through a wall (a piece with a source that
 *  must stay outside) are looked at. */
#ifndef STILL_ZONE_H
#define STILL_ZONE_H

#include "asked.h"
#include "plant.h"
#include "state.h"
#include "targets.h"
#include "stillset/status.h"

/** A device that could be a point, and its sides. */
typedef struct still_device {
    uint32_t comp;
    uint8_t n;         /**< sides: 2, or 3 for a three-way valve */
    bool valve;        /**< may serve in a layer of valves */
    bool positive;     /**< may serve in the positive layer */
    bool supplied;     /**< D3: its supply is locked with it */
    uint32_t port[3];  /**< in, out; a spool: from, to; three-way: its ports in order */
    uint32_t piece[3]; /**< pieces of those ports; STILL_NONE = not reached */
    bool holds[3];     /**< holds[k]: against what is on side k as its live side (D7) */
    bool unsure[3];    /**< it does so only because a rating or a design pressure is unknown */
    uint8_t positions; /**< three-way: number of declared positions */
    uint8_t joined[8]; /**< by position: bits of the ports that it joins */
} still_device;

typedef struct still_piece {
    uint32_t port0, n_ports; /**< in zone.ports */
    uint32_t item0, n_items; /**< in zone.items */
    uint32_t dev0, n_devs;   /**< in zone.piece_devs; a device with two ports here stands twice */
    double design_max_bara;  /**< highest known design pressure in it and in the pipes at its edge,
                                or  NAN */
    bool design_unknown;     /**< some item has none */
    uint32_t n_equipment;    /**< vessels, pumps, compressors, exchanger sides, opened ones aside */
    uint32_t n_sources;      /**< sources that may be taken inside, opened ones aside */
    uint32_t blocker;        /**< port at a source that can't be taken inside, or STILL_NONE */
    uint64_t grams;          /**< mass of what is known */
    bool mass_unknown;
    bool work;       /**< holds an opened port */
    uint8_t top;     /**< highest label that it can have */
    uint8_t outside; /**< label of what lies outside here: 1 or 2 */
    bool positive;   /**< its sources ask for a positive isolation */
    bool wall;       /**< holds a source that must stay outside */
} still_piece;

typedef struct still_zone {
    const still_plant *plant;
    const still_state *state;
    const still_targets *targets;
    const still_asked *asked; /**< grade that is asked, where */
    bool priced; /**< sources that can be taken inside are passed, at their price, wherever they are
                  */
    still_piece *pieces;
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
    bool infeasible;         /**< a source that can't be taken inside can't be kept outside */
} still_zone;

/** Closable by docs/METHOD.md, 3: may be a point of a layer of valves if its rating holds. */
bool still_closable(const still_plant *plant, const still_state *state,
                    const still_targets *targets, uint32_t comp);
/** May be a point of the positive layer. */
bool still_parts_positively(const still_plant *plant, const still_state *state,
                            const still_targets *targets, uint32_t comp);
/** A source (N3) by its component; ports joined to nothing are looked for apart. */
typedef enum still_source_class {
    STILL_SOURCE_NONE,
    STILL_SOURCE_TAKEABLE, /**< vessel, or pump or compressor whose feeds can all be locked */
    STILL_SOURCE_FIXED     /**< cannot be taken inside */
} still_source_class;
still_source_class still_source_of(const still_plant *plant, const still_state *state,
                                   uint32_t comp);
/** A source that the work has to do with: opened components are none, save limits and outlets. */
still_source_class still_zone_source(const still_zone *zone, uint32_t comp);
/** A port that nothing is joined to counts as a limit under pressure (N2); caps aside. */
bool still_port_dangles(const still_plant *plant, uint32_t port);
/** Rating of a device in bar absolute: as said, else its own design pressure, else the least of its
 *  spools' (a spool: its service's); NAN = unknown (D7). */
double still_device_rating_bara(const still_plant *plant, uint32_t comp);
/** An outlet that others can pressurise, or of which that is not excluded (N2, N3). */
bool still_outlet_shared(const still_plant *plant, uint32_t comp);
/** An outlet that may serve as a bleed: unshared, to a safe place, flare or scrubber (E4, first
 *  row). */
bool still_outlet_bleeds(const still_plant *plant, uint32_t comp);

/** The ports joined to a port by its own component when we isolate, from index *k on: call with
 *  *k = 0 and go on until it returns STILL_NONE. The port itself may be among them. A device of the
 *  zone joins nothing. */
uint32_t still_zone_next_joined(const still_zone *zone, uint32_t port, uint32_t *k);
/** The component (spools too) is a device of this zone: it may be a point. */
bool still_zone_device(const still_zone *zone, uint32_t comp);
/** Label of the far piece at most, when the near piece has label `label` (its own `outside` does
 *  not count): one more where the device may serve in the next layer and holds against the far
 * side. */
uint8_t still_zone_step(const still_zone *zone, const still_device *device, int near_side,
                        int far_side, uint8_t label);
/** A three-way valve in some position parts side a from side b. */
bool still_device_can_part(const still_device *device, int a, int b);
/** The device may be a point between labels `layer - 1` and `layer` there, as far as its kind goes.
 */
bool still_device_serves(const still_zone *zone, const still_device *device, uint8_t layer);

/** Explore. @param[out] zone  filled in place; still_zone_clear; cleared on failure
 *  @param asked  kept by pointer
 *  @return STILL_OK, STILL_E_NOMEM */
STILL_NODISCARD still_status still_zone_build(still_zone *zone, const still_plant *plant,
                                              const still_state *state,
                                              const still_targets *targets,
                                              const still_asked *asked, bool priced);
void still_zone_clear(still_zone *zone);

#endif
