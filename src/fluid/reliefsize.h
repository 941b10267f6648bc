/** @file reliefsize.h  How much a thermal relief valve must let out: liquid that expands under
 * heat.
 *
 *  API 521 (5th ed. 2007, clause 5.14; ISO 23251). Thermal expansion of closed-in liquid only: not
 *  fire, not blocked discharge, not the orifice. Pure functions; NAN for input that cannot be. */
#ifndef STILL_RELIEFSIZE_H
#define STILL_RELIEFSIZE_H

typedef struct still_reliefneed {
    double volume_m3_per_s, mass_kg_per_s;
} still_reliefneed;

/** q = alpha phi / (1000 d c) with 1000 d = density; SI form.
 *  @param heat_kW  what gets in
 *  @param cp_J_per_kgK  of the liquid
 *  An expansivity below 0 (water below 4 degC) needs no relief: 0. */
still_reliefneed still_reliefneed_of(double expansivity_per_K, double heat_kW, double density_kg_m3,
                                     double cp_J_per_kgK);

/** The US form, q = alpha phi / (500 d c): gallons (US) a minute, from 1/degF, Btu/h, relative
 * density and Btu/(lb degF). Its 500 is rounded (60 times 8.34 lb/gal), so it gives 0.1 % more. */
double still_reliefneed_gpm(double expansivity_per_F, double heat_Btu_per_h,
                            double relative_density, double cp_Btu_per_lbF);

/** Cubic expansion between two states: (rho1^2 - rho2^2) / (2 (T2 - T1) rho1 rho2); API 521, 5th
 *  ed., equation (4). */
double still_expansivity_between(double T1_K, double density1_kg_m3, double T2_K,
                                 double density2_kg_m3);

#endif
