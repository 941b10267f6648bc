/* The grade that is reached (I2, I3): what lies on each path from a source to the work.
 *
 * Method: for each demand one or two floods from what is opened, by the words of the rule:
 *   single        stopped by every point;
 *   double        the same, then one more from behind each point that stopped it;
 *   double-bleed  through points too, but not on from a space that is bled, is none of the work's
 *                 and holds no live source;
 *   positive      stopped by positive points of level 1 only; and, from the work and both sides of
 *                 these, stopped by points of level 2 only.
 * A live source that such a flood meets has a path to the work that the grade does not allow, and
 * the flood tells it. Why it is right: a flood meets exactly what a path leads to on which nothing
 * of the kind that stops it lies. What a point of the double grade stops lies behind two distinct
 * devices when no flood over one of them meets it.
 * Where the demands differ, each region has the highest one of its sources: what can be reached
 * from the work through every device, stopping where a source stays live. */
#include "verify_rules.h"

#include <string.h>

unsigned still_verify_rank(const char *grade)
{
    static const char *const grades[] = {"single", "double", "single-bleed", "double-bleed",
                                         "positive"};
    for (unsigned i = 0; i < 5; i++)
        if (strcmp(grades[i], grade) == 0) return i + 1;
    return 0;
}

static unsigned levels_of(unsigned rank)
{
    return rank == STILL_VERIFY_SINGLE || rank == STILL_VERIFY_SINGLE_BLEED ? 1 : 2;
}

/* Demand of one source; what the record does not name has the highest of all. */
static unsigned demand_of(const still_verify *v, const char *id)
{
    unsigned own = 0, highest = v->grade;
    for (size_t i = 0; i < v->rec->n_demands; i++) {
        unsigned rank = still_verify_rank(v->rec->demands[i].grade);
        if (rank == 0) rank = STILL_VERIFY_POSITIVE;
        if (rank > highest) highest = rank;
        if (rank > own && strcmp(v->rec->demands[i].source, id) == 0) own = rank;
    }
    return own == 0 ? highest : own;
}

void still_verify_grade_claimed(still_verify *v)
{
    const still_record *r = v->rec;
    v->grade = still_verify_rank(r->grade_achieved);
    if (v->grade == 0) {
        if (r->feasible)
            still_verify_against(v, "I2", v->subject, "\"%s\" is no grade", r->grade_achieved);
        v->grade = STILL_VERIFY_SINGLE;
    }
    bool by_policy = r->option_grade[0] == '\0' || strcmp(r->option_grade, "policy") == 0;
    for (size_t i = 1; by_policy && i < r->n_demands; i++)
        if (strcmp(r->demands[i].grade, r->demands[0].grade) != 0) v->mixed = true;
    unsigned highest = 0;
    v->n_levels = levels_of(v->grade);
    for (size_t i = 0; i < r->n_demands; i++) {
        unsigned rank = still_verify_rank(r->demands[i].grade);
        if (rank == 0)
            still_verify_against(v, "I3", r->demands[i].source, "\"%s\" is no grade",
                                 r->demands[i].grade);
        if (v->mixed && levels_of(rank) > v->n_levels) v->n_levels = levels_of(rank);
        if (rank > highest) highest = rank;
    }
    if (v->mixed && v->grade > highest)
        still_verify_against(v, "I2", v->subject,
                             "\"%s\" is claimed, and no source is held to that", r->grade_achieved);
}

uint32_t still_verify_layers_for(const still_verify *v, const char *source)
{
    return levels_of(v->mixed ? demand_of(v, source) : v->grade);
}

bool still_verify_asks_positive(const still_verify *v)
{
    if (v->grade == STILL_VERIFY_POSITIVE) return true;
    for (size_t i = 0; v->mixed && i < v->rec->n_demands; i++)
        if (still_verify_rank(v->rec->demands[i].grade) == STILL_VERIFY_POSITIVE) return true;
    return false;
}

/* Part of the work's edge whose paths have the same demand. */
typedef struct region {
    const still_verify_walk *starts; /* its opened ports are among what this walk met; NULL = all */
    unsigned demand;
} region;

static bool is_start(const still_verify *v, const region *r, uint32_t port)
{
    return v->work_port[port] && (r->starts == NULL || still_verify_met(r->starts, port));
}

/* In a region one does not pass through what is opened: that leads to another region. */
static bool opened_through(const still_verify *v, const void *with, uint32_t comp)
{
    const region *r = with;
    return r->starts != NULL && v->whole[comp];
}

static still_verify_join rule_points(const still_verify *v, const void *with, uint32_t comp,
                                     uint32_t port)
{
    if (opened_through(v, with, comp)) return STILL_VERIFY_PART;
    return still_verify_rule_points(v, NULL, comp, port);
}

static still_verify_join rule_to_bled(const still_verify *v, const void *with, uint32_t comp,
                                      uint32_t port)
{
    const still_verify_space *s = &v->spaces[v->space_of[port]];
    if (opened_through(v, with, comp)) return STILL_VERIFY_PART;
    if (s->where != STILL_VERIFY_AT_WORK && !s->live && s->bled == 1) return STILL_VERIFY_PART;
    return still_verify_plain_join(v, comp);
}

static bool first_positive(const still_verify *v, uint32_t comp)
{
    return v->barrier[comp] && v->level[comp] == 1 && v->positive[comp];
}

static still_verify_join rule_positive(const still_verify *v, const void *with, uint32_t comp,
                                       uint32_t port)
{
    (void)port;
    if (opened_through(v, with, comp) || first_positive(v, comp)) return STILL_VERIFY_PART;
    return still_verify_plain_join(v, comp);
}

static still_verify_join rule_valves(const still_verify *v, const void *with, uint32_t comp,
                                     uint32_t port)
{
    if (opened_through(v, with, comp)) return STILL_VERIFY_PART;
    if (v->level[comp] == 2) return still_verify_rule_points(v, NULL, comp, port);
    return still_verify_plain_join(v, comp);
}

static void start(still_verify *v, still_verify_walk *w, const region *r)
{
    still_verify_walk_reset(v, w);
    for (uint32_t i = 0; i < v->plant->n_ports; i++)
        if (is_start(v, r, i)) still_verify_walk_start(w, i);
}

/* Go on from both sides of every point of a kind that the first walk has met. */
static void start_behind(still_verify *v, const still_verify_walk *first, still_verify_walk *w,
                         bool (*kind)(const still_verify *v, uint32_t comp))
{
    const still_plant *p = v->plant;
    for (uint32_t i = 0; i < first->n; i++) {
        uint32_t ends[2] = {p->ports[first->met[i]].comp, p->ports[first->met[i]].spool};
        for (int e = 0; e < 2; e++)
            if (ends[e] != STILL_NONE && kind(v, ends[e]))
                still_verify_walk_start_comp(v, w, ends[e]);
    }
}

static bool any_barrier(const still_verify *v, uint32_t comp)
{
    return v->barrier[comp];
}

/* Live sources that a walk met. A point is no source of its own, its open end is. */
static void live_met(still_verify *v, const still_verify_walk *w, const char *rule,
                     const char *what)
{
    const still_plant *p = v->plant;
    uint8_t *told = still_verify_room(v, p->n_comps, 1);
    for (uint32_t i = 0; told != NULL && i < w->n; i++) {
        uint32_t comp = p->ports[w->met[i]].comp;
        if (told[comp] || !still_verify_live(v, w->met[i])) continue;
        told[comp] = 1;
        still_verify_against(v, rule, still_id_of(p, comp), "%s: %s", what,
                             still_verify_trail(v, w, w->met[i]));
    }
}

static void work_bled(still_verify *v, const region *r)
{
    uint32_t gap;
    start(v, &v->edge, r);
    still_verify_walk_run(v, &v->edge, rule_points, r);
    if (still_verify_ports_bled(v, v->edge.met, v->edge.n, &gap) || gap == STILL_NONE) return;
    const char *id = still_id_of(v->plant, v->plant->ports[gap].comp);
    still_verify_against(v, "I2", id, "the part of the work's space at %s has no bleed", id);
}

static void one_region(still_verify *v, const region *r)
{
    still_verify_walk *w = &v->scratch, *behind = &v->second;
    if (r->demand == STILL_VERIFY_SINGLE_BLEED) work_bled(v, r);
    start(v, w, r);
    if (r->demand == STILL_VERIFY_DOUBLE) {
        still_verify_walk_run(v, w, rule_points, r);
        still_verify_walk_reset(v, behind);
        start_behind(v, w, behind, any_barrier);
        still_verify_walk_run(v, behind, rule_points, r);
        live_met(v, behind, "I2", "only one closed device between the source and the work");
    } else if (r->demand == STILL_VERIFY_DOUBLE_BLEED) {
        for (uint32_t i = 1; i < v->n_spaces; i++)
            if (v->spaces[i].where != STILL_VERIFY_AT_WORK && !v->spaces[i].live)
                (void)still_verify_bled(v, i);
        start(v, w, r); /* the search for bleeds has used it */
        still_verify_walk_run(v, w, rule_to_bled, r);
        live_met(v, w, "I2", "no bled space between two closed devices on the way");
    } else if (r->demand == STILL_VERIFY_POSITIVE) {
        still_verify_walk_run(v, w, rule_positive, r);
        live_met(v, w, "I2", "no blind, spade or removed spool on the way");
        start(v, behind, r);
        start_behind(v, w, behind, first_positive);
        still_verify_walk_run(v, behind, rule_valves, r);
        live_met(v, behind, "I2",
                 "no closed valve keeps the source off while the blind or spade is fitted");
    }
}

/* Through every device, but not through what is opened, nor on from where a source stays live. */
static still_verify_join rule_region(const still_verify *v, const void *with, uint32_t comp,
                                     uint32_t port)
{
    const uint8_t *live_piece = with;
    if (v->whole[comp] || live_piece[v->piece[port]]) return STILL_VERIFY_PART;
    return still_verify_plain_join(v, comp);
}

static void mixed(still_verify *v)
{
    const still_plant *p = v->plant;
    uint8_t *live_piece = still_verify_room(v, p->n_ports, 1);
    uint8_t *done = still_verify_room(v, p->n_ports, 1);
    uint8_t *source = still_verify_room(v, p->n_ports, sizeof *source);
    if (v->nomem) return;
    for (uint32_t i = 0; i < p->n_ports; i++)
        if (still_verify_live(v, i)) live_piece[v->piece[i]] = 1;
    for (uint32_t i = 0; i < p->n_ports; i++) { /* highest demand in each piece */
        if (!still_verify_live(v, i)) continue;
        unsigned rank = demand_of(v, still_id_of(p, p->ports[i].comp));
        if (rank > source[v->piece[i]]) source[v->piece[i]] = (uint8_t)rank;
    }
    for (uint32_t i = 0; i < p->n_ports; i++) {
        if (!v->work_port[i] || done[i]) continue;
        still_verify_walk_reset(v, &v->region);
        still_verify_walk_start(&v->region, i);
        still_verify_walk_run(v, &v->region, rule_region, live_piece);
        region r = {&v->region, STILL_VERIFY_SINGLE};
        for (uint32_t k = 0; k < v->region.n; k++) {
            uint32_t port = v->region.met[k];
            done[port] = 1;
            if (source[v->piece[port]] > r.demand) r.demand = source[v->piece[port]];
        }
        one_region(v, &r);
    }
    still_verify_walk_reset(v, &v->region);
}

void still_verify_paths(still_verify *v)
{
    const region all = {NULL, v->grade};
    if (v->mixed)
        mixed(v);
    else
        one_region(v, &all);
}

/* The joint at which a blind goes in needs a bleed on one of its sides; missing = a finding. */
static void bleed_at_joint(still_verify *v, const char *id, uint32_t comp)
{
    const still_comp *c = &v->plant->comps[comp];
    uint32_t ends[2] = {c->a, c->cls == STILL_CLASS_SPOOL ? c->b : c->a + c->b - 1};
    bool told = false, handmade = !(v->given & STILL_GIVEN_FINDINGS);
    for (int e = 0; e < 2; e++)
        if (!v->spaces[v->space_of[ends[e]]].live && still_verify_bled(v, v->space_of[ends[e]]))
            return;
    for (size_t i = 0; i < v->rec->n_findings; i++) {
        const still_finding *f = &v->rec->findings[i];
        if (f->blocks && (strcmp(f->rule, "I2") == 0 || strcmp(f->rule, "E2") == 0)) told = true;
    }
    if (!told && !handmade)
        still_verify_against(v, "I2", id,
                             "no bleed on either side of \"%s\", and no finding that blocks", id);
}

void still_verify_bleed_rules(still_verify *v)
{
    for (size_t i = 0; i < v->rec->n_points && still_verify_asks_positive(v); i++) {
        uint32_t comp = v->point_comp[i];
        if (comp == STILL_NONE || !first_positive(v, comp) || v->closable[comp]) continue;
        bleed_at_joint(v, v->rec->points[i].id, comp);
    }
}

void still_verify_grade(still_verify *v)
{
    const still_record *r = v->rec;
    const char *id = v->subject;
    unsigned required = still_verify_rank(r->grade_required);
    bool said = (v->given & STILL_GIVEN_REQUIRED) != 0;
    if (said && (required == 0 || r->grade_because[0] == '\0'))
        still_verify_against(v, "I2", id, "the grade required (\"%s\") or its reason is not said",
                             r->grade_required);
    if (!r->feasible) {
        if (strcmp(r->grade_achieved, "none") != 0 && r->grade_achieved[0] != '\0')
            still_verify_against(v, "I2", id, "grade \"%s\" without a boundary", r->grade_achieved);
        return;
    }
    bool told = false;
    for (size_t i = 0; i < r->n_findings; i++)
        if (r->findings[i].blocks &&
            (strcmp(r->findings[i].rule, "I3") == 0 || strcmp(r->findings[i].rule, "I2") == 0))
            told = true;
    if (said && v->grade < required && !v->mixed && !told)
        still_verify_against(v, "I3", id, "\"%s\" falls short of \"%s\", and no finding blocks it",
                             r->grade_achieved, r->grade_required);
    if (strcmp(r->work, "open") != 0 && (v->mixed || v->grade < STILL_VERIFY_POSITIVE) && !told)
        still_verify_against(v, "I3", id, "work \"%s\" without a positive isolation, unsaid",
                             r->work);
}
