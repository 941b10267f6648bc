/* Closed-in liquid in the picture: which part of the record a component belongs to, how that
 * looks, and what is written there. Everything comes from the record. */
#include "diagram.h"

#include "number.h"

#include <math.h>
#include <string.h>

static bool is(const char *a, const char *b)
{
    return strcmp(a, b) == 0;
}

still_look still_diagram_part_look(const still_segment *s)
{
    if (is(s->state, "covered")) return STILL_LOOK_COVERED;
    if (is(s->state, "not-full")) return STILL_LOOK_NOT_FULL;
    if (s->stub) return STILL_LOOK_CUT_STUB;
    if (is(s->shut_by, "plan-only")) return STILL_LOOK_CUT_PLAN;
    return is(s->shut_by, "person") ? STILL_LOOK_CUT_PERSON : STILL_LOOK_CUT_ITSELF;
}

const char *still_diagram_part_words(const still_segment *s)
{
    if (is(s->state, "covered")) return "covered";
    if (is(s->state, "not-full")) return "not full";
    if (s->stub) return "stub";
    if (is(s->shut_by, "plan-only")) return "by a plan only";
    return is(s->shut_by, "person") ? "by a person" : "by itself";
}

/* The record has uncovered ones first, and stubs behind the others. */
uint32_t still_diagram_gap(const still_coverage_record *cov, uint32_t segment)
{
    const still_segment *s = &cov->segments[segment];
    return is(s->state, "uncovered") && !s->stub ? segment + 1 : 0;
}

bool still_diagram_loud(const still_dia *d, uint32_t segment)
{
    bool gap = still_diagram_gap(d->cov, segment) != 0 && d->cov->segments[segment].counts;
    return d->focus != STILL_NONE ? segment == d->focus && still_diagram_gap(d->cov, segment) != 0
                                  : gap;
}

bool still_diagram_mild(const still_dia *d, uint32_t segment)
{
    return !still_diagram_loud(d, segment) ||
           (d->focus == STILL_NONE && d->cov->segments[segment].accepted);
}

void still_diagram_litres(still_buf *out, const still_segment *s)
{
    still_number_add(out, s->volume_m3 * 1000.0, 4);
    still_buf_add(out, " L");
}

void still_diagram_kelvins(still_buf *out, const still_segment *s)
{
    double k = s->reaches_design_at_degC - s->start_degC;
    if (s->never) {
        still_buf_add(out, "not reached");
        return;
    }
    if (isnan(k)) {
        still_buf_add(out, "K not known");
        return;
    }
    still_number_add(out, k, 3);
    still_buf_add(out, " K");
}

static void add_role(still_dia *d, still_strings ids, uint8_t role)
{
    for (size_t i = 0; i < ids.n; i++) {
        uint32_t c = still_diagram_find(d, ids.items[i]);
        if (c != STILL_NONE) d->role[c] |= role;
    }
}

void still_diagram_fill_parts(still_dia *d)
{
    const still_coverage_record *cov = d->cov;
    for (uint32_t c = 0; c < d->plant->n_comps; c++) d->part[c] = STILL_NONE;
    for (uint32_t i = 0; i < cov->n_segments; i++) {
        const still_segment *s = &cov->segments[i];
        bool loud = still_diagram_loud(d, i);
        for (size_t k = 0; k < s->ids.n; k++) {
            uint32_t c = still_diagram_find(d, s->ids.items[k]);
            if (c == STILL_NONE) continue;
            /* Both sides of an exchanger may be parts: the worse one comes first. */
            if (d->part[c] == STILL_NONE) {
                d->part[c] = i;
                d->nth[c] = (uint32_t)k;
            }
            if (loud) d->mark[c] |= STILL_MARK_CLOSED_IN;
        }
        add_role(d, s->covered_by, STILL_ROLE_COVERS);
        add_role(d, s->conditions, STILL_ROLE_NEEDED);
    }
    if (d->focus != STILL_NONE) add_role(d, cov->segments[d->focus].closed_by, STILL_ROLE_SHUTS);
}

still_status still_diagram_parts(still_dia *d)
{
    uint32_t n = d->plant->n_comps;
    d->mark = still_arena_alloc(&d->arena, n, sizeof *d->mark);
    d->role = still_arena_alloc(&d->arena, n, sizeof *d->role);
    d->part = STILL_ARENA_NEW(&d->arena, n, uint32_t);
    d->nth = STILL_ARENA_NEW(&d->arena, n, uint32_t);
    if (d->mark == NULL || d->role == NULL || d->part == NULL || d->nth == NULL)
        return STILL_E_NOMEM;
    still_diagram_fill_parts(d);
    return STILL_OK;
}

/* The first pipe of each part that is drawn. Only nodes are looked through: of a large plant a page
 * shows little. */
still_status still_diagram_speakers(still_dia *d)
{
    still_dplace *pipes = STILL_ARENA_NEW(&d->arena, d->n_nodes, still_dplace);
    size_t n = 0;
    d->here = STILL_ARENA_NEW(&d->arena, d->n_nodes, uint32_t);
    if (pipes == NULL || d->here == NULL) return STILL_E_NOMEM;
    for (size_t v = 0; v < d->n_nodes; v++) {
        uint32_t c = d->nodes[v].comp;
        if (d->plant->comps[c].cls == STILL_CLASS_SPOOL && d->part[c] != STILL_NONE)
            pipes[n++] = (still_dplace){(double)d->part[c], c};
    }
    still_diagram_sort(pipes, n);
    for (size_t i = 0, next; i < n; i = next) {
        uint32_t part = d->part[pipes[i].node], first = pipes[i].node;
        for (next = i; next < n && d->part[pipes[next].node] == part; next++)
            if (d->nth[pipes[next].node] < d->nth[first]) first = pipes[next].node;
        d->role[first] |= STILL_ROLE_SPEAKS;
        d->here[d->n_here++] = part;
    }
    return STILL_OK;
}

/** Add a text that was made here. */
static bool add_made(still_dia *d, still_dline **list, still_dstyle style, uint32_t tag,
                     still_buf *text)
{
    const char *kept = text->failed ? NULL : still_arena_str(&d->arena, text->text);
    still_buf_clear(text);
    return still_diagram_add_line(d, list, style, tag, kept);
}

/** Where a part carries its numbers: flag, litres, kelvins; or in a word what it is. */
static bool speak(still_dia *d, still_dnode *node)
{
    uint32_t i = d->part[node->comp], gap = still_diagram_gap(d->cov, i);
    const still_segment *s = &d->cov->segments[i];
    still_buf text = STILL_BUF_INIT;
    if (gap == 0)
        return still_diagram_add_text(d, &node->below, STILL_LINE_PLAIN,
                                      still_diagram_part_words(s));
    still_diagram_litres(&text, s);
    if (!add_made(d, &node->above, still_diagram_mild(d, i) ? STILL_LINE_MILD : STILL_LINE_GAP, gap,
                  &text))
        return false;
    still_diagram_kelvins(&text, s);
    if (!add_made(d, &node->above, STILL_LINE_LOUD, 0, &text)) return false;
    if (!still_diagram_add_text(d, &node->below, STILL_LINE_PLAIN, still_diagram_part_words(s)))
        return false;
    return !s->accepted || still_diagram_add_text(d, &node->below, STILL_LINE_PLAIN, "accepted");
}

bool still_diagram_cover_lines(still_dia *d, still_dnode *node)
{
    uint8_t role = d->role[node->comp];
    if ((role & STILL_ROLE_SPEAKS) && !speak(d, node)) return false;
    if ((role & STILL_ROLE_COVERS) &&
        !still_diagram_add_line(d, &node->below, STILL_LINE_COVER, 0, "covers"))
        return false;
    if ((role & STILL_ROLE_NEEDED) &&
        !still_diagram_add_text(d, &node->below, STILL_LINE_LOUD, "cover needs it"))
        return false;
    if ((role & STILL_ROLE_SHUTS) &&
        !still_diagram_add_text(d, &node->below, STILL_LINE_LOUD, "shuts it in"))
        return false;
    return true;
}
