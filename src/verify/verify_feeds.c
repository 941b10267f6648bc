/* Other energies (N5) and automatic sequences (N6). */
#include "verify_rules.h"

#include <string.h>

/* A feed that cannot be locked is switched off and tagged, and a finding that blocks says so. */
static void unlockable(still_verify *v, const still_point *t, uint32_t isolator)
{
    const still_plant *p = v->plant;
    bool all = true, sure = true, said = false;
    for (uint32_t i = 0; i < p->n_feeds; i++) {
        if (v->isolator_of[i] != isolator) continue;
        const still_feed *f = &p->feeds[i];
        if (!still_verify_feed_locks(f)) all = false;
        if (f->lockable != STILL_LOCKABLE_YES) sure = false;
        if (still_verify_blocked(v, NULL, still_text(p, f->id))) said = true;
        for (uint32_t k = 0; k < f->n_refs && !said; k++)
            said = still_verify_blocked(v, NULL, still_id_of(p, p->refs[f->ref0 + k]));
    }
    if (!all && (v->given & STILL_GIVEN_HANDLING) && strcmp(t->hold, "lock") == 0)
        still_verify_against(v, "N5", t->id, "a lock on \"%s\", which cannot be locked", t->id);
    if (!all && !said)
        still_verify_against(v, "N5", t->id,
                             "\"%s\" cannot be locked, and no finding that blocks says so", t->id);
    if (all && !sure && (v->given & STILL_GIVEN_ASSUMPTIONS) && !t->assumed_lockable)
        still_verify_against(v, "N5", t->id, "that \"%s\" can be locked is assumed, unsaid", t->id);
}

static void need(const still_verify *v, uint32_t *needed_by, uint32_t comp)
{
    size_t n = 0;
    const still_comp_feed *feeds = still_comp_feeds(v->plant, comp, &n);
    for (size_t k = 0; k < n; k++) needed_by[v->isolator_of[feeds[k].feed]] = comp;
}

/* What is joined to the work, machines taken inside, and driven valves that are points (D3). */
static bool needs_feeds_off(const still_verify *v, uint32_t comp)
{
    uint8_t cls = v->plant->comps[comp].cls;
    bool machine = cls == STILL_CLASS_PUMP || cls == STILL_CLASS_COMPRESSOR;
    return (v->where[comp] & STILL_VERIFY_AT_WORK) || (machine && v->taken[comp]) ||
           (v->barrier[comp] && v->driven[comp]);
}

/* Devices on the way of a bleed between may have feeds that hold the bleed shut. */
static void may_need(const still_verify *v, uint32_t *may)
{
    bool named = (v->given & STILL_GIVEN_BETWEEN) != 0;
    for (size_t i = 0; i < v->rec->n_between; i++)
        for (size_t k = 0; k < v->rec->between[i].n_bleeds; k++) {
            still_strings way = v->rec->between[i].bleeds[k];
            for (size_t m = 0; m < way.n; m++) {
                uint32_t comp = still_verify_comp(v, way.items[m]);
                if (comp != STILL_NONE) need(v, may, comp);
            }
        }
    for (uint32_t i = 0; !named && i < v->plant->n_comps; i++)
        if (v->where[i] & STILL_VERIFY_BETWEEN) need(v, may, i);
}

void still_verify_feeds(still_verify *v)
{
    const still_plant *p = v->plant;
    uint32_t *needed_by = still_verify_room(v, p->n_feeds, sizeof *needed_by);
    uint32_t *may = still_verify_room(v, p->n_feeds, sizeof *may);
    if (v->nomem) return;
    for (uint32_t i = 0; i < p->n_feeds; i++) needed_by[i] = may[i] = STILL_NONE;
    for (uint32_t i = 0; i < p->n_comps; i++)
        if (needs_feeds_off(v, i)) need(v, needed_by, i);
    may_need(v, may);
    for (uint32_t i = 0; i < p->n_feeds; i++) {
        const char *id = still_text(p, p->feeds[i].id);
        uint32_t by = needed_by[i];
        if (v->isolator_of[i] != i) continue;
        if (by != STILL_NONE && !v->locked[i])
            still_verify_against(v, v->barrier[by] ? "D3" : "N5",
                                 v->barrier[by] ? still_id_of(p, by) : id,
                                 "the isolator of %s is not locked: it %s %s%s", id,
                                 v->barrier[by] ? "drives point" : "feeds", still_id_of(p, by),
                                 v->barrier[by] ? "" : " inside");
        if (by == STILL_NONE && may[i] == STILL_NONE && v->locked[i])
            still_verify_against(v, "N5", id,
                                 "the isolator of %s is locked, but feeds nothing inside", id);
    }
    for (size_t i = 0; i < v->rec->n_points; i++) {
        const still_point *t = &v->rec->points[i];
        if (t->action == STILL_ACTION_SWITCH_OFF && v->point_feed[i] != STILL_NONE)
            unlockable(v, t, v->isolator_of[v->point_feed[i]]);
    }
}

static bool shut_down_step(const still_record *r, const char *id)
{
    for (size_t i = 0; i < r->n_steps; i++)
        if (strcmp(r->steps[i].phase, "shut-down") == 0 && strcmp(r->steps[i].id, id) == 0)
            return true;
    return false;
}

void still_verify_sequences(still_verify *v)
{
    const still_plant *p = v->plant;
    for (uint32_t i = 0; i < p->n_sequences; i++) {
        const still_sequence *s = &p->sequences[i];
        uint32_t on = STILL_NONE;
        for (uint32_t k = 0; k < s->n_refs; k++) {
            uint32_t comp = p->refs[s->ref0 + k];
            if (v->where[comp] != 0 || v->barrier[comp] || v->opened[comp]) on = comp;
        }
        const char *id = still_text(p, s->id);
        if (on != STILL_NONE && !shut_down_step(v->rec, id))
            still_verify_against(v, "N6", id, "sequence %s acts on %s and is not put off", id,
                                 still_id_of(p, on));
    }
}
