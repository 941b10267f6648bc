/* What lies inside, by service. Unknown counts the dangerous way at the callers. */
#include "contents.h"

#include "hazard.h"

#include <ctype.h>
#include <string.h>

static void mark(uint8_t *seen, uint32_t service)
{
    if (service != STILL_NONE) seen[service] = 1;
}

/* Of an exchanger the sides that the ports marked in `port` belong to; NULL = all. */
static void mark_comp(uint8_t *seen, const still_plant *p, uint32_t comp, const uint8_t *port)
{
    const still_comp *c = &p->comps[comp];
    if (c->cls != STILL_CLASS_EXCHANGER) mark(seen, c->service);
    for (uint32_t k = 0; c->cls == STILL_CLASS_EXCHANGER && k < c->b; k++) {
        uint32_t side = still_port_side(p, c->a + k);
        if (side != STILL_NONE && (port == NULL || port[c->a + k]))
            mark(seen, p->sides[side].service);
    }
}

static uint32_t *listed(still_arena *arena, const still_plant *p, const uint8_t *seen, uint32_t *n)
{
    uint32_t *list = STILL_ARENA_NEW(arena, p->n_services, uint32_t);
    *n = 0;
    for (uint32_t i = 0; i < p->n_services && list != NULL; i++)
        if (seen[i]) list[(*n)++] = i;
    return list;
}

/* A valve has no service of its own: its pipes tell, also those that are points (spades). */
static void mark_pipes(uint8_t *seen, const still_plant *p, uint32_t comp)
{
    const still_comp *c = &p->comps[comp];
    if (c->cls == STILL_CLASS_SPOOL || c->cls == STILL_CLASS_EXCHANGER) return;
    for (uint32_t k = 0; k < c->b; k++)
        if (p->ports[c->a + k].spool != STILL_NONE)
            mark(seen, p->comps[p->ports[c->a + k].spool].service);
}

uint32_t *still_services_inside(still_arena *arena, const still_isolation *iso, uint32_t *n)
{
    const still_plant *p = iso->zone.plant;
    uint8_t *seen = STILL_ARENA_NEW(arena, p->n_services, uint8_t);
    if (seen == NULL) return NULL;
    for (uint32_t i = 0; i < iso->inside.n; i++) {
        mark_comp(seen, p, iso->inside.items[i], iso->work_port);
        mark_pipes(seen, p, iso->inside.items[i]);
    }
    for (uint32_t i = 0; i < iso->between.n; i++)
        mark_comp(seen, p, iso->between.items[i], iso->between_port);
    return listed(arena, p, seen, n);
}

uint32_t *still_services_of_room(still_arena *arena, const still_plant *p, const still_room *room,
                                 uint32_t *n)
{
    uint8_t *seen = STILL_ARENA_NEW(arena, p->n_services, uint8_t);
    uint8_t *port = STILL_ARENA_NEW(arena, p->n_ports, uint8_t);
    if (seen == NULL || port == NULL) return NULL;
    for (uint32_t i = 0; i < room->n_ports; i++) port[room->ports[i]] = 1;
    for (uint32_t i = 0; i < room->n_ids; i++) mark_comp(seen, p, room->ids[i], port);
    return listed(arena, p, seen, n);
}

const char *still_service_hazards(still_arena *arena, const still_plant *p, uint32_t service)
{
    const still_service *s = &p->services[service];
    const still_hazard *known = still_hazard_of(still_substance_of(still_text(p, s->substance)));
    const char *own = still_text(p, s->hazard);
    const char *also = known != NULL ? known->statements : "";
    return still_arena_printf(arena, "%s%s%s", also, also[0] && own[0] ? " " : "", own);
}

bool still_service_is(const still_plant *p, uint32_t service, const char *substance)
{
    return strcmp(still_text(p, p->services[service].substance), substance) == 0;
}

bool still_room_carries(const still_plant *p, const still_room *room, const char *substance)
{
    for (uint32_t i = 0; i < room->n_ids; i++) {
        const still_comp *c = &p->comps[room->ids[i]];
        if (c->cls != STILL_CLASS_EXCHANGER && c->service != STILL_NONE &&
            still_service_is(p, c->service, substance))
            return true;
    }
    for (uint32_t i = 0; i < room->n_ports; i++) {
        uint32_t side = still_port_side(p, room->ports[i]);
        if (side != STILL_NONE && p->sides[side].service != STILL_NONE &&
            still_service_is(p, p->sides[side].service, substance))
            return true;
    }
    return false;
}

/* "oil" as a word of its own: not in "boiler" or "foil". */
static bool says_oil(const char *text)
{
    for (const char *at = text; *at != '\0'; at++) {
        bool begins = at == text || !isalpha((unsigned char)at[-1]);
        if (begins && tolower((unsigned char)at[0]) == 'o' &&
            tolower((unsigned char)at[1]) == 'i' && tolower((unsigned char)at[2]) == 'l' &&
            !isalpha((unsigned char)at[3]))
            return true;
    }
    return false;
}

still_oil still_room_oil(const still_plant *p, const still_room *room)
{
    if (!room->liquid) return STILL_OIL_NONE;
    for (uint32_t i = 0; i < room->n_ids; i++) {
        const still_comp *c = &p->comps[room->ids[i]];
        if (c->cls == STILL_CLASS_VESSEL && c->role == STILL_ROLE_OIL) return STILL_OIL_KNOWN;
        if (c->service == STILL_NONE) continue;
        const still_service *s = &p->services[c->service];
        if (says_oil(still_text(p, s->substance)) || says_oil(still_text(p, s->name)) ||
            says_oil(still_text(p, s->id)))
            return STILL_OIL_KNOWN;
    }
    return still_room_carries(p, room, "ammonia") ? STILL_OIL_AMMONIA : STILL_OIL_NONE;
}

static bool stops(const still_comp *c)
{
    return c->cls == STILL_CLASS_VALVE && still_kind_stops(c->kind);
}

/* A self-closing valve parts a compartment: it stands at the far end of one of its pipes, the stop
 * valve at the near one; or the way to the drain passes both. */
bool still_oil_drain(const still_plant *p, const still_room *room, uint32_t way[2])
{
    uint32_t stop = STILL_NONE;
    for (uint32_t i = 0; i < room->n_ids; i++) {
        const still_comp *c = &p->comps[room->ids[i]];
        if (c->cls != STILL_CLASS_SPOOL) continue;
        for (int turn = 0; turn < 2; turn++) {
            way[0] = p->ports[turn == 0 ? c->a : c->b].comp;
            way[1] = p->ports[turn == 0 ? c->b : c->a].comp;
            const still_comp *far = &p->comps[way[1]];
            if (stops(&p->comps[way[0]]) && far->cls == STILL_CLASS_VALVE &&
                far->kind == STILL_KIND_SELF_CLOSING)
                return true;
        }
    }
    for (uint32_t i = 0; i < room->drain.n; i++) {
        const still_comp *c = &p->comps[room->drain.items[i]];
        if (stop == STILL_NONE && stops(c)) stop = room->drain.items[i];
        if (c->cls != STILL_CLASS_VALVE || c->kind != STILL_KIND_SELF_CLOSING) continue;
        way[0] = stop;
        way[1] = room->drain.items[i];
        return stop != STILL_NONE;
    }
    return false;
}

double still_live_pressure_bara(const still_isolation *iso, uint32_t point, bool *unknown)
{
    const still_plant *p = iso->zone.plant;
    uint32_t outer = iso->info[point].outer_port;
    double least = (double)NAN;
    *unknown = false;
    if (iso->zone.piece_of_port[outer] == 0) return least;
    const still_piece *piece = &iso->zone.pieces[iso->zone.piece_of_port[outer] - 1];
    for (uint32_t k = 0; k < piece->n_items; k++) {
        const still_comp *c = &p->comps[iso->zone.items[piece->item0 + k]];
        if (c->cls != STILL_CLASS_SPOOL && c->cls != STILL_CLASS_VESSEL) continue;
        double here =
            c->service == STILL_NONE ? (double)NAN : p->services[c->service].pressure_bara;
        if (isnan(here)) *unknown = true;
        if (here < least || isnan(least)) least = isnan(here) ? least : here;
    }
    return least;
}

static bool barely_pressed(const still_isolation *iso, uint32_t point)
{
    const still_plant *p = iso->zone.plant;
    uint32_t spool = p->ports[iso->info[point].outer_port].spool;
    uint32_t service = spool == STILL_NONE ? STILL_NONE : p->comps[spool].service;
    double bara = service == STILL_NONE ? (double)NAN : p->services[service].pressure_bara;
    return !iso->info[point].positive && bara >= STILL_ATM_BAR && bara < STILL_ATM_BAR + 0.5;
}

/* What is pressed back by this port comes to something that takes it. */
static bool takes(const still_comp *c)
{
    return c->cls == STILL_CLASS_VESSEL || c->cls == STILL_CLASS_LIMIT ||
           c->cls == STILL_CLASS_OUTLET || c->cls == STILL_CLASS_EXCHANGER || still_is_machine(c) ||
           c->cls == STILL_CLASS_NOT_SAID;
}

/* Whether gas that passes a point backward gets away: to a vessel, a machine or the end of the
 * drawing, over all but one-way devices against their flow. @return false when memory is out */
static bool gets_away(bool *away, still_arena *arena, const still_isolation *iso, uint32_t point)
{
    const still_plant *p = iso->zone.plant;
    uint8_t *seen = STILL_ARENA_NEW(arena, p->n_ports, uint8_t);
    uint32_t *queue = STILL_ARENA_NEW(arena, p->n_ports, uint32_t), tail = 0;
    uint32_t own = iso->points.items[point];
    *away = false;
    if (seen == NULL || queue == NULL) return false;
    seen[iso->info[point].outer_port] = 1;
    queue[tail++] = iso->info[point].outer_port;
    for (uint32_t head = 0; head < tail && !*away; head++) {
        uint32_t port = queue[head], comp = p->ports[port].comp;
        uint32_t across = still_port_across(p, port);
        const still_comp *c = &p->comps[comp];
        bool one_way = c->kind == STILL_KIND_CHECK || c->kind == STILL_KIND_STOP_CHECK;
        unsigned now = still_position_now(p, iso->zone.state, comp);
        /* Of unknown position counts as shut: else a proof would rest on it (N2). */
        bool shut = c->cls == STILL_CLASS_VALVE && still_kind_stops(c->kind) && still_by_hand(c) &&
                    now != STILL_POSITION_OPEN && now != STILL_POSITION_THROTTLED;
        for (uint32_t i = 0; i < iso->points.n; i++) shut = shut || iso->points.items[i] == comp;
        bool ends = comp == own || shut || (one_way && port != c->a) || still_relieves(c);
        *away = !shut && takes(c);
        for (uint32_t k = 0; k <= c->b; k++) {
            uint32_t q = k == c->b ? across : c->a + k;
            if (q == STILL_NONE || seen[q] || (k < c->b && ends)) continue;
            seen[q] = 1;
            queue[tail++] = q;
        }
    }
    return true;
}

bool still_point_pressed(still_pressed *out, still_arena *arena, const still_isolation *iso,
                         uint32_t point)
{
    bool away = true, done = true;
    *out = STILL_PRESSED_WELL;
    if (!barely_pressed(iso, point)) return true;
    done = gets_away(&away, arena, iso, point);
    *out = away ? STILL_PRESSED_BARELY : STILL_PRESSED_NEVER;
    return done;
}

double still_side_K(const still_plant *p, uint32_t side)
{
    uint32_t service = p->sides[side].service;
    return service == STILL_NONE ? (double)NAN : p->services[service].temperature_K;
}

const char *still_warmer_side_outside(still_arena *arena, const still_isolation *iso, uint32_t comp)
{
    const still_plant *p = iso->zone.plant;
    const still_comp *c = &p->comps[comp];
    double inside_K = (double)NAN;
    bool inside = false, unknown = false;
    if (c->cls != STILL_CLASS_EXCHANGER || still_opened_whole(iso->zone.targets, comp)) return "";
    for (uint32_t k = 0; k < c->b; k++) {
        uint32_t side = still_port_side(p, c->a + k);
        if (side == STILL_NONE || !iso->work_port[c->a + k]) continue;
        double here = still_side_K(p, side);
        inside = true;
        unknown = unknown || isnan(here);
        inside_K = isnan(inside_K) ? here : fmin(inside_K, here);
    }
    for (uint32_t k = 0; k < c->b && inside; k++) {
        uint32_t side = still_port_side(p, c->a + k);
        if (side == STILL_NONE || iso->work_port[c->a + k]) continue;
        double here = still_side_K(p, side);
        if (!unknown && here <= inside_K) continue;
        uint32_t service = p->sides[side].service;
        const char *id =
            service == STILL_NONE ? "service not said" : still_text(p, p->services[service].id);
        return isnan(here)
                   ? still_arena_printf(arena, "%s, temperature not said", id)
                   : still_arena_printf(arena, "%s, %.4g degC", id, here - STILL_ZERO_DEGC_K);
    }
    return "";
}
