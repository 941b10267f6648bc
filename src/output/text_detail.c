/* What the engineer checks: closed-in liquid, compartments, proof, and the small print. */
#include "text_parts.h"

#include "glyph.h"

#include <stdio.h>
#include <string.h>

static void number(still_pen *pen, const char *label, double value, const char *unit)
{
    still_pen_label(pen, STILL_TEXT_LABEL, STILL_TEXT_BODY, label);
    still_pen_number(pen, value, unit);
}

static const char *loud(const char *state)
{
    if (strcmp(state, "uncovered") == 0) return "UNCOVERED";
    return state[0] != '\0' ? state : "unknown";
}

static void remedies(still_pen *pen, const still_closed_in *c)
{
    if (strcmp(c->state, "uncovered") != 0) return;
    if (c->n_remedies == 0)
        still_text_field(pen, "remedy",
                         "none is known: no order, valve to leave open or place to "
                         "drain that was tried removes it");
    for (size_t i = 0; i < c->n_remedies; i++)
        still_text_field(pen, i == 0 ? "remedy" : "or", c->remedies[i].text);
}

/* "only on the way: from step 12 until step 14 is done". */
static void during(still_pen *pen, const still_closed_in *c)
{
    char text[80];
    bool back = strcmp(c->during, "restore") == 0;
    if (c->during[0] == '\0') return;
    if (c->until_step > 0)
        snprintf(text, sizeof text, "from step %u%s until step %u is done", c->from_step,
                 back ? " of the way back" : "", c->until_step);
    else
        snprintf(text, sizeof text, "from step %u%s on", c->from_step,
                 back ? " of the way back" : "");
    still_text_field(pen, "only", text);
}

static void closed_in(still_pen *pen, const still_closed_in *c)
{
    still_pen_blank(pen);
    still_pen_line(pen, STILL_TEXT_ITEM);
    still_pen_marked(pen, strcmp(c->state, "uncovered") == 0 ? STILL_INK_ALARM : STILL_INK_PLAIN,
                     loud(c->state));
    pen->joined = true;
    still_pen_words(pen, ",");
    still_pen_words(pen, c->where[0] != '\0' ? c->where : "place unknown");
    if (strcmp(c->where, "inside") == 0 || strcmp(c->where, "outside") == 0)
        still_pen_words(pen, "the boundary");
    during(pen, c);
    still_text_field_ids(pen, "parts", c->ids);
    still_text_field_ids(pen, "shut by", c->closed_by);
    if (c->covered_by.n > 0) still_text_field_ids(pen, "cover", c->covered_by);
    for (size_t i = 0; i < c->conditions.n; i++)
        still_text_field(pen, i == 0 ? "as long as" : "", c->conditions.items[i]);
    still_text_field(pen, "why", c->why);
    number(pen, "volume", c->volume_m3, "m3");
    number(pen, "mass", c->mass_kg, "kg");
    number(pen, "rise", c->bar_per_K, "bar");
    still_pen_words(pen, "for each kelvin of warming");
    still_text_field(pen, "limit", "weakest part reaches its design pressure");
    if (strcmp(c->state, "not-full") == 0) {
        still_pen_words(pen, "not up to ambient");
        return;
    }
    still_pen_words(pen, "at:");
    still_pen_number(pen, c->reaches_design_at_degC, "degC");
    remedies(pen, c);
}

void still_text_closed_in(still_pen *pen, const still_record *r)
{
    if (r->n_closed_in == 0 && !r->feasible) return;
    still_pen_heading(pen, "LIQUID CLOSED IN BY THIS PLAN", '-');
    if (r->n_closed_in == 0) still_pen_words(pen, "none found");
    /* What needs somebody's attention comes first. */
    for (int open = 1; open >= 0; open--)
        for (size_t i = 0; i < r->n_closed_in; i++)
            if ((strcmp(r->closed_in[i].state, "uncovered") == 0) == (open == 1))
                closed_in(pen, &r->closed_in[i]);
    if (r->n_closed_in == 0) return;
    still_pen_blank(pen);
    still_pen_line(pen, STILL_TEXT_ITEM);
    still_pen_words(pen, "Thermal expansion of closed-in fluid only. Fire, blocked discharge, "
                         "capacity and inlet loss are not checked.");
}

void still_text_way(still_pen *pen, const char *label, still_strings ids)
{
    still_pen_label(pen, STILL_TEXT_LABEL, STILL_TEXT_BODY, label);
    if (ids.n == 0)
        still_pen_words(pen, "NONE");
    else
        still_pen_ids(pen, ids, " >");
}

static void pocket(still_pen *pen, const still_pocket *p)
{
    still_text_field_ids(pen, "pocket", p->ids);
    if (p->place[0] != '\0') {
        still_pen_line(pen, STILL_TEXT_BODY);
        still_pen_words(pen, "place:");
        still_pen_words(pen, p->place);
    }
    still_pen_line(pen, STILL_TEXT_BODY);
    still_pen_words(pen, "liquid stays when drained, at most: volume");
    still_pen_number(pen, p->volume_m3, "m3");
    pen->joined = true;
    still_pen_words(pen, ", mass");
    still_pen_number(pen, p->mass_kg, "kg");
    pen->joined = true;
    still_pen_words(pen, ", lowest at");
    still_pen_number(pen, p->lowest_m, "m");
    still_pen_line(pen, STILL_TEXT_BODY);
    still_pen_words(pen, "to get it out:");
    still_pen_words(pen, p->how);
}

static void pockets(still_pen *pen, const still_compartment *c)
{
    if (c->liquid && c->drain.n == 0) {
        still_text_field(pen, "pockets", "unknown: there is no drain");
    } else if (c->liquid && !c->drainage_shown) {
        still_text_field(pen, "not shown",
                         "heights are missing in the plant file: it is not known whether liquid "
                         "stays behind at");
        still_pen_line(pen, STILL_TEXT_BODY);
        still_pen_ids(pen, c->not_shown, ",");
    }
    for (size_t i = 0; i < c->n_pockets; i++) pocket(pen, &c->pockets[i]);
    if (c->drainage_shown && c->n_pockets == 0 && c->liquid)
        still_text_field(pen, "pockets", "none by the elevations of the file");
}

/* What fills the room that the liquid leaves. */
static void air_in(still_pen *pen, const still_compartment *c)
{
    still_pen_label(pen, STILL_TEXT_LABEL, STILL_TEXT_BODY, "air in by");
    if (c->air_in[0] != '\0')
        still_pen_id(pen, c->air_in, "");
    else if (c->flashes)
        still_pen_words(pen, "none: the liquid boils, and its own vapour takes its place");
    else
        still_pen_words(pen, "NONE");
}

static void quantities(still_pen *pen, const still_inventory *held)
{
    still_pen_label(pen, STILL_TEXT_LABEL, STILL_TEXT_BODY, "of it");
    still_pen_words(pen, "liquid");
    still_pen_number(pen, held->liquid_m3, "m3");
    pen->joined = true;
    still_pen_words(pen, ",");
    still_pen_number(pen, held->liquid_kg, "kg;");
    still_pen_words(pen, "vapour");
    still_pen_number(pen, held->vapour_m3, "m3");
    pen->joined = true;
    still_pen_words(pen, ",");
    still_pen_number(pen, held->vapour_kg, "kg");
}

static void compartment(still_pen *pen, const still_compartment *c, size_t n)
{
    still_buf head = STILL_BUF_INIT;
    still_buf_printf(&head, "Compartment %zu, %s", n,
                     c->liquid ? "can hold liquid" : "holds no liquid");
    still_pen_blank(pen);
    still_pen_line(pen, STILL_TEXT_ITEM);
    if (!head.failed) still_pen_words(pen, head.text);
    if (head.failed) pen->out->failed = true;
    still_buf_clear(&head);
    still_text_field_ids(pen, "parts", c->ids);
    still_text_way(pen, "let off by", c->vent);
    if (c->liquid || c->drain.n > 0) still_text_way(pen, "drain by", c->drain);
    for (size_t i = 0; i < c->n_further; i++)
        still_text_way(pen, i == 0 ? "and by" : "", c->further[i]);
    if (c->liquid && c->drain.n > 0) air_in(pen, c);
    still_text_way(pen, "prove at", c->prove);
    still_pen_label(pen, STILL_TEXT_LABEL, STILL_TEXT_BODY, "gauge");
    if (c->gauge[0] != '\0') {
        still_pen_id(pen, c->gauge, ",");
        still_pen_words(pen, "root valve");
        still_pen_id(pen, c->gauge_via[0] != '\0' ? c->gauge_via : "unknown", "");
    } else {
        still_pen_words(pen, "NONE");
    }
    number(pen, "volume", c->volume_m3, "m3");
    number(pen, "mass", c->mass_kg, "kg");
    quantities(pen, &c->holds);
    pockets(pen, c);
    for (size_t i = 0; i < c->n_let_down; i++) {
        still_text_field(pen, i == 0 ? "time" : "", "through");
        still_pen_id(pen, c->let_down[i].through, ":");
        still_pen_words(pen, c->let_down[i].text);
    }
}

void still_text_compartments(still_pen *pen, const still_record *r)
{
    if (r->inside.n > 0) {
        still_pen_heading(pen, "INSIDE THE BOUNDARY", '-');
        still_pen_line(pen, STILL_TEXT_ITEM);
        still_pen_ids(pen, r->inside, ",");
    }
    if (r->n_compartments == 0) return;
    still_pen_heading(pen, "COMPARTMENTS: where to let off, drain, prove zero", '-');
    for (size_t i = 0; i < r->n_compartments; i++) compartment(pen, &r->compartments[i], i + 1);
    still_pen_blank(pen);
    still_pen_line(pen, STILL_TEXT_ITEM);
    still_pen_words(pen, "All together, the opened part included");
    quantities(pen, &r->inventory);
    still_pen_blank(pen);
    still_pen_line(pen, STILL_TEXT_ITEM);
    still_pen_words(pen, "A pipe that dips between its ends is not seen; times prove nothing.");
}

static void path(still_pen *pen, const still_record *r, const still_proof_path *p, size_t n)
{
    still_buf head = STILL_BUF_INIT;
    if (p->layers != NULL)
        still_buf_printf(&head, "Path %zu:", n);
    else
        still_buf_printf(&head, "Path %zu, cut at tag %u:", n, still_text_tag_of(r, p->point));
    still_pen_blank(pen);
    still_pen_line(pen, STILL_TEXT_ITEM);
    if (!head.failed) still_pen_words(pen, head.text);
    if (head.failed) pen->out->failed = true;
    still_buf_clear(&head);
    still_pen_id(pen, p->point, "");
    still_pen_line(pen, STILL_TEXT_LABEL);
    still_pen_ids(pen, p->ids, " >");
}

void still_text_bound(still_buf *out, const still_record *r)
{
    const still_proof *p = &r->proof;
    const still_messages *m = r->messages;
    bool layered = p->n_paths > 0 && p->paths[0].layers != NULL;
    unsigned long cases = (unsigned long)p->nodes;
    if (p->n_paths == 0)
        still_say(out, m, "No way leads pressure to the work.");
    else if (p->n_paths == 1)
        still_say(out, m, "One way leads pressure to the work: it needs a point, so at least %u.",
                  p->bound);
    else if (layered)
        still_say(out, m,
                  "%zu ways lead pressure to the work, no two of which use up the same device in "
                  "the same layer: each needs a point of its own, so at least %u.",
                  p->n_paths, p->bound);
    else
        still_say(out, m,
                  "%zu ways lead pressure to the work, no two of which share a device that could "
                  "be a point: each needs a point of its own, so at least %u.",
                  p->n_paths, p->bound);
    if (p->feeds.n == 1) still_say(out, m, " Besides, one feed must be locked: no way covers it.");
    if (p->feeds.n > 1)
        still_say(out, m, " Besides, %zu feeds must be locked: no way covers them.", p->feeds.n);
    if (p->bound + p->feeds.n == r->cost_points)
        still_say(out, m, " The plan has %u: fewer are not enough.", r->cost_points);
    else
        still_say(out, m, " The plan has %u: by these ways NOT proven to be the fewest.",
                  r->cost_points);
    if (strcmp(p->kind, "search") != 0) return;
    if (p->complete && cases == 1)
        still_say(out, m,
                  " A search over one case shows it: no choice with fewer than %u points was left "
                  "out.",
                  p->lower_bound);
    else if (p->complete)
        still_say(out, m,
                  " A search over %lu cases shows it: no choice with fewer than %u points was left "
                  "out.",
                  cases, p->lower_bound);
    else
        still_say(out, m,
                  " The search was given up after %lu cases; no choice with fewer than %u points "
                  "was left out.",
                  cases, p->lower_bound);
}

static void bound(still_pen *pen, const still_record *r)
{
    still_buf text = STILL_BUF_INIT;
    still_text_bound(&text, r);
    still_pen_line(pen, STILL_TEXT_ITEM);
    if (!text.failed) still_pen_words(pen, text.text);
    if (text.failed) pen->out->failed = true;
    still_buf_clear(&text);
}

void still_text_proof(still_pen *pen, const still_record *r)
{
    const still_proof *p = &r->proof;
    if (!r->feasible) return;
    still_pen_heading(pen, "PROOF that no fewer points are enough", '-');
    bound(pen, r);
    if (p->feeds.n > 0) still_text_field_ids(pen, "feeds", p->feeds);
    for (size_t i = 0; i < p->n_paths; i++) path(pen, r, &p->paths[i], i + 1);
}

/* Other choices (I4), and why each point (I1). */
void still_text_choices(still_pen *pen, const still_record *r)
{
    if (!r->feasible) return;
    still_pen_heading(pen, "OTHER CHOICES", '-');
    if (r->n_alternatives == 0) {
        still_pen_line(pen, STILL_TEXT_ITEM);
        still_pen_words(pen, "none at this grade was found that is better in anything");
    }
    for (size_t i = 0; i < r->n_alternatives; i++) {
        const still_alternative *a = &r->alternatives[i];
        still_pen_label(pen, STILL_TEXT_ITEM, STILL_TEXT_ITEM + 2, "-");
        still_pen_words(pen, a->near ? "near choice:" : "");
        still_pen_words(pen, a->text);
        still_pen_line(pen, STILL_TEXT_LABEL);
        still_pen_ids(pen, a->points, ",");
    }
    still_pen_line(pen, STILL_TEXT_ITEM);
    still_pen_words(pen, r->alternatives_complete
                             ? "All that are better in something were looked for, but for what "
                               "saves under a twentieth of the mass and nothing else."
                             : "There may be more: the search for them was given up.");
    still_pen_heading(pen, "WHY THESE POINTS", '-');
    for (size_t i = 0; i < r->n_explain; i++) {
        if (strcmp(r->explain[i].rule, "I1") != 0) continue;
        still_pen_label(pen, STILL_TEXT_ITEM, STILL_TEXT_ITEM + 2, "-");
        still_pen_words(pen, r->explain[i].text);
    }
    if (!r->option_explain) return;
    still_pen_heading(pen, "WHY NO OTHERS", '-');
    for (size_t i = 0; i < r->n_explain; i++) {
        if (strcmp(r->explain[i].rule, "I1") == 0) continue;
        still_pen_label(pen, STILL_TEXT_ITEM, STILL_TEXT_ITEM + 2, "-");
        still_pen_words(pen, r->explain[i].text);
    }
}

void still_text_end(still_pen *pen, const still_record *r)
{
    still_pen_heading(pen, "CAUTIONS", '-');
    for (size_t i = 0; i < r->n_cautions; i++) {
        still_pen_label(pen, STILL_TEXT_ITEM, STILL_TEXT_ITEM + 2, "-");
        still_pen_words(pen, r->cautions[i].text);
    }
    still_pen_heading(pen, "MADE FROM", '-');
    still_text_field(pen, "file", r->plant_file);
    still_pen_label(pen, STILL_TEXT_LABEL, STILL_TEXT_BODY, "SHA-256");
    still_pen_line(pen, STILL_TEXT_LABEL);
    still_pen_id(pen, r->plant_digest[0] != '\0' ? r->plant_digest : "unknown", "");
    if (r->state_digest[0] != '\0') {
        still_text_field(pen, "state", "as found today, in a state file with the SHA-256");
        still_pen_line(pen, STILL_TEXT_LABEL);
        still_pen_id(pen, r->state_digest, "");
    }
    if (r->site_digest[0] != '\0') {
        still_text_field(pen, "site", "what the site says, in a site file with the SHA-256");
        still_pen_line(pen, STILL_TEXT_LABEL);
        still_pen_id(pen, r->site_digest, "");
    }
    if (r->checklists_digest[0] != '\0') {
        still_text_field(pen, "work", "by checklists of the site, in a file with the SHA-256");
        still_pen_line(pen, STILL_TEXT_LABEL);
        still_pen_id(pen, r->checklists_digest, "");
    }
    still_text_field(pen, "options", "--grade");
    still_pen_words(pen, r->option_grade);
    if (r->option_work[0] != '\0') {
        still_pen_words(pen, "--work");
        still_pen_words(pen, r->option_work);
    }
    for (size_t i = 0; i < r->option_avoid.n; i++) {
        still_pen_words(pen, "--avoid");
        still_pen_id(pen, r->option_avoid.items[i], "");
    }
    if (r->policy_digest[0] != '\0') {
        still_pen_words(pen, "--policy");
        still_pen_id(pen, r->policy_id, "");
    }
    if (r->site_digest[0] != '\0') {
        still_pen_words(pen, "--site");
        still_pen_id(pen, r->site_id, "");
    }
    if (r->checklists_digest[0] != '\0') {
        still_pen_words(pen, "--checklists");
        still_pen_id(pen, r->checklists_id, "");
    }
    for (size_t i = 0; i < r->option_accept.n; i++) {
        still_pen_words(pen, "--accept");
        still_pen_id(pen, r->option_accept.items[i], "");
    }
    still_text_field(pen, "program", r->program);
    still_pen_words(pen, r->version);
    still_pen_line(pen, 0);
}
