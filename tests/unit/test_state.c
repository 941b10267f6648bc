/* Reading a state file: what is taken, every error with its line and component, nothing half
 * taken, memory running out. What a plan makes of it stands in test_state_plan.c. */
#include "plantkit.h"

#include "alloc.h"
#include "digest.h"
#include "stateread.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define COUNT(a) (sizeof(a) / sizeof(a)[0])
#define STATE(at) "<state xmlns=\"urn:stillset:plant:1\" plant=\"test-plant\">\n" at "\n</state>"

static kit work;

/* One of each that a state may be said of, and a feed. */
static int open_plant(void **given)
{
    (void)given;
    kit_open(&work,
             "limit L; hand HV; shut HW; valve CV check; valve RV relief set-pressure=18_barg;"
             "valve TW three-way lockable positions=a-c_b-c position=a-c; blind BL spectacle open;"
             "vessel V drum contents=two-phase fill=0.4; vessel VW drum contents=liquid; pump P;"
             "tee T; outlet O vent leads-to=safe-place shared=no fitted=open;"
             "feed FD electrical supplies=P lockable; gauge PI pressure on=HV;"
             "run L HV T P CV V; run T HW VW; run T RV O; run T BL TW.a");
    return 0;
}

static int close_plant(void **given)
{
    (void)given;
    kit_close(&work);
    return 0;
}

static still_status read(still_state **out, const char *text, still_diags *d)
{
    return still_read_state_memory(out, work.plant, "today", text, strlen(text), d);
}

/* The state, which must be read without a word. */
static still_state *good(const char *text)
{
    still_state *state = NULL;
    still_diags *d = still_diags_new();
    still_status status = read(&state, text, d);
    for (size_t i = 0; i < still_diags_count(d); i++)
        print_error("%s: %s\n", still_diags_at(d, i)->code, still_diags_at(d, i)->text);
    assert_int_equal(still_diags_count(d), 0);
    assert_int_equal(status, STILL_OK);
    assert_non_null(state);
    still_diags_free(d);
    return state;
}

static void N2_what_is_said_is_taken_and_nothing_else(void **given)
{
    (void)given;
    still_state *s = good(STATE("<at id=\"RV\" condition=\"seized\" note=\"stuck\"/>"
                                "<at id=\"HV\" position=\"closed\" condition=\"passing\"/>"
                                "<at id=\"BL\" position=\"closed\" name=\"n\" place=\"p\"/>"
                                "<at id=\"V\" contents=\"vapour\"/>"
                                "<at id=\"VW\" contents=\"two-phase\"/>"
                                "<at id=\"P\" energised=\"no\" drawing=\"d\"/>"
                                "<at id=\"TW\" position=\"b-c\"/><at id=\"T\"/>"));
    const still_plant *p = work.plant;
    assert_int_equal(s->n, 8);
    for (size_t i = 1; i < s->n; i++) assert_true(s->items[i - 1].comp < s->items[i].comp);
    uint32_t hv = kit_comp(&work, "HV"), hw = kit_comp(&work, "HW"), tw = kit_comp(&work, "TW");
    uint32_t v = kit_comp(&work, "V"), w = kit_comp(&work, "VW");
    assert_int_equal(still_position_now(p, s, hv), STILL_POSITION_CLOSED);
    assert_int_equal(still_condition_now(p, s, hv), STILL_CONDITION_PASSING);
    assert_int_equal(still_position_now(p, NULL, hv), STILL_POSITION_OPEN);
    assert_int_equal(still_position_now(p, s, hw), STILL_POSITION_CLOSED);
    assert_int_equal(still_condition_now(p, s, hw), STILL_CONDITION_SOUND);
    assert_int_equal(still_position_now(p, s, kit_comp(&work, "BL")), STILL_POSITION_CLOSED);
    assert_int_equal(still_condition_now(p, s, kit_comp(&work, "RV")), STILL_CONDITION_SEIZED);
    assert_int_equal(still_contents_now(p, s, v), STILL_CONTENTS_VAPOUR);
    /* its level today is not that of the plant file, which has none */
    assert_int_equal(still_contents_now(p, s, w), STILL_CONTENTS_LIQUID);
    assert_int_equal(still_contents_now(p, NULL, w), STILL_CONTENTS_LIQUID);
    assert_string_equal(still_way_now(p, s, tw), "b-c");
    assert_string_equal(still_way_now(p, NULL, tw), "a-c");
    still_state_free(s);
    s = good(STATE("<at id=\"V\" contents=\"two-phase\"/>"));
    assert_int_equal(still_contents_now(p, s, v), STILL_CONTENTS_TWO_PHASE);
    still_state_free(s);
}

static void D5_ways_of_a_three_way_valve(void **given)
{
    (void)given;
    const still_plant *p = work.plant;
    uint32_t tw = kit_comp(&work, "TW");
    still_state *s = good(STATE("<at id=\"TW\" position=\"c-b\"/>"));
    assert_string_equal(still_way_now(p, s, tw), "b-c"); /* equal ways are equal text */
    still_state_free(s);
    s = good(STATE("<at id=\"TW\" position=\"unknown\"/>"));
    assert_string_equal(still_way_now(p, s, tw), "");
    still_state_free(s);
    s = good(STATE("<at id=\"TW\" condition=\"seized\"/>"));
    assert_string_equal(still_way_now(p, s, tw), "a-c");
    still_state_free(s);
}

static void N2_self_acting_devices_have_no_position_that_lasts(void **given)
{
    (void)given;
    still_state *s = NULL;
    still_diags *d = still_diags_new();
    assert_int_equal(read(&s, STATE("<at id=\"CV\" position=\"open\" condition=\"sound\"/>"), d),
                     STILL_OK);
    assert_int_equal(still_diags_count(d), 1);
    assert_string_equal(still_diags_at(d, 0)->code, "STILL-0506");
    assert_string_equal(still_diags_at(d, 0)->component, "CV");
    assert_int_equal(still_diags_at(d, 0)->line, 2);
    assert_int_equal(s->items[0].position, 0);
    assert_int_equal(s->items[0].condition, STILL_CONDITION_SOUND);
    still_state_free(s);
    still_diags_free(d);
}

/* The namespace of the plant file, by default or by a prefix, or none at all; but not some of each.
 */
static void N2_namespace_or_none(void **given)
{
    (void)given;
    static const struct {
        const char *text, *code; /* "" = read */
    } rows[] = {
        {STATE("<at id=\"HV\" position=\"closed\"/>"), ""},
        {"<state plant=\"test-plant\"><at id=\"HV\" position=\"closed\"/></state>", ""},
        {"<p:state xmlns:p=\"urn:stillset:plant:1\" plant=\"test-plant\">"
         "<p:at id=\"HV\" position=\"closed\"/></p:state>",
         ""},
        {"<?xml version=\"1.0\"?><!-- c --><state plant=\"test-plant\"><!-- c -->"
         "<at id=\"HV\" position=\"closed\"><!-- c --></at></state>",
         ""},
        {"\xEF\xBB\xBF<state plant=\"test-plant\"><at id=\"HV\" position=\"closed\"/></state>", ""},
        {"<p:state xmlns:p=\"urn:stillset:plant:1\" plant=\"test-plant\">"
         "<at id=\"HV\" position=\"closed\"/></p:state>",
         "STILL-0201"},
        {"<state plant=\"test-plant\"><at xmlns=\"urn:stillset:plant:1\" id=\"HV\"/></state>",
         "STILL-0201"},
        {STATE("<at xmlns=\"\" id=\"HV\" position=\"closed\"/>"), "STILL-0201"},
        {"<state xmlns=\"urn:stillset:plant:2\" plant=\"test-plant\"/>", "STILL-0106"},
        {"<plant xmlns=\"urn:stillset:plant:1\" id=\"test-plant\"/>", "STILL-0106"},
        {STATE("<at id=\"HV\" x:position=\"closed\" xmlns:x=\"urn:x\"/>"), "STILL-0202"},
    };
    for (size_t i = 0; i < COUNT(rows); i++) {
        still_state *s = NULL;
        still_diags *d = still_diags_new();
        still_status status = read(&s, rows[i].text, d);
        const char *code = still_diags_count(d) > 0 ? still_diags_at(d, 0)->code : "";
        if (strcmp(code, rows[i].code) != 0) fail_msg("%s: \"%s\"", rows[i].text, code);
        assert_int_equal(status, code[0] == '\0' ? STILL_OK : STILL_E_INPUT);
        if (s != NULL)
            assert_int_equal(still_position_now(work.plant, s, kit_comp(&work, "HV")),
                             STILL_POSITION_CLOSED);
        still_state_free(s);
        still_diags_free(d);
    }
}

/* Each error, on the line where it stands, with the component that it is of; and nothing is taken,
 * though the rest of the file is right. */
static void N2_every_error_is_named_and_nothing_is_half_taken(void **given)
{
    (void)given;
#define GOOD "<at id=\"HV\" position=\"closed\"/>\n"
    static const struct {
        const char *at, *code, *component;
    } rows[] = {
        {"<on id=\"HV\"/>", "STILL-0201", ""},
        {"<at id=\"HW\"><at id=\"T\"/></at>", "STILL-0201", ""},
        {"<at id=\"HW\" postion=\"closed\"/>", "STILL-0202", "HW"},
        {"<at id=\"HW\" normal=\"closed\"/>", "STILL-0202", "HW"},
        {"<at position=\"closed\"/>", "STILL-0203", ""},
        {"closed", "STILL-0204", ""},
        {"<at id=\"H W\" position=\"closed\"/>", "STILL-0205", "H W"},
        {"<at id=\"\" position=\"closed\"/>", "STILL-0205", ""},
        {"<at id=\"HV\" position=\"closed\"/>", "STILL-0206", "HV"},
        {"<at id=\"HV\"/>", "STILL-0206", "HV"},
        {"<at id=\"HX\" position=\"closed\"/>", "STILL-0207", "HX"},
        {"<at id=\"PI\" condition=\"sound\"/>", "STILL-0207", "PI"},
        {"<at id=\"hv\" position=\"closed\"/>", "STILL-0207", "hv"},
        {"<at id=\"FD\" energised=\"no\"/>", "STILL-0208", "FD"},
        {"<at id=\"T\" position=\"open\"/>", "STILL-0208", "T"},
        {"<at id=\"V\" position=\"open\"/>", "STILL-0208", "V"},
        {"<at id=\"BL\" condition=\"sound\"/>", "STILL-0208", "BL"},
        {"<at id=\"HW\" contents=\"none\"/>", "STILL-0208", "HW"},
        {"<at id=\"P\" contents=\"none\"/>", "STILL-0208", "P"},
        {"<at id=\"T\" energised=\"no\"/>", "STILL-0208", "T"},
        {"<at id=\"HW\" position=\"shut\"/>", "STILL-0301", "HW"},
        {"<at id=\"HW\" position=\"\"/>", "STILL-0301", "HW"},
        {"<at id=\"HW\" position=\"a-c\"/>", "STILL-0301", "HW"},
        {"<at id=\"HW\" condition=\"broken\"/>", "STILL-0301", "HW"},
        {"<at id=\"V\" contents=\"empty\"/>", "STILL-0301", "V"},
        {"<at id=\"P\" energised=\"off\"/>", "STILL-0301", "P"},
        {"<at id=\"BL\" position=\"throttled\"/>", "STILL-0308", "BL"},
        {"<at id=\"TW\" position=\"a-b\"/>", "STILL-0308", "TW"},
        {"<at id=\"TW\" position=\"open\"/>", "STILL-0308", "TW"},
        {"<at id=\"TW\" position=\"\"/>", "STILL-0308", "TW"},
    };
    for (size_t i = 0; i < COUNT(rows); i++) {
        char text[400];
        still_state mark = {0}, *s = &mark;
        still_diags *d = still_diags_new();
        snprintf(text, sizeof text, STATE(GOOD "%s"), rows[i].at);
        assert_int_equal(read(&s, text, d), STILL_E_INPUT);
        assert_ptr_equal(s, &mark);
        if (still_diags_count(d) != 1) fail_msg("%s: %zu", rows[i].at, still_diags_count(d));
        const still_diag *g = still_diags_at(d, 0);
        if (strcmp(g->code, rows[i].code) != 0) fail_msg("%s: %s %s", rows[i].at, g->code, g->text);
        assert_string_equal(g->file, "today");
        assert_int_equal(g->line, 3);
        assert_string_equal(g->component, rows[i].component);
        still_diags_free(d);
    }
}

static void N2_every_error_is_told_in_one_run(void **given)
{
    (void)given;
    still_state *s = NULL;
    still_diags *d = still_diags_new();
    assert_int_equal(read(&s, STATE("<at id=\"HX\"/>\n<at id=\"HV\" position=\"shut\"/>\n<x/>"), d),
                     STILL_E_INPUT);
    assert_null(s);
    assert_int_equal(still_diags_count(d), 3);
    for (uint32_t i = 0; i < 3; i++) assert_int_equal(still_diags_at(d, i)->line, i + 2);
    still_diags_free(d);
}

static void N2_of_another_plant(void **given)
{
    (void)given;
    static const char *const rows[][2] = {
        {"<state plant=\"other\"/>", "STILL-0212"},      {"<state plant=\"\"/>", "STILL-0212"},
        {"<state plant=\"TEST-PLANT\"/>", "STILL-0212"}, {"<state/>", "STILL-0203"},
        {"<state id=\"test-plant\"/>", "STILL-0203"},
    };
    for (size_t i = 0; i < COUNT(rows); i++) {
        still_state *s = NULL;
        still_diags *d = still_diags_new();
        assert_int_equal(read(&s, rows[i][0], d), STILL_E_INPUT);
        assert_null(s);
        assert_string_equal(still_diags_at(d, 0)->code, rows[i][1]);
        assert_int_equal(still_diags_at(d, 0)->line, 1);
        still_diags_free(d);
    }
}

static void I7_digest_is_of_the_bytes(void **given)
{
    (void)given;
    static const char text[] = STATE("<at id=\"HV\" position=\"closed\"/>");
    char want[STILL_DIGEST_TEXT], spaced[sizeof text + 1];
    still_digest *digest = still_digest_new();
    still_digest_add(digest, text, sizeof text - 1);
    still_digest_text(digest, want);
    still_digest_free(digest);
    still_state *s = good(text);
    assert_string_equal(s->digest, want);
    still_state_free(s);
    snprintf(spaced, sizeof spaced, "%s\n", text); /* the same said otherwise is another file */
    s = good(spaced);
    assert_string_not_equal(s->digest, want);
    still_state_free(s);
}

static void N2_limits(void **given)
{
    (void)given;
    enum { MIB = 1 << 20 };
    static char text[MIB + 200];
    still_state *s = NULL;
    static const char before[] = "<state plant=\"test-plant\">", after[] = "</state>";
    for (size_t more = 0; more < 2; more++) {
        size_t blank = MIB + more - (sizeof before - 1) - (sizeof after - 1);
        snprintf(text, sizeof text, "%s%*s%s", before, (int)blank, "", after);
        assert_int_equal(strlen(text), MIB + more);
        still_diags *d = still_diags_new();
        assert_int_equal(read(&s, text, d), more == 0 ? STILL_OK : STILL_E_LIMIT);
        assert_int_equal(s != NULL, more == 0);
        if (more == 1) assert_string_equal(still_diags_at(d, 0)->code, "STILL-0401");
        still_state_free(s);
        s = NULL;
        still_diags_free(d);
    }
    static const char *const rows[][2] = {
        {"<a><a><a><a><a><a><a><a><a/></a></a></a></a></a></a></a></a>", "STILL-0107"},
        {"<!DOCTYPE state><state plant=\"test-plant\"/>", "STILL-0104"},
        {"<?xml version=\"1.0\" encoding=\"latin1\"?><state plant=\"test-plant\"/>", "STILL-0103"},
        {"<state plant=\"test-plant\">", "STILL-0105"},
        {"", "STILL-0105"},
    };
    for (size_t i = 0; i < COUNT(rows); i++) {
        char whole[300];
        still_diags *d = still_diags_new();
        snprintf(whole, sizeof whole, i == 0 ? STATE("%s") : "%s", rows[i][0]);
        assert_int_equal(read(&s, whole, d), STILL_E_INPUT);
        assert_null(s);
        bool told = false;
        for (size_t k = 0; k < still_diags_count(d); k++)
            told = told || strcmp(still_diags_at(d, k)->code, rows[i][1]) == 0;
        if (!told) fail_msg("%s: no %s", rows[i][0], rows[i][1]);
        still_diags_free(d);
    }
}

static void N2_long_ids_and_no_file(void **given)
{
    (void)given;
    char text[600], id[300];
    memset(id, 'x', sizeof id);
    for (size_t len = 255; len < 257; len++) {
        still_state *s = NULL;
        still_diags *d = still_diags_new();
        snprintf(text, sizeof text, STATE("<at id=\"%.*s\"/>"), (int)len, id);
        assert_int_equal(read(&s, text, d), STILL_E_INPUT);
        assert_string_equal(still_diags_at(d, 0)->code, len > 255 ? "STILL-0205" : "STILL-0207");
        still_diags_free(d);
    }
    still_state *s = NULL;
    still_diags *d = still_diags_new();
    assert_int_equal(still_state_read(&s, work.plant, "/nonexistent/today.xml", d), STILL_E_IO);
    assert_string_equal(still_diags_at(d, 0)->code, "STILL-0101");
    assert_int_equal(still_state_read_memory(&s, work.plant, "t", "<x/>", 4, NULL), STILL_E_INPUT);
    assert_null(s);
    still_diags_free(d);
    still_state_free(NULL);
}

static void memory_runs_out_while_reading(void **given)
{
    (void)given;
    static const char *const texts[] = {
        STATE("<at id=\"V\" contents=\"none\"/><at id=\"HV\" position=\"closed\"/>"
              "<at id=\"CV\" position=\"open\"/><at id=\"TW\" position=\"b-c\"/>"
              "<at id=\"P\" energised=\"no\"/>"),
        STATE("<at id=\"a b\"/><thing/><at id=\"HX\"/><at id=\"HV\" position=\"shut\"/>")};
    for (int which = 0; which < 2; which++) {
        uint64_t n = 1;
        for (; n < 5000; n++) {
            still_state *s = NULL;
            still_diags *d = still_diags_new();
            still_alloc_fail_at(n);
            still_status status = read(&s, texts[which], d);
            still_alloc_fail_at(0);
            bool done =
                status == (which == 0 ? STILL_OK : STILL_E_INPUT) && still_diags_dropped(d) == 0;
            assert_int_equal(s != NULL, status == STILL_OK);
            if (status != STILL_OK && status != STILL_E_INPUT)
                assert_int_equal(status, STILL_E_NOMEM);
            still_state_free(s);
            still_diags_free(d);
            if (done) break;
        }
        assert_in_range(n, 10, 4999);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(N2_what_is_said_is_taken_and_nothing_else),
        cmocka_unit_test(D5_ways_of_a_three_way_valve),
        cmocka_unit_test(N2_self_acting_devices_have_no_position_that_lasts),
        cmocka_unit_test(N2_namespace_or_none),
        cmocka_unit_test(N2_every_error_is_named_and_nothing_is_half_taken),
        cmocka_unit_test(N2_every_error_is_told_in_one_run),
        cmocka_unit_test(N2_of_another_plant),
        cmocka_unit_test(I7_digest_is_of_the_bytes),
        cmocka_unit_test(N2_limits),
        cmocka_unit_test(N2_long_ids_and_no_file),
        cmocka_unit_test(memory_runs_out_while_reading),
    };
    return cmocka_run_group_tests(tests, open_plant, close_plant);
}
