/* What the technician follows in the plant room: the tags, and what stays dangerous beside them. */
#include "text_parts.h"

#include <string.h>

static const char *verb(still_action action)
{
    switch (action) {
    case STILL_ACTION_CLOSE: return "CLOSE";
    case STILL_ACTION_FIT: return "FIT";
    case STILL_ACTION_REMOVE: return "REMOVE";
    case STILL_ACTION_SWITCH_OFF: return "SWITCH OFF";
    case STILL_ACTION_OPEN: return "OPEN";
    }
    return "unknown";
}

static void change(still_pen *pen, const char *from, const char *to)
{
    if (from[0] == '\0' && to[0] == '\0') return;
    still_pen_label(pen, STILL_TEXT_LABEL, STILL_TEXT_BODY, "change");
    still_pen_words(pen, from[0] != '\0' ? from : "unknown");
    still_pen_words(pen, "->");
    still_pen_words(pen, to[0] != '\0' ? to : "unknown");
    if (strcmp(from, to) == 0) still_pen_words(pen, "(stands so already: check it, hold it)");
}

static void hold(still_pen *pen, const still_point *p)
{
    still_pen_label(pen, STILL_TEXT_LABEL, STILL_TEXT_BODY, "hold by");
    still_pen_words(pen, p->hold[0] != '\0' ? p->hold : "unknown");
    if (p->legend[0] == '\0') return;
    pen->joined = true;
    still_pen_words(pen, "; the tag says:");
    still_pen_words(pen, p->legend);
}

static void tag(still_pen *pen, const still_point *p)
{
    still_buf head = STILL_BUF_INIT;
    still_buf_printf(&head, "TAG %u", p->tag);
    still_pen_blank(pen);
    pen->ink = STILL_INK_BOLD;
    if (!head.failed) still_pen_label(pen, STILL_TEXT_ITEM, STILL_TEXT_BODY, head.text);
    if (head.failed) pen->out->failed = true;
    still_buf_clear(&head);
    pen->ink = STILL_INK_BOLD;
    still_pen_words(pen, verb(p->action));
    still_pen_id(pen, p->id, "");
    pen->ink = STILL_INK_PLAIN;
    still_text_field(pen, "what", p->what);
    still_text_field(pen, "switch", p->isolator);
    still_text_field(pen, "place", p->place[0] != '\0' ? p->place : "not said in the plant file");
    change(pen, p->from, p->to);
    hold(pen, p);
    still_text_field(pen, "why", p->why);
    if (p->level > 1)
        still_text_field(pen, "layer", "further out, behind the one next to the work");
    if (!p->counted) still_text_field(pen, "counts", "no: opened, not a barrier");
    if (p->assumed_lockable)
        still_text_field(pen, "note",
                         "the file only assumes that it can be locked: look in the "
                         "plant before relying on it");
}

void still_text_tags(still_pen *pen, const still_record *r)
{
    still_pen_heading(pen, "TAG LIST, in the order of operation", '-');
    if (r->n_points == 0) still_pen_words(pen, r->feasible ? "no points" : "none: no plan");
    for (size_t i = 0; i < r->n_points; i++) tag(pen, &r->points[i]);
}

void still_text_sources(still_pen *pen, const still_record *r)
{
    if (r->n_sources_inside == 0) return;
    still_pen_heading(pen, "SOURCES TAKEN INSIDE, each with its treatment", '-');
    for (size_t i = 0; i < r->n_sources_inside; i++) {
        still_pen_blank(pen);
        still_pen_line(pen, STILL_TEXT_ITEM);
        still_pen_id(pen, r->sources_inside[i].id, "");
        still_text_field(pen, "treat", r->sources_inside[i].treatment);
    }
}

void still_text_live(still_pen *pen, const still_record *r)
{
    still_pen_heading(pen, "STILL LIVE BESIDE THE WORK", '-');
    if (r->n_still_live == 0)
        still_pen_words(pen, r->feasible ? "nothing that the plant file knows of"
                                         : "everything: nothing is isolated");
    for (size_t i = 0; i < r->n_still_live; i++) {
        const still_live_item *l = &r->still_live[i];
        still_pen_blank(pen);
        still_pen_line(pen, STILL_TEXT_ITEM);
        still_pen_id(pen, l->id, "");
        if (l->look_alike)
            still_pen_marked(pen, STILL_INK_WARN, "  ** LOOK-ALIKE: not one of the points **");
        still_text_field(pen, "place", l->place);
        still_text_field(pen, "why", l->why);
    }
}

void still_text_assumptions(still_pen *pen, const still_record *r)
{
    still_pen_heading(pen, "ASSUMPTIONS, each to be looked at by whoever approves", '-');
    if (r->n_assumptions == 0) still_pen_words(pen, "none");
    for (size_t i = 0; i < r->n_assumptions; i++) {
        const still_remark *a = &r->assumptions[i];
        still_buf rule = STILL_BUF_INIT;
        still_buf_printf(&rule, "[%s]", a->rule);
        still_pen_line(pen, STILL_TEXT_ITEM);
        if (!rule.failed) still_pen_words(pen, rule.text);
        if (rule.failed) pen->out->failed = true;
        still_buf_clear(&rule);
        pen->indent = STILL_TEXT_LABEL + 2;
        still_pen_id(pen, a->id, a->id[0] != '\0' ? ":" : "");
        still_pen_words(pen, a->text);
    }
}
