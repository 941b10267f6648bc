/* Site files and checklists: what is read, what is refused, memory running out. Files are invented.
 */
#include "plantkit.h"

#include "alloc.h"
#include "checklist.h"
#include "site.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#define SITE(more) "<site xmlns='urn:stillset:site:1' id='s'>" more "</site>"
#define LISTS(more) "<checklists xmlns='urn:stillset:checklists:1' id='c'>" more "</checklists>"
#define LINE(when, what)                                                                           \
    "<line when='" when "' do='" what "' expect='b' if-not='c' source='common practice'/>"

static still_site *site_of(const char *text)
{
    still_site *site = NULL;
    still_diags *d = still_diags_new();
    still_status status = still_site_read_memory(&site, "site", text, strlen(text), d);
    for (size_t i = 0; i < still_diags_count(d); i++)
        print_error("%s\n", still_diags_at(d, i)->text);
    still_diags_free(d);
    assert_int_equal(status, STILL_OK);
    return site;
}

static void P4_what_a_site_says(void **given)
{
    (void)given;
    still_site *s =
        site_of(SITE("<hold-time value='15 min'/><gas-test substance='ammonia' limit='25 ppm'/>"
                     "<gas-test limit='10 % LEL'/><evacuation pressure='0.5 kPaa' hold='1 h'/>"
                     "<pressure-test code='asme-b31.5'/><ambient temperature='35 degC'/>"
                     "<ppe hazards='H33x' below='-10 degC' wear='mask'/>"));
    assert_string_equal(s->hold_time, "15 min");
    assert_float_equal(s->hold_time_s, 900, 1e-9);
    assert_float_equal(s->evacuation_Pa, 500, 1e-9);
    assert_float_equal(s->evacuation_hold_s, 3600, 1e-9);
    assert_int_equal(s->code, STILL_TEST_CODE_ASME_B31_5);
    assert_string_equal(still_test_code_text(s->code), "asme-b31.5");
    assert_string_equal(s->ambient, "35 degC");
    assert_string_equal(still_site_gas_limit(s, "ammonia"), "25 ppm");
    assert_string_equal(still_site_gas_limit(s, "propane"), "10 % LEL");
    assert_int_equal(s->n_gear, 1);
    assert_string_equal(s->gear[0].hazards, "H33x");
    assert_float_equal(s->gear[0].below_K, 263.15, 1e-9);
    assert_int_equal(strlen(s->digest), 64);
    still_site_free(s);
}

/* F-PRC-9: nothing is made up for what a site does not say. */
static void P4_nothing_is_made_up(void **given)
{
    (void)given;
    still_site *s = site_of(SITE(""));
    assert_string_equal(s->hold_time, "");
    assert_true(isnan(s->hold_time_s) && isnan(s->evacuation_Pa) && isnan(s->evacuation_hold_s));
    assert_int_equal(s->code, STILL_TEST_CODE_NOT_SAID);
    assert_string_equal(still_test_code_text(s->code), "");
    assert_string_equal(still_site_gas_limit(s, "ammonia"), "");
    assert_string_equal(still_site_gas_limit(NULL, "ammonia"), "");
    still_site_free(s);
    still_site_free(NULL);
}

static void times_with_their_units(void **given)
{
    (void)given;
    static const struct {
        const char *text;
        double s;
    } rows[] = {{"90 s", 90}, {"1.5 min", 90}, {"0.25 h", 900}};
    char text[200];
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        snprintf(text, sizeof text, SITE("<hold-time value='%s'/>"), rows[i].text);
        still_site *s = site_of(text);
        assert_float_equal(s->hold_time_s, rows[i].s, 1e-9);
        still_site_free(s);
    }
}

static void every_kind_is_built_in(void **given)
{
    (void)given;
    still_checklists *lists = NULL;
    assert_int_equal(still_checklists_builtin(&lists), STILL_OK);
    assert_string_equal(lists->id, "built-in");
    assert_string_equal(lists->digest, "");
    for (int k = 0; k < STILL_OPENED_COUNT; k++) {
        if (lists->of[k].n < 2) fail_msg("%s", still_opened_text((still_opened)k));
        for (size_t i = 0; i < lists->of[k].n; i++)
            assert_true(lists->of[k].lines[i].source[0] != '\0');
    }
    assert_string_equal(still_opened_text(STILL_OPENED_COUNT), "");
    still_checklists_free(lists);
    still_checklists_free(NULL);
}

static void lists_of_a_site(void **given)
{
    (void)given;
    static const char text[] = LISTS("<checklist kind='pump'>" LINE("before", "one") LINE(
        "work", "two") LINE("close-up", "three") "</checklist>");
    still_checklists *lists = NULL;
    assert_int_equal(still_checklists_read_memory(&lists, "c", text, strlen(text), NULL), STILL_OK);
    assert_int_equal(lists->of[STILL_OPENED_PUMP].n, 3);
    assert_string_equal(lists->of[STILL_OPENED_PUMP].lines[1].what, "two");
    assert_int_equal(lists->of[STILL_OPENED_PUMP].lines[2].when, STILL_LINE_CLOSE_UP);
    assert_int_equal(lists->of[STILL_OPENED_ANY].n, 0);
    assert_int_equal(strlen(lists->digest), 64);
    still_checklists_free(lists);
}

static void beside_the_site_file(void **given)
{
    (void)given;
    still_arena arena;
    still_arena_init(&arena);
    assert_string_equal(still_site_beside(&arena, "a/b/s.site", "w.xml"), "a/b/w.xml");
    assert_string_equal(still_site_beside(&arena, "s.site", "w.xml"), "w.xml");
    assert_string_equal(still_site_beside(&arena, "a/s.site", "/w.xml"), "/w.xml");
    still_arena_clear(&arena);
}

static void every_error_in_one_run(void **given)
{
    (void)given;
    static const char text[] =
        SITE("<hold-time value='15'/><thing/><gas-test/><pressure-test code='x'/>"
             "<ambient temperature='warm'/><ppe hazards='none' wear=''/>");
    static const char *const codes[] = {"STILL-0303", "STILL-0201", "STILL-0203", "STILL-0301",
                                        "STILL-0302", "STILL-0301", "STILL-0310"};
    still_site *s = NULL;
    still_diags *d = still_diags_new();
    assert_int_equal(still_site_read_memory(&s, "s", text, strlen(text), d), STILL_E_INPUT);
    assert_null(s);
    assert_int_equal(still_diags_errors(d), 7);
    for (size_t k = 0; k < 7; k++) {
        bool found = false;
        for (size_t i = 0; i < 7; i++)
            found = found || strcmp(still_diags_at(d, i)->code, codes[k]) == 0;
        if (!found) fail_msg("%s", codes[k]);
    }
    assert_int_equal(still_site_read(&s, "/nonexistent/s.site", NULL), STILL_E_IO);
    still_checklists *lists = NULL;
    assert_int_equal(still_checklists_read(&lists, "/nonexistent/c.xml", NULL), STILL_E_IO);
    still_diags_free(d);
}

/* A file of either kind. @return done: nothing failed any more */
static bool read_with(uint64_t n, const char *text, bool of_site, still_status wanted)
{
    still_site *s = NULL;
    still_checklists *lists = NULL;
    still_diags *d = still_diags_new();
    still_alloc_fail_at(n);
    still_status status = of_site
                              ? still_site_read_memory(&s, "s", text, strlen(text), d)
                              : still_checklists_read_memory(&lists, "c", text, strlen(text), d);
    still_alloc_fail_at(0);
    bool done = status == wanted && still_diags_dropped(d) == 0;
    assert_int_equal(s != NULL || lists != NULL, status == STILL_OK);
    if (status != wanted) assert_int_equal(status, STILL_E_NOMEM);
    still_site_free(s);
    still_checklists_free(lists);
    still_diags_free(d);
    return done;
}

static void memory_runs_out_while_reading(void **given)
{
    (void)given;
    static const struct {
        const char *text;
        bool of_site;
        still_status status;
    } rows[] = {
        {SITE("<hold-time value='15 min'/><gas-test limit='x'/><ppe hazards='H331' wear='m'/>"),
         true, STILL_OK},
        {SITE("<hold-time value='15'/><thing/><ppe wear='m'/>"), true, STILL_E_INPUT},
        {LISTS("<checklist kind='pump'>" LINE("work", "a") LINE("close-up", "b") "</checklist>"),
         false, STILL_OK},
        {LISTS("<checklist kind='pump'>" LINE("work", "a") "</checklist><x/>"), false,
         STILL_E_INPUT}};
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        uint64_t n = 1;
        while (n < 5000 && !read_with(n, rows[i].text, rows[i].of_site, rows[i].status)) n++;
        assert_in_range(n, 10, 4999);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(P4_what_a_site_says),    cmocka_unit_test(P4_nothing_is_made_up),
        cmocka_unit_test(times_with_their_units), cmocka_unit_test(every_kind_is_built_in),
        cmocka_unit_test(lists_of_a_site),        cmocka_unit_test(beside_the_site_file),
        cmocka_unit_test(every_error_in_one_run), cmocka_unit_test(memory_runs_out_while_reading),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
