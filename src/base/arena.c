#include "arena.h"

#include "alloc.h"
#include "messages.h"

#include <stdarg.h>
#include <stdalign.h>
#include <stdint.h>
#include <stdio.h>
#include <string.h>

struct still_arena_block {
    struct still_arena_block *next;
    size_t used, size;
    alignas(max_align_t) unsigned char data[];
};

enum { BLOCK = 32 * 1024 };

void still_arena_init(still_arena *arena)
{
    arena->head = NULL;
    arena->messages = NULL;
}

void still_arena_clear(still_arena *arena)
{
    struct still_arena_block *b = arena->head;
    while (b != NULL) {
        struct still_arena_block *next = b->next;
        still_free(b);
        b = next;
    }
    arena->head = NULL;
}

void *still_arena_alloc(still_arena *arena, size_t n, size_t size)
{
    const size_t unit = alignof(max_align_t);
    if (size != 0 && n > (SIZE_MAX / 2) / size) return NULL;
    size_t bytes = n * size;
    bytes = (bytes + unit - 1) / unit * unit;
    if (bytes == 0) bytes = unit;
    struct still_arena_block *b = arena->head;
#ifdef STILL_ARENA_EACH
    b = NULL;
    const size_t exact = n * size;
    size_t room = exact > 0 ? exact : 1;
#else
    size_t room = bytes > BLOCK / 4 ? bytes : BLOCK;
#endif
    if (b == NULL || b->size - b->used < bytes) {
        /* Zeroed by the system where it is large: what is not touched then costs nothing. */
        b = still_calloc(1, offsetof(struct still_arena_block, data) + room);
        if (b == NULL) return NULL;
        b->size = room;
        b->used = 0;
        /* A block made for one large item goes behind the head, so the head's rest stays in use. */
        if (room == bytes && arena->head != NULL) {
            b->next = arena->head->next;
            arena->head->next = b;
        } else {
            b->next = arena->head;
            arena->head = b;
        }
    }
    void *p = b->data + b->used;
#ifdef STILL_ARENA_EACH
    b->used = b->size;
#else
    b->used += bytes;
#endif
    return p;
}

const char *still_arena_str(still_arena *arena, const char *s)
{
    size_t len = strlen(s);
    char *copy = still_arena_alloc(arena, len + 1, 1);
    if (copy != NULL) memcpy(copy, s, len + 1);
    return copy;
}

/* In another language. */
static const char *say(still_arena *arena, const char *format, va_list args)
{
    still_buf text = STILL_BUF_INIT;
    still_say_args(&text, arena->messages, format, args);
    const char *out = NULL;
    if (!text.failed) out = still_arena_str(arena, text.text != NULL ? text.text : "");
    still_buf_clear(&text);
    return out;
}

const char *still_arena_word(const still_arena *arena, const char *word)
{
    return still_messages_get(arena->messages, word);
}

const char *still_arena_printf(still_arena *arena, const char *format, ...)
{
    va_list args, again;
    va_start(args, format);
    if (arena->messages != NULL) {
        const char *said = say(arena, format, args);
        va_end(args);
        return said;
    }
    va_copy(again, args);
    int len = vsnprintf(NULL, 0, format, args);
    va_end(args);
    char *out = NULL;
    if (len >= 0) {
        out = still_arena_alloc(arena, (size_t)len + 1, 1);
        if (out != NULL) vsnprintf(out, (size_t)len + 1, format, again);
    }
    va_end(again);
    return out;
}
