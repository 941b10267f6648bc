/* Rules of the work itself, of its tests and of what is inside (P4 to P6, E7 to E9, N5, N6), one
 * row a sentence; and what a site file makes of them.
 *
 * Sources: EN 378-2 (F-TST-2, from memory); ASME B31.5 section 538 (F-TST-4, figures from memory);
 * EN 378 vacuum (F-VAC-2, from memory); ASHRAE 15 section 9.7 (F-RV-1); California Title 8 section
 * 6816(a) (F-CAL-1); F-PRC-9: no hold time is published. Plants are invented. Notation: plantkit.h,
 * kit_ask.c. */
#include "plantkit.h"

#include "alloc.h"

#include <math.h>
#include <string.h>

#define CO2                                                                                        \
    "<service id='C' substance='carbon-dioxide' phase='liquid' temperature='-30 degC' "            \
    "pressure='13 barg' design-pressure='40 barg' min-temperature='-80 degC'/>;"
/* A strainer with bleed, drain and gauge, between a limit and a cap. */
#define ROOM(service)                                                                              \
    "limit L-1; hand HV-1; strainer F-1; cap K-1 K-2; tee T-1 T-2 T-3; shut BV DV; hand GV;"       \
    "vent O-1; drain O-2; <gauge id='PI-1' kind='pressure' on='T-3~GV' via='GV'/>;"                \
    "run service=" service " L-1 HV-1 T-1 F-1 T-2 T-3 K-1; run service=" service " T-2 BV O-1;"    \
    "run service=" service " T-1 DV O-2; run service=" service " T-3 GV K-2"
#define ONLY(target) "limit L-1; hand HV-1; cap K-1;" target "; run L-1 HV-1 X K-1"

static const kit_row rows[] = {
    /* The work by kind of what is opened. */
    {"P5_no_checklist_takes_the_two_bolts_away",
     ONLY("strainer X"),
     "X",
     {{"says work leave two bolts partly engaged until the joint has parted without pressure",
       "yes"},
      {"says work loosen the bolts farthest from the body first", "yes"}}},
    {"P5_strainer_has_its_own_lines",
     ONLY("strainer X"),
     "X",
     {{"says work Draw the screen slowly", "yes"},
      {"back-says close-up Screen in", "yes"},
      {"says work Checklist of the work, strainer", "yes"}}},
    {"P5_motor_operated_valve",
     ONLY("valve X control drive=motor manual-opening=yes feeds=complete"),
     "X",
     {{"says work supplies are off, locked and proved dead", "yes"},
      {"says work take the actuator off", "yes"},
      {"back-says close-up torque in steps crosswise to the maker's figures", "yes"},
      {"back-says close-up Put the actuator back as marked", "yes"}}},
    {"P5_solenoid",
     ONLY("valve X solenoid"),
     "X",
     {{"says work at the coil or positioner", "yes"}}},
    {"P5_hand_stop_valve_is_set_half_open",
     ONLY("hand X"),
     "X",
     {{"says work Set the valve half open before the bonnet", "yes"}}},
    {"P5_check_valve", ONLY("valve X check"), "X", {{"says work pressure behind the flap", "yes"}}},
    {"F_RV_1_relief_valve_like_for_like",
     "limit L-1; hand HV-1; valve X relief set-pressure=18_barg bore=DN25; outlet O vent "
     "leads-to=safe-place shared=no fitted=open; run L-1 HV-1 X O",
     "X",
     {{"says work like for like: set pressure, capacity, substance, size and direction", "yes"},
      {"says work set pressure 18 barg, size DN25", "yes"},
      {"says work One relief valve of full capacity stays in service", "yes"},
      {"back-says close-up Hang its plate", "yes"}}},
    {"P5_relief_valve_without_a_set_pressure",
     "limit L-1; hand HV-1; valve X relief; outlet O vent leads-to=safe-place shared=no "
     "fitted=open; run L-1 HV-1 X O",
     "X",
     {{"says work which has no set pressure", "yes"}}},
    {"P5_pump_seal",
     ONLY("pump X"),
     "X",
     {{"says work block the rotor", "yes"},
      {"back-says close-up take every block off the rotor", "yes"}}},
    {"P5_compressor",
     ONLY("compressor X"),
     "X",
     {{"says release crankcase, oil separator", "yes"}}},
    {"P5_gauge_or_meter",
     ONLY("fitting X meter"),
     "X",
     {{"says work a pointer that sticks shows zero for ever", "yes"}}},
    {"P5_pipe", ONLY("strainer X"), "X~K-1", {{"says work Support the pipe on both sides", "yes"}}},
    {"P5_joint_counts_as_pipe",
     ONLY("strainer X"),
     "HV-1.out",
     {{"says work Support the pipe on both sides", "yes"}}},
    {"P5_tee_counts_as_pipe", ONLY("tee X"), "X", {{"says work Support the pipe", "yes"}}},
    {"P5_all_else",
     "limit L-1; hand HV-1; cap X; run L-1 HV-1 X",
     "X",
     {{"says work Checklist of the work, any", "yes"}}},
    {"P5_vessel_opened_is_not_entered",
     "limit L-1; hand HV-1; vessel X drum contents=liquid; run L-1 HV-1 X",
     "X work=open",
     {{"says work that is entry, with rules of its own", "yes"}}},
    {"F_OSH_12_entry_defers_to_the_local_rules",
     "limit L-1; hand HV-1; blind B-1 spectacle position=closed; hand HV-2; vessel X drum "
     "contents=liquid; run L-1 HV-1 B-1 HV-2 X",
     "X work=entry",
     {{"says work local rules for confined spaces come first", "yes"},
      {"says work An attendant stands there and stays", "yes"},
      {"says work Look in from outside", "yes"},
      {"says work oxygen, what burns, what is toxic", "yes"},
      {"says work nitrogen of the purge is still inside", "yes"},
      {"says verify Nitrogen chokes", "yes"}}},

    /* What is inside, and what to wear for it: OSHA 29 CFR 1910.147(d)(1). */
    {"F_OSH_1_type_magnitude_and_hazards_come_first",
     ROOM("LQ"),
     "F-1",
     {{"says prepare ammonia, liquid", "yes"},
      {"says prepare H331", "yes"},
      {"says prepare kg enclosed", "yes"},
      {"says prepare from memory", "yes"},
      {"says prepare respiratory protection", "yes"},
      {"says prepare chemical splash protection", "yes"},
      {"says prepare insulated gloves", "yes"},
      {"says prepare an oxygen monitor", "yes"}}},
    {"N2_unknown_quantity_is_said",
     "<service id='LQ2' substance='ammonia' phase='liquid' design-pressure='19 barg'/>; limit L-1; "
     "hand HV-1; strainer F-1; cap K-1; run service=LQ2 length= L-1 HV-1 F-1 K-1",
     "F-1",
     {{"says prepare at least 0 kg (a volume or density", "yes"},
      {"says prepare temperature not said", "yes"}}},
    {"N2_unknown_hazards_count_as_all",
     "<service id='U' substance='thinner' phase='liquid' temperature='80 degC' density='800 "
     "kg/m3'/>; limit L-1; hand HV-1; strainer F-1; cap K-1; run service=U L-1 HV-1 F-1 K-1",
     "F-1",
     {{"says prepare hazards not said: all are possible", "yes"},
      {"says prepare until its hazards are known", "yes"},
      {"says prepare against heat", "yes"}}},
    {"P7_gear_of_the_site_comes_first",
     ROOM("LQ"),
     "F-1",
     {{"says prepare the site's rule says, which comes first", "yes"},
      {"says prepare common practice, no source", "yes"}}},

    /* E7: dry ice, cold metal. */
    {"E7_liquid_carbon_dioxide_leaves_above_5_2_bara",
     CO2 ROOM("C"),
     "F-1",
     {{"says release above 5.2 bara", "yes"},
      {"says release gauge PI-1", "yes"},
      {"says release vapour only, from the top", "yes"},
      {"says release false zero", "yes"},
      {"says verify -78 degC", "yes"},
      {"says verify weigh", "yes"},
      {"finding E7", "none"},
      {"assumed E7 T-1", "no"}}},
    {"E7_liquid_before_vapour", CO2 ROOM("C"), "F-1", {{"steps release", "O-2 DV O-2 O-1 BV O-1"}}},
    {"E7_liquid_carbon_dioxide_without_a_drain_is_a_finding",
     CO2 "limit L-1; hand HV-1; strainer F-1; cap K-1; run service=C L-1 HV-1 F-1 K-1",
     "F-1",
     {{"finding E7", "blocks"}}},
    {"E7_metal_chilled_below_what_it_withstands",
     "<service id='N' substance='ammonia' phase='liquid' temperature='20 degC' pressure='8 barg' "
     "design-pressure='19 barg' min-temperature='-10 degC'/>; limit L-1; hand HV-1; strainer F-1; "
     "cap K-1; run service=N L-1 HV-1 F-1 K-1",
     "F-1",
     {{"finding E7 N", "blocks"},
      {"back-says leak-test Let nothing in before the metal of", "yes"},
      {"back-says leak-test Nothing is re-pressurised", "yes"}}},
    {"E7_min_temperature_of_a_component_is_named",
     "<service id='P' substance='propane' phase='liquid' temperature='20 degC' pressure='8 barg' "
     "design-pressure='19 barg' min-temperature='-50 degC'/>; limit L-1; hand HV-1; cap K-1; valve "
     "X globe open lockable min-temperature=-29_degC; strainer F-1; run service=P L-1 HV-1 F-1 X "
     "K-1",
     "F-1",
     {{"finding E7 X", "blocks"}, {"finding E7 P", "none"}}},
    {"E7_what_withstands_it_is_no_finding", ROOM("LQ"), "F-1", {{"finding E7", "none"}}},
    {"E7_not_said_is_not_shown",
     "<service id='N' substance='ammonia' phase='liquid' design-pressure='19 barg'/>; limit L-1; "
     "hand HV-1; strainer F-1; cap K-1; run service=N L-1 HV-1 F-1 K-1",
     "F-1",
     {{"assumed E7 N", "yes"}, {"back-says leak-test has warmed", "yes"}}},
    {"E7_water_has_no_cold_metal",
     "limit L-1; hand HV-1; strainer F-1; cap K-1; run service=W L-1 HV-1 F-1 K-1",
     "F-1",
     {{"back-says leak-test has warmed", "no"}, {"assumed E7", "no"}}},

    /* E8 */
    {"E8_purge_until_the_sites_limit_then_above_atmosphere",
     ROOM("LQ"),
     "F-1",
     {{"says verify raise it to slightly above atmosphere", "yes"},
      {"says verify no site file gives one: ask", "yes"}}},

    /* E9: oil. */
    {"E9_oil_at_low_points_of_ammonia",
     ROOM("LQ"),
     "F-1",
     {{"says release silence is not empty", "yes"},
      {"says release fit a self-closing valve, since oil may come", "yes"},
      {"assumed E9", "yes"},
      {"finding E9", "none"}}},
    {"E9_stop_valve_then_self_closing_valve",
     "limit L-1; hand HV-1; strainer F-1; cap K-1; tee T-1; shut DV; valve SC self-closing; drain "
     "O-2; run L-1 HV-1 T-1 F-1 K-1; run T-1 DV SC O-2",
     "F-1",
     {{"says release the stop valve first, then the self-closing valve held by hand", "yes"},
      {"assumed E9", "yes"}}},
    {"E9_oil_vessel_without_a_self_closing_valve_is_a_finding",
     "limit L-1; hand HV-1; strainer F-1; vessel V-9 pot role=oil contents=liquid service=LQ "
     "volume=10_L; tee T-1; shut DV; drain O-2; run L-1 HV-1 T-1 F-1 V-9; run T-1 DV O-2",
     "F-1",
     {{"finding E9", "blocks"}}},
    {"E9_oil_pot_with_its_own_drain",
     "limit L-1; hand HV-1 HV-52; strainer F-1; vessel V-9 pot role=oil contents=liquid service=LQ "
     "volume=10_L; tee T-1; shut DV; valve QV self-closing; drain O-2 O-3; run L-1 HV-1 T-1 F-1 "
     "V-9; run T-1 DV O-2; run V-9 HV-52 QV O-3",
     "F-1",
     {{"finding E9", "none"}, {"says release Oil: drain it at HV-52 and QV", "yes"}}},
    {"E9_oil_by_the_name_of_its_service",
     "<service id='S1' name='compressor oil' substance='lubricant' phase='liquid' density='900 "
     "kg/m3'/>; limit L-1; hand HV-1; strainer F-1; cap K-1; run service=S1 L-1 HV-1 F-1 K-1",
     "F-1",
     {{"finding E9", "blocks"}}},
    {"E9_a_boiler_is_no_oil",
     "<service id='S1' name='boiler feed' substance='water' phase='liquid'/>; limit L-1; hand "
     "HV-1; strainer F-1; cap K-1; run service=S1 L-1 HV-1 F-1 K-1",
     "F-1",
     {{"finding E9", "none"}, {"assumed E9", "no"}}},

    /* P4: proof of zero. */
    {"P4_expected_reading_and_what_else_it_means",
     ROOM("LQ"),
     "F-1",
     {{"says verify The gauge reads atmosphere and does not move", "yes"},
      {"says verify It falls below atmosphere", "yes"},
      {"says verify gauge or root valve is plugged", "yes"},
      {"says verify (ask: none is published)", "yes"},
      {"says verify (ammonia -33 degC)", "yes"},
      {"says verify by a thermometer on the metal", "yes"}}},
    {"P4_valve_against_a_space_below_atmosphere",
     "<service id='S' substance='ammonia' phase='vapour' temperature='-50 degC' pressure='0.4 "
     "bara' design-pressure='19 barg' min-temperature='-60 degC'/>; limit L-1; hand HV-1 HV-2; "
     "vessel V-1 drum role=low-pressure contents=liquid service=S; strainer F-1; run L-1 HV-1 F-1 "
     "HV-2; run service=S HV-2 V-1",
     "F-1",
     {{"finding P4 HV-2", "blocks"},
      {"finding P4 HV-1", "none"},
      {"says verify not proved until that space has been above", "yes"}}},
    {"P4_section_below_atmosphere",
     "<service id='S' substance='ammonia' phase='vapour' temperature='-50 degC' pressure='0.4 "
     "bara' design-pressure='19 barg' min-temperature='-60 degC'/>;" ROOM("S"),
     "F-1",
     {{"says verify It stands below atmosphere in service", "yes"}}},
    {"P4_pressure_not_said_is_assumed",
     "<service id='S' substance='ammonia' phase='vapour' design-pressure='19 barg'/>;" ROOM("S"),
     "F-1",
     {{"assumed P4 HV-1", "yes"}, {"finding P4", "none"}}},
    {"P4_above_atmosphere_is_proved_as_ever",
     ROOM("LQ"),
     "F-1",
     {{"finding P4", "none"}, {"assumed P4", "no"}}},

    /* P6: tests. */
    {"P6_rating_below_the_codes_figure_is_assumed",
     "limit L-1; hand HV-1 rating=20_barg; strainer F-1; cap K-1; run L-1 HV-1 F-1 K-1",
     "F-1",
     {{"finding P6", "none"},
      {"assumed P6 F-1", "yes"},
      {"back-says leak-test that is no strength test", "yes"}}},
    {"P6_rating_that_is_enough",
     "limit L-1; hand HV-1 rating=25_barg; strainer F-1; cap K-1; run L-1 HV-1 F-1 K-1",
     "F-1",
     {{"finding P6", "none"},
      {"assumed P6", "no"},
      {"back-says leak-test that is no strength test", "no"}}},
    {"P6_rating_not_said_is_assumed",
     "limit L-1; hand HV-1; strainer F-1; cap K-1; run L-1 HV-1 F-1 K-1",
     "F-1",
     {{"finding P6", "none"}, {"assumed P6 F-1", "yes"}}},
    {"P6_no_design_pressure_no_figure",
     "<service id='N' substance='ammonia' phase='liquid'/>; limit L-1; hand HV-1; strainer F-1; "
     "cap K-1; run service=N L-1 HV-1 F-1 K-1",
     "F-1",
     {{"back-says leak-test no figure is printed", "yes"}, {"assumed P6 F-1", "yes"}}},
    {"P6_both_codes_where_the_site_names_none",
     ROOM("LQ"),
     "F-1",
     {{"back-says leak-test EN 378-2", "yes"},
      {"back-says leak-test ASME B31.5", "yes"},
      {"back-says leak-test The site decides", "yes"},
      {"back-says evacuate from memory, not confirmed", "yes"},
      {"back-says evacuate three times, with dry nitrogen in between", "yes"}}},
    {"P6_no_vacuum_figure_for_water",
     "limit L-1; hand HV-1; strainer F-1; cap K-1; run service=W L-1 HV-1 F-1 K-1",
     "F-1",
     {{"back-says evacuate 270 Pa", "no"}}},

    /* N5, D3: heat and springs. */
    {"N5_heating_feeds_cool_down",
     ONLY("strainer X") ";<feed id='FH' kind='heating' supplies='X' isolator='SH' lockable='yes' "
                        "stored='none'/>",
     "X",
     {{"says release Let what FH has heated cool down", "yes"},
      {"says verify Try to start", "yes"}}},
    {"D3_spring_of_a_fail_closed_point_is_named",
     "limit L-1; valve XV ball open lockable drive=air fails=closed feeds=complete; strainer F-1; "
     "cap K-1; run L-1 XV F-1 K-1; feed FA air supplies=XV isolator=SA lockable stored=none",
     "F-1",
     {{"says release The spring of XV holds it shut: leave it in", "yes"},
      {"says verify proved dead at the device", "yes"}}},
    {"N5_hand_valves_have_no_spring", ROOM("LQ"), "F-1", {{"says release The spring of", "no"}}},

    /* N6 */
    {"N6_where_it_is_put_off_is_not_said",
     ONLY("valve X control drive=motor manual-opening=yes feeds=complete") ";<sequence id='SQ' "
                                                                           "kind='defrost' "
                                                                           "acts-on='X'/>",
     "X",
     {{"finding N6 SQ", "blocks"}, {"steps shut-down", "SQ X -"}}},
    {"N6_said_where_is_no_finding",
     ONLY("valve X control drive=motor manual-opening=yes feeds=complete") ";<sequence id='SQ' "
                                                                           "kind='defrost' "
                                                                           "acts-on='X' "
                                                                           "off-at='panel'/>",
     "X",
     {{"finding N6", "none"}}},
};
enum { N_ROWS = sizeof rows / sizeof rows[0] };

static kit work;

static int clear_work(void **given)
{
    (void)given;
    kit_close(&work);
    return 0;
}

static void plan_with(const char *plant, const char *target, const char *site, const char *lists)
{
    still_plan_opts opts = STILL_PLAN_OPTS_INIT;
    opts.grade = STILL_GRADE_SINGLE;
    opts.site = site;
    opts.checklists = lists;
    kit_open(&work, plant);
    assert_int_equal(still_plan_make(&work.plan, work.plant, NULL, &target, 1, &opts, NULL),
                     STILL_OK);
    work.r = still_plan_record(work.plan);
}

#define SITE_FILE STILL_SOURCE_DIR "/plants-demo/harbour.site"

/* F-TST-2: PS 28 bar gives 40.04 (1.43) and 30.8 (1.1) bar; factors from memory. F-TST-4: ASME
 * B31.5 at most 130 %, held 10 min at least; from memory. F-VAC-2: 270 Pa, 30 min; from memory. */
static void P6_figures_of_both_codes(void **given)
{
    (void)given;
    plan_with("<service id='H' substance='ammonia' phase='liquid' temperature='20 degC' "
              "pressure='8 barg' design-pressure='28 barg'/>; limit L-1; hand HV-1 "
              "rating=40_barg; strainer F-1; cap K-1; run service=H L-1 HV-1 F-1 K-1",
              "F-1", NULL, NULL);
    const still_tests *t = &work.r->tests;
    assert_float_equal(t->design_barg, 28, 1e-9);
    assert_float_equal(t->code_strength_barg, 30.8, 0.01);
    assert_float_equal(t->strength_barg, 30.8, 0.01);
    assert_float_equal(t->tightness_barg, 28, 0.01);
    assert_float_equal(t->hydraulic_barg, 40.04, 0.01);
    assert_float_equal(t->most_barg, 36.4, 0.01);
    assert_float_equal(t->hold_s, 600, 1e-9);
    assert_float_equal(t->evacuation_Pa, 270, 1e-9);
    assert_float_equal(t->evacuation_hold_s, 1800, 1e-9);
    assert_string_equal(t->code, "");
    assert_int_equal(t->limited_by.n, 0);
    assert_string_equal(kit_ask(&work, "back-says leak-test 40.04 barg"), "yes");
    assert_string_equal(kit_ask(&work, "back-says leak-test 30.8 barg"), "yes");
}

/* Never above the rating of a point, the set pressure of a relief valve, or a part's own test. */
static void P6_never_above_what_stands_against_it(void **given)
{
    static const struct {
        const char *plant;
        double strength_barg, tightness_barg;
        const char *by;
    } cases[] = {
        {"limit L-1; hand HV-1 rating=20_barg; strainer F-1; cap K-1; run L-1 HV-1 F-1 K-1", 20, 19,
         "HV-1"},
        {"limit L-1; hand HV-1 rating=40_barg; strainer F-1; tee T; cap K-1; valve RV relief "
         "set-pressure=17_barg; outlet O vent leads-to=safe-place shared=no fitted=open; run L-1 "
         "HV-1 F-1 T K-1; run T RV O",
         17, 17, "RV"},
        {"limit L-1; hand HV-1 rating=40_barg; strainer F-1; vessel V drum service=LQ "
         "design-pressure=10_barg role=oil contents=liquid volume=1_L; run L-1 HV-1 F-1 V",
         11, 10, "V"},
        {"limit L-1; hand HV-1 rating=40_barg; strainer F-1; tee T; cap K-1; valve RV relief; "
         "outlet O vent leads-to=safe-place shared=no fitted=open; run L-1 HV-1 F-1 T K-1; run T "
         "RV O",
         NAN, NAN, "RV"}};
    (void)given;
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        plan_with(cases[i].plant, "F-1", NULL, NULL);
        const still_tests *t = &work.r->tests;
        if (t->limited_by.n != 1)
            fail_msg("case %zu: %zu limits, %.4g barg", i, t->limited_by.n, t->strength_barg);
        assert_string_equal(t->limited_by.items[0], cases[i].by);
        assert_int_equal(isnan(t->strength_barg), isnan(cases[i].strength_barg));
        if (!isnan(t->strength_barg)) {
            assert_float_equal(t->strength_barg, cases[i].strength_barg, 1e-6);
            assert_float_equal(t->tightness_barg, cases[i].tightness_barg, 1e-6);
        }
        kit_close(&work);
    }
}

static void P4_hold_time_of_the_site(void **given)
{
    (void)given;
    plan_with(ROOM("LQ"), "F-1", SITE_FILE, NULL);
    assert_string_equal(kit_ask(&work, "says verify for 15 min (hold time of the site file)"),
                        "yes");
    assert_string_equal(kit_ask(&work, "says verify none is published"), "no");
    assert_string_equal(work.r->site_id, "harbour-site");
    assert_int_equal(strlen(work.r->site_digest), 64);
    assert_float_equal(work.r->option_ambient_degC, 35, 1e-9);
}

static void E8_limit_of_the_site(void **given)
{
    (void)given;
    plan_with(ROOM("LQ"), "F-1", SITE_FILE, NULL);
    assert_string_equal(kit_ask(&work, "says verify ammonia: 25 ppm by detector tube"), "yes");
    assert_string_equal(kit_ask(&work, "says prepare full-face mask with filter K"), "yes");
    assert_string_equal(kit_ask(&work, "back-says evacuate 500 Pa absolute, held for 1 h"), "yes");
    assert_string_equal(kit_ask(&work, "back-says evacuate EN 378 figure"), "no");
    assert_string_equal(kit_ask(&work, "back-says leak-test ASME"), "no");
    assert_string_equal(work.r->tests.code, "en-378");
    assert_true(isnan(work.r->tests.most_barg) && isnan(work.r->tests.hold_s));
}

/* A site's own lists replace those built in kind by kind. */
static void P5_own_checklists_kind_by_kind(void **given)
{
    (void)given;
    const char *lists = STILL_SOURCE_DIR "/tests/sites/work.checklists";
    plan_with(ONLY("strainer X"), "X", NULL, lists);
    assert_string_equal(kit_ask(&work, "says work Wash the screen outdoors"), "yes");
    assert_string_equal(kit_ask(&work, "says work Draw the screen slowly"), "no");
    assert_string_equal(kit_ask(&work, "says work leave two bolts partly engaged"), "yes");
    assert_string_equal(work.r->checklists_id, "harbour-work");
    kit_close(&work);
    plan_with(ONLY("pump X"), "X", STILL_SOURCE_DIR "/tests/sites/with-lists.site", NULL);
    assert_string_equal(kit_ask(&work, "says work block the rotor"), "yes");
    assert_string_equal(work.r->checklists_id, "harbour-work");
}

static void a_bad_site_file_gives_no_plan(void **given)
{
    still_plan_opts opts = STILL_PLAN_OPTS_INIT;
    const char *target = "F-1";
    (void)given;
    kit_open(&work, ROOM("LQ"));
    opts.site = STILL_SOURCE_DIR "/tests/bad/STILL-0303-site-hold.xml";
    assert_int_equal(still_plan_make(&work.plan, work.plant, NULL, &target, 1, &opts, NULL),
                     STILL_E_INPUT);
    opts.site = NULL;
    opts.checklists = STILL_SOURCE_DIR "/tests/bad/STILL-0409-checklist-close-up.xml";
    assert_int_equal(still_plan_make(&work.plan, work.plant, NULL, &target, 1, &opts, NULL),
                     STILL_E_INPUT);
    assert_null(work.plan);
}

/* Any allocation may fail while the site's files are read, and while a plan with them is made whose
 * steps have all that is rare: every seventh is made to. */
static void memory_runs_out(void **given)
{
    static const char *const plants[] = {
        CO2 ROOM("C"),
        "<service id='S' substance='ammonia' phase='vapour' temperature='-50 degC' pressure='0.4 "
        "bara' design-pressure='19 barg' min-temperature='-10 degC'/>; limit L-1; valve XV ball "
        "open lockable drive=air fails=closed rating=20_barg feeds=complete; hand HV-2; vessel V-1 "
        "drum role=low-pressure contents=liquid service=S; vessel V-9 pot role=oil contents=liquid "
        "service=LQ volume=10_L; tee T-1 T-2; shut DV; drain O-2; valve F-1 relief "
        "set-pressure=18_barg; outlet OV vent leads-to=safe-place shared=no fitted=open; run L-1 "
        "XV T-1 V-9; run T-1 T-2 HV-2; run service=S HV-2 V-1; run T-2 F-1 OV; run V-9 DV O-2; "
        "feed FA air supplies=XV isolator=SA lockable stored=none"};
    (void)given;
    for (size_t i = 0; i < sizeof plants / sizeof plants[0]; i++) {
        still_plan_opts opts = STILL_PLAN_OPTS_INIT;
        const char *target = "F-1";
        uint64_t n = 1;
        opts.grade = STILL_GRADE_SINGLE;
        opts.site = SITE_FILE;
        opts.checklists = STILL_SOURCE_DIR "/tests/sites/work.checklists";
        kit_open(&work, plants[i]);
        for (still_status status = STILL_E_NOMEM; status != STILL_OK; n += 7) {
            still_plan *plan = NULL;
            still_alloc_fail_at(n);
            status = still_plan_make(&plan, work.plant, NULL, &target, 1, &opts, NULL);
            still_alloc_fail_at(0);
            assert_int_equal(plan != NULL, status == STILL_OK);
            if (status != STILL_OK) assert_int_equal(status, STILL_E_NOMEM);
            still_plan_free(plan);
            assert_true(n < 100000);
        }
        kit_close(&work);
    }
}

int main(void)
{
    const struct CMUnitTest more[] = {
        cmocka_unit_test_teardown(P6_figures_of_both_codes, clear_work),
        cmocka_unit_test_teardown(P6_never_above_what_stands_against_it, clear_work),
        cmocka_unit_test_teardown(P4_hold_time_of_the_site, clear_work),
        cmocka_unit_test_teardown(E8_limit_of_the_site, clear_work),
        cmocka_unit_test_teardown(P5_own_checklists_kind_by_kind, clear_work),
        cmocka_unit_test_teardown(a_bad_site_file_gives_no_plan, clear_work),
        cmocka_unit_test_teardown(memory_runs_out, clear_work),
    };
    return kit_main(rows, N_ROWS, more, sizeof more / sizeof more[0]);
}
