/** @file state.h  What is different today: an overlay of positions, conditions and contents.
 *
 *  Every computation takes a plant, a state and targets. A NULL state is the plant file's own.
 *  The overlay is small (what people found on a walk), so it is one sorted array. */
#ifndef STILL_STATE_H
#define STILL_STATE_H

#include "plant.h"

/** What is said of one component today; 0 = as in the plant file. */
typedef struct still_state_item {
    uint32_t comp;
    uint8_t position, condition, contents, energised;
    uint8_t way; /**< of a three-way valve, as still_way_value gives it; its position is then 0 */
} still_state_item;

typedef struct still_state {
    still_state_item *items; /**< ascending by component, each once */
    size_t n, cap;
    char digest[65]; /**< SHA-256 of the file that it was read from; "" = from no file */
} still_state;

/** @return an empty overlay, or NULL when memory is out. */
still_state *still_state_new(void);
void still_state_free(still_state *state);
/** A copy, its digest too; of NULL an empty one. @return NULL when memory is out. */
still_state *still_state_copy(const still_state *from);
/** The entry of a component, made if there is none yet; NULL when memory is out. */
still_state_item *still_state_at(still_state *state, uint32_t comp);

/** Position today of a valve or blind; never "not said": that is UNKNOWN. Sealed without a
 *  position counts as the position in which it is sealed. */
still_position still_position_now(const still_plant *plant, const still_state *state,
                                  uint32_t comp);
/** Way in which a three-way valve stands today, such as "a-c"; "" = unknown. */
const char *still_way_now(const still_plant *plant, const still_state *state, uint32_t comp);
/** Condition today; not said = sound (FORMAT.md). */
still_condition still_condition_now(const still_plant *plant, const still_state *state,
                                    uint32_t comp);
/** Contents today of a vessel; NOT_SAID where neither file nor state says. Found two-phase where
 * the plant file says something else, it is full: the file's `fill` is not that of today (N2). */
still_contents still_contents_now(const still_plant *plant, const still_state *state,
                                  uint32_t comp);

#endif
