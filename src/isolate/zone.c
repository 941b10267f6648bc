/* The zone around the work.
 * Problem: a plant may have half a million components; an isolation concerns a few dozen.
 * Method: flood fill piece by piece from the opened ports, in rising order of the highest label
 * that a piece can have. A piece with a source that must stay outside is a wall: it is filled whole
 * (its design pressure is needed, D7) but not passed. Why it is right: docs/METHOD.md, 3.1.
 * Cost: linear in what is reached; the arrays by port and component are taken zeroed and touched
 * only where the fill goes. */
#include "zone.h"

#include "alloc.h"
#include "inventory.h"

#include <string.h>

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

bool still_closable(const still_plant *plant, const still_state *state,
                    const still_targets *targets, uint32_t comp)
{
    const still_comp *c = &plant->comps[comp];
    bool blind = c->cls == STILL_CLASS_BLIND;
    if (!blind && c->cls != STILL_CLASS_VALVE) return false;
    if (still_opened_whole(targets, comp)) return false;
    if (blind && still_position_now(plant, state, comp) != STILL_POSITION_CLOSED) return false;
    if (still_condition_now(plant, state, comp) != STILL_CONDITION_SOUND) return false;
    if (blind) return true;
    if (c->lockable != STILL_LOCKABLE_YES && c->lockable != STILL_LOCKABLE_ASSUMED) return false;
    if (c->kind == STILL_KIND_THREE_WAY)
        return still_by_hand(c) && still_comp_t(plant, comp, STILL_T_POSITIONS)[0] != '\0';
    if (!still_kind_stops(c->kind)) return false;
    return still_by_hand(c) || (c->fails == STILL_FAILS_CLOSED && feeds_can_be_locked(plant, comp));
}

bool still_parts_positively(const still_plant *plant, const still_state *state,
                            const still_targets *targets, uint32_t comp)
{
    const still_comp *c = &plant->comps[comp];
    if (c->cls != STILL_CLASS_BLIND && c->cls != STILL_CLASS_SPOOL) return false;
    if (still_opened_whole(targets, comp)) return false;
    if (still_condition_now(plant, state, comp) != STILL_CONDITION_SOUND) return false;
    if (c->cls == STILL_CLASS_BLIND) return true;
    return c->removable == STILL_YESNO_YES || c->end_from == STILL_ENDS_FLANGED ||
           c->end_to == STILL_ENDS_FLANGED;
}

bool still_outlet_shared(const still_plant *plant, uint32_t comp)
{
    const still_comp *c = &plant->comps[comp];
    return c->shared != STILL_YESNO_NO || c->leads_to == STILL_LEADS_NOT_SAID;
}

bool still_outlet_bleeds(const still_plant *plant, uint32_t comp)
{
    return still_outlet_to_open(&plant->comps[comp]) && !still_outlet_shared(plant, comp);
}

bool still_port_dangles(const still_plant *plant, uint32_t port)
{
    return plant->ports[port].spool == STILL_NONE &&
           plant->comps[plant->ports[port].comp].cls != STILL_CLASS_CAP;
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

/* Kept in service, or can't be switched off because of what is. */
static bool stays(const still_zone *zone, uint32_t comp)
{
    return zone->asked->stays != NULL && zone->asked->stays[comp];
}

still_source_class still_zone_source(const still_zone *zone, uint32_t comp)
{
    uint8_t cls = zone->plant->comps[comp].cls;
    /* The contents and feeds of what is opened are dealt with; a limit or a shared outlet can't be.
     */
    if (cls != STILL_CLASS_LIMIT && cls != STILL_CLASS_OUTLET &&
        still_opened_whole(zone->targets, comp))
        return STILL_SOURCE_NONE;
    if (stays(zone, comp)) return STILL_SOURCE_FIXED;
    return still_source_of(zone->plant, zone->state, comp);
}

static bool asks_positive(const still_zone *zone)
{
    return zone->asked->grade == STILL_GRADE_POSITIVE;
}

bool still_zone_device(const still_zone *zone, uint32_t comp)
{
    if (stays(zone, comp)) return false;
    return still_closable(zone->plant, zone->state, zone->targets, comp) ||
           (asks_positive(zone) &&
            still_parts_positively(zone->plant, zone->state, zone->targets, comp));
}

uint32_t still_zone_next_joined(const still_zone *zone, uint32_t port, uint32_t *k)
{
    const still_plant *plant = zone->plant;
    uint32_t comp = plant->ports[port].comp;
    const still_comp *c = &plant->comps[comp];
    bool one_side = c->cls == STILL_CLASS_EXCHANGER && !still_opened_whole(zone->targets, comp);
    if (still_zone_device(zone, comp)) return STILL_NONE;
    while (*k < c->b) {
        uint32_t q = c->a + (*k)++;
        if (one_side && still_port_side(plant, q) != still_port_side(plant, port)) continue;
        return q;
    }
    return STILL_NONE;
}

/* Bits of the ports that a position such as "a-c" joins. */
static uint8_t ports_of_position(const still_plant *plant, uint32_t comp, const char *text,
                                 size_t len)
{
    const still_comp *c = &plant->comps[comp];
    uint8_t bits = 0;
    for (uint32_t k = 0; k < c->b && k < 3; k++) {
        const char *name = still_text(plant, still_port_name(plant, c->a + k));
        for (size_t i = 0; i < len; i += 2)
            if (name[0] == text[i] && name[1] == '\0') bits |= (uint8_t)(1u << k);
    }
    return bits;
}

static void list_positions(const still_plant *plant, still_device *d)
{
    const char *text = still_comp_t(plant, d->comp, STILL_T_POSITIONS);
    while (*text != '\0') {
        size_t len = strcspn(text, " ");
        if (d->positions < sizeof d->joined)
            d->joined[d->positions++] = ports_of_position(plant, d->comp, text, len);
        text += len;
        while (*text == ' ') text++;
    }
}

bool still_device_can_part(const still_device *d, int a, int b)
{
    if (d->n == 2) return true;
    for (uint8_t i = 0; i < d->positions; i++)
        if ((d->joined[i] >> a & d->joined[i] >> b & 1) == 0) return true;
    return false;
}

static still_device make_device(const still_zone *zone, uint32_t comp)
{
    const still_plant *plant = zone->plant;
    const still_comp *c = &plant->comps[comp];
    still_device d = {.comp = comp, .n = 2};
    for (int k = 0; k < 3; k++) d.piece[k] = STILL_NONE;
    d.valve = still_closable(plant, zone->state, zone->targets, comp);
    d.positive = still_parts_positively(plant, zone->state, zone->targets, comp);
    d.supplied = d.valve && c->cls == STILL_CLASS_VALVE && !still_by_hand(c);
    d.port[0] = c->a;
    d.port[1] = c->cls == STILL_CLASS_SPOOL ? c->b : c->a + 1;
    if (c->cls == STILL_CLASS_VALVE && c->kind == STILL_KIND_THREE_WAY) {
        d.n = 3;
        d.port[2] = c->a + 2;
        list_positions(plant, &d);
    }
    return d;
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

/* Design pressure of a component; a pipe that may be parted counts on both of its sides. */
static void judge_design(const still_zone *zone, still_piece *piece, uint32_t comp)
{
    const still_comp *c = &zone->plant->comps[comp];
    if (c->cls == STILL_CLASS_SPOOL || c->cls == STILL_CLASS_VESSEL)
        add_design(piece, still_service_design_bara(zone->plant, c->service));
    double own = still_comp_q(zone->plant, comp, STILL_Q_DESIGN_PRESSURE_BARA);
    if (!isnan(own)) add_design(piece, own);
}

/* What a component adds to its piece: mass, source. */
static void weigh_comp(const still_zone *zone, still_piece *piece, uint32_t comp)
{
    uint8_t cls = zone->plant->comps[comp].cls;
    if (cls == STILL_CLASS_SPOOL || cls == STILL_CLASS_VESSEL)
        add_mass(piece, still_comp_mass_kg(zone->plant, zone->state, comp));
    if (still_zone_source(zone, comp) == STILL_SOURCE_TAKEABLE) piece->n_sources++;
    if ((cls == STILL_CLASS_VESSEL || cls == STILL_CLASS_PUMP || cls == STILL_CLASS_COMPRESSOR) &&
        !still_opened_whole(zone->targets, comp))
        piece->n_equipment++;
}

static void weigh_side(const still_zone *zone, still_piece *piece, uint32_t side)
{
    add_mass(piece, still_side_mass_kg(zone->plant, side));
    add_design(piece, still_side_design_bara(zone->plant, side));
}

static bool add_item(still_zone *zone, uint32_t comp)
{
    if (!still_grow(&zone->items, &zone->items_cap, zone->n_items + 1, sizeof zone->items[0]))
        return false;
    zone->items[zone->n_items++] = comp;
    return true;
}

/* A device is met at one of its ports. */
static bool meet_device(still_zone *zone, uint32_t comp, uint32_t port, uint32_t piece)
{
    uint32_t d = zone->device_of[comp];
    if (d == 0) {
        if (!still_grow(&zone->devices, &zone->devices_cap, zone->n_devices + 1,
                        sizeof zone->devices[0]))
            return false;
        zone->devices[zone->n_devices++] = make_device(zone, comp);
        d = zone->device_of[comp] = (uint32_t)zone->n_devices;
    }
    still_device *device = &zone->devices[d - 1];
    for (int k = 0; k < device->n; k++)
        if (port == device->port[k]) device->piece[k] = piece;
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
    if (still_zone_device(zone, comp)) return meet_device(zone, comp, port, number);
    if (still_zone_source(zone, comp) == STILL_SOURCE_FIXED && piece->blocker == STILL_NONE)
        piece->blocker = port;
    bool by_side = plant->comps[comp].cls == STILL_CLASS_EXCHANGER;
    if (by_side) {
        uint32_t side = still_port_side(plant, port);
        if (side != STILL_NONE && !zone->seen_side[side]) {
            zone->seen_side[side] = 1;
            weigh_side(zone, piece, side);
            if (!still_opened_side(plant, zone->targets, side)) piece->n_equipment++;
            if (!add_item(zone, comp)) return false;
        }
    }
    if (!zone->seen_comp[comp]) {
        zone->seen_comp[comp] = 1;
        judge_design(zone, piece, comp);
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
    bool device = asks_positive(zone) &&
                  still_parts_positively(zone->plant, zone->state, zone->targets, spool);
    if (device || !zone->seen_comp[spool]) judge_design(zone, piece, spool);
    if (!zone->seen_comp[spool]) {
        zone->seen_comp[spool] = 1;
        /* A spool that may be parted from both sides is weighed with the first of them: no valve
         * layer parts these two. */
        weigh_comp(zone, piece, spool);
        if (!device && !add_item(zone, spool)) return false;
    }
    if (device) return meet_device(zone, spool, port, number);
    return reach_port(zone, still_port_across(zone->plant, port), number);
}

static void judge_port(still_zone *zone, still_piece *piece, uint32_t port)
{
    still_grade grade = still_asked_at(zone->asked, port);
    uint8_t layers = still_grade_layers(grade);
    if (still_opened_port(zone->plant, zone->targets, port)) piece->work = true;
    if (layers > piece->outside) piece->outside = layers;
    if (grade == STILL_GRADE_POSITIVE) piece->positive = true;
}

/* Fill one piece from the given ports. Its number is zone->n_pieces before. */
static still_status fill(still_zone *zone, const uint32_t *ports, uint32_t n)
{
    if (!still_grow(&zone->pieces, &zone->pieces_cap, zone->n_pieces + 1, sizeof zone->pieces[0]))
        return STILL_E_NOMEM;
    uint32_t number = (uint32_t)zone->n_pieces++;
    still_piece piece = {.port0 = (uint32_t)zone->n_ports,
                         .item0 = (uint32_t)zone->n_items,
                         .dev0 = (uint32_t)zone->n_piece_devs,
                         .blocker = STILL_NONE,
                         .design_max_bara = (double)NAN,
                         .outside = 1,
                         .top = UINT8_MAX};
    bool good = true;
    for (uint32_t i = 0; i < n && good; i++) good = reach_port(zone, ports[i], number);
    for (size_t i = piece.port0; i < zone->n_ports && good; i++) {
        uint32_t port = zone->ports[i];
        judge_port(zone, &piece, port);
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
    if (plant->comps[comp].cls == STILL_CLASS_SPOOL)
        return still_service_design_bara(plant, plant->comps[comp].service);
    for (uint32_t i = 0; i < plant->comps[comp].b; i++) {
        uint32_t spool = plant->ports[plant->comps[comp].a + i].spool;
        if (spool == STILL_NONE) continue;
        double design = still_service_design_bara(plant, plant->comps[spool].service);
        if (isnan(rating) || design < rating) rating = design;
    }
    return rating;
}

/* Fill the other sides of each device of a piece, and settle D7 for the device. */
static still_status fill_around(still_zone *zone, uint32_t number)
{
    for (uint32_t i = 0; i < zone->pieces[number].n_devs; i++) {
        uint32_t d = zone->piece_devs[zone->pieces[number].dev0 + i];
        double rating = still_device_rating_bara(zone->plant, zone->devices[d].comp);
        for (int k = 0; k < zone->devices[d].n; k++) {
            uint32_t port = zone->devices[d].port[k];
            if (zone->piece_of_port[port] == 0) {
                still_status status = fill(zone, &port, 1);
                if (status != STILL_OK) return status;
            }
            const still_piece *live = &zone->pieces[zone->piece_of_port[port] - 1];
            zone->devices[d].holds[k] = !(rating < live->design_max_bara);
            zone->devices[d].unsure[k] =
                isnan(rating) || live->design_unknown || isnan(live->design_max_bara);
        }
    }
    return STILL_OK;
}

/* The pieces on both sides ask alike, save that what holds the work belongs to all regions. */
static const still_piece *region_of(const still_zone *zone, const still_device *d)
{
    const still_piece *best = NULL;
    for (int k = 0; k < d->n; k++) {
        if (d->piece[k] == STILL_NONE) continue;
        const still_piece *p = &zone->pieces[d->piece[k]];
        if (best == NULL || (best->work && !p->work)) best = p;
    }
    return best;
}

bool still_device_serves(const still_zone *zone, const still_device *d, uint8_t layer)
{
    const still_piece *region = region_of(zone, d);
    if (layer > region->outside) return false;
    return region->positive && layer == 1 ? d->positive : d->valve;
}

uint8_t still_zone_step(const still_zone *zone, const still_device *d, int near_side, int far_side,
                        uint8_t label)
{
    if (!d->holds[far_side] || !still_device_can_part(d, near_side, far_side)) return label;
    return still_device_serves(zone, d, (uint8_t)(label + 1)) ? (uint8_t)(label + 1) : label;
}

typedef struct frontier {
    uint32_t *queue[3]; /* by label */
    size_t n[3], cap[3];
} frontier;

static bool lower(still_zone *zone, frontier *f, uint32_t piece, uint8_t label)
{
    if (zone->pieces[piece].top <= label) return true;
    zone->pieces[piece].top = label;
    if (!still_grow(&f->queue[label], &f->cap[label], f->n[label] + 1, sizeof f->queue[0][0]))
        return false;
    f->queue[label][f->n[label]++] = piece;
    return true;
}

/* Pass on from a piece whose highest label is settled. */
static still_status pass(still_zone *zone, frontier *f, uint32_t p)
{
    still_piece *piece = &zone->pieces[p];
    bool inside = piece->top < piece->outside || piece->work;
    if (inside && piece->blocker != STILL_NONE) zone->infeasible = true;
    piece->wall =
        !inside && (piece->blocker != STILL_NONE || (piece->n_sources > 0 && !zone->priced));
    if (piece->wall) return STILL_OK;
    still_status status = fill_around(zone, p);
    for (uint32_t j = 0; j < zone->pieces[p].n_devs && status == STILL_OK; j++) {
        const still_device *d = &zone->devices[zone->piece_devs[zone->pieces[p].dev0 + j]];
        for (int near = 0; near < d->n; near++) {
            if (d->piece[near] != p) continue;
            for (int far = 0; far < d->n; far++) {
                if (far == near || d->piece[far] == p) continue;
                uint8_t label = still_zone_step(zone, d, near, far, zone->pieces[p].top);
                if (!lower(zone, f, d->piece[far], label)) status = STILL_E_NOMEM;
            }
        }
    }
    return status;
}

static still_status explore(still_zone *zone)
{
    frontier f = {0};
    still_status status = STILL_OK;
    for (uint32_t p = 0; p < zone->n_pieces && status == STILL_OK; p++)
        if (zone->pieces[p].work && !lower(zone, &f, p, 0)) status = STILL_E_NOMEM;
    for (uint8_t label = 0; label < 3; label++) {
        for (size_t i = 0; i < f.n[label] && status == STILL_OK; i++) {
            uint32_t p = f.queue[label][i];
            if (zone->pieces[p].top == label) status = pass(zone, &f, p);
            /* Once there is no plan, only what cannot be kept out is looked at (the obstacle). */
        }
    }
    for (int k = 0; k < 3; k++) still_free(f.queue[k]);
    return status;
}

/* The pieces of the opened ports. */
static still_status fill_work(still_zone *zone)
{
    const still_plant *plant = zone->plant;
    still_status status = STILL_OK;
    for (size_t i = 0; i < zone->targets->n && status == STILL_OK; i++) {
        const still_target *t = &zone->targets->items[i];
        const still_comp *c = &plant->comps[t->comp];
        bool spool = c->cls == STILL_CLASS_SPOOL;
        uint32_t n = spool ? 2 : c->b;
        for (uint32_t k = 0; k < n && status == STILL_OK; k++) {
            uint32_t port = spool ? (k == 0 ? c->a : c->b) : c->a + k;
            if (!still_opened_port(plant, zone->targets, port)) continue;
            if (zone->piece_of_port[port] == 0) status = fill(zone, &port, 1);
        }
        if (n > 0 || status != STILL_OK) continue;
        /* A target without ports (a fitting that no spool names) is a piece of its own. */
        status = fill(zone, NULL, 0);
        if (status == STILL_OK && !add_item(zone, t->comp)) status = STILL_E_NOMEM;
        if (status == STILL_OK) zone->pieces[zone->n_pieces - 1].n_items = 1;
        if (status == STILL_OK) zone->pieces[zone->n_pieces - 1].work = true;
    }
    return status;
}

still_status still_zone_build(still_zone *zone, const still_plant *plant, const still_state *state,
                              const still_targets *targets, const still_asked *asked, bool priced)
{
    *zone = (still_zone){
        .plant = plant, .state = state, .targets = targets, .asked = asked, .priced = priced};
    still_status status = STILL_E_NOMEM;
    zone->piece_of_port = still_calloc(plant->n_ports, sizeof zone->piece_of_port[0]);
    zone->device_of = still_calloc(plant->n_comps, sizeof zone->device_of[0]);
    zone->seen_comp = still_calloc(plant->n_comps, 1);
    zone->seen_side = still_calloc(plant->n_sides, 1);
    if (zone->piece_of_port != NULL && zone->device_of != NULL && zone->seen_comp != NULL &&
        zone->seen_side != NULL)
        status = fill_work(zone);
    if (status == STILL_OK) status = explore(zone);
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
