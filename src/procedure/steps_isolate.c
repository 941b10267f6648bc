/* Steps up to the work: prepare, shut down, isolate, lock and tag, release, verify, work.
 * Source of the order: OSHA 29 CFR 1910.147 (d)(1) to (d)(6); rules P1, P2, P4, P5, N5, N6, E1, E8.
 */
#include "steps_script.h"

#include "describe.h"

#include <string.h>

#define SAY(...) still_arena_printf(s->arena, __VA_ARGS__)

const char *still_script_place(still_script *s, const char *place)
{
    return place[0] == '\0' ? "" : SAY(" (%s)", place);
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
}

/* " (HV-1)": the points on the feed side, in words. */
static const char *feed_sides(still_script *s)
{
    const char *text = "";
    for (uint32_t i = 0; i < s->order->n_ops && text != NULL; i++) {
        const still_op *op = &s->order->ops[i];
        if (!op->barrier || op->comp == STILL_NONE || op->downstream || op->late || op->outer)
            continue;
        text = SAY("%s%s%s", text, text[0] ? ", " : " at ", still_id_of(s->order->plant, op->comp));
    }
    return text == NULL ? "" : text;
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

static bool touches(const still_script *s, const still_sequence *q, const uint8_t *near)
{
    for (uint32_t i = 0; i < q->n_refs; i++) {
        uint32_t comp = s->order->plant->refs[q->ref0 + i];
        if (near[comp] || still_order_tag(s->order, comp) != 0) return true;
    }
    return false;
}

/* Is a machine to stand still before anything is closed: opened, inside, or without a way on the
 * way? */
static const char *why_stopped(const still_script *s, uint32_t comp)
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

static void stop_machines(still_script *s)
{
    const still_plant *plant = s->order->plant;
    for (uint32_t comp = 0; comp < plant->n_comps; comp++) {
        uint8_t cls = plant->comps[comp].cls;
        if (cls != STILL_CLASS_PUMP && cls != STILL_CLASS_COMPRESSOR) continue;
        const char *why = why_stopped(s, comp), *id = still_id_of(plant, comp);
        if (why == NULL) continue;
        bool listed = false;
        size_t n;
        const still_comp_feed *feeds = still_comp_feeds(plant, comp, &n);
        for (size_t i = 0; i < n; i++)
            listed = listed || still_script_feed_tag(s->order, feeds[i].feed) != 0;
        still_stepper_add(
            &s->step, id, 0,
            SAY("Stop %s %s in the plant's normal way, before any valve of its line is shut; where "
                "one "
                "stands by, put that on duty first and see it carry the load.%s",
                still_word(STILL_VOC_still_class, cls), id,
                listed ? ""
                       : " Its supply is not on the tag list: have it locked off as well, and keep "
                         "it off until the way back is done."),
            why, "It stands still.", "Stop it by its emergency stop and find out why.");
    }
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
        const char *kind = still_word(STILL_VOC_still_sequence_kind, q->kind);
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
            "The sequence shows off and stays off until the register is closed.",
            "If it can't be put off: stop; the section is not under control.");
    }
    stop_machines(s);
    if (o->receiver != STILL_NONE) {
        const char *id = still_id_of(plant, o->receiver);
        still_stepper_add(
            &s->step, id, 0,
            SAY("Pump the section down to %s, in the plant's own way, with a person in "
                "attendance: stop the feed%s, leave the side to %s open. Done only when the "
                "pressure holds with the suction side briefly shut and the metal has "
                "warmed above saturation.",
                id, feed_sides(s), id),
            "What leaves by this way need not be let out at the work.",
            "Pressure falls and stays down; frost melts.",
            "Pressure comes back: liquid is left. Reopen and repeat.");
    } else {
        still_stepper_add(
            &s->step, "", 0,
            "No pump-down is known for this section: no low-pressure vessel can be reached "
            "from it. Its whole contents leave through the drains and vents below.",
            "The plant file shows no vessel with the role low-pressure that it empties to.",
            "The quantity above can be taken by them.",
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

static void isolate_feed(still_script *s, const still_op *op)
{
    const still_plant *plant = s->order->plant;
    const still_feed *f = &plant->feeds[op->feed];
    const char *isolator = still_text(plant, f->isolator);
    still_step *step = still_stepper_add(
        &s->step, still_text(plant, f->id), op->tag,
        SAY(strcmp(op->from, "off") == 0 ? "Check that %s%s is off: %s." : "Switch off %s%s: %s.",
            isolator[0] ? isolator : still_text(plant, f->id),
            still_script_place(s, still_text(plant, f->place)),
            still_describe_feed(s->arena, plant, op->feed)),
        "What it drives can't move or heat by itself any more.", "The isolator stands in off.",
        "It does not switch off or can't be held: stop; the plan does not hold.");
    still_script_change(step, op->from, "off");
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
    const char *side = op->receiver_side ? "Last side: the section has emptied through it."
                       : op->downstream  ? "Downstream side."
                                         : "Feed side.";
    const char *text =
        blind ? SAY("Check that %s%s, %s, is fitted, the blank of full rating in place.", id, place,
                    what)
        : turned ? SAY("Set %s%s, %s, to position %s.", id, place, what, to)
        : was_closed
            ? SAY("Check that %s%s, %s, is closed: turn it towards closed.", id, place, what)
            : SAY("Close %s%s, %s.", id, place, what);
    still_step *step =
        still_stepper_add(&s->step, id, op->tag, text, side,
                          blind ? "The blank shows; all bolts are in."
                                : "The spindle comes to a firm stop; flow noise dies away.",
                          "It does not close, or passes: do not go on. Reopen what was closed in "
                          "reverse order if that is safe, "
                          "mark it passing in the plant file, and plan anew.");
    still_script_change(step, op->from, to != NULL ? to : "");
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
            : SAY("%sOpen %s%s, %s: crack it, wait, then open fully. Tag it.", first, id, place,
                  what),
        "Both sides equalise and empty together; nothing stays shut in behind it.",
        "A short hiss at most, then silence; both sides at one pressure.",
        "It can't be opened: the section stays in two parts. Stop, mark it in the plant file, plan "
        "anew.");
    still_script_change(step, op->from, "open");
}

/* "CV-61 and HV-63": the points toward the receiver of a stage. */
static const char *receiver_sides(still_script *s, bool outer)
{
    const still_order *o = s->order;
    uint32_t n = 0, *list = STILL_ARENA_NEW(s->arena, o->n_ops, uint32_t);
    if (list == NULL) return NULL;
    for (uint32_t i = 0; i < o->n_ops; i++)
        if (o->ops[i].receiver_side && o->ops[i].outer == outer) list[n++] = o->ops[i].comp;
    return still_join_ids(s->arena, o->plant, list, n);
}

/* P2: the side to the receiver is closed last, and only when all liquid is gone. */
static void look_at_pump_down(still_script *s, bool outer)
{
    const char *id = still_id_of(s->order->plant, s->order->receiver);
    const char *sides = receiver_sides(s, outer);
    still_stepper_add(
        &s->step, id, 0,
        SAY("Before the side to %s is closed for good: shut %s briefly, watch the pressure, and "
            "open "
            "again. The pressure must hold, and the metal of the whole section must have warmed "
            "above "
            "saturation, at low points and pockets too.",
            id, sides),
        "Liquid that is left would be shut in by the next steps.",
        "Pressure stays where it is; no frost, no cold spot.",
        SAY("Pressure rises, or metal stays cold: liquid is left. Leave the side to %s open, go on "
            "pumping down, and repeat this step.",
            id));
}

/* @param outer  the valves further out, in their own stage; else all others */
static void isolate(still_script *s, bool outer)
{
    bool looked = false;
    s->step.phase = "isolate";
    for (uint32_t i = 0; i < s->order->n_ops; i++) {
        const still_op *op = &s->order->ops[i];
        if (op->outer != outer) continue;
        if (op->receiver_side && !looked) look_at_pump_down(s, outer);
        looked = looked || op->receiver_side;
        if (op->feed != STILL_NONE)
            isolate_feed(s, op);
        else if (op->barrier && !op->late)
            isolate_barrier(s, op);
        else if (op->opening)
            isolate_opening(s, op);
    }
}

static bool lockable_feed(const still_plant *plant, uint32_t feed)
{
    uint8_t lockable = plant->feeds[feed].lockable;
    return lockable == STILL_LOCKABLE_YES || lockable == STILL_LOCKABLE_ASSUMED;
}

/* What hangs there from the plan before stays, under its new number. */
static void keep_hung(still_script *s, const still_op *op, const char *id, const char *state,
                      bool lock)
{
    still_stepper_add(
        &s->step, id, op->tag,
        SAY("%s %u of the plan before hangs on %s: leave %s, and hang tag %u beside it, to stay "
            "%s.",
            lock ? "Lock and tag" : "Tag", op->hung, id, lock ? "both" : "it", op->tag, state),
        "It was never without a tag; the list of this plan names it by its new number.",
        lock ? "Try it: it does not move." : "The tag can't be overlooked or fall off.",
        "The tag before is not there: somebody has been at it. Stop, find out, plan anew.");
}

static void lock_and_tag(still_script *s, bool outer)
{
    const still_plant *plant = s->order->plant;
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
        if (state == NULL) {
            s->step.failed = true;
            return;
        }
        if (op->hung != 0) {
            keep_hung(s, op, id, state, lock);
            continue;
        }
        still_stepper_add(
            &s->step, id, op->tag,
            lock ? SAY("Lock %s %s with your own lock, and hang tag %u on it.", id, state, op->tag)
                 : SAY("Hang tag %u on %s, to stay %s.", op->tag, id, state),
            op->opening ? "It must stay open while the section is apart."
                        : "Nobody can undo it by mistake.",
            lock ? "Try it: it does not move." : "The tag can't be overlooked or fall off.",
            lock ? "It moves, or the lock does not fit: stop; it is no isolation point."
                 : "It can't be tagged where it is: tag it as near as is safe.");
    }
}

/* "HV-9, HV-10 and V-OUT": the way outward in words. */
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
        const char *place = still_script_place(s, still_comp_t(plant, op->comp, STILL_T_PLACE));
        const char *to = still_point_position(s->arena, plant, op->point);
        bool pipe = plant->comps[op->comp].cls == STILL_CLASS_SPOOL;
        bool out = to != NULL && strcmp(to, "removed") == 0;
        still_step *step = still_stepper_add(
            &s->step, id, op->tag,
            out ? SAY("Take out pipe %s%s: bolts farthest from the body first, two left partly "
                      "engaged until the joint has parted; fit a blank of full rating on the live "
                      "end.",
                      id, place)
            : pipe
                ? SAY("At a flanged end of %s%s open the joint with care, two bolts left partly "
                      "engaged until it has parted, and fit a spade of full rating.",
                      id, place)
                : SAY("Fit %s%s: open the joint with care, two bolts left partly engaged until it "
                      "has parted; the blank of full rating in place.",
                      id, place),
            "From here on nothing but steel stands between the work and what lies outside.",
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
        "in; zero still stands on the gauges.",
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
    isolate(s, false);
    lock_and_tag(s, false);
    still_script_release(s, done, true);
    if (order->staged) {
        still_script_prove_inner(s);
        s->step.stage = 2;
        isolate(s, true);
        lock_and_tag(s, true);
        s->step.phase = "release";
    }
    still_script_release(s, done, false);
    still_script_verify(s);
    fit_blinds(s);
    still_script_work(s);
    return still_stepper_finish(&s->step, &record->steps, &record->n_steps);
}
