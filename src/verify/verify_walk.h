/** @file verify_walk.h  What all parts of verify/ share: the call's data, walks, plain facts.
 *
 *  Problem: re-derive what must hold of a finished plan record. Method: breadth-first walks over
 *  ports, with a rule that says what a component joins (METHOD section 1). Nothing here is used by
 *  graph/ or isolate/, nor the other way round (rule I7). */
#ifndef STILL_VERIFY_WALK_H
#define STILL_VERIFY_WALK_H

#include "arena.h"
#include "plant.h"
#include "state.h"
#include "stillset/diag.h"
#include "stillset/record.h"
#include "targets.h"
#include "verify.h"

/** What a component joins for one who stands at one of its ports. */
typedef enum still_verify_join {
    STILL_VERIFY_PART,  /**< nothing */
    STILL_VERIFY_SIDES, /**< the ports of the same side (exchanger) */
    STILL_VERIFY_SET,   /**< the ports that the position names which a point leaves it in (D5) */
    STILL_VERIFY_ALL    /**< all of its ports */
} still_verify_join;

/** How a source counts (rule N4). */
typedef enum still_verify_source {
    STILL_VERIFY_NO_SOURCE,
    STILL_VERIFY_SOFT, /**< may be taken inside */
    STILL_VERIFY_HARD  /**< can never be taken inside */
} still_verify_source;

/** Grades in the order of trust (rule I2); 0 = none of them. */
enum {
    STILL_VERIFY_SINGLE = 1,
    STILL_VERIFY_DOUBLE,
    STILL_VERIFY_SINGLE_BLEED,
    STILL_VERIFY_DOUBLE_BLEED,
    STILL_VERIFY_POSITIVE
};

/** Where a component or spool lies: bits, by the labels of the ports that it has there. */
enum {
    STILL_VERIFY_AT_WORK = 1, /**< joined to what is opened: label 0 */
    STILL_VERIFY_BETWEEN = 2  /**< enclosed between level 1 and level 2: label 1 */
};

/** What stays joined once all points are closed. */
typedef struct still_verify_space {
    uint8_t where;   /**< STILL_VERIFY_AT_WORK, STILL_VERIFY_BETWEEN, or 0 */
    uint8_t beside;  /**< a point parts it from the work */
    uint8_t further; /**< two points away from the work, held between two points */
    uint8_t last;    /**< a point of level 2 bounds it */
    uint8_t live;    /**< it holds a source that is not taken inside */
    uint8_t bled;    /**< 0 = not looked at, 1 = bled, 2 = not */
} still_verify_space;

/** A walk: ports in the order met. All memory in the call's arena, reused by reset. */
typedef struct still_verify_walk {
    uint32_t *prev; /**< by port: port that it was met from, itself = start; STILL_NONE = not met */
    uint32_t *met;  /**< ports met */
    uint32_t n;
    uint8_t *comp_done, *side_done;
} still_verify_walk;

/** All that one call of still_verify_record knows. */
typedef struct still_verify {
    const still_plant *plant;
    const still_state *state;
    const still_record *rec;
    still_diags *diags;
    still_arena arena;
    bool agrees, nomem;
    unsigned given; /**< STILL_GIVEN_*: what the record says */
    still_targets targets;
    const char *subject;   /**< name of the first target */
    uint8_t *whole;        /**< by component: opened whole */
    uint8_t *work_port;    /**< by port: it belongs to what is opened */
    uint8_t *avoided;      /**< by component: found unusable (--avoid) */
    uint8_t *stays;        /**< by component: to be kept in service, or fed as such a one is */
    uint8_t *taken;        /**< by component: a source that the record takes inside */
    unsigned grade;        /**< the one claimed, for all sources unless mixed */
    unsigned n_levels;     /**< 1 or 2 */
    bool mixed;            /**< the demands of the sources differ, and each counts */
    uint32_t *isolator_of; /**< by feed: the bytewise lowest feed of the same isolator */
    uint32_t *point_comp, *point_feed; /**< by point: what its id names, or STILL_NONE */
    uint8_t *closable;                 /**< by component: METHOD section 3, "Closable" */
    uint8_t *fork;       /**< by component: a three-way valve that may be a point (D5) */
    uint8_t *positive;   /**< by component: may be a point of the positive layer (D1) */
    uint8_t *driven;     /**< by component: closable because it fails closed (D3) */
    uint8_t *level;      /**< by component: of its point */
    const char **set_to; /**< by component: position that its point leaves it in */
    uint32_t *space_of;  /**< by port: number of its space */
    still_verify_space *spaces;
    uint32_t n_spaces;
    uint8_t *where;     /**< by component or spool: STILL_VERIFY_AT_WORK, …; points excluded */
    uint8_t *barrier;   /**< by component: a counted point that is closed, fitted, removed */
    uint8_t *opened;    /**< by component: a point with action open */
    uint8_t *locked;    /**< by feed (lowest of its isolator): has a switch-off point */
    uint32_t *piece;    /**< by port: METHOD section 3, "Pieces" */
    double *piece_bara; /**< by piece: highest known design pressure, NAN = none known */
    uint8_t *piece_gap; /**< by piece: a spool in it has no known design pressure */
    uint32_t n_pieces;
    still_verify_walk inside; /**< from the target, all but the closed barriers joined (I1) */
    still_verify_walk scratch, second, third, edge, region;
    uint8_t *end_position; /**< by component: still_position after the steps of phase isolate */
    uint8_t *held_open;    /**< by component: opened by a step of phase isolate */
} still_verify;

/** Rule of a walk: what `comp` (a spool too) joins for one standing at `port`. */
typedef still_verify_join (*still_verify_rule)(const still_verify *v, const void *with,
                                               uint32_t comp, uint32_t port);

/** Report a disagreement: an error with the rule's id as its code. */
#if defined(__GNUC__)
__attribute__((format(printf, 4, 5)))
#endif
void still_verify_against(still_verify *v, const char *rule, const char *id, const char *format,
                          ...);
/** Zeroed memory of the call; NULL (and v->nomem) when out. */
void *still_verify_room(still_verify *v, size_t n, size_t size);

/** @return false when memory is out */
bool still_verify_walk_init(still_verify *v, still_verify_walk *w);
void still_verify_walk_reset(const still_verify *v, still_verify_walk *w);
void still_verify_walk_start(still_verify_walk *w, uint32_t port);
/** Start at every port of a component. */
void still_verify_walk_start_comp(const still_verify *v, still_verify_walk *w, uint32_t comp);
/** Go on until nothing new is met. Cost: linear in what is met. */
void still_verify_walk_run(const still_verify *v, still_verify_walk *w, still_verify_rule rule,
                           const void *with);
static inline bool still_verify_met(const still_verify_walk *w, uint32_t port)
{
    return w->prev[port] != STILL_NONE;
}
/** Ids from a port met back to where the walk began, joined by " > ", long ones cut in the middle.
 *  "" when memory is out. */
const char *still_verify_trail(still_verify *v, const still_verify_walk *w, uint32_t port);
/** The same for a list of ids. */
const char *still_verify_list(still_verify *v, still_strings ids);

/** METHOD section 1, first column, without any point. */
still_verify_join still_verify_plain_join(const still_verify *v, uint32_t comp);
/** Is the port one of those that the position set for a three-way valve names? */
bool still_verify_set_names(const still_verify *v, uint32_t comp, uint32_t port);
/** A port at the same component from which one cannot get to `port` while the point is closed. */
bool still_verify_parted(const still_verify *v, uint32_t comp, uint32_t port, uint32_t other);
/** Rule: plain joins, except closed barriers (I1). */
still_verify_join still_verify_rule_points(const still_verify *v, const void *with, uint32_t comp,
                                           uint32_t port);
/** Rule: plain joins, except closable devices in the direction in which they hold, and what the
 *  byte array `with` (by component, may be NULL) marks as cut. */
still_verify_join still_verify_rule_holding(const still_verify *v, const void *with, uint32_t comp,
                                            uint32_t port);

/** Set closable, piece, piece_bara, piece_gap. */
void still_verify_pieces(still_verify *v);
/** Rating in bar absolute by METHOD section 3 (D7), NAN = unknown. */
double still_verify_rating(const still_verify *v, uint32_t comp);
/** Does the closable device hold against what stands at `port`, its live side? (D7) */
bool still_verify_holds(const still_verify *v, uint32_t comp, uint32_t port);
/** Condition and position today; what is to be avoided is out of reach. */
still_condition still_verify_condition(const still_verify *v, uint32_t comp);
/** Position today in words; of a three-way valve the ports that it joins. */
const char *still_verify_position(const still_verify *v, uint32_t comp);
/** The same as in the plant file. */
const char *still_verify_position_filed(const still_verify *v, uint32_t comp);
/** Valve worked by hand. */
bool still_verify_by_hand(const still_comp *c);
/** The component as a source, whatever is joined to its ports. The target's own contents and its
 *  drive do not count. */
still_verify_source still_verify_source_of(const still_verify *v, uint32_t comp);
/** What one meets who comes to a port: its component, and the port itself if nothing is joined. */
still_verify_source still_verify_source_at(const still_verify *v, uint32_t port);
/** A source met at a port that is not taken inside. */
bool still_verify_live(const still_verify *v, uint32_t port);
/** Nothing is joined to the port, and it is not a cap's. */
bool still_verify_open_end(const still_verify *v, uint32_t port);
bool still_verify_feed_locks(const still_feed *f);

/** Component with this id, spools included, or STILL_NONE. */
uint32_t still_verify_comp(const still_verify *v, const char *id);
/** Feed with this id, or STILL_NONE. */
uint32_t still_verify_feed(const still_verify *v, const char *id);
bool still_verify_in(still_strings list, const char *id);
/** Is there a finding of this rule (NULL = any) that blocks and names this id? */
bool still_verify_blocked(const still_verify *v, const char *rule, const char *id);
/** METHOD section 1, second column: what a component joins while one drains; points part. */
still_verify_join still_verify_drain_join(const still_verify *v, uint32_t comp);
/** Is each compartment of the space bled (I2)? Remembered. Uses scratch, second, third. */
bool still_verify_bled(still_verify *v, uint32_t space);
/** The same of the compartments that the n ports lie in. @param[out] gap  a port without a bleed */
bool still_verify_ports_bled(still_verify *v, const uint32_t *ports, uint32_t n, uint32_t *gap);
/** An outlet through which its compartment is bled. */
bool still_verify_bleeds(still_verify *v, uint32_t outlet);
/** Place in the order of trust, or 0. */
unsigned still_verify_rank(const char *grade);
/** Is there an assumption that names this id? */
bool still_verify_assumed(const still_verify *v, const char *id);

/** A barrier that stands while there is fluid in the section: a blind that is not fitted yet, a
 * spade or a pipe to be taken out comes in when it is empty (I2, P1). */
bool still_verify_shuts(const still_verify *v, uint32_t comp);

#endif
