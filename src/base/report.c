/* Problems by byte offset, given out with line and column.
 * Method: look for the attribute inside its start tag, sort by place, then read the source once
 * from its start, counting newlines up to each place; cut the line to a window around it. An
 * attribute value cannot hold "<" nor its own quote, so a plain scan finds the attribute. Cost: one
 * reading of the file up to the last problem; nothing where there is none. */
#include "report.h"

#include "alloc.h"
#include "arena.h"
#include "diags.h"
#include "utf8.h"

#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { KEEP = 10000, TEXT = 1000, CHUNK = 64 * 1024, BEFORE = 100, AFTER = 100 };

typedef struct problem {
    uint64_t at; /* the place itself: tag and, in it, attribute */
    uint32_t offset, order;
    still_code code;
    const char *attribute, *component, *text;
} problem;

struct still_report {
    still_arena arena;
    char *file;
    still_source *source;
    problem *items;
    size_t n, cap;
    size_t errors;
    size_t lost[2]; /* beyond the limit, by severity */
    bool nomem;
};

still_report *still_report_new(const char *file, still_source *source)
{
    still_report *r = still_calloc(1, sizeof *r);
    if (r == NULL) return NULL;
    still_arena_init(&r->arena);
    r->source = source;
    r->file = still_strndup(file, strlen(file));
    if (r->file == NULL) {
        still_free(r);
        return NULL;
    }
    return r;
}

void still_report_free(still_report *r)
{
    if (r == NULL) return;
    still_arena_clear(&r->arena);
    still_free(r->items);
    still_free(r->file);
    still_free(r);
}

size_t still_report_errors(const still_report *r)
{
    return r->errors;
}

void still_report_add(still_report *r, still_code code, uint32_t offset, const char *attribute,
                      const char *component, const char *format, ...)
{
    still_severity severity = still_code_severity(code);
    if (severity == STILL_SEV_ERROR) r->errors++;
    if (r->n >= KEEP) {
        r->lost[severity]++;
        return;
    }
    char raw[TEXT], text[TEXT];
    va_list args;
    va_start(args, format);
    vsnprintf(raw, sizeof raw, format, args);
    va_end(args);
    still_utf8_clean(text, sizeof text, raw, strlen(raw), '?');
    problem p = {.offset = offset, .order = (uint32_t)r->n, .code = code};
    p.attribute = attribute != NULL ? still_arena_str(&r->arena, attribute) : "";
    p.component = still_arena_str(&r->arena, component != NULL ? component : "");
    p.text = still_arena_str(&r->arena, text);
    if (p.attribute == NULL || p.component == NULL || p.text == NULL ||
        !still_grow(&r->items, &r->cap, r->n + 1, sizeof r->items[0])) {
        r->nomem = true;
        r->lost[severity]++;
        return;
    }
    r->items[r->n++] = p;
}

static int by_place(const void *pa, const void *pb)
{
    const problem *a = pa, *b = pb;
    if (a->at != b->at) return a->at < b->at ? -1 : 1;
    return a->order < b->order ? -1 : a->order > b->order;
}

/* Where the reading of the source stands. */
typedef struct walk {
    still_source *source;
    char *chunk;   /* CHUNK bytes of the source */
    uint64_t from; /* offset of chunk */
    size_t have;
    uint64_t at;         /* newlines before this are counted */
    uint64_t line_start; /* of the line in which `at` stands */
    uint32_t line;
} walk;

/* Bring the walk to an offset; false when the source does not reach so far. */
static bool walk_to(walk *w, uint64_t offset)
{
    while (w->at < offset) {
        if (w->at < w->from || w->at >= w->from + w->have) {
            w->from = w->at;
            w->have = still_source_at(w->source, w->from, w->chunk, CHUNK);
            if (w->have == 0) return false;
        }
        const char *p = w->chunk + (w->at - w->from);
        size_t left = w->have - (size_t)(w->at - w->from);
        if (left > offset - w->at) left = (size_t)(offset - w->at);
        const char *nl = memchr(p, '\n', left);
        if (nl == NULL) {
            w->at += left;
            continue;
        }
        w->at += (size_t)(nl - p) + 1;
        w->line_start = w->at;
        w->line++;
    }
    return true;
}

static bool is_blank(char c)
{
    return c == ' ' || c == '\t' || c == '\n' || c == '\r';
}

/* Place of an attribute's value within a start tag, 0 = not found. */
static size_t attribute_in(const char *tag, size_t len, const char *name)
{
    size_t want = strlen(name), i = 1;
    while (i < len && !is_blank(tag[i]) && tag[i] != '>') i++;
    while (i < len && tag[i] != '>') {
        while (i < len && is_blank(tag[i])) i++;
        size_t from = i;
        while (i < len && tag[i] != '=' && tag[i] != '>' && !is_blank(tag[i])) i++;
        bool same = i - from == want && memcmp(tag + from, name, want) == 0;
        while (i < len && tag[i] != '"' && tag[i] != '\'' && tag[i] != '>') i++;
        if (i >= len || tag[i] == '>') return 0;
        if (same) return i + 1;
        char quote = tag[i++];
        while (i < len && tag[i] != quote) i++;
        i++;
    }
    return 0;
}

/* The line around an offset, cut to a window; *caret gets the place in it, 1-based. */
static void show_line(walk *w, uint64_t offset, char *buf, size_t size, uint32_t *caret)
{
    uint64_t from = w->line_start;
    size_t lead = 0;
    if (offset - from > BEFORE) {
        from = offset - BEFORE;
        memcpy(buf, "...", 3);
        lead = 3;
    }
    size_t want = (size_t)(offset - from) + AFTER;
    if (want > size - lead - 4) want = size - lead - 4;
    char *text = buf + lead;
    size_t n = still_source_at(w->source, from, text, want);
    size_t drop = 0; /* do not begin inside a character */
    while (lead > 0 && drop < 4 && drop < n && ((unsigned char)text[drop] & 0xC0) == 0x80) drop++;
    memmove(text, text + drop, n - drop);
    n -= drop;
    char *nl = memchr(text, '\n', n);
    if (nl != NULL) {
        n = (size_t)(nl - text);
        if (n > 0 && text[n - 1] == '\r') n--;
    } else if (n + drop == want) {
        while (n > 0 && ((unsigned char)text[n - 1] & 0xC0) == 0x80) n--;
        if (n > 0 && (unsigned char)text[n - 1] >= 0xC0) n--;
        memcpy(text + n, "...", 3);
        n += 3;
    }
    for (size_t i = 0; i < n; i++)
        if (text[i] == '\0') text[i] = '?';
    text[n] = '\0';
    *caret = (uint32_t)((size_t)(offset - from) - drop + lead + 1);
}

/* The place of a problem: its tag or, where that can be found, an attribute of it. */
static uint64_t place_of(still_source *source, const problem *p)
{
    char tag[8192];
    if (p->attribute[0] == '\0' || p->offset == STILL_NOWHERE || source == NULL) return p->offset;
    size_t n = still_source_at(source, p->offset, tag, sizeof tag);
    return p->offset + attribute_in(tag, n, p->attribute);
}

static void give_out(walk *w, const problem *p, const char *file, still_diags *diags)
{
    char line[BEFORE + AFTER + 16] = "";
    still_diag d = {.severity = still_code_severity(p->code),
                    .code = still_code_text(p->code),
                    .file = file,
                    .component = p->component,
                    .text = p->text,
                    .source_line = line};
    if (p->offset != STILL_NOWHERE && w->source != NULL && walk_to(w, p->at)) {
        d.line = w->line;
        d.column = (uint32_t)(p->at - w->line_start + 1);
        show_line(w, p->at, line, sizeof line, &d.caret);
    }
    still_diags_put(diags, &d);
}

still_status still_report_flush(still_report *r, still_diags *diags)
{
    bool nomem = r->nomem;
    walk w = {.source = r->source, .line = 1};
    if (r->n > 0 && diags != NULL) {
        w.chunk = still_malloc(CHUNK);
        if (w.chunk == NULL) {
            w.source = NULL;
            nomem = true;
        }
        for (size_t i = 0; i < r->n; i++) r->items[i].at = place_of(r->source, &r->items[i]);
        qsort(r->items, r->n, sizeof r->items[0], by_place);
        for (size_t i = 0; i < r->n; i++) give_out(&w, &r->items[i], r->file, diags);
        if (r->source != NULL) still_source_rest(r->source);
        still_free(w.chunk);
    }
    for (int s = 0; s < 2; s++)
        while (r->lost[s] > 0) {
            still_diags_drop(diags, s == 0 ? STILL_SEV_ERROR : STILL_SEV_WARNING);
            r->lost[s]--;
        }
    r->n = 0;
    r->errors = 0;
    r->nomem = false;
    still_arena_clear(&r->arena);
    return nomem ? STILL_E_NOMEM : STILL_OK;
}
