/** @file pack_pages.h  The pack on pages of paper.
 *
 *  Each page is a canvas (canvas.h) whose pixels are printer's points, so what stands where can be
 *  measured before anything is painted; the diagram is put on it as a picture of its own. */
#ifndef STILL_PACK_PAGES_H
#define STILL_PACK_PAGES_H

#include "pack.h"

#include "stillset/plan.h"

/** A page, with a picture on it or none. */
typedef struct still_ppage {
    still_canvas canvas;
    const still_canvas *inset; /**< borrowed; NULL = none */
    double inset_x, inset_y;   /**< its upper left corner, points */
    double inset_scale;        /**< points a pixel of it */
    const char *part;          /**< title of the part */
} still_ppage;

/** A bookmark. */
typedef struct still_pmark {
    const char *title;
    size_t page; /**< from 0 */
    bool part;   /**< of a part; else of a heading in it */
} still_pmark;

typedef struct still_ppages {
    still_ppage *items;
    size_t n, cap;
    still_pmark *marks;
    size_t n_marks, cap_marks;
} still_ppages;

/** Area that a sheet of the diagram may take, in mm. @param upright  else the paper lies on its
 * side
 */
void still_pack_sheet_area(still_paper paper, bool upright, double *width_mm, double *height_mm);

/** Set a pack on pages.
 *  @param[out] out  still_ppages_clear it in any case
 *  @param sheets    of the diagram, each no larger than still_pack_sheet_area; borrowed by `out`
 *  @param upright   they were made for paper that stands upright
 *  @return STILL_OK, STILL_E_NOMEM, STILL_E_INTERNAL (the library for the codes is missing)
 *  Cost: linear in the text, times the tries that the page for the decision needs (10 or so). */
STILL_NODISCARD still_status still_pack_set(still_ppages *out, const still_pack *p,
                                            still_paper paper, const still_canvas *sheets,
                                            size_t n_sheets, bool upright);
void still_ppages_clear(still_ppages *pages);

#endif
