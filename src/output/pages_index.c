/* The index: which page shows what, and on which pages each part that can be shut in stands. Rows
 * run down in columns, over as many pages as they need. */
#include "pages.h"

#include "diagram.h"

#include <math.h>
#include <string.h>

/** A3 in pixels at which capitals are 2 mm high, as in diagram_page.c. */
#define WIDTH 1837.0
#define HEIGHT 1299.0
#define MARGIN 28.0
#define HEAD 86.0
#define FOOT 40.0
#define ROW 20.0
#define COLUMN 445.0

#define INDENT 20.0

enum { COLUMNS = 4 };

/** A writer of rows: those of one page are drawn, the others counted. */
typedef struct rows {
    still_canvas *out; /* NULL = count only */
    uint32_t n, first, last;
} rows;

static uint32_t rows_a_column(void)
{
    return (uint32_t)((HEIGHT - 2.0 * MARGIN - HEAD - FOOT) / ROW);
}

static void row(rows *r, still_look look, double indent, const char *text)
{
    uint32_t i = r->n++;
    if (r->out == NULL || i < r->first || i >= r->last) return;
    i -= r->first;
    double x = MARGIN + COLUMN * (double)(i / rows_a_column()) + indent;
    double y = MARGIN + HEAD + 14.0 + ROW * (double)(i % rows_a_column());
    still_canvas_fitted(r->out, look, x, y, STILL_TYPE, COLUMN - indent - 14.0, text);
}

/** Pass over rows none of which is on this page. */
static bool pass(rows *r, uint32_t n)
{
    if (r->out != NULL && r->n < r->last && r->n + n > r->first) return false;
    r->n += n;
    return true;
}

static void made(rows *r, still_look look, double indent, still_buf *text)
{
    if (text->failed && r->out != NULL) r->out->failed = true;
    if (!text->failed) row(r, look, indent, text->text != NULL ? text->text : "");
    still_buf_clear(text);
}

/** How the numbers of pages of a segment fall into rows. Widths are taken for the widest letters
 * and for bold type: rows must be counted before numbers are known, and none may be cut off. */
typedef struct layout {
    uint32_t first, more; /* numbers in the first row, and in each after it */
    bool close_up;        /* its close-up has a row of its own */
    uint32_t n;           /* rows */
} layout;

static layout layout_of(const still_pages *p, uint32_t i)
{
    const double letter = 9.2, digit = 8.4, comma = 9.0, room = COLUMN - 14.0;
    const char *close_up = "; close-up: page 8888";
    const still_segment *s = &p->cov->segments[i];
    uint32_t pages = p->shown_at[i + 1] - p->shown_at[i], digits = 1, rest = 0;
    for (uint32_t n = p->n_areas + p->n_areas / 8 + 200; n >= 10; n /= 10) digits++;
    double number = digit * digits + comma,
           head = letter * (double)strlen(s->name) + digit * (double)strlen(" (by a person): page");
    layout l = {.first = (uint32_t)fmax(0.0, (room - head) / number),
                .more = (uint32_t)((room - INDENT) / number)};
    if (l.first > pages) l.first = pages;
    rest = pages - l.first;
    l.n = 1 + (rest + l.more - 1) / l.more;
    if (still_diagram_gap(p->cov, i) == 0 || p->n_close == 0) return l;
    double used = rest == 0 ? head + number * l.first
                            : INDENT + number * (rest % l.more != 0 ? rest % l.more : l.more);
    l.close_up = used + digit * (double)strlen(close_up) > room;
    l.n += l.close_up;
    return l;
}

static void segment_rows(rows *r, const still_pages *p, uint32_t i)
{
    const still_segment *s = &p->cov->segments[i];
    const layout l = layout_of(p, i);
    uint32_t gap = still_diagram_gap(p->cov, i), n = 0, most = l.first;
    if (pass(r, l.n)) return;
    double indent = 0.0;
    still_look look = gap != 0 ? STILL_LOOK_ID : STILL_LOOK_TXT;
    still_buf text = STILL_BUF_INIT;
    still_buf_printf(&text, "%s (%s): page", s->name, still_diagram_part_words(s));
    for (uint32_t k = p->shown_at[i]; k < p->shown_at[i + 1]; k++) {
        if (n == most) {
            if (most > 0) still_buf_add(&text, ",");
            made(r, look, indent, &text);
            indent = INDENT;
            most = l.more;
            n = 0;
        }
        still_buf_printf(&text, "%s%s%u", n > 0 ? "," : "", text.len > 0 ? " " : "",
                         still_pages_of_area(p, p->shown_on[k]));
        n++;
    }
    if (l.close_up) {
        still_buf_add(&text, ";");
        made(r, look, indent, &text);
        indent = INDENT;
    }
    if (gap != 0 && p->n_close > 0)
        still_buf_printf(&text, "%sclose-up: page %u", l.close_up ? "" : "; ",
                         p->n_index + p->n_areas + gap);
    made(r, look, indent, &text);
}

static void page_rows(rows *r, const still_pages *p)
{
    still_buf text = STILL_BUF_INIT;
    row(r, STILL_LOOK_ID, 0.0, "Pages");
    for (uint32_t a = 0; a < p->n_areas; a++) {
        if (pass(r, 1)) continue;
        still_buf_printf(&text, "page %u: %s (%u component%s)", still_pages_of_area(p, a),
                         p->names[a], still_pages_size(p, a),
                         still_pages_size(p, a) == 1 ? "" : "s");
        made(r, STILL_LOOK_TXT, 0.0, &text);
    }
    if (p->n_close > 0) {
        still_buf_printf(&text, "pages %u to %u: close-ups, one for each number",
                         p->n_index + p->n_areas + 1, still_pages_count(p));
        made(r, STILL_LOOK_TXT, 0.0, &text);
    } else if (still_diagram_gap(p->cov, 0) != 0) {
        row(r, STILL_LOOK_TXT, 0.0, "close-ups: too many gaps; relief --around ID draws each");
    }
    row(r, STILL_LOOK_TXT, 0.0, "");
}

/** All rows: areas, then gaps and other segments in the order of the record (worst first). */
static void write_rows(rows *r, const still_pages *p)
{
    page_rows(r, p);
    row(r, STILL_LOOK_ID, 0.0, "Parts that can be shut in: where they are drawn");
    for (uint32_t i = 0; i < p->cov->n_segments; i++) segment_rows(r, p, i);
}

uint32_t still_pages_index_size(const still_pages *p)
{
    rows r = {.out = NULL};
    uint32_t a_page = rows_a_column() * COLUMNS;
    write_rows(&r, p);
    return (r.n + a_page - 1) / a_page;
}

still_status still_pages_index(still_canvas *out, const still_pages *p, uint32_t page)
{
    const still_coverage_record *cov = p->cov;
    uint32_t a_page = rows_a_column() * COLUMNS;
    rows r = {.out = out, .first = (page - 1) * a_page, .last = page * a_page};
    still_buf text = STILL_BUF_INIT;
    out->width = WIDTH;
    out->height = HEIGHT;
    out->width_mm = 420.0;
    out->height_mm = 297.0;
    out->layer = STILL_LAYER_PAGE;
    out->owner = STILL_NONE;
    still_buf_printf(&out->title, "Closed-in liquid - %s: index",
                     cov->plant_name[0] != '\0' ? cov->plant_name : cov->plant_id);
    still_buf_printf(&out->desc, "index of %u pages", still_pages_count(p));
    still_canvas_rect(out, STILL_LOOK_CELL, 0.0, 0.0, WIDTH, HEIGHT, 0.0);
    if (!out->title.failed)
        still_canvas_fitted(out, STILL_LOOK_ID, MARGIN, MARGIN + 24.0, 26.0, WIDTH - 2.0 * MARGIN,
                            out->title.text);
    still_buf_printf(&text,
                     "Page %u of %u - %u gap%s - %zu parts can be shut in: %u covered, %u "
                     "not full, %u not covered",
                     page, still_pages_count(p), cov->n_gaps, cov->n_gaps == 1 ? "" : "s",
                     cov->n_segments, cov->n_covered, cov->n_not_full, cov->n_uncovered);
    if (text.failed) out->failed = true;
    if (!text.failed)
        still_canvas_fitted(out, STILL_LOOK_ID, MARGIN, MARGIN + 54.0, 20.0, WIDTH - 2.0 * MARGIN,
                            text.text);
    still_buf_clear(&text);
    still_canvas_line(out, STILL_LOOK_RULE, MARGIN, MARGIN + 66.0, WIDTH - MARGIN, MARGIN + 66.0);
    write_rows(&r, p);
    still_buf_printf(&text,
                     "Plant %s, revision %s, digest %.16s. Made by %s %s. These pages must be "
                     "checked by walking the line before work; their data may be wrong.",
                     cov->plant_id,
                     cov->plant_revision[0] != '\0' ? cov->plant_revision : "not said",
                     cov->plant_digest, cov->program, cov->version);
    if (text.failed) out->failed = true;
    if (!text.failed)
        still_canvas_fitted(out, STILL_LOOK_TXT, MARGIN, HEIGHT - MARGIN, STILL_TYPE,
                            WIDTH - 2.0 * MARGIN, text.text);
    still_buf_clear(&text);
    if (out->title.failed || out->desc.failed) out->failed = true;
    return out->failed ? STILL_E_NOMEM : STILL_OK;
}
