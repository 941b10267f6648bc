/* The public calls on plants and plans. */
#include "stillset/plan.h"

#include "alloc.h"
#include "shared.h"
#include "arena.h"
#include "assemble.h"
#include "check.h"
#include "diags.h"
#include "output.h"
#include "plantread.h"
#include "utf8.h"
#include "verify.h"

#include <math.h>
#include <string.h>

struct still_plan {
    still_arena arena;
    const still_plant *plant;
    still_record record;
};

still_status still_plant_read(still_plant **out, const char *path, still_diags *diags)
{
    return still_read_plant(out, path, diags);
}

still_status still_plant_read_memory(still_plant **out, const char *name, const void *bytes,
                                     size_t len, still_diags *diags)
{
    return still_read_plant_memory(out, name, bytes, len, diags);
}

still_status still_check(const still_plant *plant, still_diags *diags)
{
    return still_check_plant(plant, diags);
}

const char *still_grade_text(still_grade grade)
{
    switch (grade) {
    case STILL_GRADE_POLICY: return "policy";
    case STILL_GRADE_SINGLE: return "single";
    case STILL_GRADE_DOUBLE: return "double";
    case STILL_GRADE_SINGLE_BLEED: return "single-bleed";
    case STILL_GRADE_DOUBLE_BLEED: return "double-bleed";
    case STILL_GRADE_POSITIVE: return "positive";
    }
    return "";
}

const char *still_work_text(still_work work)
{
    switch (work) {
    case STILL_WORK_BY_TARGET: return "";
    case STILL_WORK_OPEN: return "open";
    case STILL_WORK_ENTRY: return "entry";
    case STILL_WORK_HOT_WORK: return "hot-work";
    case STILL_WORK_LONG_TERM: return "long-term";
    }
    return "";
}

#define REFUSE(status, ...)                                                                        \
    do {                                                                                           \
        still_diags_add(diags, STILL_SEV_ERROR, "STILL-USE", "", 0, 0, "", NULL, __VA_ARGS__);     \
        return (status);                                                                           \
    } while (0)

/* What this version can't do is refused by name. */
static still_status check_call(const still_plant *plant, const char *const *targets,
                               size_t n_targets, const still_plan_opts *opts, uint32_t *target,
                               double *ambient_K, still_diags *diags)
{
    if (opts->grade == STILL_GRADE_POLICY)
        REFUSE(STILL_E_UNSUPPORTED,
               "no grade is derived from a policy in this version: ask for --grade single");
    if (opts->grade != STILL_GRADE_SINGLE)
        REFUSE(STILL_E_UNSUPPORTED, "grade \"%s\" is not planned by this version, only single",
               still_grade_text(opts->grade));
    for (size_t i = 0; i < opts->n_accept; i++) {
        const char *colon = strchr(opts->accept[i], ':');
        if (colon == NULL || colon == opts->accept[i] || colon[1] == '\0')
            REFUSE(STILL_E_USAGE, "\"%s\" is not of the form RULE:ID", opts->accept[i]);
        if (!still_utf8_valid(opts->accept[i]))
            REFUSE(STILL_E_USAGE, "a name to accept is not UTF-8 text");
    }
    still_status status = still_read_ambient(ambient_K, opts->ambient, diags);
    if (status != STILL_OK) return status;
    if (n_targets == 0) REFUSE(STILL_E_USAGE, "no target is named");
    if (n_targets > 1)
        REFUSE(STILL_E_UNSUPPORTED, "several targets at once are not planned by this version");
    *target = still_plant_find(plant, targets[0]).v;
    if (*target == STILL_NONE)
        REFUSE(STILL_E_NO_COMP, "the plant has no component with the id \"%s\"", targets[0]);
    if (plant->comps[*target].cls == STILL_CLASS_SPOOL)
        REFUSE(STILL_E_UNSUPPORTED,
               "\"%s\" is a spool: spools as targets are not planned by this version", targets[0]);
    return STILL_OK;
}

/* What the points and openings hold, and what they moved; by component. */
static void hold(const still_assembly *a, uint8_t *held, uint8_t *moved)
{
    for (uint32_t i = 0; i < a->iso->points.n; i++) {
        uint32_t comp = a->iso->points.items[i];
        held[comp] = STILL_HELD_CLOSED;
        moved[comp] = still_position_now(a->plant, a->state, comp) != STILL_POSITION_CLOSED;
    }
    for (size_t i = 0; i < a->rooms.n_openings; i++)
        held[a->rooms.openings[i].comp] = STILL_HELD_OPEN;
}

static still_status find_closed_in(still_assembly *a)
{
    still_relief before = {0}, after = {0};
    still_status status = STILL_E_NOMEM;
    uint8_t *held = still_calloc(a->plant->n_comps, 1), *moved = still_calloc(a->plant->n_comps, 1);
    if (held == NULL || moved == NULL) goto out;
    hold(a, held, moved);
    status = still_relief_build(&before, a->plant, a->state, NULL);
    if (status == STILL_OK) status = still_relief_build(&after, a->plant, a->state, held);
    if (status == STILL_OK)
        status = still_shut_in_find(&a->shut, &a->n_shut, a->arena, &after, moved,
                                    a->iso->work_port, a->ambient_K);
    if (status == STILL_OK)
        status = still_gap_remedies_find(&a->remedies, a->arena, &after, moved, a->iso->work_port,
                                         a->shut, a->n_shut, a->ambient_K);
    if (status == STILL_OK)
        status = still_relief_lost(&a->lost, &a->n_lost, a->arena, &before, &after);
out:
    still_relief_clear(&before);
    still_relief_clear(&after);
    still_free(held);
    still_free(moved);
    return status;
}

static void empty_texts(still_record *r)
{
    static const char *none[1] = {""};
    const still_strings empty = {none, 0};
    r->option_accept = r->inside = r->proof.feeds = r->obstacle.path = empty;
    r->option_avoid = r->option_keep = empty;
    r->state_digest = r->policy_id = r->policy_digest = r->grade_shortfall = "";
    r->proof.kind = "paths";
    r->obstacle.text = r->obstacle.best_grade = "";
}

static still_status assemble(still_assembly *a)
{
    still_status status = STILL_OK;
    empty_texts(a->record);
    still_assemble_head(a, a->opts);
    if (!a->iso->feasible) {
        a->record->cost_mass_kg = (double)NAN;
        still_assemble_obstacle(a);
    } else {
        still_assemble_boundary(a);
        status = still_rooms_find(&a->rooms, a->arena, a->plant, a->state, a->iso->work_port,
                                  a->iso->zone.targets->items[0].comp);
        if (status == STILL_OK) status = find_closed_in(a);
        if (status == STILL_OK)
            status = still_procedure_make(a->record, &a->notes, a->arena, a->iso, &a->rooms);
        if (status != STILL_OK) return status;
        still_assemble_closed_in(a);
        still_assemble_rooms(a);
        still_assemble_live(a);
        still_assemble_live_side(a);
        still_assemble_energies(a);
        still_assemble_unknowns(a);
    }
    still_assemble_finish(a);
    return a->failed ? STILL_E_NOMEM : STILL_OK;
}

still_status still_plan_make(still_plan **out, const still_plant *plant, const still_state *state,
                             const char *const *targets, size_t n_targets,
                             const still_plan_opts *opts, still_diags *diags)
{
    const still_plan_opts defaults = STILL_PLAN_OPTS_INIT;
    uint32_t target = STILL_NONE;
    double ambient_K;
    if (opts == NULL) opts = &defaults;
    still_status status = check_call(plant, targets, n_targets, opts, &target, &ambient_K, diags);
    if (status != STILL_OK) return status;
    still_plan *plan = still_calloc(1, sizeof *plan);
    if (plan == NULL) return STILL_E_NOMEM;
    still_arena_init(&plan->arena);
    plan->plant = plant;
    still_isolation *iso = NULL;
    still_assembly a = {.arena = &plan->arena,
                        .record = &plan->record,
                        .plant = plant,
                        .state = state,
                        .opts = opts,
                        .ambient_K = ambient_K};
    bool agrees = false;
    plan->record.option_ambient_degC = a.ambient_K - STILL_ZERO_DEGC_K;
    const still_target opened = {target, STILL_NONE, STILL_NONE};
    const still_targets all = {&opened, 1};
    const still_asked asked = still_asked_everywhere(STILL_GRADE_SINGLE);
    status = still_isolate(&iso, plant, state, &all, &asked, NULL);
    if (status == STILL_OK) {
        a.iso = iso;
        status = assemble(&a);
    }
    if (status == STILL_OK)
        status = still_verify_record(&agrees, plant, state, &plan->record, diags);
    if (status == STILL_OK && !agrees) status = STILL_E_INTERNAL;
    still_free(a.findings);
    still_free(a.assumptions);
    still_isolation_free(iso);
    if (status == STILL_OK)
        *out = plan;
    else
        still_plan_free(plan);
    return status;
}

const still_record *still_plan_record(const still_plan *plan)
{
    return &plan->record;
}

void still_plan_free(still_plan *plan)
{
    if (plan == NULL) return;
    still_arena_clear(&plan->arena);
    still_free(plan);
}

still_status still_plan_write(char **bytes, size_t *len, const still_plan *plan,
                              still_format format, still_diags *diags)
{
    still_buf buf = STILL_BUF_INIT;
    still_status status = STILL_OK;
    (void)diags;
    switch (format) {
    case STILL_FORMAT_TEXT: still_text_write(&buf, &plan->record); break;
    case STILL_FORMAT_JSON: status = still_json_write(&buf, &plan->record); break;
    case STILL_FORMAT_CSV: still_csv_write(&buf, &plan->record); break;
    case STILL_FORMAT_SVG:
    case STILL_FORMAT_PNG:
    case STILL_FORMAT_PDF:
        status = still_picture_write(&buf, &plan->record, plan->plant, still_picture_of(format));
        break;
    }
    return still_give(bytes, len, &buf, status);
}

still_status still_draw(char **bytes, size_t *len, const still_plant *plant, const char *around,
                        unsigned depth, still_format format, still_diags *diags)
{
    still_buf buf = STILL_BUF_INIT;
    uint32_t comp = STILL_NONE;
    if (format != STILL_FORMAT_SVG && format != STILL_FORMAT_PNG && format != STILL_FORMAT_PDF)
        REFUSE(STILL_E_USAGE, "a plant is drawn as svg, png or pdf");
    if (around != NULL) comp = still_plant_find(plant, around).v;
    if (around != NULL && comp == STILL_NONE)
        REFUSE(STILL_E_NO_COMP, "the plant has no component with the id \"%s\"", around);
    still_status status = still_picture_plant(&buf, plant, comp, depth, still_picture_of(format));
    return still_give(bytes, len, &buf, status);
}

void still_bytes_free(char *bytes)
{
    still_free(bytes);
}
