#include "canvas.h"

#include "alloc.h"
#include "glyph.h"

#include <math.h>

/** Distance of the control points of a quarter circle from its ends, in radii. */
#define QUARTER 0.5522847498

void still_canvas_clear(still_canvas *c)
{
    still_free(c->prims);
    still_free(c->steps);
    still_buf_clear(&c->texts);
    still_buf_clear(&c->title);
    still_buf_clear(&c->desc);
    *c = (still_canvas){0};
}

static still_prim *add(still_canvas *c, still_pkind kind, still_look look)
{
    if (!still_grow(&c->prims, &c->cap_prims, c->n_prims + 1, sizeof *c->prims)) {
        c->failed = true;
        return NULL;
    }
    still_prim *p = &c->prims[c->n_prims++];
    *p = (still_prim){
        .kind = kind, .look = look, .layer = c->layer, .owner = c->owner, .first = c->n_steps};
    return p;
}

static void step(still_canvas *c, still_pstep s)
{
    if (c->n_prims == 0 ||
        !still_grow(&c->steps, &c->cap_steps, c->n_steps + 1, sizeof *c->steps)) {
        c->failed = true;
        return;
    }
    for (int i = 0; i < 3; i++) {
        s.x[i] += c->x0;
        s.y[i] += c->y0;
    }
    c->steps[c->n_steps++] = s;
    c->prims[c->n_prims - 1].n++;
}

void still_canvas_path(still_canvas *c, still_look look)
{
    (void)add(c, STILL_PRIM_PATH, look);
}

void still_canvas_move(still_canvas *c, double x, double y)
{
    step(c, (still_pstep){'M', {x, x, x}, {y, y, y}});
}

void still_canvas_to(still_canvas *c, double x, double y)
{
    step(c, (still_pstep){'L', {x, x, x}, {y, y, y}});
}

void still_canvas_curve(still_canvas *c, const double x[3], const double y[3])
{
    step(c, (still_pstep){'C', {x[0], x[1], x[2]}, {y[0], y[1], y[2]}});
}

void still_canvas_end(still_canvas *c)
{
    step(c, (still_pstep){'Z', {0.0, 0.0, 0.0}, {0.0, 0.0, 0.0}});
}

void still_canvas_line(still_canvas *c, still_look look, double x1, double y1, double x2, double y2)
{
    still_canvas_path(c, look);
    still_canvas_move(c, x1, y1);
    still_canvas_to(c, x2, y2);
}

/** A quarter of a circle that starts at (x, y) along (dx, dy) and turns to the right by (ex, ey).
 */
static void quarter(still_canvas *c, double x, double y, double dx, double dy, double ex, double ey)
{
    const double k = QUARTER;
    still_canvas_curve(c, (double[]){x + k * dx, x + dx + (1.0 - k) * ex, x + dx + ex},
                       (double[]){y + k * dy, y + dy + (1.0 - k) * ey, y + dy + ey});
}

void still_canvas_rect(still_canvas *c, still_look look, double x, double y, double w, double h,
                       double radius)
{
    double r = fmin(radius, fmin(w, h) / 2.0);
    still_canvas_path(c, look);
    still_canvas_move(c, x + r, y);
    still_canvas_to(c, x + w - r, y);
    if (r > 0.0) quarter(c, x + w - r, y, r, 0.0, 0.0, r);
    still_canvas_to(c, x + w, y + h - r);
    if (r > 0.0) quarter(c, x + w, y + h - r, 0.0, r, -r, 0.0);
    still_canvas_to(c, x + r, y + h);
    if (r > 0.0) quarter(c, x + r, y + h, -r, 0.0, 0.0, -r);
    still_canvas_to(c, x, y + r);
    if (r > 0.0) quarter(c, x, y + r, 0.0, -r, r, 0.0);
    still_canvas_end(c);
}

void still_canvas_circle(still_canvas *c, still_look look, double x, double y, double r)
{
    still_canvas_path(c, look);
    still_canvas_move(c, x, y - r);
    quarter(c, x, y - r, r, 0.0, 0.0, r);
    quarter(c, x + r, y, 0.0, r, -r, 0.0);
    quarter(c, x, y + r, -r, 0.0, 0.0, -r);
    quarter(c, x - r, y, 0.0, -r, r, 0.0);
    still_canvas_end(c);
}

void still_canvas_hatch(still_canvas *c, still_look look, double x1, double y1, double x2,
                        double y2, double half)
{
    double length = hypot(x2 - x1, y2 - y1);
    if (length < 2.0) return;
    double ux = (x2 - x1) / length, uy = (y2 - y1) / length, a = fmin(half, length / 3.0) * 0.6;
    /* On a grid of the page, so that the strokes of lines that lie on one another do so too. */
    double along = fabs(uy) > fabs(ux) ? y1 * uy : x1 * ux;
    double first = a + fmod(9.0 - fmod(along + a, 9.0), 9.0);
    if (first > length - a) first = length / 2.0;
    still_canvas_path(c, look);
    for (double t = first; t <= fmax(length - a, first); t += 9.0) {
        double mx = x1 + ux * t, my = y1 + uy * t;
        still_canvas_move(c, mx - ux * a - uy * half, my - uy * a + ux * half);
        still_canvas_to(c, mx + ux * a + uy * half, my + uy * a - ux * half);
    }
}

/** Keep a text. @return where it starts */
static size_t keep(still_canvas *c, const char *s)
{
    size_t at = c->texts.len;
    still_glyph_clean(&c->texts, s);
    still_buf_char(&c->texts, '\0');
    if (c->texts.failed) c->failed = true;
    return at;
}

void still_canvas_text(still_canvas *c, still_look look, double x, double y, double size,
                       still_anchor anchor, const char *s)
{
    if (s[0] == '\0') return;
    size_t text = keep(c, s);
    still_prim *p = add(c, STILL_PRIM_TEXT, look);
    if (p == NULL) return;
    p->x = x + c->x0;
    p->y = y + c->y0;
    p->size = size;
    p->anchor = anchor;
    p->text = text;
}

void still_canvas_open(still_canvas *c, const char *what)
{
    size_t text = keep(c, what);
    still_prim *p = add(c, STILL_PRIM_OPEN, STILL_LOOK_TXT);
    if (p != NULL) p->text = text;
}

void still_canvas_close(still_canvas *c)
{
    (void)add(c, STILL_PRIM_CLOSE, STILL_LOOK_TXT);
}
