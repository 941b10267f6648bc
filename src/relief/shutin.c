#include "shutin.h"

#include "alloc.h"
#include "inventory.h"

#include <math.h>

/* A list that grows on the heap and ends in the arena. */
typedef struct growing {
    uint32_t *items;
    size_t n, cap;
} growing;

static bool push_once(growing *g, uint32_t comp)
{
    for (size_t i = 0; i < g->n; i++)
        if (g->items[i] == comp) return true;
    if (!still_grow(&g->items, &g->cap, g->n + 1, sizeof g->items[0])) return false;
    g->items[g->n++] = comp;
    return true;
}

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

/* Follow the way from a piece to its cover and to the end of the chain behind it (L2). */
static bool follow_cover(const still_relief *r, uint32_t piece, growing *covers,
                         growing *conditions)
{
    /* A chain visits each piece at most twice (towards the cover, then behind it). */
    bool back = false;
    for (uint32_t guard = 0; guard <= 2 * r->n_pieces; guard++) {
        const still_relief_piece *p = &r->pieces[piece];
        uint32_t next, by;
        if (p->open_outlet) {
            if (p->out_next == STILL_NONE) return push_once(covers, p->cover);
            next = p->out_next;
            by = p->out_by;
        } else if (back && p->back_next != STILL_NONE) {
            next = p->back_next;
            by = p->back_by;
        } else {
            if (p->next == STILL_NONE) return true;
            next = p->next;
            by = p->by;
            back = false;
        }
        uint8_t kind = r->plant->comps[by].kind;
        if (kind == STILL_KIND_RELIEF || kind == STILL_KIND_RUPTURE_DISC) {
            if (!push_once(covers, by)) return false;
            back = true;
        } else if (!push_once(conditions, by)) {
            return false;
        }
        piece = next;
    }
    return true;
}

/* Where each component stands: segment of its first port, or of each side. */
typedef struct gather {
    const still_relief *r;
    const uint8_t *work_port;
    uint32_t segment;
    still_shut_in *s;
    growing ids, closed_by, covers, conditions;
} gather;

static uint32_t segment_of(const still_relief *r, uint32_t port)
{
    return r->pieces[r->piece_of_port[port]].segment;
}

/* A device that ends pieces and is shut in this state. */
static bool shuts(const still_relief *r, uint32_t comp)
{
    uint8_t cls = r->plant->comps[comp].cls;
    if (cls == STILL_CLASS_PUMP || cls == STILL_CLASS_COMPRESSOR) return true;
    if (cls != STILL_CLASS_VALVE && cls != STILL_CLASS_BLIND) return false;
    return !still_relief_open(r, comp);
}

static bool take_side(gather *g, uint32_t comp, uint32_t port)
{
    uint32_t side = g->r->plant->ports[port].side;
    if (side != STILL_NONE) {
        g->s->volume_m3 += still_side_volume_m3(g->r->plant, side);
        g->s->mass_kg += still_side_mass_kg(g->r->plant, side);
    }
    return push_last(&g->ids, comp);
}

static bool take_comp(gather *g, uint32_t comp)
{
    const still_plant *plant = g->r->plant;
    const still_comp *c = &plant->comps[comp];
    uint32_t side_done = STILL_NONE;
    for (uint32_t i = 0; i < c->b; i++) {
        uint32_t port = c->a + i;
        if (segment_of(g->r, port) != g->segment) continue;
        if (g->work_port != NULL && g->work_port[port]) g->s->inside = true;
        if (plant->ports[port].spool == STILL_NONE && c->cls != STILL_CLASS_CAP)
            g->s->ends_at_limit = true;
        if (c->cls == STILL_CLASS_LIMIT && c->dead != STILL_YESNO_YES) g->s->ends_at_limit = true;
        if (shuts(g->r, comp)) {
            /* A relief valve at its inlet is a cover or nothing, never what shuts a segment in. */
            bool relief = c->cls == STILL_CLASS_VALVE &&
                          (c->kind == STILL_KIND_RELIEF || c->kind == STILL_KIND_RUPTURE_DISC);
            if (relief && i == 0) continue;
            if (!push_last(&g->closed_by, comp)) return false;
        } else if (c->cls == STILL_CLASS_EXCHANGER) {
            if (plant->ports[port].side == side_done) continue;
            side_done = plant->ports[port].side;
            if (!take_side(g, comp, port)) return false;
        } else {
            if (!push_last(&g->ids, comp)) return false;
            if (c->cls == STILL_CLASS_VESSEL && i == 0) {
                g->s->volume_m3 += still_comp_volume_m3(plant, comp);
                g->s->mass_kg += still_comp_mass_kg(plant, g->r->state, comp);
            }
        }
    }
    return true;
}

static bool take_spool(gather *g, uint32_t comp)
{
    const still_plant *plant = g->r->plant;
    if (segment_of(g->r, plant->comps[comp].a) != g->segment) return true;
    g->s->volume_m3 += still_comp_volume_m3(plant, comp);
    g->s->mass_kg += still_comp_mass_kg(plant, g->r->state, comp);
    return push_last(&g->ids, comp);
}

/* Judge the pieces of the segment: full, covered, by what; the worst one's figures. */
static bool judge(gather *g)
{
    still_shut_in *s = g->s;
    bool any = false, vapour_space = false;
    s->covered = true;
    s->design_bar = (double)NAN;
    s->open_bar = 0;
    for (uint32_t p = 0; p < g->r->n_pieces; p++) {
        const still_relief_piece *piece = &g->r->pieces[p];
        if (piece->segment != g->segment) continue;
        if (piece->vapour_space) vapour_space = true;
        if (!piece->any_item) continue;
        if (piece->full) any = true;
        bool worse = s->covered && !piece->covered;
        if (worse || isnan(s->design_bar) ||
            (piece->covered == s->covered && piece->design_bar < s->design_bar)) {
            s->design_bar = piece->design_bar;
            s->open_bar = piece->open_bar;
        }
        if (isnan(piece->design_bar)) s->design_unknown = true;
        if (!piece->covered) s->covered = false;
        if (!follow_cover(g->r, p, &g->covers, &g->conditions)) return false;
    }
    s->full = any && !vapour_space;
    return true;
}

static still_status gather_segment(gather *g, still_arena *arena)
{
    const still_plant *plant = g->r->plant;
    bool good = true;
    for (uint32_t c = 0; c < plant->n_comps && good; c++)
        good = plant->comps[c].cls == STILL_CLASS_SPOOL ? take_spool(g, c) : take_comp(g, c);
    good = good && judge(g) && finish(&g->ids, arena, &g->s->ids, &g->s->n_ids) &&
           finish(&g->closed_by, arena, &g->s->closed_by, &g->s->n_closed_by) &&
           finish(&g->covers, arena, &g->s->covered_by, &g->s->n_covered_by) &&
           finish(&g->conditions, arena, &g->s->conditions, &g->s->n_conditions);
    return good ? STILL_OK : STILL_E_NOMEM;
}

/* Has the segment a spool, a vessel or an exchanger side at all? */
static bool worth_listing(const still_relief *r, uint32_t segment)
{
    for (uint32_t p = 0; p < r->n_pieces; p++)
        if (r->pieces[p].segment == segment && r->pieces[p].any_item) return true;
    return false;
}

still_status still_shut_in_find(still_shut_in **out, size_t *n, still_arena *arena,
                                const still_relief *r, const uint8_t *moved,
                                const uint8_t *work_port)
{
    still_status status = STILL_E_NOMEM;
    gather g = {.r = r, .work_port = work_port};
    uint8_t *touched = still_calloc(r->n_segments, 1);
    size_t count = 0;
    if (touched == NULL) goto out;
    for (uint32_t c = 0; c < r->plant->n_comps; c++)
        for (uint32_t i = 0; moved[c] && i < r->plant->comps[c].b; i++)
            touched[segment_of(r, r->plant->comps[c].a + i)] = 1;
    for (uint32_t i = 0; i < r->n_segments; i++) count += touched[i];
    *out = STILL_ARENA_NEW(arena, count, still_shut_in);
    if (*out == NULL) goto out;
    *n = 0;
    status = STILL_OK;
    for (uint32_t i = 0; i < r->n_segments && status == STILL_OK; i++) {
        if (!touched[i] || !worth_listing(r, i)) continue;
        g.segment = i;
        g.s = &(*out)[(*n)++];
        status = gather_segment(&g, arena);
    }
out:
    still_free(touched);
    still_free(g.ids.items);
    still_free(g.closed_by.items);
    still_free(g.covers.items);
    still_free(g.conditions.items);
    return status;
}

/* Does equipment that holds fluid stand at a covered piece? For an exchanger: for each side. */
static bool has_relief(const still_relief *r, uint32_t comp, uint32_t side)
{
    const still_comp *c = &r->plant->comps[comp];
    for (uint32_t i = 0; i < c->b; i++) {
        if (side != STILL_NONE && r->plant->ports[c->a + i].side != side) continue;
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
        uint32_t side = plant->ports[c->a + i].side;
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
