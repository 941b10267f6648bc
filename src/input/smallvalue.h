/** @file smallvalue.h  Values of the attributes of a small file (smallxml.h): what all such files
 *  have.
 *
 *  Each function reports what is wrong, sets `good` to false, and answers something harmless. */
#ifndef STILL_SMALLVALUE_H
#define STILL_SMALLVALUE_H

#include "smallxml.h"
#include "words.h"

#include <stdbool.h>

typedef struct still_small_value {
    still_small *file;
    const still_small_element *element;
    bool good;
} still_small_value;

typedef struct still_value_word {
    const char *word; /**< NULL ends a list */
    unsigned value;
} still_value_word;

/** Report attributes that are not in the list, which NULL ends. */
void still_value_known(still_small_value *v, const char *const *known);
/** An attribute that has to be there; "" when it is not. */
const char *still_value_required(still_small_value *v, const char *name);
/** The element's id: printable text without blank or comma. */
const char *still_value_id(still_small_value *v);
/** Text for people; `otherwise` where it is not given. */
const char *still_value_text(still_small_value *v, const char *name, const char *otherwise);
/** Report a word that a vocabulary lacks, and name those that it has. */
void still_value_fault_word(still_small_value *v, const char *name, still_vocabulary voc);
/** One word of a list. */
unsigned still_value_one(still_small_value *v, const char *name, const still_value_word *words,
                         unsigned otherwise);
/** Report that the value of an attribute is wrong, and why. */
void still_value_fault(still_small_value *v, still_code code, const char *attribute,
                       const char *why);

#endif
