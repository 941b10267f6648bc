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

double still_canvas_flowed(still_canvas *out, still_look look, double x, double y, double size,
                           double room, const char *s, bool measure)
{
    double start = y;
    while (*s != '\0') {
        size_t n = still_text_break(s, size, room, still_look_of(look)->bold);
        still_buf line = STILL_BUF_INIT;
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

void still_canvas_copy(still_canvas *to, const still_canvas *from, double x, double y)
{
    if (from->failed || from->texts.failed) to->failed = true;
    for (size_t i = 0; i < from->n_prims && !to->failed; i++) {
        const still_prim *p = &from->prims[i];
        if (p->kind == STILL_PRIM_TEXT)
            still_canvas_text(to, p->look, x + p->x, y + p->y, p->size, p->anchor,
                              still_prim_text(from, p));
        if (p->kind != STILL_PRIM_PATH) continue;
        still_canvas_path(to, p->look);
        for (size_t k = 0; k < p->n; k++) {
            const still_pstep *s = &from->steps[p->first + k];
            const double xs[3] = {x + s->x[0], x + s->x[1], x + s->x[2]};
            const double ys[3] = {y + s->y[0], y + s->y[1], y + s->y[2]};
            if (s->op == 'M') still_canvas_move(to, xs[2], ys[2]);
            if (s->op == 'L') still_canvas_to(to, xs[2], ys[2]);
            if (s->op == 'C') still_canvas_curve(to, xs, ys);
            if (s->op == 'Z') still_canvas_end(to);
        }
    }
}
