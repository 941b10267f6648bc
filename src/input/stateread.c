/* Reading a state file (docs/FORMAT.md, section 2).
 *
 *     <state plant="harbour-3">
 *       <at id="HV-1" position="closed" condition="passing"/>
 *       <at id="V-1" contents="none"/>
 *     </state>
 *
 * Method: elements in the order of the file; each `at` is looked up in the plant, and what it says
 * is taken only where the component can have it. What is not said stays as in the plant file. */
#include "stateread.h"

#include "alloc.h"
#include "smallvalue.h"

#include <stdio.h>
#include <string.h>

static const still_small_kind kind = {"state", "urn:stillset:plant:1", true};

typedef struct reading {
    still_small *file;
    const still_plant *plant;
    still_state *state;
    still_status status;
} reading;

/* A word of a vocabulary of the plant file; 0 = not said, or wrong, which is reported. */
static uint8_t word_of(still_small_value *v, const char *name, still_vocabulary vocabulary)
{
    const char *text = still_small_get(v->element, name);
    if (text == NULL) return 0;
    unsigned value = still_word_value(vocabulary, text, strlen(text));
    if (value == 0) still_value_fault_word(v, name, vocabulary);
    return (uint8_t)value;
}

/* Moves by itself, so that nobody finds it in a position that lasts. */
static bool self_acting(unsigned of)
{
    return of == STILL_KIND_CHECK || of == STILL_KIND_RELIEF || of == STILL_KIND_REGULATOR ||
           of == STILL_KIND_RUPTURE_DISC || of == STILL_KIND_FLOAT ||
           of == STILL_KIND_EXCESS_FLOW || of == STILL_KIND_SELF_CLOSING;
}

/* Is it one of the positions that a three-way valve declares? */
static bool declared(const still_plant *plant, uint32_t comp, const char *way)
{
    size_t n = strlen(way);
    const char *at = still_comp_t(plant, comp, STILL_T_POSITIONS);
    while (n > 0 && *at != '\0') {
        size_t len = strcspn(at, " ");
        if (len == n && memcmp(at, way, n) == 0) return true;
        at += len + strspn(at + len, " ");
    }
    return false;
}

/* A three-way valve stands in one of its ways, "a-c", or it is not known in which. */
static void take_way(still_small_value *v, const reading *r, still_state_item *at)
{
    const char *text = still_small_get(v->element, "position");
    unsigned way = still_way_value(text, strlen(text));
    if (strcmp(text, still_word(STILL_VOC_still_position, STILL_POSITION_UNKNOWN)) == 0)
        at->position = STILL_POSITION_UNKNOWN;
    else if (declared(r->plant, at->comp, still_way_text(way)))
        at->way = (uint8_t)way;
    else
        still_value_fault(v, STILL_CODE_POSITION, "position",
                          "is not among the positions of this valve");
}

static void take_position(still_small_value *v, const reading *r, still_state_item *at)
{
    const still_comp *c = &r->plant->comps[at->comp];
    bool valve = c->cls == STILL_CLASS_VALVE;
    if (still_small_get(v->element, "position") == NULL) return;
    if (!valve && c->cls != STILL_CLASS_BLIND) {
        still_value_fault(v, STILL_CODE_REFERENCE_KIND, "position",
                          "is said of what is no valve and no blind");
        return;
    }
    if (valve && c->kind == STILL_KIND_THREE_WAY) {
        take_way(v, r, at);
        return;
    }
    uint8_t position = word_of(v, "position", STILL_VOC_still_position);
    if (!valve && position == STILL_POSITION_THROTTLED)
        still_value_fault(v, STILL_CODE_POSITION, "position", "is not a position of a blind");
    else if (position != 0 && valve && self_acting(c->kind))
        still_report_add(r->file->report, STILL_CODE_POSITION_IGNORED, v->element->tag, "position",
                         still_id_of(r->plant, at->comp),
                         "a self-acting device has no position that lasts: it is ignored");
    else
        at->position = position;
}

/* Can be with or without energy: it has a feed, or is of a class that may need one. */
static bool takes_energy(const still_plant *plant, uint32_t comp)
{
    size_t n = 0;
    unsigned cls = plant->comps[comp].cls;
    (void)still_comp_feeds(plant, comp, &n);
    return n > 0 || cls == STILL_CLASS_PUMP || cls == STILL_CLASS_COMPRESSOR ||
           cls == STILL_CLASS_VALVE || cls == STILL_CLASS_VESSEL || cls == STILL_CLASS_EXCHANGER;
}

static void take_facts(still_small_value *v, const reading *r, still_state_item *at)
{
    const still_comp *c = &r->plant->comps[at->comp];
    take_position(v, r, at);
    at->condition = word_of(v, "condition", STILL_VOC_still_condition);
    at->contents = word_of(v, "contents", STILL_VOC_still_contents);
    at->energised = word_of(v, "energised", STILL_VOC_still_yesno);
    if (at->condition != 0 && c->cls != STILL_CLASS_VALVE)
        still_value_fault(v, STILL_CODE_REFERENCE_KIND, "condition", "is said of what is no valve");
    if (at->contents != 0 && c->cls != STILL_CLASS_VESSEL)
        still_value_fault(v, STILL_CODE_REFERENCE_KIND, "contents", "is said of what is no vessel");
    if (at->energised != 0 && !takes_energy(r->plant, at->comp))
        still_value_fault(v, STILL_CODE_REFERENCE_KIND, "energised",
                          "is said of what takes no energy");
}

/* Ids are kept as they stand in the plant; one that it lacks may be one of its feeds or gauges. */
static void no_component(still_small_value *v, const reading *r, const char *id)
{
    bool feed = false;
    for (uint32_t i = 0; i < r->plant->n_feeds; i++)
        feed = feed || strcmp(still_text(r->plant, r->plant->feeds[i].id), id) == 0;
    char nearest[300], text[360];
    still_plant_near(nearest, sizeof nearest, r->plant, id);
    snprintf(text, sizeof text, "is no component of the plant%s", nearest);
    still_value_fault(v, feed ? STILL_CODE_REFERENCE_KIND : STILL_CODE_REFERENCE, "id",
                      feed ? "is a feed: say energised of what it supplies" : text);
}

static void take_at(reading *r, uint32_t number)
{
    static const char *const known[] = {"id",   "position", "condition", "contents", "energised",
                                        "name", "place",    "note",      "drawing",  NULL};
    still_small_value v = {r->file, &r->file->elements[number], true};
    still_value_known(&v, known);
    const char *id = still_value_id(&v);
    if (id[0] == '\0' || !v.good) return;
    uint32_t comp = still_plant_find(r->plant, id).v;
    if (comp == STILL_NONE) {
        no_component(&v, r, id);
        return;
    }
    size_t before = r->state->n;
    still_state_item *at = still_state_at(r->state, comp);
    if (at == NULL)
        r->status = STILL_E_NOMEM;
    else if (r->state->n == before)
        still_report_add(r->file->report, STILL_CODE_ID_TWICE, v.element->tag, "id", id,
                         "\"%.80s\" stands here twice", id);
    else
        take_facts(&v, r, at);
}

static void take_root(reading *r)
{
    static const char *const known[] = {"plant", "name", "place", "note", "drawing", NULL};
    still_small_value v = {r->file, &r->file->elements[0], true};
    const char *own = still_text(r->plant, r->plant->id);
    still_value_known(&v, known);
    const char *plant = still_value_required(&v, "plant");
    if (plant[0] == '\0' && !v.good) return;
    if (strcmp(plant, own) != 0)
        still_report_add(r->file->report, STILL_CODE_OTHER_PLANT, v.element->tag, "plant", NULL,
                         "it is the state of plant \"%.80s\"; the plant file is of \"%.80s\"",
                         plant, own);
}

static void take_elements(reading *r)
{
    const still_small_element *all = r->file->elements;
    take_root(r);
    for (uint32_t i = 1; i < r->file->n && r->status == STILL_OK; i++) {
        if (all[i].parent == 0 && strcmp(all[i].name, "at") == 0)
            take_at(r, i);
        else if (all[i].parent == 0 || strcmp(all[all[i].parent].name, "at") == 0)
            still_report_add(r->file->report, STILL_CODE_ELEMENT, all[i].tag, NULL, NULL,
                             "element \"%.80s\" is unknown or cannot stand here", all[i].name);
    }
}

/* What both ways of reading share; closes the file. */
static still_status finish(still_state **out, const still_plant *plant, still_small *file,
                           still_status status, still_diags *diags)
{
    reading r = {file, plant, still_state_new(), STILL_OK};
    if (r.state == NULL) {
        status = STILL_E_NOMEM;
    } else if (status == STILL_OK) {
        take_elements(&r);
        memcpy(r.state->digest, file->digest, sizeof r.state->digest);
        status = r.status;
    }
    still_status closed = still_small_close(file, diags);
    if (status == STILL_OK || closed == STILL_E_NOMEM) status = closed;
    if (status == STILL_OK)
        *out = r.state;
    else
        still_state_free(r.state);
    return status;
}

still_status still_read_state(still_state **out, const still_plant *plant, const char *path,
                              still_diags *diags)
{
    still_small file;
    still_status status = still_small_read(&file, path, &kind);
    return finish(out, plant, &file, status, diags);
}

still_status still_read_state_memory(still_state **out, const still_plant *plant, const char *name,
                                     const void *bytes, size_t len, still_diags *diags)
{
    still_small file;
    still_status status = still_small_read_memory(&file, name, bytes, len, &kind);
    return finish(out, plant, &file, status, diags);
}
