/* Test pressures of the way back (P6).
 * Problem: at what pressure may what was opened be tested, with the plant on the other side of the
 * points?
 * Method: design pressure = the highest of what is opened, so that each part of it reaches its
 * own; the code's factors on it give its figures. What stands under test is all that is joined to
 * it on the work side of the points, ended by relief valves. Lower limits of what may be applied:
 * the rating of a point (D7), the set pressure of a relief valve, a part of lower design pressure
 * (its own test pressure). One that is not known leaves no figure at all. Source: EN 378-2:2016,
 * PED annex I 7.4, ASME B31.5 section 538 (factors from memory). Cost: linear in what is inside. */
#include "pressures.h"

#include "describe.h"
#include "substance.h"

#include <math.h>

static double lower(double a, double b)
{
    return isnan(a) || b < a ? b : a;
}

static double higher(double a, double b)
{
    return isnan(a) || b > a ? b : a;
}

/* Design pressure that a component declares or gets from the services of its pipes and sides: the
 * highest, or the lowest, of all that is known; NAN = none is, or (*unknown) one is not. */
static double design_bara(const still_plant *p, uint32_t comp, const uint8_t *port, bool highest,
                          bool *unknown)
{
    const still_comp *c = &p->comps[comp];
    double own = still_comp_q(p, comp, STILL_Q_DESIGN_PRESSURE_BARA), found = own;
    uint32_t n = c->cls == STILL_CLASS_SPOOL ? 1 : c->b;
    for (uint32_t k = 0; k < n; k++) {
        double here = (double)NAN;
        if (c->cls == STILL_CLASS_SPOOL) {
            here = still_service_design_bara(p, c->service);
        } else if (port[c->a + k] == 0) {
            continue;
        } else if (c->cls == STILL_CLASS_EXCHANGER) {
            here = still_side_design_bara(p, still_port_side(p, c->a + k));
        } else if (c->cls == STILL_CLASS_VESSEL) {
            here = still_service_design_bara(p, c->service);
            if (isnan(here)) here = own;
        } else if (p->ports[c->a + k].spool != STILL_NONE) {
            here = still_service_design_bara(p, p->comps[p->ports[c->a + k].spool].service);
        } else {
            continue;
        }
        if (isnan(here)) *unknown = true;
        if (!isnan(here)) found = highest ? higher(found, here) : lower(found, here);
    }
    return found;
}

/* Within the valves that are closed: with blinds out again also what lies between. */
static bool within(const still_isolation *iso, uint32_t port, bool blinds)
{
    return iso->work_port[port] || (blinds && iso->between_port[port]);
}

/* What stands under test: all that is joined to what is opened, on the work side of the points, of
 * valves alone where there are blinds, since these come out before the last test; a relief valve
 * ends it. By port. */
static uint8_t *under_test(still_arena *arena, const still_isolation *iso)
{
    bool blinds = false;
    for (uint32_t i = 0; i < iso->points.n; i++) blinds = blinds || iso->info[i].positive;
    const still_plant *p = iso->zone.plant;
    uint8_t *seen = STILL_ARENA_NEW(arena, p->n_ports, uint8_t);
    uint32_t *queue = STILL_ARENA_NEW(arena, p->n_ports, uint32_t), tail = 0;
    if (seen == NULL || queue == NULL) return NULL;
    for (size_t i = 0; i < iso->zone.targets->n; i++) {
        const still_target *t = &iso->zone.targets->items[i];
        const still_comp *c = &p->comps[t->comp];
        bool pipe = c->cls == STILL_CLASS_SPOOL;
        for (uint32_t k = 0; k < (pipe ? 2 : c->b); k++) {
            uint32_t port = !pipe ? c->a + k : k == 0 ? c->a : c->b;
            if (!within(iso, port, blinds) || seen[port]) continue;
            seen[port] = 1;
            queue[tail++] = port;
        }
    }
    for (uint32_t head = 0; head < tail; head++) {
        uint32_t port = queue[head], comp = p->ports[port].comp;
        const still_comp *c = &p->comps[comp];
        uint32_t across = still_port_across(p, port);
        if (across != STILL_NONE && within(iso, across, blinds) && !seen[across]) {
            seen[across] = 1;
            queue[tail++] = across;
        }
        for (uint32_t k = 0; k < c->b && !still_relieves(c); k++) {
            uint32_t next = c->a + k;
            if (seen[next] || !within(iso, next, blinds)) continue;
            if (c->cls == STILL_CLASS_EXCHANGER &&
                still_port_side(p, next) != still_port_side(p, port))
                continue;
            seen[next] = 1;
            queue[tail++] = next;
        }
    }
    return seen;
}

static bool stands_under_test(const still_plant *p, uint32_t comp, const uint8_t *seen)
{
    const still_comp *c = &p->comps[comp];
    if (c->cls == STILL_CLASS_SPOOL) return seen[c->a] && seen[c->b];
    for (uint32_t k = 0; k < c->b; k++)
        if (seen[c->a + k]) return true;
    return false;
}

/* Design pressure of what was opened: the highest of all that is opened, since each part has to
 * reach its own. NAN = not known. */
static double opened_design_bara(const still_isolation *iso, const uint8_t *seen)
{
    double most = (double)NAN;
    bool unknown = false;
    for (size_t i = 0; i < iso->zone.targets->n; i++) {
        double here =
            design_bara(iso->zone.plant, iso->zone.targets->items[i].comp, seen, true, &unknown);
        unknown = unknown || isnan(here);
        most = higher(most, here);
    }
    return unknown ? (double)NAN : most;
}

static bool at_work_side(const still_isolation *iso, uint32_t comp)
{
    const still_plant *p = iso->zone.plant;
    const still_comp *c = &p->comps[comp];
    if (c->cls == STILL_CLASS_SPOOL) return iso->work_port[c->a] || iso->work_port[c->b];
    for (uint32_t k = 0; k < c->b; k++) {
        uint32_t across = still_port_across(p, c->a + k);
        if (iso->work_port[c->a + k] || (across != STILL_NONE && iso->work_port[across]))
            return true;
    }
    return false;
}

/* Relief valves whose inlet lies in the section: they open below a test pressure. */
static bool opens_from(const still_isolation *iso, uint32_t comp, const uint8_t *seen)
{
    const still_comp *c = &iso->zone.plant->comps[comp];
    if (!still_relieves(c)) return false;
    uint32_t in = still_comp_port(iso->zone.plant, comp, "in");
    return in != STILL_NONE && seen[in];
}

/* Parts under test with a design pressure below that of what was opened, or an unknown one. */
static void lower_parts(still_test_limit *list, uint32_t *n, const still_isolation *iso,
                        const still_list *parts, const uint8_t *seen, double design_barg)
{
    const still_plant *p = iso->zone.plant;
    for (uint32_t i = 0; i < parts->n; i++) {
        uint32_t comp = parts->items[i];
        uint8_t cls = p->comps[comp].cls;
        bool holds =
            cls == STILL_CLASS_SPOOL || cls == STILL_CLASS_VESSEL || cls == STILL_CLASS_EXCHANGER;
        bool unknown = false;
        if (!stands_under_test(p, comp, seen) || still_relieves(&p->comps[comp])) continue;
        double here = holds ? design_bara(p, comp, seen, false, &unknown)
                            : still_comp_q(p, comp, STILL_Q_DESIGN_PRESSURE_BARA);
        if (unknown) here = (double)NAN;
        if (!holds && isnan(here)) continue;
        if (!(here - STILL_ATM_BAR >= design_barg))
            list[(*n)++] = (still_test_limit){comp, here - STILL_ATM_BAR, STILL_LIMIT_PART};
    }
}

static still_test_limit *find_limits(uint32_t *n, still_arena *arena, const still_isolation *iso,
                                     const uint8_t *seen, double design_barg)
{
    const still_plant *p = iso->zone.plant;
    double above_barg = STILL_TEST_GAS_FACTOR * design_barg;
    still_test_limit *list =
        STILL_ARENA_NEW(arena, (size_t)iso->points.n + 2 * ((size_t)iso->inside.n + iso->between.n),
                        still_test_limit);
    *n = 0;
    if (list == NULL || isnan(above_barg)) return list;
    bool positive = false;
    for (uint32_t i = 0; i < iso->points.n; i++) positive = positive || iso->info[i].positive;
    for (uint32_t i = 0; i < iso->points.n; i++) {
        uint32_t comp = iso->points.items[i];
        bool said = !isnan(still_comp_q(p, comp, STILL_Q_RATING_BARA));
        double barg = still_device_rating_bara(p, comp) - STILL_ATM_BAR;
        /* Once blinds are out again the valves further out part the section. */
        if ((positive || at_work_side(iso, comp)) && !(barg >= above_barg))
            list[(*n)++] =
                (still_test_limit){comp, barg, said ? STILL_LIMIT_RATING : STILL_LIMIT_BY_DESIGN};
    }
    const still_list *both[2] = {&iso->inside, &iso->between};
    for (int k = 0; k < 2; k++) {
        for (uint32_t i = 0; i < both[k]->n; i++) {
            uint32_t comp = both[k]->items[i];
            double barg = still_comp_q(p, comp, STILL_Q_SET_PRESSURE_BARA) - STILL_ATM_BAR;
            if (opens_from(iso, comp, seen) && !(barg > above_barg))
                list[(*n)++] = (still_test_limit){comp, barg, STILL_LIMIT_RELIEF};
        }
        lower_parts(list, n, iso, both[k], seen, design_barg);
    }
    return list;
}

static bool refrigerant(const still_plant *p, uint32_t service)
{
    if (service == STILL_NONE) return false;
    still_substance s = still_substance_of(still_text(p, p->services[service].substance));
    return s != STILL_SUBSTANCE_OTHER && s != STILL_SUBSTANCE_WATER;
}

/* Of a valve the pipes tell, also those that are points (spades). */
static bool carries_refrigerant(const still_plant *p, uint32_t comp)
{
    const still_comp *c = &p->comps[comp];
    bool pipe = c->cls == STILL_CLASS_SPOOL, found = refrigerant(p, c->service);
    for (uint32_t k = 0; k < c->b && !pipe && !found; k++) {
        uint32_t port = c->a + k, side = still_port_side(p, port), spool = p->ports[port].spool;
        found = (side != STILL_NONE && refrigerant(p, p->sides[side].service)) ||
                (spool != STILL_NONE && refrigerant(p, p->comps[spool].service));
    }
    return found;
}

bool still_refrigerant_inside(const still_isolation *iso)
{
    for (uint32_t i = 0; i < iso->inside.n; i++)
        if (carries_refrigerant(iso->zone.plant, iso->inside.items[i])) return true;
    return false;
}

static void vacuum(still_tests *t, const still_isolation *iso, const still_site *site)
{
    t->evacuation_Pa = t->evacuation_hold_s = (double)NAN;
    if (site != NULL && !isnan(site->evacuation_Pa)) {
        t->evacuation_Pa = site->evacuation_Pa;
        t->evacuation_hold_s = site->evacuation_hold_s;
    } else if (still_refrigerant_inside(iso)) {
        t->evacuation_Pa = STILL_TEST_EN_VACUUM_PA;
        t->evacuation_hold_s = STILL_TEST_EN_VACUUM_HOLD_S;
    }
}

/* Lowest known design pressure of what stands under test; NAN = of nothing is it known. */
static double lowest_design_bara(const still_isolation *iso, const uint8_t *seen)
{
    const still_plant *p = iso->zone.plant;
    double least = (double)NAN;
    for (uint32_t comp = 0; comp < p->n_comps; comp++) {
        bool unknown = false;
        if (!stands_under_test(p, comp, seen)) continue;
        double here = design_bara(p, comp, seen, false, &unknown);
        if (!isnan(here)) least = isnan(least) ? here : fmin(least, here);
    }
    return least;
}

still_status still_tests_find(still_tests *out, still_test_limit **limits, uint32_t *n_limits,
                              still_arena *arena, const still_isolation *iso,
                              const still_site *site)
{
    still_test_code code = site != NULL ? site->code : STILL_TEST_CODE_NOT_SAID;
    const uint8_t *seen = under_test(arena, iso);
    if (seen == NULL) return STILL_E_NOMEM;
    double design = opened_design_bara(iso, seen) - STILL_ATM_BAR;
    still_tests t = {.design_barg = design,
                     .code_strength_barg = STILL_TEST_GAS_FACTOR * design,
                     .most_barg = (double)NAN,
                     .hydraulic_barg = (double)NAN,
                     .hold_s = (double)NAN,
                     .code = still_test_code_text(code)};
    if (code != STILL_TEST_CODE_EN_378) {
        t.most_barg = STILL_TEST_ASME_MOST * (lowest_design_bara(iso, seen) - STILL_ATM_BAR);
        t.hold_s = STILL_TEST_ASME_HOLD_S;
    }
    if (code != STILL_TEST_CODE_ASME_B31_5) t.hydraulic_barg = STILL_TEST_LIQUID_FACTOR * design;
    t.source = code == STILL_TEST_CODE_EN_378 ? "EN 378-2:2016 table 1, clause 6.3; factors from "
                                                "memory"
               : code == STILL_TEST_CODE_ASME_B31_5
                   ? "ASME B31.5 section 538; figures from memory"
                   : "EN 378-2:2016 table 1, clause 6.3, and ASME B31.5 section 538, from memory: "
                     "the site decides which holds";
    vacuum(&t, iso, site);
    *limits = find_limits(n_limits, arena, iso, seen, design);
    uint32_t *comps = STILL_ARENA_NEW(arena, *n_limits, uint32_t);
    if (*limits == NULL || comps == NULL) return STILL_E_NOMEM;
    t.strength_barg = t.code_strength_barg;
    t.tightness_barg = design;
    for (uint32_t i = 0; i < *n_limits; i++) {
        double barg = (*limits)[i].barg;
        double strong = (*limits)[i].what == STILL_LIMIT_PART ? STILL_TEST_GAS_FACTOR * barg : barg;
        comps[i] = (*limits)[i].comp;
        /* Not known: no figure is safe. */
        if (isnan(barg)) t.strength_barg = t.tightness_barg = barg;
        if (strong < t.strength_barg) t.strength_barg = strong;
        if (barg < t.tightness_barg) t.tightness_barg = barg;
    }
    if (!still_list_ids_sorted(arena, iso->zone.plant, comps, *n_limits, &t.limited_by))
        return STILL_E_NOMEM;
    *out = t;
    return STILL_OK;
}
