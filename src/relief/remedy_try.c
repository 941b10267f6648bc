/* One candidate that may remove a gap, tried (L2, L3, E3).
 * Problem: does a segment that a plan shuts in have cover, or run empty, once some devices are held
 * otherwise?
 * Method: the state is computed anew with the devices as they would be held (relief.c); pieces keep
 * their numbers, since they end at every device whatever its position. For emptying, levels as in
 * drain/: the least, over all ways to the outlet, of the highest elevation on the way.
 * Why it is right: the rule itself is asked; nothing is inferred. What is not known (a pressure, an
 * elevation, a substance without an equation) makes a candidate fail.
 * Cost: near linear in the plant for each. */
#include "remedy_try.h"

#include "alloc.h"
#include "saturation.h"

#include <math.h>
#include <string.h>

static const double TOLERANCE_M = 0.0005;

still_status still_trial_build(still_trial *t, const still_relief *after, const uint8_t *work_port,
                               double ambient_K)
{
    const still_plant *plant = after->plant;
    *t = (still_trial){.after = after, .work_port = work_port, .ambient_K = ambient_K};
    t->held = still_calloc(plant->n_comps, 1);
    t->comp0 = still_calloc((size_t)after->n_pieces + 1, sizeof t->comp0[0]);
    t->comp_at = still_calloc(plant->n_ports, sizeof t->comp_at[0]);
    t->level = still_calloc(plant->n_ports, sizeof t->level[0]);
    t->queue = still_calloc(plant->n_ports, sizeof t->queue[0]);
    t->queued = still_calloc(plant->n_ports, 1);
    if (t->held == NULL || t->comp0 == NULL || t->comp_at == NULL || t->level == NULL ||
        t->queue == NULL || t->queued == NULL)
        return STILL_E_NOMEM;
    if (after->held != NULL && plant->n_comps > 0) memcpy(t->held, after->held, plant->n_comps);
    /* Counting sort of ports by piece; the start of each piece is its end less what was put. */
    for (uint32_t i = 0; i < plant->n_ports; i++) t->comp0[after->piece_of_port[i]]++;
    uint32_t sum = 0;
    for (uint32_t p = 0; p <= after->n_pieces; p++) {
        if (p < after->n_pieces) sum += t->comp0[p];
        t->comp0[p] = sum;
    }
    for (uint32_t i = plant->n_ports; i-- > 0;)
        t->comp_at[--t->comp0[after->piece_of_port[i]]] = plant->ports[i].comp;
    return STILL_OK;
}

void still_trial_clear(still_trial *t)
{
    still_free(t->held);
    still_free(t->comp0);
    still_free(t->comp_at);
    still_free(t->level);
    still_free(t->queue);
    still_free(t->queued);
    *t = (still_trial){0};
}

/* A source or a place where one may be (N3), at a port. */
static bool source_at(const still_trial *t, uint32_t port)
{
    const still_plant *plant = t->after->plant;
    uint32_t comp = plant->ports[port].comp;
    const still_comp *c = &plant->comps[comp];
    if (c->cls == STILL_CLASS_VESSEL)
        return still_contents_now(plant, t->after->state, comp) != STILL_CONTENTS_NONE;
    if (c->cls == STILL_CLASS_PUMP || c->cls == STILL_CLASS_COMPRESSOR) return true;
    if (c->cls == STILL_CLASS_LIMIT) return c->dead != STILL_YESNO_YES;
    return c->cls != STILL_CLASS_CAP && plant->ports[port].spool == STILL_NONE;
}

/* Normal pressures of the joined segment against the weakest design pressure there. */
typedef struct pressures {
    double highest_bara, design_bara;
    bool unknown;
} pressures;

static void add_service(pressures *p, const still_plant *plant, uint32_t service)
{
    double normal = service == STILL_NONE ? (double)NAN : plant->services[service].pressure_bara;
    if (isnan(normal))
        p->unknown = true;
    else
        p->highest_bara = fmax(p->highest_bara, normal);
}

static void look_at(still_tried *out, pressures *sum, const still_trial *t, const still_relief *r,
                    uint32_t segment, uint32_t port)
{
    const still_plant *plant = r->plant;
    uint32_t comp = plant->ports[port].comp, side = still_port_side(plant, port);
    const still_comp *c = &plant->comps[comp];
    const still_relief_piece *piece = &r->pieces[r->piece_of_port[port]];
    bool joined = t->after->pieces[r->piece_of_port[port]].segment != segment;
    if (plant->ports[port].spool != STILL_NONE)
        add_service(sum, plant, plant->comps[plant->ports[port].spool].service);
    if (c->cls == STILL_CLASS_VESSEL) add_service(sum, plant, c->service);
    if (side != STILL_NONE) add_service(sum, plant, plant->sides[side].service);
    if (c->cls == STILL_CLASS_VESSEL && c->role == STILL_ROLE_LOW_PRESSURE && piece->vapour_space)
        out->receiver = comp;
    if (!joined) return;
    if (source_at(t, port)) out->source_joined = true;
    if (c->cls == STILL_CLASS_OUTLET && c->fitted != STILL_FITTED_CAP &&
        c->fitted != STILL_FITTED_PLUG)
        out->may_leak_out = true;
}

still_status still_trial_run(still_tried *out, still_trial *t, uint32_t segment)
{
    const still_plant *plant = t->after->plant;
    still_relief r = {0};
    pressures sum = {.highest_bara = -(double)INFINITY, .design_bara = (double)INFINITY};
    still_status status =
        still_relief_build_as(&r, plant, t->after->state, t->held, t->after->hands);
    t->tries++;
    if (status != STILL_OK) return status;
    *out = (still_tried){.segment = STILL_NONE, .covered = true, .receiver = STILL_NONE};
    for (uint32_t p = 0; p < r.n_pieces && out->segment == STILL_NONE; p++)
        if (t->after->pieces[p].segment == segment) out->segment = r.pieces[p].segment;
    for (uint32_t p = 0; p < r.n_pieces; p++) {
        const still_relief_piece *piece = &r.pieces[p];
        bool own = t->after->pieces[p].segment == segment;
        if (own && piece->segment != out->segment) out->covered = false; /* it fell apart */
        if (!piece->any_item || piece->segment != out->segment) continue;
        if (!piece->covered) out->covered = false;
        if (isnan(piece->design_bar)) sum.unknown = true;
        sum.design_bara = fmin(sum.design_bara, piece->design_bar + STILL_ATM_BAR);
    }
    for (uint32_t i = 0; i < plant->n_ports; i++)
        if (r.pieces[r.piece_of_port[i]].segment == out->segment)
            look_at(out, &sum, t, &r, segment, i);
    out->pressures_known =
        !sum.unknown && sum.highest_bara <= sum.design_bara + STILL_RELIEF_SLACK_BAR;
    still_relief_clear(&r);
    return STILL_OK;
}

bool still_trial_openable(const still_trial *t, uint32_t comp)
{
    const still_relief *r = t->after;
    const still_comp *c = &r->plant->comps[comp];
    return c->cls == STILL_CLASS_VALVE && still_kind_stops(c->kind) &&
           c->kind != STILL_KIND_STOP_CHECK && still_by_hand(c) &&
           c->sealed != STILL_SEALED_CLOSED && !still_relief_open(r, comp) &&
           (r->held == NULL || r->held[comp] == STILL_HELD_NOT) &&
           still_condition_now(r->plant, r->state, comp) == STILL_CONDITION_SOUND &&
           t->work_port[c->a] == t->work_port[c->a + 1];
}

bool still_trial_pipework(const still_trial *t, uint32_t piece)
{
    const still_plant *plant = t->after->plant;
    for (uint32_t k = t->comp0[piece]; k < t->comp0[piece + 1]; k++) {
        uint32_t comp = t->comp_at[k];
        const still_comp *c = &plant->comps[comp];
        if (c->cls == STILL_CLASS_VESSEL || c->cls == STILL_CLASS_EXCHANGER) return false;
        for (uint32_t i = 0; i < c->b; i++)
            if (t->after->piece_of_port[c->a + i] == piece && source_at(t, c->a + i)) return false;
    }
    return true;
}

bool still_trial_vapour_holds(const still_trial *t, const still_shut_in *s)
{
    const still_relief *r = t->after;
    double design_bara = (double)INFINITY;
    still_saturation at;
    if (s->warming.basis == STILL_WARMING_NONE || s->warming.service == STILL_NONE) return false;
    for (uint32_t p = 0; p < r->n_pieces; p++) {
        const still_relief_piece *piece = &r->pieces[p];
        if (piece->segment != s->segment || !piece->any_item) continue;
        if (isnan(piece->design_bar)) return false;
        design_bara = fmin(design_bara, piece->design_bar + STILL_ATM_BAR);
    }
    const still_service *service = &r->plant->services[s->warming.service];
    still_substance substance = still_substance_of(still_text(r->plant, service->substance));
    return still_saturation_at(substance, t->ambient_K, &at) &&
           at.pressure_bara <= design_bara + STILL_RELIEF_SLACK_BAR;
}

static bool member(const still_trial *t, uint32_t segment, const uint32_t *chain, size_t n,
                   uint32_t port)
{
    uint32_t piece = t->after->piece_of_port[port];
    if (t->after->pieces[piece].segment == segment) return true;
    for (size_t i = 0; i < n; i++)
        if (chain[i] == piece) return true;
    return false;
}

/* Does a component pass liquid from one of its ports to another in the state that is tried? */
static bool passes(const still_trial *t, uint32_t p, uint32_t q)
{
    const still_plant *plant = t->after->plant;
    uint32_t comp = plant->ports[p].comp;
    switch (plant->comps[comp].cls) {
    case STILL_CLASS_FITTING: return true;
    case STILL_CLASS_EXCHANGER: return still_port_side(plant, p) == still_port_side(plant, q);
    case STILL_CLASS_VALVE:
    case STILL_CLASS_BLIND:
        return t->held[comp] == STILL_HELD_OPEN || still_relief_open(t->after, comp);
    default: return false;
    }
}

typedef struct ring {
    size_t head, n;
} ring;

/* Liquid at q runs to p, from where it runs to the outlet. A sill of unknown height lets nothing
 * through. */
static void lower(still_trial *t, ring *w, uint32_t p, uint32_t q)
{
    double via = fmax(t->level[p], still_port_elevation_m(t->after->plant, q));
    if (isnan(still_port_elevation_m(t->after->plant, q)) || !(via < t->level[q])) return;
    t->level[q] = via;
    if (t->queued[q]) return;
    t->queued[q] = 1;
    t->queue[(w->head + w->n++) % t->after->plant->n_ports] = q;
}

static void settle(still_trial *t, uint32_t segment, const uint32_t *chain, size_t n, uint32_t port)
{
    const still_plant *plant = t->after->plant;
    ring w = {0};
    for (uint32_t i = 0; i < plant->n_ports; i++) t->level[i] = (double)INFINITY;
    memset(t->queued, 0, plant->n_ports);
    t->level[port] = still_port_elevation_m(plant, port);
    t->queue[w.n++] = port;
    t->queued[port] = 1;
    while (w.n > 0) {
        uint32_t p = t->queue[w.head], across = still_port_across(plant, p);
        const still_comp *c = &plant->comps[plant->ports[p].comp];
        w.head = (w.head + 1) % plant->n_ports;
        w.n--;
        t->queued[p] = 0;
        if (across != STILL_NONE && member(t, segment, chain, n, across)) lower(t, &w, p, across);
        for (uint32_t q = c->a; q < c->a + c->b; q++)
            if (q != p && member(t, segment, chain, n, q) && passes(t, p, q)) lower(t, &w, p, q);
    }
}

bool still_trial_empties(still_trial *t, uint32_t segment, const uint32_t *chain, size_t n,
                         uint32_t port)
{
    const still_plant *plant = t->after->plant;
    if (isnan(still_port_elevation_m(plant, port))) return false;
    settle(t, segment, chain, n, port);
    for (uint32_t i = 0; i < plant->n_ports; i++) {
        if (!member(t, segment, chain, n, i)) continue;
        /* What lies below the nozzles of a vessel is not known. */
        if (plant->comps[plant->ports[i].comp].cls == STILL_CLASS_VESSEL) return false;
        double own = still_port_elevation_m(plant, i);
        if (isnan(own) || !(own >= t->level[i] - TOLERANCE_M)) return false;
    }
    return true;
}
