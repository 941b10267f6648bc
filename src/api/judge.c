#include "judge.h"

#include "alloc.h"
#include "shutin.h"

#include <string.h>

still_status still_judging_init(still_judging *j, const still_plant *plant,
                                const still_state *state, const still_targets *targets)
{
    *j = (still_judging){.plant = plant, .state = state, .targets = targets};
    j->held = still_calloc((size_t)plant->n_comps + 1, 1);
    return j->held != NULL ? STILL_OK : STILL_E_NOMEM;
}

void still_judging_clear(still_judging *j)
{
    if (j->has_before) still_relief_clear(&j->before);
    still_free(j->held);
    *j = (still_judging){0};
}

/* Positive devices that are not fitted stand open as long as there is something to relieve. */
static bool holds(const still_judging *j, uint32_t comp)
{
    uint8_t cls = j->plant->comps[comp].cls;
    if (cls == STILL_CLASS_SPOOL) return false;
    return cls != STILL_CLASS_BLIND ||
           still_position_now(j->plant, j->state, comp) == STILL_POSITION_CLOSED;
}

/* First equipment that loses its relief while these points are closed, or STILL_NONE. */
static still_status first_lost(still_judging *j, uint32_t *lost, uint32_t which)
{
    still_relief after = {0};
    still_arena arena;
    uint32_t *list = NULL;
    size_t n = 0;
    still_arena_init(&arena);
    still_status status = still_relief_build(&after, j->plant, j->state, j->held);
    if (status == STILL_OK) status = still_relief_lost(&list, &n, &arena, &j->before, &after);
    *lost = STILL_NONE;
    for (size_t i = 0; status == STILL_OK && i < n; i++)
        if (which == STILL_NONE || list[i] == which) {
            *lost = list[i];
            break;
        }
    still_relief_clear(&after);
    still_arena_clear(&arena);
    return status;
}

still_status still_judging_look(void *arg, const still_zone *zone, const uint8_t *label,
                                const uint32_t *points, uint32_t n_points, uint32_t *culprits,
                                uint32_t *n_culprits, bool *must)
{
    still_judging *j = arg;
    uint32_t lost, still_lost;
    still_status status = STILL_OK;
    (void)zone;
    (void)label;
    *must = false;
    *n_culprits = 0;
    if (!j->has_before) {
        status = still_relief_build(&j->before, j->plant, j->state, NULL);
        if (status != STILL_OK) {
            still_relief_clear(&j->before);
            return status;
        }
        j->has_before = true;
    }
    for (uint32_t i = 0; i < n_points; i++)
        if (holds(j, points[i])) j->held[points[i]] = STILL_HELD_CLOSED;
    status = first_lost(j, &lost, STILL_NONE);
    /* Points without which it is lost all the same need not go: the rest is enough to take it. */
    for (uint32_t i = 0; i < n_points && status == STILL_OK && lost != STILL_NONE; i++) {
        if (j->held[points[i]] == 0) continue;
        j->held[points[i]] = 0;
        status = first_lost(j, &still_lost, lost);
        if (status == STILL_OK && still_lost == STILL_NONE) {
            j->held[points[i]] = STILL_HELD_CLOSED;
            culprits[(*n_culprits)++] = i;
        }
    }
    for (uint32_t i = 0; i < n_points; i++) j->held[points[i]] = 0;
    return status;
}

static still_status add_rooms(still_rooms *out, still_arena *arena, const still_isolation *iso,
                              const uint8_t *ports, const uint8_t *shut,
                              const still_targets *targets, bool between)
{
    still_rooms more = {0};
    still_status status =
        still_rooms_find(&more, arena, iso->zone.plant, iso->zone.state, ports, shut, targets);
    if (status != STILL_OK) return status;
    still_room *rooms = STILL_ARENA_NEW(arena, out->n_rooms + more.n_rooms, still_room);
    still_opening *openings =
        STILL_ARENA_NEW(arena, out->n_openings + more.n_openings, still_opening);
    if (rooms == NULL || openings == NULL) return STILL_E_NOMEM;
    for (size_t i = 0; i < out->n_rooms; i++) rooms[i] = out->rooms[i];
    for (size_t i = 0; i < more.n_rooms; i++) {
        rooms[out->n_rooms + i] = more.rooms[i];
        rooms[out->n_rooms + i].between = between;
    }
    for (size_t i = 0; i < out->n_openings; i++) openings[i] = out->openings[i];
    for (size_t i = 0; i < more.n_openings; i++) openings[out->n_openings + i] = more.openings[i];
    out->rooms = rooms;
    out->n_rooms += more.n_rooms;
    out->openings = openings;
    out->n_openings += more.n_openings;
    return STILL_OK;
}

static bool positive_at(const still_isolation *iso, uint32_t port)
{
    return iso->zone.pieces[iso->zone.piece_of_port[port] - 1].positive;
}

still_status still_judge_rooms(still_rooms *out, still_arena *arena, const still_isolation *iso)
{
    static const still_targets nothing = {NULL, 0};
    const still_plant *plant = iso->zone.plant;
    *out = (still_rooms){0};
    uint8_t *ports = still_calloc((size_t)plant->n_ports + 1, 1);
    /* Points; positive ones are fitted later, when nothing is left in the section. */
    uint8_t *shut = still_calloc((size_t)plant->n_comps + 1, 1);
    still_status status = ports != NULL && shut != NULL ? STILL_OK : STILL_E_NOMEM;
    if (status != STILL_OK) goto out;
    for (uint32_t i = 0; i < iso->points.n; i++)
        if (!iso->info[i].positive) shut[iso->points.items[i]] = 1;
    for (uint32_t p = 0; p < plant->n_ports; p++)
        ports[p] = iso->work_port[p] || (iso->between_port[p] && positive_at(iso, p));
    status = add_rooms(out, arena, iso, ports, shut, iso->zone.targets, false);
    bool any = false;
    for (uint32_t p = 0; p < plant->n_ports; p++) {
        ports[p] = iso->between_port[p] && !positive_at(iso, p);
        any = any || ports[p];
    }
    if (status == STILL_OK && any) status = add_rooms(out, arena, iso, ports, shut, &nothing, true);
out:
    still_free(ports);
    still_free(shut);
    return status;
}
