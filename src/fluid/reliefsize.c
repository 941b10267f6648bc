/* Relief need of liquid that expands under heat: API 521 (5th ed. 2007, clause 5.14).
 * Derivation: heat phi warms the mass M by phi / (M c) kelvin a second; it grows by alpha times its
 * volume M / rho a kelvin, so by alpha phi / (rho c) a second, whatever its mass. */
#include "reliefsize.h"

#include <math.h>

still_reliefneed still_reliefneed_of(double expansivity_per_K, double heat_kW, double density,
                                     double cp)
{
    still_reliefneed need = {(double)NAN, (double)NAN};
    if (isnan(expansivity_per_K) || !(heat_kW >= 0) || !(density > 0) || !(cp > 0)) return need;
    double grows = expansivity_per_K > 0 ? expansivity_per_K : 0;
    need.volume_m3_per_s = grows * heat_kW * 1000 / (density * cp);
    need.mass_kg_per_s = need.volume_m3_per_s * density;
    return need;
}

double still_reliefneed_gpm(double expansivity_per_F, double heat_Btu_per_h, double d, double cp)
{
    if (isnan(expansivity_per_F) || !(heat_Btu_per_h >= 0) || !(d > 0) || !(cp > 0))
        return (double)NAN;
    return (expansivity_per_F > 0 ? expansivity_per_F : 0) * heat_Btu_per_h / (500 * d * cp);
}

double still_expansivity_between(double T1, double density1, double T2, double density2)
{
    if (!(density1 > 0) || !(density2 > 0) || !(T2 > T1 || T2 < T1)) return (double)NAN;
    return (density1 * density1 - density2 * density2) / (2 * (T2 - T1) * density1 * density2);
}
