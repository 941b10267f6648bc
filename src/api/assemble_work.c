/* What stands against the steps themselves: cold metal and dry ice (E7), oil (E9), proof against a
 * vacuum (P4), test pressures (P6), sequences nobody knows how to put off (N6). */
#include "assemble.h"

#include "boiling.h"
#include "contents.h"
#include "describe.h"

#include <math.h>
#include <string.h>

#define SAY(...) still_arena_printf(a->arena, __VA_ARGS__)

/* Those inside that are chilled below what they withstand (or, `unsaid`, may be), and share what is
 * said of it: the service that says it, or the component itself. */
static const char *alike(still_assembly *a, const still_chill *of, bool unsaid)
{
    uint32_t n = 0, *list = STILL_ARENA_NEW(a->arena, a->iso->inside.n, uint32_t);
    for (uint32_t i = 0; i < a->iso->inside.n && list != NULL; i++) {
        still_chill c;
        if (!still_chill_of(&c, a->plant, a->iso->inside.items[i]) || c.withstood || c.own)
            continue;
        if (c.service == of->service && isnan(c.least_K) == unsaid)
            list[n++] = a->iso->inside.items[i];
    }
    return list == NULL ? NULL : still_join_ids(a->arena, a->plant, list, n);
}

static void cold_metal(still_assembly *a, uint32_t comp)
{
    still_chill c;
    if (!still_chill_of(&c, a->plant, comp) || c.withstood) return;
    const char *service = still_text(a->plant, a->plant->services[c.service].id);
    if (isnan(c.least_K)) {
        const char *who = alike(a, &c, true);
        still_add_assumption(a, "E7", service,
                             who == NULL ? NULL
                                         : SAY("its piping withstands %s, to which letting down "
                                               "can cool it (min-temperature is not in the plant "
                                               "file): %s",
                                               c.words, who));
        return;
    }
    const char *who = c.own ? still_id_of(a->plant, comp) : alike(a, &c, false);
    still_add_finding(a, "E7", c.own ? who : service, true, true,
                      who == NULL ? NULL
                                  : SAY("letting down can cool it to %s (boiling point at 1 atm), "
                                        "below its least allowed temperature of %.4g degC: %s; "
                                        "nothing is re-pressurised before it has warmed",
                                        c.words, c.least_K - STILL_ZERO_DEGC_K, who));
}

/* Liquid carbon dioxide has to leave while above 5.2 bara, and to be seen to. */
static void dry_ice(still_assembly *a, const still_room *room)
{
    if (!still_room_carries(a->plant, room, "carbon-dioxide")) return;
    const char *id = still_id_of(a->plant, room->ids[0]);
    const char *list = still_join_ids(a->arena, a->plant, room->ids, room->n_ids);
    bool drain = room->drain.n > 0, gauge = room->gauge != STILL_NONE;
    if (list == NULL)
        a->failed = true;
    else if (room->liquid && (!drain || !gauge))
        still_add_finding(
            a, "E7", id, true, true,
            SAY("carbon dioxide at %s: liquid has to be let out while above 5.2 bara, then vapour "
                "from the top; below, dry ice plugs the bleed and gives a false zero. %s",
                list,
                !drain ? "No drain lets the liquid out"
                       : "No gauge with a known root valve shows when it falls to that"));
    else
        still_add_assumption(a, "E7", id,
                             SAY("carbon dioxide at %s: liquid is let out while the gauge stands "
                                 "above 5.2 bara, vapour from the top after that; no dry ice is "
                                 "left when zero is proved",
                                 list));
}

static void oil(still_assembly *a, const still_room *room)
{
    still_oil why = still_room_oil(a->plant, room);
    if (why == STILL_OIL_NONE) return;
    uint32_t two[2];
    bool fit = still_oil_drain(a->plant, room, two);
    const char *id = still_id_of(a->plant, room->ids[0]);
    if (why == STILL_OIL_AMMONIA)
        still_add_assumption(
            a, "E9", id,
            fit ? "no oil is left at the low points of liquid ammonia: silence is not empty"
                : "no oil is left at the low points of liquid ammonia: silence is not empty, and "
                  "its drain has no self-closing valve behind a stop valve to let oil out by");
    else if (!fit)
        still_add_finding(
            a, "E9", id, true, true,
            room->drain.n == 0
                ? "oil inside, and no drain for it: a stop valve and then a "
                  "self-closing valve, attended"
                : SAY("oil inside, and its drain %s has no self-closing valve behind "
                      "a stop valve: a drain that can be left open is left open",
                      still_join_ids(a->arena, a->plant, room->drain.items, room->drain.n)));
}

/* The compartment at this port has a place to prove zero. */
static bool proved_there(const still_assembly *a, uint32_t port)
{
    for (size_t r = 0; r < a->rooms.n_rooms; r++)
        if (still_room_has(&a->rooms.rooms[r], port)) return a->rooms.rooms[r].prove.n > 0;
    return false;
}

static void against_vacuum(still_assembly *a)
{
    for (uint32_t i = 0; i < a->iso->points.n; i++) {
        bool unknown;
        double bara = still_live_pressure_bara(a->iso, i, &unknown);
        const char *id = still_id_of(a->plant, a->iso->points.items[i]);
        if (a->iso->info[i].positive) continue;
        still_pressed pressed;
        if (!still_point_pressed(&pressed, a->arena, a->iso, i)) a->failed = true;
        if (bara < STILL_ATM_BAR)
            still_add_finding(a, "P4", id, true, true,
                              SAY("it closes against a space below atmosphere (%.4g bara): it is "
                                  "not proved until that space has been above it",
                                  bara));
        else if (pressed != STILL_PRESSED_WELL) {
            /* Where nothing is proved, a finding says so (E2). */
            if (!proved_there(a, a->iso->info[i].inner_port)) continue;
            if (pressed == STILL_PRESSED_NEVER)
                still_add_finding(
                    a, "P4", id, true, true,
                    "it can't be proved: hardly any pressure stands behind it in service, and what "
                    "is "
                    "pressed back through it goes nowhere, since all ways on from there are shut "
                    "or "
                    "one-way: nitrogen on the side of the work shows nothing either. What stands "
                    "shut beyond it is no point and counts as open");
            else
                still_add_assumption(
                    a, "P4", id,
                    "it is proved although hardly any pressure stands behind it in "
                    "service: by nitrogen on the side of the work, which must not "
                    "fall, or it counts as not proved");
        } else if (unknown)
            still_add_assumption(a, "P4", id,
                                 "what stands behind it is above atmosphere (a normal pressure "
                                 "there is not in the plant file), or it is not proved");
    }
}

/* "HV-1 (40 barg), HV-2 (40 barg)": points with a rating of their own that is too low; "" = none.
 */
static const char *rated_below(still_assembly *a)
{
    const char *text = "";
    for (uint32_t i = 0; i < a->notes.n_limits && text != NULL; i++) {
        const still_test_limit *l = &a->notes.limits[i];
        if (l->what == STILL_LIMIT_RATING)
            text = SAY("%s%s%s (%.4g barg)", text, text[0] ? ", " : "",
                       still_id_of(a->plant, l->comp), l->barg);
    }
    return text;
}

/* The others: what only follows from a design pressure, relief valves, weaker parts. */
static const char *else_below(still_assembly *a)
{
    uint32_t n = 0, *list = STILL_ARENA_NEW(a->arena, a->notes.n_limits, uint32_t);
    for (uint32_t i = 0; i < a->notes.n_limits && list != NULL; i++)
        if (a->notes.limits[i].what != STILL_LIMIT_RATING) list[n++] = a->notes.limits[i].comp;
    return list == NULL ? NULL : n == 0 ? "" : still_join_ids(a->arena, a->plant, list, n);
}

/* By component: machines that can press fluid to a point from outside, over all that stands open:
 * neither through valves that are shut by hand or other points, nor past vessels. NULL when memory
 * is out */
static const uint8_t *machines_at_points(still_assembly *a)
{
    const still_plant *p = a->plant;
    uint8_t *found = STILL_ARENA_NEW(a->arena, p->n_comps, uint8_t);
    uint8_t *point = STILL_ARENA_NEW(a->arena, p->n_comps, uint8_t);
    uint8_t *seen = STILL_ARENA_NEW(a->arena, p->n_ports, uint8_t);
    uint32_t *queue = STILL_ARENA_NEW(a->arena, p->n_ports, uint32_t), tail = 0;
    if (found == NULL || point == NULL || seen == NULL || queue == NULL) return NULL;
    for (uint32_t i = 0; i < a->iso->points.n; i++) {
        uint32_t port = a->iso->info[i].outer_port;
        point[a->iso->points.items[i]] = 1;
        if (a->iso->info[i].positive || seen[port]) continue;
        seen[port] = 1;
        queue[tail++] = port;
    }
    for (uint32_t head = 0; head < tail; head++) {
        uint32_t port = queue[head], comp = p->ports[port].comp;
        uint32_t across = still_port_across(p, port);
        const still_comp *c = &p->comps[comp];
        bool hand = c->cls == STILL_CLASS_VALVE && still_by_hand(c);
        bool ends = point[comp] || c->cls == STILL_CLASS_VESSEL || c->cls == STILL_CLASS_LIMIT ||
                    still_is_machine(c) ||
                    (hand && still_position_now(p, a->state, comp) == STILL_POSITION_CLOSED);
        if (still_is_machine(c)) found[comp] = 1;
        for (uint32_t k = 0; k <= c->b; k++) {
            uint32_t q = k == c->b ? across : c->a + k;
            if (q == STILL_NONE || seen[q] || (k < c->b && ends)) continue;
            if (k < c->b && c->cls == STILL_CLASS_EXCHANGER &&
                still_port_side(p, q) != still_port_side(p, port))
                continue;
            seen[q] = 1;
            queue[tail++] = q;
        }
    }
    return found;
}

/* N6: what can start a machine that presses on a point, and is left on. */
static void left_on(still_assembly *a, const still_sequence *q, const uint8_t *machine)
{
    uint32_t n = 0, *list = STILL_ARENA_NEW(a->arena, q->n_refs, uint32_t);
    for (uint32_t i = 0; i < q->n_refs && list != NULL; i++)
        if (machine[a->plant->refs[q->ref0 + i]]) list[n++] = a->plant->refs[q->ref0 + i];
    if (list == NULL) a->failed = true;
    if (n == 0) return;
    still_add_assumption(
        a, "N6", still_text(a->plant, q->id),
        SAY("it is left on although it can start or stop %s, which reach%s the boundary from "
            "outside: the points hold against that; what stands behind them comes and goes while "
            "they are proved and opened again. Have it put off where that is not wanted",
            still_join_all(a->arena, a->plant, list, n), n == 1 ? "es" : ""));
}

/* A rating that the file gives, below a code's figure, is a finding; one that only follows from a
 * design pressure is an assumption, as in D7: most valves stand more. */
static void test_pressures(still_assembly *a)
{
    const still_tests *t = &a->record->tests;
    const char *target = a->record->targets.items[0];
    const char *rated = rated_below(a), *others = else_below(a);
    if (rated == NULL || others == NULL) {
        a->failed = true;
        return;
    }
    if (rated[0] != '\0')
        still_add_assumption(
            a, "P6", target,
            SAY("no part is changed, welded or taken to pieces so that it asks for a strength "
                "test: "
                "that is %.4g barg (1.1 x %.4g barg, factor from memory), and it would stand "
                "against points rated below: %s. The leak test stays at or below these. Where a "
                "strength test is needed, part it from the points by blinds",
                t->code_strength_barg, t->design_barg, rated));
    if (others[0] != '\0')
        still_add_assumption(
            a, "P6", target,
            SAY("no strength test is needed here: its %.4g barg would be more than is known to be "
                "allowed for %s (by design pressure, or since a relief valve opens before). The "
                "leak test stays at or below what they allow",
                t->code_strength_barg, others));
    if (isnan(t->design_barg))
        still_add_assumption(a, "P6", target,
                             "the test pressure is taken from elsewhere: its design pressure is "
                             "not in the plant file");
}

static void sequences(still_assembly *a)
{
    const still_record *r = a->record;
    const uint8_t *machine = machines_at_points(a);
    if (machine == NULL) a->failed = true;
    for (uint32_t k = 0; k < a->plant->n_sequences && machine != NULL; k++) {
        const still_sequence *q = &a->plant->sequences[k];
        const char *id = still_text(a->plant, q->id);
        bool put_off = false;
        for (size_t i = 0; i < r->n_steps; i++)
            put_off = put_off || (strcmp(r->steps[i].phase, "shut-down") == 0 &&
                                  strcmp(r->steps[i].id, id) == 0);
        if (!put_off) left_on(a, q, machine);
        if (put_off && still_text(a->plant, q->off_at)[0] == '\0')
            still_add_finding(a, "N6", id, true, true,
                              "it acts on the section or its boundary, and the plant file does not "
                              "say where it is put off: find out, or it is not under control");
    }
}

void still_assemble_work(still_assembly *a)
{
    for (uint32_t i = 0; i < a->iso->inside.n; i++) cold_metal(a, a->iso->inside.items[i]);
    for (size_t i = 0; i < a->rooms.n_rooms; i++) {
        const still_room *room = &a->rooms.rooms[i];
        if (room->n_ids == 0 || (room->open_air && !room->work)) continue;
        dry_ice(a, room);
        oil(a, room);
    }
    against_vacuum(a);
    test_pressures(a);
    sequences(a);
}
