/* What was found today (state file): each thing by which the plan differs from the plant file is
 * told, since a person has to see that it still holds when the work begins (N2). Positions stand in
 * `start`.
 */
#include "assemble.h"

#include <string.h>

#define SAY(...) still_arena_printf(a->arena, __VA_ARGS__)

static const char *or_unsaid(const still_assembly *a, const char *word)
{
    return still_arena_word(a->arena, word[0] != '\0' ? word : "nothing");
}

/* A vessel found empty is no source any more: the one fact of a state that takes a danger away. */
static void contents_found(still_assembly *a, const still_state_item *at)
{
    unsigned filed = a->plant->comps[at->comp].contents;
    if (at->contents == 0 || at->contents == filed) return;
    const char *id = still_id_of(a->plant, at->comp);
    const char *was = or_unsaid(a, still_word(STILL_VOC_still_contents, filed));
    if (at->contents == STILL_CONTENTS_NONE)
        still_add_assumption(a, "N3", id,
                             SAY("found empty today (the plant file says %s): counts as no source "
                                 "and as holding nothing; see that it is still empty, and can't "
                                 "fill, before the work begins",
                                 was));
    else if (at->contents == STILL_CONTENTS_TWO_PHASE)
        still_add_assumption(a, "N2", id,
                             SAY("found with liquid and vapour today (the plant file says %s): its "
                                 "level today is not known, so it counts as full of liquid",
                                 was));
    else
        still_add_assumption(
            a, "N2", id,
            SAY("found with %s today; the plant file says %s",
                still_arena_word(a->arena, still_word(STILL_VOC_still_contents, at->contents)),
                was));
}

static void condition_found(still_assembly *a, const still_state_item *at)
{
    const char *id = still_id_of(a->plant, at->comp);
    still_condition filed = still_condition_now(a->plant, NULL, at->comp);
    if (at->condition == 0 || (still_condition)at->condition == filed) return;
    for (size_t i = 0; i < a->opts->n_avoid; i++)
        if (strcmp(a->opts->avoid[i], id) == 0) return; /* told as such */
    const char *was =
        still_arena_word(a->arena, still_word(STILL_VOC_still_condition, (unsigned)filed));
    if (at->condition == STILL_CONDITION_SOUND)
        still_add_assumption(a, "D6", id,
                             SAY("found sound today, though the plant file says %s: see who says "
                                 "so, and why",
                                 was));
    else
        still_add_assumption(
            a, "D6", id,
            SAY("found %s today: no point, and not relied on",
                still_arena_word(a->arena, still_word(STILL_VOC_still_condition, at->condition))));
}

/* Without energy today is not locked off: it counts as live all the same. */
static void energy_found(still_assembly *a, const still_state_item *at)
{
    if (at->energised != STILL_YESNO_NO) return;
    still_add_assumption(a, "N5", still_id_of(a->plant, at->comp),
                         "found without energy today: that is no isolation, so it counts as live "
                         "until it is locked off");
}

void still_assemble_state(still_assembly *a)
{
    for (size_t i = 0; a->state != NULL && i < a->state->n; i++) {
        const still_state_item *at = &a->state->items[i];
        contents_found(a, at);
        condition_found(a, at);
        energy_found(a, at);
    }
}
