/* Pipes, symbols, labels, boundary. What must not be covered is drawn last. */
#include "diagram.h"

#include "svg.h"

#include <math.h>
#include <stdio.h>

static const char *pipe_class(const still_dia *d, uint32_t pipe)
{
    bool inside = pipe != STILL_NONE && (d->mark[pipe] & STILL_MARK_INSIDE);
    return inside && d->r->feasible ? "pipe-in" : "pipe-live";
}

/** Where a node's pipe begins or ends. */
static double left_of(const still_dnode *n)
{
    double reach = n->kind == STILL_D_COMP   ? still_diagram_reach(n)
                   : n->kind == STILL_D_TORN ? 9.0
                                             : 0.0;
    return n->x - reach;
}

static double right_of(const still_dnode *n)
{
    double reach = n->kind == STILL_D_COMP   ? still_diagram_reach(n)
                   : n->kind == STILL_D_TORN ? 9.0
                                             : 0.0;
    return n->x + reach;
}

static void move(still_buf *data, double x, double y)
{
    still_buf_printf(data, "%c%.0f %.0f", data->len == 0 ? 'M' : 'L', round(x), round(y));
}

static bool level(const still_dedge *e)
{
    return fabs(e->y_from - e->y_to) < 0.5;
}

/** True when another edge already draws the stretch between the node that both share and the
 *  track of e: drawn twice, the gaps of a dashed line would fill up. */
static bool drawn_by_other(const still_dia *d, size_t i, bool start)
{
    const still_dedge *e = &d->edges[i];
    for (size_t k = 0; k < d->n_edges; k++) {
        const still_dedge *o = &d->edges[k];
        bool shared = start ? o->from == e->from && fabs(o->y_from - e->y_from) < 0.5
                            : o->to == e->to && fabs(o->y_to - e->y_to) < 0.5;
        if (k == i || !shared || o->slanted) continue;
        double further = start ? o->track_x - e->track_x : e->track_x - o->track_x;
        if (level(o) || further > 0.5 || (further > -0.5 && k < i)) return true;
    }
    return false;
}

/** The way of an edge as path data, in whole numbers. It starts where several edges meet, so that
 *  the dashes of those that share an upright stretch fall on one another. */
static void way(still_buf *data, const still_dia *d, size_t i)
{
    const still_dedge *e = &d->edges[i];
    const still_dnode *a = &d->nodes[e->from], *b = &d->nodes[e->to];
    double last = e->slanted ? left_of(b) - 4.0 : e->track_x;
    bool bent = !level(e) && !e->slanted;
    bool skip_start = bent && drawn_by_other(d, i, true),
         skip_end = bent && drawn_by_other(d, i, false);
    double xs[4] = {right_of(a), e->track_x, last, left_of(b)};
    double ys[4] = {e->y_from, e->y_from, e->y_to, e->y_to};
    bool back = b->n_left > 1 && a->n_right == 1;
    for (size_t k = 0; k < 4; k++) {
        size_t at = back ? 3 - k : k;
        if ((at == 0 && skip_start) || (at == 3 && skip_end)) continue;
        move(data, xs[at], ys[at]);
    }
}

/** What lies behind a pipe. @return NULL for most */
static const char *band_class(const still_dia *d, const still_dedge *e, bool edge)
{
    uint8_t mark = e->pipe != STILL_NONE ? d->mark[e->pipe] : 0;
    if (mark & STILL_MARK_OBSTACLE) return edge ? "band-edge" : "band-path";
    return (mark & STILL_MARK_CLOSED_IN) && !edge ? "band-shut" : NULL;
}

typedef enum layer { LAYER_EDGE, LAYER_BAND, LAYER_PIPE } layer;

static void pipes(still_buf *out, const still_dia *d, layer which)
{
    for (size_t i = 0; i < d->n_edges; i++) {
        const still_dedge *e = &d->edges[i];
        const char *cls =
            which == LAYER_PIPE ? pipe_class(d, e->pipe) : band_class(d, e, which == LAYER_EDGE);
        if (cls == NULL) continue;
        still_buf data = STILL_BUF_INIT;
        way(&data, d, i);
        if (data.failed)
            out->failed = true;
        else
            still_svg_shape(out, cls, 0.0, 0.0, false, data.text);
        still_buf_clear(&data);
    }
}

/** A dot where pipes of one fitting part on their way to it. */
static void dots(still_buf *out, const still_dia *d)
{
    for (size_t i = 0; i < d->n_edges; i++) {
        const still_dedge *e = &d->edges[i];
        const still_dnode *a = &d->nodes[e->from], *b = &d->nodes[e->to];
        if (e->slanted || level(e)) continue;
        bool parts = a->n_right > 1 && a->kind == STILL_D_COMP &&
                     !(a->kind == STILL_D_COMP && still_diagram_spreads(d->plant, a->comp));
        bool meets =
            b->n_left > 1 && b->kind == STILL_D_COMP && !still_diagram_spreads(d->plant, b->comp);
        if (parts) still_svg_circle(out, "full", e->track_x, e->y_from, 4.0);
        if (meets) still_svg_circle(out, "full", e->track_x, e->y_to, 4.0);
    }
}

/** The ground behind a component that a person must notice. */
static void ground(still_buf *out, const still_dia *d, const still_dnode *n)
{
    uint8_t mark = d->mark[n->comp];
    if (n->kind != STILL_D_COMP || n->symbol_w < 20.0) return;
    bool path = (mark & STILL_MARK_OBSTACLE) != 0;
    if (!path && !(mark & STILL_MARK_CLOSED_IN)) return;
    double w = n->symbol_w + 14.0, h = fmin(n->symbol_h, 40.0);
    if (still_diagram_spreads(d->plant, n->comp)) h = n->symbol_h - 24.0;
    still_svg_rect(out, path ? "ground-path" : "ground-shut", n->x - w / 2.0, n->y - h / 2.0, w, h,
                   8.0);
}

/** The flow arrow within a spool's own box; where both ends lie on one side, the turn too. */
static void spool(still_buf *out, const still_dia *d, uint32_t v)
{
    const still_dnode *n = &d->nodes[v];
    const char *cls = pipe_class(d, n->comp), *arrow = cls[5] == 'l' ? "full" : "sym";
    if (n->n_left < 2 && n->n_right < 2) {
        still_svg_shape(out, arrow, n->x, n->y, n->mirrored, "M-8-7L9 0L-8 7Z");
        return;
    }
    double ys[2] = {n->y, n->y};
    bool down = true;
    size_t k = 0;
    for (size_t i = 0; i < d->n_edges && k < 2; i++) {
        const still_dedge *e = &d->edges[i];
        if (e->to != v && e->from != v) continue;
        ys[k] = e->to == v ? e->y_to : e->y_from;
        uint32_t other = e->to == v ? e->port_from : e->port_to;
        if (other == d->plant->comps[n->comp].a) down = ys[k] < n->y;
        k++;
    }
    still_svg_line(out, cls, n->x, ys[0], n->x, ys[1]);
    still_svg_shape(out, arrow, n->x, n->y, false, down ? "M-7-8H7L0 9Z" : "M-7 8H7L0-9Z");
}

/** Names of the ports of a three-way valve, which say what a position joins. */
static void port_names(still_buf *out, const still_dia *d, uint32_t v)
{
    const still_dnode *n = &d->nodes[v];
    if (n->kind != STILL_D_COMP || d->plant->comps[n->comp].kind != STILL_KIND_THREE_WAY) return;
    for (size_t i = 0; i < d->n_edges; i++) {
        const still_dedge *e = &d->edges[i];
        bool right = e->from == v;
        uint32_t port = right ? e->port_from : e->port_to;
        if ((e->from != v && e->to != v) || port == STILL_NONE) continue;
        still_svg_text(out, "txt", n->x + (right ? 21.0 : -21.0),
                       (right ? e->y_from : e->y_to) + 4.0, STILL_TYPE, "middle",
                       still_text(d->plant, d->plant->ports[port].name));
    }
}

double still_diagram_flag(still_buf *out, double x, double y, uint32_t tag)
{
    char text[16];
    snprintf(text, sizeof text, "%u", tag);
    double w = fmax(26.0, still_svg_width(text, 14.0) + 12.0);
    still_buf data = STILL_BUF_INIT;
    still_buf_printf(&data, "M0-10H%.0fL%.0f 0L%.0f 10H0Z", w, w + 8.0, w);
    if (data.failed) out->failed = true;
    if (!data.failed) still_svg_shape(out, "flag", x, y, false, data.text);
    still_buf_clear(&data);
    still_svg_text(out, "id", x + w / 2.0 + 1.0, y + 5.0, 14.0, "middle", text);
    return w + 8.0;
}

void still_diagram_warning(still_buf *out, double x, double y)
{
    still_svg_shape(out, "warn", x, y, false, "M0-8L9 7H-9Z");
    still_svg_shape(out, "over", x, y, false, "M0-3V2M0 4V5");
}

static void label_line(still_buf *out, const still_dline *line, double x, double y)
{
    double size = line->style == STILL_LINE_ID ? STILL_TYPE_ID : STILL_TYPE;
    double width = still_svg_width(line->text, size) * 0.9;
    switch (line->style) {
    case STILL_LINE_ID: still_svg_text(out, "id", x, y + 13.0, size, "middle", line->text); break;
    case STILL_LINE_PLAIN:
        still_svg_text(out, "txt", x, y + 12.0, size, "middle", line->text);
        break;
    case STILL_LINE_LOUD: still_svg_text(out, "id", x, y + 12.0, size, "middle", line->text); break;
    case STILL_LINE_WARN:
        still_diagram_warning(out, x - width / 2.0 - 8.0, y + 8.0);
        still_svg_text(out, "id", x + 11.0, y + 12.0, size, "middle", line->text);
        break;
    case STILL_LINE_FLAG: {
        double start = line->text[0] == '\0' ? x - 17.0 : x - (width + 40.0) / 2.0;
        double w = still_diagram_flag(out, start, y + 12.0, line->tag);
        still_svg_text(out, "id", start + w + 4.0, y + 16.0, size, "start", line->text);
        break;
    }
    case STILL_LINE_WORK: still_svg_text(out, "id", x, y + 17.0, 18.0, "middle", line->text); break;
    }
}

static void label(still_buf *out, const still_dnode *n)
{
    double y = n->y - n->symbol_h / 2.0, top = 0.0;
    for (const still_dline *l = n->above; l != NULL; l = l->next)
        top += still_diagram_line_height(l);
    y -= top;
    for (const still_dline *l = n->above; l != NULL; l = l->next) {
        label_line(out, l, n->x, y);
        y += still_diagram_line_height(l);
    }
    y = n->y + n->symbol_h / 2.0 + 2.0;
    for (const still_dline *l = n->below; l != NULL; l = l->next) {
        label_line(out, l, n->x, y);
        y += still_diagram_line_height(l);
    }
}

static void target_frame(still_buf *out, const still_dnode *n)
{
    double w = n->width - 14.0, h = 2.0 * n->half - 6.0;
    still_svg_rect(out, "frame-thick", n->x - w / 2.0, n->y - h / 2.0, w, h, 6.0);
    still_svg_rect(out, "frame-thin", n->x - w / 2.0 + 6.0, n->y - h / 2.0 + 6.0, w - 12.0,
                   h - 12.0, 3.0);
}

/** The boundary at a point: a dashed bar across the pipe, hatched on the side that stays live. */
static void bar(still_buf *out, const still_dnode *n, bool right)
{
    double x = n->x + (right ? n->width / 2.0 - 10.0 : 10.0 - n->width / 2.0);
    still_svg_line(out, "bound", x, n->y - n->half + 2.0, x, n->y + n->half - 2.0);
    for (double y = n->y - n->half + 8.0; y < n->y + n->half - 2.0; y += 8.0)
        still_svg_line(out, "hatch", x, y, x + (right ? 8.0 : -8.0), y - 6.0);
}

static void boundary(still_buf *out, const still_dia *d, uint32_t v)
{
    bool left = false, right = false;
    for (size_t i = 0; i < d->n_edges; i++) {
        const still_dedge *e = &d->edges[i];
        bool live = pipe_class(d, e->pipe)[5] == 'l';
        left = left || (e->to == v && live);
        right = right || (e->from == v && live);
    }
    if (left) bar(out, &d->nodes[v], false);
    if (right) bar(out, &d->nodes[v], true);
}

void still_diagram_draw(still_buf *out, const still_dia *d)
{
    pipes(out, d, LAYER_EDGE);
    pipes(out, d, LAYER_BAND);
    for (size_t v = 0; v < d->n_nodes; v++) ground(out, d, &d->nodes[v]);
    pipes(out, d, LAYER_PIPE);
    dots(out, d);
    for (uint32_t v = 0; v < d->n_nodes; v++) {
        const still_dnode *n = &d->nodes[v];
        if (n->kind == STILL_D_SPOOL) spool(out, d, v);
        still_diagram_symbol(out, d, n);
        port_names(out, d, v);
        const still_point *point = n->kind == STILL_D_COMP ? still_diagram_point(d, n->comp) : NULL;
        if (point != NULL && point->action != STILL_ACTION_OPEN) boundary(out, d, v);
        if (n->kind == STILL_D_COMP && (d->mark[n->comp] & STILL_MARK_TARGET)) target_frame(out, n);
    }
    for (size_t v = 0; v < d->n_nodes; v++) label(out, &d->nodes[v]);
}
