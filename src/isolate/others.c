/* Other worthwhile choices (I4).
 * Problem: plans that no other beats in sources taken inside, points, mass enclosed and equipment
 * out of service. Method: branch and bound over cases with a bound for each of the four, each a
 * minimum cut of its own. A case is dropped when some choice in hand is as good as all four bounds;
 * else the four labellings are looked at: one that breaks a condition splits the case as in the
 * search, those that hold are offered, and where they differ the case is split. Why nothing is
 * lost: docs/METHOD.md, 3.7. Cost: four cuts a case; the number of cases has a limit. */
#include "isolate.h"

#include "alloc.h"
#include "cases.h"

#include <string.h>

/** Components of a plant up to which relief paths of other choices are looked at. */
#define MOST_JUDGED 20000
/** What saves under this part of the plan's mass, and nothing else, is no choice: half of it while
 *  choices are looked for, half when they are compared. */
#define PETTY 20
/** Other choices that are kept. */
#define MOST 24
/** Cases that are looked at, and cases times pieces. */
#define MOST_CASES 1500
#define MOST_WORK 120000

#define N_AIMS 4
/** What comes before points in a weight: more than a choice has. */
#define FIRST 1000

/* What a choice costs, or a case at least. */
typedef struct price {
    uint32_t sources, points, equipment;
    bool mass_unknown;
    uint64_t grams;
} price;

typedef struct finding_out {
    still_isolation *iso;
    still_layers aims[N_AIMS]; /* the same, with other weights: sources, points, mass, equipment */
    still_run run;
    still_search unused;
    price plan;
    bool again;         /* second pass: only what beats a choice in hand */
    uint64_t tolerance; /* a choice that saves no more grams than this and nothing else is none */
    still_iso_other list[MOST];
    uint32_t n;
    bool unknown_work;
    uint64_t grams_work; /* of the work's own pieces, which is in every choice */
    uint32_t equipment_work;
    uint64_t cases, most_cases;
    bool cut_short; /* more was found than is kept, or than the weights are made for */
} finding_out;

/* a is nowhere worse than b, or by so many grams. */
static bool as_good(const price *a, const price *b, uint64_t grams)
{
    if (a->sources > b->sources || a->points > b->points || a->equipment > b->equipment)
        return false;
    if (a->mass_unknown) return b->mass_unknown;
    return b->mass_unknown || a->grams <= b->grams + grams;
}

static price price_of(const still_iso_other *o)
{
    return (price){o->sources, o->points, o->equipment, o->mass_unknown, o->grams};
}

/* Nothing is to be had from what costs at least this: something in hand is as good, or, in the
 * second pass, it beats nothing in hand. */
static bool beaten(const finding_out *f, const price *p)
{
    bool beats = !f->again;
    if (as_good(&f->plan, p, f->tolerance)) return true;
    for (uint32_t i = 0; i < f->n; i++) {
        price other = price_of(&f->list[i]);
        if (as_good(&other, p, f->tolerance)) return true;
        beats = beats || as_good(p, &other, 0);
    }
    return !beats;
}

/* As a plan that is made of it would be priced: it may enclose spaces further out (I2). */
static still_status price_of_labelling(const finding_out *f, const still_open_case *o, price *p)
{
    const still_zone *zone = f->aims[0].zone;
    still_search as_plan = {.best = o->l, .position = still_three_ways_stand(zone, o)};
    still_enclosure enclosure;
    if (as_plan.position == NULL) return STILL_E_NOMEM;
    still_status status = still_enclosed(zone, &as_plan, &enclosure);
    still_free(as_plan.position);
    *p = (price){o->l.sources, o->l.n_ids, enclosure.equipment, enclosure.mass_unknown,
                 enclosure.grams};
    return status;
}

/* A choice that holds: drops what it beats. */
static still_status offer(finding_out *f, const still_labelling *l, const price *p, bool breach)
{
    still_iso_other o = {.sources = p->sources,
                         .points = p->points,
                         .equipment = p->equipment,
                         .mass_unknown = p->mass_unknown,
                         .grams = p->grams,
                         .breach = breach};
    if (beaten(f, p)) return STILL_OK;
    o.ids = STILL_ARENA_NEW(&f->iso->arena, l->n_ids, const char *);
    if (o.ids == NULL) return STILL_E_NOMEM;
    memcpy(o.ids, l->ids, l->n_ids * sizeof o.ids[0]);
    uint32_t kept = 0;
    for (uint32_t i = 0; i < f->n; i++) {
        price other = price_of(&f->list[i]);
        if (!as_good(p, &other, 0)) f->list[kept++] = f->list[i];
    }
    f->n = kept;
    if (f->n < MOST)
        f->list[f->n++] = o;
    else
        f->cut_short = true;
    return STILL_OK;
}

/* --- one case --------------------------------------------------------------------------------- */

/* The four labellings of a case, and what each labelling of it costs at least. */
typedef struct views {
    still_open_case of[N_AIMS]; /* the case itself is in the first only */
    price bound;
} views;

static void clear_views(views *v)
{
    for (int i = 0; i < N_AIMS; i++) still_labelling_clear(&v->of[i].l);
    still_case_clear(&v->of[0].c);
}

static void bound_of(finding_out *f, views *v)
{
    const still_layers *l = &f->aims[2];
    uint64_t units = v->of[2].l.bound / FIRST;
    v->bound.sources = v->of[0].l.sources;
    v->bound.points = (uint32_t)v->of[1].l.bound;
    for (int i = 1; i < N_AIMS; i++) f->cut_short = f->cut_short || v->of[i].l.n_ids >= FIRST;
    v->bound.mass_unknown = f->unknown_work || units >= l->unknown_units;
    v->bound.grams = f->grams_work + units * l->mass_unit;
    v->bound.equipment = f->equipment_work + (uint32_t)(v->of[3].l.bound / FIRST);
}

/* Solve a case four times. Takes it over. @param[out] feasible  it has a labelling */
static still_status view(finding_out *f, still_case *c, views *v, bool *feasible)
{
    still_bleed_ties ties = {0};
    still_status status = STILL_OK;
    v->of[0].c = *c;
    *c = (still_case){0};
    *feasible = true;
    f->cases++;
    if (f->run.ways.n_cells > 0) {
        status = still_bleed_ties_find(&ties, &f->run.ways, &v->of[0].c);
        if (status == STILL_OK) still_case_settle(&f->run, &v->of[0].c, &ties);
        *feasible = status == STILL_OK && !ties.none;
        v->of[0].c.ties = &ties;
    }
    for (int i = 0; i < N_AIMS && status == STILL_OK && *feasible; i++)
        status = still_layers_solve(&v->of[i].l, feasible, &f->aims[i], &v->of[0].c, NULL);
    v->of[0].c.ties = NULL;
    for (int i = 1; i < N_AIMS; i++) v->of[i].c = v->of[0].c;
    still_bleed_ties_clear(&ties);
    if (status == STILL_OK && *feasible) bound_of(f, v);
    return status;
}

/* The piece at which labellings differ, one that is enclosed in some of them if there is any.
 * @param[out] low  the lower label */
static uint32_t differing(const finding_out *f, const views *v, uint8_t *low)
{
    const still_zone *zone = f->aims[0].zone;
    uint32_t found = STILL_NONE;
    uint64_t most = 0;
    for (uint32_t p = 0; p < zone->n_pieces; p++) {
        const still_piece *piece = &zone->pieces[p];
        if (piece->work || !still_in_play(piece)) continue;
        uint8_t least = UINT8_MAX, highest = 0;
        for (int i = 0; i < N_AIMS; i++) {
            uint8_t label = v->of[i].l.label[p];
            if (label < least) least = label;
            if (label > highest) highest = label;
        }
        if (least == highest) continue;
        uint64_t weight = 1;
        if (highest == piece->outside) weight += 1 + piece->grams + 1000 * piece->n_equipment;
        if (weight <= most) continue;
        most = weight;
        found = p;
        *low = highest == piece->outside ? (uint8_t)(highest - 1) : least;
    }
    return found;
}

/* Two cases: the piece has this label at most, or more. */
static still_status split_piece(finding_out *f, const views *v, uint32_t piece, uint8_t low)
{
    still_split s = still_split_begin(&f->run, &v->of[0], false);
    still_split_labels(&s, piece, (uint8_t)(low + 1), UINT8_MAX);
    still_split_labels(&s, piece, 0, low);
    return still_split_end(&s);
}

/* Look at one of the labellings, at its price. @param[out] open  it broke no condition */
static still_status examine(finding_out *f, views *v, int i, const price *p, bool *open)
{
    still_outcome outcome;
    f->run.layers = &f->aims[i];
    still_status status = still_case_examine(&f->run, &v->of[i], &outcome);
    f->run.layers = &f->aims[0];
    *open = status == STILL_OK && outcome != STILL_OUTCOME_SPLIT;
    return *open ? offer(f, &v->of[i].l, p, outcome == STILL_OUTCOME_BREACH) : status;
}

static still_status look(finding_out *f, views *v)
{
    bool open = true;
    price p[N_AIMS];
    still_status status = STILL_OK;
    for (int i = 0; i < N_AIMS && status == STILL_OK && open; i++) {
        status = price_of_labelling(f, &v->of[i], &p[i]);
        if (status == STILL_OK && !beaten(f, &p[i])) status = examine(f, v, i, &p[i], &open);
    }
    if (status != STILL_OK || !open || beaten(f, &v->bound)) return status;
    uint8_t low = 0;
    uint32_t piece = differing(f, v, &low);
    if (piece != STILL_NONE) return split_piece(f, v, piece, low);
    /* One labelling, dearer than its bounds: it breaks a condition. */
    return examine(f, v, 1, &p[1], &open);
}

/* --- the run ---------------------------------------------------------------------------------- */

/* @param[out] complete  no case was left */
static still_status go(finding_out *f, bool *complete)
{
    still_case root = {0};
    still_status status = still_case_open(&root, &f->aims[0]);
    if (status == STILL_OK) status = still_run_bleeds(&f->run, &root);
    if (status == STILL_OK) status = still_case_solve(&f->run, &root, false);
    still_case_clear(&root);
    while (status == STILL_OK && f->run.n_heap > 0 && f->cases < f->most_cases) {
        still_open_case o = f->run.heap[--f->run.n_heap];
        views v = {0};
        bool feasible;
        status = view(f, &o.c, &v, &feasible);
        if (status == STILL_OK && feasible && !beaten(f, &v.bound)) status = look(f, &v);
        clear_views(&v);
    }
    *complete = f->run.n_heap == 0;
    return status;
}

/* The four aims. The unit of mass is such that no piece is cut short.
 * @param[out] fit  the solver can take the weights: in no plant that is smaller than millions */
static still_status set_aims(finding_out *f, const still_zone *zone, bool *fit)
{
    still_layers *l = &f->aims[0];
    still_status status = still_layers_build(l, zone);
    if (status != STILL_OK) return status;
    uint64_t most = 0, sum = 0, unknown = 0, equipment = 0;
    for (uint32_t p = 0; p < zone->n_pieces; p++) {
        const still_piece *piece = &zone->pieces[p];
        if (piece->grams > most) most = piece->grams;
        equipment += piece->n_equipment;
        if (!piece->work) continue;
        f->grams_work += piece->grams;
        f->unknown_work = f->unknown_work || piece->mass_unknown;
        f->equipment_work += piece->n_equipment;
    }
    /* The solver takes sums of all capacities times edges up to 2^52. */
    uint64_t edges = 60 * (zone->n_pieces + zone->n_devices + l->n_entries + l->n_isolators + 1);
    uint64_t room = (UINT64_C(1) << 52) / edges / FIRST;
    for (l->mass_unit = 1;; l->mass_unit *= 10) {
        sum = unknown = 0;
        for (uint32_t p = 0; p < zone->n_pieces; p++) {
            sum += zone->pieces[p].grams / l->mass_unit;
            unknown += zone->pieces[p].mass_unknown;
        }
        uint64_t total = sum + unknown * (sum + 1);
        bool fits = total < room && (most / l->mass_unit + sum + 1) * FIRST < UINT32_MAX - 1;
        if (fits || sum == 0) break;
    }
    l->unknown_units = sum + 1;
    *fit = sum + unknown * (sum + 1) < room && equipment < room;
    l->unproved = true;
    for (int i = 1; i < N_AIMS; i++) f->aims[i] = *l;
    for (int i = 1; i < N_AIMS; i++) f->aims[i].free_sources = true;
    f->aims[2].weights = (still_weights){1, FIRST, 0};
    f->aims[3].weights = (still_weights){1, 0, FIRST};
    return STILL_OK;
}

static bool before(const still_iso_other *a, const still_iso_other *b)
{
    if (a->sources != b->sources) return a->sources < b->sources;
    if (a->points != b->points) return a->points < b->points;
    if (a->equipment != b->equipment) return a->equipment < b->equipment;
    if (a->mass_unknown != b->mass_unknown) return b->mass_unknown;
    return a->grams < b->grams;
}

/* In this order what can be as good as a choice comes before it. */
static void sort(still_iso_other *list, uint32_t n)
{
    for (uint32_t i = 1; i < n; i++) {
        still_iso_other o = list[i];
        uint32_t k = i;
        for (; k > 0 && before(&o, &list[k - 1]); k--) list[k] = list[k - 1];
        list[k] = o;
    }
}

/* Choices that save little against another one that stays. */
static void drop_petty(finding_out *f)
{
    uint64_t little = f->plan.grams / (2 * PETTY);
    uint32_t kept = 0;
    sort(f->list, f->n);
    for (uint32_t i = 0; i < f->n; i++) {
        price p = price_of(&f->list[i]);
        bool petty = false;
        for (uint32_t k = 0; k < kept && !petty; k++) {
            price other = price_of(&f->list[k]);
            petty = as_good(&other, &p, little);
        }
        if (!petty) f->list[kept++] = f->list[i];
    }
    f->n = kept;
}

/* First all choices that save enough; then, of these, each that is beaten by less than that is
 * replaced by what beats it. */
static still_status run_all(finding_out *f, const still_zone *zone, const still_judge *judge,
                            bool *complete)
{
    bool fit = false;
    still_status status = set_aims(f, zone, &fit);
    f->most_cases = MOST_WORK / (zone->n_pieces + 1);
    if (f->most_cases > MOST_CASES) f->most_cases = MOST_CASES;
    *complete = fit;
    for (int pass = 0; pass < 2 && status == STILL_OK && fit; pass++) {
        bool all = false;
        f->again = pass == 1;
        f->tolerance = f->again ? 0 : f->plan.grams / (2 * PETTY);
        f->cases = 0;
        if (f->again) drop_petty(f);
        if (f->again && f->n == 0) break;
        status = still_run_init(&f->run, &f->unused, &f->aims[0], judge);
        f->run.gathering = true;
        if (status == STILL_OK) status = go(f, &all);
        still_run_clear(&f->run);
        *complete = *complete && all && !f->cut_short;
    }
    still_layers_clear(&f->aims[0]);
    return status;
}

/* A near choice stands beside the plan on its first page (I4). */
static bool is_near(const still_iso_other *o, const price *plan)
{
    if (o->sources > plan->sources || o->points > plan->points + 2) return false;
    bool lighter = !o->mass_unknown && (plan->mass_unknown || o->grams * 2 < plan->grams);
    return lighter || o->equipment < plan->equipment;
}

still_status still_isolate_others(still_isolation *iso, const still_judge *judge)
{
    /* What must stay in service is looked at in any case. */
    bool judged = iso->zone.plant->n_comps <= MOST_JUDGED || iso->zone.asked->stays != NULL;
    if (!iso->feasible) return STILL_OK;
    finding_out f = {.iso = iso};
    f.plan = (price){.sources = iso->sources.n,
                     .points = iso->points.n + iso->feeds.n,
                     .equipment = iso->equipment,
                     .mass_unknown = iso->mass_unknown,
                     .grams = iso->grams};
    /* In a large plant the zone with more sources inside is the whole plant, and no choice that
     * anyone would make. */
    still_zone zone = {0};
    const still_zone *within = &iso->zone;
    still_status status = STILL_OK;
    if (iso->zone.plant->n_comps <= MOST_JUDGED) {
        status = still_zone_build(&zone, iso->zone.plant, iso->zone.state, iso->zone.targets,
                                  iso->zone.asked, true);
        if (!zone.infeasible) within = &zone;
    }
    if (status == STILL_OK)
        status = run_all(&f, within, judged ? judge : NULL, &iso->others_complete);
    if (within != &zone) iso->others_complete = iso->others_complete && zone.infeasible;
    still_zone_clear(&zone);
    if (status != STILL_OK) return status;
    iso->others = STILL_ARENA_NEW(&iso->arena, f.n, still_iso_other);
    if (iso->others == NULL) return STILL_E_NOMEM;
    sort(f.list, f.n);
    for (uint32_t i = 0; i < f.n; i++) {
        still_iso_other *o = &iso->others[iso->n_others++];
        *o = f.list[i];
        o->near = is_near(o, &f.plan);
        o->judged = judged;
    }
    return STILL_OK;
}
