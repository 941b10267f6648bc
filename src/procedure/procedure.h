/** @file procedure.h  The order of work: points with their tags, steps, and the way back (P1, P2,
 * P6).
 *
 *  A template by the rules: feeds, feed sides, equalising, the low-pressure side; lock and tag;
 * release; verify; work. The search over states comes later. */
#ifndef STILL_PROCEDURE_H
#define STILL_PROCEDURE_H

#include "arena.h"
#include "checklist.h"
#include "isolation.h"
#include "pressures.h"
#include "rooms.h"
#include "site.h"
#include "stillset/record.h"

/** What the order of work has found out beside the steps. */
typedef struct still_procedure_notes {
    uint32_t receiver; /**< low-pressure vessel that the section empties to, or STILL_NONE */
    bool late_opening; /**< hand devices inside are opened only after the last point: no point could
                          wait */
    const char *unproved; /**< why the valves next to the work of a double isolation are not proved
                               by themselves (P4); NULL = they are, or there are none */
    still_test_limit *limits; /**< what stands against the code's test pressure (P6) */
    uint32_t n_limits;
    uint32_t *order; /**< components of the barrier points in the order of operation */
    uint32_t n_order;
} still_procedure_notes;

/** Fill points, steps, restore, tests, start and end of a record of a feasible plan.
 *  @param record  other parts are read: targets, work, mass; all strings go to the arena
 *  @param site    NULL = none was given
 *  @return STILL_OK, STILL_E_NOMEM */
STILL_NODISCARD still_status still_procedure_make(still_record *record,
                                                  still_procedure_notes *notes, still_arena *arena,
                                                  const still_isolation *iso,
                                                  const still_rooms *rooms, const still_site *site,
                                                  const still_checklists *checklists);
/** Fill `start` alone: where something was found today otherwise than in the plant file. For plans
 *  that have no steps. @return STILL_OK, STILL_E_NOMEM */
STILL_NODISCARD still_status still_procedure_start(still_record *record, still_arena *arena,
                                                   const still_plant *plant,
                                                   const still_state *state);

#endif
