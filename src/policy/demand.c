/* Demands of a job, one for each source within reach.
 * Method: rule I3 taken literally. Line size and pressure near the work are those of all that is
 * near, whichever source is asked about; the class is the worst of the services near the work in
 * the source's own region and at the source, so that a steam jacket and an ammonia line at one
 * exchanger each get their own. What is unknown counts as the largest, the highest, the worst.
 * Why no step toward danger lowers a grade: docs/METHOD.md, Policy. Cost: see demand.h. */
#include "demandparts.h"

#include "alloc.h"
#include "pipesize.h"

#include <stdlib.h>
#include <string.h>

static void raise_peak(still_peak *peak, double bara, still_held held)
{
    if (isnan(bara)) {
        if (!peak->unknown) peak->held = held;
        peak->unknown = true;
    } else if (!peak->unknown && !(bara <= peak->bara)) {
        peak->bara = bara;
        peak->held = held;
    }
}

static double peak_bara(const still_peak *peak)
{
    return peak->unknown ? (double)NAN : peak->bara;
}

static void worsen(still_worst *worst, size_t row, still_held held)
{
    if (row >= worst->row) return;
    worst->row = row;
    worst->held = held;
}

/* A service counts: its class and its pressures. */
static void count_held(still_asking *a, still_held held, still_worst *worst, still_peak *normal,
                       still_peak *standstill)
{
    if (held.service == STILL_NONE) {
        worsen(worst, 0, held);
        worst->deadly = true;
        raise_peak(normal, (double)NAN, held);
        raise_peak(standstill, (double)NAN, held);
        return;
    }
    const still_known *k = still_asking_service(a, held.service);
    worsen(worst, k->classed.row, held);
    worst->deadly = worst->deadly || k->classed.deadly;
    raise_peak(normal, a->plant->services[held.service].pressure_bara, held);
    raise_peak(standstill, k->standstill_bara, held);
}

/* Line size: as people name it (DN, NPS), or inside diameter, whichever is larger. */
static double line_mm(const still_plant *p, uint32_t comp)
{
    double bore = still_comp_bore_mm(p, comp);
    const char *text = still_comp_size(p, comp);
    const still_pipe_size *size = still_pipe_find(text, strlen(text));
    if (isnan(bore)) return (double)NAN;
    return size != NULL && size->dn > bore ? (double)size->dn : bore;
}

static void count_line(still_asking *a, uint32_t comp)
{
    double mm = line_mm(a->plant, comp);
    if (isnan(mm)) {
        if (a->line_unknown == STILL_NONE) a->line_unknown = comp;
        still_asking_assume(a, still_id_of(a->plant, comp),
                            "its line size counts as the largest (no bore is known for it, and it "
                            "is within reach of the work)");
    } else if (isnan(a->line_mm) || mm > a->line_mm) {
        a->line_mm = mm;
        a->line_at = comp;
    }
}

/* The worst of a region so far, made if there is none yet; NULL when memory is out. */
static still_worst *worst_of(still_asking *a, uint32_t half)
{
    uint32_t *at = &a->worst_at[still_region_of(&a->reach, half)];
    if (*at == 0) {
        if (!still_grow(&a->worst, &a->cap_worst, a->n_worst + 1, sizeof a->worst[0])) {
            a->nomem = true;
            return NULL;
        }
        a->worst[a->n_worst++] =
            (still_worst){a->policy->n_classes, {STILL_NONE, STILL_NONE}, false};
        *at = (uint32_t)a->n_worst;
    }
    return &a->worst[*at - 1];
}

static void assume_no_service(still_asking *a, uint32_t comp)
{
    still_asking_assume(a, still_id_of(a->plant, comp),
                        "what it holds counts as %s and at the highest pressure (the plant file "
                        "names no service for it)",
                        a->policy->classes[0].name);
}

static void count_near(still_asking *a, uint32_t half, uint32_t service, uint32_t comp)
{
    still_worst *worst = worst_of(a, half);
    if (worst == NULL) return;
    if (service == STILL_NONE) assume_no_service(a, comp);
    count_held(a, (still_held){service, comp}, worst, &a->normal, &a->standstill);
}

/* A component near the work, at one of its ports. */
static void near_component(still_asking *a, uint32_t half)
{
    const still_plant *p = a->plant;
    uint32_t port = half / 2, comp = p->ports[port].comp, side = still_port_side(p, port);
    const still_comp *c = &p->comps[comp];
    if (c->cls == STILL_CLASS_EXCHANGER && side != STILL_NONE) {
        if (!a->seen_side[side]) count_near(a, half, p->sides[side].service, comp);
        a->seen_side[side] = 1;
        return;
    }
    if (a->seen_comp[comp]) return;
    a->seen_comp[comp] = 1;
    bool device = c->cls == STILL_CLASS_VALVE || c->cls == STILL_CLASS_BLIND;
    if (device || !isnan(still_comp_q(p, comp, STILL_Q_BORE_MM))) count_line(a, comp);
    if (c->cls == STILL_CLASS_VESSEL || c->service != STILL_NONE)
        count_near(a, half, c->service, comp);
}

/* An opened joint that no pipe stands at: its size is that of the component. */
static void bare_joint(still_asking *a, uint32_t port)
{
    if (a->plant->ports[port].spool == STILL_NONE && still_opened_port(a->plant, a->targets, port))
        count_line(a, a->plant->ports[port].comp);
}

static void look_near(still_asking *a)
{
    const still_plant *p = a->plant;
    for (size_t i = 0; i < a->reach.near.n; i++) {
        uint32_t half = a->reach.near.items[i], spool = p->ports[half / 2].spool;
        if (half % 2 == 0) {
            near_component(a, half);
            continue;
        }
        if (spool == STILL_NONE) bare_joint(a, half / 2);
        if (spool == STILL_NONE || a->seen_comp[spool]) continue;
        a->seen_comp[spool] = 1;
        count_line(a, spool);
        count_near(a, half, p->comps[spool].service, spool);
    }
    if (a->line_unknown == STILL_NONE && isnan(a->line_mm) && a->targets->n > 0)
        a->line_unknown = a->targets->items[0].comp;
}

/* All services at a source: its own, and those of the pipes at it. */
static void look_at_source(still_asking *a, const still_reached *s, still_worst *worst,
                           still_peak *normal, still_peak *standstill)
{
    const still_plant *p = a->plant;
    const still_comp *c = &p->comps[s->comp];
    uint32_t side = s->port == STILL_NONE ? STILL_NONE : still_port_side(p, s->port);
    uint32_t own = side == STILL_NONE ? c->service : p->sides[side].service;
    size_t n = own != STILL_NONE;
    if (n > 0) count_held(a, (still_held){own, s->comp}, worst, normal, standstill);
    for (uint32_t i = 0; i < c->b && s->port == STILL_NONE; i++) {
        uint32_t spool = p->ports[c->a + i].spool;
        if (spool == STILL_NONE) continue;
        if (p->comps[spool].service == STILL_NONE && !a->seen_comp[spool])
            assume_no_service(a, spool);
        a->seen_comp[spool] = 1;
        count_held(a, (still_held){p->comps[spool].service, spool}, worst, normal, standstill);
        n++;
    }
    if (n > 0) return;
    assume_no_service(a, s->comp);
    count_held(a, (still_held){STILL_NONE, s->comp}, worst, normal, standstill);
}

static void ask(still_asking *a, still_source_demand *d, const still_reached *s)
{
    still_worst *near = worst_of(a, s->half);
    if (near == NULL) return;
    still_worst worst = *near;
    still_peak normal = a->normal, standstill = a->standstill;
    look_at_source(a, s, &worst, &normal, &standstill);
    still_job job = {.class_at = worst.row,
                     .line_mm = a->line_unknown != STILL_NONE ? (double)NAN : a->line_mm,
                     .pressure_bara = peak_bara(&normal),
                     .people_high = a->people_high,
                     .work = a->work,
                     .opening = (still_opened_kind)a->opening};
    still_ruling ruling = still_policy_rule(a->policy, &job);
    bool deadly = worst.deadly && ruling.cell.grade < STILL_GRADE_POSITIVE;
    *d = (still_source_demand){.comp = s->comp,
                               .port = s->port,
                               .grade = ruling.cell.grade,
                               .risk = ruling.cell.risk || deadly,
                               .region = still_region_of(&a->reach, s->half)};
    still_asking_words(a, d, &job, &ruling, &worst, &normal);
    job.pressure_bara = peak_bara(&standstill);
    still_asking_standstill(a, d, &job, &standstill);
}

/* Sources in the bytewise order of their ids. qsort has no room for the plant beside the items. */
typedef struct ordered {
    const char *id;
    still_reached source;
} ordered;

static int by_id(const void *pa, const void *pb)
{
    const ordered *a = pa, *b = pb;
    int order = strcmp(a->id, b->id);
    if (order != 0) return order;
    uint32_t x = a->source.port + 1, y = b->source.port + 1; /* the component itself first */
    return x < y ? -1 : x > y;
}

/* Regions are numbered in the order in which the demands meet them. */
static uint32_t number_regions(still_source_demand *items, size_t n, uint32_t *number)
{
    uint32_t regions = 0;
    for (size_t i = 0; i < n; i++) {
        uint32_t *at = &number[items[i].region];
        if (*at == 0) *at = ++regions;
        items[i].region = *at - 1;
    }
    return regions;
}

static void ask_all(still_asking *a, still_source_demands *out)
{
    size_t n = a->reach.n_sources;
    still_source_demand *items = STILL_ARENA_NEW(a->arena, n, still_source_demand);
    ordered *order = still_calloc(n, sizeof order[0]);
    uint32_t *number = still_calloc((size_t)a->plant->n_ports * 2, sizeof number[0]);
    if (items == NULL || order == NULL || number == NULL) a->nomem = true;
    for (size_t i = 0; i < n && !a->nomem; i++)
        order[i] = (ordered){still_id_of(a->plant, a->reach.sources[i].comp), a->reach.sources[i]};
    if (n > 0 && !a->nomem) qsort(order, n, sizeof order[0], by_id);
    for (size_t i = 0; i < n && !a->nomem; i++) ask(a, &items[i], &order[i].source);
    if (!a->nomem) {
        out->items = items;
        out->n = n;
        out->n_regions = number_regions(items, n, number);
    }
    still_free(number);
    still_free(order);
}

static void settle_work(still_asking *a)
{
    bool vessel = false;
    for (size_t i = 0; i < a->targets->n; i++) {
        const still_target *t = &a->targets->items[i];
        unsigned cls = a->plant->comps[t->comp].cls;
        if (t->port != STILL_NONE)
            a->opening |= STILL_OPENING_JOINT;
        else if (cls == STILL_CLASS_VALVE || cls == STILL_CLASS_BLIND || cls == STILL_CLASS_OUTLET)
            a->opening |= STILL_OPENING_VALVE;
        else
            a->opening |= STILL_OPENING_EQUIPMENT;
        vessel = vessel || (cls == STILL_CLASS_VESSEL && t->port == STILL_NONE);
    }
    a->work = a->opts.work;
    if (a->work == STILL_WORK_BY_TARGET) a->work = vessel ? STILL_WORK_ENTRY : STILL_WORK_OPEN;
}

static bool begin(still_asking *a, const still_state *state)
{
    const still_plant *p = a->plant;
    still_status status =
        still_workreach_find(&a->reach, p, state, a->targets, a->opts.through, a->opts.n_through);
    a->services = still_calloc(p->n_services, sizeof a->services[0]);
    a->worst_at = still_calloc((size_t)p->n_ports * 2, sizeof a->worst_at[0]);
    a->seen_comp = still_calloc(p->n_comps, 1);
    a->seen_side = still_calloc(p->n_sides, 1);
    return status == STILL_OK && a->services != NULL && a->worst_at != NULL &&
           a->seen_comp != NULL && a->seen_side != NULL;
}

static bool keep_assumptions(still_asking *a, still_source_demands *out)
{
    still_remark *kept = STILL_ARENA_NEW(a->arena, a->n_assumptions, still_remark);
    if (kept == NULL) return false;
    for (size_t i = 0; i < a->n_assumptions; i++) kept[i] = a->assumptions[i];
    out->assumptions = kept;
    out->n_assumptions = a->n_assumptions;
    return true;
}

still_status still_demands_find(still_source_demands *out, still_arena *arena,
                                const still_plant *plant, const still_state *state,
                                const still_targets *targets, const still_policy *policy,
                                const still_demand_opts *opts)
{
    static const still_demand_opts plain = STILL_DEMAND_OPTS_INIT;
    still_asking a = {.arena = arena,
                      .plant = plant,
                      .policy = policy,
                      .targets = targets,
                      .opts = opts != NULL ? *opts : plain,
                      .normal = STILL_PEAK_INIT,
                      .standstill = STILL_PEAK_INIT,
                      .line_mm = (double)NAN,
                      .line_at = STILL_NONE,
                      .line_unknown = STILL_NONE};
    still_source_demands found = {0};
    still_status status = STILL_E_NOMEM;
    if (!begin(&a, state)) goto out;
    settle_work(&a);
    still_asking_people(&a);
    look_near(&a);
    ask_all(&a, &found);
    if (a.nomem || !keep_assumptions(&a, &found)) goto out;
    found.work = a.work;
    found.line_mm = a.line_unknown != STILL_NONE ? (double)NAN : a.line_mm;
    found.pressure_bara = peak_bara(&a.normal);
    found.people_high = a.people_high;
    *out = found;
    status = STILL_OK;
out:
    still_workreach_clear(&a.reach);
    still_free(a.services);
    still_free(a.worst);
    still_free(a.worst_at);
    still_free(a.seen_comp);
    still_free(a.seen_side);
    still_free(a.assumptions);
    return status;
}

still_grade still_demand_highest(const still_source_demands *demands, uint32_t region, bool *risk)
{
    still_grade highest = STILL_GRADE_SINGLE;
    bool marked = false;
    for (size_t i = 0; i < demands->n; i++) {
        const still_source_demand *d = &demands->items[i];
        if (region != STILL_NONE && d->region != region) continue;
        if (d->grade > highest) {
            highest = d->grade;
            marked = false;
        }
        marked = marked || (d->grade == highest && d->risk);
    }
    if (risk != NULL) *risk = marked;
    return highest;
}

const still_source_demand *still_demand_of(const still_source_demands *demands, uint32_t comp)
{
    const still_source_demand *found = NULL;
    for (size_t i = 0; i < demands->n; i++)
        if (demands->items[i].comp == comp &&
            (found == NULL || demands->items[i].grade > found->grade))
            found = &demands->items[i];
    return found;
}
