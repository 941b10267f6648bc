/* Making a plan: what was asked, the choice, the record, the second check. */
#include "planning.h"
#include "speak.h"

#include "alloc.h"
#include "asking.h"
#include "assemble.h"
#include "diags.h"
#include "found.h"
#include "judge.h"
#include "keeping.h"
#include "shared.h"
#include "siting.h"
#include "utf8.h"
#include "verify.h"

#include <math.h>
#include <string.h>

#define REFUSE(status, ...)                                                                        \
    do {                                                                                           \
        still_diags_add(diags, STILL_SEV_ERROR, "STILL-USE", "", 0, 0, "", NULL, __VA_ARGS__);     \
        return (status);                                                                           \
    } while (0)

static still_status check_call(const still_plan_opts *opts, size_t n_targets, double *ambient_K,
                               still_diags *diags)
{
    for (size_t i = 0; i < opts->n_accept; i++) {
        const char *colon = strchr(opts->accept[i], ':');
        if (colon == NULL || colon == opts->accept[i] || colon[1] == '\0')
            REFUSE(STILL_E_USAGE,
                   "\"%s\" is not of the form RULE:ID; the plan prints it with each finding that "
                   "can be accepted, such as --accept L6:S-4",
                   opts->accept[i]);
        if (!still_utf8_valid(opts->accept[i]))
            REFUSE(STILL_E_USAGE, "a name to accept is not UTF-8 text: copy it from the plan");
    }
    if (n_targets == 0) REFUSE(STILL_E_USAGE, "no target is named: say --target ID");
    return still_read_ambient(ambient_K, opts->ambient, diags);
}

static still_status find_targets(still_targets *out, still_arena *arena, const still_plant *plant,
                                 const char *const *names, size_t n, still_diags *diags)
{
    still_target *list = STILL_ARENA_NEW(arena, n, still_target);
    if (list == NULL) return STILL_E_NOMEM;
    size_t kept = 0;
    for (size_t i = 0; i < n; i++) {
        still_target t;
        if (!still_target_find(&t, plant, names[i]))
            return still_refuse_comp(plant, names[i], "", diags);
        bool known = false;
        for (size_t k = 0; k < kept; k++)
            known = known ||
                    (list[k].comp == t.comp && list[k].side == t.side && list[k].port == t.port);
        if (!known) list[kept++] = t;
    }
    *out = (still_targets){list, kept};
    return STILL_OK;
}

/* Devices to be avoided: an overlay over the state that was given. */
static still_status overlay(still_state **out, const still_plant *plant, const still_state *state,
                            const still_plan_opts *opts, still_diags *diags)
{
    *out = still_state_copy(state);
    if (*out == NULL) return STILL_E_NOMEM;
    for (size_t i = 0; i < opts->n_avoid; i++) {
        uint32_t comp = still_plant_find(plant, opts->avoid[i]).v;
        if (comp == STILL_NONE)
            return still_refuse_comp(plant, opts->avoid[i], " to be avoided", diags);
        still_state_item *at = still_state_at(*out, comp);
        if (at == NULL) return STILL_E_NOMEM;
        /* A seized one can't be operated either, and as a relief valve covers nothing. */
        if (still_condition_now(plant, *out, comp) != STILL_CONDITION_SEIZED)
            at->condition = STILL_CONDITION_UNREACHABLE;
    }
    return STILL_OK;
}

/* What the points and openings hold, and what they moved; by component. Positive points are fitted
 * when nothing is left in the section: while there is liquid, they stand open. */
static void hold(const still_assembly *a, uint8_t *held, uint8_t *moved)
{
    for (uint32_t i = 0; i < a->iso->points.n; i++) {
        uint32_t comp = a->iso->points.items[i];
        const still_state *home = a->standing != NULL ? a->standing->home : a->state;
        bool shut = still_position_now(a->plant, home, comp) == STILL_POSITION_CLOSED;
        if (a->iso->info[i].positive && !shut) continue;
        held[comp] = STILL_HELD_CLOSED;
        moved[comp] = !shut;
    }
    for (size_t i = 0; i < a->rooms.n_openings; i++)
        if (!a->rooms.openings[i].late) held[a->rooms.openings[i].comp] = STILL_HELD_OPEN;
}

static still_status find_closed_in(still_assembly *a, const still_relief *before,
                                   const uint8_t *within)
{
    still_relief after = {0};
    still_status status = STILL_E_NOMEM;
    uint8_t *held = still_calloc(a->plant->n_comps, 1), *moved = still_calloc(a->plant->n_comps, 1);
    if (held == NULL || moved == NULL) goto out;
    hold(a, held, moved);
    status = still_relief_build(&after, a->plant, a->state, held);
    if (status == STILL_OK)
        status = still_shut_in_find(&a->shut, &a->n_shut, a->arena, before, &after, moved, within,
                                    a->ambient_K);
    if (status == STILL_OK)
        status = still_gap_remedies_find(&a->remedies, a->arena, &after, moved, within, a->shut,
                                         a->n_shut, a->ambient_K);
    if (status == STILL_OK)
        status = still_relief_lost(&a->lost, &a->n_lost, a->arena, before, &after);
out:
    still_relief_clear(&after);
    still_free(held);
    still_free(moved);
    return status;
}

/* What the plan shuts in, and the order of its steps.
 * @param before  relief as it is today, or NULL */
static still_status find_order(still_assembly *a, const still_relief *before)
{
    still_relief own = {0};
    uint8_t *within = still_calloc((size_t)a->plant->n_ports + 1, 1);
    still_status status = within != NULL ? STILL_OK : STILL_E_NOMEM;
    for (uint32_t p = 0; p < a->plant->n_ports && within != NULL; p++)
        within[p] = a->iso->work_port[p] || a->iso->between_port[p];
    if (status == STILL_OK && before == NULL)
        status = still_relief_build(&own, a->plant,
                                    a->standing != NULL ? a->standing->home : a->state, NULL);
    if (before == NULL) before = &own;
    if (status == STILL_OK) status = find_closed_in(a, before, within);
    const still_order_given given = {.iso = a->iso,
                                     .rooms = &a->rooms,
                                     .before = before,
                                     .shut = a->shut,
                                     .n_shut = a->n_shut,
                                     .work_port = within,
                                     .ambient_K = a->ambient_K,
                                     .standing = a->standing,
                                     .site = a->site,
                                     .checklists = a->checklists};
    if (status == STILL_OK) status = still_procedure_make(a->record, &a->notes, a->arena, &given);
    still_relief_clear(&own);
    still_free(within);
    return status;
}

static void empty_texts(still_record *r)
{
    static const char *none[1] = {""};
    const still_strings empty = {none, 0};
    r->tests = (still_tests){.code = "", .source = "", .limited_by = empty};
    r->option_accept = r->inside = r->proof.feeds = r->obstacle.path = empty;
    r->option_avoid = r->option_keep = empty;
    r->state_digest = r->policy_id = r->policy_digest = r->grade_shortfall = "";
    r->site_id = r->site_digest = r->checklists_id = r->checklists_digest = "";
    r->proof.kind = "paths";
    r->obstacle.text = r->obstacle.best_grade = "";
}

static still_status assemble(still_assembly *a, const still_judge *judge, still_judging *judging)
{
    still_status status = STILL_OK;
    for (size_t i = 0; i < a->iso->zone.n_pieces; i++)
        if (a->iso->zone.pieces[i].outside == 2) a->layered = true;
    still_assemble_head(a);
    still_assemble_kept(a, judging);
    if (!a->iso->feasible) {
        a->record->cost_mass_kg = (double)NAN;
        still_grade best;
        status = still_best_grade(&best, a->asking, judging->service.n_kept > 0 ? judge : NULL);
        if (status != STILL_OK) return status;
        still_assemble_obstacle(a, best);
        if (a->iso->judged_out) {
            a->record->obstacle.text = still_kept_obstacle(a, judging);
            if (a->record->obstacle.text == NULL) return STILL_E_NOMEM;
        }
        status = still_procedure_start(a->record, a->arena, a->plant, a->state);
        if (status != STILL_OK) return status;
    } else {
        still_assemble_boundary(a);
        status = still_judge_rooms(&a->rooms, a->arena, a->iso);
        if (status == STILL_OK)
            status = find_order(a, judging->has_before ? &judging->before : NULL);
        if (status == STILL_OK) status = still_isolate_others(a->iso, judge);
        if (status != STILL_OK) return status;
        still_assemble_levels(a);
        still_assemble_others(a);
        still_assemble_explain(a);
        still_assemble_closed_in(a);
        still_assemble_order(a);
        still_assemble_rooms(a);
        still_assemble_live(a);
        still_assemble_live_side(a);
        still_assemble_energies(a);
        still_assemble_unknowns(a);
        still_assemble_work(a);
    }
    still_assemble_state(a);
    still_assemble_finish(a);
    return a->failed ? STILL_E_NOMEM : STILL_OK;
}

static still_status make(still_plan *plan, const still_plant *plant, const still_state *state,
                         const char *const *names, size_t n_names, const still_plan_opts *opts,
                         const still_policy *policy, const still_siting *siting, double ambient_K,
                         const still_standing *standing, still_diags *diags)
{
    still_targets targets = {0};
    still_asking asking = {.arena = &plan->arena,
                           .plant = plant,
                           .state = state,
                           .targets = &targets,
                           .opts = opts,
                           .ambient_K = ambient_K,
                           .policy = policy};
    still_assembly a = {.arena = &plan->arena,
                        .record = &plan->record,
                        .plant = plant,
                        .state = state,
                        .opts = opts,
                        .names = names,
                        .n_names = n_names,
                        .asking = &asking,
                        .standing = standing,
                        .ambient_K = ambient_K,
                        .site = siting->site,
                        .checklists = siting->checklists};
    still_judging judging = {0};
    bool agrees = false;
    empty_texts(&plan->record);
    plan->record.option_explain = opts->explain;
    plan->record.option_paths = opts->paths;
    plan->record.option_ambient_degC = ambient_K - STILL_ZERO_DEGC_K;
    still_status status = find_targets(&targets, &plan->arena, plant, names, n_names, diags);
    uint32_t *kept = NULL;
    size_t n_kept = 0;
    if (status == STILL_OK)
        status = still_kept_find(&kept, &n_kept, &plan->arena, plant, &targets, opts, diags);
    if (status == STILL_OK)
        status = still_judging_init(&judging, plant, state, &targets, kept, n_kept);
    if (standing != NULL) judging.home = standing->home;
    if (status == STILL_OK) still_kept_waive(&judging.service, opts);
    asking.stays = judging.service.stays;
    const still_judge judge = {still_judging_look, &judging};
    if (status == STILL_OK) status = still_ask_and_isolate(&a.iso, &asking, &judge);
    if (status == STILL_OK) status = assemble(&a, &judge, &judging);
    if (status == STILL_OK) status = still_record_speak(&plan->record, &plan->arena);
    if (status == STILL_OK)
        status = still_verify_record(&agrees, plant, state, &plan->record, diags);
    if (status == STILL_OK && !agrees) status = STILL_E_INTERNAL;
    still_judging_clear(&judging);
    still_free(a.findings);
    still_free(a.assumptions);
    still_isolation_free(a.iso);
    return status;
}

still_status still_plan_fill(still_plan *plan, const still_plant *plant, const still_state *state,
                             const char *const *targets, size_t n_targets,
                             const still_plan_opts *opts, const still_standing *standing,
                             still_diags *diags)
{
    still_state *today = NULL;
    still_policy *policy = NULL;
    still_siting siting = {0};
    double ambient_K;
    still_status status = check_call(opts, n_targets, &ambient_K, diags);
    if (status != STILL_OK) return status;
    plan->plant = plant;
    plan->arena.messages = still_catalogue_messages(opts->catalogue);
    plan->record.messages = plan->arena.messages;
    if (opts->policy != NULL) status = still_policy_read(&policy, opts->policy, diags);
    if (status == STILL_OK) status = still_siting_read(&siting, &ambient_K, opts, diags);
    if (status == STILL_OK && opts->n_avoid > 0)
        status = overlay(&today, plant, state, opts, diags);
    if (status == STILL_OK)
        status = still_found_list(&plan->record.found, &plan->record.n_found, &plan->arena, plant,
                                  state);
    if (status == STILL_OK)
        status = make(plan, plant, today != NULL ? today : state, targets, n_targets, opts,
                      policy != NULL ? policy : still_policy_builtin(), &siting, ambient_K,
                      standing, diags);
    still_state_free(today);
    still_policy_free(policy);
    still_siting_clear(&siting);
    return status;
}

still_status still_plan_make(still_plan **out, const still_plant *plant, const still_state *state,
                             const char *const *targets, size_t n_targets,
                             const still_plan_opts *opts, still_diags *diags)
{
    const still_plan_opts defaults = STILL_PLAN_OPTS_INIT;
    if (opts == NULL) opts = &defaults;
    if (opts->n_done > 0 || opts->n_found > 0 || opts->from != NULL)
        return still_plan_go_on(out, plant, state, targets, n_targets, opts, diags);
    still_plan *plan = still_calloc(1, sizeof *plan);
    if (plan == NULL) return STILL_E_NOMEM;
    still_arena_init(&plan->arena);
    still_status status =
        still_plan_fill(plan, plant, state, targets, n_targets, opts, NULL, diags);
    if (status == STILL_OK)
        *out = plan;
    else
        still_plan_free(plan);
    return status;
}
