/* Cases of a search: the heap of what is open, children of a case, and the splits for three-way
 * valves and feeds. Why each split holds all that its case holds: docs/METHOD.md, 3.4. */
#include "cases.h"

#include "alloc.h"
#include "isolation.h"

#include <string.h>

void still_open_case_clear(still_open_case *o)
{
    still_case_clear(&o->c);
    still_labelling_clear(&o->l);
}

static bool before(const still_open_case *a, const still_open_case *b)
{
    return still_labelling_compare(&a->l, &b->l) < 0;
}

bool still_cases_add(still_run *r, const still_open_case *o)
{
    if (!still_grow(&r->heap, &r->heap_cap, r->n_heap + 1, sizeof r->heap[0])) return false;
    r->heap[r->n_heap++] = *o;
    return true;
}

bool still_cases_push(still_run *r, const still_open_case *o)
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

still_open_case still_cases_pop(still_run *r)
{
    still_open_case top = r->heap[0], last = r->heap[--r->n_heap];
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

void still_case_settle(const still_run *r, still_case *c, const still_bleed_ties *ties)
{
    for (uint32_t p = 0; p < r->layers->zone->n_pieces; p++) {
        if (ties->forced[p]) {
            if (c->low[p] < 1) c->low[p] = 1;
            if (c->high[p] > 1) c->high[p] = 1;
            c->life[p] = STILL_LIFE_LIVE;
        } else if (ties->never[p] && !ties->mortal[p]) {
            c->hole[p] = 1;
        }
    }
}

/* How much dearer a child is than its parent. */
static void note_rise(still_run *r, const still_labelling *l)
{
    uint64_t rise = l->bound > r->parent_bound ? l->bound - r->parent_bound : 0;
    if (l->sources > r->parent_sources || rise > STILL_GREAT_RISE) rise = STILL_GREAT_RISE;
    if (rise < r->least) r->least = (uint32_t)rise;
}

/* Solve a case and put it on the heap; one without a labelling is dropped. Takes the case over. */
still_status still_case_solve(still_run *r, still_case *c, bool for_d4)
{
    still_open_case o = {.c = *c, .for_d4 = for_d4};
    bool feasible = false, none = false;
    still_bleed_ties ties = {0};
    still_status status = STILL_OK;
    *c = (still_case){0};
    if (r->gathering) {
        if (still_cases_add(r, &o)) return STILL_OK;
        still_open_case_clear(&o);
        return STILL_E_NOMEM;
    }
    if (r->ways.n_cells > 0) {
        status = still_bleed_ties_find(&ties, &r->ways, &o.c);
        if (status == STILL_OK) still_case_settle(r, &o.c, &ties);
        none = ties.none;
        o.c.ties = &ties;
    }
    if (status == STILL_OK && !none)
        status = still_layers_solve(&o.l, &feasible, r->layers, &o.c, NULL);
    o.c.ties = NULL;
    still_bleed_ties_clear(&ties);
    r->s->nodes++;
    if (for_d4) r->n_d4++;
    if (status == STILL_OK && feasible) note_rise(r, &o.l);
    if (status == STILL_OK && feasible && still_cases_push(r, &o)) return STILL_OK;
    if (status == STILL_OK && feasible) status = STILL_E_NOMEM;
    still_open_case_clear(&o);
    return status;
}

still_case still_split_child(still_split *s)
{
    still_case c = {0};
    if (s->status == STILL_OK) s->status = still_case_copy(&c, &s->base, s->r->layers);
    return c;
}

void still_split_finish(still_split *s, still_case *c)
{
    if (s->status == STILL_OK)
        s->status = still_case_solve(s->r, c, s->for_d4);
    else
        still_case_clear(c);
}

still_split still_split_begin(still_run *r, const still_open_case *from, bool for_d4)
{
    still_split s = {.r = r, .for_d4 = for_d4};
    s.status = still_case_copy(&s.base, &from->c, r->layers);
    return s;
}

still_status still_split_end(still_split *s)
{
    still_case_clear(&s->base);
    return s->status;
}

still_status still_split_end_with_rest(still_split *s)
{
    still_case c = still_split_child(s);
    still_split_finish(s, &c);
    return still_split_end(s);
}

void still_split_alike(still_split *s, uint32_t device)
{
    still_case c = still_split_child(s);
    if (s->status == STILL_OK) c.alike[device] = 1;
    still_split_finish(s, &c);
}

void still_split_locked(still_split *s, uint32_t isolator)
{
    still_case c = still_split_child(s);
    if (s->status == STILL_OK) c.locked[isolator] = 1;
    still_split_finish(s, &c);
}

void still_split_labels(still_split *s, uint32_t piece, uint8_t low, uint8_t high)
{
    const still_piece *p = &s->r->layers->zone->pieces[piece];
    /* The work and the walls have one label only, the one that is to be changed. */
    if (s->status != STILL_OK || p->work || !still_in_play(p)) return;
    if (low < s->base.low[piece]) low = s->base.low[piece];
    if (high > s->base.high[piece]) high = s->base.high[piece];
    if (low > high) return;
    still_case c = still_split_child(s);
    if (s->status == STILL_OK) {
        c.low[piece] = low;
        c.high[piece] = high;
    }
    still_split_finish(s, &c);
}

bool still_split_hold(still_split *s, uint32_t piece, uint8_t label)
{
    const still_piece *p = &s->r->layers->zone->pieces[piece];
    if (s->status != STILL_OK) return false;
    if (label == 1 && p->outside == 2 && still_in_play(p) && !p->work) {
        if (!s->base.hole[piece] && (s->base.low[piece] != 1 || s->base.high[piece] != 1)) {
            still_case c = still_split_child(s);
            if (s->status == STILL_OK) c.hole[piece] = 1;
            still_split_finish(s, &c);
        }
    } else {
        if (label > 0) still_split_labels(s, piece, 0, (uint8_t)(label - 1));
        still_split_labels(s, piece, (uint8_t)(label + 1), UINT8_MAX);
    }
    if (s->status == STILL_OK && label == 1 && s->base.hole[piece]) return false;
    if (s->base.low[piece] < label) s->base.low[piece] = label;
    if (s->base.high[piece] > label) s->base.high[piece] = label;
    return s->base.low[piece] <= s->base.high[piece];
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

void still_split_extra(still_split *s, uint32_t device, uint32_t dead, uint32_t live)
{
    const still_device *d = &s->r->layers->zone->devices[device];
    bool holds =
        d->valve && s->status == STILL_OK && !s->base.extra[device] && !s->base.alike[device];
    /* Against what is closed off, too, where that lies further from the work: see further_out.c. */
    for (int k = 0; k < d->n; k++) holds = holds && (d->holds[k] || d->piece[k] == dead);
    for (uint8_t i = 0; i < (d->n == 2 ? 1 : d->positions) && holds; i++) {
        if (d->n == 3 && !parts_pieces(d, i, dead, live)) continue;
        still_case c = still_split_child(s);
        for (int k = 0; k < d->n && s->status == STILL_OK; k++) {
            uint32_t p = d->piece[k];
            if (c.low[p] < 1) c.low[p] = 1;
            if (c.high[p] > 1) c.high[p] = 1;
        }
        if (s->status == STILL_OK) c.extra[device] = (uint8_t)(i + 1);
        still_split_finish(s, &c);
    }
}

/* --- three-way valves ------------------------------------------------------------------------- */

uint8_t still_three_way_position(const still_zone *zone, const still_device *d,
                                 const uint8_t *label, uint8_t settled)
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

uint8_t still_three_way_stands(const still_zone *zone, const still_open_case *o, uint32_t d)
{
    uint8_t parts = o->l.label[zone->n_pieces + d];
    if (parts != 0) return parts;
    return still_three_way_position(zone, &zone->devices[d], o->l.label, o->c.position[d]);
}

uint8_t *still_three_ways_stand(const still_zone *zone, const still_open_case *o)
{
    uint8_t *position = still_calloc(zone->n_devices + 1, 1);
    for (uint32_t d = 0; d < zone->n_devices && position != NULL; d++) {
        const still_device *dev = &zone->devices[d];
        if (dev->n == 3 && still_is_point(zone, o->l.label, dev))
            position[d] = still_three_way_stands(zone, o, d);
    }
    return position;
}

uint32_t still_odd_three_way(const still_run *r, const still_open_case *o)
{
    const still_zone *zone = r->layers->zone;
    for (uint32_t d = 0; d < zone->n_devices; d++) {
        const still_device *dev = &zone->devices[d];
        if (dev->n != 3 || !still_is_point(zone, o->l.label, dev)) continue;
        if (still_three_way_position(zone, dev, o->l.label, o->c.position[d]) == 0) return d;
    }
    return STILL_NONE;
}

still_status still_split_three_way(still_run *r, const still_open_case *o, uint32_t d)
{
    const still_device *dev = &r->layers->zone->devices[d];
    if (o->c.position[d] != 0) return STILL_E_INTERNAL; /* a settled one has its edges */
    still_split s = still_split_begin(r, o, o->for_d4);
    still_split_alike(&s, d);
    for (uint8_t i = 0; i < dev->positions; i++) {
        still_case c = still_split_child(&s);
        if (s.status == STILL_OK) c.position[d] = (uint8_t)(i + 1);
        still_split_finish(&s, &c);
    }
    return still_split_end(&s);
}

/* --- feeds ------------------------------------------------------------------------------------ */

/* --- feeds ------------------------------------------------------------------------------------ */

/* An isolator that the labelling needs and the cut did not pay: the cause is a device that is
 * closed further out, or a hand device with both sides inside. Either the isolator is locked, or
 * the cause goes. */
still_status still_split_feed(still_run *r, const still_open_case *o)
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
        still_split s = still_split_begin(r, o, o->for_d4);
        still_split_locked(&s, owed);
        if (o->c.extra[d])
            return still_split_end(&s); /* choices without it are in the cases beside this one */
        if (point) {
            still_split_alike(&s, d);
            for (int k = 0; k < dev->n; k++) still_split_labels(&s, dev->piece[k], 0, 0);
        } else {
            for (int k = 0; k < dev->n; k++) still_split_labels(&s, dev->piece[k], 1, UINT8_MAX);
        }
        return still_split_end(&s);
    }
    return STILL_E_INTERNAL; /* more is counted than paid, and nothing owes it */
}
