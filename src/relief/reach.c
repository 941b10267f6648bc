/* What new valves at some pieces would do for the others.
 * Method: the ways of L2 once more, forward too; rings of plain ways (open devices, check valves)
 * by Tarjan's strongly connected components (1972, doi 10.1137/0201010), without recursion, over
 * the ways backward, so that rings come out with those first that nothing leads to. Values spread
 * from the new valves against the ways as in relief.c: they only fall, so the least fixed point is
 * reached in any order. Cost: reach.h; settling costs what it changes. */
#include "reach.h"

#include "alloc.h"

#include <math.h>

static bool index_forward(still_reach *h)
{
    uint32_t n = h->r->n_pieces;
    h->from0 = still_calloc((size_t)n + 1, sizeof h->from0[0]);
    h->from = still_calloc(h->ways.n, sizeof h->from[0]);
    if (h->from0 == NULL || h->from == NULL) return false;
    for (size_t i = 0; i < h->ways.n; i++) h->from0[h->ways.items[i].from]++;
    for (uint32_t p = 1; p <= n; p++) h->from0[p] += h->from0[p - 1];
    for (size_t i = h->ways.n; i-- > 0;) h->from[--h->from0[h->ways.items[i].from]] = (uint32_t)i;
    return true;
}

/* Tarjan over the ways backward. `low` is 0 for a piece not met yet. */
typedef struct rings {
    uint32_t *met, *low, *stack, *path, *at;
    uint32_t n_stack, n_path, clock;
} rings;

static void enter(const still_reach *h, rings *t, uint32_t piece)
{
    t->met[piece] = t->low[piece] = ++t->clock;
    t->stack[t->n_stack++] = piece;
    t->at[piece] = h->ways.at0[piece];
    t->path[t->n_path++] = piece;
}

static void leave(still_reach *h, rings *t, uint32_t piece, uint32_t *n_order)
{
    t->n_path--;
    if (t->n_path > 0) {
        uint32_t before = t->path[t->n_path - 1];
        if (t->low[piece] < t->low[before]) t->low[before] = t->low[piece];
    }
    if (t->low[piece] != t->met[piece]) return;
    uint32_t member;
    h->order0[h->n_rings] = *n_order;
    do {
        member = t->stack[--t->n_stack];
        h->ring_of[member] = h->n_rings;
        h->order[(*n_order)++] = member;
    } while (member != piece);
    h->order0[++h->n_rings] = *n_order;
}

static void find_rings(still_reach *h, rings *t)
{
    uint32_t n_order = 0;
    for (uint32_t start = 0; start < h->r->n_pieces; start++) {
        if (t->met[start] != 0) continue;
        enter(h, t, start);
        while (t->n_path > 0) {
            uint32_t piece = t->path[t->n_path - 1];
            if (t->at[piece] == h->ways.at0[piece + 1]) {
                leave(h, t, piece, &n_order);
                continue;
            }
            const still_way *way = &h->ways.items[h->ways.at[t->at[piece]++]];
            if (way->kind != STILL_WAY_FREE) continue;
            if (t->met[way->from] == 0)
                enter(h, t, way->from);
            else if (h->ring_of[way->from] == STILL_NONE && t->met[way->from] < t->low[piece])
                t->low[piece] = t->met[way->from];
        }
    }
}

static bool make_rings(still_reach *h)
{
    uint32_t n = h->r->n_pieces;
    rings t = {0};
    uint32_t *room = still_calloc((size_t)n * 5, sizeof room[0]);
    h->ring_of = still_calloc(n, sizeof h->ring_of[0]);
    h->order = still_calloc(n, sizeof h->order[0]);
    h->order0 = still_calloc((size_t)n + 1, sizeof h->order0[0]);
    bool good = room != NULL && h->ring_of != NULL && h->order != NULL && h->order0 != NULL;
    if (good) {
        t.met = room;
        t.low = room + n;
        t.stack = room + (size_t)n * 2;
        t.path = room + (size_t)n * 3;
        t.at = room + (size_t)n * 4;
        for (uint32_t p = 0; p < n; p++) h->ring_of[p] = STILL_NONE;
        find_rings(h, &t);
    }
    still_free(room);
    return good;
}

still_status still_reach_build(still_reach *h, const still_relief *relief)
{
    *h = (still_reach){.r = relief};
    still_status status = still_ways_build(&h->ways, relief);
    if (status != STILL_OK) return status;
    uint32_t n = relief->n_pieces;
    h->value = still_calloc(n, sizeof h->value[0]);
    h->touched = still_calloc(n, sizeof h->touched[0]);
    h->queue = still_calloc(n, sizeof h->queue[0]);
    h->queued = still_calloc(n, 1);
    h->stamp = still_calloc(n, sizeof h->stamp[0]);
    if (h->value == NULL || h->touched == NULL || h->queue == NULL || h->queued == NULL ||
        h->stamp == NULL || !index_forward(h) || !make_rings(h))
        return STILL_E_NOMEM;
    for (uint32_t p = 0; p < n; p++) h->value[p] = relief->pieces[p].open_bar;
    return STILL_OK;
}

void still_reach_clear(still_reach *h)
{
    still_ways_clear(&h->ways);
    still_free(h->from0);
    still_free(h->from);
    still_free(h->ring_of);
    still_free(h->order);
    still_free(h->order0);
    still_free(h->value);
    still_free(h->touched);
    still_free(h->queue);
    still_free(h->queued);
    still_free(h->stamp);
    *h = (still_reach){0};
}

void still_reach_beyond(const still_reach *h, const uint8_t *marked, uint8_t *beyond)
{
    for (uint32_t k = 0; k < h->n_rings; k++) beyond[k] = 0;
    for (uint32_t k = h->n_rings; k-- > 0;) {
        bool any = beyond[k] != 0;
        for (uint32_t i = h->order0[k]; i < h->order0[k + 1] && !any; i++)
            any = marked[h->order[i]] != 0;
        if (!any) continue;
        for (uint32_t i = h->order0[k]; i < h->order0[k + 1]; i++)
            for (uint32_t w = h->ways.at0[h->order[i]]; w < h->ways.at0[h->order[i] + 1]; w++) {
                const still_way *way = &h->ways.items[h->ways.at[w]];
                if (way->kind == STILL_WAY_FREE && h->ring_of[way->from] != k)
                    beyond[h->ring_of[way->from]] = 1;
            }
    }
}

/* The worst of what lies behind the declared positions. */
static double behind(const still_reach *h, uint32_t comp)
{
    uint32_t common, others[2];
    unsigned n = still_three_way_ports(h->r->plant, comp, &common, others);
    double worst = 0;
    for (unsigned i = 0; i < n; i++) worst = fmax(worst, h->value[h->r->piece_of_port[others[i]]]);
    return worst;
}

/* A ring buffer of pieces, each in it at most once. */
typedef struct line {
    uint32_t head, n;
} line;

static void lower(still_reach *h, line *l, uint32_t piece, double value)
{
    if (!(value < h->value[piece])) return;
    /* A value that is still the plant's own was not touched before: new ones lie below it. */
    if (!(h->value[piece] < h->r->pieces[piece].open_bar)) h->touched[h->n_touched++] = piece;
    h->value[piece] = value;
    if (h->queued[piece]) return;
    h->queued[piece] = 1;
    h->queue[(l->head + l->n++) % h->r->n_pieces] = piece;
}

void still_reach_settle(still_reach *h, const uint32_t *pieces, size_t n)
{
    line l = {0, 0};
    while (h->n_touched > 0) {
        uint32_t p = h->touched[--h->n_touched];
        h->value[p] = h->r->pieces[p].open_bar;
    }
    for (size_t i = 0; i < n; i++) lower(h, &l, pieces[i], 0);
    while (l.n > 0) {
        uint32_t to = h->queue[l.head];
        l.head = (l.head + 1) % h->r->n_pieces;
        l.n--;
        h->queued[to] = 0;
        for (uint32_t k = h->ways.at0[to]; k < h->ways.at0[to + 1]; k++) {
            const still_way *way = &h->ways.items[h->ways.at[k]];
            if (way->kind == STILL_WAY_FREE) lower(h, &l, way->from, h->value[to]);
            if (way->kind == STILL_WAY_TRI) lower(h, &l, way->from, behind(h, way->comp));
        }
    }
}

bool still_reach_covered(const still_reach *h, uint32_t piece)
{
    return h->value[piece] <= h->r->pieces[piece].design_bar + STILL_RELIEF_SLACK_BAR;
}

uint32_t still_reach_walk(still_reach *h, uint32_t piece, uint32_t *met, bool *three_way)
{
    uint32_t n = 1;
    *three_way = false;
    h->now++;
    met[0] = piece;
    h->stamp[piece] = h->now;
    for (uint32_t i = 0; i < n; i++)
        for (uint32_t k = h->from0[met[i]]; k < h->from0[met[i] + 1]; k++) {
            const still_way *way = &h->ways.items[h->from[k]];
            if (way->kind == STILL_WAY_RELIEF) continue;
            if (way->kind == STILL_WAY_TRI) *three_way = true;
            if (h->stamp[way->to] == h->now) continue;
            h->stamp[way->to] = h->now;
            met[n++] = way->to;
        }
    return n;
}
