/* Spaces and labels (I2): what stays joined once all points are closed, which of it is the work's,
 * which lies between, and whether the level of each point fits.
 *
 * Method: one flood from what is opened, one from every port not met yet; a space beyond a point
 * that bounds the work lies between when nothing in it stays live and a second level is asked for.
 * Why it is right: the labels of the rule are 0 = joined to the work, 1 = between, and the level of
 * a point is the higher label of its two sides; so a point that touches the work is of level 1,
 * every other one of level 2. */
#include "verify_rules.h"

#include <string.h>

static void find_taken(still_verify *v)
{
    for (size_t i = 0; i < v->rec->n_sources_inside; i++) {
        uint32_t comp = still_verify_comp(v, v->rec->sources_inside[i].id);
        if (comp != STILL_NONE && still_verify_source_of(v, comp) == STILL_VERIFY_SOFT)
            v->taken[comp] = 1;
    }
}

static void flood_work(still_verify *v)
{
    for (uint32_t i = 0; i < v->plant->n_ports; i++)
        if (v->work_port[i]) still_verify_walk_start(&v->inside, i);
    still_verify_walk_run(v, &v->inside, still_verify_rule_points, NULL);
}

/* One space for all that is joined to the work (number 0), then one for each part beyond. */
static void flood_spaces(still_verify *v)
{
    const still_plant *p = v->plant;
    still_verify_walk *w = &v->scratch;
    for (uint32_t i = 0; i < p->n_ports; i++)
        v->space_of[i] = still_verify_met(&v->inside, i) ? 0 : STILL_NONE;
    v->n_spaces = 1;
    v->spaces[0] = (still_verify_space){.where = STILL_VERIFY_AT_WORK};
    for (uint32_t i = 0; i < p->n_ports; i++) {
        if (v->space_of[i] != STILL_NONE) continue;
        still_verify_walk_reset(v, w);
        still_verify_walk_start(w, i);
        still_verify_walk_run(v, w, still_verify_rule_points, NULL);
        still_verify_space *s = &v->spaces[v->n_spaces];
        *s = (still_verify_space){.where = 0};
        for (uint32_t k = 0; k < w->n; k++) {
            v->space_of[w->met[k]] = v->n_spaces;
            if (still_verify_live(v, w->met[k])) s->live = 1;
        }
        v->n_spaces++;
    }
    still_verify_walk_reset(v, w);
}

/* First port and number of ports of a point; a spool has its two ends, k = 0 and 1. */
static uint32_t port_of(const still_verify *v, uint32_t comp, uint32_t k)
{
    const still_comp *c = &v->plant->comps[comp];
    if (c->cls == STILL_CLASS_SPOOL) return k == 0 ? c->a : c->b;
    return c->a + k;
}

static uint32_t n_ports_of(const still_verify *v, uint32_t comp)
{
    const still_comp *c = &v->plant->comps[comp];
    return c->cls == STILL_CLASS_SPOOL ? 2 : c->b;
}

static bool touches_work(const still_verify *v, uint32_t comp)
{
    for (uint32_t k = 0; k < n_ports_of(v, comp); k++)
        if (still_verify_met(&v->inside, port_of(v, comp, k))) return true;
    return false;
}

static void beside_points(still_verify *v)
{
    for (uint32_t i = 0; i < v->plant->n_comps; i++) {
        if (!v->barrier[i]) continue;
        bool at_work = touches_work(v, i);
        if (!(v->given & STILL_GIVEN_LEVELS)) v->level[i] = at_work ? 1 : 2;
        for (uint32_t k = 0; k < n_ports_of(v, i); k++) {
            still_verify_space *s = &v->spaces[v->space_of[port_of(v, i, k)]];
            if (at_work) s->beside = 1;
            if (!at_work) s->last = 1;
        }
    }
}

static void mark_where(still_verify *v)
{
    const still_plant *p = v->plant;
    for (uint32_t i = 0; i < p->n_comps; i++)
        if (v->whole[i]) v->where[i] |= STILL_VERIFY_AT_WORK;
    for (uint32_t i = 0; i < p->n_ports; i++) {
        const still_port *port = &p->ports[i];
        uint8_t where = v->spaces[v->space_of[i]].where;
        if (!v->barrier[port->comp]) v->where[port->comp] |= where;
        if (port->spool != STILL_NONE && !v->barrier[port->spool]) v->where[port->spool] |= where;
    }
}

/* Of three points in a row, where the space next to the work is not bled, the outer two hold the
 * one that is: not live, with two neighbours at least, and next to a space between or to another
 * such one. */
static void further_out(still_verify *v)
{
    uint32_t *one = still_verify_room(v, v->n_spaces, sizeof *one);
    uint8_t *two = still_verify_room(v, v->n_spaces, 1);
    if (one == NULL || two == NULL) return;
    for (uint32_t i = 0; i < v->plant->n_comps; i++)
        for (uint32_t k = 0; v->barrier[i] && k < n_ports_of(v, i); k++)
            for (uint32_t m = 0; m < n_ports_of(v, i); m++) {
                uint32_t a = v->space_of[port_of(v, i, k)], b = v->space_of[port_of(v, i, m)];
                if (a == b) continue;
                uint32_t next = v->spaces[b].live ? STILL_NONE : b + 1; /* all live as one */
                if (one[a] == 0)
                    one[a] = next;
                else if (one[a] != next)
                    two[a] = 1;
            }
    for (bool grown = true; grown;) {
        grown = false;
        for (uint32_t i = 0; i < v->plant->n_comps; i++)
            for (uint32_t k = 0; v->barrier[i] && k < n_ports_of(v, i); k++)
                for (uint32_t m = 0; m < n_ports_of(v, i); m++) {
                    uint32_t b = v->space_of[port_of(v, i, m)];
                    still_verify_space *s = &v->spaces[b];
                    if (v->spaces[v->space_of[port_of(v, i, k)]].where != STILL_VERIFY_BETWEEN ||
                        s->where != 0 || s->live || !two[b])
                        continue;
                    s->where = STILL_VERIFY_BETWEEN;
                    s->further = 1;
                    grown = true;
                }
    }
}

void still_verify_labels(still_verify *v)
{
    find_taken(v);
    flood_work(v);
    flood_spaces(v);
    beside_points(v);
    for (uint32_t i = 1; i < v->n_spaces; i++) {
        still_verify_space *s = &v->spaces[i];
        if (v->n_levels == 2 && s->beside && !s->live && (s->last || !v->mixed))
            s->where = STILL_VERIFY_BETWEEN;
    }
    if (v->grade == STILL_VERIFY_DOUBLE_BLEED || v->mixed) further_out(v);
    mark_where(v);
}

/* A point whose sides are alike changes nothing when it is taken away (I4). */
static void parts_something(still_verify *v, const char *id, uint32_t comp)
{
    uint32_t n = n_ports_of(v, comp), work = 0, between = 0, outside = 0;
    for (uint32_t k = 0; k < n; k++) {
        uint8_t where = v->spaces[v->space_of[port_of(v, comp, k)]].where;
        if (where == STILL_VERIFY_AT_WORK)
            work++;
        else if (where == STILL_VERIFY_BETWEEN)
            between++;
        else
            outside++;
    }
    if (work != n && between != n && outside != n) return;
    /* Of three in a row, where only the outer space is bled, the middle one parts two spaces. */
    for (uint32_t k = 1; k < n && (v->grade == STILL_VERIFY_DOUBLE_BLEED || v->mixed); k++)
        if (v->space_of[port_of(v, comp, k)] != v->space_of[port_of(v, comp, 0)]) return;
    still_verify_against(v, "I4", id, "\"%s\" parts nothing: all of its sides are %s", id,
                         work == n      ? "inside"
                         : between == n ? "between"
                                        : "outside");
}

void still_verify_levels(still_verify *v)
{
    for (size_t i = 0; i < v->rec->n_points; i++) {
        uint32_t comp = v->point_comp[i];
        if (comp == STILL_NONE || !v->barrier[comp]) continue;
        const char *id = v->rec->points[i].id;
        unsigned level = v->level[comp], right = touches_work(v, comp) ? 1 : 2;
        parts_something(v, id, comp);
        if (level < 1 || level > v->n_levels)
            still_verify_against(v, "I2", id,
                                 "barrier \"%s\" is of level %u, and grade \"%s\" has %u", id,
                                 level, v->rec->grade_achieved, v->n_levels);
        else if (level != right && v->n_levels == 2)
            still_verify_against(v, "I2", id, "barrier \"%s\" is of level %u: it is %s", id, level,
                                 right == 1 ? "next to the work" : "not next to the work");
    }
}
