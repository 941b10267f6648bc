/* "Cannot be isolated" (I6): that it is true, that the path shown leads through, and that what is
 * said to help would help.
 *
 * Method: walk from the target, stopped by every closable device that holds against what stands on
 * its far side (D7). If that meets a source that can never be taken inside, no set of points can
 * keep it out, since each point is such a device. */
#include "verify_rules.h"

#include <string.h>

/* What would be made good: a device at a place, a machine's feeds that can be locked, or an end of
 * the drawing that is found to be blind. */
typedef struct repair {
    uint8_t *cut;  /**< by component: closed */
    uint8_t *tame; /**< by component: a pump or compressor that may then be taken inside, a blind
                        end */
} repair;

static void start_at_work(const still_verify *v, still_verify_walk *w)
{
    for (uint32_t i = 0; i < v->plant->n_ports; i++)
        if (v->work_port[i]) still_verify_walk_start(w, i);
}

/* @return the first port met of a source that can never be taken inside, or STILL_NONE */
static uint32_t walk_cut(still_verify *v, const repair *done)
{
    still_verify_walk *w = &v->scratch;
    still_verify_walk_reset(v, w);
    start_at_work(v, w);
    still_verify_walk_run(v, w, still_verify_rule_holding, done->cut);
    for (uint32_t i = 0; i < w->n; i++) {
        uint32_t comp = v->plant->ports[w->met[i]].comp;
        bool tame = done->tame[comp] && !still_verify_open_end(v, w->met[i]);
        if (!tame && still_verify_source_at(v, w->met[i]) == STILL_VERIFY_HARD) return w->met[i];
    }
    return STILL_NONE;
}

/* Is the component, or one of its ports, a source that can never be taken inside? */
static bool hard(const still_verify *v, uint32_t comp)
{
    const still_comp *c = &v->plant->comps[comp];
    if (c->cls == STILL_CLASS_SPOOL) return false;
    if (still_verify_source_of(v, comp) == STILL_VERIFY_HARD) return true;
    for (uint32_t k = 0; k < c->b; k++)
        if (still_verify_open_end(v, c->a + k)) return true;
    return false;
}

typedef struct path_rule {
    const uint8_t *on; /**< by component: on the path */
} path_rule;

/* As the holding rule, and nothing that the path does not name. */
static still_verify_join rule_on_path(const still_verify *v, const void *with, uint32_t comp,
                                      uint32_t port)
{
    const path_rule *r = with;
    if (!r->on[comp]) return STILL_VERIFY_PART;
    return still_verify_rule_holding(v, NULL, comp, port);
}

/* Consecutive ids must touch: a spool and the component at one of its ends. */
static bool touches(const still_plant *p, uint32_t a, uint32_t b)
{
    if (p->comps[a].cls != STILL_CLASS_SPOOL) {
        uint32_t t = a;
        a = b;
        b = t;
    }
    if (p->comps[a].cls != STILL_CLASS_SPOOL || p->comps[b].cls == STILL_CLASS_SPOOL) return false;
    return p->ports[p->comps[a].a].comp == b || p->ports[p->comps[a].b].comp == b;
}

/* A joint that is opened while the component there stays whole. */
static bool joint_at(const still_verify *v, uint32_t port)
{
    return v->work_port[port] && !v->whole[v->plant->ports[port].comp];
}

/* The component is opened, wholly or in part, or one of its ends is. */
static bool at_target(const still_verify *v, uint32_t comp)
{
    const still_comp *c = &v->plant->comps[comp];
    if (v->whole[comp]) return true;
    if (c->cls == STILL_CLASS_SPOOL) return joint_at(v, c->a) || joint_at(v, c->b);
    for (uint32_t k = 0; k < c->b; k++)
        if (v->work_port[c->a + k]) return true;
    return false;
}

static bool path_leads(still_verify *v, still_strings ids)
{
    const still_plant *p = v->plant;
    path_rule rule = {still_verify_room(v, p->n_comps, 1)};
    uint8_t *on = still_verify_room(v, p->n_comps, 1);
    if (v->nomem || ids.n == 0) return false;
    uint32_t last = STILL_NONE;
    for (size_t i = 0; i < ids.n; i++) {
        uint32_t comp = still_verify_comp(v, ids.items[i]);
        if (comp == STILL_NONE) return false;
        if (last != STILL_NONE && !touches(p, last, comp)) return false;
        on[comp] = 1;
        last = comp;
    }
    uint32_t first = still_verify_comp(v, ids.items[0]);
    if (!at_target(v, last) || !hard(v, first)) return false;
    rule.on = on;
    still_verify_walk *w = &v->scratch;
    still_verify_walk_reset(v, w);
    start_at_work(v, w);
    still_verify_walk_run(v, w, rule_on_path, &rule);
    for (uint32_t i = 0; i < w->n; i++)
        if (p->ports[w->met[i]].comp == first &&
            still_verify_source_at(v, w->met[i]) == STILL_VERIFY_HARD)
            return true;
    return false;
}

/* A source that stays joined, and is none any more: a pump or compressor by its feeds, an end of
 * the drawing that nobody says is live when it is found to be blind. */
static bool can_be_tamed(const still_verify *v, uint32_t comp)
{
    const still_comp *c = &v->plant->comps[comp];
    if (still_verify_source_of(v, comp) != STILL_VERIFY_HARD) return false;
    return c->cls == STILL_CLASS_PUMP || c->cls == STILL_CLASS_COMPRESSOR ||
           (c->cls == STILL_CLASS_LIMIT && c->dead == STILL_YESNO_NOT_SAID);
}

/* A three-way valve may part what these walks pass: then nothing is told to be wrong by them. */
static bool has_three_way(const still_verify *v)
{
    for (uint32_t i = 0; i < v->plant->n_comps; i++)
        if (v->plant->comps[i].cls == STILL_CLASS_VALVE &&
            v->plant->comps[i].kind == STILL_KIND_THREE_WAY)
            return true;
    return false;
}

static void helps(still_verify *v, const repair *done)
{
    const still_obstacle *o = &v->rec->obstacle;
    for (size_t i = 0; i < o->n_would_help; i++) {
        const char *id = o->would_help[i].id;
        uint32_t comp = still_verify_comp(v, id);
        if (comp == STILL_NONE || v->whole[comp]) {
            still_verify_against(v, "I6", id, "\"%s\" is no place for a device", id);
            continue;
        }
        uint8_t *mark = can_be_tamed(v, comp) ? done->tame : done->cut;
        mark[comp] = 1;
        if (o->help_is_set) continue;
        uint32_t met = walk_cut(v, done);
        mark[comp] = 0;
        if (met != STILL_NONE && !has_three_way(v))
            still_verify_against(v, "I6", id, "to make good %s would not help: %s", id,
                                 still_verify_trail(v, &v->scratch, met));
    }
    if (!o->help_is_set || o->n_would_help == 0) return;
    uint32_t met = walk_cut(v, done);
    if (met != STILL_NONE && !has_three_way(v))
        still_verify_against(v, "I6", v->subject,
                             "to make good all the places named would not help: %s",
                             still_verify_trail(v, &v->scratch, met));
}

/* A machine or an end of the drawing that is opened itself, or an open end there. */
static bool hard_at_work(const still_verify *v)
{
    for (uint32_t i = 0; i < v->plant->n_ports; i++)
        if (v->work_port[i] && still_verify_source_at(v, i) == STILL_VERIFY_HARD) return true;
    return false;
}

/* Stopped by nothing but the second device on the way that could be a point: by METHOD 3, no plan
 * of grade double can keep out what this meets. */
static bool behind_one_device(still_verify *v)
{
    const still_plant *p = v->plant;
    still_verify_walk *w = &v->second, *first = &v->scratch;
    still_verify_walk_reset(v, w);
    for (uint32_t i = 0; i < first->n; i++) {
        uint32_t comp = p->ports[first->met[i]].comp;
        still_verify_walk_start(w, first->met[i]);
        if (v->closable[comp]) still_verify_walk_start_comp(v, w, comp);
    }
    still_verify_walk_run(v, w, still_verify_rule_holding, NULL);
    for (uint32_t i = 0; i < w->n; i++)
        if (still_verify_source_at(v, w->met[i]) == STILL_VERIFY_HARD) return true;
    return false;
}

/* Grades above single: can the answer "no" be told to be wrong? Bleeds, and valves for positive
 * devices, cannot be settled by a flood, and are taken at the record's word. */
static void higher_grade(still_verify *v, unsigned asked, bool no_single)
{
    const still_obstacle *o = &v->rec->obstacle;
    unsigned best = still_verify_rank(o->best_grade);
    if (best >= asked)
        still_verify_against(v, "I6", v->subject,
                             "best grade \"%s\" is not below what cannot be had", o->best_grade);
    if (no_single && best != 0 && !has_three_way(v))
        still_verify_against(v, "I6", v->subject,
                             "best grade \"%s\", where not even single can be had", o->best_grade);
    if (!no_single && best == 0 && v->rec->option_keep.n == 0)
        still_verify_against(v, "I6", v->subject, "best grade \"none\", where single can be had");
    if (!no_single && asked == STILL_VERIFY_DOUBLE && !behind_one_device(v))
        still_verify_against(v, "I6", v->subject,
                             "it can be isolated: every way to a source that must stay outside "
                             "passes two devices that may be points");
    for (size_t i = 0; i < o->n_would_help; i++)
        if (still_verify_comp(v, o->would_help[i].id) == STILL_NONE)
            still_verify_against(v, "I6", o->would_help[i].id, "\"%s\" is no place for a device",
                                 o->would_help[i].id);
    for (size_t i = 1; i < o->path.n; i++) {
        uint32_t a = still_verify_comp(v, o->path.items[i - 1]);
        uint32_t b = still_verify_comp(v, o->path.items[i]);
        if (a != STILL_NONE && b != STILL_NONE && touches(v->plant, a, b)) continue;
        still_verify_against(v, "I6", o->path.items[i], "the path shown breaks off at %s: %s",
                             o->path.items[i], still_verify_list(v, o->path));
        return;
    }
}

static void single_grade(still_verify *v, const repair *none, bool no_single)
{
    const still_record *r = v->rec;
    if (!no_single)
        still_verify_against(v, "I6", v->subject,
                             "it can be isolated: every way to a source that must stay "
                             "outside passes a device that may be a point");
    if (!path_leads(v, r->obstacle.path) && !has_three_way(v))
        still_verify_against(v, "I6", v->subject,
                             "the path shown does not lead to the target unhindered: %s",
                             still_verify_list(v, r->obstacle.path));
    if (strcmp(r->obstacle.best_grade, "none") != 0)
        still_verify_against(v, "I6", v->subject,
                             "best grade \"%s\", where not even single can be had",
                             r->obstacle.best_grade);
    helps(v, none);
}

/* A pipe or a valve on the way shown: a place where a device could be. What stands right at the
 * work, such as an open port of its own vessel, leaves none. */
static bool has_a_place(const still_verify *v)
{
    for (size_t i = 0; i < v->rec->obstacle.path.n; i++) {
        uint32_t comp = still_verify_comp(v, v->rec->obstacle.path.items[i]);
        if (comp == STILL_NONE || v->whole[comp]) continue;
        uint8_t cls = v->plant->comps[comp].cls;
        if (cls == STILL_CLASS_SPOOL || cls == STILL_CLASS_VALVE) return true;
    }
    return false;
}

void still_verify_obstacle(still_verify *v)
{
    const still_record *r = v->rec;
    repair none = {still_verify_room(v, v->plant->n_comps, 1),
                   still_verify_room(v, v->plant->n_comps, 1)};
    if (v->nomem) return;
    unsigned asked = still_verify_rank(r->option_grade);
    if (asked == 0) asked = still_verify_rank(r->grade_required);
    if (r->n_points > 0 || r->n_steps > 0 || r->n_restore > 0)
        still_verify_against(v, "I6", v->subject, "points or steps of a plan that cannot be");
    bool no_single = walk_cut(v, &none) != STILL_NONE;
    if (r->obstacle.text[0] == '\0')
        still_verify_against(v, "I6", v->subject, "why it cannot be isolated is not said in words");
    /* That no choice keeps it all in service cannot be told to be wrong by a flood. */
    if (r->option_keep.n > 0 && r->obstacle.path.n == 0) return;
    if (asked > STILL_VERIFY_SINGLE)
        higher_grade(v, asked, no_single);
    else
        single_grade(v, &none, no_single);
    if (r->obstacle.n_would_help == 0 && !hard_at_work(v) && has_a_place(v) &&
        asked <= STILL_VERIFY_SINGLE && !has_three_way(v))
        still_verify_against(v, "I6", v->subject, "no place is named where a device would help");
}
