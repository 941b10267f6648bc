/* Problem: where the plant file says where its parts stand on the drawing, the picture is to read
 * in the same order, so that it can be laid beside the sheet: what stands further left there stands
 * no further right here, and likewise from top to bottom, as far as pipes allow.
 *
 * Method: places are hints, not coordinates: symbols and labels here are larger than those of a
 * sheet, and stand closer. Parts without a place stand beside their neighbours. Pipes run from left
 * to right by the places of the junctions that they join (diagram_orient.c); nodes between two
 * junctions keep the order of the sheet, but never against their pipe. That gives an order of
 * columns without circles, which the layout library keeps when it finds columns
 * (diagram_layout.c). In each column nodes stand by their height on the sheet; neighbours in a
 * column change places, alone or with what runs on from them, only where fewer pipes cross then.
 *
 * Cost: linear in nodes and edges for each round; rounds are few, and have a bound. */
#include "diagram.h"

#include "alloc.h"

#include <math.h>
#include <stdlib.h>

/** Rounds of each search at most. */
enum { ROUNDS = 60 };

static bool read_places(still_dia *d)
{
    size_t placed = 0, comps = 0;
    for (size_t v = 0; v < d->n_nodes; v++) {
        still_dnode *node = &d->nodes[v];
        if (node->kind != STILL_D_COMP) continue;
        double x = still_comp_q(d->plant, node->comp, STILL_Q_SHEET_X);
        double y = still_comp_q(d->plant, node->comp, STILL_Q_SHEET_Y);
        comps++;
        if (isnan(x) || isnan(y)) continue;
        placed++;
        node->placed = true;
        node->sheet_x = x;
        node->sheet_y = -y; /* down, as in the picture */
    }
    /* A few places say little about the rest. */
    return placed > 1 && placed * 3 >= comps * 2;
}

still_status still_diagram_sheet(still_dia *d)
{
    d->by_sheet = read_places(d);
    if (!d->by_sheet) return STILL_OK;
    double *sum = STILL_ARENA_NEW(&d->arena, d->n_nodes * 3, double);
    if (sum == NULL) return STILL_E_NOMEM;
    bool again = true;
    for (int round = 0; again && round < ROUNDS; round++) {
        again = false;
        for (size_t i = 0; i < d->n_nodes * 3; i++) sum[i] = 0;
        for (size_t e = 0; e < d->n_edges; e++) {
            uint32_t ends[2] = {d->edges[e].from, d->edges[e].to};
            for (int k = 0; k < 2; k++) {
                const still_dnode *other = &d->nodes[ends[1 - k]];
                if (!other->placed) continue;
                sum[ends[k] * 3] += other->sheet_x;
                sum[ends[k] * 3 + 1] += other->sheet_y;
                sum[ends[k] * 3 + 2] += 1;
            }
        }
        for (size_t v = 0; v < d->n_nodes; v++) {
            still_dnode *node = &d->nodes[v];
            if (node->placed || !(sum[v * 3 + 2] > 0)) continue;
            node->sheet_x = sum[v * 3] / sum[v * 3 + 2];
            node->sheet_y = sum[v * 3 + 1] / sum[v * 3 + 2];
            node->placed = again = true;
        }
    }
    return STILL_OK;
}

static int by_sheet_y(const void *a, const void *b)
{
    const still_dplace *x = a, *y = b;
    if (x->at < y->at) return -1;
    if (x->at > y->at) return 1;
    return x->node < y->node ? -1 : x->node > y->node;
}

void still_diagram_sort(still_dplace *places, size_t n)
{
    if (n > 1) qsort(places, n, sizeof *places, by_sheet_y);
}

/** Columns in order, and the neighbours of every node. */
typedef struct columns {
    still_dplace *at;          /**< nodes by column, from the top */
    size_t *first;             /**< by column: its first in `at`; one more at the end */
    size_t *pos;               /**< by node: its place in `at` */
    uint32_t *near, *near0[2]; /**< neighbours, to the left [0] and right [1] */
} columns;

static bool fill(still_dia *d, columns *c)
{
    size_t n = d->n_nodes;
    c->at = STILL_ARENA_NEW(&d->arena, n, still_dplace);
    c->first = STILL_ARENA_NEW(&d->arena, (size_t)d->n_ranks + 2, size_t);
    c->pos = STILL_ARENA_NEW(&d->arena, n, size_t);
    c->near = STILL_ARENA_NEW(&d->arena, 2 * d->n_edges + 1, uint32_t);
    c->near0[0] = STILL_ARENA_NEW(&d->arena, n + 1, uint32_t);
    c->near0[1] = STILL_ARENA_NEW(&d->arena, n + 1, uint32_t);
    if (!c->at || !c->first || !c->pos || !c->near || !c->near0[0] || !c->near0[1]) return false;
    for (size_t v = 0; v < n; v++) c->first[d->nodes[v].rank + 2]++;
    for (uint32_t r = 0; r < d->n_ranks; r++) c->first[r + 2] += c->first[r + 1];
    for (uint32_t v = 0; v < n; v++)
        c->at[c->first[d->nodes[v].rank + 1]++] = (still_dplace){d->nodes[v].sheet_y, v};
    for (uint32_t r = 0; r < d->n_ranks; r++)
        still_diagram_sort(c->at + c->first[r], c->first[r + 1] - c->first[r]);
    for (size_t i = 0; i < n; i++) c->pos[c->at[i].node] = i;
    uint32_t used = 0;
    for (int side = 0; side < 2; side++) {
        for (size_t e = 0; e < d->n_edges; e++)
            c->near0[side][(side == 0 ? d->edges[e].to : d->edges[e].from)]++;
        for (size_t v = 0; v <= n; v++) {
            uint32_t k = v < n ? c->near0[side][v] : 0;
            c->near0[side][v] = used;
            used += k;
        }
        for (size_t e = 0; e < d->n_edges; e++) {
            uint32_t v = side == 0 ? d->edges[e].to : d->edges[e].from;
            c->near[c->near0[side][v]++] = side == 0 ? d->edges[e].from : d->edges[e].to;
        }
        for (size_t v = n; v-- > 0;)
            c->near0[side][v] = v > 0 ? c->near0[side][v - 1] : side == 0 ? 0 : c->near0[0][n];
    }
    return true;
}

/** Crossings of the pipes of u with those of v on one side, u standing above. */
static size_t crossings(const columns *c, int side, uint32_t u, uint32_t v)
{
    size_t n = 0;
    for (uint32_t i = c->near0[side][u]; i < c->near0[side][u + 1]; i++)
        for (uint32_t k = c->near0[side][v]; k < c->near0[side][v + 1]; k++)
            n += c->pos[c->near[i]] > c->pos[c->near[k]];
    return n;
}

/** The only neighbour on the right, if v is its only one on the left; else STILL_NONE. */
static uint32_t next_of(const columns *c, uint32_t v)
{
    if (c->near0[1][v + 1] - c->near0[1][v] != 1) return STILL_NONE;
    uint32_t w = c->near[c->near0[1][v]];
    return c->near0[0][w + 1] - c->near0[0][w] == 1 ? w : STILL_NONE;
}

static void swap(columns *c, uint32_t u, uint32_t v)
{
    size_t i = c->pos[u], k = c->pos[v];
    still_dplace at = c->at[i];
    c->at[i] = c->at[k];
    c->at[k] = at;
    c->pos[u] = k;
    c->pos[v] = i;
}

/** Let two neighbours change places, with what runs on from them side by side for as long as it
 *  takes until fewer pipes cross; else leave all as it is. */
static bool improve(columns *c, uint32_t u, uint32_t v)
{
    size_t less = crossings(c, 0, u, v), more = crossings(c, 0, v, u);
    for (uint32_t a = u, b = v;;) {
        uint32_t next_a = next_of(c, a), next_b = next_of(c, b);
        if (more + crossings(c, 1, b, a) < less + crossings(c, 1, a, b)) {
            for (uint32_t x = u, y = v;; x = next_of(c, x), y = next_of(c, y)) {
                swap(c, x, y);
                if (x == a) return true;
            }
        }
        if (next_a == STILL_NONE || next_b == STILL_NONE || c->pos[next_a] + 1 != c->pos[next_b])
            return false;
        a = next_a;
        b = next_b;
    }
}

still_status still_diagram_sheet_order(still_dia *d, still_dplace **at, size_t **first)
{
    columns c = {0};
    if (!fill(d, &c)) return STILL_E_NOMEM;
    bool again = true;
    for (int round = 0; again && round < ROUNDS; round++) {
        again = false;
        for (uint32_t r = 0; r < d->n_ranks; r++)
            for (size_t i = c.first[r]; i + 1 < c.first[r + 1]; i++)
                if (improve(&c, c.at[i].node, c.at[i + 1].node)) again = true;
    }
    *at = c.at;
    *first = c.first;
    return STILL_OK;
}
