/** @file fluidkit.h  What the tests of fluids share. */
#ifndef STILL_FLUIDKIT_H
#define STILL_FLUIDKIT_H

#include "closedin.h"

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stdbool.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

enum { FLUIDS = 5 };
static const still_eos *const fluids[FLUIDS] = {&still_eos_ammonia, &still_eos_carbon_dioxide,
                                                &still_eos_propane, &still_eos_r134a,
                                                &still_eos_water};

#define OK(call) assert_int_equal(call, STILL_EOS_OK)
/* `got` within `allowed` of `want`. */
#define WITHIN(got, want, allowed) within(got, want, allowed, __LINE__)
static inline void within(double got, double want, double allowed, int line)
{
    if (fabs(got - want) <= allowed) return;
    print_error("line %d: got %.10g, want %.10g within %.3g\n", line, got, want, allowed);
    fail();
}
#define CLOSE(got, want, relative) within(got, want, fabs(want) * (relative), __LINE__)

/* Numbers that repeat from run to run; the seed is printed. */
static inline double random_between(uint64_t *state, double low, double high)
{
    *state = *state * UINT64_C(6364136223846793005) + UINT64_C(1442695040888963407);
    return low + (high - low) * (double)(*state >> 11) / 9007199254740992.0;
}

static inline still_closedin liquid_at(const still_eos *eos, double T_K, double p_bara)
{
    still_closedin from;
    still_closedin_given given = {.eos = eos, .T_K = T_K, .pressure_bara = p_bara};
    OK(still_closedin_start(&from, &given));
    return from;
}

static inline still_closedin filled_at(const still_eos *eos, double T_K, double fill)
{
    still_closedin from;
    still_closedin_given given = {
        .eos = eos, .kind = STILL_CLOSEDIN_FILL, .T_K = T_K, .fill = fill};
    OK(still_closedin_start(&from, &given));
    return from;
}

static inline double pressure_at(const still_closedin *from, const still_wall *wall, double T_K)
{
    double p = 0;
    OK(still_closedin_pressure(&p, NULL, from, wall, T_K));
    return p;
}

#endif
