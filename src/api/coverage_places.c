/* Places for new relief valves as texts and numbers for people. */
#include "coverage_parts.h"

#include "alloc.h"
#include "places.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

typedef struct work {
    still_arena *arena;
    const still_plant *plant;
    const still_segments *found;
    const still_segment *list;
} work;

static bool names_of(const work *w, still_strings *out, const uint32_t *segments, uint32_t n)
{
    out->items = STILL_ARENA_NEW(w->arena, n, const char *);
    if (out->items == NULL) return false;
    for (uint32_t i = 0; i < n; i++) out->items[out->n++] = w->list[segments[i]].name;
    return true;
}

static double normal_of(const work *w, uint32_t service)
{
    return service == STILL_NONE ? (double)NAN : w->plant->services[service].pressure_bara;
}

/* Highest normal pressure of a segment; unknown when one of its services says none. */
static double highest_normal(const work *w, const still_piece_facts *f)
{
    double highest = -(double)INFINITY;
    for (uint32_t i = 0; i < f->n_ids; i++) {
        const still_comp *c = &w->plant->comps[f->ids[i]];
        if (c->cls != STILL_CLASS_SPOOL && c->cls != STILL_CLASS_VESSEL) continue;
        double normal = normal_of(w, c->service);
        if (isnan(normal)) return normal;
        highest = fmax(highest, normal);
    }
    for (uint32_t i = 0; i < f->n_sides; i++) {
        double normal = normal_of(w, w->plant->sides[f->sides[i]].service);
        if (isnan(normal)) return normal;
        highest = fmax(highest, normal);
    }
    return highest;
}

static double largest_need(const work *w, const still_place *p)
{
    double largest = 0;
    for (uint32_t i = 0; i < p->n_covers; i++) {
        double need = w->list[p->covers[i]].relief_kg_per_h;
        if (isnan(need)) return need;
        largest = fmax(largest, need);
    }
    return largest;
}

static const char *mind(const still_place *p, double normal_bara)
{
    if (isnan(normal_bara))
        return "the normal pressure there is not in the plant file: see that the valve stays shut "
               "in "
               "service";
    if (!(p->set_bara > normal_bara))
        return "that is not above the normal pressure there, at which the valve would blow: here "
               "it "
               "does not do, put valves nearer to the gaps";
    return "";
}

static bool place_of(const work *w, still_relief_place *out, const still_place *p)
{
    *out = (still_relief_place){.id = still_id_of(w->plant, p->spool),
                                .segment = w->list[p->segment].name,
                                .set_at_most_bara = p->set_bara,
                                .normal_bara = highest_normal(w, &w->found->items[p->segment]),
                                .relief_kg_per_h = largest_need(w, p)};
    out->mind = mind(p, out->normal_bara);
    return names_of(w, &out->covers, p->covers, p->n_covers) &&
           names_of(w, &out->jointly, p->jointly, p->n_jointly);
}

static int most_first(const void *pa, const void *pb)
{
    const still_relief_place *a = pa, *b = pb;
    if (a->covers.n != b->covers.n) return a->covers.n > b->covers.n ? -1 : 1;
    return strcmp(a->id, b->id);
}

still_status still_coverage_places(still_coverage_record *record, still_arena *arena,
                                   const still_plant *plant, const still_state *state,
                                   const still_segments *found, const still_segment *list)
{
    const work w = {arena, plant, found, list};
    still_places places;
    uint8_t *wanted = still_calloc(found->n, 1);
    if (wanted == NULL) return STILL_E_NOMEM;
    for (uint32_t i = 0; i < found->n; i++) wanted[i] = list[i].counts && !list[i].accepted;
    record->places_proven = true;
    record->places_ratio = 1;
    still_status status = record->n_gaps == 0
                              ? STILL_OK
                              : still_places_find(&places, arena, plant, state, found, wanted);
    still_free(wanted);
    if (status != STILL_OK || record->n_gaps == 0) return status;
    still_relief_place *items = STILL_ARENA_NEW(arena, places.n, still_relief_place);
    if (items == NULL) return STILL_E_NOMEM;
    for (uint32_t i = 0; i < places.n; i++)
        if (!place_of(&w, &items[i], &places.items[i])) return STILL_E_NOMEM;
    if (places.n > 1) qsort(items, places.n, sizeof items[0], most_first);
    record->places = items;
    record->n_places = places.n;
    record->places_proven = places.proven;
    record->places_bound = places.bound;
    record->places_ratio = places.ratio;
    return names_of(&w, &record->places_left, places.left, places.n_left) ? STILL_OK
                                                                          : STILL_E_NOMEM;
}
