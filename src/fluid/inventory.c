#include "inventory.h"

#include "saturation.h"

#include <math.h>

static double vapour_density(still_substance substance, double T, double p)
{
    still_saturation at_T;
    if (isnan(p)) return still_saturation_at(substance, T, &at_T) ? at_T.vapour_kg_m3 : (double)NAN;
    /* Superheated: from the saturated state at this pressure, scaled as a gas of unchanged
     * compressibility; heavier than the true value, so the mass is not understated. */
    double T_sat = still_saturation_temperature_K(substance, p);
    still_saturation at_p;
    if (isnan(T_sat) || !still_saturation_at(substance, T_sat, &at_p)) return (double)NAN;
    if (isnan(T) || T <= T_sat) return at_p.vapour_kg_m3;
    return at_p.vapour_kg_m3 * T_sat / T;
}

/* A density in the file is that of the phase which the service names. */
static double liquid_of(const still_plant *plant, const still_service *s)
{
    still_saturation sat;
    if (!isnan(s->density_kg_m3) && s->phase != STILL_PHASE_VAPOUR) return s->density_kg_m3;
    return still_saturation_at(still_substance_of(still_text(plant, s->substance)),
                               s->temperature_K, &sat)
               ? sat.liquid_kg_m3
               : (double)NAN;
}

static double vapour_of(const still_plant *plant, const still_service *s)
{
    if (!isnan(s->density_kg_m3) && s->phase == STILL_PHASE_VAPOUR) return s->density_kg_m3;
    return vapour_density(still_substance_of(still_text(plant, s->substance)), s->temperature_K,
                          s->pressure_bara);
}

double still_service_density_kg_m3(const still_plant *plant, uint32_t service, uint8_t contents,
                                   double fill)
{
    if (contents == STILL_CONTENTS_NONE) return 0;
    if (service == STILL_NONE) return (double)NAN;
    const still_service *s = &plant->services[service];
    if (contents == STILL_CONTENTS_NOT_SAID)
        contents = s->phase == STILL_PHASE_VAPOUR ? STILL_CONTENTS_VAPOUR : STILL_CONTENTS_LIQUID;
    if (contents == STILL_CONTENTS_VAPOUR) return vapour_of(plant, s);
    double liquid = liquid_of(plant, s);
    if (contents == STILL_CONTENTS_TWO_PHASE && !isnan(fill))
        return fill * liquid + (1 - fill) * vapour_of(plant, s);
    return liquid;
}

double still_comp_volume_m3(const still_plant *plant, uint32_t comp)
{
    const still_comp *c = &plant->comps[comp];
    if (c->cls == STILL_CLASS_VESSEL) return still_comp_q(plant, comp, STILL_Q_VOLUME_M3);
    if (c->cls != STILL_CLASS_SPOOL) return 0;
    double bore_m = still_comp_q(plant, comp, STILL_Q_BORE_MM) / 1000;
    return acos(-1.0) / 4 * bore_m * bore_m * still_comp_q(plant, comp, STILL_Q_LENGTH_M);
}

/* Contents of a vessel or an exchanger side: unknown counts as liquid, whatever the service (N2).
 */
static uint8_t said_or_liquid(unsigned contents)
{
    return (uint8_t)(contents == STILL_CONTENTS_NOT_SAID ? STILL_CONTENTS_LIQUID : contents);
}

double still_comp_mass_kg(const still_plant *plant, const still_state *state, uint32_t comp)
{
    const still_comp *c = &plant->comps[comp];
    uint8_t contents = STILL_CONTENTS_NOT_SAID;
    double fill = (double)NAN;
    if (c->cls == STILL_CLASS_VESSEL) {
        contents = said_or_liquid(still_contents_now(plant, state, comp));
        fill = still_comp_q(plant, comp, STILL_Q_FILL);
    }
    if (contents == STILL_CONTENTS_NONE) return 0;
    double volume = still_comp_volume_m3(plant, comp);
    if (volume <= 0) return 0;
    return volume * still_service_density_kg_m3(plant, c->service, contents, fill);
}

double still_side_volume_m3(const still_plant *plant, uint32_t side)
{
    return plant->sides[side].volume_m3;
}

double still_side_mass_kg(const still_plant *plant, uint32_t side)
{
    const still_side *s = &plant->sides[side];
    if (s->contents == STILL_CONTENTS_NONE) return 0;
    return s->volume_m3 *
           still_service_density_kg_m3(plant, s->service, said_or_liquid(s->contents), s->fill);
}

bool still_whole_grams(double mass_kg, uint64_t *grams)
{
    if (!(mass_kg >= 0 && mass_kg < 1e12)) return false;
    *grams = (uint64_t)llround(mass_kg * 1000);
    return true;
}

static bool may_hold_liquid(const still_plant *plant, uint32_t service, unsigned contents)
{
    if (contents == STILL_CONTENTS_NONE || contents == STILL_CONTENTS_VAPOUR) return false;
    if (contents != STILL_CONTENTS_NOT_SAID || service == STILL_NONE) return true;
    return plant->services[service].phase != STILL_PHASE_VAPOUR;
}

bool still_comp_may_hold_liquid(const still_plant *plant, const still_state *state, uint32_t comp)
{
    const still_comp *c = &plant->comps[comp];
    unsigned contents = STILL_CONTENTS_NOT_SAID;
    if (c->cls == STILL_CLASS_VESSEL)
        contents = said_or_liquid(still_contents_now(plant, state, comp));
    return may_hold_liquid(plant, c->service, contents);
}

bool still_side_may_hold_liquid(const still_plant *plant, uint32_t side)
{
    return may_hold_liquid(plant, plant->sides[side].service,
                           said_or_liquid(plant->sides[side].contents));
}
