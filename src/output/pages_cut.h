/** @file pages_cut.h  What the files that cut a plant into pages share. */
#ifndef STILL_PAGES_CUT_H
#define STILL_PAGES_CUT_H

#include "pages.h"

/** Groups of more components are cut without being laid out: never one had room. */
enum { STILL_PAGES_TRIED = 90 };

/** A component that stands on several sheets: areas `first`, first + 1, … */
typedef struct still_pages_split {
    uint32_t comp, first, n;
} still_pages_split;

typedef struct still_pages_cutter {
    still_pages *p;
    uint32_t *group; /**< all components, group by group: a group is a stretch of it */
    uint32_t *queue, *dist;
    uint8_t *side; /**< 0 = not in this group, 1, 2; 3 = not reached yet */
    bool by_place;
    still_pages_split *splits;
    size_t n_splits, cap_splits;
} still_pages_cutter;

/** Component behind a port, or STILL_NONE. */
uint32_t still_pages_beyond(const still_plant *plant, uint32_t port);
/** What it costs to cut the pipe at a port. */
int64_t still_pages_weight(const still_pages_cutter *w, uint32_t port);
/** Do components have room on a page? @param list  is put in the order of the file
 *  @return STILL_OK, STILL_E_NOMEM, STILL_E_INTERNAL */
STILL_NODISCARD still_status still_pages_room(bool *fits, const still_pages_cutter *w,
                                              uint32_t *list, uint32_t n);
/** Put areas together where both have room on one page, and number what is left in the order of
 *  the plant file. @return as still_pages_room */
STILL_NODISCARD still_status still_pages_join(still_pages_cutter *w);

#endif
