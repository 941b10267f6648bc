/* Symbols, labels, boundary. What must not be covered is drawn last. */
#include "diagram.h"

#include <math.h>
#include <stdio.h>

/** The flow arrow within a spool's own box; where both ends lie on one side, the turn too. */
static void spool(still_canvas *out, const still_dia *d, uint32_t v)
{
    const still_dnode *n = &d->nodes[v];
    still_look pipe = still_diagram_pipe_look(d, n->comp);
    still_look arrow = pipe == STILL_LOOK_PIPE_IN ? STILL_LOOK_SYM : STILL_LOOK_FULL;
    if (n->n_left < 2 && n->n_right < 2) {
        still_canvas_shape(out, arrow, n->x, n->y, n->mirrored, "M-8-6L9 0L-8 6Z");
        return;
    }
    double ys[2] = {n->y, n->y};
    bool down = true;
    size_t k = 0;
    for (size_t i = 0; i < d->n_edges && k < 2; i++) {
        const still_dedge *e = &d->edges[i];
        if (e->to != v && e->from != v) continue;
        ys[k] = e->to == v ? e->y_to : e->y_from;
        uint32_t other = e->to == v ? e->port_from : e->port_to;
        if (other == d->plant->comps[n->comp].a) down = ys[k] < n->y;
        k++;
    }
    still_canvas_line(out, pipe, n->x, ys[0], n->x, ys[1]);
    still_canvas_shape(out, arrow, n->x, n->y, false, down ? "M-7-8H7L0 9Z" : "M-7 8H7L0-9Z");
}

/** Names of the ports of a three-way valve, which say what a position joins. */
static void port_names(still_canvas *out, const still_dia *d, uint32_t v)
{
    const still_dnode *n = &d->nodes[v];
    if (n->kind != STILL_D_COMP || d->plant->comps[n->comp].kind != STILL_KIND_THREE_WAY) return;
    for (size_t i = 0; i < d->n_edges; i++) {
        const still_dedge *e = &d->edges[i];
        bool right = e->from == v;
        uint32_t port = right ? e->port_from : e->port_to;
        if ((e->from != v && e->to != v) || port == STILL_NONE) continue;
        still_canvas_text(out, STILL_LOOK_TXT, n->x + (right ? 21.0 : -21.0),
                          (right ? e->y_from : e->y_to) + 4.0, STILL_TYPE, STILL_ANCHOR_MIDDLE,
                          still_text(d->plant, still_port_name(d->plant, port)));
    }
}

double still_diagram_flag_width(uint32_t tag)
{
    char text[16];
    snprintf(text, sizeof text, "%u", tag);
    return fmax(26.0, still_text_width(text, 14.0, true) + 12.0) + 8.0;
}

void still_diagram_flag(still_canvas *out, double x, double y, uint32_t tag)
{
    char text[16];
    snprintf(text, sizeof text, "%u", tag);
    double w = still_diagram_flag_width(tag);
    still_canvas_path(out, STILL_LOOK_FLAG);
    still_canvas_move(out, x, y - 10.0);
    still_canvas_to(out, x + w - 8.0, y - 10.0);
    still_canvas_to(out, x + w, y);
    still_canvas_to(out, x + w - 8.0, y + 10.0);
    still_canvas_to(out, x, y + 10.0);
    still_canvas_end(out);
    still_canvas_text(out, STILL_LOOK_ID, x + (w - 8.0) / 2.0 + 1.0, y + 5.0, 14.0,
                      STILL_ANCHOR_MIDDLE, text);
}

void still_diagram_gap_flag(still_canvas *out, double x, double y, uint32_t tag, bool mild)
{
    char text[16];
    snprintf(text, sizeof text, "%u", tag);
    double w = still_diagram_flag_width(tag);
    still_canvas_path(out, mild ? STILL_LOOK_MILD : STILL_LOOK_FLAG);
    still_canvas_move(out, x, y - 10.0);
    still_canvas_to(out, x + w, y - 10.0);
    still_canvas_to(out, x + w - 7.0, y);
    still_canvas_to(out, x + w, y + 10.0);
    still_canvas_to(out, x, y + 10.0);
    still_canvas_end(out);
    still_canvas_text(out, STILL_LOOK_ID, x + (w - 8.0) / 2.0 + 1.0, y + 5.0, 14.0,
                      STILL_ANCHOR_MIDDLE, text);
}

double still_diagram_cover_width(const char *word)
{
    return still_text_width(word, STILL_TYPE, true) + 16.0;
}

void still_diagram_cover_sign(still_canvas *out, double x, double y, const char *word)
{
    double w = still_diagram_cover_width(word);
    still_canvas_rect(out, STILL_LOOK_COVERS, x, y - 9.0, w, 18.0, 9.0);
    still_canvas_text(out, STILL_LOOK_ID, x + w / 2.0, y + 4.0, STILL_TYPE, STILL_ANCHOR_MIDDLE,
                      word);
}

void still_diagram_warning(still_canvas *out, double x, double y)
{
    still_canvas_shape(out, STILL_LOOK_WARN, x, y, false, "M0-8L9 7H-9Z");
    still_canvas_shape(out, STILL_LOOK_OVER, x, y, false, "M0-3V2M0 4V5");
}

static void label_line(still_canvas *out, const still_dline *line, double x, double y)
{
    double start = x - still_diagram_line_width(line) / 2.0;
    switch (line->style) {
    case STILL_LINE_ID:
        still_canvas_text(out, STILL_LOOK_ID, x, y + 13.0, STILL_TYPE_ID, STILL_ANCHOR_MIDDLE,
                          line->text);
        break;
    case STILL_LINE_PLAIN:
    case STILL_LINE_LOUD:
        still_canvas_text(out, line->style == STILL_LINE_PLAIN ? STILL_LOOK_TXT : STILL_LOOK_ID, x,
                          y + 12.0, STILL_TYPE, STILL_ANCHOR_MIDDLE, line->text);
        break;
    case STILL_LINE_WARN:
        still_diagram_warning(out, start + 10.0, y + 8.0);
        still_canvas_text(out, STILL_LOOK_ID, start + 24.0, y + 12.0, STILL_TYPE,
                          STILL_ANCHOR_START, line->text);
        break;
    case STILL_LINE_FLAG:
        still_diagram_flag(out, start, y + 12.0, line->tag);
        still_canvas_text(out, STILL_LOOK_ID, start + still_diagram_flag_width(line->tag) + 4.0,
                          y + 16.0, STILL_TYPE, STILL_ANCHOR_START, line->text);
        break;
    case STILL_LINE_GAP:
    case STILL_LINE_MILD:
        still_diagram_gap_flag(out, start, y + 12.0, line->tag, line->style == STILL_LINE_MILD);
        still_canvas_text(out, STILL_LOOK_ID, start + still_diagram_flag_width(line->tag) + 4.0,
                          y + 16.0, STILL_TYPE, STILL_ANCHOR_START, line->text);
        break;
    case STILL_LINE_COVER: still_diagram_cover_sign(out, start, y + 12.0, line->text); break;
    case STILL_LINE_WORK:
        still_canvas_text(out, STILL_LOOK_ID, x, y + 18.0, STILL_TYPE_WORK, STILL_ANCHOR_MIDDLE,
                          line->text);
        break;
    }
}

/** In small, no words have room but those that a person looks for first. */
static bool is_written(const still_dia *d, const still_dline *l)
{
    return !d->sketch || l->style == STILL_LINE_FLAG || l->style == STILL_LINE_WORK;
}

static void label(still_canvas *out, const still_dia *d, const still_dnode *n)
{
    double y = n->y - n->symbol_h / 2.0 - 4.0, top = 0.0;
    for (const still_dline *l = n->above; l != NULL; l = l->next) top += l->height;
    y -= top;
    double x = n->x;
    if (n->beside) {
        x += n->n_left > 0 ? 13.0 : -13.0;
        y = n->y - top / 2.0;
    }
    for (const still_dline *l = n->above; l != NULL; l = l->next) {
        if (is_written(d, l)) label_line(out, l, x, d->tight ? y - 1.0 : y);
        y += l->height;
    }
    y = n->y + n->low + 3.0;
    for (const still_dline *l = n->below; l != NULL; l = l->next) {
        if (is_written(d, l)) label_line(out, l, n->x, d->tight ? y - 1.0 : y);
        y += l->height;
    }
}

static void target_frame(still_canvas *out, const still_dnode *n)
{
    double w = n->width - 14.0, h = 2.0 * n->half - 6.0;
    still_canvas_rect(out, STILL_LOOK_FRAME_THICK, n->x - w / 2.0, n->y - h / 2.0, w, h, 6.0);
    still_canvas_rect(out, STILL_LOOK_FRAME_THIN, n->x - w / 2.0 + 6.0, n->y - h / 2.0 + 6.0,
                      w - 12.0, h - 12.0, 3.0);
}

/** The boundary at a point: a dashed bar across the pipe, hatched on the side that stays live. */
static void bar(still_canvas *out, const still_dnode *n, bool right)
{
    double x = n->x + (right ? n->width / 2.0 - 10.0 : 10.0 - n->width / 2.0);
    still_canvas_line(out, STILL_LOOK_BOUND, x, n->y - n->half + 2.0, x, n->y + n->half - 2.0);
    still_canvas_path(out, STILL_LOOK_HATCH);
    for (double y = n->y - n->half + 8.0; y < n->y + n->half - 2.0; y += 8.0) {
        still_canvas_move(out, x, y);
        still_canvas_to(out, x + (right ? 8.0 : -8.0), y - 6.0);
    }
}

static void boundary(still_canvas *out, const still_dia *d, uint32_t v)
{
    bool left = false, right = false;
    for (size_t i = 0; i < d->n_edges; i++) {
        const still_dedge *e = &d->edges[i];
        bool live = still_diagram_pipe_look(d, e->pipe) == STILL_LOOK_PIPE_LIVE;
        left = left || (e->to == v && live);
        right = right || (e->from == v && live);
    }
    if (left) bar(out, &d->nodes[v], false);
    if (right) bar(out, &d->nodes[v], true);
}

/** What a group is called: id, kind, position. */
static void open_group(still_canvas *out, const still_dia *d, const still_dnode *n)
{
    const still_comp *c = &d->plant->comps[n->comp];
    const char *kind = still_word(STILL_VOC_still_kind, c->kind),
               *now = n->kind == STILL_D_COMP ? still_diagram_position(d, n->comp) : "";
    still_buf what = STILL_BUF_INIT;
    if (n->kind == STILL_D_TORN) still_buf_add(&what, "plant goes on at ");
    still_buf_add(&what, still_id_of(d->plant, n->comp));
    if (still_diagram_is_reference(d, n)) still_buf_add(&what, ", on another sheet");
    if (n->kind != STILL_D_TORN)
        still_buf_printf(&what, ": %s%s%s%s%s", kind, kind[0] != '\0' ? " " : "",
                         still_word(STILL_VOC_still_class, c->cls), now[0] != '\0' ? ", " : "",
                         now);
    if (what.failed) out->failed = true;
    still_canvas_open(out, what.failed ? "" : what.text);
    still_buf_clear(&what);
}

static void node(still_canvas *out, const still_dia *d, uint32_t v)
{
    const still_dnode *n = &d->nodes[v];
    const still_point *point = n->kind == STILL_D_COMP ? still_diagram_point(d, n->comp) : NULL;
    out->owner = v;
    out->layer = STILL_LAYER_SYMBOL;
    open_group(out, d, n);
    if (n->kind == STILL_D_SPOOL) spool(out, d, v);
    still_diagram_symbol(out, d, n);
    port_names(out, d, v);
    out->layer = STILL_LAYER_MARK;
    if (point != NULL && point->action != STILL_ACTION_OPEN) boundary(out, d, v);
    if (n->kind == STILL_D_COMP && (d->mark[n->comp] & STILL_MARK_TARGET) && !d->bare)
        target_frame(out, n);
    out->layer = STILL_LAYER_LABEL;
    label(out, d, n);
    still_canvas_close(out);
}

void still_diagram_draw(still_canvas *out, const still_dia *d)
{
    still_diagram_pipes(out, d);
    for (uint32_t v = 0; v < d->n_nodes; v++)
        if (d->nodes[v].kind != STILL_D_BEND) node(out, d, v);
    out->layer = STILL_LAYER_PAGE;
    out->owner = STILL_NONE;
}
