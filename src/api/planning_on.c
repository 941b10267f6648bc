/* A plan that goes on from another: which of the two states it starts from, and what it says of the
 * plan before. */
#include "planning.h"

#include "alloc.h"
#include "diags.h"
#include "given.h"
#include "planread.h"
#include "replan.h"

#include <math.h>
#include <string.h>

#define REFUSE(status, ...)                                                                        \
    do {                                                                                           \
        still_diags_add(diags, STILL_SEV_ERROR, "STILL-USE", "", 0, 0, "", NULL, __VA_ARGS__);     \
        return (status);                                                                           \
    } while (0)

/* The plan before, read or made, with all that it needs to live. */
typedef struct earlier {
    still_arena arena;
    still_record read;
    still_plan *made;
    const still_record *record;
} earlier;

static still_status get_earlier(earlier *e, const still_plant *plant, const still_state *state,
                                const char *const *targets, size_t n_targets,
                                const still_plan_opts *opts, still_diags *diags)
{
    still_plan_opts plain = *opts;
    unsigned given = 0;
    if (opts->from == NULL) {
        plain.done = NULL;
        plain.found = NULL;
        plain.n_done = plain.n_found = 0;
        still_status status =
            still_plan_make(&e->made, plant, state, targets, n_targets, &plain, diags);
        if (status != STILL_OK) return status;
        e->record = still_plan_record(e->made);
    } else {
        still_status status = still_read_plan(&e->read, &given, &e->arena, opts->from, diags);
        if (status != STILL_OK) return status;
        if (e->read.plant_digest[0] != '\0' && strcmp(e->read.plant_digest, plant->digest) != 0)
            REFUSE(STILL_E_USAGE,
                   "%s was made for another plant file than this one: give that revision, "
                   "or look at what changed and plan anew",
                   opts->from);
        const char *digest = state != NULL ? state->digest : "";
        if (strcmp(e->read.state_digest, digest) != 0)
            REFUSE(STILL_E_USAGE,
                   "%s was made for another state than the one given: give the same --state",
                   opts->from);
        e->record = &e->read;
    }
    if (!e->record->feasible || e->record->n_steps == 0)
        REFUSE(STILL_E_USAGE,
               "the plan before has no steps to go on from: plan without --done and --found");
    return STILL_OK;
}

/* Every device of the boundary stands as it has to already. */
static bool all_closed(const still_record *r)
{
    for (size_t i = 0; i < r->n_points; i++)
        if (r->points[i].counted && strcmp(r->points[i].from, r->points[i].to) != 0) return false;
    return r->feasible;
}

static bool is_point(const still_record *r, const char *id)
{
    for (size_t i = 0; i < r->n_points; i++)
        if (strcmp(r->points[i].id, id) == 0) return true;
    return false;
}

/* What the record says of the plan before. */
static still_status tell(still_plan *plan, still_going_on *g, const still_plan_opts *opts,
                         bool shut)
{
    still_record *r = &plan->record;
    uint32_t *done = STILL_ARENA_NEW(&plan->arena, opts->n_done, uint32_t);
    still_position_of *found = STILL_ARENA_NEW(&plan->arena, opts->n_found, still_position_of);
    if (done == NULL || found == NULL) return STILL_E_NOMEM;
    r->goes_on = true;
    for (size_t i = 0; i < opts->n_done; i++) done[r->n_done++] = opts->done[i];
    for (size_t i = 0; i < opts->n_found; i++) {
        const char *sign = strrchr(opts->found[i], '=');
        const char *id =
            still_arena_printf(&plan->arena, "%.*s", (int)(sign - opts->found[i]), opts->found[i]);
        const char *what = still_arena_str(&plan->arena, sign + 1);
        if (id == NULL || what == NULL) return STILL_E_NOMEM;
        found[r->n_found_on_way++] = (still_position_of){id, what};
    }
    r->done = done;
    r->found_on_way = found;
    r->hung = g->hung;
    for (size_t i = 0; i < g->n_hung; i++) {
        bool off = false; /* a way out that is shut first */
        for (size_t k = 0; k < g->n_first && shut; k++)
            off = off || (strcmp(g->first[k].id, g->hung[i].id) == 0 && g->first[k].to[0] != '\0');
        if (off) continue;
        g->hung[r->n_hung] = g->hung[i];
        g->hung[r->n_hung].left = !is_point(r, g->hung[i].id);
        r->n_hung++;
    }
    r->first = !r->feasible ? g->retreat : g->first;
    r->n_first = !r->feasible ? g->n_retreat : shut ? g->n_first : 0;
    return STILL_OK;
}

/* One try, from one of the two states. */
static still_status try_from(still_plan **out, still_going_on *g, bool shut,
                             const still_plant *plant, const still_state *state,
                             const still_record *before, const char *const *targets,
                             size_t n_targets, const still_plan_opts *opts, still_diags *diags)
{
    still_plan *plan = still_calloc(1, sizeof *plan);
    if (plan == NULL) return STILL_E_NOMEM;
    still_arena_init(&plan->arena);
    still_status status = still_going_on_from(g, &plan->arena, plant, state, before, opts, diags);
    bool two = status == STILL_OK && g->safe != NULL;
    if (status == STILL_OK && shut && two) still_going_on_shut(g, plant);
    if (status == STILL_OK)
        status = still_plan_fill(plan, plant, shut && two ? g->safe : g->now, targets, n_targets,
                                 opts, &g->standing, diags);
    if (status == STILL_OK) status = tell(plan, g, opts, shut && two);
    if (status == STILL_OK)
        *out = plan;
    else
        still_plan_free(plan);
    return status;
}

/* Two lists of names as one. */
static bool add_names(still_arena *arena, const char *const **list, size_t *n, still_strings more)
{
    const char **both = STILL_ARENA_NEW(arena, *n + more.n, const char *);
    if (both == NULL) return false;
    for (size_t i = 0; i < more.n; i++) both[i] = more.items[i];
    for (size_t i = 0; i < *n; i++) both[more.n + i] = (*list)[i];
    *list = both;
    *n += more.n;
    return true;
}

/* A record that is handed on brings what was asked of it. */
static still_status as_before(earlier *e, still_plan_opts *opts, const char *const **targets,
                              size_t *n_targets)
{
    const still_record *r = e->record;
    if (*n_targets > 0 || opts->from == NULL) return STILL_OK;
    *targets = r->targets.items;
    *n_targets = r->targets.n;
    for (still_grade g = STILL_GRADE_POLICY; g <= STILL_GRADE_POSITIVE; g++)
        if (strcmp(still_grade_text(g), r->option_grade) == 0) opts->grade = g;
    for (still_work w = STILL_WORK_BY_TARGET; w <= STILL_WORK_LONG_TERM; w++)
        if (strcmp(still_work_text(w), r->option_work) == 0) opts->work = w;
    if (opts->ambient == NULL && !isnan(r->option_ambient_degC))
        opts->ambient = still_arena_printf(&e->arena, "%.17g degC", r->option_ambient_degC);
    return add_names(&e->arena, &opts->avoid, &opts->n_avoid, r->option_avoid) &&
                   add_names(&e->arena, &opts->keep, &opts->n_keep, r->option_keep) &&
                   add_names(&e->arena, &opts->accept, &opts->n_accept, r->option_accept)
               ? STILL_OK
               : STILL_E_NOMEM;
}

still_status still_plan_go_on(still_plan **out, const still_plant *plant, const still_state *state,
                              const char *const *targets, size_t n_targets,
                              const still_plan_opts *given, still_diags *diags)
{
    still_plan_opts asked = *given, *opts = &asked;
    earlier e = {0};
    still_going_on g = {0};
    still_plan *plan = NULL;
    still_arena_init(&e.arena);
    still_status status = get_earlier(&e, plant, state, targets, n_targets, opts, diags);
    if (status == STILL_OK) status = as_before(&e, opts, &targets, &n_targets);
    if (status == STILL_OK)
        status =
            try_from(&plan, &g, false, plant, state, e.record, targets, n_targets, opts, diags);
    /* Something is left to be closed: not while ways out stand open. */
    if (status == STILL_OK && g.safe != NULL && !all_closed(still_plan_record(plan))) {
        still_plan_free(plan);
        plan = NULL;
        still_going_on_clear(&g);
        status = try_from(&plan, &g, true, plant, state, e.record, targets, n_targets, opts, diags);
    }
    still_going_on_clear(&g);
    still_plan_free(e.made);
    still_arena_clear(&e.arena);
    if (status == STILL_OK) *out = plan;
    return status;
}
