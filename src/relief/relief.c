/* Cover of closed-in liquid (L1 to L3).
 * Problem: which pieces of the plant find, in a given state, a relief valve or an open outlet that
 * opens before their weakest part is over its design pressure.
 * Method: pieces by union-find; then least values by a worklist, starting from "none": first which
 * pieces reach an open outlet, then the opening pressure of the best cover and the back pressure
 * that a relief valve finds where it discharges. A vessel passes its value on only once it is
 * covered itself. Why it is right: all rules are monotone and values only fall, so the worklist
 * ends in the least fixed point that can be reached from "none" (docs/METHOD.md, 5; Knuth 1977 for
 * the order-free form): a ring of ways that covers nothing keeps "none". Assumptions: set pressures
 * are not negative. Source of the rules: L1 to L3. Cost: near linear in the plant; a piece is
 * looked at again only when its value fell. */
#include "relief.h"

#include "alloc.h"
#include "disjoint.h"
#include "ways.h"

#include <math.h>
#include <string.h>

static bool passes(unsigned position)
{
    return position == STILL_POSITION_OPEN || position == STILL_POSITION_THROTTLED;
}

bool still_relief_stands_open(const still_relief *r, uint32_t comp)
{
    const still_comp *c = &r->plant->comps[comp];
    still_position now = still_position_now(r->plant, r->state, comp);
    if (r->hands == STILL_HANDS_TODAY) return passes(now);
    /* Sealed, and found as it is sealed. */
    if (c->sealed == STILL_SEALED_OPEN) return passes(now);
    if (r->hands == STILL_HANDS_SEALED) return false;
    bool stays = c->cls == STILL_CLASS_BLIND || c->use == STILL_USE_SERVICE ||
                 c->sealed != STILL_SEALED_NOT_SAID;
    if (r->hands == STILL_HANDS_STANDING && !stays) return false;
    /* `normal` defaults to the position in the plant file. What was found shut today shuts, though
     * normally open; what was found open today need not be open another day (N2). */
    still_position filed = still_position_now(r->plant, NULL, comp);
    if (now != filed && !passes(now)) return false;
    return passes(c->normal != STILL_POSITION_NOT_SAID ? c->normal : (unsigned)filed);
}

bool still_relief_open(const still_relief *r, uint32_t comp)
{
    const still_comp *c = &r->plant->comps[comp];
    if (c->cls != STILL_CLASS_VALVE && c->cls != STILL_CLASS_BLIND) return false;
    if (r->held != NULL && r->held[comp] == STILL_HELD_CLOSED) return false;
    if (r->held != NULL && r->held[comp] == STILL_HELD_OPEN) return true;
    if (!still_relief_stands_open(r, comp)) return false;
    if (c->cls == STILL_CLASS_BLIND) return true;
    if (!still_kind_stops(c->kind) || c->kind == STILL_KIND_STOP_CHECK) return false;
    return still_by_hand(c);
}

/* Ports that a component joins by L1. */
static void join_comp(const still_plant *plant, uint32_t *up, uint32_t comp)
{
    const still_comp *c = &plant->comps[comp];
    if (c->cls == STILL_CLASS_SPOOL) {
        still_disjoint_join(up, c->a, c->b);
    } else if (c->cls == STILL_CLASS_VESSEL || c->cls == STILL_CLASS_FITTING) {
        for (uint32_t i = 1; i < c->b; i++) still_disjoint_join(up, c->a, c->a + i);
    } else if (c->cls == STILL_CLASS_EXCHANGER) {
        for (uint32_t i = 1; i < c->b; i++)
            for (uint32_t k = 0; k < i; k++)
                if (still_port_side(plant, c->a + i) == still_port_side(plant, c->a + k)) {
                    still_disjoint_join(up, c->a + k, c->a + i);
                    break;
                }
    }
}

/* Number the classes of a union-find in ascending order of their first member. */
static uint32_t number(uint32_t *up, uint32_t n, uint32_t *out)
{
    uint32_t count = 0;
    for (uint32_t i = 0; i < n; i++) {
        uint32_t r = still_disjoint_root(up, i);
        out[i] = r == i ? count++ : out[r];
    }
    return count;
}

static void add_design(still_relief_piece *p, const still_plant *plant, uint32_t service)
{
    double design = service == STILL_NONE
                        ? (double)NAN
                        : plant->services[service].design_pressure_bara - STILL_ATM_BAR;
    /* Once unknown, always unknown: -INFINITY marks it until all items are in. */
    if (isnan(design))
        p->design_bar = -(double)INFINITY;
    else if (isnan(p->design_bar) || design < p->design_bar)
        p->design_bar = design;
    p->any_item = true;
    if (service == STILL_NONE || plant->services[service].phase != STILL_PHASE_VAPOUR)
        p->full = true;
}

static void add_own_design(still_relief_piece *p, double own_bara)
{
    double design = own_bara - STILL_ATM_BAR;
    if (!isnan(own_bara) && (isnan(p->design_bar) || design < p->design_bar))
        p->design_bar = design;
}

static bool has_vapour_space(const still_relief *r, uint32_t vessel)
{
    double fill = still_comp_q(r->plant, vessel, STILL_Q_FILL);
    still_contents contents = still_contents_now(r->plant, r->state, vessel);
    if (contents == STILL_CONTENTS_VAPOUR) return true;
    return contents == STILL_CONTENTS_TWO_PHASE && !isnan(fill) && fill < 1;
}

/* Contents of a vessel or side that count as liquid whatever its service says (N2). */
static bool may_be_liquid(unsigned contents)
{
    return contents != STILL_CONTENTS_VAPOUR && contents != STILL_CONTENTS_NONE;
}

static void describe_comp(still_relief *r, uint32_t comp)
{
    const still_plant *plant = r->plant;
    const still_comp *c = &plant->comps[comp];
    double own = still_comp_q(plant, comp, STILL_Q_DESIGN_PRESSURE_BARA);
    if (c->cls == STILL_CLASS_SPOOL) {
        still_relief_piece *p = &r->pieces[r->piece_of_port[c->a]];
        add_design(p, plant, c->service);
        add_own_design(p, own);
        return;
    }
    for (uint32_t i = 0; i < c->b; i++) {
        uint32_t side = still_port_side(plant, c->a + i);
        still_relief_piece *p = &r->pieces[r->piece_of_port[c->a + i]];
        add_own_design(p, own);
        if (c->cls == STILL_CLASS_EXCHANGER && side != STILL_NONE) {
            add_design(p, plant, plant->sides[side].service);
            add_own_design(p, plant->sides[side].design_pressure_bara);
            if (may_be_liquid(plant->sides[side].contents)) p->full = true;
        }
        if (c->cls == STILL_CLASS_VESSEL && i == 0) {
            add_design(p, plant, c->service);
            if (may_be_liquid(still_contents_now(plant, r->state, comp))) p->full = true;
            if (has_vapour_space(r, comp)) p->vapour_space = true;
        }
        bool uncapped = r->held != NULL && r->held[comp] == STILL_HELD_OPEN;
        if (still_outlet_open(c) || (uncapped && still_outlet_to_open(c))) {
            p->open_outlet = true;
            p->outlet = comp;
        }
    }
}

static still_status build_pieces(still_relief *r)
{
    const still_plant *plant = r->plant;
    still_status status = STILL_E_NOMEM;
    uint32_t *up = still_calloc(plant->n_ports, sizeof up[0]), *segment = NULL;
    r->piece_of_port = still_calloc(plant->n_ports, sizeof r->piece_of_port[0]);
    if (up == NULL || r->piece_of_port == NULL) goto out;
    for (uint32_t i = 0; i < plant->n_ports; i++) up[i] = i;
    for (uint32_t c = 0; c < plant->n_comps; c++) {
        join_comp(plant, up, c);
    }
    r->n_pieces = number(up, plant->n_ports, r->piece_of_port);
    r->pieces = still_calloc(r->n_pieces, sizeof r->pieces[0]);
    segment = still_calloc(plant->n_ports, sizeof segment[0]);
    if (r->pieces == NULL || segment == NULL) goto out;
    for (uint32_t c = 0; c < plant->n_comps; c++)
        if (plant->comps[c].cls != STILL_CLASS_SPOOL && still_relief_open(r, c))
            still_disjoint_join(up, plant->comps[c].a, plant->comps[c].a + 1);
    r->n_segments = number(up, plant->n_ports, segment);
    for (uint32_t i = 0; i < r->n_pieces; i++)
        r->pieces[i] = (still_relief_piece){.design_bar = (double)NAN,
                                            .open_bar = (double)INFINITY,
                                            .back_bar = (double)INFINITY,
                                            .chain = STILL_NONE,
                                            .open_link = STILL_NONE,
                                            .back_link = STILL_NONE,
                                            .outlet = STILL_NONE,
                                            .out_next = STILL_NONE,
                                            .out_by = STILL_NONE};
    for (uint32_t i = 0; i < plant->n_ports; i++)
        r->pieces[r->piece_of_port[i]].segment = segment[i];
    for (uint32_t c = 0; c < plant->n_comps; c++) describe_comp(r, c);
    for (uint32_t i = 0; i < r->n_pieces; i++) {
        if (isinf(r->pieces[i].design_bar)) r->pieces[i].design_bar = (double)NAN;
        if (r->pieces[i].vapour_space) r->pieces[i].full = false;
    }
    status = STILL_OK;
out:
    still_free(up);
    still_free(segment);
    return status;
}

/* A queue of pieces, each in it at most once at a time. */
typedef struct worklist {
    uint32_t *ring;
    uint8_t *queued;
    size_t head, n, size;
    bool failed; /* memory ran out */
} worklist;

static void put(worklist *w, uint32_t piece)
{
    if (w->queued[piece]) return;
    w->queued[piece] = 1;
    w->ring[(w->head + w->n++) % w->size] = piece;
}

static uint32_t take(worklist *w)
{
    uint32_t piece = w->ring[w->head];
    w->head = (w->head + 1) % w->size;
    w->n--;
    w->queued[piece] = 0;
    return piece;
}

/* The worse of what lies behind every declared position of a three-way valve. */
static bool three_way_open(const still_relief *r, uint32_t comp)
{
    uint32_t common, others[2];
    unsigned n = still_three_way_ports(r->plant, comp, &common, others);
    bool all = n > 0;
    for (unsigned i = 0; i < n; i++)
        if (!r->pieces[r->piece_of_port[others[i]]].open_outlet) all = false;
    return all;
}

static double three_way_worst(const still_relief *r, uint32_t comp, bool back)
{
    uint32_t common, others[2];
    unsigned n = still_three_way_ports(r->plant, comp, &common, others);
    double worst = n > 0 ? 0 : (double)INFINITY;
    for (unsigned i = 0; i < n; i++) {
        const still_relief_piece *p = &r->pieces[r->piece_of_port[others[i]]];
        double value = back ? (p->open_outlet ? 0 : p->back_bar) : p->open_bar;
        if (i == 0 || value > worst) worst = value;
    }
    return worst;
}

/* First fixed point: pieces whose ways reach an open outlet. */
static void spread_open(still_relief *r, const still_ways *ways, worklist *w)
{
    for (uint32_t p = 0; p < r->n_pieces; p++)
        if (r->pieces[p].open_outlet) put(w, p);
    while (w->n > 0) {
        uint32_t to = take(w);
        for (uint32_t k = ways->at0[to]; k < ways->at0[to + 1]; k++) {
            const still_way *way = &ways->items[ways->at[k]];
            still_relief_piece *from = &r->pieces[way->from];
            if (from->open_outlet || way->kind == STILL_WAY_RELIEF) continue;
            if (way->kind == STILL_WAY_TRI && !three_way_open(r, way->comp)) continue;
            from->open_outlet = true;
            from->outlet = r->pieces[to].outlet;
            from->out_next = to;
            from->out_by = way->comp;
            put(w, way->from);
        }
    }
}

static bool settle_cover(still_relief_piece *p)
{
    return p->open_outlet ||
           (!isnan(p->design_bar) && p->open_bar <= p->design_bar + STILL_RELIEF_SLACK_BAR);
}

/* Opening pressure of a relief valve that discharges into a piece; INFINITY = it covers nothing. */
static double opening_of(const still_relief *r, uint32_t valve, const still_relief_piece *out)
{
    const still_plant *plant = r->plant;
    double set = still_comp_q(plant, valve, STILL_Q_SET_PRESSURE_BARA) - STILL_ATM_BAR;
    double declared = still_comp_q(plant, valve, STILL_Q_BACK_PRESSURE_BARA) - STILL_ATM_BAR;
    if (isnan(set) || set < 0) return (double)INFINITY;
    if (still_condition_now(plant, r->state, valve) == STILL_CONDITION_SEIZED)
        return (double)INFINITY;
    if (isnan(declared) || declared < 0) declared = 0;
    double back = declared;
    if (!out->open_outlet) {
        if (isinf(out->back_bar)) return (double)INFINITY;
        back = fmax(declared, out->back_bar);
    }
    return plant->comps[valve].balanced == STILL_YESNO_YES ? set : set + back;
}

/* How a piece's value was found: its last link, or its way to an open outlet. */
static uint32_t link_of(const still_relief *r, uint32_t piece, bool back)
{
    const still_relief_piece *p = &r->pieces[piece];
    if (p->open_outlet) return STILL_RELIEF_OUT | piece;
    return back ? p->back_link : p->open_link;
}

/* Note how a value is found through a device (STILL_NONE: from the cover of the piece itself). */
static uint32_t add_link(still_relief *r, worklist *w, uint32_t by, uint32_t to, bool back)
{
    still_relief_link link = {by, {STILL_NONE, STILL_NONE}};
    uint32_t common, others[2];
    unsigned n = by != STILL_NONE && r->plant->comps[by].kind == STILL_KIND_THREE_WAY
                     ? still_three_way_ports(r->plant, by, &common, others)
                     : 0;
    for (unsigned i = 0; i < n; i++) link.next[i] = link_of(r, r->piece_of_port[others[i]], back);
    if (n == 0) link.next[0] = link_of(r, to, back);
    if (r->n_links >= STILL_RELIEF_OUT - 1 ||
        !still_grow(&r->links, &r->cap_links, (size_t)r->n_links + 1, sizeof link)) {
        w->failed = true;
        return STILL_NONE;
    }
    r->links[r->n_links] = link;
    return r->n_links++;
}

static void improve(still_relief *r, worklist *w, const still_way *way, double open_bar)
{
    still_relief_piece *from = &r->pieces[way->from];
    if (!(open_bar < from->open_bar)) return;
    from->open_bar = open_bar;
    from->open_link = add_link(r, w, way->comp, way->to, way->kind == STILL_WAY_RELIEF);
    if (from->chain == STILL_NONE && settle_cover(from)) from->chain = from->open_link;
    put(w, way->from);
}

static void improve_back(still_relief *r, worklist *w, const still_way *way, double back_bar)
{
    still_relief_piece *from = &r->pieces[way->from];
    if (!(back_bar < from->back_bar)) return;
    from->back_bar = back_bar;
    from->back_link = add_link(r, w, way->comp, way->to, true);
    put(w, way->from);
}

static void pass_on(still_relief *r, worklist *w, const still_way *way)
{
    const still_relief_piece *to = &r->pieces[way->to];
    switch (way->kind) {
    case STILL_WAY_FREE:
        improve(r, w, way, to->open_bar);
        improve_back(r, w, way, to->back_bar);
        break;
    case STILL_WAY_TRI:
        improve(r, w, way, three_way_worst(r, way->comp, false));
        improve_back(r, w, way, three_way_worst(r, way->comp, true));
        break;
    case STILL_WAY_RELIEF: improve(r, w, way, opening_of(r, way->comp, to)); break;
    }
}

/* Second fixed point: opening pressures and back pressures. */
static void spread_pressure(still_relief *r, const still_ways *ways, worklist *w)
{
    for (uint32_t p = 0; p < r->n_pieces; p++) {
        if (r->pieces[p].open_outlet) {
            r->pieces[p].open_bar = 0;
            r->pieces[p].chain = STILL_RELIEF_OUT | p;
        }
        put(w, p);
    }
    while (w->n > 0 && !w->failed) {
        uint32_t to = take(w);
        still_relief_piece *p = &r->pieces[to];
        if (p->vapour_space && settle_cover(p) && p->open_bar < p->back_bar) {
            p->back_bar = p->open_bar;
            p->back_link = add_link(r, w, STILL_NONE, to, false);
        }
        for (uint32_t k = ways->at0[to]; k < ways->at0[to + 1]; k++)
            pass_on(r, w, &ways->items[ways->at[k]]);
    }
    for (uint32_t p = 0; p < r->n_pieces; p++) r->pieces[p].covered = settle_cover(&r->pieces[p]);
}

still_status still_relief_build(still_relief *r, const still_plant *plant, const still_state *state,
                                const uint8_t *held)
{
    return still_relief_build_as(r, plant, state, held, STILL_HANDS_TODAY);
}

still_status still_relief_build_as(still_relief *r, const still_plant *plant,
                                   const still_state *state, const uint8_t *held, still_hands hands)
{
    *r = (still_relief){.plant = plant, .state = state, .held = held, .hands = hands};
    still_ways ways = {0};
    worklist w = {0};
    still_status status = build_pieces(r);
    if (status == STILL_OK) status = still_ways_build(&ways, r);
    if (status == STILL_OK) {
        w.size = r->n_pieces > 0 ? r->n_pieces : 1;
        w.ring = still_calloc(w.size, sizeof w.ring[0]);
        w.queued = still_calloc(w.size, 1);
        if (w.ring == NULL || w.queued == NULL) status = STILL_E_NOMEM;
    }
    if (status == STILL_OK) {
        spread_open(r, &ways, &w);
        spread_pressure(r, &ways, &w);
        if (w.failed) status = STILL_E_NOMEM;
    }
    still_ways_clear(&ways);
    still_free(w.ring);
    still_free(w.queued);
    if (status != STILL_OK) still_relief_clear(r);
    return status;
}

void still_relief_clear(still_relief *r)
{
    still_free(r->piece_of_port);
    still_free(r->pieces);
    still_free(r->links);
    *r = (still_relief){0};
}

/* Links that are still to be followed. */
typedef struct stops {
    uint32_t *items;
    size_t n, cap;
} stops;

static bool go_on(stops *s, uint32_t link)
{
    if (link == STILL_NONE) return true;
    if (!still_grow(&s->items, &s->cap, s->n + 1, sizeof s->items[0])) return false;
    s->items[s->n++] = link;
    return true;
}

/* Towards an open outlet: behind a three-way valve through both positions. */
static bool follow_out(const still_relief *r, stops *s, uint32_t piece, const still_follower *f)
{
    const still_relief_piece *p = &r->pieces[piece];
    uint32_t common, others[2];
    if (p->out_next == STILL_NONE) return f->meet(f->data, p->outlet, true);
    if (!f->meet(f->data, p->out_by, false)) return false;
    if (r->plant->comps[p->out_by].kind != STILL_KIND_THREE_WAY)
        return go_on(s, STILL_RELIEF_OUT | p->out_next);
    unsigned n = still_three_way_ports(r->plant, p->out_by, &common, others);
    for (unsigned i = 0; i < n; i++)
        if (!go_on(s, STILL_RELIEF_OUT | r->piece_of_port[others[i]])) return false;
    return true;
}

static bool follow_link(const still_relief *r, stops *s, uint32_t link, const still_follower *f)
{
    const still_relief_link *l = &r->links[link];
    if (l->by != STILL_NONE) {
        bool cover = still_relieves(&r->plant->comps[l->by]);
        if (!f->meet(f->data, l->by, cover)) return false;
    }
    return go_on(s, l->next[0]) && go_on(s, l->next[1]);
}

bool still_relief_follow(const still_relief *r, uint32_t piece, const still_follower *f)
{
    stops s = {0};
    bool good = go_on(&s, r->pieces[piece].chain);
    while (good && s.n > 0) {
        uint32_t link = s.items[--s.n];
        bool out = (link & STILL_RELIEF_OUT) != 0;
        uint32_t number = link & (STILL_RELIEF_OUT - 1);
        if (f->seen(f->data, out ? r->n_links + number : number)) continue;
        good = out ? follow_out(r, &s, number, f) : follow_link(r, &s, number, f);
    }
    still_free(s.items);
    return good;
}
