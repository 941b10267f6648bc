/* The pages of a picture of closed-in liquid: index, areas, close-ups. */
#include "pages.h"

#include "alloc.h"
#include "diagram.h"

#include <string.h>

/** Numbers of four digits stand for those that are not known while pages are cut. */
#define WIDEST 8888

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
    const char *text = NULL;
    uint32_t n = 0, first = STILL_NONE;
    for (uint32_t c = 0; c < p->plant->n_comps; c++) {
        if (p->area_of[c] != area) continue;
        unsigned cls = p->plant->comps[c].cls;
        if (first == STILL_NONE) first = c;
        if (cls != STILL_CLASS_VESSEL && cls != STILL_CLASS_EXCHANGER && cls != STILL_CLASS_PUMP &&
            cls != STILL_CLASS_COMPRESSOR)
            continue;
        if (n++ >= NAMED) continue;
        text = still_arena_printf(&p->arena, "%s%s%s", text == NULL ? "" : text,
                                  text == NULL ? "" : ", ", still_id_of(p->plant, c));
        if (text == NULL) return NULL;
    }
    if (n > NAMED) return still_arena_printf(&p->arena, "%s and %u more", text, n - NAMED);
    return n > 0 ? text : still_arena_printf(&p->arena, "%s", still_id_of(p->plant, first));
}

/** Does the whole have room on A3 at a size that can be read? */
static still_status one_page(const still_pages *p, bool *fits)
{
    uint32_t n = 0;
    for (uint32_t c = 0; c < p->plant->n_comps; c++) n += !is_spool(p, c);
    *fits = n == 0 || n > STILL_PAGES_MOST;
    if (*fits || n > STILL_DIAGRAM_MOST / 2) return STILL_OK;
    still_canvas canvas = {0};
    still_status status = still_diagram_coverage(&canvas, p->cov, p->plant, STILL_NONE, 0);
    *fits = still_pages_on_a3(&canvas);
    still_canvas_clear(&canvas);
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
    p->area_of = STILL_ARENA_NEW(&p->arena, plant->n_comps, uint32_t);
    if (p->area_of == NULL) return STILL_E_NOMEM;
    status = still_pages_cut(p);
    if (status != STILL_OK) return status;
    p->names = STILL_ARENA_NEW(&p->arena, p->n_areas, const char *);
    p->sizes = STILL_ARENA_NEW(&p->arena, p->n_areas, uint32_t);
    if (p->names == NULL || p->sizes == NULL) return STILL_E_NOMEM;
    for (uint32_t a = 0; a < p->n_areas; a++) {
        p->names[a] = name_area(p, a);
        if (p->names[a] == NULL) return STILL_E_NOMEM;
        p->sizes[a] = 0;
    }
    for (uint32_t c = 0; c < plant->n_comps; c++)
        if (!is_spool(p, c)) p->sizes[p->area_of[c]]++;
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
    return p->n_index == 0 ? WIDEST : p->n_index + area + 1;
}

still_status still_pages_draw(still_canvas *out, const still_pages *p, uint32_t page)
{
    if (p->n_areas == 0) return still_diagram_coverage(out, p->cov, p->plant, STILL_NONE, 0);
    if (page <= p->n_index) return still_pages_index(out, p, page);
    page -= p->n_index;
    if (page <= p->n_areas) return still_diagram_area(out, p, page - 1);
    return still_diagram_coverage(out, p->cov, p->plant, page - p->n_areas - 1, 0);
}
