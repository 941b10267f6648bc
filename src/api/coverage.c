/* Closed-in liquid of a whole plant as a record: from segments.h to texts and numbers for people.
 */
#include "coverage_inside.h"

#include "alloc.h"
#include "coverage_parts.h"
#include "describe.h"
#include "diags.h"
#include "found.h"
#include "output.h"
#include "reliefsize.h"
#include "shared.h"
#include "since.h"
#include "utf8.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* Sun on bare pipe, W/m2, on all of its outer surface: F-API-5. */
static const double SUN_KW_PER_M2 = 1.04;

typedef still_coverage work;

#define SAY(...) still_arena_printf(&w->arena, __VA_ARGS__)

static const char *or_fail(work *w, const char *text)
{
    if (text == NULL) w->failed = true;
    return text != NULL ? text : "";
}

static still_strings ids_of(work *w, const uint32_t *items, uint32_t n)
{
    still_strings out = {NULL, 0};
    if (!still_list_ids(&w->arena, w->plant, items, n, &out)) w->failed = true;
    return out;
}

static const char *join(work *w, const uint32_t *items, uint32_t n)
{
    return or_fail(w, still_join_ids(&w->arena, w->plant, items, n));
}

static const char *id_or_none(const work *w, uint32_t comp)
{
    return comp == STILL_NONE ? "" : still_id_of(w->plant, comp);
}

static const char *shut_by_text(still_shut_by by)
{
    static const char *const texts[] = {"", "itself", "person", "plan-only"};
    return texts[by];
}

static const char *state_text(still_cover cover)
{
    static const char *const texts[] = {"covered", "uncovered", "not-full"};
    return texts[cover];
}

/* What codes ask, by who shuts it in. The words are ours; the clauses stand in the sources. */
static const char *codes_of(still_shut_by by)
{
    switch (by) {
    case STILL_SHUT_BY_ITSELF:
        return "shuts in without anybody's doing: refrigeration codes ask for a device that keeps "
               "the "
               "pressure at or below design (ANSI/IIAR 2, hydrostatic overpressure; ASHRAE 15, "
               "9.4.3.1; EN 378-2), process codes for thermal relief (API 521, 5th ed., 5.14); the "
               "local code decides";
    case STILL_SHUT_BY_PERSON:
        return "people can shut it in, in standby or seasonal isolation too: EN 378-2 and ISO "
               "5149-2 "
               "ask for protection of a part that can be shut off on both sides, or for a valve "
               "secured open; ANSI/IIAR 2 for protection where isolation is planned; the local "
               "code "
               "decides";
    case STILL_SHUT_BY_PLAN:
        return "shut in only for service: ANSI/IIAR 2 and ASHRAE 15, 9.4.3.2, let engineering or "
               "administrative controls do, such as a written procedure that empties it; the local "
               "code decides";
    case STILL_SHUT_BY_NOBODY: break;
    }
    return "";
}

static const char *why_covered(work *w, const still_piece_facts *f)
{
    const char *covers = join(w, f->covers, f->n_covers);
    if (f->n_conditions == 0) return or_fail(w, SAY("covered by %s", covers));
    return or_fail(w, SAY("covered by %s, as long as %s %s", covers,
                          join(w, f->conditions, f->n_conditions),
                          f->n_conditions > 1 ? "pass as they do" : "passes as it does"));
}

static const char *why_not_full(work *w, const still_piece_facts *f)
{
    return or_fail(w, SAY("not full of liquid; at %.4g degC its pressure stays below its design "
                          "pressure, at %.4g barg",
                          w->record.ambient_degC, f->warming.ambient_bara - STILL_ATM_BAR));
}

static const char *why_uncovered(work *w, const still_piece_facts *f)
{
    const char *what = f->full ? "liquid" : "what is not full of liquid";
    const char *limit =
        f->at_limit ? "; the drawing ends within it, and what lies beyond is not known" : "";
    const char *by = f->n_closed_by == 0 ? "nothing that could be opened"
                                         : join(w, f->closed_by, f->n_closed_by);
    const char *why;
    if (isnan(f->design_bara))
        why =
            SAY("its design pressure is not in the plant file, so only an open outlet would cover "
                "it");
    else if (isfinite(f->open_bara))
        why = SAY("the cover in reach opens at %.4g barg, above its design pressure of %.4g barg",
                  f->open_bara - STILL_ATM_BAR, f->design_bara - STILL_ATM_BAR);
    else
        why = SAY("no relief valve or open outlet in reach");
    why = or_fail(w, why);
    if (f->full) return or_fail(w, SAY("%s shut in by %s; %s%s", what, by, why, limit));
    const char *judged =
        f->warming.unknown          ? "whether it stays below its design pressure is not known"
        : !isnan(f->warming.full_K) ? "it becomes full of liquid by ambient"
                                    : "its pressure reaches its design pressure by ambient";
    return or_fail(w, SAY("%s, shut in by %s: %s; %s%s", what, by, judged, why, limit));
}

static const char *numbers_text(work *w, const still_warming *m)
{
    const char *basis = "";
    switch (m->basis) {
    case STILL_WARMING_NONE: return or_fail(w, SAY("no numbers: %s", m->why));
    case STILL_WARMING_EQUATION: basis = "equation of state"; break;
    case STILL_WARMING_CONSTANTS: basis = "constants of the plant file, not an equation"; break;
    case STILL_WARMING_GAS: basis = "gas: pressure in proportion to temperature"; break;
    }
    return or_fail(
        w,
        SAY("%s%s%s%s", basis, m->mixed_temperatures ? "; from its coldest service" : "",
            (m->flags & STILL_CLOSEDIN_CONFLICT) != 0
                ? "; pressure and temperature of the service contradict each other, the worse of "
                  "both was taken"
            : (m->flags & STILL_CLOSEDIN_SATURATED) != 0
                ? "; its pressure is not said: from saturated liquid"
                : "",
            m->unknown ? "; whether it reaches its design pressure is not known" : ""));
}

/* Pressure at which the first cover opens while its low side stands at its normal pressure. */
static double opening_normal(const work *w, const still_piece_facts *f)
{
    if (f->n_covers == 0) return (double)NAN;
    uint32_t valve = f->covers[0];
    const still_comp *c = &w->plant->comps[valve];
    if (c->cls != STILL_CLASS_VALVE) return STILL_ATM_BAR;
    double set = still_comp_q(w->plant, valve, STILL_Q_SET_PRESSURE_BARA);
    uint32_t spool = w->plant->ports[c->a + 1].spool;
    if (c->balanced == STILL_YESNO_YES || spool == STILL_NONE) return set;
    uint32_t service = w->plant->comps[spool].service;
    if (service == STILL_NONE) return (double)NAN;
    double back = w->plant->services[service].pressure_bara - STILL_ATM_BAR;
    return fmin(set + fmax(back, 0), f->open_bara); /* never above the worst case */
}

static void relief_need(still_segment *s, const still_warming *m)
{
    s->relief_heat_kW = SUN_KW_PER_M2 * m->outside_m2 + m->heat_kW;
    still_reliefneed need = still_reliefneed_of(m->expansivity_per_K, s->relief_heat_kW,
                                                m->density_kg_m3, m->cp_J_per_kgK);
    s->relief_kg_per_h = need.mass_kg_per_s * 3600;
}

static bool accepted(const still_coverage_record *r, const char *name)
{
    for (size_t i = 0; i < r->option_accept.n; i++) {
        const char *colon = strchr(r->option_accept.items[i], ':');
        if (r->option_accept.items[i][0] == 'L' && strcmp(colon + 1, name) == 0) return true;
    }
    return false;
}

static still_segment segment_of(work *w, const still_piece_facts *f)
{
    const still_warming *m = &f->warming;
    const double none = (double)NAN;
    bool uncovered = f->cover == STILL_COVER_UNCOVERED;
    still_segment s = {.name = id_or_none(w, f->lowest),
                       .ids = ids_of(w, f->ids, f->n_ids),
                       .closed_by = ids_of(w, f->closed_by, f->n_closed_by),
                       .covered_by = ids_of(w, f->covers, uncovered ? 0 : f->n_covers),
                       .conditions = ids_of(w, f->conditions, uncovered ? 0 : f->n_conditions),
                       .state = state_text(f->cover),
                       .shut_by = shut_by_text(f->shut_by),
                       .stub = f->stub,
                       .counts = uncovered && !f->stub && f->shut_by != STILL_SHUT_BY_PLAN,
                       .full = f->full,
                       .at_limit = f->at_limit,
                       .substance = "",
                       .codes = codes_of(f->shut_by),
                       .volume_m3 = m->volume_m3,
                       .mass_kg = m->mass_kg,
                       .start_degC = m->start_K - STILL_ZERO_DEGC_K,
                       .start_bara = m->start_bara,
                       .bar_per_K_rigid = m->rigid_bar_per_K,
                       .bar_per_K = m->bar_per_K,
                       .design_bara = f->design_bara,
                       .weakest = id_or_none(w, f->weakest),
                       .reaches_design_at_degC =
                           m->reaches ? m->reaches_K - STILL_ZERO_DEGC_K : none,
                       .never = !m->reaches && !m->unknown && m->basis != STILL_WARMING_NONE,
                       .by_vapour = m->by_vapour,
                       .full_at_degC = m->full_K - STILL_ZERO_DEGC_K,
                       .ambient_bara_rigid = m->ambient_rigid_bara,
                       .ambient_bara = m->ambient_bara,
                       .opening_bara = isfinite(f->open_bara) ? f->open_bara : none,
                       .opening_normal_bara = uncovered ? none : opening_normal(w, f),
                       .numbers = numbers_text(w, m),
                       .relief_kg_per_h = none,
                       .relief_heat_kW = none,
                       .stronger_by = id_or_none(w, f->stronger_by),
                       .stronger = id_or_none(w, f->stronger)};
    if (m->service != STILL_NONE)
        s.substance = still_text(w->plant, w->plant->services[m->service].substance);
    s.why = uncovered                          ? why_uncovered(w, f)
            : f->cover == STILL_COVER_NOT_FULL ? why_not_full(w, f)
                                               : why_covered(w, f);
    if (uncovered) relief_need(&s, m);
    s.accepted = uncovered && accepted(&w->record, s.name);
    return s;
}

static int rank(const still_segment *s)
{
    if (strcmp(s->state, "uncovered") != 0) return strcmp(s->state, "covered") == 0 ? 4 : 5;
    if (s->stub) return 3;
    return strcmp(s->shut_by, "itself") == 0 ? 0 : strcmp(s->shut_by, "person") == 0 ? 1 : 2;
}

/* Kelvins until the design pressure is reached: unknown is worst, never is best. */
static double margin(const still_segment *s)
{
    if (s->never) return (double)INFINITY;
    double k = s->reaches_design_at_degC - s->start_degC;
    return isnan(k) ? -(double)INFINITY : k;
}

/* Worst first: by who shuts it in, then by danger. */
static int worst_first(const void *pa, const void *pb)
{
    const still_segment *a = pa, *b = pb;
    if (rank(a) != rank(b)) return rank(a) - rank(b);
    if (rank(a) < 4 && margin(a) < margin(b)) return -1;
    if (rank(a) < 4 && margin(a) > margin(b)) return 1;
    int c = strcmp(a->name, b->name);
    return c != 0 ? c : a->number < b->number ? -1 : a->number > b->number;
}

static void count(still_coverage_record *r, const still_segment *s)
{
    if (strcmp(s->state, "covered") == 0) r->n_covered++;
    if (strcmp(s->state, "not-full") == 0) r->n_not_full++;
    if (strcmp(s->state, "uncovered") != 0) return;
    r->n_uncovered++;
    r->n_itself += strcmp(s->shut_by, "itself") == 0;
    r->n_person += strcmp(s->shut_by, "person") == 0;
    r->n_plan_only += strcmp(s->shut_by, "plan-only") == 0;
    r->n_stubs += s->stub;
    r->n_accepted += s->accepted;
    r->n_gaps += s->counts && !s->accepted;
}

static void add_notes(work *w)
{
    static const char *texts[] = {
        "[L8] Thermal expansion of closed-in fluid only: fire, blocked discharge, capacity and "
        "inlet "
        "loss are not checked.",
        "[L5] Worst case: every device that can be shut is shut; only valves sealed open and check "
        "valves, forward, count as ways to a cover. Each condition named must hold.",
        "[L3] Lines that are two-phase or of unknown contents count as full of liquid.",
        "[L4] Pipes: thick wall, closed ends, E 200 GPa, Poisson 0.3, expansion 1.2e-5 1/K "
        "(rounded "
        "values for carbon steel) where the file says nothing else; walls not known, vessels and "
        "exchangers count as rigid. bar/K to three figures at most.",
        "Relief need: liquid expansion by API 521 under 1.04 kW/m2 on the pipes' whole outer "
        "surface "
        "(sun on bare pipe), and the heat that the file gives.",
        "The plant file may be wrong: have each gap looked at in the plant by a competent person. "
        "Codes and their editions differ; the local code decides."};
    w->record.notes = (still_strings){texts, sizeof texts / sizeof texts[0]};
}

static void fill(work *w, const still_state *state)
{
    still_coverage_record *r = &w->record;
    still_segment *list = STILL_ARENA_NEW(&w->arena, w->found.n, still_segment);
    if (list == NULL) {
        w->failed = true;
        return;
    }
    for (uint32_t i = 0; i < w->found.n; i++) {
        list[i] = segment_of(w, &w->found.items[i]);
        list[i].number = i;
        count(r, &list[i]);
    }
    still_status status = still_coverage_places(r, &w->arena, w->plant, state, &w->found, list);
    if (status != STILL_OK) w->failed = true;
    if (w->found.n > 1) qsort(list, w->found.n, sizeof list[0], worst_first);
    r->segments = list;
    r->n_segments = w->found.n;
    add_notes(w);
    if (still_found_cover(r, &w->arena, w->plant, state) != STILL_OK) w->failed = true;
}

#define REFUSE(...)                                                                                \
    do {                                                                                           \
        still_diags_add(diags, STILL_SEV_ERROR, "STILL-USE", "", 0, 0, "", NULL, __VA_ARGS__);     \
        return STILL_E_USAGE;                                                                      \
    } while (0)

static still_status read_opts(work *w, const still_coverage_opts *opts, double *ambient_K,
                              still_diags *diags)
{
    still_coverage_record *r = &w->record;
    r->ambient_said = opts->ambient != NULL;
    still_status status = still_read_ambient(ambient_K, opts->ambient, diags);
    if (status != STILL_OK) return status;
    r->ambient_degC = *ambient_K - STILL_ZERO_DEGC_K;
    if (opts->ambient != NULL) {
        w->ambient = still_arena_str(&w->arena, opts->ambient);
        if (w->ambient == NULL) return STILL_E_NOMEM;
    }
    r->option_accept.items = STILL_ARENA_NEW(&w->arena, opts->n_accept, const char *);
    if (r->option_accept.items == NULL) return STILL_E_NOMEM;
    for (size_t i = 0; i < opts->n_accept; i++) {
        const char *colon = strchr(opts->accept[i], ':');
        if (!still_utf8_valid(opts->accept[i]))
            REFUSE("a name to accept is not UTF-8 text: copy it from the list");
        if (colon == NULL || colon == opts->accept[i] || colon[1] == '\0')
            REFUSE("\"%s\" is not of the form RULE:ID, such as L3:S-4: a gap by the name it has in "
                   "the "
                   "list",
                   opts->accept[i]);
        r->option_accept.items[r->option_accept.n] = still_arena_str(&w->arena, opts->accept[i]);
        if (r->option_accept.items[r->option_accept.n++] == NULL) return STILL_E_NOMEM;
    }
    return STILL_OK;
}

still_status still_coverage_make(still_coverage **out, const still_plant *plant,
                                 const still_state *state, const still_coverage_opts *opts,
                                 still_diags *diags)
{
    const still_coverage_opts defaults = STILL_COVERAGE_OPTS_INIT;
    double ambient_K;
    work *w = still_calloc(1, sizeof *w);
    if (w == NULL) return STILL_E_NOMEM;
    still_arena_init(&w->arena);
    w->plant = plant;
    still_status status = read_opts(w, opts != NULL ? opts : &defaults, &ambient_K, diags);
    if (status == STILL_OK)
        status = still_segments_find(&w->found, &w->arena, plant, state, ambient_K);
    if (status == STILL_OK) {
        STILL_SAY_ORIGIN(&w->record, plant);
        fill(w, state);
        if (w->failed) status = STILL_E_NOMEM;
    }
    if (status == STILL_OK)
        *out = w;
    else
        still_coverage_free(w);
    return status;
}

still_status still_coverage_since(still_coverage *w, const still_plant *old, still_diags *diags)
{
    still_coverage *before = NULL;
    const still_coverage_opts opts = {w->ambient, NULL, 0};
    still_status status = still_coverage_make(&before, old, NULL, &opts, diags);
    if (status == STILL_OK)
        status = still_since_make(&w->record.since, &w->arena, w->plant, &w->record, old,
                                  &before->record);
    still_coverage_free(before);
    return status;
}

const still_coverage_record *still_coverage_record_of(const still_coverage *w)
{
    return &w->record;
}

void still_coverage_free(still_coverage *w)
{
    if (w == NULL) return;
    still_arena_clear(&w->arena);
    still_free(w);
}
