/* Let off and drain: rules E1, E4, P2, P4, N5. */
#include "steps_script.h"

#include "contents.h"
#include "describe.h"

#include <string.h>

#define SAY(...) still_arena_printf(s->arena, __VA_ARGS__)

const char *still_script_way_words(still_script *s, const still_outway *way)
{
    return still_join_all(s->arena, s->order->plant, way->items, way->n);
}

/* " Hold the self-closing valve …" on a way by which oil may come (E9). */
static const char *held_by_hand(const still_script *s, const still_outway *way)
{
    return still_script_takes_oil(s, way->items[way->n - 1])
               ? " Hold the self-closing valve open by hand all the while; let go, and it must "
                 "shut."
               : "";
}

/* The outlet of a way, before its first valve is opened: once. */
static void ready(still_script *s, const still_outway *way, uint8_t *done)
{
    const still_plant *plant = s->order->plant;
    uint32_t outlet = way->items[way->n - 1];
    const still_comp *c = &plant->comps[outlet];
    bool capped = c->fitted != STILL_FITTED_OPEN;
    if (!done[outlet]) {
        done[outlet] = 1;
        const char *leads =
            still_arena_word(s->arena, still_word(STILL_VOC_still_leads, c->leads_to));
        still_stepper_add(
            &s->step, still_id_of(plant, outlet), 0,
            SAY("At outlet %s%s (leads to %s): check that the valve before it is shut, %s%sconnect "
                "the hose or "
                "line that the site prescribes, end led to where a release does no harm.%s",
                still_id_of(plant, outlet),
                still_script_place(s, still_comp_t(plant, outlet, STILL_T_PLACE)), leads,
                capped ? "take the cap or plug off slowly, " : "",
                still_script_takes_oil(s, outlet) ? "fit a self-closing valve, since oil may come "
                                                    "(rule E9), and behind it "
                                                  : "",
                s->burning
                    ? " What is inside burns: earth and bond pipe, hose and what it leads to; fill "
                      "that from below."
                    : ""),
            "The way out must be ready before the first valve on it is opened.",
            "Nothing comes out while the valve is shut.",
            SAY("Something comes out: the valve passes. Put the cap back on if you safely can, go "
                "back, plan anew.%s",
                s->reopen != NULL ? s->reopen : ""));
    }
}

/* Open the devices of a way, from the work outward; each gets its change once. */
static void open_way(still_script *s, const still_outway *way, uint8_t *done)
{
    const still_plant *plant = s->order->plant;
    ready(s, way, done);
    for (uint32_t i = 0; i + 1 < way->n; i++) {
        uint32_t comp = way->items[i];
        if (done[comp]) continue;
        done[comp] = 1;
        bool attended = plant->comps[comp].kind == STILL_KIND_SELF_CLOSING;
        const still_op *op = NULL;
        for (uint32_t k = 0; k < s->order->n_ops; k++)
            if (s->order->ops[k].comp == comp) op = &s->order->ops[k];
        /* A blind that is fitted later stands open until then. */
        if (op == NULL || op->opening || op->barrier) continue;
        still_step *step = still_stepper_add(
            &s->step, still_id_of(plant, comp), op->tag,
            attended ? SAY("Hold self-closing valve %s open by hand and stay with it; let go and "
                           "it must shut.",
                           still_id_of(plant, comp))
            : op->locked
                ? SAY(strcmp(op->from, "open") == 0
                          ? "Check that %s stands open. Lock it open with your own lock, and hang "
                            "tag %u on it."
                          : "Open %s slowly. Lock it open with your own lock, and hang tag %u on "
                            "it.",
                      still_id_of(plant, comp), op->tag)
            : strcmp(op->from, "open") == 0
                ? SAY("Check that %s stands open, and hang tag %u on it, to stay open.",
                      still_id_of(plant, comp), op->tag)
                : SAY("Open %s slowly, and hang tag %u on it: only a step of this list shuts "
                      "it.%s",
                      still_id_of(plant, comp), op->tag, still_script_seal(s, comp)),
            "Lets the section empty and stay without pressure.",
            s->pumped ? "Little or nothing, since it has been pumped down. Read the gauge before: "
                        "below atmosphere let dry nitrogen in first, or air is drawn in."
                      : "Flow heard or seen, then dying away.",
            SAY("No flow: the way may be plugged. Silence is not empty: prove it before you trust "
                "it.%s",
                s->reopen != NULL ? s->reopen : ""));
        still_script_change(step, op->from, "open");
    }
}

/* What stays below the way to the drain (E3). */
static void pocket(still_script *s, const still_puddle *puddle)
{
    const still_plant *plant = s->order->plant;
    const char *list = still_join_ids(s->arena, plant, puddle->ids, puddle->n_ids);
    const char *id = still_id_of(plant, puddle->ids[0]);
    const char *joint =
        puddle->loosen_port == STILL_NONE ? "" : "; what is left then comes at its joint, below";
    if (puddle->evaporate != STILL_NONE)
        still_stepper_add(&s->step, id, 0,
                          SAY("Liquid stays behind at %s below every way to a drain: let it "
                              "evaporate through the vent %s until the metal there is warm.",
                              list, still_id_of(plant, puddle->evaporate)),
                          "It lies below every way to the drain.",
                          "Frost gone, metal at room temperature.",
                          "Still cold: wait. Do not open.");
    else
        still_stepper_add(
            &s->step, id, 0,
            SAY("Liquid stays behind at %s below every way to a drain, and %s: suck it out, or "
                "press "
                "it out with %s, by the site's own method%s.",
                list, puddle->boils ? "no vent lets it boil off" : "it is not known to boil off",
                still_script_burns(s) ? "dry nitrogen, never air" : "dry nitrogen", joint),
            "It lies below every way to the drain.",
            "As much comes as the list of compartments says, at most.",
            "Nothing comes: it is still there.");
}

/* " What comes scalds: 80 degC …"; "" = it does not, as far as the plant file says. NULL when
 * memory is out. */
static const char *scalds(still_script *s, const still_room *room)
{
    const still_plant *plant = s->order->plant;
    uint32_t n = 0, hot = STILL_NONE;
    const uint32_t *services = still_services_of_room(s->arena, plant, room, &n);
    if (services == NULL) return NULL;
    for (uint32_t i = 0; i < n; i++)
        if (plant->services[services[i]].temperature_K > 333.15 &&
            (hot == STILL_NONE ||
             plant->services[services[i]].temperature_K > plant->services[hot].temperature_K))
            hot = services[i];
    return hot == STILL_NONE ? ""
                             : SAY(" It scalds: %s runs at %.4g degC in service. Let it cool "
                                   "first, stand clear of "
                                   "the end of the hose.",
                                   still_text(plant, plant->services[hot].id),
                                   plant->services[hot].temperature_K - STILL_ZERO_DEGC_K);
}

static bool room_burns(still_script *s, const still_room *room)
{
    const still_plant *plant = s->order->plant;
    uint32_t n = 0;
    const uint32_t *services = still_services_of_room(s->arena, plant, room, &n);
    if (services == NULL) s->step.failed = true;
    for (uint32_t i = 0; i < n && services != NULL; i++)
        if (still_script_service_burns(s, services[i])) return true;
    return false;
}

/* What follows the liquid while it drains (E2): a vessel that nothing follows is sucked in. */
static const char *follows(still_script *s, const still_room *room)
{
    if (room->flashes) return "";
    if (room->air_in == STILL_NONE)
        return " Nothing is shown to follow it from above: it may hang, and a vessel may be sucked "
               "in. See the finding; watch the gauge, never below zero.";
    const char *id = still_id_of(s->order->plant, room->air_in);
    if (s->burning) /* the nitrogen has been joined before */
        return " Throttle it so that the gauge never falls to zero; falls it, shut the drain at "
               "once. Shut it when it is dry; the nitrogen stays on.";
    return SAY(" Air follows it by %s, which stands open: feel that it draws.", id);
}

/* Nitrogen stands above what burns while it drains, until the vapour is out (E2, E8). */
static bool under_nitrogen(const still_script *s, const still_room *room)
{
    return s->burning && !room->flashes && room->air_in != STILL_NONE;
}

/* No way low down stands open to the air before the vapour has been swept out (E8). */
static void sweep(still_script *s, const still_room *room)
{
    const char *drains = still_script_drains(s, room);
    const char *in = still_id_of(s->order->plant, room->air_in);
    const char *behind = still_script_ways_behind(s, room);
    const char *also = behind == NULL || behind[0] == '\0'
                           ? behind
                           : SAY(" Open %s again, to zero as well.", behind);
    still_stepper_add(
        &s->step, in, 0,
        drains == NULL || also == NULL
            ? NULL
            : SAY("Every drain dry and shut: sweep with the nitrogen, in by %s, out by each drain "
                  "in turn (%s), until the gas test at its end is within the site's limit. Then "
                  "shut all, the nitrogen at its regulator too, and let its hose off; change the "
                  "hose of %s back to the line of before, and open it until the gauge stands at "
                  "zero. What has been drained is taken away, closed. The drains stay shut for "
                  "now.%s",
                  in, drains, in, also),
        "Vapour that is left burns, and draws air in where it runs out low down (rule E8).",
        "Gas test within the site's limit at every drain; then zero.",
        "Not within the limit: liquid is left, or a part is not swept. Go on; the nitrogen stays "
        "on.");
}

/* What burns is drained only with nitrogen above it: before the drain is opened (E2). */
static void nitrogen_first(still_script *s, const still_room *room)
{
    const still_plant *plant = s->order->plant;
    if (!under_nitrogen(s, room)) return;
    const char *gauge = room->gauge == STILL_NONE
                            ? "a gauge on the nitrogen line"
                            : SAY("gauge %s", still_text(plant, plant->gauges[room->gauge].id));
    const char *limit = still_script_test_limit(s), *behind = still_script_ways_behind(s, room);
    const char *also = behind == NULL || behind[0] == '\0'
                           ? behind
                           : SAY(" Before that shut %s as well, and keep it so until the nitrogen "
                                 "is off again: gas "
                                 "and liquid get there over check valves, and would be pushed out.",
                                 behind);
    still_stepper_add(
        &s->step, still_id_of(plant, room->air_in), 0,
        gauge == NULL || limit == NULL || also == NULL
            ? NULL
            : SAY("Dry nitrogen follows it by %s: with every drain still shut, shut the valve "
                  "there, "
                  "change its hose to dry nitrogen by a regulator, a non-return and a relief valve "
                  "behind it (%s), open it again, and see %s "
                  "slightly above atmosphere.%s",
                  still_id_of(plant, room->air_in), limit, gauge, also),
        "What drains draws gas in behind it: air burns with it, and nothing at all sucks a vessel "
        "in. While that valve is shut liquid is shut in without relief (rule L6): all is ready and "
        "set beforehand, the gauge is watched; does it rise, or take long, the line of before goes "
        "back on, valve open.",
        "Slightly above atmosphere, and it stays so.",
        "It does not rise: nitrogen does not get in. No drain is opened. It rises above what the "
        "regulator is set to: a point passes. Shut it, nitrogen off, let the section down, go "
        "back.");
}

static void vent_room(still_script *s, const still_room *room, uint8_t *done, bool dry_ice)
{
    if (room->vent.n == 0) return;
    /* By one outlet alone there is no top to choose. */
    bool apart = room->drain.n == 0 || room->drain.items[0] != room->vent.items[0];
    const char *vapour = !dry_ice ? ""
                         : apart  ? " Carbon dioxide: vapour only, from the top."
                                  : " Carbon dioxide: vapour only, once no liquid is left.";
    bool full = still_order_keeps_full(s->order, room);
    const char *hot = full ? "" : scalds(s, room);
    open_way(s, &room->vent, done);
    still_stepper_add(
        &s->step, still_id_of(s->order->plant, room->vent.items[room->vent.n - 1]), 0,
        hot == NULL
            ? NULL
            : SAY("Let the pressure off through %s, slowly, until it has fallen to that of the "
                  "outlet's side.%s%s%s%s",
                  still_script_way_words(s, &room->vent), held_by_hand(s, &room->vent), vapour,
                  full ? " What liquid lies below the bleed stays there: nothing is opened here, "
                         "and "
                         "what passes a valve comes out as soon as the pipe behind the bleed is "
                         "full. Don't blow it empty."
                  : room->vent_wet ? " It takes from below the liquid: liquid comes first. Lead it "
                                     "where liquid may go, and stay with it."
                                   : "",
                  hot),
        "Stored pressure of the section.",
        full             ? "A little liquid or gas, then no more flow."
        : s->pumped      ? "Little or nothing: it has been pumped down."
        : room->vent_wet ? "Liquid, then vapour; then no more flow."
        : room->gauge != STILL_NONE
            ? SAY("Gauge %s falls steadily; then no more flow.",
                  still_text(s->order->plant, s->order->plant->gauges[room->gauge].id))
            : "The flow dies away steadily; then no more flow.",
        dry_ice ? "It stops falling early, or at once: dry ice may plug the bleed, and zero is "
                  "false. Shut, let it warm, see whether pressure comes back; if it goes on rising "
                  "when warm, a point passes: go back, plan anew."
                : "It stops falling early or rises again: a point passes, or liquid is boiling "
                  "off. Wait; if it goes on rising, a point passes: go back, plan anew.");
}

/* What lies lower than the way to the first drain has one of its own. */
static void drain_further(still_script *s, const still_room *room, const still_outway *way,
                          uint8_t *done)
{
    bool flashes = room->flashes;
    const char *after = under_nitrogen(s, room) ? follows(s, room) : "";
    open_way(s, way, done);
    if (still_room_carries(s->order->plant, room, "carbon-dioxide")) {
        still_stepper_add(&s->step, still_id_of(s->order->plant, way->items[way->n - 1]), 0,
                          SAY("Let the liquid out through %s as well, the gauge above 5.2 bara "
                              "(4.2 barg) all the "
                              "while, as before. Stay with it.",
                              still_script_way_words(s, way)),
                          "A low point of its own; below 5.2 bara dry ice plugs the way (rule E7).",
                          "Liquid, then vapour alone.",
                          "It falls toward 5.2 bara: shut it, wait for the pressure to come back.");
        return;
    }
    still_stepper_add(&s->step, still_id_of(s->order->plant, way->items[way->n - 1]), 0,
                      after == NULL
                          ? NULL
                          : SAY("Drain through %s as well, until nothing more comes. "
                                "Stay with it.%s%s",
                                still_script_way_words(s, way), held_by_hand(s, way), after),
                      "A low point of its own: it does not run out by the first drain.",
                      under_nitrogen(s, room) ? "Liquid, then gas: shut the drain at the first gas."
                      : flashes ? "Liquid, then vapour, then nothing; metal there warms up."
                                : "Liquid, then drops, then nothing.",
                      flashes ? "It stays cold or frosted: liquid is left. Wait and repeat."
                              : "It stops at once: the drain is plugged. Clear it.");
}

static void drain_room(still_script *s, const still_room *room, uint8_t *done, bool dry_ice)
{
    if (!room->liquid || room->drain.n == 0 || still_order_keeps_full(s->order, room)) return;
    const char *hot = scalds(s, room), *after = follows(s, room);
    nitrogen_first(s, room);
    open_way(s, &room->drain, done);
    if (dry_ice)
        still_script_liquid_co2(s, room);
    else
        still_stepper_add(
            &s->step, still_id_of(s->order->plant, room->drain.items[room->drain.n - 1]), 0,
            hot == NULL || after == NULL
                ? NULL
                : SAY("Drain through %s until nothing more comes. Stay with it.%s%s%s",
                      still_script_way_words(s, &room->drain), held_by_hand(s, &room->drain), hot,
                      after),
            "Liquid left inside boils or runs out at the work.",
            under_nitrogen(s, room) ? "Liquid, then gas: shut the drain at the first gas."
            : room->flashes ? "Liquid, then vapour, then nothing; metal at the low points warms up."
                            : "Liquid, then drops, then nothing.",
            room->flashes ? "It stays cold or frosted: liquid is left. Wait and repeat."
                          : "It stops at once, or early: the drain is plugged, or nothing "
                            "follows from above. Clear it; less came than the list of "
                            "compartments says: liquid is left.");
    for (uint32_t i = 0; i < room->n_further; i++) drain_further(s, room, &room->further[i], done);
}

static bool relief_path(const still_op *op)
{
    return op->barrier && op->behind_relief;
}

const char *still_script_reopen(still_script *s)
{
    const still_order *o = s->order;
    for (size_t i = 0; i < o->rooms->n_rooms; i++)
        if (still_script_still_full(s, &o->rooms->rooms[i]) &&
            still_order_first(o, relief_path) != NULL)
            return SAY(" First open the relief path again (%s): what it relieves is full.",
                       still_script_ops(s, relief_path));
    return "";
}

/* Its relief path is closed already (D4): until it flows here nothing relieves it. */
static const char *reopen_words(still_script *s, const still_room *room)
{
    if (!still_script_still_full(s, room) || still_order_first(s->order, relief_path) == NULL)
        return NULL;
    const char *paths = still_script_ops(s, relief_path);
    if (paths == NULL) s->step.failed = true;
    return SAY(" Pressure rises meanwhile: open the relief path again (%s) until it flows.", paths);
}

/* What the steps of this compartment have to know. */
static void enter(still_script *s, const still_room *room)
{
    uint32_t two[2];
    bool oil = still_room_oil(s->order->plant, room) != STILL_OIL_NONE && room->liquid &&
               !still_order_keeps_full(s->order, room);
    s->burning = room_burns(s, room);
    s->pumped = still_script_empties_to_receiver(s, room);
    s->oil_room = oil && !still_oil_drain(s->order->plant, room, two) ? room : NULL;
}

static void leave(still_script *s)
{
    s->oil_room = NULL;
    s->reopen = NULL;
}

void still_script_ready(still_script *s, const still_room *room, uint8_t *done)
{
    enter(s, room);
    if (room->vent.n > 0) ready(s, &room->vent, done);
    leave(s);
}

/* Pressure off: of all before any is drained, so that nothing stands shut in meanwhile (L6). */
static void let_off(still_script *s, const still_room *room, uint8_t *done)
{
    enter(s, room);
    s->reopen = reopen_words(s, room);
    /* E7: liquid carbon dioxide leaves before the pressure does. */
    bool dry_ice = still_room_carries(s->order->plant, room, "carbon-dioxide");
    if (dry_ice) drain_room(s, room, done, true);
    vent_room(s, room, done, dry_ice);
    if (room->prove.n > 0) open_way(s, &room->prove, done);
    leave(s);
}

static bool is_swept(const still_script *s, const still_room *room)
{
    return room->liquid && room->drain.n > 0 && under_nitrogen(s, room) &&
           !still_order_keeps_full(s->order, room);
}

static void empty(still_script *s, const still_room *room, uint8_t *done)
{
    bool full = still_order_keeps_full(s->order, room);
    enter(s, room);
    if (!still_room_carries(s->order->plant, room, "carbon-dioxide"))
        drain_room(s, room, done, false);
    if (room->liquid && !full) still_script_oil(s, room, done);
    leave(s);
    for (size_t i = 0; i < room->n_puddles && !full; i++) pocket(s, &room->puddles[i]);
    if (is_swept(s, room)) sweep(s, room);
}

/* Once the last compartment has been swept: what passes a check valve meanwhile does not run out.
 */
static void drains_open_again(still_script *s, bool work)
{
    const still_order *o = s->order;
    const char *text = "";
    uint32_t first = STILL_NONE;
    for (size_t i = 0; i < o->rooms->n_rooms && text != NULL; i++) {
        const still_room *room = &o->rooms->rooms[i];
        s->burning = room_burns(s, room);
        if (room->between == work || still_room_is_open(room) || !is_swept(s, room)) continue;
        const char *drains = still_script_drains(s, room);
        if (first == STILL_NONE) first = room->drain.items[0];
        text = drains == NULL ? NULL : SAY("%s%s%s", text, text[0] ? "; " : "", drains);
    }
    if (text == NULL) s->step.failed = true;
    if (first == STILL_NONE) return;
    still_stepper_add(&s->step, still_id_of(o->plant, first), 0,
                      SAY("Everything swept, the nitrogen off: open the drains again as their tags "
                          "say (%s), each "
                          "with its end in sight over an empty tray.",
                          text),
                      "Open, they show what passes a valve.", "Nothing comes, not a drop.",
                      "It comes: a point passes, or liquid is left. Shut it, find out which.");
}

/* First what no pump-down has emptied: it stands cold and full, and warms up (L6, E6). A
 * compartment that stands open to a safe place has nothing to let off. */
static void release_rooms(still_script *s, uint8_t *done, bool work, bool drain)
{
    const still_order *o = s->order;
    for (int emptied = 0; emptied < 2; emptied++)
        for (size_t i = 0; i < o->rooms->n_rooms; i++) {
            const still_room *room = &o->rooms->rooms[i];
            bool by_pump_down = still_script_empties_to_receiver(s, room);
            if (room->between == work || by_pump_down != (emptied == 1) || still_room_is_open(room))
                continue;
            if (drain)
                empty(s, room, done);
            else
                let_off(s, room, done);
        }
}

static void open_behind(still_script *s, const still_op *op)
{
    const char *id = still_id_of(s->order->plant, op->comp);
    still_step *step = still_stepper_add(
        &s->step, id, op->tag,
        op->override
            ? SAY("Use the manual opening of %s: open a little, wait, then fully. Hang tag "
                  "%u on it, to stay open.",
                  id, op->tag)
            : SAY("Open %s: crack it, wait, then fully. Hang tag %u on it, to stay open.", id,
                  op->tag),
        "What lies behind it empties with the rest; it leads toward an outlet, so not before.",
        "A short hiss at most, then silence.",
        "It goes on: a point passes, or there was liquid behind it. Wait until it has come to "
        "rest.");
    still_script_change(step, op->from, "open");
}

/* What feeds have stored, once they are off (N5). */
static void restrain_stored(still_script *s)
{
    const still_order *o = s->order;
    const still_plant *plant = o->plant;
    for (uint32_t i = 0; i < o->iso->feeds.n; i++) {
        const still_feed *f = &plant->feeds[o->iso->feeds.items[i]];
        if (f->stored == STILL_STORED_NONE) continue;
        const char *stored =
            still_arena_word(s->arena, still_word(STILL_VOC_still_stored, f->stored));
        bool known = f->stored != STILL_STORED_NOT_SAID && f->stored != STILL_STORED_UNKNOWN;
        still_stepper_add(
            &s->step, still_text(plant, f->id), still_script_feed_tag(o, o->iso->feeds.items[i]),
            SAY("Drain, discharge or restrain what %s has stored%s%s.", still_text(plant, f->id),
                known ? ": " : " (the plant file does not say what: expect it to be there)",
                known ? stored : ""),
            "Stored energy moves things after the feed is off.",
            "No pressure, charge or tension left.",
            "It can't be shown to be gone: restrain what it moves, or stop.");
    }
}

/* Stored energies of the feeds, springs, heat: once. */
static void restrain(still_script *s)
{
    if (!s->restrained) {
        restrain_stored(s);
        still_script_heat_and_springs(s);
    }
    s->restrained = true;
}

static void recover_room(still_script *s, const still_room *room, uint8_t *done)
{
    const still_plant *plant = s->order->plant;
    const still_outway *way = still_order_recovers(plant, room);
    if (room->between || still_room_is_open(room) || way == NULL) return;
    const char *gauge = room->gauge == STILL_NONE
                            ? ""
                            : SAY(" Watch %s.", still_text(plant, plant->gauges[room->gauge].id));
    open_way(s, way, done);
    still_stepper_add(
        &s->step, still_id_of(plant, way->items[way->n - 1]), 0,
        gauge == NULL ? NULL
                      : SAY("Empty it through %s, until nothing more comes and the "
                            "pressure has fallen to that of the outlet's side. Stay "
                            "with it.%s",
                            still_script_way_words(s, way), gauge),
        "Its relief path stands open until it is empty, and nothing is open to the air "
        "before that path is closed (rule D4).",
        "Liquid, then vapour, then nothing; metal at the low points warms up.",
        "It stays cold, or pressure comes back: liquid is left. Wait and repeat.");
}

void still_script_recover(still_script *s, uint8_t *done)
{
    const still_order *o = s->order;
    s->step.phase = "release";
    restrain(s);
    for (size_t i = 0; i < o->rooms->n_rooms; i++) recover_room(s, &o->rooms->rooms[i], done);
    s->step.phase = "verify";
    const char *points = still_script_ops(s, still_op_outer);
    still_stepper_add(
        &s->step, still_id_of(o->plant, still_order_first(o, still_op_outer)->comp), 0,
        points == NULL
            ? NULL
            : SAY("Before the relief path by %s is closed: shut the ways out briefly and watch the "
                  "pressure. It must hold, and the metal must have warmed above saturation, at low "
                  "points "
                  "and pockets too. Then open them again; stop what draws from them, and shut its "
                  "own "
                  "valve, so that it draws no air in later.",
                  points),
        "A relief path is closed only when nothing is left that it protects from (rule D4).",
        "Pressure stays where it is; no frost, no cold spot.",
        "Pressure rises, or metal stays cold: liquid is left. Leave the relief path open, go on, "
        "and "
        "repeat this step.");
}

void still_script_release(still_script *s, uint8_t *done, bool work)
{
    const still_order *o = s->order;
    s->step.phase = "release";
    if (work) restrain(s);
    size_t before = s->step.n;
    release_rooms(s, done, work, false);
    release_rooms(s, done, work, true);
    drains_open_again(s, work);
    for (uint32_t i = 0; i < o->iso->n_bleeds && !work; i++) {
        if (o->iso->bleeds[i].label != 1) continue; /* the work's own are ways to prove zero */
        const still_outway way = still_bleed_way(&o->iso->bleeds[i]);
        if (way.n > 0) open_way(s, &way, done);
    }
    for (uint32_t i = 0; i < o->n_ops && !work; i++)
        if (o->ops[i].behind) open_behind(s, &o->ops[i]);
    if (s->step.n == before && work)
        still_stepper_add(&s->step, "", 0,
                          "Relieve, disconnect or restrain what energy is left by the site's own "
                          "method: the plant file "
                          "shows no outlet for it. See the findings.",
                          "Pressure, liquid, cold or heat may be left inside.",
                          "None is left, and that is proved.",
                          "It can't be shown to be gone: do not open.");
    if (work) still_script_let_off(s);
}
