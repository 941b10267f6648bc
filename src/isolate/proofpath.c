/* Proof paths (I5).
 * Problem: show that no fewer points would do.
 * Method: the flow is taken apart into unit paths; each is spelled out component by component:
 * inside a piece by the shortest way between the ports where it enters and leaves.
 * Why it is right: docs/METHOD.md, 4.
 * Cost: a search a piece and path. */
#include "isolate.h"

#include "alloc.h"

/* The node at the other end of an edge. */
static uint32_t far_node(const still_net_edge *e, uint32_t node)
{
    return e->a == node ? e->b : e->a;
}

typedef struct spelling {
    still_trace *trace;
    const still_choice *choice;
    uint32_t *list;
    size_t n, cap;
    uint32_t piece, first, n_first; /* where the path stands: ports of the current piece */
    uint32_t point, feed;
} spelling;

static still_status spell_to(spelling *s, still_goal goal, uint32_t arg)
{
    uint32_t port = still_trace_find(s->trace, s->first, s->n_first, goal, arg);
    if (port == STILL_NONE) return STILL_E_INTERNAL;
    return still_trace_append(s->trace, port, &s->list, &s->n, &s->cap) ? STILL_OK : STILL_E_NOMEM;
}

/* One edge of the path, starting at `node`. */
static still_status spell_edge(spelling *s, uint32_t edge, uint32_t node)
{
    const still_zone *zone = s->trace->zone;
    const still_edge_of *of = &s->choice->edge_of[edge];
    if (of->device == STILL_NONE) {
        /* w_e → t adds nothing; piece → w_e ends at the component that is fed. */
        if (of->feed != STILL_NONE) return STILL_OK;
        s->feed = of->fed_feed;
        return spell_to(s, still_goal_comp, of->fed_comp);
    }
    const still_device *d = &zone->devices[of->device];
    int near = d->piece[0] == s->piece ? 0 : 1;
    still_status status = spell_to(s, still_goal_port, d->port[near]);
    if (status != STILL_OK) return status;
    uint32_t next = far_node(&s->choice->net.edges[edge], node);
    if (s->choice->in[node] && !s->choice->in[next]) s->point = d->comp;
    s->piece = d->piece[1 - near];
    s->first = d->port[1 - near];
    s->n_first = 1;
    if (next == s->choice->sink) return spell_to(s, still_goal_source, 0);
    return STILL_OK;
}

static still_status spell_path(spelling *s, const uint32_t *edges, size_t n)
{
    const still_zone *zone = s->trace->zone;
    const still_comp *target = &zone->plant->comps[zone->target];
    uint32_t node = s->choice->flow.s;
    s->n = 0;
    s->piece = 0;
    s->first = target->a;
    s->n_first = target->b;
    s->point = s->feed = STILL_NONE;
    for (size_t i = 0; i < n; i++) {
        still_status status = spell_edge(s, edges[i], node);
        if (status != STILL_OK) return status;
        node = far_node(&s->choice->net.edges[edges[i]], node);
    }
    return STILL_OK;
}

still_status still_proof_paths(still_isolation *iso, const still_choice *choice, still_trace *trace)
{
    spelling s = {.trace = trace, .choice = choice};
    uint32_t *edges = NULL, *starts = NULL;
    still_status status = still_flow_paths(&choice->flow, &edges, &starts);
    if (status != STILL_OK) return status;
    iso->paths = STILL_ARENA_NEW(&iso->arena, choice->flow.value, still_iso_path);
    if (iso->paths == NULL) status = STILL_E_NOMEM;
    for (uint64_t i = 0; i < choice->flow.value && status == STILL_OK; i++) {
        status = spell_path(&s, edges + starts[i], starts[i + 1] - starts[i]);
        /* A path through a locked isolator crosses no point: that feed is counted apart. */
        if (status != STILL_OK || s.point == STILL_NONE) continue;
        still_iso_path *path = &iso->paths[iso->n_paths++];
        path->point = s.point;
        path->feed = s.feed;
        path->comps.n = (uint32_t)s.n;
        path->comps.items = STILL_ARENA_NEW(&iso->arena, s.n, uint32_t);
        if (path->comps.items == NULL) status = STILL_E_NOMEM;
        for (size_t k = 0; k < s.n && status == STILL_OK; k++)
            path->comps.items[k] = s.list[s.n - 1 - k];
    }
    still_free(s.list);
    still_free(edges);
    still_free(starts);
    return status;
}
