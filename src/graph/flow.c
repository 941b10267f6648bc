/* Minimum cut.
 * Problem: least total capacity of arcs from a set holding s to its complement holding t.
 * Method: igraph's maximum flow (push-relabel; Goldberg and Tarjan 1988) on the directed network of
 * arcs; the flow that it returns is checked here for capacity and conservation before anything is
 * built on it, and the cut is read from our own residual search, not from its partition.
 * Why it is right: a flow and a cut of equal value prove each other (Ford and Fulkerson 1956).
 * Assumptions: capacities are small integers; "may not be cut" is 1 + the sum of all others, so
 * every double in the solver is exact below 2^53 (checked).
 * Cost: that of the solver, and linear work around it. */
#include "flow.h"

#include "alloc.h"

#include <igraph.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

void still_net_init(still_net *net, uint32_t n_nodes)
{
    *net = (still_net){.n_nodes = n_nodes};
}

void still_net_clear(still_net *net)
{
    still_free(net->edges);
    *net = (still_net){0};
}

still_status still_net_add(still_net *net, uint32_t a, uint32_t b, uint32_t cap_ab, uint32_t cap_ba)
{
    if (!still_grow(&net->edges, &net->cap, net->n_edges + 1, sizeof net->edges[0]))
        return STILL_E_NOMEM;
    net->edges[net->n_edges++] = (still_net_edge){a, b, cap_ab, cap_ba};
    return STILL_OK;
}

static uint64_t cap_of(const still_flow *f, uint32_t cap)
{
    return cap == STILL_UNCUT ? f->uncut : cap;
}

static bool carries(const still_net_edge *e)
{
    return e->a != e->b;
}

/* Room left from a to b (forward) or from b to a. */
bool still_flow_residual(const still_flow *f, size_t e, bool forward)
{
    const still_net_edge *edge = &f->net->edges[e];
    if (!carries(edge)) return false;
    return forward ? f->flow[e] < (int64_t)cap_of(f, edge->cap_ab)
                   : -f->flow[e] < (int64_t)cap_of(f, edge->cap_ba);
}

bool still_flow_saturated(const still_flow *f, size_t e, bool forward)
{
    const still_net_edge *edge = &f->net->edges[e];
    uint32_t cap = forward ? edge->cap_ab : edge->cap_ba;
    return carries(edge) && cap != 0 && cap != STILL_UNCUT && !still_flow_residual(f, e, forward);
}

/* One igraph arc for each direction with capacity: fills `ends` and `caps`. */
static still_status fill_arcs(const still_flow *f, igraph_vector_int_t *ends, igraph_vector_t *caps)
{
    const still_net *net = f->net;
    for (size_t i = 0; i < net->n_edges; i++) {
        const still_net_edge *e = &net->edges[i];
        if (!carries(e)) continue;
        const uint32_t from[2] = {e->a, e->b}, to[2] = {e->b, e->a};
        const uint32_t cap[2] = {e->cap_ab, e->cap_ba};
        for (int d = 0; d < 2; d++) {
            if (cap[d] == 0) continue;
            if (igraph_vector_int_push_back(ends, from[d]) != IGRAPH_SUCCESS ||
                igraph_vector_int_push_back(ends, to[d]) != IGRAPH_SUCCESS ||
                igraph_vector_push_back(caps, (double)cap_of(f, cap[d])) != IGRAPH_SUCCESS)
                return STILL_E_NOMEM;
        }
    }
    return STILL_OK;
}

/* Net flow of each edge from the arcs' flows, in the order of fill_arcs. */
static void take_flow(still_flow *f, const igraph_vector_t *arc_flow)
{
    igraph_integer_t k = 0;
    for (size_t i = 0; i < f->net->n_edges; i++) {
        const still_net_edge *e = &f->net->edges[i];
        if (!carries(e)) continue;
        if (e->cap_ab != 0) f->flow[i] += (int64_t)llround(VECTOR(*arc_flow)[k++]);
        if (e->cap_ba != 0) f->flow[i] -= (int64_t)llround(VECTOR(*arc_flow)[k++]);
    }
}

static still_status run_solver(still_flow *f)
{
    igraph_t graph;
    igraph_vector_int_t ends;
    igraph_vector_t caps, arc_flow;
    igraph_real_t value = 0;
    still_status status = STILL_E_NOMEM;
    if (igraph_vector_int_init(&ends, 0) != IGRAPH_SUCCESS) return status;
    if (igraph_vector_init(&caps, 0) != IGRAPH_SUCCESS) goto no_caps;
    if (igraph_vector_init(&arc_flow, 0) != IGRAPH_SUCCESS) goto no_flow;
    status = fill_arcs(f, &ends, &caps);
    if (status != STILL_OK) goto no_graph;
    status = STILL_E_NOMEM;
    if (igraph_create(&graph, &ends, f->net->n_nodes, IGRAPH_DIRECTED) != IGRAPH_SUCCESS)
        goto no_graph;
    igraph_error_t err =
        igraph_maxflow(&graph, &value, &arc_flow, NULL, NULL, NULL, f->s, f->t, &caps, NULL);
    status = err == IGRAPH_SUCCESS  ? STILL_OK
             : err == IGRAPH_ENOMEM ? STILL_E_NOMEM
                                    : STILL_E_INTERNAL;
    if (status == STILL_OK && !(value >= 0 && value < 9e15)) status = STILL_E_INTERNAL;
    if (status == STILL_OK && igraph_vector_size(&arc_flow) != igraph_vector_size(&caps))
        status = STILL_E_INTERNAL;
    if (status == STILL_OK) {
        f->value = (uint64_t)llround(value);
        take_flow(f, &arc_flow);
    }
    igraph_destroy(&graph);
no_graph:
    igraph_vector_destroy(&arc_flow);
no_flow:
    igraph_vector_destroy(&caps);
no_caps:
    igraph_vector_int_destroy(&ends);
    return status;
}

/* Capacity, conservation and value of the flow that the solver gave. */
static still_status check_flow(const still_flow *f)
{
    const still_net *net = f->net;
    int64_t *excess = still_calloc(net->n_nodes, sizeof excess[0]);
    if (excess == NULL) return STILL_E_NOMEM;
    bool good = true;
    for (size_t i = 0; i < net->n_edges; i++) {
        const still_net_edge *e = &net->edges[i];
        if (f->flow[i] > (int64_t)cap_of(f, e->cap_ab) ||
            -f->flow[i] > (int64_t)cap_of(f, e->cap_ba))
            good = false;
        excess[e->a] -= f->flow[i];
        excess[e->b] += f->flow[i];
    }
    for (uint32_t v = 0; v < net->n_nodes; v++) {
        int64_t want = v == f->s ? -(int64_t)f->value : v == f->t ? (int64_t)f->value : 0;
        if (excess[v] != want) good = false;
    }
    still_free(excess);
    return good ? STILL_OK : STILL_E_INTERNAL;
}

static still_status build_adjacency(still_flow *f)
{
    const still_net *net = f->net;
    f->adj0 = still_calloc((size_t)net->n_nodes + 1, sizeof f->adj0[0]);
    f->adj = still_calloc(net->n_edges * 2, sizeof f->adj[0]);
    if (f->adj0 == NULL || f->adj == NULL) return STILL_E_NOMEM;
    for (size_t i = 0; i < net->n_edges; i++) {
        f->adj0[net->edges[i].a]++;
        f->adj0[net->edges[i].b]++;
    }
    uint32_t sum = 0;
    for (uint32_t v = 0; v <= net->n_nodes; v++) {
        sum += f->adj0[v];
        f->adj0[v] = sum;
    }
    for (size_t i = net->n_edges; i-- > 0;) {
        f->adj[--f->adj0[net->edges[i].a]] = (uint32_t)i;
        f->adj[--f->adj0[net->edges[i].b]] = (uint32_t)i;
    }
    return STILL_OK;
}

still_status still_flow_solve(still_flow *out, const still_net *net, uint32_t s, uint32_t t)
{
    still_flow f = {.net = net, .s = s, .t = t, .uncut = 1};
    if (s == t || s >= net->n_nodes || t >= net->n_nodes) return STILL_E_INTERNAL;
    for (size_t i = 0; i < net->n_edges; i++) {
        if (net->edges[i].cap_ab != STILL_UNCUT) f.uncut += net->edges[i].cap_ab;
        if (net->edges[i].cap_ba != STILL_UNCUT) f.uncut += net->edges[i].cap_ba;
    }
    if (f.uncut > (UINT64_C(1) << 52) / (net->n_edges + 1)) return STILL_E_INTERNAL;
    still_status status = STILL_E_NOMEM;
    f.flow = still_calloc(net->n_edges, sizeof f.flow[0]);
    if (f.flow == NULL) goto out;
    status = build_adjacency(&f);
    if (status != STILL_OK) goto out;
    igraph_error_handler_t *before = igraph_set_error_handler(igraph_error_handler_ignore);
    status = run_solver(&f);
    igraph_set_error_handler(before);
    if (status != STILL_OK) goto out;
    status = check_flow(&f);
    f.cuttable = f.value < f.uncut;
out:
    if (status == STILL_OK)
        *out = f;
    else
        still_flow_clear(&f);
    return status;
}

void still_flow_clear(still_flow *f)
{
    still_free(f->flow);
    still_free(f->adj0);
    still_free(f->adj);
    *f = (still_flow){0};
}

still_status still_flow_close(const still_flow *f, uint8_t *set, uint32_t from, bool backward)
{
    if (set[from]) return STILL_OK;
    uint32_t *stack = still_calloc(f->net->n_nodes, sizeof stack[0]);
    if (stack == NULL) return STILL_E_NOMEM;
    size_t n = 0;
    stack[n++] = from;
    set[from] = 1;
    while (n > 0) {
        uint32_t v = stack[--n];
        for (uint32_t k = f->adj0[v]; k < f->adj0[v + 1]; k++) {
            size_t e = f->adj[k];
            bool at_a = f->net->edges[e].a == v;
            uint32_t w = at_a ? f->net->edges[e].b : f->net->edges[e].a;
            if (set[w] || !still_flow_residual(f, e, at_a != backward)) continue;
            set[w] = 1;
            stack[n++] = w;
        }
    }
    still_free(stack);
    return STILL_OK;
}

/* Shortest path of arcs with flow left from s to t: edge numbers back to front in `back`.
 * @return its length, 0 = none */
static size_t path_back(const still_flow *f, const int64_t *left, uint32_t *by, uint32_t *queue,
                        uint32_t *back)
{
    const still_net *net = f->net;
    for (uint32_t v = 0; v < net->n_nodes; v++) by[v] = UINT32_MAX;
    size_t head = 0, tail = 0, n = 0;
    queue[tail++] = f->s;
    while (head < tail && by[f->t] == UINT32_MAX) {
        uint32_t v = queue[head++];
        for (uint32_t k = f->adj0[v]; k < f->adj0[v + 1]; k++) {
            uint32_t e = f->adj[k];
            bool at_a = net->edges[e].a == v;
            uint32_t w = at_a ? net->edges[e].b : net->edges[e].a;
            if (w == f->s || by[w] != UINT32_MAX || (at_a ? left[e] <= 0 : left[e] >= 0)) continue;
            by[w] = e;
            queue[tail++] = w;
        }
    }
    if (by[f->t] == UINT32_MAX) return 0;
    for (uint32_t v = f->t; v != f->s;) {
        uint32_t e = by[v];
        back[n++] = e;
        v = net->edges[e].a == v ? net->edges[e].b : net->edges[e].a;
    }
    return n;
}

still_status still_flow_paths(const still_flow *f, uint32_t **edges_out, uint32_t **starts_out)
{
    const still_net *net = f->net;
    still_status status = STILL_E_NOMEM;
    size_t n = 0, cap = 0;
    uint32_t *edges = NULL;
    uint32_t *starts = still_calloc(f->value + 1, sizeof starts[0]);
    int64_t *left = still_calloc(net->n_edges, sizeof left[0]);
    uint32_t *work = still_calloc((size_t)net->n_nodes * 3, sizeof work[0]);
    if (starts == NULL || left == NULL || work == NULL) goto out;
    memcpy(left, f->flow, net->n_edges * sizeof left[0]);
    uint32_t *back = work + 2 * (size_t)net->n_nodes;
    for (uint64_t i = 0; i < f->value; i++) {
        size_t len = path_back(f, left, work, work + net->n_nodes, back);
        if (len == 0) {
            status = STILL_E_INTERNAL;
            goto out;
        }
        if (!still_grow(&edges, &cap, n + len, sizeof edges[0])) goto out;
        uint32_t v = f->s;
        for (size_t k = len; k-- > 0;) {
            uint32_t e = back[k];
            bool at_a = net->edges[e].a == v;
            left[e] -= at_a ? 1 : -1;
            v = at_a ? net->edges[e].b : net->edges[e].a;
            edges[n++] = e;
        }
        starts[i + 1] = (uint32_t)n;
    }
    status = STILL_OK;
out:
    still_free(left);
    still_free(work);
    if (status == STILL_OK) {
        *edges_out = edges;
        *starts_out = starts;
    } else {
        still_free(edges);
        still_free(starts);
    }
    return status;
}

#ifdef STILL_STATIC_IGRAPH
/* Stand-ins for six entry points of ARPACK, an eigenvalue library. igraph's archive names them, so
 * a program that links it would drag in ARPACK, LAPACK, BLAS and a Fortran runtime, and spend most
 * of its start in loading them. Maximum flow never calls them; should anything ever do so, the
 * process ends at once rather than go on with a wrong number. */
#define STAND_IN(name)                                                                             \
    _Noreturn void name(void);                                                                     \
    _Noreturn void name(void)                                                                      \
    {                                                                                              \
        abort();                                                                                   \
    }

STAND_IN(dsaupd_)
STAND_IN(dseupd_)
STAND_IN(dnaupd_)
STAND_IN(dneupd_)
STAND_IN(dsortr_)
STAND_IN(dsortc_)
#endif
