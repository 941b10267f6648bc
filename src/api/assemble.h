/** @file assemble.h  From the engine's results to the plan record. Inner header of api/. */
#ifndef STILL_ASSEMBLE_H
#define STILL_ASSEMBLE_H

#include "arena.h"
#include "asking.h"
#include "checklist.h"
#include "isolation.h"
#include "procedure.h"
#include "relief.h"
#include "remedy.h"
#include "rooms.h"
#include "shutin.h"
#include "site.h"
#include "stillset/plan.h"

/** A record under construction. Notes grow on the heap and end in the arena. */
typedef struct still_assembly {
    still_arena *arena;
    still_record *record;
    const still_plant *plant;
    const still_state *state;
    still_isolation *iso;
    const still_asking *asking;
    const char *const *names; /**< targets as they were asked for */
    size_t n_names;
    still_rooms rooms;
    still_shut_in *shut;
    size_t n_shut;
    still_gap_remedies *remedies; /**< one entry a segment of `shut` */
    uint32_t *lost;               /**< equipment that loses its last relief path (D4) */
    size_t n_lost;
    still_procedure_notes notes;
    const still_plan_opts *opts;
    const still_standing *standing; /**< what a plan before has done, or NULL */
    double ambient_K;
    const still_site *site;             /**< NULL = none was given */
    const still_checklists *checklists; /**< never NULL */
    still_finding *findings;
    size_t n_findings, findings_cap;
    still_remark *assumptions;
    size_t n_assumptions, assumptions_cap;
    bool layered; /**< the proof has layers */
    bool failed;  /**< memory ran out */
} still_assembly;

/** Add a finding, or an assumption; the same one is added once. Texts are arena memory or literals;
 *  NULL (memory ran out) sticks in `failed`. */
void still_add_finding(still_assembly *a, const char *rule, const char *id, bool blocks,
                       bool acceptable, const char *text);
void still_add_assumption(still_assembly *a, const char *rule, const char *id, const char *text);

/** Parts of the record, each filling its own keys and adding what it finds. */
void still_assemble_head(still_assembly *a);
/** Spaces between, the proof in layers. */
void still_assemble_levels(still_assembly *a);
/** Other choices (I4), and why each point (--explain). */
void still_assemble_others(still_assembly *a);
void still_assemble_explain(still_assembly *a);
void still_assemble_boundary(still_assembly *a);
void still_assemble_obstacle(still_assembly *a, still_grade best);
void still_assemble_closed_in(still_assembly *a);
/** One sentence on a segment: shut in by what, and what covers it or why nothing does; NULL when
 * memory is out. */
const char *still_segment_text(still_assembly *a, const still_shut_in *s);
/** A segment as an entry of the record, without remedies. @return false when memory is out */
bool still_fill_closed_in(still_assembly *a, const still_shut_in *s, still_closed_in *out);
/** What states on the way break (P9, D4, L6); after still_assemble_closed_in. */
void still_assemble_order(still_assembly *a);
/** A volume and mass in words; NULL when memory is out. */
const char *still_assemble_litres(still_assembly *a, double volume_m3, double mass_kg);
/** What removes the gap of segment i of `shut`: into the record, and in words for its finding.
 *  @return text, or NULL when memory is out */
const char *still_assemble_remedies(still_assembly *a, size_t i, still_closed_in *out);
/** What keeps a component from being a point (D1 to D7), arena memory; "" = it is no such device,
 * or nothing does; NULL when memory is out. */
const char *still_why_no_point(still_assembly *a, uint32_t comp);
void still_assemble_rooms(still_assembly *a);
void still_assemble_live(still_assembly *a);
void still_assemble_live_side(still_assembly *a);
void still_assemble_energies(still_assembly *a);
void still_assemble_unknowns(still_assembly *a);
/** What stands against the steps: cold metal, oil, proof, tests, sequences (E7, E9, P4, P6, N6). */
void still_assemble_work(still_assembly *a);
/** What was found today, and what the plan makes of it (N2). */
void still_assemble_state(still_assembly *a);
void still_assemble_finish(still_assembly *a);
/** What is not said of a component just beyond the boundary, or of a stop valve inside (N2). */
void still_note_unknown_beyond(still_assembly *a, uint32_t comp);

#endif
