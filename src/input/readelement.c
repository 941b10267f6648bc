/* Elements into the arrays of the plant. Services, ports and references are still names here. */
#include "reader.h"

#include "alloc.h"

#include <string.h>

#define HAS(name) still_reader_has(r, STILL_ATTR_##name)
#define TEXT(name) (HAS(name) ? r->text[STILL_ATTR_##name] : (still_name){0})
#define Q(name) (HAS(name) ? r->q[STILL_ATTR_##name] : (double)NAN)
#define WORD(name) ((uint8_t)(HAS(name) ? r->word[STILL_ATTR_##name] : 0))

still_status still_reader_init(still_reader *r, const char *file, still_source *source)
{
    memset(r, 0, sizeof *r);
    r->comp = r->side = STILL_NONE;
    r->plant = still_plant_new();
    r->report = still_report_new(file, source);
    if (r->plant != NULL) r->plant->file = still_strndup(file, strlen(file));
    if (r->plant != NULL && r->plant->file != NULL && r->report != NULL) return STILL_OK;
    still_reader_clear(r);
    return STILL_E_NOMEM;
}

void still_reader_clear(still_reader *r)
{
    still_plant_free(r->plant);
    still_report_free(r->report);
    still_free(r->listed);
    still_free(r->ends);
    still_free(r->odd_ends);
    still_free(r->owner);
    still_free(r->fact_slots);
    still_free(r->scratch);
    memset(r, 0, sizeof *r);
}

/* Room for one more item; the items of a plant are numbered below 2^29. */
static bool room(still_reader *r, void *items, size_t *cap, uint32_t n, size_t size)
{
    if (n < STILL_OWNER_INDEX && still_grow(items, cap, (size_t)n + 1, size)) return true;
    r->status = n < STILL_OWNER_INDEX ? STILL_E_NOMEM : STILL_E_LIMIT;
    return false;
}

/* Enter an id; a second use is reported and does not replace the first. */
static void own(still_reader *r, still_owner owner, uint32_t index)
{
    still_name id = TEXT(ID);
    if (id.v == 0) return;
    if (id.v >= r->n_owner) {
        if (!still_grow(&r->owner, &r->cap_owner, (size_t)id.v + 1, sizeof r->owner[0])) {
            r->status = STILL_E_NOMEM;
            return;
        }
        memset(r->owner + r->n_owner, 0xFF, (id.v + 1 - r->n_owner) * sizeof r->owner[0]);
        r->n_owner = (size_t)id.v + 1;
    }
    if (r->owner[id.v] != STILL_NONE)
        still_reader_fault(r, STILL_CODE_ID_TWICE, STILL_ATTR_ID, "this id is used before");
    else
        r->owner[id.v] = (uint32_t)owner << STILL_OWNER_SHIFT | index;
}

static void add_q(still_reader *r, still_q what, double value)
{
    still_reader_fact(r, (unsigned)what, value);
}

static void add_t(still_reader *r, still_t what, still_name value)
{
    if (value.v != 0) still_reader_fact(r, STILL_Q_COUNT + (unsigned)what, (double)value.v);
}

static void add_size(still_reader *r)
{
    double bore, wall;
    if (!HAS(BORE) && !HAS(WALL) && !HAS(SCHEDULE)) return;
    still_reader_size(r, &bore, &wall);
    if (!isnan(bore)) {
        const still_raw *raw = &r->raw[STILL_ATTR_BORE];
        still_name size;
        if (!still_names_add(&r->plant->names, raw->p, raw->len, &size)) r->status = STILL_E_NOMEM;
        if (r->status != STILL_OK) return;
        add_q(r, STILL_Q_BORE_MM, bore);
        add_t(r, STILL_T_SIZE, size);
    }
    if (!isnan(wall) && r->elem == STILL_ELEM_SPOOL) add_q(r, STILL_Q_WALL_MM, wall);
}

#define FITS(name, field, bits, count) static_assert((count) <= 1 << (bits), #field);
STILL_COMP_WORD_TABLE(FITS)
static_assert(STILL_KIND_COUNT <= 64 && STILL_POSITION_COUNT <= 8 && STILL_CLASS_COUNT <= 16 &&
                  STILL_ENDS_COUNT <= 4,
              "the fields of still_comp are wide enough");

static void set_word(still_comp *c, unsigned attr, unsigned word)
{
#define SET(name, field, bits, count)                                                              \
    case STILL_ATTR_##name: c->field = word & ((1u << (bits)) - 1u); break;
    switch (attr) {
        STILL_COMP_WORD_TABLE(SET)
    default: break;
    }
#undef SET
}

/* Quantities, texts and words that a component keeps as they are. */
static void add_facts(still_reader *r, still_comp *c)
{
    still_attr_set todo = r->ok;
    while (todo != 0) {
        still_attr a = still_reader_next(&todo);
        const still_attr_info *info = still_attr_of(a);
        if (info->how == STILL_VALUE_WORD)
            set_word(c, a, r->word[a]);
        else if (info->how == STILL_VALUE_QUANTITY && info->q < STILL_Q_COUNT)
            add_q(r, (still_q)info->q, r->q[a]);
        else if (info->how == STILL_VALUE_TEXT && info->t < STILL_T_COUNT)
            add_t(r, (still_t)info->t, r->text[a]);
    }
    if (HAS(FILL)) add_q(r, STILL_Q_FILL, r->q[STILL_ATTR_FILL]);
    if (HAS(POISSON)) add_q(r, STILL_Q_POISSON, r->q[STILL_ATTR_POISSON]);
    if (HAS(SHAPE)) add_q(r, STILL_Q_SHAPE, r->word[STILL_ATTR_SHAPE]);
    if (HAS(HEADS)) add_q(r, STILL_Q_HEADS, r->word[STILL_ATTR_HEADS]);
    if (HAS(SHEET)) {
        add_q(r, STILL_Q_SHEET_X, r->sheet[0]);
        add_q(r, STILL_Q_SHEET_Y, r->sheet[1]);
    }
    if (still_elem_of(r->elem)->vocabulary == STILL_VOC_COUNT) {
        add_t(r, STILL_T_KIND, TEXT(KIND));
    } else {
        c->kind = WORD(KIND) & 63u;
        c->position = WORD(POSITION) & 7u;
        c->normal = WORD(NORMAL) & 7u;
        add_t(r, STILL_T_POSITIONS, TEXT(POSITIONS));
        add_t(r, STILL_T_POSITION, TEXT(POSITION));
        add_t(r, STILL_T_NORMAL, TEXT(NORMAL));
    }
    add_size(r);
}

/* @return name of the component at that end. */
static uint32_t add_end(still_reader *r, int which)
{
    bool has = which == 0 ? HAS(FROM) : HAS(TO);
    still_end end = has ? r->port_ref[which] : (still_end){{0}, {0}};
    bool odd = end.port.v >= STILL_END_ODD;
    if (!room(r, &r->ends, &r->cap_ends, r->n_ends, sizeof r->ends[0]) ||
        (odd && !room(r, &r->odd_ends, &r->cap_odd_ends, r->n_odd_ends, sizeof r->odd_ends[0])))
        return 0;
    r->ends[r->n_ends++] = odd ? STILL_END_ODD : (uint8_t)end.port.v;
    if (odd) r->odd_ends[r->n_odd_ends++] = end.port;
    return end.comp.v;
}

static void add_comp(still_reader *r)
{
    still_plant *p = r->plant;
    if (!room(r, &p->comps, &r->cap_comps, p->n_comps, sizeof p->comps[0])) return;
    still_comp c = {.id = TEXT(ID), .src = r->tag};
    uint32_t run = p->n_facts;
    c.cls = (unsigned)r->elem & 15u;
    c.service = TEXT(SERVICE).v;
    c.feeds_complete = HAS(FEEDS);
    add_facts(r, &c);
    c.facts = still_reader_facts_end(r, run);
    if (r->elem == STILL_ELEM_SPOOL) {
        if (HAS(ENDS)) {
            c.end_from = r->ends_said[0] & 3u;
            c.end_to = r->ends_said[1] & 3u;
        }
        c.a = add_end(r, 0);
        c.b = add_end(r, 1);
    } else {
        c.a = r->n_listed;
    }
    if (r->status != STILL_OK) return;
    r->comp = p->n_comps;
    r->side = STILL_NONE;
    p->comps[p->n_comps++] = c;
    own(r, STILL_OWNER_COMP, r->comp);
}

static void add_port(still_reader *r)
{
    still_comp *c = &r->plant->comps[r->comp];
    if (!room(r, &r->listed, &r->cap_listed, r->n_listed, sizeof r->listed[0])) return;
    r->listed[r->n_listed++] = (still_listed){
        .name = TEXT(ID), .side = r->side, .src = r->tag, .elevation_m = (float)Q(ELEVATION)};
    c->b++;
}

static void add_side(still_reader *r)
{
    still_plant *p = r->plant;
    r->side = p->n_sides;
    for (uint32_t i = p->n_sides; i > 0 && p->sides[i - 1].comp == r->comp && HAS(ID); i--)
        if (p->sides[i - 1].id.v == TEXT(ID).v) {
            still_reader_fault(r, STILL_CODE_ID_TWICE, STILL_ATTR_ID,
                               "exchanger \"%.80s\" has such a side already",
                               still_id_of(p, r->comp));
            break;
        }
    if (!room(r, &p->sides, &r->cap_sides, p->n_sides, sizeof p->sides[0])) return;
    p->sides[p->n_sides++] = (still_side){.id = TEXT(ID),
                                          .comp = r->comp,
                                          .src = r->tag,
                                          .service = TEXT(SERVICE).v,
                                          .contents = WORD(CONTENTS),
                                          .volume_m3 = Q(VOLUME),
                                          .fill = Q(FILL),
                                          .design_pressure_bara = Q(DESIGN_PRESSURE),
                                          .bottom_m = Q(BOTTOM)};
}

static void add_service(still_reader *r)
{
    still_plant *p = r->plant;
    if (!room(r, &p->services, &r->cap_services, p->n_services, sizeof p->services[0])) return;
    p->services[p->n_services] = (still_service){.id = TEXT(ID),
                                                 .name = TEXT(NAME),
                                                 .substance = TEXT(SUBSTANCE),
                                                 .hazard = TEXT(HAZARD),
                                                 .src = r->tag,
                                                 .phase = WORD(PHASE),
                                                 .condenses = WORD(CONDENSES),
                                                 .asphyxiant = WORD(ASPHYXIANT),
                                                 .temperature_K = Q(TEMPERATURE),
                                                 .pressure_bara = Q(PRESSURE),
                                                 .design_pressure_bara = Q(DESIGN_PRESSURE),
                                                 .min_temperature_K = Q(MIN_TEMPERATURE),
                                                 .auto_ignition_K = Q(AUTO_IGNITION),
                                                 .density_kg_m3 = Q(DENSITY),
                                                 .expansivity_per_K = Q(EXPANSIVITY),
                                                 .compressibility_per_bar = Q(COMPRESSIBILITY)};
    own(r, STILL_OWNER_SERVICE, p->n_services++);
}

static void add_feed(still_reader *r)
{
    still_plant *p = r->plant;
    if (!room(r, &p->feeds, &r->cap_feeds, p->n_feeds, sizeof p->feeds[0])) return;
    p->feeds[p->n_feeds] = (still_feed){.id = TEXT(ID),
                                        .name = TEXT(NAME),
                                        .place = TEXT(PLACE),
                                        .isolator = TEXT(ISOLATOR),
                                        .src = r->tag,
                                        .kind = WORD(KIND),
                                        .lockable = WORD(LOCKABLE),
                                        .stored = WORD(STORED),
                                        .ref0 = r->ref0,
                                        .n_refs = r->n_refs};
    own(r, STILL_OWNER_FEED, p->n_feeds++);
}

static void add_sequence(still_reader *r)
{
    still_plant *p = r->plant;
    if (!room(r, &p->sequences, &r->cap_sequences, p->n_sequences, sizeof p->sequences[0])) return;
    p->sequences[p->n_sequences] = (still_sequence){.id = TEXT(ID),
                                                    .name = TEXT(NAME),
                                                    .place = TEXT(PLACE),
                                                    .off_at = TEXT(OFF_AT),
                                                    .src = r->tag,
                                                    .kind = WORD(KIND),
                                                    .ref0 = r->ref0,
                                                    .n_refs = r->n_refs};
    own(r, STILL_OWNER_SEQUENCE, p->n_sequences++);
}

static void add_gauge(still_reader *r)
{
    still_plant *p = r->plant;
    if (!room(r, &p->gauges, &r->cap_gauges, p->n_gauges, sizeof p->gauges[0])) return;
    p->gauges[p->n_gauges] = (still_gauge){.id = TEXT(ID),
                                           .name = TEXT(NAME),
                                           .place = TEXT(PLACE),
                                           .src = r->tag,
                                           .kind = WORD(KIND),
                                           .on = TEXT(ON).v,
                                           .via = TEXT(VIA).v};
    own(r, STILL_OWNER_GAUGE, p->n_gauges++);
}

static void set_plant(still_reader *r)
{
    r->plant->id = TEXT(ID);
    r->plant->name = TEXT(NAME);
    r->plant->note = TEXT(NOTE);
    r->plant->revision = TEXT(REVISION);
    r->plant->people = WORD(PEOPLE);
}

void still_reader_element(still_reader *r)
{
    still_attr_set missing = still_elem_of(r->elem)->required & ~r->seen;
    for (unsigned a = 0; missing != 0; a++, missing >>= 1)
        if ((missing & 1) != 0)
            still_reader_fault(r, STILL_CODE_MISSING, STILL_ATTR_COUNT, "%s is missing",
                               still_attr_of((still_attr)a)->text);
    still_reader_values(r);
    if (r->status != STILL_OK) return;
    switch (r->elem) {
    case STILL_ELEM_PLANT: set_plant(r); break;
    case STILL_ELEM_VESSEL:
    case STILL_ELEM_VALVE:
    case STILL_ELEM_PUMP:
    case STILL_ELEM_COMPRESSOR:
    case STILL_ELEM_EXCHANGER:
    case STILL_ELEM_FITTING:
    case STILL_ELEM_BLIND:
    case STILL_ELEM_CAP:
    case STILL_ELEM_OUTLET:
    case STILL_ELEM_LIMIT:
    case STILL_ELEM_SPOOL: add_comp(r); break;
    case STILL_ELEM_SERVICE: add_service(r); break;
    case STILL_ELEM_FEED: add_feed(r); break;
    case STILL_ELEM_SEQUENCE: add_sequence(r); break;
    case STILL_ELEM_GAUGE: add_gauge(r); break;
    case STILL_ELEM_PORT: add_port(r); break;
    case STILL_ELEM_SIDE: add_side(r); break;
    case STILL_ELEM_COUNT: break;
    }
}
