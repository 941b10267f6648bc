/* Closed-in liquid of a whole plant as tables (RFC 4180): segments, places for new relief valves,
 * and what changed since an older revision. */
#include "output.h"

#include "number.h"

#include <math.h>

static void number(still_buf *out, double x, char after)
{
    still_buf text = STILL_BUF_INIT;
    if (isfinite(x)) still_number_add(&text, x, 6);
    if (text.failed) out->failed = true;
    still_csv_cell(out, text.text != NULL ? text.text : "", after);
    still_buf_clear(&text);
}

static void list(still_buf *out, still_strings ids, char after)
{
    still_buf text = STILL_BUF_INIT;
    for (size_t i = 0; i < ids.n; i++) {
        if (i > 0) still_buf_char(&text, ' ');
        still_buf_add(&text, ids.items[i]);
    }
    if (text.failed) out->failed = true;
    still_csv_cell(out, text.text != NULL ? text.text : "", after);
    still_buf_clear(&text);
}

static void header(still_buf *out, const char *const *columns, size_t n)
{
    for (size_t i = 0; i < n; i++) still_csv_cell(out, columns[i], i + 1 < n ? ',' : '\n');
}

void still_relief_csv_write(still_buf *out, const still_coverage_record *r)
{
    static const char *const columns[] = {"id",
                                          "state",
                                          "shut_by",
                                          "stub",
                                          "accepted",
                                          "closed_by",
                                          "covered_by",
                                          "conditions",
                                          "substance",
                                          "volume_m3",
                                          "mass_kg",
                                          "start_degC",
                                          "start_bara",
                                          "bar_per_K",
                                          "bar_per_K_rigid",
                                          "design_bara",
                                          "weakest",
                                          "reaches_design_at_degC",
                                          "full_at_degC",
                                          "ambient_bara",
                                          "opening_bara",
                                          "relief_kg_per_h",
                                          "why",
                                          "numbers",
                                          "ids"};
    header(out, columns, sizeof columns / sizeof columns[0]);
    for (size_t i = 0; i < r->n_segments; i++) {
        const still_segment *s = &r->segments[i];
        still_csv_cell(out, s->name, ',');
        still_csv_cell(out, s->state, ',');
        still_csv_cell(out, s->shut_by, ',');
        still_csv_cell(out, s->stub ? "yes" : "no", ',');
        still_csv_cell(out, s->accepted ? "yes" : "no", ',');
        list(out, s->closed_by, ',');
        list(out, s->covered_by, ',');
        list(out, s->conditions, ',');
        still_csv_cell(out, s->substance, ',');
        number(out, s->volume_m3, ',');
        number(out, s->mass_kg, ',');
        number(out, s->start_degC, ',');
        number(out, s->start_bara, ',');
        number(out, s->bar_per_K, ',');
        number(out, s->bar_per_K_rigid, ',');
        number(out, s->design_bara, ',');
        still_csv_cell(out, s->weakest, ',');
        number(out, s->reaches_design_at_degC, ',');
        number(out, s->full_at_degC, ',');
        number(out, s->ambient_bara, ',');
        number(out, s->opening_bara, ',');
        number(out, s->relief_kg_per_h, ',');
        still_csv_cell(out, s->why, ',');
        still_csv_cell(out, s->numbers, ',');
        list(out, s->ids, '\n');
    }
}

void still_relief_csv_places(still_buf *out, const still_coverage_record *r)
{
    static const char *const columns[] = {"list",        "id",
                                          "segment",     "covers",
                                          "jointly",     "set_at_most_bara",
                                          "normal_bara", "relief_kg_per_h",
                                          "mind"};
    header(out, columns, sizeof columns / sizeof columns[0]);
    for (size_t i = 0; i < r->n_places; i++) {
        const still_relief_place *p = &r->places[i];
        still_csv_cell(out, "place", ',');
        still_csv_cell(out, p->id, ',');
        still_csv_cell(out, p->segment, ',');
        list(out, p->covers, ',');
        list(out, p->jointly, ',');
        number(out, p->set_at_most_bara, ',');
        number(out, p->normal_bara, ',');
        number(out, p->relief_kg_per_h, ',');
        still_csv_cell(out, p->mind, '\n');
    }
    for (size_t i = 0; i < r->places_left.n; i++) {
        still_csv_cell(out, "left", ',');
        still_csv_cell(out, "", ',');
        still_csv_cell(out, r->places_left.items[i], ',');
        for (int k = 0; k < 5; k++) still_csv_cell(out, "", ',');
        still_csv_cell(out, "no relief valve can cover it", '\n');
    }
}

/* A row of the table of changes. */
static void change(still_buf *out, const char *which, const char *id, still_strings other,
                   const char *what, double before, double after, const char *text)
{
    still_csv_cell(out, which, ',');
    still_csv_cell(out, id, ',');
    list(out, other, ',');
    still_csv_cell(out, what, ',');
    number(out, before, ',');
    number(out, after, ',');
    still_csv_cell(out, text, '\n');
}

void still_relief_csv_since(still_buf *out, const still_coverage_record *r)
{
    static const char *const columns[] = {"list", "id", "other", "what", "before", "after", "text"};
    const still_since *s = r->since;
    const double none = (double)NAN;
    header(out, columns, sizeof columns / sizeof columns[0]);
    if (s == NULL) return;
    const struct {
        const char *name;
        const still_since_item *items;
        size_t n;
    } lists[] = {{"opened", s->opened, s->n_opened},
                 {"closed", s->closed, s->n_closed},
                 {"moved", s->moved, s->n_moved},
                 {"new", s->new_, s->n_new},
                 {"gone", s->gone, s->n_gone}};
    for (size_t l = 0; l < sizeof lists / sizeof lists[0]; l++)
        for (size_t i = 0; i < lists[l].n; i++)
            change(out, lists[l].name, lists[l].items[i].id, lists[l].items[i].was, "", none, none,
                   lists[l].items[i].text);
    for (size_t i = 0; i < s->n_renamed; i++) {
        const char *from[1] = {s->renamed[i].from};
        change(out, "renamed", s->renamed[i].to, (still_strings){from, 1}, s->renamed[i].what, none,
               none, "a guess");
    }
    for (size_t i = 0; i < s->n_changed; i++) {
        const char *was[1] = {s->changed[i].was};
        change(out, "changed", s->changed[i].id, (still_strings){was, 1}, s->changed[i].what,
               s->changed[i].before, s->changed[i].after, "");
    }
}
