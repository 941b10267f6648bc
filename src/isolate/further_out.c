/* What lies further out than its label says.
 * Problem: behind a space between, what a point closes off may have got label 0, or 1 behind an
 * extra point. The point is then not rated against it, though it lies further from the work (D7).
 * Method: count points from the work; where a side further out does not hold, split. Why it is
 * right: docs/METHOD.md, 3.4. Cost: linear in the zone. */
#include "cases.h"

#include "alloc.h"

/* Sides a and b of a device are joined, as the labelling has it. */
static bool sides_joined(const still_run *r, const still_open_case *o, uint32_t d, int a, int b)
{
    const still_zone *zone = r->layers->zone;
    const still_device *dev = &zone->devices[d];
    if (!still_is_point(zone, o->l.label, dev)) return true;
    if (dev->n == 2) return false;
    uint8_t set = still_three_way_stands(zone, o, d);
    return set > 0 && (dev->joined[set - 1] >> a & dev->joined[set - 1] >> b & 1) != 0;
}

/* Points on the way from the work to each piece: 0, 1, or 2 and more. */
static void count_away(const still_run *r, const still_open_case *o, uint8_t *away, uint32_t *queue)
{
    const still_zone *zone = r->layers->zone;
    for (uint32_t p = 0; p < zone->n_pieces; p++) away[p] = zone->pieces[p].work ? 0 : 2;
    for (uint8_t level = 0; level < 2; level++) {
        size_t n = 0;
        for (uint32_t p = 0; p < zone->n_pieces; p++)
            if (away[p] == level) queue[n++] = p;
        for (size_t i = 0; i < n; i++) {
            const still_piece *piece = &zone->pieces[queue[i]];
            for (uint32_t j = 0; j < piece->n_devs; j++) {
                uint32_t d = zone->piece_devs[piece->dev0 + j];
                const still_device *dev = &zone->devices[d];
                for (int a = 0; a < dev->n; a++)
                    for (int b = 0; b < dev->n; b++) {
                        uint32_t q = dev->piece[b];
                        if (a == b || dev->piece[a] != queue[i] || q == STILL_NONE ||
                            !still_in_play(&zone->pieces[q]))
                            continue;
                        uint8_t to = (uint8_t)(level + !sides_joined(r, o, d, a, b));
                        if (to >= away[q]) continue;
                        away[q] = to;
                        if (to == level) queue[n++] = q;
                    }
            }
        }
    }
}

/* All pieces two points away or more that are joined to the first in the queue by such pieces, over
 * points too, but for what has label 2. @return how many */
static size_t fill_part(const still_run *r, const still_open_case *o, const uint8_t *away,
                        uint8_t *met, uint32_t *queue)
{
    const still_zone *zone = r->layers->zone;
    size_t n = 1;
    met[queue[0]] = 1;
    for (size_t i = 0; i < n; i++) {
        const still_piece *piece = &zone->pieces[queue[i]];
        for (uint32_t j = 0; j < piece->n_devs; j++) {
            const still_device *dev = &zone->devices[zone->piece_devs[piece->dev0 + j]];
            for (int k = 0; k < dev->n; k++) {
                uint32_t q = dev->piece[k];
                if (q == STILL_NONE || met[q] || zone->pieces[q].work ||
                    !still_in_play(&zone->pieces[q]) || away[q] < 2 || o->l.label[q] >= 2)
                    continue;
                met[q] = 1;
                queue[n++] = q;
            }
        }
    }
    return n;
}

/* A dead end beyond a space between may have got label 0, and one that an extra point closes off
 * label 1. What closes it off is then not taken for a point against it, though it lies further out,
 * and has to hold (D7). @return the piece on the side that does not hold, or STILL_NONE */
static uint32_t weak_side(const still_run *r, const still_open_case *o, const uint8_t *away)
{
    const still_zone *zone = r->layers->zone;
    for (uint32_t i = 0; i < zone->n_devices; i++) {
        const still_device *d = &zone->devices[i];
        if (!still_is_point(zone, o->l.label, d)) continue;
        for (int a = 0; a < d->n; a++)
            for (int b = 0; b < d->n; b++) {
                uint32_t q = d->piece[b];
                if (a == b || away[q] <= away[d->piece[a]] || zone->pieces[q].wall ||
                    sides_joined(r, o, i, a, b))
                    continue;
                /* Any choice at all: nothing is locked for what lies further out. */
                bool pays = r->diving && o->l.label[q] == 0;
                if (!d->holds[b] || pays) return q;
            }
    }
    return STILL_NONE;
}

/* Such a part lies as far out as it does while all of it keeps its labels and what closes it off,
 * and parts it, is closed. */
static still_status split_apart(still_run *r, const still_open_case *o, uint32_t first,
                                const uint8_t *away, uint8_t *met, uint32_t *queue)
{
    const still_zone *zone = r->layers->zone;
    still_split s = still_split_begin(r, o, o->for_d4);
    queue[0] = first;
    size_t n = fill_part(r, o, away, met, queue);
    bool more = s.status == STILL_OK;
    for (size_t i = 0; i < n && more; i++)
        more = still_split_hold(&s, queue[i], o->l.label[queue[i]]);
    for (size_t i = 0; i < n && more; i++)
        for (uint32_t j = 0; j < zone->pieces[queue[i]].n_devs; j++) {
            uint32_t d = zone->piece_devs[zone->pieces[queue[i]].dev0 + j];
            if (still_is_point(zone, o->l.label, &zone->devices[d]) && !o->c.extra[d])
                still_split_alike(&s, d);
        }
    return still_split_end(&s);
}

/* @param[out] found  there is one: the case was split */
still_status still_split_further_out(still_run *r, const still_open_case *o, bool *found)
{
    const still_zone *zone = r->layers->zone;
    *found = false;
    if (!zone->asked->bleed_between) return STILL_OK;
    still_status status = STILL_OK;
    uint8_t *met = still_calloc(zone->n_pieces + 1, 2), *away = NULL;
    uint32_t *queue = still_calloc(zone->n_pieces + 1, sizeof queue[0]);
    if (met == NULL || queue == NULL) {
        status = STILL_E_NOMEM;
    } else {
        away = met + zone->n_pieces;
        count_away(r, o, away, queue);
        uint32_t weak = weak_side(r, o, away);
        *found = weak != STILL_NONE;
        if (*found) status = split_apart(r, o, weak, away, met, queue);
    }
    still_free(met);
    still_free(queue);
    return status;
}
