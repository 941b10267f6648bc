#include "shutin.h"

#include "alloc.h"
#include "disjoint.h"
#include "inventory.h"

#include <math.h>

/* A list that grows on the heap and ends in the arena. */
typedef struct growing {
    uint32_t *items;
    size_t n, cap;
} growing;

static bool push_last(growing *g, uint32_t comp)
{
    if (g->n > 0 && g->items[g->n - 1] == comp) return true;
    if (!still_grow(&g->items, &g->cap, g->n + 1, sizeof g->items[0])) return false;
    g->items[g->n++] = comp;
    return true;
}

static bool finish(growing *g, still_arena *arena, uint32_t **items, uint32_t *n)
{
    *items = STILL_ARENA_NEW(arena, g->n, uint32_t);
    if (*items == NULL) return false;
    for (size_t i = 0; i < g->n; i++) (*items)[i] = g->items[i];
    *n = (uint32_t)g->n;
    g->n = 0;
    return true;
}

/* A segment while it is gathered. */
typedef struct gather {
    still_shut_in *s;
    growing ids, closed_by, covers, conditions, sides;
    bool any_full, vapour_space, any_item;
} gather;

/* All segments that the plan shuts in, gathered in one pass over the plant. */
typedef struct gathering {
    const still_relief *r;
    const uint8_t *work_port;
    uint32_t *slot; /* by segment: 1 + number in list, 0 = not shut in by the plan */
    gather *list;
    size_t n;
    /* Last slot that has the component as a cover or condition, or the chain from the piece
     * (towards its cover; behind a relief valve), so that each is followed and listed once a
     * segment. */
    uint32_t *cover_in, *condition_in, *followed_in;
} gathering;

static gather *at_port(const gathering *g, uint32_t port)
{
    uint32_t slot = g->slot[g->r->pieces[g->r->piece_of_port[port]].segment];
    return slot == 0 ? NULL : &g->list[slot - 1];
}

/* A device that ends pieces and is shut in this state. */
static bool shuts(const still_relief *r, uint32_t comp)
{
    uint8_t cls = r->plant->comps[comp].cls;
    if (cls == STILL_CLASS_PUMP || cls == STILL_CLASS_COMPRESSOR) return true;
    if (cls != STILL_CLASS_VALVE && cls != STILL_CLASS_BLIND) return false;
    return !still_relief_open(r, comp);
}

static bool add_side(gather *at, const still_plant *plant, uint32_t side)
{
    if (side == STILL_NONE) return true;
    at->s->volume_m3 += still_side_volume_m3(plant, side);
    at->s->mass_kg += still_side_mass_kg(plant, side);
    return push_last(&at->sides, side);
}

/* Is this port an end of the drawing, beyond which nothing is known? */
static bool ends_drawing(const still_plant *plant, const still_comp *c, uint32_t port)
{
    return (plant->ports[port].spool == STILL_NONE && c->cls != STILL_CLASS_CAP) ||
           (c->cls == STILL_CLASS_LIMIT && c->dead != STILL_YESNO_YES);
}

static bool take_comp(const gathering *g, uint32_t comp)
{
    const still_plant *plant = g->r->plant;
    const still_comp *c = &plant->comps[comp];
    bool shut = shuts(g->r, comp);
    for (uint32_t i = 0; i < c->b; i++) {
        uint32_t port = c->a + i, side = still_port_side(plant, port);
        gather *at = at_port(g, port);
        if (at == NULL) continue;
        if (g->work_port != NULL && g->work_port[port]) at->s->inside = true;
        if (ends_drawing(plant, c, port)) at->s->ends_at_limit = true;
        /* A relief valve at its inlet is a cover or nothing, never what shuts a segment in. */
        if (shut && still_relieves(c) && i == 0) continue;
        if (!push_last(shut ? &at->closed_by : &at->ids, comp)) return false;
        if (c->cls == STILL_CLASS_EXCHANGER &&
            (i == 0 || still_port_side(plant, port - 1) != side) && !add_side(at, plant, side))
            return false;
        if (c->cls == STILL_CLASS_VESSEL && i == 0) {
            at->s->volume_m3 += still_comp_volume_m3(plant, comp);
            at->s->mass_kg += still_comp_mass_kg(plant, g->r->state, comp);
        }
    }
    return true;
}

static bool take_spool(const gathering *g, uint32_t comp)
{
    gather *at = at_port(g, g->r->plant->comps[comp].a);
    if (at == NULL) return true;
    at->s->volume_m3 += still_comp_volume_m3(g->r->plant, comp);
    at->s->mass_kg += still_comp_mass_kg(g->r->plant, g->r->state, comp);
    return push_last(&at->ids, comp);
}

static bool list_once(growing *list, uint32_t *in, uint32_t slot, uint32_t comp)
{
    if (in[comp] == slot) return true;
    in[comp] = slot;
    return push_last(list, comp);
}

/* A segment whose pieces are followed to their covers. */
typedef struct following {
    const gathering *g;
    uint32_t slot;
} following;

static bool seen(void *data, uint32_t what)
{
    const following *f = data;
    uint32_t *in = &f->g->followed_in[what];
    if (*in == f->slot) return true;
    *in = f->slot;
    return false;
}

static bool meet_way(void *data, uint32_t comp, bool cover)
{
    const following *f = data;
    gather *at = &f->g->list[f->slot - 1];
    return cover ? list_once(&at->covers, f->g->cover_in, f->slot, comp)
                 : list_once(&at->conditions, f->g->condition_in, f->slot, comp);
}

/* Judge a piece of a segment: full, covered, by what; the worst one's figures stay. */
static bool judge(const gathering *g, uint32_t number)
{
    const still_relief_piece *piece = &g->r->pieces[number];
    uint32_t slot = g->slot[piece->segment];
    if (slot == 0) return true;
    gather *at = &g->list[slot - 1];
    still_shut_in *s = at->s;
    if (piece->vapour_space) at->vapour_space = true;
    if (!piece->any_item) return true;
    at->any_item = true;
    if (piece->full) at->any_full = true;
    bool worse = s->covered && !piece->covered;
    if (worse || isnan(s->design_bar) ||
        (piece->covered == s->covered && piece->design_bar < s->design_bar)) {
        s->design_bar = piece->design_bar;
        s->open_bar = piece->open_bar;
    }
    if (isnan(piece->design_bar)) s->design_unknown = true;
    if (!piece->covered) s->covered = false;
    following of = {g, slot};
    const still_follower follower = {&of, seen, meet_way};
    return still_relief_follow(g->r, number, &follower);
}

/* What stands behind a hand valve or blind of unknown position may be open to what the plan shuts
 * in (N2): it is shut in too, as a segment of its own. */
static bool pass_unknown(gathering *g)
{
    const still_relief *r = g->r;
    uint32_t *up = still_calloc(r->n_segments, sizeof up[0]);
    uint8_t *moved = still_calloc(r->n_segments, 1);
    bool good = up != NULL && moved != NULL;
    for (uint32_t i = 0; i < r->n_segments && good; i++) up[i] = i;
    for (uint32_t c = 0; c < r->plant->n_comps && good; c++) {
        const still_comp *comp = &r->plant->comps[c];
        bool hand =
            comp->cls == STILL_CLASS_BLIND ||
            (comp->cls == STILL_CLASS_VALVE && still_kind_stops(comp->kind) && still_by_hand(comp));
        if (!hand || (r->held != NULL && r->held[c] != STILL_HELD_NOT) ||
            still_position_now(r->plant, r->state, c) != STILL_POSITION_UNKNOWN)
            continue;
        still_disjoint_join(up, r->pieces[r->piece_of_port[comp->a]].segment,
                            r->pieces[r->piece_of_port[comp->a + 1]].segment);
    }
    for (uint32_t i = 0; i < r->n_segments && good; i++)
        if (g->slot[i] != 0) moved[still_disjoint_root(up, i)] = 1;
    for (uint32_t i = 0; i < r->n_segments && good; i++)
        if (moved[still_disjoint_root(up, i)]) g->slot[i] = 1;
    still_free(up);
    still_free(moved);
    return good;
}

/* Mark the segments that hold vapour space, or at whose end the drawing ends: nothing is shut in
 * there by what is known. */
static bool find_relaxed(const still_relief *r, uint8_t **relaxed)
{
    *relaxed = still_calloc(r->n_segments, 1);
    for (uint32_t c = 0; c < r->plant->n_comps && *relaxed != NULL; c++) {
        const still_comp *comp = &r->plant->comps[c];
        for (uint32_t i = 0; comp->cls != STILL_CLASS_SPOOL && i < comp->b; i++)
            if (ends_drawing(r->plant, comp, comp->a + i))
                (*relaxed)[r->pieces[r->piece_of_port[comp->a + i]].segment] = 1;
    }
    for (uint32_t p = 0; p < r->n_pieces && *relaxed != NULL; p++)
        if (r->pieces[p].vapour_space) (*relaxed)[r->pieces[p].segment] = 1;
    return *relaxed != NULL;
}

/* Mark the pieces that are full of liquid, and had cover or vapour space before but have none now.
 * Pieces are the same in every state. */
static bool find_lost(const still_relief *before, const still_relief *after, uint8_t *lost)
{
    uint8_t *was = NULL, *is = NULL;
    bool good = find_relaxed(before, &was) && find_relaxed(after, &is);
    for (uint32_t p = 0; p < after->n_pieces && good; p++) {
        const still_relief_piece *old = &before->pieces[p], *now = &after->pieces[p];
        lost[p] = now->any_item && now->full && !now->covered && !is[now->segment] &&
                  (old->covered || was[old->segment]);
    }
    still_free(was);
    still_free(is);
    return good;
}

/* Give slots to the segments that a moved device touches, or that have lost their cover, in the
 * order of their first port. */
static bool find_segments(gathering *g, const still_relief *before, const uint8_t *moved)
{
    const still_plant *plant = g->r->plant;
    g->slot = still_calloc(g->r->n_segments, sizeof g->slot[0]);
    if (g->slot == NULL) return false;
    for (uint32_t c = 0; c < plant->n_comps; c++)
        for (uint32_t i = 0; moved[c] && i < plant->comps[c].b; i++)
            g->slot[g->r->pieces[g->r->piece_of_port[plant->comps[c].a + i]].segment] = 1;
    uint8_t *lost = before != NULL ? still_calloc(g->r->n_pieces, 1) : NULL;
    bool good = before == NULL || (lost != NULL && find_lost(before, g->r, lost));
    for (uint32_t p = 0; p < g->r->n_pieces && good && before != NULL; p++)
        if (lost[p]) g->slot[g->r->pieces[p].segment] = 1;
    still_free(lost);
    if (!good || !pass_unknown(g)) return false;
    for (uint32_t i = 0; i < g->r->n_segments; i++)
        if (g->slot[i] != 0) g->slot[i] = (uint32_t)++g->n;
    g->list = still_calloc(g->n, sizeof g->list[0]);
    g->cover_in = still_calloc(plant->n_comps, sizeof g->cover_in[0]);
    g->condition_in = still_calloc(plant->n_comps, sizeof g->condition_in[0]);
    g->followed_in = still_calloc((size_t)g->r->n_links + g->r->n_pieces, sizeof g->followed_in[0]);
    return g->list != NULL && g->cover_in != NULL && g->condition_in != NULL &&
           g->followed_in != NULL;
}

static void clear_gathering(gathering *g)
{
    for (size_t i = 0; i < g->n && g->list != NULL; i++) {
        still_free(g->list[i].ids.items);
        still_free(g->list[i].closed_by.items);
        still_free(g->list[i].covers.items);
        still_free(g->list[i].conditions.items);
        still_free(g->list[i].sides.items);
    }
    still_free(g->list);
    still_free(g->slot);
    still_free(g->cover_in);
    still_free(g->condition_in);
    still_free(g->followed_in);
}

still_status still_shut_in_any(bool *any, const still_relief *before, const still_relief *r,
                               const uint8_t *moved)
{
    gathering g = {.r = r};
    bool good = find_segments(&g, before, moved);
    *any = false;
    for (uint32_t p = 0; p < r->n_pieces && good; p++)
        *any = *any || (g.slot[r->pieces[p].segment] != 0 && r->pieces[p].any_item &&
                        !r->pieces[p].covered);
    clear_gathering(&g);
    return good ? STILL_OK : STILL_E_NOMEM;
}

still_status still_shut_in_count(uint32_t *n_spools, const still_relief *before,
                                 const still_relief *after, const uint8_t *wet)
{
    uint8_t *lost = still_calloc(after->n_pieces, 1);
    uint32_t n = 0;
    if (lost == NULL || !find_lost(before, after, lost)) {
        still_free(lost);
        return STILL_E_NOMEM;
    }
    for (uint32_t c = 0; c < after->plant->n_comps; c++) {
        const still_comp *comp = &after->plant->comps[c];
        if (comp->cls != STILL_CLASS_SPOOL || (wet != NULL && !wet[comp->a])) continue;
        n += lost[still_relief_piece_of_spool(after, c)];
    }
    still_free(lost);
    *n_spools = n;
    return STILL_OK;
}

/* Outside, what holds vapour and has its relief is neither liquid shut in nor worse off than
 * before; on a plant whose valves stand open it is most of the plant. */
static bool quiet(const still_shut_in *s)
{
    return !s->inside && !s->full && s->covered;
}

/* Its numbers, and whether it needs cover at all (L3). */
static bool warm(const gathering *g, gather *at, double ambient_K)
{
    still_shut_in *s = at->s;
    const still_contents_of contents = {s->ids, s->n_ids, at->sides.items, at->sides.n};
    still_wall_part *room = still_calloc((size_t)s->n_ids + at->sides.n, sizeof room[0]);
    if (room == NULL) return false;
    double design_bara = s->design_unknown ? (double)NAN : s->design_bar + STILL_ATM_BAR;
    still_warming_of(&s->warming, g->r->plant, g->r->state, &contents, s->full, design_bara,
                     ambient_K, room);
    s->stays_below = still_warming_stays_below(&s->warming);
    still_free(room);
    return true;
}

static bool gather_all(gathering *g, still_arena *arena, double ambient_K)
{
    bool good = true;
    for (size_t i = 0; i < g->n; i++) {
        g->list[i].s->covered = true;
        g->list[i].s->design_bar = (double)NAN;
    }
    for (uint32_t c = 0; c < g->r->plant->n_comps && good; c++)
        good = g->r->plant->comps[c].cls == STILL_CLASS_SPOOL ? take_spool(g, c) : take_comp(g, c);
    for (uint32_t p = 0; p < g->r->n_pieces && good; p++) good = judge(g, p);
    for (size_t i = 0; i < g->n && good; i++) {
        gather *at = &g->list[i];
        at->s->full = at->any_full && !at->vapour_space;
        good = finish(&at->ids, arena, &at->s->ids, &at->s->n_ids) &&
               finish(&at->closed_by, arena, &at->s->closed_by, &at->s->n_closed_by) &&
               finish(&at->covers, arena, &at->s->covered_by, &at->s->n_covered_by) &&
               finish(&at->conditions, arena, &at->s->conditions, &at->s->n_conditions) &&
               (!at->any_item || quiet(at->s) || warm(g, at, ambient_K));
    }
    return good;
}

still_status still_shut_in_find(still_shut_in **out, size_t *n, still_arena *arena,
                                const still_relief *before, const still_relief *r,
                                const uint8_t *moved, const uint8_t *work_port, double ambient_K)
{
    still_status status = STILL_E_NOMEM;
    gathering g = {.r = r, .work_port = work_port};
    if (!find_segments(&g, before, moved)) goto out;
    still_shut_in *list = STILL_ARENA_NEW(arena, g.n, still_shut_in);
    if (list == NULL) goto out;
    for (size_t i = 0; i < g.n; i++) g.list[i].s = &list[i];
    for (uint32_t i = 0; i < r->n_segments; i++)
        if (g.slot[i] != 0) list[g.slot[i] - 1].segment = i;
    if (!gather_all(&g, arena, ambient_K)) goto out;
    /* A segment without a spool, vessel or exchanger side holds nothing worth a word. */
    *n = 0;
    for (size_t i = 0; i < g.n; i++)
        if (g.list[i].any_item && !quiet(&list[i])) list[(*n)++] = list[i];
    *out = list;
    status = STILL_OK;
out:
    clear_gathering(&g);
    return status;
}

/* Does equipment that holds fluid stand at a covered piece? For an exchanger: for each side. */
static bool has_relief(const still_relief *r, uint32_t comp, uint32_t side)
{
    const still_comp *c = &r->plant->comps[comp];
    for (uint32_t i = 0; i < c->b; i++) {
        if (side != STILL_NONE && still_port_side(r->plant, c->a + i) != side) continue;
        if (r->pieces[r->piece_of_port[c->a + i]].covered) return true;
    }
    return false;
}

static bool loses(const still_relief *before, const still_relief *after, uint32_t comp)
{
    const still_plant *plant = before->plant;
    const still_comp *c = &plant->comps[comp];
    if (c->cls == STILL_CLASS_VESSEL &&
        still_contents_now(plant, before->state, comp) == STILL_CONTENTS_NONE)
        return false;
    if (c->cls == STILL_CLASS_VESSEL || c->cls == STILL_CLASS_PUMP ||
        c->cls == STILL_CLASS_COMPRESSOR)
        return has_relief(before, comp, STILL_NONE) && !has_relief(after, comp, STILL_NONE);
    if (c->cls != STILL_CLASS_EXCHANGER) return false;
    for (uint32_t i = 0; i < c->b; i++) {
        uint32_t side = still_port_side(plant, c->a + i);
        if (side == STILL_NONE || plant->sides[side].contents == STILL_CONTENTS_NONE) continue;
        if (has_relief(before, comp, side) && !has_relief(after, comp, side)) return true;
    }
    return false;
}

still_status still_relief_lost(uint32_t **out, size_t *n, still_arena *arena,
                               const still_relief *before, const still_relief *after)
{
    growing list = {0};
    uint32_t count = 0;
    bool good = true;
    for (uint32_t c = 0; c < before->plant->n_comps && good; c++)
        if (loses(before, after, c)) good = push_last(&list, c);
    good = good && finish(&list, arena, out, &count);
    *n = count;
    still_free(list.items);
    return good ? STILL_OK : STILL_E_NOMEM;
}

uint32_t still_relief_lost_count(const still_relief *before, const still_relief *after)
{
    uint32_t n = 0;
    for (uint32_t c = 0; c < before->plant->n_comps; c++) n += loses(before, after, c);
    return n;
}
