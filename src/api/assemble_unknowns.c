/* What the plan takes for granted: energies (N5, N6) and unknowns (N2), each for a person to
 * look at. */
#include "assemble.h"

#include "contents.h"
#include "describe.h"

#include <math.h>
#include <string.h>

#define SAY(...) still_arena_printf(a->arena, __VA_ARGS__)

/* A component that moves or turns by a supply. */
static bool needs_feed(const still_comp *c)
{
    if (c->cls == STILL_CLASS_PUMP || c->cls == STILL_CLASS_COMPRESSOR) return true;
    if (c->cls != STILL_CLASS_VALVE) return false;
    if (c->drive == STILL_DRIVE_MOTOR || c->drive == STILL_DRIVE_AIR ||
        c->drive == STILL_DRIVE_HYDRAULIC)
        return true;
    if (c->drive == STILL_DRIVE_HAND || c->drive == STILL_DRIVE_SPRING) return false;
    return c->kind == STILL_KIND_SOLENOID || c->kind == STILL_KIND_CONTROL ||
           c->kind == STILL_KIND_UNKNOWN;
}

static void energies_of(still_assembly *a, uint32_t comp)
{
    const still_comp *c = &a->plant->comps[comp];
    const char *id = still_id_of(a->plant, comp);
    size_t n;
    (void)still_comp_feeds(a->plant, comp, &n);
    if (!needs_feed(c) && n == 0) return;
    if (n == 0) {
        if (still_opened_whole(a->iso->zone.targets, comp))
            still_add_finding(
                a, "N5", id, true, true,
                "it needs a feed, and the plant file gives none: find it, and lock it off");
        else
            still_add_assumption(
                a, "N5", id,
                "nothing feeds it, or what does is off and locked (it needs a feed, and the "
                "plant file gives none)");
    }
    if (n > 0 && c->feeds_complete != STILL_YESNO_YES)
        still_add_assumption(
            a, "N5", id,
            "the feeds in the plant file are all that it has (not said to be complete)");
}

static void plant_sequences(still_assembly *a)
{
    const still_plant *p = a->plant;
    if (p->n_sequences > 0) return;
    for (uint32_t i = 0; i < p->n_comps; i++) {
        if (!needs_feed(&p->comps[i])) continue;
        still_add_assumption(a, "N6", still_text(p, p->id),
                             "no automatic sequence moves fluid to or from the section (the plant "
                             "has driven valves or pumps, "
                             "and its file names no sequence)");
        return;
    }
}

void still_assemble_energies(still_assembly *a)
{
    const still_plant *p = a->plant;
    for (uint32_t i = 0; i < a->iso->inside.n; i++) energies_of(a, a->iso->inside.items[i]);
    for (uint32_t i = 0; i < a->iso->feeds.n; i++) {
        const still_feed *f = &p->feeds[a->iso->feeds.items[i]];
        const char *id = still_text(p, f->id);
        if (f->lockable == STILL_LOCKABLE_ASSUMED)
            still_add_assumption(a, "N5", id,
                                 "its isolator can be locked (the plant file only assumes so)");
        else if (f->lockable != STILL_LOCKABLE_YES)
            still_add_finding(
                a, "N5", id, true, true,
                "its isolator is not said to be lockable: it can be switched on again "
                "while the section is apart");
        if (f->isolator.v == 0)
            still_add_assumption(a, "N5", id,
                                 "it has an isolator of its own (the plant file names none)");
        if (f->stored == STILL_STORED_NOT_SAID || f->stored == STILL_STORED_UNKNOWN)
            still_add_assumption(
                a, "N5", id,
                "stored energy behind it is drained or restrained (unknown counts as stored)");
    }
    for (uint32_t i = 0; i < a->iso->inside.n; i++) {
        const char *side = still_warmer_side_outside(a->arena, a->iso, a->iso->inside.items[i]);
        if (side == NULL) a->failed = true;
        if (side != NULL && side[0] != '\0')
            still_add_assumption(a, "N5", still_id_of(p, a->iso->inside.items[i]),
                                 still_arena_printf(a->arena,
                                                    "its other side (%s), outside the boundary, "
                                                    "does not heat what is shut in until that has "
                                                    "been emptied",
                                                    side));
    }
    if (a->notes.heat_stays)
        still_add_assumption(a, "N5", a->record->targets.items[0],
                             "the cooler side of its exchanger is not shut in while the warmer one "
                             "still heats it: no order of the steps closes the warmer side first");
    plant_sequences(a);
    if (a->notes.receiver == STILL_NONE)
        still_add_assumption(a, "P2", a->record->targets.items[0],
                             "no pump-down is known: no low-pressure vessel that the section "
                             "empties to is in the plant file");
    for (size_t i = 0; i < a->rooms.n_openings; i++)
        if (a->rooms.openings[i].late)
            still_add_assumption(a, "E1", still_id_of(a->plant, a->rooms.openings[i].comp),
                                 "it is opened only when pressure has been let off, since it leads "
                                 "toward an outlet");
    if (a->notes.late_opening)
        still_add_assumption(a, "E1", a->record->targets.items[0],
                             "hand devices inside are opened only after the last point is closed: "
                             "no downstream side could "
                             "wait for them, so both sides equalise late");
}

static void unknown_valve(still_assembly *a, uint32_t comp)
{
    const still_comp *c = &a->plant->comps[comp];
    const char *id = still_id_of(a->plant, comp);
    still_position now = still_position_now(a->plant, a->state, comp);
    if (c->kind == STILL_KIND_UNKNOWN || c->kind == 0)
        still_add_assumption(a, "N2", id,
                             "valve of unknown kind: counts as passing both ways, and as shut when "
                             "the section is emptied");
    else if (c->kind == STILL_KIND_THREE_WAY)
        still_add_assumption(a, "D5", id,
                             "three-way valve: counts as joining all its ports, and as shut when "
                             "the section is emptied");
    else if (still_kind_stops(c->kind) && now == STILL_POSITION_UNKNOWN)
        still_add_assumption(a, "N2", id,
                             "position unknown: counts as open for what can come in, as shut for "
                             "relief; see how it stands");
    still_condition condition = still_condition_now(a->plant, a->state, comp);
    if (condition != STILL_CONDITION_SOUND && still_kind_stops(c->kind))
        still_add_finding(a, "D6", id, true, true,
                          SAY("marked %s: it lies inside the boundary and is not relied on",
                              still_arena_word(a->arena, still_word(STILL_VOC_still_condition,
                                                                    (unsigned)condition))));
}

static void unknown_contents(still_assembly *a, uint32_t comp)
{
    const still_comp *c = &a->plant->comps[comp];
    const char *id = still_id_of(a->plant, comp);
    if (c->cls == STILL_CLASS_SPOOL && c->service == STILL_NONE)
        still_add_assumption(
            a, "N2", id, "service not in the plant file: counts as full of liquid under pressure");
    if (c->cls == STILL_CLASS_SPOOL && c->service != STILL_NONE) {
        uint8_t phase = a->plant->services[c->service].phase;
        if (phase == STILL_PHASE_NOT_SAID || phase == STILL_PHASE_UNKNOWN)
            still_add_assumption(a, "N2", still_text(a->plant, a->plant->services[c->service].id),
                                 "phase not in the plant file: counts as full of liquid");
    }
    if (c->cls == STILL_CLASS_VESSEL &&
        still_contents_now(a->plant, a->state, comp) == STILL_CONTENTS_NOT_SAID)
        still_add_assumption(a, "N2", id,
                             "contents not in the plant file: counts as full of liquid");
    if (c->cls == STILL_CLASS_BLIND &&
        still_position_now(a->plant, a->state, comp) == STILL_POSITION_UNKNOWN)
        still_add_assumption(a, "N2", id,
                             "position unknown: counts as open for what can come in, as fitted "
                             "when the section is emptied");
    for (uint32_t k = 0; c->cls == STILL_CLASS_EXCHANGER && k < c->b; k++) {
        uint32_t side = still_port_side(a->plant, c->a + k);
        if (side == STILL_NONE || !a->iso->work_port[c->a + k]) continue;
        if (a->plant->sides[side].contents == STILL_CONTENTS_NOT_SAID)
            still_add_assumption(
                a, "N2", id,
                SAY("contents of side %s not in the plant file: counts as full of liquid",
                    still_text(a->plant, a->plant->sides[side].id)));
    }
}

static void dangling_ports(still_assembly *a, uint32_t comp)
{
    const still_comp *c = &a->plant->comps[comp];
    for (uint32_t k = 0; k < c->b && c->cls != STILL_CLASS_SPOOL; k++)
        if (still_port_dangles(a->plant, c->a + k))
            still_add_assumption(a, "N2", still_id_of(a->plant, comp),
                                 SAY("port %s is joined to nothing in the plant file: counts as a "
                                     "plant limit under pressure",
                                     still_text(a->plant, still_port_name(a->plant, c->a + k))));
}

void still_note_unknown_beyond(still_assembly *a, uint32_t comp)
{
    const still_comp *c = &a->plant->comps[comp];
    const char *id = still_id_of(a->plant, comp);
    if (c->cls == STILL_CLASS_OUTLET && still_outlet_shared(a->plant, comp) &&
        c->shared != STILL_YESNO_YES)
        still_add_assumption(
            a, "N2", id,
            "outlet not said to be unshared, or where it leads is not said: counts "
            "as shared, under pressure");
    if (c->cls == STILL_CLASS_VALVE && still_kind_stops(c->kind) &&
        c->lockable == STILL_LOCKABLE_NOT_SAID)
        still_add_assumption(a, "N2", id,
                             "not said to be lockable: counts as no isolation point, open");
    dangling_ports(a, comp);
}

/* Has room inside for which a plant file has no volume. */
static bool holds_unsaid(const still_comp *c)
{
    if (c->cls == STILL_CLASS_PUMP || c->cls == STILL_CLASS_COMPRESSOR) return true;
    return c->cls == STILL_CLASS_FITTING &&
           (c->kind == STILL_KIND_STRAINER || c->kind == STILL_KIND_FILTER);
}

/* The mass that the plan states leaves out what such parts hold: so it is said (N2). */
static void unsaid_volumes(still_assembly *a)
{
    uint32_t n = 0, *comps = STILL_ARENA_NEW(a->arena, a->iso->inside.n, uint32_t);
    if (comps == NULL) {
        a->failed = true;
        return;
    }
    for (uint32_t i = 0; i < a->iso->inside.n; i++)
        if (holds_unsaid(&a->plant->comps[a->iso->inside.items[i]]))
            comps[n++] = a->iso->inside.items[i];
    if (n == 0) return;
    const char *ids = still_join_ids(a->arena, a->plant, comps, n);
    still_add_assumption(a, "N2", still_id_of(a->plant, comps[0]),
                         ids == NULL
                             ? NULL
                             : SAY("what %s %s inside is not in the plant file, and not in "
                                   "the mass",
                                   ids, still_arena_word(a->arena, n > 1 ? "hold" : "holds")));
}

void still_assemble_unknowns(still_assembly *a)
{
    unsaid_volumes(a);
    for (uint32_t i = 0; i < a->iso->inside.n; i++) {
        uint32_t comp = a->iso->inside.items[i];
        if (a->plant->comps[comp].cls == STILL_CLASS_VALVE) {
            unknown_valve(a, comp);
            if (!still_opened_whole(a->iso->zone.targets, comp)) still_note_unknown_beyond(a, comp);
        }
        unknown_contents(a, comp);
    }
    for (uint32_t i = 0; i < a->iso->points.n; i++) {
        uint32_t comp = a->iso->points.items[i];
        if (a->plant->comps[comp].cls == STILL_CLASS_VALVE &&
            still_position_now(a->plant, a->state, comp) == STILL_POSITION_UNKNOWN)
            still_add_assumption(a, "N2", still_id_of(a->plant, comp),
                                 "position unknown: see how it stands before you turn it");
    }
    for (uint32_t i = 0; i < a->iso->points.n; i++) dangling_ports(a, a->iso->points.items[i]);
    for (uint32_t i = 0; i < a->iso->n_paths; i++)
        still_note_unknown_beyond(a, a->iso->paths[i].comps.items[0]);
}
