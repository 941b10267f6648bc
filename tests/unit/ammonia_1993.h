/* Equation of state of ammonia (1993 equation). Tillner-Roth R., Harms-Watzenberg F., Baehr
 * H.D.: Eine neue Fundamentalgleichung fuer Ammoniak. DKV-Tagungsbericht 20 (1993) II/1,
 * 167-181; tables in Baehr H.D., Tillner-Roth R., Thermodynamic Properties of Environmentally
 * Acceptable Refrigerants, Springer 1995, doi 10.1007/978-3-642-79400-1. Older; here only to
 * see how far two reference equations differ. Uncertainty: used here to see how far two
 * reference equations for ammonia differ. */
#include "equation.h"

/* Ideal part, powers: n, t. Tillner-Roth R., Harms-Watzenberg F., Baehr H.D.,
 * DKV-Tagungsbericht 20 (1993) II/1, 167-181; tables in Baehr H.D., Tillner-Roth R.,
 * Thermodynamic Properties of Environmentally Acceptable Refrigerants, Springer 1995, doi
 * 10.1007/978-3-642-79400-1; equation in the papers; coefficients as given there. */
static const still_eos_pair ideal_power[] = {
    {11.47434, 0.3333333333333333},
    {-1.296211, -1.5},
    {0.5706757, -1.75},
};
/* Residual part, power terms: n, t, d. Tillner-Roth R., Harms-Watzenberg F., Baehr H.D.,
 * DKV-Tagungsbericht 20 (1993) II/1, 167-181; tables in Baehr H.D., Tillner-Roth R.,
 * Thermodynamic Properties of Environmentally Acceptable Refrigerants, Springer 1995, doi
 * 10.1007/978-3-642-79400-1; equation in the papers; coefficients as given there. */
static const still_eos_power power[] = {
    {-1.858814, 1.5, 1}, {0.04554431, -0.5, 2},   {0.7238548, 0.5, 1},
    {0.0122947, 1.0, 4}, {2.141882e-11, 3.0, 15},
};
/* Residual part, exponential terms: n, t, d, c. Tillner-Roth R., Harms-Watzenberg F., Baehr
 * H.D., DKV-Tagungsbericht 20 (1993) II/1, 167-181; tables in Baehr H.D., Tillner-Roth R.,
 * Thermodynamic Properties of Environmentally Acceptable Refrigerants, Springer 1995, doi
 * 10.1007/978-3-642-79400-1; equation in the papers; coefficients as given there. */
static const still_eos_exponential exponential[] = {
    {-0.0143002, 0, 3, 1},     {0.3441324, 3, 3, 1},      {-0.2873571, 4, 1, 1},
    {2.352589e-05, 4, 8, 1},   {-0.03497111, 5, 2, 1},    {0.001831117, 5, 8, 2},
    {0.02397852, 3, 1, 2},     {-0.04085375, 6, 1, 2},    {0.2379275, 8, 2, 2},
    {-0.03548972, 8, 3, 2},    {-0.1823729, 10, 2, 2},    {0.02281556, 10, 4, 2},
    {-0.006663444, 5, 3, 3},   {-0.008847486, 7.5, 1, 3}, {0.002272635, 15, 2, 3},
    {-0.0005588655, 30, 4, 3},
};
/* Starting values of vapour pressure: n, t. fit of the ammonia ancillaries of Gao et al. 2023
 * reused as starting values only. */
static const still_eos_pair p_sat_terms[] = {
    {-7.3128, 1.0},
    {3.8888, 1.5},
    {-2.9908, 1.6},
    {-2.8636, 3.7},
};
/* Starting values of the density of saturated liquid: n, t. fit of the ammonia ancillaries of
 * Gao et al. 2023 reused as starting values only. */
static const still_eos_pair rho_liquid_terms[] = {
    {0.051236, 0.07}, {3.7925, 0.46}, {-3.5929, 0.77}, {4.6409, 1.05}, {-1.9893, 1.25}, {1.5978, 8},
};
/* Starting values of the density of saturated vapour: n, t. fit of the ammonia ancillaries of
 * Gao et al. 2023 reused as starting values only. */
static const still_eos_pair rho_vapour_terms[] = {
    {-0.089966, 0.112}, {-3.8722, 0.473}, {-8.1183, 1.5},
    {-25.293, 3.875},   {-54.279, 8},     {-400.83, 20},
};

/* Constants and limits. Tillner-Roth R., Harms-Watzenberg F., Baehr H.D., DKV-Tagungsbericht 20
 * (1993) II/1, 167-181; tables in Baehr H.D., Tillner-Roth R., Thermodynamic Properties of
 * Environmentally Acceptable Refrigerants, Springer 1995, doi 10.1007/978-3-642-79400-1. */
const still_eos ammonia_1993 = {
    .name = "ammonia-tr1993",
    .molar_mass_kg_per_mol = 0.01703026,
    .R_J_per_kgK = 488.21750225774593,
    .T_r_K = 405.4,
    .rho_r_kg_m3 = 225.0,
    .T_c_K = 405.4,
    .p_c_Pa = 11333000.0,
    .rho_c_kg_m3 = 225.0,
    .T_triple_K = 195.495,
    .p_triple_Pa = 6091.0,
    .T_min_K = 195.495,
    .T_max_K = 700.0,
    .p_max_Pa = 1000000000.0,
    .rho_max_kg_m3 = 901.1562078999999,
    .a1 = -15.81502,
    .a2 = 4.255726,
    .log_tau = -1.0,
    .ideal_power = ideal_power,
    .n_ideal_power = (sizeof ideal_power / sizeof ideal_power[0]),
    .power = power,
    .n_power = (sizeof power / sizeof power[0]),
    .exponential = exponential,
    .n_exponential = (sizeof exponential / sizeof exponential[0]),
    .p_sat = {STILL_EOS_EXP_TRT, 405.4, 11363400.0, p_sat_terms,
              (sizeof p_sat_terms / sizeof p_sat_terms[0])},
    .rho_liquid = {STILL_EOS_ONE_PLUS, 405.4, 233.25000192000002, rho_liquid_terms,
                   (sizeof rho_liquid_terms / sizeof rho_liquid_terms[0])},
    .rho_vapour = {STILL_EOS_EXP, 405.4, 233.25000192000002, rho_vapour_terms,
                   (sizeof rho_vapour_terms / sizeof rho_vapour_terms[0])},
};
