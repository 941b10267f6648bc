/* Closed-in liquid of a whole plant, written and drawn: the public calls. */
#include "coverage_inside.h"
#include "diags.h"
#include "output.h"
#include "shared.h"

#include <string.h>

#define REFUSE(...)                                                                                \
    do {                                                                                           \
        still_diags_add(diags, STILL_SEV_ERROR, "STILL-USE", "", 0, 0, "", NULL, __VA_ARGS__);     \
        return STILL_E_USAGE;                                                                      \
    } while (0)

static bool is_picture(still_format format)
{
    return format == STILL_FORMAT_SVG || format == STILL_FORMAT_PNG || format == STILL_FORMAT_PDF;
}

still_status still_coverage_write(char **bytes, size_t *len, const still_coverage *w,
                                  still_format format, still_diags *diags)
{
    still_buf buf = STILL_BUF_INIT;
    still_status status = STILL_OK;
    (void)diags;
    if (format == STILL_FORMAT_TEXT)
        still_relief_text_write(&buf, &w->record, NULL);
    else if (format == STILL_FORMAT_JSON)
        status = still_relief_json_write(&buf, &w->record);
    else if (format == STILL_FORMAT_CSV)
        still_relief_csv_write(&buf, &w->record);
    else
        return STILL_E_UNSUPPORTED;
    return still_give(bytes, len, &buf, status);
}

still_status still_coverage_write_text(char **bytes, size_t *len, const still_coverage *w,
                                       const still_style *style)
{
    still_buf buf = STILL_BUF_INIT;
    still_relief_text_write(&buf, &w->record, style);
    return still_give(bytes, len, &buf, STILL_OK);
}

still_status still_coverage_write_table(char **bytes, size_t *len, const still_coverage *w,
                                        still_coverage_table table)
{
    still_buf buf = STILL_BUF_INIT;
    switch (table) {
    case STILL_TABLE_SEGMENTS: still_relief_csv_write(&buf, &w->record); break;
    case STILL_TABLE_PLACES: still_relief_csv_places(&buf, &w->record); break;
    case STILL_TABLE_SINCE: still_relief_csv_since(&buf, &w->record); break;
    }
    return still_give(bytes, len, &buf, STILL_OK);
}

static bool among(still_strings list, const char *id)
{
    for (size_t i = 0; i < list.n; i++)
        if (strcmp(list.items[i], id) == 0) return true;
    return false;
}

/* The worst part that an id belongs to, else the worst that it shuts in. */
static uint32_t part_of(const still_coverage_record *r, const char *id)
{
    for (uint32_t i = 0; i < r->n_segments; i++)
        if (among(r->segments[i].ids, id)) return i;
    for (uint32_t i = 0; i < r->n_segments; i++)
        if (among(r->segments[i].closed_by, id)) return i;
    return STILL_NONE;
}

static still_status no_part(const still_coverage *w, const char *id, still_diags *diags)
{
    if (still_plant_find(w->plant, id).v == STILL_NONE)
        return still_refuse_comp(w->plant, id, "", diags);
    still_diags_add(diags, STILL_SEV_ERROR, "STILL-USE", "", 0, 0, "", NULL,
                    "\"%s\" is in no part that can be shut in, and shuts none in; relief without "
                    "--around lists the parts",
                    id);
    return STILL_E_NO_COMP;
}

/* Pages of a plant that is too large for them. */
static still_status too_large(still_status status, still_diags *diags)
{
    if (status == STILL_E_UNSUPPORTED)
        still_diags_add(diags, STILL_SEV_ERROR, "STILL-USE", "", 0, 0, "", NULL,
                        "a plant of more than %d components is not drawn on pages; one part of it "
                        "can be drawn (--around)",
                        STILL_PICTURE_PAGES_MOST);
    return status;
}

uint32_t still_coverage_left_out(const still_coverage *w)
{
    return still_picture_left_out(w->plant);
}

still_status still_coverage_pages(uint32_t *n, const still_coverage *w)
{
    return still_picture_pages(NULL, &w->record, w->plant, 0, STILL_PICTURE_PDF, n);
}

still_status still_coverage_draw_page(char **bytes, size_t *len, const still_coverage *w,
                                      uint32_t page, still_format format, still_diags *diags)
{
    still_buf buf = STILL_BUF_INIT;
    uint32_t n = 0;
    if (!is_picture(format)) REFUSE("a picture is drawn as svg, png or pdf");
    if (page == 0) REFUSE("pages are numbered from 1");
    still_status status =
        still_picture_pages(&buf, &w->record, w->plant, page, still_picture_of(format), &n);
    if (status == STILL_E_USAGE)
        still_diags_add(diags, STILL_SEV_ERROR, "STILL-USE", "", 0, 0, "", NULL,
                        "there is no page %u: the picture has %u, numbered from 1", page, n);
    return still_give(bytes, len, &buf, too_large(status, diags));
}

still_status still_coverage_draw(char **bytes, size_t *len, const still_coverage *w,
                                 const char *around, unsigned depth, still_format format,
                                 still_diags *diags)
{
    still_buf buf = STILL_BUF_INIT;
    uint32_t part = STILL_NONE, n = 0;
    if (!is_picture(format)) REFUSE("a picture is drawn as svg, png or pdf");
    if (around != NULL) part = part_of(&w->record, around);
    if (around != NULL && part == STILL_NONE) return no_part(w, around, diags);
    still_status status =
        around == NULL && format == STILL_FORMAT_PDF
            ? still_picture_pages(&buf, &w->record, w->plant, 0, STILL_PICTURE_PDF, &n)
            : still_picture_coverage(&buf, &w->record, w->plant, part, depth,
                                     still_picture_of(format));
    return still_give(bytes, len, &buf, too_large(status, diags));
}
