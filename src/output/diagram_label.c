/* What is written at a node, and the room that it takes. */
#include "diagram.h"

#include "glyph.h"
#include "svg.h"

#include <string.h>

/** Longest piece of an id, and of other text, in one line of a label, in characters. Short ones
 *  keep the picture narrow enough for its paper. */
enum { ID_PIECE = 20, PIECE = 15 };

double still_diagram_line_height(const still_dline *line)
{
    switch (line->style) {
    case STILL_LINE_FLAG: return 24.0;
    case STILL_LINE_WORK: return 25.0;
    case STILL_LINE_ID:
    case STILL_LINE_PLAIN:
    case STILL_LINE_LOUD:
    case STILL_LINE_WARN: break;
    }
    return 16.0;
}

/** Put a line at the end of a list. */
static bool add_line(still_dia *d, still_dline **list, still_dstyle style, uint32_t tag,
                     const char *text)
{
    if (text == NULL) return false;
    still_dline *line = STILL_ARENA_NEW(&d->arena, 1, still_dline);
    if (line == NULL) return false;
    *line = (still_dline){text, style, tag, NULL};
    while (*list != NULL) list = &(*list)->next;
    *list = line;
    return true;
}

/** Put a text that may be long: in pieces, broken at a space where there is one. */
static bool add_text(still_dia *d, still_dline **list, still_dstyle style, const char *text)
{
    /* NULL: memory ran out where the text was made. */
    if (text == NULL) return false;
    while (*text != '\0') {
        size_t bytes = 0, at_space = 0, most = style == STILL_LINE_ID ? ID_PIECE : PIECE;
        for (size_t n = 0; n < most && text[bytes] != '\0'; n++) {
            uint32_t cp;
            if (text[bytes] == ' ') at_space = bytes;
            bool joint = style == STILL_LINE_ID && strchr("-_./:", text[bytes]) != NULL;
            bytes += still_glyph_next(text + bytes, &cp);
            if (joint && n > 0) at_space = bytes;
        }
        if (text[bytes] != '\0' && text[bytes] != ' ' && at_space > 0) bytes = at_space;
        const char *piece = still_arena_printf(&d->arena, "%.*s", (int)bytes, text);
        if (!add_line(d, list, style, 0, piece)) return false;
        text += bytes;
        while (*text == ' ') text++;
        if (style == STILL_LINE_WARN) style = STILL_LINE_LOUD;
    }
    return true;
}

const still_point *still_diagram_point(const still_dia *d, uint32_t comp)
{
    const char *id = still_id_of(d->plant, comp);
    for (size_t i = 0; i < d->r->n_points; i++)
        if (strcmp(d->r->points[i].id, id) == 0) return &d->r->points[i];
    return NULL;
}

const char *still_diagram_position(const still_dia *d, uint32_t comp)
{
    const still_comp *c = &d->plant->comps[comp];
    const char *id = still_id_of(d->plant, comp);
    for (size_t i = 0; i < d->r->n_end; i++)
        if (strcmp(d->r->end[i].id, id) == 0) return d->r->end[i].position;
    if (c->position != STILL_POSITION_NOT_SAID)
        return still_word(STILL_VOC_still_position, c->position);
    if (c->sealed != STILL_SEALED_NOT_SAID) return still_word(STILL_VOC_still_sealed, c->sealed);
    const char *named = still_comp_t(d->plant, comp, STILL_T_POSITION);
    if (named[0] != '\0') return named;
    bool has = (c->cls == STILL_CLASS_VALVE && still_kind_stops(c->kind)) ||
               c->cls == STILL_CLASS_BLIND || c->kind == STILL_KIND_THREE_WAY;
    return has ? "unknown" : "";
}

/** Letters for the position in normal running (F-SYM-5, F-TAG-1), "" where none applies. */
static const char *letters(const still_comp *c)
{
    if (c->cls != STILL_CLASS_VALVE) return "";
    if (c->sealed == STILL_SEALED_OPEN) return "CSO";
    if (c->sealed == STILL_SEALED_CLOSED) return "CSC";
    unsigned normal = c->normal != STILL_POSITION_NOT_SAID ? c->normal : c->position;
    if (normal == STILL_POSITION_OPEN) return "NO";
    if (normal == STILL_POSITION_CLOSED) return "NC";
    return normal == STILL_POSITION_THROTTLED ? "NT" : "";
}

/** What it is, for people. */
static const char *kind_of(still_dia *d, uint32_t comp)
{
    const still_comp *c = &d->plant->comps[comp];
    const char *size = still_comp_size(d->plant, comp);
    const char *what = still_word(STILL_VOC_still_kind, c->kind), *cls = "";
    if (c->cls == STILL_CLASS_VESSEL || c->cls == STILL_CLASS_EXCHANGER) {
        what = still_comp_t(d->plant, comp, STILL_T_KIND);
        if (what[0] == '\0') what = still_word(STILL_VOC_still_class, c->cls);
    } else if (c->cls == STILL_CLASS_LIMIT) {
        what = c->dead == STILL_YESNO_YES ? "drawing ends, dead" : "drawing ends, live";
    } else if (what[0] == '\0') {
        what = still_word(STILL_VOC_still_class, c->cls);
    } else if (c->cls == STILL_CLASS_VALVE && c->kind != STILL_KIND_RUPTURE_DISC) {
        cls = " valve";
    }
    const char *after = "";
    if (c->cls == STILL_CLASS_OUTLET && c->fitted == STILL_FITTED_CAP) after = ", cap fitted";
    if (c->cls == STILL_CLASS_OUTLET && c->fitted == STILL_FITTED_PLUG) after = ", plug fitted";
    /* A dot where pipes meet says what it is. */
    if (c->kind == STILL_KIND_TEE || c->kind == STILL_KIND_NODE) what = "";
    return still_arena_printf(&d->arena, "%s%s%s%s%s", what, cls,
                              size[0] != '\0' && what[0] != '\0' ? " " : "", size, after);
}

static bool add_position(still_dia *d, still_dnode *node)
{
    const still_comp *c = &d->plant->comps[node->comp];
    const still_point *point = still_diagram_point(d, node->comp);
    const char *normal = letters(c);
    if (point != NULL) {
        const char *held = strcmp(point->hold, "lock") == 0  ? "locked"
                           : strcmp(point->hold, "tag") == 0 ? "tagged"
                                                             : point->hold;
        if (!add_text(d, &node->below, STILL_LINE_LOUD,
                      still_arena_printf(&d->arena, "%s, %s", point->to, held)))
            return false;
        if (normal[0] == '\0') return true;
        return add_text(d, &node->below, STILL_LINE_PLAIN,
                        still_arena_printf(&d->arena, "%s, found %s", normal, point->from));
    }
    const char *now = still_diagram_position(d, node->comp);
    if (now[0] == '\0' && normal[0] == '\0') return true;
    return add_text(d, &node->below, STILL_LINE_PLAIN,
                    still_arena_printf(&d->arena, "%s%s%s", normal,
                                       normal[0] != '\0' && now[0] != '\0' ? ", " : "", now));
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
            if (!add_line(d, &node->below, STILL_LINE_FLAG, point->tag, point->to)) return false;
            if (!add_text(d, &node->below, STILL_LINE_LOUD, id)) return false;
        }
    }
    return true;
}

static bool add_gauges(still_dia *d, still_dnode *node)
{
    const still_plant *p = d->plant;
    for (uint32_t g = 0; g < p->n_gauges; g++) {
        if (p->gauges[g].on != node->comp) continue;
        if (!add_text(d, &node->below, STILL_LINE_PLAIN,
                      still_arena_printf(&d->arena, "gauge %s", still_text(p, p->gauges[g].id))))
            return false;
    }
    return true;
}

static bool label_comp(still_dia *d, still_dnode *node)
{
    const still_point *point = still_diagram_point(d, node->comp);
    const char *id = still_id_of(d->plant, node->comp);
    if ((d->mark[node->comp] & STILL_MARK_TARGET) &&
        !add_line(d, &node->above, STILL_LINE_WORK, 0, "WORK"))
        return false;
    if (point != NULL) {
        node->tag = point->tag;
        if (!add_line(d, &node->above, STILL_LINE_FLAG, point->tag, "")) return false;
    }
    if (!add_text(d, &node->above, STILL_LINE_ID, id)) return false;
    const char *what = kind_of(d, node->comp);
    if (what == NULL || !add_text(d, &node->below, STILL_LINE_PLAIN, what)) return false;
    if (node->kind == STILL_D_COMP && !(add_position(d, node) && add_feeds(d, node))) return false;
    return add_gauges(d, node);
}

static bool label_spool(still_dia *d, still_dnode *node)
{
    const char *size = still_comp_size(d->plant, node->comp);
    if (!add_text(d, &node->above, STILL_LINE_PLAIN, still_id_of(d->plant, node->comp)))
        return false;
    if (!add_text(d, &node->below, STILL_LINE_PLAIN, size)) return false;
    return add_gauges(d, node);
}

static bool label_torn(still_dia *d, still_dnode *node, size_t goes_on, size_t open_ports)
{
    /* For a single line the sign says enough. */
    if (goes_on > 1 && !add_text(d, &node->above, STILL_LINE_PLAIN,
                                 still_arena_printf(&d->arena, "%zu lines", goes_on)))
        return false;
    if (open_ports == 0) return true;
    return add_text(d, &node->below, STILL_LINE_WARN,
                    still_arena_printf(&d->arena, "open end%s, live", open_ports == 1 ? "" : "s"));
}

static void measure(const still_dline *line, double *width, double *height)
{
    for (*height = 0.0; line != NULL; line = line->next) {
        double size = line->style == STILL_LINE_ID ? STILL_TYPE_ID : STILL_TYPE;
        double w = still_svg_width(line->text, line->style == STILL_LINE_WORK ? 18.0 : size);
        if (line->style == STILL_LINE_PLAIN) w *= 0.93;
        if (line->style == STILL_LINE_FLAG) w += 42.0;
        if (line->style == STILL_LINE_WARN) w += 30.0;
        if (w > *width) *width = w;
        *height += still_diagram_line_height(line);
    }
}

still_status still_diagram_label(still_dia *d, still_dnode *node, size_t goes_on, size_t open_ports)
{
    bool done = node->kind == STILL_D_COMP    ? label_comp(d, node)
                : node->kind == STILL_D_SPOOL ? label_spool(d, node)
                                              : label_torn(d, node, goes_on, open_ports);
    if (!done) return STILL_E_NOMEM;
    uint8_t mark = d->mark[node->comp];
    if (node->kind != STILL_D_TORN && (mark & STILL_MARK_CLOSED_IN) &&
        !add_text(d, &node->below, STILL_LINE_WARN, "liquid shut in, no relief"))
        return STILL_E_NOMEM;
    for (size_t i = 0; i < d->r->obstacle.n_would_help && !d->r->feasible; i++)
        if (node->kind != STILL_D_TORN &&
            strcmp(d->r->obstacle.would_help[i].id, still_id_of(d->plant, node->comp)) == 0 &&
            !add_text(d, &node->below, STILL_LINE_LOUD, "would help here"))
            return STILL_E_NOMEM;
    uint32_t busy = node->n_left > node->n_right ? node->n_left : node->n_right;
    if (node->kind == STILL_D_COMP) {
        still_diagram_symbol_size(d->plant, node->comp, busy, &node->symbol_w, &node->symbol_h);
    } else {
        node->symbol_w = node->kind == STILL_D_SPOOL ? 40.0 : 20.0;
        node->symbol_h = node->kind == STILL_D_TORN ? 28.0 : busy == 2 ? 44.0 : 16.0;
    }
    double above, below, width = node->symbol_w;
    measure(node->above, &width, &above);
    measure(node->below, &width, &below);
    bool framed = node->kind == STILL_D_COMP && (mark & STILL_MARK_TARGET);
    node->width = width + (framed ? 44.0 : node->tag != 0 ? 40.0 : 12.0);
    node->half = node->symbol_h / 2.0 + (above > below ? above : below) + (framed ? 22.0 : 8.0);
    return STILL_OK;
}
