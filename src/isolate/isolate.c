/* The isolation points of one piece of work.
 * Problem, method, argument: docs/METHOD.md, 3. This file drives the parts: explore the zone,
 * search the best labelling, spell out what it means for components. */
#include "isolate.h"

#include "alloc.h"
#include "bleed.h"

#include <stdlib.h>
#include <string.h>

uint32_t still_isolator_feed(const still_plant *plant, uint32_t feed)
{
    uint32_t best = feed;
    if (plant->feeds[feed].isolator.v == 0) return feed;
    for (uint32_t i = 0; i < plant->n_feeds; i++) {
        if (plant->feeds[i].isolator.v != plant->feeds[feed].isolator.v) continue;
        if (strcmp(still_text(plant, plant->feeds[i].id),
                   still_text(plant, plant->feeds[best].id)) < 0)
            best = i;
    }
    return best;
}

/* Components with this mark, each once, in the order of the plant file. */
static bool list_marked(still_isolation *iso, const uint8_t *mark, uint8_t which, uint32_t n,
                        still_list *out)
{
    uint32_t count = 0;
    for (uint32_t i = 0; i < n; i++) count += (mark[i] & which) != 0;
    out->items = STILL_ARENA_NEW(&iso->arena, count, uint32_t);
    if (out->items == NULL) return false;
    out->n = 0;
    for (uint32_t i = 0; i < n; i++)
        if ((mark[i] & which) != 0) out->items[out->n++] = i;
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

/* Over a device from a piece: the far sides get their number of points, if it is lower than before.
 * @return entries of the queue */
static size_t step_over(const still_zone *zone, const still_search *s, uint32_t d, uint32_t from,
                        uint8_t *away, uint32_t *queue, size_t n)
{
    const still_device *dev = &zone->devices[d];
    bool point = still_is_point(zone, s->best.label, dev);
    uint8_t joined = dev->n == 3 && s->position[d] > 0 ? dev->joined[s->position[d] - 1] : 0;
    for (int near = 0; near < dev->n; near++) {
        if (dev->piece[near] != from) continue;
        for (int far = 0; far < dev->n; far++) {
            uint32_t q = dev->piece[far];
            if (far == near || q == STILL_NONE || !still_in_play(&zone->pieces[q])) continue;
            bool open = !point || (joined >> near & joined >> far & 1) != 0;
            uint8_t to = (uint8_t)(away[from] + (open ? 0 : 1));
            if (to >= away[q]) continue;
            away[q] = to;
            queue[n++] = q;
        }
    }
    return n;
}

/* Where pieces lie, by piece. */
typedef struct places {
    uint8_t *away;    /* points on the way from the work, at most `outside` */
    uint8_t *further; /* in a space two points away that is held between two points (I2) */
} places;

/* How many points lie on the way to a piece, at most `outside`: the label of METHOD 3. The search
 * may give others to what it parts from a space between: a dead end, the space behind an extra
 * point.
 * @param[out] away  by piece; room for n_pieces */
static still_status count_points(const still_zone *zone, const still_search *s, uint8_t *away)
{
    size_t n = 0, room = 4 * zone->n_piece_devs + zone->n_pieces + 1;
    uint32_t *queue = still_calloc(room, sizeof queue[0]);
    if (queue == NULL) return STILL_E_NOMEM;
    for (uint32_t p = 0; p < zone->n_pieces; p++) {
        const still_piece *piece = &zone->pieces[p];
        away[p] = piece->work ? 0 : piece->positive ? s->best.label[p] : piece->outside;
        if (piece->work) queue[n++] = p;
    }
    /* Steps of 0 and 1, values up to 2: each piece is lowered twice at most. */
    for (size_t i = 0; i < n; i++) {
        const still_piece *piece = &zone->pieces[queue[i]];
        for (uint32_t j = 0; j < piece->n_devs && n + 3 < room; j++)
            n = step_over(zone, s, zone->piece_devs[piece->dev0 + j], queue[i], away, queue, n);
    }
    still_free(queue);
    return STILL_OK;
}

static bool has_behind(const still_zone *zone, const uint8_t *away, uint32_t p)
{
    for (uint32_t j = 0; j < zone->pieces[p].n_devs; j++) {
        const still_device *d = &zone->devices[zone->piece_devs[zone->pieces[p].dev0 + j]];
        for (int k = 0; k < d->n; k++)
            if (d->piece[k] != STILL_NONE && zone->pieces[d->piece[k]].top != UINT8_MAX &&
                away[d->piece[k]] == 2)
                return true;
    }
    return false;
}

/* Where grades are mixed, a dead end behind one point counts as outside: no second one is asked
 * there. */
static still_status drop_dead_ends(const still_zone *zone, const still_search *s, uint8_t *away)
{
    uint8_t *keep = still_calloc(zone->n_pieces + 1, 1);
    uint32_t *queue = still_calloc(zone->n_pieces + 1, sizeof queue[0]);
    size_t n = 0;
    if (keep == NULL || queue == NULL) {
        still_free(keep);
        still_free(queue);
        return STILL_E_NOMEM;
    }
    for (uint32_t p = 0; p < zone->n_pieces; p++)
        if (still_in_play(&zone->pieces[p]) && away[p] == 1 && has_behind(zone, away, p)) {
            keep[p] = 1;
            queue[n++] = p;
        }
    for (size_t i = 0; i < n; i++)
        for (uint32_t j = 0; j < zone->pieces[queue[i]].n_devs; j++) {
            const still_device *d =
                &zone->devices[zone->piece_devs[zone->pieces[queue[i]].dev0 + j]];
            for (int k = 0; k < d->n && !still_is_point(zone, s->best.label, d); k++) {
                uint32_t q = d->piece[k];
                if (q == STILL_NONE || keep[q] || away[q] != 1 || !still_in_play(&zone->pieces[q]))
                    continue;
                keep[q] = 1;
                queue[n++] = q;
            }
        }
    for (uint32_t p = 0; p < zone->n_pieces; p++)
        if (away[p] == 1 && !keep[p] && !zone->pieces[p].work) away[p] = 2;
    still_free(keep);
    still_free(queue);
    return STILL_OK;
}

static bool enclosed(const still_zone *zone, const still_search *s, uint32_t p)
{
    const still_piece *piece = &zone->pieces[p];
    return (piece->work || still_in_play(piece)) && s->best.label[p] < piece->outside;
}

/* Spaces as the points part them; a piece that is not passed is one by itself. */
typedef struct partition {
    const still_zone *zone;
    const still_search *search;
    uint32_t *space; /* by piece: from 1 */
    uint32_t n;
    uint8_t *live;                 /* by space: a source in it stays outside */
    uint32_t *one, *other, *queue; /* by space: two neighbours; by piece */
} partition;

/* Sides of a device that stay joined: all, or those of a three-way point that is set so. */
static bool stay_joined(const partition *t, uint32_t d, int a, int b)
{
    const still_device *dev = &t->zone->devices[d];
    if (!still_is_point(t->zone, t->search->best.label, dev)) return true;
    if (dev->n != 3 || t->search->position[d] == 0) return false;
    uint8_t joined = dev->joined[t->search->position[d] - 1];
    return (joined >> a & joined >> b & 1) != 0;
}

static void fill_space(partition *t, uint32_t first)
{
    const still_zone *zone = t->zone;
    size_t n = 0;
    t->space[first] = ++t->n;
    t->queue[n++] = first;
    for (size_t i = 0; i < n; i++) {
        uint32_t p = t->queue[i];
        const still_piece *piece = &zone->pieces[p];
        bool passed = piece->work || still_in_play(piece);
        if (!passed || piece->blocker != STILL_NONE ||
            (piece->n_sources > 0 && t->search->best.label[p] >= piece->outside))
            t->live[t->n] = 1;
        for (uint32_t j = 0; j < piece->n_devs && passed; j++) {
            uint32_t d = zone->piece_devs[piece->dev0 + j];
            const still_device *dev = &zone->devices[d];
            for (int a = 0; a < dev->n; a++)
                for (int b = 0; b < dev->n && dev->piece[a] == p; b++) {
                    uint32_t q = dev->piece[b];
                    if (q == STILL_NONE || !stay_joined(t, d, a, b)) continue;
                    if (!zone->pieces[q].work && !still_in_play(&zone->pieces[q]))
                        t->live[t->n] = 1; /* a wall may have been met before */
                    if (t->space[q] != 0) continue;
                    t->space[q] = t->n;
                    t->queue[n++] = q;
                }
        }
    }
}

/* All that stays live counts as one neighbour. */
static void neighbour(partition *t, uint32_t space, uint32_t other)
{
    if (t->live[space]) return;
    if (t->live[other]) other = STILL_NONE;
    if (space == other || t->one[space] == other) return;
    if (t->one[space] == 0)
        t->one[space] = other;
    else if (t->other[space] == 0)
        t->other[space] = other;
}

static void find_neighbours(partition *t)
{
    for (uint32_t d = 0; d < t->zone->n_devices; d++) {
        const still_device *dev = &t->zone->devices[d];
        if (!still_is_point(t->zone, t->search->best.label, dev)) continue;
        for (int a = 0; a < dev->n; a++)
            for (int b = 0; b < dev->n; b++)
                if (dev->piece[a] != STILL_NONE && dev->piece[b] != STILL_NONE)
                    neighbour(t, t->space[dev->piece[a]], t->space[dev->piece[b]]);
    }
}

/* Points that keep feeds out may part the work from the space before a first device: of three
 * points in a row the outer two then hold the space that is bled, two points away from the work.
 * Such spaces are held between points, lead on (two neighbours at least), and follow one another
 * from the first between.
 * @param[out] further  by piece: lies in such a space */
static still_status find_further(const still_zone *zone, const still_search *s, const uint8_t *away,
                                 uint8_t *further)
{
    size_t n = zone->n_pieces + 1;
    partition t = {.zone = zone, .search = s};
    still_status status = STILL_E_NOMEM;
    uint8_t *held = still_calloc(n + 1, 1); /* by space: between, or further */
    t.space = still_calloc(n, sizeof t.space[0]);
    t.queue = still_calloc(n, sizeof t.queue[0]);
    t.live = still_calloc(n + 1, 1);
    t.one = still_calloc(n + 1, sizeof t.one[0]);
    t.other = still_calloc(n + 1, sizeof t.other[0]);
    if (!held || !t.space || !t.queue || !t.live || !t.one || !t.other) goto out;
    for (uint32_t p = 0; p < zone->n_pieces; p++)
        if (t.space[p] == 0) fill_space(&t, p);
    find_neighbours(&t);
    for (uint32_t p = 0; p < zone->n_pieces; p++)
        if (away[p] == 1 && enclosed(zone, s, p)) held[t.space[p]] = 1;
    for (bool grown = true; grown;) {
        grown = false;
        for (uint32_t d = 0; d < zone->n_devices; d++) {
            const still_device *dev = &zone->devices[d];
            if (!still_is_point(zone, s->best.label, dev)) continue;
            for (int a = 0; a < dev->n; a++)
                for (int b = 0; b < dev->n; b++) {
                    uint32_t p = dev->piece[a], q = dev->piece[b];
                    if (p == STILL_NONE || q == STILL_NONE || away[q] < 2) continue;
                    uint32_t to = t.space[q];
                    if (!held[t.space[p]] || held[to] || t.live[to] || t.other[to] == 0) continue;
                    held[to] = 1;
                    grown = true;
                }
        }
    }
    for (uint32_t p = 0; p < zone->n_pieces; p++) further[p] = away[p] >= 2 && held[t.space[p]];
    status = STILL_OK;
out:
    still_free(held);
    still_free(t.space);
    still_free(t.queue);
    still_free(t.live);
    still_free(t.one);
    still_free(t.other);
    return status;
}

enum { AT_WORK = 1, BETWEEN = 2 };

/* Where a piece lies: with the work, between, or outside (0). */
static uint8_t place_of(const still_zone *zone, const places *at, uint32_t p)
{
    const still_piece *piece = &zone->pieces[p];
    if (!piece->work && !still_in_play(piece)) return 0;
    if (at->away[p] == 0) return AT_WORK;
    return at->away[p] < piece->outside || at->further[p] ? BETWEEN : 0;
}

/* Everything on the work side and between: ports, items, devices with all sides there. */
static still_status take_inside(still_isolation *iso, const still_search *s, const places *at)
{
    const still_zone *zone = &iso->zone;
    const still_plant *plant = zone->plant;
    still_status status = STILL_E_NOMEM;
    uint8_t *where = still_calloc(plant->n_comps, 1), *source = still_calloc(plant->n_comps, 1);
    iso->work_port = still_calloc((size_t)plant->n_ports + 1, 1);
    iso->between_port = still_calloc((size_t)plant->n_ports + 1, 1);
    if (!where || !source || !iso->work_port || !iso->between_port) goto out;
    for (uint32_t p = 0; p < zone->n_pieces; p++) {
        const still_piece *piece = &zone->pieces[p];
        uint8_t place = place_of(zone, at, p);
        bool held = enclosed(zone, s, p);
        for (uint32_t i = 0; i < piece->n_items && held; i++) {
            uint32_t comp = zone->items[piece->item0 + i];
            if (still_zone_source(zone, comp) == STILL_SOURCE_TAKEABLE) source[comp] = 1;
        }
        if (place == 0) continue;
        uint8_t *ports = place == AT_WORK ? iso->work_port : iso->between_port;
        for (uint32_t i = 0; i < piece->n_ports; i++) ports[zone->ports[piece->port0 + i]] = 1;
        for (uint32_t i = 0; i < piece->n_items; i++) {
            uint32_t comp = zone->items[piece->item0 + i];
            where[comp] |= place; /* the sides of an exchanger may lie in both */
        }
    }
    for (size_t d = 0; d < zone->n_devices; d++) {
        const still_device *dev = &zone->devices[d];
        if (dev->piece[0] == STILL_NONE || still_is_point(zone, s->best.label, dev)) continue;
        uint8_t place = place_of(zone, at, dev->piece[0]);
        if (place != 0) where[dev->comp] = place;
    }
    if (list_marked(iso, where, AT_WORK, plant->n_comps, &iso->inside) &&
        list_marked(iso, where, BETWEEN, plant->n_comps, &iso->between) &&
        list_marked(iso, source, 1, plant->n_comps, &iso->sources)) {
        sort_comps(plant, &iso->sources);
        status = STILL_OK;
    }
out:
    still_free(where);
    still_free(source);
    return status;
}

/* Nearer to the work: fewer points on the way, else the lower label of the search. */
static bool nearer(const still_search *s, const uint8_t *away, uint32_t p, uint32_t q)
{
    return away[p] != away[q] ? away[p] < away[q] : s->best.label[p] < s->best.label[q];
}

static still_iso_point describe_point(const still_zone *zone, const still_search *s, uint32_t d,
                                      const places *at)
{
    const uint8_t *away = at->away;
    const still_device *dev = &zone->devices[d];
    still_iso_point p = {.comp = dev->comp};
    int inner = 0, outer = 0;
    for (int k = 1; k < dev->n; k++) {
        if (nearer(s, away, dev->piece[k], dev->piece[inner])) inner = k;
        if (nearer(s, away, dev->piece[outer], dev->piece[k])) outer = k;
    }
    if (inner == outer) outer = inner == 0 ? 1 : 0;
    for (int k = 0; k < dev->n; k++)
        if (k != inner && dev->unsure[k]) p.unsure = true;
    const still_piece *region = &zone->pieces[dev->piece[outer]];
    p.level = away[dev->piece[inner]] == 0 ? 1 : 2;
    p.positive = region->positive && p.level == 1;
    p.inner_port = dev->port[inner];
    p.outer_port = dev->port[outer];
    p.live = away[dev->piece[outer]] >= region->outside && !at->further[dev->piece[outer]];
    if (dev->n == 3 && s->position[d] > 0) p.joined = dev->joined[s->position[d] - 1];
    return p;
}

static still_status take_points(still_isolation *iso, const still_search *s, const places *at)
{
    const still_zone *zone = &iso->zone;
    size_t room = zone->n_devices;
    iso->points.items = STILL_ARENA_NEW(&iso->arena, room, uint32_t);
    iso->unsure.items = STILL_ARENA_NEW(&iso->arena, room, uint32_t);
    iso->inner_port = STILL_ARENA_NEW(&iso->arena, room, uint32_t);
    iso->info = STILL_ARENA_NEW(&iso->arena, room, still_iso_point);
    if (!iso->points.items || !iso->unsure.items || !iso->inner_port || !iso->info)
        return STILL_E_NOMEM;
    for (size_t d = 0; d < zone->n_devices; d++)
        if (still_is_point(zone, s->best.label, &zone->devices[d]))
            iso->points.items[iso->points.n++] = zone->devices[d].comp;
    sort_comps(zone->plant, &iso->points);
    for (uint32_t i = 0; i < iso->points.n; i++) {
        iso->info[i] = describe_point(zone, s, zone->device_of[iso->points.items[i]] - 1, at);
        iso->inner_port[i] = iso->info[i].inner_port;
        if (iso->info[i].unsure) iso->unsure.items[iso->unsure.n++] = iso->points.items[i];
    }
    return STILL_OK;
}

static still_status take_feeds(still_isolation *iso, const still_layers *l, const still_search *s)
{
    const still_plant *plant = iso->zone.plant;
    iso->feeds.items = STILL_ARENA_NEW(&iso->arena, s->best.n_lock, uint32_t);
    if (iso->feeds.items == NULL) return STILL_E_NOMEM;
    for (uint32_t k = 0; k < s->best.n_lock; k++) {
        uint32_t feed = l->isolators[s->best.lock[k]], at = iso->feeds.n++;
        const char *id = still_text(plant, plant->feeds[feed].id);
        while (at > 0 &&
               strcmp(still_text(plant, plant->feeds[iso->feeds.items[at - 1]].id), id) > 0) {
            iso->feeds.items[at] = iso->feeds.items[at - 1];
            at--;
        }
        iso->feeds.items[at] = feed;
    }
    return iso->points.n + iso->feeds.n == s->best.n_ids ? STILL_OK : STILL_E_INTERNAL;
}

/* --- compartments that must be bled, with their ways -------------------------------------------
 */

typedef struct telling {
    still_isolation *iso;
    const still_search *search;
    uint8_t label;
    uint8_t *seen; /* by component */
    uint32_t cap;
} telling;

static bool tell(void *arg, const uint32_t *ports, size_t n_ports, const uint32_t *way,
                 size_t n_way)
{
    telling *t = arg;
    still_isolation *iso = t->iso;
    const still_plant *plant = iso->zone.plant;
    if (iso->n_bleeds == t->cap) return false;
    still_iso_bleed *b = &iso->bleeds[iso->n_bleeds++];
    *b = (still_iso_bleed){.label = t->label};
    b->comps.items = STILL_ARENA_NEW(&iso->arena, 2 * n_ports, uint32_t);
    b->way.items = STILL_ARENA_NEW(&iso->arena, n_way, uint32_t);
    if (b->comps.items == NULL || b->way.items == NULL) return false;
    for (size_t i = 0; i < n_ports; i++) {
        uint32_t both[2] = {plant->ports[ports[i]].comp, plant->ports[ports[i]].spool};
        for (int e = 0; e < 2; e++) {
            if (both[e] == STILL_NONE || t->seen[both[e]]) continue;
            uint32_t d = iso->zone.device_of[both[e]];
            if (d != 0 &&
                still_is_point(&iso->zone, t->search->best.label, &iso->zone.devices[d - 1]))
                continue;
            t->seen[both[e]] = 1;
            b->comps.items[b->comps.n++] = both[e];
        }
    }
    for (uint32_t i = 0; i < b->comps.n; i++) t->seen[b->comps.items[i]] = 0;
    for (size_t i = 0; i < n_way; i++) b->way.items[b->way.n++] = way[i];
    return true;
}

static still_status take_bleeds(still_isolation *iso, const still_layers *l, const still_search *s)
{
    still_bleeds bleeds;
    telling t = {iso, s, 0, still_calloc(iso->zone.plant->n_comps + 1, 1),
                 (uint32_t)iso->zone.n_ports + 1};
    still_status status = still_bleeds_init(&bleeds, l);
    iso->bleeds = STILL_ARENA_NEW(&iso->arena, t.cap, still_iso_bleed);
    uint8_t *locked = still_calloc(l->n_isolators + 1, 1);
    if (t.seen == NULL || iso->bleeds == NULL || locked == NULL) status = STILL_E_NOMEM;
    for (uint32_t k = 0; status == STILL_OK && k < s->best.n_lock; k++) locked[s->best.lock[k]] = 1;
    for (t.label = 0; t.label < 2 && status == STILL_OK; t.label++) {
        const still_asked *asks = iso->zone.asked;
        bool asked = t.label == 0 ? asks->bleed_work : asks->bleed_between;
        /* Where a blind is fitted, a bleed beside it is looked for, too. */
        bleeds.everywhere = asks->grade == STILL_GRADE_POSITIVE;
        if (!asked && !bleeds.everywhere) continue;
        status = still_bleeds_check(&bleeds, s->best.label, t.label, locked, tell, &t);
        if (status == STILL_OK && bleeds.gap && !bleeds.everywhere) status = STILL_E_INTERNAL;
    }
    still_bleeds_clear(&bleeds);
    still_free(t.seen);
    still_free(locked);
    return status;
}

static void clear_places(places *at)
{
    still_free(at->away);
    still_free(at->further);
}

/* Where each piece lies. @param[out] at  to be cleared whatever comes back */
static still_status find_places(const still_zone *zone, const still_search *s, places *at)
{
    *at = (places){still_calloc(zone->n_pieces + 1, 1), still_calloc(zone->n_pieces + 1, 1)};
    still_status status = STILL_E_NOMEM;
    if (at->away != NULL && at->further != NULL) status = count_points(zone, s, at->away);
    if (status == STILL_OK && zone->asked->by_port != NULL)
        status = drop_dead_ends(zone, s, at->away);
    if (status == STILL_OK && zone->asked->bleed_between)
        status = find_further(zone, s, at->away, at->further);
    return status;
}

static still_enclosure sum_enclosed(const still_zone *zone, const still_search *s, const places *at)
{
    still_enclosure sum = {0};
    for (uint32_t p = 0; p < zone->n_pieces; p++) {
        if (!enclosed(zone, s, p) && place_of(zone, at, p) == 0) continue;
        sum.grams += zone->pieces[p].grams;
        sum.mass_unknown = sum.mass_unknown || zone->pieces[p].mass_unknown;
        sum.equipment += zone->pieces[p].n_equipment;
    }
    return sum;
}

still_status still_enclosed(const still_zone *zone, const still_search *s, still_enclosure *out)
{
    places at;
    still_status status = find_places(zone, s, &at);
    *out = (still_enclosure){0};
    if (status == STILL_OK) *out = sum_enclosed(zone, s, &at);
    clear_places(&at);
    return status;
}

static still_status spell_out(still_isolation *iso, const still_layers *l, const still_search *s)
{
    still_trace trace = {0};
    iso->feasible = true;
    iso->breach = s->breach;
    iso->lower_bound = (uint32_t)s->lower_bound;
    iso->nodes = s->nodes;
    iso->complete = s->complete;
    iso->complete_ties = s->complete_ties;
    places at;
    still_status status = find_places(&iso->zone, s, &at);
    if (status == STILL_OK) {
        still_enclosure enclosure = sum_enclosed(&iso->zone, s, &at);
        iso->equipment = enclosure.equipment;
        iso->grams = enclosure.grams;
        iso->mass_unknown = enclosure.mass_unknown;
        status = take_inside(iso, s, &at);
    }
    if (status == STILL_OK) status = take_points(iso, s, &at);
    clear_places(&at);
    if (status == STILL_OK) status = take_feeds(iso, l, s);
    if (status == STILL_OK) status = take_bleeds(iso, l, s);
    if (status == STILL_OK && !still_trace_init(&trace, &iso->zone)) status = STILL_E_NOMEM;
    if (status == STILL_OK) status = still_proof_paths(iso, l, s, &trace);
    still_trace_clear(&trace);
    return status;
}

/* One zone: search it. @param[out] found  a plan, or sources that can't be kept out */
static still_status attempt(still_isolation *iso, const still_judge *judge, bool *found)
{
    still_layers layers = {0};
    still_search search = {0};
    still_trace trace = {0};
    still_status status = STILL_OK;
    *found = false;
    if (iso->zone.infeasible) {
        *found = true;
        status =
            still_trace_init(&trace, &iso->zone) ? still_find_obstacle(iso, &trace) : STILL_E_NOMEM;
        still_trace_clear(&trace);
        return status;
    }
    status = still_layers_build(&layers, &iso->zone);
    if (status == STILL_OK) status = still_search_run(&search, &layers, judge);
    /* Without bleeds, closing everything is a labelling: anything else is a bug. */
    if (status == STILL_OK && !search.root_feasible) status = STILL_E_INTERNAL;
    if (status == STILL_OK && search.feasible) {
        *found = true;
        status = spell_out(iso, &layers, &search);
    }
    iso->nodes = search.nodes;
    iso->complete = search.complete;
    iso->judged_out = !*found && search.judged_out;
    still_search_clear(&search);
    still_layers_clear(&layers);
    return status;
}

still_status still_isolate(still_isolation **out, const still_plant *plant,
                           const still_state *state, const still_targets *targets,
                           const still_asked *asked, const still_judge *judge)
{
    still_isolation *iso = still_calloc(1, sizeof *iso);
    if (iso == NULL) return STILL_E_NOMEM;
    still_arena_init(&iso->arena);
    iso->grade = asked->grade;
    iso->blocker_port = STILL_NONE;
    bool found = false;
    /* Sources that may stay outside are walls first. Only where no choice so can be bled, some of
     * them may come inside, at their price. */
    still_status status = still_zone_build(&iso->zone, plant, state, targets, asked, false);
    if (status == STILL_OK) status = attempt(iso, judge, &found);
    if (status == STILL_OK && !found) {
        still_zone_clear(&iso->zone);
        status = still_zone_build(&iso->zone, plant, state, targets, asked, true);
        if (status == STILL_OK) status = attempt(iso, judge, &found);
    }
    if (status == STILL_OK && !found && !iso->judged_out) status = still_find_bleed_help(iso);
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
    still_free(iso->between_port);
    still_free(iso);
}
