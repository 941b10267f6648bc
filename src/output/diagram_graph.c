/* Nodes and edges of the picture. A spool is a node too, so that its label has room and its flow
 * arrow a place; every edge then joins a component and a spool, or a component and a torn end. */
#include "diagram.h"

#include "alloc.h"
#include "pages.h"

#include <stdlib.h>

uint32_t still_diagram_node(still_dia *d, still_dkind kind, uint32_t comp)
{
    if (!still_grow(&d->nodes, &d->cap_nodes, d->n_nodes + 1, sizeof *d->nodes)) return STILL_NONE;
    d->nodes[d->n_nodes] = (still_dnode){.kind = kind, .comp = comp};
    return (uint32_t)d->n_nodes++;
}

uint32_t still_diagram_edge(still_dia *d, uint32_t from, uint32_t to, uint32_t pipe)
{
    if (!still_grow(&d->edges, &d->cap_edges, d->n_edges + 1, sizeof *d->edges)) return STILL_NONE;
    d->edges[d->n_edges] = (still_dedge){
        .from = from, .to = to, .port_from = STILL_NONE, .port_to = STILL_NONE, .pipe = pipe};
    return (uint32_t)d->n_edges++;
}

static bool shown(const still_dia *d, uint32_t c)
{
    return (d->mark[c] & STILL_MARK_SHOW) != 0;
}

/** A spool between two components that are drawn: one node, two edges. */
static bool add_spool(still_dia *d, uint32_t s)
{
    const still_plant *p = d->plant;
    uint32_t a = p->comps[s].a, b = p->comps[s].b;
    uint32_t node = still_diagram_node(d, STILL_D_SPOOL, s);
    if (node == STILL_NONE) return false;
    d->node_of[s] = node;
    uint32_t first = still_diagram_edge(d, d->node_of[p->ports[a].comp], node, s);
    uint32_t last = still_diagram_edge(d, node, d->node_of[p->ports[b].comp], s);
    if (first == STILL_NONE || last == STILL_NONE) return false;
    d->edges[first].port_from = a;
    d->edges[last].port_to = b;
    return true;
}

bool still_diagram_on_page(const still_dia *d, uint32_t port)
{
    uint32_t area = d->pages == NULL ? STILL_NONE : d->pages->port_area[port];
    return area == STILL_NONE || area == d->area;
}

/** Pipes that are cut between two pages: a torn end each, which bears the pipe's name. For all
 *  pipes of a component that stand on other sheets of it there is one. */
static bool add_cut(still_dia *d, uint32_t c)
{
    const still_plant *p = d->plant;
    bool others = false;
    for (uint32_t k = 0; k < p->comps[c].b; k++) {
        uint32_t port = p->comps[c].a + k, across = still_port_across(p, port);
        if (across == STILL_NONE) continue;
        others = others || !still_diagram_on_page(d, port);
        if (shown(d, p->ports[across].comp) || !still_diagram_on_page(d, port)) continue;
        uint32_t spool = p->ports[port].spool, node = still_diagram_node(d, STILL_D_TORN, spool);
        if (node == STILL_NONE) return false;
        d->node_of[spool] = node;
        uint32_t edge = still_diagram_edge(d, d->node_of[c], node, spool);
        if (edge == STILL_NONE) return false;
        d->edges[edge].port_from = port;
    }
    if (!others) return true;
    uint32_t node = still_diagram_node(d, STILL_D_TORN, c);
    return node != STILL_NONE &&
           still_diagram_edge(d, d->node_of[c], node, STILL_NONE) != STILL_NONE;
}

static bool elsewhere(const still_dia *d, uint32_t c)
{
    return (d->mark[c] & STILL_MARK_ELSEWHERE) != 0;
}

bool still_diagram_is_reference(const still_dia *d, const still_dnode *node)
{
    return d->leaf_of != NULL && node->kind == STILL_D_TORN &&
           d->plant->comps[node->comp].cls == STILL_CLASS_SPOOL;
}

bool still_diagram_owns(const still_dia *d, uint32_t spool)
{
    const still_plant *p = d->plant;
    const still_comp *s = &p->comps[spool];
    uint32_t a = p->ports[s->a].comp, b = p->ports[s->b].comp;
    bool from_has_more = p->comps[a].b > p->comps[b].b;
    return (d->mark[a] & STILL_MARK_SHOW) != 0 ? !from_has_more : from_has_more;
}

/** A pipe that goes on on another sheet of paper: its end, and on one of both what is written at
 *  it. */
static bool add_reference(still_dia *d, uint32_t port)
{
    const still_plant *p = d->plant;
    uint32_t s = p->ports[port].spool, here = d->node_of[p->ports[port].comp], node = STILL_NONE;
    bool outward = p->comps[s].a == port;
    if (still_diagram_owns(d, s)) {
        node = still_diagram_node(d, STILL_D_SPOOL, s);
        if (node == STILL_NONE) return false;
        d->node_of[s] = node;
    }
    uint32_t torn = still_diagram_node(d, STILL_D_TORN, s);
    if (torn == STILL_NONE) return false;
    uint32_t far = outward ? p->comps[s].b : p->comps[s].a, next = node == STILL_NONE ? torn : node;
    uint32_t e = still_diagram_edge(d, outward ? here : next, outward ? next : here, s);
    if (e == STILL_NONE) return false;
    *(outward ? &d->edges[e].port_from : &d->edges[e].port_to) = port;
    if (node == STILL_NONE) return true;
    e = still_diagram_edge(d, outward ? node : torn, outward ? torn : node, s);
    if (e == STILL_NONE) return false;
    *(outward ? &d->edges[e].port_to : &d->edges[e].port_from) = far;
    return true;
}

static bool add_references(still_dia *d, uint32_t c)
{
    const still_plant *p = d->plant;
    for (uint32_t k = 0; k < p->comps[c].b; k++) {
        uint32_t across = still_port_across(p, p->comps[c].a + k);
        if (across == STILL_NONE || !elsewhere(d, p->ports[across].comp)) continue;
        if (!add_reference(d, p->comps[c].a + k)) return false;
    }
    return true;
}

/** Where the plant goes on beyond the picture: one torn end a component, whatever the number. */
static bool add_torn(still_dia *d, uint32_t c)
{
    const still_plant *p = d->plant;
    bool near = (d->mark[c] & (STILL_MARK_INSIDE | STILL_MARK_POINT | STILL_MARK_OBSTACLE)) != 0;
    bool needed = false;
    for (uint32_t k = 0; k < p->comps[c].b; k++) {
        uint32_t across = still_port_across(p, p->comps[c].a + k);
        if (across == STILL_NONE)
            needed = needed || (near && p->comps[c].cls != STILL_CLASS_CAP);
        else
            needed = needed ||
                     (!shown(d, p->ports[across].comp) && !elsewhere(d, p->ports[across].comp));
    }
    if (!needed) return true;
    uint32_t node = still_diagram_node(d, STILL_D_TORN, c);
    if (node == STILL_NONE) return false;
    return still_diagram_edge(d, d->node_of[c], node, STILL_NONE) != STILL_NONE;
}

static int upward(const void *a, const void *b)
{
    const uint32_t *x = a, *y = b;
    return *x < *y ? -1 : *x > *y;
}

/** Pipes between two components that are drawn, in the order of the file. */
static bool add_spools(still_dia *d)
{
    const still_plant *p = d->plant;
    size_t n = 0, most = 0;
    for (size_t i = 0; i < d->n_list; i++) most += p->comps[d->list[i]].b;
    uint32_t *spools = STILL_ARENA_NEW(&d->arena, most, uint32_t);
    if (spools == NULL) return false;
    for (size_t i = 0; i < d->n_list; i++)
        for (uint32_t k = 0; k < p->comps[d->list[i]].b; k++) {
            uint32_t port = p->comps[d->list[i]].a + k, across = still_port_across(p, port);
            if (across == STILL_NONE || !shown(d, p->ports[across].comp)) continue;
            uint32_t spool = p->ports[port].spool;
            if (p->comps[spool].a == port && still_diagram_on_page(d, port)) spools[n++] = spool;
        }
    if (n > 1) qsort(spools, n, sizeof spools[0], upward);
    for (size_t i = 0; i < n; i++)
        if (!add_spool(d, spools[i])) return false;
    return true;
}

/** Nodes of components in file order, then of spools, then torn ends. */
static bool add_all(still_dia *d)
{
    for (size_t i = 0; i < d->n_list; i++) {
        uint32_t node = still_diagram_node(d, STILL_D_COMP, d->list[i]);
        if (node == STILL_NONE) return false;
        d->node_of[d->list[i]] = node;
    }
    if (!add_spools(d)) return false;
    for (size_t i = 0; i < d->n_list && d->leaf_of != NULL; i++)
        if (!add_references(d, d->list[i])) return false;
    for (size_t i = 0; i < d->n_list; i++)
        if (!(d->pages != NULL ? add_cut(d, d->list[i]) : add_torn(d, d->list[i]))) return false;
    return true;
}

/** Of the whole plant: what is marked to be drawn, and where nodes will be noted. */
static bool prepare(still_dia *d)
{
    uint32_t n = d->plant->n_comps, *list = STILL_ARENA_NEW(&d->arena, d->n_shown, uint32_t);
    d->node_of = STILL_ARENA_NEW(&d->arena, n, uint32_t);
    if (d->node_of == NULL || list == NULL) return false;
    for (uint32_t c = 0; c < n; c++) {
        d->node_of[c] = STILL_NONE;
        if (d->plant->comps[c].cls != STILL_CLASS_SPOOL && shown(d, c)) list[d->n_list++] = c;
    }
    d->list = list;
    return true;
}

still_status still_diagram_graph(still_dia *d)
{
    if (d->list == NULL && !prepare(d)) return STILL_E_NOMEM;
    return add_all(d) ? STILL_OK : STILL_E_NOMEM;
}
