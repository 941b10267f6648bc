/* The search over cases.
 * Problem: conditions that are no cut: positions of three-way valves, feeds shared by what is
 * closed further out, bleeds, relief paths. Method: best first, in the order of cost of each case's
 * least labelling. The first labelling that meets all conditions is the best of all. A labelling
 * that breaks one splits its case. Why it is right: docs/METHOD.md, 3.4. Cost: a cut a case; the
 * number of cases has a limit. */
#include "search.h"

#include "alloc.h"
#include "cases.h"

#include <string.h>

/* What a piece counts before a split was tried there, in thousandths: more than most bring. */
#define FIRST_GAIN 5000

/* --- what the caller judges ------------------------------------------------------------------- */

/* --- what the caller judges ------------------------------------------------------------------- */

static uint32_t list_points(const still_run *r, const still_open_case *o, uint32_t *comps)
{
    const still_zone *zone = r->layers->zone;
    uint32_t n = 0;
    for (uint32_t d = 0; d < zone->n_devices; d++)
        if (still_is_point(zone, o->l.label, &zone->devices[d])) comps[n++] = zone->devices[d].comp;
    return n;
}

static still_status judge(still_run *r, const still_open_case *o, uint32_t *n_culprits, bool *must)
{
    *n_culprits = 0;
    *must = false;
    if (r->judge == NULL) return STILL_OK;
    uint32_t n = list_points(r, o, r->points);
    return r->judge->look(r->judge->arg, r->layers->zone, o->l.label, r->points, n, r->culprits,
                          n_culprits, must);
}

static still_status split_judged(still_run *r, const still_open_case *o, bool must)
{
    const still_zone *zone = r->layers->zone;
    still_split s = still_split_begin(r, o, o->for_d4 || !must);
    for (uint32_t i = 0; i < r->n_culprits; i++) {
        uint32_t d = zone->device_of[r->points[r->culprits[i]]] - 1;
        /* Choices without an extra point are in the cases beside this one. */
        if (!o->c.extra[d]) still_split_alike(&s, d);
    }
    return still_split_end(&s);
}

/* --- the run ---------------------------------------------------------------------------------- */

/* --- the run ---------------------------------------------------------------------------------- */

static still_status accept(still_run *r, still_open_case *o, bool breach)
{
    still_search *s = r->s;
    s->position = still_three_ways_stand(r->layers->zone, o);
    if (s->position == NULL) return STILL_E_NOMEM;
    s->best = o->l;
    o->l = (still_labelling){0};
    /* The best open case may have fewer sources inside and more points: that bounds no points. */
    if (s->lower_bound > s->best.cost) s->lower_bound = 0;
    s->feasible = true;
    s->breach = breach;
    return STILL_OK;
}

/* The same labels without one isolator that a case has locked for a bleed. */
static still_status unlock(still_run *r, still_open_case *o, uint32_t isolator)
{
    const still_zone *zone = r->layers->zone;
    still_open_case less = {0};
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
        status = still_gap_find(r, &less, &which);
        holds = status == STILL_OK && !r->bleeds.gap;
    }
    if (holds) {
        still_open_case_clear(o);
        *o = less;
    } else {
        still_open_case_clear(&less);
    }
    return status;
}

/* A choice that is just any one may have locked more than it needs. */
static still_status unlock_all(still_run *r, still_open_case *o)
{
    still_status status = STILL_OK;
    for (uint32_t k = 0; k < r->layers->n_isolators && status == STILL_OK; k++)
        if (o->c.locked[k]) status = unlock(r, o, k);
    return status;
}

still_status still_case_examine(still_run *r, const still_open_case *o, still_outcome *outcome)
{
    uint8_t which;
    bool must, apart;
    *outcome = STILL_OUTCOME_SPLIT;
    uint32_t odd = still_odd_three_way(r, o);
    if (odd != STILL_NONE) return still_split_three_way(r, o, odd);
    if (o->l.cost < o->l.bound) return STILL_E_INTERNAL;
    if (o->l.cost > o->l.bound) return still_split_feed(r, o);
    still_status status = still_gap_find(r, o, &which);
    if (status != STILL_OK) return status;
    if (r->bleeds.gap) return still_gap_split(r, o, which);
    status = still_split_further_out(r, o, &apart);
    if (status != STILL_OK || apart) return status;
    status = judge(r, o, &r->n_culprits, &must);
    if (status != STILL_OK) return status;
    if (r->n_culprits > 0 && must) {
        r->s->judged_out = true;
        return split_judged(r, o, true);
    }
    *outcome = r->n_culprits > 0 ? STILL_OUTCOME_BREACH : STILL_OUTCOME_HOLDS;
    return STILL_OK;
}

/* A labelling in hand, the best of what is open. @param[out] done  it is the answer */
static still_status look(still_run *r, still_open_case *o, bool *done)
{
    still_outcome outcome;
    still_status status = still_case_examine(r, o, &outcome);
    if (status != STILL_OK || outcome == STILL_OUTCOME_SPLIT) return status;
    if (outcome == STILL_OUTCOME_HOLDS) {
        *done = true;
        if (r->diving) status = unlock_all(r, o);
        return status == STILL_OK ? accept(r, o, false) : status;
    }
    if (!r->has_breached) {
        still_open_case kept = {0};
        status = still_case_copy(&kept.c, &o->c, r->layers);
        if (status != STILL_OK) return status;
        status = split_judged(r, o, false);
        kept.l = o->l;
        o->l = (still_labelling){0};
        r->breached = kept;
        r->has_breached = true;
        return status;
    }
    if (r->n_d4 >= STILL_SEARCH_LIMIT_D4) return STILL_OK;
    return split_judged(r, o, false);
}

/* What is open cannot be as good as the breached one any more. */
static bool past_breached(const still_run *r, const still_open_case *o)
{
    return o->l.sources > r->breached.l.sources ||
           (o->l.sources == r->breached.l.sources && o->l.bound > r->breached.l.bound);
}

/* Past the limit: any choice that holds, deepest case first; it is said not to be proven least. */
static still_status dive(still_run *r, bool *done)
{
    still_status status = STILL_OK;
    uint64_t limit = r->s->nodes + r->layers->most_cases;
    r->diving = true;
    while (r->n_heap > 0 && status == STILL_OK && !*done && r->s->nodes < limit) {
        still_open_case o = r->heap[--r->n_heap];
        status = look(r, &o, done);
        still_open_case_clear(&o);
    }
    return status;
}

static still_status loop(still_run *r)
{
    still_search *s = r->s;
    still_status status = STILL_OK;
    bool done = false;
    s->complete = s->complete_ties = true;
    while (r->n_heap > 0 && status == STILL_OK && !done) {
        still_open_case o = still_cases_pop(r);
        s->lower_bound = o.l.bound;
        if (r->has_breached && past_breached(r, &o)) {
            still_open_case_clear(&o);
            break;
        }
        if (s->nodes > r->layers->most_cases) {
            s->complete = s->complete_ties = false;
            if (r->layers->proven_only) {
                still_open_case_clear(&o);
                break;
            }
            if (!r->has_breached && still_cases_push(r, &o)) {
                status = dive(r, &done);
                break;
            }
            still_open_case_clear(&o);
            if (!r->has_breached) status = STILL_E_NOMEM;
            break;
        }
        status = look(r, &o, &done);
        still_open_case_clear(&o);
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
static still_status first_cut(still_run *r, still_case *root, bool bleeds)
{
    bool feasible = false;
    still_open_case o = {0};
    still_status status = still_layers_solve(&o.l, &feasible, r->layers, root, &r->s->root);
    r->s->root_feasible = feasible;
    r->s->root_bound = o.l.bound;
    if (status == STILL_OK && feasible && !bleeds) {
        o.c = *root;
        *root = (still_case){0};
        r->s->nodes++;
        if (still_cases_push(r, &o)) return STILL_OK;
        status = STILL_E_NOMEM;
    }
    still_open_case_clear(&o);
    return status;
}

still_status still_run_bleeds(still_run *r, still_case *root)
{
    const still_asked *asks = r->layers->zone->asked;
    if (!asks->bleed_work && !asks->bleed_between) return STILL_OK;
    still_status status = still_bleeds_init(&r->bleeds, r->layers);
    if (status == STILL_OK) status = still_bleeds_rule_out(&r->bleeds, r->layers, root);
    if (status == STILL_OK && asks->bleed_between)
        status = still_bleed_ways_build(&r->ways, &r->bleeds, root);
    return status;
}

static still_status start(still_run *r)
{
    const still_asked *asks = r->layers->zone->asked;
    bool bleeds = asks->bleed_work || asks->bleed_between;
    still_case root = {0};
    still_status status = still_case_open(&root, r->layers);
    r->s->root_feasible = true;
    if (status == STILL_OK && !(bleeds && r->layers->unproved))
        status = first_cut(r, &root, bleeds);
    if (status == STILL_OK && bleeds && r->s->root_feasible) {
        status = still_run_bleeds(r, &root);
        if (status == STILL_OK) status = still_case_solve(r, &root, false);
    }
    still_case_clear(&root);
    return status;
}

still_status still_run_init(still_run *r, still_search *s, still_layers *layers,
                            const still_judge *judged)
{
    const still_zone *zone = layers->zone;
    *r = (still_run){.s = s, .layers = layers, .judge = judged};
    r->points = still_calloc(zone->n_devices + 1, sizeof r->points[0]);
    r->culprits = still_calloc(zone->n_devices + 1, sizeof r->culprits[0]);
    r->gain = still_calloc(zone->n_pieces + 1, sizeof r->gain[0]);
    if (r->points == NULL || r->culprits == NULL || r->gain == NULL) return STILL_E_NOMEM;
    for (uint32_t p = 0; p < zone->n_pieces; p++) r->gain[p] = FIRST_GAIN;
    return STILL_OK;
}

void still_run_clear(still_run *r)
{
    for (size_t i = 0; i < r->n_heap; i++) still_open_case_clear(&r->heap[i]);
    if (r->has_breached) still_open_case_clear(&r->breached);
    still_free(r->heap);
    still_free(r->points);
    still_free(r->gain);
    still_free(r->culprits);
    still_bleeds_clear(&r->bleeds);
    still_bleed_ways_clear(&r->ways);
    *r = (still_run){0};
}

still_status still_search_run(still_search *s, still_layers *layers, const still_judge *judged)
{
    still_run r;
    *s = (still_search){0};
    still_status status = still_run_init(&r, s, layers, judged);
    if (status == STILL_OK) status = start(&r);
    if (status == STILL_OK) status = loop(&r);
    still_run_clear(&r);
    return status;
}

void still_search_clear(still_search *s)
{
    still_labelling_clear(&s->best);
    still_free(s->position);
    still_network_clear(&s->root);
    *s = (still_search){0};
}
