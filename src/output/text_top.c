/* What whoever approves the plan reads first: what it is for, the verdict, what stands against. */
#include "text_parts.h"

#include "number.h"

#include <string.h>

enum { TOP = 12 };

static void top_label(still_pen *pen, const char *label)
{
    still_pen_label(pen, 0, TOP, label);
}

static void title(still_pen *pen, const still_record *r)
{
    still_pen_heading(pen, "ISOLATION PLAN", '=');
    top_label(pen, "Plant");
    still_pen_words(pen, r->plant_name);
    still_pen_line(pen, TOP);
    still_pen_id(pen, r->plant_id, ",");
    still_pen_words(pen, "revision");
    still_pen_words(pen, r->plant_revision[0] != '\0' ? r->plant_revision : "not said");
    top_label(pen, "Digest");
    char first16[17] = {0};
    strncpy(first16, r->plant_digest, sizeof first16 - 1);
    still_pen_words(pen, first16);
    still_pen_words(pen, "(in full at the end)");
    if (r->state_digest[0] != '\0') {
        top_label(pen, "State");
        strncpy(first16, r->state_digest, sizeof first16 - 1);
        still_pen_words(pen, first16);
        still_pen_words(pen, "(as found today, by a state file)");
    }
    if (r->site_digest[0] != '\0') {
        top_label(pen, "Site");
        still_pen_id(pen, r->site_id, ",");
        strncpy(first16, r->site_digest, sizeof first16 - 1);
        still_pen_words(pen, first16);
        still_pen_words(pen, "(hold time, gas test, tests, gear: by a site file)");
    }
    top_label(pen, "Made by");
    still_pen_words(pen, r->program);
    still_pen_words(pen, r->version);
}

static void target(still_pen *pen, const still_record *r)
{
    top_label(pen, "Target");
    still_pen_ids(pen, r->targets, ",");
    if (r->target_what[0] != '\0') {
        still_pen_line(pen, TOP);
        still_pen_words(pen, r->target_what);
    }
    top_label(pen, "Place");
    still_pen_words(pen, r->target_place[0] != '\0' ? r->target_place : "not said");
    top_label(pen, "Work");
    still_pen_words(pen, r->work);
}

static void grade(still_pen *pen, const still_record *r)
{
    top_label(pen, "Grade");
    still_pen_words(pen, "asked for:");
    still_pen_words(pen, r->option_grade);
    still_pen_words(pen, "| needed:");
    still_pen_words(pen, r->grade_required[0] != '\0' ? r->grade_required : "unknown");
    still_pen_words(pen, "| reached:");
    still_pen_words(pen, r->grade_achieved[0] != '\0' ? r->grade_achieved : "none");
    if (r->grade_because[0] == '\0') return;
    still_pen_line(pen, TOP);
    still_pen_words(pen, r->grade_because);
}

static void cost(still_pen *pen, const still_record *r)
{
    if (!r->feasible) return;
    still_buf text = STILL_BUF_INIT;
    still_buf_printf(&text, "%u point%s to lock, %u source%s taken inside, enclosed mass ",
                     r->cost_points, r->cost_points == 1 ? "" : "s", r->cost_sources,
                     r->cost_sources == 1 ? "" : "s");
    if (text.failed) pen->out->failed = true;
    top_label(pen, "Cost");
    if (!text.failed) still_pen_words(pen, text.text);
    still_pen_number(pen, r->cost_mass_kg, "kg");
    still_buf_clear(&text);
}

static void verdict(still_pen *pen, const still_record *r)
{
    still_buf text = STILL_BUF_INIT;
    still_text_verdict(&text, r);
    if (text.failed) pen->out->failed = true;
    still_pen_blank(pen);
    pen->ink = STILL_INK_BOLD;
    top_label(pen, "VERDICT");
    if (!text.failed)
        still_pen_marked(pen, r->feasible && r->ready ? STILL_INK_BOLD : STILL_INK_ALARM,
                         text.text);
    still_buf_clear(&text);
    still_pen_line(pen, TOP);
    if (!r->feasible)
        still_pen_words(pen, "No choice of points gives the grade that is needed. Do not open it.");
    else if (still_text_blocking(r) > 0)
        still_pen_words(pen,
                        "Not to be carried out until each one is cleared or accepted by name.");
    else if (!r->ready)
        still_pen_words(pen, "Not to be carried out.");
    else
        still_pen_words(pen, "No finding blocks. To be approved by a competent person, and checked "
                             "in the plant, before the first step.");
    still_buf counts = STILL_BUF_INIT;
    still_buf_printf(&counts, "%zu finding%s, %zu assumption%s, %zu tag%s, %zu step%s",
                     r->n_findings, r->n_findings == 1 ? "" : "s", r->n_assumptions,
                     r->n_assumptions == 1 ? "" : "s", r->n_points, r->n_points == 1 ? "" : "s",
                     r->n_steps, r->n_steps == 1 ? "" : "s");
    if (counts.failed) pen->out->failed = true;
    still_pen_line(pen, TOP);
    if (!counts.failed) still_pen_words(pen, counts.text);
    still_buf_clear(&counts);
}

void still_text_top(still_pen *pen, const still_record *r)
{
    title(pen, r);
    target(pen, r);
    grade(pen, r);
    cost(pen, r);
    verdict(pen, r);
    still_pen_blank(pen);
    top_label(pen, "CAUTION");
    still_pen_words(pen, "For competent persons. Local code and permit rules come first. Walk the "
                         "drawing down before work. The data may be wrong. Cautions in full at "
                         "the end.");
}

/** 0 = blocks for good, 1 = blocks until accepted, 2 = accepted, 3 = does not block. */
static int rank_of(const still_finding *f)
{
    if (f->blocks && !f->accepted) return f->acceptable ? 1 : 0;
    return f->accepted ? 2 : 3;
}

static void name_of(still_pen *pen, const still_finding *f)
{
    /* Quoted for the shell wherever an id holds more than plain letters. */
    static const char plain[] =
        "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789._/+-";
    still_buf name = STILL_BUF_INIT;
    bool quote = f->id[strspn(f->id, plain)] != '\0';
    if (quote) still_buf_char(&name, '\'');
    still_buf_printf(&name, "%s:", f->rule);
    for (const char *c = f->id; *c != '\0'; c++) {
        if (*c == '\'')
            still_buf_add(&name, "'\\''");
        else
            still_buf_char(&name, *c);
    }
    if (quote) still_buf_char(&name, '\'');
    if (name.failed) pen->out->failed = true;
    if (!name.failed) still_pen_id(pen, name.text, "");
    still_buf_clear(&name);
}

static void finding(still_pen *pen, const still_finding *f)
{
    static const char *const words[] = {"BLOCKS", "BLOCKS", "accepted", "note"};
    int rank = rank_of(f);
    still_pen_blank(pen);
    pen->ink = rank < 2 ? STILL_INK_ALARM : STILL_INK_PLAIN;
    still_pen_label(pen, STILL_TEXT_ITEM, STILL_TEXT_ITEM + 10, words[rank]);
    still_buf rule = STILL_BUF_INIT;
    still_buf_printf(&rule, "[%s]", f->rule);
    if (rule.failed) pen->out->failed = true;
    if (!rule.failed) still_pen_words(pen, rule.text);
    still_buf_clear(&rule);
    still_pen_id(pen, f->id, "");
    still_pen_line(pen, STILL_TEXT_ITEM + 10);
    still_pen_words(pen, f->text);
    still_pen_line(pen, STILL_TEXT_ITEM + 10);
    if (rank == 0) still_pen_words(pen, "Cannot be accepted: the plan or the plant must change.");
    if (rank == 1) {
        still_pen_words(pen, "To accept it: --accept");
        name_of(pen, f);
    }
    if (rank == 2) {
        still_pen_words(pen, "Accepted by name:");
        name_of(pen, f);
    }
}

void still_text_findings(still_pen *pen, const still_record *r)
{
    still_pen_heading(pen, "FINDINGS", '-');
    if (r->n_findings == 0) still_pen_words(pen, "none");
    for (int rank = 0; rank <= 3; rank++)
        for (size_t i = 0; i < r->n_findings; i++)
            if (rank_of(&r->findings[i]) == rank) finding(pen, &r->findings[i]);
}

void still_text_obstacle(still_pen *pen, const still_record *r)
{
    const still_obstacle *o = &r->obstacle;
    still_pen_heading(pen, "WHY IT CANNOT BE ISOLATED", '-');
    still_text_field(pen, "why", o->text);
    if (o->path.n > 0) still_text_way(pen, "path", o->path);
    still_text_field(pen, "best", o->best_grade[0] != '\0' ? o->best_grade : "none");
    if (o->n_would_help == 0) return;
    still_pen_blank(pen);
    still_pen_label(pen, STILL_TEXT_LABEL, STILL_TEXT_LABEL, "");
    still_pen_words(pen, o->help_is_set ? "What would help, all of these together:"
                                        : "What would help, any one of these:");
    for (size_t i = 0; i < o->n_would_help; i++) {
        still_pen_label(pen, STILL_TEXT_LABEL, STILL_TEXT_LABEL + 2, "-");
        still_pen_id(pen, o->would_help[i].id, o->would_help[i].text[0] != '\0' ? ":" : "");
        still_pen_words(pen, o->would_help[i].text);
    }
}
