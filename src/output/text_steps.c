/* The steps, with a box to tick, and the positions that stand before and after them. */
#include "text_parts.h"

#include <stdio.h>
#include <string.h>

/** Where the step's own words start: behind "  [ ]  12. " */
enum { STEP = 12, STEP_LABEL = 12, STEP_BODY = 20 };

static void field(still_pen *pen, const char *label, const char *words)
{
    if (words[0] == '\0') return;
    still_pen_label(pen, STEP_LABEL, STEP_BODY, label);
    still_pen_words(pen, words);
}

static void at_what(still_pen *pen, const still_step *s)
{
    if (s->tag == 0 && s->id[0] == '\0' && s->from[0] == '\0' && s->to[0] == '\0') return;
    still_pen_label(pen, STEP_LABEL, STEP_BODY, s->tag != 0 ? "TAG" : "at");
    if (s->tag != 0) {
        still_buf number = STILL_BUF_INIT;
        still_buf_printf(&number, "%u", s->tag);
        if (!number.failed) still_pen_words(pen, number.text);
        if (number.failed) pen->out->failed = true;
        still_buf_clear(&number);
    }
    still_pen_id(pen, s->id, "");
    if (s->from[0] == '\0' && s->to[0] == '\0') return;
    still_pen_words(pen, s->from[0] != '\0' ? s->from : "unknown");
    still_pen_words(pen, "->");
    still_pen_words(pen, s->to[0] != '\0' ? s->to : "unknown");
}

static void step(still_pen *pen, const still_step *s)
{
    still_buf head = STILL_BUF_INIT;
    still_buf_printf(&head, "[ ] %3u.", s->n);
    still_pen_blank(pen);
    if (!head.failed) still_pen_label(pen, STILL_TEXT_ITEM, STEP, head.text);
    if (head.failed) pen->out->failed = true;
    still_buf_clear(&head);
    still_pen_words(pen, s->do_text);
    at_what(pen, s);
    field(pen, "why", s->why);
    field(pen, "expect", s->expect);
    pen->ink = STILL_INK_ALARM; /* of the label */
    field(pen, "IF NOT", s->if_not);
    pen->ink = STILL_INK_PLAIN;
}

static void stage(still_pen *pen, const still_step *s)
{
    still_buf head = STILL_BUF_INIT;
    still_buf_printf(&head, "Stage %u: ", s->stage);
    still_buf_add(&head, s->phase);
    still_pen_blank(pen);
    still_pen_line(pen, STILL_TEXT_ITEM);
    if (!head.failed) still_pen_marked(pen, STILL_INK_BOLD, head.text);
    if (head.failed) pen->out->failed = true;
    still_buf_clear(&head);
}

void still_text_steps(still_pen *pen, const char *heading, const still_step *steps, size_t n)
{
    if (n == 0) return;
    still_pen_heading(pen, heading, '-');
    for (size_t i = 0; i < n; i++) {
        if (i == 0 || steps[i].stage != steps[i - 1].stage ||
            strcmp(steps[i].phase, steps[i - 1].phase) != 0)
            stage(pen, &steps[i]);
        step(pen, &steps[i]);
    }
}

static bool said(still_pen *pen, bool before, const char *what, const char *word)
{
    char text[60];
    if (word[0] == '\0') return before;
    if (before) {
        pen->joined = true;
        still_pen_words(pen, ",");
    }
    snprintf(text, sizeof text, "%s%s", what, word);
    still_pen_words(pen, text);
    return true;
}

void still_text_found(still_pen *pen, const still_found *found, size_t n)
{
    if (n == 0) return;
    still_pen_heading(pen, "FOUND TODAY, BY THE STATE FILE", '-');
    for (size_t i = 0; i < n; i++) {
        const still_found *f = &found[i];
        bool any = false;
        still_pen_line(pen, STILL_TEXT_ITEM);
        still_pen_id(pen, f->id, ":");
        any = said(pen, any, "", f->position);
        any = said(pen, any, "", f->condition);
        any = said(pen, any, "contents ", f->contents);
        any = said(pen, any, "energised ", f->energised);
        if (!any) still_pen_words(pen, "looked at; nothing is said");
    }
}

void still_text_positions(still_pen *pen, const char *heading, const still_position_of *positions,
                          size_t n)
{
    if (n == 0) return;
    still_pen_heading(pen, heading, '-');
    for (size_t i = 0; i < n; i++) {
        still_pen_line(pen, STILL_TEXT_ITEM);
        still_pen_id(pen, positions[i].id, ":");
        still_pen_words(pen, positions[i].position);
    }
}

/* The step that moves what has this tag; NULL = none. */
static const still_step *mover(const still_step *steps, size_t n, uint32_t tag)
{
    for (size_t i = 0; i < n; i++)
        if (steps[i].tag == tag && steps[i].to[0] != '\0') return &steps[i];
    return NULL;
}

/* The next of the way back that moves the same; NULL = none. */
static const still_step *again(const still_record *r, const still_step *before)
{
    size_t past = (size_t)(before - r->restore) + 1;
    return mover(r->restore + past, r->n_restore - past, before->tag);
}

/* The step that hangs its tag, and puts a lock on where there is one; NULL = the one that moves it.
 */
static const still_step *holder(const still_step *steps, size_t n, uint32_t tag)
{
    for (size_t i = 0; i < n; i++)
        if (steps[i].tag == tag && strcmp(steps[i].phase, "lock-and-tag") == 0) return &steps[i];
    return NULL;
}

void still_text_shift(still_pen *pen, const still_record *r)
{
    if (!r->feasible || r->n_points == 0) return;
    still_pen_heading(pen, "AT A CHANGE OF SHIFT: what stands how, by the last step done", '-');
    for (size_t i = 0; i < r->n_points; i++) {
        const still_point *p = &r->points[i];
        const still_step *on = mover(r->steps, r->n_steps, p->tag);
        const still_step *held = holder(r->steps, r->n_steps, p->tag);
        const still_step *off = mover(r->restore, r->n_restore, p->tag);
        bool lock = strcmp(p->hold, "lock") == 0;
        still_buf text = STILL_BUF_INIT;
        if (on != NULL)
            still_buf_printf(&text, "%s from step %u on", p->to, on->n);
        else
            still_buf_printf(&text, "%s all the time", p->to);
        if (held != NULL)
            still_buf_printf(&text, ", %s from step %u on", lock ? "locked and tagged" : "tagged",
                             held->n);
        else
            still_buf_printf(&text, ", %s then", lock ? "locked and tagged" : "tagged");
        if (off != NULL)
            still_buf_printf(&text, "; from step %u of the way back: %s", off->n, off->to);
        /* What was opened inside is opened again for the tests. */
        for (const still_step *at = off; at != NULL; at = again(r, at))
            if (at != off) still_buf_printf(&text, ", from step %u: %s", at->n, at->to);
        still_buf head = STILL_BUF_INIT;
        still_buf_printf(&head, "TAG %u", p->tag);
        if (!head.failed) still_pen_label(pen, STILL_TEXT_ITEM, STILL_TEXT_BODY - 6, head.text);
        still_pen_id(pen, p->id, ":");
        if (!text.failed) still_pen_words(pen, text.text);
        if (text.failed || head.failed) pen->out->failed = true;
        still_buf_clear(&head);
        still_buf_clear(&text);
    }
}

void still_text_before(still_pen *pen, const still_record *r)
{
    char number[24];
    if (!r->goes_on) return;
    still_pen_heading(pen, "GOES ON FROM A PLAN BEFORE", '-');
    still_pen_label(pen, STILL_TEXT_ITEM, STILL_TEXT_BODY, "steps done");
    for (size_t i = 0; i < r->n_done; i++) {
        size_t k = i;
        while (k + 1 < r->n_done && r->done[k + 1] == r->done[k] + 1) k++;
        if (k > i)
            snprintf(number, sizeof number, "%u to %u", r->done[i], r->done[k]);
        else
            snprintf(number, sizeof number, "%u", r->done[i]);
        still_pen_words(pen, number);
        if (k + 1 < r->n_done) {
            pen->joined = true;
            still_pen_words(pen, ",");
        }
        i = k;
    }
    if (r->n_done == 0) still_pen_words(pen, "none");
    for (size_t i = 0; i < r->n_found_on_way; i++) {
        still_pen_label(pen, STILL_TEXT_ITEM, STILL_TEXT_BODY, "found");
        still_pen_id(pen, r->found_on_way[i].id, ":");
        still_pen_words(pen, r->found_on_way[i].position);
    }
    for (size_t i = 0; i < r->n_hung; i++) {
        snprintf(number, sizeof number, "tag %u", r->hung[i].tag);
        still_pen_label(pen, STILL_TEXT_ITEM, STILL_TEXT_BODY, i == 0 ? "hangs" : "");
        still_pen_words(pen, number);
        still_pen_words(pen, "on");
        still_pen_id(pen, r->hung[i].id, "");
        still_pen_words(pen, r->hung[i].left ? "(stays; this plan does not use it)"
                                             : "(in the list below under its new number)");
    }
    still_pen_blank(pen);
    still_pen_line(pen, STILL_TEXT_ITEM);
    still_pen_words(pen,
                    "Right only if these steps were done as written, and nothing else was moved. "
                    "Look at each of these devices before the first step.");
}
