/** @file shutin.h  What a plan shuts in, and what it cuts off from relief (L6, D4). */
#ifndef STILL_SHUTIN_H
#define STILL_SHUTIN_H

#include "arena.h"
#include "relief.h"
#include "warming.h"

/** A segment that a plan shuts in. Lists hold component numbers in the order of the plant file. */
typedef struct still_shut_in {
    uint32_t *ids, n_ids; /**< components and spools of the segment, without what shuts it in */
    uint32_t *closed_by, n_closed_by;
    uint32_t *covered_by, n_covered_by;
    uint32_t *conditions,
        n_conditions; /**< devices that must stay as they are for the cover to hold */
    bool inside;      /**< on the work side */
    bool full, covered;
    bool design_unknown;
    bool ends_at_limit;          /**< the drawing ends within it */
    double design_bar, open_bar; /**< of its worst piece; NAN, INFINITY = unknown, none */
    double volume_m3, mass_kg;   /**< NAN = unknown */
    still_warming warming;       /**< of all its contents together */
    uint32_t segment;            /**< its number in the state that was looked at */
    bool stays_below;            /**< not full, and below its design pressure up to ambient (L3) */
} still_shut_in;

/** List the segments with at least one closing device that the plan moved, and those in which a
 * pipe has lost its last cover (still_shut_in_count).
 *  @param before     relief before the first step, or NULL: only by what was moved
 *  @param relief     built with what the plan holds
 *  @param moved      by component: the plan changed its position to closed
 *  @param work_port  by port: on the work side
 *  @param ambient_K  highest temperature that it warms up to
 *  @param[out] out   arena memory, in the order of first port
 *  @return STILL_OK, STILL_E_NOMEM. Cost: linear in the plant. */
STILL_NODISCARD still_status still_shut_in_find(still_shut_in **out, size_t *n, still_arena *arena,
                                                const still_relief *before,
                                                const still_relief *relief, const uint8_t *moved,
                                                const uint8_t *work_port, double ambient_K);

/** Whether still_shut_in_find would list a segment with a piece that is not covered; without
 * numbers.
 *  @return STILL_OK, STILL_E_NOMEM. Cost: linear in the plant. */
STILL_NODISCARD still_status still_shut_in_any(bool *any, const still_relief *before,
                                               const still_relief *relief, const uint8_t *moved);

/** How many pipes full of liquid have lost their last cover between two states of one plant (L6):
 * each lies in a piece that is full and not covered, in a segment without vapour space, and had
 * cover or vapour space before.
 *  @param wet  by port: liquid can have come there; NULL = everywhere
 *  @return STILL_OK, STILL_E_NOMEM. Cost: linear in the plant. */
STILL_NODISCARD still_status still_shut_in_count(uint32_t *n_spools, const still_relief *before,
                                                 const still_relief *after, const uint8_t *wet);

/** Equipment (vessel, exchanger, pump, compressor) that holds fluid and loses its last relief path
 *  between two states of one plant (D4): component numbers ascending, arena memory.
 *  @return STILL_OK, STILL_E_NOMEM */
STILL_NODISCARD still_status still_relief_lost(uint32_t **out, size_t *n, still_arena *arena,
                                               const still_relief *before,
                                               const still_relief *after);
/** How many that are. */
uint32_t still_relief_lost_count(const still_relief *before, const still_relief *after);

#endif
