/* Closed-in liquid of a whole plant as a table (RFC 4180), one row a segment. */
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
    const size_t n = sizeof columns / sizeof columns[0];
    for (size_t i = 0; i < n; i++) still_csv_cell(out, columns[i], i + 1 < n ? ',' : '\n');
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
