/* The order of steps (P1, P3), overrides (E1), and the way back (P6).
 *
 * Method: one pass over the list for its form, one replay of the phase "isolate" on today's
 * positions, and one look at each point for the steps that it needs. */
#include "verify_rules.h"

#include <string.h>

enum { PREPARE, SHUT_DOWN, ISOLATE, LOCK, RELEASE, VERIFY, WORK, N_PHASES };

static int phase_of(const char *text)
{
    static const char *const phases[N_PHASES] = {"prepare", "shut-down", "isolate", "lock-and-tag",
                                                 "release", "verify",    "work"};
    for (int i = 0; i < N_PHASES; i++)
        if (strcmp(phases[i], text) == 0) return i;
    return -1;
}

static bool known_id(const still_verify *v, const char *id)
{
    const still_plant *p = v->plant;
    if (id[0] == '\0' || still_verify_comp(v, id) != STILL_NONE ||
        still_verify_feed(v, id) != STILL_NONE)
        return true;
    for (uint32_t i = 0; i < p->n_sequences; i++)
        if (strcmp(still_text(p, p->sequences[i].id), id) == 0) return true;
    for (uint32_t i = 0; i < p->n_gauges; i++)
        if (strcmp(still_text(p, p->gauges[i].id), id) == 0) return true;
    return false;
}

/* Number, words, id and tag of each step. */
static void step_forms(still_verify *v, const still_step *steps, size_t n)
{
    const still_record *r = v->rec;
    for (size_t i = 0; i < n; i++) {
        const still_step *s = &steps[i];
        if (s->n != i + 1)
            still_verify_against(v, "P1", s->id, "step %u stands at place %zu", (unsigned)s->n,
                                 i + 1);
        if (s->do_text[0] == '\0')
            still_verify_against(v, "P1", s->id, "step %zu does not say what to do", i + 1);
        if (!known_id(v, s->id))
            still_verify_against(v, "I7", s->id, "step %zu names \"%s\", unknown to the plant",
                                 i + 1, s->id);
        if (s->tag == 0) continue;
        if (s->tag > r->n_points || strcmp(r->points[s->tag - 1].id, s->id) != 0)
            still_verify_against(v, "P1", s->id, "step %zu: tag %u is not that of \"%s\"", i + 1,
                                 (unsigned)s->tag, s->id);
    }
}

static void stages(still_verify *v)
{
    const still_record *r = v->rec;
    uint32_t stage = 1;
    int last = PREPARE;
    bool verified = false, works = false;
    for (size_t i = 0; i < r->n_steps; i++) {
        const still_step *s = &r->steps[i];
        int phase = phase_of(s->phase);
        if (phase < 0) {
            still_verify_against(v, "P1", s->id, "step %zu: unknown phase \"%s\"", i + 1, s->phase);
            continue;
        }
        if (s->stage == stage + 1 && i > 0) {
            if (works)
                still_verify_against(v, "P1", s->id, "work before the last stage, at step %zu", i);
            stage++;
            last = PREPARE;
            verified = works = false;
        } else if (s->stage != stage) {
            still_verify_against(v, "P1", s->id, "step %zu: stage %u after stage %u", i + 1,
                                 (unsigned)s->stage, (unsigned)stage);
        }
        if (phase < last)
            still_verify_against(v, "P1", s->id, "step %zu: phase %s runs backward", i + 1,
                                 s->phase);
        if (phase > last) last = phase;
        if (phase == VERIFY) verified = true;
        if (phase == WORK) works = true;
        if (phase == WORK && !verified)
            still_verify_against(v, "P1", s->id, "step %zu: work that no verification precedes",
                                 i + 1);
    }
    if (!works) still_verify_against(v, "P1", "", "the steps do not end in work");
}

/* A blind, spade or spool that is put in or taken out for this work. */
static bool is_fitting(const still_verify *v, const still_point *t, uint32_t comp)
{
    return comp != STILL_NONE && v->barrier[comp] && !v->closable[comp] &&
           (t->action == STILL_ACTION_FIT || t->action == STILL_ACTION_REMOVE);
}

/* Place of the first step of this phase for a point, or n_steps. */
static size_t step_for(const still_record *r, const still_point *t, int phase)
{
    size_t i = 0;
    while (i < r->n_steps && !(r->steps[i].tag == t->tag && strcmp(r->steps[i].id, t->id) == 0 &&
                               phase_of(r->steps[i].phase) == phase))
        i++;
    return i;
}

/* Fitting opens a joint: it comes after the valves outside it are closed (I2). */
static void fitting_steps(still_verify *v, const still_point *t)
{
    const still_record *r = v->rec;
    size_t at = 0;
    while (at < r->n_steps && (r->steps[at].tag != t->tag || strcmp(r->steps[at].id, t->id) != 0 ||
                               phase_of(r->steps[at].phase) < ISOLATE))
        at++;
    if (at == r->n_steps)
        still_verify_against(v, "P1", t->id, "no step in which point \"%s\" is put in or taken out",
                             t->id);
    for (size_t i = 0; i < r->n_points && at < r->n_steps; i++) {
        uint32_t comp = v->point_comp[i];
        if (comp == STILL_NONE || !v->barrier[comp] || v->level[comp] != 2) continue;
        if (step_for(r, &r->points[i], ISOLATE) > at)
            still_verify_against(v, "I2", t->id,
                                 "step %zu opens the joint of \"%s\" before \"%s\" "
                                 "is closed",
                                 at + 1, t->id, r->points[i].id);
    }
}

/* Left by its steps as the point says? A three-way valve is left in one of its positions. */
static bool left_closed(const still_verify *v, const still_point *t, uint32_t comp, size_t at)
{
    if (v->plant->comps[comp].cls != STILL_CLASS_VALVE) return true;
    if (!v->fork[comp]) return v->end_position[comp] == STILL_POSITION_CLOSED;
    const char *to = v->rec->steps[at].to;
    return strcmp(to[0] != '\0' ? to : still_verify_position(v, comp), t->to) == 0;
}

static void steps_of_point(still_verify *v, const still_point *t, uint32_t comp)
{
    const still_record *r = v->rec;
    if (!t->counted) return;
    size_t at = step_for(r, t, ISOLATE);
    if (is_fitting(v, t, comp)) {
        fitting_steps(v, t);
        return;
    }
    if (at == r->n_steps) {
        still_verify_against(v, "P1", t->id, "no step of phase isolate for point \"%s\"", t->id);
        return;
    }
    if (step_for(r, t, LOCK) == r->n_steps)
        still_verify_against(v, "P1", t->id, "no step of phase lock-and-tag for point \"%s\"",
                             t->id);
    if (comp == STILL_NONE || !v->barrier[comp]) return;
    for (size_t i = at; i < r->n_steps; i++) {
        const still_step *s = &r->steps[i];
        if (strcmp(s->id, t->id) != 0 || s->to[0] == '\0' || strcmp(s->to, t->to) == 0) continue;
        still_verify_against(v, "P3", t->id, "step %zu leaves barrier \"%s\" \"%s\"", i + 1, t->id,
                             s->to);
    }
    if (!left_closed(v, t, comp, at))
        still_verify_against(v, "P3", t->id, "after phase isolate barrier \"%s\" is not closed",
                             t->id);
}

void still_verify_lay(still_verify *v, size_t n_steps, bool openings)
{
    const still_record *r = v->rec;
    for (uint32_t i = 0; i < v->plant->n_comps; i++) {
        v->end_position[i] = (uint8_t)still_position_now(v->plant, v->state, i);
        v->held_open[i] = 0;
    }
    for (size_t i = 0; i < n_steps; i++) {
        const still_step *s = &r->steps[i];
        uint32_t comp = still_verify_comp(v, s->id);
        if (phase_of(s->phase) != ISOLATE || comp == STILL_NONE || s->to[0] == '\0') continue;
        unsigned to = still_word_value(STILL_VOC_still_position, s->to, strlen(s->to));
        if (to == STILL_POSITION_OPEN && !openings) continue;
        v->end_position[comp] = (uint8_t)(to == 0 ? STILL_POSITION_UNKNOWN : to);
        v->held_open[comp] = to == STILL_POSITION_OPEN;
    }
}

bool still_verify_moved_by(const still_verify *v, uint32_t comp, size_t n_steps)
{
    const char *id = still_id_of(v->plant, comp);
    for (size_t i = 0; i < n_steps; i++)
        if (phase_of(v->rec->steps[i].phase) == ISOLATE && strcmp(v->rec->steps[i].id, id) == 0)
            return true;
    return false;
}

void still_verify_steps(still_verify *v)
{
    const still_record *r = v->rec;
    step_forms(v, r->steps, r->n_steps);
    stages(v);
    still_verify_lay(v, r->n_steps, true);
    for (size_t i = 0; i < r->n_points; i++) steps_of_point(v, &r->points[i], v->point_comp[i]);
}

/* Self-acting devices with a manual opening; a self-closing valve is held by hand as it drains. */
static bool is_override(const still_comp *c)
{
    return c->cls == STILL_CLASS_VALVE && c->kind != STILL_KIND_SELF_CLOSING &&
           (!still_kind_stops(c->kind) || !still_verify_by_hand(c));
}

/* Where no point can wait, the devices inside are opened late, and the plan says so. */
static bool late_is_told(const still_record *r)
{
    for (size_t i = 0; i < r->n_findings; i++)
        if (r->findings[i].blocks && strcmp(r->findings[i].rule, "E1") == 0) return true;
    for (size_t i = 0; i < r->n_assumptions; i++)
        if (strcmp(r->assumptions[i].rule, "E1") == 0) return true;
    return false;
}

/* An assumption says that this one is opened late. */
static bool told_late(const still_verify *v, const char *id)
{
    for (size_t i = 0; i < v->rec->n_assumptions; i++)
        if (strcmp(v->rec->assumptions[i].rule, "E1") == 0 &&
            strcmp(v->rec->assumptions[i].id, id) == 0)
            return true;
    return false;
}

static bool on_a_way_out(const still_record *r, const char *id)
{
    for (size_t i = 0; i < r->n_compartments; i++) {
        const still_compartment *c = &r->compartments[i];
        if (still_verify_in(c->vent, id) || still_verify_in(c->drain, id) ||
            still_verify_in(c->prove, id))
            return true;
        for (size_t k = 0; k < c->n_further; k++)
            if (still_verify_in(c->further[k], id)) return true;
    }
    for (size_t i = 0; i < r->n_between; i++)
        for (size_t k = 0; k < r->between[i].n_bleeds; k++)
            if (still_verify_in(r->between[i].bleeds[k], id)) return true;
    return false;
}

void still_verify_overrides(still_verify *v)
{
    const still_record *r = v->rec;
    size_t last_close = 0, last_off = 0;
    for (size_t i = 0; i < r->n_points; i++) {
        const still_point *t = &r->points[i];
        size_t at = step_for(r, t, ISOLATE);
        if (at == r->n_steps) continue;
        if (t->action == STILL_ACTION_SWITCH_OFF && at + 1 > last_off) last_off = at + 1;
        if (v->point_comp[i] != STILL_NONE && v->barrier[v->point_comp[i]] && at + 1 > last_close)
            last_close = at + 1;
    }
    for (size_t i = 0; i < r->n_steps; i++) {
        const still_step *s = &r->steps[i];
        uint32_t comp = still_verify_comp(v, s->id);
        int phase = phase_of(s->phase);
        if (comp == STILL_NONE || strcmp(s->to, "open") != 0 || phase >= VERIFY) continue;
        const still_comp *c = &v->plant->comps[comp];
        if (c->cls != STILL_CLASS_VALVE && c->cls != STILL_CLASS_BLIND) continue;
        if (phase >= ISOLATE && !v->opened[comp])
            still_verify_against(v, "E1", s->id, "step %zu opens \"%s\", which has no tag", i + 1,
                                 s->id);
        if (!is_override(c)) continue;
        if (c->manual_opening != STILL_YESNO_YES)
            still_verify_against(
                v, "E1", s->id, "step %zu opens \"%s\", which has no manual opening", i + 1, s->id);
        /* On a way out it is opened when the pressure is let off, like any valve there. */
        if (phase > ISOLATE && (on_a_way_out(r, s->id) || told_late(v, s->id))) continue;
        if (phase != ISOLATE || i + 1 < last_off ||
            (last_close > 0 && i + 1 > last_close && !late_is_told(r)))
            still_verify_against(v, "E1", s->id,
                                 "step %zu opens \"%s\" before the feeds are off or after the last "
                                 "point is closed",
                                 i + 1, s->id);
    }
}

/* Locks come off only when all have been inspected and people are clear; what was opened is
 * brought back before. */
void still_verify_restore(still_verify *v)
{
    const still_record *r = v->rec;
    size_t clear = 0, first_lock = r->n_restore;
    step_forms(v, r->restore, r->n_restore);
    for (size_t i = 0; i < r->n_restore; i++)
        if (strcmp(r->restore[i].phase, "inspect") == 0 ||
            strcmp(r->restore[i].phase, "clear") == 0)
            clear = i + 1;
    if (clear == 0)
        still_verify_against(v, "P6", "", "the way back has no inspection before locks come off");
    bool *seen = still_verify_room(v, r->n_points, sizeof *seen);
    if (seen == NULL) return;
    for (size_t i = 0; i < r->n_restore; i++) {
        const still_step *s = &r->restore[i];
        if (s->tag == 0 || s->tag > r->n_points) continue;
        const still_point *t = &r->points[s->tag - 1];
        seen[s->tag - 1] = true;
        if (!t->counted && i > first_lock && s->to[0] != '\0')
            still_verify_against(v, "P6", t->id,
                                 "\"%s\" is brought back after the first lock is off", t->id);
        if (!t->counted) continue;
        /* A blind comes out while the bleeds stand open. */
        bool blind = is_fitting(v, t, v->point_comp[s->tag - 1]);
        if (first_lock == r->n_restore && !blind) first_lock = i;
        if (i < clear)
            still_verify_against(v, "P6", t->id,
                                 "the lock on \"%s\" comes off before the inspection", t->id);
    }
    for (size_t i = 0; i < r->n_restore; i++) {
        uint32_t comp = still_verify_comp(v, r->restore[i].id);
        bool moved = r->restore[i].from[0] != '\0' || r->restore[i].to[0] != '\0';
        if (comp != STILL_NONE && v->barrier[comp] && i < clear && r->restore[i].tag == 0 && moved)
            still_verify_against(v, "P6", r->restore[i].id, "\"%s\" is moved before the inspection",
                                 r->restore[i].id);
    }
    for (size_t i = 0; i < r->n_points; i++)
        if (!seen[i])
            still_verify_against(v, "P6", r->points[i].id, "the way back leaves out tag %u",
                                 (unsigned)r->points[i].tag);
}
