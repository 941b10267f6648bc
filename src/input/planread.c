/* Reading a plan record back from JSON.
 *
 * Format: docs/plan.schema.json, of which only target, grade.achieved and points are needed. A key
 * that is there must be of its type; a list that is there must be whole. What is not there leaves
 * its bit of `given` unset, so that nothing is taken for said that is not. */
#include "planread.h"

#include "alloc.h"
#include "diags.h"
#include "planjson.h"
#include "source.h"
#include "strbuf.h"

#include <errno.h>
#include <math.h>
#include <string.h>

enum { MOST_BYTES = 256 * 1024 * 1024 };

static void head(still_planjson *r, const still_place *root, still_record *out)
{
    still_place o;
    const char *format = still_planjson_text(r, root, "format", STILL_MAY, "stillset-plan-1");
    if (strcmp(format, "stillset-plan-1") != 0)
        still_planjson_fault(r, root, "format", "is not stillset-plan-1");
    out->program = out->version = out->plant_id = out->plant_digest = "";
    out->plant_name = out->plant_revision = out->plant_file = "";
    bool plant = still_planjson_down(r, &o, root, "plant", JSON_OBJECT, STILL_MAY);
    if (plant) out->plant_id = still_planjson_text(r, &o, "id", STILL_MAY, "");
    if (plant) out->plant_digest = still_planjson_text(r, &o, "digest", STILL_MAY, "");
    if (!plant || !still_planjson_has(&o, "id")) r->given &= ~(unsigned)STILL_GIVEN_PLANT_ID;
    if (!plant || !still_planjson_has(&o, "digest")) r->given &= ~(unsigned)STILL_GIVEN_DIGEST;
    if (still_planjson_down(r, &o, root, "program", JSON_OBJECT, STILL_MAY)) {
        out->program = still_planjson_text(r, &o, "name", STILL_MAY, "");
        out->version = still_planjson_text(r, &o, "version", STILL_MAY, "");
    }
}

static void asked(still_planjson *r, const still_place *root, still_record *out)
{
    still_place o;
    out->option_grade = out->option_work = "";
    out->option_ambient_degC = (double)NAN;
    if (still_planjson_down(r, &o, root, "options", JSON_OBJECT, STILL_MAY)) {
        out->option_grade = still_planjson_text(r, &o, "grade", STILL_MAY, "");
        out->option_work = still_planjson_text(r, &o, "work", STILL_MAY, "");
        out->option_accept = still_planjson_strings(r, &o, "accept", STILL_MAY);
        out->option_avoid = still_planjson_strings(r, &o, "avoid", STILL_MAY);
        out->option_keep = still_planjson_strings(r, &o, "keep", STILL_MAY);
        out->option_ambient_degC = still_planjson_number(r, &o, "ambient_degC");
    }
    out->state_digest = out->policy_id = out->policy_digest = "";
    out->site_id = out->site_digest = out->checklists_id = out->checklists_digest = "";
    if (still_planjson_down(r, &o, root, "state", JSON_OBJECT, STILL_MAY)) {
        out->state_digest = still_planjson_text(r, &o, "digest", STILL_MAY, "");
        still_planparts_found(r, &o, out);
    }
    out->goes_on = still_planjson_down(r, &o, root, "before", JSON_OBJECT, STILL_MAY);
    if (still_planjson_down(r, &o, root, "policy", JSON_OBJECT, STILL_MAY)) {
        out->policy_id = still_planjson_text(r, &o, "id", STILL_MAY, "");
        out->policy_digest = still_planjson_text(r, &o, "digest", STILL_MAY, "");
    }
    if (still_planjson_down(r, &o, root, "site", JSON_OBJECT, STILL_MAY)) {
        out->site_id = still_planjson_text(r, &o, "id", STILL_MAY, "");
        out->site_digest = still_planjson_text(r, &o, "digest", STILL_MAY, "");
    }
    if (still_planjson_down(r, &o, root, "checklists", JSON_OBJECT, STILL_MAY)) {
        out->checklists_id = still_planjson_text(r, &o, "id", STILL_MAY, "");
        out->checklists_digest = still_planjson_text(r, &o, "digest", STILL_MAY, "");
    }
}

static const still_position_of *positions(still_planjson *r, const still_place *root,
                                          const char *key, unsigned bit, size_t *n)
{
    still_place o;
    *n = 0;
    if (!still_planjson_down(r, &o, root, key, JSON_OBJECT, STILL_MAY)) {
        r->given &= ~bit;
        return NULL;
    }
    still_position_of *items = still_planjson_room(r, json_object_size(o.value), sizeof *items);
    for (void *it = json_object_iter(o.value); it != NULL && items != NULL;
         it = json_object_iter_next(o.value, it)) {
        const char *id = still_arena_str(r->arena, json_object_iter_key(it));
        if (id == NULL) r->status = STILL_E_NOMEM;
        items[*n].id = id == NULL ? "" : id;
        items[(*n)++].position =
            still_planjson_text(r, &o, json_object_iter_key(it), STILL_MUST, "");
    }
    return items;
}

static void answer(still_planjson *r, const still_place *root, still_record *out)
{
    still_place cost;
    out->start = positions(r, root, "start", STILL_GIVEN_START, &out->n_start);
    out->end = positions(r, root, "end", STILL_GIVEN_END, &out->n_end);
    out->targets = still_planjson_strings(r, root, "target", STILL_MUST);
    out->target_what = out->target_place = "";
    still_planjson_part(r, root, "work", STILL_GIVEN_WORK);
    out->work = still_planjson_text(r, root, "work", STILL_MAY, "open");
    out->feasible = still_planjson_bool(r, root, "feasible", STILL_MAY, true);
    out->ready = still_planjson_bool(r, root, "ready", STILL_MAY, false);
    out->cost_mass_kg = (double)NAN;
    if (still_planjson_down(r, &cost, root, "cost", JSON_OBJECT, STILL_MAY)) {
        out->cost_sources = still_planjson_count32(r, &cost, "sources", STILL_MUST, 0);
        out->cost_points = still_planjson_count32(r, &cost, "points", STILL_MUST, 0);
        out->cost_mass_kg = still_planjson_number(r, &cost, "mass_kg");
    } else {
        r->given &= ~(unsigned)STILL_GIVEN_COST;
    }
    still_planjson_part(r, root, "inside", STILL_GIVEN_INSIDE);
    out->inside = still_planjson_strings(r, root, "inside", STILL_MAY);
}

static void whole(still_planjson *r, const still_place *root, still_record *out)
{
    head(r, root, out);
    asked(r, root, out);
    answer(r, root, out);
    still_planparts_grade(r, root, out);
    still_planparts_points(r, root, out);
    still_planparts_between(r, root, out);
    still_planparts_proof(r, root, out);
    still_planparts_obstacle(r, root, out);
    still_planparts_compartments(r, root, out);
    still_planparts_inventory(r, root, out);
    still_planparts_closed_in(r, root, out);
    still_planparts_steps(r, root, out);
    still_planparts_tests(r, root, out);
    still_planparts_remarks(r, root, out);
    /* A proof is one of the number of points. */
    if (!(r->given & STILL_GIVEN_COST)) r->given &= ~(unsigned)STILL_GIVEN_PROOF;
}

still_status still_read_plan_memory(still_record *out, unsigned *given, still_arena *arena,
                                    const char *name, const void *bytes, size_t len,
                                    still_diags *diags)
{
    json_error_t error;
    still_planjson r = {arena, diags, name, STILL_OK, STILL_GIVEN_ALL};
    if (len > MOST_BYTES) return STILL_E_LIMIT;
    json_t *root = json_loadb(bytes, len, JSON_REJECT_DUPLICATES, &error);
    if (root == NULL) {
        if (json_error_code(&error) == json_error_out_of_memory) return STILL_E_NOMEM;
        still_diags_add(diags, STILL_SEV_ERROR, "STILL-PLAN", name,
                        error.line > 0 ? (uint32_t)error.line : 0,
                        error.column > 0 ? (uint32_t)error.column : 0, "", NULL, "%s", error.text);
        return STILL_E_INPUT;
    }
    still_record record = {0};
    const still_place at = {NULL, NULL, 0, root};
    if (json_is_object(root))
        whole(&r, &at, &record);
    else
        still_planjson_fault(&r, &at, NULL, "is no object");
    json_decref(root);
    if (r.status != STILL_OK) return r.status;
    *out = record;
    *given = r.given;
    return STILL_OK;
}

static still_status slurp(still_buf *buf, still_source *source)
{
    enum { CHUNK = 64 * 1024 };
    char *chunk = still_malloc(CHUNK);
    ptrdiff_t n = -1;
    if (chunk == NULL) return STILL_E_NOMEM;
    while (buf->len <= MOST_BYTES && !buf->failed &&
           (n = still_source_next(source, chunk, CHUNK)) > 0)
        still_buf_addn(buf, chunk, (size_t)n);
    still_free(chunk);
    if (buf->failed) return STILL_E_NOMEM;
    if (buf->len > MOST_BYTES) return STILL_E_LIMIT;
    return n < 0 ? STILL_E_IO : STILL_OK;
}

still_status still_read_plan(still_record *out, unsigned *given, still_arena *arena,
                             const char *path, still_diags *diags)
{
    still_buf buf = STILL_BUF_INIT;
    still_source *source = still_source_open(path);
    still_status status = source != NULL || errno != ENOMEM ? STILL_E_IO : STILL_E_NOMEM;
    if (source != NULL) status = slurp(&buf, source);
    int why = errno;
    char text[100] = "";
    still_source_free(source);
    if (status == STILL_E_IO && strerror_r(why, text, sizeof text) == 0)
        still_diags_add(diags, STILL_SEV_ERROR, "STILL-PLAN", path, 0, 0, "", NULL,
                        "cannot be read: %s", text);
    if (status == STILL_E_LIMIT)
        still_diags_add(diags, STILL_SEV_ERROR, "STILL-PLAN", path, 0, 0, "", NULL,
                        "is larger than 256 MiB");
    if (status == STILL_OK)
        status = still_read_plan_memory(out, given, arena, path, buf.text == NULL ? "" : buf.text,
                                        buf.len, diags);
    still_buf_clear(&buf);
    return status;
}
