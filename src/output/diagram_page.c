/* The page around the drawing: title and verdict above, legend, tags and title block below. */
#include "diagram.h"

#include "svg.h"
#include "text_parts.h"

#include <math.h>
#include <string.h>

/** Margin of the page, and the least width that title and legend need. */
#define MARGIN 28.0
#define LEAST_WIDTH 1180.0
#define HEAD 86.0
#define ROW 24.0
#define LEGEND_WIDTH 340.0
#define BLOCK_WIDTH 400.0

/* Colours differ in lightness too, and every difference is one of line or word as well: live pipes
 * are thick and whole, those inside are thin and dashed. Contrast of text to paper is above 10. */
static const char style[] =
    "<style>\n"
    "text{font-family:sans-serif,'DejaVu Sans';fill:#111}\n"
    ".id{font-weight:bold}\n"
    ".sym{fill:#fff;stroke:#111;stroke-width:2;stroke-linejoin:round}\n"
    ".full{fill:#111;stroke:#111;stroke-width:1;stroke-linejoin:round}\n"
    ".over{fill:none;stroke:#111;stroke-width:2;stroke-linejoin:round;stroke-linecap:round}\n"
    ".pipe-live{fill:none;stroke:#9a3200;stroke-width:5;stroke-linejoin:round}\n"
    ".pipe-in{fill:none;stroke:#0a4a86;stroke-width:2.2;stroke-dasharray:9 4}\n"
    ".bound{stroke:#111;stroke-width:4;stroke-dasharray:12 5}\n"
    ".hatch{stroke:#111;stroke-width:1.4}\n"
    ".flag{fill:#ffe49a;stroke:#111;stroke-width:2;stroke-linejoin:round}\n"
    ".warn{fill:#ffe49a;stroke:#111;stroke-width:2;stroke-linejoin:round}\n"
    ".band-shut{fill:none;stroke:url(#shut);stroke-width:18}\n"
    ".ground-shut{fill:url(#shut);stroke:none}\n"
    ".band-edge{fill:none;stroke:#111;stroke-width:22;stroke-linejoin:round}\n"
    ".band-path{fill:none;stroke:#f0c63c;stroke-width:19;stroke-linejoin:round}\n"
    ".ground-path{fill:#f0c63c;stroke:#111;stroke-width:1.5}\n"
    ".frame-thick{fill:none;stroke:#111;stroke-width:5}\n"
    ".frame-thin{fill:none;stroke:#111;stroke-width:1.6}\n"
    ".rule{fill:none;stroke:#111;stroke-width:1.6}\n"
    ".cell{fill:#fff;stroke:#111;stroke-width:1.2}\n"
    "</style>\n"
    "<defs><pattern id=\"shut\" width=\"8\" height=\"8\" patternUnits=\"userSpaceOnUse\" "
    "patternTransform=\"rotate(45)\"><rect width=\"8\" height=\"8\" fill=\"#fff\"/>"
    "<rect width=\"3\" height=\"8\" fill=\"#555\"/></pattern></defs>\n";

static void verdict_of(still_buf *out, const still_record *r)
{
    still_text_verdict(out, r);
    if (r->feasible && r->grade_achieved[0] != '\0')
        still_buf_printf(out, " - %s isolation", r->grade_achieved);
}

static void targets_of(still_buf *out, const still_record *r)
{
    for (size_t i = 0; i < r->targets.n; i++)
        still_buf_printf(out, "%s%s", i > 0 ? ", " : "", r->targets.items[i]);
}

/** A text cut off with "..." where it does not fit the page; what is cut stands in the title
 *  block or the text form in full. */
static void fitted(still_buf *out, const char *cls, double x, double y, double size, double room,
                   const char *s)
{
    still_buf text = STILL_BUF_INIT;
    still_buf_add(&text, s);
    if (!text.failed && still_svg_width(text.text, size) > room) {
        while (text.len > 0 && still_svg_width(text.text, size) > room - size) {
            do text.len--;
            while (text.len > 0 && ((unsigned char)text.text[text.len] & 0xC0U) == 0x80U);
            text.text[text.len] = '\0';
        }
        still_buf_add(&text, "...");
    }
    if (text.failed) out->failed = true;
    if (!text.failed) still_svg_text(out, cls, x, y, size, "start", text.text);
    still_buf_clear(&text);
}

/** Text over as many lines as it needs. @return height used */
static double flowed(still_buf *out, const char *cls, double x, double y, double size, double room,
                     const char *s)
{
    double start = y;
    while (*s != '\0') {
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
            if (i == 0 || still_svg_width(line.text, size) <= room) fits = i + 1;
        }
        if (line.failed) {
            out->failed = true;
            still_buf_clear(&line);
            break;
        }
        if (s[fits] != '\0' && space > 0) fits = space;
        still_buf_clear(&line);
        still_buf_addn(&line, s, fits);
        if (line.failed) out->failed = true;
        if (out == NULL || line.failed) break;
        still_svg_text(out, cls, x, y, size, "start", line.text);
        still_buf_clear(&line);
        y += size + 5.0;
        s += fits;
        while (*s == ' ') s++;
    }
    return y - start;
}

static void heading(still_buf *out, const still_dia *d, double width)
{
    const still_record *r = d->r;
    still_buf text = STILL_BUF_INIT;
    still_buf_add(&text, "Isolation for work on ");
    targets_of(&text, r);
    still_buf_printf(&text, " - %s", r->plant_name);
    if (text.failed) out->failed = true;
    if (!text.failed)
        fitted(out, "id", MARGIN, MARGIN + 24.0, 26.0, width - 2.0 * MARGIN, text.text);
    still_buf_clear(&text);
    verdict_of(&text, r);
    if (r->feasible && d->left_out > 0) still_buf_add(&text, " - PAGE FULL: NOT ALL IS DRAWN");
    if (text.failed) out->failed = true;
    if (!text.failed)
        fitted(out, "id", MARGIN, MARGIN + 54.0, 20.0, width - 2.0 * MARGIN, text.text);
    still_buf_clear(&text);
    still_svg_line(out, "rule", MARGIN, MARGIN + 66.0, width - MARGIN, MARGIN + 66.0);
}

static void legend(still_buf *out, const still_dia *d, double x, double y)
{
    static const char *const words[] = {"live: under pressure",
                                        "inside: isolated, to be emptied",
                                        "boundary; hatched side stays live",
                                        "tag of the list, at its device",
                                        "liquid closed in without relief",
                                        "the work",
                                        "plant goes on",
                                        "D drain, V vent, P purge",
                                        "NO NC NT normally open, closed, throttled",
                                        "CSO CSC sealed open, sealed closed"};
    double m = x + 34.0;
    still_svg_text(out, "id", x, y + 16.0, 14.0, "start", "Signs");
    for (size_t i = 0; i < sizeof words / sizeof words[0]; i++) {
        double at = y + 38.0 + ROW * (double)i;
        if (i < 7) still_svg_text(out, "txt", x + 80.0, at + 4.0, STILL_TYPE, "start", words[i]);
        if (i >= 7) still_svg_text(out, "txt", x, at + 4.0, STILL_TYPE, "start", words[i]);
    }
    y += 38.0;
    still_svg_line(out, "pipe-live", x, y, x + 68.0, y);
    still_svg_line(out, "pipe-in", x, y + ROW, x + 68.0, y + ROW);
    still_svg_line(out, "bound", m, y + 2.0 * ROW - 10.0, m, y + 2.0 * ROW + 10.0);
    for (double k = -4.0; k <= 12.0; k += 8.0)
        still_svg_line(out, "hatch", m, y + 2.0 * ROW + k, m - 8.0, y + 2.0 * ROW + k - 6.0);
    still_diagram_flag(out, x + 18.0, y + 3.0 * ROW, 1);
    still_svg_shape(out, "band-shut", x, y + 4.0 * ROW, false, "M0 0H68");
    still_diagram_warning(out, m, y + 4.0 * ROW);
    still_svg_rect(out, "frame-thick", x + 14.0, y + 5.0 * ROW - 8.0, 40.0, 16.0, 3.0);
    still_svg_rect(out, "frame-thin", x + 19.0, y + 5.0 * ROW - 4.0, 30.0, 8.0, 1.0);
    still_svg_shape(out, "over", m, y + 6.0 * ROW, false,
                    "M-30 0H2M2-10L6-4L-2 0L6 5L2 10M7-10L11-4L3 0L11 5L7 10");
    if (!d->r->feasible) {
        still_svg_shape(out, "band-edge", x, y + 10.0 * ROW, false, "M-1 0H69");
        still_svg_shape(out, "band-path", x, y + 10.0 * ROW, false, "M0 0H68");
        still_svg_text(out, "id", x + 80.0, y + 10.0 * ROW + 4.0, STILL_TYPE, "start",
                       "way that nothing can close");
    }
}

/** The tags, in columns. @return height used */
static double tags(still_buf *out, const still_dia *d, double x, double y, double width,
                   size_t rows)
{
    const still_record *r = d->r;
    still_svg_text(out, "id", x, y + 16.0, 14.0, "start", r->n_points > 0 ? "Tags" : "Tags: none");
    size_t columns = (r->n_points + rows - 1) / rows;
    double step = columns > 0 ? width / (double)columns : width;
    if (step < 210.0) step = 210.0;
    size_t fit = (size_t)(width / step), shown = fit * rows;
    for (size_t i = 0; i < r->n_points && i < shown; i++) {
        const still_point *p = &r->points[i];
        double px = x + step * (double)(i / rows), py = y + 38.0 + ROW * (double)(i % rows);
        double w = still_diagram_flag(out, px, py, p->tag) + 6.0;
        still_buf text = STILL_BUF_INIT;
        still_buf_printf(&text, "%s: %s", p->id, p->to);
        if (text.failed) out->failed = true;
        if (!text.failed)
            fitted(out, "txt", px + w, py + 4.0, STILL_TYPE, step - w - 8.0, text.text);
        still_buf_clear(&text);
    }
    if (shown < r->n_points)
        still_svg_text(out, "id", x + 60.0, y + 16.0, STILL_TYPE, "start",
                       "(not all have room here: see the tag list)");
    return 0.0;
}

static void block(still_buf *out, const still_dia *d, double x, double y, double h)
{
    const still_record *r = d->r;
    still_buf text = STILL_BUF_INIT, target = STILL_BUF_INIT, verdict = STILL_BUF_INIT;
    char first16[17] = {0};
    strncpy(first16, r->plant_digest, sizeof first16 - 1);
    targets_of(&target, r);
    still_text_verdict(&verdict, r);
    const char *rows[][2] = {
        {"Plant", r->plant_name},
        {"Id", r->plant_id},
        {"Revision", r->plant_revision[0] != '\0' ? r->plant_revision : "not said"},
        {"Digest", first16},
        {"Target", target.failed || target.text == NULL ? "" : target.text},
        {"Work", r->work},
        {"Grade", r->feasible ? r->grade_achieved : "none"},
        {"Verdict", verdict.failed || verdict.text == NULL ? "" : verdict.text},
        {"Made by", r->version}};
    still_svg_rect(out, "cell", x, y, BLOCK_WIDTH, h, 0.0);
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        double at = y + 22.0 + 22.0 * (double)i;
        still_svg_text(out, "txt", x + 12.0, at, STILL_TYPE, "start", rows[i][0]);
        still_buf_clear(&text);
        if (i == 8) still_buf_printf(&text, "%s ", r->program);
        still_buf_add(&text, rows[i][1]);
        if (text.failed) out->failed = true;
        if (!text.failed)
            fitted(out, "id", x + 90.0, at, STILL_TYPE_ID, BLOCK_WIDTH - 100.0, text.text);
    }
    if (target.failed || verdict.failed) out->failed = true;
    still_svg_line(out, "rule", x, y + 212.0, x + BLOCK_WIDTH, y + 212.0);
    flowed(out, "id", x + 12.0, y + 232.0, STILL_TYPE_ID, BLOCK_WIDTH - 24.0,
           "This page must be checked by walking the line before work. Its data may be wrong. "
           "Site permit rules come first.");
    still_buf_clear(&text);
    still_buf_clear(&target);
    still_buf_clear(&verdict);
}

static void open_svg(still_buf *out, const still_dia *d, double w, double h)
{
    /* A3 landscape is 420 mm x 297 mm. Where the page must be larger to keep type at 2 mm it is. */
    double scale = fmin(400.0 / w, 277.0 / h);
    if (STILL_TYPE * scale < 2.0) scale = 2.0 / STILL_TYPE;
    still_buf_printf(
        out,
        "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n"
        "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"%.0fmm\" height=\"%.0fmm\" "
        "viewBox=\"0 0 %.0f %.0f\" role=\"img\" aria-labelledby=\"t d\">\n<title id=\"t\">",
        w * scale, h * scale, w, h);
    still_buf text = STILL_BUF_INIT;
    still_buf_add(&text, "Isolation for work on ");
    targets_of(&text, d->r);
    still_buf_printf(&text, ", %s", d->r->plant_name);
    if (text.failed) out->failed = true;
    if (!text.failed) still_svg_escape(out, text.text);
    still_buf_clear(&text);
    still_buf_add(out, "</title>\n<desc id=\"d\">");
    verdict_of(&text, d->r);
    for (size_t i = 0; i < d->r->n_points; i++)
        still_buf_printf(&text, "; tag %u: %s %s", d->r->points[i].tag, d->r->points[i].id,
                         d->r->points[i].to);
    for (size_t i = 0; i < d->r->obstacle.path.n && !d->r->feasible; i++)
        still_buf_printf(&text, "%s%s", i == 0 ? "; open way: " : " - ",
                         d->r->obstacle.path.items[i]);
    if (text.failed) out->failed = true;
    if (!text.failed) still_svg_escape(out, text.text);
    still_buf_clear(&text);
    still_buf_add(out, "</desc>\n");
}

void still_diagram_page(still_buf *out, const still_dia *d)
{
    double legend_h = 38.0 + ROW * (d->r->feasible ? 10.0 : 11.0), block_h = 276.0;
    double foot = fmax(legend_h, block_h);
    double w = fmax(d->width + 2.0 * MARGIN, LEAST_WIDTH);
    double h = MARGIN + HEAD + d->height + 20.0 + foot + MARGIN;
    if (h < w * 277.0 / 400.0) h = round(w * 277.0 / 400.0);
    if (w < h * 400.0 / 277.0) w = round(h * 400.0 / 277.0);
    double foot_y = h - MARGIN - foot, room = foot_y - 20.0 - MARGIN - HEAD;
    open_svg(out, d, w, h);
    still_buf_add(out, style);
    still_svg_rect(out, "cell", 0.0, 0.0, w, h, 0.0);
    heading(out, d, w);
    still_buf_printf(out, "<g transform=\"translate(%.0f %.0f)\">\n", (w - d->width) / 2.0,
                     MARGIN + HEAD + (room - d->height) / 2.0);
    still_diagram_draw(out, d);
    still_buf_add(out, "</g>\n");
    still_svg_line(out, "rule", MARGIN, foot_y - 8.0, w - MARGIN, foot_y - 8.0);
    legend(out, d, MARGIN, foot_y);
    tags(out, d, MARGIN + LEGEND_WIDTH, foot_y,
         w - 2.0 * MARGIN - LEGEND_WIDTH - BLOCK_WIDTH - 20.0, 9);
    block(out, d, w - MARGIN - BLOCK_WIDTH, foot_y, block_h);
    still_buf_add(out, "</svg>\n");
}
