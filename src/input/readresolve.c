/* References from names to numbers, once the whole file is read. */
#include "reader.h"

#include "alloc.h"
#include "nearest.h"

#include <stdlib.h>
#include <string.h>

static const char *owner_text(uint32_t owner)
{
    static const char *const texts[] = {"component", "service", "feed", "sequence", "gauge"};
    return texts[owner >> STILL_OWNER_SHIFT];
}

/* Ids that may have been meant. Each look goes over the whole plant, so only the first errors of a
 * file get one. */
static void near_ids(still_reader *r, still_owner want, const char *id, char *text, size_t size)
{
    enum { LOOKS = 100 };
    const still_plant *p = r->plant;
    text[0] = '\0';
    if (r->n_looks++ >= LOOKS) return;
    if (want == STILL_OWNER_COMP) {
        still_plant_near(text, size, p, id);
        return;
    }
    still_near near = STILL_NEAR_INIT(id);
    for (uint32_t i = 0; want == STILL_OWNER_SERVICE && i < p->n_services; i++)
        still_near_offer(&near, still_text(p, p->services[i].id));
    still_near_say(&near, text, size);
}

/* Number of what a name stands for, or STILL_NONE with a report. */
static uint32_t resolve(still_reader *r, still_owner want, uint32_t name, uint32_t src,
                        const char *attribute, const char *self)
{
    still_name n = {name};
    uint32_t owner = still_reader_owner(r, n);
    const char *id = still_text(r->plant, n);
    if (owner == STILL_NONE) {
        char nearest[300];
        near_ids(r, want, id, nearest, sizeof nearest);
        still_report_add(r->report, STILL_CODE_REFERENCE, src, attribute, self,
                         "\"%.80s\": there is no %s \"%.80s\"%s", self,
                         owner_text((uint32_t)want << STILL_OWNER_SHIFT), id, nearest);
        return STILL_NONE;
    }
    if (owner >> STILL_OWNER_SHIFT != (uint32_t)want) {
        still_report_add(r->report, STILL_CODE_REFERENCE_KIND, src, attribute, self,
                         "\"%.80s\": \"%.80s\" is a %s, not a %s", self, id, owner_text(owner),
                         owner_text((uint32_t)want << STILL_OWNER_SHIFT));
        return STILL_NONE;
    }
    return owner & STILL_OWNER_INDEX;
}

static uint32_t service_of(still_reader *r, uint32_t name, uint32_t src, still_name self)
{
    if (name == 0) return STILL_NONE;
    uint32_t owner = still_reader_owner(r, (still_name){name});
    if (owner != STILL_NONE && owner >> STILL_OWNER_SHIFT == STILL_OWNER_SERVICE)
        return owner & STILL_OWNER_INDEX;
    return resolve(r, STILL_OWNER_SERVICE, name, src, "service", still_text(r->plant, self));
}

static void resolve_services(still_reader *r)
{
    still_plant *p = r->plant;
    for (uint32_t i = 0; i < p->n_comps; i++)
        p->comps[i].service = service_of(r, p->comps[i].service, p->comps[i].src, p->comps[i].id);
    for (uint32_t i = 0; i < p->n_sides; i++)
        p->sides[i].service = service_of(r, p->sides[i].service, p->sides[i].src, p->sides[i].id);
}

static int by_number(const void *pa, const void *pb)
{
    uint32_t a, b;
    memcpy(&a, pa, sizeof a);
    memcpy(&b, pb, sizeof b);
    return a < b ? -1 : a > b;
}

/* A run of refs[]: to numbers, ascending, each once. */
static uint32_t resolve_list(still_reader *r, uint32_t ref0, uint32_t n, uint32_t src,
                             const char *attribute, still_name self)
{
    uint32_t *refs = r->plant->refs, kept = 0;
    for (uint32_t i = ref0; i < ref0 + n; i++) {
        uint32_t comp =
            resolve(r, STILL_OWNER_COMP, refs[i], src, attribute, still_text(r->plant, self));
        if (comp != STILL_NONE) refs[ref0 + kept++] = comp;
    }
    if (kept > 1) qsort(refs + ref0, kept, sizeof refs[0], by_number);
    uint32_t out = 0;
    for (uint32_t i = 0; i < kept; i++)
        if (out == 0 || refs[ref0 + out - 1] != refs[ref0 + i]) refs[ref0 + out++] = refs[ref0 + i];
    return out;
}

static void resolve_gauge(still_reader *r, still_gauge *g)
{
    const char *self = still_text(r->plant, g->id);
    g->on = g->on == 0 ? STILL_NONE : resolve(r, STILL_OWNER_COMP, g->on, g->src, "on", self);
    g->via = g->via == 0 ? STILL_NONE : resolve(r, STILL_OWNER_COMP, g->via, g->src, "via", self);
    if (g->via != STILL_NONE && r->plant->comps[g->via].cls != STILL_CLASS_VALVE)
        still_report_add(r->report, STILL_CODE_REFERENCE_KIND, g->src, "via", self,
                         "gauge \"%.80s\": \"%.80s\" is no valve", self,
                         still_id_of(r->plant, g->via));
}

/* Component of a spool's end, or STILL_NONE. */
static uint32_t resolve_end(still_reader *r, const still_comp *spool, uint32_t name,
                            const char *attribute)
{
    if (name == 0) return STILL_NONE;
    uint32_t owner = still_reader_owner(r, (still_name){name}), comp = owner & STILL_OWNER_INDEX;
    const char *id = still_text(r->plant, (still_name){name});
    const char *self = still_text(r->plant, spool->id);
    if (owner == STILL_NONE) {
        char nearest[300];
        near_ids(r, STILL_OWNER_COMP, id, nearest, sizeof nearest);
        still_report_add(r->report, STILL_CODE_REFERENCE, spool->src, attribute, self,
                         "spool \"%.80s\": there is no component \"%.80s\"%s", self, id, nearest);
        return STILL_NONE;
    }
    if (owner >> STILL_OWNER_SHIFT == STILL_OWNER_COMP &&
        r->plant->comps[comp].cls != STILL_CLASS_SPOOL)
        return comp;
    still_report_add(r->report, STILL_CODE_REFERENCE_KIND, spool->src, attribute, self,
                     "spool \"%.80s\": \"%.80s\" has no ports", self, id);
    return STILL_NONE;
}

/* Spools: from the names of the components at their ends to numbers. */
static void resolve_ends(still_reader *r)
{
    for (uint32_t i = 0; i < r->plant->n_comps; i++) {
        still_comp *c = &r->plant->comps[i];
        if (c->cls != STILL_CLASS_SPOOL) continue;
        c->a = resolve_end(r, c, c->a, "from");
        c->b = resolve_end(r, c, c->b, "to");
    }
}

/* The service on which all spools of a run of ports agree, or STILL_NONE. A spool without one
 * agrees with none. Only ports of one side of an exchanger count, where a side is given. */
static uint32_t agreed_service(const still_plant *p, const still_comp *c, uint32_t side)
{
    uint32_t agreed = STILL_NONE;
    for (uint32_t i = c->a; i < c->a + c->b; i++) {
        if (still_port_side(p, i) != side || p->ports[i].spool == STILL_NONE) continue;
        uint32_t service = p->comps[p->ports[i].spool].service;
        if (service == STILL_NONE || (agreed != STILL_NONE && agreed != service)) return STILL_NONE;
        agreed = service;
    }
    return agreed;
}

static void default_services(still_plant *p)
{
    for (uint32_t i = 0; i < p->n_comps; i++) {
        still_comp *c = &p->comps[i];
        if (c->cls == STILL_CLASS_SPOOL || c->cls == STILL_CLASS_EXCHANGER) continue;
        if (c->service == STILL_NONE) c->service = agreed_service(p, c, STILL_NONE);
    }
    for (uint32_t i = 0; i < p->n_sides; i++) {
        still_side *s = &p->sides[i];
        if (s->service == STILL_NONE) s->service = agreed_service(p, &p->comps[s->comp], i);
    }
}

static int by_comp(const void *pa, const void *pb)
{
    const still_comp_feed *a = pa, *b = pb;
    if (a->comp != b->comp) return a->comp < b->comp ? -1 : 1;
    return a->feed < b->feed ? -1 : a->feed > b->feed;
}

static bool index_feeds(still_plant *p)
{
    uint64_t n = 0;
    for (uint32_t f = 0; f < p->n_feeds; f++) n += p->feeds[f].n_refs;
    p->comp_feeds = still_calloc((size_t)n, sizeof p->comp_feeds[0]);
    if (p->comp_feeds == NULL) return false;
    for (uint32_t f = 0; f < p->n_feeds; f++)
        for (uint32_t i = 0; i < p->feeds[f].n_refs; i++)
            p->comp_feeds[p->n_comp_feeds++] = (still_comp_feed){p->refs[p->feeds[f].ref0 + i], f};
    if (n > 1) qsort(p->comp_feeds, (size_t)n, sizeof p->comp_feeds[0], by_comp);
    return true;
}

/* Give back what was kept for growth; where that fails the array stays as it is. */
static void trim(void *items, size_t n, size_t size)
{
    void *old;
    memcpy(&old, items, sizeof old);
    if (old == NULL) return;
    void *fresh = still_realloc(old, n, size);
    if (fresh != NULL) memcpy(items, &fresh, sizeof fresh);
}

static void trim_all(still_plant *p)
{
    trim(&p->comps, p->n_comps, sizeof p->comps[0]);
    trim(&p->fact_what, p->n_facts, sizeof p->fact_what[0]);
    trim(&p->fact_value, p->n_facts, sizeof p->fact_value[0]);
    trim(&p->services, p->n_services, sizeof p->services[0]);
    trim(&p->sides, p->n_sides, sizeof p->sides[0]);
    trim(&p->feeds, p->n_feeds, sizeof p->feeds[0]);
    trim(&p->sequences, p->n_sequences, sizeof p->sequences[0]);
    trim(&p->gauges, p->n_gauges, sizeof p->gauges[0]);
    trim(&p->refs, p->n_refs, sizeof p->refs[0]);
}

/* All references by id first: the table of ids is not needed once the ports are numbered, and
 * is given back before they take their place. */
void still_reader_resolve(still_reader *r)
{
    still_plant *p = r->plant;
    resolve_services(r);
    for (uint32_t i = 0; i < p->n_feeds; i++)
        p->feeds[i].n_refs = resolve_list(r, p->feeds[i].ref0, p->feeds[i].n_refs, p->feeds[i].src,
                                          "supplies", p->feeds[i].id);
    for (uint32_t i = 0; i < p->n_sequences; i++)
        p->sequences[i].n_refs = resolve_list(r, p->sequences[i].ref0, p->sequences[i].n_refs,
                                              p->sequences[i].src, "acts-on", p->sequences[i].id);
    for (uint32_t i = 0; i < p->n_gauges; i++) resolve_gauge(r, &p->gauges[i]);
    resolve_ends(r);
    still_free(r->owner);
    r->owner = NULL;
    r->n_owner = 0;
    still_reader_ports(r);
    if (r->status != STILL_OK || still_report_errors(r->report) > 0) return;
    default_services(p);
    if (!index_feeds(p)) {
        r->status = STILL_E_NOMEM;
        return;
    }
    trim_all(p);
}
