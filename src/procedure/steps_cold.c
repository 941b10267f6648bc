/* Carbon dioxide and dry ice (E7), oil (E9), springs and heat (N5, D3): what is added to the steps
 * of letting off and draining. */
#include "steps_script.h"

#include "contents.h"
#include "describe.h"

#include <string.h>

#define SAY(...) still_arena_printf(s->arena, __VA_ARGS__)

void still_script_liquid_co2(still_script *s, const still_room *room)
{
    const still_plant *plant = s->order->plant;
    const char *gauge = room->gauge == STILL_NONE
                            ? "a gauge (none with a known root valve stands here: see the finding)"
                            : SAY("gauge %s", still_text(plant, plant->gauges[room->gauge].id));
    still_stepper_add(
        &s->step, still_id_of(plant, room->drain.items[room->drain.n - 1]), 0,
        gauge == NULL
            ? NULL
            : SAY("Carbon dioxide: let the liquid out through %s first, while %s stands above 5.2 "
                  "bara (4.2 barg). Shut and wait for the pressure to come back before it falls to "
                  "that. Stay with it.",
                  still_script_way_words(s, &room->drain), gauge),
        "Below 5.2 bara liquid turns to dry ice: it plugs the bleed, and the gauge reads a false "
        "zero.",
        "Liquid, then vapour alone, the gauge above 5.2 bara all the while.",
        "It has fallen below with liquid inside: shut the drain and let it warm, its relief path "
        "open, until the pressure comes back; then go on. Never warm dry ice that is shut in.");
}

const char *still_script_drains(still_script *s, const still_room *room)
{
    const char *text = still_script_way_words(s, &room->drain);
    for (uint32_t i = 0; i < room->n_further && text != NULL; i++) {
        const char *more = still_script_way_words(s, &room->further[i]);
        text = more == NULL ? NULL : SAY("%s; %s", text, more);
    }
    return text;
}

bool still_script_takes_oil(const still_script *s, uint32_t outlet)
{
    const still_room *room = s->oil_room;
    if (room == NULL || room->drain.n == 0) return false;
    bool takes = room->drain.items[room->drain.n - 1] == outlet;
    for (uint32_t i = 0; i < room->n_further; i++)
        takes = takes || room->further[i].items[room->further[i].n - 1] == outlet;
    return takes;
}

void still_script_oil(still_script *s, const still_room *room, const uint8_t *done)
{
    const still_plant *plant = s->order->plant;
    uint32_t two[2];
    bool fit = still_oil_drain(plant, room, two);
    if (still_room_oil(plant, room) == STILL_OIL_NONE || (!fit && room->drain.n == 0)) return;
    const char *way = fit ? still_join_ids(s->arena, plant, two, 2) : still_script_drains(s, room);
    uint32_t at = fit ? two[1] : room->drain.items[room->drain.n - 1];
    const char *text =
        way == NULL ? NULL
        : fit
            ? SAY("Oil: drain it at %s, the stop valve first, then the self-closing valve held by "
                  "hand; it is never left alone. Catch it in an open can where vapour does no "
                  "harm.%s",
                  way, done[two[0]] ? "" : " Shut the stop valve again.")
            : SAY("Oil, once no more liquid comes by %s: shut the stop valve, and hold the "
                  "self-closing valve open until hose and stub have run empty. Hose off, an open "
                  "can under it where vapour does no harm; stop valve open, the self-closing "
                  "valve held by hand and never left alone, until nothing comes. Then shut the "
                  "stop valve, let the stub run empty and warm, take the self-closing valve off, "
                  "join the hose or line of before, and open the stop valve again as its tag "
                  "says.",
                  way);
    still_stepper_add(
        &s->step, still_id_of(plant, at), 0, text,
        "Oil gathers at low points and holds ammonia or other refrigerant that boils later (rule "
        "E9).",
        "Oil runs thin and stops; foam is refrigerant that boils out of it.",
        "Nothing comes: silence is not empty. Cold oil is thick: let it warm, and try again.");
}

/* An actuated valve that is a point stays shut by its spring: this one is not taken off (D3). */
static void springs(still_script *s)
{
    const still_isolation *iso = s->order->iso;
    const still_plant *plant = s->order->plant;
    for (uint32_t i = 0; i < iso->points.n; i++) {
        uint32_t comp = iso->points.items[i];
        const still_comp *c = &plant->comps[comp];
        if (c->cls != STILL_CLASS_VALVE || still_by_hand(c)) continue;
        const char *id = still_id_of(plant, comp);
        still_stepper_add(
            &s->step, id, still_order_tag(s->order, comp),
            SAY("The spring of %s holds it shut: leave it in. Let the actuator's air or oil off, "
                "see that the spindle stands at closed, and block it there where the maker gives a "
                "way to.",
                id),
            "It fails closed: its spring is stored energy that the isolation needs, its supply is "
            "what could open it (rules D3, N5).",
            "Actuator without pressure, indicator at closed.",
            "It stands elsewhere, or the spring is broken: it is no isolation point. Go back, plan "
            "anew.");
    }
}

void still_script_heat_and_springs(still_script *s)
{
    const still_order *o = s->order;
    const still_plant *plant = o->plant;
    springs(s);
    for (uint32_t i = 0; i < o->iso->feeds.n; i++) {
        const still_feed *f = &plant->feeds[o->iso->feeds.items[i]];
        if (f->kind != STILL_FEED_HEATING) continue;
        still_stepper_add(
            &s->step, still_text(plant, f->id), still_script_feed_tag(o, o->iso->feeds.items[i]),
            SAY("Let what %s has heated cool down: pipe, casing, heating medium.",
                still_text(plant, f->id)),
            "Heat that is left goes on boiling liquid, and burns (rule N5).",
            "The metal is no warmer than its surroundings.",
            "It stays warm: the wrong isolator is off, or something else heats it. Find it.");
    }
}
