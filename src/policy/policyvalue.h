/** @file policyvalue.h  Values of a policy file's attributes. Inner header of policy/.
 *
 *  Each function reports what is wrong, sets `good` to false, and answers something harmless. */
#ifndef STILL_POLICYVALUE_H
#define STILL_POLICYVALUE_H

#include "quantity.h"
#include "smallvalue.h"

/** Some words of a list, their values together. */
unsigned still_value_set(still_small_value *v, const char *name, const still_value_word *words,
                         unsigned otherwise);
/** A quantity in the unit inside. */
double still_value_quantity(still_small_value *v, const char *name, still_dim dim,
                            double otherwise);
/** A line size in mm: a length, or a nominal size (DN50 counts as 50 mm); 0 where it is not
 *  given. */
double still_value_size(still_small_value *v, const char *name);
/** A list of hazard statements: "H220 H2xx EUH029 none"; *none: "none" stands there. */
const char *still_value_hazards(still_small_value *v, const char *name, bool *none);

#endif
