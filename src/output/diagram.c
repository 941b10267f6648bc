#include "output.h"

#include "alloc.h"
#include "diagram.h"

static still_status make(still_dia *d)
{
    still_status status = still_diagram_pick(d);
    if (status == STILL_OK) status = still_diagram_graph(d);
    if (status == STILL_OK) status = still_diagram_orient(d);
    if (status == STILL_OK) status = still_diagram_layout(d);
    if (status == STILL_OK) status = still_diagram_route(d);
    return status;
}

still_status still_svg_write(still_buf *out, const still_record *r, const still_plant *plant)
{
    still_dia d = {.r = r, .plant = plant};
    still_buf text = STILL_BUF_INIT;
    still_arena_init(&d.arena);
    still_status status = make(&d);
    if (status == STILL_OK) still_diagram_page(&text, &d);
    if (status == STILL_OK && !text.failed) still_buf_addn(out, text.text, text.len);
    if (status == STILL_OK && (text.failed || out->failed)) status = STILL_E_NOMEM;
    still_buf_clear(&text);
    still_free(d.nodes);
    still_free(d.edges);
    still_arena_clear(&d.arena);
    return status;
}
