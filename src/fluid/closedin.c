/* Pressure of what is shut in, at one temperature.
 * Problem: mass stays, the wall follows temperature and pressure: find p and density such that
 * p = P(T, rho) and rho (1 + a (T - T0) + C (p - p0)) = rho0, where P is the pressure of the stable
 * state: along the vapour pressure between the saturated densities.
 * Method: the wall gives p as a falling function of rho, P rises with rho: one root. The two
 * saturated densities say on which branch it lies; there Newton's rule within a bracket.
 * Why it is right, and which way each doubt is decided: docs/METHOD.md, "Numbers for closed-in
 * liquid".
 * Source: mass balance; the linear form for constants is API 521, 5th ed. 2007, clause 5.14.
 * Assumptions: one temperature in liquid and steel, outside pressure unchanged, elastic steel. */
#include "closedin.h"

#include <math.h>

#define PA_PER_BAR 1e5

/* The wall at one temperature: rho as a function of p. */
typedef struct grip {
    double rho0, p0, warm; /* warm = 1 + a (T - T0) */
    double C;
} grip;

static double rho_by_wall(const grip *g, double p)
{
    return g->rho0 / (g->warm + g->C * (p - g->p0));
}

/* Whether at this density the fluid presses no more than the wall would need to hold there: the
 * root lies at this density or above. */
static bool root_at_or_above(const grip *g, double rho, double p_fluid)
{
    return rho_by_wall(g, p_fluid) >= rho;
}

/* Root of P(T, rho) = p of the wall within [low, high]: one branch, where P rises with rho. */
static still_eos_status on_branch(double *pressure, const still_closedin *from, const grip *g,
                                  double T, double low, double high)
{
    double slope = 0, rho = high, p = 0;
    bool found = false;
    for (int step = 0; step < 200 && !found; step++) {
        p = still_eos_pressure_bara(from->eos, T, rho, &slope);
        double volume = g->warm + g->C * (p - g->p0);
        /* Mass left over, f = rho V - rho0, rises with rho as P does. */
        double f = rho * volume - g->rho0;
        double f_rho = volume + rho * g->C * slope / PA_PER_BAR;
        if (f < 0)
            low = rho;
        else
            high = rho;
        double next = rho - f / f_rho;
        if (!(f_rho > 0) || !(next >= low && next <= high) || step % 8 == 7)
            next = (low + high) / 2;
        found = fabs(next - rho) <= 1e-14 * rho;
        rho = next;
    }
    if (!found || !(slope > 0) || !(p > 0)) return STILL_EOS_NO_CONVERGENCE;
    if (p * PA_PER_BAR > from->eos->p_max_Pa) return STILL_EOS_ABOVE_LIMIT;
    *pressure = p;
    return STILL_EOS_OK;
}

/* One phase only: between nothing and what the wall holds at no pressure. */
static still_eos_status above_critical(double *p, const still_closedin *from, const grip *g,
                                       double T)
{
    double high = rho_by_wall(g, 0);
    double low = rho_by_wall(g, still_eos_pressure_bara(from->eos, T, high, NULL));
    return on_branch(p, from, g, T, low, high);
}

static still_eos_status below_critical(double *p, still_closedin_state *state,
                                       const still_closedin *from, const grip *g, double T)
{
    const still_eos *eos = from->eos;
    bool gap = T > eos->T_c_K - STILL_EOS_CRITICAL_K;
    still_eos_saturation s;
    still_eos_status status =
        still_eos_saturation_T(&s, eos, gap ? eos->T_c_K - STILL_EOS_CRITICAL_K : T);
    if (status) return status;
    /* In the gap below the critical temperature these two densities still lie outside the dome. */
    double p_liquid = s.pressure_bara, p_vapour = s.pressure_bara;
    if (gap) {
        p_liquid = still_eos_pressure_bara(eos, T, s.liquid_kg_m3, NULL);
        p_vapour = still_eos_pressure_bara(eos, T, s.vapour_kg_m3, NULL);
    }
    if (root_at_or_above(g, s.liquid_kg_m3, p_liquid)) {
        *state = STILL_CLOSEDIN_FULL;
        return on_branch(p, from, g, T, s.liquid_kg_m3, rho_by_wall(g, p_liquid));
    }
    if (!root_at_or_above(g, s.vapour_kg_m3, p_vapour)) {
        *state = STILL_CLOSEDIN_GAS;
        return on_branch(p, from, g, T, rho_by_wall(g, p_vapour), s.vapour_kg_m3);
    }
    if (gap) return STILL_EOS_NEAR_CRITICAL;
    *state = STILL_CLOSEDIN_BUBBLE;
    *p = s.pressure_bara;
    return STILL_EOS_OK;
}

still_eos_status still_closedin_pressure(double *pressure, still_closedin_state *state,
                                         const still_closedin *from, const still_wall *wall,
                                         double T)
{
    still_closedin_state found = STILL_CLOSEDIN_FULL;
    still_eos_status status;
    double p = 0, a = wall->expansion_per_K, C = wall->compliance_per_bar;
    if (isnan(T) || !(a >= 0) || !(C >= 0)) return STILL_EOS_BAD_INPUT;
    if (T < from->T_K) return STILL_EOS_COOLING;
    double warmer = T - from->T_K;
    if (!from->eos) {
        double rise = (from->constants.expansivity_per_K - a) * warmer /
                      (from->constants.compressibility_per_bar + C);
        /* No vapour pressure is known that would hold the floor: a fall is not believed. */
        p = from->pressure_bara + fmax(rise, 0);
        status = STILL_EOS_OK;
    } else {
        grip g = {from->density_kg_m3, from->pressure_bara, 1 + a * warmer, C};
        if (T > from->eos->T_max_K) return STILL_EOS_ABOVE_LIMIT;
        /* A wall so soft that it would leave no volume at no pressure is none. */
        if (!(g.warm - C * g.p0 > 0)) return STILL_EOS_BAD_INPUT;
        if (T < from->eos->T_c_K) {
            status = below_critical(&p, &found, from, &g, T);
        } else {
            status = above_critical(&p, from, &g, T);
            if (!status && rho_by_wall(&g, p) < from->eos->rho_c_kg_m3) found = STILL_CLOSEDIN_GAS;
        }
    }
    if (status) return status;
    *pressure = p;
    if (state) *state = found;
    return STILL_EOS_OK;
}

still_eos_status still_closedin_slope(double *bar_per_K, const still_closedin *from,
                                      const still_wall *wall)
{
    double a = wall->expansion_per_K, C = wall->compliance_per_bar;
    if (!from->eos) {
        *bar_per_K =
            (from->constants.expansivity_per_K - a) / (from->constants.compressibility_per_bar + C);
        return STILL_EOS_OK;
    }
    still_eos_saturation s;
    if (!still_eos_saturation_T(&s, from->eos, from->T_K) &&
        from->density_kg_m3 < s.liquid_kg_m3 * (1 - 1e-9) &&
        from->density_kg_m3 > s.vapour_kg_m3 * (1 + 1e-9)) {
        *bar_per_K = s.dp_dT_bar_per_K;
        return STILL_EOS_OK;
    }
    still_eos_state at;
    still_eos_status status = still_eos_state_Trho(&at, from->eos, from->T_K, from->density_kg_m3);
    if (status) return status;
    *bar_per_K = (at.expansivity_per_K - a) / (at.compressibility_per_bar + C);
    return STILL_EOS_OK;
}

/* Start of a liquid: from saturation where the pressure is not known or too low for a liquid. */
static still_eos_status start_liquid(still_closedin *out, const still_closedin_given *given)
{
    still_eos_saturation s;
    still_eos_status status = STILL_EOS_NOT_LIQUID;
    double p = given->pressure_bara;
    if (!isnan(p)) {
        if (!(p > 0)) return STILL_EOS_BAD_INPUT;
        status = still_eos_liquid_density(&out->density_kg_m3, given->eos, given->T_K, p);
        out->pressure_bara = p;
    }
    if (status != STILL_EOS_NOT_LIQUID) return status;
    if (given->trust_pressure && !isnan(p))
        status = still_eos_saturation_p(&s, given->eos, p);
    else
        status = still_eos_saturation_T(&s, given->eos, given->T_K);
    if (status) return status;
    out->T_K = s.T_K;
    out->density_kg_m3 = s.liquid_kg_m3;
    out->pressure_bara = s.pressure_bara;
    out->flags |= STILL_CLOSEDIN_SATURATED;
    if (!isnan(p)) out->flags |= STILL_CLOSEDIN_CONFLICT;
    return STILL_EOS_OK;
}

static still_eos_status start_mass(still_closedin *out, const still_closedin_given *given)
{
    const still_eos *eos = given->eos;
    still_eos_saturation s;
    still_eos_status status;
    double rho = given->density_kg_m3;
    if (given->kind == STILL_CLOSEDIN_FILL) {
        if (!(given->fill >= 0 && given->fill <= 1)) return STILL_EOS_BAD_INPUT;
        status = still_eos_saturation_T(&s, eos, given->T_K);
        if (status) return status;
        rho = given->fill * s.liquid_kg_m3 + (1 - given->fill) * s.vapour_kg_m3;
    }
    if (!(rho > 0)) return STILL_EOS_BAD_INPUT;
    if (given->T_K < eos->T_min_K) return STILL_EOS_BELOW_TRIPLE;
    if (rho > eos->rho_max_kg_m3) return STILL_EOS_ABOVE_LIMIT;
    out->density_kg_m3 = rho;
    /* Pressure of that mass in a rigid wall at T itself. */
    out->pressure_bara = 0;
    double p = 0;
    status = still_closedin_pressure(&p, NULL, out, &STILL_WALL_RIGID, given->T_K);
    out->pressure_bara = p;
    return status;
}

still_eos_status still_closedin_start(still_closedin *out, const still_closedin_given *given)
{
    still_closedin from = {.eos = given->eos, .constants = given->constants, .T_K = given->T_K};
    still_eos_status status = STILL_EOS_OK;
    if (!(given->T_K > 0) || !isfinite(given->T_K)) return STILL_EOS_BAD_INPUT;
    if (!given->eos) {
        const still_liquid_constants *c = &given->constants;
        if (given->kind != STILL_CLOSEDIN_LIQUID || !(given->pressure_bara >= 0) ||
            !isfinite(c->expansivity_per_K) || !(c->compressibility_per_bar > 0))
            return STILL_EOS_BAD_INPUT;
        from.pressure_bara = given->pressure_bara;
        from.density_kg_m3 = (double)NAN;
        from.flags = STILL_CLOSEDIN_CONSTANTS;
    } else if (given->kind == STILL_CLOSEDIN_LIQUID) {
        status = start_liquid(&from, given);
    } else {
        status = start_mass(&from, given);
    }
    if (!status) *out = from;
    return status;
}
