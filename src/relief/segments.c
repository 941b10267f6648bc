/* Every piece that can be shut in.
 * Problem: for each piece of the plant, is it covered in every state of all devices; who shuts it
 * in; with which numbers.
 * Method: pieces and cover are computed three times over the same pieces (relief.h), with fewer and
 * fewer hand valves open: as in normal operation, only what stands open but for service, only
 * what is sealed open. A piece without cover in the last has a state without cover, and the
 * first of the three in which it finds none says who shuts it in. Why these states are enough, and
 * what they do not see: docs/METHOD.md, 5 (L5).
 * Cost: near linear in the plant; some 100 microseconds of numbers a piece, kept for pieces alike.
 */
#include "segments.h"

#include "alloc.h"

#include <math.h>
#include <string.h>

typedef struct work {
    const still_plant *plant;
    const still_state *state;
    still_arena *arena;
    double ambient_K;
    still_relief normal, standing, sealed;
    uint32_t *slot; /* by piece: 1 + number of its segment, 0 = none */
    still_segments *out;
    uint32_t *last; /* by segment: device listed last, so that each is listed once */
} work;

/* What ends a piece (L1). */
static bool ends_piece(const still_comp *c)
{
    return c->cls == STILL_CLASS_VALVE || c->cls == STILL_CLASS_BLIND ||
           c->cls == STILL_CLASS_PUMP || c->cls == STILL_CLASS_COMPRESSOR;
}

static still_piece_facts *at_port(const work *w, uint32_t port)
{
    uint32_t slot = w->slot[w->sealed.piece_of_port[port]];
    return slot == 0 ? NULL : &w->out->items[slot - 1];
}

static uint32_t number_of(const work *w, const still_piece_facts *f)
{
    return (uint32_t)(f - w->out->items);
}

/* One walk over the plant: counts in the first round, fills in the second. */
typedef void (*meet)(work *w, still_piece_facts *f, uint32_t item);

static void count_id(work *w, still_piece_facts *f, uint32_t comp)
{
    (void)w, (void)comp;
    f->n_ids++;
}
static void fill_id(work *w, still_piece_facts *f, uint32_t comp)
{
    f->ids[f->n_ids++] = comp;
    if (f->lowest == STILL_NONE ||
        strcmp(still_id_of(w->plant, comp), still_id_of(w->plant, f->lowest)) < 0)
        f->lowest = comp;
}
static void count_closing(work *w, still_piece_facts *f, uint32_t comp)
{
    (void)w, (void)comp;
    f->n_closed_by++;
}
static void fill_closing(work *w, still_piece_facts *f, uint32_t comp)
{
    (void)w;
    f->closed_by[f->n_closed_by++] = comp;
}
static void count_side(work *w, still_piece_facts *f, uint32_t side)
{
    (void)w, (void)side;
    f->n_sides++;
}
static void fill_side(work *w, still_piece_facts *f, uint32_t side)
{
    (void)w;
    f->sides[f->n_sides++] = side;
}

static void walk(work *w, meet id, meet closing, meet side)
{
    const still_plant *plant = w->plant;
    memset(w->last, 0xFF, (size_t)w->out->n * sizeof w->last[0]);
    for (uint32_t comp = 0; comp < plant->n_comps; comp++) {
        const still_comp *c = &plant->comps[comp];
        if (c->cls == STILL_CLASS_SPOOL) {
            still_piece_facts *f = at_port(w, c->a);
            if (f != NULL) id(w, f, comp);
            continue;
        }
        for (uint32_t i = 0; i < c->b; i++) {
            still_piece_facts *f = at_port(w, c->a + i);
            uint32_t s = still_port_side(plant, c->a + i);
            if (f != NULL && still_relieves(c) && i == 0) f->relieved = true;
            if (f == NULL || (still_relieves(c) && i == 0)) continue;
            bool first = w->last[number_of(w, f)] != comp;
            w->last[number_of(w, f)] = comp;
            if (first) (ends_piece(c) ? closing : id)(w, f, comp);
            if (c->cls == STILL_CLASS_EXCHANGER && s != STILL_NONE &&
                (i == 0 || still_port_side(plant, c->a + i - 1) != s))
                side(w, f, s);
        }
    }
}

/* Pieces with a spool get a slot, in the order of their first port. */
static bool make_slots(work *w)
{
    const still_plant *plant = w->plant;
    w->slot = still_calloc(w->sealed.n_pieces, sizeof w->slot[0]);
    if (w->slot == NULL) return false;
    for (uint32_t c = 0; c < plant->n_comps; c++)
        if (plant->comps[c].cls == STILL_CLASS_SPOOL)
            w->slot[w->sealed.piece_of_port[plant->comps[c].a]] = 1;
    uint32_t n = 0;
    for (uint32_t p = 0; p < w->sealed.n_pieces; p++)
        if (w->slot[p] != 0) w->slot[p] = ++n;
    w->out->n = n;
    w->out->items = STILL_ARENA_NEW(w->arena, n, still_piece_facts);
    w->last = still_calloc(n, sizeof w->last[0]);
    return w->out->items != NULL && w->last != NULL;
}

static bool gather(work *w)
{
    walk(w, count_id, count_closing, count_side);
    for (uint32_t i = 0; i < w->out->n; i++) {
        still_piece_facts *f = &w->out->items[i];
        f->ids = STILL_ARENA_NEW(w->arena, f->n_ids, uint32_t);
        f->closed_by = STILL_ARENA_NEW(w->arena, f->n_closed_by, uint32_t);
        f->sides = STILL_ARENA_NEW(w->arena, f->n_sides, uint32_t);
        if (f->ids == NULL || f->closed_by == NULL || f->sides == NULL) return false;
        f->n_ids = f->n_closed_by = f->n_sides = 0;
        f->lowest = f->weakest = f->stronger = f->stronger_by = STILL_NONE;
    }
    walk(w, fill_id, fill_closing, fill_side);
    return true;
}

static bool push(work *w, uint32_t **items, uint32_t *n, uint32_t comp)
{
    for (uint32_t i = 0; i < *n; i++)
        if ((*items)[i] == comp) return true;
    if ((*n & (*n - 1)) == 0) { /* room for the next power of two */
        uint32_t *more = STILL_ARENA_NEW(w->arena, *n == 0 ? 1 : (size_t)*n * 2, uint32_t);
        if (more == NULL) return false;
        if (*n > 0) memcpy(more, *items, *n * sizeof more[0]);
        *items = more;
    }
    (*items)[(*n)++] = comp;
    return true;
}

/* Following one piece, and what was seen of its chain. */
typedef struct following {
    work *w;
    still_piece_facts *f;
    uint32_t *seen, n_seen;
    bool failed;
} following;

static bool seen(void *data, uint32_t what)
{
    following *g = data;
    uint32_t before = g->n_seen;
    if (!push(g->w, &g->seen, &g->n_seen, what)) g->failed = true;
    return g->failed || g->n_seen == before;
}

static bool meet_way(void *data, uint32_t comp, bool cover)
{
    following *g = data;
    return cover ? push(g->w, &g->f->covers, &g->f->n_covers, comp)
                 : push(g->w, &g->f->conditions, &g->f->n_conditions, comp);
}

static bool follow(work *w, still_piece_facts *f, uint32_t piece)
{
    following g = {.w = w, .f = f};
    const still_follower follower = {&g, seen, meet_way};
    return still_relief_follow(&w->sealed, piece, &follower) && !g.failed;
}

/* All ends but the one device are caps or capped outlets. */
static bool is_stub(const work *w, const still_piece_facts *f)
{
    if (f->n_closed_by != 1 || f->at_limit || f->relieved) return false;
    for (uint32_t i = 0; i < f->n_ids; i++) {
        const still_comp *c = &w->plant->comps[f->ids[i]];
        if (c->cls == STILL_CLASS_LIMIT) return false; /* dead or not: no cap */
        if (c->cls == STILL_CLASS_OUTLET && c->fitted == STILL_FITTED_OPEN) return false;
    }
    return true;
}

static bool open_end(const work *w, uint32_t piece, uint32_t comp)
{
    const still_plant *plant = w->plant;
    const still_comp *c = &plant->comps[comp];
    if (c->cls == STILL_CLASS_LIMIT) return c->dead != STILL_YESNO_YES;
    if (c->cls == STILL_CLASS_SPOOL || c->cls == STILL_CLASS_CAP) return false;
    for (uint32_t i = 0; i < c->b; i++)
        if (plant->ports[c->a + i].spool == STILL_NONE &&
            w->sealed.piece_of_port[c->a + i] == piece)
            return true;
    return false;
}

static void weakest_of(const work *w, still_piece_facts *f, uint32_t piece)
{
    for (uint32_t i = 0; i < f->n_ids; i++) {
        uint32_t comp = f->ids[i];
        const still_comp *c = &w->plant->comps[comp];
        double own = still_comp_q(w->plant, comp, STILL_Q_DESIGN_PRESSURE_BARA);
        double of_service = c->cls == STILL_CLASS_SPOOL || c->cls == STILL_CLASS_VESSEL
                                ? still_service_design_bara(w->plant, c->service)
                                : (double)NAN;
        double least = fmin(own, of_service);
        if (!(least > f->design_bara + STILL_RELIEF_SLACK_BAR) && !isnan(least) &&
            f->weakest == STILL_NONE)
            f->weakest = comp;
        if (open_end(w, piece, comp)) f->at_limit = true;
    }
    for (uint32_t i = 0; i < f->n_sides && f->weakest == STILL_NONE; i++)
        if (still_side_design_bara(w->plant, f->sides[i]) <=
            f->design_bara + STILL_RELIEF_SLACK_BAR)
            f->weakest = w->plant->sides[f->sides[i]].comp;
}

/* A hand valve through which the piece can be joined to one that opens only above its own design
 * pressure (L5). */
static void find_stronger(const work *w, still_piece_facts *f, uint32_t piece)
{
    const still_relief *r = &w->sealed;
    for (uint32_t i = 0; i < f->n_closed_by && f->stronger == STILL_NONE; i++) {
        const still_comp *c = &w->plant->comps[f->closed_by[i]];
        if (c->cls != STILL_CLASS_VALVE || !still_kind_stops(c->kind)) continue;
        for (uint32_t k = 0; k < 2; k++) {
            uint32_t other = r->piece_of_port[c->a + k];
            if (other == piece || w->slot[other] == 0) continue;
            if (!(r->pieces[other].open_bar >
                  r->pieces[piece].design_bar + STILL_RELIEF_SLACK_BAR) ||
                isinf(r->pieces[other].open_bar))
                continue;
            f->stronger_by = f->closed_by[i];
            f->stronger = w->out->items[w->slot[other] - 1].lowest;
        }
    }
}

static bool judge(work *w, uint32_t piece, still_wall_part *room)
{
    still_piece_facts *f = &w->out->items[w->slot[piece] - 1];
    const still_relief_piece *p = &w->sealed.pieces[piece];
    f->full = p->full;
    f->design_bara = p->design_bar + STILL_ATM_BAR;
    f->open_bara = p->open_bar + STILL_ATM_BAR;
    weakest_of(w, f, piece);
    const still_contents_of contents = {f->ids, f->n_ids, f->sides, f->n_sides};
    still_warming_of(&f->warming, w->plant, w->state, &contents, f->full, f->design_bara,
                     w->ambient_K, room);
    f->stub = is_stub(w, f);
    if (still_warming_stays_below(&f->warming)) {
        f->cover = STILL_COVER_NOT_FULL;
    } else if (p->covered) {
        f->cover = STILL_COVER_COVERED;
    } else {
        f->cover = STILL_COVER_UNCOVERED;
        f->shut_by = !w->normal.pieces[piece].covered     ? STILL_SHUT_BY_ITSELF
                     : !w->standing.pieces[piece].covered ? STILL_SHUT_BY_PERSON
                                                          : STILL_SHUT_BY_PLAN;
        find_stronger(w, f, piece);
    }
    return !p->covered || follow(w, f, piece);
}

still_status still_segments_find(still_segments *out, still_arena *arena, const still_plant *plant,
                                 const still_state *state, double ambient_K)
{
    work w = {.plant = plant, .state = state, .arena = arena, .ambient_K = ambient_K, .out = out};
    still_wall_part *room = NULL;
    *out = (still_segments){0};
    still_status status = still_relief_build_as(&w.normal, plant, state, NULL, STILL_HANDS_NORMAL);
    if (status == STILL_OK)
        status = still_relief_build_as(&w.standing, plant, state, NULL, STILL_HANDS_STANDING);
    if (status == STILL_OK)
        status = still_relief_build_as(&w.sealed, plant, state, NULL, STILL_HANDS_SEALED);
    if (status != STILL_OK) goto done;
    status = STILL_E_NOMEM;
    room = still_calloc((size_t)plant->n_comps + plant->n_sides, sizeof room[0]);
    if (room == NULL || !make_slots(&w) || !gather(&w)) goto done;
    status = STILL_OK;
    for (uint32_t p = 0; p < w.sealed.n_pieces && status == STILL_OK; p++)
        if (w.slot[p] != 0 && !judge(&w, p, room)) status = STILL_E_NOMEM;
done:
    still_relief_clear(&w.normal);
    still_relief_clear(&w.standing);
    still_relief_clear(&w.sealed);
    still_free(w.slot);
    still_free(w.last);
    still_free(room);
    return status;
}
