/* The fewest places that meet every demand.
 * Problem: hitting set. Method: a demand with one place forces it; what is left falls into parts
 * that share no place, and the least numbers add up over them. A part of at most 20 places is
 * searched by branch and bound: take an unmet demand, try each of its places, and leave that place
 * out behind the try (so no set is met twice); demands without a common place need one place each,
 * which bounds from below. A larger part gets the greedy answer, which takes the place that meets
 * most: at most H(d) times the least number, d = most demands met by one place, H(d) = 1 + 1/2 + …
 * + 1/d (Chvátal 1979, doi 10.1287/moor.4.3.233), with the better of two lower bounds: demands
 * without a common place, and the greedy number over H(d). Cost: hitting.h. */
#include "hitting.h"

#include "alloc.h"
#include "disjoint.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

bool still_demands_add(still_demands *d, const uint32_t *places, size_t n)
{
    if (!still_grow(&d->start, &d->start_cap, d->n + 2, sizeof d->start[0]) ||
        !still_grow(&d->items, &d->items_cap, d->n_items + n, sizeof d->items[0]))
        return false;
    if (d->n == 0) d->start[0] = 0;
    memcpy(d->items + d->n_items, places, n * sizeof places[0]);
    d->n_items += n;
    d->start[++d->n] = d->n_items;
    return true;
}

void still_demands_clear(still_demands *d)
{
    still_free(d->items);
    still_free(d->start);
    *d = (still_demands){0};
}

/* A demand that no forced place meets, and the part that it belongs to. */
typedef struct open_demand {
    uint32_t part;
    size_t n, demand;
} open_demand;

typedef struct work {
    const still_demands *d;
    uint8_t *chosen;
    uint32_t *up, *count; /* by place */
    open_demand *open;
    size_t n_open;
    still_hitting *out;
} work;

static const uint32_t *places_of(const work *w, size_t demand, size_t *n)
{
    *n = w->d->start[demand + 1] - w->d->start[demand];
    return w->d->items + w->d->start[demand];
}

static bool is_met(const work *w, size_t demand)
{
    size_t n;
    const uint32_t *places = places_of(w, demand, &n);
    for (size_t i = 0; i < n; i++)
        if (w->chosen[places[i]]) return true;
    return false;
}

/* By part, then the shorter, then the earlier. */
static int by_part(const void *pa, const void *pb)
{
    const open_demand *a = pa, *b = pb;
    if (a->part != b->part) return a->part < b->part ? -1 : 1;
    if (a->n != b->n) return a->n < b->n ? -1 : 1;
    return a->demand < b->demand ? -1 : a->demand > b->demand;
}

/* ---- a small part: places are bits ---- */

typedef struct small {
    uint32_t places[STILL_HITTING_EXACT];
    uint32_t *masks;
    size_t n;
    uint32_t best;
    unsigned n_best;
} small;

static unsigned bits(uint32_t mask)
{
    unsigned n = 0;
    for (; mask != 0; mask &= mask - 1) n++;
    return n;
}

static void search(small *s, uint32_t taken, uint32_t left_out, unsigned n_taken)
{
    uint32_t branch = 0, used = 0;
    unsigned below = 0, fewest = STILL_HITTING_EXACT + 1;
    for (size_t i = 0; i < s->n; i++) {
        if ((s->masks[i] & taken) != 0) continue;
        uint32_t allowed = s->masks[i] & ~left_out;
        if (allowed == 0) return;
        if (bits(allowed) < fewest) {
            fewest = bits(allowed);
            branch = allowed;
        }
        if ((allowed & used) != 0) continue;
        used |= allowed;
        below++;
    }
    if (n_taken + below >= s->n_best) return;
    if (branch == 0) {
        s->best = taken;
        s->n_best = n_taken;
        return;
    }
    for (; branch != 0; branch &= branch - 1) {
        uint32_t place = branch & ~(branch - 1);
        search(s, taken | place, left_out, n_taken + 1);
        left_out |= place;
    }
}

/* Drop each demand that holds another one whole: it is met with it. The shorter stand first. */
static void drop_weaker(small *s)
{
    size_t kept = 0;
    for (size_t i = 0; i < s->n; i++) {
        bool weaker = false;
        for (size_t k = 0; k < kept && !weaker; k++)
            weaker = (s->masks[k] & s->masks[i]) == s->masks[k];
        if (!weaker) s->masks[kept++] = s->masks[i];
    }
    s->n = kept;
}

static uint32_t bit_of(const small *s, uint32_t n_places, uint32_t place)
{
    for (uint32_t k = 0; k < n_places; k++)
        if (s->places[k] == place) return UINT32_C(1) << k;
    return 0;
}

static bool solve_small(work *w, const open_demand *open, size_t n_open, const uint32_t *places,
                        uint32_t n_places)
{
    small s = {.n = n_open, .n_best = n_places + 1};
    s.masks = still_calloc(n_open, sizeof s.masks[0]);
    if (s.masks == NULL) return false;
    memcpy(s.places, places, n_places * sizeof places[0]);
    for (size_t i = 0; i < n_open; i++) {
        size_t n;
        const uint32_t *of = places_of(w, open[i].demand, &n);
        for (size_t k = 0; k < n; k++) s.masks[i] |= bit_of(&s, n_places, of[k]);
    }
    drop_weaker(&s);
    search(&s, 0, 0, 0);
    for (uint32_t k = 0; k < n_places; k++)
        if ((s.best >> k & 1) != 0) w->chosen[s.places[k]] = 1;
    w->out->n += s.n_best;
    w->out->bound += s.n_best;
    still_free(s.masks);
    return true;
}

/* ---- a large part: greedy ---- */

/* Demands, the shorter first, none of which shares a place with one before. */
static uint32_t apart(work *w, const open_demand *open, size_t n_open, const uint32_t *places,
                      uint32_t n_places)
{
    uint32_t n_apart = 0;
    for (uint32_t k = 0; k < n_places; k++) w->count[places[k]] = 0;
    for (size_t i = 0; i < n_open; i++) {
        size_t n;
        const uint32_t *of = places_of(w, open[i].demand, &n);
        bool shares = false;
        for (size_t k = 0; k < n && !shares; k++) shares = w->count[of[k]] != 0;
        for (size_t k = 0; k < n && !shares; k++) w->count[of[k]] = 1;
        n_apart += !shares;
    }
    return n_apart;
}

static void count_unmet(work *w, const open_demand *open, size_t n_open, const uint32_t *places,
                        uint32_t n_places)
{
    for (uint32_t k = 0; k < n_places; k++) w->count[places[k]] = 0;
    for (size_t i = 0; i < n_open; i++) {
        size_t n;
        const uint32_t *of = places_of(w, open[i].demand, &n);
        if (is_met(w, open[i].demand)) continue;
        for (size_t k = 0; k < n; k++) w->count[of[k]]++;
    }
}

static void solve_large(work *w, const open_demand *open, size_t n_open, const uint32_t *places,
                        uint32_t n_places)
{
    uint32_t n_taken = 0, below = apart(w, open, n_open, places, n_places);
    double h = 0;
    for (;;) {
        uint32_t best = places[0];
        count_unmet(w, open, n_open, places, n_places);
        for (uint32_t k = 1; k < n_places; k++)
            if (w->count[places[k]] > w->count[best]) best = places[k];
        if (w->count[best] == 0) break;
        for (uint32_t i = n_taken == 0 ? w->count[best] : 0; i > 0; i--) h += 1 / (double)i;
        w->chosen[best] = 1;
        n_taken++;
    }
    /* A little less, so that rounding never lifts the bound. */
    uint32_t by_greedy = (uint32_t)ceil((double)n_taken / h - 1e-9);
    if (by_greedy > below) below = by_greedy;
    w->out->n += n_taken;
    w->out->bound += below;
    if (below == n_taken) return;
    w->out->proven = false;
    if (h > w->out->ratio) w->out->ratio = h;
}

/* ---- all parts ---- */

static int ascending(const void *pa, const void *pb)
{
    uint32_t a = *(const uint32_t *)pa, b = *(const uint32_t *)pb;
    return a < b ? -1 : a > b;
}

static bool solve_part(work *w, const open_demand *open, size_t n_open)
{
    size_t total = 0, n_places = 0, n;
    for (size_t i = 0; i < n_open; i++) total += open[i].n;
    uint32_t *places = still_calloc(total, sizeof places[0]);
    if (places == NULL) return false;
    total = 0;
    for (size_t i = 0; i < n_open; i++) {
        const uint32_t *of = places_of(w, open[i].demand, &n);
        memcpy(places + total, of, n * sizeof of[0]);
        total += n;
    }
    qsort(places, total, sizeof places[0], ascending);
    for (size_t i = 0; i < total; i++)
        if (i == 0 || places[i] != places[i - 1]) places[n_places++] = places[i];
    bool good = true;
    if (n_places <= STILL_HITTING_EXACT)
        good = solve_small(w, open, n_open, places, (uint32_t)n_places);
    else
        solve_large(w, open, n_open, places, (uint32_t)n_places);
    still_free(places);
    return good;
}

static void take_forced(work *w)
{
    for (size_t i = 0; i < w->d->n; i++) {
        size_t n;
        const uint32_t *places = places_of(w, i, &n);
        if (n != 1 || w->chosen[places[0]]) continue;
        w->chosen[places[0]] = 1;
        w->out->n++;
        w->out->bound++;
    }
}

static bool solve(work *w)
{
    take_forced(w);
    for (size_t i = 0; i < w->d->n; i++) {
        size_t n;
        const uint32_t *places = places_of(w, i, &n);
        if (is_met(w, i)) continue;
        w->open[w->n_open++] = (open_demand){0, n, i};
        for (size_t k = 1; k < n; k++) still_disjoint_join(w->up, places[0], places[k]);
    }
    for (size_t i = 0; i < w->n_open; i++)
        w->open[i].part = still_disjoint_root(w->up, w->d->items[w->d->start[w->open[i].demand]]);
    if (w->n_open > 1) qsort(w->open, w->n_open, sizeof w->open[0], by_part);
    for (size_t i = 0, end; i < w->n_open; i = end) {
        for (end = i + 1; end < w->n_open && w->open[end].part == w->open[i].part;) end++;
        if (!solve_part(w, w->open + i, end - i)) return false;
    }
    return true;
}

still_status still_hitting_find(still_hitting *out, uint8_t *chosen, const still_demands *demands,
                                uint32_t n_places)
{
    *out = (still_hitting){.proven = true, .ratio = 1};
    work w = {.d = demands, .chosen = chosen, .out = out};
    still_status status = STILL_E_NOMEM;
    w.up = still_calloc(n_places, sizeof w.up[0]);
    w.count = still_calloc(n_places, sizeof w.count[0]);
    w.open = still_calloc(demands->n, sizeof w.open[0]);
    if (w.up != NULL && w.count != NULL && w.open != NULL) {
        for (uint32_t i = 0; i < n_places; i++) w.up[i] = i;
        if (n_places > 0) memset(chosen, 0, n_places);
        if (solve(&w)) status = STILL_OK;
    }
    still_free(w.up);
    still_free(w.count);
    still_free(w.open);
    return status;
}
