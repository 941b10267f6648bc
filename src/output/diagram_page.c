/* The page around the drawing: title and verdict above, legend, tags and title block below. */
#include "diagram.h"

#include "canvas.h"
#include "number.h"
#include "text_parts.h"

#include <math.h>
#include <string.h>

/** Margin of the page, and the least width that title and legend need. */
#define MARGIN 28.0
#define LEAST_WIDTH 1180.0
#define HEAD 86.0
/** Least length of a pixel on paper: capitals, 0.729 of the size of type in DejaVu Sans, are 2 mm.
 */
#define LEAST_MM (2.0 / (0.729 * STILL_TYPE))
#define ROW 24.0
#define LEGEND_WIDTH 340.0
#define BLOCK_WIDTH 400.0
#define BLOCK_HEIGHT 276.0
/** The same for pictures of closed-in liquid: A3 is full in width. */
#define COVER_LEAST_WIDTH 1830.0
#define COVER_BLOCK_HEIGHT 352.0

static void verdict_of(still_buf *out, const still_record *r)
{
    still_text_verdict(out, r);
    if (r->feasible && r->grade_achieved[0] != '\0')
        still_buf_printf(out, " - %s isolation", r->grade_achieved);
}

static void targets_of(still_buf *out, const still_record *r)
{
    for (size_t i = 0; i < r->targets.n; i++)
        still_buf_printf(out, "%s%s", i > 0 ? ", " : "", r->targets.items[i]);
}

/** Room between legend and title block on a page of a width. */
static double list_width(double width)
{
    return width - 2.0 * MARGIN - LEGEND_WIDTH - BLOCK_WIDTH - 20.0;
}

static void name_of(still_buf *out, const still_dia *d)
{
    const still_record *r = d->r;
    if (d->cov != NULL) {
        still_diagram_cover_name(out, d);
        return;
    }
    if (!d->bare) still_buf_add(out, "Isolation for work on ");
    if (d->bare && r->targets.n > 0) still_buf_add(out, "Neighbourhood of ");
    targets_of(out, r);
    still_buf_printf(out, "%s%s", r->targets.n > 0 ? " - " : "",
                     r->plant_name[0] != '\0' ? r->plant_name : r->plant_id);
}

static void heading(still_canvas *out, const still_dia *d)
{
    still_buf text = STILL_BUF_INIT;
    double room = out->width - 2.0 * MARGIN;
    name_of(&text, d);
    if (text.failed) out->failed = true;
    if (!text.failed)
        still_canvas_fitted(out, STILL_LOOK_ID, MARGIN, MARGIN + 24.0, 26.0, room, text.text);
    still_buf_clear(&text);
    if (d->cov != NULL)
        still_diagram_cover_verdict(&text, d);
    else if (d->bare)
        still_buf_add(&text, "No isolation is planned here");
    else
        verdict_of(&text, d->r);
    if (d->r->feasible && d->left_out > 0 && d->cov == NULL)
        still_buf_add(&text, " - PAGE FULL: NOT ALL IS DRAWN");
    if (text.failed) out->failed = true;
    if (!text.failed)
        still_canvas_fitted(out, STILL_LOOK_ID, MARGIN, MARGIN + 54.0, 20.0, room, text.text);
    still_buf_clear(&text);
    still_canvas_line(out, STILL_LOOK_RULE, MARGIN, MARGIN + 66.0, out->width - MARGIN,
                      MARGIN + 66.0);
}

/** Signs of the legend. */
typedef enum sign {
    SIGN_PIPE,
    SIGN_LIVE,
    SIGN_INSIDE,
    SIGN_BOUNDARY,
    SIGN_TAG,
    SIGN_SHUT,
    SIGN_WORK,
    SIGN_PATH,
    SIGN_GOES_ON,
    SIGN_WORDS
} sign;

static void draw_sign(still_canvas *out, sign what, double x, double y)
{
    double m = x + 34.0;
    switch (what) {
    case SIGN_PIPE:
        still_canvas_line(out, STILL_LOOK_PIPE, x, y, x + 68.0, y);
        still_canvas_shape(out, STILL_LOOK_FULL, m, y, false, "M-8-6L9 0L-8 6Z");
        break;
    case SIGN_LIVE: still_canvas_line(out, STILL_LOOK_PIPE_LIVE, x, y, x + 68.0, y); break;
    case SIGN_INSIDE: still_canvas_line(out, STILL_LOOK_PIPE_IN, x, y, x + 68.0, y); break;
    case SIGN_BOUNDARY:
        still_canvas_line(out, STILL_LOOK_BOUND, m, y - 10.0, m, y + 10.0);
        for (double k = -4.0; k <= 12.0; k += 8.0)
            still_canvas_line(out, STILL_LOOK_HATCH, m, y + k, m - 8.0, y + k - 6.0);
        break;
    case SIGN_TAG: still_diagram_flag(out, x + 18.0, y, 1); break;
    case SIGN_SHUT:
        still_canvas_hatch(out, STILL_LOOK_SHUT, x, y, x + 68.0, y, 7.5);
        still_canvas_line(out, STILL_LOOK_PIPE_LIVE, x, y, x + 68.0, y);
        break;
    case SIGN_WORK:
        still_canvas_rect(out, STILL_LOOK_FRAME_THICK, x + 14.0, y - 8.0, 40.0, 16.0, 3.0);
        still_canvas_rect(out, STILL_LOOK_FRAME_THIN, x + 19.0, y - 4.0, 30.0, 8.0, 1.0);
        break;
    case SIGN_PATH:
        still_canvas_line(out, STILL_LOOK_BAND_EDGE, x - 1.0, y, x + 69.0, y);
        still_canvas_line(out, STILL_LOOK_BAND_PATH, x, y, x + 68.0, y);
        break;
    case SIGN_GOES_ON:
        still_canvas_shape(out, STILL_LOOK_OVER, m, y, false,
                           "M-30 0H2M2-10L6-4L-2 0L6 5L2 10M7-10L11-4L3 0L11 5L7 10");
        break;
    case SIGN_WORDS: break;
    }
}

static void legend(still_canvas *out, const still_dia *d, double x, double y)
{
    static const struct {
        sign what;
        bool bare, plan;
        const char *words;
    } rows[] = {
        {SIGN_PIPE, true, false, "pipe, with its direction"},
        {SIGN_LIVE, false, true, "live: under pressure"},
        {SIGN_INSIDE, false, true, "inside: isolated, to be emptied"},
        {SIGN_BOUNDARY, false, true, "boundary; hatched side stays live"},
        {SIGN_TAG, false, true, "tag of the list, at its device"},
        {SIGN_SHUT, false, true, "liquid closed in without relief"},
        {SIGN_WORK, false, true, "the work"},
        {SIGN_GOES_ON, true, true, "plant goes on"},
        {SIGN_WORDS, true, true, "D drain, V vent, P purge"},
        {SIGN_WORDS, true, true, "NO NC NT normally open, closed, throttled"},
        {SIGN_WORDS, true, true, "CSO CSC car-sealed open, closed"},
    };
    still_canvas_text(out, STILL_LOOK_ID, x, y + 16.0, 14.0, STILL_ANCHOR_START, "Signs");
    y += 38.0;
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        if (d->bare ? !rows[i].bare : !rows[i].plan) continue;
        draw_sign(out, rows[i].what, x, y);
        still_canvas_text(out, STILL_LOOK_TXT, rows[i].what == SIGN_WORDS ? x : x + 80.0, y + 4.0,
                          STILL_TYPE, STILL_ANCHOR_START, rows[i].words);
        y += ROW;
    }
    if (d->r->feasible) return;
    draw_sign(out, SIGN_PATH, x, y);
    still_canvas_text(out, STILL_LOOK_ID, x + 80.0, y + 4.0, STILL_TYPE, STILL_ANCHOR_START,
                      "way that nothing can close");
}

/** The tags, in columns. */
static void tags(still_canvas *out, const still_dia *d, double x, double y, double width)
{
    enum { ROWS = 9 };
    const still_record *r = d->r;
    if (d->bare) return;
    still_canvas_text(out, STILL_LOOK_ID, x, y + 16.0, 14.0, STILL_ANCHOR_START,
                      r->n_points > 0 ? "Tags" : "Tags: none");
    size_t columns = (r->n_points + ROWS - 1) / ROWS;
    double step = columns > 0 ? fmin(340.0, width / (double)columns) : width;
    if (step < 210.0) step = 210.0;
    size_t fit = (size_t)(width / step), shown = fit * ROWS;
    for (size_t i = 0; i < r->n_points && i < shown; i++) {
        const still_point *p = &r->points[i];
        double px = x + step * (double)(i / ROWS), py = y + 38.0 + ROW * (double)(i % ROWS);
        double w = still_diagram_flag_width(p->tag) + 6.0;
        still_diagram_flag(out, px, py, p->tag);
        still_buf text = STILL_BUF_INIT;
        still_buf_printf(&text, "%s: %s", p->id, p->to);
        if (text.failed) out->failed = true;
        if (!text.failed)
            still_canvas_fitted(out, STILL_LOOK_TXT, px + w, py + 4.0, STILL_TYPE, step - w - 8.0,
                                text.text);
        still_buf_clear(&text);
    }
    if (shown < r->n_points)
        still_canvas_text(out, STILL_LOOK_ID, x + 60.0, y + 16.0, STILL_TYPE, STILL_ANCHOR_START,
                          "(not all have room here: see the tag list)");
}

static void block_row(still_canvas *out, double x, double *y, const char *name, const char *value)
{
    still_canvas_text(out, STILL_LOOK_TXT, x + 12.0, *y, STILL_TYPE, STILL_ANCHOR_START, name);
    still_canvas_fitted(out, STILL_LOOK_ID, x + 90.0, *y, STILL_TYPE_ID, BLOCK_WIDTH - 100.0,
                        value);
    *y += 20.0;
}

/** A row whose value is made here. */
static void made_row(still_canvas *out, double x, double *y, const char *name, still_buf *value)
{
    if (value->failed) out->failed = true;
    if (!value->failed) block_row(out, x, y, name, value->text != NULL ? value->text : "");
    still_buf_clear(value);
}

static void sheet_of(still_buf *out, const still_canvas *c)
{
    static const char *const names[] = {"A3", "A2", "A1", "A0"};
    static const double widths[] = {420.0, 594.0, 841.0, 1189.0};
    for (size_t i = 0; i < sizeof widths / sizeof widths[0]; i++)
        if (c->width_mm == widths[i]) still_buf_printf(out, "%s, ", names[i]);
    still_buf_printf(out, "%.0f mm x %.0f mm", c->width_mm, c->height_mm);
}

/** What no output about relief may leave out (L8). */
static const char *bounds_of(const still_coverage_record *cov)
{
    for (size_t i = 0; i < cov->notes.n; i++)
        if (strncmp(cov->notes.items[i], "[L8]", 4) == 0) return cov->notes.items[i];
    return "";
}

static double block_height(const still_dia *d)
{
    return d->cov != NULL ? COVER_BLOCK_HEIGHT : BLOCK_HEIGHT;
}

static void block(still_canvas *out, const still_dia *d, double x, double y)
{
    const still_record *r = d->r;
    still_buf text = STILL_BUF_INIT;
    char first16[17] = {0};
    strncpy(first16, r->plant_digest, sizeof first16 - 1);
    still_canvas_rect(out, STILL_LOOK_CELL, x, y, BLOCK_WIDTH, block_height(d), 0.0);
    double at = y + 21.0;
    block_row(out, x, &at, "Plant", r->plant_name);
    block_row(out, x, &at, "Id", r->plant_id);
    block_row(out, x, &at, "Revision",
              r->plant_revision[0] != '\0' ? r->plant_revision : "not said");
    still_buf_add(&text, first16);
    if (r->state_digest[0] != '\0') still_buf_printf(&text, ", state %.8s", r->state_digest);
    made_row(out, x, &at, "Digest", &text);
    targets_of(&text, r);
    if (d->bare && r->targets.n == 0) still_buf_add(&text, "the whole plant");
    made_row(out, x, &at, d->bare ? "Shown" : "Target", &text);
    if (!d->bare) {
        block_row(out, x, &at, "Work", r->work);
        block_row(out, x, &at, "Grade", r->feasible ? r->grade_achieved : "none");
        still_text_verdict(&text, r);
        made_row(out, x, &at, "Verdict", &text);
    }
    if (d->cov != NULL) {
        still_buf_add(&text, "up to ");
        still_number_add(&text, d->cov->ambient_degC, 4);
        still_buf_add(&text, d->cov->ambient_said ? " degC, as asked" : " degC, not said");
        made_row(out, x, &at, "Warming", &text);
    }
    still_buf_printf(&text, "%s %s", r->program, r->version);
    made_row(out, x, &at, "Made by", &text);
    sheet_of(&text, out);
    made_row(out, x, &at, "Sheet", &text);
    still_canvas_line(out, STILL_LOOK_RULE, x, y + 212.0, x + BLOCK_WIDTH, y + 212.0);
    double used = still_canvas_flowed(
        out, STILL_LOOK_ID, x + 12.0, y + 232.0, STILL_TYPE_ID, BLOCK_WIDTH - 24.0,
        "This page must be checked by walking the line before work. Its data may be wrong. "
        "Site permit rules come first.",
        false);
    if (d->cov != NULL)
        still_canvas_flowed(out, STILL_LOOK_TXT, x + 12.0, y + 238.0 + used, STILL_TYPE,
                            BLOCK_WIDTH - 24.0, bounds_of(d->cov), false);
}

/** The smallest sheet on which capitals are 2 mm high; beyond A0 as large as it needs. */
static void choose_sheet(still_canvas *out)
{
    static const double widths[] = {420.0, 594.0, 841.0, 1189.0};
    static const double heights[] = {297.0, 420.0, 594.0, 841.0};
    double w = out->width, h = out->height;
    for (size_t i = 0; i < sizeof widths / sizeof widths[0]; i++) {
        out->width_mm = widths[i];
        out->height_mm = heights[i];
        if (w * LEAST_MM <= widths[i] && h * LEAST_MM <= heights[i] + 1.0) return;
    }
    out->width_mm = ceil(w * LEAST_MM);
    out->height_mm = round(out->width_mm * h / w);
}

static void describe(still_canvas *out, const still_dia *d)
{
    const still_record *r = d->r;
    name_of(&out->title, d);
    if (d->cov != NULL)
        still_diagram_cover_desc(&out->desc, d);
    else if (d->bare)
        still_buf_printf(&out->desc, "%zu components are drawn", d->n_shown);
    else
        verdict_of(&out->desc, r);
    for (size_t i = 0; i < r->n_points; i++)
        still_buf_printf(&out->desc, "; tag %u: %s %s", r->points[i].tag, r->points[i].id,
                         r->points[i].to);
    for (size_t i = 0; i < r->obstacle.path.n && !r->feasible; i++)
        still_buf_printf(&out->desc, "%s%s", i == 0 ? "; open way: " : " - ",
                         r->obstacle.path.items[i]);
    if (out->title.failed || out->desc.failed) out->failed = true;
}

/** Height of what stands below the drawing on a page of a width. */
static double foot_height(const still_dia *d, double width)
{
    double rows = d->cov != NULL ? 13.0 : d->r->feasible ? 10.0 : 11.0;
    double foot = fmax(block_height(d), 38.0 + ROW * rows);
    if (d->cov == NULL || d->focus == STILL_NONE) return foot;
    still_canvas scratch = {0};
    foot = fmax(foot, still_diagram_cover_list(&scratch, d, 0.0, 0.0, list_width(width), foot));
    still_canvas_clear(&scratch);
    return foot;
}

void still_diagram_page(still_canvas *out, const still_dia *d)
{
    double w = fmax(d->width + 2.0 * MARGIN, d->cov != NULL ? COVER_LEAST_WIDTH : LEAST_WIDTH);
    double foot = foot_height(d, w);
    double h = MARGIN + HEAD + d->height + 20.0 + foot + MARGIN;
    /* Beyond A0 there is no sheet whose form would have to be kept. */
    bool sheet = fmax(w, h * 420.0 / 297.0) * LEAST_MM <= 1189.0;
    if (sheet) w = fmax(w, h * 420.0 / 297.0);
    w = ceil(w);
    if (sheet) h = w * 297.0 / 420.0;
    h = round(h);
    out->width = w;
    out->height = h;
    choose_sheet(out);
    describe(out, d);
    double foot_y = h - MARGIN - foot, room = foot_y - 20.0 - MARGIN - HEAD;
    out->layer = STILL_LAYER_PAGE;
    out->owner = STILL_NONE;
    still_canvas_rect(out, STILL_LOOK_CELL, 0.0, 0.0, w, h, 0.0);
    heading(out, d);
    out->x0 = round((w - d->width) / 2.0);
    out->y0 = round(MARGIN + HEAD + (room - d->height) / 2.0);
    still_diagram_draw(out, d);
    out->x0 = out->y0 = 0.0;
    still_canvas_line(out, STILL_LOOK_RULE, MARGIN, foot_y - 8.0, w - MARGIN, foot_y - 8.0);
    if (d->cov != NULL) {
        still_diagram_cover_key(out, d, MARGIN, foot_y);
        (void)still_diagram_cover_list(out, d, MARGIN + LEGEND_WIDTH, foot_y, list_width(w), foot);
    } else {
        legend(out, d, MARGIN, foot_y);
        tags(out, d, MARGIN + LEGEND_WIDTH, foot_y, list_width(w));
    }
    block(out, d, w - MARGIN - BLOCK_WIDTH, foot_y);
}
