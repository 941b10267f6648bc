/** @file equation.h  Coefficients of an equation of state, as its paper prints them.
 *
 *  Reduced Helmholtz energy a/(R T) = ideal(tau, delta) + residual(tau, delta), tau = T_r / T,
 *  delta = rho / rho_r. All SI and per kilogram; temperatures in K (ITS-90), pressures in Pa
 *  absolute. The tables are constant and live as long as the program. */
#ifndef STILL_EQUATION_H
#define STILL_EQUATION_H

#include "substance.h"

#include <stddef.h>

/** n delta^d tau^t */
typedef struct still_eos_power {
    double n, t, d;
} still_eos_power;
/** n delta^d tau^t exp(-delta^c), c a whole number of 1 or more */
typedef struct still_eos_exponential {
    double n, t, d;
    int c;
} still_eos_exponential;
/** n delta^d tau^t exp(-eta (delta - epsilon)^2 - beta (tau - gamma)^2) */
typedef struct still_eos_gaussian {
    double n, t, d, eta, epsilon, beta, gamma;
} still_eos_gaussian;
/** n delta^d tau^t exp(-eta (delta - epsilon)^2 + 1 / (beta (tau - gamma)^2 + b)) */
typedef struct still_eos_associating {
    double n, t, d, eta, epsilon, beta, gamma, b;
} still_eos_associating;
/** n delta Delta^b psi, psi = exp(-C (delta - 1)^2 - D (tau - 1)^2),
 *  Delta = theta^2 + B ((delta - 1)^2)^a, theta = 1 - tau + A ((delta - 1)^2)^(1 / (2 beta)) */
typedef struct still_eos_nonanalytic {
    double n, a, b, beta, A, B, C, D;
} still_eos_nonanalytic;
/** A coefficient and its exponent (or its theta, divided by T_r). */
typedef struct still_eos_pair {
    double n, t;
} still_eos_pair;

typedef enum still_eos_form {
    STILL_EOS_ONE_PLUS, /* y_r (1 + S) */
    STILL_EOS_EXP,      /* y_r exp(S) */
    STILL_EOS_EXP_TRT   /* y_r exp(T_r/T S) */
} still_eos_form;
/** A starting value for the saturated state, never a result: S = sum n (1 - T/T_r)^t. */
typedef struct still_eos_ancillary {
    still_eos_form form;
    double T_r_K, y_r;
    const still_eos_pair *terms;
    size_t n_terms;
} still_eos_ancillary;

typedef struct still_eos {
    const char *name;
    double molar_mass_kg_per_mol, R_J_per_kgK; /* R: the paper's own, divided by M */
    double T_r_K, rho_r_kg_m3;
    double T_c_K, p_c_Pa, rho_c_kg_m3;
    double T_triple_K, p_triple_Pa;
    double T_min_K, T_max_K, p_max_Pa, rho_max_kg_m3; /* valid within */
    double a1, a2, log_tau;                           /* ideal part */
    const still_eos_pair *ideal_power, *planck_einstein;
    const still_eos_power *power;
    const still_eos_exponential *exponential;
    const still_eos_gaussian *gaussian;
    const still_eos_associating *associating;
    const still_eos_nonanalytic *nonanalytic;
    size_t n_ideal_power, n_planck_einstein;
    size_t n_power, n_exponential, n_gaussian, n_associating, n_nonanalytic;
    still_eos_ancillary p_sat, rho_liquid, rho_vapour;
} still_eos;

extern const still_eos still_eos_ammonia, still_eos_carbon_dioxide, still_eos_propane,
    still_eos_r134a, still_eos_water;

/** Equation of a substance; NULL for OTHER. */
const still_eos *still_eos_of(still_substance substance);

#endif
