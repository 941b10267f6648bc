#include "state.h"

#include "alloc.h"

#include <string.h>

still_state *still_state_new(void)
{
    return still_calloc(1, sizeof(still_state));
}

void still_state_free(still_state *state)
{
    if (state == NULL) return;
    still_free(state->items);
    still_free(state);
}

static size_t place_of(const still_state *state, uint32_t comp)
{
    size_t lo = 0, hi = state->n;
    while (lo < hi) {
        size_t mid = lo + (hi - lo) / 2;
        if (state->items[mid].comp < comp)
            lo = mid + 1;
        else
            hi = mid;
    }
    return lo;
}

still_state_item *still_state_at(still_state *state, uint32_t comp)
{
    size_t i = place_of(state, comp);
    if (i < state->n && state->items[i].comp == comp) return &state->items[i];
    if (!still_grow(&state->items, &state->cap, state->n + 1, sizeof state->items[0])) return NULL;
    memmove(state->items + i + 1, state->items + i, (state->n - i) * sizeof state->items[0]);
    state->n++;
    state->items[i] = (still_state_item){.comp = comp};
    return &state->items[i];
}

still_state *still_state_copy(const still_state *from)
{
    still_state *copy = still_state_new();
    if (copy == NULL || from == NULL) return copy;
    memcpy(copy->digest, from->digest, sizeof copy->digest);
    for (size_t i = 0; i < from->n; i++) {
        still_state_item *at = still_state_at(copy, from->items[i].comp);
        if (at == NULL) {
            still_state_free(copy);
            return NULL;
        }
        *at = from->items[i];
    }
    return copy;
}

static still_state_item today(const still_state *state, uint32_t comp)
{
    if (state != NULL) {
        size_t i = place_of(state, comp);
        if (i < state->n && state->items[i].comp == comp) return state->items[i];
    }
    return (still_state_item){.comp = comp};
}

still_position still_position_now(const still_plant *plant, const still_state *state, uint32_t comp)
{
    unsigned position = today(state, comp).position;
    const still_comp *c = &plant->comps[comp];
    if (position == 0) position = c->position;
    if (position == 0 && c->sealed == STILL_SEALED_OPEN) position = STILL_POSITION_OPEN;
    if (position == 0 && c->sealed == STILL_SEALED_CLOSED) position = STILL_POSITION_CLOSED;
    return position == 0 ? STILL_POSITION_UNKNOWN : (still_position)position;
}

const char *still_way_now(const still_plant *plant, const still_state *state, uint32_t comp)
{
    still_state_item at = today(state, comp);
    if (at.way != 0) return still_way_text(at.way);
    return at.position == 0 ? still_comp_t(plant, comp, STILL_T_POSITION) : "";
}

still_condition still_condition_now(const still_plant *plant, const still_state *state,
                                    uint32_t comp)
{
    unsigned condition = today(state, comp).condition;
    if (condition == 0) condition = plant->comps[comp].condition;
    return condition == 0 ? STILL_CONDITION_SOUND : (still_condition)condition;
}

still_contents still_contents_now(const still_plant *plant, const still_state *state, uint32_t comp)
{
    unsigned contents = today(state, comp).contents, filed = plant->comps[comp].contents;
    if (contents == STILL_CONTENTS_TWO_PHASE && filed != STILL_CONTENTS_TWO_PHASE)
        return STILL_CONTENTS_LIQUID;
    return (still_contents)(contents == 0 ? filed : contents);
}
