/** @file names.h  Interned strings: equal text, equal number. */
#ifndef STILL_NAMES_H
#define STILL_NAMES_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

/** An interned string. 0 is the empty string, also used for "not said". */
typedef struct still_name {
    uint32_t v;
} still_name;

/** A table of interned strings; all in a few arrays, no allocation a string. */
typedef struct still_names {
    char *text; /**< all strings, each with its zero */
    size_t text_len, text_cap;
    uint32_t *offset; /**< by name */
    size_t n, offset_cap;
    uint32_t *slots;              /**< open addressing: name number, hash bits above it; 0 = free */
    size_t n_slots;               /**< a power of two */
    struct still_name_late *late; /**< by hash: names added or found lately */
} still_names;

/** Make an empty table. @return false when memory is out. Pair: still_names_clear. */
bool still_names_init(still_names *names);
void still_names_clear(still_names *names);
/** Intern len bytes (no zero among them). @return false when memory is out or 4 GiB are passed. */
bool still_names_add(still_names *names, const char *s, size_t len, still_name *out);
/** Make room in the table for n strings in all. @return false when memory is out. */
bool still_names_reserve(still_names *names, size_t n);
/** A string will be added or looked up soon: have its place fetched. */
void still_names_expect(const still_names *names, const char *s, size_t len);
/** Look a string up. @return false when it is not in the table. */
bool still_names_find(const still_names *names, const char *s, size_t len, still_name *out);
/** Text of a name; borrowed, and moved by still_names_add. */
static inline const char *still_names_text(const still_names *names, still_name name)
{
    return names->text + names->offset[name.v];
}
/** Give back the room that was kept for growth, and the table of strings: nothing is added or
 *  looked up any more. */
void still_names_close(still_names *names);
/** Hash of a string, all 32 bits of use. */
uint32_t still_names_hash(const char *s, size_t len);

#endif
