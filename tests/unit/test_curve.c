/* Curves of closed-in parts: which part is meant, rows, what is said, and the page of the chart.
 * The pressures themselves are checked by tests/outside/test_curve.py. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <cmocka.h>

#include "alloc.h"
#include "chart.h"
#include "diags.h"
#include "number.h"

#include "stillset/coverage.h"

#include <glob.h>
#include <math.h>
#include <string.h>

#define CURVES STILL_SOURCE_DIR "/tests/cli/plants/curve.xml"

typedef struct made {
    still_plant *plant;
    still_coverage *coverage;
    still_diags *diags;
} made;

static made make(const char *path, const char *ambient)
{
    made m = {NULL, NULL, still_diags_new()};
    still_coverage_opts opts = STILL_COVERAGE_OPTS_INIT;
    opts.ambient = ambient;
    assert_int_equal(still_plant_read(&m.plant, path, m.diags), STILL_OK);
    assert_int_equal(still_coverage_make(&m.coverage, m.plant, NULL, &opts, m.diags), STILL_OK);
    return m;
}

static void clear(made *m)
{
    still_coverage_free(m->coverage);
    still_plant_free(m->plant);
    still_diags_free(m->diags);
}

static still_curve *curve_of(const made *m, const char *id)
{
    still_curve *curve = NULL;
    assert_int_equal(still_coverage_curve(&curve, m->coverage, id, m->diags), STILL_OK);
    return curve;
}

static void part_is_named_by_any_id_in_it(void **state)
{
    (void)state;
    static const struct {
        const char *id, *name;
        still_status status;
    } rows[] = {
        {"P-1", "P-1", STILL_OK},      {"L-1", "L-1", STILL_OK},    {"P-0", "L-1", STILL_OK},
        {"P-4", "E-1", STILL_OK},      {"E-1", "", STILL_E_USAGE},  {"V-2", "", STILL_E_USAGE},
        {"HV-9", "", STILL_E_NO_COMP}, {"LQ", "", STILL_E_NO_COMP}, {"", "", STILL_E_NO_COMP}};
    made m = make(CURVES, NULL);
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        still_curve *curve = NULL;
        assert_int_equal(still_coverage_curve(&curve, m.coverage, rows[i].id, m.diags),
                         rows[i].status);
        if (rows[i].status != STILL_OK) {
            assert_null(curve);
            continue;
        }
        assert_string_equal(still_curve_record_of(curve)->segment->name, rows[i].name);
        still_curve_free(curve);
    }
    clear(&m);
}

static void rows_stand_at_whole_kelvins_up_to_ambient(void **state)
{
    (void)state;
    made m = make(CURVES, "-29.5 degC");
    still_curve *curve = curve_of(&m, "P-1");
    const still_curve_record *r = still_curve_record_of(curve);
    assert_int_equal(r->n_rows, 5);
    assert_true(r->whole);
    assert_string_equal(r->stops, "");
    assert_string_equal(r->conflict, "");
    for (size_t i = 0; i < r->n_rows; i++) {
        assert_true(fabs(r->rows[i].degC - (-34.0 + (double)i)) < 1e-9);
        assert_true(r->rows[i].pipe_bara <= r->rows[i].rigid_bara);
    }
    const still_curve_row *last = &r->points[r->n_points - 1];
    assert_true(fabs(last->degC + 29.5) < 1e-9);
    assert_true(fabs(last->rigid_bara - r->segment->ambient_bara_rigid) < 1e-6);
    assert_true(fabs(last->pipe_bara - r->segment->ambient_bara) < 1e-6);
    for (size_t i = 1; i < r->n_points; i++)
        assert_true(r->points[i].degC >= r->points[i - 1].degC);
    still_curve_free(curve);
    clear(&m);
}

static void column_that_leaves_the_range_stays_empty(void **state)
{
    (void)state;
    made m = make(CURVES, "20 degC");
    still_curve *curve = curve_of(&m, "P-3");
    const still_curve_record *r = still_curve_record_of(curve);
    assert_true(r->whole);
    assert_false(r->complete);
    assert_non_null(strstr(r->stops, "beyond the range of the equation of state"));
    bool gone = false;
    for (size_t i = 0; i < r->n_rows; i++) {
        bool empty = isnan(r->rows[i].rigid_bara);
        assert_true(!gone || empty);
        assert_true(r->rows[i].pipe_bara > 0);
        gone = empty;
    }
    assert_true(gone);
    still_curve_free(curve);
    clear(&m);
    m = make(CURVES, "30 degC");
    curve = curve_of(&m, "P-3");
    r = still_curve_record_of(curve);
    assert_false(r->whole);
    assert_true(r->rows[r->n_rows - 1].degC < 23.0);
    assert_true(r->rows[r->n_rows - 1].pipe_bara > 0);
    still_curve_free(curve);
    clear(&m);
}

static void one_row_is_all_up_to_ambient(void **state)
{
    (void)state;
    static const char *const ambient[] = {"-50 degC", "-34 degC", "-33.5 degC", "-33 degC"};
    for (size_t i = 0; i < sizeof ambient / sizeof ambient[0]; i++) {
        made m = make(CURVES, ambient[i]);
        still_curve *curve = curve_of(&m, "P-1");
        const still_curve_record *r = still_curve_record_of(curve);
        assert_int_equal(r->n_rows, i < 3 ? 1 : 2);
        assert_true(r->complete);
        assert_string_equal(r->stops, "");
        still_curve_free(curve);
        clear(&m);
    }
}

static void no_numbers_no_curve(void **state)
{
    (void)state;
    char *bytes = NULL;
    size_t len = 0;
    made m = make(CURVES, NULL);
    still_curve *curve = curve_of(&m, "P-4");
    const still_curve_record *r = still_curve_record_of(curve);
    assert_int_equal(r->n_rows, 0);
    assert_false(r->whole);
    assert_non_null(strstr(r->stops, "no equation of state"));
    assert_int_equal(still_curve_write(&bytes, &len, curve, STILL_FORMAT_CSV, NULL),
                     STILL_E_UNSUPPORTED);
    assert_null(bytes);
    still_curve_free(curve);
    clear(&m);
}

static void contradiction_is_said(void **state)
{
    (void)state;
    made m = make(CURVES, NULL);
    still_curve *curve = curve_of(&m, "P-2");
    assert_non_null(strstr(still_curve_record_of(curve)->conflict, "contradict"));
    still_curve_free(curve);
    clear(&m);
}

static void constants_do_not_run_for_ever(void **state)
{
    (void)state;
    made m = make(CURVES, "900000 degC");
    still_curve *curve = curve_of(&m, "P-6");
    const still_curve_record *r = still_curve_record_of(curve);
    assert_int_equal(r->n_rows, 5000);
    assert_false(r->whole);
    assert_non_null(strstr(r->stops, "rows end"));
    still_curve_free(curve);
    clear(&m);
}

static void numbers_are_plain(void **state)
{
    (void)state;
    static const struct {
        double x;
        int digits;
        const char *text;
    } rows[] = {{1748.711779123, 10, "1748.711779"},
                {1.9e-9, 3, "0.00000000190"},
                {0.0, 4, "0.000"},
                {12345678901.0, 10, "12345678901"},
                {-1.5, 3, "-1.50"},
                {4.01325, 10, "4.013250000"}};
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        still_buf out = STILL_BUF_INIT;
        still_number_plain(&out, rows[i].x, rows[i].digits);
        assert_string_equal(out.text, rows[i].text);
        still_buf_clear(&out);
    }
    still_buf out = STILL_BUF_INIT;
    still_number_fixed(&out, -0.0001, 3);
    assert_string_equal(out.text, "0.000");
    still_buf_clear(&out);
}

/* ---- the page ---- */

typedef struct box {
    double x0, y0, x1, y1;
} box;

static box box_of(const still_canvas *c, const still_prim *p)
{
    double w = still_text_width(still_prim_text(c, p), p->size, still_look_of(p->look)->bold);
    double x = p->anchor == STILL_ANCHOR_MIDDLE ? p->x - w / 2.0
               : p->anchor == STILL_ANCHOR_END  ? p->x - w
                                                : p->x;
    return (box){x, p->y - 0.76 * p->size, x + w, p->y + 0.24 * p->size};
}

/** Texts lie on the page, and on no other; no line leaves the page; L8 is there. */
static size_t faults(const still_canvas *c, const char *name)
{
    size_t bad = 0;
    bool noted = false, gauge = false, absolute = false;
    for (size_t i = 0; i < c->n_prims; i++) {
        const still_prim *p = &c->prims[i];
        for (size_t k = 0; p->kind == STILL_PRIM_PATH && k < p->n; k++) {
            const still_pstep *s = &c->steps[p->first + k];
            if (s->op != 'Z' && !(s->x[2] >= 0.0 && s->x[2] <= c->width && s->y[2] >= 0.0 &&
                                  s->y[2] <= c->height)) {
                print_error("%s: a line leaves the page\n", name);
                bad++;
            }
        }
        if (p->kind != STILL_PRIM_TEXT) continue;
        box a = box_of(c, p);
        noted = noted || strstr(still_prim_text(c, p), "[L8]") != NULL;
        gauge = gauge || strcmp(still_prim_text(c, p), "gauge") == 0;
        absolute = absolute || strcmp(still_prim_text(c, p), "absolute") == 0;
        if (a.x0 < 20.0 || a.x1 > c->width - 20.0 || a.y0 < 20.0 || a.y1 > c->height - 20.0) {
            print_error("%s: \"%s\" leaves the page\n", name, still_prim_text(c, p));
            bad++;
        }
        for (size_t k = 0; k < i; k++) {
            const still_prim *q = &c->prims[k];
            if (q->kind != STILL_PRIM_TEXT) continue;
            box b = box_of(c, q);
            if (!(a.x0 < b.x1 - 0.01 && b.x0 < a.x1 - 0.01 && a.y0 < b.y1 - 0.01 &&
                  b.y0 < a.y1 - 0.01))
                continue;
            print_error("%s: \"%s\" lies on \"%s\"\n", name, still_prim_text(c, p),
                        still_prim_text(c, q));
            bad++;
        }
    }
    if (!noted || !gauge || !absolute) print_error("%s: L8 or a scale is not there\n", name);
    return bad + !noted + !gauge + !absolute;
}

static void pages_are_clear(void **state)
{
    (void)state;
    static const char *const ambients[] = {NULL, "-40 degC", "31 degC", "95 degC"};
    glob_t found;
    size_t bad = 0, seen = 0;
    assert_int_equal(glob(STILL_SOURCE_DIR "/plants-demo/*.xml", 0, NULL, &found), 0);
    assert_int_equal(glob(CURVES, GLOB_APPEND, NULL, &found), 0);
    for (size_t i = 0; i < found.gl_pathc * 4; i++) {
        made m = make(found.gl_pathv[i / 4], ambients[i % 4]);
        const still_coverage_record *of = still_coverage_record_of(m.coverage);
        for (size_t k = 0; k < of->n_segments; k++) {
            still_curve *curve = NULL;
            const still_strings *ids = &of->segments[k].ids;
            still_canvas c = {0};
            char name[300];
            /* Parts alike draw alike: every third is enough. */
            if ((k + i) % 3 != 0) continue;
            if (still_coverage_curve(&curve, m.coverage, ids->items[ids->n - 1], m.diags) !=
                STILL_OK)
                continue;
            const still_curve_record *r = still_curve_record_of(curve);
            snprintf(name, sizeof name, "%s %s %s", strrchr(found.gl_pathv[i / 4], '/') + 1,
                     r->segment->name, ambients[i % 4] != NULL ? ambients[i % 4] : "");
            if (r->n_rows > 0) {
                assert_int_equal(still_chart_page(&c, r), STILL_OK);
                bad += faults(&c, name);
                seen++;
            }
            still_canvas_clear(&c);
            still_curve_free(curve);
        }
        clear(&m);
    }
    globfree(&found);
    assert_true(seen > 100);
    assert_int_equal(bad, 0);
}

/** Ids of 250 letters, the widest ones. */
static void long_names_are_cut(void **state)
{
    (void)state;
    char wide[251], xml[8000];
    memset(wide, 'W', 250);
    wide[250] = '\0';
    snprintf(xml, sizeof xml,
             "<plant xmlns='urn:stillset:plant:1' id='%s' name='%s %s'>"
             "<service id='LQ' substance='ammonia' phase='liquid' temperature='-34 degC' "
             "pressure='0.5 bara' design-pressure='40 barg'/>"
             "<service id='VP' substance='ammonia' phase='vapour' temperature='-34 degC' "
             "pressure='3 barg' design-pressure='40 barg'/>"
             "<limit id='L1'/><limit id='L2'/><valve id='1%s' kind='globe' bore='DN50'/>"
             "<valve id='2%s' kind='globe' bore='DN50'/><fitting id='T%s' kind='tee'/>"
             "<valve id='3%s' kind='relief' set-pressure='20 barg' bore='DN15'/>"
             "<outlet id='O%s' kind='vent' leads-to='safe-place' fitted='open'/>"
             "<spool id='A' from='L1.in' to='1%s.in' length='1 m' bore='DN50' service='LQ'/>"
             "<spool id='B%s' from='1%s.out' to='T%s.a' length='1 m' bore='DN50' service='LQ'/>"
             "<spool id='C' from='T%s.b' to='2%s.in' length='1 m' bore='DN50' service='LQ'/>"
             "<spool id='D' from='2%s.out' to='L2.in' length='1 m' bore='DN50' service='LQ'/>"
             "<spool id='E' from='T%s.c' to='3%s.in' length='1 m' bore='DN15' service='LQ'/>"
             "<spool id='F' from='3%s.out' to='O%s.in' length='1 m' bore='DN15' service='VP'/>"
             "</plant>",
             wide, wide, wide, wide, wide, wide, wide, wide, wide, wide, wide, wide, wide, wide,
             wide, wide, wide, wide, wide);
    made m = {NULL, NULL, still_diags_new()};
    still_status status = still_plant_read_memory(&m.plant, "long", xml, strlen(xml), m.diags);
    for (size_t i = 0; i < still_diags_count(m.diags) && status != STILL_OK; i++)
        still_diag_write(still_diags_at(m.diags, i), stderr);
    assert_int_equal(status, STILL_OK);
    assert_int_equal(still_coverage_make(&m.coverage, m.plant, NULL, NULL, m.diags), STILL_OK);
    still_curve *curve = curve_of(&m, "C");
    const still_curve_record *r = still_curve_record_of(curve);
    still_canvas c = {0};
    assert_true(r->n_levels >= 2);
    assert_int_equal(still_chart_page(&c, r), STILL_OK);
    assert_int_equal(faults(&c, "long names"), 0);
    still_canvas_clear(&c);
    still_curve_free(curve);
    clear(&m);
}

static void memory_that_runs_out_leaves_nothing(void **state)
{
    (void)state;
    static const still_format formats[] = {STILL_FORMAT_CSV, STILL_FORMAT_SVG};
    made m = make(CURVES, NULL);
    for (size_t i = 0; i < 2; i++) {
        still_status status = STILL_E_NOMEM;
        for (uint64_t n = 1; status != STILL_OK; n += 1 + n / 20) {
            still_curve *curve = NULL;
            char *bytes = NULL;
            size_t len = 0;
            still_alloc_fail_at(n);
            status = still_coverage_curve(&curve, m.coverage, "P-1", m.diags);
            if (status == STILL_OK)
                status = still_curve_write(&bytes, &len, curve, formats[i], m.diags);
            still_alloc_fail_at(0);
            if (status != STILL_OK) assert_int_equal(status, STILL_E_NOMEM);
            if (status != STILL_OK) assert_null(bytes);
            still_bytes_free(bytes);
            still_curve_free(curve);
            assert_true(n < 1000000);
        }
    }
    clear(&m);
}

#define TEST(name, function)                                                                       \
    {                                                                                              \
        name, function, NULL, NULL, NULL                                                           \
    }

int main(void)
{
    const struct CMUnitTest tests[] = {
        TEST("[L4] a curve's part is named by any id in it", part_is_named_by_any_id_in_it),
        TEST("[L4] a start that ambient does not warm up is one point, and no whole curve",
             one_row_is_all_up_to_ambient),
        TEST("[L4] rows stand at whole kelvins from the start up to ambient",
             rows_stand_at_whole_kelvins_up_to_ambient),
        TEST("[L4] a column that leaves the equation's range stays empty",
             column_that_leaves_the_range_stays_empty),
        TEST("[L4] no numbers, no curve", no_numbers_no_curve),
        TEST("[L4] pressure and temperature that contradict each other are said",
             contradiction_is_said),
        TEST("[L4] rows without an equation end", constants_do_not_run_for_ever),
        TEST("[L4] numbers of a table have no exponent", numbers_are_plain),
        TEST("[L4] [L8] pages of all demo plants are clear", pages_are_clear),
        TEST("[L4] long names are cut", long_names_are_cut),
        TEST("[L4] memory that runs out leaves nothing", memory_that_runs_out_leaves_nothing),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
