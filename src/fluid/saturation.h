/** @file saturation.h  Saturated states of the substances that there is an equation of state for.
 */
#ifndef STILL_SATURATION_H
#define STILL_SATURATION_H

#include "substance.h"

#include <stdbool.h>

typedef struct still_saturation {
    double pressure_bara, liquid_kg_m3, vapour_kg_m3;
} still_saturation;

/** Saturated state at a temperature, from the equation of state (phases.h): some 10 microseconds.
 *  @return false below its lowest temperature, from 0.1 K below the critical one, for NAN, or for
 *          OTHER; *out is then untouched */
bool still_saturation_at(still_substance substance, double temperature_K, still_saturation *out);
/** Saturation temperature in kelvin at a pressure; NAN where there is none. */
double still_saturation_temperature_K(still_substance substance, double pressure_bara);

#endif
