/* A piece of plant, shut in, that warms up.
 * Problem: pipes, vessels and exchanger sides of one piece, with services of their own, become one
 * mean density, one start temperature and pressure, and one wall.
 * Method: volumes and masses are added (inventory.h); the start is the coldest of the services,
 * since the same liquid is densest there and has the longest way to ambient before it; walls by
 * volume (wall.h). Pieces that are not full start from their mean density; vapour that can condense
 * is judged along the vapour pressure: it starts from the critical density, so that liquid is left
 * up to the critical point, and goes on at constant density from there (L3); its normal pressure
 * counts too.
 * Assumptions: one substance in the piece; else there are no numbers.
 * Cost: linear in the piece. */
#include "warming.h"

#include "inventory.h"
#include "saturation.h"

#include <math.h>
#include <string.h>

/* What the parts add up to. */
typedef struct sum {
    const still_plant *plant;
    still_wall_part *parts;
    size_t n_parts;
    const still_service *coldest, *coldest_liquid;
    const char *why;
    bool mixed, all_vapour, dry, any;
    double volume_m3, mass_kg, outside_m2, heat_kW;
} sum;

static const double PI = 3.14159265358979323846;

static const char *substance_of(const sum *s, const still_service *service)
{
    return still_text(s->plant, service->substance);
}

static void add_service(sum *s, uint32_t number)
{
    s->any = true;
    if (number == STILL_NONE) {
        s->why = "a part of it has no service";
        return;
    }
    const still_service *service = &s->plant->services[number];
    if (isnan(service->temperature_K)) s->why = "a service in it has no temperature";
    if (service->substance.v == 0) s->why = "a service in it has no substance";
    if (service->phase != STILL_PHASE_VAPOUR) s->all_vapour = false;
    if (service->condenses != STILL_YESNO_NO) s->dry = false;
    if (s->coldest != NULL && strcmp(substance_of(s, service), substance_of(s, s->coldest)) != 0)
        s->why = "it holds different substances";
    if (s->coldest != NULL && (service->temperature_K < s->coldest->temperature_K ||
                               service->temperature_K > s->coldest->temperature_K))
        s->mixed = true;
    if (s->coldest == NULL || service->temperature_K < s->coldest->temperature_K)
        s->coldest = service;
    if (service->phase == STILL_PHASE_VAPOUR) return;
    if (s->coldest_liquid == NULL || service->temperature_K < s->coldest_liquid->temperature_K)
        s->coldest_liquid = service;
}

/* Liquid in a vessel or side, whatever its service says; not said counts as liquid (N2). */
static void add_contents(sum *s, unsigned contents)
{
    if (contents != STILL_CONTENTS_VAPOUR && contents != STILL_CONTENTS_NONE)
        s->all_vapour = s->dry = false;
}

static void add_volume(sum *s, double volume_m3, double mass_kg, still_wall wall)
{
    s->volume_m3 += volume_m3;
    s->mass_kg += mass_kg;
    s->parts[s->n_parts++] = (still_wall_part){volume_m3, wall};
}

/* What the spool says of its material; else rounded values for carbon steel. */
static still_steel steel_of(const still_plant *plant, uint32_t spool)
{
    still_steel steel = STILL_STEEL_INIT;
    double modulus = still_comp_q(plant, spool, STILL_Q_MODULUS_GPA);
    double poisson = still_comp_q(plant, spool, STILL_Q_POISSON);
    double expansion = still_comp_q(plant, spool, STILL_Q_EXPANSION_PER_K);
    if (!isnan(modulus)) steel.E_Pa = modulus * 1e9;
    if (!isnan(poisson)) steel.poisson = poisson;
    if (!isnan(expansion)) steel.alpha_per_K = expansion;
    return steel;
}

static void add_comp(sum *s, const still_state *state, uint32_t comp)
{
    const still_plant *plant = s->plant;
    const still_comp *c = &plant->comps[comp];
    still_wall wall = STILL_WALL_RIGID;
    if (c->cls == STILL_CLASS_SPOOL) {
        double wall_mm = still_comp_q(plant, comp, STILL_Q_WALL_MM);
        double outside_mm = still_comp_q(plant, comp, STILL_Q_BORE_MM) + 2 * wall_mm;
        const still_steel steel = steel_of(plant, comp);
        double heat_kW = still_comp_q(plant, comp, STILL_Q_HEAT_KW);
        wall = still_wall_of_pipe(outside_mm, wall_mm, &steel);
        if (!isnan(heat_kW)) s->heat_kW += heat_kW;
        s->outside_m2 += PI * outside_mm / 1000 * still_comp_q(plant, comp, STILL_Q_LENGTH_M);
    } else if (c->cls != STILL_CLASS_VESSEL) {
        return;
    }
    add_service(s, c->service);
    if (c->cls == STILL_CLASS_VESSEL) {
        still_contents contents = still_contents_now(plant, state, comp);
        if (contents == STILL_CONTENTS_NONE) return; /* said to be empty: no room to count on */
        add_contents(s, contents);
    }
    add_volume(s, still_comp_volume_m3(plant, comp), still_comp_mass_kg(plant, state, comp), wall);
}

/* From the sum to what closedin.h is asked. @return false: `why` is set. */
static bool given_of(still_closedin_given *g, sum *s, still_warming *out, double ambient_K)
{
    const still_service *start = s->coldest;
    if (out->full && s->coldest_liquid != NULL &&
        !(s->coldest->temperature_K < s->coldest_liquid->temperature_K))
        start = s->coldest_liquid;
    out->service = (uint32_t)(start - s->plant->services);
    const still_eos *eos = still_eos_of(still_substance_of(substance_of(s, start)));
    *g = (still_closedin_given){.eos = eos,
                                .kind = STILL_CLOSEDIN_LIQUID,
                                .T_K = start->temperature_K,
                                .pressure_bara = start->phase == STILL_PHASE_VAPOUR && out->full
                                                     ? (double)NAN
                                                     : start->pressure_bara};
    if (eos == NULL && out->full) {
        g->constants.expansivity_per_K = start->expansivity_per_K;
        g->constants.compressibility_per_bar = start->compressibility_per_bar;
        if (isnan(start->expansivity_per_K) || isnan(start->compressibility_per_bar))
            s->why = "no equation of state for its substance, and its service gives no expansivity "
                     "and compressibility";
        return s->why[0] == '\0';
    }
    if (out->full) return true;
    if (eos == NULL) {
        s->why = "no equation of state for its substance";
        return false;
    }
    g->kind = STILL_CLOSEDIN_MASS;
    if (s->all_vapour && !s->dry) {
        /* Hotter than ambient it cools down; what condenses is judged where it ends. */
        g->T_K = fmin(g->T_K, ambient_K);
        g->density_kg_m3 = eos->rho_c_kg_m3;
        return true;
    }
    if (s->all_vapour) /* of the coldest service: the densest, whatever the volumes */
        g->density_kg_m3 =
            still_service_density_kg_m3(s->plant, out->service, STILL_CONTENTS_VAPOUR, (double)NAN);
    else
        g->density_kg_m3 = s->mass_kg / s->volume_m3;
    if (!(g->density_kg_m3 > 0)) {
        s->why = "its volume or its contents are not known";
        return false;
    }
    return true;
}

/* Dry gas without an equation: constant volume and mass, so pressure in proportion. */
static void as_gas(still_warming *out, const still_service *service, double design_bara,
                   double ambient_K)
{
    out->basis = STILL_WARMING_GAS;
    out->start_K = service->temperature_K;
    out->start_bara = service->pressure_bara;
    out->rigid_bar_per_K = out->bar_per_K = service->pressure_bara / service->temperature_K;
    double reach_K = design_bara / out->bar_per_K;
    out->ambient_rigid_bara = out->ambient_bara =
        out->bar_per_K * fmax(ambient_K, service->temperature_K);
    out->reaches = reach_K <= fmax(ambient_K, service->temperature_K);
    if (out->reaches) out->reaches_K = fmax(reach_K, service->temperature_K);
}

/* When the design pressure is reached, from one start. @return false when that is not known. */
static bool reach(still_warming *out, const still_closedin *start, double design_bara,
                  double ambient_K)
{
    still_closedin_when when;
    if (isnan(design_bara)) return false;
    if (still_closedin_reaches(&when, start, &out->wall, design_bara,
                               fmax(ambient_K, start->T_K)) != STILL_EOS_OK)
        return false;
    if (!when.reached || (out->reaches && out->reaches_K <= when.T_K)) return true;
    out->reaches = true;
    out->reaches_K = when.T_K;
    out->by_vapour = when.state == STILL_CLOSEDIN_BUBBLE;
    return true;
}

static void at_ambient(still_warming *out, const still_closedin *start, double ambient_K)
{
    const still_wall rigid = STILL_WALL_RIGID;
    double p;
    if (ambient_K < start->T_K) ambient_K = start->T_K;
    if (still_closedin_pressure(&p, NULL, start, &rigid, ambient_K) == STILL_EOS_OK)
        out->ambient_rigid_bara = p;
    if (still_closedin_pressure(&p, NULL, start, &out->wall, ambient_K) == STILL_EOS_OK)
        out->ambient_bara = p;
}

/* Of the liquid at the start, for the relief need. */
static void liquid_properties(still_warming *out)
{
    still_eos_state s;
    const still_closedin *from = &out->start;
    if (!out->full || from->eos == NULL) return;
    if (still_eos_state_Trho(&s, from->eos, from->T_K, from->density_kg_m3) != STILL_EOS_OK) return;
    out->expansivity_per_K = s.expansivity_per_K;
    out->cp_J_per_kgK = s.cp_J_per_kgK;
    out->density_kg_m3 = s.density_kg_m3;
}

static void numbers(still_warming *out, still_closedin_given *given, double design_bara,
                    double ambient_K)
{
    const still_wall rigid = STILL_WALL_RIGID;
    still_eos_status status = still_closedin_start(&out->start, given);
    if (status != STILL_EOS_OK) {
        out->why = still_eos_status_text(status);
        return;
    }
    out->basis = given->eos == NULL ? STILL_WARMING_CONSTANTS : STILL_WARMING_EQUATION;
    out->flags = out->start.flags;
    out->start_K = out->start.T_K;
    out->start_bara = out->start.pressure_bara;
    double slope;
    if (still_closedin_slope(&slope, &out->start, &rigid) == STILL_EOS_OK)
        out->rigid_bar_per_K = slope;
    if (still_closedin_slope(&slope, &out->start, &out->wall) == STILL_EOS_OK)
        out->bar_per_K = slope;
    out->unknown = !reach(out, &out->start, design_bara, ambient_K);
    if ((out->flags & STILL_CLOSEDIN_CONFLICT) != 0) {
        /* Pressure and temperature contradict each other: the worse of both counts. */
        still_closedin other;
        given->trust_pressure = true;
        if (still_closedin_start(&other, given) != STILL_EOS_OK ||
            !reach(out, &other, design_bara, ambient_K))
            out->unknown = true;
    }
    if (out->reaches) out->unknown = false;
    at_ambient(out, &out->start, ambient_K);
    if (!out->full && given->eos != NULL) {
        still_closedin_end end;
        if (still_closedin_fills(&end, &out->start, &out->wall, fmax(ambient_K, out->start_K)) ==
                STILL_EOS_OK &&
            end.fate == STILL_CLOSEDIN_FILLS && end.T_K < given->eos->T_c_K)
            out->full_K = end.T_K;
    }
    liquid_properties(out);
}

/* All that the numbers depend on. */
typedef struct asked {
    still_closedin_given given;
    still_wall wall;
    double design_bara, ambient_K;
    bool full;
} asked;

/* Pieces of like pipes in like service, of which a plant has many, get the same numbers: those
 * found lately are kept, for each thread its own. A function of its arguments all the same. */
static void numbers_once(still_warming *out, const still_closedin_given *given, double design_bara,
                         double ambient_K)
{
    enum { KEPT = 64 };
    static _Thread_local struct {
        bool used;
        asked key;
        still_warming found;
    } kept[KEPT];
    asked key;
    memset(&key, 0, sizeof key); /* no stray bytes between the fields */
    key.given.eos = given->eos;
    key.given.constants = given->constants;
    key.given.kind = given->kind;
    key.given.T_K = given->T_K;
    key.given.pressure_bara = given->pressure_bara;
    key.given.fill = given->fill;
    key.given.density_kg_m3 = given->density_kg_m3;
    key.given.trust_pressure = given->trust_pressure;
    key.wall = out->wall;
    key.design_bara = design_bara;
    key.ambient_K = ambient_K;
    key.full = out->full;
    uint64_t hash = 0, word;
    for (size_t i = 0; i + sizeof word <= sizeof key; i += sizeof word) {
        memcpy(&word, (const char *)&key + i, sizeof word);
        hash = (hash ^ word) * 0x9E3779B97F4A7C15u; /* multiplicative hashing (Knuth, TAOCP 6.4) */
        hash ^= hash >> 32;
    }
    size_t at = (size_t)(hash % KEPT);
    if (!kept[at].used || memcmp(&kept[at].key, &key, sizeof key) != 0) {
        still_closedin_given ask = *given;
        still_warming found = *out;
        numbers(&found, &ask, design_bara, ambient_K);
        kept[at].used = true;
        memcpy(&kept[at].key, &key, sizeof key);
        kept[at].found = found;
    }
    still_warming own = *out;
    *out = kept[at].found;
    out->service = own.service;
    out->mixed_temperatures = own.mixed_temperatures;
    out->volume_m3 = own.volume_m3;
    out->mass_kg = own.mass_kg;
    out->outside_m2 = own.outside_m2;
    out->heat_kW = own.heat_kW;
}

void still_warming_of(still_warming *out, const still_plant *plant, const still_state *state,
                      const still_contents_of *piece, bool full, double design_bara,
                      double ambient_K, still_wall_part *room)
{
    const double none = (double)NAN;
    sum s = {.plant = plant, .parts = room, .why = "", .all_vapour = true, .dry = true};
    *out = (still_warming){.why = "",
                           .full = full,
                           .service = STILL_NONE,
                           .start_K = none,
                           .start_bara = none,
                           .rigid_bar_per_K = none,
                           .bar_per_K = none,
                           .reaches_K = none,
                           .full_K = none,
                           .ambient_rigid_bara = none,
                           .ambient_bara = none,
                           .expansivity_per_K = none,
                           .cp_J_per_kgK = none,
                           .density_kg_m3 = none};
    for (size_t i = 0; i < piece->n_comps; i++) add_comp(&s, state, piece->comps[i]);
    for (size_t i = 0; i < piece->n_sides; i++) {
        add_service(&s, plant->sides[piece->sides[i]].service);
        if (plant->sides[piece->sides[i]].contents == STILL_CONTENTS_NONE) continue;
        add_contents(&s, plant->sides[piece->sides[i]].contents);
        add_volume(&s, still_side_volume_m3(plant, piece->sides[i]),
                   still_side_mass_kg(plant, piece->sides[i]), STILL_WALL_RIGID);
    }
    out->volume_m3 = s.volume_m3;
    out->mass_kg = s.mass_kg;
    out->outside_m2 = s.outside_m2;
    out->heat_kW = s.heat_kW;
    out->mixed_temperatures = s.mixed;
    out->wall = still_wall_of_parts(s.parts, s.n_parts);
    if (!s.any) s.why = "it holds nothing";
    if (s.why[0] == '\0' && !full && s.dry && s.all_vapour &&
        still_eos_of(still_substance_of(substance_of(&s, s.coldest))) == NULL &&
        !isnan(s.coldest->pressure_bara)) {
        out->service = (uint32_t)(s.coldest - plant->services);
        as_gas(out, s.coldest, design_bara, ambient_K);
        out->unknown = isnan(design_bara);
        return;
    }
    still_closedin_given given;
    if (s.why[0] != '\0' || !given_of(&given, &s, out, ambient_K)) {
        out->why = s.why;
        out->unknown = true;
        return;
    }
    numbers_once(out, &given, design_bara, ambient_K);
    if (!full && s.coldest->pressure_bara >= design_bara) {
        out->reaches = true;
        out->reaches_K = out->start_K;
    }
    if (out->why[0] != '\0') out->unknown = true;
    if (full && out->basis != STILL_WARMING_NONE && !isnan(out->start.density_kg_m3))
        out->mass_kg = s.volume_m3 * out->start.density_kg_m3; /* whatever its phase says */
}

bool still_warming_stays_below(const still_warming *m)
{
    return !m->full && m->basis != STILL_WARMING_NONE && !m->unknown && !m->reaches &&
           isnan(m->full_K);
}
