#include "diagram.h"

#include "alloc.h"
#include "output.h"
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
                      .targets = {target, focus == STILL_NONE ? 0 : 1},
                      .feasible = true};
    still_dia d = {.r = &r, .plant = plant, .bare = true, .cov = cov, .focus = focus};
    still_arena_init(&d.arena);
    return make(out, &d, still_diagram_pick_cover(&d, depth));
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
