/** @file plantkit.h  Small plants for tests, written in a few words, and questions to their plans.
 *
 *  A plant is a text of statements, each ended by ';' (the last one need not be):
 *
 *      ELEMENT ID [KIND] [WORD]… [NAME=VALUE]… [+PORT[@ELEVATION]]…
 *      hand | shut | tee | strainer | cap | limit | vent | drain  ID… [NAME=VALUE]…
 *      pipe ID FROM TO [NAME=VALUE]…
 *      run [NAME=VALUE]… ITEM ITEM…
 *      <any XML>
 *
 *  '_' in a value stands for a blank. WORD: open, closed, throttled, unknown (its position),
 *  lockable. `hand` is an open, `shut` a closed globe valve that can be locked; `vent` and `drain`
 *  are plugged outlets, unshared, to a safe place. `run` joins each item to the next by a pipe
 *  whose id is "A~B". ITEM: a component; "^" before it: passed from out to in; ".PORT" or
 *  ".ENTER.LEAVE" behind it: by these ports. Vessels and fittings get a fresh port otherwise.
 *  Pipes: 1 m, bore 50 mm, service LQ, unless said; a value left empty takes the attribute away.
 *  Services that every plant has: LQ (cold liquid ammonia), VP (ammonia vapour), WT (two-phase);
 *  2 barg or 1 barg, design pressure 19 barg; W (a liquid of 1000 kg/m3, 10 barg). All invented. */
#ifndef STILL_TEST_PLANTKIT_H
#define STILL_TEST_PLANTKIT_H

#include "plant.h"
#include "relief.h"
#include "state.h"
#include "strbuf.h"
#include "stillset/plan.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <cmocka.h>

/** The statements as a plant file. The caller clears `xml`. Fails the test on a wrong statement. */
void kit_xml(still_buf *xml, const char *text);

/** A plant, its state, its plan. */
typedef struct kit {
    still_plant *plant;
    still_state *state; /**< NULL = as in the plant file */
    still_plan *plan;
    const still_record *r;
    still_relief relief; /**< of the state alone, once asked for */
    bool has_relief;
    still_buf answer;
} kit;

/** Read the plant, from statements. Fails the test when it has errors. Pair: kit_close. */
void kit_open(kit *k, const char *text);
/** Set today's state: "HV-1 position=closed; V-1 contents=none; HV-2 condition=passing". */
void kit_today(kit *k, const char *text);
/** Plan, grade single: "[TARGET [work=entry|open][,grade=positive|double-bleed][,accept=RULE:ID…]]
 * [| TODAY]"; TODAY as for kit_today. No target, no plan. Fails the test if a plan was asked for
 * and there is none. */
void kit_plan(kit *k, const char *ask);
void kit_close(kit *k);

/** Component with this id; fails the test if there is none. */
uint32_t kit_comp(const kit *k, const char *id);
const still_point *kit_point(const kit *k, const char *id);
const still_finding *kit_finding(const kit *k, const char *rule, const char *id);
const still_remark *kit_assumption(const kit *k, const char *rule, const char *id);
const still_closed_in *kit_closed_in(const kit *k, const char *id);
const still_compartment *kit_room(const kit *k, const char *id);

/** Answer to a question about the plan, as text; borrowed until the next. See kit_ask.c for the
 * questions. */
const char *kit_ask(kit *k, const char *question);

/** A question and the answer that the rules give. */
typedef struct kit_want {
    const char *question, *answer;
} kit_want;

enum { KIT_WANTS = 8 };

/** One test: its name begins with the rule. */
typedef struct kit_row {
    const char *name;
    const char *plant;
    const char *plan; /**< what is asked for, see kit_plan */
    kit_want want[KIT_WANTS];
} kit_row;

/** Run rows, each as a test of its own, and further tests after them. @return exit status */
int kit_main(const kit_row *rows, size_t n_rows, const struct CMUnitTest *more, size_t n_more);

/** Repeatable random numbers (xorshift64*, Vigna 2016, doi 10.1145/2845077). */
typedef struct kit_random {
    uint64_t state;
} kit_random;
/** A number below n. */
uint32_t kit_below(kit_random *random, uint32_t n);

#endif
