/** @file trace.h  Shortest ways through the ports of a zone, and their components in order. */
#ifndef STILL_TRACE_H
#define STILL_TRACE_H

#include "isolation.h"

/** Working arrays for repeated searches; each search costs what it visits. */
typedef struct still_trace {
    const still_zone *zone;
    uint32_t *stamp, *parent; /**< by port */
    uint32_t *queue;
    uint32_t round;
    uint32_t barred; /**< component that stops the search, or STILL_NONE */
    bool cross_weak; /**< pass devices in the direction in which they do not hold */
} still_trace;

/** @return false when memory is out. Clear in every case. */
bool still_trace_init(still_trace *trace, const still_zone *zone);
void still_trace_clear(still_trace *trace);

/** Whether a port ends the search. */
typedef bool (*still_goal)(const still_zone *zone, uint32_t port, uint32_t arg);
/** Goals: the port is `arg`; it belongs to component arg, or to the spool arg; a source of any
 *  kind stands there; a source that can't be taken inside stands there (component arg aside). */
bool still_goal_port(const still_zone *zone, uint32_t port, uint32_t arg);
bool still_goal_comp(const still_zone *zone, uint32_t port, uint32_t arg);
bool still_goal_source(const still_zone *zone, uint32_t port, uint32_t arg);
bool still_goal_blocker(const still_zone *zone, uint32_t port, uint32_t arg);

/** Breadth-first from ports first..first+n-1 to the nearest goal, inside one piece (closable
 *  devices stop it, save as cross_weak says). @return the goal port or STILL_NONE */
uint32_t still_trace_find(still_trace *trace, uint32_t first, uint32_t n, still_goal goal,
                          uint32_t arg);
/** Append the components of the way found last to a list, start to goal, each once in a row.
 *  @return false when memory is out */
bool still_trace_append(const still_trace *trace, uint32_t goal, uint32_t **list, size_t *n,
                        size_t *cap);

#endif
