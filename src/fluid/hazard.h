/** @file hazard.h  Hazards of the substances that the program has an equation of state for. */
#ifndef STILL_HAZARD_H
#define STILL_HAZARD_H

#include "substance.h"

#include <stdbool.h>

typedef struct still_hazard {
    const char *statements; /**< parted by blanks; "" = none */
    bool asphyxiant;
    double auto_ignition_K; /**< NAN = does not burn */
} still_hazard;

/** Hazards of a substance; NULL for OTHER. Static. */
const still_hazard *still_hazard_of(still_substance substance);

#endif
