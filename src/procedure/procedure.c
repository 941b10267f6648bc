#include "procedure.h"

#include "describe.h"
#include "plan_order.h"

#include <string.h>

static const char *why_barrier(still_arena *arena, const still_order *o, const still_op *op)
{
    const still_isolation *iso = o->iso;
    for (uint32_t i = 0; i < iso->n_paths; i++) {
        if (iso->paths[i].point != op->comp) continue;
        if (iso->paths[i].feed != STILL_NONE)
            return still_arena_printf(arena, "keeps what %s drives out of the section",
                                      still_text(o->plant, o->plant->feeds[iso->paths[i].feed].id));
        uint32_t source = iso->paths[i].comps.items[0];
        const still_comp *c = &o->plant->comps[source];
        const char *what = still_describe_comp(arena, o->plant, source);
        if (what == NULL) return NULL;
        if (c->cls == STILL_CLASS_VESSEL || c->cls == STILL_CLASS_PUMP ||
            c->cls == STILL_CLASS_COMPRESSOR || c->cls == STILL_CLASS_LIMIT ||
            c->cls == STILL_CLASS_OUTLET)
            return still_arena_printf(arena, "holds back %s %s", still_id_of(o->plant, source),
                                      what);
        return still_arena_printf(arena, "holds back what may come in at the open end of %s",
                                  still_id_of(o->plant, source));
    }
    if (op->point != NULL && op->point->positive)
        return "parts the work for good from what lies outside";
    if (op->point != NULL && op->point->level == 2) return "second device on its ways";
    return "first device on its ways";
}

const char *still_point_position(still_arena *arena, const still_plant *plant,
                                 const still_iso_point *p)
{
    const still_comp *c = &plant->comps[p->comp];
    if (c->cls == STILL_CLASS_SPOOL)
        return c->removable == STILL_YESNO_YES ? "removed" : "spade fitted";
    if (p->joined == 0) return "closed";
    const char *text = "";
    for (uint32_t k = 0; k < c->b && text != NULL; k++)
        if ((p->joined >> k & 1) != 0)
            text = still_arena_printf(arena, "%s%s%s", text, text[0] != '\0' ? "-" : "",
                                      still_text(plant, still_port_name(plant, c->a + k)));
    return text;
}

static bool fill_barrier(still_point *p, still_arena *arena, const still_order *o,
                         const still_op *op)
{
    const still_plant *plant = o->plant;
    p->counted = true;
    p->level = op->point != NULL ? op->point->level : 1;
    if (op->feed != STILL_NONE) {
        const still_feed *f = &plant->feeds[op->feed];
        bool lock = f->lockable == STILL_LOCKABLE_YES || f->lockable == STILL_LOCKABLE_ASSUMED;
        p->id = still_text(plant, f->id);
        p->what = still_describe_feed(arena, plant, op->feed);
        p->place = still_text(plant, f->place);
        p->isolator = still_text(plant, f->isolator);
        p->action = STILL_ACTION_SWITCH_OFF;
        p->to = "off";
        p->hold = lock ? "lock" : "tag";
        p->legend = "Do Not Energize";
        p->why = "what it drives can't move or heat by itself";
        p->assumed_lockable = f->lockable == STILL_LOCKABLE_ASSUMED;
        return p->what != NULL;
    }
    const still_comp *c = &plant->comps[op->comp];
    bool blind = c->cls == STILL_CLASS_BLIND, pipe = c->cls == STILL_CLASS_SPOOL;
    bool out =
        pipe ? c->removable == STILL_YESNO_YES : blind && c->kind == STILL_KIND_REMOVABLE_SPOOL;
    p->action = out ? STILL_ACTION_REMOVE : blind || pipe ? STILL_ACTION_FIT : STILL_ACTION_CLOSE;
    p->to = still_point_position(arena, plant, op->point);
    p->hold = blind || pipe ? "tag" : "lock";
    p->legend = blind || pipe ? "Do Not Operate" : "Do Not Open";
    if (op->point->joined != 0) p->legend = "Do Not Operate";
    p->why = why_barrier(arena, o, op);
    if (p->to == NULL) return false;
    p->assumed_lockable = !blind && c->lockable == STILL_LOCKABLE_ASSUMED;
    return p->why != NULL;
}

static bool fill_point(still_point *p, still_arena *arena, const still_order *o, const still_op *op)
{
    const still_plant *plant = o->plant;
    *p = (still_point){.tag = op->tag, .isolator = "", .from = op->from};
    if (op->comp != STILL_NONE) {
        p->id = still_id_of(plant, op->comp);
        p->what = still_describe_named(arena, plant, op->comp);
        p->place = still_point_place(plant, op->comp);
        const char *joints = still_describe_joints(arena, plant, op->comp);
        if (p->what == NULL || joints == NULL) return false;
        if (joints[0] != '\0') p->what = still_arena_printf(arena, "%s%s", p->what, joints);
        if (p->what == NULL) return false;
    }
    if (op->barrier) return fill_barrier(p, arena, o, op);
    p->action = STILL_ACTION_OPEN;
    p->to = "open";
    p->hold = op->locked ? "lock" : "tag";
    p->assumed_lockable = op->locked && plant->comps[op->comp].lockable == STILL_LOCKABLE_ASSUMED;
    p->legend = "Do Not Close";
    p->why = op->locked ? "bleed between two closed devices: what passes the outer one shows here"
             : op->opening ? "both sides of it equalise and empty together"
                           : "way out of the section: let off, drain, prove zero";
    return true;
}

static still_status fill_points(still_record *r, still_procedure_notes *notes, still_arena *arena,
                                const still_order *o)
{
    still_point *points = STILL_ARENA_NEW(arena, o->n_ops, still_point);
    still_position_of *end = STILL_ARENA_NEW(arena, o->n_ops, still_position_of);
    notes->order = STILL_ARENA_NEW(arena, o->n_ops, uint32_t);
    notes->last = STILL_ARENA_NEW(arena, o->n_ops, uint32_t);
    if (!points || !end || !notes->order || !notes->last) return STILL_E_NOMEM;
    r->n_end = 0;
    for (uint32_t i = 0; i < o->n_ops; i++) {
        const still_op *op = &o->ops[i];
        if (!fill_point(&points[i], arena, o, op)) return STILL_E_NOMEM;
        if (op->comp == STILL_NONE) continue;
        if (op->barrier) notes->order[notes->n_order++] = op->comp;
        if (op->receiver_side) notes->last[notes->n_last++] = op->comp;
        /* `end` is against the plant file, not against today's state. */
        const char *file = still_describe_position(o->plant, NULL, op->comp);
        if (strcmp(points[i].to, file) != 0 || op->override)
            end[r->n_end++] = (still_position_of){points[i].id, points[i].to};
    }
    r->points = points;
    r->n_points = o->n_ops;
    r->end = end;
    return STILL_OK;
}

/* Found today otherwise than in the plant file. */
static bool found_elsewhere(const still_plant *plant, const still_state *state, uint32_t comp)
{
    return strcmp(still_describe_position(plant, state, comp),
                  still_describe_position(plant, NULL, comp)) != 0;
}

still_status still_procedure_start(still_record *r, still_arena *arena, const still_plant *plant,
                                   const still_state *state)
{
    size_t n = state == NULL ? 0 : state->n;
    still_position_of *start = STILL_ARENA_NEW(arena, n, still_position_of);
    if (start == NULL) return STILL_E_NOMEM;
    r->n_start = 0;
    for (size_t i = 0; i < n; i++) {
        uint32_t comp = state->items[i].comp;
        if (!found_elsewhere(plant, state, comp)) continue;
        start[r->n_start++] = (still_position_of){still_id_of(plant, comp),
                                                  still_describe_position(plant, state, comp)};
    }
    r->start = start;
    return STILL_OK;
}

/* What no step changes still stands at the end as it was found. */
static still_status fill_end(still_record *r, still_arena *arena, const still_order *o)
{
    const still_state *state = o->state;
    size_t n = state == NULL ? 0 : state->n, n_end = r->n_end;
    still_position_of *end = STILL_ARENA_NEW(arena, n + n_end, still_position_of);
    if (end == NULL) return STILL_E_NOMEM;
    for (size_t i = 0; i < n_end; i++) end[i] = r->end[i];
    for (size_t i = 0; i < n; i++) {
        uint32_t comp = state->items[i].comp;
        if (still_order_tag(o, comp) == 0 && found_elsewhere(o->plant, state, comp))
            end[n_end++] = (still_position_of){still_id_of(o->plant, comp),
                                               still_describe_position(o->plant, state, comp)};
    }
    r->end = end;
    r->n_end = n_end;
    return STILL_OK;
}

still_status still_procedure_make(still_record *record, still_procedure_notes *notes,
                                  still_arena *arena, const still_order_given *given)
{
    still_order order;
    *notes = (still_procedure_notes){.receiver = STILL_NONE, .relief_point = STILL_NONE};
    still_status status = still_order_make(&order, arena, given);
    if (status != STILL_OK) return status;
    order.site = given->site;
    order.checklists = given->checklists;
    notes->receiver = order.receiver;
    notes->late_opening = order.late_opening;
    if (order.relief_stage) notes->relief_point = still_order_first(&order, still_op_outer)->comp;
    notes->heat_stays = order.heat_stays;
    notes->unproved = order.unproved;
    notes->breaches = order.breaches;
    notes->n_breaches = order.n_breaches;
    notes->complete = order.complete;
    status = fill_points(record, notes, arena, &order);
    if (status == STILL_OK) status = still_procedure_start(record, arena, order.plant, order.state);
    if (status == STILL_OK) status = fill_end(record, arena, &order);
    if (status == STILL_OK)
        status = still_tests_find(&record->tests, &notes->limits, &notes->n_limits, arena,
                                  given->iso, given->site);
    if (status == STILL_OK) status = still_steps_isolate(record, arena, &order);
    if (status == STILL_OK) status = still_steps_restore(record, arena, &order);
    return status;
}
