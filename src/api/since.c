/* What changed between two revisions of a plant.
 * Problem: gaps opened and closed, parts that are new and gone, cover that rests on something else,
 * from two records and two plants. Method: components are paired (since_same.c); two segments are
 * *related* when they share one (spools, vessels, fittings, …; not exchangers, which may lie in
 * several). Splits and merges are relations of one to many; where one is asked for, it is the one
 * with most parts shared, then the lower name. Why it is never optimistic: a gap is closed only
 * when every segment related to it is covered or not full, one of them by an unchanged id, and no
 * part of it can have got lost into a segment that is uncovered now (docs/METHOD.md, 5.2). It is
 * opened when any part of it did not belong to a gap before. Cost: near linear, and that of
 * since_same.c. */
#include "since.h"

#include "alloc.h"
#include "describe.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

enum { OLD, NOW, BOTH };

typedef struct relation {
    uint32_t of[BOTH]; /* segment of the old record, of the new one */
    uint32_t n, by_id; /* parts shared, and those with the same id */
} relation;

typedef struct side {
    const still_plant *plant;
    const still_coverage_record *r;
    uint32_t *segment_of; /* by component: segment, STILL_NONE = none or several */
    relation *relations;  /* sorted by this side's segment; most shared first */
    size_t n;
    size_t *first;  /* relations of segment i: first[i] … first[i + 1] - 1 */
    uint32_t *lost; /* by segment: parts that the other side does not have */
} side;

typedef struct work {
    side s[BOTH];
    still_same same;
    still_arena *arena;
    still_since *out;
    bool stranger_uncovered; /* some uncovered segment has parts that were not there before */
} work;

static bool is_uncovered(const still_segment *s)
{
    return strcmp(s->state, "uncovered") == 0;
}

static bool is_covered(const still_segment *s)
{
    return strcmp(s->state, "covered") == 0;
}

static const still_segment *segment(const work *w, int which, uint32_t i)
{
    return &w->s[which].r->segments[i];
}

/* ---- relations ---- */

static bool place_parts(work *w, int which)
{
    side *s = &w->s[which];
    uint32_t n_comps = s->plant->n_comps;
    const uint32_t *other = which == OLD ? w->same.now_of : w->same.old_of;
    s->segment_of = still_calloc(n_comps, sizeof s->segment_of[0]);
    s->lost = still_calloc(s->r->n_segments, sizeof s->lost[0]);
    if (s->segment_of == NULL || s->lost == NULL) return false;
    for (uint32_t c = 0; c < n_comps; c++) s->segment_of[c] = STILL_NONE;
    for (uint32_t i = 0; i < s->r->n_segments; i++) {
        const still_segment *g = &s->r->segments[i];
        for (size_t k = 0; k < g->ids.n; k++) {
            uint32_t c = still_plant_find(s->plant, g->ids.items[k]).v;
            if (c == STILL_NONE) continue;
            if (other[c] == STILL_NONE) s->lost[i]++;
            if (s->plant->comps[c].cls != STILL_CLASS_EXCHANGER) s->segment_of[c] = i;
        }
        if (which == NOW && s->lost[i] > 0 && is_uncovered(g)) w->stranger_uncovered = true;
    }
    return true;
}

static int by_pair(const void *pa, const void *pb)
{
    const relation *a = pa, *b = pb;
    for (int k = 0; k < BOTH; k++)
        if (a->of[k] != b->of[k]) return a->of[k] < b->of[k] ? -1 : 1;
    return 0;
}

static int by_old(const void *pa, const void *pb)
{
    const relation *a = pa, *b = pb;
    if (a->of[OLD] != b->of[OLD]) return a->of[OLD] < b->of[OLD] ? -1 : 1;
    if (a->n != b->n) return a->n > b->n ? -1 : 1;
    return a->of[NOW] < b->of[NOW] ? -1 : a->of[NOW] > b->of[NOW];
}

static int by_now(const void *pa, const void *pb)
{
    const relation *a = pa, *b = pb;
    if (a->of[NOW] != b->of[NOW]) return a->of[NOW] < b->of[NOW] ? -1 : 1;
    if (a->n != b->n) return a->n > b->n ? -1 : 1;
    return a->of[OLD] < b->of[OLD] ? -1 : a->of[OLD] > b->of[OLD];
}

static bool index_side(work *w, int which, const relation *all, size_t n)
{
    side *s = &w->s[which];
    s->relations = still_calloc(n, sizeof s->relations[0]);
    s->first = still_calloc(s->r->n_segments + 2, sizeof s->first[0]);
    if (s->relations == NULL || s->first == NULL) return false;
    if (n > 0) memcpy(s->relations, all, n * sizeof all[0]);
    if (n > 1) qsort(s->relations, n, sizeof s->relations[0], which == OLD ? by_old : by_now);
    s->n = n;
    for (size_t i = 0; i < n; i++) s->first[s->relations[i].of[which] + 1]++;
    for (size_t i = 0; i < s->r->n_segments; i++) s->first[i + 1] += s->first[i];
    return true;
}

static bool relate(work *w)
{
    size_t n = 0, kept = 0;
    relation *all = still_calloc(w->s[OLD].plant->n_comps, sizeof all[0]);
    if (all == NULL) return false;
    for (uint32_t o = 0; o < w->s[OLD].plant->n_comps; o++) {
        uint32_t c = w->same.now_of[o], was = w->s[OLD].segment_of[o];
        if (c == STILL_NONE || was == STILL_NONE || w->s[NOW].segment_of[c] == STILL_NONE) continue;
        all[n++] = (relation){{was, w->s[NOW].segment_of[c]}, 1, w->same.guessed[o] == 0};
    }
    if (n > 1) qsort(all, n, sizeof all[0], by_pair);
    for (size_t i = 0; i < n; i++) {
        if (kept > 0 && by_pair(&all[kept - 1], &all[i]) == 0) {
            all[kept - 1].n++;
            all[kept - 1].by_id += all[i].by_id;
        } else {
            all[kept++] = all[i];
        }
    }
    bool good = index_side(w, OLD, all, kept) && index_side(w, NOW, all, kept);
    still_free(all);
    return good;
}

/* ---- items of the lists ---- */

static const char *keep(work *w, const char *text)
{
    return still_arena_str(w->arena, text);
}

/* Names of the segments of the other side that one is related to. */
static bool related(work *w, int which, uint32_t i, still_strings *out)
{
    const side *s = &w->s[which];
    out->items = STILL_ARENA_NEW(w->arena, s->first[i + 1] - s->first[i], const char *);
    if (out->items == NULL) return false;
    for (size_t k = s->first[i]; k < s->first[i + 1]; k++) {
        uint32_t other = s->relations[k].of[1 - which];
        out->items[out->n] = keep(w, segment(w, 1 - which, other)->name);
        if (out->items[out->n++] == NULL) return false;
    }
    return true;
}

typedef struct list {
    still_since_item *items;
    size_t n;
} list;

static bool add(work *w, list *l, int which, uint32_t i, const char *text)
{
    still_since_item *item = &l->items[l->n++];
    item->id = keep(w, segment(w, which, i)->name);
    item->text = text;
    return item->id != NULL && text != NULL && related(w, which, i, &item->was);
}

static const char *words(work *w, still_strings ids)
{
    const char *text = "";
    for (size_t i = 0; i < ids.n && text != NULL; i++)
        text = still_arena_printf(w->arena, "%s%s%s", text,
                                  i == 0           ? ""
                                  : i + 1 == ids.n ? " and "
                                                   : ", ",
                                  ids.items[i]);
    return text;
}

/* How a segment stands, as the end of a sentence. */
static const char *standing(work *w, const still_segment *s)
{
    if (!is_uncovered(s) && !is_covered(s)) return "not full and below its design pressure";
    if (is_covered(s)) {
        const char *by = words(w, s->covered_by), *with = words(w, s->conditions);
        if (by == NULL || with == NULL) return NULL;
        return with[0] == '\0'
                   ? still_arena_printf(w->arena, "covered by %s", by)
                   : still_arena_printf(w->arena, "covered by %s by way of %s", by, with);
    }
    const char *by = strcmp(s->shut_by, "itself") == 0   ? "shut in by itself"
                     : strcmp(s->shut_by, "person") == 0 ? "shut in by people"
                                                         : "shut in only for service";
    return still_arena_printf(w->arena, "uncovered, %s%s%s", by, s->stub ? ", a stub" : "",
                              s->accepted ? ", accepted by name" : "");
}

static const char *between(work *w, const still_segment *now, const still_segment *was)
{
    const char *a = standing(w, now), *b = standing(w, was);
    if (a == NULL || b == NULL) return NULL;
    return still_arena_printf(w->arena, "%s; before: %s", a, b);
}

/* ---- gaps ---- */

/* A gap of today: opened when a part of it did not belong to a gap. */
static bool judge_gap(work *w, uint32_t i, list *opened)
{
    const side *s = &w->s[NOW];
    const still_segment *now = segment(w, NOW, i);
    if (!now->counts) return true;
    if (s->first[i] == s->first[i + 1])
        return add(
            w, opened, NOW, i,
            still_arena_printf(w->arena, "none of its parts is found in the older revision"));
    for (size_t k = s->first[i]; k < s->first[i + 1]; k++) {
        const still_segment *was = segment(w, OLD, s->relations[k].of[OLD]);
        if (!was->counts) return add(w, opened, NOW, i, between(w, now, was));
    }
    return true;
}

/* A gap of the older revision: closed, still open, or not to be told. */
static bool judge_old_gap(work *w, uint32_t i, list *closed, list *moved)
{
    const side *s = &w->s[OLD];
    const still_segment *was = segment(w, OLD, i), *uncovered = NULL;
    uint32_t by_id = 0;
    if (!was->counts || s->first[i] == s->first[i + 1]) return true;
    for (size_t k = s->first[i]; k < s->first[i + 1]; k++) {
        const still_segment *now = segment(w, NOW, s->relations[k].of[NOW]);
        if (now->counts) return true;
        if (is_uncovered(now)) uncovered = now;
        by_id += s->relations[k].by_id;
    }
    uint32_t best = s->relations[s->first[i]].of[NOW];
    if (uncovered != NULL)
        return add(w, moved, NOW, best,
                   still_arena_printf(w->arena,
                                      "the gap %s is not closed: %s is still uncovered, "
                                      "and no longer counts as a gap (%s)",
                                      was->name, uncovered->name,
                                      uncovered->stub ? "a stub" : "shut in only for service"));
    if (by_id == 0)
        return add(w, moved, NOW, best,
                   still_arena_printf(w->arena,
                                      "whether the gap %s is closed is not known: what was "
                                      "found of it has another id now",
                                      was->name));
    if (s->lost[i] > 0 && w->stranger_uncovered)
        return add(w, moved, NOW, best,
                   still_arena_printf(w->arena,
                                      "whether the gap %s is closed is not known: %u of its parts "
                                      "are not found again, and uncovered segments have new parts",
                                      was->name, (unsigned)s->lost[i]));
    return add(w, closed, OLD, i, standing(w, segment(w, NOW, best)));
}

/* ---- cover that rests on something else ---- */

static bool has_id(const work *w, still_strings ids, uint32_t now_comp)
{
    for (size_t i = 0; i < ids.n; i++)
        if (still_plant_find(w->s[NOW].plant, ids.items[i]).v == now_comp) return true;
    return false;
}

/* Are these the same devices? */
static bool same_devices(const work *w, still_strings old, still_strings now)
{
    if (old.n != now.n) return false;
    for (size_t i = 0; i < old.n; i++) {
        uint32_t o = still_plant_find(w->s[OLD].plant, old.items[i]).v;
        if (o == STILL_NONE || w->same.now_of[o] == STILL_NONE ||
            !has_id(w, now, w->same.now_of[o]))
            return false;
    }
    return true;
}

static bool stands_alike(const work *w, const still_segment *now, const still_segment *was)
{
    if (strcmp(now->state, was->state) != 0) return false;
    if (is_uncovered(now)) return now->stub == was->stub && strcmp(now->shut_by, was->shut_by) == 0;
    return !is_covered(now) || (same_devices(w, was->covered_by, now->covered_by) &&
                                same_devices(w, was->conditions, now->conditions));
}

/* What changed without opening or closing a gap. */
static bool judge_move(work *w, uint32_t i, list *moved)
{
    const side *s = &w->s[NOW];
    const still_segment *now = segment(w, NOW, i);
    for (size_t k = s->first[i]; k < s->first[i + 1]; k++) {
        const still_segment *was = segment(w, OLD, s->relations[k].of[OLD]);
        if (now->counts != was->counts) continue; /* told as opened, closed, or not closed */
        if (!stands_alike(w, now, was)) return add(w, moved, NOW, i, between(w, now, was));
    }
    return true;
}

/* ---- numbers ---- */

static bool alike(double a, double b)
{
    if (isnan(a) || isnan(b)) return isnan(a) && isnan(b);
    return fabs(a - b) <= 1e-5 * fmax(1, fabs(a));
}

static bool add_number(work *w, still_since_number *items, uint32_t now, uint32_t was,
                       const char *what, double before, double after)
{
    if (alike(before, after)) return true;
    still_since_number *item = &items[w->out->n_changed++];
    *item = (still_since_number){.id = keep(w, segment(w, NOW, now)->name),
                                 .was = keep(w, segment(w, OLD, was)->name),
                                 .what = what,
                                 .before = before,
                                 .after = after};
    return item->id != NULL && item->was != NULL;
}

static bool compare_numbers(work *w, still_since_number *items, uint32_t i)
{
    const side *s = &w->s[NOW];
    if (s->first[i] == s->first[i + 1]) return true;
    uint32_t o = s->relations[s->first[i]].of[OLD];
    const still_segment *now = segment(w, NOW, i), *was = segment(w, OLD, o);
    return add_number(w, items, i, o, "design_bara", was->design_bara, now->design_bara) &&
           add_number(w, items, i, o, "reaches_design_at_degC", was->reaches_design_at_degC,
                      now->reaches_design_at_degC) &&
           add_number(w, items, i, o, "full_at_degC", was->full_at_degC, now->full_at_degC) &&
           add_number(w, items, i, o, "opening_bara", was->opening_bara, now->opening_bara);
}

/* ---- all of it ---- */

static int by_from(const void *pa, const void *pb)
{
    const still_since_rename *a = pa, *b = pb;
    return strcmp(a->from, b->from);
}

static bool list_renames(work *w)
{
    const still_plant *old = w->s[OLD].plant, *now = w->s[NOW].plant;
    size_t n = 0;
    for (uint32_t o = 0; o < old->n_comps; o++) n += w->same.guessed[o];
    still_since_rename *items = STILL_ARENA_NEW(w->arena, n, still_since_rename);
    if (items == NULL) return false;
    n = 0;
    for (uint32_t o = 0; o < old->n_comps; o++) {
        if (!w->same.guessed[o]) continue;
        uint32_t c = w->same.now_of[o];
        items[n] = (still_since_rename){keep(w, still_id_of(old, o)), still_id_of(now, c),
                                        still_describe_comp(w->arena, now, c)};
        if (items[n].from == NULL || items[n].what == NULL) return false;
        n++;
    }
    if (n > 1) qsort(items, n, sizeof items[0], by_from);
    w->out->renamed = items;
    w->out->n_renamed = n;
    return true;
}

static bool make_list(work *w, list *l, size_t n)
{
    l->items = STILL_ARENA_NEW(w->arena, n, still_since_item);
    return l->items != NULL;
}

static bool judge(work *w)
{
    const size_t n_old = w->s[OLD].r->n_segments, n_now = w->s[NOW].r->n_segments;
    list fresh = {0}, gone = {0}, opened = {0}, closed = {0}, moved = {0};
    still_since_number *numbers = STILL_ARENA_NEW(w->arena, n_now * 4, still_since_number);
    bool good = numbers != NULL && make_list(w, &fresh, n_now) && make_list(w, &gone, n_old) &&
                make_list(w, &opened, n_now) && make_list(w, &closed, n_old) &&
                make_list(w, &moved, n_now + n_old);
    for (uint32_t i = 0; i < n_old && good; i++) {
        const side *s = &w->s[OLD];
        if (s->first[i] == s->first[i + 1])
            good = add(w, &gone, OLD, i, standing(w, segment(w, OLD, i)));
        good = good && judge_old_gap(w, i, &closed, &moved);
    }
    for (uint32_t i = 0; i < n_now && good; i++) {
        const side *s = &w->s[NOW];
        if (s->first[i] == s->first[i + 1])
            good = add(w, &fresh, NOW, i, standing(w, segment(w, NOW, i)));
        size_t before = opened.n;
        good = good && judge_gap(w, i, &opened) &&
               (opened.n > before || judge_move(w, i, &moved)) && compare_numbers(w, numbers, i);
    }
    w->out->new_ = fresh.items, w->out->n_new = fresh.n;
    w->out->gone = gone.items, w->out->n_gone = gone.n;
    w->out->opened = opened.items, w->out->n_opened = opened.n;
    w->out->closed = closed.items, w->out->n_closed = closed.n;
    w->out->moved = moved.items, w->out->n_moved = moved.n;
    w->out->changed = numbers;
    return good;
}

static bool head(work *w)
{
    const still_coverage_record *r = w->s[OLD].r;
    w->out->plant_id = keep(w, r->plant_id);
    w->out->plant_revision = keep(w, r->plant_revision);
    w->out->plant_digest = keep(w, r->plant_digest);
    w->out->plant_file = keep(w, r->plant_file);
    return w->out->plant_id != NULL && w->out->plant_revision != NULL &&
           w->out->plant_digest != NULL && w->out->plant_file != NULL;
}

still_status still_since_make(const still_since **out, still_arena *arena,
                              const still_plant *now_plant, const still_coverage_record *now,
                              const still_plant *old_plant, const still_coverage_record *old)
{
    work w = {.s = {{.plant = old_plant, .r = old}, {.plant = now_plant, .r = now}},
              .arena = arena};
    w.out = STILL_ARENA_NEW(arena, 1, still_since);
    still_status status = still_same_find(&w.same, old_plant, now_plant);
    if (status == STILL_OK &&
        (w.out == NULL || !head(&w) || !place_parts(&w, OLD) || !place_parts(&w, NOW) ||
         !relate(&w) || !list_renames(&w) || !judge(&w)))
        status = STILL_E_NOMEM;
    if (status == STILL_OK) *out = w.out;
    for (int k = 0; k < BOTH; k++) {
        still_free(w.s[k].segment_of);
        still_free(w.s[k].relations);
        still_free(w.s[k].first);
        still_free(w.s[k].lost);
    }
    still_same_clear(&w.same);
    return status;
}
