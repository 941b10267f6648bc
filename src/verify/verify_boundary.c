/* The boundary (I1), the sources inside it (N3, N4), that every barrier parts something (I4), and
 * that each holds what stands against it (D7).
 *
 * Method: walk from the target, all of whose ports are joined, through everything but the counted
 * barriers. Whatever that meets is inside, whatever the positions of today are. Why it is right:
 * METHOD section 1, first column, joins all that is not held closed by a lock. */
#include "verify_rules.h"

#include <string.h>

static bool listed(const still_record *r, const char *id)
{
    for (size_t i = 0; i < r->n_sources_inside; i++)
        if (strcmp(r->sources_inside[i].id, id) == 0) return true;
    return false;
}

static const char *why_hard(const still_verify *v, uint32_t port)
{
    if (still_verify_open_end(v, port)) return "an open end, a plant limit under pressure";
    switch ((still_class)v->plant->comps[v->plant->ports[port].comp].cls) {
    case STILL_CLASS_LIMIT: return "a plant limit";
    case STILL_CLASS_OUTLET: return "a shared outlet, or one not said to be unshared";
    case STILL_CLASS_PUMP:
    case STILL_CLASS_COMPRESSOR: return "a machine without feeds that can be locked";
    case STILL_CLASS_NOT_SAID:
    case STILL_CLASS_VESSEL:
    case STILL_CLASS_VALVE:
    case STILL_CLASS_EXCHANGER:
    case STILL_CLASS_FITTING:
    case STILL_CLASS_BLIND:
    case STILL_CLASS_CAP:
    case STILL_CLASS_SPOOL:
    case STILL_CLASS_COUNT: break;
    }
    return "a source";
}

/* Sources met: hard ones, and soft ones that the record does not list. Counts the soft ones. */
static uint32_t met_sources(still_verify *v, uint8_t *soft)
{
    uint32_t n = 0;
    for (uint32_t i = 0; i < v->inside.n; i++) {
        uint32_t port = v->inside.met[i], comp = v->plant->ports[port].comp;
        const char *id = still_id_of(v->plant, comp);
        if (v->barrier[comp] && !v->whole[comp]) continue;
        still_verify_source s = still_verify_source_at(v, port);
        if (s == STILL_VERIFY_HARD) {
            still_verify_against(v, "I1", id, "%s is not cut off: %s", why_hard(v, port),
                                 still_verify_trail(v, &v->inside, port));
        } else if (s == STILL_VERIFY_SOFT && !soft[comp]) {
            soft[comp] = 1;
            n++;
            if (!listed(v->rec, id))
                still_verify_against(v, "I1", id, "source %s is inside, but not listed: %s", id,
                                     still_verify_trail(v, &v->inside, port));
        }
    }
    return n;
}

/* An open end of a barrier on the side of the work would not be held back by it. */
static void open_ends_of_barriers(still_verify *v)
{
    for (uint32_t i = 0; i < v->inside.n; i++) {
        uint32_t port = v->inside.met[i], comp = v->plant->ports[port].comp;
        if (v->barrier[comp] && still_verify_open_end(v, port))
            still_verify_against(v, "I1", still_id_of(v->plant, comp),
                                 "an open end on the side of the work: %s",
                                 still_verify_trail(v, &v->inside, port));
    }
}

/* Of three devices in a row the outer space may be the bled one: no source stands in it. */
static bool bleeds_further_out(const still_verify *v, uint32_t comp)
{
    const still_comp *c = &v->plant->comps[comp];
    if (v->grade != STILL_VERIFY_DOUBLE_BLEED || c->cls == STILL_CLASS_SPOOL) return false;
    for (uint32_t k = 0; k < c->b; k++)
        if (v->spaces[v->space_of[c->a + k]].live) return false;
    return true;
}

static void listed_sources(still_verify *v, const uint8_t *soft, uint32_t n)
{
    const still_record *r = v->rec;
    for (size_t i = 0; i < r->n_sources_inside; i++) {
        const still_source_inside *s = &r->sources_inside[i];
        uint32_t comp = still_verify_comp(v, s->id);
        /* One further out may be emptied, too: what parts it from the work is not bled. */
        bool further = comp != STILL_NONE && !soft[comp] && v->grade == STILL_VERIFY_DOUBLE_BLEED &&
                       still_verify_source_of(v, comp) == STILL_VERIFY_SOFT;
        if (further) n++;
        if ((comp == STILL_NONE || !soft[comp]) && !further)
            still_verify_against(v, "N4", s->id,
                                 "\"%s\" is listed as a source inside, but is none there", s->id);
        if ((v->given & STILL_GIVEN_TREATMENTS) && s->treatment[0] == '\0')
            still_verify_against(v, "N4", s->id, "source \"%s\" is taken inside without treatment",
                                 s->id);
        for (size_t k = 0; k < i; k++)
            if (strcmp(r->sources_inside[k].id, s->id) == 0)
                still_verify_against(v, "N4", s->id, "source \"%s\" is listed twice", s->id);
    }
    bool cost = (v->given & STILL_GIVEN_COST) != 0;
    if ((cost && r->cost_sources != n) || r->n_sources_inside != n)
        still_verify_against(v, "I4", "", "cost.sources is %u, listed are %zu, inside lie %u",
                             (unsigned)r->cost_sources, r->n_sources_inside, (unsigned)n);
}

/* METHOD 3.1: what the walk meets that every device which holds stops is inside in every plan; a
 * plan that takes in any other source has one too many. */
static void least_sources(still_verify *v, const uint8_t *soft)
{
    still_verify_walk *w = &v->scratch;
    still_verify_walk_reset(v, w);
    for (uint32_t i = 0; i < v->plant->n_ports; i++)
        if (v->work_port[i]) still_verify_walk_start(w, i);
    still_verify_walk_run(v, w, still_verify_rule_holding, NULL);
    uint8_t *forced = still_verify_room(v, v->plant->n_comps, 1);
    if (forced == NULL) return;
    for (uint32_t i = 0; i < w->n; i++) forced[v->plant->ports[w->met[i]].comp] = 1;
    for (uint32_t i = 0; i < v->plant->n_comps; i++)
        if (soft[i] && !forced[i])
            still_verify_against(v, "I4", still_id_of(v->plant, i),
                                 "source %s is taken inside, though a point could keep it out",
                                 still_id_of(v->plant, i));
}

static void inside_list(still_verify *v)
{
    const still_plant *p = v->plant;
    const still_record *r = v->rec;
    uint8_t *said = still_verify_room(v, p->n_comps, 1);
    if (said == NULL) return;
    for (size_t i = 0; i < r->inside.n; i++) {
        uint32_t comp = still_verify_comp(v, r->inside.items[i]);
        if (comp == STILL_NONE) continue;
        if (said[comp])
            still_verify_against(v, "I1", r->inside.items[i], "inside names \"%s\" twice",
                                 r->inside.items[i]);
        said[comp] = 1;
    }
    for (uint32_t i = 0; i < p->n_comps; i++) {
        if (said[i] && !(v->where[i] & STILL_VERIFY_AT_WORK))
            still_verify_against(v, "I1", still_id_of(p, i), "%s is said to be inside, but is not",
                                 still_id_of(p, i));
        if (said[i] || !(v->where[i] & STILL_VERIFY_AT_WORK)) continue;
        uint32_t port = STILL_NONE;
        for (uint32_t k = 0; k < v->inside.n && port == STILL_NONE; k++)
            if (p->ports[v->inside.met[k]].comp == i || p->ports[v->inside.met[k]].spool == i)
                port = v->inside.met[k];
        still_verify_against(v, "I1", still_id_of(p, i), "%s is inside, but not said to be: %s",
                             still_id_of(p, i),
                             port == STILL_NONE ? "" : still_verify_trail(v, &v->inside, port));
    }
}

/* Sources in a space between that are taken inside; live ones there are refused with the paths. */
static uint32_t between_sources(const still_verify *v, uint8_t *soft)
{
    uint32_t n = 0;
    for (uint32_t i = 0; i < v->plant->n_ports; i++) {
        uint32_t comp = v->plant->ports[i].comp;
        if (v->spaces[v->space_of[i]].where != STILL_VERIFY_BETWEEN || soft[comp]) continue;
        if (still_verify_source_at(v, i) != STILL_VERIFY_SOFT) continue;
        soft[comp] = 1;
        n++;
    }
    return n;
}

void still_verify_boundary(still_verify *v)
{
    const still_plant *p = v->plant;
    uint8_t *soft = still_verify_room(v, p->n_comps, 1);
    if (soft == NULL) return;
    uint32_t n = met_sources(v, soft) + between_sources(v, soft);
    open_ends_of_barriers(v);
    listed_sources(v, soft, n);
    if (v->n_levels == 1 && v->grade == STILL_VERIFY_SINGLE && !v->mixed) least_sources(v, soft);
    if (v->given & STILL_GIVEN_INSIDE) inside_list(v);
    for (size_t i = 0; i < v->rec->n_points; i++) {
        const still_point *t = &v->rec->points[i];
        uint32_t comp = v->point_comp[i];
        if (comp != STILL_NONE && !v->barrier[comp] && v->opened[comp] && v->where[comp] == 0 &&
            !bleeds_further_out(v, comp))
            still_verify_against(v, "I1", t->id, "\"%s\" is opened, but does not lie inside",
                                 t->id);
    }
    double mass = v->rec->cost_mass_kg;
    if (!isnan(mass) && (isinf(mass) || mass < 0))
        still_verify_against(v, "I4", "", "cost.mass is no mass");
}

/* What can stand against a device from one of its sides, in bar absolute; NAN = unknown. */
static bool withstands(double rating, double live)
{
    return isnan(rating) || isnan(live) || rating >= live;
}

static void rate(still_verify *v, const char *id, uint32_t comp)
{
    const still_comp *c = &v->plant->comps[comp];
    bool spool = c->cls == STILL_CLASS_SPOOL, unknown = false;
    uint32_t n = spool ? 2 : c->b;
    bool nearest = false; /* it bounds the space next to the work's */
    double rating = still_verify_rating(v, comp);
    for (uint32_t k = 0; k < n; k++) {
        const still_verify_space *at = &v->spaces[v->space_of[spool && k == 1 ? c->b : c->a + k]];
        nearest = nearest || (at->where == STILL_VERIFY_BETWEEN && !at->further);
    }
    for (uint32_t k = 0; k < n; k++) {
        uint32_t port = spool && k == 1 ? c->b : c->a + k, piece = v->piece[port];
        const still_verify_space *space = &v->spaces[v->space_of[port]];
        double live = v->piece_bara[piece];
        if (space->where == STILL_VERIFY_AT_WORK) continue;
        /* Of a second device the side nearer to the work is not the live one. */
        if (space->where == STILL_VERIFY_BETWEEN && v->level[comp] == 2 &&
            (!space->further || !nearest))
            continue;
        /* Beyond a pipe that could be parted it is told as a finding (METHOD 3). */
        bool told = still_verify_asks_positive(v) && still_verify_blocked(v, "D7", id);
        if (!withstands(rating, live) && !told)
            still_verify_against(v, "D7", id,
                                 "\"%s\" is rated %.6g bara, on its live side stand %.6g bara", id,
                                 rating, live);
        if (isnan(rating) || v->piece_gap[piece]) unknown = true;
    }
    if (unknown && (v->given & STILL_GIVEN_ASSUMPTIONS) && !still_verify_assumed(v, id))
        still_verify_against(v, "D7", id, "that the rating of \"%s\" suffices is assumed, unsaid",
                             id);
}

void still_verify_ratings(still_verify *v)
{
    for (size_t i = 0; i < v->rec->n_points; i++) {
        uint32_t comp = v->point_comp[i];
        if (comp != STILL_NONE && v->barrier[comp]) rate(v, v->rec->points[i].id, comp);
    }
}
