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
    bool burning;               /**< what leaves by the way that is opened now burns */
    const still_room *oil_room; /**< compartment that is let off now, where oil is expected and no
                                   self-closing valve is fitted for it (E9); else NULL */
    bool pumped;                /**< what is let off now has been pumped down */
    const char *reopen; /**< what to do while a way out gives no flow; NULL = nothing more */
    bool restrained;    /**< stored energies, springs and heat have been seen to */
} still_script;

/** " (north wall)"; "" when no place is said; NULL when memory ran out. */
const char *still_script_place(still_script *s, const char *place);
/** "BV-1 and O-1": NULL when memory ran out. */
const char *still_script_way_words(still_script *s, const still_outway *way);
/** "DV-1 and OD-1; DV-2 and OD-2": all drains of a compartment. NULL when memory ran out. */
const char *still_script_drains(still_script *s, const still_room *room);
/** " It is sealed: break the seal …"; "" = it is not. */
const char *still_script_seal(still_script *s, uint32_t comp);
/** Devices of the ops that are picked, in the order of operation. @return arena memory; NULL when
 * memory is out, with *n 0 */
uint32_t *still_script_pick(still_script *s, still_op_is *which, uint32_t *n);
/** "CV-61 and HV-63": the same in words, all of them; "" = none. NULL when memory is out. */
const char *still_script_ops(still_script *s, still_op_is *which);
/** A compartment has a side by which it empties to the receiver. */
bool still_script_empties_to_receiver(const still_script *s, const still_room *room);
/** A compartment at the work that holds liquid when the points are closed: no pump-down, and no
 * emptying before relief paths are closed, has taken it. */
bool still_script_still_full(const still_script *s, const still_room *room);
/** "to 0.3 barg at most": how far nitrogen may raise the section while it is proved. NULL when
 * memory is out. */
const char *still_script_test_limit(still_script *s);
/** Why a machine is to stand still before anything is closed; NULL = it is not. */
const char *still_script_why_stopped(const still_script *s, uint32_t comp);
/** A pump or compressor that is to. */
bool still_script_stopped(const still_script *s, uint32_t comp);
/** A feed of it is on the tag list. */
bool still_script_listed(const still_script *s, uint32_t comp);
/** "switch 1 of LP-1 (feed LP-1)": what is switched off and locked. NULL when memory is out. */
const char *still_script_feed(still_script *s, uint32_t feed);
/** Tag of a feed, or 0. */
uint32_t still_script_feed_tag(const still_order *order, uint32_t feed);
/** What a step moves; step NULL = it failed. */
void still_script_change(still_step *step, const char *from, const char *to);
/** Let off pressure and drain (E1, E4, P2).
 *  @param done  by component: opened already
 *  @param work  stored energies and the spaces at the work; else those between */
void still_script_release(still_script *s, uint8_t *done, bool work);
/** Empty the section by outlets that are not open to the air, and see that it is empty, before its
 * relief paths are closed (D4). */
void still_script_recover(still_script *s, uint8_t *done);
/** Prove the valves next to the work by themselves, before what lies between is let off (P4). */
void still_script_prove_inner(still_script *s);
/** Hot gas that could come in by a side that still stands open, before devices inside are opened
 * (E1). */
void still_script_hot_gas(still_script *s);
/** Exchangers beside the section that lose their flow, while another side of them is hotter.
 *  @param back  their heat on again; else off */
void still_script_heat_beyond(still_script *s, bool back);
/** The outlet for letting off a compartment made ready, before its relief path is closed. */
void still_script_ready(still_script *s, const still_room *room, uint8_t *done);
/** " First open the relief path again …": where a step stops while it is closed over what is full
 * (D4); "" = nowhere. NULL when memory is out. */
const char *still_script_reopen(still_script *s);
/** What is inside, how much, and what to wear for it. */
void still_script_service(still_script *s);
/** Liquid carbon dioxide out while above 5.2 bara (E7). */
void still_script_liquid_co2(still_script *s, const still_room *room);
/** Oil at the low point of a compartment, once the liquid is out (E9). @param done  by component:
 * opened already */
void still_script_oil(still_script *s, const still_room *room, const uint8_t *done);
/** Oil may come by this outlet: a self-closing valve is fitted to it first (E9). */
bool still_script_takes_oil(const still_script *s, uint32_t outlet);
/** Springs of points that fail closed, heat that is left (N5, D3). */
void still_script_heat_and_springs(still_script *s);
/** Lines of the checklists that let off what no drawing shows (N5, P4). */
void still_script_let_off(still_script *s);
/** Their lines of the functional test (P6). @return how many there are */
size_t still_script_try(still_script *s);
/** The work, by the checklist of each kind, and opening the joint (P5). */
void still_script_work(still_script *s);
/** What was opened is closed up, by the same checklists. */
void still_script_close_work(still_script *s);
/** Strength test, leak test and vacuum on the way back (P6).
 *  @param bleeds_between  bleeds between two closed valves stand open meanwhile */
void still_script_test(still_script *s, bool bleeds_between);
/** The spool that is out, where the only flanged ends of a pipe are: its blank is looked at, and no
 * joint is opened for a spade. STILL_NONE = it is not so. */
uint32_t still_script_free_end(const still_script *s, uint32_t pipe);
/** A device that was opened inside, back to where it was (E1, P6). */
void still_script_return_opening(still_script *s, const still_op *op);
/** The same of all that the tests have opened again. */
void still_script_return_again(still_script *s);
/** "OB-61 and OB-13": outlets of the work's space where gas is joined; "" = none. NULL when memory
 * is out. */
const char *still_script_outlets(still_script *s);
/** "BV-10": valves by which that is let off which a compartment can empty into over check
 *  valves; "" = none.
 * NULL when memory is out. */
const char *still_script_ways_behind(still_script *s, const still_room *room);
/** Test gas and vacuum off, ways out shut and capped, before the first point is opened. */
void still_script_connection_off(still_script *s);
/** The test against blinds, before they come out. */
void still_script_test_blinds(still_script *s);
void still_script_evacuate(still_script *s);
/** Prove zero, feeds dead, and the valves further out (P4, E8). */
void still_script_verify(still_script *s);

/** Something inside is a flammable liquid (H224 to H226): bonding, and no air. */
bool still_script_burns(still_script *s);
/** The same of one service. */
bool still_script_service_burns(still_script *s, uint32_t service);
/** Something inside is cold in service, or boils below -10 degC. */
bool still_script_cold(still_script *s);
/** " Connection: OB-61 by BV-61 …": where test gas and vacuum are joined to the work's space, and
 * that it is shut and capped again; "" = no outlet there. NULL when memory is out. */
const char *still_script_connection(still_script *s);

#endif
