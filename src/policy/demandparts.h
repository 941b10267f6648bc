/** @file demandparts.h  What demand.c and demandwords.c share. Inner header of policy/. */
#ifndef STILL_DEMANDPARTS_H
#define STILL_DEMANDPARTS_H

#include "demand.h"
#include "hazardclass.h"
#include "workreach.h"

/** A service, or (service = STILL_NONE) a part of which none is said. */
typedef struct still_held {
    uint32_t service;
    uint32_t comp; /**< where it was met */
} still_held;

/** The highest of some pressures. */
typedef struct still_peak {
    double bara;     /**< NAN = none yet */
    still_held held; /**< where it is, or what makes it unknown */
    bool unknown;
} still_peak;
#define STILL_PEAK_INIT                                                                            \
    {                                                                                              \
        (double)NAN, {STILL_NONE, STILL_NONE}, false                                               \
    }

/** The worst of some classes. */
typedef struct still_worst {
    size_t row; /**< the number of classes = none yet */
    still_held held;
    bool deadly; /**< one of them kills at once: R below positive */
} still_worst;

/** What a service counts as; found when first asked for. */
typedef struct still_known {
    bool done;
    still_classed classed;
    double standstill_bara; /**< saturation at ambient; NAN = unknown */
} still_known;

typedef struct still_asking {
    still_arena *arena;
    const still_plant *plant;
    const still_policy *policy;
    const still_targets *targets;
    still_demand_opts opts;
    still_workreach reach;
    still_known *services; /**< by service */
    still_worst *worst;    /**< by place */
    uint32_t *worst_at;    /**< by half that stands for a region: 1 + place in worst, 0 = none */
    size_t n_worst, cap_worst;
    uint8_t *seen_comp, *seen_side;
    still_peak normal, standstill; /**< near the work */
    double line_mm;
    uint32_t line_at, line_unknown; /**< component with the largest bore; one of unknown bore */
    still_work work;
    unsigned opening; /**< bits of still_opened_kind */
    bool people_high, people_said;
    still_remark *assumptions;
    size_t n_assumptions, cap_assumptions;
    bool nomem;
} still_asking;

/** Add an assumption; sets nomem. */
#if defined(__GNUC__)
__attribute__((format(printf, 3, 4)))
#endif
void still_asking_assume(still_asking *a, const char *id, const char *format, ...);
/** What a service counts as; its assumptions are added the first time. */
const still_known *still_asking_service(still_asking *a, uint32_t service);
/** People near by, with the assumption where it is not said. */
void still_asking_people(still_asking *a);
/** The sentences of a demand. Sets nomem. */
void still_asking_words(still_asking *a, still_source_demand *d, const still_job *job,
                        const still_ruling *ruling, const still_worst *worst,
                        const still_peak *peak);
void still_asking_standstill(still_asking *a, still_source_demand *d, const still_job *job,
                             const still_peak *peak);

#endif
