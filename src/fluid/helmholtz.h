/** @file helmholtz.h  A state of a fluid from its equation of state, for given T and density.
 *
 *  Pure functions: no heap, no memory between calls. Pressures in bar absolute. One evaluation
 * costs one exponential a term, 20 to 60 of them: about a microsecond. */
#ifndef STILL_HELMHOLTZ_H
#define STILL_HELMHOLTZ_H

#include "equation.h"
#include "stillset/status.h"

/** Why there is no number. Whatever is not OK leaves outputs untouched; none is ever NAN. */
typedef enum still_eos_status {
    STILL_EOS_OK,
    STILL_EOS_BAD_INPUT,      /* not a number, not positive, or no equation */
    STILL_EOS_BELOW_TRIPLE,   /* below the lowest temperature of the equation: it may freeze */
    STILL_EOS_ABOVE_LIMIT,    /* above the temperature, pressure or density it holds for */
    STILL_EOS_NEAR_CRITICAL,  /* within 0.1 K of the critical temperature, near its density */
    STILL_EOS_ABOVE_CRITICAL, /* no saturated state: above the critical temperature or pressure */
    STILL_EOS_NOT_LIQUID,     /* the pressure is below that of saturation */
    STILL_EOS_NOT_STABLE,     /* would part into liquid and vapour */
    STILL_EOS_COOLING,        /* below the start temperature of a shut-in */
    STILL_EOS_NO_CONVERGENCE
} still_eos_status;

/** The status in words, without a full stop; constant. */
const char *still_eos_status_text(still_eos_status status);

/** A part of the reduced Helmholtz energy with its derivatives, each times its variables:
 *  d = delta a_delta, dd = delta^2 a_delta_delta, t = tau a_tau, dt = delta tau a_delta_tau, … */
typedef struct still_helmholtz {
    double a, d, dd, t, tt, dt;
} still_helmholtz;

/** Residual and ideal part; tau, delta > 0, not checked. Near delta = 1 the non-analytic terms are
 *  evaluated 1e-9 beside it. */
void still_helmholtz_residual(const still_eos *eos, double tau, double delta, still_helmholtz *out);
void still_helmholtz_ideal(const still_eos *eos, double tau, double delta, still_helmholtz *out);

/** A homogeneous state. */
typedef struct still_eos_state {
    double T_K, density_kg_m3, pressure_bara;
    double dp_drho_m2_per_s2; /* at constant T; Pa m3/kg */
    double dp_dT_bar_per_K;   /* at constant density */
    double expansivity_per_K, compressibility_per_bar;
    double cv_J_per_kgK, cp_J_per_kgK, sound_m_per_s;
    double h_J_per_kg, s_J_per_kgK; /* zeros as in the paper */
} still_eos_state;

/** All properties at T and density, without a look at limits or at phases: what the formula gives.
 *  Between the densities of saturation it is no state of the fluid; where dp/drho <= 0
 * compressibility, cp and speed of sound mean nothing. */
void still_eos_formula(still_eos_state *out, const still_eos *eos, double T_K,
                       double density_kg_m3);

/** Pressure and its slope alone, by the formula. */
double still_eos_pressure_bara(const still_eos *eos, double T_K, double density_kg_m3,
                               double *dp_drho_m2_per_s2);

#endif
