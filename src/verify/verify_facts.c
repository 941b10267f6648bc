/* Plain facts of the plant, as METHOD sections 1 to 3 define them.
 *
 * What is not said counts the dangerous way (N2): an unknown class joins, an unlockable or unknown
 * device is not closable, a feed not said to be lockable cannot be locked. */
#include "verify_rules.h"
#include "verify_walk.h"

#include <string.h>

bool still_verify_by_hand(const still_comp *c)
{
    return c->drive == STILL_DRIVE_NOT_SAID || c->drive == STILL_DRIVE_HAND;
}

bool still_verify_feed_locks(const still_feed *f)
{
    return f->lockable == STILL_LOCKABLE_YES || f->lockable == STILL_LOCKABLE_ASSUMED;
}

still_verify_join still_verify_plain_join(const still_verify *v, uint32_t comp)
{
    if (v->whole[comp]) return STILL_VERIFY_ALL;
    if (v->plant->comps[comp].cls == STILL_CLASS_EXCHANGER) return STILL_VERIFY_SIDES;
    if (v->plant->comps[comp].cls == STILL_CLASS_CAP) return STILL_VERIFY_PART;
    return STILL_VERIFY_ALL;
}

still_verify_join still_verify_rule_points(const still_verify *v, const void *with, uint32_t comp,
                                           uint32_t port)
{
    (void)with;
    (void)port;
    if (v->barrier[comp] && !v->whole[comp])
        return v->fork[comp] ? STILL_VERIFY_SET : STILL_VERIFY_PART;
    return still_verify_plain_join(v, comp);
}

/* Is `name` one of the ports, joined by '-', that a position names? */
static bool position_names(const char *position, const char *name)
{
    size_t n = strlen(name);
    for (const char *at = position;; at++) {
        size_t len = strcspn(at, "-");
        if (len == n && strncmp(at, name, n) == 0) return true;
        at += len;
        if (*at == '\0') return false;
    }
}

bool still_verify_set_names(const still_verify *v, uint32_t comp, uint32_t port)
{
    return v->set_to[comp] != NULL &&
           position_names(v->set_to[comp], still_text(v->plant, still_port_name(v->plant, port)));
}

bool still_verify_parted(const still_verify *v, uint32_t comp, uint32_t port, uint32_t other)
{
    if (port == other) return false;
    if (!v->barrier[comp] || v->whole[comp]) return false;
    if (!v->fork[comp]) return true;
    return !still_verify_set_names(v, comp, port) || !still_verify_set_names(v, comp, other);
}

still_condition still_verify_condition(const still_verify *v, uint32_t comp)
{
    still_condition now = still_condition_now(v->plant, v->state, comp);
    /* What is seized stays so, avoided or not: a relief valve then covers nothing. */
    if (v->avoided[comp] && now != STILL_CONDITION_SEIZED) return STILL_CONDITION_UNREACHABLE;
    return now;
}

static const char *position_word(const still_verify *v, const still_state *state, uint32_t comp)
{
    const still_comp *c = &v->plant->comps[comp];
    if (c->cls == STILL_CLASS_VALVE && c->kind == STILL_KIND_THREE_WAY) {
        const char *way = still_way_now(v->plant, state, comp);
        if (way[0] != '\0') return way;
    }
    return still_word(STILL_VOC_still_position, still_position_now(v->plant, state, comp));
}

const char *still_verify_position(const still_verify *v, uint32_t comp)
{
    return position_word(v, v->state, comp);
}

const char *still_verify_position_filed(const still_verify *v, uint32_t comp)
{
    return position_word(v, NULL, comp);
}

still_verify_join still_verify_rule_holding(const still_verify *v, const void *with, uint32_t comp,
                                            uint32_t port)
{
    const uint8_t *cut = with;
    if (cut != NULL && cut[comp]) return STILL_VERIFY_PART;
    if (!v->closable[comp]) return still_verify_plain_join(v, comp);
    const still_comp *c = &v->plant->comps[comp];
    for (uint32_t i = 0; i < c->b; i++)
        if (c->a + i != port && !still_verify_holds(v, comp, c->a + i)) return STILL_VERIFY_ALL;
    return STILL_VERIFY_PART;
}

static bool sound(const still_verify *v, uint32_t comp)
{
    return !v->whole[comp] && !v->stays[comp] &&
           still_verify_condition(v, comp) == STILL_CONDITION_SOUND;
}

static bool locks(const still_comp *c)
{
    return c->lockable == STILL_LOCKABLE_YES || c->lockable == STILL_LOCKABLE_ASSUMED;
}

/* D3: it fails closed, and what drives it is known and can be locked. */
static bool is_driven(const still_verify *v, uint32_t comp)
{
    const still_comp *c = &v->plant->comps[comp];
    size_t n = 0;
    const still_comp_feed *feeds = still_comp_feeds(v->plant, comp, &n);
    if (c->cls != STILL_CLASS_VALVE || !still_kind_stops(c->kind) || still_verify_by_hand(c))
        return false;
    if (c->fails != STILL_FAILS_CLOSED || !locks(c) || !sound(v, comp) || n == 0) return false;
    for (size_t i = 0; i < n; i++)
        if (!still_verify_feed_locks(&v->plant->feeds[feeds[i].feed])) return false;
    return true;
}

static bool is_closable(const still_verify *v, uint32_t comp)
{
    const still_comp *c = &v->plant->comps[comp];
    if (c->cls == STILL_CLASS_BLIND)
        return sound(v, comp) &&
               still_position_now(v->plant, v->state, comp) == STILL_POSITION_CLOSED;
    return v->driven[comp] || (c->cls == STILL_CLASS_VALVE && still_kind_stops(c->kind) &&
                               still_verify_by_hand(c) && locks(c) && sound(v, comp));
}

/* D5: by hand, can be locked, and its positions are declared. */
static bool is_fork(const still_verify *v, uint32_t comp)
{
    const still_comp *c = &v->plant->comps[comp];
    return c->cls == STILL_CLASS_VALVE && c->kind == STILL_KIND_THREE_WAY &&
           still_verify_by_hand(c) && locks(c) && sound(v, comp) &&
           still_comp_t(v->plant, comp, STILL_T_POSITIONS)[0] != '\0';
}

/* A blind whatever its position, a flanged end where a spade goes in, a spool that comes out. */
static bool is_positive(const still_verify *v, uint32_t comp)
{
    const still_comp *c = &v->plant->comps[comp];
    if (c->cls == STILL_CLASS_BLIND) return sound(v, comp);
    return c->cls == STILL_CLASS_SPOOL && sound(v, comp) &&
           (c->end_from == STILL_ENDS_FLANGED || c->end_to == STILL_ENDS_FLANGED ||
            c->removable == STILL_YESNO_YES);
}

static still_verify_join rule_closable(const still_verify *v, const void *with, uint32_t comp,
                                       uint32_t port)
{
    (void)with;
    (void)port;
    if (v->closable[comp] || v->fork[comp]) return STILL_VERIFY_PART;
    return still_verify_plain_join(v, comp);
}

static double service_bara(const still_plant *p, uint32_t service)
{
    return service == STILL_NONE ? (double)NAN : p->services[service].design_pressure_bara;
}

/* Where positive isolation is asked, its devices part the pieces, too. */
static bool parts_for_good(const still_verify *v, uint32_t comp)
{
    if (!v->positive[comp]) return false;
    if (strcmp(v->rec->grade_achieved, "positive") == 0) return true;
    for (size_t i = 0; i < v->rec->n_demands; i++)
        if (strcmp(v->rec->grade_achieved, "none") != 0 && v->mixed &&
            strcmp(v->rec->demands[i].grade, "positive") == 0)
            return true;
    return false;
}

static still_verify_join rule_piece(const still_verify *v, const void *with, uint32_t comp,
                                    uint32_t port)
{
    if (parts_for_good(v, comp)) return STILL_VERIFY_PART;
    return rule_closable(v, with, comp, port);
}

static void piece_known(still_verify *v, uint32_t piece, double bara)
{
    if (isnan(bara)) return;
    if (isnan(v->piece_bara[piece]) || bara > v->piece_bara[piece]) v->piece_bara[piece] = bara;
}

/* Live side's design pressure: services of the spools, vessels and exchanger sides, and what the
 * components declare themselves. A closable device belongs to neither piece. */
static void piece_pressures(still_verify *v)
{
    const still_plant *p = v->plant;
    for (uint32_t i = 0; i < p->n_comps; i++) {
        const still_comp *c = &p->comps[i];
        double own = still_comp_q(p, i, STILL_Q_DESIGN_PRESSURE_BARA);
        if (c->cls == STILL_CLASS_SPOOL) {
            double bara = service_bara(p, c->service);
            if (isnan(bara) && isnan(own)) v->piece_gap[v->piece[c->a]] = 1;
            /* A pipe that can be parted stands on both sides. */
            const uint32_t ends[2] = {v->piece[c->a], v->piece[c->b]};
            for (int e = 0; e < 2; e++) {
                piece_known(v, ends[e], bara);
                piece_known(v, ends[e], own);
            }
            continue;
        }
        for (uint32_t k = 0; k < c->b && !v->closable[i] && !v->fork[i] && !parts_for_good(v, i);
             k++) {
            uint32_t piece = v->piece[c->a + k], side = still_port_side(p, c->a + k);
            piece_known(v, piece, own);
            if (c->cls == STILL_CLASS_VESSEL) piece_known(v, piece, service_bara(p, c->service));
            if (side == STILL_NONE) continue;
            piece_known(v, piece, service_bara(p, p->sides[side].service));
            piece_known(v, piece, p->sides[side].design_pressure_bara);
        }
    }
}

void still_verify_pieces(still_verify *v)
{
    const still_plant *p = v->plant;
    still_verify_walk *w = &v->scratch;
    for (uint32_t i = 0; i < p->n_comps; i++) {
        v->driven[i] = is_driven(v, i);
        v->closable[i] = is_closable(v, i);
        v->fork[i] = is_fork(v, i);
        v->positive[i] = is_positive(v, i);
    }
    for (uint32_t i = 0; i < p->n_ports; i++) v->piece[i] = STILL_NONE;
    v->n_pieces = 0;
    for (uint32_t i = 0; i < p->n_ports; i++) {
        if (v->piece[i] != STILL_NONE) continue;
        still_verify_walk_reset(v, w);
        still_verify_walk_start(w, i);
        still_verify_walk_run(v, w, rule_piece, NULL);
        for (uint32_t k = 0; k < w->n; k++) v->piece[w->met[k]] = v->n_pieces;
        v->n_pieces++;
    }
    still_verify_walk_reset(v, w);
    for (uint32_t i = 0; i < v->n_pieces; i++) v->piece_bara[i] = (double)NAN;
    piece_pressures(v);
}

double still_verify_rating(const still_verify *v, uint32_t comp)
{
    const still_plant *p = v->plant;
    const still_comp *c = &p->comps[comp];
    double said = still_comp_q(p, comp, STILL_Q_RATING_BARA);
    if (isnan(said)) said = still_comp_q(p, comp, STILL_Q_DESIGN_PRESSURE_BARA);
    if (!isnan(said)) return said;
    if (c->cls == STILL_CLASS_SPOOL) return service_bara(p, c->service);
    for (uint32_t i = 0; i < c->b; i++) {
        uint32_t spool = p->ports[c->a + i].spool;
        if (spool == STILL_NONE) continue;
        double bara = service_bara(p, p->comps[spool].service);
        if (!isnan(bara) && (isnan(said) || bara < said)) said = bara;
    }
    return said;
}

bool still_verify_holds(const still_verify *v, uint32_t comp, uint32_t port)
{
    double rating = still_verify_rating(v, comp), live = v->piece_bara[v->piece[port]];
    return isnan(rating) || isnan(live) || rating >= live;
}

bool still_verify_open_end(const still_verify *v, uint32_t port)
{
    const still_port *at = &v->plant->ports[port];
    return at->spool == STILL_NONE && v->plant->comps[at->comp].cls != STILL_CLASS_CAP;
}

static still_verify_source machine(const still_verify *v, uint32_t comp)
{
    size_t n = 0;
    const still_comp_feed *feeds = still_comp_feeds(v->plant, comp, &n);
    for (size_t i = 0; i < n; i++)
        if (!still_verify_feed_locks(&v->plant->feeds[feeds[i].feed])) return STILL_VERIFY_HARD;
    return n == 0 ? STILL_VERIFY_HARD : STILL_VERIFY_SOFT;
}

still_verify_source still_verify_source_of(const still_verify *v, uint32_t comp)
{
    const still_comp *c = &v->plant->comps[comp];
    if (v->stays[comp] && !v->whole[comp]) return STILL_VERIFY_HARD;
    switch ((still_class)c->cls) {
    case STILL_CLASS_VESSEL:
        if (v->whole[comp]) return STILL_VERIFY_NO_SOURCE;
        return still_contents_now(v->plant, v->state, comp) == STILL_CONTENTS_NONE
                   ? STILL_VERIFY_NO_SOURCE
                   : STILL_VERIFY_SOFT;
    case STILL_CLASS_PUMP:
    case STILL_CLASS_COMPRESSOR: return v->whole[comp] ? STILL_VERIFY_NO_SOURCE : machine(v, comp);
    case STILL_CLASS_LIMIT:
        return c->dead == STILL_YESNO_YES ? STILL_VERIFY_NO_SOURCE : STILL_VERIFY_HARD;
    case STILL_CLASS_OUTLET:
        return c->shared == STILL_YESNO_NO && c->leads_to != STILL_LEADS_NOT_SAID
                   ? STILL_VERIFY_NO_SOURCE
                   : STILL_VERIFY_HARD;
    case STILL_CLASS_VALVE:
    case STILL_CLASS_EXCHANGER:
    case STILL_CLASS_FITTING:
    case STILL_CLASS_BLIND:
    case STILL_CLASS_CAP:
    case STILL_CLASS_SPOOL: return STILL_VERIFY_NO_SOURCE;
    case STILL_CLASS_NOT_SAID:
    case STILL_CLASS_COUNT: break;
    }
    return STILL_VERIFY_HARD; /* not understood */
}

still_verify_source still_verify_source_at(const still_verify *v, uint32_t port)
{
    if (still_verify_open_end(v, port)) return STILL_VERIFY_HARD;
    return still_verify_source_of(v, v->plant->ports[port].comp);
}

bool still_verify_live(const still_verify *v, uint32_t port)
{
    still_verify_source s = still_verify_source_at(v, port);
    return s == STILL_VERIFY_HARD ||
           (s == STILL_VERIFY_SOFT && !v->taken[v->plant->ports[port].comp]);
}

uint32_t still_verify_comp(const still_verify *v, const char *id)
{
    return still_plant_find(v->plant, id).v;
}

uint32_t still_verify_feed(const still_verify *v, const char *id)
{
    for (uint32_t i = 0; i < v->plant->n_feeds; i++)
        if (strcmp(still_text(v->plant, v->plant->feeds[i].id), id) == 0) return i;
    return STILL_NONE;
}

bool still_verify_in(still_strings list, const char *id)
{
    for (size_t i = 0; i < list.n; i++)
        if (strcmp(list.items[i], id) == 0) return true;
    return false;
}

bool still_verify_blocked(const still_verify *v, const char *rule, const char *id)
{
    for (size_t i = 0; i < v->rec->n_findings; i++) {
        const still_finding *f = &v->rec->findings[i];
        if (f->blocks && strcmp(f->id, id) == 0 && (rule == NULL || strcmp(f->rule, rule) == 0))
            return true;
    }
    return false;
}

bool still_verify_assumed(const still_verify *v, const char *id)
{
    for (size_t i = 0; i < v->rec->n_assumptions; i++)
        if (strcmp(v->rec->assumptions[i].id, id) == 0) return true;
    return false;
}
