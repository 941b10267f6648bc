/* Rules of emptying (E), of closed-in liquid (L) and of relief paths (D4), one row a sentence.
 *
 * Expected answers are read from the rules, by hand; the plants are invented. Outside sources stand
 * beside the values that come from them. Notation of plants and questions: plantkit.h, kit_ask.c.
 * Volumes: a pipe of 50 mm bore holds 1.963 L a metre (pi/4 d2). */
#include "plantkit.h"

/* A device X inside, with a capped pipe behind it. */
#define INSIDE(x) "limit L-1; hand HV-1; strainer F-1; cap K-1; " x "; run L-1 HV-1 F-1 X K-1"
/* The same in a section that empties to the low-pressure vessel V-1. */
#define TO_VESSEL(x)                                                                               \
    "limit L-1; hand HV-1 HV-2; strainer F-1; vessel V-1 drum role=low-pressure "                  \
    "contents=liquid; " x "; run L-1 HV-1 F-1 X HV-2 V-1"
/* A section with all that E2 asks for; `more` and `gauge` may change it. */
#define SECTION(service, more, gauge)                                                              \
    "limit L-1; hand HV-1 F-2 elevation=2_m; strainer F-1 elevation=2_m; tee T-1 elevation=2_m;"   \
    "shut BV elevation=2.5_m; vent O-1 elevation=2.6_m; shut DV elevation=1_m; drain O-2 "         \
    "elevation=0.9_m;"                                                                             \
    "hand GV elevation=2.2_m; cap K-1 K-2 elevation=2.3_m; " gauge ";"                             \
    "run service=" service " L-1 HV-1 F-1 T-1 BV O-1; run service=" service " T-1 DV O-2;"         \
    "run service=" service " T-1 GV K-1; run service=" service " T-1 F-2 K-2;" more
#define GAUGE "gauge PI pressure on=T-1~GV via=GV"
/* Liquid with one outlet behind a valve. */
#define OUTLET(valve, outlet)                                                                      \
    "limit L-1; hand HV-1; strainer F-1; " valve "; outlet O-1 vent " outlet                       \
    "; run L-1 HV-1 F-1 BV O-1"

/* A piece between two closed valves, and what relieves it. Ask for HV-1~T-1. */
#define PIECE "shut HV-1 HV-2; tee T-1; run HV-1 T-1 HV-2;"
#define AIR "outlet O-1 vent leads-to=safe-place shared=no fitted=open;"
#define RELIEVED(rv) PIECE AIR "valve RV relief " rv "; run T-1 RV O-1"
/* Relief valve into a vessel, which has a relief valve of its own. */
#define INTO_VESSEL(rv, vessel, sv)                                                                \
    PIECE AIR "valve RV relief " rv "; vessel V-1 drum service=LQ " vessel "; valve SV relief " sv \
              "; run T-1 RV V-1 SV O-1"
/* Three-way valve with relief valves behind ports a and b. */
#define THREE_WAY(x, a, b)                                                                         \
    PIECE AIR "outlet O-2 vent leads-to=safe-place shared=no fitted=open; valve X three-way " x    \
              "; valve RA relief " a "; valve RB relief " b                                        \
              "; run T-1 X.c.a RA O-1; pipe X-RB X.b RB.in; run RB O-2"

/* A part outside, between what `x` is and the point HV-1, and a way off it. */
#define OUTSIDE(x, more)                                                                           \
    "limit L-1; " x "; tee T-1; hand HV-1; strainer F-1; cap K-1; " more                           \
    "; run L-1 X T-1 HV-1 F-1 K-1;"
#define CLOSED_RELIEF(valve, set)                                                                  \
    AIR valve "; valve RV relief set-pressure=" set "; run T-1 HV-2 RV O-1"
/* A section of liquid that runs down to recovery. */
#define DOWN(service, height, kind)                                                                \
    "limit L-1; hand HV-1 elevation=2_m; strainer F-1 " height ";" kind " elevation=1_m;"          \
    "outlet O-2 drain leads-to=recovery shared=no elevation=0.9_m;"                                \
    "run service=" service " L-1 HV-1 F-1 DV O-2"
/* A section that empties into a vessel with vapour space. */
#define BOIL_OFF(service, vessel)                                                                  \
    "limit L-1; hand HV-1 HV-2; strainer F-1; vessel V-1 drum contents=two-phase fill=0.5 "        \
    "service=" service " " vessel ";" AIR "valve RV relief set-pressure=18_barg;"                  \
    "run service=" service " L-1 HV-1 F-1 HV-2 V-1"

static const kit_row rows[] = {
    /* E1: compartments. */
    {"E1_check_valve_parts",
     INSIDE("valve X check"),
     "F-1",
     {{"rooms", "2"}, {"room F-1", "F-1 F-1~X HV-1~F-1"}}},
    {"E1_control_valve_parts", INSIDE("valve X control"), "F-1", {{"rooms", "2"}}},
    {"E1_expansion_valve_parts", INSIDE("valve X expansion"), "F-1", {{"rooms", "2"}}},
    {"E1_regulator_parts", INSIDE("valve X regulator"), "F-1", {{"rooms", "2"}}},
    {"E1_solenoid_parts", INSIDE("valve X solenoid"), "F-1", {{"rooms", "2"}}},
    {"E1_float_valve_parts", INSIDE("valve X float"), "F-1", {{"rooms", "2"}}},
    {"E1_relief_valve_parts", INSIDE("valve X relief"), "F-1", {{"rooms", "2"}}},
    {"E1_excess_flow_valve_parts", INSIDE("valve X excess-flow"), "F-1", {{"rooms", "2"}}},
    {"E1_self_closing_valve_parts", INSIDE("valve X self-closing"), "F-1", {{"rooms", "2"}}},
    {"E1_fitted_blind_parts", INSIDE("blind X spectacle closed"), "F-1", {{"rooms", "2"}}},
    {"E1_open_blind_joins", INSIDE("blind X spectacle open"), "F-1", {{"rooms", "1"}}},
    {"E1_open_hand_valve_joins", INSIDE("hand X"), "F-1", {{"rooms", "1"}}},
    {"E1_closed_hand_valve_that_can_be_opened_joins", INSIDE("shut X"), "F-1", {{"rooms", "1"}}},
    {"E1_unknown_hand_valve_that_can_be_opened_joins",
     INSIDE("valve X globe unknown"),
     "F-1",
     {{"rooms", "1"}}},
    {"E1_closed_seized_hand_valve_parts",
     INSIDE("valve X globe closed condition=seized"),
     "F-1",
     {{"rooms", "2"}}},
    {"E1_unknown_seized_hand_valve_parts",
     INSIDE("valve X globe unknown condition=seized"),
     "F-1",
     {{"rooms", "2"}}},
    {"E1_closed_hand_valve_out_of_reach_parts",
     INSIDE("valve X globe closed condition=unreachable"),
     "F-1",
     {{"rooms", "2"}}},
    {"E1_found_seized_today_parts", INSIDE("shut X"), "F-1 | X condition=seized", {{"rooms", "2"}}},
    {"E1_manual_opening_of_a_control_valve_joins",
     TO_VESSEL("valve X control drive=motor manual-opening=yes"),
     "F-1",
     {{"rooms", "1"}, {"tag X", "open automatic>open tag: Do Not Close"}}},
    {"E1_lifting_stem_of_a_solenoid_joins",
     TO_VESSEL("valve X solenoid manual-opening=yes"),
     "F-1",
     {{"rooms", "1"}, {"tag X", "open automatic>open tag: Do Not Close"}}},
    {"E1_manual_opening_of_an_expansion_valve_joins",
     TO_VESSEL("valve X expansion manual-opening=yes"),
     "F-1",
     {{"rooms", "1"}}},
    {"E1_seized_manual_opening_parts",
     TO_VESSEL("valve X control manual-opening=yes condition=seized"),
     "F-1",
     {{"rooms", "2"}}},
    {"E1_opened_after_the_feed_and_before_the_last_point",
     TO_VESSEL("valve X control drive=motor manual-opening=yes"),
     "F-1",
     {{"steps isolate", "HV-1 X V-1 HV-2"}, {"change isolate X", "automatic>open"}}},
    {"E1_opened_after_every_feed_and_hot_gas_side",
     "limit L-1 L-2; hand HV-1 HV-2 HV-3; strainer F-1; vessel V-1 drum role=low-pressure "
     "contents=liquid;"
     "valve X control drive=motor manual-opening=yes; run L-1 HV-1 F-1 X HV-2 V-1; run service=VP "
     "L-2 HV-3 F-1",
     "F-1",
     {{"steps isolate", "HV-1 HV-3 X HV-2"}}},
    {"E1_closed_hand_valve_inside_is_opened_and_tagged",
     "limit L-1; hand HV-1 HV-2; strainer F-1; tee T-1; vessel V-1 drum role=low-pressure "
     "contents=liquid;"
     "shut X Y; run L-1 HV-1 F-1 X T-1 HV-2 V-1; run F-1 Y T-1",
     "F-1",
     {{"points", "HV-1 HV-2"}, {"tag X", "open closed>open tag: Do Not Close"}}},
    {"E1_smallest_opening_first",
     "limit L-1; hand HV-1 HV-2; strainer F-1; tee T-1; vessel V-1 drum role=low-pressure "
     "contents=liquid;"
     "shut A bore=50_mm; shut B bore=15_mm; shut C bore=25_mm; run L-1 HV-1 F-1 A T-1 HV-2 V-1; "
     "run F-1 B T-1;"
     "run F-1 C T-1",
     "F-1",
     {{"steps isolate", "HV-1 B C A V-1 HV-2"}}},
    {"E1_override_goes_back_to_automatic_before_any_feed_opens",
     TO_VESSEL("valve X control drive=motor manual-opening=yes"),
     "F-1",
     {{"change-back close-up X", "open>automatic"},
      {"back-phases", "close-up inspect clear leak-test evacuate break-vacuum remove notify "
                      "function-test register"}}},
    {"E1_no_point_could_wait_for_the_opening",
     INSIDE("valve X control manual-opening=yes"),
     "F-1",
     {{"rooms", "1"}, {"assumed E1 F-1", "yes"}}},

    /* E2: a place to let off, to prove, to drain, a gauge. */
    {"E2_nothing_is_missing",
     SECTION("LQ", "", GAUGE),
     "F-1",
     {{"finding E2", "none"},
      {"finding E3", "none"},
      {"vent F-1", "BV O-1"},
      {"prove F-1", "BV O-1"},
      {"drain F-1", "DV O-2"},
      {"gauge F-1", "PI GV"},
      {"rooms", "1"}}},
    {"E2_no_outlet_at_all",
     "limit L-1; hand HV-1; strainer F-1; cap K-1; run L-1 HV-1 F-1 K-1",
     "F-1",
     {{"finding E2 F-1", "blocks"}, {"vent F-1", ""}, {"prove F-1", ""}, {"drain F-1", ""}}},
    {"E2_no_gauge", SECTION("LQ", "", ""), "F-1", {{"finding E2 BV", "blocks"}, {"gauge F-1", ""}}},
    {"E2_gauge_without_known_root_valve_is_no_proof",
     SECTION("LQ", "", "gauge PI pressure on=T-1~GV"),
     "F-1",
     {{"finding E2 BV", "blocks"}, {"gauge F-1", ""}}},
    {"E2_gauge_behind_a_seized_closed_root_valve_is_no_proof",
     SECTION("LQ", "", GAUGE),
     "F-1 | GV position=closed; GV condition=seized",
     {{"finding E2", "blocks"}, {"gauge F-1", ""}}},
    {"E2_level_gauge_is_no_proof",
     SECTION("LQ", "", "gauge PI level on=T-1~GV via=GV"),
     "F-1",
     {{"finding E2 BV", "blocks"}}},
    {"E2_vapour_alone_needs_no_drain",
     SECTION("VP", "", GAUGE),
     "F-1",
     {{"finding E2", "none"}, {"liquid F-1", "no"}, {"drain F-1", ""}}},
    {"E2_liquid_needs_a_drain",
     "limit L-1; hand HV-1; strainer F-1; valve X check; cap K-1; shut BV; vent O-1; run L-1 HV-1 "
     "F-1 BV O-1;"
     "run F-1 X K-1",
     "F-1",
     {{"rooms", "2"}, {"drain X~K-1", ""}, {"finding E2 K-1", "blocks"}}},
    {"E2_each_compartment_by_itself",
     INSIDE("valve X check"),
     "F-1",
     {{"finding E2 F-1", "blocks"}, {"finding E2 K-1", "blocks"}}},

    /* E3: pockets. */
    {"E3_pocket_below_the_way_to_the_drain",
     "limit L-1; hand HV-1 elevation=2_m; strainer F-1 elevation=2_m; tee T-1 elevation=2_m; tee "
     "T-2 elevation=0.5_m;"
     "cap K-1 elevation=0.5_m; shut DV elevation=1_m; drain O-1 elevation=0.9_m;"
     "run service=W L-1 HV-1 F-1 T-1 DV O-1; run service=W T-1 T-2 K-1",
     "F-1",
     {{"pockets F-1", "K-1 T-1~T-2 T-2 T-2~K-1: 4.909 L 4.909 kg"}, {"finding E3", "blocks"}}},
    {"E3_no_pocket_where_all_runs_down",
     "limit L-1; hand HV-1 elevation=2_m; strainer F-1 elevation=2_m; tee T-1 elevation=2_m; tee "
     "T-2 elevation=1.5_m;"
     "cap K-1 elevation=2.5_m; shut DV elevation=1_m; drain O-1 elevation=0.9_m;"
     "run service=W L-1 HV-1 F-1 T-2 DV O-1; run service=W T-2 T-1 K-1",
     "F-1",
     {{"finding E3", "none"}}},
    {"E3_level_pipe_is_no_pocket",
     "limit L-1; hand HV-1 elevation=1_m; strainer F-1 elevation=1_m; shut DV elevation=1_m; drain "
     "O-1 elevation=1_m;"
     "run service=W L-1 HV-1 F-1 DV O-1",
     "F-1",
     {{"pockets F-1", ""}, {"finding E3", "none"}}},
    {"E3_lowest_of_two_ways_counts",
     "limit L-1; hand HV-1 elevation=1_m; strainer F-1 elevation=1_m; tee T-1 elevation=3_m; tee "
     "T-2 elevation=1_m;"
     "shut DV elevation=0.5_m; drain O-1 elevation=0.5_m; run service=W L-1 HV-1 F-1 T-1 T-2 DV "
     "O-1;"
     "run service=W F-1 T-2",
     "F-1",
     {{"pockets F-1", ""}, {"finding E3", "none"}}},
    {"E3_drain_above_the_work_leaves_all_of_it",
     "limit L-1; hand HV-1 elevation=1_m; strainer F-1 elevation=1_m; shut DV elevation=2_m; drain "
     "O-1 elevation=2_m;"
     "run service=W L-1 HV-1 F-1 DV O-1",
     "F-1",
     {{"finding E3", "blocks"}}},

    /* E4: what an outlet is fit for. */
    {"E4_safe_place_is_fit_for_all",
     OUTLET("shut BV", "leads-to=safe-place shared=no fitted=cap"),
     "F-1",
     {{"prove F-1", "BV O-1"}, {"vent F-1", "BV O-1"}, {"drain F-1", "BV O-1"}}},
    {"E4_flare_or_scrubber_is_fit_for_all",
     OUTLET("shut BV", "leads-to=flare-or-scrubber shared=no fitted=open"),
     "F-1",
     {{"prove F-1", "BV O-1"}, {"vent F-1", "BV O-1"}, {"drain F-1", "BV O-1"}}},
    {"E4_recovery_lets_down_and_drains_but_proves_nothing",
     OUTLET("shut BV", "leads-to=recovery shared=no fitted=open"),
     "F-1",
     {{"prove F-1", ""},
      {"vent F-1", "BV O-1"},
      {"drain F-1", "BV O-1"},
      {"finding E2 BV", "blocks"}}},
    {"E4_closed_drain_lets_down_and_drains_but_proves_nothing",
     OUTLET("shut BV", "leads-to=closed-drain shared=no fitted=open"),
     "F-1",
     {{"prove F-1", ""}, {"vent F-1", "BV O-1"}, {"drain F-1", "BV O-1"}}},
    {"E4_water_lets_down_and_drains_but_proves_nothing",
     OUTLET("shut BV", "leads-to=water shared=no fitted=open"),
     "F-1",
     {{"prove F-1", ""}, {"vent F-1", "BV O-1"}, {"drain F-1", "BV O-1"}}},
    {"E4_shared_outlet_is_a_source_behind_a_point",
     OUTLET("shut BV", "leads-to=flare-or-scrubber shared=yes fitted=open"),
     "F-1",
     {{"points", "BV HV-1"}, {"prove F-1", ""}, {"vent F-1", ""}, {"drain F-1", ""}}},
    {"E4_behind_a_self_closing_valve_it_drains_and_never_bleeds",
     OUTLET("valve BV self-closing", "leads-to=safe-place shared=no fitted=plug"),
     "F-1",
     {{"prove F-1", ""}, {"vent F-1", ""}, {"drain F-1", "BV O-1"}}},
    {"E4_stop_valve_then_self_closing_valve_drains_and_never_bleeds",
     "limit L-1; hand HV-1; strainer F-1; shut SV; valve BV self-closing; drain O-1; run L-1 HV-1 "
     "F-1 SV BV O-1",
     "F-1",
     {{"prove F-1", ""}, {"vent F-1", ""}, {"drain F-1", "SV BV O-1"}}},
    {"E4_no_bleed_without_a_valve_that_can_be_held_open",
     "limit L-1; hand HV-1; strainer F-1; vent O-1; run L-1 HV-1 F-1 O-1",
     "F-1",
     {{"prove F-1", ""}, {"finding E2 F-1", "blocks"}}},
    {"E4_no_bleed_through_a_seized_valve",
     OUTLET("valve BV globe closed condition=seized", "leads-to=safe-place shared=no"),
     "F-1",
     {{"prove F-1", ""}, {"vent F-1", ""}}},
    {"E4_cap_on_a_bleed_can_be_taken_off",
     OUTLET("shut BV", "leads-to=safe-place shared=no"),
     "F-1",
     {{"prove F-1", "BV O-1"}}},

    /* E5: high and low. */
    {"E5_vent_from_the_high_point_drain_from_the_low",
     "limit L-1; hand HV-1; strainer F-1; shut BA BB; vent O-1 elevation=1_m; vent O-2 "
     "elevation=3_m; tee T-1;"
     "run L-1 HV-1 F-1 T-1 BA O-1; run T-1 BB O-2",
     "F-1",
     {{"vent F-1", "BB O-2"}, {"drain F-1", "BA O-1"}}},

    /* L1: where a piece ends. */
    {"L1_ends_at_a_hand_valve",
     "cap K-1 K-2; hand X; run K-1 X K-2",
     "",
     {{"joined K-1~X X~K-2", "no"}}},
    {"L1_ends_at_a_valve_sealed_open",
     "cap K-1 K-2; valve X globe sealed=open; run K-1 X K-2",
     "",
     {{"joined K-1~X X~K-2", "no"}}},
    {"L1_ends_at_a_check_valve",
     "cap K-1 K-2; valve X check; run K-1 X K-2",
     "",
     {{"joined K-1~X X~K-2", "no"}}},
    {"L1_ends_at_a_relief_valve",
     "cap K-1 K-2; valve X relief; run K-1 X K-2",
     "",
     {{"joined K-1~X X~K-2", "no"}}},
    {"L1_ends_at_a_rupture_disc",
     "cap K-1 K-2; valve X rupture-disc; run K-1 X K-2",
     "",
     {{"joined K-1~X X~K-2", "no"}}},
    {"L1_ends_at_a_valve_of_unknown_kind",
     "cap K-1 K-2; valve X unknown; run K-1 X K-2",
     "",
     {{"joined K-1~X X~K-2", "no"}}},
    {"L1_ends_at_an_open_blind",
     "cap K-1 K-2; blind X spectacle open; run K-1 X K-2",
     "",
     {{"joined K-1~X X~K-2", "no"}}},
    {"L1_ends_at_a_pump", "cap K-1 K-2; pump X; run K-1 X K-2", "", {{"joined K-1~X X~K-2", "no"}}},
    {"L1_ends_at_a_compressor",
     "cap K-1 K-2; compressor X; run K-1 X K-2",
     "",
     {{"joined K-1~X X~K-2", "no"}}},
    {"L1_goes_on_through_a_fitting",
     "cap K-1 K-2; fitting X filter; run K-1 X K-2",
     "",
     {{"joined K-1~X X~K-2", "yes"}}},
    {"L1_goes_on_through_a_vessel",
     "cap K-1 K-2; vessel X drum; run K-1 X K-2",
     "",
     {{"joined K-1~X X~K-2", "yes"}}},
    {"L1_goes_on_through_one_side_of_an_exchanger",
     "cap K-1 K-2 K-3; <exchanger id='X'><side id='a'><port id='a1'/><port id='a2'/></side><side "
     "id='b'>"
     "<port id='b1'/></side></exchanger>; run K-1 X.a1.a2 K-2; run K-3 X.b1",
     "",
     {{"joined K-1~X X~K-2", "yes"}, {"joined K-1~X K-3~X", "no"}}},

    /* L2: opening pressure against the lowest design pressure of the piece (19 barg). */
    {"L2_relief_valve_covers",
     RELIEVED("set-pressure=18_barg"),
     "",
     {{"relief HV-1~T-1", "covered 18.00"}}},
    {"L2_opening_pressure_may_equal_the_design_pressure",
     RELIEVED("set-pressure=19_barg"),
     "",
     {{"relief HV-1~T-1", "covered 19.00"}}},
    {"L2_opening_pressure_above_the_design_pressure_covers_nothing",
     RELIEVED("set-pressure=19.01_barg"),
     "",
     {{"relief HV-1~T-1", "uncovered 19.01"}}},
    {"L2_without_a_cover", PIECE, "", {{"relief HV-1~T-1", "uncovered none"}}},
    {"L2_without_set_pressure_it_covers_nothing",
     RELIEVED(""),
     "",
     {{"relief HV-1~T-1", "uncovered none"}}},
    {"L2_rupture_disc_covers",
     PIECE AIR "valve RD rupture-disc set-pressure=18_barg; run T-1 RD O-1",
     "",
     {{"relief HV-1~T-1", "covered 18.00"}}},
    {"L2_relief_valve_is_reached_only_at_its_inlet",
     PIECE AIR "valve RV relief set-pressure=18_barg; run T-1 ^RV O-1",
     "",
     {{"relief HV-1~T-1", "uncovered none"}}},
    {"L2_declared_back_pressure_is_added",
     RELIEVED("set-pressure=18_barg back-pressure=1.5_barg"),
     "",
     {{"relief HV-1~T-1", "uncovered 19.50"}}},
    {"L2_declared_back_pressure_within_the_design_pressure",
     RELIEVED("set-pressure=17_barg back-pressure=2_barg"),
     "",
     {{"relief HV-1~T-1", "covered 19.00"}}},
    {"L2_balanced_takes_no_back_pressure",
     RELIEVED("set-pressure=18_barg back-pressure=1.5_barg balanced=yes"),
     "",
     {{"relief HV-1~T-1", "covered 18.00"}}},
    {"L2_lowest_design_pressure_of_the_piece_counts",
     RELIEVED("set-pressure=18_barg") "; cap K-1; run service=W T-1 K-1",
     "",
     {{"relief HV-1~T-1", "uncovered 18.00"}}},
    {"L2_design_pressure_that_a_component_declares_counts",
     RELIEVED("set-pressure=18_barg") "; fitting X meter design-pressure=17_barg; cap K-1; run T-1 "
                                      "X K-1",
     "",
     {{"relief HV-1~T-1", "uncovered 18.00"}}},
    {"L2_design_pressure_of_a_vessel_counts",
     RELIEVED("set-pressure=18_barg") "; vessel X drum service=W contents=liquid; run T-1 X",
     "",
     {{"relief HV-1~T-1", "uncovered 18.00"}}},
    {"L2_design_pressure_of_an_exchanger_side_counts",
     RELIEVED("set-pressure=18_barg") "; <exchanger id='X'><side id='a' service='LQ' "
                                      "design-pressure='12 barg'>"
                                      "<port id='p'/></side></exchanger>; run T-1 X.p",
     "",
     {{"relief HV-1~T-1", "uncovered 18.00"}}},
    {"L2_unknown_design_pressure_is_not_covered_by_a_relief_valve",
     RELIEVED("set-pressure=1_barg") "; cap K-1; run service= T-1 K-1",
     "",
     {{"relief HV-1~T-1", "uncovered 1.00"}}},
    {"L2_service_without_design_pressure_is_unknown",
     RELIEVED("set-pressure=1_barg") "; cap K-1; <service id='U' phase='liquid'/>; run service=U "
                                     "T-1 K-1",
     "",
     {{"relief HV-1~T-1", "uncovered 1.00"}}},
    {"L2_open_outlet_covers_the_piece_itself",
     PIECE AIR "run T-1 O-1",
     "",
     {{"relief HV-1~T-1", "covered 0.00"}}},
    {"L2_open_outlet_covers_a_piece_of_unknown_design_pressure",
     PIECE AIR "run service= T-1 O-1",
     "",
     {{"relief HV-1~T-1", "covered 0.00"}}},
    {"L2_open_outlet_reached_through_a_check_valve",
     PIECE AIR "valve CV check; run service= T-1 CV O-1",
     "",
     {{"relief HV-1~T-1", "covered 0.00"}}},
    {"L2_capped_outlet_is_no_outlet",
     PIECE "valve RV relief set-pressure=18_barg; outlet O-1 vent leads-to=safe-place shared=no "
           "fitted=cap; run T-1 RV O-1",
     "",
     {{"relief HV-1~T-1", "uncovered none"}}},
    {"L2_plugged_outlet_is_no_outlet",
     PIECE "valve RV relief set-pressure=18_barg; outlet O-1 vent leads-to=safe-place shared=no "
           "fitted=plug; run T-1 RV O-1",
     "",
     {{"relief HV-1~T-1", "uncovered none"}}},
    {"L2_outlet_not_said_to_be_open_counts_as_capped",
     PIECE "valve RV relief set-pressure=18_barg; outlet O-1 vent leads-to=safe-place shared=no; "
           "run T-1 RV O-1",
     "",
     {{"relief HV-1~T-1", "uncovered none"}}},
    {"L2_flare_or_scrubber_is_the_open",
     PIECE "valve RV relief set-pressure=18_barg; outlet O-1 vent leads-to=flare-or-scrubber "
           "fitted=open; run T-1 RV O-1",
     "",
     {{"relief HV-1~T-1", "covered 18.00"}}},
    {"L2_closed_drain_is_not_the_open",
     PIECE "valve RV relief set-pressure=18_barg; outlet O-1 drain leads-to=closed-drain "
           "fitted=open; run T-1 RV O-1",
     "",
     {{"relief HV-1~T-1", "uncovered none"}}},
    {"L2_recovery_is_not_the_open",
     PIECE "valve RV relief set-pressure=18_barg; outlet O-1 drain leads-to=recovery fitted=open; "
           "run T-1 RV O-1",
     "",
     {{"relief HV-1~T-1", "uncovered none"}}},
    {"L2_water_is_not_the_open",
     PIECE "valve RV relief set-pressure=18_barg; outlet O-1 drain leads-to=water fitted=open; run "
           "T-1 RV O-1",
     "",
     {{"relief HV-1~T-1", "uncovered none"}}},
    {"L2_shared_does_not_matter",
     PIECE "valve RV relief set-pressure=18_barg; outlet O-1 vent leads-to=safe-place shared=yes "
           "fitted=open; run T-1 RV O-1",
     "",
     {{"relief HV-1~T-1", "covered 18.00"}}},
    {"L2_limit_is_not_the_open",
     PIECE "valve RV relief set-pressure=18_barg; limit L-1 dead=yes; run T-1 RV L-1",
     "",
     {{"relief HV-1~T-1", "uncovered none"}}},
    {"L2_best_of_several_covers",
     RELIEVED("set-pressure=18_barg") "; valve RW relief set-pressure=15_barg; outlet O-2 vent "
                                      "leads-to=safe-place fitted=open;"
                                      "run T-1 RW O-2",
     "",
     {{"relief HV-1~T-1", "covered 15.00"}}},

    /* L2: ways out. */
    {"L2_check_valve_in_its_flow_direction",
     "shut HV-1 HV-2; tee T-1 T-2; valve CV check; run HV-1 T-1 CV T-2 HV-2; cap K-1; run T-1 "
     "K-1;" AIR "valve RV relief set-pressure=18_barg; run T-2 RV O-1",
     "",
     {{"relief HV-1~T-1", "covered 18.00"}}},
    {"L2_check_valve_against_its_flow_direction",
     "shut HV-1 HV-2; tee T-1 T-2; valve CV check; run HV-1 T-1 ^CV T-2 HV-2; cap K-1; run T-1 "
     "K-1;" AIR "valve RV relief set-pressure=18_barg; run T-2 RV O-1",
     "",
     {{"relief HV-1~T-1", "uncovered none"}, {"relief T-2~HV-2", "covered 18.00"}}},
    {"L2_control_valve_is_no_way_out",
     "shut HV-1 HV-2; tee T-1; valve X control position=open; run HV-1 X T-1 HV-2;" AIR
     "valve RV relief set-pressure=18_barg; run T-1 RV O-1",
     "",
     {{"relief HV-1~X", "uncovered none"}}},
    {"L2_pump_is_no_way_out",
     "shut HV-1 HV-2; tee T-1; pump X; run HV-1 X T-1 HV-2;" AIR
     "valve RV relief set-pressure=18_barg; run T-1 RV O-1",
     "",
     {{"relief HV-1~X", "uncovered none"}}},
    {"L2_valve_sealed_open_is_a_way_out_both_ways",
     "shut HV-1 HV-2; tee T-1; valve X globe sealed=open; run HV-1 ^X T-1 HV-2;" AIR
     "valve RV relief set-pressure=18_barg; run T-1 RV O-1",
     "",
     {{"relief HV-1~X", "covered 18.00"}}},
    {"L2_valve_sealed_closed_is_no_way_out",
     "shut HV-1 HV-2; tee T-1; valve X globe sealed=closed; run HV-1 X T-1 HV-2;" AIR
     "valve RV relief set-pressure=18_barg; run T-1 RV O-1",
     "",
     {{"relief HV-1~X", "uncovered none"}}},
    {"L2_valve_sealed_open_found_closed_is_no_way_out",
     "shut HV-1 HV-2; tee T-1; valve X globe sealed=open; run HV-1 X T-1 HV-2;" AIR
     "valve RV relief set-pressure=18_barg; run T-1 RV O-1",
     "| X position=closed",
     {{"relief HV-1~X", "uncovered none"}}},
    {"L2_closed_valve_is_no_way_out",
     "shut HV-1 HV-2 X; tee T-1; run HV-1 X T-1 HV-2;" AIR
     "valve RV relief set-pressure=18_barg; run T-1 RV O-1",
     "",
     {{"relief HV-1~X", "uncovered none"}}},
    {"L2_relief_valve_is_no_joint_towards_its_inlet",
     PIECE "tee T-2; shut HV-3; cap K-1; valve RV relief set-pressure=5_barg; run T-1 RV T-2 HV-3 "
           "K-1;" AIR "valve RW relief set-pressure=18_barg; run T-1 RW O-1",
     "",
     {{"relief T-2~HV-3", "uncovered none"}}},
    {"L2_ring_of_check_valves_covers_nothing",
     "tee T-1 T-2; valve CA check; valve CB check; cap K-1 K-2; run T-1 CA T-2 CB T-1; run T-1 "
     "K-1; run T-2 K-2",
     "",
     {{"relief T-1~K-1", "uncovered none"}, {"relief T-2~K-2", "uncovered none"}}},
    {"L2_ring_of_relief_valves_covers_nothing",
     "vessel V-1 drum service=LQ contents=two-phase fill=0.5; vessel V-2 drum service=LQ "
     "contents=two-phase fill=0.5;"
     "valve RA relief set-pressure=5_barg; valve RB relief set-pressure=5_barg; run V-1 RA V-2; "
     "run V-2 RB V-1",
     "",
     {{"relief V-1~RA", "uncovered none"}, {"relief V-2~RB", "uncovered none"}}},
    {"L2_ring_with_one_way_to_the_open_covers_all",
     "vessel V-1 drum service=LQ contents=two-phase fill=0.5; vessel V-2 drum service=LQ "
     "contents=two-phase fill=0.5;"
     "valve RA relief set-pressure=5_barg; valve RB relief set-pressure=5_barg; run V-1 RA V-2; "
     "run V-2 RB V-1;" AIR "valve RC relief set-pressure=6_barg; run V-2 RC O-1",
     "",
     {{"relief V-1~RA", "covered 11.00"}, {"relief V-2~RB", "covered 6.00"}}},

    /* L2: into a vessel. */
    {"L2_vessel_adds_the_pressure_that_covers_it",
     INTO_VESSEL("set-pressure=10_barg", "contents=two-phase fill=0.5", "set-pressure=8_barg"),
     "",
     {{"relief HV-1~T-1", "covered 18.00"}}},
    /* F-NH3-7: a 250 psig valve discharging to a 100 psig vessel opens at about 350 psig (24.13
       barg). */
    {"L2_F_NH3_7_pressures_add_up",
     "<service id='H' phase='liquid' design-pressure='400 psig'/>; shut HV-1 HV-2; tee T-1;"
     "run service=H HV-1 T-1 HV-2;" AIR
     "valve RV relief set-pressure=250_psig; valve SV relief set-pressure=100_psig;"
     "vessel V-1 drum service=LQ contents=two-phase fill=0.5; run service=H T-1 RV V-1; run V-1 SV "
     "O-1",
     "",
     {{"relief HV-1~T-1", "covered 24.13"}}},
    {"L2_sum_above_the_design_pressure",
     INTO_VESSEL("set-pressure=12_barg", "contents=two-phase fill=0.5", "set-pressure=8_barg"),
     "",
     {{"relief HV-1~T-1", "uncovered 20.00"}}},
    {"L2_balanced_valve_into_a_vessel",
     INTO_VESSEL("set-pressure=12_barg balanced=yes", "contents=two-phase fill=0.5",
                 "set-pressure=8_barg"),
     "",
     {{"relief HV-1~T-1", "covered 12.00"}}},
    {"L2_vessel_of_vapour_has_vapour_space",
     INTO_VESSEL("set-pressure=10_barg", "contents=vapour", "set-pressure=8_barg"),
     "",
     {{"relief HV-1~T-1", "covered 18.00"}}},
    {"L2_vessel_full_of_liquid_has_no_vapour_space",
     INTO_VESSEL("set-pressure=10_barg", "contents=liquid", "set-pressure=8_barg"),
     "",
     {{"relief HV-1~T-1", "uncovered none"}}},
    {"L2_two_phase_vessel_without_fill_has_no_declared_vapour_space",
     INTO_VESSEL("set-pressure=10_barg", "contents=two-phase", "set-pressure=8_barg"),
     "",
     {{"relief HV-1~T-1", "uncovered none"}}},
    {"L2_vessel_of_unknown_contents_has_no_declared_vapour_space",
     INTO_VESSEL("set-pressure=10_barg", "", "set-pressure=8_barg"),
     "",
     {{"relief HV-1~T-1", "uncovered none"}}},
    {"L2_vessel_that_is_not_covered_itself_covers_nothing",
     INTO_VESSEL("set-pressure=1_barg", "contents=two-phase fill=0.5", "set-pressure=20_barg"),
     "",
     {{"relief HV-1~T-1", "uncovered none"}}},
    {"L2_vessel_found_full_today_covers_nothing",
     INTO_VESSEL("set-pressure=10_barg", "contents=two-phase fill=0.5", "set-pressure=8_barg"),
     "| V-1 contents=liquid",
     {{"relief HV-1~T-1", "uncovered none"}}},
    {"L2_vessel_covered_by_a_second_vessel",
     PIECE AIR "valve RV relief set-pressure=6_barg; valve SV relief set-pressure=5_barg; valve SW "
               "relief set-pressure=4_barg;"
               "vessel V-1 drum service=LQ contents=two-phase fill=0.5; vessel V-2 drum service=LQ "
               "contents=vapour;"
               "run T-1 RV V-1 SV V-2 SW O-1",
     "",
     {{"relief HV-1~T-1", "covered 15.00"}}},
    {"L2_outlet_to_the_open_goes_before_a_vessel",
     PIECE AIR "valve RV relief set-pressure=10_barg; valve SV relief set-pressure=8_barg; tee "
               "T-2; valve CA check;"
               "valve CB check; outlet O-2 vent leads-to=safe-place fitted=open; vessel V-1 drum "
               "service=LQ contents=vapour;"
               "run T-1 RV T-2 CA V-1 SV O-1; run T-2 CB O-2",
     "",
     {{"relief HV-1~T-1", "covered 10.00"}}},
    {"L2_lowest_of_several_back_pressures",
     PIECE AIR
     "outlet O-2 vent leads-to=safe-place fitted=open; valve RV relief set-pressure=10_barg; tee "
     "T-2;"
     "valve CA check; valve CB check; valve SV relief set-pressure=8_barg; valve SW relief "
     "set-pressure=6_barg;"
     "vessel V-1 drum service=LQ contents=vapour; vessel V-2 drum service=LQ contents=vapour;"
     "run T-1 RV T-2 CA V-1 SV O-1; run T-2 CB V-2 SW O-2",
     "",
     {{"relief HV-1~T-1", "covered 16.00"}}},
    {"L2_outlet_side_blocked_by_a_closed_valve_covers_nothing",
     PIECE AIR "valve RV relief set-pressure=18_barg; shut X; run T-1 RV X O-1",
     "",
     {{"relief HV-1~T-1", "uncovered none"}}},

    /* L1, L2: three-way valves. */
    {"L2_three_way_the_highest_behind_any_position_counts",
     THREE_WAY("positions=a-c_b-c", "set-pressure=10_barg", "set-pressure=15_barg"),
     "",
     {{"relief HV-1~T-1", "covered 15.00"}}},
    {"L2_three_way_with_one_side_above_the_design_pressure",
     THREE_WAY("positions=a-c_b-c", "set-pressure=10_barg", "set-pressure=20_barg"),
     "",
     {{"relief HV-1~T-1", "uncovered 20.00"}}},
    {"L2_three_way_with_one_side_uncovered",
     THREE_WAY("positions=a-c_b-c", "set-pressure=10_barg", ""),
     "",
     {{"relief HV-1~T-1", "uncovered none"}}},
    {"L2_three_way_without_declared_positions",
     THREE_WAY("", "set-pressure=10_barg", "set-pressure=15_barg"),
     "",
     {{"relief HV-1~T-1", "uncovered none"}}},
    {"L2_three_way_without_a_common_port",
     THREE_WAY("positions=a-c_b-c_a-b", "set-pressure=10_barg", "set-pressure=15_barg"),
     "",
     {{"relief HV-1~T-1", "uncovered none"}}},
    {"L2_three_way_is_no_way_out_from_another_port",
     PIECE AIR "valve X three-way positions=a-c_b-c; cap K-1; valve RV relief set-pressure=10_barg;"
               "run T-1 X.a.c RV O-1; pipe P X.b K-1.in",
     "",
     {{"relief HV-1~T-1", "uncovered none"}}},
    {"L2_three_way_with_open_outlets_behind_both",
     PIECE AIR
     "outlet O-2 vent leads-to=safe-place fitted=open; valve X three-way positions=a-c_b-c;"
     "run T-1 X.c.a O-1; pipe P X.b O-2.in",
     "",
     {{"relief HV-1~T-1", "covered 0.00"}}},

    {"L2_three_way_to_the_open_and_to_a_covered_vessel",
     PIECE AIR
     "outlet O-2 vent leads-to=safe-place fitted=open; valve RV relief set-pressure=10_barg;"
     "valve X three-way positions=a-c_b-c; vessel V-1 drum service=LQ contents=vapour; valve SV "
     "relief set-pressure=8_barg;"
     "run T-1 RV X.c.a O-1; run X.b V-1 SV O-2",
     "",
     {{"relief HV-1~T-1", "covered 18.00"}}},

    /* L3 without warming. */
    {"L3_liquid_is_full", "cap K-1 K-2; run service=LQ K-1 K-2", "", {{"full K-1~K-2", "yes"}}},
    {"L3_vapour_is_not_full", "cap K-1 K-2; run service=VP K-1 K-2", "", {{"full K-1~K-2", "no"}}},
    {"L3_two_phase_line_without_a_vessel_is_full",
     "cap K-1 K-2; run service=WT K-1 K-2",
     "",
     {{"full K-1~K-2", "yes"}}},
    {"L3_service_not_said_is_full",
     "cap K-1 K-2; run service= K-1 K-2",
     "",
     {{"full K-1~K-2", "yes"}}},
    {"L3_unknown_phase_is_full",
     "<service id='U' phase='unknown'/>; cap K-1 K-2; run service=U K-1 K-2",
     "",
     {{"full K-1~K-2", "yes"}}},
    {"L3_one_liquid_service_among_vapour_is_full",
     "cap K-1 K-2; tee T-1; run service=VP K-1 T-1; run T-1 K-2",
     "",
     {{"full K-1~T-1", "yes"}}},
    {"L3_two_phase_line_with_vapour_space_is_not_full",
     "cap K-1; vessel V-1 drum service=WT contents=two-phase fill=0.4; run service=WT K-1 V-1",
     "",
     {{"full K-1~V-1", "no"}}},
    {"L3_vessel_of_vapour_is_not_full",
     "cap K-1; vessel V-1 drum service=WT contents=vapour; run service=WT K-1 V-1",
     "",
     {{"full K-1~V-1", "no"}}},
    {"L3_two_phase_vessel_without_fill_is_full",
     "cap K-1; vessel V-1 drum service=WT contents=two-phase;"
     "run service=WT K-1 V-1",
     "",
     {{"full K-1~V-1", "yes"}}},
    {"L3_vessel_found_full_today_is_full",
     "cap K-1; vessel V-1 drum service=WT contents=two-phase fill=0.4;"
     "run service=WT K-1 V-1",
     "| V-1 contents=liquid",
     {{"full K-1~V-1", "yes"}}},
    {"L3_not_full_has_that_state_also_where_it_has_cover",
     "limit L-1; hand HV-1; strainer F-1; tee T-1; cap K-1;" AIR
     "valve RV relief set-pressure=18_barg;"
     "run service=VP L-1 HV-1 F-1 T-1 K-1; run service=VP T-1 RV O-1",
     "F-1",
     {{"shut-in F-1", "not-full inside"}, {"finding L6 F-1", "none"}}},
    {"L3_not_full_and_below_design_pressure_needs_no_cover",
     "limit L-1; hand HV-1; strainer F-1; cap K-1;"
     "run service=VP L-1 HV-1 F-1 K-1",
     "F-1",
     {{"shut-in F-1", "not-full inside"}, {"finding L6 F-1", "none"}}},
    {"L3_vapour_that_can_condense_is_judged_at_saturation",
     "<service id='LP' substance='ammonia' phase='vapour' temperature='-10 degC' pressure='1 barg'"
     " design-pressure='10 barg'/>; limit L-1; hand HV-1; strainer F-1; cap K-1;"
     "run service=LP L-1 HV-1 F-1 K-1",
     "F-1",
     {{"shut-in F-1", "uncovered inside"}, {"finding L6 F-1", "blocks"}}},
    {"L3_dry_gas_is_judged_at_constant_density",
     "<service id='LP' substance='ammonia' phase='vapour' temperature='-10 degC' pressure='1 barg'"
     " design-pressure='10 barg' condenses='no'/>; limit L-1; hand HV-1; strainer F-1; cap K-1;"
     "run service=LP L-1 HV-1 F-1 K-1",
     "F-1",
     {{"shut-in F-1", "not-full inside"}, {"finding L6 F-1", "none"}}},
    {"L3_vapour_without_design_pressure_needs_cover",
     "<service id='LP' substance='ammonia' phase='vapour' temperature='-10 degC' pressure='1 "
     "barg'/>;"
     " limit L-1; hand HV-1; strainer F-1; cap K-1; run service=LP L-1 HV-1 F-1 K-1",
     "F-1",
     {{"shut-in F-1", "uncovered inside"}, {"finding L6 F-1", "blocks"}}},
    {"L3_vapour_of_unknown_substance_needs_cover",
     "<service id='LP' substance='gas X' phase='vapour' temperature='-10 degC' pressure='1 barg'"
     " design-pressure='10 barg'/>; limit L-1; hand HV-1; strainer F-1; cap K-1;"
     "run service=LP L-1 HV-1 F-1 K-1",
     "F-1",
     {{"shut-in F-1", "uncovered inside"}, {"finding L6 F-1", "blocks"}}},

    /* L6: what the plan shuts in, in its last state. */
    {"L6_inside_uncovered",
     "limit L-1; hand HV-1; strainer F-1; cap K-1; run service=W L-1 HV-1 F-1 K-1",
     "F-1",
     {{"shut-in F-1", "uncovered inside"},
      {"closed-by F-1", "HV-1"},
      {"finding L6 F-1", "blocks"},
      {"size F-1", "3.927 L 3.927 kg"}}},
    {"L6_inside_covered",
     "limit L-1; hand HV-1; strainer F-1; tee T-1; cap K-1;" AIR
     "valve RV relief set-pressure=18_barg;"
     "run L-1 HV-1 F-1 T-1 K-1; run T-1 RV O-1",
     "F-1",
     {{"shut-in F-1", "covered inside"}, {"cover F-1", "O-1 RV"}, {"finding L6 F-1", "none"}}},
    /* L6: what removes the gap. Saturation of ammonia at 40 degC is 14.5 barg (F-NH3, equation of
     * state): vapour stays below 19 barg, not below 10 barg. */
    {"L6_remedy_none_is_said",
     "limit L-1; hand HV-1; strainer F-1; cap K-1; run service=W L-1 HV-1 F-1 K-1",
     "F-1",
     {{"remedies F-1", "none"}}},
    {"L6_remedy_valve_to_leave_open",
     OUTSIDE("valve X check", CLOSED_RELIEF("shut HV-2", "18_barg")),
     "F-1",
     {{"shut-in T-1", "uncovered outside"}, {"remedies T-1", "open HV-2"}}},
    {"L6_remedy_open_only_if_the_relief_valve_opens_in_time",
     OUTSIDE("valve X check", CLOSED_RELIEF("shut HV-2", "19.5_barg")),
     "F-1",
     {{"shut-in T-1", "uncovered outside"}, {"remedies T-1", "none"}}},
    {"L6_remedy_open_not_through_a_valve_sealed_closed",
     OUTSIDE("valve X check", CLOSED_RELIEF("valve HV-2 globe closed sealed=closed", "18_barg")),
     "F-1",
     {{"remedies T-1", "none"}}},
    {"L6_remedy_open_not_through_a_seized_valve",
     OUTSIDE("valve X check", CLOSED_RELIEF("shut HV-2", "18_barg")),
     "F-1 | HV-2 condition=seized",
     {{"remedies T-1", "none"}}},
    {"L6_remedy_open_not_to_a_weaker_part",
     OUTSIDE("valve X check",
             AIR "shut HV-2; valve RV relief set-pressure=18_barg;"
                 "<service id='WEAK' substance='ammonia' phase='liquid' temperature='-10 degC' "
                 "pressure='2 barg' design-pressure='16 barg'/>; tee T-2;"
                 "run service=WEAK HV-2 T-2; run T-2 RV O-1; run T-1 HV-2"),
     "F-1",
     {{"remedies T-1", "none"}}},
    {"L6_remedy_open_not_to_a_higher_pressure",
     OUTSIDE("valve X check",
             AIR "shut HV-2; valve RV relief set-pressure=18_barg;"
                 "<service id='HIGH' substance='ammonia' phase='liquid' temperature='-10 degC' "
                 "pressure='20 barg' design-pressure='25 barg'/>; tee T-2;"
                 "run service=HIGH HV-2 T-2; run T-2 RV O-1; run T-1 HV-2"),
     "F-1",
     {{"remedies T-1", "none"}}},
    {"L6_remedy_drain_inside_to_a_safe_place",
     OUTLET("shut BV", "leads-to=safe-place shared=no"),
     "F-1",
     {{"shut-in F-1", "uncovered inside"}, {"remedies F-1", "drain BV O-1"}}},
    {"L6_remedy_drain_outside_behind_a_valve_already_shut",
     OUTSIDE("shut X", "shut DV; drain O-1; run T-1 DV O-1"),
     "F-1",
     {{"shut-in T-1", "uncovered outside"}, {"remedies T-1", "drain DV O-1"}}},
    {"L6_remedy_drain_not_where_a_check_valve_lets_more_in",
     OUTSIDE("valve X check", "shut DV; drain O-1; run T-1 DV O-1"),
     "F-1",
     {{"shut-in T-1", "uncovered outside"}, {"remedies T-1", "none"}}},
    {"L6_remedy_drain_not_to_a_shared_outlet",
     OUTSIDE("shut X", "shut DV; outlet O-1 drain leads-to=safe-place shared=yes; run T-1 DV O-1"),
     "F-1",
     {{"remedies T-1", "none"}}},
    {"L6_remedy_drain_not_where_it_leads_is_not_said",
     OUTSIDE("shut X", "shut DV; outlet O-1 drain shared=no; run T-1 DV O-1"),
     "F-1",
     {{"remedies T-1", "none"}}},
    {"L6_remedy_drain_by_two_valves",
     OUTSIDE("shut X", "shut DV DW; drain O-1; run T-1 DV DW O-1"),
     "F-1",
     {{"remedies T-1", "drain DV DW O-1"}}},
    {"L6_remedy_drain_to_recovery_runs_downhill",
     DOWN("LQ", "elevation=2_m", "shut DV"),
     "F-1",
     {{"shut-in F-1", "uncovered inside"}, {"remedies F-1", "drain DV O-2"}}},
    {"L6_remedy_drain_to_recovery_needs_elevations",
     DOWN("LQ", "", "shut DV"),
     "F-1",
     {{"shut-in F-1", "uncovered inside"}, {"remedies F-1", "none"}}},
    {"L6_remedy_drain_to_recovery_not_with_a_pocket",
     DOWN("LQ", "elevation=0.5_m", "shut DV"),
     "F-1",
     {{"shut-in F-1", "uncovered inside"}, {"remedies F-1", "none"}}},
    {"L6_remedy_drain_to_recovery_not_if_vapour_is_too_strong",
     "<service id='LOW' substance='ammonia' phase='liquid' temperature='-10 degC' "
     "pressure='2 barg' design-pressure='10 barg'/>;" DOWN("LOW", "elevation=2_m", "shut DV"),
     "F-1",
     {{"shut-in F-1", "uncovered inside"}, {"remedies F-1", "none"}}},
    {"L6_remedy_drain_to_recovery_not_if_its_vapour_is_unknown",
     DOWN("W", "elevation=2_m", "shut DV"),
     "F-1",
     {{"shut-in F-1", "uncovered inside"}, {"remedies F-1", "none"}}},
    {"L6_remedy_order_last_to_the_receiver",
     BOIL_OFF("LQ", "role=low-pressure") "; run V-1 RV O-1",
     "F-1",
     {{"shut-in F-1", "uncovered inside"}, {"remedies F-1", "order HV-2 V-1"}}},
    {"L6_remedy_order_only_if_the_receiver_is_covered",
     BOIL_OFF("LQ", "role=low-pressure") "; run V-1 RV",
     "F-1",
     {{"shut-in F-1", "uncovered inside"}, {"remedies F-1", "none"}}},
    {"L6_remedy_order_only_to_a_low_pressure_vessel",
     BOIL_OFF("LQ", "role=high-pressure") "; run V-1 RV O-1",
     "F-1",
     {{"shut-in F-1", "uncovered inside"}, {"remedies F-1", "none"}}},
    {"L6_remedy_order_only_for_what_boils_off",
     BOIL_OFF("W", "role=low-pressure") "; run V-1 RV O-1",
     "F-1",
     {{"shut-in F-1", "uncovered inside"}, {"remedies F-1", "none"}}},
    {"L6_outside_against_a_valve_already_shut",
     "limit L-1; shut HV-0; hand HV-1; strainer F-1; cap K-1; run L-1 HV-0 HV-1 F-1 K-1",
     "F-1",
     {{"points", "HV-1"},
      {"shut-in HV-0~HV-1", "uncovered outside"},
      {"closed-by HV-0~HV-1", "HV-0 HV-1"},
      {"finding L6 HV-0~HV-1", "blocks"}}},
    {"L6_outside_against_a_valve_found_shut_today",
     "limit L-1; hand HV-0 HV-1; strainer F-1; cap K-1; run L-1 HV-0 HV-1 F-1 K-1",
     "F-1 | HV-0 position=closed",
     {{"shut-in HV-0~HV-1", "uncovered outside"}, {"closed-by HV-0~HV-1", "HV-0 HV-1"}}},
    {"L6_outside_against_a_valve_of_unknown_position",
     "limit L-1; valve HV-0 globe unknown lockable; hand HV-1; strainer F-1; cap K-1; run L-1 HV-0 "
     "HV-1 F-1 K-1",
     "F-1",
     {{"shut-in HV-0~HV-1", "uncovered outside"}}},
    {"L6_outside_beyond_a_valve_of_unknown_position",
     "limit L-1; shut HV-9; valve HV-0 globe unknown lockable; hand HV-1; tee T-1; strainer F-1; "
     "cap K-1; run L-1 HV-9 T-1 HV-0 HV-1 F-1 K-1",
     "F-1",
     {{"shut-in HV-0~HV-1", "uncovered outside"},
      {"shut-in T-1", "uncovered outside"},
      {"closed-by T-1", "HV-0 HV-9"}}},
    {"L6_outside_against_a_check_valve",
     "limit L-1; valve CV check; hand HV-1; strainer F-1; cap K-1; run L-1 CV HV-1 F-1 K-1",
     "F-1",
     {{"shut-in CV~HV-1", "uncovered outside"},
      {"closed-by CV~HV-1", "CV HV-1"},
      {"finding L6 CV~HV-1", "blocks"}}},
    {"L6_outside_against_a_control_valve",
     "limit L-1; valve CV control position=open; hand HV-1; strainer F-1; cap K-1; run L-1 CV HV-1 "
     "F-1 K-1",
     "F-1",
     {{"shut-in CV~HV-1", "uncovered outside"}}},
    {"L6_outside_covered_by_a_relief_valve",
     "limit L-1; valve CV check; hand HV-1; tee T-1; strainer F-1; cap K-1;" AIR
     "valve RV relief set-pressure=18_barg;"
     "run L-1 CV T-1 HV-1 F-1 K-1; run T-1 RV O-1",
     "F-1",
     {{"shut-in CV~T-1", "covered outside"},
      {"cover CV~T-1", "O-1 RV"},
      {"finding L6 T-1", "none"},
      {"finding L6 CV~T-1", "none"}}},
    {"L6_what_the_plan_did_not_move_is_not_its_doing",
     "limit L-1; shut HV-0 HV-1; strainer F-1; cap K-1; run L-1 HV-0 HV-1 F-1 K-1",
     "F-1",
     {{"shut-in HV-0~HV-1", "none"}, {"finding L6", "none"}}},
    {"L6_valve_sealed_open_is_named_as_a_condition",
     "limit L-1; hand HV-1; valve X globe sealed=open; strainer F-1; tee T-1; cap K-1;" AIR
     "valve RV relief set-pressure=18_barg; run L-1 HV-1 F-1 X T-1 K-1; run T-1 RV O-1",
     "F-1",
     {{"shut-in F-1", "covered inside"}, {"conditions F-1", "X"}}},
    {"L6_manual_opening_held_open_is_named_as_a_condition",
     "limit L-1; hand HV-1 HV-2; valve X control manual-opening=yes; strainer F-1; tee T-1;"
     "vessel V-1 drum role=low-pressure contents=liquid;" AIR
     "valve RV relief set-pressure=18_barg;"
     "run L-1 HV-1 F-1 X T-1 HV-2 V-1; run T-1 RV O-1",
     "F-1",
     {{"shut-in F-1", "covered inside"}, {"conditions F-1", "X"}}},
    {"L6_finding_names_the_lowest_id_bytewise",
     "limit L-1; hand HV-1; strainer Z-1; cap A-1; run L-1 HV-1 Z-1 A-1",
     "Z-1",
     {{"finding L6 A-1", "blocks"}}},
    {"L6_finding_can_be_accepted_by_name",
     "limit L-1; valve CV check; hand HV-1; strainer F-1; cap K-1;"
     "run L-1 CV HV-1 F-1 K-1",
     "F-1 accept=L6:CV~HV-1",
     {{"finding L6 CV~HV-1", "accepted"}, {"ready", "no"}}},

    /* L7: body cavities (F-VLV-9, from memory). */
    {"L7_ball_valve_in_liquid_is_named",
     INSIDE("hand X") "; valve HB ball open lockable; limit L-2; run L-2 HB F-1",
     "F-1",
     {{"finding L7 HB", "note"}}},
    {"L7_gate_valve_in_liquid_is_named",
     INSIDE("hand X") "; valve HB gate open lockable; limit L-2; run L-2 HB F-1",
     "F-1",
     {{"finding L7 HB", "note"}}},
    {"L7_globe_valve_has_no_cavity", INSIDE("hand X"), "F-1", {{"finding L7", "none"}}},
    {"L7_relieved_cavity_is_not_named",
     INSIDE(
         "hand X") "; valve HB ball open lockable cavity-relieved=yes; limit L-2; run L-2 HB F-1",
     "F-1",
     {{"finding L7", "none"}}},
    {"L7_cavity_said_not_to_be_relieved_is_named",
     INSIDE("hand X") "; valve HB ball open lockable cavity-relieved=no; limit L-2; run L-2 HB F-1",
     "F-1",
     {{"finding L7 HB", "note"}}},
    {"L7_ball_valve_in_vapour_is_not_named",
     INSIDE("hand X") "; valve HB ball open lockable; limit L-2; run service=VP L-2 HB F-1",
     "F-1",
     {{"finding L7", "none"}}},

    /* L8: every relief output says what is not looked at. */
    {"L8_thermal_expansion_only", INSIDE("hand X"), "F-1", {{"finding L8 F-1", "note"}}},

    /* D4: relief paths of equipment that holds fluid. */
    {"D4_vessel_that_loses_its_last_relief_path",
     "vessel V-1 drum service=LQ contents=liquid; hand HV-1; tee T-1; strainer F-1; cap K-1;" AIR
     "valve RV relief set-pressure=18_barg; run V-1 HV-1 T-1 F-1 K-1; run T-1 RV O-1",
     "F-1 accept=D4:V-1",
     {{"finding D4 V-1", "final"}, {"feasible", "yes"}, {"ready", "no"}}},
    {"D4_vessel_with_a_relief_valve_of_its_own",
     "vessel V-1 drum service=LQ contents=liquid; hand HV-1; tee T-1; strainer F-1; cap K-1;" AIR
     "valve RV relief set-pressure=18_barg; run V-1 HV-1 T-1 F-1 K-1; run V-1 RV O-1",
     "F-1",
     {{"finding D4", "none"}}},
    {"D4_vessel_with_a_second_path_left",
     "vessel V-1 drum service=LQ contents=liquid; hand HV-1; tee T-1; strainer F-1; cap K-1;" AIR
     "outlet O-2 vent leads-to=safe-place fitted=open; valve RV relief set-pressure=18_barg; valve "
     "RW relief set-pressure=19_barg;"
     "run V-1 HV-1 T-1 F-1 K-1; run T-1 RV O-1; run V-1 RW O-2",
     "F-1",
     {{"finding D4", "none"}}},
    {"D4_vessel_without_a_relief_path_today_loses_none",
     "vessel V-1 drum service=LQ contents=liquid; hand HV-1; strainer F-1; cap K-1; run V-1 HV-1 "
     "F-1 K-1",
     "F-1",
     {{"finding D4", "none"}}},
    {"D4_path_through_a_valve_that_is_closed_today_is_none",
     "vessel V-1 drum service=LQ contents=liquid; shut HV-1; tee T-1; strainer F-1; cap K-1;" AIR
     "valve RV relief set-pressure=18_barg; run V-1 HV-1 T-1 F-1 K-1; run T-1 RV O-1",
     "F-1",
     {{"finding D4", "none"}}},
    {"D4_path_through_a_valve_sealed_open",
     "vessel V-1 drum service=LQ contents=liquid; valve HV-1 globe sealed=open lockable; tee T-1; "
     "strainer F-1; cap K-1;" AIR
     "valve RV relief set-pressure=18_barg; run V-1 HV-1 T-1 F-1 K-1; run T-1 RV O-1",
     "F-1",
     {{"finding D4 V-1", "final"}}},
    {"D4_exchanger_that_loses_its_last_relief_path",
     "<exchanger id='E-1'><side id='a' volume='10 L' service='LQ' contents='liquid'><port "
     "id='a1'/><port id='a2'/></side>"
     "</exchanger>; limit L-1; valve CV check; hand HV-1; tee T-1; strainer F-1; cap K-1;" AIR
     "valve RV relief set-pressure=18_barg; run L-1 CV E-1.a1.a2 HV-1 T-1 F-1 K-1; run T-1 RV O-1",
     "F-1",
     {{"finding D4 E-1", "final"}}},
    {"D4_empty_exchanger_has_none_to_lose",
     "<exchanger id='E-1'><side id='a' volume='10 L' service='LQ' contents='none'><port "
     "id='a1'/><port id='a2'/></side>"
     "</exchanger>; limit L-1; valve CV check; hand HV-1; tee T-1; strainer F-1; cap K-1;" AIR
     "valve RV relief set-pressure=18_barg; run L-1 CV E-1.a1.a2 HV-1 T-1 F-1 K-1; run T-1 RV O-1",
     "F-1",
     {{"finding D4", "none"}}},
    {"D4_pump_that_loses_its_last_relief_path",
     "pump P-1; limit L-1; hand HV-1; tee T-1; strainer F-1; cap K-1;" AIR
     "valve RV relief set-pressure=18_barg;"
     "run L-1 P-1 HV-1 T-1 F-1 K-1; run T-1 RV O-1",
     "F-1",
     {{"finding D4 P-1", "final"}}},
    {"D4_target_vessel_that_loses_its_last_relief_path",
     "vessel V-1 drum service=LQ contents=liquid; limit L-1; hand HV-1; tee T-1;" AIR
     "valve RV relief set-pressure=18_barg; run V-1 HV-1 T-1 L-1; run T-1 RV O-1",
     "V-1",
     {{"points", "HV-1"}, {"finding D4 V-1", "final"}}},
};

int main(void)
{
    return kit_main(rows, sizeof rows / sizeof rows[0], NULL, 0);
}
