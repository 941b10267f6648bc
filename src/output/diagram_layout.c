/* Problem: in which column each node stands, and how high, so that pipes are short, straight and
 * seldom cross.
 *
 * Method: layered drawing (Gansner, Koutsofios, North, Vo 1993, "A technique for drawing directed
 * graphs") by the Graphviz library, in two passes. The first gives the columns. Then every edge
 * that passes a column gets a bend there, a node of its own, and the second pass gives the order
 * and the heights, bends included. With an edge between neighbouring columns only, pipes can run
 * level and upright (diagram_route.c). Columns are the library's ranks, heights its x. Nothing of
 * its own drawing is used.
 *
 * Where the places on the drawing are known, edges that are not drawn keep the columns in that
 * order in the first pass, and give the order in each column in the second (diagram_sheet.c).
 *
 * The library is loaded when the first picture is asked for: linking it would cost every start of
 * the program more than a millisecond. Only its layout module is loaded, not those that bring in
 * fonts and screens, and no configuration file is read. Numbers pass through text in the C locale
 * (uselocale, for this thread only). Its ABI is its header's: another version is refused. */
#include "diagram.h"

#include "alloc.h"

#include <graphviz/graphviz_version.h>
#include <graphviz/gvc.h>

#include <dlfcn.h>
#include <locale.h>
#include <math.h>
#include <stdio.h>
#include <string.h>

#ifndef STILL_GVC_LIBRARY
#define STILL_GVC_LIBRARY "libgvc.so.6"
#endif
#ifndef STILL_CGRAPH_LIBRARY
#define STILL_CGRAPH_LIBRARY "libcgraph.so.6"
#endif
#ifndef STILL_DOT_LIBRARY
#define STILL_DOT_LIBRARY "libgvplugin_dot_layout.so.6"
#endif

/** The functions used, under the names that they have there. */
typedef struct library {
    void *gvc, *cgraph, *dot;
    GVC_t *(*gvContextPlugins)(const lt_symlist_t *, int);
    char *(*gvcVersion)(GVC_t *);
    int (*gvLayout)(GVC_t *, graph_t *, const char *);
    int (*gvFreeLayout)(GVC_t *, graph_t *);
    int (*gvFreeContext)(GVC_t *);
    void (*gvAddLibrary)(GVC_t *, gvplugin_library_t *);
    char *(*gvconfig_libdir)(GVC_t *);
    Agraph_t *(*agopen)(char *, Agdesc_t, Agdisc_t *);
    int (*agclose)(Agraph_t *);
    Agnode_t *(*agnode)(Agraph_t *, char *, int);
    Agraph_t *(*agsubg)(Agraph_t *, char *, int);
    Agnode_t *(*agsubnode)(Agraph_t *, Agnode_t *, int);
    Agedge_t *(*agedge)(Agraph_t *, Agnode_t *, Agnode_t *, char *, int);
    Agsym_t *(*agattr)(Agraph_t *, int, char *, const char *);
    int (*agxset)(void *, Agsym_t *, const char *);
    agerrlevel_t (*agseterr)(agerrlevel_t);
    Agdesc_t *directed;
    GVC_t *context;
} library;

/** Find a symbol. Object and function pointers have one size here (POSIX dlsym). */
static bool find(void *from, const char *name, void *into)
{
    void *symbol = dlsym(from, name);
    memcpy(into, &symbol, sizeof symbol);
    return symbol != NULL;
}

static bool find_all(library *l)
{
    return find(l->gvc, "gvContextPlugins", &l->gvContextPlugins) &&
           find(l->gvc, "gvcVersion", &l->gvcVersion) && find(l->gvc, "gvLayout", &l->gvLayout) &&
           find(l->gvc, "gvFreeLayout", &l->gvFreeLayout) &&
           find(l->gvc, "gvFreeContext", &l->gvFreeContext) &&
           find(l->gvc, "gvAddLibrary", &l->gvAddLibrary) &&
           find(l->gvc, "gvconfig_libdir", &l->gvconfig_libdir) &&
           find(l->cgraph, "agopen", &l->agopen) && find(l->cgraph, "agclose", &l->agclose) &&
           find(l->cgraph, "agnode", &l->agnode) && find(l->cgraph, "agedge", &l->agedge) &&
           find(l->cgraph, "agattr", &l->agattr) && find(l->cgraph, "agxset", &l->agxset) &&
           find(l->cgraph, "agsubg", &l->agsubg) && find(l->cgraph, "agsubnode", &l->agsubnode) &&
           find(l->cgraph, "agseterr", &l->agseterr) && find(l->cgraph, "Agdirected", &l->directed);
}

static void close_library(library *l)
{
    if (l->context != NULL) l->gvFreeContext(l->context);
    /* Libraries stay loaded: theirs are not made to be unloaded. */
    *l = (library){0};
}

static still_status open_library(library *l)
{
    l->cgraph = dlopen(STILL_CGRAPH_LIBRARY, RTLD_NOW | RTLD_LOCAL);
    l->gvc = dlopen(STILL_GVC_LIBRARY, RTLD_NOW | RTLD_LOCAL);
    if (l->cgraph == NULL || l->gvc == NULL || !find_all(l)) return STILL_E_INTERNAL;
    /* Errors come back as statuses; the library must not print. */
    l->agseterr(AGMAX);
    l->context = l->gvContextPlugins(NULL, 0);
    if (l->context == NULL) return STILL_E_NOMEM;
    if (strcmp(l->gvcVersion(l->context), PACKAGE_VERSION) != 0) return STILL_E_INTERNAL;
    still_buf path = STILL_BUF_INIT;
    still_buf_printf(&path, "%s/%s", l->gvconfig_libdir(l->context), STILL_DOT_LIBRARY);
    bool failed = path.failed;
    if (!failed) l->dot = dlopen(path.text, RTLD_NOW | RTLD_LOCAL);
    still_buf_clear(&path);
    if (failed) return STILL_E_NOMEM;
    gvplugin_library_t *module = NULL;
    if (l->dot == NULL || !find(l->dot, "gvplugin_dot_layout_LTX_library", &module))
        return STILL_E_INTERNAL;
    l->gvAddLibrary(l->context, module);
    return STILL_OK;
}

/** Set an attribute of a node to a length given in pixels (the library counts in inches). */
static void set_length(const library *l, Agnode_t *node, Agsym_t *sym, double pixels)
{
    char text[32];
    snprintf(text, sizeof text, "%.4f", pixels / 72.0);
    l->agxset(node, sym, text);
}

static char no_name[] = "";

static void default_of(const library *l, Agraph_t *g, int kind, const char *name, const char *value)
{
    char copy[16];
    snprintf(copy, sizeof copy, "%s", name);
    l->agattr(g, kind, copy, value);
}

/** What a pipe that is not straight costs. */
static const char *weight_of(const still_dia *d, const still_dedge *edge)
{
    bool bend =
        d->nodes[edge->from].kind == STILL_D_BEND || d->nodes[edge->to].kind == STILL_D_BEND;
    if (d->nodes[edge->from].kind == STILL_D_BEND && d->nodes[edge->to].kind == STILL_D_BEND)
        return "60";
    if (edge->straight == 2) return bend ? "30" : "24";
    return bend ? "6" : edge->straight == 1 ? "2" : "1";
}

/** An edge that is not drawn: b in no column before a's; or, with a weight, below it in one column
 *  (the library passes over those without). */
static bool unseen(const library *l, Agraph_t *g, Agnode_t *a, Agnode_t *b, bool below)
{
    char weight_name[] = "weight", length_name[] = "minlen";
    Agedge_t *made = l->agedge(g, a, b, NULL, 1);
    if (made == NULL) return false;
    l->agxset(made, l->agattr(g, AGEDGE, weight_name, NULL), below ? "1" : "0");
    l->agxset(made, l->agattr(g, AGEDGE, length_name, NULL), below ? "1" : "0");
    return true;
}

/** Columns in the order of the sheet. Between two places stands a node that is not drawn, so that
 *  those of one place are free among themselves. */
static still_status order_columns(const library *l, still_dia *d, Agraph_t *g, Agnode_t **nodes)
{
    still_dplace *places = STILL_ARENA_NEW(&d->arena, d->n_nodes, still_dplace);
    size_t n = 0;
    if (places == NULL) return STILL_E_NOMEM;
    for (uint32_t v = 0; v < d->n_nodes; v++)
        if (d->nodes[v].columned) places[n++] = (still_dplace){d->nodes[v].sheet_x, v};
    still_diagram_sort(places, n);
    Agnode_t *gate = NULL;
    for (size_t i = 0, next; i < n; i = next) {
        for (next = i; next < n && places[next].at <= places[i].at; next++)
            if (gate != NULL && !unseen(l, g, gate, nodes[places[next].node], false))
                return STILL_E_NOMEM;
        char name[24];
        snprintf(name, sizeof name, "g%zu", i);
        gate = l->agnode(g, name, 1);
        if (gate == NULL) return STILL_E_NOMEM;
        for (size_t k = i; k < next; k++)
            if (!unseen(l, g, nodes[places[k].node], gate, false)) return STILL_E_NOMEM;
    }
    return STILL_OK;
}

/** The order in each column by the sheet. */
static still_status order_rows(const library *l, still_dia *d, Agraph_t *g, Agnode_t **nodes)
{
    still_dplace *at;
    size_t *first;
    if (still_diagram_sheet_order(d, &at, &first) != STILL_OK) return STILL_E_NOMEM;
    char rank_name[] = "rank";
    Agsym_t *rank = l->agattr(g, AGRAPH, rank_name, "");
    for (uint32_t r = 0; r < d->n_ranks; r++) {
        char name[24];
        snprintf(name, sizeof name, "r%u", r);
        Agraph_t *same = l->agsubg(g, name, 1);
        if (same == NULL) return STILL_E_NOMEM;
        l->agxset(same, rank, "same");
        for (size_t i = first[r]; i < first[r + 1]; i++) {
            if (l->agsubnode(same, nodes[at[i].node], 1) == NULL) return STILL_E_NOMEM;
            if (i > first[r] && !unseen(l, g, nodes[at[i - 1].node], nodes[at[i].node], true))
                return STILL_E_NOMEM;
        }
    }
    return STILL_OK;
}

/** Build the library's graph of all nodes and edges. */
static bool build(const library *l, const still_dia *d, Agraph_t *g, Agnode_t **nodes,
                  bool with_order)
{
    char width_name[] = "width", weight_name[] = "weight", order_name[] = "ordering";
    default_of(l, g, AGRAPH, "splines", "none");
    default_of(l, g, AGRAPH, "nodesep", d->tight ? "0.06" : "0.15");
    default_of(l, g, AGRAPH, "ranksep", "0.3");
    default_of(l, g, AGRAPH, "nslimit", "8");
    default_of(l, g, AGRAPH, "nslimit1", "8");
    /* The first pass is over once columns are known. */
    if (!with_order) default_of(l, g, AGRAPH, "phase", "1");
    default_of(l, g, AGEDGE, "minlen", "1");
    default_of(l, g, AGNODE, "shape", "box");
    default_of(l, g, AGNODE, "label", "");
    default_of(l, g, AGNODE, "fixedsize", "true");
    Agsym_t *width = l->agattr(g, AGNODE, width_name, "0.1");
    Agsym_t *order = l->agattr(g, AGNODE, order_name, "");
    Agsym_t *weight = l->agattr(g, AGEDGE, weight_name, "1");
    for (size_t v = 0; v < d->n_nodes; v++) {
        char name[24];
        snprintf(name, sizeof name, "n%zu", v);
        nodes[v] = l->agnode(g, name, 1);
        if (nodes[v] == NULL) return false;
        set_length(l, nodes[v], width, d->nodes[v].half * 2.0);
        if (with_order && d->nodes[v].ordered && !d->by_sheet) l->agxset(nodes[v], order, "out");
    }
    for (int side = -1; side <= 1; side++)
        for (size_t e = 0; e < d->n_edges; e++) {
            const still_dedge *edge = &d->edges[e];
            if (edge->side != side) continue;
            Agedge_t *made = l->agedge(g, nodes[edge->from], nodes[edge->to], NULL, 1);
            if (made == NULL) return false;
            l->agxset(made, weight, weight_of(d, edge));
        }
    return true;
}

/** One pass: ranks and heights of all nodes. */
static still_status pass(const library *l, still_dia *d, bool with_order)
{
    still_status status = STILL_E_INTERNAL;
    Agnode_t **nodes = still_calloc(d->n_nodes, sizeof *nodes);
    if (nodes == NULL) return STILL_E_NOMEM;
    Agraph_t *g = l->agopen(no_name, *l->directed, NULL);
    if (g == NULL || !build(l, d, g, nodes, with_order)) goto out;
    if (d->by_sheet) {
        status = with_order ? order_rows(l, d, g, nodes) : order_columns(l, d, g, nodes);
        if (status != STILL_OK) goto out;
        status = STILL_E_INTERNAL;
    }
    if (l->gvLayout(l->context, g, "dot") != 0) goto out;
    if (!with_order) d->n_ranks = 0;
    for (size_t v = 0; v < d->n_nodes; v++) {
        int rank = with_order && d->by_sheet ? (int)d->nodes[v].rank : ND_rank(nodes[v]);
        if (rank < 0 || (size_t)rank > 2 * d->n_nodes) goto laid;
        d->nodes[v].rank = (uint32_t)rank;
        d->nodes[v].y = ND_coord(nodes[v]).x;
        if (d->n_ranks <= (uint32_t)rank) d->n_ranks = (uint32_t)rank + 1;
    }
    status = STILL_OK;
laid:
    l->gvFreeLayout(l->context, g);
out:
    if (g != NULL) l->agclose(g);
    still_free(nodes);
    return status;
}

/** Give every edge that passes columns a bend in each of them. */
static still_status add_bends(still_dia *d)
{
    size_t n_edges = d->n_edges;
    for (size_t e = 0; e < n_edges; e++) {
        uint32_t first = d->nodes[d->edges[e].from].rank, last = d->nodes[d->edges[e].to].rank;
        if (first >= last) return STILL_E_INTERNAL;
        uint32_t end = d->edges[e].to, port = d->edges[e].port_to, pipe = d->edges[e].pipe;
        size_t piece = e;
        double y0 = d->nodes[d->edges[e].from].sheet_y, y1 = d->nodes[end].sheet_y;
        for (uint32_t rank = first + 1; rank < last; rank++) {
            uint32_t v = still_diagram_node(d, STILL_D_BEND, pipe);
            if (v == STILL_NONE) return STILL_E_NOMEM;
            d->nodes[v].rank = rank;
            double part = (double)(rank - first) / (double)(last - first);
            d->nodes[v].sheet_y = y0 + (y1 - y0) * part;
            d->nodes[v].half =
                fmax(8.0, pipe == STILL_NONE ? 0.0 : still_diagram_proof_room(d, pipe));
            d->nodes[v].n_left = d->nodes[v].n_right = 1;
            d->edges[piece].to = v;
            d->edges[piece].port_to = STILL_NONE;
            uint8_t straight = d->edges[piece].straight;
            piece = still_diagram_edge(d, v, end, pipe);
            if (piece == STILL_NONE) return STILL_E_NOMEM;
            d->edges[piece].straight = straight;
        }
        d->edges[piece].port_to = port;
    }
    return STILL_OK;
}

still_status still_diagram_layout(still_dia *d)
{
    library l = {0};
    locale_t c = newlocale(LC_ALL_MASK, "C", (locale_t)0);
    if (c == (locale_t)0) return STILL_E_NOMEM;
    locale_t before = uselocale(c);
    still_status status = open_library(&l);
    if (status == STILL_OK) status = pass(&l, d, false);
    if (status == STILL_OK) status = add_bends(d);
    if (status == STILL_OK) status = pass(&l, d, true);
    close_library(&l);
    uselocale(before);
    freelocale(c);
    return status;
}
