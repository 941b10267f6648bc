/** @file steps_script.h  What the parts of the step list share. */
#ifndef STILL_STEPS_SCRIPT_H
#define STILL_STEPS_SCRIPT_H

#include "plan_order.h"

/** A step list in the making; its texts lie in the arena. */
typedef struct still_script {
    still_stepper step;
    still_arena *arena;
    const still_record *record;
    const still_order *order;
} still_script;

/** " (north wall)"; "" when no place is said; NULL when memory ran out. */
const char *still_script_place(still_script *s, const char *place);
/** "BV-1 and O-1": NULL when memory ran out. */
const char *still_script_way_words(still_script *s, const still_outway *way);
/** Tag of a feed, or 0. */
uint32_t still_script_feed_tag(const still_order *order, uint32_t feed);
/** What a step moves; step NULL = it failed. */
void still_script_change(still_step *step, const char *from, const char *to);
/** Let off pressure and drain (E1, E4, P2).
 *  @param done  by component: opened already
 *  @param work  stored energies and the spaces at the work; else those between */
void still_script_release(still_script *s, uint8_t *done, bool work);
/** Prove the valves next to the work by themselves, before what lies between is let off (P4). */
void still_script_prove_inner(still_script *s);
/** Prove zero, feeds dead, and the valves further out (P4, E8). */
void still_script_verify(still_script *s);

#endif
