/* How a state is told: text, record, picture, relief; and memory running out with one. */
#include "statekit.h"

#include "stillset/coverage.h"

static bool in_picture(const char *words)
{
    char *bytes = NULL;
    size_t len = 0;
    assert_int_equal(still_plan_write(&bytes, &len, work.plan, STILL_FORMAT_SVG, NULL), STILL_OK);
    bool is = strstr(bytes, words) != NULL;
    still_bytes_free(bytes);
    return is;
}

static bool in_text(const char *words)
{
    char *bytes = NULL;
    size_t len = 0;
    assert_int_equal(still_plan_write(&bytes, &len, work.plan, STILL_FORMAT_TEXT, NULL), STILL_OK);
    bool is = strstr(bytes, words) != NULL;
    still_bytes_free(bytes);
    return is;
}

static void N2_text_and_picture_show_what_was_found(void **given)
{
    (void)given;
    plan(PLANT, NULL, NULL);
    assert_false(in_text("FOUND TODAY"));
    assert_false(in_picture(">passing<"));
    kit_close(&work);
    plan(PLANT, STATE("<at id='HV-2' condition='passing' position='throttled'/>"), NULL);
    assert_true(in_text("FOUND TODAY, BY THE STATE FILE"));
    assert_true(in_text("HV-2: throttled, passing"));
    assert_true(in_picture(">passing<"));
    assert_true(in_picture("NO, throttled<"));
    kit_close(&work);
    /* No plan: it stands as it was found. */
    plan("limit L; valve X globe open; strainer F; run L X F",
         STATE("<at id='X' position='closed'/><at id='F'/>"), NULL);
    assert_false(work.r->feasible);
    assert_string_equal(position(work.r->start, work.r->n_start, "X"), "closed");
    assert_true(in_picture("NO, closed<"));
    assert_true(in_text("F: looked at; nothing is said"));
}

/* What `normal` says holds, or else the plant file's position: found open today, it need not be
 * open another day; found shut, it shuts. */
static void L5_found_open_is_not_normally_open(void **given)
{
    (void)given;
    static const struct {
        const char *valve, *found, *shut_by;
    } rows[] = {
        {"shut Y", NULL, "itself"},
        {"hand Y", NULL, "person"},
        {"shut Y", "open", "itself"},
        {"hand Y", "closed", "itself"},
        {"hand Y", "unknown", "itself"},
        {"hand Y", "throttled", "person"},
        {"valve Y globe closed normal=open", NULL, "person"},
        {"valve Y globe closed normal=open", "open", "person"},
        {"valve Y globe open normal=open", "closed", "itself"},
        {"valve Y globe open normal=closed", "throttled", "itself"},
    };
    for (size_t i = 0; i < COUNT(rows); i++) {
        char plant[300], state[100];
        size_t looked = 0;
        still_coverage *c = NULL;
        snprintf(plant, sizeof plant,
                 "tee T U; %s; valve RV relief set-pressure=18_barg; outlet O vent "
                 "leads-to=safe-place shared=no fitted=open; cap C D; run C U Y T RV O; run U D",
                 rows[i].valve);
        kit_open(&work, plant);
        snprintf(state, sizeof state, STATE("<at id='Y' position='%s'/>"),
                 rows[i].found != NULL ? rows[i].found : "");
        if (rows[i].found != NULL) read_state(state);
        assert_int_equal(still_coverage_make(&c, work.plant, work.state, NULL, NULL), STILL_OK);
        const still_coverage_record *r = still_coverage_record_of(c);
        for (size_t s = 0; s < r->n_segments; s++) {
            if (strcmp(r->segments[s].name, "C") != 0) continue;
            if (strcmp(r->segments[s].shut_by, rows[i].shut_by) != 0)
                fail_msg("%s found %s: %s", rows[i].valve, rows[i].found, r->segments[s].shut_by);
            looked++;
        }
        assert_int_equal(looked, 1);
        still_coverage_free(c);
        kit_close(&work);
    }
}

static bool relief_says(const still_coverage *c, still_format format, const char *words)
{
    char *bytes = NULL;
    size_t len = 0;
    still_status status = format == STILL_FORMAT_SVG
                              ? still_coverage_draw(&bytes, &len, c, NULL, 2, format, NULL)
                              : still_coverage_write(&bytes, &len, c, format, NULL);
    assert_int_equal(status, STILL_OK);
    bool is = strstr(bytes, words) != NULL;
    still_bytes_free(bytes);
    return is;
}

/* The surface of the liquid in V: a line over the body. */
static bool surface_drawn(const still_coverage *c)
{
    char *bytes = NULL;
    size_t len = 0;
    assert_int_equal(still_coverage_draw(&bytes, &len, c, NULL, 2, STILL_FORMAT_SVG, NULL),
                     STILL_OK);
    const char *at = strstr(bytes, "<title>V: vessel");
    assert_non_null(at);
    const char *end = strstr(at, "</g>"), *line = strstr(at, "class=\"over\"");
    bool is = line != NULL && line < end;
    still_bytes_free(bytes);
    return is;
}

/* Relief has no assumptions: what was found stands in its text, its record and its picture. */
static void L8_relief_shows_what_was_found(void **given)
{
    (void)given;
    for (int with = 0; with < 2; with++) {
        still_coverage *c = NULL;
        kit_open(&work, PLANT);
        if (with)
            read_state(STATE("<at id='RV' condition='seized'/><at id='HV-1' position='closed'/>"
                             "<at id='V' contents='none'/>"));
        assert_int_equal(still_coverage_make(&c, work.plant, work.state, NULL, NULL), STILL_OK);
        assert_int_equal(relief_says(c, STILL_FORMAT_TEXT, "FOUND TODAY, BY THE STATE FILE"), with);
        assert_int_equal(relief_says(c, STILL_FORMAT_TEXT, "RV: seized"), with);
        assert_int_equal(relief_says(c, STILL_FORMAT_TEXT, "V: contents none"), with);
        assert_int_equal(relief_says(c, STILL_FORMAT_TEXT, "[N2] As found on one day"), with);
        assert_int_equal(relief_says(c, STILL_FORMAT_JSON, "\"condition\": \"seized\""), with);
        assert_int_equal(relief_says(c, STILL_FORMAT_SVG, ">seized<"), with);
        assert_int_equal(relief_says(c, STILL_FORMAT_SVG, "NO, closed<"), with);
        assert_int_equal(surface_drawn(c), !with);
        still_coverage_free(c);
        kit_close(&work);
    }
}

static void memory_runs_out_while_planning_for_a_state(void **given)
{
    (void)given;
    uint64_t n = 1;
    still_plan *made = NULL;
    kit_open(&work, PLANT);
    read_state(STATE("<at id='V' contents='none'/><at id='HV-1' position='closed'/>"
                     "<at id='RV' condition='seized'/><at id='HV-3' condition='sound'/>"));
    for (; n < 100000; n++) {
        still_alloc_fail_at(n);
        still_status status = make(&made, "HV-1");
        still_alloc_fail_at(0);
        if (status == STILL_OK) break;
        assert_int_equal(status, STILL_E_NOMEM);
        assert_null(made);
    }
    assert_in_range(n, 10, 99999);
    work.plan = made;
    assert_int_equal(still_plan_record(made)->n_found, 4);
}

static void memory_runs_out_while_looking_at_relief(void **given)
{
    (void)given;
    uint64_t n = 1;
    still_coverage *made = NULL;
    kit_open(&work, PLANT);
    read_state(STATE("<at id='HV-1' position='closed'/><at id='RV' condition='seized'/>"));
    for (; n < 100000; n++) {
        still_alloc_fail_at(n);
        still_status status = still_coverage_make(&made, work.plant, work.state, NULL, NULL);
        still_alloc_fail_at(0);
        if (status == STILL_OK) break;
        assert_int_equal(status, STILL_E_NOMEM);
        assert_null(made);
    }
    assert_in_range(n, 10, 99999);
    const still_coverage_record *r = still_coverage_record_of(made);
    assert_int_equal(r->n_found, 2);
    assert_int_equal(strlen(r->state_digest), 64);
    still_coverage_free(made);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        TEST(N2_text_and_picture_show_what_was_found),
        TEST(L5_found_open_is_not_normally_open),
        TEST(L8_relief_shows_what_was_found),
        TEST(memory_runs_out_while_planning_for_a_state),
        TEST(memory_runs_out_while_looking_at_relief),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
