/* The isolation points of one target, single grade.
 * Problem, method, argument: docs/METHOD.md, 3. This file drives the parts: explore the zone,
 * choose a cut, spell out what it means for components. */
#include "isolate.h"

#include "alloc.h"

#include <stdlib.h>
#include <string.h>

static bool node_in(const still_choice *c, const still_zone *zone, uint32_t piece)
{
    return piece != STILL_NONE && !zone->pieces[piece].wall && c->in[c->node_of[piece]];
}

/* Keep each component once, in the order of the plant file. */
static bool list_marked(still_isolation *iso, const uint8_t *mark, uint32_t n, still_list *out)
{
    uint32_t count = 0;
    for (uint32_t i = 0; i < n; i++) count += mark[i];
    out->items = STILL_ARENA_NEW(&iso->arena, count, uint32_t);
    if (out->items == NULL) return false;
    out->n = 0;
    for (uint32_t i = 0; i < n; i++)
        if (mark[i]) out->items[out->n++] = i;
    return true;
}

static void sort_comps(const still_plant *plant, still_list *list)
{
    for (uint32_t i = 1; i < list->n; i++) {
        uint32_t item = list->items[i], k = i;
        while (k > 0 &&
               strcmp(still_id_of(plant, list->items[k - 1]), still_id_of(plant, item)) > 0) {
            list->items[k] = list->items[k - 1];
            k--;
        }
        list->items[k] = item;
    }
}

/* Everything on the work side: ports, items, devices with both sides there; mass and sources. */
static still_status take_inside(still_isolation *iso, const still_choice *c)
{
    const still_zone *zone = &iso->zone;
    const still_plant *plant = zone->plant;
    still_status status = STILL_E_NOMEM;
    uint8_t *inside = still_calloc(plant->n_comps, 1), *source = still_calloc(plant->n_comps, 1);
    iso->work_port = still_calloc((size_t)plant->n_ports + 1, 1);
    if (inside == NULL || source == NULL || iso->work_port == NULL) goto out;
    for (uint32_t p = 0; p < zone->n_pieces; p++) {
        const still_piece *piece = &zone->pieces[p];
        if (!node_in(c, zone, p)) continue;
        for (uint32_t i = 0; i < piece->n_ports; i++)
            iso->work_port[zone->ports[piece->port0 + i]] = 1;
        for (uint32_t i = 0; i < piece->n_items; i++) {
            uint32_t comp = zone->items[piece->item0 + i];
            inside[comp] = 1;
            if (comp != zone->target &&
                still_source_of(plant, zone->state, comp) == STILL_SOURCE_TAKEABLE)
                source[comp] = 1;
        }
        iso->grams += piece->grams;
        if (piece->mass_unknown) iso->mass_unknown = true;
    }
    for (size_t d = 0; d < zone->n_devices; d++)
        if (node_in(c, zone, zone->devices[d].piece[0]) &&
            node_in(c, zone, zone->devices[d].piece[1]))
            inside[zone->devices[d].comp] = 1;
    if (list_marked(iso, inside, plant->n_comps, &iso->inside) &&
        list_marked(iso, source, plant->n_comps, &iso->sources)) {
        sort_comps(plant, &iso->sources);
        status = STILL_OK;
    }
out:
    still_free(inside);
    still_free(source);
    return status;
}

static still_status take_points(still_isolation *iso, const still_choice *c)
{
    const still_zone *zone = &iso->zone;
    size_t room = zone->n_devices;
    iso->points.items = STILL_ARENA_NEW(&iso->arena, room, uint32_t);
    iso->unsure.items = STILL_ARENA_NEW(&iso->arena, room, uint32_t);
    iso->inner_port = STILL_ARENA_NEW(&iso->arena, room, uint32_t);
    if (!iso->points.items || !iso->unsure.items || !iso->inner_port) return STILL_E_NOMEM;
    for (size_t d = 0; d < zone->n_devices; d++) {
        const still_device *dev = &zone->devices[d];
        if (dev->piece[0] == STILL_NONE || dev->piece[1] == STILL_NONE) continue;
        bool in0 = node_in(c, zone, dev->piece[0]), in1 = node_in(c, zone, dev->piece[1]);
        if (in0 == in1) continue;
        int live = in0 ? 1 : 0;
        if (!dev->holds[live]) return STILL_E_INTERNAL;
        iso->points.items[iso->points.n++] = dev->comp;
        if (dev->unsure[live]) iso->unsure.items[iso->unsure.n++] = dev->comp;
    }
    sort_comps(zone->plant, &iso->points);
    sort_comps(zone->plant, &iso->unsure);
    for (uint32_t i = 0; i < iso->points.n; i++) {
        const still_device *dev = &zone->devices[zone->device_of[iso->points.items[i]] - 1];
        iso->inner_port[i] = dev->port[node_in(c, zone, dev->piece[0]) ? 0 : 1];
    }
    return STILL_OK;
}

static still_status take_feeds(still_isolation *iso, const still_choice *c)
{
    const still_plant *plant = iso->zone.plant;
    iso->feeds.items = STILL_ARENA_NEW(&iso->arena, c->n_isolators, uint32_t);
    if (iso->feeds.items == NULL) return STILL_E_NOMEM;
    for (size_t k = 0; k < c->n_isolators; k++) {
        if (!c->in[c->sink + 1 + k]) continue;
        uint32_t feed = c->isolators[k], at = iso->feeds.n++;
        const char *id = still_text(plant, plant->feeds[feed].id);
        while (at > 0 &&
               strcmp(still_text(plant, plant->feeds[iso->feeds.items[at - 1]].id), id) > 0) {
            iso->feeds.items[at] = iso->feeds.items[at - 1];
            at--;
        }
        iso->feeds.items[at] = feed;
    }
    /* The cut's value counts them all: a difference means that the ties were settled wrongly. */
    return iso->points.n + (uint64_t)iso->feeds.n == c->flow.value ? STILL_OK : STILL_E_INTERNAL;
}

static still_status find_plan(still_isolation *iso, still_trace *trace)
{
    still_choice choice;
    still_status status = still_choose(&choice, &iso->zone);
    if (status == STILL_OK) status = take_inside(iso, &choice);
    if (status == STILL_OK) status = take_points(iso, &choice);
    if (status == STILL_OK) status = take_feeds(iso, &choice);
    if (status == STILL_OK) status = still_proof_paths(iso, &choice, trace);
    if (status == STILL_OK && iso->n_paths != iso->points.n) status = STILL_E_INTERNAL;
    iso->feasible = status == STILL_OK;
    still_choice_clear(&choice);
    return status;
}

still_status still_isolate(still_isolation **out, const still_plant *plant,
                           const still_state *state, uint32_t target)
{
    still_trace trace = {0};
    still_isolation *iso = still_calloc(1, sizeof *iso);
    if (iso == NULL) return STILL_E_NOMEM;
    still_arena_init(&iso->arena);
    iso->blocker_port = STILL_NONE;
    still_status status = still_zone_build(&iso->zone, plant, state, target);
    if (status != STILL_OK) goto out;
    if (!still_trace_init(&trace, &iso->zone))
        status = STILL_E_NOMEM;
    else
        status = iso->zone.infeasible ? still_find_obstacle(iso, &trace) : find_plan(iso, &trace);
out:
    still_trace_clear(&trace);
    if (status == STILL_OK)
        *out = iso;
    else
        still_isolation_free(iso);
    return status;
}

void still_isolation_free(still_isolation *iso)
{
    if (iso == NULL) return;
    still_arena_clear(&iso->arena);
    still_zone_clear(&iso->zone);
    still_free(iso->work_port);
    still_free(iso);
}
