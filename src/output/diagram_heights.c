/* Elevations where they matter for drainage: at drains, low points, what keeps liquid back below
 * its drains, and the ports of vessels, of what is inside the boundary. Only what the plant file
 * says is written; a height that it does not say is not written, and no height is worked out. */
#include "diagram.h"

#include <math.h>
#include <string.h>

/** Ports of a vessel that are told one by one. */
enum { MOST_PORTS = 3 };

static bool add_height(still_dia *d, still_dnode *node, const char *what, double metres)
{
    long cm = lround(fabs(metres) * 100.0);
    const char *sign = metres < 0.0 && cm > 0 ? "-" : "";
    const char *height =
        still_arena_printf(&d->arena, "el. %s%ld.%02ld m", sign, cm / 100, cm % 100);
    /* Number and unit stay on one line. */
    return (what[0] == '\0' || still_diagram_add_text(d, &node->below, STILL_LINE_PLAIN, what)) &&
           still_diagram_add_line(d, &node->below, STILL_LINE_PLAIN, 0, height);
}

/** True where liquid stays in it below every way to a drain, by the record. */
static bool in_pocket(const still_dia *d, uint32_t comp)
{
    const char *id = still_id_of(d->plant, comp);
    for (size_t i = 0; i < d->r->n_compartments; i++)
        for (size_t k = 0; k < d->r->compartments[i].n_pockets; k++) {
            const still_strings *ids = &d->r->compartments[i].pockets[k].ids;
            for (size_t m = 0; m < ids->n; m++)
                if (strcmp(ids->items[m], id) == 0) return true;
        }
    return false;
}

/** True where all pipes rise from it, or run level, and one rises. */
static bool is_low_point(const still_plant *p, uint32_t comp, double height)
{
    const still_comp *c = &p->comps[comp];
    bool rises = false;
    for (uint32_t k = 0; k < c->b; k++) {
        uint32_t across = still_port_across(p, c->a + k);
        double there = across == STILL_NONE ? -HUGE_VAL : still_port_elevation_m(p, across);
        if (!(there > height - 0.005)) return false;
        rises = rises || there > height + 0.005;
    }
    return rises && c->b > 1;
}

static bool add_ports(still_dia *d, still_dnode *node)
{
    const still_plant *p = d->plant;
    const still_comp *c = &p->comps[node->comp];
    uint32_t known = 0, lowest = STILL_NONE;
    for (uint32_t k = 0; k < c->b; k++) {
        double h = still_port_elevation_m(p, c->a + k);
        if (isnan(h)) continue;
        known++;
        if (lowest == STILL_NONE || h < still_port_elevation_m(p, lowest)) lowest = c->a + k;
    }
    if (known > MOST_PORTS)
        return add_height(d, node, WORD("lowest port"), still_port_elevation_m(p, lowest));
    for (uint32_t k = 0; k < c->b; k++) {
        double h = still_port_elevation_m(p, c->a + k);
        if (!isnan(h) && !add_height(d, node, still_text(p, still_port_name(p, c->a + k)), h))
            return false;
    }
    return true;
}

bool still_diagram_elevations(still_dia *d, still_dnode *node)
{
    const still_comp *c = &d->plant->comps[node->comp];
    if (d->bare || !(d->mark[node->comp] & STILL_MARK_INSIDE) || c->b == 0) return true;
    if (c->cls == STILL_CLASS_VESSEL || c->cls == STILL_CLASS_EXCHANGER) return add_ports(d, node);
    double h = still_port_elevation_m(d->plant, c->a);
    if (isnan(h)) return true;
    if (in_pocket(d, node->comp))
        return add_height(d, node, still_arena_word(&d->arena, WORD("pocket")), h);
    if (c->cls == STILL_CLASS_OUTLET)
        return c->kind != STILL_KIND_DRAIN || add_height(d, node, "", h);
    return !is_low_point(d->plant, node->comp, h) ||
           add_height(d, node, still_arena_word(&d->arena, WORD("low point")), h);
}
