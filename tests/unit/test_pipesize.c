/* Pipe sizes. Outside values: ASME B36.10M (from memory) and, where said, the project's facts. */
#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <string.h>

#include <cmocka.h>

#include "pipesize.h"

typedef struct row {
    const char *size, *schedule;
    double od_mm, wall_mm; /* 0 = not in the table */
} row;

static const row rows[] = {
    {"DN50", "40", 60.3, 3.91},      /* ASME B36.10M; facts F-API-19 */
    {"DN100", "40", 114.3, 6.02},    /* ASME B36.10M; facts F-API-19 */
    {"DN25", "40", 33.4, 3.38},      /* ASME B36.10M; facts of the fluids' reference values */
    {"DN 50", "STD", 60.3, 3.91},    /* ASME B36.10M */
    {"NPS 2", "XS", 60.3, 5.54},     /* ASME B36.10M */
    {"NPS2", "XXS", 60.3, 11.07},    /* ASME B36.10M */
    {"NPS 1-1/2", "40", 48.3, 3.68}, /* ASME B36.10M */
    {"NPS 1 1/2", "80", 48.3, 5.08}, /* ASME B36.10M */
    {"NPS 1.5", "160", 48.3, 7.14},  /* ASME B36.10M */
    {"NPS 1/8", "40", 10.3, 1.73},   /* ASME B36.10M */
    {"NPS 0.5", "10S", 21.3, 2.11},  /* ASME B36.19M */
    {"DN65", "40", 73.0, 5.16},      /* ASME B36.10M; EN 10220 has 76.1 */
    {"DN125", "40", 141.3, 6.55},    /* ASME B36.10M; EN 10220 has 139.7 */
    {"DN300", "STD", 323.8, 9.53},   /* ASME B36.10M */
    {"DN300", "40", 323.8, 10.31},   /* ASME B36.10M */
    {"DN600", "40", 610, 17.48},     /* ASME B36.10M */
    {"DN200", "XXS", 219.1, 22.23},  /* ASME B36.10M */
    {"DN50", "41", 60.3, 0},         {"DN50", "", 60.3, 0},      {"DN50", "4", 60.3, 0},
    {"DN50", "40SS", 60.3, 0},       {"DN51", NULL, 0, 0},       {"DN", NULL, 0, 0},
    {"DN50x", NULL, 0, 0},           {"DN99999", NULL, 0, 0},    {"NPS", NULL, 0, 0},
    {"NPS 1-", NULL, 0, 0},          {"NPS 1-1", NULL, 0, 0},    {"NPS 1-3/2", NULL, 0, 0},
    {"NPS 1/0", NULL, 0, 0},         {"NPS 1.5 in", NULL, 0, 0}, {"50", NULL, 0, 0},
    {"52.5 mm", NULL, 0, 0},         {"", NULL, 0, 0},
};
enum { ROWS = sizeof rows / sizeof rows[0] };

static void run_row(void **state)
{
    const row *r = *state;
    const still_pipe_size *size = still_pipe_find(r->size, strlen(r->size));
    if (!(r->od_mm > 0)) {
        assert_null(size);
        return;
    }
    assert_non_null(size);
    assert_true(fabs(size->od_mm - r->od_mm) < 1e-9);
    double wall = still_pipe_wall_mm(size, r->schedule, strlen(r->schedule));
    if (r->wall_mm > 0)
        assert_true(fabs(wall - r->wall_mm) < 1e-9);
    else
        assert_true(isnan(wall));
}

/* Sizes rise; STD is the wall said to be so and leaves a bore; walls rise with plain schedules. */
static void table_is_in_order(void **state)
{
    (void)state;
    static const char *const schedules[] = {"5",  "10",  "20",  "30",  "40", "60",
                                            "80", "100", "120", "140", "160"};
    const still_pipe_size *before = NULL, *size;
    for (size_t i = 0; (size = still_pipe_at(i)) != NULL; before = size, i++) {
        if (before != NULL) {
            assert_true(size->od_mm > before->od_mm);
            assert_true(size->dn > before->dn);
            assert_true(size->nps_in > before->nps_in);
        }
        assert_true(fabs(still_pipe_wall_mm(size, "STD", 3) - size->std_mm) < 1e-9);
        double wall = 0;
        for (size_t k = 0; k < sizeof schedules / sizeof schedules[0]; k++) {
            double w = still_pipe_wall_mm(size, schedules[k], strlen(schedules[k]));
            if (isnan(w)) continue;
            assert_true(w >= wall);
            assert_true(2 * w < size->od_mm);
            wall = w;
        }
        assert_true(still_pipe_wall_mm(size, "XS", 2) > size->std_mm);
    }
    assert_int_equal(before->dn, 600);
}

static void names_agree(void **state)
{
    (void)state;
    const still_pipe_size *size;
    for (size_t i = 0; (size = still_pipe_at(i)) != NULL; i++) {
        char text[16] = "NPS ";
        memcpy(text + 4, size->nps, strlen(size->nps) + 1);
        assert_ptr_equal(still_pipe_find(text, strlen(text)), size);
    }
}

int main(void)
{
    static struct CMUnitTest tests[ROWS + 2];
    static row own[ROWS];
    static char names[ROWS][40];
    memcpy(own, rows, sizeof own);
    for (size_t i = 0; i < ROWS; i++) {
        size_t n = strlen(own[i].size);
        memcpy(names[i], own[i].size, n);
        if (own[i].schedule != NULL) {
            memcpy(names[i] + n, " sch ", 5);
            memcpy(names[i] + n + 5, own[i].schedule, strlen(own[i].schedule));
        }
        tests[i] = (struct CMUnitTest){names[i], run_row, NULL, NULL, &own[i]};
    }
    tests[ROWS] = (struct CMUnitTest)cmocka_unit_test(table_is_in_order);
    tests[ROWS + 1] = (struct CMUnitTest)cmocka_unit_test(names_agree);
    return cmocka_run_group_tests(tests, NULL, NULL);
}
