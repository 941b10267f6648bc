/* The rules: each looks through the plant once. What a gap counts as is said by RULES N2; here it
 * is only pointed out. Codes and their texts: base/codes.h. */
#include "check.h"

#include "checkjoints.h"
#include "report.h"
#include "shape.h"

#include <stdio.h>
#include <string.h>

static const char *class_of(const still_plant *p, uint32_t comp)
{
    return still_word(STILL_VOC_still_class, p->comps[comp].cls);
}

/* Warn about a component: "valve "HV-1": text". */
static void warn(const still_plant *p, still_report *r, uint32_t comp, still_code code,
                 const char *attribute, const char *text)
{
    const char *id = still_id_of(p, comp);
    still_report_add(r, code, p->comps[comp].src, attribute, id, "%s \"%.80s\": %s",
                     class_of(p, comp), id, text);
}

/* Likewise about a side of an exchanger. */
static void warn_side(const still_plant *p, still_report *r, const still_side *s, still_code code,
                      const char *text)
{
    const char *id = still_id_of(p, s->comp);
    still_report_add(r, code, s->src, NULL, id, "side \"%.80s\" of exchanger \"%.80s\": %s",
                     still_text(p, s->id), id, text);
}

static still_status empty(const still_plant *p, still_report *r)
{
    if (p->n_comps == 0)
        still_report_add(r, STILL_CODE_EMPTY, STILL_NOWHERE, NULL, NULL,
                         "the plant has no components");
    return STILL_OK;
}

static still_status no_service(const still_plant *p, still_report *r)
{
    for (uint32_t i = 0; i < p->n_comps; i++) {
        const still_comp *c = &p->comps[i];
        bool needs = c->cls == STILL_CLASS_SPOOL ||
                     (c->cls == STILL_CLASS_VESSEL && c->contents != STILL_CONTENTS_NONE);
        if (needs && c->service == STILL_NONE)
            warn(p, r, i, STILL_CODE_NO_SERVICE, NULL, "service is not said");
    }
    for (uint32_t i = 0; i < p->n_sides; i++)
        if (p->sides[i].service == STILL_NONE)
            warn_side(p, r, &p->sides[i], STILL_CODE_NO_SERVICE, "service is not said");
    return STILL_OK;
}

static bool self_acting(uint8_t kind)
{
    return kind == STILL_KIND_CHECK || kind == STILL_KIND_RELIEF || kind == STILL_KIND_REGULATOR ||
           kind == STILL_KIND_RUPTURE_DISC || kind == STILL_KIND_FLOAT ||
           kind == STILL_KIND_EXCESS_FLOW || kind == STILL_KIND_SELF_CLOSING;
}

static still_status position_ignored(const still_plant *p, still_report *r)
{
    for (uint32_t i = 0; i < p->n_comps; i++) {
        if (p->comps[i].cls != STILL_CLASS_VALVE || !self_acting(p->comps[i].kind)) continue;
        if (still_comp_t(p, i, STILL_T_POSITION)[0] != '\0')
            warn(p, r, i, STILL_CODE_POSITION_IGNORED, "position",
                 "position of a self-acting device is ignored");
        if (still_comp_t(p, i, STILL_T_NORMAL)[0] != '\0')
            warn(p, r, i, STILL_CODE_POSITION_IGNORED, "normal",
                 "normal position of a self-acting device is ignored");
    }
    return STILL_OK;
}

/* N2: a port joined to nothing counts as a plant limit under pressure. */
static still_status dead_end(const still_plant *p, still_report *r)
{
    for (uint32_t i = 0; i < p->n_ports; i++) {
        if (p->ports[i].spool != STILL_NONE) continue;
        uint32_t comp = p->ports[i].comp;
        const char *id = still_id_of(p, comp);
        still_report_add(r, STILL_CODE_DEAD_END, p->comps[comp].src, NULL, id,
                         "port \"%.80s\" of %s \"%.80s\" is not joined",
                         still_text(p, still_port_name(p, i)), class_of(p, comp), id);
    }
    return STILL_OK;
}

/* N5: what needs a feed and has none in the file. */
static still_status no_feed(const still_plant *p, still_report *r)
{
    for (uint32_t i = 0; i < p->n_comps; i++) {
        const still_comp *c = &p->comps[i];
        bool driven = c->drive == STILL_DRIVE_MOTOR || c->drive == STILL_DRIVE_AIR ||
                      c->drive == STILL_DRIVE_HYDRAULIC || c->kind == STILL_KIND_SOLENOID;
        bool needs = c->cls == STILL_CLASS_PUMP || c->cls == STILL_CLASS_COMPRESSOR ||
                     (c->cls == STILL_CLASS_VALVE && driven);
        if (!needs || c->feeds_complete) continue;
        size_t n = 0;
        still_comp_feeds(p, i, &n);
        if (n == 0) warn(p, r, i, STILL_CODE_NO_FEED, NULL, "no feed supplies it");
    }
    return STILL_OK;
}

static still_status substance(const still_plant *p, still_report *r)
{
    static const char *const known[] = {"ammonia", "carbon-dioxide", "propane", "r134a", "water"};
    for (uint32_t i = 0; i < p->n_services; i++) {
        const still_service *s = &p->services[i];
        const char *id = still_text(p, s->id), *name = still_text(p, s->substance);
        bool has = !isnan(s->density_kg_m3);
        for (size_t k = 0; k < sizeof known / sizeof known[0]; k++)
            if (strcmp(name, known[k]) == 0) has = true;
        if (name[0] == '\0')
            still_report_add(r, STILL_CODE_SUBSTANCE, s->src, NULL, id,
                             "service \"%.80s\": substance is not said", id);
        else if (!has)
            still_report_add(r, STILL_CODE_SUBSTANCE, s->src, "substance", id,
                             "service \"%.80s\": substance \"%.80s\" is unknown and has no density",
                             id, name);
    }
    return STILL_OK;
}

static still_status no_set_pressure(const still_plant *p, still_report *r)
{
    for (uint32_t i = 0; i < p->n_comps; i++) {
        uint8_t kind = p->comps[i].kind;
        if (p->comps[i].cls != STILL_CLASS_VALVE ||
            (kind != STILL_KIND_RELIEF && kind != STILL_KIND_RUPTURE_DISC))
            continue;
        if (isnan(still_comp_q(p, i, STILL_Q_SET_PRESSURE_BARA)))
            warn(p, r, i, STILL_CODE_NO_SET_PRESSURE, NULL, "set pressure is not said");
    }
    return STILL_OK;
}

/* N2: not said to be lockable = cannot be locked. */
static still_status no_lockable(const still_plant *p, still_report *r)
{
    for (uint32_t i = 0; i < p->n_comps; i++) {
        const still_comp *c = &p->comps[i];
        if (c->cls == STILL_CLASS_VALVE && still_kind_stops(c->kind) &&
            c->lockable == STILL_LOCKABLE_NOT_SAID)
            warn(p, r, i, STILL_CODE_NO_LOCKABLE, NULL, "lockable is not said");
    }
    return STILL_OK;
}

static still_status no_fill(const still_plant *p, still_report *r)
{
    for (uint32_t i = 0; i < p->n_comps; i++)
        if (p->comps[i].cls == STILL_CLASS_VESSEL &&
            p->comps[i].contents == STILL_CONTENTS_TWO_PHASE &&
            isnan(still_comp_q(p, i, STILL_Q_FILL)))
            warn(p, r, i, STILL_CODE_NO_FILL, NULL, "two-phase contents without fill");
    for (uint32_t i = 0; i < p->n_sides; i++)
        if (p->sides[i].contents == STILL_CONTENTS_TWO_PHASE && isnan(p->sides[i].fill))
            warn_side(p, r, &p->sides[i], STILL_CODE_NO_FILL, "two-phase contents without fill");
    return STILL_OK;
}

static still_status no_volume(const still_plant *p, still_report *r)
{
    still_drum drum;
    for (uint32_t i = 0; i < p->n_comps; i++)
        if (p->comps[i].cls == STILL_CLASS_VESSEL && p->comps[i].contents != STILL_CONTENTS_NONE &&
            isnan(still_comp_q(p, i, STILL_Q_VOLUME_M3)) && !still_vessel_drum(p, i, &drum))
            warn(p, r, i, STILL_CODE_NO_VOLUME, NULL, "volume is not said");
    for (uint32_t i = 0; i < p->n_sides; i++)
        if (p->sides[i].contents != STILL_CONTENTS_NONE && isnan(p->sides[i].volume_m3))
            warn_side(p, r, &p->sides[i], STILL_CODE_NO_VOLUME, "volume is not said");
    return STILL_OK;
}

/* One of the two is wrong, or the vessel is no such drum: what is left in it is then not known. */
static still_status shape(const still_plant *p, still_report *r)
{
    static const double TOLERANCE = 0.05;
    for (uint32_t i = 0; i < p->n_comps; i++) {
        still_drum drum;
        char text[120];
        double said = still_comp_q(p, i, STILL_Q_VOLUME_M3);
        if (p->comps[i].cls != STILL_CLASS_VESSEL || isnan(said) || !still_vessel_drum(p, i, &drum))
            continue;
        double volume = still_drum_volume_m3(&drum);
        if (fabs(said - volume) <= TOLERANCE * volume) continue;
        snprintf(text, sizeof text, "volume is %.4g m3, its shape makes %.4g m3", said, volume);
        warn(p, r, i, STILL_CODE_SHAPE, "volume", text);
    }
    return STILL_OK;
}

/* N2: unknown kind = cannot be closed, passes both ways. */
static still_status no_kind(const still_plant *p, still_report *r)
{
    for (uint32_t i = 0; i < p->n_comps; i++)
        if (p->comps[i].cls == STILL_CLASS_VALVE && p->comps[i].kind == STILL_KIND_NOT_SAID)
            warn(p, r, i, STILL_CODE_NO_KIND, NULL, "kind is not said");
    return STILL_OK;
}

static still_status feeds_nothing(const still_plant *p, still_report *r)
{
    for (uint32_t i = 0; i < p->n_feeds; i++)
        if (p->feeds[i].n_refs == 0) {
            const char *id = still_text(p, p->feeds[i].id);
            still_report_add(r, STILL_CODE_FEEDS_NOTHING, p->feeds[i].src, NULL, id,
                             "feed \"%.80s\" supplies nothing", id);
        }
    return STILL_OK;
}

typedef still_status (*rule)(const still_plant *plant, still_report *report);

static const rule rules[] = {
    empty,
    no_service,
    still_check_design,
    position_ignored,
    still_check_connected,
    dead_end,
    no_feed,
    substance,
    no_set_pressure,
    no_lockable,
    no_fill,
    no_volume,
    shape,
    no_kind,
    feeds_nothing,
};

still_status still_check_plant(const still_plant *plant, still_diags *diags)
{
    const char *file = plant->file != NULL ? plant->file : "";
    still_report *report = still_report_new(file, plant->source);
    if (report == NULL) return STILL_E_NOMEM;
    still_status status = STILL_OK;
    for (size_t i = 0; i < sizeof rules / sizeof rules[0] && status == STILL_OK; i++)
        status = rules[i](plant, report);
    still_status flushed = still_report_flush(report, diags);
    still_report_free(report);
    return status != STILL_OK ? status : flushed;
}
