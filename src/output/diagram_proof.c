/* Paths of the proof, on request: each a line beside the pipes that it takes, dashed in one of
 * three ways, with its number at each of these pipes. Paths that share a pipe run in lanes of their
 * own, as far as there are lanes. Where the plant goes on beyond the picture, so do they. */
#include "diagram.h"

#include <math.h>

/** Lanes at most, distance of the first from the pipe (outside of hatching), and between two. */
enum { MOST_LANES = 4 };
#define FIRST 10.0
#define NEXT 5.0

/** Take a lane that no earlier path with a pipe of this one takes; else the last. */
static uint8_t free_lane(const still_dia *d, const still_strings *ids)
{
    uint8_t taken = 0, lane = 0;
    for (size_t i = 0; i < ids->n; i++) {
        uint32_t c = still_diagram_find(d, ids->items[i]);
        if (c != STILL_NONE && d->plant->comps[c].cls == STILL_CLASS_SPOOL) taken |= d->lanes[c];
    }
    while (lane + 1 < MOST_LANES && (taken & 1U << lane)) lane++;
    return lane;
}

still_status still_diagram_proof(still_dia *d)
{
    const still_proof *proof = &d->r->proof;
    if (d->bare || !d->r->option_paths || proof->n_paths == 0) return STILL_OK;
    d->lanes = STILL_ARENA_NEW(&d->arena, d->plant->n_comps, uint8_t);
    d->lane_of = STILL_ARENA_NEW(&d->arena, proof->n_paths, uint8_t);
    if (d->lanes == NULL || d->lane_of == NULL) return STILL_E_NOMEM;
    for (size_t p = 0; p < proof->n_paths; p++) {
        const still_strings *ids = &proof->paths[p].ids;
        uint8_t lane = free_lane(d, ids);
        d->lane_of[p] = lane;
        if (lane + 1U > d->n_lanes) d->n_lanes = lane + 1U;
        for (size_t i = 0; i < ids->n; i++) {
            uint32_t c = still_diagram_find(d, ids->items[i]);
            if (c != STILL_NONE) d->lanes[c] |= (uint8_t)(1U << lane);
        }
    }
    return STILL_OK;
}

double still_diagram_proof_room(const still_dia *d, uint32_t comp)
{
    if (d->lanes == NULL || comp == STILL_NONE || d->lanes[comp] == 0) return 0.0;
    return FIRST + NEXT * (double)(d->n_lanes - 1) + 3.0;
}

static bool takes(const still_dia *d, size_t path, uint32_t pipe)
{
    const still_strings *ids = &d->r->proof.paths[path].ids;
    for (size_t i = 0; i < ids->n; i++)
        if (still_diagram_find(d, ids->items[i]) == pipe) return true;
    return false;
}

const char *still_diagram_proof_words(still_dia *d, uint32_t pipe)
{
    if (d->lanes == NULL || d->lanes[pipe] == 0) return "";
    still_buf text = STILL_BUF_INIT;
    for (size_t p = 0; p < d->r->proof.n_paths; p++)
        if (takes(d, p, pipe))
            still_say(&text, d->arena.messages, "%s%zu", text.len == 0 ? WORD("path ") : ", ",
                      p + 1);
    const char *kept = text.failed ? NULL : still_arena_str(&d->arena, text.text);
    still_buf_clear(&text);
    return kept;
}

static void line(still_canvas *out, const still_dia *d, const still_dedge *e, size_t path)
{
    double xs[4], ys[4], off = FIRST + NEXT * (double)d->lane_of[path];
    still_diagram_corners(d, e, xs, ys);
    /* Beside an upright stretch on the same hand as above a level one. */
    double side = e->slanted || fabs(ys[3] - ys[0]) < 0.5 ? 0.0 : ys[3] > ys[0] ? off : -off;
    still_canvas_path(out, (still_look)(STILL_LOOK_PROOF_1 + path % 3));
    for (size_t k = 0; k < 4; k++) {
        double x = xs[k] + (k == 1 || k == 2 ? side : 0.0);
        if (k == 0)
            still_canvas_move(out, x, ys[k] - off);
        else
            still_canvas_to(out, x, ys[k] - off);
    }
}

void still_diagram_proof_lines(still_canvas *out, const still_dia *d)
{
    for (size_t p = 0; p < d->r->proof.n_paths && d->lanes != NULL; p++)
        for (size_t e = 0; e < d->n_edges; e++)
            if (d->edges[e].pipe != STILL_NONE && d->lanes[d->edges[e].pipe] != 0 &&
                takes(d, p, d->edges[e].pipe))
                line(out, d, &d->edges[e], p);
}
