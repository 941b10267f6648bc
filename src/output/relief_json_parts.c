/* Places for new valves, and what changed since an older revision, as JSON. */
#include "relief_parts.h"

#define PUT(key, value) still_json_put(j, o, key, value)

json_t *still_relief_json_places(still_json *j, const still_coverage_record *r)
{
    json_t *list = json_array();
    for (size_t i = 0; i < r->n_places; i++) {
        const still_relief_place *p = &r->places[i];
        json_t *o = json_object();
        PUT("id", still_json_text(j, p->id));
        PUT("segment", still_json_text(j, p->segment));
        PUT("covers", still_json_strings(j, p->covers));
        PUT("jointly", still_json_strings(j, p->jointly));
        PUT("set_at_most_bara", still_json_number(p->set_at_most_bara));
        PUT("normal_bara", still_json_number(p->normal_bara));
        PUT("relief_kg_per_h", still_json_number(p->relief_kg_per_h));
        PUT("mind", still_json_text_or_null(j, p->mind));
        still_json_add(j, list, o);
    }
    return list;
}

static json_t *items(still_json *j, const still_since_item *list, size_t n)
{
    json_t *array = json_array();
    for (size_t i = 0; i < n; i++) {
        json_t *o = json_object();
        PUT("id", still_json_text(j, list[i].id));
        PUT("was", still_json_strings(j, list[i].was));
        PUT("text", still_json_text(j, list[i].text));
        still_json_add(j, array, o);
    }
    return array;
}

/* As items, for what is named by the older revision: its related segments are those of today. */
static json_t *items_before(still_json *j, const still_since_item *list, size_t n)
{
    json_t *array = json_array();
    for (size_t i = 0; i < n; i++) {
        json_t *o = json_object();
        PUT("id", still_json_text(j, list[i].id));
        PUT("now", still_json_strings(j, list[i].was));
        PUT("text", still_json_text(j, list[i].text));
        still_json_add(j, array, o);
    }
    return array;
}

static json_t *renames(still_json *j, const still_since *s)
{
    json_t *array = json_array();
    for (size_t i = 0; i < s->n_renamed; i++) {
        json_t *o = json_object();
        PUT("from", still_json_text(j, s->renamed[i].from));
        PUT("to", still_json_text(j, s->renamed[i].to));
        PUT("what", still_json_text(j, s->renamed[i].what));
        PUT("guess", json_true());
        still_json_add(j, array, o);
    }
    return array;
}

static json_t *numbers(still_json *j, const still_since *s)
{
    json_t *array = json_array();
    for (size_t i = 0; i < s->n_changed; i++) {
        json_t *o = json_object();
        PUT("id", still_json_text(j, s->changed[i].id));
        PUT("was", still_json_text(j, s->changed[i].was));
        PUT("what", still_json_text(j, s->changed[i].what));
        PUT("before", still_json_number(s->changed[i].before));
        PUT("after", still_json_number(s->changed[i].after));
        still_json_add(j, array, o);
    }
    return array;
}

json_t *still_relief_json_since(still_json *j, const still_coverage_record *r)
{
    const still_since *s = r->since;
    if (s == NULL) return json_null();
    json_t *o = json_object();
    PUT("plant", still_json_text(j, s->plant_id));
    PUT("revision", still_json_text(j, s->plant_revision));
    PUT("digest", still_json_text(j, s->plant_digest));
    PUT("renamed", renames(j, s));
    PUT("new", items(j, s->new_, s->n_new));
    PUT("gone", items_before(j, s->gone, s->n_gone));
    PUT("opened", items(j, s->opened, s->n_opened));
    PUT("closed", items_before(j, s->closed, s->n_closed));
    PUT("moved", items(j, s->moved, s->n_moved));
    PUT("changed", numbers(j, s));
    return o;
}
