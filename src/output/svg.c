#include "svg.h"

#include "glyph.h"
#include "number.h"

#include <string.h>

void still_svg_escape(still_buf *out, const char *s)
{
    still_buf clean = STILL_BUF_INIT;
    still_glyph_clean(&clean, s);
    if (clean.failed) out->failed = true;
    for (size_t i = 0; !clean.failed && i < clean.len; i++) {
        switch (clean.text[i]) {
        case '<': still_buf_add(out, "&lt;"); break;
        case '>': still_buf_add(out, "&gt;"); break;
        case '&': still_buf_add(out, "&amp;"); break;
        case '"': still_buf_add(out, "&quot;"); break;
        default: still_buf_char(out, clean.text[i]);
        }
    }
    still_buf_clear(&clean);
}

double still_svg_width(const char *s, double size)
{
    /* Advance widths of DejaVu Sans Bold for U+0020 to U+007E, in hundredths of the font size. */
    static const uint8_t ascii[] = {
        35, 46,  52, 84, 70, 100, 87, 31,  46, 46, 52, 84, 38, 42,  38, 37, 70, 70,  70,
        70, 70,  70, 70, 70, 70,  70, 40,  40, 84, 84, 84, 58, 100, 77, 76, 73, 83,  68,
        68, 82,  84, 37, 37, 77,  64, 100, 84, 85, 73, 85, 77, 72,  68, 81, 77, 110, 77,
        72, 73,  46, 37, 46, 84,  50, 50,  67, 72, 59, 72, 68, 44,  72, 71, 34, 34,  67,
        34, 104, 71, 69, 72, 72,  49, 60,  48, 71, 65, 92, 65, 65,  58, 71, 37, 71,  84};
    double width = 0.0;
    while (*s != '\0') {
        uint32_t cp;
        s += still_glyph_next(s, &cp);
        if (cp >= 0x20 && cp < 0x7F)
            width += (double)ascii[cp - 0x20];
        else
            width += still_glyph_columns(cp) == 2 ? 115.0 : 100.0;
    }
    return width * size / 100.0;
}

static void attribute(still_buf *out, const char *name, double x)
{
    still_buf_printf(out, " %s=\"", name);
    still_number_coord(out, x);
    still_buf_char(out, '"');
}

void still_svg_line(still_buf *out, const char *cls, double x1, double y1, double x2, double y2)
{
    still_buf_printf(out, "<line class=\"%s\"", cls);
    attribute(out, "x1", x1);
    attribute(out, "y1", y1);
    attribute(out, "x2", x2);
    attribute(out, "y2", y2);
    still_buf_add(out, "/>\n");
}

void still_svg_rect(still_buf *out, const char *cls, double x, double y, double w, double h,
                    double radius)
{
    still_buf_printf(out, "<rect class=\"%s\"", cls);
    attribute(out, "x", x);
    attribute(out, "y", y);
    attribute(out, "width", w);
    attribute(out, "height", h);
    if (radius > 0.0) attribute(out, "rx", radius);
    still_buf_add(out, "/>\n");
}

void still_svg_circle(still_buf *out, const char *cls, double x, double y, double r)
{
    still_buf_printf(out, "<circle class=\"%s\"", cls);
    attribute(out, "cx", x);
    attribute(out, "cy", y);
    attribute(out, "r", r);
    still_buf_add(out, "/>\n");
}

void still_svg_shape(still_buf *out, const char *cls, double x, double y, bool mirrored,
                     const char *data)
{
    still_buf_printf(out, "<path class=\"%s\" transform=\"translate(", cls);
    still_number_coord(out, x);
    still_buf_char(out, ' ');
    still_number_coord(out, y);
    still_buf_printf(out, ")%s\" d=\"%s\"/>\n", mirrored ? " scale(-1 1)" : "", data);
}

void still_svg_text(still_buf *out, const char *cls, double x, double y, double size,
                    const char *anchor, const char *s)
{
    if (s[0] == '\0') return;
    still_buf_printf(out, "<text class=\"%s\" text-anchor=\"%s\"", cls, anchor);
    attribute(out, "x", x);
    attribute(out, "y", y);
    attribute(out, "font-size", size);
    still_buf_char(out, '>');
    still_svg_escape(out, s);
    still_buf_add(out, "</text>\n");
}
