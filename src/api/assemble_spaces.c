/* Closed-in liquid, compartments and relief paths in the record (L1 to L3, L6 to L8, D4, E1 to E4).
 */
#include "assemble.h"

#include "describe.h"
#include "inventory.h"

#include <math.h>
#include <string.h>

#define SAY(...) still_arena_printf(a->arena, __VA_ARGS__)

static const char *join(still_assembly *a, const uint32_t *comps, uint32_t n)
{
    return still_join_ids(a->arena, a->plant, comps, n);
}

static const char *litres(still_assembly *a, double volume_m3, double mass_kg)
{
    if (isnan(volume_m3)) return "volume unknown";
    if (isnan(mass_kg)) return SAY("%.3g L", volume_m3 * 1000);
    return SAY("%.3g L, %.3g kg", volume_m3 * 1000, mass_kg);
}

/* One sentence on a segment: shut in by what, and what covers it or why nothing does. */
const char *still_segment_text(still_assembly *a, const still_shut_in *s)
{
    const char *by = join(a, s->closed_by, s->n_closed_by);
    const char *size = litres(a, s->volume_m3, s->mass_kg);
    if (by == NULL || size == NULL) return NULL;
    if (s->covered) {
        const char *covers = join(a, s->covered_by, s->n_covered_by);
        const char *held = s->n_conditions > 0 ? join(a, s->conditions, s->n_conditions) : "";
        if (covers == NULL || held == NULL) return NULL;
        return SAY("shut in by %s (%s); covered by %s%s%s%s", by, size, covers,
                   held[0] ? ", as long as " : "", held,
                   s->n_conditions > 1 ? " stand as they do"
                   : held[0]           ? " stands as it does"
                                       : "");
    }
    const char *limit =
        s->ends_at_limit ? "; the drawing ends within it, and what lies beyond is not known" : "";
    if (s->stays_below)
        return SAY("shut in by %s (%s); not full of liquid, and below its design pressure up to "
                   "%.4g degC",
                   by, size, a->ambient_K - STILL_ZERO_DEGC_K);
    if (!s->full)
        return SAY("shut in by %s (%s); not full of liquid, but %s; no relief valve or open outlet "
                   "in reach%s",
                   by, size,
                   s->design_unknown    ? "its design pressure is not in the plant file"
                   : s->warming.unknown ? "whether it stays below its design pressure is not known"
                   : !isnan(s->warming.full_K) ? "warming fills it with liquid"
                                               : "warming brings it to its design pressure",
                   limit);
    if (s->design_unknown)
        return SAY("liquid shut in by %s (%s); a design pressure of its parts is not in the plant "
                   "file, so "
                   "only an open outlet "
                   "would cover it%s",
                   by, size, limit);
    if (s->open_bar < (double)INFINITY)
        return SAY("liquid shut in by %s (%s); the relief valve in reach opens at %.4g barg, above "
                   "its design pressure "
                   "of %.4g barg%s",
                   by, size, s->open_bar, s->design_bar, limit);
    return SAY("liquid shut in by %s (%s); no relief valve or open outlet in reach: warming can "
               "burst it%s",
               by, size, limit);
}

static const char *lowest(const still_strings *ids)
{
    return ids->n > 0 ? ids->items[0] : "";
}

static void judge_segment(still_assembly *a, size_t number, still_closed_in *c)
{
    const still_shut_in *s = &a->shut[number];
    const char *where = s->inside ? "inside" : "outside";
    if (s->covered || s->stays_below) return;
    const char *numbers = "";
    if (s->warming.reaches)
        numbers = SAY(" (%.3g bar/K; design pressure at %.4g degC, %.3g K warmer)",
                      s->warming.bar_per_K, s->warming.reaches_K - STILL_ZERO_DEGC_K,
                      s->warming.reaches_K - s->warming.start_K);
    const char *remedies = still_assemble_remedies(a, number, c);
    if (numbers == NULL || remedies == NULL) {
        a->failed = true;
        return;
    }
    still_add_finding(a, "L6", lowest(&c->ids), true, true,
                      SAY("%s the boundary: %s%s. %s Segment: %s", where, c->why, numbers, remedies,
                          join(a, s->ids, s->n_ids)));
}

/* All of it between first and second devices. */
static bool lies_between(const still_assembly *a, const still_shut_in *s)
{
    for (uint32_t i = 0; i < s->n_ids; i++) {
        const still_comp *c = &a->plant->comps[s->ids[i]];
        uint32_t n = c->cls == STILL_CLASS_SPOOL ? 1 : c->b;
        /* The sides of an exchanger may lie apart: its pipes tell. */
        if (c->cls == STILL_CLASS_EXCHANGER && s->n_ids > 1) continue;
        for (uint32_t k = 0; k < n; k++)
            if (a->iso->work_port[c->a + k]) return false;
    }
    return s->n_ids > 0;
}

bool still_fill_closed_in(still_assembly *a, const still_shut_in *s, still_closed_in *c)
{
    *c = (still_closed_in){.during = ""};
    if (!still_list_ids_sorted(a->arena, a->plant, s->ids, s->n_ids, &c->ids) ||
        !still_list_ids_sorted(a->arena, a->plant, s->closed_by, s->n_closed_by, &c->closed_by) ||
        !still_list_ids_sorted(a->arena, a->plant, s->covered_by, s->n_covered_by,
                               &c->covered_by) ||
        !still_list_ids_sorted(a->arena, a->plant, s->conditions, s->n_conditions, &c->conditions))
        return false;
    c->where = !s->inside ? "outside" : lies_between(a, s) ? "between" : "inside";
    c->state = s->stays_below ? "not-full" : s->covered ? "covered" : "uncovered";
    c->why = still_segment_text(a, s);
    c->volume_m3 = s->volume_m3;
    c->mass_kg = s->mass_kg;
    c->bar_per_K = s->warming.bar_per_K;
    c->reaches_design_at_degC =
        s->warming.reaches ? s->warming.reaches_K - STILL_ZERO_DEGC_K : (double)NAN;
    return c->why != NULL;
}

void still_assemble_closed_in(still_assembly *a)
{
    still_record *r = a->record;
    still_closed_in *list = STILL_ARENA_NEW(a->arena, a->n_shut, still_closed_in);
    if (list == NULL) {
        a->failed = true;
        return;
    }
    for (size_t i = 0; i < a->n_shut && !a->failed; i++) {
        still_closed_in *c = &list[i];
        if (!still_fill_closed_in(a, &a->shut[i], c)) {
            a->failed = true;
            return;
        }
        judge_segment(a, i, c);
    }
    r->closed_in = list;
    r->n_closed_in = a->n_shut;
    still_add_finding(a, "L8", r->targets.items[0], false, false,
                      "relief is looked at for thermal expansion of closed-in fluid only; fire, "
                      "blocked discharge, "
                      "capacity and inlet loss are not checked");
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
        {room->prove.n == 0,
         "no place to prove zero (no bleed to a safe place, flare or scrubber through a valve that "
         "can be held open)"},
        {room->gauge == STILL_NONE,
         "no pressure gauge with a known root valve, so zero can't be seen to be reached"},
        {room->liquid && room->drain.n == 0, "no drain for its liquid"},
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

static void check_room(still_assembly *a, const still_room *room, const char *id)
{
    const char *list = join(a, room->ids, room->n_ids);
    /* Between, what a grade needs is there by the choice itself; nothing is opened there. */
    if (room->open_air || room->between) return;
    missing_outlets(a, room, id, list);
    if (room->liquid && room->drain.n > 0 && !room->drainage_shown)
        still_add_assumption(
            a, "N2", id,
            SAY("%s empties to its drain: elevations are missing, so drainage is not shown", list));
    for (size_t i = 0; i < room->n_puddles; i++) {
        const still_puddle *p = &room->puddles[i];
        still_add_finding(a, "E3", still_id_of(a->plant, p->ids[0]), true, true,
                          SAY("liquid stays behind at %s, below the way to the drain (at most %s)",
                              join(a, p->ids, p->n_ids), litres(a, p->volume_m3, p->mass_kg)));
    }
}

static bool fill_way(still_assembly *a, const still_outway *way, still_strings *out)
{
    return still_list_ids(a->arena, a->plant, way->items, way->n, out);
}

static bool fill_pockets(still_assembly *a, const still_room *room, still_compartment *c)
{
    still_pocket *pockets = STILL_ARENA_NEW(a->arena, room->n_puddles, still_pocket);
    if (pockets == NULL) return false;
    for (size_t i = 0; i < room->n_puddles; i++) {
        const still_puddle *p = &room->puddles[i];
        if (!still_list_ids_sorted(a->arena, a->plant, p->ids, p->n_ids, &pockets[i].ids))
            return false;
        pockets[i].volume_m3 = p->volume_m3;
        pockets[i].mass_kg = p->mass_kg;
    }
    c->pockets = pockets;
    c->n_pockets = room->n_puddles;
    return true;
}

/* Each valve of a double isolation is proved by itself (P4): the outer one by a bleed between. */
static void check_outer(still_assembly *a, const still_room *room)
{
    if (!room->between || room->prove.n > 0) return;
    for (uint32_t i = 0; i < a->iso->points.n; i++) {
        const still_iso_point *p = &a->iso->info[i];
        bool here = false;
        for (uint32_t k = 0; k < room->n_ports; k++) here = here || room->ports[k] == p->inner_port;
        if (p->level != 2 || p->positive || !here) continue;
        still_add_finding(a, "P4", still_id_of(a->plant, p->comp), true, true,
                          "it can't be proved by itself: the space between has no bleed to a safe "
                          "place, flare or scrubber on this side, so what passes it is not seen");
    }
}

void still_assemble_rooms(still_assembly *a)
{
    still_record *r = a->record;
    still_compartment *list = STILL_ARENA_NEW(a->arena, a->rooms.n_rooms, still_compartment);
    if (list == NULL) {
        a->failed = true;
        return;
    }
    for (size_t i = 0; i < a->rooms.n_rooms && !a->failed; i++) {
        const still_room *room = &a->rooms.rooms[i];
        still_compartment *c = &list[i];
        if (!still_list_ids_sorted(a->arena, a->plant, room->ids, room->n_ids, &c->ids) ||
            !fill_way(a, &room->vent, &c->vent) || !fill_way(a, &room->drain, &c->drain) ||
            !fill_way(a, &room->prove, &c->prove) || !fill_pockets(a, room, c)) {
            a->failed = true;
            return;
        }
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
        check_room(a, room, lowest(&c->ids));
        check_outer(a, room);
    }
    r->compartments = list;
    r->n_compartments = a->rooms.n_rooms;
    name_cavities(a);
}
