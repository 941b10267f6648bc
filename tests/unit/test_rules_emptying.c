/* Rules of emptying: pockets and how they are got out (E3), air that gets in (E2), high and low
 * (E5), quantities, times. One row a sentence; answers by hand.
 *
 * A pipe of 50 mm bore holds 1.963 L a metre (pi/4 d2); W has 1000 kg/m3. The plants are invented.
 */
#include "plantkit.h"

/* A section of a liquid that does not boil, with one drain, and `more`. */
#define DRAINED(more)                                                                              \
    "limit L-1; hand HV-1 elevation=2_m; strainer F-1 elevation=2_m; tee T-1 elevation=2_m;"       \
    "shut DV elevation=1_m; drain O-2 elevation=0.9_m;"                                            \
    "run service=W L-1 HV-1 F-1 T-1 DV O-2;" more
/* The same, with a branch down to a dead end at 0.5 m. */
#define POCKET(service, ends, more)                                                                \
    "limit L-1; hand HV-1 elevation=2_m; strainer F-1 elevation=2_m; tee T-1 elevation=2_m; tee "  \
    "T-2 elevation=0.5_m place=pit; cap K-1 elevation=0.5_m; shut DV elevation=1_m; drain O-2 "    \
    "elevation=0.9_m; shut BV elevation=2.5_m; vent O-1 elevation=2.6_m;"                          \
    "run service=" service " L-1 HV-1 F-1 T-1 DV O-2; run service=" service " F-1 BV O-1;"         \
    "pipe S-1 T-1.a T-2.a service=" service " " ends ";"                                           \
    "pipe S-2 T-2.b K-1.in service=" service ";" more
/* A vessel that is opened, with a drain at 0.6 m. */
#define VESSEL(shape)                                                                              \
    "limit L-1; hand HV-1 elevation=3_m; shut DV elevation=0.6_m; drain O-2 elevation=0.6_m;"      \
    "shut BV elevation=3.5_m; vent O-1 elevation=3.6_m;"                                           \
    "vessel V-1 drum service=W " shape " +low@0.6 +top@3 +vent@3;"                                 \
    "run service=W L-1 HV-1 V-1.top; run service=W V-1.vent BV O-1;"                               \
    "run service=W V-1.low DV O-2"

static const kit_row rows[] = {
    /* E2: no air in, no liquid out. */
    {"E2_no_air_in_no_liquid_out",
     DRAINED(""),
     "F-1",
     {{"air F-1", "none"}, {"told E2 no air can get in", "yes"}, {"finding E2", "blocks"}}},
    {"E2_air_gets_in_above_the_drain",
     DRAINED("shut BV elevation=2.5_m; vent O-1 elevation=2.6_m; run service=W F-1 BV O-1"),
     "F-1",
     {{"air F-1", "O-1"}, {"told E2 no air can get in", "no"}}},
    {"E2_no_air_gets_in_below_the_drain",
     DRAINED("shut BV elevation=0.5_m; vent O-1 elevation=2.6_m; run service=W F-1 BV O-1"),
     "F-1",
     {{"air F-1", "none"}, {"told E2 no air can get in", "yes"}}},
    {"N2_air_by_an_outlet_of_unknown_height_is_not_shown",
     DRAINED("shut BV; vent O-1 elevation=2.6_m; run service=W F-1 BV O-1"),
     "F-1",
     {{"air F-1", "none"}, {"told E2 no air can get in", "yes"}}},
    {"E2_boiling_liquid_needs_no_air",
     "limit L-1; hand HV-1 elevation=2_m; strainer F-1 elevation=2_m; shut DV elevation=1_m; drain "
     "O-2 elevation=0.9_m; run L-1 HV-1 F-1 DV O-2",
     "F-1",
     {{"air F-1", "flashes"}, {"told E2 no air can get in", "no"}}},

    /* E3: the geometry of pipes. */
    {"E3_part_of_a_pipe_below_the_level",
     "limit L-1; hand HV-1 elevation=2_m; strainer F-1 elevation=2_m; cap K-1 elevation=0.5_m; "
     "shut "
     "DV elevation=1_m; drain O-2 elevation=0.9_m; tee T-1 elevation=1_m; run service=W L-1 HV-1 "
     "F-1 T-1 DV O-2; pipe S-1 T-1.low K-1.in service=W length=0.5_m",
     "F-1",
     {{"pockets F-1", "K-1 S-1: 0.9817 L 0.9817 kg"}, {"lowest F-1", "0.5 m"}}},
    {"E3_a_long_pipe_may_lie_low",
     "limit L-1; hand HV-1 elevation=2_m; strainer F-1 elevation=2_m; shut DV elevation=1_m; drain "
     "O-2 elevation=1_m; tee T-1 elevation=0_m; cap K-1 elevation=2_m; run service=W L-1 HV-1 F-1 "
     "DV O-2; pipe S-1 F-1.low T-1.a service=W length=4_m; pipe S-2 T-1.b K-1.in service=W "
     "length=4_m",
     "F-1",
     {{"pockets F-1", "S-1 S-2 T-1: 15.71 L 15.71 kg"}}},
    {"E3_self_closing_valve_off_the_way_lets_nothing_out",
     "limit L-1; hand HV-1 elevation=2_m; strainer F-1 elevation=2_m; shut DV elevation=1.5_m; tee "
     "T-1 elevation=0.5_m; tee T-2 elevation=0.3_m; valve QV self-closing elevation=0.4_m; drain "
     "O-2 "
     "elevation=0.2_m; run service=W L-1 HV-1 F-1 DV T-2 O-2; run service=W F-1 T-1 QV T-2",
     "F-1",
     {{"drain F-1", "DV O-2"}, {"finding E3", "blocks"}, {"lowest F-1", "0.4 m"}}},
    {"N2_pocket_of_unknown_length",
     POCKET("W", "length=", ""),
     "F-1",
     {{"pockets F-1", "K-1 S-1 S-2 T-2: unknownunknown"}, {"finding E3", "blocks"}}},

    /* E3: one missing height takes away what drains through it, and no more. */
    {"E3_one_missing_height_takes_away_what_is_there",
     DRAINED(
         "tee T-2; cap K-1 elevation=3_m; cap K-2 elevation=3_m; pipe S-1 T-1.b T-2.a service=W;"
         "pipe S-2 T-2.b K-1.in service=W; pipe S-3 F-1.b K-2.in service=W"),
     "F-1",
     {{"not-shown F-1", "K-1 S-1 S-2 T-2"},
      {"assumed N2 DV", "yes"},
      {"pockets F-1", "not shown"}}},
    {"E3_without_the_height_of_the_outlet_nothing_is_shown",
     "limit L-1; hand HV-1 elevation=2_m; strainer F-1 elevation=2_m; shut DV elevation=1_m; drain "
     "O-2; run service=W L-1 HV-1 F-1 DV O-2",
     "F-1",
     {{"not-shown F-1", "DV DV~O-2 F-1 F-1~DV HV-1~F-1 O-2"}, {"finding E3", "none"}}},

    /* E3: vessels. */
    {"E3_vessel_below_its_lowest_nozzle",
     VESSEL("shape=vertical diameter=1_m length=3_m heads=flat bottom=0.5_m"),
     "V-1",
     {{"pockets V-1", "V-1: 78.54 L 78.54 kg"},
      {"finding E3 V-1", "blocks"},
      {"lowest V-1", "0.5 m"},
      {"not-shown V-1", ""}}},
    {"E3_vessel_drained_at_its_bottom",
     VESSEL("bottom=0.6_m volume=2_m3"),
     "V-1",
     {{"pockets V-1", ""}, {"finding E3", "none"}, {"not-shown V-1", ""}}},
    {"N2_vessel_of_unknown_bottom_is_not_shown",
     VESSEL("shape=vertical diameter=1_m length=3_m heads=flat volume=2_m3"),
     "V-1",
     {{"not-shown V-1", "V-1"}, {"assumed N2 BV", "yes"}}},
    {"N2_vessel_of_unknown_shape_keeps_an_unknown_volume",
     VESSEL("bottom=0.5_m volume=2_m3"),
     "V-1",
     {{"pockets V-1", "V-1: unknownunknown"}, {"finding E3 V-1", "blocks"}}},
    {"E3_volume_above_that_of_the_shape_counts_in_proportion",
     VESSEL("shape=vertical diameter=1_m length=3_m heads=flat bottom=0.5_m volume=4.71238898_m3"),
     "V-1",
     {{"pockets V-1", "V-1: 157.1 L 157.1 kg"}}},

    /* E3: how it is got out. */
    {"E3_lowest_flanged_joint_is_loosened_last",
     POCKET("W", "ends=flanged_flanged", ""),
     "F-1",
     {{"loosen F-1", "T-2.a"},
      {"evaporate F-1", ""},
      {"suction F-1", ""},
      {"place F-1", "pit"},
      {"told E3 loosen joint T-2.a last", "yes"},
      {"says release what is left then comes at its joint, below", "yes"},
      {"says work loosen joint T-2.a, a tray under it", "yes"}}},
    {"E3_no_flanged_joint",
     POCKET("W", "", ""),
     "F-1",
     {{"loosen F-1", ""}, {"told E3 suck it out, or press it out with dry nitrogen", "yes"}}},
    {"E3_what_boils_goes_by_the_vent",
     POCKET("LQ", "ends=flanged_flanged", ""),
     "F-1",
     {{"evaporate F-1", "O-1"}, {"suction F-1", ""}, {"told E3 boil off through O-1", "yes"}}},
    {"E3_what_boils_can_be_pumped_down",
     POCKET("LQ", "",
            "vessel V-1 drum role=low-pressure contents=liquid; hand HV-2 elevation=2_m; run F-1 "
            "HV-2 V-1"),
     "F-1",
     {{"suction F-1", "V-1"}, {"told E3 pump down to V-1", "yes"}}},

    /* E5: high and low. */
    {"E5_drain_that_leaves_least",
     "limit L-1; hand HV-1 elevation=1_m; strainer F-1 elevation=1_m; tee T-1 elevation=3_m; shut "
     "DA "
     "elevation=0.9_m; shut DB elevation=0.5_m; drain O-A elevation=0.9_m; drain O-B "
     "elevation=0.5_m; run service=W L-1 HV-1 F-1 DA O-A; run service=W F-1 T-1 DB O-B",
     "F-1",
     {{"drain F-1", "DA O-A"},
      {"pockets F-1", ""},
      {"change release DA", "closed>open"},
      {"change release DB", "closed>open"}}},
    {"E5_drain_that_nobody_has_to_hold_open_goes_first",
     "limit L-1; hand HV-1 elevation=1_m; strainer F-1 elevation=1_m; shut DA elevation=0.9_m; "
     "valve "
     "QV self-closing elevation=0.5_m; drain O-A elevation=0.9_m; drain O-B elevation=0.5_m;"
     "run service=W L-1 HV-1 F-1 DA O-A; run service=W F-1 QV O-B",
     "F-1",
     {{"drain F-1", "DA O-A"}}},
    {"E5_two_parts_let_off_into_one_header",
     "limit L-1 L-2; hand HV-1 HV-2 elevation=2_m; strainer F-1 F-2 elevation=2_m; valve X check "
     "elevation=2_m; shut BA BB elevation=2_m; tee T-1 elevation=2_m; vent O-1 elevation=3_m;"
     "run L-1 HV-1 F-1 X F-2 HV-2 L-2; run F-1 BA T-1 BB F-2; run T-1 O-1",
     "F-1",
     {{"finding E5", "blocks"}, {"told E5 the same header", "yes"}}},
    {"E5_two_compartments_to_a_flare_may_be_one_line",
     "limit L-1; hand HV-1; strainer F-1; valve CV check; tee T-1 T-2; cap K-1; shut B-1 B-2; "
     "outlet O-1 vent leads-to=flare-or-scrubber shared=no; outlet O-2 vent "
     "leads-to=flare-or-scrubber shared=no; run L-1 HV-1 T-1 F-1 CV T-2 K-1; run T-1 B-1 O-1; "
     "run T-2 B-2 O-2",
     "F-1",
     {{"rooms", "2"}, {"assumed E5 O-1", "yes"}}},
    {"E5_outlet_of_a_relief_valve_to_the_same_flare_counts",
     "limit L-1; hand HV-1; strainer F-1; tee T-1 T-2; cap K-1; shut B-1; valve RV relief "
     "set-pressure=10_barg; outlet O-1 vent leads-to=flare-or-scrubber shared=no; outlet O-2 vent "
     "leads-to=flare-or-scrubber shared=no fitted=open; run L-1 HV-1 T-1 F-1 T-2 K-1; run T-1 B-1 "
     "O-1; run T-2 RV O-2",
     "F-1",
     {{"rooms", "2"}, {"assumed E5 O-1", "yes"}}},
    {"E5_a_safe_place_is_no_line",
     "limit L-1; hand HV-1; strainer F-1; valve CV check; tee T-1 T-2; cap K-1; shut B-1 B-2; "
     "vent O-1 O-2; run L-1 HV-1 T-1 F-1 CV T-2 K-1; run T-1 B-1 O-1; run T-2 B-2 O-2",
     "F-1",
     {{"rooms", "2"}, {"assumed E5 O-1", "no"}}},
    {"E5_one_part_with_two_ways_to_a_header_is_well",
     "limit L-1; hand HV-1 elevation=2_m; strainer F-1 elevation=2_m; shut BA BB elevation=2_m; "
     "tee "
     "T-1 elevation=2_m; vent O-1 elevation=3_m; run L-1 HV-1 F-1 BA T-1 BB F-1; run T-1 O-1",
     "F-1",
     {{"finding E5", "none"}}},

    /* I4, E2: quantities by phase; the opened vessel counts. */
    {"I4_inventory_counts_the_opened_vessel",
     VESSEL("contents=two-phase fill=0.25 volume=2_m3 bottom=0.6_m"),
     "V-1",
     {{"held V-1", "509.8 L 509.8 kg 1500 L unknown"},
      {"inventory", "509.8 L 509.8 kg 1500 L unknown"}}},
    {"I4_vapour_and_liquid_apart",
     "limit L-1; hand HV-1; strainer F-1; cap K-1; run service=W L-1 HV-1 F-1; pipe S-1 F-1.b "
     "K-1.in "
     "service=VP",
     "F-1",
     {{"held F-1", "1.963 L 1.963 kg 1.963 L 0.002826 kg"}}},

    /* E2: times. Torricelli: 2 V / (0.61 A sqrt(2 g H)), V = 11.78 L (6 m), A = 1.963e-3 m2, H
     * = 1.7 m.
     */
    {"E2_time_to_drain_by_its_weight",
     DRAINED("shut BV elevation=2.5_m; vent O-1 elevation=2.6_m; run service=W F-1 BV O-1"),
     "F-1",
     {{"seconds O-2", "3.407 s"}}},
    {"N2_time_through_an_unknown_bore",
     "limit L-1; hand HV-1 elevation=2_m; strainer F-1 elevation=2_m; shut DV elevation=1_m; drain "
     "O-2 elevation=0.9_m; run service=W bore= L-1 HV-1 F-1 DV O-2",
     "F-1",
     {{"seconds O-2", "unknown unknown"}}},
};

int main(void)
{
    return kit_main(rows, sizeof rows / sizeof rows[0], NULL, 0);
}
