/* Regions: what stays joined when everything but the opened is joined.
 * Each region is asked for one grade (docs/METHOD.md, 3.5). Flood fill; linear in the plant. */
#include "asked.h"

#include "alloc.h"

/* Ports that a port leads to when everything joins, what is opened aside. */
static uint32_t next_port(const still_plant *plant, const still_targets *targets, uint32_t port,
                          uint32_t *k)
{
    uint32_t comp = plant->ports[port].comp, spool = plant->ports[port].spool;
    const still_comp *c = &plant->comps[comp];
    if (*k == 0) {
        ++*k;
        if (spool != STILL_NONE && !still_opened_whole(targets, spool))
            return still_port_across(plant, port);
    }
    while (*k <= c->b) {
        uint32_t q = c->a + (*k)++ - 1;
        if (q == port) continue;
        if (c->cls == STILL_CLASS_EXCHANGER &&
            still_port_side(plant, q) != still_port_side(plant, port))
            continue;
        return q;
    }
    return STILL_NONE;
}

still_status still_regions_find(uint32_t *region, uint32_t *n, const still_plant *plant,
                                const still_targets *targets)
{
    uint32_t *queue = still_calloc(plant->n_ports, sizeof queue[0]);
    if (queue == NULL) return STILL_E_NOMEM;
    *n = 0;
    for (uint32_t p = 0; p < plant->n_ports; p++) region[p] = 0;
    for (uint32_t p = 0; p < plant->n_ports; p++) {
        if (region[p] != 0 || still_opened_port(plant, targets, p)) continue;
        size_t tail = 0;
        region[p] = ++*n;
        queue[tail++] = p;
        for (size_t head = 0; head < tail; head++) {
            uint32_t k = 0, q;
            while ((q = next_port(plant, targets, queue[head], &k)) != STILL_NONE) {
                if (region[q] != 0 || still_opened_port(plant, targets, q)) continue;
                region[q] = *n;
                queue[tail++] = q;
            }
        }
    }
    still_free(queue);
    return STILL_OK;
}
