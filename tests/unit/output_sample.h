/** @file output_sample.h  A hand-made plan record for the tests of output/. Every array has
 *  something in it, one number is unknown, one finding blocks for good. */
#ifndef STILL_OUTPUT_SAMPLE_H
#define STILL_OUTPUT_SAMPLE_H

#include "stillset/record.h"

#include <math.h>

#define LIST(array)                                                                                \
    {                                                                                              \
        (array), sizeof(array) / sizeof((array)[0])                                                \
    }
#define COUNT(array) (sizeof(array) / sizeof((array)[0]))
#define UNKNOWN ((double)NAN)

static const char *sample_target[] = {"MV-1"};
static const char *sample_inside[] = {"DR-1", "DV-1", "MV-1", "S-2", "S-3"};
static const char *sample_accept[] = {"L6:S-3"};
static const char *sample_feeds[] = {"MCC-1/4"};
static const char *sample_way[] = {"S-3", "DV-1", "DR-1"};
static const char *sample_path1[] = {"V-1", "S-1", "HV-1", "S-2", "MV-1"};
static const char *sample_path2[] = {"V-2", "S-4", "HV-2", "S-3", "MV-1"};
static const char *sample_shut[] = {"HV-2", "CV-9"};
static const char *sample_segment[] = {"S-4"};
static const char *sample_cover[] = {"PSV-1"};
static const char *sample_condition[] = {"HV-8 stays sealed open"};

static const still_point sample_points[] = {
    {1, "HV-1", "globe valve DN50", "under V-1, walkway", STILL_ACTION_CLOSE, "open", "closed",
     "lock", "Do Not Open", "holds back V-1", "", 1, true, false},
    {2, "HV-2", "ball valve DN50", "room 3, wall", STILL_ACTION_CLOSE, "closed", "closed", "lock",
     "Do Not Open", "holds back V-2", "", 1, true, true},
    {3, "MCC-1/4", "electrical feed of MV-1", "", STILL_ACTION_SWITCH_OFF, "on", "off", "lock",
     "Do Not Energize", "drives MV-1", "MCC-1/4 switch", 1, true, false},
    {4, "DV-1", "needle valve DN15", "under MV-1", STILL_ACTION_OPEN, "closed", "open", "tag",
     "Do Not Close", "bleeds the section", "", 0, false, false},
};
static const still_finding sample_findings[] = {
    {"E2", "MV-1", "no place to prove zero pressure", true, true, false},
    {"D4", "PSV-1", "closing HV-1 takes the last relief path of V-9", true, false, false},
    {"L6", "S-3", "liquid closed in outside the boundary", true, true, true},
    {"L8", "", "thermal expansion only", false, false, false},
};
static const still_proof_path sample_paths[] = {{LIST(sample_path1), NULL, "HV-1"},
                                                {LIST(sample_path2), NULL, "HV-2"}};
static const still_strings sample_further[] = {LIST(sample_way)};
static const still_pocket sample_pockets[] = {{LIST(sample_segment), 0.001, UNKNOWN, 1.25, "pit",
                                               "HV-2.out", "DR-1", "V-1",
                                               "let it boil off through DR-1"}};
static const still_letting sample_letting[] = {
    {"DR-1", 15, 30, UNKNOWN, "liquid: about 30 s. Estimate only; watch the gauge"},
    {"DR-1", 15, UNKNOWN, UNKNOWN, "vapour: not estimated"}};
static const still_compartment sample_compartments[] = {
    {LIST(sample_inside),
     "inside",
     true,
     LIST(sample_way),
     LIST(sample_way),
     {NULL, 0},
     sample_further,
     1,
     "PG-1",
     "",
     0.0123456789123,
     UNKNOWN,
     sample_pockets,
     1,
     false,
     LIST(sample_segment),
     {0.01, 0.0023456789123, UNKNOWN, 0.5},
     "DR-1",
     false,
     sample_letting,
     COUNT(sample_letting)},
};
static const char *sample_remedy_ids[] = {"HV-7"};
static const still_gap_remedy_item sample_remedies[] = {
    {"open", LIST(sample_remedy_ids), "with HV-7 opened it would have cover"}};
static const still_closed_in_point sample_curve[] = {
    {-34.0, 3.0, 3.0}, {-33.0, 25.0, 20.0}, {-20.0, UNKNOWN, 300.0}};
static const still_closed_in sample_closed_in[] = {
    {LIST(sample_segment),
     LIST(sample_shut),
     {NULL, 0},
     {NULL, 0},
     "outside",
     "uncovered",
     "no way out leads to a relief valve",
     0.0021,
     1.34,
     13.2,
     41.25,
     sample_remedies,
     COUNT(sample_remedies),
     "",
     0,
     0,
     sample_curve,
     COUNT(sample_curve),
     19.0},
    {LIST(sample_segment), LIST(sample_shut), LIST(sample_cover), LIST(sample_condition), "inside",
     "covered", "leads to PSV-1", UNKNOWN, UNKNOWN, UNKNOWN, UNKNOWN, NULL, 0, "steps", 5, 7, NULL,
     0, UNKNOWN},
};
static const still_live_item sample_live[] = {
    {"HV-3", "room 3, wall", "same place as HV-2, 11 barg behind it", true},
    {"V-2", "", "liquid within one device of HV-2", false},
};
static const still_step sample_steps[] = {
    {1, 1, "prepare", "Find every device of the list", "", 0, "", "", "", "each hangs there",
     "stop"},
    {2, 1, "isolate", "Close HV-1 and lock it", "HV-1", 1, "open", "closed", "liquid feed first",
     "the pipe behind goes quiet", "the valve passes: tell the safety lead"},
};
static const still_remark sample_assumptions[] = {{"N2", "HV-2", "is assumed to be lockable"}};
static const still_remark sample_cautions[] = {
    {"P7", "", "The drawing must be walked down before work, and the data may be wrong."}};
static const still_source_inside sample_sources[] = {{"P-1", "stop it and lock MCC-1/4"}};
static const still_position_of sample_start[] = {{"HV-2", "closed"}};
static const still_position_of sample_end[] = {{"HV-1", "closed"}, {"DV-1", "open"}};
static const still_help sample_help[] = {{"S-1", "fit a hand valve that can be locked"}};

#define SAMPLE_DIGEST "3f2a90b1c4d5e6f7a8b9c0d1e2f3a4b5c6d7e8f90a1b2c3d4e5f60718293a4b5"

static inline still_record sample_record(void)
{
    return (still_record){
        .program = "stillset",
        .version = "0.1.0",
        .plant_id = "harbour-3",
        .plant_name = "Harbour cold store, room 3",
        .plant_revision = "B",
        .plant_digest = SAMPLE_DIGEST,
        .plant_file = "plant.xml",
        .option_grade = "policy",
        .option_work = "open",
        .option_accept = LIST(sample_accept),
        .state_digest = "",
        .policy_id = "",
        .site_id = "",
        .site_digest = "",
        .checklists_id = "built-in",
        .checklists_digest = "",
        .policy_digest = "",
        .grade_shortfall = "",
        .start = sample_start,
        .end = sample_end,
        .n_start = COUNT(sample_start),
        .n_end = COUNT(sample_end),
        .targets = LIST(sample_target),
        .target_what = "control valve DN50",
        .target_place = "room 3, ceiling",
        .work = "open",
        .feasible = true,
        .ready = false,
        .grade_required = "double-bleed",
        .grade_achieved = "single-bleed",
        .grade_because = "ammonia, 11 barg, DN50",
        .cost_sources = 1,
        .cost_points = 3,
        .cost_mass_kg = UNKNOWN,
        .points = sample_points,
        .n_points = COUNT(sample_points),
        .sources_inside = sample_sources,
        .n_sources_inside = COUNT(sample_sources),
        .inside = LIST(sample_inside),
        .proof = {"paths", sample_paths, COUNT(sample_paths), LIST(sample_feeds), 2},
        .obstacle = {{NULL, 0}, "", "", NULL, 0, false},
        .compartments = sample_compartments,
        .n_compartments = COUNT(sample_compartments),
        .inventory = {0.01, 0.0023456789123, UNKNOWN, 0.5},
        .closed_in = sample_closed_in,
        .n_closed_in = COUNT(sample_closed_in),
        .still_live = sample_live,
        .n_still_live = COUNT(sample_live),
        .tests = {.design_barg = 19,
                  .strength_barg = 18,
                  .tightness_barg = 18,
                  .code_strength_barg = 20.9,
                  .most_barg = UNKNOWN,
                  .hydraulic_barg = 27.17,
                  .hold_s = UNKNOWN,
                  .evacuation_Pa = 500,
                  .evacuation_hold_s = UNKNOWN,
                  .code = "en-378",
                  .source = "EN 378-2:2016, factors from memory",
                  .limited_by = LIST(sample_feeds)},
        .steps = sample_steps,
        .restore = sample_steps,
        .n_steps = COUNT(sample_steps),
        .n_restore = 1,
        .assumptions = sample_assumptions,
        .cautions = sample_cautions,
        .n_assumptions = COUNT(sample_assumptions),
        .n_cautions = COUNT(sample_cautions),
        .findings = sample_findings,
        .n_findings = COUNT(sample_findings)};
}

/** The same target without a plan. */
static inline still_record sample_infeasible(void)
{
    still_record r = sample_record();
    r.feasible = false;
    r.n_points = 0;
    r.n_findings = 0;
    r.grade_achieved = "";
    r.inside.n = 0;
    r.obstacle = (still_obstacle){LIST(sample_path1),
                                  "no device between V-1 and MV-1 can be locked",
                                  "none",
                                  sample_help,
                                  COUNT(sample_help),
                                  true};
    return r;
}

/** A record that says nothing: every list is empty. */
static inline still_record sample_empty(void)
{
    return (still_record){.program = "",
                          .version = "",
                          .plant_id = "",
                          .plant_name = "",
                          .plant_revision = "",
                          .plant_digest = "",
                          .plant_file = "",
                          .option_grade = "",
                          .option_work = "",
                          .target_what = "",
                          .target_place = "",
                          .work = "",
                          .feasible = true,
                          .ready = true,
                          .grade_required = "",
                          .grade_achieved = "",
                          .grade_because = "",
                          .grade_shortfall = "",
                          .state_digest = "",
                          .site_id = "",
                          .site_digest = "",
                          .checklists_id = "built-in",
                          .checklists_digest = "",
                          .policy_id = "",
                          .policy_digest = "",
                          .cost_mass_kg = UNKNOWN,
                          .proof = {"", NULL, 0, {NULL, 0}, 0},
                          .tests = {.code = "", .source = ""},
                          .obstacle = {{NULL, 0}, "", "", NULL, 0, false}};
}

#endif
