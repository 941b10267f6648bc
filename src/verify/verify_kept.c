/* Equipment that was to stay in service (METHOD 3.9): outside, switched on, supplied, delivering.
 *
 * Method: from each port of it, all places from which fluid can come to it, and all to which it can
 * go, as the plant stands today; then the same with the points closed. Every vessel and limit of
 * the first must be in the second. Where positions that are not known add to the first, no port of
 * it may be missing in the second. That it keeps a relief path is not settled here. */
#include "verify_rules.h"

#include <stdio.h>
#include <string.h>

typedef struct follow {
    bool after;    /**< the points are closed, and what lost its feed stands */
    bool outward;  /**< where it delivers to; else where it comes from */
    bool may_open; /**< a position that is not known is open */
    uint32_t kept;
} follow;

typedef struct found {
    uint8_t *port; /**< by port: reached */
    uint8_t *left; /**< by port: left by, or about to be */
    uint8_t *end;  /**< by component: a vessel or limit that is reached */
} found;

/* Room for the four looks at a port, used again for each. */
typedef struct kept_room {
    found was[2], is[2];
    uint32_t *stack;
} kept_room;

static bool without_feed(const still_verify *v, uint32_t comp)
{
    size_t n = 0;
    const still_comp_feed *feeds = still_comp_feeds(v->plant, comp, &n);
    for (size_t i = 0; i < n; i++)
        if (v->locked[v->isolator_of[feeds[i].feed]]) return true;
    return false;
}

/* Opened by its position, or maybe so. */
static bool stands_open(const still_verify *v, const follow *f, uint32_t comp)
{
    still_position now = still_position_now(v->plant, v->state, comp);
    if (now == STILL_POSITION_UNKNOWN) return f->may_open;
    return now == STILL_POSITION_OPEN || now == STILL_POSITION_THROTTLED;
}

/* Fluid comes in at `first` and leaves at `then`. */
static bool valve_lets(const still_verify *v, const follow *f, uint32_t comp, uint32_t first,
                       uint32_t then)
{
    const still_plant *p = v->plant;
    const still_comp *c = &p->comps[comp];
    uint32_t in = still_comp_port(p, comp, "in"), out = still_comp_port(p, comp, "out");
    bool right_way =
        in == STILL_NONE || out == STILL_NONE ? f->may_open : first == in && then == out;
    if (c->kind == STILL_KIND_RELIEF || c->kind == STILL_KIND_RUPTURE_DISC ||
        c->kind == STILL_KIND_SELF_CLOSING)
        return false;
    if (c->kind == STILL_KIND_THREE_WAY) {
        const char *set = still_way_now(p, v->state, comp);
        const char *a = still_text(p, still_port_name(p, first));
        const char *b = still_text(p, still_port_name(p, then));
        if (set[0] == '\0') return f->may_open;
        return strlen(a) == 1 && strlen(b) == 1 && strstr(set, a) != NULL && strstr(set, b) != NULL;
    }
    if (c->kind == STILL_KIND_STOP_CHECK) return right_way && stands_open(v, f, comp);
    if (still_kind_stops(c->kind)) return stands_open(v, f, comp);
    if (c->kind == STILL_KIND_UNKNOWN || c->kind == STILL_KIND_NOT_SAID) return f->may_open;
    return right_way; /* check, and what regulates or switches by itself */
}

static bool lets(const still_verify *v, const follow *f, uint32_t comp, uint32_t first,
                 uint32_t then)
{
    const still_plant *p = v->plant;
    const still_comp *c = &p->comps[comp];
    if (comp == f->kept || (f->after && v->barrier[comp])) return false;
    bool dead = f->after && without_feed(v, comp);
    switch ((still_class)c->cls) {
    case STILL_CLASS_FITTING:
    case STILL_CLASS_VESSEL: return true;
    case STILL_CLASS_EXCHANGER: return still_port_side(p, first) == still_port_side(p, then);
    case STILL_CLASS_BLIND: return stands_open(v, f, comp);
    case STILL_CLASS_VALVE: return !dead && valve_lets(v, f, comp, first, then);
    case STILL_CLASS_PUMP:
    case STILL_CLASS_COMPRESSOR: {
        uint32_t in = still_comp_port(p, comp, "in"), out = still_comp_port(p, comp, "out");
        if (dead) return false;
        if (in == STILL_NONE || out == STILL_NONE) return f->may_open;
        return first == in && then == out;
    }
    case STILL_CLASS_NOT_SAID:
    case STILL_CLASS_CAP:
    case STILL_CLASS_OUTLET:
    case STILL_CLASS_LIMIT:
    case STILL_CLASS_SPOOL:
    case STILL_CLASS_COUNT: break;
    }
    return false;
}

static bool ends_there(const still_verify *v, uint32_t comp)
{
    const still_comp *c = &v->plant->comps[comp];
    return (c->cls == STILL_CLASS_VESSEL &&
            still_contents_now(v->plant, v->state, comp) != STILL_CONTENTS_NONE) ||
           (c->cls == STILL_CLASS_LIMIT && c->dead != STILL_YESNO_YES);
}

/* An end that a kept component may lose, which is told and has been accepted by name. */
static bool waived(const still_verify *v, uint32_t comp)
{
    char name[300];
    snprintf(name, sizeof name, "I8:%s", still_id_of(v->plant, comp));
    return still_verify_in(v->rec->option_accept, name);
}

static void leave_by(found *to, uint32_t *stack, uint32_t *n, uint32_t port)
{
    if (to->left[port]) return;
    to->left[port] = 1;
    stack[(*n)++] = port;
}

static void look(const still_verify *v, const follow *f, uint32_t port, found *to, uint32_t *stack)
{
    const still_plant *p = v->plant;
    uint32_t n = 0;
    memset(to->port, 0, p->n_ports);
    memset(to->left, 0, p->n_ports);
    memset(to->end, 0, p->n_comps);
    leave_by(to, stack, &n, port);
    while (n > 0) {
        uint32_t leave = stack[--n], spool = p->ports[leave].spool;
        if (spool == STILL_NONE || (f->after && v->barrier[spool])) continue;
        uint32_t at = still_port_across(p, leave), comp = p->ports[at].comp;
        if (to->port[at]) continue;
        to->port[at] = 1;
        if (comp != f->kept && ends_there(v, comp)) {
            to->end[comp] = !waived(v, comp);
            continue;
        }
        for (uint32_t q = p->comps[comp].a; q < p->comps[comp].a + p->comps[comp].b; q++) {
            bool on = f->outward ? lets(v, f, comp, at, q) : lets(v, f, comp, q, at);
            if (q != at && on) leave_by(to, stack, &n, q);
        }
    }
}

/* Every end of `was` is in `is`; with ports, every port too. */
static bool still_there(const still_verify *v, const found *was, const found *is, bool ports,
                        uint32_t *end)
{
    for (uint32_t i = 0; i < v->plant->n_comps; i++)
        if (was->end[i] && !is->end[i]) {
            *end = i;
            return false;
        }
    *end = STILL_NONE;
    for (uint32_t i = 0; i < v->plant->n_ports && ports; i++)
        if (was->port[i] && !is->port[i]) return false;
    return true;
}

static void serve(still_verify *v, const kept_room *room, const char *id, uint32_t kept,
                  uint32_t port, bool outward)
{
    found was[2] = {room->was[0], room->was[1]}, is[2] = {room->is[0], room->is[1]};
    for (int k = 0; k < 2; k++) {
        follow f = {.outward = outward, .may_open = k == 1, .kept = kept};
        look(v, &f, port, &was[k], room->stack);
        f.after = true;
        look(v, &f, port, &is[k], room->stack);
    }
    uint32_t end;
    bool unsure = memcmp(was[0].end, was[1].end, v->plant->n_comps) != 0;
    bool good = still_there(v, &was[0], &is[0], false, &end) &&
                still_there(v, &was[1], &is[1], unsure, &end);
    /* A feed that is locked further up the way: told, and it blocks. */
    if (good || still_verify_blocked(v, "N5", id)) return;
    still_verify_against(v, "I8", id, "%s was to stay in service: %s %s is cut off", id,
                         outward ? "what it delivers to," : "what supplies it,",
                         end == STILL_NONE ? "a way that may be in use,"
                                           : still_id_of(v->plant, end));
}

static bool make_room(still_verify *v, kept_room *room)
{
    for (int k = 0; k < 4; k++) {
        found *f = k < 2 ? &room->was[k] : &room->is[k - 2];
        f->port = still_verify_room(v, (size_t)v->plant->n_ports + 1, 1);
        f->left = still_verify_room(v, (size_t)v->plant->n_ports + 1, 1);
        f->end = still_verify_room(v, (size_t)v->plant->n_comps + 1, 1);
    }
    room->stack = still_verify_room(v, (size_t)v->plant->n_ports + 1, sizeof room->stack[0]);
    return !v->nomem;
}

void still_verify_kept(still_verify *v)
{
    const still_strings keep = v->rec->option_keep;
    kept_room room;
    if (keep.n == 0 || !make_room(v, &room)) return;
    for (size_t i = 0; i < keep.n; i++) {
        const char *id = keep.items[i];
        uint32_t comp = still_verify_comp(v, id);
        if (comp == STILL_NONE || v->where[comp] != 0 || v->barrier[comp] || v->whole[comp]) {
            still_verify_against(v, "I8", id, "%s was to stay in service: it is %s", id,
                                 comp == STILL_NONE ? "not in the plant" : "not outside");
            continue;
        }
        if (without_feed(v, comp))
            still_verify_against(v, "I8", id, "%s was to stay in service: a feed of it is locked",
                                 id);
        const still_comp *c = &v->plant->comps[comp];
        for (uint32_t k = 0; k < c->b; k++) {
            bool machine = c->cls == STILL_CLASS_PUMP || c->cls == STILL_CLASS_COMPRESSOR;
            uint32_t port = c->a + k;
            if (!machine || port != still_comp_port(v->plant, comp, "out"))
                serve(v, &room, id, comp, port, false);
            if (!machine || port != still_comp_port(v->plant, comp, "in"))
                serve(v, &room, id, comp, port, true);
        }
    }
}
