/* The order of operation (P2, E1).
 * Order: feeds off; points that are closed already; upstream sides; downstream sides that do not
 * lead to the low-pressure receiver; then hand devices inside are opened, smallest first, so that
 * both sides equalise; last the side to the receiver, through which the section still empties. With
 * no such side the last downstream point waits for the openings instead. After lock and tag: outlet
 * valves. Of a double isolation the valves further out are closed in a stage of their own, when
 * those next to the work have been proved against the full pressure of the line (P4). Upstream or
 * downstream is told by the device's own ports: flow passes in to out. */
#include "plan_order.h"

#include "alloc.h"
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
    if (c->cls == STILL_CLASS_PUMP || c->cls == STILL_CLASS_COMPRESSOR) return false;
    if (c->cls != STILL_CLASS_VALVE) return true;
    if (c->kind == STILL_KIND_RELIEF || c->kind == STILL_KIND_RUPTURE_DISC || c->kind == 0 ||
        c->kind == STILL_KIND_UNKNOWN || c->kind == STILL_KIND_THREE_WAY)
        return false;
    if (!still_kind_stops(c->kind)) return forward;
    still_position now = still_position_now(o->plant, o->state, comp);
    if (now != STILL_POSITION_OPEN && now != STILL_POSITION_THROTTLED) return false;
    return c->kind != STILL_KIND_STOP_CHECK || forward;
}

static bool is_point(const still_order *o, uint32_t comp)
{
    for (uint32_t i = 0; i < o->iso->points.n; i++)
        if (o->iso->points.items[i] == comp) return true;
    return false;
}

/* Breadth-first from the live side of a point to a vessel said to be low-pressure. */
static uint32_t find_receiver(const still_order *o, uint32_t outer, uint8_t *seen, uint32_t *queue)
{
    const still_plant *plant = o->plant;
    size_t tail = 0;
    uint32_t found = STILL_NONE;
    seen[outer] = 1;
    queue[tail++] = outer;
    for (size_t head = 0; head < tail; head++) {
        uint32_t port = queue[head], comp = plant->ports[port].comp;
        const still_comp *c = &plant->comps[comp];
        if (c->cls == STILL_CLASS_VESSEL && c->role == STILL_ROLE_LOW_PRESSURE) {
            found = comp;
            break;
        }
        uint32_t across = still_port_across(plant, port);
        if (across != STILL_NONE && !seen[across]) {
            seen[across] = 1;
            queue[tail++] = across;
        }
        if (port == outer || is_point(o, comp) || !passes_out(o, comp, port)) continue;
        for (uint32_t i = 0; i < c->b; i++) {
            uint32_t q = c->a + i;
            if (seen[q]) continue;
            if (c->cls == STILL_CLASS_EXCHANGER &&
                still_port_side(plant, q) != still_port_side(plant, port))
                continue;
            seen[q] = 1;
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

static still_status find_sides(still_order *o)
{
    still_status status = STILL_E_NOMEM;
    bool search = has_receiver(o->plant); /* it may walk far: not where there is nothing to find */
    uint8_t *seen = still_calloc(o->plant->n_ports, 1);
    uint32_t *queue = still_calloc(o->plant->n_ports, sizeof queue[0]);
    if (seen == NULL || queue == NULL) goto out;
    for (uint32_t i = 0; i < o->n_ops; i++) {
        still_op *op = &o->ops[i];
        if (!op->barrier || op->comp == STILL_NONE) continue;
        /* Out of a one-way device, or of one joined by its inlet, the section empties. */
        uint32_t in = o->plant->comps[op->comp].a;
        op->downstream = op->inner_port == in;
        if (op->late) continue;
        if (!search || !op->downstream || strcmp(op->from, "closed") == 0) continue;
        uint32_t vessel = find_receiver(o, op->point->outer_port, seen, queue);
        if (vessel == STILL_NONE) continue;
        op->receiver_side = true;
        if (o->receiver == STILL_NONE) o->receiver = vessel;
    }
    status = STILL_OK;
out:
    still_free(seen);
    still_free(queue);
    return status;
}

/* Rank in the order of operation; the same rank keeps its order (by id, openings by size). */
static int rank_of(const still_op *op, const still_op *waits)
{
    if (op->feed != STILL_NONE) return 0;
    if (op->late) return 10;
    if (op->outer) return 8;
    if (op->outway) return op->between ? 9 : 7;
    if (op->opening) return 4;
    if (op == waits) return 5;
    if (strcmp(op->from, "closed") == 0) return 1;
    if (op->receiver_side) return 6;
    return op->downstream ? 3 : 2;
}

static void sort_ops(still_order *o)
{
    const still_op *waits = NULL;
    uint32_t n_openings = 0;
    if (o->receiver == STILL_NONE)
        for (uint32_t i = 0; i < o->n_ops; i++)
            if (o->ops[i].barrier && o->ops[i].downstream && !o->ops[i].late && !o->ops[i].outer &&
                strcmp(o->ops[i].from, "closed") != 0)
                waits = &o->ops[i];
    for (uint32_t i = 0; i < o->n_ops; i++) n_openings += o->ops[i].opening;
    o->late_opening = n_openings > 0 && o->receiver == STILL_NONE && waits == NULL;
    uint32_t wait_comp = waits != NULL ? waits->comp : STILL_NONE;
    for (uint32_t i = 1; i < o->n_ops; i++) {
        still_op op = o->ops[i];
        const still_op *w =
            op.barrier && op.comp == wait_comp && wait_comp != STILL_NONE ? &op : NULL;
        int rank = rank_of(&op, w);
        uint32_t k = i;
        for (; k > 0; k--) {
            const still_op *b = &o->ops[k - 1];
            const still_op *bw =
                b->barrier && b->comp == wait_comp && wait_comp != STILL_NONE ? b : NULL;
            if (rank_of(b, bw) <= rank) break;
            o->ops[k] = *b;
        }
        o->ops[k] = op;
    }
    for (uint32_t i = 0; i < o->n_ops; i++) o->ops[i].tag = i + 1;
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

/* Highest known design pressure of what lies behind the points further out; NAN = none is known, or
 * of some part none. */
static double pressure_behind(const still_isolation *iso)
{
    const still_zone *zone = &iso->zone;
    double highest = (double)NAN;
    for (uint32_t i = 0; i < iso->points.n; i++) {
        const still_iso_point *p = &iso->info[i];
        uint32_t piece = p->level == 2 ? zone->piece_of_port[p->outer_port] : 0;
        if (p->level != 2) continue;
        if (piece == 0 || zone->pieces[piece - 1].design_unknown ||
            isnan(zone->pieces[piece - 1].design_max_bara))
            return (double)NAN;
        highest = fmax(isnan(highest) ? 0 : highest, zone->pieces[piece - 1].design_max_bara);
    }
    return highest;
}

/* The compartment at this port, on the side of the work, has a bleed to prove zero by. */
static bool proved_by_room(const still_order *o, uint32_t port)
{
    for (size_t r = 0; r < o->rooms->n_rooms; r++) {
        const still_room *room = &o->rooms->rooms[r];
        for (uint32_t i = 0; i < room->n_ports && !room->between; i++)
            if (room->ports[i] == port) return room->prove.n > 0;
    }
    return false;
}

/* Of a double isolation: can the valves next to the work be proved while those further out stand
 * open, the pressure of the line behind them? */
static void look_at_stages(still_order *o)
{
    const still_isolation *iso = o->iso;
    const still_plant *plant = o->plant;
    bool two = false, positive = false, shut = false, driven = false, weak = false, bare = false;
    double behind = pressure_behind(iso);
    for (uint32_t i = 0; i < iso->points.n; i++) {
        const still_iso_point *p = &iso->info[i];
        positive = positive || p->positive;
        if (p->level == 2) {
            two = true;
            driven = driven || !still_by_hand(&plant->comps[p->comp]);
            shut = shut || strcmp(still_describe_position(plant, o->state, p->comp), "closed") == 0;
        } else {
            if (!(still_device_rating_bara(plant, p->comp) >= behind)) weak = true; /* or unknown */
            if (!proved_by_room(o, p->inner_port)) bare = true;
        }
    }
    if (!two || positive) return;
    o->unproved = bare     ? "the space of the work has no bleed there"
                  : driven ? "a valve further out closes with its supply, with the feeds"
                  : shut   ? "a valve further out stands closed already"
                  : weak   ? "the plant file does not say that they stand the pressure behind the "
                             "valves further out (D7)"
                           : NULL;
    o->staged = o->unproved == NULL;
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

still_status still_order_make(still_order *o, still_arena *arena, const still_isolation *iso,
                              const still_rooms *rooms)
{
    *o = (still_order){.plant = iso->zone.plant,
                       .state = iso->zone.state,
                       .iso = iso,
                       .rooms = rooms,
                       .receiver = STILL_NONE};
    size_t room = iso->feeds.n + (size_t)iso->points.n + rooms->n_openings;
    for (size_t i = 0; i < rooms->n_rooms; i++)
        room += (size_t)rooms->rooms[i].vent.n + rooms->rooms[i].drain.n + rooms->rooms[i].prove.n;
    for (uint32_t i = 0; i < iso->n_bleeds; i++) room += iso->bleeds[i].way.n;
    o->ops = STILL_ARENA_NEW(arena, room, still_op);
    if (o->ops == NULL) return STILL_E_NOMEM;
    look_at_stages(o);
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
            .from = still_describe_position(o->plant, o->state, rooms->openings[i].comp)};
    for (int between = 0; between < 2; between++)
        for (size_t i = 0; i < rooms->n_rooms; i++) {
            if (rooms->rooms[i].between != (between == 1)) continue;
            add_outway(o, &rooms->rooms[i].vent, between == 1);
            add_outway(o, &rooms->rooms[i].drain, between == 1);
            add_outway(o, &rooms->rooms[i].prove, between == 1);
        }
    for (uint32_t i = 0; i < iso->n_bleeds; i++) {
        if (iso->bleeds[i].label != 1) continue; /* the work's own are ways to prove zero */
        const still_outway way = still_bleed_way(&iso->bleeds[i]);
        add_outway(o, &way, true);
    }
    lock_stations(o);
    still_status status = find_sides(o);
    if (status == STILL_OK) sort_ops(o);
    return status;
}

uint32_t still_order_tag(const still_order *o, uint32_t comp)
{
    for (uint32_t i = 0; i < o->n_ops; i++)
        if (o->ops[i].comp == comp && comp != STILL_NONE) return o->ops[i].tag;
    return 0;
}

still_step *still_stepper_add(still_stepper *s, const char *id, uint32_t tag, const char *do_text,
                              const char *why, const char *expect, const char *if_not)
{
    if (id == NULL || do_text == NULL || why == NULL || expect == NULL || if_not == NULL ||
        !still_grow(&s->steps, &s->cap, s->n + 1, sizeof s->steps[0]))
        s->failed = true;
    if (s->failed) return NULL;
    still_step *step = &s->steps[s->n];
    *step = (still_step){.n = (uint32_t)++s->n,
                         .stage = s->stage > 0 ? s->stage : 1,
                         .phase = s->phase,
                         .do_text = do_text,
                         .id = id,
                         .tag = tag,
                         .from = "",
                         .to = "",
                         .why = why,
                         .expect = expect,
                         .if_not = if_not};
    return step;
}

still_status still_stepper_finish(still_stepper *s, const still_step **steps, size_t *n)
{
    still_step *kept = s->failed ? NULL : STILL_ARENA_NEW(s->arena, s->n, still_step);
    if (kept != NULL) {
        if (s->n > 0) memcpy(kept, s->steps, s->n * sizeof kept[0]);
        *steps = kept;
        *n = s->n;
    }
    still_free(s->steps);
    return kept != NULL ? STILL_OK : STILL_E_NOMEM;
}
