#include "judge.h"

#include "alloc.h"
#include "shutin.h"

#include <string.h>

still_status still_judging_init(still_judging *j, const still_plant *plant,
                                const still_state *state, const still_targets *targets,
                                const uint32_t *kept, size_t n_kept)
{
    *j = (still_judging){.plant = plant, .state = state, .home = state, .targets = targets};
    j->held = still_calloc((size_t)plant->n_comps + 1, 1);
    j->shut = still_calloc((size_t)plant->n_comps + 1, 1);
    still_status status = still_in_service_init(&j->service, plant, state, kept, n_kept);
    return j->held != NULL && j->shut != NULL ? status : STILL_E_NOMEM;
}

void still_judging_clear(still_judging *j)
{
    if (j->has_before) still_relief_clear(&j->before);
    still_in_service_clear(&j->service);
    still_free(j->held);
    still_free(j->shut);
    still_free(j->refused);
    still_free(j->cause);
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

/* Drop the points without which the fault remains: the rest is enough for it, and one of them must
 * go. @param fault  is it there with the points that are marked? */
typedef still_status (*fault_with)(still_judging *j, uint32_t which, bool *there);

static still_status find_culprits(still_judging *j, uint8_t *marks, uint8_t mark,
                                  const uint32_t *points, uint32_t n_points, fault_with fault,
                                  uint32_t which, uint32_t *culprits, uint32_t *n_culprits)
{
    still_status status = STILL_OK;
    for (uint32_t i = 0; i < n_points && status == STILL_OK; i++) {
        bool there = false;
        if (marks[points[i]] == 0) continue;
        marks[points[i]] = 0;
        status = fault(j, which, &there);
        if (status != STILL_OK || there) continue;
        marks[points[i]] = mark;
        culprits[(*n_culprits)++] = i;
    }
    return status;
}

static still_status relief_is_lost(still_judging *j, uint32_t which, bool *there)
{
    uint32_t lost;
    still_status status = first_lost(j, &lost, which);
    *there = lost != STILL_NONE;
    return status;
}

static still_status service_is_lost(still_judging *j, uint32_t which, bool *there)
{
    still_service_loss loss;
    *there = still_service_lost(&j->service, j->shut, NULL, which, &loss);
    return STILL_OK;
}

/* Keep what the first choice that is none takes out of service: it is what people are told. */
static still_status remember(still_judging *j, const still_service_loss *loss,
                             const uint32_t *points, uint32_t n_points, const uint32_t *culprits,
                             uint32_t n_culprits)
{
    if (j->refused != NULL) return STILL_OK;
    j->refused = still_calloc((size_t)n_points + 1, sizeof j->refused[0]);
    j->cause = still_calloc((size_t)n_culprits + 1, sizeof j->cause[0]);
    if (j->refused == NULL || j->cause == NULL) return STILL_E_NOMEM;
    for (uint32_t i = 0; i < n_points; i++) j->refused[j->n_refused++] = points[i];
    for (uint32_t i = 0; i < n_culprits; i++) j->cause[j->n_cause++] = points[culprits[i]];
    j->loss = *loss;
    return STILL_OK;
}

/* Supply of what is kept, and what it delivers to. */
static still_status look_at_service(still_judging *j, const uint32_t *points, uint32_t n_points,
                                    uint32_t *culprits, uint32_t *n_culprits)
{
    still_service_loss loss;
    still_status status = STILL_OK;
    for (uint32_t i = 0; i < n_points; i++) j->shut[points[i]] = 1;
    if (still_service_lost(&j->service, j->shut, NULL, STILL_NONE, &loss)) {
        status = find_culprits(j, j->shut, 1, points, n_points, service_is_lost, loss.kept,
                               culprits, n_culprits);
        if (status == STILL_OK)
            status = remember(j, &loss, points, n_points, culprits, *n_culprits);
    }
    for (uint32_t i = 0; i < n_points; i++) j->shut[points[i]] = 0;
    return status;
}

/* The last relief path of what is kept, else of any. */
static still_status look_at_relief(still_judging *j, const uint32_t *points, uint32_t n_points,
                                   uint32_t *culprits, uint32_t *n_culprits, bool *must)
{
    uint32_t lost = STILL_NONE;
    still_status status = STILL_OK;
    for (uint32_t i = 0; i < n_points; i++)
        if (holds(j, points[i])) j->held[points[i]] = STILL_HELD_CLOSED;
    for (size_t i = 0; i < j->service.n_kept && status == STILL_OK && lost == STILL_NONE; i++)
        status = first_lost(j, &lost, j->service.kept[i]);
    *must = lost != STILL_NONE;
    if (status == STILL_OK && !*must) status = first_lost(j, &lost, STILL_NONE);
    if (status == STILL_OK && lost != STILL_NONE)
        status = find_culprits(j, j->held, STILL_HELD_CLOSED, points, n_points, relief_is_lost,
                               lost, culprits, n_culprits);
    if (status == STILL_OK && *must) {
        const still_service_loss loss = {.kept = lost, .port = STILL_NONE, .end = STILL_NONE};
        status = remember(j, &loss, points, n_points, culprits, *n_culprits);
    }
    for (uint32_t i = 0; i < n_points; i++) j->held[points[i]] = 0;
    return status;
}

still_status still_judging_look(void *arg, const still_zone *zone, const uint8_t *label,
                                const uint32_t *points, uint32_t n_points, uint32_t *culprits,
                                uint32_t *n_culprits, bool *must)
{
    still_judging *j = arg;
    still_status status = STILL_OK;
    (void)zone;
    (void)label;
    *must = false;
    *n_culprits = 0;
    if (j->service.n_kept > 0) {
        status = look_at_service(j, points, n_points, culprits, n_culprits);
        *must = *n_culprits > 0;
        if (status != STILL_OK || *must) return status;
    }
    if (!j->has_before) {
        status = still_relief_build(&j->before, j->plant, j->home, NULL);
        if (status != STILL_OK) {
            still_relief_clear(&j->before);
            return status;
        }
        j->has_before = true;
    }
    return look_at_relief(j, points, n_points, culprits, n_culprits, must);
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
