/* The proof (I5): as many pressure paths as points, feeds aside.
 *
 * Why this proves that fewer points do not do: each path leads from a source that must stay
 * outside to the target. Whatever set of points is taken, the path enters the inside at one of
 * them for the last time, and that device holds against where the path comes from. No two paths
 * share a device that holds in the direction of the path; so each needs a point of its own.
 *
 * Method: the ids of a path are followed as a set of ports that one may stand at. A component is
 * passed only between ports that METHOD section 1, first column, joins. */
#include "verify_rules.h"

#include <string.h>

/* The ports that one may stand at: marked by the number of the round. */
typedef struct stand {
    uint32_t *mark; /**< by port */
    uint32_t round;
} stand;

typedef struct proof {
    stand at;
    uint32_t *device_path; /**< by component and layer (two each): 1 + path that needs it for
                                itself in that layer */
    uint32_t *spool_path;  /**< by component: 1 + path on which this spool was met last */
    uint32_t *feed_path;   /**< by isolator: 1 + path that begins with it */
} proof;

/* May one who stands at `port` of a component leave it by `other`? */
static bool joined(const still_verify *v, uint32_t comp, uint32_t port, uint32_t other)
{
    if (port == other) return true;
    still_verify_join j = still_verify_plain_join(v, comp);
    if (j == STILL_VERIFY_SIDES)
        return still_port_side(v->plant, port) == still_port_side(v->plant, other);
    return j == STILL_VERIFY_ALL;
}

/* From a component to the spool that comes next. @return port by which one leaves, or none */
static uint32_t leave(const still_verify *v, const stand *at, uint32_t comp, uint32_t spool,
                      uint32_t *entered)
{
    const still_comp *s = &v->plant->comps[spool], *c = &v->plant->comps[comp];
    uint32_t ends[2] = {s->a, s->b};
    for (int e = 0; e < 2; e++) {
        if (v->plant->ports[ends[e]].comp != comp) continue;
        if (at->mark[ends[e]] == at->round) { /* one stands there: nothing is crossed */
            *entered = ends[e];
            return ends[e];
        }
        for (uint32_t k = 0; k < c->b; k++)
            if (at->mark[c->a + k] == at->round && joined(v, comp, c->a + k, ends[e])) {
                *entered = c->a + k;
                return ends[e];
            }
    }
    return STILL_NONE;
}

/* Stand at the beginning of a path: where its source is, or at an open end, or at all of a
 * component that a feed supplies. @return false when that is no source outside */
static bool begin(still_verify *v, proof *pr, uint32_t comp, bool by_feed)
{
    const still_plant *p = v->plant;
    const still_comp *c = &p->comps[comp];
    bool any = false;
    pr->at.round++;
    if (c->cls == STILL_CLASS_SPOOL) {
        if (!by_feed || (v->where[comp] & STILL_VERIFY_AT_WORK)) return false;
        pr->at.mark[c->a] = pr->at.mark[c->b] = pr->at.round;
        return true;
    }
    if (!by_feed && v->taken[comp]) return false; /* not outside */
    bool source = by_feed || still_verify_source_of(v, comp) != STILL_VERIFY_NO_SOURCE;
    for (uint32_t k = 0; k < c->b; k++) {
        uint32_t port = c->a + k;
        if (still_verify_met(&v->inside, port)) {
            if (source && !v->barrier[comp]) return false; /* not outside */
            continue;
        }
        if (!source && !still_verify_open_end(v, port)) continue;
        pr->at.mark[port] = pr->at.round;
        any = true;
    }
    return any;
}

/* Layer of the path at one of its ids; a plain path has but one. */
static uint32_t layer_at(const still_proof_path *path, size_t i)
{
    return path->layers == NULL ? 1 : path->layers[i];
}

/* May the device be a point of that layer? */
static bool admissible(const still_verify *v, uint32_t comp, uint32_t layer)
{
    if (still_verify_asks_positive(v) && layer == 1 && v->positive[comp]) return true;
    if (v->grade == STILL_VERIFY_POSITIVE && !v->mixed && layer == 1) return false;
    return v->closable[comp] || v->fork[comp];
}

/* A device on a path belongs to it alone in the layer, if it may be a point of that layer, holds
 * against where the path comes from, and is not crossed free, with a layer that rises over it. */
static void claim(still_verify *v, proof *pr, size_t path, size_t at, uint32_t comp,
                  uint32_t entered)
{
    const still_proof_path *p = &v->rec->proof.paths[path];
    const char *id = still_id_of(v->plant, comp);
    uint32_t live = layer_at(p, at > 0 ? at - 1 : at);
    uint32_t layer = layer_at(p, at + 1 < p->ids.n ? at + 1 : at);
    if (live > layer || layer < 1 || layer > 2 || !admissible(v, comp, layer)) return;
    if (!still_verify_holds(v, comp, entered)) return;
    uint32_t *mine = &pr->device_path[2 * (size_t)comp + layer - 1];
    if (*mine != 0 && *mine != path + 1)
        still_verify_against(v, "I5", id,
                             "paths %u and %zu of the proof share device %s in layer %u",
                             (unsigned)*mine, path + 1, id, (unsigned)layer);
    *mine = (uint32_t)path + 1;
}

/* A path ends at what is opened: where it stands, or beyond the device that it ends with. */
static bool ends_at_work(still_verify *v, proof *pr, size_t path, uint32_t comp, uint32_t left)
{
    const still_comp *c = &v->plant->comps[comp];
    if (v->whole[comp]) return true;
    if (c->cls == STILL_CLASS_SPOOL) return left != STILL_NONE && v->work_port[left];
    for (uint32_t k = 0; k < c->b; k++)
        if (pr->at.mark[c->a + k] == pr->at.round && v->work_port[c->a + k]) return true;
    for (uint32_t k = 0; k < c->b; k++)
        for (uint32_t m = 0; m < c->b; m++) {
            if (pr->at.mark[c->a + k] != pr->at.round || !v->work_port[c->a + m] ||
                !joined(v, comp, c->a + k, c->a + m))
                continue;
            claim(v, pr, path, v->rec->proof.paths[path].ids.n - 1, comp, c->a + k);
            return true;
        }
    return false;
}

/* Both ports stand in this set of a three-way valve, such as "a-c". */
static bool names_both(const still_verify *v, const char *set, size_t len, uint32_t p, uint32_t q)
{
    const char *a = still_text(v->plant, still_port_name(v->plant, p));
    const char *b = still_text(v->plant, still_port_name(v->plant, q));
    return memchr(set, a[0], len) != NULL && memchr(set, b[0], len) != NULL;
}

/* A three-way valve parts two ports only in a position that does not join them. */
static bool can_part(const still_verify *v, uint32_t comp, uint32_t p, uint32_t q)
{
    const still_comp *c = &v->plant->comps[comp];
    if (c->cls != STILL_CLASS_VALVE || c->kind != STILL_KIND_THREE_WAY) return true;
    for (const char *set = still_comp_t(v->plant, comp, STILL_T_POSITIONS); *set != '\0';) {
        size_t len = strcspn(set, " ");
        if (!names_both(v, set, len, p, q)) return true;
        set += len;
        while (*set == ' ') set++;
    }
    return false;
}

/* Port by which a pipe is joined to a component. */
static uint32_t end_at(const still_verify *v, const char *pipe, uint32_t comp)
{
    uint32_t spool = still_verify_comp(v, pipe);
    if (spool == STILL_NONE || v->plant->comps[spool].cls != STILL_CLASS_SPOOL) return STILL_NONE;
    uint32_t a = v->plant->comps[spool].a, b = v->plant->comps[spool].b;
    if (v->plant->ports[a].comp == comp) return a;
    return v->plant->ports[b].comp == comp ? b : STILL_NONE;
}

/* The k-th id is a three-way valve that stands so that the path passes it. */
static bool passed_open(const still_verify *v, still_strings ids, size_t k, uint32_t comp)
{
    if (v->set_to[comp] == NULL || k == 0 || k + 1 >= ids.n) return false;
    uint32_t in = end_at(v, ids.items[k - 1], comp), out = end_at(v, ids.items[k + 1], comp);
    if (in == STILL_NONE || out == STILL_NONE) return false;
    return names_both(v, v->set_to[comp], strlen(v->set_to[comp]), in, out);
}

static bool follow(still_verify *v, proof *pr, size_t path, still_strings ids, size_t first)
{
    uint32_t comp = still_verify_comp(v, ids.items[first]), left = STILL_NONE;
    for (size_t i = first + 1; i < ids.n; i++) {
        uint32_t next = still_verify_comp(v, ids.items[i]);
        if (comp == STILL_NONE || next == STILL_NONE) return false;
        const still_comp *c = &v->plant->comps[comp], *n = &v->plant->comps[next];
        if (c->cls == STILL_CLASS_SPOOL) {
            bool a = pr->at.mark[c->a] == pr->at.round, b = pr->at.mark[c->b] == pr->at.round;
            pr->at.round++;
            if (a && v->plant->ports[c->a].comp == next)
                pr->at.mark[c->a] = pr->at.round;
            else if (b && v->plant->ports[c->b].comp == next)
                pr->at.mark[c->b] = pr->at.round;
            else
                return false;
            if (i - 1 > first) claim(v, pr, path, i - 1, comp, a ? c->b : c->a);
        } else {
            uint32_t entered = STILL_NONE;
            if (n->cls != STILL_CLASS_SPOOL) return false;
            left = leave(v, &pr->at, comp, next, &entered);
            if (left == STILL_NONE || pr->spool_path[next] == path + 1) return false;
            pr->spool_path[next] = (uint32_t)path + 1;
            if (entered != left && can_part(v, comp, entered, left))
                claim(v, pr, path, i - 1, comp, entered);
            uint32_t across = still_port_across(v->plant, left);
            pr->at.round++;
            pr->at.mark[across] = pr->at.round;
        }
        comp = next;
    }
    return ends_at_work(v, pr, path, comp, left);
}

/* From the work toward the source a layer never falls; the last one is not above the levels that
 * the source's demand has, and 1 for a feed, which would come inside. */
static void layers_of_path(still_verify *v, size_t i, bool feed)
{
    const still_proof_path *p = &v->rec->proof.paths[i];
    uint32_t most = feed ? 1 : still_verify_layers_for(v, p->ids.items[0]);
    if (p->layers == NULL) return;
    for (size_t k = 0; k < p->ids.n; k++) {
        const char *id = p->ids.items[k];
        if (p->layers[k] < 1 || p->layers[k] > v->n_levels)
            still_verify_against(v, "I5", id, "path %zu of the proof: no layer %u", i + 1,
                                 (unsigned)p->layers[k]);
        if (k > 0 && p->layers[k - 1] < p->layers[k])
            still_verify_against(v, "I5", id,
                                 "path %zu of the proof: the layer falls toward the "
                                 "source at %s",
                                 i + 1, id);
    }
    size_t first = feed && p->ids.n > 1 ? 1 : 0;
    if (p->layers[first] > most)
        still_verify_against(v, "I5", p->ids.items[first],
                             "path %zu of the proof ends in layer %u, where %u are asked for",
                             i + 1, (unsigned)p->layers[first], (unsigned)most);
}

/* A path may begin with a feed that is left on and supplies the next component. */
static bool begin_feed(still_verify *v, proof *pr, size_t path, still_strings ids, uint32_t feed)
{
    const still_feed *f = &v->plant->feeds[feed];
    uint32_t isolator = v->isolator_of[feed];
    if (v->locked[isolator] || ids.n < 2) return false;
    if (pr->feed_path[isolator] != 0) return false;
    pr->feed_path[isolator] = (uint32_t)path + 1;
    uint32_t comp = still_verify_comp(v, ids.items[1]);
    for (uint32_t k = 0; k < f->n_refs; k++)
        if (v->plant->refs[f->ref0 + k] == comp) return begin(v, pr, comp, true);
    return false;
}

/* The path comes to an opened joint by this pipe: the device that has the joint is not crossed. */
static bool ends_at_joint(const still_verify *v, const char *pipe)
{
    uint32_t spool = still_verify_comp(v, pipe);
    if (spool == STILL_NONE || v->plant->comps[spool].cls != STILL_CLASS_SPOOL) return false;
    return v->work_port[v->plant->comps[spool].a] || v->work_port[v->plant->comps[spool].b];
}

/* A plain path crosses one point, its own. */
static void one_point_on(still_verify *v, size_t i, const char *text)
{
    const still_proof_path *path = &v->rec->proof.paths[i];
    size_t crossed = 0;
    bool right = false;
    for (size_t k = 0; k < path->ids.n; k++) {
        uint32_t c = still_verify_comp(v, path->ids.items[k]);
        if (c == STILL_NONE || !v->barrier[c]) continue;
        if (passed_open(v, path->ids, k, c)) continue;
        if (k + 1 == path->ids.n && k > 0 && ends_at_joint(v, path->ids.items[k - 1])) continue;
        crossed++;
        if (strcmp(path->point, path->ids.items[k]) == 0) right = true;
    }
    if (crossed != 1 || !right)
        still_verify_against(v, "I5", path->point,
                             "path %zu of the proof crosses %zu points, or not its own: %s", i + 1,
                             crossed, text);
}

static void one_path(still_verify *v, proof *pr, size_t i)
{
    const still_proof_path *path = &v->rec->proof.paths[i];
    const char *text = still_verify_list(v, path->ids);
    if (path->ids.n == 0) {
        still_verify_against(v, "I5", path->point, "path %zu of the proof is empty", i + 1);
        return;
    }
    uint32_t feed = still_verify_feed(v, path->ids.items[0]);
    uint32_t comp = still_verify_comp(v, path->ids.items[0]);
    bool begins = feed != STILL_NONE   ? begin_feed(v, pr, i, path->ids, feed)
                  : comp != STILL_NONE ? begin(v, pr, comp, false)
                                       : false;
    if (!begins) {
        still_verify_against(v, "I5", path->ids.items[0],
                             "path %zu of the proof begins at no source outside: %s", i + 1, text);
        return;
    }
    if (!follow(v, pr, i, path->ids, feed != STILL_NONE ? 1 : 0))
        still_verify_against(v, "I5", path->point, "path %zu of the proof is not joined: %s", i + 1,
                             text);
    layers_of_path(v, i, feed != STILL_NONE);
    if (strcmp(v->rec->proof.kind, "paths") == 0) one_point_on(v, i, text);
}
static void proof_feeds(still_verify *v)
{
    const still_record *r = v->rec;
    size_t n = 0;
    for (size_t i = 0; i < r->n_points; i++) {
        if (r->points[i].action != STILL_ACTION_SWITCH_OFF) continue;
        n++;
        if (!still_verify_in(r->proof.feeds, r->points[i].id))
            still_verify_against(v, "I5", r->points[i].id,
                                 "the proof leaves out locked feed \"%s\"", r->points[i].id);
    }
    if (n != r->proof.feeds.n)
        still_verify_against(v, "I5", "", "the proof counts %zu feeds, locked are %zu",
                             r->proof.feeds.n, n);
}

/* A search cannot be done again here: what it claims is the record's own word, and no proof. */
static void searched(still_verify *v)
{
    const still_record *r = v->rec;
    size_t shown = r->proof.bound + r->proof.feeds.n;
    if (r->proof.lower_bound > r->cost_points || shown > r->cost_points)
        still_verify_against(v, "I5", "",
                             "a lower bound of %u, paths and feeds for %zu, but %u points",
                             (unsigned)r->proof.lower_bound, shown, (unsigned)r->cost_points);
}

void still_verify_proof(still_verify *v)
{
    const still_record *r = v->rec;
    proof pr = {.at = {.mark = still_verify_room(v, v->plant->n_ports, sizeof(uint32_t))}};
    pr.device_path = still_verify_room(v, 2 * (size_t)v->plant->n_comps, sizeof(uint32_t));
    pr.spool_path = still_verify_room(v, v->plant->n_comps, sizeof(uint32_t));
    pr.feed_path = still_verify_room(v, v->plant->n_feeds, sizeof(uint32_t));
    if (v->nomem) return;
    bool search = strcmp(r->proof.kind, "search") == 0;
    if (!search && strcmp(r->proof.kind, "paths") != 0 && strcmp(r->proof.kind, "layered") != 0)
        still_verify_against(v, "I5", "", "unknown kind of proof \"%s\"", r->proof.kind);
    for (size_t i = 0; i < r->proof.n_paths; i++) one_path(v, &pr, i);
    proof_feeds(v);
    if (r->proof.n_paths != r->proof.bound)
        still_verify_against(v, "I5", "", "%zu paths for a bound of %u", r->proof.n_paths,
                             (unsigned)r->proof.bound);
    if (search)
        searched(v);
    else if (r->proof.bound + r->proof.feeds.n != r->cost_points)
        still_verify_against(v, "I5", "", "bound %u and %zu feeds do not make %u points",
                             (unsigned)r->proof.bound, r->proof.feeds.n, (unsigned)r->cost_points);
}
