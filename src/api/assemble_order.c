/* What states on the way break: rules P3, P9, D4, L6 (docs/METHOD.md, 7). */
#include "assemble.h"

#include "describe.h"

#include <string.h>

#define SAY(...) still_arena_printf(a->arena, __VA_ARGS__)

/* Number of the step that moves what has this tag; 0 = none. */
static uint32_t step_of(const still_assembly *a, uint32_t tag, bool back)
{
    const still_step *steps = back ? a->record->restore : a->record->steps;
    size_t n = back ? a->record->n_restore : a->record->n_steps;
    for (size_t i = 0; i < n && tag != 0; i++)
        if (steps[i].tag == tag && strcmp(steps[i].phase, back ? "remove" : "isolate") == 0)
            return steps[i].n;
    return 0;
}

/* "from step 12 until step 14 is done". */
static const char *when(still_assembly *a, const still_on_the_way *b)
{
    uint32_t from = step_of(a, b->from, b->back), to = step_of(a, b->to, b->back);
    const char *back = b->back ? " of the way back" : "";
    return to > 0 ? SAY("from step %u%s until step %u is done", from, back, to)
                  : SAY("from step %u%s on", from, back);
}

/* What the search can say of its orders. */
static const char *choice(const still_assembly *a)
{
    return a->notes.complete ? "no order of the steps avoids it"
                             : "not all orders of the steps were tried";
}

static void shut_in(still_assembly *a, const still_on_the_way *b, still_closed_in *c)
{
    if (!still_fill_closed_in(a, b->segment, c)) {
        a->failed = true;
        return;
    }
    c->during = b->back ? "restore" : "steps";
    c->from_step = step_of(a, b->from, b->back);
    c->until_step = step_of(a, b->to, b->back);
    const char *time = when(a, b);
    const char *list = still_join_ids(a->arena, a->plant, b->segment->ids, b->segment->n_ids);
    if (time == NULL || list == NULL) {
        a->failed = true;
        return;
    }
    still_add_finding(a, "L6", c->ids.n > 0 ? c->ids.items[0] : "", true, true,
                      SAY("on the way, %s, %s the boundary: %s. %s; make these steps one after the "
                          "other, without a pause. Segment: %s",
                          time, c->where, c->why, choice(a), list));
}

static void machine(still_assembly *a, const still_on_the_way *b)
{
    const char *id = still_id_of(a->plant, b->comp);
    const char *cls = still_arena_word(
        a->arena, a->plant->comps[b->comp].cls == STILL_CLASS_PUMP ? "pump" : "compressor");
    const char *time = when(a, b);
    if (time == NULL) {
        a->failed = true;
        return;
    }
    still_add_finding(a, "P9", id, true, true,
                      SAY("%s %s can run without an open way from its outlet, or to its inlet, %s; "
                          "%s. Stop it and lock its supply before that step",
                          cls, id, time, choice(a)));
}

static bool holds(const uint32_t *list, uint32_t n, uint32_t comp)
{
    for (uint32_t i = 0; i < n; i++)
        if (list[i] == comp) return true;
    return false;
}

/* Way to the low side that is closed last, and is shown to have emptied the segment before (5.3).
 */
static uint32_t emptied_by(const still_assembly *a, const still_gap_remedies *remedies)
{
    for (size_t i = 0; i < remedies->n; i++)
        if (remedies->items[i].kind == STILL_GAP_ORDER &&
            holds(a->notes.last, a->notes.n_last, remedies->items[i].ids[0]))
            return remedies->items[i].ids[0];
    return STILL_NONE;
}

/* D4: a relief path may be closed once what it protects holds no liquid, and what is left cannot
 * reach the design pressure. Shown by the pump-down, before the way to the low side is closed, or
 * by emptying through closed outlets before its relief path is; at an exchanger for each of its
 * segments.
 * @return that way, or STILL_NONE */
static uint32_t emptied_before(const still_assembly *a, uint32_t comp)
{
    uint32_t by = STILL_NONE;
    bool all = true, each = a->plant->comps[comp].cls == STILL_CLASS_EXCHANGER;
    for (size_t i = 0; i < a->n_shut; i++) {
        const still_shut_in *s = &a->shut[i];
        if (s->covered || s->stays_below) continue;
        if (!holds(s->ids, s->n_ids, comp) && !holds(s->closed_by, s->n_closed_by, comp)) continue;
        /* All compartments at the work have been emptied before relief paths are closed. */
        uint32_t way = a->notes.relief_point == STILL_NONE ? emptied_by(a, &a->remedies[i])
                       : s->inside                         ? a->notes.relief_point
                                                           : STILL_NONE;
        if (way != STILL_NONE) by = way;
        all = all && a->remedies[i].vapour_holds && (way != STILL_NONE || !each);
    }
    return all ? by : STILL_NONE;
}

/* The step at which it is seen for the last time that the section is empty; 0 = none. */
static uint32_t check_step(const still_assembly *a)
{
    uint32_t n = 0;
    for (size_t i = 0; i < a->record->n_steps && a->notes.relief_point != STILL_NONE; i++)
        if (a->record->steps[i].stage == 1 && strcmp(a->record->steps[i].phase, "verify") == 0 &&
            strcmp(a->record->steps[i].id, still_id_of(a->plant, a->notes.relief_point)) == 0)
            n = a->record->steps[i].n;
    for (size_t i = 0; i < a->record->n_steps && a->notes.receiver != STILL_NONE; i++)
        if (strcmp(a->record->steps[i].phase, "isolate") == 0 &&
            strcmp(a->record->steps[i].id, still_id_of(a->plant, a->notes.receiver)) == 0)
            n = a->record->steps[i].n;
    return n;
}

static void equipment(still_assembly *a, const still_on_the_way *b)
{
    const char *time = when(a, b);
    const char *what = still_describe_comp(a->arena, a->plant, b->comp);
    if (time == NULL || what == NULL) {
        a->failed = true;
        return;
    }
    /* At the end it is told as a finding, or as an assumption that the section has been emptied;
     * that holds only from the step on that shows it. */
    for (size_t i = 0; i < a->n_lost; i++) {
        if (a->lost[i] != b->comp) continue;
        bool emptied = emptied_before(a, b->comp) != STILL_NONE && check_step(a) != 0;
        if (!emptied || (!b->back && step_of(a, b->from, false) > check_step(a))) return;
    }
    still_add_finding(a, "D4", still_id_of(a->plant, b->comp), true, false,
                      SAY("%s holds fluid and has no relief path %s; %s", what, time, choice(a)));
}

static void lost_at_end(still_assembly *a, uint32_t comp)
{
    const char *id = still_id_of(a->plant, comp);
    const char *what = still_describe_comp(a->arena, a->plant, comp);
    uint32_t by = emptied_before(a, comp), step = check_step(a);
    if (by != STILL_NONE && step != 0)
        still_add_assumption(
            a, "D4", id,
            SAY("%s %s loses its last relief path once the points are closed. That is right only "
                "when it holds no liquid: step %u shows that before %s is closed; vapour alone "
                "then "
                "stays below the design pressure up to %.4g degC",
                what, id, step, still_id_of(a->plant, by), a->ambient_K - STILL_ZERO_DEGC_K));
    else
        still_add_finding(
            a, "D4", id, true, false,
            SAY("%s holds fluid and loses its last relief path once the points are "
                "closed; no order of the steps avoids that, and neither a pump-down to "
                "a low-pressure vessel nor an outlet that is not open to the air "
                "is known to empty it before",
                what));
}

void still_assemble_order(still_assembly *a)
{
    for (size_t i = 0; i < a->n_lost && !a->failed; i++) lost_at_end(a, a->lost[i]);
    still_record *r = a->record;
    const still_on_the_way *list = a->notes.breaches;
    size_t n = r->n_closed_in;
    still_closed_in *all = STILL_ARENA_NEW(a->arena, n + a->notes.n_breaches, still_closed_in);
    if (all == NULL) {
        a->failed = true;
        return;
    }
    if (n > 0) memcpy(all, r->closed_in, n * sizeof all[0]);
    for (size_t i = 0; i < a->notes.n_breaches && !a->failed; i++) {
        if (list[i].rule == STILL_BREAKS_L6 && list[i].told == NULL)
            shut_in(a, &list[i], &all[n++]);
        if (list[i].rule == STILL_BREAKS_P9) machine(a, &list[i]);
        if (list[i].rule == STILL_BREAKS_D4) equipment(a, &list[i]);
    }
    r->closed_in = all;
    r->n_closed_in = n;
}
