/** @file pressures.h  Figures of the pressure tests on the way back (P6), and what limits them. */
#ifndef STILL_PRESSURES_H
#define STILL_PRESSURES_H

#include "isolation.h"
#include "site.h"
#include "stillset/record.h"

/** What stands against a code's test pressure. */
typedef enum still_limit_by {
    STILL_LIMIT_RATING,    /**< a point, by the rating that the plant file gives it */
    STILL_LIMIT_BY_DESIGN, /**< a point whose rating follows from a design pressure (D7) */
    STILL_LIMIT_RELIEF,    /**< a relief valve or rupture disc, by its set pressure */
    STILL_LIMIT_PART       /**< a part under test, by its design pressure */
} still_limit_by;

typedef struct still_test_limit {
    uint32_t comp;
    double barg; /**< NAN = not known */
    still_limit_by what;
} still_test_limit;

/** Factors: EN 378-2:2016 table 1 and clause 6.3, PED annex I 7.4 (F-TST-2, from memory); ASME
 *  B31.5 section 538 (F-TST-4, from memory). EN 378 figure for the vacuum: F-VAC-2, from memory. */
#define STILL_TEST_GAS_FACTOR 1.1
#define STILL_TEST_LIQUID_FACTOR 1.43
#define STILL_TEST_ASME_MOST 1.3
#define STILL_TEST_ASME_HOLD_S 600.0
#define STILL_TEST_EN_VACUUM_PA 270.0
#define STILL_TEST_EN_VACUUM_HOLD_S 1800.0

/** Find the figures for what lies on the work side of the points.
 *  @param[out] tests   texts and lists in the arena
 *  @param[out] limits  what stands against the code's strength pressure, in the order of the plant
 *  @return STILL_OK, STILL_E_NOMEM. Cost: linear in what is inside. */
STILL_NODISCARD still_status still_tests_find(still_tests *tests, still_test_limit **limits,
                                              uint32_t *n_limits, still_arena *arena,
                                              const still_isolation *iso, const still_site *site);
/** Whether something inside is a refrigerant: one that the program knows, water aside. */
bool still_refrigerant_inside(const still_isolation *iso);

#endif
