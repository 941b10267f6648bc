/* The pack as one HTML file (HTML living standard; WCAG 2.2, level AA).
 *
 * No script, no link, no font from elsewhere: it opens without a network. Table roles are said in
 * words, because on a narrow screen rows are shown as blocks, and browsers then forget that they
 * are tables. Classes start with "p-", since the diagram brings a style sheet of its own. Whatever
 * comes from a plant file passes through still_svg_escape: cleaned, then escaped. */
#include "pack.h"

#include "qr.h"
#include "svg.h"

#include <stdio.h>
#include <string.h>

#define WORDS(...) still_say(out, p->people.messages, __VA_ARGS__)

static const char *const css[] = {
    ":root{color-scheme:light dark;--ink:#111;--soft:#444;--paper:#fff;--shade:#e8e8e8;--line:#666;"
    "--flag:#ffe49a}\n"
    "@media (prefers-color-scheme:dark){:root{--ink:#f0f0f0;--soft:#c8c8c8;--paper:#161616;"
    "--shade:#2c2c2c;--line:#909090}}\n"
    "*{box-sizing:border-box}\n"
    "body{margin:0 auto;max-width:72rem;padding:1rem;background:var(--paper);color:var(--ink);"
    "font:1rem/1.45 'DejaVu Sans',Verdana,sans-serif;overflow-wrap:anywhere}\n"
    "h1{font-size:1.7rem;line-height:1.2;margin:.5rem 0}\n"
    "h2{font-size:1.4rem;margin:0 0 .2rem;padding-top:.6rem;border-top:.25rem solid var(--ink)}\n"
    "h3{font-size:1.1rem;margin:1.2rem 0 .3rem}\n"
    "p{margin:.3rem 0}\n"
    "a{color:inherit;text-decoration:underline}\n"
    "a:focus-visible,input:focus-visible,.p-sheet:focus-visible{outline:.2rem solid var(--ink);"
    "outline-offset:.15rem}\n"
    ".p-skip{position:absolute;left:-99rem}.p-skip:focus{position:static}\n"
    "nav ol{list-style:none;padding:0;display:flex;flex-wrap:wrap;gap:.4rem 1.2rem}\n"
    "nav a{display:inline-block;padding:.3rem 0}\n"
    "section{margin:2rem 0}\n"
    ".p-for{color:var(--soft);margin:0 0 .6rem}\n"
    ".p-strong,.p-warn{font-weight:bold}\n"
    ".p-id{font-weight:bold;font-size:1.2em}.p-large{font-size:1.1em;font-weight:bold}\n"
    ".p-small{font-size:.9em;color:var(--soft)}\n"
    ".p-line{display:block}.p-n{white-space:nowrap}.p-paper{display:none}\n"
    ".p-sign{display:inline-block;width:1.2em;height:1.05em;margin-right:.35em;"
    "vertical-align:-.12em}\n"
    ".p-tag{display:inline-block;min-width:2.4em;padding:.1em .9em .1em "
    ".5em;background:var(--flag);"
    "color:#111;font-weight:bold;font-size:1.25em;clip-path:polygon(0 0,78% 0,100% 50%,78% 100%,"
    "0 100%)}\n"
    ".p-box{display:inline-flex;align-items:center;gap:.4em;min-height:1.6rem;font-weight:bold}\n"
    ".p-box input{width:1.5rem;height:1.5rem;margin:0;accent-color:var(--ink);flex:none}\n"
    ".p-write{display:block;min-height:2rem;border-bottom:1px solid var(--line)}\n"
    ".p-hidden{position:absolute;width:1px;height:1px;overflow:hidden;clip-path:inset(50%);"
    "white-space:nowrap}\n", /* tables and lists */
    "table{width:100%;border-collapse:collapse;margin:.4rem 0 1rem;table-layout:fixed}\n"
    "th,td{text-align:left;vertical-align:top;padding:.3rem .45rem;border-bottom:1px solid "
    "var(--line)}\n"
    "thead th{background:var(--shade);border-bottom:2px solid var(--ink);font-size:.9em}\n"
    "tbody th{font-weight:inherit}\n"
    ".p-group th{background:var(--shade);font-weight:bold}\n"
    ".p-grid th,.p-grid td{border:1px solid var(--line)}\n"
    "dl{display:grid;grid-template-columns:minmax(6rem,11rem) 1fr;gap:.15rem .8rem;margin:.3rem 0 "
    "1rem}\n"
    "dt{color:var(--soft)}dd{margin:0}\n"
    ".p-checks{list-style:none;padding:0}.p-check{display:flex;gap:.5em;align-items:start;"
    "margin:.2rem 0}.p-check input{width:1.5rem;height:1.5rem;margin:0;flex:none;"
    "accent-color:var(--ink)}\n"
    "ul{margin:.3rem 0 1rem;padding-left:1.3rem}\n"
    ".p-sheet{background:#fff;color:#111;padding:.3rem;overflow-x:auto;border:1px solid "
    "var(--line)}\n"
    ".p-sheet svg{display:block;width:100%;min-width:50rem;height:auto}\n"
    ".p-chart{background:#fff;max-width:44rem;margin:.4rem 0}.p-chart svg{display:block;width:100%;"
    "height:auto}\n"
    ".p-cards{display:grid;grid-template-columns:repeat(auto-fill,minmax(17rem,1fr));gap:0}\n"
    ".p-card{border:1px dashed var(--line);padding:.8rem;background:#fff;color:#111;"
    "break-inside:avoid;display:grid;grid-template-columns:1fr 8rem;gap:.2rem .6rem;"
    "align-content:start}\n"
    ".p-card .p-small{color:#444}.p-card svg{width:8rem;height:8rem;grid-column:2;grid-row:1/span "
    "3}\n"
    ".p-card .p-wide{grid-column:1/3}\n"
    ".p-legend{font-size:1.25rem;font-weight:bold;text-transform:uppercase}\n"
    "footer{border-top:.25rem solid "
    "var(--ink);padding-top:.4rem;color:var(--soft);font-size:.9em}\n", /* a narrow screen; paper */
    "@media screen and (max-width:44rem){\n"
    "thead{position:absolute;width:1px;height:1px;overflow:hidden;clip-path:inset(50%)}\n"
    "table,tbody,tr,td,tbody th{display:block;width:auto!important}\n"
    "tr{border-bottom:2px solid var(--ink);padding:.3rem 0}\n"
    "th,td{border:0!important;padding:.15rem 0}\n"
    "td::before{content:attr(data-title);display:block;font-size:.85em;color:var(--soft)}\n"
    ".p-group th{padding:.3rem .45rem}\n"
    "dl{display:block}dd{margin:0 0 .4rem}\n"
    ".p-cards{grid-template-columns:1fr}}\n"
    "@page{size:A4;margin:14mm 12mm 16mm 20mm;@bottom-right{content:counter(page) \" / \" "
    "counter(pages)}}\n"
    "@media print{:root{color-scheme:light;--ink:#111;--soft:#444;--paper:#fff;--shade:#e8e8e8;"
    "--line:#666}\n"
    "body{max-width:none;padding:0;font-size:9.5pt}nav,.p-skip,header .p-small{display:none}\n"
    "h1{font-size:12pt;margin:0}h2{padding-top:.2rem}h3{margin:.7em 0 .2em}\n"
    "section{break-before:page;margin:0}#decision{break-before:auto;font-size:8pt;"
    "line-height:1.25}#decision :is(p,ul,dl,table){margin-top:.1em;margin-bottom:.3em}"
    "#decision :is(.p-box,.p-check) input{width:3.5mm;height:3.5mm}#decision .p-box{min-height:0}"
    "#decision :is(th,td){padding:.15rem .3rem}\n"
    ".p-screen{display:none!important}.p-paper{display:block}.p-paper "
    "svg{display:block;max-width:100%;break-after:page}.p-paper "
    "svg:last-child{break-after:auto}.p-grid{break-inside:avoid}\n"
    "tr,.p-card,li,dl>*,svg{break-inside:avoid}h2,h3,.p-group{break-after:avoid}\n"
    "thead{display:table-header-group}\n"
    ".p-sheet{border:0;padding:0;overflow:visible}.p-sheet svg{min-width:0}\n"
    ".p-cards{grid-template-columns:1fr 1fr}\n"
    ":is(.p-box,.p-check) input{appearance:none;border:1.2pt solid "
    "#111;width:4.5mm;height:4.5mm}}\n"};

static void words(still_buf *out, const char *text)
{
    still_svg_escape(out, text);
}

/** Whether a word looks like an id that a browser would break at its hyphen. */
static bool keeps_together(const char *word, size_t n)
{
    bool digit = false;
    for (size_t i = 0; i < n; i++) digit = digit || (word[i] >= '0' && word[i] <= '9');
    return digit && n <= 24 && memchr(word, '-', n) != NULL;
}

/** Running text: ids stay whole. */
static void running(still_buf *out, const char *text)
{
    while (*text != '\0') {
        size_t n = strcspn(text, " "), gap = strspn(text + n, " ");
        bool whole = keeps_together(text, n);
        still_buf part = STILL_BUF_INIT;
        still_buf_addn(&part, text, n);
        if (part.failed) out->failed = true;
        if (whole) still_buf_add(out, "<span class=\"p-n\">");
        if (!part.failed) words(out, part.text);
        if (whole) still_buf_add(out, "</span>");
        still_buf_clear(&part);
        for (size_t i = 0; i < gap; i++) still_buf_char(out, ' ');
        text += n + gap;
    }
}

static void sign(still_buf *out)
{
    still_buf_add(out, "<svg class=\"p-sign\" viewBox=\"0 0 24 21\" aria-hidden=\"true\"><path "
                       "d=\"M12 1L23 20H1z\" fill=\"#ffe49a\" stroke=\"#111\" stroke-width=\"2\"/>"
                       "<path d=\"M12 7v7M12 16v2\" stroke=\"#111\" stroke-width=\"2\"/></svg>");
}

static void line(still_buf *out, const still_pack *p, const still_pline *l)
{
    static const char *const classes[] = {"",        "p-strong", "p-id",   "p-large",
                                          "p-small", "p-warn",   "p-tag",  "p-box",
                                          "",        "",         "p-write"};
    switch (l->style) {
    case STILL_P_BOX:
        still_buf_add(out, "<label class=\"p-line p-box\"><input type=\"checkbox\"> ");
        words(out, l->text);
        still_buf_add(out, "</label>");
        return;
    case STILL_P_TICK:
        still_buf_add(out, "<label class=\"p-line p-box\"><input type=\"checkbox\"><span "
                           "class=\"p-hidden\">");
        words(out, l->text);
        still_buf_add(out, "</span></label>");
        return;
    case STILL_P_WRITE:
        still_buf_add(out, "<span class=\"p-write\"><span class=\"p-hidden\">");
        WORDS("room to write:");
        still_buf_char(out, ' ');
        words(out, l->text);
        still_buf_add(out, "</span></span>");
        return;
    case STILL_P_TAG:
        still_buf_add(out,
                      "<span class=\"p-line\"><span class=\"p-tag\"><span class=\"p-hidden\">");
        WORDS("tag");
        still_buf_add(out, " </span>");
        words(out, l->text);
        still_buf_add(out, "</span></span>");
        return;
    case STILL_P_PLAIN:
    case STILL_P_STRONG:
    case STILL_P_ID:
    case STILL_P_LARGE:
    case STILL_P_SMALL:
    case STILL_P_WARN:
    case STILL_P_CHECK: break;
    }
    still_buf_printf(out, "<bdi class=\"p-line %s\">", classes[l->style]);
    if (l->style == STILL_P_WARN) sign(out);
    running(out, l->text);
    still_buf_add(out, "</bdi>");
}

static void cell(still_buf *out, const still_pack *p, const still_pcell *c)
{
    for (const still_pline *l = c->first; l != NULL; l = l->next) line(out, p, l);
}

static void table_row(still_buf *out, const still_pack *p, const still_pblock *b,
                      const still_prow *row)
{
    if (row->group) {
        still_buf_printf(out,
                         "<tr role=\"row\" class=\"p-group\"><th role=\"rowheader\" "
                         "scope=\"rowgroup\" colspan=\"%zu\">",
                         b->n_columns);
        cell(out, p, &row->cells[0]);
        still_buf_add(out, "</th></tr>\n");
        return;
    }
    still_buf_add(out, "<tr role=\"row\">");
    for (size_t i = 0; i < b->n_columns; i++) {
        if (i == 0)
            still_buf_add(out, "<th role=\"rowheader\" scope=\"row\">");
        else {
            still_buf_add(out, "<td role=\"cell\" data-title=\"");
            words(out, b->columns[i].title);
            still_buf_add(out, "\">");
        }
        cell(out, p, &row->cells[i]);
        still_buf_add(out, i == 0 ? "</th>" : "</td>");
    }
    still_buf_add(out, "</tr>\n");
}

static void table(still_buf *out, const still_pack *p, const still_pblock *b)
{
    still_buf_printf(out, "<table role=\"table\"%s><caption class=\"p-hidden\">",
                     b->grid ? " class=\"p-grid\"" : "");
    words(out, b->text);
    still_buf_add(out, "</caption><colgroup>");
    for (size_t i = 0; i < b->n_columns; i++)
        still_buf_printf(out, "<col style=\"width:%.0f%%\">", b->columns[i].share * 100.0);
    still_buf_add(out, "</colgroup>\n<thead role=\"rowgroup\"><tr role=\"row\">");
    for (size_t i = 0; i < b->n_columns; i++) {
        still_buf_add(out, "<th role=\"columnheader\" scope=\"col\">");
        words(out, b->columns[i].title);
        still_buf_add(out, "</th>");
    }
    still_buf_add(out, "</tr></thead>\n<tbody role=\"rowgroup\">\n");
    for (const still_prow *row = b->first_row; row != NULL; row = row->next) {
        if (row->group && row != b->first_row)
            still_buf_add(out, "</tbody>\n<tbody role=\"rowgroup\">\n");
        table_row(out, p, b, row);
    }
    still_buf_add(out, "</tbody></table>\n");
}

static still_status card(still_buf *out, const still_pack *p, const still_pcard *c)
{
    still_qr qr = {0, NULL};
    still_status status = still_qr_make(&qr, c->code);
    if (status != STILL_OK) return status;
    unsigned side = qr.width + 2 * STILL_QR_QUIET;
    still_buf_add(out, "<div class=\"p-card\"><div>");
    still_buf_add(out, "<span class=\"p-tag\"><span class=\"p-hidden\">");
    WORDS("tag");
    still_buf_printf(out, " </span>%u</span></div>", c->point->tag);
    still_buf_printf(out,
                     "<svg viewBox=\"0 0 %u %u\" role=\"img\" aria-label=\"QR: %s\"><path "
                     "fill=\"#fff\" d=\"M0 0h%uv%uH0z\"/><path fill=\"#000\" "
                     "shape-rendering=\"crispEdges\" d=\"",
                     side, side, c->code, side, side);
    still_qr_path(out, &qr);
    still_buf_add(out, "\"/></svg><div class=\"p-legend\">");
    words(out, c->legend);
    still_buf_add(out, "</div><div><bdi class=\"p-id\">");
    words(out, c->point->id);
    still_buf_add(out, "</bdi></div><div class=\"p-wide\"><bdi class=\"p-line\">");
    words(out, c->point->what);
    still_buf_add(out, "</bdi><bdi class=\"p-line\">");
    words(out, c->point->place);
    still_buf_add(out, "</bdi><span class=\"p-line p-strong\">");
    words(out, c->action);
    if (c->point->isolator[0] != '\0') {
        still_buf_add(out, ": ");
        words(out, c->point->isolator);
    }
    still_buf_add(out, "</span><bdi class=\"p-line p-small\">");
    words(out, c->hold);
    still_buf_add(out, "</bdi>");
    static const char *const blanks[] = {WORD("Hung by"), WORD("Lock no."), WORD("Date and time")};
    still_buf_add(out, "<bdi class=\"p-line p-small\">");
    words(out, c->origin);
    still_buf_add(out, "</bdi>");
    for (int i = 0; i < 3; i++) {
        if (i == 1 && !c->lock) continue;
        still_buf_add(out, "<span class=\"p-write p-small\">");
        words(out, still_messages_get(p->people.messages, blanks[i]));
        still_buf_add(out, "</span>");
    }
    still_buf_add(out, "</div></div>\n");
    still_qr_clear(&qr);
    return STILL_OK;
}

static void fields(still_buf *out, const still_pack *p, const still_pblock *b)
{
    if (b->first_row == NULL) return;
    still_buf_add(out, "<dl>\n");
    for (const still_prow *row = b->first_row; row != NULL; row = row->next) {
        still_buf_add(out, "<dt>");
        cell(out, p, &row->cells[0]);
        still_buf_add(out, "</dt><dd>");
        cell(out, p, &row->cells[1]);
        still_buf_add(out, "</dd>\n");
    }
    still_buf_add(out, "</dl>\n");
}

static void diagram(still_buf *out, const still_pblock *b, const char *svg, const char *sheets)
{
    still_buf_add(out, "<p class=\"p-screen\">");
    words(out, b->text);
    still_buf_add(out, "</p>\n<div class=\"p-sheet p-screen\" tabindex=\"0\" role=\"group\" "
                       "aria-label=\"");
    words(out, b->note);
    still_buf_add(out, "\">\n");
    still_buf_add(out, svg);
    still_buf_add(out, "</div>\n<div class=\"p-paper\">\n");
    still_buf_add(out, sheets);
    still_buf_add(out, "</div>\n");
}

static still_status block(still_buf *out, const still_pack *p, const still_pblock *b,
                          const char *svg, const char *sheets)
{
    const still_pline text = {b->style, b->text, NULL};
    switch (b->kind) {
    case STILL_PB_PART:
        still_buf_printf(out, "%s<section id=\"%s\" aria-labelledby=\"%s-h\">\n<h2 id=\"%s-h\">",
                         b == p->first ? "" : "</section>\n", b->id, b->id, b->id);
        words(out, b->text);
        still_buf_add(out, "</h2>\n<p class=\"p-for\">");
        words(out, b->note);
        still_buf_add(out, "</p>\n");
        break;
    case STILL_PB_HEADING:
        still_buf_add(out, "<h3>");
        words(out, b->text);
        still_buf_add(out, "</h3>\n");
        break;
    case STILL_PB_TEXT:
        still_buf_add(out, "<p>");
        line(out, p, &text);
        still_buf_add(out, "</p>\n");
        break;
    case STILL_PB_ITEMS:
        still_buf_add(out, b->boxes ? "<ul class=\"p-checks\">\n" : "<ul>\n");
        for (const still_prow *row = b->first_row; row != NULL; row = row->next) {
            still_buf_add(out, "<li>");
            if (b->boxes) still_buf_add(out, "<label class=\"p-check\"><input type=\"checkbox\">");
            cell(out, p, &row->cells[0]);
            still_buf_add(out, b->boxes ? "</label></li>\n" : "</li>\n");
        }
        still_buf_add(out, "</ul>\n");
        break;
    case STILL_PB_FIELDS: fields(out, p, b); break;
    case STILL_PB_TABLE: table(out, p, b); break;
    case STILL_PB_DIAGRAM: diagram(out, b, svg, sheets); break;
    case STILL_PB_CHART: {
        still_canvas c = {0};
        char mark[32];
        still_status status = still_pack_chart(&c, p, b->segment);
        snprintf(mark, sizeof mark, "c%zu-", (size_t)(b->segment - p->r->closed_in));
        still_buf_add(out, "<div class=\"p-chart\">\n");
        if (status == STILL_OK) still_svg_inside(out, &c, mark);
        still_buf_add(out, "</div>\n");
        still_canvas_clear(&c);
        return status;
    }
    case STILL_PB_CARDS: {
        still_status status = STILL_OK;
        still_buf_add(out, "<div class=\"p-cards\">\n");
        for (const still_pcard *c = b->first_card; c != NULL && status == STILL_OK; c = c->next)
            status = card(out, p, c);
        still_buf_add(out, "</div>\n");
        return status;
    }
    }
    return STILL_OK;
}

static void head(still_buf *out, const still_pack *p)
{
    const still_record *r = p->r;
    still_buf_printf(out,
                     "<!DOCTYPE html>\n<html lang=\"%s\">\n<head>\n<meta charset=\"utf-8\">\n"
                     "<meta name=\"viewport\" content=\"width=device-width, "
                     "initial-scale=1\">\n<title>",
                     p->language);
    words(out, p->title);
    still_buf_add(out, " - ");
    words(out, r->plant_name);
    still_buf_printf(out, "</title>\n<meta name=\"generator\" content=\"%s %s\">\n<style>\n",
                     r->program, r->version);
    for (size_t i = 0; i < sizeof css / sizeof css[0]; i++) still_buf_add(out, css[i]);
    still_buf_add(out, "</style>\n</head>\n<body>\n<a class=\"p-skip\" href=\"#main\">");
    WORDS("To the first part");
    still_buf_add(out, "</a>\n<header>\n<h1>");
    words(out, p->title);
    still_buf_add(out, "</h1>\n<p><bdi>");
    words(out, r->plant_name);
    still_buf_add(out, "</bdi></p>\n<nav aria-label=\"");
    words(out, still_messages_get(p->people.messages, WORD("Parts of the pack")));
    still_buf_add(out, "\">\n<ol>\n");
    for (const still_pblock *b = p->first; b != NULL; b = b->next) {
        if (b->kind != STILL_PB_PART) continue;
        still_buf_printf(out, "<li><a href=\"#%s\">", b->id);
        words(out, b->text);
        still_buf_add(out, "</a></li>\n");
    }
    still_buf_add(out, "</ol>\n</nav>\n<p class=\"p-small\">");
    WORDS("Ticks made on a screen are not kept: the paper is the record.");
    still_buf_add(out, "</p>\n</header>\n<main id=\"main\">\n");
}

static void foot(still_buf *out, const still_pack *p)
{
    const still_record *r = p->r;
    still_buf line = STILL_BUF_INIT;
    still_say(&line, p->people.messages, "%s, revision %s; plan %.16s; plant file %.16s; %s %s",
              r->plant_id, r->plant_revision[0] ? r->plant_revision : "-", p->digest,
              r->plant_digest, r->program, r->version);
    still_buf_add(out, "</section>\n</main>\n<footer>\n<p>");
    if (line.failed) out->failed = true;
    if (!line.failed) words(out, line.text);
    still_buf_clear(&line);
    still_buf_add(out, "</p>\n</footer>\n</body>\n</html>\n");
}

still_status still_pack_html(still_buf *out, const still_pack *p, const char *svg,
                             const char *sheets)
{
    still_status status = STILL_OK;
    head(out, p);
    for (const still_pblock *b = p->first; b != NULL && status == STILL_OK; b = b->next)
        status = block(out, p, b, svg, sheets);
    foot(out, p);
    if (status == STILL_OK && out->failed) status = STILL_E_NOMEM;
    return status;
}
