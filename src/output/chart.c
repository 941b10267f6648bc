/* One frame of a chart: axes, two curves, lines across, and their labels.
 *
 * Labels of lines across stand to the right of the frame, pushed apart, with leaders. Labels of
 * curves stand at the curve: places along it are tried on both sides until one lies free. Curves
 * differ by line as well as by colour. */
#include "chart.h"

#include "number.h"

#include <math.h>
#include <stdlib.h>

enum { MAX_PATH = 800, MAX_LABELS = 40, MAX_BOXES = 40 };

typedef struct box {
    double x0, y0, x1, y1;
} box;

/** Part of a curve within the frame; `lifted` says where a line of its own begins. */
typedef struct track {
    double x[MAX_PATH], y[MAX_PATH];
    bool lifted[MAX_PATH];
    size_t n;
    double leaves_x; /**< where it leaves at the top; NAN = it does not */
} track;

/** A label to the right of the frame. */
typedef struct label {
    double at, y, height; /**< where it belongs, its top, its height */
    still_look look;
    still_buf text;
} label;

typedef struct work {
    still_canvas *out;
    const still_chart_panel *p;
    track rigid, pipe;
    bool alike; /**< the curves lie on each other */
    label labels[MAX_LABELS];
    size_t n_labels;
    box boxes[MAX_BOXES]; /**< taken */
    size_t n_boxes;
} work;

static double x_of(const still_chart_panel *p, double degC)
{
    return p->x + p->w * (degC - p->low_degC) / (p->high_degC - p->low_degC);
}

static double y_of(const still_chart_panel *p, double barg)
{
    return p->y + p->h - p->h * (barg - p->low_barg) / (p->high_barg - p->low_barg);
}

static void put(still_canvas *out, still_look look, double x, double y, still_anchor anchor,
                still_buf *text)
{
    if (text->failed) out->failed = true;
    if (!text->failed && text->text != NULL)
        still_canvas_text(out, look, x, y, STILL_CHART_TYPE, anchor, text->text);
    still_buf_clear(text);
}

static void say(still_canvas *out, still_look look, double x, double y, still_anchor anchor,
                const char *text)
{
    still_canvas_text(out, look, x, y, STILL_CHART_TYPE, anchor, text);
}

double still_chart_step(double range, double n)
{
    double rough = range / n, power = pow(10.0, floor(log10(rough))), part = rough / power;
    return power * (part <= 1.0 ? 1.0 : part <= 2.0 ? 2.0 : part <= 5.0 ? 5.0 : 10.0);
}

/* ---- axes ---- */

static void tick_text(still_canvas *out, double x, double y, still_anchor anchor, double value)
{
    still_buf text = STILL_BUF_INIT;
    still_number_add(&text, value, 6);
    put(out, STILL_LOOK_TXT, x, y, anchor, &text);
}

static void axis_of_temperature(still_canvas *out, const still_chart_panel *p)
{
    double step =
        still_chart_step(p->high_degC - p->low_degC, p->details ? p->w / 75.0 : p->w / 45.0);
    double bottom = p->y + p->h;
    for (double i = ceil(p->low_degC / step - 1e-9); i * step <= p->high_degC + step * 1e-9; i++) {
        double x = x_of(p, i * step);
        still_canvas_line(out, STILL_LOOK_GRID, x, p->y, x, bottom);
        still_canvas_line(out, STILL_LOOK_RULE, x, bottom, x, bottom + 6.0);
        tick_text(out, x, bottom + 21.0, STILL_ANCHOR_MIDDLE, i * step + 0.0);
    }
    say(out, STILL_LOOK_ID, p->x + p->w / 2.0, bottom + 42.0, STILL_ANCHOR_MIDDLE,
        "temperature, degC");
}

/** A scale of pressure whose line stands at x. @param above  of gauge pressure, at its zero */
static void scale(still_canvas *out, const still_chart_panel *p, double x, double above, bool grid)
{
    double step = still_chart_step(p->high_barg - p->low_barg, p->h / 50.0);
    double low = p->low_barg + above, high = p->high_barg + above;
    for (double i = ceil(low / step - 1e-9); i * step <= high + step * 1e-9; i++) {
        double y = y_of(p, i * step - above);
        if (grid) still_canvas_line(out, STILL_LOOK_GRID, p->x, y, p->x + p->w, y);
        still_canvas_line(out, STILL_LOOK_RULE, x - 6.0, y, x, y);
        tick_text(out, x - 9.0, y + 4.0, STILL_ANCHOR_END, i * step + 0.0);
    }
}

static void axes(still_canvas *out, const still_chart_panel *p)
{
    axis_of_temperature(out, p);
    scale(out, p, p->x, 0.0, true);
    say(out, STILL_LOOK_ID, p->x - 4.0, p->y - 27.0, STILL_ANCHOR_END, "bar");
    say(out, STILL_LOOK_ID, p->x - 4.0, p->y - 12.0, STILL_ANCHOR_END, "gauge");
    if (p->details) {
        double x = p->x - 62.0;
        still_canvas_line(out, STILL_LOOK_RULE, x, p->y, x, p->y + p->h);
        scale(out, p, x, STILL_ATM_BAR, false);
        say(out, STILL_LOOK_ID, x, p->y - 27.0, STILL_ANCHOR_END, "bar");
        say(out, STILL_LOOK_ID, x, p->y - 12.0, STILL_ANCHOR_END, "absolute");
    }
    still_canvas_rect(out, STILL_LOOK_FRAME_THIN, p->x, p->y, p->w, p->h, 0.0);
}

/* ---- curves ---- */

static double barg_of(const still_curve_row *row, bool rigid)
{
    return (rigid ? row->rigid_bara : row->pipe_bara) - STILL_ATM_BAR;
}

/** The last point that has a pressure, or NULL. */
static const still_curve_row *last_of(const still_curve_record *r, bool rigid)
{
    const still_curve_row *last = NULL;
    for (size_t i = 0; i < r->n_points; i++)
        if (!isnan(barg_of(&r->points[i], rigid))) last = &r->points[i];
    return last;
}

/** Keep what lies within the frame of the line from a to b (Liang and Barsky 1984). */
static void clip(track *t, const still_chart_panel *p, double ax, double ay, double bx, double by)
{
    double from = 0.0, to = 1.0, dx = bx - ax, dy = by - ay;
    const double d[4] = {-dx, dx, -dy, dy};
    const double q[4] = {ax - p->x, p->x + p->w - ax, ay - p->y, p->y + p->h - ay};
    for (int i = 0; i < 4; i++) {
        if (fabs(d[i]) < 1e-12) {
            if (q[i] < 0.0) return;
        } else if (d[i] < 0.0) {
            from = fmax(from, q[i] / d[i]);
        } else {
            to = fmin(to, q[i] / d[i]);
        }
    }
    if (from > to || t->n + 2 > MAX_PATH) return;
    double x = ax + from * dx, y = ay + from * dy;
    bool on = t->n > 0 && hypot(t->x[t->n - 1] - x, t->y[t->n - 1] - y) < 0.01;
    if (!on) {
        t->lifted[t->n] = true;
        t->x[t->n] = x;
        t->y[t->n++] = y;
    }
    t->lifted[t->n] = false;
    t->x[t->n] = ax + to * dx;
    t->y[t->n++] = ay + to * dy;
    if (to < 1.0 && t->y[t->n - 1] < p->y + 0.01 && isnan(t->leaves_x))
        t->leaves_x = t->x[t->n - 1];
}

static void follow(track *t, const still_chart_panel *p, bool rigid)
{
    const still_curve_record *r = p->r;
    t->n = 0;
    t->leaves_x = (double)NAN;
    const still_curve_row *a = NULL;
    for (size_t i = 0; i < r->n_points; i++) {
        const still_curve_row *b = &r->points[i];
        if (isnan(barg_of(b, rigid))) continue;
        if (a != NULL)
            clip(t, p, x_of(p, a->degC), y_of(p, barg_of(a, rigid)), x_of(p, b->degC),
                 y_of(p, barg_of(b, rigid)));
        a = b;
    }
}

static void draw_track(still_canvas *out, const track *t, still_look look)
{
    if (t->n == 0) return;
    still_canvas_path(out, look);
    for (size_t i = 0; i < t->n; i++) {
        if (t->lifted[i])
            still_canvas_move(out, t->x[i], t->y[i]);
        else
            still_canvas_to(out, t->x[i], t->y[i]);
    }
}

/** Both curves lie within two pixels of each other. */
static bool lie_together(const still_chart_panel *p)
{
    const still_curve_record *r = p->r;
    for (size_t i = 0; i < r->n_points; i++) {
        double a = barg_of(&r->points[i], true), b = barg_of(&r->points[i], false);
        if (isnan(a) != isnan(b)) return false;
        if (isnan(a) || fmin(a, b) > p->high_barg || r->points[i].degC > p->high_degC) continue;
        if (fabs(y_of(p, a) - y_of(p, b)) > 2.0) return false;
    }
    return true;
}

/* ---- labels that lie at a curve ---- */

static bool meet(box a, box b)
{
    return a.x0 < b.x1 && b.x0 < a.x1 && a.y0 < b.y1 && b.y0 < a.y1;
}

static bool crosses(const track *t, box b)
{
    for (size_t i = 1; i < t->n; i++) {
        if (t->lifted[i]) continue;
        /* Short pieces: points along them are enough. */
        double length = hypot(t->x[i] - t->x[i - 1], t->y[i] - t->y[i - 1]);
        int n = (int)fmin(400.0, ceil(length / 3.0)) + 1;
        for (int k = 0; k <= n; k++) {
            double part = (double)k / n;
            double x = t->x[i - 1] + part * (t->x[i] - t->x[i - 1]);
            double y = t->y[i - 1] + part * (t->y[i] - t->y[i - 1]);
            if (x > b.x0 - 3.0 && x < b.x1 + 3.0 && y > b.y0 - 3.0 && y < b.y1 + 3.0) return true;
        }
    }
    return false;
}

static bool is_free(const work *w, box b)
{
    const still_chart_panel *p = w->p;
    if (b.x0 < p->x + 3.0 || b.x1 > p->x + p->w - 3.0 || b.y0 < p->y + 3.0 ||
        b.y1 > p->y + p->h - 3.0)
        return false;
    for (size_t i = 0; i < w->n_boxes; i++)
        if (meet(b, w->boxes[i])) return false;
    return !crosses(&w->rigid, b) && !crosses(&w->pipe, b);
}

static void take(work *w, box b)
{
    if (w->n_boxes < MAX_BOXES) w->boxes[w->n_boxes++] = b;
}

/** Try to write with one side at (x, y). */
static bool try_at(work *w, still_look look, double x, double y, bool left, const char *text)
{
    double width = still_text_width(text, STILL_CHART_TYPE, still_look_of(look)->bold);
    box b = {left ? x - width : x, y - 10.0, left ? x : x + width, y + 4.0};
    if (!is_free(w, b)) return false;
    still_canvas_rect(w->out, STILL_LOOK_BLANK, b.x0 - 2.0, b.y0 - 1.0, width + 4.0, 16.0, 0.0);
    still_canvas_text(w->out, look, b.x0, y, STILL_CHART_TYPE, STILL_ANCHOR_START, text);
    take(w, b);
    return true;
}

static double length_of(const track *t)
{
    double sum = 0.0;
    for (size_t i = 1; i < t->n; i++)
        if (!t->lifted[i]) sum += hypot(t->x[i] - t->x[i - 1], t->y[i] - t->y[i - 1]);
    return sum;
}

/** The point that lies at a part of its length. */
static void point_at(double *x, double *y, const track *t, double part)
{
    double left = part * length_of(t);
    *x = t->x[0];
    *y = t->y[0];
    for (size_t i = 1; i < t->n; i++) {
        if (t->lifted[i]) continue;
        double step = hypot(t->x[i] - t->x[i - 1], t->y[i] - t->y[i - 1]);
        double share = step > 0.0 ? fmin(1.0, left / step) : 1.0;
        *x = t->x[i - 1] + share * (t->x[i] - t->x[i - 1]);
        *y = t->y[i - 1] + share * (t->y[i] - t->y[i - 1]);
        left -= step;
        if (left <= 0.0) return;
    }
}

/** Write the name of a curve at it. @param above  the side that is tried first */
static void name_curve(work *w, const track *t, bool above, const char *text)
{
    if (t->n == 0) return;
    for (int turn = 0; turn < 2; turn++) {
        bool up = above == (turn == 0);
        for (int i = 0; i < 60; i++) {
            /* From three quarters on, further and further to both ends. */
            double part = 0.75 + (i % 2 == 0 ? -1.0 : 1.0) * 0.0125 * (double)((i + 1) / 2), x, y;
            if (part < 0.0 || part > 1.0) continue;
            point_at(&x, &y, t, part);
            for (double away = 5.0; away < 26.0; away += 5.0)
                if (try_at(w, STILL_LOOK_ID, up ? x - away - 3.0 : x + away + 3.0,
                           up ? y - away + 2.0 : y + away + 9.0, up, text))
                    return;
        }
    }
}

/* ---- labels to the right ---- */

/** There are few levels: what is beyond the last place takes its place. */
static still_buf *add_label(work *w, double at, still_look look)
{
    if (w->n_labels == MAX_LABELS) still_buf_clear(&w->labels[--w->n_labels].text);
    label *l = &w->labels[w->n_labels++];
    *l = (label){.at = at, .look = look};
    return &l->text;
}

static int higher_first(const void *pa, const void *pb)
{
    const label *a = pa, *b = pb;
    return a->at < b->at ? -1 : a->at > b->at;
}

static void draw_labels(work *w)
{
    const still_chart_panel *p = w->p;
    const double gap = 7.0, room = p->label_room - 26.0, right = p->x + p->w;
    qsort(w->labels, w->n_labels, sizeof w->labels[0], higher_first);
    for (size_t i = 0; i < w->n_labels; i++) {
        label *l = &w->labels[i];
        if (l->text.failed || l->text.text == NULL) w->out->failed = true;
        if (w->out->failed) continue;
        l->height = still_canvas_flowed(w->out, l->look, 0.0, 0.0, STILL_CHART_TYPE, room,
                                        l->text.text, true);
        l->y = l->at - 9.0;
        if (i > 0) l->y = fmax(l->y, l[-1].y + l[-1].height + gap);
    }
    double floor_y = p->y + p->h + 44.0;
    for (size_t i = w->n_labels; i-- > 0;) {
        label *l = &w->labels[i];
        l->y = fmin(l->y, floor_y - l->height);
        floor_y = l->y - gap;
    }
    for (size_t i = 0; i < w->n_labels; i++) {
        label *l = &w->labels[i];
        if (!w->out->failed) {
            still_canvas_line(w->out, STILL_LOOK_LEADER, right, l->at, right + 20.0, l->y + 5.0);
            still_canvas_flowed(w->out, l->look, right + 24.0, l->y + 9.0, STILL_CHART_TYPE, room,
                                l->text.text, false);
        }
        still_buf_clear(&l->text);
    }
}

/** The line across at a pressure, its label, and where it is reached. */
static void level(work *w, const still_curve_level *l)
{
    const still_chart_panel *p = w->p;
    double barg = l->bara - STILL_ATM_BAR;
    if (barg < p->low_barg - 1e-9 || barg > p->high_barg) return;
    double y = y_of(p, barg);
    still_canvas_line(w->out, l->design ? STILL_LOOK_DESIGN : STILL_LOOK_LEVEL, p->x, y,
                      p->x + p->w, y);
    take(w, (box){p->x, y - 3.0, p->x + p->w, y + 3.0});
    still_buf *text = add_label(w, y, l->design ? STILL_LOOK_ID : STILL_LOOK_TXT);
    still_number_add(text, barg, 4);
    if (!p->details) {
        still_buf_add(text, " barg: design");
        return;
    }
    still_buf_printf(text, " barg: %s", l->text);
    const still_segment *s = p->r->segment;
    if (!l->design) return;
    if (isnan(s->reaches_design_at_degC)) {
        still_buf_add(text, s->never ? ", not reached up to ambient" : "");
        return;
    }
    still_buf_add(text, ", reached at ");
    still_number_add(text, s->reaches_design_at_degC, 4);
    still_buf_add(text, s->reaches_design_at_degC < s->start_degC ? " degC if the pressure is right"
                                                                  : " degC");
    if (s->by_vapour) still_buf_add(text, ", by vapour pressure");
}

static double pipe_at(const still_curve_record *r, double degC)
{
    const still_curve_row *a = NULL;
    for (size_t i = 0; i < r->n_points; i++) {
        const still_curve_row *b = &r->points[i];
        if (isnan(barg_of(b, false))) continue;
        if (a != NULL && degC >= a->degC && degC <= b->degC) {
            double part = b->degC > a->degC ? (degC - a->degC) / (b->degC - a->degC) : 0.0;
            return barg_of(a, false) + part * (barg_of(b, false) - barg_of(a, false));
        }
        a = b;
    }
    return (double)NAN;
}

/** A ring where the curve meets the design pressure, and a line down to the temperature. */
static void mark_reached(work *w)
{
    const still_chart_panel *p = w->p;
    const still_segment *s = p->r->segment;
    double T = s->reaches_design_at_degC, barg = s->design_bara - STILL_ATM_BAR;
    if (!(T <= p->high_degC) || !(fabs(y_of(p, pipe_at(p->r, T)) - y_of(p, barg)) < 3.0)) return;
    double x = x_of(p, T), y = y_of(p, barg), bottom = p->y + p->h;
    still_buf text = STILL_BUF_INIT;
    still_canvas_line(w->out, STILL_LOOK_LEADER, x, y + 5.0, x, bottom);
    still_canvas_circle(w->out, STILL_LOOK_SYM, x, y, 5.0);
    take(w, (box){x - 6.0, y - 6.0, x + 6.0, y + 6.0});
    take(w, (box){x - 1.0, y, x + 1.0, bottom});
    still_number_add(&text, T, 4);
    still_buf_add(&text, " degC, ");
    still_number_add(&text, T - s->start_degC, 2);
    still_buf_add(&text, " K above the start");
    if (text.failed) w->out->failed = true;
    bool done = w->out->failed;
    for (double up = 8.0; up < p->h - 20.0 && !done; up += 9.0)
        done = try_at(w, STILL_LOOK_TXT, x + 6.0, bottom - up, false, text.text) ||
               try_at(w, STILL_LOOK_TXT, x - 6.0, bottom - up, true, text.text);
    still_buf_clear(&text);
}

static void mark_start(work *w)
{
    const still_chart_panel *p = w->p;
    const still_curve_row *a = &p->r->points[0];
    double barg = barg_of(a, isnan(a->pipe_bara));
    if (isnan(barg) || barg > p->high_barg) return;
    double x = x_of(p, a->degC), y = y_of(p, barg);
    still_canvas_circle(w->out, STILL_LOOK_FULL, x, y, 4.0);
    take(w, (box){x - 5.0, y - 5.0, x + 5.0, y + 5.0});
    if (!try_at(w, STILL_LOOK_TXT, x - 9.0, y + 4.0, true, "start"))
        (void)(try_at(w, STILL_LOOK_TXT, x - 7.0, y - 7.0, true, "start") ||
               try_at(w, STILL_LOOK_TXT, x + 9.0, y + 16.0, false, "start") ||
               try_at(w, STILL_LOOK_TXT, x + 7.0, y - 9.0, false, "start"));
}

static void mark_ambient(work *w)
{
    const still_chart_panel *p = w->p;
    double ambient = p->r->of->ambient_degC;
    if (!(ambient >= p->low_degC && ambient <= p->high_degC)) return;
    double x = x_of(p, ambient);
    still_buf text = STILL_BUF_INIT;
    still_canvas_line(w->out, STILL_LOOK_LEVEL, x, p->y - 6.0, x, p->y + p->h);
    take(w, (box){x - 2.0, p->y, x + 2.0, p->y + p->h});
    still_buf_add(&text, "ambient ");
    still_number_add(&text, ambient, 4);
    still_buf_add(&text, " degC");
    put(w->out, STILL_LOOK_ID, p->x + p->w, p->y - 27.0, STILL_ANCHOR_END, &text);
}

static void ends_at(still_buf *text, const still_curve_row *end, bool rigid, bool temperature)
{
    still_number_add(text, barg_of(end, rigid), 4);
    still_buf_add(text, " barg");
    if (!temperature) return;
    still_buf_add(text, " at ");
    still_number_add(text, end->degC, 4);
    still_buf_add(text, " degC");
}

/** What the curves come to at their end: at the end itself, or above the frame. */
static void ends(work *w)
{
    const still_chart_panel *p = w->p;
    static const char *const names[] = {"rigid: ", "gives way: "};
    double at = -HUGE_VAL;
    still_buf above = STILL_BUF_INIT;
    for (int i = 1; i >= 0; i--) {
        const track *t = i == 0 ? &w->rigid : &w->pipe;
        const still_curve_row *last = last_of(p->r, i == 0);
        if (last == NULL || t->n == 0 || (w->alike && i == 0)) continue;
        if (!isnan(t->leaves_x)) {
            at = fmax(at, t->leaves_x);
            still_canvas_shape(w->out, STILL_LOOK_FULL, t->leaves_x, p->y, false, "M-4-1L0-9L4-1Z");
            still_buf_add(&above, above.text == NULL ? "goes on to " : ", rigid ");
            bool both = i == 1 && !w->alike && !isnan(w->rigid.leaves_x);
            const still_curve_row *other = last_of(p->r, true);
            ends_at(&above, last, i == 0, !both || fabs(other->degC - last->degC) > 1e-6);
        } else if (last->degC <= p->high_degC) {
            still_buf *text = add_label(w, t->y[t->n - 1], STILL_LOOK_TXT);
            if (!w->alike) still_buf_add(text, names[i]);
            ends_at(text, last, i == 0, p->details);
            if (last->degC < p->r->of->ambient_degC - 1e-6 && p->r->stops[0] != '\0')
                still_buf_add(text, ", then not known");
        }
    }
    double width = above.text == NULL ? 0.0 : still_text_width(above.text, STILL_CHART_TYPE, false);
    double x = fmax(p->x + 4.0, fmin(at - width / 2.0, p->x + p->w - width));
    put(w->out, STILL_LOOK_TXT, x, p->y - 12.0, STILL_ANCHOR_START, &above);
}

void still_chart_panel_draw(still_canvas *out, const still_chart_panel *p)
{
    work w = {.out = out, .p = p, .alike = lie_together(p)};
    axes(out, p);
    follow(&w.rigid, p, true);
    follow(&w.pipe, p, false);
    for (size_t i = 0; i < p->r->n_levels; i++)
        if (p->details || p->r->levels[i].design) level(&w, &p->r->levels[i]);
    mark_ambient(&w);
    draw_track(out, &w.pipe, STILL_LOOK_CURVE);
    if (!w.alike) draw_track(out, &w.rigid, STILL_LOOK_CURVE_RIGID);
    if (p->details) mark_reached(&w);
    mark_start(&w);
    bool stands = !(p->r->points[p->r->n_points - 1].degC > p->r->points[0].degC);
    if (w.alike && !stands) {
        name_curve(&w, &w.pipe, true, "rigid wall or not: alike");
    } else if (!stands) {
        name_curve(&w, &w.rigid, true, "rigid wall");
        name_curve(&w, &w.pipe, false, "wall gives way");
    }
    ends(&w);
    draw_labels(&w);
}
