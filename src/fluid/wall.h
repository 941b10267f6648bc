/** @file wall.h  How much a steel wall gives way to what is shut in, with temperature and pressure.
 *
 *  V/V0 = 1 + expansion (T - T0) + compliance (p - p0). Rigid = both 0: the dangerous side, and
 * what counts where a wall is not known. Pure functions, no heap. */
#ifndef STILL_WALL_H
#define STILL_WALL_H

#include <stddef.h>

typedef struct still_wall {
    double expansion_per_K;    /* of the inside volume */
    double compliance_per_bar; /* of the inside volume */
} still_wall;
#define STILL_WALL_RIGID ((still_wall){0, 0})

/** Rounded handbook values for carbon steel: common practice, no source. */
typedef struct still_steel {
    double E_Pa, poisson, alpha_per_K; /* alpha: of length */
} still_steel;
#define STILL_STEEL_INIT                                                                           \
    {                                                                                              \
        2.0e11, 0.3, 1.2e-5                                                                        \
    }

/** A pipe with closed ends, free to stretch; Lame's thick wall, right for every wall.
 *  @param steel  NULL = STILL_STEEL_INIT
 *  @return rigid where a number is missing or cannot be (wall not below half the outside diameter,
 *          E not positive, Poisson's number outside 0 to 0.5, expansion negative) */
still_wall still_wall_of_pipe(double outside_mm, double wall_mm, const still_steel *steel);

typedef struct still_wall_part {
    double volume_m3; /* NAN = not known */
    still_wall wall;  /* rigid where not known */
} still_wall_part;

/** Several parts joined in one segment: the mean by volume. Where a volume is not known (or not
 *  positive), the least expansion and the least compliance of all. No part: rigid. */
still_wall still_wall_of_parts(const still_wall_part *parts, size_t n);

#endif
