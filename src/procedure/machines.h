/** @file machines.h  Pumps and compressors that would run against a closed way (P9). */
#ifndef STILL_MACHINES_H
#define STILL_MACHINES_H

#include "plant.h"
#include "state.h"
#include "stillset/status.h"

/** Ways of a machine, as bits: from the outlet, to the inlet; with all that may be open open
 *  (self-acting, driven, of unknown position), and with it shut. */
enum {
    STILL_WAY_OUT_OPEN = 1,
    STILL_WAY_OUT_SHUT = 2,
    STILL_WAY_IN_OPEN = 4,
    STILL_WAY_IN_SHUT = 8
};

typedef struct still_machines {
    const still_plant *plant;
    const still_state *state;
    uint32_t *comps; /**< pumps and compressors, ascending */
    uint8_t *before; /**< by machine: ways before the first move */
    uint32_t n;
    uint32_t *queue; /**< by port, for the walks */
    uint8_t *seen;
} still_machines;

/** @return STILL_OK, STILL_E_NOMEM. Clear in every case. Cost: a walk for each machine, until a
 *          vessel or a limit is met. */
STILL_NODISCARD still_status still_machines_build(still_machines *machines,
                                                  const still_plant *plant,
                                                  const still_state *state);
void still_machines_clear(still_machines *machines);

/** Ways of machine i that it had before the first move and has no more.
 *  @param held     by component: what the moves hold (relief.h)
 *  @param stopped  by component: machines that cannot run, devices without supply: they pass
 * nothing; NULL = no other machine passes anything */
uint8_t still_machines_lost(still_machines *machines, uint32_t i, const uint8_t *held,
                            const uint8_t *stopped);

#endif
