/** @file record.h  The plan record: everything that a plan says, as plain data.
 *
 *  One record feeds every output: text, JSON, CSV, picture. It names components by their ids, so
 *  it can be read without the plant. All memory belongs to the plan (plan.h) and lives as long as
 *  it does; arrays come with their count; strings are never NULL ("" = nothing to say).
 *  Units are SI and stand in the names; NAN = unknown (`null` in JSON). Keys and meaning follow
 *  docs/FORMAT.md; rule ids are those of the rules of the trade named there. */
#ifndef STILLSET_RECORD_H
#define STILLSET_RECORD_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#ifdef __cplusplus
extern "C" {
#endif

/** A list of strings. */
typedef struct still_strings {
    const char **items;
    size_t n;
} still_strings;

/** What is done to a point. */
typedef enum still_action {
    STILL_ACTION_CLOSE,      /**< close, or hold closed, and lock */
    STILL_ACTION_FIT,        /**< fit a blind or spade, or hold it fitted */
    STILL_ACTION_REMOVE,     /**< remove a spool, or keep it removed */
    STILL_ACTION_SWITCH_OFF, /**< switch a feed's isolator off and lock it */
    STILL_ACTION_OPEN        /**< open and tag: a bleed, drain or vent valve, or a manual opening */
} still_action;
/** "close", "fit", "remove", "switch-off", "open". */
const char *still_action_text(still_action action);

/** A point of the lock-and-tag list, in the order of operation; tag = 1, 2, … */
typedef struct still_point {
    uint32_t tag;
    const char *id;    /**< component, or feed */
    const char *what;  /**< for people: "globe valve DN50", "electrical feed of MV-1" */
    const char *place; /**< where a person finds it */
    still_action action;
    const char *from, *to; /**< position found, position to leave it in */
    const char *hold;      /**< "lock", "tag" (what cannot be locked) */
    const char *legend;    /**< words on the tag: "Do Not Open", "Do Not Close", … */
    const char *why;       /**< what it holds back, or what it is opened for */
    const char *isolator;  /**< feed: text of its isolator */
    uint32_t level;        /**< 1 = next to the work; 2 = further out; 0 = not a barrier */
    bool counted;          /**< part of cost.points */
    bool assumed_lockable; /**< the file says only that it is assumed to be lockable */
} still_point;

/** A source that lies inside the boundary, and what is done about it (rule N4). */
typedef struct still_source_inside {
    const char *id, *treatment;
} still_source_inside;

/** One path of the proof (rule I5): ids from a source to the target, devices included. */
typedef struct still_proof_path {
    still_strings ids;
    const uint32_t *layers; /**< layered: one entry an id, 1 = next to the work; NULL = plain path.
                                 Toward the source a layer never falls. A device crossed with the
                                 same layer on both sides is paid for in this layer by this path
                                 alone; with a layer that rises by one it is crossed free */
    const char *point;      /**< plain path: the one point on it; layered: "" */
} still_proof_path;

typedef struct still_proof {
    const char *kind; /**< "paths", "layered", or "search" */
    const still_proof_path *paths;
    size_t n_paths;
    still_strings feeds;  /**< points that no path proves: ids of locked feeds */
    uint32_t bound;       /**< points that the paths prove to be needed */
    uint32_t lower_bound; /**< search: points below which no choice was left out, feeds included */
    uint64_t nodes;       /**< search: cases looked at */
    bool complete;        /**< search: nothing was left out; else the cost is not proven minimal */
} still_proof;

/** An enclosed space between the first and the second devices (rule I2). */
typedef struct still_between {
    still_strings ids;
    const still_strings *bleeds; /**< for each compartment the way to its bleed: devices from the
                                      space outward, the outlet last; empty = none */
    size_t n_bleeds;
} still_between;

/** What the policy asks for one source (rule I3). */
typedef struct still_demand {
    const char *source;  /**< id */
    const char *grade;   /**< "single", … */
    const char *row;     /**< the row and column of the table that decided */
    const char *because; /**< substance, pressure, line size, people, work: what went in */
    bool risk;           /**< R: a person must accept what is left */
} still_demand;

/** Another worthwhile choice of points (rule I4). */
typedef struct still_alternative {
    uint32_t cost_sources, cost_points, out_of_service; /**< the last: components */
    double cost_mass_kg;                                /**< NAN = unknown */
    still_strings points;                               /**< ids, bytewise ascending */
    const char *text; /**< what it gains and what it costs against the plan */
    bool near;        /**< a near choice: to be declined by name */
} still_alternative;

/** A place where a device would have to be added or made usable (rule I6). */
typedef struct still_help {
    const char *id; /**< spool or device */
    const char *text;
} still_help;

/** Why the target cannot be isolated (rule I6). */
typedef struct still_obstacle {
    still_strings path;     /**< source to target, without an admissible device; empty = none */
    const char *text;       /**< the same in words */
    const char *best_grade; /**< "none", or a grade */
    const still_help *would_help;
    size_t n_would_help;
    bool help_is_set; /**< all of would_help together, not any one of them */
} still_obstacle;

/** Liquid that stays behind below every way to a drain (rule E3). */
typedef struct still_pocket {
    still_strings ids;
    double volume_m3, mass_kg; /**< at most */
    double lowest_m;           /**< its lowest known elevation */
    const char *place;         /**< of what lies lowest in it */
    const char *loosen;        /**< its lowest flanged joint, "component.port": loosened last */
    const char *evaporate;     /**< outlet through which it boils off; "" = none, or it does not */
    const char *suction;       /**< vessel to which it can be pumped down before */
    const char *how;           /**< how it is got out: one sentence without a full stop */
} still_pocket;

/** Volume and mass by phase, at service conditions. NAN = unknown. */
typedef struct still_inventory {
    double liquid_m3, vapour_m3, liquid_kg, vapour_kg;
} still_inventory;

/** About how long it takes to let a compartment off through an outlet. Nothing is proved by it. */
typedef struct still_letting {
    const char *through;       /**< outlet */
    double bore_mm;            /**< narrowest on the way */
    double liquid_s, vapour_s; /**< NAN = not estimated, or not let off here */
    const char *text;          /**< the same in words, with what it rests on */
} still_letting;

/** What stays joined once the points and the self-acting devices are shut (rule E1). */
typedef struct still_compartment {
    still_strings ids;
    const char *where;                /**< "inside", "between" */
    bool liquid;                      /**< it can hold liquid */
    still_strings vent, drain, prove; /**< way to the outlet: devices and outlet; empty = none */
    const still_strings
        *further; /**< ways to further drains, each for what lies below the others */
    size_t n_further;
    const char *gauge, *gauge_via; /**< pressure gauge for the proof, its root valve; "" = none */
    double volume_m3, mass_kg;
    const still_pocket *pockets;
    size_t n_pockets;
    bool drainage_shown;     /**< heights known throughout */
    still_strings not_shown; /**< parts of which it is not known what stays behind */
    still_inventory holds;   /**< together volume_m3 and mass_kg */
    const char *air_in;      /**< outlet above the drain by which air comes in; "" = none */
    bool flashes;            /**< its own vapour fills it while it drains */
    const still_letting *let_down;
    size_t n_let_down;
} still_compartment;

/** What would remove a gap (rule L6), tried by the rules. */
typedef struct still_gap_remedy_item {
    const char *kind;  /**< "order", "open", "drain" */
    still_strings ids; /**< order: the point to close last, the vessel that is emptied into; open:
                            the valve; drain: valves from the segment outward, the outlet last */
    const char *text;  /**< one sentence without a full stop */
} still_gap_remedy_item;

/** Pressure of what is shut in at a temperature; NAN = outside what the equation covers. */
typedef struct still_closed_in_point {
    double degC, rigid_bara, pipe_bara; /**< without, and with, the stretch of its pipes */
} still_closed_in_point;

/** A liquid segment that the plan shuts in (rules L1, L2, L6). */
typedef struct still_closed_in {
    still_strings ids, closed_by, covered_by, conditions;
    const char *where; /**< "inside", "between", "outside" */
    const char *state; /**< "covered", "uncovered", "not-full" */
    const char *why;   /**< one sentence */
    double volume_m3, mass_kg, bar_per_K, reaches_design_at_degC;
    const still_gap_remedy_item *remedies; /**< of an uncovered segment; none = none is known */
    size_t n_remedies;
    const char *during; /**< "steps", "restore": only on the way; "" = once all is closed */
    uint32_t from_step, until_step; /**< during: shut in once the first is done, until the other is;
                                         until_step 0 = to the end of the list */
    const still_closed_in_point *curve; /**< from its start to ambient, where still_plan_opts.curves
                                             asks for it; not in the JSON record */
    size_t n_curve;
    double design_barg; /**< lowest design pressure in it; NAN = unknown */
} still_closed_in;

/** What stays under pressure beside the work (rule I8). */
typedef struct still_live_item {
    const char *id, *place, *why;
    bool look_alike; /**< a valve that could be taken for a point */
} still_live_item;

/** A step. Phases never run backward within a stage (rule P1). */
typedef struct still_step {
    uint32_t n, stage;
    const char *phase;
    const char *do_text;   /**< what to do; `do` in JSON */
    const char *id;        /**< component or feed, or "" */
    uint32_t tag;          /**< 0 = none */
    const char *from, *to; /**< change of position, or "" */
    const char *why, *expect, *if_not;
} still_step;

/** Something that a person must know, each with the rule behind it. */
typedef struct still_finding {
    const char *rule, *id, *text;
    bool blocks;     /**< the plan is not ready until it is accepted */
    bool acceptable; /**< may be accepted by name */
    bool accepted;
} still_finding;

typedef struct still_remark {
    const char *rule, *id, *text;
} still_remark;

/** A tag of the plan before that hangs when this one begins. */
typedef struct still_hung {
    const char *id; /**< component or feed */
    uint32_t tag;   /**< its number in the plan before */
    bool left;      /**< this plan does not use it: it stays until the way back */
} still_hung;

typedef struct still_position_of {
    const char *id, *position;
} still_position_of;

/** Figures of the pressure tests and the vacuum on the way back (rule P6). NAN = unknown, or left
 * to the site. */
typedef struct still_tests {
    double design_barg;   /**< design pressure of what is opened */
    double strength_barg; /**< gas test of strength, as far as the points allow */
    double tightness_barg;
    double code_strength_barg; /**< what the code asks; above strength_barg: no strength test */
    double most_barg;          /**< ASME B31.5: no more than this */
    double hydraulic_barg; /**< EN 378: of a component by itself, off the plant, full of liquid */
    double hold_s;         /**< ASME B31.5: at test pressure at least */
    double evacuation_Pa, evacuation_hold_s; /**< absolute */
    const char *code;                        /**< "en-378", "asme-b31.5"; "" = not said */
    const char *source;                      /**< of the factors */
    still_strings
        limited_by; /**< points, relief valves and parts that cannot take code_strength_barg */
} still_tests;

/** What was found of a component, in the words of the state file; "" = not said. */
typedef struct still_found {
    const char *id, *position, *condition, *contents, *energised;
} still_found;

/** The record. */
typedef struct still_record {
    const char *program, *version;
    const char *plant_id, *plant_name, *plant_revision, *plant_digest, *plant_file;
    const char *option_grade, *option_work;
    still_strings option_accept, option_avoid, option_keep;
    bool
        option_explain; /**< how much the text tells; not in the JSON record, which has all of it */
    const struct still_messages *messages; /**< language of its texts, NULL = English; not in the
                                              JSON record, which is English */
    bool option_paths;                     /**< likewise: the picture has the paths of the proof */
    const char *state_digest;              /**< SHA-256 of the state file; "" = none */
    const still_found *found;              /**< all that the state file says, in plant order */
    size_t n_found;
    const char *policy_id, *policy_digest; /**< "" = no policy was asked; digest "" = built in */
    const char *site_id, *site_digest;     /**< "" = no site file was given */
    const char *checklists_id, *checklists_digest; /**< digest "" = those built in */
    double option_ambient_degC;
    bool goes_on;         /**< it goes on from a plan before: the six below */
    const uint32_t *done; /**< steps of the plan before that were done */
    size_t n_done;
    const still_position_of *found_on_way; /**< what was found then: id; passing, stuck, open */
    size_t n_found_on_way;
    const still_hung *hung;
    size_t n_hung;
    const struct still_step *first; /**< steps that make it safe to go on, before `steps`; where the
                                         answer is no: the way back */
    size_t n_first;
    const still_position_of *start, *end;
    size_t n_start, n_end;
    still_strings targets;
    const char *target_what, *target_place; /**< for people */
    const char *work;                       /**< "open", "entry", "hot-work", "long-term" */
    bool feasible, ready;
    const char *grade_required, *grade_achieved, *grade_because;
    const char *grade_shortfall; /**< what the policy asks beyond what was had; "" = nothing */
    const still_demand *demands;
    size_t n_demands;
    uint32_t cost_sources, cost_points;
    double cost_mass_kg;
    const still_point *points;
    size_t n_points;
    const still_source_inside *sources_inside;
    size_t n_sources_inside;
    still_strings inside;
    const still_between *between;
    size_t n_between;
    still_proof proof;
    still_obstacle obstacle;
    const still_compartment *compartments;
    size_t n_compartments;
    still_inventory inventory; /**< of all compartments, the opened part included */
    const still_closed_in *closed_in;
    size_t n_closed_in;
    const still_live_item *still_live;
    size_t n_still_live;
    const still_step *steps, *restore;
    size_t n_steps, n_restore;
    still_tests tests; /**< feasible only */
    const still_alternative *alternatives;
    size_t n_alternatives;
    bool alternatives_complete;  /**< all that save a twentieth of the mass, or anything else */
    uint32_t out_of_service;     /**< equipment that the plan encloses, the opened aside */
    const still_remark *explain; /**< why each point, and why not each device near the boundary */
    size_t n_explain;
    const still_remark *assumptions, *cautions;
    size_t n_assumptions, n_cautions;
    const still_finding *findings;
    size_t n_findings;
} still_record;

#ifdef __cplusplus
}
#endif
#endif
