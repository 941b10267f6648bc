/* Levels (E3).
 * Problem: liquid runs only downhill; how high does it stand at each place once no more runs out?
 * Method: priority flood. The level of a place is the least, over all ways to the outlet, of the
 * highest elevation on the way. Places are taken from a heap, lowest level first, beginning with
 * the outlet; a neighbour q of the place p taken gets max(elevation(q), level(p)) when it is first
 * met. Why it is right: a way out of a pool leads over its lowest sill, and the pool stands as high
 * as that. Levels never fall in the order in which places are taken, so the first value that a
 * place gets is its least (Dijkstra's argument with a maximum in place of a sum). A place of
 * unknown height is no way: what is shown without it stands, since a way more can only lower a
 * level. Source: Barnes, Lehman, Mulla 2014, Priority-Flood, doi 10.1016/j.cageo.2013.04.024.
 * Assumptions: a pipe runs straight between its ends; one that dips is only its two ends.
 * Cost: n log n for n ports of the space. */
#include "levels.h"

#include "alloc.h"

#include <math.h>

still_status still_levels_init(still_levels *l, const still_space *s)
{
    const still_plant *plant = s->plant;
    l->level = still_calloc(plant->n_ports, sizeof l->level[0]);
    l->heap = still_calloc(s->n_ports, sizeof l->heap[0]);
    l->seen = still_calloc(plant->n_ports, 1);
    l->mark = still_calloc(plant->n_comps, sizeof l->mark[0]);
    l->side_mark = still_calloc((size_t)plant->n_sides + 1, sizeof l->side_mark[0]);
    l->list = still_calloc((size_t)s->n_ports * 2 + 2, sizeof l->list[0]);
    return l->level && l->heap && l->seen && l->mark && l->side_mark && l->list ? STILL_OK
                                                                                : STILL_E_NOMEM;
}

void still_levels_clear(still_levels *l)
{
    still_free(l->level);
    still_free(l->heap);
    still_free(l->seen);
    still_free(l->mark);
    still_free(l->side_mark);
    still_free(l->list);
    *l = (still_levels){0};
}

static void swap(uint32_t *heap, uint32_t a, uint32_t b)
{
    uint32_t kept = heap[a];
    heap[a] = heap[b];
    heap[b] = kept;
}

static void push(still_levels *l, uint32_t *n, uint32_t port)
{
    uint32_t at = (*n)++;
    l->heap[at] = port;
    for (; at > 0 && l->level[l->heap[at]] < l->level[l->heap[(at - 1) / 2]]; at = (at - 1) / 2)
        swap(l->heap, at, (at - 1) / 2);
}

static uint32_t pop(still_levels *l, uint32_t *n)
{
    uint32_t top = l->heap[0], at = 0;
    l->heap[0] = l->heap[--*n];
    for (;;) {
        uint32_t least = at, left = 2 * at + 1;
        for (uint32_t c = left; c < left + 2 && c < *n; c++)
            if (l->level[l->heap[c]] < l->level[l->heap[least]]) least = c;
        if (least == at) return top;
        swap(l->heap, at, least);
        at = least;
    }
}

/* A self-closing valve between two of its own ports, which nobody holds open. */
static bool held_shut(const still_space *s, const still_drains *drains, uint32_t p, uint32_t q)
{
    uint32_t comp = s->plant->ports[p].comp;
    const still_comp *c = &s->plant->comps[comp];
    if (s->plant->ports[q].comp != comp || c->cls != STILL_CLASS_VALVE ||
        c->kind != STILL_KIND_SELF_CLOSING || q == still_port_across(s->plant, p))
        return false;
    for (uint32_t w = 0; w < drains->n; w++)
        for (uint32_t i = 0; i < drains->ways[w].n; i++)
            if (drains->ways[w].items[i] == comp) return false;
    return true;
}

void still_levels_settle(still_levels *l, const still_space *s, const still_drains *drains)
{
    uint32_t n = 0;
    for (uint32_t i = 0; i < s->n_ports; i++) l->level[s->ports[i]] = (double)INFINITY;
    for (uint32_t i = 0; i < drains->n; i++) {
        double height = still_port_elevation_m(s->plant, drains->outlets[i]);
        if (isnan(height)) continue;
        l->level[drains->outlets[i]] = height;
        push(l, &n, drains->outlets[i]);
    }
    while (n > 0) {
        uint32_t p = pop(l, &n), k = 0, q;
        while ((q = still_space_next(s, p, STILL_PASS_DRAIN, &k)) != STILL_NONE) {
            double height = still_port_elevation_m(s->plant, q);
            if (isnan(height) || l->level[q] < (double)INFINITY) continue;
            if (held_shut(s, drains, p, q)) continue;
            l->level[q] = fmax(l->level[p], height);
            push(l, &n, q);
        }
    }
}

bool still_levels_known(const still_levels *l, const still_plant *plant, uint32_t port)
{
    return l->level[port] < (double)INFINITY && !isnan(still_port_elevation_m(plant, port));
}

bool still_levels_wet(const still_levels *l, const still_plant *plant, uint32_t port)
{
    return still_levels_known(l, plant, port) &&
           still_port_elevation_m(plant, port) < l->level[port] - STILL_LEVEL_TOLERANCE_M;
}
