/* The joints of a drawing.
 * Problem: which parts are joined, from the order of the items in a segment and the two ends that
 * its connection names; geometry is decoration.
 * Method: neighbours in the chain are joined; the first is joined to the connection's FromID and
 * the last to its ToID, unless that end is an item of the chain itself: then the run ends there.
 * When FromID is the last of several items the chain stands reversed. Node numbers are not used
 * to tell the sides of two-port parts: exporters mean the inner or the outer side.
 * Why it is safe: an end that cannot be followed joins nothing here, and the port that is missing a
 * joint for it gets a limit under pressure later (dexpi_close.c). Cost: linear, but for a branch on
 * a segment, which is joined to all items of it. */
#include "dexpi.h"

#include "alloc.h"

#include <string.h>

typedef struct run {
    uint32_t from, to; /* items, or STILL_DX_NONE */
    const char *node_from, *node_to;
    bool own_from, own_to; /* the end is an item of the chain itself */
    uint32_t line;
} run;

static const still_xml *connection_of(const still_xml *segment)
{
    for (const still_xml *c = segment->first; c != NULL; c = c->next)
        if (still_xml_is(c, "Connection")) return c;
    return NULL;
}

/* The item of this chain with that id. */
static uint32_t own_item(const still_dx *dx, const still_dx_segment *s, const char *raw)
{
    for (uint32_t k = 0; k < s->n_chain && raw[0] != '\0'; k++) {
        uint32_t item = dx->chain[s->chain + k];
        if (strcmp(dx->items[item].raw, raw) == 0) return item;
    }
    return STILL_DX_NONE;
}

/* A branch somewhere on another segment: one more part, joined to every item of that segment. */
static uint32_t branch_on(still_dx *dx, uint32_t on, uint32_t line)
{
    const still_dx_segment *s = &dx->segments[on];
    still_dx_item it = {.kind = STILL_DX_BRANCH,
                        .cls = "",
                        .raw = "",
                        .note = "branch on a segment; the drawing does not say where",
                        .tag = "",
                        .line_no = "",
                        .number = "",
                        .fails = "",
                        .ports = STILL_DX_ANY,
                        .line = line,
                        .owner = STILL_DX_NONE};
    it.id = still_dx_id(dx, still_dx_printf(dx, "%s/branch", s->id), true);
    uint32_t branch = still_dx_add(dx, &it);
    if (dx->nomem) return STILL_DX_NONE;
    still_dx_lose(dx, STILL_DX_LOSS_BRANCH, line, it.id, "on %s", s->id);
    for (uint32_t k = 0; k < s->n_chain; k++)
        still_dx_join(dx, dx->chain[s->chain + k], "", branch, "", on);
    const still_xml *c = connection_of(s->at);
    static const char *const ends[] = {"FromID", "ToID"};
    for (int k = 0; k < 2 && c != NULL && s->n_chain == 0; k++) {
        uint32_t end = still_dx_find(dx, still_xml_get(c, ends[k]));
        if (end != STILL_DX_NONE) still_dx_join(dx, end, "", branch, "", on);
    }
    return branch;
}

/* Follow one end of a connection. */
static uint32_t end_of(still_dx *dx, const still_dx_segment *s, const still_xml *c,
                       const char *name, bool *own)
{
    const char *raw = c != NULL ? still_xml_get(c, name) : "";
    uint32_t item = own_item(dx, s, raw);
    *own = item != STILL_DX_NONE;
    if (*own || raw[0] == '\0') return item;
    item = still_dx_find(dx, raw);
    if (item != STILL_DX_NONE) return item;
    for (size_t i = 0; i < dx->n_segments; i++)
        if (&dx->segments[i] != s && strcmp(still_xml_get(dx->segments[i].at, "ID"), raw) == 0)
            return branch_on(dx, (uint32_t)i, c->line);
    still_dx_lose(dx, STILL_DX_LOSS_NO_END, c->line, s->id, "%s names \"%s\"", name, raw);
    return STILL_DX_NONE;
}

static void open_pipe(still_dx *dx, uint32_t at, const char *node, uint32_t segment, uint32_t line)
{
    still_dx_item it = {.kind = STILL_DX_LIMIT,
                        .cls = "",
                        .raw = "",
                        .note = "pipe without a second end in the drawing",
                        .tag = "",
                        .line_no = "",
                        .number = "",
                        .fails = "",
                        .ports = 1,
                        .place = dx->items[at].at,
                        .line = line,
                        .owner = STILL_DX_NONE};
    it.id = still_dx_id(dx, still_dx_printf(dx, "%s/end", dx->segments[segment].id), true);
    uint32_t limit = still_dx_add(dx, &it);
    if (dx->nomem) return;
    still_dx_join(dx, at, node, limit, "", segment);
    still_dx_lose(dx, STILL_DX_LOSS_OPEN_PIPE, line, dx->items[at].id, "%s leads nowhere",
                  dx->segments[segment].id);
}

/* Items with as many ports as there are joints do not show a missing end: it gets its own limit. */
static bool shows_open(const still_dx *dx, uint32_t item)
{
    return dx->items[item].ports != STILL_DX_ANY;
}

static void join_chain(still_dx *dx, uint32_t segment, const run *r)
{
    const still_dx_segment *s = &dx->segments[segment];
    uint32_t n = s->n_chain, first = s->chain;
    bool reversed = n > 1 && r->own_from && r->from == dx->chain[first + n - 1];
    uint32_t last = STILL_DX_NONE;
    const char *node = "";
    for (uint32_t k = 0; k < n; k++) {
        uint32_t item = dx->chain[first + (reversed ? n - 1 - k : k)];
        if (k == 0 && !r->own_from && r->from != STILL_DX_NONE)
            still_dx_join(dx, r->from, r->node_from, item, "", segment);
        else if (k == 0 && r->from == STILL_DX_NONE && !shows_open(dx, item))
            open_pipe(dx, item, "", segment, r->line);
        if (k > 0) still_dx_join(dx, last, node, item, "", segment);
        last = item;
    }
    if (!r->own_to && r->to != STILL_DX_NONE)
        still_dx_join(dx, last, "", r->to, r->node_to, segment);
    else if (r->to == STILL_DX_NONE && !shows_open(dx, last))
        open_pipe(dx, last, "", segment, r->line);
}

/* A second connection in a segment: its ends are joined to all of the segment. */
static void join_further(still_dx *dx, uint32_t segment, const still_xml *c)
{
    static const char *const names[] = {"FromID", "ToID"};
    still_dx_segment s = dx->segments[segment];
    uint32_t branch = branch_on(dx, segment, c->line);
    for (int k = 0; k < 2 && !dx->nomem; k++) {
        bool own;
        uint32_t end = end_of(dx, &s, c, names[k], &own);
        if (end != STILL_DX_NONE && !own) still_dx_join(dx, end, "", branch, "", segment);
    }
}

static void join_segment(still_dx *dx, uint32_t segment)
{
    still_dx_segment s = dx->segments[segment];
    const still_xml *c = connection_of(s.at);
    run r = {.line = c != NULL ? c->line : s.at->line};
    r.from = end_of(dx, &s, c, "FromID", &r.own_from);
    r.to = end_of(dx, &s, c, "ToID", &r.own_to);
    r.node_from = c != NULL ? still_xml_get(c, "FromNode") : "";
    r.node_to = c != NULL ? still_xml_get(c, "ToNode") : "";
    if (dx->nomem) return;
    if (s.n_chain > 0)
        join_chain(dx, segment, &r);
    else if (r.from != STILL_DX_NONE && r.to != STILL_DX_NONE)
        still_dx_join(dx, r.from, r.node_from, r.to, r.node_to, segment);
    else if (r.from != STILL_DX_NONE || r.to != STILL_DX_NONE)
        open_pipe(dx, r.from != STILL_DX_NONE ? r.from : r.to,
                  r.from != STILL_DX_NONE ? r.node_from : r.node_to, segment, r.line);
    else
        still_dx_lose(dx, STILL_DX_LOSS_VOID, s.at->line, s.id, "nothing is joined by it");
    for (const still_xml *k = c != NULL ? c->next : NULL; k != NULL && !dx->nomem; k = k->next)
        if (still_xml_is(k, "Connection")) join_further(dx, segment, k);
}

void still_dx_joints(still_dx *dx)
{
    size_t n = dx->n_segments;
    for (size_t i = 0; i < n && !dx->nomem; i++) join_segment(dx, (uint32_t)i);
}
