/* Hazards of the five substances.
 * Statements: harmonised classification, CLP (Regulation (EC) 1272/2008) Annex VI table 3, with
 * H280 for what is sold as gas under pressure. Ammonia H221 H331 H314 H400: F-POL-8, from memory.
 * Propane H220: from memory. Carbon dioxide and R-134a have no entry there (from memory): H280 by
 * their makers, from memory. Water: none.
 * Auto-ignition, all from memory, the lowest of the figures in use: ammonia 630 degC, propane
 * 450 degC (IEC 80079-20-1), R-134a 743 degC (EN 378-1).
 * That a gas which is not breathed displaces air is physics; water boils too, and is steam then. */
#include "hazard.h"

#include <math.h>
#include <stddef.h>

#define DEGC(t) (273.15 + (t))

const still_hazard *still_hazard_of(still_substance substance)
{
    static const still_hazard ammonia = {"H221 H280 H314 H331 H400", true, DEGC(630)};
    static const still_hazard carbon_dioxide = {"H280", true, NAN};
    static const still_hazard propane = {"H220 H280", true, DEGC(450)};
    static const still_hazard r134a = {"H280", true, DEGC(743)};
    static const still_hazard water = {"", false, NAN};
    switch (substance) {
    case STILL_SUBSTANCE_AMMONIA: return &ammonia;
    case STILL_SUBSTANCE_CARBON_DIOXIDE: return &carbon_dioxide;
    case STILL_SUBSTANCE_PROPANE: return &propane;
    case STILL_SUBSTANCE_R134A: return &r134a;
    case STILL_SUBSTANCE_WATER: return &water;
    case STILL_SUBSTANCE_OTHER: break;
    }
    return NULL;
}
