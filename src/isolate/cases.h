

/** @file cases.h  Cases of a search: what is open, and how one is split.
 *
 *  Inner header of the search (search.h). A case that breaks a condition is split into children
 *  that together hold all of its labellings that meet the condition, and not the one in hand. */
#ifndef STILL_CASES_H
#define STILL_CASES_H

#include "bleed.h"
#include "bleedways.h"
#include "search.h"

/** A case and its least labelling. */
typedef struct still_open_case {
    still_case c;
    still_labelling l;
    bool for_d4; /**< split off to avoid a breach */
} still_open_case;

/** What a split has brought: how much dearer the cheapest child is. At most this much counts; so
 *  does one more source inside, and a split that leaves no child. */
#define STILL_GREAT_RISE 1000

typedef struct still_run {
    still_search *s;
    still_layers *layers;
    const still_judge *judge;
    still_bleeds bleeds;
    still_bleed_ways ways;
    still_open_case *heap; /**< the best first */
    size_t n_heap, heap_cap;
    uint64_t n_d4;
    still_open_case breached; /**< the best labelling that breaks D4 only */
    bool has_breached;
    uint32_t *points, *culprits; /**< of the labelling in hand */
    uint32_t n_culprits;
    uint32_t *gain; /**< by piece: what splits of gaps there have brought, in thousandths */
    uint64_t parent_bound;
    uint32_t parent_sources;
    uint32_t least; /**< least rise by a child of the split in hand */
    bool diving;    /**< past the limit: any choice that holds */
    bool gathering; /**< children are not solved, only added to what is open, in no order */
} still_run;

/** @return STILL_OK, STILL_E_NOMEM. Clear in every case. */
STILL_NODISCARD still_status still_run_init(still_run *r, still_search *s, still_layers *layers,
                                            const still_judge *judge);
void still_run_clear(still_run *r);
/** What bleeds ask of all cases, where they are asked. @return STILL_OK, STILL_E_NOMEM */
STILL_NODISCARD still_status still_run_bleeds(still_run *r, still_case *root);

typedef enum still_outcome {
    STILL_OUTCOME_SPLIT, /**< it breaks a condition: the case was split */
    STILL_OUTCOME_HOLDS,
    STILL_OUTCOME_BREACH /**< it holds, but takes a last relief path (D4): r->culprits */
} still_outcome;
/** Look at a solved case. @return STILL_OK, STILL_E_NOMEM, STILL_E_INTERNAL */
STILL_NODISCARD still_status still_case_examine(still_run *r, const still_open_case *o,
                                                still_outcome *outcome);

void still_open_case_clear(still_open_case *o);
/** @return false when memory is out; the case then still belongs to the caller */
bool still_cases_push(still_run *r, const still_open_case *o);
/** The same, in no order. */
bool still_cases_add(still_run *r, const still_open_case *o);
/** The best open case; there must be one. */
still_open_case still_cases_pop(still_run *r);
/** Write into a case what its bleeds ask for sure. */
void still_case_settle(const still_run *r, still_case *c, const still_bleed_ties *ties);
/** Solve a case and add it to what is open; one without a labelling is dropped. Takes it over. */
STILL_NODISCARD still_status still_case_solve(still_run *r, still_case *c, bool for_d4);

/** A split in the making. `base` holds restrictions that all further children keep. */
typedef struct still_split {
    still_run *r;
    still_case base;
    bool for_d4;
    still_status status; /**< once it is an error nothing more is done */
} still_split;

still_split still_split_begin(still_run *r, const still_open_case *from, bool for_d4);
/** @return what went wrong on the way, if anything */
STILL_NODISCARD still_status still_split_end(still_split *s);
/** The same, with all that is left as a last child. */
STILL_NODISCARD still_status still_split_end_with_rest(still_split *s);
/** A copy of the base, to be restricted and handed to still_split_finish. */
still_case still_split_child(still_split *s);
void still_split_finish(still_split *s, still_case *c);

/* Children by one restriction: */
void still_split_alike(still_split *s, uint32_t device); /**< the device is no point */
void still_split_locked(still_split *s, uint32_t isolator);
/** The labels of a piece within limits; nothing if it can have one only. */
void still_split_labels(still_split *s, uint32_t piece, uint8_t low, uint8_t high);
/** Closed with label 1 on all sides: it parts a dead space, in which `dead` lies, from the piece
 *  `live`. Of a three-way valve, in each position that does. */
void still_split_extra(still_split *s, uint32_t device, uint32_t dead, uint32_t live);
/** Children that give a piece another label; all further ones keep it. @return false: they can't */
bool still_split_hold(still_split *s, uint32_t piece, uint8_t label);

/** The position in which a three-way valve has just these labels.
 *  @param settled  1 + position that the case has settled, or 0. @return 1 + position, 0 = none */
uint8_t still_three_way_position(const still_zone *zone, const still_device *d,
                                 const uint8_t *label, uint8_t settled);
/** The position of a three-way point: one that parts a space stands as the bleeds were looked at
 *  with it, any other as its labels have it. @return 1 + position, 0 = none */
uint8_t still_three_way_stands(const still_zone *zone, const still_open_case *o, uint32_t device);
/** The same by device, 0 where no three-way point is. @return the caller's; NULL: no memory */
uint8_t *still_three_ways_stand(const still_zone *zone, const still_open_case *o);
/** @return a three-way point that no position makes, or STILL_NONE */
uint32_t still_odd_three_way(const still_run *r, const still_open_case *o);
STILL_NODISCARD still_status still_split_three_way(still_run *r, const still_open_case *o,
                                                   uint32_t device);
/** The labelling needs an isolator that the cut did not pay. */
STILL_NODISCARD still_status still_split_feed(still_run *r, const still_open_case *o);

/** Look for a compartment without a bleed: r->bleeds.gap, and what else is noted there; of several
 *  between, the one whose splits have brought most. @param[out] which  its label */
STILL_NODISCARD still_status still_gap_find(still_run *r, const still_open_case *o, uint8_t *which);
/** Split the case at the gap that was found. */
STILL_NODISCARD still_status still_gap_split(still_run *r, const still_open_case *o, uint8_t which);
/** Something lies further out than its label says, and a point does not hold against it (D7).
 *  @param[out] found  the case was split */
STILL_NODISCARD still_status still_split_further_out(still_run *r, const still_open_case *o,
                                                     bool *found);

#endif
