/* Bleeds (I2, E1, E4): is a space bled, and by which outlet?
 *
 * Method: the space falls into compartments, what METHOD section 1, second column, joins while the
 * points part. Each needs an outlet to a safe place, flare or scrubber, not shared. Its *stub* is
 * what it is joined to without crossing a hand valve that can be held open; the stub may hold
 * nothing but pipework, and such a valve must lead on from it into the compartment. Devices inside
 * the stub that have feeds are passed only when these are locked.
 * Why it is right: the valve can be held open, locked or tagged, and behind it nothing lies between
 * the compartment and the open but pipe, a cap that can be taken off, and what a person opens by
 * hand. */
#include "verify_rules.h"

/* A hand valve that can be held open. */
static bool holdable(const still_verify *v, uint32_t comp)
{
    const still_comp *c = &v->plant->comps[comp];
    still_condition now = still_verify_condition(v, comp);
    return c->cls == STILL_CLASS_VALVE && still_kind_stops(c->kind) &&
           c->kind != STILL_KIND_STOP_CHECK && still_verify_by_hand(c) && !v->barrier[comp] &&
           now != STILL_CONDITION_SEIZED && now != STILL_CONDITION_UNREACHABLE;
}

static still_verify_join rule_compartment(const still_verify *v, const void *with, uint32_t comp,
                                          uint32_t port)
{
    (void)with;
    (void)port;
    return still_verify_drain_join(v, comp);
}

static still_verify_join rule_stub(const still_verify *v, const void *with, uint32_t comp,
                                   uint32_t port)
{
    (void)port;
    const bool *only_locked = with;
    size_t n = 0;
    const still_comp_feed *feeds = still_comp_feeds(v->plant, comp, &n);
    if (holdable(v, comp)) return STILL_VERIFY_PART;
    for (size_t i = 0; *only_locked && i < n; i++)
        if (v->plant->comps[comp].cls == STILL_CLASS_VALVE &&
            !v->locked[v->isolator_of[feeds[i].feed]])
            return STILL_VERIFY_PART;
    return still_verify_drain_join(v, comp);
}

/* Only pipework, its caps and outlets, and devices that a person opens. */
static bool bare(const still_verify *v, uint32_t port)
{
    uint32_t comp = v->plant->ports[port].comp;
    const still_comp *c = &v->plant->comps[comp];
    if (v->work_port[port] || v->barrier[comp]) return false;
    if (v->plant->ports[port].spool != STILL_NONE && v->barrier[v->plant->ports[port].spool])
        return false;
    switch ((still_class)c->cls) {
    case STILL_CLASS_FITTING:
    case STILL_CLASS_CAP:
    case STILL_CLASS_OUTLET:
    case STILL_CLASS_LIMIT:
    case STILL_CLASS_SPOOL: return true;
    case STILL_CLASS_VALVE:
    case STILL_CLASS_BLIND: return still_verify_drain_join(v, comp) != STILL_VERIFY_PART;
    case STILL_CLASS_NOT_SAID:
    case STILL_CLASS_VESSEL:
    case STILL_CLASS_PUMP:
    case STILL_CLASS_COMPRESSOR:
    case STILL_CLASS_EXCHANGER:
    case STILL_CLASS_COUNT: break;
    }
    return false;
}

static bool fit(const still_comp *c)
{
    return c->cls == STILL_CLASS_OUTLET && c->shared == STILL_YESNO_NO &&
           (c->leads_to == STILL_LEADS_SAFE_PLACE || c->leads_to == STILL_LEADS_FLARE_OR_SCRUBBER);
}

static void flood(still_verify *v, still_verify_walk *w, uint32_t port, still_verify_rule rule,
                  const bool *with)
{
    still_verify_walk_reset(v, w);
    still_verify_walk_start(w, port);
    still_verify_walk_run(v, w, rule, with);
}

bool still_verify_bleeds(still_verify *v, uint32_t outlet)
{
    static const bool any = false, locked = true;
    const still_plant *p = v->plant;
    const still_verify_walk *stub = &v->second, *way = &v->third;
    if (!fit(&p->comps[outlet])) return false;
    flood(v, &v->second, p->comps[outlet].a, rule_stub, &any);
    for (uint32_t i = 0; i < stub->n; i++)
        if (!bare(v, stub->met[i])) return false;
    flood(v, &v->third, p->comps[outlet].a, rule_stub, &locked);
    for (uint32_t i = 0; i < way->n; i++) {
        uint32_t comp = p->ports[way->met[i]].comp;
        const still_comp *c = &p->comps[comp];
        for (uint32_t k = 0; holdable(v, comp) && k < c->b; k++)
            if (!still_verify_met(stub, c->a + k)) return true;
    }
    return false;
}

bool still_verify_ports_bled(still_verify *v, const uint32_t *ports, uint32_t n, uint32_t *gap)
{
    const still_plant *p = v->plant;
    uint8_t *done = still_verify_room(v, p->n_ports, 1);
    *gap = STILL_NONE;
    if (done == NULL) return false;
    for (uint32_t i = 0; i < n; i++) {
        if (done[ports[i]]) continue;
        flood(v, &v->scratch, ports[i], rule_compartment, NULL);
        bool bled = false;
        for (uint32_t k = 0; k < v->scratch.n; k++) done[v->scratch.met[k]] = 1;
        for (uint32_t k = 0; k < v->scratch.n && !bled; k++) {
            uint32_t comp = p->ports[v->scratch.met[k]].comp;
            bled = p->comps[comp].cls == STILL_CLASS_OUTLET && still_verify_bleeds(v, comp);
        }
        if (bled) continue;
        *gap = ports[i];
        return false;
    }
    return true;
}

bool still_verify_bled(still_verify *v, uint32_t space)
{
    still_verify_space *s = &v->spaces[space];
    if (s->bled != 0) return s->bled == 1;
    uint32_t *ports = still_verify_room(v, v->plant->n_ports, sizeof *ports), n = 0, gap;
    if (ports == NULL) return false;
    for (uint32_t i = 0; i < v->plant->n_ports; i++)
        if (v->space_of[i] == space) ports[n++] = i;
    s->bled = still_verify_ports_bled(v, ports, n, &gap) ? 1 : 2;
    return s->bled == 1;
}

/* A way to a bleed as the record names it: devices from the space outward, the outlet last. */
static void one_way(still_verify *v, still_strings way, uint32_t space)
{
    const still_plant *p = v->plant;
    bool held = false;
    const char *last = way.items[way.n - 1];
    uint32_t end = still_verify_comp(v, last);
    if (end == STILL_NONE) return;
    if (!fit(&p->comps[end]) || !still_verify_bleeds(v, end))
        still_verify_against(v, "E4", last, "\"%s\" is no outlet to bleed by", last);
    for (size_t i = 0; i < way.n; i++) {
        const char *id = way.items[i];
        uint32_t comp = still_verify_comp(v, id);
        if (comp == STILL_NONE) continue;
        const still_comp *c = &p->comps[comp];
        if (v->barrier[comp] || c->cls == STILL_CLASS_SPOOL || v->space_of[c->a] != space) {
            still_verify_against(v, "E4", id, "the way to bleed at %s leaves its space at %s", last,
                                 id);
            continue;
        }
        still_position now = still_position_now(p, v->state, comp);
        bool open = now == STILL_POSITION_OPEN || now == STILL_POSITION_THROTTLED;
        if (holdable(v, comp)) held = true;
        if (c->cls == STILL_CLASS_VALVE && !v->opened[comp] && !open)
            still_verify_against(v, "E4", id, "%s on the way to bleed is not opened by any point",
                                 id);
    }
    if (!held) still_verify_against(v, "E4", last, "no hand valve on the way to bleed at %s", last);
}

/* The space that the ids of an entry lie in, or STILL_NONE. */
static uint32_t space_named(still_verify *v, still_strings ids, uint8_t *said)
{
    const still_plant *p = v->plant;
    uint32_t space = STILL_NONE;
    for (size_t i = 0; i < ids.n; i++) {
        uint32_t comp = still_verify_comp(v, ids.items[i]);
        if (comp == STILL_NONE) continue;
        said[comp] = 1;
        if (v->barrier[comp] || !(v->where[comp] & STILL_VERIFY_BETWEEN)) {
            still_verify_against(v, "I2", ids.items[i], "%s is said to lie between, but does not",
                                 ids.items[i]);
            continue;
        }
        const still_comp *c = &p->comps[comp];
        uint32_t n = c->cls == STILL_CLASS_SPOOL ? 2 : c->b, here = STILL_NONE;
        for (uint32_t k = 0; k < n; k++) {
            uint32_t port = c->cls == STILL_CLASS_SPOOL && k == 1 ? c->b : c->a + k;
            uint32_t at = v->space_of[port];
            if (v->spaces[at].where == STILL_VERIFY_BETWEEN && (here == STILL_NONE || at == space))
                here = at;
        }
        if (space != STILL_NONE && here != space)
            still_verify_against(v, "I2", ids.items[i], "%s lies in another space", ids.items[i]);
        space = here;
    }
    return space;
}

void still_verify_between(still_verify *v)
{
    const still_record *r = v->rec;
    uint8_t *said = still_verify_room(v, v->plant->n_comps, 1);
    if (said == NULL) return;
    for (size_t i = 0; i < r->n_between; i++) {
        const still_between *b = &r->between[i];
        uint32_t space = space_named(v, b->ids, said);
        for (size_t k = 0; k < b->n_bleeds && space != STILL_NONE; k++)
            if (b->bleeds[k].n > 0) one_way(v, b->bleeds[k], space);
    }
    for (uint32_t i = 0; i < v->plant->n_comps; i++)
        if ((v->where[i] & STILL_VERIFY_BETWEEN) && !said[i])
            still_verify_against(v, "I2", still_id_of(v->plant, i),
                                 "%s lies between, but is not said to", still_id_of(v->plant, i));
}
