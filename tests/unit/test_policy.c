/* The policy: table D of HSG253, the built-in table, policy files, the order of grades. */
#include "plantkit.h"

#include "alloc.h"
#include "hazardclass.h"
#include "policy.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define COUNT(a) (sizeof(a) / sizeof(a)[0])
#define BARG(p) ((p) + STILL_ATM_BAR)

/* F-HSG-8: table D of HSG253, all nine cells, and each shared edge at its worse side. */
static void I3_table_D_of_HSG253(void **given)
{
    (void)given;
    static const struct {
        double cm, barg;
        const char *release;
    } rows[] = {
        {30, 60, "high"},      {30, 20, "high"},   {30, 5, "medium"},     {10, 60, "high"},
        {10, 20, "medium"},    {10, 5, "low"},     {3, 60, "medium"},     {3, 20, "low"},
        {3, 5, "low"}, /* edges */
        {30, 10, "high"},      {10, 10, "medium"}, {30, 9.999, "medium"}, {10, 9.999, "low"},
        {30, 50, "high"},      {10, 50, "medium"}, {3, 50, "low"},        {10, 50.001, "high"},
        {3, 50.001, "medium"}, {20, 5, "medium"},  {19.99, 5, "low"},     {20, 20, "high"},
        {19.99, 20, "medium"}, {5, 20, "medium"},  {4.99, 20, "low"},     {5, 60, "high"},
        {4.99, 60, "medium"},  {NAN, 5, "medium"}, {3, NAN, "medium"},    {NAN, NAN, "high"},
    };
    for (size_t i = 0; i < COUNT(rows); i++) {
        still_release r = still_release_of(rows[i].cm * 10, BARG(rows[i].barg), false);
        if (strcmp(still_release_text(r), rows[i].release) != 0)
            fail_msg("%g cm, %g barg: %s", rows[i].cm, rows[i].barg, still_release_text(r));
        still_release worse = still_release_of(rows[i].cm * 10, BARG(rows[i].barg), true);
        assert_int_equal(worse, r == STILL_RELEASE_HIGH ? r : r + 1);
    }
}

static still_ruling rule(const still_policy *p, size_t row, double mm, double barg, bool people,
                         still_work work, unsigned opening)
{
    still_job job = {row, mm, BARG(barg), people, work, (still_opened_kind)opening};
    return still_policy_rule(p, &job);
}

/* The table of rule I3, with R. */
static void I3_the_nine_cells(void **given)
{
    (void)given;
    static const struct {
        double mm, barg;
        const char *grades[3];
    } rows[] = {{300, 60, {"positive", "double-bleed", "single-bleed"}},
                {100, 20, {"double-bleed", "double-bleed", "single-bleed"}},
                {20, 5, {"single-bleed R", "single-bleed R", "single"}}};
    const still_policy *p = still_policy_builtin();
    for (size_t i = 0; i < COUNT(rows); i++)
        for (size_t row = 0; row < 3; row++) {
            char got[40];
            still_ruling r =
                rule(p, row, rows[i].mm, rows[i].barg, false, STILL_WORK_OPEN, STILL_OPENING_VALVE);
            snprintf(got, sizeof got, "%s%s", still_grade_text(r.cell.grade),
                     r.cell.risk ? " R" : "");
            assert_string_equal(got, rows[i].grades[row]);
            assert_int_equal(r.row, row);
            assert_string_equal(p->columns[r.column].id, still_release_text(r.release));
        }
    assert_non_null(strstr(still_policy_caution(p), "its cells are invented"));
}

/* Steps of each quantity, on both sides of every edge that is used, the unknown last. */
static const double sizes[] = {10, 49.9, 50, 99, 100, 199.9, 200, 400, NAN};
static const double pressures[] = {0, 9.99, 10, 49.9, 50, 50.01, 120, NAN};

/* F-POL-9: no single step toward danger lowers a grade, from any job at all; F-POL-10: entry, hot
 * work and long-term are positive. */
static void never_lower(const still_policy *p)
{
    static const still_work works[] = {STILL_WORK_OPEN, STILL_WORK_ENTRY, STILL_WORK_HOT_WORK,
                                       STILL_WORK_LONG_TERM};
    for (size_t row = 0; row < p->n_classes; row++)
        for (size_t s = 0; s < COUNT(sizes); s++)
            for (size_t q = 0; q < COUNT(pressures); q++)
                for (unsigned k = 0; k < 2 * 7 * COUNT(works); k++) {
                    bool people = k % 2 != 0;
                    unsigned opening = k / 2 % 7 + 1;
                    still_work work = works[k / 14];
                    double mm = sizes[s], barg = pressures[q];
                    still_grade g = rule(p, row, mm, barg, people, work, opening).cell.grade;
                    assert_in_range(g, STILL_GRADE_SINGLE, STILL_GRADE_POSITIVE);
                    if (work != STILL_WORK_OPEN) assert_int_equal(g, STILL_GRADE_POSITIVE);
                    if (row > 0)
                        assert_true(rule(p, row - 1, mm, barg, people, work, opening).cell.grade >=
                                    g);
                    if (s + 1 < COUNT(sizes))
                        assert_true(
                            rule(p, row, sizes[s + 1], barg, people, work, opening).cell.grade >=
                            g);
                    if (q + 1 < COUNT(pressures))
                        assert_true(
                            rule(p, row, mm, pressures[q + 1], people, work, opening).cell.grade >=
                            g);
                    assert_true(rule(p, row, mm, barg, true, work, opening).cell.grade >= g);
                    assert_true(rule(p, row, mm, barg, people, work, 7).cell.grade >= g);
                }
}

static void F_POL_9_and_10_built_in(void **given)
{
    (void)given;
    never_lower(still_policy_builtin());
}

/* A policy of random columns and cells, which need not be in any order: the look-up keeps it. */
static void random_columns(kit_random *random, still_policy_column *columns, size_t n)
{
    static const double from_barg[] = {10, 50, 120}, from_mm[] = {50, 100, 200};
    for (size_t c = 0; c < n; c++) {
        columns[c] = (still_policy_column){.id = "c",
                                           .name = "c",
                                           .work = (uint8_t)((kit_below(random, 15) + 1) << 1),
                                           .opening = (uint8_t)(kit_below(random, 7) + 1)};
        if (kit_below(random, 2) == 0)
            columns[c].release_from = (still_release)kit_below(random, 3);
        if (kit_below(random, 2) == 0)
            columns[c].pressure_from_bara = BARG(from_barg[kit_below(random, 3)]);
        if (kit_below(random, 2) == 0) columns[c].size_from_mm = from_mm[kit_below(random, 3)];
        columns[c].people_high = kit_below(random, 4) == 0;
    }
    /* One that takes every job, as the reader asks for. */
    columns[0] = (still_policy_column){
        .id = "c", .name = "c", .work = STILL_POLICY_WORK_ANY, .opening = STILL_OPENING_ANY};
}

static void F_POL_9_and_10_whatever_stands_in_the_cells(void **given)
{
    (void)given;
    kit_random random = {20250711};
    print_message("seed %u\n", 20250711u);
    for (int round = 0; round < 60; round++) {
        still_policy_class classes[4] = {{.id = "k", .name = "k", .hazards = ""}};
        still_policy_column columns[6];
        still_policy_cell cells[24];
        still_policy p = {.classes = classes, .columns = columns, .cells = cells};
        p.n_classes = kit_below(&random, 4) + 1;
        p.n_columns = kit_below(&random, 6) + 1;
        random_columns(&random, columns, p.n_columns);
        for (size_t i = 0; i < COUNT(cells); i++)
            cells[i] = (still_policy_cell){(still_grade)(kit_below(&random, 5) + 1),
                                           kit_below(&random, 2) == 0};
        never_lower(&p);
    }
}

#define POLICY(inner) "<policy xmlns=\"urn:stillset:policy:1\" id=\"p\">" inner "</policy>"

static const char *const grade_words[] = {
    "", "single", "double", "single-bleed", "double-bleed", "positive"};

/* A cell is refused exactly where a cell of the same or a less dangerous class, whose column
 * applies to every job of its own, asks for more; found by trying every job. */
static bool every_job_also(const char *a_release, int a_opening, const char *b_release,
                           int b_opening)
{
    static const char *const order[] = {"low", "medium", "high"};
    int a = 0, b = 0;
    while (strcmp(order[a], a_release) != 0) a++;
    while (strcmp(order[b], b_release) != 0) b++;
    for (int release = 0; release < 3; release++)
        for (int opening = 1; opening <= 4; opening *= 2) {
            bool by_a = release >= a && (opening & a_opening) != 0;
            bool by_b = release >= b && (opening & b_opening) != 0;
            if (by_a && !by_b) return false;
        }
    return true;
}

static void F_POL_9_files_are_refused_where_an_order_is_broken(void **given)
{
    (void)given;
    static const char *const releases[] = {"low", "low", "medium", "high"};
    static const char *const openings[] = {"equipment valve joint", "valve", "equipment valve",
                                           "equipment valve joint"};
    static const int bits[] = {7, 2, 3, 7};
    enum { COLUMNS = 4, CLASSES = 2 };
    kit_random random = {777};
    size_t refused = 0, taken = 0;
    for (int round = 0; round < 400; round++) {
        still_buf xml = STILL_BUF_INIT;
        unsigned grade[CLASSES][COLUMNS];
        size_t broken = 0;
        still_buf_add(&xml, "<policy xmlns=\"urn:stillset:policy:1\" id=\"p\">");
        for (int c = 0; c < COLUMNS; c++)
            still_buf_printf(&xml, "<column id=\"c%d\" release=\"%s\" opening=\"%s\"/>", c,
                             releases[c], openings[c]);
        for (int k = 0; k < CLASSES; k++) {
            still_buf_printf(&xml, "<class id=\"k%d\" %s>", k,
                             k == 0 ? "hazards=\"Hxxx\" auto-ignition=\"above\" steam=\"yes\" "
                                      "asphyxiant=\"yes\""
                                    : "hazards=\"none\"");
            for (int c = 0; c < COLUMNS; c++) {
                grade[k][c] = kit_below(&random, 2) + 3 + (k == 0);
                still_buf_printf(&xml, "<cell column=\"c%d\" grade=\"%s\"/>", c,
                                 grade_words[grade[k][c]]);
            }
            still_buf_add(&xml, "</class>");
        }
        still_buf_add(&xml, "</policy>");
        for (int k = 0; k < CLASSES; k++)
            for (int c = 0; c < COLUMNS; c++) {
                bool bad = false;
                for (int k2 = k; k2 < CLASSES; k2++)
                    for (int c2 = 0; c2 < COLUMNS; c2++)
                        bad =
                            bad || (every_job_also(releases[c], bits[c], releases[c2], bits[c2]) &&
                                    grade[k2][c2] > grade[k][c]);
                broken += bad;
            }
        still_policy *p = NULL;
        still_diags *d = still_diags_new();
        still_status s = still_policy_read_memory(&p, "m", xml.text, xml.len, d);
        assert_int_equal(s, broken > 0 ? STILL_E_INPUT : STILL_OK);
        assert_int_equal(still_diags_errors(d), broken);
        for (size_t i = 0; i < still_diags_count(d); i++)
            assert_string_equal(still_diags_at(d, i)->code, "STILL-0407");
        if (p != NULL) never_lower(p);
        refused += p == NULL;
        taken += p != NULL;
        still_policy_free(p);
        still_diags_free(d);
        still_buf_clear(&xml);
    }
    assert_true(refused > 20);
    assert_true(taken > 5);
}

static still_policy *read_file(const char *path)
{
    still_policy *p = NULL;
    still_diags *d = still_diags_new();
    still_status s = still_policy_read(&p, path, d);
    for (size_t i = 0; i < still_diags_count(d); i++)
        print_error("%u: %s\n", still_diags_at(d, i)->line, still_diags_at(d, i)->text);
    still_diags_free(d);
    assert_int_equal(s, STILL_OK);
    return p;
}

/* F-POL-1 to F-POL-7: every cell of the sheet that was seen, looked up by pressure and opening. */
static void F_POL_1_to_7_company_sheet(void **given)
{
    (void)given;
    static const struct {
        const char *fact;
        size_t row;
        double barg;
        const char *b, *c, *d; /* columns; A is entry */
    } rows[] = {
        {"F-POL-1", 0, 10, "positive", "double-bleed", "double-bleed"},
        {"F-POL-1", 0, 200, "positive", "double-bleed", "double-bleed"},
        {"F-POL-2", 1, 51.1, "positive", "single-bleed", "single-bleed"},
        {"F-POL-3", 1, 102, "positive", "double-bleed", "double-bleed"},
        {"F-POL-4", 2, 20, "positive", "single-bleed", "single-bleed"},
        {"F-POL-4", 2, 102, "positive", NULL, "single-bleed"}, /* C: against F-POL-9, see below */
        {"F-POL-5", 2, 150, "positive", "double-bleed", "double-bleed"},
        {"F-POL-6", 3, 20, "single-bleed", "single-bleed", "single-bleed"},
        {"F-POL-7", 3, 102, "double-bleed", "double-bleed", NULL}, /* D: not seen */
    };
    still_policy *p = read_file(STILL_SOURCE_DIR "/tests/policies/company-sheet.xml");
    for (size_t i = 0; i < COUNT(rows); i++) {
        const char *want[] = {rows[i].b, rows[i].c, rows[i].d};
        for (int k = 0; k < 3; k++) {
            still_ruling r =
                rule(p, rows[i].row, 100, rows[i].barg, false, STILL_WORK_OPEN, 1u << k);
            if (want[k] != NULL && strcmp(still_grade_text(r.cell.grade), want[k]) != 0)
                fail_msg("%s column %c: %s", rows[i].fact, 'B' + k, still_grade_text(r.cell.grade));
        }
        still_ruling entry = rule(p, rows[i].row, 10, 0, false, STILL_WORK_ENTRY, 1);
        assert_int_equal(entry.cell.grade, STILL_GRADE_POSITIVE);
        assert_string_equal(p->columns[entry.column].id, "A");
    }
    never_lower(p);
    still_policy_free(p);
}

static void F_POL_7_as_printed_is_refused(void **given)
{
    (void)given;
    char text[16 * 1024];
    FILE *f = fopen(STILL_SOURCE_DIR "/tests/policies/company-sheet.xml", "rb");
    assert_non_null(f);
    size_t n = fread(text, 1, sizeof text - 1, f);
    fclose(f);
    text[n] = '\0';
    char *cell = strstr(text, "grade=\"double-bleed\" note=\"ours: the sheet has SBB");
    assert_non_null(cell);
    memcpy(cell, "grade=\"single-bleed\"", 20);
    still_policy *p = NULL;
    still_diags *d = still_diags_new();
    assert_int_equal(still_policy_read_memory(&p, "m", text, n, d), STILL_E_INPUT);
    assert_int_equal(still_diags_errors(d), 1);
    assert_string_equal(still_diags_at(d, 0)->code, "STILL-0407");
    assert_string_equal(still_diags_at(d, 0)->component, "C");
    still_diags_free(d);
}

/* What is written in docs/POLICY.md is what the program has. */
static void I3_table_in_the_document(void **given)
{
    (void)given;
    static char text[64 * 1024];
    FILE *f = fopen(STILL_SOURCE_DIR "/docs/POLICY.md", "rb");
    assert_non_null(f);
    size_t n = fread(text, 1, sizeof text - 1, f);
    fclose(f);
    text[n] = '\0';
    const still_policy *p = still_policy_builtin();
    for (size_t c = 0; c < p->n_columns; c++) {
        char line[200];
        int len = snprintf(line, sizeof line, "| %s |", p->columns[c].id);
        for (size_t row = 0; row < p->n_classes; row++) {
            const still_policy_cell *cell = &p->cells[row * p->n_columns + c];
            len += snprintf(line + len, sizeof line - (size_t)len, " %s%s |",
                            still_grade_text(cell->grade), cell->risk ? " R" : "");
        }
        if (strstr(text, line) == NULL) fail_msg("docs/POLICY.md has no line \"%s\"", line);
    }
    for (size_t row = 0; row < p->n_classes; row++) {
        char item[16];
        const char *at = p->classes[row].hazards;
        while (still_next_statement(&at, item, sizeof item))
            if (strstr(text, item) == NULL) fail_msg("docs/POLICY.md does not name %s", item);
    }
}

static void I3_example_policy(void **given)
{
    (void)given;
    still_policy *p = read_file(STILL_SOURCE_DIR "/plants-demo/site.policy");
    assert_string_equal(p->id, "harbour-policy");
    assert_int_equal(strlen(p->digest), 64);
    assert_false(p->builtin);
    assert_int_equal(p->n_classes, 3);
    assert_int_equal(rule(p, 1, 25, 2, false, STILL_WORK_OPEN, 2).cell.grade,
                     STILL_GRADE_SINGLE_BLEED);
    assert_true(rule(p, 1, 25, 2, false, STILL_WORK_OPEN, 2).cell.risk);
    assert_int_equal(rule(p, 1, 100, 2, false, STILL_WORK_OPEN, 2).cell.grade,
                     STILL_GRADE_DOUBLE_BLEED);
    assert_int_equal(rule(p, 2, 25, 10, false, STILL_WORK_OPEN, 2).cell.grade,
                     STILL_GRADE_SINGLE_BLEED);
    assert_int_equal(rule(p, 2, 25, 2, true, STILL_WORK_OPEN, 2).cell.grade, STILL_GRADE_SINGLE);
    assert_non_null(strstr(still_policy_caution(p), "the site's policy file"));
    never_lower(p);
    still_policy_free(p);
}

/* One service each: its class by the built-in table, and what decided. */
static void F_POL_11_class_of_a_service(void **given)
{
    (void)given;
    static const struct {
        const char *attributes, *by;
        size_t row;
        unsigned assumed;
    } rows[] = {
        {"substance=\"ammonia\" phase=\"liquid\" temperature=\"20 degC\"", "H331", 0, 0},
        {"substance=\"propane\" phase=\"liquid\" temperature=\"20 degC\"", "H220", 0, 0},
        {"substance=\"carbon-dioxide\" phase=\"vapour\" temperature=\"20 degC\"", "H280", 1, 0},
        {"substance=\"r134a\" phase=\"liquid\" temperature=\"20 degC\"", "H280", 1, 0},
        {"substance=\"r134a\" phase=\"vapour\" temperature=\"743 degC\"", "auto-ignition", 0, 0},
        {"substance=\"r134a\" phase=\"vapour\"", "temperature not said", 0,
         STILL_CLASSED_NO_TEMPERATURE},
        {"substance=\"water\" phase=\"liquid\" temperature=\"60 degC\"", "no statement", 2, 0},
        {"substance=\"water\" phase=\"liquid\" temperature=\"60.1 degC\"", "above 60 degC", 1, 0},
        {"substance=\"water\" phase=\"liquid\" temperature=\"-10 degC\"", "no statement", 2, 0},
        {"substance=\"water\" phase=\"liquid\" temperature=\"-10.1 degC\"", "below -10 degC", 1, 0},
        {"substance=\"water\" phase=\"vapour\" temperature=\"50 degC\"", "steam", 1, 0},
        {"substance=\"water\" temperature=\"20 degC\"", "steam", 1, STILL_CLASSED_STEAM},
        {"substance=\"water\" phase=\"liquid\"", "temperature not said", 1,
         STILL_CLASSED_NO_TEMPERATURE},
        /* what the file says comes to what the program knows, and takes nothing away */
        {"substance=\"water\" phase=\"liquid\" temperature=\"20 degC\" hazard=\"H372\"", "H372", 0,
         0},
        {"substance=\"ammonia\" temperature=\"20 degC\" hazard=\"none\"", "H331", 0, 0},
        /* substances of their own */
        {"temperature=\"20 degC\" hazard=\"none\" asphyxiant=\"no\"", "substance not said", 0,
         STILL_CLASSED_NO_SUBSTANCE},
        {"substance=\"x\" temperature=\"20 degC\" asphyxiant=\"no\"", "hazard not said", 0,
         STILL_CLASSED_NO_STATEMENTS},
        {"substance=\"x\" temperature=\"20 degC\" asphyxiant=\"no\" hazard=\"none\"",
         "no statement", 2, 0},
        {"substance=\"x\" temperature=\"20 degC\" hazard=\"none\"", "asphyxiant", 1,
         STILL_CLASSED_ASPHYXIANT},
        {"substance=\"x\" temperature=\"20 degC\" asphyxiant=\"no\" hazard=\"H411\"", "H411", 2, 0},
        {"substance=\"x\" temperature=\"20 degC\" asphyxiant=\"no\" hazard=\"H411 H315\"", "H315",
         1, 0},
        {"substance=\"x\" temperature=\"20 degC\" asphyxiant=\"no\" hazard=\"H315 H360FD H411\"",
         "H360FD", 0, 0},
        {"substance=\"x\" temperature=\"20 degC\" asphyxiant=\"no\" hazard=\"EUH029\"", "EUH029", 0,
         STILL_CLASSED_UNMATCHED},
        {"substance=\"x\" temperature=\"20 degC\" asphyxiant=\"no\" hazard=\"H225\"", "H225", 1,
         STILL_CLASSED_AUTO_IGNITION},
        {"substance=\"x\" temperature=\"61 degC\" asphyxiant=\"no\" hazard=\"H225\"",
         "auto-ignition", 0, STILL_CLASSED_AUTO_IGNITION},
        {"substance=\"x\" temperature=\"61 degC\" asphyxiant=\"no\" hazard=\"H225\" "
         "auto-ignition=\"300 degC\"",
         "H225", 1, 0},
        {"substance=\"x\" temperature=\"300 degC\" asphyxiant=\"no\" hazard=\"H315\" "
         "auto-ignition=\"300 degC\"",
         "auto-ignition", 0, 0},
    };
    for (size_t i = 0; i < COUNT(rows); i++) {
        kit k;
        char text[400];
        snprintf(text, sizeof text, "<service id=\"X\" %s/>; limit L; tee T; run L T",
                 rows[i].attributes);
        kit_open(&k, text);
        uint32_t x = 0;
        while (strcmp(still_text(k.plant, k.plant->services[x].id), "X") != 0) x++;
        still_classed c = still_class_of(still_policy_builtin(), k.plant, x);
        if (c.row != rows[i].row || strcmp(c.by, rows[i].by) != 0 || c.assumed != rows[i].assumed)
            fail_msg("%s: class %zu by %s, assumed %u", rows[i].attributes, c.row, c.by, c.assumed);
        kit_close(&k);
    }
}

static void memory_runs_out_while_reading(void **given)
{
    (void)given;
    static const char bad[] = POLICY("<column id=\"a b\" pressure-from=\"1\"/><thing/>"
                                     "<class id=\"A\" hazards=\"H2\"><cell column=\"q\"/></class>");
    static char text[16 * 1024];
    FILE *f = fopen(STILL_SOURCE_DIR "/plants-demo/site.policy", "rb");
    assert_non_null(f);
    size_t len = fread(text, 1, sizeof text, f);
    fclose(f);
    for (int which = 0; which < 2; which++) {
        uint64_t n = 1;
        for (; n < 5000; n++) {
            still_policy *p = NULL;
            still_diags *d = still_diags_new();
            still_alloc_fail_at(n);
            still_status s = which == 0 ? still_policy_read_memory(&p, "m", text, len, d)
                                        : still_policy_read_memory(&p, "m", bad, sizeof bad - 1, d);
            still_alloc_fail_at(0);
            bool done = s == (which == 0 ? STILL_OK : STILL_E_INPUT) && still_diags_dropped(d) == 0;
            assert_int_equal(p != NULL, s == STILL_OK);
            if (s != STILL_OK && s != STILL_E_INPUT) assert_int_equal(s, STILL_E_NOMEM);
            still_policy_free(p);
            still_diags_free(d);
            if (done) break;
        }
        assert_in_range(n, 10, 4999);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(I3_table_D_of_HSG253),
        cmocka_unit_test(I3_the_nine_cells),
        cmocka_unit_test(F_POL_9_and_10_built_in),
        cmocka_unit_test(F_POL_9_and_10_whatever_stands_in_the_cells),
        cmocka_unit_test(F_POL_9_files_are_refused_where_an_order_is_broken),
        cmocka_unit_test(F_POL_1_to_7_company_sheet),
        cmocka_unit_test(F_POL_7_as_printed_is_refused),
        cmocka_unit_test(I3_table_in_the_document),
        cmocka_unit_test(I3_example_policy),
        cmocka_unit_test(F_POL_11_class_of_a_service),
        cmocka_unit_test(memory_runs_out_while_reading),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
