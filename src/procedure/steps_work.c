/* The work itself, by kind of what is opened: checklists before the joint is opened and after it
 * has parted, and when it is closed up. Opening the joint is no line of a checklist: P5 stays,
 * whatever a site's file says. */
#include "steps_script.h"

#include "describe.h"

#include <math.h>
#include <string.h>

#define SAY(...) still_arena_printf(s->arena, __VA_ARGS__)

static still_opened kind_of_valve(const still_comp *c)
{
    bool driven = !still_by_hand(c) && c->drive != STILL_DRIVE_SPRING;
    if (still_relieves(c)) return STILL_OPENED_RELIEF_VALVE;
    if (c->kind == STILL_KIND_CHECK) return STILL_OPENED_CHECK_VALVE;
    if (driven) return STILL_OPENED_MOTOR_VALVE;
    if (still_kind_stops(c->kind) || c->kind == STILL_KIND_THREE_WAY)
        return STILL_OPENED_STOP_VALVE;
    return c->kind == 0 || c->kind == STILL_KIND_UNKNOWN ? STILL_OPENED_ANY
                                                         : STILL_OPENED_CONTROL_VALVE;
}

static still_opened kind_of(const still_script *s, const still_target *t)
{
    const still_comp *c = &s->order->plant->comps[t->comp];
    if (t->port != STILL_NONE) return STILL_OPENED_PIPE;
    switch ((still_class)c->cls) {
    case STILL_CLASS_VALVE: return kind_of_valve(c);
    case STILL_CLASS_VESSEL:
        return strcmp(s->record->work, "entry") == 0 ? STILL_OPENED_VESSEL_ENTRY
                                                     : STILL_OPENED_VESSEL;
    case STILL_CLASS_PUMP: return STILL_OPENED_PUMP;
    case STILL_CLASS_COMPRESSOR: return STILL_OPENED_COMPRESSOR;
    case STILL_CLASS_EXCHANGER: return STILL_OPENED_EXCHANGER;
    case STILL_CLASS_FITTING:
        if (c->kind == STILL_KIND_STRAINER || c->kind == STILL_KIND_FILTER)
            return STILL_OPENED_STRAINER;
        return c->kind == STILL_KIND_METER || c->kind == STILL_KIND_SIGHT_GLASS ? STILL_OPENED_GAUGE
                                                                                : STILL_OPENED_PIPE;
    case STILL_CLASS_SPOOL: return STILL_OPENED_PIPE;
    case STILL_CLASS_NOT_SAID:
    case STILL_CLASS_BLIND:
    case STILL_CLASS_CAP:
    case STILL_CLASS_OUTLET:
    case STILL_CLASS_LIMIT:
    case STILL_CLASS_COUNT: break;
    }
    return STILL_OPENED_ANY;
}

/* Lines of the checklist of a target; texts are copied, since the file is closed before the plan.
 */
static void lines(still_script *s, size_t i, still_line_when when)
{
    const still_order *o = s->order;
    const still_target *t = &o->iso->zone.targets->items[i];
    still_opened kind = kind_of(s, t);
    const still_checklist *list = &o->checklists->of[kind];
    for (size_t k = 0; k < list->n; k++) {
        const still_work_line *line = &list->lines[k];
        if (line->when != when) continue;
        still_stepper_add(&s->step, still_id_of(o->plant, t->comp), 0,
                          SAY("%s: %s", s->record->targets.items[i], line->what),
                          SAY("Checklist of the work, %s (%s).",
                              still_arena_word(s->arena, still_opened_text(kind)),
                              still_arena_word(s->arena, line->source)),
                          SAY("%s", line->expect), SAY("%s", line->if_not));
    }
}

/* Like for like: what the plant file says of a relief valve. */
static void relief_figures(still_script *s, size_t i)
{
    const still_plant *plant = s->order->plant;
    const still_target *t = &s->order->iso->zone.targets->items[i];
    if (kind_of(s, t) != STILL_OPENED_RELIEF_VALVE) return;
    double set = still_comp_q(plant, t->comp, STILL_Q_SET_PRESSURE_BARA);
    const char *size = still_comp_size(plant, t->comp);
    const char *figure =
        isnan(set) ? "no set pressure" : SAY("set pressure %.4g barg", set - STILL_ATM_BAR);
    still_stepper_add(
        &s->step, still_id_of(plant, t->comp), 0,
        SAY("%s: hold the plate of the new valve against the plant file, which has %s%s%s, and "
            "against the register, which has the capacity.",
            s->record->targets.items[i], figure == NULL ? "" : figure, size[0] ? ", size " : "",
            size),
        "A valve that opens too late or passes too little protects nothing (F-RV-1, F-RV-3: set "
        "pressure not above the design pressure of what it protects).",
        "Plate, plant file and register agree.", "One does not: do not fit it.");
    if (figure == NULL) s->step.failed = true;
}

static void open_joint(still_script *s, size_t i)
{
    const still_plant *plant = s->order->plant;
    uint32_t target = s->order->iso->zone.targets->items[i].comp;
    still_stepper_add(
        &s->step, still_id_of(plant, target), 0,
        SAY("Open %s%s: loosen the bolts farthest from the body first, stand clear of the "
            "opening, and leave two bolts partly engaged until the joint has parted without "
            "pressure.",
            s->record->targets.items[i],
            still_script_place(s, still_comp_t(plant, target, STILL_T_PLACE))),
        "The last check that nothing pushes (common practice, no source).",
        "At most a breath of the dry nitrogen: no hiss that lasts, no drip, no smell.",
        "Anything comes: tighten the bolts again, leave, and treat the section as live.");
}

/* Liquid below every way to a drain comes at a joint, once zero is proved (E3, P1). */
static void loosen_pockets(still_script *s)
{
    const still_rooms *rooms = s->order->rooms;
    const still_plant *plant = s->order->plant;
    for (size_t r = 0; r < rooms->n_rooms; r++) {
        const still_room *room = &rooms->rooms[r];
        for (size_t i = 0; i < room->n_puddles && !room->between; i++) {
            const still_puddle *puddle = &room->puddles[i];
            if (puddle->loosen_port == STILL_NONE || puddle->evaporate != STILL_NONE ||
                still_order_keeps_full(s->order, room))
                continue;
            uint32_t comp = plant->ports[puddle->loosen_port].comp;
            still_stepper_add(
                &s->step, still_id_of(plant, comp), 0,
                SAY("Where liquid is left at %s: loosen joint %s.%s, a tray under it, two bolts "
                    "left partly engaged; let it run out, and tighten it again.",
                    still_join_ids(s->arena, plant, puddle->ids, puddle->n_ids),
                    still_id_of(plant, comp),
                    still_text(plant, still_port_name(plant, puddle->loosen_port))),
                "It lies below every way to the drain (rule E3), and comes only here.",
                "At most what the list of compartments says; then drops, then nothing.",
                "More comes: a point passes. Tighten it, leave, prove zero again.");
        }
    }
}

void still_script_let_off(still_script *s)
{
    for (size_t i = 0; i < s->order->iso->zone.targets->n; i++) lines(s, i, STILL_LINE_LET_OFF);
}

size_t still_script_try(still_script *s)
{
    size_t before = s->step.n;
    for (size_t i = 0; i < s->order->iso->zone.targets->n; i++) lines(s, i, STILL_LINE_TRY);
    return s->step.n - before;
}

void still_script_work(still_script *s)
{
    s->step.phase = "work";
    loosen_pockets(s);
    for (size_t i = 0; i < s->order->iso->zone.targets->n; i++) {
        lines(s, i, STILL_LINE_BEFORE);
        relief_figures(s, i);
        open_joint(s, i);
        lines(s, i, STILL_LINE_WORK);
    }
    still_stepper_add(
        &s->step, "", 0,
        "While it is open: leave bleeds open, watch for gas, and look at every lock and tag at "
        "each change of shift.",
        "Energy can come back while the work goes on: verification goes on with it (OSHA "
        "1910.147(d)(5)(ii)).",
        "Nothing changes.",
        "A leak, a rise or a missing tag: stop the work, people out, prove zero again.");
    still_stepper_add(
        &s->step, "", 0,
        "Where something has to be moved or energised for a test meanwhile: clear the tools, clear "
        "the people; what else the same supply drives on hand, at off, and sequences off; each "
        "takes off his own devices of that supply alone, those on valves and blinds stay on; "
        "energise and test; switch off, and put everything back as by this list, proof of zero "
        "included.",
        "Temporary removal (OSHA 1910.147(f)(1), from memory).",
        "The section stays closed while a device is off.",
        "A joint is open: no device comes off. Another's lock comes off only under the employer's "
        "direction, by a written procedure: he is not on site, was called, and is told before he "
        "resumes work (OSHA 1910.147(e)(3), in part from memory).");
}

void still_script_close_work(still_script *s)
{
    for (size_t i = 0; i < s->order->iso->zone.targets->n; i++) lines(s, i, STILL_LINE_CLOSE_UP);
}
