/* Problem: from columns and heights to coordinates, and pipes that run level and upright without
 * lying on one another.
 *
 * Method: every edge joins neighbouring columns. It leaves its left node level, goes upright on a
 * track in the gap between the columns, and enters its right node level. Two edges get different
 * tracks where their upright stretches overlap; and an edge that leaves at a height at which
 * another one enters must turn before that one, so it gets a track further left (the vertical
 * constraints of channel routing, Hashimoto and Stevens 1971). Where such demands form a circle,
 * the edge is drawn slanted, which is unmistakable too.
 *
 * Edges that meet at the middle of one symbol may share their way: they are one pipe junction. */
#include "diagram.h"

#include "alloc.h"

#include <math.h>
#include <stdlib.h>

/** Between two tracks, on both sides of all tracks, between two pipes at a node, and what counts
 *  as overlapping. */
#define TRACK_GAP 18.0
#define GAP_MARGIN 14.0
#define TIGHT_MARGIN 8.0
#define TIGHT_TRACK 14.0
#define PORT_GAP 26.0
#define TOO_NEAR 9.0

static bool same(double a, double b)
{
    return fabs(a - b) < 0.5;
}

double still_diagram_reach(const still_dnode *node)
{
    if (node->kind == STILL_D_COMP) return node->symbol_w / 2.0;
    if (node->beside) return node->width / 2.0 - 5.0;
    return node->kind == STILL_D_TORN ? 9.0 : 0.0;
}

/** An edge as seen from a node: where the other end stands. */
typedef struct seen {
    double other_y;
    size_t edge;
} seen;

static int by_height(const void *a, const void *b)
{
    const seen *x = a, *y = b;
    if (x->other_y < y->other_y) return -1;
    if (x->other_y > y->other_y) return 1;
    return x->edge < y->edge ? -1 : x->edge > y->edge;
}

/** Heights at which the pipes of one side meet a node: near to where they come from, in order, at
 *  least PORT_GAP apart, within the symbol. */
static void spread_side(still_dia *d, uint32_t v, bool right, seen *room)
{
    const still_dnode *node = &d->nodes[v];
    size_t n = 0;
    for (size_t e = 0; e < d->n_edges; e++) {
        const still_dedge *edge = &d->edges[e];
        if ((right ? edge->from : edge->to) != v) continue;
        room[n++] = (seen){d->nodes[right ? edge->to : edge->from].y, e};
    }
    qsort(room, n, sizeof *room, by_height);
    double reach = node->symbol_h / 2.0 - 18.0;
    if (reach < (double)(n - (n > 0)) * PORT_GAP / 2.0)
        reach = (double)(n - (n > 0)) * PORT_GAP / 2.0;
    double next = node->y - reach;
    for (size_t i = 0; i < n; i++) {
        double latest = node->y + reach - (double)(n - 1 - i) * PORT_GAP;
        double y = fmin(fmax(room[i].other_y, next), latest);
        next = y + PORT_GAP;
        if (right)
            d->edges[room[i].edge].y_from = y;
        else
            d->edges[room[i].edge].y_to = y;
    }
}

static bool spreads(const still_dia *d, const still_dnode *node)
{
    if (node->kind == STILL_D_SPOOL) return node->n_left == 2 || node->n_right == 2;
    return node->kind == STILL_D_COMP && still_diagram_spreads(d->plant, node->comp);
}

static still_status attach(still_dia *d)
{
    seen *room = still_calloc(d->n_edges, sizeof *room);
    if (room == NULL) return STILL_E_NOMEM;
    for (size_t e = 0; e < d->n_edges; e++) {
        d->edges[e].y_from = d->nodes[d->edges[e].from].y;
        d->edges[e].y_to = d->nodes[d->edges[e].to].y;
    }
    for (uint32_t v = 0; v < d->n_nodes; v++) {
        if (!spreads(d, &d->nodes[v])) continue;
        spread_side(d, v, false, room);
        spread_side(d, v, true, room);
    }
    still_free(room);
    return STILL_OK;
}

bool still_diagram_joined(const still_dedge *a, const still_dedge *b)
{
    return (a->from == b->from && same(a->y_from, b->y_from)) ||
           (a->to == b->to && same(a->y_to, b->y_to));
}

static bool overlap(const still_dedge *a, const still_dedge *b)
{
    return fmin(a->y_from, a->y_to) - TOO_NEAR < fmax(b->y_from, b->y_to) &&
           fmin(b->y_from, b->y_to) - TOO_NEAR < fmax(a->y_from, a->y_to);
}

/** True when a must turn further left than b. */
static bool before(const still_dedge *a, const still_dedge *b)
{
    return fabs(a->y_from - b->y_to) < TOO_NEAR && !still_diagram_joined(a, b);
}

/** The least track for an edge whose predecessors all have theirs. */
static size_t least_track(const still_dia *d, const size_t *gap, size_t n, const bool *done,
                          size_t i)
{
    const still_dedge *e = &d->edges[gap[i]];
    size_t track = 0;
    for (size_t k = 0; k < n; k++)
        if (k != i && done[k] && before(&d->edges[gap[k]], e) && d->edges[gap[k]].track + 1 > track)
            track = d->edges[gap[k]].track + 1;
    for (bool again = true; again;) {
        again = false;
        for (size_t k = 0; k < n && !again; k++) {
            const still_dedge *o = &d->edges[gap[k]];
            again = done[k] && o->track == track && overlap(o, e) && !still_diagram_joined(o, e);
        }
        if (again) track++;
    }
    return track;
}

/** True when a is to get its track before b: of edges that go down the lowest takes the track
 *  furthest left, of edges that go up the highest, so that they do not cross. */
static bool first_of(const still_dedge *a, const still_dedge *b)
{
    bool down = a->y_to > a->y_from;
    if (down != (b->y_to > b->y_from)) return false;
    return down ? a->y_from > b->y_from + 0.5 : a->y_from < b->y_from - 0.5;
}

/** Tracks for the n edges of a gap that go up or down. @return number of tracks */
static size_t assign(still_dia *d, const size_t *gap, size_t n, bool *done)
{
    size_t tracks = 0;
    for (size_t k = 0; k < n; k++) done[k] = false;
    for (size_t placed = 0; placed < n; placed++) {
        size_t pick = n, fallback = n;
        for (size_t i = 0; i < n; i++) {
            if (done[i]) continue;
            if (fallback == n) fallback = i;
            bool free = true;
            for (size_t k = 0; k < n && free; k++)
                free = k == i || done[k] || !before(&d->edges[gap[k]], &d->edges[gap[i]]);
            if (free && (pick == n || first_of(&d->edges[gap[i]], &d->edges[gap[pick]]))) pick = i;
        }
        still_dedge *e = &d->edges[gap[pick < n ? pick : fallback]];
        e->slanted = pick == n;
        if (pick == n) pick = fallback;
        e->track = least_track(d, gap, n, done, pick);
        done[pick] = true;
        if (e->track + 1 > tracks) tracks = e->track + 1;
    }
    return tracks;
}

/** Route one gap; x is its left edge. @return its width */
static double route_gap(still_dia *d, uint32_t rank, double x, size_t *gap, bool *done)
{
    size_t n = 0;
    double margin = d->tight ? TIGHT_MARGIN : GAP_MARGIN, step = d->tight ? TIGHT_TRACK : TRACK_GAP;
    double lanes = 0.0;
    for (size_t e = 0; e < d->n_edges; e++) {
        still_dedge *edge = &d->edges[e];
        if (d->nodes[edge->from].rank != rank) continue;
        if (edge->pipe != STILL_NONE) lanes = fmax(lanes, still_diagram_proof_room(d, edge->pipe));
        if (!same(edge->y_from, edge->y_to)) gap[n++] = e;
    }
    /* Paths of the proof run beside the tracks, on either hand. */
    margin = fmax(margin, lanes + 2.0);
    if (lanes > 0.0) step = fmax(step, lanes + 6.0);
    for (size_t e = 0; e < d->n_edges; e++)
        if (d->nodes[d->edges[e].from].rank == rank) d->edges[e].track_x = x + margin;
    size_t tracks = assign(d, gap, n, done);
    for (size_t i = 0; i < n; i++)
        d->edges[gap[i]].track_x = x + margin + (double)d->edges[gap[i]].track * step;
    double width = tracks == 0 ? d->tight ? 5.0 : 8.0 : 2.0 * margin + (double)(tracks - 1) * step;
    for (size_t i = 0; i < n; i++) {
        still_dedge *edge = &d->edges[gap[i]];
        if (!edge->slanted) continue;
        edge->track_x = x + 4.0;
        edge->slant_x = x + width - 4.0;
    }
    return width;
}

/** The one edge on a side of a node, or NULL when there are none or several. */
static const still_dedge *only_edge(const still_dia *d, uint32_t v, bool right)
{
    if ((right ? d->nodes[v].n_right : d->nodes[v].n_left) != 1) return NULL;
    for (size_t e = 0; e < d->n_edges; e++)
        if ((right ? d->edges[e].from : d->edges[e].to) == v) return &d->edges[e];
    return NULL;
}

/** Room for a node at another height, in its column. */
static bool fits(const still_dia *d, uint32_t v, double y)
{
    for (uint32_t u = 0; u < d->n_nodes; u++)
        if (u != v && d->nodes[u].rank == d->nodes[v].rank &&
            fabs(d->nodes[u].y - y) < d->nodes[u].half + d->nodes[v].half)
            return false;
    return true;
}

/** Take a small step out of the pipe to the left (or right) of v: v moves to the height of its
 *  neighbour, with all that hangs on it in a straight line on the other side. A node over which
 *  pipes spread ends that line, since pipes may meet it at any height. */
static void straighten(still_dia *d, uint32_t v, bool right, uint32_t *run)
{
    for (size_t e = 0; e < d->n_edges; e++) {
        if ((right ? d->edges[e].from : d->edges[e].to) != v) continue;
        double y = d->nodes[right ? d->edges[e].to : d->edges[e].from].y, y0 = d->nodes[v].y;
        if (same(y, y0) || fabs(y - y0) > 14.0) continue;
        size_t n = 0;
        bool may = true;
        for (uint32_t at = v; may;) {
            may = !spreads(d, &d->nodes[at]) && fits(d, at, y);
            run[n++] = at;
            const still_dedge *next = only_edge(d, at, !right);
            if (next == NULL) {
                /* Several pipes would all be bent. */
                may = may && (right ? d->nodes[at].n_left : d->nodes[at].n_right) == 0;
                break;
            }
            at = right ? next->from : next->to;
            if (spreads(d, &d->nodes[at]) || !same(d->nodes[at].y, y0)) break;
        }
        if (!may) continue;
        for (size_t i = 0; i < n; i++) d->nodes[run[i]].y = y;
        return;
    }
}

static void frame(still_dia *d)
{
    double top = HUGE_VAL, bottom = -HUGE_VAL;
    for (size_t v = 0; v < d->n_nodes; v++) {
        d->nodes[v].y = round(d->nodes[v].y);
        top = fmin(top, d->nodes[v].y - d->nodes[v].half);
        bottom = fmax(bottom, d->nodes[v].y + d->nodes[v].half);
    }
    for (size_t v = 0; v < d->n_nodes; v++) d->nodes[v].y -= top;
    d->height = d->n_nodes > 0 ? bottom - top : 0.0;
}

still_status still_diagram_route(still_dia *d)
{
    size_t *gap = still_calloc(d->n_edges, sizeof *gap);
    bool *done = still_calloc(d->n_edges, sizeof *done);
    still_status status = gap != NULL && done != NULL ? STILL_OK : STILL_E_NOMEM;
    uint32_t *run = still_calloc(d->n_nodes, sizeof *run);
    if (run == NULL) status = STILL_E_NOMEM;
    for (uint32_t v = 0; v < d->n_nodes && status == STILL_OK; v++) {
        straighten(d, v, false, run);
        straighten(d, v, true, run);
    }
    frame(d);
    if (status == STILL_OK) status = attach(d);
    double x = 0.0;
    for (uint32_t rank = 0; status == STILL_OK && rank < d->n_ranks; rank++) {
        double widest = 0.0;
        for (size_t v = 0; v < d->n_nodes; v++)
            if (d->nodes[v].rank == rank) widest = fmax(widest, d->nodes[v].width);
        for (size_t v = 0; v < d->n_nodes; v++)
            if (d->nodes[v].rank == rank) d->nodes[v].x = x + widest / 2.0;
        x += widest;
        if (rank + 1 < d->n_ranks) x += route_gap(d, rank, x, gap, done);
    }
    d->width = x;
    still_free(run);
    still_free(gap);
    still_free(done);
    return status;
}
