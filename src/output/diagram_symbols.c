/* Symbols, our own, after the ideas of ISO 10628-2 and ISO 14617: the body says the kind of valve,
 * what stands on the stem says who moves it. Bodies are drawn around (0, 0) with `in` on the
 * left; whole numbers, so that no locale can touch them. No body is filled to say open or closed:
 * that stands beside it in words. */
#include "diagram.h"

#include "canvas.h"

#include <string.h>

#define BODY "M-18-11L0 0L-18 11ZM18-11L0 0L18 11Z"
#define ANGLE "M-11 19L0 0L11 19ZM18-11L0 0L18 11ZM-18 0H-14V23H0V19"
#define FLOW "M-12-17H10M4-21L11-17L4-13"

typedef struct symbol {
    uint8_t kind;
    const char *lines; /**< body, white inside */
    const char *full;  /**< filled parts on top */
    const char *over;  /**< lines on top of these */
} symbol;

/* Globe, gate, ball, butterfly, check, relief: F-SYM-1 to F-SYM-3 (shapes from memory of
 * ISO 10628-2:2012 and ISO 14617-8:2002). Check valve: flow from white to black (F-SYM-4, seen).
 * All others are from memory. docs/SYMBOLS.md shows each beside its source. */
static const symbol valves[] = {
    {STILL_KIND_GLOBE, BODY, "M0-5A5 5 0 1 1 0 5A5 5 0 1 1 0-5Z", ""},
    {STILL_KIND_GATE, BODY, "", "M0-11V11"},
    {STILL_KIND_BALL, BODY, "", "M0-6A6 6 0 1 1 0 6A6 6 0 1 1 0-6Z"},
    {STILL_KIND_PLUG_VALVE, BODY, "", "M-4-7H4V7H-4Z"},
    {STILL_KIND_BUTTERFLY, "M-18-11V11M18-11V11", "M0-3A3 3 0 1 1 0 3A3 3 0 1 1 0-3Z",
     "M-12 10L12-10"},
    {STILL_KIND_DIAPHRAGM, BODY, "", "M-11-11Q0 6 11-11"},
    {STILL_KIND_NEEDLE, BODY, "M-5-12H5L0 2Z", ""},
    {STILL_KIND_ANGLE, ANGLE, "", ""},
    {STILL_KIND_STOP_CHECK, BODY, "M18-11L0 0L18 11Z", ""},
    {STILL_KIND_CHECK, BODY, "M18-11L0 0L18 11Z", FLOW},
    {STILL_KIND_CONTROL, BODY, "", ""},
    {STILL_KIND_EXPANSION, BODY, "M-18-4L0 0L-18 4Z", ""},
    {STILL_KIND_REGULATOR, BODY, "", "M10-18H22V0"},
    {STILL_KIND_SOLENOID, BODY, "", ""},
    {STILL_KIND_RELIEF, ANGLE, "", "M0 0V-6L-6-8L6-12L-6-16L6-20L0-22V-25"},
    {STILL_KIND_EXCESS_FLOW, BODY, "", FLOW "M14-22V-12"},
    {STILL_KIND_SELF_CLOSING, BODY, "", "M0 0V-6L-6-8L6-12L-6-16L0-18M0-18H12"},
    {STILL_KIND_FLOAT, BODY, "", "M0 0V-13L12-18M12-23A5 5 0 1 1 12-13A5 5 0 1 1 12-23Z"},
    {STILL_KIND_RUPTURE_DISC, "M-18 0H-6M6 0H18M-6-12H6V12H-6Z", "", "M-6-12Q10 0-6 12"},
};

/** What stands on the stem. */
typedef enum actuator {
    ACTUATOR_NONE,
    ACTUATOR_HAND,
    ACTUATOR_DOME, /**< driven by air, or by the fluid itself */
    ACTUATOR_COIL,
    ACTUATOR_MOTOR,
    ACTUATOR_PISTON,
    ACTUATOR_SPRING
} actuator;

static actuator actuator_of(const still_comp *c)
{
    if (c->cls != STILL_CLASS_VALVE) return ACTUATOR_NONE;
    bool stop = still_kind_stops(c->kind);
    if (c->kind == STILL_KIND_SOLENOID) return ACTUATOR_COIL;
    bool powered = stop || c->kind == STILL_KIND_CONTROL || c->kind == STILL_KIND_THREE_WAY;
    switch ((still_drive)(powered ? c->drive : STILL_DRIVE_NOT_SAID)) {
    case STILL_DRIVE_HAND: return ACTUATOR_HAND;
    case STILL_DRIVE_MOTOR: return ACTUATOR_MOTOR;
    case STILL_DRIVE_AIR: return ACTUATOR_DOME;
    case STILL_DRIVE_HYDRAULIC: return ACTUATOR_PISTON;
    case STILL_DRIVE_SPRING: return ACTUATOR_SPRING;
    case STILL_DRIVE_NOT_SAID:
    case STILL_DRIVE_COUNT: break;
    }
    if (stop) return ACTUATOR_HAND;
    bool dome = c->kind == STILL_KIND_CONTROL || c->kind == STILL_KIND_EXPANSION ||
                c->kind == STILL_KIND_REGULATOR;
    return dome ? ACTUATOR_DOME : ACTUATOR_NONE;
}

static const symbol fittings[] = {
    {STILL_KIND_TEE, "", "M0-4A4 4 0 1 1 0 4A4 4 0 1 1 0-4Z", ""},
    {STILL_KIND_NODE, "", "M0-4A4 4 0 1 1 0 4A4 4 0 1 1 0-4Z", ""},
    {STILL_KIND_ELBOW, "M0-4A4 4 0 1 1 0 4A4 4 0 1 1 0-4Z", "", ""},
    {STILL_KIND_REDUCER, "M-9-9L9-5V5L-9 9Z", "", ""},
    {STILL_KIND_STRAINER, "M-14-10H14V10H-14Z", "", "M-14 10L-8-10L-2 10L4-10L10 10L14-4"},
    {STILL_KIND_FILTER, "M-14-10H14V10H-14Z", "", "M0-10V-6M0-3V1M0 4V8"},
    {STILL_KIND_METER, "M0-14A14 14 0 1 1 0 14A14 14 0 1 1 0-14Z", "", "M-8 8L8-8M2-8H8V-2"},
    {STILL_KIND_SIGHT_GLASS, "M-14-10H14V10H-14Z", "", "M0-6A6 6 0 1 1 0 6A6 6 0 1 1 0-6Z"},
    {STILL_KIND_HOSE, "", "", "M-18 0Q-13.5-12-9 0Q-4.5 12 0 0Q4.5-12 9 0Q13.5 12 18 0"},
};

static const symbol ends[] = {
    {STILL_KIND_CAP, "", "M-6-11H-2V11H-6Z", "M-18 0H-4"},
    {STILL_KIND_PLUG, "", "M-8-6H4V6H-8Z", "M-18 0H-4"},
    {STILL_KIND_BLIND_FLANGE, "", "M-3-13H3V13H-3Z", "M-8-13V13M-18 0H-8"},
    {STILL_KIND_DRAIN, "M-18 0H0V4M-10 4H10L3 17H-3Z", "", "M0 17V25M-4 20L0 26L4 20"},
    {STILL_KIND_VENT, "M-18 0H0V-8", "", "M-9-8H9M0-8V-21M-5-15L0-22L5-15"},
    {STILL_KIND_PURGE, "M-18 0H0M0-8H14V8H0Z", "", "M14 0H24M19-5L25 0L19 5"},
};

static const symbol *in_table(const symbol *table, size_t n, uint8_t kind)
{
    for (size_t i = 0; i < n; i++)
        if (table[i].kind == kind) return &table[i];
    return NULL;
}

#define IN_TABLE(table, kind) in_table((table), sizeof(table) / sizeof(table)[0], (kind))

static void put(still_canvas *out, const still_dnode *n, still_look look, const char *data)
{
    if (data[0] != '\0') still_canvas_shape(out, look, n->x, n->y, n->mirrored, data);
}

static void letter(still_canvas *out, double x, double y, double size, const char *s)
{
    still_canvas_text(out, STILL_LOOK_ID, x, y, size, STILL_ANCHOR_MIDDLE, s);
}

/** Stem and actuator; `low` is where the stem starts. */
static void actuate(still_canvas *out, const still_dnode *n, actuator what, double low)
{
    still_canvas_line(out, STILL_LOOK_OVER, n->x, n->y + low, n->x,
                      n->y - (what == ACTUATOR_HAND ? 18.0 : 14.0));
    switch (what) {
    case ACTUATOR_HAND: put(out, n, STILL_LOOK_OVER, "M-7-18H7"); break;
    case ACTUATOR_DOME: put(out, n, STILL_LOOK_SYM, "M-11-14A11 10 0 0 1 11-14Z"); break;
    case ACTUATOR_COIL:
        put(out, n, STILL_LOOK_SYM, "M-9-13H9V-26H-9Z");
        put(out, n, STILL_LOOK_OVER, "M-9-13L9-26");
        break;
    case ACTUATOR_MOTOR:
        still_canvas_circle(out, STILL_LOOK_SYM, n->x, n->y - 23.0, 10.0);
        letter(out, n->x, n->y - 18.5, STILL_TYPE, "M");
        break;
    case ACTUATOR_PISTON:
        put(out, n, STILL_LOOK_SYM, "M-9-14H9V-30H-9Z");
        letter(out, n->x, n->y - 17.5, STILL_TYPE, "H");
        break;
    case ACTUATOR_SPRING: put(out, n, STILL_LOOK_OVER, "M0-12L-6-15L6-19L-6-23L6-27L0-29"); break;
    case ACTUATOR_NONE: break;
    }
}

static void plain(still_canvas *out, const still_dnode *n, const symbol *s)
{
    put(out, n, STILL_LOOK_SYM, s->lines);
    put(out, n, STILL_LOOK_FULL, s->full);
    /* What stands in the middle of a body hides the lines behind it. */
    bool hides = s->kind == STILL_KIND_BALL || s->kind == STILL_KIND_PLUG_VALVE;
    put(out, n, hides ? STILL_LOOK_SYM : STILL_LOOK_OVER, s->over);
}

static void valve(still_canvas *out, const still_dia *d, const still_dnode *n)
{
    const still_comp *c = &d->plant->comps[n->comp];
    const symbol *s = IN_TABLE(valves, c->kind);
    actuator what = actuator_of(c);
    if (what != ACTUATOR_NONE) actuate(out, n, what, c->kind == STILL_KIND_NEEDLE ? -11.0 : 0.0);
    if (s != NULL) {
        plain(out, n, s);
        return;
    }
    put(out, n, STILL_LOOK_SYM, BODY);
    letter(out, n->x, n->y - 13.0, 14.0, "?");
}

/** Both discs of the figure 8, or the one disc: filled in the line = shut, open ring = open. */
static void blind(still_canvas *out, const still_dia *d, const still_dnode *n)
{
    const still_comp *c = &d->plant->comps[n->comp];
    const still_point *point = still_diagram_point(d, n->comp);
    const char *now = point != NULL ? point->to : still_diagram_position(d, n->comp);
    bool shut = now[0] == 'c' || (point != NULL && point->action != STILL_ACTION_OPEN);
    if (c->kind == STILL_KIND_REMOVABLE_SPOOL) {
        put(out, n, STILL_LOOK_SYM,
            shut ? "M-18 0H-14M14 0H18M-14-9V9M14-9V9"
                 : "M-18 0H-14M14 0H18M-14-9V9M14-9V9M-14-5H14V5H-14Z");
        if (shut) put(out, n, STILL_LOOK_OVER, "M-6-8L6 8M-6 8L6-8");
        return;
    }
    put(out, n, STILL_LOOK_OVER, "M-18 0H18M-11-12V12M11-12V12");
    put(out, n, shut ? STILL_LOOK_FULL : STILL_LOOK_SYM, "M0-8A8 8 0 1 1 0 8A8 8 0 1 1 0-8Z");
    if (c->kind == STILL_KIND_SPECTACLE)
        put(out, n, shut ? STILL_LOOK_SYM : STILL_LOOK_FULL, "M0-24A8 8 0 1 1 0-8A8 8 0 1 1 0-24Z");
    else
        put(out, n, STILL_LOOK_OVER, "M0-8V-22");
}

/** A capsule; the surface of the liquid where there is one. */
static void vessel(still_canvas *out, const still_dia *d, const still_dnode *n)
{
    double w = n->symbol_w, h = n->symbol_h, top = n->y - h / 2.0, left = n->x - w / 2.0;
    const char *contents = still_diagram_contents(d, n->comp);
    bool liquid = strcmp(contents, "liquid") == 0;
    still_canvas_rect(out, STILL_LOOK_SYM, left, top, w, h, w / 2.4);
    if (!liquid && strcmp(contents, "two-phase") != 0) return;
    double y = liquid ? top + 20.0 : n->y + 5.0;
    still_canvas_line(out, STILL_LOOK_OVER, left + 6.0, y, left + w - 6.0, y);
    still_canvas_shape(out, STILL_LOOK_SYM, n->x, y, false, "M-6-8H6L0-1Z");
}

static void exchanger(still_canvas *out, const still_dnode *n)
{
    double w = n->symbol_w, h = n->symbol_h;
    still_canvas_rect(out, STILL_LOOK_SYM, n->x - w / 2.0, n->y - h / 2.0, w, h, 0.0);
    put(out, n, STILL_LOOK_OVER, "M-22 0H-12L-5-12L5 12L12 0H22");
}

/** A box, since pipes must meet it apart: which ports it joins is what matters. */
static void three_way(still_canvas *out, const still_dia *d, const still_dnode *n)
{
    still_canvas_rect(out, STILL_LOOK_SYM, n->x - n->symbol_w / 2.0, n->y - n->symbol_h / 2.0,
                      n->symbol_w, n->symbol_h, 4.0);
    put(out, n, STILL_LOOK_SYM, "M-12-8L0 0L-12 8ZM12-8L0 0L12 8ZM-8 13L0 0L8 13Z");
    if (actuator_of(&d->plant->comps[n->comp]) == ACTUATOR_MOTOR)
        letter(out, n->x, n->y - 14.0, STILL_TYPE, "M");
}

static void machine(still_canvas *out, const still_dnode *n, uint8_t cls)
{
    still_canvas_circle(out, STILL_LOOK_SYM, n->x, n->y, 18.0);
    if (cls == STILL_CLASS_PUMP)
        put(out, n, STILL_LOOK_OVER, "M-3-17L18 0L-3 17");
    else
        put(out, n, STILL_LOOK_OVER, "M-13-12L16-7M-13 12L16 7");
}

static void outlet_letter(still_canvas *out, const still_dnode *n, uint8_t kind)
{
    const char *name = kind == STILL_KIND_DRAIN ? "D" : kind == STILL_KIND_VENT ? "V" : "P";
    letter(out, n->x + (n->mirrored ? -22.0 : 22.0),
           n->y + (kind == STILL_KIND_DRAIN ? 20.0 : -12.0), 14.0, name);
}

/** A pipe that goes on on another sheet of paper: an arrow in its direction. */
static void reference(still_canvas *out, const still_dia *d, const still_dnode *n, bool mirrored)
{
    const still_comp *s = &d->plant->comps[n->comp];
    bool outward = (d->mark[d->plant->ports[s->a].comp] & STILL_MARK_SHOW) != 0;
    double x = n->x + (mirrored ? 1.0 : -1.0) * (n->width / 2.0 - 5.0);
    still_canvas_shape(out, STILL_LOOK_SYM, x, n->y, mirrored,
                       outward ? "M0-8H10L18 0L10 8H0Z" : "M18-8H8L0 0L8 8H18Z");
}

static void torn(still_canvas *out, const still_dia *d, const still_dnode *n)
{
    bool mirrored = n->n_right > 0;
    if (still_diagram_is_reference(d, n)) {
        reference(out, d, n, mirrored);
        return;
    }
    still_look pipe = d->cov != NULL ? still_diagram_torn_look(d, n->comp)
                      : d->bare      ? STILL_LOOK_PIPE
                                     : STILL_LOOK_PIPE_LIVE;
    still_canvas_shape(out, pipe, n->x, n->y, mirrored, "M-10 0H4");
    still_canvas_shape(out, STILL_LOOK_OVER, n->x, n->y, mirrored,
                       "M4-12L8-5L0 0L8 6L4 12M9-12L13-5L5 0L13 6L9 12");
}

static void component(still_canvas *out, const still_dia *d, const still_dnode *n)
{
    const still_comp *c = &d->plant->comps[n->comp];
    const symbol *s = NULL;
    switch ((still_class)c->cls) {
    case STILL_CLASS_VESSEL: vessel(out, d, n); return;
    case STILL_CLASS_EXCHANGER: exchanger(out, n); return;
    case STILL_CLASS_PUMP:
    case STILL_CLASS_COMPRESSOR: machine(out, n, c->cls); return;
    case STILL_CLASS_BLIND: blind(out, d, n); return;
    case STILL_CLASS_VALVE:
        if (c->kind == STILL_KIND_THREE_WAY)
            three_way(out, d, n);
        else
            valve(out, d, n);
        return;
    case STILL_CLASS_FITTING: s = IN_TABLE(fittings, c->kind); break;
    case STILL_CLASS_CAP:
        s = IN_TABLE(ends, c->kind != STILL_KIND_NOT_SAID ? c->kind : STILL_KIND_CAP);
        break;
    case STILL_CLASS_OUTLET: s = IN_TABLE(ends, c->kind); break;
    case STILL_CLASS_LIMIT:
        put(out, n, STILL_LOOK_OVER, "M-18 0H2M2-14L8-6L-2 0L8 7L2 14M9-14L15-6L5 0L15 7L9 14");
        return;
    case STILL_CLASS_SPOOL:
    case STILL_CLASS_NOT_SAID:
    case STILL_CLASS_COUNT: break;
    }
    if (s != NULL) {
        plain(out, n, s);
    } else {
        put(out, n, STILL_LOOK_SYM, "M-14-10H14V10H-14Z");
        letter(out, n->x, n->y + 5.0, 14.0, "?");
    }
    if (c->cls == STILL_CLASS_OUTLET) outlet_letter(out, n, c->kind);
}

void still_diagram_symbol(still_canvas *out, const still_dia *d, const still_dnode *node)
{
    if (node->kind == STILL_D_COMP) component(out, d, node);
    if (node->kind == STILL_D_TORN) torn(out, d, node);
}

bool still_diagram_spreads(const still_plant *plant, uint32_t comp)
{
    uint8_t cls = plant->comps[comp].cls;
    return cls == STILL_CLASS_VESSEL || cls == STILL_CLASS_EXCHANGER ||
           plant->comps[comp].kind == STILL_KIND_THREE_WAY;
}

void still_diagram_symbol_size(const still_plant *plant, uint32_t comp, uint32_t n, double *w,
                               double *h)
{
    const still_comp *c = &plant->comps[comp];
    actuator what = actuator_of(c);
    *w = 36.0;
    *h = what == ACTUATOR_MOTOR || what == ACTUATOR_PISTON || what == ACTUATOR_SPRING ? 68.0 : 54.0;
    if (still_diagram_spreads(plant, comp)) {
        *w = c->cls == STILL_CLASS_VESSEL ? 56.0 : c->cls == STILL_CLASS_VALVE ? 60.0 : 64.0;
        *h = c->cls == STILL_CLASS_VALVE && n < 3 ? 62.0
             : n > 1                              ? 70.0 + 26.0 * (double)(n - 1)
                                                  : 70.0;
    } else if (c->cls == STILL_CLASS_FITTING) {
        bool dot =
            c->kind == STILL_KIND_TEE || c->kind == STILL_KIND_NODE || c->kind == STILL_KIND_ELBOW;
        *h = dot ? 14.0 : 30.0;
        *w = dot                             ? 0.0
             : c->kind == STILL_KIND_REDUCER ? 18.0
             : c->kind == STILL_KIND_HOSE    ? 36.0
                                             : 28.0;
    } else if (c->cls == STILL_CLASS_CAP) {
        *h = 30.0;
    }
}
