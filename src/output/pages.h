/** @file pages.h  A picture of closed-in liquid on several pages (A3): an index, the plant cut into
 *  areas, one close-up for each gap.
 *
 *    pages_cut    cuts the plant into areas, each of which has room on a page
 *    pages_index  the pages that say what stands where
 *    pages        the order of all of them, and each on a canvas
 *
 *  Where a pipe is cut, both pages show its stub and say where it goes on. */
#ifndef STILL_PAGES_H
#define STILL_PAGES_H

#include "arena.h"
#include "canvas.h"
#include "plant.h"

#include "stillset/coverage.h"
#include "stillset/status.h"

/** Beyond so many components a plant is not cut into pages, and beyond so many gaps there are no
 *  close-ups among them. */
enum { STILL_PAGES_MOST = 20000, STILL_PAGES_CLOSE_UPS = 100 };

typedef struct still_pages {
    const still_plant *plant;
    const still_coverage_record *cov;
    still_arena arena;
    uint32_t *area_of;  /**< by component; spools: STILL_NONE */
    uint32_t n_areas;   /**< 0 = the plant has room on one page, or is too large */
    uint32_t n_index;   /**< pages of the index, which come first; 0 = not known yet */
    uint32_t n_close;   /**< pages of close-ups, which come last */
    const char **names; /**< of the areas */
    uint32_t *sizes;    /**< components of the areas */
} still_pages;

/** Cut a plant into pages.
 *  @param[out] out  in place, still_pages_clear in every case; borrows plant and record
 *  @return STILL_OK, STILL_E_NOMEM, STILL_E_INTERNAL (no layout could be made)
 *  Cost: a few layouts for each page. */
STILL_NODISCARD still_status still_pages_make(still_pages *out, const still_coverage_record *cov,
                                              const still_plant *plant);
void still_pages_clear(still_pages *pages);
/** How many pages: 1 where the plant is drawn as one picture. */
uint32_t still_pages_count(const still_pages *pages);
/** Draw page 1, 2, …, still_pages_count on an empty canvas.
 *  @return STILL_OK, STILL_E_NOMEM, STILL_E_INTERNAL */
STILL_NODISCARD still_status still_pages_draw(still_canvas *out, const still_pages *pages,
                                              uint32_t page);

/** Number of the page of an area. While pages are cut, one that takes as much room as any. */
uint32_t still_pages_of_area(const still_pages *pages, uint32_t area);
/** Whether a drawing has room on A3 with capitals of 2 mm. */
bool still_pages_on_a3(const still_canvas *c);
/** Cut the plant: fills area_of, n_areas. @return STILL_OK, STILL_E_NOMEM, STILL_E_INTERNAL */
STILL_NODISCARD still_status still_pages_cut(still_pages *pages);
/** Draw the area that stands in area_of (diagram.c). @return as still_pages_draw */
STILL_NODISCARD still_status still_diagram_area(still_canvas *out, const still_pages *pages,
                                                uint32_t area);
/** Pages that the index takes, and one of them, 1, 2, … */
uint32_t still_pages_index_size(const still_pages *pages);
STILL_NODISCARD still_status still_pages_index(still_canvas *out, const still_pages *pages,
                                               uint32_t number);

#endif
