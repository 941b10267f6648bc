/* Which pipes are the main run through a fitting, and in which order its branches stand.
 *
 * Problem: where pipes part, the line goes straight on and branches leave it, as on a drawing
 * made by hand: vents, gauges and relief upward, drains downward.
 *
 * Method: of the pipes on each side of a node the one with the largest bore is its run, in case of
 * doubt the one that leads to the longer chain. A pipe that is the run at both ends is to be
 * drawn straight. Branches that end after a chain without a further branch are twigs; a node
 * whose branches on the right are all twigs but for its run has them put in order. */
#include "diagram.h"

/** A longest chain that is followed. */
enum { LONGEST = 40 };

/** Along an edge away from node v until pipes part again. @return the node there
 *  @param[out] length  edges passed */
static uint32_t follow(const still_dia *d, uint32_t edge, unsigned *length)
{
    uint32_t v = d->edges[edge].to;
    for (*length = 1; *length < LONGEST; ++*length) {
        if (d->nodes[v].n_right != 1 || d->nodes[v].n_left != 1) break;
        uint32_t next = STILL_NONE;
        for (uint32_t e = 0; e < d->n_edges && next == STILL_NONE; e++)
            if (d->edges[e].from == v) next = e;
        if (next == STILL_NONE) break;
        v = d->edges[next].to;
    }
    return v;
}

static double weight_of(const still_dia *d, uint32_t e, bool right)
{
    const still_dedge *edge = &d->edges[e];
    double bore = edge->pipe == STILL_NONE ? 0.0 : still_comp_bore_mm(d->plant, edge->pipe);
    if (!(bore > 0.0)) bore = edge->pipe == STILL_NONE ? 0.0 : 10.0;
    unsigned length = 0;
    if (right) {
        uint32_t end = follow(d, e, &length);
        bool leaf = d->nodes[end].n_right == 0;
        return bore * 1000.0 + (leaf ? 0.0 : 500.0) + (double)length;
    }
    return bore * 1000.0;
}

/** The run on one side of a node, or STILL_NONE. */
static uint32_t run_of(const still_dia *d, uint32_t v, bool right)
{
    uint32_t best = STILL_NONE;
    double most = -1.0;
    for (uint32_t e = 0; e < d->n_edges; e++) {
        if ((right ? d->edges[e].from : d->edges[e].to) != v) continue;
        double w = weight_of(d, e, right);
        if (w > most) best = e;
        if (w > most) most = w;
    }
    return best;
}

/** Where a twig belongs: -1 above the run, 1 below it; 0 when it is no twig. */
static int side_of(const still_dia *d, uint32_t e)
{
    unsigned length;
    uint32_t end = follow(d, e, &length);
    const still_dnode *n = &d->nodes[end];
    if (n->n_right != 0 || n->n_left != 1) return 0;
    if (n->kind != STILL_D_COMP) return -1;
    return d->plant->comps[n->comp].kind == STILL_KIND_DRAIN ? 1 : -1;
}

/** Put the branches on the right of a node in order, if all but its run are twigs. */
static void order_branches(still_dia *d, uint32_t v, uint32_t run)
{
    if (run == STILL_NONE || d->nodes[v].n_right < 2) return;
    for (uint32_t e = 0; e < d->n_edges; e++)
        if (d->edges[e].from == v && e != run && side_of(d, e) == 0) return;
    unsigned above = 0, below = 0;
    for (uint32_t e = 0; e < d->n_edges; e++) {
        if (d->edges[e].from != v || e == run) continue;
        above += side_of(d, e) < 0;
        below += side_of(d, e) > 0;
    }
    /* Twigs that could stand on either side keep the run near the middle. */
    d->nodes[v].ordered = true;
    for (uint32_t e = 0; e < d->n_edges; e++) {
        if (d->edges[e].from != v) continue;
        int side = e == run ? 0 : side_of(d, e);
        if (side < 0 && above > below + 1) {
            const still_dnode *end = &d->nodes[d->edges[e].to];
            bool relief = end->kind == STILL_D_COMP;
            if (!relief && below < above) {
                side = 1;
                above--;
                below++;
            }
        }
        d->edges[e].side = side;
    }
}

void still_diagram_runs(still_dia *d)
{
    for (uint32_t e = 0; e < d->n_edges; e++) d->edges[e].straight = 0;
    for (uint32_t v = 0; v < d->n_nodes; v++) {
        uint32_t left = run_of(d, v, false), right = run_of(d, v, true);
        if (left != STILL_NONE) d->edges[left].straight++;
        if (right != STILL_NONE) d->edges[right].straight++;
        if (d->nodes[v].kind == STILL_D_COMP &&
            d->plant->comps[d->nodes[v].comp].cls == STILL_CLASS_FITTING)
            order_branches(d, v, right);
    }
}
