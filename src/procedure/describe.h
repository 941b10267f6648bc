/** @file describe.h  Words for components and feeds, as a person on the plant says them. */
#ifndef STILL_DESCRIBE_H
#define STILL_DESCRIBE_H

#include "arena.h"
#include "plant.h"
#include "state.h"
#include "stillset/record.h"

/** "motor-operated control valve DN50", "vessel (separator)"; NULL when memory is out. */
const char *still_describe_comp(still_arena *arena, const still_plant *plant, uint32_t comp);
/** The same with the name that the plant file gives, such as "globe valve DN50 (liquid stop
 * valve)". */
const char *still_describe_named(still_arena *arena, const still_plant *plant, uint32_t comp);
/** "electrical feed of MV-1"; NULL when memory is out. */
const char *still_describe_feed(still_arena *arena, const still_plant *plant, uint32_t feed);
/** Position of today as a word: "open", "closed", "throttled", "unknown". */
const char *still_describe_position(const still_plant *plant, const still_state *state,
                                    uint32_t comp);
/** Ids of components as a list of strings (borrowed from the plant). @return false: memory is out
 */
bool still_list_ids(still_arena *arena, const still_plant *plant, const uint32_t *comps, uint32_t n,
                    still_strings *out);
/** The same, sorted bytewise. */
bool still_list_ids_sorted(still_arena *arena, const still_plant *plant, const uint32_t *comps,
                           uint32_t n, still_strings *out);
/** "A, B and C"; long lists end in "and 12 more". NULL when memory is out. */
const char *still_join_ids(still_arena *arena, const still_plant *plant, const uint32_t *comps,
                           uint32_t n);

/** The same, with all of them: for what has to be done to each. */
const char *still_join_all(still_arena *arena, const still_plant *plant, const uint32_t *comps,
                           uint32_t n);
/** What shows that a valve is shut: by its kind and drive. @param turned  set to a position */
const char *still_describe_shut(const still_comp *valve, bool turned);
/** Place of a device; of a pipe that of a device at its ends. "" = not said. Borrowed. */
const char *still_point_place(const still_plant *plant, uint32_t comp);
/** " (its joint with HV-2 or T-1)": flanged ends of a pipe; "" = not said, or no pipe. NULL when
 * memory is out. */
const char *still_describe_joints(still_arena *arena, const still_plant *plant, uint32_t comp);

#endif
