#include "plant.h"

#include "alloc.h"
#include "source.h"

#include <stdio.h>
#include <string.h>

still_plant *still_plant_new(void)
{
    still_plant *p = still_calloc(1, sizeof *p);
    if (p == NULL) return NULL;
    if (!still_names_init(&p->names)) {
        still_free(p);
        return NULL;
    }
    return p;
}

void still_plant_free(still_plant *p)
{
    if (p == NULL) return;
    still_names_clear(&p->names);
    still_free(p->file);
    still_source_free(p->source);
    still_free(p->comps);
    still_free(p->ports);
    still_free(p->comp_of_name);
    still_free(p->q_what);
    still_free(p->q_value);
    still_free(p->t_what);
    still_free(p->t_value);
    still_free(p->services);
    still_free(p->sides);
    still_free(p->feeds);
    still_free(p->sequences);
    still_free(p->gauges);
    still_free(p->refs);
    still_free(p->comp_feeds);
    still_free(p);
}

still_comp_id still_plant_find(const still_plant *p, const char *id)
{
    still_name name;
    still_comp_id none = {STILL_NONE};
    if (id[0] == '\0' || !still_names_find(&p->names, id, strlen(id), &name)) return none;
    return (still_comp_id){p->comp_of_name[name.v]};
}

double still_comp_q(const still_plant *p, uint32_t comp, still_q what)
{
    for (uint32_t i = p->comps[comp].q0; i < p->comps[comp + 1].q0; i++)
        if (p->q_what[i] == what) return p->q_value[i];
    return (double)NAN;
}

const char *still_comp_t(const still_plant *p, uint32_t comp, still_t what)
{
    for (uint32_t i = p->comps[comp].t0; i < p->comps[comp + 1].t0; i++)
        if (p->t_what[i] == what) return still_text(p, p->t_value[i]);
    return "";
}

double still_comp_bore_mm(const still_plant *p, uint32_t comp)
{
    double own = still_comp_q(p, comp, STILL_Q_BORE_MM);
    if (!isnan(own) || p->comps[comp].cls == STILL_CLASS_SPOOL) return own;
    double agreed = (double)NAN;
    for (uint32_t i = 0; i < p->comps[comp].b; i++) {
        uint32_t s = p->ports[p->comps[comp].a + i].spool;
        if (s == STILL_NONE) continue;
        double bore = still_comp_q(p, s, STILL_Q_BORE_MM);
        if (isnan(bore)) return (double)NAN;
        if (isnan(agreed)) agreed = bore;
        if (bore < agreed || bore > agreed) return (double)NAN;
    }
    return agreed;
}

const char *still_comp_size(const still_plant *p, uint32_t comp)
{
    const char *own = still_comp_t(p, comp, STILL_T_SIZE);
    if (own[0] != '\0' || p->comps[comp].cls == STILL_CLASS_SPOOL) return own;
    const char *agreed = "";
    for (uint32_t i = 0; i < p->comps[comp].b; i++) {
        uint32_t s = p->ports[p->comps[comp].a + i].spool;
        if (s == STILL_NONE) continue;
        const char *size = still_comp_t(p, s, STILL_T_SIZE);
        if (agreed[0] == '\0') agreed = size;
        if (strcmp(agreed, size) != 0) return "";
    }
    return agreed;
}

uint32_t still_comp_port(const still_plant *p, uint32_t comp, const char *name)
{
    if (p->comps[comp].cls == STILL_CLASS_SPOOL) return STILL_NONE;
    for (uint32_t i = 0; i < p->comps[comp].b; i++)
        if (strcmp(still_text(p, p->ports[p->comps[comp].a + i].name), name) == 0)
            return p->comps[comp].a + i;
    return STILL_NONE;
}

const char *still_port_label(const still_plant *p, uint32_t port, char *buf, size_t size)
{
    snprintf(buf, size, "%s.%s", still_id_of(p, p->ports[port].comp),
             still_text(p, p->ports[port].name));
    return buf;
}

const still_comp_feed *still_comp_feeds(const still_plant *p, uint32_t comp, size_t *n)
{
    size_t lo = 0, hi = p->n_comp_feeds;
    while (lo < hi) {
        size_t mid = lo + (hi - lo) / 2;
        if (p->comp_feeds[mid].comp < comp)
            lo = mid + 1;
        else
            hi = mid;
    }
    size_t end = lo;
    while (end < p->n_comp_feeds && p->comp_feeds[end].comp == comp) end++;
    *n = end - lo;
    return p->comp_feeds + lo;
}
