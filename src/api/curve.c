/* Pressure against temperature of one closed-in piece as a record: rows for a table, closer points
 * and lines across for a picture. */
#include "coverage_inside.h"

#include "alloc.h"
#include "diags.h"
#include "output.h"
#include "shared.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

enum {
    /* Where no equation ends the rows, ambient may be anything. */
    MAX_ROWS = 5000,
    /* Points of a picture lie as squares: the first of them 1/90,000 of the way, the last 1/150. */
    POINTS = 300,
    /* ... and the start of water goes down and up again within few kelvins. */
    MORE_POINTS = 2
};

struct still_curve {
    still_arena arena;
    const still_coverage *of;
    const still_piece_facts *facts;
    const still_warming *m;
    double ambient_K;
    still_curve_record record;
    bool failed; /* memory ran out */
};

typedef still_curve work;

#define SAY(...) or_fail(w, still_arena_printf(&w->arena, __VA_ARGS__))

static const char *or_fail(work *w, const char *text)
{
    if (text == NULL) w->failed = true;
    return text != NULL ? text : "";
}

/* ---- which piece ---- */

#define REFUSE(status, ...)                                                                        \
    do {                                                                                           \
        still_diags_add(diags, STILL_SEV_ERROR, "STILL-USE", "", 0, 0, "", NULL, __VA_ARGS__);     \
        return status;                                                                             \
    } while (0)

static bool holds(const still_strings *ids, const char *id)
{
    for (size_t i = 0; i < ids->n; i++)
        if (strcmp(ids->items[i], id) == 0) return true;
    return false;
}

static bool is_named(const still_segment *s, const char *id)
{
    return strcmp(s->name, id) == 0;
}
static bool has_inside(const still_segment *s, const char *id)
{
    return holds(&s->ids, id);
}
static bool ends_at(const still_segment *s, const char *id)
{
    return holds(&s->closed_by, id) || holds(&s->covered_by, id);
}

/* Pieces that fit, at most two of their names. */
typedef struct fitting {
    size_t n;
    const still_segment *first, *second;
} fitting;

static fitting find(const still_coverage_record *r, const char *id,
                    bool (*fits)(const still_segment *s, const char *id))
{
    fitting f = {0, NULL, NULL};
    for (size_t i = 0; i < r->n_segments; i++) {
        if (!fits(&r->segments[i], id)) continue;
        if (f.n == 0) f.first = &r->segments[i];
        if (f.n == 1) f.second = &r->segments[i];
        f.n++;
    }
    return f;
}

static still_status choose(const still_segment **out, const still_coverage *c, const char *id,
                           still_diags *diags)
{
    if (still_plant_find(c->plant, id).v == STILL_NONE)
        return still_refuse_comp(c->plant, id, "", diags);
    fitting f = find(&c->record, id, is_named);
    if (f.n == 0) f = find(&c->record, id, has_inside);
    if (f.n == 1) {
        *out = f.first;
        return STILL_OK;
    }
    if (f.n > 1)
        REFUSE(STILL_E_USAGE,
               "\"%s\" lies in %zu parts that can be shut in: name a spool of the one that is "
               "meant",
               id, f.n);
    f = find(&c->record, id, ends_at);
    if (f.n > 1)
        REFUSE(STILL_E_USAGE,
               "\"%s\" lies in no part that can be shut in, but between \"%s\" and "
               "\"%s\": name one of them",
               id, f.first->name, f.second->name);
    if (f.n == 1)
        REFUSE(STILL_E_USAGE,
               "\"%s\" lies in no part that can be shut in, but at the end of \"%s\": name that",
               id, f.first->name);
    REFUSE(STILL_E_USAGE,
           "\"%s\" lies in no part that can be shut in; relief without --curve lists the parts",
           id);
}

/* ---- rows and points ---- */

static void why_stopped(work *w, const still_closedin_curve *c)
{
    still_curve_record *r = &w->record;
    size_t rigid = 0, pipe = 0;
    for (size_t i = 0; i < r->n_rows; i++) {
        if (!isnan(r->rows[i].rigid_bara)) rigid = i;
        if (!isnan(r->rows[i].pipe_bara)) pipe = i;
    }
    if (r->n_rows == 0)
        r->stops = still_eos_status_text(c->rigid);
    else if (c->rigid != STILL_EOS_OK && c->wall != STILL_EOS_OK)
        r->stops = SAY("the curves end before ambient: rigid behind %.10g degC, %s; pipe behind "
                       "%.10g degC, %s",
                       r->rows[rigid].degC, still_eos_status_text(c->rigid), r->rows[pipe].degC,
                       still_eos_status_text(c->wall));
    else if (c->rigid != STILL_EOS_OK)
        r->stops = SAY("the rigid curve ends before ambient, behind %.10g degC: %s",
                       r->rows[rigid].degC, still_eos_status_text(c->rigid));
    else if (c->wall != STILL_EOS_OK)
        r->stops = SAY("the pipe curve ends before ambient, behind %.10g degC: %s",
                       r->rows[pipe].degC, still_eos_status_text(c->wall));
}

static void rows_of_gas(work *w, still_curve_row *rows, size_t max)
{
    still_curve_record *r = &w->record;
    for (double T = w->m->start_K; r->n_rows < max && (r->n_rows == 0 || T <= w->ambient_K + 1e-6);
         T += 1) {
        double p = w->m->bar_per_K * T;
        rows[r->n_rows++] = (still_curve_row){T - STILL_ZERO_DEGC_K, p, p};
    }
}

static void rows_of_liquid(work *w, still_curve_row *rows, size_t max)
{
    const double none = (double)NAN;
    still_curve_record *r = &w->record;
    still_closedin_row row;
    still_closedin_curve c = still_closedin_curve_begin(&w->m->start, &w->m->wall, w->ambient_K);
    while (r->n_rows < max && still_closedin_curve_next(&c, &row))
        rows[r->n_rows++] = (still_curve_row){row.T_K - STILL_ZERO_DEGC_K,
                                              row.rigid == STILL_EOS_OK ? row.rigid_bara : none,
                                              row.wall == STILL_EOS_OK ? row.wall_bara : none};
    r->whole = r->n_rows > 0 && (c.rigid == STILL_EOS_OK || c.wall == STILL_EOS_OK);
    r->complete = c.rigid == STILL_EOS_OK && c.wall == STILL_EOS_OK;
    why_stopped(w, &c);
}

static void add_rows(work *w)
{
    still_curve_record *r = &w->record;
    double way = fmax(0, w->ambient_K - w->m->start_K);
    size_t max = way < MAX_ROWS ? (size_t)way + 2 : MAX_ROWS;
    still_curve_row *rows = STILL_ARENA_NEW(&w->arena, max, still_curve_row);
    if (rows == NULL) {
        w->failed = true;
        return;
    }
    r->rows = rows;
    r->whole = r->complete = true;
    if (w->m->basis == STILL_WARMING_GAS)
        rows_of_gas(w, rows, max);
    else
        rows_of_liquid(w, rows, max);
    if (max == MAX_ROWS && r->n_rows == max) {
        r->whole = r->complete = false;
        r->stops = SAY("rows end %d K above the start", MAX_ROWS - 1);
    }
}

static int colder_first(const void *pa, const void *pb)
{
    const still_curve_row *a = pa, *b = pb;
    return a->degC < b->degC ? -1 : a->degC > b->degC;
}

static double pressure_at(const work *w, const still_wall *wall, double T_K)
{
    double p = (double)NAN;
    if (w->m->basis == STILL_WARMING_GAS) return w->m->bar_per_K * T_K;
    return still_closedin_pressure(&p, NULL, &w->m->start, wall, T_K) == STILL_EOS_OK ? p
                                                                                      : (double)NAN;
}

/* Where a column ends: not, or with its last row. A point without an answer on the way, in the
 * tenth of a kelvin below the critical temperature, does not end it. */
static double column_end(const still_curve_record *r, bool rigid)
{
    double end = (double)INFINITY;
    for (size_t i = r->n_rows; i-- > 0;) {
        if (!isnan(rigid ? r->rows[i].rigid_bara : r->rows[i].pipe_bara)) return end;
        end = i > 0 ? r->rows[i - 1].degC : -(double)INFINITY;
    }
    return end;
}

static void add_points(work *w)
{
    still_curve_record *r = &w->record;
    const still_warming *m = w->m;
    const still_wall rigid = STILL_WALL_RIGID;
    const double special[MORE_POINTS] = {m->full_K, m->reaches_K};
    double end = w->ambient_K;
    if (!r->whole) end = fmin(end, r->rows[r->n_rows - 1].degC + STILL_ZERO_DEGC_K);
    end = fmax(end, m->start_K);
    still_curve_row *points = STILL_ARENA_NEW(&w->arena, POINTS + 1 + MORE_POINTS, still_curve_row);
    if (points == NULL) {
        w->failed = true;
        return;
    }
    size_t n = 0;
    for (int i = 0; i <= POINTS; i++) {
        double part = (double)i / POINTS;
        points[n++].degC = m->start_K + (end - m->start_K) * part * part - STILL_ZERO_DEGC_K;
    }
    for (int i = 0; i < MORE_POINTS; i++)
        if (special[i] > m->start_K && special[i] < end)
            points[n++].degC = special[i] - STILL_ZERO_DEGC_K;
    qsort(points, n, sizeof points[0], colder_first);
    double rigid_end = column_end(r, true), pipe_end = column_end(r, false);
    for (size_t i = 0; i < n; i++) {
        double T = fmax(points[i].degC + STILL_ZERO_DEGC_K, m->start_K);
        points[i].rigid_bara =
            points[i].degC <= rigid_end ? pressure_at(w, &rigid, T) : (double)NAN;
        points[i].pipe_bara =
            points[i].degC <= pipe_end ? pressure_at(w, &m->wall, T) : (double)NAN;
    }
    r->points = points;
    r->n_points = n;
}

/* ---- lines across ---- */

/* Add a pressure; at one that is there already the words are joined. @param joined  for that */
static void add_level(work *w, still_curve_level *list, double bara, const char *text,
                      const char *joined)
{
    if (!isfinite(bara)) return;
    for (size_t i = 0; i < w->record.n_levels; i++) {
        if (fabs(list[i].bara - bara) > 1e-6) continue;
        list[i].text = SAY("%s; %s", list[i].text, joined);
        return;
    }
    list[w->record.n_levels++] = (still_curve_level){bara, false, text};
}

static int lowest_first(const void *pa, const void *pb)
{
    const still_curve_level *a = pa, *b = pb;
    return a->bara < b->bara ? -1 : a->bara > b->bara;
}

static void add_levels(work *w)
{
    const still_segment *s = w->record.segment;
    const still_piece_facts *f = w->facts;
    const still_plant *p = w->of->plant;
    still_curve_level *list = STILL_ARENA_NEW(&w->arena, 4, still_curve_level);
    if (list == NULL) {
        w->failed = true;
        return;
    }
    add_level(w, list, s->design_bara,
              s->weakest[0] != '\0' ? SAY("design pressure of %s", s->weakest) : "design pressure",
              "");
    if (w->record.n_levels > 0) list[0].design = true;
    const char *cover = s->covered_by.n > 0 ? s->covered_by.items[0] : "";
    bool valve = cover[0] != '\0' && p->comps[f->covers[0]].cls == STILL_CLASS_VALVE;
    const char *opens = cover[0] == '\0' ? "opening pressure, worst case, of what is in reach"
                        : valve          ? SAY("opening pressure, worst case, of %s", cover)
                                         : SAY("%s stands open", cover);
    add_level(w, list, s->opening_bara, opens, opens);
    if (valve) {
        add_level(w, list, s->opening_normal_bara,
                  SAY("opening pressure, low side at normal pressure, of %s", cover),
                  "also with the low side at normal pressure");
        add_level(w, list, still_comp_q(p, f->covers[0], STILL_Q_SET_PRESSURE_BARA),
                  SAY("set pressure of %s", cover), "its set pressure");
    }
    qsort(list, w->record.n_levels, sizeof list[0], lowest_first);
    w->record.levels = list;
}

static const char *conflict_of(const still_warming *m)
{
    return (m->flags & STILL_CLOSEDIN_CONFLICT) == 0
               ? ""
               : "pressure and temperature of the service contradict each other: the pressure is "
                 "below saturation at that temperature. The curve starts from saturated liquid at "
                 "that temperature; if the pressure is right, the liquid is colder and all "
                 "pressures are higher";
}

/* What the curve rests on. The numbers of a service that contradicts itself take the worse of two
 * starts; the curve has one. */
static const char *rests_on(work *w)
{
    const still_warming *m = w->m;
    const still_closedin *from = &m->start;
    if (w->record.conflict[0] != '\0')
        return m->mixed_temperatures ? "equation of state; from its coldest service"
                                     : "equation of state";
    bool condenses = m->basis == STILL_WARMING_EQUATION && !m->full &&
                     !(fabs(from->density_kg_m3 - from->eos->rho_c_kg_m3) > 0);
    return condenses ? SAY("%s; as vapour that condenses, so along the vapour pressure (L3)",
                           w->record.segment->numbers)
                     : w->record.segment->numbers;
}

still_status still_coverage_curve(still_curve **out, const still_coverage *coverage, const char *id,
                                  still_diags *diags)
{
    const still_segment *segment = NULL;
    still_status status = choose(&segment, coverage, id, diags);
    if (status != STILL_OK) return status;
    work *w = still_calloc(1, sizeof *w);
    if (w == NULL) return STILL_E_NOMEM;
    still_arena_init(&w->arena);
    w->of = coverage;
    w->facts = &coverage->found.items[segment->number];
    w->m = &w->facts->warming;
    w->ambient_K = coverage->record.ambient_degC + STILL_ZERO_DEGC_K;
    w->record = (still_curve_record){
        .of = &coverage->record, .segment = segment, .stops = "", .conflict = conflict_of(w->m)};
    w->record.rests_on = rests_on(w);
    if (w->m->basis == STILL_WARMING_NONE) {
        w->record.stops = w->m->why;
    } else {
        add_rows(w);
        if (!w->failed && w->record.n_rows > 0) add_points(w);
    }
    if (!w->failed) add_levels(w);
    if (w->failed) {
        still_curve_free(w);
        return STILL_E_NOMEM;
    }
    *out = w;
    return STILL_OK;
}

const still_curve_record *still_curve_record_of(const still_curve *w)
{
    return &w->record;
}

void still_curve_free(still_curve *w)
{
    if (w == NULL) return;
    still_arena_clear(&w->arena);
    still_free(w);
}

still_status still_curve_write(char **bytes, size_t *len, const still_curve *w, still_format format,
                               still_diags *diags)
{
    still_buf buf = STILL_BUF_INIT;
    still_status status = STILL_OK;
    (void)diags;
    if (w->record.n_rows == 0 || format < STILL_FORMAT_CSV || format > STILL_FORMAT_PDF)
        return STILL_E_UNSUPPORTED;
    if (format == STILL_FORMAT_CSV)
        still_curve_csv_write(&buf, &w->record);
    else
        status = still_picture_curve(&buf, &w->record, still_picture_of(format));
    return still_give(bytes, len, &buf, status);
}
