/** @file shape.h  How much of a vessel of known shape, or of a straight pipe, lies below a level.
 *
 *  Pure functions of lengths in metres; volumes in cubic metres. Upper bounds where the words say
 *  so, else exact to the tolerance named. */
#ifndef STILL_SHAPE_H
#define STILL_SHAPE_H

#include "plant.h"

/** A cylinder with two equal heads, as the plant file states it. */
typedef struct still_drum {
    bool upright;      /**< its axis stands; else it lies level */
    unsigned heads;    /**< still_heads */
    double diameter_m; /**< inside */
    double length_m;   /**< straight part, between the tangent lines of the heads */
    double bottom_m;   /**< elevation of its lowest inside point */
} still_drum;

/** The shape that the file states of a vessel. @return false where a part of it is not said (all of
 *  shape, diameter, length, heads and bottom are needed), or the diameter is 0; *out is then
 *  untouched. */
bool still_vessel_drum(const still_plant *plant, uint32_t comp, still_drum *out);
/** Depth of one head, from its tangent line to its top. */
double still_drum_head_m(const still_drum *drum);
/** From its lowest to its highest inside point. */
double still_drum_height_m(const still_drum *drum);
double still_drum_volume_m3(const still_drum *drum);
/** Volume below a level, an elevation. Closed formulas; dished heads of a lying drum by quadrature,
 *  to 1e-6 of the head. */
double still_drum_below_m3(const still_drum *drum, double level_m);

/** Volume below a level in a pipe between two elevations, at most: the larger of that of a straight
 *  run, and, where the pipe is longer than its rise, that of a level run at the lower end with a
 *  riser at its end, since the file does not say on which way a pipe rises.
 *  @param bore_m, length_m  NAN = unknown; a length below the difference in height counts as that
 *  @return NAN where bore or length is unknown; 0 for a level at or below the lowest of its wall */
double still_pipe_below_m3(double bore_m, double length_m, double one_end_m, double other_end_m,
                           double level_m);

#endif
