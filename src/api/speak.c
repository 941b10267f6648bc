/* A finished record in the language of its reader: texts that were composed are in it already
 * (arena.h); texts of the program that stand whole are looked up here. */
#include "speak.h"

/* The arrays are arena memory of the plan, handed out as const. */
#define ITEMS(type, list) ((type *)(uintptr_t)(list))

#include <stdint.h>

static void steps(const still_step *list, size_t n, const still_messages *m)
{
    still_step *s = ITEMS(still_step, list);
    for (size_t i = 0; i < n; i++) {
        s[i].do_text = still_messages_get(m, s[i].do_text);
        s[i].why = still_messages_get(m, s[i].why);
        s[i].expect = still_messages_get(m, s[i].expect);
        s[i].if_not = still_messages_get(m, s[i].if_not);
    }
}

/* A copy: those that every plan has are no memory of the plan. */
static bool remarks(still_arena *arena, const still_remark **list, size_t n)
{
    still_remark *r = STILL_ARENA_NEW(arena, n, still_remark);
    if (r == NULL) return false;
    for (size_t i = 0; i < n; i++) {
        r[i] = (*list)[i];
        r[i].text = still_messages_get(arena->messages, r[i].text);
    }
    *list = r;
    return true;
}

static void rooms(const still_record *r, const still_messages *m)
{
    for (size_t i = 0; i < r->n_compartments; i++) {
        const still_compartment *c = &r->compartments[i];
        still_pocket *pockets = ITEMS(still_pocket, c->pockets);
        still_letting *times = ITEMS(still_letting, c->let_down);
        for (size_t k = 0; k < c->n_pockets; k++)
            pockets[k].how = still_messages_get(m, pockets[k].how);
        for (size_t k = 0; k < c->n_let_down; k++)
            times[k].text = still_messages_get(m, times[k].text);
    }
    still_closed_in *shut = ITEMS(still_closed_in, r->closed_in);
    for (size_t i = 0; i < r->n_closed_in; i++) {
        still_gap_remedy_item *remedies = ITEMS(still_gap_remedy_item, shut[i].remedies);
        const char **conditions = shut[i].conditions.items;
        shut[i].why = still_messages_get(m, shut[i].why);
        for (size_t k = 0; k < shut[i].n_remedies; k++)
            remedies[k].text = still_messages_get(m, remedies[k].text);
        for (size_t k = 0; k < shut[i].conditions.n; k++)
            conditions[k] = still_messages_get(m, conditions[k]);
    }
}

static void choice(still_record *r, const still_messages *m)
{
    still_demand *demands = ITEMS(still_demand, r->demands);
    for (size_t i = 0; i < r->n_demands; i++) {
        demands[i].because = still_messages_get(m, demands[i].because);
        demands[i].row = still_messages_get(m, demands[i].row);
    }
    still_source_inside *inside = ITEMS(still_source_inside, r->sources_inside);
    for (size_t i = 0; i < r->n_sources_inside; i++)
        inside[i].treatment = still_messages_get(m, inside[i].treatment);
    still_help *help = ITEMS(still_help, r->obstacle.would_help);
    for (size_t i = 0; i < r->obstacle.n_would_help; i++)
        help[i].text = still_messages_get(m, help[i].text);
    r->obstacle.text = still_messages_get(m, r->obstacle.text);
    still_alternative *others = ITEMS(still_alternative, r->alternatives);
    for (size_t i = 0; i < r->n_alternatives; i++)
        others[i].text = still_messages_get(m, others[i].text);
    r->grade_because = still_messages_get(m, r->grade_because);
    r->grade_shortfall = still_messages_get(m, r->grade_shortfall);
}

still_status still_record_speak(still_record *r, still_arena *arena)
{
    const still_messages *m = arena->messages;
    if (m == NULL) return STILL_OK;
    still_point *points = ITEMS(still_point, r->points);
    for (size_t i = 0; i < r->n_points; i++) {
        points[i].what = still_messages_get(m, points[i].what);
        points[i].why = still_messages_get(m, points[i].why);
    }
    steps(r->first, r->n_first, m);
    steps(r->steps, r->n_steps, m);
    steps(r->restore, r->n_restore, m);
    rooms(r, m);
    choice(r, m);
    still_live_item *live = ITEMS(still_live_item, r->still_live);
    for (size_t i = 0; i < r->n_still_live; i++) live[i].why = still_messages_get(m, live[i].why);
    still_finding *findings = ITEMS(still_finding, r->findings);
    for (size_t i = 0; i < r->n_findings; i++)
        findings[i].text = still_messages_get(m, findings[i].text);
    r->target_what = still_messages_get(m, r->target_what);
    return remarks(arena, &r->explain, r->n_explain) &&
                   remarks(arena, &r->assumptions, r->n_assumptions) &&
                   remarks(arena, &r->cautions, r->n_cautions)
               ? STILL_OK
               : STILL_E_NOMEM;
}
