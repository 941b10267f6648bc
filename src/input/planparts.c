/* The long lists of a plan record, read back from JSON. */
#include "planjson.h"

#include "given.h"

#include <math.h>
#include <string.h>

/* Begin a list: where it is, how many entries, room for them. @return NULL: none to read */
static void *begin(still_planjson *r, still_place *list, const still_place *at, const char *key,
                   still_need need, size_t size, size_t *n)
{
    *n = 0;
    if (!still_planjson_down(r, list, at, key, JSON_ARRAY, need)) return NULL;
    size_t count = json_array_size(list->value);
    void *items = still_planjson_room(r, count, size);
    if (items != NULL) *n = count;
    return items;
}

static still_action action_of(still_planjson *r, const still_place *at)
{
    const char *text = still_planjson_text(r, at, "action", STILL_MUST, "close");
    for (still_action a = STILL_ACTION_CLOSE; a <= STILL_ACTION_OPEN; a++)
        if (strcmp(still_action_text(a), text) == 0) return a;
    still_planjson_fault(r, at, "action", "is no action");
    return STILL_ACTION_CLOSE;
}

/* What a plan made by hand need not say follows from the action. */
static const char *usual_end(still_action a)
{
    if (a == STILL_ACTION_OPEN) return "open";
    return a == STILL_ACTION_SWITCH_OFF ? "off" : "closed";
}

static void one_point(still_planjson *r, const still_place *at, still_point *t, size_t i)
{
    static const char *const handling[] = {"tag", "from", "to", "hold", "legend"};
    still_action a = action_of(r, at);
    for (size_t k = 0; k < sizeof handling / sizeof handling[0]; k++)
        still_planjson_part(r, at, handling[k], STILL_GIVEN_HANDLING);
    bool barrier = a != STILL_ACTION_OPEN && a != STILL_ACTION_SWITCH_OFF;
    if (barrier) still_planjson_part(r, at, "level", STILL_GIVEN_LEVELS);
    *t = (still_point){.what = "", .place = "", .why = "", .isolator = "", .action = a};
    t->tag = still_planjson_count32(r, at, "tag", STILL_MAY, i + 1);
    t->id = still_planjson_text(r, at, "id", STILL_MUST, "");
    t->from = still_planjson_text(r, at, "from", STILL_MAY, "");
    t->to = still_planjson_text(r, at, "to", STILL_MAY, usual_end(a));
    t->hold = still_planjson_text(r, at, "hold", STILL_MAY, "lock");
    t->legend = still_planjson_text(r, at, "legend", STILL_MAY, "");
    t->level = still_planjson_count32(r, at, "level", STILL_MAY, 0);
    t->counted = still_planjson_bool(r, at, "counted", STILL_MAY, a != STILL_ACTION_OPEN);
    t->assumed_lockable = still_planjson_bool(r, at, "lockable_assumed", STILL_MAY, false);
}

static void sources(still_planjson *r, const still_place *root, still_record *out)
{
    still_place list, at;
    size_t n;
    still_source_inside *items =
        begin(r, &list, root, "sources_inside", STILL_MAY, sizeof *items, &n);
    for (size_t i = 0; i < n; i++) {
        if (!still_planjson_entry(r, &at, &list, i)) continue;
        still_planjson_part(r, &at, "treatment", STILL_GIVEN_TREATMENTS);
        items[i].id = still_planjson_text(r, &at, "id", STILL_MUST, "");
        items[i].treatment = still_planjson_text(r, &at, "treatment", STILL_MAY, "");
    }
    out->sources_inside = items;
    out->n_sources_inside = n;
}

void still_planparts_points(still_planjson *r, const still_place *root, still_record *out)
{
    still_place list, at;
    size_t n;
    still_point *items = begin(r, &list, root, "points", STILL_MUST, sizeof *items, &n);
    for (size_t i = 0; i < n; i++)
        if (still_planjson_entry(r, &at, &list, i)) one_point(r, &at, &items[i], i);
    out->points = items;
    out->n_points = n;
    sources(r, root, out);
}

static void demands(still_planjson *r, const still_place *grade, still_record *out)
{
    still_place list, at;
    size_t n;
    still_demand *items = begin(r, &list, grade, "demands", STILL_MAY, sizeof *items, &n);
    for (size_t i = 0; i < n; i++) {
        if (!still_planjson_entry(r, &at, &list, i)) continue;
        items[i].source = still_planjson_text(r, &at, "source", STILL_MUST, "");
        items[i].grade = still_planjson_text(r, &at, "grade", STILL_MUST, "");
        items[i].row = items[i].because = "";
    }
    out->demands = items;
    out->n_demands = n;
}

void still_planparts_grade(still_planjson *r, const still_place *root, still_record *out)
{
    still_place grade;
    out->grade_required = out->grade_achieved = out->grade_because = out->grade_shortfall = "";
    if (!still_planjson_down(r, &grade, root, "grade", JSON_OBJECT, STILL_MUST)) return;
    still_planjson_part(r, &grade, "required", STILL_GIVEN_REQUIRED);
    still_planjson_part(r, &grade, "because", STILL_GIVEN_REQUIRED);
    out->grade_achieved = still_planjson_text(r, &grade, "achieved", STILL_MUST, "");
    out->grade_required = still_planjson_text(r, &grade, "required", STILL_MAY, "");
    out->grade_because = still_planjson_text(r, &grade, "because", STILL_MAY, "");
    out->grade_shortfall = still_planjson_text(r, &grade, "shortfall", STILL_MAY, "");
    demands(r, &grade, out);
}

/* A list of ways. */
static const still_strings *ways(still_planjson *r, const still_place *at, const char *key,
                                 size_t *n)
{
    still_place list;
    still_strings *items = begin(r, &list, at, key, STILL_MAY, sizeof *items, n);
    for (size_t i = 0; i < *n; i++) {
        const still_place way = {&list, NULL, i, json_array_get(list.value, i)};
        if (json_is_array(way.value))
            items[i] = still_planjson_list(r, &way);
        else
            still_planjson_fault(r, &way, NULL, "is no list");
    }
    return items;
}

void still_planparts_between(still_planjson *r, const still_place *root, still_record *out)
{
    still_place list, at;
    size_t n;
    still_planjson_part(r, root, "between", STILL_GIVEN_BETWEEN);
    still_between *items = begin(r, &list, root, "between", STILL_MAY, sizeof *items, &n);
    for (size_t i = 0; i < n; i++) {
        if (!still_planjson_entry(r, &at, &list, i)) continue;
        items[i].ids = still_planjson_strings(r, &at, "ids", STILL_MUST);
        items[i].bleeds = ways(r, &at, "bleed", &items[i].n_bleeds);
    }
    out->between = items;
    out->n_between = n;
}

/* One layer for each id; none at all for a plain path. */
static const uint32_t *layers(still_planjson *r, const still_place *at, size_t n)
{
    still_place list;
    if (!still_planjson_down(r, &list, at, "layers", JSON_ARRAY, STILL_MAY)) return NULL;
    size_t count = json_array_size(list.value);
    if (count == 0) return NULL;
    uint32_t *items = still_planjson_room(r, n, sizeof *items);
    if (count != n) still_planjson_fault(r, at, "layers", "is not as long as ids");
    for (size_t i = 0; items != NULL && i < n && i < count; i++) {
        const still_place one = {&list, NULL, i, json_array_get(list.value, i)};
        json_int_t layer = json_integer_value(one.value);
        if (json_is_integer(one.value) && layer >= 0 && layer <= 9)
            items[i] = (uint32_t)layer;
        else
            still_planjson_fault(r, &one, NULL, "is no layer");
    }
    return items;
}

void still_planparts_proof(still_planjson *r, const still_place *root, still_record *out)
{
    still_place proof, list, at;
    size_t n = 0;
    out->proof.kind = "";
    if (!still_planjson_down(r, &proof, root, "proof", JSON_OBJECT, STILL_MAY)) {
        r->given &= ~(unsigned)STILL_GIVEN_PROOF;
        return;
    }
    still_proof_path *items = begin(r, &list, &proof, "paths", STILL_MUST, sizeof *items, &n);
    for (size_t i = 0; i < n; i++) {
        if (!still_planjson_entry(r, &at, &list, i)) continue;
        items[i].ids = still_planjson_strings(r, &at, "ids", STILL_MUST);
        items[i].layers = layers(r, &at, items[i].ids.n);
        items[i].point = still_planjson_text(r, &at, "point", STILL_MAY, "");
    }
    out->proof.paths = items;
    out->proof.n_paths = n;
    out->proof.kind = still_planjson_text(r, &proof, "kind", STILL_MUST, "");
    out->proof.feeds = still_planjson_strings(r, &proof, "feeds", STILL_MAY);
    out->proof.bound = still_planjson_count32(r, &proof, "bound", STILL_MUST, 0);
    out->proof.lower_bound = still_planjson_count32(r, &proof, "lower_bound", STILL_MAY, 0);
    out->proof.nodes = still_planjson_count(r, &proof, "nodes", STILL_MAY, INT64_MAX, 0);
    out->proof.complete = still_planjson_bool(r, &proof, "complete", STILL_MAY, false);
}

void still_planparts_obstacle(still_planjson *r, const still_place *root, still_record *out)
{
    still_place o, list, at;
    size_t n = 0;
    out->obstacle.text = out->obstacle.best_grade = "";
    if (!still_planjson_down(r, &o, root, "obstacle", JSON_OBJECT, STILL_MAY)) {
        r->given &= ~(unsigned)STILL_GIVEN_OBSTACLE;
        return;
    }
    still_help *items = begin(r, &list, &o, "would_help", STILL_MAY, sizeof *items, &n);
    for (size_t i = 0; i < n; i++) {
        if (!still_planjson_entry(r, &at, &list, i)) continue;
        items[i].id = still_planjson_text(r, &at, "id", STILL_MUST, "");
        items[i].text = still_planjson_text(r, &at, "text", STILL_MAY, "");
    }
    out->obstacle.would_help = items;
    out->obstacle.n_would_help = n;
    out->obstacle.path = still_planjson_strings(r, &o, "path", STILL_MUST);
    out->obstacle.text = still_planjson_text(r, &o, "text", STILL_MUST, "");
    out->obstacle.best_grade = still_planjson_text(r, &o, "best_grade", STILL_MAY, "none");
    out->obstacle.help_is_set = still_planjson_bool(r, &o, "all_needed", STILL_MAY, false);
}

static void pockets(still_planjson *r, const still_place *room, still_compartment *c)
{
    still_place list, at;
    still_pocket *items = begin(r, &list, room, "pockets", STILL_MAY, sizeof *items, &c->n_pockets);
    for (size_t i = 0; i < c->n_pockets; i++) {
        if (!still_planjson_entry(r, &at, &list, i)) continue;
        items[i].ids = still_planjson_strings(r, &at, "ids", STILL_MUST);
        items[i].volume_m3 = still_planjson_number(r, &at, "volume_m3");
        items[i].mass_kg = still_planjson_number(r, &at, "mass_kg");
        items[i].lowest_m = still_planjson_number(r, &at, "lowest_m");
        items[i].place = still_planjson_text(r, &at, "place", STILL_MAY, "");
        items[i].loosen = still_planjson_text(r, &at, "loosen", STILL_MAY, "");
        items[i].evaporate = still_planjson_text(r, &at, "evaporate", STILL_MAY, "");
        items[i].suction = still_planjson_text(r, &at, "suction", STILL_MAY, "");
        items[i].how = still_planjson_text(r, &at, "how", STILL_MAY, "");
    }
    c->pockets = items;
}

static void let_down(still_planjson *r, const still_place *room, still_compartment *c)
{
    still_place list, at;
    still_letting *items =
        begin(r, &list, room, "let_down", STILL_MAY, sizeof *items, &c->n_let_down);
    for (size_t i = 0; i < c->n_let_down; i++) {
        if (!still_planjson_entry(r, &at, &list, i)) continue;
        items[i].through = still_planjson_text(r, &at, "through", STILL_MUST, "");
        items[i].bore_mm = still_planjson_number(r, &at, "bore_mm");
        items[i].liquid_s = still_planjson_number(r, &at, "liquid_s");
        items[i].vapour_s = still_planjson_number(r, &at, "vapour_s");
        items[i].text = still_planjson_text(r, &at, "text", STILL_MAY, "");
    }
    c->let_down = items;
}

static still_inventory by_phase(still_planjson *r, const still_place *at)
{
    return (still_inventory){
        still_planjson_number(r, at, "liquid_m3"), still_planjson_number(r, at, "vapour_m3"),
        still_planjson_number(r, at, "liquid_kg"), still_planjson_number(r, at, "vapour_kg")};
}

void still_planparts_inventory(still_planjson *r, const still_place *root, still_record *out)
{
    still_place at;
    double unknown = (double)NAN;
    out->inventory = (still_inventory){unknown, unknown, unknown, unknown};
    if (still_planjson_down(r, &at, root, "inventory", JSON_OBJECT, STILL_MAY))
        out->inventory = by_phase(r, &at);
}

void still_planparts_compartments(still_planjson *r, const still_place *root, still_record *out)
{
    still_place list, at;
    size_t n;
    still_planjson_part(r, root, "compartments", STILL_GIVEN_COMPARTMENTS);
    still_compartment *items = begin(r, &list, root, "compartments", STILL_MAY, sizeof *items, &n);
    for (size_t i = 0; i < n; i++) {
        still_compartment *c = &items[i];
        *c = (still_compartment){.where = "inside", .gauge = "", .gauge_via = "", .air_in = ""};
        if (!still_planjson_entry(r, &at, &list, i)) continue;
        c->ids = still_planjson_strings(r, &at, "ids", STILL_MUST);
        c->where = still_planjson_text(r, &at, "where", STILL_MUST, "inside");
        c->liquid = still_planjson_bool(r, &at, "liquid", STILL_MUST, true);
        c->vent = still_planjson_strings(r, &at, "vent", STILL_MUST);
        c->drain = still_planjson_strings(r, &at, "drain", STILL_MUST);
        c->prove = still_planjson_strings(r, &at, "prove", STILL_MUST);
        c->further = ways(r, &at, "further_drains", &c->n_further);
        c->volume_m3 = still_planjson_number(r, &at, "volume_m3");
        c->mass_kg = still_planjson_number(r, &at, "mass_kg");
        c->holds = by_phase(r, &at);
        pockets(r, &at, c);
        c->drainage_shown = still_planjson_bool(r, &at, "drainage_shown", STILL_MAY, false);
        c->not_shown = still_planjson_strings(r, &at, "not_shown", STILL_MAY);
        c->air_in = still_planjson_text(r, &at, "air_in", STILL_MAY, "");
        c->flashes = still_planjson_bool(r, &at, "flashes", STILL_MAY, false);
        let_down(r, &at, c);
    }
    out->compartments = items;
    out->n_compartments = n;
}

void still_planparts_closed_in(still_planjson *r, const still_place *root, still_record *out)
{
    still_place list, at;
    size_t n;
    still_planjson_part(r, root, "closed_in", STILL_GIVEN_CLOSED_IN);
    still_closed_in *items = begin(r, &list, root, "closed_in", STILL_MAY, sizeof *items, &n);
    for (size_t i = 0; i < n; i++) {
        still_closed_in *c = &items[i];
        *c = (still_closed_in){
            .where = "", .state = "", .why = "", .during = "", .design_barg = (double)NAN};
        if (!still_planjson_entry(r, &at, &list, i)) continue;
        c->ids = still_planjson_strings(r, &at, "ids", STILL_MUST);
        c->closed_by = still_planjson_strings(r, &at, "closed_by", STILL_MAY);
        c->covered_by = still_planjson_strings(r, &at, "covered_by", STILL_MAY);
        c->where = still_planjson_text(r, &at, "where", STILL_MUST, "");
        c->state = still_planjson_text(r, &at, "state", STILL_MUST, "");
        still_place during;
        if (!still_planjson_down(r, &during, &at, "during", JSON_OBJECT, STILL_MAY)) continue;
        c->during = still_planjson_text(r, &during, "list", STILL_MUST, "");
        c->from_step = still_planjson_count32(r, &during, "from", STILL_MUST, 0);
        c->until_step = still_planjson_count32(r, &during, "to", STILL_MAY, 0);
    }
    out->closed_in = items;
    out->n_closed_in = n;
}

void still_planparts_found(still_planjson *r, const still_place *state, still_record *out)
{
    still_place list, at;
    size_t n;
    still_found *items = begin(r, &list, state, "found", STILL_MAY, sizeof *items, &n);
    for (size_t i = 0; i < n; i++) {
        items[i] = (still_found){"", "", "", "", ""};
        if (!still_planjson_entry(r, &at, &list, i)) continue;
        items[i].id = still_planjson_text(r, &at, "id", STILL_MUST, "");
        items[i].position = still_planjson_text(r, &at, "position", STILL_MAY, "");
        items[i].condition = still_planjson_text(r, &at, "condition", STILL_MAY, "");
        items[i].contents = still_planjson_text(r, &at, "contents", STILL_MAY, "");
    }
    out->found = items;
    out->n_found = n;
}

static const still_step *steps(still_planjson *r, const still_place *root, const char *key,
                               size_t *n)
{
    still_place list, at, change;
    still_step *items = begin(r, &list, root, key, STILL_MAY, sizeof *items, n);
    for (size_t i = 0; i < *n; i++) {
        still_step *s = &items[i];
        *s = (still_step){.phase = "",
                          .do_text = "",
                          .id = "",
                          .from = "",
                          .to = "",
                          .why = "",
                          .expect = "",
                          .if_not = ""};
        if (!still_planjson_entry(r, &at, &list, i)) continue;
        s->n = still_planjson_count32(r, &at, "n", STILL_MUST, 0);
        s->stage = still_planjson_count32(r, &at, "stage", STILL_MUST, 0);
        s->phase = still_planjson_text(r, &at, "phase", STILL_MUST, "");
        s->do_text = still_planjson_text(r, &at, "do", STILL_MUST, "");
        s->id = still_planjson_text(r, &at, "id", STILL_MAY, "");
        s->tag = still_planjson_count32(r, &at, "tag", STILL_MAY, 0);
        s->why = still_planjson_text(r, &at, "why", STILL_MAY, "");
        s->expect = still_planjson_text(r, &at, "expect", STILL_MAY, "");
        s->if_not = still_planjson_text(r, &at, "if_not", STILL_MAY, "");
        if (!still_planjson_down(r, &change, &at, "change", JSON_OBJECT, STILL_MAY)) continue;
        s->from = still_planjson_text(r, &change, "from", STILL_MUST, "");
        s->to = still_planjson_text(r, &change, "to", STILL_MUST, "");
    }
    return items;
}

void still_planparts_steps(still_planjson *r, const still_place *root, still_record *out)
{
    still_planjson_part(r, root, "steps", STILL_GIVEN_STEPS);
    still_planjson_part(r, root, "restore", STILL_GIVEN_RESTORE);
    out->steps = steps(r, root, "steps", &out->n_steps);
    out->restore = steps(r, root, "restore", &out->n_restore);
    out->first = steps(r, root, "first", &out->n_first);
}

void still_planparts_tests(still_planjson *r, const still_place *root, still_record *out)
{
    still_place o;
    still_tests *t = &out->tests;
    *t = (still_tests){.code = "", .source = ""};
    t->strength_barg = t->tightness_barg = (double)NAN;
    if (!still_planjson_down(r, &o, root, "tests", JSON_OBJECT, STILL_MAY)) {
        r->given &= ~(unsigned)STILL_GIVEN_TESTS;
        return;
    }
    t->strength_barg = still_planjson_number(r, &o, "strength_barg");
    t->tightness_barg = still_planjson_number(r, &o, "tightness_barg");
}

static void findings(still_planjson *r, const still_place *root, still_record *out)
{
    still_place list, at;
    size_t n;
    still_finding *items = begin(r, &list, root, "findings", STILL_MAY, sizeof *items, &n);
    for (size_t i = 0; i < n; i++) {
        still_finding *f = &items[i];
        *f = (still_finding){.rule = "", .id = "", .text = ""};
        if (!still_planjson_entry(r, &at, &list, i)) continue;
        f->rule = still_planjson_text(r, &at, "rule", STILL_MUST, "");
        f->id = still_planjson_text(r, &at, "id", STILL_MUST, "");
        f->text = still_planjson_text(r, &at, "text", STILL_MUST, "");
        f->blocks = still_planjson_bool(r, &at, "blocks", STILL_MUST, true);
        f->acceptable = still_planjson_bool(r, &at, "acceptable", STILL_MUST, false);
        f->accepted = still_planjson_bool(r, &at, "accepted", STILL_MUST, false);
    }
    out->findings = items;
    out->n_findings = n;
}

void still_planparts_remarks(still_planjson *r, const still_place *root, still_record *out)
{
    still_place list, at;
    size_t n;
    still_planjson_part(r, root, "assumptions", STILL_GIVEN_ASSUMPTIONS);
    still_planjson_part(r, root, "findings", STILL_GIVEN_FINDINGS);
    still_planjson_part(r, root, "ready", STILL_GIVEN_FINDINGS);
    still_remark *items = begin(r, &list, root, "assumptions", STILL_MAY, sizeof *items, &n);
    for (size_t i = 0; i < n; i++) {
        items[i] = (still_remark){"", "", ""};
        if (!still_planjson_entry(r, &at, &list, i)) continue;
        items[i].rule = still_planjson_text(r, &at, "rule", STILL_MUST, "");
        items[i].id = still_planjson_text(r, &at, "id", STILL_MUST, "");
        items[i].text = still_planjson_text(r, &at, "text", STILL_MUST, "");
    }
    out->assumptions = items;
    out->n_assumptions = n;
    findings(r, root, out);
}
