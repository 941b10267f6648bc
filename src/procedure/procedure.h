/** @file procedure.h  The order of work: points with their tags, steps, and the way back (P1, P2,
 * P6).
 *
 *  Phases by the rules; within them the order is searched for over states (docs/METHOD.md, 7). */
#ifndef STILL_PROCEDURE_H
#define STILL_PROCEDURE_H

#include "arena.h"
#include "checklist.h"
#include "isolation.h"
#include "pressures.h"
#include "relief.h"
#include "rooms.h"
#include "shutin.h"
#include "site.h"
#include "stillset/record.h"

/** What the order of work has found out beside the steps. */
typedef struct still_procedure_notes {
    uint32_t receiver; /**< low-pressure vessel that the section empties to, or STILL_NONE */
    bool late_opening; /**< hand devices inside are opened only after the last point: no point could
                          wait */
    uint32_t relief_point; /**< first relief path that is closed in a stage of its own, once the
                              section has been emptied without opening it (D4); or STILL_NONE */
    bool heat_stays;       /**< no order closes the warmer side of an exchanger inside first (N5) */
    const char *unproved;  /**< why the valves next to the work of a double isolation are not proved
                                by themselves (P4); NULL = they are, or there are none */
    const struct still_on_the_way *breaches; /**< what states on the way break (P9, D4, L6) */
    size_t n_breaches;
    bool complete;            /**< no order breaks less */
    uint32_t *last, n_last;   /**< points toward the receiver: closed last, after the pump-down has
                                 been looked at once more */
    still_test_limit *limits; /**< what stands against the code's test pressure (P6) */
    uint32_t n_limits;
    uint32_t *order; /**< components of the barrier points in the order of operation */
    uint32_t n_order;
} still_procedure_notes;

/** What a plan before has done, when this one goes on from there. */
typedef struct still_standing {
    const still_state *home;      /**< as it stood before the first step of that plan */
    const uint8_t *feed_off;      /**< by feed: switched off by it */
    const uint8_t *override_open; /**< by component: its manual opening was used */
    const uint32_t *comp_tag;     /**< by component: tag that hangs on it; 0 = none */
    const uint32_t *feed_tag;     /**< by feed */
} still_standing;

/** What an order is judged by. */
typedef struct still_order_given {
    const still_isolation *iso;
    const still_rooms *rooms;
    const still_relief *before; /**< relief as it is today */
    const still_shut_in *shut;  /**< what is shut in once all points are closed */
    size_t n_shut;
    const uint8_t *work_port; /**< by port: within the boundary, spaces between too */
    double ambient_K;
    const still_standing *standing; /**< NULL = this plan is the first */
    const still_site *site;         /**< NULL = none was given */
    const still_checklists *checklists;
} still_order_given;

/** What an order of moves breaks on the way (P9, D4, L6). */
typedef struct still_on_the_way {
    uint8_t rule;  /**< STILL_BREAKS_… */
    bool back;     /**< on the way back */
    uint32_t comp; /**< machine, or equipment; STILL_NONE: the segment */
    const still_shut_in *segment;
    uint32_t from, to; /**< from the point with this tag on until that one is done; `to` 0: it
                          stands so at the end */
    const still_shut_in *told; /**< L6: lies in this segment, which is shut in at the end and told
                                  there; NULL = it does not */
} still_on_the_way;
enum { STILL_BREAKS_D4, STILL_BREAKS_P9, STILL_BREAKS_L6 };

/** Fill points, steps, restore, tests, start and end of a record of a feasible plan.
 *  @param record  other parts are read: targets, work, mass; all strings go to the arena
 *  @return STILL_OK, STILL_E_NOMEM */
STILL_NODISCARD still_status still_procedure_make(still_record *record,
                                                  still_procedure_notes *notes, still_arena *arena,
                                                  const still_order_given *given);
/** Fill `start` alone: where something was found today otherwise than in the plant file. For plans
 *  that have no steps. @return STILL_OK, STILL_E_NOMEM */
STILL_NODISCARD still_status still_procedure_start(still_record *record, still_arena *arena,
                                                   const still_plant *plant,
                                                   const still_state *state);

#endif
