/* Going on from a plan of which some steps are done.
 * Problem: something was found on the way (a valve passes, is stuck, stands open); what is to be
 * done from here, undoing as little as possible. Method: the changes of the steps done are laid
 * over the state from which the plan before began, each from the position in which the one before
 * has left the device; what was found is laid over that. A plan for this state is a plan like any
 * other. Ways out that stand open stay so if nothing is left to be closed; else they are shut
 * first, by the steps of the way back of the plan before. Why it is right: a plan depends on the
 * plant, the state and what was asked (docs/METHOD.md, 7.2). */
#include "replan.h"

#include "alloc.h"
#include "diags.h"
#include "shared.h"

#include <string.h>

#define REFUSE(status, ...)                                                                        \
    do {                                                                                           \
        still_diags_add(diags, STILL_SEV_ERROR, "STILL-USE", "", 0, 0, "", NULL, __VA_ARGS__);     \
        return (status);                                                                           \
    } while (0)

/* While the steps done are gone through. */
typedef struct replay {
    still_going_on *out;
    still_arena *arena;
    const still_plant *plant;
    const still_state *state;
    const still_record *before;
    uint8_t *feed_off, *override_open;
    uint32_t *comp_tag, *feed_tag;
    uint8_t *done;     /* by step, from 0 */
    uint8_t *released; /* by tag: opened to let the section off */
    bool works;        /* a step of the work was done */
} replay;

static uint32_t feed_of(const still_plant *plant, const char *id)
{
    for (uint32_t f = 0; f < plant->n_feeds; f++)
        if (strcmp(still_text(plant, plant->feeds[f].id), id) == 0) return f;
    return STILL_NONE;
}

static const char *stands(const still_plant *plant, const still_state *state, uint32_t comp)
{
    if (plant->comps[comp].kind == STILL_KIND_THREE_WAY) return still_way_now(plant, state, comp);
    return still_word(STILL_VOC_still_position, still_position_now(plant, state, comp));
}

static still_status put(still_state *state, const still_plant *plant, uint32_t comp,
                        const char *position)
{
    still_state_item *at = still_state_at(state, comp);
    if (at == NULL) return STILL_E_NOMEM;
    if (plant->comps[comp].kind == STILL_KIND_THREE_WAY)
        at->way = (uint8_t)still_way_value(position, strlen(position));
    else
        at->position =
            (uint8_t)still_word_value(STILL_VOC_still_position, position, strlen(position));
    return STILL_OK;
}

/* A device is moved: what it stands at by now must be what the step starts from. */
static still_status move(replay *r, const still_step *s, uint32_t comp, still_diags *diags)
{
    const still_comp *c = &r->plant->comps[comp];
    const char *now = stands(r->plant, r->out->now, comp);
    r->comp_tag[comp] = s->tag;
    if (strcmp(s->from, "automatic") == 0) {
        r->override_open[comp] = 1;
        return STILL_OK;
    }
    if (c->cls == STILL_CLASS_SPOOL || (c->cls == STILL_CLASS_BLIND && strcmp(s->from, s->to) != 0))
        REFUSE(STILL_E_USAGE,
               "step %u of the plan before has fitted or taken out %s; from there only the way "
               "back of "
               "that plan leads on",
               s->n, s->id);
    if (c->cls != STILL_CLASS_VALVE) return STILL_OK;
    if (s->from[0] != '\0' && now[0] != '\0' && strcmp(now, s->from) != 0)
        REFUSE(STILL_E_USAGE,
               "step %u starts with %s %s, but by the steps before it is %s: name all "
               "steps that are done with --done",
               s->n, s->id, s->from, now);
    return put(r->out->now, r->plant, comp, s->to);
}

static still_status replay_step(replay *r, const still_step *s, still_diags *diags)
{
    uint32_t comp = still_plant_find(r->plant, s->id).v, feed = feed_of(r->plant, s->id);
    if (strcmp(s->phase, "work") == 0) r->works = true;
    if (s->tag != 0 && strcmp(s->phase, "release") == 0 && strcmp(s->to, "open") == 0)
        r->released[s->tag] = 1;
    if (feed != STILL_NONE && s->tag != 0) {
        r->feed_tag[feed] = s->tag;
        if (strcmp(s->to, "off") == 0) r->feed_off[feed] = 1;
        return STILL_OK;
    }
    if (comp == STILL_NONE || s->tag == 0) return STILL_OK;
    if (s->to[0] != '\0') return move(r, s, comp, diags);
    r->comp_tag[comp] = s->tag;
    return STILL_OK;
}

static still_status mark_done(replay *r, const still_plan_opts *opts, still_diags *diags)
{
    size_t n = r->before->n_steps;
    for (size_t i = 0; i < opts->n_done; i++) {
        if (opts->done[i] == 0 || opts->done[i] > n)
            REFUSE(STILL_E_USAGE, "the plan before has no step %u: it has %zu, numbered from 1",
                   opts->done[i], n);
        r->done[opts->done[i] - 1] = 1;
    }
    for (size_t i = 0; i < n; i++) {
        still_status status = r->done[i] ? replay_step(r, &r->before->steps[i], diags) : STILL_OK;
        if (status != STILL_OK) return status;
    }
    return STILL_OK;
}

static still_status refuse_found(const still_plant *plant, const char *text, still_diags *diags)
{
    size_t len = (size_t)(strrchr(text, '=') - text);
    char *id = still_strndup(text, len);
    if (id == NULL) return STILL_E_NOMEM;
    still_status status = still_refuse_comp(plant, id, " of what was found", diags);
    still_free(id);
    return status;
}

/* "HV-1=passing": laid over a state. */
static still_status lay_found(still_state *state, const still_plant *plant, const char *text,
                              still_diags *diags)
{
    const char *sign = strrchr(text, '=');
    const char *what = sign != NULL ? sign + 1 : "";
    char *id = sign != NULL ? still_strndup(text, (size_t)(sign - text)) : NULL;
    if (sign == NULL)
        REFUSE(STILL_E_USAGE,
               "\"%s\" is not of the form ID=WHAT, such as HV-1=passing, =stuck or =open", text);
    if (id == NULL) return STILL_E_NOMEM;
    uint32_t comp = still_plant_find(plant, id).v;
    still_free(id);
    if (comp == STILL_NONE) return refuse_found(plant, text, diags);
    if (plant->comps[comp].cls != STILL_CLASS_VALVE)
        REFUSE(STILL_E_USAGE,
               "\"%s\": only valves are found passing, stuck or open; say the rest in a state "
               "file (--state)",
               text);
    still_state_item *at = still_state_at(state, comp);
    if (at == NULL) return STILL_E_NOMEM;
    if (strcmp(what, "passing") == 0)
        at->condition = STILL_CONDITION_PASSING;
    else if (strcmp(what, "stuck") == 0)
        at->condition = STILL_CONDITION_SEIZED;
    else if (strcmp(what, "open") == 0 && plant->comps[comp].kind != STILL_KIND_THREE_WAY)
        at->position = STILL_POSITION_OPEN;
    else
        REFUSE(STILL_E_USAGE,
               "\"%s\": a valve is found passing, stuck or open: ID=passing, ID=stuck, "
               "ID=open",
               text);
    return STILL_OK;
}

static bool keep_step(replay *r, const still_step *from, still_step *to, uint32_t n)
{
    *to = *from;
    to->n = n;
    to->stage = 1;
    to->phase = still_arena_str(r->arena, from->phase);
    to->do_text = still_arena_str(r->arena, from->do_text);
    to->id = still_arena_str(r->arena, from->id);
    to->from = still_arena_str(r->arena, from->from);
    to->to = still_arena_str(r->arena, from->to);
    to->why = still_arena_str(r->arena, from->why);
    to->expect = still_arena_str(r->arena, from->expect);
    to->if_not = still_arena_str(r->arena, from->if_not);
    to->tag = 0; /* a number of the plan before; the words name it */
    return to->phase && to->do_text && to->id && to->from && to->to && to->why && to->expect &&
           to->if_not;
}

/* Was a step with this id done in a phase? */
static bool did(const replay *r, const char *id, const char *phase)
{
    for (size_t i = 0; i < r->before->n_steps; i++)
        if (r->done[i] && strcmp(r->before->steps[i].id, id) == 0 &&
            strcmp(r->before->steps[i].phase, phase) == 0)
            return true;
    return false;
}

static bool tag_done(const replay *r, const still_step *s)
{
    uint32_t comp = still_plant_find(r->plant, s->id).v, feed = feed_of(r->plant, s->id);
    if (feed != STILL_NONE) return r->feed_tag[feed] == s->tag;
    return comp != STILL_NONE && r->comp_tag[comp] == s->tag;
}

/* Opened once more for the tests, and returned after them. */
static bool for_the_tests(const replay *r, const still_step *s)
{
    if (strcmp(s->phase, "close-up") == 0) return false;
    for (size_t i = 0; i < r->before->n_restore; i++) {
        const still_step *again = &r->before->restore[i];
        if (again->tag == s->tag && strcmp(again->phase, "leak-test") == 0) return true;
    }
    return false;
}

/* Does a step of the way back belong to what has been done?
 * @param all  the whole way back; else only what shuts the ways out again */
static bool goes_back(const replay *r, const still_step *s, bool all)
{
    bool any_released = false;
    uint32_t comp = still_plant_find(r->plant, s->id).v;
    for (uint32_t t = 1; t <= r->before->n_points; t++) any_released |= r->released[t] != 0;
    bool tests = any_released || r->works;
    if (s->tag != 0 && all) return tag_done(r, s) && (tests || !for_the_tests(r, s));
    if (s->tag != 0) return r->released[s->tag] != 0;
    if (strcmp(s->phase, "close-up") == 0) {
        bool outlet = comp != STILL_NONE && r->plant->comps[comp].cls == STILL_CLASS_OUTLET;
        return outlet ? did(r, s->id, "release") || did(r, s->id, "isolate") : r->works;
    }
    if (!all) return false;
    if (strcmp(s->phase, "leak-test") == 0 || strcmp(s->phase, "evacuate") == 0 ||
        strcmp(s->phase, "break-vacuum") == 0)
        return tests;
    if (strcmp(s->phase, "energise") == 0) return did(r, s->id, "shut-down");
    return true;
}

static still_status list_back(replay *r, bool all, const still_step **out, size_t *n)
{
    still_step *list = STILL_ARENA_NEW(r->arena, r->before->n_restore, still_step);
    uint32_t count = 0;
    if (list == NULL) return STILL_E_NOMEM;
    for (size_t i = 0; i < r->before->n_restore; i++) {
        const still_step *s = &r->before->restore[i];
        if (!goes_back(r, s, all)) continue;
        if (!keep_step(r, s, &list[count], count + 1)) return STILL_E_NOMEM;
        count++;
    }
    *out = list;
    *n = count;
    return STILL_OK;
}

/* The state with the ways out shut again, where there is any that was opened. */
static still_status shut_ways(replay *r)
{
    still_going_on *g = r->out;
    bool any = false;
    for (uint32_t t = 1; t <= r->before->n_points; t++) any = any || r->released[t] != 0;
    if (!any) return STILL_OK;
    g->safe = still_state_copy(g->now);
    still_status status = g->safe != NULL ? STILL_OK : STILL_E_NOMEM;
    for (uint32_t c = 0; c < r->plant->n_comps && status == STILL_OK; c++)
        if (r->comp_tag[c] != 0 && r->released[r->comp_tag[c]] && !r->override_open[c])
            status = put(g->safe, r->plant, c, stands(r->plant, r->state, c));
    return status == STILL_OK ? list_back(r, false, &g->first, &g->n_first) : status;
}

static still_status list_hung(replay *r)
{
    const still_plant *plant = r->plant;
    still_going_on *g = r->out;
    g->hung = STILL_ARENA_NEW(r->arena, (size_t)plant->n_comps + plant->n_feeds, still_hung);
    if (g->hung == NULL) return STILL_E_NOMEM;
    for (uint32_t c = 0; c < plant->n_comps; c++)
        if (r->comp_tag[c] != 0)
            g->hung[g->n_hung++] = (still_hung){.id = still_id_of(plant, c), .tag = r->comp_tag[c]};
    for (uint32_t f = 0; f < plant->n_feeds; f++)
        if (r->feed_tag[f] != 0)
            g->hung[g->n_hung++] =
                (still_hung){.id = still_text(plant, plant->feeds[f].id), .tag = r->feed_tag[f]};
    return STILL_OK;
}

void still_going_on_shut(still_going_on *g, const still_plant *plant)
{
    for (size_t i = 0; i < g->n_first; i++) {
        uint32_t comp = still_plant_find(plant, g->first[i].id).v;
        if (comp == STILL_NONE || g->first[i].to[0] == '\0') continue;
        g->comp_tag[comp] = 0;
        g->override_open[comp] = 0;
    }
}

still_status still_going_on_from(still_going_on *g, still_arena *arena, const still_plant *plant,
                                 const still_state *state, const still_record *before,
                                 const still_plan_opts *opts, still_diags *diags)
{
    *g = (still_going_on){0};
    replay r = {.out = g, .arena = arena, .plant = plant, .state = state, .before = before};
    r.feed_off = STILL_ARENA_NEW(arena, plant->n_feeds, uint8_t);
    r.feed_tag = STILL_ARENA_NEW(arena, plant->n_feeds, uint32_t);
    r.override_open = STILL_ARENA_NEW(arena, plant->n_comps, uint8_t);
    r.comp_tag = STILL_ARENA_NEW(arena, plant->n_comps, uint32_t);
    r.done = STILL_ARENA_NEW(arena, before->n_steps, uint8_t);
    r.released = STILL_ARENA_NEW(arena, before->n_points + 1, uint8_t);
    if (!r.feed_off || !r.feed_tag || !r.override_open || !r.comp_tag || !r.done || !r.released)
        return STILL_E_NOMEM;
    g->now = still_state_copy(state);
    still_status status = g->now != NULL ? STILL_OK : STILL_E_NOMEM;
    if (status == STILL_OK) status = mark_done(&r, opts, diags);
    if (status == STILL_OK) status = shut_ways(&r);
    for (size_t i = 0; i < opts->n_found && status == STILL_OK; i++) {
        status = lay_found(g->now, plant, opts->found[i], diags);
        if (status == STILL_OK && g->safe != NULL)
            status = lay_found(g->safe, plant, opts->found[i], diags);
    }
    if (status == STILL_OK) status = list_back(&r, true, &g->retreat, &g->n_retreat);
    if (status == STILL_OK) status = list_hung(&r);
    g->override_open = r.override_open;
    g->comp_tag = r.comp_tag;
    g->standing = (still_standing){.home = state,
                                   .feed_off = r.feed_off,
                                   .override_open = r.override_open,
                                   .comp_tag = r.comp_tag,
                                   .feed_tag = r.feed_tag};
    return status;
}

void still_going_on_clear(still_going_on *g)
{
    still_state_free(g->now);
    still_state_free(g->safe);
    g->now = g->safe = NULL;
}
