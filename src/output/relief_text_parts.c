/* Places for new valves, and what changed since an older revision, for people. */
#include "relief_parts.h"

#include "number.h"
#include "text_parts.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

static void number(still_pen *pen, double x, int digits, const char *unit)
{
    still_buf text = STILL_BUF_INIT;
    still_number_add(&text, x, digits);
    still_buf_char(&text, ' ');
    still_buf_add(&text, unit);
    if (text.failed)
        pen->out->failed = true;
    else
        still_pen_words(pen, text.text);
    still_buf_clear(&text);
}

void still_relief_text_gauge(still_pen *pen, double bara, int digits)
{
    number(pen, bara - 1.01325, digits, "barg");
}

/* ---- since ---- */

static void item_list(still_pen *pen, still_ink ink, const char *label, const char *related,
                      const still_since_item *items, size_t n)
{
    for (size_t i = 0; i < n; i++) {
        still_pen_line(pen, STILL_TEXT_ITEM);
        still_pen_marked(pen, ink, label);
        still_pen_id(pen, items[i].id, ":");
        pen->indent = STILL_TEXT_LABEL;
        still_pen_words(pen, items[i].text);
        if (items[i].was.n == 0 ||
            (items[i].was.n == 1 && strcmp(items[i].was.items[0], items[i].id) == 0))
            continue;
        still_pen_words(pen, related);
        still_pen_ids(pen, items[i].was, ",");
        pen->joined = true;
        still_pen_words(pen, ")");
    }
}

static void change(still_pen *pen, const still_since_number *c)
{
    static const struct {
        const char *what, *label;
        bool temperature;
    } labels[] = {{"design_bara", "design pressure", false},
                  {"reaches_design_at_degC", "reaches its design pressure at", true},
                  {"full_at_degC", "full of liquid at", true},
                  {"opening_bara", "its cover opens at", false}};
    for (size_t i = 0; i < sizeof labels / sizeof labels[0]; i++) {
        if (strcmp(labels[i].what, c->what) != 0) continue;
        still_pen_line(pen, STILL_TEXT_ITEM);
        still_pen_words(pen, "changed");
        still_pen_id(pen, c->id, ":");
        pen->indent = STILL_TEXT_LABEL;
        still_pen_words(pen, labels[i].label);
        for (int k = 0; k < 2; k++) {
            double x = k == 0 ? c->after : c->before;
            pen->joined = k == 1;
            if (k == 1) still_pen_words(pen, "; before:");
            if (isnan(x))
                still_pen_words(pen, "(none, or not known)");
            else if (labels[i].temperature)
                number(pen, x, 4, "degC");
            else
                still_relief_text_gauge(pen, x, 4);
        }
    }
}

void still_relief_text_since(still_pen *pen, const still_coverage_record *r)
{
    const still_since *s = r->since;
    if (s == NULL) return;
    still_pen_blank(pen);
    pen->ink = STILL_INK_BOLD;
    still_pen_words(pen, "WHAT CHANGED SINCE");
    still_pen_words(pen, s->plant_revision[0] != '\0' ? "revision" : "");
    still_pen_words(pen, s->plant_revision[0] != '\0' ? s->plant_revision : s->plant_file);
    pen->ink = STILL_INK_PLAIN;
    still_pen_rule(pen, '-');
    if (strcmp(s->plant_id, r->plant_id) != 0) {
        still_pen_line(pen, STILL_TEXT_ITEM);
        still_pen_words(pen, "mind: that file is of another plant,");
        still_pen_id(pen, s->plant_id, "");
    }
    still_pen_line(pen, STILL_TEXT_ITEM);
    still_pen_words(pen, "digest");
    still_pen_words(pen, s->plant_digest);
    item_list(pen, STILL_INK_ALARM, "gap OPENED", "(parts were in", s->opened, s->n_opened);
    item_list(pen, STILL_INK_PLAIN, "gap closed", "(parts are now in", s->closed, s->n_closed);
    item_list(pen, STILL_INK_PLAIN, "moved", "(parts were in", s->moved, s->n_moved);
    for (size_t i = 0; i < s->n_changed; i++) change(pen, &s->changed[i]);
    item_list(pen, STILL_INK_PLAIN, "new", "", s->new_, s->n_new);
    item_list(pen, STILL_INK_PLAIN, "gone", "", s->gone, s->n_gone);
    for (size_t i = 0; i < s->n_renamed; i++) {
        still_pen_line(pen, STILL_TEXT_ITEM);
        still_pen_words(pen, "renamed");
        still_pen_id(pen, s->renamed[i].from, "");
        pen->indent = STILL_TEXT_LABEL;
        still_pen_words(pen, "is now");
        still_pen_id(pen, s->renamed[i].to, "");
        still_pen_words(pen, "(a guess:");
        still_pen_words(pen, s->renamed[i].what);
        still_pen_words(pen, "at the same place)");
    }
    if (s->n_opened + s->n_closed + s->n_moved + s->n_changed + s->n_new + s->n_gone +
            s->n_renamed ==
        0) {
        still_pen_line(pen, STILL_TEXT_ITEM);
        still_pen_words(pen, "nothing about what can be shut in and its cover");
    }
    still_pen_blank(pen);
}

/* ---- places ---- */

static void how_many(still_pen *pen, const still_coverage_record *r)
{
    char text[240];
    if (r->n_places == 0)
        snprintf(text, sizeof text, "No relief valve can close any gap.");
    else if (r->places_proven)
        snprintf(text, sizeof text, "%zu new valve%s; fewer cannot do.", r->n_places,
                 r->n_places == 1 ? "" : "s");
    else
        snprintf(text, sizeof text,
                 "%zu new valves. Whether fewer can do is not known: at least %lu are needed, and "
                 "%zu is at most %.3g times the least number.",
                 r->n_places, (unsigned long)r->places_bound, r->n_places, r->places_ratio);
    still_pen_words(pen, text);
    still_pen_words(pen, "Stubs, parts shut in only for service and gaps accepted by name are not "
                         "counted. Each valve leads to the open and is never shut off; any back "
                         "pressure comes off its set pressure. Where one covers several parts, "
                         "the check valves and the valves sealed open between them must pass as "
                         "they do.");
}

static void place(still_pen *pen, const still_relief_place *p, size_t n)
{
    char head[40];
    still_pen_blank(pen);
    snprintf(head, sizeof head, "%zu.", n);
    still_pen_line(pen, STILL_TEXT_ITEM);
    still_pen_words(pen, head);
    still_pen_words(pen, "on");
    still_pen_id(pen, p->id, "");
    still_text_field_ids(pen, "covers", p->covers);
    if (p->jointly.n > 0) {
        still_text_field_ids(pen, "jointly", p->jointly);
        still_pen_words(pen, "(with other places of this list)");
    }
    still_pen_label(pen, STILL_TEXT_LABEL, STILL_TEXT_BODY, "opens at");
    still_relief_text_gauge(pen, p->set_at_most_bara, 4);
    still_pen_words(pen, "at most: the lowest design pressure of what it covers");
    still_pen_label(pen, STILL_TEXT_LABEL, STILL_TEXT_BODY, "relief need");
    if (isnan(p->relief_kg_per_h)) {
        still_pen_words(pen, "not known for all of what it covers");
    } else {
        number(pen, p->relief_kg_per_h, 3, "kg/h:");
        still_pen_words(pen, p->covers.n > 1 ? "the largest single need of what it covers; add up "
                                               "those that can warm up together"
                                             : "what it covers, alone");
    }
    still_text_field(pen, "mind", p->mind);
}

void still_relief_text_places(still_pen *pen, const still_coverage_record *r)
{
    if (r->n_gaps == 0) return;
    still_pen_heading(pen, "WHERE A NEW RELIEF VALVE WOULD CLOSE GAPS", '-');
    still_pen_line(pen, 0);
    how_many(pen, r);
    for (size_t i = 0; i < r->n_places; i++) place(pen, &r->places[i], i + 1);
    if (r->places_left.n > 0) {
        still_pen_blank(pen);
        still_pen_line(pen, STILL_TEXT_ITEM);
        still_pen_words(pen, "No relief valve covers these, whose design pressure is not known or "
                             "not above the atmosphere's:");
        still_pen_ids(pen, r->places_left, ",");
    }
}
