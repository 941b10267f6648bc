/* Areas that are small are put together with a neighbour, and all are numbered.
 *
 * An area goes to the one with which it shares the heaviest pipes, if both have room on one page;
 * else to the next best, a few times. Areas that share none are looked for among those that follow
 * in the order of the file, so that on a large plant this stays near linear. */
#include "pages_cut.h"

#include "alloc.h"

#include <string.h>

enum {
    TRIES = 5,
    FOLLOW = 2000 /* areas looked at behind an area */
};

typedef still_pages_cutter cutter;

typedef struct joiner {
    cutter *w;
    int64_t *near;         /* by area: weight of the pipes to it */
    uint32_t *sizes;       /* by area; 0 = put into another, or a sheet */
    uint32_t *tried;       /* by area: last area that was tried with it, and 1 */
    uint32_t *head, *next; /* components of an area, as a list */
    uint32_t *met;         /* areas with pipes to this one */
    uint32_t n_met;
} joiner;

/* Is area a better than b to put another one into? */
static bool better(const joiner *j, uint32_t a, uint32_t b)
{
    if (b == STILL_NONE) return true;
    if (j->near[a] != j->near[b]) return j->near[a] > j->near[b];
    if (j->sizes[a] != j->sizes[b]) return j->sizes[a] < j->sizes[b];
    return a < b;
}

static bool may(const joiner *j, uint32_t area, uint32_t a)
{
    return a != area && j->sizes[a] != 0 && j->tried[a] != area + 1 &&
           j->sizes[a] + j->sizes[area] <= STILL_PAGES_TRIED;
}

static void weigh_neighbours(joiner *j, uint32_t area)
{
    const still_pages *p = j->w->p;
    const still_plant *plant = p->plant;
    j->n_met = 0;
    for (uint32_t c = j->head[area]; c != STILL_NONE; c = j->next[c])
        for (uint32_t k = 0; k < plant->comps[c].b; k++) {
            uint32_t port = plant->comps[c].a + k, next = still_pages_beyond(plant, port);
            if (next == STILL_NONE || p->area_of[next] == area) continue;
            uint32_t to = p->area_of[next];
            if (j->near[to] == 0) j->met[j->n_met++] = to;
            j->near[to] += still_pages_weight(j->w, port);
        }
}

static uint32_t best_neighbour(joiner *j, uint32_t area)
{
    uint32_t best = STILL_NONE, n = j->w->p->n_areas;
    for (uint32_t i = 0; i < j->n_met; i++)
        if (may(j, area, j->met[i]) && better(j, j->met[i], best)) best = j->met[i];
    for (uint32_t i = 1; i < n && i <= FOLLOW; i++) {
        uint32_t a = (area + i) % n;
        if (may(j, area, a) && better(j, a, best)) best = a;
    }
    return best;
}

/* Try to put an area into its best neighbours, a few of them. */
static still_status join_area(joiner *j, uint32_t area)
{
    still_status status = STILL_OK;
    cutter *w = j->w;
    if (j->sizes[area] == 0) return STILL_OK;
    weigh_neighbours(j, area);
    for (int i = 0; i < TRIES && status == STILL_OK; i++) {
        uint32_t into = best_neighbour(j, area), n = 0, last = STILL_NONE;
        bool fits = false;
        if (into == STILL_NONE) break;
        j->tried[into] = area + 1;
        for (uint32_t c = j->head[into]; c != STILL_NONE; c = j->next[c]) w->queue[n++] = c;
        for (uint32_t c = j->head[area]; c != STILL_NONE; c = j->next[c]) w->queue[n++] = last = c;
        status = still_pages_room(&fits, w, w->queue, n);
        if (status != STILL_OK || !fits) continue;
        j->sizes[into] += j->sizes[area];
        j->sizes[area] = 0;
        for (uint32_t c = j->head[area]; c != STILL_NONE; c = j->next[c]) w->p->area_of[c] = into;
        j->next[last] = j->head[into];
        j->head[into] = j->head[area];
        j->head[area] = STILL_NONE;
        break;
    }
    for (uint32_t i = 0; i < j->n_met; i++) j->near[j->met[i]] = 0;
    return status;
}

/* Number the areas that are left in the order of the plant file; sheets follow their first one.
 * @param to    by area: its number and 1; set to 0
 * @param many  by area: sheets, where there are several */
static void number(still_pages *p, uint32_t *to, const uint32_t *many)
{
    uint32_t n = 0;
    for (uint32_t c = 0; c < p->plant->n_comps; c++) {
        uint32_t area = p->area_of[c];
        if (area == STILL_NONE) continue;
        uint32_t sheets = many[area] > 1 ? many[area] : 1;
        for (uint32_t k = 0; k < sheets && to[area + k] == 0; k++) {
            p->sheet[n] = sheets > 1 ? k + 1 : 0;
            p->sheets[n] = sheets;
            to[area + k] = ++n;
        }
        p->area_of[c] = to[area] - 1;
    }
    for (uint32_t k = 0; k < p->plant->n_ports; k++)
        if (p->port_area[k] != STILL_NONE) p->port_area[k] = to[p->port_area[k]] - 1;
    p->n_areas = n;
}

/* Components by area: those of an area are a stretch of `order`; a component that has sheets is in
 * each of them. */
static void put_in_order(still_pages *p)
{
    uint32_t used = 0;
    for (uint32_t a = 0; a <= p->n_areas; a++) p->first[a] = 0;
    for (uint32_t c = 0; c < p->plant->n_comps; c++)
        for (uint32_t k = 0; p->area_of[c] != STILL_NONE && k < p->sheets[p->area_of[c]]; k++)
            p->first[p->area_of[c] + k]++;
    for (uint32_t a = 0; a <= p->n_areas; a++) {
        uint32_t size = p->first[a];
        p->first[a] = used;
        used += size;
    }
    for (uint32_t c = 0; c < p->plant->n_comps; c++)
        for (uint32_t k = 0; p->area_of[c] != STILL_NONE && k < p->sheets[p->area_of[c]]; k++)
            p->order[p->first[p->area_of[c] + k]++] = c;
    for (uint32_t a = p->n_areas; a > 0; a--) p->first[a] = p->first[a - 1];
    p->first[0] = 0;
}

/* @param to, many  by area, set to 0 */
static still_status finish(const cutter *w, uint32_t *to, uint32_t *many)
{
    still_pages *p = w->p;
    size_t most = p->n_areas;
    p->sheet = STILL_ARENA_NEW(&p->arena, most, uint32_t);
    p->sheets = STILL_ARENA_NEW(&p->arena, most, uint32_t);
    p->first = STILL_ARENA_NEW(&p->arena, most + 1, uint32_t);
    p->order = STILL_ARENA_NEW(&p->arena, p->plant->n_comps + most, uint32_t);
    if (!p->sheet || !p->sheets || !p->first || !p->order) return STILL_E_NOMEM;
    for (size_t i = 0; i < w->n_splits; i++) many[w->splits[i].first] = w->splits[i].n;
    number(p, to, many);
    put_in_order(p);
    return STILL_OK;
}

/* Lists of the components of each area, and their sizes. */
static void fill(joiner *j)
{
    const still_pages *p = j->w->p;
    for (uint32_t a = 0; a < p->n_areas; a++) j->head[a] = STILL_NONE;
    for (uint32_t c = 0; c < p->plant->n_comps; c++) {
        uint32_t area = p->area_of[c];
        if (area == STILL_NONE) continue;
        j->sizes[area]++;
        j->next[c] = j->head[area];
        j->head[area] = c;
    }
    for (size_t i = 0; i < j->w->n_splits; i++) j->sizes[j->w->splits[i].first] = 0;
}

still_status still_pages_join(cutter *w)
{
    uint32_t n = w->p->n_areas;
    joiner j = {.w = w,
                .near = still_calloc(n, sizeof(int64_t)),
                .sizes = still_calloc(n, sizeof(uint32_t)),
                .tried = still_calloc(n, sizeof(uint32_t)),
                .head = still_calloc(n, sizeof(uint32_t)),
                .next = still_calloc(w->p->plant->n_comps, sizeof(uint32_t)),
                .met = still_calloc(n, sizeof(uint32_t))};
    still_status status = STILL_E_NOMEM;
    if (!j.near || !j.sizes || !j.tried || !j.head || !j.next || !j.met) goto out;
    status = STILL_OK;
    fill(&j);
    for (uint32_t a = 0; a < n && status == STILL_OK; a++) status = join_area(&j, a);
    memset(j.tried, 0, n * sizeof j.tried[0]);
    memset(j.met, 0, n * sizeof j.met[0]);
    if (status == STILL_OK) status = finish(w, j.tried, j.met);
out:
    still_free(j.near);
    still_free(j.sizes);
    still_free(j.tried);
    still_free(j.head);
    still_free(j.next);
    still_free(j.met);
    return status;
}
