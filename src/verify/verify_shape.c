/* Is the record whole? A missing string or array is a disagreement, never a crash: a record may
 * come from a file that another program wrote. */
#include "verify_rules.h"

#include <string.h>

static bool texts_ok(const char *const *texts, size_t n)
{
    for (size_t i = 0; i < n; i++)
        if (texts[i] == NULL) return false;
    return true;
}

#define TEXTS_OK(...)                                                                              \
    texts_ok((const char *const[]){__VA_ARGS__},                                                   \
             sizeof((const char *const[]){__VA_ARGS__}) / sizeof(const char *))

static bool strings_ok(still_strings s)
{
    if (s.n == 0) return true;
    if (s.items == NULL) return false;
    for (size_t i = 0; i < s.n; i++)
        if (s.items[i] == NULL) return false;
    return true;
}

static bool head_ok(const still_record *r)
{
    return TEXTS_OK(r->program, r->version, r->plant_id, r->plant_digest, r->option_grade,
                    r->option_work, r->work, r->grade_required, r->grade_achieved, r->grade_because,
                    r->proof.kind, r->obstacle.text, r->obstacle.best_grade) &&
           strings_ok(r->option_accept) && strings_ok(r->option_avoid) && strings_ok(r->targets) &&
           strings_ok(r->inside) && strings_ok(r->proof.feeds) && strings_ok(r->obstacle.path);
}

static bool arrays_ok(const still_record *r)
{
    const struct {
        const void *items;
        size_t n;
    } arrays[] = {
        {r->start, r->n_start},
        {r->end, r->n_end},
        {r->points, r->n_points},
        {r->sources_inside, r->n_sources_inside},
        {r->proof.paths, r->proof.n_paths},
        {r->obstacle.would_help, r->obstacle.n_would_help},
        {r->compartments, r->n_compartments},
        {r->closed_in, r->n_closed_in},
        {r->still_live, r->n_still_live},
        {r->steps, r->n_steps},
        {r->restore, r->n_restore},
        {r->assumptions, r->n_assumptions},
        {r->cautions, r->n_cautions},
        {r->findings, r->n_findings},
        {r->between, r->n_between},
        {r->demands, r->n_demands},
    };
    for (size_t i = 0; i < sizeof arrays / sizeof arrays[0]; i++)
        if (arrays[i].n > 0 && arrays[i].items == NULL) return false;
    return true;
}

static bool points_ok(const still_record *r)
{
    for (size_t i = 0; i < r->n_points; i++) {
        const still_point *t = &r->points[i];
        if (!TEXTS_OK(t->id, t->what, t->place, t->from, t->to, t->hold, t->legend, t->why,
                      t->isolator))
            return false;
    }
    for (size_t i = 0; i < r->n_sources_inside; i++)
        if (!TEXTS_OK(r->sources_inside[i].id, r->sources_inside[i].treatment)) return false;
    for (size_t i = 0; i < r->proof.n_paths; i++)
        if (!strings_ok(r->proof.paths[i].ids) || r->proof.paths[i].point == NULL) return false;
    for (size_t i = 0; i < r->obstacle.n_would_help; i++)
        if (!TEXTS_OK(r->obstacle.would_help[i].id, r->obstacle.would_help[i].text)) return false;
    return true;
}

static bool positions_ok(const still_position_of *items, size_t n)
{
    for (size_t i = 0; i < n; i++)
        if (!TEXTS_OK(items[i].id, items[i].position)) return false;
    return true;
}

static bool steps_ok(const still_step *s, size_t n)
{
    for (size_t i = 0; i < n; i++)
        if (!TEXTS_OK(s[i].phase, s[i].do_text, s[i].id, s[i].from, s[i].to, s[i].why, s[i].expect,
                      s[i].if_not))
            return false;
    return true;
}

static bool spaces_ok(const still_record *r)
{
    for (size_t i = 0; i < r->n_compartments; i++) {
        const still_compartment *c = &r->compartments[i];
        if (!strings_ok(c->ids) || !strings_ok(c->vent) || !strings_ok(c->drain) ||
            !strings_ok(c->prove) || !TEXTS_OK(c->gauge, c->gauge_via) ||
            (c->n_pockets > 0 && c->pockets == NULL))
            return false;
        for (size_t k = 0; k < c->n_pockets; k++)
            if (!strings_ok(c->pockets[k].ids)) return false;
    }
    for (size_t i = 0; i < r->n_closed_in; i++) {
        const still_closed_in *c = &r->closed_in[i];
        if (!strings_ok(c->ids) || !strings_ok(c->closed_by) || !strings_ok(c->covered_by) ||
            !strings_ok(c->conditions) || !TEXTS_OK(c->where, c->state, c->why))
            return false;
    }
    return true;
}

static bool between_ok(const still_record *r)
{
    for (size_t i = 0; i < r->n_between; i++) {
        const still_between *b = &r->between[i];
        if (!strings_ok(b->ids) || (b->n_bleeds > 0 && b->bleeds == NULL)) return false;
        for (size_t k = 0; k < b->n_bleeds; k++)
            if (!strings_ok(b->bleeds[k])) return false;
    }
    for (size_t i = 0; i < r->n_demands; i++)
        if (!TEXTS_OK(r->demands[i].source, r->demands[i].grade)) return false;
    return true;
}

static bool remarks_ok(const still_record *r)
{
    for (size_t i = 0; i < r->n_findings; i++)
        if (!TEXTS_OK(r->findings[i].rule, r->findings[i].id, r->findings[i].text)) return false;
    for (size_t i = 0; i < r->n_assumptions; i++)
        if (!TEXTS_OK(r->assumptions[i].rule, r->assumptions[i].id, r->assumptions[i].text))
            return false;
    for (size_t i = 0; i < r->n_cautions; i++)
        if (!TEXTS_OK(r->cautions[i].rule, r->cautions[i].id, r->cautions[i].text)) return false;
    for (size_t i = 0; i < r->n_still_live; i++)
        if (!TEXTS_OK(r->still_live[i].id, r->still_live[i].place, r->still_live[i].why))
            return false;
    return true;
}

bool still_verify_shape(still_verify *v)
{
    const still_record *r = v->rec;
    if (arrays_ok(r) && head_ok(r) && points_ok(r) && positions_ok(r->start, r->n_start) &&
        positions_ok(r->end, r->n_end) && steps_ok(r->steps, r->n_steps) &&
        steps_ok(r->restore, r->n_restore) && spaces_ok(r) && between_ok(r) && remarks_ok(r))
        return true;
    still_verify_against(v, "I7", "", "a text or a list is missing from the record");
    return false;
}

/* Component ids of the record that must exist in the plant. */
static void resolve(still_verify *v, const char *where, still_strings ids)
{
    for (size_t i = 0; i < ids.n; i++)
        if (still_verify_comp(v, ids.items[i]) == STILL_NONE)
            still_verify_against(v, "I7", ids.items[i],
                                 "%s names \"%s\", which is no component of the plant", where,
                                 ids.items[i]);
}

static void resolve_lists(still_verify *v)
{
    const still_record *r = v->rec;
    resolve(v, "inside", r->inside);
    for (size_t i = 0; i < r->n_between; i++) {
        resolve(v, "a space between", r->between[i].ids);
        for (size_t k = 0; k < r->between[i].n_bleeds; k++)
            resolve(v, "a way to bleed", r->between[i].bleeds[k]);
    }
    resolve(v, "obstacle", r->obstacle.path);
    for (size_t i = 0; i < r->n_compartments; i++) {
        const still_compartment *c = &r->compartments[i];
        resolve(v, "a compartment", c->ids);
        resolve(v, "a way to vent", c->vent);
        resolve(v, "a way to drain", c->drain);
        resolve(v, "a way to prove zero", c->prove);
        for (size_t k = 0; k < c->n_pockets; k++) resolve(v, "a pocket", c->pockets[k].ids);
        for (size_t k = 0; k < c->n_further; k++) resolve(v, "a further drain", c->further[k]);
    }
    for (size_t i = 0; i < r->n_closed_in; i++) {
        resolve(v, "a closed-in segment", r->closed_in[i].ids);
        resolve(v, "what closes a segment in", r->closed_in[i].closed_by);
        resolve(v, "what covers a segment", r->closed_in[i].covered_by);
    }
}

/* To be kept in service, and all that has an isolator in common with it (METHOD 3.9). */
static void mark_kept(still_verify *v, const char *id)
{
    const still_plant *p = v->plant;
    uint32_t kept = still_verify_comp(v, id);
    size_t n_kept = 0, n = 0;
    if (kept == STILL_NONE) return;
    const still_comp_feed *of_kept = still_comp_feeds(p, kept, &n_kept);
    v->stays[kept] = 1;
    for (uint32_t comp = 0; comp < p->n_comps && n_kept > 0; comp++) {
        const still_comp_feed *feeds = still_comp_feeds(p, comp, &n);
        for (size_t i = 0; i < n; i++)
            for (size_t k = 0; k < n_kept; k++)
                if (v->isolator_of[feeds[i].feed] == v->isolator_of[of_kept[k].feed])
                    v->stays[comp] = 1;
    }
}

/* All that is opened: whole components, and ports. */
static bool find_targets(still_verify *v)
{
    const still_record *r = v->rec;
    const still_plant *p = v->plant;
    still_target *items = still_verify_room(v, r->targets.n, sizeof *items);
    if (items == NULL) return false;
    if (r->targets.n == 0) still_verify_against(v, "I7", "", "the record names no target");
    bool all = r->targets.n > 0;
    for (size_t i = 0; i < r->targets.n; i++) {
        const char *name = r->targets.items[i];
        if (still_target_find(&items[i], p, name)) continue;
        still_verify_against(v, "I7", name, "the plant has no target \"%s\"", name);
        all = false;
    }
    if (!all) return false;
    v->targets = (still_targets){items, r->targets.n};
    v->subject = r->targets.items[0];
    for (size_t i = 0; i < r->targets.n; i++)
        if (items[i].side == STILL_NONE && items[i].port == STILL_NONE) v->whole[items[i].comp] = 1;
    for (uint32_t i = 0; i < p->n_ports; i++)
        v->work_port[i] = still_opened_port(p, &v->targets, i);
    for (size_t i = 0; i < r->option_avoid.n; i++) {
        uint32_t comp = still_verify_comp(v, r->option_avoid.items[i]);
        if (comp != STILL_NONE) v->avoided[comp] = 1;
    }
    for (size_t i = 0; i < r->option_keep.n; i++) mark_kept(v, r->option_keep.items[i]);
    return true;
}

bool still_verify_subject(still_verify *v)
{
    const still_record *r = v->rec;
    const still_plant *p = v->plant;
    bool other =
        (v->given & STILL_GIVEN_PLANT_ID) && strcmp(r->plant_id, still_text(p, p->id)) != 0;
    if (other || ((v->given & STILL_GIVEN_DIGEST) && strcmp(r->plant_digest, p->digest) != 0))
        still_verify_against(v, "I7", "", "the record was made for another plant or other bytes");
    if (!find_targets(v)) return false;
    const char *id = v->subject;
    static const char *const works[] = {"open", "entry", "hot-work", "long-term"};
    bool known = false;
    for (size_t i = 0; i < sizeof works / sizeof works[0]; i++)
        if (strcmp(r->work, works[i]) == 0) known = true;
    if (!known) still_verify_against(v, "I7", id, "unknown kind of work \"%s\"", r->work);
    resolve_lists(v);
    return true;
}
