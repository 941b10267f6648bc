/* Problem: cut a plant into areas, each of which has room on one page, so that few pipes are cut,
 * and none that a person would look for in one piece.
 *
 * Method: connected groups; one that has no room on a page is cut in two, again and again. To cut:
 * from two components far from each other two sides grow, the lighter one next; then components at
 * the cut change sides while that makes the cut lighter and neither side too small (the moves of
 * Kernighan and Lin 1970, one at a time). A pipe weighs more where it belongs to a gap, where both
 * ends say the same place (if most components say one), and where one end has no other pipe.
 * Whether a group has room is not estimated: it is laid out. At last neighbours are put together
 * again where both have room on one page.
 *
 * Cost: a few layouts a page; the rest is near linear in each group. */
#include "pages.h"

#include "alloc.h"
#include "diagram.h"

#include <string.h>

enum {
    MOST_TRIED = 90, /* larger groups are cut without being laid out */
    ROUNDS = 8,
    WEIGHS_GAP = 8,
    WEIGHS_PLACE = 3,
    WEIGHS_END = 20
};

typedef struct cutter {
    still_pages *p;
    uint32_t *part;  /* by component: worst segment, for spools */
    uint32_t *group; /* all components, group by group: a group is a stretch of it */
    uint32_t *queue, *dist;
    uint8_t *side; /* 0 = not in this group, 1, 2; 3 = not reached yet */
    bool by_place;
} cutter;

/* A pipe between two components, from one of them. */
static uint32_t beyond(const still_plant *plant, uint32_t port)
{
    uint32_t across = still_port_across(plant, port);
    return across == STILL_NONE ? STILL_NONE : plant->ports[across].comp;
}

static uint32_t n_pipes(const still_plant *plant, uint32_t c)
{
    uint32_t n = 0;
    for (uint32_t k = 0; k < plant->comps[c].b; k++)
        n += plant->ports[plant->comps[c].a + k].spool != STILL_NONE;
    return n;
}

static int64_t weight(const cutter *w, uint32_t port)
{
    const still_plant *plant = w->p->plant;
    uint32_t spool = plant->ports[port].spool, a = plant->ports[port].comp, b = beyond(plant, port);
    int64_t sum = 1;
    uint32_t part = w->part[spool];
    if (part != STILL_NONE && still_diagram_gap(w->p->cov, part) != 0) sum += WEIGHS_GAP;
    if (n_pipes(plant, a) == 1 || n_pipes(plant, b) == 1) sum += WEIGHS_END;
    const char *here = still_comp_t(plant, a, STILL_T_PLACE);
    if (w->by_place && here[0] != '\0' && strcmp(here, still_comp_t(plant, b, STILL_T_PLACE)) == 0)
        sum += WEIGHS_PLACE;
    return sum;
}

static still_status prepare(cutter *w)
{
    const still_plant *plant = w->p->plant;
    uint32_t n = plant->n_comps, said = 0, comps = 0;
    w->part = still_calloc(n, sizeof w->part[0]);
    w->group = still_calloc(n, sizeof w->group[0]);
    w->queue = still_calloc(n, sizeof w->queue[0]);
    w->dist = still_calloc(n, sizeof w->dist[0]);
    w->side = still_calloc(n, 1);
    if (!w->part || !w->group || !w->queue || !w->dist || !w->side) return STILL_E_NOMEM;
    for (uint32_t c = 0; c < n; c++) {
        w->part[c] = STILL_NONE;
        w->p->area_of[c] = STILL_NONE;
        if (plant->comps[c].cls == STILL_CLASS_SPOOL) continue;
        comps++;
        said += still_comp_t(plant, c, STILL_T_PLACE)[0] != '\0';
    }
    w->by_place = said * 2 > comps;
    for (uint32_t i = 0; i < w->p->cov->n_segments; i++)
        for (size_t k = 0; k < w->p->cov->segments[i].ids.n; k++) {
            uint32_t c = still_plant_find(plant, w->p->cov->segments[i].ids.items[k]).v;
            if (c != STILL_NONE && w->part[c] == STILL_NONE) w->part[c] = i;
        }
    return STILL_OK;
}

/* Breadth-first over what has side 3, from `start`, which gets side `to`. @return how many; the
 * last of the queue is one of the farthest */
static uint32_t spread(cutter *w, uint32_t start, uint8_t to)
{
    const still_plant *plant = w->p->plant;
    uint32_t n = 0;
    w->side[start] = to;
    w->queue[n++] = start;
    for (uint32_t i = 0; i < n; i++) {
        const still_comp *c = &plant->comps[w->queue[i]];
        for (uint32_t k = 0; k < c->b; k++) {
            uint32_t next = beyond(plant, c->a + k);
            if (next == STILL_NONE || w->side[next] != 3) continue;
            w->side[next] = to;
            w->queue[n++] = next;
        }
    }
    return n;
}

static void set_sides(cutter *w, const uint32_t *group, uint32_t n, uint8_t side)
{
    for (uint32_t i = 0; i < n; i++) w->side[group[i]] = side;
}

/* Both sides grow from their ends, the smaller one next; what neither reaches falls to side 1. */
static void grow(cutter *w, const uint32_t *group, uint32_t n, uint32_t one, uint32_t two)
{
    const still_plant *plant = w->p->plant;
    uint32_t *queues[2] = {w->queue, w->dist};
    uint32_t head[2] = {0, 0}, tail[2] = {1, 1};
    set_sides(w, group, n, 3);
    queues[0][0] = one;
    queues[1][0] = two;
    w->side[one] = 1;
    w->side[two] = 2;
    while (head[0] < tail[0] || head[1] < tail[1]) {
        int s = head[1] == tail[1] || (head[0] < tail[0] && tail[0] <= tail[1]) ? 0 : 1;
        const still_comp *c = &plant->comps[queues[s][head[s]++]];
        for (uint32_t k = 0; k < c->b; k++) {
            uint32_t next = beyond(plant, c->a + k);
            if (next == STILL_NONE || w->side[next] != 3) continue;
            w->side[next] = (uint8_t)(s + 1);
            queues[s][tail[s]++] = next;
        }
    }
    for (uint32_t i = 0; i < n; i++)
        if (w->side[group[i]] == 3) w->side[group[i]] = 1;
}

/* What a component's change of side takes off the weight of the cut. */
static int64_t gain(const cutter *w, uint32_t comp)
{
    const still_comp *c = &w->p->plant->comps[comp];
    int64_t sum = 0;
    for (uint32_t k = 0; k < c->b; k++) {
        uint32_t next = beyond(w->p->plant, c->a + k);
        if (next == STILL_NONE || next == comp || w->side[next] == 0) continue;
        sum += w->side[next] == w->side[comp] ? -weight(w, c->a + k) : weight(w, c->a + k);
    }
    return sum;
}

static void refine(cutter *w, const uint32_t *group, uint32_t n)
{
    uint32_t count[3] = {0, 0, 0}, least = (n + 2) / 3;
    for (uint32_t i = 0; i < n; i++) count[w->side[group[i]]]++;
    bool moved = true;
    for (int round = 0; moved && round < ROUNDS; round++) {
        moved = false;
        for (uint32_t i = 0; i < n; i++) {
            uint8_t from = w->side[group[i]];
            if (count[from] <= least || gain(w, group[i]) <= 0) continue;
            w->side[group[i]] = (uint8_t)(3 - from);
            count[from]--;
            count[3 - from]++;
            moved = true;
        }
    }
}

/* Put a group in order: side 1 first. @return how many there */
static uint32_t part_sides(cutter *w, uint32_t *group, uint32_t n)
{
    uint32_t first = 0, rest = 0;
    for (uint32_t i = 0; i < n; i++) {
        if (w->side[group[i]] == 1)
            group[first++] = group[i];
        else
            w->queue[rest++] = group[i];
    }
    memcpy(group + first, w->queue, rest * sizeof group[0]);
    return first;
}

/* Does a group have room on a page? It becomes area `area` for that. */
static still_status has_room(cutter *w, const uint32_t *group, uint32_t n, uint32_t area,
                             bool *fits)
{
    still_canvas canvas = {0};
    for (uint32_t i = 0; i < n; i++) w->p->area_of[group[i]] = area;
    still_status status = still_diagram_area(&canvas, w->p, area);
    *fits = still_pages_on_a3(&canvas);
    still_canvas_clear(&canvas);
    return status;
}

static void divide(cutter *w, uint32_t *group, uint32_t n, uint32_t *half)
{
    set_sides(w, group, n, 3);
    uint32_t met = spread(w, group[0], 1);
    if (met == n) {
        uint32_t one = w->queue[n - 1];
        set_sides(w, group, n, 3);
        (void)spread(w, one, 1);
        grow(w, group, n, one, w->queue[n - 1]);
        refine(w, group, n);
    } else {
        for (uint32_t i = 0; i < n; i++)
            if (w->side[group[i]] == 3) w->side[group[i]] = 2;
    }
    *half = part_sides(w, group, n);
    set_sides(w, group, n, 0);
}

/* Cut a group until each part has room. Areas are numbered in the order in which they are met. */
static still_status cut(cutter *w, uint32_t *group, uint32_t n)
{
    bool fits = false;
    uint32_t half = 0;
    still_status status = STILL_OK;
    /* Only what hangs together is an area; parts that do not are put together later. */
    set_sides(w, group, n, 3);
    uint32_t met = spread(w, group[0], 1);
    set_sides(w, group, n, 0);
    if (met == n && n <= MOST_TRIED) status = has_room(w, group, n, w->p->n_areas, &fits);
    if (status != STILL_OK) return status;
    if (met == n && (fits || n == 1)) {
        for (uint32_t i = 0; i < n; i++) w->p->area_of[group[i]] = w->p->n_areas;
        w->p->n_areas++;
        return STILL_OK;
    }
    for (uint32_t i = 0; i < n; i++) w->p->area_of[group[i]] = STILL_NONE;
    divide(w, group, n, &half);
    status = cut(w, group, half);
    return status == STILL_OK ? cut(w, group + half, n - half) : status;
}

/* Weight of the pipes between an area and each other one, in `near`. */
static uint32_t best_neighbour(const cutter *w, uint32_t area, int64_t *near, const uint32_t *sizes,
                               const uint8_t *tried)
{
    const still_plant *plant = w->p->plant;
    uint32_t best = STILL_NONE;
    for (uint32_t a = 0; a < w->p->n_areas; a++) near[a] = 0;
    for (uint32_t c = 0; c < plant->n_comps; c++) {
        if (w->p->area_of[c] != area) continue;
        for (uint32_t k = 0; k < plant->comps[c].b; k++) {
            uint32_t next = beyond(plant, plant->comps[c].a + k);
            if (next != STILL_NONE) near[w->p->area_of[next]] += weight(w, plant->comps[c].a + k);
        }
    }
    for (uint32_t a = 0; a < w->p->n_areas; a++) {
        if (a == area || sizes[a] == 0 || tried[a] || sizes[a] + sizes[area] > MOST_TRIED) continue;
        if (best == STILL_NONE || near[a] > near[best] ||
            (near[a] == near[best] && sizes[a] < sizes[best]))
            best = a;
    }
    return best;
}

/* Try to put an area into its best neighbours, a few of them. */
static still_status join_area(cutter *w, uint32_t area, int64_t *near, uint32_t *sizes,
                              uint8_t *tried)
{
    enum { TRIES = 5 };
    still_status status = STILL_OK;
    memset(tried, 0, w->p->n_areas);
    for (int i = 0; i < TRIES && status == STILL_OK; i++) {
        uint32_t into = best_neighbour(w, area, near, sizes, tried), n = 0;
        bool fits = false;
        if (into == STILL_NONE) return STILL_OK;
        tried[into] = 1;
        for (uint32_t c = 0; c < w->p->plant->n_comps; c++)
            if (w->p->area_of[c] == area) w->queue[n++] = c;
        status = has_room(w, w->queue, n, into, &fits);
        if (status == STILL_OK && fits) {
            sizes[into] += sizes[area];
            sizes[area] = 0;
            return STILL_OK;
        }
        for (uint32_t k = 0; k < n; k++) w->p->area_of[w->queue[k]] = area;
    }
    return status;
}

/* Number the areas that are left in the order of the plant file. */
static void number(cutter *w, uint32_t *to)
{
    uint32_t n = 0;
    for (uint32_t a = 0; a < w->p->n_areas; a++) to[a] = STILL_NONE;
    for (uint32_t c = 0; c < w->p->plant->n_comps; c++) {
        uint32_t area = w->p->area_of[c];
        if (area == STILL_NONE) continue;
        if (to[area] == STILL_NONE) to[area] = n++;
        w->p->area_of[c] = to[area];
    }
    w->p->n_areas = n;
}

static still_status join(cutter *w)
{
    uint32_t n = w->p->n_areas;
    uint32_t *sizes = still_calloc(n, sizeof sizes[0]), *to = still_calloc(n, sizeof to[0]);
    int64_t *near = still_calloc(n, sizeof near[0]);
    uint8_t *tried = still_calloc(n, 1);
    still_status status = STILL_E_NOMEM;
    if (sizes == NULL || to == NULL || near == NULL || tried == NULL) goto out;
    status = STILL_OK;
    for (uint32_t c = 0; c < w->p->plant->n_comps; c++)
        if (w->p->area_of[c] != STILL_NONE) sizes[w->p->area_of[c]]++;
    for (uint32_t a = 0; a < n && status == STILL_OK; a++)
        status = join_area(w, a, near, sizes, tried);
    number(w, to);
out:
    still_free(sizes);
    still_free(to);
    still_free(near);
    still_free(tried);
    return status;
}

still_status still_pages_cut(still_pages *p)
{
    cutter w = {.p = p};
    uint32_t n = 0;
    still_status status = prepare(&w);
    for (uint32_t c = 0; c < p->plant->n_comps && status == STILL_OK; c++)
        if (p->plant->comps[c].cls != STILL_CLASS_SPOOL) w.group[n++] = c;
    if (status == STILL_OK && n > 0) status = cut(&w, w.group, n);
    if (status == STILL_OK) status = join(&w);
    still_free(w.part);
    still_free(w.group);
    still_free(w.queue);
    still_free(w.dist);
    still_free(w.side);
    return status;
}
