/* Minimum cuts on random small networks against brute force over all sets of nodes.
 *
 * Brute force: of the 2^(n-2) sets that hold s and not t, the capacity of the arcs that leave each.
 * Why that is the answer: the definition of a minimum cut. The closed sets of the residual network
 * are the minimum cuts (Picard, Queyranne 1980, doi 10.1007/BFb0120902), and they form a lattice.
 */
#include "alloc.h"
#include "flow.h"
#include "plantkit.h"

#include <stdio.h>
#include <string.h>

enum { NETWORKS = 3000, MAX_NODES = 9, SEED = 20240607 };

typedef struct cuts {
    uint64_t least;                   /* capacity of a least cut; UINT64_MAX: none is allowed */
    uint8_t is_least[1 << MAX_NODES]; /* by set of nodes */
} cuts;

static kit_random random_state;

static uint32_t random_capacity(void)
{
    uint32_t r = kit_below(&random_state, 10);
    return r < 3 ? 0 : r < 8 ? 1 : r == 8 ? 1 + kit_below(&random_state, 4) : STILL_UNCUT;
}

static void random_net(still_net *net)
{
    uint32_t n = 2 + kit_below(&random_state, MAX_NODES - 1);
    uint32_t edges = kit_below(&random_state, 3 * n);
    still_net_init(net, n);
    for (uint32_t i = 0; i < edges; i++)
        assert_int_equal(still_net_add(net, kit_below(&random_state, n),
                                       kit_below(&random_state, n), random_capacity(),
                                       random_capacity()),
                         STILL_OK);
}

/* Capacity that leaves a set; UINT64_MAX when it crosses what may not be cut. */
static uint64_t leaves(const still_net *net, uint32_t set)
{
    uint64_t sum = 0;
    for (size_t i = 0; i < net->n_edges; i++) {
        const still_net_edge *e = &net->edges[i];
        bool a = set >> e->a & 1, b = set >> e->b & 1;
        uint32_t cap = a && !b ? e->cap_ab : b && !a ? e->cap_ba : 0;
        if (cap == STILL_UNCUT) return UINT64_MAX;
        sum += cap;
    }
    return sum;
}

static void all_cuts(cuts *c, const still_net *net, uint32_t s, uint32_t t)
{
    memset(c, 0, sizeof *c);
    c->least = UINT64_MAX;
    for (uint32_t set = 0; set < 1U << net->n_nodes; set++) {
        if (!(set >> s & 1) || set >> t & 1) continue;
        uint64_t value = leaves(net, set);
        if (value < c->least) c->least = value;
    }
    for (uint32_t set = 0; set < 1U << net->n_nodes; set++)
        c->is_least[set] = set >> s & 1 && !(set >> t & 1) && leaves(net, set) == c->least;
}

static uint32_t as_set(const uint8_t *bytes, uint32_t n)
{
    uint32_t set = 0;
    for (uint32_t i = 0; i < n; i++) set |= (uint32_t)(bytes[i] != 0) << i;
    return set;
}

static uint32_t closure(const still_flow *flow, uint32_t from, bool backward)
{
    uint8_t bytes[MAX_NODES] = {0};
    assert_int_equal(still_flow_close(flow, bytes, from, backward), STILL_OK);
    return as_set(bytes, flow->net->n_nodes);
}

/* The least set that every least cut with `from` has in common; likewise outside. */
static uint32_t common(const cuts *c, uint32_t n, uint32_t from, bool outside, bool *any)
{
    uint32_t all = (1U << n) - 1, set = all;
    *any = false;
    for (uint32_t k = 0; k <= all; k++) {
        uint32_t side = outside ? all & ~k : k;
        if (!c->is_least[k] || !(side >> from & 1)) continue;
        set &= side;
        *any = true;
    }
    return set;
}

/* Every node's closure, in both directions, against the common part of all least cuts. */
static void check_closures(const still_flow *flow, const cuts *c)
{
    uint32_t n = flow->net->n_nodes;
    for (uint32_t v = 0; v < n; v++) {
        bool any;
        uint32_t down = closure(flow, v, false), want = common(c, n, v, false, &any);
        if (any) assert_int_equal(down | closure(flow, flow->s, false), want);
        assert_int_equal(any, !(down >> flow->t & 1));
        uint32_t up = closure(flow, v, true);
        want = common(c, n, v, true, &any);
        if (any) assert_int_equal(up | closure(flow, flow->t, true), want);
        assert_int_equal(any, !(up >> flow->s & 1));
    }
}

/* A set is a least cut just when no residual arc leaves it. */
static void check_lattice(const still_flow *flow, const cuts *c)
{
    uint32_t n = flow->net->n_nodes, reach[MAX_NODES];
    for (uint32_t v = 0; v < n; v++) reach[v] = closure(flow, v, false);
    for (uint32_t set = 0; set < 1U << n; set++) {
        bool closed = set >> flow->s & 1 && !(set >> flow->t & 1);
        for (uint32_t v = 0; v < n && closed; v++)
            if (set >> v & 1 && reach[v] & ~set) closed = false;
        assert_int_equal(closed, c->is_least[set]);
    }
}

/* An arc that some least cut crosses is saturated; a saturated one with its ends in one cut each.
 */
static void check_saturated(const still_flow *flow, const cuts *c)
{
    const still_net *net = flow->net;
    for (size_t e = 0; e < net->n_edges; e++) {
        for (int forward = 0; forward < 2; forward++) {
            uint32_t u = forward ? net->edges[e].a : net->edges[e].b;
            uint32_t v = forward ? net->edges[e].b : net->edges[e].a;
            uint32_t cap = forward ? net->edges[e].cap_ab : net->edges[e].cap_ba;
            bool crossed = false;
            for (uint32_t k = 0; k < 1U << net->n_nodes; k++)
                if (c->is_least[k] && k >> u & 1 && !(k >> v & 1) && cap != 0) crossed = true;
            if (crossed) assert_true(still_flow_saturated(flow, e, forward));
            if (cap == 0 || cap == STILL_UNCUT || u == v)
                assert_false(still_flow_saturated(flow, e, forward));
        }
    }
}

/* `value` ways from s to t along arcs, and no arc used more often than it carries. */
static void check_paths(const still_flow *flow)
{
    const still_net *net = flow->net;
    uint32_t *edges = NULL, *starts = NULL;
    uint64_t used[3 * MAX_NODES][2] = {{0}};
    assert_int_equal(still_flow_paths(flow, &edges, &starts), STILL_OK);
    assert_int_equal(starts[0], 0);
    for (uint64_t p = 0; p < flow->value; p++) {
        uint32_t at = flow->s, seen = 0;
        for (uint32_t k = starts[p]; k < starts[p + 1]; k++) {
            const still_net_edge *e = &net->edges[edges[k]];
            assert_true(e->a == at || e->b == at);
            assert_int_equal(seen >> at & 1, 0);
            seen |= 1U << at;
            used[edges[k]][e->a == at ? 0 : 1]++;
            at = e->a == at ? e->b : e->a;
        }
        assert_int_equal(at, flow->t);
        if (p > 0) assert_true(starts[p + 1] - starts[p] >= starts[p] - starts[p - 1]);
    }
    for (size_t e = 0; e < net->n_edges; e++) {
        if (net->edges[e].cap_ab != STILL_UNCUT) assert_true(used[e][0] <= net->edges[e].cap_ab);
        if (net->edges[e].cap_ba != STILL_UNCUT) assert_true(used[e][1] <= net->edges[e].cap_ba);
    }
    still_free(edges);
    still_free(starts);
}

static void I4_minimum_cut_against_brute_force(void **given)
{
    static cuts c;
    uint32_t cuttable = 0, ties = 0;
    (void)given;
    random_state.state = SEED;
    print_message("seed %d\n", SEED);
    for (int i = 0; i < NETWORKS; i++) {
        still_net net;
        still_flow flow;
        random_net(&net);
        uint32_t s = kit_below(&random_state, net.n_nodes);
        uint32_t t = (s + 1 + kit_below(&random_state, net.n_nodes - 1)) % net.n_nodes;
        all_cuts(&c, &net, s, t);
        assert_int_equal(still_flow_solve(&flow, &net, s, t), STILL_OK);
        assert_int_equal(flow.cuttable, c.least != UINT64_MAX);
        if (flow.cuttable) {
            uint32_t n_least = 0;
            assert_int_equal(flow.value, c.least);
            check_closures(&flow, &c);
            check_lattice(&flow, &c);
            check_saturated(&flow, &c);
            check_paths(&flow);
            for (uint32_t k = 0; k < 1U << net.n_nodes; k++) n_least += c.is_least[k];
            cuttable++;
            ties += n_least > 1;
        }
        still_flow_clear(&flow);
        still_net_clear(&net);
    }
    print_message("%u networks can be cut, %u with several least cuts\n", cuttable, ties);
    assert_true(cuttable > NETWORKS / 4 && ties > NETWORKS / 8);
}

static void I4_closing_adds_to_a_set(void **given)
{
    still_net net;
    still_flow flow;
    uint8_t set[3] = {0, 1, 0};
    (void)given;
    still_net_init(&net, 3);
    assert_int_equal(still_net_add(&net, 0, 1, 1, 0), STILL_OK);
    assert_int_equal(still_net_add(&net, 1, 2, 2, 0), STILL_OK);
    assert_int_equal(still_flow_solve(&flow, &net, 0, 2), STILL_OK);
    assert_int_equal(flow.value, 1);
    assert_int_equal(still_flow_close(&flow, set, 1, false),
                     STILL_OK); /* in it: not passed again */
    assert_int_equal(as_set(set, 3), 2);
    assert_int_equal(still_flow_close(&flow, set, 0, false), STILL_OK);
    assert_int_equal(as_set(set, 3), 3);
    still_flow_clear(&flow);
    still_net_clear(&net);
}

static void I4_uncut_is_never_cut(void **given)
{
    still_net net;
    still_flow flow;
    (void)given;
    still_net_init(&net, 3);
    for (int i = 0; i < 4; i++) assert_int_equal(still_net_add(&net, 0, 1, 1, 1), STILL_OK);
    assert_int_equal(still_net_add(&net, 1, 2, STILL_UNCUT, 0), STILL_OK);
    assert_int_equal(still_flow_solve(&flow, &net, 0, 2), STILL_OK);
    assert_true(flow.cuttable);
    assert_int_equal(flow.value, 4);
    still_flow_clear(&flow);
    assert_int_equal(still_net_add(&net, 0, 1, STILL_UNCUT, 0), STILL_OK);
    assert_int_equal(still_flow_solve(&flow, &net, 0, 2), STILL_OK);
    assert_false(flow.cuttable);
    still_flow_clear(&flow);
    /* Against its direction nothing flows. */
    assert_int_equal(still_flow_solve(&flow, &net, 2, 0), STILL_OK);
    assert_true(flow.cuttable);
    assert_int_equal(flow.value, 0);
    still_flow_clear(&flow);
    still_net_clear(&net);
}

static void I4_wrong_ends_are_refused(void **given)
{
    still_net net;
    still_flow flow = {.value = 77};
    (void)given;
    still_net_init(&net, 2);
    assert_int_equal(still_flow_solve(&flow, &net, 1, 1), STILL_E_INTERNAL);
    assert_int_equal(still_flow_solve(&flow, &net, 0, 2), STILL_E_INTERNAL);
    assert_int_equal(flow.value, 77); /* untouched */
    still_net_clear(&net);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(I4_minimum_cut_against_brute_force),
        cmocka_unit_test(I4_closing_adds_to_a_set),
        cmocka_unit_test(I4_uncut_is_never_cut),
        cmocka_unit_test(I4_wrong_ends_are_refused),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
