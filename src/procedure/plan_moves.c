/* The order of moves (P1 to P3, P9, E1, L6, D4; docs/METHOD.md, 7).
 * Problem: put the moves of each stage, the locks and the way back in order.
 * Method: what must come before what as a matrix, what a state breaks from watch.c, and the search
 * of ordering.c. Where even the worst state breaks nothing, only changes of place are left to
 * weigh. Cost: that of the search. */
#include "plan_order.h"

#include "alloc.h"
#include "watch.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* A list of moves while it is put in order. */
typedef struct list {
    still_order *o;
    uint32_t *ops; /* numbers in o->ops, by kind and id */
    uint32_t n;
    uint8_t *before, *waits, *awaited, *plain, *eases;
    uint32_t *place;
} list;

typedef enum kind { FEED, FEED_SIDE, WAY_OFF, OPENING, RECEIVER_SIDE } kind;

static kind kind_of(const still_op *op)
{
    if (op->feed != STILL_NONE) return FEED;
    if (op->opening) return OPENING;
    if (op->receiver_side) return RECEIVER_SIDE;
    return op->downstream ? WAY_OFF : FEED_SIDE;
}

static const char *id_of(const still_order *o, const still_op *op)
{
    return op->feed != STILL_NONE ? still_text(o->plant, o->plant->feeds[op->feed].id)
                                  : still_id_of(o->plant, op->comp);
}

static const char *place_of(const still_order *o, const still_op *op)
{
    return op->feed != STILL_NONE ? still_text(o->plant, o->plant->feeds[op->feed].place)
                                  : still_comp_t(o->plant, op->comp, STILL_T_PLACE);
}

/* Feeds, barriers, openings; then by id. */
static bool goes_first(const still_order *o, const still_op *a, const still_op *b)
{
    int ka = a->feed != STILL_NONE ? 0 : a->opening ? 2 : 1;
    int kb = b->feed != STILL_NONE ? 0 : b->opening ? 2 : 1;
    if (ka != kb) return ka < kb;
    return strcmp(id_of(o, a), id_of(o, b)) < 0;
}

/* On the way back, among equals, liquid comes from where it flows from: feed sides, the outer of
 * two devices first, then ways off, the inner one first. */
static bool refills_first(const still_order *o, const still_op *a, const still_op *b)
{
    if (a->downstream != b->downstream) return b->downstream;
    uint8_t la = a->point->level, lb = b->point->level;
    if (la != lb) return a->downstream ? la < lb : la > lb;
    return goes_first(o, a, b);
}

static void sort_ops(list *l,
                     bool (*first)(const still_order *, const still_op *, const still_op *))
{
    for (uint32_t i = 1; i < l->n; i++) {
        uint32_t op = l->ops[i], k = i;
        for (; k > 0 && first(l->o, &l->o->ops[op], &l->o->ops[l->ops[k - 1]]); k--)
            l->ops[k] = l->ops[k - 1];
        l->ops[k] = op;
    }
}

static bool room_for(list *l, still_order *o)
{
    size_t n = (size_t)o->n_ops + 1;
    *l = (list){.o = o};
    l->ops = still_calloc(n, sizeof l->ops[0]);
    l->place = still_calloc(n, sizeof l->place[0]);
    l->waits = still_calloc(n, 1);
    l->awaited = still_calloc(n, 1);
    l->plain = still_calloc(n, 1);
    l->eases = still_calloc(n, 1);
    l->before = still_calloc(n, n);
    return l->ops && l->place && l->waits && l->awaited && l->plain && l->eases && l->before;
}

static void clear_list(list *l)
{
    still_free(l->ops);
    still_free(l->place);
    still_free(l->waits);
    still_free(l->awaited);
    still_free(l->plain);
    still_free(l->eases);
    still_free(l->before);
}

static void name_places(list *l)
{
    for (uint32_t i = 0; i < l->n; i++) {
        const char *place = place_of(l->o, &l->o->ops[l->ops[i]]);
        uint32_t k = 0;
        while (k < i && (place[0] == '\0' || strcmp(place, place_of(l->o, &l->o->ops[l->ops[k]]))))
            k++;
        l->place[i] = k;
    }
}

static void comes_before(list *l, uint32_t i, uint32_t k)
{
    l->before[(size_t)i * l->n + k] = 1;
}

static double bore_of(const still_order *o, const still_op *op)
{
    double bore = still_comp_bore_mm(o->plant, op->comp);
    return isnan(bore) ? (double)INFINITY : bore;
}

/* A feed of a device that is itself a barrier: it closes with it (D3). */
static bool feeds_it(const still_order *o, const still_op *feed, const still_op *device)
{
    size_t n;
    const still_comp_feed *feeds = still_comp_feeds(o->plant, device->comp, &n);
    for (size_t i = 0; i < n; i++)
        if (still_same_isolator(o->plant, feeds[i].feed, feed->feed)) return true;
    return false;
}

/* N5: the warmer side of an exchanger is closed before the cooler one. */
static bool heat_first(const still_op *a, const still_op *b)
{
    return a->warms && b->cools;
}

/* What must come before what, when a stage is closed (METHOD 7, 1 to 6).
 * @param heat  with rule 6 */
static void precede(list *l, bool heat)
{
    const still_order *o = l->o;
    for (uint32_t i = 0; i < l->n; i++)
        for (uint32_t k = 0; k < l->n; k++) {
            const still_op *a = &o->ops[l->ops[i]], *b = &o->ops[l->ops[k]];
            kind ka = kind_of(a), kb = kind_of(b);
            bool first = false;
            if (i == k) continue;
            if (ka == FEED) first = kb == OPENING || (kb != FEED && feeds_it(o, a, b));
            if (ka == FEED_SIDE) first = kb == WAY_OFF || kb == OPENING;
            if (ka == FEED_SIDE && kb == FEED_SIDE)
                first = a->point->level == 2 && b->point->level == 1;
            if (ka == OPENING && kb == OPENING) first = bore_of(o, a) < bore_of(o, b);
            if (kb == RECEIVER_SIDE) first = ka != RECEIVER_SIDE;
            /* A relief path is closed when all else is: once the section is empty (D4). */
            if (a->behind_relief != b->behind_relief && !b->opening && !a->opening && ka != FEED &&
                kb != FEED)
                first = b->behind_relief;
            if (b->behind_relief && (a->opening || ka == FEED)) first = true;
            if (a->behind_relief) first = false;
            if (heat && heat_first(b, a) && kb != RECEIVER_SIDE) first = false;
            if (heat && heat_first(a, b)) first = true;
            if (first) comes_before(l, i, k);
        }
}

/* Whether the relation leaves an order at all: take away again and again what nothing comes before.
 */
static bool has_order(const list *l, uint8_t *gone)
{
    uint32_t left = l->n;
    memset(gone, 0, l->n);
    for (bool more = true; more;) {
        more = false;
        for (uint32_t k = 0; k < l->n; k++) {
            bool free = gone[k] == 0;
            for (uint32_t i = 0; i < l->n && free; i++)
                free = gone[i] != 0 || l->before[(size_t)i * l->n + k] == 0;
            if (!free) continue;
            gone[k] = 1;
            more = true;
            left--;
        }
    }
    return left == 0;
}

/* Where no side leads to a receiver, the last way off waits for what is opened inside. */
static bool let_wait(list *l)
{
    bool receiver = false, any = false, opening = false;
    for (uint32_t i = 0; i < l->n; i++) {
        const still_op *op = &l->o->ops[l->ops[i]];
        bool off = kind_of(op) == WAY_OFF && strcmp(op->from, "closed") != 0;
        receiver = receiver || kind_of(op) == RECEIVER_SIDE;
        l->awaited[i] = op->opening;
        opening = opening || op->opening;
        /* What warms the other side of an exchanger does not wait. */
        l->waits[i] = off && !op->behind_relief && !op->warms;
        /* A relief path is closed after all openings in any case. */
        any = any || l->waits[i] || op->behind_relief;
    }
    if (receiver) memset(l->waits, 0, l->n);
    return receiver || any || !opening;
}

/* Does a feed supply anything that passes or moves fluid? */
static bool drives(const still_order *o, uint32_t feed)
{
    for (uint32_t i = 0; i < o->plant->n_feeds; i++) {
        const still_feed *f = &o->plant->feeds[i];
        for (uint32_t k = 0; k < f->n_refs && still_same_isolator(o->plant, i, feed); k++) {
            uint8_t cls = o->plant->comps[o->plant->refs[f->ref0 + k]].cls;
            if (cls == STILL_CLASS_PUMP || cls == STILL_CLASS_COMPRESSOR ||
                cls == STILL_CLASS_VALVE)
                return true;
        }
    }
    return false;
}

/* Which moves make a difference to what a state breaks. */
static void weigh(list *l, const still_breaches *worst, bool back)
{
    bool any = false;
    for (int k = 0; k < STILL_ORDERING_RULES; k++) any = any || worst->of[k] > 0;
    for (uint32_t i = 0; i < l->n; i++) {
        const still_op *op = &l->o->ops[l->ops[i]];
        l->plain[i] = !any || (op->feed != STILL_NONE && !drives(l->o, op->feed));
        /* A feed that is off stops a machine, and takes a way from others. */
        l->eases[i] = back || op->feed != STILL_NONE ? STILL_EASES_OR_NOT
                      : op->opening                  ? STILL_EASES_ONLY
                                                     : STILL_EASES_NEVER;
    }
}

/* Where the last move of a list was made, as a place of another list; UINT32_MAX = not there. */
static uint32_t start_at(const list *l, const still_op *last)
{
    const char *place = last != NULL ? place_of(l->o, last) : "";
    for (uint32_t i = 0; i < l->n && place[0] != '\0'; i++)
        if (strcmp(place, place_of(l->o, &l->o->ops[l->ops[i]])) == 0) return l->place[i];
    return UINT32_MAX;
}

/* What arranging shares. */
typedef struct arranging {
    still_order *o;
    still_arena *arena;
    const still_order_given *given;
    still_watch watch;
    still_on_the_way *breaches;
    size_t n_breaches, cap;
} arranging;

/* Each look costs a pass over the plant. */
static uint32_t looks_for(const still_plant *plant)
{
    enum { WORK = 2000000, LEAST = 24 };
    uint32_t n = WORK / (plant->n_comps + 1);
    return n < LEAST ? LEAST : n > STILL_ORDERING_STATES ? STILL_ORDERING_STATES : n;
}

/* Order of a list that is filled, with or without a look at its states.
 * @param[out] order  ops in order; room for l->n */
static still_status settle(arranging *a, list *l, bool back, const still_op *last, uint32_t *order)
{
    still_breaches worst;
    still_ordered found;
    name_places(l);
    still_status status = still_watch_take(&a->watch, l->ops, l->n, back, &worst);
    if (status != STILL_OK) return status;
    weigh(l, &worst, back);
    const still_ordering given = {.n = l->n,
                                  .before = l->before,
                                  .place = l->place,
                                  .start = start_at(l, last),
                                  .plain = l->plain,
                                  .eases = l->eases,
                                  .waits = l->waits,
                                  .awaited = l->awaited,
                                  .look = still_watch_look,
                                  .data = &a->watch,
                                  .most_looks = looks_for(a->o->plant)};
    status = still_ordering_find(&found, a->arena, &given);
    if (status != STILL_OK) return status;
    a->o->complete = a->o->complete && found.complete;
    if (l->n > 0)
        status = still_watch_walk(&a->watch, a->arena, found.moves, &a->breaches, &a->n_breaches,
                                  &a->cap);
    for (uint32_t i = 0; i < l->n; i++) order[i] = l->ops[found.moves[i]];
    return status;
}

/* Only by place, from where the last move was made. */
static still_status by_place(arranging *a, list *l, const still_op *last, uint32_t *order)
{
    still_ordered found;
    name_places(l);
    memset(l->before, 0, (size_t)l->n * l->n);
    memset(l->plain, 1, l->n);
    const still_ordering given = {.n = l->n,
                                  .before = l->before,
                                  .place = l->place,
                                  .start = start_at(l, last),
                                  .plain = l->plain};
    still_status status = still_ordering_find(&found, a->arena, &given);
    for (uint32_t i = 0; i < l->n && status == STILL_OK; i++) order[i] = l->ops[found.moves[i]];
    return status;
}

static bool closes_in_stage(const still_op *op, bool outer)
{
    return op->outer == outer && !op->late && (op->barrier || op->opening);
}

/* Rule 6 leaves no order: the warmer side comes when it comes, and the plan says so. */
static void forget_heat(still_order *o)
{
    for (uint32_t i = 0; i < o->n_ops; i++) o->ops[i].warms = o->ops[i].cools = false;
    o->heat_stays = true;
}

/* Moves of a stage, then its locks. */
static still_status arrange_stage(arranging *a, bool outer, uint32_t *order, uint32_t *n)
{
    list l;
    still_order *o = a->o;
    still_status status = room_for(&l, o) ? STILL_OK : STILL_E_NOMEM;
    if (status == STILL_OK) {
        for (uint32_t i = 0; i < o->n_ops; i++)
            if (closes_in_stage(&o->ops[i], outer)) l.ops[l.n++] = i;
        *n = l.n;
        sort_ops(&l, goes_first);
        precede(&l, true);
        if (!has_order(&l, l.plain)) {
            memset(l.before, 0, (size_t)l.n * l.n);
            forget_heat(o);
            precede(&l, false);
        }
        if (!let_wait(&l)) o->late_opening = true;
        status = settle(a, &l, false, NULL, order);
    }
    if (status == STILL_OK && l.n > 0) {
        memcpy(l.ops, order, l.n * sizeof order[0]);
        status = by_place(a, &l, &o->ops[order[l.n - 1]], o->locks + o->n_locks);
        o->n_locks += l.n;
    }
    clear_list(&l);
    return status;
}

/* Before what a point is brought back: lower first. */
static int rank_back(const still_op *op)
{
    if (op->behind_relief)
        return 0; /* nothing comes in by it, and relief is back before fluid is */
    if (op->receiver_side) return 1;
    if (op->downstream) return op->wets ? 4 : 2;
    return op->gas ? 3 : 4;
}

/* Of one rank the warmer side of an exchanger comes last: heat only where flow carries it away. */
static bool comes_back_first(const still_op *a, const still_op *b)
{
    int ra = rank_back(a), rb = rank_back(b);
    return ra != rb ? ra < rb : !a->warms && b->warms;
}

static still_status arrange_back(arranging *a)
{
    list l;
    still_order *o = a->o;
    still_status status = room_for(&l, o) ? STILL_OK : STILL_E_NOMEM;
    if (status == STILL_OK) {
        for (uint32_t i = 0; i < o->n_ops; i++)
            if (o->ops[i].barrier && o->ops[i].comp != STILL_NONE && !o->ops[i].late)
                l.ops[l.n++] = i;
        sort_ops(&l, refills_first);
        for (uint32_t i = 0; i < l.n; i++)
            for (uint32_t k = 0; k < l.n; k++)
                if (comes_back_first(&o->ops[l.ops[i]], &o->ops[l.ops[k]])) comes_before(&l, i, k);
        status = settle(a, &l, true, NULL, o->back);
        o->n_back = l.n;
    }
    /* Supplies come after the valves (P6). */
    if (status == STILL_OK) {
        const still_op *last = l.n > 0 ? &o->ops[o->back[l.n - 1]] : NULL;
        l.n = 0;
        for (uint32_t i = 0; i < o->n_ops; i++)
            if (o->ops[i].feed != STILL_NONE) l.ops[l.n++] = i;
        sort_ops(&l, goes_first);
        status = by_place(a, &l, last, o->back + o->n_back);
        o->n_back += l.n;
    }
    clear_list(&l);
    return status;
}

/* The order of all ops: stage by stage, ways out, what is late. */
static still_status renumber(arranging *a, const uint32_t *first, uint32_t n_first,
                             const uint32_t *second, uint32_t n_second)
{
    still_order *o = a->o;
    uint32_t *at = still_calloc((size_t)o->n_ops + 1, sizeof at[0]), n = 0;
    still_op *sorted = still_calloc((size_t)o->n_ops + 1, sizeof sorted[0]);
    bool good = at != NULL && sorted != NULL;
    for (uint32_t i = 0; i < n_first && good; i++) at[first[i]] = n++;
    for (uint32_t i = 0; i < o->n_ops && good; i++)
        if (o->ops[i].outway && !o->ops[i].between && (!o->relief_stage || o->ops[i].recovers))
            at[i] = n++;
    for (uint32_t i = 0; i < n_second && good; i++) at[second[i]] = n++;
    for (uint32_t i = 0; i < o->n_ops && good; i++)
        if (o->ops[i].outway && !o->ops[i].between && o->relief_stage && !o->ops[i].recovers)
            at[i] = n++;
    for (uint32_t i = 0; i < o->n_ops && good; i++)
        if (o->ops[i].outway && o->ops[i].between) at[i] = n++;
    /* A joint without a bleed of its own on its live side first, while others still show it (I2).
     */
    for (int bled = 0; bled < 2; bled++)
        for (uint32_t i = 0; i < o->n_ops && good; i++)
            if (o->ops[i].late && o->ops[i].bled == (bled == 1)) at[i] = n++;
    if (good) {
        for (uint32_t i = 0; i < o->n_ops; i++) sorted[at[i]] = o->ops[i];
        memcpy(o->ops, sorted, o->n_ops * sizeof sorted[0]);
        for (uint32_t i = 0; i < o->n_ops; i++) o->ops[i].tag = i + 1;
        for (uint32_t i = 0; i < o->n_locks; i++) o->locks[i] = at[o->locks[i]];
        for (uint32_t i = 0; i < o->n_back; i++) o->back[i] = at[o->back[i]];
        for (size_t i = 0; i < a->n_breaches; i++) {
            still_on_the_way *b = &a->breaches[i];
            b->from = at[b->from] + 1;
            b->to = b->to == STILL_NONE ? 0 : at[b->to] + 1;
        }
    }
    still_free(at);
    still_free(sorted);
    return good ? STILL_OK : STILL_E_NOMEM;
}

still_status still_order_arrange(still_order *o, still_arena *arena, const still_order_given *given)
{
    arranging a = {.o = o, .arena = arena, .given = given};
    uint32_t n_first = 0, n_second = 0;
    uint32_t *first = still_calloc((size_t)o->n_ops + 1, sizeof first[0]);
    uint32_t *second = still_calloc((size_t)o->n_ops + 1, sizeof second[0]);
    o->complete = true;
    o->locks = STILL_ARENA_NEW(arena, o->n_ops, uint32_t);
    o->back = STILL_ARENA_NEW(arena, o->n_ops, uint32_t);
    still_status status = still_watch_begin(&a.watch, o, given);
    if (!first || !second || !o->locks || !o->back) status = STILL_E_NOMEM;
    if (status == STILL_OK) status = arrange_stage(&a, false, first, &n_first);
    if (status == STILL_OK && (o->staged || o->relief_stage))
        status = arrange_stage(&a, true, second, &n_second);
    if (status == STILL_OK) status = arrange_back(&a);
    if (status == STILL_OK) status = renumber(&a, first, n_first, second, n_second);
    still_on_the_way *kept = STILL_ARENA_NEW(arena, a.n_breaches, still_on_the_way);
    if (kept == NULL) status = STILL_E_NOMEM;
    for (size_t i = 0; i < a.n_breaches && status == STILL_OK; i++) kept[i] = a.breaches[i];
    o->breaches = kept;
    o->n_breaches = a.n_breaches;
    still_watch_end(&a.watch);
    still_free(a.breaches);
    still_free(first);
    still_free(second);
    return status;
}
