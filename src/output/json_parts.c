/* The long arrays of the plan record. Keys stand here in the order in which they are written. */
#include "json_make.h"

#include "output.h"

#include <string.h>

/* The state file: its digest, and what it says. */
json_t *still_json_state(still_json *j, const char *digest, const still_found *found, size_t n)
{
    json_t *state = json_object(), *list = json_array();
    for (size_t i = 0; i < n; i++) {
        json_t *o = json_object();
        still_json_put(j, o, "id", still_json_text(j, found[i].id));
        still_json_put(j, o, "position", still_json_text_or_null(j, found[i].position));
        still_json_put(j, o, "condition", still_json_text_or_null(j, found[i].condition));
        still_json_put(j, o, "contents", still_json_text_or_null(j, found[i].contents));
        still_json_put(j, o, "energised", still_json_text_or_null(j, found[i].energised));
        still_json_add(j, list, o);
    }
    still_json_put(j, state, "digest", still_json_text_or_null(j, digest));
    still_json_put(j, state, "found", list);
    return state;
}

json_t *still_json_points(still_json *j, const still_record *r)
{
    json_t *array = json_array();
    for (size_t i = 0; i < r->n_points; i++) {
        const still_point *p = &r->points[i];
        json_t *o = json_object();
        still_json_put(j, o, "tag", json_integer(p->tag));
        still_json_put(j, o, "id", still_json_text(j, p->id));
        still_json_put(j, o, "action", still_json_text(j, still_action_text(p->action)));
        still_json_put(j, o, "level", json_integer(p->level));
        still_json_put(j, o, "counted", json_boolean(p->counted));
        still_json_put(j, o, "what", still_json_text(j, p->what));
        still_json_put(j, o, "place", still_json_text(j, p->place));
        still_json_put(j, o, "from", still_json_text(j, p->from));
        still_json_put(j, o, "to", still_json_text(j, p->to));
        still_json_put(j, o, "hold", still_json_text(j, p->hold));
        still_json_put(j, o, "legend", still_json_text(j, p->legend));
        still_json_put(j, o, "why", still_json_text(j, p->why));
        still_json_put(j, o, "isolator", still_json_text(j, p->isolator));
        still_json_put(j, o, "lockable_assumed", json_boolean(p->assumed_lockable));
        still_json_add(j, array, o);
    }
    return array;
}

json_t *still_json_demands(still_json *j, const still_record *r)
{
    json_t *array = json_array();
    for (size_t i = 0; i < r->n_demands; i++) {
        const still_demand *d = &r->demands[i];
        json_t *o = json_object();
        still_json_put(j, o, "source", still_json_text(j, d->source));
        still_json_put(j, o, "grade", still_json_text(j, d->grade));
        still_json_put(j, o, "row", still_json_text(j, d->row));
        still_json_put(j, o, "because", still_json_text(j, d->because));
        still_json_put(j, o, "risk", json_boolean(d->risk));
        still_json_add(j, array, o);
    }
    return array;
}

json_t *still_json_between(still_json *j, const still_record *r)
{
    json_t *array = json_array();
    for (size_t i = 0; i < r->n_between; i++) {
        const still_between *b = &r->between[i];
        json_t *o = json_object(), *bleeds = json_array();
        for (size_t k = 0; k < b->n_bleeds; k++)
            still_json_add(j, bleeds, still_json_strings(j, b->bleeds[k]));
        still_json_put(j, o, "ids", still_json_strings(j, b->ids));
        still_json_put(j, o, "bleed", bleeds);
        still_json_add(j, array, o);
    }
    return array;
}

json_t *still_json_alternatives(still_json *j, const still_record *r)
{
    json_t *array = json_array();
    for (size_t i = 0; i < r->n_alternatives; i++) {
        const still_alternative *a = &r->alternatives[i];
        json_t *o = json_object(), *cost = json_object();
        still_json_put(j, cost, "sources", json_integer(a->cost_sources));
        still_json_put(j, cost, "points", json_integer(a->cost_points));
        still_json_put(j, cost, "mass_kg", still_json_number(a->cost_mass_kg));
        still_json_put(j, o, "cost", cost);
        still_json_put(j, o, "points", still_json_strings(j, a->points));
        still_json_put(j, o, "out_of_service", json_integer(a->out_of_service));
        still_json_put(j, o, "near", json_boolean(a->near));
        still_json_put(j, o, "text", still_json_text(j, a->text));
        still_json_add(j, array, o);
    }
    return array;
}

static json_t *layers(still_json *j, const still_proof_path *path)
{
    json_t *array = json_array();
    for (size_t i = 0; path->layers != NULL && i < path->ids.n; i++)
        still_json_add(j, array, json_integer(path->layers[i]));
    return array;
}

json_t *still_json_proof(still_json *j, const still_record *r)
{
    const still_proof *p = &r->proof;
    json_t *paths = json_array(), *o = json_object();
    for (size_t i = 0; i < p->n_paths; i++) {
        json_t *path = json_object();
        still_json_put(j, path, "ids", still_json_strings(j, p->paths[i].ids));
        still_json_put(j, path, "layers", layers(j, &p->paths[i]));
        still_json_put(j, path, "point", still_json_text(j, p->paths[i].point));
        still_json_add(j, paths, path);
    }
    still_json_put(j, o, "kind", still_json_text(j, p->kind));
    still_json_put(j, o, "paths", paths);
    still_json_put(j, o, "feeds", still_json_strings(j, p->feeds));
    still_json_put(j, o, "bound", json_integer(p->bound));
    bool search = strcmp(p->kind, "search") == 0;
    still_json_put(j, o, "lower_bound", search ? json_integer(p->lower_bound) : json_null());
    still_json_put(j, o, "nodes", search ? json_integer((json_int_t)p->nodes) : json_null());
    still_json_put(j, o, "complete", search ? json_boolean(p->complete) : json_null());
    return o;
}

json_t *still_json_obstacle(still_json *j, const still_record *r)
{
    if (r->feasible) return json_null();
    const still_obstacle *b = &r->obstacle;
    json_t *help = json_array(), *o = json_object();
    for (size_t i = 0; i < b->n_would_help; i++) {
        json_t *h = json_object();
        still_json_put(j, h, "id", still_json_text(j, b->would_help[i].id));
        still_json_put(j, h, "text", still_json_text(j, b->would_help[i].text));
        still_json_add(j, help, h);
    }
    const char *best = strcmp(b->best_grade, "none") == 0 ? "" : b->best_grade;
    still_json_put(j, o, "path", still_json_strings(j, b->path));
    still_json_put(j, o, "text", still_json_text(j, b->text));
    still_json_put(j, o, "best_grade", still_json_text_or_null(j, best));
    still_json_put(j, o, "would_help", help);
    still_json_put(j, o, "all_needed", json_boolean(b->help_is_set));
    return o;
}

static json_t *pockets(still_json *j, const still_compartment *c)
{
    json_t *array = json_array();
    for (size_t i = 0; i < c->n_pockets; i++) {
        json_t *o = json_object();
        still_json_put(j, o, "ids", still_json_strings(j, c->pockets[i].ids));
        still_json_put(j, o, "volume_m3", still_json_number(c->pockets[i].volume_m3));
        still_json_put(j, o, "mass_kg", still_json_number(c->pockets[i].mass_kg));
        still_json_put(j, o, "lowest_m", still_json_number(c->pockets[i].lowest_m));
        still_json_put(j, o, "place", still_json_text(j, c->pockets[i].place));
        still_json_put(j, o, "loosen", still_json_text_or_null(j, c->pockets[i].loosen));
        still_json_put(j, o, "evaporate", still_json_text_or_null(j, c->pockets[i].evaporate));
        still_json_put(j, o, "suction", still_json_text_or_null(j, c->pockets[i].suction));
        still_json_put(j, o, "how", still_json_text(j, c->pockets[i].how));
        still_json_add(j, array, o);
    }
    return array;
}

static void by_phase(still_json *j, json_t *o, const still_inventory *held)
{
    still_json_put(j, o, "liquid_m3", still_json_number(held->liquid_m3));
    still_json_put(j, o, "vapour_m3", still_json_number(held->vapour_m3));
    still_json_put(j, o, "liquid_kg", still_json_number(held->liquid_kg));
    still_json_put(j, o, "vapour_kg", still_json_number(held->vapour_kg));
}

json_t *still_json_inventory(still_json *j, const still_record *r)
{
    json_t *o = json_object();
    by_phase(j, o, &r->inventory);
    return o;
}

static json_t *let_down(still_json *j, const still_compartment *c)
{
    json_t *array = json_array();
    for (size_t i = 0; i < c->n_let_down; i++) {
        const still_letting *l = &c->let_down[i];
        json_t *o = json_object();
        still_json_put(j, o, "through", still_json_text(j, l->through));
        still_json_put(j, o, "bore_mm", still_json_number(l->bore_mm));
        still_json_put(j, o, "liquid_s", still_json_number(l->liquid_s));
        still_json_put(j, o, "vapour_s", still_json_number(l->vapour_s));
        still_json_put(j, o, "text", still_json_text(j, l->text));
        still_json_add(j, array, o);
    }
    return array;
}

json_t *still_json_compartments(still_json *j, const still_record *r)
{
    json_t *array = json_array();
    for (size_t i = 0; i < r->n_compartments; i++) {
        const still_compartment *c = &r->compartments[i];
        json_t *o = json_object();
        still_json_put(j, o, "ids", still_json_strings(j, c->ids));
        still_json_put(j, o, "where", still_json_text(j, c->where));
        still_json_put(j, o, "liquid", json_boolean(c->liquid));
        still_json_put(j, o, "vent", still_json_strings(j, c->vent));
        still_json_put(j, o, "drain", still_json_strings(j, c->drain));
        json_t *further = json_array();
        for (size_t k = 0; k < c->n_further; k++)
            still_json_add(j, further, still_json_strings(j, c->further[k]));
        still_json_put(j, o, "further_drains", further);
        still_json_put(j, o, "prove", still_json_strings(j, c->prove));
        still_json_put(j, o, "gauge", still_json_text_or_null(j, c->gauge));
        still_json_put(j, o, "gauge_root_valve", still_json_text_or_null(j, c->gauge_via));
        still_json_put(j, o, "volume_m3", still_json_number(c->volume_m3));
        still_json_put(j, o, "mass_kg", still_json_number(c->mass_kg));
        by_phase(j, o, &c->holds);
        still_json_put(j, o, "pockets", pockets(j, c));
        still_json_put(j, o, "drainage_shown", json_boolean(c->drainage_shown));
        still_json_put(j, o, "not_shown", still_json_strings(j, c->not_shown));
        still_json_put(j, o, "air_in", still_json_text_or_null(j, c->air_in));
        still_json_put(j, o, "flashes", json_boolean(c->flashes));
        still_json_put(j, o, "let_down", let_down(j, c));
        still_json_add(j, array, o);
    }
    return array;
}

static json_t *remedies(still_json *j, const still_closed_in *c)
{
    json_t *array = json_array();
    for (size_t i = 0; i < c->n_remedies; i++) {
        json_t *o = json_object();
        still_json_put(j, o, "kind", still_json_text(j, c->remedies[i].kind));
        still_json_put(j, o, "ids", still_json_strings(j, c->remedies[i].ids));
        still_json_put(j, o, "text", still_json_text(j, c->remedies[i].text));
        still_json_add(j, array, o);
    }
    return array;
}

static json_t *during(still_json *j, const still_closed_in *c)
{
    if (c->during[0] == '\0') return json_null();
    json_t *o = json_object();
    still_json_put(j, o, "list", still_json_text(j, c->during));
    still_json_put(j, o, "from", json_integer(c->from_step));
    still_json_put(j, o, "to", c->until_step > 0 ? json_integer(c->until_step) : json_null());
    return o;
}

json_t *still_json_closed_in(still_json *j, const still_record *r)
{
    json_t *array = json_array();
    for (size_t i = 0; i < r->n_closed_in; i++) {
        const still_closed_in *c = &r->closed_in[i];
        json_t *o = json_object();
        still_json_put(j, o, "ids", still_json_strings(j, c->ids));
        still_json_put(j, o, "closed_by", still_json_strings(j, c->closed_by));
        still_json_put(j, o, "covered_by", still_json_strings(j, c->covered_by));
        still_json_put(j, o, "conditions", still_json_strings(j, c->conditions));
        still_json_put(j, o, "where", still_json_text(j, c->where));
        still_json_put(j, o, "state", still_json_text(j, c->state));
        still_json_put(j, o, "why", still_json_text(j, c->why));
        still_json_put(j, o, "volume_m3", still_json_number(c->volume_m3));
        still_json_put(j, o, "mass_kg", still_json_number(c->mass_kg));
        still_json_put(j, o, "bar_per_K", still_json_number(c->bar_per_K));
        still_json_put(j, o, "reaches_design_at_degC",
                       still_json_number(c->reaches_design_at_degC));
        still_json_put(j, o, "remedies", remedies(j, c));
        still_json_put(j, o, "during", during(j, c));
        still_json_add(j, array, o);
    }
    return array;
}

json_t *still_json_live(still_json *j, const still_record *r)
{
    json_t *array = json_array();
    for (size_t i = 0; i < r->n_still_live; i++) {
        const still_live_item *l = &r->still_live[i];
        json_t *o = json_object();
        still_json_put(j, o, "id", still_json_text(j, l->id));
        still_json_put(j, o, "place", still_json_text(j, l->place));
        still_json_put(j, o, "why", still_json_text(j, l->why));
        still_json_put(j, o, "look_alike", json_boolean(l->look_alike));
        still_json_add(j, array, o);
    }
    return array;
}

json_t *still_json_tests(still_json *j, const still_record *r)
{
    const still_tests *t = &r->tests;
    if (!r->feasible) return json_null();
    json_t *o = json_object();
    still_json_put(j, o, "code", still_json_text_or_null(j, t->code));
    still_json_put(j, o, "source", still_json_text(j, t->source));
    still_json_put(j, o, "design_barg", still_json_number(t->design_barg));
    still_json_put(j, o, "strength_barg", still_json_number(t->strength_barg));
    still_json_put(j, o, "tightness_barg", still_json_number(t->tightness_barg));
    still_json_put(j, o, "code_strength_barg", still_json_number(t->code_strength_barg));
    still_json_put(j, o, "most_barg", still_json_number(t->most_barg));
    still_json_put(j, o, "hydraulic_barg", still_json_number(t->hydraulic_barg));
    still_json_put(j, o, "hold_s", still_json_number(t->hold_s));
    still_json_put(j, o, "limited_by", still_json_strings(j, t->limited_by));
    still_json_put(j, o, "evacuation_Pa", still_json_number(t->evacuation_Pa));
    still_json_put(j, o, "evacuation_hold_s", still_json_number(t->evacuation_hold_s));
    return o;
}

static json_t *change_of(still_json *j, const still_step *s)
{
    if (s->from[0] == '\0' && s->to[0] == '\0') return json_null();
    json_t *o = json_object();
    still_json_put(j, o, "from", still_json_text(j, s->from));
    still_json_put(j, o, "to", still_json_text(j, s->to));
    return o;
}

json_t *still_json_steps(still_json *j, const still_step *steps, size_t n)
{
    json_t *array = json_array();
    for (size_t i = 0; i < n; i++) {
        const still_step *s = &steps[i];
        json_t *o = json_object();
        still_json_put(j, o, "n", json_integer(s->n));
        still_json_put(j, o, "stage", json_integer(s->stage));
        still_json_put(j, o, "phase", still_json_text(j, s->phase));
        still_json_put(j, o, "do", still_json_text(j, s->do_text));
        still_json_put(j, o, "id", still_json_text(j, s->id));
        still_json_put(j, o, "tag", s->tag != 0 ? json_integer(s->tag) : json_null());
        still_json_put(j, o, "change", change_of(j, s));
        still_json_put(j, o, "why", still_json_text(j, s->why));
        still_json_put(j, o, "expect", still_json_text(j, s->expect));
        still_json_put(j, o, "if_not", still_json_text(j, s->if_not));
        still_json_add(j, array, o);
    }
    return array;
}
