/* Equation of state of carbon dioxide. Span R., Wagner W.: A New Equation of State for Carbon
 * Dioxide Covering the Fluid Region from the Triple-Point Temperature to 1100 K at Pressures up
 * to 800 MPa. J. Phys. Chem. Ref. Data 25 (1996) 1509-1596, doi 10.1063/1.555991. Uncertainty:
 * density 0.03 to 0.05 % up to 30 MPa and 523 K (paper). */
#include "equation.h"

/* Ideal part, Planck-Einstein terms: n, theta. Span R., Wagner W., J. Phys. Chem. Ref. Data 25
 * (1996) 1509-1596, doi 10.1063/1.555991; Tables 27 (ideal part) and 31 (residual part). */
static const still_eos_pair planck_einstein[] = {
    {1.99427042, 3.15163},  {0.62105248, 6.1119},   {0.41195293, 6.77708},
    {1.04028922, 11.32384}, {0.08327678, 27.08792},
};
/* Residual part, power terms: n, t, d. Span R., Wagner W., J. Phys. Chem. Ref. Data 25 (1996)
 * 1509-1596, doi 10.1063/1.555991; Tables 27 (ideal part) and 31 (residual part). */
static const still_eos_power power[] = {
    {0.38856823203161, 0.0, 1},  {2.938547594274, 0.75, 1},   {-5.5867188534934, 1.0, 1},
    {-0.76753199592477, 2.0, 1}, {0.31729005580416, 0.75, 2}, {0.54803315897767, 2.0, 2},
    {0.12279411220335, 0.75, 3},
};
/* Residual part, exponential terms: n, t, d, c. Span R., Wagner W., J. Phys. Chem. Ref. Data 25
 * (1996) 1509-1596, doi 10.1063/1.555991; Tables 27 (ideal part) and 31 (residual part). */
static const still_eos_exponential exponential[] = {
    {2.165896154322, 1.5, 1, 1},      {1.5841735109724, 1.5, 2, 1},
    {-0.23132705405503, 2.5, 4, 1},   {0.058116916431436, 0, 5, 1},
    {-0.55369137205382, 1.5, 5, 1},   {0.48946615909422, 2, 5, 1},
    {-0.024275739843501, 0, 6, 1},    {0.062494790501678, 1, 6, 1},
    {-0.12175860225246, 2, 6, 1},     {-0.37055685270086, 3, 1, 2},
    {-0.016775879700426, 6, 1, 2},    {-0.11960736637987, 3, 4, 2},
    {-0.045619362508778, 6, 4, 2},    {0.035612789270346, 8, 4, 2},
    {-0.0074427727132052, 6, 7, 2},   {-0.0017395704902432, 0, 8, 2},
    {-0.021810121289527, 7, 2, 3},    {0.024332166559236, 12, 3, 3},
    {-0.037440133423463, 16, 3, 3},   {0.14338715756878, 22, 5, 4},
    {-0.13491969083286, 24, 5, 4},    {-0.02315122505348, 16, 6, 4},
    {0.012363125492901, 24, 7, 4},    {0.002105832197294, 8, 8, 4},
    {-0.00033958519026368, 2, 10, 4}, {0.0055993651771592, 28, 4, 5},
    {-0.00030335118055646, 14, 8, 6},
};
/* Residual part, gaussian terms: n, t, d, eta, epsilon, beta, gamma. Span R., Wagner W., J.
 * Phys. Chem. Ref. Data 25 (1996) 1509-1596, doi 10.1063/1.555991; Tables 27 (ideal part) and
 * 31 (residual part). */
static const still_eos_gaussian gaussian[] = {
    {-213.6548868832, 1.0, 2, 25, 1.0, 325, 1.16},  {26641.569149272, 0.0, 2, 25, 1.0, 300, 1.19},
    {-24027.212204557, 1.0, 2, 25, 1.0, 300, 1.19}, {-283.41603423999, 3.0, 3, 15, 1.0, 275, 1.25},
    {212.47284400179, 3.0, 3, 20, 1.0, 275, 1.22},
};
/* Residual part, nonanalytic terms: n, a, b, beta, A, B, C, D. Span R., Wagner W., J. Phys.
 * Chem. Ref. Data 25 (1996) 1509-1596, doi 10.1063/1.555991; Tables 27 (ideal part) and 31
 * (residual part). */
static const still_eos_nonanalytic nonanalytic[] = {
    {-0.66642276540751, 3.5, 0.875, 0.3, 0.7, 0.3, 10.0, 275},
    {0.72608632349897, 3.5, 0.925, 0.3, 0.7, 0.3, 10.0, 275},
    {0.055068668612842, 3.0, 0.875, 0.3, 0.7, 1.0, 12.5, 275},
};
/* Starting values of vapour pressure: n, t. Span & Wagner 1996, Eq. (3.13). */
static const still_eos_pair p_sat_terms[] = {
    {-7.0602087, 1},
    {1.9391218, 1.5},
    {-1.6463597, 2.0},
    {-3.2995634, 4.0},
};
/* Starting values of the density of saturated liquid: n, t. Span & Wagner 1996, Eq. (3.14). */
static const still_eos_pair rho_liquid_terms[] = {
    {1.9245108, 0.34},
    {-0.62385555, 0.5},
    {-0.32731127, 1.6666666666666667},
    {0.39245142, 1.8333333333333333},
};
/* Starting values of the density of saturated vapour: n, t. Span & Wagner 1996, Eq. (3.15). */
static const still_eos_pair rho_vapour_terms[] = {
    {-1.7074879, 0.34},
    {-0.8227467, 0.5},
    {-4.6008549, 1},
    {-10.111178, 2.3333333333333335},
    {-29.742252, 4.666666666666667},
};

/* Constants and limits. Span R., Wagner W., J. Phys. Chem. Ref. Data 25 (1996) 1509-1596, doi
 * 10.1063/1.555991. */
const still_eos still_eos_carbon_dioxide = {
    .name = "carbon-dioxide",
    .molar_mass_kg_per_mol = 0.0440098,
    .R_J_per_kgK = 188.92405782348476,
    .T_r_K = 304.1282,
    .rho_r_kg_m3 = 467.6,
    .T_c_K = 304.1282,
    .p_c_Pa = 7377300.0,
    .rho_c_kg_m3 = 467.6,
    .T_triple_K = 216.592,
    .p_triple_Pa = 517950.0,
    .T_min_K = 216.592,
    .T_max_K = 1100.0,
    .p_max_Pa = 800000000.0,
    .rho_max_kg_m3 = 1638.924952,
    .a1 = 8.37304456,
    .a2 = -3.70454304,
    .log_tau = 2.5,
    .planck_einstein = planck_einstein,
    .n_planck_einstein = (sizeof planck_einstein / sizeof planck_einstein[0]),
    .power = power,
    .n_power = (sizeof power / sizeof power[0]),
    .exponential = exponential,
    .n_exponential = (sizeof exponential / sizeof exponential[0]),
    .gaussian = gaussian,
    .n_gaussian = (sizeof gaussian / sizeof gaussian[0]),
    .nonanalytic = nonanalytic,
    .n_nonanalytic = (sizeof nonanalytic / sizeof nonanalytic[0]),
    .p_sat = {STILL_EOS_EXP_TRT, 304.1282, 7377300.0, p_sat_terms,
              (sizeof p_sat_terms / sizeof p_sat_terms[0])},
    .rho_liquid = {STILL_EOS_EXP, 304.1282, 467.6, rho_liquid_terms,
                   (sizeof rho_liquid_terms / sizeof rho_liquid_terms[0])},
    .rho_vapour = {STILL_EOS_EXP, 304.1282, 467.6, rho_vapour_terms,
                   (sizeof rho_vapour_terms / sizeof rho_vapour_terms[0])},
};
