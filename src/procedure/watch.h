/** @file watch.h  What a state on the way breaks: P9, D4, L6 (docs/METHOD.md, 7). */
#ifndef STILL_WATCH_H
#define STILL_WATCH_H

#include "machines.h"
#include "ordering.h"
#include "plan_order.h"

/** The states of one list of moves. */
typedef struct still_watch {
    const still_order *order;
    const still_order_given *given;
    uint32_t *moves; /**< numbers in order->ops */
    uint32_t n_moves;
    bool soaked;        /**< liquid can have come everywhere: for the worst state */
    bool back;          /**< the moves bring points back: those not done are closed */
    uint8_t *base_held; /**< by component: what stands before the first of the moves */
    uint8_t *base_moved;
    uint8_t *held, *moved; /**< the state looked at last */
    uint8_t *stopped;      /**< by component: machines that cannot run, devices without supply */
    uint8_t *feed_off;     /**< by feed, in the state looked at last */
    uint8_t *wet;          /**< by port, on the way back: liquid can have come there */
    uint32_t *queue;
    still_machines machines;
    uint32_t *weak, n_weak; /**< machines that can lose a way at all */
} still_watch;

/** @return STILL_OK, STILL_E_NOMEM. Clear in every case. */
STILL_NODISCARD still_status still_watch_begin(still_watch *watch, const still_order *order,
                                               const still_order_given *given);
void still_watch_end(still_watch *watch);

/** Take up a list of moves. What was taken up before counts as done. `worst` gets what the state
 *  breaks in which every barrier of the list is closed, nothing is opened and every feed is on: no
 *  state on the way breaks more.
 *  @return STILL_OK, STILL_E_NOMEM */
STILL_NODISCARD still_status still_watch_take(still_watch *watch, const uint32_t *moves, uint32_t n,
                                              bool back, still_breaches *worst);
/** Lay the positions of a state: held, moved, feed_off, stopped. */
void still_watch_lay(still_watch *watch, const uint8_t *done);
/** On the way back: whether a point is open in the state laid last. */
bool still_watch_lets_in(const still_watch *watch);
/** Whether two feeds are switched by one isolator. */
bool still_same_isolator(const still_plant *plant, uint32_t a, uint32_t b);
/** What the state with these moves done breaks; of the type that ordering.h asks for. */
STILL_NODISCARD still_status still_watch_look(void *watch, const uint8_t *done,
                                              still_breaches *out);

/** Breaches by name along an order of the moves.
 *  @param moves  of the list taken up, in order: numbers in it
 *  Adds to *list (arena memory grown anew). @return STILL_OK, STILL_E_NOMEM */
STILL_NODISCARD still_status still_watch_walk(still_watch *watch, still_arena *arena,
                                              const uint32_t *moves, still_on_the_way **list,
                                              size_t *n, size_t *cap);

#endif
