/* What the policy asks of a job, source by source, before the cut (rule I3). */
#include "plantkit.h"

#include "alloc.h"
#include "arena.h"
#include "demand.h"
#include "plantread.h"
#include "rowtest.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#define COUNT(a) (sizeof(a) / sizeof(a)[0])
enum { TARGETS = 4 };

/* Water, chilled; hot gas; steam; all invented. */
#define C                                                                                          \
    "<service id='C' substance='water' phase='liquid' temperature='20 degC' pressure='2 barg' "    \
    "design-pressure='16 barg'/>;"
#define P                                                                                          \
    "<service id='P' substance='water' phase='liquid' temperature='20 degC' pressure='20 barg' "   \
    "design-pressure='25 barg'/>;"
#define ST                                                                                         \
    "<service id='ST' substance='water' phase='vapour' temperature='160 degC' pressure='5 barg' "  \
    "design-pressure='16 barg'/>;"
#define F_ "strainer F people=normal;"

typedef struct asked {
    still_arena arena;
    still_source_demands d;
} asked;

static size_t targets_of(const kit *k, const char *names, still_target items[TARGETS])
{
    size_t n = 0;
    char name[64];
    while (*names != '\0') {
        size_t len = strcspn(names, ",");
        snprintf(name, sizeof name, "%.*s", (int)len, names);
        assert_true(n < TARGETS);
        if (!still_target_find(&items[n++], k->plant, name)) fail_msg("no target %s", name);
        names += len + (names[len] == ',');
    }
    return n;
}

static still_status ask_of(asked *a, const kit *k, const char *names, const still_policy *policy,
                           const still_demand_opts *opts)
{
    still_target items[TARGETS];
    still_targets targets = {items, targets_of(k, names, items)};
    still_arena_init(&a->arena);
    return still_demands_find(&a->d, &a->arena, k->plant, k->state, &targets, policy, opts);
}

/* "L-1:single@0 L-2:double-bleed R@1" */
static void words(char *out, size_t size, const kit *k, const still_source_demands *d)
{
    size_t n = 0;
    out[0] = '\0';
    for (size_t i = 0; i < d->n && n < size; i++) {
        const still_source_demand *s = &d->items[i];
        n += (size_t)snprintf(
            out + n, size - n, "%s%s%s%s:%s%s@%u", i > 0 ? " " : "", still_id_of(k->plant, s->comp),
            s->port == STILL_NONE ? "" : ".",
            s->port == STILL_NONE ? "" : still_text(k->plant, still_port_name(k->plant, s->port)),
            still_grade_text(s->grade), s->risk ? " R" : "", s->region);
    }
}

typedef struct row {
    const char *name, *plant, *targets, *want;
    const char *assumes; /* "id: part of its text", or NULL; every row has rule I3 */
    const char *because; /* part of the first demand's sentence, or NULL */
    still_work work;
    const char *through, *today;
} row;

/* A line L-1 - A - F - B - L-2 with F to be opened: all of it as `run` says; wide outside of A, so
 * that more is asked for where A does not stop the walk; ammonia, F as given. */
#define LINE(run) C F_ "limit L-1 L-2; hand A B bore=20_mm; run " run " L-1 A F B L-2"
#define WIDE_OUTSIDE(a)                                                                            \
    C F_ "limit L-1 L-2; " a "; hand B bore=20_mm;"                                                \
         "run service=C bore=300_mm L-1 A; run service=C bore=20_mm A F B L-2"
#define AMMONIA(f) f "limit L-1 L-2; hand A B bore=40_mm; run bore=40_mm L-1 A F B L-2"
/* A vessel behind the first valve; one to be opened; an exchanger with steam on one side. */
#define VESSEL_NEAR                                                                                \
    C F_ "vessel V drum service=C; limit L-1 L-2; hand A B D bore=20_mm;"                          \
         "run service=C bore=20_mm L-1 A V B F D L-2"
#define VESSEL_OPENED                                                                              \
    C "vessel V drum service=C people=normal; limit L-1; hand A bore=20_mm;"                       \
      "run service=C bore=20_mm L-1 A V"
#define EXCHANGER                                                                                  \
    C ST "<exchanger id='E' people='normal'><side id='s' service='ST'><port id='a'/></side>"       \
         "<side id='c' service='C'><port id='b'/></side></exchanger>;"                             \
         "limit L-1 L-2; hand A B bore=20_mm; run service=ST bore=20_mm L-1 A;"                    \
         "run service=C bore=20_mm L-2 B; pipe X A.out E.a service=ST bore=20_mm;"                 \
         "pipe Y B.out E.b service=C bore=20_mm"
/* What is asked for: of a narrow line, of a wide one. */
#define NARROW "L-1:single@0 L-2:single@1"
#define WIDE "L-1:single-bleed@0 L-2:single-bleed@1"
/* Work, what is taken inside, what is found today: nothing said. With them: nothing assumed, and
 * any sentence will do. */
#define USUAL 0, NULL, NULL
#define PLAIN NULL, NULL, USUAL

static const row rows[] = {
    {"I3_small_line_of_water", LINE("service=C bore=20_mm"), "F", NARROW, NULL,
     "water, phase liquid, no hazard statement (service C): no H2xx or H3xx statement by no "
     "statement; up to 2 barg (C); lines up to 20 mm",
     USUAL},
    {"I3_line_size_stops_at_the_first_device", WIDE_OUTSIDE("hand A bore=20_mm"), "F", NARROW,
     PLAIN},
    {"I3_the_first_device_counts",
     C F_ "limit L-1 L-2; hand A bore=300_mm; hand B bore=20_mm;"
          "run service=C bore=20_mm L-1 A F B L-2",
     "F", WIDE, NULL, "lines up to 300 mm (A)", USUAL},
    {"D2_a_check_valve_is_passed", WIDE_OUTSIDE("valve A check bore=20_mm"), "F", WIDE, NULL,
     "lines up to 300 mm (L-1~A)", USUAL},
    {"D1_an_open_blind_is_passed", WIDE_OUTSIDE("blind A spectacle open bore=20_mm"), "F", WIDE,
     PLAIN},
    {"D1_a_fitted_blind_stops", WIDE_OUTSIDE("blind A spectacle closed bore=20_mm"), "F", NARROW,
     PLAIN},
    {"D1_not_lockable_is_passed", WIDE_OUTSIDE("valve A globe bore=20_mm"), "F", WIDE, PLAIN},
    {"D6_passing_is_passed", WIDE_OUTSIDE("hand A bore=20_mm"), "F", WIDE, NULL, NULL, 0, NULL,
     "A condition=passing"},
    {"D3_fails_closed_and_locked_stops",
     WIDE_OUTSIDE("valve A ball drive=air fails=closed lockable bore=20_mm; feed FD air supplies=A "
                  "lockable"),
     "F", NARROW, PLAIN},
    {"D3_without_a_feed_is_passed",
     WIDE_OUTSIDE("valve A ball drive=air fails=closed lockable bore=20_mm"), "F", WIDE, PLAIN},
    {"D5_a_side_port_that_a_position_leaves_out_stops",
     C F_ "limit L-1 L-2 L-3; valve A three-way positions=a-c_b-c lockable bore=20_mm;"
          "hand B bore=20_mm; run service=C bore=300_mm L-1 A.c;"
          "run service=C bore=300_mm L-3 A.b; run service=C bore=20_mm A.a F B L-2",
     "F", "L-1:single@0 L-2:single@1 L-3:single@0", PLAIN},
    {"D5_the_common_port_is_passed",
     C F_ "limit L-1 L-2 L-3; valve A three-way positions=a-c_b-c lockable bore=20_mm;"
          "hand B bore=20_mm; run service=C bore=300_mm L-1 A.a;"
          "run service=C bore=20_mm L-3 A.b; run service=C bore=20_mm A.c F B L-2",
     "F", "L-1:single-bleed@0 L-2:single-bleed@1 L-3:single-bleed@0", PLAIN},
    {"D7_a_refused_device_is_passed", WIDE_OUTSIDE("hand A bore=20_mm rating=10_barg"), "F", WIDE,
     PLAIN},
    {"D7_an_unknown_live_side_refuses_nothing",
     C F_
     "<service id='U' substance='water' phase='liquid' temperature='20 degC' pressure='2 barg'/>;"
     "limit L-1 L-2; hand A bore=20_mm rating=10_barg; hand B bore=20_mm;"
     "run service=U bore=300_mm L-1 A; run service=C bore=20_mm A F B L-2",
     "F", NARROW, PLAIN},
    {"N2_unknown_bore_is_the_largest", LINE("service=C bore="), "F", WIDE,
     "A~F: its line size counts as the largest", "line size unknown (", USUAL},
    {"I3_nominal_size_counts_where_the_bore_is_less", LINE("service=C bore=DN200 schedule=80"), "F",
     WIDE, NULL, "lines up to DN200", USUAL},
    {"I3_pressure_at_the_source_counts",
     C P F_ "limit L-1 L-2; hand A B bore=60_mm rating=40_barg;"
            "run service=P bore=20_mm L-1 A; run service=C bore=60_mm A F B L-2",
     "F", "L-1:single-bleed@0 L-2:single@1", NULL, "up to 20 barg (P)", USUAL},
    {"I3_pressure_near_the_work_counts_for_all",
     C P F_ "limit L-1 L-2; hand B bore=60_mm; valve A check bore=60_mm;"
            "run service=P bore=20_mm L-1 A; run service=C bore=60_mm A F B L-2",
     "F", WIDE, PLAIN},
    {"N2_unknown_pressure_is_the_highest",
     F_ "<service id='U' substance='water' phase='liquid' temperature='20 degC'/>;"
        "limit L-1 L-2; hand A B bore=20_mm; run service=U bore=20_mm L-1 A F B L-2",
     "F", WIDE, "U: its normal pressure counts as the highest", "pressure unknown (U)", USUAL},
    {"N2_no_service_is_the_worst",
     C F_ "limit L-1 L-2; hand A B bore=20_mm; run service=C bore=20_mm L-1 A F;"
          "run service= bore=20_mm F B L-2",
     "F", "L-1:single-bleed@0 L-2:double-bleed R@1", "F~B: what it holds counts as very hazardous",
     NULL, USUAL},
    {"N2_no_service_at_the_source",
     C F_ "limit L-1 L-2; hand A B bore=20_mm; run service= bore=20_mm L-1 A;"
          "run service=C bore=20_mm A F B L-2",
     "F", "L-1:double-bleed R@0 L-2:single@1", "L-1~A: what it holds counts as very hazardous",
     "substance unknown (L-1~A has no service)", USUAL},
    {"N1_a_header_joins_all_its_ports",
     C F_ "tee H; limit L-1 L-2 L-3 L-4; run service=C bore=20_mm L-1 H F;"
          "run service=C bore=20_mm L-2 H L-3; run service=C bore=300_mm H L-4",
     "F", "L-1:single-bleed@0 L-2:single-bleed@0 L-3:single-bleed@0 L-4:single-bleed@0", PLAIN},
    {"I3_ammonia_carries_R", AMMONIA(F_), "F", "L-1:single-bleed R@0 L-2:single-bleed R@1", NULL,
     "ammonia, phase liquid, H221 H280 H314 H331 H400 (service LQ): very hazardous by H331", USUAL},
    {"I3_people_high_is_one_row_worse", AMMONIA("strainer F people=high;"), "F",
     "L-1:double-bleed R@0 L-2:double-bleed R@1", NULL,
     "people near by: high; work: opening; release medium", USUAL},
    {"I3_people_not_said_is_an_assumption", AMMONIA("strainer F;"), "F",
     "L-1:single-bleed R@0 L-2:single-bleed R@1", "F: no more people than usual",
     "people near by: normal (not said)", USUAL},
    {"I3_people_not_said_is_high_for_hot_work", AMMONIA("strainer F;"), "F",
     "L-1:positive@0 L-2:positive@1", "F: many people",
     "people near by: high (not said); work: hot work", STILL_WORK_HOT_WORK, NULL, NULL},
    {"I3_long_term_is_positive", LINE("service=C bore=20_mm"), "F", "L-1:positive@0 L-2:positive@1",
     NULL, NULL, STILL_WORK_LONG_TERM, NULL, NULL},
    {"F_HSG_6_a_vessel_is_entered", VESSEL_OPENED, "V", "L-1:positive@0", NULL, "work: entry",
     USUAL},
    {"N3_an_opened_vessel_is_no_source_and_may_be_opened_only", VESSEL_OPENED, "V", "L-1:single@0",
     NULL, NULL, STILL_WORK_OPEN, NULL, NULL},
    {"N3_what_lies_behind_a_source_is_not_asked", VESSEL_NEAR, "F", "L-2:single@0 V:single@1",
     PLAIN},
    {"N4_behind_a_source_taken_inside_it_is", VESSEL_NEAR, "F",
     "L-1:single@0 L-2:single@1 V:single@0", NULL, NULL, 0, "V", NULL},
    {"N4_behind_a_source_near_the_work_it_is",
     C F_ "vessel V drum service=C; limit L-1 L-2; hand A D bore=20_mm;"
          "run service=C bore=20_mm L-1 A V F D L-2",
     "F", "L-1:single@0 L-2:single@1 V:single@0", PLAIN},
    {"N3_an_empty_vessel_is_no_source", VESSEL_NEAR, "F", NARROW, NULL, NULL, 0, NULL,
     "V contents=none"},
    {"N3_a_shared_outlet_is_a_source",
     C F_ "limit L-2; outlet O drain leads-to=closed-drain; hand A B bore=20_mm;"
          "run service=C bore=20_mm F B L-2; run service=C bore=20_mm F A O",
     "F", "L-2:single@0 O:single@1", PLAIN},
    {"N2_an_open_port_is_a_source",
     C F_ "limit L-2; hand A B bore=20_mm; run service=C bore=20_mm F B L-2;"
          "run service=C bore=20_mm F A",
     "F", "A.out:single@0 L-2:single@1", PLAIN},
    {"I3_each_side_of_an_exchanger_gets_its_own", EXCHANGER, "E",
     "L-1:single-bleed R@0 L-2:single@1", NULL, "hazardous by steam", USUAL},
    {"I3_one_side_of_an_exchanger", EXCHANGER, "E.c", "L-2:single@0", PLAIN},
    {"I3_a_single_joint_has_two_sides",
     C ST F_ "limit L-1 L-2; hand A B bore=20_mm; run service=ST bore=20_mm L-1 A F;"
             "run service=C bore=20_mm F B L-2",
     "F.2", "L-1:single-bleed R@0 L-2:single@1", PLAIN},
    {"I3_parts_that_meet_are_one_region",
     C F_ "vessel V drum service=C; hand A B bore=20_mm;"
          "run service=C bore=20_mm V A F B V",
     "F", "V:single@0", PLAIN},
    {"I3_parts_that_meet_at_a_source_are_one_region",
     C F_ "vessel V drum service=C; limit L-2; tee T; hand A B D bore=20_mm;"
          "run service=C bore=20_mm V A F B T V; run service=C bore=20_mm T D L-2",
     "F", "L-2:single@0 V:single@0", PLAIN},
    {"D7_a_device_further_out_is_no_part_of_the_live_side",
     C F_ "limit L-1 L-2; hand D bore=20_mm design-pressure=40_barg;"
          "hand A bore=20_mm rating=20_barg; hand B bore=20_mm;"
          "run service=C bore=300_mm L-1 D A; run service=C bore=20_mm A F B L-2",
     "F", NARROW, PLAIN},
    {"I3_several_targets",
     C F_ "strainer G people=normal; limit L-1 L-2; hand A B D bore=20_mm;"
          "run service=C bore=20_mm L-1 A F D G B L-2",
     "F,G", NARROW, PLAIN},
};

static void demand_row(void **given)
{
    const row *r = *given;
    kit k;
    asked a;
    char got[400];
    kit_open(&k, r->plant);
    if (r->today != NULL) kit_today(&k, r->today);
    still_demand_opts opts = STILL_DEMAND_OPTS_INIT;
    uint32_t through = r->through != NULL ? kit_comp(&k, r->through) : 0;
    opts.work = r->work;
    opts.through = &through;
    opts.n_through = r->through != NULL;
    assert_int_equal(ask_of(&a, &k, r->targets, still_policy_builtin(), &opts), STILL_OK);
    words(got, sizeof got, &k, &a.d);
    if (strcmp(got, r->want) != 0 && a.d.n > 0) print_error("%s\n", a.d.items[0].because);
    assert_string_equal(got, r->want);
    if (r->because != NULL && strstr(a.d.items[0].because, r->because) == NULL)
        fail_msg("%s", a.d.items[0].because);
    bool found = r->assumes == NULL;
    for (size_t i = 0; i < a.d.n_assumptions; i++) {
        char text[500];
        const still_remark *m = &a.d.assumptions[i];
        assert_string_equal(m->rule, "I3");
        snprintf(text, sizeof text, "%s: %s", m->id, m->text);
        if (r->assumes == NULL) fail_msg("assumed: %s", text);
        found = found || strncmp(text, r->assumes, strlen(r->assumes)) == 0;
    }
    assert_true(found);
    still_arena_clear(&a.arena);
    kit_close(&k);
}

static void I3_standstill_is_a_note(void **given)
{
    (void)given;
    kit k;
    asked a;
    kit_open(&k, F_ "limit L-1 L-2; hand A B bore=60_mm; run bore=60_mm L-1 A F B L-2");
    assert_int_equal(ask_of(&a, &k, "F", still_policy_builtin(), NULL), STILL_OK);
    /* 60 mm at 2 barg: low; ammonia at 40 degC stands at 15.545 bara, its saturation pressure
     * (reference-values.csv of the project's fluids), so 10 to 50 barg: medium. */
    assert_int_equal(a.d.items[0].grade, STILL_GRADE_SINGLE_BLEED);
    assert_int_equal(a.d.items[0].standstill_grade, STILL_GRADE_DOUBLE_BLEED);
    assert_string_equal(a.d.items[0].standstill,
                        "at standstill, all at 40 degC, the table would ask for double-bleed: up "
                        "to 14.53 barg (LQ)");
    assert_string_equal(a.d.items[0].row, "very hazardous, release low");
    bool risk = false;
    assert_int_equal(still_demand_highest(&a.d, STILL_NONE, &risk), STILL_GRADE_SINGLE_BLEED);
    assert_true(risk);
    assert_int_equal(a.d.n_regions, 2);
    assert_ptr_equal(still_demand_of(&a.d, kit_comp(&k, "L-2")), &a.d.items[1]);
    assert_null(still_demand_of(&a.d, kit_comp(&k, "A")));
    still_arena_clear(&a.arena);
    kit_close(&k);
}

/* A plant file with one attribute blanked out. */
static bool blank_attribute(char *at, size_t *len)
{
    static const char *const facts[] = {
        "phase",    "temperature", "pressure", "hazard",   "asphyxiant", "substance", "service",
        "lockable", "fails",       "contents", "dead",     "shared",     "leads-to",  "bore",
        "fitted",   "position",    "drive",    "schedule", "condenses"};
    for (size_t i = 0; i < COUNT(facts); i++) {
        size_t n = strlen(facts[i]);
        if (at[0] != ' ' || strncmp(at + 1, facts[i], n) != 0 || strncmp(at + 1 + n, "=\"", 2) != 0)
            continue;
        *len = (size_t)(strchr(at + n + 3, '"') - at) + 1;
        memset(at, ' ', *len);
        return true;
    }
    return false;
}

static still_grade grade_in(const kit *k, const still_source_demands *d, const char *id)
{
    const still_source_demand *s = still_demand_of(d, kit_comp(k, id));
    if (s == NULL) fail_msg("%s is no source any more", id);
    return s->grade;
}

/* N2: what is taken out of the file never lowers what is asked of a source that was there before.
 */
static void never_lower_without(const still_policy *policy, const char *file, const char *target,
                                size_t least)
{
    static char text[256 * 1024], copy[sizeof text];
    FILE *f = fopen(file, "rb");
    assert_non_null(f);
    size_t n = fread(text, 1, sizeof text - 1, f), tried = 0;
    fclose(f);
    text[n] = '\0';
    kit whole = {0};
    asked before;
    assert_int_equal(still_read_plant_memory(&whole.plant, "m", text, n, NULL), STILL_OK);
    assert_int_equal(ask_of(&before, &whole, target, policy, NULL), STILL_OK);
    assert_true(before.d.n > 0);
    for (size_t i = 0; i < n; i++) {
        size_t len;
        if (text[i] != ' ') continue;
        memcpy(copy, text, n + 1);
        if (!blank_attribute(copy + i, &len)) continue;
        kit k = {0};
        if (still_read_plant_memory(&k.plant, "m", copy, n, NULL) != STILL_OK) continue;
        asked a;
        assert_int_equal(ask_of(&a, &k, target, policy, NULL), STILL_OK);
        for (size_t s = 0; s < before.d.n; s++) {
            const char *id = still_id_of(whole.plant, before.d.items[s].comp);
            if (grade_in(&k, &a.d, id) < before.d.items[s].grade)
                fail_msg("%s without%.*s: less is asked for %s", target, (int)len, text + i, id);
        }
        tried++;
        still_arena_clear(&a.arena);
        still_plant_free(k.plant);
    }
    assert_true(tried >= least);
    still_arena_clear(&before.arena);
    still_plant_free(whole.plant);
}

static void N2_less_said_never_asks_for_less(void **given)
{
    (void)given;
    const still_policy *own = still_policy_builtin();
    still_policy *site = NULL;
    assert_int_equal(still_policy_read(&site, STILL_SOURCE_DIR "/plants-demo/site.policy", NULL),
                     STILL_OK);
    never_lower_without(own, STILL_SOURCE_DIR "/plants-demo/tutorial.xml", "MV-1", 40);
    never_lower_without(site, STILL_SOURCE_DIR "/plants-demo/tutorial.xml", "MV-1", 40);
    never_lower_without(own, STILL_SOURCE_DIR "/plants-demo/solvent.xml", "F-1", 200);
    never_lower_without(site, STILL_SOURCE_DIR "/plants-demo/solvent.xml", "E-1", 200);
    still_policy_free(site);
}

static void memory_runs_out(void **given)
{
    (void)given;
    kit k;
    uint64_t n = 1;
    kit_open(&k, C "strainer F; vessel V drum; limit L-1 L-2; hand A B; hand D rating=5_barg; run "
                   "service=C bore= L-1 A V B F D L-2");
    for (; n < 5000; n++) {
        asked a = {0};
        still_alloc_fail_at(n);
        still_status s = ask_of(&a, &k, "F", still_policy_builtin(), NULL);
        still_alloc_fail_at(0);
        if (s != STILL_OK) {
            assert_int_equal(s, STILL_E_NOMEM);
            assert_null(a.d.items);
        }
        still_arena_clear(&a.arena);
        if (s == STILL_OK) break;
    }
    assert_in_range(n, 20, 4999);
    kit_close(&k);
}

static void nothing_to_reach(void **given)
{
    (void)given;
    kit k;
    asked a;
    kit_open(&k, "strainer F; cap K; run F K");
    assert_int_equal(ask_of(&a, &k, "F", still_policy_builtin(), NULL), STILL_OK);
    assert_int_equal(a.d.n, 0);
    assert_int_equal(still_demand_highest(&a.d, STILL_NONE, NULL), STILL_GRADE_SINGLE);
    still_arena_clear(&a.arena);
    kit_close(&k);
}

int main(void)
{
    static struct CMUnitTest tests[COUNT(rows) + 4];
    size_t n = 0;
    for (size_t i = 0; i < COUNT(rows); i++)
        tests[n++] = row_test(rows[i].name, demand_row, NULL, &rows[i]);
    tests[n++] = (struct CMUnitTest)cmocka_unit_test(I3_standstill_is_a_note);
    tests[n++] = (struct CMUnitTest)cmocka_unit_test(N2_less_said_never_asks_for_less);
    tests[n++] = (struct CMUnitTest)cmocka_unit_test(memory_runs_out);
    tests[n++] = (struct CMUnitTest)cmocka_unit_test(nothing_to_reach);
    return _cmocka_run_group_tests("test_demand", tests, n, NULL, NULL);
}
