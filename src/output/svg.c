#include "svg.h"

#include "glyph.h"
#include "number.h"

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

static void attribute(still_buf *out, const char *name, double x)
{
    still_buf_printf(out, " %s=\"", name);
    still_number_coord(out, x);
    still_buf_char(out, '"');
}

static void colour(still_buf *out, const char *name, uint32_t rgb)
{
    if (rgb == STILL_NO_COLOUR)
        still_buf_printf(out, "%s:none;", name);
    else
        still_buf_printf(out, "%s:#%06x;", name, (unsigned)rgb);
}

static void length(still_buf *out, const char *name, double x)
{
    still_buf_add(out, name);
    still_number_coord(out, x);
}

/** Looks of charts stand in charts only. */
static bool is_used(const still_canvas *c, still_look look)
{
    bool used = look < STILL_LOOK_GRID;
    for (size_t i = 0; i < c->n_prims && !used; i++)
        used = c->prims[i].look == look && c->prims[i].kind <= STILL_PRIM_TEXT;
    return used;
}

static void style(still_buf *out, const still_canvas *c)
{
    still_buf_add(out, "<style>\ntext{font-family:'DejaVu Sans',Verdana,sans-serif;"
                       "text-rendering:geometricPrecision}\npath{stroke-linejoin:round}\n");
    for (int i = 0; i < STILL_LOOK_COUNT; i++) {
        const still_look_row *look = still_look_of((still_look)i);
        if (!is_used(c, (still_look)i)) continue;
        still_buf_printf(out, ".%s{", look->name);
        colour(out, "fill", look->fill);
        if (look->stroke != STILL_NO_COLOUR) {
            colour(out, "stroke", look->stroke);
            length(out, "stroke-width:", look->width);
            if (look->round) still_buf_add(out, ";stroke-linecap:round");
            if (look->dash_on > 0.0) {
                length(out, ";stroke-dasharray:", look->dash_on);
                length(out, " ", look->dash_off);
            }
        }
        if (look->bold) still_buf_add(out, "font-weight:bold");
        still_buf_add(out, "}\n");
    }
    still_buf_add(out, "</style>\n");
}

static void path(still_buf *out, const still_canvas *c, const still_prim *p)
{
    if (p->n == 0) return;
    still_buf_printf(out, "<path class=\"%s\" d=\"", still_look_of(p->look)->name);
    for (size_t i = 0; i < p->n; i++) {
        const still_pstep *s = &c->steps[p->first + i];
        still_buf_char(out, s->op);
        if (s->op == 'Z') continue;
        for (int k = s->op == 'C' ? 0 : 2; k < 3; k++) {
            still_number_coord(out, s->x[k]);
            still_buf_char(out, ' ');
            still_number_coord(out, s->y[k]);
            if (k < 2) still_buf_char(out, ' ');
        }
    }
    still_buf_add(out, "\"/>\n");
}

static void text(still_buf *out, const still_canvas *c, const still_prim *p)
{
    static const char *const anchors[] = {"start", "middle", "end"};
    still_buf_printf(out, "<text class=\"%s\" text-anchor=\"%s\"", still_look_of(p->look)->name,
                     anchors[p->anchor]);
    attribute(out, "x", p->x);
    attribute(out, "y", p->y);
    attribute(out, "font-size", p->size);
    still_buf_char(out, '>');
    still_svg_escape(out, still_prim_text(c, p));
    still_buf_add(out, "</text>\n");
}

/** @param mark  what its ids begin with */
static void head(still_buf *out, const still_canvas *c, const char *mark)
{
    still_buf_add(out, "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"");
    still_number_coord(out, c->width_mm);
    still_buf_add(out, "mm\" height=\"");
    still_number_coord(out, c->height_mm);
    still_buf_add(out, "mm\" viewBox=\"0 0 ");
    still_number_coord(out, c->width);
    still_buf_char(out, ' ');
    still_number_coord(out, c->height);
    still_buf_printf(out, "\" role=\"img\" aria-labelledby=\"%st %sd\">\n<title id=\"%st\">", mark,
                     mark, mark);
    still_svg_escape(out, c->title.text != NULL ? c->title.text : "");
    still_buf_printf(out, "</title>\n<desc id=\"%sd\">", mark);
    still_svg_escape(out, c->desc.text != NULL ? c->desc.text : "");
    still_buf_add(out, "</desc>\n");
}

void still_svg_canvas(still_buf *out, const still_canvas *c)
{
    still_buf_add(out, "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n");
    still_svg_inside(out, c, "");
}

void still_svg_inside(still_buf *out, const still_canvas *c, const char *mark)
{
    if (c->failed || c->texts.failed || c->title.failed || c->desc.failed) out->failed = true;
    if (out->failed) return;
    head(out, c, mark);
    style(out, c);
    for (size_t i = 0; i < c->n_prims; i++) {
        const still_prim *p = &c->prims[i];
        switch (p->kind) {
        case STILL_PRIM_PATH: path(out, c, p); break;
        case STILL_PRIM_TEXT: text(out, c, p); break;
        case STILL_PRIM_OPEN:
            still_buf_add(out, "<g>\n<title>");
            still_svg_escape(out, still_prim_text(c, p));
            still_buf_add(out, "</title>\n");
            break;
        case STILL_PRIM_CLOSE: still_buf_add(out, "</g>\n"); break;
        }
    }
    still_buf_add(out, "</svg>\n");
}
