/* Breaches by name: along an order, from which move on and until which (P3). */
#include "watch.h"

#include "alloc.h"

#include <string.h>

/* A breach that goes on is one entry. */
static bool same(const still_on_the_way *a, uint8_t rule, uint32_t comp, const still_shut_in *s)
{
    if (a->rule != rule || a->comp != comp) return false;
    if (s == NULL || a->segment == NULL) return s == a->segment;
    return s->n_ids == a->segment->n_ids &&
           memcmp(s->ids, a->segment->ids, s->n_ids * sizeof s->ids[0]) == 0;
}

typedef struct walk {
    still_watch *watch;
    still_arena *arena;
    still_on_the_way **list;
    size_t *n, *cap;
    size_t first; /* of this list of moves */
    uint32_t op;  /* the move just made */
} walk;

static bool meet(const walk *w, uint8_t rule, uint32_t comp, const still_shut_in *segment,
                 const still_shut_in *told)
{
    for (size_t i = w->first; i < *w->n; i++) {
        still_on_the_way *at = &(*w->list)[i];
        if (at->to == w->op && same(at, rule, comp, segment)) {
            at->to = STILL_NONE;
            return true;
        }
    }
    if (!still_grow(w->list, w->cap, *w->n + 1, sizeof **w->list)) return false;
    (*w->list)[(*w->n)++] = (still_on_the_way){.rule = rule,
                                               .back = w->watch->back,
                                               .comp = comp,
                                               .segment = segment,
                                               .from = w->op,
                                               .to = STILL_NONE,
                                               .told = told};
    return true;
}

/* What is shut in at the end and holds all of it: it is told there. NULL = nothing. */
static const still_shut_in *told_at_end(const still_watch *w, const still_shut_in *s)
{
    for (size_t i = 0; i < w->given->n_shut; i++) {
        const still_shut_in *end = &w->given->shut[i];
        if (end->covered || end->stays_below) continue;
        uint32_t k = 0, found = 0;
        for (uint32_t j = 0; j < end->n_ids; j++) {
            while (k < s->n_ids && s->ids[k] < end->ids[j]) k++;
            found += k < s->n_ids && s->ids[k] == end->ids[j];
        }
        if (found == s->n_ids) return end;
    }
    return NULL;
}

/* On the way back: liquid can have come to it. */
static bool is_wet(const still_watch *w, const still_shut_in *s)
{
    const still_plant *plant = w->order->plant;
    for (uint32_t i = 0; i < s->n_ids && w->back; i++)
        if (plant->comps[s->ids[i]].cls == STILL_CLASS_SPOOL && w->wet[plant->comps[s->ids[i]].a])
            return true;
    return !w->back;
}

static still_status look(const walk *w)
{
    still_watch *watch = w->watch;
    const still_order *o = watch->order;
    still_relief after = {0};
    still_shut_in *shut = NULL;
    uint32_t *lost = NULL;
    size_t n_shut = 0, n_lost = 0;
    still_status status = still_relief_build(&after, o->plant, o->state, watch->held);
    bool any = false;
    if (status == STILL_OK)
        status = still_shut_in_any(&any, watch->given->before, &after, watch->moved);
    if (status == STILL_OK && any)
        status = still_shut_in_find(&shut, &n_shut, w->arena, watch->given->before, &after,
                                    watch->moved, watch->given->work_port, watch->given->ambient_K);
    if (status == STILL_OK)
        status = still_relief_lost(&lost, &n_lost, w->arena, watch->given->before, &after);
    still_relief_clear(&after);
    bool good = status == STILL_OK;
    /* On the way back there is nothing inside until a point is open. */
    if (watch->back && !still_watch_lets_in(watch)) n_lost = n_shut = 0;
    for (uint32_t i = 0; i < watch->n_weak && good && !watch->back; i++) {
        uint32_t comp = watch->machines.comps[watch->weak[i]];
        if (!watch->stopped[comp] &&
            still_machines_lost(&watch->machines, watch->weak[i], watch->held, watch->stopped) != 0)
            good = meet(w, STILL_BREAKS_P9, comp, NULL, NULL);
    }
    for (size_t i = 0; i < n_lost && good; i++)
        good = meet(w, STILL_BREAKS_D4, lost[i], NULL, NULL);
    for (size_t i = 0; i < n_shut && good; i++) {
        const still_shut_in *told = told_at_end(watch, &shut[i]);
        if (shut[i].covered || shut[i].stays_below || !is_wet(watch, &shut[i])) continue;
        if (told == NULL || !watch->back)
            good = meet(w, STILL_BREAKS_L6, STILL_NONE, &shut[i], told);
    }
    return good ? STILL_OK : status != STILL_OK ? status : STILL_E_NOMEM;
}

still_status still_watch_walk(still_watch *watch, still_arena *arena, const uint32_t *moves,
                              still_on_the_way **list, size_t *n, size_t *cap)
{
    walk w = {.watch = watch,
              .arena = arena,
              .list = list,
              .n = n,
              .cap = cap,
              .first = watch->back ? *n : 0};
    uint8_t *done = still_calloc((size_t)watch->n_moves + 1, 1);
    still_status status = done != NULL ? STILL_OK : STILL_E_NOMEM;
    for (uint32_t i = 0; i < watch->n_moves && status == STILL_OK; i++) {
        w.op = watch->moves[moves[i]];
        done[moves[i]] = 1;
        still_watch_lay(watch, done);
        /* What stood so up to now may end with this move. */
        for (size_t k = w.first; k < *n; k++)
            if ((*list)[k].to == STILL_NONE) (*list)[k].to = w.op;
        status = look(&w);
    }
    still_free(done);
    return status;
}
