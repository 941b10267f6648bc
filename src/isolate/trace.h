/** @file trace.h  Ways through a zone that cost nothing, layer by layer.
 *
 *  A state is a port in a layer: "the label here is below that layer". A step through pipe or
 *  component keeps the layer; across a device the layer rises by one, or stays where the device may
 *  not be cut in that layer. So whatever is reached from the work has a label below its layer in
 *  every labelling. Rising elsewhere is left out: it never reaches more (docs/METHOD.md, 4). */
#ifndef STILL_TRACE_H
#define STILL_TRACE_H

#include "isolation.h"

/** Working arrays for repeated searches; each search costs what it visits. */
typedef struct still_trace {
    const still_zone *zone;
    uint32_t *stamp, *parent; /**< by state: 2 * port + layer - 1 */
    uint32_t *queue;
    uint32_t round;
    const uint8_t
        *ideal; /**< by component: counts as a device that serves and holds; NULL = none */
} still_trace;

/** @return false when memory is out. Clear in every case. */
bool still_trace_init(still_trace *trace, const still_zone *zone);
void still_trace_clear(still_trace *trace);

static inline uint32_t still_trace_state(uint32_t port, uint32_t layer)
{
    return 2 * port + layer - 1;
}

/** Whether a port in a layer ends the search. */
typedef bool (*still_goal)(const still_zone *zone, uint32_t port, uint32_t layer, uint32_t arg);
/** Goals: the state is `arg`; in layer 1 or below its component's stop label the port belongs to
 *  component or spool arg; a source of any kind stands there and must have a label not below the
 *  layer; the same, of a source that can't be taken inside (component arg aside). */
bool still_goal_state(const still_zone *zone, uint32_t port, uint32_t layer, uint32_t arg);
bool still_goal_comp(const still_zone *zone, uint32_t port, uint32_t layer, uint32_t arg);
bool still_goal_source(const still_zone *zone, uint32_t port, uint32_t layer, uint32_t arg);
bool still_goal_blocker(const still_zone *zone, uint32_t port, uint32_t layer, uint32_t arg);

/** Breadth-first from one state, or from all opened ports (STILL_NONE: layer 1, then layer 2).
 *  @return the goal's state or STILL_NONE */
uint32_t still_trace_find(still_trace *trace, uint32_t from, still_goal goal, uint32_t arg);
/** Append components and layers of the way found last to lists, start to goal, each once in a row.
 *  @return false when memory is out */
bool still_trace_append(const still_trace *trace, uint32_t goal, uint32_t **comps,
                        uint32_t **layers, size_t *n, size_t *cap, size_t *layers_cap);

#endif
