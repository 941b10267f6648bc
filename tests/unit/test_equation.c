/* Equations of state (L4): derivatives against differences, saturation and densities over the whole
 * range, what is refused. Their values: test_reference.c. */
#include "ammonia_1993.h"
#include "fluidkit.h"

/* Every derivative of the residual and the ideal part against differences of the one below it:
 * step 1e-5 relative, agreement 1e-6 (fluids: the equations' own smoothness). */
typedef void part(const still_eos *eos, double tau, double delta, still_helmholtz *out);

static void derivatives_of(const still_eos *eos, part *of, double tau, double delta)
{
    const double h = 1e-5;
    still_helmholtz at, up, down;
    of(eos, tau, delta, &at);
    double size = 1 + fabs(at.a) + fabs(at.d) + fabs(at.t);
    of(eos, tau, delta * (1 + h), &up);
    of(eos, tau, delta * (1 - h), &down);
    WITHIN((up.a - down.a) / (2 * h), at.d, 2e-6 * size);
    WITHIN((up.d - down.d) / (2 * h), at.d + at.dd, 2e-6 * (size + fabs(at.dd)));
    WITHIN((up.t - down.t) / (2 * h), at.dt, 2e-6 * (size + fabs(at.dt)));
    of(eos, tau * (1 + h), delta, &up);
    of(eos, tau * (1 - h), delta, &down);
    WITHIN((up.a - down.a) / (2 * h), at.t, 2e-6 * size);
    WITHIN((up.t - down.t) / (2 * h), at.t + at.tt, 2e-6 * (size + fabs(at.tt)));
    WITHIN((up.d - down.d) / (2 * h), at.dt, 2e-6 * (size + fabs(at.dt)));
}

static void L4_derivatives_against_differences(void **given)
{
    (void)given;
    for (int i = 0; i <= FLUIDS; i++) {
        const still_eos *eos = i < FLUIDS ? fluids[i] : &ammonia_1993;
        for (double T = eos->T_min_K * 1.001; T < 1.3 * eos->T_c_K; T += 0.07 * eos->T_c_K)
            for (double d = 0.01; d < 3; d += 0.097) {
                derivatives_of(eos, still_helmholtz_residual, eos->T_r_K / T, d);
                derivatives_of(eos, still_helmholtz_ideal, eos->T_r_K / T, d);
            }
    }
}

/* IAPWS R6-95(2018), Table 6: ideal and residual part of water at 500 K, 838.025 kg/m3. */
static void L4_water_helmholtz_parts_published(void **given)
{
    still_helmholtz r, o;
    double tau = 647.096 / 500, delta = 838.025 / 322;
    (void)given;
    still_helmholtz_ideal(&still_eos_water, tau, delta, &o);
    still_helmholtz_residual(&still_eos_water, tau, delta, &r);
    /* From memory of the release; a slip would show in test_reference.c too. */
    WITHIN(o.a, 0.204797733e1, 1e-8);
    WITHIN(r.a, -0.342693206e1, 1e-8);
}

/* The non-analytic terms at and beside delta = 1: finite, and smooth enough. */
static void L4_nothing_breaks_at_the_critical_density(void **given)
{
    (void)given;
    for (int i = 0; i < FLUIDS; i++)
        for (double T = 0.99; T < 1.01; T += 0.0007) {
            const still_eos *eos = fluids[i];
            double p = still_eos_pressure_bara(eos, T * eos->T_c_K, eos->rho_r_kg_m3, NULL);
            double q =
                still_eos_pressure_bara(eos, T * eos->T_c_K, eos->rho_r_kg_m3 * (1 + 1e-7), NULL);
            CLOSE(p, q, 1e-5);
        }
}

/* Saturation over the whole range: always found, in balance, and the way back; liquid and vapour
 * found from T and p lie on their branches. */
static void L4_saturation_over_the_whole_range(void **given)
{
    const still_eos *eos = *given;
    double end = eos->T_c_K - STILL_EOS_CRITICAL_K, before = 0;
    for (double T = eos->T_min_K; T <= end; T += 0.173) {
        still_eos_saturation s, back;
        double rho;
        OK(still_eos_saturation_T(&s, eos, T));
        assert_true(s.pressure_bara > before);
        assert_true(s.liquid_kg_m3 > eos->rho_c_kg_m3 && s.vapour_kg_m3 < eos->rho_c_kg_m3);
        before = s.pressure_bara;
        /* Balance of pressures, against the liquid's own noise of rounding. */
        double p = still_eos_pressure_bara(eos, T, s.liquid_kg_m3, NULL);
        WITHIN(p, s.pressure_bara, 1e-8 * s.pressure_bara + 1e-6);
        /* Balance of Gibbs energies. */
        still_eos_state l, v;
        still_eos_formula(&l, eos, T, s.liquid_kg_m3);
        still_eos_formula(&v, eos, T, s.vapour_kg_m3);
        WITHIN(l.h_J_per_kg - v.h_J_per_kg, T * (l.s_J_per_kgK - v.s_J_per_kgK),
               1e-8 * eos->R_J_per_kgK * T);
        OK(still_eos_saturation_p(&back, eos, s.pressure_bara));
        WITHIN(back.T_K, T, 1e-9);
        OK(still_eos_liquid_density(&rho, eos, T, s.pressure_bara * (1 - 1e-10)));
        CLOSE(rho, s.liquid_kg_m3, 1e-12);
        OK(still_eos_liquid_density(&rho, eos, T, s.pressure_bara * 1.001));
        assert_true(rho >= s.liquid_kg_m3 * (1 - 1e-9));
        OK(still_eos_density(&rho, eos, T, s.pressure_bara * 0.99));
        assert_true(rho < s.vapour_kg_m3);
        assert_int_equal(still_eos_liquid_density(&rho, eos, T, s.pressure_bara * 0.99),
                         STILL_EOS_NOT_LIQUID);
    }
}

/* Densities from T and p: the pressure comes back, on a branch that is stable. */
static void L4_density_and_back(void **given)
{
    uint64_t seed = 20240607;
    (void)given;
    print_message("seed %u\n", (unsigned)seed);
    int found = 0;
    for (int i = 0; i < 4000; i++) {
        const still_eos *eos = fluids[i % FLUIDS];
        double T = random_between(&seed, eos->T_min_K, 1.4 * eos->T_c_K);
        double p = exp(random_between(&seed, log(0.01), log(600)));
        double rho, slope;
        still_eos_status status = still_eos_density(&rho, eos, T, p);
        if (status) {
            assert_true(status == STILL_EOS_NEAR_CRITICAL || status == STILL_EOS_ABOVE_LIMIT);
            continue;
        }
        found++;
        double q = still_eos_pressure_bara(eos, T, rho, &slope);
        CLOSE(q, p, 1e-10 + 1e-12 * slope * rho / (p * 1e5));
        assert_true(slope > 0);
    }
    assert_true(found > 3500);
}

static void L4_refused_outside_the_range(void **given)
{
    still_eos_state s = {.T_K = 7};
    still_eos_saturation sat = {.T_K = 7};
    double rho = 7;
    const still_eos *w = &still_eos_water, *r = &still_eos_r134a, *c = &still_eos_carbon_dioxide;
    (void)given;
    /* Below the triple point. */
    assert_int_equal(still_eos_saturation_T(&sat, w, 273), STILL_EOS_BELOW_TRIPLE);
    assert_int_equal(still_eos_saturation_p(&sat, w, 0.006), STILL_EOS_BELOW_TRIPLE);
    assert_int_equal(still_eos_liquid_density(&rho, w, 273, 1), STILL_EOS_BELOW_TRIPLE);
    assert_int_equal(still_eos_state_Trho(&s, c, 216, 1180), STILL_EOS_BELOW_TRIPLE);
    /* R134a beyond 70 MPa, though its formula would give a number. */
    OK(still_eos_liquid_density(&rho, r, 300, 699));
    rho = 7;
    assert_int_equal(still_eos_liquid_density(&rho, r, 300, 701), STILL_EOS_ABOVE_LIMIT);
    assert_int_equal(still_eos_density(&rho, r, 456, 1), STILL_EOS_ABOVE_LIMIT);
    assert_int_equal(still_eos_state_Trho(&s, r, 300, 1600), STILL_EOS_ABOVE_LIMIT);
    assert_int_equal(still_eos_state_Trho(&s, r, 450, 1450), STILL_EOS_ABOVE_LIMIT);
    assert_int_equal(still_eos_state_Trho(&s, r, 456, 1), STILL_EOS_ABOVE_LIMIT);
    assert_int_equal(still_eos_state_Trho(&s, r, 170, 1595), STILL_EOS_ABOVE_LIMIT);
    /* Near and above the critical point. */
    assert_int_equal(still_eos_saturation_T(&sat, c, 304.1), STILL_EOS_NEAR_CRITICAL);
    assert_int_equal(still_eos_saturation_T(&sat, c, 305), STILL_EOS_ABOVE_CRITICAL);
    assert_int_equal(still_eos_saturation_p(&sat, c, 73.77), STILL_EOS_NEAR_CRITICAL);
    assert_int_equal(still_eos_saturation_p(&sat, c, 74), STILL_EOS_ABOVE_CRITICAL);
    assert_int_equal(still_eos_state_Trho(&s, c, 304.1282, 467.6), STILL_EOS_NEAR_CRITICAL);
    assert_int_equal(still_eos_density(&rho, c, 304.1, 73.73), STILL_EOS_NEAR_CRITICAL);
    assert_int_equal(still_eos_density(&rho, c, 304.15, 73.81), STILL_EOS_NEAR_CRITICAL);
    /* Between the spinodals. */
    assert_int_equal(still_eos_state_Trho(&s, c, 250, 467), STILL_EOS_NOT_STABLE);
    /* Not numbers, no equation. */
    assert_int_equal(still_eos_saturation_T(&sat, NULL, 300), STILL_EOS_BAD_INPUT);
    assert_int_equal(still_eos_saturation_T(&sat, w, (double)NAN), STILL_EOS_BAD_INPUT);
    assert_int_equal(still_eos_saturation_p(&sat, w, (double)NAN), STILL_EOS_BAD_INPUT);
    assert_int_equal(still_eos_saturation_p(&sat, w, -1), STILL_EOS_BAD_INPUT);
    assert_int_equal(still_eos_density(&rho, w, (double)NAN, 1), STILL_EOS_BAD_INPUT);
    assert_int_equal(still_eos_density(&rho, w, 300, 0), STILL_EOS_BAD_INPUT);
    assert_int_equal(still_eos_density(&rho, NULL, 300, 1), STILL_EOS_BAD_INPUT);
    assert_int_equal(still_eos_state_Trho(&s, w, 300, -1), STILL_EOS_BAD_INPUT);
    assert_int_equal(still_eos_state_Trho(&s, NULL, 300, 1), STILL_EOS_BAD_INPUT);
    assert_null(still_eos_of(STILL_SUBSTANCE_OTHER));
    assert_ptr_equal(still_eos_of(STILL_SUBSTANCE_WATER), w);
    /* Nothing was written. */
    WITHIN(s.T_K, 7, 0);
    WITHIN(sat.T_K, 7, 0);
    WITHIN(rho, 7, 0);
}

/* CO2 at and beside its critical point: a number whose pressure comes back, or a refusal. */
static void L4_carbon_dioxide_near_critical_right_or_refused(void **given)
{
    const still_eos *c = &still_eos_carbon_dioxide;
    int refused = 0, right = 0;
    (void)given;
    for (double T = 303.5; T < 305; T += 0.013)
        for (double p = 70; p < 78; p += 0.17) {
            double rho = 0;
            still_eos_status status = still_eos_density(&rho, c, T, p);
            if (status) {
                assert_int_equal(status, STILL_EOS_NEAR_CRITICAL);
                assert_true(fabs(T - c->T_c_K) <= 0.1 && rho <= 0);
                refused++;
                continue;
            }
            CLOSE(still_eos_pressure_bara(c, T, rho, NULL), p, 1e-9);
            right++;
        }
    assert_true(refused > 0 && right > 4000);
}

/* Two reference equations of ammonia on the saturated liquid, bar/K: project's table of both. */
static void L4_two_equations_of_ammonia_apart(void **given)
{
    static const double rows[][3] = {{233.15, 25.32, 26.02},
                                     {253.15, 22.27, 22.72},
                                     {273.15, 19.36, 19.63},
                                     {293.15, 16.59, 16.75},
                                     {313.15, 13.98, 14.07}};
    (void)given;
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++)
        for (int k = 0; k < 2; k++) {
            const still_eos *eos = k ? &ammonia_1993 : &still_eos_ammonia;
            still_eos_saturation s;
            still_eos_state at;
            OK(still_eos_saturation_T(&s, eos, rows[i][0]));
            OK(still_eos_state_Trho(&at, eos, s.T_K, s.liquid_kg_m3));
            WITHIN(at.dp_dT_bar_per_K, rows[i][1 + k], 0.006);
        }
}

/* F-NH3-3, F-NH3-4: figures of the trade (IIAR "The Condenser"; Svaergods "Ammonia"). */
static void F_NH3_3_pressures_and_growth(void **given)
{
    still_eos_saturation cold, warm;
    (void)given;
    OK(still_eos_saturation_T(&cold, &still_eos_ammonia, 255.3722));
    OK(still_eos_saturation_T(&warm, &still_eos_ammonia, 293.15));
    WITHIN((cold.pressure_bara - 1.01325) / 0.0689476, 15.7, 0.5);
    WITHIN((warm.pressure_bara - 1.01325) / 0.0689476, 109.6, 0.5);
    WITHIN(cold.liquid_kg_m3 / warm.liquid_kg_m3, 1.084, 0.003);
}

static void F_NH3_4_saturated_densities(void **given)
{
    static const double rows[][2] = {{-5, 645}, {5, 632}, {15, 618}, {25, 603}};
    (void)given;
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        still_eos_saturation s;
        OK(still_eos_saturation_T(&s, &still_eos_ammonia, 273.15 + rows[i][0]));
        WITHIN(s.liquid_kg_m3, rows[i][1], 1);
    }
}

static void L4_every_status_has_words(void **given)
{
    (void)given;
    for (int s = STILL_EOS_OK; s <= STILL_EOS_NO_CONVERGENCE; s++)
        assert_true(strlen(still_eos_status_text((still_eos_status)s)) > 1 &&
                    strcmp(still_eos_status_text((still_eos_status)s), "unknown") != 0);
}

int main(void)
{
    static const char *const names[FLUIDS] = {
        "L4_saturation_of_ammonia", "L4_saturation_of_carbon_dioxide", "L4_saturation_of_propane",
        "L4_saturation_of_r134a", "L4_saturation_of_water"};
    static const struct CMUnitTest fixed[] = {
        cmocka_unit_test(L4_derivatives_against_differences),
        cmocka_unit_test(L4_water_helmholtz_parts_published),
        cmocka_unit_test(L4_nothing_breaks_at_the_critical_density),
        cmocka_unit_test(L4_density_and_back),
        cmocka_unit_test(L4_refused_outside_the_range),
        cmocka_unit_test(L4_carbon_dioxide_near_critical_right_or_refused),
        cmocka_unit_test(L4_two_equations_of_ammonia_apart),
        cmocka_unit_test(F_NH3_3_pressures_and_growth),
        cmocka_unit_test(F_NH3_4_saturated_densities),
        cmocka_unit_test(L4_every_status_has_words),
    };
    enum { FIXED = sizeof fixed / sizeof fixed[0] };
    static struct CMUnitTest tests[FIXED + FLUIDS];
    memcpy(tests, fixed, sizeof fixed);
    for (int i = 0; i < FLUIDS; i++) {
        void *eos;
        memcpy(&eos, &fluids[i], sizeof eos);
        tests[FIXED + i] =
            (struct CMUnitTest){names[i], L4_saturation_over_the_whole_range, NULL, NULL, eos};
    }
    return cmocka_run_group_tests(tests, NULL, NULL);
}
