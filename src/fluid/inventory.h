/** @file inventory.h  How much volume and mass a component, a side or a spool encloses.
 *
 *  Unknown counts the dangerous way: two-phase lines and a vessel whose fill is not said count as
 *  full of liquid; what cannot be known at all is NAN, never 0. */
#ifndef STILL_INVENTORY_H
#define STILL_INVENTORY_H

#include "plant.h"
#include "state.h"

/** Inside volume in m3 of a spool (length and bore) or vessel (as said, else by its shape); 0 for
 * what holds next to nothing (valves, fittings, …); NAN = unknown. Exchangers: see
 * still_side_volume_m3. */
double still_comp_volume_m3(const still_plant *plant, uint32_t comp);
/** Mass in kg that it holds at service conditions; NAN = unknown. Contents none: 0. */
double still_comp_mass_kg(const still_plant *plant, const still_state *state, uint32_t comp);
/** What is held, by phase. Space that holds nothing counts as vapour of no mass. NAN = unknown. */
typedef struct still_amount {
    double liquid_m3, vapour_m3, liquid_kg, vapour_kg;
} still_amount;
/** Volume and mass of a component or side, by phase: together what the functions here say. */
still_amount still_comp_amount(const still_plant *plant, const still_state *state, uint32_t comp);
still_amount still_side_amount(const still_plant *plant, uint32_t side);
void still_amount_add(still_amount *sum, const still_amount *more);

/** What a service carries boils well below room temperature at 1 atm: ammonia, propane, R134a,
 *  carbon dioxide. STILL_NONE, or a substance that the program does not know: no. */
bool still_service_boils_off(const still_plant *plant, uint32_t service);

double still_side_volume_m3(const still_plant *plant, uint32_t side);
double still_side_mass_kg(const still_plant *plant, uint32_t side);

/** Mass in whole grams; returns false when it is unknown. */
bool still_whole_grams(double mass_kg, uint64_t *grams);

/** Density in kg/m3 of what a service carries, counted as contents; NAN = unknown.
 *  @param contents  liquid, vapour, two-phase with `fill` (NAN = full), none, or not said (= the
 *                   service's own phase; two-phase and unknown count as liquid) */
double still_service_density_kg_m3(const still_plant *plant, uint32_t service, uint8_t contents,
                                   double fill);

/** Whether a component, side or spool counts as able to hold liquid: all but what is said to be
 *  vapour only (service phase vapour and contents not liquid or two-phase), or empty. */
bool still_comp_may_hold_liquid(const still_plant *plant, const still_state *state, uint32_t comp);
bool still_side_may_hold_liquid(const still_plant *plant, uint32_t side);

#endif
