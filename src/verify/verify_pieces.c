/* Pieces for closed-in liquid (L1), what they hold (L3), and the ways and covers between them
 * (L2, METHOD section 5), in the state after the steps of phase isolate: points closed, overrides
 * and hand devices inside opened, nothing drained.
 *
 * The dangerous way: a position that is unknown is closed here; a relief valve without set
 * pressure, or one that is seized, covers nothing; an outlet that is not said to be fitted open is
 * capped. */
#include "verify_relief.h"

#include <string.h>

static still_verify_join rule_pieces(const still_verify *v, const void *with, uint32_t comp,
                                     uint32_t port)
{
    (void)with;
    (void)port;
    if (v->plant->comps[comp].cls == STILL_CLASS_SPOOL && still_verify_shuts(v, comp))
        return STILL_VERIFY_PART; /* a spade in its flange, or taken out */
    switch ((still_class)v->plant->comps[comp].cls) {
    case STILL_CLASS_VESSEL:
    case STILL_CLASS_FITTING:
    case STILL_CLASS_OUTLET:
    case STILL_CLASS_LIMIT:
    case STILL_CLASS_SPOOL: return STILL_VERIFY_ALL;
    case STILL_CLASS_EXCHANGER: return STILL_VERIFY_SIDES;
    case STILL_CLASS_NOT_SAID:
    case STILL_CLASS_VALVE:
    case STILL_CLASS_PUMP:
    case STILL_CLASS_COMPRESSOR:
    case STILL_CLASS_BLIND:
    case STILL_CLASS_CAP:
    case STILL_CLASS_COUNT: break;
    }
    return STILL_VERIFY_PART;
}

static void least(still_verify_relief *r, uint32_t piece, double bara)
{
    double gauge = bara - STILL_ATM_BAR;
    if (isnan(bara)) return;
    if (isnan(r->design[piece]) || gauge < r->design[piece]) r->design[piece] = gauge;
}

/* A service of something in the piece: its design pressure and its phase. */
static void has_service(const still_verify *v, still_verify_relief *r, uint32_t piece,
                        uint32_t service, double own)
{
    least(r, piece, own);
    if (service == STILL_NONE) {
        r->not_vapour[piece] = 1;
        if (isnan(own)) r->design_gap[piece] = 1;
        return;
    }
    const still_service *s = &v->plant->services[service];
    if (s->phase != STILL_PHASE_VAPOUR) r->not_vapour[piece] = 1;
    if (isnan(s->design_pressure_bara)) r->design_gap[piece] = 1;
    least(r, piece, s->design_pressure_bara);
}

/* Contents two-phase with a fill, or vapour. */
static bool vapour_space(const still_verify *v, uint32_t comp)
{
    still_contents contents = still_contents_now(v->plant, v->state, comp);
    double fill = still_comp_q(v->plant, comp, STILL_Q_FILL);
    return contents == STILL_CONTENTS_VAPOUR ||
           (contents == STILL_CONTENTS_TWO_PHASE && !isnan(fill) && fill < 1);
}

/* What may hold liquid, whatever its service says (N2). */
static bool liquid(unsigned held)
{
    return held != STILL_CONTENTS_VAPOUR && held != STILL_CONTENTS_NONE;
}

static void contents(const still_verify *v, still_verify_relief *r, uint32_t comp)
{
    const still_plant *p = v->plant;
    const still_comp *c = &p->comps[comp];
    double own = still_comp_q(p, comp, STILL_Q_DESIGN_PRESSURE_BARA);
    if (c->cls == STILL_CLASS_SPOOL) {
        has_service(v, r, r->piece[c->a], c->service, own);
        r->has_spool[r->piece[c->a]] = 1;
        return;
    }
    if (rule_pieces(v, NULL, comp, STILL_NONE) == STILL_VERIFY_PART) return;
    for (uint32_t k = 0; k < c->b; k++) {
        uint32_t piece = r->piece[c->a + k], side = still_port_side(p, c->a + k);
        if (c->cls == STILL_CLASS_VESSEL) {
            has_service(v, r, piece, c->service, own);
            if (vapour_space(v, comp)) r->vapour_vessel[piece] = 1;
            if (liquid(still_contents_now(p, v->state, comp))) r->not_vapour[piece] = 1;
        } else if (side != STILL_NONE) {
            if (liquid(p->sides[side].contents)) r->not_vapour[piece] = 1;
            has_service(v, r, piece, p->sides[side].service, p->sides[side].design_pressure_bara);
        }
        least(r, piece, own);
    }
}

static bool hand_open(const still_verify *v, uint32_t comp)
{
    uint8_t at = v->end_position[comp];
    if (still_verify_shuts(v, comp)) return false;
    return at == STILL_POSITION_OPEN || at == STILL_POSITION_THROTTLED;
}

/* Does a device of two ports let liquid out from `in` to `out` (forward) or back? */
static bool is_way(const still_verify *v, uint32_t comp, bool forward)
{
    const still_comp *c = &v->plant->comps[comp];
    if (c->cls == STILL_CLASS_BLIND)
        return v->barrier[comp]
                   ? !still_verify_shuts(v, comp) &&
                         still_position_now(v->plant, v->state, comp) == STILL_POSITION_OPEN
                   : v->end_position[comp] == STILL_POSITION_OPEN;
    if (c->cls != STILL_CLASS_VALVE || still_verify_shuts(v, comp)) return false;
    if (c->kind == STILL_KIND_RELIEF || c->kind == STILL_KIND_RUPTURE_DISC ||
        c->kind == STILL_KIND_THREE_WAY || c->kind == STILL_KIND_UNKNOWN)
        return false;
    if (v->held_open[comp] && c->manual_opening == STILL_YESNO_YES) return true;
    bool sound = still_verify_condition(v, comp) == STILL_CONDITION_SOUND;
    if (c->kind == STILL_KIND_CHECK) return forward && sound;
    if (!still_kind_stops(c->kind) || !still_verify_by_hand(c)) return false;
    return hand_open(v, comp) && (c->kind != STILL_KIND_STOP_CHECK || (forward && sound));
}

static void two_ports(const still_verify *v, still_verify_relief *r, uint32_t comp)
{
    uint32_t in = still_comp_port(v->plant, comp, "in");
    uint32_t out = still_comp_port(v->plant, comp, "out");
    const still_comp *c = &v->plant->comps[comp];
    if (in == STILL_NONE || out == STILL_NONE) return;
    uint32_t a = r->piece[in], b = r->piece[out];
    if (is_way(v, comp, true)) r->ways[r->n_ways++] = (still_verify_way){a, b, comp};
    if (is_way(v, comp, false)) r->ways[r->n_ways++] = (still_verify_way){b, a, comp};
    if (c->cls != STILL_CLASS_VALVE ||
        (c->kind != STILL_KIND_RELIEF && c->kind != STILL_KIND_RUPTURE_DISC))
        return;
    double set = still_comp_q(v->plant, comp, STILL_Q_SET_PRESSURE_BARA) - STILL_ATM_BAR;
    double back = still_comp_q(v->plant, comp, STILL_Q_BACK_PRESSURE_BARA) - STILL_ATM_BAR;
    if (isnan(set) || set < 0 || still_verify_shuts(v, comp)) return;
    if (still_verify_condition(v, comp) == STILL_CONDITION_SEIZED) return;
    if (back < 0) back = 0;
    r->covers[r->n_covers++] = (still_verify_cover){
        .in = a, .out = b, .set = set, .back = back, .balanced = c->balanced == STILL_YESNO_YES};
}

/* Is `name` one of the ports, joined by '-', that a position of len bytes names? */
static bool names_port(const char *position, size_t len, const char *name)
{
    size_t n = strlen(name);
    for (size_t i = 0; i + n <= len; i++) {
        bool begins = i == 0 || position[i - 1] == '-';
        bool ends = i + n == len || position[i + n] == '-';
        if (begins && ends && strncmp(position + i, name, n) == 0) return true;
    }
    return false;
}

/* Next position in a list parted by spaces; *len gets its length, 0 = no more. */
static const char *next_position(const char *at, size_t *len)
{
    at += strspn(at, " \t");
    *len = strcspn(at, " \t");
    return at;
}

/* A three-way valve: its common port is the one named in every declared position. */
static void three_way(still_verify *v, still_verify_relief *r, uint32_t comp)
{
    const still_plant *p = v->plant;
    const still_comp *c = &p->comps[comp];
    const char *all = still_comp_t(p, comp, STILL_T_POSITIONS);
    uint32_t common = STILL_NONE, n_common = 0, n = 0;
    size_t len = 0;
    for (uint32_t k = 0; k < c->b; k++) {
        bool always = all[0] != '\0';
        const char *at = all;
        while (always && (at = next_position(at, &len), len > 0)) {
            always = names_port(at, len, still_text(p, still_port_name(p, c->a + k)));
            at += len;
        }
        if (!always) continue;
        common = c->a + k;
        n_common++;
    }
    if (n_common != 1) return;
    uint32_t *behind = still_verify_room(v, strlen(all) + 1, sizeof *behind);
    if (behind == NULL) return;
    for (const char *at = all; at = next_position(at, &len), len > 0; at += len) {
        uint32_t other = STILL_NONE, others = 0;
        for (uint32_t k = 0; k < c->b; k++)
            if (c->a + k != common &&
                names_port(at, len, still_text(p, still_port_name(p, c->a + k)))) {
                other = c->a + k;
                others++;
            }
        if (others != 1) return; /* not understood: no way out */
        behind[n++] = r->piece[other];
    }
    r->forks[r->n_forks++] = (still_verify_fork){r->piece[common], behind, n};
}

static void *by_piece(still_verify *v, size_t size)
{
    return still_verify_room(v, v->plant->n_ports, size);
}

static bool rooms(still_verify *v, still_verify_relief *r)
{
    size_t n = v->plant->n_comps;
    r->piece = by_piece(v, sizeof *r->piece);
    r->design = by_piece(v, sizeof *r->design);
    r->design_gap = by_piece(v, 1);
    r->not_vapour = by_piece(v, 1);
    r->vapour_vessel = by_piece(v, 1);
    r->has_spool = by_piece(v, 1);
    r->segment = by_piece(v, sizeof *r->segment);
    r->moved = by_piece(v, 1);
    r->not_full = by_piece(v, 1);
    r->open = by_piece(v, sizeof *r->open);
    r->opening = by_piece(v, sizeof *r->opening);
    r->vessel = by_piece(v, sizeof *r->vessel);
    r->ways = still_verify_room(v, 2 * n, sizeof *r->ways);
    r->covers = still_verify_room(v, n, sizeof *r->covers);
    r->forks = still_verify_room(v, n, sizeof *r->forks);
    return !v->nomem;
}

static void open_outlet(const still_verify *v, still_verify_relief *r, uint32_t comp)
{
    const still_comp *c = &v->plant->comps[comp];
    if (c->cls != STILL_CLASS_OUTLET || c->fitted != STILL_FITTED_OPEN) return;
    if (c->leads_to != STILL_LEADS_SAFE_PLACE && c->leads_to != STILL_LEADS_FLARE_OR_SCRUBBER)
        return;
    double back = still_comp_q(v->plant, comp, STILL_Q_BACK_PRESSURE_BARA) - STILL_ATM_BAR;
    if (isnan(back) || back < 0) back = 0;
    for (uint32_t k = 0; k < c->b; k++)
        if (back < r->open[r->piece[c->a + k]]) r->open[r->piece[c->a + k]] = back;
}

bool still_verify_relief_pieces(still_verify *v, still_verify_relief *r)
{
    const still_plant *p = v->plant;
    still_verify_walk *w = &v->scratch;
    if (!rooms(v, r)) return false;
    for (uint32_t i = 0; i < p->n_ports; i++) r->piece[i] = STILL_NONE;
    for (uint32_t i = 0; i < p->n_ports; i++) {
        if (r->piece[i] != STILL_NONE) continue;
        still_verify_walk_reset(v, w);
        still_verify_walk_start(w, i);
        still_verify_walk_run(v, w, rule_pieces, NULL);
        for (uint32_t k = 0; k < w->n; k++) r->piece[w->met[k]] = r->n;
        r->design[r->n] = (double)NAN;
        r->open[r->n] = (double)INFINITY;
        r->n++;
    }
    still_verify_walk_reset(v, w);
    for (uint32_t i = 0; i < p->n_comps; i++) {
        contents(v, r, i);
        open_outlet(v, r, i);
        if (p->comps[i].cls == STILL_CLASS_VALVE && p->comps[i].kind == STILL_KIND_THREE_WAY)
            three_way(v, r, i);
        else if (p->comps[i].cls == STILL_CLASS_VALVE || p->comps[i].cls == STILL_CLASS_BLIND)
            two_ports(v, r, i);
    }
    for (uint32_t i = 0; i < r->n; i++)
        if (r->design_gap[i]) r->design[i] = (double)NAN;
    return !v->nomem;
}
