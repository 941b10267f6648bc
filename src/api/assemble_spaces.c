/* Closed-in liquid and relief paths in the record (L1 to L3, L6 to L8, D4). */
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

const char *still_assemble_litres(still_assembly *a, double volume_m3, double mass_kg)
{
    if (isnan(volume_m3)) return "volume unknown";
    if (isnan(mass_kg)) return SAY("%.3g L", volume_m3 * 1000);
    return SAY("%.3g L, %.3g kg", volume_m3 * 1000, mass_kg);
}

/* One sentence on a segment: shut in by what, and what covers it or why nothing does. */
const char *still_segment_text(still_assembly *a, const still_shut_in *s)
{
    const char *by = join(a, s->closed_by, s->n_closed_by);
    const char *size = still_assemble_litres(a, s->volume_m3, s->mass_kg);
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
    const char *where = still_arena_word(a->arena, s->inside ? "inside" : "outside");
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

/* Close together at the start, where liquid without cover is steep. */
static bool fill_curve(still_assembly *a, const still_shut_in *s, still_closed_in *c)
{
    enum { POINTS = 48 };
    const still_warming *m = &s->warming;
    const still_wall rigid = STILL_WALL_RIGID;
    bool liquid = m->basis == STILL_WARMING_EQUATION || m->basis == STILL_WARMING_CONSTANTS;
    if (!a->opts->curves || !liquid || s->covered || s->stays_below) return true;
    still_closed_in_point *list = STILL_ARENA_NEW(a->arena, POINTS + 1, still_closed_in_point);
    if (list == NULL) return false;
    double way = fmax(0.0, a->ambient_K - m->start_K);
    for (size_t i = 0; i <= POINTS; i++) {
        double part = (double)i / POINTS, T = m->start_K + way * part * part;
        double no_wall = (double)NAN, wall = (double)NAN;
        if (still_closedin_pressure(&no_wall, NULL, &m->start, &rigid, T) != STILL_EOS_OK)
            no_wall = (double)NAN;
        if (still_closedin_pressure(&wall, NULL, &m->start, &m->wall, T) != STILL_EOS_OK)
            wall = (double)NAN;
        list[i] = (still_closed_in_point){T - STILL_ZERO_DEGC_K, no_wall, wall};
    }
    c->curve = list;
    c->n_curve = POINTS + 1;
    return true;
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
    c->design_barg = s->design_unknown ? (double)NAN : s->design_bar;
    return c->why != NULL && fill_curve(a, s, c);
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
