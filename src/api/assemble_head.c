/* Head of the record: what was asked, the work, the grade and why (I2, I3). */
#include "assemble.h"
#include "messages.h"

#include "describe.h"
#include "shared.h"

#include <math.h>
#include <string.h>

#define SAY(...) still_arena_printf(a->arena, __VA_ARGS__)

static bool copy_texts(still_assembly *a, const char *const *from, size_t n, still_strings *to)
{
    to->items = STILL_ARENA_NEW(a->arena, n, const char *);
    to->n = 0;
    for (size_t i = 0; i < n && to->items != NULL; i++) {
        const char *copy = still_arena_str(a->arena, from[i]);
        if (copy == NULL) a->failed = true;
        to->items[to->n++] = copy;
    }
    if (to->items == NULL) a->failed = true;
    return !a->failed;
}

/* "MV-1, strainer; P-2, pump": what is opened, in words. */
static const char *opened_words(still_assembly *a)
{
    const still_targets *t = a->iso->zone.targets;
    const char *text = "";
    char label[256];
    for (size_t i = 0; i < t->n && text != NULL; i++) {
        uint32_t comp = t->items[i].comp;
        const char *what = still_describe_named(a->arena, a->plant, comp);
        if (what == NULL) return NULL;
        if (t->items[i].port != STILL_NONE)
            what = SAY("joint %s of %s",
                       still_port_label(a->plant, t->items[i].port, label, sizeof label), what);
        if (t->items[i].side != STILL_NONE)
            what = SAY("side %s of %s", still_text(a->plant, a->plant->sides[t->items[i].side].id),
                       what);
        text = i == 0 ? what : SAY("%s; %s", text, what);
    }
    return text;
}

static const char *place_words(still_assembly *a)
{
    const still_targets *t = a->iso->zone.targets;
    const char *text = "";
    for (size_t i = 0; i < t->n && text != NULL; i++) {
        const char *place = still_comp_t(a->plant, t->items[i].comp, STILL_T_PLACE);
        if (place[0] == '\0' || strstr(text, place) != NULL) continue;
        text = text[0] == '\0' ? place : SAY("%s; %s", text, place);
    }
    return text;
}

static void fill_demands(still_assembly *a)
{
    const still_source_demands *d = &a->asking->demands;
    still_demand *list = STILL_ARENA_NEW(a->arena, d->n, still_demand);
    if (list == NULL) {
        a->failed = true;
        return;
    }
    for (size_t i = 0; i < d->n; i++)
        list[i] = (still_demand){.source = still_id_of(a->plant, d->items[i].comp),
                                 .grade = still_grade_text(d->items[i].grade),
                                 .row = d->items[i].row,
                                 .because = d->items[i].because,
                                 .risk = d->items[i].risk};
    a->record->demands = list;
    a->record->n_demands = d->n;
    for (size_t i = 0; i < d->n_assumptions; i++)
        still_add_assumption(a, d->assumptions[i].rule, d->assumptions[i].id,
                             d->assumptions[i].text);
}

/* The demand that decided: the first of the highest grade. */
static const still_source_demand *deciding(const still_assembly *a)
{
    const still_source_demands *d = &a->asking->demands;
    for (size_t i = 0; i < d->n; i++)
        if (d->items[i].grade == a->asking->required) return &d->items[i];
    return NULL;
}

/* Rest risk, standstill (I3). */
static void grade_notes(still_assembly *a)
{
    const still_source_demands *d = &a->asking->demands;
    const char *id = a->record->targets.items[0];
    const still_source_demand *worst = NULL;
    for (size_t i = 0; i < d->n; i++) {
        if (worst == NULL || d->items[i].standstill_grade > worst->standstill_grade)
            worst = &d->items[i];
        /* Where less was asked for by hand, the shortfall says it; where more, there is none. */
        bool as_asked =
            a->asking->asked.by_port != NULL || a->asking->asked.grade == d->items[i].grade;
        if (!d->items[i].risk || !as_asked) continue;
        still_add_finding(
            a, "I3", still_id_of(a->plant, d->items[i].comp), true, true,
            SAY("R: the grade %s leaves a risk that a person must accept or cut: %s; %s",
                still_grade_text(d->items[i].grade), d->items[i].row, d->items[i].because));
    }
    if (worst != NULL) still_add_finding(a, "I3", id, false, false, worst->standstill);
    still_add_assumption(a, "I3", id, still_policy_caution(a->asking->policy));
}

/* Less was had than the policy asks: at the top of the plan, and a finding. */
static void shortfall(still_assembly *a)
{
    still_record *r = a->record;
    const still_source_demand *d = deciding(a);
    bool never = strcmp(r->work, "open") != 0;
    if (!r->feasible || a->asking->asked.grade >= a->asking->required) return;
    r->grade_shortfall = SAY("%s was asked for with --grade; the policy asks for %s: %s",
                             still_arena_word(a->arena, r->grade_achieved),
                             still_arena_word(a->arena, r->grade_required),
                             never || d == NULL ? "this kind of work is always positive" : d->row);
    if (r->grade_shortfall == NULL) {
        a->failed = true;
        return;
    }
    still_add_finding(
        a, "I3", r->targets.items[0], true, !never,
        never ? SAY("work of the kind '%s' always needs positive isolation (blind, spade or "
                    "removed pipe): %s is not enough",
                    still_arena_word(a->arena, r->work),
                    still_arena_word(a->arena, r->grade_achieved))
              : SAY("%s falls short of %s, which the policy asks for: %s; %s%s",
                    still_arena_word(a->arena, r->grade_achieved),
                    still_arena_word(a->arena, r->grade_required), d->row, d->because,
                    strstr(d->row, still_messages_get(a->arena->messages, "release low")) != NULL
                        ? ""
                        : ". It would ask for less with the pressure let down first, or with the "
                          "larger lines cut off elsewhere"));
}

static void say_because(still_assembly *a)
{
    still_record *r = a->record;
    const still_source_demand *d = deciding(a);
    bool mixed = a->asking->asked.by_port != NULL;
    r->grade_because =
        d == NULL ? "no source is within reach"
                  : SAY("%s: %s%s", still_id_of(a->plant, d->comp), d->because,
                        mixed ? "; other sources ask for less, each side by itself: see the demands"
                        : a->asking->raised
                            ? "; that grade can't be had here, the better one that was planned can"
                            : "");
    if (r->grade_because == NULL) a->failed = true;
}

void still_assemble_head(still_assembly *a)
{
    still_record *r = a->record;
    const still_plan_opts *opts = a->opts;
    const still_policy *policy = a->asking->policy;
    STILL_SAY_ORIGIN(r, a->plant);
    r->option_grade = still_grade_text(opts->grade);
    r->option_work = opts->work == STILL_WORK_BY_TARGET ? "" : still_work_text(opts->work);
    r->work = still_work_text(a->asking->demands.work);
    if (a->state != NULL) r->state_digest = still_arena_str(a->arena, a->state->digest);
    r->policy_id = still_arena_str(a->arena, policy->id);
    r->policy_digest = still_arena_str(a->arena, policy->digest);
    r->site_id = still_arena_str(a->arena, a->site != NULL ? a->site->id : "");
    r->site_digest = still_arena_str(a->arena, a->site != NULL ? a->site->digest : "");
    r->checklists_id = still_arena_str(a->arena, a->checklists->id);
    r->checklists_digest = still_arena_str(a->arena, a->checklists->digest);
    if (!copy_texts(a, opts->accept, opts->n_accept, &r->option_accept) ||
        !copy_texts(a, opts->avoid, opts->n_avoid, &r->option_avoid) ||
        !copy_texts(a, a->names, a->n_names, &r->targets))
        return;
    r->target_what = opened_words(a);
    r->target_place = place_words(a);
    r->feasible = a->iso->feasible;
    r->inventory = (still_inventory){(double)NAN, (double)NAN, (double)NAN, (double)NAN};
    r->grade_required = still_grade_text(a->asking->required);
    r->grade_achieved = r->feasible ? still_grade_text(a->asking->asked.grade) : "none";
    fill_demands(a);
    say_because(a);
    grade_notes(a);
    shortfall(a);
    if (!r->target_what || !r->target_place || !r->state_digest || !r->policy_id ||
        !r->policy_digest || !r->site_id || !r->site_digest || !r->checklists_id ||
        !r->checklists_digest)
        a->failed = true;
    for (size_t i = 0; i < opts->n_avoid; i++)
        still_add_assumption(a, "D6", r->option_avoid.items[i],
                             "it is avoided, as was asked: no point, and not operated");
}
