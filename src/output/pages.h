/** @file pages.h  A picture of closed-in liquid on several pages (A3): an index, the plant cut into
 *  areas, one close-up for each gap.
 *
 *    pages_cut    cuts the plant into areas, each of which has room on a page
 *    pages_join   puts small areas together again, and numbers them
 *    pages_index  the pages that say what stands where
 *    pages_near   a close-up that has room on a page
 *    pages        the order of all of them, and each on a canvas
 *
 *  Where a pipe is cut, both pages show its stub and say where it goes on. A component with so many
 *  pipes that these have no room on one page stands on several, its sheets, each with a share of
 *  its pipes: each sheet is an area of its own. */
#ifndef STILL_PAGES_H
#define STILL_PAGES_H

#include "arena.h"
#include "canvas.h"
#include "output.h"
#include "plant.h"

#include "stillset/coverage.h"
#include "stillset/status.h"

/** Beyond so many components a plant is not cut into pages, and beyond so many gaps there are no
 *  close-ups among them. */
enum { STILL_PAGES_MOST = STILL_PICTURE_PAGES_MOST, STILL_PAGES_CLOSE_UPS = 100 };

typedef struct still_pages {
    const still_plant *plant;
    const still_coverage_record *cov;
    still_arena arena;
    uint32_t *area_of;   /**< by component, its first sheet; spools: STILL_NONE */
    uint32_t *port_area; /**< by port: the sheet on which it is, STILL_NONE = area_of */
    uint32_t n_areas;    /**< 0 = the plant has room on one page */
    uint32_t *order;     /**< components, area by area, in the order of the file */
    uint32_t *first;     /**< by area: its first in `order`; one more at the end */
    uint32_t *sheet;     /**< by area: 1, 2, … = that sheet of its component; 0 = whole ones */
    uint32_t *sheets;    /**< by area: of how many */
    uint32_t n_index;    /**< pages of the index, which come first; 0 = not known yet */
    uint32_t n_close;    /**< pages of close-ups, which come last */
    const char **names;  /**< of the areas */
    uint32_t *shown_on;  /**< areas that show a part of a segment, segment by segment */
    uint32_t *shown_at;  /**< by segment: its first in `shown_on`; one more at the end */

    /* What every page is drawn from (diagram.h): made once, since a page shows little of a large
     * plant. A page leaves it as it was. */
    uint8_t *mark, *role;
    uint32_t *part, *nth, *node_of;
} still_pages;

/** Cut a plant into pages.
 *  @param[out] out  in place, still_pages_clear in every case; borrows plant and record
 *  @return STILL_OK, STILL_E_NOMEM, STILL_E_INTERNAL (no layout could be made), STILL_E_UNSUPPORTED
 *          (more than STILL_PAGES_MOST components)
 *  Cost: a few layouts for each page. */
STILL_NODISCARD still_status still_pages_make(still_pages *out, const still_coverage_record *cov,
                                              const still_plant *plant);
void still_pages_clear(still_pages *pages);
/** How many pages: 1 where the plant is drawn as one picture. */
uint32_t still_pages_count(const still_pages *pages);
/** Draw page 1, 2, …, still_pages_count on an empty canvas. Not in two threads at once: all pages
 *  use the same memory.
 *  @return STILL_OK, STILL_E_NOMEM, STILL_E_INTERNAL */
STILL_NODISCARD still_status still_pages_draw(still_canvas *out, const still_pages *pages,
                                              uint32_t page);

/** Number of the page of an area. While pages are cut, one that takes as much room as any. */
uint32_t still_pages_of_area(const still_pages *pages, uint32_t area);
/** The area that shows a port. */
uint32_t still_pages_at_port(const still_pages *pages, uint32_t port);
/** Components of an area. */
uint32_t still_pages_size(const still_pages *pages, uint32_t area);
/** Whether a drawing has room on A3 with capitals of 2 mm. */
bool still_pages_on_a3(const still_canvas *c);
/** Cut the plant: fills all that says what stands on which area.
 *  @return STILL_OK, STILL_E_NOMEM, STILL_E_INTERNAL */
STILL_NODISCARD still_status still_pages_cut(still_pages *pages);
/** Draw components as an area (diagram.c). For a sheet: one component, with the ports that
 *  port_area gives to that area.
 *  @param list  components in the order of the file
 *  @return as still_pages_draw */
STILL_NODISCARD still_status still_diagram_area(still_canvas *out, const still_pages *pages,
                                                uint32_t area, const uint32_t *list, size_t n);
/** Draw a gap close up, with as much around it as has room on the page; one that has none itself
 *  in words, with the pages of its areas. @return as still_pages_draw */
STILL_NODISCARD still_status still_pages_near(still_canvas *out, const still_pages *pages,
                                              uint32_t segment);
/** Pages that the index takes, and one of them, 1, 2, … */
uint32_t still_pages_index_size(const still_pages *pages);
STILL_NODISCARD still_status still_pages_index(still_canvas *out, const still_pages *pages,
                                               uint32_t number);

#endif
