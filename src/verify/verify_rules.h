/** @file verify_rules.h  The parts of verify/, one function for each group of rules. Each reports
 *  its disagreements by still_verify_against; memory running out sets v->nomem. */
#ifndef STILL_VERIFY_RULES_H
#define STILL_VERIFY_RULES_H

#include "verify_walk.h"

/** Every string and array is there. @return false: nothing else may be looked at */
bool still_verify_shape(still_verify *v);
/** Made for this plant, one target that is a component. Sets v->target. @return false: stop */
bool still_verify_subject(still_verify *v);

void still_verify_points(still_verify *v);       /**< list of points; D1 to D6; sets barrier, … */
void still_verify_boundary(still_verify *v);     /**< I1, N4, I4; sets inside, inside_comp */
void still_verify_ratings(still_verify *v);      /**< D7 */
void still_verify_feeds(still_verify *v);        /**< N5 */
void still_verify_sequences(still_verify *v);    /**< N6 */
void still_verify_proof(still_verify *v);        /**< I5 */
void still_verify_grade(still_verify *v);        /**< I2, I3 */
void still_verify_positions(still_verify *v);    /**< start and end */
void still_verify_steps(still_verify *v);        /**< P1, P3; sets end_position, held_open */
void still_verify_overrides(still_verify *v);    /**< E1 in the steps */
void still_verify_restore(still_verify *v);      /**< P6 */
void still_verify_closed_in(still_verify *v);    /**< L1 to L6 */
void still_verify_compartments(still_verify *v); /**< E1, E2, E4 */
void still_verify_obstacle(still_verify *v);     /**< I6 */
void still_verify_findings(still_verify *v);     /**< findings, ready */

#endif
