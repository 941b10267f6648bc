/* Partly filled vessels and pipes (E3): handbook values, closed volumes, sums of thin slices.
 *
 * Fraction of volume against depth in a lying cylinder: Perry's Chemical Engineers' Handbook, table
 * of partly filled horizontal cylinders (from memory). Volume of a Kloepper head about 0.1 D^3:
 * common rule for DIN 28011 (from memory). */
#include "shape.h"

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <cmocka.h>

static const double PI = 3.14159265358979323846;

static void near(double got, double want, double off)
{
    if (fabs(got - want) <= off) return;
    print_error("%.10g, want %.10g within %g\n", got, want, off);
    fail();
}

static void E3_lying_cylinder_as_in_the_handbook(void **given)
{
    static const double table[][2] = {{0.05, 0.0187}, {0.1, 0.0520}, {0.2, 0.1424}, {0.25, 0.1955},
                                      {0.3, 0.2523},  {0.4, 0.3735}, {0.5, 0.5},    {0.75, 0.8045},
                                      {0.9, 0.9480},  {1.0, 1.0}};
    const still_drum drum = {false, STILL_HEADS_FLAT, 2, 5, 1};
    (void)given;
    for (size_t i = 0; i < sizeof table / sizeof table[0]; i++)
        near(still_drum_below_m3(&drum, 1 + 2 * table[i][0]) / still_drum_volume_m3(&drum),
             table[i][1], 6e-5);
}

static void E3_whole_volumes(void **given)
{
    static const double head[] = {[STILL_HEADS_FLAT] = 0,
                                  [STILL_HEADS_ELLIPTICAL] = 1.0 / 24,
                                  [STILL_HEADS_HEMISPHERICAL] = 1.0 / 12};
    (void)given;
    for (int upright = 0; upright < 2; upright++) {
        for (unsigned h = STILL_HEADS_FLAT; h < STILL_HEADS_COUNT; h++) {
            const still_drum drum = {upright, h, 1.5, 4, -2};
            double straight = PI / 4 * 1.5 * 1.5 * 4, cube = 1.5 * 1.5 * 1.5;
            double heads = still_drum_volume_m3(&drum) - straight;
            if (h == STILL_HEADS_DISHED)
                near(heads / cube, 0.2, 0.003);
            else
                near(heads, 2 * PI * head[h] * cube, 1e-12);
            near(still_drum_below_m3(&drum, -2), 0, 1e-12);
            near(still_drum_below_m3(&drum, -3), 0, 1e-12);
            near(still_drum_below_m3(&drum, -2 + still_drum_height_m(&drum) / 2),
                 still_drum_volume_m3(&drum) / 2, 1e-7);
        }
    }
}

/* Half the width of a vessel at a distance x along its axis from the middle. */
static double radius_at(const still_drum *d, double x)
{
    double R = d->diameter_m / 2, depth = still_drum_head_m(d);
    double in = fabs(x) - d->length_m / 2; /* how far into the head */
    if (in <= 0) return R;
    if (in >= depth) return 0;
    if (d->heads != STILL_HEADS_DISHED) return R * sqrt(1 - in * in / (depth * depth));
    double D = d->diameter_m, knuckle = sqrt(0.01 * D * D - in * in);
    double crown = sqrt(D * D - pow(in + D - depth, 2));
    /* The knuckle ends where crown and knuckle have one normal. */
    double join = D * sqrt(1 - 0.16 / 0.81) - (D - depth);
    return in <= join ? 0.4 * D + knuckle : crown;
}

static double slices(const still_drum *d, double level)
{
    enum { N = 20000 };
    double half = d->length_m / 2 + still_drum_head_m(d), sum = 0, width = 2 * half / N;
    for (int i = 0; i < N; i++) {
        double x = -half + (i + 0.5) * width, r = radius_at(d, x);
        if (d->upright) {
            sum += d->bottom_m + half + x < level ? PI * r * r * width : 0;
            continue;
        }
        double t = level - d->bottom_m - d->diameter_m / 2;
        t = t < -r ? -r : t > r ? r : t;
        if (r > 0) sum += (r * r * acos(-t / r) + t * sqrt(r * r - t * t)) * width;
    }
    return sum;
}

static void E3_vessels_against_slices(void **given)
{
    (void)given;
    for (int upright = 0; upright < 2; upright++) {
        for (unsigned h = STILL_HEADS_FLAT; h < STILL_HEADS_COUNT; h++) {
            for (int length = 0; length < 3; length++) {
                const still_drum drum = {upright, h, 0.8, 0.7 * length, 3};
                double height = still_drum_height_m(&drum), whole = still_drum_volume_m3(&drum);
                for (int i = 0; i <= 20 && whole > 0; i++) {
                    double level = 3 + height * i / 20;
                    near(still_drum_below_m3(&drum, level) / whole, slices(&drum, level) / whole,
                         3e-4);
                }
            }
        }
    }
}

static void E3_volume_never_falls_with_the_level(void **given)
{
    (void)given;
    for (unsigned h = STILL_HEADS_FLAT; h < STILL_HEADS_COUNT; h++) {
        const still_drum drum = {false, h, 1, 1, 0};
        double before = 0;
        for (int i = 0; i <= 1000; i++) {
            double now = still_drum_below_m3(&drum, i / 1000.0);
            assert_true(now >= before - 1e-9);
            before = now;
        }
    }
}

static void E3_pipe_below_a_level(void **given)
{
    double disc = PI / 4 * 0.1 * 0.1;
    (void)given;
    near(still_pipe_below_m3(0.1, 2, 1, 1, 1), disc, 1e-12);       /* level, half full */
    near(still_pipe_below_m3(0.1, 2, 1, 1, 2), 2 * disc, 1e-12);   /* level, below the surface */
    near(still_pipe_below_m3(0.1, 2, 1, 1, 0.9), 0, 1e-12);        /* level, above it */
    near(still_pipe_below_m3(0.1, 2, 1, 3, 1.5), disc / 2, 1e-12); /* upright */
    near(still_pipe_below_m3(0.1, 2, 3, 1, 1.5), disc / 2, 1e-12); /* whichever end is first */
    near(still_pipe_below_m3(0.1, 1, 1, 3, 1.5), disc / 2, 1e-12); /* shorter than its rise */
    near(still_pipe_below_m3(0.1, 5, 1, 3, 2), 4 * disc, 1e-12);   /* may lie low for 3 m */
    near(still_pipe_below_m3(0.1, 5, 1, 3, 9), 5 * disc, 1e-12);
    assert_true(isnan(still_pipe_below_m3((double)NAN, 5, 1, 3, 2)));
    assert_true(isnan(still_pipe_below_m3(0.1, (double)NAN, 1, 3, 2)));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(E3_lying_cylinder_as_in_the_handbook),
        cmocka_unit_test(E3_whole_volumes),
        cmocka_unit_test(E3_vessels_against_slices),
        cmocka_unit_test(E3_volume_never_falls_with_the_level),
        cmocka_unit_test(E3_pipe_below_a_level),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
