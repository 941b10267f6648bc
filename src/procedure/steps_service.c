/* What is inside and what to wear for it: OSHA 29 CFR 1910.147 (d)(1) asks for type, magnitude and
 * hazards of the energy (F-OSH-1). Gear: common practice, no source; the site's rule comes first.
 * Exposure figures of ammonia: NIOSH pocket guide, from memory (F-NH3-9); F-NH3-8. */
#include "steps_script.h"

#include "boiling.h"
#include "contents.h"
#include "hazard.h"
#include "hazardclass.h"
#include "messages.h"

#include <math.h>
#include <string.h>

#define SAY(...) still_arena_printf(s->arena, __VA_ARGS__)

enum { TRAIT_NONE, TRAIT_COLD, TRAIT_HOT, TRAIT_ASPHYXIANT, TRAIT_UNKNOWN };

static const struct gear {
    const char *hazards; /* as a class of a policy names them */
    int trait;
    const char *wear;
} gear[] = {
    {"H330 H331 H332 H334 H335", TRAIT_NONE,
     "respiratory protection made for it, breathing apparatus where a cloud can come"},
    {"H310 H311 H312", TRAIT_NONE, "gloves and suit that it does not pass through"},
    {"H314 H318", TRAIT_NONE,
     "chemical splash protection: goggles and face shield, gloves, suit or apron; eyewash and "
     "shower at hand"},
    {"H304 H336", TRAIT_NONE,
     "gloves that it does not pass through, goggles; fresh air, or protection of breath by the "
     "site's "
     "rule"},
    {"H315 H317 H319", TRAIT_NONE, "gloves and goggles"},
    {"H340 H341 H350 H351 H36x H370 H371 H372 H373", TRAIT_NONE,
     "protection of breath and skin by the site's occupational hygiene rule"},
    {"H22x", TRAIT_NONE, "anti-static clothing, a detector for what burns, no source of ignition"},
    {"H270 H271 H272", TRAIT_NONE, "clothing and tools free of oil and grease"},
    {"H280 H281", TRAIT_NONE, "goggles"},
    {"", TRAIT_ASPHYXIANT, "an oxygen monitor on the body"},
    {"", TRAIT_COLD, "insulated gloves and face shield: liquid and cold metal freeze skin"},
    {"", TRAIT_HOT, "gloves and clothing against heat"},
    {"", TRAIT_UNKNOWN,
     "gear as for what is toxic, corrosive and burns, until its hazards are known"},
};
enum { N_GEAR = sizeof gear / sizeof gear[0] };

static bool any_named(const char *list, const char *statements)
{
    char item[24];
    while (still_next_statement(&statements, item, sizeof item))
        if (still_statement_named(list, item)) return true;
    return false;
}

/* Of the substances that the program knows all but water boil below -10 degC at 1 atm. */
static bool cold(const still_plant *p, uint32_t service)
{
    const still_service *s = &p->services[service];
    still_substance substance = still_substance_of(still_text(p, s->substance));
    return s->temperature_K < 263.15 ||
           (substance != STILL_SUBSTANCE_OTHER && substance != STILL_SUBSTANCE_WATER);
}

static bool asphyxiant(const still_plant *p, uint32_t service)
{
    const still_service *s = &p->services[service];
    const still_hazard *known = still_hazard_of(still_substance_of(still_text(p, s->substance)));
    if (s->asphyxiant != 0) return s->asphyxiant == STILL_YESNO_YES;
    return known == NULL || known->asphyxiant;
}

static bool hazards_unknown(const still_plant *p, uint32_t service)
{
    const still_service *s = &p->services[service];
    return still_hazard_of(still_substance_of(still_text(p, s->substance))) == NULL &&
           still_text(p, s->hazard)[0] == '\0';
}

static bool has_trait(const still_plant *p, uint32_t service, int trait)
{
    double temperature_K = p->services[service].temperature_K;
    switch (trait) {
    case TRAIT_COLD: return cold(p, service);
    case TRAIT_HOT: return temperature_K > 333.15;
    case TRAIT_ASPHYXIANT: return asphyxiant(p, service);
    case TRAIT_UNKNOWN: return hazards_unknown(p, service);
    default: return false;
    }
}

static const char *append(still_script *s, const char *text, const char *more)
{
    return text == NULL ? NULL : SAY("%s%s%s", text, text[0] ? "; " : "", more);
}

/* Gear that the program names for these services. */
static const char *usual_gear(still_script *s, const uint32_t *services, uint32_t n)
{
    const still_plant *p = s->order->plant;
    const char *text = "";
    for (size_t g = 0; g < N_GEAR && text != NULL; g++) {
        bool wanted = false;
        for (uint32_t i = 0; i < n; i++) {
            const char *statements = still_service_hazards(s->arena, p, services[i]);
            if (statements == NULL) return NULL;
            wanted = wanted || any_named(gear[g].hazards, statements) ||
                     has_trait(p, services[i], gear[g].trait);
        }
        const char *wear = still_messages_get(s->arena->messages, gear[g].wear);
        if (wanted && strstr(text, wear) == NULL) text = append(s, text, wear);
    }
    return text;
}

/* Gear of the site file for them. */
static const char *site_gear(still_script *s, const uint32_t *services, uint32_t n)
{
    const still_plant *p = s->order->plant;
    const still_site *site = s->order->site;
    const char *text = "";
    for (size_t g = 0; site != NULL && g < site->n_gear && text != NULL; g++) {
        const still_gear *at = &site->gear[g];
        bool wanted = false;
        for (uint32_t i = 0; i < n; i++) {
            double temperature_K = p->services[services[i]].temperature_K;
            const char *statements = still_service_hazards(s->arena, p, services[i]);
            if (statements == NULL) return NULL;
            /* What is not said counts as having it. */
            wanted = wanted || any_named(at->hazards, statements) ||
                     (at->hazards[0] != '\0' && hazards_unknown(p, services[i])) ||
                     (at->asphyxiant && asphyxiant(p, services[i])) ||
                     (!isnan(at->above_K) && !(temperature_K <= at->above_K)) ||
                     (!isnan(at->below_K) && !(temperature_K >= at->below_K));
        }
        if (wanted) text = append(s, text, at->wear);
    }
    return text;
}

/* "LIQ: ammonia, liquid, -34 degC, 3 barg, H221 H331 …". */
static const char *service_words(still_script *s, uint32_t service)
{
    const still_plant *p = s->order->plant;
    const still_service *v = &p->services[service];
    const char *substance = still_text(p, v->substance);
    const char *phase = still_arena_word(s->arena, still_word(STILL_VOC_still_phase, v->phase));
    const char *statements = still_service_hazards(s->arena, p, service);
    const char *warm = isnan(v->temperature_K)
                           ? "temperature not said"
                           : SAY("%.4g degC", v->temperature_K - STILL_ZERO_DEGC_K);
    const char *high = isnan(v->pressure_bara) ? "pressure not said"
                                               : SAY("%.4g barg", v->pressure_bara - STILL_ATM_BAR);
    if (statements == NULL || warm == NULL || high == NULL) return NULL;
    return SAY("%s: %s, %s, %s, %s, %s", still_text(p, v->id),
               substance[0] ? substance : "substance not said", phase[0] ? phase : "phase not said",
               warm, high,
               statements[0]                 ? statements
               : hazards_unknown(p, service) ? "hazards not said: all are possible"
                                             : "no hazard statement");
}

static void amounts(still_script *s, const uint32_t *services, uint32_t n)
{
    const char *list = "";
    bool ammonia = false;
    for (uint32_t i = 0; i < n && list != NULL; i++) {
        const char *words = service_words(s, services[i]);
        list = words == NULL ? NULL : append(s, list, words);
        ammonia = ammonia || still_service_is(s->order->plant, services[i], "ammonia");
    }
    double known_kg = 0;
    for (size_t i = 0; i < s->order->rooms->n_rooms; i++) {
        const still_amount *held = &s->order->rooms->rooms[i].amount;
        if (!isnan(held->liquid_kg)) known_kg += held->liquid_kg;
        if (!isnan(held->vapour_kg)) known_kg += held->vapour_kg;
    }
    const char *mass =
        isnan(s->record->cost_mass_kg)
            ? SAY("at least %.4g kg (a volume or density of some parts is not in the "
                  "plant file: expect as much more as fits in)",
                  known_kg)
            : SAY("%.4g kg", s->record->cost_mass_kg);
    if (list == NULL || mass == NULL) {
        s->step.failed = true;
        return;
    }
    still_stepper_add(
        &s->step, "", 0,
        SAY("Know what is inside: %s enclosed. %s.%s", mass,
            list[0] ? list : "The plant file names no service: substance and hazards are unknown",
            ammonia
                ? " Ammonia: dangerous to life from 300 ppm (IDLH); limits 25 ppm over a "
                  "shift and 35 ppm for a short time (NIOSH), 50 ppm (OSHA), from memory; burns "
                  "in air from 15 to 28 %; a litre of liquid makes some 800 litres of gas."
                : ""),
        "Type, magnitude and hazards of the energy come first (OSHA 29 CFR 1910.147(d)(1)).",
        "Everybody who takes part can name them.", "Someone can't: tell him before he goes near.");
}

void still_script_service(still_script *s)
{
    uint32_t n = 0;
    const uint32_t *services = still_services_inside(s->arena, s->order->iso, &n);
    if (services == NULL) {
        s->step.failed = true;
        return;
    }
    amounts(s, services, n);
    const char *usual = n == 0 ? gear[N_GEAR - 1].wear : usual_gear(s, services, n);
    const char *own = site_gear(s, services, n);
    if (usual == NULL || own == NULL) {
        s->step.failed = true;
        return;
    }
    still_stepper_add(
        &s->step, "", 0,
        SAY("Wear what the site's rule says, which comes first%s%s. What follows from the hazards "
            "inside (common practice, no source): %s.",
            own[0] ? ": " : "", own,
            usual[0] ? usual : "helmet, goggles, gloves and boots as everywhere on the plant"),
        "What is inside may come out at the wrong place.",
        "It fits, is in date, and whoever wears it has been trained.",
        "Gear is missing: nobody begins.");
}

bool still_script_cold(still_script *s)
{
    const still_plant *p = s->order->plant;
    uint32_t n = 0;
    const uint32_t *services = still_services_inside(s->arena, s->order->iso, &n);
    if (services == NULL) s->step.failed = true;
    for (uint32_t i = 0; i < n && services != NULL; i++)
        if (cold(p, services[i])) return true;
    return false;
}

bool still_script_service_burns(still_script *s, uint32_t service)
{
    const char *statements = still_service_hazards(s->arena, s->order->plant, service);
    if (statements == NULL) s->step.failed = true;
    return statements != NULL && any_named("H224 H225 H226", statements);
}

bool still_script_burns(still_script *s)
{
    uint32_t n = 0;
    const uint32_t *services = still_services_inside(s->arena, s->order->iso, &n);
    if (services == NULL) s->step.failed = true;
    for (uint32_t i = 0; i < n && services != NULL; i++)
        if (still_script_service_burns(s, services[i])) return true;
    return false;
}
