/* The second check of a plan (I7): which rules are looked at, and in which order.
 *
 * Problem: a plan on which people stake their lives must not rest on one program text. Method: all
 * that the finished record claims is re-derived from the plant by plain walks, written apart from
 * what made it. Why it is right: each part states its own argument; here, fail closed: what cannot
 * be understood is a disagreement, and no part is skipped because another one agreed.
 * Source: docs/METHOD.md. Cost: a fixed number of walks over the plant, and one for each place,
 * compartment and way that the record names. */
#include "verify.h"

#include "verify_rules.h"

#include <string.h>

typedef struct part {
    const char *rules;
    void (*check)(still_verify *v);
    unsigned needs; /* STILL_GIVEN_*: what the record must say for it */
} part;

#define GIVEN(what) STILL_GIVEN_##what

/* In order: the later ones use what the earlier ones set. */
static const part of_feasible[] = {
    {"D1 D2 D3 D5 D6", still_verify_points, 0},
    {"labels", still_verify_labels, 0},
    {"I1 N3 N4 I4", still_verify_boundary, 0},
    {"I2", still_verify_levels, 0},
    {"I2 paths", still_verify_paths, 0},
    {"I2 bleeds", still_verify_bleed_rules, 0},
    {"I2 between", still_verify_between, GIVEN(BETWEEN)},
    {"D7", still_verify_ratings, 0},
    {"N5", still_verify_feeds, 0},
    {"I8 kept", still_verify_kept, 0},
    {"N6", still_verify_sequences, GIVEN(STEPS)},
    {"I5", still_verify_proof, GIVEN(PROOF)},
    {"I2 I3", still_verify_grade, 0},
    {"P1 P3", still_verify_steps, GIVEN(STEPS)},
    {"E1", still_verify_overrides, GIVEN(STEPS)},
    {"P6", still_verify_restore, GIVEN(RESTORE)},
    {"P6 tests", still_verify_tests, GIVEN(TESTS)},
    {"start", still_verify_start, GIVEN(START)},
    {"end", still_verify_end, GIVEN(END) | GIVEN(STEPS)},
    {"L1 L2 L3 L6", still_verify_closed_in, GIVEN(CLOSED_IN) | GIVEN(STEPS)},
    {"P3", still_verify_on_the_way, GIVEN(CLOSED_IN) | GIVEN(STEPS) | GIVEN(FINDINGS)},
    {"E1 E2 E4", still_verify_compartments, GIVEN(COMPARTMENTS) | GIVEN(FINDINGS)},
    {"findings", still_verify_findings, GIVEN(FINDINGS)},
};
static const part of_infeasible[] = {
    {"I6", still_verify_obstacle, GIVEN(OBSTACLE)},
    {"I2", still_verify_grade, 0},
    {"start", still_verify_start, GIVEN(START)},
    {"findings", still_verify_findings, GIVEN(FINDINGS)},
};

/* The bytewise lowest feed of each isolator; a feed without the text is its own (N5). */
static void isolators(still_verify *v, uint32_t *of_text)
{
    const still_plant *p = v->plant;
    for (uint32_t i = 0; i < p->n_feeds; i++) {
        const still_feed *f = &p->feeds[i];
        uint32_t best = of_text[f->isolator.v];
        if (best == STILL_NONE ||
            strcmp(still_text(p, f->id), still_text(p, p->feeds[best].id)) < 0)
            of_text[f->isolator.v] = i;
    }
    for (uint32_t i = 0; i < p->n_feeds; i++)
        v->isolator_of[i] = p->feeds[i].isolator.v == 0 ? i : of_text[p->feeds[i].isolator.v];
}

static bool prepare(still_verify *v)
{
    const still_plant *p = v->plant;
    size_t n = p->n_comps, names = p->names.n;
    uint32_t *of_text = still_verify_room(v, names, sizeof(uint32_t));
    v->isolator_of = still_verify_room(v, p->n_feeds, sizeof(uint32_t));
    v->point_comp = still_verify_room(v, v->rec->n_points, sizeof(uint32_t));
    v->point_feed = still_verify_room(v, v->rec->n_points, sizeof(uint32_t));
    v->whole = still_verify_room(v, n, 1);
    v->work_port = still_verify_room(v, p->n_ports, 1);
    v->avoided = still_verify_room(v, n, 1);
    v->stays = still_verify_room(v, n, 1);
    v->taken = still_verify_room(v, n, 1);
    v->closable = still_verify_room(v, n, 1);
    v->fork = still_verify_room(v, n, 1);
    v->positive = still_verify_room(v, n, 1);
    v->driven = still_verify_room(v, n, 1);
    v->level = still_verify_room(v, n, 1);
    v->set_to = still_verify_room(v, n, sizeof *v->set_to);
    v->space_of = still_verify_room(v, p->n_ports, sizeof(uint32_t));
    v->spaces = still_verify_room(v, (size_t)p->n_ports + 1, sizeof *v->spaces);
    v->where = still_verify_room(v, n, 1);
    v->barrier = still_verify_room(v, n, 1);
    v->opened = still_verify_room(v, n, 1);
    v->end_position = still_verify_room(v, n, 1);
    v->held_open = still_verify_room(v, n, 1);
    v->locked = still_verify_room(v, p->n_feeds, 1);
    v->piece = still_verify_room(v, p->n_ports, sizeof(uint32_t));
    v->piece_bara = still_verify_room(v, p->n_ports, sizeof(double));
    v->piece_gap = still_verify_room(v, p->n_ports, 1);
    if (v->nomem || !still_verify_walk_init(v, &v->inside) ||
        !still_verify_walk_init(v, &v->scratch) || !still_verify_walk_init(v, &v->second) ||
        !still_verify_walk_init(v, &v->third) || !still_verify_walk_init(v, &v->edge) ||
        !still_verify_walk_init(v, &v->region))
        return false;
    for (size_t i = 0; i < names; i++) of_text[i] = STILL_NONE;
    isolators(v, of_text);
    return true;
}

static void check(still_verify *v)
{
    if (!still_verify_shape(v) || !prepare(v) || !still_verify_subject(v)) return;
    still_verify_pieces(v);
    const part *parts = v->rec->feasible ? of_feasible : of_infeasible;
    size_t n = v->rec->feasible ? sizeof of_feasible / sizeof of_feasible[0]
                                : sizeof of_infeasible / sizeof of_infeasible[0];
    for (size_t i = 0; i < n && !v->nomem; i++)
        if ((parts[i].needs & v->given) == parts[i].needs) parts[i].check(v);
}

still_status still_verify_record(bool *agrees, const still_plant *plant, const still_state *state,
                                 const still_record *record, still_diags *diags)
{
    return still_verify_part(agrees, plant, state, record, STILL_GIVEN_ALL, diags);
}

still_status still_verify_part(bool *agrees, const still_plant *plant, const still_state *state,
                               const still_record *record, unsigned given, still_diags *diags)
{
    still_verify v = {
        .plant = plant, .state = state, .rec = record, .given = given, .diags = diags};
    still_arena_init(&v.arena);
    v.agrees = true;
    v.subject = "";
    check(&v);
    still_arena_clear(&v.arena);
    if (v.nomem) return STILL_E_NOMEM;
    *agrees = v.agrees;
    return STILL_OK;
}
