/* What stays live beside the work (I8). */
#include "assemble.h"

#include "alloc.h"
#include "describe.h"
#include "zone.h"

#include <stdlib.h>
#include <string.h>

#define SAY(...) still_arena_printf(a->arena, __VA_ARGS__)

/* Marks by component: 1 = inside or a point, 2 = listed. */
typedef struct neighbourhood {
    still_assembly *a;
    uint8_t *mark;
    still_live_item *list;
    size_t n, cap;
    uint32_t *queue;
    uint8_t *seen;
} neighbourhood;

static void list_live(neighbourhood *h, uint32_t comp, bool look_alike, const char *why)
{
    still_assembly *a = h->a;
    if (h->mark[comp] != 0) return;
    h->mark[comp] = 2;
    if (why == NULL || !still_grow(&h->list, &h->cap, h->n + 1, sizeof h->list[0])) {
        a->failed = true;
        return;
    }
    h->list[h->n++] = (still_live_item){
        still_id_of(a->plant, comp), still_comp_t(a->plant, comp, STILL_T_PLACE), why, look_alike};
}

static bool source(const still_assembly *a, uint32_t comp)
{
    return still_source_of(a->plant, a->state, comp) != STILL_SOURCE_NONE;
}

/* "globe valve DN50 next to HV-1: not a point, do not take it for one"; a faulty one is named so
 * (D6). */
static const char *look_alike_text(still_assembly *a, uint32_t comp, const char *where)
{
    still_condition condition = still_condition_now(a->plant, a->state, comp);
    const char *what = still_describe_named(a->arena, a->plant, comp);
    if (what == NULL || where == NULL) return NULL;
    for (size_t i = 0; i < a->record->n_points; i++)
        if (strcmp(a->record->points[i].id, still_id_of(a->plant, comp)) == 0)
            return SAY("%s %s: no point, but opened for this work under tag %u", what, where,
                       a->record->points[i].tag);
    if (condition == STILL_CONDITION_SOUND)
        return SAY("%s %s: not a point, do not take it for one", what, where);
    return SAY(
        "%s %s: marked %s, so no isolation point (D6); do not take it for one", what, where,
        still_arena_word(a->arena, still_word(STILL_VOC_still_condition, (unsigned)condition)));
}

/* A valve that a person could take for a point: any stop valve. */
static bool look_alike(const still_assembly *a, uint32_t comp)
{
    return a->plant->comps[comp].cls == STILL_CLASS_VALVE &&
           still_kind_stops(a->plant->comps[comp].kind);
}

/* One that a person could open instead of the target: of its kind, class and drive. */
static bool like_target(const still_assembly *a, uint32_t comp)
{
    const still_comp *c = &a->plant->comps[comp];
    const still_targets *targets = a->iso->zone.targets;
    if (c->cls == STILL_CLASS_SPOOL || c->cls == STILL_CLASS_OUTLET) return false;
    for (size_t i = 0; i < targets->n; i++) {
        const still_comp *t = &a->plant->comps[targets->items[i].comp];
        if (targets->items[i].comp != comp && t->cls == c->cls && t->kind == c->kind &&
            t->drive == c->drive)
            return true;
    }
    return false;
}

/* One whose manual opening could be used instead of that of a device under a tag: id of that one,
 * or NULL. */
static const char *like_opened(const still_assembly *a, uint32_t comp)
{
    const still_comp *c = &a->plant->comps[comp];
    if (c->cls != STILL_CLASS_VALVE || (still_kind_stops(c->kind) && still_by_hand(c))) return NULL;
    const char *found = NULL;
    for (size_t i = 0; i < a->record->n_points; i++) {
        const still_point *p = &a->record->points[i];
        uint32_t other = still_plant_find(a->plant, p->id).v;
        if (other == comp) return NULL;
        if (found != NULL || p->action != STILL_ACTION_OPEN || other == STILL_NONE) continue;
        const still_comp *o = &a->plant->comps[other];
        if (o->cls == c->cls && o->kind == c->kind && o->drive == c->drive) found = p->id;
    }
    return found;
}

static void visit(neighbourhood *h, size_t *tail, uint32_t port)
{
    if (h->seen[port]) return;
    h->seen[port] = 1;
    h->queue[(*tail)++] = port;
}

/* Pipes and sources that stand directly against a point: walk from its live side up to the next
 * device. */
static void walk_beyond(neighbourhood *h, uint32_t point, uint32_t outer)
{
    still_assembly *a = h->a;
    const still_plant *plant = a->plant;
    const char *id = still_id_of(plant, point);
    size_t tail = 0;
    visit(h, &tail, outer);
    for (size_t head = 0; head < tail && !a->failed; head++) {
        uint32_t port = h->queue[head], comp = plant->ports[port].comp,
                 spool = plant->ports[port].spool;
        const still_comp *c = &plant->comps[comp];
        if (spool != STILL_NONE) {
            list_live(h, spool, false, SAY("pipe under pressure beyond %s", id));
            visit(h, &tail, still_port_across(plant, port));
        }
        if (comp == point) continue;
        still_note_unknown_beyond(a, comp);
        if (c->cls == STILL_CLASS_EXCHANGER)
            list_live(
                h, comp, false,
                SAY("%s under pressure beyond %s", still_describe_comp(a->arena, plant, comp), id));
        if (source(a, comp))
            list_live(h, comp, false,
                      SAY("%s beyond %s", still_describe_comp(a->arena, plant, comp), id));
        if (c->cls == STILL_CLASS_VALVE || c->cls == STILL_CLASS_BLIND) {
            if (look_alike(a, comp))
                list_live(h, comp, true,
                          look_alike_text(a, comp, SAY("joined to the live side of %s", id)));
            continue;
        }
        if (c->cls != STILL_CLASS_FITTING && c->cls != STILL_CLASS_EXCHANGER) continue;
        for (uint32_t i = 0; i < c->b; i++)
            if (c->cls == STILL_CLASS_FITTING ||
                still_port_side(plant, c->a + i) == still_port_side(plant, port))
                visit(h, &tail, c->a + i);
    }
}

static bool is_near(const still_record *r, const char *place)
{
    bool near = place[0] != '\0' && strcmp(place, r->target_place) == 0;
    for (size_t i = 0; i < r->n_points && !near && place[0] != '\0'; i++)
        near = r->points[i].level > 0 && strcmp(place, r->points[i].place) == 0;
    return near;
}

/* Live things that share a place with the target or a point. */
static void same_place(neighbourhood *h)
{
    still_assembly *a = h->a;
    const still_record *r = a->record;
    for (uint32_t comp = 0; comp < a->plant->n_comps && !a->failed; comp++) {
        uint8_t cls = a->plant->comps[comp].cls;
        const still_comp *c = &a->plant->comps[comp];
        bool pipe = cls == STILL_CLASS_SPOOL;
        bool near = h->mark[comp] == 0 && is_near(r, still_comp_t(a->plant, comp, STILL_T_PLACE));
        /* A pipe stands where one of its ends does, too. */
        for (int end = 0; end < (pipe ? 2 : 0) && h->mark[comp] == 0; end++) {
            uint32_t at = a->plant->ports[end == 0 ? c->a : c->b].comp;
            near = near || is_near(r, still_comp_t(a->plant, at, STILL_T_PLACE));
        }
        if (!near) continue;
        const char *opened = like_opened(a, comp);
        if (opened != NULL)
            list_live(h, comp, true,
                      SAY("%s at the same place: of the same kind as %s, whose manual opening is "
                          "used; leave it alone",
                          still_describe_named(a->arena, a->plant, comp), opened));
        else if (like_target(a, comp))
            list_live(
                h, comp, true,
                SAY("%s at the same place: of the same kind as what is opened, do not open it",
                    still_describe_named(a->arena, a->plant, comp)));
        else if (look_alike(a, comp))
            list_live(h, comp, true, look_alike_text(a, comp, "at the same place"));
        else if (source(a, comp) || cls == STILL_CLASS_SPOOL)
            list_live(h, comp, false,
                      SAY("%s at the same place", still_describe_comp(a->arena, a->plant, comp)));
    }
}

/* Another side of an exchanger that is partly inside can warm what is left (N5, N3). */
static void other_sides(neighbourhood *h)
{
    still_assembly *a = h->a;
    for (uint32_t i = 0; i < a->iso->inside.n && !a->failed; i++) {
        uint32_t comp = a->iso->inside.items[i];
        const still_comp *c = &a->plant->comps[comp];
        if (c->cls != STILL_CLASS_EXCHANGER || still_opened_whole(a->iso->zone.targets, comp))
            continue;
        for (uint32_t k = 0; k < c->b; k++) {
            if (a->iso->work_port[c->a + k]) continue;
            h->mark[comp] = 0;
            list_live(h, comp, false,
                      "its other side stays in service and can heat what liquid is left inside");
            h->mark[comp] = 1;
            break;
        }
    }
}

static int by_place(const void *pa, const void *pb)
{
    const still_live_item *a = pa, *b = pb;
    int c = strcmp(a->place, b->place);
    return c != 0 ? c : strcmp(a->id, b->id);
}

void still_assemble_live(still_assembly *a)
{
    const still_plant *plant = a->plant;
    neighbourhood h = {.a = a};
    h.mark = still_calloc(plant->n_comps, 1);
    h.seen = still_calloc(plant->n_ports, 1);
    h.queue = still_calloc(plant->n_ports, sizeof h.queue[0]);
    if (h.mark == NULL || h.seen == NULL || h.queue == NULL) {
        a->failed = true;
        goto out;
    }
    for (uint32_t i = 0; i < a->iso->inside.n; i++) h.mark[a->iso->inside.items[i]] = 1;
    for (uint32_t i = 0; i < a->iso->points.n; i++) h.mark[a->iso->points.items[i]] = 1;
    /* Pipes between are let off as well; valves there can still be taken for a point. */
    for (uint32_t i = 0; i < a->iso->between.n; i++)
        if (plant->comps[a->iso->between.items[i]].cls == STILL_CLASS_SPOOL)
            h.mark[a->iso->between.items[i]] = 1;
    for (uint32_t i = 0; i < a->iso->points.n; i++) {
        if (!a->iso->info[i].live) continue;
        walk_beyond(&h, a->iso->points.items[i], a->iso->info[i].outer_port);
    }
    same_place(&h);
    other_sides(&h);
    if (h.n > 1) qsort(h.list, h.n, sizeof h.list[0], by_place);
    still_live_item *kept = STILL_ARENA_NEW(a->arena, h.n, still_live_item);
    if (kept == NULL) {
        a->failed = true;
    } else {
        if (h.n > 0) memcpy(kept, h.list, h.n * sizeof kept[0]);
        a->record->still_live = kept;
        a->record->n_still_live = h.n;
    }
out:
    still_free(h.mark);
    still_free(h.seen);
    still_free(h.queue);
    still_free(h.list);
}
