/* Two floods from the work.
 * Problem: I3 asks for line size and pressure near the work, and for every source, before the cut.
 * Method: halves of ports are the nodes, so that an opened joint parts its two sides; breadth-first
 * floods. Regions are disjoint sets that grow with every joint that is walked.
 * D7: a device that its rating refuses does not stop the walk. What can stand against it is the
 * piece behind it: what is joined there without passing another device that may be a point.
 * Cost: linear in what is reached; the arrays are taken zeroed and touched only there. */
#include "workreach.h"

#include "alloc.h"

#include <string.h>

static bool push(still_halves *list, uint32_t half)
{
    if (!still_grow(&list->items, &list->cap, list->n + 1, sizeof list->items[0])) return false;
    list->items[list->n++] = half;
    return true;
}

static bool joint_opened(const still_workreach *r, uint32_t port)
{
    for (size_t i = 0; i < r->targets->n; i++)
        if (r->targets->items[i].port == port) return true;
    return false;
}

/* Neighbours in the order of the ports: enough where all are joined and none can stop. */
static uint32_t next_in_chain(const still_comp *c, uint32_t port, uint32_t *k)
{
    if (*k == 0 && port == c->a) *k = 1;
    if (*k >= 2 || (*k == 1 && port + 1 == c->a + c->b)) return STILL_NONE;
    return (*k)++ == 0 ? port - 1 : port + 1;
}

/* Next port that the component joins to one of its ports; in the end every port that it joins is
 * come to. */
static uint32_t next_inside(const still_workreach *r, uint32_t port, uint32_t *k)
{
    uint32_t comp = r->plant->ports[port].comp, side = still_port_side(r->plant, port);
    const still_comp *c = &r->plant->comps[comp];
    if (still_opened_whole(r->targets, comp)) return STILL_NONE;
    if (c->cls == STILL_CLASS_EXCHANGER && side != STILL_NONE &&
        still_opened_side(r->plant, r->targets, side))
        return STILL_NONE;
    /* A header may have thousands of ports: all pairs of them would be too many. */
    if (c->cls != STILL_CLASS_VALVE && c->cls != STILL_CLASS_BLIND &&
        c->cls != STILL_CLASS_EXCHANGER)
        return next_in_chain(c, port, k);
    while (*k < c->b) {
        uint32_t q = c->a + (*k)++;
        if (q == port) continue;
        if (c->cls == STILL_CLASS_EXCHANGER && still_port_side(r->plant, q) != side) continue;
        return q;
    }
    return STILL_NONE;
}

uint32_t still_half_next(const still_workreach *r, uint32_t half, uint32_t *k)
{
    uint32_t port = half / 2, spool = r->plant->ports[port].spool;
    if (half % 2 == 0) {
        uint32_t q = next_inside(r, port, k);
        if (q != STILL_NONE) return 2 * q;
    } else if ((*k)++ == 0 && spool != STILL_NONE && !still_opened_whole(r->targets, spool)) {
        return 2 * still_port_across(r->plant, port) + 1;
    }
    /* The other half, once: the counter is set behind all else. */
    uint32_t end = UINT32_MAX / 2;
    if (*k >= end || joint_opened(r, port)) return STILL_NONE;
    *k = end;
    return half ^ 1;
}

static bool locks(unsigned lockable)
{
    return lockable == STILL_LOCKABLE_YES || lockable == STILL_LOCKABLE_ASSUMED;
}

static bool all_feeds_lock(const still_plant *plant, uint32_t comp)
{
    size_t n;
    const still_comp_feed *feeds = still_comp_feeds(plant, comp, &n);
    for (size_t i = 0; i < n; i++)
        if (!locks(plant->feeds[feeds[i].feed].lockable)) return false;
    return n > 0;
}

/* D5: some declared position leaves the port out, and so parts it from the others. */
static bool three_way_parts(const still_plant *plant, uint32_t comp, uint32_t port)
{
    const char *at = still_comp_t(plant, comp, STILL_T_POSITIONS);
    char name = still_text(plant, still_port_name(plant, port))[0];
    while (*(at += strspn(at, " ,")) != '\0') {
        size_t len = strcspn(at, " ,");
        if (memchr(at, name, len) == NULL) return true;
        at += len;
    }
    return false;
}

bool still_stops_at(const still_workreach *r, uint32_t port)
{
    uint32_t comp = r->plant->ports[port].comp;
    const still_comp *c = &r->plant->comps[comp];
    if (still_opened_whole(r->targets, comp)) return false;
    if (still_condition_now(r->plant, r->state, comp) != STILL_CONDITION_SOUND) return false;
    if (c->cls == STILL_CLASS_BLIND)
        return still_position_now(r->plant, r->state, comp) == STILL_POSITION_CLOSED;
    if (c->cls != STILL_CLASS_VALVE || !locks(c->lockable)) return false;
    if (c->kind == STILL_KIND_THREE_WAY)
        return still_by_hand(c) && three_way_parts(r->plant, comp, port);
    if (!still_kind_stops(c->kind)) return false;
    return still_by_hand(c) || (c->fails == STILL_FAILS_CLOSED && all_feeds_lock(r->plant, comp));
}

static void raise(double *max, double value)
{
    if (isnan(*max) || value > *max) *max = value;
}

/* Design pressures that are known at a half: of the pipe, or of the component. */
static void raise_design(const still_workreach *r, double *max, uint32_t half)
{
    const still_plant *p = r->plant;
    uint32_t port = half / 2, side = still_port_side(p, port);
    uint32_t comp = half % 2 == 0 ? p->ports[port].comp : p->ports[port].spool;
    if (comp == STILL_NONE) return;
    const still_comp *c = &p->comps[comp];
    raise(max, still_comp_q(p, comp, STILL_Q_DESIGN_PRESSURE_BARA));
    if (c->cls == STILL_CLASS_SPOOL || c->cls == STILL_CLASS_VESSEL)
        raise(max, still_service_design_bara(p, c->service));
    if (c->cls == STILL_CLASS_EXCHANGER && side != STILL_NONE)
        raise(max, still_side_design_bara(p, side));
}

/* Number of the piece that holds a half, filled when first asked for. */
static bool piece_at(still_workreach *r, uint32_t half, uint32_t *number)
{
    if (r->piece[half] == 0) {
        if (!still_grow(&r->piece_max_bara, &r->cap_pieces, r->n_pieces + 1,
                        sizeof r->piece_max_bara[0]))
            return false;
        double max = (double)NAN;
        r->queue.n = 0;
        r->piece[half] = (uint32_t)++r->n_pieces;
        if (!push(&r->queue, half)) return false;
        for (size_t i = 0; i < r->queue.n; i++) {
            uint32_t h = r->queue.items[i], k = 0, q;
            bool stops = h % 2 == 0 && still_stops_at(r, h / 2);
            if (!stops) raise_design(r, &max, h);
            while ((q = still_half_next(r, h, &k)) != STILL_NONE) {
                if (r->piece[q] != 0 || (stops && q != (h ^ 1))) continue;
                r->piece[q] = (uint32_t)r->n_pieces;
                if (!push(&r->queue, q)) return false;
            }
        }
        r->piece_max_bara[r->n_pieces - 1] = max;
    }
    *number = r->piece[half] - 1;
    return true;
}

/* Rating by D7: its own, else its own design pressure, else the least of its pipes. */
static double rating_bara(const still_plant *p, uint32_t comp)
{
    double rating = still_comp_q(p, comp, STILL_Q_RATING_BARA);
    if (isnan(rating)) rating = still_comp_q(p, comp, STILL_Q_DESIGN_PRESSURE_BARA);
    if (!isnan(rating)) return rating;
    for (uint32_t i = 0; i < p->comps[comp].b; i++) {
        uint32_t spool = p->ports[p->comps[comp].a + i].spool;
        if (spool == STILL_NONE) continue;
        double design = still_service_design_bara(p, p->comps[spool].service);
        if (isnan(rating) || design < rating) rating = design;
    }
    return rating;
}

/* Is the device at this port held back by its rating from stopping what stands behind it? */
static bool refused(still_workreach *r, uint32_t port, bool *yes)
{
    double rating = rating_bara(r->plant, r->plant->ports[port].comp);
    uint32_t k = 0, q, number;
    *yes = false;
    while ((q = next_inside(r, port, &k)) != STILL_NONE) {
        if (!piece_at(r, 2 * q, &number)) return false;
        if (rating < r->piece_max_bara[number]) *yes = true;
    }
    return true;
}

static bool add_near(still_workreach *r, uint32_t half)
{
    if (r->is_near[half]) return true;
    r->is_near[half] = 1;
    return push(&r->near, half);
}

static bool find_near(still_workreach *r)
{
    for (size_t i = 0; i < r->near.n; i++) {
        uint32_t h = r->near.items[i], k = 0, q;
        bool stops = h % 2 == 0 && still_stops_at(r, h / 2), no = false;
        if (stops && !refused(r, h / 2, &no)) return false;
        if (no) stops = false;
        while ((q = still_half_next(r, h, &k)) != STILL_NONE)
            if ((!stops || q == (h ^ 1)) && !add_near(r, q)) return false;
    }
    return true;
}

uint32_t still_region_of(still_workreach *r, uint32_t half)
{
    while (r->region[half] != half + 1) {
        r->region[half] = r->region[r->region[half] - 1];
        half = r->region[half] - 1;
    }
    return half;
}

static void unite(still_workreach *r, uint32_t a, uint32_t b)
{
    a = still_region_of(r, a);
    b = still_region_of(r, b);
    if (a < b)
        r->region[b] = a + 1;
    else
        r->region[a] = b + 1;
}

static bool add_reached(still_workreach *r, uint32_t half)
{
    if (r->region[half] != 0) return true;
    r->region[half] = half + 1;
    return push(&r->reached, half);
}

/* N3, N2: a source by its component. What is opened whole is none, a limit or shared outlet aside,
 * which stays one. */
static bool is_source(const still_workreach *r, uint32_t comp)
{
    const still_comp *c = &r->plant->comps[comp];
    bool opened = still_opened_whole(r->targets, comp);
    switch ((still_class)c->cls) {
    case STILL_CLASS_VESSEL:
        return !opened && still_contents_now(r->plant, r->state, comp) != STILL_CONTENTS_NONE;
    case STILL_CLASS_PUMP:
    case STILL_CLASS_COMPRESSOR: return !opened;
    case STILL_CLASS_LIMIT: return c->dead != STILL_YESNO_YES;
    case STILL_CLASS_OUTLET:
        return c->shared != STILL_YESNO_NO || c->leads_to == STILL_LEADS_NOT_SAID;
    case STILL_CLASS_VALVE:
    case STILL_CLASS_EXCHANGER:
    case STILL_CLASS_FITTING:
    case STILL_CLASS_BLIND:
    case STILL_CLASS_CAP:
    case STILL_CLASS_SPOOL: return false;
    case STILL_CLASS_NOT_SAID:
    case STILL_CLASS_COUNT: break;
    }
    return true;
}

static bool add_source(still_workreach *r, uint32_t comp, uint32_t port, uint32_t half)
{
    if (!still_grow(&r->sources, &r->cap_sources, r->n_sources + 1, sizeof r->sources[0]))
        return false;
    r->sources[r->n_sources++] = (still_reached){comp, port, half};
    return true;
}

static bool passed(const still_workreach *r, uint32_t comp, uint32_t half)
{
    if (r->is_near[half]) return true;
    for (size_t i = 0; i < r->n_through; i++)
        if (r->through[i] == comp) return true;
    return false;
}

/* Meet the component at one of its ports. *stops: a source that is not passed. */
static bool meet(still_workreach *r, uint32_t half, bool *stops)
{
    uint32_t port = half / 2, comp = r->plant->ports[port].comp;
    const still_comp *c = &r->plant->comps[comp];
    bool dangles = r->plant->ports[port].spool == STILL_NONE && c->cls != STILL_CLASS_CAP;
    *stops = false;
    if (is_source(r, comp)) {
        *stops = !passed(r, comp, half);
        uint32_t at = r->source_at[comp];
        if (at != 0) {
            unite(r, r->sources[at - 1].half, half);
        } else {
            if (!add_source(r, comp, STILL_NONE, half)) return false;
            r->source_at[comp] = (uint32_t)r->n_sources;
        }
        if (c->cls == STILL_CLASS_LIMIT || c->cls == STILL_CLASS_OUTLET) dangles = false;
    }
    return !dangles || add_source(r, comp, port, half);
}

static bool find_reached(still_workreach *r)
{
    for (size_t i = 0; i < r->reached.n; i++) {
        uint32_t h = r->reached.items[i], k = 0, q;
        bool stops = false;
        if (h % 2 == 0 && !meet(r, h, &stops)) return false;
        while ((q = still_half_next(r, h, &k)) != STILL_NONE) {
            if (stops && q != (h ^ 1)) continue;
            if (!add_reached(r, q)) return false;
            unite(r, h, q);
        }
    }
    return true;
}

/* Both floods begin at the ports of what is opened. */
static bool begin(still_workreach *r)
{
    const still_plant *p = r->plant;
    for (size_t i = 0; i < r->targets->n; i++) {
        const still_target *t = &r->targets->items[i];
        const still_comp *c = &p->comps[t->comp];
        bool spool = c->cls == STILL_CLASS_SPOOL;
        uint32_t n = spool ? 2 : c->b;
        for (uint32_t k = 0; k < n; k++) {
            uint32_t port = !spool ? c->a + k : k == 0 ? c->a : c->b;
            if (t->port != STILL_NONE && t->port != port) continue;
            if (t->side != STILL_NONE && still_port_side(p, port) != t->side) continue;
            for (uint32_t half = 2 * port; half <= 2 * port + 1; half++)
                if (!add_near(r, half) || !add_reached(r, half)) return false;
        }
    }
    return true;
}

still_status still_workreach_find(still_workreach *r, const still_plant *plant,
                                  const still_state *state, const still_targets *targets,
                                  const uint32_t *through, size_t n_through)
{
    size_t n = (size_t)plant->n_ports * 2;
    *r = (still_workreach){.plant = plant,
                           .state = state,
                           .targets = targets,
                           .through = through,
                           .n_through = n_through};
    r->is_near = still_calloc(n, 1);
    r->region = still_calloc(n, sizeof r->region[0]);
    r->piece = still_calloc(n, sizeof r->piece[0]);
    r->source_at = still_calloc(plant->n_comps, sizeof r->source_at[0]);
    if (r->is_near == NULL || r->region == NULL || r->piece == NULL || r->source_at == NULL)
        return STILL_E_NOMEM;
    return begin(r) && find_near(r) && find_reached(r) ? STILL_OK : STILL_E_NOMEM;
}

void still_workreach_clear(still_workreach *r)
{
    still_free(r->near.items);
    still_free(r->reached.items);
    still_free(r->queue.items);
    still_free(r->is_near);
    still_free(r->region);
    still_free(r->piece);
    still_free(r->piece_max_bara);
    still_free(r->source_at);
    still_free(r->sources);
    *r = (still_workreach){0};
}
