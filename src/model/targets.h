/** @file targets.h  What is to be opened: components, single sides of exchangers, single joints.
 *
 *  A target is named by "ID" (a component or spool, whole), by "ID.SIDE" (one side of an exchanger)
 *  or by "ID.PORT" (the joint at that port: flange, thread or weld, the device behind it stays
 *  whole). A component's own id comes first, then a side, then a port. */
#ifndef STILL_TARGETS_H
#define STILL_TARGETS_H

#include "plant.h"

typedef struct still_target {
    uint32_t comp;
    uint32_t side; /**< side of the exchanger comp, or STILL_NONE */
    uint32_t port; /**< joint at this port of comp, or STILL_NONE */
} still_target;

/** Everything that is opened in one piece of work. Borrowed arrays. */
typedef struct still_targets {
    const still_target *items;
    size_t n;
} still_targets;

/** Find what a name stands for. @return false when the plant has nothing of that name */
bool still_target_find(still_target *out, const still_plant *plant, const char *name);

/** The component is opened whole: it joins all of its ports, is no source and no point, and its
 *  contents are those of the work. A joint or one side of an exchanger does not open it whole. */
bool still_opened_whole(const still_targets *targets, uint32_t comp);
/** The side of an exchanger is opened, alone or with the exchanger. */
bool still_opened_side(const still_plant *plant, const still_targets *targets, uint32_t side);
/** The port belongs to what is opened: of a whole component each of its ports, of a spool those
 * that it joins, of a side its ports, of a joint the port. */
bool still_opened_port(const still_plant *plant, const still_targets *targets, uint32_t port);

#endif
