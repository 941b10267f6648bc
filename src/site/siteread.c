/* Reading a site file (docs/FORMAT.md, section 2.2).
 *
 *     <site xmlns="urn:stillset:site:1" id="harbour-site">
 *       <hold-time value="15 min"/>
 *       <gas-test substance="ammonia" limit="25 ppm"/>
 *       <evacuation pressure="0.5 kPaa" hold="30 min"/>
 *       <pressure-test code="en-378"/>
 *       <ambient temperature="35 degC"/>
 *       <ppe hazards="H330 H331" wear="full-face mask with filter K"/>
 *     </site>
 *
 * Method: elements in the order of the file; each but gas-test and ppe may stand once. */
#include "site.h"

#include "alloc.h"
#include "policyvalue.h"

#include <math.h>
#include <string.h>

static const still_small_kind kind = {"site", "urn:stillset:site:1", false};
static const double atmosphere_Pa = 101325;

static const still_value_word codes[] = {
    {"en-378", STILL_TEST_CODE_EN_378}, {"asme-b31.5", STILL_TEST_CODE_ASME_B31_5}, {NULL, 0}};

const char *still_test_code_text(still_test_code code)
{
    return code == STILL_TEST_CODE_NOT_SAID ? "" : codes[code - 1].word;
}

typedef struct reading {
    still_small *file;
    still_site *site;
    still_gas_limit *limits;
    still_gear *gear;
} reading;

/* A quantity as it is written, once it is known to be one. */
static const char *written(still_small_value *v, const char *name)
{
    return v->good ? still_value_text(v, name, "") : "";
}

static void take_hold(reading *r, still_small_value *v)
{
    static const char *const known[] = {"value", "note", NULL};
    still_value_known(v, known);
    (void)still_value_required(v, "value");
    r->site->hold_time_s = still_value_quantity(v, "value", STILL_DIM_TIME, NAN);
    r->site->hold_time = written(v, "value");
}

static void take_evacuation(reading *r, still_small_value *v)
{
    static const char *const known[] = {"pressure", "hold", "note", NULL};
    still_value_known(v, known);
    (void)still_value_required(v, "pressure");
    double bara = still_value_quantity(v, "pressure", STILL_DIM_PRESSURE, NAN);
    if (bara * 1e5 >= atmosphere_Pa)
        still_value_fault(v, STILL_CODE_RANGE, "pressure", "is no vacuum");
    r->site->evacuation_Pa = bara * 1e5;
    r->site->evacuation_hold_s = still_value_quantity(v, "hold", STILL_DIM_TIME, NAN);
    r->site->evacuation_hold = written(v, "hold");
}

static void take_ambient(reading *r, still_small_value *v)
{
    static const char *const known[] = {"temperature", "note", NULL};
    still_value_known(v, known);
    (void)still_value_required(v, "temperature");
    (void)still_value_quantity(v, "temperature", STILL_DIM_TEMPERATURE, NAN);
    r->site->ambient = written(v, "temperature");
}

static void take_code(reading *r, still_small_value *v)
{
    static const char *const known[] = {"code", "note", NULL};
    still_value_known(v, known);
    (void)still_value_required(v, "code");
    r->site->code = (still_test_code)still_value_one(v, "code", codes, STILL_TEST_CODE_NOT_SAID);
}

/* A text that has to be there, and to say something. */
static const char *needed(still_small_value *v, const char *name)
{
    const char *value = still_value_required(v, name);
    if (still_small_get(v->element, name) != NULL && value[0] == '\0')
        still_value_fault(v, STILL_CODE_WORD, name, "is empty");
    return still_value_text(v, name, "");
}

static void take_gas(reading *r, still_small_value *v)
{
    static const char *const known[] = {"substance", "limit", "note", NULL};
    still_value_known(v, known);
    still_gas_limit limit = {still_value_text(v, "substance", ""), needed(v, "limit")};
    for (size_t i = 0; i < r->site->n_limits; i++)
        if (strcmp(r->limits[i].substance, limit.substance) == 0)
            still_report_add(r->file->report, STILL_CODE_SAID_TWICE, v->element->tag, "substance",
                             NULL, "a limit for this substance stands here twice");
    r->limits[r->site->n_limits++] = limit;
}

static void take_gear(reading *r, still_small_value *v)
{
    static const char *const known[] = {"hazards", "asphyxiant", "above", "below",
                                        "wear",    "note",       NULL};
    static const still_value_word yes[] = {{"yes", 1}, {NULL, 0}};
    bool none;
    still_value_known(v, known);
    still_gear g = {.hazards = still_value_hazards(v, "hazards", &none),
                    .asphyxiant = still_value_one(v, "asphyxiant", yes, 0) != 0,
                    .above_K = still_value_quantity(v, "above", STILL_DIM_TEMPERATURE, NAN),
                    .below_K = still_value_quantity(v, "below", STILL_DIM_TEMPERATURE, NAN),
                    .wear = needed(v, "wear")};
    if (none)
        still_value_fault(v, STILL_CODE_HAZARD, "hazards", "names no hazard that gear is for");
    else if (v->good && g.hazards[0] == '\0' && !g.asphyxiant && isnan(g.above_K) &&
             isnan(g.below_K))
        still_report_add(r->file->report, STILL_CODE_MISSING, v->element->tag, NULL, NULL,
                         "ppe has none of \"hazards\", \"asphyxiant\", \"above\" and \"below\"");
    r->gear[r->site->n_gear++] = g;
}

static void take_root(reading *r)
{
    static const char *const known[] = {"id", "name", "checklists", "note", NULL};
    still_small_value v = {r->file, &r->file->elements[0], true};
    still_value_known(&v, known);
    r->site->id = still_value_id(&v);
    if (still_small_get(v.element, "checklists") != NULL)
        r->site->checklists = needed(&v, "checklists");
}

static bool take_elements(reading *r)
{
    static const struct {
        const char *name;
        void (*take)(reading *r, still_small_value *v);
        bool many;
    } elements[] = {{"hold-time", take_hold, false},     {"evacuation", take_evacuation, false},
                    {"pressure-test", take_code, false}, {"ambient", take_ambient, false},
                    {"gas-test", take_gas, true},        {"ppe", take_gear, true}};
    enum { N = sizeof elements / sizeof elements[0] };
    const still_small_element *all = r->file->elements;
    bool seen[N] = {false};
    r->limits = STILL_ARENA_NEW(&r->file->arena, r->file->n, still_gas_limit);
    r->gear = STILL_ARENA_NEW(&r->file->arena, r->file->n, still_gear);
    if (r->limits == NULL || r->gear == NULL) return false;
    take_root(r);
    for (uint32_t i = 1; i < r->file->n; i++) {
        still_small_value v = {r->file, &all[i], true};
        size_t k = 0;
        while (k < N && strcmp(all[i].name, elements[k].name) != 0) k++;
        if (all[i].parent != 0 || k == N) {
            still_report_add(r->file->report, STILL_CODE_ELEMENT, all[i].tag, NULL, NULL,
                             "element \"%.80s\" is unknown or cannot stand here", all[i].name);
            continue;
        }
        if (seen[k] && !elements[k].many)
            still_report_add(r->file->report, STILL_CODE_SAID_TWICE, all[i].tag, NULL, NULL,
                             "\"%s\" stands here twice", all[i].name);
        seen[k] = true;
        elements[k].take(r, &v);
    }
    r->site->limits = r->limits;
    r->site->gear = r->gear;
    return true;
}

/* Texts of what was read lie in the file's arena, which the site takes over. */
static still_status finish(still_site **out, still_small *file, still_status status,
                           still_diags *diags)
{
    reading r = {.file = file, .site = still_calloc(1, sizeof *r.site)};
    if (r.site == NULL) {
        status = STILL_E_NOMEM;
    } else {
        r.site->id = r.site->checklists = r.site->hold_time = "";
        r.site->evacuation_hold = r.site->ambient = "";
        r.site->hold_time_s = r.site->evacuation_Pa = r.site->evacuation_hold_s = (double)NAN;
        still_arena_init(&r.site->arena);
        if (status == STILL_OK && !take_elements(&r)) status = STILL_E_NOMEM;
        if (status == STILL_OK) {
            memcpy(r.site->digest, file->digest, sizeof r.site->digest);
            r.site->arena = file->arena;
            still_arena_init(&file->arena);
        }
    }
    still_status closed = still_small_close(file, diags);
    if (status == STILL_OK || closed == STILL_E_NOMEM) status = closed;
    if (status == STILL_OK)
        *out = r.site;
    else
        still_site_free(r.site);
    return status;
}

still_status still_site_read(still_site **out, const char *path, still_diags *diags)
{
    still_small file;
    still_status status = still_small_read(&file, path, &kind);
    return finish(out, &file, status, diags);
}

still_status still_site_read_memory(still_site **out, const char *name, const void *bytes,
                                    size_t len, still_diags *diags)
{
    still_small file;
    still_status status = still_small_read_memory(&file, name, bytes, len, &kind);
    return finish(out, &file, status, diags);
}

void still_site_free(still_site *site)
{
    if (site == NULL) return;
    still_arena_clear(&site->arena);
    still_free(site);
}

const char *still_site_gas_limit(const still_site *site, const char *substance)
{
    const char *any = "";
    for (size_t i = 0; site != NULL && i < site->n_limits; i++) {
        if (strcmp(site->limits[i].substance, substance) == 0) return site->limits[i].limit;
        if (site->limits[i].substance[0] == '\0') any = site->limits[i].limit;
    }
    return any;
}

const char *still_site_beside(still_arena *arena, const char *site_path, const char *name)
{
    const char *end = strrchr(site_path, '/');
    if (name[0] == '/' || end == NULL) return still_arena_str(arena, name);
    return still_arena_printf(arena, "%.*s/%s", (int)(end - site_path), site_path, name);
}
