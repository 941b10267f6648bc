/* Boiling points at 1 atm in whole degrees: ammonia -33, propane -42 degC; carbon dioxide goes over
 * to gas from dry ice at -78 degC (rule E7). */
#include "boiling.h"

static bool of_service(still_chill *out, const still_plant *plant, uint32_t comp, uint32_t service)
{
    static const struct {
        still_substance substance;
        double boils_K;
        const char *words;
    } cold[] = {{STILL_SUBSTANCE_AMMONIA, 240.15, "-33 degC"},
                {STILL_SUBSTANCE_PROPANE, 231.15, "-42 degC"},
                {STILL_SUBSTANCE_CARBON_DIOXIDE, 195.15, "-78 degC"}};
    if (service == STILL_NONE) return false;
    const still_service *s = &plant->services[service];
    still_substance substance = still_substance_of(still_text(plant, s->substance));
    for (size_t i = 0; i < sizeof cold / sizeof cold[0]; i++) {
        if (cold[i].substance != substance) continue;
        double own = still_comp_q(plant, comp, STILL_Q_MIN_TEMPERATURE_K);
        still_chill c = {.substance = substance,
                         .boils_K = cold[i].boils_K,
                         .words = cold[i].words,
                         .least_K = isnan(own) ? s->min_temperature_K : own,
                         .own = !isnan(own),
                         .service = service};
        c.withstood = c.least_K <= c.boils_K;
        *out = c;
        return true;
    }
    return false;
}

bool still_chill_of(still_chill *out, const still_plant *plant, uint32_t comp)
{
    const still_comp *c = &plant->comps[comp];
    bool found = false;
    if (c->cls != STILL_CLASS_EXCHANGER) return of_service(out, plant, comp, c->service);
    for (uint32_t k = 0; k < c->b; k++) {
        uint32_t side = still_port_side(plant, c->a + k);
        still_chill chill;
        if (side == STILL_NONE || !of_service(&chill, plant, comp, plant->sides[side].service))
            continue;
        if (!found || (!chill.withstood && out->withstood)) *out = chill;
        found = true;
    }
    return found;
}
