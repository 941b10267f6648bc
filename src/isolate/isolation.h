/** @file isolation.h  The choice of isolation points for one piece of work (rules I1 to I6).
 *
 *  Holds component numbers, no texts; the record is made from it by api/. */
#ifndef STILL_ISOLATION_H
#define STILL_ISOLATION_H

#include "arena.h"
#include "search.h"
#include "zone.h"

/** A list of component numbers. */
typedef struct still_list {
    uint32_t *items;
    uint32_t n;
} still_list;

/** A proof path, from the source inward. */
typedef struct still_iso_path {
    still_list comps; /**< components and spools, source first, target last */
    uint32_t *layers; /**< by entry of comps: its layer; it never rises on the way inward */
    uint32_t feed;    /**< STILL_NONE, or the feed (not locked) in which it starts instead */
    uint32_t point;   /**< component: the point that it crosses */
} still_iso_path;

/** What keeps an item from being a point, or what would make it help (I6). */
typedef enum still_remedy {
    STILL_REMEDY_ADD_VALVE, /**< spool: fit a stop valve in it */
    STILL_REMEDY_LOCKABLE,  /**< stop valve that can't be locked */
    STILL_REMEDY_CONDITION, /**< stop valve passing, seized or out of reach */
    STILL_REMEDY_DRIVE,  /**< actuated stop valve that D3 does not allow: a hand valve beside it */
    STILL_REMEDY_RATING, /**< rated too low for its live side (D7) */
    STILL_REMEDY_FEEDS,  /**< pump or compressor: feeds that can all be locked */
    STILL_REMEDY_BLIND,  /**< limit: said to be blind, if it is */
    STILL_REMEDY_BLEED,  /**< spool: fit a bleed valve to a safe place there */
    STILL_REMEDY_ADD_BLIND /**< spool: fit a blind, or flanges that take a spade */
} still_remedy;

typedef struct still_iso_help {
    uint32_t comp;
    still_remedy remedy;
} still_iso_help;

/** A device that is a point. */
typedef struct still_iso_point {
    uint32_t comp;
    uint8_t level;       /**< 1 = next to the work, 2 = further out */
    bool unsure;         /**< its rating, or what stands against it, is unknown (D7) */
    bool positive;       /**< it serves as a blind, spade or removed spool of the positive layer */
    uint32_t inner_port; /**< a port of it on the side of the work */
    uint32_t outer_port; /**< a port of it on its other side */
    bool live;           /**< what stands behind it stays under pressure */
    uint8_t joined;      /**< three-way: bits of the ports that its position joins; 0 = two-port */
} still_iso_point;

/** An enclosed space between first and second devices, or the work's own space where that is bled:
 *  one compartment of it. */
typedef struct still_iso_bleed {
    uint8_t label;    /**< 0 = the work's space, 1 = between */
    uint32_t space;   /**< number of its space */
    still_list comps; /**< what it holds */
    still_list way;   /**< its bleed; empty = none (positive, double: none is needed) */
} still_iso_bleed;

/** Another choice of points that no other beats in sources, points, mass and equipment (I4). */
typedef struct still_iso_other {
    uint32_t sources, points, equipment;
    bool mass_unknown;
    uint64_t grams;
    bool judged;      /**< its relief paths were looked at (D4) */
    bool breach;      /**< it takes a last relief path */
    const char **ids; /**< counted ids, bytewise ascending */
    bool near;        /**< at most two more points, and under half the mass or less equipment out */
} still_iso_other;

typedef struct still_isolation {
    still_arena arena; /**< owns the lists */
    still_zone zone;
    still_grade grade; /**< highest that was asked */
    bool feasible;
    uint8_t *work_port;    /**< by port: 1 = on the work side (feasible only) */
    uint8_t *between_port; /**< by port: 1 = between level 1 and level 2 */
    still_list inside;     /**< components and spools on the work side, ascending */
    still_list between;    /**< those between, ascending */
    still_list points;     /**< devices, in ascending order of id */
    still_iso_point *info; /**< by point */
    uint32_t *inner_port;  /**< by point: its port on the work side */
    still_list unsure;  /**< points whose rating, or whose live side's pressure, is unknown (D7) */
    still_list feeds;   /**< feed numbers: for each isolator to lock, its lowest feed, by id */
    still_list sources; /**< sources taken inside, by id */
    bool mass_unknown;
    uint64_t grams;
    uint32_t equipment; /**< vessels, pumps, compressors and exchanger sides enclosed, the opened
                           aside */
    still_iso_other *others;
    uint32_t n_others;
    bool others_complete; /**< no other choice is left that none beats, but for what saves little */
    bool breach; /**< D4: every choice as good loses a relief path, or none was found that does not
                  */
    still_iso_path *paths;
    uint32_t n_paths;
    bool by_search; /**< the paths do not prove the number of points: the search does */
    uint32_t lower_bound;
    uint64_t nodes;
    bool complete, complete_ties;
    still_iso_bleed *bleeds;
    uint32_t n_bleeds, n_spaces;
    still_list obstacle;   /**< infeasible: source first, target last; empty: no bleed can be had */
    uint32_t blocker_port; /**< infeasible: port at that source, or STILL_NONE */
    still_iso_help *help;
    uint32_t n_help;
    bool help_is_set;
    bool judged_out; /**< infeasible: the caller's judgement left none of the choices */
} still_isolation;

/** Choose the points.
 *  @param[out] out  owned by the caller, still_isolation_free; untouched on failure
 *  @param targets, asked  kept by pointer
 *  @param judge     or NULL
 *  @return STILL_OK (also when infeasible), STILL_E_NOMEM, STILL_E_INTERNAL
 *  Cost: minimum cuts on the zone, as many as the search needs (one for a grade without bleeds and
 *  without three-way valves); linear work for ties in each candidate device. */
STILL_NODISCARD still_status still_isolate(still_isolation **out, const still_plant *plant,
                                           const still_state *state, const still_targets *targets,
                                           const still_asked *asked, const still_judge *judge);
/** Look for other choices beside a feasible one (I4): fills others.
 *  @return STILL_OK, STILL_E_NOMEM, STILL_E_INTERNAL. Cost: some ten searches. */
STILL_NODISCARD still_status still_isolate_others(still_isolation *iso, const still_judge *judge);
void still_isolation_free(still_isolation *iso);

/** Lowest feed, by id, with the same isolator as `feed` (equal text; none = the feed itself). */
uint32_t still_isolator_feed(const still_plant *plant, uint32_t feed);

#endif
