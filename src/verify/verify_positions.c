/* `start` and `end` of the record: where a position differs from the plant file, before the first
 * step and after the last. Method: replay of the steps on today's positions. */
#include "verify_rules.h"

#include <string.h>

/* A valve or blind said to stand somewhere; other components have no position. */
static bool has_position(const still_verify *v, uint32_t comp)
{
    uint8_t cls = v->plant->comps[comp].cls;
    return cls == STILL_CLASS_VALVE || cls == STILL_CLASS_BLIND;
}

static void by_list(still_verify *v, const char *what, const still_position_of *items, size_t n,
                    const char **said)
{
    for (size_t i = 0; i < n; i++) {
        uint32_t comp = still_verify_comp(v, items[i].id);
        uint32_t feed = still_verify_feed(v, items[i].id);
        if (comp != STILL_NONE) {
            if (said[comp] != NULL)
                still_verify_against(v, "I7", items[i].id, "%s names \"%s\" twice", what,
                                     items[i].id);
            said[comp] = items[i].position;
        } else if (feed == STILL_NONE || (what[0] == 'e' && !v->locked[v->isolator_of[feed]])) {
            still_verify_against(v, "I7", items[i].id,
                                 "%s names \"%s\", which has no position there", what, items[i].id);
        }
    }
}

static void start_positions(still_verify *v, const char **said)
{
    const still_record *r = v->rec;
    by_list(v, "start", r->start, r->n_start, said);
    for (uint32_t i = 0; i < v->plant->n_comps; i++) {
        const char *now = still_verify_position(v, i);
        bool differs = strcmp(now, still_verify_position_filed(v, i)) != 0;
        bool filed = still_position_now(v->plant, v->state, i) ==
                     (still_position)v->plant->comps[i].position;
        const char *id = still_id_of(v->plant, i);
        if (differs && said[i] == NULL)
            still_verify_against(v, "I7", id, "start leaves out that %s is %s today", id, now);
        if (said[i] != NULL && strcmp(said[i], now) != 0)
            still_verify_against(v, "I7", id, "start says that %s is \"%s\", today it is %s", id,
                                 said[i], now);
        if (said[i] != NULL && !differs && filed)
            still_verify_against(v, "I7", id, "start names %s, which is as in the plant file", id);
    }
}

/* Position after the last step: what a step left, else what it is today. */
static void replay(const still_verify *v, const char **last)
{
    for (uint32_t i = 0; i < v->plant->n_comps; i++) last[i] = still_verify_position(v, i);
    for (size_t i = 0; i < v->rec->n_steps; i++) {
        uint32_t comp = still_verify_comp(v, v->rec->steps[i].id);
        if (comp != STILL_NONE && v->rec->steps[i].to[0] != '\0') last[comp] = v->rec->steps[i].to;
    }
}

static void end_positions(still_verify *v, const char **said, const char **last)
{
    by_list(v, "end", v->rec->end, v->rec->n_end, said);
    replay(v, last);
    for (uint32_t i = 0; i < v->plant->n_comps; i++) {
        const char *file = still_verify_position_filed(v, i);
        const char *right = v->set_to[i] != NULL ? v->set_to[i] : "closed";
        const char *id = still_id_of(v->plant, i);
        bool differs = strcmp(last[i], file) != 0;
        if (said[i] != NULL && strcmp(said[i], last[i]) != 0)
            still_verify_against(v, "I7", id,
                                 "end says that %s is \"%s\", its steps leave it \"%s\"", id,
                                 said[i], last[i]);
        if (said[i] == NULL && differs && has_position(v, i))
            still_verify_against(v, "I7", id, "end leaves out that %s is left \"%s\"", id, last[i]);
        if (v->barrier[i] && v->plant->comps[i].cls == STILL_CLASS_VALVE &&
            strcmp(said[i] != NULL ? said[i] : file, right) != 0)
            still_verify_against(v, "I1", id, "barrier %s is not %s at the end", id, right);
    }
}

/* What was found today takes a danger away: it has to stand on the plan for a person to see (N2).
 */
static void danger_gone(still_verify *v)
{
    const still_plant *p = v->plant;
    if (v->state == NULL || !(v->given & STILL_GIVEN_ASSUMPTIONS)) return;
    for (uint32_t i = 0; i < p->n_comps; i++) {
        const char *id = still_id_of(p, i);
        bool empty = p->comps[i].cls == STILL_CLASS_VESSEL &&
                     still_contents_now(p, v->state, i) == STILL_CONTENTS_NONE &&
                     still_contents_now(p, NULL, i) != STILL_CONTENTS_NONE;
        bool mended = !v->avoided[i] &&
                      still_condition_now(p, v->state, i) == STILL_CONDITION_SOUND &&
                      still_condition_now(p, NULL, i) != STILL_CONDITION_SOUND;
        if (empty && !still_verify_assumed(v, id))
            still_verify_against(v, "N3", id, "that %s was found empty today is unsaid", id);
        if (mended && !still_verify_assumed(v, id))
            still_verify_against(v, "D6", id, "that %s was found sound today is unsaid", id);
    }
}

void still_verify_start(still_verify *v)
{
    danger_gone(v);
    const char **said = still_verify_room(v, v->plant->n_comps, sizeof *said);
    if (said != NULL) start_positions(v, said);
}

void still_verify_end(still_verify *v)
{
    const char **said = still_verify_room(v, v->plant->n_comps, sizeof *said);
    const char **last = still_verify_room(v, v->plant->n_comps, sizeof *last);
    if (!v->nomem) end_positions(v, said, last);
}
