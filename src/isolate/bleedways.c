/* What a bleed asks of labels, as far as a cut can say it.
 * Problem: a space without a bleed is found only when a labelling has it, and many such spaces side
 * by side multiply the cases. Method: cells and the doors between them; one search in depth from
 * all outlets tells for each cell through which doors it can get to one without coming back to
 * itself (Tarjan 1972). Why it is right: docs/METHOD.md, 3.4. */
#include "bleedways.h"

#include "alloc.h"

#include <string.h>

/* One search in depth, all outlets taken as one root. */
typedef struct descent {
    const still_bleed_ways *ways;
    const still_case *c;
    const uint8_t *never;
    uint32_t *order, *low; /* by cell: when it was met, from 1; 0 = not */
    uint32_t *parent;      /* by cell */
    uint32_t *next;        /* by cell: the door to look at next */
    uint32_t *stack;
    uint32_t clock;
    bool alone; /* from one outlet only: the others are cells like any */
} descent;

static bool may_lie_between(const descent *s, uint32_t cell)
{
    uint32_t p = s->ways->piece[cell];
    return s->c->low[p] <= 1 && s->c->high[p] >= 1 && !s->c->hole[p] &&
           s->c->life[p] != STILL_LIFE_DEAD && !s->never[p];
}

static bool open_door(const descent *s, const still_bleed_door *door)
{
    const still_device *d = &s->ways->layers->zone->devices[door->device];
    uint8_t set = s->c->extra[door->device];
    if (!may_lie_between(s, door->cell)) return false;
    if (set == 0) return true;
    return d->n == 3 &&
           (d->joined[set - 1] >> door->near & d->joined[set - 1] >> door->far & 1) != 0;
}

static void meet(descent *s, uint32_t cell, uint32_t parent, size_t *n)
{
    s->order[cell] = ++s->clock;
    s->low[cell] = s->ways->bled[cell] && !s->alone ? 0 : s->order[cell];
    s->parent[cell] = parent;
    s->next[cell] = s->ways->door0[cell];
    s->stack[(*n)++] = cell;
}

static void descend(descent *s, uint32_t root)
{
    const still_bleed_ways *w = s->ways;
    size_t n = 0;
    meet(s, root, STILL_NONE, &n);
    while (n > 0) {
        uint32_t cell = s->stack[n - 1];
        if (s->next[cell] == w->door0[cell + 1]) {
            n--;
            uint32_t up = s->parent[cell];
            if (up != STILL_NONE && s->low[cell] < s->low[up]) s->low[up] = s->low[cell];
            continue;
        }
        const still_bleed_door *door = &w->doors[s->next[cell]++];
        if (!open_door(s, door)) continue;
        if (s->order[door->cell] == 0)
            meet(s, door->cell, cell, &n);
        else if (door->cell != s->parent[cell] && s->order[door->cell] < s->low[cell])
            s->low[cell] = s->order[door->cell];
    }
}

static void descend_all(descent *s)
{
    const still_bleed_ways *w = s->ways;
    memset(s->order, 0, w->n_cells * sizeof s->order[0]);
    s->clock = 0;
    for (uint32_t k = 0; k < w->n_cells; k++)
        if (w->bled[k] && s->order[k] == 0 && may_lie_between(s, k)) descend(s, k);
}

/* The one piece through which all ways of a cell lead on, or STILL_NONE. A door leads on when what
 * is behind it gets to an outlet without this cell. */
static uint32_t only_way(const descent *s, uint32_t cell)
{
    const still_bleed_ways *w = s->ways;
    uint32_t with = STILL_NONE;
    for (uint32_t i = w->door0[cell]; i < w->door0[cell + 1]; i++) {
        const still_bleed_door *door = &w->doors[i];
        if (!open_door(s, door)) continue;
        if (s->parent[door->cell] == cell && s->low[door->cell] >= s->order[cell]) continue;
        if (with != STILL_NONE && with != w->piece[door->cell]) return STILL_NONE;
        with = w->piece[door->cell];
    }
    return with == w->piece[cell] ? STILL_NONE : with;
}

/* A cell and its outlet: all that every way between them passes lies between, too. */
static void force_way(descent *s, const still_serve *serve, still_bleed_ties *t)
{
    const still_bleed_ways *w = s->ways;
    memset(s->order, 0, w->n_cells * sizeof s->order[0]);
    s->clock = 0;
    s->alone = true;
    if (may_lie_between(s, serve->outlet)) descend(s, serve->outlet);
    s->alone = false;
    if (s->order[serve->cell] == 0) {
        t->none = true;
        return;
    }
    t->forced[w->piece[serve->cell]] = t->forced[w->piece[serve->outlet]] = 1;
    for (uint32_t k = serve->cell; k != serve->outlet; k = s->parent[k]) {
        uint32_t up = s->parent[k];
        if (s->low[k] >= s->order[up]) t->forced[w->piece[up]] = 1;
    }
}

static still_status list_ties(still_bleed_ties *t, const descent *s)
{
    const still_bleed_ways *w = s->ways;
    for (uint32_t k = 0; k < w->n_cells; k++) {
        if (!w->asked[k] || w->bled[k] || !may_lie_between(s, k)) continue;
        uint32_t with = only_way(s, k);
        if (with == STILL_NONE) continue;
        if (!still_grow(&t->ties, &t->ties_cap, t->n_ties + 1, sizeof t->ties[0]))
            return STILL_E_NOMEM;
        t->ties[t->n_ties++] = (still_bleed_tie){w->piece[k], with, !t->mortal[w->piece[k]]};
    }
    return STILL_OK;
}

/* --- spaces that nothing stands behind ---------------------------------------------------------
 */

/* The piece may lie between, and all around it may have label 1 at most. */
static bool may_be_shut_in(const still_bleed_ways *w, const still_case *c, const uint8_t *forced,
                           uint32_t p)
{
    const still_zone *zone = w->layers->zone;
    const still_piece *piece = &zone->pieces[p];
    if (piece->work || !still_in_play(piece) || c->low[p] > 1 || c->high[p] < 1 || c->hole[p] ||
        c->life[p] == STILL_LIFE_LIVE || forced[p])
        return false;
    for (uint32_t j = 0; j < piece->n_devs; j++) {
        const still_device *d = &zone->devices[zone->piece_devs[piece->dev0 + j]];
        for (int k = 0; k < d->n; k++) {
            uint32_t q = d->piece[k];
            if (q == STILL_NONE || zone->pieces[q].top == UINT8_MAX) continue;
            if (zone->pieces[q].wall) return false;
            if (zone->pieces[q].work) continue;
            if (c->low[q] == 2 || (c->low[q] == 1 && c->hole[q])) return false;
        }
    }
    return true;
}

bool still_bleed_reason(const still_bleed_ways *w, const still_case *c, uint32_t piece)
{
    if (c->life[piece] == STILL_LIFE_DEAD) return true;
    for (uint32_t i = w->feed0[piece]; i < w->feed0[piece + 1]; i++)
        if (!c->locked[w->feeds[i]]) return true;
    return false;
}

/* Pieces that may lie in a space between which nothing stands behind, in the best choice: only a
 * space with a feed, since any other would do as well on the side of the work, with points less. */
static void find_mortal(const still_bleed_ways *w, const still_case *c, const uint8_t *forced,
                        uint8_t *mortal, uint32_t *stack)
{
    const still_zone *zone = w->layers->zone;
    bool any = w->layers->zone->asked->bleed_work;
    for (uint32_t p = 0; p < zone->n_pieces; p++)
        mortal[p] = may_be_shut_in(w, c, forced, p) ? 1 : 0;
    /* From those with a feed: 2. */
    size_t n = 0;
    for (uint32_t p = 0; p < zone->n_pieces; p++)
        if (mortal[p] == 1 && (any || still_bleed_reason(w, c, p))) {
            mortal[p] = 2;
            stack[n++] = p;
        }
    while (n > 0) {
        const still_piece *piece = &zone->pieces[stack[--n]];
        for (uint32_t j = 0; j < piece->n_devs; j++) {
            const still_device *d = &zone->devices[zone->piece_devs[piece->dev0 + j]];
            for (int k = 0; k < d->n; k++) {
                uint32_t q = d->piece[k];
                if (q == STILL_NONE || mortal[q] != 1) continue;
                mortal[q] = 2;
                stack[n++] = q;
            }
        }
    }
    for (uint32_t p = 0; p < zone->n_pieces; p++) mortal[p] = mortal[p] == 2;
}

still_status still_bleed_ties_find(still_bleed_ties *t, const still_bleed_ways *w,
                                   const still_case *c)
{
    size_t n_pieces = w->layers->zone->n_pieces;
    *t = (still_bleed_ties){.never = still_calloc(n_pieces + 1, 1),
                            .mortal = still_calloc(n_pieces + 1, 1),
                            .forced = still_calloc(n_pieces + 1, 1)};
    uint32_t *room = still_calloc(5 * (size_t)w->n_cells + n_pieces + 1, sizeof room[0]);
    still_status status = STILL_E_NOMEM;
    if (t->never == NULL || t->mortal == NULL || t->forced == NULL || room == NULL) goto out;
    descent s = {.ways = w, .c = c, .never = t->never, .order = room};
    s.low = s.order + w->n_cells;
    s.parent = s.low + w->n_cells;
    s.next = s.parent + w->n_cells;
    s.stack = s.next + w->n_cells;
    for (bool again = true; again;) {
        again = false;
        descend_all(&s);
        for (uint32_t k = 0; k < w->n_cells; k++) {
            if (!w->asked[k] || s.order[k] != 0 || !may_lie_between(&s, k)) continue;
            t->never[w->piece[k]] = 1;
            again = true;
        }
    }
    for (uint32_t i = 0; i < c->n_serves; i++) force_way(&s, &c->serves[i], t);
    find_mortal(w, c, t->forced, t->mortal, s.stack + w->n_cells);
    descend_all(&s);
    status = list_ties(t, &s);
out:
    still_free(room);
    return status;
}

still_status still_bleed_ways_reach(const still_bleed_ways *w, const still_case *c, uint32_t cell,
                                    uint32_t *parent)
{
    uint8_t *never = still_calloc(w->layers->zone->n_pieces + 1, 1);
    uint32_t *room = still_calloc(5 * (size_t)w->n_cells + 1, sizeof room[0]);
    still_status status = STILL_E_NOMEM;
    if (never != NULL && room != NULL) {
        descent s = {.ways = w, .c = c, .never = never, .order = room, .alone = true};
        s.low = s.order + w->n_cells;
        s.parent = s.low + w->n_cells;
        s.next = s.parent + w->n_cells;
        s.stack = s.next + w->n_cells;
        if (may_lie_between(&s, cell)) descend(&s, cell);
        for (uint32_t k = 0; k < w->n_cells; k++)
            parent[k] = s.order[k] == 0 ? STILL_NONE : k == cell ? k : s.parent[k];
        status = STILL_OK;
    }
    still_free(never);
    still_free(room);
    return status;
}

void still_bleed_ties_clear(still_bleed_ties *t)
{
    still_free(t->never);
    still_free(t->mortal);
    still_free(t->forced);
    still_free(t->ties);
    *t = (still_bleed_ties){0};
}
