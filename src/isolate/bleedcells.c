/* Cells, and the doors between them.
 * Problem: parts of a space between that are joined without any device that could be a point, what
 * joins them (E1), and which of them have an outlet of use (E4). Method: the check of compartments
 * with every device closed. Cost: linear in the zone; for each outlet its stub. */
#include "bleedways.h"

#include "alloc.h"
#include "isolation.h"
#include "space.h"

#include <string.h>

typedef struct building {
    still_bleed_ways *ways;
    still_bleeds *bleeds;
    const uint8_t *widest; /* labels with no point at all: stubs are looked at with these */
    uint32_t *cell_of;     /* by port: 1 + cell */
    uint32_t *piece, n;    /* cells as they are told */
    uint8_t *bled, *asked;
    size_t piece_cap, bled_cap, asked_cap;
} building;

static bool take_cell(void *arg, const uint32_t *ports, size_t n_ports, const uint32_t *way,
                      size_t n_way)
{
    building *b = arg;
    const still_layers *l = b->ways->layers;
    const still_plant *plant = l->zone->plant;
    (void)way;
    (void)n_way;
    if (!still_grow(&b->piece, &b->piece_cap, b->n + 1, sizeof b->piece[0]) ||
        !still_grow(&b->bled, &b->bled_cap, b->n + 1, 1) ||
        !still_grow(&b->asked, &b->asked_cap, b->n + 1, 1))
        return false;
    uint32_t k = b->n++;
    b->piece[k] = l->zone->piece_of_port[ports[0]] - 1;
    b->bled[k] = 0;
    b->asked[k] = still_asked_at(l->zone->asked, ports[0]) == STILL_GRADE_DOUBLE_BLEED;
    for (size_t i = 0; i < n_ports; i++) {
        b->cell_of[ports[i]] = k + 1;
        if (l->extra_bleed != STILL_NONE && plant->ports[ports[i]].spool == l->extra_bleed)
            b->bled[k] = 2;
    }
    return true;
}

static bool joins(const still_zone *zone, const still_device *d)
{
    return zone->plant->comps[d->comp].cls == STILL_CLASS_SPOOL ||
           still_passage_of(zone->plant, zone->state, d->comp) != STILL_PASSAGE_PARTS;
}

/* Doors of all cells: counted, or written. */
static void list_doors(const building *b, bool write)
{
    still_bleed_ways *w = b->ways;
    const still_zone *zone = w->layers->zone;
    for (uint32_t i = 0; i < zone->n_devices; i++) {
        const still_device *d = &zone->devices[i];
        if (!joins(zone, d)) continue;
        for (uint8_t near = 0; near < d->n; near++)
            for (uint8_t far = 0; far < d->n; far++) {
                uint32_t from = b->cell_of[d->port[near]], to = b->cell_of[d->port[far]];
                if (near == far || from == 0 || to == 0 || from == to) continue;
                if (write) w->doors[w->door0[from - 1]] = (still_bleed_door){to - 1, i, near, far};
                w->door0[from - 1]++;
            }
    }
}

static still_status build_doors(const building *b)
{
    still_bleed_ways *w = b->ways;
    w->door0 = still_calloc((size_t)w->n_cells + 1, sizeof w->door0[0]);
    if (w->door0 == NULL) return STILL_E_NOMEM;
    list_doors(b, false);
    uint32_t sum = 0;
    for (uint32_t k = 0; k <= w->n_cells; k++) {
        uint32_t n = w->door0[k];
        w->door0[k] = sum;
        sum += n;
    }
    w->doors = still_calloc((size_t)sum + 1, sizeof w->doors[0]);
    if (w->doors == NULL) return STILL_E_NOMEM;
    list_doors(b, true);
    for (uint32_t k = w->n_cells; k > 0; k--) w->door0[k] = w->door0[k - 1];
    w->door0[0] = 0;
    return STILL_OK;
}

/* Isolators by piece: counted, or written. */
static void list_feeds(still_bleed_ways *w, const uint8_t *always, bool write)
{
    const still_layers *l = w->layers;
    const still_zone *zone = l->zone;
    for (size_t i = 0; i < l->n_entries; i++) {
        const still_entry *e = &l->entries[i];
        if (e->below != 1 || always[e->isolator]) continue;
        if (write) w->feeds[w->feed0[e->piece]] = e->isolator;
        w->feed0[e->piece]++;
    }
    for (uint32_t i = 0; i < zone->n_devices; i++) {
        const still_device *d = &zone->devices[i];
        size_t n;
        const still_comp_feed *feeds = still_comp_feeds(zone->plant, d->comp, &n);
        for (size_t j = 0; j < n; j++) {
            uint32_t key = still_isolator_feed(zone->plant, feeds[j].feed), e = 0;
            while (e < l->n_isolators && l->isolators[e] != key) e++;
            for (int k = 0; k < d->n && e < l->n_isolators && !always[e]; k++) {
                if (d->piece[k] == STILL_NONE) continue;
                if (write) w->feeds[w->feed0[d->piece[k]]] = e;
                w->feed0[d->piece[k]]++;
            }
        }
    }
}

static still_status build_feeds(still_bleed_ways *w)
{
    const still_layers *l = w->layers;
    size_t n = l->zone->n_pieces;
    uint8_t *always = still_calloc(l->n_isolators + 1, 1);
    w->feed0 = still_calloc(n + 1, sizeof w->feed0[0]);
    still_status status = STILL_E_NOMEM;
    if (always == NULL || w->feed0 == NULL) goto out;
    for (size_t i = 0; i < l->n_entries; i++)
        if (l->zone->pieces[l->entries[i].piece].work) always[l->entries[i].isolator] = 1;
    list_feeds(w, always, false);
    uint32_t sum = 0;
    for (size_t p = 0; p <= n; p++) {
        uint32_t here = w->feed0[p];
        w->feed0[p] = sum;
        sum += here;
    }
    w->feeds = still_calloc((size_t)sum + 1, sizeof w->feeds[0]);
    if (w->feeds == NULL) goto out;
    list_feeds(w, always, true);
    for (size_t p = n; p > 0; p--) w->feed0[p] = w->feed0[p - 1];
    w->feed0[0] = 0;
    status = STILL_OK;
out:
    still_free(always);
    return status;
}

/* Is the outlet of some port of this cell of use with these isolators locked? */
static bool of_use(const building *b, const uint32_t *ports, size_t n, const uint8_t *locked)
{
    for (size_t i = 0; i < n; i++)
        if (still_bleeds_outlet(b->bleeds, b->widest, ports[i], locked)) return true;
    return false;
}

/* Isolators without which no outlet of a cell is of use. */
static still_status list_needs(building *b)
{
    still_bleed_ways *w = b->ways;
    const still_layers *l = w->layers;
    const still_zone *zone = l->zone;
    uint8_t *locked = still_calloc(l->n_isolators + 1, 1);
    uint32_t *wanted = still_calloc(l->n_isolators + 1, sizeof wanted[0]);
    uint32_t *ports = still_calloc(zone->n_ports + 1, sizeof ports[0]);
    w->need0 = still_calloc((size_t)w->n_cells + 1, sizeof w->need0[0]);
    still_status status = STILL_E_NOMEM;
    if (locked == NULL || wanted == NULL || ports == NULL || w->need0 == NULL) goto out;
    status = STILL_OK;
    for (uint32_t k = 0; k < w->n_cells && status == STILL_OK; k++) {
        size_t n = 0;
        w->need0[k + 1] = (uint32_t)w->n_needs;
        if (!w->bled[k] || (w->bled[k] & 2) != 0) continue;
        for (uint32_t i = 0; i < zone->pieces[w->piece[k]].n_ports; i++) {
            uint32_t port = zone->ports[zone->pieces[w->piece[k]].port0 + i];
            if (w->cell_of[port] == k + 1) ports[n++] = port;
        }
        memset(locked, 0, l->n_isolators);
        b->bleeds->n_lock = 0;
        if (of_use(b, ports, n, locked)) continue;
        uint32_t n_wanted = b->bleeds->n_lock;
        if (n_wanted > 0) memcpy(wanted, b->bleeds->lock, n_wanted * sizeof wanted[0]);
        memset(locked, 1, l->n_isolators);
        for (uint32_t i = 0; i < n_wanted && status == STILL_OK; i++) {
            locked[wanted[i]] = 0;
            if (!of_use(b, ports, n, locked)) {
                if (still_grow(&w->needs, &w->needs_cap, w->n_needs + 1, sizeof w->needs[0]))
                    w->needs[w->n_needs++] = wanted[i];
                else
                    status = STILL_E_NOMEM;
            }
            locked[wanted[i]] = 1;
        }
        w->need0[k + 1] = (uint32_t)w->n_needs;
    }
out:
    still_free(locked);
    still_free(wanted);
    still_free(ports);
    return status;
}

still_status still_bleed_ways_build(still_bleed_ways *w, still_bleeds *bleeds,
                                    const still_case *root)
{
    const still_layers *l = bleeds->layers;
    const still_zone *zone = l->zone;
    const still_plant *plant = zone->plant;
    *w = (still_bleed_ways){.layers = l};
    building b = {.ways = w, .bleeds = bleeds};
    still_status status = STILL_E_NOMEM;
    uint8_t *label = still_calloc(zone->n_pieces + zone->n_devices + 1, 1);
    b.cell_of = still_calloc(plant->n_ports + 1, sizeof b.cell_of[0]);
    if (label == NULL || b.cell_of == NULL) goto out;
    for (uint32_t p = 0; p < zone->n_pieces; p++) {
        const still_piece *piece = &zone->pieces[p];
        bool may = !piece->work && still_in_play(piece) && piece->outside == 2;
        label[p] = may ? 1 : piece->work ? 0 : piece->outside;
    }
    memset(label + zone->n_pieces, 1, zone->n_devices);
    bleeds->everywhere = true;
    status = still_bleeds_check(bleeds, label, 1, NULL, take_cell, &b);
    bleeds->everywhere = false;
    memset(label + zone->n_pieces, 0, zone->n_devices);
    still_bleeds_widest(l, root, 1, label);
    for (size_t i = 0; i < zone->n_ports && status == STILL_OK; i++) {
        uint32_t port = zone->ports[i];
        if (b.cell_of[port] != 0 && still_bleeds_outlet(bleeds, label, port, NULL))
            b.bled[b.cell_of[port] - 1] |= 1;
    }
    w->piece = b.piece;
    w->bled = b.bled;
    w->asked = b.asked;
    w->n_cells = b.n;
    w->cell_of = b.cell_of;
    if (status == STILL_OK) status = build_doors(&b);
    if (status == STILL_OK) status = build_feeds(w);
    b.widest = label;
    if (status == STILL_OK && b.n > 0) status = list_needs(&b);
out:
    still_free(label);
    if (w->cell_of == NULL) still_free(b.cell_of);
    return status;
}

void still_bleed_ways_clear(still_bleed_ways *w)
{
    still_free(w->cell_of);
    still_free(w->need0);
    still_free(w->needs);
    still_free(w->piece);
    still_free(w->bled);
    still_free(w->asked);
    still_free(w->door0);
    still_free(w->doors);
    still_free(w->feed0);
    still_free(w->feeds);
    *w = (still_bleed_ways){0};
}
