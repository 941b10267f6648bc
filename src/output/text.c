#include "output.h"

#include "text_parts.h"

#include <string.h>

void still_text_field(still_pen *pen, const char *label, const char *words)
{
    if (words[0] == '\0') return;
    still_pen_label(pen, STILL_TEXT_LABEL, STILL_TEXT_BODY, label);
    still_pen_words(pen, words);
}

void still_text_field_ids(still_pen *pen, const char *label, still_strings ids)
{
    still_pen_label(pen, STILL_TEXT_LABEL, STILL_TEXT_BODY, label);
    still_pen_ids(pen, ids, ",");
}

uint32_t still_text_tag_of(const still_record *r, const char *id)
{
    for (size_t i = 0; i < r->n_points; i++)
        if (strcmp(r->points[i].id, id) == 0) return r->points[i].tag;
    return 0;
}

size_t still_text_blocking(const still_record *r)
{
    size_t n = 0;
    for (size_t i = 0; i < r->n_findings; i++)
        if (r->findings[i].blocks && !r->findings[i].accepted) n++;
    return n;
}

void still_text_verdict(still_buf *out, const still_record *r)
{
    const still_messages *m = r->messages;
    size_t n = still_text_blocking(r);
    if (!r->feasible)
        still_say(out, m, "CANNOT BE ISOLATED");
    else if (n == 1)
        still_say(out, m, "NOT READY: 1 finding blocks");
    else if (n > 1)
        still_say(out, m, "NOT READY: %zu findings block", n);
    else
        still_buf_add(out, still_messages_get(m, r->ready ? WORD("READY") : WORD("NOT READY")));
}

void still_text_write(still_buf *out, const still_record *r, const still_style *style)
{
    still_pen pen = still_pen_new(out, style);
    still_text_top(&pen, r);
    if (!r->feasible) still_text_obstacle(&pen, r);
    still_text_findings(&pen, r);
    still_text_tags(&pen, r);
    still_text_sources(&pen, r);
    still_text_live(&pen, r);
    still_text_assumptions(&pen, r);
    still_text_found(&pen, r->found, r->n_found);
    still_text_positions(&pen, "FOUND TODAY OTHERWISE THAN IN THE PLANT FILE", r->start,
                         r->n_start);
    still_text_before(&pen, r);
    still_text_steps(&pen,
                     r->feasible ? "FIRST, BEFORE THE STEPS BELOW: shut what the plan before opened"
                                 : "THE WAY BACK, from what the plan before has done",
                     r->first, r->n_first);
    still_text_steps(&pen, "STEPS TO ISOLATE", r->steps, r->n_steps);
    still_text_positions(&pen, "AFTER THE LAST STEP, OTHERWISE THAN IN THE PLANT FILE", r->end,
                         r->n_end);
    still_text_steps(&pen, "STEPS TO RESTORE", r->restore, r->n_restore);
    still_text_shift(&pen, r);
    still_text_closed_in(&pen, r);
    still_text_compartments(&pen, r);
    still_text_proof(&pen, r);
    still_text_choices(&pen, r);
    still_text_end(&pen, r);
}
