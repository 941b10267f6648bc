/* What a person who has done this work looks for in the steps: heat first (N3, N5), what follows a
 * draining liquid (E2), spaces between that stay full (I2), proof against hardly any pressure (P4),
 * what is filled before it is energised (P6), no vacuum on a tank (P6), look-alikes (I8). One row a
 * sentence.
 *
 * Sources: rules N3 to N5, P2 to P6, P8, E2, E3, I8, L6, P9 in their own words; OSHA 29 CFR
 * 1910.147(d)(2); else common practice, no source. Plants are invented. Notation: plantkit.h,
 * kit_ask.c. */
#include "plantkit.h"

/* Hot water over solvent in one exchanger, each side between two hand valves. `hot`, `cold`:
 * services of the sides. */
#define HEATER(hot, cold)                                                                          \
    "<service id='H' substance='water' phase='liquid' temperature='80 degC' pressure='3 barg' "    \
    "design-pressure='10 barg'/>;"                                                                 \
    "<service id='S' substance='solvent' phase='liquid' temperature='20 degC' pressure='4 barg' "  \
    "design-pressure='16 barg' density='870 kg/m3' hazard='H225'/>;"                               \
    "<service id='U' substance='solvent' phase='liquid' pressure='4 barg' density='870 kg/m3' "    \
    "design-pressure='16 barg' hazard='H225'/>;"                                                   \
    "limit L-1 L-2 L-3 L-4; hand A-1 A-2 Z-1 Z-2;"                                                 \
    "<exchanger id='X' kind='heater' feeds='complete'><side id='shell' volume='60 L' "             \
    "contents='liquid' service='" cold "'><port id='in'/><port id='out'/></side>"                  \
    "<side id='tubes' volume='40 L' contents='liquid' service='" hot "'><port id='win'/>"          \
    "<port id='wout'/></side></exchanger>;"                                                        \
    "pipe P-1 L-1.in A-1.in service=" cold "; pipe P-2 A-1.out X.in service=" cold ";"             \
    "pipe P-3 X.out A-2.in service=" cold "; pipe P-4 A-2.out L-2.in service=" cold ";"            \
    "pipe W-1 L-3.in Z-1.in service=" hot "; pipe W-2 Z-1.out X.win service=" hot ";"              \
    "pipe W-3 X.wout Z-2.in service=" hot "; pipe W-4 Z-2.out L-4.in service=" hot
/* An exchanger behind a point; `other`, `own`: degrees Celsius of its sides. */
#define BESIDE(other, own)                                                                         \
    "<service id='H' substance='water' phase='liquid' temperature='" other " degC' pressure='3 "   \
    "barg' design-pressure='10 barg'/>; <service id='S' substance='water' phase='liquid' "         \
    "temperature='" own " degC' pressure='4 barg' design-pressure='16 barg'/>; "                   \
    "limit L-1 L-2 L-3 L-4; hand HV-1 HV-2; strainer F-1; <exchanger id='X' kind='heater' "        \
    "feeds='complete'><side id='s' volume='1 L' service='S'><port id='in'/><port id='out'/>"       \
    "</side><side id='t' volume='1 L' service='H'><port id='win'/><port id='wout'/></side>"        \
    "</exchanger>; run service=S L-1 HV-1 F-1 HV-2 X.in.out L-2; run service=H L-3 X.win.wout L-4"
/* A strainer with bleed, drain and gauge, between a limit and a cap; the service is a solvent. */
#define SOLVENT                                                                                    \
    "<service id='S' substance='solvent' phase='liquid' temperature='20 degC' pressure='4 barg' "  \
    "design-pressure='16 barg' density='870 kg/m3' hazard='H225'/>;"
#define ROOM(service)                                                                              \
    "limit L-1; hand HV-1 elevation=2_m; strainer F-1 elevation=2_m; cap K-1 elevation=2_m; "      \
    "cap K-2 elevation=3_m; tee T-1 elevation=1_m; tee T-2 T-3 elevation=2_m; "                    \
    "shut BV elevation=2.5_m; shut DV elevation=0.5_m; hand GV elevation=2.5_m; "                  \
    "vent O-1 elevation=3_m; drain O-2 elevation=0_m; "                                            \
    "<gauge id='PI-1' kind='pressure' on='T-3~GV' via='GV'/>;"                                     \
    "run service=" service " L-1 HV-1 T-1 F-1 T-2 T-3 K-1; run service=" service " T-2 BV O-1;"    \
    "run service=" service " T-1 DV O-2; run service=" service " T-3 GV K-2"

/* A vessel whose relief valve blows into a low side that can push back; `leads`: where its drain
 * leads to. All at one height but the drain. */
#define RELIEVED(leads)                                                                            \
    "limit L-1; hand HV-1 HV-9 elevation=2_m; tee T-1 T-2 T-3 elevation=2_m; cap K-1 "             \
    "elevation=2_m; "                                                                              \
    "vessel V-2 drum contents=liquid volume=10_L bottom=2_m shape=vertical diameter=0.2_m "        \
    "length=0.3183_m heads=flat +a@2; strainer F-1 elevation=2_m; "                                \
    "valve R relief set-pressure=15_barg elevation=2_m; valve R-9 relief set-pressure=3_barg; "    \
    "outlet O-9 vent leads-to=safe-place shared=no fitted=open; "                                  \
    "vessel V-9 drum contents=two-phase fill=0.3; shut DR elevation=1_m; "                         \
    "outlet O drain leads-to=" leads " shared=no fitted=plug elevation=0_m; "                      \
    "shut BV elevation=3_m; vent O-2 elevation=4_m; "                                              \
    "run L-1 HV-1 T-1 F-1 T-2 T-3 V-2.a; run T-2 R HV-9 V-9; run V-9 R-9 O-9; run T-1 DR O; "      \
    "run T-3 BV O-2"

static const kit_row rows[] = {
    /* Relief paths that are closed once the section is empty (D4, P1). */
    {"D4_relief_path_is_closed_in_a_stage_of_its_own_once_it_is_empty",
     RELIEVED("recovery"),
     "F-1",
     {{"steps isolate", "HV-1 HV-9"},
      {"tag HV-9", "close open>closed lock: Do Not Open"},
      {"finding D4", "none"},
      {"assumed D4 V-2", "yes"},
      {"says verify Before the relief path by HV-9 is closed", "yes"}}},
    {"D4_outlet_open_to_the_air_does_not_empty_it_before",
     RELIEVED("safe-place"),
     "F-1",
     {{"finding D4 V-2", "final"},
      {"assumed D4 V-2", "no"},
      {"says verify Before the relief", "no"}}},

    /* Heat of the other side (N3, N5). */
    {"N5_warmer_side_is_closed_before_the_cooler_one",
     HEATER("H", "S"),
     "X",
     {{"steps isolate", "Z-1 X Z-2 A-1 A-2"},
      {"back remove", "A-1 A-2 Z-1 Z-2"},
      {"says shut-down Take the heat off X first", "yes"},
      {"says isolate leave its cooler side open (A-1 and A-2)", "yes"}}},
    {"N5_side_of_unknown_temperature_counts_as_the_warmer",
     HEATER("U", "S"),
     "X",
     {{"steps isolate", "Z-1 X Z-2 A-1 A-2"}}},
    {"N5_sides_of_one_temperature_have_no_order",
     HEATER("S", "S"),
     "X",
     {{"steps isolate", "A-1 Z-1 A-2 Z-2"}, {"says shut-down Take the heat off", "no"}}},
    {"N3_other_side_outside_is_kept_from_heating",
     HEATER("H", "S"),
     "P-3",
     {{"says shut-down Keep heat off X: its other side (H, 80 degC)", "yes"},
      {"assumed N5 X", "yes"}}},
    {"N3_cooler_side_outside_heats_nothing",
     HEATER("H", "S"),
     "W-3",
     {{"says shut-down Keep heat off X", "no"}, {"assumed N5 X", "no"}}},
    {"N5_what_scalds_is_said",
     "limit L-1; hand HV-1; strainer F-1; shut BV DV; tee T-1 T-2; cap K-1; "
     "<service id='H' substance='water' phase='liquid' temperature='80 degC' pressure='3 barg' "
     "design-pressure='10 barg'/>;"
     "vent O-1; drain O-2; run service=H L-1 HV-1 T-1 F-1 T-2 K-1; run service=H T-2 BV O-1; "
     "run service=H T-1 DV O-2",
     "F-1",
     {{"says release It scalds: H runs at 80 degC", "yes"}}},

    /* Out of service, vessels, ways that act by themselves. */
    {"F_OSH_1_orderly_shutdown_comes_before_the_first_valve",
     ROOM("LQ"),
     "F-1",
     {{"says shut-down Take F-1 out of service", "yes"}}},
    {"N4_vessel_inside_is_emptied_while_gas_can_follow",
     "limit L-1; hand HV-1; strainer F-1; vessel V-1 tank contents=liquid; run L-1 HV-1 F-1 V-1",
     "F-1",
     {{"says shut-down Empty V-1 in the plant's own way", "yes"},
      {"back-says remove Fill V-1 slowly to its normal level", "yes"}}},
    {"P2_what_acts_by_itself_on_the_way_to_the_receiver_is_seen_open",
     "limit L-1; hand HV-1 HV-2; valve MV control drive=motor; strainer F-1; vessel V-1 drum "
     "role=low-pressure contents=liquid; run L-1 HV-1 F-1 HV-2 MV V-1",
     "F-1",
     {{"says shut-down See that MV on the way to V-1 stands open", "yes"}}},
    {"P2_what_is_opened_inside_stands_open_while_it_is_pumped_down",
     "limit L-1; hand HV-1 HV-2; valve SV solenoid manual-opening=yes; strainer F-1; vessel V-1 "
     "drum "
     "role=low-pressure contents=liquid; run L-1 HV-1 SV F-1 HV-2 V-1",
     "F-1",
     {{"says shut-down Have SV driven open by control", "yes"}}},
    {"I2_joint_without_a_bleed_of_its_own_is_blinded_first",
     "limit L-1 L-2; hand HV-1 HV-2; valve X control; tee T-1; shut BV; vent O-1; "
     "run L-1 HV-1 T-1; run ends=flanged_flanged T-1 X HV-2; run HV-2 L-2; run T-1 BV O-1",
     "X work=open,grade=positive",
     {{"steps isolate", "HV-1 HV-2 X~HV-2 T-1~X"},
      {"back remove", "T-1~X X~HV-2 HV-1 HV-2"},
      {"says isolate part the joint as if it stood under pressure", "yes"}}},
    {"P2_pump_down_names_its_gauge",
     "limit L-1; hand HV-1 HV-2 GV; strainer F-1; tee T-1; cap K-2; vessel V-1 drum "
     "role=low-pressure contents=liquid; run L-1 HV-1 F-1 T-1 HV-2 V-1; run T-1 GV K-2; "
     "<gauge id='PI-1' kind='pressure' on='T-1~GV' via='GV'/>",
     "F-1",
     {{"says shut-down Watch PI-1", "yes"}}},

    /* What the step is for, and what it looks like. */
    {"D1_sealed_valve_is_unsealed_and_sealed_anew_with_its_number",
     "limit L-1; hand HV-1 sealed=open; strainer F-1; cap K-1; run L-1 HV-1 F-1 K-1",
     "F-1",
     {{"says isolate break the seal, and write its number down", "yes"},
      {"back-says remove Put a new seal on it, and write its number down", "yes"}}},
    {"D1_ball_valve_is_shut_when_its_handle_stands_across",
     "limit L-1; valve HV-1 ball open lockable; strainer F-1; cap K-1; run L-1 HV-1 F-1 K-1",
     "F-1",
     {{"says isolate The handle stands across the pipe", "yes"}}},
    {"D1_globe_valve_is_shut_at_a_firm_stop",
     ROOM("LQ"),
     "F-1",
     {{"says isolate The spindle comes to a firm stop", "yes"}}},
    {"I2_spade_names_its_joint_and_place",
     "limit L-1; hand HV-1 place=yard; vessel X drum contents=liquid; "
     "run ends=flanged_welded L-1 HV-1 X",
     "X work=entry,grade=positive",
     {{"says isolate its joint with HV-1.out", "yes"}}},

    /* Emptying. */
    {"E2_nitrogen_follows_what_burns",
     SOLVENT ROOM("S"),
     "F-1",
     {{"says release Dry nitrogen follows it by O-1", "yes"}}},
    {"E2_air_follows_what_does_not_burn",
     ROOM("W"),
     "F-1",
     {{"says release Air follows it by O-1", "yes"}}},
    {"E2_nothing_is_shown_to_follow",
     "limit L-1; hand HV-1; strainer F-1; cap K-1; tee T-1; shut DV; drain O-2; "
     "run service=W L-1 HV-1 T-1 F-1 K-1; run service=W T-1 DV O-2",
     "F-1",
     {{"says release Nothing is shown to follow it from above", "yes"}}},
    {"E3_pocket_of_what_burns_is_pressed_out_with_nitrogen",
     SOLVENT
     "limit L-1; hand HV-1 elevation=3_m; strainer F-1 elevation=2_m; cap K-1 elevation=3_m; tee "
     "T-1 elevation=3_m; tee T-2 elevation=1_m; shut DV elevation=3_m; drain O-2 elevation=2.5_m; "
     "run service=S L-1 HV-1 F-1 T-2 T-1 K-1; run service=S T-1 DV O-2",
     "F-1",
     {{"says release press it out with dry nitrogen, never air", "yes"}}},

    {"E3_space_between_stays_full_up_to_its_bleed",
     SOLVENT
     "limit L-1; hand A-1 A-2 place=bay elevation=1_m; strainer F-1; cap K-1 K-2; tee T-1 "
     "elevation=1_m; tee T-2 T-3; shut BV-1 BV-2 DV elevation=2_m; vent O-1 O-2 elevation=3_m; "
     "drain O-3; run service=S L-1 A-1 T-1 A-2 T-2 F-1 T-3 K-1; run service=S T-1 BV-1 O-1; "
     "run service=S T-2 BV-2 O-2; run service=S T-3 DV O-3",
     "F-1 grade=double-bleed",
     {{"says release What liquid lies below the bleed stays there", "yes"},
      {"says release Drain through BV-1", "no"},
      {"says release Liquid stays behind at A-1", "no"}}},

    /* A step says what the next states break (P3). */
    {"P9_step_that_takes_a_pumps_way_says_so",
     "vessel V-1 drum contents=liquid; pump X; hand HV-1 HV-2; strainer F-1; limit L-2; "
     "run V-1 X HV-1 F-1 HV-2 L-2",
     "F-1",
     {{"says isolate From here X has no open way", "yes"},
      {"back-says energise Have the supply of X unlocked", "yes"}}},
    {"L6_step_that_shuts_liquid_in_on_the_way_says_so",
     "limit L-1; tee T-0 T-2; hand HV-1; valve SV solenoid manual-opening=yes; strainer F-1; cap "
     "K-1; "
     "valve R-0 relief set-pressure=10_barg; valve R-2 relief set-pressure=10_barg; "
     "outlet O-0 vent leads-to=safe-place shared=no fitted=open; "
     "outlet O-2 vent leads-to=safe-place shared=no fitted=open; "
     "run L-1 T-0 HV-1 SV T-2 F-1 K-1; run T-0 R-0 O-0; run T-2 R-2 O-2",
     "F-1",
     {{"says isolate From here liquid is shut in without relief at HV-1~SV until tag", "yes"}}},

    /* Proof. */
    {"P4_without_bleed_and_gauge_nothing_is_pretended",
     "limit L-1; hand HV-1; strainer F-1; cap K-1; run L-1 HV-1 F-1 K-1",
     "F-1",
     {{"says verify zero can't be proved here", "yes"}, {"says verify Prove zero at", "no"}}},
    {"P4_hardly_any_pressure_behind_a_point_proves_nothing_by_itself",
     "<service id='N' substance='ammonia' phase='liquid' temperature='-34 degC' pressure='0 barg' "
     "design-pressure='19 barg'/>;" ROOM("N"),
     "F-1",
     {{"says verify Behind HV-1 stands hardly any pressure", "yes"}, {"assumed P4 HV-1", "yes"}}},
    {"P4_pressure_behind_a_point_shows_what_passes",
     ROOM("LQ"),
     "F-1",
     {{"says verify hardly any pressure", "no"}, {"assumed P4", "no"}}},
    {"P4_pump_casing_is_let_off_before_zero_is_proved",
     "limit L-1 L-2; hand HV-1 HV-2; pump X feeds=complete; "
     "<feed id='M' kind='electrical' supplies='X' isolator='s' lockable='yes' stored='none'/>; "
     "run L-1 HV-1 X HV-2 L-2",
     "X",
     {{"says release Let off casing, seal chamber", "yes"},
      {"says work Let off casing, seal chamber", "no"}}},

    {"P4_ways_out_behind_a_check_valve_are_shut_too",
     "limit L-1; hand HV-1 GV; strainer F-1; tee T-1 T-2 T-3; valve C-1 check; shut BV-1 BV-2; "
     "vent "
     "O-1 O-2; cap K-1 K-2; <gauge id='PI-1' kind='pressure' on='T-2~GV' via='GV'/>; "
     "run L-1 HV-1 T-1 F-1 T-2 C-1 T-3 K-1; run T-1 BV-1 O-1; run T-3 BV-2 O-2; run T-2 GV K-2",
     "F-1",
     {{"says verify Shut every way out (BV-1 and BV-2)", "yes"},
      {"says verify No gauge stands here. Watch the open outlet O-2", "yes"}}},
    {"P4_what_is_not_proved_is_opened_for_a_blind_as_if_under_pressure",
     "limit L-1; hand HV-1; vessel X drum contents=liquid; "
     "run ends=flanged_flanged L-1 HV-1 X",
     "X work=entry,grade=positive",
     {{"says verify but the one that takes a blind below", "yes"},
      {"says isolate part the joint as if it stood under pressure", "yes"},
      {"back-says remove part the joint as if it stood under pressure", "yes"}}},
    {"P9_suction_is_not_shut_before_the_pump_is_held_off",
     "vessel V-1 drum role=low-pressure contents=liquid; limit L-1; hand HV-1 HV-2; pump X "
     "feeds=complete; <feed id='M' kind='electrical' supplies='X' isolator='s' lockable='yes' "
     "stored='none'/>; run L-1 HV-1 X HV-2 V-1",
     "X",
     {{"steps isolate", "M HV-1 V-1 HV-2"},
      {"says shut-down but not before X stands still with its supply locked off", "yes"},
      {"says shut-down Once it stands, switch off its supply (M, s) and put your lock on at once",
       "yes"},
      {"says isolate Check that s (feed M) is off, with your lock on it", "yes"},
      {"says lock-and-tag See your lock on s (feed M)", "yes"}}},

    {"N5_machine_stopped_outside_the_tag_list_is_tried",
     "vessel V-1 drum contents=liquid; pump X; <feed id='M' kind='electrical' supplies='X' "
     "isolator='s' lockable='yes' stored='none'/>; hand HV-1 HV-2; strainer F-1; limit L-2; "
     "run V-1 X HV-1 F-1 HV-2 L-2",
     "F-1",
     {{"says verify Try to start X", "yes"}, {"says shut-down Its supply (M, s)", "yes"}}},

    /* The way back. */
    {"P6_relief_valve_beyond_a_blind_limits_the_last_test",
     "limit L-1; hand HV-1; tee T-1; valve R relief set-pressure=10_barg; outlet O vent "
     "leads-to=safe-place shared=no fitted=open; vessel X drum contents=liquid; "
     "run L-1 HV-1 T-1 R O; run ends=flanged_flanged T-1 X",
     "X work=open,grade=positive",
     {{"back-says leak-test below 10 barg", "yes"}}},
    {"P6_pump_is_filled_before_it_is_energised",
     "limit L-1 L-2; hand HV-1 HV-2; pump X feeds=complete; "
     "<feed id='M' kind='electrical' supplies='X' isolator='s' lockable='yes' stored='none'/>; "
     "run L-1 HV-1 X HV-2 L-2",
     "X",
     {{"back-says remove Fill X and let it off before it is energised", "yes"},
      {"back-says function-test see which way it turns", "yes"}}},
    {"P6_no_vacuum_where_none_is_known_to_be_withstood",
     SOLVENT ROOM("S"),
     "F-1",
     {{"says verify Draw no vacuum", "yes"},
      {"back-says evacuate Draw no vacuum", "yes"},
      {"back-says break-vacuum vacuum", "no"}}},
    {"P6_refrigerant_is_evacuated",
     ROOM("LQ"),
     "F-1",
     {{"says verify or evacuate", "yes"}, {"back-says break-vacuum Break the vacuum", "yes"}}},
    {"P6_no_code_of_refrigeration_for_other_plant",
     SOLVENT ROOM("S"),
     "F-1",
     {{"back-says leak-test EN 378", "no"},
      {"back-says leak-test The code of this piping gives the test pressure", "yes"}}},
    {"P6_device_on_automatic_is_opened_for_the_test_under_its_tag_and_returned",
     "limit L-1; hand HV-1; valve SV solenoid manual-opening=yes; strainer F-1; cap K-1; "
     "run L-1 HV-1 SV F-1 K-1",
     "F-1",
     {{"back leak-test", "- SV -"},
      {"change-back leak-test SV", "automatic>open"},
      {"back break-vacuum", "- SV"},
      {"change-back break-vacuum SV", "open>automatic"},
      {"back remove", "HV-1"}}},
    {"P6_hand_valve_that_was_opened_inside_is_returned_after_the_tests",
     "limit L-1; hand HV-1; valve HV-2 globe closed; strainer F-1; cap K-1; run L-1 HV-1 HV-2 F-1 "
     "K-1",
     "F-1",
     {{"change-back close-up HV-2", "none"}, {"change-back break-vacuum HV-2", "open>closed"}}},
    {"P6_test_gas_is_off_and_the_outlets_are_capped_before_a_point_is_opened",
     ROOM("LQ"),
     "F-1",
     {{"back break-vacuum", "- -"},
      {"back-says break-vacuum shut the valves before O-1, and cap or plug each again", "yes"}}},
    {"P6_no_connection_between_the_blinds_is_said",
     "limit L-1 L-2; hand HV-1 HV-2; strainer X; tee T-1; shut BV; vent O-1; "
     "run L-1 HV-1 T-1; run ends=flanged_flanged T-1 X HV-2; run HV-2 L-2; run T-1 BV O-1",
     "X work=open,grade=positive",
     {{"back-says leak-test No outlet in the plant file lies between the blinds", "yes"}}},
    {"P6_outlet_between_the_blinds_takes_the_gas",
     "limit L-1 L-2; hand HV-1 HV-2; strainer X; tee T-1; shut BV; vent O-1; "
     "run L-1 HV-1; run ends=flanged_flanged HV-1 T-1 X HV-2; run HV-2 L-2; run T-1 BV O-1",
     "X work=open,grade=positive",
     {{"back-says leak-test No outlet in the plant file", "no"},
      {"back-says leak-test Shut BV for the time of the test", "yes"}}},
    {"P8_gas_is_let_off_where_liquid_comes_in",
     SOLVENT ROOM("S"),
     "F-1",
     {{"back-says remove let the gas off by BV and O-1", "yes"}}},
    {"P8_no_nitrogen_is_left_to_let_off_where_a_vacuum_was_drawn",
     ROOM("LQ"),
     "F-1",
     {{"back-says remove let the gas off by BV", "no"}}},
    {"P8_liquid_comes_back_from_where_it_flows_from",
     "limit L-1 L-2; hand Z-1 A-2; strainer F-1; run service=W L-1 Z-1 F-1 A-2 L-2",
     "F-1",
     {{"back remove", "Z-1 A-2"}}},

    {"I2_joint_that_only_a_valve_without_bleed_holds_says_so",
     "limit L-1 L-2; hand HV-1 HV-2; strainer X; tee T-1; shut BV; vent O-1; "
     "run L-1 HV-1 T-1; run ends=flanged_flanged T-1 X HV-2; run HV-2 L-2; run T-1 BV O-1",
     "X work=open,grade=positive",
     {{"steps isolate", "HV-1 HV-2 X~HV-2 T-1~X"},
      {"says isolate No bleed shows what passes the valve outside", "yes"}}},

    /* P2: what could come in once it draws is shut before the pump-down, the way to pressure too.
     */
    {"P2_way_to_pressure_is_shut_before_the_pump_down",
     "vessel V-1 drum role=low-pressure contents=liquid service=LQ; limit L-1 L-2; "
     "hand HV-1 HV-2; hand HV-3 sealed=open; tee T-1; strainer F-1; "
     "run L-1 HV-1 F-1 T-1 HV-3 V-1; run service=W T-1 HV-2 L-2",
     "F-1",
     {{"says shut-down shut HV-1, then HV-2, leave the side to V-1 open", "yes"},
      {"says shut-down (HV-3: break the seal first, and write its number down)", "yes"},
      {"says isolate HV-3, globe valve DN50. It is sealed", "no"}}},

    /* D4, L6: a relief path that is closed over liquid. */
    {"D4_relief_path_over_what_is_full_is_closed_with_the_way_out_ready",
     "vessel V-1 drum role=low-pressure contents=liquid service=LQ; limit L-2; hand HV-1 HV-2 HV-3 "
     "HV-4; pump X feeds=complete; <feed id='M' kind='electrical' supplies='X' isolator='s' "
     "lockable='yes' stored='none'/>; tee T-1 T-2 T-3; valve CV check; valve RV relief "
     "set-pressure=10_barg; shut BV; vent O-1; cap K-1; "
     "run V-1 HV-1 X T-1 CV T-2 T-3 HV-2 L-2; run T-1 HV-3 V-1; run T-2 RV HV-4 V-1; "
     "run T-3 BV O-1",
     "X",
     {{"steps isolate", "M HV-1 HV-2 V-1 HV-3 O-1 HV-4"},
      {"says isolate Not empty yet, and by now", "yes"},
      {"says isolate by BV", "yes"},
      {"says isolate Is it not so: crack HV-2, not locked yet", "yes"},
      {"says lock-and-tag First open the relief path again (HV-4)", "yes"},
      {"says release open the relief path again (HV-4) until it flows", "yes"}}},

    /* L6: pressure off everywhere before anything is drained. */
    {"L6_all_compartments_are_let_off_before_one_is_drained",
     ROOM("LQ") "; valve CV check elevation=2_m; tee T-5 elevation=2_m; shut B-2 elevation=3_m; "
                "vent O-3 elevation=4_m; cap K-5 elevation=2_m; run service=LQ T-1 CV T-5 K-5; "
                "run service=LQ T-5 B-2 O-3",
     "F-1",
     {{"rooms", "2"}, {"steps release", "O-1 BV O-1 O-3 B-2 O-3 O-2 DV O-2 O-2 O-3 O-3 CV"}}},

    /* P1: no plug is a way to let off. */
    {"P1_no_plug_of_a_pump_is_loosened_before_zero_is_proved",
     "vessel V-1 drum contents=liquid; hand HV-1 HV-2; pump X feeds=complete; <feed id='M' "
     "kind='electrical' supplies='X' isolator='s' lockable='yes' stored='none'/>; limit L-2; "
     "run V-1 HV-1 X HV-2 L-2",
     "X",
     {{"says release through the valves fitted for it", "yes"},
      {"says release by the maker's plugs", "no"},
      {"says work part its plug first", "yes"}}},

    /* E9: the liquid first, behind a self-closing valve, since oil may come with it. */
    {"E9_self_closing_valve_is_on_the_outlet_before_the_drain_is_opened",
     ROOM("LQ"),
     "F-1",
     {{"steps release", "O-1 BV O-1 O-2 DV O-2 O-2"},
      {"says release At outlet O-2 (leads to safe-place): check that the valve before it is shut, "
       "take the cap or plug off slowly, fit a self-closing valve",
       "yes"},
      {"says release Oil, once no more liquid comes by DV and O-2", "yes"}}},
    {"E9_no_self_closing_valve_where_no_oil_is_expected",
     SOLVENT ROOM("S"),
     "F-1",
     {{"says release self-closing valve", "no"}}},

    /* E8, P6: nitrogen stays below what opens a relief valve. */
    {"E8_purge_stays_below_the_set_pressure_of_a_relief_valve",
     SOLVENT ROOM("S") "; valve RV relief set-pressure=0.4_barg; outlet O-9 "
                       "vent leads-to=safe-place shared=no fitted=open; "
                       "tee T-4; run service=S T-3 T-4 RV O-9",
     "F-1",
     {{"says verify by a regulator, to 0.3 barg at most until the gas test", "yes"}}},

    /* E1: hot gas beside the side that is still open. */
    {"E1_hot_gas_behind_the_way_off_is_looked_at_before_anything_inside_is_opened",
     "<service id='HG' substance='ammonia' phase='vapour' temperature='70 degC' pressure='11 barg' "
     "design-pressure='25 barg'/>; limit L-1 L-2 L-3; hand HV-1 HV-2 HV-3 rating=25_barg; strainer "
     "F-1; tee T-1; "
     "valve SV solenoid manual-opening=yes; valve SH solenoid; "
     "run L-1 HV-1 SV F-1 HV-2 T-1 L-2; run service=HG L-3 HV-3 SH; pipe Q SH.out T-1.q service=LQ",
     "F-1",
     {{"says shut-down It stands behind SH", "yes"}}},
    {"N2_vapour_of_a_pressure_that_is_not_said_may_be_hot_gas",
     "<service id='HG' substance='ammonia' phase='vapour' temperature='70 degC' "
     "design-pressure='25 barg'/>; limit L-1 L-2 L-3; hand HV-1 HV-2 HV-3 rating=25_barg; strainer "
     "F-1; tee T-1; valve SV solenoid manual-opening=yes; valve SH solenoid; "
     "run L-1 HV-1 SV F-1 HV-2 T-1 L-2; run service=HG L-3 HV-3 SH; pipe Q SH.out T-1.q service=LQ",
     "F-1",
     {{"says shut-down It stands behind SH", "yes"}}},
    {"E1_no_hot_gas_no_step",
     "limit L-1 L-2 L-3; hand HV-1 HV-2 HV-3; strainer F-1; tee T-1; "
     "valve SV solenoid manual-opening=yes; valve SH solenoid; "
     "run L-1 HV-1 SV F-1 HV-2 T-1 L-2; run L-3 HV-3 SH; pipe Q SH.out T-1.q service=LQ",
     "F-1",
     {{"says shut-down hot gas", "no"}}},

    /* P3: the step that shuts liquid in says so, also where it stays so to the end. */
    {"P3_step_that_shuts_liquid_in_to_the_end_says_so",
     ROOM("LQ"),
     "F-1",
     {{"says isolate From here liquid is shut in without relief", "yes"},
      {"says isolate until a way out is opened below", "yes"},
      {"finding L6 F-1", "blocks"},
      {"says isolate see the finding of F-1", "yes"}}},

    /* E8: what burns is swept out before any way low down is open to the air. */
    {"E8_nitrogen_stays_on_until_the_vapour_is_swept_out",
     SOLVENT ROOM("S"),
     "F-1",
     {{"says release Every drain dry and shut: sweep with the nitrogen, in by O-1, out by each "
       "drain in turn (DV and O-2)",
       "yes"}}},
    {"E8_ammonia_is_not_swept_while_it_drains",
     ROOM("LQ"),
     "F-1",
     {{"says release sweep with the nitrogen", "no"}}},

    /* P4: nitrogen shows nothing where a check valve takes nothing back. */
    {"P4_point_with_hardly_any_pressure_and_a_check_valve_behind_is_not_proved",
     "<service id='LO' substance='nitrogen' phase='vapour' temperature='20 degC' pressure='0.1 "
     "barg' "
     "design-pressure='10 barg'/>; " ROOM("LO") "; limit L-2; valve CV check; hand HV-2; "
                                                "run service=LO L-2 CV HV-2 T-2",
     "F-1",
     {{"finding P4 HV-2", "blocks"},
      {"assumed P4 HV-1", "yes"},
      {"says verify HV-2 can't be proved", "yes"},
      {"says verify Behind HV-1 stands hardly any pressure", "yes"}}},
    {"N2_valve_of_unknown_position_behind_a_point_is_no_way_for_a_proof",
     "<service id='LO' substance='nitrogen' phase='vapour' temperature='20 degC' pressure='0.1 "
     "barg' "
     "design-pressure='10 barg'/>; " ROOM("LO") "; limit L-2; valve HV-3 globe; hand HV-2; "
                                                "run service=LO L-2 HV-3 HV-2 T-2",
     "F-1",
     {{"finding P4 HV-2", "blocks"}}},
    {"P4_pressure_behind_a_way_off_is_seen_once_the_pump_has_been_stopped",
     "limit L-1 L-2; hand HV-1 HV-2 elevation=2_m; pump X feeds=complete elevation=2_m; <feed "
     "id='M' kind='electrical' supplies='X' isolator='s' lockable='yes' stored='none'/>; tee T-1 "
     "elevation=2_m; shut BV elevation=3_m; vent O-1 elevation=4_m; "
     "run service=W L-1 HV-1 X T-1 HV-2 L-2; run service=W T-1 BV O-1",
     "X",
     {{"says verify See first, by a gauge there or by what runs there, that pressure stands behind "
       "HV-1 and HV-2",
       "yes"}}},
    {"P4_pressure_behind_an_inner_valve_is_seen_while_the_outer_one_is_open",
     "limit L-1; hand HV-1 HV-2 elevation=2_m; tee T-1 T-2 T-3 elevation=2_m; strainer F-1 "
     "elevation=2_m; cap K-1 elevation=2_m; cap K-2 elevation=3_m; shut B-1 B-2 elevation=3_m; "
     "hand "
     "GV elevation=3_m; vent O-1 O-2 elevation=4_m; <gauge id='PI' kind='pressure' on='T-3~GV' "
     "via='GV'/>; run service=W L-1 HV-1 T-1 HV-2 T-2 F-1 T-3 K-1; run service=W T-1 B-1 O-1; "
     "run service=W T-2 B-2 O-2; run service=W T-3 GV K-2",
     "F-1 work=open,grade=double-bleed",
     {{"says verify with the line's pressure behind: HV-2. See first", "yes"},
      {"says verify Prove the valve further out: HV-1. See first", "yes"},
      {"says verify stands at zero. See first", "no"}}},
    {"P1_ways_out_are_open_again_before_the_first_joint_is_parted",
     ROOM("LQ"),
     "F-1",
     {{"says verify Just before the first joint is parted, no nitrogen joined anywhere: open the "
       "ways out again, as their tags "
       "say (BV and DV)",
       "yes"}}},
    {"N2_hand_valves_that_count_as_open_inside_are_seen_open",
     "limit L-1; hand HV-1; valve HV-2 globe open; strainer F-1; cap K-1; run L-1 HV-1 HV-2 F-1 "
     "K-1",
     "F-1",
     {{"says prepare See that what counts as open inside stands open: HV-2", "yes"}}},

    /* P6, P8: a section that fills itself fills before its ways off are opened. */
    {"P8_vessel_and_pump_are_filled_before_the_discharge_is_opened",
     "limit L-1 L-2; hand HV-1 HV-2 elevation=2_m; vessel V-1 drum contents=liquid service=W "
     "volume=10_L; pump X feeds=complete; <feed id='M' kind='electrical' supplies='X' isolator='s' "
     "lockable='yes' stored='none'/>; run service=W L-1 HV-1 V-1 X HV-2 L-2",
     "X",
     {{"back remove", "HV-1 V-1 X HV-2"}}},

    /* D1: a pipe whose free end carries a blank already. */
    {"D1_free_end_at_a_spool_that_is_out_keeps_its_blank",
     "limit L-1; hand HV-1; strainer X; tee T-1; shut BV; vent O-1; blind RS removable-spool "
     "closed; run L-1 HV-1; pipe A HV-1.out RS.in ends=welded_flanged; "
     "run RS X T-1; run T-1 BV O-1; cap K-1; run T-1 K-1",
     "X work=open,grade=positive",
     {{"points", "A HV-1"},
      {"says isolate See that the free end of A at RS, which is out", "yes"},
      {"back-says remove See the blank of full rating still on the free end of A", "yes"}}},

    /* P6: test gas past a check valve. */
    {"P6_test_gas_shut_in_between_a_check_valve_and_a_blind_is_told",
     "limit L-1 L-2; hand HV-1 HV-2; strainer X; tee T-1 T-2; valve CV check; shut BV BV-2; vent "
     "O-1 O-2; run L-1 HV-1; run ends=flanged_flanged HV-1 T-1 X; run X CV T-2; "
     "pipe B T-2.b HV-2.in ends=welded_flanged; run HV-2 L-2; run T-1 BV O-1",
     "X work=open,grade=positive",
     {{"back-says remove Test gas is shut in on its work side", "no"},
      {"back-says remove No bleed is on either side: part it", "yes"}}},

    {"P6_test_gas_past_a_check_valve_is_let_off_by_a_bleed_that_no_tag_names",
     "limit L-1 L-2; hand HV-1 HV-2; strainer X; tee T-1 T-2 T-3; valve CV check; shut BV B-9 B-3; "
     "vent O-1 O-9 O-3; run L-1 HV-1; run ends=flanged_flanged HV-1 T-1 X; run X CV T-2; "
     "pipe B T-2.b T-3.a ends=welded_flanged; run T-3 HV-2 L-2; run T-1 BV O-1; run T-2 B-9 O-9; "
     "run T-3 B-3 O-3",
     "X work=open,grade=positive",
     {{"points", "B HV-1 HV-1~T-1 HV-2"},
      {"back-says remove let it off first by B-9 and O-9, which no tag names", "yes"}}},

    /* L6: where a step stops, liquid is not left shut in. */
    {"L6_step_that_stops_with_liquid_shut_in_gives_it_a_way_first",
     "limit L-1; hand HV-1; valve SV solenoid manual-opening=yes; strainer F-1; cap K-1; "
     "run L-1 HV-1 SV F-1 K-1",
     "F-1",
     {{"says isolate Before you stop crack HV-1 open again", "yes"},
      {"says lock-and-tag Before you leave reopen in reverse order", "yes"}}},

    /* E8: drains open again only when the last compartment has been swept. */
    {"E8_drains_stay_shut_until_the_last_compartment_is_swept",
     SOLVENT ROOM("S"),
     "F-1",
     {{"steps release", "O-1 BV O-1 O-1 O-2 DV O-2 O-1 DV"},
      {"says release Everything swept, the nitrogen off: open the drains again as their tags say "
       "(DV and O-2)",
       "yes"}}},

    /* P6: what was put on hand is given back. */
    {"P6_controls_are_given_back_when_it_has_been_tried",
     "limit L-1; hand HV-1; pump X feeds=complete; <feed id='M' kind='electrical' supplies='X' "
     "isolator='s' lockable='yes' stored='none'/>; cap K-1; run L-1 HV-1 X K-1",
     "X",
     {{"back-says function-test Each control that was put on hand back to automatic", "yes"}}},

    /* N5: heat beside the section. */
    {"N5_exchanger_beside_a_point_that_loses_its_flow_has_its_heat_taken_off",
     BESIDE("80", "20"),
     "F-1",
     {{"says shut-down X, next to HV-2, loses its flow: take its heat (80 degC) off first", "yes"},
      {"back-says energise Put the heat of X on again", "yes"}}},
    {"N5_exchanger_beside_a_point_that_is_cooled_keeps_its_flow",
     BESIDE("5", "20"),
     "F-1",
     {{"says shut-down loses its flow", "no"}, {"back-says energise Put the heat of X", "no"}}},

    /* Nitrogen over what drains gets on over check valves. */
    {"E2_vents_behind_check_valves_are_shut_while_nitrogen_is_on",
     SOLVENT ROOM("S") "; valve CV check elevation=2_m; tee T-5 elevation=2_m; shut B-2 "
                       "elevation=3_m; vent O-3 elevation=4_m; cap K-5 elevation=2_m; run "
                       "service=S T-1 CV T-5 K-5; run service=S T-5 B-2 O-3; shut D-2 "
                       "elevation=1_m; drain O-4 elevation=0_m; run service=S T-5 D-2 O-4",
     "F-1",
     {{"says release Before that shut B-2 as well, and keep it so until the nitrogen is off",
       "yes"}}},
    {"E8_nitrogen_is_off_before_the_joint_is_parted",
     SOLVENT ROOM("S"),
     "F-1",
     {{"says verify Purge with dry nitrogen, joined at O-1, from one end to the other", "yes"},
      {"says verify Then the nitrogen off at its source, its hose let off and taken away", "yes"}}},

    {"E7_further_drain_of_carbon_dioxide_stays_above_5_2_bara",
     "<service id='C' substance='carbon-dioxide' phase='liquid' temperature='-20 degC' "
     "pressure='19 barg' design-pressure='40 barg'/>; limit L-1; hand HV-1 elevation=2_m; tee T-1 "
     "T-2 elevation=1_m; strainer F-1 elevation=2_m; tee T-3 elevation=2_m; cap K-1 elevation=2_m; "
     "shut D-1 D-2 elevation=0.5_m; drain O-1 O-2 elevation=0_m; shut B elevation=3_m; vent O-3 "
     "elevation=4_m; run service=C L-1 HV-1 T-1 F-1 T-3 T-2 K-1; run service=C T-1 D-1 O-1; run "
     "service=C T-2 D-2 O-2; run service=C T-3 B O-3",
     "F-1",
     {{"says release as well, the gauge above 5.2 bara (4.2 barg) all the while", "yes"},
      {"says release as well, until nothing more comes", "no"}}},
    {"I2_what_boils_does_not_stay_in_a_space_between",
     "limit L-1; hand HV-1 HV-2 elevation=2_m; tee T-1 T-2 elevation=2_m; strainer F-1 "
     "elevation=2_m; cap K-1 elevation=2_m; shut B-1 B-2 elevation=3_m; vent O-1 O-2 "
     "elevation=4_m; "
     "run L-1 HV-1 T-1 HV-2 T-2 F-1 K-1; run T-1 B-1 O-1; run T-2 B-2 O-2",
     "F-1 work=open,grade=double-bleed",
     {{"says release What liquid lies below the bleed stays there", "no"},
      {"back-says close-up From here the liquid behind it is shut in", "no"}}},
    {"I2_what_does_not_boil_stays_in_a_space_between",
     "limit L-1; hand HV-1 HV-2 elevation=2_m; tee T-1 T-2 elevation=2_m; strainer F-1 "
     "elevation=2_m; cap K-1 elevation=2_m; shut B-1 B-2 elevation=3_m; vent O-1 O-2 "
     "elevation=4_m; "
     "run service=W L-1 HV-1 T-1 HV-2 T-2 F-1 K-1; run service=W T-1 B-1 O-1; run service=W T-2 "
     "B-2 "
     "O-2",
     "F-1 work=open,grade=double-bleed",
     {{"says release What liquid lies below the bleed stays there", "yes"},
      {"back-says close-up From here the liquid behind it is shut in", "yes"}}},

    /* N6: what can start a machine against a point. */
    {"N6_sequence_that_can_start_a_pump_against_a_point_is_told",
     "vessel V-1 drum contents=liquid; pump X; hand HV-1 HV-2; strainer F-1; cap K-1; <sequence "
     "id='Q' kind='start' acts-on='X' off-at='panel'/>; run V-1 X HV-1 HV-2 F-1 K-1",
     "F-1",
     {{"steps shut-down", "F-1 -"}, {"assumed N6 Q", "yes"}}},
    {"N6_sequence_of_a_pump_behind_a_closed_valve_is_not_told",
     "vessel V-1 drum contents=liquid; pump X; shut HV-1; hand HV-2; strainer F-1; cap K-1; limit "
     "L-2; tee T-1; <sequence id='Q' kind='start' acts-on='X' off-at='panel'/>; run V-1 X HV-1 T-1 "
     "HV-2 F-1 K-1; run T-1 L-2",
     "F-1",
     {{"assumed N6 Q", "no"}}},

    /* OSHA 1910.147(e): what is switched on does not move by itself. */
    {"F_OSH_6_controls_are_on_hand_before_a_supply_is_switched_on",
     "limit L-1; hand HV-1; pump X feeds=complete; <feed id='M' kind='electrical' supplies='X' "
     "isolator='switch 3' lockable='yes' stored='none'/>; cap K-1; run L-1 HV-1 X K-1",
     "X",
     {{"back-says energise Take your lock and tag 1 off switch 3 (feed M); with the controls of X "
       "on "
       "hand, set to how each stands, switch it on",
       "yes"}}},

    /* I8: stems that could be lifted instead. */
    {"I8_solenoid_like_the_one_that_is_lifted",
     "limit L-1 L-2; hand HV-1 HV-2 place=hall; valve SV solenoid manual-opening=yes "
     "place=hall; valve SX solenoid manual-opening=yes place=hall; "
     "strainer F-1; cap K-1 K-2; run L-1 HV-1 SV F-1 K-1; run L-2 HV-2 SX K-2",
     "F-1",
     {{"live SX", "look-alike"}}},

    /* What is live beside it (I8). */
    {"I8_exchanger_beyond_a_point_is_listed",
     "limit L-1 L-2; hand HV-1 HV-2; strainer F-1; <exchanger id='X' kind='cooler' "
     "feeds='complete'><side id='s' volume='1 L' service='LQ'><port id='in'/><port "
     "id='out'/></side>"
     "</exchanger>; run L-1 HV-1 F-1 HV-2 X.in.out L-2",
     "F-1",
     {{"live X", "live"}}},
    {"I8_one_of_the_kind_of_the_target_is_no_target",
     "limit L-1; hand HV-1 HV-2; valve X control drive=motor place=hall; valve Y control "
     "drive=motor place=hall; cap K-1; run L-1 Y HV-1 X HV-2 K-1",
     "X",
     {{"live Y", "look-alike"}}},

    /* What is inside is told by the pipes of a valve, also where these are the points. */
    {"F_OSH_1_contents_between_two_spades_are_those_of_the_pipes",
     "limit L-1 L-2; hand HV-1 HV-2; valve X control; "
     "run ends=flanged_flanged L-1 HV-1 X HV-2 L-2",
     "X work=open,grade=positive",
     {{"says prepare ammonia, liquid", "yes"}}},
};

int main(void)
{
    return kit_main(rows, sizeof rows / sizeof rows[0], NULL, 0);
}
