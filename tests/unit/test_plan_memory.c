/* Memory running out at every place of a plan and its outputs; plants of nothing and of one thing.
 *
 * Each allocation in turn is made to fail until the call succeeds. A call that fails gives a
 * status, leaves its outputs alone and, by the leak checker of the sanitized build, leaks nothing.
 */
#include "plantkit.h"

#include "alloc.h"
#include "rowtest.h"

#include <stdio.h>
#include <string.h>

enum { MOST = 100000 };

static kit work;

static int clear_work(void **given)
{
    (void)given;
    still_alloc_fail_at(0);
    kit_close(&work);
    return 0;
}

/* A section with a feed, an override, a pocket, a vessel inside, closed-in liquid and a bleed. */
#define BUSY                                                                                       \
    "limit L-1; valve CV check; hand HV-1 HV-2 elevation=2_m; strainer F-1 elevation=2_m; tee "    \
    "T-1 elevation=1_m;"                                                                           \
    "valve X control drive=motor manual-opening=yes elevation=2_m; valve HB ball open lockable; "  \
    "limit L-2;"                                                                                   \
    "vessel V-1 drum role=low-pressure contents=liquid; vessel V-2 drum contents=vapour "          \
    "volume=1_m3 service=VP;"                                                                      \
    "shut BV elevation=3_m; vent O-1 elevation=3_m; valve RV relief set-pressure=18_barg;"         \
    "outlet O-2 vent leads-to=safe-place shared=no fitted=open; gauge PI pressure on=F-1~X "       \
    "via=BV;"                                                                                      \
    "feed FD electrical supplies=X isolator=SW lockable; sequence SQ defrost acts-on=X "           \
    "off-at=panel;"                                                                                \
    "run L-1 CV HV-1 F-1 X T-1 HV-2 V-1; run T-1 BV O-1; run T-1 RV O-2; run T-1 V-2; run F-1 HB " \
    "L-2"

static still_status make(still_plan **plan, const char *target)
{
    still_plan_opts opts = STILL_PLAN_OPTS_INIT;
    const char *accept = "L6:CV~HV-1";
    opts.grade = STILL_GRADE_SINGLE;
    opts.accept = &accept;
    opts.n_accept = 1;
    return still_plan_make(plan, work.plant, work.state, &target, 1, &opts, NULL);
}

static void fail_everywhere(const char *target, bool feasible)
{
    still_plan *none = NULL, *plan = NULL;
    uint64_t n = 1;
    for (; n < MOST; n++) {
        still_alloc_fail_at(n);
        still_status status = make(&plan, target);
        still_alloc_fail_at(0);
        if (status == STILL_OK) break;
        assert_int_equal(status, STILL_E_NOMEM);
        assert_ptr_equal(plan, none);
    }
    assert_in_range(n, 10, MOST - 1);
    work.plan = plan;
    work.r = still_plan_record(plan);
    assert_int_equal(work.r->feasible, feasible);
}

/* Two valves and a bleed on each side, one bleed through a device with a feed, a dead branch with a
 * feed, and a vessel that must stay in service. */
#define STATIONS                                                                                   \
    "limit L-1 L-2 L-3; hand A1 A2 B1 B2 H1 H2; strainer F-1; tee T-1 T-2 T-3 T-4; shut BV1 BV2 "  \
    "BV3; vent O-1 O-2 O-3; valve SB solenoid manual-opening=yes; cap C; feed FS electrical "      \
    "supplies=SB isolator=SW lockable; feed FT heating supplies=T-4 isolator=ST lockable; vessel " \
    "K drum contents=liquid; run L-1 A1 T-1 A2 T-3 F-1 B2 T-2 B1 L-2; run T-1 BV1 SB O-1; run "    \
    "T-2 BV2 O-2; run T-3 BV3 O-3; run T-3 H1 T-4 C; run L-3 H2 K"

static still_status make_stations(still_plan **plan)
{
    still_plan_opts opts = STILL_PLAN_OPTS_INIT;
    const char *target = "F-1", *keep = "K";
    opts.grade = STILL_GRADE_DOUBLE_BLEED;
    opts.keep = &keep;
    opts.n_keep = 1;
    return still_plan_make(plan, work.plant, work.state, &target, 1, &opts, NULL);
}

/* Each allocation of the set-up, then ever fewer of the search, which has many alike. */
static void I2_no_double_bleed_plan_when_memory_runs_out(void **given)
{
    still_plan *none = NULL, *plan = NULL;
    uint64_t n = 1;
    (void)given;
    kit_open(&work, STATIONS);
    for (; n < MOST; n += 1 + n / 400) {
        still_alloc_fail_at(n);
        still_status status = make_stations(&plan);
        still_alloc_fail_at(0);
        if (status == STILL_OK) break;
        assert_int_equal(status, STILL_E_NOMEM);
        assert_ptr_equal(plan, none);
    }
    assert_in_range(n, 400, MOST - 1);
    work.plan = plan;
    work.r = still_plan_record(plan);
    assert_true(work.r->feasible);
}

static void I7_no_plan_when_memory_runs_out(void **given)
{
    (void)given;
    kit_open(&work, BUSY);
    kit_today(&work, "HV-1 position=closed");
    fail_everywhere("F-1", true);
}

static void I6_no_answer_when_memory_runs_out(void **given)
{
    (void)given;
    kit_open(&work, "limit L-1 L-2; valve X globe open; strainer F-1; run L-1 X F-1 L-2");
    fail_everywhere("F-1", false);
}

static void write_everywhere(still_format format)
{
    static char before[] = "untouched";
    char *bytes = before;
    size_t len = 77;
    uint64_t n = 1;
    for (; n < MOST; n++) {
        still_alloc_fail_at(n);
        still_status status = still_plan_write(&bytes, &len, work.plan, format, NULL);
        still_alloc_fail_at(0);
        if (status == STILL_OK) break;
        assert_int_equal(status, STILL_E_NOMEM);
        assert_ptr_equal(bytes, before);
        assert_int_equal(len, 77);
    }
    assert_in_range(n, 2, MOST - 1);
    assert_int_equal(strlen(bytes), len);
    still_bytes_free(bytes);
}

static void open_busy(void)
{
    kit_open(&work, BUSY);
    assert_int_equal(make(&work.plan, "F-1"), STILL_OK);
    work.r = still_plan_record(work.plan);
}

static void P7_no_text_when_memory_runs_out(void **given)
{
    (void)given;
    open_busy();
    write_everywhere(STILL_FORMAT_TEXT);
}

static void P7_no_json_when_memory_runs_out(void **given)
{
    (void)given;
    open_busy();
    write_everywhere(STILL_FORMAT_JSON);
}

static void P7_no_csv_when_memory_runs_out(void **given)
{
    (void)given;
    open_busy();
    write_everywhere(STILL_FORMAT_CSV);
}

static void N1_empty_plant(void **given)
{
    still_plan *plan = NULL;
    still_plan_opts opts = STILL_PLAN_OPTS_INIT;
    const char *target = "F-1";
    (void)given;
    opts.grade = STILL_GRADE_SINGLE;
    kit_open(&work, "");
    assert_int_equal(still_plan_make(&plan, work.plant, NULL, &target, 1, &opts, NULL),
                     STILL_E_NO_COMP);
    assert_null(plan);
    assert_int_equal(still_check(work.plant, NULL), STILL_OK);
}

/* One component alone: a plan, or the answer that it cannot be isolated, and every output of it. */
typedef struct alone {
    const char *name, *plant;
    bool feasible;
} alone;

static const alone alones[] = {
    {"N1_one_fitting", "strainer X", true},
    {"N1_one_vessel_without_ports", "vessel X drum contents=liquid volume=1_m3 service=LQ", true},
    {"N1_one_exchanger_without_ports", "<exchanger id='X'><side id='a'/></exchanger>", true},
    {"N1_one_cap", "cap X", true},
    {"N2_one_vessel_with_an_open_port", "vessel X drum contents=liquid +a", false},
    {"N2_one_exchanger_with_an_open_port",
     "<exchanger id='X'><side id='a'><port id='p'/></side></exchanger>", false},
    {"N2_one_valve_with_open_ends", "hand X", false},
    {"N2_one_blind_with_open_ends", "blind X spectacle closed", false},
    {"N2_one_pump_with_open_ends", "pump X", false},
    {"N2_one_compressor_with_open_ends", "compressor X", false},
    {"N2_one_outlet", "vent X", false},
    {"N4_one_limit", "limit X", false},
    {"N2_one_dead_limit_is_joined_to_nothing", "limit X dead=yes", false},
};

static void one_alone(void **given)
{
    const alone *row = *given;
    static const still_format formats[] = {STILL_FORMAT_TEXT, STILL_FORMAT_JSON, STILL_FORMAT_CSV,
                                           STILL_FORMAT_SVG};
    kit_open(&work, row->plant);
    kit_plan(&work, "X");
    assert_int_equal(work.r->feasible, row->feasible);
    for (size_t i = 0; i < 4; i++) {
        char *bytes = NULL;
        size_t len = 0;
        assert_int_equal(still_plan_write(&bytes, &len, work.plan, formats[i], NULL), STILL_OK);
        assert_int_equal(strlen(bytes), len);
        assert_true(len > 0);
        still_bytes_free(bytes);
    }
}

int main(void)
{
    static const struct CMUnitTest more[] = {
        cmocka_unit_test_teardown(I7_no_plan_when_memory_runs_out, clear_work),
        cmocka_unit_test_teardown(I2_no_double_bleed_plan_when_memory_runs_out, clear_work),
        cmocka_unit_test_teardown(I6_no_answer_when_memory_runs_out, clear_work),
        cmocka_unit_test_teardown(P7_no_text_when_memory_runs_out, clear_work),
        cmocka_unit_test_teardown(P7_no_json_when_memory_runs_out, clear_work),
        cmocka_unit_test_teardown(P7_no_csv_when_memory_runs_out, clear_work),
        cmocka_unit_test_teardown(N1_empty_plant, clear_work),
    };
    enum { MORE = sizeof more / sizeof more[0], ALONE = sizeof alones / sizeof alones[0] };
    static struct CMUnitTest tests[ALONE + MORE];
    for (size_t i = 0; i < ALONE; i++)
        tests[i] = row_test(alones[i].name, one_alone, clear_work, &alones[i]);
    memcpy(tests + ALONE, more, sizeof more);
    return cmocka_run_group_tests(tests, NULL, NULL);
}
