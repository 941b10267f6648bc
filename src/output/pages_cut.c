/* Problem: cut a plant into areas, each of which has room on one page, so that few pipes are cut,
 * and none that a person would look for in one piece.
 *
 * Method: connected groups; one that has no room on a page is cut in two, again and again. To cut:
 * from two components far from each other two sides grow, the lighter one next; then components at
 * the cut change sides while that makes the cut lighter and neither side too small (the moves of
 * Kernighan and Lin 1970, one at a time). A pipe weighs more where it belongs to a gap, where both
 * ends say the same place (if most components say one), and where one end has no other pipe.
 * Whether a group has room is not estimated: it is laid out. One component that has no room by
 * itself has too many pipes: they are shared out over as few sheets as have room. At last
 * neighbours are put together again where both have room on one page (pages_join.c).
 *
 * Cost: a few layouts a page; the rest is linear in each group, and groups get smaller by a third
 * at least each time. */
#include "pages_cut.h"

#include "alloc.h"
#include "diagram.h"

#include <stdlib.h>
#include <string.h>

/** In place of the area of a pipe that will stand on another sheet. */
#define LATER (STILL_NONE - 1)

enum { ROUNDS = 8, WEIGHS_GAP = 8, WEIGHS_PLACE = 3, WEIGHS_END = 20 };

typedef still_pages_cutter cutter;

uint32_t still_pages_beyond(const still_plant *plant, uint32_t port)
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

int64_t still_pages_weight(const cutter *w, uint32_t port)
{
    const still_plant *plant = w->p->plant;
    uint32_t spool = plant->ports[port].spool, a = plant->ports[port].comp,
             b = still_pages_beyond(plant, port);
    int64_t sum = 1;
    uint32_t part = w->p->part[spool];
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
    w->group = still_calloc(n, sizeof w->group[0]);
    w->queue = still_calloc(n, sizeof w->queue[0]);
    w->dist = still_calloc(n, sizeof w->dist[0]);
    w->side = still_calloc(n, 1);
    if (!w->group || !w->queue || !w->dist || !w->side) return STILL_E_NOMEM;
    for (uint32_t c = 0; c < n; c++) {
        w->p->area_of[c] = STILL_NONE;
        if (plant->comps[c].cls == STILL_CLASS_SPOOL) continue;
        comps++;
        said += still_comp_t(plant, c, STILL_T_PLACE)[0] != '\0';
    }
    for (uint32_t k = 0; k < plant->n_ports; k++) w->p->port_area[k] = STILL_NONE;
    w->by_place = said * 2 > comps;
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
            uint32_t next = still_pages_beyond(plant, c->a + k);
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
            uint32_t next = still_pages_beyond(plant, c->a + k);
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
        uint32_t next = still_pages_beyond(w->p->plant, c->a + k);
        if (next == STILL_NONE || next == comp || w->side[next] == 0) continue;
        sum += w->side[next] == w->side[comp] ? -still_pages_weight(w, c->a + k)
                                              : still_pages_weight(w, c->a + k);
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

static int upward(const void *a, const void *b)
{
    const uint32_t *x = a, *y = b;
    return *x < *y ? -1 : *x > *y;
}

still_status still_pages_room(bool *fits, const cutter *w, uint32_t *list, uint32_t n)
{
    still_canvas canvas = {0};
    if (n > 1) qsort(list, n, sizeof list[0], upward);
    still_status status = still_diagram_area(&canvas, w->p, w->p->n_areas, list, n);
    *fits = still_pages_on_a3(&canvas);
    still_canvas_clear(&canvas);
    return status;
}

/* Cut a connected group in two. @return how many stand first */
static uint32_t divide(cutter *w, uint32_t *group, uint32_t n)
{
    set_sides(w, group, n, 3);
    (void)spread(w, group[0], 1);
    uint32_t one = w->queue[n - 1];
    set_sides(w, group, n, 3);
    (void)spread(w, one, 1);
    grow(w, group, n, one, w->queue[n - 1]);
    refine(w, group, n);
    uint32_t half = part_sides(w, group, n);
    set_sides(w, group, n, 0);
    return half;
}

/* Put pipes of a component on the sheet that is next, or on none yet. A pipe from a component to
 * itself stands on one sheet with both its ends. */
static void put_pipes(const cutter *w, uint32_t comp, const uint32_t *ports, uint32_t n,
                      uint32_t area)
{
    const still_plant *plant = w->p->plant;
    for (uint32_t i = 0; i < n; i++) {
        uint32_t across = still_port_across(plant, ports[i]);
        w->p->port_area[ports[i]] = area;
        if (plant->ports[across].comp == comp) w->p->port_area[across] = area;
    }
}

/* Sheets of a component for some of its pipes, in the order of its ports. */
static still_status share(cutter *w, uint32_t comp, const uint32_t *ports, uint32_t n)
{
    bool fits = n == 1;
    still_status status = STILL_OK;
    put_pipes(w, comp, ports, n, w->p->n_areas);
    if (!fits) status = still_pages_room(&fits, w, &comp, 1);
    if (status != STILL_OK) return status;
    if (fits) {
        w->p->n_areas++;
        return STILL_OK;
    }
    put_pipes(w, comp, ports, n, LATER);
    status = share(w, comp, ports, (n + 1) / 2);
    return status == STILL_OK ? share(w, comp, ports + (n + 1) / 2, n / 2) : status;
}

/* How many of the first pipes of a component have room on a sheet. */
static still_status most_pipes(cutter *w, uint32_t comp, const uint32_t *ports, uint32_t n,
                               uint32_t *most)
{
    bool fits = false;
    uint32_t m = n;
    still_status status = STILL_OK;
    while (m > 1 && !fits && status == STILL_OK) {
        m = (m + 1) / 2;
        put_pipes(w, comp, ports, n, LATER);
        put_pipes(w, comp, ports, m, w->p->n_areas);
        status = still_pages_room(&fits, w, &comp, 1);
    }
    for (*most = m; fits && m + 1 < n && status == STILL_OK;) {
        *most = m++;
        put_pipes(w, comp, ports, m, w->p->n_areas);
        status = still_pages_room(&fits, w, &comp, 1);
    }
    put_pipes(w, comp, ports, n, LATER);
    return status;
}

/* A component that has no room on a page: it stands on several, each with some of its pipes. */
static still_status split(cutter *w, uint32_t comp)
{
    const still_plant *plant = w->p->plant;
    const still_comp *c = &plant->comps[comp];
    uint32_t n = 0, *ports = still_calloc(c->b, sizeof ports[0]);
    if (ports == NULL ||
        !still_grow(&w->splits, &w->cap_splits, w->n_splits + 1, sizeof w->splits[0])) {
        still_free(ports);
        return STILL_E_NOMEM;
    }
    for (uint32_t k = 0; k < c->b; k++) {
        uint32_t port = c->a + k, across = still_port_across(plant, port);
        if (across == STILL_NONE) continue;
        if (plant->ports[across].comp != comp || port < across) ports[n++] = port;
    }
    still_pages_split *s = &w->splits[w->n_splits++];
    *s = (still_pages_split){comp, w->p->n_areas, 1};
    w->p->area_of[comp] = w->p->n_areas;
    still_status status = STILL_OK;
    uint32_t most = 1, done = 0;
    if (n > 1) status = most_pipes(w, comp, ports, n, &most);
    /* As few sheets as may do, each with as many pipes as the others. */
    for (uint32_t left = (n + most - 1) / most; left > 0 && status == STILL_OK; left--) {
        uint32_t some = (n - done + left - 1) / left;
        status = share(w, comp, ports + done, some);
        done += some;
    }
    if (n == 0) w->p->n_areas++;
    s->n = w->p->n_areas - s->first;
    still_free(ports);
    return status;
}

static still_status cut(cutter *w, uint32_t *group, uint32_t n);

/* Cut a connected group until each part has room. Areas are numbered in the order in which they are
 * met. */
static still_status cut_piece(cutter *w, uint32_t *group, uint32_t n)
{
    bool fits = false;
    still_status status = STILL_OK;
    if (n <= STILL_PAGES_TRIED) {
        memcpy(w->queue, group, n * sizeof group[0]);
        status = still_pages_room(&fits, w, w->queue, n);
    }
    if (status != STILL_OK) return status;
    if (fits) {
        for (uint32_t i = 0; i < n; i++) w->p->area_of[group[i]] = w->p->n_areas;
        w->p->n_areas++;
        return STILL_OK;
    }
    if (n == 1) return split(w, group[0]);
    uint32_t half = divide(w, group, n);
    status = cut(w, group, half);
    return status == STILL_OK ? cut(w, group + half, n - half) : status;
}

/* Put a group in order: what hangs together stands together. @return how many pieces, and in
 * `ends` where each ends (freed by the caller); 0 when memory is out */
static uint32_t pieces(cutter *w, uint32_t *group, uint32_t n, uint32_t **ends)
{
    uint32_t n_pieces = 0;
    set_sides(w, group, n, 3);
    for (uint32_t i = 0; i < n; i++) {
        if (w->side[group[i]] != 3) continue;
        uint32_t met = spread(w, group[i], 0);
        for (uint32_t k = 0; k < met; k++) w->dist[w->queue[k]] = n_pieces;
        n_pieces++;
    }
    uint32_t *at = still_calloc(n_pieces + 1, sizeof at[0]);
    if (at == NULL) return 0;
    for (uint32_t i = 0; i < n; i++) at[w->dist[group[i]] + 1]++;
    for (uint32_t k = 0; k < n_pieces; k++) at[k + 1] += at[k];
    for (uint32_t i = 0; i < n; i++) w->queue[at[w->dist[group[i]]]++] = group[i];
    memcpy(group, w->queue, n * sizeof group[0]);
    *ends = at;
    return n_pieces;
}

/* Cut a group that may fall into pieces: only what hangs together is an area; areas that do not are
 * put together later. */
static still_status cut(cutter *w, uint32_t *group, uint32_t n)
{
    uint32_t *ends = NULL, from = 0;
    uint32_t n_pieces = pieces(w, group, n, &ends);
    still_status status = n_pieces == 0 ? STILL_E_NOMEM : STILL_OK;
    for (uint32_t i = 0; i < n_pieces && status == STILL_OK; i++) {
        status = cut_piece(w, group + from, ends[i] - from);
        from = ends[i];
    }
    still_free(ends);
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
    if (status == STILL_OK) status = still_pages_join(&w);
    still_free(w.group);
    still_free(w.queue);
    still_free(w.dist);
    still_free(w.side);
    still_free(w.splits);
    return status;
}
