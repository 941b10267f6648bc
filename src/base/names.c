/* Interned strings.
 * Problem: a plant names a million things, most of them several times; no allocation an item.
 * Method: one growing text, one array of offsets, an open-addressing table with linear probing,
 * at most two thirds full, FNV-1a (Fowler, Noll, Vo; IETF draft "The FNV Non-Cryptographic Hash
 * Algorithm") over the bytes.
 * Cost: expected constant for each call; 4 bytes of offset and 6 to 12 of slots a name. */
#include "names.h"

#include "alloc.h"

#include <string.h>

static uint32_t hash_of(const char *s, size_t len)
{
    uint32_t h = 2166136261u;
    for (size_t i = 0; i < len; i++) h = (h ^ (unsigned char)s[i]) * 16777619u;
    h ^= h >> 16; /* finalizer of MurmurHash3 (A. Appleby, public domain): spreads all bits */
    h *= 0x85EBCA6Bu;
    h ^= h >> 13;
    h *= 0xC2B2AE35u;
    return h ^ (h >> 16);
}

/* First slot to look at. The low bits of the hash; the high ones are kept in the slot. */
static size_t place_in(uint32_t hash, size_t mask)
{
    return (size_t)hash & mask;
}

bool still_names_init(still_names *names)
{
    memset(names, 0, sizeof *names);
    names->n_slots = 64;
    names->slots = still_calloc(names->n_slots, sizeof names->slots[0]);
    if (names->slots == NULL) return false;
    if (!still_grow(&names->text, &names->text_cap, 64, 1) ||
        !still_grow(&names->offset, &names->offset_cap, 16, sizeof names->offset[0])) {
        still_names_clear(names);
        return false;
    }
    names->text[0] = '\0';
    names->text_len = 1;
    names->offset[0] = 0;
    names->n = 1;
    return true;
}

void still_names_clear(still_names *names)
{
    still_free(names->text);
    still_free(names->offset);
    still_free(names->slots);
    memset(names, 0, sizeof *names);
}

/* A slot holds a name's number in as many low bits as the table's size needs, and above them bits
 * of its hash: so most slots that do not match are passed without a look at the text. */
static bool tag_matches(const still_names *names, uint32_t slot, uint32_t hash)
{
    return ((slot ^ hash) & ~(uint32_t)(names->n_slots - 1)) == 0;
}

static uint32_t number_in(const still_names *names, uint32_t slot)
{
    return slot & (uint32_t)(names->n_slots - 1);
}

static size_t slot_of(const still_names *names, const char *s, size_t len, uint32_t hash)
{
    size_t mask = names->n_slots - 1;
    size_t i = place_in(hash, mask);
    while (names->slots[i] != 0) {
        if (tag_matches(names, names->slots[i], hash)) {
            const char *have = names->text + names->offset[number_in(names, names->slots[i])];
            if (strncmp(have, s, len) == 0 && have[len] == '\0') break;
        }
        i = (i + 1) & mask;
    }
    return i;
}

static void fill_slot(still_names *names, size_t i, uint32_t number, uint32_t hash)
{
    uint32_t mask = (uint32_t)(names->n_slots - 1);
    names->slots[i] = (hash & ~mask) | number;
}

static bool rehash(still_names *names)
{
    size_t n = names->n_slots * 2;
    uint32_t *fresh = still_calloc(n, sizeof fresh[0]);
    if (fresh == NULL) return false;
    still_free(names->slots);
    names->slots = fresh;
    names->n_slots = n;
    for (uint32_t k = 1; k < names->n; k++) {
        const char *s = names->text + names->offset[k];
        uint32_t hash = hash_of(s, strlen(s));
        size_t i = place_in(hash, n - 1);
        while (fresh[i] != 0) i = (i + 1) & (n - 1);
        fill_slot(names, i, k, hash);
    }
    return true;
}

bool still_names_add(still_names *names, const char *s, size_t len, still_name *out)
{
    if (len == 0) {
        out->v = 0;
        return true;
    }
    uint32_t hash = hash_of(s, len);
    size_t i = slot_of(names, s, len, hash);
    if (names->slots[i] != 0) {
        out->v = number_in(names, names->slots[i]);
        return true;
    }
    if (len >= UINT32_MAX - names->text_len || names->n >= UINT32_MAX / 2) return false;
    if (!still_grow(&names->text, &names->text_cap, names->text_len + len + 1, 1) ||
        !still_grow(&names->offset, &names->offset_cap, names->n + 1, sizeof names->offset[0]))
        return false;
    if (names->n * 3 >= names->n_slots * 2) {
        if (!rehash(names)) return false;
        i = slot_of(names, s, len, hash);
    }
    uint32_t k = (uint32_t)names->n++;
    names->offset[k] = (uint32_t)names->text_len;
    memcpy(names->text + names->text_len, s, len);
    names->text[names->text_len + len] = '\0';
    names->text_len += len + 1;
    fill_slot(names, i, k, hash);
    out->v = k;
    return true;
}

bool still_names_find(const still_names *names, const char *s, size_t len, still_name *out)
{
    if (len == 0) {
        out->v = 0;
        return true;
    }
    size_t i = slot_of(names, s, len, hash_of(s, len));
    if (names->slots[i] == 0) return false;
    out->v = number_in(names, names->slots[i]);
    return true;
}

void still_names_trim(still_names *names)
{
    void *p = still_realloc(names->text, names->text_len, 1);
    if (p != NULL) {
        names->text = p;
        names->text_cap = names->text_len;
    }
    p = still_realloc(names->offset, names->n, sizeof names->offset[0]);
    if (p != NULL) {
        names->offset = p;
        names->offset_cap = names->n;
    }
}
