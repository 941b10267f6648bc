/* What would remove a gap that a plan makes (L6).
 * Problem: liquid that the closing of the points shuts in without cover; what else could be done?
 * Method: three kinds of candidates, each tried by the rules (remedy_try.c):
 *   order: a point of the segment stays open until last. It has cover as long as that one is open,
 *     and empties through it into a low-pressure vessel with vapour space (P2), whose saturation
 *     lies below ambient; what is then left is vapour, which stays below the design pressure.
 *   open: a hand valve that stands closed and is no point is opened and left open. What is joined
 *     has cover, pressures that it can stand, and no source for the work.
 *   drain: hand valves that stand closed, at most CHAIN of them and mere pipework between, lead to
 *     an unshared outlet (E4). Either it leads to the open, and the segment then stands open to it;
 *     or all of its liquid runs down to it and what is left is vapour below the design pressure.
 * Why it is right: a candidate counts only if the rule that made the finding is met with it. By I1
 * every device that is no point counts as open already, so opening one inside or outside leaves the
 * boundary as it is; one that leads across is not offered. Outside, a segment is drained only if
 * all that shuts it in is closed by hand or held: through a check valve or a pump liquid follows.
 * Assumptions: E3 as in drain/. Not every remedy is found: none known does not say that none is.
 * Cost: near linear in the plant for each candidate; at most STILL_REMEDY_TRIES of them. */
#include "remedy.h"

#include "alloc.h"
#include "remedy_try.h"
#include "saturation.h"

#include <math.h>
#include <string.h>

enum { CHAIN = 3, KEPT = 4 };

/* The search for one segment. */
typedef struct finder {
    still_trial *t;
    const uint8_t *moved;
    still_arena *arena;
    const still_shut_in *s;
    still_gap_remedy found[3 * KEPT];
    size_t n;
    unsigned of_kind[STILL_GAP_DRAIN + 1];
    bool untried;
    uint8_t *met; /* by piece: reached by some chain already */
} finder;

static bool may_try(finder *f, still_gap_kind kind)
{
    if (f->of_kind[kind] >= KEPT) return false;
    if (f->t->tries < STILL_REMEDY_TRIES) return true;
    f->untried = true;
    return false;
}

static still_status keep(finder *f, still_gap_kind kind, const uint32_t *ids, uint32_t n,
                         bool stays_open)
{
    still_gap_remedy *r = &f->found[f->n];
    *r = (still_gap_remedy){.kind = kind, .n_ids = n, .stays_open = stays_open};
    r->ids = STILL_ARENA_NEW(f->arena, n, uint32_t);
    if (r->ids == NULL) return STILL_E_NOMEM;
    memcpy(r->ids, ids, n * sizeof ids[0]);
    f->n++;
    f->of_kind[kind]++;
    return STILL_OK;
}

static bool passes_now(const still_relief *r, uint32_t comp)
{
    still_position now = still_position_now(r->plant, r->state, comp);
    return now == STILL_POSITION_OPEN || now == STILL_POSITION_THROTTLED;
}

/* Liquid boils off into the vessel: at its normal pressure it does so below ambient (P2). */
static bool boils_into(const finder *f, uint32_t vessel)
{
    const still_plant *plant = f->t->after->plant;
    uint32_t own = f->s->warming.service, there = plant->comps[vessel].service;
    if (own == STILL_NONE || there == STILL_NONE) return false;
    double low_bara = plant->services[there].pressure_bara;
    still_substance substance =
        still_substance_of(still_text(plant, plant->services[own].substance));
    return still_saturation_temperature_K(substance, low_bara) < f->t->ambient_K;
}

static still_status try_order(finder *f, uint32_t point)
{
    const still_relief *r = f->t->after;
    const still_comp *c = &r->plant->comps[point];
    still_tried tried;
    if (!f->s->inside || !f->moved[point] || !passes_now(r, point)) return STILL_OK;
    /* Out of the segment in the direction of flow, and not into the work. */
    if (r->pieces[r->piece_of_port[c->a]].segment != f->s->segment || f->t->work_port[c->a + 1] ||
        !still_trial_vapour_holds(f->t, f->s) || !may_try(f, STILL_GAP_ORDER))
        return STILL_OK;
    f->t->held[point] = STILL_HELD_OPEN;
    still_status status = still_trial_run(&tried, f->t, f->s->segment);
    f->t->held[point] = r->held != NULL ? r->held[point] : STILL_HELD_NOT;
    if (status != STILL_OK || !tried.covered || tried.receiver == STILL_NONE ||
        !boils_into(f, tried.receiver))
        return status;
    const uint32_t ids[2] = {point, tried.receiver};
    return keep(f, STILL_GAP_ORDER, ids, 2, false);
}

static still_status try_open(finder *f, uint32_t comp)
{
    const still_relief *r = f->t->after;
    still_tried tried;
    if (!still_trial_openable(f->t, comp) || !may_try(f, STILL_GAP_OPEN)) return STILL_OK;
    f->t->held[comp] = STILL_HELD_OPEN;
    still_status status = still_trial_run(&tried, f->t, f->s->segment);
    f->t->held[comp] = r->held != NULL ? r->held[comp] : STILL_HELD_NOT;
    if (status != STILL_OK || !tried.covered || !tried.pressures_known || tried.may_leak_out ||
        (f->s->inside && tried.source_joined))
        return status;
    return keep(f, STILL_GAP_OPEN, &comp, 1, false);
}

/* Nothing flows in: outside, every device that shuts it in is a point, or closed by hand. */
static bool stays_cut_off(const finder *f)
{
    const still_relief *r = f->t->after;
    if (f->s->ends_at_limit) return false;
    if (f->s->inside) return true;
    for (uint32_t i = 0; i < f->s->n_closed_by; i++) {
        uint32_t comp = f->s->closed_by[i];
        const still_comp *c = &r->plant->comps[comp];
        if (r->held != NULL && r->held[comp] == STILL_HELD_CLOSED) continue;
        bool by_hand =
            c->cls == STILL_CLASS_BLIND ||
            (c->cls == STILL_CLASS_VALVE && still_kind_stops(c->kind) && still_by_hand(c));
        if (!by_hand || still_position_now(r->plant, r->state, comp) != STILL_POSITION_CLOSED ||
            still_condition_now(r->plant, r->state, comp) != STILL_CONDITION_SOUND)
            return false;
    }
    for (uint32_t p = 0; p < r->n_pieces; p++)
        if (r->pieces[p].segment == f->s->segment && !still_trial_pipework(f->t, p)) return false;
    return true;
}

/* An outlet fit for draining that nobody else can pressurise (E4, N3). */
static bool fit(const still_comp *c)
{
    return c->cls == STILL_CLASS_OUTLET && c->shared == STILL_YESNO_NO &&
           c->leads_to != STILL_LEADS_NOT_SAID;
}

/* A way outward: devices from the segment on, and the pieces behind them. */
typedef struct chain {
    uint32_t comps[CHAIN + 1], pieces[CHAIN];
    uint32_t n;
    bool self_closing;
} chain;

static still_status try_drain(finder *f, chain *way, uint32_t outlet)
{
    const still_relief *r = f->t->after;
    const still_comp *c = &r->plant->comps[outlet];
    bool to_open = still_outlet_to_open(c) && !way->self_closing, good = false;
    still_tried tried = {.covered = false};
    still_status status = STILL_OK;
    if (!may_try(f, STILL_GAP_DRAIN)) return STILL_OK;
    way->comps[way->n] = outlet;
    for (uint32_t i = 0; i <= way->n; i++) f->t->held[way->comps[i]] = STILL_HELD_OPEN;
    if (to_open) status = still_trial_run(&tried, f->t, f->s->segment);
    good = tried.covered && !tried.source_joined;
    if (status == STILL_OK && !good) {
        to_open = false;
        good = still_trial_vapour_holds(f->t, f->s) &&
               still_trial_empties(f->t, f->s->segment, way->pieces, way->n, c->a);
        f->t->tries++;
    }
    for (uint32_t i = 0; i <= way->n; i++)
        f->t->held[way->comps[i]] = r->held != NULL ? r->held[way->comps[i]] : STILL_HELD_NOT;
    if (status != STILL_OK || !good) return status;
    return keep(f, STILL_GAP_DRAIN, way->comps, way->n + 1, to_open);
}

/* Outlets at a piece, and what lies behind its closed hand valves; depth first, so that a chain is
 * at hand when an outlet is met. Each piece is reached by one chain, the first. */
static still_status follow(finder *f, chain *way, uint32_t piece)
{
    const still_relief *r = f->t->after;
    const still_plant *plant = r->plant;
    still_status status = STILL_OK;
    for (uint32_t k = f->t->comp0[piece]; k < f->t->comp0[piece + 1] && status == STILL_OK; k++) {
        uint32_t comp = f->t->comp_at[k];
        const still_comp *c = &plant->comps[comp];
        if (fit(c) && way->n > 0) status = try_drain(f, way, comp);
        bool self_closing = c->cls == STILL_CLASS_VALVE && c->kind == STILL_KIND_SELF_CLOSING &&
                            still_condition_now(plant, r->state, comp) == STILL_CONDITION_SOUND &&
                            f->t->work_port[c->a] == f->t->work_port[c->a + 1];
        if (way->n == CHAIN || (!self_closing && !still_trial_openable(f->t, comp))) continue;
        uint32_t side = r->piece_of_port[c->a] == piece ? 1 : 0;
        uint32_t next = r->piece_of_port[c->a + side];
        if (f->met[next] || r->pieces[next].segment == f->s->segment ||
            (self_closing && side == 0) || !still_trial_pipework(f->t, next))
            continue;
        chain on = *way;
        on.comps[on.n] = comp;
        on.pieces[on.n++] = next;
        on.self_closing = way->self_closing || self_closing;
        f->met[next] = 1;
        status = follow(f, &on, next);
    }
    return status;
}

static still_status find_all(finder *f)
{
    const still_relief *r = f->t->after;
    still_status status = STILL_OK;
    for (uint32_t i = 0; i < f->s->n_closed_by && status == STILL_OK; i++)
        status = try_order(f, f->s->closed_by[i]);
    for (uint32_t i = 0; i < f->s->n_closed_by && status == STILL_OK; i++)
        status = try_open(f, f->s->closed_by[i]);
    if (status != STILL_OK || !stays_cut_off(f)) return status;
    const chain none = {.n = 0};
    for (uint32_t p = 0; p < r->n_pieces && status == STILL_OK; p++) {
        chain way = none;
        if (r->pieces[p].segment == f->s->segment) status = follow(f, &way, p);
    }
    return status;
}

still_status still_gap_remedies_find(still_gap_remedies **out, still_arena *arena,
                                     const still_relief *after, const uint8_t *moved,
                                     const uint8_t *work_port, const still_shut_in *shut, size_t n,
                                     double ambient_K)
{
    still_trial trial = {0};
    uint8_t *met = still_calloc(after->n_pieces, 1);
    still_gap_remedies *list = STILL_ARENA_NEW(arena, n, still_gap_remedies);
    still_status status = STILL_E_NOMEM;
    if (met == NULL || list == NULL) goto out;
    status = still_trial_build(&trial, after, work_port, ambient_K);
    for (size_t i = 0; i < n && status == STILL_OK; i++) {
        finder f = {.t = &trial, .moved = moved, .arena = arena, .s = &shut[i], .met = met};
        list[i] = (still_gap_remedies){0};
        if (shut[i].covered || shut[i].stays_below) continue;
        list[i].vapour_holds = still_trial_vapour_holds(&trial, &shut[i]);
        if (after->n_pieces > 0) memset(met, 0, after->n_pieces);
        status = find_all(&f);
        if (status != STILL_OK) break;
        list[i].items = STILL_ARENA_NEW(arena, f.n, still_gap_remedy);
        if (list[i].items == NULL) status = STILL_E_NOMEM;
        for (size_t k = 0; k < f.n && status == STILL_OK; k++) list[i].items[k] = f.found[k];
        list[i].n = f.n;
        list[i].untried = f.untried;
    }
    if (status == STILL_OK) *out = list;
out:
    still_trial_clear(&trial);
    still_free(met);
    return status;
}
