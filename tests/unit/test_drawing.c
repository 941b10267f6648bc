/* Geometry of the pictures, measured on the list of primitives: labels lie free, type is large
 * enough, contrast is enough, room kept for text is enough. Run for plans of components of every
 * demo plant, for each plant without a plan, and for its closed-in liquid, whole and close up. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <cmocka.h>

#include "alloc.h"
#include "diagram.h"
#include "diags.h"
#include "output.h"
#include "pages.h"
#include "paint.h"
#include "plantread.h"

#include "stillset/coverage.h"
#include "stillset/plan.h"

#include <glob.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/** Plants that are drawn; a pattern given on the command line takes the place of this one. */
static const char *plants = STILL_SOURCE_DIR "/plants-demo/*.xml";

typedef struct box {
    double x0, y0, x1, y1;
} box;

/** Room that a text takes: ascent and descent of DejaVu Sans without accents, rounded up. */
static box text_box(const still_canvas *c, const still_prim *p)
{
    double w = still_text_width(still_prim_text(c, p), p->size, still_look_of(p->look)->bold);
    double x = p->anchor == STILL_ANCHOR_MIDDLE ? p->x - w / 2.0
               : p->anchor == STILL_ANCHOR_END  ? p->x - w
                                                : p->x;
    return (box){x, p->y - 0.76 * p->size, x + w, p->y + 0.24 * p->size};
}

static box path_box(const still_canvas *c, const still_prim *p)
{
    box b = {HUGE_VAL, HUGE_VAL, -HUGE_VAL, -HUGE_VAL};
    for (size_t i = 0; i < p->n; i++) {
        const still_pstep *s = &c->steps[p->first + i];
        if (s->op == 'Z') continue;
        b.x0 = fmin(b.x0, s->x[2]);
        b.x1 = fmax(b.x1, s->x[2]);
        b.y0 = fmin(b.y0, s->y[2]);
        b.y1 = fmax(b.y1, s->y[2]);
    }
    return b;
}

static bool meet(box a, box b)
{
    return a.x0 < b.x1 - 0.01 && b.x0 < a.x1 - 0.01 && a.y0 < b.y1 - 0.01 && b.y0 < a.y1 - 0.01;
}

/** True when the segment passes the inside of a box (Liang and Barsky 1984). */
static bool passes(double x0, double y0, double x1, double y1, box b)
{
    double from = 0.0, to = 1.0;
    const double p[4] = {x0 - x1, x1 - x0, y0 - y1, y1 - y0};
    const double q[4] = {x0 - b.x0, b.x1 - x0, y0 - b.y0, b.y1 - y0};
    for (int i = 0; i < 4; i++) {
        if (fabs(p[i]) < 1e-9) {
            if (q[i] <= 0.0) return false;
        } else if (p[i] < 0.0) {
            from = fmax(from, q[i] / p[i]);
        } else {
            to = fmin(to, q[i] / p[i]);
        }
    }
    return from < to;
}

/** True when the ink of a path comes into a box. Curves count as the straight lines through their
 *  control points, which lie outside of them. */
static bool inked(const still_canvas *c, const still_prim *p, box b)
{
    const still_look_row *look = still_look_of(p->look);
    double half = look->width / 2.0, x = 0.0, y = 0.0, sx = 0.0, sy = 0.0;
    b = (box){b.x0 - half, b.y0 - half, b.x1 + half, b.y1 + half};
    if (look->fill != STILL_NO_COLOUR && p->n > 2 && p->layer == STILL_LAYER_SYMBOL)
        return meet(path_box(c, p), b);
    for (size_t i = 0; i < p->n; i++) {
        const still_pstep *s = &c->steps[p->first + i];
        if (s->op == 'M') {
            sx = s->x[2];
            sy = s->y[2];
        }
        for (int k = s->op == 'C' ? 0 : 2; k < 3 && s->op != 'M'; k++) {
            double nx = s->op == 'Z' ? sx : s->x[k], ny = s->op == 'Z' ? sy : s->y[k];
            if (passes(x, y, nx, ny, b)) return true;
            x = nx;
            y = ny;
        }
        if (s->op == 'M') {
            x = sx;
            y = sy;
        }
    }
    return false;
}

static const char *what(const still_canvas *c, const still_prim *p)
{
    static char text[2][80];
    static int turn;
    turn = 1 - turn;
    if (p->kind == STILL_PRIM_TEXT)
        snprintf(text[turn], sizeof text[0], "\"%s\"", still_prim_text(c, p));
    else
        snprintf(text[turn], sizeof text[0], "a %s", still_look_of(p->look)->name);
    return text[turn];
}

/** A label line: a text or a flag or a warning sign. */
static bool is_label(const still_prim *p)
{
    return p->layer == STILL_LAYER_LABEL &&
           (p->kind == STILL_PRIM_TEXT || (p->kind == STILL_PRIM_PATH && p->n > 2));
}

/** A label's text in its own flag, or the strokes of its own sign. */
static bool is_sign(const still_prim *p)
{
    return p->look == STILL_LOOK_FLAG || p->look == STILL_LOOK_WARN || p->look == STILL_LOOK_MILD ||
           p->look == STILL_LOOK_COVERS;
}

static bool goes_together(const still_prim *a, const still_prim *b)
{
    return a->owner == b->owner && (is_sign(a) || is_sign(b));
}

static size_t labels_lie_free(const still_canvas *c, const char *name)
{
    size_t bad = 0;
    for (size_t i = 0; i < c->n_prims; i++) {
        const still_prim *a = &c->prims[i];
        if (!is_label(a)) continue;
        box room = a->kind == STILL_PRIM_TEXT ? text_box(c, a) : path_box(c, a);
        for (size_t k = 0; k < c->n_prims; k++) {
            const still_prim *b = &c->prims[k];
            bool text = b->kind == STILL_PRIM_TEXT;
            if (k == i || b->layer == STILL_LAYER_PAGE || goes_together(a, b)) continue;
            if (b->kind == STILL_PRIM_OPEN || b->kind == STILL_PRIM_CLOSE) continue;
            if (text ? !meet(room, text_box(c, b)) : !inked(c, b, room)) continue;
            if (bad < 8) print_error("%s: %s and %s overlap\n", name, what(c, a), what(c, b));
            bad++;
        }
    }
    return bad;
}

/** Texts of the page around the drawing keep apart too. */
static size_t page_texts_lie_free(const still_canvas *c, const char *name)
{
    size_t bad = 0;
    for (size_t i = 0; i < c->n_prims; i++)
        for (size_t k = i + 1; k < c->n_prims; k++) {
            const still_prim *a = &c->prims[i], *b = &c->prims[k];
            if (a->kind != STILL_PRIM_TEXT || b->kind != STILL_PRIM_TEXT) continue;
            if (a->layer != STILL_LAYER_PAGE && b->layer != STILL_LAYER_PAGE) continue;
            if (!meet(text_box(c, a), text_box(c, b))) continue;
            print_error("%s: %s and %s overlap\n", name, what(c, a), what(c, b));
            bad++;
        }
    return bad;
}

static size_t all_is_on_the_page(const still_canvas *c, const char *name)
{
    size_t bad = 0;
    const box page = {-0.1, -0.1, c->width + 0.1, c->height + 0.1};
    for (size_t i = 0; i < c->n_prims; i++) {
        const still_prim *p = &c->prims[i];
        if (p->kind == STILL_PRIM_OPEN || p->kind == STILL_PRIM_CLOSE || p->n + p->text == 0)
            continue;
        if (p->kind == STILL_PRIM_PATH && p->n == 0) continue;
        box b = p->kind == STILL_PRIM_TEXT ? text_box(c, p) : path_box(c, p);
        if (b.x0 >= page.x0 && b.y0 >= page.y0 && b.x1 <= page.x1 && b.y1 <= page.y1) continue;
        print_error("%s: %s leaves the page\n", name, what(c, p));
        bad++;
    }
    return bad;
}

/** Capitals of 2 mm on the sheet that the page is for, and that sheet has room for all of it. */
static size_t type_is_large(const still_canvas *c, const char *name)
{
    size_t bad = 0;
    double mm = c->width_mm / c->width;
    if (fabs(c->height_mm / c->height - mm) > 0.02 * mm) bad++;
    for (size_t i = 0; i < c->n_prims; i++)
        if (c->prims[i].kind == STILL_PRIM_TEXT && c->prims[i].size * 0.729 * mm < 1.999) bad++;
    if (bad > 0) print_error("%s: type is %g mm for a pixel\n", name, mm);
    return bad;
}

/** Relative luminance, WCAG 2.2. */
static double luminance(uint32_t rgb)
{
    double sum = 0.0;
    static const double share[3] = {0.2126, 0.7152, 0.0722};
    for (int i = 0; i < 3; i++) {
        double v = (double)(rgb >> (16 - 8 * i) & 255U) / 255.0;
        sum += share[i] * (v <= 0.04045 ? v / 12.92 : pow((v + 0.055) / 1.055, 2.4));
    }
    return sum;
}

static double contrast(uint32_t a, uint32_t b)
{
    double x = luminance(a), y = luminance(b);
    return (fmax(x, y) + 0.05) / (fmin(x, y) + 0.05);
}

/** Every text against whatever is filled behind its middle: 4.5 to 1 (WCAG 2.2, 1.4.3). */
static size_t text_stands_out(const still_canvas *c, const char *name)
{
    size_t bad = 0;
    for (size_t i = 0; i < c->n_prims; i++) {
        const still_prim *p = &c->prims[i];
        if (p->kind != STILL_PRIM_TEXT) continue;
        box b = text_box(c, p);
        uint32_t behind = 0xFFFFFF;
        for (size_t k = 0; k < i; k++) {
            const still_prim *q = &c->prims[k];
            if (q->kind != STILL_PRIM_PATH || still_look_of(q->look)->fill == STILL_NO_COLOUR)
                continue;
            if (meet(path_box(c, q), (box){(b.x0 + b.x1) / 2.0 - 0.1, (b.y0 + b.y1) / 2.0 - 0.1,
                                           (b.x0 + b.x1) / 2.0 + 0.1, (b.y0 + b.y1) / 2.0 + 0.1}))
                behind = still_look_of(q->look)->fill;
        }
        if (contrast(still_look_of(p->look)->fill, behind) >= 4.5) continue;
        print_error("%s: %s does not stand out\n", name, what(c, p));
        bad++;
    }
    return bad;
}

static size_t examine(const still_canvas *c, const char *name)
{
    return labels_lie_free(c, name) + page_texts_lie_free(c, name) + all_is_on_the_page(c, name) +
           type_is_large(c, name) + text_stands_out(c, name);
}

static still_plant *read_plant(const char *path)
{
    still_plant *plant = NULL;
    still_diags *diags = still_diags_new();
    assert_non_null(diags);
    assert_int_equal(still_plant_read(&plant, path, diags), STILL_OK);
    still_diags_free(diags);
    return plant;
}

/** Whether plans are asked for the paths of the proof. */
static bool with_paths;

static still_plan *plan_of(const still_plant *plant, uint32_t comp, still_grade grade)
{
    const char *target = still_id_of(plant, comp);
    still_plan_opts opts = STILL_PLAN_OPTS_INIT;
    opts.grade = grade;
    opts.paths = with_paths;
    still_plan *plan = NULL;
    still_diags *diags = still_diags_new();
    assert_non_null(diags);
    still_status status = still_plan_make(&plan, plant, NULL, &target, 1, &opts, diags);
    still_diags_free(diags);
    /* Other failures are for the tests of plans: here is nothing to draw. */
    if (status != STILL_OK) print_error("%s: no plan (status %d)\n", target, (int)status);
    return plan;
}

static size_t examine_plan(const still_plant *plant, uint32_t comp, still_grade grade,
                           const char *path)
{
    char name[200];
    snprintf(name, sizeof name, "%s %s grade %d", strrchr(path, '/') + 1, still_id_of(plant, comp),
             (int)grade);
    still_plan *plan = plan_of(plant, comp, grade);
    if (plan == NULL) return 0;
    still_canvas c = {0};
    assert_int_equal(still_diagram_plan(&c, still_plan_record(plan), plant), STILL_OK);
    size_t bad = examine(&c, name);
    still_canvas_clear(&c);
    still_plan_free(plan);
    return bad;
}

/** Which plans are drawn: with sanitizers all would take more than ten minutes, so by default of a
 *  large plant one component in so many, pipes more seldom, and more seldom still with the grade of
 *  the policy; of a plant with few components all. A third argument of 1 on the command line draws
 *  all. */
static unsigned one_in = 9;

static bool is_drawn(const still_plant *plant, uint32_t comp, still_grade grade)
{
    unsigned n = plant->comps[comp].cls == STILL_CLASS_SPOOL ? 3 * one_in : one_in;
    if (grade != STILL_GRADE_SINGLE) n *= 2;
    return one_in <= 1 || plant->n_comps < 60 || (comp + plant->n_comps) % n == 0;
}

static void plans_for_all_components_of_the_demo_plants_are_clear(void **state)
{
    (void)state;
    static const still_grade grades[] = {STILL_GRADE_SINGLE, STILL_GRADE_POLICY};
    glob_t found;
    size_t bad = 0, seen = 0;
    assert_int_equal(glob(plants, 0, NULL, &found), 0);
    for (size_t i = 0; i < found.gl_pathc; i++) {
        still_plant *plant = read_plant(found.gl_pathv[i]);
        for (uint32_t comp = 0; comp < plant->n_comps; comp++)
            for (size_t g = 0; g < 2; g++) {
                if (!is_drawn(plant, comp, grades[g])) continue;
                bad += examine_plan(plant, comp, grades[g], found.gl_pathv[i]);
                seen++;
            }
        still_plant_free(plant);
    }
    globfree(&found);
    assert_true(seen >= 9);
    assert_int_equal(bad, 0);
}

/** Where a pipe goes on on another sheet of paper, as it is said at its end. */
typedef struct off_sheet {
    char pipe[64], far[64];
    unsigned on, to;
    bool outward;
} off_sheet;

/** Text of a group of a canvas, or NULL. */
static const char *group_of(const still_canvas *c, size_t i)
{
    return c->prims[i].kind == STILL_PRIM_OPEN ? still_prim_text(c, &c->prims[i]) : NULL;
}

/** Read the reference of which the group opens at i; false where there is none. */
static bool read_reference(off_sheet *out, const still_canvas *c, size_t i, unsigned on)
{
    const char *what = group_of(c, i),
               *end = what == NULL ? NULL : strstr(what, ", on another sheet");
    unsigned lines = 0;
    if (end == NULL) return false;
    *out = (off_sheet){.on = on};
    const char *id = what + strlen("plant goes on at ");
    snprintf(out->pipe, sizeof out->pipe, "%.*s", (int)(end - id), id);
    for (size_t k = i; c->prims[k].kind != STILL_PRIM_CLOSE; k++) {
        const still_prim *p = &c->prims[k];
        if (p->kind != STILL_PRIM_TEXT || p->layer != STILL_LAYER_LABEL) continue;
        const char *text = still_prim_text(c, p);
        if (lines++ == 0) {
            out->outward = strncmp(text, "to ", 3) == 0;
            assert_true(out->outward || strncmp(text, "from ", 5) == 0);
            snprintf(out->far, sizeof out->far, "%s", strchr(text, ' ') + 1);
            size_t n = strlen(out->far);
            if (n > 0 && out->far[n - 1] == ',') out->far[n - 1] = '\0';
        } else {
            const char *sheet = strstr(text, "sheet ");
            assert_non_null(sheet);
            out->to = (unsigned)strtoul(sheet + 6, NULL, 10);
            assert_true(sheet == text || strncmp(text, out->pipe, strlen(out->pipe)) == 0);
        }
    }
    assert_int_equal(lines, 2);
    return true;
}

/** How often a group with this text, or with an id in front of a colon, is on a canvas. */
static size_t count_groups(const still_canvas *c, const char *what, bool id)
{
    size_t n = 0, len = strlen(what);
    for (size_t i = 0; i < c->n_prims; i++) {
        const char *g = group_of(c, i);
        if (g == NULL) continue;
        n += id ? strncmp(g, what, len) == 0 && g[len] == ':' : strcmp(g, what) == 0;
    }
    return n;
}

/** Each reference has its partner, and what it names stands there. */
static size_t references_answer(const still_canvas *sheets, size_t n, const char *name)
{
    static off_sheet refs[2000];
    size_t n_refs = 0, bad = 0;
    for (size_t k = 1; k < n; k++)
        for (size_t i = 0; i < sheets[k].n_prims; i++) {
            assert_true(n_refs < sizeof refs / sizeof refs[0]);
            n_refs += read_reference(&refs[n_refs], &sheets[k], i, (unsigned)k + 1);
        }
    for (size_t i = 0; i < n_refs; i++) {
        size_t partners = 0;
        for (size_t k = 0; k < n_refs; k++)
            partners += refs[k].on == refs[i].to && refs[k].to == refs[i].on &&
                        refs[k].outward != refs[i].outward &&
                        strcmp(refs[k].pipe, refs[i].pipe) == 0;
        bool there = refs[i].to >= 2 && refs[i].to <= n &&
                     count_groups(&sheets[refs[i].to - 1], refs[i].far, true) == 1;
        if (partners == 1 && there) continue;
        print_error("%s: sheet %u sends %s to %s, sheet %u: %zu partners, it is %sthere\n", name,
                    refs[i].on, refs[i].pipe, refs[i].far, refs[i].to, partners,
                    there ? "" : "not ");
        bad++;
    }
    return bad;
}

/** Every component and pipe of the picture stands on one sheet, and nothing else does. */
static size_t all_is_on_sheets(const still_canvas *whole, const still_canvas *sheets, size_t n,
                               const char *name)
{
    size_t bad = 0, expected = 0, seen = 0, first = n > 1 ? 1 : 0;
    for (size_t i = 0; i < whole->n_prims; i++) {
        const char *g = group_of(whole, i);
        if (g == NULL || strncmp(g, "plant goes on", 13) == 0) continue;
        size_t times = 0;
        for (size_t k = first; k < n; k++) times += count_groups(&sheets[k], g, false);
        expected++;
        if (times != 1) print_error("%s: \"%s\" stands on %zu sheets\n", name, g, times);
        bad += times != 1;
        if (n > 1 && count_groups(&sheets[0], g, false) != 1) bad++;
    }
    for (size_t k = first; k < n; k++)
        for (size_t i = 0; i < sheets[k].n_prims; i++) {
            const char *g = group_of(&sheets[k], i);
            seen += g != NULL && strncmp(g, "plant goes on", 13) != 0;
        }
    if (seen != expected) print_error("%s: %zu groups for %zu\n", name, seen, expected);
    return bad + (seen != expected);
}

/** @return bad things; *n_sheets how many there were */
static size_t examine_sheets(const still_plan *plan, const still_plant *plant, double width_mm,
                             double height_mm, const char *name, size_t *n_sheets)
{
    still_canvas *sheets = NULL, whole = {0};
    size_t n = 0, bad = 0;
    const still_record *r = still_plan_record(plan);
    assert_int_equal(still_diagram_sheets(&sheets, &n, r, plant, width_mm, height_mm), STILL_OK);
    assert_int_equal(still_diagram_plan(&whole, r, plant), STILL_OK);
    assert_int_not_equal(n, 0);
    assert_int_not_equal(n, 2);
    for (size_t k = 0; k < n; k++) {
        char where[240];
        const still_canvas *c = &sheets[k];
        snprintf(where, sizeof where, "%s on %g x %g, sheet %zu of %zu", name, width_mm, height_mm,
                 k + 1, n);
        bad += labels_lie_free(c, where) + page_texts_lie_free(c, where) +
               all_is_on_the_page(c, where) + text_stands_out(c, where);
        if (n == 1 || k > 0) bad += type_is_large(c, where);
        if (fabs(c->width_mm - width_mm) < 1e-6 && c->height_mm <= height_mm + 1e-6) continue;
        print_error("%s: %g mm x %g mm\n", where, c->width_mm, c->height_mm);
        bad++;
    }
    bad += references_answer(sheets, n, name) + all_is_on_sheets(&whole, sheets, n, name);
    still_canvas_clear(&whole);
    still_diagram_sheets_free(sheets, n);
    *n_sheets = n;
    return bad;
}

/** Room on A4, A3, letter and tabloid. */
static const double papers[4][2] = {{277, 160}, {400, 255}, {259, 170}, {412, 245}};

/** Every part of a plant would take minutes with sanitizers: of each class and kind of the plant
 * the first one, on all papers. */
static void sheets_of_paper_are_clear_whole_and_answer_each_other(void **state)
{
    (void)state;
    glob_t found;
    size_t bad = 0, several = 0, most = 0, n_large = 0;
    assert_int_equal(glob(plants, 0, NULL, &found), 0);
    for (size_t i = 0; i < found.gl_pathc; i++) {
        still_plant *plant = read_plant(found.gl_pathv[i]);
        bool seen[STILL_CLASS_COUNT][STILL_KIND_COUNT] = {{false}};
        for (uint32_t comp = 0; comp < plant->n_comps; comp++) {
            const still_comp *c = &plant->comps[comp];
            if (c->cls == STILL_CLASS_SPOOL || seen[c->cls][c->kind]) continue;
            seen[c->cls][c->kind] = true;
            still_plan *plan = plan_of(plant, comp, STILL_GRADE_SINGLE);
            /* A vessel that stands in the middle takes most of the plant inside. */
            bool large = plan != NULL && still_plan_record(plan)->inside.n > 60;
            if (large && n_large++ > 0) {
                still_plan_free(plan);
                continue;
            }
            for (size_t k = large ? 1 : 0; plan != NULL && k < (large ? 2 : 4); k++) {
                size_t n = 0;
                bad += examine_sheets(plan, plant, papers[k][0], papers[k][1],
                                      still_id_of(plant, comp), &n);
                several += n > 1;
                if (n > most) most = n;
            }
            still_plan_free(plan);
        }
        still_plant_free(plant);
    }
    globfree(&found);
    assert_true(several > 5 && most > 3);
    assert_int_equal(bad, 0);
}

static bool says(const still_canvas *c, const char *text)
{
    for (size_t i = 0; i < c->n_prims; i++)
        if (c->prims[i].kind == STILL_PRIM_TEXT &&
            strstr(still_prim_text(c, &c->prims[i]), text) != NULL)
            return true;
    return false;
}

/** Each path is a line of its own look and is named; without being asked for there is none. */
static void I5_paths_of_the_proof_are_drawn_on_request(void **state)
{
    (void)state;
    static const struct {
        const char *plant, *target;
        still_grade grade;
    } cases[] = {{"tutorial", "MV-1", STILL_GRADE_POLICY},
                 {"cold-store", "P-1", STILL_GRADE_SINGLE},
                 {"cold-store", "MV-1", STILL_GRADE_SINGLE},
                 {"solvent", "T-1", STILL_GRADE_SINGLE},
                 {"co2-booster", "E-1", STILL_GRADE_SINGLE}};
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        char path[300];
        snprintf(path, sizeof path, "%s/plants-demo/%s.xml", STILL_SOURCE_DIR, cases[i].plant);
        still_plant *plant = read_plant(path);
        uint32_t comp = still_plant_find(plant, cases[i].target).v;
        if (comp == STILL_NONE) fail_msg("no %s", cases[i].target);
        for (int asked = 0; asked < 2; asked++) {
            with_paths = asked == 1;
            still_plan *plan = plan_of(plant, comp, cases[i].grade);
            with_paths = false;
            assert_non_null(plan);
            const still_record *r = still_plan_record(plan);
            still_canvas c = {0};
            size_t n = 0, lines = 0;
            assert_int_equal(still_diagram_plan(&c, r, plant), STILL_OK);
            assert_int_equal(examine(&c, cases[i].target), 0);
            for (size_t k = 0; k < c.n_prims; k++)
                lines += c.prims[k].layer == STILL_LAYER_PIPE &&
                         c.prims[k].look >= STILL_LOOK_PROOF_1 &&
                         c.prims[k].look <= STILL_LOOK_PROOF_3;
            assert_true(r->proof.n_paths > 0);
            assert_true((lines >= r->proof.n_paths) == (asked == 1) && (asked == 1 || lines == 0));
            assert_true(says(&c, "path 1") == (asked == 1));
            still_canvas_clear(&c);
            assert_int_equal(examine_sheets(plan, plant, 400, 255, cases[i].target, &n), 0);
            still_plan_free(plan);
        }
        still_plant_free(plant);
    }
}

static void simple_plans_have_room_on_a_sheet(void **state)
{
    (void)state;
    static const struct {
        const char *plant, *target;
        size_t paper, sheets;
    } cases[] = {{"tutorial", "MV-1", 0, 1},
                 {"cold-store", "MV-1", 1, 1},
                 {"cold-store", "E-1", 1, 1},
                 {"cold-store", "P-1", 1, 3},
                 {"cold-store", "V-1", 0, 45}};
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        char path[300];
        size_t n = 0;
        snprintf(path, sizeof path, "%s/plants-demo/%s.xml", STILL_SOURCE_DIR, cases[i].plant);
        still_plant *plant = read_plant(path);
        still_plan *plan =
            plan_of(plant, still_plant_find(plant, cases[i].target).v, STILL_GRADE_SINGLE);
        assert_non_null(plan);
        const double *paper = papers[cases[i].paper];
        assert_int_equal(examine_sheets(plan, plant, paper[0], paper[1], cases[i].target, &n), 0);
        if (n > cases[i].sheets) fail_msg("%s takes %zu sheets", cases[i].target, n);
        still_plan_free(plan);
        still_plant_free(plant);
    }
}

static void sheets_are_the_same_twice_and_memory_that_runs_out_leaves_none(void **state)
{
    (void)state;
    still_plant *plant = read_plant(STILL_SOURCE_DIR "/plants-demo/tutorial.xml");
    still_plan *plan = plan_of(plant, still_plant_find(plant, "MV-1").v, STILL_GRADE_SINGLE);
    assert_non_null(plan);
    const still_record *r = still_plan_record(plan);
    still_canvas *a = NULL, *b = NULL;
    size_t n_a = 0, n_b = 0;
    assert_int_equal(still_diagram_sheets(&a, &n_a, r, plant, 150, 100), STILL_OK);
    assert_int_equal(still_diagram_sheets(&b, &n_b, r, plant, 150, 100), STILL_OK);
    assert_true(n_a > 2 && n_a == n_b);
    for (size_t k = 0; k < n_a; k++) {
        assert_int_equal(a[k].n_prims, b[k].n_prims);
        assert_int_equal(a[k].n_steps, b[k].n_steps);
        assert_memory_equal(a[k].texts.text, b[k].texts.text, a[k].texts.len);
        for (size_t i = 0; i < a[k].n_steps; i++)
            for (int p = 0; p < 3; p++)
                assert_true(!(fabs(a[k].steps[i].x[p] - b[k].steps[i].x[p]) > 0.0) &&
                            !(fabs(a[k].steps[i].y[p] - b[k].steps[i].y[p]) > 0.0));
    }
    still_diagram_sheets_free(a, n_a);
    still_diagram_sheets_free(b, n_b);
    still_status status = STILL_E_NOMEM;
    for (uint64_t n = 1; status != STILL_OK; n += 1 + n / 20) {
        still_canvas *none = NULL;
        size_t n_none = 0;
        still_alloc_fail_at(n);
        status = still_diagram_sheets(&none, &n_none, r, plant, 150, 100);
        still_alloc_fail_at(0);
        if (status != STILL_OK) assert_int_equal(status, STILL_E_NOMEM);
        if (status != STILL_OK) assert_null(none);
        still_diagram_sheets_free(none, n_none);
        assert_true(n < 1000000);
    }
    still_plan_free(plan);
    still_plant_free(plant);
}

static void demo_plants_without_a_plan_are_clear(void **state)
{
    (void)state;
    glob_t found;
    size_t bad = 0;
    assert_int_equal(glob(plants, 0, NULL, &found), 0);
    for (size_t i = 0; i < found.gl_pathc; i++) {
        still_plant *plant = read_plant(found.gl_pathv[i]);
        for (unsigned depth = 0; depth < 5; depth += 2) {
            uint32_t around = depth == 0 ? STILL_NONE : plant->n_comps / 2;
            still_canvas c = {0};
            assert_int_equal(still_diagram_plant(&c, plant, around, depth), STILL_OK);
            bad += examine(&c, found.gl_pathv[i]);
            still_canvas_clear(&c);
        }
        still_plant_free(plant);
    }
    globfree(&found);
    assert_int_equal(bad, 0);
}

/** Text of a plant file in which every component has a place on the sheet, by chance, on a grid so
 *  coarse that many share one. To be freed. */
static char *scattered(const char *path, unsigned seed)
{
    static const char *const names[] = {"vessel",  "valve", "pump", "compressor", "exchanger",
                                        "fitting", "blind", "cap",  "outlet",     "limit"};
    still_buf out = STILL_BUF_INIT;
    char line[8192];
    uint32_t dice = seed * 2654435761u + 1u;
    FILE *file = fopen(path, "r");
    assert_non_null(file);
    while (fgets(line, sizeof line, file) != NULL) {
        const char *at = line;
        for (const char *tag = strchr(at, '<'); tag != NULL; tag = strchr(tag + 1, '<'))
            for (size_t i = 0; i < sizeof names / sizeof names[0]; i++) {
                size_t n = strlen(names[i]);
                if (strncmp(tag + 1, names[i], n) != 0 || tag[1 + n] != ' ') continue;
                still_buf_addn(&out, at, (size_t)(tag + 1 - at) + n);
                at = tag + 1 + n;
                dice = dice * 1664525u + 1013904223u;
                still_buf_printf(&out, " sheet=\"%u %u\"", dice >> 28, dice >> 24 & 15u);
            }
        still_buf_add(&out, at);
    }
    fclose(file);
    assert_false(out.failed);
    return out.text;
}

static void plants_with_any_places_on_a_sheet_are_clear(void **state)
{
    (void)state;
    glob_t found;
    size_t bad = 0;
    assert_int_equal(glob(plants, 0, NULL, &found), 0);
    for (size_t i = 0; i < found.gl_pathc; i++)
        for (unsigned seed = 1; seed <= 4; seed++) {
            still_plant *plant = NULL;
            char name[300], *text = scattered(found.gl_pathv[i], seed);
            still_diags *diags = still_diags_new();
            assert_non_null(diags);
            assert_int_equal(still_read_plant_memory(&plant, "x", text, strlen(text), diags),
                             STILL_OK);
            still_diags_free(diags);
            snprintf(name, sizeof name, "%s seed %u", found.gl_pathv[i], seed);
            for (unsigned depth = 0; depth < 5; depth += 4) {
                uint32_t around = depth == 0 ? STILL_NONE : seed * plant->n_comps / 5;
                still_canvas c = {0};
                assert_int_equal(still_diagram_plant(&c, plant, around, depth), STILL_OK);
                bad += examine(&c, name);
                still_canvas_clear(&c);
            }
            still_plant_free(plant);
            still_free(text);
        }
    globfree(&found);
    assert_int_equal(bad, 0);
}

/** Where a text stands. */
static const still_prim *text_at(const still_canvas *c, const char *text)
{
    for (size_t i = 0; i < c->n_prims; i++)
        if (c->prims[i].kind == STILL_PRIM_TEXT &&
            strcmp(still_prim_text(c, &c->prims[i]), text) == 0)
            return &c->prims[i];
    fail_msg("no text \"%s\"", text);
    return NULL;
}

/** A ring of two branches, written from right to left: the sheet says what is left and what is
 *  above. One part has no place. */
static void a_plant_reads_in_the_order_of_its_sheet(void **state)
{
    (void)state;
    static const char ring[] =
        "<plant xmlns='urn:stillset:plant:1' id='p'>"
        "<limit id='L-1' sheet='0 50'/><fitting id='T-1' kind='tee' sheet='10 50'/>"
        "<valve id='HV-1' kind='globe' sheet='30 %d'/><valve id='HV-2' kind='globe'/>"
        "<valve id='HV-3' kind='globe' sheet='20 %d'/><pump id='P-1' sheet='40 %d'/>"
        "<fitting id='T-2' kind='tee' sheet='60 50'/><limit id='L-2' sheet='70 50'/>"
        "<spool id='S-1' from='L-2.in' to='T-2.a'/><spool id='S-2' from='T-2.b' to='HV-1.in'/>"
        "<spool id='S-3' from='HV-1.out' to='HV-2.in'/><spool id='S-4' from='HV-2.out' to='T-1.b'/>"
        "<spool id='S-5' from='T-2.c' to='P-1.in'/><spool id='S-6' from='P-1.out' to='HV-3.in'/>"
        "<spool id='S-7' from='HV-3.out' to='T-1.c'/><spool id='S-8' from='T-1.a' to='L-1.in'/>"
        "</plant>";
    for (int flip = 0; flip < 2; flip++) {
        char text[2048];
        int up = flip != 0 ? 20 : 80, down = flip != 0 ? 80 : 20;
        snprintf(text, sizeof text, ring, up, down, down);
        still_plant *plant = NULL;
        still_diags *diags = still_diags_new();
        assert_non_null(diags);
        assert_int_equal(still_read_plant_memory(&plant, "x", text, strlen(text), diags), STILL_OK);
        still_diags_free(diags);
        still_canvas c = {0};
        assert_int_equal(still_diagram_plant(&c, plant, STILL_NONE, 0), STILL_OK);
        static const char *const order[] = {"L-1", "T-1", "HV-3", "P-1", "T-2", "L-2"};
        for (size_t i = 0; i + 1 < sizeof order / sizeof order[0]; i++)
            assert_true(text_at(&c, order[i])->x < text_at(&c, order[i + 1])->x);
        assert_true((text_at(&c, "HV-1")->y < text_at(&c, "P-1")->y) == (flip == 0));
        assert_true((text_at(&c, "HV-2")->y < text_at(&c, "HV-3")->y) == (flip == 0));
        assert_int_equal(examine(&c, "ring"), 0);
        still_canvas_clear(&c);
        still_plant_free(plant);
    }
}

/** Never less than the text engine needs: all of ASCII, pairs that kern, letters of other scripts.
 */
static void room_kept_for_text_is_enough(void **state)
{
    (void)state;
    char all[96] = {0};
    for (int i = 0; i < 95; i++) all[i] = (char)(0x20 + i);
    const char *const texts[] = {all,
                                 "WWWWMMMM",
                                 "HV-1",
                                 "LTL-2\"-1042",
                                 "AVAWATA",
                                 "ffi fl",
                                 "\xC3\x84\xC3\x96\xC3\x9C\xC3\x9F\xC5\x92\xC3\x86",
                                 "\xD0\xA9\xD0\xAE\xD0\x96\xD1\x89",
                                 "\xCE\xA9\xCE\xA8\xCE\xA6",
                                 "\xE6\xB0\xA8\xE6\xB3\xB5",
                                 "\xC7\x84\xE2\x80\xA6\xE2\x80\x94"};
    for (size_t i = 0; i < sizeof texts / sizeof texts[0]; i++)
        for (int bold = 0; bold < 2; bold++) {
            double needed = 0.0;
            assert_int_equal(still_paint_measure(&needed, texts[i], 12.0, bold == 1), STILL_OK);
            if (still_text_width(texts[i], 12.0, bold == 1) < needed - 0.01)
                fail_msg("\"%s\" needs %g, not %g", texts[i], needed,
                         still_text_width(texts[i], 12.0, bold == 1));
        }
    for (int i = 0x21; i < 0x7F; i++)
        for (int bold = 0; bold < 2; bold++) {
            char one[2] = {(char)i, '\0'};
            double needed = 0.0;
            assert_int_equal(still_paint_measure(&needed, one, 100.0, bold == 1), STILL_OK);
            assert_true(still_text_width(one, 100.0, bold == 1) >= needed - 0.1);
        }
}

static void every_form_is_made_and_the_same_twice(void **state)
{
    (void)state;
    still_plant *plant = read_plant(STILL_SOURCE_DIR "/plants-demo/tutorial.xml");
    static const char *const starts[] = {"<?xml", "\x89PNG", "%PDF-"};
    for (still_picture form = STILL_PICTURE_SVG; form <= STILL_PICTURE_PDF; form++) {
        still_buf a = STILL_BUF_INIT, b = STILL_BUF_INIT;
        assert_int_equal(still_picture_plant(&a, plant, STILL_NONE, 0, form), STILL_OK);
        assert_int_equal(still_picture_plant(&b, plant, STILL_NONE, 0, form), STILL_OK);
        assert_true(a.len > 1000 && a.len == b.len);
        assert_memory_equal(a.text, b.text, a.len);
        assert_memory_equal(a.text, starts[form], strlen(starts[form]));
        still_buf_clear(&a);
        still_buf_clear(&b);
    }
    still_plant_free(plant);
}

static void memory_that_runs_out_leaves_nothing(void **state)
{
    (void)state;
    still_plant *plant = read_plant(STILL_SOURCE_DIR "/plants-demo/tutorial.xml");
    uint32_t around = still_plant_find(plant, "MV-1").v;
    still_status status = STILL_E_NOMEM;
    for (uint64_t n = 1; status != STILL_OK; n += 1 + n / 40) {
        still_buf out = STILL_BUF_INIT;
        still_alloc_fail_at(n);
        status = still_picture_plant(&out, plant, around, 1, STILL_PICTURE_PDF);
        still_alloc_fail_at(0);
        if (status != STILL_OK) assert_int_equal(status, STILL_E_NOMEM);
        if (status != STILL_OK) assert_int_equal(out.len, 0);
        still_buf_clear(&out);
        assert_true(n < 1000000);
    }
    still_plant_free(plant);
}

static size_t count_look(const still_canvas *c, still_look look)
{
    size_t n = 0;
    for (size_t i = 0; i < c->n_prims; i++)
        n += c->prims[i].look == look && c->prims[i].layer != STILL_LAYER_PAGE;
    return n;
}

/** Every number of the text form stands at a flag of the drawing, once; every cover has its sign;
 *  and each sort of part that there is is drawn with its line. */
static size_t coverage_is_all_there(const still_canvas *c, const still_coverage_record *r,
                                    const char *name)
{
    size_t bad = 0, numbered = 0;
    for (uint32_t i = 0; i < r->n_segments; i++) {
        numbered += still_diagram_gap(r, i) != 0;
        if (count_look(c, still_diagram_part_look(&r->segments[i])) > 0) continue;
        print_error("%s: the line of %s is not there\n", name, r->segments[i].name);
        bad++;
    }
    size_t flags = count_look(c, STILL_LOOK_FLAG) + count_look(c, STILL_LOOK_MILD);
    if (flags != numbered) print_error("%s: %zu flags for %zu numbers\n", name, flags, numbered);
    size_t seen = 0;
    for (size_t i = 0; i < c->n_prims; i++) {
        const still_prim *p = &c->prims[i];
        if (p->kind != STILL_PRIM_TEXT || p->layer != STILL_LAYER_LABEL || p->size != 14.0)
            continue;
        seen += strtoul(still_prim_text(c, p), NULL, 10);
    }
    if (seen != numbered * (numbered + 1) / 2) print_error("%s: wrong numbers\n", name);
    return bad + (flags != numbered) + (seen != numbered * (numbered + 1) / 2);
}

static void L5_closed_in_liquid_of_the_demo_plants_is_clear(void **state)
{
    (void)state;
    glob_t found;
    size_t bad = 0;
    char name[200];
    assert_int_equal(glob(plants, 0, NULL, &found), 0);
    for (size_t i = 0; i < found.gl_pathc; i++) {
        still_plant *plant = read_plant(found.gl_pathv[i]);
        still_coverage *coverage = NULL;
        assert_int_equal(still_coverage_make(&coverage, plant, NULL, NULL, NULL), STILL_OK);
        const still_coverage_record *r = still_coverage_record_of(coverage);
        still_canvas c = {0};
        assert_int_equal(still_diagram_coverage(&c, r, plant, STILL_NONE, 0), STILL_OK);
        bad += examine(&c, found.gl_pathv[i]);
        bad += coverage_is_all_there(&c, r, found.gl_pathv[i]);
        still_canvas_clear(&c);
        for (uint32_t s = 0; s < r->n_segments; s++)
            for (unsigned depth = 0; depth < 4; depth += 3) {
                snprintf(name, sizeof name, "%s %s", strrchr(found.gl_pathv[i], '/') + 1,
                         r->segments[s].name);
                assert_int_equal(still_diagram_coverage(&c, r, plant, s, depth), STILL_OK);
                bad += examine(&c, name);
                still_canvas_clear(&c);
            }
        still_coverage_free(coverage);
        still_plant_free(plant);
    }
    globfree(&found);
    assert_int_equal(bad, 0);
}

/** Where a cut pipe goes on, as a page says it. */
typedef struct reference {
    uint32_t on, spool, to;
} reference;

typedef struct references {
    reference items[400];
    size_t n;
    uint8_t *times; /**< by component: pages on which its id stands at it */
} references;

/** Ids and references of a page: lines of one label follow each other. */
static void read_page(references *r, const still_canvas *c, const still_plant *plant, uint32_t page)
{
    uint32_t owner = STILL_NONE, comp = STILL_NONE, to;
    for (size_t i = 0; i < c->n_prims; i++) {
        const still_prim *p = &c->prims[i];
        if (p->kind != STILL_PRIM_TEXT || p->layer != STILL_LAYER_LABEL) continue;
        uint32_t named = still_plant_find(plant, still_prim_text(c, p)).v;
        if (p->owner != owner) comp = named;
        if (p->owner != owner && named != STILL_NONE) r->times[named]++;
        owner = p->owner;
        if (sscanf(still_prim_text(c, p), "page %u", &to) != 1) continue;
        assert_true(comp != STILL_NONE && plant->comps[comp].cls == STILL_CLASS_SPOOL);
        assert_true(r->n < sizeof r->items / sizeof r->items[0]);
        r->items[r->n++] = (reference){page, comp, to};
    }
}

static bool answered(const references *r, const reference *asked)
{
    size_t n = 0;
    for (size_t i = 0; i < r->n; i++)
        n += r->items[i].on == asked->to && r->items[i].to == asked->on &&
             r->items[i].spool == asked->spool;
    return n == 1;
}

/** Every component stands on one page, or on each of its sheets; every pipe on one page, or on two
 *  that name each other. */
static size_t all_stands_on_pages(const references *r, const still_pages *pages, const char *name)
{
    const still_plant *plant = pages->plant;
    size_t bad = 0;
    for (size_t i = 0; i < r->n; i++) {
        if (answered(r, &r->items[i])) continue;
        print_error("%s: page %u sends %s to page %u, which does not send it back\n", name,
                    r->items[i].on, still_id_of(plant, r->items[i].spool), r->items[i].to);
        bad++;
    }
    for (uint32_t c = 0; c < plant->n_comps; c++) {
        size_t cut = 0;
        for (size_t i = 0; i < r->n; i++) cut += r->items[i].spool == c;
        uint32_t area = pages->area_of[c];
        uint32_t times = area != STILL_NONE ? pages->sheets[area] : cut > 0 ? 2 : 1;
        if (r->times[c] == times && cut != 1) continue;
        print_error("%s: %s stands on %u pages, cut %zu times\n", name, still_id_of(plant, c),
                    r->times[c], cut);
        bad++;
    }
    return bad;
}

/** No page is larger than A3, and on paper no capital lower than 2 mm (0.729 of the size of type in
 *  DejaVu Sans, which pictures are set in; from its file). */
static size_t examine_size(const still_canvas *c, const char *where)
{
    double mm = c->width_mm / c->width, least = INFINITY;
    size_t bad = 0;
    for (size_t i = 0; i < c->n_prims; i++)
        if (c->prims[i].kind == STILL_PRIM_TEXT) least = fmin(least, c->prims[i].size);
    if (c->width_mm > 420.0 || c->height_mm > 297.0 + 1e-9) {
        print_error("%s: %g mm x %g mm is larger than A3\n", where, c->width_mm, c->height_mm);
        bad++;
    }
    /* The sheet is as wide as the drawing, and no lower: nothing is cut off. */
    if (c->height * mm > 298.0) {
        print_error("%s: %g mm of drawing on %g mm\n", where, c->height * mm, c->height_mm);
        bad++;
    }
    if (least * mm * 0.729 < 2.0 - 1e-9) {
        print_error("%s: capitals of %.3f mm\n", where, least * mm * 0.729);
        bad++;
    }
    return bad;
}

static size_t examine_pages(const still_plant *plant, const still_coverage_record *r,
                            const char *name)
{
    still_pages pages;
    size_t bad = 0;
    references *refs = calloc(1, sizeof *refs);
    assert_non_null(refs);
    refs->times = calloc(plant->n_comps, 1);
    assert_non_null(refs->times);
    assert_int_equal(still_pages_make(&pages, r, plant), STILL_OK);
    assert_true(pages.n_areas > 1); /* none of these has room on A3 */
    for (uint32_t i = 1; i <= still_pages_count(&pages); i++) {
        still_canvas c = {0};
        char where[200];
        assert_int_equal(still_pages_draw(&c, &pages, i), STILL_OK);
        snprintf(where, sizeof where, "%s page %u", name, i);
        bad += examine(&c, where);
        bool area = i > pages.n_index && i <= pages.n_index + pages.n_areas;
        if (area) read_page(refs, &c, plant, i);
        bad += examine_size(&c, where);
        still_canvas_clear(&c);
    }
    bad += all_stands_on_pages(refs, &pages, name);
    still_pages_clear(&pages);
    free(refs->times);
    free(refs);
    return bad;
}

static void L5_pages_of_the_demo_plants_are_clear_whole_and_A3(void **state)
{
    (void)state;
    glob_t found;
    size_t bad = 0;
    assert_int_equal(glob(plants, 0, NULL, &found), 0);
    for (size_t i = 0; i < found.gl_pathc; i++) {
        still_plant *plant = read_plant(found.gl_pathv[i]);
        still_coverage *coverage = NULL;
        assert_int_equal(still_coverage_make(&coverage, plant, NULL, NULL, NULL), STILL_OK);
        bad += examine_pages(plant, still_coverage_record_of(coverage),
                             strrchr(found.gl_pathv[i], '/') + 1);
        still_coverage_free(coverage);
        still_plant_free(plant);
    }
    globfree(&found);
    assert_int_equal(bad, 0);
}

/** A plant file that is made here. */
static still_plant *written_plant(const char *head, int n, const char *each, const char *tail)
{
    still_plant *plant = NULL;
    still_buf text = STILL_BUF_INIT;
    still_buf_add(&text,
                  "<plant xmlns=\"urn:stillset:plant:1\" id=\"made\" name=\"Made (invented)\">"
                  "<service id=\"L\" substance=\"ammonia\" phase=\"liquid\" "
                  "temperature=\"-30 degC\" pressure=\"3 barg\" design-pressure=\"19 barg\"/>");
    still_buf_add(&text, head);
    for (int i = 1; i <= n; i++)
        for (const char *p = each; *p != '\0'; p++) {
            /* % is the number, & the one before. */
            if (*p == '%' || *p == '&')
                still_buf_printf(&text, "%d", *p == '%' ? i : i - 1);
            else
                still_buf_char(&text, *p);
        }
    still_buf_printf(&text, "%s</plant>", tail);
    assert_false(text.failed);
    still_diags *diags = still_diags_new();
    assert_non_null(diags);
    assert_int_equal(still_plant_read_memory(&plant, "made", text.text, text.len, diags), STILL_OK);
    still_diags_free(diags);
    still_buf_clear(&text);
    return plant;
}

/** A header with sixty branches, and a pipe from it to itself. */
static void L5_a_component_with_too_many_pipes_stands_on_sheets(void **state)
{
    (void)state;
    still_coverage *coverage = NULL;
    still_pages pages;
    still_plant *plant = written_plant(
        "<fitting id=\"H\" kind=\"node\"/>", 60,
        "<valve id=\"V-%\" kind=\"globe\" position=\"open\" bore=\"DN25\"/><cap id=\"C-%\"/>"
        "<spool id=\"A-%\" from=\"H.p%\" to=\"V-%.in\" length=\"1 m\" bore=\"DN25\" service=\"L\"/>"
        "<spool id=\"B-%\" from=\"V-%.out\" to=\"C-%.in\" length=\"1 m\" bore=\"DN25\" "
        "service=\"L\"/>",
        "<spool id=\"R\" from=\"H.r1\" to=\"H.r2\" length=\"1 m\" bore=\"DN25\" service=\"L\"/>");
    assert_int_equal(still_coverage_make(&coverage, plant, NULL, NULL, NULL), STILL_OK);
    const still_coverage_record *r = still_coverage_record_of(coverage);
    assert_int_equal(examine_pages(plant, r, "header"), 0);
    assert_int_equal(still_pages_make(&pages, r, plant), STILL_OK);
    uint32_t header = still_plant_find(plant, "H").v, sheets = pages.sheets[pages.area_of[header]];
    assert_true(sheets > 5);
    uint32_t pipes = 0;
    for (uint32_t k = 0; k < sheets; k++) {
        uint32_t area = pages.area_of[header] + k, n = 0;
        assert_int_equal(pages.sheet[area], k + 1);
        assert_int_equal(still_pages_size(&pages, area), 1);
        for (uint32_t i = 0; i < plant->comps[header].b; i++)
            n += pages.port_area[plant->comps[header].a + i] == area;
        assert_true(n > 0);
        pipes += n;
    }
    assert_int_equal(pipes, 62);
    still_pages_clear(&pages);
    still_coverage_free(coverage);
    still_plant_free(plant);
}

/** A gap of a hundred and fifty pieces has no room on a page in one piece. */
static void L5_a_gap_without_room_is_said_in_words_and_stands_on_its_pages(void **state)
{
    (void)state;
    still_coverage *coverage = NULL;
    still_pages pages;
    still_plant *plant = written_plant(
        "<limit id=\"A\"/><limit id=\"B\"/>"
        "<valve id=\"V-1\" kind=\"globe\" position=\"open\" bore=\"DN50\"/>"
        "<valve id=\"V-2\" kind=\"globe\" position=\"open\" bore=\"DN50\"/>"
        "<spool id=\"S-A\" from=\"A.in\" to=\"V-1.in\" length=\"1 m\" bore=\"DN50\" service=\"L\"/>"
        "<spool id=\"S-B\" from=\"V-2.out\" to=\"B.in\" length=\"1 m\" bore=\"DN50\" "
        "service=\"L\"/>"
        "<fitting id=\"E-0\" kind=\"elbow\"/>"
        "<spool id=\"S-0\" from=\"V-1.out\" to=\"E-0.a\" length=\"1 m\" bore=\"DN50\" "
        "service=\"L\"/>",
        75,
        "<fitting id=\"E-%\" kind=\"elbow\"/><spool id=\"S-%\" from=\"E-&.b\" to=\"E-%.a\" "
        "length=\"1 m\" bore=\"DN50\" service=\"L\"/>",
        "<spool id=\"S-Z\" from=\"E-75.b\" to=\"V-2.in\" length=\"1 m\" bore=\"DN50\" "
        "service=\"L\"/>");
    assert_int_equal(still_coverage_make(&coverage, plant, NULL, NULL, NULL), STILL_OK);
    const still_coverage_record *r = still_coverage_record_of(coverage);
    assert_int_equal(r->n_gaps, 3); /* it, and the pipes to the limits */
    uint32_t gap = 0;
    while (r->segments[gap].ids.n < 10) gap++;
    assert_int_equal(r->segments[gap].ids.n, 153);
    assert_int_equal(examine_pages(plant, r, "long gap"), 0);
    assert_int_equal(still_pages_make(&pages, r, plant), STILL_OK);
    assert_int_equal(pages.n_close, 3);
    uint32_t shown = pages.shown_at[gap + 1] - pages.shown_at[gap];
    assert_true(shown > 2 && shown == pages.n_areas);
    still_canvas c = {0};
    assert_int_equal(still_pages_draw(&c, &pages, pages.n_index + pages.n_areas + gap + 1),
                     STILL_OK);
    assert_true(says(&c, "This part has no room on one page. It is drawn on pages 2, 3"));
    assert_true(says(&c, "and 53 more"));
    still_canvas_clear(&c);
    still_pages_clear(&pages);
    still_coverage_free(coverage);
    still_plant_free(plant);
}

/** Seen by a person who tells no colours apart, or in grey: lines differ in width or dashes, and
 *  the ones that must not be taken for one another in lightness too. */
static void L5_no_two_sorts_differ_by_colour_alone(void **state)
{
    (void)state;
    for (still_look a = STILL_LOOK_CUT_ITSELF; a <= STILL_LOOK_COVERED; a++) {
        const still_look_row *x = still_look_of(a);
        assert_true(contrast(x->stroke, 0xFFFFFF) >= 3.0);
        for (still_look b = STILL_LOOK_CUT_ITSELF; b < a; b++) {
            const still_look_row *y = still_look_of(b);
            bool dashes = x->dash_on > 1.4 * y->dash_on || y->dash_on > 1.4 * x->dash_on;
            bool width = x->width > 1.8 * y->width || y->width > 1.8 * x->width;
            assert_true(dashes || width);
        }
    }
    assert_true(contrast(still_look_of(STILL_LOOK_CUT_ITSELF)->stroke,
                         still_look_of(STILL_LOOK_CUT_PERSON)->stroke) >= 2.0);
}

static void coverage_is_made_in_every_form_and_the_same_twice(void **state)
{
    (void)state;
    still_plant *plant = read_plant(STILL_SOURCE_DIR "/plants-demo/tutorial.xml");
    static const char *const starts[] = {"<?xml", "\x89PNG", "%PDF-"};
    const char *const around[] = {NULL, "S-4", "T-2", "HV-3"};
    still_coverage *coverage = NULL;
    assert_int_equal(still_coverage_make(&coverage, plant, NULL, NULL, NULL), STILL_OK);
    for (int form = 0; form < 3; form++)
        for (int k = 0; k < 4; k++) {
            char *a = NULL, *b = NULL;
            size_t len_a = 0, len_b = 0;
            still_format format = (still_format)(STILL_FORMAT_SVG + form);
            assert_int_equal(still_coverage_draw(&a, &len_a, coverage, around[k], 0, format, NULL),
                             STILL_OK);
            assert_int_equal(still_coverage_draw(&b, &len_b, coverage, around[k], 0, format, NULL),
                             STILL_OK);
            assert_true(len_a > 1000 && len_a == len_b);
            assert_memory_equal(a, b, len_a);
            assert_memory_equal(a, starts[form], strlen(starts[form]));
            still_bytes_free(a);
            still_bytes_free(b);
        }
    char *bytes = NULL;
    size_t len = 0;
    assert_int_equal(still_coverage_draw(&bytes, &len, coverage, "none", 0, STILL_FORMAT_SVG, NULL),
                     STILL_E_NO_COMP);
    assert_int_equal(still_coverage_draw(&bytes, &len, coverage, NULL, 0, STILL_FORMAT_CSV, NULL),
                     STILL_E_USAGE);
    uint32_t n = 0;
    assert_int_equal(still_coverage_pages(&n, coverage), STILL_OK);
    assert_true(n > 2);
    assert_int_equal(
        still_coverage_draw_page(&bytes, &len, coverage, n + 1, STILL_FORMAT_SVG, NULL),
        STILL_E_USAGE);
    assert_int_equal(still_coverage_draw_page(&bytes, &len, coverage, 0, STILL_FORMAT_SVG, NULL),
                     STILL_E_USAGE);
    assert_null(bytes);
    still_coverage_free(coverage);
    still_plant_free(plant);
}

static void memory_that_runs_out_leaves_no_coverage_picture(void **state)
{
    (void)state;
    still_plant *plant = read_plant(STILL_SOURCE_DIR "/plants-demo/tutorial.xml");
    still_coverage *coverage = NULL;
    assert_int_equal(still_coverage_make(&coverage, plant, NULL, NULL, NULL), STILL_OK);
    for (int close = 0; close < 3; close++) {
        still_status status = STILL_E_NOMEM;
        for (uint64_t n = 1; status != STILL_OK; n += 1 + n / 40) {
            char *bytes = NULL;
            size_t len = 0;
            still_alloc_fail_at(n);
            status = close == 2 ? still_coverage_draw_page(&bytes, &len, coverage, 2,
                                                           STILL_FORMAT_SVG, NULL)
                                : still_coverage_draw(&bytes, &len, coverage, close ? "S-4" : NULL,
                                                      0, STILL_FORMAT_SVG, NULL);
            still_alloc_fail_at(0);
            if (status != STILL_OK) assert_int_equal(status, STILL_E_NOMEM);
            if (status != STILL_OK) assert_null(bytes);
            still_bytes_free(bytes);
            assert_true(n < 1000000);
        }
    }
    still_coverage_free(coverage);
    still_plant_free(plant);
}

int main(int argc, char **argv)
{
    if (argc > 1) plants = argv[1];
    if (argc > 3) one_in = (unsigned)strtoul(argv[3], NULL, 10);
    if (argc > 2) cmocka_set_test_filter(argv[2]);
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(plans_for_all_components_of_the_demo_plants_are_clear),
        cmocka_unit_test(sheets_of_paper_are_clear_whole_and_answer_each_other),
        cmocka_unit_test(I5_paths_of_the_proof_are_drawn_on_request),
        cmocka_unit_test(simple_plans_have_room_on_a_sheet),
        cmocka_unit_test(sheets_are_the_same_twice_and_memory_that_runs_out_leaves_none),
        cmocka_unit_test(demo_plants_without_a_plan_are_clear),
        cmocka_unit_test(plants_with_any_places_on_a_sheet_are_clear),
        cmocka_unit_test(a_plant_reads_in_the_order_of_its_sheet),
        cmocka_unit_test(room_kept_for_text_is_enough),
        cmocka_unit_test(every_form_is_made_and_the_same_twice),
        cmocka_unit_test(memory_that_runs_out_leaves_nothing),
        cmocka_unit_test(L5_closed_in_liquid_of_the_demo_plants_is_clear),
        cmocka_unit_test(L5_pages_of_the_demo_plants_are_clear_whole_and_A3),
        cmocka_unit_test(L5_a_component_with_too_many_pipes_stands_on_sheets),
        cmocka_unit_test(L5_a_gap_without_room_is_said_in_words_and_stands_on_its_pages),
        cmocka_unit_test(L5_no_two_sorts_differ_by_colour_alone),
        cmocka_unit_test(coverage_is_made_in_every_form_and_the_same_twice),
        cmocka_unit_test(memory_that_runs_out_leaves_no_coverage_picture),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
