/* The pack: figures for people, what its pages hold, where it stands on them, memory that runs out.
 * Conversion factors: NIST SP 811 (2008), appendix B (from memory); checked against temperatures
 * and pressures of common tables: 0 degC = 32 degF, 100 degC = 212 degF, 1 bar = 14.5038 psi, 1 in
 * = 25.4 mm and 1 lb = 0.45359237 kg (both exact). */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <cmocka.h>

#include "alloc.h"
#include "diagram.h"
#include "figures.h"
#include "glyph.h"
#include "output.h"
#include "output_sample.h"
#include "pack.h"
#include "pack_pages.h"
#include "plantread.h"
#include "qr.h"

#include "stillset/plan.h"

#include <glob.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static const still_figures si = {NULL, false, false};
static const char *const some_digest =
    "0123456789abcdef0123456789abcdef0123456789abcdef0123456789abcdef";

/* ---- figures ---- */

typedef struct row {
    const char *given, *us, *comma;
} row;

static void figures_are_accompanied_never_replaced(void **state)
{
    (void)state;
    static const row rows[] = {
        {"up to 10 barg (DIS)", "up to 145 psig [10 barg] (DIS)", "up to 10 barg (DIS)"},
        {"at 100 degC", "at 212 degF [100 degC]", "at 100 degC"},
        {"at -40 degC,", "at -40 degF [-40 degC],", "at -40 degC,"},
        {"1.67 K warmer", "3.006 degF [1.67 K] warmer", "1,67 K warmer"},
        {"22.1 bar/K;", "178.1 psi/degF [22.1 bar/K];", "22,1 bar/K;"},
        {"25.4 mm", "1 in [25.4 mm]", "25,4 mm"},
        {"0.45359237 kg.", "1 lb [0.45359237 kg].", "0,45359237 kg."},
        {"(2.09 L, 1.43 kg)", "(0.5521 gal(US) [2.09 L], 3.153 lb [1.43 kg])", "(2,09 L, 1,43 kg)"},
        {"270 Pa absolute", "2025 micron Hg [270 Pa] absolute", "270 Pa absolute"},
        {"3.5 % or 2.5 min", "3.5 % or 2.5 min", "3,5 % or 2,5 min"},
        {"1.1 x 40 barg", "1.1 x 580.2 psig [40 barg]", "1,1 x 40 barg"},
        /* Ids, sizes, digests, versions and rates that are not known stay. */
        {"HV-1.5 barg", "HV-1.5 barg", "HV-1.5 barg"},
        {"DN40 and NPS 2.5 in", "DN40 and NPS 2.5 in", "DN40 and NPS 2.5 in"},
        {"V-1.liq, 0.1.0 m", "V-1.liq, 0.1.0 m", "V-1.liq, 0.1.0 m"},
        {"3 m/s, 5 Kelvin, 2 mol", "3 m/s, 5 Kelvin, 2 mol", "3 m/s, 5 Kelvin, 2 mol"},
        {"29 CFR 1910.147 h", "29 CFR 1910.147 h", "29 CFR 1910,147 h"},
        {"", "", ""},
    };
    const still_figures us = {NULL, true, false}, comma = {NULL, false, true};
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        still_buf a = STILL_BUF_INIT, b = STILL_BUF_INIT, c = STILL_BUF_INIT;
        still_figures_words(&a, &us, rows[i].given);
        still_figures_words(&b, &comma, rows[i].given);
        still_figures_words(&c, &si, rows[i].given);
        assert_string_equal(a.text != NULL ? a.text : "", rows[i].us);
        assert_string_equal(b.text != NULL ? b.text : "", rows[i].comma);
        assert_string_equal(c.text != NULL ? c.text : "", rows[i].given);
        still_buf_clear(&a);
        still_buf_clear(&b);
        still_buf_clear(&c);
    }
}

static void figures_of_the_record(void **state)
{
    (void)state;
    const still_figures us = {NULL, true, false}, comma = {NULL, false, true};
    still_buf buf = STILL_BUF_INIT;
    still_figures_one(&buf, &si, (double)NAN, 3, "kg");
    still_buf_add(&buf, "; ");
    still_figures_one(&buf, &si, 0.00213, 3, "m3");
    still_buf_add(&buf, "; ");
    still_figures_one(&buf, &si, 0.00001, 3, "kg");
    still_buf_add(&buf, "; ");
    still_figures_one(&buf, &comma, 1.5, 3, "kg");
    still_buf_add(&buf, "; ");
    still_figures_one(&buf, &us, 1.0, 3, "barg");
    assert_string_equal(buf.text,
                        "unknown; 2.13 L; less than 0.001 kg; 1,5 kg; 14.5 psig [1 barg]");
    still_buf_clear(&buf);
}

/* ---- pages ---- */

/** A plant file, read; fails the test where it can't be. */
static still_plant *read_plant(const char *path)
{
    still_plant *plant = NULL;
    assert_int_equal(still_plant_read(&plant, path, NULL), STILL_OK);
    return plant;
}

/** All text of the pages of a part, letters only, in the order in which it is drawn. */
static char *letters_of(const still_ppages *pages, const char *part)
{
    still_buf all = STILL_BUF_INIT;
    for (size_t i = 0; i < pages->n; i++) {
        const still_canvas *c = &pages->items[i].canvas;
        if (part != NULL && strncmp(pages->items[i].part, part, strlen(part)) != 0) continue;
        for (size_t k = 0; k < c->n_prims; k++) {
            if (c->prims[k].kind != STILL_PRIM_TEXT) continue;
            /* Head and foot of a page stand in no text. */
            if (part != NULL && c->prims[k].layer == STILL_LAYER_PAGE) continue;
            for (const char *s = still_prim_text(c, &c->prims[k]); *s != '\0'; s++)
                if (*s != ' ') still_buf_char(&all, *s);
        }
    }
    still_buf_char(&all, ' ');
    assert_false(all.failed);
    return all.text;
}

static void without_spaces(char *out, size_t room, const char *s)
{
    size_t n = 0;
    still_buf clean = STILL_BUF_INIT;
    still_glyph_clean(&clean, s);
    for (size_t i = 0; i < clean.len && n + 1 < room; i++)
        if (clean.text[i] != ' ') out[n++] = clean.text[i];
    out[n] = '\0';
    still_buf_clear(&clean);
}

static void is_there(const char *all, const char *words, const char *name)
{
    char text[4096];
    without_spaces(text, sizeof text, words);
    if (strstr(all, text) == NULL) fail_msg("%s: \"%s\" stands on no page", name, words);
}

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

/** Nothing leaves the margins, no text lies on another, and all is large enough. */
static void pages_are_clear(const still_ppages *pages, const char *name)
{
    const double mm = 72.0 / 25.4;
    for (size_t i = 0; i < pages->n; i++) {
        const still_ppage *page = &pages->items[i];
        const still_canvas *c = &page->canvas;
        box *boxes = calloc(c->n_prims + 1, sizeof *boxes);
        size_t n = 0;
        assert_non_null(boxes);
        assert_false(c->failed);
        for (size_t k = 0; k < c->n_prims; k++) {
            const still_prim *p = &c->prims[k];
            if (p->kind != STILL_PRIM_TEXT) continue;
            const char *text = still_prim_text(c, p);
            box b = box_of(c, p);
            bool appendix = strncmp(page->part, "F.", 2) == 0;
            bool foot = p->y > c->height - 12.0 * mm - 12.0;
            bool blank = strncmp(page->part, "E.", 2) == 0;
            double least = appendix || foot || blank ? 1.75 : 1.995;
            if (p->size * 0.729 / mm < least)
                fail_msg("%s, page %zu: \"%s\" is %.2f mm high", name, i + 1, text,
                         p->size * 0.729 / mm);
            if (b.x0 < 19.9 * mm || b.x1 > c->width - 11.0 * mm || b.y0 < 11.5 * mm ||
                b.y1 > c->height - 11.0 * mm)
                fail_msg("%s, page %zu: \"%s\" leaves the margins", name, i + 1, text);
            for (size_t j = 0; j < n; j++)
                if (b.x0 < boxes[j].x1 - 0.2 && boxes[j].x0 < b.x1 - 0.2 &&
                    b.y0 < boxes[j].y1 - 0.3 && boxes[j].y0 < b.y1 - 0.3)
                    fail_msg("%s, page %zu: \"%s\" lies on another text", name, i + 1, text);
            boxes[n++] = b;
        }
        free(boxes);
    }
}

static void set(still_pack *p, still_ppages *pages, const still_record *r, const still_plant *plant,
                still_paper paper)
{
    assert_int_equal(still_pack_build(p, r, plant, &si, "en", some_digest), STILL_OK);
    assert_int_equal(still_pack_set(pages, p, paper, NULL, 0, false), STILL_OK);
}

/** Each step, tag, finding that blocks and assumption of a record stands on its page, in order. */
static void all_is_there(const still_ppages *pages, const still_record *r, const char *name)
{
    char *lead = letters_of(pages, "A."), *work = letters_of(pages, "C."),
         *back = letters_of(pages, "D."), *more = letters_of(pages, "F.");
    size_t left_out = 0;
    for (size_t i = 0; i < r->n_findings; i++)
        is_there(r->findings[i].blocks ? lead : more, r->findings[i].text, name);
    for (size_t i = 0; i < r->n_assumptions; i++) {
        char whole[4096], text[4096];
        const still_remark *a = &r->assumptions[i];
        snprintf(whole, sizeof whole, "%s (%s): %s", a->id, a->rule, a->text);
        is_there(more, whole, name);
        without_spaces(text, sizeof text, whole);
        left_out += strstr(lead, text) == NULL;
    }
    if (left_out > 0) {
        char words[64];
        snprintf(words, sizeof words, "And %zu more, which have no room here", left_out);
        is_there(lead, words, name);
    }
    for (size_t i = 0; i < r->n_steps; i++) is_there(work, r->steps[i].do_text, name);
    for (size_t i = 0; i < r->n_steps; i++) is_there(work, r->steps[i].if_not, name);
    for (size_t i = 0; i < r->n_points; i++) is_there(work, r->points[i].what, name);
    for (size_t i = 0; i < r->n_still_live; i++) is_there(work, r->still_live[i].id, name);
    for (size_t i = 0; i < r->n_restore; i++) is_there(back, r->restore[i].do_text, name);
    free(lead);
    free(work);
    free(back);
    free(more);
}

static void pages_of_the_demo_plants_hold_all_and_are_clear(void **state)
{
    (void)state;
    glob_t found;
    size_t seen = 0;
    assert_int_equal(glob(STILL_SOURCE_DIR "/plants-demo/*.xml", 0, NULL, &found), 0);
    for (size_t i = 0; i < found.gl_pathc; i++) {
        still_plant *plant = read_plant(found.gl_pathv[i]);
        for (uint32_t comp = 0; comp < plant->n_comps; comp++) {
            if (plant->comps[comp].cls == STILL_CLASS_SPOOL || comp % 7 != 3) continue;
            char name[200];
            const char *target = still_id_of(plant, comp);
            still_plan_opts opts = STILL_PLAN_OPTS_INIT;
            still_plan *plan = NULL;
            still_pack p;
            still_ppages pages;
            opts.grade = comp % 2 == 0 ? STILL_GRADE_SINGLE : STILL_GRADE_POLICY;
            opts.curves = true;
            snprintf(name, sizeof name, "%s %s", strrchr(found.gl_pathv[i], '/') + 1, target);
            if (still_plan_make(&plan, plant, NULL, &target, 1, &opts, NULL) != STILL_OK)
                fail_msg("%s: no plan", name);
            set(&p, &pages, still_plan_record(plan), plant,
                comp % 3 == 0 ? STILL_PAPER_LETTER : STILL_PAPER_A4);
            pages_are_clear(&pages, name);
            all_is_there(&pages, still_plan_record(plan), name);
            still_ppages_clear(&pages);
            still_pack_clear(&p);
            still_plan_free(plan);
            seen++;
        }
        still_plant_free(plant);
    }
    globfree(&found);
    assert_true(seen > 20);
}

/** A text that is higher than a page is parted between its lines, and none is lost. */
static void a_row_higher_than_a_page_loses_no_line(void **state)
{
    (void)state;
    still_buf text = STILL_BUF_INIT;
    for (int i = 0; i < 900; i++) still_buf_printf(&text, "n%dn of a long text ", i);
    still_record r = sample_record();
    still_step steps[2] = {r.steps[0], r.steps[0]};
    steps[0].do_text = text.text;
    steps[0].if_not = text.text;
    steps[1].n = 2;
    r.steps = steps;
    r.n_steps = 2;
    still_remark assumption = {"N2", "X-1", text.text};
    r.assumptions = &assumption;
    r.n_assumptions = 1;
    still_pack p;
    still_ppages pages;
    set(&p, &pages, &r, NULL, STILL_PAPER_A4);
    pages_are_clear(&pages, "high row");
    char *work = letters_of(&pages, "C.");
    for (int i = 0; i < 900; i++) {
        char word[32];
        snprintf(word, sizeof word, "n%dn", i);
        const char *first = strstr(work, word);
        assert_non_null(first);
        /* Twice: once in each of the two columns; the columns of a page are drawn one by one. */
        if (strstr(first + 1, word) == NULL) fail_msg("%s stands in one column only", word);
    }
    free(work);
    still_ppages_clear(&pages);
    still_pack_clear(&p);
    still_buf_clear(&text);
}

/** The page for the decision is one page, however much is assumed; what is not on it is counted. */
static void what_has_no_room_on_the_decision_is_said(void **state)
{
    (void)state;
    static still_remark many[200];
    static char texts[200][200];
    still_record r = sample_record();
    for (int i = 0; i < 200; i++) {
        snprintf(texts[i], sizeof texts[i], "assumption %d, which takes a line of its own", i);
        many[i] = (still_remark){"N2", "X-1", texts[i]};
    }
    r.assumptions = many;
    for (r.n_assumptions = 0; r.n_assumptions <= 200; r.n_assumptions += 40) {
        still_pack p;
        still_ppages pages;
        set(&p, &pages, &r, NULL, STILL_PAPER_LETTER);
        size_t lead = 0;
        for (size_t i = 0; i < pages.n; i++) lead += strncmp(pages.items[i].part, "A.", 2) == 0;
        assert_int_equal(lead, 1);
        all_is_there(&pages, &r, "many assumptions");
        pages_are_clear(&pages, "many assumptions");
        still_ppages_clear(&pages);
        still_pack_clear(&p);
    }
}

static void hostile_names_stay_within_their_cells(void **state)
{
    (void)state;
    static const char *const names[] = {
        "<script>alert(1)</script>",
        "\"quoted\" & 'more'",
        "\xE2\x80\xAE"
        "desrever",
        "=cmd|' /C calc'!A0",
        "a\tb\nc\x01",
        "\xF0\x9F\x91\xB7\xE2\x80\x8D\xE2\x99\x80\xEF\xB8\x8F emoji",
        "%s%n%d"};
    char wide[301];
    memset(wide, 'W', 300);
    wide[300] = '\0';
    for (size_t i = 0; i <= sizeof names / sizeof names[0]; i++) {
        const char *name = i < sizeof names / sizeof names[0] ? names[i] : wide;
        still_record r = sample_record();
        still_point points[4];
        memcpy(points, r.points, sizeof points);
        for (int k = 0; k < 4; k++) points[k].id = points[k].what = points[k].place = name;
        points[2].isolator = name;
        r.points = points;
        r.plant_name = r.plant_id = r.plant_revision = r.target_what = r.target_place = name;
        still_strings target = {&name, 1};
        r.targets = target;
        still_pack p;
        still_ppages pages;
        set(&p, &pages, &r, NULL, STILL_PAPER_A4);
        pages_are_clear(&pages, name);
        still_buf html = STILL_BUF_INIT;
        assert_int_equal(still_pack_html(&html, &p, "", ""), STILL_OK);
        assert_null(strstr(html.text, "<script"));
        assert_null(strstr(html.text, "\xE2\x80\xAE"));
        for (size_t k = 0; k < html.len; k++)
            assert_true((unsigned char)html.text[k] >= 0x20 || html.text[k] == '\n');
        still_buf_clear(&html);
        still_ppages_clear(&pages);
        still_pack_clear(&p);
    }
}

/** N2: where heights are missing the page for the decision does not say "drained" alone. */
static void N2_what_stays_behind_is_not_known(void **state)
{
    (void)state;
    still_record r = sample_record();
    for (int shown = 0; shown < 2; shown++) {
        still_compartment room = r.compartments[0];
        still_pack p;
        still_ppages pages;
        room.liquid = true;
        room.drain = r.compartments[0].vent;
        room.n_pockets = 0;
        room.drainage_shown = shown == 1;
        r.compartments = &room;
        r.n_compartments = 1;
        set(&p, &pages, &r, NULL, STILL_PAPER_A4);
        char *lead = letters_of(&pages, "A.");
        assert_int_equal(strstr(lead, "whatstaysbehindisnotknown") != NULL, shown == 0);
        free(lead);
        still_ppages_clear(&pages);
        still_pack_clear(&p);
        r = sample_record();
    }
}

static void records_without_a_plan_and_without_anything(void **state)
{
    (void)state;
    for (int k = 0; k < 2; k++) {
        still_record r = k == 0 ? sample_infeasible() : sample_empty();
        still_pack p;
        still_ppages pages;
        set(&p, &pages, &r, NULL, STILL_PAPER_A4);
        pages_are_clear(&pages, "nothing");
        char *all = letters_of(&pages, NULL);
        is_there(all, k == 0 ? "CANNOT BE ISOLATED" : "READY", "nothing");
        free(all);
        still_buf html = STILL_BUF_INIT;
        assert_int_equal(still_pack_html(&html, &p, "", ""), STILL_OK);
        still_buf_clear(&html);
        still_ppages_clear(&pages);
        still_pack_clear(&p);
    }
}

/** What is drawn is what the library says: module by module, the quiet zone around it. */
static void codes_are_whole(void **state)
{
    (void)state;
    still_qr qr;
    assert_int_equal(still_qr_make(&qr, "STILLSET-PLAN-1 0123 TAG 1"), STILL_OK);
    still_canvas c = {0};
    still_qr_draw(&c, &qr, 0.0, 0.0, qr.width + 2.0 * STILL_QR_QUIET);
    size_t dark = 0;
    double drawn = 0.0;
    for (size_t i = 0; i < (size_t)qr.width * qr.width; i++) dark += qr.dark[i];
    for (size_t i = 0; i < c.n_prims; i++) {
        const still_pstep *s = &c.steps[c.prims[i].first];
        double w = s[1].x[2] - s[0].x[2];
        assert_true(s[0].x[2] >= STILL_QR_QUIET - 1e-9 && s[0].y[2] >= STILL_QR_QUIET - 1e-9);
        drawn += w;
    }
    assert_true(fabs(drawn - (double)dark) < 1e-6);
    still_canvas_clear(&c);
    still_qr_clear(&qr);
}

/* ---- languages ---- */

static int by_text(const void *a, const void *b)
{
    return strcmp(*(char *const *)a, *(char *const *)b);
}

/** Words of a text that have a digit in them (ids, figures, tags, rules), in order. */
static size_t figures_in(char *copy, char *words[], size_t most)
{
    static const char ends[] = " ,;:()[]\"'%";
    size_t n = 0;
    for (char *w = copy; *w != '\0' && n < most;) {
        size_t len = strcspn(w, ends);
        char *next = w + len + (w[len] != '\0');
        w[len] = '\0';
        while (len > 0 && (w[len - 1] == '.' || w[len - 1] == '-')) w[--len] = '\0';
        if (strpbrk(w, "0123456789") != NULL) words[n++] = w;
        w = next;
    }
    qsort(words, n, sizeof words[0], by_text);
    return n;
}

/** A translation says the same ids and figures, none more and none less. */
static size_t says_the_same(const char *english, const char *german, const char *name)
{
    enum { MOST = 2000 };
    char *a[MOST], *b[MOST], one[32768], two[32768];
    snprintf(one, sizeof one, "%s", english);
    snprintf(two, sizeof two, "%s", german);
    size_t n = figures_in(one, a, MOST), m = figures_in(two, b, MOST);
    bool same = n == m;
    for (size_t i = 0; i < n && same; i++) same = strcmp(a[i], b[i]) == 0;
    if (!same) print_error("%s:\n  %s\n  %s\n", name, english, german);
    return !same;
}

static size_t steps_are_the_same(const still_step *a, const still_step *b, size_t n,
                                 const char *name)
{
    size_t bad = 0;
    for (size_t i = 0; i < n; i++) {
        assert_string_equal(a[i].id, b[i].id);
        assert_string_equal(a[i].from, b[i].from);
        assert_string_equal(a[i].to, b[i].to);
        assert_string_equal(a[i].phase, b[i].phase);
        assert_int_equal(a[i].tag, b[i].tag);
        bad += says_the_same(a[i].do_text, b[i].do_text, name);
        bad += says_the_same(a[i].why, b[i].why, name);
        bad += says_the_same(a[i].expect, b[i].expect, name);
        bad += says_the_same(a[i].if_not, b[i].if_not, name);
    }
    return bad;
}

static size_t plans_are_the_same(const still_record *a, const still_record *b, const char *name)
{
    size_t bad = 0;
    assert_int_equal(a->n_points, b->n_points);
    assert_int_equal(a->n_steps, b->n_steps);
    assert_int_equal(a->n_restore, b->n_restore);
    assert_int_equal(a->n_findings, b->n_findings);
    assert_int_equal(a->n_assumptions, b->n_assumptions);
    assert_int_equal(a->ready, b->ready);
    for (size_t i = 0; i < a->n_points; i++) {
        assert_string_equal(a->points[i].id, b->points[i].id);
        assert_string_equal(a->points[i].to, b->points[i].to);
        assert_string_equal(a->points[i].hold, b->points[i].hold);
        bad += says_the_same(a->points[i].why, b->points[i].why, name);
    }
    for (size_t i = 0; i < a->n_findings; i++) {
        assert_string_equal(a->findings[i].id, b->findings[i].id);
        assert_int_equal(a->findings[i].blocks, b->findings[i].blocks);
        bad += says_the_same(a->findings[i].text, b->findings[i].text, name);
    }
    /* Those of one rule and component stand in the order of their words: all of them at once. */
    still_buf ours = STILL_BUF_INIT, theirs = STILL_BUF_INIT;
    for (size_t i = 0; i < a->n_assumptions; i++) {
        still_buf_printf(&ours, "%s %s ", a->assumptions[i].id, a->assumptions[i].text);
        still_buf_printf(&theirs, "%s %s ", b->assumptions[i].id, b->assumptions[i].text);
    }
    if (a->n_assumptions > 0) bad += says_the_same(ours.text, theirs.text, name);
    still_buf_clear(&ours);
    still_buf_clear(&theirs);
    bad += steps_are_the_same(a->steps, b->steps, a->n_steps, name);
    return bad + steps_are_the_same(a->restore, b->restore, a->n_restore, name);
}

static void german_says_the_same_ids_and_figures(void **state)
{
    (void)state;
    glob_t found;
    size_t bad = 0;
    still_catalogue *german = NULL;
    assert_int_equal(still_catalogue_open(&german, "de", NULL, NULL), STILL_OK);
    assert_int_equal(glob(STILL_SOURCE_DIR "/plants-demo/*.xml", 0, NULL, &found), 0);
    for (size_t i = 0; i < found.gl_pathc; i++) {
        still_plant *plant = read_plant(found.gl_pathv[i]);
        for (uint32_t comp = 0; comp < plant->n_comps; comp++) {
            if (plant->comps[comp].cls == STILL_CLASS_SPOOL || comp % 5 != 1) continue;
            const char *target = still_id_of(plant, comp);
            still_plan_opts opts = STILL_PLAN_OPTS_INIT;
            still_plan *a = NULL, *b = NULL;
            opts.grade = comp % 2 == 0 ? STILL_GRADE_SINGLE : STILL_GRADE_POLICY;
            assert_int_equal(still_plan_make(&a, plant, NULL, &target, 1, &opts, NULL), STILL_OK);
            opts.catalogue = german;
            assert_int_equal(still_plan_make(&b, plant, NULL, &target, 1, &opts, NULL), STILL_OK);
            bad += plans_are_the_same(still_plan_record(a), still_plan_record(b), target);
            still_plan_free(a);
            still_plan_free(b);
        }
        still_plant_free(plant);
    }
    globfree(&found);
    still_catalogue_free(german);
    assert_int_equal(bad, 0);
}

static void memory_runs_out(void **state)
{
    (void)state;
    still_record r = sample_record();
    still_plant *plant = read_plant(STILL_SOURCE_DIR "/plants-demo/tutorial.xml");
    static const char *ids[] = {"MV-1"};
    r.targets = (still_strings){ids, 1};
    for (int html = 0; html < 2; html++) {
        uint64_t n = 1, step = 1;
        for (;; n += step, step += n / 40) {
            still_pack p;
            still_ppages pages = {0};
            still_buf out = STILL_BUF_INIT;
            still_alloc_fail_at(n);
            still_status status = still_pack_build(&p, &r, plant, &si, "en", some_digest);
            if (status == STILL_OK && html) status = still_pack_html(&out, &p, "<svg/>", "");
            if (status == STILL_OK && !html)
                status = still_pack_set(&pages, &p, STILL_PAPER_A4, NULL, 0, false);
            still_alloc_fail_at(0);
            still_buf_clear(&out);
            still_ppages_clear(&pages);
            still_pack_clear(&p);
            if (status == STILL_OK) break;
            assert_int_equal(status, STILL_E_NOMEM);
        }
        assert_true(n > 20);
    }
    still_plant_free(plant);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(figures_are_accompanied_never_replaced),
        cmocka_unit_test(figures_of_the_record),
        cmocka_unit_test(pages_of_the_demo_plants_hold_all_and_are_clear),
        cmocka_unit_test(a_row_higher_than_a_page_loses_no_line),
        cmocka_unit_test(what_has_no_room_on_the_decision_is_said),
        cmocka_unit_test(hostile_names_stay_within_their_cells),
        cmocka_unit_test(N2_what_stays_behind_is_not_known),
        cmocka_unit_test(records_without_a_plan_and_without_anything),
        cmocka_unit_test(codes_are_whole),
        cmocka_unit_test(german_says_the_same_ids_and_figures),
        cmocka_unit_test(memory_runs_out),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
