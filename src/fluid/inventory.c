#include "inventory.h"

#include "phases.h"
#include "shape.h"

#include <math.h>
#include <stdbool.h>
#include <string.h>

/* Vapour: saturated where one of the two is not said, at the one that is: none can be heavier.
 * Where the pressure is above saturation, saturated at that pressure. */
static double vapour_density(const still_eos *eos, double T, double p)
{
    still_eos_saturation s;
    double rho;
    if (isnan(p)) return still_eos_saturation_T(&s, eos, T) ? (double)NAN : s.vapour_kg_m3;
    bool below = isnan(T) || (!still_eos_saturation_T(&s, eos, T) && p >= s.pressure_bara);
    if (below) return still_eos_saturation_p(&s, eos, p) ? (double)NAN : s.vapour_kg_m3;
    return still_eos_density(&rho, eos, T, p) ? (double)NAN : rho;
}

/* Liquid: compressed where the pressure says so, else saturated at its temperature. */
static double liquid_density(const still_eos *eos, double T, double p)
{
    still_eos_saturation s;
    double rho;
    if (!isnan(p) && !still_eos_liquid_density(&rho, eos, T, p)) return rho;
    return still_eos_saturation_T(&s, eos, T) ? (double)NAN : s.liquid_kg_m3;
}

/* A plant asks for the few densities of its services for each pipe: those found lately are kept,
 * for each thread its own. A function of its arguments all the same. */
static double density(const still_eos *eos, double T, double p, bool vapour)
{
    enum { KEPT = 16 };
    static _Thread_local struct {
        const still_eos *eos;
        double T, p, rho;
        bool vapour;
    } kept[KEPT];
    static _Thread_local unsigned next;
    for (unsigned i = 0; i < KEPT; i++)
        if (kept[i].eos == eos && kept[i].vapour == vapour && eos != NULL &&
            memcmp(&kept[i].T, &T, sizeof T) == 0 && memcmp(&kept[i].p, &p, sizeof p) == 0)
            return kept[i].rho;
    double rho = vapour ? vapour_density(eos, T, p) : liquid_density(eos, T, p);
    unsigned i = next++ % KEPT;
    kept[i].eos = eos;
    kept[i].T = T;
    kept[i].p = p;
    kept[i].rho = rho;
    kept[i].vapour = vapour;
    return rho;
}

double still_service_density_kg_m3(const still_plant *plant, uint32_t service, uint8_t contents,
                                   double fill)
{
    if (contents == STILL_CONTENTS_NONE) return 0;
    if (service == STILL_NONE) return (double)NAN;
    const still_service *s = &plant->services[service];
    if (contents == STILL_CONTENTS_NOT_SAID)
        contents = s->phase == STILL_PHASE_VAPOUR ? STILL_CONTENTS_VAPOUR : STILL_CONTENTS_LIQUID;
    double given = s->density_kg_m3;
    const still_eos *eos = still_eos_of(still_substance_of(still_text(plant, s->substance)));
    /* A density in the file is that of the phase which the service names. */
    bool of_vapour = s->phase == STILL_PHASE_VAPOUR;
    double T = s->temperature_K, p = s->pressure_bara, liquid = (double)NAN, vapour = (double)NAN;
    if (contents != STILL_CONTENTS_VAPOUR)
        liquid = !isnan(given) && !of_vapour ? given : density(eos, T, p, false);
    if (contents == STILL_CONTENTS_VAPOUR || contents == STILL_CONTENTS_TWO_PHASE)
        vapour = !isnan(given) && of_vapour ? given : density(eos, T, p, true);
    if (contents == STILL_CONTENTS_VAPOUR) return vapour;
    if (contents == STILL_CONTENTS_TWO_PHASE && !isnan(fill))
        return fill * liquid + (1 - fill) * vapour;
    return liquid;
}

double still_comp_volume_m3(const still_plant *plant, uint32_t comp)
{
    const still_comp *c = &plant->comps[comp];
    if (c->cls == STILL_CLASS_VESSEL) {
        double said = still_comp_q(plant, comp, STILL_Q_VOLUME_M3);
        still_drum drum;
        return isnan(said) && still_vessel_drum(plant, comp, &drum) ? still_drum_volume_m3(&drum)
                                                                    : said;
    }
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

/* A volume of some service, counted as contents. */
static still_amount amount_of(const still_plant *plant, uint32_t service, uint8_t contents,
                              double fill, double volume)
{
    still_amount a = {0, 0, 0, 0};
    if (volume <= 0) return a;
    if (contents == STILL_CONTENTS_NOT_SAID && service != STILL_NONE &&
        plant->services[service].phase == STILL_PHASE_VAPOUR)
        contents = STILL_CONTENTS_VAPOUR;
    bool gas = contents == STILL_CONTENTS_VAPOUR || contents == STILL_CONTENTS_NONE;
    double share = contents == STILL_CONTENTS_TWO_PHASE && !isnan(fill) ? fill : 1;
    if (gas) share = 0;
    if (share > 0) {
        a.liquid_m3 = share * volume;
        a.liquid_kg = a.liquid_m3 * still_service_density_kg_m3(plant, service,
                                                                STILL_CONTENTS_LIQUID, (double)NAN);
    }
    if (share < 1) {
        a.vapour_m3 = (1 - share) * volume;
        double density =
            still_service_density_kg_m3(plant, service, STILL_CONTENTS_VAPOUR, (double)NAN);
        /* Nothing weighs nothing, however much room there is. */
        a.vapour_kg = contents == STILL_CONTENTS_NONE ? 0 : a.vapour_m3 * density;
    }
    return a;
}

still_amount still_comp_amount(const still_plant *plant, const still_state *state, uint32_t comp)
{
    const still_comp *c = &plant->comps[comp];
    uint8_t contents = STILL_CONTENTS_NOT_SAID;
    double fill = (double)NAN;
    if (c->cls == STILL_CLASS_VESSEL) {
        contents = said_or_liquid(still_contents_now(plant, state, comp));
        fill = still_comp_q(plant, comp, STILL_Q_FILL);
    }
    return amount_of(plant, c->service, contents, fill, still_comp_volume_m3(plant, comp));
}

still_amount still_side_amount(const still_plant *plant, uint32_t side)
{
    const still_side *s = &plant->sides[side];
    return amount_of(plant, s->service, said_or_liquid(s->contents), s->fill, s->volume_m3);
}

void still_amount_add(still_amount *sum, const still_amount *more)
{
    sum->liquid_m3 += more->liquid_m3;
    sum->vapour_m3 += more->vapour_m3;
    sum->liquid_kg += more->liquid_kg;
    sum->vapour_kg += more->vapour_kg;
}

bool still_service_boils_off(const still_plant *plant, uint32_t service)
{
    static const char *const cold[] = {"ammonia", "propane", "r134a", "carbon-dioxide"};
    if (service == STILL_NONE) return false;
    const char *substance = still_text(plant, plant->services[service].substance);
    for (size_t i = 0; i < sizeof cold / sizeof cold[0]; i++)
        if (strcmp(substance, cold[i]) == 0) return true;
    return false;
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
