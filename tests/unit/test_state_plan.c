/* What a plan and the second check make of a state: what was found today. Rows on
 * single conditions stand in test_rules_*.c. */
#include "statekit.h"

#include "verify.h"

static bool told(const char *rule, const char *id, const char *words)
{
    const still_remark *a = kit_assumption(&work, rule, id);
    return a != NULL && strstr(a->text, words) != NULL;
}

/* The plan as it is written, checked for a state; NULL = none. @return whether it agrees; `rule`
 * is then or is not among what is said against it. */
static bool agrees(const char *state, const char *rule)
{
    char *bytes = NULL;
    size_t len = 0;
    still_state *today = NULL;
    still_verdict *verdict = NULL;
    bool spoke = false;
    assert_int_equal(still_plan_write(&bytes, &len, work.plan, STILL_FORMAT_JSON, NULL), STILL_OK);
    if (state != NULL)
        assert_int_equal(
            still_state_read_memory(&today, work.plant, "today", state, strlen(state), NULL),
            STILL_OK);
    assert_int_equal(
        still_verify_plan_memory(&verdict, work.plant, today, "plan", bytes, len, NULL), STILL_OK);
    const still_verdict_record *v = still_verdict_record_of(verdict);
    bool good = v->agrees;
    for (size_t i = 0; i < v->n_against; i++)
        spoke = spoke || (rule != NULL && strcmp(v->against[i].rule, rule) == 0);
    if (!good && rule != NULL && !spoke) fail_msg("refuted, but not by %s", rule);
    still_verdict_free(verdict);
    still_state_free(today);
    still_bytes_free(bytes);
    return good;
}

static void N3_found_empty_is_no_source_and_told(void **given)
{
    (void)given;
    plan(PLANT, STATE("<at id='V' contents='none'/>"), NULL);
    assert_null(kit_point(&work, "HV-2"));
    assert_non_null(kit_point(&work, "HV-3"));
    assert_true(told("N3", "V", "found empty today (the plant file says liquid)"));
}

static void N2_found_two_phase_is_full_and_told(void **given)
{
    (void)given;
    plan(PLANT, STATE("<at id='V' contents='two-phase'/>"), NULL);
    assert_true(told("N2", "V", "counts as full of liquid"));
    kit_close(&work);
    plan(PLANT, STATE("<at id='V' contents='vapour'/>"), NULL);
    assert_true(told("N2", "V", "found with vapour today; the plant file says liquid"));
    kit_close(&work);
    plan(PLANT, STATE("<at id='V' contents='liquid'/>"), NULL);
    assert_null(kit_assumption(&work, NULL, "V"));
}

static void D6_found_unfit_is_no_point_and_told(void **given)
{
    (void)given;
    static const char *const words[] = {"passing", "seized", "unreachable"};
    for (size_t i = 0; i < COUNT(words); i++) {
        char state[100];
        snprintf(state, sizeof state, STATE("<at id='HV-2' condition='%s'/>"), words[i]);
        plan(PLANT, state, NULL);
        assert_null(kit_point(&work, "HV-2"));
        assert_non_null(kit_point(&work, "HV-1"));
        assert_true(told("D6", "HV-2", words[i]));
        kit_close(&work);
    }
}

static void D6_found_sound_is_told(void **given)
{
    (void)given;
    plan("vessel V drum contents=liquid; valve X globe open lockable condition=passing; strainer F;"
         "run V X F",
         STATE("<at id='X' condition='sound'/>"), NULL);
    assert_non_null(kit_point(&work, "X"));
    assert_true(told("D6", "X", "found sound today, though the plant file says passing"));
    assert_true(agrees(STATE("<at id='X' condition='sound'/>"), NULL));
}

/* What is seized is not made better by being avoided: a relief valve then covers nothing. */
static void D6_avoided_and_found_seized_stays_seized(void **given)
{
    (void)given;
    static const char seized[] = STATE("<at id='RV' condition='seized'/>");
    static const char *const avoid[] = {NULL, "RV"};
    for (size_t i = 0; i < COUNT(avoid); i++) {
        plan(PLANT, seized, avoid[i]);
        assert_string_equal(
            kit_closed_in(&work, "HV-1~T") == NULL ? "none" : kit_closed_in(&work, "HV-1~T")->state,
            kit_point(&work, "HV-2") != NULL ? "uncovered" : "none");
        assert_true(agrees(seized, NULL));
        kit_close(&work);
    }
    /* Out of reach alone it still opens by itself; the second check knows the difference. */
    plan(PLANT, NULL, "RV");
    assert_true(agrees(NULL, NULL));
    assert_false(agrees(seized, "L2"));
}

static void D6_found_passing_and_avoided_is_told_as_avoided(void **given)
{
    (void)given;
    plan(PLANT, STATE("<at id='HV-2' condition='passing' position='closed'/>"), "HV-2");
    assert_null(kit_point(&work, "HV-2"));
    assert_true(told("D6", "HV-2", "it is avoided"));
    assert_int_equal(work.r->n_found, 1);
    assert_string_equal(work.r->found[0].condition, "passing"); /* as found, not as avoided */
    assert_true(agrees(STATE("<at id='HV-2' condition='passing' position='closed'/>"), NULL));
}

static void P1_from_is_where_it_stands_today(void **given)
{
    (void)given;
    plan(PLANT, STATE("<at id='HV-2' position='closed'/><at id='HV-1' position='throttled'/>"),
         NULL);
    assert_string_equal(kit_point(&work, "HV-2")->from, "closed");
    assert_int_equal(work.r->n_start, 2);
    assert_string_equal(position(work.r->start, work.r->n_start, "HV-2"), "closed");
    assert_string_equal(position(work.r->end, work.r->n_end, "HV-2"), "closed");
    assert_string_equal(position(work.r->end, work.r->n_end, "HV-1"), "throttled");
    bool step = false;
    for (size_t i = 0; i < work.r->n_steps; i++)
        if (strcmp(work.r->steps[i].id, "HV-2") == 0 && work.r->steps[i].to[0] != '\0')
            step = strcmp(work.r->steps[i].from, "closed") == 0;
    assert_true(step);
}

static void D5_three_way_valve_is_turned_from_where_it_stands_today(void **given)
{
    (void)given;
    static const char *const found[] = {"b-c", "a-c", "unknown"};
    for (size_t i = 0; i < COUNT(found); i++) {
        char state[100];
        snprintf(state, sizeof state, STATE("<at id='TW' position='%s'/>"), found[i]);
        plan("limit L; valve TW three-way lockable positions=a-c_b-c position=a-c; strainer F;"
             "cap C; run L TW.a; run TW.b C; run TW.c F",
             state, NULL);
        assert_string_equal(kit_point(&work, "TW")->from, found[i]);
        assert_string_equal(kit_point(&work, "TW")->to, "b-c");
        assert_string_equal(position(work.r->start, work.r->n_start, "TW"),
                            strcmp(found[i], "a-c") == 0 ? "" : found[i]);
        assert_string_equal(work.r->found[0].position, found[i]);
        assert_true(agrees(state, NULL));
        if (i == 0) assert_false(agrees(STATE("<at id='TW' position='unknown'/>"), "P1"));
        kit_close(&work);
    }
}

static void D1_blind_found_fitted_is_said_to_be_closed(void **given)
{
    (void)given;
    static const char state[] = STATE("<at id='B' position='closed'/>");
    plan("vessel V drum contents=liquid; blind B spectacle open; strainer F; run V B F", state,
         NULL);
    assert_string_equal(kit_point(&work, "B")->from, "closed");
    assert_string_equal(position(work.r->start, work.r->n_start, "B"), "closed");
    assert_true(agrees(state, NULL));
    assert_false(agrees(NULL, "D1"));
}

/* Someone may have shut it for a reason that still holds. */
static void P6_what_was_found_shut_is_not_opened_unasked(void **given)
{
    (void)given;
    plan("vessel V drum contents=liquid; valve X globe open lockable normal=open; strainer F;"
         "run V X F",
         STATE("<at id='X' position='closed'/>"), NULL);
    bool asked = false;
    for (size_t i = 0; i < work.r->n_restore; i++)
        asked = asked || (strcmp(work.r->restore[i].id, "X") == 0 &&
                          strstr(work.r->restore[i].do_text, "ask who shut it") != NULL);
    assert_true(asked);
}

static void N5_without_energy_is_not_locked_off(void **given)
{
    (void)given;
    plan("vessel V drum contents=liquid; hand HV; pump F; feed FD electrical supplies=F lockable;"
         "run V HV F; cap C; run F C",
         STATE("<at id='F' energised='no'/>"), NULL);
    assert_non_null(kit_point(&work, "FD"));
    assert_true(told("N5", "F", "no isolation"));
}

static void I7_refuted_for_another_day(void **given)
{
    (void)given;
    static const char state[] = STATE("<at id='HV-1' position='closed'/>");
    plan(PLANT, state, NULL);
    assert_true(agrees(state, NULL));
    assert_false(agrees(NULL, "I7"));
    assert_false(agrees(STATE(" <at id='HV-1' position='closed'/>"), "I7"));
    assert_false(agrees(STATE(""), "I7"));
}

/* A plan made for the plant file alone, looked at for what was found: it holds where all that it
 * says holds. */
static void I7_plan_of_no_state_is_checked_against_the_one_given(void **given)
{
    (void)given;
    plan(PLANT, NULL, NULL);
    assert_true(agrees(STATE(""), NULL));
    assert_true(agrees(STATE("<at id='L'/><at id='V' contents='two-phase'/>"), NULL));
    assert_false(agrees(STATE("<at id='HV-2' condition='passing'/>"), "D6"));
    assert_false(agrees(STATE("<at id='HV-2' position='closed'/>"), "P1"));
    assert_false(agrees(STATE("<at id='HV-1' position='closed'/>"), "I7"));
}

/* Cover that a plan counts on, and that was found not to be there. */
static void L2_second_check_looks_for_cover_as_found(void **given)
{
    (void)given;
    plan("vessel V drum contents=two-phase fill=0.4 service=WT; hand HV-2; strainer F; limit L;"
         "valve CV check; hand HV-3; tee T; valve RV relief set-pressure=18_barg;"
         "outlet O vent leads-to=safe-place shared=no fitted=open; "
         "run L HV-3 F HV-2 CV T V; run T RV O",
         NULL, NULL);
    assert_string_equal(kit_closed_in(&work, "HV-2~CV")->state, "covered");
    assert_true(agrees(NULL, NULL));
    assert_false(agrees(STATE("<at id='CV' condition='seized'/>"), "L2"));
    assert_false(agrees(STATE("<at id='RV' condition='seized'/>"), "L2"));
    assert_true(agrees(STATE("<at id='RV' condition='unreachable'/>"), NULL));
}

/* All services are vapour: only what the vessel was found to hold makes the section full. */
static void L3_second_check_counts_contents_as_found(void **given)
{
    (void)given;
    static const char plant[] =
        "limit L; shut HV-1; hand HV-2; strainer F service=VP; cap C; vessel "
        "V drum contents=vapour service=VP volume=1_m3;"
        "run service=VP L HV-1 V HV-2 F C";
    static const char state[] = STATE("<at id='V' contents='liquid'/>");
    plan(plant, NULL, NULL);
    assert_non_null(kit_point(&work, "HV-2"));
    assert_string_equal(kit_closed_in(&work, "V")->state, "not-full");
    assert_true(agrees(NULL, NULL));
    assert_false(agrees(state, "L3"));
    kit_close(&work);
    plan(plant, state, NULL);
    assert_string_equal(kit_closed_in(&work, "V")->state, "uncovered");
    assert_true(told("N2", "V", "found with liquid today"));
    assert_true(agrees(state, NULL));
}

/* The second check by itself: what takes a danger away has to be told. */
static void N2_second_check_wants_it_told(void **given)
{
    (void)given;
    static const struct {
        const char *plant, *state, *rule;
    } rows[] = {
        {PLANT, STATE("<at id='V' contents='none'/>"), "N3"},
        {"vessel V drum contents=liquid; valve X globe open lockable condition=seized; strainer F;"
         "run V X F",
         STATE("<at id='X' condition='sound'/>"), "D6"},
    };
    for (size_t i = 0; i < COUNT(rows); i++) {
        plan(rows[i].plant, rows[i].state, NULL);
        still_record r = *work.r;
        for (int silent = 0; silent < 2; silent++) {
            bool good = false, named = false;
            still_diags *d = still_diags_new();
            if (silent) r.n_assumptions = 0;
            assert_int_equal(still_verify_record(&good, work.plant, work.state, &r, d), STILL_OK);
            for (size_t k = 0; k < still_diags_count(d); k++)
                named = named || (strcmp(still_diags_at(d, k)->code, rows[i].rule) == 0 &&
                                  strstr(still_diags_at(d, k)->text, "today is unsaid") != NULL);
            assert_int_equal(good, !silent);
            assert_int_equal(named, silent);
            still_diags_free(d);
        }
        kit_close(&work);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        TEST(N3_found_empty_is_no_source_and_told),
        TEST(N2_found_two_phase_is_full_and_told),
        TEST(D6_found_unfit_is_no_point_and_told),
        TEST(D6_found_sound_is_told),
        TEST(D6_avoided_and_found_seized_stays_seized),
        TEST(D6_found_passing_and_avoided_is_told_as_avoided),
        TEST(P1_from_is_where_it_stands_today),
        TEST(D5_three_way_valve_is_turned_from_where_it_stands_today),
        TEST(D1_blind_found_fitted_is_said_to_be_closed),
        TEST(P6_what_was_found_shut_is_not_opened_unasked),
        TEST(N5_without_energy_is_not_locked_off),
        TEST(I7_refuted_for_another_day),
        TEST(I7_plan_of_no_state_is_checked_against_the_one_given),
        TEST(L2_second_check_looks_for_cover_as_found),
        TEST(L3_second_check_counts_contents_as_found),
        TEST(N2_second_check_wants_it_told),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
