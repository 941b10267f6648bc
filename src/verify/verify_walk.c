/* Walks over the plant's ports.
 *
 * Problem: what is joined to what, under different rules of joining. Method: breadth-first search
 * on ports; a spool is an edge between its two ports, a component joins its own as the rule says.
 * A component that joins all of its ports is opened once, so that a walk is linear in what it
 * meets even where a header has thousands of ports. */
#include "verify_rules.h"
#include "verify_walk.h"

#include "diags.h"
#include "strbuf.h"

#include <stdarg.h>
#include <stdio.h>
#include <string.h>

enum { TRAIL_ENDS = 10 };

void still_verify_against(still_verify *v, const char *rule, const char *id, const char *format,
                          ...)
{
    char text[960];
    v->agrees = false;
    if (v->diags == NULL) return;
    va_list args;
    va_start(args, format);
    vsnprintf(text, sizeof text, format, args);
    va_end(args);
    still_diags_add(v->diags, STILL_SEV_ERROR, rule, "", 0, 0, id, NULL, "%s", text);
}

void *still_verify_room(still_verify *v, size_t n, size_t size)
{
    void *p = still_arena_alloc(&v->arena, n, size);
    if (p == NULL) v->nomem = true;
    return p;
}

bool still_verify_walk_init(still_verify *v, still_verify_walk *w)
{
    const still_plant *p = v->plant;
    w->n = 0;
    w->prev = still_verify_room(v, p->n_ports, sizeof *w->prev);
    w->met = still_verify_room(v, p->n_ports, sizeof *w->met);
    w->comp_done = still_verify_room(v, p->n_comps, 1);
    w->side_done = still_verify_room(v, p->n_sides, 1);
    if (v->nomem) return false;
    for (uint32_t i = 0; i < p->n_ports; i++) w->prev[i] = STILL_NONE;
    return true;
}

void still_verify_walk_reset(const still_verify *v, still_verify_walk *w)
{
    for (uint32_t i = 0; i < w->n; i++) {
        uint32_t side = still_port_side(v->plant, w->met[i]);
        w->prev[w->met[i]] = STILL_NONE;
        w->comp_done[v->plant->ports[w->met[i]].comp] = 0;
        if (side != STILL_NONE) w->side_done[side] = 0;
    }
    w->n = 0;
}

static void meet(still_verify_walk *w, uint32_t port, uint32_t from)
{
    if (w->prev[port] != STILL_NONE) return;
    w->prev[port] = from;
    w->met[w->n++] = port;
}

void still_verify_walk_start(still_verify_walk *w, uint32_t port)
{
    meet(w, port, port);
}

void still_verify_walk_start_comp(const still_verify *v, still_verify_walk *w, uint32_t comp)
{
    const still_comp *c = &v->plant->comps[comp];
    if (c->cls == STILL_CLASS_SPOOL) {
        meet(w, c->a, c->a);
        meet(w, c->b, c->b);
        return;
    }
    for (uint32_t i = 0; i < c->b; i++) meet(w, c->a + i, c->a + i);
}

static void pass_within(const still_verify *v, still_verify_walk *w, still_verify_join join,
                        uint32_t port)
{
    const still_port *at = &v->plant->ports[port];
    const still_comp *c = &v->plant->comps[at->comp];
    if (join == STILL_VERIFY_PART || w->comp_done[at->comp]) return;
    bool sides = join == STILL_VERIFY_SIDES;
    uint32_t side = still_port_side(v->plant, port);
    if (sides && (side == STILL_NONE || w->side_done[side])) return;
    if (join == STILL_VERIFY_SET) {
        for (uint32_t i = 0; i < c->b; i++)
            if (!still_verify_parted(v, at->comp, port, c->a + i)) meet(w, c->a + i, port);
        return;
    }
    for (uint32_t i = 0; i < c->b; i++)
        if (!sides || still_port_side(v->plant, c->a + i) == side) meet(w, c->a + i, port);
    if (sides)
        w->side_done[side] = 1;
    else
        w->comp_done[at->comp] = 1;
}

void still_verify_walk_run(const still_verify *v, still_verify_walk *w, still_verify_rule rule,
                           const void *with)
{
    for (uint32_t i = 0; i < w->n; i++) {
        uint32_t port = w->met[i], spool = v->plant->ports[port].spool;
        if (spool != STILL_NONE && rule(v, with, spool, port) == STILL_VERIFY_ALL)
            meet(w, still_port_across(v->plant, port), port);
        pass_within(v, w, rule(v, with, v->plant->ports[port].comp, port), port);
    }
}

/* Ids joined by " > "; the middle of a long list is left out. */
static void trail_add(still_buf *buf, size_t i, size_t n, const char *id)
{
    if (n > 2 * TRAIL_ENDS && i >= TRAIL_ENDS && i < n - TRAIL_ENDS) {
        if (i == TRAIL_ENDS) still_buf_printf(buf, " > (%zu more)", n - 2 * (size_t)TRAIL_ENDS);
        return;
    }
    if (i > 0) still_buf_add(buf, " > ");
    still_buf_add(buf, id);
}

static const char *trail_end(still_verify *v, still_buf *buf)
{
    const char *text = buf->failed ? NULL : still_arena_str(&v->arena, buf->text ? buf->text : "");
    still_buf_clear(buf);
    if (text == NULL) v->nomem = true;
    return text == NULL ? "" : text;
}

/* What lies between two ports that a walk went between: a spool, or nothing new (one component). */
static bool over_spool(const still_verify *v, uint32_t port, uint32_t before)
{
    return v->plant->ports[port].spool != STILL_NONE && before != port &&
           still_port_across(v->plant, port) == before &&
           v->plant->ports[port].comp != v->plant->ports[before].comp;
}

const char *still_verify_trail(still_verify *v, const still_verify_walk *w, uint32_t port)
{
    const still_plant *p = v->plant;
    size_t n = 1, i = 1;
    for (uint32_t at = port; w->prev[at] != at; at = w->prev[at])
        if (over_spool(v, at, w->prev[at])) n += 2;
    still_buf buf = STILL_BUF_INIT;
    trail_add(&buf, 0, n, still_id_of(p, p->ports[port].comp));
    for (uint32_t at = port; w->prev[at] != at; at = w->prev[at]) {
        uint32_t before = w->prev[at];
        if (!over_spool(v, at, before)) continue;
        trail_add(&buf, i++, n, still_id_of(p, p->ports[at].spool));
        trail_add(&buf, i++, n, still_id_of(p, p->ports[before].comp));
    }
    return trail_end(v, &buf);
}

const char *still_verify_list(still_verify *v, still_strings ids)
{
    still_buf buf = STILL_BUF_INIT;
    for (size_t i = 0; i < ids.n; i++) trail_add(&buf, i, ids.n, ids.items[i]);
    return trail_end(v, &buf);
}

bool still_verify_shuts(const still_verify *v, uint32_t comp)
{
    if (!v->barrier[comp]) return false;
    if (!v->positive[comp] || v->level[comp] != 1 || !still_verify_asks_positive(v)) return true;
    return v->plant->comps[comp].cls == STILL_CLASS_BLIND &&
           still_position_now(v->plant, v->state, comp) == STILL_POSITION_CLOSED;
}
