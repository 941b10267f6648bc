/* The search over cases.
 * Problem: conditions that are no cut: positions of three-way valves, feeds shared by what is
 * closed further out, bleeds, relief paths. Method: best first, in the order of cost of each case's
 * least labelling. The first labelling that meets all conditions is the best of all. A labelling
 * that breaks one splits its case. Why it is right: docs/METHOD.md, 3.4. Cost: a cut a case; the
 * number of cases has a limit. */
#include "search.h"

#include "alloc.h"
#include "bleed.h"
#include "isolation.h"

#include <string.h>

typedef struct open_case {
    still_case c;
    still_labelling l;
    bool for_d4; /* split off to avoid a breach */
} open_case;

typedef struct run {
    still_search *s;
    still_layers *layers;
    const still_judge *judge;
    still_bleeds bleeds;
    open_case *heap;
    size_t n_heap, heap_cap;
    uint64_t n_d4;
    open_case breached; /* the best labelling that breaks D4 only */
    bool has_breached;
    uint32_t *points, *culprits; /* of the labelling in hand */
    bool diving;                 /* past the limit: any choice that holds */
} run;

static void free_case(open_case *o)
{
    still_case_clear(&o->c);
    still_labelling_clear(&o->l);
}

static bool before(const open_case *a, const open_case *b)
{
    return still_labelling_compare(&a->l, &b->l) < 0;
}

static bool push(run *r, const open_case *o)
{
    if (!still_grow(&r->heap, &r->heap_cap, r->n_heap + 1, sizeof r->heap[0])) return false;
    size_t at = r->n_heap++;
    while (at > 0 && before(o, &r->heap[(at - 1) / 2])) {
        r->heap[at] = r->heap[(at - 1) / 2];
        at = (at - 1) / 2;
    }
    r->heap[at] = *o;
    return true;
}

static open_case pop(run *r)
{
    open_case top = r->heap[0], last = r->heap[--r->n_heap];
    size_t at = 0;
    for (;;) {
        size_t child = 2 * at + 1;
        if (child >= r->n_heap) break;
        if (child + 1 < r->n_heap && before(&r->heap[child + 1], &r->heap[child])) child++;
        if (!before(&r->heap[child], &last)) break;
        r->heap[at] = r->heap[child];
        at = child;
    }
    if (r->n_heap > 0) r->heap[at] = last;
    return top;
}

/* Solve a case and put it on the heap; one without a labelling is dropped. Takes the case over. */
static still_status open(run *r, still_case *c, bool for_d4)
{
    open_case o = {.c = *c, .for_d4 = for_d4};
    bool feasible = false;
    *c = (still_case){0};
    still_status status = still_layers_solve(&o.l, &feasible, r->layers, &o.c, NULL);
    r->s->nodes++;
    if (for_d4) r->n_d4++;
    if (status == STILL_OK && feasible && push(r, &o)) return STILL_OK;
    if (status == STILL_OK && feasible) status = STILL_E_NOMEM;
    free_case(&o);
    return status;
}

/* A child of a case: changed by one restriction. */
typedef struct split {
    run *r;
    const open_case *from;
    still_case base; /* restrictions that all further children keep */
    bool for_d4;
    still_status status;
} split;

static still_case child(split *s)
{
    still_case c = {0};
    if (s->status == STILL_OK) s->status = still_case_copy(&c, &s->base, s->r->layers);
    return c;
}

static void finish(split *s, still_case *c)
{
    if (s->status == STILL_OK)
        s->status = open(s->r, c, s->for_d4);
    else
        still_case_clear(c);
}

static split begin(run *r, const open_case *from, bool for_d4)
{
    split s = {.r = r, .from = from, .for_d4 = for_d4};
    s.status = still_case_copy(&s.base, &from->c, r->layers);
    return s;
}

static still_status end(split *s)
{
    still_case_clear(&s->base);
    return s->status;
}

static void child_alike(split *s, uint32_t device)
{
    still_case c = child(s);
    if (s->status == STILL_OK) c.alike[device] = 1;
    finish(s, &c);
}

/* A three-way valve in this position parts one piece from another. */
static bool parts_pieces(const still_device *d, uint8_t position, uint32_t near, uint32_t live)
{
    for (int a = 0; a < d->n; a++)
        for (int b = 0; b < d->n; b++)
            if (a != b && d->piece[a] == near && d->piece[b] == live &&
                (d->joined[position] >> a & d->joined[position] >> b & 1) != 0)
                return false;
    return true;
}

/* Closed with label 1 on all sides: it parts a space between, so that only one part of it has
 * something behind. Of a three-way valve, in each position. */
static void child_extra(split *s, uint32_t device, uint32_t near, uint32_t live)
{
    const still_device *d = &s->r->layers->zone->devices[device];
    bool holds = d->valve && !s->base.extra[device];
    /* What is closed off may be the side further from the work: it has to hold against that, too.
     */
    for (int k = 0; k < d->n; k++) holds = holds && d->holds[k];
    for (uint8_t i = 0; i < (d->n == 2 ? 1 : d->positions) && holds; i++) {
        if (d->n == 3 && !parts_pieces(d, i, near, live)) continue;
        still_case c = child(s);
        for (int k = 0; k < d->n && s->status == STILL_OK; k++) {
            uint32_t p = d->piece[k];
            if (c.low[p] < 1) c.low[p] = 1;
            if (c.high[p] > 1) c.high[p] = 1;
        }
        if (s->status == STILL_OK) c.extra[device] = (uint8_t)(i + 1);
        finish(s, &c);
    }
}

static void child_locked(split *s, uint32_t isolator)
{
    still_case c = child(s);
    if (s->status == STILL_OK) c.locked[isolator] = 1;
    finish(s, &c);
}

static void child_labels(split *s, uint32_t piece, uint8_t low, uint8_t high)
{
    const still_piece *p = &s->r->layers->zone->pieces[piece];
    /* The work and the walls have one label only, the one that is to be changed. */
    if (s->status != STILL_OK || p->work || !still_in_play(p)) return;
    if (low < s->base.low[piece]) low = s->base.low[piece];
    if (high > s->base.high[piece]) high = s->base.high[piece];
    if (low > high) return;
    still_case c = child(s);
    if (s->status == STILL_OK) {
        c.low[piece] = low;
        c.high[piece] = high;
    }
    finish(s, &c);
}

/* --- three-way valves --------------------------------------------------------------------- */

/* The position in which a three-way valve has just these labels. @return 1 + position, 0 = none */
static uint8_t position_for(const still_zone *zone, const still_device *d, const uint8_t *label,
                            uint8_t settled)
{
    for (uint8_t i = 0; i < d->positions; i++) {
        if (settled != 0 && settled != i + 1) continue;
        int first = -1;
        bool good = true, holds = true;
        for (int k = 0; k < 3; k++) {
            if ((d->joined[i] >> k & 1) == 0) continue;
            if (first < 0) first = k;
            if (label[d->piece[k]] != label[d->piece[first]]) good = false;
            holds = holds && d->holds[k];
        }
        if (first < 0) continue;
        for (int k = 0; k < 3 && good; k++) {
            if ((d->joined[i] >> k & 1) != 0) continue;
            int step = (int)label[d->piece[k]] - (int)label[d->piece[first]];
            if (step > 1 || step < -1) good = false;
            if (step > 0 && !d->holds[k]) good = false;
            if (step < 0 && !holds) good = false;
            uint8_t layer = label[d->piece[k]] > label[d->piece[first]] ? label[d->piece[k]]
                                                                        : label[d->piece[first]];
            if (step != 0 && !still_device_serves(zone, d, layer)) good = false;
        }
        if (good) return (uint8_t)(i + 1);
    }
    return 0;
}

/* @return a three-way point that no position makes, or STILL_NONE */
static uint32_t odd_three_way(const run *r, const open_case *o)
{
    const still_zone *zone = r->layers->zone;
    for (uint32_t d = 0; d < zone->n_devices; d++) {
        const still_device *dev = &zone->devices[d];
        if (dev->n != 3 || !still_is_point(zone, o->l.label, dev)) continue;
        if (position_for(zone, dev, o->l.label, o->c.position[d]) == 0) return d;
    }
    return STILL_NONE;
}

static still_status split_three_way(run *r, const open_case *o, uint32_t d)
{
    const still_device *dev = &r->layers->zone->devices[d];
    if (o->c.position[d] != 0) return STILL_E_INTERNAL; /* a settled one has its edges */
    split s = begin(r, o, o->for_d4);
    child_alike(&s, d);
    for (uint8_t i = 0; i < dev->positions; i++) {
        still_case c = child(&s);
        if (s.status == STILL_OK) c.position[d] = (uint8_t)(i + 1);
        finish(&s, &c);
    }
    return end(&s);
}

/* --- feeds ------------------------------------------------------------------------------------ */

/* An isolator that the labelling needs and the cut did not pay: the cause is a device that is
 * closed further out, or a hand device with both sides inside. Either the isolator is locked, or
 * the cause goes. */
static still_status split_feed(run *r, const open_case *o)
{
    const still_zone *zone = r->layers->zone;
    const uint8_t *label = o->l.label;
    for (uint32_t d = 0; d < zone->n_devices; d++) {
        const still_device *dev = &zone->devices[d];
        size_t n;
        const still_comp_feed *feeds = still_comp_feeds(zone->plant, dev->comp, &n);
        bool point = still_is_point(zone, label, dev), within = true;
        for (int k = 0; k < dev->n; k++)
            within = within && dev->piece[k] != STILL_NONE && label[dev->piece[k]] == 0;
        if (n == 0 || !(point ? dev->supplied : within)) continue;
        uint32_t owed = STILL_NONE;
        for (uint32_t k = 0; k < o->l.n_lock && owed == STILL_NONE; k++) {
            uint32_t isolator = o->l.lock[k];
            bool by_device = false, paid = o->c.locked[isolator] != 0;
            for (size_t j = 0; j < n; j++)
                if (still_isolator_feed(zone->plant, feeds[j].feed) ==
                    r->layers->isolators[isolator])
                    by_device = true;
            for (size_t e = 0; e < r->layers->n_entries && by_device && !paid; e++) {
                const still_entry *entry = &r->layers->entries[e];
                uint8_t outside = zone->pieces[entry->piece].outside;
                paid = entry->isolator == isolator &&
                       label[entry->piece] < (entry->below < outside ? entry->below : outside);
            }
            if (by_device && !paid) owed = isolator;
        }
        if (owed == STILL_NONE) continue;
        split s = begin(r, o, o->for_d4);
        child_locked(&s, owed);
        if (o->c.extra[d]) return end(&s); /* choices without it are in the cases beside this one */
        if (point) {
            child_alike(&s, d);
            for (int k = 0; k < dev->n; k++) child_labels(&s, dev->piece[k], 0, 0);
        } else {
            for (int k = 0; k < dev->n; k++) child_labels(&s, dev->piece[k], 1, UINT8_MAX);
        }
        return end(&s);
    }
    return STILL_E_INTERNAL; /* more is counted than paid, and nothing owes it */
}

/* --- bleeds ----------------------------------------------------------------------------------- */

static still_status check_bleeds(run *r, const open_case *o, uint8_t *which)
{
    const still_asked *asks = r->layers->zone->asked;
    uint8_t *locked = still_calloc(r->layers->n_isolators + 1, 1);
    if (locked == NULL) return STILL_E_NOMEM;
    for (uint32_t k = 0; k < o->l.n_lock; k++) locked[o->l.lock[k]] = 1;
    still_status status = STILL_OK;
    r->bleeds.gap = false;
    for (*which = 0; *which < 2; ++*which) {
        if (*which == 0 ? !asks->bleed_work : !asks->bleed_between) continue;
        status = still_bleeds_check(&r->bleeds, o->l.label, *which, locked, NULL, NULL);
        if (status != STILL_OK || r->bleeds.gap) break;
    }
    still_free(locked);
    return status;
}

/* Further children give this piece another label; all after them keep it. @return false: they can't
 */
static bool hold_label(split *s, uint32_t piece, uint8_t label)
{
    if (label > 0) child_labels(s, piece, 0, (uint8_t)(label - 1));
    child_labels(s, piece, (uint8_t)(label + 1), UINT8_MAX);
    if (s->base.low[piece] < label) s->base.low[piece] = label;
    if (s->base.high[piece] > label) s->base.high[piece] = label;
    return s->base.low[piece] <= s->base.high[piece];
}

/* The compartment without a bleed stays one, and asks for a bleed, as long as its pieces keep their
 * label, the points that bound it stay points, the way through its space to what stands behind
 * stays as it is, and no further isolator is locked. */
static still_status split_bleed(run *r, const open_case *o, uint8_t which)
{
    const still_zone *zone = r->layers->zone;
    const still_bleeds *b = &r->bleeds;
    split s = begin(r, o, o->for_d4);
    bool more = s.status == STILL_OK;
    for (uint32_t i = 0; i < b->n_lock; i++) child_locked(&s, b->lock[i]);
    for (uint32_t i = 0; i < b->n_pieces && more; i++)
        if (!zone->pieces[b->pieces[i]].work) more = hold_label(&s, b->pieces[i], which);
    for (uint32_t i = 0; i < b->n_chain && more && which == 1; i++)
        more = hold_label(&s, b->chain[i], which);
    /* A wall keeps its label in any case. */
    if (more && which == 1 && b->beyond != STILL_NONE && !zone->pieces[b->beyond].wall)
        more = hold_label(&s, b->beyond, 2);
    /* Choices without an extra point are in the cases beside this one. */
    for (uint32_t i = 0; i < b->n_devices && more; i++)
        if (!o->c.extra[b->devices[i]]) child_alike(&s, b->devices[i]);
    for (uint32_t i = 0; i < b->n_links && more && which == 1; i++)
        child_extra(&s, b->links[i], b->from[b->chain[i]] - 1, b->chain[i]);
    return end(&s);
}

/* --- parts of label 0 that the work is not joined to --------------------------------------------
 */

/* Pieces of label 0 that no point parts from those in the queue. @return entries of the queue */
static size_t fill_apart(const run *r, const open_case *o, uint8_t *met, uint32_t *queue, size_t n)
{
    const still_zone *zone = r->layers->zone;
    for (size_t i = 0; i < n; i++) {
        const still_piece *piece = &zone->pieces[queue[i]];
        for (uint32_t j = 0; j < piece->n_devs; j++) {
            const still_device *d = &zone->devices[zone->piece_devs[piece->dev0 + j]];
            for (int k = 0; k < d->n && !still_is_point(zone, o->l.label, d); k++) {
                uint32_t q = d->piece[k];
                if (q == STILL_NONE || met[q] || o->l.label[q] != 0 ||
                    !(zone->pieces[q].work || still_in_play(&zone->pieces[q])))
                    continue;
                met[q] = 1;
                queue[n++] = q;
            }
        }
    }
    return n;
}

/* A dead end beyond a space between may have got label 0. What closes it off is then taken for a
 * point against the space, though the dead end lies further out, and has to be held (D7).
 * @return the piece there whose side does not hold, or STILL_NONE; met: joined to the work */
static uint32_t weak_side(const run *r, const open_case *o, uint8_t *met, uint32_t *queue)
{
    const still_zone *zone = r->layers->zone;
    size_t n = 0;
    for (uint32_t p = 0; p < zone->n_pieces; p++)
        if (zone->pieces[p].work) {
            met[p] = 1;
            queue[n++] = p;
        }
    (void)fill_apart(r, o, met, queue, n);
    for (uint32_t i = 0; i < zone->n_devices; i++) {
        const still_device *d = &zone->devices[i];
        if (!still_is_point(zone, o->l.label, d)) continue;
        for (int k = 0; k < d->n; k++)
            if (!d->holds[k] && !met[d->piece[k]] && o->l.label[d->piece[k]] == 0)
                return d->piece[k];
    }
    return STILL_NONE;
}

/* Such a part stays as it is while its pieces keep their label and what closes it off is closed. */
static still_status split_apart(run *r, const open_case *o, uint32_t first, uint8_t *met,
                                uint32_t *queue)
{
    const still_zone *zone = r->layers->zone;
    split s = begin(r, o, o->for_d4);
    met[first] = 1;
    queue[0] = first;
    size_t n = fill_apart(r, o, met, queue, 1);
    bool more = s.status == STILL_OK;
    for (size_t i = 0; i < n && more; i++) more = hold_label(&s, queue[i], 0);
    for (size_t i = 0; i < n && more; i++)
        for (uint32_t j = 0; j < zone->pieces[queue[i]].n_devs; j++) {
            uint32_t d = zone->piece_devs[zone->pieces[queue[i]].dev0 + j];
            if (still_is_point(zone, o->l.label, &zone->devices[d]) && !o->c.extra[d])
                child_alike(&s, d);
        }
    return end(&s);
}

/* @param[out] found  there is one: the case was split */
static still_status look_apart(run *r, const open_case *o, bool *found)
{
    const still_zone *zone = r->layers->zone;
    *found = false;
    if (!zone->asked->bleed_between) return STILL_OK;
    still_status status = STILL_OK;
    uint8_t *met = still_calloc(zone->n_pieces + 1, 1);
    uint32_t *queue = still_calloc(zone->n_pieces + 1, sizeof queue[0]);
    if (met == NULL || queue == NULL) {
        status = STILL_E_NOMEM;
    } else {
        uint32_t weak = weak_side(r, o, met, queue);
        *found = weak != STILL_NONE;
        if (*found) status = split_apart(r, o, weak, met, queue);
    }
    still_free(met);
    still_free(queue);
    return status;
}

/* --- what the caller judges ------------------------------------------------------------------- */

static uint32_t list_points(const run *r, const open_case *o, uint32_t *comps)
{
    const still_zone *zone = r->layers->zone;
    uint32_t n = 0;
    for (uint32_t d = 0; d < zone->n_devices; d++)
        if (still_is_point(zone, o->l.label, &zone->devices[d])) comps[n++] = zone->devices[d].comp;
    return n;
}

static still_status judge(run *r, const open_case *o, uint32_t *n_culprits, bool *must)
{
    *n_culprits = 0;
    *must = false;
    if (r->judge == NULL) return STILL_OK;
    uint32_t n = list_points(r, o, r->points);
    return r->judge->look(r->judge->arg, r->layers->zone, o->l.label, r->points, n, r->culprits,
                          n_culprits, must);
}

static still_status split_judged(run *r, const open_case *o, uint32_t n_culprits, bool must)
{
    const still_zone *zone = r->layers->zone;
    split s = begin(r, o, o->for_d4 || !must);
    for (uint32_t i = 0; i < n_culprits; i++)
        child_alike(&s, zone->device_of[r->points[r->culprits[i]]] - 1);
    return end(&s);
}

/* --- the run ---------------------------------------------------------------------------------- */

static still_status accept(run *r, open_case *o, bool breach)
{
    const still_zone *zone = r->layers->zone;
    still_search *s = r->s;
    s->position = still_calloc(zone->n_devices + 1, 1);
    if (s->position == NULL) return STILL_E_NOMEM;
    s->best = o->l;
    o->l = (still_labelling){0};
    /* The best open case may have fewer sources inside and more points: that bounds no points. */
    if (s->lower_bound > s->best.cost) s->lower_bound = 0;
    s->feasible = true;
    s->breach = breach;
    for (uint32_t d = 0; d < zone->n_devices; d++) {
        if (zone->devices[d].n != 3 || !still_is_point(zone, s->best.label, &zone->devices[d]))
            continue;
        /* One that parts a space stands as the bleeds were looked at with it. */
        uint8_t parts = s->best.label[zone->n_pieces + d];
        s->position[d] =
            parts != 0 ? parts
                       : position_for(zone, &zone->devices[d], s->best.label, o->c.position[d]);
    }
    return STILL_OK;
}

/* The same labels without one isolator that a case has locked for a bleed. */
static still_status unlock(run *r, open_case *o, uint32_t isolator)
{
    const still_zone *zone = r->layers->zone;
    open_case less = {0};
    bool feasible = false, holds = false;
    uint8_t which;
    still_status status = still_case_copy(&less.c, &o->c, r->layers);
    for (uint32_t p = 0; p < zone->n_pieces && status == STILL_OK; p++)
        if (!zone->pieces[p].work && still_in_play(&zone->pieces[p]))
            less.c.low[p] = less.c.high[p] = o->l.label[p];
    if (status == STILL_OK) {
        less.c.locked[isolator] = 0;
        status = still_layers_solve(&less.l, &feasible, r->layers, &less.c, NULL);
    }
    if (status == STILL_OK && feasible && less.l.cost == less.l.bound && less.l.cost < o->l.cost) {
        status = check_bleeds(r, &less, &which);
        holds = status == STILL_OK && !r->bleeds.gap;
    }
    if (holds) {
        free_case(o);
        *o = less;
    } else {
        free_case(&less);
    }
    return status;
}

/* A choice that is just any one may have locked more than it needs. */
static still_status unlock_all(run *r, open_case *o)
{
    still_status status = STILL_OK;
    for (uint32_t k = 0; k < r->layers->n_isolators && status == STILL_OK; k++)
        if (o->c.locked[k]) status = unlock(r, o, k);
    return status;
}

/* A labelling in hand, the best of what is open. @param[out] done  it is the answer */
static still_status look(run *r, open_case *o, bool *done)
{
    uint8_t which;
    uint32_t n_culprits;
    bool must;
    uint32_t odd = odd_three_way(r, o);
    if (odd != STILL_NONE) return split_three_way(r, o, odd);
    if (o->l.cost < o->l.bound) return STILL_E_INTERNAL;
    if (o->l.cost > o->l.bound) return split_feed(r, o);
    still_status status = check_bleeds(r, o, &which);
    if (status != STILL_OK) return status;
    if (r->bleeds.gap) return split_bleed(r, o, which);
    bool apart;
    status = look_apart(r, o, &apart);
    if (status != STILL_OK || apart) return status;
    status = judge(r, o, &n_culprits, &must);
    if (status != STILL_OK) return status;
    if (n_culprits > 0 && must) {
        r->s->judged_out = true;
        return split_judged(r, o, n_culprits, true);
    }
    if (n_culprits == 0) {
        *done = true;
        if (r->diving) status = unlock_all(r, o);
        return status == STILL_OK ? accept(r, o, false) : status;
    }
    if (!r->has_breached) {
        open_case kept = {0};
        status = still_case_copy(&kept.c, &o->c, r->layers);
        if (status != STILL_OK) return status;
        status = split_judged(r, o, n_culprits, false);
        kept.l = o->l;
        o->l = (still_labelling){0};
        r->breached = kept;
        r->has_breached = true;
        return status;
    }
    if (r->n_d4 >= STILL_SEARCH_LIMIT_D4) return STILL_OK;
    return split_judged(r, o, n_culprits, false);
}

/* What is open cannot be as good as the breached one any more. */
static bool past_breached(const run *r, const open_case *o)
{
    return o->l.sources > r->breached.l.sources ||
           (o->l.sources == r->breached.l.sources && o->l.bound > r->breached.l.bound);
}

/* Past the limit: any choice that holds, deepest case first; it is said not to be proven least. */
static still_status dive(run *r, bool *done)
{
    still_status status = STILL_OK;
    uint64_t limit = r->s->nodes + r->layers->most_cases;
    r->diving = true;
    while (r->n_heap > 0 && status == STILL_OK && !*done && r->s->nodes < limit) {
        open_case o = r->heap[--r->n_heap];
        status = look(r, &o, done);
        free_case(&o);
    }
    return status;
}

static still_status loop(run *r)
{
    still_search *s = r->s;
    still_status status = STILL_OK;
    bool done = false;
    s->complete = s->complete_ties = true;
    while (r->n_heap > 0 && status == STILL_OK && !done) {
        open_case o = pop(r);
        s->lower_bound = o.l.bound;
        if (r->has_breached && past_breached(r, &o)) {
            free_case(&o);
            break;
        }
        if (s->nodes > r->layers->most_cases) {
            s->complete = s->complete_ties = false;
            if (r->layers->proven_only) {
                free_case(&o);
                break;
            }
            if (!r->has_breached && push(r, &o)) {
                status = dive(r, &done);
                break;
            }
            free_case(&o);
            if (!r->has_breached) status = STILL_E_NOMEM;
            break;
        }
        status = look(r, &o, &done);
        free_case(&o);
    }
    if (status == STILL_OK && !done && r->has_breached) {
        s->lower_bound = r->breached.l.bound;
        if (r->n_d4 >= STILL_SEARCH_LIMIT_D4) s->complete_ties = false;
        status = accept(r, &r->breached, true);
    }
    return status;
}

/* The first cut is that of the grade without bleeds: its paths are the proof. Without bleeds it is
 * also the first case of the search. */
static still_status first_cut(run *r, still_case *root, bool bleeds)
{
    bool feasible = false;
    open_case o = {0};
    still_status status = still_layers_solve(&o.l, &feasible, r->layers, root, &r->s->root);
    r->s->root_feasible = feasible;
    r->s->root_bound = o.l.bound;
    if (status == STILL_OK && feasible && !bleeds) {
        o.c = *root;
        *root = (still_case){0};
        r->s->nodes++;
        if (push(r, &o)) return STILL_OK;
        status = STILL_E_NOMEM;
    }
    free_case(&o);
    return status;
}

static still_status start(run *r)
{
    const still_asked *asks = r->layers->zone->asked;
    bool bleeds = asks->bleed_work || asks->bleed_between;
    still_case root = {0};
    still_status status = still_case_open(&root, r->layers);
    r->s->root_feasible = true;
    if (status == STILL_OK && !(bleeds && r->layers->unproved))
        status = first_cut(r, &root, bleeds);
    if (status == STILL_OK && bleeds && r->s->root_feasible) {
        status = still_bleeds_init(&r->bleeds, r->layers);
        if (status == STILL_OK) status = still_bleeds_rule_out(&r->bleeds, r->layers, &root);
        if (status == STILL_OK) status = open(r, &root, false);
    }
    still_case_clear(&root);
    return status;
}

still_status still_search_run(still_search *s, still_layers *layers, const still_judge *judged)
{
    run r = {.s = s, .layers = layers, .judge = judged};
    *s = (still_search){0};
    still_status status = STILL_E_NOMEM;
    r.points = still_calloc(layers->zone->n_devices + 1, sizeof r.points[0]);
    r.culprits = still_calloc(layers->zone->n_devices + 1, sizeof r.culprits[0]);
    if (r.points != NULL && r.culprits != NULL) status = start(&r);
    if (status == STILL_OK) status = loop(&r);
    for (size_t i = 0; i < r.n_heap; i++) free_case(&r.heap[i]);
    if (r.has_breached) free_case(&r.breached);
    still_free(r.heap);
    still_free(r.points);
    still_free(r.culprits);
    still_bleeds_clear(&r.bleeds);
    return status;
}

void still_search_clear(still_search *s)
{
    still_labelling_clear(&s->best);
    still_free(s->position);
    still_network_clear(&s->root);
    *s = (still_search){0};
}
