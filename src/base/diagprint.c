#include "stillset/diag.h"

#include "utf8.h"

#include <string.h>

/* What is printed goes through a small buffer: standard error has none of its own, and a call of
 * the system for each letter takes longer than reading the plant. */
typedef struct line {
    FILE *to;
    size_t n;
    char text[512];
} line;

static void flush(line *l)
{
    fwrite(l->text, 1, l->n, l->to);
    l->n = 0;
}

static void put(line *l, const char *s, size_t len)
{
    if (len > sizeof l->text - l->n) flush(l);
    if (len > sizeof l->text) {
        fwrite(s, 1, len, l->to);
        return;
    }
    memcpy(l->text + l->n, s, len);
    l->n += len;
}

static void puts_to(line *l, const char *s)
{
    put(l, s, strlen(s));
}

/* Text with its control characters replaced; tabs stay where they are wanted. */
static void write_clean(line *l, const char *s, size_t len, int keep_tabs)
{
    for (size_t i = 0; i < len;) {
        uint32_t c;
        size_t n = still_utf8_next(s + i, len - i, &c);
        if (c == '\t' && keep_tabs)
            put(l, "\t", 1);
        else if (still_utf8_control(c))
            put(l, "?", 1);
        else
            put(l, s + i, n);
        i += n;
    }
}

void still_diag_text(const char *text, FILE *to)
{
    line l = {.to = to};
    write_clean(&l, text, strlen(text), 0);
    flush(&l);
}

/* A caret under a place: tabs as in the line above, one blank for each other character. */
static void write_caret(line *l, const char *above, uint32_t caret)
{
    size_t len = strlen(above);
    size_t end = caret - 1 < len ? caret - 1 : len;
    for (size_t i = 0; i < end;) {
        uint32_t c;
        i += still_utf8_next(above + i, end - i, &c);
        put(l, c == '\t' ? "\t" : " ", 1);
    }
    puts_to(l, "^\n");
}

void still_diag_write(const still_diag *d, FILE *to)
{
    still_diag_write_styled(d, to, NULL);
}

void still_diag_write_styled(const still_diag *d, FILE *to, const still_style *style)
{
    line l = {.to = to};
    bool error = d->severity == STILL_SEV_ERROR, marks = style != NULL && style->marks;
    if (d->file[0] != '\0') {
        char number[24];
        write_clean(&l, d->file, strlen(d->file), 0);
        snprintf(number, sizeof number, ":%lu", (unsigned long)d->line);
        if (d->line > 0) puts_to(&l, number);
        puts_to(&l, ": ");
    }
    if (marks) puts_to(&l, error ? "\033[1;31m" : "\033[33m");
    puts_to(&l, error ? "error:" : "warning:");
    if (marks) puts_to(&l, "\033[0m");
    puts_to(&l, " ");
    puts_to(&l, d->code);
    puts_to(&l, ": ");
    write_clean(&l, d->text, strlen(d->text), 0);
    puts_to(&l, "\n");
    if (d->source_line[0] != '\0') {
        write_clean(&l, d->source_line, strlen(d->source_line), 1);
        puts_to(&l, "\n");
        if (d->caret > 0) write_caret(&l, d->source_line, d->caret);
    }
    flush(&l);
}
