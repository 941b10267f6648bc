#include "diags.h"

#include "alloc.h"
#include "arena.h"

#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { KEEP = 10000, TEXT_MAX = 1000 };

struct still_diags {
    still_arena arena;
    still_diag *items;
    size_t n, cap;
    size_t errors, warnings, dropped;
};

still_diags *still_diags_new(void)
{
    still_diags *d = still_calloc(1, sizeof *d);
    if (d != NULL) still_arena_init(&d->arena);
    return d;
}

void still_diags_free(still_diags *diags)
{
    if (diags == NULL) return;
    still_arena_clear(&diags->arena);
    still_free(diags->items);
    still_free(diags);
}

size_t still_diags_count(const still_diags *diags)
{
    return diags->n;
}

const still_diag *still_diags_at(const still_diags *diags, size_t i)
{
    return i < diags->n ? &diags->items[i] : NULL;
}

size_t still_diags_errors(const still_diags *diags)
{
    return diags->errors;
}

size_t still_diags_warnings(const still_diags *diags)
{
    return diags->warnings;
}

size_t still_diags_dropped(const still_diags *diags)
{
    return diags->dropped;
}

static void count(still_diags *diags, still_severity severity)
{
    if (severity == STILL_SEV_ERROR)
        diags->errors++;
    else
        diags->warnings++;
}

void still_diags_put(still_diags *diags, const still_diag *diag)
{
    if (diags == NULL) return;
    count(diags, diag->severity);
    if (diags->n >= KEEP ||
        !still_grow(&diags->items, &diags->cap, diags->n + 1, sizeof(still_diag))) {
        diags->dropped++;
        return;
    }
    still_diag item = *diag;
    item.code = still_arena_str(&diags->arena, diag->code);
    item.file = still_arena_str(&diags->arena, diag->file ? diag->file : "");
    item.component = still_arena_str(&diags->arena, diag->component ? diag->component : "");
    item.text = still_arena_str(&diags->arena, diag->text);
    item.source_line = still_arena_str(&diags->arena, diag->source_line ? diag->source_line : "");
    if (!item.code || !item.file || !item.component || !item.text || !item.source_line) {
        diags->dropped++;
        return;
    }
    diags->items[diags->n++] = item;
}

void still_diags_drop(still_diags *diags, still_severity severity)
{
    if (diags == NULL) return;
    count(diags, severity);
    diags->dropped++;
}

void still_diags_add(still_diags *diags, still_severity severity, const char *code,
                     const char *file, uint32_t line, uint32_t column, const char *component,
                     const char *source_line, const char *format, ...)
{
    if (diags == NULL) return;
    char text[TEXT_MAX];
    va_list args;
    va_start(args, format);
    vsnprintf(text, sizeof text, format, args);
    va_end(args);
    still_diag item = {.severity = severity,
                       .code = code,
                       .file = file,
                       .line = line,
                       .column = column,
                       .component = component,
                       .text = text,
                       .source_line = source_line};
    if (source_line != NULL && column <= strlen(source_line) + 1) item.caret = column;
    still_diags_put(diags, &item);
}

static int by_place(const void *pa, const void *pb)
{
    const still_diag *a = pa, *b = pb;
    int c = strcmp(a->file, b->file);
    if (c != 0) return c;
    if (a->line != b->line) return a->line < b->line ? -1 : 1;
    if (a->column != b->column) return a->column < b->column ? -1 : 1;
    c = strcmp(a->code, b->code);
    if (c != 0) return c;
    return strcmp(a->text, b->text);
}

void still_diags_sort(still_diags *diags)
{
    if (diags->n > 1) qsort(diags->items, diags->n, sizeof diags->items[0], by_place);
}
