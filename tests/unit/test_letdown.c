/* Times to let down (E2): an estimate, held against plain steps of time and a published constant.
 *
 * API Standard 520 part I gives C = 520 sqrt(k (2/(k+1))^((k+1)/(k-1))) = 347 for k = 1.3 (from
 * memory). Torricelli: the height of a tank with an orifice in its floor, step by step. */
#include "letdown.h"

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <cmocka.h>

static const double PI = 3.14159265358979323846, ORIFICE = 0.61;

static void near(double got, double want, double part)
{
    if (fabs(got - want) <= part * fabs(want)) return;
    print_error("%.8g, want %.8g\n", got, want);
    fail();
}

/* Pressure in the room, step by step: mass flow of an ideal gas through the orifice. */
static double by_steps(double volume, double bore_mm, double rt, double start, double end)
{
    const double k = 1.3, critical = pow(2 / (k + 1), k / (k - 1)), step = 1e-4;
    double area = PI / 4 * bore_mm * bore_mm * 1e-6, p = start, time = 0;
    double reach = end * (1 + 1e-7);
    while (p > reach) {
        double r = end / p > critical ? end / p : critical;
        double flow = ORIFICE * area * p * 1e5 *
                      sqrt(2 * k / ((k - 1) * rt) * (pow(r, 2 / k) - pow(r, (k + 1) / k)));
        double fall = rt / volume * flow / 1e5, dt = step * (p - end) / fall;
        p -= fall * dt;
        time += dt;
    }
    return time;
}

static void E2_vapour_against_steps_of_time(void **given)
{
    static const double start[] = {1.2, 1.8, 3, 12, 80};
    (void)given;
    for (size_t i = 0; i < sizeof start / sizeof start[0]; i++)
        near(still_let_down_vapour_s(0.4, 15, 1.2e5, start[i], 1.01325),
             by_steps(0.4, 15, 1.2e5, start[i], 1.01325), 1e-3);
}

static void E2_critical_flow_as_published(void **given)
{
    const double V = 2, bore = 20, rt = 9e4, A = PI / 4 * 4e-4;
    (void)given;
    double time =
        still_let_down_vapour_s(V, bore, rt, 20, 1) - still_let_down_vapour_s(V, bore, rt, 10, 1);
    double constant = V * log(2.0) / (time * ORIFICE * A * sqrt(rt));
    near(520 * constant, 347, 0.002);
}

static void E2_liquid_by_its_weight_against_steps_of_time(void **given)
{
    const double floor_m2 = 0.5, A = PI / 4 * 1e-4;
    double h = 2, time = 0, step = 0.01;
    (void)given;
    for (; h > 1e-9; time += step) h -= step * ORIFICE * A * sqrt(2 * 9.80665 * h) / floor_m2;
    near(still_let_down_gravity_s(2 * floor_m2, 10, 2), time, 1e-3);
}

static void E2_liquid_under_pressure_by_bernoulli(void **given)
{
    (void)given;
    /* 1 bar on water: sqrt(2e5/1000) = 14.14 m/s. */
    near(still_let_down_pressed_s(1, 10, 1000, 1), 1 / (ORIFICE * PI / 4 * 1e-4 * 14.1421356),
         1e-7);
}

static void N2_no_time_from_what_is_not_known(void **given)
{
    const double unknown = (double)NAN;
    (void)given;
    assert_true(isnan(still_let_down_vapour_s(unknown, 15, 1e5, 3, 1)));
    assert_true(isnan(still_let_down_vapour_s(1, unknown, 1e5, 3, 1)));
    assert_true(isnan(still_let_down_vapour_s(1, 15, unknown, 3, 1)));
    assert_true(isnan(still_let_down_vapour_s(1, 15, 1e5, unknown, 1)));
    assert_true(isnan(still_let_down_vapour_s(1, 0, 1e5, 3, 1)));
    assert_true(isnan(still_let_down_pressed_s(1, 15, unknown, 3)));
    assert_true(isnan(still_let_down_pressed_s(unknown, 15, 1000, 3)));
    assert_true(isnan(still_let_down_pressed_s(1, 15, 1000, 0)));
    assert_true(isnan(still_let_down_gravity_s(1, 15, unknown)));
    assert_true(isnan(still_let_down_gravity_s(1, unknown, 2)));
    near(still_let_down_vapour_s(1, 15, 1e5, 1, 1.01325), 0, 0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(E2_vapour_against_steps_of_time),
        cmocka_unit_test(E2_critical_flow_as_published),
        cmocka_unit_test(E2_liquid_by_its_weight_against_steps_of_time),
        cmocka_unit_test(E2_liquid_under_pressure_by_bernoulli),
        cmocka_unit_test(N2_no_time_from_what_is_not_known),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
