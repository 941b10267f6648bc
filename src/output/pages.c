/* The pages of a picture of closed-in liquid: index, areas, close-ups. */
#include "pages.h"

#include "alloc.h"
#include "diagram.h"

#include <stdlib.h>
#include <string.h>

/** Stands for the numbers that are not known while pages are cut: as wide as any. */
enum { WIDEST = 8888, WIDEST_MANY = 888888, MANY = 20000 };

static bool is_spool(const still_pages *p, uint32_t c)
{
    return p->plant->comps[c].cls == STILL_CLASS_SPOOL;
}

static uint32_t count_gaps(const still_coverage_record *cov)
{
    uint32_t n = 0;
    while (n < cov->n_segments && still_diagram_gap(cov, n) != 0) n++;
    return n;
}

bool still_pages_on_a3(const still_canvas *c)
{
    return c->width_mm <= 420.0 && c->height_mm <= 298.0;
}

/** Of an area, what a person looks for: its vessels and exchangers, else its first component. */
static const char *name_area(still_pages *p, uint32_t area)
{
    enum { NAMED = 3 };
    const uint32_t *list = p->order + p->first[area];
    const char *text = NULL;
    uint32_t n = 0;
    if (p->sheet[area] != 0)
        return still_arena_printf(&p->arena, "%s, sheet %u of %u", still_id_of(p->plant, list[0]),
                                  p->sheet[area], p->sheets[area]);
    for (uint32_t i = 0; i < still_pages_size(p, area); i++) {
        unsigned cls = p->plant->comps[list[i]].cls;
        if (cls != STILL_CLASS_VESSEL && cls != STILL_CLASS_EXCHANGER && cls != STILL_CLASS_PUMP &&
            cls != STILL_CLASS_COMPRESSOR)
            continue;
        if (n++ >= NAMED) continue;
        text = still_arena_printf(&p->arena, "%s%s%s", text == NULL ? "" : text,
                                  text == NULL ? "" : ", ", still_id_of(p->plant, list[i]));
        if (text == NULL) return NULL;
    }
    if (n > NAMED) return still_arena_printf(&p->arena, "%s and %u more", text, n - NAMED);
    return n > 0 ? text : still_arena_printf(&p->arena, "%s", still_id_of(p->plant, list[0]));
}

/** Does the whole have room on A3 at a size that can be read? */
static still_status one_page(const still_pages *p, bool *fits)
{
    uint32_t n = 0;
    for (uint32_t c = 0; c < p->plant->n_comps; c++) n += !is_spool(p, c);
    *fits = n == 0;
    if (n > STILL_PAGES_MOST) return STILL_E_UNSUPPORTED;
    if (*fits || n > STILL_DIAGRAM_MOST / 2) return STILL_OK;
    still_canvas canvas = {0};
    still_status status = still_diagram_coverage(&canvas, p->cov, p->plant, STILL_NONE, 0);
    *fits = still_pages_on_a3(&canvas);
    still_canvas_clear(&canvas);
    return status;
}

/** What every page is drawn from. */
static still_status prepare(still_pages *p)
{
    uint32_t n = p->plant->n_comps;
    p->area_of = STILL_ARENA_NEW(&p->arena, n, uint32_t);
    p->port_area = STILL_ARENA_NEW(&p->arena, p->plant->n_ports, uint32_t);
    p->mark = still_arena_alloc(&p->arena, n, sizeof *p->mark);
    p->role = still_arena_alloc(&p->arena, n, sizeof *p->role);
    p->part = STILL_ARENA_NEW(&p->arena, n, uint32_t);
    p->nth = STILL_ARENA_NEW(&p->arena, n, uint32_t);
    p->node_of = STILL_ARENA_NEW(&p->arena, n, uint32_t);
    if (!p->area_of || !p->port_area || !p->mark || !p->role || !p->part || !p->nth || !p->node_of)
        return STILL_E_NOMEM;
    for (uint32_t c = 0; c < n; c++) p->node_of[c] = STILL_NONE;
    still_dia d = {.plant = p->plant,
                   .cov = p->cov,
                   .focus = STILL_NONE,
                   .mark = p->mark,
                   .role = p->role,
                   .part = p->part,
                   .nth = p->nth};
    still_diagram_fill_parts(&d);
    return STILL_OK;
}

/** Note an area of a segment, once. */
static uint32_t note(const still_pages *p, uint32_t area, uint32_t segment, uint32_t *last,
                     uint32_t *list, uint32_t n)
{
    for (uint32_t k = 0; k < p->sheets[area] && (k == 0 || p->sheet[area] == 1); k++) {
        if (last[area + k] == segment + 1) continue;
        last[area + k] = segment + 1;
        if (list != NULL) list[n] = area + k;
        n++;
    }
    return n;
}

/** Areas of one segment. @param list  NULL = count only @return how many */
static uint32_t find_areas(const still_pages *p, uint32_t segment, uint32_t *last, uint32_t *list)
{
    const still_plant *plant = p->plant;
    const still_strings ids = p->cov->segments[segment].ids;
    uint32_t n = 0;
    for (size_t i = 0; i < ids.n; i++) {
        uint32_t c = still_plant_find(plant, ids.items[i]).v;
        if (c == STILL_NONE) continue;
        if (!is_spool(p, c)) {
            n = note(p, p->area_of[c], segment, last, list, n);
            continue;
        }
        const uint32_t ends[2] = {plant->comps[c].a, plant->comps[c].b};
        for (int k = 0; k < 2; k++) {
            uint32_t area = still_pages_at_port(p, ends[k]);
            if (last[area] != segment + 1) {
                last[area] = segment + 1;
                if (list != NULL) list[n] = area;
                n++;
            }
        }
    }
    return n;
}

static int upward(const void *a, const void *b)
{
    const uint32_t *x = a, *y = b;
    return *x < *y ? -1 : *x > *y;
}

/** Areas that show a part of each segment. */
static still_status list_areas(still_pages *p)
{
    size_t n_segments = p->cov->n_segments, n = 0;
    uint32_t *last = still_calloc(p->n_areas, sizeof last[0]);
    p->shown_at = STILL_ARENA_NEW(&p->arena, n_segments + 1, uint32_t);
    still_status status = STILL_E_NOMEM;
    if (last == NULL || p->shown_at == NULL) goto out;
    for (uint32_t i = 0; i < n_segments; i++) n += find_areas(p, i, last, NULL);
    memset(last, 0, p->n_areas * sizeof last[0]);
    p->shown_on = STILL_ARENA_NEW(&p->arena, n, uint32_t);
    if (p->shown_on == NULL) goto out;
    p->shown_at[0] = 0;
    for (uint32_t i = 0; i < n_segments; i++) {
        uint32_t at = p->shown_at[i], k = find_areas(p, i, last, p->shown_on + at);
        if (k > 1) qsort(p->shown_on + at, k, sizeof p->shown_on[0], upward);
        p->shown_at[i + 1] = at + k;
    }
    status = STILL_OK;
out:
    still_free(last);
    return status;
}

still_status still_pages_make(still_pages *p, const still_coverage_record *cov,
                              const still_plant *plant)
{
    bool fits = false;
    *p = (still_pages){.plant = plant, .cov = cov};
    still_arena_init(&p->arena);
    still_status status = one_page(p, &fits);
    if (status != STILL_OK || fits) return status;
    status = prepare(p);
    if (status == STILL_OK) status = still_pages_cut(p);
    if (status == STILL_OK) status = list_areas(p);
    if (status != STILL_OK) return status;
    p->names = STILL_ARENA_NEW(&p->arena, p->n_areas, const char *);
    if (p->names == NULL) return STILL_E_NOMEM;
    for (uint32_t a = 0; a < p->n_areas; a++) {
        p->names[a] = name_area(p, a);
        if (p->names[a] == NULL) return STILL_E_NOMEM;
    }
    uint32_t gaps = count_gaps(cov);
    p->n_close = gaps <= STILL_PAGES_CLOSE_UPS ? gaps : 0;
    p->n_index = still_pages_index_size(p);
    return STILL_OK;
}

void still_pages_clear(still_pages *p)
{
    still_arena_clear(&p->arena);
    *p = (still_pages){0};
}

uint32_t still_pages_count(const still_pages *p)
{
    return p->n_areas == 0 ? 1 : p->n_index + p->n_areas + p->n_close;
}

uint32_t still_pages_of_area(const still_pages *p, uint32_t area)
{
    uint32_t widest = p->plant->n_comps > MANY ? WIDEST_MANY : WIDEST;
    return p->n_index == 0 ? widest : p->n_index + area + 1;
}

uint32_t still_pages_at_port(const still_pages *p, uint32_t port)
{
    return p->port_area[port] != STILL_NONE ? p->port_area[port]
                                            : p->area_of[p->plant->ports[port].comp];
}

uint32_t still_pages_size(const still_pages *p, uint32_t area)
{
    return p->first[area + 1] - p->first[area];
}

still_status still_pages_draw(still_canvas *out, const still_pages *p, uint32_t page)
{
    if (p->n_areas == 0) return still_diagram_coverage(out, p->cov, p->plant, STILL_NONE, 0);
    if (page <= p->n_index) return still_pages_index(out, p, page);
    page -= p->n_index + 1;
    if (page < p->n_areas)
        return still_diagram_area(out, p, page, p->order + p->first[page],
                                  still_pages_size(p, page));
    return still_pages_near(out, p, page - p->n_areas);
}
