/** @file policyvalue.h  Values of a policy file's attributes. Inner header of policy/.
 *
 *  Each function reports what is wrong, sets `good` to false, and answers something harmless. */
#ifndef STILL_POLICYVALUE_H
#define STILL_POLICYVALUE_H

#include "quantity.h"
#include "smallxml.h"

#include <stdbool.h>

typedef struct still_policy_value {
    still_small *file;
    const still_small_element *element;
    bool good;
} still_policy_value;

typedef struct still_value_word {
    const char *word; /**< NULL ends a list */
    unsigned value;
} still_value_word;

/** Report attributes that are not in the list, which NULL ends. */
void still_value_known(still_policy_value *v, const char *const *known);
/** An attribute that has to be there; "" when it is not. */
const char *still_value_required(still_policy_value *v, const char *name);
/** The element's id: printable text without blank or comma. */
const char *still_value_id(still_policy_value *v);
/** Text for people; `otherwise` where it is not given. */
const char *still_value_text(still_policy_value *v, const char *name, const char *otherwise);
/** One word of a list. */
unsigned still_value_one(still_policy_value *v, const char *name, const still_value_word *words,
                         unsigned otherwise);
/** Some words of a list, their values together. */
unsigned still_value_set(still_policy_value *v, const char *name, const still_value_word *words,
                         unsigned otherwise);
/** A quantity in the unit inside. */
double still_value_quantity(still_policy_value *v, const char *name, still_dim dim,
                            double otherwise);
/** A line size in mm: a length, or a nominal size (DN50 counts as 50 mm); 0 where it is not
 *  given. */
double still_value_size(still_policy_value *v, const char *name);
/** A list of hazard statements: "H220 H2xx EUH029 none"; *none: "none" stands there. */
const char *still_value_hazards(still_policy_value *v, const char *name, bool *none);

#endif
