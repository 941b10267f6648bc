/* A queue of nodes (binary heap), each set and place once (open addressing), and a table of states.
 */
#include "frontier.h"

#include "alloc.h"

#include <string.h>

int still_toll_compare(const still_toll *a, const still_toll *b)
{
    for (int k = 0; k < STILL_ORDERING_RULES; k++)
        if (a->breaches[k] != b->breaches[k]) return a->breaches[k] < b->breaches[k] ? -1 : 1;
    return a->walks < b->walks ? -1 : a->walks > b->walks;
}

static size_t scatter(uint64_t mask, uint32_t place, size_t n_slots)
{
    uint64_t x = mask * UINT64_C(0x9E3779B97F4A7C15) + place;
    x ^= x >> 29;
    x *= UINT64_C(0xBF58476D1CE4E5B9);
    x ^= x >> 32;
    return (size_t)(x & (n_slots - 1));
}

/* Slot of a set and place: its node, or an empty one. */
static uint32_t *slot_of(const still_frontier *f, uint64_t mask, uint32_t place)
{
    size_t k = scatter(mask, place, f->n_slots);
    while (f->slots[k] != 0) {
        const still_node *node = &f->nodes[f->slots[k] - 1];
        if (node->mask == mask && node->place == place) break;
        k = (k + 1) & (f->n_slots - 1);
    }
    return &f->slots[k];
}

static bool widen(still_frontier *f)
{
    if ((size_t)f->n * 2 < f->n_slots) return true;
    size_t n_slots = f->n_slots == 0 ? 256 : f->n_slots * 2;
    uint32_t *slots = still_calloc(n_slots, sizeof slots[0]), *old = f->slots;
    size_t n_old = f->n_slots;
    if (slots == NULL) return false;
    f->slots = slots;
    f->n_slots = n_slots;
    for (size_t i = 0; i < n_old; i++)
        if (old[i] != 0) {
            const still_node *node = &f->nodes[old[i] - 1];
            *slot_of(f, node->mask, node->place) = old[i];
        }
    still_free(old);
    return true;
}

static bool goes_first(const still_waiting *a, const still_waiting *b)
{
    int d = still_toll_compare(&a->f, &b->f);
    if (d != 0) return d < 0;
    if (a->steps != b->steps) return a->steps > b->steps;
    return a->node < b->node;
}

static void rise(still_waiting *heap, size_t at)
{
    while (at > 0 && goes_first(&heap[at], &heap[(at - 1) / 2])) {
        still_waiting swap = heap[at];
        heap[at] = heap[(at - 1) / 2];
        heap[(at - 1) / 2] = swap;
        at = (at - 1) / 2;
    }
}

static void sink(still_waiting *heap, size_t n)
{
    for (size_t at = 0;;) {
        size_t least = at, left = 2 * at + 1;
        if (left < n && goes_first(&heap[left], &heap[least])) least = left;
        if (left + 1 < n && goes_first(&heap[left + 1], &heap[least])) least = left + 1;
        if (least == at) return;
        still_waiting swap = heap[at];
        heap[at] = heap[least];
        heap[least] = swap;
        at = least;
    }
}

bool still_frontier_add(still_frontier *f, const still_node *node, const still_toll *toll)
{
    if (!widen(f)) return false;
    uint32_t *slot = slot_of(f, node->mask, node->place);
    if (*slot != 0 && still_toll_compare(&f->nodes[*slot - 1].toll, &node->toll) <= 0) return true;
    if (!still_grow(&f->nodes, &f->nodes_cap, (size_t)f->n + 1, sizeof f->nodes[0]) ||
        !still_grow(&f->heap, &f->heap_cap, f->n_heap + 1, sizeof f->heap[0]))
        return false;
    f->nodes[f->n] = *node;
    f->heap[f->n_heap] = (still_waiting){*toll, f->n, node->steps};
    *slot = ++f->n;
    rise(f->heap, f->n_heap++);
    return true;
}

uint32_t still_frontier_take(still_frontier *f)
{
    while (f->n_heap > 0) {
        uint32_t at = f->heap[0].node;
        f->heap[0] = f->heap[--f->n_heap];
        sink(f->heap, f->n_heap);
        /* One that was reached again at less cost is behind us. */
        if (*slot_of(f, f->nodes[at].mask, f->nodes[at].place) == at + 1) return at;
    }
    return UINT32_MAX;
}

void still_frontier_clear(still_frontier *f)
{
    still_free(f->nodes);
    still_free(f->heap);
    still_free(f->slots);
    *f = (still_frontier){0};
}

struct still_known_item {
    uint64_t mask;
    still_breaches breaches;
    bool used;
};

static struct still_known_item *item_of(const still_known *known, uint64_t mask)
{
    size_t k = scatter(mask, 0, known->n_slots);
    while (known->items[k].used && known->items[k].mask != mask) k = (k + 1) & (known->n_slots - 1);
    return &known->items[k];
}

const still_breaches *still_known_get(const still_known *known, uint64_t mask)
{
    if (known->n_slots == 0) return NULL;
    const struct still_known_item *item = item_of(known, mask);
    return item->used ? &item->breaches : NULL;
}

bool still_known_put(still_known *known, uint64_t mask, const still_breaches *breaches)
{
    if (known->n * 2 >= known->n_slots) {
        still_known wider = {.n_slots = known->n_slots == 0 ? 256 : known->n_slots * 2};
        wider.items = still_calloc(wider.n_slots, sizeof wider.items[0]);
        if (wider.items == NULL) return false;
        for (size_t i = 0; i < known->n_slots; i++)
            if (known->items[i].used) *item_of(&wider, known->items[i].mask) = known->items[i];
        wider.n = known->n;
        still_free(known->items);
        *known = wider;
    }
    struct still_known_item *item = item_of(known, mask);
    known->n += !item->used;
    *item = (struct still_known_item){mask, *breaches, true};
    return true;
}

void still_known_clear(still_known *known)
{
    still_free(known->items);
    *known = (still_known){0};
}
