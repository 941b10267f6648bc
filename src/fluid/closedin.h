/** @file closedin.h  What is shut in and warms up: its pressure, and when that is too much.
 *
 *  The mass stays, the wall gives way (wall.h). Everything is at one temperature, pressure in bar
 *  absolute. Pure functions on plain values: no heap, nothing to free. Outputs are untouched on any
 *  status but OK. One pressure costs a saturated state and some 10 evaluations (phases.h), some 20
 *  microseconds; a search along the path about 30 of these. */
#ifndef STILL_CLOSEDIN_H
#define STILL_CLOSEDIN_H

#include "phases.h"
#include "wall.h"

#include <stdbool.h>

typedef enum still_closedin_kind {
    STILL_CLOSEDIN_LIQUID, /* full of liquid at T and p */
    STILL_CLOSEDIN_FILL,   /* saturated liquid and vapour: part `fill` of the volume is liquid */
    STILL_CLOSEDIN_MASS    /* of a known mean density, at T */
} still_closedin_kind;

/** A liquid without an equation of state: two numbers for the whole path. */
typedef struct still_liquid_constants {
    double expansivity_per_K, compressibility_per_bar;
} still_liquid_constants;

typedef struct still_closedin_given {
    const still_eos *eos;             /* NULL: constants, kind LIQUID only */
    still_liquid_constants constants; /* read only without eos */
    still_closedin_kind kind;
    double T_K, pressure_bara; /* pressure: LIQUID only; NAN = not known */
    double fill;               /* FILL: 0 to 1 */
    double density_kg_m3;      /* MASS */
    bool trust_pressure; /* LIQUID with a pressure below saturation: take the pressure as right
                            and start from liquid that boils at it, colder than T_K */
} still_closedin_given;

/** What a caller must pass on to people. */
enum {
    STILL_CLOSEDIN_CONSTANTS = 1, /* constants were used, not an equation of state */
    STILL_CLOSEDIN_SATURATED = 2, /* no pressure, or one below saturation: started from saturated
                                     liquid */
    STILL_CLOSEDIN_CONFLICT = 4 /* its pressure is below saturation: one of the two is wrong. If it
                                   is the temperature, the liquid is colder, and worse: ask
                                   again with trust_pressure */
};

/** The start: density and pressure that hold at T. Pass by pointer; never changes. */
typedef struct still_closedin {
    const still_eos *eos;
    still_liquid_constants constants;
    double T_K, pressure_bara, density_kg_m3; /* density: NAN with constants */
    unsigned flags;
} still_closedin;

/** @return OK; BAD_INPUT; BELOW_TRIPLE, ABOVE_LIMIT, NEAR_CRITICAL, ABOVE_CRITICAL (no saturated
 *          start there), NO_CONVERGENCE */
STILL_NODISCARD still_eos_status still_closedin_start(still_closedin *out,
                                                      const still_closedin_given *given);

/** How the content stands: what a pressure rests on. */
typedef enum still_closedin_state {
    STILL_CLOSEDIN_FULL,   /* compressed liquid, or as dense above the critical temperature */
    STILL_CLOSEDIN_BUBBLE, /* liquid and vapour: vapour pressure */
    STILL_CLOSEDIN_GAS     /* no liquid left */
} still_closedin_state;

/** Pressure at a temperature of the start or above.
 *  @param state  may be NULL
 *  @return OK; COOLING below the start; ABOVE_LIMIT; NEAR_CRITICAL; BAD_INPUT; NO_CONVERGENCE */
STILL_NODISCARD still_eos_status still_closedin_pressure(double *pressure_bara,
                                                         still_closedin_state *state,
                                                         const still_closedin *from,
                                                         const still_wall *wall, double T_K);

/** Pressure rise at the start in bar/K; of the vapour pressure, where there is a bubble. May be
 *  negative (water below 4 degC): look at the path. */
STILL_NODISCARD still_eos_status still_closedin_slope(double *bar_per_K, const still_closedin *from,
                                                      const still_wall *wall);

typedef struct still_closedin_when {
    bool reached;               /* by the end temperature */
    double T_K;                 /* the least at which it is; not when not reached */
    still_closedin_state state; /* there: by vapour pressure (BUBBLE) or not */
} still_closedin_when;

/** When a pressure (a design pressure) is reached on the way from the start to end_K.
 *  The whole path is looked at. Below the start, only the start is.
 *  @return OK; a status of the path where it leaves the equation's range with the pressure not yet
 *          reached: then nothing is known, least of all "never" */
STILL_NODISCARD still_eos_status still_closedin_reaches(still_closedin_when *out,
                                                        const still_closedin *from,
                                                        const still_wall *wall,
                                                        double pressure_bara, double end_K);

typedef enum still_closedin_fate {
    STILL_CLOSEDIN_STAYS, /* still liquid and vapour at the end temperature */
    STILL_CLOSEDIN_FILLS, /* full of liquid at T_K, or before already */
    STILL_CLOSEDIN_DRIES, /* the liquid has boiled away at T_K; constant density from there */
    STILL_CLOSEDIN_PASSES_CRITICAL /* still liquid and vapour 0.1 K below the critical temperature
                                    */
} still_closedin_fate;
typedef struct still_closedin_end {
    still_closedin_fate fate;
    double T_K, pressure_bara; /* not for STAYS: the end */
} still_closedin_end;

/** What becomes of liquid and vapour shut in, up to end_K. Needs an equation of state.
 *  Starts without a bubble: FILLS at once (or DRIES). */
STILL_NODISCARD still_eos_status still_closedin_fills(still_closedin_end *out,
                                                      const still_closedin *from,
                                                      const still_wall *wall, double end_K);

/** One row of a curve. A pressure that is not there has a status other than OK. */
typedef struct still_closedin_row {
    double T_K, rigid_bara, wall_bara;
    still_eos_status rigid, wall;
} still_closedin_row;
/** Rows at the start and at every whole kelvin above it up to end_K; each of the two columns stops
 *  for good with the first status that is not OK, and rows end when both have. */
typedef struct still_closedin_curve {
    const still_closedin *from; /* borrowed */
    still_wall wall_given;
    double end_K;
    int next;
    still_eos_status rigid, wall; /* OK, or why the column has stopped */
} still_closedin_curve;
still_closedin_curve still_closedin_curve_begin(const still_closedin *from, const still_wall *wall,
                                                double end_K);
/** The next row. @return false when there is none; *row is then untouched */
bool still_closedin_curve_next(still_closedin_curve *curve, still_closedin_row *row);

#endif
