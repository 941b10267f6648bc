/* Closed-in liquid of a whole plant for people: the answer, the gaps with their numbers, then what
 * is covered or needs no cover in a line each. */
#include "output.h"

#include "number.h"
#include "relief_parts.h"
#include "text_parts.h"

#include <math.h>
#include <string.h>

static void count(still_pen *pen, const char *label, uint32_t n, const char *what)
{
    char text[160];
    snprintf(text, sizeof text, "%lu %s", (unsigned long)n, what);
    still_text_field(pen, label, text);
}

static void value(still_pen *pen, double x, int digits, const char *unit)
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

static void top(still_pen *pen, const still_coverage_record *r)
{
    char ambient[80];
    still_pen_marked(pen, STILL_INK_BOLD, "CLOSED-IN LIQUID AND ITS RELIEF");
    still_pen_rule(pen, '=');
    still_pen_label(pen, 0, 12, "Plant");
    still_pen_words(pen, r->plant_name[0] != '\0' ? r->plant_name : r->plant_id);
    still_pen_line(pen, 12);
    still_pen_words(pen, r->plant_id);
    if (r->plant_revision[0] != '\0') {
        pen->joined = true;
        still_pen_words(pen, ", revision");
        still_pen_words(pen, r->plant_revision);
    }
    still_pen_label(pen, 0, 12, "Digest");
    still_pen_words(pen, r->plant_digest);
    if (r->state_digest[0] != '\0') {
        still_pen_label(pen, 0, 12, "State");
        still_pen_words(pen, "as found, file with the digest");
        still_pen_words(pen, r->state_digest);
    }
    still_pen_label(pen, 0, 12, "Made by");
    still_pen_words(pen, r->program);
    still_pen_words(pen, r->version);
    snprintf(ambient, sizeof ambient, "warming up to %.4g degC (%s)", r->ambient_degC,
             r->ambient_said ? "asked for with --ambient" : "not said: default of rule L3");
    still_pen_label(pen, 0, 12, "Ambient");
    still_pen_words(pen, ambient);
    still_pen_blank(pen);
}

static void answer(still_pen *pen, const still_coverage_record *r)
{
    char text[120];
    snprintf(text, sizeof text, "%lu gap%s", (unsigned long)r->n_gaps, r->n_gaps == 1 ? "" : "s");
    pen->ink = STILL_INK_BOLD;
    still_pen_label(pen, 0, 12, "ANSWER");
    still_pen_marked(pen, r->n_gaps > 0 ? STILL_INK_ALARM : STILL_INK_BOLD,
                     r->n_gaps > 0 ? text : "no gap");
    still_pen_words(pen, r->n_gaps > 0 ? "that must be closed or accepted by name"
                                       : "beyond what is listed as accepted, stub or plan-only");
    snprintf(text, sizeof text, "%zu parts that can be shut in", r->n_segments);
    still_pen_line(pen, 12);
    still_pen_words(pen, text);
    count(pen, "covered", r->n_covered, "");
    count(pen, "not full", r->n_not_full, "stay below their design pressure up to ambient");
    count(pen, "uncovered", r->n_uncovered, "");
    count(pen, "", r->n_itself, "shut in by themselves (self-acting devices)");
    count(pen, "", r->n_person, "shut in by people (hand valves)");
    count(pen, "", r->n_plan_only, "shut in only for service (an isolation plan)");
    count(pen, "", r->n_stubs, "of these are stubs: one valve and caps");
    count(pen, "", r->n_accepted, "of these are accepted by name");
}

static void rise(still_pen *pen, const still_segment *s)
{
    still_pen_label(pen, STILL_TEXT_LABEL, STILL_TEXT_BODY, "rise");
    if (isnan(s->bar_per_K)) {
        still_pen_words(pen, "unknown:");
        still_pen_words(pen, s->numbers);
        return;
    }
    value(pen, s->bar_per_K, 3, "bar/K from");
    value(pen, s->start_degC, 4, "degC,");
    still_relief_text_gauge(pen, s->start_bara, 4);
    still_pen_words(pen, "on (");
    pen->joined = true;
    value(pen, s->bar_per_K_rigid, 3, "bar/K in a rigid wall)");
    still_pen_line(pen, STILL_TEXT_BODY);
    still_pen_words(pen, s->numbers);
}

static void limit(still_pen *pen, const still_segment *s)
{
    still_pen_label(pen, STILL_TEXT_LABEL, STILL_TEXT_BODY, "limit");
    if (isnan(s->design_bara)) {
        still_pen_words(pen, "its design pressure is not known");
        return;
    }
    still_pen_words(pen, "design pressure");
    still_relief_text_gauge(pen, s->design_bara, 4);
    if (s->weakest[0] != '\0') {
        still_pen_words(pen, "(");
        pen->joined = true;
        still_pen_id(pen, s->weakest, ")");
    }
    if (s->never) {
        still_pen_words(pen, "is not reached up to ambient");
    } else if (isnan(s->reaches_design_at_degC)) {
        still_pen_words(pen, ": when it is reached is not known");
    } else {
        still_pen_words(pen, "is reached at");
        value(pen, s->reaches_design_at_degC, 4, "degC,");
        value(pen, s->reaches_design_at_degC - s->start_degC, 3, "K warmer");
        if (s->by_vapour) still_pen_words(pen, "(by vapour pressure)");
    }
    if (!isnan(s->full_at_degC)) {
        still_pen_words(pen, "; full of liquid at");
        value(pen, s->full_at_degC, 4, "degC");
    }
    if (!isnan(s->ambient_bara)) {
        still_pen_line(pen, STILL_TEXT_BODY);
        still_pen_words(pen, "at ambient it would be");
        still_relief_text_gauge(pen, s->ambient_bara, 3);
        still_pen_words(pen, "if the wall held");
    }
}

static void gap(still_pen *pen, const still_segment *s, size_t n)
{
    char head[80];
    still_pen_blank(pen);
    snprintf(head, sizeof head, "%zu.", n);
    still_pen_line(pen, STILL_TEXT_ITEM);
    still_pen_words(pen, head);
    still_pen_id(pen, s->name, "");
    still_pen_words(pen, s->accepted ? "(accepted by name)" : "");
    still_text_field(pen, "why", s->why);
    still_text_field_ids(pen, "parts", s->ids);
    still_text_field_ids(pen, "shut by", s->closed_by);
    still_pen_label(pen, STILL_TEXT_LABEL, STILL_TEXT_BODY, "holds");
    still_pen_number(pen, s->volume_m3 * 1000, "L");
    pen->joined = true;
    still_pen_words(pen, ",");
    still_pen_number(pen, s->mass_kg, "kg");
    if (s->substance[0] != '\0') {
        still_pen_words(pen, "of");
        still_pen_words(pen, s->substance);
    }
    rise(pen, s);
    limit(pen, s);
    if (!isnan(s->relief_kg_per_h)) {
        still_pen_label(pen, STILL_TEXT_LABEL, STILL_TEXT_BODY, "relief need");
        value(pen, s->relief_kg_per_h, 3, "kg/h for");
        value(pen, s->relief_heat_kW, 3, "kW of heat (sun on bare pipe, and what the file gives)");
    }
    if (s->stronger[0] != '\0') {
        still_pen_label(pen, STILL_TEXT_LABEL, STILL_TEXT_BODY, "mind");
        still_pen_id(pen, s->stronger_by, "");
        still_pen_words(pen, "can join it to the part of");
        still_pen_id(pen, s->stronger, ",");
        still_pen_words(pen, "which opens only above its design pressure [L5]");
    }
}

/* A stub in a line: what shuts it in, and how soon it is too much. */
static void stub(still_pen *pen, const still_segment *s)
{
    still_pen_line(pen, STILL_TEXT_ITEM);
    pen->indent = STILL_TEXT_LABEL;
    still_pen_id(pen, s->name, "");
    still_pen_words(pen, "behind");
    still_pen_ids(pen, s->closed_by, ",");
    pen->joined = true;
    still_pen_words(pen, ":");
    still_pen_number(pen, s->volume_m3 * 1000, "L");
    if (!isnan(s->reaches_design_at_degC)) {
        pen->joined = true;
        still_pen_words(pen, ", at design pressure at");
        value(pen, s->reaches_design_at_degC, 4, "degC");
    }
    if (s->accepted) still_pen_words(pen, "(accepted by name)");
}

static bool in_class(const still_segment *s, const char *shut_by, bool stub)
{
    return strcmp(s->state, "uncovered") == 0 && s->stub == stub &&
           (stub || strcmp(s->shut_by, shut_by) == 0);
}

/* Numbers run on from one heading to the next, so that a picture can use them: the record has
 * stubs behind all that is numbered. */
static void gaps(still_pen *pen, const still_coverage_record *r, const char *heading,
                 const char *shut_by, bool stubs)
{
    size_t n = 0;
    for (size_t i = 0; i < r->n_segments; i++) {
        if (!in_class(&r->segments[i], shut_by, stubs)) continue;
        if (n == 0) {
            still_pen_heading(pen, heading, '-');
            still_pen_words(pen, stubs ? "One valve and caps: let off when the cap comes off, with "
                                         "the valve shut."
                                       : r->segments[i].codes);
        }
        if (stubs)
            stub(pen, &r->segments[i]);
        else
            gap(pen, &r->segments[i], i + 1);
        n++;
    }
}

static void covered_line(still_pen *pen, const still_segment *s)
{
    still_pen_words(pen, s->why);
    if (isnan(s->opening_bara)) return;
    pen->joined = true;
    still_pen_words(pen, "; opens at");
    still_relief_text_gauge(pen, s->opening_bara, 4);
    if (s->opening_normal_bara < s->opening_bara) {
        still_pen_words(pen, "at worst, normally at");
        still_relief_text_gauge(pen, s->opening_normal_bara, 4);
    }
    if (isnan(s->design_bara)) return;
    still_pen_words(pen, "(design");
    still_relief_text_gauge(pen, s->design_bara, 4);
    pen->joined = true;
    still_pen_words(pen, ")");
}

static void not_full_line(still_pen *pen, const still_segment *s)
{
    still_relief_text_gauge(pen, s->ambient_bara, 3);
    still_pen_words(pen, "at ambient, design");
    still_relief_text_gauge(pen, s->design_bara, 3);
}

static void brief(still_pen *pen, const still_coverage_record *r, const char *heading,
                  const char *state, void (*line)(still_pen *, const still_segment *))
{
    bool any = false;
    for (size_t i = 0; i < r->n_segments; i++) {
        const still_segment *s = &r->segments[i];
        if (strcmp(s->state, state) != 0) continue;
        if (!any) still_pen_heading(pen, heading, '-');
        any = true;
        still_pen_line(pen, STILL_TEXT_ITEM);
        still_pen_id(pen, s->name, "");
        pen->indent = STILL_TEXT_LABEL;
        pen->joined = true;
        still_pen_words(pen, ":");
        line(pen, s);
    }
}

void still_relief_text_write(still_buf *out, const still_coverage_record *r,
                             const still_style *style)
{
    still_pen pen = still_pen_new(out, style);
    top(&pen, r);
    still_relief_text_since(&pen, r);
    answer(&pen, r);
    gaps(&pen, r, "GAPS THAT CLOSE BY THEMSELVES", "itself", false);
    gaps(&pen, r, "GAPS THAT PEOPLE CLOSE", "person", false);
    still_relief_text_places(&pen, r);
    gaps(&pen, r, "CLOSED IN ONLY BY AN ISOLATION PLAN", "plan-only", false);
    gaps(&pen, r, "STUBS", "", true);
    brief(&pen, r, "COVERED", "covered", covered_line);
    brief(&pen, r, "NOT FULL OF LIQUID, BELOW DESIGN PRESSURE UP TO AMBIENT", "not-full",
          not_full_line);
    still_text_found(&pen, r->found, r->n_found);
    still_pen_heading(&pen, "WHAT THIS RESTS ON", '-');
    for (size_t i = 0; i < r->notes.n; i++) {
        still_pen_line(&pen, STILL_TEXT_ITEM);
        still_pen_words(&pen, r->notes.items[i]);
    }
    still_pen_line(&pen, 0);
}
