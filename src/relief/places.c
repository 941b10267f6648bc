/* Where new relief valves would close gaps.
 * Problem: the least set of pieces such that, with a new relief valve at each, no gap is left that
 * a relief valve can cover. Method: of the rings of uncovered pieces (reach.h) only those matter
 * from which plain ways lead to no other: a valve further on covers all that one before it does. A
 * gap asks for one of the last rings that its ways out reach; the least set that meets all demands
 * is a hitting set (hitting.h). Where a three-way valve asks for cover behind each position one
 * demand is not all that a gap needs: so each answer is tried by the rules themselves, and a gap
 * that it leaves adds the demand that it fails, until none is left. Why it is right:
 * docs/METHOD.md, 5.1. Source of the rules: L1, L2, L5. Assumptions: places.h. Cost: places.h. */
#include "places.h"

#include "alloc.h"
#include "hitting.h"
#include "reach.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

typedef struct candidate {
    uint32_t segment, spool, piece;
} candidate;

typedef struct work {
    const still_plant *plant;
    still_arena *arena;
    const still_segments *found;
    still_relief sealed;
    still_reach reach;
    candidate *gaps; /* to be covered, by lowest id */
    size_t n_gaps;
    candidate
        *spots; /* candidates for a new valve, by spool id; their index is the place's number */
    size_t n_spots;
    uint32_t *spot_of_ring; /* 1 + number, 0 = none */
    uint8_t *gaps_beyond;   /* by ring: 1 = plain ways lead from it to a gap of another ring */
    still_demands demands;
    uint8_t *chosen;
    uint32_t *met, *near, *at; /* working room: pieces; spots; pieces with a new valve */
    still_places *out;
} work;

static uint32_t lowest_spool(const work *w, const still_piece_facts *f)
{
    uint32_t best = STILL_NONE;
    for (uint32_t i = 0; i < f->n_ids; i++) {
        if (w->plant->comps[f->ids[i]].cls != STILL_CLASS_SPOOL) continue;
        if (best == STILL_NONE ||
            strcmp(still_id_of(w->plant, f->ids[i]), still_id_of(w->plant, best)) < 0)
            best = f->ids[i];
    }
    return best;
}

static bool can_be_covered(const still_piece_facts *f)
{
    return f->design_bara > STILL_ATM_BAR; /* false for NAN */
}

/* A stub with a relief valve is none any more, and would be a gap of its own if that does not cover
 * it: no place. */
static bool may_hold(const still_piece_facts *f)
{
    return f->cover == STILL_COVER_UNCOVERED && !f->stub;
}

/* qsort has no argument for the plant, so what is sorted carries its key. */
typedef struct keyed {
    const char *key;
    candidate c;
} keyed;

static int by_key(const void *pa, const void *pb)
{
    const keyed *a = pa, *b = pb;
    int c = strcmp(a->key, b->key);
    if (c != 0) return c;
    return a->c.segment < b->c.segment ? -1 : a->c.segment > b->c.segment;
}

static bool sort(const work *w, candidate *items, size_t n, bool by_spool)
{
    keyed *room = still_calloc(n, sizeof room[0]);
    if (room == NULL) return false;
    for (size_t i = 0; i < n; i++) {
        uint32_t comp = by_spool ? items[i].spool : w->found->items[items[i].segment].lowest;
        room[i] = (keyed){still_id_of(w->plant, comp), items[i]};
    }
    if (n > 1) qsort(room, n, sizeof room[0], by_key);
    for (size_t i = 0; i < n; i++) items[i] = room[i].c;
    still_free(room);
    return true;
}

/* Of two pieces of a ring the better place: a gap first, then the lower spool id. */
static bool better(const work *w, const candidate *a, const candidate *b, const uint8_t *wanted)
{
    bool gap_a = wanted[a->segment] && can_be_covered(&w->found->items[a->segment]);
    bool gap_b = wanted[b->segment] && can_be_covered(&w->found->items[b->segment]);
    if (gap_a != gap_b) return gap_a;
    return strcmp(still_id_of(w->plant, a->spool), still_id_of(w->plant, b->spool)) < 0;
}

static bool make_spots(work *w, const uint8_t *wanted)
{
    bool good = false;
    uint8_t *marked = still_calloc(w->sealed.n_pieces, 1);
    uint8_t *beyond = still_calloc(w->reach.n_rings, 1);
    candidate *all = still_calloc(w->found->n, sizeof all[0]);
    w->spots = still_calloc(w->found->n, sizeof w->spots[0]);
    w->spot_of_ring = still_calloc(w->reach.n_rings, sizeof w->spot_of_ring[0]);
    if (marked == NULL || beyond == NULL || all == NULL || w->spots == NULL ||
        w->spot_of_ring == NULL)
        goto out;
    for (uint32_t s = 0; s < w->found->n; s++) {
        const still_piece_facts *f = &w->found->items[s];
        if (!may_hold(f)) continue;
        uint32_t spool = lowest_spool(w, f);
        all[s] = (candidate){s, spool, still_relief_piece_of_spool(&w->sealed, spool)};
        marked[all[s].piece] = 1;
    }
    still_reach_beyond(&w->reach, marked, beyond);
    for (uint32_t s = 0; s < w->found->n; s++) {
        if (!may_hold(&w->found->items[s])) continue;
        uint32_t ring = w->reach.ring_of[all[s].piece], *spot = &w->spot_of_ring[ring];
        if (beyond[ring]) continue;
        if (*spot == 0) {
            w->spots[w->n_spots] = all[s];
            *spot = (uint32_t)++w->n_spots;
        } else if (better(w, &all[s], &w->spots[*spot - 1], wanted)) {
            w->spots[*spot - 1] = all[s];
        }
    }
    if (!sort(w, w->spots, w->n_spots, true)) goto out;
    for (uint32_t i = 0; i < w->n_spots; i++)
        w->spot_of_ring[w->reach.ring_of[w->spots[i].piece]] = i + 1;
    good = true;
out:
    still_free(marked);
    still_free(beyond);
    still_free(all);
    return good;
}

static bool make_gaps(work *w, const uint8_t *wanted)
{
    w->gaps = still_calloc(w->found->n, sizeof w->gaps[0]);
    candidate *left = still_calloc(w->found->n, sizeof left[0]);
    bool good = w->gaps != NULL && left != NULL;
    uint32_t n_left = 0;
    for (uint32_t s = 0; good && s < w->found->n; s++) {
        const still_piece_facts *f = &w->found->items[s];
        if (!wanted[s] || f->cover != STILL_COVER_UNCOVERED) continue;
        uint32_t spool = lowest_spool(w, f);
        candidate c = {s, spool, still_relief_piece_of_spool(&w->sealed, spool)};
        if (can_be_covered(f))
            w->gaps[w->n_gaps++] = c;
        else
            left[n_left++] = c;
    }
    good = good && sort(w, w->gaps, w->n_gaps, false) && sort(w, left, n_left, false);
    if (good) {
        w->out->left = STILL_ARENA_NEW(w->arena, n_left, uint32_t);
        good = w->out->left != NULL;
        for (uint32_t i = 0; good && i < n_left; i++)
            w->out->left[w->out->n_left++] = left[i].segment;
    }
    still_free(left);
    return good;
}

static int ascending(const void *pa, const void *pb)
{
    uint32_t a = *(const uint32_t *)pa, b = *(const uint32_t *)pb;
    return a < b ? -1 : a > b;
}

/* Spots that a piece's ways reach, ascending, in w->near. */
static size_t spots_near(work *w, uint32_t piece, bool *three_way)
{
    size_t n = 0, kept = 0;
    uint32_t n_met = still_reach_walk(&w->reach, piece, w->met, three_way);
    for (uint32_t i = 0; i < n_met; i++) {
        uint32_t spot = w->spot_of_ring[w->reach.ring_of[w->met[i]]];
        if (spot != 0) w->near[n++] = spot - 1;
    }
    if (n > 1) qsort(w->near, n, sizeof w->near[0], ascending);
    for (size_t i = 0; i < n; i++)
        if (i == 0 || w->near[i] != w->near[kept - 1]) w->near[kept++] = w->near[i];
    return kept;
}

/* The demand of a gap that the spots chosen leave uncovered. Without a three-way valve on its ways:
 * one of all that it reaches. Else what is left over when as many spots are taken as leave it
 * uncovered: every answer takes one of those, since more valves never uncover it. */
static bool add_demand(work *w, const candidate *gap)
{
    bool three_way;
    size_t n = spots_near(w, gap->piece, &three_way), n_at = 0, kept = 0;
    if (!three_way) return still_demands_add(&w->demands, w->near, n);
    for (size_t i = 0; i < n; i++)
        if (w->chosen[w->near[i]]) w->at[n_at++] = w->spots[w->near[i]].piece;
    for (size_t i = 0; i < n; i++) {
        if (w->chosen[w->near[i]]) continue;
        w->at[n_at] = w->spots[w->near[i]].piece;
        still_reach_settle(&w->reach, w->at, n_at + 1);
        if (still_reach_covered(&w->reach, gap->piece))
            w->near[kept++] = w->near[i];
        else
            n_at++;
    }
    return still_demands_add(&w->demands, w->near, kept);
}

/* Gaps whose plain ways lead to no other gap ask first; most others are met with them. */
static bool first_demands(work *w)
{
    uint8_t *marked = still_calloc(w->sealed.n_pieces, 1);
    uint8_t *asked = still_calloc(w->reach.n_rings, 1);
    w->gaps_beyond = still_calloc(w->reach.n_rings, 1);
    bool good = marked != NULL && asked != NULL && w->gaps_beyond != NULL;
    for (size_t i = 0; i < w->n_gaps && good; i++) marked[w->gaps[i].piece] = 1;
    if (good) still_reach_beyond(&w->reach, marked, w->gaps_beyond);
    for (size_t i = 0; i < w->n_gaps && good; i++) {
        uint32_t ring = w->reach.ring_of[w->gaps[i].piece];
        if (w->gaps_beyond[ring] == 0 && asked[ring] == 0) good = add_demand(w, &w->gaps[i]);
        asked[ring] = 1;
    }
    still_free(marked);
    still_free(asked);
    return good;
}

static size_t take_chosen(work *w)
{
    size_t n = 0;
    for (size_t i = 0; i < w->n_spots; i++)
        if (w->chosen[i]) w->at[n++] = w->spots[i].piece;
    return n;
}

static still_status choose(work *w, still_hitting *answer)
{
    if (!first_demands(w)) return STILL_E_NOMEM;
    for (;;) {
        size_t before = w->demands.n, n_open = 0;
        still_status status =
            still_hitting_find(answer, w->chosen, &w->demands, (uint32_t)w->n_spots);
        if (status != STILL_OK) return status;
        uint8_t *open = still_calloc(w->n_gaps, 1);
        if (open == NULL) return STILL_E_NOMEM;
        size_t n = take_chosen(w);
        still_reach_settle(&w->reach, w->at, n);
        for (size_t i = 0; i < w->n_gaps; i++) {
            open[i] = !still_reach_covered(&w->reach, w->gaps[i].piece);
            n_open += open[i];
        }
        for (size_t i = 0; i < w->n_gaps && status == STILL_OK; i++)
            if (open[i] && !add_demand(w, &w->gaps[i])) status = STILL_E_NOMEM;
        still_free(open);
        if (status != STILL_OK) return status;
        if (n_open == 0 || w->demands.n == before) return STILL_OK;
    }
}

/* ---- what each place covers ---- */

/* covers[gap] lists: pairs of place and gap, grown as found. */
typedef struct pair {
    uint32_t place, gap;
    bool jointly;
} pair;

typedef struct pairs {
    pair *items;
    size_t n, cap;
} pairs;

static bool add_pair(pairs *p, uint32_t place, uint32_t gap, bool jointly)
{
    if (!still_grow(&p->items, &p->cap, p->n + 1, sizeof p->items[0])) return false;
    p->items[p->n++] = (pair){place, gap, jointly};
    return true;
}

/* A gap that no single place covers: places are taken away one after another as long as the rest
 * covers it. All that stay are needed together. */
static bool add_joint(work *w, pairs *p, uint32_t gap, size_t n)
{
    for (size_t out = 0; out < n;) {
        for (size_t i = 0, k = 0; i < n; i++)
            if (i != out) w->at[k++] = w->spots[w->near[i]].piece;
        still_reach_settle(&w->reach, w->at, n - 1);
        if (!still_reach_covered(&w->reach, w->gaps[gap].piece)) {
            out++;
            continue;
        }
        memmove(w->near + out, w->near + out + 1, (n - out - 1) * sizeof w->near[0]);
        n--;
    }
    for (size_t i = 0; i < n; i++)
        if (!add_pair(p, w->near[i], gap, true)) return false;
    return true;
}

static bool cover_one(work *w, pairs *p, uint32_t gap)
{
    bool three_way, alone = false;
    uint32_t piece = w->gaps[gap].piece;
    size_t n = spots_near(w, piece, &three_way), kept = 0;
    for (size_t i = 0; i < n; i++)
        if (w->chosen[w->near[i]]) w->near[kept++] = w->near[i];
    for (size_t i = 0; i < kept; i++) {
        if (three_way) {
            still_reach_settle(&w->reach, &w->spots[w->near[i]].piece, 1);
            if (!still_reach_covered(&w->reach, piece)) continue;
        }
        alone = true;
        if (!add_pair(p, w->near[i], gap, false)) return false;
    }
    return alone || add_joint(w, p, gap, kept);
}

static int by_place(const void *pa, const void *pb)
{
    const pair *a = pa, *b = pb;
    if (a->place != b->place) return a->place < b->place ? -1 : 1;
    return a->gap < b->gap ? -1 : a->gap > b->gap;
}

/* Rather at a gap than further on, where that covers as much: fewer ways to rely on. Only the last
 * gap can do, so there has to be one ring of them. */
static void draw_near(work *w, still_place *place, const pair *of, size_t n)
{
    const candidate *to = NULL;
    if (place->n_jointly > 0) return;
    for (size_t i = 0; i < n; i++) {
        const candidate *gap = &w->gaps[of[i].gap];
        uint32_t ring = w->reach.ring_of[gap->piece];
        if (gap->segment == place->segment) return;
        if (w->gaps_beyond[ring]) continue;
        if (to != NULL && w->reach.ring_of[to->piece] != ring) return;
        if (to == NULL ||
            strcmp(still_id_of(w->plant, gap->spool), still_id_of(w->plant, to->spool)) < 0)
            to = gap;
    }
    if (to == NULL) return;
    still_reach_settle(&w->reach, &to->piece, 1);
    for (size_t i = 0; i < n; i++)
        if (!still_reach_covered(&w->reach, w->gaps[of[i].gap].piece)) return;
    place->segment = to->segment;
    place->spool = to->spool;
}

static bool fill_place(work *w, still_place *place, const candidate *spot, const pair *of, size_t n)
{
    *place = (still_place){.segment = spot->segment, .spool = spot->spool};
    place->covers = STILL_ARENA_NEW(w->arena, n, uint32_t);
    place->jointly = STILL_ARENA_NEW(w->arena, n, uint32_t);
    if (place->covers == NULL || place->jointly == NULL) return false;
    place->set_bara = (double)INFINITY;
    for (size_t i = 0; i < n; i++) {
        uint32_t segment = w->gaps[of[i].gap].segment;
        place->covers[place->n_covers++] = segment;
        if (of[i].jointly) place->jointly[place->n_jointly++] = segment;
        place->set_bara = fmin(place->set_bara, w->found->items[segment].design_bara);
    }
    draw_near(w, place, of, n);
    return true;
}

static bool fill(work *w)
{
    pairs p = {NULL, 0, 0};
    bool good = true;
    for (uint32_t i = 0; i < w->n_gaps && good; i++) good = cover_one(w, &p, i);
    if (good && p.n > 1) qsort(p.items, p.n, sizeof p.items[0], by_place);
    w->out->items = STILL_ARENA_NEW(w->arena, w->n_spots, still_place);
    good = good && w->out->items != NULL;
    for (size_t i = 0, end; i < p.n && good; i = end) {
        for (end = i + 1; end < p.n && p.items[end].place == p.items[i].place;) end++;
        good = fill_place(w, &w->out->items[w->out->n++], &w->spots[p.items[i].place], p.items + i,
                          end - i);
    }
    still_free(p.items);
    return good;
}

static still_status find(work *w, const uint8_t *wanted)
{
    still_hitting answer;
    still_status status = still_reach_build(&w->reach, &w->sealed);
    if (status != STILL_OK) return status;
    if (!make_gaps(w, wanted) || !make_spots(w, wanted)) return STILL_E_NOMEM;
    w->chosen = still_calloc(w->n_spots, 1);
    w->near = still_calloc(w->sealed.n_pieces, sizeof w->near[0]);
    w->met = still_calloc(w->sealed.n_pieces, sizeof w->met[0]);
    w->at = still_calloc((size_t)w->sealed.n_pieces + 1, sizeof w->at[0]);
    if (w->chosen == NULL || w->near == NULL || w->met == NULL || w->at == NULL)
        return STILL_E_NOMEM;
    if (w->n_gaps == 0) return STILL_OK;
    status = choose(w, &answer);
    if (status != STILL_OK) return status;
    if (!fill(w)) return STILL_E_NOMEM;
    w->out->bound = answer.bound;
    /* A place that a greedy answer does not need covers nothing that is listed, and is gone. */
    w->out->proven = answer.proven || answer.bound == w->out->n;
    w->out->ratio = w->out->proven ? 1 : answer.ratio;
    return STILL_OK;
}

still_status still_places_find(still_places *out, still_arena *arena, const still_plant *plant,
                               const still_state *state, const still_segments *segments,
                               const uint8_t *wanted)
{
    work w = {.plant = plant, .arena = arena, .found = segments, .out = out};
    *out = (still_places){.proven = true, .ratio = 1};
    still_status status = still_relief_build_as(&w.sealed, plant, state, NULL, STILL_HANDS_SEALED);
    if (status == STILL_OK) status = find(&w, wanted);
    still_reach_clear(&w.reach);
    still_relief_clear(&w.sealed);
    still_demands_clear(&w.demands);
    still_free(w.gaps);
    still_free(w.spots);
    still_free(w.spot_of_ring);
    still_free(w.gaps_beyond);
    still_free(w.chosen);
    still_free(w.met);
    still_free(w.near);
    still_free(w.at);
    return status;
}
