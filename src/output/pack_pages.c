/* The pack on pages: lines, tables, page breaks.
 *
 * A row is as high as its highest cell, and goes on one page. One that is higher than a page is
 * drawn in windows: of each cell those lines that lie in the window whole; the next window begins
 * with the first line that did not. So no line is cut, and none is lost.
 *
 * The page for the decision is tried with smaller and smaller type, down to 2 mm; then its last
 * items are left out, which is said; only then it takes a second page. A try draws nothing. */
#include "pack_pages.h"

#include "alloc.h"
#include "qr.h"

#include <math.h>
#include <string.h>

#define SAY(...) still_arena_printf(&s->arena, __VA_ARGS__)
#define POINTS_PER_MM (72.0 / 25.4)
/** Capitals of DejaVu Sans are 0.729 of the size high: 2 mm at 7.8 points. */
#define LEAST 7.8
#define LEAST_APPENDIX 7.0
#define FOOT_TYPE 7.0
#define HEAD_ROOM 30.0
#define FOOT_ROOM 20.0
/** Height of a line in sizes of its type; and where room is short. */
#define LEADING 1.28
#define LEADING_TIGHT 1.17
#define PAD 3.0

typedef struct sheet_size {
    double width_mm, height_mm;
} sheet_size;

static const sheet_size sizes[] = {{210.0, 297.0}, {297.0, 420.0}, {215.9, 279.4}, {279.4, 431.8}};
/** Left (holes), and all others. */
enum { MARGIN_LEFT_MM = 20, MARGIN_MM = 12 };

typedef struct setter {
    const still_pack *p;
    still_ppages *out;
    still_arena arena;
    still_status status;
    bool draw;               /* else only count pages */
    bool upright;            /* the diagram */
    bool tight;              /* lines stand close */
    size_t pages;            /* begun */
    const still_prow *group; /* head of the rows at hand; NULL = none */
    still_canvas *c;         /* of the page at hand; NULL = nothing is drawn */
    const char *part;        /* title */
    double left, width, top, bottom, y;
    double page_w, page_h;
    double base;  /* size of type */
    double least; /* no smaller than this */
    /* Window of a row that is higher than a page. */
    double from, limit, before, next;
} setter;

static bool fresh_page(setter *s, double width_mm, double height_mm)
{
    s->page_w = width_mm * POINTS_PER_MM;
    s->page_h = height_mm * POINTS_PER_MM;
    s->left = MARGIN_LEFT_MM * POINTS_PER_MM;
    s->width = s->page_w - s->left - MARGIN_MM * POINTS_PER_MM;
    s->top = MARGIN_MM * POINTS_PER_MM + HEAD_ROOM;
    s->bottom = s->page_h - MARGIN_MM * POINTS_PER_MM - FOOT_ROOM;
    s->y = s->top;
    s->pages++;
    s->c = NULL;
    if (!s->draw) return true;
    if (!still_grow(&s->out->items, &s->out->cap, s->out->n + 1, sizeof s->out->items[0])) {
        s->status = STILL_E_NOMEM;
        return false;
    }
    still_ppage *page = &s->out->items[s->out->n++];
    *page = (still_ppage){.canvas = {.width = s->page_w,
                                     .height = s->page_h,
                                     .width_mm = width_mm,
                                     .height_mm = height_mm,
                                     .layer = STILL_LAYER_LABEL,
                                     .owner = UINT32_MAX},
                          .part = s->part};
    s->c = &page->canvas;
    return true;
}

static void next_page(setter *s)
{
    (void)fresh_page(s, s->page_w / POINTS_PER_MM, s->page_h / POINTS_PER_MM);
}

static void mark(setter *s, const char *title, bool part)
{
    if (!s->draw) return;
    if (!still_grow(&s->out->marks, &s->out->cap_marks, s->out->n_marks + 1,
                    sizeof s->out->marks[0])) {
        s->status = STILL_E_NOMEM;
        return;
    }
    s->out->marks[s->out->n_marks++] =
        (still_pmark){title, s->out->n > 0 ? s->out->n - 1 : 0, part};
}

/* ---- lines ---- */

static double size_of(const setter *s, still_pstyle style)
{
    double size = s->base;
    if (style == STILL_P_ID) size *= 1.2;
    if (style == STILL_P_LARGE) size *= 1.08;
    if (style == STILL_P_SMALL) size *= 0.88;
    if (style == STILL_P_TAG) size = fmax(s->base * 1.6, 13.0);
    return fmax(size, s->least);
}

static still_look look_of(still_pstyle style)
{
    bool bold = style == STILL_P_STRONG || style == STILL_P_ID || style == STILL_P_LARGE ||
                style == STILL_P_WARN || style == STILL_P_BOX || style == STILL_P_TAG;
    return bold ? STILL_LOOK_ID : STILL_LOOK_TXT;
}

static double line_height(const setter *s, double size)
{
    return ceil(size * (s->tight ? LEADING_TIGHT : LEADING) * 4.0) / 4.0;
}

/** Whether what lies from `at` to `at + high` in its row shows in the window; where it shows. */
static bool shows(setter *s, double at, double high, double row_y, double *y)
{
    double end = at + high;
    *y = row_y + at - s->from;
    if (end <= s->before + 0.01 && s->from > 0.0) return false;
    if (end > s->limit + 0.01) {
        s->next = fmin(s->next, at);
        return false;
    }
    return s->c != NULL;
}

/** Text over as many lines as it needs. @return height */
static double flow(setter *s, still_look look, double size, const char *text, double x, double room,
                   double at, double row_y)
{
    double high = 0.0, y, step = line_height(s, size);
    bool bold = still_look_of(look)->bold;
    while (*text != '\0') {
        size_t n = still_text_break(text, size, room, bold);
        if (shows(s, at + high, step, row_y, &y)) {
            still_buf line = STILL_BUF_INIT;
            still_buf_addn(&line, text, n);
            if (line.failed)
                s->c->failed = true;
            else
                still_canvas_text(s->c, look, x, y + size * 0.95, size, STILL_ANCHOR_START,
                                  line.text);
            still_buf_clear(&line);
        }
        high += step;
        text += n;
        while (*text == ' ') text++;
    }
    return high;
}

static void warning(setter *s, double x, double y, double size)
{
    still_canvas_path(s->c, STILL_LOOK_BOX);
    still_canvas_move(s->c, x + size * 0.5, y);
    still_canvas_to(s->c, x + size, y + size * 0.92);
    still_canvas_to(s->c, x, y + size * 0.92);
    still_canvas_end(s->c);
    still_canvas_rect(s->c, STILL_LOOK_INK, x + size * 0.45, y + size * 0.32, size * 0.1,
                      size * 0.3, 0.0);
    still_canvas_rect(s->c, STILL_LOOK_INK, x + size * 0.45, y + size * 0.7, size * 0.1, size * 0.1,
                      0.0);
}

/** A flag with a number in it. @return its width */
static double flag(setter *s, double x, double y, double size, const char *number)
{
    double wide = fmax(still_text_width(number, size, true) + size * 0.5, size * 1.2);
    double high = size * 1.35;
    still_canvas_path(s->c, STILL_LOOK_FLAG);
    still_canvas_move(s->c, x, y);
    still_canvas_to(s->c, x + wide, y);
    still_canvas_to(s->c, x + wide + high * 0.32, y + high / 2.0);
    still_canvas_to(s->c, x + wide, y + high);
    still_canvas_to(s->c, x, y + high);
    still_canvas_end(s->c);
    still_canvas_text(s->c, STILL_LOOK_ID, x + size * 0.25, y + size * 1.04, size,
                      STILL_ANCHOR_START, number);
    return wide + high * 0.32;
}

/** A line of a cell. @return height */
static double set_line(setter *s, const still_pline *l, double x, double room, double at,
                       double row_y)
{
    double size = size_of(s, l->style), y;
    if (l->style == STILL_P_TAG) {
        if (shows(s, at, size * 1.6, row_y, &y)) (void)flag(s, x, y + size * 0.1, size, l->text);
        return size * 1.6;
    }
    if (l->style == STILL_P_WRITE) return s->base * 2.0;
    if (l->style == STILL_P_CHECK) {
        double side = size * 0.8;
        if (shows(s, at, line_height(s, size), row_y, &y))
            still_canvas_rect(s->c, STILL_LOOK_BOX, x, y + size * 0.25, side, side, 0.0);
        return line_height(s, size);
    }
    if (l->style == STILL_P_BOX || l->style == STILL_P_TICK) {
        double box = fmax(s->base * 1.15, 10.0), high = fmax(box + 4.0, line_height(s, size));
        if (shows(s, at, high, row_y, &y)) {
            still_canvas_rect(s->c, STILL_LOOK_BOX, x + 0.6, y + 1.5, box, box, 0.0);
            if (l->style == STILL_P_BOX)
                still_canvas_fitted(s->c, STILL_LOOK_ID, x + box + 5.0,
                                    y + 1.5 + box / 2.0 + size * 0.36, size, room - box - 5.0,
                                    l->text);
        }
        return high;
    }
    double indent = l->style == STILL_P_WARN ? size * 1.35 : 0.0;
    if (indent > 0.0 && shows(s, at, line_height(s, size), row_y, &y))
        warning(s, x, y + size * 0.12, size);
    return flow(s, look_of(l->style), size, l->text, x + indent, room - indent, at, row_y);
}

static double set_cell(setter *s, const still_pcell *cell, double x, double room, double row_y)
{
    double at = 0.0;
    for (const still_pline *l = cell->first; l != NULL; l = l->next)
        at += set_line(s, l, x, room, at, row_y);
    return at;
}

/* ---- rows ---- */

/** Where the cells of a row stand. */
typedef struct grid {
    const still_pblock *b;
    double x[16], w[16];
    size_t n;
} grid;

static grid grid_of(const setter *s, const still_pblock *b)
{
    grid g = {.b = b, .n = b->n_columns < 16 ? b->n_columns : 16};
    double sum = 0.0, x = s->left;
    for (size_t i = 0; i < g.n; i++) sum += b->columns[i].share;
    for (size_t i = 0; i < g.n; i++) {
        g.x[i] = x;
        g.w[i] = s->width * b->columns[i].share / sum;
        x += g.w[i];
    }
    return g;
}

static double draw_cells(setter *s, const grid *g, const still_prow *row, double row_y)
{
    double high = 0.0;
    if (row->group) return set_cell(s, &row->cells[0], s->left + PAD, s->width - 2 * PAD, row_y);
    for (size_t i = 0; i < g->n; i++)
        high = fmax(high, set_cell(s, &row->cells[i], g->x[i] + PAD, g->w[i] - 2 * PAD, row_y));
    return high;
}

static void no_window(setter *s)
{
    s->from = s->before = 0.0;
    s->limit = s->next = HUGE_VAL;
}

/** Height of a row with nothing drawn. */
static double measure(setter *s, const grid *g, const still_prow *row)
{
    still_canvas *c = s->c;
    s->c = NULL;
    no_window(s);
    double high = draw_cells(s, g, row, 0.0);
    s->c = c;
    return high + 2 * PAD;
}

static void rules(setter *s, const grid *g, double y, double high, bool group)
{
    if (s->c == NULL) return;
    still_canvas_line(s->c, STILL_LOOK_HAIR, s->left, y + high, s->left + s->width, y + high);
    if (!g->b->grid) return;
    still_canvas_line(s->c, STILL_LOOK_HAIR, s->left, y, s->left, y + high);
    still_canvas_line(s->c, STILL_LOOK_HAIR, s->left + s->width, y, s->left + s->width, y + high);
    for (size_t i = 1; i < g->n && !group; i++)
        still_canvas_line(s->c, STILL_LOOK_HAIR, g->x[i], y, g->x[i], y + high);
}

/** The titles of the columns. @return height */
static double table_head(setter *s, const grid *g, bool draw)
{
    double high = 0.0, size = fmax(s->base * 0.85, s->least);
    still_canvas *c = s->c;
    no_window(s);
    s->c = NULL;
    for (size_t i = 0; i < g->n; i++)
        high = fmax(high, flow(s, STILL_LOOK_ID, size, g->b->columns[i].title, 0.0,
                               g->w[i] - 2 * PAD, 0.0, 0.0));
    s->c = c;
    high += 2 * PAD;
    if (!draw) return high;
    if (s->c != NULL) {
        still_canvas_rect(s->c, STILL_LOOK_SHADE, s->left, s->y, s->width, high, 0.0);
        for (size_t i = 0; i < g->n; i++)
            flow(s, STILL_LOOK_ID, size, g->b->columns[i].title, g->x[i] + PAD, g->w[i] - 2 * PAD,
                 0.0, s->y + PAD);
        still_canvas_line(s->c, STILL_LOOK_RULE, s->left, s->y + high, s->left + s->width,
                          s->y + high);
        rules(s, g, s->y, high, false);
    }
    s->y += high;
    return high;
}

/** A row that is higher than a page, window by window. */
static void high_row(setter *s, const grid *g, const still_prow *row)
{
    double from = 0.0, before = 0.0;
    for (;;) {
        double room = s->bottom - s->y - 2 * PAD;
        s->from = from;
        s->before = before;
        s->limit = from + room;
        s->next = HUGE_VAL;
        double high = draw_cells(s, g, row, s->y + PAD);
        bool more = s->next < HUGE_VAL;
        double used = more ? s->bottom - s->y : high - from + 2 * PAD;
        rules(s, g, s->y, used, row->group);
        s->y += used;
        if (!more) break;
        before = s->limit;
        /* Never the same window again: a line that is higher than a page would be for ever. */
        from = s->next > from ? s->next : s->limit;
        next_page(s);
        if (s->status != STILL_OK) break;
        (void)table_head(s, g, true);
    }
    no_window(s);
}

/** On a new page the head of a group stands above its rows again. */
static void head_again(setter *s, const grid *g)
{
    double high = measure(s, g, s->group);
    if (s->y + high > s->bottom - (s->bottom - s->top) / 2.0) return;
    if (s->c != NULL) still_canvas_rect(s->c, STILL_LOOK_SHADE, s->left, s->y, s->width, high, 0.0);
    no_window(s);
    (void)draw_cells(s, g, s->group, s->y + PAD);
    rules(s, g, s->y, high, true);
    s->y += high;
}

static void set_row(setter *s, const grid *g, const still_prow *row)
{
    double high = measure(s, g, row), need = high;
    /* The head of a group stays with its first row. */
    if (row->group && row->next != NULL) need += measure(s, g, row->next);
    double head = table_head(s, g, false);
    if (s->y + need > s->bottom && s->y > s->top + head + 1.0) {
        next_page(s);
        if (s->status != STILL_OK) return;
        (void)table_head(s, g, true);
        if (!row->group && s->group != NULL) head_again(s, g);
    }
    if (row->group) s->group = row;
    if (s->y + high > s->bottom) {
        high_row(s, g, row);
        return;
    }
    if (s->c != NULL && row->group)
        still_canvas_rect(s->c, STILL_LOOK_SHADE, s->left, s->y, s->width, high, 0.0);
    no_window(s);
    (void)draw_cells(s, g, row, s->y + PAD);
    rules(s, g, s->y, high, row->group);
    s->y += high;
}

static void set_table(setter *s, const still_pblock *b)
{
    grid g = grid_of(s, b);
    double first = b->first_row != NULL ? measure(s, &g, b->first_row) : 0.0;
    if (b->first_row != NULL && b->first_row->group && b->first_row->next != NULL)
        first += measure(s, &g, b->first_row->next);
    double need = table_head(s, &g, false) + fmin(first, (s->bottom - s->top) / 2.0);
    if (s->y + need > s->bottom && s->y > s->top) next_page(s);
    if (s->status != STILL_OK) return;
    (void)table_head(s, &g, true);
    s->group = NULL;
    for (const still_prow *row = b->first_row; row != NULL && s->status == STILL_OK;
         row = row->next)
        set_row(s, &g, row);
    s->y += s->base * 0.7;
}

/* ---- other blocks ---- */

/** A text that may go over pages, a bullet or a label in front of it. */
static void set_text(setter *s, const still_pline *l, double indent, const still_pline *label,
                     double label_room)
{
    still_prow row = {0};
    still_pcell cells[2] = {{NULL, NULL}, {NULL, NULL}};
    still_pline text = *l, front;
    text.next = NULL;
    cells[1].first = &text;
    if (label != NULL) {
        front = *label;
        front.next = NULL;
        cells[0].first = &front;
    }
    row.cells = cells;
    still_pcolumn columns[2] = {{"", label_room}, {"", s->width - indent - label_room}};
    const still_pblock block = {.columns = columns, .n_columns = 2};
    grid g = {.b = &block, .n = 2};
    g.x[0] = s->left + indent - PAD;
    g.w[0] = label_room + PAD;
    g.x[1] = s->left + indent + label_room - PAD;
    g.w[1] = s->width - indent - label_room + 2 * PAD;
    double high = measure(s, &g, &row) - 2 * PAD;
    if (s->y + high > s->bottom && (high < (s->bottom - s->top) / 3.0 || s->y > s->bottom - 40.0))
        next_page(s);
    if (s->status != STILL_OK) return;
    double from = 0.0, before = 0.0;
    for (;;) {
        s->from = from;
        s->before = before;
        s->limit = from + s->bottom - s->y;
        s->next = HUGE_VAL;
        (void)draw_cells(s, &g, &row, s->y);
        if (s->next == HUGE_VAL) break;
        before = s->limit;
        from = s->next > from ? s->next : s->limit;
        next_page(s);
        if (s->status != STILL_OK) return;
    }
    s->y += high - from;
    no_window(s);
}

/** Height of a whole table. */
static double measure_table(setter *s, const still_pblock *b)
{
    grid g = grid_of(s, b);
    double high = table_head(s, &g, false);
    for (const still_prow *row = b->first_row; row != NULL; row = row->next)
        high += measure(s, &g, row);
    return high;
}

static void set_heading(setter *s, const still_pblock *b)
{
    const char *words = b->text;
    double size = s->base * 1.15, need = size * 6.0;
    if (b->next != NULL && b->next->kind == STILL_PB_TABLE && b->next->together) {
        double whole = measure_table(s, b->next) + size * 2.5;
        if (whole <= s->bottom - s->top) need = whole;
    }
    if (s->y + need > s->bottom || (b->fresh && s->y > s->bottom * 0.3)) next_page(s);
    if (s->status != STILL_OK) return;
    if (s->y > s->top + 1.0) s->y += s->base * 0.45;
    mark(s, words, false);
    no_window(s);
    s->y += flow(s, STILL_LOOK_ID, size, words, s->left, s->width, 0.0, s->y) + s->base * 0.15;
}

static void set_items(setter *s, const still_pblock *b, size_t keep)
{
    static const still_pline bullet = {STILL_P_PLAIN, "-", NULL}, box = {STILL_P_CHECK, "", NULL};
    size_t n = 0;
    for (const still_prow *row = b->first_row; row != NULL && n < keep; row = row->next, n++)
        set_text(s, row->cells[0].first, 0.0, b->boxes ? &box : &bullet, s->base * 1.2);
    if (n < b->n_rows) {
        const char *more = SAY("And %zu more, which have no room here: they stand in the appendix, "
                               "under Assumptions, and are read before anyone signs.",
                               b->n_rows - n);
        const still_pline l = {STILL_P_WARN, more != NULL ? more : "", NULL};
        if (more == NULL) s->status = STILL_E_NOMEM;
        set_text(s, &l, 0.0, NULL, 0.0);
    }
    s->y += s->base * 0.3;
}

static void set_fields(setter *s, const still_pblock *b)
{
    double label = 0.0;
    for (const still_prow *row = b->first_row; row != NULL; row = row->next)
        label = fmax(label,
                     still_text_width(row->cells[0].first->text, size_of(s, STILL_P_PLAIN), false));
    label = fmin(label + 8.0, s->width * 0.28);
    for (const still_prow *row = b->first_row; row != NULL; row = row->next)
        set_text(s, row->cells[1].first, 0.0, row->cells[0].first, label);
    s->y += s->base * 0.3;
}

/* ---- cards ---- */

/** Lines of text, no more than fit in the room; the rest stands in the tag list. @return height */
static double bounded(setter *s, still_look look, double size, const char *text, double x, double y,
                      double room, int most)
{
    double high = 0.0;
    bool bold = still_look_of(look)->bold;
    for (int i = 0; i < most && *text != '\0'; i++) {
        size_t n = still_text_break(text, size, room, bold);
        still_buf line = STILL_BUF_INIT;
        if (i + 1 == most)
            still_buf_add(&line, text);
        else
            still_buf_addn(&line, text, n);
        if (line.failed)
            s->c->failed = true;
        else
            still_canvas_fitted(s->c, look, x, y + high + size * 0.95, size, room, line.text);
        still_buf_clear(&line);
        high += line_height(s, size);
        text += n;
        while (*text == ' ') text++;
    }
    return high;
}

static void draw_card(setter *s, const still_pcard *card, double x, double y, double w, double h)
{
    const still_messages *m = s->p->people.messages;
    static const char *const blanks[] = {WORD("Hung by"), WORD("Lock no."), WORD("Date and time")};
    double qr_side = 76.0, in = 9.0, size = 9.0;
    still_qr qr = {0, NULL};
    still_canvas_rect(s->c, STILL_LOOK_CUT, x, y, w, h, 0.0);
    still_canvas_circle(s->c, STILL_LOOK_HAIR, x + in + 7.0, y + in + 7.0, 7.0);
    s->status = still_qr_make(&qr, card->code);
    if (s->status != STILL_OK) return;
    still_qr_draw(s->c, &qr, x + w - qr_side - 4.0, y + 4.0, qr_side);
    still_qr_clear(&qr);
    double left = x + in, room = w - 2 * in, narrow = room - qr_side + 4.0, at = y + in;
    const char *number = SAY("%u", card->point->tag);
    if (number == NULL) {
        s->status = STILL_E_NOMEM;
        return;
    }
    (void)flag(s, left + 22.0, at, 19.0, number);
    at += 28.0;
    at += bounded(s, STILL_LOOK_ID, 11.5, card->legend, left, at, narrow, 2);
    at += bounded(s, STILL_LOOK_ID, 15.0, card->point->id, left, at, narrow, 2);
    at = fmax(at, y + qr_side - 6.0);
    double foot = y + h - in - 8.0, end = foot - 22.0;
    const struct {
        still_look look;
        double size;
        const char *text;
        int most;
    } lines[] = {{STILL_LOOK_ID, size, card->action, 1},
                 {STILL_LOOK_ID, size, card->point->isolator, 1},
                 {STILL_LOOK_TXT, size, card->point->place, 1},
                 {STILL_LOOK_TXT, size, card->point->what, 2},
                 {STILL_LOOK_TXT, LEAST, card->hold, 2}};
    for (size_t i = 0; i < sizeof lines / sizeof lines[0]; i++) {
        int fit = (int)floor((end - at) / line_height(s, lines[i].size));
        at += bounded(s, lines[i].look, lines[i].size, lines[i].text, left, at, room,
                      fit < lines[i].most ? fit : lines[i].most);
    }
    still_canvas_fitted(s->c, STILL_LOOK_TXT, left, y + h - 5.0, LEAST, room, card->origin);
    double third = room / 3.0;
    for (int i = 0; i < 3; i++) {
        if (i == 1 && !card->lock) continue;
        still_canvas_line(s->c, STILL_LOOK_HAIR, left + third * i, foot - 7.5,
                          left + third * (i + 1) - 6.0, foot - 7.5);
        still_canvas_fitted(s->c, STILL_LOOK_TXT, left + third * i, foot + 0.5, LEAST, third - 6.0,
                            still_messages_get(m, blanks[i]));
    }
}

static void set_cards(setter *s, const still_pblock *b)
{
    enum { ACROSS = 2, DOWN = 4 };
    double w = s->width / ACROSS, h = floor((s->bottom - s->top - 52.0) / DOWN);
    int column = 0;
    for (const still_pcard *card = b->first_card; card != NULL && s->status == STILL_OK;
         card = card->next) {
        if (column == 0 && s->y + h > s->bottom) next_page(s);
        if (s->status != STILL_OK) return;
        if (s->c != NULL) draw_card(s, card, s->left + w * column, s->y, w, h);
        column = (column + 1) % ACROSS;
        if (column == 0) s->y += h;
    }
}

/** A chart is drawn on a canvas of its own, and copied onto the page. */
static void set_chart(setter *s, const still_pblock *b)
{
    still_canvas chart = {0};
    still_status status = still_pack_chart(&chart, s->p, b->segment);
    if (status == STILL_OK && s->y + chart.height > s->bottom) next_page(s);
    if (status == STILL_OK && s->c != NULL) still_canvas_copy(s->c, &chart, s->left, s->y);
    if (status == STILL_OK) s->y += chart.height + s->base * 0.5;
    if (status != STILL_OK) s->status = status;
    still_canvas_clear(&chart);
}

/* ---- parts ---- */

static void set_title(setter *s, const still_pblock *part)
{
    mark(s, part->text, true);
    no_window(s);
    double size = fmax(s->base * 1.5, 13.0);
    double wide = still_text_width(part->text, size, true) + 10.0;
    if (s->c != NULL && wide < s->width)
        still_canvas_fitted(s->c, STILL_LOOK_TXT, s->left + wide, s->y + size * 0.95,
                            fmax(s->base, s->least), s->width - wide, part->note);
    s->y += flow(s, STILL_LOOK_ID, size, part->text, s->left, s->width, 0.0, s->y) + 2.0;
}

/** All blocks of a part but its diagram. @param keep  items of what may be cut */
static void set_blocks(setter *s, const still_pblock *part, size_t keep)
{
    set_title(s, part);
    for (const still_pblock *b = part->next;
         b != NULL && b->kind != STILL_PB_PART && s->status == STILL_OK; b = b->next) {
        const still_pline l = {b->style, b->text, NULL};
        switch (b->kind) {
        case STILL_PB_HEADING: set_heading(s, b); break;
        case STILL_PB_TEXT:
            set_text(s, &l, 0.0, NULL, 0.0);
            s->y += s->base * 0.2;
            break;
        case STILL_PB_ITEMS: set_items(s, b, b->may_cut ? keep : b->n_rows); break;
        case STILL_PB_FIELDS: set_fields(s, b); break;
        case STILL_PB_TABLE: set_table(s, b); break;
        case STILL_PB_CARDS: set_cards(s, b); break;
        case STILL_PB_CHART: set_chart(s, b); break;
        case STILL_PB_PART:
        case STILL_PB_DIAGRAM: break;
        }
    }
}

/** Pages that a part takes when nothing is drawn. */
static size_t try_part(const setter *s, const still_pblock *part, const sheet_size *paper,
                       double size, size_t keep)
{
    setter t = *s;
    t.draw = false;
    t.pages = 0;
    t.base = size;
    still_arena_init(&t.arena);
    t.arena.messages = s->arena.messages;
    if (fresh_page(&t, paper->width_mm, paper->height_mm)) set_blocks(&t, part, keep);
    still_arena_clear(&t.arena);
    return t.status == STILL_OK ? t.pages : SIZE_MAX;
}

static void fit_one_page(setter *s, const still_pblock *part, const sheet_size *paper, size_t *keep)
{
    size_t all = 0;
    for (const still_pblock *b = part->next; b != NULL && b->kind != STILL_PB_PART; b = b->next)
        if (b->may_cut) all = b->n_rows;
    *keep = all;
    double size = part->size;
    while (size > LEAST && try_part(s, part, paper, size, all) > 1) size = fmax(size - 0.3, LEAST);
    s->base = size;
    if (try_part(s, part, paper, size, all) <= 1) return;
    s->tight = true;
    if (try_part(s, part, paper, size, all) <= 1) return;
    size_t low = 0, high = all; /* most items that go on one page */
    if (try_part(s, part, paper, size, 0) > 1) return;
    while (low + 1 < high) {
        size_t mid = low + (high - low) / 2;
        if (try_part(s, part, paper, size, mid) <= 1)
            low = mid;
        else
            high = mid;
    }
    *keep = low;
}

static void set_diagram(setter *s, const still_pblock *part, const sheet_size *paper,
                        const still_canvas *sheets, size_t n)
{
    s->base = part->size;
    for (size_t i = 0; i < n && s->status == STILL_OK; i++) {
        if (!fresh_page(s, s->upright ? paper->width_mm : paper->height_mm,
                        s->upright ? paper->height_mm : paper->width_mm))
            return;
        if (i == 0) mark(s, part->text, true);
        still_ppage *page = &s->out->items[s->out->n - 1];
        double scale = sheets[i].width_mm * POINTS_PER_MM / sheets[i].width;
        page->inset = &sheets[i];
        page->inset_x = s->left + (s->width - sheets[i].width * scale) / 2.0;
        page->inset_y = s->top;
        page->inset_scale = scale;
    }
}

static void set_part(setter *s, const still_pblock *part, still_paper paper,
                     const still_canvas *sheets, size_t n_sheets)
{
    bool american = paper == STILL_PAPER_LETTER || paper == STILL_PAPER_TABLOID;
    const sheet_size *text = &sizes[american ? STILL_PAPER_LETTER : STILL_PAPER_A4];
    bool pictures = part->next != NULL && part->next->kind == STILL_PB_DIAGRAM;
    size_t keep = SIZE_MAX;
    s->part = part->text;
    if (pictures) {
        set_diagram(s, part, &sizes[paper], sheets, n_sheets);
        return;
    }
    s->base = part->size;
    s->least = part->size < 9.0 ? LEAST_APPENDIX : LEAST;
    if (part->one_page) fit_one_page(s, part, text, &keep);
    if (fresh_page(s, text->width_mm, text->height_mm)) set_blocks(s, part, keep);
    s->tight = false;
}

/** Head and foot, once it is known how many pages there are. */
static void set_frame(setter *s, size_t i)
{
    still_ppage *page = &s->out->items[i];
    still_canvas *c = &page->canvas;
    const still_record *r = s->p->r;
    double left = MARGIN_LEFT_MM * POINTS_PER_MM, right = c->width - MARGIN_MM * POINTS_PER_MM;
    double top = MARGIN_MM * POINTS_PER_MM, foot = c->height - MARGIN_MM * POINTS_PER_MM;
    const char *part = page->part;
    const char *subject = SAY("%s - %s", s->p->title, r->plant_name);
    const char *who = SAY("%s, revision %s; plan %.16s; plant file %.16s; %s %s", r->plant_id,
                          r->plant_revision[0] ? r->plant_revision : "-", s->p->digest,
                          r->plant_digest, r->program, r->version);
    const char *number = SAY("%zu of %zu", i + 1, s->out->n);
    const char *state = r->feasible && !still_pack_may_pass(r) ? SAY("CANNOT BE APPROVED")
                        : r->ready                             ? SAY("READY")
                        : r->feasible                          ? SAY("NOT READY")
                                                               : SAY("CANNOT BE ISOLATED");
    if (subject == NULL || who == NULL || number == NULL || state == NULL) {
        s->status = STILL_E_NOMEM;
        return;
    }
    c->layer = STILL_LAYER_PAGE;
    double part_w = still_text_width(part, 9.0, false),
           state_w = still_text_width(state, 9.0, true);
    still_canvas_fitted(c, STILL_LOOK_ID, left, top + 9.0, 9.0,
                        right - left - part_w - state_w - 30.0, subject);
    still_canvas_text(c, STILL_LOOK_TXT, right, top + 9.0, 9.0, STILL_ANCHOR_END, part);
    still_canvas_text(c, STILL_LOOK_ID, right - part_w - 12.0, top + 9.0, 9.0, STILL_ANCHOR_END,
                      state);
    still_canvas_line(c, STILL_LOOK_RULE, left, top + 15.0, right, top + 15.0);
    still_canvas_line(c, STILL_LOOK_HAIR, left, foot - 10.0, right, foot - 10.0);
    double number_w = still_text_width(number, 9.0, true);
    still_canvas_fitted(c, STILL_LOOK_TXT, left, foot - 1.0, FOOT_TYPE,
                        right - left - number_w - 12.0, who);
    still_canvas_text(c, STILL_LOOK_ID, right, foot, 9.0, STILL_ANCHOR_END, number);
    if (c->failed) s->status = STILL_E_NOMEM;
}

still_status still_pack_set(still_ppages *out, const still_pack *p, still_paper paper,
                            const still_canvas *sheets, size_t n_sheets, bool upright)
{
    *out = (still_ppages){0};
    setter set = {.p = p,
                  .out = out,
                  .status = STILL_OK,
                  .draw = true,
                  .least = LEAST,
                  .upright = upright},
           *s = &set;
    still_arena_init(&s->arena);
    s->arena.messages = p->people.messages;
    no_window(s);
    for (const still_pblock *b = p->first; b != NULL && s->status == STILL_OK; b = b->next)
        if (b->kind == STILL_PB_PART) set_part(s, b, paper, sheets, n_sheets);
    for (size_t i = 0; i < out->n && s->status == STILL_OK; i++) set_frame(s, i);
    still_arena_clear(&s->arena);
    return s->status;
}

void still_pack_sheet_area(still_paper paper, bool upright, double *width_mm, double *height_mm)
{
    const sheet_size *z = &sizes[paper];
    double across = upright ? z->width_mm : z->height_mm;
    double down = upright ? z->height_mm : z->width_mm;
    *width_mm = across - MARGIN_LEFT_MM - MARGIN_MM;
    *height_mm = down - 2 * MARGIN_MM - (HEAD_ROOM + FOOT_ROOM) / POINTS_PER_MM;
}

void still_ppages_clear(still_ppages *pages)
{
    for (size_t i = 0; i < pages->n; i++) still_canvas_clear(&pages->items[i].canvas);
    still_free(pages->items);
    still_free(pages->marks);
    *pages = (still_ppages){0};
}
