/** @file service.h  Equipment that stays in service: does it keep what supplies it, and what it
 *  delivers to (docs/METHOD.md, 3.9)? Inner header of api/. */
#ifndef STILL_API_SERVICE_H
#define STILL_API_SERVICE_H

#include "plant.h"
#include "state.h"
#include "stillset/status.h"

typedef struct still_in_service {
    const still_plant *plant;
    const still_state *state;
    const uint32_t *kept; /**< component numbers */
    size_t n_kept;
    uint8_t *waived; /**< by component: ends that they may lose, as was accepted by name */
    uint8_t *stays;  /**< by component: kept, or can't be switched off because of a kept one */
    uint32_t *met;   /**< by port: the last walk that met it */
    uint8_t *ends;   /**< by component: ends found by the walk today, and by that after */
    uint32_t *queue; /**< by port */
    uint32_t walk;
} still_in_service;

/** What a kept component loses. */
typedef struct still_service_loss {
    uint32_t kept, port;
    uint32_t end;  /**< vessel or limit that is not reached any more; STILL_NONE: `unknown` */
    bool delivers; /**< it is what it delivers to, not what supplies it */
    bool unknown;  /**< a way that may be in use is shut; a position that is not known decides */
} still_service_loss;

/** @param kept  borrowed
 *  @return STILL_OK, STILL_E_NOMEM. Clear in every case. */
STILL_NODISCARD still_status still_in_service_init(still_in_service *s, const still_plant *plant,
                                                   const still_state *state, const uint32_t *kept,
                                                   size_t n_kept);
void still_in_service_clear(still_in_service *s);
/** A kept component depends on the isolator of this feed. */
bool still_feed_stays_on(const still_in_service *s, uint32_t feed);
/** The first loss, in the order of kept components, ports, and supply before delivery.
 *  @param shut     by component: closed or taken out
 *  @param stopped  by component: without its feed, so that it passes nothing; NULL = none
 *  @param which    a kept component, or STILL_NONE: any
 *  @param[out] loss  what is lost
 *  @return whether something is lost. Cost: walks over what is joined to the kept components. */
bool still_service_lost(still_in_service *s, const uint8_t *shut, const uint8_t *stopped,
                        uint32_t which, still_service_loss *loss);

#endif
