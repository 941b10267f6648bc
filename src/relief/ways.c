/* Ways out (L2).
 * Which devices lead on from a piece: an open device both ways, a check valve forward, a three-way
 * valve from its common port; and relief valves, which cover what stands at their inlet. */
#include "ways.h"

#include "alloc.h"

#include <string.h>

static bool add(still_ways *ways, uint32_t from, uint32_t to, uint32_t comp, still_way_kind kind)
{
    if (from == to && kind == STILL_WAY_FREE) return true;
    if (!still_grow(&ways->items, &ways->cap, ways->n + 1, sizeof ways->items[0])) return false;
    ways->items[ways->n++] = (still_way){from, to, comp, kind};
    return true;
}

unsigned still_three_way_ports(const still_plant *plant, uint32_t comp, uint32_t *common,
                               uint32_t others[2])
{
    const char *text = still_comp_t(plant, comp, STILL_T_POSITIONS);
    unsigned all = 7, any = 0, n = 0;
    if (text[0] == '\0' || plant->comps[comp].b != 3) return 0;
    for (unsigned named = 0;; text++) {
        if (*text >= 'a' && *text <= 'c') named |= 1u << (*text - 'a');
        if (*text != ' ' && *text != ',' && *text != '\0') continue;
        if (named != 0) {
            all &= named;
            any |= named;
            named = 0;
        }
        if (*text == '\0') break;
    }
    if (all != 1 && all != 2 && all != 4) return 0;
    for (uint32_t k = 0; k < 3; k++) {
        if (all == 1u << k)
            *common = plant->comps[comp].a + k;
        else if (any & (1u << k))
            others[n++] = plant->comps[comp].a + k;
    }
    return n;
}

static bool add_three_way(still_ways *ways, const still_relief *r, uint32_t comp)
{
    uint32_t common, others[2];
    unsigned n = still_three_way_ports(r->plant, comp, &common, others);
    for (unsigned i = 0; i < n; i++)
        if (!add(ways, r->piece_of_port[common], r->piece_of_port[others[i]], comp, STILL_WAY_TRI))
            return false;
    return true;
}

/* A check valve, or a stop-check that is not screwed down, passes forward if it is sound. */
static bool passes_forward(const still_relief *r, uint32_t comp)
{
    const still_comp *c = &r->plant->comps[comp];
    if (still_condition_now(r->plant, r->state, comp) != STILL_CONDITION_SOUND) return false;
    if (c->kind == STILL_KIND_CHECK) return true;
    if (c->kind != STILL_KIND_STOP_CHECK || !still_by_hand(c)) return false;
    if (r->held != NULL && r->held[comp] == STILL_HELD_CLOSED) return false;
    return still_relief_stands_open(r, comp);
}

static bool add_device(still_ways *ways, const still_relief *r, uint32_t comp)
{
    const still_comp *c = &r->plant->comps[comp];
    if (c->cls != STILL_CLASS_VALVE && c->cls != STILL_CLASS_BLIND) return true;
    if (c->kind == STILL_KIND_THREE_WAY) return add_three_way(ways, r, comp);
    uint32_t in = r->piece_of_port[c->a], out = r->piece_of_port[c->a + 1];
    if (still_relieves(c)) return add(ways, in, out, comp, STILL_WAY_RELIEF);
    if (still_relief_open(r, comp))
        return add(ways, in, out, comp, STILL_WAY_FREE) && add(ways, out, in, comp, STILL_WAY_FREE);
    if (c->cls == STILL_CLASS_VALVE && passes_forward(r, comp))
        return add(ways, in, out, comp, STILL_WAY_FREE);
    return true;
}

still_status still_ways_build(still_ways *ways, const still_relief *r)
{
    *ways = (still_ways){0};
    for (uint32_t c = 0; c < r->plant->n_comps; c++)
        if (!add_device(ways, r, c)) return STILL_E_NOMEM;
    ways->at0 = still_calloc((size_t)r->n_pieces + 1, sizeof ways->at0[0]);
    ways->at = still_calloc(ways->n, sizeof ways->at[0]);
    if (ways->at0 == NULL || ways->at == NULL) return STILL_E_NOMEM;
    for (size_t i = 0; i < ways->n; i++) ways->at0[ways->items[i].to]++;
    uint32_t sum = 0;
    for (uint32_t p = 0; p <= r->n_pieces; p++) {
        sum += ways->at0[p];
        ways->at0[p] = sum;
    }
    for (size_t i = ways->n; i-- > 0;) ways->at[--ways->at0[ways->items[i].to]] = (uint32_t)i;
    return STILL_OK;
}

void still_ways_clear(still_ways *ways)
{
    still_free(ways->items);
    still_free(ways->at0);
    still_free(ways->at);
    *ways = (still_ways){0};
}
