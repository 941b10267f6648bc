/* Problem: a picture that reads from left to right, in which every device of two ports has one
 * pipe on its left and one on its right, whatever loops the plant has.
 *
 * Method: devices and pipes with two ends are threaded on chains between junctions (all other
 * nodes). A chain is turned as a whole, so what is threaded on it always passes from left to
 * right. It follows the direction in which most of its spools are written (from, to), unless that
 * would close a circle: the junctions are brought into an order that few chains run against
 * (Eades, Lin, Smyth 1993, "A fast and effective heuristic for the feedback arc set problem"), and
 * those few are turned round. A chain that starts and ends at the same junction is split at a
 * spool in its middle, which is then drawn as a turn.
 *
 * Of a plan, where neither in- nor out-degree decides, what can push from beyond the boundary goes
 * first: circles are broken there, so that pressure comes from the left.
 *
 * Where the places on the drawing are known (diagram_sheet.c) these give the order of junctions:
 * chains run from left to right as there, and what stands on a chain keeps the order of the sheet
 * as far as that does not run against the chain.
 *
 * Cost: quadratic in the junctions drawn, which are few. */
#include "diagram.h"

#include "alloc.h"

/** A chain: places first … first + n - 1 of `at`, nodes in order with both junctions. */
typedef struct chain {
    uint32_t first, n;
    int votes; /**< spools written along it, less those written against it */
} chain;

typedef struct work {
    uint32_t *adj, *adj0;  /**< edges of node v: adj[adj0[v]] … adj[adj0[v + 1] - 1] */
    bool *junction, *used; /**< by node; by edge */
    bool *pushes;          /**< by node: a source beyond the boundary */
    uint32_t *at, *via;    /**< nodes of chains, and the edge that leads to each */
    uint32_t n_at;
    chain *chains;
    uint32_t n_chains;
    uint32_t *order; /**< by node: place of a junction */
    int32_t *out_less_in;
} work;

static uint32_t degree(const work *w, uint32_t v)
{
    return w->adj0[v + 1] - w->adj0[v];
}

static still_status prepare(still_dia *d, work *w)
{
    size_t n = d->n_nodes, m = d->n_edges;
    w->adj0 = STILL_ARENA_NEW(&d->arena, n + 2, uint32_t);
    w->adj = STILL_ARENA_NEW(&d->arena, 2 * m, uint32_t);
    w->junction = STILL_ARENA_NEW(&d->arena, n, bool);
    w->used = STILL_ARENA_NEW(&d->arena, m, bool);
    w->pushes = STILL_ARENA_NEW(&d->arena, n, bool);
    w->at = STILL_ARENA_NEW(&d->arena, n + 2 * m, uint32_t);
    w->via = STILL_ARENA_NEW(&d->arena, n + 2 * m, uint32_t);
    w->chains = STILL_ARENA_NEW(&d->arena, m, chain);
    w->order = STILL_ARENA_NEW(&d->arena, n, uint32_t);
    w->out_less_in = STILL_ARENA_NEW(&d->arena, n, int32_t);
    if (!w->adj0 || !w->adj || !w->junction || !w->used || !w->pushes || !w->at || !w->via ||
        !w->chains || !w->order || !w->out_less_in)
        return STILL_E_NOMEM;
    /* Counted one place on, so that filling moves each start to where it belongs. */
    for (size_t e = 0; e < m; e++) {
        w->adj0[d->edges[e].from + 2]++;
        w->adj0[d->edges[e].to + 2]++;
    }
    for (size_t v = 0; v + 2 < n + 2; v++) w->adj0[v + 2] += w->adj0[v + 1];
    for (uint32_t e = 0; e < m; e++) {
        w->adj[w->adj0[d->edges[e].from + 1]++] = e;
        w->adj[w->adj0[d->edges[e].to + 1]++] = e;
    }
    for (uint32_t v = 0; v < n; v++) {
        const still_dnode *node = &d->nodes[v];
        uint8_t cls = d->plant->comps[node->comp].cls;
        bool free_sided = node->kind == STILL_D_COMP &&
                          (cls == STILL_CLASS_VESSEL || cls == STILL_CLASS_EXCHANGER);
        w->junction[v] = free_sided || degree(w, v) != 2;
        w->pushes[v] = node->kind == STILL_D_COMP && still_diagram_is_source(d, node->comp);
    }
    return STILL_OK;
}

/** Follow unused edges from a junction to the next one. */
static void thread(const still_dia *d, work *w, uint32_t start, uint32_t edge)
{
    chain *c = &w->chains[w->n_chains++];
    *c = (chain){w->n_at, 1, 0};
    w->via[w->n_at] = STILL_NONE;
    w->at[w->n_at++] = start;
    uint32_t v = start;
    while (edge != STILL_NONE) {
        const still_dedge *e = &d->edges[edge];
        w->used[edge] = true;
        if (d->nodes[e->from].kind == STILL_D_SPOOL || d->nodes[e->to].kind == STILL_D_SPOOL ||
            still_diagram_is_reference(d, &d->nodes[e->from]) ||
            still_diagram_is_reference(d, &d->nodes[e->to]))
            c->votes += e->from == v ? 1 : -1;
        v = e->from == v ? e->to : e->from;
        w->via[w->n_at] = edge;
        w->at[w->n_at++] = v;
        c->n++;
        edge = STILL_NONE;
        for (uint32_t i = w->adj0[v]; !w->junction[v] && i < w->adj0[v + 1]; i++)
            if (!w->used[w->adj[i]]) edge = w->adj[i];
    }
}

static void thread_all(const still_dia *d, work *w)
{
    /* The second round finds rings without a junction: their first spool becomes one, and is drawn
     * as a turn. */
    for (int round = 0; round < 2; round++)
        for (uint32_t v = 0; v < d->n_nodes; v++)
            for (uint32_t i = w->adj0[v]; i < w->adj0[v + 1]; i++) {
                const bool starts =
                    w->junction[v] || (round == 1 && d->nodes[v].kind == STILL_D_SPOOL);
                if (w->used[w->adj[i]] || !starts) continue;
                w->junction[v] = true;
                thread(d, w, v, w->adj[i]);
            }
}

static uint32_t head_of(const work *w, const chain *c)
{
    return w->at[c->votes >= 0 ? c->first : c->first + c->n - 1];
}

static uint32_t tail_of(const work *w, const chain *c)
{
    return w->at[c->votes >= 0 ? c->first + c->n - 1 : c->first];
}

/** Out- less in-degree among the junctions that have no place yet, and whether one has no in or
 *  no out. */
static uint32_t best_junction(still_dia *d, const work *w, const bool *placed, bool *is_sink)
{
    uint32_t best = STILL_NONE, source = STILL_NONE, pushing = STILL_NONE;
    for (uint32_t v = 0; v < d->n_nodes; v++) {
        if (!w->junction[v] || placed[v]) continue;
        uint32_t in = 0, out = 0;
        for (uint32_t k = 0; k < w->n_chains; k++) {
            uint32_t h = head_of(w, &w->chains[k]), t = tail_of(w, &w->chains[k]);
            if (h == t || placed[h] || placed[t]) continue;
            out += h == v;
            in += t == v;
        }
        if (out == 0 && in > 0) {
            *is_sink = true;
            return v;
        }
        if (in == 0 && source == STILL_NONE) source = v;
        w->out_less_in[v] = (int32_t)out - (int32_t)in;
        if (best == STILL_NONE || w->out_less_in[v] > w->out_less_in[best]) best = v;
        if (pushing == STILL_NONE && in + out > 1 && w->pushes[v]) pushing = v;
    }
    *is_sink = false;
    if (source != STILL_NONE) return source;
    if (pushing == STILL_NONE || pushing == best || d->plain_order) return best;
    d->reordered = true;
    return pushing;
}

static still_status order(still_dia *d, work *w)
{
    bool *placed = STILL_ARENA_NEW(&d->arena, d->n_nodes, bool);
    if (placed == NULL) return STILL_E_NOMEM;
    uint32_t front = 0, back = (uint32_t)d->n_nodes;
    for (;;) {
        bool is_sink;
        uint32_t v = best_junction(d, w, placed, &is_sink);
        if (v == STILL_NONE) return STILL_OK;
        w->order[v] = is_sink ? --back : front++;
        placed[v] = true;
    }
}

/** Junctions in the order in which they stand on the sheet; equal ones keep theirs. */
static still_status order_by_sheet(still_dia *d, work *w)
{
    still_dplace *places = STILL_ARENA_NEW(&d->arena, d->n_nodes, still_dplace);
    uint32_t *by_order = STILL_ARENA_NEW(&d->arena, d->n_nodes, uint32_t), n = 0;
    if (places == NULL || by_order == NULL) return STILL_E_NOMEM;
    for (uint32_t v = 0; v < d->n_nodes; v++) by_order[v] = STILL_NONE;
    for (uint32_t v = 0; v < d->n_nodes; v++)
        if (w->junction[v]) by_order[w->order[v]] = v;
    for (uint32_t i = 0; i < d->n_nodes; i++)
        if (by_order[i] != STILL_NONE)
            places[n++] = (still_dplace){d->nodes[by_order[i]].sheet_x, i};
    still_diagram_sort(places, n);
    for (uint32_t i = 0; i < n; i++) w->order[by_order[places[i].node]] = i;
    return STILL_OK;
}

/** Columns of what stands between two junctions where more goes on: by the sheet, but never
 *  against the chain. Twigs have their room wherever they hang. */
static void column(still_dia *d, const work *w, const chain *c)
{
    uint32_t first = w->at[c->first], last = w->at[c->first + c->n - 1];
    if (first == last || degree(w, first) < 2 || degree(w, last) < 2) return;
    bool along = w->order[first] < w->order[last];
    double x = d->nodes[along ? first : last].sheet_x, end = d->nodes[along ? last : first].sheet_x;
    for (uint32_t i = 0; i < c->n; i++) {
        still_dnode *node = &d->nodes[w->at[c->first + (along ? i : c->n - 1 - i)]];
        if (node->sheet_x > x) x = node->sheet_x < end ? node->sheet_x : end;
        node->sheet_x = x;
        node->columned = node->kind == STILL_D_COMP;
    }
}

/** Make an edge run from u to the node at its other end. */
static void turn(still_dedge *e, uint32_t u)
{
    if (e->from == u) return;
    uint32_t from = e->from, port = e->port_from;
    e->from = e->to;
    e->to = from;
    e->port_from = e->port_to;
    e->port_to = port;
}

static void direct(still_dia *d, const work *w, const chain *c)
{
    uint32_t first = w->at[c->first], last = w->at[c->first + c->n - 1];
    bool along = c->votes >= 0;
    if (first != last) along = w->order[first] < w->order[last];
    /* Both arms of a loop run from the junction to the spool nearest to the middle. */
    uint32_t middle = STILL_NONE;
    for (uint32_t i = c->n / 2; first == last && i > 0 && middle == STILL_NONE; i--)
        if (d->nodes[w->at[c->first + i]].kind == STILL_D_SPOOL) middle = i;
    for (uint32_t i = 1; i < c->n; i++) {
        bool forward = middle == STILL_NONE ? along : i <= middle;
        turn(&d->edges[w->via[c->first + i]], w->at[c->first + (forward ? i - 1 : i)]);
    }
}

static bool on_right(const still_dia *d, uint32_t v)
{
    const still_dnode *node = &d->nodes[v];
    const still_comp *c = &d->plant->comps[node->comp];
    for (size_t i = 0; i < d->n_edges; i++) {
        const still_dedge *e = &d->edges[i];
        if (node->kind == STILL_D_SPOOL) {
            /* The end at the component that its `from` names lies to the right. */
            if (e->from == v && e->port_to == c->a) return true;
        } else if (e->from == v && e->port_from == c->a) {
            /* `in` is the first port of everything that has one. */
            return true;
        }
    }
    return false;
}

/** So many more pipes on one side than on the other are too many. */
enum { MANY = 8 };

/** A torn end goes to the side that has fewer pipes, away from where the picture goes on. */
static void place_torn(still_dia *d)
{
    for (size_t i = 0; i < d->n_edges; i++) {
        still_dedge *e = &d->edges[i];
        uint32_t v = d->nodes[e->to].kind == STILL_D_TORN ? e->from : e->to;
        if (d->nodes[e->to].kind != STILL_D_TORN && d->nodes[e->from].kind != STILL_D_TORN)
            continue;
        uint32_t torn = e->from == v ? e->to : e->from, out = 0, in = 0;
        for (size_t k = 0; k < d->n_edges; k++) {
            if (k == i) continue;
            out += d->edges[k].from == v;
            in += d->edges[k].to == v;
        }
        if (!still_diagram_is_reference(d, &d->nodes[torn])) {
            if (out != in) turn(e, out > in ? torn : v);
            continue;
        }
        /* References keep the direction of flow, but for headers that would stand too high. */
        bool left = e->to == v;
        if (d->nodes[v].kind == STILL_D_COMP && (left ? in > out + MANY : out > in + MANY))
            turn(e, left ? v : torn);
    }
}

still_status still_diagram_orient(still_dia *d)
{
    work w = {0};
    if (prepare(d, &w) != STILL_OK) return STILL_E_NOMEM;
    thread_all(d, &w);
    if (order(d, &w) != STILL_OK) return STILL_E_NOMEM;
    if (d->by_sheet && order_by_sheet(d, &w) != STILL_OK) return STILL_E_NOMEM;
    for (uint32_t k = 0; k < w.n_chains; k++) direct(d, &w, &w.chains[k]);
    for (uint32_t k = 0; d->by_sheet && k < w.n_chains; k++) column(d, &w, &w.chains[k]);
    place_torn(d);
    for (size_t e = 0; e < d->n_edges; e++) {
        d->nodes[d->edges[e].from].n_right++;
        d->nodes[d->edges[e].to].n_left++;
    }
    for (uint32_t v = 0; v < d->n_nodes; v++) {
        d->nodes[v].mirrored = on_right(d, v);
        if (still_diagram_label(d, &d->nodes[v]) != STILL_OK) return STILL_E_NOMEM;
    }
    return STILL_OK;
}
