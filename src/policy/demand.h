/** @file demand.h  Which grade a policy asks for, for each source within reach of a job (rule I3).
 *
 *  Call order: still_policy_builtin or still_policy_read → still_demands_find →
 *  still_demand_highest, or the demand of each source. Asked before the cut: nothing here depends
 *  on which points are chosen in the end, but for the sources that are taken inside. */
#ifndef STILL_DEMAND_H
#define STILL_DEMAND_H

#include "arena.h"
#include "plant.h"
#include "policy.h"
#include "state.h"
#include "targets.h"

/** What is asked for one source. */
typedef struct still_source_demand {
    uint32_t comp; /**< the source, or the component that has the open port */
    uint32_t port; /**< port that nothing is joined to, or STILL_NONE: the component itself */
    still_grade grade;
    bool risk;           /**< R: a person must accept what is left */
    uint32_t region;     /**< number of the region that it lies in or ends */
    const char *row;     /**< row and column that decided, such as "hazardous, release low" */
    const char *because; /**< one sentence: all that went in */
    still_grade standstill_grade; /**< what the table would ask at standstill; a note */
    const char *standstill;       /**< the same as a sentence */
} still_source_demand;

/** Demands, in the bytewise order of the components' ids, then by port. All memory is the
 *  arena's. */
typedef struct still_source_demands {
    const still_source_demand *items;
    size_t n;
    uint32_t n_regions;
    const still_remark *assumptions; /**< rule I3 or N2, id, text: for a person to accept */
    size_t n_assumptions;
    still_work work;      /**< as it counted: never BY_TARGET */
    double line_mm;       /**< largest near the work; NAN = unknown */
    double pressure_bara; /**< highest normal pressure near the work; NAN = unknown */
    bool people_high;
} still_source_demands;

/** What a job is asked about beside plant, state and targets. */
typedef struct still_demand_opts {
    still_work work;         /**< BY_TARGET: entry if a vessel is opened whole, else open */
    const uint32_t *through; /**< sources that are taken inside: what lies beyond is asked too */
    size_t n_through;
    double ambient_K; /**< for the note on standstill */
} still_demand_opts;
#define STILL_DEMAND_OPTS_INIT                                                                     \
    {                                                                                              \
        STILL_WORK_BY_TARGET, NULL, 0, 313.15                                                      \
    }

/** Find the demands of a job.
 *
 *  Sources: what is reached from the opened ports through everything (devices too), stopping at
 *  each source; those near the work, with no admissible device before them, and those of
 *  `through` are passed. With a source taken inside that is not near, call again with it in
 *  `through`.
 *  @param[out] out  in the arena; untouched on failure
 *  @param state     NULL = as in the plant file
 *  @param opts      NULL = STILL_DEMAND_OPTS_INIT
 *  @return STILL_OK (also with no source at all), STILL_E_NOMEM
 *  Cost: linear in what is reached, and sources times classes times columns. */
STILL_NODISCARD still_status still_demands_find(still_source_demands *out, still_arena *arena,
                                                const still_plant *plant, const still_state *state,
                                                const still_targets *targets,
                                                const still_policy *policy,
                                                const still_demand_opts *opts);
/** Highest grade asked for in a region, or (STILL_NONE) in all; SINGLE where there is no source.
 *  *risk, if not NULL: R of one that asks for this grade. */
still_grade still_demand_highest(const still_source_demands *demands, uint32_t region, bool *risk);
/** Demand of a source by its component, the highest where it has several; NULL = not reached. */
const still_source_demand *still_demand_of(const still_source_demands *demands, uint32_t comp);

#endif
