/** @file remedy_try.h  Inner parts of remedy.c: one candidate, tried. */
#ifndef STILL_REMEDY_TRY_H
#define STILL_REMEDY_TRY_H

#include "remedy.h"

/** The state after a plan, and room to try changes of it. */
typedef struct still_trial {
    const still_relief *after;
    const uint8_t *work_port;
    double ambient_K;
    uint8_t *held;             /**< what is held in the state that is tried; reset after each */
    uint32_t *comp0, *comp_at; /**< components (no spools) with a port at piece p:
                                    comp_at[comp0[p]] … comp_at[comp0[p + 1] - 1] */
    double *level;             /**< by port, for still_trial_empties */
    uint32_t *queue;
    uint8_t *queued;
    unsigned tries;
} still_trial;

/** A state that was tried. */
typedef struct still_tried {
    uint32_t segment;     /**< of the new state, with all pieces of the segment in it */
    bool covered;         /**< each of its pieces has cover by L2 */
    bool pressures_known; /**< the normal pressure of all that is joined is known, and none is
                               above the lowest design pressure there */
    uint32_t receiver;    /**< low-pressure vessel with vapour space in it, or STILL_NONE */
    bool may_leak_out;    /**< an outlet not said to be capped was joined to it */
    bool source_joined;   /**< a vessel that is not empty, a pump, a compressor, a limit or a port
                               joined to nothing was */
} still_tried;

/** @return STILL_OK, STILL_E_NOMEM. Clear in every case. */
STILL_NODISCARD still_status still_trial_build(still_trial *trial, const still_relief *after,
                                               const uint8_t *work_port, double ambient_K);
void still_trial_clear(still_trial *trial);

/** Cover of the pieces of `segment` (of trial->after) in the state of trial->held.
 *  @return STILL_OK, STILL_E_NOMEM */
STILL_NODISCARD still_status still_trial_run(still_tried *out, still_trial *trial,
                                             uint32_t segment);

/** A hand stop valve that a person can open and leave open: sound, not sealed closed, no point. */
bool still_trial_openable(const still_trial *trial, uint32_t comp);
/** More than pipework: a source, a vessel, an exchanger, a pump, where the drawing ends. */
bool still_trial_pipework(const still_trial *trial, uint32_t piece);
/** Vapour of what the segment holds stays at or below its lowest design pressure up to ambient,
 *  however much liquid is left to boil; false where that is not known. */
bool still_trial_vapour_holds(const still_trial *trial, const still_shut_in *s);
/** All liquid of a segment, with the pieces of `chain` behind the devices held open, runs down to a
 *  port (E3): elevations known throughout, no pocket, no vessel. */
bool still_trial_empties(still_trial *trial, uint32_t segment, const uint32_t *chain, size_t n,
                         uint32_t port);

#endif
