/* The steel around closed-in liquid.
 * Problem and formulas: docs/METHOD.md, "Numbers for closed-in liquid".
 * Source: Lame's thick-walled cylinder with closed ends (textbooks on strength of materials); its
 * thin limit is the wall term of API 521, 5th ed. 2007, clause 5.14. */
#include "wall.h"

#include <math.h>
#include <stdbool.h>

#define PA_PER_BAR 1e5

still_wall still_wall_of_pipe(double outside_mm, double wall_mm, const still_steel *steel)
{
    static const still_steel usual = STILL_STEEL_INIT;
    if (!steel) steel = &usual;
    double inside_mm = outside_mm - 2 * wall_mm, nu = steel->poisson;
    bool known = wall_mm > 0 && inside_mm > 0 && isfinite(outside_mm) && steel->E_Pa > 0 &&
                 nu >= 0 && nu <= 0.5 && steel->alpha_per_K >= 0;
    if (!known) return STILL_WALL_RIGID;
    double K2 = outside_mm / inside_mm * (outside_mm / inside_mm);
    double C = (2 * (1 + nu) * K2 + 3 * (1 - 2 * nu)) / (steel->E_Pa * (K2 - 1));
    return (still_wall){3 * steel->alpha_per_K, C * PA_PER_BAR};
}

still_wall still_wall_of_parts(const still_wall_part *parts, size_t n)
{
    double volume = 0;
    still_wall sum = STILL_WALL_RIGID, least = {(double)INFINITY, (double)INFINITY};
    bool known = true;
    for (size_t i = 0; i < n; i++) {
        double v = parts[i].volume_m3;
        still_wall w = parts[i].wall;
        if (!(w.expansion_per_K >= 0 && w.compliance_per_bar >= 0)) w = STILL_WALL_RIGID;
        known = known && v > 0 && isfinite(v);
        volume += v;
        sum.expansion_per_K += v * w.expansion_per_K;
        sum.compliance_per_bar += v * w.compliance_per_bar;
        least.expansion_per_K = fmin(least.expansion_per_K, w.expansion_per_K);
        least.compliance_per_bar = fmin(least.compliance_per_bar, w.compliance_per_bar);
    }
    if (n == 0) return STILL_WALL_RIGID;
    if (!known) return least;
    return (still_wall){sum.expansion_per_K / volume, sum.compliance_per_bar / volume};
}
