/* The best order of moves on random small lists against brute force over all orders.
 *
 * Brute force: every permutation that keeps what must come before what; its cost is summed up state
 * by state. Why that is the answer: the definition of a best order (docs/METHOD.md, 7). What a
 * state breaks is made of triggers: so many of a rule while all of some moves are done, and none of
 * some others that ease it; so a move that eases nothing only makes it worse, as the search
 * assumes.
 */
#include "alloc.h"
#include "ordering.h"
#include "plantkit.h"

#include <stdio.h>
#include <string.h>

enum { LISTS = 1500, MOST = 7, TRIGGERS = 4, SEED = 20261126 };

static kit_random random_state;

typedef struct trigger {
    uint32_t rule, weight, done, eased;
} trigger;

typedef struct problem {
    uint32_t n, place[MOST], start;
    uint8_t before[MOST * MOST], plain[MOST], eases[MOST], waits[MOST], awaited[MOST];
    trigger triggers[TRIGGERS];
    unsigned looks;
} problem;

static void breaches_of(const problem *p, uint32_t mask, uint64_t out[STILL_ORDERING_RULES])
{
    memset(out, 0, STILL_ORDERING_RULES * sizeof out[0]);
    for (int t = 0; t < TRIGGERS; t++) {
        const trigger *at = &p->triggers[t];
        if (at->weight > 0 && (mask & at->done) == at->done && (mask & at->eased) == 0)
            out[at->rule] += at->weight;
    }
}

static still_status look(void *data, const uint8_t *done, still_breaches *out)
{
    problem *p = data;
    uint32_t mask = 0;
    uint64_t sum[STILL_ORDERING_RULES];
    for (uint32_t i = 0; i < p->n; i++) mask |= (uint32_t)(done[i] != 0) << i;
    breaches_of(p, mask, sum);
    for (int k = 0; k < STILL_ORDERING_RULES; k++) out->of[k] = (uint32_t)sum[k];
    p->looks++;
    return STILL_OK;
}

static void random_problem(problem *p)
{
    uint32_t used = 0;
    *p = (problem){.n = 1 + kit_below(&random_state, MOST)};
    p->start = kit_below(&random_state, 2) != 0 ? UINT32_MAX : kit_below(&random_state, 3);
    for (uint32_t i = 0; i < p->n; i++) {
        p->place[i] = kit_below(&random_state, 3);
        p->waits[i] = kit_below(&random_state, 4) == 0;
        p->awaited[i] = !p->waits[i] && kit_below(&random_state, 4) == 0;
        /* Along a hidden order, so that there is no cycle; it need not be that of the numbers. */
        for (uint32_t k = 0; k < p->n; k++)
            if ((i * 5 + 3) % 11 < (k * 5 + 3) % 11 && kit_below(&random_state, 5) == 0)
                p->before[i * p->n + k] = 1;
    }
    for (int t = 0; t < TRIGGERS; t++) {
        trigger *at = &p->triggers[t];
        at->rule = kit_below(&random_state, STILL_ORDERING_RULES);
        at->weight = kit_below(&random_state, 3);
        at->done = 1 + kit_below(&random_state, (1u << p->n) - 1);
        at->done &= kit_below(&random_state, 1u << p->n) | 1u;
        at->eased =
            kit_below(&random_state, 1u << p->n) & kit_below(&random_state, 1u << p->n) & ~at->done;
        if (at->done == 0) at->weight = 0; /* it would hold in every state */
        if (at->weight > 0) used |= at->done | at->eased;
    }
    for (uint32_t i = 0; i < p->n; i++) {
        bool eases = false, worsens = false;
        for (int t = 0; t < TRIGGERS; t++) {
            eases = eases || (p->triggers[t].weight > 0 && (p->triggers[t].eased >> i & 1) != 0);
            worsens = worsens || (p->triggers[t].weight > 0 && (p->triggers[t].done >> i & 1) != 0);
        }
        p->plain[i] = (used >> i & 1) == 0;
        p->eases[i] = eases && worsens ? STILL_EASES_OR_NOT
                      : eases          ? STILL_EASES_ONLY
                                       : STILL_EASES_NEVER;
    }
}

/* What is left of the constraints, move by move. */
static bool may_come(const problem *p, uint32_t mask, uint32_t m)
{
    bool last = p->waits[m] != 0, left = false;
    for (uint32_t i = 0; i < p->n; i++) {
        if ((mask >> i & 1) != 0 || i == m) continue;
        if (p->before[i * p->n + m]) return false;
        last = last && !p->waits[i];
        left = left || p->awaited[i];
    }
    return !last || !left;
}

typedef struct cost {
    uint64_t of[STILL_ORDERING_RULES + 1];
    bool any;
} cost;

static bool less(const cost *a, const cost *b)
{
    for (int k = 0; k <= STILL_ORDERING_RULES; k++)
        if (a->of[k] != b->of[k]) return a->of[k] < b->of[k];
    return false;
}

static void step(const problem *p, cost *at, uint32_t mask, uint32_t place, uint32_t m)
{
    uint64_t now[STILL_ORDERING_RULES];
    breaches_of(p, mask | 1u << m, now);
    for (int k = 0; k < STILL_ORDERING_RULES; k++) at->of[k] += now[k];
    at->of[STILL_ORDERING_RULES] += place != UINT32_MAX && place != p->place[m];
}

/* A place where nothing is done is nowhere for the search. */
static uint32_t start_of(const problem *p)
{
    for (uint32_t i = 0; i < p->n; i++)
        if (p->place[i] == p->start) return p->start;
    return UINT32_MAX;
}

static void all_orders(const problem *p, uint32_t mask, uint32_t place, const cost *so_far,
                       cost *best)
{
    if (mask == (1u << p->n) - 1) {
        if (!best->any || less(so_far, best)) *best = *so_far;
        best->any = true;
        return;
    }
    for (uint32_t m = 0; m < p->n; m++) {
        if ((mask >> m & 1) != 0 || !may_come(p, mask, m)) continue;
        cost next = *so_far;
        step(p, &next, mask, place, m);
        all_orders(p, mask | 1u << m, p->place[m], &next, best);
    }
}

static still_ordering given_of(problem *p)
{
    return (still_ordering){.n = p->n,
                            .before = p->before,
                            .place = p->place,
                            .start = p->start,
                            .plain = p->plain,
                            .eases = p->eases,
                            .waits = p->waits,
                            .awaited = p->awaited,
                            .look = look,
                            .data = p};
}

static void P3_best_order_against_all_orders(void **state)
{
    unsigned with_breaches = 0, solved = 0;
    (void)state;
    for (int i = 0; i < LISTS; i++) {
        problem p;
        cost best = {.any = false}, none = {.any = false}, found = {.any = true};
        still_ordered got;
        still_arena arena;
        random_state.state = (uint64_t)SEED + (uint64_t)i;
        random_problem(&p);
        all_orders(&p, 0, start_of(&p), &none, &best);
        if (!best.any) continue; /* waits against what comes before: no order at all */
        still_arena_init(&arena);
        const still_ordering given = given_of(&p);
        assert_int_equal(still_ordering_find(&got, &arena, &given), STILL_OK);
        assert_true(got.complete);
        uint32_t mask = 0, place = start_of(&p);
        for (uint32_t k = 0; k < p.n; k++) {
            if (!may_come(&p, mask, got.moves[k])) fail_msg("seed %d: order broken", SEED + i);
            step(&p, &found, mask, place, got.moves[k]);
            mask |= 1u << got.moves[k];
            place = p.place[got.moves[k]];
        }
        for (int k = 0; k < STILL_ORDERING_RULES; k++)
            if (found.of[k] != got.breaches[k]) fail_msg("seed %d: cost told wrong", SEED + i);
        assert_int_equal(found.of[STILL_ORDERING_RULES], got.walks);
        if (less(&best, &found) || less(&found, &best)) fail_msg("seed %d: not the best", SEED + i);
        with_breaches += best.of[0] + best.of[1] + best.of[2] > 0;
        solved++;
        still_arena_clear(&arena);
    }
    printf("%u lists of %d, %u with breaches in every order; seeds from %d\n", solved, LISTS,
           with_breaches, SEED);
    assert_true(solved > LISTS / 2 && with_breaches > LISTS / 10);
}

/* Beyond 64 groups the order is made move by move, keeps what must come first, and says so. */
static void P3_too_many_moves_are_told(void **state)
{
    enum { N = 80 };
    uint32_t place[N];
    uint8_t *before = still_calloc((size_t)N * N, 1);
    still_ordered got;
    still_arena arena;
    (void)state;
    assert_non_null(before);
    for (uint32_t i = 0; i < N; i++) place[i] = i;
    for (uint32_t i = 0; i + 1 < N; i++) before[(i + 1) * N + i] = 1; /* backward */
    const still_ordering given = {.n = N, .before = before, .place = place, .start = UINT32_MAX};
    still_arena_init(&arena);
    assert_int_equal(still_ordering_find(&got, &arena, &given), STILL_OK);
    assert_false(got.complete);
    for (uint32_t i = 0; i < N; i++) assert_int_equal(got.moves[i], N - 1 - i);
    assert_int_equal(got.walks, N - 1);
    still_arena_clear(&arena);
    still_free(before);
}

static void P3_no_moves(void **state)
{
    still_ordered got;
    still_arena arena;
    (void)state;
    still_arena_init(&arena);
    const still_ordering given = {.n = 0, .before = (const uint8_t *)"", .place = NULL, .start = 0};
    assert_int_equal(still_ordering_find(&got, &arena, &given), STILL_OK);
    assert_int_equal(got.walks, 0);
    still_arena_clear(&arena);
}

static void P3_every_allocation_may_fail(void **state)
{
    problem p;
    (void)state;
    random_state.state = SEED;
    do random_problem(&p);
    while (p.n < MOST);
    for (uint64_t k = 1;; k++) {
        still_ordered got;
        still_arena arena;
        still_arena_init(&arena);
        const still_ordering given = given_of(&p);
        still_alloc_fail_at(k);
        still_status status = still_ordering_find(&got, &arena, &given);
        still_alloc_fail_at(0);
        still_arena_clear(&arena);
        if (status == STILL_OK) break;
        assert_int_equal(status, STILL_E_NOMEM);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(P3_best_order_against_all_orders),
        cmocka_unit_test(P3_too_many_moves_are_told),
        cmocka_unit_test(P3_no_moves),
        cmocka_unit_test(P3_every_allocation_may_fail),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
