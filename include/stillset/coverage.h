/** @file coverage.h  Closed-in liquid on a whole plant: what can be shut in, what covers it, and
 * the numbers (rules L1 to L5, L8).
 *
 *  Call order: still_plant_read → still_coverage_make → still_coverage_write. Nothing here prints
 * or keeps global state. */
#ifndef STILLSET_COVERAGE_H
#define STILLSET_COVERAGE_H

#include "stillset/diag.h"
#include "stillset/plan.h"
#include "stillset/record.h"

#ifdef __cplusplus
extern "C" {
#endif

/** A piece of the plant that can be shut in, with at least one spool. NAN = unknown or none. */
typedef struct still_segment {
    const char *name; /**< bytewise lowest of its ids */
    uint32_t number;  /**< in the order of the plant file */
    still_strings ids, closed_by, covered_by, conditions;
    const char *state;   /**< "covered", "uncovered", "not-full" */
    const char *shut_by; /**< "itself", "person", "plan-only"; "" when not uncovered */
    bool stub;           /**< one device shuts it in, all its other ends are capped */
    bool counts;         /**< uncovered and not a stub or plan-only: a gap */
    bool accepted;
    bool full;             /**< full of liquid by L3 */
    bool at_limit;         /**< the drawing ends in it */
    const char *substance; /**< "" = unknown, or several */
    const char *why;       /**< one sentence */
    const char *codes;     /**< what codes ask of it; "" when not uncovered */
    double volume_m3, mass_kg;
    double start_degC, start_bara;
    double bar_per_K_rigid,
        bar_per_K; /**< at the start, without and with the pipe's own expansion */
    double design_bara;
    const char *weakest;           /**< component that declares it; "" = unknown */
    double reaches_design_at_degC; /**< NAN: not up to ambient, or not known */
    bool never;                    /**< not reached up to ambient */
    bool by_vapour;                /**< reached by vapour pressure */
    double full_at_degC;           /**< not full at the start: becomes so there */
    double ambient_bara_rigid, ambient_bara;
    double opening_bara;                    /**< at which its cover opens, worst case */
    double opening_normal_bara;             /**< with the low side at its normal pressure */
    const char *numbers;                    /**< what they rest on, or why there are none */
    double relief_kg_per_h, relief_heat_kW; /**< API 521 liquid expansion; uncovered ones */
    const char *stronger_by,
        *stronger; /**< L5: valve to a part that opens too high, and that part */
} still_segment;

typedef struct still_coverage_record {
    const char *program, *version;
    const char *plant_id, *plant_name, *plant_revision, *plant_digest, *plant_file;
    double ambient_degC;
    bool ambient_said;
    still_strings option_accept;
    const still_segment *segments; /**< worst first */
    size_t n_segments;
    uint32_t n_covered, n_uncovered, n_not_full;
    uint32_t n_itself, n_person, n_plan_only; /**< of the uncovered ones */
    uint32_t n_stubs, n_accepted;             /**< of the uncovered ones */
    uint32_t n_gaps; /**< uncovered, not accepted, neither stub nor plan-only */
    still_strings notes;
} still_coverage_record;

typedef struct still_coverage still_coverage;

typedef struct still_coverage_opts {
    const char *ambient;       /**< such as "40 degC"; NULL = that */
    const char *const *accept; /**< "RULE:ID", a rule of section L */
    size_t n_accept;
} still_coverage_opts;
#define STILL_COVERAGE_OPTS_INIT                                                                   \
    {                                                                                              \
        NULL, NULL, 0                                                                              \
    }

/** Find every piece that can be shut in.
 *  @param[out] out  owned by the caller (still_coverage_free); untouched on failure
 *  @param plant     borrowed; must live as long as the result
 *  @param state     what is different today; NULL = as in the plant file
 *  @param diags     says why on failure; may be NULL
 *  @return STILL_OK, STILL_E_USAGE (a bad ambient or accepted name), STILL_E_NOMEM
 *  Cost: near linear in the plant. */
STILL_NODISCARD still_status still_coverage_make(still_coverage **out, const still_plant *plant,
                                                 const still_state *state,
                                                 const still_coverage_opts *opts,
                                                 still_diags *diags);
/** Its record; borrowed. */
const still_coverage_record *still_coverage_record_of(const still_coverage *coverage);
void still_coverage_free(still_coverage *coverage);

/** Write it: text, JSON (docs/relief.schema.json) or CSV.
 *  @param[out] bytes, len  heap memory with the result, a zero behind it; free with
 *                          still_bytes_free; untouched on failure
 *  @return STILL_OK, STILL_E_NOMEM, STILL_E_UNSUPPORTED (another format), STILL_E_INTERNAL */
STILL_NODISCARD still_status still_coverage_write(char **bytes, size_t *len,
                                                  const still_coverage *coverage,
                                                  still_format format, still_diags *diags);
/** Draw it on one page: every pipe and component by what covers its part, with the numbers of
 *  the text form at each part without cover; or one part close up, with what is known of it.
 *  @param[out] bytes, len  as for still_coverage_write
 *  @param around   a component or spool of the part, or what shuts it in; NULL = whole plant
 *  @param depth    how many components beyond the devices that shut it in are drawn (spools are
 *                  not counted); 0 = up to the next device. Without `around` not used
 *  @param format   STILL_FORMAT_SVG, STILL_FORMAT_PNG or STILL_FORMAT_PDF
 *  @param diags    says why on failure; may be NULL
 *  @return STILL_OK, STILL_E_NO_COMP (no such component, or in no part that can be shut in),
 *          STILL_E_USAGE (a format that is no picture), STILL_E_NOMEM, STILL_E_INTERNAL
 *  Cost: as for still_draw; beyond 1500 components those nearest to the parts without cover are
 *  drawn, and the picture says how many are left out. */
STILL_NODISCARD still_status still_coverage_draw(char **bytes, size_t *len,
                                                 const still_coverage *coverage, const char *around,
                                                 unsigned depth, still_format format,
                                                 still_diags *diags);

#ifdef __cplusplus
}
#endif
#endif
