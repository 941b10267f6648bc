/* Closed-in liquid of a whole plant as JSON, format "stillset-relief-1". */
#include "output.h"

#include "json_make.h"
#include "relief_parts.h"

#include <math.h>
#include <string.h>

#define PUT(key, value) still_json_put(j, o, key, value)

static json_t *segment(still_json *j, const still_segment *s)
{
    json_t *o = json_object();
    PUT("id", still_json_text(j, s->name));
    PUT("ids", still_json_strings(j, s->ids));
    PUT("closed_by", still_json_strings(j, s->closed_by));
    PUT("shut_by", still_json_text_or_null(j, s->shut_by));
    PUT("stub", json_boolean(s->stub));
    PUT("state", still_json_text(j, s->state));
    PUT("accepted", json_boolean(s->accepted));
    PUT("covered_by", still_json_strings(j, s->covered_by));
    PUT("conditions", still_json_strings(j, s->conditions));
    PUT("full", json_boolean(s->full));
    PUT("drawing_ends", json_boolean(s->at_limit));
    PUT("substance", still_json_text_or_null(j, s->substance));
    PUT("why", still_json_text(j, s->why));
    PUT("codes", still_json_text_or_null(j, s->codes));
    PUT("volume_m3", still_json_number(s->volume_m3));
    PUT("mass_kg", still_json_number(s->mass_kg));
    PUT("start_degC", still_json_number(s->start_degC));
    PUT("start_bara", still_json_number(s->start_bara));
    PUT("bar_per_K", still_json_number(s->bar_per_K));
    PUT("bar_per_K_rigid", still_json_number(s->bar_per_K_rigid));
    PUT("design_bara", still_json_number(s->design_bara));
    PUT("weakest", still_json_text_or_null(j, s->weakest));
    PUT("reaches_design_at_degC", still_json_number(s->reaches_design_at_degC));
    PUT("not_up_to_ambient", json_boolean(s->never));
    PUT("by_vapour_pressure", json_boolean(s->by_vapour));
    PUT("full_at_degC", still_json_number(s->full_at_degC));
    PUT("ambient_bara", still_json_number(s->ambient_bara));
    PUT("ambient_bara_rigid", still_json_number(s->ambient_bara_rigid));
    PUT("opening_bara", still_json_number(s->opening_bara));
    PUT("opening_normal_bara", still_json_number(s->opening_normal_bara));
    PUT("numbers", still_json_text(j, s->numbers));
    PUT("relief_kg_per_h", still_json_number(s->relief_kg_per_h));
    PUT("relief_heat_kW", still_json_number(s->relief_heat_kW));
    PUT("stronger_by", still_json_text_or_null(j, s->stronger_by));
    PUT("stronger", still_json_text_or_null(j, s->stronger));
    return o;
}

static json_t *summary(still_json *j, const still_coverage_record *r)
{
    json_t *o = json_object();
    PUT("segments", json_integer((json_int_t)r->n_segments));
    PUT("covered", json_integer(r->n_covered));
    PUT("uncovered", json_integer(r->n_uncovered));
    PUT("not_full", json_integer(r->n_not_full));
    PUT("itself", json_integer(r->n_itself));
    PUT("person", json_integer(r->n_person));
    PUT("plan_only", json_integer(r->n_plan_only));
    PUT("stubs", json_integer(r->n_stubs));
    PUT("accepted", json_integer(r->n_accepted));
    PUT("gaps", json_integer(r->n_gaps));
    return o;
}

static void head(still_json *j, json_t *o, const still_coverage_record *r)
{
    json_t *program = json_object(), *plant = json_object(), *options = json_object();
    PUT("format", json_string("stillset-relief-1"));
    still_json_put(j, program, "name", still_json_text(j, r->program));
    still_json_put(j, program, "version", still_json_text(j, r->version));
    PUT("program", program);
    still_json_put(j, plant, "id", still_json_text(j, r->plant_id));
    still_json_put(j, plant, "name", still_json_text(j, r->plant_name));
    still_json_put(j, plant, "revision", still_json_text(j, r->plant_revision));
    still_json_put(j, plant, "digest", still_json_text(j, r->plant_digest));
    PUT("plant", plant);
    PUT("state", still_json_state(j, r->state_digest, r->found, r->n_found));
    still_json_put(j, options, "ambient_degC", still_json_number(r->ambient_degC));
    still_json_put(j, options, "accept", still_json_strings(j, r->option_accept));
    PUT("options", options);
}

still_status still_relief_json_write(still_buf *out, const still_coverage_record *r)
{
    still_json maker = {STILL_OK}, *j = &maker;
    json_t *root = json_object(), *segments = json_array();
    head(j, root, r);
    still_json_put(j, root, "summary", summary(j, r));
    for (size_t i = 0; i < r->n_segments; i++)
        still_json_add(j, segments, segment(j, &r->segments[i]));
    still_json_put(j, root, "segments", segments);
    still_json_put(j, root, "places", still_relief_json_places(j, r));
    still_json_put(j, root, "places_proven", json_boolean(r->places_proven));
    still_json_put(j, root, "places_bound", json_integer(r->places_bound));
    still_json_put(j, root, "places_ratio", still_json_number(r->places_ratio));
    still_json_put(j, root, "places_left", still_json_strings(j, r->places_left));
    still_json_put(j, root, "since", still_relief_json_since(j, r));
    still_json_put(j, root, "notes", still_json_strings(j, r->notes));
    return still_json_finish(j, root, out);
}
