/* Strength and leak test, vacuum: P6, E7. Sources of the figures: pressures.h. */
#include "steps_script.h"

#include "boiling.h"
#include "describe.h"

#include <math.h>
#include <string.h>

#define SAY(...) still_arena_printf(s->arena, __VA_ARGS__)

/* What each code asks for this design pressure. */
static const char *code_words(still_script *s)
{
    const still_tests *t = &s->record->tests;
    const char *en =
        SAY("EN 378-2: with gas 1.1 x PS = %.4g barg for strength, not above 1.0 x PS = %.4g barg "
            "for tightness; a component by itself, off the plant and full of liquid, 1.43 x PS = "
            "%.4g barg (factors from memory)",
            t->code_strength_barg, t->design_barg, t->hydraulic_barg);
    const char *asme =
        SAY("ASME B31.5: with gas at least 1.1 x design = %.4g barg, at most 130 %% of the lowest "
            "component's = %.4g barg%s, held at least 10 min, then down to %.4g barg for the leak "
            "check (from memory)",
            t->code_strength_barg, t->most_barg,
            t->most_barg < t->code_strength_barg
                ? " (both can't be had on all of it: test the parts by themselves)"
                : "",
            t->design_barg);
    if (en == NULL || asme == NULL) return NULL;
    if (strcmp(t->code, "en-378") == 0) return en;
    if (strcmp(t->code, "asme-b31.5") == 0) return asme;
    return SAY("%s. %s. The site decides which of the two holds", en, asme);
}

/* What the points and the relief valves of the section take of it. */
static const char *limit_words(still_script *s)
{
    const still_tests *t = &s->record->tests;
    if (t->limited_by.n == 0) return "";
    enum { SHOWN = 6 };
    size_t n = t->limited_by.n, shown = n > SHOWN ? SHOWN : n;
    const char *list = t->limited_by.items[0];
    for (size_t i = 1; i < shown && list != NULL; i++)
        list = SAY("%s%s%s", list, i + 1 < n ? ", " : " and ", t->limited_by.items[i]);
    if (list != NULL && shown < n) list = SAY("%s and %zu more", list, n - shown);
    if (list == NULL) return NULL;
    if (isnan(t->strength_barg))
        return SAY(" No figure is given for here: what all of these can take is not known: %s.",
                   list);
    if (!still_refrigerant_inside(s->order->iso) && s->order->site == NULL)
        return SAY(
            " Here never above %.4g barg, by %s (rating of a point, set pressure of a relief "
            "valve, below which the test has to stay, or a lower design pressure). For more, "
            "part it by a blind, take relief valves off and blank their places, or test the "
            "part by itself.",
            t->strength_barg, list);
    return SAY(" Here not above %.4g barg, by %s (rating of a point, set pressure of a relief "
               "valve, below which the test has to stay, or a lower design pressure): that is no "
               "strength test. For one, part it by a blind, take relief valves off and blank their "
               "places, or test the part by itself.",
               t->strength_barg, list);
}

/* "Strength test …": one sentence or more, "" = nothing can be said; NULL when memory ran out. */
static const char *figures(still_script *s)
{
    const still_tests *t = &s->record->tests;
    if (isnan(t->design_barg))
        return " The plant file gives no design pressure for all that lies inside: no figure is "
               "printed; ask.";
    /* EN 378 and ASME B31.5 are codes of refrigerating plant; elsewhere only where the site's file
     * names one. */
    bool named = t->code[0] != '\0';
    const char *limit = limit_words(s);
    const char *code = named || still_refrigerant_inside(s->order->iso)
                           ? code_words(s)
                           : "The code of this piping gives the test pressure (no site file names "
                             "one: ask)";
    if (code == NULL || limit == NULL) return NULL;
    return SAY(
        "%s Design pressure %.4g barg, the highest of what is opened; each side and part is tested "
        "by its own. %s.",
        limit, t->design_barg, code);
}

static const char *leak_pressure(still_script *s)
{
    const still_tests *t = &s->record->tests;
    if (isnan(t->tightness_barg)) return "at a pressure";
    /* At its set pressure a relief valve opens. */
    return SAY("%s %.4g barg",
               t->tightness_barg < t->design_barg ? still_arena_word(s->arena, "below")
                                                  : "at no more than",
               t->tightness_barg);
}

/* E7: metal that was chilled is warm before anything presses on it. */
static void warm_first(still_script *s)
{
    const still_isolation *iso = s->order->iso;
    const still_plant *plant = s->order->plant;
    uint32_t n = 0, *comps = STILL_ARENA_NEW(s->arena, iso->inside.n, uint32_t);
    if (comps == NULL) s->step.failed = true;
    for (uint32_t i = 0; i < iso->inside.n && comps != NULL; i++) {
        still_chill chill;
        if (still_chill_of(&chill, plant, iso->inside.items[i]) && !chill.withstood)
            comps[n++] = iso->inside.items[i];
    }
    if (n == 0) return;
    still_stepper_add(
        &s->step, still_id_of(plant, comps[0]), 0,
        SAY("Let nothing in before the metal of %s has warmed: each above its min-temperature by a "
            "thermometer on the metal; where the plant file gives none, to room temperature.",
            still_join_ids(s->arena, plant, comps, n)),
        "Letting down can chill it below what it withstands; cold steel breaks without a warning "
        "(rule E7).",
        "No frost; the thermometer says so at the lowest and the thickest places.",
        "It is cold: wait. Nothing is re-pressurised.");
}

static void strength_test(still_script *s, const char *joined)
{
    const char *numbers = figures(s);
    still_stepper_add(
        &s->step, "", 0,
        numbers == NULL || joined == NULL
            ? NULL
            : SAY("Strength test, where a part was changed, welded or taken to pieces: "
                  "with dry nitrogen by a regulator with a relief valve behind it, set "
                  "for that pressure; people away, raised in steps.%s%s",
                  numbers, joined),
        "A part that is not strong enough shows now, with nothing dangerous inside.",
        "Pressure holds, nothing gives way.",
        "It falls, or something moves: let it off from afar; the section stays isolated.");
}

/* The way by which test gas, nitrogen or vacuum is joined to a compartment of the work's space;
 * NULL = it has none. */
static const still_outway *joined_by(const still_room *room)
{
    const still_outway *way = room->vent.n > 0 ? &room->vent : &room->drain;
    return room->between || still_room_is_open(room) || way->n == 0 ? NULL : way;
}

const char *still_script_connection(still_script *s)
{
    const still_rooms *rooms = s->order->rooms;
    const char *text = "";
    uint32_t n = 0;
    for (size_t i = 0; i < rooms->n_rooms && text != NULL; i++) {
        const still_outway *way = joined_by(&rooms->rooms[i]);
        if (way == NULL) continue;
        text = SAY("%s%s%s", text, n++ > 0 ? "; " : "", still_script_way_words(s, way));
    }
    if (text == NULL) return NULL;
    if (n == 0)
        return " No outlet of the work's space is in the plant file to connect test gas and vacuum "
               "to: ask.";
    return SAY(
        " Connection: by %s%s, cap off and valves opened for this alone, a person there.", text,
        n > 1
            ? ", each compartment by its own, the others let off and watched; one that gas gets on "
              "into over a check valve together with it, and let off by its own outlet"
            : "");
}

/* A device whose manual opening was used inside, on automatic again: it parts what is tested. */
static bool parts_again(const still_op *op)
{
    return (op->opening || op->behind) && op->override && strcmp(op->home, "open") != 0;
}

/* P6 has overrides back before the test; test gas, vacuum and vapour have to pass them all the
 * same (E1). */
static void open_again(still_script *s)
{
    const still_order *o = s->order;
    for (uint32_t i = 0; i < o->n_ops; i++) {
        const still_op *op = &o->ops[i];
        if (!parts_again(op)) continue;
        const char *id = still_id_of(o->plant, op->comp);
        still_step *step = still_stepper_add(
            &s->step, id, op->tag,
            SAY("Use the manual opening of %s again for the test, a person there: open a little, "
                "wait, then fully; hang tag %u on it again.",
                id, op->tag),
            "Shut, it would part what is tested: one side would stay untested, and full of air.",
            "It stands open, its tag can't be overlooked.",
            "It does not open: test each side of it by a connection of its own.");
        still_script_change(step, "automatic", "open");
    }
}

void still_script_return_opening(still_script *s, const still_op *op)
{
    const char *id = still_id_of(s->order->plant, op->comp);
    const char *to = op->override ? "automatic" : op->home;
    still_step *step = still_stepper_add(
        &s->step, id, op->tag,
        op->override
            ? SAY("Return the manual opening of %s to automatic, check it, and take off tag %u.",
                  id, op->tag)
            : SAY("Return %s to %s and take off tag %u.", id, still_arena_word(s->arena, to),
                  op->tag),
        "Before any feed is opened: a forgotten override lets the feed straight through.",
        op->override
            ? "Its mark or indicator shows how it stands without supply: as before the work."
            : "Stands as it stood before the work.",
        "It does not go back: the section stays isolated.");
    still_script_change(step, "open", to);
}

const char *still_script_outlets(still_script *s)
{
    const still_rooms *rooms = s->order->rooms;
    uint32_t n = 0, *list = STILL_ARENA_NEW(s->arena, rooms->n_rooms, uint32_t);
    if (list == NULL) return NULL;
    for (size_t i = 0; i < rooms->n_rooms; i++) {
        const still_outway *way = joined_by(&rooms->rooms[i]);
        if (way != NULL) list[n++] = way->items[way->n - 1];
    }
    return n == 0 ? "" : still_join_all(s->arena, s->order->plant, list, n);
}

void still_script_connection_off(still_script *s)
{
    const char *outlets = still_script_outlets(s);
    if (outlets == NULL) s->step.failed = true;
    if (outlets == NULL || outlets[0] == '\0') return;
    still_stepper_add(
        &s->step, "", 0,
        SAY("Test gas, vacuum and their hoses off: shut the valves before %s, and cap or plug "
            "each again.",
            outlets),
        "Every way out is shut before anything is let in (rule P6).", "On and tight.",
        "One is missing or does not shut: the section stays isolated.");
}

void still_script_return_again(still_script *s)
{
    const still_order *o = s->order;
    for (uint32_t i = o->n_ops; i-- > 0;) {
        const still_op *op = &o->ops[i];
        if (parts_again(op) || ((op->opening || op->behind) && !op->override))
            still_script_return_opening(s, op);
    }
}

void still_script_test(still_script *s, bool bleeds_between)
{
    const char *pressure = leak_pressure(s), *joined = still_script_connection(s);
    bool blinds = false;
    for (uint32_t i = 0; i < s->order->n_ops; i++) blinds = blinds || s->order->ops[i].late;
    s->step.phase = "leak-test";
    /* Against blinds it was warmed, and proved strong enough, before they came out. */
    if (!blinds) warm_first(s);
    if (!blinds) strength_test(s, joined);
    open_again(s);
    still_stepper_add(
        &s->step, "", 0,
        pressure == NULL || joined == NULL ? NULL
        : bleeds_between
            ? SAY("Leak test with dry nitrogen by a regulator with a relief valve behind it, %s, "
                  "within the rating of every point and as the "
                  "local code and the site ask. The bleeds between stay open: what passes a valve "
                  "toward the plant shows there.%s",
                  pressure, joined)
            : SAY("Leak test with dry nitrogen by a regulator with a relief valve behind it, %s, "
                  "within the rating of every point and as the "
                  "local code and the site ask. The points are not proved against test "
                  "pressure.%s",
                  pressure, joined),
        "A leak shows now, with nothing dangerous inside.",
        "Pressure holds for the time asked, soap shows nothing at the joints (3.4 % of the "
        "absolute pressure comes and goes with 10 K of temperature).",
        "It falls: find and mend the leak; the section stays isolated.");
    still_script_evacuate(s);
}

/* Valves of ways out that lie between the blinds, with what is opened. */
static uint32_t ways_within(const still_script *s, uint32_t **list)
{
    const still_order *o = s->order;
    uint32_t n = 0;
    *list = STILL_ARENA_NEW(s->arena, o->n_ops, uint32_t);
    for (uint32_t i = 0; i < o->n_ops && *list != NULL; i++) {
        const still_op *op = &o->ops[i];
        const still_comp *c = op->comp == STILL_NONE ? NULL : &o->plant->comps[op->comp];
        bool within = false;
        for (uint32_t k = 0; c != NULL && op->outway && k < c->b; k++)
            within = within || o->iso->work_port[c->a + k];
        if (within) (*list)[n++] = op->comp;
    }
    return n;
}

static bool opened_valve(const still_script *s)
{
    const still_targets *targets = s->order->iso->zone.targets;
    for (size_t i = 0; i < targets->n; i++)
        if (s->order->plant->comps[targets->items[i].comp].cls == STILL_CLASS_VALVE) return true;
    return false;
}

void still_script_test_blinds(still_script *s)
{
    const char *numbers = figures(s);
    uint32_t *list, n = ways_within(s, &list);
    const char *shut = list == NULL ? NULL : still_join_all(s->arena, s->order->plant, list, n);
    const char *how =
        shut == NULL ? NULL
        : n == 0
            ? "No outlet in the plant file lies between the blinds: what was opened can be tested "
              "there only by a connection of the site's own (a blank with a valve, of full "
              "rating). Without one nothing is tested here: it is untested until the blinds are "
              "out, and the leak test after that is its first."
            : SAY("Shut %s for the time of the test, the gas joined at an outlet there, and open "
                  "again after it.",
                  shut);
    const char *valve = opened_valve(s)
                            ? " A valve that was opened stands open for it by its stem, or each of "
                              "its sides is tested, and let off, by itself."
                            : "";
    s->step.phase = "leak-test";
    warm_first(s);
    still_stepper_add(
        &s->step, "", 0,
        numbers == NULL || how == NULL
            ? NULL
            : SAY("Where a part was changed, welded or taken to pieces test its strength, and leak "
                  "test what was opened, with dry nitrogen by a regulator with a relief valve "
                  "behind it, against the blinds, within their rating "
                  "and "
                  "as the local code and the site ask; then let the gas off down to zero. %s "
                  "Bleeds on the other side of the blinds stay open.%s%s",
                  how, valve, numbers),
        "The blinds part it from the plant while it is tested; with the bleeds open a valve that "
        "passes shows.",
        "Pressure holds for the time asked; then zero, and nothing comes at a bleed.",
        "It falls: find and mend the leak; the section stays isolated. Something comes: a valve "
        "passes, no blind is touched.");
}

void still_script_evacuate(still_script *s)
{
    const still_tests *t = &s->record->tests;
    const still_site *site = s->order->site;
    bool by_site = site != NULL && !isnan(site->evacuation_Pa);
    const char *level = "";
    if (by_site && site->evacuation_hold[0] != '\0')
        level = SAY(" Down to %.4g Pa absolute, held for %s (site file).", t->evacuation_Pa,
                    site->evacuation_hold);
    else if (by_site)
        level = SAY(" Down to %.4g Pa absolute (site file); how long it is held: ask.",
                    t->evacuation_Pa);
    else if (!isnan(t->evacuation_Pa))
        level = SAY(" The site gives no figure: ask. EN 378 figure for systems charged in the "
                    "field: %.4g Pa absolute or less, held 30 min, from memory, not confirmed.",
                    t->evacuation_Pa);
    s->step.phase = "evacuate";
    if (isnan(t->evacuation_Pa) || !still_refrigerant_inside(s->order->iso)) {
        still_stepper_add(
            &s->step, "", 0,
            "Let the test gas off to slightly above atmosphere. By the same connection purge air "
            "out with dry nitrogen "
            "until the gas test is within the site's limit, where what comes in must not meet air. "
            "Draw no vacuum: vessels and tanks may not stand one.",
            "Air under what burns, and moisture, do harm in the plant.",
            "Gas test within the site's limit; the gauge slightly above atmosphere.",
            "Not within the limit: go on purging.");
        return;
    }
    still_stepper_add(
        &s->step, "", 0,
        level == NULL
            ? NULL
            : SAY("Let the test gas off, then evacuate by the same connection as the site "
                  "asks.%s%s",
                  level,
                  " Where moisture may be inside: three times, with dry nitrogen in between; the "
                  "end pressure lies below water's vapour pressure at the coldest place."),
        "Air and moisture do harm in the plant.", "Vacuum or gas test within the site's limit.",
        "It rises: a leak or moisture. Find it, repeat.");
}
