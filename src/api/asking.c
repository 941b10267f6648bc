#include "asking.h"

#include "alloc.h"

#include <string.h>

/* Highest demand of each region, by region. */
static void highest(const still_asking *a, const uint32_t *region, uint8_t *grade)
{
    const still_plant *plant = a->plant;
    for (size_t i = 0; i < a->demands.n; i++) {
        const still_source_demand *d = &a->demands.items[i];
        const still_comp *c = &plant->comps[d->comp];
        uint32_t first = d->port != STILL_NONE ? d->port : c->a;
        uint32_t n = d->port != STILL_NONE ? 1 : c->b;
        for (uint32_t k = 0; k < n; k++)
            if (grade[region[first + k]] < d->grade) grade[region[first + k]] = (uint8_t)d->grade;
    }
}

static still_status ask_by_region(still_asking *a)
{
    const still_plant *plant = a->plant;
    uint32_t n = 0;
    uint32_t *region = still_calloc((size_t)plant->n_ports + 1, sizeof region[0]);
    uint8_t *by_port = STILL_ARENA_NEW(a->arena, plant->n_ports, uint8_t);
    uint8_t *grade = NULL;
    still_status status = STILL_E_NOMEM;
    if (region == NULL || by_port == NULL) goto out;
    status = still_regions_find(region, &n, plant, a->targets);
    if (status != STILL_OK) goto out;
    grade = still_calloc((size_t)n + 1, 1);
    if (grade == NULL) {
        status = STILL_E_NOMEM;
        goto out;
    }
    highest(a, region, grade);
    for (uint32_t p = 0; p < plant->n_ports; p++) {
        uint8_t g = region[p] == 0 ? (uint8_t)a->required : grade[region[p]];
        by_port[p] = g < STILL_GRADE_SINGLE ? STILL_GRADE_SINGLE : g;
        if (region[p] == 0) continue;
        if (by_port[p] == STILL_GRADE_SINGLE_BLEED) a->asked.bleed_work = true;
        if (by_port[p] == STILL_GRADE_DOUBLE_BLEED) a->asked.bleed_between = true;
    }
    a->asked.by_port = by_port;
out:
    still_free(region);
    still_free(grade);
    return status;
}

still_status still_ask(still_asking *a, const uint32_t *through, size_t n_through)
{
    const still_demand_opts opts = {a->opts->work, through, n_through, a->ambient_K};
    still_status status =
        still_demands_find(&a->demands, a->arena, a->plant, a->state, a->targets, a->policy, &opts);
    if (status != STILL_OK) return status;
    a->required = still_demand_highest(&a->demands, STILL_NONE, NULL);
    /* Also where no source is within reach (I3, F-HSG-6). */
    if (a->demands.work != STILL_WORK_OPEN) a->required = STILL_GRADE_POSITIVE;
    bool differ = false;
    for (size_t i = 1; i < a->demands.n; i++)
        if (a->demands.items[i].grade != a->demands.items[0].grade) differ = true;
    a->asked =
        still_asked_everywhere(a->opts->grade == STILL_GRADE_POLICY ? a->required : a->opts->grade);
    a->asked.stays = a->stays;
    if (a->opts->grade != STILL_GRADE_POLICY || !differ) return STILL_OK;
    return ask_by_region(a);
}

/* All sources inside that hold no demand's end: what lies behind them has not been asked. */
static bool looks_through(const still_isolation *iso, const uint32_t *through, size_t n_through)
{
    for (uint32_t i = 0; i < iso->sources.n; i++) {
        bool known = false;
        for (size_t k = 0; k < n_through; k++) known = known || through[k] == iso->sources.items[i];
        if (!known) return false;
    }
    return true;
}

/* A better grade satisfies the demand, too (I2): the lowest that can be had without taking a source
 * inside. With sources inside it is another piece of work, which a person may ask for by --grade.
 */
static still_status try_better(still_isolation **iso, still_asking *a, const still_judge *judge)
{
    /* Each choice keeps a pointer to what was asked of it. */
    still_asked *asked = STILL_ARENA_NEW(a->arena, STILL_GRADE_POSITIVE + 1, still_asked);
    if (asked == NULL) return STILL_E_NOMEM;
    if (a->opts->grade != STILL_GRADE_POLICY || a->asked.by_port != NULL) return STILL_OK;
    for (int g = (int)a->asked.grade + 1; g <= STILL_GRADE_POSITIVE; g++) {
        still_isolation *better = NULL;
        asked[g] = still_asked_everywhere((still_grade)g);
        asked[g].stays = a->stays;
        still_status status =
            still_isolate(&better, a->plant, a->state, a->targets, &asked[g], judge);
        if (status != STILL_OK) return status;
        if (!better->feasible || better->sources.n > 0) {
            still_isolation_free(better);
            continue;
        }
        still_isolation_free(*iso);
        *iso = better;
        a->raised = true;
        a->asked = asked[g];
        break;
    }
    return STILL_OK;
}

still_status still_ask_and_isolate(still_isolation **out, still_asking *a, const still_judge *judge)
{
    uint32_t *through = NULL;
    size_t n = 0, cap = 0;
    still_isolation *iso = NULL;
    still_status status = still_ask(a, NULL, 0);
    while (status == STILL_OK) {
        status = still_isolate(&iso, a->plant, a->state, a->targets, &a->asked, judge);
        if (status != STILL_OK || !iso->feasible || looks_through(iso, through, n)) break;
        for (uint32_t i = 0; i < iso->sources.n && status == STILL_OK; i++) {
            uint32_t comp = iso->sources.items[i];
            bool known = false;
            for (size_t k = 0; k < n; k++) known = known || through[k] == comp;
            if (known) continue;
            if (still_grow(&through, &cap, n + 1, sizeof through[0]))
                through[n++] = comp;
            else
                status = STILL_E_NOMEM;
        }
        /* The list only grows, and demands with it: this ends. What was asked for by name stays. */
        if (status == STILL_OK) status = still_ask(a, through, n);
        if (status == STILL_OK && a->opts->grade != STILL_GRADE_POLICY) break;
        still_isolation_free(iso);
        iso = NULL;
    }
    still_free(through);
    if (status == STILL_OK && !iso->feasible) status = try_better(&iso, a, judge);
    if (status == STILL_OK)
        *out = iso;
    else
        still_isolation_free(iso);
    return status;
}

still_status still_best_grade(still_grade *best, const still_asking *a, const still_judge *judge)
{
    *best = STILL_GRADE_POLICY;
    for (int g = (int)a->asked.grade; g >= STILL_GRADE_SINGLE; g--) {
        /* What was asked everywhere is known not to work; a mix of grades may fail where one does
         * not. */
        if (g == (int)a->asked.grade && a->asked.by_port == NULL) continue;
        still_asked asked = still_asked_everywhere((still_grade)g);
        asked.stays = a->stays;
        still_isolation *iso = NULL;
        still_status status = still_isolate(&iso, a->plant, a->state, a->targets, &asked, judge);
        if (status != STILL_OK) return status;
        bool feasible = iso->feasible;
        still_isolation_free(iso);
        if (!feasible) continue;
        *best = (still_grade)g;
        break;
    }
    return STILL_OK;
}
