/** @file statekit.h  Tests of states: a plant in statements (plantkit.h), a state file, a plan for
 * it. */
#ifndef STILL_TEST_STATEKIT_H
#define STILL_TEST_STATEKIT_H

#include "plantkit.h"

#include "alloc.h"

#include <stdio.h>
#include <string.h>

#define COUNT(a) (sizeof(a) / sizeof(a)[0])
#define STATE(at) "<state plant=\"test-plant\">" at "</state>"
#define TEST(f) cmocka_unit_test_teardown(f, clear_work)

/* Work on F; V behind HV-1, the second of two valves; a relief valve covers the pipe between. */
#define PLANT                                                                                      \
    "vessel V drum contents=liquid; hand HV-1 HV-2 HV-3; strainer F; limit L; tee T;"              \
    "valve RV relief set-pressure=18_barg; outlet O vent leads-to=safe-place shared=no "           \
    "fitted=open; run V HV-1 T HV-2 F HV-3 L; run T RV O"

static kit work;

static inline int clear_work(void **given)
{
    (void)given;
    still_alloc_fail_at(0);
    kit_close(&work);
    return 0;
}

static inline void read_state(const char *text)
{
    still_state_free(work.state);
    work.state = NULL;
    still_diags *d = still_diags_new();
    still_status status =
        still_state_read_memory(&work.state, work.plant, "today", text, strlen(text), d);
    for (size_t i = 0; i < still_diags_count(d); i++)
        print_error("%s\n", still_diags_at(d, i)->text);
    still_diags_free(d);
    assert_int_equal(status, STILL_OK);
}

static inline still_status make(still_plan **plan, const char *avoid)
{
    still_plan_opts opts = STILL_PLAN_OPTS_INIT;
    const char *target = "F";
    opts.grade = STILL_GRADE_SINGLE;
    opts.avoid = &avoid;
    opts.n_avoid = avoid != NULL;
    return still_plan_make(plan, work.plant, work.state, &target, 1, &opts, NULL);
}

static inline void plan(const char *plant, const char *state, const char *avoid)
{
    kit_open(&work, plant);
    if (state != NULL) read_state(state);
    assert_int_equal(make(&work.plan, avoid), STILL_OK);
    work.r = still_plan_record(work.plan);
}

/* Where `start` or `end` says that a component stands; "" = nothing. */
static inline const char *position(const still_position_of *list, size_t n, const char *id)
{
    for (size_t i = 0; i < n; i++)
        if (strcmp(list[i].id, id) == 0) return list[i].position;
    return "";
}

#endif
