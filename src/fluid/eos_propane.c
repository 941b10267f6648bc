/* Equation of state of propane. Lemmon E.W., McLinden M.O., Wagner W.: Thermodynamic Properties
 * of Propane. III. A Reference Equation of State for Temperatures from the Melting Line to 650
 * K and Pressures up to 1000 MPa. J. Chem. Eng. Data 54 (2009) 3141-3180, doi
 * 10.1021/je900217v. Uncertainty: 0.01 % to 0.03 % in density below 350 K, 0.02 % in vapour
 * pressure above 180 K, 0.03 % in speed of sound between 260 and 420 K; worse near the critical
 * point (abstract of the paper). */
#include "equation.h"

/* Ideal part, Planck-Einstein terms: n, theta. Lemmon E.W., McLinden M.O., Wagner W., J. Chem.
 * Eng. Data 54 (2009) 3141-3180, doi 10.1021/je900217v; tables of the ideal and residual
 * coefficients in the paper. */
static const still_eos_pair planck_einstein[] = {
    {3.043, 1.0624780340101112},
    {5.874, 3.34423747600638},
    {9.337, 5.3637567925599505},
    {7.922, 11.762956554651383},
};
/* Residual part, power terms: n, t, d. Lemmon E.W., McLinden M.O., Wagner W., J. Chem. Eng.
 * Data 54 (2009) 3141-3180, doi 10.1021/je900217v; tables of the ideal and residual
 * coefficients in the paper. */
static const still_eos_power power[] = {
    {0.042910051, 1, 4},   {1.7313671, 0.33, 1},  {-2.4516524, 0.8, 1},
    {0.34157466, 0.43, 2}, {-0.46047898, 0.9, 2},
};
/* Residual part, exponential terms: n, t, d, c. Lemmon E.W., McLinden M.O., Wagner W., J. Chem.
 * Eng. Data 54 (2009) 3141-3180, doi 10.1021/je900217v; tables of the ideal and residual
 * coefficients in the paper. */
static const still_eos_exponential exponential[] = {
    {-0.66847295, 2.46, 1, 1}, {0.20889705, 2.09, 3, 1},  {0.19421381, 0.88, 6, 1},
    {-0.22917851, 1.09, 6, 1}, {-0.60405866, 3.25, 2, 2}, {0.066680654, 4.62, 3, 2},
};
/* Residual part, gaussian terms: n, t, d, eta, epsilon, beta, gamma. Lemmon E.W., McLinden
 * M.O., Wagner W., J. Chem. Eng. Data 54 (2009) 3141-3180, doi 10.1021/je900217v; tables of the
 * ideal and residual coefficients in the paper. */
static const still_eos_gaussian gaussian[] = {
    {0.017534618, 0.76, 1, 0.963, 1.283, 2.33, 0.684},
    {0.33874242, 2.5, 1, 1.977, 0.6936, 3.47, 0.829},
    {0.22228777, 2.75, 1, 1.917, 0.788, 3.15, 1.419},
    {-0.23219062, 3.05, 2, 2.307, 0.473, 3.19, 0.817},
    {-0.09220694, 2.55, 2, 2.546, 0.8577, 0.92, 1.5},
    {-0.47575718, 8.4, 4, 3.28, 0.271, 18.8, 1.426},
    {-0.017486824, 6.75, 1, 14.6, 0.948, 547.8, 1.093},
};
/* Starting values of vapour pressure: n, t. Lemmon, McLinden & Wagner 2009, ancillary
 * equations. */
static const still_eos_pair p_sat_terms[] = {
    {-6.7722, 1}, {1.6938, 1.5}, {-1.3341, 2.2}, {-3.1876, 4.8}, {0.94937, 6.2},
};
/* Starting values of the density of saturated liquid: n, t. Lemmon, McLinden & Wagner 2009,
 * ancillary equations. */
static const still_eos_pair rho_liquid_terms[] = {
    {1.82205, 0.345},
    {0.65802, 0.74},
    {0.21109, 2.6},
    {0.083973, 7.2},
};
/* Starting values of the density of saturated vapour: n, t. Lemmon, McLinden & Wagner 2009,
 * ancillary equations. */
static const still_eos_pair rho_vapour_terms[] = {
    {-2.4887, 0.3785}, {-5.1069, 1.07}, {-12.174, 2.7},
    {-30.495, 5.5},    {-52.192, 10.0}, {-134.89, 20.0},
};

/* Constants and limits. Lemmon E.W., McLinden M.O., Wagner W., J. Chem. Eng. Data 54 (2009)
 * 3141-3180, doi 10.1021/je900217v. */
const still_eos still_eos_propane = {
    .name = "propane",
    .molar_mass_kg_per_mol = 0.04409562,
    .R_J_per_kgK = 188.55550732703156,
    .T_r_K = 369.89,
    .rho_r_kg_m3 = 220.4781,
    .T_c_K = 369.89,
    .p_c_Pa = 4251200.0,
    .rho_c_kg_m3 = 220.4781,
    .T_triple_K = 85.525,
    .p_triple_Pa = 0.000172,
    .T_min_K = 85.525,
    .T_max_K = 650.0,
    .p_max_Pa = 1000000000.0,
    .rho_max_kg_m3 = 908.369772,
    .a1 = -4.970583,
    .a2 = 4.29352,
    .log_tau = 3,
    .planck_einstein = planck_einstein,
    .n_planck_einstein = (sizeof planck_einstein / sizeof planck_einstein[0]),
    .power = power,
    .n_power = (sizeof power / sizeof power[0]),
    .exponential = exponential,
    .n_exponential = (sizeof exponential / sizeof exponential[0]),
    .gaussian = gaussian,
    .n_gaussian = (sizeof gaussian / sizeof gaussian[0]),
    .p_sat = {STILL_EOS_EXP_TRT, 369.89, 4251200.0, p_sat_terms,
              (sizeof p_sat_terms / sizeof p_sat_terms[0])},
    .rho_liquid = {STILL_EOS_ONE_PLUS, 369.89, 220.4781, rho_liquid_terms,
                   (sizeof rho_liquid_terms / sizeof rho_liquid_terms[0])},
    .rho_vapour = {STILL_EOS_EXP, 369.89, 220.4781, rho_vapour_terms,
                   (sizeof rho_vapour_terms / sizeof rho_vapour_terms[0])},
};
