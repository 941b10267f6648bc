/* Places for new relief valves (L2, L5): the hitting set against all subsets; the places on random
 * small plants against all subsets of places, judged by a naive fixed point; and each answer tried
 * by putting the valves into the plant file. Plants are invented. */
#include "gapkit.h"

#include "alloc.h"
#include "hitting.h"

enum { SEED = 20261125, SETS = 4000, PLANTS = 2500 };

static kit_random random_state;

static uint32_t pick(uint32_t n)
{
    return kit_below(&random_state, n);
}

/* ---- hitting sets ---- */

static bool meets(const still_demands *d, uint32_t taken)
{
    for (size_t i = 0; i < d->n; i++) {
        bool met = false;
        for (size_t k = d->start[i]; k < d->start[i + 1]; k++)
            met |= (taken >> d->items[k] & 1) != 0;
        if (!met) return false;
    }
    return true;
}

static unsigned ones(uint32_t mask)
{
    unsigned n = 0;
    for (; mask != 0; mask >>= 1) n += mask & 1;
    return n;
}

static void random_demands(still_demands *d, uint32_t n_places, uint32_t n, uint32_t size)
{
    *d = (still_demands){0};
    for (uint32_t i = 0; i < n; i++) {
        uint32_t list[64], len = 0, want = 1 + pick(size);
        for (uint32_t p = 0; p < n_places; p++)
            if (pick(n_places) < want) list[len++] = p;
        if (len == 0) list[len++] = pick(n_places);
        assert_true(still_demands_add(d, list, len));
    }
}

static void L5_hitting_set_against_all_subsets(void **given)
{
    (void)given;
    random_state.state = SEED;
    print_message("seed %d\n", SEED);
    for (int t = 0; t < SETS; t++) {
        still_demands d;
        still_hitting h;
        uint8_t chosen[16];
        uint32_t n_places = 1 + pick(10), taken = 0;
        random_demands(&d, n_places, pick(14), 4);
        assert_int_equal(still_hitting_find(&h, chosen, &d, n_places), STILL_OK);
        unsigned least = n_places;
        for (uint32_t mask = 0; mask < UINT32_C(1) << n_places; mask++)
            if (ones(mask) < least && meets(&d, mask)) least = ones(mask);
        for (uint32_t p = 0; p < n_places; p++) taken |= (uint32_t)chosen[p] << p;
        assert_true(meets(&d, taken));
        assert_int_equal(ones(taken), least);
        assert_int_equal(h.n, least);
        assert_int_equal(h.bound, least);
        assert_true(h.proven);
        still_demands_clear(&d);
    }
}

/* Beyond twenty places: the answer meets all, and its bounds hold against a hidden answer. */
static void L5_hitting_set_large_is_bounded(void **given)
{
    (void)given;
    enum { PLACES = 60, HIDDEN = 6 };
    unsigned unproven = 0;
    random_state.state = SEED + 1;
    print_message("seed %d\n", SEED + 1);
    for (int t = 0; t < 300; t++) {
        still_demands d = {0};
        still_hitting h;
        uint8_t chosen[PLACES];
        for (uint32_t i = 0; i < 80; i++) {
            uint32_t list[8], len = 0, at = pick(HIDDEN) * 10;
            for (uint32_t k = 0; k < 5; k++) {
                uint32_t place = k == 0 ? at : pick(PLACES);
                bool again = false;
                for (uint32_t m = 0; m < len; m++) again |= list[m] == place;
                if (!again) list[len++] = place;
            }
            assert_true(still_demands_add(&d, list, len));
        }
        assert_int_equal(still_hitting_find(&h, chosen, &d, PLACES), STILL_OK);
        uint32_t n = 0;
        for (uint32_t p = 0; p < PLACES; p++) n += chosen[p];
        assert_int_equal(n, h.n);
        assert_true(h.bound <= HIDDEN && h.bound <= h.n);
        assert_true((double)h.n <= h.ratio * HIDDEN + 1e-9);
        for (size_t i = 0; i < d.n; i++) {
            bool met = false;
            for (size_t k = d.start[i]; k < d.start[i + 1]; k++) met |= chosen[d.items[k]] != 0;
            assert_true(met);
        }
        unproven += !h.proven;
        still_demands_clear(&d);
    }
    assert_true(unproven > 100);
}

/* ---- plants ---- */

/* Lowest opening pressures with new valves, opening at 0, at the pieces of a mask. */
static void spread(const gap_plant *p, uint32_t mask, double *c)
{
    for (int i = 0; i < p->n_pieces; i++) c[i] = (mask >> i & 1) != 0 ? 0 : (double)INFINITY;
    for (bool changed = true; changed;) {
        changed = false;
        for (int d = 0; d < p->n_devices; d++) {
            const gap_device *v = &p->devices[d];
            double to = (double)INFINITY, back = (double)INFINITY;
            int from = v->end[0];
            if (v->kind == GAP_CHECK || v->kind == GAP_SEALED) to = c[v->end[1]];
            if (v->kind == GAP_SEALED) back = c[v->end[0]];
            if (v->kind == GAP_RELIEF) to = v->set;
            if (v->kind == GAP_THREE_WAY) {
                to = fmax(c[v->end[0]], c[v->end[1]]);
                from = v->end[2];
            }
            if (to < c[from]) {
                c[from] = to;
                changed = true;
            }
            if (back < c[v->end[1]]) {
                c[v->end[1]] = back;
                changed = true;
            }
        }
    }
}

static void least_of(const gap_plant *p, const still_coverage_record *r, unsigned *least,
                     unsigned *left)
{
    uint32_t spots = 0, gaps = 0;
    *left = 0;
    for (int i = 0; i < p->n_pieces; i++) {
        char name[16];
        snprintf(name, sizeof name, "K%d", i);
        const still_segment *s = gap_segment(r, name);
        if (strcmp(s->state, "uncovered") == 0 && !s->stub) spots |= UINT32_C(1) << i;
        if (s->counts && !isnan(p->design[i])) gaps |= UINT32_C(1) << i;
        if (s->counts && isnan(p->design[i])) ++*left;
    }
    *least = 99;
    for (uint32_t mask = 0; mask < UINT32_C(1) << p->n_pieces; mask++) {
        double c[GAP_PIECES];
        bool all = true;
        if ((mask & ~spots) != 0 || ones(mask) >= *least) continue;
        spread(p, mask, c);
        for (int i = 0; i < p->n_pieces; i++)
            if ((gaps >> i & 1) != 0 && !(c[i] <= p->design[i])) all = false;
        if (all) *least = ones(mask);
    }
}

/* Put the valves in: what they are said to cover is covered then. */
static void try_out(const gap_case *c, const still_buf *text)
{
    still_buf more = STILL_BUF_INIT;
    gap_case with;
    still_buf_add(&more, text->text);
    for (size_t i = 0; i < c->r->n_places; i++) {
        const still_relief_place *p = &c->r->places[i];
        int piece = -1;
        assert_int_equal(p->segment[0], 'K');
        assert_int_equal(sscanf(p->segment + 1, "%d", &piece), 1);
        still_buf_printf(&more,
                         "valve Z%zu relief set-pressure=%.6f_barg;outlet Y%zu vent "
                         "leads-to=safe-place fitted=open;run service=B Z%zu.out Y%zu;"
                         "run service=B N%d Z%zu.in;",
                         i, p->set_at_most_bara - 1.01325, i, i, i, piece, i);
    }
    gap_open(&with, more.text);
    for (size_t i = 0; i < c->r->n_places; i++)
        for (size_t k = 0; k < c->r->places[i].covers.n; k++)
            assert_string_equal(gap_segment(with.r, c->r->places[i].covers.items[k])->state,
                                "covered");
    assert_int_equal(with.r->n_gaps, c->r->places_left.n);
    gap_close(&with);
    still_buf_clear(&more);
}

static void L2_L5_places_against_all_subsets(void **given)
{
    unsigned n_shared = 0, n_joint = 0, n_many = 0;
    (void)given;
    random_state.state = SEED + 2;
    print_message("seed %d\n", SEED + 2);
    for (int t = 0; t < PLANTS; t++) {
        gap_plant p;
        gap_case c;
        still_buf text = STILL_BUF_INIT;
        unsigned least, left;
        gap_plant_make(&p, &random_state);
        gap_plant_write(&text, &p);
        gap_open(&c, text.text);
        least_of(&p, c.r, &least, &left);
        if (c.r->n_places != least || c.r->places_left.n != left)
            print_error("plant %d: %zu places, want %u; left %zu, want %u\n%s\n", t, c.r->n_places,
                        least, c.r->places_left.n, left, text.text);
        assert_int_equal(c.r->n_places, least);
        assert_int_equal(c.r->places_bound, least);
        assert_true(c.r->places_proven);
        assert_int_equal(c.r->places_left.n, left);
        try_out(&c, &text);
        for (size_t i = 0; i < c.r->n_places; i++) {
            n_shared += c.r->places[i].covers.n > 1;
            n_joint += c.r->places[i].jointly.n > 0;
        }
        n_many += c.r->n_places > 2;
        gap_close(&c);
        still_buf_clear(&text);
    }
    print_message("%u places for several gaps, %u jointly, %u plants with three places or more\n",
                  n_shared, n_joint, n_many);
    assert_true(n_shared > 300 && n_joint > 10 && n_many > 300);
}

/* ---- single rules ---- */

#define SERVICES                                                                                   \
    "<service id='A' phase='liquid' design-pressure='10 barg' pressure='2 barg'/>;"                \
    "<service id='B' phase='liquid' design-pressure='19 barg' pressure='12 barg'/>;"               \
    "<service id='U' phase='liquid'/>;"

static void L2_forward_through_a_check_valve(void **given)
{
    gap_case c;
    (void)given;
    gap_open(&c, SERVICES "limit K1; limit K2; tee N1; tee N2; valve C check;"
                          "run service=A N1 K1; run service=A N2 K2; run service=A N1 C N2");
    assert_int_equal(c.r->n_places, 1);
    assert_string_equal(c.r->places[0].segment, "C~N2");
    assert_string_equal(c.r->places[0].id, "C~N2");
    assert_int_equal(c.r->places[0].covers.n, 2);
    assert_true(fabs(c.r->places[0].set_at_most_bara - 11.01325) < 1e-9);
    assert_string_equal(c.r->places[0].mind, "");
    gap_close(&c);
}

static void L2_set_pressure_not_above_the_normal_one_is_said(void **given)
{
    gap_case c;
    (void)given;
    gap_open(&c, SERVICES "limit K1; limit K2; tee N1; tee N2; valve C check;"
                          "run service=A N1 K1; run service=B N2 K2; run service=A N1 C;"
                          "run service=B C N2");
    assert_int_equal(c.r->n_places, 1);
    assert_string_equal(c.r->places[0].segment, "C~N2");
    assert_non_null(strstr(c.r->places[0].mind, "would blow"));
    gap_close(&c);
}

static void L2_unknown_design_pressure_is_left(void **given)
{
    gap_case c;
    (void)given;
    gap_open(&c, SERVICES "limit K1; tee N1; run service=U N1 K1");
    assert_int_equal(c.r->n_gaps, 1);
    assert_int_equal(c.r->n_places, 0);
    assert_int_equal(c.r->places_left.n, 1);
    assert_string_equal(c.r->places_left.items[0], "K1");
    gap_close(&c);
}

static void L5_accepted_gaps_are_not_counted(void **given)
{
    static const char *const accept[] = {"L5:K1"};
    const still_coverage_opts opts = {NULL, accept, 1};
    still_coverage *coverage = NULL;
    kit k;
    (void)given;
    kit_open(&k, SERVICES "limit K1; tee N1; run service=A N1 K1");
    assert_int_equal(still_coverage_make(&coverage, k.plant, NULL, &opts, NULL), STILL_OK);
    assert_int_equal(still_coverage_record_of(coverage)->n_places, 0);
    still_coverage_free(coverage);
    kit_close(&k);
}

/* The way of the gap leads to a part that is shut in only for service: no gap, but a place. Where
 * the gap itself does as well the valve stands there; where it serves two gaps, it stands further
 * on. */
static const char beyond[] =
    SERVICES "limit K1; limit K2; tee N1; tee N2; valve C check; hand S use=service; tee N3;"
             "valve R relief set-pressure=12_barg; outlet O vent leads-to=safe-place fitted=open;"
             "run service=B R.out O; run service=B N3 R.in; run service=B N2 S N3;"
             "run service=A N1 K1; run service=B N2 K2; run service=A N1 C; run service=B C N2;";

static void L5_rather_at_the_gap_than_beyond_it(void **given)
{
    gap_case c;
    (void)given;
    gap_open(&c, beyond);
    assert_string_equal(gap_segment(c.r, "C~N2")->shut_by, "plan-only");
    assert_int_equal(c.r->n_places, 1);
    assert_string_equal(c.r->places[0].segment, "K1");
    gap_close(&c);
}

static void L5_beyond_two_gaps_one_valve_for_both(void **given)
{
    char text[1200];
    gap_case c;
    (void)given;
    snprintf(text, sizeof text, "%s%s", beyond,
             "limit K4; tee N4; valve C4 check; run service=A N4 K4; run service=A N4 C4;"
             "run service=B C4 N2");
    gap_open(&c, text);
    assert_int_equal(c.r->n_gaps, 2);
    assert_int_equal(c.r->n_places, 1);
    assert_string_equal(c.r->places[0].segment, "C4~N2");
    assert_int_equal(c.r->places[0].covers.n, 2);
    gap_close(&c);
}

/* A relief valve makes a stub a part of its own: no place, though the gap's way leads there. */
static void L5_no_valve_on_a_stub(void **given)
{
    gap_case c;
    (void)given;
    gap_open(&c, SERVICES "limit K1; cap K2; tee N1; tee N2; valve C check;"
                          "run service=A N1 K1; run service=U N2 K2; run service=A N1 C;"
                          "run service=U C N2");
    assert_true(gap_segment(c.r, "C~N2")->stub);
    assert_int_equal(c.r->n_places, 1);
    assert_string_equal(c.r->places[0].segment, "K1");
    gap_close(&c);
}

static void L2_three_way_valve_asks_for_both_sides(void **given)
{
    gap_case c;
    (void)given;
    gap_open(&c, SERVICES "limit K1; limit K2; limit K3; tee N1; tee N2; tee N3;"
                          "valve T three-way positions=a-c_b-c; run service=A N1 K1;"
                          "run service=A N2 K2; run service=A N3 K3; run service=A N1 T.c;"
                          "run service=A N2 T.a; run service=A N3 T.b");
    assert_int_equal(c.r->n_places, 2);
    for (size_t i = 0; i < 2; i++) {
        assert_int_equal(c.r->places[i].covers.n, 2);
        assert_int_equal(c.r->places[i].jointly.n, 1);
        assert_string_equal(c.r->places[i].jointly.items[0], "K1");
    }
    gap_close(&c);
}

static void L5_places_when_memory_runs_out(void **given)
{
    kit k;
    (void)given;
    kit_open(&k, SERVICES "limit K1; limit K2; limit K3; tee N1; tee N2; tee N3; valve C check;"
                          "valve T three-way positions=a-c_b-c; run service=A N1 K1;"
                          "run service=A N2 K2; run service=A N3 K3; run service=A N1 T.c;"
                          "run service=A N2 T.a; run service=A N3 T.b; run service=A N2 C N3");
    for (uint64_t n = 1;; n++) {
        still_coverage *coverage = NULL;
        still_alloc_fail_at(n);
        still_status status = still_coverage_make(&coverage, k.plant, NULL, NULL, NULL);
        still_alloc_fail_at(0);
        if (status == STILL_OK) {
            assert_true(n > 20);
            still_coverage_free(coverage);
            break;
        }
        assert_int_equal(status, STILL_E_NOMEM);
        assert_null(coverage);
    }
    kit_close(&k);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(L5_hitting_set_against_all_subsets),
        cmocka_unit_test(L5_hitting_set_large_is_bounded),
        cmocka_unit_test(L2_L5_places_against_all_subsets),
        cmocka_unit_test(L2_forward_through_a_check_valve),
        cmocka_unit_test(L2_set_pressure_not_above_the_normal_one_is_said),
        cmocka_unit_test(L2_unknown_design_pressure_is_left),
        cmocka_unit_test(L5_accepted_gaps_are_not_counted),
        cmocka_unit_test(L5_rather_at_the_gap_than_beyond_it),
        cmocka_unit_test(L5_beyond_two_gaps_one_valve_for_both),
        cmocka_unit_test(L5_no_valve_on_a_stub),
        cmocka_unit_test(L2_three_way_valve_asks_for_both_sides),
        cmocka_unit_test(L5_places_when_memory_runs_out),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
