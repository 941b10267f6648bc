/* Problem: the picture of a plan on sheets of paper of a given size, with type that is large enough
 * to be read, on as few sheets as may be, in an order that helps to find one's way.
 *
 * Method: the whole picture is laid out, wide and then tight, and tried. Where it has no room, its
 * components are parted along a line between two columns, or between two heights, of that layout,
 * near to where the sheets would be filled evenly and where few pipes cross; so on with each part
 * until all have room. Each part is laid out anew as a picture of its own, so nothing is ever cut
 * through: a pipe between two parts ends on both in a reference. Parts that are neighbours and
 * have room together are joined again, as long as what each sheet shows is a rectangle of the
 * whole, since the sheet that shows all of them in small has frames around them. Whether something
 * has room is not estimated but tried.
 *
 * Right, since each component and each pipe is a node of some part by construction; order and
 * numbers follow the parting, left before right and upper before lower, so the same input gives the
 * same sheets.
 *
 * Cost: a few layouts for each sheet. */
#include "diagram.h"

#include "alloc.h"

#include <math.h>

/** Pixels that a picture has beside the centres of its outermost symbols, about. */
#define RIM 150.0
/** Two sheets whose boxes of symbols and labels together fill more than this part of one are not
 *  tried as one: it would hardly have room. Beyond FULL nothing ever has. */
#define CROWDED 0.42
#define FULL 0.8

typedef struct paper {
    const still_record *r;
    const still_plant *plant;
    double width_mm, height_mm;
    uint32_t *leaf_of, *before; /**< by component; `before`: to go back to */
    still_dplace *places;       /**< room to sort in */
    uint32_t *comps;            /**< that are drawn, pipes aside */
    size_t n_comps;
    double *x, *y;                /**< by component: its place in the whole */
    uint32_t n;                   /**< sheets, that of the whole not counted */
    uint32_t *piece_of, n_pieces; /**< by component, as it was parted first */
    double *fill;                 /**< by sheet, about: part of its room that is not free */
    bool numbered;
} paper;

static void stop(still_dia *d)
{
    still_free(d->nodes);
    still_free(d->edges);
    still_arena_clear(&d->arena);
}

/** Part of a sheet that boxes of symbols and labels fill, with type of the least size. */
static double fill_of(const still_dia *d, const paper *p)
{
    return still_diagram_area_of(d) * STILL_DIAGRAM_LEAST_MM * STILL_DIAGRAM_LEAST_MM /
           (p->width_mm * p->height_mm);
}

/** Lay out one sheet, or the whole (0). To be stopped in every case.
 *  @param[out] full  true where it is plain that it has no room, and nothing was laid out; NULL =
 *                    lay it out all the same */
static still_status lay(still_dia *d, const paper *p, uint32_t leaf, bool tight, bool *full)
{
    *d = (still_dia){.r = p->r, .plant = p->plant, .tight = tight, .numbered = p->numbered};
    still_arena_init(&d->arena);
    d->arena.messages = d->r->messages;
    still_status status = still_diagram_pick(d);
    if (leaf != 0) {
        d->leaf_of = p->leaf_of;
        d->leaf = leaf;
    }
    for (uint32_t c = 0; status == STILL_OK && leaf != 0 && c < p->plant->n_comps; c++) {
        if (!(d->mark[c] & STILL_MARK_SHOW) || p->leaf_of[c] == leaf) continue;
        d->mark[c] = (uint8_t)((d->mark[c] & ~STILL_MARK_SHOW) | STILL_MARK_ELSEWHERE);
    }
    if (full != NULL)
        d->most_area =
            FULL * p->width_mm * p->height_mm / STILL_DIAGRAM_LEAST_MM / STILL_DIAGRAM_LEAST_MM;
    if (status == STILL_OK) status = still_diagram_arrange(d);
    if (full != NULL) *full = d->full;
    return status;
}

static bool has_room(const still_dia *d, const paper *p)
{
    const still_dleaf leaf = {p->width_mm, p->height_mm, 1, 1, NULL, 0};
    return still_diagram_leaf_scale(d, &leaf) >= STILL_DIAGRAM_LEAST_MM;
}

static still_status try_leaf(const paper *p, uint32_t leaf, bool *room)
{
    still_dia d;
    bool full = false;
    still_status status = lay(&d, p, leaf, true, &full);
    if (status == STILL_OK) *room = !full && has_room(&d, p);
    p->fill[leaf] = fill_of(&d, p);
    stop(&d);
    return status;
}

/** Components of a sheet, sorted by their place. @return how many */
static size_t places_of(const paper *p, uint32_t leaf, const double *at)
{
    size_t n = 0;
    for (size_t i = 0; i < p->n_comps; i++)
        if (p->leaf_of[p->comps[i]] == leaf)
            p->places[n++] = (still_dplace){at[p->comps[i]], p->comps[i]};
    still_diagram_sort(p->places, n);
    return n;
}

/** Pipes of a sheet that pass a place. */
static size_t cut_pipes(const paper *p, uint32_t leaf, const double *at, double place)
{
    size_t n = 0;
    for (size_t i = 0; i < p->n_comps; i++) {
        const still_comp *c = &p->plant->comps[p->comps[i]];
        if (p->leaf_of[p->comps[i]] != leaf || at[p->comps[i]] >= place) continue;
        for (uint32_t k = 0; k < c->b; k++) {
            uint32_t across = still_port_across(p->plant, c->a + k);
            uint32_t next = across == STILL_NONE ? STILL_NONE : p->plant->ports[across].comp;
            n += next != STILL_NONE && p->leaf_of[next] == leaf && at[next] >= place;
        }
    }
    return n;
}

/** Part a sheet in two: what lies further on goes to the next number, and all others move up. */
static void part(paper *p, uint32_t leaf, double room_x, double room_y)
{
    double extent[2], room[2] = {room_x, room_y};
    const double *at[2] = {p->x, p->y};
    for (int axis = 0; axis < 2; axis++) {
        size_t n = places_of(p, leaf, at[axis]);
        extent[axis] = p->places[n - 1].at - p->places[0].at;
    }
    int axis = (extent[0] + RIM) / room[0] >= (extent[1] + RIM) / room[1] ? 0 : 1;
    if (!(extent[axis] > 1.0)) axis = 1 - axis;
    size_t n = places_of(p, leaf, at[axis]), best = n / 2;
    double parts = fmax(2.0, ceil((extent[axis] + RIM) / room[axis])), least = HUGE_VAL;
    double goal = p->places[0].at + extent[axis] * floor(parts / 2.0) / parts;
    for (size_t i = 1; i < n; i++) {
        double low = p->places[i - 1].at, high = p->places[i].at, middle = (low + high) / 2.0;
        if (high - low < 1.0) continue;
        double cost = (double)cut_pipes(p, leaf, at[axis], middle) +
                      12.0 * fabs(middle - goal) / extent[axis];
        if (cost < least) best = i;
        least = fmin(least, cost);
    }
    for (size_t i = 0; i < p->n_comps; i++)
        if (p->leaf_of[p->comps[i]] > leaf) p->leaf_of[p->comps[i]]++;
    for (size_t i = best; i < n; i++) p->leaf_of[p->places[i].node] = leaf + 1;
    p->n++;
}

/** True where two sheets might be one. */
static bool may_join(const paper *p, uint32_t a, uint32_t b, bool any)
{
    bool joined = any;
    if (p->fill[a] + p->fill[b] > CROWDED) return false;
    for (size_t i = 0; i < p->n_comps && !joined; i++) {
        uint32_t at = p->comps[i];
        for (uint32_t k = 0; p->leaf_of[at] == a && k < p->plant->comps[at].b; k++) {
            uint32_t across = still_port_across(p->plant, p->plant->comps[at].a + k);
            joined =
                joined || (across != STILL_NONE && p->leaf_of[p->plant->ports[across].comp] == b);
        }
    }
    return joined;
}

static still_status join(paper *p, uint32_t a, uint32_t b, bool *done)
{
    for (size_t i = 0; i < p->n_comps; i++) {
        uint32_t *leaf = &p->leaf_of[p->comps[i]];
        p->before[i] = *leaf;
        if (*leaf == b) *leaf = a;
        if (*leaf > b) --*leaf;
    }
    double fill = p->fill[a];
    still_status status = try_leaf(p, a, done);
    if (status != STILL_OK) return status;
    for (size_t i = 0; i < p->n_comps && !*done; i++) p->leaf_of[p->comps[i]] = p->before[i];
    if (!*done) p->fill[a] = fill;
    for (uint32_t k = b; *done && k < p->n; k++) p->fill[k] = p->fill[k + 1];
    p->n -= *done;
    return STILL_OK;
}

/** @param any  also what no pipe joins; so many tries only */
static still_status join_all(paper *p, bool any)
{
    size_t tries = any ? 2 * (size_t)p->n : SIZE_MAX;
    for (uint32_t a = 1; a < p->n; a++)
        for (uint32_t b = a + 1; b <= p->n; b++) {
            bool done = false;
            if (tries == 0 || !may_join(p, a, b, any)) continue;
            tries--;
            still_status status = join(p, a, b, &done);
            if (status != STILL_OK) return status;
            if (done) b = a;
        }
    return STILL_OK;
}

static size_t size_of(const paper *p, uint32_t leaf)
{
    size_t n = 0;
    for (size_t i = 0; i < p->n_comps; i++) n += p->leaf_of[p->comps[i]] == leaf;
    return n;
}

/** Part what has no room until all has. */
static still_status part_all(paper *p)
{
    double room_x = p->width_mm / STILL_DIAGRAM_LEAST_MM,
           room_y = p->height_mm / STILL_DIAGRAM_LEAST_MM;
    for (uint32_t leaf = 1; leaf <= p->n;) {
        bool room = false;
        still_status status = try_leaf(p, leaf, &room);
        if (status != STILL_OK) return status;
        if (room || size_of(p, leaf) < 2)
            leaf++;
        else
            part(p, leaf, room_x, room_y);
    }
    return STILL_OK;
}

/** Where all stands in the whole. */
static bool take_places(paper *p, const still_dia *whole)
{
    size_t n = p->plant->n_comps, shown = whole->n_list;
    p->leaf_of = still_calloc(n, sizeof *p->leaf_of);
    p->x = still_calloc(n, sizeof *p->x);
    p->y = still_calloc(n, sizeof *p->y);
    p->piece_of = still_calloc(n, sizeof *p->piece_of);
    p->fill = still_calloc(shown + 2, sizeof *p->fill);
    p->comps = still_calloc(shown, sizeof *p->comps);
    p->before = still_calloc(shown, sizeof *p->before);
    p->places = still_calloc(shown, sizeof *p->places);
    if (!p->leaf_of || !p->x || !p->y || !p->comps || !p->before || !p->places || !p->piece_of ||
        !p->fill)
        return false;
    for (size_t i = 0; i < shown; i++) {
        uint32_t c = whole->list[i];
        p->comps[p->n_comps++] = c;
        p->leaf_of[c] = 1;
        p->x[c] = whole->nodes[whole->node_of[c]].x;
        p->y[c] = whole->nodes[whole->node_of[c]].y;
    }
    /* A plug or an outlet stays with what it closes, or ends. */
    for (size_t i = 0; i < shown; i++) {
        const still_comp *c = &p->plant->comps[whole->list[i]];
        uint32_t across = c->b == 1 ? still_port_across(p->plant, c->a) : STILL_NONE;
        uint32_t next = across == STILL_NONE ? STILL_NONE : p->plant->ports[across].comp;
        if (next == STILL_NONE || p->leaf_of[next] == 0) continue;
        p->x[whole->list[i]] = p->x[next];
        p->y[whole->list[i]] = p->y[next];
    }
    p->n = 1;
    return true;
}

static void forget(paper *p)
{
    still_free(p->leaf_of);
    still_free(p->piece_of);
    still_free(p->fill);
    still_free(p->x);
    still_free(p->y);
    still_free(p->comps);
    still_free(p->before);
    still_free(p->places);
}

/** What two pieces show together: whether nothing of others is between, and both on one sheet. */
static bool one_piece(const paper *p, uint32_t a, uint32_t b)
{
    double box[4] = {HUGE_VAL, HUGE_VAL, -HUGE_VAL, -HUGE_VAL};
    uint32_t leaf = 0;
    for (size_t i = 0; i < p->n_comps; i++) {
        uint32_t c = p->comps[i];
        if (p->piece_of[c] != a && p->piece_of[c] != b) continue;
        if (leaf != 0 && p->leaf_of[c] != leaf) return false;
        leaf = p->leaf_of[c];
        box[0] = fmin(box[0], p->x[c]);
        box[1] = fmin(box[1], p->y[c]);
        box[2] = fmax(box[2], p->x[c]);
        box[3] = fmax(box[3], p->y[c]);
    }
    for (size_t i = 0; i < p->n_comps; i++) {
        uint32_t c = p->comps[i];
        if (p->piece_of[c] != a && p->piece_of[c] != b && p->x[c] >= box[0] && p->x[c] <= box[2] &&
            p->y[c] >= box[1] && p->y[c] <= box[3])
            return false;
    }
    return true;
}

/** Pieces of one sheet that lie side by side get one frame. */
static void join_pieces(paper *p)
{
    for (uint32_t a = 1; a < p->n_pieces; a++)
        for (uint32_t b = a + 1; b <= p->n_pieces; b++) {
            if (!one_piece(p, a, b)) continue;
            for (size_t i = 0; i < p->n_comps; i++) {
                uint32_t *piece = &p->piece_of[p->comps[i]];
                if (*piece == b) *piece = a;
                if (*piece > b) --*piece;
            }
            p->n_pieces--;
            b = a;
        }
}

/** Room for n sheets. */
static still_status new_sheets(still_canvas **sheets, size_t n)
{
    *sheets = still_calloc(n, sizeof **sheets);
    return *sheets == NULL ? STILL_E_NOMEM : STILL_OK;
}

/** Draw all parts, once their numbers are known. */
static still_status draw_parts(const paper *p, still_canvas *sheets)
{
    for (uint32_t leaf = 1; leaf <= p->n; leaf++) {
        still_dia d;
        const still_dleaf on = {p->width_mm, p->height_mm, leaf + 1, p->n + 1, NULL, 0};
        still_status status = lay(&d, p, leaf, true, NULL);
        if (status == STILL_OK) still_diagram_leaf(&sheets[leaf], &d, &on);
        stop(&d);
        if (status == STILL_OK && sheets[leaf].failed) status = STILL_E_NOMEM;
        if (status != STILL_OK) return status;
    }
    return STILL_OK;
}

/** Several sheets; `whole` is laid out already. */
static still_status several(paper *p, still_dia *whole, still_canvas **sheets, size_t *n)
{
    if (!take_places(p, whole)) return STILL_E_NOMEM;
    still_status status = part_all(p);
    p->n_pieces = p->n;
    for (size_t i = 0; i < p->n_comps; i++) p->piece_of[p->comps[i]] = p->leaf_of[p->comps[i]];
    if (status == STILL_OK) status = join_all(p, false);
    if (status == STILL_OK) status = join_all(p, true);
    /* Numbers are shorter than the room that was kept for them; but a layout may change by it. */
    p->numbered = true;
    if (status == STILL_OK) status = part_all(p);
    if (status == STILL_OK) status = new_sheets(sheets, (size_t)p->n + 1);
    if (status != STILL_OK) return status;
    *n = (size_t)p->n + 1;
    join_pieces(p);
    const still_dleaf on = {p->width_mm, p->height_mm, 1, p->n + 1, p->piece_of, p->n_pieces};
    whole->leaf_of = p->leaf_of;
    still_diagram_overview(&(*sheets)[0], whole, &on);
    if ((*sheets)[0].failed) return STILL_E_NOMEM;
    return draw_parts(p, *sheets);
}

void still_diagram_sheets_free(still_canvas *sheets, size_t n)
{
    for (size_t i = 0; sheets != NULL && i < n; i++) still_canvas_clear(&sheets[i]);
    still_free(sheets);
}

still_status still_diagram_sheets(still_canvas **sheets, size_t *n, const still_record *r,
                                  const still_plant *plant, double width_mm, double height_mm)
{
    paper p = {.r = r, .plant = plant, .width_mm = width_mm, .height_mm = height_mm};
    still_canvas *made = NULL;
    size_t n_made = 0;
    still_dia d = {0};
    bool full = false;
    still_status status = lay(&d, &p, 0, false, &full);
    bool room = status == STILL_OK && !full && has_room(&d, &p);
    if (status == STILL_OK && !room) {
        stop(&d);
        status = lay(&d, &p, 0, true, NULL);
        room = status == STILL_OK && has_room(&d, &p);
    }
    if (status == STILL_OK && (room || d.n_list < 2)) {
        const still_dleaf on = {width_mm, height_mm, 1, 1, NULL, 0};
        status = new_sheets(&made, 1);
        n_made = status == STILL_OK;
        if (status == STILL_OK) still_diagram_leaf(made, &d, &on);
        if (status == STILL_OK && made->failed) status = STILL_E_NOMEM;
    } else if (status == STILL_OK) {
        status = several(&p, &d, &made, &n_made);
    }
    stop(&d);
    forget(&p);
    if (status != STILL_OK) {
        still_diagram_sheets_free(made, n_made);
        return status;
    }
    *sheets = made;
    *n = n_made;
    return STILL_OK;
}
