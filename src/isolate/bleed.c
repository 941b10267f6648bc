/* Bleeds.
 * Problem: each compartment of a space needs a way of its own to an outlet where what passes a
 * valve is seen. Method: flood fill by E1; then from each fit outlet inward up to the valves that
 * can be held open: what lies between (the stub) must be pipework only. Why it is right:
 * docs/METHOD.md, 3.4. */
#include "bleed.h"

#include "alloc.h"
#include "isolation.h"
#include "space.h"

#include <string.h>

still_status still_bleeds_init(still_bleeds *b, const still_layers *layers)
{
    const still_zone *zone = layers->zone;
    size_t n = zone->plant->n_ports;
    *b = (still_bleeds){.layers = layers};
    b->room = still_calloc(n + 1, sizeof b->room[0]);
    b->stub = still_calloc(n + 1, sizeof b->stub[0]);
    b->reached = still_calloc(n + 1, sizeof b->reached[0]);
    b->parent = still_calloc(n + 1, sizeof b->parent[0]);
    b->queue = still_calloc(zone->n_ports + 1, sizeof b->queue[0]);
    b->inner = still_calloc(zone->n_ports + 1, sizeof b->inner[0]);
    b->touched = still_calloc(zone->n_ports + 1, sizeof b->touched[0]);
    b->pieces = still_calloc(zone->n_pieces + 1, sizeof b->pieces[0]);
    b->noted = still_calloc(zone->n_pieces + zone->n_devices + 1, sizeof b->noted[0]);
    b->devices = still_calloc(zone->n_devices + 1, sizeof b->devices[0]);
    b->lock = still_calloc(layers->n_isolators + 1, sizeof b->lock[0]);
    b->touches = still_calloc(zone->n_pieces + 1, 1);
    b->stack = still_calloc(zone->n_pieces + 1, sizeof b->stack[0]);
    bool good = b->touches && b->stack && b->room && b->stub && b->reached && b->parent &&
                b->queue && b->inner && b->touched && b->pieces && b->devices && b->lock &&
                b->noted;
    return good ? STILL_OK : STILL_E_NOMEM;
}

void still_bleeds_clear(still_bleeds *b)
{
    still_free(b->noted);
    still_free(b->touches);
    still_free(b->stack);
    still_free(b->room);
    still_free(b->stub);
    still_free(b->reached);
    still_free(b->parent);
    still_free(b->queue);
    still_free(b->inner);
    still_free(b->touched);
    still_free(b->pieces);
    still_free(b->devices);
    still_free(b->lock);
    *b = (still_bleeds){0};
}

typedef struct look {
    still_bleeds *b;
    const still_zone *zone;
    const uint8_t *label;
    uint8_t which;
    const uint8_t *locked;
} look;

static bool is_point(const look *k, uint32_t comp)
{
    uint32_t d = k->zone->device_of[comp];
    return d != 0 && still_is_point(k->zone, k->label, &k->zone->devices[d - 1]);
}

static bool in_space(const look *k, uint32_t port)
{
    uint32_t p = k->zone->piece_of_port[port];
    if (p == 0) return false;
    const still_piece *piece = &k->zone->pieces[p - 1];
    return (piece->work || still_in_play(piece)) && k->label[p - 1] == k->which;
}

/* A space with this label asks for a bleed here. */
static bool asked(const look *k, uint32_t port)
{
    if (k->which == 0 || k->b->everywhere) return true;
    return k->b->touches[k->zone->piece_of_port[port] - 1] != 0 &&
           still_asked_at(k->zone->asked, port) == STILL_GRADE_DOUBLE_BLEED;
}

/* An extra point parts what this piece holds from its side s. */
static bool parted(const look *k, const still_device *d, uint32_t piece, int s)
{
    for (int near = 0; near < d->n; near++)
        if (d->piece[near] == piece && near != s &&
            !still_extra_parts(k->zone, k->label, d, near, s))
            return false;
    return still_is_extra(k->zone, k->label, d);
}

/* Spaces between that something of label 2 stands behind: from each such edge through all pieces of
 * the space. What nothing stands behind is closed in, but no pressure comes through it. */
static void find_touching(const look *k)
{
    const still_zone *zone = k->zone;
    uint8_t *touches = k->b->touches;
    size_t n = 0;
    memset(touches, 0, zone->n_pieces);
    for (uint32_t p = 0; p < zone->n_pieces; p++) {
        if (k->label[p] != 1 || !still_in_play(&zone->pieces[p])) continue;
        for (uint32_t j = 0; j < zone->pieces[p].n_devs && !touches[p]; j++) {
            const still_device *d = &zone->devices[zone->piece_devs[zone->pieces[p].dev0 + j]];
            for (int s = 0; s < d->n; s++)
                if (d->piece[s] != STILL_NONE && zone->pieces[d->piece[s]].top != UINT8_MAX &&
                    k->label[d->piece[s]] == 2)
                    touches[p] = 1;
        }
        if (touches[p]) k->b->stack[n++] = p;
    }
    while (n > 0) {
        uint32_t p = k->b->stack[--n];
        for (uint32_t j = 0; j < zone->pieces[p].n_devs; j++) {
            const still_device *d = &zone->devices[zone->piece_devs[zone->pieces[p].dev0 + j]];
            for (int s = 0; s < d->n; s++) {
                uint32_t q = d->piece[s];
                if (parted(k, d, p, s)) continue;
                if (q == STILL_NONE || k->label[q] != 1 || touches[q] ||
                    !still_in_play(&zone->pieces[q]))
                    continue;
                touches[q] = 1;
                k->b->stack[n++] = q;
            }
        }
    }
}

/* Neighbours within a compartment. */
static uint32_t next_port(const look *k, uint32_t port, uint32_t *i)
{
    const still_plant *plant = k->zone->plant;
    uint32_t comp = plant->ports[port].comp, spool = plant->ports[port].spool;
    const still_comp *c = &plant->comps[comp];
    if (*i == 0) {
        ++*i;
        if (spool != STILL_NONE && !is_point(k, spool)) {
            uint32_t q = still_port_across(plant, port);
            if (in_space(k, q)) return q;
        }
    }
    if (is_point(k, comp) || still_passage_of(plant, k->zone->state, comp) == STILL_PASSAGE_PARTS)
        return STILL_NONE;
    while (*i <= c->b) {
        uint32_t q = c->a + (*i)++ - 1;
        if (q == port || !in_space(k, q)) continue;
        if (c->cls == STILL_CLASS_EXCHANGER &&
            still_port_side(plant, q) != still_port_side(plant, port))
            continue;
        return q;
    }
    return STILL_NONE;
}

/* A valve that a person can move, and hold open with a lock or tag (E4). */
static bool can_hold(const look *k, uint32_t comp)
{
    const still_comp *c = &k->zone->plant->comps[comp];
    still_condition now = still_condition_now(k->zone->plant, k->zone->state, comp);
    return c->cls == STILL_CLASS_VALVE && still_kind_stops(c->kind) &&
           c->kind != STILL_KIND_STOP_CHECK && still_by_hand(c) && now != STILL_CONDITION_SEIZED &&
           now != STILL_CONDITION_UNREACHABLE;
}

/* More than pipework: a stub that holds it has no valve of its own. */
static bool anchors(const look *k, uint32_t port)
{
    const still_plant *plant = k->zone->plant;
    uint32_t comp = plant->ports[port].comp, spool = plant->ports[port].spool;
    uint8_t cls = plant->comps[comp].cls;
    if (cls == STILL_CLASS_VESSEL || cls == STILL_CLASS_EXCHANGER || cls == STILL_CLASS_PUMP ||
        cls == STILL_CLASS_COMPRESSOR)
        return true;
    if (still_opened_port(plant, k->zone->targets, port) || is_point(k, comp)) return true;
    if (spool != STILL_NONE && is_point(k, spool)) return true;
    return (cls == STILL_CLASS_VALVE || cls == STILL_CLASS_BLIND) &&
           still_passage_of(plant, k->zone->state, comp) == STILL_PASSAGE_PARTS;
}

/* Are all feeds of a device on the way locked? Isolators that could be go to the list. */
static bool feeds_held(const look *k, uint32_t comp)
{
    const still_plant *plant = k->zone->plant;
    still_bleeds *b = k->b;
    size_t n;
    bool all = true;
    const still_comp_feed *feeds = still_comp_feeds(plant, comp, &n);
    for (size_t j = 0; j < n; j++) {
        uint8_t lockable = plant->feeds[feeds[j].feed].lockable;
        if (lockable != STILL_LOCKABLE_YES && lockable != STILL_LOCKABLE_ASSUMED) return false;
    }
    for (size_t j = 0; j < n && k->locked != NULL; j++) {
        uint32_t key = still_isolator_feed(plant, feeds[j].feed), i = 0, have = 0;
        while (i < b->layers->n_isolators && b->layers->isolators[i] != key) i++;
        if (i == b->layers->n_isolators) return false;
        if (k->locked[i]) continue;
        all = false;
        while (have < b->n_lock && b->lock[have] != i) have++;
        if (have == b->n_lock) b->lock[b->n_lock++] = i;
    }
    return all;
}

/* The stub of an outlet: what it is joined to without crossing a valve that can be held open, nor,
 * where `only_held`, a device whose feeds are not locked. Its ports get `mark` in `seen`; ports of
 * valves that can be held open go to b->inner. @return false: it is more than pipework */
static bool fill_stub(const look *k, uint32_t outlet, uint32_t *seen, bool only_held,
                      size_t *n_doors)
{
    still_bleeds *b = k->b;
    const still_plant *plant = k->zone->plant;
    size_t tail = 0;
    *n_doors = 0;
    seen[outlet] = b->mark;
    b->parent[outlet] = STILL_NONE;
    b->queue[tail++] = outlet;
    for (size_t head = 0; head < tail; head++) {
        uint32_t port = b->queue[head], i = 0, q, comp = plant->ports[port].comp;
        if (anchors(k, port)) return false;
        bool cross = !can_hold(k, comp);
        if (!cross) b->inner[(*n_doors)++] = port;
        if (cross && plant->comps[comp].cls == STILL_CLASS_VALVE && only_held)
            cross = feeds_held(k, comp);
        while ((q = next_port(k, port, &i)) != STILL_NONE) {
            if (seen[q] == b->mark) continue;
            if (!cross && plant->ports[q].comp == comp && still_port_across(plant, port) != q)
                continue;
            seen[q] = b->mark;
            b->parent[q] = port;
            b->queue[tail++] = q;
        }
    }
    return true;
}

/* A door leads on from the stub. @return the far port, or STILL_NONE */
static uint32_t leads_on(const look *k, size_t n_doors)
{
    still_bleeds *b = k->b;
    for (size_t d = 0; d < n_doors; d++) {
        uint32_t i = 1, q;
        while ((q = next_port(k, b->inner[d], &i)) != STILL_NONE) {
            if (b->stub[q] == b->mark) continue;
            b->parent[q] = b->inner[d];
            return q;
        }
    }
    return STILL_NONE;
}

/* From an outlet inward. @return the far port of a valve that can be held open and leads on into
 * the compartment, or STILL_NONE; b->parent tells the way back */
static uint32_t through_stub(const look *k, uint32_t outlet)
{
    still_bleeds *b = k->b;
    size_t n_doors;
    b->mark++;
    if (!fill_stub(k, outlet, b->stub, false, &n_doors) || leads_on(k, n_doors) == STILL_NONE)
        return STILL_NONE;
    (void)fill_stub(k, outlet, b->reached, true, &n_doors);
    return leads_on(k, n_doors);
}

bool still_bleeds_outlet(still_bleeds *b, const uint8_t *label, uint32_t port,
                         const uint8_t *locked)
{
    const still_zone *zone = b->layers->zone;
    look k = {b, zone, label, 1, locked};
    return still_outlet_bleeds(zone->plant, zone->plant->ports[port].comp) &&
           through_stub(&k, port) != STILL_NONE;
}

/* Devices of the way, from the space outward, and the outlet. @return how many, in b->queue */
static size_t spell(const look *k, uint32_t beyond)
{
    const still_plant *plant = k->zone->plant;
    size_t n = 0;
    for (uint32_t p = k->b->parent[beyond]; p != STILL_NONE; p = k->b->parent[p]) {
        uint32_t comp = plant->ports[p].comp;
        uint8_t cls = plant->comps[comp].cls;
        if (cls != STILL_CLASS_VALVE && cls != STILL_CLASS_BLIND && cls != STILL_CLASS_OUTLET)
            continue;
        if (n == 0 || k->b->queue[n - 1] != comp) k->b->queue[n++] = comp;
    }
    return n;
}

static void note_port(const look *k, uint32_t port)
{
    still_bleeds *b = k->b;
    const still_plant *plant = k->zone->plant;
    uint32_t piece = k->zone->piece_of_port[port] - 1;
    if (b->noted[piece] != b->n_checks) b->pieces[b->n_pieces++] = piece;
    b->noted[piece] = b->n_checks;
    uint32_t both[2] = {plant->ports[port].comp, plant->ports[port].spool};
    for (int e = 0; e < 2; e++) {
        if (both[e] == STILL_NONE || !is_point(k, both[e])) continue;
        uint32_t d = k->zone->device_of[both[e]] - 1;
        uint32_t *noted = &b->noted[k->zone->n_pieces + d];
        if (*noted != b->n_checks) b->devices[b->n_devices++] = d;
        *noted = b->n_checks;
    }
}

/* Fill one compartment. @return its first port in b->touched */
static size_t fill(const look *k, uint32_t start, uint32_t number)
{
    still_bleeds *b = k->b;
    size_t first = b->n_touched;
    b->room[start] = number;
    b->touched[b->n_touched++] = start;
    for (size_t head = first; head < b->n_touched; head++) {
        uint32_t i = 0, q;
        while ((q = next_port(k, b->touched[head], &i)) != STILL_NONE) {
            if (b->room[q] != 0) continue;
            b->room[q] = number;
            b->touched[b->n_touched++] = q;
        }
    }
    return first;
}

/* A compartment: is there a bleed? @return the outlet's way, its length in *n; 0 = none */
static size_t serve(const look *k, size_t first)
{
    still_bleeds *b = k->b;
    const still_plant *plant = k->zone->plant;
    uint32_t best = STILL_NONE;
    b->n_lock = 0;
    for (size_t i = first; i < b->n_touched && b->layers->extra_bleed != STILL_NONE; i++)
        if (plant->ports[b->touched[i]].spool == b->layers->extra_bleed) return 1;
    for (size_t i = first; i < b->n_touched; i++) {
        uint32_t port = b->touched[i], comp = plant->ports[port].comp;
        if (!still_outlet_bleeds(k->zone->plant, comp) || through_stub(k, port) == STILL_NONE)
            continue;
        if (best == STILL_NONE ||
            strcmp(still_id_of(plant, comp), still_id_of(plant, plant->ports[best].comp)) < 0)
            best = port;
    }
    return best == STILL_NONE ? 0 : spell(k, through_stub(k, best));
}

still_status still_bleeds_check(still_bleeds *b, const uint8_t *label, uint8_t which,
                                const uint8_t *locked, still_bleed_tell tell, void *arg)
{
    const still_zone *zone = b->layers->zone;
    look k = {b, zone, label, which, locked};
    uint32_t number = 0, n_passed = 0;
    still_status status = STILL_OK;
    if (which == 1) find_touching(&k);
    for (size_t i = 0; i < b->n_touched; i++) b->room[b->touched[i]] = 0;
    b->n_touched = 0;
    b->gap = false;
    b->n_checks++;
    b->n_pieces = b->n_devices = b->n_lock = 0;
    for (size_t i = 0; i < zone->n_ports && status == STILL_OK; i++) {
        uint32_t port = zone->ports[i];
        if (b->room[port] != 0 || !in_space(&k, port) || !asked(&k, port)) continue;
        size_t first = fill(&k, port, ++number);
        size_t n_way = serve(&k, first);
        if (tell != NULL && !tell(arg, b->touched + first, b->n_touched - first, b->queue, n_way))
            status = STILL_E_NOMEM;
        if (n_way > 0 || (b->gap && !b->all_gaps)) continue;
        if (n_passed++ < b->pass_over) continue;
        b->gap = true;
        b->gap0 = first;
        for (size_t j = first; j < b->n_touched; j++) note_port(&k, b->touched[j]);
        if (tell == NULL && !b->all_gaps) break;
    }
    return status;
}

/* Labels as wide as a space with this label can ever be. */
void still_bleeds_widest(const still_layers *l, const still_case *root, uint8_t which,
                         uint8_t *label)
{
    const still_zone *zone = l->zone;
    for (uint32_t p = 0; p < zone->n_pieces; p++) {
        const still_piece *piece = &zone->pieces[p];
        bool may = which == 0 ? piece->work || (still_in_play(piece) && root->low[p] == 0)
                              : still_in_play(piece) && !piece->work && piece->top >= 1 &&
                                    piece->outside == 2 && !l->never_between[p];
        label[p] = may ? which : which == 1 && piece->work ? 0 : piece->outside;
    }
}

still_status still_bleeds_rule_out(still_bleeds *b, still_layers *l, still_case *root)
{
    still_status status = STILL_OK;
    const still_asked *asks = l->zone->asked;
    uint8_t *label = still_calloc(l->zone->n_pieces + l->zone->n_devices + 1, 1);
    if (label == NULL) return STILL_E_NOMEM;
    /* The spaces are as wide as they can be, so each gap is one by itself. */
    b->all_gaps = true;
    for (uint8_t which = 0; which < 2 && status == STILL_OK; which++) {
        if (which == 0 ? !asks->bleed_work : !asks->bleed_between) continue;
        do {
            still_bleeds_widest(l, root, which, label);
            status = still_bleeds_check(b, label, which, NULL, NULL, NULL);
            bool stuck = false;
            for (uint32_t i = 0; i < b->n_pieces && status == STILL_OK && b->gap; i++) {
                uint32_t p = b->pieces[i];
                if (which == 1) {
                    l->never_between[p] = 1;
                } else {
                    root->low[p] = 1;
                    if (l->zone->pieces[p].work) stuck = true;
                }
            }
            if (stuck) break; /* the work itself can't be bled: no case is feasible */
        } while (status == STILL_OK && b->gap);
    }
    b->all_gaps = false;
    still_free(label);
    return status;
}
