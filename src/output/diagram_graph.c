/* Nodes and edges of the picture. A spool is a node too, so that its label has room and its flow
 * arrow a place; every edge then joins a component and a spool, or a component and a torn end. */
#include "diagram.h"

#include "alloc.h"

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

/** Pipes that are cut between two pages: a torn end each, which bears the pipe's name. */
static bool add_cut(still_dia *d, uint32_t c)
{
    const still_plant *p = d->plant;
    for (uint32_t k = 0; k < p->comps[c].b; k++) {
        uint32_t port = p->comps[c].a + k, across = still_port_across(p, port);
        if (across == STILL_NONE || shown(d, p->ports[across].comp)) continue;
        uint32_t spool = p->ports[port].spool, node = still_diagram_node(d, STILL_D_TORN, spool);
        if (node == STILL_NONE) return false;
        d->node_of[spool] = node;
        uint32_t edge = still_diagram_edge(d, d->node_of[c], node, spool);
        if (edge == STILL_NONE) return false;
        d->edges[edge].port_from = port;
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
            needed = needed || !shown(d, p->ports[across].comp);
    }
    if (!needed) return true;
    uint32_t node = still_diagram_node(d, STILL_D_TORN, c);
    if (node == STILL_NONE) return false;
    return still_diagram_edge(d, d->node_of[c], node, STILL_NONE) != STILL_NONE;
}

/** Nodes of components in file order, then of spools, then torn ends. */
static bool add_all(still_dia *d)
{
    const still_plant *p = d->plant;
    for (uint32_t c = 0; c < p->n_comps; c++) {
        if (p->comps[c].cls == STILL_CLASS_SPOOL || !shown(d, c)) continue;
        uint32_t node = still_diagram_node(d, STILL_D_COMP, c);
        if (node == STILL_NONE) return false;
        d->node_of[c] = node;
    }
    for (uint32_t s = 0; s < p->n_comps; s++) {
        if (p->comps[s].cls != STILL_CLASS_SPOOL) continue;
        if (!shown(d, p->ports[p->comps[s].a].comp) || !shown(d, p->ports[p->comps[s].b].comp))
            continue;
        if (!add_spool(d, s)) return false;
    }
    for (uint32_t c = 0; c < p->n_comps; c++)
        if (p->comps[c].cls != STILL_CLASS_SPOOL && shown(d, c) &&
            !(d->pages != NULL ? add_cut(d, c) : add_torn(d, c)))
            return false;
    return true;
}

still_status still_diagram_graph(still_dia *d)
{
    uint32_t n = d->plant->n_comps;
    d->node_of = STILL_ARENA_NEW(&d->arena, n, uint32_t);
    if (d->node_of == NULL) return STILL_E_NOMEM;
    for (uint32_t c = 0; c < n; c++) d->node_of[c] = STILL_NONE;
    return add_all(d) ? STILL_OK : STILL_E_NOMEM;
}
