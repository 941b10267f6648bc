/* What the plan shuts in (L6), compared with the record: nothing uncovered is left out, nothing is
 * called covered or not full that is not, and each uncovered segment has a finding that blocks. */
#include "verify_relief.h"
#include "verify_rules.h"

#include <string.h>

static uint32_t root(uint32_t *of, uint32_t i)
{
    while (of[i] != i) i = of[i] = of[of[i]];
    return i;
}

/* Pieces joined both ways in this state are one segment. */
static void segments(still_verify_relief *r)
{
    for (uint32_t i = 0; i < r->n; i++) r->segment[i] = i;
    for (uint32_t i = 0; i + 1 < r->n_ways; i++) {
        still_verify_way a = r->ways[i], b = r->ways[i + 1];
        /* One device adds its two ways in a row; two check valves in a ring join nothing. */
        if (a.device != b.device) continue;
        uint32_t x = root(r->segment, a.from), y = root(r->segment, a.to);
        if (x < y)
            r->segment[y] = x;
        else
            r->segment[x] = y;
    }
    for (uint32_t i = 0; i < r->n; i++) r->segment[i] = root(r->segment, i);
}

static void segment_facts(const still_verify *v, still_verify_relief *r)
{
    uint8_t *liquid = r->not_full; /* first: something in it is not vapour */
    for (uint32_t i = 0; i < r->n; i++)
        if (r->not_vapour[i]) liquid[r->segment[i]] = 1;
    for (uint32_t i = 0; i < r->n; i++) liquid[i] = !liquid[i];
    for (uint32_t i = 0; i < r->n; i++)
        if (r->vapour_vessel[i]) r->not_full[r->segment[i]] = 1;
    for (uint32_t i = 0; i < v->plant->n_comps; i++) {
        const still_comp *c = &v->plant->comps[i];
        still_position before = still_position_now(v->plant, v->state, i);
        bool closes = still_verify_shuts(v, i) ||
                      (!v->barrier[i] && v->end_position[i] == STILL_POSITION_CLOSED);
        if (c->cls == STILL_CLASS_SPOOL && still_verify_shuts(v, i))
            r->moved[r->segment[r->piece[c->a]]] = r->moved[r->segment[r->piece[c->b]]] = 1;
        if (c->cls == STILL_CLASS_SPOOL || !closes || before == STILL_POSITION_CLOSED) continue;
        for (uint32_t k = 0; k < c->b; k++) r->moved[r->segment[r->piece[c->a + k]]] = 1;
    }
}

/* Does this part lie in a piece that the plan shuts in without cover, and the marks do not say so?
 */
static bool bare(const still_verify *v, const still_verify_relief *r, uint32_t i,
                 const uint8_t *said)
{
    const still_comp *c = &v->plant->comps[i];
    bool in_piece = c->cls == STILL_CLASS_SPOOL || c->cls == STILL_CLASS_VESSEL ||
                    c->cls == STILL_CLASS_FITTING || c->cls == STILL_CLASS_EXCHANGER;
    if (!in_piece || said[i]) return false;
    uint32_t n = c->cls == STILL_CLASS_SPOOL ? 1 : c->b;
    for (uint32_t k = 0; k < n; k++) {
        uint32_t piece = r->piece[c->a + k], s = r->segment[piece];
        if (r->has_spool[piece] && r->moved[s] && !r->not_full[s] &&
            !still_verify_covered(r, piece))
            return true;
    }
    return false;
}

/* The state that is laid: its pieces, what the plan shuts in, what is covered. */
static bool look_at_state(still_verify *v, still_verify_relief *r)
{
    if (!still_verify_relief_pieces(v, r)) return false;
    segments(r);
    segment_facts(v, r);
    still_verify_relief_settle(r);
    return true;
}

static const char *lowest(still_strings ids)
{
    const char *low = "";
    for (size_t i = 0; i < ids.n; i++)
        if (i == 0 || strcmp(ids.items[i], low) < 0) low = ids.items[i];
    return low;
}

static void one_entry(still_verify *v, const still_verify_relief *r, const still_closed_in *e,
                      uint8_t *said)
{
    bool covered = strcmp(e->state, "covered") == 0, full = strcmp(e->state, "not-full") != 0;
    bool uncovered = strcmp(e->state, "uncovered") == 0;
    const char *low = lowest(e->ids);
    if (e->ids.n == 0 || (!covered && full && !uncovered))
        still_verify_against(v, "L6", low, "a closed-in segment without ids, or of unknown state");
    if (covered && e->covered_by.n == 0)
        still_verify_against(v, "L2", low, "what covers the segment of %s is not said", low);
    if (uncovered && !still_verify_blocked(v, "L6", low))
        still_verify_against(v, "L6", low, "the uncovered segment of %s has no finding that blocks",
                             low);
    uint8_t where = strcmp(e->where, "inside") == 0    ? STILL_VERIFY_AT_WORK
                    : strcmp(e->where, "between") == 0 ? STILL_VERIFY_BETWEEN
                                                       : 0;
    if (where == 0 && strcmp(e->where, "outside") != 0)
        still_verify_against(v, "L6", low,
                             "a closed-in segment neither inside, between nor outside");
    for (size_t i = 0; i < e->ids.n; i++) {
        uint32_t comp = still_verify_comp(v, e->ids.items[i]);
        if (comp == STILL_NONE) continue;
        /* What is shut in on the way only does not stand for the end. */
        if (uncovered && e->during[0] == '\0') said[comp] = 1;
        const still_comp *c = &v->plant->comps[comp];
        if (c->cls != STILL_CLASS_SPOOL) continue;
        uint32_t piece = r->piece[c->a];
        /* While a blind is not fitted yet, what it will part is one. */
        bool same = still_verify_asks_positive(v) ? (where != 0) == (v->where[comp] != 0)
                                                  : where == v->where[comp];
        if (e->during[0] != '\0') continue; /* positions are those of the way, not of the end */
        if (!v->barrier[comp] && !same)
            still_verify_against(v, "L6", e->ids.items[i], "%s is not %s", e->ids.items[i],
                                 e->where);
        if (covered && !still_verify_covered(r, piece))
            still_verify_against(
                v, "L2", e->ids.items[i],
                "%s is called covered: opening at %.6g bar, design pressure %.6g bar "
                "above atmosphere",
                e->ids.items[i], r->opening[piece], r->design[piece]);
        if (!full && !r->not_full[r->segment[piece]])
            still_verify_against(v, "L3", e->ids.items[i], "%s is called not full of liquid",
                                 e->ids.items[i]);
    }
}

void still_verify_closed_in(still_verify *v)
{
    still_verify_relief r = {0};
    uint8_t *said = still_verify_room(v, v->plant->n_comps, 1);
    if (said == NULL || !look_at_state(v, &r)) return;
    for (size_t i = 0; i < v->rec->n_closed_in; i++) one_entry(v, &r, &v->rec->closed_in[i], said);
    for (uint32_t i = 0; i < v->plant->n_comps; i++)
        if (bare(v, &r, i, said))
            still_verify_against(v, "L6", still_id_of(v->plant, i),
                                 "liquid shut in at %s has no cover, unsaid",
                                 still_id_of(v->plant, i));
}

/* Any part in the record as uncovered, at whatever time. */
static uint8_t *ever_said(still_verify *v)
{
    uint8_t *said = still_verify_room(v, v->plant->n_comps, 1);
    for (size_t i = 0; i < v->rec->n_closed_in && said != NULL; i++) {
        const still_closed_in *e = &v->rec->closed_in[i];
        for (size_t k = 0; k < e->ids.n && strcmp(e->state, "uncovered") == 0; k++) {
            uint32_t comp = still_verify_comp(v, e->ids.items[k]);
            if (comp != STILL_NONE) said[comp] = 1;
        }
    }
    return said;
}

/* After `last`, with each barrier closed that has had its step by then. @return an unsaid part, or
 * STILL_NONE */
static uint32_t bare_after(still_verify *v, const uint8_t *barrier, size_t last, bool openings,
                           const uint8_t *said)
{
    still_verify_relief r = {0};
    for (uint32_t i = 0; i < v->plant->n_comps; i++)
        v->barrier[i] = barrier[i] && still_verify_moved_by(v, i, last);
    still_verify_lay(v, last, openings);
    if (!look_at_state(v, &r)) return STILL_NONE;
    for (uint32_t i = 0; i < v->plant->n_comps; i++)
        if (bare(v, &r, i, said)) return i;
    return STILL_NONE;
}

/* P3: the states on the way. Where even that with all barriers closed and nothing opened shuts
 * nothing in unsaid, no state does: fewer ways, and no less moved. */
void still_verify_on_the_way(still_verify *v)
{
    const still_record *rec = v->rec;
    uint32_t n = v->plant->n_comps;
    uint8_t *said = ever_said(v), *barrier = still_verify_room(v, n, 1);
    if (said == NULL || barrier == NULL) return;
    memcpy(barrier, v->barrier, n);
    bool any = bare_after(v, barrier, rec->n_steps, false, said) != STILL_NONE;
    for (size_t k = 0; k < rec->n_steps && any && !v->nomem; k++) {
        if (strcmp(rec->steps[k].phase, "isolate") != 0 || rec->steps[k].to[0] == '\0') continue;
        uint32_t at = bare_after(v, barrier, k + 1, true, said);
        if (at == STILL_NONE) continue;
        still_verify_against(v, "L6", still_id_of(v->plant, at),
                             "after step %zu liquid shut in at %s has no cover, unsaid", k + 1,
                             still_id_of(v->plant, at));
        break;
    }
    memcpy(v->barrier, barrier, n);
    still_verify_lay(v, rec->n_steps, true);
}
