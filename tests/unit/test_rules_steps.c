/* Rules of the procedure (P), and the facts that it must keep to (F), one row a sentence.
 *
 * Sources: 29 CFR 1910.147 (d), (e), (c)(5)(iii) (F-OSH-1, F-OSH-4, F-OSH-7); 40 CFR 63.167(a)(1)
 * (F-EPA-1); P5: common practice, no source. Plants are invented. Notation: plantkit.h, kit_ask.c.
 */
#include "plantkit.h"

#include <ctype.h>
#include <stdio.h>
#include <string.h>

/* A driven control valve X as target, between a feed side and the low-pressure vessel V-1; its ids
 * are in the opposite order to that of operation. */
#define STATION                                                                                    \
    "limit L-1; hand HV-9 HV-1; vessel V-1 drum role=low-pressure contents=liquid; tee T-1 T-2;"   \
    "valve X control drive=motor manual-opening=yes feeds=complete; shut BV DV; vent O-1; drain "  \
    "O-2;"                                                                                         \
    "run L-1 HV-9 T-1 X T-2 HV-1 V-1; run T-2 BV O-1; run T-1 DV O-2;"                             \
    "feed FD electrical supplies=X isolator=SW lockable stored=accumulator;"                       \
    "sequence SQ defrost acts-on=X off-at=panel"
#define SIMPLE(valve) "limit L-1; " valve "; strainer F-1; cap K-1; run L-1 HV-1 F-1 K-1"

static const kit_row rows[] = {
    /* P1, F-OSH-1: prepare, shut down, isolate, lock and tag, release, verify; only then work. */
    {"P1_phases_in_order",
     STATION,
     "X",
     {{"phases", "prepare shut-down isolate lock-and-tag release verify work"}}},
    {"F_OSH_1_order_of_1910_147_d",
     SIMPLE("hand HV-1"),
     "F-1",
     {{"phases", "prepare shut-down isolate lock-and-tag release verify work"}}},
    {"P1_every_point_is_locked_and_tagged",
     STATION,
     "X",
     {{"steps lock-and-tag", "FD HV-9 X HV-1"}}},
    {"P1_stored_energy_is_released_after_the_locks",
     STATION,
     "X",
     {{"says release accumulator", "yes"}, {"says isolate accumulator", "no"}}},
    {"P1_the_joint_is_opened_in_the_last_phase_only",
     STATION,
     "X",
     {{"steps work", "X X X X - -"},
      {"says work Open X", "yes"},
      {"says verify Open X", "no"},
      {"says release Open X", "no"}}},
    {"P1_closed_point_is_still_checked",
     SIMPLE("shut HV-1"),
     "F-1",
     {{"steps isolate", "HV-1"}, {"change isolate HV-1", "closed>closed"}}},

    /* P2: feed sides first, the side to the low-pressure receiver last. */
    {"P2_supply_then_feed_side_then_receiver_side",
     STATION,
     "X",
     {{"steps isolate", "FD HV-9 X V-1 HV-1"}, {"tags", "FD HV-9 X HV-1 BV DV"}}},
    {"P2_every_feed_side_before_the_receiver_side",
     "limit L-1 L-2; hand A B C; vessel V-1 drum role=low-pressure contents=liquid; strainer F-1;"
     "run F-1 A V-1; run L-1 C F-1; run L-2 B F-1",
     "F-1",
     {{"steps isolate", "B C V-1 A"}}},
    {"P2_pump_down_belongs_to_shutting_down",
     STATION,
     "X",
     {{"steps shut-down", "SQ X X V-1"},
      {"says shut-down person in attendance", "yes"},
      {"says shut-down pressure holds with the suction side (", "yes"},
      {"says shut-down warmed above saturation", "yes"},
      {"says shut-down Reopen and repeat", "yes"},
      {"assumed P2", "no"}}},
    {"P2_no_receiver_no_pump_down_is_known",
     SIMPLE("hand HV-1"),
     "F-1",
     {{"says shut-down No pump-down is known", "yes"}, {"assumed P2 F-1", "yes"}}},
    {"P2_vessel_of_another_role_is_no_receiver",
     "limit L-1; hand HV-1 HV-2; vessel V-1 drum role=high-pressure contents=liquid; strainer F-1; "
     "run L-1 HV-1 F-1 HV-2 V-1",
     "F-1",
     {{"assumed P2 F-1", "yes"}}},
    {"P2_vessel_of_unknown_role_is_no_receiver",
     "limit L-1; hand HV-1 HV-2; vessel V-1 drum contents=liquid; strainer F-1; run L-1 HV-1 F-1 "
     "HV-2 V-1",
     "F-1",
     {{"assumed P2 F-1", "yes"}}},
    {"P2_receiver_against_a_check_valve_is_out_of_reach",
     "limit L-1; hand HV-1 HV-2; valve CV check; vessel V-1 drum role=low-pressure "
     "contents=liquid; strainer F-1;"
     "run L-1 HV-1 F-1 HV-2 ^CV V-1",
     "F-1",
     {{"assumed P2 F-1", "yes"}}},
    {"P2_receiver_behind_a_check_valve_is_in_reach",
     "limit L-1; hand HV-1 HV-2; valve CV check; vessel V-1 drum role=low-pressure "
     "contents=liquid; strainer F-1;"
     "run L-1 HV-1 F-1 HV-2 CV V-1",
     "F-1",
     {{"assumed P2", "no"}, {"steps shut-down", "F-1 V-1"}}},
    {"P2_receiver_behind_a_closed_valve_is_out_of_reach",
     "limit L-1; hand HV-1 HV-2; shut HV-3; vessel V-1 drum role=low-pressure contents=liquid; "
     "strainer F-1;"
     "run L-1 HV-1 F-1 HV-2 HV-3 V-1",
     "F-1",
     {{"assumed P2 F-1", "yes"}}},

    /* P5: opening a cover (F-PRC-6; two bolts: common practice, no source). */
    {"P5_two_bolts_until_the_joint_has_parted",
     STATION,
     "X",
     {{"says work leave two bolts partly engaged until the joint has parted without pressure",
       "yes"},
      {"cautioned P5 two bolts partly engaged", "yes"}}},
    {"P5_bolts_farthest_from_the_body_first",
     STATION,
     "X",
     {{"says work loosen the bolts farthest from the body first", "yes"}}},

    /* P6, F-OSH-4: the way back. */
    {"P6_order_of_the_way_back",
     STATION,
     "X",
     {{"back-phases", "close-up inspect clear leak-test evacuate break-vacuum remove notify "
                      "energise function-test register"}}},
    {"F_OSH_4_inspect_clear_remove_notify_energise",
     STATION,
     "X",
     {{"back inspect", "-"},
      {"back clear", "-"},
      {"back remove", "HV-1 HV-9"},
      {"back notify", "-"},
      {"back energise", "FD SQ"},
      {"back-says inspect components whole", "yes"},
      {"back-says clear people are safely placed or out", "yes"},
      {"back-says remove Removed by the person who put it on", "yes"}}},
    {"F_OSH_4_people_are_told_before_anything_starts",
     STATION,
     "X",
     {{"back-says notify before anything is started", "yes"}}},
    {"P6_plugs_and_caps_go_back",
     STATION,
     "X",
     {{"back-says close-up cap or plug back on outlet O-1", "yes"},
      {"back-says close-up cap or plug back on outlet O-2", "yes"}}},
    {"P6_bleeds_and_drains_are_shut_again",
     STATION,
     "X",
     {{"change-back close-up BV", "open>closed"}, {"change-back close-up DV", "open>closed"}}},
    {"P6_override_to_automatic", STATION, "X", {{"change-back close-up X", "open>automatic"}}},
    {"P6_points_in_the_reverse_order",
     STATION,
     "X",
     {{"back remove", "HV-1 HV-9"},
      {"change-back remove HV-9", "closed>open"},
      {"change-back energise FD", "off>on"}}},
    {"P6_crack_open_wait_then_open",
     STATION,
     "X",
     {{"back-says remove Crack it open, wait until both sides are equal", "yes"}}},
    {"P6_back_to_the_normal_position",
     SIMPLE("valve HV-1 globe open lockable normal=throttled"),
     "F-1",
     {{"change-back remove HV-1", "closed>throttled"}}},
    {"P6_what_is_normally_closed_stays_closed",
     SIMPLE("valve HV-1 globe open lockable normal=closed"),
     "F-1",
     {{"change-back remove HV-1", "closed>closed"}, {"back-says remove it stays closed", "yes"}}},
    {"P6_seal_is_put_back",
     SIMPLE("valve HV-1 globe sealed=open lockable"),
     "F-1",
     {{"back-says remove seal", "yes"}}},
    {"P6_leak_test_within_the_rating_of_the_points",
     STATION,
     "X",
     {{"back-says leak-test within the rating of every point", "yes"},
      {"back-says leak-test not proved against test pressure", "yes"}}},
    {"P6_vacuum_is_broken_with_vapour_never_liquid",
     STATION,
     "X",
     {{"back-says break-vacuum with vapour, never with liquid", "yes"},
      {"back-says break-vacuum saturation", "yes"}}},
    {"P6_carbon_dioxide_is_raised_above_5_2_bara",
     "<service id='C' substance='carbon-dioxide' phase='liquid' temperature='-30 degC' "
     "pressure='13 barg' design-pressure='40 barg'"
     " min-temperature='-80 degC'/>; limit L-1; hand HV-1; strainer F-1; cap K-1; run service=C "
     "L-1 HV-1 F-1 K-1",
     "F-1",
     {{"back-says break-vacuum 5.2 bara", "yes"}}},
    {"P6_register_closed_with_every_tag",
     STATION,
     "X",
     {{"back-says register all 6 tags", "yes"},
      {"back-says register plug, cap and override", "yes"}}},

    /* P7: cautions on every list. */
    {"P7_competent_persons",
     SIMPLE("hand HV-1"),
     "F-1",
     {{"cautioned P7 competent persons", "yes"}}},
    {"P7_local_code_and_permit_come_first",
     SIMPLE("hand HV-1"),
     "F-1",
     {{"cautioned P7 local code", "yes"}, {"cautioned P7 permit rules come first", "yes"}}},
    {"P7_walk_the_drawing_down",
     SIMPLE("hand HV-1"),
     "F-1",
     {{"cautioned P7 Walk the drawing down", "yes"}}},
    {"P7_the_data_may_be_wrong",
     SIMPLE("hand HV-1"),
     "F-1",
     {{"cautioned P7 data may be wrong", "yes"}}},
    {"P7_also_where_there_is_no_plan",
     "limit L-1; strainer F-1; cap K-1; run L-1 F-1 K-1",
     "F-1",
     {{"cautioned P7 competent persons", "yes"}, {"cautioned P7 data may be wrong", "yes"}}},

    /* F-OSH-7: legends, 29 CFR 1910.147(c)(5)(iii). */
    {"F_OSH_7_valve_to_stay_shut",
     STATION,
     "X",
     {{"tag HV-1", "close open>closed lock: Do Not Open"}}},
    {"F_OSH_7_bleed_to_stay_open",
     STATION,
     "X",
     {{"tag BV", "open closed>open tag: Do Not Close"}}},
    {"F_OSH_7_drain_to_stay_open",
     STATION,
     "X",
     {{"tag DV", "open closed>open tag: Do Not Close"}}},
    {"F_OSH_7_override_to_stay_open",
     STATION,
     "T-1",
     {{"tag X", "open automatic>open tag: Do Not Close"}}},
    {"F_OSH_7_feed_to_stay_off",
     STATION,
     "X",
     {{"tag FD", "switch-off on>off lock: Do Not Energize"}}},
    {"F_OSH_7_blank_to_stay_in",
     SIMPLE("blind HV-1 spectacle closed"),
     "F-1",
     {{"tag HV-1", "fit closed>closed tag: Do Not Operate"}}},

    /* F-EPA-1: of two valves in series the one on the process side is closed first, 40
       CFR 63.167(a)(1). */
    {"F_EPA_1_inner_valve_of_a_drain_is_closed_first",
     "limit L-1; hand HV-1; strainer F-1; shut DV-9 DV-1; drain O-1; run L-1 HV-1 F-1 DV-9 DV-1 "
     "O-1",
     "F-1",
     {{"back close-up", "F-1 DV-9 DV-1 O-1"}}},
    {"F_EPA_1_inner_valve_of_a_bleed_is_closed_first",
     "limit L-1; hand HV-1; strainer F-1; shut BV-1 BV-9; vent O-1; run service=VP L-1 HV-1 F-1 "
     "BV-9 BV-1 O-1",
     "F-1",
     {{"back close-up", "F-1 BV-9 BV-1 O-1"}}},

    /* F-PRC-9: the hold time is the site's. */
    {"F_PRC_9_hold_time_is_asked_for",
     STATION,
     "X",
     {{"says verify site's hold time", "yes"}, {"says verify ask", "yes"}}},
};
enum { N_ROWS = sizeof rows / sizeof rows[0] };

static kit work;

static int clear_work(void **given)
{
    (void)given;
    kit_close(&work);
    return 0;
}

/* The number of a phase in a list; fails for one that is not in it. */
static size_t place_of(const char *phase, const char *const *phases, size_t n)
{
    for (size_t i = 0; i < n; i++)
        if (strcmp(phase, phases[i]) == 0) return i;
    fail_msg("unknown phase %s", phase);
    return n;
}

static void check_order(const still_step *steps, size_t n, const char *const *phases,
                        size_t n_phases)
{
    size_t at = 0;
    uint32_t stage = 1;
    for (size_t i = 0; i < n; i++) {
        size_t place = place_of(steps[i].phase, phases, n_phases);
        assert_int_equal(steps[i].n, i + 1);
        assert_true(steps[i].stage == stage || steps[i].stage == stage + 1);
        if (steps[i].stage == stage) assert_in_range(place, at, n_phases);
        stage = steps[i].stage;
        at = place;
    }
}

/* P1, P6 over all rows: phases never run backward within a stage, steps are numbered. */
static void P1_phases_never_run_backward(void **given)
{
    static const char *const forth[] = {"prepare", "shut-down", "isolate", "lock-and-tag",
                                        "release", "verify",    "work"};
    static const char *const back[] = {"close-up", "inspect",       "clear",   "leak-test",
                                       "evacuate", "break-vacuum",  "remove",  "notify",
                                       "energise", "function-test", "register"};
    (void)given;
    for (size_t i = 0; i < N_ROWS; i++) {
        kit_open(&work, rows[i].plant);
        kit_plan(&work, rows[i].plan);
        check_order(work.r->steps, work.r->n_steps, forth, sizeof forth / sizeof forth[0]);
        check_order(work.r->restore, work.r->n_restore, back, sizeof back / sizeof back[0]);
        kit_close(&work);
    }
}

/* P6: what the steps change, the way back changes back, and it ends where the plant file stands. */
static void P6_every_change_is_undone(void **given)
{
    (void)given;
    kit_open(&work, STATION);
    kit_plan(&work, "X");
    for (size_t i = 0; i < work.r->n_steps; i++) {
        const still_step *s = &work.r->steps[i];
        if (s->to[0] == '\0') continue;
        size_t undone = SIZE_MAX;
        for (size_t k = 0; k < work.r->n_restore; k++)
            if (strcmp(work.r->restore[k].id, s->id) == 0 && work.r->restore[k].to[0] != '\0')
                undone = k;
        assert_int_not_equal(undone, SIZE_MAX);
        assert_string_equal(work.r->restore[undone].from, s->to);
        assert_string_equal(work.r->restore[undone].to, s->from);
        assert_int_equal(work.r->restore[undone].tag, s->tag);
    }
}

/* Does a text print a number of seconds, minutes or hours? */
static bool tells_a_time(const char *text)
{
    static const char *const units[] = {"s",       "sec", "second", "seconds", "min", "minute",
                                        "minutes", "h",   "hour",   "hours",   "day", "days"};
    for (const char *at = text; *at != '\0'; at++) {
        if (!isdigit((unsigned char)*at)) continue;
        const char *unit = at + strspn(at, "0123456789.,");
        unit += strspn(unit, " -");
        size_t len = 0;
        while (isalpha((unsigned char)unit[len])) len++;
        for (size_t i = 0; i < sizeof units / sizeof units[0]; i++)
            if (strlen(units[i]) == len && strncmp(unit, units[i], len) == 0) return true;
        at += strspn(at, "0123456789.,") - 1;
    }
    return false;
}

/* As tells_a_time, but for the two times that are published, where they belong: 10 min at test
 * pressure (ASME B31.5, F-TST-4), 30 min of vacuum (EN 378, F-VAC-2). */
static bool tells_a_time_of_its_own(const still_step *s, const char *text)
{
    char left[3000];
    const char *known = strcmp(s->phase, "leak-test") == 0  ? "held at least 10 min"
                        : strcmp(s->phase, "evacuate") == 0 ? "held 30 min"
                                                            : NULL;
    const char *at = known != NULL ? strstr(text, known) : NULL;
    if (at == NULL) return tells_a_time(text);
    snprintf(left, sizeof left, "%.*s%s", (int)(at - text), text, at + strlen(known));
    return tells_a_time(left);
}

/* F-PRC-9: no hold time is published, so none may be printed. */
static void F_PRC_9_no_time_is_printed(void **given)
{
    (void)given;
    assert_true(tells_a_time("wait 10 min"));
    assert_true(tells_a_time("for 0.5 h"));
    assert_false(tells_a_time("OSHA 1910.147(e)(1), -33 degC, tag 3"));
    for (size_t i = 0; i < N_ROWS; i++) {
        kit_open(&work, rows[i].plant);
        kit_plan(&work, rows[i].plan);
        for (size_t k = 0; k < work.r->n_steps + work.r->n_restore; k++) {
            const still_step *s =
                k < work.r->n_steps ? &work.r->steps[k] : &work.r->restore[k - work.r->n_steps];
            assert_false(tells_a_time_of_its_own(s, s->do_text));
            assert_false(tells_a_time_of_its_own(s, s->expect));
            assert_false(tells_a_time_of_its_own(s, s->if_not));
        }
        kit_close(&work);
    }
}

/* F-OSH-7: every tag has one of the five legends of 29 CFR 1910.147(c)(5)(iii). */
static void F_OSH_7_one_of_five_legends(void **given)
{
    static const char *const legends[] = {"Do Not Start", "Do Not Open", "Do Not Close",
                                          "Do Not Energize", "Do Not Operate"};
    (void)given;
    for (size_t i = 0; i < N_ROWS; i++) {
        kit_open(&work, rows[i].plant);
        kit_plan(&work, rows[i].plan);
        for (size_t k = 0; k < work.r->n_points; k++) {
            bool known = false;
            for (size_t n = 0; n < 5; n++)
                known |= strcmp(work.r->points[k].legend, legends[n]) == 0;
            assert_true(known);
            assert_int_equal(work.r->points[k].tag, k + 1);
        }
        kit_close(&work);
    }
}

int main(void)
{
    const struct CMUnitTest more[] = {
        cmocka_unit_test_teardown(P1_phases_never_run_backward, clear_work),
        cmocka_unit_test_teardown(P6_every_change_is_undone, clear_work),
        cmocka_unit_test_teardown(F_PRC_9_no_time_is_printed, clear_work),
        cmocka_unit_test_teardown(F_OSH_7_one_of_five_legends, clear_work),
    };
    return kit_main(rows, N_ROWS, more, sizeof more / sizeof more[0]);
}
