/** @file verify_rules.h  The parts of verify/, one function for each group of rules. Each reports
 *  its disagreements by still_verify_against; memory running out sets v->nomem. */
#ifndef STILL_VERIFY_RULES_H
#define STILL_VERIFY_RULES_H

#include "verify_walk.h"

/** Every string and array is there. @return false: nothing else may be looked at */
bool still_verify_shape(still_verify *v);
/** Made for this plant; targets that are there. Sets targets, whole, work_port. @return false: stop
 */
bool still_verify_subject(still_verify *v);

/** Reads the grades that the record claims: sets grade, mixed, n_levels. */
void still_verify_grade_claimed(still_verify *v);
/** Is the positive grade claimed for any source? */
bool still_verify_asks_positive(const still_verify *v);

/** Levels that the demand of this source has: 1 or 2. */
uint32_t still_verify_layers_for(const still_verify *v, const char *source);

void still_verify_points(still_verify *v);      /**< list of points; D1 to D6; sets barrier, … */
void still_verify_labels(still_verify *v);      /**< sets taken, inside, spaces, where, levels */
void still_verify_boundary(still_verify *v);    /**< I1, N4, I4 */
void still_verify_levels(still_verify *v);      /**< I2: level of each point; I4: it parts */
void still_verify_paths(still_verify *v);       /**< I2: what lies on each path from a source */
void still_verify_bleed_rules(still_verify *v); /**< I2: spaces that must be bled */
void still_verify_kept(still_verify *v);        /**< what stays in service */
void still_verify_between(still_verify *v);     /**< spaces between in the record */
void still_verify_ratings(still_verify *v);     /**< D7 */
void still_verify_feeds(still_verify *v);       /**< N5 */
void still_verify_sequences(still_verify *v);   /**< N6 */
void still_verify_proof(still_verify *v);       /**< I5 */
void still_verify_grade(still_verify *v);       /**< I2, I3 */
void still_verify_start(still_verify *v);       /**< positions before the first step */
void still_verify_end(still_verify *v);         /**< positions after the last step */
/** Lay the positions after the first n_steps steps of phase isolate: end_position, held_open.
 *  @param openings  with what they open; else only what they close */
void still_verify_lay(still_verify *v, size_t n_steps, bool openings);
/** Whether one of the first n_steps steps handles a component in phase isolate. */
bool still_verify_moved_by(const still_verify *v, uint32_t comp, size_t n_steps);
void still_verify_on_the_way(still_verify *v);   /**< P3: L6 after each step */
void still_verify_steps(still_verify *v);        /**< P1, P3; sets end_position, held_open */
void still_verify_overrides(still_verify *v);    /**< E1 in the steps */
void still_verify_restore(still_verify *v);      /**< P6 */
void still_verify_tests(still_verify *v);        /**< P6: test pressures */
void still_verify_closed_in(still_verify *v);    /**< L1 to L6 */
void still_verify_compartments(still_verify *v); /**< E1, E2, E4 */
void still_verify_obstacle(still_verify *v);     /**< I6 */
void still_verify_findings(still_verify *v);     /**< findings, ready */

#endif
