/* What a state on the way breaks.
 * Problem: for a set of moves done, count the machines that lost a way (P9), the equipment that
 * lost its relief path (D4) and the pipes full of liquid that are shut in without cover (L6).
 * Method: the positions of the state, laid over today's, and the engines for relief and machines
 * asked anew. Why it is right: they are functions of the positions alone (docs/METHOD.md, 5, 7).
 * Cost: one relief_build a state, and the walks of the machines that can lose a way. */
#include "watch.h"

#include "alloc.h"

#include <math.h>
#include <string.h>

static bool stands_closed(const still_op *op)
{
    return strcmp(op->home, "closed") == 0;
}

still_status still_watch_begin(still_watch *w, const still_order *order,
                               const still_order_given *given)
{
    const still_plant *plant = order->plant;
    *w = (still_watch){.order = order, .given = given};
    w->base_held = still_calloc(plant->n_comps, 1);
    w->base_moved = still_calloc(plant->n_comps, 1);
    w->held = still_calloc(plant->n_comps, 1);
    w->moved = still_calloc(plant->n_comps, 1);
    w->feed_off = still_calloc(plant->n_feeds, 1);
    w->stopped = still_calloc(plant->n_comps, 1);
    w->wet = still_calloc(plant->n_ports, 1);
    w->queue = still_calloc(plant->n_ports, sizeof w->queue[0]);
    w->moves = still_calloc((size_t)order->n_ops + 1, sizeof w->moves[0]);
    if (!w->wet || !w->queue || !w->moves) return STILL_E_NOMEM;
    if (!w->base_held || !w->base_moved || !w->held || !w->moved || !w->feed_off || !w->stopped)
        return STILL_E_NOMEM;
    still_status status = still_machines_build(&w->machines, plant, order->state);
    if (status != STILL_OK) return status;
    w->weak = still_calloc(w->machines.n, sizeof w->weak[0]);
    return w->weak != NULL ? STILL_OK : STILL_E_NOMEM;
}

void still_watch_end(still_watch *w)
{
    still_free(w->base_held);
    still_free(w->base_moved);
    still_free(w->held);
    still_free(w->moved);
    still_free(w->feed_off);
    still_free(w->stopped);
    still_free(w->wet);
    still_free(w->queue);
    still_free(w->moves);
    still_free(w->weak);
    still_machines_clear(&w->machines);
    *w = (still_watch){0};
}

/* How a barrier stands once it is brought back: as in normal service, else as it was found. */
static void bring_back(const still_watch *w, const still_op *op)
{
    const still_comp *c = &w->order->plant->comps[op->comp];
    unsigned normal = c->normal;
    bool open = normal == STILL_POSITION_OPEN || normal == STILL_POSITION_THROTTLED;
    bool shut = normal == STILL_POSITION_CLOSED;
    w->held[op->comp] = open ? STILL_HELD_OPEN : shut ? STILL_HELD_CLOSED : STILL_HELD_NOT;
    w->moved[op->comp] = shut && !stands_closed(op);
}

bool still_same_isolator(const still_plant *plant, uint32_t a, uint32_t b)
{
    const char *text = still_text(plant, plant->feeds[a].isolator);
    return a == b ||
           (text[0] != '\0' && strcmp(text, still_text(plant, plant->feeds[b].isolator)) == 0);
}

/* All feeds of one isolator go off together. */
static void switch_feed(const still_watch *w, uint32_t feed, bool off)
{
    for (uint32_t i = 0; i < w->order->plant->n_feeds; i++)
        if (still_same_isolator(w->order->plant, feed, i)) w->feed_off[i] = off;
}

static void set_op(const still_watch *w, const still_op *op, bool done)
{
    if (op->feed != STILL_NONE) {
        switch_feed(w, op->feed, done);
    } else if (op->barrier) {
        if (w->back && done) {
            bring_back(w, op);
        } else if (done || w->back) {
            w->held[op->comp] = STILL_HELD_CLOSED;
            w->moved[op->comp] = !stands_closed(op);
        }
    } else if (op->opening && done) {
        w->held[op->comp] = STILL_HELD_OPEN;
    }
}

/* What lets liquid through on the way back: all that is not shut by hand, one-way devices forward.
 */
static bool lets_by(const still_watch *w, uint32_t comp, uint32_t port)
{
    const still_comp *c = &w->order->plant->comps[comp];
    if (c->cls == STILL_CLASS_CAP || c->cls == STILL_CLASS_OUTLET || c->cls == STILL_CLASS_LIMIT)
        return false;
    if (c->cls != STILL_CLASS_VALVE && c->cls != STILL_CLASS_BLIND) return true;
    if (w->held[comp] == STILL_HELD_CLOSED) return false;
    if (c->kind == STILL_KIND_CHECK || c->kind == STILL_KIND_STOP_CHECK || still_relieves(c))
        return port == c->a;
    if (w->held[comp] == STILL_HELD_OPEN) return true;
    bool hand = c->cls == STILL_CLASS_BLIND || (still_kind_stops(c->kind) && still_by_hand(c));
    return !hand ||
           still_position_now(w->order->plant, w->order->state, comp) != STILL_POSITION_CLOSED;
}

/* A point of the way back that is shut in the state laid: still closed, or found closed and left
 * so. */
static bool stands_shut(const still_watch *w, const still_op *op)
{
    return w->held[op->comp] == STILL_HELD_CLOSED ||
           (w->held[op->comp] == STILL_HELD_NOT && stands_closed(op));
}

bool still_watch_lets_in(const still_watch *w)
{
    for (uint32_t i = 0; i < w->n_moves; i++)
        if (w->order->ops[w->moves[i]].comp != STILL_NONE &&
            !stands_shut(w, &w->order->ops[w->moves[i]]))
            return true;
    return false;
}

/* Flood from the liquid sides that are open again. */
static void wet_all(still_watch *w)
{
    const still_plant *plant = w->order->plant;
    size_t tail = 0;
    memset(w->wet, 0, plant->n_ports);
    for (uint32_t i = 0; i < w->n_moves; i++) {
        const still_op *op = &w->order->ops[w->moves[i]];
        if (!op->wets || op->inner_port == STILL_NONE || stands_shut(w, op)) continue;
        w->wet[op->inner_port] = 1;
        w->queue[tail++] = op->inner_port;
    }
    for (size_t head = 0; head < tail; head++) {
        uint32_t port = w->queue[head], comp = plant->ports[port].comp;
        uint32_t across = still_port_across(plant, port);
        const still_comp *c = &plant->comps[comp];
        for (uint32_t i = 0; i <= c->b; i++) {
            uint32_t q = i == c->b ? across : c->a + i;
            if (q == STILL_NONE || w->wet[q] || (i < c->b && !lets_by(w, comp, port))) continue;
            if (i < c->b && c->cls == STILL_CLASS_EXCHANGER &&
                still_port_side(plant, q) != still_port_side(plant, port))
                continue;
            w->wet[q] = 1;
            w->queue[tail++] = q;
        }
    }
}

/* What feeds that are off have stopped: machines of which every feed is off; what closes or stays
 * where it is without its supply. */
static void stop(still_watch *w)
{
    const still_plant *plant = w->order->plant;
    memset(w->stopped, 0, plant->n_comps);
    for (uint32_t c = 0; c < plant->n_comps; c++) {
        const still_comp *comp = &plant->comps[c];
        bool machine = still_is_machine(comp);
        size_t n, off = 0;
        if (!machine && comp->cls != STILL_CLASS_VALVE) continue;
        const still_comp_feed *feeds = still_comp_feeds(plant, c, &n);
        for (size_t i = 0; i < n; i++) off += w->feed_off[feeds[i].feed] != 0;
        w->stopped[c] = off > 0 && (machine ? off == n : comp->fails != STILL_FAILS_OPEN);
    }
}

void still_watch_lay(still_watch *w, const uint8_t *done)
{
    const still_plant *plant = w->order->plant;
    memcpy(w->held, w->base_held, plant->n_comps);
    memcpy(w->moved, w->base_moved, plant->n_comps);
    for (uint32_t i = 0; i < w->n_moves; i++) set_op(w, &w->order->ops[w->moves[i]], done[i] != 0);
    stop(w);
    /* A driven point closes with its supply (D3). */
    for (uint32_t i = 0; i < w->n_moves && !w->back; i++) {
        const still_op *op = &w->order->ops[w->moves[i]];
        if (op->comp == STILL_NONE || !op->barrier || !w->stopped[op->comp]) continue;
        w->held[op->comp] = STILL_HELD_CLOSED;
        w->moved[op->comp] = !stands_closed(op);
    }
    if (w->back) wet_all(w);
}

still_status still_watch_look(void *data, const uint8_t *done, still_breaches *out)
{
    still_watch *w = data;
    const still_order *o = w->order;
    still_relief after = {0};
    uint32_t spools = 0, n_lost = 0;
    still_watch_lay(w, done);
    still_status status = still_relief_build(&after, o->plant, o->state, w->held);
    if (status == STILL_OK)
        status = still_shut_in_count(&spools, w->given->before, &after,
                                     w->back && !w->soaked ? w->wet : NULL);
    if (status == STILL_OK) n_lost = still_relief_lost_count(w->given->before, &after);
    still_relief_clear(&after);
    *out = (still_breaches){{0}};
    if (w->back && !w->soaked && !still_watch_lets_in(w)) n_lost = spools = 0;
    out->of[STILL_BREAKS_D4] = n_lost;
    out->of[STILL_BREAKS_L6] = spools;
    for (uint32_t i = 0; i < w->n_weak && !w->back; i++)
        out->of[STILL_BREAKS_P9] +=
            !w->stopped[w->machines.comps[w->weak[i]]] &&
            still_machines_lost(&w->machines, w->weak[i], w->held, w->stopped) != 0;
    return status;
}

still_status still_watch_take(still_watch *w, const uint32_t *moves, uint32_t n, bool back,
                              still_breaches *worst)
{
    if (!back) {
        /* The list before is done. */
        for (uint32_t i = 0; i < w->n_moves; i++) set_op(w, &w->order->ops[w->moves[i]], true);
        memcpy(w->base_held, w->held, w->order->plant->n_comps);
        memcpy(w->base_moved, w->moved, w->order->plant->n_comps);
    } else {
        /* All that was opened is shut again, and only points are closed. */
        memset(w->base_held, 0, w->order->plant->n_comps);
        memset(w->base_moved, 0, w->order->plant->n_comps);
    }
    for (uint32_t i = 0; i < n; i++) w->moves[i] = moves[i];
    w->n_moves = n;
    w->back = back;
    uint8_t *done = still_calloc((size_t)n + 1, 1);
    if (done == NULL) return STILL_E_NOMEM;
    for (uint32_t i = 0; i < n && !back; i++) {
        const still_op *op = &w->order->ops[moves[i]];
        done[i] = op->barrier && op->feed == STILL_NONE;
    }
    still_watch_lay(w, done);
    /* Machines that could lose a way: with everything stopped that this list may stop, but them. */
    w->n_weak = 0;
    for (uint32_t i = 0; i < n && !back; i++)
        if (w->order->ops[moves[i]].feed != STILL_NONE)
            switch_feed(w, w->order->ops[moves[i]].feed, true);
    stop(w);
    for (uint32_t i = 0; i < w->machines.n && !back; i++)
        if (still_machines_lost(&w->machines, i, w->held, w->stopped) != 0)
            w->weak[w->n_weak++] = i;
    w->soaked = back;
    still_status status = still_watch_look(w, done, worst);
    w->soaked = false;
    worst->of[STILL_BREAKS_P9] = w->n_weak;
    still_free(done);
    return status;
}
