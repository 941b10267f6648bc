/** @file warming.h  A piece of plant, shut in, that warms up: its numbers (L3, L4).
 *
 *  The contents of all its pipes, vessels and exchanger sides become one start state (closedin.h),
 *  its walls one wall (wall.h); all at one temperature. What is not known counts the dangerous way
 *  or leaves the number out, never in between. Argument: docs/METHOD.md, "Numbers for closed-in
 *  liquid". */
#ifndef STILL_WARMING_H
#define STILL_WARMING_H

#include "closedin.h"
#include "plant.h"
#include "state.h"

/** Default of --ambient: 40 degC (rule L3). */
#define STILL_AMBIENT_K 313.15

/** Why a piece has no numbers, or which numbers they are. */
typedef enum still_warming_basis {
    STILL_WARMING_NONE,      /**< no numbers: `why` says why */
    STILL_WARMING_EQUATION,  /**< equation of state */
    STILL_WARMING_CONSTANTS, /**< constants of the file */
    STILL_WARMING_GAS /**< dry gas without an equation: pressure in proportion to temperature */
} still_warming_basis;

typedef struct still_warming {
    still_warming_basis basis;
    const char *why;           /**< constant text; "" when there are numbers */
    unsigned flags;            /**< STILL_CLOSEDIN_… */
    bool full;                 /**< liquid-full at the start */
    bool mixed_temperatures;   /**< its services differ in temperature: the coldest was taken */
    uint32_t service;          /**< whose substance and start state were taken, or STILL_NONE */
    double volume_m3, mass_kg; /**< NAN = unknown */
    double start_K, start_bara;
    double rigid_bar_per_K, bar_per_K;       /**< at the start; NAN = none */
    bool reaches;                            /**< the design pressure, by ambient */
    double reaches_K;                        /**< NAN = not by ambient, or not known */
    bool by_vapour;                          /**< reached by vapour pressure */
    bool unknown;                            /**< whether it is reached could not be computed */
    double full_K;                           /**< becomes liquid-full there; NAN = it does not */
    double ambient_rigid_bara, ambient_bara; /**< at ambient; NAN = outside the equation's range */
    double expansivity_per_K, cp_J_per_kgK, density_kg_m3; /**< of the liquid at the start */
    double heat_kW;       /**< that the file puts in, such as tracing */
    double outside_m2;    /**< outer surface of its pipes; NAN = unknown */
    still_closedin start; /**< for a curve; valid when basis is EQUATION or CONSTANTS */
    still_wall wall;
} still_warming;

/** What a piece consists of; numbers of components (spools, vessels) and of exchanger sides. */
typedef struct still_contents_of {
    const uint32_t *comps;
    size_t n_comps;
    const uint32_t *sides;
    size_t n_sides;
} still_contents_of;

/** Numbers of one piece.
 *  @param full         liquid-full by L3 (relief.h)
 *  @param design_bara  lowest design pressure, NAN = unknown
 *  @param room         working room: one part for each component and each side
 *  Cost: linear in the piece, and some 100 microseconds. */
void still_warming_of(still_warming *out, const still_plant *plant, const still_state *state,
                      const still_contents_of *piece, bool full, double design_bara,
                      double ambient_K, still_wall_part *room);
/** L3: what is not full needs no cover where it stays below its design pressure up to ambient and
 *  does not become full; where that is not known it does. */
bool still_warming_stays_below(const still_warming *warming);

#endif
