#include "diagram.h"

#include "alloc.h"
#include "output.h"
#include "pages.h"
#include "paint.h"
#include "picture.h"

/** The steps that follow the choice of what is drawn. */
static still_status make(still_canvas *out, still_dia *d, still_status status)
{
    if (status == STILL_OK) status = still_diagram_graph(d);
    if (status == STILL_OK) status = still_diagram_sheet(d);
    if (status == STILL_OK && d->cov != NULL) still_diagram_speakers(d);
    if (status == STILL_OK) status = still_diagram_orient(d);
    if (status == STILL_OK) still_diagram_runs(d);
    if (status == STILL_OK) status = still_diagram_layout(d);
    if (status == STILL_OK) status = still_diagram_route(d);
    if (status == STILL_OK) still_diagram_page(out, d);
    if (status == STILL_OK && out->failed) status = STILL_E_NOMEM;
    still_free(d->nodes);
    still_free(d->edges);
    still_arena_clear(&d->arena);
    return status;
}

still_status still_diagram_plan(still_canvas *out, const still_record *r, const still_plant *plant)
{
    still_dia d = {.r = r, .plant = plant};
    still_arena_init(&d.arena);
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
    return make(out, &d, still_diagram_pick_around(&d, around, depth));
}

still_status still_diagram_coverage(still_canvas *out, const still_coverage_record *cov,
                                    const still_plant *plant, uint32_t focus, unsigned depth)
{
    const char *target[1] = {focus == STILL_NONE ? "" : cov->segments[focus].name};
    still_record r = {.program = cov->program,
                      .version = cov->version,
                      .plant_id = cov->plant_id,
                      .plant_name = cov->plant_name,
                      .plant_revision = cov->plant_revision,
                      .plant_digest = cov->plant_digest,
                      .state_digest = cov->state_digest,
                      .targets = {target, focus == STILL_NONE ? 0 : 1},
                      .feasible = true};
    still_dia d = {.r = &r, .plant = plant, .bare = true, .cov = cov, .focus = focus};
    still_arena_init(&d.arena);
    return make(out, &d, still_diagram_pick_cover(&d, depth));
}

still_status still_diagram_area(still_canvas *out, const still_pages *pages, uint32_t area)
{
    const still_coverage_record *cov = pages->cov;
    const char *name[1] = {pages->names != NULL ? pages->names[area] : ""};
    still_record r = {.program = cov->program,
                      .version = cov->version,
                      .plant_id = cov->plant_id,
                      .plant_name = cov->plant_name,
                      .plant_revision = cov->plant_revision,
                      .plant_digest = cov->plant_digest,
                      .state_digest = cov->state_digest,
                      .targets = {name, 1},
                      .feasible = true};
    still_dia d = {.r = &r,
                   .plant = pages->plant,
                   .bare = true,
                   .cov = cov,
                   .focus = STILL_NONE,
                   .pages = pages,
                   .area = area};
    still_arena_init(&d.arena);
    return make(out, &d, still_diagram_pick_area(&d));
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
