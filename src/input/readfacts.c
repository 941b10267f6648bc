/* What components state beyond a few words: runs of facts, equal runs kept once.
 * Problem: most of a plant's spools and valves say the same few things (a bore, a wall, a length);
 * kept for each they would be the largest part of the plant.
 * Method: a run is written at the end of the arrays; when it is whole, a table of runs says
 * whether the same one is there already, and the new one is taken back.
 * Cost: expected linear in the facts read. */
#include "reader.h"

#include "alloc.h"

#include <string.h>

static bool room_for_fact(still_reader *r)
{
    still_plant *p = r->plant;
    if (r->status != STILL_OK) return false;
    if (p->n_facts >= STILL_OWNER_INDEX)
        r->status = STILL_E_LIMIT;
    else if (!still_grow(&p->fact_what, &r->cap_fact_what, p->n_facts + 1, sizeof(uint8_t)) ||
             !still_grow(&p->fact_value, &r->cap_fact_value, p->n_facts + 1, sizeof(double)))
        r->status = STILL_E_NOMEM;
    return r->status == STILL_OK;
}

void still_reader_fact(still_reader *r, unsigned what, double value)
{
    still_plant *p = r->plant;
    if (!room_for_fact(r)) return;
    p->fact_what[p->n_facts] = (uint8_t)what;
    p->fact_value[p->n_facts++] = value;
}

/* Facts before the end mark. */
static uint32_t length_of(const still_plant *p, uint32_t run)
{
    uint32_t n = 0;
    while (p->fact_what[run + n] != STILL_FACT_END) n++;
    return n;
}

static uint32_t hash_of(const still_plant *p, uint32_t run)
{
    uint64_t h = 0x9E3779B97F4A7C15u, bits;
    for (uint32_t i = run; p->fact_what[i] != STILL_FACT_END; i++) {
        memcpy(&bits, &p->fact_value[i], sizeof bits);
        h = (h ^ p->fact_what[i] ^ bits) * 0xFF51AFD7ED558CCDu; /* mixer of MurmurHash3 */
        h ^= h >> 32;
    }
    return (uint32_t)h;
}

static bool same(const still_plant *p, uint32_t a, uint32_t b)
{
    uint32_t n = length_of(p, a);
    return n == length_of(p, b) && memcmp(p->fact_what + a, p->fact_what + b, n) == 0 &&
           memcmp(p->fact_value + a, p->fact_value + b, n * sizeof(double)) == 0;
}

/* Runs are entered as their start and 1, so that 0 is free. */
static uint32_t slot_of(const still_reader *r, uint32_t run)
{
    uint32_t mask = r->n_fact_slots - 1, i = hash_of(r->plant, run) & mask;
    while (r->fact_slots[i] != 0 && !same(r->plant, r->fact_slots[i] - 1, run)) i = (i + 1) & mask;
    return i;
}

static bool grow_table(still_reader *r)
{
    uint32_t n = r->n_fact_slots == 0 ? 64 : r->n_fact_slots * 2, n_old = r->n_fact_slots;
    uint32_t *fresh = still_calloc(n, sizeof fresh[0]), *old = r->fact_slots;
    if (fresh == NULL) return false;
    r->fact_slots = fresh;
    r->n_fact_slots = n;
    for (uint32_t i = 0; i < n_old; i++)
        if (old[i] != 0) fresh[slot_of(r, old[i] - 1)] = old[i];
    still_free(old);
    return true;
}

uint32_t still_reader_facts_end(still_reader *r, uint32_t start)
{
    still_plant *p = r->plant;
    if (!room_for_fact(r)) return 0;
    p->fact_what[p->n_facts] = STILL_FACT_END;
    p->fact_value[p->n_facts++] = 0.0;
    if (r->n_runs >= r->n_fact_slots / 3 * 2 && !grow_table(r)) {
        r->status = STILL_E_NOMEM;
        return 0;
    }
    uint32_t i = slot_of(r, start);
    if (r->fact_slots[i] != 0) {
        p->n_facts = start;
        return r->fact_slots[i] - 1;
    }
    r->fact_slots[i] = start + 1;
    r->n_runs++;
    return start;
}
