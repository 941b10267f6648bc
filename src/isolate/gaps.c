/* Splits at a compartment without a bleed.
 * Problem: a labelling leaves a compartment without one. Method: between, the piece in it is bled
 * by one of the outlets that it can be joined to, or has another label, or lies in a dead space;
 * the work's own space is split at all that makes the compartment what it is. Of several gaps the
 * one is taken whose splits have raised the bound most so far. Why no labelling is lost:
 * docs/METHOD.md, 3.4. Cost: a cut for each child. */
#include "cases.h"

#include "alloc.h"

#include <string.h>

/* --- which gap ---------------------------------------------------------------------------------
 */

/* --- bleeds ----------------------------------------------------------------------------------- */

typedef struct weighing {
    const still_run *r;
    uint32_t n, best;
    uint32_t weight; /* of the best */
} weighing;

/* A gap: is it the one whose split has helped most so far? */
static bool weigh_gap(void *arg, const uint32_t *ports, size_t n_ports, const uint32_t *way,
                      size_t n_way)
{
    weighing *w = arg;
    uint32_t weight = 0;
    (void)way;
    if (n_way > 0) return true;
    for (size_t i = 0; i < n_ports; i++) {
        uint32_t here = w->r->gain[w->r->layers->zone->piece_of_port[ports[i]] - 1];
        if (here > weight) weight = here;
    }
    if (w->n == 0 || weight > w->weight) {
        w->best = w->n;
        w->weight = weight;
    }
    w->n++;
    return true;
}

/* Of several gaps between, note the most promising one. The second look stops there, so that what
 * is noted is of this one only. */
static still_status choose_gap(still_run *r, const still_open_case *o, const uint8_t *locked)
{
    weighing w = {.r = r};
    still_status status = still_bleeds_check(&r->bleeds, o->l.label, 1, locked, weigh_gap, &w);
    if (status != STILL_OK || w.n == 0) return status;
    r->bleeds.pass_over = w.best;
    status = still_bleeds_check(&r->bleeds, o->l.label, 1, locked, NULL, NULL);
    r->bleeds.pass_over = 0;
    return status;
}

still_status still_gap_find(still_run *r, const still_open_case *o, uint8_t *which)
{
    const still_asked *asks = r->layers->zone->asked;
    uint8_t *locked = still_calloc(r->layers->n_isolators + 1, 1);
    if (locked == NULL) return STILL_E_NOMEM;
    for (uint32_t k = 0; k < o->l.n_lock; k++) locked[o->l.lock[k]] = 1;
    still_status status = STILL_OK;
    r->bleeds.gap = false;
    for (*which = 0; *which < 2; ++*which) {
        if (*which == 0 ? !asks->bleed_work : !asks->bleed_between) continue;
        status = *which == 1
                     ? choose_gap(r, o, locked)
                     : still_bleeds_check(&r->bleeds, o->l.label, *which, locked, NULL, NULL);
        if (status != STILL_OK || r->bleeds.gap) break;
    }
    still_free(locked);
    return status;
}

/* --- all that makes a compartment what it is ----------------------------------------------------
 */

static bool fixed(const still_split *s, uint32_t piece, uint8_t label)
{
    const still_piece *p = &s->r->layers->zone->pieces[piece];
    if (p->work || !still_in_play(p)) return p->work && label == 0;
    return s->base.low[piece] == label && s->base.high[piece] == label;
}

/* The piece on the other side of a point that bounds the compartment, if its label is still open;
 * or STILL_NONE. */
static uint32_t far_piece(const still_split *s, const still_device *d, uint8_t label)
{
    const still_zone *zone = s->r->layers->zone;
    for (int k = 0; k < 2 && d->n == 2; k++) {
        uint32_t far = d->piece[1 - k];
        if (fixed(s, d->piece[k], label) && !fixed(s, far, label) && !zone->pieces[far].work &&
            still_in_play(&zone->pieces[far]))
            return far;
    }
    return STILL_NONE;
}

/* One child in which a point that bounds the compartment is none: the far side has its label, too.
 * In all further ones it has another. */
static void leave_closed(still_split *s, uint32_t device, uint8_t label)
{
    uint32_t far = STILL_NONE;
    if (s->status == STILL_OK) far = far_piece(s, &s->r->layers->zone->devices[device], label);
    still_case c = still_split_child(s);
    if (s->status == STILL_OK) {
        c.alike[device] = 1;
        if (far != STILL_NONE && c.low[far] < label) c.low[far] = label;
        if (far != STILL_NONE && c.high[far] > label) c.high[far] = label;
    }
    still_split_finish(s, &c);
    if (far == STILL_NONE || s->status != STILL_OK) return;
    if (label == 1)
        s->base.hole[far] = 1;
    else if (s->base.low[far] < 1)
        s->base.low[far] = 1;
}

/* The compartment without a bleed stays one as long as its pieces keep their label, the points that
 * bound it stay points, and no further isolator is locked. */
static still_status split_whole(still_run *r, const still_open_case *o, uint8_t which)
{
    const still_zone *zone = r->layers->zone;
    const still_bleeds *b = &r->bleeds;
    still_split s = still_split_begin(r, o, o->for_d4);
    bool more = s.status == STILL_OK;
    for (uint32_t i = 0; i < b->n_pieces && more; i++)
        if (!zone->pieces[b->pieces[i]].work) more = still_split_hold(&s, b->pieces[i], which);
    /* Choices without an extra point are in the cases beside this one. */
    for (uint32_t i = 0; i < b->n_devices && more; i++)
        if (!o->c.extra[b->devices[i]]) leave_closed(&s, b->devices[i], which);
    for (uint32_t i = 0; i < b->n_lock && more; i++) still_split_locked(&s, b->lock[i]);
    return still_split_end(&s);
}

/* --- dead spaces -------------------------------------------------------------------------------
 */

/* A piece lies between, and nothing around it has label 2. */
static void make_dead(const still_zone *zone, still_case *c, uint32_t p)
{
    c->life[p] = STILL_LIFE_DEAD;
    if (c->low[p] < 1) c->low[p] = 1;
    if (c->high[p] > 1) c->high[p] = 1;
    for (uint32_t j = 0; j < zone->pieces[p].n_devs; j++) {
        const still_device *d = &zone->devices[zone->piece_devs[zone->pieces[p].dev0 + j]];
        for (int k = 0; k < d->n; k++) {
            uint32_t q = d->piece[k];
            if (q == STILL_NONE || zone->pieces[q].work || !still_in_play(&zone->pieces[q]))
                continue;
            if (c->high[q] > 1) c->high[q] = 1;
        }
    }
}

/* Dead, or not: two children. */
static void child_dead(still_split *s, uint32_t p)
{
    still_case c = still_split_child(s);
    if (s->status == STILL_OK) make_dead(s->r->layers->zone, &c, p);
    still_split_finish(s, &c);
    if (s->status == STILL_OK) s->base.life[p] = STILL_LIFE_LIVE;
}

/* A dead space is of use only where it saves an isolator, so it holds a piece with a feed: one of
 * these is dead, or none. If none of them is left open, the piece is dead or not. */
static still_status split_life(still_run *r, const still_open_case *o, const still_bleed_ties *ties,
                               uint32_t piece)
{
    const still_zone *zone = r->layers->zone;
    const still_bleed_ways *w = &r->ways;
    still_split s = still_split_begin(r, o, o->for_d4);
    bool any = false;
    for (uint32_t p = 0; p < zone->n_pieces && s.status == STILL_OK; p++) {
        if (!ties->mortal[p] || o->c.life[p] == STILL_LIFE_DEAD || !still_bleed_reason(w, &o->c, p))
            continue;
        child_dead(&s, p);
        any = true;
    }
    if (!any) child_dead(&s, piece);
    return still_split_end_with_rest(&s);
}

/* From a piece that is said to be dead through its space to the nearest one with label 2 behind it.
 * @return pieces of the way, the dead one first; from[p] = 1 + the piece before, by[p] the device
 */
static size_t find_out(const still_run *r, const still_open_case *o, uint32_t start, uint32_t *from,
                       uint32_t *by, uint32_t *way)
{
    const still_zone *zone = r->layers->zone;
    const uint8_t *label = o->l.label;
    size_t tail = 0, n = 0;
    from[start] = STILL_NONE;
    way[tail++] = start;
    for (size_t head = 0; head < tail; head++) {
        uint32_t p = way[head];
        const still_piece *piece = &zone->pieces[p];
        bool edge = false;
        for (uint32_t j = 0; j < piece->n_devs; j++) {
            uint32_t i = zone->piece_devs[piece->dev0 + j];
            const still_device *d = &zone->devices[i];
            for (int near = 0; near < d->n; near++)
                for (int far = 0; far < d->n; far++) {
                    uint32_t q = d->piece[far];
                    if (near == far || d->piece[near] != p || q == STILL_NONE ||
                        zone->pieces[q].top == UINT8_MAX)
                        continue;
                    if (label[q] == 2) edge = true;
                    if (label[q] != 1 || from[q] != 0 || !still_in_play(&zone->pieces[q]) ||
                        still_extra_parts(zone, label, d, near, far))
                        continue;
                    from[q] = p + 1;
                    by[q] = i;
                    way[tail++] = q;
                }
        }
        if (!edge) continue;
        for (uint32_t q = p; q != STILL_NONE; q = from[q] == STILL_NONE ? STILL_NONE : from[q] - 1)
            n++;
        for (size_t i = n; i > 0; i--) {
            way[i - 1] = p;
            if (i > 1) p = from[p] - 1;
        }
        return n;
    }
    return 0;
}

static bool beside_wall(const still_zone *zone, uint32_t p)
{
    for (uint32_t j = 0; j < zone->pieces[p].n_devs; j++) {
        const still_device *d = &zone->devices[zone->piece_devs[zone->pieces[p].dev0 + j]];
        for (int k = 0; k < d->n; k++)
            if (d->piece[k] != STILL_NONE && zone->pieces[d->piece[k]].wall) return true;
    }
    return false;
}

/* A piece that is said to be dead, but is not: the first piece of the way out that has another
 * label, or is parted from the one before. All before it are dead, too. */
static still_status split_dead(still_run *r, const still_open_case *o, uint32_t piece)
{
    const still_zone *zone = r->layers->zone;
    uint32_t *room = still_calloc(3 * (size_t)zone->n_pieces + 1, sizeof room[0]);
    if (room == NULL) return STILL_E_NOMEM;
    uint32_t *from = room, *by = from + zone->n_pieces, *way = by + zone->n_pieces;
    size_t n = find_out(r, o, piece, from, by, way);
    still_split s = still_split_begin(r, o, o->for_d4);
    for (size_t i = 1; i < n && s.status == STILL_OK; i++) {
        uint32_t p = way[i];
        if (s.base.low[p] != 1 || s.base.high[p] != 1) {
            still_case c = still_split_child(&s);
            if (s.status == STILL_OK) c.hole[p] = 1;
            still_split_finish(&s, &c);
        }
        still_split_extra(&s, by[p], way[i - 1], p);
        if (s.status == STILL_OK) make_dead(zone, &s.base, p);
    }
    bool walled = n == 0 || beside_wall(zone, way[n - 1]);
    still_free(room);
    if (s.status == STILL_OK && n == 0) s.status = STILL_E_INTERNAL;
    /* All of the way is dead: then what stands behind it has another label. */
    return walled ? still_split_end(&s) : still_split_end_with_rest(&s);
}

/* --- spaces that must be bled ------------------------------------------------------------------
 */

/* The cells of the compartment without a bleed are marked. */
static void mark_cells(const still_run *r, uint8_t *mark)
{
    for (size_t i = r->bleeds.gap0; i < r->bleeds.n_touched; i++)
        mark[r->ways.cell_of[r->bleeds.touched[i]] - 1] = 1;
}

/* A piece on the way from a cell of the compartment to its outlet lies between, or not. */
static still_status split_way(still_run *r, const still_open_case *o, const still_serve *serve,
                              const uint8_t *mark, const uint32_t *parent)
{
    uint32_t k = serve->outlet, before = k;
    for (; !mark[k]; k = parent[k]) before = k;
    uint32_t p = r->ways.piece[before];
    still_split s = still_split_begin(r, o, o->for_d4);
    still_case c = still_split_child(&s);
    if (s.status == STILL_OK) c.hole[p] = 1;
    still_split_finish(&s, &c);
    if (s.status == STILL_OK) {
        if (s.base.low[p] < 1) s.base.low[p] = 1;
        if (s.base.high[p] > 1) s.base.high[p] = 1;
    }
    return still_split_end_with_rest(&s);
}

/* A cell of the compartment, in a piece that must be bled if it lies between: it does not, or it is
 * bled by one of the outlets that it can be joined to. */
static still_status split_outlets(still_run *r, const still_open_case *o, uint32_t cell,
                                  const uint32_t *parent)
{
    const still_bleed_ways *w = &r->ways;
    uint32_t p = w->piece[cell];
    still_split s = still_split_begin(r, o, o->for_d4);
    if (s.status == STILL_OK && (s.base.low[p] != 1 || s.base.high[p] != 1)) {
        still_case c = still_split_child(&s);
        if (s.status == STILL_OK) c.hole[p] = 1;
        still_split_finish(&s, &c);
    }
    if (s.status == STILL_OK) {
        s.base.low[p] = s.base.high[p] = 1;
        s.base.life[p] = STILL_LIFE_LIVE;
    }
    for (uint32_t k = 0; k < w->n_cells && s.status == STILL_OK; k++) {
        if (!w->bled[k] || parent[k] == STILL_NONE) continue;
        still_case c = still_split_child(&s);
        if (s.status == STILL_OK) s.status = still_case_serve(&c, cell, k);
        for (uint32_t i = w->need0[k]; i < w->need0[k + 1] && s.status == STILL_OK; i++)
            c.locked[w->needs[i]] = 1;
        still_split_finish(&s, &c);
    }
    return still_split_end(&s);
}

/* The compartment without a bleed must have one: this piece of it is not in a dead space. */
static still_status split_live(still_run *r, const still_open_case *o, uint32_t piece)
{
    const still_bleed_ways *w = &r->ways;
    uint8_t *mark = still_calloc((size_t)w->n_cells + 1, 1);
    uint32_t *parent = still_calloc((size_t)w->n_cells + 1, sizeof parent[0]);
    still_status status = STILL_E_NOMEM;
    if (mark == NULL || parent == NULL) goto out;
    status = STILL_OK;
    mark_cells(r, mark);
    const still_serve *serve = NULL;
    for (uint32_t i = 0; i < o->c.n_serves; i++)
        if (mark[o->c.serves[i].cell]) serve = &o->c.serves[i];
    uint32_t cell = serve != NULL ? serve->cell : 0;
    while (serve == NULL && (!mark[cell] || w->piece[cell] != piece)) cell++;
    if (serve != NULL && mark[serve->outlet]) {
        status = split_whole(r, o, 1); /* it does not serve: something is not locked, or its stub
                                          has become more than pipework */
        goto out;
    }
    status = still_bleed_ways_reach(w, &o->c, cell, parent);
    if (status != STILL_OK) goto out;
    status =
        serve != NULL ? split_way(r, o, serve, mark, parent) : split_outlets(r, o, cell, parent);
out:
    still_free(mark);
    still_free(parent);
    return status;
}

/* A compartment between: what is known of its pieces decides how it is split. */
static still_status split_between(still_run *r, const still_open_case *o)
{
    still_bleed_ties ties;
    still_status status = still_bleed_ties_find(&ties, &r->ways, &o->c);
    uint32_t unsettled = STILL_NONE, live = STILL_NONE, dead = STILL_NONE;
    for (uint32_t i = 0; i < r->bleeds.n_pieces && status == STILL_OK; i++) {
        uint32_t p = r->bleeds.pieces[i];
        bool fixed = o->c.low[p] == 1 && o->c.high[p] == 1;
        if (o->c.life[p] == STILL_LIFE_DEAD) dead = p;
        if (!ties.mortal[p] && (live == STILL_NONE || fixed)) live = p;
        if (o->c.life[p] == STILL_LIFE_OPEN && unsettled == STILL_NONE) unsettled = p;
    }
    if (status == STILL_OK) {
        if (dead != STILL_NONE)
            status = split_dead(r, o, dead);
        else if (live != STILL_NONE)
            status = split_live(r, o, live);
        else
            status = split_life(r, o, &ties, unsettled);
    }
    still_bleed_ties_clear(&ties);
    return status;
}

/* Split a gap, and note what it was good for. */
still_status still_gap_split(still_run *r, const still_open_case *o, uint8_t which)
{
    r->parent_bound = o->l.bound;
    r->parent_sources = o->l.sources;
    r->least = STILL_GREAT_RISE;
    uint32_t n = r->bleeds.n_pieces;
    uint32_t *pieces = still_calloc((size_t)n + 1, sizeof pieces[0]);
    if (pieces == NULL) return STILL_E_NOMEM;
    memcpy(pieces, r->bleeds.pieces, n * sizeof pieces[0]);
    still_status status = which == 1 ? split_between(r, o) : split_whole(r, o, which);
    for (uint32_t i = 0; i < n; i++)
        r->gain[pieces[i]] = (r->gain[pieces[i]] + 1000 * r->least) / 2;
    still_free(pieces);
    return status;
}
