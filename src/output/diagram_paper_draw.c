/* Sheets of paper: a line that says what it is, the drawing, and signs where there is room. */
#include "diagram.h"

#include <math.h>
#include <stdio.h>

/** Height of the line at the top, margins, and the largest type: capitals of 3 mm. */
#define LINE 26.0
#define PAD 6.0
#define MOST_MM (STILL_DIAGRAM_LEAST_MM * 1.5)

/** Length of a pixel with which a drawing and what stands below it fill a sheet. */
static double scale_with(const still_dia *d, const still_dleaf *leaf, double below)
{
    return fmin(leaf->width_mm / (d->width + 2.0 * PAD),
                leaf->height_mm / (LINE + d->height + below + 2.0 * PAD));
}

double still_diagram_leaf_scale(const still_dia *d, const still_dleaf *leaf)
{
    return fmin(MOST_MM, scale_with(d, leaf, 0.0));
}

/** Verdict, number of the sheet, target: in this order, since the end may be cut off. */
static void top_line(still_canvas *out, const still_dia *d, const still_dleaf *leaf, double size)
{
    still_buf text = STILL_BUF_INIT;
    if (d->r->feasible && d->left_out > 0) still_say(&text, d->r->messages, "NOT ALL IS DRAWN - ");
    still_diagram_verdict(&text, d->r);
    still_say(&text, d->r->messages, " - sheet %u of %u - work on ", leaf->number, leaf->of);
    still_diagram_targets(&text, d->r);
    if (text.failed) out->failed = true;
    if (!text.failed)
        still_canvas_fitted(out, STILL_LOOK_ID, PAD, PAD + size, size, out->width - 2.0 * PAD,
                            text.text);
    still_buf_clear(&text);
}

static void page_of(still_canvas *out, const still_dia *d, const still_dleaf *leaf, double mm,
                    double height)
{
    out->width = leaf->width_mm / mm;
    out->height = height;
    out->width_mm = leaf->width_mm;
    out->height_mm = fmin(leaf->height_mm, height * mm);
    out->layer = STILL_LAYER_PAGE;
    out->owner = STILL_NONE;
    still_diagram_describe(out, d);
    still_canvas_rect(out, STILL_LOOK_BLANK, 0.0, 0.0, out->width, out->height, 0.0);
}

void still_diagram_leaf(still_canvas *out, const still_dia *d, const still_dleaf *leaf)
{
    double mm = still_diagram_leaf_scale(d, leaf), below = 0.0;
    /* Signs need room of their own width and height, at a size of type that can still be read. */
    for (double with = mm; with >= STILL_DIAGRAM_LEAST_MM && !(below > 0.0); with *= 0.99) {
        double h =
            8.0 + still_diagram_signs(out, d, 0.0, 0.0, leaf->width_mm / with - 2.0 * PAD, true);
        if (scale_with(d, leaf, h) < with) continue;
        below = h;
        mm = with;
    }
    page_of(out, d, leaf, mm, LINE + d->height + below + 2.0 * PAD);
    top_line(out, d, leaf, STILL_TYPE_ID);
    out->x0 = round((out->width - d->width) / 2.0);
    out->y0 = LINE + PAD;
    still_diagram_draw(out, d);
    out->x0 = out->y0 = 0.0;
    if (below > 0.0)
        (void)still_diagram_signs(out, d, PAD, LINE + PAD + d->height + 8.0, out->width - 2.0 * PAD,
                                  false);
}

/** True where no text stands yet, flags around them included. */
static bool is_free(const still_canvas *out, double x0, double y0, double x1, double y1)
{
    for (size_t i = 0; i < out->n_prims; i++) {
        const still_prim *p = &out->prims[i];
        if (p->kind != STILL_PRIM_TEXT) continue;
        double w = still_text_width(still_prim_text(out, p), p->size, true);
        double x = p->x - out->x0, y = p->y - out->y0, rim = 0.6 * p->size + 1.0;
        if (p->anchor == STILL_ANCHOR_MIDDLE) x -= w / 2.0;
        if (x - rim < x1 && x0 < x + w + 1.4 * rim && y - p->size - rim < y1 &&
            y0 < y + 0.3 * p->size + rim)
            return false;
    }
    return x0 + out->x0 >= 0.0 && x1 + out->x0 <= out->width && y1 + out->y0 <= out->height;
}

/** The number of a sheet at its frame, inside or outside, where no text stands; smaller where there
 *  is no such place. */
static void number(still_canvas *out, const still_dia *d, const double box[4], uint32_t sheet,
                   double size)
{
    enum { PLACES = 9 };
    char text[48];
    still_buf named = STILL_BUF_INIT;
    still_say(&named, d->r->messages, "sheet %u", sheet);
    if (named.failed) out->failed = true;
    snprintf(text, sizeof text, "%.40s", named.text != NULL ? named.text : "");
    still_buf_clear(&named);
    if (still_text_width(text, size, true) + size > box[2] - box[0])
        snprintf(text, sizeof text, "%u", sheet);
    for (; size > 1.0; size *= 0.8) {
        double w = still_text_width(text, size, true) + size * 0.6, h = size * 1.3;
        const double ys[4] = {box[1], box[3] - h, box[1] - h, box[3]};
        for (int k = 0; k < 4 * PLACES; k++) {
            double x = box[0] + (box[2] - box[0] - w) * (double)(k % PLACES) / (PLACES - 1);
            double y = ys[k / PLACES];
            if (!is_free(out, x, y, x + w, y + h)) continue;
            still_canvas_rect(out, STILL_LOOK_CELL, x, y, w, h, 2.0);
            still_canvas_text(out, STILL_LOOK_ID, x + w / 2.0, y + size, size, STILL_ANCHOR_MIDDLE,
                              text);
            return;
        }
    }
}

/** The frame around a piece of what a sheet shows. */
static void frame(still_canvas *out, const still_dia *d, const still_dleaf *on, uint32_t leaf,
                  uint32_t piece, double size)
{
    double box[4] = {HUGE_VAL, HUGE_VAL, -HUGE_VAL, -HUGE_VAL};
    for (size_t i = 0; i < d->n_list; i++) {
        const still_dnode *n = &d->nodes[d->node_of[d->list[i]]];
        if (d->leaf_of[d->list[i]] != leaf || on->piece_of[d->list[i]] != piece) continue;
        box[0] = fmin(box[0], n->x - n->width / 2.0);
        box[1] = fmin(box[1], n->y - n->half);
        box[2] = fmax(box[2], n->x + n->width / 2.0);
        box[3] = fmax(box[3], n->y + n->half);
    }
    if (box[2] < box[0]) return;
    still_canvas_rect(out, STILL_LOOK_RULE, box[0], box[1], box[2] - box[0], box[3] - box[1], 4.0);
    number(out, d, box, leaf + 1, size);
}

/** Take away letters lower than `least` pixels: nobody could read them. */
static void drop_small(still_canvas *out, double least)
{
    size_t kept = 0;
    for (size_t i = 0; i < out->n_prims; i++) {
        const still_prim *p = &out->prims[i];
        if (p->kind == STILL_PRIM_TEXT && 0.729 * p->size < least) continue;
        out->prims[kept++] = *p;
    }
    out->n_prims = kept;
}

void still_diagram_overview(still_canvas *out, still_dia *d, const still_dleaf *leaf)
{
    /* The line at the top keeps its size on paper. */
    double line_mm = LINE * STILL_DIAGRAM_LEAST_MM;
    double mm = fmin(leaf->width_mm / (d->width + 2.0 * PAD),
                     (leaf->height_mm - line_mm) / (d->height + 2.0 * PAD));
    mm = fmin(mm, MOST_MM);
    double line = line_mm / mm, size = STILL_TYPE_ID * STILL_DIAGRAM_LEAST_MM / mm;
    page_of(out, d, leaf, mm, line + d->height + 2.0 * PAD);
    top_line(out, d, leaf, size);
    d->sketch = true;
    out->x0 = round((out->width - d->width) / 2.0);
    out->y0 = line + PAD;
    still_diagram_draw(out, d);
    for (uint32_t k = 1; k < leaf->of; k++)
        for (uint32_t piece = 1; piece <= leaf->n_pieces; piece++)
            frame(out, d, leaf, k, piece, size);
    drop_small(out, 1.2 / mm);
    out->x0 = out->y0 = 0.0;
}
