/** @file svg.h  A canvas as SVG, and as the text inside it. */
#ifndef STILL_SVG_H
#define STILL_SVG_H

#include "canvas.h"

/** Append the canvas as an SVG page of its own: escaped, in every locale the same, no link to
 *  anything outside. Looks are classes of a style sheet. Fails by out->failed. */
void still_svg_canvas(still_buf *out, const still_canvas *c);
/** The same to stand inside an HTML page: no first line of XML.
 *  @param mark  what its ids begin with, so that several can stand in one page */
void still_svg_inside(still_buf *out, const still_canvas *c, const char *mark);
/** Append text as character data or attribute value: cleaned (glyph.h) and escaped. */
void still_svg_escape(still_buf *out, const char *s);

#endif
