/* Other energies (N5), automatic sequences (N6), and the grade in words (I2, I3). */
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
    if (!all && strcmp(t->hold, "lock") == 0)
        still_verify_against(v, "N5", t->id, "a lock on \"%s\", which cannot be locked", t->id);
    if (!all && !said)
        still_verify_against(v, "N5", t->id,
                             "\"%s\" cannot be locked, and no finding that blocks says so", t->id);
    if (all && !sure && !t->assumed_lockable)
        still_verify_against(v, "N5", t->id, "that \"%s\" can be locked is assumed, unsaid", t->id);
}

void still_verify_feeds(still_verify *v)
{
    const still_plant *p = v->plant;
    uint32_t *needed_by = still_verify_room(v, p->n_feeds, sizeof *needed_by);
    if (needed_by == NULL) return;
    for (uint32_t i = 0; i < p->n_feeds; i++) needed_by[i] = STILL_NONE;
    for (uint32_t i = 0; i < p->n_comps; i++) {
        size_t n = 0;
        const still_comp_feed *feeds = still_comp_feeds(p, i, &n);
        for (size_t k = 0; k < n && v->inside_comp[i]; k++)
            needed_by[v->isolator_of[feeds[k].feed]] = i;
    }
    for (uint32_t i = 0; i < p->n_feeds; i++) {
        const char *id = still_text(p, p->feeds[i].id);
        if (v->isolator_of[i] != i) continue;
        if (needed_by[i] != STILL_NONE && !v->locked[i])
            still_verify_against(v, "N5", id,
                                 "the isolator of %s is not locked: it feeds %s inside", id,
                                 still_id_of(p, needed_by[i]));
        if (needed_by[i] == STILL_NONE && v->locked[i])
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
            if (v->inside_comp[comp] || v->barrier[comp] || v->opened[comp]) on = comp;
        }
        const char *id = still_text(p, s->id);
        if (on != STILL_NONE && !shut_down_step(v->rec, id))
            still_verify_against(v, "N6", id, "sequence %s acts on %s and is not put off", id,
                                 still_id_of(p, on));
    }
}

/* Place of a grade in the order of trust (I2), 0 = not a grade. */
static unsigned rank(const char *grade)
{
    static const char *const grades[] = {"single", "double", "single-bleed", "double-bleed",
                                         "positive"};
    for (unsigned i = 0; i < 5; i++)
        if (strcmp(grades[i], grade) == 0) return i + 1;
    return 0;
}

void still_verify_grade(still_verify *v)
{
    const still_record *r = v->rec;
    const char *id = r->targets.items[0];
    unsigned required = rank(r->grade_required), achieved = rank(r->grade_achieved);
    if (required == 0 || r->grade_because[0] == '\0')
        still_verify_against(v, "I2", id, "the grade required (\"%s\") or its reason is not said",
                             r->grade_required);
    if (!r->feasible) {
        if (strcmp(r->grade_achieved, "none") != 0 && r->grade_achieved[0] != '\0')
            still_verify_against(v, "I2", id, "grade \"%s\" without a boundary", r->grade_achieved);
        return;
    }
    if (achieved != 1)
        still_verify_against(v, "I2", id, "grade \"%s\" is not one that this check can confirm",
                             r->grade_achieved);
    bool told = false;
    for (size_t i = 0; i < r->n_findings; i++)
        if (r->findings[i].blocks &&
            (strcmp(r->findings[i].rule, "I3") == 0 || strcmp(r->findings[i].rule, "I2") == 0))
            told = true;
    if (achieved < required && !told)
        still_verify_against(v, "I3", id, "\"%s\" falls short of \"%s\", and no finding blocks it",
                             r->grade_achieved, r->grade_required);
    if (strcmp(r->work, "open") != 0 && achieved < 5 && !told)
        still_verify_against(v, "I3", id, "work \"%s\" without a positive isolation, unsaid",
                             r->work);
}
