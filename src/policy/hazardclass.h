/** @file hazardclass.h  Which class of a policy a service belongs to (rule I3). */
#ifndef STILL_HAZARDCLASS_H
#define STILL_HAZARDCLASS_H

#include "plant.h"
#include "policy.h"

/** What had to be assumed of a service, where it matters for its class; bits. */
enum {
    STILL_CLASSED_NO_SUBSTANCE = 1,   /**< substance not said: the worst class */
    STILL_CLASSED_NO_STATEMENTS = 2,  /**< hazard not said of a substance of its own: the worst */
    STILL_CLASSED_UNMATCHED = 4,      /**< a statement that no class names: the worst */
    STILL_CLASSED_NO_TEMPERATURE = 8, /**< counts as hot, cold and above auto-ignition */
    STILL_CLASSED_AUTO_IGNITION = 16, /**< not said of what burns; warmer than 60 degC: above it */
    STILL_CLASSED_ASPHYXIANT = 32,    /**< not said: counts as one */
    STILL_CLASSED_STEAM = 64          /**< water of unknown phase: counts as steam */
};

typedef struct still_classed {
    size_t row;         /**< number of the class; 0 = the worst */
    char by[24];        /**< what decided: "H331", "above 60 degC", … */
    unsigned assumed;   /**< STILL_CLASSED_ bits */
    bool deadly;        /**< H300, H310, H330, H331, or statements unknown: R below positive */
    char unmatched[12]; /**< the statement that no class names */
} still_classed;

/** Class of a service: the worst of all that it has. All statements count, those of the file and
 *  those that the program knows of the substance. Cost: statements times classes. */
still_classed still_class_of(const still_policy *policy, const still_plant *plant,
                             uint32_t service);
/** Next statement of a list parted by blanks or commas, from *at on; buf gets it, cut to size.
 *  @return false at the end */
bool still_next_statement(const char **at, char *buf, size_t size);
/** Does a list of a class ("H220 H2xx") name a statement ("H360FD" counts as H360)? */
bool still_statement_named(const char *list, const char *statement);

#endif
