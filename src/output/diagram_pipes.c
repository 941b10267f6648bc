/* Pipes: level and upright stretches, bands behind them, dots where they part. Where an upright
 * stretch crosses a level one without being joined to it, it is broken. */
#include "diagram.h"

#include <math.h>

/** Half of the gap in a stretch that is crossed. */
#define GAP 7.0

still_look still_diagram_pipe_look(const still_dia *d, uint32_t pipe)
{
    if (d->cov != NULL && pipe != STILL_NONE && d->part[pipe] != STILL_NONE)
        return still_diagram_part_look(&d->cov->segments[d->part[pipe]]);
    if (d->bare) return STILL_LOOK_PIPE;
    bool inside = pipe != STILL_NONE && (d->mark[pipe] & STILL_MARK_INSIDE);
    return inside && d->r->feasible ? STILL_LOOK_PIPE_IN : STILL_LOOK_PIPE_LIVE;
}

/** The worst part that a stretch to where the plant goes on leads to, or STILL_NONE. */
static uint32_t worst_beyond(const still_dia *d, uint32_t comp)
{
    const still_plant *p = d->plant;
    uint32_t worst = STILL_NONE;
    if (comp == STILL_NONE) return STILL_NONE; /* a bend of such a stretch */
    const still_comp *c = &p->comps[comp];
    for (uint32_t k = 0; k < c->b; k++) {
        uint32_t across = still_port_across(p, c->a + k), pipe = p->ports[c->a + k].spool;
        /* On a page of several: what stands on the other sheets of this component. */
        bool here = d->pages != NULL ? still_diagram_on_page(d, c->a + k)
                                     : across != STILL_NONE &&
                                           (d->mark[p->ports[across].comp] & STILL_MARK_SHOW) != 0;
        if (across == STILL_NONE || here) continue;
        if (pipe != STILL_NONE && d->part[pipe] < worst) worst = d->part[pipe];
    }
    return worst;
}

/** A stretch to where the plant goes on looks like the worst part that it leads to. */
still_look still_diagram_torn_look(const still_dia *d, uint32_t comp)
{
    if (comp != STILL_NONE && d->plant->comps[comp].cls == STILL_CLASS_SPOOL)
        return still_diagram_pipe_look(d, comp);
    uint32_t worst = worst_beyond(d, comp);
    return worst == STILL_NONE ? STILL_LOOK_RULE
                               : still_diagram_part_look(&d->cov->segments[worst]);
}

static still_look edge_look(const still_dia *d, const still_dedge *e)
{
    if (d->cov == NULL || e->pipe != STILL_NONE) return still_diagram_pipe_look(d, e->pipe);
    return still_diagram_torn_look(d, d->nodes[e->from].comp);
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

/** Height at which a level stretch of o crosses the upright one of e; false when none does. */
static bool crossed(const still_dia *d, const still_dedge *e, const still_dedge *o, bool second,
                    double *y)
{
    if (d->nodes[o->from].rank != d->nodes[e->from].rank || still_diagram_joined(e, o))
        return false;
    *y = second ? o->y_to : o->y_from;
    bool reaches = o->slanted ? false
                   : level(o) ? !second
                   : second   ? o->track_x < e->track_x - 0.5
                              : o->track_x > e->track_x + 0.5;
    double low = fmin(e->y_from, e->y_to), high = fmax(e->y_from, e->y_to);
    return reaches && *y > low + GAP && *y < high - GAP;
}

size_t still_diagram_crossings(const still_dia *d)
{
    size_t n = 0;
    double y;
    for (size_t i = 0; i < d->n_edges; i++)
        for (size_t k = 0; k < d->n_edges && !level(&d->edges[i]); k++)
            for (int second = 0; second < 2 && k != i; second++)
                n += crossed(d, &d->edges[i], &d->edges[k], second == 1, &y);
    return n;
}

/** Run an upright stretch from y1 to y2, with gaps where it is crossed. */
static void upright(still_canvas *out, const still_dia *d, const still_dedge *e, double y1,
                    double y2)
{
    double at = y1, sign = y2 > y1 ? 1.0 : -1.0;
    for (;;) {
        double next = HUGE_VAL;
        for (size_t k = 0; k < d->n_edges; k++)
            for (int second = 0; second < 2; second++) {
                double y;
                if (!crossed(d, e, &d->edges[k], second == 1, &y)) continue;
                if (sign * (y - at) > GAP - 0.5) next = fmin(next, sign * (y - at));
            }
        if (isinf(next)) break;
        double y = at + sign * next;
        still_canvas_to(out, e->track_x, y - sign * GAP);
        still_canvas_move(out, e->track_x, y + sign * GAP);
        at = y + sign * (GAP - 1.0);
    }
    still_canvas_to(out, e->track_x, y2);
}

void still_diagram_corners(const still_dia *d, const still_dedge *e, double xs[4], double ys[4])
{
    const still_dnode *a = &d->nodes[e->from], *b = &d->nodes[e->to];
    xs[0] = a->x + still_diagram_reach(a);
    xs[1] = e->track_x;
    xs[3] = b->x - still_diagram_reach(b);
    xs[2] = e->slanted ? e->slant_x : e->track_x;
    ys[0] = ys[1] = e->y_from;
    ys[2] = ys[3] = e->y_to;
}

/** The way of an edge. It starts where several edges meet, so that the dashes of those that share
 *  an upright stretch fall on one another. */
static void way(still_canvas *out, const still_dia *d, size_t i, still_look look)
{
    const still_dedge *e = &d->edges[i];
    bool bent = !level(e) && !e->slanted;
    bool skip_start = bent && drawn_by_other(d, i, true),
         skip_end = bent && drawn_by_other(d, i, false);
    double xs[4], ys[4];
    still_diagram_corners(d, e, xs, ys);
    bool back = d->nodes[e->to].n_left > 1 && d->nodes[e->from].n_right == 1, started = false;
    still_canvas_path(out, look);
    for (size_t k = 0; k < 4; k++) {
        size_t at = back ? 3 - k : k;
        if ((at == 0 && skip_start) || (at == 3 && skip_end)) continue;
        if (!started)
            still_canvas_move(out, xs[at], ys[at]);
        else if (bent && k == 2)
            upright(out, d, e, ys[back ? 2 : 1], ys[at]);
        else
            still_canvas_to(out, xs[at], ys[at]);
        started = true;
    }
}

/** Hatching along an edge; it leaves room for the flow arrow of a spool. */
static void hatch(still_canvas *out, const still_dia *d, size_t i)
{
    const still_dedge *e = &d->edges[i];
    double xs[4], ys[4];
    still_diagram_corners(d, e, xs, ys);
    if (d->nodes[e->from].kind == STILL_D_SPOOL) xs[0] += 12.0;
    if (d->nodes[e->to].kind == STILL_D_SPOOL) xs[3] -= 12.0;
    if (level(e)) {
        still_canvas_hatch(out, STILL_LOOK_SHUT, xs[0], ys[0], xs[3], ys[3], 7.5);
        return;
    }
    bool skip_start = !e->slanted && drawn_by_other(d, i, true),
         skip_end = !e->slanted && drawn_by_other(d, i, false);
    for (size_t k = skip_start ? 1 : 0; k + (skip_end ? 2 : 1) < 4; k++)
        still_canvas_hatch(out, STILL_LOOK_SHUT, xs[k], ys[k], xs[k + 1], ys[k + 1], 7.5);
}

/** A dot where pipes of one fitting part on their way to it. */
static void dots(still_canvas *out, const still_dia *d)
{
    for (size_t i = 0; i < d->n_edges; i++) {
        const still_dedge *e = &d->edges[i];
        const still_dnode *a = &d->nodes[e->from], *b = &d->nodes[e->to];
        if (e->slanted || level(e)) continue;
        bool parts =
            a->n_right > 1 && a->kind == STILL_D_COMP && !still_diagram_spreads(d->plant, a->comp);
        bool meets =
            b->n_left > 1 && b->kind == STILL_D_COMP && !still_diagram_spreads(d->plant, b->comp);
        if (parts) still_canvas_circle(out, STILL_LOOK_FULL, e->track_x, e->y_from, 4.0);
        if (meets) still_canvas_circle(out, STILL_LOOK_FULL, e->track_x, e->y_to, 4.0);
    }
}

/** The ground behind a component that a person must notice. */
static void ground(still_canvas *out, const still_dia *d, const still_dnode *n)
{
    uint8_t mark = d->mark[n->comp];
    if (n->kind != STILL_D_COMP || n->symbol_w < 20.0) return;
    bool path = (mark & STILL_MARK_OBSTACLE) != 0;
    if (!path && !(mark & STILL_MARK_CLOSED_IN)) return;
    if (!path && (n->n_left == 0 || n->n_right == 0)) return;
    double w = n->symbol_w + 14.0, h = fmin(n->symbol_h, 40.0);
    if (still_diagram_spreads(d->plant, n->comp)) h = n->symbol_h - 24.0;
    if (path)
        still_canvas_rect(out, STILL_LOOK_GROUND_PATH, n->x - w / 2.0, n->y - h / 2.0, w, h, 8.0);
    else
        still_canvas_hatch(out, STILL_LOOK_SHUT, n->x - w / 2.0, n->y, n->x + w / 2.0, n->y, 10.0);
}

/** Around a component of a part that can be shut in: a line that looks like its pipes. */
static void ring(still_canvas *out, const still_dia *d, const still_dnode *n)
{
    if (n->kind != STILL_D_COMP || n->symbol_w < 20.0 || d->part[n->comp] == STILL_NONE) return;
    if (n->n_left == 0 || n->n_right == 0) {
        if (!still_diagram_spreads(d->plant, n->comp)) return;
    }
    double w = n->symbol_w + 16.0, h = n->symbol_h - 6.0;
    still_look look = still_diagram_pipe_look(d, n->comp);
    if (look == STILL_LOOK_CUT_ITSELF) look = STILL_LOOK_RING_ITSELF;
    if (look == STILL_LOOK_CUT_PERSON) look = STILL_LOOK_RING_PERSON;
    still_canvas_rect(out, look, n->x - w / 2.0, n->y - h / 2.0, w, h, 6.0);
}

/** Hatched: a gap, also where it goes on to the other sheets of a component. */
static bool hatched(const still_dia *d, const still_dedge *e)
{
    if (e->pipe != STILL_NONE) return (d->mark[e->pipe] & STILL_MARK_CLOSED_IN) != 0;
    uint32_t worst = d->pages != NULL ? worst_beyond(d, d->nodes[e->from].comp) : STILL_NONE;
    return worst != STILL_NONE && still_diagram_loud(d, worst);
}

static void layer(still_canvas *out, const still_dia *d, still_look look, uint8_t mark)
{
    for (size_t i = 0; i < d->n_edges; i++) {
        uint32_t pipe = d->edges[i].pipe;
        if (pipe != STILL_NONE && (d->mark[pipe] & mark)) way(out, d, i, look);
    }
}

void still_diagram_pipes(still_canvas *out, const still_dia *d)
{
    out->layer = STILL_LAYER_PIPE;
    out->owner = STILL_NONE;
    layer(out, d, STILL_LOOK_BAND_EDGE, STILL_MARK_OBSTACLE);
    layer(out, d, STILL_LOOK_BAND_PATH, STILL_MARK_OBSTACLE);
    for (size_t i = 0; i < d->n_edges; i++)
        if (hatched(d, &d->edges[i])) hatch(out, d, i);
    for (size_t v = 0; v < d->n_nodes; v++)
        if (d->cov != NULL)
            ring(out, d, &d->nodes[v]);
        else
            ground(out, d, &d->nodes[v]);
    for (size_t i = 0; i < d->n_edges; i++) way(out, d, i, edge_look(d, &d->edges[i]));
    dots(out, d);
    still_diagram_proof_lines(out, d);
}
