/* The best order of moves.
 * Problem: n moves, some before others; each state (set of moves done) breaks rules so and so
 * often; least sum of breaches over the states, rule by rule, then the fewest changes of place.
 * Method: A* over (set of groups done, place of the last). A group is a move, or all moves of one
 * place that change nothing and come before and after the same others. Estimate: the places that
 * still have moves; for each move to come what would be broken now with all done that eases; and
 * what the last state breaks, which every order ends in. Why it is right: docs/METHOD.md, 7. Beyond
 * the limits: greedy, the least cost of the next state first. Source: Hart, Nilsson and Raphael,
 * IEEE Trans. SSC 4 (1968) 100. Assumes that a move that does not ease never lowers what a state
 * breaks. Cost: exponential in the groups at worst, limited. */
#include "ordering.h"

#include "alloc.h"
#include "frontier.h"

#include <string.h>

/* Moves that are made in one go. */
typedef struct group {
    uint64_t pred;     /* groups that come before it */
    uint32_t first, n; /* of members */
    uint32_t place;    /* 0 … n_places - 1 */
    uint8_t eases;
    bool plain, waits, awaited;
} group;

typedef struct search {
    const still_ordering *given;
    group *groups;
    uint32_t n_groups;
    uint32_t *members; /* moves, group by group */
    uint32_t *group_of;
    uint32_t n_places, start;
    uint64_t all, costly, easing, unsure, waiting, awaited;
    still_breaches last; /* what the state with all moves done breaks */
    uint8_t *done;       /* by move, for `look` */
    still_frontier frontier;
    still_known known; /* breaches of states looked at */
    uint32_t looks;
} search;

static bool comes_before(const still_ordering *o, uint32_t i, uint32_t k)
{
    return o->before[(size_t)i * o->n + k] != 0;
}

static bool is_plain(const still_ordering *o, uint32_t i)
{
    return o->plain == NULL || o->plain[i] != 0;
}

static bool any_awaited(const still_ordering *o)
{
    for (uint32_t i = 0; i < o->n && o->waits != NULL; i++)
        if (o->awaited[i]) return true;
    return false;
}

/* May both be made in one go? */
static bool alike(const still_ordering *o, uint32_t i, uint32_t k, bool awaited)
{
    if (!is_plain(o, i) || !is_plain(o, k) || o->place[i] != o->place[k]) return false;
    if (o->waits != NULL && awaited &&
        (o->waits[i] || o->waits[k] || o->awaited[i] != o->awaited[k]))
        return false;
    for (uint32_t m = 0; m < o->n; m++)
        if (comes_before(o, i, m) != comes_before(o, k, m) ||
            comes_before(o, m, i) != comes_before(o, m, k))
            return false;
    return true;
}

static bool build_groups(search *s)
{
    const still_ordering *o = s->given;
    bool awaited = any_awaited(o);
    uint32_t used = 0;
    s->groups = still_calloc((size_t)o->n + 1, sizeof s->groups[0]);
    s->members = still_calloc((size_t)o->n + 1, sizeof s->members[0]);
    s->group_of = still_calloc((size_t)o->n + 1, sizeof s->group_of[0]);
    s->done = still_calloc((size_t)o->n + 1, 1);
    if (!s->groups || !s->members || !s->group_of || !s->done) return false;
    for (uint32_t i = 0; i < o->n; i++) s->group_of[i] = UINT32_MAX;
    for (uint32_t i = 0; i < o->n; i++) {
        if (s->group_of[i] != UINT32_MAX) continue;
        group *g = &s->groups[s->n_groups];
        *g = (group){.first = used, .plain = is_plain(o, i)};
        g->eases = !g->plain && o->eases != NULL ? o->eases[i] : STILL_EASES_NEVER;
        g->waits = o->waits != NULL && o->waits[i];
        g->awaited = o->waits != NULL && o->awaited[i];
        for (uint32_t k = i; k < o->n; k++) {
            if (s->group_of[k] != UINT32_MAX || (k != i && !alike(o, i, k, awaited))) continue;
            s->group_of[k] = s->n_groups;
            s->members[used++] = k;
            g->n++;
        }
        s->n_groups++;
    }
    return true;
}

/* Number the places of groups; fill masks. Only for at most STILL_ORDERING_GROUPS. */
static void number_groups(search *s)
{
    const still_ordering *o = s->given;
    s->start = STILL_ORDERING_GROUPS;
    for (uint32_t g = 0; g < s->n_groups; g++) {
        group *at = &s->groups[g];
        uint32_t place = o->place[s->members[at->first]], k = 0;
        uint64_t bit = UINT64_C(1) << g;
        while (k < g && o->place[s->members[s->groups[k].first]] != place) k++;
        at->place = k < g ? s->groups[k].place : s->n_places++;
        if (place == o->start) s->start = at->place;
        s->all |= bit;
        if (!at->plain) s->costly |= bit;
        if (at->eases == STILL_EASES_ONLY) s->easing |= bit;
        if (at->eases == STILL_EASES_OR_NOT) s->unsure |= bit;
        if (at->waits) s->waiting |= bit;
        if (at->awaited) s->awaited |= bit;
        for (uint32_t i = 0; i < o->n; i++)
            if (comes_before(o, i, s->members[at->first]))
                at->pred |= UINT64_C(1) << s->group_of[i];
    }
}

/* What the state with these groups done breaks. */
static still_status look_at(search *s, uint64_t mask, still_breaches *out)
{
    const still_ordering *o = s->given;
    *out = (still_breaches){{0}};
    if (s->costly == 0 || o->look == NULL) return STILL_OK;
    /* Plain moves make no difference: one state stands for all with the same others. */
    const still_breaches *known = still_known_get(&s->known, mask & s->costly);
    if (known != NULL) {
        *out = *known;
        return STILL_OK;
    }
    for (uint32_t i = 0; i < o->n; i++) s->done[i] = mask >> s->group_of[i] & 1;
    still_status status = o->look(o->data, s->done, out);
    s->looks++;
    if (status != STILL_OK) return status;
    return still_known_put(&s->known, mask & s->costly, out) ? STILL_OK : STILL_E_NOMEM;
}

static uint32_t limit(const search *s)
{
    return s->given->most_looks > 0 ? s->given->most_looks : STILL_ORDERING_STATES;
}

static bool may_come(const search *s, uint64_t mask, uint32_t g)
{
    uint64_t bit = UINT64_C(1) << g;
    if ((mask & bit) != 0 || (s->groups[g].pred & ~mask) != 0) return false;
    if ((s->waiting & bit) == 0 || (s->waiting & ~mask) != bit) return true;
    return (s->awaited & ~mask) == 0;
}

static unsigned count_bits(uint64_t mask)
{
    unsigned n = 0;
    for (; mask != 0; mask &= mask - 1) n++;
    return n;
}

/* Places that still have to be walked to. */
static uint32_t walks_left(const search *s, uint64_t mask, uint32_t place)
{
    uint64_t places = 0;
    for (uint32_t g = 0; g < s->n_groups; g++)
        if ((mask >> g & 1) == 0) places |= UINT64_C(1) << s->groups[g].place;
    if (place < STILL_ORDERING_GROUPS) places &= ~(UINT64_C(1) << place);
    return count_bits(places);
}

/* No order that goes on from here costs less than this: what is done stays done, and no state to
 * come breaks less than that with all done that may ease it, nor the last less than the end does.
 * @param eased  what that state breaks */
static still_toll estimate(const search *s, const still_node *node, const still_breaches *eased)
{
    still_toll f = node->toll;
    uint64_t left = s->all & ~node->mask;
    uint64_t moves = 0;
    for (uint32_t g = 0; g < s->n_groups; g++)
        if (left >> g & 1) moves += s->groups[g].n;
    f.walks += walks_left(s, node->mask, node->place);
    for (int k = 0; k < STILL_ORDERING_RULES && moves > 0; k++) {
        uint64_t least = (left & s->unsure) == 0 ? eased->of[k] : 0;
        uint64_t end = s->last.of[k] > least ? s->last.of[k] : least;
        f.breaches[k] += least * (moves - 1) + end;
    }
    return f;
}

static still_status add_node(search *s, const still_node *from, uint32_t parent, uint32_t g)
{
    const group *at = &s->groups[g];
    still_node node = {.mask = from->mask | UINT64_C(1) << g,
                       .parent = parent,
                       .by = g,
                       .place = at->place,
                       .toll = from->toll};
    still_breaches now, eased;
    still_status status = look_at(s, node.mask, &now);
    if (status == STILL_OK) status = look_at(s, node.mask | s->easing, &eased);
    if (status != STILL_OK) return status;
    if (from->place != at->place) node.toll.walks += from->place < STILL_ORDERING_GROUPS;
    for (int k = 0; k < STILL_ORDERING_RULES; k++)
        node.toll.breaches[k] += (uint64_t)now.of[k] * at->n;
    node.steps = from->steps + at->n;
    const still_toll f = estimate(s, &node, &eased);
    return still_frontier_add(&s->frontier, &node, &f) ? STILL_OK : STILL_E_NOMEM;
}

/* @return STILL_OK with *end = the last node, or UINT32_MAX when a limit was met */
static still_status run(search *s, uint32_t *end)
{
    still_node node = {.parent = UINT32_MAX, .by = UINT32_MAX, .place = s->start};
    still_status status = look_at(s, s->all, &s->last);
    *end = UINT32_MAX;
    if (status != STILL_OK) return status;
    const still_toll none = {{0}, 0};
    if (!still_frontier_add(&s->frontier, &node, &none)) return STILL_E_NOMEM;
    uint32_t at;
    while ((at = still_frontier_take(&s->frontier)) != UINT32_MAX) {
        node = s->frontier.nodes[at];
        if (node.mask == s->all) {
            *end = at;
            return STILL_OK;
        }
        for (uint32_t g = 0; g < s->n_groups && status == STILL_OK; g++)
            if (may_come(s, node.mask, g)) status = add_node(s, &node, at, g);
        if (status != STILL_OK) return status;
        if (s->looks > limit(s) || s->frontier.n > (uint32_t)STILL_ORDERING_STATES * 16)
            return STILL_OK;
    }
    return STILL_OK;
}

static void spell(const search *s, uint32_t end, still_ordered *out)
{
    uint32_t at = s->given->n;
    for (uint32_t i = end; s->frontier.nodes[i].by != UINT32_MAX; i = s->frontier.nodes[i].parent) {
        const group *g = &s->groups[s->frontier.nodes[i].by];
        at -= g->n;
        for (uint32_t k = 0; k < g->n; k++) out->moves[at + k] = s->members[g->first + k];
    }
    const still_toll *toll = &s->frontier.nodes[end].toll;
    memcpy(out->breaches, toll->breaches, sizeof out->breaches);
    out->walks = toll->walks;
    out->complete = true;
}

/* Move by move, when there are too many for a search. */
static bool open_to(const still_ordering *o, const uint8_t *done, uint32_t m)
{
    bool last = o->waits != NULL && o->waits[m], awaited = false;
    for (uint32_t i = 0; i < o->n; i++) {
        if (done[i] || i == m) continue;
        if (comes_before(o, i, m)) return false;
        if (o->waits != NULL && o->waits[i]) last = false;
        if (o->waits != NULL && o->awaited[i]) awaited = true;
    }
    return !last || !awaited;
}

static int compare_breaches(const still_breaches *a, const still_breaches *b)
{
    for (int k = 0; k < STILL_ORDERING_RULES; k++)
        if (a->of[k] != b->of[k]) return a->of[k] < b->of[k] ? -1 : 1;
    return 0;
}

static still_status one_by_one(search *s, still_ordered *out)
{
    const still_ordering *o = s->given;
    uint32_t place = o->start;
    still_breaches now = {{0}};
    memset(s->done, 0, o->n);
    out->complete = false;
    for (uint32_t step = 0; step < o->n; step++) {
        uint32_t best = UINT32_MAX;
        bool best_walks = false;
        still_breaches least = {{0}};
        for (uint32_t m = 0; m < o->n; m++) {
            if (s->done[m] || !open_to(o, s->done, m)) continue;
            bool walk = o->place[m] != place;
            still_breaches then = now;
            /* Where looks are dear, and used up twice over, moves go by place and number. */
            if (!is_plain(o, m) && o->look != NULL && s->looks <= 2 * limit(s)) {
                s->looks++;
                s->done[m] = 1;
                still_status status = o->look(o->data, s->done, &then);
                s->done[m] = 0;
                if (status != STILL_OK) return status;
            }
            int d = best == UINT32_MAX ? -1 : compare_breaches(&then, &least);
            if (d > 0 || (d == 0 && walk >= best_walks)) continue;
            best = m;
            best_walks = walk;
            least = then;
        }
        if (best == UINT32_MAX) return STILL_E_INTERNAL;
        s->done[best] = 1;
        out->moves[step] = best;
        out->walks += best_walks && place != UINT32_MAX;
        place = o->place[best];
        now = least;
        for (int k = 0; k < STILL_ORDERING_RULES; k++) out->breaches[k] += now.of[k];
    }
    return STILL_OK;
}

still_status still_ordering_find(still_ordered *out, still_arena *arena,
                                 const still_ordering *given)
{
    search s = {.given = given};
    still_ordered found = {.moves = STILL_ARENA_NEW(arena, given->n, uint32_t), .complete = true};
    still_status status = found.moves != NULL && build_groups(&s) ? STILL_OK : STILL_E_NOMEM;
    uint32_t end = UINT32_MAX;
    if (status == STILL_OK && s.n_groups <= STILL_ORDERING_GROUPS) {
        number_groups(&s);
        status = run(&s, &end);
    }
    if (status == STILL_OK && end != UINT32_MAX)
        spell(&s, end, &found);
    else if (status == STILL_OK)
        status = one_by_one(&s, &found);
    if (status == STILL_OK) *out = found;
    still_frontier_clear(&s.frontier);
    still_known_clear(&s.known);
    still_free(s.groups);
    still_free(s.members);
    still_free(s.group_of);
    still_free(s.done);
    return status;
}
