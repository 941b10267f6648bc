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
    if (!at_start(pen) && pen->column + gap + width > pen->width) {
        newline(pen);
        gap = 0;
    }
    pen->joined = false;
    to_column(pen, pen->indent);
    to_column(pen, pen->column + gap);
}

still_pen still_pen_new(still_buf *out, const still_style *style)
{
    const still_style plain = STILL_STYLE_INIT;
    if (style == NULL) style = &plain;
    size_t width = style->width == 0 ? STILL_STYLE_PLAIN : style->width;
    if (width < STILL_STYLE_NARROWEST) width = STILL_STYLE_NARROWEST;
    if (width > STILL_STYLE_WIDEST) width = STILL_STYLE_WIDEST;
    return (still_pen){.out = out, .width = width, .marks = style->marks};
}

void still_ink_add(still_buf *out, bool marks, still_ink ink, const char *text, size_t len)
{
    static const char *const on[] = {"", "\033[1m", "\033[1;31m", "\033[33m"};
    marks = marks && ink != STILL_INK_PLAIN && len > 0;
    if (marks) still_buf_add(out, on[ink]);
    still_buf_addn(out, text, len);
    if (marks) still_buf_add(out, "\033[0m");
}

/* Each word has marks of its own: neither an indent nor the end of a line is ever inside them. */
static void put(still_pen *pen, const char *s, size_t len, size_t width)
{
    still_ink_add(pen->out, pen->marks, pen->ink, s, len);
    pen->column += width;
}

/** A word without spaces, broken where it is wider than a whole line. */
static void put_word(still_pen *pen, const char *s, size_t len)
{
    size_t width = 0, room = pen->width - pen->indent;
    uint32_t cp;
    for (size_t i = 0; i < len;) {
        i += still_glyph_next(s + i, &cp);
        width += still_glyph_columns(cp);
    }
    make_room(pen, width < room ? width : room);
    size_t from = 0, columns = 0; /* what is not put yet */
    for (size_t i = 0; i < len;) {
        size_t step = still_glyph_next(s + i, &cp), wide = still_glyph_columns(cp);
        if (pen->column + columns + wide > pen->width) {
            put(pen, s + from, i - from, columns);
            newline(pen);
            to_column(pen, pen->indent);
            from = i;
            columns = 0;
        }
        columns += wide;
        i += step;
    }
    put(pen, s + from, len - from, columns);
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

void still_pen_marked(still_pen *pen, still_ink ink, const char *text)
{
    pen->ink = ink;
    still_pen_words(pen, text);
    pen->ink = STILL_INK_PLAIN;
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
    if (width + tail <= pen->width - pen->indent) {
        still_buf_add(&clean, after);
        if (clean.failed) pen->out->failed = true;
        make_room(pen, width + tail);
        if (!clean.failed) put(pen, clean.text, clean.len, width + tail);
    } else {
        /* A line of its own, as far to the right as it fits. */
        size_t indent = pen->indent;
        still_pen_line(pen, indent);
        bool whole = width + tail <= pen->width;
        if (whole) to_column(pen, pen->width - width - tail);
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
    pen->ink = STILL_INK_PLAIN;
}

void still_pen_rule(still_pen *pen, char rule)
{
    still_pen_line(pen, 0);
    for (size_t i = 0; i < pen->width; i++) still_buf_char(pen->out, rule);
    still_buf_char(pen->out, '\n');
}

void still_pen_heading(still_pen *pen, const char *words, char rule)
{
    still_pen_blank(pen);
    still_pen_marked(pen, STILL_INK_BOLD, words);
    still_pen_rule(pen, rule);
    pen->indent = 2;
}
