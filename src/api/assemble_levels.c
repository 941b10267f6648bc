/* Spaces between, the proof in layers, other choices, reasons in the record (I2, I4, I5). */
#include "assemble.h"

#include "describe.h"
#include "plan_order.h"

#include <math.h>
#include <string.h>

#define SAY(...) still_arena_printf(a->arena, __VA_ARGS__)

/* Compartments between that join into one space: what a device or pipe that is no point joins. */
typedef struct spaces {
    still_assembly *a;
    uint32_t *space; /* by piece: 1 + space */
    uint32_t n;
} spaces;

static bool is_between(const still_isolation *iso, uint32_t piece)
{
    const still_piece *p = &iso->zone.pieces[piece];
    return p->n_ports > 0 && iso->between_port[iso->zone.ports[p->port0]];
}

static bool is_point(const still_isolation *iso, uint32_t comp)
{
    for (uint32_t i = 0; i < iso->points.n; i++)
        if (iso->points.items[i] == comp) return true;
    return false;
}

static void fill_space(spaces *s, uint32_t *stack, uint32_t start)
{
    const still_isolation *iso = s->a->iso;
    const still_zone *zone = &iso->zone;
    size_t n = 0;
    s->space[start] = ++s->n;
    stack[n++] = start;
    while (n > 0) {
        uint32_t p = stack[--n];
        for (uint32_t j = 0; j < zone->pieces[p].n_devs; j++) {
            const still_device *d = &zone->devices[zone->piece_devs[zone->pieces[p].dev0 + j]];
            if (is_point(iso, d->comp)) continue;
            for (int k = 0; k < d->n; k++) {
                uint32_t q = d->piece[k];
                if (q == STILL_NONE || s->space[q] != 0 || !is_between(iso, q)) continue;
                s->space[q] = s->n;
                stack[n++] = q;
            }
        }
    }
}

static uint32_t space_of(const spaces *s, uint32_t comp)
{
    const still_zone *zone = &s->a->iso->zone;
    const still_comp *c = &s->a->plant->comps[comp];
    uint32_t n = c->cls == STILL_CLASS_SPOOL ? 1 : c->b;
    for (uint32_t k = 0; k < n; k++) {
        uint32_t piece = zone->piece_of_port[c->a + k];
        if (piece != 0 && s->space[piece - 1] != 0) return s->space[piece - 1];
    }
    return 0;
}

static bool fill_between(const spaces *s, still_between *b, uint32_t number)
{
    still_assembly *a = s->a;
    const still_isolation *iso = a->iso;
    uint32_t *list = STILL_ARENA_NEW(a->arena, iso->between.n, uint32_t);
    still_strings *bleeds = STILL_ARENA_NEW(a->arena, iso->n_bleeds, still_strings);
    uint32_t n = 0;
    if (list == NULL || bleeds == NULL) return false;
    for (uint32_t i = 0; i < iso->between.n; i++)
        if (space_of(s, iso->between.items[i]) == number) list[n++] = iso->between.items[i];
    if (!still_list_ids_sorted(a->arena, a->plant, list, n, &b->ids)) return false;
    for (uint32_t i = 0; i < iso->n_bleeds; i++) {
        const still_iso_bleed *bleed = &iso->bleeds[i];
        if (bleed->label != 1 || bleed->comps.n == 0 ||
            space_of(s, bleed->comps.items[0]) != number)
            continue;
        if (!still_list_ids(a->arena, a->plant, bleed->way.items, bleed->way.n,
                            &bleeds[b->n_bleeds++]))
            return false;
    }
    b->bleeds = bleeds;
    return true;
}

static spaces fill_spaces(still_assembly *a)
{
    const still_zone *zone = &a->iso->zone;
    spaces s = {a, STILL_ARENA_NEW(a->arena, zone->n_pieces, uint32_t), 0};
    uint32_t *stack = STILL_ARENA_NEW(a->arena, zone->n_pieces, uint32_t);
    if (s.space == NULL || stack == NULL) {
        a->failed = true;
        return s;
    }
    for (uint32_t p = 0; p < zone->n_pieces; p++)
        if (s.space[p] == 0 && is_between(a->iso, p)) fill_space(&s, stack, p);
    still_between *list = STILL_ARENA_NEW(a->arena, s.n, still_between);
    if (list == NULL) a->failed = true;
    for (uint32_t i = 0; i < s.n && !a->failed; i++)
        if (!fill_between(&s, &list[i], i + 1)) a->failed = true;
    a->record->between = list;
    a->record->n_between = s.n;
    return s;
}

/* Every compartment on this side of a joint has a bleed. */
static bool side_bled(const spaces *s, uint32_t port)
{
    const still_isolation *iso = s->a->iso;
    uint32_t piece = iso->zone.piece_of_port[port];
    uint32_t number = piece != 0 ? s->space[piece - 1] : 0;
    bool any = false;
    for (uint32_t i = 0; i < iso->n_bleeds; i++) {
        const still_iso_bleed *b = &iso->bleeds[i];
        bool here = number == 0 ? b->label == 0
                                : b->label == 1 && b->comps.n > 0 &&
                                      space_of(s, b->comps.items[0]) == number;
        if (!here) continue;
        if (b->way.n == 0) return false;
        any = true;
    }
    return any;
}

/* Where a blind is fitted, the joint wants a bleed on one of its sides (I2). */
static void bleeds_at_joints(const spaces *s)
{
    still_assembly *a = s->a;
    for (uint32_t i = 0; i < a->iso->points.n; i++) {
        const still_iso_point *p = &a->iso->info[i];
        bool fitted = still_position_now(a->plant, a->state, p->comp) == STILL_POSITION_CLOSED;
        if (!p->positive || (fitted && a->plant->comps[p->comp].cls == STILL_CLASS_BLIND)) continue;
        if (side_bled(s, p->inner_port) || side_bled(s, p->outer_port)) continue;
        still_add_finding(
            a, "I2", still_id_of(a->plant, p->comp), true, true,
            "the space on neither side of the joint is bled in all its parts while the "
            "blank is fitted or the pipe is out: a valve outside that passes would not "
            "show");
    }
}

/* A double block and bleed is three locked devices: two closed, one open (I2, F-OSH-13). */
static void bleeds_locked(still_assembly *a)
{
    for (uint32_t i = 0; i < a->iso->n_bleeds; i++) {
        const still_iso_bleed *bleed = &a->iso->bleeds[i];
        if (!still_bleed_of_station(a->iso, bleed)) continue;
        for (uint32_t k = 0; k < bleed->way.n; k++) {
            const still_comp *c = &a->plant->comps[bleed->way.items[k]];
            const char *id = still_id_of(a->plant, bleed->way.items[k]);
            if (c->cls != STILL_CLASS_VALVE) continue;
            if (!still_bleed_lockable(a->plant, bleed->way.items[k]))
                still_add_finding(
                    a, "I2", id, true, true,
                    "the bleed between two closed devices is held open by a tag only: "
                    "the plant file does not say that it can be locked. See at each "
                    "change of shift that it stands open");
            else if (c->lockable == STILL_LOCKABLE_ASSUMED)
                still_add_assumption(a, "I2", id, "it can be locked open (assumed in the file)");
        }
    }
}

/* The valves next to the work are proved while those further out stand open, or not at all (P4). */
static void inner_unproved(still_assembly *a)
{
    if (a->notes.unproved == NULL) return;
    for (uint32_t i = 0; i < a->iso->points.n; i++) {
        const still_iso_point *p = &a->iso->info[i];
        if (p->level != 1 || p->positive) continue;
        still_add_finding(
            a, "P4", still_id_of(a->plant, p->comp), true, true,
            SAY("it is not proved by itself, with the pressure of the line behind it: "
                "%s. Use the site's own method",
                a->notes.unproved));
    }
}

void still_assemble_levels(still_assembly *a)
{
    still_record *r = a->record;
    const still_isolation *iso = a->iso;
    r->proof.kind = iso->by_search ? "search" : a->layered ? "layered" : "paths";
    r->proof.lower_bound = iso->lower_bound;
    r->proof.nodes = iso->nodes;
    r->proof.complete = iso->complete;
    if (!iso->complete)
        still_add_assumption(
            a, "I5", r->targets.items[0],
            iso->lower_bound > 0
                ? SAY("not proven minimal: the search was given up after %lu cases; no choice with "
                      "fewer than %u points was left out",
                      (unsigned long)iso->nodes, (unsigned)iso->lower_bound)
                : SAY("not proven minimal: the search was given up after %lu cases; a better "
                      "choice, with fewer sources inside or fewer points, may have been left out",
                      (unsigned long)iso->nodes));
    if (iso->complete && !iso->complete_ties)
        still_add_assumption(
            a, "D4", r->targets.items[0],
            "not all choices that are as good were looked at for one that takes no "
            "relief path");
    const spaces s = fill_spaces(a);
    if (!a->failed) bleeds_at_joints(&s);
    if (!a->failed) bleeds_locked(a);
    if (!a->failed) inner_unproved(a);
}

static const char *gains(still_assembly *a, const still_iso_other *o)
{
    const still_isolation *iso = a->iso;
    int points = (int)o->points - (int)(iso->points.n + iso->feeds.n);
    int sources = (int)o->sources - (int)iso->sources.n;
    int equipment = (int)o->equipment - (int)iso->equipment;
    const char *mass =
        o->mass_unknown ? "mass not known" : SAY("encloses %.4g kg", (double)o->grams / 1000);
    if (mass == NULL) return NULL;
    return SAY("%+d points, %+d sources inside, %+d pieces of equipment out of service; %s%s",
               points, sources, equipment, mass,
               o->breach    ? "; takes a last relief path (D4)"
               : !o->judged ? "; its relief paths were not looked at (D4)"
                            : "");
}

void still_assemble_others(still_assembly *a)
{
    const still_isolation *iso = a->iso;
    still_alternative *list = STILL_ARENA_NEW(a->arena, iso->n_others, still_alternative);
    if (list == NULL) {
        a->failed = true;
        return;
    }
    for (uint32_t i = 0; i < iso->n_others; i++) {
        const still_iso_other *o = &iso->others[i];
        list[i] = (still_alternative){.cost_sources = o->sources,
                                      .cost_points = o->points,
                                      .out_of_service = o->equipment,
                                      .cost_mass_kg =
                                          o->mass_unknown ? (double)NAN : (double)o->grams / 1000,
                                      .near = o->near,
                                      .text = gains(a, o)};
        list[i].points = (still_strings){STILL_ARENA_NEW(a->arena, o->points, const char *), 0};
        if (list[i].points.items == NULL || list[i].text == NULL) {
            a->failed = true;
            return;
        }
        for (uint32_t k = 0; k < o->points; k++)
            list[i].points.items[list[i].points.n++] = o->ids[k];
        if (o->near)
            still_add_finding(a, "I4", o->ids[0], true, true,
                              SAY("a near choice, to be taken or declined: %s", list[i].text));
    }
    a->record->alternatives = list;
    a->record->n_alternatives = iso->n_others;
    a->record->alternatives_complete = iso->others_complete;
    a->record->out_of_service = iso->equipment;
}

/* --- why -------------------------------------------------------------------------------------- */

static const char *why_point(still_assembly *a, const still_iso_point *p)
{
    const char *id = still_id_of(a->plant, p->comp);
    if (p->positive)
        return SAY("%s parts the work from what lies outside for good: positive isolation is asked "
                   "here (I2)",
                   id);
    if (p->level == 2)
        return SAY("%s is the second device on its ways: the grade asks for two (I2)", id);
    for (uint32_t i = 0; i < a->iso->n_paths; i++) {
        const still_iso_path *path = &a->iso->paths[i];
        if (path->point != p->comp) continue;
        if (path->feed != STILL_NONE)
            return SAY(
                "%s is closed because it saves more feeds than it costs: %s would come inside", id,
                still_text(a->plant, a->plant->feeds[path->feed].id));
        if (a->layered) break; /* a second one stands on it, too */
        return SAY("%s is the only device of the plan on a way from %s to the work", id,
                   still_id_of(a->plant, path->comps.items[0]));
    }
    return SAY("%s is the first device on its ways (I1)", id);
}

static const char *why_not(still_assembly *a, const still_device *d)
{
    const still_zone *zone = &a->iso->zone;
    const char *id = still_id_of(a->plant, d->comp);
    bool inside = true, outside = true, holds = true;
    for (int k = 0; k < d->n; k++) {
        if (d->piece[k] == STILL_NONE) return NULL;
        uint32_t port = zone->ports[zone->pieces[d->piece[k]].port0];
        bool enclosed = a->iso->work_port[port] || a->iso->between_port[port];
        inside = inside && enclosed;
        outside = outside && !enclosed;
        holds = holds && d->holds[k];
    }
    if (!holds)
        return SAY(
            "%s is rated below what can stand against it on one side (D7), so it can't serve "
            "everywhere",
            id);
    if (inside)
        return SAY("%s lies within what is closed off: closing it would part nothing from a source",
                   id);
    if (outside)
        return SAY("%s lies outside of the points that were taken: it would only be one more", id);
    return NULL;
}

/* Valves and blinds within what is closed off that can't be points at all. */
static size_t explain_inside(still_assembly *a, const still_list *comps, still_remark *list,
                             size_t n)
{
    for (uint32_t i = 0; i < comps->n && !a->failed; i++) {
        uint32_t comp = comps->items[i];
        uint8_t cls = a->plant->comps[comp].cls;
        if (a->iso->zone.device_of[comp] != 0 ||
            (cls != STILL_CLASS_VALVE && cls != STILL_CLASS_BLIND))
            continue;
        const char *text = still_why_no_point(a, comp);
        if (text == NULL) a->failed = true;
        if (text != NULL && text[0] != '\0')
            list[n++] = (still_remark){"D1", still_id_of(a->plant, comp), text};
    }
    return n;
}

void still_assemble_explain(still_assembly *a)
{
    const still_isolation *iso = a->iso;
    const still_zone *zone = &iso->zone;
    still_remark *list = STILL_ARENA_NEW(
        a->arena, iso->points.n + zone->n_devices + iso->inside.n + iso->between.n, still_remark);
    size_t n = 0;
    if (list == NULL) {
        a->failed = true;
        return;
    }
    for (uint32_t i = 0; i < iso->points.n; i++) {
        const char *text = why_point(a, &iso->info[i]);
        if (text == NULL) a->failed = true;
        list[n++] = (still_remark){"I1", still_id_of(a->plant, iso->points.items[i]), text};
    }
    /* Devices that the walk from the work meets; of pipes only those that were taken are told. */
    for (size_t d = 0; d < zone->n_devices && !a->failed; d++) {
        const still_device *dev = &zone->devices[d];
        if (a->plant->comps[dev->comp].cls == STILL_CLASS_SPOOL || is_point(iso, dev->comp))
            continue;
        const char *text = why_not(a, dev);
        if (text != NULL) list[n++] = (still_remark){"I4", still_id_of(a->plant, dev->comp), text};
    }
    n = explain_inside(a, &iso->inside, list, n);
    n = explain_inside(a, &iso->between, list, n);
    a->record->explain = list;
    a->record->n_explain = n;
}
