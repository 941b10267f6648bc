/** @file paint.h  A canvas as PNG or PDF. The only code that knows cairo and Pango, which are
 *  loaded when first asked for: linking them would cost every start of the program. */
#ifndef STILL_PAINT_H
#define STILL_PAINT_H

#include "canvas.h"

#include "stillset/status.h"

/** Append the canvas as a PNG of 150 dots per inch (fewer where it would be wider or higher than
 *  12,000 dots), in every locale the same.
 *  @return STILL_OK, STILL_E_NOMEM, STILL_E_INTERNAL (a library is missing or failed) */
STILL_NODISCARD still_status still_paint_png(still_buf *out, const still_canvas *c);
/** Append the canvas as a PDF of one page, with text as text and the fonts in it. It holds no
 *  date. @return as still_paint_png */
STILL_NODISCARD still_status still_paint_pdf(still_buf *out, const still_canvas *c);
struct still_pages;
/** All pages of pages.h, each of its own size. @return as still_paint_png */
STILL_NODISCARD still_status still_paint_pdf_pages(still_buf *out, const struct still_pages *pages);
struct still_ppages;
struct still_pack;
/** The pages of a pack, with bookmarks and metadata. @return as still_paint_png */
STILL_NODISCARD still_status still_paint_pdf_pack(still_buf *out, const struct still_ppages *pages,
                                                  const struct still_pack *pack);
/** For tests: width that the text engine gives to a text in pixels. @return as still_paint_png */
STILL_NODISCARD still_status still_paint_measure(double *width, const char *s, double size,
                                                 bool bold);

#endif
