/* Saturation and densities.
 * Problem: where liquid and vapour are in balance, and which density belongs to a temperature and a
 * pressure. The equation has false roots between its spinodals.
 * Method: saturation by Newton's rule on both densities at once (J and K equal, below), from the
 * ancillary equations, steps cut so that the liquid stays denser than critical and the vapour
 * lighter. At a pressure: Newton's rule on ln p against 1/T with the slope by Clapeyron, within a
 * bracket. Density: Newton's rule within a bracket on one branch, where p rises with density, so
 * that there is one root and no false one; a step that leaves the bracket is a bisection instead.
 * Why it is right: docs/METHOD.md, "Numbers for closed-in liquid".
 * Source: conditions of balance as in the papers of the equations; J, K after R. Akasaka, J.
 * Thermal Sci. Technol. 3 (2008) 442 (from memory). */
#include "phases.h"

#include <float.h>
#include <math.h>
#include <stdbool.h>

#define PA_PER_BAR 1e5

static double ancillary(const still_eos_ancillary *a, double T)
{
    double x = 1 - T / a->T_r_K, S = 0;
    if (x < 0) x = 0;
    for (size_t i = 0; i < a->n_terms; i++) S += a->terms[i].n * pow(x, a->terms[i].t);
    if (a->form == STILL_EOS_ONE_PLUS) return a->y_r * (1 + S);
    return a->y_r * exp(a->form == STILL_EOS_EXP ? S : S * a->T_r_K / T);
}

/* J = p / (rho_r R T), K = Gibbs energy / (R T) but for what both phases share. */
typedef struct side {
    double J, K, J_d;
    still_helmholtz r;
} side;

static side side_at(const still_eos *eos, double tau, double delta)
{
    side s;
    still_helmholtz_residual(eos, tau, delta, &s.r);
    s.J = delta * (1 + s.r.d);
    s.K = s.r.d + s.r.a + log(delta);
    s.J_d = 1 + 2 * s.r.d + s.r.dd;
    return s;
}

static still_eos_status balance(still_eos_saturation *out, const still_eos *eos, double T,
                                double liquid, double vapour)
{
    double tau = eos->T_r_K / T, critical = eos->rho_c_kg_m3 / eos->rho_r_kg_m3;
    double dl = liquid / eos->rho_r_kg_m3, dv = vapour / eos->rho_r_kg_m3;
    for (int step = 0; step < 60; step++) {
        side l = side_at(eos, tau, dl), v = side_at(eos, tau, dv);
        double J = v.J - l.J, K = v.K - l.K;
        double b = (K - J / dl) / (1 / dl - 1 / dv);
        double step_l = (b + J) / l.J_d, step_v = b / v.J_d;
        double cut = 1;
        while (cut > 1e-6 && !(dl + cut * step_l > critical && dv + cut * step_v > 0 &&
                               dv + cut * step_v < critical && fabs(cut * step_l) < 0.3 * dl))
            cut /= 2;
        if (!(cut > 1e-6)) return STILL_EOS_NO_CONVERGENCE;
        dl += cut * step_l;
        dv += cut * step_v;
        if (cut < 1 || fabs(step_l) > 1e-9 * dl || fabs(step_v) > 1e-9 * dv) continue;
        l = side_at(eos, tau, dl);
        v = side_at(eos, tau, dv);
        if (!(l.J_d > 0 && v.J_d > 0)) return STILL_EOS_NO_CONVERGENCE;
        /* Pressure from the vapour: small differences of large numbers in the liquid. */
        double R = eos->R_J_per_kgK, rho_r = eos->rho_r_kg_m3;
        double s_over_R = (v.r.t - v.r.a - log(dv)) - (l.r.t - l.r.a - log(dl));
        *out = (still_eos_saturation){
            .T_K = T,
            .pressure_bara = rho_r * R * T * v.J / PA_PER_BAR,
            .liquid_kg_m3 = dl * rho_r,
            .vapour_kg_m3 = dv * rho_r,
            .dp_dT_bar_per_K = R * s_over_R * rho_r / (1 / dv - 1 / dl) / PA_PER_BAR,
        };
        return STILL_EOS_OK;
    }
    return STILL_EOS_NO_CONVERGENCE;
}

still_eos_status still_eos_balance(still_eos_saturation *out, const still_eos *eos, double T)
{
    return balance(out, eos, T, ancillary(&eos->rho_liquid, T), ancillary(&eos->rho_vapour, T));
}

still_eos_status still_eos_saturation_T(still_eos_saturation *out, const still_eos *eos, double T)
{
    if (!eos || isnan(T)) return STILL_EOS_BAD_INPUT;
    if (T < eos->T_min_K) return STILL_EOS_BELOW_TRIPLE;
    if (T > eos->T_c_K) return STILL_EOS_ABOVE_CRITICAL;
    if (T > eos->T_c_K - STILL_EOS_CRITICAL_K) return STILL_EOS_NEAR_CRITICAL;
    return still_eos_balance(out, eos, T);
}

still_eos_status still_eos_saturation_p(still_eos_saturation *out, const still_eos *eos, double p)
{
    if (!eos || !(p > 0)) return STILL_EOS_BAD_INPUT;
    if (p * PA_PER_BAR > eos->p_c_Pa) return STILL_EOS_ABOVE_CRITICAL;
    /* Unknown: x = 1/T; low pressure lies at large x. */
    double x_hot = 1 / (eos->T_c_K - STILL_EOS_CRITICAL_K), x_cold = 1 / eos->T_min_K;
    still_eos_saturation hot, cold, s;
    still_eos_status status = still_eos_saturation_T(&hot, eos, 1 / x_hot);
    if (!status) status = still_eos_saturation_T(&cold, eos, eos->T_min_K);
    if (status) return status;
    if (p > hot.pressure_bara) return STILL_EOS_NEAR_CRITICAL;
    if (p < cold.pressure_bara) return STILL_EOS_BELOW_TRIPLE;
    double x = x_hot + (x_cold - x_hot) * log(p / hot.pressure_bara) /
                           log(cold.pressure_bara / hot.pressure_bara);
    for (int step = 0; step < 60; step++) {
        status = still_eos_saturation_T(&s, eos, fmax(1 / x, eos->T_min_K));
        if (status) return status;
        double miss = log(s.pressure_bara / p);
        if (miss > 0)
            x_hot = x;
        else
            x_cold = x;
        double next = x + miss * s.pressure_bara / (s.dp_dT_bar_per_K * s.T_K * s.T_K);
        if (fabs(next - x) <= 1e-10 * x) {
            status = still_eos_saturation_T(&s, eos, fmax(1 / next, eos->T_min_K));
            if (status) return status;
            *out = s;
            out->pressure_bara = p;
            return STILL_EOS_OK;
        }
        x = next >= x_hot && next <= x_cold ? next : (x_hot + x_cold) / 2;
    }
    return STILL_EOS_NO_CONVERGENCE;
}

/* Whether T and rho are one phase. A slope dp/drho > 0 would not show it: between the spinodals the
 * equations have loops where it is positive. */
static still_eos_status one_phase(const still_eos *eos, double T, double rho)
{
    still_eos_saturation s;
    double off = fabs(rho - eos->rho_c_kg_m3), gap = eos->T_c_K - STILL_EOS_CRITICAL_K;
    if (fabs(T - eos->T_c_K) < STILL_EOS_CRITICAL_K && off < 0.1 * eos->rho_c_kg_m3)
        return STILL_EOS_NEAR_CRITICAL;
    if (T >= eos->T_c_K) return STILL_EOS_OK;
    still_eos_status status = still_eos_saturation_T(&s, eos, fmin(T, gap));
    if (status) return status;
    if (rho >= s.liquid_kg_m3 * (1 - 1e-9) || rho <= s.vapour_kg_m3 * (1 + 1e-9))
        return STILL_EOS_OK;
    return T > gap ? STILL_EOS_NEAR_CRITICAL : STILL_EOS_NOT_STABLE;
}

still_eos_status still_eos_state_Trho(still_eos_state *out, const still_eos *eos, double T,
                                      double rho)
{
    if (!eos || !(T > 0) || !(rho > 0)) return STILL_EOS_BAD_INPUT;
    if (T < eos->T_min_K) return STILL_EOS_BELOW_TRIPLE;
    if (T > eos->T_max_K || rho > eos->rho_max_kg_m3) return STILL_EOS_ABOVE_LIMIT;
    still_eos_status status = one_phase(eos, T, rho);
    if (status) return status;
    still_eos_state s;
    still_eos_formula(&s, eos, T, rho);
    if (s.pressure_bara * PA_PER_BAR > eos->p_max_Pa) return STILL_EOS_ABOVE_LIMIT;
    if (!(s.dp_drho_m2_per_s2 > 0)) return STILL_EOS_NO_CONVERGENCE;
    *out = s;
    return STILL_EOS_OK;
}

still_eos_status still_eos_root(double *density, const still_eos *eos, double T, double p,
                                double low, double high)
{
    double slope, miss;
    if (still_eos_pressure_bara(eos, T, low, NULL) > p) return STILL_EOS_NO_CONVERGENCE;
    miss = still_eos_pressure_bara(eos, T, high, &slope) - p;
    if (miss < 0) return STILL_EOS_NO_CONVERGENCE;
    double rho = high;
    for (int step = 0; step < 200; step++) {
        double next = rho - miss * PA_PER_BAR / slope;
        /* Newton while it stays inside, bisection every fifth step in case it crawls. */
        if (!(slope > 0) || !(next > low && next < high) || step % 5 == 4) next = (low + high) / 2;
        if (fabs(next - rho) <= 1e-14 * rho || high - low <= 4 * DBL_EPSILON * high) {
            *density = next;
            return STILL_EOS_OK;
        }
        rho = next;
        miss = still_eos_pressure_bara(eos, T, rho, &slope) - p;
        if (miss < 0)
            low = rho;
        else
            high = rho;
    }
    return STILL_EOS_NO_CONVERGENCE;
}

/* From `low`, where p(T, low) <= p, upward until the pressure is passed. */
static still_eos_status root_above(double *density, const still_eos *eos, double T, double p,
                                   double low)
{
    double end = 1.25 * eos->rho_max_kg_m3, high = low, growth = 0.01;
    while (high < end && still_eos_pressure_bara(eos, T, high, NULL) < p) {
        low = high;
        high = fmin(high * (1 + growth), end);
        growth *= 2;
    }
    if (still_eos_pressure_bara(eos, T, high, NULL) < p) return STILL_EOS_ABOVE_LIMIT;
    return still_eos_root(density, eos, T, p, low, high);
}

static still_eos_status density_at(double *density, const still_eos *eos, double T, double p,
                                   bool liquid_only)
{
    if (!eos || isnan(T) || !(p > 0)) return STILL_EOS_BAD_INPUT;
    if (T < eos->T_min_K) return STILL_EOS_BELOW_TRIPLE;
    if (T > eos->T_max_K || p * PA_PER_BAR > eos->p_max_Pa) return STILL_EOS_ABOVE_LIMIT;
    still_eos_saturation s;
    still_eos_status status;
    /* A gas that keeps at most the ideal volume's thousandfold: below any real density. */
    double thin = p * PA_PER_BAR / (eos->R_J_per_kgK * T) * 1e-3, rho = 0;
    if (T >= eos->T_c_K) {
        status = root_above(&rho, eos, T, p, thin);
        if (!status && T < eos->T_c_K + STILL_EOS_CRITICAL_K &&
            fabs(rho - eos->rho_c_kg_m3) < 0.1 * eos->rho_c_kg_m3)
            status = STILL_EOS_NEAR_CRITICAL;
    } else if (T > eos->T_c_K - STILL_EOS_CRITICAL_K) {
        /* What is denser (lighter) than the saturated liquid (vapour) at the end of the range is
         * so at T too: outside the dome. */
        status = still_eos_saturation_T(&s, eos, eos->T_c_K - STILL_EOS_CRITICAL_K);
        if (status) return status;
        if (p > still_eos_pressure_bara(eos, T, s.liquid_kg_m3, NULL))
            status = root_above(&rho, eos, T, p, s.liquid_kg_m3);
        else if (p < still_eos_pressure_bara(eos, T, s.vapour_kg_m3, NULL))
            status = liquid_only ? STILL_EOS_NOT_LIQUID
                                 : still_eos_root(&rho, eos, T, p, thin, s.vapour_kg_m3);
        else
            status = STILL_EOS_NEAR_CRITICAL;
    } else {
        status = still_eos_saturation_T(&s, eos, T);
        if (status) return status;
        if (fabs(p - s.pressure_bara) <= 1e-9 * s.pressure_bara)
            rho = s.liquid_kg_m3;
        else if (p > s.pressure_bara)
            status = root_above(&rho, eos, T, p, s.liquid_kg_m3 * (1 - 1e-9));
        else
            status = liquid_only ? STILL_EOS_NOT_LIQUID
                                 : still_eos_root(&rho, eos, T, p, thin, s.vapour_kg_m3);
    }
    if (!status && rho > eos->rho_max_kg_m3) status = STILL_EOS_ABOVE_LIMIT;
    if (!status) *density = rho;
    return status;
}

still_eos_status still_eos_liquid_density(double *density, const still_eos *eos, double T, double p)
{
    return density_at(density, eos, T, p, true);
}

still_eos_status still_eos_density(double *density, const still_eos *eos, double T, double p)
{
    return density_at(density, eos, T, p, false);
}
