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
#define ROW 24.0
#define LEGEND_WIDTH 340.0
#define BLOCK_WIDTH 400.0
#define BLOCK_HEIGHT 276.0
/** The same for pictures of closed-in liquid: A3 is full in width. */
#define COVER_LEAST_WIDTH 1830.0
#define COVER_BLOCK_HEIGHT 352.0

void still_diagram_verdict(still_buf *out, const still_record *r)
{
    still_text_verdict(out, r);
    if (r->feasible && r->grade_achieved[0] != '\0')
        still_say(out, r->messages, " - %s isolation",
                  still_messages_get(r->messages, r->grade_achieved));
}

void still_diagram_targets(still_buf *out, const still_record *r)
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
    if (!d->bare) still_say(out, d->arena.messages, "Isolation for work on ");
    if (d->bare && r->targets.n > 0) still_buf_add(out, "Neighbourhood of ");
    still_diagram_targets(out, r);
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
        still_diagram_verdict(&text, d->r);
    if (d->r->feasible && d->left_out > 0 && d->cov == NULL)
        still_say(&text, d->arena.messages, " - PAGE FULL: NOT ALL IS DRAWN");
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
    SIGN_PROOF,
    SIGN_NO_PROOF,
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
    case SIGN_PROOF:
        for (int k = 0; k < 3; k++)
            still_canvas_line(out, (still_look)(STILL_LOOK_PROOF_1 + k), x, y + 6.0 * (k - 1),
                              x + 68.0, y + 6.0 * (k - 1));
        break;
    case SIGN_NO_PROOF:
    case SIGN_WORDS: break;
    }
}

typedef struct sign_row {
    sign what;
    bool bare, plan;
    const char *words;
} sign_row;

static const sign_row signs[] = {
    {SIGN_PIPE, true, false, WORD("pipe, with its direction")},
    {SIGN_LIVE, false, true, WORD("thick, whole: live, under pressure")},
    {SIGN_INSIDE, false, true, WORD("thin, dashed: inside, to be emptied")},
    {SIGN_BOUNDARY, false, true, WORD("boundary; its hatched side stays live")},
    {SIGN_TAG, false, true, WORD("number in a flag: tag of the list")},
    {SIGN_SHUT, false, true, WORD("hatched: liquid closed in, no relief")},
    {SIGN_WORK, false, true, WORD("double frame: the work")},
    {SIGN_GOES_ON, true, true, WORD("plant goes on")},
    {SIGN_WORDS, true, true, WORD("D drain, V vent, P purge")},
    {SIGN_WORDS, true, true, WORD("NO NC NT normally open, closed, throttled")},
    {SIGN_WORDS, true, true, WORD("CSO CSC car-sealed open, closed")},
    {SIGN_WORDS, false, true, WORD("LO LC locked open, closed, as planned")},
    {SIGN_WORDS, false, true, WORD("source: can push; what goes on may too")},
    {SIGN_WORDS, false, true, WORD("el. elevation; low point: pipes rise from it")},
    {SIGN_PROOF, false, true, WORD("path 1, 2, ... of the proof, source to work")},
    {SIGN_NO_PROOF, false, true, WORD("the proof has no paths to draw")},
    {SIGN_PATH, false, true, WORD("way that nothing can close")},
};

enum { N_SIGNS = sizeof signs / sizeof signs[0] };

/** Whether a sign has a place in this picture. */
static bool has_sign(const still_dia *d, const sign_row *row)
{
    if (row->what == SIGN_PATH && d->r->feasible) return false;
    if (row->what == SIGN_PROOF) return d->lanes != NULL;
    if (row->what == SIGN_NO_PROOF) return d->r->option_paths && d->lanes == NULL;
    return d->bare ? row->bare : row->plan;
}

static void sign_at(still_canvas *out, const still_dia *d, const sign_row *row, double x, double y)
{
    draw_sign(out, row->what, x, y);
    double at = row->what >= SIGN_NO_PROOF ? x : x + 80.0;
    still_canvas_fitted(out, row->what == SIGN_PATH ? STILL_LOOK_ID : STILL_LOOK_TXT, at, y + 4.0,
                        STILL_TYPE, x + LEGEND_WIDTH - at, still_arena_word(&d->arena, row->words));
}

static void legend(still_canvas *out, const still_dia *d, double x, double y)
{
    still_canvas_text(out, STILL_LOOK_ID, x, y + 16.0, 14.0, STILL_ANCHOR_START,
                      still_arena_word(&d->arena, WORD("Signs")));
    y += 38.0;
    for (size_t i = 0; i < N_SIGNS; i++) {
        if (!has_sign(d, &signs[i])) continue;
        sign_at(out, d, &signs[i], x, y);
        y += ROW;
    }
}

double still_diagram_signs(still_canvas *out, const still_dia *d, double x, double y, double width,
                           bool measure)
{
    size_t columns = width > 2.0 * LEGEND_WIDTH ? (size_t)(width / LEGEND_WIDTH) : 1, n = 0, k = 0;
    for (size_t i = 0; i < N_SIGNS; i++) n += has_sign(d, &signs[i]);
    size_t rows = (n + columns - 1) / columns;
    for (size_t i = 0; i < N_SIGNS && !measure; i++) {
        if (!has_sign(d, &signs[i])) continue;
        sign_at(out, d, &signs[i], x + LEGEND_WIDTH * (double)(k / rows),
                y + ROW / 2.0 + ROW * (double)(k % rows));
        k++;
    }
    return ROW * (double)rows;
}

/** The tags, in columns. */
static void tags(still_canvas *out, const still_dia *d, double x, double y, double width)
{
    enum { ROWS = 9 };
    const still_record *r = d->r;
    if (d->bare) return;
    still_canvas_text(
        out, STILL_LOOK_ID, x, y + 16.0, 14.0, STILL_ANCHOR_START,
        still_arena_word(&d->arena, r->n_points > 0 ? WORD("Tags") : WORD("Tags: none")));
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
        still_buf_printf(&text, "%s: %s", p->id, still_arena_word(&d->arena, p->to));
        if (text.failed) out->failed = true;
        if (!text.failed)
            still_canvas_fitted(out, STILL_LOOK_TXT, px + w, py + 4.0, STILL_TYPE, step - w - 8.0,
                                text.text);
        still_buf_clear(&text);
    }
    if (shown < r->n_points)
        still_canvas_text(
            out, STILL_LOOK_ID, x + 60.0, y + 16.0, STILL_TYPE, STILL_ANCHOR_START,
            still_arena_word(&d->arena, WORD("(not all have room here: see the tag list)")));
}

static void block_row(still_canvas *out, const still_dia *d, double x, double *y, const char *name,
                      const char *value)
{
    name = still_arena_word(&d->arena, name);
    still_canvas_text(out, STILL_LOOK_TXT, x + 12.0, *y, STILL_TYPE, STILL_ANCHOR_START, name);
    still_canvas_fitted(out, STILL_LOOK_ID, x + 90.0, *y, STILL_TYPE_ID, BLOCK_WIDTH - 100.0,
                        value);
    *y += 20.0;
}

/** A row whose value is made here. */
static void made_row(still_canvas *out, const still_dia *d, double x, double *y, const char *name,
                     still_buf *value)
{
    if (value->failed) out->failed = true;
    if (!value->failed) block_row(out, d, x, y, name, value->text != NULL ? value->text : "");
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
    block_row(out, d, x, &at, WORD("Plant"), r->plant_name);
    block_row(out, d, x, &at, WORD("Id"), r->plant_id);
    block_row(out, d, x, &at, WORD("Revision"),
              r->plant_revision[0] != '\0' ? r->plant_revision
                                           : still_arena_word(&d->arena, "not said"));
    still_buf_add(&text, first16);
    if (r->state_digest[0] != '\0') still_buf_printf(&text, ", state %.8s", r->state_digest);
    made_row(out, d, x, &at, WORD("Digest"), &text);
    still_diagram_targets(&text, r);
    if (d->bare && r->targets.n == 0) still_buf_add(&text, "the whole plant");
    made_row(out, d, x, &at, d->bare ? WORD("Shown") : WORD("Target"), &text);
    if (!d->bare) {
        block_row(out, d, x, &at, WORD("Work"), still_arena_word(&d->arena, r->work));
        block_row(out, d, x, &at, WORD("Grade"),
                  still_arena_word(&d->arena, r->feasible ? r->grade_achieved : "none"));
        still_text_verdict(&text, r);
        made_row(out, d, x, &at, WORD("Verdict"), &text);
    }
    if (d->cov != NULL) {
        still_buf_add(&text, "up to ");
        still_number_add(&text, d->cov->ambient_degC, 4);
        still_buf_add(&text, d->cov->ambient_said ? " degC, as asked" : " degC, not said");
        made_row(out, d, x, &at, WORD("Warming"), &text);
    }
    still_buf_printf(&text, "%s %s", r->program, r->version);
    made_row(out, d, x, &at, WORD("Made by"), &text);
    sheet_of(&text, out);
    made_row(out, d, x, &at, WORD("Sheet"), &text);
    still_canvas_line(out, STILL_LOOK_RULE, x, y + 212.0, x + BLOCK_WIDTH, y + 212.0);
    double used = still_canvas_flowed(
        out, STILL_LOOK_ID, x + 12.0, y + 232.0, STILL_TYPE_ID, BLOCK_WIDTH - 24.0,
        still_arena_word(&d->arena, WORD("This page must be checked by walking the line before "
                                         "work. Its data may be wrong. Site permit rules come "
                                         "first.")),
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
        if (w * STILL_DIAGRAM_LEAST_MM <= widths[i] &&
            h * STILL_DIAGRAM_LEAST_MM <= heights[i] + 1.0)
            return;
    }
    out->width_mm = ceil(w * STILL_DIAGRAM_LEAST_MM);
    out->height_mm = round(out->width_mm * h / w);
}

void still_diagram_describe(still_canvas *out, const still_dia *d)
{
    const still_record *r = d->r;
    name_of(&out->title, d);
    if (d->cov != NULL)
        still_diagram_cover_desc(&out->desc, d);
    else if (d->bare)
        still_buf_printf(&out->desc, "%zu components are drawn", d->n_shown);
    else
        still_diagram_verdict(&out->desc, r);
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
    double rows = d->cov != NULL ? 13.0 : 0.0;
    for (size_t i = 0; i < N_SIGNS && d->cov == NULL; i++) rows += has_sign(d, &signs[i]);
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
    bool sheet = fmax(w, h * 420.0 / 297.0) * STILL_DIAGRAM_LEAST_MM <= 1189.0;
    if (sheet) w = fmax(w, h * 420.0 / 297.0);
    w = ceil(w);
    if (sheet) h = w * 297.0 / 420.0;
    h = round(h);
    out->width = w;
    out->height = h;
    choose_sheet(out);
    still_diagram_describe(out, d);
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
