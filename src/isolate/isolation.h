/** @file isolation.h  The choice of isolation points for one target (rules I1 to I6, single grade).
 *
 *  Holds component numbers, no texts; the record is made from it by api/. */
#ifndef STILL_ISOLATION_H
#define STILL_ISOLATION_H

#include "arena.h"
#include "zone.h"

/** A list of component numbers. */
typedef struct still_list {
    uint32_t *items;
    uint32_t n;
} still_list;

/** A proof path, from the source inward. */
typedef struct still_iso_path {
    still_list comps; /**< components and spools, source first, target last */
    uint32_t feed;    /**< STILL_NONE, or the feed (not locked) in which it starts instead */
    uint32_t point;   /**< component: the point that it crosses */
} still_iso_path;

/** What keeps an item from being a point, or what would make it help (I6). */
typedef enum still_remedy {
    STILL_REMEDY_ADD_VALVE, /**< spool: fit a stop valve in it */
    STILL_REMEDY_LOCKABLE,  /**< stop valve that can't be locked */
    STILL_REMEDY_CONDITION, /**< stop valve passing, seized or out of reach */
    STILL_REMEDY_DRIVE,  /**< actuated stop valve: a hand valve beside it, or D3 once it can be used
                          */
    STILL_REMEDY_RATING, /**< rated too low for its live side (D7) */
    STILL_REMEDY_FEEDS,  /**< pump or compressor: feeds that can all be locked */
    STILL_REMEDY_BLIND   /**< limit: said to be blind, if it is */
} still_remedy;

typedef struct still_iso_help {
    uint32_t comp;
    still_remedy remedy;
} still_iso_help;

typedef struct still_isolation {
    still_arena arena; /**< owns the lists */
    still_zone zone;
    bool feasible;
    uint8_t *work_port;   /**< by port: 1 = on the work side (feasible only) */
    still_list inside;    /**< components and spools on the work side, ascending */
    still_list points;    /**< devices, in ascending order of id */
    uint32_t *inner_port; /**< by point: its port on the work side */
    still_list unsure;  /**< points whose rating, or whose live side's pressure, is unknown (D7) */
    still_list feeds;   /**< feed numbers: for each isolator to lock, its lowest feed, by id */
    still_list sources; /**< sources taken inside, by id */
    bool mass_unknown;
    uint64_t grams;
    still_iso_path *paths;
    uint32_t n_paths;
    still_list obstacle;   /**< infeasible: source first, target last */
    uint32_t blocker_port; /**< infeasible: port at that source */
    still_iso_help *help;
    uint32_t n_help;
    bool help_is_set;
} still_isolation;

/** Choose the points.
 *  @param[out] out  owned by the caller, still_isolation_free; untouched on failure
 *  @return STILL_OK (also when infeasible), STILL_E_NOMEM, STILL_E_INTERNAL
 *  Cost: one minimum cut on the zone; linear work for ties in each candidate device. */
STILL_NODISCARD still_status still_isolate(still_isolation **out, const still_plant *plant,
                                           const still_state *state, uint32_t target);
void still_isolation_free(still_isolation *iso);

/** Lowest feed, by id, with the same isolator as `feed` (equal text; none = the feed itself). */
uint32_t still_isolator_feed(const still_plant *plant, uint32_t feed);

#endif
