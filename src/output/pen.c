#include "pen.h"

#include "number.h"
#include "glyph.h"

#include <math.h>
#include <string.h>

static void to_column(still_pen *pen, size_t column)
{
    for (; pen->column < column; pen->column++) still_buf_char(pen->out, ' ');
}

static void newline(still_pen *pen)
{
    still_buf_char(pen->out, '\n');
    pen->column = 0;
}

void still_pen_line(still_pen *pen, size_t indent)
{
    if (pen->column > 0) newline(pen);
    pen->indent = indent;
    pen->joined = false;
}

void still_pen_blank(still_pen *pen)
{
    still_pen_line(pen, 0);
    still_buf *out = pen->out;
    bool twice = out->len >= 2 && memcmp(out->text + out->len - 2, "\n\n", 2) == 0;
    if (out->len > 0 && !twice) still_buf_char(out, '\n');
}

/** True when the line holds nothing beyond its indent (a label in the margin does not count). */
static bool at_start(const still_pen *pen)
{
    return pen->column <= pen->indent;
}

/** Place for a word of this width: on this line, else on the next. */
static void make_room(still_pen *pen, size_t width)
{
    size_t gap = at_start(pen) || pen->joined ? 0 : 1;
    if (!at_start(pen) && pen->column + gap + width > STILL_PEN_WIDTH) {
        newline(pen);
        gap = 0;
    }
    pen->joined = false;
    to_column(pen, pen->indent);
    to_column(pen, pen->column + gap);
}

static void put(still_pen *pen, const char *s, size_t len, size_t width)
{
    still_buf_addn(pen->out, s, len);
    pen->column += width;
}

/** A word without spaces, broken where it is wider than a whole line. */
static void put_word(still_pen *pen, const char *s, size_t len)
{
    size_t width = 0, room = STILL_PEN_WIDTH - pen->indent;
    uint32_t cp;
    for (size_t i = 0; i < len;) {
        i += still_glyph_next(s + i, &cp);
        width += still_glyph_columns(cp);
    }
    make_room(pen, width < room ? width : room);
    for (size_t i = 0; i < len;) {
        size_t step = still_glyph_next(s + i, &cp), columns = still_glyph_columns(cp);
        if (pen->column + columns > STILL_PEN_WIDTH) {
            newline(pen);
            to_column(pen, pen->indent);
        }
        put(pen, s + i, step, columns);
        i += step;
    }
}

void still_pen_words(still_pen *pen, const char *text)
{
    still_buf clean = STILL_BUF_INIT;
    still_glyph_clean(&clean, text);
    if (clean.failed) pen->out->failed = true;
    for (size_t i = 0; !clean.failed && i < clean.len;) {
        size_t len = strcspn(clean.text + i, " ");
        if (len > 0) put_word(pen, clean.text + i, len);
        i += len + (clean.text[i + len] == ' ' ? 1U : 0U);
    }
    still_buf_clear(&clean);
}

void still_pen_id(still_pen *pen, const char *id, const char *after)
{
    still_buf clean = STILL_BUF_INIT;
    still_glyph_clean(&clean, id);
    if (clean.failed) pen->out->failed = true;
    if (clean.failed || clean.len == 0) {
        still_buf_clear(&clean);
        return;
    }
    size_t width = still_glyph_width(clean.text), tail = strlen(after);
    if (width + tail <= STILL_PEN_WIDTH - pen->indent) {
        still_buf_add(&clean, after);
        if (clean.failed) pen->out->failed = true;
        make_room(pen, width + tail);
        if (!clean.failed) put(pen, clean.text, clean.len, width + tail);
    } else {
        /* A line of its own, as far to the right as it fits. */
        size_t indent = pen->indent;
        still_pen_line(pen, indent);
        bool whole = width + tail <= STILL_PEN_WIDTH;
        if (whole) to_column(pen, STILL_PEN_WIDTH - width - tail);
        put(pen, clean.text, clean.len, width);
        if (whole) put(pen, after, tail, tail);
        newline(pen);
    }
    still_buf_clear(&clean);
}

void still_pen_ids(still_pen *pen, still_strings ids, const char *separator)
{
    if (ids.n == 0) still_pen_words(pen, "none");
    for (size_t i = 0; i < ids.n; i++)
        still_pen_id(pen, ids.items[i], i + 1 < ids.n ? separator : "");
}

void still_pen_number(still_pen *pen, double value, const char *unit)
{
    still_buf text = STILL_BUF_INIT;
    still_number_add(&text, value, 4);
    if (isfinite(value) && unit[0] != '\0') {
        /* A no-break join: number and unit stay on one line as one word would. */
        still_buf_char(&text, ' ');
        still_buf_add(&text, unit);
    }
    if (text.failed) {
        pen->out->failed = true;
    } else {
        make_room(pen, text.len);
        put(pen, text.text, text.len, text.len);
    }
    still_buf_clear(&text);
}

void still_pen_label(still_pen *pen, size_t at, size_t indent, const char *label)
{
    still_pen_line(pen, indent);
    to_column(pen, at);
    put(pen, label, strlen(label), strlen(label));
}

void still_pen_heading(still_pen *pen, const char *words, char rule)
{
    still_pen_blank(pen);
    still_pen_words(pen, words);
    still_pen_line(pen, 0);
    for (size_t i = 0; i < STILL_PEN_WIDTH; i++) still_buf_char(pen->out, rule);
    still_buf_char(pen->out, '\n');
    pen->indent = 2;
}
