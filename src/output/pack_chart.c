/* Pressure against temperature of what a plan shuts in: small, for the appendix. The range ends at
 * about twice the design pressure: a curve that goes on leaves the frame at the top, which is said.
 */
#include "pack.h"

#include "chart.h"

#include <math.h>

#define SAY(...) still_pack_say(p, __VA_ARGS__)

/** A page's width in points, as the text beside it. */
#define WIDE 480.0
#define HIGH 150.0
#define LEFT 62.0
#define RIGHT 128.0
#define TOP 8.0
#define FOOT 30.0
#define TYPE 8.0

typedef struct frame {
    double low_degC, high_degC, high_barg;
} frame;

static double x_of(const frame *f, double degC)
{
    double way = f->high_degC - f->low_degC;
    return LEFT + (WIDE - LEFT - RIGHT) * (way > 0.0 ? (degC - f->low_degC) / way : 0.5);
}

static double y_of(const frame *f, double barg)
{
    return TOP + (HIGH - TOP - FOOT) * (1.0 - barg / f->high_barg);
}

static frame frame_of(const still_closed_in *s)
{
    double most = 0.0, design = isfinite(s->design_barg) ? s->design_barg : 0.0;
    for (size_t i = 0; i < s->n_curve; i++) {
        if (isfinite(s->curve[i].rigid_bara))
            most = fmax(most, s->curve[i].rigid_bara - STILL_ATM_BAR);
        if (isfinite(s->curve[i].pipe_bara))
            most = fmax(most, s->curve[i].pipe_bara - STILL_ATM_BAR);
    }
    if (design > 0.0) most = fmin(most, 2.2 * design);
    most = fmax(fmax(most, 1.1 * design), 0.1);
    double step = still_chart_step(most, 5.0);
    frame f = {s->curve[0].degC, s->curve[s->n_curve - 1].degC, step * ceil(most / step)};
    /* Where a curve leaves early, the way to there is what counts: three times as far is shown. */
    for (size_t i = 0; i < s->n_curve; i++) {
        double p = fmin(s->curve[i].rigid_bara, s->curve[i].pipe_bara) - STILL_ATM_BAR;
        if (!(p > f.high_barg)) continue;
        f.high_degC = fmin(f.high_degC, f.low_degC + 3.0 * (s->curve[i].degC - f.low_degC));
        break;
    }
    return f;
}

/** One curve, up to where it leaves the frame. @return where that is, NAN = it does not */
static double curve(still_canvas *out, const frame *f, const still_closed_in *s, bool rigid)
{
    bool begun = false;
    double before_degC = 0.0, before = 0.0;
    for (size_t i = 0; i < s->n_curve; i++) {
        double p = (rigid ? s->curve[i].rigid_bara : s->curve[i].pipe_bara) - STILL_ATM_BAR;
        double degC = s->curve[i].degC;
        if (!isfinite(p) || degC > f->high_degC + 1e-9) continue;
        if (!begun) still_canvas_path(out, rigid ? STILL_LOOK_CURVE_RIGID : STILL_LOOK_CURVE);
        if (p > f->high_barg) {
            double part = begun && p > before ? (f->high_barg - before) / (p - before) : 0.0;
            double at = before_degC + part * (degC - before_degC);
            if (begun) still_canvas_to(out, x_of(f, at), y_of(f, f->high_barg));
            return begun ? at : degC;
        }
        double y = y_of(f, fmax(p, 0.0));
        if (begun)
            still_canvas_to(out, x_of(f, degC), y);
        else
            still_canvas_move(out, x_of(f, degC), y);
        begun = true;
        before = p;
        before_degC = degC;
    }
    return (double)NAN;
}

static void axes(still_canvas *out, still_pack *p, const frame *f)
{
    double bottom = y_of(f, 0.0), right = WIDE - RIGHT;
    double step = still_chart_step(f->high_barg, 5.0);
    for (double at = 0.0; at <= f->high_barg * 1.0001; at += step) {
        still_canvas_line(out, STILL_LOOK_GRID, LEFT, y_of(f, at), right, y_of(f, at));
        still_canvas_text(out, STILL_LOOK_TXT, LEFT - 4.0, y_of(f, at) + 3.0, TYPE,
                          STILL_ANCHOR_END, still_pack_figure(p, at, 4, at == 0.0 ? "barg" : ""));
    }
    double way = f->high_degC - f->low_degC, gap = still_chart_step(way > 0.0 ? way : 1.0, 6.0);
    double last = -HUGE_VAL;
    for (double at = gap * ceil(f->low_degC / gap); at <= f->high_degC + 1e-9; at += gap) {
        double x = x_of(f, at);
        still_canvas_line(out, STILL_LOOK_GRID, x, TOP, x, bottom);
        if (x - last < 40.0) continue;
        still_canvas_text(out, STILL_LOOK_TXT, x, bottom + 11.0, TYPE, STILL_ANCHOR_MIDDLE,
                          still_pack_figure(p, fabs(at) < 1e-9 ? 0.0 : at, 4, ""));
        last = x;
    }
    still_canvas_text(out, STILL_LOOK_TXT, right, bottom + 23.0, TYPE, STILL_ANCHOR_END, "degC");
    still_canvas_rect(out, STILL_LOOK_HAIR, LEFT, TOP, right - LEFT, bottom - TOP, 0.0);
}

/** Key at the right: a sample of a line, words beside it. */
static double sample(still_canvas *out, still_look look, double y, const char *words)
{
    double x = WIDE - RIGHT + 8.0;
    still_canvas_line(out, look, x, y + 5.0, x + 20.0, y + 5.0);
    return still_canvas_flowed(out, STILL_LOOK_TXT, x + 24.0, y + 8.0, TYPE, RIGHT - 34.0, words,
                               false) +
           2.0;
}

still_status still_pack_chart(still_canvas *out, const still_pack *of, const still_closed_in *s)
{
    still_pack work = *of, *p = &work; /* texts of its own */
    still_arena_init(&p->arena);
    p->arena.messages = of->people.messages;
    p->failed = false;
    frame f = frame_of(s);
    *out = (still_canvas){.width = WIDE,
                          .height = HIGH,
                          .width_mm = WIDE * 25.4 / 72.0,
                          .height_mm = HIGH * 25.4 / 72.0,
                          .owner = UINT32_MAX};
    still_buf_add(&out->title, SAY("Pressure of closed-in liquid against temperature"));
    still_buf_add(&out->desc, s->why);
    axes(out, p, &f);
    double y = TOP;
    if (isfinite(s->design_barg)) {
        still_canvas_line(out, STILL_LOOK_DESIGN, LEFT, y_of(&f, s->design_barg), WIDE - RIGHT,
                          y_of(&f, s->design_barg));
        y += sample(
            out, STILL_LOOK_DESIGN, y,
            SAY("lowest design pressure %s", still_pack_figure(p, s->design_barg, 4, "barg")));
    }
    double leaves = curve(out, &f, s, true);
    y += sample(out, STILL_LOOK_CURVE_RIGID, y, SAY("pipes taken as rigid"));
    double pipe = curve(out, &f, s, false);
    y += sample(out, STILL_LOOK_CURVE, y, SAY("with the stretch of the pipes"));
    if (isfinite(leaves) || isfinite(pipe))
        (void)still_canvas_flowed(
            out, STILL_LOOK_ID, WIDE - RIGHT + 8.0, y + 8.0, TYPE, RIGHT - 14.0,
            SAY("goes on rising above the frame, from %s on",
                still_pack_figure(
                    p, fmin(isfinite(leaves) ? leaves : HUGE_VAL, isfinite(pipe) ? pipe : HUGE_VAL),
                    3, "degC")),
            false);
    bool failed = p->failed || out->failed || out->title.failed || out->desc.failed;
    still_arena_clear(&p->arena);
    return failed ? STILL_E_NOMEM : STILL_OK;
}
