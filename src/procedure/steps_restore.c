/* The way back: close up, inspect, people clear, test, purge and evacuate, point by point,
 * supplies, sequences, functional test, register. Source of the order: OSHA 29 CFR 1910.147 (e)(1)
 * to (e)(3); rules P6, P8; F-EPA-1 (40 CFR 63.167) for the inner valve of a drain pair first. */
#include "steps_script.h"

#include "contents.h"
#include "describe.h"

#include <string.h>

#define SAY(...) still_arena_printf(s->arena, __VA_ARGS__)

static const char *id_of(const still_script *s, const still_op *op)
{
    const still_plant *plant = s->order->plant;
    return op->feed != STILL_NONE ? still_text(plant, plant->feeds[op->feed].id)
                                  : still_id_of(plant, op->comp);
}

/* A valve of a way out goes back to where it stood: shut, as a rule. What was found open stays so:
 * it may be the stop valve behind a relief valve. */
static void shut_op(still_script *s, const still_op *op, uint32_t n_valves, const char *full)
{
    const char *id = still_id_of(s->order->plant, op->comp);
    bool open = strcmp(op->home, "open") == 0 || strcmp(op->home, "throttled") == 0;
    bool unknown = strcmp(op->home, "unknown") == 0;
    const char *to = op->override || open ? op->home : "closed";
    still_step *step = still_stepper_add(
        &s->step, id, op->tag,
        open ? SAY("%s off %s. Leave it %s, as it was found.",
                   op->locked ? SAY("Take your lock and tag %u", op->tag)
                              : SAY("Take tag %u", op->tag),
                   id, still_arena_word(s->arena, op->home))
        : op->override
            ? SAY("Return the manual opening of %s to automatic, check it, and take off tag %u.",
                  id, op->tag)
            : SAY("%s%s%s and take off tag %u.%s%s", op->locked ? "Take your lock off " : "Shut ",
                  id, op->locked ? ", shut it," : "", op->tag,
                  n_valves > 1 ? " Of two in series the inner one is shut first." : "",
                  unknown ? " How it stood before is not in the plant file: ask." : ""),
        open ? "It stood so before the work, and may belong to a relief path."
        : full[0] != '\0'
            ? SAY("The way out is closed before anything is let in. From here the liquid "
                  "behind it is shut in without relief (rule L6): go on to %s without a "
                  "pause; does that take long, let it off here again meanwhile.",
                  full)
            : "The way out is closed before anything is let in.",
        open ? "It stands as it was found." : "Shut to a firm stop.",
        "It does not shut: do not go on; the section stays isolated.");
    still_script_change(step, "open", to);
}

/* Valves of one way shut from the work outward, then cap or plug on the outlet. */
static void close_way(still_script *s, const still_outway *way, uint8_t *done, const char *full)
{
    const still_plant *plant = s->order->plant;
    uint32_t n_valves = 0;
    for (uint32_t i = 0; i < way->n; i++)
        n_valves += plant->comps[way->items[i]].cls == STILL_CLASS_VALVE;
    for (uint32_t i = 0; i < way->n; i++) {
        uint32_t comp = way->items[i];
        const still_comp *c = &plant->comps[comp];
        const still_op *op = NULL;
        if (done[comp]) continue;
        done[comp] = 1;
        for (uint32_t k = 0; k < s->order->n_ops; k++)
            if (s->order->ops[k].comp == comp && s->order->ops[k].outway) op = &s->order->ops[k];
        if (c->cls == STILL_CLASS_OUTLET && c->fitted != STILL_FITTED_OPEN) {
            still_stepper_add(&s->step, still_id_of(plant, comp), 0,
                              SAY("Put the cap or plug back on outlet %s and tighten it.",
                                  still_id_of(plant, comp)),
                              "The valve before it may pass.", "It is on and tight.",
                              "It is missing or damaged: do not go on without one.");
        } else if (op != NULL) {
            shut_op(s, op, n_valves, full);
        }
    }
}

/* A bleed on the work side of a blind that no tag names: a closed valve by hand right before an
 * outlet that is fit for it. @param outlet  its outlet; STILL_NONE = there is none */
static uint32_t spare_bleed(still_script *s, uint32_t from, uint32_t *outlet)
{
    const still_order *o = s->order;
    const still_plant *p = o->plant;
    uint8_t *seen = STILL_ARENA_NEW(s->arena, p->n_ports, uint8_t);
    uint32_t *queue = STILL_ARENA_NEW(s->arena, p->n_ports, uint32_t), tail = 0;
    *outlet = STILL_NONE;
    if (seen == NULL || queue == NULL) {
        s->step.failed = true;
        return STILL_NONE;
    }
    seen[from] = 1;
    queue[tail++] = from;
    for (uint32_t head = 0; head < tail; head++) {
        uint32_t port = queue[head], comp = p->ports[port].comp;
        const still_comp *c = &p->comps[comp];
        uint32_t across = still_port_across(p, port);
        bool closed = c->cls == STILL_CLASS_VALVE && still_by_hand(c) &&
                      still_position_now(p, o->state, comp) == STILL_POSITION_CLOSED;
        bool parts = still_passage_of(p, o->state, comp) == STILL_PASSAGE_PARTS &&
                     !(c->kind == STILL_KIND_CHECK && port == c->a);
        for (uint32_t k = 0; k < c->b && closed && still_order_tag(o, comp) == 0; k++) {
            uint32_t end = still_port_across(p, c->a + k);
            if (end == STILL_NONE || !still_outlet_bleeds(p, p->ports[end].comp)) continue;
            *outlet = p->ports[end].comp;
            return comp;
        }
        for (uint32_t k = 0; k <= c->b; k++) {
            uint32_t q = k == c->b ? across : c->a + k;
            if (q == STILL_NONE || seen[q] || !o->iso->work_port[q] ||
                (k < c->b && (closed || parts)))
                continue;
            seen[q] = 1;
            queue[tail++] = q;
        }
    }
    return STILL_NONE;
}

/* What stands at the joint of a blind that comes out. "" = nothing; NULL when memory is out. */
static const char *trapped_at(still_script *s, const still_op *op)
{
    const still_plant *plant = s->order->plant;
    const char *live =
        op->bled ? "" : "No bleed is on its live side: part it as if it stood under pressure. ";
    if (op->vented) return live;
    uint32_t outlet, valve = spare_bleed(s, op->point->inner_port, &outlet);
    if (valve == STILL_NONE)
        return op->bled ? "Test gas, and what was left inside, is shut in on its work side, where "
                          "no bleed "
                          "is: part it as if it stood under pressure. "
                        : "No bleed is on either side: part it as if it stood under pressure. ";
    return SAY(
        "Test gas, and what was left inside, is shut in on its work side: let it off first by "
        "%s and %s, which no tag names (its cap off, a line joined), and shut and cap it again "
        "after. %s",
        still_id_of(plant, valve), still_id_of(plant, outlet), live);
}

/* Blinds and spades out, pipes back, while the valves outside are still closed and the bleeds open.
 */
static void take_blinds_out(still_script *s)
{
    const still_plant *plant = s->order->plant;
    still_script_test_blinds(s);
    s->step.phase = "remove";
    for (uint32_t i = s->order->n_ops; i-- > 0;) {
        const still_op *op = &s->order->ops[i];
        if (!op->late) continue;
        const char *id = still_id_of(plant, op->comp);
        const char *at = still_point_position(s->arena, plant, op->point);
        bool out = at != NULL && strcmp(at, "removed") == 0;
        const char *trapped = trapped_at(s, op);
        if (trapped == NULL) {
            s->step.failed = true;
            return;
        }
        still_step *step = still_stepper_add(
            &s->step, id, op->tag,
            out ? SAY("%sTake the blank off the live end and put pipe %s back: new gaskets, all "
                      "bolts in. Take off tag %u.",
                      trapped, id, op->tag)
            : still_script_free_end(s, op->comp) != STILL_NONE
                ? SAY("See the blank of full rating still on the free end of %s, all bolts in. "
                      "Take "
                      "off tag %u.",
                      id, op->tag)
                : SAY("%sBring %s back to %s: open the joint with care, new gaskets, all bolts in. "
                      "Take off tag %u.",
                      trapped, id,
                      plant->comps[op->comp].cls == STILL_CLASS_SPOOL ? "its state before, "
                                                                        "the spade out"
                                                                      : op->from,
                      op->tag),
            "What has passed a valve outside meanwhile, or is left of the test gas, stands behind "
            "it. See every bleed of both its sides open and nothing coming; where a side has none "
            "of its own part the joint as if it stood under pressure.",
            op->vented
                ? "Nothing comes when the joint parts."
                : "From the work's side at most the test gas, which dies away; from the other "
                  "nothing: any smell or reading of a detector means that a valve passes.",
            "Something comes: a valve passes. Tighten the bolts, leave, find out which.");
        still_script_change(step, at != NULL ? at : "", op->from);
    }
}

static bool any_blind(const still_order *o)
{
    for (uint32_t i = 0; i < o->n_ops; i++)
        if (o->ops[i].late) return true;
    return false;
}

/* A space between that is bled parts the points from the test pressure (P6): it stays bled until
 * the section has been tested. */
static bool bleeds_between(const still_order *o)
{
    for (uint32_t i = 0; i < o->n_ops; i++)
        if (o->ops[i].between && o->ops[i].outway) return !any_blind(o);
    return false;
}

/* The first that is brought back at this compartment: opened, it gives what is shut in a way out.
 */
static const char *first_back_at(const still_script *s, const still_room *room)
{
    const still_order *o = s->order;
    for (uint32_t i = 0; i < o->n_back; i++) {
        const still_op *op = &o->ops[o->back[i]];
        if (op->point != NULL && (still_room_has(room, op->point->inner_port) ||
                                  still_room_has(room, op->point->outer_port)))
            return id_of(s, op);
    }
    return "the first lock";
}

/* Ways out of the spaces at the work, or of those between. */
static void close_ways(still_script *s, bool between, uint8_t *done)
{
    const still_order *o = s->order;
    for (size_t i = 0; i < o->rooms->n_rooms; i++) {
        if (o->rooms->rooms[i].between != between || still_room_is_open(&o->rooms->rooms[i]))
            continue;
        const still_room *room = &o->rooms->rooms[i];
        const char *full = still_order_keeps_full(o, room) ? first_back_at(s, room) : "";
        for (uint32_t k = 0; k < room->n_further; k++) close_way(s, &room->further[k], done, full);
        close_way(s, &room->drain, done, full);
        close_way(s, &room->prove, done, full);
        close_way(s, &room->vent, done, full);
    }
    for (uint32_t i = 0; i < o->iso->n_bleeds && between; i++) {
        if (o->iso->bleeds[i].label != 1) continue; /* the work's own are ways to prove zero */
        const still_outway way = still_bleed_way(&o->iso->bleeds[i]);
        close_way(s, &way, done, "");
    }
}

/* What the plan before has left, and this one does not use. */
static bool is_left(const still_order *o, uint32_t comp)
{
    return o->standing != NULL && o->standing->comp_tag[comp] != 0 && still_order_tag(o, comp) == 0;
}

/* Manual openings of the plan before. */
static void return_left(still_script *s)
{
    const still_order *o = s->order;
    for (uint32_t i = 0; i < o->plant->n_comps; i++) {
        if (!is_left(o, i) || !o->standing->override_open[i]) continue;
        const char *id = still_id_of(o->plant, i);
        still_step *step = still_stepper_add(
            &s->step, id, 0,
            SAY("Return the manual opening of %s to automatic, check it, and take off tag %u of "
                "the "
                "plan before.",
                id, o->standing->comp_tag[i]),
            "Before any feed is opened: a forgotten override lets the feed straight through.",
            "Stands as it stood before the work.",
            "It does not go back: the section stays isolated.");
        still_script_change(step, "open", "automatic");
    }
}

/* Valves that the plan before has closed, and feeds that it has switched off. */
static void take_off_left(still_script *s, bool feeds)
{
    const still_order *o = s->order;
    const still_plant *plant = o->plant;
    for (uint32_t i = 0; i < plant->n_comps && !feeds && o->standing != NULL; i++) {
        if (!is_left(o, i) || o->standing->override_open[i]) continue;
        const char *id = still_id_of(plant, i), *home;
        home = still_describe_position(plant, o->standing->home, i);
        still_step *step = still_stepper_add(
            &s->step, id, 0,
            SAY("Take your lock and tag %u of the plan before off %s, and bring it slowly to %s.",
                o->standing->comp_tag[i], id, still_arena_word(s->arena, home)),
            "The plan before has closed it; this one did not need it.",
            "Even pressure, no knocking, no leak.",
            "It knocks, frosts or leaks: shut it again, wait, find out why.");
        still_script_change(step, still_describe_position(plant, o->state, i), home);
    }
    for (uint32_t f = 0; f < plant->n_feeds && feeds && o->standing != NULL; f++) {
        if (o->standing->feed_tag[f] == 0 || still_script_feed_tag(o, f) != 0) continue;
        const char *id = still_text(plant, plant->feeds[f].id);
        still_step *step = still_stepper_add(
            &s->step, id, 0,
            SAY("Take your lock and tag %u of the plan before off %s and switch it on.",
                o->standing->feed_tag[f], id),
            "The plan before has switched it off; this one did not need it.", "It is on.",
            "Something moves unasked: switch off, find out why.");
        still_script_change(step, "off", "on");
    }
}

static void close_up(still_script *s, uint8_t *done)
{
    const still_order *o = s->order;
    s->step.phase = "close-up";
    still_script_close_work(s);
    /* Blinds come out with the bleeds open. */
    if (!any_blind(o)) close_ways(s, false, done);
    for (uint32_t i = o->n_ops; i-- > 0;) {
        const still_op *op = &o->ops[i];
        /* Those by hand part what is tested: after the tests. */
        if ((!op->opening && !op->behind) || !op->override) continue;
        still_script_return_opening(s, op);
    }
    return_left(s);
}

static void inspect(still_script *s)
{
    s->step.phase = "inspect";
    still_stepper_add(
        &s->step, "", 0,
        "Inspect the work area: tools and loose parts gone, components whole, every joint closed, "
        "every cap and plug on but those of bleeds that still stand open.",
        "OSHA 1910.147(e)(1).", "Nothing left open or lying about.", "Mend it first.");
    s->step.phase = "clear";
    still_stepper_add(&s->step, "", 0, "See that all people are safely placed or out of the area.",
                      "OSHA 1910.147(e)(2).", "Nobody near what will move or come under pressure.",
                      "Wait until all are clear.");
}

static const still_op *first_vapour_side(const still_script *s)
{
    const still_order *o = s->order;
    for (uint32_t i = 0; i < o->n_back; i++)
        if (o->ops[o->back[i]].receiver_side &&
            o->plant->comps[o->ops[o->back[i]].comp].kind != STILL_KIND_STOP_CHECK)
            return &o->ops[o->back[i]];
    return NULL;
}

/* Does anything inside carry carbon dioxide? Below 5.2 bara it goes to dry ice (E7). */
static bool carries_co2(still_script *s)
{
    uint32_t n = 0;
    const uint32_t *services = still_services_inside(s->arena, s->order->iso, &n);
    if (services == NULL) s->step.failed = true;
    for (uint32_t i = 0; i < n && services != NULL; i++)
        if (still_service_is(s->order->plant, services[i], "carbon-dioxide")) return true;
    return false;
}

/* " Every part has left it: PI-11, PI-13." */
static const char *all_gauges(still_script *s)
{
    const still_rooms *rooms = s->order->rooms;
    const still_plant *plant = s->order->plant;
    const char *text = "";
    uint32_t n = 0;
    for (size_t i = 0; i < rooms->n_rooms && text != NULL; i++)
        if (!rooms->rooms[i].between && rooms->rooms[i].gauge != STILL_NONE)
            text = SAY("%s%s%s", text, n++ > 0 ? " and " : "",
                       still_text(plant, plant->gauges[rooms->rooms[i].gauge].id));
    return text == NULL || n < 2 ? text == NULL ? NULL : ""
                                 : SAY(" Every part has to leave it: watch %s.", text);
}

static void break_vacuum(still_script *s)
{
    if (!still_refrigerant_inside(s->order->iso)) return; /* none was drawn */
    const still_op *op = first_vapour_side(s);
    const char *until = carries_co2(s)
                            ? "above 5.2 bara (below, liquid turns to dry ice) and up to saturation"
                            : "up to saturation";
    const char *gauges = all_gauges(s);
    s->step.phase = "break-vacuum";
    still_stepper_add(
        &s->step, op ? id_of(s, op) : "", 0,
        gauges == NULL ? NULL
        : op
            ? SAY("Break the vacuum with vapour, never with liquid, %s, by the site's own "
                  "connection; where it has none, as %s is cracked open below, and before any side "
                  "of liquid.%s",
                  until, id_of(s, op), gauges)
            : SAY("Break the vacuum with vapour, never with liquid, %s, by the site's own "
                  "connection.%s",
                  until, gauges),
        "Liquid let into vacuum chills the metal and is thrown through the pipe (rule P8).",
        "Pressure rises slowly to that of the low side.",
        "It rises fast or the pipe knocks: shut, wait, go slower.");
}

/* What comes in by it burns. */
static bool beyond_burns(still_script *s, const still_op *op)
{
    const still_plant *plant = s->order->plant;
    uint32_t spool = plant->ports[op->point->outer_port].spool;
    uint32_t service = spool == STILL_NONE ? STILL_NONE : plant->comps[spool].service;
    return service != STILL_NONE && still_script_service_burns(s, service);
}

static bool vents(const still_script *s, const still_op *op, const still_room *room)
{
    return op->wets && strcmp(op->home, "closed") != 0 && !room->between && room->liquid &&
           room->vent.n > 0 && !room->vent_wet && !still_room_is_open(room) &&
           still_room_has(room, op->inner_port) && !still_refrigerant_inside(s->order->iso);
}

/* The section fills from what it holds itself: its vessels are filled before ways off are opened.
 */
static bool fills_itself(const still_script *s)
{
    const still_isolation *iso = s->order->iso;
    const still_plant *plant = s->order->plant;
    for (uint32_t i = 0; i < iso->inside.n; i++) {
        uint32_t comp = iso->inside.items[i];
        const still_comp *c = &plant->comps[comp];
        if (c->cls == STILL_CLASS_VESSEL && c->contents != STILL_CONTENTS_VAPOUR &&
            c->contents != STILL_CONTENTS_NONE)
            return true;
    }
    return false;
}

/* It is opened fully only when the gas has been let off. */
static bool waits_for_gas(const still_script *s, const still_op *op, const uint8_t *vented)
{
    for (size_t i = 0; i < s->order->rooms->n_rooms; i++)
        if (!vented[i] && vents(s, op, &s->order->rooms->rooms[i])) return true;
    return false;
}

/* Nitrogen that was left inside has to go where liquid comes; a refrigerant meets vapour alone.
 * @param vented  by room: seen to already
 * @param itself  liquid comes from the section's own vessel, with this one still shut */
static void vent_gas(still_script *s, const still_op *op, uint8_t *vented, bool itself)
{
    const still_rooms *rooms = s->order->rooms;
    const char *id = id_of(s, op);
    for (size_t i = 0; i < rooms->n_rooms; i++) {
        const still_room *room = &rooms->rooms[i];
        if (vented[i] || !vents(s, op, room)) continue;
        vented[i] = 1;
        uint32_t outlet = room->vent.items[room->vent.n - 1];
        bool burns = itself ? still_script_burns(s) : beyond_burns(s, op);
        const char *earthed = burns ? ", earthed and bonded" : "";
        const char *way = still_script_way_words(s, &room->vent);
        still_stepper_add(
            &s->step, still_id_of(s->order->plant, outlet), 0,
            way == NULL ? NULL
            : itself
                ? SAY("With %s still shut: its valve shut, the cap off and the line or hose of "
                      "before joined again%s, let the gas off by %s, stand clear of the end, until "
                      "liquid alone comes from inside; shut it, line off, cap on. The same at "
                      "every other high point that has a bleed.",
                      id, earthed, way)
                : SAY("With %s cracked open and no more: its valve shut, the cap off and the line "
                      "or hose of before joined again%s, let the gas off by %s, stand clear of the "
                      "end, until liquid alone comes; shut it, line off, cap on. Then bring %s "
                      "slowly to %s.",
                      id, earthed, way, id, still_arena_word(s->arena, op->home)),
            "Gas that stays ahead of the liquid is pushed through the plant, and hides in high "
            "places.",
            "Gas, then liquid without bubbles; shut and capped again.",
            itself ? "No liquid comes: something inside is shut, or it does not run so high by "
                     "itself. Then let the gas off as the pump first starts, and not before."
                   : "No liquid comes: it does not fill. Shut it, find out why.");
    }
}

static void take_off(still_script *s, const still_op *op, bool crack)
{
    const still_plant *plant = s->order->plant;
    const char *id = still_id_of(plant, op->comp);
    const char *normal = still_word(STILL_VOC_still_position, plant->comps[op->comp].normal);
    const char *to = normal[0] ? normal : op->home;
    bool stays = strcmp(to, "closed") == 0;
    /* Someone may have shut it for a reason that still holds. */
    const char *ask = !stays && strcmp(op->home, "closed") == 0
                          ? " It was found closed before the work: ask who shut it, and why, "
                            "before you open it."
                          : "";
    const char *sealed = plant->comps[op->comp].sealed != 0
                             ? " Put a new seal on it, and write its number down."
                             : "";
    bool cold = still_script_cold(s), burns = beyond_burns(s, op);
    bool fills_cold = cold && op->wets && !op->downstream;
    still_step *step = still_stepper_add(
        &s->step, id, op->tag,
        stays ? SAY("Take your lock and tag %u off %s; it stays closed.%s", op->tag, id, sealed)
        : strcmp(to, "unknown") == 0
            ? SAY("Take your lock and tag %u off %s. Its normal position "
                  "is not in the plant file: ask before "
                  "you move it; then crack it open, wait until both sides "
                  "are equal, go on slowly.%s",
                  op->tag, id, sealed)
            : SAY("Take your lock and tag %u off %s.%s Crack it open, %s.%s%s", op->tag, id, ask,
                  crack ? "and leave it cracked: it is opened fully only when the gas has been let "
                          "off"
                  : fills_cold
                      ? SAY("wait until both sides are equal and what it fills is cold through "
                            "(frost), then bring it slowly to %s",
                            still_arena_word(s->arena, to))
                      : SAY("wait until both sides are equal, then bring it slowly to %s",
                            still_arena_word(s->arena, to)),
                  op->warms ? " What comes by it has to be cold (a thermometer on the pipe), its "
                              "heat off at the source: "
                              "else it stays shut and locked until flow runs on the cooler side."
                            : "",
                  sealed),
        stays ? "Removed by the person who put it on."
        : cold
            ? "Removed by the person who put it on. Never let a warm or high-pressure side into a "
              "cold line that may hold liquid."
        : op->gas ? "Removed by the person who put it on."
        : burns
            ? "Removed by the person who put it on. Let liquid in slowly: fast flow charges it, "
              "and gas that is trapped ahead of it must have a way out."
            : "Removed by the person who put it on. Liquid is let in slowly: gas ahead of it "
              "must have a way out.",
        stays ? "It stands closed; nothing comes."
              : "Even pressure, no knocking, no leak at the joint.",
        stays  ? "It does not stay closed: lock it again, find out why."
        : cold ? "It knocks or leaks: shut it again, wait, find out why."
               : "It knocks, frosts or leaks: shut it again, wait, find out why.");
    const char *at = still_point_position(s->arena, plant, op->point);
    still_script_change(step, at != NULL ? at : "", to);
}

/* A pump that runs dry is ruined, and its seal leaks; a vessel is filled before what draws from it.
 */
static void fill_machines(still_script *s)
{
    const still_order *o = s->order;
    const still_plant *plant = o->plant;
    bool cold = still_script_cold(s), burns = still_script_burns(s);
    for (uint32_t i = 0; i < o->iso->inside.n; i++) {
        uint32_t comp = o->iso->inside.items[i];
        const still_comp *c = &plant->comps[comp];
        const char *id = still_id_of(plant, comp);
        if (c->cls == STILL_CLASS_VESSEL && c->contents != STILL_CONTENTS_VAPOUR &&
            c->contents != STILL_CONTENTS_NONE)
            still_stepper_add(
                &s->step, id, 0,
                SAY("Fill %s slowly to its normal level in the plant's own way, its relief path or "
                    "breather open%s.",
                    id,
                    burns ? "; the gas over it first, oxygen within the site's limit, then liquid, "
                            "slowly as long as its inlet lies above it: what falls free charges "
                            "itself"
                          : ""),
                "What draws from it must not run dry.", "Level and pressure as in normal service.",
                "The level does not rise: it goes elsewhere. Stop, find where.");
        if (c->cls == STILL_CLASS_PUMP)
            still_stepper_add(
                &s->step, id, 0,
                SAY("Fill %s and let it off before it is energised: suction side open, gas out at "
                    "its "
                    "top by %s%s; turn it by hand, then the guard on.",
                    id,
                    cold ? "the minimum-flow way to the low side, never into the open"
                         : "its own bleed, or a way to the low side, until liquid alone comes",
                    cold ? "; wait until the casing is cold through (frost)" : ""),
                "A pump that runs dry is ruined, and its seal leaks. A warm one boils what comes "
                "in.",
                cold ? "Frost on casing and discharge; no more hiss in the way to the low side; it "
                       "turns freely."
                     : "Liquid without bubbles; it turns freely.",
                "No liquid comes: a valve on its suction is shut, or gas is trapped. Do not "
                "energise.");
        if (c->cls == STILL_CLASS_COMPRESSOR)
            still_stepper_add(
                &s->step, id, 0,
                SAY("See %s ready before it is energised: discharge side open, then suction side; "
                    "no "
                    "liquid in it or in its suction line; oil at its mark and warm; free to turn.",
                    id),
                "Liquid breaks a compressor; a shut discharge bursts it.",
                "No frost on the casing; sight glass clear of liquid.",
                "Liquid or cold oil: do not energise; let it boil out.");
    }
}

/* Machines that were stopped, and whose supplies are not on the tag list. */
static void machines_on(still_script *s)
{
    const still_plant *plant = s->order->plant;
    for (uint32_t comp = 0; comp < plant->n_comps; comp++) {
        if (!still_script_stopped(s, comp) || still_script_listed(s, comp)) continue;
        still_stepper_add(&s->step, still_id_of(plant, comp), 0,
                          SAY("Have the supply of %s unlocked, and %s brought back into service in "
                              "the plant's normal way, its way to and from seen open.",
                              still_id_of(plant, comp), still_id_of(plant, comp)),
                          "It was stopped for this work, and its supply is not on the tag list.",
                          "It runs, or stands by, as before.",
                          "It does not come up: stop it, see that its line is open.");
    }
}

/* From which on of those that are brought back only ways off follow: what draws liquid is filled
 * before. All of them = n_back. */
static uint32_t first_way_off(const still_order *o)
{
    uint32_t first = o->n_back;
    for (uint32_t i = o->n_back; i-- > 0;) {
        const still_op *op = &o->ops[o->back[i]];
        if (op->feed != STILL_NONE) continue;
        if (!op->downstream || op->receiver_side || op->behind_relief || op->gas) break;
        first = i;
    }
    return first;
}

/* "with the controls of SOL-1 on hand, set to how each stands, ": what it drives must not move by
 * itself. */
static const char *controls_first(still_script *s, uint32_t feed)
{
    const still_plant *plant = s->order->plant;
    const still_feed *f = &plant->feeds[feed];
    const char *list = still_join_all(s->arena, plant, plant->refs + f->ref0, f->n_refs);
    if (list == NULL) s->step.failed = true;
    return f->n_refs == 0 || list == NULL
               ? ""
               : SAY("with the controls of %s on hand, set to how each stands, ", list);
}

static void reopen(still_script *s)
{
    const still_order *o = s->order;
    s->step.phase = "remove";
    take_off_left(s, false);
    uint8_t *vented = STILL_ARENA_NEW(s->arena, o->rooms->n_rooms + 1, uint8_t);
    if (vented == NULL) s->step.failed = true;
    uint32_t off = first_way_off(o);
    bool itself = fills_itself(s);
    for (uint32_t i = 0; i < o->n_back && vented != NULL; i++) {
        const still_op *op = &o->ops[o->back[i]];
        if (op->feed != STILL_NONE) continue;
        bool after = itself && i >= off;
        if (i == off) fill_machines(s);
        if (after) vent_gas(s, op, vented, true);
        take_off(s, op, waits_for_gas(s, op, vented));
        vent_gas(s, op, vented, false);
    }
    if (off == o->n_back) fill_machines(s);
    s->step.phase = "notify";
    bool feeds = o->iso->feeds.n > 0;
    const char *but = o->warm == STILL_NONE
                          ? ""
                          : ", save those of the warmer side that wait for flow on the cooler one";
    still_stepper_add(&s->step, "", 0,
                      feeds ? SAY("Tell the people affected that the locks and tags of valves are "
                                  "off%s, and those of feeds come off now, before anything is "
                                  "started.",
                                  but)
                            : SAY("Tell the people affected that the locks and tags are off%s, "
                                  "before anything is started.",
                                  but),
                      "OSHA 1910.147(e)(2)(ii).", "Everybody knows.", "Find them first.");
    s->step.phase = "energise";
    for (uint32_t i = 0; i < o->n_back; i++) {
        const still_op *op = &o->ops[o->back[i]];
        if (op->feed == STILL_NONE) continue;
        still_step *step = still_stepper_add(
            &s->step, id_of(s, op), op->tag,
            SAY("Take your lock and tag %u off %s; %sswitch it on.", op->tag,
                still_script_feed(s, op->feed), controls_first(s, op->feed)),
            "Removed by the person who put it on; supplies come after the valves.", "It is on.",
            "Something moves unasked: switch off, find out why.");
        still_script_change(step, "off", "on");
    }
    take_off_left(s, true);
    machines_on(s);
    still_script_heat_beyond(s, true);
}

static void sequences_on(still_script *s, const still_record *record)
{
    for (size_t i = 0; i < record->n_steps; i++) {
        const still_step *off = &record->steps[i];
        if (strcmp(off->phase, "shut-down") != 0) continue;
        for (uint32_t k = 0; k < s->order->plant->n_sequences; k++) {
            const char *id = still_text(s->order->plant, s->order->plant->sequences[k].id);
            if (strcmp(id, off->id) != 0) continue;
            still_stepper_add(
                &s->step, id, 0,
                SAY("Put the automatic sequence %s on again; take its notice off. What was opened "
                    "is kept on hand control until its function has been tested.",
                    id),
                "It stood on before the work.", "It shows on.",
                "It acts at once: put it off, find out why.");
        }
    }
}

static void register_closed(still_script *s)
{
    s->step.phase = "function-test";
    if (still_script_try(s) == 0)
        still_stepper_add(
            &s->step, still_id_of(s->order->plant, s->order->iso->zone.targets->items[0].comp), 0,
            "Test the function: put it to its use with a person beside it, watch joint, pressures "
            "and temperatures until they are steady.",
            "The work is done when it works.", "As before the work or better; no leak.",
            "Not so: isolate again by this plan from its first step.");
    if (s->order->iso->feeds.n > 0)
        still_stepper_add(
            &s->step, "", 0,
            "Each control that was put on hand back to automatic, one by one, ways off before what "
            "lets in, each seen to follow; what was taken out of service back in service; tell the "
            "control room.",
            "A device left on hand does not do its part when it is needed.",
            "Nothing stands on hand that did not before.",
            "One does not follow: put it on hand again, find out why.");
    s->step.phase = "register";
    still_stepper_add(&s->step, "", 0,
                      SAY("Close the register: all %u tags, every lock, plug, cap and override, "
                          "and each lock on a supply that a step names, accounted for, by number.",
                          s->order->n_ops),
                      "A forgotten one is found by the next leak.", "None is missing.",
                      "Find it before you leave.");
}

still_status still_steps_restore(still_record *record, still_arena *arena, const still_order *order)
{
    still_script state = {
        .step = {.arena = arena}, .arena = arena, .order = order, .record = record};
    still_script *s = &state;
    uint8_t *done = STILL_ARENA_NEW(arena, order->plant->n_comps, uint8_t);
    if (done == NULL) return STILL_E_NOMEM;
    close_up(s, done);
    inspect(s);
    if (any_blind(order)) {
        take_blinds_out(s);
        s->step.stage = 2;
        s->step.phase = "close-up";
        close_ways(s, false, done);
        close_ways(s, true, done);
    }
    still_script_test(s, bleeds_between(order));
    break_vacuum(s);
    still_script_connection_off(s);
    still_script_return_again(s);
    /* What passed a valve showed at these all the while. */
    if (bleeds_between(order)) {
        s->step.stage = 2;
        s->step.phase = "close-up";
        close_ways(s, true, done);
    }
    reopen(s);
    sequences_on(s, record);
    register_closed(s);
    return still_stepper_finish(&s->step, &record->restore, &record->n_restore);
}
