/* Which component of an older revision is which of the new one.
 * Problem: ids are kept from revision to revision, mostly; some are changed, and some are given to
 * something else. Method: (1) equal id, class and kind, and at least one thing joined to it at the
 * same port that is the same too, or, but for pipes, a pipe that was not there before: the largest
 * such pairing, by taking away what has no such support until all have it. (2) What is left on both
 * sides is paired where class, kind, size and all that is joined to it, port by port, agree (a
 * neighbour that is itself not found again agrees with any such), at least one neighbour is paired,
 * and no other on either side fits as well; again, as long as that pairs more. Why it is right: (1)
 * needs no guess beyond the id; an id that was given to a thing at another place is not taken for
 * the old one. (2) is a guess, and is listed as one. Cost: (1) near linear; (2) rounds times what
 * is left, sorted. */
#include "since.h"

#include "alloc.h"
#include "strbuf.h"

#include <stdlib.h>
#include <string.h>

typedef struct work {
    const still_plant *old, *now;
    still_same *same;
    uint32_t *stack;
    size_t n_stack, stack_cap;
} work;

static bool same_name(const still_plant *a, uint32_t port_a, const still_plant *b, uint32_t port_b)
{
    return strcmp(still_text(a, still_port_name(a, port_a)),
                  still_text(b, still_port_name(b, port_b))) == 0;
}

/* Both ports belong to what is the same, and have the same name. */
static bool same_port(const work *w, uint32_t port_old, uint32_t port_now)
{
    return w->same->now_of[w->old->ports[port_old].comp] == w->now->ports[port_now].comp &&
           same_name(w->old, port_old, w->now, port_now);
}

static bool supported(const work *w, uint32_t o, uint32_t n)
{
    const still_comp *a = &w->old->comps[o], *b = &w->now->comps[n];
    if (a->cls == STILL_CLASS_SPOOL)
        return same_port(w, a->a, b->a) || same_port(w, a->b, b->b) || same_port(w, a->a, b->b) ||
               same_port(w, a->b, b->a);
    bool joined = false;
    for (uint32_t i = 0; i < b->b; i++) {
        uint32_t spool = w->now->ports[b->a + i].spool;
        if (spool != STILL_NONE &&
            still_plant_find(w->old, still_id_of(w->now, spool)).v == STILL_NONE)
            return true;
    }
    for (uint32_t i = 0; i < a->b; i++) {
        uint32_t spool = w->old->ports[a->a + i].spool;
        if (spool == STILL_NONE) continue;
        joined = true;
        uint32_t there = w->same->now_of[spool];
        if (there == STILL_NONE) continue;
        const still_comp *s = &w->now->comps[there];
        for (uint32_t k = 0; k < 2; k++) {
            uint32_t port = k == 0 ? s->a : s->b;
            if (w->now->ports[port].comp == n && same_name(w->old, a->a + i, w->now, port))
                return true;
        }
    }
    return !joined;
}

static bool push(work *w, uint32_t o)
{
    if (!still_grow(&w->stack, &w->stack_cap, w->n_stack + 1, sizeof w->stack[0])) return false;
    w->stack[w->n_stack++] = o;
    return true;
}

static bool push_neighbours(work *w, uint32_t o)
{
    const still_comp *c = &w->old->comps[o];
    if (c->cls == STILL_CLASS_SPOOL)
        return push(w, w->old->ports[c->a].comp) && push(w, w->old->ports[c->b].comp);
    for (uint32_t i = 0; i < c->b; i++)
        if (w->old->ports[c->a + i].spool != STILL_NONE && !push(w, w->old->ports[c->a + i].spool))
            return false;
    return true;
}

static bool by_id(work *w)
{
    for (uint32_t o = 0; o < w->old->n_comps; o++) {
        const still_comp *c = &w->old->comps[o];
        uint32_t n = still_plant_find(w->now, still_id_of(w->old, o)).v;
        if (n == STILL_NONE || w->now->comps[n].cls != c->cls || w->now->comps[n].kind != c->kind)
            continue;
        w->same->now_of[o] = n;
        w->same->old_of[n] = o;
        if (!push(w, o)) return false;
    }
    while (w->n_stack > 0) {
        uint32_t o = w->stack[--w->n_stack], n = w->same->now_of[o];
        if (n == STILL_NONE || supported(w, o, n)) continue;
        w->same->now_of[o] = STILL_NONE;
        w->same->old_of[n] = STILL_NONE;
        if (!push_neighbours(w, o)) return false;
    }
    return true;
}

/* ---- what has another id ---- */

/* What is left on one side, and all by which it can be told, as text. */
typedef struct stranger {
    still_buf key;
    uint32_t comp;
    bool old;
} stranger;

typedef struct joint {
    const char *port, *at; /* own port, or ""; port of the neighbour, or "" */
    uint32_t comp;         /* neighbour's number in the new plant, STILL_NONE = not found again */
    bool open;             /* nothing is joined here */
} joint;

static int by_text(const void *pa, const void *pb)
{
    const joint *a = pa, *b = pb;
    int c = strcmp(a->port, b->port);
    if (c == 0) c = strcmp(a->at, b->at);
    if (c != 0) return c;
    return a->comp < b->comp ? -1 : a->comp > b->comp;
}

static uint32_t number_now(const work *w, bool old, uint32_t comp)
{
    if (old) return w->same->now_of[comp];
    return w->same->old_of[comp] == STILL_NONE ? STILL_NONE : comp;
}

static joint end_of(const work *w, bool old, uint32_t port)
{
    const still_plant *p = old ? w->old : w->now;
    return (joint){"", still_text(p, still_port_name(p, port)),
                   number_now(w, old, p->ports[port].comp), false};
}

/* Things joined to a component; room for its ports or two. @return how many */
static size_t joints_of(const work *w, bool old, uint32_t comp, joint *joints)
{
    const still_plant *p = old ? w->old : w->now;
    const still_comp *c = &p->comps[comp];
    if (c->cls == STILL_CLASS_SPOOL) {
        joints[0] = end_of(w, old, c->a);
        joints[1] = end_of(w, old, c->b);
        return 2;
    }
    for (uint32_t i = 0; i < c->b; i++) {
        uint32_t spool = p->ports[c->a + i].spool;
        joints[i] = (joint){still_text(p, still_port_name(p, c->a + i)), "",
                            spool == STILL_NONE ? STILL_NONE : number_now(w, old, spool),
                            spool == STILL_NONE};
    }
    return c->b;
}

/* @return false when memory is out; the key stays empty where no neighbour is paired */
static bool make_key(const work *w, stranger *s, joint *joints)
{
    const still_plant *p = s->old ? w->old : w->now;
    const still_comp *c = &p->comps[s->comp];
    size_t n = joints_of(w, s->old, s->comp, joints);
    bool anchored = false;
    for (size_t i = 0; i < n; i++) anchored = anchored || joints[i].comp != STILL_NONE;
    if (!anchored) return true;
    if (n > 1) qsort(joints, n, sizeof joints[0], by_text);
    still_buf_printf(&s->key, "%u %u %s", (unsigned)c->cls, (unsigned)c->kind,
                     still_comp_size(p, s->comp));
    for (size_t i = 0; i < n; i++) {
        still_buf_printf(&s->key, ",%s.", joints[i].port);
        if (joints[i].comp != STILL_NONE)
            still_buf_printf(&s->key, "%lu.%s", (unsigned long)joints[i].comp, joints[i].at);
        else
            still_buf_char(&s->key, joints[i].open ? '-' : '?');
    }
    return !s->key.failed;
}

static int by_key(const void *pa, const void *pb)
{
    const stranger *a = pa, *b = pb;
    int c = strcmp(a->key.text != NULL ? a->key.text : "", b->key.text != NULL ? b->key.text : "");
    if (c != 0) return c;
    return a->old != b->old ? (a->old ? -1 : 1) : a->comp < b->comp ? -1 : a->comp > b->comp;
}

/* Pair what has a key that exactly one on each side has. @return how many */
static size_t pair_up(work *w, const stranger *s, size_t n)
{
    size_t paired = 0;
    for (size_t i = 0, end; i < n; i = end) {
        for (end = i + 1; end < n && s[i].key.text != NULL && s[end].key.text != NULL &&
                          strcmp(s[i].key.text, s[end].key.text) == 0;)
            end++;
        if (s[i].key.text == NULL || end != i + 2 || s[i].old == s[i + 1].old) continue;
        w->same->now_of[s[i].comp] = s[i + 1].comp;
        w->same->old_of[s[i + 1].comp] = s[i].comp;
        w->same->guessed[s[i].comp] = 1;
        paired++;
    }
    return paired;
}

static uint32_t most_ports(const still_plant *p)
{
    uint32_t most = 2;
    for (uint32_t c = 0; c < p->n_comps; c++)
        if (p->comps[c].cls != STILL_CLASS_SPOOL && p->comps[c].b > most) most = p->comps[c].b;
    return most;
}

static size_t gather(const work *w, stranger *s)
{
    size_t n = 0;
    for (uint32_t o = 0; o < w->old->n_comps; o++)
        if (w->same->now_of[o] == STILL_NONE) s[n++] = (stranger){STILL_BUF_INIT, o, true};
    for (uint32_t c = 0; c < w->now->n_comps; c++)
        if (w->same->old_of[c] == STILL_NONE) s[n++] = (stranger){STILL_BUF_INIT, c, false};
    return n;
}

static bool by_structure(work *w)
{
    bool good = false;
    uint32_t most = most_ports(w->old), most_now = most_ports(w->now);
    joint *joints = still_calloc(most > most_now ? most : most_now, sizeof joints[0]);
    stranger *s = still_calloc((size_t)w->old->n_comps + w->now->n_comps, sizeof s[0]);
    size_t paired = 1;
    if (joints == NULL || s == NULL) goto out;
    while (paired > 0) {
        size_t n = gather(w, s);
        good = true;
        for (size_t i = 0; i < n && good; i++) good = make_key(w, &s[i], joints);
        if (good && n > 1) qsort(s, n, sizeof s[0], by_key);
        paired = good ? pair_up(w, s, n) : 0;
        for (size_t i = 0; i < n; i++) still_buf_clear(&s[i].key);
    }
out:
    still_free(joints);
    still_free(s);
    return good;
}

still_status still_same_find(still_same *same, const still_plant *old, const still_plant *now)
{
    work w = {.old = old, .now = now, .same = same};
    *same = (still_same){still_calloc(old->n_comps, sizeof same->now_of[0]),
                         still_calloc(now->n_comps, sizeof same->old_of[0]),
                         still_calloc(old->n_comps, 1)};
    if (same->now_of == NULL || same->old_of == NULL || same->guessed == NULL) return STILL_E_NOMEM;
    for (uint32_t o = 0; o < old->n_comps; o++) same->now_of[o] = STILL_NONE;
    for (uint32_t n = 0; n < now->n_comps; n++) same->old_of[n] = STILL_NONE;
    bool good = by_id(&w) && by_structure(&w);
    still_free(w.stack);
    return good ? STILL_OK : STILL_E_NOMEM;
}

void still_same_clear(still_same *same)
{
    still_free(same->now_of);
    still_free(same->old_of);
    still_free(same->guessed);
    *same = (still_same){0};
}
