/** @file phases.h  Saturated states, and the density at given temperature and pressure.
 *
 *  Pure functions without heap; pressures in bar absolute. On any status but OK outputs are
 *  untouched. A saturated state at T costs 3 to 6 steps of two evaluations (helmholtz.h), about 10
 *  microseconds; at p three to five times as much; a density about 10 evaluations. */
#ifndef STILL_PHASES_H
#define STILL_PHASES_H

#include "helmholtz.h"

/** Within this distance of the critical temperature no saturated state is given. */
#define STILL_EOS_CRITICAL_K 0.1

typedef struct still_eos_saturation {
    double T_K, pressure_bara, liquid_kg_m3, vapour_kg_m3;
    double dp_dT_bar_per_K; /* along the vapour pressure curve */
} still_eos_saturation;

/** Saturated state at a temperature.
 *  @return OK, BAD_INPUT, BELOW_TRIPLE, NEAR_CRITICAL (T_c - 0.1 K to T_c), ABOVE_CRITICAL,
 *          NO_CONVERGENCE */
STILL_NODISCARD still_eos_status still_eos_saturation_T(still_eos_saturation *out,
                                                        const still_eos *eos, double T_K);
/** The same without a look at limits: what the formula gives, for tests. T below T_c.
 *  @return OK, NO_CONVERGENCE */
STILL_NODISCARD still_eos_status still_eos_balance(still_eos_saturation *out, const still_eos *eos,
                                                   double T_K);
/** Saturated state at a pressure. @return as above */
STILL_NODISCARD still_eos_status still_eos_saturation_p(still_eos_saturation *out,
                                                        const still_eos *eos, double pressure_bara);

/** All properties at T and density.
 *  @return OK, BAD_INPUT, BELOW_TRIPLE, ABOVE_LIMIT, NEAR_CRITICAL (within 0.1 K and a tenth of the
 *          density of the critical point, or where it may be in two phases), NOT_STABLE (between
 * the saturated densities by more than a billionth), NO_CONVERGENCE */
STILL_NODISCARD still_eos_status still_eos_state_Trho(still_eos_state *out, const still_eos *eos,
                                                      double T_K, double density_kg_m3);

/** Density of the liquid; above the critical temperature, of the one phase there is.
 *  @return OK, BAD_INPUT, BELOW_TRIPLE, ABOVE_LIMIT, NEAR_CRITICAL, NOT_LIQUID (pressure below
 *          saturation by more than a billionth), NO_CONVERGENCE */
STILL_NODISCARD still_eos_status still_eos_liquid_density(double *density_kg_m3,
                                                          const still_eos *eos, double T_K,
                                                          double pressure_bara);
/** Density of the phase that is stable at T and p; at the saturation pressure, of the liquid.
 *  @return as above, never NOT_LIQUID */
STILL_NODISCARD still_eos_status still_eos_density(double *density_kg_m3, const still_eos *eos,
                                                   double T_K, double pressure_bara);

/** Root of p(T, rho) = p within [low, high], where p(T, rho) must rise with rho.
 *  @return OK or NO_CONVERGENCE (the ends do not enclose p) */
STILL_NODISCARD still_eos_status still_eos_root(double *density_kg_m3, const still_eos *eos,
                                                double T_K, double pressure_bara, double low_kg_m3,
                                                double high_kg_m3);

#endif
