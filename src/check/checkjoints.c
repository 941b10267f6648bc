/* Rules on joints.
 *
 * Unequal design pressures. Compared is what stands under one pressure with nothing between: all
 * spools joined to one fitting, to one vessel or to one side of an exchanger, and the fitting,
 * vessel or side itself. Valves and blinds can part two pressures, pumps and compressors raise
 * one, so these are not compared across. The design pressure of a part is its own, else that of
 * its service; a part without one is left out. One warning a joint, with the least and the
 * greatest.
 *
 * Parts not connected. Union by the spools (R. E. Tarjan, J. ACM 22 (1975) 215, doi
 * 10.1145/321879.321884), each class under its first component in the file; every class but the
 * largest (of equals the first) gives one warning, at its first component. */
#include "checkjoints.h"

#include "alloc.h"
#include "disjoint.h"

static double of_service(const still_plant *p, uint32_t service)
{
    return service == STILL_NONE ? (double)NAN : p->services[service].design_pressure_bara;
}

static double of_comp(const still_plant *p, uint32_t comp)
{
    double own = still_comp_q(p, comp, STILL_Q_DESIGN_PRESSURE_BARA);
    return isnan(own) ? of_service(p, p->comps[comp].service) : own;
}

/* Least and greatest so far, and whose they are. */
typedef struct extremes {
    double lo, hi;
    const char *lo_id, *hi_id;
} extremes;

static void take(extremes *e, double pressure_bara, const char *id)
{
    if (isnan(pressure_bara)) return;
    if (e->lo_id == NULL || pressure_bara < e->lo) {
        e->lo = pressure_bara;
        e->lo_id = id;
    }
    if (e->hi_id == NULL || pressure_bara > e->hi) {
        e->hi = pressure_bara;
        e->hi_id = id;
    }
}

/* One joint: the ports of a component, or of one side of it. */
static void check_joint(const still_plant *p, still_report *r, uint32_t comp, uint32_t side)
{
    const still_comp *c = &p->comps[comp];
    const char *id = still_id_of(p, comp);
    extremes e = {(double)NAN, (double)NAN, NULL, NULL};
    if (side == STILL_NONE) {
        take(&e, of_comp(p, comp), id);
    } else {
        const still_side *s = &p->sides[side];
        double own = s->design_pressure_bara;
        take(&e, isnan(own) ? of_service(p, s->service) : own, id);
    }
    for (uint32_t i = c->a; i < c->a + c->b; i++) {
        uint32_t spool = p->ports[i].spool;
        if (spool == STILL_NONE || still_port_side(p, i) != side) continue;
        take(&e, of_comp(p, spool), still_id_of(p, spool));
    }
    if (e.lo_id == NULL || !(e.hi - e.lo > 1e-6)) return;
    still_report_add(r, STILL_CODE_DESIGN_DIFFERS, side == STILL_NONE ? c->src : p->sides[side].src,
                     NULL, id,
                     "design pressures differ at %s \"%.80s\": \"%.80s\" %.6g bara, "
                     "\"%.80s\" %.6g bara",
                     still_word(STILL_VOC_still_class, c->cls), id, e.lo_id, e.lo, e.hi_id, e.hi);
}

still_status still_check_design(const still_plant *plant, still_report *report)
{
    for (uint32_t i = 0; i < plant->n_comps; i++)
        if (plant->comps[i].cls == STILL_CLASS_FITTING || plant->comps[i].cls == STILL_CLASS_VESSEL)
            check_joint(plant, report, i, STILL_NONE);
    for (uint32_t i = 0; i < plant->n_sides; i++)
        check_joint(plant, report, plant->sides[i].comp, i);
    return STILL_OK;
}

#define ROOT (UINT32_C(1) << 31)

still_status still_check_connected(const still_plant *plant, still_report *report)
{
    uint32_t n = plant->n_comps, largest = 0;
    if (n == 0) return STILL_OK;
    uint32_t *up = still_calloc(n, sizeof up[0]);
    if (up == NULL) return STILL_E_NOMEM;
    for (uint32_t i = 0; i < n; i++) up[i] = i;
    for (uint32_t i = 0; i < n; i++) {
        if (plant->comps[i].cls != STILL_CLASS_SPOOL) continue;
        still_disjoint_join(up, i, plant->ports[plant->comps[i].a].comp);
        still_disjoint_join(up, i, plant->ports[plant->comps[i].b].comp);
    }
    for (uint32_t i = 0; i < n; i++) up[i] = still_disjoint_root(up, i);
    /* A root stands before all others of its set: from there on it holds their number. */
    for (uint32_t i = 0; i < n; i++) {
        if (up[i] == i)
            up[i] = ROOT | 1;
        else
            up[up[i]]++;
    }
    for (uint32_t i = 0; i < n; i++)
        if ((up[i] & ROOT) != 0 && up[i] > up[largest]) largest = i;
    for (uint32_t i = 0; i < n; i++) {
        if ((up[i] & ROOT) == 0 || i == largest) continue;
        const char *id = still_id_of(plant, i);
        still_report_add(report, STILL_CODE_UNCONNECTED, plant->comps[i].src, NULL, id,
                         "%s \"%.80s\" and %lu more are not connected to the rest",
                         still_word(STILL_VOC_still_class, plant->comps[i].cls), id,
                         (unsigned long)((up[i] & ~ROOT) - 1));
    }
    still_free(up);
    return STILL_OK;
}
