/* Compartments and their ways out (E1, E2, E4; METHOD section 6).
 *
 * Method: a compartment is taken at its word and tested: a walk that only goes where METHOD
 * section 1, second column, joins, and through no shut device that the plan does not open, must
 * reach all that it names, without leaving what lies inside. A way out is walked within the ids of
 * its compartment and the devices opened on it. */
#include "verify_rules.h"

#include <string.h>

typedef enum use { VENT, DRAIN, PROVE } use;

typedef struct space {
    uint8_t *in;   /**< by component: may be entered */
    uint8_t *way;  /**< by component: named by the way looked at, opened for it */
    uint8_t where; /**< STILL_VERIFY_AT_WORK or STILL_VERIFY_BETWEEN */
} space;

static bool can_be_opened(const still_verify *v, uint32_t comp)
{
    still_condition now = still_verify_condition(v, comp);
    return now != STILL_CONDITION_SEIZED && now != STILL_CONDITION_UNREACHABLE;
}

static bool valve_joins(const still_verify *v, uint32_t comp)
{
    const still_comp *c = &v->plant->comps[comp];
    still_position now = still_position_now(v->plant, v->state, comp);
    bool open = now == STILL_POSITION_OPEN || now == STILL_POSITION_THROTTLED;
    bool by_hand = c->manual_opening == STILL_YESNO_YES && can_be_opened(v, comp);
    bool parts = c->kind == STILL_KIND_CHECK || c->kind == STILL_KIND_STOP_CHECK ||
                 c->kind == STILL_KIND_RELIEF || c->kind == STILL_KIND_RUPTURE_DISC ||
                 c->kind == STILL_KIND_THREE_WAY || c->kind == STILL_KIND_UNKNOWN ||
                 c->kind == STILL_KIND_NOT_SAID;
    if (parts) return false;
    if (!still_kind_stops(c->kind)) return by_hand;
    if (still_verify_by_hand(c)) return open || can_be_opened(v, comp);
    return by_hand || (open && (c->fails == STILL_FAILS_OPEN || c->fails == STILL_FAILS_STAYS));
}

/* Second column of METHOD section 1. Points part; the target is still whole while one drains it. */
still_verify_join still_verify_drain_join(const still_verify *v, uint32_t comp)
{
    const still_comp *c = &v->plant->comps[comp];
    if (still_verify_shuts(v, comp)) return STILL_VERIFY_PART;
    switch ((still_class)c->cls) {
    case STILL_CLASS_EXCHANGER: return STILL_VERIFY_SIDES;
    case STILL_CLASS_VALVE: return valve_joins(v, comp) ? STILL_VERIFY_ALL : STILL_VERIFY_PART;
    case STILL_CLASS_BLIND:
        return still_position_now(v->plant, v->state, comp) == STILL_POSITION_OPEN
                   ? STILL_VERIFY_ALL
                   : STILL_VERIFY_PART;
    case STILL_CLASS_NOT_SAID:
    case STILL_CLASS_CAP:
    case STILL_CLASS_COUNT: return STILL_VERIFY_PART;
    case STILL_CLASS_VESSEL:
    case STILL_CLASS_PUMP:
    case STILL_CLASS_COMPRESSOR:
    case STILL_CLASS_FITTING:
    case STILL_CLASS_OUTLET:
    case STILL_CLASS_LIMIT:
    case STILL_CLASS_SPOOL: break;
    }
    return STILL_VERIFY_ALL;
}

static bool open_now(const still_verify *v, uint32_t comp)
{
    still_position now = still_position_now(v->plant, v->state, comp);
    return now == STILL_POSITION_OPEN || now == STILL_POSITION_THROTTLED;
}

/* What is joined while one drains: of the devices that could be opened, those that are. Pipes and
 * fittings inside may always be entered, since none can be reached but through such a device. */
static still_verify_join rule_space(const still_verify *v, const void *with, uint32_t comp,
                                    uint32_t port)
{
    const space *s = with;
    const still_comp *c = &v->plant->comps[comp];
    bool pipe = c->cls == STILL_CLASS_SPOOL || c->cls == STILL_CLASS_FITTING;
    (void)port;
    bool fitted_later = v->barrier[comp] && !still_verify_shuts(v, comp);
    if (!s->in[comp] && !s->way[comp] && !fitted_later && !(pipe && (v->where[comp] & s->where)))
        return STILL_VERIFY_PART;
    if (c->cls != STILL_CLASS_VALVE) return still_verify_drain_join(v, comp);
    if (!v->opened[comp] && !open_now(v, comp)) return STILL_VERIFY_PART;
    /* A self-closing valve is held open by hand as long as one drains through it. */
    if (s->way[comp] && c->kind == STILL_KIND_SELF_CLOSING) return STILL_VERIFY_ALL;
    return still_verify_drain_join(v, comp);
}

static void mark(const still_verify *v, uint8_t *marks, still_strings ids, uint8_t value)
{
    for (size_t i = 0; i < ids.n; i++) {
        uint32_t comp = still_verify_comp(v, ids.items[i]);
        if (comp != STILL_NONE) marks[comp] = value;
    }
}

static bool met_comp(const still_verify *v, const still_verify_walk *w, uint32_t comp)
{
    const still_comp *c = &v->plant->comps[comp];
    if (c->cls == STILL_CLASS_SPOOL) return still_verify_met(w, c->a) || still_verify_met(w, c->b);
    for (uint32_t k = 0; k < c->b; k++)
        if (still_verify_met(w, c->a + k)) return true;
    return false;
}

/* A component from which the whole compartment must be reached: a spool where it has one. */
static uint32_t first_of(const still_verify *v, still_strings ids)
{
    uint32_t any = STILL_NONE;
    for (size_t i = 0; i < ids.n; i++) {
        uint32_t comp = still_verify_comp(v, ids.items[i]);
        if (comp == STILL_NONE) continue;
        if (v->plant->comps[comp].cls == STILL_CLASS_SPOOL) return comp;
        if (any == STILL_NONE) any = comp;
    }
    return any;
}

static void walk_space(still_verify *v, const space *s, uint32_t first)
{
    still_verify_walk *w = &v->scratch;
    still_verify_walk_reset(v, w);
    still_verify_walk_start_comp(v, w, first);
    still_verify_walk_run(v, w, rule_space, s);
}

/* Is the part of a walk from its n-th port on a stub: pipe to an outlet behind a device that stays
 * shut, with nothing in it that holds an inventory, and no point at it? */
static bool is_stub(const still_verify *v, const still_verify_walk *w, uint32_t n)
{
    bool outlet = false;
    for (uint32_t i = n; i < w->n; i++) {
        uint32_t comp = v->plant->ports[w->met[i]].comp;
        uint8_t cls = v->plant->comps[comp].cls;
        if (cls == STILL_CLASS_OUTLET) outlet = true;
        /* A self-closing valve ends the part, and only an outlet lies behind it. */
        if (cls == STILL_CLASS_VALVE && v->plant->comps[comp].kind == STILL_KIND_SELF_CLOSING)
            outlet = true;
        if (v->work_port[w->met[i]] || v->barrier[comp] || cls == STILL_CLASS_VESSEL ||
            cls == STILL_CLASS_EXCHANGER || cls == STILL_CLASS_PUMP ||
            cls == STILL_CLASS_COMPRESSOR)
            return false;
    }
    return outlet;
}

/* All of a compartment must be one part, stubs aside. @return a component of that part */
static uint32_t joined_throughout(still_verify *v, const still_compartment *c, const space *s)
{
    still_verify_walk *w = &v->scratch;
    uint32_t main_part = STILL_NONE;
    if (first_of(v, c->ids) == STILL_NONE)
        still_verify_against(v, "E1", "", "a compartment without ids");
    still_verify_walk_reset(v, w);
    for (size_t i = 0; i < c->ids.n; i++) {
        uint32_t comp = still_verify_comp(v, c->ids.items[i]), before = w->n;
        if (comp == STILL_NONE) continue;
        const char *id = c->ids.items[i];
        uint8_t cls = v->plant->comps[comp].cls;
        if (!(v->where[comp] & s->where) && !(v->barrier[comp] && !still_verify_shuts(v, comp)))
            still_verify_against(v, "E1", id, "%s is in a compartment, but not %s", id,
                                 s->where == STILL_VERIFY_AT_WORK ? "inside" : "between");
        /* Devices stand between parts; what they join is seen from the pipes. */
        if (cls == STILL_CLASS_VALVE || cls == STILL_CLASS_BLIND || cls == STILL_CLASS_CAP)
            continue;
        if (met_comp(v, w, comp)) continue;
        still_verify_walk_start_comp(v, w, comp);
        still_verify_walk_run(v, w, rule_space, s);
        if (is_stub(v, w, before)) continue;
        if (main_part != STILL_NONE)
            still_verify_against(v, "E1", id,
                                 "%s and %s are called one compartment, but are parted", id,
                                 still_id_of(v->plant, main_part));
        else
            main_part = comp;
    }
    return main_part == STILL_NONE ? first_of(v, c->ids) : main_part;
}

/* E4: is the outlet admitted for the use? A vent is where pressure is let down (second row of the
 * table); the proof of zero needs an outlet of the first row. */
static bool outlet_fits(const still_comp *c, use u)
{
    bool alone = c->shared == STILL_YESNO_NO;
    if (c->cls != STILL_CLASS_OUTLET) return false;
    switch ((still_leads)c->leads_to) {
    case STILL_LEADS_SAFE_PLACE: return true;
    case STILL_LEADS_FLARE_OR_SCRUBBER: return alone;
    case STILL_LEADS_CLOSED_DRAIN:
    case STILL_LEADS_RECOVERY:
    case STILL_LEADS_WATER: return alone && u != PROVE;
    case STILL_LEADS_NOT_SAID:
    case STILL_LEADS_COUNT: break;
    }
    return false;
}

/* An outlet that stands open to the air: what it belongs to holds no pressure. */
static bool open_air(const still_comp *c)
{
    return c->cls == STILL_CLASS_OUTLET && c->fitted == STILL_FITTED_OPEN && outlet_fits(c, PROVE);
}

static const char *const use_words[] = {"vent", "drain", "prove zero"};

/* The devices that a way names: hand valves that can be held open and have their tag. */
static void way_devices(still_verify *v, const space *s, still_strings way, use u)
{
    const char *end = way.items[way.n - 1];
    size_t hand = 0, attended = 0;
    for (size_t i = 0; i < way.n; i++) {
        const char *id = way.items[i];
        uint32_t comp = still_verify_comp(v, id);
        if (comp == STILL_NONE) continue;
        const still_comp *c = &v->plant->comps[comp];
        bool fitted_later = v->barrier[comp] && !still_verify_shuts(v, comp);
        if (still_verify_shuts(v, comp) || (!fitted_later && !(v->where[comp] & s->where)))
            still_verify_against(v, "E4", id, "the way to %s at %s leaves the boundary at %s",
                                 use_words[u], end, id);
        if (c->cls != STILL_CLASS_VALVE) continue;
        bool stop = still_kind_stops(c->kind) && c->kind != STILL_KIND_STOP_CHECK;
        if (stop && still_verify_by_hand(c) && can_be_opened(v, comp)) hand++;
        if (c->kind == STILL_KIND_SELF_CLOSING && u == DRAIN) attended++;
        if (c->kind == STILL_KIND_SELF_CLOSING && u != DRAIN)
            still_verify_against(v, "E4", id, "a way to %s leads through self-closing valve %s",
                                 use_words[u], id);
        if (c->kind == STILL_KIND_CHECK || c->kind == STILL_KIND_STOP_CHECK)
            still_verify_against(v, "E4", id, "a way to %s leads through check valve %s",
                                 use_words[u], id);
        if (!v->opened[comp] && !open_now(v, comp))
            still_verify_against(v, "E4", id, "%s on the way to %s is not opened by any point", id,
                                 use_words[u]);
    }
    if (hand + attended == 0 && !open_air(&v->plant->comps[still_verify_comp(v, end)]))
        still_verify_against(v, "E4", end, "no hand valve on the way to %s at %s", use_words[u],
                             end);
}

/* A missing way: a finding says so, or (for pressure) the compartment stands open to the air. */
static bool told(still_verify *v, const still_compartment *c, const space *s, uint32_t first, use u)
{
    if (u != DRAIN && first != STILL_NONE) {
        walk_space(v, s, first);
        for (uint32_t i = 0; i < v->scratch.n; i++)
            if (open_air(&v->plant->comps[v->plant->ports[v->scratch.met[i]].comp])) return true;
    }
    for (size_t i = 0; i < c->ids.n; i++)
        if (still_verify_blocked(v, "E2", c->ids.items[i])) return true;
    return false;
}

static void one_way(still_verify *v, const still_compartment *c, space *s, uint32_t first,
                    still_strings way, use u)
{
    if (way.n == 0) {
        bool work = s->where & STILL_VERIFY_AT_WORK; /* between, the grade says what is needed */
        if (work && (u != DRAIN || c->liquid) && !told(v, c, s, first, u))
            still_verify_against(v, "E2", c->ids.n > 0 ? c->ids.items[0] : "",
                                 "no way to %s, and no finding that blocks says so", use_words[u]);
        return;
    }
    const char *last = way.items[way.n - 1];
    uint32_t end = still_verify_comp(v, last);
    if (end == STILL_NONE || first == STILL_NONE) return;
    if (!outlet_fits(&v->plant->comps[end], u))
        still_verify_against(v, "E4", last, "%s is no outlet to %s by", last, use_words[u]);
    way_devices(v, s, way, u);
    mark(v, s->way, way, 1);
    walk_space(v, s, first);
    for (size_t i = 0; i < way.n; i++) {
        uint32_t comp = still_verify_comp(v, way.items[i]);
        if (comp != STILL_NONE && !met_comp(v, &v->scratch, comp))
            still_verify_against(v, "E4", way.items[i],
                                 "the way to %s is not joined within its compartment: %s",
                                 use_words[u], still_verify_list(v, way));
    }
    mark(v, s->way, way, 0);
}

/* Whatever lies inside and can hold something belongs to a compartment. */
static void all_covered(still_verify *v)
{
    uint8_t *in = still_verify_room(v, v->plant->n_comps, 1);
    if (in == NULL) return;
    for (size_t i = 0; i < v->rec->n_compartments; i++) mark(v, in, v->rec->compartments[i].ids, 1);
    for (uint32_t i = 0; i < v->plant->n_comps; i++) {
        uint8_t cls = v->plant->comps[i].cls;
        bool holds =
            cls == STILL_CLASS_SPOOL || cls == STILL_CLASS_VESSEL || cls == STILL_CLASS_EXCHANGER;
        if (holds && (v->where[i] & STILL_VERIFY_AT_WORK) && !in[i])
            still_verify_against(v, "E1", still_id_of(v->plant, i),
                                 "%s lies inside, but in no compartment", still_id_of(v->plant, i));
    }
}

void still_verify_compartments(still_verify *v)
{
    space s = {still_verify_room(v, v->plant->n_comps, 1),
               still_verify_room(v, v->plant->n_comps, 1), STILL_VERIFY_AT_WORK};
    if (v->nomem) return;
    for (size_t i = 0; i < v->rec->n_compartments; i++) {
        const still_compartment *c = &v->rec->compartments[i];
        bool between = c->where != NULL && strcmp(c->where, "between") == 0;
        s.where = between ? STILL_VERIFY_BETWEEN : STILL_VERIFY_AT_WORK;
        if (still_verify_asks_positive(v)) s.where = STILL_VERIFY_BETWEEN | STILL_VERIFY_AT_WORK;
        mark(v, s.in, c->ids, 1);
        uint32_t first = joined_throughout(v, c, &s);
        one_way(v, c, &s, first, c->vent, VENT);
        one_way(v, c, &s, first, c->drain, DRAIN);
        one_way(v, c, &s, first, c->prove, PROVE);
        mark(v, s.in, c->ids, 0);
    }
    all_covered(v);
}
