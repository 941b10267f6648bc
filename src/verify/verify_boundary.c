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
        if (v->barrier[comp] && comp != v->target) continue;
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

static void listed_sources(still_verify *v, const uint8_t *soft, uint32_t n)
{
    const still_record *r = v->rec;
    for (size_t i = 0; i < r->n_sources_inside; i++) {
        const still_source_inside *s = &r->sources_inside[i];
        uint32_t comp = still_verify_comp(v, s->id);
        if (comp == STILL_NONE || !soft[comp])
            still_verify_against(v, "N4", s->id,
                                 "\"%s\" is listed as a source inside, but is none there", s->id);
        if (s->treatment[0] == '\0')
            still_verify_against(v, "N4", s->id, "source \"%s\" is taken inside without treatment",
                                 s->id);
        for (size_t k = 0; k < i; k++)
            if (strcmp(r->sources_inside[k].id, s->id) == 0)
                still_verify_against(v, "N4", s->id, "source \"%s\" is listed twice", s->id);
    }
    if (r->cost_sources != n || r->n_sources_inside != n)
        still_verify_against(v, "I4", "", "cost.sources is %u, listed are %zu, inside lie %u",
                             (unsigned)r->cost_sources, r->n_sources_inside, (unsigned)n);
}

/* METHOD 3.1: what the walk meets that every device which holds stops is inside in every plan; a
 * plan that takes in any other source has one too many. */
static void least_sources(still_verify *v, const uint8_t *soft)
{
    still_verify_walk *w = &v->scratch;
    still_verify_walk_reset(v, w);
    still_verify_walk_start_comp(v, w, v->target);
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
        if (said[i] && !v->inside_comp[i])
            still_verify_against(v, "I1", still_id_of(p, i), "%s is said to be inside, but is not",
                                 still_id_of(p, i));
        if (said[i] || !v->inside_comp[i]) continue;
        uint32_t port = STILL_NONE;
        for (uint32_t k = 0; k < v->inside.n && port == STILL_NONE; k++)
            if (p->ports[v->inside.met[k]].comp == i || p->ports[v->inside.met[k]].spool == i)
                port = v->inside.met[k];
        still_verify_against(v, "I1", still_id_of(p, i), "%s is inside, but not said to be: %s",
                             still_id_of(p, i),
                             port == STILL_NONE ? "" : still_verify_trail(v, &v->inside, port));
    }
}

/* One side inside and the other not: else to take the point away would change nothing (I4). */
static void separates(still_verify *v, const still_point *t, uint32_t comp)
{
    const still_comp *c = &v->plant->comps[comp];
    uint32_t in = 0, out = 0;
    if (c->cls == STILL_CLASS_SPOOL) return; /* refused already (D1) */
    for (uint32_t k = 0; k < c->b; k++) {
        if (still_verify_met(&v->inside, c->a + k))
            in++;
        else
            out++;
    }
    if (in == 0 || out == 0)
        still_verify_against(v, "I4", t->id, "\"%s\" parts nothing: both of its sides are %s",
                             t->id, in == 0 ? "outside" : "inside");
}

void still_verify_boundary(still_verify *v)
{
    const still_plant *p = v->plant;
    still_verify_walk_start_comp(v, &v->inside, v->target);
    still_verify_walk_run(v, &v->inside, still_verify_rule_points, NULL);
    v->inside_comp[v->target] = 1;
    for (uint32_t i = 0; i < v->inside.n; i++) {
        const still_port *port = &p->ports[v->inside.met[i]];
        if (!v->barrier[port->comp]) v->inside_comp[port->comp] = 1;
        if (port->spool != STILL_NONE) v->inside_comp[port->spool] = 1;
    }
    uint8_t *soft = still_verify_room(v, p->n_comps, 1);
    if (soft == NULL) return;
    uint32_t n = met_sources(v, soft);
    open_ends_of_barriers(v);
    listed_sources(v, soft, n);
    least_sources(v, soft);
    inside_list(v);
    for (size_t i = 0; i < v->rec->n_points; i++) {
        const still_point *t = &v->rec->points[i];
        uint32_t comp = v->point_comp[i];
        if (comp == STILL_NONE) continue;
        if (v->barrier[comp])
            separates(v, t, comp);
        else if (v->opened[comp] && !v->inside_comp[comp])
            still_verify_against(v, "I1", t->id, "\"%s\" is opened, but does not lie inside",
                                 t->id);
    }
    double mass = v->rec->cost_mass_kg;
    if (!isnan(mass) && (isinf(mass) || mass < 0))
        still_verify_against(v, "I4", "", "cost.mass is no mass");
}

void still_verify_ratings(still_verify *v)
{
    for (size_t i = 0; i < v->rec->n_points; i++) {
        uint32_t comp = v->point_comp[i];
        if (comp == STILL_NONE || !v->barrier[comp] || !v->closable[comp]) continue;
        const still_comp *c = &v->plant->comps[comp];
        const char *id = v->rec->points[i].id;
        double rating = still_verify_rating(v, comp);
        bool unknown = false;
        for (uint32_t k = 0; k < c->b; k++) {
            uint32_t port = c->a + k, piece = v->piece[port];
            if (still_verify_met(&v->inside, port)) continue;
            double live = v->piece_bara[piece];
            if (!still_verify_holds(v, comp, port))
                still_verify_against(v, "D7", id,
                                     "\"%s\" is rated %.6g bara, on its live side stand %.6g bara",
                                     id, rating, live);
            if (isnan(rating) || v->piece_gap[piece]) unknown = true;
        }
        if (unknown && !still_verify_assumed(v, id))
            still_verify_against(v, "D7", id,
                                 "that the rating of \"%s\" suffices is assumed, unsaid", id);
    }
}
