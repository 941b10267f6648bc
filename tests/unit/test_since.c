/* What changed between two revisions of a plant (L2, L5): small cases by hand; on random plants:
 * the same plant changes nothing, renaming never closes a gap, edits are told as the segments' own
 * states say. Plants are invented. */
#include "gapkit.h"

#include "alloc.h"

#include <ctype.h>

enum { SEED = 20261126, PLANTS = 1500 };

static kit_random random_state;

static uint32_t pick(uint32_t n)
{
    return kit_below(&random_state, n);
}

typedef struct pair {
    gap_case old, now;
    const still_since *s;
} pair;

static void pair_open(pair *p, const char *old, const char *now)
{
    gap_open(&p->old, old);
    gap_open(&p->now, now);
    assert_null(p->now.r->since);
    assert_int_equal(still_coverage_since(p->now.coverage, p->old.k.plant, NULL), STILL_OK);
    p->s = p->now.r->since;
    assert_non_null(p->s);
}

static void pair_close(pair *p)
{
    gap_close(&p->now);
    gap_close(&p->old);
}

static const still_since_item *item(const still_since_item *items, size_t n, const char *id)
{
    for (size_t i = 0; i < n; i++)
        if (strcmp(items[i].id, id) == 0) return &items[i];
    return NULL;
}

#define HAS(list, id) (item(p.s->list, p.s->n_##list, id) != NULL)

static void says(const pair *p, size_t renamed, size_t fresh, size_t gone, size_t opened,
                 size_t closed, size_t moved)
{
    if (p->s->n_renamed != renamed || p->s->n_new != fresh || p->s->n_gone != gone ||
        p->s->n_opened != opened || p->s->n_closed != closed || p->s->n_moved != moved) {
        char *bytes = NULL;
        size_t len = 0;
        assert_int_equal(
            still_coverage_write(&bytes, &len, p->now.coverage, STILL_FORMAT_TEXT, NULL), STILL_OK);
        print_error("%.*s\n", len > 1500 ? 1500 : (int)len, bytes);
        still_bytes_free(bytes);
    }
    assert_int_equal(p->s->n_renamed, renamed);
    assert_int_equal(p->s->n_new, fresh);
    assert_int_equal(p->s->n_gone, gone);
    assert_int_equal(p->s->n_opened, opened);
    assert_int_equal(p->s->n_closed, closed);
    assert_int_equal(p->s->n_moved, moved);
}

#define SERVICES                                                                                   \
    "<service id='A' phase='liquid' design-pressure='19 barg'/>;"                                  \
    "<service id='R' phase='vapour' temperature='20 degC' design-pressure='10 barg'/>;"
/* A line between two hand valves, with a relief valve on one side. */
#define LINE SERVICES "limit L1; limit L2; hand H1; hand H2; tee T1; tee T2; cap K1; cap K2;"
#define RELIEF(v, o, t)                                                                            \
    "valve " v " relief set-pressure=18_barg; outlet " o " vent leads-to=safe-place fitted=open;"  \
    "run service=R " v ".out " o "; run service=A " t " " v ".in;"

/* `pipe` names its ends COMPONENT.PORT; limits and caps have the port "in". */
static const char line[] = LINE "pipe S1 L1.in H1.in service=A; pipe S2 H1.out T1.a service=A;"
                                "pipe S3 T1.b H2.in service=A; pipe S4 H2.out L2.in service=A;"
                                "pipe S5 T1.c K1.in service=A; pipe S6 T2.a K2.in service=A;";

static void L5_since_the_same_file_nothing_changed(void **given)
{
    pair p;
    (void)given;
    pair_open(&p, line, line);
    says(&p, 0, 0, 0, 0, 0, 0);
    assert_int_equal(p.s->n_changed, 0);
    pair_close(&p);
}

static void L5_since_one_rename_is_a_guess(void **given)
{
    pair p;
    (void)given;
    pair_open(&p, line,
              LINE "pipe S1 L1.in H1.in service=A; pipe S2 H1.out T1.a service=A;"
                   "pipe S3x T1.b H2.in service=A; pipe S4 H2.out L2.in service=A;"
                   "pipe S5 T1.c K1.in service=A; pipe S6 T2.a K2.in service=A;");
    says(&p, 1, 0, 0, 0, 0, 0);
    assert_string_equal(p.s->renamed[0].from, "S3");
    assert_string_equal(p.s->renamed[0].to, "S3x");
    pair_close(&p);
}

/* Two equal pipes between the same two things: which is which cannot be told. */
static void L5_since_an_ambiguous_rename_is_none(void **given)
{
    static const char two[] = SERVICES "limit L1; tee T1; tee T2; pipe S1 L1.in T1.a service=A;";
    char old[400], now[400];
    pair p;
    (void)given;
    snprintf(old, sizeof old, "%s%s", two,
             "cap K1; cap K2; pipe S2 T1.b K1.in service=A; pipe S3 T1.c K2.in service=A;");
    snprintf(now, sizeof now, "%s%s", two,
             "cap K3; cap K4; pipe S4 T1.d K3.in service=A; pipe S5 T1.e K4.in service=A;");
    pair_open(&p, old, now);
    says(&p, 0, 0, 0, 0, 0, 0);
    pair_close(&p);
}

static void L5_since_a_valve_opens_a_gap(void **given)
{
    pair p;
    (void)given;
    pair_open(&p,
              LINE RELIEF("V1", "O1", "T1") "pipe S2 L1.in T1.a service=A;"
                                            "pipe S3 T1.b L2.in service=A;",
              LINE RELIEF("V1", "O1", "T1") "pipe S2 L1.in T1.a service=A;"
                                            "pipe S3 T1.b H1.in service=A;"
                                            "pipe S4 H1.out L2.in service=A;");
    says(&p, 0, 0, 0, 1, 0, 0);
    assert_string_equal(p.s->opened[0].id, "L2");
    assert_string_equal(p.s->opened[0].was.items[0], "L1");
    pair_close(&p);
}

static void L2_since_a_relief_valve_closes_a_gap(void **given)
{
    static const char with[] =
        LINE RELIEF("V1", "O1", "T1") "pipe S2 L1.in T1.a service=A; pipe S3 T1.b L2.in service=A;";
    static const char without[] =
        LINE "pipe S2 L1.in T1.a service=A; pipe S3 T1.b L2.in service=A;";
    pair p;
    (void)given;
    pair_open(&p, without, with);
    says(&p, 0, 1, 0, 0, 1, 0); /* the discharge line is new */
    assert_string_equal(p.s->closed[0].id, "L1");
    assert_string_equal(p.s->closed[0].was.items[0], "L1");
    pair_close(&p);
    pair_open(&p, with, without);
    says(&p, 0, 0, 1, 1, 0, 0);
    pair_close(&p);
}

/* The pipes of a gap have other ids, and one of them got lost: never closed. */
static void L5_since_a_gap_not_found_again_is_not_closed(void **given)
{
    pair p;
    (void)given;
    pair_open(&p, LINE "pipe S2 L1.in T1.a service=A; pipe S3 T1.b L2.in service=A;",
              LINE RELIEF("V1", "O1", "T1") "pipe S2 L1.in T1.a service=A;"
                                            "pipe S7 T1.b H1.in service=A;"
                                            "pipe S8 H1.out L2.in service=A;");
    assert_int_equal(p.s->n_closed, 0);
    pair_close(&p);
}

static void L2_since_cover_moved_to_another_valve(void **given)
{
    static const char pipes[] = "pipe S2 L1.in T1.a service=A; pipe S3 T1.b T2.a service=A;"
                                "pipe S4 T2.b L2.in service=A;";
    char old[900], now[900];
    pair p;
    (void)given;
    snprintf(old, sizeof old, "%s%s", LINE RELIEF("V1", "O1", "T1"), pipes);
    snprintf(now, sizeof now, "%s%s", LINE RELIEF("V2", "O2", "T2"), pipes);
    pair_open(&p, old, now);
    assert_int_equal(p.s->n_moved, 1);
    assert_string_equal(p.s->moved[0].id, "L1");
    assert_non_null(strstr(p.s->moved[0].text, "V2"));
    assert_non_null(strstr(p.s->moved[0].text, "V1"));
    assert_int_equal(p.s->n_opened + p.s->n_closed, 0);
    pair_close(&p);
}

/* Cover by way of a check valve now: the condition is new. */
static void L2_since_cover_rests_on_another_condition(void **given)
{
    pair p;
    (void)given;
    pair_open(&p,
              LINE RELIEF("V1", "O1", "T2") "valve D1 globe sealed=open;"
                                            "pipe S2 L1.in D1.in service=A;"
                                            "pipe S3 D1.out T2.a service=A",
              LINE RELIEF("V1", "O1", "T2") "valve D1 check; pipe S2 L1.in D1.in service=A;"
                                            "pipe S3 D1.out T2.a service=A");
    assert_non_null(item(p.s->moved, p.s->n_moved, "L1"));
    assert_int_equal(p.s->n_opened + p.s->n_closed, 0);
    pair_close(&p);
}

static void L5_since_a_split_gap_stays_a_gap(void **given)
{
    static const char one[] = LINE
        "pipe S2 L1.in T1.a service=A; pipe S3 T1.b T2.b service=A; pipe S4 T2.c L2.in service=A;";
    static const char two[] = LINE "pipe S2 L1.in T1.a service=A; pipe S3 T1.b H1.in service=A;"
                                   "pipe S9 H1.out T2.b service=A; pipe S4 T2.c L2.in service=A;";
    static const char half[] = LINE RELIEF(
        "V1", "O1", "T1") "pipe S2 L1.in T1.a service=A; pipe S3 T1.b H1.in service=A;"
                          "pipe S9 H1.out T2.b service=A; pipe S4 T2.c L2.in service=A;";
    pair p;
    (void)given;
    pair_open(&p, one, two); /* split */
    says(&p, 0, 0, 0, 0, 0, 0);
    pair_close(&p);
    pair_open(&p, two, one); /* merged */
    says(&p, 0, 0, 0, 0, 0, 0);
    pair_close(&p);
    pair_open(&p, one, half); /* half of it covered: not closed; people shut in the other now */
    says(&p, 0, 1, 0, 0, 0, 1);
    pair_close(&p);
    pair_open(&p, half, one); /* a covered part merged into a gap: opened */
    says(&p, 0, 0, 1, 1, 0, 0);
    assert_int_equal(p.s->opened[0].was.n, 2);
    pair_close(&p);
}

/* Shut in only for service now: no gap by the count, but not closed. */
static void L5_since_plan_only_is_not_closed(void **given)
{
    static const char base[] =
        SERVICES "limit L1; limit L2; tee T1; tee T2;" RELIEF("V1", "O1", "T2");
    char old[800], now[800];
    pair p;
    (void)given;
    const char *pipes = "pipe S1 L1.in T1.a service=A; pipe S2 T1.b H1.in service=A;"
                        "pipe S3 H1.out T2.a service=A; pipe S4 T2.b L2.in service=A;";
    snprintf(old, sizeof old, "%s hand H1; %s", base, pipes);
    snprintf(now, sizeof now, "%s hand H1 use=service; %s", base, pipes);
    pair_open(&p, old, now);
    says(&p, 0, 0, 0, 0, 0, 1);
    assert_non_null(strstr(p.s->moved[0].text, "not closed"));
    pair_close(&p);
    pair_open(&p, now, old);
    says(&p, 0, 0, 0, 1, 0, 0);
    pair_close(&p);
}

static void L4_since_a_design_pressure_changed(void **given)
{
    pair p;
    (void)given;
    pair_open(&p, SERVICES "limit L1; tee T1; pipe S1 L1.in T1.a service=A",
              SERVICES "limit L1; tee T1; pipe S1 L1.in T1.a service=R");
    assert_true(p.s->n_changed >= 1);
    assert_string_equal(p.s->changed[0].what, "design_bara");
    assert_true(fabs(p.s->changed[0].before - 20.01325) < 1e-9);
    assert_true(fabs(p.s->changed[0].after - 11.01325) < 1e-9);
    pair_close(&p);
}

/* ---- random plants ---- */

/* New ids for parts of a plant in words: by letter and number. */
typedef struct renaming {
    char kind;        /* 'p': those of the mask get a new id; 's': two of a letter swap */
    uint32_t mask[4]; /* by letter of "NKDO" */
    char letter;
    unsigned a, b;
    unsigned to[4][GAP_DEVICES]; /* 'm': mixed up, by letter */
} renaming;

static void rename_all(still_buf *out, const char *text, const renaming *r)
{
    static const char letters[] = "NKDO";
    for (const char *at = text; *at != '\0'; at++) {
        const char *letter = strchr(letters, *at);
        bool begins = letter != NULL && isdigit((unsigned char)at[1]) &&
                      (at == text || at[-1] == ' ' || at[-1] == ';');
        still_buf_char(out, *at);
        if (!begins) continue;
        unsigned n = 0;
        while (isdigit((unsigned char)at[1])) n = n * 10 + (unsigned)(*++at - '0');
        if (r->kind == 's' && *letter == r->letter && (n == r->a || n == r->b)) n = r->a + r->b - n;
        if (r->kind == 'm') n = r->to[letter - letters][n];
        bool fresh = r->kind == 'p' && (r->mask[letter - letters] >> n & 1) != 0;
        still_buf_printf(out, fresh ? "x%u" : "%u", n);
    }
}

static void L5_since_renaming_never_closes_a_gap(void **given)
{
    size_t renamed = 0, gone = 0;
    (void)given;
    random_state.state = SEED;
    print_message("seed %d\n", SEED);
    for (int t = 0; t < PLANTS; t++) {
        gap_plant plant;
        pair p;
        still_buf old = STILL_BUF_INIT, now = STILL_BUF_INIT;
        renaming r = {.kind = "pps m"[t % 5]};
        if (r.kind == ' ') r.kind = 'm';
        gap_plant_make(&plant, &random_state);
        gap_plant_write(&old, &plant);
        for (int i = 0; i < 4; i++)
            r.mask[i] = t % 5 == 0 ? UINT32_MAX : pick(1 << 12) & pick(1 << 12);
        r.letter = "NKD"[pick(3)];
        r.a = pick((uint32_t)(r.letter == 'D' ? plant.n_devices : plant.n_pieces));
        r.b = pick((uint32_t)(r.letter == 'D' ? plant.n_devices : plant.n_pieces));
        for (int i = 0; i < 4; i++) {
            unsigned n = (unsigned)(i < 2 ? plant.n_pieces : plant.n_devices);
            for (unsigned k = 0; k < n; k++) r.to[i][k] = k;
            for (unsigned k = n; k > 1; k--) {
                unsigned m = pick(k), x = r.to[i][m];
                r.to[i][m] = r.to[i][k - 1];
                r.to[i][k - 1] = x;
            }
        }
        rename_all(&now, old.text, &r);
        pair_open(&p, old.text, now.text);
        if (r.kind == 'm') {
            /* Ids that are given to other things of the same kind, with all that is joined to them,
             * cannot be told from parts that were moved. Then what closes opens elsewhere. */
            if (p.s->n_closed > 0) assert_true(p.s->n_opened > 0);
        } else {
            if (p.s->n_closed > 0) print_error("plant %d: %s\n", t, old.text);
            assert_int_equal(p.s->n_closed, 0);
        }
        if (r.kind == 'p' && p.s->n_gone == 0) assert_int_equal(p.s->n_opened, 0);
        renamed += p.s->n_renamed;
        gone += p.s->n_gone;
        pair_close(&p);
        still_buf_clear(&old);
        still_buf_clear(&now);
    }
    print_message("%zu renames found, %zu segments gone\n", renamed, gone);
    assert_true(renamed > PLANTS && gone > PLANTS);
}

static const still_segment *segment(const pair *p, bool old, int i)
{
    char name[16];
    snprintf(name, sizeof name, "K%d", i);
    return gap_segment(old ? p->old.r : p->now.r, name);
}

/* Pieces keep their tee and end: the state of each segment before and after is known by its name.
 */
static void L5_since_edits_are_told_as_they_are(void **given)
{
    size_t opened = 0, closed = 0, moved = 0;
    (void)given;
    random_state.state = SEED + 1;
    print_message("seed %d\n", SEED + 1);
    for (int t = 0; t < PLANTS; t++) {
        gap_plant plant;
        pair p;
        still_buf old = STILL_BUF_INIT, now = STILL_BUF_INIT;
        gap_plant_make(&plant, &random_state);
        gap_plant_write(&old, &plant);
        for (uint32_t edits = pick(4); edits > 0; edits--)
            gap_device_make(&plant, (int)pick((uint32_t)plant.n_devices), &random_state);
        gap_plant_write(&now, &plant);
        pair_open(&p, old.text, now.text);
        if (strcmp(old.text, now.text) == 0) says(&p, 0, 0, 0, 0, 0, 0);
        for (int i = 0; i < plant.n_pieces; i++) {
            const still_segment *was = segment(&p, true, i), *is = segment(&p, false, i);
            if (is->counts && !was->counts) assert_true(HAS(opened, is->name));
            if (is->counts && was->counts) assert_false(HAS(opened, is->name));
            if (HAS(closed, was->name)) {
                assert_true(was->counts);
                assert_string_not_equal(is->state, "uncovered");
            }
            if (was->counts && !is->counts)
                assert_true(HAS(closed, was->name) || HAS(moved, is->name));
        }
        opened += p.s->n_opened;
        closed += p.s->n_closed;
        moved += p.s->n_moved;
        pair_close(&p);
        still_buf_clear(&old);
        still_buf_clear(&now);
    }
    print_message("%zu opened, %zu closed, %zu moved\n", opened, closed, moved);
    assert_true(opened > 100 && closed > 100 && moved > 100);
}

static void L5_since_when_memory_runs_out(void **given)
{
    gap_case old, now;
    (void)given;
    gap_open(&old, LINE "pipe S2 L1.in T1.a service=A; pipe S3 T1.b L2.in service=A;");
    gap_open(&now, LINE RELIEF("V1", "O1", "T1") "pipe S2 L1.in T1.a service=A;"
                                                 "pipe S8 T1.b L2.in service=A;");
    for (uint64_t n = 1;; n++) {
        still_alloc_fail_at(n);
        still_status status = still_coverage_since(now.coverage, old.k.plant, NULL);
        still_alloc_fail_at(0);
        if (status == STILL_OK) {
            assert_true(n > 30);
            break;
        }
        assert_int_equal(status, STILL_E_NOMEM);
        assert_null(now.r->since);
    }
    gap_close(&now);
    gap_close(&old);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(L5_since_the_same_file_nothing_changed),
        cmocka_unit_test(L5_since_one_rename_is_a_guess),
        cmocka_unit_test(L5_since_an_ambiguous_rename_is_none),
        cmocka_unit_test(L5_since_a_valve_opens_a_gap),
        cmocka_unit_test(L2_since_a_relief_valve_closes_a_gap),
        cmocka_unit_test(L5_since_a_gap_not_found_again_is_not_closed),
        cmocka_unit_test(L2_since_cover_moved_to_another_valve),
        cmocka_unit_test(L2_since_cover_rests_on_another_condition),
        cmocka_unit_test(L5_since_a_split_gap_stays_a_gap),
        cmocka_unit_test(L5_since_plan_only_is_not_closed),
        cmocka_unit_test(L4_since_a_design_pressure_changed),
        cmocka_unit_test(L5_since_renaming_never_closes_a_gap),
        cmocka_unit_test(L5_since_edits_are_told_as_they_are),
        cmocka_unit_test(L5_since_when_memory_runs_out),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
