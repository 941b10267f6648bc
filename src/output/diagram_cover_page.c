/* What stands around a picture of closed-in liquid: title, answer, key, and the list of gaps or
 * what is to be said of one part. All of it is taken from the record. */
#include "diagram.h"

#include "number.h"
#include "pages.h"

#include <math.h>
#include <string.h>

#define ROW 24.0
/** Width of a column of the list, and of the words before a text. */
#define COLUMN 340.0
#define LABEL 104.0

static const still_segment *focus_of(const still_dia *d)
{
    return &d->cov->segments[d->focus];
}

void still_diagram_cover_name(still_buf *out, const still_dia *d)
{
    const still_coverage_record *r = d->cov;
    still_buf_add(out, "Closed-in liquid");
    if (d->focus != STILL_NONE) still_buf_printf(out, " at %s", focus_of(d)->name);
    if (d->pages != NULL && d->r->targets.n > 0 && d->r->targets.items[0][0] != '\0')
        still_buf_printf(out, " - area round %s", d->r->targets.items[0]);
    still_buf_printf(out, " - %s", r->plant_name[0] != '\0' ? r->plant_name : r->plant_id);
}

/** True when the part that a number stands for is in the drawing. */
static bool drawn(const still_dia *d, uint32_t segment)
{
    size_t from = 0, to = d->n_here;
    while (from < to) {
        size_t middle = from + (to - from) / 2;
        if (d->here[middle] < segment)
            from = middle + 1;
        else
            to = middle;
    }
    return from < d->n_here && d->here[from] == segment;
}

/** The gaps that are listed: all of the plant, or those on this page. @return false: no more */
static bool listed(const still_dia *d, uint32_t i, uint32_t *segment)
{
    if (d->pages != NULL && i >= d->n_here) return false;
    *segment = d->pages != NULL ? d->here[i] : i;
    return *segment < d->cov->n_segments && still_diagram_gap(d->cov, *segment) != 0;
}

/** What a part is, in a few words. */
static void state_of(still_buf *out, const still_coverage_record *r, uint32_t i)
{
    const still_segment *s = &r->segments[i];
    uint32_t gap = still_diagram_gap(r, i);
    if (gap != 0) still_buf_printf(out, "No. %u: ", gap);
    if (strcmp(s->state, "uncovered") == 0 && s->stub)
        still_buf_add(out, "Not covered, a stub: one valve and caps");
    else if (gap != 0)
        still_buf_printf(out, "not covered, %s",
                         strcmp(s->shut_by, "itself") == 0   ? "shuts in by itself"
                         : strcmp(s->shut_by, "person") == 0 ? "a person can shut it in"
                                                             : "only a plan shuts it in");
    else
        still_buf_add(out, strcmp(s->state, "covered") == 0
                               ? "Covered"
                               : "Not full of liquid, below design pressure up to ambient");
    if (s->accepted) still_buf_add(out, "; accepted by name");
}

void still_diagram_cover_verdict(still_buf *out, const still_dia *d)
{
    const still_coverage_record *r = d->cov;
    if (d->focus != STILL_NONE) {
        state_of(out, r, d->focus);
        if (d->left_out > 0) still_buf_add(out, " - PAGE FULL: NOT ALL NEARBY IS DRAWN");
        return;
    }
    if (d->pages != NULL)
        still_buf_printf(out, "Page %u of %u - the whole plant: ",
                         still_pages_of_area(d->pages, d->area), still_pages_count(d->pages));
    if (r->n_gaps > 0)
        still_buf_printf(out, "%u gap%s", r->n_gaps, r->n_gaps == 1 ? "" : "s");
    else
        still_buf_add(out, "No gap");
    still_buf_printf(out, " - %zu parts can be shut in: %u covered, %u not full, %u not covered",
                     r->n_segments, r->n_covered, r->n_not_full, r->n_uncovered);
    if (d->left_out > 0)
        still_buf_printf(out, " - PAGE FULL: %zu COMPONENTS ARE NOT DRAWN", d->left_out);
}

void still_diagram_cover_desc(still_buf *out, const still_dia *d)
{
    still_diagram_cover_verdict(out, d);
    if (d->focus != STILL_NONE) {
        still_buf_printf(out, "; %s", focus_of(d)->why);
        return;
    }
    uint32_t i;
    for (uint32_t n = 0; listed(d, n, &i); n++) {
        still_buf_printf(out, "; %u: %s ", i + 1, d->cov->segments[i].name);
        still_diagram_litres(out, &d->cov->segments[i]);
        still_buf_add(out, ", ");
        still_diagram_kelvins(out, &d->cov->segments[i]);
    }
}

void still_diagram_cover_key(still_canvas *out, const still_dia *d, double x, double y)
{
    static const struct {
        still_look look;
        bool hatched;
        const char *words;
    } lines[] = {
        {STILL_LOOK_CUT_ITSELF, true, "no cover; shuts in by itself"},
        {STILL_LOOK_CUT_PERSON, true, "no cover; a person can shut it in"},
        {STILL_LOOK_CUT_PLAN, false, "no cover; only a plan shuts it in"},
        {STILL_LOOK_CUT_STUB, false, "no cover; stub: one valve and caps"},
        {STILL_LOOK_NOT_FULL, false, "not full, below design pressure"},
        {STILL_LOOK_COVERED, false, "covered"},
    };
    static const char *const words[] = {"D drain, V vent, P purge",
                                        "NO NC NT normally open, closed, throttled",
                                        "CSO CSC car-sealed open, closed"};
    still_canvas_text(out, STILL_LOOK_ID, x, y + 16.0, 14.0, STILL_ANCHOR_START, "Signs");
    y += 38.0;
    for (size_t i = 0; i < sizeof lines / sizeof lines[0]; i++) {
        if (lines[i].hatched) still_canvas_hatch(out, STILL_LOOK_SHUT, x, y, x + 68.0, y, 7.5);
        still_canvas_line(out, lines[i].look, x, y, x + 68.0, y);
        still_canvas_text(out, STILL_LOOK_TXT, x + 80.0, y + 4.0, STILL_TYPE, STILL_ANCHOR_START,
                          lines[i].words);
        y += ROW;
    }
    still_diagram_gap_flag(out, x, y, 1, false);
    still_diagram_gap_flag(out, x + 38.0, y, 1, true);
    still_canvas_text(out, STILL_LOOK_TXT, x + 80.0, y + 4.0, STILL_TYPE, STILL_ANCHOR_START,
                      d->focus == STILL_NONE ? "number (white: no gap); L; K to design"
                                             : "number (white: others); L; K to design");
    y += ROW;
    still_diagram_cover_sign(out, x + 2.0, y, "covers");
    still_canvas_text(out, STILL_LOOK_TXT, x + 80.0, y + 4.0, STILL_TYPE, STILL_ANCHOR_START,
                      "relief valve or open outlet");
    y += ROW;
    still_canvas_shape(out, STILL_LOOK_OVER, x + 34.0, y, false,
                       "M-30 0H2M2-10L6-4L-2 0L6 5L2 10M7-10L11-4L3 0L11 5L7 10");
    still_canvas_text(out, STILL_LOOK_TXT, x + 80.0, y + 4.0, STILL_TYPE, STILL_ANCHOR_START,
                      "plant goes on");
    y += ROW;
    for (size_t i = 0; i < sizeof words / sizeof words[0]; i++) {
        still_canvas_text(out, STILL_LOOK_TXT, x, y + 4.0, STILL_TYPE, STILL_ANCHOR_START,
                          words[i]);
        y += ROW;
    }
}

/** A text of which memory may have run out. */
static const char *good(still_canvas *out, const still_buf *text)
{
    if (text->failed) out->failed = true;
    return text->failed || text->text == NULL ? "" : text->text;
}

static void list_row(still_canvas *out, const still_dia *d, uint32_t i, double x, double y)
{
    const still_segment *s = &d->cov->segments[i];
    double w = still_diagram_flag_width(i + 1) + 6.0;
    still_buf text = STILL_BUF_INIT;
    still_diagram_gap_flag(out, x, y, i + 1, still_diagram_mild(d, i));
    still_buf_printf(&text, "%s: ", s->name);
    still_diagram_litres(&text, s);
    still_buf_add(&text, ", ");
    still_diagram_kelvins(&text, s);
    still_buf_printf(&text, ", %s", still_diagram_part_words(s));
    if (s->accepted) still_buf_add(&text, ", accepted");
    if (!drawn(d, i)) still_buf_add(&text, " (not drawn)");
    still_canvas_fitted(out, STILL_LOOK_TXT, x + w, y + 4.0, STILL_TYPE, COLUMN - w - 8.0,
                        good(out, &text));
    still_buf_clear(&text);
}

static double list(still_canvas *out, const still_dia *d, double x, double y, double width,
                   double height)
{
    uint32_t rows = (uint32_t)((height - 38.0) / ROW), columns = (uint32_t)(width / COLUMN), n, i;
    for (n = 0; listed(d, n, &i); n++) {
        if (n < rows * columns)
            list_row(out, d, i, x + COLUMN * (double)(n / rows),
                     y + 38.0 + ROW * (double)(n % rows));
    }
    still_canvas_text(out, STILL_LOOK_ID, x, y + 16.0, 14.0, STILL_ANCHOR_START,
                      d->pages != NULL
                          ? n > 0 ? "Not covered, here" : "Not covered, here: none but stubs"
                      : n > 0 ? "Not covered"
                              : "Not covered: none but stubs");
    if (n > rows * columns)
        still_canvas_text(out, STILL_LOOK_ID, x + 110.0, y + 16.0, STILL_TYPE, STILL_ANCHOR_START,
                          "(not all have room here: see the text form)");
    return height;
}

/** A writer of rows: a word, and a text behind it. */
typedef struct rows {
    still_canvas *out;
    double x, y, width;
} rows;

static void row(rows *r, const char *word, const char *text)
{
    if (text[0] == '\0') return;
    still_canvas_text(r->out, STILL_LOOK_ID, r->x, r->y, STILL_TYPE, STILL_ANCHOR_START, word);
    r->y += still_canvas_flowed(r->out, STILL_LOOK_TXT, r->x + LABEL, r->y, STILL_TYPE,
                                r->width - LABEL, text, false) +
            4.0;
}

static void made(rows *r, const char *word, still_buf *text)
{
    row(r, word, good(r->out, text));
    still_buf_clear(text);
}

/** Ids, as many as leave room for the rest of the page. */
static void ids(still_buf *out, still_strings list)
{
    enum { LISTED = 100 };
    for (size_t i = 0; i < list.n && i < LISTED; i++)
        still_buf_printf(out, "%s%s", i > 0 ? ", " : "", list.items[i]);
    if (list.n > LISTED) still_buf_printf(out, " and %zu more", list.n - LISTED);
}

static void value(still_buf *out, double x, int digits, const char *unit)
{
    still_number_add(out, x, digits);
    still_buf_printf(out, " %s", unit);
}

static void gauge(still_buf *out, double bara, int digits)
{
    value(out, bara - STILL_ATM_BAR, digits, "barg");
}

static void rise(rows *r, const still_segment *s)
{
    still_buf text = STILL_BUF_INIT;
    if (isnan(s->bar_per_K)) {
        still_buf_printf(&text, "unknown: %s", s->numbers);
    } else {
        value(&text, s->bar_per_K, 3, "bar/K from ");
        value(&text, s->start_degC, 4, "degC, ");
        gauge(&text, s->start_bara, 4);
        still_buf_printf(&text, " on (%s)", s->numbers);
    }
    made(r, "Rise", &text);
}

static void limit(rows *r, const still_segment *s)
{
    still_buf text = STILL_BUF_INIT;
    if (isnan(s->design_bara)) {
        row(r, "Limit", "its design pressure is not known");
        return;
    }
    still_buf_add(&text, "design pressure ");
    gauge(&text, s->design_bara, 4);
    if (s->weakest[0] != '\0') still_buf_printf(&text, " (%s)", s->weakest);
    if (s->never) {
        still_buf_add(&text, " is not reached up to ambient");
    } else if (isnan(s->reaches_design_at_degC)) {
        still_buf_add(&text, ": when it is reached is not known");
    } else {
        still_buf_add(&text, " is reached at ");
        value(&text, s->reaches_design_at_degC, 4, "degC, ");
        still_diagram_kelvins(&text, s);
        still_buf_add(&text, s->by_vapour ? " warmer (by vapour pressure)" : " warmer");
    }
    if (!isnan(s->full_at_degC)) {
        still_buf_add(&text, "; full of liquid at ");
        value(&text, s->full_at_degC, 4, "degC");
    }
    made(r, "Limit", &text);
}

static void cover(rows *r, const still_segment *s)
{
    still_buf text = STILL_BUF_INIT;
    ids(&text, s->covered_by);
    if (s->covered_by.n > 0 && !isnan(s->opening_bara)) {
        still_buf_add(&text, "; opens at ");
        gauge(&text, s->opening_bara, 4);
        if (s->opening_normal_bara < s->opening_bara) {
            still_buf_add(&text, " at worst, normally at ");
            gauge(&text, s->opening_normal_bara, 4);
        }
    }
    made(r, "Covered by", &text);
    ids(&text, s->conditions);
    made(r, "As long as", &text);
}

/** Where the record would put a relief valve for a part. */
static void help(rows *r, const still_coverage_record *cov, const still_segment *s)
{
    still_buf text = STILL_BUF_INIT;
    for (size_t i = 0; i < cov->n_places; i++) {
        const still_relief_place *p = &cov->places[i];
        for (size_t k = 0; k < p->covers.n; k++) {
            if (strcmp(p->covers.items[k], s->name) != 0) continue;
            still_buf_printf(&text, "a relief valve on %s, opening at ", p->id);
            gauge(&text, p->set_at_most_bara, 4);
            still_buf_add(&text, " at most");
            if (p->mind[0] != '\0') still_buf_printf(&text, "; %s", p->mind);
            made(r, "Would help", &text);
        }
    }
}

/** What the record says of one part. */
static double caption(still_canvas *out, const still_coverage_record *cov, const still_segment *s,
                      double x, double y, double width)
{
    rows r = {out, x, y + 16.0, width};
    still_buf text = STILL_BUF_INIT;
    row(&r, "Why", s->why);
    ids(&text, s->ids);
    made(&r, "Parts", &text);
    ids(&text, s->closed_by);
    made(&r, "Shut by", &text);
    cover(&r, s);
    still_diagram_litres(&text, s);
    still_buf_add(&text, ", ");
    value(&text, s->mass_kg, 4, "kg");
    if (s->substance[0] != '\0') still_buf_printf(&text, " of %s", s->substance);
    made(&r, "Holds", &text);
    rise(&r, s);
    limit(&r, s);
    if (!isnan(s->ambient_bara)) {
        gauge(&text, s->ambient_bara, 3);
        still_buf_add(&text, ", if the wall held");
        made(&r, "At ambient", &text);
    }
    if (!isnan(s->relief_kg_per_h)) {
        value(&text, s->relief_kg_per_h, 3, "kg/h for ");
        value(&text, s->relief_heat_kW, 3,
              "kW of heat (sun on bare pipe, and what the file gives)");
        made(&r, "Relief need", &text);
    }
    if (s->stronger[0] != '\0') {
        still_buf_printf(&text,
                         "%s can join it to the part of %s, which opens only above its design "
                         "pressure [L5]",
                         s->stronger_by, s->stronger);
        made(&r, "Mind", &text);
    }
    help(&r, cov, s);
    row(&r, "Codes", s->codes);
    return r.y - y;
}

double still_diagram_cover_list(still_canvas *out, const still_dia *d, double x, double y,
                                double width, double height)
{
    if (d->focus == STILL_NONE) return list(out, d, x, y, width, height);
    return caption(out, d->cov, focus_of(d), x, y, fmin(width, 900.0));
}
