/* Proof of zero: rules P4, E8; OSHA 29 CFR 1910.147 (d)(6). */
#include "steps_script.h"

#include "boiling.h"
#include "contents.h"
#include "describe.h"

#include <math.h>
#include <string.h>

#define SAY(...) still_arena_printf(s->arena, __VA_ARGS__)

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
        if (p->level == level && !p->positive && still_room_has(room, p->inner_port))
            (*list)[n++] = p->comp;
    }
    return n;
}

/* What leaves this compartment by a device that acts by itself, in its flow direction, comes to
 * this one; NULL = to none that is inside. */
static const still_room *behind(const still_script *s, const still_room *room, uint32_t port)
{
    const still_order *o = s->order;
    const still_plant *plant = o->plant;
    const still_comp *c = &plant->comps[plant->ports[port].comp];
    /* Entered by its inlet; it is no point, and parts the two. */
    if (c->cls != STILL_CLASS_VALVE || still_relieves(c) || port != c->a ||
        still_room_has(room, c->a + 1))
        return NULL;
    if (still_kind_stops(c->kind) && still_by_hand(c) && c->kind != STILL_KIND_STOP_CHECK)
        return NULL;
    if (still_order_tag(o, plant->ports[port].comp) != 0) return NULL;
    for (size_t r = 0; r < o->rooms->n_rooms; r++)
        if (still_room_has(&o->rooms->rooms[r], c->a + 1)) return &o->rooms->rooms[r];
    return NULL;
}

/* @param drains  those by which it drains, too */
static void add_ways(const still_script *s, const still_room *room, bool drains, uint32_t *list,
                     uint32_t *n)
{
    const still_outway *first[] = {&room->prove, &room->vent, &room->drain};
    for (uint32_t w = 0; w < (drains ? 3 + room->n_further : 2); w++) {
        const still_outway *way = w < 3 ? first[w] : &room->further[w - 3];
        for (uint32_t i = 0; i < way->n; i++) {
            uint32_t comp = way->items[i], k = 0;
            if (s->order->plant->comps[comp].cls != STILL_CLASS_VALVE) continue;
            while (k < *n && list[k] != comp) k++;
            if (k == *n) list[(*n)++] = comp;
        }
    }
}

/* Compartments that one can empty into over check valves and the like, itself first.
 * @return in the arena, NULL when memory is out */
static const still_room **reached_from(still_script *s, const still_room *room, uint32_t *n)
{
    const still_order *o = s->order;
    size_t n_rooms = o->rooms->n_rooms;
    const still_room **queue = STILL_ARENA_NEW(s->arena, n_rooms + 1, const still_room *);
    uint8_t *seen = STILL_ARENA_NEW(s->arena, n_rooms + 1, uint8_t);
    *n = 0;
    if (queue == NULL || seen == NULL) return NULL;
    seen[room - o->rooms->rooms] = 1;
    queue[(*n)++] = room;
    for (uint32_t head = 0; head < *n; head++)
        for (uint32_t i = 0; i < queue[head]->n_ports; i++) {
            const still_room *next = behind(s, queue[head], queue[head]->ports[i]);
            if (next == NULL || next->between || seen[next - o->rooms->rooms]) continue;
            seen[next - o->rooms->rooms] = 1;
            queue[(*n)++] = next;
        }
    return queue;
}

/* Room for every valve of every way out. */
static uint32_t most_ways(const still_script *s)
{
    uint32_t size = 0;
    for (size_t r = 0; r < s->order->rooms->n_rooms; r++) {
        const still_room *at = &s->order->rooms->rooms[r];
        size += at->prove.n + at->vent.n + at->drain.n;
        for (uint32_t k = 0; k < at->n_further; k++) size += at->further[k].n;
    }
    return size;
}

/* All valves that stand open on ways out of a compartment, and of those that it can empty into over
 * check valves and the like: what is to be shut while it is watched.
 * @return in words, NULL when memory ran out; *locked: one of them has a lock */
static const char *ways_out(still_script *s, const still_room *room, uint32_t *n, bool *locked)
{
    const still_order *o = s->order;
    uint32_t n_rooms, *list = STILL_ARENA_NEW(s->arena, most_ways(s), uint32_t);
    const still_room **rooms = reached_from(s, room, &n_rooms);
    *n = 0;
    *locked = false;
    if (list == NULL || rooms == NULL) return NULL;
    for (uint32_t i = 0; i < n_rooms; i++) add_ways(s, rooms[i], true, list, n);
    for (uint32_t k = 0; k < o->n_ops; k++)
        for (uint32_t i = 0; i < *n; i++)
            *locked = *locked || (o->ops[k].locked && o->ops[k].comp == list[i]);
    return *n == 0 ? "" : still_join_all(s->arena, o->plant, list, *n);
}

const char *still_script_ways_behind(still_script *s, const still_room *room)
{
    uint32_t n_rooms, n = 0, *list = STILL_ARENA_NEW(s->arena, most_ways(s), uint32_t);
    const still_room **rooms = reached_from(s, room, &n_rooms);
    if (list == NULL || rooms == NULL) return NULL;
    for (uint32_t i = 1; i < n_rooms; i++) add_ways(s, rooms[i], false, list, &n);
    return n == 0 ? "" : still_join_all(s->arena, s->order->plant, list, n);
}

/* F-PRC-9: no hold time is published, so no figure of our own is printed. */
static const char *hold_time(still_script *s)
{
    const still_site *site = s->order->site;
    if (site == NULL || site->hold_time[0] == '\0')
        return "for the site's hold time (ask: none is published)";
    return SAY("for %s (hold time of the site file)", site->hold_time);
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
    const char *hold = hold_time(s);
    if (valves == NULL || hold == NULL) return NULL;
    if (room->prove.n < 2)
        return SAY("Watch %s, which stands open, %s: nothing may come.", outlet, hold);
    if (room->gauge == STILL_NONE)
        return SAY(
            "No gauge stands here.%s Watch the open outlet %s (its line parted where that does no "
            "harm, or by a sight glass) %s: nothing may come, not a drop. Then join the line "
            "again.",
            still_order_keeps_full(s->order, room)
                ? " See liquid stand at the end first, its level marked: an empty pipe behind the "
                  "bleed swallows what passes. Where none stands, fill it from a can by the open "
                  "end, earthed and bonded; can it not be filled, it is not proved, and whoever "
                  "approves decides."
                : "",
            outlet, hold);
    /* Liquid that comes through a valve hardly moves a gauge above a large space: it is seen to
     * drip. */
    const char *drip =
        room->liquid && !room->flashes && room->drain.n > 0 &&
                !still_order_keeps_full(s->order, room)
            ? SAY("Watch every low drain (%s), open and dry, %s: not a drop. Then shut",
                  still_script_drains(s, room), hold)
            : still_arena_word(s->arena, "Shut");
    return SAY("%s every way out (%s) %s, watch gauge %s for a rise, and open %s again%s.", drip,
               valves, hold, still_text(plant, plant->gauges[room->gauge].id),
               n == 1 ? "it" : "them", locked ? ", the lock back on" : "");
}

/* " See first …": of these, those that stand against pressure by what the plant file says (P4):
 * with none behind it today a valve that passes shows nothing. Not those whose other side is let
 * off too: they are proved before that, or not at all.
 * @param inner  what lies between is not let off yet
 * @return NULL when memory is out */
static const char *pressure_first(still_script *s, const still_room *room, bool inner)
{
    const still_isolation *iso = s->order->iso;
    uint32_t n = 0, *list = STILL_ARENA_NEW(s->arena, iso->points.n, uint32_t);
    if (list == NULL) return NULL;
    for (uint32_t i = 0; i < iso->points.n; i++) {
        const still_iso_point *p = &iso->info[i];
        still_pressed pressed;
        if (p->positive || !still_room_has(room, p->inner_port)) continue;
        if (iso->between_port[p->outer_port] && !inner) continue;
        if (!still_point_pressed(&pressed, s->arena, iso, i)) return NULL;
        if (pressed == STILL_PRESSED_WELL) list[n++] = iso->points.items[i];
    }
    return n == 0
               ? ""
               : SAY(" See first, by a gauge there or by what runs there, that pressure stands "
                     "behind %s, and how much: that alone it is proved against. Where none stands, "
                     "or it can't be seen, it is not proved: whoever approves decides, before "
                     "anything is opened.",
                     still_join_all(s->arena, s->order->plant, list, n));
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
        const char *first = pressure_first(s, room, true);
        if (first == NULL) s->step.failed = true;
        still_stepper_add(
            &s->step, still_id_of(o->plant, room->prove.items[0]), 0,
            SAY("Prove the valve%s next to the work, with the line's pressure behind: %s.%s "
                "Show that the bleed by %s is not plugged (rod it, or see flow). %s",
                n == 1 ? "" : "s", still_join_all(s->arena, o->plant, list, n), first,
                still_script_way_words(s, &room->prove), watched(s, room)),
            "Once the valves further out are closed, a valve that passes here no longer shows.",
            room->flashes ? "No rise, nothing comes; metal at the low points has warmed up."
                          : "No rise, nothing comes, not a drop.",
            "It rises, or something comes: a valve passes, or liquid is left. Wait; if it goes on, "
            "close the valve further out of one side alone and watch: the side with which it "
            "stops is the one that passes. Go back, mark it, plan anew. Reopen it before you "
            "leave: "
            "liquid is shut in between meanwhile (rule L6).");
    }
}

static const char *boiling_points(still_script *s, const still_room *room)
{
    const still_plant *plant = s->order->plant;
    static const struct {
        const char *name, *words;
    } known[] = {{"ammonia", "ammonia -33 degC"},
                 {"propane", "propane -42 degC"},
                 {"carbon-dioxide", "carbon dioxide -78 degC, dry ice"},
                 {"r134a", "R-134a -26 degC"}};
    const char *text = "";
    uint32_t n = 0;
    const uint32_t *services = still_services_of_room(s->arena, plant, room, &n);
    if (services == NULL) return NULL;
    for (size_t k = 0; k < sizeof known / sizeof known[0]; k++) {
        bool inside = false;
        for (uint32_t i = 0; i < n; i++)
            inside = inside || still_service_is(plant, services[i], known[k].name);
        if (inside && text != NULL) text = SAY("%s%s%s", text, text[0] ? ", " : "", known[k].words);
    }
    return text;
}

/* Liquid that lies below every way out boils last. */
static const char *pocket_words(still_script *s, const still_room *room)
{
    const still_plant *plant = s->order->plant;
    const char *text = "";
    for (size_t i = 0; i < room->n_puddles && text != NULL; i++) {
        const char *list =
            still_join_ids(s->arena, plant, room->puddles[i].ids, room->puddles[i].n_ids);
        text = list == NULL ? NULL : SAY("%s%s%s", text, text[0] ? "; " : ", and at ", list);
    }
    return text;
}

/* Normally below atmosphere: zero on the gauge is no zero yet (P4). */
static bool room_below_atmosphere(still_script *s, const still_room *room)
{
    uint32_t n = 0;
    const uint32_t *services = still_services_of_room(s->arena, s->order->plant, room, &n);
    if (services == NULL) s->step.failed = true;
    for (uint32_t i = 0; i < n && services != NULL; i++)
        if (s->order->plant->services[services[i]].pressure_bara < STILL_ATM_BAR) return true;
    return false;
}

static const char *gauge_words(still_script *s, const still_room *room)
{
    const still_plant *plant = s->order->plant;
    if (room->gauge == STILL_NONE)
        return "No gauge with a known root valve stands on this compartment: use the site's own "
               "method, and see the finding";
    return SAY("Root valve %s open: gauge %s was seen to fall with the section and stands at zero",
               still_id_of(plant, plant->gauges[room->gauge].via),
               still_text(plant, plant->gauges[room->gauge].id));
}

/* Neither bleed nor gauge: nothing can be read here, and nothing is pretended. */
static void not_proved(still_script *s, const still_room *room, const char *id, const char *list)
{
    bool blind = false;
    for (uint32_t i = 0; i < s->order->n_ops; i++) {
        const still_op *op = &s->order->ops[i];
        blind = blind || (op->late && (still_room_has(room, op->point->inner_port) ||
                                       still_room_has(room, op->point->outer_port)));
    }
    still_stepper_add(
        &s->step, id, 0,
        SAY("%s: zero can't be proved here, since it has neither a bleed nor a gauge (see the "
            "finding). Treat it as full and under pressure: open no joint of it%s, work on nothing "
            "that holds it back.",
            list,
            blind
                ? " but the one that takes a blind below, and that as if pressure stood behind it, "
                  "with what is needed to catch it and to breathe"
                : ""),
        "What is not proved counts as live.",
        "Nobody works at it; whoever accepts the finding has said how it is made safe.",
        "The work needs a joint of it: stop; a bleed has to be fitted, or the boundary set "
        "elsewhere.");
}

/* Well below what opens a relief valve, or what the weakest part is designed for. */
const char *still_script_test_limit(still_script *s)
{
    double most = 0.75 * s->record->tests.tightness_barg;
    if (isnan(most)) return "within the lowest design and set pressure of it";
    return SAY("to %.2g barg at most", most < 0.5 ? most : 0.5);
}

/* P4: against a live side at about atmosphere a valve that passes shows nothing. */
static const char *points_without_pressure(still_script *s, const still_room *room)
{
    const still_isolation *iso = s->order->iso;
    uint32_t n = 0, n_dead = 0, *list = STILL_ARENA_NEW(s->arena, iso->points.n, uint32_t);
    uint32_t *dead = STILL_ARENA_NEW(s->arena, iso->points.n, uint32_t);
    if (list == NULL || dead == NULL) return NULL;
    for (uint32_t i = 0; i < iso->points.n; i++) {
        still_pressed pressed;
        if (!still_room_has(room, iso->info[i].inner_port)) continue;
        if (!still_point_pressed(&pressed, s->arena, iso, i)) return NULL;
        if (pressed == STILL_PRESSED_BARELY) list[n++] = iso->points.items[i];
        if (pressed == STILL_PRESSED_NEVER) dead[n_dead++] = iso->points.items[i];
    }
    const char *limit = still_script_test_limit(s);
    const char *never =
        n_dead == 0 ? ""
                    : SAY(" %s can't be proved: hardly any pressure stands behind it, and what is "
                          "pressed back through it goes nowhere, since all ways on are shut or "
                          "one-way (see the finding, P4).",
                          still_join_all(s->arena, s->order->plant, dead, n_dead));
    if (limit == NULL || never == NULL || n == 0) return limit == NULL ? NULL : never;
    const char *way = room->prove.n > 0 ? still_script_way_words(s, &room->prove) : "the bleed";
    return SAY(
        " Behind %s stands hardly any pressure in service, so that what passes there hardly "
        "shows: join dry nitrogen by a regulator at %s, and with every other way out shut "
        "raise the section, %s; shut that one too and see that no gauge falls either; let it "
        "off to zero again by every way out, the hose off, the line of before joined.%s",
        still_join_all(s->arena, s->order->plant, list, n), way, limit, never);
}

static void verify_room(still_script *s, const still_room *room)
{
    const still_plant *plant = s->order->plant;
    const char *id = room->n_ids > 0 ? still_id_of(plant, room->ids[0]) : "";
    const char *list = still_join_ids(s->arena, plant, room->ids, room->n_ids);
    if (room->prove.n == 0 && room->gauge == STILL_NONE) {
        not_proved(s, room, id, list);
        return;
    }
    const char *weak = points_without_pressure(s, room), *gone = pressure_first(s, room, false);
    const char *gauge = gauge_words(s, room), *pockets = pocket_words(s, room);
    const char *bleed =
        room->prove.n > 0
            ? SAY("Show that the bleed by %s is not plugged (rod it, or see flow). %s",
                  still_script_way_words(s, &room->prove), watched(s, room))
            : "There is no bleed fit to prove zero here: see the finding.";
    const char *below =
        room_below_atmosphere(s, room)
            ? " It stands below atmosphere in service: raise it to slightly above with dry "
              "nitrogen first, or a point that passes draws air in and shows nothing."
            : "";
    const char *ice =
        still_room_carries(plant, room, "carbon-dioxide")
            ? " Carbon dioxide: zero with cold metal is dry ice. Warm it until the metal stands "
              "well above -78 degC everywhere, ways out open; then shut and watch again; weigh "
              "what can be weighed."
            : "";
    const char *boils = boiling_points(s, room);
    if (pockets == NULL) s->step.failed = true;
    still_stepper_add(
        &s->step, id, 0,
        weak == NULL || gone == NULL
            ? NULL
            : SAY("Prove zero at %s. %s.%s %s%s%s%s", list, gauge, gone, bleed, weak, below, ice),
        "A gauge at zero alone proves nothing.",
        boils == NULL ? NULL
        : boils[0] != '\0'
            ? SAY("The gauge reads atmosphere and does not move; metal at low points%s warmer than "
                  "the boiling point at 1 atm (%s), by a thermometer on the metal. No rise.",
                  pockets == NULL ? "" : pockets, boils)
            : SAY("The gauge reads atmosphere and does not move; the low drain is open and dry, "
                  "not "
                  "a drop%s; what is inside does not boil when let off, so a warm wall shows "
                  "nothing.",
                  pockets == NULL || pockets[0] == '\0' ? ""
                                                        : ", but for the pockets that are told"),
        boils != NULL && boils[0] != '\0'
            ? "It rises: a point passes or liquid is left. It falls below atmosphere: vapour "
              "condenses, or a point passes toward a space below atmosphere. It never moved: gauge "
              "or "
              "root valve is plugged. Metal colder: liquid is left. Do not open. Find which, go "
              "back, "
              "plan anew."
            : "It rises, or drips: a point passes or liquid is left. It falls below atmosphere: a "
              "point "
              "passes toward a space below atmosphere, or it cools. It never moved: gauge or root "
              "valve "
              "is plugged. Do not open. Find which, go back, plan anew.");
}

/* P4: what passes toward a space below atmosphere does not come to the bleed. */
static void points_against_vacuum(still_script *s)
{
    const still_isolation *iso = s->order->iso;
    const still_plant *plant = s->order->plant;
    for (uint32_t i = 0; i < iso->points.n; i++) {
        bool unknown;
        uint32_t comp = iso->points.items[i];
        double bara = still_live_pressure_bara(iso, i, &unknown);
        if (iso->info[i].positive || !(bara < STILL_ATM_BAR)) continue;
        still_stepper_add(
            &s->step, still_id_of(plant, comp), still_order_tag(s->order, comp),
            SAY("Behind %s stands a space below atmosphere (%.4g bara): it is not proved until "
                "that space has been above. Raise the space, prove the valve by the bleed, and "
                "only then let the space down again.",
                still_id_of(plant, comp), bara),
            "What passes is drawn away from the bleed, which shows nothing; later, at standstill, "
            "the space warms up and pushes back.",
            "With the space above atmosphere: no rise, nothing comes.",
            "The space can't be raised: the valve is not proved. See the finding; do not open "
            "without a blind or another valve that is.");
    }
}

/* P4: the outer valves of a double isolation are proved by a bleed between. */
static void prove_outer(still_script *s, const still_room *room)
{
    const still_order *o = s->order;
    uint32_t *list, n = valves_at(s, 2, room, &list);
    if (list == NULL) s->step.failed = true;
    if (n == 0 || room->prove.n == 0) return;
    const char *first = pressure_first(s, room, false);
    if (first == NULL) s->step.failed = true;
    still_stepper_add(
        &s->step, still_id_of(o->plant, room->prove.items[0]), 0,
        SAY("Prove the valve%s further out: %s.%s "
            "Show that the bleed by %s is not plugged (rod it, or see flow). %s",
            n == 1 ? "" : "s", still_join_all(s->arena, o->plant, list, n), first,
            still_script_way_words(s, &room->prove), watched(s, room)),
        "What passes comes to the space between first. The bleed has to carry off what a valve "
        "that "
        "fails lets through (California Title 8 section 6536(a)(1)(D)).",
        "No rise, nothing comes.",
        "It rises, or something comes: a valve passes. Do not open. Find which, go back, plan "
        "anew.");
}

/* "ammonia: 25 ppm; …": limits of the site file for what is inside; "" = it gives none. */
static const char *gas_limits(still_script *s)
{
    uint32_t n = 0;
    const still_plant *plant = s->order->plant;
    const uint32_t *services = still_services_inside(s->arena, s->order->iso, &n);
    const char *text = services == NULL ? NULL : "";
    for (uint32_t i = 0; i < n && text != NULL; i++) {
        const char *substance = still_text(plant, plant->services[services[i]].substance);
        const char *limit = still_site_gas_limit(s->order->site, substance);
        const char *one = SAY("%s: %s", substance[0] ? substance : "substance not said", limit);
        if (one == NULL) return NULL;
        if (limit[0] == '\0' || strstr(text, one) != NULL) continue;
        text = SAY("%s%s%s", text, text[0] ? "; " : "", one);
    }
    return text;
}

/* E8: purge or evacuate, then slightly above atmosphere. */
static void purge(still_script *s)
{
    /* What no vacuum is ever drawn on in service may not stand one: a tank is sucked in. */
    bool vacuum = still_refrigerant_inside(s->order->iso);
    const char *limits = gas_limits(s);
    if (limits == NULL) s->step.failed = true;
    bool given = limits != NULL && limits[0] != '\0';
    const char *most = still_script_test_limit(s);
    const char *at = still_script_outlets(s);
    const char *how = vacuum ? ", or evacuate with every way out shut," : "";
    const char *end =
        vacuum
            ? "Then raise it to slightly above atmosphere and shut every way out; after a vacuum "
              "watch the shut section again: a valve is proved only against a space that stands "
              "above it."
            : "Leave it slightly above atmosphere, every way out shut. Draw no vacuum: vessels "
              "and tanks may not stand one.";
    still_stepper_add(
        &s->step, "", 0,
        most == NULL || at == NULL
            ? NULL
            : SAY("Purge with dry nitrogen%s%s%s from one end to the other by a regulator, %s%s "
                  "until "
                  "the "
                  "gas test is within the site's limit. Legs without an outlet are not swept: "
                  "pressure up and let off, several times, and test the gas there. %s Then the "
                  "nitrogen off at its source, its hose let off and taken away, the line of before "
                  "joined again.",
                  at[0] ? ", joined at " : "", at, at[0] ? "," : "", most, how, end),
        vacuum
            ? "Vapour is left after zero; in vacuum, air and moisture are drawn in. Nitrogen "
              "chokes without a sign: an oxygen monitor is on."
            : "Vapour is left after zero, and burns or chokes. Nitrogen chokes without a sign: an "
              "oxygen monitor is on.",
        given ? SAY("Gas test within the site's limit (%s); the gauge slightly above atmosphere.",
                    limits)
              : "Gas test within the site's limit (no site file gives one: ask); the gauge "
                "slightly above atmosphere.",
        "Not within the limit: go on purging. Do not open.");
}

static bool way_at_work(const still_op *op)
{
    return op->outway && !op->between;
}

/* What the hold and the purge have shut stands open again before anything is parted (P1). */
static void open_ways_again(still_script *s)
{
    const still_order *o = s->order;
    uint32_t n, *list = still_script_pick(s, way_at_work, &n);
    if (list == NULL) s->step.failed = true;
    if (n == 0) return;
    still_stepper_add(
        &s->step, still_id_of(o->plant, list[0]), 0,
        SAY("Just before the first joint is parted, no nitrogen joined anywhere: open the ways out "
            "again, as their tags say "
            "(%s), and see every gauge at zero.",
            still_join_all(s->arena, o->plant, list, n)),
        "They were shut for the hold and the purge; open, they show what passes, and let it off.",
        "A breath of nitrogen, then nothing; zero.",
        "It goes on, or a gauge rises: a point passes. Nothing is opened.");
}

/* Machines that were stopped, and whose supply is locked off outside the tag list. */
static void try_stopped(still_script *s)
{
    const still_plant *plant = s->order->plant;
    for (uint32_t comp = 0; comp < plant->n_comps; comp++) {
        if (!still_script_stopped(s, comp) || still_script_listed(s, comp)) continue;
        still_stepper_add(
            &s->step, still_id_of(plant, comp), 0,
            SAY("Try to start %s, people clear; have its supply proved dead by a person "
                "competent for it. Put the control back to off.",
                still_id_of(plant, comp)),
            "Shows that the right isolator is off: it would run against closed valves.",
            "Nothing moves.",
            "It moves: the wrong isolator is off. Stop, switch off, find the right one.");
    }
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
    points_against_vacuum(s);
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
    try_stopped(s);
    purge(s);
    open_ways_again(s);
}
