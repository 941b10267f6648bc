/* Equation of state of 1,1,1,2-tetrafluoroethane. Tillner-Roth R., Baehr H.D.: An International
 * Standard Formulation for the Thermodynamic Properties of 1,1,1,2-Tetrafluoroethane (HFC-134a)
 * for Temperatures from 170 K to 455 K and Pressures up to 70 MPa. J. Phys. Chem. Ref. Data 23
 * (1994) 657-729, doi 10.1063/1.555958. Uncertainty: density 0.05 % (paper). */
#include "equation.h"

/* Ideal part, powers: n, t. Tillner-Roth R., Baehr H.D., J. Phys. Chem. Ref. Data 23 (1994)
 * 657-729, doi 10.1063/1.555958; coefficient tables of the paper; R = 81.488856 J/(kg K). */
static const still_eos_pair ideal_power[] = {
    {-9.723916, -0.5},
    {-3.92717, -0.75},
};
/* Residual part, power terms: n, t, d. Tillner-Roth R., Baehr H.D., J. Phys. Chem. Ref. Data 23
 * (1994) 657-729, doi 10.1063/1.555958; coefficient tables of the paper; R = 81.488856 J/(kg
 * K). */
static const still_eos_power power[] = {
    {0.05586817, -0.5, 2},  {0.498223, 0, 1},    {0.02458698, 0, 3}, {0.0008570145, 0, 6},
    {0.0004788584, 1.5, 6}, {-1.800808, 1.5, 1}, {0.2671641, 2, 1},  {-0.04781652, 2, 2},
};
/* Residual part, exponential terms: n, t, d, c. Tillner-Roth R., Baehr H.D., J. Phys. Chem.
 * Ref. Data 23 (1994) 657-729, doi 10.1063/1.555958; coefficient tables of the paper; R =
 * 81.488856 J/(kg K). */
static const still_eos_exponential exponential[] = {
    {0.01423987, 1, 5, 1},      {0.3324062, 3, 2, 1},     {-0.007485907, 5, 2, 1},
    {0.0001017263, 1, 4, 2},    {-0.5184567, 5, 1, 2},    {-0.08692288, 5, 4, 2},
    {0.2057144, 6, 1, 2},       {-0.005000457, 10, 2, 2}, {0.0004603262, 10, 4, 2},
    {-0.003497836, 10, 1, 3},   {0.006995038, 18, 5, 3},  {-0.01452184, 22, 3, 3},
    {-0.0001285458, 50, 10, 4},
};
/* Starting values of vapour pressure: n, t. Tillner-Roth & Baehr 1994, ancillary equations. */
static const still_eos_pair p_sat_terms[] = {
    {-7.686556, 1},
    {2.311791, 1.5},
    {-2.039554, 2},
    {-3.583758, 4},
};
/* Starting values of the density of saturated liquid: n, t. Tillner-Roth & Baehr 1994,
 * ancillary equations (published as a sum in kg/m3, here divided by 518.20). */
static const still_eos_pair rho_liquid_terms[] = {
    {1.7061559243535314, 0.3333333333333333},
    {0.9375530683133924, 0.6666666666666666},
    {0.3730027016595908, 3.3333333333333335},
};
/* Starting values of the density of saturated vapour: n, t. Tillner-Roth & Baehr 1994,
 * ancillary equations. */
static const still_eos_pair rho_vapour_terms[] = {
    {-2.837294, 0.3333333333333333},
    {-7.875988, 0.6666666666666666},
    {4.478586, 0.5},
    {-14.140125, 2.25},
    {-52.361297, 5.5},
};

/* Constants and limits. Tillner-Roth R., Baehr H.D., J. Phys. Chem. Ref. Data 23 (1994)
 * 657-729, doi 10.1063/1.555958. */
const still_eos still_eos_r134a = {
    .name = "r134a",
    .molar_mass_kg_per_mol = 0.102032,
    .R_J_per_kgK = 81.48885643719616,
    .T_r_K = 374.18,
    .rho_r_kg_m3 = 508.0,
    .T_c_K = 374.18,
    .p_c_Pa = 4056290.0,
    .rho_c_kg_m3 = 508.0,
    .T_triple_K = 169.85,
    .p_triple_Pa = 389.56,
    .T_min_K = 169.85,
    .T_max_K = 455.0,
    .p_max_Pa = 70000000.0,
    .rho_max_kg_m3 = 1591.7,
    .a1 = -1.019535,
    .a2 = 9.047135,
    .log_tau = -1.629789,
    .ideal_power = ideal_power,
    .n_ideal_power = (sizeof ideal_power / sizeof ideal_power[0]),
    .power = power,
    .n_power = (sizeof power / sizeof power[0]),
    .exponential = exponential,
    .n_exponential = (sizeof exponential / sizeof exponential[0]),
    .p_sat = {STILL_EOS_EXP_TRT, 374.18, 4056290.0, p_sat_terms,
              (sizeof p_sat_terms / sizeof p_sat_terms[0])},
    .rho_liquid = {STILL_EOS_ONE_PLUS, 374.18, 518.2, rho_liquid_terms,
                   (sizeof rho_liquid_terms / sizeof rho_liquid_terms[0])},
    .rho_vapour = {STILL_EOS_EXP, 374.18, 516.86, rho_vapour_terms,
                   (sizeof rho_vapour_terms / sizeof rho_vapour_terms[0])},
};
