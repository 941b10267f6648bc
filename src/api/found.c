/* What was found today, in the words of the state file. */
#include "found.h"

#include <string.h>

still_status still_found_list(const still_found **out, size_t *n, still_arena *arena,
                              const still_plant *plant, const still_state *state)
{
    size_t found = state != NULL ? state->n : 0;
    still_found *list = STILL_ARENA_NEW(arena, found, still_found);
    if (list == NULL) return STILL_E_NOMEM;
    for (size_t i = 0; i < found; i++) {
        const still_state_item *at = &state->items[i];
        list[i] = (still_found){still_id_of(plant, at->comp),
                                at->way != 0 ? still_way_text(at->way)
                                             : still_word(STILL_VOC_still_position, at->position),
                                still_word(STILL_VOC_still_condition, at->condition),
                                still_word(STILL_VOC_still_contents, at->contents),
                                still_word(STILL_VOC_still_yesno, at->energised)};
    }
    *out = list;
    *n = found;
    return STILL_OK;
}

still_status still_found_cover(still_coverage_record *r, still_arena *arena,
                               const still_plant *plant, const still_state *state)
{
    r->state_digest = still_arena_str(arena, state != NULL ? state->digest : "");
    still_status status = still_found_list(&r->found, &r->n_found, arena, plant, state);
    if (r->state_digest == NULL) status = STILL_E_NOMEM;
    if (status != STILL_OK || state == NULL) return status;
    const char **texts = STILL_ARENA_NEW(arena, r->notes.n + 1, const char *);
    if (texts == NULL) return STILL_E_NOMEM;
    memcpy(texts, r->notes.items, r->notes.n * sizeof texts[0]);
    texts[r->notes.n++] =
        "[N2] As found on one day, by the state file: what it says of positions, conditions and "
        "contents holds for that day only. What was found open need not be open another day. "
        "Where an older revision is compared, that one is taken as in its file: a difference may "
        "come from the state.";
    r->notes.items = texts;
    return STILL_OK;
}
