/* Plans made by hand, of every grade, as JSON: right ones pass, each wrong one is refuted for its
 * rule (I2, and what it rests on), also after small changes to a right one; broken JSON is an error
 * and never a crash.
 *
 * In plants and plans ' stands for ". What each rule asks for is that of docs/METHOD.md, section
 * 3.6; the plants are invented. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <cmocka.h>

#include <jansson.h>

#include "alloc.h"
#include "plantread.h"
#include "rowtest.h"
#include "stillset/plan.h"
#include "strbuf.h"

#define HEAD                                                                                       \
    "<plant xmlns='urn:stillset:plant:1' id='P'><service id='V' substance='ammonia' "              \
    "phase='vapour' temperature='20 degC' pressure='1 barg' design-pressure='19 barg'/>"
#define PIPE(id, from, to)                                                                         \
    "<spool id='" id "' from='" from "' to='" to "' length='1 m' bore='50 mm' service='V'/>"
#define FLANGED(id, from, to)                                                                      \
    "<spool id='" id "' from='" from "' to='" to                                                   \
    "' length='1 m' bore='50 mm' service='V' ends='flanged flanged'/>"
#define VALVE(id, more) "<valve id='" id "' kind='globe' position='open' lockable='yes' " more "/>"
#define VENT(id) "<outlet id='" id "' kind='vent' leads-to='safe-place' shared='no'/>"
#define CAP(id) "<cap id='" id "' kind='cap'/>"
#define TEE(id) "<fitting id='" id "' kind='tee'/>"
#define LIMIT(id) "<limit id='" id "'/>"

// clang-format off
/* L-1 - HV-1 - T-1 - HV-2 - F-1 - K-1; a vent behind BV-1 at T-1, one behind BV-2 at F-1. */
#define TWO_VALVES                                                                                 \
    LIMIT("L-1")                                                                                   \
    VALVE("HV-1", "")                                                                              \
    TEE("T-1")                                                                                     \
    VALVE("HV-2", "")                                                                              \
    TEE("F-1") CAP("K-1") VALVE("BV-1", "") VENT("O-1") VALVE("BV-2", "") VENT("O-2")              \
        PIPE("S-1", "L-1.in", "HV-1.in") PIPE("S-2", "HV-1.out", "T-1.a")                          \
            PIPE("S-3", "T-1.b", "HV-2.in") PIPE("S-4", "HV-2.out", "F-1.a")                       \
                PIPE("S-5", "F-1.b", "K-1.in") PIPE("S-6", "T-1.c", "BV-1.in")                     \
                    PIPE("S-7", "BV-1.out", "O-1.in") PIPE("S-8", "F-1.c", "BV-2.in")              \
                        PIPE("S-9", "BV-2.out", "O-2.in")
static const char plant_a[] = HEAD TWO_VALVES "</plant>";

/* L-1 - HV-1 - BL-1 - F-1 - BL-2 - HV-3 - L-2; a vent at F-1. */
static const char plant_p[] = HEAD LIMIT("L-1") VALVE("HV-1", "") TEE("F-1") VALVE("HV-3", "")
    LIMIT("L-2") "<blind id='BL-1' kind='spectacle' position='open'/>"
                 "<blind id='BL-2' kind='spectacle' position='open'/>" VALVE("BV-2", "") VENT("O-2")
                     PIPE("S-1", "L-1.in", "HV-1.in") PIPE("S-2", "HV-1.out", "BL-1.in")
                         PIPE("S-3", "BL-1.out", "F-1.a") PIPE("S-4", "F-1.b", "BL-2.in")
                             PIPE("S-5", "BL-2.out", "HV-3.in") PIPE("S-6", "HV-3.out", "L-2.in")
                                 PIPE("S-7", "F-1.c", "BV-2.in")
                                     PIPE("S-8", "BV-2.out", "O-2.in") "</plant>";

/* L-1 - HV-1 - S-2, flanged - F-1 - K-1, vent at F-1; S-3, welded, lies beside it. */
static const char plant_s[] =
    HEAD LIMIT("L-1") VALVE("HV-1", "") TEE("F-1") CAP("K-1") VALVE("BV-2", "") VENT("O-2")
        TEE("T-1") PIPE("S-1", "L-1.in", "HV-1.in") FLANGED("S-2", "HV-1.out", "T-1.a")
            PIPE("S-3", "T-1.b", "F-1.a") PIPE("S-5", "F-1.b", "K-1.in")
                PIPE("S-8", "F-1.c", "BV-2.in") PIPE("S-9", "BV-2.out", "O-2.in") "</plant>";

/* L-1 - TW.a, TW.b - K-1, TW.c - F-1 - K-2 */
static const char plant_w[] =
    HEAD LIMIT("L-1") "<valve id='TW' kind='three-way' positions='a-c b-c a-b' position='a-c' "
                      "lockable='yes'/>" TEE("F-1") CAP("K-1") CAP("K-2")
                          PIPE("S-1", "L-1.in", "TW.a") PIPE("S-2", "TW.b", "K-1.in")
                              PIPE("S-3", "TW.c", "F-1.a")
                                  PIPE("S-4", "F-1.b", "K-2.in") "</plant>";

/* Exchanger E-1: side t between HV-1 and HV-2, side s between L-3 and L-4. */
static const char plant_x[] =
    HEAD LIMIT("L-1") LIMIT("L-2") LIMIT("L-3") LIMIT("L-4") VALVE("HV-1", "")
        VALVE("HV-2", "") "<exchanger id='E-1'><side id='t' service='V'><port "
                          "id='t1'/><port id='t2'/></side><side id='s' service='V'>"
                          "<port id='s1'/><port id='s2'/></side></exchanger>" PIPE("S-1", "L-1.in",
                                                                                   "HV-1.in")
                              PIPE("S-2", "HV-1.out", "E-1.t1") PIPE("S-3", "E-1.t2", "HV-2.in")
                                  PIPE("S-4", "HV-2.out", "L-2.in") PIPE("S-5", "L-3.in", "E-1.s1")
                                      PIPE("S-6", "E-1.s2", "L-4.in") "</plant>";

/* L-1 - HV-1 - HV-2 - F-1 - HV-3 - L-2 */
static const char plant_m[] = HEAD LIMIT("L-1") LIMIT("L-2") VALVE("HV-1", "") VALVE("HV-2", "")
    VALVE("HV-3", "") TEE("F-1") PIPE("S-1", "L-1.in", "HV-1.in") PIPE("S-2", "HV-1.out", "HV-2.in")
        PIPE("S-3", "HV-2.out", "F-1.a") PIPE("S-4", "F-1.b", "HV-3.in")
            PIPE("S-5", "HV-3.out", "L-2.in") "</plant>";

// clang-format on

#define PLAN(target, grade, points, more)                                                          \
    "{'target':['" target "'],'grade':{'achieved':'" grade "'},'points':[" points "]" more "}"
#define CLOSE(id, level) "{'id':'" id "','action':'close','level':" #level "}"
#define FIT(id, level) "{'id':'" id "','action':'fit','level':" #level "}"
#define TAKE_OUT(id, level) "{'id':'" id "','action':'remove','level':" #level "}"
#define TURN(id, to) "{'id':'" id "','action':'close','level':1,'to':'" to "'}"
#define OFF(id) "{'id':'" id "','action':'switch-off'}"
#define OPEN(id) "{'id':'" id "','action':'open'}"
#define TAKEN(id) ",'sources_inside':[{'id':'" id "','treatment':'dealt with'}]"
#define BOTH CLOSE("HV-2", 1) "," CLOSE("HV-1", 2)
#define DOUBLE(more) PLAN("F-1", "double", BOTH, more)
#define DOUBLE_BLEED(more) PLAN("F-1", "double-bleed", BOTH, more)
#define NO_DOUBLE(best)                                                                            \
    "{'target':['F-1'],'feasible':false,'options':{'grade':'double'},'grade':{'achieved':'none'}," \
    "'points':[],'obstacle':{'path':[],'text':'no','best_grade':'" best "'}}"
#define FOUR FIT("BL-1", 1) "," FIT("BL-2", 1) "," CLOSE("HV-1", 2) "," CLOSE("HV-3", 2)
#define WAY "{'ids':['L-1','S-1','HV-1','S-2','T-1','S-3','HV-2','S-4','F-1'],'layers':"
#define PROOF(layers, more)                                                                        \
    ",'cost':{'sources':0,'points':2,'mass_kg':1},'proof':{'kind':'layered','bound':2,'feeds':[]," \
    "'paths':[" WAY layers "}" more "]}"
#define SAME "," WAY
#define BETWEEN(ids, way) ",'between':[{'ids':[" ids "],'bleed':[[" way "]]}]"
#define MID "'T-1','S-2','S-3','S-6','S-7','BV-1','O-1'"
#define DEMANDS(a, b)                                                                              \
    "{'target':['F-1'],'grade':{'achieved':'" b "','demands':[{'source':'L-1','grade':'" a         \
    "'},{'source':'L-2','grade':'" b "'}]},'points':["
#define MIXED CLOSE("HV-2", 1) "," CLOSE("HV-1", 2) "," CLOSE("HV-3", 1)

/* The tee before the work, with something hung on it. */
#define AT_T1 "<spool id='S-6'"
#define HUNG(what, port) what PIPE("S-20", "T-1.z", port) AT_T1

/* A vessel there; a device in the way of the bleed that its supply holds shut. */
#define VESSEL_AT_T1                                                                               \
    AT_T1, HUNG("<vessel id='V-5' service='V' contents='vapour'><port id='a'/></vessel>", "V-5.a")
#define SOLENOID_AT_O1                                                                             \
    PIPE("S-7", "BV-1.out", "O-1.in"),                                                             \
        "<valve id='SV' kind='solenoid' manual-opening='yes'/><feed id='FS' kind='electrical' "    \
        "supplies='SV' lockable='yes'/>" PIPE("S-7", "BV-1.out", "SV.in")                          \
            PIPE("S-17", "SV.out", "O-1.in")

typedef struct row {
    const char *name;
    const char *plant;
    const char *find, *replace; /* in the plant; NULL = as it is */
    const char *plan;
    const char *rule, *id; /* NULL rule = agrees; NULL id = any */
} row;

/* In a row: the plant as it stands; no rule speaks against the plan. */
#define AS_IS NULL, NULL
#define AGREES NULL, NULL
#define V1 "id='HV-1' kind='globe' position='open' lockable='yes'"
#define V2 "id='HV-2' kind='globe' position='open' lockable='yes'"
#define B1 "id='BV-1' kind='globe' position='open' lockable='yes'"
#define B2 "id='BV-2' kind='globe' position='open' lockable='yes'"
#define D3 " drive='air' fails='closed'"

static const row rows[] = {
    {"I2_right_single", plant_a, AS_IS, PLAN("F-1", "single", CLOSE("HV-2", 1), ""), AGREES},
    {"I2_right_double", plant_a, AS_IS, DOUBLE(""), AGREES},
    {"I2_right_single_bleed", plant_a, AS_IS,
     PLAN("F-1", "single-bleed", CLOSE("HV-2", 1) "," OPEN("BV-2"), ""), AGREES},
    {"I2_right_double_bleed", plant_a, AS_IS,
     PLAN("F-1", "double-bleed", BOTH "," OPEN("BV-1"), BETWEEN(MID, "'BV-1','O-1'")), AGREES},
    {"I2_right_positive_blinds", plant_p, AS_IS, PLAN("F-1", "positive", FOUR, ""), AGREES},
    {"I2_right_positive_spade", plant_s, AS_IS,
     PLAN("F-1", "positive", FIT("S-2", 1) "," CLOSE("HV-1", 2), ""), AGREES},
    {"I2_right_positive_spool_out", plant_s, "ends='flanged flanged'", "removable='yes'",
     PLAN("F-1", "positive", TAKE_OUT("S-2", 1) "," CLOSE("HV-1", 2), ""), AGREES},
    {"D1_right_fitted_blind_in_double", plant_a, "<valve " V1 " />",
     "<blind id='HV-1' kind='spade' position='closed'/>",
     PLAN("F-1", "double", CLOSE("HV-2", 1) "," FIT("HV-1", 2), ""), AGREES},
    {"D3_right_supply_locked", plant_a, V2, V2 D3,
     PLAN("F-1", "single", CLOSE("HV-2", 1) "," OFF("FA"), ""), AGREES},
    {"D5_right_three_way", plant_w, AS_IS, PLAN("F-1", "single", TURN("TW", "a-b"), ""), AGREES},
    {"D5_right_three_way_other_port", plant_w, AS_IS, PLAN("F-1", "single", TURN("TW", "b-c"), ""),
     AGREES},
    {"N4_right_vessel_between_taken_inside", plant_a, VESSEL_AT_T1, DOUBLE(TAKEN("V-5")), AGREES},
    {"I1_right_one_side_of_an_exchanger", plant_x, AS_IS,
     PLAN("E-1.t", "single", CLOSE("HV-1", 1) "," CLOSE("HV-2", 1), ""), AGREES},
    {"I1_right_joint_behind_the_point", plant_a, AS_IS,
     PLAN("HV-2.out", "single", CLOSE("HV-2", 1), ""), AGREES},
    {"I1_right_two_targets", plant_a, AS_IS, PLAN("F-1','T-1", "single", CLOSE("HV-1", 1), ""),
     AGREES},
    {"I1_right_spool_target", plant_a, AS_IS, PLAN("S-3", "single", CLOSE("HV-1", 1), ""), AGREES},
    {"I3_right_mixed", plant_m, AS_IS, DEMANDS("double", "single") MIXED "]}", AGREES},
    {"I5_right_layered_proof", plant_a, AS_IS,
     DOUBLE(PROOF("[2,2,2,2,2,2,2,1,1]", SAME "[2,2,2,1,1,1,1,1,1]}")), AGREES},
    {"I2_right_bleed_through_locked_device", plant_a, SOLENOID_AT_O1,
     PLAN("F-1", "double-bleed", BOTH "," OFF("FS"), ""), AGREES},

    {"I4_one_valve_twice", plant_a, AS_IS,
     PLAN("F-1", "double", CLOSE("HV-2", 1) "," CLOSE("HV-2", 2), ""), "I4", "HV-2"},
    {"I2_double_that_is_one_device", plant_a, AS_IS,
     PLAN("F-1", "double", CLOSE("HV-2", 1) "," CLOSE("HV-2", 2), ""), "I2", "L-1"},
    {"I2_double_with_one_valve", plant_a, AS_IS, PLAN("F-1", "double", CLOSE("HV-2", 1), ""), "I2",
     "L-1"},
    {"I2_level_too_low", plant_a, AS_IS,
     PLAN("F-1", "double", CLOSE("HV-2", 1) "," CLOSE("HV-1", 1), ""), "I2", "HV-1"},
    {"I2_levels_exchanged", plant_a, AS_IS,
     PLAN("F-1", "double", CLOSE("HV-2", 2) "," CLOSE("HV-1", 1), ""), "I2", "HV-2"},
    {"I2_level_two_in_single", plant_a, AS_IS, PLAN("F-1", "single", CLOSE("HV-2", 2), ""), "I2",
     "HV-2"},
    {"I2_level_three", plant_a, AS_IS,
     PLAN("F-1", "double", CLOSE("HV-2", 1) "," CLOSE("HV-1", 3), ""), "I2", "HV-1"},
    {"I2_bleed_into_a_shared_header", plant_a, VENT("O-1"),
     "<outlet id='O-1' kind='vent' leads-to='safe-place' shared='yes'/>", DOUBLE_BLEED(""), "I2",
     "O-1"},
    {"I2_bleed_not_said_to_be_unshared", plant_a, VENT("O-2"),
     "<outlet id='O-2' kind='vent' leads-to='safe-place'/>",
     PLAN("F-1", "single-bleed", CLOSE("HV-2", 1), ""), "I1", "O-2"},
    {"I2_bleed_through_a_self_closing_valve", plant_a, "id='BV-1' kind='globe'",
     "id='BV-1' kind='self-closing'", DOUBLE_BLEED(""), "I2", "L-1"},
    {"I2_bleed_through_a_self_closing_valve_at_work", plant_a, "id='BV-2' kind='globe'",
     "id='BV-2' kind='self-closing'", PLAN("F-1", "single-bleed", CLOSE("HV-2", 1), ""), "I2",
     NULL},
    {"I2_bleed_valve_seized", plant_a, B2, B2 " condition='seized'",
     PLAN("F-1", "single-bleed", CLOSE("HV-2", 1), ""), "I2", NULL},
    {"I2_bleed_leads_to_recovery", plant_a, VENT("O-1"),
     "<outlet id='O-1' kind='vent' leads-to='recovery' shared='no'/>", DOUBLE_BLEED(""), "I2",
     "L-1"},
    {"I2_bleed_without_a_valve", plant_a, PIPE("S-6", "T-1.c", "BV-1.in"),
     CAP("K-6") PIPE("S-6", "K-6.in", "BV-1.in") PIPE("S-16", "T-1.c", "O-3.in") VENT("O-3"),
     DOUBLE_BLEED(""), "I2", "L-1"},
    {"E1_part_behind_a_check_valve_has_no_bleed", plant_a, PIPE("S-2", "HV-1.out", "T-1.a"),
     "<valve id='CV' kind='check'/>" PIPE("S-2", "HV-1.out", "CV.in")
         PIPE("S-22", "CV.out", "T-1.a"),
     DOUBLE_BLEED(""), "I2", "L-1"},
    {"I2_bleed_behind_an_unlocked_device", plant_a, SOLENOID_AT_O1, DOUBLE_BLEED(""), "I2", "L-1"},
    {"N4_vessel_between_not_taken_inside", plant_a, VESSEL_AT_T1, DOUBLE(""), "I2", "V-5"},
    {"N4_vessel_between_double_bleed", plant_a, VESSEL_AT_T1, DOUBLE_BLEED(""), "I2", "V-5"},
    {"N4_limit_between", plant_a, AT_T1, HUNG(LIMIT("L-5"), "L-5.in"), DOUBLE(""), "I2", "L-5"},
    {"N4_limit_taken_inside", plant_a, AS_IS, PLAN("F-1", "single", "", TAKEN("L-1")), "I1", "L-1"},
    {"N4_source_named_that_is_none_there", plant_a, VESSEL_AT_T1,
     PLAN("F-1", "single", CLOSE("HV-2", 1), TAKEN("V-5")), "N4", "V-5"},
    {"N4_pump_between_without_its_feed", plant_a, AT_T1,
     HUNG("<pump id='P-5'/><feed id='FP' kind='electrical' supplies='P-5' lockable='yes'/>" CAP(
              "K-5") PIPE("S-21", "P-5.out", "K-5.in"),
          "P-5.in"),
     DOUBLE(TAKEN("P-5")), "N5", "FP"},
    {"N4_pump_that_cannot_be_locked", plant_a, AT_T1,
     HUNG("<pump id='P-5'/><feed id='FP' kind='electrical' supplies='P-5'/>" CAP("K-5")
              PIPE("S-21", "P-5.out", "K-5.in"),
          "P-5.in"),
     PLAN("F-1", "double", BOTH "," OFF("FP"), TAKEN("P-5")), "I2", "P-5"},
    {"I2_blinds_without_valves_outside", plant_p, AS_IS,
     PLAN("F-1", "positive", FIT("BL-1", 1) "," FIT("BL-2", 1), ""), "I2", "L-1"},
    {"I2_valves_outside_on_one_side_only", plant_p, AS_IS,
     PLAN("F-1", "positive", FIT("BL-1", 1) "," FIT("BL-2", 1) "," CLOSE("HV-1", 2), ""), "I2",
     "L-2"},
    {"I2_path_around_the_blind", plant_p, PIPE("S-7", "F-1.c", "BV-2.in"),
     VALVE("HV-9", "") LIMIT("L-9") PIPE("S-30", "F-1.z", "HV-9.in")
         PIPE("S-31", "HV-9.out", "L-9.in") PIPE("S-7", "F-1.c", "BV-2.in"),
     PLAN("F-1", "positive", FOUR "," CLOSE("HV-9", 1), ""), "I2", "L-9"},
    {"I2_valves_alone_are_not_positive", plant_p, AS_IS,
     PLAN("F-1", "positive", CLOSE("HV-1", 1) "," CLOSE("HV-3", 1), ""), "I2", "L-1"},
    {"I2_blind_and_valve_levels_exchanged", plant_p, AS_IS,
     PLAN("F-1", "positive",
          FIT("BL-1", 2) "," FIT("BL-2", 1) "," CLOSE("HV-1", 1) "," CLOSE("HV-3", 2), ""),
     "I2", "HV-1"},
    {"D1_open_blind_in_double", plant_p, AS_IS, PLAN("F-1", "double", FOUR, ""), "D1", "BL-1"},
    {"D1_open_blind_as_second_device", plant_p, AS_IS,
     PLAN("F-1", "positive", FIT("BL-1", 2) "," FIT("BL-2", 1), ""), "D1", "BL-1"},
    {"D1_spade_in_a_welded_pipe", plant_s, AS_IS,
     PLAN("F-1", "positive", FIT("S-3", 1) "," CLOSE("HV-1", 2), ""), "D1", "S-3"},
    {"D1_pipe_that_does_not_come_out", plant_s, AS_IS,
     PLAN("F-1", "positive", TAKE_OUT("S-2", 1) "," CLOSE("HV-1", 2), ""), "D1", "S-2"},
    {"D1_vessel_as_point", plant_a, AS_IS, PLAN("F-1", "single", CLOSE("T-1", 1), ""), "D1", "T-1"},
    {"D1_not_said_to_be_lockable", plant_a, V2, "id='HV-2' kind='globe' position='open'",
     DOUBLE(""), "D1", "HV-2"},
    {"D2_control_valve_as_second_device", plant_a, "id='HV-1' kind='globe' position='open'",
     "id='HV-1' kind='control'", DOUBLE(""), "D2", "HV-1"},
    {"D3_supply_not_locked", plant_a, V2, V2 D3, PLAN("F-1", "single", CLOSE("HV-2", 1), ""), "D3",
     "HV-2"},
    {"D3_second_level_supply_not_locked", plant_a, V1, V1 D3, DOUBLE(""), "D3", "HV-1"},
    {"D3_fails_open", plant_a, V2, V2 " drive='air' fails='open'",
     PLAN("F-1", "single", CLOSE("HV-2", 1) "," OFF("FA"), ""), "D3", "HV-2"},
    {"D3_without_a_known_feed", plant_a, V1, V1 D3 " note='x'", DOUBLE(""), "D3", "HV-1"},
    {"D5_position_that_does_not_close", plant_w, AS_IS,
     PLAN("F-1", "single", TURN("TW", "a-c"), ""), "I1", "L-1"},
    {"D5_position_that_is_not_declared", plant_w, "positions='a-c b-c a-b'", "positions='a-c b-c'",
     PLAN("F-1", "single", TURN("TW", "a-b"), ""), "D5", "TW"},
    {"D5_three_way_simply_closed", plant_w, AS_IS, PLAN("F-1", "single", CLOSE("TW", 1), ""), "D5",
     "TW"},
    {"D5_three_way_without_lock", plant_w, " lockable='yes'", "",
     PLAN("F-1", "single", TURN("TW", "a-b"), ""), "D5", "TW"},
    {"D6_passing_valve", plant_a, V1, V1 " condition='passing'", DOUBLE(""), "D6", "HV-1"},
    {"D6_avoided_valve", plant_a, AS_IS, DOUBLE(",'options':{'avoid':['HV-1']}"), "D6", "HV-1"},
    {"D6_avoided_bleed", plant_a, AS_IS,
     PLAN("F-1", "single-bleed", CLOSE("HV-2", 1), ",'options':{'avoid':['BV-2']}"), "I2", NULL},
    {"D7_second_device_rated_too_low", plant_a, V1, V1 " rating='10 barg'", DOUBLE(""), "D7",
     "HV-1"},
    {"D7_spool_rated_too_low", plant_s, "ends='flanged flanged'",
     "ends='flanged flanged' design-pressure='10 barg'",
     PLAN("F-1", "positive", FIT("S-2", 1) "," CLOSE("HV-1", 2), ""), "D7", "S-2"},
    {"N5_feed_of_the_work_left_on", plant_a, "</plant>",
     "<feed id='FH' kind='heating' supplies='F-1' lockable='yes'/></plant>", DOUBLE(""), "N5",
     "FH"},
    {"N5_needless_feed_between", plant_a, "</plant>",
     "<feed id='FH' kind='heating' supplies='T-1' lockable='yes'/></plant>",
     PLAN("F-1", "double", BOTH "," OFF("FH"), ",'between':[]"), "N5", "FH"},
    {"I4_needless_point", plant_a, AS_IS,
     PLAN("F-1", "single", CLOSE("HV-2", 1) "," CLOSE("HV-1", 1), ""), "I4", "HV-1"},
    {"I4_cost_wrong", plant_a, AS_IS, DOUBLE(",'cost':{'sources':0,'points':3}"), "I4", NULL},
    {"I4_cost_of_sources_wrong", plant_a, AS_IS, DOUBLE(",'cost':{'sources':1,'points':2}"), "I4",
     NULL},
    {"I5_layer_falls", plant_a, AS_IS,
     DOUBLE(PROOF("[1,1,1,1,1,1,1,2,2]", SAME "[2,2,2,1,1,1,1,1,1]}")), "I5", NULL},
    {"I5_device_paid_twice", plant_a, AS_IS,
     DOUBLE(PROOF("[2,2,2,2,2,2,2,1,1]", SAME "[2,2,2,2,2,2,2,1,1]}")), "I5", "HV-1"},
    {"I5_layer_beyond_the_demand", plant_a, AS_IS,
     PLAN("F-1", "single", CLOSE("HV-2", 1),
          ",'cost':{'sources':0,'points':1},'proof':{'kind':'layered','bound':1,'paths':[" WAY
          "[2,2,2,2,2,2,2,1,1]}]}"),
     "I5", "L-1"},
    {"I5_too_few_paths", plant_a, AS_IS, DOUBLE(PROOF("[2,2,2,2,2,2,2,1,1]", "")), "I5", NULL},
    {"I5_search_bound_above_the_cost", plant_a, AS_IS,
     DOUBLE(",'cost':{'sources':0,'points':2},'proof':{'kind':'search','bound':0,'paths':[],"
            "'lower_bound':3,'nodes':1,'complete':true}"),
     "I5", NULL},
    {"I7_other_file", plant_a, AS_IS, DOUBLE(",'plant':{'id':'P','digest':'00'}"), "I7", NULL},
    {"I7_other_plant", plant_a, AS_IS, DOUBLE(",'plant':{'id':'Q'}"), "I7", NULL},
    {"I7_made_for_a_state", plant_a, AS_IS, DOUBLE(",'state':{'digest':'00'}"), "I7", NULL},
    {"I7_no_such_target", plant_a, AS_IS, PLAN("F-7", "double", BOTH, ""), "I7", "F-7"},
    {"I7_no_such_point", plant_a, AS_IS, PLAN("F-1", "single", CLOSE("HV-77", 1), ""), "I7",
     "HV-77"},
    {"I2_no_such_grade", plant_a, AS_IS, PLAN("F-1", "triple", BOTH, ""), "I2", "F-1"},
    {"I1_side_of_an_exchanger_half_cut_off", plant_x, AS_IS,
     PLAN("E-1.t", "single", CLOSE("HV-1", 1), ""), "I1", "L-2"},
    {"I1_exchanger_whole_takes_both_sides", plant_x, AS_IS,
     PLAN("E-1", "single", CLOSE("HV-1", 1) "," CLOSE("HV-2", 1), ""), "I1", "L-3"},
    {"I1_joint_on_the_live_side", plant_a, AS_IS, PLAN("HV-2.in", "single", CLOSE("HV-2", 1), ""),
     "I1", "L-1"},
    {"I1_second_target_left_live", plant_a, AS_IS,
     PLAN("F-1','T-1", "single", CLOSE("HV-2", 1), ""), "I1", "L-1"},
    {"I2_two_targets_double", plant_a, AS_IS, PLAN("F-1','T-1", "double", CLOSE("HV-1", 1), ""),
     "I2", "L-1"},
    {"I3_mixed_one_device_short", plant_m, AS_IS,
     DEMANDS("double", "single") CLOSE("HV-2", 1) "," CLOSE("HV-3", 1) "]}", "I2", "L-1"},
    {"I3_mixed_other_source_asks_for_two", plant_m, AS_IS,
     DEMANDS("double", "single-bleed") MIXED "]}", "I2", NULL},
    {"I3_demands_without_policy_do_not_lower_the_grade", plant_m, AS_IS,
     "{'options':{'grade':'double'},'target':['F-1'],'grade':{'achieved':'double','demands':[{"
     "'source':'L-1','grade':'double'},{'source':'L-2','grade':'single'}]},'points':[" MIXED "]}",
     "I2", "L-2"},
    {"I3_short_of_what_is_required", plant_a, AS_IS,
     "{'target':['F-1'],'grade':{'achieved':'double','required':'positive','because':'entry'},"
     "'points':[" BOTH "]}",
     "I3", "F-1"},
    {"I3_entry_behind_valves", plant_a, AS_IS, DOUBLE(",'work':'entry'"), "I3", "F-1"},
    {"I2_between_names_the_wrong_part", plant_a, AS_IS, DOUBLE(BETWEEN(MID ",'S-4'", "")), "I2",
     "S-4"},
    {"I2_between_leaves_something_out", plant_a, AS_IS, DOUBLE(BETWEEN("'T-1','S-2','S-3'", "")),
     "I2", "BV-1"},
    {"E4_way_of_the_bleed_leaves_its_space", plant_a, AS_IS,
     PLAN("F-1", "double-bleed", BOTH "," OPEN("BV-1"), BETWEEN(MID, "'BV-1','O-2'")), "E4", "O-2"},
    {"E4_way_of_the_bleed_without_its_valve", plant_a, AS_IS, DOUBLE_BLEED(BETWEEN(MID, "'O-1'")),
     "E4", "O-1"},
    {"E4_bleed_valve_stays_shut", plant_a, "id='BV-1' kind='globe' position='open'",
     "id='BV-1' kind='globe' position='closed'", DOUBLE_BLEED(BETWEEN(MID, "'BV-1','O-1'")), "E4",
     "BV-1"},
    {"I6_it_can_be_isolated_after_all", plant_a, AS_IS, NO_DOUBLE("single"), "I6", "F-1"},
    {"I6_right_no_second_device", plant_a, V1, "id='HV-1' kind='globe' position='open'",
     NO_DOUBLE("single"), AGREES},
    {"I6_best_grade_is_what_was_asked", plant_a, V1, "id='HV-1' kind='globe' position='open'",
     NO_DOUBLE("double"), "I6", "F-1"},
};
enum { N_ROWS = sizeof rows / sizeof rows[0] };

/* ' becomes ". */
static void add_text(still_buf *buf, const char *text)
{
    for (; *text != '\0'; text++) still_buf_char(buf, *text == '\'' ? '"' : *text);
}

/* Say what is wrong, if it is; free both. */
static void must_be_ok(still_status s, still_diags *d, still_buf *buf)
{
    for (size_t i = 0; s != STILL_OK && i < still_diags_count(d); i++)
        print_error("%s: %s\n", still_diags_at(d, i)->code, still_diags_at(d, i)->text);
    still_diags_free(d);
    still_buf_clear(buf);
    assert_int_equal(s, STILL_OK);
}

static still_plant *plant_of(const row *c)
{
    still_plant *plant = NULL;
    still_buf buf = STILL_BUF_INIT;
    const char *text = c->plant;
    bool feed = strstr(c->name, "D3_") == c->name && c->replace != NULL &&
                strstr(c->replace, "note=") == NULL;
    if (c->find != NULL) {
        const char *at = strstr(text, c->find);
        assert_non_null(at);
        for (; text < at; text++) still_buf_char(&buf, *text == '\'' ? '"' : *text);
        add_text(&buf, c->replace);
        text = at + strlen(c->find);
    }
    add_text(&buf, text);
    assert_non_null(buf.text);
    if (feed) { /* air to the driven valve of the row */
        buf.len -= strlen("</plant>");
        add_text(&buf, "<feed id='FA' kind='air' lockable='yes' supplies='");
        add_text(&buf, strstr(c->replace, "HV-1") != NULL ? "HV-1" : "HV-2");
        add_text(&buf, "'/></plant>");
    }
    still_diags *d = still_diags_new();
    still_status s = still_read_plant_memory(&plant, "plant.xml", buf.text, buf.len, d);
    must_be_ok(s, d, &buf);
    return plant;
}

static still_verdict *verdict_of(const still_plant *plant, const char *json)
{
    still_verdict *v = NULL;
    still_buf buf = STILL_BUF_INIT;
    still_diags *d = still_diags_new();
    add_text(&buf, json);
    still_status s = still_verify_plan_memory(&v, plant, NULL, "plan", buf.text, buf.len, d);
    must_be_ok(s, d, &buf);
    return v;
}

static void one_row(void **state)
{
    const row *c = *state;
    still_plant *plant = plant_of(c);
    still_verdict *v = verdict_of(plant, c->plan);
    const still_verdict_record *r = still_verdict_record_of(v);
    bool caught = false;
    for (size_t i = 0; i < r->n_against && c->rule != NULL; i++)
        if (strcmp(r->against[i].rule, c->rule) == 0 &&
            (c->id == NULL || strcmp(r->against[i].id, c->id) == 0))
            caught = true;
    if (caught != (c->rule != NULL) || r->agrees != (c->rule == NULL))
        for (size_t i = 0; i < r->n_against; i++)
            print_error("[%s] %s: %s\n", r->against[i].rule, r->against[i].id, r->against[i].text);
    assert_int_equal(caught, c->rule != NULL);
    assert_int_equal(r->agrees, c->rule == NULL);
    assert_int_equal(r->n_against == 0, r->agrees);
    still_verdict_free(v);
    still_plant_free(plant);
}

static bool tree_agrees(const still_plant *plant, json_t *tree)
{
    char *text = json_dumps(tree, 0);
    assert_non_null(text);
    still_verdict *v = verdict_of(plant, text);
    bool agrees = still_verdict_record_of(v)->agrees;
    still_verdict_free(v);
    free(text);
    return agrees;
}

static json_t *tree_of(const char *json)
{
    still_buf buf = STILL_BUF_INIT;
    add_text(&buf, json);
    json_t *tree = json_loadb(buf.text, buf.len, 0, NULL);
    still_buf_clear(&buf);
    assert_non_null(tree);
    return tree;
}

static json_t *points_of(json_t *tree)
{
    return json_object_get(tree, "points");
}

/* Is this point a barrier or a lock? What is merely opened may be left out of a plan by hand. */
static bool holds(json_t *point)
{
    return strcmp(json_string_value(json_object_get(point, "action")), "open") != 0;
}

static void mutate(const row *c, size_t i)
{
    still_plant *plant = plant_of(c);
    json_t *tree = tree_of(c->plan);
    size_t n = json_array_size(points_of(tree));
    json_t *drop = json_deep_copy(tree), *level = json_deep_copy(tree);
    json_t *swap = json_deep_copy(tree), *renamed = json_deep_copy(tree);
    if (holds(json_array_get(points_of(tree), i))) {
        json_array_remove(points_of(drop), i);
        if (tree_agrees(plant, drop)) fail_msg("%s agrees without point %zu", c->name, i);
    }
    json_t *at = json_object_get(json_array_get(points_of(level), i), "level");
    if (at != NULL) {
        json_integer_set(at, json_integer_value(at) == 1 ? 2 : 1);
        if (tree_agrees(plant, level))
            fail_msg("%s agrees, level of point %zu changed", c->name, i);
    }
    json_t *a = json_array_get(points_of(swap), i),
           *b = json_array_get(points_of(swap), (i + 1) % n);
    json_t *one = json_object_get(a, "level"), *two = json_object_get(b, "level");
    if (one != NULL && two != NULL && json_integer_value(one) != json_integer_value(two)) {
        json_t *keep = json_incref(json_object_get(a, "id"));
        json_object_set(a, "id", json_object_get(b, "id"));
        json_object_set_new(b, "id", keep);
        if (tree_agrees(plant, swap)) fail_msg("%s agrees, ids from point %zu swapped", c->name, i);
    }
    json_object_set_new(json_array_get(points_of(renamed), i), "id", json_string("S-1"));
    if (tree_agrees(plant, renamed)) fail_msg("%s agrees, point %zu renamed", c->name, i);
    json_decref(drop);
    json_decref(level);
    json_decref(swap);
    json_decref(renamed);
    json_decref(tree);
    still_plant_free(plant);
}

/* Dropping a point, changing its level, swapping ids, naming another part: all refuted. */
static void I2_mutations_of_right_plans_are_refuted(void **state)
{
    (void)state;
    for (size_t k = 0; k < N_ROWS; k++) {
        if (rows[k].rule != NULL) continue;
        json_t *tree = tree_of(rows[k].plan);
        size_t n = json_array_size(points_of(tree));
        json_decref(tree);
        for (size_t i = 0; i < n; i++) mutate(&rows[k], i);
    }
}

static const row *find_row(const char *name)
{
    for (size_t k = 0; k < N_ROWS; k++)
        if (strcmp(rows[k].name, name) == 0) return &rows[k];
    fail_msg("no row %s", name);
    return NULL;
}

/* What a plan made by hand does not say is named as not checked. */
static void I7_what_is_not_said_is_not_checked(void **state)
{
    (void)state;
    const row *c = find_row("I2_right_double");
    still_plant *plant = plant_of(c);
    still_verdict *v = verdict_of(plant, c->plan);
    const still_verdict_record *r = still_verdict_record_of(v);
    static const char *const parts[] = {"steps", "proof", "plant.digest", "inside", "findings"};
    for (size_t k = 0; k < sizeof parts / sizeof parts[0]; k++) {
        bool said = false;
        for (size_t i = 0; i < r->not_checked.n; i++)
            if (strncmp(r->not_checked.items[i], parts[k], strlen(parts[k])) == 0) said = true;
        if (!said) fail_msg("%s is not named", parts[k]);
    }
    char *bytes = NULL;
    size_t len = 0;
    assert_int_equal(still_verdict_write(&bytes, &len, v, STILL_FORMAT_JSON, NULL), STILL_OK);
    json_t *tree = json_loads(bytes, 0, NULL);
    assert_string_equal(json_string_value(json_object_get(tree, "format")), "stillset-verify-1");
    assert_true(json_is_true(json_object_get(tree, "agrees")));
    json_decref(tree);
    still_bytes_free(bytes);
    assert_int_equal(still_verdict_write(&bytes, &len, v, STILL_FORMAT_CSV, NULL), STILL_E_USAGE);
    still_verdict_free(v);
    still_plant_free(plant);
}

typedef struct fault {
    const char *json, *key;
} fault;

/* A key that is needed and missing, or of another type, is named by its path. */
static void I7_faults_name_their_key(void **state)
{
    static const fault faults[] = {
        {"{'grade':{'achieved':'single'},'points':[]}", "target is missing"},
        {"{'target':['F-1'],'points':[]}", "grade is missing"},
        {"{'target':['F-1'],'grade':{},'points':[]}", "grade.achieved is missing"},
        {"{'target':['F-1'],'grade':{'achieved':'single'}}", "points is missing"},
        {"{'target':['F-1'],'grade':{'achieved':'single'},'points':[{'action':'close'}]}",
         "points[0].id is missing"},
        {"{'target':['F-1'],'grade':{'achieved':'single'},'points':[{'id':'X','action':'bend'}]}",
         "points[0].action is no action"},
        {"{'target':['F-1'],'grade':{'achieved':'single'},'points':[{'id':7,'action':'close'}]}",
         "points[0].id is no string"},
        {"{'target':['F-1',2],'grade':{'achieved':'single'},'points':[]}",
         "target[1] is no string"},
        {"{'target':['F-1'],'grade':{'achieved':'single'},'points':[],'cost':{'sources':-1,"
         "'points':1}}",
         "cost.sources is out of range"},
        {"{'target':['F-1'],'grade':{'achieved':'single'},'points':[],'proof':{'kind':'paths',"
         "'bound':1,'paths':[{'ids':['a','b'],'layers':[1]}]}}",
         "proof.paths[0].layers is not as long as ids"},
        {"{'target':['F-1'],'grade':{'achieved':'single'},'points':[],'between':[{'ids':[],"
         "'bleed':[[1]]}]}",
         "between[0].bleed[0][0] is no string"},
        {"{'format':'other','target':['F-1'],'grade':{'achieved':'single'},'points':[]}",
         "format is not stillset-plan-1"},
        {"[]", "the record is no object"},
    };
    (void)state;
    still_plant *plant = plant_of(&rows[0]);
    for (size_t k = 0; k < sizeof faults / sizeof faults[0]; k++) {
        still_verdict *v = NULL;
        still_buf buf = STILL_BUF_INIT;
        still_diags *d = still_diags_new();
        bool named = false;
        add_text(&buf, faults[k].json);
        assert_int_equal(still_verify_plan_memory(&v, plant, NULL, "x", buf.text, buf.len, d),
                         STILL_E_INPUT);
        for (size_t i = 0; i < still_diags_count(d); i++)
            if (strcmp(still_diags_at(d, i)->text, faults[k].key) == 0) named = true;
        if (!named) fail_msg("not named: %s", faults[k].key);
        still_diags_free(d);
        still_buf_clear(&buf);
    }
    still_plant_free(plant);
}

/* Any bytes: an answer or an error, with and without a list of messages. */
static void try_bytes(const still_plant *plant, const char *bytes, size_t len)
{
    still_verdict *v = NULL;
    still_status s = still_verify_plan_memory(&v, plant, NULL, "x", bytes, len, NULL);
    assert_true(s == STILL_OK || s == STILL_E_INPUT);
    assert_int_equal(v != NULL, s == STILL_OK);
    still_verdict_free(v);
}

static void I7_broken_json_never_crashes(void **state)
{
    enum { SEED = 20240, CHANGES = 1500 };
    static const char *const names[] = {"I2_right_double_bleed", "I5_right_layered_proof",
                                        "I3_right_mixed"};
    static const char alphabet[] = "{}[]\",:0129-elnu\\ HVSL\xff";
    (void)state;
    uint32_t x = SEED;
    print_message("seed %d\n", SEED);
    for (size_t k = 0; k < sizeof names / sizeof names[0]; k++) {
        const row *c = find_row(names[k]);
        still_plant *plant = plant_of(c);
        still_buf buf = STILL_BUF_INIT;
        add_text(&buf, c->plan);
        for (size_t len = 0; len < buf.len; len++) try_bytes(plant, buf.text, len);
        for (int i = 0; i < CHANGES; i++) {
            char old[3];
            size_t at[3];
            for (int m = 0; m < 3; m++) {
                x = x * 1664525u + 1013904223u;
                at[m] = (x >> 8) % buf.len;
                old[m] = buf.text[at[m]];
                buf.text[at[m]] = alphabet[(x >> 4) % (sizeof alphabet - 1)];
                if (i % 3 <= m) break;
            }
            try_bytes(plant, buf.text, buf.len);
            for (int m = i % 3; m >= 0; m--) buf.text[at[m]] = old[m];
        }
        still_buf_clear(&buf);
        still_plant_free(plant);
    }
}

static void memory_runs_out(void **state)
{
    static const char *const names[] = {"I2_right_double_bleed", "I2_right_positive_blinds",
                                        "I3_right_mixed"};
    (void)state;
    for (size_t k = 0; k < sizeof names / sizeof names[0]; k++) {
        const row *c = find_row(names[k]);
        still_plant *plant = plant_of(c);
        still_buf buf = STILL_BUF_INIT;
        add_text(&buf, c->plan);
        still_status s = STILL_E_NOMEM;
        for (uint64_t n = 1; s == STILL_E_NOMEM; n++) {
            still_verdict *v = NULL;
            still_alloc_fail_at(n);
            s = still_verify_plan_memory(&v, plant, NULL, "x", buf.text, buf.len, NULL);
            still_alloc_fail_at(0);
            assert_int_equal(v != NULL, s == STILL_OK);
            still_verdict_free(v);
            assert_true(n < 100000);
        }
        assert_int_equal(s, STILL_OK);
        still_buf_clear(&buf);
        still_plant_free(plant);
    }
}

int main(void)
{
    struct CMUnitTest tests[N_ROWS + 5];
    for (size_t i = 0; i < N_ROWS; i++) tests[i] = row_test(rows[i].name, one_row, NULL, &rows[i]);
    const struct CMUnitTest others[] = {
        cmocka_unit_test(I2_mutations_of_right_plans_are_refuted),
        cmocka_unit_test(I7_what_is_not_said_is_not_checked),
        cmocka_unit_test(I7_faults_name_their_key),
        cmocka_unit_test(I7_broken_json_never_crashes),
        cmocka_unit_test(memory_runs_out),
    };
    memcpy(tests + N_ROWS, others, sizeof others);
    return cmocka_run_group_tests(tests, NULL, NULL);
}
