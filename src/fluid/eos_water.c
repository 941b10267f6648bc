/* Equation of state of water. IAPWS; Wagner W., Pruss A.: Revised Release on the IAPWS
 * Formulation 1995 for the Thermodynamic Properties of Ordinary Water Substance for General and
 * Scientific Use. IAPWS R6-95(2018); J. Phys. Chem. Ref. Data 31 (2002) 387-535, doi
 * 10.1063/1.1461829. Uncertainty: liquid density 0.0001 % at 0.1 MPa to 0.02 % at 100 MPa
 * (release, figures). */
#include "equation.h"

/* Ideal part, Planck-Einstein terms: n, theta. IAPWS; Wagner W., Pruss A., IAPWS R6-95(2018);
 * J. Phys. Chem. Ref. Data 31 (2002) 387-535, doi 10.1063/1.1461829; R6-95(2018) Tables 1 and
 * 2. */
static const still_eos_pair planck_einstein[] = {
    {0.012436, 1.28728967}, {0.97315, 3.53734222}, {1.2795, 7.74073708},
    {0.96956, 9.24437796},  {0.24873, 27.5075105},
};
/* Residual part, power terms: n, t, d. IAPWS; Wagner W., Pruss A., IAPWS R6-95(2018); J. Phys.
 * Chem. Ref. Data 31 (2002) 387-535, doi 10.1063/1.1461829; R6-95(2018) Tables 1 and 2. */
static const still_eos_power power[] = {
    {0.012533547935523, -0.5, 1}, {7.8957634722828, 0.875, 1},  {-8.7803203303561, 1, 1},
    {0.31802509345418, 0.5, 2},   {-0.26145533859358, 0.75, 2}, {-0.0078199751687981, 0.375, 3},
    {0.0088089493102134, 1, 4},
};
/* Residual part, exponential terms: n, t, d, c. IAPWS; Wagner W., Pruss A., IAPWS R6-95(2018);
 * J. Phys. Chem. Ref. Data 31 (2002) 387-535, doi 10.1063/1.1461829; R6-95(2018) Tables 1 and
 * 2. */
static const still_eos_exponential exponential[] = {
    {-0.66856572307965, 4, 1, 1},     {0.20433810950965, 6, 1, 1},
    {-6.6212605039687e-05, 12, 1, 1}, {-0.19232721156002, 1, 2, 1},
    {-0.25709043003438, 5, 2, 1},     {0.16074868486251, 4, 3, 1},
    {-0.040092828925807, 2, 4, 1},    {3.9343422603254e-07, 13, 4, 1},
    {-7.5941377088144e-06, 9, 5, 1},  {0.00056250979351888, 3, 7, 1},
    {-1.5608652257135e-05, 4, 9, 1},  {1.1537996422951e-09, 11, 10, 1},
    {3.6582165144204e-07, 4, 11, 1},  {-1.3251180074668e-12, 13, 13, 1},
    {-6.2639586912454e-10, 1, 15, 1}, {-0.10793600908932, 7, 1, 2},
    {0.017611491008752, 1, 2, 2},     {0.22132295167546, 9, 2, 2},
    {-0.40247669763528, 10, 2, 2},    {0.58083399985759, 10, 3, 2},
    {0.0049969146990806, 3, 4, 2},    {-0.031358700712549, 7, 4, 2},
    {-0.74315929710341, 10, 4, 2},    {0.4780732991548, 10, 5, 2},
    {0.020527940895948, 6, 6, 2},     {-0.13636435110343, 10, 6, 2},
    {0.014180634400617, 10, 7, 2},    {0.0083326504880713, 1, 9, 2},
    {-0.029052336009585, 2, 9, 2},    {0.038615085574206, 3, 9, 2},
    {-0.020393486513704, 4, 9, 2},    {-0.0016554050063734, 8, 9, 2},
    {0.0019955571979541, 6, 10, 2},   {0.00015870308324157, 9, 10, 2},
    {-1.638856834253e-05, 8, 12, 2},  {0.043613615723811, 16, 3, 3},
    {0.034994005463765, 22, 4, 3},    {-0.076788197844621, 23, 4, 3},
    {0.022446277332006, 23, 5, 3},    {-6.2689710414685e-05, 10, 14, 4},
    {-5.5711118565645e-10, 50, 3, 6}, {-0.19905718354408, 44, 6, 6},
    {0.31777497330738, 46, 6, 6},     {-0.11841182425981, 50, 6, 6},
};
/* Residual part, gaussian terms: n, t, d, eta, epsilon, beta, gamma. IAPWS; Wagner W., Pruss
 * A., IAPWS R6-95(2018); J. Phys. Chem. Ref. Data 31 (2002) 387-535, doi 10.1063/1.1461829;
 * R6-95(2018) Tables 1 and 2. */
static const still_eos_gaussian gaussian[] = {
    {-31.306260323435, 0, 3, 20, 1, 150, 1.21},
    {31.546140237781, 1, 3, 20, 1, 150, 1.21},
    {-2521.3154341695, 4, 3, 20, 1, 250, 1.25},
};
/* Residual part, nonanalytic terms: n, a, b, beta, A, B, C, D. IAPWS; Wagner W., Pruss A.,
 * IAPWS R6-95(2018); J. Phys. Chem. Ref. Data 31 (2002) 387-535, doi 10.1063/1.1461829;
 * R6-95(2018) Tables 1 and 2. */
static const still_eos_nonanalytic nonanalytic[] = {
    {-0.14874640856724, 3.5, 0.85, 0.3, 0.32, 0.2, 28, 700},
    {0.31806110878444, 3.5, 0.95, 0.3, 0.32, 0.2, 32, 800},
};
/* Starting values of vapour pressure: n, t. IAPWS SR1-86(1992); Wagner & Pruss, J. Phys. Chem.
 * Ref. Data 22 (1993) 783-787, Eq. (1). */
static const still_eos_pair p_sat_terms[] = {
    {-7.85951783, 1},  {1.84408259, 1.5}, {-11.7866497, 3},
    {22.6807411, 3.5}, {-15.9618719, 4},  {1.80122502, 7.5},
};
/* Starting values of the density of saturated liquid: n, t. IAPWS SR1-86(1992); Wagner & Pruss,
 * J. Phys. Chem. Ref. Data 22 (1993) 783-787, Eq. (2). */
static const still_eos_pair rho_liquid_terms[] = {
    {1.99274064, 0.3333333333333333},   {1.09965342, 0.6666666666666666},
    {-0.510839303, 1.6666666666666667}, {-1.75493479, 5.333333333333333},
    {-45.5170352, 14.333333333333334},  {-674694.45, 36.666666666666664},
};
/* Starting values of the density of saturated vapour: n, t. IAPWS SR1-86(1992); Wagner & Pruss,
 * J. Phys. Chem. Ref. Data 22 (1993) 783-787, Eq. (3). */
static const still_eos_pair rho_vapour_terms[] = {
    {-2.0315024, 0.3333333333333333},  {-2.6830294, 0.6666666666666666},
    {-5.38626492, 1.3333333333333333}, {-17.2991605, 3.0},
    {-44.7586581, 6.166666666666667},  {-63.9201063, 11.833333333333334},
};

/* Constants and limits. IAPWS; Wagner W., Pruss A., IAPWS R6-95(2018); J. Phys. Chem. Ref. Data
 * 31 (2002) 387-535, doi 10.1063/1.1461829. */
const still_eos still_eos_water = {
    .name = "water",
    .molar_mass_kg_per_mol = 0.018015268,
    .R_J_per_kgK = 461.51805,
    .T_r_K = 647.096,
    .rho_r_kg_m3 = 322.0,
    .T_c_K = 647.096,
    .p_c_Pa = 22064000.0,
    .rho_c_kg_m3 = 322.0,
    .T_triple_K = 273.16,
    .p_triple_Pa = 611.657,
    .T_min_K = 273.16,
    .T_max_K = 1273.0,
    .p_max_Pa = 1000000000.0,
    .rho_max_kg_m3 = 1250.0,
    .a1 = -8.3204464837497,
    .a2 = 6.6832105275932,
    .log_tau = 3.00632,
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
    .p_sat = {STILL_EOS_EXP_TRT, 647.096, 22064000.0, p_sat_terms,
              (sizeof p_sat_terms / sizeof p_sat_terms[0])},
    .rho_liquid = {STILL_EOS_ONE_PLUS, 647.096, 322.0, rho_liquid_terms,
                   (sizeof rho_liquid_terms / sizeof rho_liquid_terms[0])},
    .rho_vapour = {STILL_EOS_EXP, 647.096, 322.0, rho_vapour_terms,
                   (sizeof rho_vapour_terms / sizeof rho_vapour_terms[0])},
};
