/* Numbering the ports, and joining spools to them.
 * Problem: a fitting's ports may be named by spools only, which may stand anywhere in the file;
 * the ports of a component must be one run of numbers.
 * Method: count the spool ends at such fittings, lay out all runs, then go through the spools in
 * file order and take each end's port. A run of up to FEW ports is searched one by one, a longer
 * one through an index sorted by (component, name), so that a header with very many ports does
 * not make the work quadratic. Most ports are an "in" or "out" of which nothing else is said:
 * what is said of a port is kept once for all of which the same is said.
 * Cost: O(n log n) at worst. */
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
    still_name fixed[5]; /* names of ports that classes give, as in fixed_names */
    uint32_t *slots;     /* port kinds: open addressing; number and 1, 0 = free */
    uint32_t n_slots;
    size_t cap_kinds;
} work;

static const char *const fixed_names[] = {"in", "out", "a", "b", "c"};

static uint32_t slot_of_kind(const work *w, const still_port_kind *k)
{
    uint32_t height;
    memcpy(&height, &k->elevation_m, sizeof height);
    uint64_t h = (k->name.v ^ (uint64_t)k->side << 32 ^ (uint64_t)height << 16) *
                 0x9E3779B97F4A7C15u; /* multiplicative hashing (Knuth, TAOCP 6.4) */
    uint32_t i = (uint32_t)(h >> 32) & (w->n_slots - 1);
    for (; w->slots[i] != 0; i = (i + 1) & (w->n_slots - 1)) {
        const still_port_kind *have = &w->plant->port_kinds[w->slots[i] - 1];
        if (have->name.v == k->name.v && have->side == k->side &&
            memcmp(&have->elevation_m, &k->elevation_m, sizeof height) == 0)
            break;
    }
    return i;
}

static bool grow_kinds(work *w)
{
    still_plant *p = w->plant;
    uint32_t n = w->n_slots == 0 ? 64 : w->n_slots * 2;
    uint32_t *fresh = still_calloc(n, sizeof fresh[0]);
    if (fresh == NULL) return false;
    still_free(w->slots);
    w->slots = fresh;
    w->n_slots = n;
    for (uint32_t i = 0; i < p->n_port_kinds; i++)
        fresh[slot_of_kind(w, &p->port_kinds[i])] = i + 1;
    return true;
}

/* Number of a port kind, a new one if need be. Sets the reader's status when memory is out. */
static uint32_t kind_of(work *w, still_port_kind k)
{
    still_plant *p = w->plant;
    if (isnan(k.elevation_m)) k.elevation_m = NAN; /* one pattern of bits for "not said" */
    if ((p->n_port_kinds >= w->n_slots / 3 * 2 && !grow_kinds(w)) ||
        !still_grow(&p->port_kinds, &w->cap_kinds, (size_t)p->n_port_kinds + 1, sizeof k)) {
        w->r->status = STILL_E_NOMEM;
        return 0;
    }
    uint32_t i = slot_of_kind(w, &k);
    if (w->slots[i] == 0) {
        p->port_kinds[p->n_port_kinds++] = k;
        w->slots[i] = p->n_port_kinds;
    }
    return w->slots[i] - 1;
}

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

static uint32_t end_comp(const still_comp *spool, int end)
{
    return end == 0 ? spool->a : spool->b;
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
            uint32_t c = end_comp(&p->comps[s], end);
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

static still_name fixed_name(const work *w, const char *name)
{
    size_t i = 0;
    while (strcmp(fixed_names[i], name) != 0) i++;
    return w->fixed[i];
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
            still_port_kind kind = {.side = STILL_NONE, .elevation_m = own};
            if (given) {
                kind.name = fixed_name(w, names[i]);
            } else if (!w->open[c]) {
                kind.name = listed[i].name;
                kind.side = listed[i].side;
                if (!isnan(listed[i].elevation_m)) kind.elevation_m = listed[i].elevation_m;
            }
            p->ports[base + i] =
                (still_port){.comp = c, .spool = STILL_NONE, .kind = kind_of(w, kind)};
            if (w->r->status != STILL_OK) return false;
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
            if (still_port_name(w->plant, c->a + i).v == name.v) return c->a + i;
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
    still_port_kind kind = w->plant->port_kinds[w->plant->ports[port].kind];
    kind.name = name;
    w->plant->ports[port].kind = kind_of(w, kind);
    if (w->r->status != STILL_OK) return STILL_NONE;
    if (c->b > FEW) {
        /* The first of a long run go in when it becomes long. */
        for (uint32_t i = c->b == FEW + 1 ? 0 : c->b - 1; i < c->b; i++) {
            entry e = {comp, still_port_name(w->plant, c->a + i).v,
                       i + 1 == c->b ? spool : w->plant->ports[c->a + i].spool};
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

/* names: of the ports at both ends of the spool. */
static void join_spool(work *w, uint32_t s, const still_name *names)
{
    still_comp *spool = &w->plant->comps[s];
    uint32_t comp[2] = {spool->a, spool->b};
    spool->a = spool->b = STILL_NONE;
    if (comp[0] != STILL_NONE && comp[0] == comp[1] && names[0].v == names[1].v) {
        report_end(w, s, 1, STILL_CODE_PORT_SELF, "is joined to itself", comp[1], names[1]);
        return;
    }
    for (int end = 0; end < 2; end++)
        if (comp[end] != STILL_NONE) join(w, s, end, names[end], comp[end]);
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
                       still_port_name(w->plant, from).v == e->name;
        report_end(w, s, at_from ? 0 : 1, STILL_CODE_PORT_TAKEN,
                   "is joined to another spool already", e->comp, (still_name){e->name});
    }
}

void still_reader_ports(still_reader *r)
{
    work w = {.r = r, .plant = r->plant};
    still_plant *p = r->plant;
    uint64_t total = 0;
    for (size_t i = 0; i < sizeof fixed_names / sizeof fixed_names[0]; i++)
        if (!still_names_add(&p->names, fixed_names[i], strlen(fixed_names[i]), &w.fixed[i]))
            goto nomem;
    still_names_close(&p->names); /* the last name is in */
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
    for (uint32_t s = 0, e = 0, odd = 0; s < p->n_comps && r->status == STILL_OK; s++) {
        if (p->comps[s].cls != STILL_CLASS_SPOOL) continue;
        still_name names[2];
        for (int end = 0; end < 2; end++, e++)
            names[end] =
                r->ends[e] == STILL_END_ODD ? r->odd_ends[odd++] : (still_name){r->ends[e]};
        join_spool(&w, s, names);
    }
    still_free(r->ends);
    still_free(r->odd_ends);
    r->ends = NULL;
    r->odd_ends = NULL;
    if (r->status == STILL_OK) check_late(&w);
    goto out;
nomem:
    r->status = STILL_E_NOMEM;
out:
    still_free(w.open);
    still_free(w.index);
    still_free(w.late);
    still_free(w.slots);
}
