/* Warnings: each rule on a small plant that breaks it, and plants that break none. The files
 * tests/bad/STILL-05*.xml, with lines and columns, are run by test_input. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <string.h>

#include <cmocka.h>

#include "check.h"
#include "plantread.h"

#define HEAD                                                                                       \
    "<plant xmlns=\"urn:stillset:plant:1\" id=\"p\">"                                              \
    "<service id=\"L\" substance=\"ammonia\" design-pressure=\"19 barg\"/>"                        \
    "<service id=\"H\" substance=\"ammonia\" design-pressure=\"28 barg\"/>"                        \
    "<service id=\"N\" substance=\"ammonia\"/>"
/* X between two caps, in service L. */
#define BETWEEN(x)                                                                                 \
    HEAD "<cap id=\"A\"/><cap id=\"B\"/>" x                                                        \
         "<spool id=\"S\" from=\"A.in\" to=\"X.in\" service=\"L\"/>"                               \
         "<spool id=\"T\" from=\"X.out\" to=\"B.in\" service=\"L\"/></plant>"
/* Two spools in the services given at one element. */
#define JOINT(x, port1, s1, port2, s2)                                                             \
    HEAD "<cap id=\"A\"/><cap id=\"B\"/>" x "<spool id=\"S\" from=\"A.in\" to=\"X." port1          \
         "\" service=\"" s1 "\"/><spool id=\"T\" from=\"X." port2 "\" to=\"B.in\" service=\"" s2   \
         "\"/></plant>"

typedef struct row {
    const char *name, *text;
    const char *codes; /* all that is expected, in the order of the file; "" = none */
} row;

static const row rows[] = {
    {"clean", BETWEEN("<valve id=\"X\" kind=\"globe\" lockable=\"no\"/>"), ""},
    {"empty", "<plant xmlns=\"urn:stillset:plant:1\" id=\"p\"/>", "0503"},
    {"N2_kind_not_said", BETWEEN("<valve id=\"X\"/>"), "0515"},
    {"N2_kind_unknown_is_said", BETWEEN("<valve id=\"X\" kind=\"unknown\"/>"), ""},
    {"N2_lockable_not_said", BETWEEN("<valve id=\"X\" kind=\"ball\"/>"), "0512"},
    {"D2_check_needs_no_lockable", BETWEEN("<valve id=\"X\" kind=\"check\"/>"), ""},
    {"position_of_check", BETWEEN("<valve id=\"X\" kind=\"check\" position=\"open\"/>"), "0506"},
    {"position_of_float", BETWEEN("<valve id=\"X\" kind=\"float\" normal=\"open\"/>"), "0506"},
    {"position_of_regulator", BETWEEN("<valve id=\"X\" kind=\"regulator\" position=\"open\"/>"),
     "0506"},
    {"position_of_excess_flow",
     BETWEEN("<valve id=\"X\" kind=\"excess-flow\" position=\"closed\"/>"), "0506"},
    {"position_of_self_closing",
     BETWEEN("<valve id=\"X\" kind=\"self-closing\" position=\"closed\"/>"), "0506"},
    {"position_of_control_is_kept", BETWEEN("<valve id=\"X\" kind=\"control\" position=\"open\"/>"),
     ""},
    {"L2_relief_without_set_pressure", BETWEEN("<valve id=\"X\" kind=\"relief\"/>"), "0511"},
    {"relief_with_set_pressure",
     BETWEEN("<valve id=\"X\" kind=\"relief\" set-pressure=\"19 barg\"/>"), ""},
    {"N5_pump_without_feed", BETWEEN("<pump id=\"X\"/>"), "0509"},
    {"N5_pump_complete", BETWEEN("<pump id=\"X\" feeds=\"complete\"/>"), ""},
    {"N5_pump_with_feed", BETWEEN("<pump id=\"X\"/><feed id=\"F\" supplies=\"X\"/>"), ""},
    {"N5_air_valve", BETWEEN("<valve id=\"X\" kind=\"control\" drive=\"air\"/>"), "0509"},
    {"N5_spring_needs_none", BETWEEN("<valve id=\"X\" kind=\"control\" drive=\"spring\"/>"), ""},
    {"feed_of_nothing", BETWEEN("<valve id=\"X\" kind=\"check\"/><feed id=\"F\" supplies=\"\"/>"),
     "0516"},
    {"design_differs_at_tee", JOINT("<fitting id=\"X\" kind=\"tee\"/>", "a", "L", "b", "H"),
     "0505"},
    {"design_unknown_is_not_compared",
     JOINT("<fitting id=\"X\" kind=\"tee\"/>", "a", "L", "b", "N"), ""},
    {"design_across_valve_is_not_compared",
     JOINT("<valve id=\"X\" kind=\"check\"/>", "in", "L", "out", "H"), ""},
    {"design_of_fitting_itself",
     JOINT("<fitting id=\"X\" kind=\"tee\" design-pressure=\"25 barg\"/>", "a", "L", "b", "L"),
     "0505"},
    {"design_of_vessel",
     JOINT(
         "<vessel id=\"X\" service=\"L\" volume=\"1 m3\"><port id=\"a\"/><port id=\"b\"/></vessel>",
         "a", "L", "b", "H"),
     "0505"},
    {"N1_design_of_two_sides_is_not_compared",
     JOINT("<exchanger id=\"X\"><side id=\"s\" volume=\"1 L\"><port id=\"a\"/></side>"
           "<side id=\"t\" volume=\"1 L\"><port id=\"b\"/></side></exchanger>",
           "a", "L", "b", "H"),
     ""},
    {"design_of_side",
     JOINT("<exchanger id=\"X\"><side id=\"s\" volume=\"1 L\" design-pressure=\"10 barg\">"
           "<port id=\"a\"/></side><side id=\"t\" volume=\"1 L\"><port id=\"b\"/></side>"
           "</exchanger>",
           "a", "L", "b", "H"),
     "0505"},
    {"N2_port_not_joined",
     HEAD "<cap id=\"A\"/><valve id=\"X\" kind=\"check\"/>"
          "<spool id=\"S\" from=\"A.in\" to=\"X.in\" service=\"L\"/></plant>",
     "0508"},
    {"parts",
     HEAD "<cap id=\"A\"/><cap id=\"B\"/><cap id=\"C\"/><cap id=\"D\"/>"
          "<spool id=\"S\" from=\"A.in\" to=\"B.in\" service=\"L\"/>"
          "<spool id=\"T\" from=\"C.in\" to=\"D.in\" service=\"L\"/></plant>",
     "0507"},
    {"empty_vessel_needs_nothing", HEAD "<vessel id=\"V\" contents=\"none\"/></plant>", ""},
    {"N2_two_phase_without_fill",
     HEAD "<vessel id=\"V\" service=\"L\" volume=\"1 m3\" contents=\"two-phase\"/></plant>",
     "0513"},
    {"vessel_without_anything", HEAD "<vessel id=\"V\"/></plant>", "0504 0514"},
    {"substance_unknown",
     HEAD "<service id=\"Q\" substance=\"brine\"/><vessel id=\"V\" contents=\"none\"/></plant>",
     "0510"},
    {"substance_with_density",
     HEAD "<service id=\"Q\" substance=\"brine\" density=\"1100 kg/m3\"/>"
          "<vessel id=\"V\" contents=\"none\"/></plant>",
     ""},
};
enum { ROWS = sizeof rows / sizeof rows[0] };

static void run_row(void **state)
{
    const row *r = *state;
    still_plant *p = NULL;
    char got[200] = "";
    size_t n = 0;
    still_diags *d = still_diags_new();
    assert_int_equal(still_read_plant_memory(&p, r->name, r->text, strlen(r->text), d), STILL_OK);
    assert_int_equal(still_diags_count(d), 0);
    assert_int_equal(still_check_plant(p, d), STILL_OK);
    for (size_t i = 0; i < still_diags_count(d) && n + 6 < sizeof got; i++) {
        const still_diag *g = still_diags_at(d, i);
        assert_int_equal(g->severity, STILL_SEV_WARNING);
        assert_true(g->text[0] != '\0' && g->text[strlen(g->text) - 1] != '.');
        if (n > 0) got[n++] = ' ';
        memcpy(got + n, g->code + 6, 4);
        n += 4;
    }
    got[n] = '\0';
    assert_string_equal(got, r->codes);
    still_diags_free(d);
    still_plant_free(p);
}

/* The same plant gives the same warnings, and a list is not needed. */
static void no_list(void **state)
{
    (void)state;
    still_plant *p = NULL;
    const char *text = rows[2].text;
    assert_int_equal(still_read_plant_memory(&p, "m", text, strlen(text), NULL), STILL_OK);
    assert_int_equal(still_check_plant(p, NULL), STILL_OK);
    still_plant_free(p);
}

int main(void)
{
    static struct CMUnitTest tests[ROWS + 1];
    static row own[ROWS];
    memcpy(own, rows, sizeof own);
    for (size_t i = 0; i < ROWS; i++)
        tests[i] = (struct CMUnitTest){own[i].name, run_row, NULL, NULL, &own[i]};
    tests[ROWS] = (struct CMUnitTest)cmocka_unit_test(no_list);
    return cmocka_run_group_tests(tests, NULL, NULL);
}
