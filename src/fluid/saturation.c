/* Saturated states in the units of the plant model; phases.c finds them. */
#include "saturation.h"

#include "phases.h"

#include <math.h>
#include <string.h>

still_substance still_substance_of(const char *name)
{
    static const struct {
        const char *name;
        still_substance substance;
    } known[] = {
        {"ammonia", STILL_SUBSTANCE_AMMONIA}, {"carbon-dioxide", STILL_SUBSTANCE_CARBON_DIOXIDE},
        {"propane", STILL_SUBSTANCE_PROPANE}, {"r134a", STILL_SUBSTANCE_R134A},
        {"water", STILL_SUBSTANCE_WATER},
    };
    for (size_t i = 0; i < sizeof known / sizeof known[0]; i++)
        if (strcmp(name, known[i].name) == 0) return known[i].substance;
    return STILL_SUBSTANCE_OTHER;
}

bool still_saturation_at(still_substance substance, double T, still_saturation *out)
{
    still_eos_saturation s;
    if (still_eos_saturation_T(&s, still_eos_of(substance), T)) return false;
    *out = (still_saturation){s.pressure_bara, s.liquid_kg_m3, s.vapour_kg_m3};
    return true;
}

double still_saturation_temperature_K(still_substance substance, double p)
{
    still_eos_saturation s;
    if (still_eos_saturation_p(&s, still_eos_of(substance), p)) return (double)NAN;
    return s.T_K;
}
