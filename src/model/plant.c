#include "plant.h"

#include "alloc.h"
#include "nearest.h"
#include "source.h"

#include <stdatomic.h>
#include <stdio.h>
#include <string.h>

struct still_index {
    _Atomic(uint32_t *) slots;
};

still_plant *still_plant_new(void)
{
    still_plant *p = still_calloc(1, sizeof *p);
    if (p == NULL) return NULL;
    p->index = still_calloc(1, sizeof *p->index);
    if (p->index == NULL || !still_names_init(&p->names)) {
        still_plant_free(p);
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
    still_free(p->port_kinds);
    if (p->index != NULL) still_free(p->index->slots);
    still_free(p->index);
    still_free(p->fact_what);
    still_free(p->fact_value);
    still_free(p->services);
    still_free(p->sides);
    still_free(p->feeds);
    still_free(p->sequences);
    still_free(p->gauges);
    still_free(p->refs);
    still_free(p->comp_feeds);
    still_free(p);
}

static uint32_t n_slots(const still_plant *p)
{
    return p->n_comps + p->n_comps / 3 + 1;
}

/* First slot to look at for an id: its hash, scaled to the table's size. */
static uint32_t slot_of(const still_plant *p, const char *id)
{
    uint64_t hash = still_names_hash(id, strlen(id));
    return (uint32_t)(hash * n_slots(p) >> 32);
}

/* Open addressing; STILL_NONE = free. NULL when memory is out. */
static uint32_t *make_slots(const still_plant *p)
{
    uint32_t n = n_slots(p), *slots = still_malloc((size_t)n * sizeof slots[0]);
    if (slots == NULL) return NULL;
    memset(slots, 0xFF, (size_t)n * sizeof slots[0]);
    for (uint32_t c = 0; c < p->n_comps; c++) {
        uint32_t i = slot_of(p, still_id_of(p, c));
        while (slots[i] != STILL_NONE) i = i + 1 == n ? 0 : i + 1;
        slots[i] = c;
    }
    return slots;
}

/* The table; two threads that ask first both make one, and one of them is kept. */
static const uint32_t *slots_of(const still_plant *p)
{
    uint32_t *slots = atomic_load(&p->index->slots), *none = NULL;
    if (slots != NULL) return slots;
    slots = make_slots(p);
    if (slots == NULL || atomic_compare_exchange_strong(&p->index->slots, &none, slots))
        return slots;
    still_free(slots);
    return none;
}

still_comp_id still_plant_find(const still_plant *p, const char *id)
{
    const uint32_t *slots = slots_of(p);
    if (slots == NULL) {
        for (uint32_t c = 0; c < p->n_comps; c++)
            if (strcmp(still_id_of(p, c), id) == 0) return (still_comp_id){c};
        return (still_comp_id){STILL_NONE};
    }
    uint32_t i = slot_of(p, id);
    while (slots[i] != STILL_NONE && strcmp(still_id_of(p, slots[i]), id) != 0)
        i = i + 1 == n_slots(p) ? 0 : i + 1;
    return (still_comp_id){slots[i]};
}

/* Place of a fact in the run of a component, or STILL_NONE. */
static uint32_t fact_of(const still_plant *p, uint32_t comp, unsigned what)
{
    uint32_t i = p->comps[comp].facts;
    while (p->fact_what[i] != STILL_FACT_END && p->fact_what[i] != what) i++;
    return p->fact_what[i] == what ? i : STILL_NONE;
}

double still_comp_q(const still_plant *p, uint32_t comp, still_q what)
{
    uint32_t i = fact_of(p, comp, (unsigned)what);
    return i == STILL_NONE ? (double)NAN : p->fact_value[i];
}

const char *still_comp_t(const still_plant *p, uint32_t comp, still_t what)
{
    uint32_t i = fact_of(p, comp, STILL_Q_COUNT + (unsigned)what);
    return i == STILL_NONE ? "" : still_text(p, (still_name){(uint32_t)p->fact_value[i]});
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
        if (strcmp(still_text(p, still_port_name(p, p->comps[comp].a + i)), name) == 0)
            return p->comps[comp].a + i;
    return STILL_NONE;
}

const char *still_port_label(const still_plant *p, uint32_t port, char *buf, size_t size)
{
    snprintf(buf, size, "%s.%s", still_id_of(p, p->ports[port].comp),
             still_text(p, still_port_name(p, port)));
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

void still_plant_near(char *text, size_t size, const still_plant *plant, const char *id)
{
    still_near near = STILL_NEAR_INIT(id);
    for (uint32_t i = 0; i < plant->n_comps; i++) still_near_offer(&near, still_id_of(plant, i));
    still_near_say(&near, text, size);
}
