#include "paint.h"

#include "alloc.h"
#include "glyph.h"
#include "pack_pages.h"
#include "pages.h"

#include <cairo-pdf.h>
#include <cairo.h>
#include <dlfcn.h>
#include <math.h>
#include <pango/pangocairo.h>
#include <stdio.h>
#include <string.h>

#define DOTS_PER_MM (150.0 / 25.4)
#define POINTS_PER_MM (72.0 / 25.4)
#define MOST_DOTS 12000.0

/** The functions used, by library. Their types are those of the headers. */
#define CAIRO_FUNCTIONS(X)                                                                         \
    X(cairo_create)                                                                                \
    X(cairo_destroy)                                                                               \
    X(cairo_status)                                                                                \
    X(cairo_scale)                                                                                 \
    X(cairo_paint)                                                                                 \
    X(cairo_set_source_rgb)                                                                        \
    X(cairo_set_line_width)                                                                        \
    X(cairo_set_line_cap)                                                                          \
    X(cairo_set_line_join)                                                                         \
    X(cairo_set_dash)                                                                              \
    X(cairo_new_path)                                                                              \
    X(cairo_move_to)                                                                               \
    X(cairo_line_to)                                                                               \
    X(cairo_curve_to)                                                                              \
    X(cairo_close_path)                                                                            \
    X(cairo_fill_preserve)                                                                         \
    X(cairo_stroke)                                                                                \
    X(cairo_image_surface_create)                                                                  \
    X(cairo_surface_write_to_png_stream)                                                           \
    X(cairo_surface_finish)                                                                        \
    X(cairo_surface_status)                                                                        \
    X(cairo_surface_destroy)                                                                       \
    X(cairo_pdf_surface_create_for_stream)                                                         \
    X(cairo_pdf_surface_add_outline)                                                               \
    X(cairo_save)                                                                                  \
    X(cairo_restore)                                                                               \
    X(cairo_translate)                                                                             \
    X(cairo_pdf_surface_set_metadata)                                                              \
    X(cairo_pdf_surface_set_size)                                                                  \
    X(cairo_surface_show_page)                                                                     \
    X(cairo_font_options_create)                                                                   \
    X(cairo_font_options_destroy)                                                                  \
    X(cairo_font_options_set_antialias)                                                            \
    X(cairo_font_options_set_hint_style)                                                           \
    X(cairo_font_options_set_hint_metrics)
#define PANGO_FUNCTIONS(X)                                                                         \
    X(pango_font_description_new)                                                                  \
    X(pango_font_description_free)                                                                 \
    X(pango_font_description_set_family)                                                           \
    X(pango_font_description_set_weight)                                                           \
    X(pango_font_description_set_absolute_size)                                                    \
    X(pango_layout_set_font_description)                                                           \
    X(pango_layout_set_single_paragraph_mode)                                                      \
    X(pango_layout_set_text)                                                                       \
    X(pango_layout_get_size)                                                                       \
    X(pango_layout_get_baseline)                                                                   \
    X(pango_context_set_round_glyph_positions)
#define PANGOCAIRO_FUNCTIONS(X)                                                                    \
    X(pango_cairo_create_layout)                                                                   \
    X(pango_cairo_context_set_font_options)                                                        \
    X(pango_cairo_update_layout)                                                                   \
    X(pango_cairo_show_layout)
#define FIELD(name) __typeof__(name) *name;

typedef struct library {
    CAIRO_FUNCTIONS(FIELD)
    PANGO_FUNCTIONS(FIELD)
    PANGOCAIRO_FUNCTIONS(FIELD)
    PangoContext *(*pango_layout_get_context)(PangoLayout *);
    void (*g_object_unref)(void *);
} library;

/** Find a symbol. Object and function pointers have one size here (POSIX dlsym). */
static bool find(void *from, const char *name, void *into)
{
    void *symbol = dlsym(from, name);
    memcpy(into, &symbol, sizeof symbol);
    return symbol != NULL;
}

/** Libraries stay loaded: theirs are not made to be unloaded. */
static still_status load(library *l)
{
    void *cairo = dlopen("libcairo.so.2", RTLD_NOW | RTLD_LOCAL);
    void *pango = dlopen("libpango-1.0.so.0", RTLD_NOW | RTLD_LOCAL);
    void *both = dlopen("libpangocairo-1.0.so.0", RTLD_NOW | RTLD_LOCAL);
    void *objects = dlopen("libgobject-2.0.so.0", RTLD_NOW | RTLD_LOCAL);
    if (cairo == NULL || pango == NULL || both == NULL || objects == NULL) return STILL_E_INTERNAL;
    bool all = true;
#define FIND(name) all = find(from, #name, &l->name) && all;
    void *from = cairo;
    CAIRO_FUNCTIONS(FIND)
    from = pango;
    PANGO_FUNCTIONS(FIND)
    FIND(pango_layout_get_context)
    from = both;
    PANGOCAIRO_FUNCTIONS(FIND)
    from = objects;
    FIND(g_object_unref)
#undef FIND
    return all ? STILL_OK : STILL_E_INTERNAL;
}

typedef struct painter {
    library lib;
    cairo_t *cr;
    PangoLayout *layout;
    PangoFontDescription *font;
} painter;

/** Start to paint on a surface. Type is placed as computed, not moved to whole dots. */
static still_status begin(painter *p, cairo_surface_t *surface)
{
    const library *l = &p->lib;
    p->cr = l->cairo_create(surface);
    if (l->cairo_status(p->cr) != CAIRO_STATUS_SUCCESS) return STILL_E_NOMEM;
    p->layout = l->pango_cairo_create_layout(p->cr);
    p->font = l->pango_font_description_new();
    cairo_font_options_t *options = l->cairo_font_options_create();
    l->cairo_font_options_set_antialias(options, CAIRO_ANTIALIAS_GRAY);
    l->cairo_font_options_set_hint_style(options, CAIRO_HINT_STYLE_NONE);
    l->cairo_font_options_set_hint_metrics(options, CAIRO_HINT_METRICS_OFF);
    l->pango_cairo_context_set_font_options(l->pango_layout_get_context(p->layout), options);
    l->cairo_font_options_destroy(options);
    l->pango_context_set_round_glyph_positions(l->pango_layout_get_context(p->layout), 0);
    l->pango_font_description_set_family(p->font, "DejaVu Sans");
    l->pango_layout_set_single_paragraph_mode(p->layout, 1);
    return STILL_OK;
}

static void end(painter *p)
{
    if (p->layout != NULL) p->lib.g_object_unref(p->layout);
    if (p->font != NULL) p->lib.pango_font_description_free(p->font);
    if (p->cr != NULL) p->lib.cairo_destroy(p->cr);
    p->layout = NULL;
    p->font = NULL;
    p->cr = NULL;
}

static void ink(const painter *p, uint32_t rgb)
{
    p->lib.cairo_set_source_rgb(p->cr, (double)(rgb >> 16 & 255U) / 255.0,
                                (double)(rgb >> 8 & 255U) / 255.0, (double)(rgb & 255U) / 255.0);
}

static void path(const painter *p, const still_canvas *c, const still_prim *prim)
{
    const library *l = &p->lib;
    const still_look_row *look = still_look_of(prim->look);
    l->cairo_new_path(p->cr);
    for (size_t i = 0; i < prim->n; i++) {
        const still_pstep *s = &c->steps[prim->first + i];
        switch (s->op) {
        case 'M': l->cairo_move_to(p->cr, s->x[2], s->y[2]); break;
        case 'L': l->cairo_line_to(p->cr, s->x[2], s->y[2]); break;
        case 'C':
            l->cairo_curve_to(p->cr, s->x[0], s->y[0], s->x[1], s->y[1], s->x[2], s->y[2]);
            break;
        default: l->cairo_close_path(p->cr); break;
        }
    }
    if (look->fill != STILL_NO_COLOUR) {
        ink(p, look->fill);
        l->cairo_fill_preserve(p->cr);
    }
    if (look->stroke == STILL_NO_COLOUR) return;
    ink(p, look->stroke);
    l->cairo_set_line_width(p->cr, look->width);
    l->cairo_set_line_cap(p->cr, look->round ? CAIRO_LINE_CAP_ROUND : CAIRO_LINE_CAP_BUTT);
    const double dashes[] = {look->dash_on, look->dash_off};
    l->cairo_set_dash(p->cr, dashes, look->dash_on > 0.0 ? 2 : 0, 0.0);
    l->cairo_stroke(p->cr);
}

/** Give the layout a text. @return its width */
static double set_text(const painter *p, const char *s, double size, bool bold)
{
    const library *l = &p->lib;
    int width = 0;
    l->pango_font_description_set_weight(p->font, bold ? PANGO_WEIGHT_BOLD : PANGO_WEIGHT_NORMAL);
    l->pango_font_description_set_absolute_size(p->font, size * PANGO_SCALE);
    l->pango_layout_set_font_description(p->layout, p->font);
    l->pango_layout_set_text(p->layout, s, -1);
    l->pango_cairo_update_layout(p->cr, p->layout);
    l->pango_layout_get_size(p->layout, &width, NULL);
    return (double)width / PANGO_SCALE;
}

static void text(const painter *p, const still_canvas *c, const still_prim *prim)
{
    const still_look_row *look = still_look_of(prim->look);
    double width = set_text(p, still_prim_text(c, prim), prim->size, look->bold), x = prim->x;
    if (prim->anchor == STILL_ANCHOR_MIDDLE) x -= width / 2.0;
    if (prim->anchor == STILL_ANCHOR_END) x -= width;
    double rise = (double)p->lib.pango_layout_get_baseline(p->layout) / PANGO_SCALE;
    ink(p, look->fill);
    p->lib.cairo_move_to(p->cr, x, prim->y - rise);
    p->lib.pango_cairo_show_layout(p->cr, p->layout);
}

static void all_of(const painter *p, const still_canvas *c)
{
    for (size_t i = 0; i < c->n_prims; i++) {
        if (c->prims[i].kind == STILL_PRIM_PATH) path(p, c, &c->prims[i]);
        if (c->prims[i].kind == STILL_PRIM_TEXT) text(p, c, &c->prims[i]);
    }
}

/** Paint all on a surface whose unit is 1/scale pixel. */
static still_status paint(const library *l, cairo_surface_t *surface, const still_canvas *c,
                          double scale)
{
    painter p = {.lib = *l};
    still_status status = begin(&p, surface);
    if (status == STILL_OK) {
        l->cairo_scale(p.cr, scale, scale);
        l->cairo_set_line_join(p.cr, CAIRO_LINE_JOIN_ROUND);
        ink(&p, 0xFFFFFF);
        l->cairo_paint(p.cr);
        all_of(&p, c);
        if (l->cairo_status(p.cr) != CAIRO_STATUS_SUCCESS) status = STILL_E_INTERNAL;
    }
    end(&p);
    return status;
}

static cairo_status_t take(void *to, const unsigned char *bytes, unsigned n)
{
    still_buf *out = to;
    for (unsigned i = 0; i < n && !out->failed; i++) still_buf_char(out, (char)bytes[i]);
    return out->failed ? CAIRO_STATUS_NO_MEMORY : CAIRO_STATUS_SUCCESS;
}

/** Hand over what was collected. */
static still_status deliver(still_buf *out, still_buf *made, still_status status)
{
    if (made->failed) status = STILL_E_NOMEM;
    if (status == STILL_OK) still_buf_addn(out, made->text, made->len);
    if (status == STILL_OK && out->failed) status = STILL_E_NOMEM;
    still_buf_clear(made);
    return status;
}

static bool whole(const still_canvas *c)
{
    return !c->failed && !c->texts.failed && !c->title.failed && !c->desc.failed;
}

still_status still_paint_png(still_buf *out, const still_canvas *c)
{
    library l;
    still_buf made = STILL_BUF_INIT;
    if (!whole(c)) return STILL_E_NOMEM;
    still_status status = load(&l);
    if (status != STILL_OK) return status;
    double scale = c->width_mm * DOTS_PER_MM / c->width;
    scale = fmin(scale, MOST_DOTS / fmax(c->width, c->height));
    cairo_surface_t *surface = l.cairo_image_surface_create(
        CAIRO_FORMAT_RGB24, (int)lround(c->width * scale), (int)lround(c->height * scale));
    if (l.cairo_surface_status(surface) != CAIRO_STATUS_SUCCESS)
        status = STILL_E_NOMEM;
    else
        status = paint(&l, surface, c, scale);
    if (status == STILL_OK &&
        l.cairo_surface_write_to_png_stream(surface, take, &made) != CAIRO_STATUS_SUCCESS)
        status = STILL_E_INTERNAL;
    l.cairo_surface_destroy(surface);
    return deliver(out, &made, status);
}

/* One page: the first one sets the title. */
static still_status add_page(const library *l, cairo_surface_t **surface, still_buf *made,
                             const still_canvas *c)
{
    double width = c->width_mm * POINTS_PER_MM, height = c->height_mm * POINTS_PER_MM;
    if (*surface == NULL) {
        *surface = l->cairo_pdf_surface_create_for_stream(take, made, width, height);
        if (l->cairo_surface_status(*surface) != CAIRO_STATUS_SUCCESS) return STILL_E_NOMEM;
        l->cairo_pdf_surface_set_metadata(*surface, CAIRO_PDF_METADATA_TITLE,
                                          c->title.text != NULL ? c->title.text : "");
        l->cairo_pdf_surface_set_metadata(*surface, CAIRO_PDF_METADATA_CREATOR, "stillset");
        l->cairo_pdf_surface_set_metadata(*surface, CAIRO_PDF_METADATA_CREATE_DATE, "");
    } else {
        l->cairo_pdf_surface_set_size(*surface, width, height);
    }
    still_status status = paint(l, *surface, c, width / c->width);
    if (status == STILL_OK) l->cairo_surface_show_page(*surface);
    return status;
}

/* Close the file, and hand it over. */
static still_status finish_pdf(const library *l, cairo_surface_t *surface, still_buf *out,
                               still_buf *made, still_status status)
{
    if (surface != NULL) {
        l->cairo_surface_finish(surface);
        if (status == STILL_OK && l->cairo_surface_status(surface) != CAIRO_STATUS_SUCCESS)
            status = STILL_E_INTERNAL;
        l->cairo_surface_destroy(surface);
    }
    return deliver(out, made, status);
}

still_status still_paint_pdf(still_buf *out, const still_canvas *c)
{
    library l;
    still_buf made = STILL_BUF_INIT;
    cairo_surface_t *surface = NULL;
    if (!whole(c)) return STILL_E_NOMEM;
    still_status status = load(&l);
    if (status != STILL_OK) return status;
    status = add_page(&l, &surface, &made, c);
    return finish_pdf(&l, surface, out, &made, status);
}

still_status still_paint_pdf_pages(still_buf *out, const still_pages *pages)
{
    library l;
    still_buf made = STILL_BUF_INIT;
    cairo_surface_t *surface = NULL;
    still_status status = load(&l);
    if (status != STILL_OK) return status;
    for (uint32_t i = 1; i <= still_pages_count(pages) && status == STILL_OK; i++) {
        still_canvas c = {0};
        status = still_pages_draw(&c, pages, i);
        if (status == STILL_OK && !whole(&c)) status = STILL_E_NOMEM;
        if (status == STILL_OK) status = add_page(&l, &surface, &made, &c);
        still_canvas_clear(&c);
    }
    return finish_pdf(&l, surface, out, &made, status);
}

/* A page of the pack: its canvas is in points already. */
static still_status pack_page(const library *l, cairo_surface_t *surface, const still_ppage *page)
{
    painter p = {.lib = *l};
    still_status status = begin(&p, surface);
    if (status == STILL_OK) {
        l->cairo_set_line_join(p.cr, CAIRO_LINE_JOIN_ROUND);
        if (page->inset != NULL) {
            l->cairo_save(p.cr);
            l->cairo_translate(p.cr, page->inset_x, page->inset_y);
            l->cairo_scale(p.cr, page->inset_scale, page->inset_scale);
            all_of(&p, page->inset);
            l->cairo_restore(p.cr);
        }
        all_of(&p, &page->canvas);
        l->cairo_surface_show_page(surface);
        if (l->cairo_status(p.cr) != CAIRO_STATUS_SUCCESS) status = STILL_E_INTERNAL;
    }
    end(&p);
    return status;
}

static void describe(const library *l, cairo_surface_t *surface, const still_pack *pack,
                     const char *subject)
{
    l->cairo_pdf_surface_set_metadata(surface, CAIRO_PDF_METADATA_TITLE, pack->title);
    l->cairo_pdf_surface_set_metadata(surface, CAIRO_PDF_METADATA_SUBJECT, subject);
    l->cairo_pdf_surface_set_metadata(surface, CAIRO_PDF_METADATA_KEYWORDS, pack->digest);
    l->cairo_pdf_surface_set_metadata(surface, CAIRO_PDF_METADATA_CREATOR, pack->r->program);
    l->cairo_pdf_surface_set_metadata(surface, CAIRO_PDF_METADATA_CREATE_DATE, "");
}

static void bookmarks(const library *l, cairo_surface_t *surface, const still_ppages *pages)
{
    int part = CAIRO_PDF_OUTLINE_ROOT;
    char where[32];
    for (size_t i = 0; i < pages->n_marks; i++) {
        const still_pmark *mark = &pages->marks[i];
        snprintf(where, sizeof where, "page=%zu", mark->page + 1);
        int id = l->cairo_pdf_surface_add_outline(
            surface, mark->part ? CAIRO_PDF_OUTLINE_ROOT : part, mark->title, where,
            mark->part ? CAIRO_PDF_OUTLINE_FLAG_OPEN | CAIRO_PDF_OUTLINE_FLAG_BOLD : 0);
        if (mark->part) part = id;
    }
}

still_status still_paint_pdf_pack(still_buf *out, const still_ppages *pages, const still_pack *pack)
{
    library l;
    still_buf made = STILL_BUF_INIT, title = STILL_BUF_INIT, subject = STILL_BUF_INIT;
    cairo_surface_t *surface = NULL;
    still_pack clean = *pack;
    still_glyph_clean(&title, pack->title);
    still_glyph_clean(&subject, pack->r->plant_name);
    if (title.failed || subject.failed) {
        still_buf_clear(&title);
        still_buf_clear(&subject);
        return STILL_E_NOMEM;
    }
    clean.title = title.text != NULL ? title.text : "";
    still_status status = load(&l);
    for (size_t i = 0; i < pages->n && status == STILL_OK; i++) {
        const still_canvas *c = &pages->items[i].canvas;
        const still_canvas *inset = pages->items[i].inset;
        if (!whole(c) || (inset != NULL && !whole(inset))) {
            status = STILL_E_NOMEM;
        } else if (surface == NULL) {
            surface = l.cairo_pdf_surface_create_for_stream(take, &made, c->width, c->height);
            if (l.cairo_surface_status(surface) != CAIRO_STATUS_SUCCESS) status = STILL_E_NOMEM;
            describe(&l, surface, &clean, subject.text != NULL ? subject.text : "");
        } else {
            l.cairo_pdf_surface_set_size(surface, c->width, c->height);
        }
        if (status == STILL_OK) status = pack_page(&l, surface, &pages->items[i]);
    }
    if (status == STILL_OK && surface != NULL) bookmarks(&l, surface, pages);
    still_buf_clear(&title);
    still_buf_clear(&subject);
    return finish_pdf(&l, surface, out, &made, status);
}

still_status still_paint_measure(double *width, const char *s, double size, bool bold)
{
    painter p = {0};
    still_status status = load(&p.lib);
    if (status != STILL_OK) return status;
    cairo_surface_t *surface = p.lib.cairo_image_surface_create(CAIRO_FORMAT_RGB24, 8, 8);
    status = begin(&p, surface);
    if (status == STILL_OK) *width = set_text(&p, s, size, bold);
    end(&p);
    p.lib.cairo_surface_destroy(surface);
    return status;
}
