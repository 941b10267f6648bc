/** @file saturation.h  Densities at service conditions from a small table of saturated states. */
#ifndef STILL_SATURATION_H
#define STILL_SATURATION_H

#include <stdbool.h>

typedef enum still_substance {
    STILL_SUBSTANCE_OTHER,
    STILL_SUBSTANCE_AMMONIA,
    STILL_SUBSTANCE_CARBON_DIOXIDE,
    STILL_SUBSTANCE_PROPANE,
    STILL_SUBSTANCE_R134A,
    STILL_SUBSTANCE_WATER
} still_substance;

/** Substance of a plant file's name: "ammonia", "carbon-dioxide", "propane", "r134a", "water";
 *  anything else is OTHER. */
still_substance still_substance_of(const char *name);

typedef struct still_saturation {
    double pressure_bara, liquid_kg_m3, vapour_kg_m3;
} still_saturation;

/** Saturated state at a temperature.
 *  @return false outside the table (below its first row, near or above the critical point) or for
 *          OTHER; *out is then untouched */
bool still_saturation_at(still_substance substance, double temperature_K, still_saturation *out);
/** Saturation temperature in kelvin at a pressure; NAN outside the table. */
double still_saturation_temperature_K(still_substance substance, double pressure_bara);

#endif
