/** @file asked.h  Which grade of isolation is asked, and where (I2, I3). */
#ifndef STILL_ASKED_H
#define STILL_ASKED_H

#include "plant.h"
#include "state.h"
#include "stillset/plan.h"
#include "targets.h"

/** One grade for all, or one a region: what stays joined when everything but the opened is joined.
 */
typedef struct still_asked {
    still_grade grade;      /**< for all; with by_port: the highest */
    const uint8_t *by_port; /**< by port: still_grade; NULL = the same everywhere */
    const uint8_t *stays;   /**< by component: must stay outside, and switched on (METHOD 3.9); NULL
                               = none */
    bool bleed_work;        /**< single-bleed is asked somewhere: the space of the work is bled */
    bool bleed_between;     /**< double-bleed is asked somewhere */
} still_asked;

/** Grade asked of what is at a port. */
static inline still_grade still_asked_at(const still_asked *asked, uint32_t port)
{
    return asked->by_port == NULL ? asked->grade : (still_grade)asked->by_port[port];
}
/** Closed devices that a path must cross at least: 1 or 2. */
static inline uint8_t still_grade_layers(still_grade grade)
{
    return grade == STILL_GRADE_SINGLE || grade == STILL_GRADE_SINGLE_BLEED ? 1 : 2;
}
/** The same grade everywhere. */
static inline still_asked still_asked_everywhere(still_grade grade)
{
    return (still_asked){.grade = grade,
                         .bleed_work = grade == STILL_GRADE_SINGLE_BLEED,
                         .bleed_between = grade == STILL_GRADE_DOUBLE_BLEED};
}

/** Number of the region of each port, from 1; 0 = an opened port.
 *  @param[out] region  by port, room for plant->n_ports entries
 *  @return STILL_OK, STILL_E_NOMEM. Cost: linear in the plant. */
STILL_NODISCARD still_status still_regions_find(uint32_t *region, uint32_t *n,
                                                const still_plant *plant,
                                                const still_targets *targets);

#endif
