/* What is written at a node, and the room that it takes. */
#include "diagram.h"

#include "glyph.h"
#include "number.h"
#include "pages.h"

#include <math.h>
#include <string.h>

/** Longest piece of an id, and of other text, in one line of a label, in characters. Short ones
 *  keep the picture narrow enough for its paper. */
enum { ID_PIECE = 20, PIECE = 15, TIGHT_PIECE = 12 };

/** Height of a line of a label. */
static double line_height(still_dstyle style)
{
    switch (style) {
    case STILL_LINE_FLAG:
    case STILL_LINE_GAP:
    case STILL_LINE_MILD:
    case STILL_LINE_COVER: return 24.0;
    case STILL_LINE_WORK: return 25.0;
    case STILL_LINE_ID:
    case STILL_LINE_PLAIN:
    case STILL_LINE_LOUD:
    case STILL_LINE_WARN: break;
    }
    return 16.0;
}

/** A text of the program in the reader's language; ids stay, and so do words without a space, which
 *  could be one. */
static const char *spoken(const still_dia *d, still_dstyle style, const char *text)
{
    if (style == STILL_LINE_ID || strchr(text, ' ') == NULL) return text;
    return still_arena_word(&d->arena, text);
}

/** Put a line at the end of a list. */
bool still_diagram_add_line(still_dia *d, still_dline **list, still_dstyle style, uint32_t tag,
                            const char *text)
{
    if (text == NULL) return false;
    text = spoken(d, style, text);
    still_dline *line = STILL_ARENA_NEW(&d->arena, 1, still_dline);
    if (line == NULL) return false;
    *line = (still_dline){text, style, tag, line_height(style) - (d->tight ? 2.0 : 0.0), NULL};
    while (*list != NULL) list = &(*list)->next;
    *list = line;
    return true;
}

/** Put a text that may be long: in pieces, broken at a space where there is one. */
bool still_diagram_add_text(still_dia *d, still_dline **list, still_dstyle style, const char *text)
{
    /* NULL: memory ran out where the text was made. */
    if (text == NULL) return false;
    text = spoken(d, style, text);
    while (*text != '\0') {
        size_t bytes = 0, at_space = 0;
        size_t most = style == STILL_LINE_ID ? ID_PIECE : d->tight ? TIGHT_PIECE : PIECE;
        for (size_t n = 0; n < most && text[bytes] != '\0'; n++) {
            uint32_t cp;
            if (text[bytes] == ' ') at_space = bytes;
            bool joint = style == STILL_LINE_ID && strchr("-_./:", text[bytes]) != NULL;
            bytes += still_glyph_next(text + bytes, &cp);
            if (joint && n > 0) at_space = bytes;
        }
        if (text[bytes] != '\0' && text[bytes] != ' ' && at_space > 0) bytes = at_space;
        /* A word that is longer than a line goes on behind a hyphen. */
        bool cut = style != STILL_LINE_ID && bytes > 1 && text[bytes] != '\0' &&
                   text[bytes] != ' ' && text[bytes - 1] != '-' && d->arena.messages != NULL;
        const char *piece =
            still_arena_printf(&d->arena, "%.*s%s", (int)bytes, text, cut ? "-" : "");
        if (!still_diagram_add_line(d, list, style, 0, piece)) return false;
        text += bytes;
        while (*text == ' ') text++;
        if (style == STILL_LINE_WARN) style = STILL_LINE_LOUD;
    }
    return true;
}

static bool add_position(still_dia *d, still_dnode *node)
{
    const still_comp *c = &d->plant->comps[node->comp];
    const still_point *point = still_diagram_point(d, node->comp);
    const char *normal = still_diagram_letters(c);
    if (point != NULL) {
        if (!still_diagram_add_text(d, &node->below, STILL_LINE_LOUD,
                                    still_diagram_held(d, node->comp, point)))
            return false;
        if (normal[0] == '\0') return true;
        return still_diagram_add_text(d, &node->below, STILL_LINE_PLAIN,
                                      still_arena_printf(&d->arena, "%s, found %s", normal,
                                                         still_arena_word(&d->arena, point->from)));
    }
    const char *now = still_diagram_position(d, node->comp);
    if (now[0] == '\0' && normal[0] == '\0') return true;
    return still_diagram_add_text(
        d, &node->below, STILL_LINE_PLAIN,
        still_arena_printf(&d->arena, "%s%s%s", normal,
                           normal[0] != '\0' && now[0] != '\0' ? ", " : "",
                           still_arena_word(&d->arena, now)));
}

/** At what pressure it opens, and what is known to be wrong with it. */
static bool add_condition(still_dia *d, still_dnode *node)
{
    const still_comp *c = &d->plant->comps[node->comp];
    const char *condition = still_diagram_condition(d, node->comp);
    double set = still_comp_q(d->plant, node->comp, STILL_Q_SET_PRESSURE_BARA) - STILL_ATM_BAR;
    if (c->cls == STILL_CLASS_VALVE && isfinite(set)) {
        still_buf text = STILL_BUF_INIT;
        still_number_add(&text, set, 4);
        const char *kept =
            text.failed ? NULL : still_arena_printf(&d->arena, "set %s barg", text.text);
        still_buf_clear(&text);
        if (!still_diagram_add_text(d, &node->below, STILL_LINE_PLAIN, kept)) return false;
    }
    if (condition[0] == '\0' || strcmp(condition, "sound") == 0) return true;
    return still_diagram_add_text(d, &node->below, STILL_LINE_WARN,
                                  still_arena_word(&d->arena, condition));
}

/** Feeds that are locked, at what they supply. */
static bool add_feeds(still_dia *d, still_dnode *node)
{
    const still_plant *p = d->plant;
    size_t n;
    const still_comp_feed *pair = still_comp_feeds(p, node->comp, &n);
    for (size_t i = 0; i < n; i++) {
        const char *id = still_text(p, p->feeds[pair[i].feed].id);
        for (size_t k = 0; k < d->r->n_points; k++) {
            const still_point *point = &d->r->points[k];
            if (strcmp(point->id, id) != 0) continue;
            if (!still_diagram_add_line(d, &node->below, STILL_LINE_FLAG, point->tag,
                                        still_arena_word(&d->arena, point->to)))
                return false;
            if (!still_diagram_add_text(d, &node->below, STILL_LINE_LOUD, id)) return false;
        }
    }
    return true;
}

static bool add_gauges(still_dia *d, still_dnode *node)
{
    const still_plant *p = d->plant;
    for (uint32_t g = 0; g < p->n_gauges; g++) {
        if (p->gauges[g].on != node->comp) continue;
        if (!still_diagram_add_text(
                d, &node->below, STILL_LINE_PLAIN,
                still_arena_printf(&d->arena, "gauge %s", still_text(p, p->gauges[g].id))))
            return false;
    }
    return true;
}

static bool label_comp(still_dia *d, still_dnode *node)
{
    const still_point *point = still_diagram_point(d, node->comp);
    const char *id = still_id_of(d->plant, node->comp);
    if ((d->mark[node->comp] & STILL_MARK_TARGET) && !d->bare &&
        !still_diagram_add_line(d, &node->above, STILL_LINE_WORK, 0,
                                still_arena_word(&d->arena, WORD("WORK"))))
        return false;
    if (point != NULL) {
        node->tag = point->tag;
        if (!still_diagram_add_line(d, &node->above, STILL_LINE_FLAG, point->tag, "")) return false;
    }
    if (!still_diagram_add_text(d, &node->above, STILL_LINE_ID, id)) return false;
    const char *what = still_diagram_kind(d, node->comp);
    if (what == NULL || !still_diagram_add_text(d, &node->below, STILL_LINE_PLAIN, what))
        return false;
    if (still_diagram_is_source(d, node->comp) &&
        !still_diagram_add_line(d, &node->below, STILL_LINE_LOUD, 0,
                                still_arena_word(&d->arena, WORD("source"))))
        return false;
    if (node->kind == STILL_D_COMP && !(add_condition(d, node) && add_position(d, node) &&
                                        add_feeds(d, node) && still_diagram_elevations(d, node)))
        return false;
    return add_gauges(d, node);
}

static bool label_spool(still_dia *d, still_dnode *node)
{
    const still_comp *c = &d->plant->comps[node->comp];
    const char *size = still_comp_size(d->plant, node->comp), *service = "";
    if (d->cov != NULL && d->focus == STILL_NONE) size = "";
    if (d->bare && d->cov == NULL && c->service != STILL_NONE)
        service = still_text(d->plant, d->plant->services[c->service].id);
    /* A pipe may be a point itself: a spade goes in at its flange, or it is taken out. */
    const still_point *point = still_diagram_point(d, node->comp);
    if (point != NULL && !still_diagram_add_line(d, &node->above, STILL_LINE_FLAG, point->tag, ""))
        return false;
    if (!still_diagram_add_text(d, &node->above, STILL_LINE_PLAIN,
                                still_id_of(d->plant, node->comp)))
        return false;
    if (!still_diagram_add_text(d, &node->below, STILL_LINE_PLAIN, size)) return false;
    if (point != NULL && !still_diagram_add_text(d, &node->below, STILL_LINE_LOUD,
                                                 still_arena_word(&d->arena, point->to)))
        return false;
    if (!still_diagram_add_text(d, &node->below, STILL_LINE_PLAIN, service) ||
        !still_diagram_add_text(d, &node->below, STILL_LINE_LOUD,
                                still_diagram_proof_words(d, node->comp)))
        return false;
    return add_gauges(d, node);
}

/** The other sheets of a component that has too many pipes for one. */
static bool label_sheets(still_dia *d, still_dnode *node)
{
    enum { NAMED = 3 };
    const still_comp *c = &d->plant->comps[node->comp];
    const still_pages *p = d->pages;
    uint32_t others = 0, first = p->area_of[node->comp];
    for (uint32_t k = 0; k < c->b; k++) {
        /* A pipe back to the component counts once. */
        uint32_t port = c->a + k, across = still_port_across(d->plant, port);
        bool back = across != STILL_NONE && d->plant->ports[across].comp == node->comp;
        others += !still_diagram_on_page(d, port) && !(back && across < port);
    }
    still_buf on = STILL_BUF_INIT;
    /* While pages are cut it is not known how many sheets there will be: many take most room. */
    uint32_t n = p->sheets != NULL ? p->sheets[first] : NAMED + 1;
    still_buf_add(&on, n == 2 ? "on page" : n <= NAMED ? "on pages" : "pages");
    for (uint32_t k = 0, named = 0; k < n && n <= NAMED; k++)
        if (first + k != d->area)
            still_buf_printf(&on, "%s %u", named++ > 0 ? "," : "",
                             still_pages_of_area(p, first + k));
    if (n > NAMED)
        still_buf_printf(&on, " %u to %u", still_pages_of_area(p, first),
                         still_pages_of_area(p, first + n - 1));
    const char *kept = on.failed ? NULL : still_arena_str(&d->arena, on.text);
    still_buf_clear(&on);
    return still_diagram_add_text(
               d, &node->above, STILL_LINE_LOUD,
               still_arena_printf(&d->arena, "%u more pipe%s", others, others == 1 ? "" : "s")) &&
           still_diagram_add_text(d, &node->above, STILL_LINE_PLAIN, kept);
}

/** A pipe that is cut says where it goes on: both pages say so of each other. */
static bool label_cut(still_dia *d, still_dnode *node)
{
    if (d->plant->comps[node->comp].cls != STILL_CLASS_SPOOL) return label_sheets(d, node);
    uint32_t far = still_diagram_cut_to(d, node->comp);
    const char *lines[3] = {
        still_id_of(d->plant, node->comp),
        still_arena_printf(&d->arena, "to %s", still_id_of(d->plant, d->plant->ports[far].comp)),
        still_arena_printf(&d->arena, "page %u",
                           still_pages_of_area(d->pages, still_pages_at_port(d->pages, far)))};
    for (int i = 0; i < 3; i++)
        if (!still_diagram_add_text(d, &node->above, STILL_LINE_PLAIN, lines[i])) return false;
    return still_diagram_cover_lines(d, node);
}

/** Where a pipe goes on on another sheet of paper: both say so of each other. Until it is known how
 *  many there are, room is kept for a number of two digits. */
static bool label_reference(still_dia *d, still_dnode *node)
{
    const still_plant *p = d->plant;
    const still_comp *s = &p->comps[node->comp];
    uint32_t a = p->ports[s->a].comp, b = p->ports[s->b].comp;
    bool outward = (d->mark[a] & STILL_MARK_SHOW) != 0;
    uint32_t far = outward ? b : a, on = d->numbered ? d->leaf_of[far] + 1 : 88;
    bool named = !still_diagram_owns(d, node->comp);
    node->beside = true;
    return still_diagram_add_line(
               d, &node->above, STILL_LINE_PLAIN, 0,
               outward
                   ? still_arena_printf(&d->arena, "to %s%s", still_id_of(p, far), named ? "" : ",")
                   : still_arena_printf(&d->arena, "from %s%s", still_id_of(p, far),
                                        named ? "" : ",")) &&
           still_diagram_add_line(d, &node->above, STILL_LINE_LOUD, 0,
                                  still_arena_printf(&d->arena, "%s%ssheet %u",
                                                     named ? still_id_of(p, node->comp) : "",
                                                     named ? ", " : "", on));
}

/** A torn end says what comes next, or how many lines there are; and warns of ports that lead to
 *  nothing. */
static bool label_torn(still_dia *d, still_dnode *node)
{
    enum { NAMED = 3 };
    const uint8_t drawn = STILL_MARK_SHOW | STILL_MARK_ELSEWHERE;
    const still_plant *p = d->plant;
    const still_comp *c = &p->comps[node->comp];
    uint32_t on = 0, open = 0, next[NAMED] = {0};
    for (uint32_t k = 0; k < c->b; k++) {
        uint32_t across = still_port_across(p, c->a + k);
        open += across == STILL_NONE;
        if (across == STILL_NONE || (d->mark[p->ports[across].comp] & drawn)) continue;
        if (on < NAMED) next[on] = p->ports[across].comp;
        on++;
    }
    bool near =
        (d->mark[node->comp] & (STILL_MARK_INSIDE | STILL_MARK_POINT | STILL_MARK_OBSTACLE)) != 0;
    for (uint32_t i = 0; i < on && on <= NAMED; i++)
        if (!still_diagram_add_text(
                d, &node->above, STILL_LINE_PLAIN,
                still_arena_printf(&d->arena, "to %s", still_id_of(p, next[i]))))
            return false;
    if (on > NAMED && !still_diagram_add_text(d, &node->above, STILL_LINE_PLAIN,
                                              still_arena_printf(&d->arena, "to %u others", on)))
        return false;
    if (open == 0 || !near || c->cls == STILL_CLASS_CAP) return true;
    return still_diagram_add_text(d, &node->below, STILL_LINE_WARN,
                                  open == 1 ? WORD("open end, live") : WORD("open ends, live"));
}

double still_diagram_line_width(const still_dline *line)
{
    switch (line->style) {
    case STILL_LINE_PLAIN: return still_text_width(line->text, STILL_TYPE, false);
    case STILL_LINE_ID: return still_text_width(line->text, STILL_TYPE_ID, true);
    case STILL_LINE_WORK: return still_text_width(line->text, STILL_TYPE_WORK, true);
    case STILL_LINE_WARN: return 24.0 + still_text_width(line->text, STILL_TYPE, true);
    case STILL_LINE_COVER: return still_diagram_cover_width(line->text);
    case STILL_LINE_FLAG:
    case STILL_LINE_GAP:
    case STILL_LINE_MILD:
        return still_diagram_flag_width(line->tag) +
               (line->text[0] != '\0' ? 4.0 + still_text_width(line->text, STILL_TYPE, true) : 0.0);
    case STILL_LINE_LOUD: break;
    }
    return still_text_width(line->text, STILL_TYPE, true);
}

static void measure(const still_dline *line, double *width, double *height)
{
    for (*height = 0.0; line != NULL; line = line->next) {
        double w = still_diagram_line_width(line);
        if (w > *width) *width = w;
        *height += line->height;
    }
}

/** How far the symbol reaches below the pipe: a valve stands on it, and its label can come near. */
static double low_of(const still_dia *d, const still_dnode *node)
{
    const still_comp *c = &d->plant->comps[node->comp];
    bool stands = node->kind == STILL_D_COMP && c->cls == STILL_CLASS_VALVE && d->cov == NULL &&
                  !still_diagram_spreads(d->plant, node->comp) &&
                  !(d->mark[node->comp] & STILL_MARK_OBSTACLE);
    if (!stands) return node->symbol_h / 2.0;
    return c->kind == STILL_KIND_ANGLE || c->kind == STILL_KIND_RELIEF ? 25.0 : 15.0;
}

/** Room of symbol and label. */
static void size_up(const still_dia *d, still_dnode *node)
{
    uint32_t busy = node->n_left > node->n_right ? node->n_left : node->n_right;
    uint8_t mark = d->mark[node->comp];
    bool band = (mark & (STILL_MARK_CLOSED_IN | STILL_MARK_OBSTACLE)) != 0 ||
                (d->cov != NULL && d->part[node->comp] != STILL_NONE);
    if (node->kind == STILL_D_COMP) {
        still_diagram_symbol_size(d->plant, node->comp, busy, &node->symbol_w, &node->symbol_h);
        if (band && node->symbol_h < 26.0) node->symbol_h = 26.0;
    } else {
        node->symbol_w = node->kind == STILL_D_SPOOL && !d->tight ? 40.0 : 20.0;
        node->symbol_h = still_diagram_is_reference(d, node) ? 20.0
                         : node->kind == STILL_D_TORN        ? 28.0
                         : busy == 2                         ? 44.0
                         : band                              ? 24.0
                                                             : 16.0;
    }
    double lanes = still_diagram_proof_room(d, node->comp);
    if (node->kind != STILL_D_TORN) node->symbol_h = fmax(node->symbol_h, 2.0 * lanes);
    node->low = low_of(d, node);
    double above, below, width = node->symbol_w;
    measure(node->above, &width, &above);
    measure(node->below, &width, &below);
    bool framed = node->kind == STILL_D_COMP && (mark & STILL_MARK_TARGET) && !d->bare;
    if (node->beside) {
        node->width = width + 30.0;
        node->half = fmax(12.0, above / 2.0 + 3.0);
        return;
    }
    if (d->tight)
        node->width = width + (framed ? 36.0 : node->tag != 0 ? 32.0 : 6.0);
    else
        node->width = width + (framed ? 44.0 : node->tag != 0 ? 42.0 : 12.0);
    node->half =
        fmax(node->symbol_h / 2.0 + 4.0 + above, node->low + 3.0 + below) + (framed ? 22.0 : 6.0);
}

/** The warning stands once in each closed-in segment: at its first spool drawn, else at its first
 *  component; the hatching shows how far it reaches. */
static bool speaks_for_closed_in(const still_dia *d, uint32_t comp)
{
    if (!(d->mark[comp] & STILL_MARK_CLOSED_IN)) return false;
    for (size_t i = 0; i < d->r->n_closed_in; i++) {
        const still_closed_in *segment = &d->r->closed_in[i];
        uint32_t first = STILL_NONE;
        bool spool = false;
        for (size_t k = 0; k < segment->ids.n && segment->state[0] == 'u'; k++) {
            uint32_t c = still_diagram_find(d, segment->ids.items[k]);
            if (c == STILL_NONE || d->node_of[c] == STILL_NONE) continue;
            bool is_spool = d->plant->comps[c].cls == STILL_CLASS_SPOOL;
            if (first == STILL_NONE || (is_spool && !spool)) first = c;
            spool = spool || is_spool;
        }
        if (first == comp) return true;
    }
    return false;
}

still_status still_diagram_label(still_dia *d, still_dnode *node)
{
    bool done = node->kind == STILL_D_COMP            ? label_comp(d, node)
                : node->kind == STILL_D_SPOOL         ? label_spool(d, node)
                : d->pages != NULL                    ? label_cut(d, node)
                : still_diagram_is_reference(d, node) ? label_reference(d, node)
                                                      : label_torn(d, node);
    if (!done) return STILL_E_NOMEM;
    if (node->kind != STILL_D_TORN && speaks_for_closed_in(d, node->comp) &&
        !still_diagram_add_text(d, &node->below, STILL_LINE_WARN,
                                WORD("liquid shut in, no relief")))
        return STILL_E_NOMEM;
    for (size_t i = 0; i < d->r->obstacle.n_would_help && !d->r->feasible; i++)
        if (node->kind != STILL_D_TORN &&
            strcmp(d->r->obstacle.would_help[i].id, still_id_of(d->plant, node->comp)) == 0 &&
            !still_diagram_add_text(d, &node->below, STILL_LINE_LOUD,
                                    d->plant->comps[node->comp].cls == STILL_CLASS_LIMIT
                                        ? "blind? look"
                                        : "would help here"))
            return STILL_E_NOMEM;
    if (d->cov != NULL && node->kind != STILL_D_TORN && !still_diagram_cover_lines(d, node))
        return STILL_E_NOMEM;
    size_up(d, node);
    return STILL_OK;
}
