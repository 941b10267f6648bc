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

/* Valves of a level at the edge of a compartment between; room NULL = of any. @return how many;
 * *list is in the arena, NULL when memory ran out */
static uint32_t valves_at(const still_script *s, uint8_t level, const still_room *room,
                          uint32_t **list)
{
    const still_isolation *iso = s->order->iso;
    uint32_t n = 0;
    *list = STILL_ARENA_NEW(s->arena, iso->points.n, uint32_t);
    for (uint32_t i = 0; i < iso->points.n && *list != NULL; i++) {
        const still_iso_point *p = &iso->info[i];
        uint32_t at = level == 1 ? p->outer_port : p->inner_port;
        if (p->level != level || p->positive || !iso->between_port[at]) continue;
        if (room == NULL || in_room(room, at)) (*list)[n++] = p->comp;
    }
    return n;
}

/* How a bleed is watched; one without a valve of its own stands open, and can't be shut. */
static const char *watched(still_script *s, const still_outway *way, const char *what,
                           const char *after)
{
    if (way->n < 2)
        return SAY("Watch %s, which stands open, for the site's hold time (ask: none is "
                   "published): nothing may come.",
                   what);
    return SAY("Shut %s for the site's hold time (ask: none is published) and watch for a rise; "
               "open it again%s.",
               what, after);
}

/* P4: each valve of a double isolation is proved by itself. The inner ones while what lies between
 * still has pressure: the work's own space is let down, and must not rise. */
void still_script_prove_inner(still_script *s)
{
    const still_order *o = s->order;
    const still_room *work = NULL;
    for (size_t i = 0; i < o->rooms->n_rooms; i++)
        if (o->rooms->rooms[i].work && o->rooms->rooms[i].prove.n > 0) work = &o->rooms->rooms[i];
    uint32_t *list, n = valves_at(s, 1, NULL, &list);
    if (list == NULL) s->step.failed = true;
    if (n == 0 || work == NULL) return;
    still_stepper_add(
        &s->step, still_id_of(o->plant, work->prove.items[0]), 0,
        SAY("Prove by %s next to the work: %s. What lies behind is not let off yet. %s",
            n == 1 ? "itself the valve" : "themselves the valves",
            still_join_ids(s->arena, o->plant, list, n),
            watched(s, &work->prove,
                    SAY("the bleed by %s", still_script_way_words(s, &work->prove)), "")),
        "Once the space between is let off, a valve that passes here no longer shows.", "No rise.",
        "It rises: one of them passes, or liquid boils off inside. Do not rely on it: go back, "
        "plan anew.");
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
                  still_script_way_words(s, &room->prove), watched(s, &room->prove, "it", ""))
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
    bool locked = false;
    for (uint32_t k = 0; k < o->n_ops; k++)
        for (uint32_t i = 0; i < room->prove.n; i++)
            locked = locked || (o->ops[k].locked && o->ops[k].comp == room->prove.items[i]);
    still_stepper_add(
        &s->step, still_id_of(o->plant, room->prove.items[0]), 0,
        SAY("Prove by %s further out: %s. Show that the bleed by %s is not plugged (rod it, or see "
            "flow). %s",
            n == 1 ? "itself the valve" : "themselves the valves",
            still_join_ids(s->arena, o->plant, list, n), still_script_way_words(s, &room->prove),
            watched(s, &room->prove, "it", locked ? ", and put its lock back" : "")),
        "What passes comes to the space between first.", "No rise.",
        "It rises: a valve passes. Do not open. Find which, go back, plan anew.");
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
        still_stepper_add(
            &s->step, still_text(plant, f->id), still_script_feed_tag(o, o->iso->feeds.items[i]),
            SAY("Try to start or move %s, people clear; have the feed proved dead by a person "
                "competent for it. Put the control back to off.",
                still_join_ids(s->arena, plant, plant->refs + f->ref0, f->n_refs)),
            "Shows that the right isolator is off.", "Nothing moves.",
            "It moves: the wrong isolator is off. Stop, switch off, find the right one.");
    }
    still_stepper_add(
        &s->step, "", 0,
        "Purge with dry nitrogen, or evacuate, until the gas test is within the site's limit; then "
        "raise to slightly above atmosphere.",
        "Vapour is left after zero; in vacuum, air and moisture are drawn in.",
        "Gas test within the site's limit (the plant file gives none: ask).",
        "Not within the limit: go on purging. Do not open.");
}
