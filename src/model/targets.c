#include "targets.h"

#include <string.h>

static bool find_part(still_target *out, const still_plant *plant, uint32_t comp, const char *part)
{
    const still_comp *c = &plant->comps[comp];
    if (c->cls == STILL_CLASS_SPOOL) return false;
    for (uint32_t s = 0; c->cls == STILL_CLASS_EXCHANGER && s < plant->n_sides; s++) {
        if (plant->sides[s].comp != comp ||
            strcmp(still_text(plant, plant->sides[s].id), part) != 0)
            continue;
        *out = (still_target){comp, s, STILL_NONE};
        return true;
    }
    uint32_t port = still_comp_port(plant, comp, part);
    if (port == STILL_NONE) return false;
    *out = (still_target){comp, STILL_NONE, port};
    return true;
}

bool still_target_find(still_target *out, const still_plant *plant, const char *name)
{
    uint32_t comp = still_plant_find(plant, name).v;
    if (comp != STILL_NONE) {
        *out = (still_target){comp, STILL_NONE, STILL_NONE};
        return true;
    }
    const char *dot = strrchr(name, '.');
    if (dot == NULL) return false;
    for (uint32_t i = 0; i < plant->n_comps; i++) {
        const char *id = still_id_of(plant, i);
        if (strncmp(id, name, (size_t)(dot - name)) != 0 || id[dot - name] != '\0') continue;
        return find_part(out, plant, i, dot + 1);
    }
    return false;
}

bool still_opened_whole(const still_targets *targets, uint32_t comp)
{
    for (size_t i = 0; i < targets->n; i++) {
        const still_target *t = &targets->items[i];
        if (t->comp == comp && t->side == STILL_NONE && t->port == STILL_NONE) return true;
    }
    return false;
}

bool still_opened_side(const still_plant *plant, const still_targets *targets, uint32_t side)
{
    for (size_t i = 0; i < targets->n; i++) {
        const still_target *t = &targets->items[i];
        if (t->side == side) return true;
        if (t->comp == plant->sides[side].comp && t->side == STILL_NONE && t->port == STILL_NONE)
            return true;
    }
    return false;
}

bool still_opened_port(const still_plant *plant, const still_targets *targets, uint32_t port)
{
    uint32_t comp = plant->ports[port].comp, spool = plant->ports[port].spool;
    uint32_t side = still_port_side(plant, port);
    for (size_t i = 0; i < targets->n; i++) {
        const still_target *t = &targets->items[i];
        if (t->port != STILL_NONE) {
            if (t->port == port) return true;
        } else if (t->side != STILL_NONE) {
            if (t->side == side) return true;
        } else if (t->comp == comp || (spool != STILL_NONE && t->comp == spool)) {
            return true;
        }
    }
    return false;
}
