/* Proof of zero: rules P4, E8; OSHA 29 CFR 1910.147 (d)(6). */
#include "steps_script.h"

#include "describe.h"

#include <string.h>

#define SAY(...) still_arena_printf(s->arena, __VA_ARGS__)

static bool in_room(const still_room *room, uint32_t port)
{
    for (uint32_t i = 0; i < room->n_ports; i++)
        if (room->ports[i] == port) return true;
    return false;
}

/* Valves of a level whose side is in this compartment. @return how many; *list is in the arena,
 * NULL when memory ran out */
static uint32_t valves_at(const still_script *s, uint8_t level, const still_room *room,
                          uint32_t **list)
{
    const still_isolation *iso = s->order->iso;
    uint32_t n = 0;
    *list = STILL_ARENA_NEW(s->arena, iso->points.n, uint32_t);
    for (uint32_t i = 0; i < iso->points.n && *list != NULL; i++) {
        const still_iso_point *p = &iso->info[i];
        if (p->level == level && !p->positive && in_room(room, p->inner_port))
            (*list)[n++] = p->comp;
    }
    return n;
}

/* All valves that stand open on ways out of a compartment: what is to be shut while it is watched.
 * @return in words, NULL when memory ran out; *locked: one of them has a lock */
static const char *ways_out(still_script *s, const still_room *room, uint32_t *n, bool *locked)
{
    const still_order *o = s->order;
    const still_outway *ways[] = {&room->prove, &room->vent, &room->drain};
    uint32_t size = room->prove.n + room->vent.n + room->drain.n;
    uint32_t *list = STILL_ARENA_NEW(s->arena, size, uint32_t);
    *n = 0;
    *locked = false;
    if (list == NULL) return NULL;
    for (int w = 0; w < 3; w++)
        for (uint32_t i = 0; i < ways[w]->n; i++) {
            uint32_t comp = ways[w]->items[i], k = 0;
            if (o->plant->comps[comp].cls != STILL_CLASS_VALVE) continue;
            while (k < *n && list[k] != comp) k++;
            if (k == *n) list[(*n)++] = comp;
        }
    for (uint32_t k = 0; k < o->n_ops; k++)
        for (uint32_t i = 0; i < *n; i++)
            *locked = *locked || (o->ops[k].locked && o->ops[k].comp == list[i]);
    return *n == 0 ? "" : still_join_ids(s->arena, o->plant, list, *n);
}

/* How a compartment is watched for a rise (P4). With any way out open nothing could rise; without a
 * gauge it is seen at the open bleed. */
static const char *watched(still_script *s, const still_room *room)
{
    const still_plant *plant = s->order->plant;
    uint32_t n;
    bool locked;
    const char *valves = ways_out(s, room, &n, &locked);
    const char *outlet = still_id_of(plant, room->prove.items[room->prove.n - 1]);
    if (valves == NULL) return NULL;
    if (room->prove.n < 2)
        return SAY("Watch %s, which stands open, for the site's hold time (ask: none is "
                   "published): nothing may come.",
                   outlet);
    if (room->gauge == STILL_NONE)
        return SAY("No gauge stands here: watch the open outlet %s for the site's hold time (ask: "
                   "none is published): nothing may come, not a drop.",
                   outlet);
    return SAY("Shut every way out (%s) for the site's hold time (ask: none is published), watch "
               "gauge %s for a rise, and open %s again%s.",
               valves, still_text(plant, plant->gauges[room->gauge].id), n == 1 ? "it" : "them",
               locked ? ", the lock back on" : "");
}

/* P4: each valve of a double isolation is proved by itself. Those next to the work while those
 * further out stand open, so that the pressure of the line stands behind them. */
void still_script_prove_inner(still_script *s)
{
    const still_order *o = s->order;
    s->step.phase = "verify";
    for (size_t r = 0; r < o->rooms->n_rooms; r++) {
        const still_room *room = &o->rooms->rooms[r];
        if (room->between) continue;
        uint32_t *list, n = valves_at(s, 1, room, &list);
        if (list == NULL) s->step.failed = true;
        if (n == 0 || room->prove.n == 0) continue;
        still_stepper_add(
            &s->step, still_id_of(o->plant, room->prove.items[0]), 0,
            SAY("Prove the valve%s next to the work, with the line's pressure behind: %s. "
                "Show that the bleed by %s is not plugged (rod it, or see flow). %s",
                n == 1 ? "" : "s", still_join_ids(s->arena, o->plant, list, n),
                still_script_way_words(s, &room->prove), watched(s, room)),
            "Once the valves further out are closed, a valve that passes here no longer shows.",
            "No rise, nothing comes; metal at the low points has warmed up.",
            "It rises, or something comes: a valve passes, or liquid is left and boils. Wait; if "
            "it "
            "goes on, find which passes, go back, plan anew.");
    }
}

static const char *boiling_points(still_script *s)
{
    const still_plant *plant = s->order->plant;
    const still_isolation *iso = s->order->iso;
    static const struct {
        const char *name, *words;
    } known[] = {{"ammonia", "ammonia -33 degC"},
                 {"propane", "propane -42 degC"},
                 {"carbon-dioxide", "carbon dioxide: see the caution on dry ice"},
                 {"r134a", "R-134a -26 degC"},
                 {"water", "water 100 degC"}};
    const char *text = "";
    for (size_t k = 0; k < sizeof known / sizeof known[0]; k++) {
        bool inside = false;
        for (uint32_t i = 0; i < iso->inside.n; i++) {
            uint32_t service = plant->comps[iso->inside.items[i]].service;
            if (service == STILL_NONE) continue;
            inside |=
                strcmp(still_text(plant, plant->services[service].substance), known[k].name) == 0;
        }
        if (inside && text != NULL) text = SAY("%s%s%s", text, text[0] ? ", " : "", known[k].words);
    }
    return text == NULL || text[0] ? text : "of the substance inside";
}

static void verify_room(still_script *s, const still_room *room)
{
    const still_plant *plant = s->order->plant;
    const char *id = room->n_ids > 0 ? still_id_of(plant, room->ids[0]) : "";
    const char *list = still_join_ids(s->arena, plant, room->ids, room->n_ids);
    const char *gauge =
        "No gauge with a known root valve stands on this compartment: use the site's own "
        "method, and see the finding";
    if (room->gauge != STILL_NONE)
        gauge =
            SAY("Root valve %s open: gauge %s was seen to fall with the section and stands at zero",
                still_id_of(plant, plant->gauges[room->gauge].via),
                still_text(plant, plant->gauges[room->gauge].id));
    const char *bleed =
        room->prove.n > 0
            ? SAY("Show that the bleed by %s is not plugged (rod it, or see flow). %s",
                  still_script_way_words(s, &room->prove), watched(s, room))
            : "There is no bleed fit to prove zero here: see the finding.";
    still_stepper_add(
        &s->step, id, 0, SAY("Prove zero at %s. %s. %s", list, gauge, bleed),
        "A gauge at zero alone proves nothing.",
        SAY("No rise; metal at low points warmer than the boiling point at 1 atm (%s).",
            boiling_points(s)),
        "It rises: a point passes or liquid is left. Do not open. Find which, go back, plan anew.");
}

/* P4: the outer valves of a double isolation are proved by a bleed between. */
static void prove_outer(still_script *s, const still_room *room)
{
    const still_order *o = s->order;
    uint32_t *list, n = valves_at(s, 2, room, &list);
    if (list == NULL) s->step.failed = true;
    if (n == 0 || room->prove.n == 0) return;
    still_stepper_add(
        &s->step, still_id_of(o->plant, room->prove.items[0]), 0,
        SAY("Prove the valve%s further out: %s. "
            "Show that the bleed by %s is not plugged (rod it, or see flow). %s",
            n == 1 ? "" : "s", still_join_ids(s->arena, o->plant, list, n),
            still_script_way_words(s, &room->prove), watched(s, room)),
        "What passes comes to the space between first.", "No rise, nothing comes.",
        "It rises, or something comes: a valve passes. Do not open. Find which, go back, plan "
        "anew.");
}

void still_script_verify(still_script *s)
{
    const still_order *o = s->order;
    const still_plant *plant = o->plant;
    s->step.phase = "verify";
    for (size_t i = 0; i < o->rooms->n_rooms; i++)
        if (!o->rooms->rooms[i].open_air && !o->rooms->rooms[i].between)
            verify_room(s, &o->rooms->rooms[i]);
    for (size_t i = 0; i < o->rooms->n_rooms; i++)
        if (o->rooms->rooms[i].between) prove_outer(s, &o->rooms->rooms[i]);
    for (uint32_t i = 0; i < o->iso->feeds.n; i++) {
        const still_feed *f = &plant->feeds[o->iso->feeds.items[i]];
        const char *list = still_join_ids(s->arena, plant, plant->refs + f->ref0, f->n_refs);
        bool valve = false;
        for (uint32_t k = 0; k < f->n_refs; k++)
            valve = valve || plant->comps[plant->refs[f->ref0 + k]].cls == STILL_CLASS_VALVE;
        still_stepper_add(
            &s->step, still_text(plant, f->id), still_script_feed_tag(o, o->iso->feeds.items[i]),
            valve ? SAY("Have the feed of %s proved dead at the device by a person competent for "
                        "it. No valve is tried: with the wrong isolator off it would let its line "
                        "in.",
                        list)
                  : SAY("Try to start or move %s, people clear; have the feed proved dead by a "
                        "person competent for it. Put the control back to off.",
                        list),
            "Shows that the right isolator is off.", valve ? "Dead." : "Nothing moves.",
            valve ? "It is live: the wrong isolator is off. Stop, find the right one."
                  : "It moves: the wrong isolator is off. Stop, switch off, find the right one.");
    }
    still_stepper_add(
        &s->step, "", 0,
        "Purge with dry nitrogen, or evacuate, until the gas test is within the site's limit; then "
        "raise to slightly above atmosphere.",
        "Vapour is left after zero; in vacuum, air and moisture are drawn in.",
        "Gas test within the site's limit (the plant file gives none: ask).",
        "Not within the limit: go on purging. Do not open.");
}
