/* The zone around the work.
 * Problem: a plant may have half a million components; an isolation concerns a few dozen.
 * Method: flood fill piece by piece from the target. A piece that holds a source which must stay
 * outside is a wall: it is filled whole (its design pressure is needed, D7) but not passed.
 * Why it is right: docs/METHOD.md, 3.1 and 3.3.
 * Cost: linear in what is reached; the arrays by port and component are taken zeroed and touched
 * only where the fill goes. */
#include "zone.h"

#include "alloc.h"
#include "inventory.h"

#include <string.h>

bool still_closable(const still_plant *plant, const still_state *state, uint32_t target,
                    uint32_t comp)
{
    const still_comp *c = &plant->comps[comp];
    if (comp == target) return false;
    if (c->cls == STILL_CLASS_BLIND)
        return still_position_now(plant, state, comp) == STILL_POSITION_CLOSED;
    if (c->cls != STILL_CLASS_VALVE || !still_kind_stops(c->kind)) return false;
    if (!still_by_hand(c)) return false;
    if (c->lockable != STILL_LOCKABLE_YES && c->lockable != STILL_LOCKABLE_ASSUMED) return false;
    return still_condition_now(plant, state, comp) == STILL_CONDITION_SOUND;
}

bool still_outlet_shared(const still_plant *plant, uint32_t comp)
{
    const still_comp *c = &plant->comps[comp];
    return c->shared != STILL_YESNO_NO || c->leads_to == STILL_LEADS_NOT_SAID;
}

bool still_port_dangles(const still_plant *plant, uint32_t port)
{
    return plant->ports[port].spool == STILL_NONE &&
           plant->comps[plant->ports[port].comp].cls != STILL_CLASS_CAP;
}

static bool feeds_can_be_locked(const still_plant *plant, uint32_t comp)
{
    size_t n;
    const still_comp_feed *feeds = still_comp_feeds(plant, comp, &n);
    for (size_t i = 0; i < n; i++) {
        uint8_t lockable = plant->feeds[feeds[i].feed].lockable;
        if (lockable != STILL_LOCKABLE_YES && lockable != STILL_LOCKABLE_ASSUMED) return false;
    }
    return n > 0;
}

still_source_class still_source_of(const still_plant *plant, const still_state *state,
                                   uint32_t comp)
{
    const still_comp *c = &plant->comps[comp];
    switch ((still_class)c->cls) {
    case STILL_CLASS_VESSEL:
        return still_contents_now(plant, state, comp) == STILL_CONTENTS_NONE
                   ? STILL_SOURCE_NONE
                   : STILL_SOURCE_TAKEABLE;
    case STILL_CLASS_PUMP:
    case STILL_CLASS_COMPRESSOR:
        return feeds_can_be_locked(plant, comp) ? STILL_SOURCE_TAKEABLE : STILL_SOURCE_FIXED;
    case STILL_CLASS_LIMIT:
        return c->dead == STILL_YESNO_YES ? STILL_SOURCE_NONE : STILL_SOURCE_FIXED;
    case STILL_CLASS_OUTLET:
        return still_outlet_shared(plant, comp) ? STILL_SOURCE_FIXED : STILL_SOURCE_NONE;
    case STILL_CLASS_VALVE:
    case STILL_CLASS_EXCHANGER:
    case STILL_CLASS_FITTING:
    case STILL_CLASS_BLIND:
    case STILL_CLASS_CAP:
    case STILL_CLASS_SPOOL: return STILL_SOURCE_NONE;
    case STILL_CLASS_NOT_SAID:
    case STILL_CLASS_COUNT: break;
    }
    return STILL_SOURCE_FIXED;
}

uint32_t still_zone_next_joined(const still_zone *zone, uint32_t port, uint32_t *k)
{
    const still_plant *plant = zone->plant;
    uint32_t comp = plant->ports[port].comp;
    const still_comp *c = &plant->comps[comp];
    bool one_side = c->cls == STILL_CLASS_EXCHANGER && comp != zone->target;
    if (still_closable(plant, zone->state, zone->target, comp)) return STILL_NONE;
    while (*k < c->b) {
        uint32_t q = c->a + (*k)++;
        if (one_side && still_port_side(plant, q) != still_port_side(plant, port)) continue;
        return q;
    }
    return STILL_NONE;
}

static void add_design(still_piece *piece, double design_bara)
{
    if (isnan(design_bara))
        piece->design_unknown = true;
    else if (isnan(piece->design_max_bara) || design_bara > piece->design_max_bara)
        piece->design_max_bara = design_bara;
}

static void add_mass(still_piece *piece, double mass_kg)
{
    uint64_t grams;
    if (still_whole_grams(mass_kg, &grams))
        piece->grams += grams;
    else
        piece->mass_unknown = true;
}

/* What a component adds to its piece: mass, design pressure, source. */
static void weigh_comp(const still_zone *zone, still_piece *piece, uint32_t comp)
{
    const still_plant *plant = zone->plant;
    const still_comp *c = &plant->comps[comp];
    if (c->cls == STILL_CLASS_SPOOL || c->cls == STILL_CLASS_VESSEL) {
        add_mass(piece, still_comp_mass_kg(plant, zone->state, comp));
        add_design(piece, still_service_design_bara(plant, c->service));
    }
    double own = still_comp_q(plant, comp, STILL_Q_DESIGN_PRESSURE_BARA);
    if (!isnan(own)) add_design(piece, own);
    if (comp != zone->target && still_source_of(plant, zone->state, comp) == STILL_SOURCE_TAKEABLE)
        piece->n_sources++;
}

static void weigh_side(const still_plant *plant, still_piece *piece, uint32_t side)
{
    add_mass(piece, still_side_mass_kg(plant, side));
    add_design(piece, still_side_design_bara(plant, side));
}

static bool add_item(still_zone *zone, uint32_t comp)
{
    if (!still_grow(&zone->items, &zone->items_cap, zone->n_items + 1, sizeof zone->items[0]))
        return false;
    zone->items[zone->n_items++] = comp;
    return true;
}

/* A closable device is met at one of its ports. */
static bool meet_device(still_zone *zone, uint32_t comp, uint32_t port, uint32_t piece)
{
    uint32_t d = zone->device_of[comp];
    if (d == 0) {
        if (!still_grow(&zone->devices, &zone->devices_cap, zone->n_devices + 1,
                        sizeof zone->devices[0]))
            return false;
        uint32_t a = zone->plant->comps[comp].a;
        zone->devices[zone->n_devices++] =
            (still_device){.comp = comp, .port = {a, a + 1}, .piece = {STILL_NONE, STILL_NONE}};
        d = zone->device_of[comp] = (uint32_t)zone->n_devices;
    }
    still_device *device = &zone->devices[d - 1];
    device->piece[port == device->port[0] ? 0 : 1] = piece;
    if (!still_grow(&zone->piece_devs, &zone->piece_devs_cap, zone->n_piece_devs + 1,
                    sizeof zone->piece_devs[0]))
        return false;
    zone->piece_devs[zone->n_piece_devs++] = d - 1;
    return true;
}

static bool reach_port(still_zone *zone, uint32_t port, uint32_t piece)
{
    if (zone->piece_of_port[port] != 0) return true;
    if (!still_grow(&zone->ports, &zone->ports_cap, zone->n_ports + 1, sizeof zone->ports[0]))
        return false;
    zone->piece_of_port[port] = piece + 1;
    zone->ports[zone->n_ports++] = port;
    return true;
}

/* The component at a port: its other ports, its weight. */
static bool enter_comp(still_zone *zone, still_piece *piece, uint32_t number, uint32_t port)
{
    const still_plant *plant = zone->plant;
    uint32_t comp = plant->ports[port].comp;
    if (still_port_dangles(plant, port) && piece->blocker == STILL_NONE) piece->blocker = port;
    if (still_closable(plant, zone->state, zone->target, comp))
        return meet_device(zone, comp, port, number);
    bool fixed = still_source_of(plant, zone->state, comp) == STILL_SOURCE_FIXED;
    /* The target's own contents and feeds are dealt with; a limit or shared outlet as target can't
     * be. */
    if (comp == zone->target && plant->comps[comp].cls != STILL_CLASS_LIMIT &&
        plant->comps[comp].cls != STILL_CLASS_OUTLET)
        fixed = false;
    if (fixed && piece->blocker == STILL_NONE) piece->blocker = port;
    uint32_t side = still_port_side(plant, port);
    bool by_side = plant->comps[comp].cls == STILL_CLASS_EXCHANGER && side != STILL_NONE;
    if (by_side && !zone->seen_side[side]) {
        zone->seen_side[side] = 1;
        weigh_side(plant, piece, side);
        if (!add_item(zone, comp)) return false;
    }
    if (zone->seen_comp[comp] && !by_side) return true;
    if (!zone->seen_comp[comp]) {
        zone->seen_comp[comp] = 1;
        weigh_comp(zone, piece, comp);
        if (!by_side && !add_item(zone, comp)) return false;
    }
    uint32_t k = 0, q;
    while ((q = still_zone_next_joined(zone, port, &k)) != STILL_NONE)
        if (!reach_port(zone, q, number)) return false;
    return true;
}

static bool cross_spool(still_zone *zone, still_piece *piece, uint32_t number, uint32_t port)
{
    uint32_t spool = zone->plant->ports[port].spool;
    if (spool == STILL_NONE) return true;
    if (!zone->seen_comp[spool]) {
        zone->seen_comp[spool] = 1;
        weigh_comp(zone, piece, spool);
        if (!add_item(zone, spool)) return false;
    }
    return reach_port(zone, still_port_across(zone->plant, port), number);
}

/* Fill the piece that holds the given ports. Its number is zone->n_pieces before. */
static still_status fill(still_zone *zone, const uint32_t *ports, uint32_t n)
{
    if (!still_grow(&zone->pieces, &zone->pieces_cap, zone->n_pieces + 1, sizeof zone->pieces[0]))
        return STILL_E_NOMEM;
    uint32_t number = (uint32_t)zone->n_pieces++;
    still_piece piece = {.port0 = (uint32_t)zone->n_ports,
                         .item0 = (uint32_t)zone->n_items,
                         .dev0 = (uint32_t)zone->n_piece_devs,
                         .blocker = STILL_NONE,
                         .design_max_bara = (double)NAN};
    bool good = true;
    for (uint32_t i = 0; i < n && good; i++) good = reach_port(zone, ports[i], number);
    for (size_t i = piece.port0; i < zone->n_ports && good; i++) {
        uint32_t port = zone->ports[i];
        good = enter_comp(zone, &piece, number, port) && cross_spool(zone, &piece, number, port);
    }
    piece.n_ports = (uint32_t)zone->n_ports - piece.port0;
    piece.n_items = (uint32_t)zone->n_items - piece.item0;
    piece.n_devs = (uint32_t)zone->n_piece_devs - piece.dev0;
    zone->pieces[number] = piece;
    return good ? STILL_OK : STILL_E_NOMEM;
}

double still_device_rating_bara(const still_plant *plant, uint32_t comp)
{
    double rating = still_comp_q(plant, comp, STILL_Q_RATING_BARA);
    if (isnan(rating)) rating = still_comp_q(plant, comp, STILL_Q_DESIGN_PRESSURE_BARA);
    if (!isnan(rating)) return rating;
    for (uint32_t i = 0; i < plant->comps[comp].b; i++) {
        uint32_t spool = plant->ports[plant->comps[comp].a + i].spool;
        if (spool == STILL_NONE) continue;
        double design = still_service_design_bara(plant, plant->comps[spool].service);
        if (isnan(rating) || design < rating) rating = design;
    }
    return rating;
}

/* Fill the other side of each device of a piece, and settle D7 for the device. */
static still_status fill_around(still_zone *zone, uint32_t number)
{
    for (uint32_t i = 0; i < zone->pieces[number].n_devs; i++) {
        uint32_t d = zone->piece_devs[zone->pieces[number].dev0 + i];
        for (int k = 0; k < 2; k++) {
            uint32_t port = zone->devices[d].port[k];
            if (zone->piece_of_port[port] == 0) {
                still_status status = fill(zone, &port, 1);
                if (status != STILL_OK) return status;
            }
            const still_piece *live = &zone->pieces[zone->piece_of_port[port] - 1];
            double rating = still_device_rating_bara(zone->plant, zone->devices[d].comp);
            zone->devices[d].holds[k] = !(rating < live->design_max_bara);
            zone->devices[d].unsure[k] =
                isnan(rating) || live->design_unknown || isnan(live->design_max_bara);
        }
    }
    return STILL_OK;
}

/* R of METHOD 3.1: pieces that are inside in every plan. */
static still_status force_inside(still_zone *zone, uint32_t *queue, size_t *n_queue)
{
    zone->pieces[0].forced = true;
    queue[(*n_queue)++] = 0;
    for (size_t i = 0; i < *n_queue; i++) {
        uint32_t p = queue[i];
        if (zone->pieces[p].blocker != STILL_NONE) zone->infeasible = true;
        still_status status = fill_around(zone, p);
        if (status != STILL_OK) return status;
        for (uint32_t j = 0; j < zone->pieces[p].n_devs; j++) {
            const still_device *d = &zone->devices[zone->piece_devs[zone->pieces[p].dev0 + j]];
            for (int k = 0; k < 2; k++) {
                uint32_t q = d->piece[k];
                if (q == p || d->holds[k] || zone->pieces[q].forced) continue;
                zone->pieces[q].forced = true;
                queue[(*n_queue)++] = q;
            }
        }
    }
    return STILL_OK;
}

/* All pieces within reach, up to and including the walls. */
static still_status explore(still_zone *zone, uint32_t *queue, size_t n_queue)
{
    uint8_t *queued = still_calloc(zone->plant->n_ports + (size_t)1, 1);
    if (queued == NULL) return STILL_E_NOMEM;
    still_status status = STILL_OK;
    for (size_t i = 0; i < n_queue; i++) queued[queue[i]] = 1;
    for (size_t i = 0; i < n_queue && status == STILL_OK; i++) {
        uint32_t p = queue[i];
        still_piece *piece = &zone->pieces[p];
        piece->wall = !piece->forced && (piece->n_sources > 0 || piece->blocker != STILL_NONE);
        if (piece->wall) continue;
        status = fill_around(zone, p);
        for (uint32_t j = 0; status == STILL_OK && j < zone->pieces[p].n_devs; j++) {
            const still_device *d = &zone->devices[zone->piece_devs[zone->pieces[p].dev0 + j]];
            for (int k = 0; k < 2; k++) {
                if (queued[d->piece[k]]) continue;
                queued[d->piece[k]] = 1;
                queue[n_queue++] = d->piece[k];
            }
        }
    }
    still_free(queued);
    return status;
}

still_status still_zone_build(still_zone *zone, const still_plant *plant, const still_state *state,
                              uint32_t target)
{
    *zone = (still_zone){.plant = plant, .state = state, .target = target};
    still_status status = STILL_E_NOMEM;
    /* A piece holds a port of its own or is the target's: n_ports + 1 bounds their number. */
    uint32_t *queue = still_calloc((size_t)plant->n_ports + 1, sizeof queue[0]);
    zone->piece_of_port = still_calloc(plant->n_ports, sizeof zone->piece_of_port[0]);
    zone->device_of = still_calloc(plant->n_comps, sizeof zone->device_of[0]);
    zone->seen_comp = still_calloc(plant->n_comps, 1);
    zone->seen_side = still_calloc(plant->n_sides, 1);
    size_t n_queue = 0;
    if (queue == NULL || zone->piece_of_port == NULL || zone->device_of == NULL ||
        zone->seen_comp == NULL || zone->seen_side == NULL)
        goto out;
    const still_comp *t = &plant->comps[target];
    uint32_t first = t->a;
    if (t->b == 0) {
        /* A target without ports (a fitting that no spool names) is a piece of its own. */
        status = fill(zone, NULL, 0);
        if (status == STILL_OK && !add_item(zone, target)) status = STILL_E_NOMEM;
        if (status == STILL_OK) zone->pieces[0].n_items = 1;
    } else {
        status = fill(zone, &first, 1);
    }
    if (status == STILL_OK) status = force_inside(zone, queue, &n_queue);
    if (status == STILL_OK && !zone->infeasible) status = explore(zone, queue, n_queue);
out:
    still_free(queue);
    if (status != STILL_OK) still_zone_clear(zone);
    return status;
}

void still_zone_clear(still_zone *zone)
{
    still_free(zone->pieces);
    still_free(zone->devices);
    still_free(zone->ports);
    still_free(zone->items);
    still_free(zone->piece_devs);
    still_free(zone->piece_of_port);
    still_free(zone->device_of);
    still_free(zone->seen_comp);
    still_free(zone->seen_side);
    *zone = (still_zone){0};
}
