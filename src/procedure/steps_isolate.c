/* Steps up to the work: prepare, shut down, isolate, lock and tag, release, verify, work.
 * Source of the order: OSHA 29 CFR 1910.147 (d)(1) to (d)(6); rules P1, P2, P4, P5, N5, N6, E1, E8.
 */
#include "steps_script.h"

#include "contents.h"
#include "describe.h"

#include <string.h>

#define SAY(...) still_arena_printf(s->arena, __VA_ARGS__)

const char *still_script_place(still_script *s, const char *place)
{
    return place[0] == '\0' ? "" : SAY(" (%s)", place);
}

uint32_t *still_script_pick(still_script *s, still_op_is *which, uint32_t *n)
{
    const still_order *o = s->order;
    uint32_t *list = STILL_ARENA_NEW(s->arena, o->n_ops, uint32_t);
    *n = 0;
    for (uint32_t i = 0; i < o->n_ops && list != NULL; i++)
        if (which(&o->ops[i])) list[(*n)++] = o->ops[i].comp;
    return list;
}

const char *still_script_ops(still_script *s, still_op_is *which)
{
    uint32_t n, *list = still_script_pick(s, which, &n);
    return list == NULL ? NULL : still_join_all(s->arena, s->order->plant, list, n);
}

/* What is shut inside parts the section, stays full, and shows on no gauge elsewhere (E1, N2). */
static void see_open_inside(still_script *s)
{
    const still_order *o = s->order;
    uint32_t n_inside = o->iso->inside.n, all = n_inside + o->iso->between.n;
    uint32_t n = 0, *list = STILL_ARENA_NEW(s->arena, all, uint32_t);
    if (list == NULL) s->step.failed = true;
    for (uint32_t i = 0; i < all && list != NULL; i++) {
        uint32_t comp =
            i < n_inside ? o->iso->inside.items[i] : o->iso->between.items[i - n_inside];
        const still_comp *c = &o->plant->comps[comp];
        unsigned now = still_position_now(o->plant, o->state, comp);
        bool by_hand =
            (c->cls == STILL_CLASS_VALVE && still_kind_stops(c->kind) && still_by_hand(c)) ||
            c->cls == STILL_CLASS_BLIND;
        if (by_hand && still_order_tag(o, comp) == 0 &&
            (now == STILL_POSITION_OPEN || now == STILL_POSITION_THROTTLED))
            list[n++] = comp;
    }
    if (n == 0) return;
    still_stepper_add(
        &s->step, still_id_of(o->plant, list[0]), 0,
        SAY("See that what counts as open inside stands open: %s.",
            still_join_all(s->arena, o->plant, list, n)),
        "What is shut inside stays full and under pressure, and no gauge elsewhere shows it.",
        "Each stands open at the device.",
        "One is shut: lay it down as found (a state file, or --found), and plan anew.");
}

static void prepare(still_script *s)
{
    const still_record *r = s->record;
    s->step.phase = "prepare";
    still_stepper_add(
        &s->step, "", 0,
        SAY("Take this plan (plant %s, revision %s, digest %.16s), the site's permit and "
            "the drawing. Walk the lines down: find every tagged device, and check that "
            "the piping is as drawn.",
            r->plant_id, r->plant_revision[0] ? r->plant_revision : "not said", r->plant_digest),
        "The plan is only as right as the drawing.",
        "Every device found where the list says, nothing connected that is not drawn.",
        "Stop. Have the plant file corrected and plan anew.");
    still_stepper_add(
        &s->step, "", 0,
        "Read findings, assumptions and what stays live beside the work. Know substance, "
        "pressure, temperature and quantity, and the escape way. Wear what the site "
        "prescribes for them. Tell the people affected.",
        "Type, size and hazards of the energy are known before anything is moved.",
        "Each assumption looked at in the plant and ticked.",
        "An assumption that does not hold: stop, correct the plant file, plan anew.");
    still_script_service(s);
    see_open_inside(s);
}

/* Shut when a pump-down begins: by these sides something could come in, once it draws. */
static bool shut_for_pump_down(const still_op *op)
{
    return op->barrier && op->comp != STILL_NONE && !op->late && !op->outer && !op->receiver_side &&
           !op->behind_relief && strcmp(op->from, "closed") != 0;
}

/* "shut HV-1, then HV-2": these, in the order of operation. */
static const char *sides_shut(still_script *s)
{
    const char *text = "";
    for (uint32_t i = 0; i < s->order->n_ops && text != NULL; i++)
        if (shut_for_pump_down(&s->order->ops[i]))
            text = SAY("%s%s%s", text, text[0] ? ", then " : "shut ",
                       still_id_of(s->order->plant, s->order->ops[i].comp));
    return text != NULL && text[0] == '\0' ? "stop its feed" : text;
}

/* Components whose movement can move fluid to or from the section: those inside, the tagged ones,
 * and what stands on the live side of a point up to the next device that could be one. */
static uint8_t *mark_near(still_script *s)
{
    const still_isolation *iso = s->order->iso;
    const still_zone *zone = &iso->zone;
    uint8_t *near = STILL_ARENA_NEW(s->arena, s->order->plant->n_comps, uint8_t);
    if (near == NULL) return NULL;
    for (size_t i = 0; i < zone->targets->n; i++) near[zone->targets->items[i].comp] = 1;
    for (uint32_t i = 0; i < iso->inside.n; i++) near[iso->inside.items[i]] = 1;
    for (uint32_t i = 0; i < iso->between.n; i++) near[iso->between.items[i]] = 1;
    for (uint32_t i = 0; i < iso->points.n; i++) {
        uint32_t comp = iso->points.items[i], outer = iso->info[i].outer_port;
        near[comp] = 1;
        if (zone->piece_of_port[outer] == 0) continue;
        const still_piece *piece = &zone->pieces[zone->piece_of_port[outer] - 1];
        for (uint32_t k = 0; k < piece->n_items; k++) near[zone->items[piece->item0 + k]] = 1;
    }
    return near;
}

/* Is a machine to stand still before anything is closed: opened, inside, or without a way on the
 * way? */
const char *still_script_why_stopped(const still_script *s, uint32_t comp)
{
    const still_order *o = s->order;
    for (size_t i = 0; i < o->iso->zone.targets->n; i++)
        if (o->iso->zone.targets->items[i].comp == comp) return "It is what is opened.";
    for (uint32_t i = 0; i < o->iso->sources.n; i++)
        if (o->iso->sources.items[i] == comp) return "It lies inside the boundary.";
    for (size_t i = 0; i < o->n_breaches; i++)
        if (o->breaches[i].rule == STILL_BREAKS_P9 && o->breaches[i].comp == comp)
            return "It would run without an open way (rule P9; see the finding).";
    return NULL;
}

static bool touches(const still_script *s, const still_sequence *q, const uint8_t *near)
{
    for (uint32_t i = 0; i < q->n_refs; i++) {
        uint32_t comp = s->order->plant->refs[q->ref0 + i];
        if (near[comp] || still_order_tag(s->order, comp) != 0 ||
            still_script_why_stopped(s, comp) != NULL)
            return true;
    }
    return false;
}

bool still_script_stopped(const still_script *s, uint32_t comp)
{
    return still_is_machine(&s->order->plant->comps[comp]) &&
           still_script_why_stopped(s, comp) != NULL;
}

bool still_script_listed(const still_script *s, uint32_t comp)
{
    size_t n;
    const still_comp_feed *feeds = still_comp_feeds(s->order->plant, comp, &n);
    for (size_t i = 0; i < n; i++)
        if (still_script_feed_tag(s->order, feeds[i].feed) != 0) return true;
    return false;
}

/* "MCC-1, switch 1 of MCC-S": supplies of a machine; never "". NULL when memory is out. */
static const char *supplies_of(still_script *s, uint32_t comp)
{
    const still_plant *plant = s->order->plant;
    const char *text = "";
    size_t n;
    const still_comp_feed *feeds = still_comp_feeds(plant, comp, &n);
    for (size_t i = 0; i < n && text != NULL; i++) {
        const still_feed *f = &plant->feeds[feeds[i].feed];
        const char *isolator = still_text(plant, f->isolator);
        text = SAY("%s%s%s%s%s%s", text, text[0] ? "; " : "", still_text(plant, f->id),
                   isolator[0] ? ", " : "", isolator,
                   still_script_place(s, still_text(plant, f->place)));
    }
    return text != NULL && text[0] == '\0' ? "not in the plant file: find it" : text;
}

/* Its supplies that are on the tag list are locked off as soon as it stands: it must not start
 * against a valve that is shut (P9). Tags are hung in their turn. */
static const char *held_off(still_script *s, uint32_t comp)
{
    if (!still_script_listed(s, comp))
        return SAY(
            " Its supply (%s) is not on the tag list: have it locked off as well, write that "
            "lock down, and keep it off until the way back is done. Try to start it then, its way "
            "still open: nothing moves.",
            supplies_of(s, comp));
    return SAY(" Once it stands, switch off its supply (%s) and put your lock on at once, before "
               "any valve of its line is touched. Try to start it then, its way still open: "
               "nothing moves.",
               supplies_of(s, comp));
}

static void stop_machines(still_script *s)
{
    const still_plant *plant = s->order->plant;
    uint32_t stopped = 0;
    for (uint32_t comp = 0; comp < plant->n_comps; comp++) stopped += still_script_stopped(s, comp);
    for (uint32_t comp = 0; comp < plant->n_comps; comp++) {
        uint8_t cls = plant->comps[comp].cls;
        if (!still_is_machine(&plant->comps[comp])) continue;
        const char *why = still_script_why_stopped(s, comp), *id = still_id_of(plant, comp);
        if (why == NULL) continue;
        const char *held = held_off(s, comp);
        still_stepper_add(
            &s->step, id, 0,
            held == NULL
                ? NULL
                : SAY("Stop %s %s in the plant's normal way, before any valve of its line is "
                      "shut%s.%s",
                      still_arena_word(s->arena, still_word(STILL_VOC_still_class, cls)), id,
                      stopped > 1
                          ? ""
                          : "; where one stands by, put that on duty first and see it carry "
                            "the load",
                      held),
            why, "It stands still; its isolator is off, your lock on it.",
            "It does not stop: stop it by its emergency stop and find out why. It can't be locked "
            "off: stop; no valve is shut.");
    }
}

/* What is opened is taken out of service before it is closed off (OSHA 1910.147(d)(2)). */
static void out_of_service(still_script *s)
{
    const still_plant *plant = s->order->plant;
    const still_targets *targets = s->order->iso->zone.targets;
    for (size_t i = 0; i < targets->n; i++) {
        uint32_t comp = targets->items[i].comp;
        if (still_is_machine(&plant->comps[comp])) continue;
        still_stepper_add(
            &s->step, still_id_of(plant, comp), 0,
            SAY("Take %s out of service in the plant's normal way: where one stands by, put that "
                "on duty first and see it carry the load; tell the control room what stops.",
                s->record->targets.items[i]),
            "An orderly shutdown comes before the first valve (OSHA 1910.147(d)(2)).",
            "What it served is served otherwise, or can stand without it.",
            "It can't: bring it back, find another time.");
    }
}

/* Vessels inside are emptied in the plant's own way, as far as that goes, while gas can still
 * follow the liquid (N4). */
static void empty_vessels(still_script *s)
{
    const still_isolation *iso = s->order->iso;
    const still_plant *plant = s->order->plant;
    for (uint32_t i = 0; i < iso->inside.n; i++) {
        uint32_t comp = iso->inside.items[i];
        const still_comp *c = &plant->comps[comp];
        if (c->cls != STILL_CLASS_VESSEL ||
            still_contents_now(plant, iso->zone.state, comp) == STILL_CONTENTS_VAPOUR ||
            still_contents_now(plant, iso->zone.state, comp) == STILL_CONTENTS_NONE)
            continue;
        still_stepper_add(
            &s->step, still_id_of(plant, comp), 0,
            SAY("Empty %s in the plant's own way, as far as that goes, into what can take it, "
                "while "
                "its gas supply and its breather still stand open: gas has to follow the liquid. "
                "Pumps stop "
                "before they draw gas.",
                still_id_of(plant, comp)),
            "It lies inside the boundary, so it has to be empty (rule N4); what is left leaves by "
            "the drains below. A vessel that is drained shut can be sucked in.",
            "The level falls as far as the line takes from; the pressure does not go below its "
            "normal one.",
            "Pressure falls below normal: stop, let gas in. What takes it is full: stop, plan "
            "where "
            "the rest goes.");
    }
}

/* Both sides are closed off: heat first, while flow still carries it away (N5). */
static void heat_off(still_script *s)
{
    if (s->order->warm == STILL_NONE) return;
    const char *id = still_id_of(s->order->plant, s->order->warm);
    still_stepper_add(
        &s->step, id, 0,
        SAY("Take the heat off %s first, in the plant's own way, and leave flow on its "
            "cooler side until it has cooled down.",
            id),
        "What is shut in against a hot wall rises in pressure (rules N3, N5).",
        "Both sides come to one temperature.",
        "It stays warm: something still heats it. Find it before anything is stopped.");
}

/* An exchanger's other side that stays in service heats what is shut in (N3, N5). */
static void other_side_off(still_script *s)
{
    const still_isolation *iso = s->order->iso;
    const still_plant *plant = s->order->plant;
    for (uint32_t i = 0; i < iso->inside.n; i++) {
        uint32_t comp = iso->inside.items[i];
        const char *what = still_warmer_side_outside(s->arena, iso, comp);
        if (what == NULL) s->step.failed = true;
        if (what == NULL || what[0] == '\0') continue;
        still_stepper_add(
            &s->step, still_id_of(plant, comp), 0,
            SAY("Keep heat off %s: its other side (%s) is outside the boundary. Take that out of "
                "service, flow and fans off, and keep it so until what is inside has been emptied.",
                still_id_of(plant, comp), what),
            "As long as liquid is left, heat from the other side raises its pressure (rules N3, "
            "N5).",
            "No flow, no draught on the other side.",
            "It can't be stopped: stop; plan to close off both sides.");
    }
}

static bool opening(const still_op *op)
{
    return op->opening;
}

static bool opened_by_override(const still_op *op)
{
    return op->opening && op->override;
}

/* P2, L6: what is opened inside by its manual opening stands open already while it is pumped down.
 */
static void openings_driven_open(still_script *s)
{
    const still_order *o = s->order;
    uint32_t n, *list = still_script_pick(s, opened_by_override, &n);
    if (list == NULL) s->step.failed = true;
    if (n == 0 || o->receiver == STILL_NONE) return;
    const char *ids = still_join_all(s->arena, o->plant, list, n);
    still_stepper_add(
        &s->step, still_id_of(o->plant, list[0]), 0,
        ids == NULL
            ? NULL
            : SAY("Have %s driven open by control, and see %s open at the device, before the "
                  "feed is shut; one person stays at the manual openings, in touch: when supplies "
                  "go "
                  "off, they follow without a pause.",
                  ids, n == 1 ? "it" : "them"),
        "What shuts inside parts the section: a part that is shut in does not empty, and no gauge "
        "elsewhere shows it (rules P2, L6).",
        "Indicator at open, flow heard.",
        "It does not open: use its manual opening at once when the feed is shut, before anything "
        "is "
        "trusted.");
}

/* P2: the section empties only while what acts by itself on the way there passes. */
static void way_stands_open(still_script *s)
{
    const still_order *o = s->order;
    if (o->n_on_the_way == 0) return;
    still_stepper_add(
        &s->step, still_id_of(o->plant, o->on_the_way[0]), 0,
        SAY("See that %s on the way to %s stand%s open, and stay%s open without supply: by the "
            "indicator at the device, not by the screen.",
            still_join_ids(s->arena, o->plant, o->on_the_way, o->n_on_the_way),
            still_id_of(o->plant, o->receiver), o->n_on_the_way == 1 ? "s" : "",
            o->n_on_the_way == 1 ? "s" : ""),
        "The section empties by this way. What is shut there when its supply goes off stays shut.",
        "Indicator at open.",
        "It stands shut: have it opened before any supply is switched off; if it can't be, nothing "
        "empties to there: let all of it out by the drains below.");
}

bool still_script_empties_to_receiver(const still_script *s, const still_room *room)
{
    const still_order *o = s->order;
    for (uint32_t i = 0; i < o->n_ops; i++)
        if (o->ops[i].receiver_side && still_room_has(room, o->ops[i].inner_port)) return true;
    return false;
}

/* " Watch PI-11.": gauges of the compartments at the work. */
static const char *gauges_at_work(still_script *s)
{
    const still_rooms *rooms = s->order->rooms;
    const still_plant *plant = s->order->plant;
    const char *text = "";
    for (size_t i = 0; i < rooms->n_rooms && text != NULL; i++)
        if (rooms->rooms[i].gauge != STILL_NONE &&
            still_script_empties_to_receiver(s, &rooms->rooms[i]))
            text = SAY("%s%s%s (root valve %s seen open)", text, text[0] ? ", " : "",
                       still_text(plant, plant->gauges[rooms->rooms[i].gauge].id),
                       still_id_of(plant, plant->gauges[rooms->rooms[i].gauge].via));
    return text == NULL || text[0] == '\0' ? text : SAY(" Watch %s.", text);
}

static bool receiver_side(const still_op *op)
{
    return op->receiver_side;
}

/* " (HV-113 is sealed: …)": they are shut first for the pump-down. */
static const char *seals_at_receiver(still_script *s)
{
    const still_order *o = s->order;
    const char *text = "";
    for (uint32_t i = 0; i < o->n_ops && text != NULL; i++)
        if (o->ops[i].receiver_side && o->plant->comps[o->ops[i].comp].sealed != 0)
            text =
                SAY("%s%s%s", text, text[0] ? " and " : "", still_id_of(o->plant, o->ops[i].comp));
    return text == NULL || text[0] == '\0'
               ? text
               : SAY(" (%s: break the seal first, and write its number down)", text);
}

/* ", but not before P-1 stands still …": a machine whose feed side is shut while it can start runs
 * dry (P9). */
static const char *held_before(still_script *s)
{
    const still_order *o = s->order;
    const char *text = "";
    for (uint32_t comp = 0; comp < o->plant->n_comps && text != NULL; comp++)
        if (still_script_stopped(s, comp))
            text = SAY("%s%s%s", text, text[0] ? ", " : "", still_id_of(o->plant, comp));
    return text == NULL || text[0] == '\0'
               ? text
               : SAY(", but not before %s stands still with its supply locked off", text);
}

static void shut_down(still_script *s)
{
    const still_order *o = s->order;
    const still_plant *plant = o->plant;
    const uint8_t *near = mark_near(s);
    if (near == NULL) {
        s->step.failed = true;
        return;
    }
    s->step.phase = "shut-down";
    for (uint32_t i = 0; i < plant->n_sequences; i++) {
        const still_sequence *q = &plant->sequences[i];
        if (!touches(s, q, near)) continue;
        const char *kind =
            still_arena_word(s->arena, still_word(STILL_VOC_still_sequence_kind, q->kind));
        const char *where = still_text(plant, q->off_at);
        still_stepper_add(
            &s->step, still_text(plant, q->id), 0,
            SAY("%sut off the automatic sequence %s (%s)%s%s, and put a notice on it.",
                q->kind == STILL_SEQUENCE_DEFROST
                    ? "Not while a defrost runs: let it finish first (rule P8). Then p"
                    : "P",
                still_text(plant, q->id), kind[0] ? kind : "kind not said", where[0] ? " at " : "",
                where),
            "It can move fluid to or from the section. Off is not isolation.",
            "The sequence shows off, and stays off until the way back puts it on.",
            "If it can't be put off: stop; the section is not under control.");
    }
    heat_off(s);
    out_of_service(s);
    size_t before = s->step.n;
    empty_vessels(s);
    bool emptied = s->step.n > before;
    still_script_heat_beyond(s, false);
    stop_machines(s);
    other_side_off(s);
    way_stands_open(s);
    openings_driven_open(s);
    if (still_order_first(o, opening) != NULL) still_script_hot_gas(s);
    const char *gauges = gauges_at_work(s), *held = held_before(s);
    const char *sides = o->receiver == STILL_NONE ? "" : still_script_ops(s, receiver_side);
    const char *seal = seals_at_receiver(s), *shut = sides_shut(s);
    if (o->receiver != STILL_NONE) {
        const char *id = still_id_of(plant, o->receiver);
        still_stepper_add(
            &s->step, id, 0,
            gauges == NULL || held == NULL || sides == NULL || seal == NULL || shut == NULL
                ? NULL
                : SAY("Pump the section down to %s, in the plant's own way, with a person in "
                      "attendance: %s%s, leave the side to %s open. Done only when "
                      "the "
                      "pressure holds with the suction side (%s) briefly shut%s, a hand on it, "
                      "open again at the first rise, and the metal has "
                      "warmed above saturation.%s",
                      id, shut, held, id, sides, seal, gauges),
            "What leaves by this way need not be let out at the work.",
            "Pressure falls and stays down; frost melts.",
            "Pressure comes back: liquid is left. Reopen and repeat.");
    } else {
        still_stepper_add(
            &s->step, "", 0,
            emptied ? "No pump-down is known for this section: no low-pressure vessel can be "
                      "reached from it. What its own way, above, does not take leaves through the "
                      "drains and vents below."
                    : "No pump-down is known for this section: no low-pressure vessel can be "
                      "reached from it. Its whole contents leave through the drains and vents "
                      "below.",
            "The plant file shows no vessel with the role low-pressure that it empties to.",
            emptied ? "What is left of the quantity above can be taken by them."
                    : "The quantity above can be taken by them.",
            "If the plant has a way to pump down: correct the plant file, plan anew.");
    }
}

void still_script_change(still_step *step, const char *from, const char *to)
{
    if (step == NULL) return;
    step->from = from;
    step->to = to;
}

uint32_t still_script_feed_tag(const still_order *o, uint32_t feed)
{
    for (uint32_t i = 0; i < o->n_ops; i++)
        if (o->ops[i].feed == feed) return o->ops[i].tag;
    return 0;
}

/* It feeds a machine that has been stopped, and locked off with that. */
static bool locked_already(const still_script *s, const still_feed *f)
{
    const still_plant *plant = s->order->plant;
    for (uint32_t i = 0; i < f->n_refs; i++)
        if (still_script_stopped(s, plant->refs[f->ref0 + i])) return true;
    return false;
}

static bool lockable_feed(const still_plant *plant, uint32_t feed)
{
    uint8_t lockable = plant->feeds[feed].lockable;
    return lockable == STILL_LOCKABLE_YES || lockable == STILL_LOCKABLE_ASSUMED;
}

const char *still_script_feed(still_script *s, uint32_t feed)
{
    const still_feed *f = &s->order->plant->feeds[feed];
    const char *isolator = still_text(s->order->plant, f->isolator);
    const char *id = still_text(s->order->plant, f->id);
    return isolator[0] == '\0' ? id : SAY("%s (feed %s)", isolator, id);
}

/* " With HV-611 shut …": what stood open by its supply shuts now (L6). */
static const char *shuts_with_it(still_script *s, const still_feed *f)
{
    const still_order *o = s->order;
    uint32_t n = 0, *list = STILL_ARENA_NEW(s->arena, f->n_refs, uint32_t);
    for (uint32_t i = 0; i < f->n_refs && list != NULL; i++)
        for (uint32_t k = 0; k < o->n_ops; k++)
            if (o->ops[k].opening && o->ops[k].override &&
                o->ops[k].comp == o->plant->refs[f->ref0 + i])
                list[n++] = o->ops[k].comp;
    if (list == NULL) return NULL;
    return n == 0 || o->receiver == STILL_NONE
               ? ""
               : SAY(" What stands open by it may shut now (%s), and shut liquid in against what "
                     "the pump-down has shut: one person stands at the manual openings, in touch, "
                     "and what is left of that goes on without a pause.",
                     still_join_all(s->arena, o->plant, list, n));
}

static void isolate_feed(still_script *s, const still_op *op)
{
    const still_plant *plant = s->order->plant;
    const still_feed *f = &plant->feeds[op->feed];
    bool locked = locked_already(s, f), was_off = strcmp(op->from, "off") == 0;
    const char *shuts = shuts_with_it(s, f), *name = still_script_feed(s, op->feed);
    still_step *step = still_stepper_add(
        &s->step, still_text(plant, f->id), op->tag,
        shuts == NULL || name == NULL
            ? NULL
            : SAY("%s %s%s%s: %s.%s%s", locked || was_off ? "Check that" : "Switch off", name,
                  still_script_place(s, still_text(plant, f->place)),
                  locked    ? " is off, with your lock on it since the machine was stopped"
                  : was_off ? " is off"
                            : "",
                  still_describe_feed(s->arena, plant, op->feed),
                  locked ? ""
                  : lockable_feed(plant, op->feed)
                      ? " Put your lock on at once."
                      : " It can't be locked: somebody stays beside it.",
                  shuts),
        "What it drives can't move or heat by itself any more.", "The isolator stands in off.",
        "It does not switch off or can't be held: stop; the plan does not hold.");
    still_script_change(step, op->from, "off");
}

/* The name that the finding of a segment goes by. */
static const char *lowest_id(const still_plant *plant, const still_shut_in *segment)
{
    const char *least = "it";
    for (uint32_t i = 0; i < segment->n_ids; i++) {
        const char *id = still_id_of(plant, segment->ids[i]);
        if (i == 0 || strcmp(id, least) < 0) least = id;
    }
    return least;
}

/* What the next states break, in the step that leads to them (P3). "" = nothing. */
static const char *breach_words(still_script *s, const still_op *op)
{
    const still_order *o = s->order;
    const char *text = "";
    for (size_t i = 0; i < o->n_breaches && text != NULL; i++) {
        const still_on_the_way *b = &o->breaches[i];
        if (b->back || b->from != op->tag) continue;
        const char *until = b->to != 0 ? SAY(" until tag %u is done", b->to)
                            : b->told != NULL && b->segment->inside
                                ? " until a way out is opened below"
                                : "";
        const char *at = b->rule == STILL_BREAKS_L6 && b->segment->n_ids > 0
                             ? still_id_of(o->plant, b->segment->ids[0])
                             : "it";
        bool stays = b->to == 0 && b->rule == STILL_BREAKS_L6 && !b->segment->inside;
        if (until == NULL) return NULL;
        if (b->rule == STILL_BREAKS_L6)
            text =
                SAY(stays ? "%s From here liquid is shut in without relief at %s%s, beside the "
                            "section, until this is opened again on the way back (rule L6, see the "
                            "finding of %s)."
                          : "%s From here liquid is shut in without relief at %s%s (rule L6, see "
                            "the finding of %s): go on without a pause.",
                    text, at, until, lowest_id(o->plant, b->told == NULL ? b->segment : b->told));
        else if (b->rule == STILL_BREAKS_P9)
            text = SAY("%s From here %s has no open way%s (rule P9, see the finding): it stands "
                       "still and is held off first.",
                       text, still_id_of(o->plant, b->comp), until);
        else
            text = SAY("%s From here %s has no relief path%s (rule D4, see there).", text,
                       still_id_of(o->plant, b->comp), until);
    }
    return text;
}

const char *still_script_seal(still_script *s, uint32_t comp)
{
    return s->order->plant->comps[comp].sealed == 0
               ? ""
               : " It is sealed: break the seal, and write its number down.";
}

bool still_script_still_full(const still_script *s, const still_room *room)
{
    return !room->between && room->liquid && room->n_ids > 0 && !still_room_is_open(room) &&
           !still_script_empties_to_receiver(s, room) &&
           !(s->order->relief_stage && still_order_recovers(s->order->plant, room) != NULL);
}

/* "T-13 and K-1; F-2": compartments at the work that no pump-down has emptied; "" = none. */
static const char *left_full(still_script *s)
{
    const still_rooms *rooms = s->order->rooms;
    const char *text = "";
    for (size_t i = 0; i < rooms->n_rooms && text != NULL; i++) {
        const still_room *room = &rooms->rooms[i];
        if (!still_script_still_full(s, room)) continue;
        const char *ids = still_join_ids(s->arena, s->order->plant, room->ids, room->n_ids);
        text = ids == NULL ? NULL : SAY("%s%s%s", text, text[0] ? "; " : "", ids);
    }
    return text;
}

/* " by BV-13, watch PI-13": how those compartments are let off, one after the other. */
static const char *left_full_ways(still_script *s)
{
    const still_rooms *rooms = s->order->rooms;
    const still_plant *plant = s->order->plant;
    const char *text = "";
    for (size_t i = 0; i < rooms->n_rooms && text != NULL; i++) {
        const still_room *room = &rooms->rooms[i];
        if (!still_script_still_full(s, room) || room->vent.n == 0) continue;
        text =
            SAY("%s%sby %s%s%s", text, text[0] ? ", " : "", still_id_of(plant, room->vent.items[0]),
                room->gauge == STILL_NONE ? "" : ", watching ",
                room->gauge == STILL_NONE ? "" : still_text(plant, plant->gauges[room->gauge].id));
    }
    return text;
}

/* " Is it not so: crack HV-112 …": a closed side of what is full, by which its pressure falls to
 * that of a line in service. "" = there is none. NULL when memory is out. */
static const char *level_by(still_script *s)
{
    const still_order *o = s->order;
    for (size_t r = 0; r < o->rooms->n_rooms; r++)
        for (uint32_t i = 0; i < o->n_ops && still_script_still_full(s, &o->rooms->rooms[r]); i++) {
            const still_op *op = &o->ops[i];
            if (op->barrier && op->comp != STILL_NONE && !op->late && !op->behind_relief &&
                strcmp(op->from, "closed") != 0 &&
                still_room_has(&o->rooms->rooms[r], op->inner_port))
                return SAY(
                    " Is it not so: crack %s, not locked yet, and leave it cracked, attended, so "
                    "that the gauge stays at the pressure of the line there, until the frost "
                    "has gone; then shut it again and at once this one. If pressure elsewhere "
                    "inside rises by it, repeat what was done before.",
                    still_id_of(o->plant, op->comp));
        }
    return " Is it not so: leave it open, and wait.";
}

/* D4: what a relief path may protect is not empty when it is closed: the other way out is opened
 * next. "" = it is. */
static const char *relief_words(still_script *s, const still_op *op)
{
    const char *left = op->behind_relief ? left_full(s) : "";
    const char *ways = op->behind_relief ? left_full_ways(s) : "", *level = level_by(s);
    if (left == NULL || ways == NULL || level == NULL) return NULL;
    return left[0] == '\0'
               ? ""
               : SAY(" Not empty yet, and by now perhaps at what opens its relief valve: %s; read "
                     "the gauge first, hose and its end to match. Close it only while that "
                     "pressure "
                     "stands well below, and the pipe behind the relief valve is free of frost: "
                     "what "
                     "it has let out stands there as liquid.%s Let the rest off without a pause "
                     "once "
                     "this is closed%s%s; one person stays here with the key: while no flow is "
                     "seen "
                     "there and pressure rises, open %s again.",
                     left, level, ways[0] ? ", " : "", ways,
                     still_id_of(s->order->plant, op->comp));
}

static void isolate_barrier(still_script *s, const still_op *op)
{
    const still_plant *plant = s->order->plant;
    const char *id = still_id_of(plant, op->comp);
    const char *what = still_describe_comp(s->arena, plant, op->comp);
    const char *place = still_script_place(s, still_comp_t(plant, op->comp, STILL_T_PLACE));
    bool blind = plant->comps[op->comp].cls == STILL_CLASS_BLIND;
    bool was_closed = strcmp(op->from, "closed") == 0;
    const char *to = still_point_position(s->arena, plant, op->point);
    bool turned = op->point->joined != 0;
    const char *relief = relief_words(s, op);
    if (relief == NULL) {
        s->step.failed = true;
        return;
    }
    const char *side = op->receiver_side ? "Last side: the section has emptied through it."
                       : op->behind_relief && relief[0] ? "Relief path: closed last, so that the "
                                                          "shut-in lasts as short as can be."
                       : op->behind_relief ? "Relief path: closed last, once the section is empty."
                       : op->warms         ? "Side of the heat: first."
                       : op->downstream    ? "Downstream side."
                                           : "Feed side.";
    const char *breaks = breach_words(s, op);
    /* Towards the receiver it has been broken for the pump-down. */
    const char *seal = was_closed || op->receiver_side ? "" : still_script_seal(s, op->comp);
    const char *text =
        blind ? SAY("Check that %s%s, %s, is fitted, the blank of full rating in place.", id, place,
                    what)
        : turned ? SAY("Set %s%s, %s, to position %s.", id, place, what, to)
        : was_closed
            ? SAY("Check that %s%s, %s, is closed: turn it towards closed.", id, place, what)
            : SAY("Close %s%s, %s%s.%s%s", id, place, what,
                  s->order->receiver != STILL_NONE && shut_for_pump_down(op)
                      ? " (or see that it is still shut from the pump-down)"
                      : "",
                  seal, relief);
    if (text == NULL || breaks == NULL) s->step.failed = true;
    still_step *step = still_stepper_add(
        &s->step, id, op->tag, text, breaks != NULL && breaks[0] ? SAY("%s%s", side, breaks) : side,
        blind ? "The blank shows; all bolts are in."
              : still_describe_shut(&plant->comps[op->comp], turned),
        "It does not close, or passes: do not go on. Reopen what was closed in "
        "reverse order if that is safe, "
        "mark it passing in the plant file, and plan anew.");
    still_script_change(step, op->from, to != NULL ? to : "");
}

static bool feed_side(const still_op *op)
{
    return op->barrier && op->comp != STILL_NONE && !op->downstream && !op->late &&
           strcmp(op->from, "closed") != 0;
}

/* " Before you stop …": a step that stops here leaves liquid shut in behind what is closed (L6). */
static const char *give_way(still_script *s)
{
    const still_op *op = still_order_first(s->order, feed_side);
    return op == NULL
               ? ""
               : SAY(" Before you stop crack %s open again, slowly, and stay there: liquid may "
                     "be shut in behind it (rule L6).",
                     still_id_of(s->order->plant, op->comp));
}

static void isolate_opening(still_script *s, const still_op *op)
{
    const still_plant *plant = s->order->plant;
    const char *id = still_id_of(plant, op->comp);
    const char *what = still_describe_comp(s->arena, plant, op->comp);
    const char *place = still_script_place(s, still_comp_t(plant, op->comp, STILL_T_PLACE));
    const char *first =
        op->hung != 0 && strcmp(op->from, "closed") == 0
            ? SAY("Take the lock and tag %u of the plan before off %s. ", op->hung, id)
            : "";
    still_step *step = still_stepper_add(
        &s->step, id, op->tag,
        strcmp(op->from, "open") == 0
            ? SAY("Check that the manual opening of %s%s, %s, still stands open. Tag it.", id,
                  place, what)
        : op->override
            ? SAY("Use the manual opening of %s%s, %s: open a little, wait, then open fully. "
                  "Tag it.",
                  id, place, what)
            : SAY("%sOpen %s%s, %s: see first that no end beyond it is open (caps, plugs, blanks); "
                  "crack it, wait, then open fully. Tag it.%s",
                  first, id, place, what, still_script_seal(s, op->comp)),
        "Both sides equalise and empty together; nothing stays shut in behind it.",
        "A short hiss at most, then silence; both sides at one pressure.",
        SAY("It can't be opened: the section stays in two parts. Stop, mark it in the plant file, "
            "plan anew.%s",
            give_way(s)));
    still_script_change(step, op->from, "open");
}

static bool receiver_side_inner(const still_op *op)
{
    return op->receiver_side && !op->outer;
}

static bool receiver_side_outer(const still_op *op)
{
    return op->receiver_side && op->outer;
}

/* P2: the side to the receiver is closed last, and only when all liquid is gone. */
static void look_at_pump_down(still_script *s, bool outer)
{
    const char *id = still_id_of(s->order->plant, s->order->receiver);
    const char *left = left_full(s);
    const char *sides = still_script_ops(s, outer ? receiver_side_outer : receiver_side_inner);
    still_stepper_add(
        &s->step, id, 0,
        left == NULL
            ? NULL
            : SAY("Before the side to %s is closed for good: shut %s briefly, watch the "
                  "pressure, and open again. The pressure must hold, and the metal must "
                  "have warmed above saturation, at low points and pockets too.%s%s%s",
                  id, sides,
                  left[0] ? " This does not empty that way, and stays cold and full: " : "", left,
                  left[0] ? ". It is let off below, without delay." : ""),
        "Liquid that is left would be shut in by the next steps.",
        "Pressure stays where it is; no frost, no cold spot.",
        SAY("Pressure rises, or metal stays cold: liquid is left. Leave the side to %s open, go on "
            "pumping down, and repeat this step.",
            id));
}

static bool cooler_and_open(const still_op *op)
{
    return op->cools && strcmp(op->from, "closed") != 0;
}

/* N5: the side of the heat is shut; the other one carries off what it has left. */
static void let_heat_go(still_script *s)
{
    const char *cooler = still_script_ops(s, cooler_and_open);
    const char *id = still_id_of(s->order->plant, s->order->warm);
    still_stepper_add(
        &s->step, id, 0,
        cooler == NULL ? NULL
                       : SAY("Let %s cool down before more of it is closed off: leave its cooler "
                             "side open (%s), with flow through it where it can be had, until a "
                             "thermometer on the metal of the warmer side reads no more than the "
                             "cooler side's own temperature in service, or the surroundings.",
                             id, cooler),
        "Heat that is left in the warmer side would raise the pressure of what is shut in (rules "
        "N3, N5).",
        "The metal has come down to it and stays there.",
        "It stays warm: a valve of the warmer side passes, or something else heats it. Leave the "
        "other side open; find out.");
}

/* What is full when its relief path is closed is let off at once: hose and cap are seen to before
 * (D4, L6). */
static void ready_what_is_full(still_script *s, uint8_t *done)
{
    const still_rooms *rooms = s->order->rooms;
    for (size_t i = 0; i < rooms->n_rooms; i++)
        if (still_script_still_full(s, &rooms->rooms[i]))
            still_script_ready(s, &rooms->rooms[i], done);
}

/* @param outer  the valves further out, in their own stage; else all others */
static void isolate(still_script *s, bool outer, uint8_t *done)
{
    bool looked = false, cooled = s->order->warm == STILL_NONE, warm = false;
    s->step.phase = "isolate";
    for (uint32_t i = 0; i < s->order->n_ops; i++) {
        const still_op *op = &s->order->ops[i];
        if (op->outer != outer) continue;
        if (op->behind_relief) ready_what_is_full(s, done);
        if (op->receiver_side && !looked) look_at_pump_down(s, outer);
        looked = looked || op->receiver_side;
        /* With its last valve still open the warmer side keeps its pressure while it cools. */
        if ((op->cools || op->warms) && warm && !cooled) {
            let_heat_go(s);
            cooled = true;
        }
        warm = warm || op->warms;
        if (op->feed != STILL_NONE)
            isolate_feed(s, op);
        else if (op->barrier && !op->late)
            isolate_barrier(s, op);
        else if (op->opening)
            isolate_opening(s, op);
    }
}

/* What hangs there from the plan before stays, under its new number. */
static void keep_hung(still_script *s, const still_op *op, const char *id, const char *state,
                      bool lock)
{
    still_stepper_add(
        &s->step, id, op->tag,
        SAY("%s %u of the plan before hangs on %s: leave %s, and hang tag %u beside it, to stay "
            "%s.",
            lock ? "Lock and tag" : still_arena_word(s->arena, "Tag"), op->hung, id,
            lock ? "both" : "it", op->tag, state),
        "It was never without a tag; the list of this plan names it by its new number.",
        lock ? "Try it: it does not move." : "The tag can't be overlooked or fall off.",
        "The tag before is not there: somebody has been at it. Stop, find out, plan anew.");
}

static bool shuts_liquid_in(const still_order *o)
{
    for (size_t i = 0; i < o->n_breaches; i++)
        if (!o->breaches[i].back && o->breaches[i].rule == STILL_BREAKS_L6 &&
            o->breaches[i].segment->inside)
            return true;
    return false;
}

static void lock_and_tag(still_script *s, bool outer)
{
    const still_plant *plant = s->order->plant;
    const char *reopen = still_script_reopen(s);
    if (reopen == NULL) s->step.failed = true;
    if (reopen != NULL && reopen[0] == '\0' && shuts_liquid_in(s->order))
        reopen = " Before you leave reopen in reverse order: liquid may be shut in (rule L6).";
    s->step.phase = "lock-and-tag";
    for (uint32_t i = 0; i < s->order->n_locks; i++) {
        const still_op *op = &s->order->ops[s->order->locks[i]];
        if (op->outer != outer) continue;
        bool feed = op->feed != STILL_NONE;
        const char *id =
            feed ? still_text(plant, plant->feeds[op->feed].id) : still_id_of(plant, op->comp);
        bool lock = op->barrier && (!feed || lockable_feed(plant, op->feed)) &&
                    (feed || plant->comps[op->comp].cls != STILL_CLASS_BLIND);
        const char *state = feed          ? "off"
                            : op->opening ? "open"
                                          : still_point_position(s->arena, plant, op->point);
        if (state != NULL) state = still_arena_word(s->arena, state);
        const char *name = feed ? still_script_feed(s, op->feed) : id;
        if (state == NULL || name == NULL) {
            s->step.failed = true;
            return;
        }
        if (op->hung != 0) {
            keep_hung(s, op, id, state, lock);
            continue;
        }
        still_stepper_add(
            &s->step, id, op->tag,
            feed && lock
                ? SAY("See your lock on %s, %s, and hang tag %u on it.", name, state, op->tag)
            : lock
                ? SAY("Lock %s %s with your own lock, and hang tag %u on it.", id, state, op->tag)
                : SAY("Hang tag %u on %s, to stay %s.", op->tag, name, state),
            op->opening ? "It must stay open while the section is apart."
                        : "Nobody can undo it by mistake.",
            lock ? "Try it: it does not move." : "The tag can't be overlooked or fall off.",
            lock ? SAY("It moves, or the lock does not fit: stop; it is no isolation point.%s",
                       reopen)
                 : "It can't be tagged where it is: tag it as near as is safe.");
    }
}

static bool proved_at(const still_script *s, uint32_t port)
{
    const still_rooms *rooms = s->order->rooms;
    for (size_t r = 0; r < rooms->n_rooms; r++)
        if (still_room_has(&rooms->rooms[r], port) && rooms->rooms[r].prove.n > 0) return true;
    return false;
}

/* Both compartments at the joint of a blind have a place to prove zero, and its live side keeps a
 * bleed of its own once it is fitted: else what passes the valve outside may not show (I2). */
static bool joint_bled(const still_script *s, const still_op *op)
{
    return op->bled && proved_at(s, op->point->inner_port) && proved_at(s, op->point->outer_port);
}

uint32_t still_script_free_end(const still_script *s, uint32_t pipe)
{
    const still_plant *plant = s->order->plant;
    const still_comp *c = &plant->comps[pipe];
    uint32_t found = STILL_NONE;
    if (c->cls != STILL_CLASS_SPOOL) return STILL_NONE;
    for (int end = 0; end < 2; end++) {
        uint32_t port = end == 0 ? c->a : c->b, comp = plant->ports[port].comp;
        if (!still_flanged_at(plant, port)) continue;
        if (plant->comps[comp].cls != STILL_CLASS_BLIND ||
            plant->comps[comp].kind != STILL_KIND_REMOVABLE_SPOOL ||
            still_position_now(plant, s->order->state, comp) != STILL_POSITION_CLOSED)
            return STILL_NONE;
        found = comp;
    }
    return found;
}

/* Blinds, spades and removed pipes: a stage of its own, once the section is proved empty; the
 * valves outside stay closed (I2, P1). */
static void fit_blinds(still_script *s)
{
    const still_plant *plant = s->order->plant;
    bool any = false;
    for (uint32_t i = 0; i < s->order->n_ops; i++) any = any || s->order->ops[i].late;
    if (!any) return;
    s->step.stage = s->step.stage == 2 ? 3 : 2;
    s->step.phase = "isolate";
    for (uint32_t i = 0; i < s->order->n_ops; i++) {
        const still_op *op = &s->order->ops[i];
        if (!op->late) continue;
        const char *id = still_id_of(plant, op->comp);
        const char *place = still_script_place(s, still_point_place(plant, op->comp));
        const char *to = still_point_position(s->arena, plant, op->point);
        const char *joints = still_describe_joints(s->arena, plant, op->comp);
        bool pipe = plant->comps[op->comp].cls == STILL_CLASS_SPOOL;
        bool out = to != NULL && strcmp(to, "removed") == 0;
        uint32_t free = out ? STILL_NONE : still_script_free_end(s, op->comp);
        still_step *step = still_stepper_add(
            &s->step, id, op->tag,
            joints == NULL ? NULL
            : out
                ? SAY("Take out pipe %s%s: bolts farthest from the body first, two left partly "
                      "engaged until the joint has parted; fit a blank of full rating on the live "
                      "end.",
                      id, place)
            : free != STILL_NONE
                ? SAY("See that the free end of %s%s at %s, which is out, carries a blank of full "
                      "rating, all bolts in. Where it has none, or another, fit one as if pressure "
                      "stood behind it: two bolts left partly engaged until it has parted.",
                      id, place, still_id_of(plant, free))
            : pipe
                ? SAY("At a flanged end of %s%s%s open the joint with care, two bolts left partly "
                      "engaged until it has parted, and fit a spade of full rating.",
                      id, place, joints)
                : SAY("Fit %s%s: open the joint with care, two bolts left partly engaged until it "
                      "has parted; the blank of full rating in place.",
                      id, place),
            joint_bled(s, op)
                ? "See the bleeds on both its sides open and nothing coming; where one has none "
                  "(see the findings, I2), part the joint as if it stood under pressure."
                : "No bleed shows what passes the valve outside (see the finding, I2): part the "
                  "joint "
                  "as if it stood under pressure.",
            "The joint parts without a hiss; the blank shows, all bolts are in.",
            "Anything comes: tighten the bolts again, leave; the stage before was not proved.");
        still_script_change(step, op->from, to != NULL ? to : "");
    }
    s->step.phase = "lock-and-tag";
    for (uint32_t i = 0; i < s->order->n_ops; i++) {
        const still_op *op = &s->order->ops[i];
        if (!op->late) continue;
        still_stepper_add(&s->step, still_id_of(plant, op->comp), op->tag,
                          SAY("Hang tag %u on %s.", op->tag, still_id_of(plant, op->comp)),
                          "Nobody can undo it by mistake.",
                          "The tag can't be overlooked or fall off.",
                          "It can't be tagged where it is: tag it as near as is safe.");
    }
    s->step.phase = "verify";
    still_stepper_add(
        &s->step, "", 0,
        "Look at every blank, spade and open end: right place, full rating, all bolts "
        "in; zero still stands where a gauge shows it, elsewhere the bleed is open and nothing "
        "comes.",
        "The work relies on them alone from here on.", "As on the diagram.",
        "Anything else: stop, put it right, prove zero again.");
}

still_status still_steps_isolate(still_record *record, still_arena *arena, const still_order *order)
{
    still_script state = {
        .step = {.arena = arena}, .arena = arena, .record = record, .order = order};
    still_script *s = &state;
    uint8_t *done = STILL_ARENA_NEW(arena, order->plant->n_comps, uint8_t);
    if (done == NULL) return STILL_E_NOMEM;
    prepare(s);
    shut_down(s);
    isolate(s, false, done);
    lock_and_tag(s, false);
    if (order->relief_stage) {
        still_script_recover(s, done);
        s->step.stage = 2;
        isolate(s, true, done);
        lock_and_tag(s, true);
    }
    still_script_release(s, done, true);
    if (order->staged) {
        still_script_prove_inner(s);
        s->step.stage = 2;
        isolate(s, true, done);
        lock_and_tag(s, true);
        s->step.phase = "release";
    }
    still_script_release(s, done, false);
    still_script_verify(s);
    fit_blinds(s);
    still_script_work(s);
    return still_stepper_finish(&s->step, &record->steps, &record->n_steps);
}
