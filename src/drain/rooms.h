/** @file rooms.h  Compartments of a space, and the ways to let off, prove and drain each (E1 to
 * E4). */
#ifndef STILL_ROOMS_H
#define STILL_ROOMS_H

#include "arena.h"
#include "inventory.h"
#include "plant.h"
#include "state.h"
#include "targets.h"
#include "stillset/status.h"

/** A way to an outlet: devices from the work outward, the outlet last. Empty = none. */
typedef struct still_outway {
    uint32_t *items, n;
    bool by_self_closing; /**< passes a self-closing valve: attended, never a bleed */
} still_outway;

/** Liquid that stays behind (E3). */
typedef struct still_puddle {
    uint32_t *ids, n_ids;
    double volume_m3, mass_kg; /**< at most; NAN = unknown */
    double lowest_m;           /**< its lowest known elevation */
    uint32_t lowest;           /**< component there */
    uint32_t loosen_port;      /**< its lowest flanged joint, or STILL_NONE */
    uint32_t evaporate;        /**< outlet through which it boils off, or STILL_NONE */
    bool boils;                /**< all of it boils well below room temperature at 1 atm */
} still_puddle;

/** Time to let off through one outlet: an estimate, never a basis for proof. */
typedef struct still_let_down {
    uint32_t through;    /**< outlet, or STILL_NONE = nothing here */
    double bore_mm;      /**< narrowest on the way; NAN = unknown */
    double liquid_s;     /**< NAN = not estimated */
    double vapour_s;     /**< likewise */
    bool liquid, vapour; /**< what is let off here */
    bool at_least;       /**< a flashing liquid goes on making vapour */
    const char
        *not_estimated; /**< why not; NULL = there is a number for all that is let off here */
} still_let_down;

/** A compartment (E1). */
typedef struct still_room {
    uint32_t *ids, n_ids; /**< components and spools; devices that part it are not in it */
    uint32_t *ports, n_ports;
    bool liquid;   /**< can hold liquid */
    bool open_air; /**< an outlet said to be open to a safe place or flare belongs to it */
    bool between;  /**< between first and second devices, not on the work side */
    bool work;     /**< holds an opened port */
    still_outway vent, drain, prove;
    still_outway *further; /**< further drains: each takes what would stay behind without it */
    uint32_t n_further;
    uint32_t gauge; /**< index in plant->gauges of a pressure gauge with a usable root valve, or
                       STILL_NONE */
    bool drainage_shown;          /**< of all that is in it */
    uint32_t *unshown, n_unshown; /**< parts of which it is not known what stays behind */
    double volume_m3, mass_kg;
    still_amount amount; /**< the same by phase */
    still_puddle *puddles;
    size_t n_puddles;
    bool vent_wet;          /**< its vent takes from below the liquid: liquid comes first */
    uint32_t air_in;        /**< outlet above the drain by which air comes in, or STILL_NONE */
    bool flashes;           /**< all of it boils: its own vapour fills it while it drains */
    uint32_t *meet, n_meet; /**< devices that open parts of it into one header (E5) */
    still_let_down by_drain, by_vent;
} still_room;

/** It stands open to the air, and is not the work's: nothing to let off, and nothing is moved for
 * it. */
static inline bool still_room_is_open(const still_room *room)
{
    return room->open_air && !room->work;
}

/** A compartment between that has no drain but its bleed stays full up to it, where nobody opens
 * it: what passes a valve then shows. What boils does not stay.
 *  @param blinds  joints are opened for blinds */
static inline bool still_room_keeps_full(const still_room *room, bool blinds)
{
    return !blinds && !room->flashes && room->between && room->prove.n > 0 &&
           room->n_further == 0 &&
           (room->drain.n == 0 ||
            room->drain.items[room->drain.n - 1] == room->prove.items[room->prove.n - 1]);
}

/** A port of it, the inner ports of the devices that part it among them. */
static inline bool still_room_has(const still_room *room, uint32_t port)
{
    for (uint32_t i = 0; i < room->n_ports; i++)
        if (room->ports[i] == port) return true;
    return false;
}

/** Hand devices inside that must be opened so that a compartment is one space. */
typedef struct still_opening {
    uint32_t comp;
    bool override;  /**< manual opening of a device that acts by itself or is driven */
    bool late;      /**< only when pressure has been let off: it leads toward an outlet */
    double bore_mm; /**< NAN = unknown */
} still_opening;

typedef struct still_rooms {
    still_room *rooms;
    size_t n_rooms;
    still_opening *openings; /**< smallest first, then by id */
    size_t n_openings;
} still_rooms;

/** How a device inside a space stands when we empty it (docs/METHOD.md, section 1, E1). */
typedef enum still_passage {
    STILL_PASSAGE_PARTS,   /**< counts as shut */
    STILL_PASSAGE_JOINS,   /**< stands open */
    STILL_PASSAGE_OPEN_IT, /**< joins once a person opens it: a closed hand valve */
    STILL_PASSAGE_OVERRIDE /**< joins once its manual opening is used */
} still_passage;
still_passage still_passage_of(const still_plant *plant, const still_state *state, uint32_t comp);

/** Divide a space.
 *  @param work_port  by port: belongs to the space
 *  @param shut       by component: points that are closed by now, also where both of their sides
 *                    belong to the space; NULL = none
 *  @param[out] out   arena memory; rooms in the order of the plant file
 *  @return STILL_OK, STILL_E_NOMEM. Cost: linear in the space, and a search an outlet. */
STILL_NODISCARD still_status still_rooms_find(still_rooms *out, still_arena *arena,
                                              const still_plant *plant, const still_state *state,
                                              const uint8_t *work_port, const uint8_t *shut,
                                              const still_targets *targets);

#endif
