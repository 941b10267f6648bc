/* Other worthwhile choices (I4).
 * Problem: plans that no other beats in sources taken inside, points, mass enclosed and equipment
 * out of service. Method: the same search with other weights: mass first, equipment first, some
 * exchange rates between them and points, and once with sources free of charge. What another one
 * beats is dropped. What it promises: each choice shown is best for its weights, and none is beaten
 * by one shown. A choice that is best for no weights is not found (docs/METHOD.md, 3.7). */
#include "isolate.h"

#include "alloc.h"

#include <string.h>

#define MOST 16
/** Components of a plant up to which relief paths of other choices are looked at. */
#define MOST_JUDGED 20000

typedef struct finding_out {
    still_isolation *iso;
    const still_judge *judge;
    still_iso_other list[MOST];
    uint32_t n;
} finding_out;

/* a is nowhere worse than b. */
static bool as_good(const still_iso_other *a, const still_iso_other *b)
{
    if (a->sources > b->sources || a->points > b->points || a->equipment > b->equipment)
        return false;
    if (a->mass_unknown) return b->mass_unknown;
    return b->mass_unknown || a->grams <= b->grams;
}

static still_iso_other plan_itself(const still_isolation *iso)
{
    return (still_iso_other){.sources = iso->sources.n,
                             .points = iso->points.n + iso->feeds.n,
                             .equipment = iso->equipment,
                             .mass_unknown = iso->mass_unknown,
                             .grams = iso->grams};
}

/* Points for a few grams less are no choice that anyone weighs. */
static bool worth_it(const still_iso_other *o, const still_iso_other *plan)
{
    if (o->sources < plan->sources || o->points < plan->points || o->equipment < plan->equipment)
        return true;
    if (o->mass_unknown != plan->mass_unknown) return !o->mass_unknown;
    return !o->mass_unknown && o->grams < plan->grams - plan->grams / 20;
}

/* Drops what it beats; is dropped if it is beaten or known. */
static void offer(finding_out *f, const still_iso_other *o)
{
    still_iso_other plan = plan_itself(f->iso);
    if (as_good(&plan, o) || !worth_it(o, &plan)) return;
    for (uint32_t i = 0; i < f->n; i++)
        if (as_good(&f->list[i], o)) return;
    uint32_t kept = 0;
    for (uint32_t i = 0; i < f->n; i++)
        if (!as_good(o, &f->list[i])) f->list[kept++] = f->list[i];
    f->n = kept;
    if (f->n < MOST) f->list[f->n++] = *o;
}

static still_status run(finding_out *f, const still_zone *zone, still_weights weights, bool free)
{
    still_layers layers = {0};
    still_search search = {0};
    still_status status = still_layers_build(&layers, zone);
    layers.weights = weights;
    layers.free_sources = free;
    layers.most_cases = STILL_FEW_CASES;
    layers.unproved = layers.proven_only = true;
    if (status == STILL_OK) status = still_search_run(&search, &layers, f->judge);
    if (status == STILL_OK && search.feasible && search.complete) {
        const still_labelling *l = &search.best;
        still_iso_other o = {.sources = l->sources,
                             .points = l->n_ids,
                             .equipment = still_equipment_in(zone, l->label),
                             .mass_unknown = l->mass_unknown,
                             .grams = l->grams,
                             .breach = search.breach};
        o.ids = STILL_ARENA_NEW(&f->iso->arena, l->n_ids, const char *);
        if (o.ids == NULL)
            status = STILL_E_NOMEM;
        else
            memcpy(o.ids, l->ids, l->n_ids * sizeof o.ids[0]);
        if (status == STILL_OK) offer(f, &o);
    }
    still_search_clear(&search);
    still_layers_clear(&layers);
    return status;
}

static uint32_t rate(const still_isolation *iso, uint32_t part)
{
    uint64_t kilograms = iso->grams / 1000 / part;
    return kilograms < 1 ? 1 : kilograms < 1000000 ? (uint32_t)kilograms : 1000000;
}

static still_status run_all(finding_out *f)
{
    const still_isolation *iso = f->iso;
    const still_weights list[] = {
        {1, 100, 0}, /* least mass */
        {1, 0, 100}, /* least equipment */
        {1, 0, 1},
        {2, 0, 1},
        {rate(iso, 2), 1, 0}, /* a point is worth half of the mass, an eighth, … */
        {rate(iso, 4), 1, 0},
        {rate(iso, 8), 1, 0},
        {rate(iso, 32), 1, 0},
    };
    still_status status = STILL_OK;
    for (size_t i = 0; i < sizeof list / sizeof list[0] && status == STILL_OK; i++)
        status = run(f, &iso->zone, list[i], false);
    if (status != STILL_OK) return status;
    /* In a large plant such a zone is the whole plant, and no choice that anyone would make. */
    if (iso->zone.plant->n_comps > MOST_JUDGED) return STILL_OK;
    still_zone zone = {0};
    status = still_zone_build(&zone, iso->zone.plant, iso->zone.state, iso->zone.targets,
                              iso->zone.asked, true);
    if (status == STILL_OK && !zone.infeasible)
        status = run(f, &zone, (still_weights){1, 0, 0}, true);
    still_zone_clear(&zone);
    return status;
}

/* A near choice stands beside the plan on its first page (I4). */
static bool is_near(const still_iso_other *o, const still_iso_other *plan)
{
    if (o->sources > plan->sources || o->points > plan->points + 2) return false;
    bool lighter = !o->mass_unknown && (plan->mass_unknown || o->grams * 2 < plan->grams);
    return lighter || o->equipment < plan->equipment;
}

static bool before(const still_iso_other *a, const still_iso_other *b)
{
    if (a->sources != b->sources) return a->sources < b->sources;
    if (a->points != b->points) return a->points < b->points;
    if (a->mass_unknown != b->mass_unknown) return b->mass_unknown;
    return a->grams < b->grams;
}

still_status still_isolate_others(still_isolation *iso, const still_judge *judge)
{
    /* What must stay in service is looked at in any case. */
    bool judged = iso->zone.plant->n_comps <= MOST_JUDGED || iso->zone.asked->stays != NULL;
    finding_out f = {.iso = iso, .judge = judged ? judge : NULL};
    still_iso_other plan = plan_itself(iso);
    if (!iso->feasible) return STILL_OK;
    still_status status = run_all(&f);
    if (status != STILL_OK) return status;
    iso->others = STILL_ARENA_NEW(&iso->arena, f.n, still_iso_other);
    if (iso->others == NULL) return STILL_E_NOMEM;
    for (uint32_t i = 0; i < f.n; i++) {
        uint32_t at = iso->n_others++;
        for (; at > 0 && before(&f.list[i], &iso->others[at - 1]); at--)
            iso->others[at] = iso->others[at - 1];
        iso->others[at] = f.list[i];
        iso->others[at].near = is_near(&f.list[i], &plan);
        iso->others[at].judged = judged;
    }
    return STILL_OK;
}
