/** @file arena.h  Memory that is freed all at once: one arena a plant, one a result. */
#ifndef STILL_ARENA_H
#define STILL_ARENA_H

#include <stddef.h>

struct still_messages;

typedef struct still_arena {
    struct still_arena_block *head;
    const struct still_messages *messages; /**< language of what is said in it; NULL = English */
} still_arena;

/** Make an empty arena in place; takes no memory yet. */
void still_arena_init(still_arena *arena);
/** Free everything in it; the arena is empty again. */
void still_arena_clear(still_arena *arena);
/** Zeroed room for n items of the given size, aligned for any type; NULL when memory is out.
 *  n or size 0 gives a valid pointer. Lives until still_arena_clear. */
void *still_arena_alloc(still_arena *arena, size_t n, size_t size);
/** Copy of a string; NULL when memory is out. */
const char *still_arena_str(still_arena *arena, const char *s);
/** Formatted string, in the arena's language (messages.h); NULL when memory is out. */
#if defined(__GNUC__)
__attribute__((format(printf, 2, 3)))
#endif
const char *
still_arena_printf(still_arena *arena, const char *format, ...);

/** A word of a closed vocabulary ("open", "pump") in the arena's language: for a place in a
 *  sentence. Texts given for "%s" are looked up by themselves only where a space is in them. */
const char *still_arena_word(const still_arena *arena, const char *word);

#define STILL_ARENA_NEW(arena, n, type) ((type *)still_arena_alloc((arena), (n), sizeof(type)))

#endif
