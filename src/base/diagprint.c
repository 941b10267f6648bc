#include "stillset/diag.h"

#include "utf8.h"

#include <string.h>

/* Text with its control characters replaced; tabs stay where they are wanted. */
static void write_clean(const char *s, size_t len, int keep_tabs, FILE *to)
{
    for (size_t i = 0; i < len;) {
        uint32_t c;
        size_t n = still_utf8_next(s + i, len - i, &c);
        if (c == '\t' && keep_tabs)
            fputc('\t', to);
        else if (still_utf8_control(c))
            fputc('?', to);
        else
            fwrite(s + i, 1, n, to);
        i += n;
    }
}

void still_diag_text(const char *text, FILE *to)
{
    write_clean(text, strlen(text), 0, to);
}

/* A caret under a place: tabs as in the line above, one blank for each other character. */
static void write_caret(const char *line, uint32_t caret, FILE *to)
{
    size_t len = strlen(line);
    size_t end = caret - 1 < len ? caret - 1 : len;
    for (size_t i = 0; i < end;) {
        uint32_t c;
        i += still_utf8_next(line + i, end - i, &c);
        fputc(c == '\t' ? '\t' : ' ', to);
    }
    fputs("^\n", to);
}

void still_diag_write(const still_diag *d, FILE *to)
{
    if (d->file[0] != '\0') {
        write_clean(d->file, strlen(d->file), 0, to);
        if (d->line > 0) fprintf(to, ":%lu", (unsigned long)d->line);
        fputs(": ", to);
    }
    fprintf(to, "%s: %s: ", d->severity == STILL_SEV_ERROR ? "error" : "warning", d->code);
    write_clean(d->text, strlen(d->text), 0, to);
    fputc('\n', to);
    if (d->source_line[0] == '\0') return;
    write_clean(d->source_line, strlen(d->source_line), 1, to);
    fputc('\n', to);
    if (d->caret > 0) write_caret(d->source_line, d->caret, to);
}
