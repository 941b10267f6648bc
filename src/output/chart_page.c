/* The page around a chart: what it is of, the choice of ranges, what must be known to read it.
 *
 * Closed-in liquid may run to a thousand bar while the design pressure is twenty. Then there are
 * two frames: one that ends at about twice the design pressure, and one for the whole way. */
#include "chart.h"

#include "number.h"
#include "picture.h"

#include <math.h>
#include <string.h>

/** A4 on its side; 0.2288 mm a pixel makes capitals 2 mm high. */
#define WIDTH 1298.0
#define HEIGHT 918.0
#define MARGIN 28.0
#define FOOT 132.0
#define INFO 13.0
/** Bytes after which a list of ids ends in "and 5 more". */
#define LIST 160

/** Put what is in the buffer on the page, over several lines. @return height used */
static double flow(still_canvas *out, still_look look, double x, double y, double room,
                   still_buf *text)
{
    double used = 0.0;
    still_chart_cut(text, 450);
    if (text->failed) out->failed = true;
    if (!out->failed && text->text != NULL)
        used = still_canvas_flowed(out, look, x, y, INFO, room, text->text, false);
    still_buf_clear(text);
    return used;
}

static void number(still_buf *out, const char *before, double x, int digits, const char *unit)
{
    still_buf_add(out, before);
    still_number_add(out, x, digits);
    still_buf_add(out, unit);
}

static void name_of(still_buf *out, const still_curve_record *r)
{
    const char *plant = r->of->plant_name[0] != '\0' ? r->of->plant_name : r->of->plant_id;
    still_buf_printf(out, "%s shut in and warming up - %s", r->segment->name, plant);
}

static void what_it_is(still_buf *out, const still_curve_record *r)
{
    const still_segment *s = r->segment;
    still_buf_add(out, "Ends at ");
    size_t shown = 0;
    for (; shown < s->closed_by.n && (shown == 0 || out->len < LIST); shown++)
        still_buf_printf(out, "%s%s", shown > 0 ? ", " : "", s->closed_by.items[shown]);
    if (shown < s->closed_by.n) still_buf_printf(out, " and %zu more", s->closed_by.n - shown);
    if (s->closed_by.n == 0) still_buf_add(out, "nothing that could be opened");
    still_buf_printf(out, ". Holds %s, ",
                     s->substance[0] != '\0' ? s->substance : "an unknown substance");
    still_buf_add(out, s->full ? "full of liquid" : "not full of liquid");
    if (!isnan(s->volume_m3)) number(out, ", ", s->volume_m3 * 1000.0, 4, " l");
    if (!isnan(s->mass_kg)) number(out, ", ", s->mass_kg, 4, " kg");
    number(out, ". Start ", s->start_degC, 4, " degC, ");
    number(out, "", s->start_bara - STILL_ATM_BAR, 4, " barg (");
    number(out, "", s->start_bara, 4, " bara)");
    if (!isnan(s->bar_per_K)) {
        number(out, "; at first ", s->bar_per_K, 3, " bar/K");
        if (fabs(s->bar_per_K - s->bar_per_K_rigid) > 0.005 * fabs(s->bar_per_K))
            number(out, ", in a rigid wall ", s->bar_per_K_rigid, 3, " bar/K");
    }
    if (!isnan(s->full_at_degC)) number(out, "; full of liquid from ", s->full_at_degC, 4, " degC");
    still_buf_add(out, ".");
}

/** Title and facts. @return where they end */
static double head(still_canvas *out, const still_curve_record *r)
{
    const still_segment *s = r->segment;
    const double room = WIDTH - 2.0 * MARGIN;
    double y = MARGIN + 22.0;
    still_buf text = STILL_BUF_INIT;
    name_of(&text, r);
    if (text.failed) out->failed = true;
    if (!text.failed) still_canvas_fitted(out, STILL_LOOK_ID, MARGIN, y, 24.0, room, text.text);
    still_buf_clear(&text);
    y += 16.0;
    still_canvas_line(out, STILL_LOOK_RULE, MARGIN, y, WIDTH - MARGIN, y);
    y += 22.0;
    what_it_is(&text, r);
    y += flow(out, STILL_LOOK_TXT, MARGIN, y, room, &text);
    still_buf_printf(&text, "State: %s%s.", strcmp(s->state, "uncovered") == 0 ? "UNCOVERED, " : "",
                     s->why);
    y += flow(out, STILL_LOOK_TXT, MARGIN, y, room, &text);
    still_buf_printf(&text, "Rests on: %s.", r->rests_on);
    y += flow(out, STILL_LOOK_TXT, MARGIN, y, room, &text);
    if (r->conflict[0] != '\0') {
        still_buf_printf(&text, "MIND: %s.", r->conflict);
        y += flow(out, STILL_LOOK_ID, MARGIN, y, room, &text);
    }
    bool warms = r->of->ambient_degC > s->start_degC;
    if (r->stops[0] != '\0' && warms) {
        still_buf_printf(&text, "MIND: %s.", r->stops);
        y += flow(out, STILL_LOOK_ID, MARGIN, y, room, &text);
    }
    if (!warms) {
        still_buf_add(&text,
                      "MIND: ambient is not above the start, so nothing warms up here. Ask for "
                      "a higher --ambient to see a curve.");
        y += flow(out, STILL_LOOK_ID, MARGIN, y, room, &text);
    }
    return y;
}

static void note(still_canvas *out, const still_curve_record *r, const char *rule, double x,
                 double *y, double room)
{
    for (size_t i = 0; i < r->of->notes.n; i++)
        if (strncmp(r->of->notes.items[i], rule, strlen(rule)) == 0)
            *y += still_canvas_flowed(out, STILL_LOOK_TXT, x, *y, STILL_CHART_TYPE, room,
                                      r->of->notes.items[i], false) +
                  3.0;
}

static void foot(still_canvas *out, const still_curve_record *r)
{
    const still_coverage_record *of = r->of;
    const double block = 400.0, x = WIDTH - MARGIN - block, top = HEIGHT - MARGIN - FOOT;
    double y = top + 22.0;
    still_buf text = STILL_BUF_INIT;
    still_canvas_line(out, STILL_LOOK_RULE, MARGIN, top, WIDTH - MARGIN, top);
    note(out, r, "[L8]", MARGIN, &y, x - MARGIN - 40.0);
    note(out, r, "[L4]", MARGIN, &y, x - MARGIN - 40.0);
    still_canvas_flowed(out, STILL_LOOK_ID, MARGIN, y, STILL_CHART_TYPE, x - MARGIN - 40.0,
                        "Elastic steel all the way: far above the design pressure something yields "
                        "or bursts first. The plant file may be wrong: have it looked at in the "
                        "plant by a competent person.",
                        false);
    const char *const names[] = {"Plant", "Revision", "Digest", "Ambient", "Made by"};
    y = top + 22.0;
    for (int i = 0; i < 5; i++) {
        if (i == 0) still_buf_add(&text, of->plant_id);
        if (i == 1)
            still_buf_add(&text, of->plant_revision[0] != '\0' ? of->plant_revision : "not said");
        if (i == 2) still_buf_addn(&text, of->plant_digest, strnlen(of->plant_digest, 16));
        if (i == 3)
            number(&text, "", of->ambient_degC, 4, of->ambient_said ? " degC" : " degC (default)");
        if (i == 4) still_buf_printf(&text, "%s %s", of->program, of->version);
        still_canvas_text(out, STILL_LOOK_TXT, x, y, STILL_CHART_TYPE, STILL_ANCHOR_START,
                          names[i]);
        if (text.failed) out->failed = true;
        if (!text.failed)
            still_canvas_fitted(out, STILL_LOOK_ID, x + 80.0, y, STILL_CHART_TYPE, block - 80.0,
                                text.text);
        still_buf_clear(&text);
        y += 20.0;
    }
}

/* ---- ranges ---- */

typedef struct ranges {
    double start, end;      /* of the way, degC */
    double least, most;     /* of all pressures on it, barg */
    double first;           /* at the start */
    double highest, design; /* of the lines across; 0 = none */
} ranges;

static ranges ranges_of(const still_curve_record *r)
{
    ranges g = {.start = r->points[0].degC, .end = r->points[r->n_points - 1].degC};
    double least = HUGE_VAL, most = -HUGE_VAL, first = -HUGE_VAL;
    for (size_t i = 0; i < r->n_points; i++) {
        least = fmin(least, fmin(r->points[i].rigid_bara, r->points[i].pipe_bara));
        most = fmax(most, fmax(r->points[i].rigid_bara, r->points[i].pipe_bara));
        if (i == 0) first = most;
    }
    for (size_t i = 0; i < r->n_levels; i++) {
        g.highest = fmax(g.highest, r->levels[i].bara - STILL_ATM_BAR);
        least = fmin(least, r->levels[i].bara);
        if (r->levels[i].design) g.design = r->levels[i].bara - STILL_ATM_BAR;
    }
    g.least = least - STILL_ATM_BAR;
    g.most = most - STILL_ATM_BAR;
    g.first = first - STILL_ATM_BAR;
    return g;
}

/** Last temperature at which one of the curves first passes a pressure; the end if one never does.
 */
static double passes_at(const still_curve_record *r, double barg, double end)
{
    double when[2] = {end, end};
    for (int k = 0; k < 2; k++)
        for (size_t i = r->n_points; i-- > 0;) {
            double p = (k == 0 ? r->points[i].rigid_bara : r->points[i].pipe_bara) - STILL_ATM_BAR;
            if (p > barg) when[k] = r->points[i].degC;
        }
    return fmax(when[0], when[1]);
}

/** Ends of the temperature axis of a frame for the way from low to high. */
static void set_way(still_chart_panel *p, double low, double high, double room_left)
{
    double way = high - low;
    if (!(way > 0.5)) {
        /* A start at ambient, or above. */
        p->low_degC = low - 5.0;
        p->high_degC = high + 5.0;
        return;
    }
    p->low_degC = low - room_left * way;
    p->high_degC = high + 0.02 * way;
}

static void set_pressures(still_chart_panel *p, double low, double high)
{
    p->low_barg = low < -0.001 ? -STILL_ATM_BAR : 0.0;
    if (!(high > 0.1)) high = 0.1;
    double step = still_chart_step(high - p->low_barg, p->h / 50.0);
    p->high_barg = step * ceil(high / step - 1e-9);
}

static void panels(still_canvas *out, const still_curve_record *r, double top, double bottom)
{
    ranges g = ranges_of(r);
    double wanted = fmax(2.0 * g.design, 1.15 * fmax(g.highest, g.first));
    bool clipped = g.highest > 0.0 && g.most > 1.5 * wanted;
    still_chart_panel p = {.r = r, .details = true, .y = top, .h = bottom - top};
    p.x = MARGIN + 130.0;
    p.label_room = clipped ? 228.0 : 262.0;
    p.w = clipped ? 430.0 : WIDTH - 2.0 * MARGIN - 130.0 - p.label_room;
    set_pressures(&p, g.least, clipped ? wanted : fmax(1.08 * g.most, 1.15 * g.highest));
    double end = g.end;
    if (clipped) {
        double passes = passes_at(r, p.high_barg, g.end);
        double far = passes + 0.35 * (passes - g.start);
        if (far < g.start + 0.7 * (g.end - g.start)) end = far;
    }
    set_way(&p, g.start, end, clipped ? 0.14 : 0.07);
    still_chart_panel_draw(out, &p);
    if (!clipped) return;
    still_canvas_text(out, STILL_LOOK_ID, p.x, top - 48.0, INFO, STILL_ANCHOR_START,
                      "Up to the pressures that matter");
    p.x += p.w + p.label_room + 66.0;
    p.label_room = 176.0;
    p.w = WIDTH - MARGIN - p.label_room - p.x;
    p.details = false;
    set_pressures(&p, g.least, 1.05 * g.most);
    set_way(&p, g.start, g.end, 0.07);
    still_chart_panel_draw(out, &p);
    still_canvas_text(out, STILL_LOOK_ID, p.x, top - 48.0, INFO, STILL_ANCHOR_START,
                      "The whole way");
}

still_status still_chart_page(still_canvas *out, const still_curve_record *r)
{
    out->width = WIDTH;
    out->height = HEIGHT;
    out->width_mm = 297.0;
    out->height_mm = 210.0;
    out->layer = STILL_LAYER_PAGE;
    out->owner = STILL_NONE;
    name_of(&out->title, r);
    what_it_is(&out->desc, r);
    still_canvas_rect(out, STILL_LOOK_CELL, 0.0, 0.0, WIDTH, HEIGHT, 0.0);
    double top = head(out, r) + 66.0, bottom = HEIGHT - MARGIN - FOOT - 62.0;
    if (r->n_points > 0 && top < bottom - 100.0) panels(out, r, top, bottom);
    foot(out, r);
    if (out->title.failed || out->desc.failed) out->failed = true;
    return out->failed ? STILL_E_NOMEM : STILL_OK;
}

still_status still_picture_curve(still_buf *out, const still_curve_record *r, still_picture form)
{
    still_canvas canvas = {0};
    still_status status = still_chart_page(&canvas, r);
    return still_picture_convert(out, &canvas, form, status);
}
