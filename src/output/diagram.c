#include "diagram.h"

#include "alloc.h"
#include "output.h"
#include "pages.h"
#include "paint.h"
#include "picture.h"

#include <math.h>

/** Boxes of symbols and labels that fill more than this part of the drawing's room on A3 are not
 *  laid out to see whether they have room there: on the demo plants none had beyond 0.32, and of a
 *  generated plant of 100,000 components one page in 11,525 is there for it. It saves a third of
 *  the layouts, the largest ones; whether what is below has room is tried. */
#define CROWDED (0.4 * 1774.0 * 785.0)

/** While pages are cut: true where a layout would tell nothing new. */
static bool crowded(const still_dia *d)
{
    if (d->pages == NULL || d->pages->names != NULL) return false;
    return still_diagram_area_of(d) > CROWDED;
}

double still_diagram_area_of(const still_dia *d)
{
    double sum = 0.0;
    for (size_t v = 0; v < d->n_nodes; v++) sum += d->nodes[v].width * d->nodes[v].half * 2.0;
    return sum;
}

static still_status arrange(still_dia *d)
{
    still_status status = still_diagram_graph(d);
    if (status == STILL_OK) status = still_diagram_sheet(d);
    if (status == STILL_OK && d->cov != NULL) status = still_diagram_speakers(d);
    if (status == STILL_OK) status = still_diagram_orient(d);
    d->full = d->most_area > 0.0 ? still_diagram_area_of(d) > d->most_area : crowded(d);
    if (status != STILL_OK || d->full) return status;
    still_diagram_runs(d);
    status = still_diagram_layout(d);
    return status == STILL_OK ? still_diagram_route(d) : status;
}

still_status still_diagram_arrange(still_dia *d)
{
    still_status status = arrange(d);
    if (status != STILL_OK || d->full || !d->reordered) return status;
    still_dia moved = *d;
    d->nodes = NULL;
    d->edges = NULL;
    d->list = NULL;
    d->n_nodes = d->cap_nodes = d->n_edges = d->cap_edges = d->n_list = 0;
    d->plain_order = true;
    status = arrange(d);
    bool keep = status == STILL_OK && still_diagram_crossings(&moved) > still_diagram_crossings(d);
    still_free(keep ? moved.nodes : d->nodes);
    still_free(keep ? moved.edges : d->edges);
    if (keep) return status;
    moved.arena = d->arena;
    *d = moved;
    return status;
}

/** The steps that follow the choice of what is drawn. */
static still_status make(still_canvas *out, still_dia *d, still_status status)
{
    if (status == STILL_OK) status = still_diagram_arrange(d);
    if (status == STILL_OK && d->full) {
        out->width_mm = out->height_mm = HUGE_VAL;
        goto out;
    }
    if (status == STILL_OK) still_diagram_page(out, d);
    if (status == STILL_OK && out->failed) status = STILL_E_NOMEM;
out:
    still_free(d->nodes);
    still_free(d->edges);
    still_arena_clear(&d->arena);
    return status;
}

still_status still_diagram_plan(still_canvas *out, const still_record *r, const still_plant *plant)
{
    still_dia d = {.r = r, .plant = plant};
    still_arena_init(&d.arena);
    d.arena.messages = d.r->messages;
    return make(out, &d, still_diagram_pick(&d));
}

still_status still_diagram_plant(still_canvas *out, const still_plant *plant, uint32_t around,
                                 unsigned depth)
{
    const char *target[1] = {around == STILL_NONE ? "" : still_id_of(plant, around)};
    still_record r = {.program = "stillset",
                      .version = still_version(),
                      .plant_id = still_text(plant, plant->id),
                      .plant_name = still_text(plant, plant->name),
                      .plant_revision = still_text(plant, plant->revision),
                      .plant_digest = plant->digest,
                      .state_digest = "",
                      .targets = {target, around == STILL_NONE ? 0 : 1},
                      .feasible = true};
    still_dia d = {.r = &r, .plant = plant, .bare = true};
    still_arena_init(&d.arena);
    d.arena.messages = d.r->messages;
    return make(out, &d, still_diagram_pick_around(&d, around, depth));
}

/** What the page says of a plant of which closed-in liquid is drawn. */
static still_record head_of(const still_coverage_record *cov, const char **target, size_t n)
{
    return (still_record){.program = cov->program,
                          .version = cov->version,
                          .plant_id = cov->plant_id,
                          .plant_name = cov->plant_name,
                          .plant_revision = cov->plant_revision,
                          .plant_digest = cov->plant_digest,
                          .state_digest = cov->state_digest,
                          .found = cov->found,
                          .n_found = cov->n_found,
                          .targets = {target, n},
                          .feasible = true};
}

still_status still_diagram_coverage(still_canvas *out, const still_coverage_record *cov,
                                    const still_plant *plant, uint32_t focus, unsigned depth)
{
    const char *target[1] = {focus == STILL_NONE ? "" : cov->segments[focus].name};
    still_record r = head_of(cov, target, focus == STILL_NONE ? 0 : 1);
    still_dia d = {.r = &r, .plant = plant, .bare = true, .cov = cov, .focus = focus};
    still_arena_init(&d.arena);
    d.arena.messages = d.r->messages;
    return make(out, &d, still_diagram_pick_cover(&d, depth));
}

still_status still_diagram_words(still_canvas *out, const still_coverage_record *cov,
                                 const still_plant *plant, uint32_t focus)
{
    const char *target[1] = {cov->segments[focus].name};
    still_record r = head_of(cov, target, 1);
    still_dia d = {.r = &r, .plant = plant, .bare = true, .cov = cov, .focus = focus};
    still_diagram_page(out, &d);
    return out->failed ? STILL_E_NOMEM : STILL_OK;
}

/** Leave what all pages share as it was found. */
static void forget(const still_pages *p, const uint32_t *list, size_t n)
{
    for (size_t i = 0; i < n; i++) {
        const still_comp *c = &p->plant->comps[list[i]];
        p->mark[list[i]] &= (uint8_t)~STILL_MARK_SHOW;
        p->node_of[list[i]] = STILL_NONE;
        for (uint32_t k = 0; k < c->b; k++) {
            uint32_t spool = p->plant->ports[c->a + k].spool;
            if (spool == STILL_NONE) continue;
            p->node_of[spool] = STILL_NONE;
            p->role[spool] &= (uint8_t)~STILL_ROLE_SPEAKS;
        }
    }
}

still_status still_diagram_area(still_canvas *out, const still_pages *pages, uint32_t area,
                                const uint32_t *list, size_t n)
{
    const still_coverage_record *cov = pages->cov;
    const char *name[1] = {pages->names != NULL ? pages->names[area] : ""};
    still_record r = head_of(cov, name, 1);
    still_dia d = {.r = &r,
                   .plant = pages->plant,
                   .bare = true,
                   .cov = cov,
                   .focus = STILL_NONE,
                   .pages = pages,
                   .area = area,
                   .mark = pages->mark,
                   .role = pages->role,
                   .part = pages->part,
                   .nth = pages->nth,
                   .node_of = pages->node_of,
                   .list = list,
                   .n_list = n,
                   .n_shown = n};
    still_arena_init(&d.arena);
    d.arena.messages = d.r->messages;
    for (size_t i = 0; i < n; i++) pages->mark[list[i]] |= STILL_MARK_SHOW;
    still_status status = make(out, &d, STILL_OK);
    forget(pages, list, n);
    return status;
}

uint32_t still_picture_left_out(const still_plant *plant)
{
    uint32_t n = 0;
    for (uint32_t c = 0; c < plant->n_comps; c++) n += plant->comps[c].cls != STILL_CLASS_SPOOL;
    return n > STILL_DIAGRAM_MOST_BARE ? n - STILL_DIAGRAM_MOST_BARE : 0;
}

still_status still_picture_pages(still_buf *out, const still_coverage_record *cov,
                                 const still_plant *plant, uint32_t page, still_picture form,
                                 uint32_t *n_pages)
{
    still_pages pages;
    still_canvas canvas = {0};
    still_status status = still_pages_make(&pages, cov, plant);
    if (status == STILL_OK) *n_pages = still_pages_count(&pages);
    if (status == STILL_OK && out != NULL) {
        if (page == 0)
            status = still_paint_pdf_pages(out, &pages);
        else if (page <= *n_pages)
            status =
                still_picture_convert(out, &canvas, form, still_pages_draw(&canvas, &pages, page));
        else
            status = STILL_E_USAGE;
    }
    still_pages_clear(&pages);
    return status;
}

still_status still_picture_write(still_buf *out, const still_record *r, const still_plant *plant,
                                 still_picture form)
{
    still_canvas canvas = {0};
    return still_picture_convert(out, &canvas, form, still_diagram_plan(&canvas, r, plant));
}

still_status still_picture_plant(still_buf *out, const still_plant *plant, uint32_t around,
                                 unsigned depth, still_picture form)
{
    still_canvas canvas = {0};
    return still_picture_convert(out, &canvas, form,
                                 still_diagram_plant(&canvas, plant, around, depth));
}

still_status still_picture_coverage(still_buf *out, const still_coverage_record *cov,
                                    const still_plant *plant, uint32_t focus, unsigned depth,
                                    still_picture form)
{
    still_canvas canvas = {0};
    return still_picture_convert(out, &canvas, form,
                                 still_diagram_coverage(&canvas, cov, plant, focus, depth));
}
