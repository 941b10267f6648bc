/* Compartments in the record: outlets, pockets, quantities, times (E1 to E5, L7, P4). */
#include "assemble.h"

#include "describe.h"

#include <math.h>
#include <string.h>

#define SAY(...) still_arena_printf(a->arena, __VA_ARGS__)

static const char *join(still_assembly *a, const uint32_t *comps, uint32_t n)
{
    return still_join_ids(a->arena, a->plant, comps, n);
}

static const char *lowest(const still_strings *ids)
{
    return ids->n > 0 ? ids->items[0] : "";
}

static const char *id_or_none(const still_assembly *a, uint32_t comp)
{
    return comp == STILL_NONE ? "" : still_id_of(a->plant, comp);
}

/* A trapped body cavity in liquid service (L7). */
static void name_cavities(still_assembly *a)
{
    for (uint32_t i = 0; i < a->iso->points.n; i++) {
        uint32_t comp = a->iso->points.items[i];
        const still_comp *c = &a->plant->comps[comp];
        if (c->cls != STILL_CLASS_VALVE || c->cavity_relieved == STILL_YESNO_YES) continue;
        if (c->kind != STILL_KIND_BALL && c->kind != STILL_KIND_GATE) continue;
        if (c->service != STILL_NONE && a->plant->services[c->service].phase == STILL_PHASE_VAPOUR)
            continue;
        still_add_finding(a, "L7", still_id_of(a->plant, comp), false, false,
                          "its body can hold liquid when shut; the plant file does not say that "
                          "the cavity is relieved");
    }
}

/* All that a compartment lacks in one finding, so that whoever accepts it by name sees the whole
 * (E2). */
static void missing_outlets(still_assembly *a, const still_room *room, const char *id,
                            const char *list)
{
    const char *lacks = "", *gap = "";
    const struct {
        bool missing;
        const char *words;
    } rows[] = {
        {room->vent.n == 0,
         "no place to let the pressure off (no unshared outlet through a hand valve)"},
        {room->vent.n > 0 && room->liquid && room->vent_wet,
         "pressure can only be let off from below the liquid: liquid comes first, and no vapour "
         "leaves from a high point"},
        {room->prove.n == 0,
         "no place to prove zero (no bleed to a safe place, flare or scrubber through a valve that "
         "can be held open)"},
        {room->gauge == STILL_NONE,
         "no pressure gauge with a known root valve, so zero can't be seen to be reached"},
        {room->liquid && room->drain.n == 0, "no drain for its liquid"},
        {room->liquid && room->drain.n > 0 && room->air_in == STILL_NONE && !room->flashes,
         "no air can get in above the drain, so its liquid need not run out (no other outlet that "
         "is shown to take from higher up)"},
    };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0] && lacks != NULL; i++) {
        if (!rows[i].missing) continue;
        lacks = SAY("%s%s%s", lacks, gap, rows[i].words);
        gap = "; ";
    }
    if (lacks == NULL || lacks[0] != '\0')
        still_add_finding(a, "E2", id, true, true,
                          lacks == NULL ? NULL : SAY("%s: %s", list, lacks));
}

static bool fill_way(still_assembly *a, const still_outway *way, still_strings *out)
{
    return still_list_ids(a->arena, a->plant, way->items, way->n, out);
}

/* How a pocket is got out (E3). */
static const char *way_out(still_assembly *a, const still_puddle *p, const still_pocket *pocket)
{
    const char *joint =
        pocket->loosen[0] == '\0'
            ? ""
            : SAY("loosen joint %s last, ready to catch what is left", pocket->loosen);
    const char *before =
        pocket->suction[0] == '\0'
            ? ""
            : SAY("; pump down to %s before the section is closed, and less is left",
                  pocket->suction);
    if (joint == NULL || before == NULL) return NULL;
    if (p->evaporate != STILL_NONE)
        return SAY("let it boil off through %s until the metal there is warm%s%s%s",
                   pocket->evaporate, joint[0] ? ", then " : "", joint, before);
    const char *boils = p->boils ? "it boils and there is no vent for it: " : "";
    if (joint[0] != '\0') return SAY("%s%s%s", boils, joint, before);
    return SAY("%sno flanged joint of it is in the plant file: suck it out, or press it out with "
               "dry nitrogen, by the site's own method%s",
               boils, before);
}

static bool fill_pocket(still_assembly *a, const still_puddle *p, bool stays, still_pocket *out)
{
    const still_plant *plant = a->plant;
    *out =
        (still_pocket){.volume_m3 = p->volume_m3, .mass_kg = p->mass_kg, .lowest_m = p->lowest_m};
    if (!still_list_ids_sorted(a->arena, plant, p->ids, p->n_ids, &out->ids)) return false;
    out->place = still_comp_t(plant, p->lowest, STILL_T_PLACE);
    for (uint32_t i = 0; i < p->n_ids && out->place[0] == '\0'; i++)
        out->place = still_comp_t(plant, p->ids[i], STILL_T_PLACE);
    out->loosen = p->loosen_port == STILL_NONE
                      ? ""
                      : SAY("%s.%s", still_id_of(plant, plant->ports[p->loosen_port].comp),
                            still_text(plant, still_port_name(plant, p->loosen_port)));
    out->evaporate = id_or_none(a, p->evaporate);
    out->suction = p->boils ? id_or_none(a, a->notes.receiver) : "";
    if (out->loosen == NULL) return false;
    out->how =
        stays ? "it stays there, up to the bleed: nothing is opened here" : way_out(a, p, out);
    return out->how != NULL;
}

static bool fill_pockets(still_assembly *a, const still_room *room, still_compartment *c)
{
    still_pocket *pockets = STILL_ARENA_NEW(a->arena, room->n_puddles, still_pocket);
    if (pockets == NULL) return false;
    bool blinds = false;
    for (uint32_t i = 0; i < a->iso->points.n; i++) blinds = blinds || a->iso->info[i].positive;
    bool stays = still_room_keeps_full(room, blinds);
    for (size_t i = 0; i < room->n_puddles; i++)
        if (!fill_pocket(a, &room->puddles[i], stays, &pockets[i])) return false;
    c->pockets = pockets;
    c->n_pockets = room->n_puddles;
    return true;
}

static void name_pocket(still_assembly *a, const still_puddle *p, const still_pocket *out)
{
    const char *list = join(a, p->ids, p->n_ids);
    const char *size = still_assemble_litres(a, p->volume_m3, p->mass_kg);
    const char *place = out->place[0] == '\0' ? "" : SAY(" (%s)", out->place);
    bool failed = list == NULL || size == NULL || place == NULL;
    still_add_finding(a, "E3", still_id_of(a->plant, p->ids[0]), true, true,
                      failed ? NULL
                             : SAY("liquid stays behind at %s%s, below the way to the drain (at "
                                   "most %s): %s",
                                   list, place, size, out->how));
}

static void check_room(still_assembly *a, const still_room *room, const still_compartment *c)
{
    const char *list = join(a, room->ids, room->n_ids), *id = lowest(&c->ids);
    /* Between, what a grade needs is there by the choice itself; nothing is opened there. */
    if (room->open_air || room->between) return;
    missing_outlets(a, room, id, list);
    if (room->liquid && room->drain.n > 0 && !room->drainage_shown)
        still_add_assumption(
            a, "N2", id,
            SAY("%s empties to its drain: heights are missing in the plant file, so it is not "
                "shown what stays behind at %s",
                list, join(a, room->unshown, room->n_unshown)));
    for (size_t i = 0; i < room->n_puddles; i++) name_pocket(a, &room->puddles[i], &c->pockets[i]);
    if (room->n_meet > 0)
        still_add_finding(
            a, "E5", still_id_of(a->plant, room->meet[0]), true, true,
            SAY("%s open parts of one compartment into the same header before its outlet: what one "
                "part holds can blow into the other. Open one at a time, or give each its own "
                "outlet",
                join(a, room->meet, room->n_meet)));
}

/* "40 s", "12 min", "3.5 h": two figures, since it is no better than that. */
static const char *about(still_assembly *a, double s)
{
    double min = s / 60, h = s / 3600, most = 99.5; /* two figures end here */
    if (s < most) return SAY("%.2g s", s);
    if (min < most) return SAY("%.2g min", min);
    return h < most ? SAY("%.2g h", h) : SAY("%.0f h", h);
}

static bool fill_letting(still_assembly *a, const still_let_down *d, still_letting *out)
{
    double s = d->liquid ? d->liquid_s : d->vapour_s;
    const char *what = still_arena_word(a->arena, d->liquid ? "liquid" : "vapour");
    *out = (still_letting){still_id_of(a->plant, d->through), d->bore_mm, d->liquid_s, d->vapour_s,
                           NULL};
    if (d->not_estimated != NULL) {
        out->text = SAY("%s: not estimated, %s", what, d->not_estimated);
        return out->text != NULL;
    }
    if (s <= 0) {
        out->text = SAY("%s: none to let off, by the plant file; watch the gauge", what);
        return out->text != NULL;
    }
    const char *time = about(a, s);
    out->text = time == NULL
                    ? NULL
                    : SAY("%s: %s%s through a bore of %.3g mm. Estimate only; watch the gauge%s",
                          what, d->at_least ? "at least " : "about ", time, d->bore_mm,
                          d->at_least ? ". Boiling liquid goes on making vapour, so it can take "
                                        "much longer"
                                      : "");
    return out->text != NULL;
}

static bool fill_let_down(still_assembly *a, const still_room *room, still_compartment *c)
{
    const still_let_down *both[2] = {&room->by_drain, &room->by_vent};
    still_letting *list = STILL_ARENA_NEW(a->arena, 2, still_letting);
    if (list == NULL) return false;
    for (int i = 0; i < 2; i++)
        if (both[i]->through != STILL_NONE && !fill_letting(a, both[i], &list[c->n_let_down++]))
            return false;
    c->let_down = list;
    return true;
}

static void add_up(still_inventory *sum, const still_inventory *more)
{
    sum->liquid_m3 += more->liquid_m3;
    sum->vapour_m3 += more->vapour_m3;
    sum->liquid_kg += more->liquid_kg;
    sum->vapour_kg += more->vapour_kg;
}

/* Each valve of a double isolation is proved by itself (P4): the outer one by a bleed between. */
static void check_outer(still_assembly *a, const still_room *room)
{
    if (!room->between || room->prove.n > 0) return;
    for (uint32_t i = 0; i < a->iso->points.n; i++) {
        const still_iso_point *p = &a->iso->info[i];
        if (p->level != 2 || p->positive || !still_room_has(room, p->inner_port)) continue;
        still_add_finding(a, "P4", still_id_of(a->plant, p->comp), true, true,
                          "it can't be proved by itself: the space between has no bleed to a safe "
                          "place, flare or scrubber on this side, so what passes it is not seen");
    }
}

static bool fill_further(still_assembly *a, const still_room *room, still_compartment *c)
{
    still_strings *list = STILL_ARENA_NEW(a->arena, room->n_further, still_strings);
    if (list == NULL) return false;
    for (uint32_t i = 0; i < room->n_further; i++)
        if (!fill_way(a, &room->further[i], &list[i])) return false;
    c->further = list;
    c->n_further = room->n_further;
    return true;
}

static bool fill_room(still_assembly *a, const still_room *room, still_compartment *c)
{
    if (!still_list_ids_sorted(a->arena, a->plant, room->ids, room->n_ids, &c->ids) ||
        !still_list_ids_sorted(a->arena, a->plant, room->unshown, room->n_unshown, &c->not_shown) ||
        !fill_way(a, &room->vent, &c->vent) || !fill_way(a, &room->drain, &c->drain) ||
        !fill_way(a, &room->prove, &c->prove) || !fill_further(a, room, c) ||
        !fill_pockets(a, room, c) || !fill_let_down(a, room, c))
        return false;
    /* Without a drain nothing is shown to run out. */
    if (room->liquid && room->drain.n == 0) c->not_shown = c->ids;
    c->where = room->between ? "between" : "inside";
    c->liquid = room->liquid;
    c->gauge = c->gauge_via = "";
    if (room->gauge != STILL_NONE) {
        c->gauge = still_text(a->plant, a->plant->gauges[room->gauge].id);
        c->gauge_via = still_id_of(a->plant, a->plant->gauges[room->gauge].via);
    }
    c->volume_m3 = room->volume_m3;
    c->mass_kg = room->mass_kg;
    c->drainage_shown = room->drainage_shown;
    c->air_in = id_or_none(a, room->air_in);
    c->flashes = room->flashes;
    c->holds = (still_inventory){room->amount.liquid_m3, room->amount.vapour_m3,
                                 room->amount.liquid_kg, room->amount.vapour_kg};
    return true;
}

static void add_flare(const still_assembly *a, const still_outway *way, uint32_t *list, uint32_t *n)
{
    uint32_t outlet = way->n > 0 ? way->items[way->n - 1] : STILL_NONE;
    if (outlet == STILL_NONE || a->plant->comps[outlet].leads_to != STILL_LEADS_FLARE_OR_SCRUBBER)
        return;
    for (uint32_t i = 0; i < *n; i++)
        if (list[i] == outlet) return;
    list[(*n)++] = outlet;
}

/* E5: outlets of several compartments that stand open together to what may be one line. */
static void one_flare(still_assembly *a)
{
    uint32_t n = 0,
             *list = STILL_ARENA_NEW(a->arena, 3 * a->rooms.n_rooms + a->plant->n_comps, uint32_t);
    if (list == NULL) {
        a->failed = true;
        return;
    }
    for (size_t i = 0; i < a->rooms.n_rooms; i++) {
        const still_room *room = &a->rooms.rooms[i];
        /* One that stands open, such as behind a relief valve. */
        for (uint32_t k = 0; k < room->n_ids && still_room_is_open(room); k++) {
            const still_outway way = {.items = &room->ids[k], .n = 1};
            if (a->plant->comps[room->ids[k]].cls == STILL_CLASS_OUTLET)
                add_flare(a, &way, list, &n);
        }
        if (still_room_is_open(room)) continue;
        add_flare(a, &room->vent, list, &n);
        add_flare(a, &room->drain, list, &n);
        add_flare(a, &room->prove, list, &n);
    }
    if (n < 2) return;
    still_add_assumption(
        a, "E5", still_id_of(a->plant, list[0]),
        SAY("%s lead to a flare or scrubber, and may stand open together: that each has a line of "
            "its "
            "own there is not in the plant file. Where they join, what one part lets off blows "
            "into the other, past the points between: open one at a time, or part them",
            still_join_all(a->arena, a->plant, list, n)));
}

void still_assemble_rooms(still_assembly *a)
{
    still_record *r = a->record;
    still_compartment *list = STILL_ARENA_NEW(a->arena, a->rooms.n_rooms, still_compartment);
    if (list == NULL) {
        a->failed = true;
        return;
    }
    r->inventory = (still_inventory){0, 0, 0, 0};
    for (size_t i = 0; i < a->rooms.n_rooms && !a->failed; i++) {
        const still_room *room = &a->rooms.rooms[i];
        if (!fill_room(a, room, &list[i])) {
            a->failed = true;
            return;
        }
        add_up(&r->inventory, &list[i].holds);
        check_room(a, room, &list[i]);
        check_outer(a, room);
    }
    r->compartments = list;
    r->n_compartments = a->rooms.n_rooms;
    one_flare(a);
    name_cavities(a);
}
