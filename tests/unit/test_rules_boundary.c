/* Rules of the boundary: network (N), devices (D), isolation (I), one row a sentence.
 *
 * Expected answers are read from the rules, by hand; the plants are invented. Outside sources stand
 * beside the values that come from them. Notation of plants and questions: plantkit.h, kit_ask.c.
 */
#include "plantkit.h"

#include "verify.h"

#include <stdio.h>
#include <string.h>

/* Pressure from L-1 through HV-1 and something called X to the work at F-1. */
#define THROUGH(x) "limit L-1; hand HV-1; " x "; strainer F-1; cap K-1; run L-1 HV-1 X F-1 K-1"
/* The same with nothing that can be closed. */
#define ONLY(x) "limit L-1; " x "; strainer F-1; cap K-1; run L-1 X F-1 K-1"
#define EXCHANGER(attributes)                                                                      \
    "<exchanger id='E-1'><side id='a' volume='10 L' " attributes "><port id='a1'/>"                \
    "<port id='a2'/></side><side id='b' volume='10 L' service='W' contents='liquid'>"              \
    "<port id='b1'/><port id='b2'/></side></exchanger>"
#define PUMP_FEED(attributes)                                                                      \
    "pump X feeds=complete; feed FD electrical supplies=X isolator=SW stored=none " attributes

static const kit_row rows[] = {
    /* N1: what is joined inside a component. */
    {"N1_valve_joins_through_its_seat",
     THROUGH("valve X control"),
     "F-1",
     {{"points", "HV-1"}, {"inside X", "yes"}}},
    {"N1_vessel_joins_all_its_ports",
     "limit L-1 L-2; hand HV-1 HV-2; vessel V-1 drum contents=none; strainer F-1;"
     "run L-1 HV-1 V-1 F-1; run V-1 HV-2 L-2",
     "F-1",
     {{"points", "HV-1 HV-2"}}},
    {"N1_tee_joins_all_its_ports",
     "limit L-1 L-2; hand HV-1 HV-2; tee T-1; strainer F-1; run L-1 HV-1 T-1 F-1; run T-1 HV-2 L-2",
     "F-1",
     {{"points", "HV-1 HV-2"}}},
    {"N1_reducer_joins_its_ports", THROUGH("fitting X reducer"), "F-1", {{"points", "HV-1"}}},
    {"N1_strainer_joins_its_ports", THROUGH("fitting X strainer"), "F-1", {{"points", "HV-1"}}},
    {"N1_meter_joins_its_ports", THROUGH("fitting X meter"), "F-1", {{"points", "HV-1"}}},
    {"N1_hose_joins_its_ports", THROUGH("fitting X hose"), "F-1", {{"points", "HV-1"}}},
    {"N1_pump_joins_its_ports",
     THROUGH(PUMP_FEED("lockable")),
     "F-1",
     {{"points", "FD HV-1"}, {"sources", "X"}}},
    {"N1_compressor_joins_its_ports",
     THROUGH("compressor X feeds=complete; feed FD electrical supplies=X isolator=SW lockable"),
     "F-1",
     {{"points", "FD HV-1"}, {"sources", "X"}}},
    {"N1_exchanger_joins_the_ports_of_one_side",
     EXCHANGER(
         "service='W' contents='liquid'") ";limit L-1 L-2 L-3; hand HV-1; strainer F-1; cap K-1;"
                                          "run L-1 HV-1 E-1.a1.a2 F-1 K-1; run L-2 E-1.b1.b2 L-3",
     "F-1",
     {{"feasible", "yes"}, {"points", "HV-1"}}},
    {"N1_exchanger_side_joins_all_its_ports",
     EXCHANGER("service='W' contents='liquid'") ";limit L-1; strainer F-1; cap K-1 K-2 K-3;"
                                                "run L-1 E-1.a1.a2 F-1 K-1; run K-2 E-1.b1.b2 K-3",
     "F-1",
     {{"feasible", "no"}, {"path", "L-1 L-1~E-1 E-1 E-1~F-1 F-1"}}},
    {"N1_open_spectacle_joins",
     THROUGH("blind X spectacle open"),
     "F-1",
     {{"points", "HV-1"}, {"inside X", "yes"}}},
    {"N1_spectacle_of_unknown_position_joins",
     THROUGH("blind X spectacle unknown"),
     "F-1",
     {{"points", "HV-1"}, {"assumed N2 X", "yes"}}},
    {"N1_cap_joins_nothing",
     "strainer F-1; cap K-1 K-2; run K-1 F-1 K-2",
     "F-1",
     {{"feasible", "yes"}, {"points", ""}, {"cost", "0 0"}}},

    /* N2: unknown counts the dangerous way, and is listed. */
    {"N2_unknown_kind_passes_and_cannot_be_closed",
     THROUGH("valve X unknown closed lockable"),
     "F-1",
     {{"points", "HV-1"}, {"assumed N2 X", "yes"}}},
    {"N2_unknown_kind_passes_both_ways",
     "limit L-1; hand HV-1; valve X unknown; strainer F-1; cap K-1; run L-1 HV-1 ^X F-1 K-1",
     "F-1",
     {{"points", "HV-1"}, {"assumed N2 X", "yes"}}},
    {"N2_kind_not_said_is_unknown",
     THROUGH("valve X lockable=yes position=closed"),
     "F-1",
     {{"points", "HV-1"}, {"assumed N2 X", "yes"}}},
    {"N2_unknown_position_of_a_point_is_listed",
     ONLY("valve X globe unknown lockable"),
     "F-1",
     {{"points", "X"}, {"assumed N2 X", "yes"}}},
    {"N2_unknown_position_is_open_when_isolating",
     THROUGH("valve X globe unknown lockable=no"),
     "F-1",
     {{"points", "HV-1"}, {"assumed N2 X", "yes"}}},
    {"N2_position_not_said_is_unknown",
     THROUGH("valve X globe lockable=no"),
     "F-1",
     {{"points", "HV-1"}, {"assumed N2 X", "yes"}}},
    {"N2_unknown_position_is_closed_for_relief",
     "shut HV-1 HV-2; valve X globe unknown; tee T-1; valve RV relief set-pressure=18_barg; outlet "
     "O-1 vent"
     " leads-to=safe-place shared=no fitted=open; run HV-1 T-1 HV-2; run T-1 X RV O-1",
     "",
     {{"relief HV-1~T-1", "uncovered none"}, {"relief X~RV", "covered 18.00"}}},
    {"N2_vessel_contents_not_said_are_liquid",
     "limit L-1; hand HV-1; vessel V-1 drum service=W volume=1_m3; strainer F-1; cap K-1;"
     "run length=0_m L-1 HV-1 V-1 F-1 K-1",
     "F-1",
     {{"sources", "V-1"}, {"assumed N2 V-1", "yes"}, {"mass", "1000.000"}, {"liquid V-1", "yes"}}},
    {"N2_two_phase_vessel_without_fill_is_full",
     "limit L-1; hand HV-1; vessel V-1 drum service=W volume=1_m3 contents=two-phase; strainer "
     "F-1; cap K-1;"
     "run length=0_m L-1 HV-1 V-1 F-1 K-1",
     "F-1",
     {{"sources", "V-1"}, {"mass", "1000.000"}}},
    {"N2_exchanger_contents_not_said_are_liquid",
     EXCHANGER("service='W'") ";limit L-1; hand HV-1; strainer F-1; cap K-1 K-2 K-3;"
                              "run length=0_m L-1 HV-1 E-1.a1.a2 F-1 K-1; run K-2 E-1.b1.b2 K-3",
     "F-1",
     {{"assumed N2 E-1", "yes"}, {"mass", "10.000"}, {"liquid E-1", "yes"}}},
    {"N2_lockable_not_said_cannot_be_locked",
     THROUGH("valve X globe closed"),
     "F-1",
     {{"points", "HV-1"}, {"assumed N2 X", "yes"}}},
    {"N2_lockable_not_said_and_nothing_else",
     ONLY("valve X globe closed"),
     "F-1",
     {{"feasible", "no"}, {"path", "L-1 L-1~X X X~F-1 F-1"}}},
    {"N2_unknown_elevation_drainage_not_shown",
     "limit L-1; hand HV-1; strainer F-1; tee T-1; shut DV; drain O-1; run L-1 HV-1 T-1 F-1 DV O-1;"
     "cap K-1; run T-1 K-1",
     "F-1",
     {{"pockets F-1", "not shown"}, {"assumed N2 DV", "yes"}}},
    {"N2_shared_not_said_is_shared",
     "limit L-1; hand HV-1 HV-2; outlet O-1 vent leads-to=safe-place fitted=open; strainer F-1;"
     "run L-1 HV-1 F-1 HV-2 O-1",
     "F-1",
     {{"points", "HV-1 HV-2"}, {"assumed N2 O-1", "yes"}}},
    {"N2_leads_to_not_said_is_shared",
     "limit L-1; hand HV-1 HV-2; outlet O-1 vent shared=no fitted=open; strainer F-1;"
     "run L-1 HV-1 F-1 HV-2 O-1",
     "F-1",
     {{"points", "HV-1 HV-2"}, {"assumed N2 O-1", "yes"}}},
    {"N2_port_joined_to_nothing_is_under_pressure",
     "<fitting id='T-1' kind='tee'><port id='a'/><port id='b'/><port id='c'/></fitting>; limit L-1;"
     "hand HV-1; strainer F-1; cap K-1; run L-1 HV-1 T-1.a.b F-1 K-1",
     "F-1",
     {{"feasible", "no"}, {"path", "T-1 T-1~F-1 F-1"}}},
    {"N2_port_joined_to_nothing_behind_a_point",
     "<fitting id='T-1' kind='tee'><port id='a'/><port id='b'/><port id='c'/></fitting>; limit L-1;"
     "hand HV-1 HV-2; strainer F-1; cap K-1; run L-1 HV-1 T-1.a.b HV-2 F-1 K-1",
     "F-1",
     {{"points", "HV-2"}, {"assumed N2 T-1", "yes"}}},
    {"N2_open_end_of_a_valve_is_under_pressure",
     "hand HV-1; strainer F-1; cap K-1; run HV-1 F-1 K-1",
     "F-1",
     {{"points", "HV-1"}, {"assumed N2 HV-1", "yes"}}},
    {"N2_capped_port_is_no_source",
     "<fitting id='T-1' kind='tee'><port id='a'/><port id='b'/><port id='c'/></fitting>; limit L-1;"
     "hand HV-1; strainer F-1; cap K-1 K-2; run L-1 HV-1 T-1.a.b F-1 K-1; run T-1.c K-2",
     "F-1",
     {{"feasible", "yes"}, {"points", "HV-1"}}},
    {"N2_service_not_said_is_liquid",
     "limit L-1; hand HV-1; strainer F-1; cap K-1; run L-1 HV-1; run service= HV-1 F-1 K-1",
     "F-1",
     {{"assumed N2 HV-1~F-1", "yes"}, {"liquid F-1", "yes"}, {"mass", "unknown"}}},

    /* N3: energy sources. */
    {"N3_vessel_with_contents_is_a_source",
     "vessel V-1 drum contents=vapour service=VP; hand HV-1; strainer F-1; cap K-1; run V-1 HV-1 "
     "F-1 K-1",
     "F-1",
     {{"points", "HV-1"}, {"proof", "V-1 V-1~HV-1 HV-1 HV-1~F-1 F-1"}}},
    {"N3_empty_vessel_is_no_source",
     "vessel V-1 drum contents=none; hand HV-1; strainer F-1; cap K-1; run V-1 HV-1 F-1 K-1",
     "F-1",
     {{"points", ""}, {"sources", ""}}},
    {"N3_vessel_found_empty_today_is_no_source",
     "vessel V-1 drum contents=liquid; hand HV-1; strainer F-1; cap K-1; run V-1 HV-1 F-1 K-1",
     "F-1 | V-1 contents=none",
     {{"points", ""}, {"sources", ""}}},
    {"N3_pump_is_a_source",
     "pump P-1; cap K-1 K-2; hand HV-1; strainer F-1; run K-1 P-1 HV-1 F-1 K-2",
     "F-1",
     {{"points", "HV-1"}, {"proof", "P-1 P-1~HV-1 HV-1 HV-1~F-1 F-1"}}},
    {"N3_compressor_is_a_source",
     "compressor P-1; cap K-1 K-2; hand HV-1; strainer F-1; run K-1 ^P-1 HV-1 F-1 K-2",
     "F-1",
     {{"points", "HV-1"}}},
    {"N3_limit_is_a_source",
     ONLY("hand X"),
     "F-1",
     {{"points", "X"}, {"proof", "L-1 L-1~X X X~F-1 F-1"}}},
    {"N3_dead_limit_is_no_source",
     "limit L-1 dead=yes; hand X; strainer F-1; cap K-1; run L-1 X F-1 K-1",
     "F-1",
     {{"points", ""}, {"feasible", "yes"}}},
    {"N3_shared_header_is_a_source",
     "outlet O-1 vent leads-to=flare-or-scrubber shared=yes fitted=open; hand HV-1; strainer F-1; "
     "cap K-1;"
     "run O-1 HV-1 F-1 K-1",
     "F-1",
     {{"points", "HV-1"}, {"proof", "O-1 O-1~HV-1 HV-1 HV-1~F-1 F-1"}}},
    {"N3_shared_header_whatever_is_fitted_on_it",
     "outlet O-1 drain leads-to=closed-drain shared=yes fitted=plug; hand HV-1; strainer F-1; cap "
     "K-1;"
     "run O-1 HV-1 F-1 K-1",
     "F-1",
     {{"points", "HV-1"}}},
    {"N3_shared_relief_header_pushes_back_through_the_relief_valve",
     "outlet O-1 vent leads-to=safe-place shared=yes fitted=open; valve RV relief "
     "set-pressure=18_barg;"
     "limit L-1; hand HV-1; strainer F-1; run L-1 HV-1 F-1 RV O-1",
     "F-1",
     {{"feasible", "no"}, {"path", "O-1 RV~O-1 RV F-1~RV F-1"}}},
    {"N3_unshared_outlet_is_no_source",
     "vent O-1; limit L-1; hand HV-1 HV-2; strainer F-1; run L-1 HV-1 F-1 HV-2 O-1",
     "F-1",
     {{"points", "HV-1"}}},
    {"N3_liquid_in_an_exchanger_is_no_source_but_is_emptied",
     EXCHANGER(
         "service='W' contents='liquid'") ";limit L-1; hand HV-1; strainer F-1; cap K-1 K-2 K-3;"
                                          "run length=0_m L-1 HV-1 E-1.a1.a2 F-1 K-1; run K-2 "
                                          "E-1.b1.b2 K-3",
     "F-1",
     {{"cost", "0 1"}, {"sources", ""}, {"mass", "10.000"}, {"inside E-1", "yes"}}},
    {"N3_other_side_of_an_exchanger_is_named_as_live",
     EXCHANGER(
         "service='W' contents='liquid'") ";limit L-1 L-2 L-3; hand HV-1; strainer F-1; cap K-1;"
                                          "run L-1 HV-1 E-1.a1.a2 F-1 K-1; run L-2 E-1.b1.b2 L-3",
     "F-1",
     {{"live E-1", "live"}}},

    /* N4: a source taken inside, and its treatment. */
    {"N4_vessel_taken_inside_is_named_and_counts",
     "limit L-1; hand HV-1; vessel V-1 drum service=W volume=1_m3 contents=liquid; strainer F-1; "
     "cap K-1;"
     "run length=0_m L-1 HV-1 V-1 F-1 K-1",
     "F-1",
     {{"cost", "1 1"},
      {"sources", "V-1"},
      {"finding N4 V-1", "blocks"},
      {"mass", "1000.000"},
      {"ready", "no"}}},
    {"N4_pump_taken_inside_is_locked_off",
     THROUGH(PUMP_FEED("lockable")),
     "F-1",
     {{"sources", "X"}, {"finding N4 X", "blocks"}, {"feeds", "FD"}, {"cost", "1 2"}}},
    {"N4_each_feed_of_a_pump_is_a_point",
     THROUGH("pump X feeds=complete; feed FD-1 electrical supplies=X isolator=S1 lockable;"
             "feed FD-2 hydraulic supplies=X isolator=S2 lockable"),
     "F-1",
     {{"points", "FD-1 FD-2 HV-1"}}},
    {"N4_pump_without_known_feed_cannot_be_taken_inside",
     THROUGH("pump X"),
     "F-1",
     {{"feasible", "no"}, {"path", "X X~F-1 F-1"}}},
    {"N4_pump_with_a_feed_that_cannot_be_locked",
     THROUGH(PUMP_FEED("lockable=no")),
     "F-1",
     {{"feasible", "no"}, {"path", "X X~F-1 F-1"}}},
    {"N4_pump_with_a_feed_not_said_to_be_lockable",
     THROUGH(PUMP_FEED("")),
     "F-1",
     {{"feasible", "no"}}},
    {"N4_limit_is_never_taken_inside",
     "limit L-1; strainer F-1; cap K-1; run L-1 F-1 K-1",
     "F-1",
     {{"feasible", "no"}, {"path", "L-1 L-1~F-1 F-1"}}},
    {"N4_shared_outlet_is_never_taken_inside",
     "outlet O-1 vent leads-to=safe-place shared=yes fitted=plug; strainer F-1; cap K-1; run O-1 "
     "F-1 K-1",
     "F-1",
     {{"feasible", "no"}, {"path", "O-1 O-1~F-1 F-1"}}},

    /* N5: other energies. */
    {"N5_feed_of_the_target_is_a_point",
     ONLY("hand X") "; valve CX control drive=motor feeds=complete; cap K-2; run F-1 CX K-2;"
                    "feed FD electrical supplies=CX isolator=SW lockable stored=none",
     "CX",
     {{"points", "FD X"}, {"feeds", "FD"}, {"tag FD", "switch-off on>off lock: Do Not Energize"}}},
    {"N5_feed_of_what_lies_inside_is_a_point",
     THROUGH("valve X control drive=motor feeds=complete;"
             "feed FD electrical supplies=X isolator=SW lockable stored=none"),
     "F-1",
     {{"points", "FD HV-1"}}},
    {"N5_one_isolator_is_one_point",
     THROUGH("valve X control drive=motor feeds=complete; feed FD-2 electrical supplies=X "
             "isolator=SW lockable;"
             "feed FD-1 heating supplies=X isolator=SW lockable"),
     "F-1",
     {{"points", "FD-1 HV-1"}, {"cost", "0 2"}}},
    {"N5_feeds_without_isolator_are_points_each",
     THROUGH("valve X control drive=motor feeds=complete; feed FD-2 electrical supplies=X lockable;"
             "feed FD-1 heating supplies=X lockable"),
     "F-1",
     {{"points", "FD-1 FD-2 HV-1"}, {"assumed N5 FD-1", "yes"}}},
    {"N5_feed_of_a_driven_valve_on_the_bleed_path_is_a_point",
     "limit L-1; hand HV-1; strainer F-1; valve XV ball closed drive=air fails=closed "
     "manual-opening=yes"
     " feeds=complete; vent O-1; run L-1 HV-1 F-1 XV O-1; feed FD air supplies=XV isolator=A1 "
     "lockable"
     " stored=none",
     "F-1",
     {{"points", "FD HV-1"}}},
    {"N5_feed_of_what_stays_outside_is_no_point",
     "limit L-1; valve X control drive=motor; hand HV-1; strainer F-1; cap K-1; run L-1 X HV-1 F-1 "
     "K-1;"
     "feed FD electrical supplies=X isolator=SW lockable",
     "F-1",
     {{"points", "HV-1"}}},
    {"N5_target_without_its_feed_is_a_finding",
     THROUGH("valve X control drive=motor"),
     "X",
     {{"finding N5 X", "blocks"}}},
    {"N5_solenoid_without_its_feed_is_a_finding",
     THROUGH("valve X solenoid"),
     "X",
     {{"finding N5 X", "blocks"}}},
    {"N5_inner_device_without_its_feed_is_assumed",
     THROUGH("valve X control drive=motor"),
     "F-1",
     {{"assumed N5 X", "yes"}, {"finding N5 X", "none"}}},
    {"N5_feeds_not_said_to_be_complete_are_assumed",
     THROUGH("valve X control drive=motor; feed FD electrical supplies=X isolator=SW lockable "
             "stored=none"),
     "F-1",
     {{"assumed N5 X", "yes"}}},
    {"N5_complete_feeds_are_no_assumption",
     THROUGH("valve X control drive=motor feeds=complete;"
             "feed FD electrical supplies=X isolator=SW lockable stored=none"),
     "F-1",
     {{"assumed N5", "no"}, {"finding N5", "none"}}},
    {"N5_feed_that_cannot_be_locked_is_a_finding",
     THROUGH("valve X control drive=motor feeds=complete;"
             "feed FD electrical supplies=X isolator=SW lockable=no stored=none"),
     "F-1",
     {{"finding N5 FD", "blocks"}, {"tag FD", "switch-off on>off tag: Do Not Energize"}}},
    {"N5_stored_energy_is_released_after_locking",
     THROUGH("valve X control drive=hydraulic feeds=complete;"
             "feed FD hydraulic supplies=X isolator=SW lockable stored=accumulator"),
     "F-1",
     {{"says release what FD has stored: accumulator", "yes"},
      {"phases", "prepare shut-down isolate lock-and-tag release verify work"}}},
    {"N5_unknown_stored_energy_counts_as_stored",
     THROUGH("valve X control drive=air feeds=complete;"
             "feed FD air supplies=X isolator=SW lockable stored=unknown"),
     "F-1",
     {{"says release what FD has stored", "yes"}, {"assumed N5 FD", "yes"}}},
    {"N5_stored_energy_not_said_counts_as_stored",
     THROUGH(
         "valve X control drive=air feeds=complete; feed FD air supplies=X isolator=SW lockable"),
     "F-1",
     {{"says release what FD has stored", "yes"}, {"assumed N5 FD", "yes"}}},
    {"N5_each_feed_is_tried_in_the_verification",
     THROUGH("valve X control drive=motor feeds=complete manual-opening=yes;"
             "feed FD electrical supplies=X isolator=SW lockable stored=none"),
     "F-1",
     {{"steps verify", "X FD -"}}},

    /* N6: automatic sequences. */
    {"N6_sequence_on_what_lies_inside_is_put_off_first",
     THROUGH("valve X solenoid; sequence SQ defrost acts-on=X off-at=panel"),
     "F-1",
     {{"steps shut-down", "SQ F-1 -"}, {"assumed N6", "no"}}},
    {"N6_sequence_on_the_target_is_put_off_first",
     THROUGH("valve X solenoid; sequence SQ level acts-on=X off-at=panel"),
     "X",
     {{"steps shut-down", "SQ X -"}}},
    {"N6_sequence_on_a_pump_inside_is_put_off_before_the_pump_stops",
     THROUGH(PUMP_FEED("lockable") "; sequence SQ start acts-on=X off-at=panel"),
     "F-1",
     {{"steps shut-down", "SQ F-1 X -"}}},
    {"N6_sequence_that_moves_fluid_up_to_a_point_is_put_off",
     "limit L-1; valve X solenoid; hand HV-1; strainer F-1; cap K-1; run L-1 X HV-1 F-1 K-1;"
     "sequence SQ defrost acts-on=X off-at=panel",
     "F-1",
     {{"steps shut-down", "SQ F-1 -"}}},
    {"N6_sequence_far_from_the_boundary_is_left_alone",
     ONLY("hand X") "; limit L-8 L-9; valve SX solenoid; run L-8 SX L-9; sequence SQ defrost "
                    "acts-on=SX",
     "F-1",
     {{"steps shut-down", "F-1 -"}}},
    {"N6_driven_valve_and_no_sequence_is_assumed",
     THROUGH("valve X solenoid"),
     "F-1",
     {{"assumed N6 test-plant", "yes"}}},
    {"N6_pump_and_no_sequence_is_assumed",
     THROUGH(PUMP_FEED("lockable")),
     "F-1",
     {{"assumed N6 test-plant", "yes"}}},
    {"N6_hand_valves_alone_need_no_sequence", ONLY("hand X"), "F-1", {{"assumed N6", "no"}}},
    {"N6_sequence_goes_on_again_after_the_supplies",
     THROUGH("valve X solenoid feeds=complete; sequence SQ defrost acts-on=X off-at=panel;"
             "feed FD electrical supplies=X isolator=SW lockable"),
     "F-1",
     {{"back energise", "FD SQ"}}},

    /* D1: what may be a point. */
    {"D1_globe_may_be_a_point", THROUGH("valve X globe open lockable"), "F-1", {{"points", "X"}}},
    {"D1_gate_may_be_a_point", THROUGH("valve X gate open lockable"), "F-1", {{"points", "X"}}},
    {"D1_ball_may_be_a_point", THROUGH("valve X ball open lockable"), "F-1", {{"points", "X"}}},
    {"D1_plug_may_be_a_point", THROUGH("valve X plug open lockable"), "F-1", {{"points", "X"}}},
    {"D1_butterfly_may_be_a_point",
     THROUGH("valve X butterfly open lockable"),
     "F-1",
     {{"points", "X"}}},
    {"D1_diaphragm_may_be_a_point",
     THROUGH("valve X diaphragm open lockable"),
     "F-1",
     {{"points", "X"}}},
    {"D1_needle_may_be_a_point", THROUGH("valve X needle open lockable"), "F-1", {{"points", "X"}}},
    {"D1_angle_may_be_a_point", THROUGH("valve X angle open lockable"), "F-1", {{"points", "X"}}},
    {"D1_stop_check_screwed_down_may_be_a_point",
     THROUGH("valve X stop-check open lockable"),
     "F-1",
     {{"points", "X"}, {"tag X", "close open>closed lock: Do Not Open"}}},
    {"D1_closed_valve_is_held_closed",
     ONLY("shut X"),
     "F-1",
     {{"points", "X"}, {"tag X", "close closed>closed lock: Do Not Open"}}},
    {"D1_not_lockable_is_no_point",
     THROUGH("valve X globe open lockable=no"),
     "F-1",
     {{"points", "HV-1"}}},
    {"D1_assumed_lockable_is_a_point_to_be_looked_at",
     THROUGH("valve X globe open lockable=assumed"),
     "F-1",
     {{"points", "X"}, {"assumed D1 X", "yes"}}},
    {"D1_fitted_spectacle_is_a_point_without_lock",
     THROUGH("blind X spectacle closed"),
     "F-1",
     {{"points", "X"},
      {"tag X", "fit closed>closed tag: Do Not Operate"},
      {"assumed D1 X", "yes"}}},
    {"D1_fitted_spade_is_a_point_without_lock",
     THROUGH("blind X spade closed"),
     "F-1",
     {{"points", "X"}}},
    {"D1_removed_spool_is_a_point_its_live_end_blanked",
     THROUGH("blind X removable-spool closed"),
     "F-1",
     {{"points", "X"},
      {"tag X", "remove closed>closed tag: Do Not Operate"},
      {"assumed D1 X", "yes"}}},
    {"D1_open_blind_is_no_point_of_single_grade",
     ONLY("blind X spectacle open"),
     "F-1",
     {{"feasible", "no"}}},
    {"D1_blind_found_fitted_today_is_a_point",
     ONLY("blind X spectacle open"),
     "F-1 | X position=closed",
     {{"points", "X"}}},
    {"D1_target_is_no_point_of_its_own",
     THROUGH("valve X globe closed lockable"),
     "X",
     {{"points", "HV-1"}}},

    /* D2: never a point, though closed and lockable by the file (F-VLV-8, common practice, from
       memory). */
    {"D2_check_valve_is_no_point",
     THROUGH("valve X check closed lockable"),
     "F-1",
     {{"points", "HV-1"}}},
    {"D2_control_valve_is_no_point",
     THROUGH("valve X control closed lockable"),
     "F-1",
     {{"points", "HV-1"}}},
    {"D2_motorised_control_valve_is_no_point",
     THROUGH("valve X control closed lockable drive=motor"),
     "F-1",
     {{"points", "HV-1"}}},
    {"D2_hand_driven_control_valve_is_no_point",
     THROUGH("valve X control closed lockable drive=hand"),
     "F-1",
     {{"points", "HV-1"}}},
    {"D2_expansion_valve_is_no_point",
     THROUGH("valve X expansion closed lockable"),
     "F-1",
     {{"points", "HV-1"}}},
    {"D2_float_valve_is_no_point",
     THROUGH("valve X float closed lockable"),
     "F-1",
     {{"points", "HV-1"}}},
    {"D2_solenoid_valve_is_no_point",
     THROUGH("valve X solenoid closed lockable"),
     "F-1",
     {{"points", "HV-1"}}},
    {"D2_motorised_solenoid_valve_is_no_point",
     THROUGH("valve X solenoid closed lockable drive=motor"),
     "F-1",
     {{"points", "HV-1"}}},
    {"D2_pressure_regulator_is_no_point",
     THROUGH("valve X regulator closed lockable"),
     "F-1",
     {{"points", "HV-1"}}},
    {"D2_relief_valve_is_no_point",
     THROUGH("valve X relief closed lockable"),
     "F-1",
     {{"points", "HV-1"}}},
    {"D2_excess_flow_valve_is_no_point",
     THROUGH("valve X excess-flow closed lockable"),
     "F-1",
     {{"points", "HV-1"}}},
    {"D2_self_closing_valve_is_no_point",
     THROUGH("valve X self-closing closed lockable"),
     "F-1",
     {{"points", "HV-1"}}},
    {"D2_rupture_disc_is_no_point",
     THROUGH("valve X rupture-disc closed lockable"),
     "F-1",
     {{"points", "HV-1"}}},
    {"D2_check_valve_alone_leaves_no_plan",
     ONLY("valve X check closed lockable"),
     "F-1",
     {{"feasible", "no"}, {"path", "L-1 L-1~X X X~F-1 F-1"}}},

    /* D3, D5: what this version does not take as a point joins. */
    {"D3_driven_valve_that_fails_open_is_no_point",
     THROUGH("valve X ball closed lockable drive=air fails=open"),
     "F-1",
     {{"points", "HV-1"}}},
    {"D3_driven_valve_that_stays_is_no_point",
     THROUGH("valve X ball closed lockable drive=motor fails=stays"),
     "F-1",
     {{"points", "HV-1"}}},
    {"D5_three_way_valve_closes_no_more_than_its_positions_do",
     "limit L-1; hand HV-1; valve X three-way positions=a-c position=a-c lockable=yes; "
     "strainer F-1;"
     "cap K-1 K-2; run L-1 HV-1 X.a.c F-1 K-1; run X.b K-2",
     "F-1",
     {{"points", "HV-1"}}},

    {"D5_three_way_valve_is_a_point_in_a_position_that_parts",
     "limit L-1; valve X three-way positions=a-c_b-c position=a-c lockable=yes; strainer F-1;"
     "cap K-1 K-2; run L-1 X.a.c F-1 K-1; run X.b K-2",
     "F-1",
     {{"points", "X"}}},
    {"D5_three_way_valve_that_cannot_be_locked_is_no_point",
     "limit L-1; hand HV-1; valve X three-way positions=a-c_b-c position=a-c; strainer F-1;"
     "cap K-1 K-2; run L-1 HV-1 X.a.c F-1 K-1; run X.b K-2",
     "F-1",
     {{"points", "HV-1"}}},

    /* D6: unfit today, and named. */
    {"D6_passing_valve_is_no_point_and_is_named",
     THROUGH("valve X globe closed lockable condition=passing"),
     "F-1",
     {{"points", "HV-1"}, {"finding D6 X", "blocks"}}},
    {"D6_seized_valve_is_no_point_and_is_named",
     THROUGH("valve X globe closed lockable condition=seized"),
     "F-1",
     {{"points", "HV-1"}, {"finding D6 X", "blocks"}}},
    {"D6_unreachable_valve_is_no_point_and_is_named",
     THROUGH("valve X globe closed lockable condition=unreachable"),
     "F-1",
     {{"points", "HV-1"}, {"finding D6 X", "blocks"}}},
    {"D6_found_passing_today",
     THROUGH("hand X"),
     "F-1 | X condition=passing",
     {{"points", "HV-1"}, {"finding D6 X", "blocks"}}},
    {"D6_found_sound_today",
     THROUGH("valve X globe open lockable condition=passing"),
     "F-1 | X condition=sound",
     {{"points", "X"}, {"finding D6", "none"}}},
    {"D6_passing_valve_alone_leaves_no_plan",
     ONLY("valve X globe closed lockable condition=passing"),
     "F-1",
     {{"feasible", "no"}}},

    /* D7: rating against the live side. Services: LQ 19 barg, W 10 barg. */
    {"D7_rating_below_its_live_side_is_refused",
     THROUGH("valve X globe open lockable rating=18.9_barg"),
     "F-1",
     {{"points", "HV-1"}}},
    {"D7_rating_equal_to_its_live_side_holds",
     THROUGH("valve X globe open lockable rating=19_barg"),
     "F-1",
     {{"points", "X"}, {"assumed D7", "no"}}},
    {"D7_rating_below_the_work_side_only_holds",
     "limit L-1; hand X rating=10_barg; strainer F-1; cap K-1; run service=W L-1 X; run X F-1 K-1",
     "F-1",
     {{"points", "X"}, {"assumed D7", "no"}}},
    {"D7_rating_not_said_is_its_own_design_pressure",
     THROUGH("valve X globe open lockable design-pressure=18_barg"),
     "F-1",
     {{"points", "HV-1"}}},
    {"D7_rating_not_said_is_that_of_its_spools",
     "limit L-1; hand HV-1 X; tee T-1; strainer F-1; cap K-1 K-2; run L-1 HV-1 T-1; run service=W "
     "T-1 X F-1 K-1;"
     "run T-1 K-2",
     "F-1",
     {{"points", "HV-1"}}},
    {"D7_said_rating_goes_before_design_pressure",
     THROUGH("valve X globe open lockable rating=25_barg design-pressure=18_barg"),
     "F-1",
     {{"points", "X"}}},
    {"D7_live_side_is_the_highest_there",
     "limit L-1; hand HV-1; vessel V-1 drum service=W contents=none design-pressure=30_barg; hand "
     "X rating=19_barg;"
     "strainer F-1; cap K-1; run L-1 HV-1 V-1 X F-1 K-1",
     "F-1",
     {{"points", "HV-1"}}},
    {"D7_unknown_live_side_is_an_assumption",
     "limit L-1; hand X rating=10_barg; strainer F-1; cap K-1; run service= L-1 X; run X F-1 K-1",
     "F-1",
     {{"points", "X"}, {"assumed D7 X", "yes"}}},
    {"D7_unknown_rating_is_an_assumption",
     "limit L-1; hand X; tee T-1; strainer F-1; cap K-1 K-2; run service= L-1 X F-1 K-1",
     "F-1",
     {{"points", "X"}, {"assumed D7 X", "yes"}}},
    {"D7_known_part_of_a_live_side_can_refuse",
     "limit L-1; hand HV-1 X; tee T-1; strainer F-1; cap K-1 K-2; run L-1 HV-1 T-1 X F-1 K-1;"
     "run service= T-1 K-2; <service id='U' design-pressure='25 barg'/>; cap K-3; run service=U "
     "T-1 K-3",
     "F-1",
     {{"points", "HV-1"}}},
    {"D7_refused_alone_leaves_no_plan",
     ONLY("hand X rating=10_barg"),
     "F-1",
     {{"feasible", "no"}, {"help", "X X~F-1 L-1~X L-1"}}},

    /* I1: every device that is not a point counts as open, check valves both ways. */
    {"I1_closed_valve_that_is_no_point_counts_as_open",
     THROUGH("valve X globe closed lockable=no"),
     "F-1",
     {{"points", "HV-1"}}},
    {"I1_check_valve_counts_as_open_forward",
     THROUGH("valve X check"),
     "F-1",
     {{"points", "HV-1"}}},
    {"I1_check_valve_counts_as_open_backward",
     "limit L-1; hand HV-1; valve X check; strainer F-1; cap K-1; run L-1 HV-1 ^X F-1 K-1",
     "F-1",
     {{"points", "HV-1"}}},
    {"I1_relief_valve_counts_as_open_backward",
     "limit L-1; hand HV-1; valve X relief; strainer F-1; cap K-1; run L-1 HV-1 ^X F-1 K-1",
     "F-1",
     {{"points", "HV-1"}}},
    {"I1_bypass_is_cut_too",
     "limit L-1; tee T-1; strainer F-1; hand HV-1 HV-2; run L-1 T-1 HV-1 F-1; run T-1 HV-2 F-1",
     "F-1",
     {{"points", "HV-1 HV-2"}}},
    {"I1_closed_bypass_is_cut_too",
     "limit L-1; tee T-1; strainer F-1; hand HV-1; shut HV-2; run L-1 T-1 HV-1 F-1; run T-1 HV-2 "
     "F-1",
     "F-1",
     {{"points", "HV-1 HV-2"}}},
    {"I1_every_port_of_the_target_is_cut_off",
     "limit L-1 L-2 L-3; strainer F-1; hand HV-1 HV-2 HV-3; run L-1 HV-1 F-1 HV-2 L-2; run F-1 "
     "HV-3 L-3",
     "F-1",
     {{"points", "HV-1 HV-2 HV-3"}}},
    {"I1_every_side_of_a_target_exchanger_is_cut_off",
     EXCHANGER("service='W' contents='liquid'") ";limit L-1 L-2; hand HV-1 HV-2; cap K-1 K-2;"
                                                "run L-1 HV-1 E-1.a1; run E-1.a2 K-1; run L-2 HV-2 "
                                                "E-1.b1; run E-1.b2 K-2",
     "E-1",
     {{"points", "HV-1 HV-2"}}},

    /* I2: single. */
    {"I2_single_is_reached_by_one_device_on_each_path",
     "limit L-1 L-2; strainer F-1; hand HV-1 HV-2 HV-3; run L-1 HV-1 HV-2 F-1 HV-3 L-2",
     "F-1",
     {{"grade", "single"}, {"cost", "0 2"}, {"points", "HV-2 HV-3"}}},
    {"I2_no_plan_no_grade",
     "limit L-1; strainer F-1; cap K-1; run L-1 F-1 K-1",
     "F-1",
     {{"grade", "none"}, {"best", "none"}}},
    {"I3_single_is_never_enough_for_entry",
     "limit L-1; hand HV-1; vessel V-1 drum service=VP volume=1_m3 contents=vapour; cap K-1; run "
     "L-1 HV-1 V-1 K-1",
     "V-1 accept=I3:V-1",
     {{"finding I3 V-1", "final"}, {"ready", "no"}, {"feasible", "yes"}}},

    /* I4: sources before points before mass before ids. W: 7.853982 kg a metre at 100 mm. */
    {"I4_sources_before_points",
     "limit L-1; hand HV-1 HV-2 HV-3; vessel V-1 drum service=LQ volume=1_m3 contents=liquid; "
     "strainer F-1;"
     "run L-1 HV-3 V-1 HV-1 F-1; run V-1 HV-2 F-1",
     "F-1",
     {{"cost", "0 2"}, {"points", "HV-1 HV-2"}, {"sources", ""}}},
    {"I4_points_before_mass",
     "limit L-1; hand HV-1 HV-2 HV-3; tee T-1; strainer F-1; run length=100_m L-1 HV-3 T-1;"
     "run T-1 HV-1 F-1; run T-1 HV-2 F-1",
     "F-1",
     {{"cost", "0 1"}, {"points", "HV-3"}}},
    {"I4_a_feed_counts_as_a_point",
     "limit L-1; hand HV-1 HV-2 HV-3; valve X control drive=motor; feed FD electrical supplies=X "
     "isolator=SW"
     " lockable; feed FE air supplies=X isolator=SA lockable; strainer F-1; run L-1 HV-3 X; tee "
     "T-1;"
     "run X T-1 HV-1 F-1; run T-1 HV-2 F-1",
     "F-1",
     {{"cost", "0 2"}, {"points", "HV-1 HV-2"}}},
    {"I4_mass_before_ids",
     "limit L-1; hand HV-1 HV-9; strainer F-1; cap K-1; run L-1 HV-1 HV-9 F-1 K-1",
     "F-1",
     {{"points", "HV-9"}}},
    {"I4_mass_of_a_vessel_between",
     "limit L-1; hand HV-1 HV-9; strainer F-1; cap K-1; <exchanger id='E-1'><side id='a' volume='5 "
     "L' service='W'"
     " contents='liquid'><port id='a1'/><port id='a2'/></side></exchanger>;"
     "run length=0_m L-1 HV-1 E-1.a1.a2 HV-9 F-1 K-1",
     "F-1",
     {{"points", "HV-9"}, {"mass", "0.000"}}},
    {"I4_mass_counts_in_whole_grams_below_half_a_gram_is_none",
     "limit L-1; hand HV-1 HV-9; strainer F-1; cap K-1; run service=W length=0_m HV-9 F-1 K-1;"
     "run service=W bore=10_mm length=6.3_mm HV-1 HV-9; run service=W L-1 HV-1",
     "F-1",
     {{"points", "HV-1"}, {"mass", "0.000"}}},
    {"I4_mass_counts_in_whole_grams_above_half_a_gram_is_one",
     "limit L-1; hand HV-1 HV-9; strainer F-1; cap K-1; run service=W length=0_m HV-9 F-1 K-1;"
     "run service=W bore=10_mm length=6.5_mm HV-1 HV-9; run service=W L-1 HV-1",
     "F-1",
     {{"points", "HV-9"}}},
    {"I4_unknown_mass_ranks_after_all_known",
     "limit L-1; hand HV-1 HV-9; strainer F-1; cap K-1; run F-1 K-1; run length=50_m HV-9 F-1;"
     "run length= HV-1 HV-9; run L-1 HV-1",
     "F-1",
     {{"points", "HV-9"}}},
    {"I4_unknown_masses_rank_equal",
     "limit L-1; hand HV-1 HV-9; strainer F-1; cap K-1; run F-1 K-1; run length= HV-9 F-1;"
     "run length=50_m HV-1 HV-9; run L-1 HV-1",
     "F-1",
     {{"points", "HV-1"}, {"mass", "unknown"}}},
    {"I4_lowest_ids_bytewise",
     "limit L-1; hand HV-10 HV-9; strainer F-1; cap K-1; run F-1 K-1; run HV-9 F-1;"
     "run length=0_m HV-10 HV-9; run L-1 HV-10",
     "F-1",
     {{"points", "HV-10"}}},
    {"I4_ids_compared_item_by_item",
     "limit L-1 L-2; hand A D B C; strainer F-1; run length=0_m L-1 A D F-1 B C L-2",
     "F-1",
     {{"points", "A B"}}},

    /* I5: the proof. */
    {"I5_as_many_paths_as_points",
     "limit L-1 L-2; strainer F-1; hand HV-1 HV-2; run L-1 HV-1 F-1 HV-2 L-2",
     "F-1",
     {{"bound", "2"}, {"feeds", ""}, {"cost", "0 2"}}},
    {"I5_feeds_stand_beside_the_paths",
     THROUGH("valve X control drive=motor; feed FD electrical supplies=X"
             " isolator=SW lockable"),
     "F-1",
     {{"bound", "1"}, {"feeds", "FD"}, {"cost", "0 2"}}},

    /* I6: the answer no. */
    {"I6_path_and_the_pipe_that_would_help",
     "limit L-1; strainer F-1; cap K-1; run L-1 F-1 K-1",
     "F-1",
     {{"feasible", "no"},
      {"path", "L-1 L-1~F-1 F-1"},
      {"help", "L-1~F-1 L-1"},
      {"help-is", "any"},
      {"best", "none"}}},
    {"I6_end_that_could_be_blind",
     "limit L-1 dead=no; strainer F-1; cap K-1; run L-1 F-1 K-1",
     "F-1",
     {{"help", "L-1~F-1"}}},
    {"I6_end_that_could_be_blind_beside_another",
     "limit L-1 L-2; tee T-1; strainer F-1; cap K-1; run L-1 T-1 F-1 K-1; run L-2 T-1",
     "F-1",
     {{"help", "T-1~F-1"}}},
    {"I6_device_that_can_be_made_to_help_comes_first",
     ONLY("valve X globe open lockable=no"),
     "F-1",
     {{"help", "X X~F-1 L-1~X L-1"}, {"help-is", "any"}}},
    {"I6_device_of_D2_is_no_help", ONLY("valve X check"), "F-1", {{"help", "X~F-1 L-1~X L-1"}}},
    {"I6_a_place_helps_only_if_it_cuts_every_way",
     "limit L-1 L-2; tee T-1; strainer F-1; cap K-1; run L-1 T-1 F-1 K-1; run L-2 T-1",
     "F-1",
     {{"help", "T-1~F-1"}, {"help-is", "any"}}},
    {"I6_a_set_that_helps_together",
     "limit L-1 L-2; strainer F-1; run L-1 F-1 L-2",
     "F-1",
     {{"help", "L-1~F-1 F-1~L-2"}, {"help-is", "all"}}},
    {"I6_feeds_of_a_pump_would_help",
     "pump P-1; hand HV-1; limit L-1; strainer F-1; cap K-1;"
     "run L-1 HV-1 P-1 F-1 K-1",
     "F-1",
     {{"path", "P-1 P-1~F-1 F-1"}, {"help", "P-1 P-1~F-1"}, {"help-is", "any"}}},
    {"I6_limit_as_target_has_no_help",
     "limit L-1; strainer F-1; cap K-1; run L-1 F-1 K-1",
     "L-1",
     {{"feasible", "no"}, {"path", "L-1"}, {"help", ""}}},
    {"I6_not_ready_without_a_plan",
     "limit L-1; strainer F-1; cap K-1; run L-1 F-1 K-1",
     "F-1",
     {{"ready", "no"}}},

    /* I8: what is still live. */
    {"I8_source_and_pipe_beyond_a_point",
     ONLY("hand X"),
     "F-1",
     {{"live L-1", "live"}, {"live L-1~X", "live"}, {"live X~F-1", "no"}, {"live X", "no"}}},
    {"I8_valve_beside_a_point_could_be_taken_for_it",
     "limit L-1; hand HV-1 HV-2; strainer F-1; cap K-1;"
     "run L-1 HV-1 HV-2 F-1 K-1",
     "F-1",
     {{"live HV-1", "look-alike"}, {"live HV-1~HV-2", "live"}}},
    {"I8_vessel_beyond_a_point",
     "vessel V-1 drum contents=liquid; hand X; strainer F-1; cap K-1;"
     "run V-1 X F-1 K-1",
     "F-1",
     {{"live V-1", "live"}, {"live V-1~X", "live"}}},
    {"I8_valve_at_the_place_of_the_work",
     "limit L-1 L-8 L-9; hand X; strainer F-1 place=corridor; cap K-1; run L-1 X F-1 K-1; hand "
     "HV-7 place=corridor;"
     "hand HV-8 place=roof; run L-8 HV-7 HV-8 L-9",
     "F-1",
     {{"live HV-7", "look-alike"}, {"live HV-8", "no"}}},
    {"I8_pipe_at_the_place_of_a_point",
     "limit L-1 L-8 L-9; hand X place=corridor; strainer F-1; cap K-1; run L-1 X F-1 K-1;"
     "run place=corridor L-8 L-9",
     "F-1",
     {{"live L-8~L-9", "live"}}},
    {"I8_source_at_the_place_of_the_work",
     "limit L-1 L-9; hand X; strainer F-1 place=corridor; cap K-1 K-2; run L-1 X F-1 K-1;"
     "vessel V-9 drum contents=liquid place=corridor; run V-9 K-2; run V-9 L-9",
     "F-1",
     {{"live V-9", "live"}}},
    {"I8_what_lies_inside_is_not_live",
     THROUGH("hand X"),
     "F-1",
     {{"live F-1", "no"}, {"live K-1", "no"}, {"live F-1~K-1", "no"}}},
};
enum { N_ROWS = sizeof rows / sizeof rows[0] };

static kit work;

static int clear_work(void **given)
{
    (void)given;
    kit_close(&work);
    return 0;
}

/* How many devices of a path are points, and does it begin and end where it must. */
static void check_path(const kit *k, const still_proof_path *path)
{
    size_t points = 0;
    for (size_t i = 0; i < path->ids.n; i++) {
        const still_point *p = kit_point(k, path->ids.items[i]);
        if (p != NULL && p->counted) points++;
    }
    assert_int_equal(points, 1);
    assert_string_equal(path->ids.items[path->ids.n - 1], k->r->targets.items[0]);
    assert_non_null(kit_point(k, path->point));
}

/* I5 over all rows: as many paths as points, feeds aside; no point on two of them. */
static void I5_proof_of_every_row(void **given)
{
    (void)given;
    for (size_t i = 0; i < N_ROWS; i++) {
        kit_open(&work, rows[i].plant);
        kit_plan(&work, rows[i].plan);
        if (work.r == NULL) {
            kit_close(&work);
            continue;
        }
        const still_proof *proof = &work.r->proof;
        if (work.r->feasible) {
            assert_int_equal(proof->n_paths + proof->feeds.n, work.r->cost_points);
            assert_int_equal(proof->bound, proof->n_paths);
        }
        for (size_t a = 0; a < proof->n_paths; a++) {
            check_path(&work, &proof->paths[a]);
            for (size_t b = 0; b < a; b++)
                assert_string_not_equal(proof->paths[a].point, proof->paths[b].point);
        }
        kit_close(&work);
    }
}

/* I7 over all rows: the second check agrees with what is shown. */
static void I7_verify_agrees_with_every_row(void **given)
{
    (void)given;
    for (size_t i = 0; i < N_ROWS; i++) {
        bool agrees = false;
        kit_open(&work, rows[i].plant);
        kit_plan(&work, rows[i].plan);
        if (work.r == NULL) {
            kit_close(&work);
            continue;
        }
        assert_int_equal(still_verify_record(&agrees, work.plant, work.state, work.r, NULL),
                         STILL_OK);
        assert_true(agrees);
        kit_close(&work);
    }
}

static void open_tutorial(void)
{
    const char *target = "MV-1";
    still_plan_opts opts = STILL_PLAN_OPTS_INIT;
    opts.grade = STILL_GRADE_SINGLE;
    assert_int_equal(
        still_plant_read(&work.plant, STILL_SOURCE_DIR "/plants-demo/tutorial.xml", NULL),
        STILL_OK);
    assert_int_equal(still_plan_make(&work.plan, work.plant, NULL, &target, 1, &opts, NULL),
                     STILL_OK);
    work.r = still_plan_record(work.plan);
}

/* Is a record refuted, with a diagnostic of the rule? */
static void assert_refuted(const still_record *r, const char *rule)
{
    bool agrees = true, named = false;
    still_diags *diags = still_diags_new();
    assert_int_equal(still_verify_record(&agrees, work.plant, NULL, r, diags), STILL_OK);
    assert_false(agrees);
    for (size_t i = 0; i < still_diags_count(diags); i++)
        named |= strcmp(still_diags_at(diags, i)->code, rule) == 0;
    still_diags_free(diags);
    if (!named) print_error("nothing was said of %s\n", rule);
    assert_true(named);
}

/* A record without any one of its barriers does not hold (I1, I2), and the second check says so. */
static void I7_record_without_a_point_is_caught(void **given)
{
    (void)given;
    still_point points[16];
    open_tutorial();
    assert_in_range(work.r->n_points, 1, 16);
    for (size_t drop = 0; drop < work.r->n_points; drop++) {
        still_record r = *work.r;
        if (!r.points[drop].counted || r.points[drop].action != STILL_ACTION_CLOSE) continue;
        r.n_points = 0;
        for (size_t i = 0; i < work.r->n_points; i++)
            if (i != drop) points[r.n_points++] = work.r->points[i];
        r.points = points;
        r.cost_points--;
        assert_refuted(&r, "I1");
    }
}

static void I7_record_without_a_feed_is_caught(void **given)
{
    (void)given;
    still_point points[16];
    open_tutorial();
    still_record r = *work.r;
    r.n_points = 0;
    for (size_t i = 0; i < work.r->n_points; i++)
        if (work.r->points[i].action != STILL_ACTION_SWITCH_OFF)
            points[r.n_points++] = work.r->points[i];
    r.points = points;
    assert_refuted(&r, "N5");
}

static void I7_record_with_a_check_valve_as_point_is_caught(void **given)
{
    (void)given;
    still_point points[16];
    open_tutorial();
    still_record r = *work.r;
    for (size_t i = 0; i < r.n_points; i++) {
        points[i] = work.r->points[i];
        if (strcmp(points[i].id, "HV-1") == 0) points[i].id = "CV-1";
    }
    r.points = points;
    assert_refuted(&r, "D2");
}

static void I7_record_that_hides_closed_in_liquid_is_caught(void **given)
{
    (void)given;
    open_tutorial();
    still_record r = *work.r;
    assert_string_equal(r.findings[0].rule, "L6");
    r.findings++;
    r.n_findings--;
    r.ready = true;
    assert_refuted(&r, "L6");
}

int main(void)
{
    const struct CMUnitTest more[] = {
        cmocka_unit_test_teardown(I5_proof_of_every_row, clear_work),
        cmocka_unit_test_teardown(I7_verify_agrees_with_every_row, clear_work),
        cmocka_unit_test_teardown(I7_record_without_a_point_is_caught, clear_work),
        cmocka_unit_test_teardown(I7_record_without_a_feed_is_caught, clear_work),
        cmocka_unit_test_teardown(I7_record_with_a_check_valve_as_point_is_caught, clear_work),
        cmocka_unit_test_teardown(I7_record_that_hides_closed_in_liquid_is_caught, clear_work),
    };
    return kit_main(rows, N_ROWS, more, sizeof more / sizeof more[0]);
}
