/* Equation of state of ammonia. Gao K., Wu J., Bell I.H., Harvey A.H., Lemmon E.W.: A Reference
 * Equation of State with an Associating Term for the Thermodynamic Properties of Ammonia. J.
 * Phys. Chem. Ref. Data 52 (2023) 013102, doi 10.1063/5.0128269. Uncertainty: see the paper;
 * liquid density of the order of 0.1 % below the critical region (from memory, not checked
 * against the paper). */
#include "equation.h"

/* Ideal part, Planck-Einstein terms: n, theta. Gao K., Wu J., Bell I.H., Harvey A.H., Lemmon
 * E.W., J. Phys. Chem. Ref. Data 52 (2023) 013102, doi 10.1063/5.0128269; ideal part and
 * residual part tables of the paper. */
static const still_eos_pair planck_einstein[] = {
    {2.224, 4.0585856593352405},
    {3.148, 9.776605187888352},
    {0.9579, 17.829667620080876},
};
/* Residual part, power terms: n, t, d. Gao K., Wu J., Bell I.H., Harvey A.H., Lemmon E.W., J.
 * Phys. Chem. Ref. Data 52 (2023) 013102, doi 10.1063/5.0128269; ideal part and residual part
 * tables of the paper. */
static const still_eos_power power[] = {
    {0.006132232, 1.0, 4}, {1.7395866, 0.382, 1},  {-2.2261792, 1.0, 1},
    {-0.30127553, 1.0, 2}, {0.08967023, 0.677, 3},
};
/* Residual part, exponential terms: n, t, d, c. Gao K., Wu J., Bell I.H., Harvey A.H., Lemmon
 * E.W., J. Phys. Chem. Ref. Data 52 (2023) 013102, doi 10.1063/5.0128269; ideal part and
 * residual part tables of the paper. */
static const still_eos_exponential exponential[] = {
    {-0.076387037, 2.915, 3, 2},
    {-0.84063963, 3.51, 2, 2},
    {-0.27026327, 1.063, 3, 1},
};
/* Residual part, gaussian terms: n, t, d, eta, epsilon, beta, gamma. Gao K., Wu J., Bell I.H.,
 * Harvey A.H., Lemmon E.W., J. Phys. Chem. Ref. Data 52 (2023) 013102, doi 10.1063/5.0128269;
 * ideal part and residual part tables of the paper. */
static const still_eos_gaussian gaussian[] = {
    {6.212578, 0.655, 1, 0.42776, -0.0726, 1.708, 1.036},
    {-5.7844357, 1.3, 1, 0.6424, -0.1274, 1.4865, 1.2777},
    {2.4817542, 3.1, 1, 0.8175, 0.7527, 2.0915, 1.083},
    {-2.3739168, 1.4395, 2, 0.7995, 0.57, 2.43, 1.2906},
    {0.01493697, 1.623, 2, 0.91, 2.2, 0.488, 0.928},
    {-3.7749264, 0.643, 1, 0.3574, -0.243, 1.1, 0.934},
    {0.0006254348, 1.13, 3, 1.21, 2.96, 0.85, 0.919},
    {-1.7359e-05, 4.5, 3, 4.14, 3.02, 1.14, 1.852},
    {-0.13462033, 1.0, 1, 22.56, 0.9574, 945.64, 1.05897},
    {0.07749072839, 4.0, 1, 22.68, 0.9576, 993.85, 1.05277},
};
/* Residual part, associating terms: n, t, d, eta, epsilon, beta, gamma, b. Gao K., Wu J., Bell
 * I.H., Harvey A.H., Lemmon E.W., J. Phys. Chem. Ref. Data 52 (2023) 013102, doi
 * 10.1063/5.0128269; ideal part and residual part tables of the paper. */
static const still_eos_associating associating[] = {
    {-1.6909858, 4.3315, 1, 2.8452, 0.4478, 0.3696, 1.108, 1.244},
    {0.93739074, 4.015, 1, 2.8342, 0.44689, 0.2962, 1.313, 0.6826},
};
/* Starting values of vapour pressure: n, t. Gao et al. 2023, ancillary equations. */
static const still_eos_pair p_sat_terms[] = {
    {-7.3128, 1.0},
    {3.8888, 1.5},
    {-2.9908, 1.6},
    {-2.8636, 3.7},
};
/* Starting values of the density of saturated liquid: n, t. Gao et al. 2023, ancillary
 * equations. */
static const still_eos_pair rho_liquid_terms[] = {
    {0.051236, 0.07}, {3.7925, 0.46}, {-3.5929, 0.77}, {4.6409, 1.05}, {-1.9893, 1.25}, {1.5978, 8},
};
/* Starting values of the density of saturated vapour: n, t. Gao et al. 2023, ancillary
 * equations. */
static const still_eos_pair rho_vapour_terms[] = {
    {-0.089966, 0.112}, {-3.8722, 0.473}, {-8.1183, 1.5},
    {-25.293, 3.875},   {-54.279, 8},     {-400.83, 20},
};

/* Constants and limits. Gao K., Wu J., Bell I.H., Harvey A.H., Lemmon E.W., J. Phys. Chem. Ref.
 * Data 52 (2023) 013102, doi 10.1063/5.0128269. */
const still_eos still_eos_ammonia = {
    .name = "ammonia",
    .molar_mass_kg_per_mol = 0.01703052,
    .R_J_per_kgK = 488.2095566077841,
    .T_r_K = 405.56,
    .rho_r_kg_m3 = 233.25000192000002,
    .T_c_K = 405.56,
    .p_c_Pa = 11363400.0,
    .rho_c_kg_m3 = 233.25000192000002,
    .T_triple_K = 195.49,
    .p_triple_Pa = 6053.39,
    .T_min_K = 195.49,
    .T_max_K = 725.0,
    .p_max_Pa = 1000000000.0,
    .rho_max_kg_m3 = 904.8315276000001,
    .a1 = -6.59406093943886,
    .a2 = 5.60101151987913,
    .log_tau = 3,
    .planck_einstein = planck_einstein,
    .n_planck_einstein = (sizeof planck_einstein / sizeof planck_einstein[0]),
    .power = power,
    .n_power = (sizeof power / sizeof power[0]),
    .exponential = exponential,
    .n_exponential = (sizeof exponential / sizeof exponential[0]),
    .gaussian = gaussian,
    .n_gaussian = (sizeof gaussian / sizeof gaussian[0]),
    .associating = associating,
    .n_associating = (sizeof associating / sizeof associating[0]),
    .p_sat = {STILL_EOS_EXP_TRT, 405.56, 11363400.0, p_sat_terms,
              (sizeof p_sat_terms / sizeof p_sat_terms[0])},
    .rho_liquid = {STILL_EOS_ONE_PLUS, 405.56, 233.25000192000002, rho_liquid_terms,
                   (sizeof rho_liquid_terms / sizeof rho_liquid_terms[0])},
    .rho_vapour = {STILL_EOS_EXP, 405.56, 233.25000192000002, rho_vapour_terms,
                   (sizeof rho_vapour_terms / sizeof rho_vapour_terms[0])},
};
