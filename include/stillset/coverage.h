/** @file coverage.h  Closed-in liquid on a whole plant: what can be shut in, what covers it, and
 * the numbers (rules L1 to L5, L8).
 *
 *  Call order: still_plant_read → still_coverage_make → still_coverage_write, or
 * still_coverage_curve → still_curve_write for one piece. Nothing here prints or keeps global
 * state. */
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

/** Pressures at one temperature. NAN = not there: outside the equation's range. */
typedef struct still_curve_row {
    double degC;
    double rigid_bara; /**< the walls give nothing */
    double pipe_bara;  /**< the walls known grow with temperature and pressure */
} still_curve_row;

/** A pressure worth a line across a picture of the curve. */
typedef struct still_curve_level {
    double bara;
    bool design;      /**< it is the design pressure */
    const char *text; /**< what it is, without the number */
} still_curve_level;

/** Pressure against temperature of one piece, shut in and warming up (rule L4). */
typedef struct still_curve_record {
    const still_coverage_record *of; /**< plant, program, ambient */
    const still_segment *segment;
    /** At the start and at every whole kelvin above it up to ambient. A column that has left the
     *  equation's range stays NAN; rows end where both have. */
    const still_curve_row *rows;
    size_t n_rows; /**< 0: there are no numbers, and `stops` says why */
    /** Likewise and closer, for a picture: close together at the start, with the temperatures at
     *  which something happens, the last at ambient. One may be NAN on the way, in the tenth of a
     *  kelvin below the critical temperature. */
    const still_curve_row *points;
    size_t n_points;
    bool whole;           /**< the rows go up to ambient, one column at least */
    const char *stops;    /**< why a column, or both, stop before ambient; "" = neither does */
    const char *rests_on; /**< equation or constants, and what was assumed */
    const char *conflict; /**< pressure and temperature of the service contradict each other: what
                               that means for the curve; "" = they do not */
    const still_curve_level *levels; /**< lowest first */
    size_t n_levels;
} still_curve_record;

typedef struct still_curve still_curve;

/** The curve of the piece that an id names: its name, else any component or spool that lies in
 *  exactly one piece.
 *  @param[out] out  owned by the caller (still_curve_free); untouched on failure
 *  @param coverage  borrowed; must live as long as the curve
 *  @param diags     says why on failure; may be NULL
 *  @return STILL_OK, also when the piece has no numbers (the record says why);
 *          STILL_E_NO_COMP (no such component), STILL_E_USAGE (it lies in no piece, or in several),
 *          STILL_E_NOMEM
 *  Cost: linear in the plant, and some 50 microseconds a row. */
STILL_NODISCARD still_status still_coverage_curve(still_curve **out, const still_coverage *coverage,
                                                  const char *id, still_diags *diags);
/** Its record; borrowed. */
const still_curve_record *still_curve_record_of(const still_curve *curve);
void still_curve_free(still_curve *curve);

/** Write it: CSV (columns temperature_degC, rigid_bara, pipe_bara), or a chart as SVG, PNG, PDF.
 *  @param[out] bytes, len  as for still_coverage_write
 *  @return STILL_OK, STILL_E_NOMEM, STILL_E_UNSUPPORTED (another format, or a curve without rows),
 *          STILL_E_INTERNAL (a library for PNG and PDF is missing) */
STILL_NODISCARD still_status still_curve_write(char **bytes, size_t *len, const still_curve *curve,
                                               still_format format, still_diags *diags);

#ifdef __cplusplus
}
#endif
#endif
