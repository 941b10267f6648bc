/* Texts that are given a width: cut off, or over several lines. */
#include "canvas.h"

void still_canvas_fitted(still_canvas *out, still_look look, double x, double y, double size,
                         double room, const char *s)
{
    bool bold = still_look_of(look)->bold;
    still_buf text = STILL_BUF_INIT;
    still_buf_add(&text, s);
    if (!text.failed && still_text_width(text.text, size, bold) > room) {
        while (text.len > 0 && still_text_width(text.text, size, bold) > room - size) {
            do text.len--;
            while (text.len > 0 && ((unsigned char)text.text[text.len] & 0xC0U) == 0x80U);
            text.text[text.len] = '\0';
        }
        still_buf_add(&text, "...");
    }
    if (text.failed) out->failed = true;
    if (!text.failed) still_canvas_text(out, look, x, y, size, STILL_ANCHOR_START, text.text);
    still_buf_clear(&text);
}

/** Bytes of s that fit in one line, at least one character. @return false: memory ran out */
static bool line_of(size_t *bytes, const char *s, double size, double room, bool bold)
{
    size_t fits = 0, space = 0;
    still_buf line = STILL_BUF_INIT;
    for (size_t i = 0; s[i] != '\0' && fits == i; i++) {
        still_buf_char(&line, s[i]);
        if (line.failed) break;
        if (((unsigned char)s[i + 1] & 0xC0U) == 0x80U) {
            fits = i + 1;
            continue;
        }
        if (s[i] == ' ') space = i;
        if (i == 0 || still_text_width(line.text, size, bold) <= room) fits = i + 1;
    }
    *bytes = s[fits] != '\0' && space > 0 ? space : fits;
    bool good = !line.failed;
    still_buf_clear(&line);
    return good;
}

double still_canvas_flowed(still_canvas *out, still_look look, double x, double y, double size,
                           double room, const char *s, bool measure)
{
    double start = y;
    while (*s != '\0') {
        size_t n = 0;
        still_buf line = STILL_BUF_INIT;
        if (!line_of(&n, s, size, room, still_look_of(look)->bold)) out->failed = true;
        if (out->failed || n == 0) break;
        still_buf_addn(&line, s, n);
        if (line.failed) out->failed = true;
        if (!line.failed && !measure)
            still_canvas_text(out, look, x, y, size, STILL_ANCHOR_START, line.text);
        still_buf_clear(&line);
        y += size + 5.0;
        s += n;
        while (*s == ' ') s++;
    }
    return y - start;
}
