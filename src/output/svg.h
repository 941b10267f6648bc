/** @file svg.h  Writing SVG: shapes and text, escaped and locale-independent.
 *
 *  Looks are classes of the page's own style sheet (diagram_page.c). */
#ifndef STILL_SVG_H
#define STILL_SVG_H

#include "strbuf.h"

#include <stdint.h>

/** Append text as character data or attribute value: cleaned (glyph.h) and escaped. */
void still_svg_escape(still_buf *out, const char *s);
/** Width of a text in pixels at a font size. Never too small for fonts up to the width of a bold
 *  DejaVu Sans, one of the widest in use, so that room kept by it is enough. */
double still_svg_width(const char *s, double size);

void still_svg_line(still_buf *out, const char *cls, double x1, double y1, double x2, double y2);
void still_svg_rect(still_buf *out, const char *cls, double x, double y, double w, double h,
                    double radius);
void still_svg_circle(still_buf *out, const char *cls, double x, double y, double r);
/** A path whose data is given in whole numbers around (x, y), mirrored left to right if asked. */
void still_svg_shape(still_buf *out, const char *cls, double x, double y, bool mirrored,
                     const char *data);
/** Text with its baseline at y. `anchor`: "start", "middle", "end". */
void still_svg_text(still_buf *out, const char *cls, double x, double y, double size,
                    const char *anchor, const char *s);

#endif
