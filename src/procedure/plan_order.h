/** @file plan_order.h  Inner parts of procedure/: the order of operation, and a builder of steps.
 */
#ifndef STILL_PLAN_ORDER_H
#define STILL_PLAN_ORDER_H

#include "procedure.h"

/** Something that is operated and tagged, in order. */
typedef struct still_op {
    uint32_t comp;                /**< STILL_NONE for a feed */
    uint32_t feed;                /**< STILL_NONE for a device */
    uint32_t inner_port;          /**< barrier: its port on the work side; else STILL_NONE */
    const still_iso_point *point; /**< barrier that is a device; else NULL */
    bool late; /**< a blind, spade or pipe that is fitted or taken out when the section is empty */
    bool barrier, opening, override, outway;
    bool recovers; /**< outway: on a way by which it is emptied before relief paths are closed */
    bool vented;   /**< late: what lies on its work side can be let off while it is fitted */
    bool bled;   /**< late: what lies between it and the valve further out has a bleed of its own */
    bool behind; /**< outway: no way out uses it, but what lies behind it empties through it */
    bool outer;  /**< barrier further out, closed in a stage of its own (P4) */
    bool between; /**< outway of a space between only */
    bool locked;  /**< outway: the bleed between two closed devices, locked open (I2) */
    bool receiver_side,
        downstream;     /**< the section empties through it; toward a low-pressure vessel */
    bool behind_relief; /**< joined to the section over relief valves or rupture discs alone */
    bool warms;         /**< barrier of the warmer side of an exchanger inside: closed first (N5) */
    bool cools;         /**< barrier of its cooler side */
    bool wets;          /**< liquid comes in when it is opened again */
    bool gas;           /**< what lies beyond it is vapour by all that the plant file says */
    const char *from;   /**< position found */
    const char *home;   /**< position before any plan: where it is brought back to */
    uint32_t hung;      /**< tag of the plan before that hangs on it; 0 = none */
    uint32_t tag;
} still_op;

/** The order of operation of a plan. */
typedef struct still_order {
    const still_plant *plant;
    const still_state *state;
    const still_isolation *iso;
    const still_rooms *rooms;
    const still_standing *standing; /**< or NULL */
    const still_site *site;         /**< NULL = none was given */
    const still_checklists *checklists;
    still_op *ops;
    uint32_t n_ops;
    uint32_t receiver;
    uint32_t *on_the_way, n_on_the_way; /**< driven and self-acting devices between the section and
                                           the receiver: it empties only while they pass */
    uint32_t warm;   /**< exchanger inside of which both sides are closed off, the warmer one first;
                        STILL_NONE = none */
    bool heat_stays; /**< its warmer side could not be closed first */
    bool late_opening;
    still_on_the_way *breaches;
    size_t n_breaches;
    bool complete;   /**< no order breaks less, or needs fewer changes of place */
    uint32_t *back;  /**< barriers, then feeds, in the order in which they are brought back: numbers
                        in `ops` */
    uint32_t *locks; /**< ops in the order in which they are locked and tagged, stage by stage */
    uint32_t n_back, n_locks;
    uint8_t *emptied;  /**< by port: empties with the work, no relief valve between */
    bool relief_stage; /**< relief paths inside are closed in a stage of their own, once the section
                          has been emptied by outlets that are not open to the air (D4, P1) */
    bool staged;       /**< the valves next to the work are closed, and proved, before those
                          further out */
    const char *unproved; /**< a double isolation that is not staged: why not; else NULL */
} still_order;

/** Put feeds, barriers, openings and outlet valves in order (E1, P2, P9, L6, D4). Arena memory.
 *  @return STILL_OK, STILL_E_NOMEM. Cost: ordering.h; each state costs one relief_build. */
STILL_NODISCARD still_status still_order_make(still_order *order, still_arena *arena,
                                              const still_order_given *given);
/** Whether the valves next to the work are closed in a stage of their own; fills `staged`,
 *  `unproved` (P4). */
void still_order_look_at_stages(still_order *order);
/** Whether relief paths are closed in a stage of their own; fills `relief_stage` (D4). */
void still_order_look_at_relief(still_order *order);
/** The way by which a compartment is emptied, to an outlet that is not open to the air, such that
 * no liquid is left; NULL = there is none. */
const still_outway *still_order_recovers(const still_plant *plant, const still_room *room);
/** Put the moves of each stage in order and give tags (plan_moves.c). */
STILL_NODISCARD still_status still_order_arrange(still_order *order, still_arena *arena,
                                                 const still_order_given *given);
/** Position in which a point is left: "closed", "a-c", "removed", "spade fitted". NULL when memory
 * is out. */
const char *still_point_position(still_arena *arena, const still_plant *plant,
                                 const still_iso_point *point);
/** The way of a bleed that the grade asks for, or that a blind wants. */
static inline still_outway still_bleed_way(const still_iso_bleed *bleed)
{
    return (still_outway){.items = bleed->way.items, .n = bleed->way.n};
}
/** A bleed between two closed devices, where `double-bleed` is asked: it is locked open, too (I2).
 */
bool still_bleed_of_station(const still_isolation *iso, const still_iso_bleed *bleed);
/** A hand valve on such a way that can be locked open. */
bool still_bleed_lockable(const still_plant *plant, uint32_t comp);
/** still_room_keeps_full, by the blinds of this order. */
bool still_order_keeps_full(const still_order *order, const still_room *room);
/** What picks ops. */
typedef bool still_op_is(const still_op *op);
/** The first of these in the order of operation, or NULL. */
const still_op *still_order_first(const still_order *order, still_op_is *which);
/** In a stage after the first: a valve further out, or a relief path. */
bool still_op_outer(const still_op *op);
/** Tag of a component's op, or 0. */
uint32_t still_order_tag(const still_order *order, uint32_t comp);

/** Builder of a list of steps: text is formatted into the arena; failure sticks. */
typedef struct still_stepper {
    uint32_t stage; /**< 0 counts as 1 */
    still_arena *arena;
    still_step *steps;
    size_t n, cap;
    bool failed;
    const char *phase;
} still_stepper;

/** Add a step in the stepper's phase; texts may be NULL (memory ran out) or "". @return it, or NULL
 */
still_step *still_stepper_add(still_stepper *s, const char *id, uint32_t tag, const char *do_text,
                              const char *why, const char *expect, const char *if_not);
/** Move the steps to the arena. @return STILL_OK, STILL_E_NOMEM */
STILL_NODISCARD still_status still_stepper_finish(still_stepper *s, const still_step **steps,
                                                  size_t *n);

/** Steps up to the work, and back. @return STILL_OK, STILL_E_NOMEM */
STILL_NODISCARD still_status still_steps_isolate(still_record *record, still_arena *arena,
                                                 const still_order *order);
STILL_NODISCARD still_status still_steps_restore(still_record *record, still_arena *arena,
                                                 const still_order *order);

#endif
