/* Interned strings.
 * Problem: a plant names a million things, most of them several times; no allocation an item.
 * Method: one growing text, one array of offsets, an open-addressing table with linear probing,
 * at most two thirds full. In a large table each look costs a miss of the processor's caches, so
 * what was named lately is looked up in a small table first, and callers that know early what they
 * will ask for can have the slot fetched (still_names_expect).
 * Cost: expected constant for each call; 4 bytes of offset and 6 to 12 of slots a name. */
#include "names.h"

#include "alloc.h"

#include <string.h>

enum { LATE = 4096 };

struct still_name_late {
    uint32_t hash, name;
};

/* Multiplication and shift, eight bytes at a time; the last step is the finalizer of MurmurHash3
 * (A. Appleby, public domain), so that all bits are of use. */
uint32_t still_names_hash(const char *s, size_t len)
{
    const uint64_t k = 0x9E3779B97F4A7C15u;
    uint64_t h = len * k, w;
    for (; len >= 8; s += 8, len -= 8) {
        memcpy(&w, s, 8);
        h = (h ^ w) * k;
        h ^= h >> 29;
    }
    if (len >= 4) {
        uint32_t a, b;
        memcpy(&a, s, 4);
        memcpy(&b, s + len - 4, 4);
        w = (uint64_t)a << 32 | b;
    } else {
        w = 0;
        for (size_t i = 0; i < len; i++) w = w << 8 | (unsigned char)s[i];
    }
    h = (h ^ w) * k;
    h ^= h >> 33;
    h *= 0xFF51AFD7ED558CCDu;
    h ^= h >> 33;
    return (uint32_t)h;
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
    names->late = still_calloc(LATE, sizeof names->late[0]);
    if (names->slots == NULL || names->late == NULL ||
        !still_grow(&names->text, &names->text_cap, 64, 1) ||
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
    still_free(names->late);
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

/* Is this the text of a name? All texts stand in one block that ends with a zero. */
static bool is(const still_names *names, uint32_t name, const char *s, size_t len)
{
    const char *have = names->text + names->offset[name];
    return strncmp(have, s, len) == 0 && have[len] == '\0';
}

static size_t slot_of(const still_names *names, const char *s, size_t len, uint32_t hash)
{
    size_t mask = names->n_slots - 1;
    size_t i = place_in(hash, mask);
    while (names->slots[i] != 0) {
        if (tag_matches(names, names->slots[i], hash) &&
            is(names, number_in(names, names->slots[i]), s, len))
            break;
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
    uint32_t *fresh = still_calloc_table(n, sizeof fresh[0]);
    if (fresh == NULL) return false;
    still_free(names->slots);
    names->slots = fresh;
    names->n_slots = n;
    for (uint32_t k = 1; k < names->n; k++) {
        const char *s = names->text + names->offset[k];
        uint32_t hash = still_names_hash(s, strlen(s));
        size_t i = place_in(hash, n - 1);
        while (fresh[i] != 0) i = (i + 1) & (n - 1);
        fill_slot(names, i, k, hash);
    }
    return true;
}

void still_names_expect(const still_names *names, const char *s, size_t len)
{
#if defined(__GNUC__)
    if (len > 0)
        __builtin_prefetch(&names->slots[place_in(still_names_hash(s, len), names->n_slots - 1)]);
#else
    (void)names, (void)s, (void)len;
#endif
}

bool still_names_reserve(still_names *names, size_t n)
{
    while (names->n_slots / 3 * 2 < n && names->n_slots <= SIZE_MAX / 16)
        if (!rehash(names)) return false;
    return true;
}

bool still_names_add(still_names *names, const char *s, size_t len, still_name *out)
{
    if (len == 0) {
        out->v = 0;
        return true;
    }
    uint32_t hash = still_names_hash(s, len);
    struct still_name_late *late = &names->late[hash % LATE];
    if (late->hash == hash && is(names, late->name, s, len)) {
        out->v = late->name;
        return true;
    }
    size_t i = slot_of(names, s, len, hash);
    if (names->slots[i] != 0) {
        out->v = number_in(names, names->slots[i]);
        *late = (struct still_name_late){hash, out->v};
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
    *late = (struct still_name_late){hash, k};
    return true;
}

bool still_names_find(const still_names *names, const char *s, size_t len, still_name *out)
{
    if (len == 0) {
        out->v = 0;
        return true;
    }
    size_t i = slot_of(names, s, len, still_names_hash(s, len));
    if (names->slots[i] == 0) return false;
    out->v = number_in(names, names->slots[i]);
    return true;
}

void still_names_close(still_names *names)
{
    still_free(names->slots);
    still_free(names->late);
    names->slots = NULL;
    names->late = NULL;
    names->n_slots = 0;
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
