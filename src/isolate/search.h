/** @file search.h  The best labelling for which all that a cut cannot say holds, too.
 *
 *  Best first over cases. Each case has a least labelling (layers.h); if it breaks a condition
 *  (position of a three-way valve, a feed that it needs, a bleed, D4), the case is split into cases
 *  that together hold every labelling of it that meets the condition (docs/METHOD.md, 3.4). */
#ifndef STILL_SEARCH_H
#define STILL_SEARCH_H

#include "arena.h"
#include "layers.h"

/** Cases, at most so many to avoid a breach of D4. */
#define STILL_SEARCH_LIMIT_D4 200

/** What only the caller can judge of a choice: D4, equipment to be kept in service. Points and
 *  positions are given as component numbers.
 *  @param[out] culprits  room for n_points: points (their places in the list) of which at least one
 *                        must go; *n_culprits = 0: nothing is wrong
 *  @param[out] must      true: a choice with such a fault is none; false: it only ranks behind
 *  @return STILL_OK, STILL_E_NOMEM */
typedef struct still_judge {
    still_status (*look)(void *arg, const still_zone *zone, const uint8_t *label,
                         const uint32_t *points, uint32_t n_points, uint32_t *culprits,
                         uint32_t *n_culprits, bool *must);
    void *arg;
} still_judge;

typedef struct still_search {
    bool feasible;
    still_labelling best;
    uint8_t *position; /**< by device: three-way points: 1 + position */
    bool breach; /**< D4: no choice as good in sources and points avoids it, or none was found */
    uint64_t root_bound;  /**< what the first cut proves */
    uint64_t lower_bound; /**< cost below which nothing was left out, in these sources */
    uint64_t nodes;
    bool complete;      /**< sources and points are proven least */
    bool complete_ties; /**< D4, mass and ids are settled too */
    bool judged_out;    /**< some choice was none, by the caller's judgement */
    still_network root; /**< network and flow of the first case */
    bool root_feasible;
} still_search;

/** @param judge  NULL = nothing more to look at
 *  @return STILL_OK, STILL_E_NOMEM, STILL_E_INTERNAL. Clear in every case. */
STILL_NODISCARD still_status still_search_run(still_search *s, still_layers *layers,
                                              const still_judge *judge);
void still_search_clear(still_search *s);

#endif
