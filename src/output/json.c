#include "output.h"

#include "json_make.h"
#include "glyph.h"

#include <string.h>

static void head(still_json *j, json_t *root, const still_record *r)
{
    json_t *program = json_object(), *plant = json_object();
    still_json_put(j, root, "format", json_string("stillset-plan-1"));
    still_json_put(j, program, "name", still_json_text(j, r->program));
    still_json_put(j, program, "version", still_json_text(j, r->version));
    still_json_put(j, root, "program", program);
    still_json_put(j, plant, "id", still_json_text(j, r->plant_id));
    still_json_put(j, plant, "name", still_json_text(j, r->plant_name));
    still_json_put(j, plant, "revision", still_json_text(j, r->plant_revision));
    still_json_put(j, plant, "digest", still_json_text(j, r->plant_digest));
    still_json_put(j, root, "plant", plant);
}

static json_t *positions(still_json *j, const still_position_of *p, size_t n)
{
    json_t *o = json_object();
    for (size_t i = 0; i < n; i++) {
        if (!still_glyph_valid(p[i].id)) j->status = STILL_E_INTERNAL;
        still_json_put(j, o, p[i].id, still_json_text(j, p[i].position));
    }
    return o;
}

/* A file of the site's own that went in; digest "" = what is built in. */
static json_t *file(still_json *j, const char *id, const char *digest)
{
    if (id[0] == '\0') return json_null();
    json_t *o = json_object();
    still_json_put(j, o, "id", still_json_text(j, id));
    still_json_put(j, o, "digest", still_json_text_or_null(j, digest));
    return o;
}

/* The plan before, when this one goes on from it. */
static json_t *before(still_json *j, const still_record *r)
{
    if (!r->goes_on) return json_null();
    json_t *o = json_object(), *done = json_array(), *found = json_array(), *hung = json_array();
    for (size_t i = 0; i < r->n_done; i++) still_json_add(j, done, json_integer(r->done[i]));
    for (size_t i = 0; i < r->n_found_on_way; i++) {
        json_t *at = json_object();
        still_json_put(j, at, "id", still_json_text(j, r->found_on_way[i].id));
        still_json_put(j, at, "as", still_json_text(j, r->found_on_way[i].position));
        still_json_add(j, found, at);
    }
    for (size_t i = 0; i < r->n_hung; i++) {
        json_t *at = json_object();
        still_json_put(j, at, "id", still_json_text(j, r->hung[i].id));
        still_json_put(j, at, "tag", json_integer(r->hung[i].tag));
        still_json_put(j, at, "left", json_boolean(r->hung[i].left));
        still_json_add(j, hung, at);
    }
    still_json_put(j, o, "done", done);
    still_json_put(j, o, "found", found);
    still_json_put(j, o, "hung", hung);
    return o;
}

static void asked(still_json *j, json_t *root, const still_record *r)
{
    json_t *options = json_object();
    still_json_put(j, options, "grade", still_json_text(j, r->option_grade));
    still_json_put(j, options, "work", still_json_text(j, r->option_work));
    still_json_put(j, options, "avoid", still_json_strings(j, r->option_avoid));
    still_json_put(j, options, "keep", still_json_strings(j, r->option_keep));
    still_json_put(j, options, "accept", still_json_strings(j, r->option_accept));
    still_json_put(j, options, "ambient_degC", still_json_number(r->option_ambient_degC));
    still_json_put(j, root, "options", options);
    still_json_put(j, root, "state", still_json_state(j, r->state_digest, r->found, r->n_found));
    still_json_put(j, root, "policy", file(j, r->policy_id, r->policy_digest));
    still_json_put(j, root, "site", file(j, r->site_id, r->site_digest));
    still_json_put(j, root, "checklists", file(j, r->checklists_id, r->checklists_digest));
    still_json_put(j, root, "before", before(j, r));
    still_json_put(j, root, "first", still_json_steps(j, r->first, r->n_first));
    still_json_put(j, root, "start", positions(j, r->start, r->n_start));
    still_json_put(j, root, "end", positions(j, r->end, r->n_end));
    still_json_put(j, root, "target", still_json_strings(j, r->targets));
    still_json_put(j, root, "work", still_json_text(j, r->work));
    still_json_put(j, root, "feasible", json_boolean(r->feasible));
    still_json_put(j, root, "ready", json_boolean(r->ready));
}

static void answer(still_json *j, json_t *root, const still_record *r)
{
    json_t *grade = json_object(), *cost = json_object(), *sources = json_array();
    still_json_put(j, grade, "required", still_json_text(j, r->grade_required));
    still_json_put(j, grade, "achieved", still_json_text(j, r->grade_achieved));
    still_json_put(j, grade, "because", still_json_text(j, r->grade_because));
    still_json_put(j, grade, "shortfall", still_json_text_or_null(j, r->grade_shortfall));
    still_json_put(j, grade, "demands", still_json_demands(j, r));
    still_json_put(j, root, "grade", grade);
    still_json_put(j, cost, "sources", json_integer(r->cost_sources));
    still_json_put(j, cost, "points", json_integer(r->cost_points));
    still_json_put(j, cost, "mass_kg", still_json_number(r->cost_mass_kg));
    still_json_put(j, root, "cost", cost);
    still_json_put(j, root, "points", still_json_points(j, r));
    for (size_t i = 0; i < r->n_sources_inside; i++) {
        json_t *o = json_object();
        still_json_put(j, o, "id", still_json_text(j, r->sources_inside[i].id));
        still_json_put(j, o, "treatment", still_json_text(j, r->sources_inside[i].treatment));
        still_json_add(j, sources, o);
    }
    still_json_put(j, root, "sources_inside", sources);
    still_json_put(j, root, "inside", still_json_strings(j, r->inside));
    still_json_put(j, root, "between", still_json_between(j, r));
}

static json_t *remarks(still_json *j, const still_remark *list, size_t n)
{
    json_t *array = json_array();
    for (size_t i = 0; i < n; i++) {
        json_t *o = json_object();
        still_json_put(j, o, "rule", still_json_text(j, list[i].rule));
        still_json_put(j, o, "id", still_json_text(j, list[i].id));
        still_json_put(j, o, "text", still_json_text(j, list[i].text));
        still_json_add(j, array, o);
    }
    return array;
}

static json_t *findings(still_json *j, const still_record *r)
{
    json_t *array = json_array();
    for (size_t i = 0; i < r->n_findings; i++) {
        const still_finding *f = &r->findings[i];
        json_t *o = json_object();
        still_json_put(j, o, "rule", still_json_text(j, f->rule));
        still_json_put(j, o, "id", still_json_text(j, f->id));
        still_json_put(j, o, "text", still_json_text(j, f->text));
        still_json_put(j, o, "blocks", json_boolean(f->blocks));
        still_json_put(j, o, "acceptable", json_boolean(f->acceptable));
        still_json_put(j, o, "accepted", json_boolean(f->accepted));
        still_json_add(j, array, o);
    }
    return array;
}

still_status still_json_write(still_buf *out, const still_record *r)
{
    still_json maker = {STILL_OK}, *j = &maker;
    json_t *root = json_object();
    if (root == NULL) return STILL_E_NOMEM;
    head(j, root, r);
    asked(j, root, r);
    answer(j, root, r);
    still_json_put(j, root, "proof", still_json_proof(j, r));
    still_json_put(j, root, "obstacle", still_json_obstacle(j, r));
    still_json_put(j, root, "compartments", still_json_compartments(j, r));
    still_json_put(j, root, "inventory", still_json_inventory(j, r));
    still_json_put(j, root, "closed_in", still_json_closed_in(j, r));
    still_json_put(j, root, "still_live", still_json_live(j, r));
    still_json_put(j, root, "steps", still_json_steps(j, r->steps, r->n_steps));
    still_json_put(j, root, "restore", still_json_steps(j, r->restore, r->n_restore));
    still_json_put(j, root, "tests", still_json_tests(j, r));
    still_json_put(j, root, "out_of_service", json_integer(r->out_of_service));
    still_json_put(j, root, "alternatives", still_json_alternatives(j, r));
    still_json_put(j, root, "alternatives_complete", json_boolean(r->alternatives_complete));
    still_json_put(j, root, "explain", remarks(j, r->explain, r->n_explain));
    still_json_put(j, root, "assumptions", remarks(j, r->assumptions, r->n_assumptions));
    still_json_put(j, root, "cautions", remarks(j, r->cautions, r->n_cautions));
    still_json_put(j, root, "findings", findings(j, r));
    return still_json_finish(j, root, out);
}
