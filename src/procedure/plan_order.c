/* What is operated: feeds, barriers, devices opened inside, ways out; and on which side each
 * barrier stands (P2, E1). Upstream or downstream is told by the device's own ports: flow passes in
 * to out. In which order they come is found by plan_moves.c. */
#include "plan_order.h"

#include "alloc.h"
#include "contents.h"
#include "describe.h"

#include <math.h>
#include <string.h>

/* May the section empty through this device, entered at `port`? Only forward where it passes one
 * way, and only what stands open. */
static bool passes_out(const still_order *o, uint32_t comp, uint32_t port)
{
    const still_comp *c = &o->plant->comps[comp];
    bool forward = port == c->a;
    if (c->cls == STILL_CLASS_BLIND)
        return still_position_now(o->plant, o->state, comp) == STILL_POSITION_OPEN;
    if (still_is_machine(c)) return false;
    if (c->cls != STILL_CLASS_VALVE) return true;
    if (c->kind == STILL_KIND_RELIEF || c->kind == STILL_KIND_RUPTURE_DISC || c->kind == 0 ||
        c->kind == STILL_KIND_UNKNOWN || c->kind == STILL_KIND_THREE_WAY)
        return false;
    if (!still_kind_stops(c->kind)) return forward;
    still_position now = still_position_now(o->plant, o->state, comp);
    if (now != STILL_POSITION_OPEN && now != STILL_POSITION_THROTTLED) return false;
    return c->kind != STILL_KIND_STOP_CHECK || forward;
}

/* Normal pressure of a pipe; NAN = unknown. */
static double pressure_of(const still_order *o, uint32_t spool)
{
    uint32_t service = o->plant->comps[spool].service;
    return service == STILL_NONE ? (double)NAN : o->plant->services[service].pressure_bara;
}

/* The section can empty through a pipe only where nothing holds a higher pressure than its own. */
static bool falls(const still_order *o, uint32_t spool, double most_bara)
{
    return pressure_of(o, spool) <= most_bara; /* unknown: no */
}

/* Spread a mark within the boundary, exchangers' other sides left out, from the first `tail` ports
 * of the queue, which have it. @param relief  relief valves and rupture discs stop it */
static void spread(const still_order *o, uint8_t mark, uint8_t *marks, uint32_t *queue, size_t tail,
                   bool relief)
{
    const still_plant *plant = o->plant;
    for (size_t head = 0; head < tail; head++) {
        uint32_t port = queue[head], across = still_port_across(plant, port);
        const still_comp *c = &plant->comps[plant->ports[port].comp];
        for (uint32_t i = 0; i <= c->b; i++) {
            uint32_t q = i == c->b ? across : c->a + i;
            if (q == STILL_NONE || (marks[q] & mark)) continue;
            if (!o->iso->work_port[q] && !o->iso->between_port[q]) continue;
            if (i < c->b && relief && still_relieves(c)) continue;
            if (i < c->b && c->cls == STILL_CLASS_EXCHANGER &&
                still_port_side(plant, q) != still_port_side(plant, port))
                continue;
            marks[q] |= mark;
            queue[tail++] = q;
        }
    }
}

/* Mark the ports within the boundary that empty with the work: over all but relief valves and
 * rupture discs, which pass nothing while the section is let down. */
static void mark_emptied(const still_order *o, uint8_t *emptied, uint32_t *queue)
{
    size_t n = 0;
    for (uint32_t p = 0; p < o->plant->n_ports; p++)
        if (o->iso->work_port[p] && still_opened_port(o->plant, o->iso->zone.targets, p)) {
            emptied[p] = 1;
            queue[n++] = p;
        }
    spread(o, 1, emptied, queue, n, true);
}

/* Lowest normal pressure of the pipes that empty with the work; NAN = of none is it known. */
static double lowest_inside(const still_order *o, const uint8_t *emptied)
{
    double lowest = (double)NAN;
    for (uint32_t comp = 0; comp < o->plant->n_comps; comp++) {
        const still_comp *c = &o->plant->comps[comp];
        if (c->cls != STILL_CLASS_SPOOL || !emptied[c->a] || !emptied[c->b]) continue;
        double p = pressure_of(o, comp);
        if (!isnan(p)) lowest = isnan(lowest) ? p : fmin(lowest, p);
    }
    return lowest;
}

/* It may stand shut, or shut by itself, without anybody touching it. */
static bool acts_by_itself(const still_comp *c)
{
    return c->cls == STILL_CLASS_VALVE && c->kind != STILL_KIND_CHECK &&
           (!still_kind_stops(c->kind) || !still_by_hand(c));
}

/* Note what lies on the way that led to `port`. */
static void note_way(still_order *o, const uint32_t *from, uint32_t port)
{
    for (; port != STILL_NONE; port = from[port]) {
        uint32_t comp = o->plant->ports[port].comp, k = 0;
        if (!acts_by_itself(&o->plant->comps[comp])) continue;
        while (k < o->n_on_the_way && o->on_the_way[k] != comp) k++;
        if (k == o->n_on_the_way) o->on_the_way[o->n_on_the_way++] = comp;
    }
}

/* Breadth-first from the live side of a point to a vessel said to be low-pressure, by pipes of no
 * higher pressure than `most_bara`. @param from  by port: room for where each was reached from */
static uint32_t find_receiver(still_order *o, uint32_t outer, double most_bara, uint8_t *seen,
                              uint32_t *queue, uint32_t *from)
{
    const still_plant *plant = o->plant;
    size_t tail = 0;
    uint32_t found = STILL_NONE;
    seen[outer] = 1;
    from[outer] = STILL_NONE;
    queue[tail++] = outer;
    for (size_t head = 0; head < tail; head++) {
        uint32_t port = queue[head], comp = plant->ports[port].comp;
        const still_comp *c = &plant->comps[comp];
        if (c->cls == STILL_CLASS_VESSEL && c->role == STILL_ROLE_LOW_PRESSURE) {
            found = comp;
            note_way(o, from, port);
            break;
        }
        uint32_t across = still_port_across(plant, port);
        if (across != STILL_NONE && !seen[across] &&
            falls(o, plant->ports[port].spool, most_bara)) {
            seen[across] = 1;
            from[across] = port;
            queue[tail++] = across;
        }
        if (port == outer || !passes_out(o, comp, port)) continue;
        for (uint32_t i = 0; i < c->b; i++) {
            uint32_t q = c->a + i;
            if (seen[q] || o->iso->work_port[q]) continue;
            if (c->cls == STILL_CLASS_EXCHANGER &&
                still_port_side(plant, q) != still_port_side(plant, port))
                continue;
            seen[q] = 1;
            from[q] = port;
            queue[tail++] = q;
        }
    }
    /* Leave the marks as they were found: only what was reached. */
    for (size_t i = 0; i < tail; i++) seen[queue[i]] = 0;
    return found;
}

static bool has_receiver(const still_plant *plant)
{
    for (uint32_t i = 0; i < plant->n_comps; i++)
        if (plant->comps[i].role == STILL_ROLE_LOW_PRESSURE) return true;
    return false;
}

/* Phase of what stands beyond a point, by the pipe there. */
static unsigned phase_beyond(const still_order *o, uint32_t outer)
{
    uint32_t spool = o->plant->ports[outer].spool;
    if (spool == STILL_NONE) return STILL_PHASE_UNKNOWN;
    uint32_t service = o->plant->comps[spool].service;
    return service == STILL_NONE ? STILL_PHASE_UNKNOWN : o->plant->services[service].phase;
}

/* Warmer than another side of the same exchanger that lies inside; one that is not said may be. */
static bool warmer_side(const still_order *o, uint32_t comp, uint32_t side, bool *cooler)
{
    const still_plant *plant = o->plant;
    const still_comp *c = &plant->comps[comp];
    double own = still_side_K(plant, side);
    bool warmer = false;
    *cooler = false;
    for (uint32_t k = 0; k < c->b; k++) {
        uint32_t other = still_port_side(plant, c->a + k);
        if (other == side || other == STILL_NONE || !o->iso->work_port[c->a + k]) continue;
        double here = still_side_K(plant, other);
        warmer = warmer || own > here || (isnan(own) && !isnan(here));
        *cooler = *cooler || own < here || (!isnan(own) && isnan(here));
    }
    return warmer && !*cooler;
}

/* Mark what is joined to a side within the boundary, its exchanger's other sides left out. */
static void mark_side(const still_order *o, uint32_t start, uint8_t mark, uint8_t *marks,
                      uint32_t *queue)
{
    if (marks[start] & mark) return;
    marks[start] |= mark;
    queue[0] = start;
    spread(o, mark, marks, queue, 1, false);
}

/* N5: the barriers of the warmer side of an exchanger come first, so that the cooler side is not
 * shut in while it is heated. What belongs to both counts as neither. */
static void find_heat(still_order *o, uint8_t *marks, uint32_t *queue)
{
    enum { WARM = 1, COOL = 2 };
    const still_plant *plant = o->plant;
    uint32_t comp_warm = STILL_NONE;
    bool warms = false, cools = false;
    for (uint32_t comp = 0; comp < plant->n_comps; comp++) {
        const still_comp *c = &plant->comps[comp];
        for (uint32_t k = 0; c->cls == STILL_CLASS_EXCHANGER && k < c->b; k++) {
            uint32_t side = still_port_side(plant, c->a + k);
            bool cooler;
            if (side == STILL_NONE || !o->iso->work_port[c->a + k]) continue;
            bool warmer = warmer_side(o, comp, side, &cooler);
            if (warmer) mark_side(o, c->a + k, WARM, marks, queue);
            if (cooler) mark_side(o, c->a + k, COOL, marks, queue);
            if (warmer && comp_warm == STILL_NONE) comp_warm = comp;
        }
    }
    for (uint32_t i = 0; i < o->n_ops; i++) {
        still_op *op = &o->ops[i];
        if (!op->barrier || op->comp == STILL_NONE || op->late || op->behind_relief) continue;
        op->warms = marks[op->inner_port] == WARM && !op->receiver_side;
        op->cools = marks[op->inner_port] == COOL;
        warms = warms || op->warms;
        cools = cools || op->cools;
    }
    if (warms && cools) o->warm = comp_warm;
    for (uint32_t i = 0; i < o->n_ops && !(warms && cools); i++)
        o->ops[i].warms = o->ops[i].cools = false;
}

static bool is_point(const still_order *o, uint32_t comp)
{
    for (uint32_t i = 0; i < o->n_ops; i++)
        if (o->ops[i].barrier && o->ops[i].comp == comp) return true;
    return false;
}

static bool first_of_a_bleed(const still_order *o, uint32_t comp)
{
    for (size_t r = 0; r < o->rooms->n_rooms; r++)
        if (o->rooms->rooms[r].prove.n > 0 && o->rooms->rooms[r].prove.items[0] == comp)
            return true;
    return false;
}

/* From one side of a blind to a bleed, over no other point and nothing that parts (I2).
 * @param from     its port on that side
 * @param forward  over one-way devices in their flow: what gas can be let off by
 * @param seen, queue  by port, clear and left so */
static bool bled_from(const still_order *o, uint32_t from, bool forward, uint8_t *seen,
                      uint32_t *queue)
{
    const still_plant *plant = o->plant;
    size_t tail = 0;
    bool found = false;
    seen[from] = 1;
    queue[tail++] = from;
    for (size_t head = 0; head < tail && !found; head++) {
        uint32_t port = queue[head], comp = plant->ports[port].comp;
        const still_comp *c = &plant->comps[comp];
        uint32_t spool = plant->ports[port].spool, across = still_port_across(plant, port);
        found = first_of_a_bleed(o, comp);
        bool one_way = c->kind == STILL_KIND_CHECK && port == c->a;
        bool ends =
            is_point(o, comp) || (still_passage_of(plant, o->state, comp) == STILL_PASSAGE_PARTS &&
                                  !(forward && one_way));
        for (uint32_t i = 0; i <= c->b; i++) {
            uint32_t q = i == c->b ? across : c->a + i;
            if (q == STILL_NONE || seen[q] || (i < c->b && ends)) continue;
            if (i == c->b && is_point(o, spool)) continue;
            if (!o->iso->work_port[q] && !o->iso->between_port[q]) continue;
            seen[q] = 1;
            queue[tail++] = q;
        }
    }
    for (size_t i = 0; i < tail; i++) seen[queue[i]] = 0;
    return found;
}

static still_status find_sides(still_order *o, still_arena *arena)
{
    still_status status = STILL_E_NOMEM;
    bool search = has_receiver(o->plant); /* it may walk far: not where there is nothing to find */
    uint8_t *seen = still_calloc(o->plant->n_ports, 1);
    uint32_t *queue = still_calloc(o->plant->n_ports, sizeof queue[0]);
    uint32_t *from = still_calloc(o->plant->n_ports, sizeof from[0]);
    uint8_t *emptied = o->emptied = STILL_ARENA_NEW(arena, o->plant->n_ports, uint8_t);
    o->on_the_way = STILL_ARENA_NEW(arena, search ? o->plant->n_comps : 0, uint32_t);
    if (!seen || !queue || !from || !emptied || !o->on_the_way) goto out;
    mark_emptied(o, emptied, queue);
    const double lowest = lowest_inside(o, emptied);
    for (uint32_t i = 0; i < o->n_ops; i++) {
        still_op *op = &o->ops[i];
        if (!op->barrier || op->comp == STILL_NONE) continue;
        /* Out of a one-way device, or of one joined by its inlet, the section empties. */
        const still_comp *c = &o->plant->comps[op->comp];
        op->downstream = op->inner_port == c->a && c->kind != STILL_KIND_THREE_WAY;
        unsigned phase = phase_beyond(o, op->point->outer_port);
        bool one_way = c->kind == STILL_KIND_STOP_CHECK;
        op->gas = phase == STILL_PHASE_VAPOUR;
        op->behind_relief = !emptied[op->inner_port];
        /* Through a way off of two phases vapour comes back. */
        op->wets = op->downstream
                       ? !one_way && phase != STILL_PHASE_VAPOUR && phase != STILL_PHASE_TWO_PHASE
                       : !op->gas;
        if (op->late) op->bled = bled_from(o, op->point->outer_port, false, seen, queue);
        if (op->late) op->vented = bled_from(o, op->point->inner_port, true, seen, queue);
        if (op->late) continue;
        /* One that closes with its supply can't wait for the pump-down. */
        if (!search || !op->downstream || !emptied[op->inner_port] || !still_by_hand(c) ||
            strcmp(op->from, "closed") == 0)
            continue;
        uint32_t vessel = find_receiver(o, op->point->outer_port, lowest, seen, queue, from);
        if (vessel == STILL_NONE) continue;
        op->receiver_side = true;
        if (o->receiver == STILL_NONE) o->receiver = vessel;
    }
    memset(seen, 0, o->plant->n_ports);
    find_heat(o, seen, queue);
    status = STILL_OK;
out:
    still_free(seen);
    still_free(queue);
    still_free(from);
    return status;
}

static bool known_op(const still_order *o, uint32_t comp)
{
    for (uint32_t i = 0; i < o->n_ops; i++)
        if (o->ops[i].comp == comp) return true;
    return false;
}

bool still_bleed_of_station(const still_isolation *iso, const still_iso_bleed *bleed)
{
    if (bleed->label != 1 || bleed->way.n == 0 || bleed->comps.n == 0) return false;
    uint32_t port = iso->zone.plant->comps[bleed->comps.items[0]].a;
    return still_asked_at(iso->zone.asked, port) == STILL_GRADE_DOUBLE_BLEED;
}

bool still_bleed_lockable(const still_plant *plant, uint32_t comp)
{
    const still_comp *c = &plant->comps[comp];
    return c->cls == STILL_CLASS_VALVE && still_by_hand(c) &&
           (c->lockable == STILL_LOCKABLE_YES || c->lockable == STILL_LOCKABLE_ASSUMED);
}

static void lock_stations(still_order *o)
{
    for (uint32_t i = 0; i < o->iso->n_bleeds; i++) {
        const still_iso_bleed *bleed = &o->iso->bleeds[i];
        if (!still_bleed_of_station(o->iso, bleed)) continue;
        for (uint32_t k = 0; k < bleed->way.n; k++)
            for (uint32_t j = 0; j < o->n_ops; j++)
                if (o->ops[j].outway && o->ops[j].comp == bleed->way.items[k])
                    o->ops[j].locked = still_bleed_lockable(o->plant, o->ops[j].comp);
    }
}

bool still_order_keeps_full(const still_order *o, const still_room *room)
{
    bool blinds = false;
    for (uint32_t i = 0; i < o->n_ops; i++) blinds = blinds || o->ops[i].late;
    return still_room_keeps_full(room, blinds);
}

/* Valves on a way to an outlet: opened when pressure is let off. */
static void add_outway(still_order *o, const still_outway *way, bool between)
{
    for (uint32_t i = 0; i < way->n; i++) {
        uint32_t comp = way->items[i];
        if (o->plant->comps[comp].cls != STILL_CLASS_VALVE || known_op(o, comp)) continue;
        /* One that stands open and can't be moved stays as it is: nothing to do, nothing to tag. */
        still_condition now = still_condition_now(o->plant, o->state, comp);
        if (now == STILL_CONDITION_SEIZED || now == STILL_CONDITION_UNREACHABLE) continue;
        if (!still_by_hand(&o->plant->comps[comp]) &&
            still_passage_of(o->plant, o->state, comp) == STILL_PASSAGE_JOINS)
            continue;
        o->ops[o->n_ops++] = (still_op){.comp = comp,
                                        .feed = STILL_NONE,
                                        .inner_port = STILL_NONE,
                                        .outway = true,
                                        .between = between,
                                        .override = still_passage_of(o->plant, o->state, comp) ==
                                                    STILL_PASSAGE_OVERRIDE,
                                        .from = still_describe_position(o->plant, o->state, comp)};
    }
}

static void add_point(still_order *o, const still_iso_point *p)
{
    still_op op = {.comp = p->comp,
                   .feed = STILL_NONE,
                   .inner_port = p->inner_port,
                   .point = p,
                   .barrier = true,
                   .from = still_describe_position(o->plant, o->state, p->comp)};
    if (o->plant->comps[p->comp].cls == STILL_CLASS_SPOOL) op.from = "in place";
    op.late = p->positive && strcmp(op.from, "closed") != 0;
    op.outer = o->staged && p->level == 2;
    o->ops[o->n_ops++] = op;
}

/* Where it stood before any plan, and what a plan before has left on it. */
static void find_home(const still_order *o, still_op *op)
{
    const still_standing *s = o->standing;
    if (op->feed != STILL_NONE) {
        op->home = "on";
        if (s == NULL) return;
        op->hung = s->feed_tag[op->feed];
        if (s->feed_off[op->feed]) op->from = "off";
        return;
    }
    bool pipe = o->plant->comps[op->comp].cls == STILL_CLASS_SPOOL;
    op->home = op->override ? "automatic"
               : pipe       ? op->from
                      : still_describe_position(o->plant, s != NULL ? s->home : o->state, op->comp);
    if (op->override) op->from = op->home;
    if (s == NULL) return;
    op->hung = s->comp_tag[op->comp];
    if (op->override && s->override_open[op->comp]) op->from = "open";
}

/* Between the first devices and those further out. */
static bool opens_between(const still_order *o, uint32_t comp)
{
    const still_comp *c = &o->plant->comps[comp];
    return o->iso->between_port[c->a] && o->iso->between_port[c->a + 1];
}

still_status still_order_make(still_order *o, still_arena *arena, const still_order_given *given)
{
    const still_isolation *iso = given->iso;
    const still_rooms *rooms = given->rooms;
    *o = (still_order){.plant = iso->zone.plant,
                       .state = iso->zone.state,
                       .iso = iso,
                       .rooms = rooms,
                       .standing = given->standing,
                       .receiver = STILL_NONE,
                       .warm = STILL_NONE};
    size_t room = iso->feeds.n + (size_t)iso->points.n + rooms->n_openings;
    for (size_t i = 0; i < rooms->n_rooms; i++) {
        const still_room *at = &rooms->rooms[i];
        room += (size_t)at->vent.n + at->drain.n + at->prove.n;
        for (uint32_t k = 0; k < at->n_further; k++) room += at->further[k].n;
    }
    for (uint32_t i = 0; i < iso->n_bleeds; i++) room += iso->bleeds[i].way.n;
    o->ops = STILL_ARENA_NEW(arena, room, still_op);
    if (o->ops == NULL) return STILL_E_NOMEM;
    still_order_look_at_stages(o);
    for (uint32_t i = 0; i < iso->feeds.n; i++)
        o->ops[o->n_ops++] = (still_op){.comp = STILL_NONE,
                                        .feed = iso->feeds.items[i],
                                        .inner_port = STILL_NONE,
                                        .barrier = true,
                                        .from = "on"};
    /* Of two devices in a row the outer one first: what is left between runs inward. */
    for (uint8_t level = 2; level >= 1; level--)
        for (uint32_t i = 0; i < iso->points.n; i++)
            if (iso->info[i].level == level) add_point(o, &iso->info[i]);
    for (size_t i = 0; i < rooms->n_openings; i++)
        o->ops[o->n_ops++] = (still_op){
            .comp = rooms->openings[i].comp,
            .feed = STILL_NONE,
            .inner_port = STILL_NONE,
            .opening = !rooms->openings[i].late,
            .outway = rooms->openings[i].late,
            .behind = rooms->openings[i].late,
            .override = rooms->openings[i].override,
            .outer =
                o->staged && !rooms->openings[i].late && opens_between(o, rooms->openings[i].comp),
            .from = still_describe_position(o->plant, o->state, rooms->openings[i].comp)};
    for (int between = 0; between < 2; between++)
        for (size_t i = 0; i < rooms->n_rooms; i++) {
            if (rooms->rooms[i].between != (between == 1) || still_room_is_open(&rooms->rooms[i]))
                continue;
            add_outway(o, &rooms->rooms[i].vent, between == 1);
            add_outway(o, &rooms->rooms[i].drain, between == 1);
            for (uint32_t k = 0; k < rooms->rooms[i].n_further; k++)
                add_outway(o, &rooms->rooms[i].further[k], between == 1);
            add_outway(o, &rooms->rooms[i].prove, between == 1);
        }
    for (uint32_t i = 0; i < iso->n_bleeds; i++) {
        if (iso->bleeds[i].label != 1) continue; /* the work's own are ways to prove zero */
        const still_outway way = still_bleed_way(&iso->bleeds[i]);
        add_outway(o, &way, true);
    }
    for (uint32_t i = 0; i < o->n_ops; i++) find_home(o, &o->ops[i]);
    lock_stations(o);
    still_status status = find_sides(o, arena);
    if (status == STILL_OK) still_order_look_at_relief(o);
    if (status == STILL_OK) status = still_order_arrange(o, arena, given);
    return status;
}

const still_op *still_order_first(const still_order *o, still_op_is *which)
{
    for (uint32_t i = 0; i < o->n_ops; i++)
        if (which(&o->ops[i])) return &o->ops[i];
    return NULL;
}

bool still_op_outer(const still_op *op)
{
    return op->outer;
}

uint32_t still_order_tag(const still_order *o, uint32_t comp)
{
    for (uint32_t i = 0; i < o->n_ops; i++)
        if (o->ops[i].comp == comp && comp != STILL_NONE) return o->ops[i].tag;
    return 0;
}
