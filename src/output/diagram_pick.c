/* Which components are drawn: the work, all inside, the points, and beyond each point the plant up
 * to the next device; where there is no plan, the path that nothing can close. */
#include "diagram.h"

#include "alloc.h"

#include <limits.h>
#include <string.h>

/** Fittings that are walked through beyond one point before the picture breaks off, and branches
 *  of one of them beyond which it is a header. */
enum { MOST_FITTINGS = 12, MOST_BRANCHES = 4 };

uint32_t still_diagram_find(const still_dia *d, const char *id)
{
    return still_plant_find(d->plant, id).v;
}

static bool is_spool(const still_dia *d, uint32_t c)
{
    return d->plant->comps[c].cls == STILL_CLASS_SPOOL;
}

/** Mark as drawn; false when the page is full. */
static bool show(still_dia *d, uint32_t c)
{
    if (d->mark[c] & STILL_MARK_SHOW) return true;
    if (d->n_shown >= (d->bare ? STILL_DIAGRAM_MOST_BARE : STILL_DIAGRAM_MOST)) {
        d->left_out++;
        return false;
    }
    d->mark[c] |= STILL_MARK_SHOW;
    d->n_shown++;
    return true;
}

static void mark_all(still_dia *d, still_strings ids, uint8_t mark)
{
    for (size_t i = 0; i < ids.n; i++) {
        uint32_t c = still_diagram_find(d, ids.items[i]);
        if (c != STILL_NONE) d->mark[c] |= mark;
    }
}

/** Show all that bears a mark of `within` and is joined to the targets through such, nearest
 *  first, so that a page that is too small loses what is furthest away. */
static void spread(still_dia *d, uint8_t within, uint32_t *queue)
{
    const still_plant *p = d->plant;
    size_t n = 0;
    for (size_t i = 0; i < d->r->targets.n; i++) {
        uint32_t t = still_diagram_find(d, d->r->targets.items[i]);
        if (t == STILL_NONE || is_spool(d, t) || (d->mark[t] & STILL_MARK_VISITED)) continue;
        d->mark[t] |= STILL_MARK_VISITED;
        queue[n++] = t;
    }
    for (size_t i = 0; i < n; i++) {
        const still_comp *c = &p->comps[queue[i]];
        show(d, queue[i]);
        for (uint32_t k = 0; k < c->b; k++) {
            uint32_t across = still_port_across(p, c->a + k);
            if (across == STILL_NONE) continue;
            uint32_t next = p->ports[across].comp;
            if (!(d->mark[next] & within) || (d->mark[next] & STILL_MARK_VISITED)) continue;
            d->mark[next] |= STILL_MARK_VISITED;
            queue[n++] = next;
        }
    }
}

/** Show whatever of a list was not reached by the walk. */
static void show_list(still_dia *d, still_strings ids)
{
    for (size_t i = 0; i < ids.n; i++) {
        uint32_t c = still_diagram_find(d, ids.items[i]);
        if (c != STILL_NONE && !is_spool(d, c)) show(d, c);
    }
}

/** Show ends of the plant one spool away: they take no more room than a sign that it goes on. */
static void near_ends(still_dia *d)
{
    const still_plant *p = d->plant;
    for (uint32_t c = 0; c < p->n_comps; c++) {
        unsigned cls = p->comps[c].cls;
        bool end = cls == STILL_CLASS_LIMIT || cls == STILL_CLASS_OUTLET || cls == STILL_CLASS_CAP;
        if (!end || p->comps[c].b != 1) continue;
        uint32_t across = still_port_across(p, p->comps[c].a);
        if (across != STILL_NONE && (d->mark[p->ports[across].comp] & STILL_MARK_SHOW)) show(d, c);
    }
}

/** A header: of its branches beyond a point only the number is told, not what stands in each. */
static bool is_header(const still_dia *d, uint32_t comp)
{
    const still_comp *c = &d->plant->comps[comp];
    uint32_t others = 0;
    for (uint32_t k = 0; k < c->b && c->cls == STILL_CLASS_FITTING; k++) {
        uint32_t across = still_port_across(d->plant, c->a + k);
        others +=
            across != STILL_NONE && !(d->mark[d->plant->ports[across].comp] & STILL_MARK_SHOW);
    }
    return others > MOST_BRANCHES;
}

/** Show what lies beyond a component away from the inside: fittings are walked through. */
static void beyond(still_dia *d, uint32_t start)
{
    const still_plant *p = d->plant;
    uint32_t queue[MOST_FITTINGS + 1], n = 0;
    queue[n++] = start;
    for (uint32_t i = 0; i < n; i++) {
        const still_comp *c = &p->comps[queue[i]];
        if (is_header(d, queue[i])) continue;
        for (uint32_t k = 0; k < c->b; k++) {
            uint32_t across = still_port_across(p, c->a + k);
            if (across == STILL_NONE) continue;
            uint32_t next = p->ports[across].comp;
            if (d->mark[next] & STILL_MARK_SHOW) continue;
            if (!show(d, next)) return;
            if (p->comps[next].cls == STILL_CLASS_FITTING && n <= MOST_FITTINGS) queue[n++] = next;
        }
    }
}

still_status still_diagram_pick(still_dia *d)
{
    const still_record *r = d->r;
    uint32_t n = d->plant->n_comps;
    d->mark = still_arena_alloc(&d->arena, n, sizeof *d->mark);
    uint32_t *queue = still_calloc(n, sizeof *queue);
    if (d->mark == NULL || queue == NULL) {
        still_free(queue);
        return STILL_E_NOMEM;
    }
    mark_all(d, r->targets, STILL_MARK_TARGET);
    mark_all(d, r->inside, STILL_MARK_INSIDE);
    /* What lies between two closed devices is let down only where the grade has it so. */
    bool let_down = strcmp(r->grade_achieved, "positive") == 0 ||
                    strcmp(r->grade_achieved, "double-bleed") == 0;
    for (size_t i = 0; i < r->n_between && let_down; i++)
        mark_all(d, r->between[i].ids, STILL_MARK_INSIDE);
    if (!r->feasible) mark_all(d, r->obstacle.path, STILL_MARK_OBSTACLE);
    for (size_t i = 0; i < r->n_closed_in; i++)
        if (r->closed_in[i].state[0] == 'u') mark_all(d, r->closed_in[i].ids, STILL_MARK_CLOSED_IN);
    for (size_t i = 0; i < r->n_points; i++) {
        uint32_t c = still_diagram_find(d, r->points[i].id);
        if (c == STILL_NONE) continue;
        d->mark[c] |= STILL_MARK_POINT;
        if (d->plant->comps[c].cls == STILL_CLASS_SPOOL) d->mark[c] |= STILL_MARK_INSIDE;
    }
    spread(d, STILL_MARK_INSIDE | STILL_MARK_POINT | STILL_MARK_OBSTACLE, queue);
    still_free(queue);
    show_list(d, r->inside);
    for (size_t i = 0; i < r->n_between; i++) show_list(d, r->between[i].ids);
    if (!r->feasible) show_list(d, r->obstacle.path);
    for (size_t i = 0; i < r->n_points; i++) {
        uint32_t c = still_diagram_find(d, r->points[i].id);
        if (c == STILL_NONE || is_spool(d, c)) continue;
        show(d, c);
        beyond(d, c);
    }
    for (size_t i = 0; i < r->targets.n && !r->feasible; i++) {
        uint32_t t = still_diagram_find(d, r->targets.items[i]);
        if (t != STILL_NONE && !is_spool(d, t)) beyond(d, t);
    }
    near_ends(d);
    return still_diagram_proof(d);
}

/** Show what is up to `depth` components away from a component or a spool. */
static void walk(still_dia *d, uint32_t around, unsigned depth, uint32_t *queue)
{
    const still_plant *p = d->plant;
    size_t n = 0, first = 0;
    d->mark[around] |= STILL_MARK_TARGET;
    queue[n++] = is_spool(d, around) ? p->ports[p->comps[around].a].comp : around;
    if (is_spool(d, around)) queue[n++] = p->ports[p->comps[around].b].comp;
    for (size_t i = 0; i < n; i++) show(d, queue[i]);
    for (; depth > 0 && first < n; depth--) {
        size_t end = n;
        for (; first < end; first++) {
            const still_comp *c = &p->comps[queue[first]];
            for (uint32_t k = 0; k < c->b; k++) {
                uint32_t across = still_port_across(p, c->a + k);
                uint32_t next = across == STILL_NONE ? queue[first] : p->ports[across].comp;
                if (!(d->mark[next] & STILL_MARK_SHOW) && show(d, next)) queue[n++] = next;
            }
        }
    }
}

still_status still_diagram_pick_around(still_dia *d, uint32_t around, unsigned depth)
{
    const still_plant *p = d->plant;
    d->mark = still_arena_alloc(&d->arena, p->n_comps, sizeof *d->mark);
    uint32_t *queue = still_calloc(p->n_comps, sizeof *queue);
    if (d->mark == NULL || queue == NULL) {
        still_free(queue);
        return STILL_E_NOMEM;
    }
    for (uint32_t c = 0; c < p->n_comps && around == STILL_NONE; c++)
        if (!is_spool(d, c)) show(d, c);
    if (around != STILL_NONE) walk(d, around, depth, queue);
    still_free(queue);
    if (around != STILL_NONE) near_ends(d);
    return STILL_OK;
}

/** Show a component, or both ends of a spool, and queue what is new. */
static void put_shown(still_dia *d, uint32_t c, uint32_t *queue, size_t *n)
{
    const still_plant *p = d->plant;
    const uint32_t pair[2] = {is_spool(d, c) ? p->ports[p->comps[c].a].comp : c,
                              is_spool(d, c) ? p->ports[p->comps[c].b].comp : c};
    for (size_t i = 0; i < 2; i++)
        if (!(d->mark[pair[i]] & STILL_MARK_SHOW) && show(d, pair[i])) queue[(*n)++] = pair[i];
}

/** Show what is next to those of the queue, up to `depth` further. */
static void show_next(still_dia *d, unsigned depth, uint32_t *queue, size_t n)
{
    const still_plant *p = d->plant;
    for (size_t first = 0; depth > 0 && first < n; depth--)
        for (size_t end = n; first < end; first++) {
            const still_comp *c = &p->comps[queue[first]];
            for (uint32_t k = 0; k < c->b; k++) {
                uint32_t across = still_port_across(p, c->a + k);
                if (across != STILL_NONE) put_shown(d, p->ports[across].comp, queue, &n);
            }
        }
}

/** The part of a close-up: it, all that is joined to it, and the plant beyond these. */
static void pick_focus(still_dia *d, unsigned depth, uint32_t *queue)
{
    const still_plant *p = d->plant;
    const still_segment *s = &d->cov->segments[d->focus];
    size_t n = 0;
    for (size_t i = 0; i < s->ids.n; i++) {
        uint32_t c = still_diagram_find(d, s->ids.items[i]);
        if (c != STILL_NONE) put_shown(d, c, queue, &n);
    }
    for (size_t i = 0; i < s->closed_by.n; i++) {
        uint32_t c = still_diagram_find(d, s->closed_by.items[i]);
        if (c != STILL_NONE) put_shown(d, c, queue, &n);
    }
    /* Relief valves that do not cover it are neither of it nor of what shuts it in. */
    for (uint32_t v = 0; v < p->n_comps; v++) {
        if (!is_spool(d, v) || d->part[v] != d->focus) continue;
        put_shown(d, v, queue, &n);
    }
    if (depth > 0) {
        if (depth != STILL_DIAGRAM_ALONE) show_next(d, depth, queue, n);
        return;
    }
    for (size_t i = 0, end = n; i < end; i++)
        if (d->part[queue[i]] != d->focus) beyond(d, queue[i]);
}

still_status still_diagram_pick_cover(still_dia *d, unsigned depth)
{
    uint32_t n_comps = d->plant->n_comps;
    still_status status = still_diagram_parts(d);
    if (status != STILL_OK) return status;
    uint32_t *queue = still_calloc(n_comps, sizeof *queue);
    if (queue == NULL) return STILL_E_NOMEM;
    if (d->focus != STILL_NONE) {
        pick_focus(d, depth, queue);
    } else {
        size_t n = 0;
        for (size_t i = 0; i < d->cov->n_segments; i++) {
            const still_segment *s = &d->cov->segments[i];
            if (still_diagram_gap(d->cov, (uint32_t)i) == 0) continue;
            for (size_t k = 0; k < s->ids.n; k++) {
                uint32_t c = still_diagram_find(d, s->ids.items[k]);
                if (c != STILL_NONE) put_shown(d, c, queue, &n);
            }
        }
        show_next(d, UINT_MAX, queue, n);
        for (uint32_t c = 0; c < n_comps; c++)
            if (!is_spool(d, c)) show(d, c);
        d->left_out = 0;
        for (uint32_t c = 0; c < n_comps; c++)
            d->left_out += !is_spool(d, c) && !(d->mark[c] & STILL_MARK_SHOW);
    }
    still_free(queue);
    if (d->focus != STILL_NONE) near_ends(d);
    return STILL_OK;
}

uint32_t still_diagram_cut_to(const still_dia *d, uint32_t spool)
{
    const still_plant *p = d->plant;
    uint32_t a = p->comps[spool].a, b = p->comps[spool].b;
    return (d->mark[p->ports[a].comp] & STILL_MARK_SHOW) != 0 ? b : a;
}
