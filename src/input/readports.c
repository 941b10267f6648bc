/* Numbering the ports, and joining spools to them.
 * Problem: a fitting's ports may be named by spools only, which may stand anywhere in the file;
 * the ports of a component must be one run of numbers.
 * Method: count the spool ends at such fittings, lay out all runs, then go through the spools in
 * file order and take each end's port. A run of up to FEW ports is searched one by one, a longer
 * one through an index sorted by (component, name), so that a header with very many ports does
 * not make the work quadratic. Cost: O(n log n) at worst. */
#include "reader.h"

#include "alloc.h"

#include <stdlib.h>
#include <string.h>

enum { FEW = 24 };

typedef struct entry {
    uint32_t comp, name, port;
} entry;

typedef struct work {
    still_reader *r;
    still_plant *plant;
    uint8_t *open; /* by component: a fitting whose ports only spools name */
    entry *index;  /* listed ports of the components that have more than FEW */
    size_t n_index, cap_index;
    entry *late; /* ports of long open fittings, with the spool in `port` */
    size_t n_late, cap_late;
} work;

static void report_end(work *w, uint32_t spool, int end, still_code code, const char *what,
                       uint32_t comp, still_name port)
{
    still_plant *p = w->plant;
    const char *id = still_id_of(p, spool);
    if (comp == STILL_NONE) {
        still_report_add(w->r->report, code, p->comps[spool].src, end == 0 ? "from" : "to", id,
                         "spool \"%.80s\": %s", id, what);
        return;
    }
    still_report_add(w->r->report, code, p->comps[spool].src, end == 0 ? "from" : "to", id,
                     "port \"%.80s\" of %s \"%.80s\" %s", still_text(p, port),
                     still_word(STILL_VOC_still_class, p->comps[comp].cls), still_id_of(p, comp),
                     what);
}

/* Component of a spool's end, or STILL_NONE; a problem is reported where `tell` is set. */
static uint32_t comp_of_end(work *w, uint32_t spool, int end, bool tell)
{
    still_end e = w->r->ends[w->plant->comps[spool].a + (uint32_t)end];
    if (e.comp.v == 0) return STILL_NONE;
    uint32_t owner = still_reader_owner(w->r, e.comp);
    const char *id = still_text(w->plant, e.comp);
    const char *at = end == 0 ? "from" : "to", *self = still_id_of(w->plant, spool);
    if (owner == STILL_NONE) {
        if (tell)
            still_report_add(w->r->report, STILL_CODE_REFERENCE, w->plant->comps[spool].src, at,
                             self, "spool \"%.80s\": there is no component \"%.80s\"", self, id);
        return STILL_NONE;
    }
    uint32_t comp = owner & STILL_OWNER_INDEX;
    if (owner >> STILL_OWNER_SHIFT == STILL_OWNER_COMP &&
        w->plant->comps[comp].cls != STILL_CLASS_SPOOL)
        return comp;
    if (tell)
        still_report_add(w->r->report, STILL_CODE_REFERENCE_KIND, w->plant->comps[spool].src, at,
                         self, "spool \"%.80s\": \"%.80s\" has no ports", self, id);
    return STILL_NONE;
}

static const char *const *class_ports(const still_comp *c)
{
    static const char *const abc[] = {"a", "b", "c", NULL};
    if (c->cls == STILL_CLASS_VALVE && c->kind == STILL_KIND_THREE_WAY) return abc;
    return still_elem_of((still_elem)c->cls)->ports;
}

static uint32_t count_of(const char *const *names)
{
    uint32_t n = 0;
    while (names[n] != NULL) n++;
    return n;
}

static int by_name(const void *pa, const void *pb)
{
    const entry *a = pa, *b = pb;
    if (a->comp != b->comp) return a->comp < b->comp ? -1 : 1;
    if (a->name != b->name) return a->name < b->name ? -1 : 1;
    return a->port < b->port ? -1 : a->port > b->port;
}

static bool push(work *w, entry **items, size_t *n, size_t *cap, entry e)
{
    if (!still_grow(items, cap, *n + 1, sizeof(entry))) {
        w->r->status = STILL_E_NOMEM;
        return false;
    }
    (*items)[(*n)++] = e;
    return true;
}

/* Number of ports of every component into its b. */
static bool count_ports(work *w, uint64_t *total)
{
    still_plant *p = w->plant;
    for (uint32_t c = 0; c < p->n_comps; c++) {
        still_comp *comp = &p->comps[c];
        if (comp->cls == STILL_CLASS_SPOOL) continue;
        if (comp->cls == STILL_CLASS_FITTING && comp->b == 0) w->open[c] = 1;
        if (comp->b == 0) comp->b = count_of(class_ports(comp));
    }
    for (uint32_t s = 0; s < p->n_comps; s++) {
        if (p->comps[s].cls != STILL_CLASS_SPOOL) continue;
        for (int end = 0; end < 2; end++) {
            uint32_t c = comp_of_end(w, s, end, true);
            if (c != STILL_NONE && w->open[c]) p->comps[c].b++;
        }
    }
    *total = 0;
    for (uint32_t c = 0; c < p->n_comps; c++)
        if (p->comps[c].cls != STILL_CLASS_SPOOL) *total += p->comps[c].b;
    return *total < STILL_NONE;
}

static void report_twice(work *w, const still_listed *listed, uint32_t comp)
{
    const char *id = still_id_of(w->plant, comp);
    still_report_add(w->r->report, STILL_CODE_ID_TWICE, listed->src, "id", id,
                     "%s \"%.80s\" has a port \"%.80s\" already",
                     still_word(STILL_VOC_still_class, w->plant->comps[comp].cls), id,
                     still_text(w->plant, listed->name));
}

/* Ports with the same id in one component; long runs go into the index on the way. */
static bool check_listed(work *w, uint32_t comp, const still_listed *listed, uint32_t base)
{
    uint32_t n = w->plant->comps[comp].b;
    if (n > FEW) {
        size_t first = w->n_index;
        for (uint32_t i = 0; i < n; i++) {
            if (listed[i].name.v == 0) continue;
            entry e = {comp, listed[i].name.v, base + i};
            if (!push(w, &w->index, &w->n_index, &w->cap_index, e)) return false;
        }
        if (w->n_index > first) qsort(w->index + first, w->n_index - first, sizeof(entry), by_name);
        for (size_t i = first + 1; i < w->n_index; i++)
            if (w->index[i].name == w->index[i - 1].name)
                report_twice(w, &listed[w->index[i].port - base], comp);
        return true;
    }
    for (uint32_t i = 1; i < n; i++)
        for (uint32_t k = 0; k < i; k++)
            if (listed[k].name.v == listed[i].name.v && listed[i].name.v != 0) {
                report_twice(w, &listed[i], comp);
                break;
            }
    return true;
}

/* Lay the ports out, component by component. */
static bool lay_out(work *w)
{
    still_plant *p = w->plant;
    uint32_t base = 0;
    for (uint32_t c = 0; c < p->n_comps; c++) {
        still_comp *comp = &p->comps[c];
        if (comp->cls == STILL_CLASS_SPOOL) continue;
        const still_listed *listed = w->r->listed != NULL ? w->r->listed + comp->a : NULL;
        const char *const *names = class_ports(comp);
        bool given = names[0] != NULL;
        float own = (float)still_comp_q(p, c, STILL_Q_ELEVATION_M);
        if (!given && !w->open[c] && comp->b > 1 && !check_listed(w, c, listed, base)) return false;
        for (uint32_t i = 0; i < comp->b; i++) {
            still_port port = {
                .comp = c, .spool = STILL_NONE, .side = STILL_NONE, .elevation_m = own};
            if (given) {
                if (!still_names_add(&p->names, names[i], strlen(names[i]), &port.name))
                    return false;
            } else if (!w->open[c]) {
                port.name = listed[i].name;
                port.side = listed[i].side;
                if (!isnan(listed[i].elevation_m)) port.elevation_m = listed[i].elevation_m;
            }
            p->ports[base + i] = port;
        }
        comp->a = base;
        base += comp->b;
        if (w->open[c]) comp->b = 0;
    }
    return true;
}

static uint32_t find_port(const work *w, uint32_t comp, still_name name)
{
    const still_comp *c = &w->plant->comps[comp];
    if (c->b <= FEW || w->open[comp]) {
        for (uint32_t i = 0; i < c->b; i++)
            if (w->plant->ports[c->a + i].name.v == name.v) return c->a + i;
        return STILL_NONE;
    }
    size_t lo = 0, hi = w->n_index;
    while (lo < hi) {
        size_t mid = lo + (hi - lo) / 2;
        const entry *e = &w->index[mid];
        if (e->comp < comp || (e->comp == comp && e->name < name.v))
            lo = mid + 1;
        else
            hi = mid;
    }
    if (lo == w->n_index || w->index[lo].comp != comp || w->index[lo].name != name.v)
        return STILL_NONE;
    return w->index[lo].port;
}

/* Port of an open fitting: a new one, unless a spool named it before. */
static uint32_t open_port(work *w, uint32_t comp, uint32_t spool, still_name name)
{
    still_comp *c = &w->plant->comps[comp];
    if (c->b <= FEW) {
        uint32_t port = find_port(w, comp, name);
        if (port != STILL_NONE) return port;
    }
    uint32_t port = c->a + c->b++;
    w->plant->ports[port].name = name;
    if (c->b > FEW) {
        /* The first of a long run go in when it becomes long. */
        for (uint32_t i = c->b == FEW + 1 ? 0 : c->b - 1; i < c->b; i++) {
            const still_port *q = &w->plant->ports[c->a + i];
            entry e = {comp, q->name.v, i + 1 == c->b ? spool : q->spool};
            if (!push(w, &w->late, &w->n_late, &w->cap_late, e)) return STILL_NONE;
        }
    }
    return port;
}

static void join(work *w, uint32_t spool, int end, still_name port_name, uint32_t comp)
{
    uint32_t port =
        w->open[comp] ? open_port(w, comp, spool, port_name) : find_port(w, comp, port_name);
    if (w->r->status != STILL_OK) return;
    if (port == STILL_NONE) {
        report_end(w, spool, end, STILL_CODE_PORT, "does not exist", comp, port_name);
        return;
    }
    still_port *p = &w->plant->ports[port];
    if (p->spool != STILL_NONE) {
        report_end(w, spool, end, STILL_CODE_PORT_TAKEN, "is joined to another spool already", comp,
                   port_name);
        return;
    }
    p->spool = spool;
    if (end == 0)
        w->plant->comps[spool].a = port;
    else
        w->plant->comps[spool].b = port;
}

static void join_spool(work *w, uint32_t s)
{
    still_plant *p = w->plant;
    still_end ends[2] = {w->r->ends[p->comps[s].a], w->r->ends[p->comps[s].a + 1]};
    uint32_t comp[2] = {comp_of_end(w, s, 0, false), comp_of_end(w, s, 1, false)};
    p->comps[s].a = p->comps[s].b = STILL_NONE;
    if (comp[0] != STILL_NONE && comp[0] == comp[1] && ends[0].port.v == ends[1].port.v) {
        report_end(w, s, 1, STILL_CODE_PORT_SELF, "is joined to itself", comp[1], ends[1].port);
        return;
    }
    for (int end = 0; end < 2; end++)
        if (comp[end] != STILL_NONE) join(w, s, end, ends[end].port, comp[end]);
}

/* Ports of long open fittings that two spools name. */
static void check_late(work *w)
{
    if (w->n_late > 1) qsort(w->late, w->n_late, sizeof(entry), by_name);
    for (size_t i = 1; i < w->n_late; i++) {
        const entry *e = &w->late[i], *before = e - 1;
        if (e->comp != before->comp || e->name != before->name) continue;
        uint32_t s = e->port; /* the later spool in the file */
        uint32_t from = w->plant->comps[s].a;
        bool at_from = from != STILL_NONE && w->plant->ports[from].comp == e->comp &&
                       w->plant->ports[from].name.v == e->name;
        report_end(w, s, at_from ? 0 : 1, STILL_CODE_PORT_TAKEN,
                   "is joined to another spool already", e->comp, (still_name){e->name});
    }
}

void still_reader_ports(still_reader *r)
{
    work w = {.r = r, .plant = r->plant};
    still_plant *p = r->plant;
    uint64_t total = 0;
    w.open = still_calloc(p->n_comps, 1);
    if (w.open == NULL) goto nomem;
    if (!count_ports(&w, &total)) {
        r->status = STILL_E_LIMIT;
        goto out;
    }
    p->ports = still_calloc((size_t)total, sizeof p->ports[0]);
    if (p->ports == NULL) goto nomem;
    p->n_ports = (uint32_t)total;
    if (!lay_out(&w)) goto nomem;
    still_free(r->listed);
    r->listed = NULL;
    for (uint32_t s = 0; s < p->n_comps && r->status == STILL_OK; s++)
        if (p->comps[s].cls == STILL_CLASS_SPOOL) join_spool(&w, s);
    if (r->status == STILL_OK) check_late(&w);
    goto out;
nomem:
    r->status = STILL_E_NOMEM;
out:
    still_free(w.open);
    still_free(w.index);
    still_free(w.late);
}
