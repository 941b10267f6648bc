/* Rooms and cells of a space (E1).
 * Problem: which parts of an isolated section empty together, and which hand devices may be opened
 * early (they only join two parts of the section) or only when pressure is let off (they lead out).
 * Method: flood fill. Cells pass only what stands open. A cell of mere pipework with an outlet
 * leads outward; so does one that hangs by one shut device on the rest and otherwise only on
 * outward cells (leaves taken off one by one; the last cell of a room, with no such device left, is
 * what the outlets serve). A cell with more than pipework and an outlet that may be open is let off
 * by it, but no shut device into it is opened: that would let the rest out before the last point is
 * closed. Rooms pass everything else that can be opened by hand. Why it is right: a device between
 * two cells neither of which leads outward, nor has an outlet that may be open, can't discharge
 * when opened; those into outward cells wait for the release phase. Cost: linear in the space; the
 * leaf pass is repeated at most once a cell. */
#include "space.h"

#include "alloc.h"

still_passage still_passage_of(const still_plant *plant, const still_state *state, uint32_t comp)
{
    const still_comp *c = &plant->comps[comp];
    still_position now = still_position_now(plant, state, comp);
    still_condition condition = still_condition_now(plant, state, comp);
    bool stuck = condition == STILL_CONDITION_SEIZED || condition == STILL_CONDITION_UNREACHABLE;
    bool open = now == STILL_POSITION_OPEN || now == STILL_POSITION_THROTTLED;
    bool by_hand = c->manual_opening == STILL_YESNO_YES && !stuck;
    if (c->cls == STILL_CLASS_BLIND)
        return now == STILL_POSITION_OPEN ? STILL_PASSAGE_JOINS : STILL_PASSAGE_PARTS;
    if (c->cls != STILL_CLASS_VALVE) return STILL_PASSAGE_JOINS;
    if (c->kind == STILL_KIND_RELIEF || c->kind == STILL_KIND_RUPTURE_DISC ||
        c->kind == STILL_KIND_CHECK || c->kind == STILL_KIND_STOP_CHECK ||
        c->kind == STILL_KIND_THREE_WAY || c->kind == STILL_KIND_UNKNOWN || c->kind == 0)
        return STILL_PASSAGE_PARTS;
    if (!still_kind_stops(c->kind)) return by_hand ? STILL_PASSAGE_OVERRIDE : STILL_PASSAGE_PARTS;
    if (!still_by_hand(c)) {
        if (by_hand) return STILL_PASSAGE_OVERRIDE;
        bool stays = c->fails == STILL_FAILS_OPEN || c->fails == STILL_FAILS_STAYS;
        return open && stays ? STILL_PASSAGE_JOINS : STILL_PASSAGE_PARTS;
    }
    if (open) return STILL_PASSAGE_JOINS;
    return stuck ? STILL_PASSAGE_PARTS : STILL_PASSAGE_OPEN_IT;
}

static bool lets_through(const still_space *s, uint32_t comp, still_pass pass)
{
    if (s->shut != NULL && s->shut[comp]) return false;
    switch (still_passage_of(s->plant, s->state, comp)) {
    case STILL_PASSAGE_JOINS: return true;
    case STILL_PASSAGE_OPEN_IT:
    case STILL_PASSAGE_OVERRIDE:
        return pass != STILL_PASS_CELL && (s->barred == NULL || !s->barred[comp]);
    case STILL_PASSAGE_PARTS: break;
    }
    const still_comp *c = &s->plant->comps[comp];
    return pass == STILL_PASS_DRAIN && c->cls == STILL_CLASS_VALVE &&
           c->kind == STILL_KIND_SELF_CLOSING &&
           still_condition_now(s->plant, s->state, comp) == STILL_CONDITION_SOUND;
}

uint32_t still_space_next(const still_space *s, uint32_t port, still_pass pass, uint32_t *k)
{
    const still_plant *plant = s->plant;
    uint32_t comp = plant->ports[port].comp;
    const still_comp *c = &plant->comps[comp];
    if (*k == 0) {
        ++*k;
        uint32_t across = still_port_across(plant, port);
        if (across != STILL_NONE && s->work_port[across]) return across;
    }
    if (c->cls == STILL_CLASS_CAP || c->cls == STILL_CLASS_OUTLET || c->cls == STILL_CLASS_LIMIT)
        return STILL_NONE;
    if (!lets_through(s, comp, pass)) return STILL_NONE;
    while (*k <= c->b) {
        uint32_t q = c->a + (*k)++ - 1;
        if (q == port || !s->work_port[q]) continue;
        if (c->cls == STILL_CLASS_EXCHANGER &&
            still_port_side(plant, q) != still_port_side(plant, port))
            continue;
        return q;
    }
    return STILL_NONE;
}

static uint32_t flood(still_space *s, uint32_t *mark, still_pass pass)
{
    uint32_t count = 0;
    for (uint32_t i = 0; i < s->n_ports; i++) {
        if (mark[s->ports[i]] != 0) continue;
        size_t tail = 0;
        mark[s->ports[i]] = ++count;
        s->queue[tail++] = s->ports[i];
        for (size_t head = 0; head < tail; head++) {
            uint32_t k = 0, q;
            while ((q = still_space_next(s, s->queue[head], pass, &k)) != STILL_NONE) {
                if (mark[q] != 0) continue;
                mark[q] = count;
                s->queue[tail++] = q;
            }
        }
    }
    return count;
}

/* Count for each cell its shut hand devices towards cells that lead outward and others. */
static void count_links(const still_space *s, uint32_t *out_links, uint32_t *in_links)
{
    for (uint32_t i = 0; i < s->n_cells; i++) out_links[i] = in_links[i] = 0;
    for (uint32_t i = 0; i < s->n_ports; i++) {
        uint32_t port = s->ports[i], k = 1, q;
        if (lets_through(s, s->plant->ports[port].comp, STILL_PASS_CELL)) continue;
        /* A self-closing valve leads outward too, though it parts the rooms. */
        while ((q = still_space_next(s, port, STILL_PASS_DRAIN, &k)) != STILL_NONE) {
            uint32_t here = s->cell_of[port] - 1, there = s->cell_of[q] - 1;
            if (here == there) continue;
            if (s->outward[there])
                out_links[here]++;
            else
                in_links[here]++;
        }
    }
}

bool still_space_anchors(const still_space *s, uint32_t comp)
{
    const still_comp *c = &s->plant->comps[comp];
    for (size_t i = 0; i < s->targets->n; i++)
        if (s->targets->items[i].comp == comp) return true;
    if (c->cls == STILL_CLASS_VESSEL || c->cls == STILL_CLASS_EXCHANGER ||
        c->cls == STILL_CLASS_PUMP || c->cls == STILL_CLASS_COMPRESSOR)
        return true;
    if (c->cls != STILL_CLASS_VALVE && c->cls != STILL_CLASS_BLIND) return false;
    /* A self-closing valve is itself on the way to an outlet. */
    if (c->cls == STILL_CLASS_VALVE && c->kind == STILL_KIND_SELF_CLOSING) return false;
    for (uint32_t i = 0; i < c->b; i++)
        if (!s->work_port[c->a + i]) return true;
    return !lets_through(s, comp, STILL_PASS_ROOM);
}

/* What a cell holds: anything but pipework, outlets. */
static void look_into_cells(still_space *s, uint8_t *anchored)
{
    for (uint32_t i = 0; i < s->n_ports; i++) {
        uint32_t comp = s->plant->ports[s->ports[i]].comp, cell = s->cell_of[s->ports[i]] - 1;
        const still_comp *c = &s->plant->comps[comp];
        if (still_space_anchors(s, comp) || still_opened_port(s->plant, s->targets, s->ports[i]))
            anchored[cell] = 1;
        if (c->cls != STILL_CLASS_OUTLET) continue;
        bool capped = c->fitted == STILL_FITTED_CAP || c->fitted == STILL_FITTED_PLUG;
        if (!capped)
            s->outlets[cell] = 2;
        else if (s->outlets[cell] == 0)
            s->outlets[cell] = 1;
    }
}

/* Shut devices into a cell that is more than pipework and may stand open to the outside. */
static void bar_devices(still_space *s, const uint8_t *anchored)
{
    for (uint32_t i = 0; i < s->n_ports; i++) {
        uint32_t comp = s->plant->ports[s->ports[i]].comp, cell = s->cell_of[s->ports[i]] - 1;
        if (!anchored[cell] || s->outlets[cell] != 2) continue;
        still_passage passage = still_passage_of(s->plant, s->state, comp);
        if (passage != STILL_PASSAGE_OPEN_IT && passage != STILL_PASSAGE_OVERRIDE) continue;
        /* A drain valve between it and mere pipework may be opened all the same. */
        bool only_stub = true;
        for (uint32_t k = 0; k < s->plant->comps[comp].b; k++) {
            uint32_t q = s->plant->comps[comp].a + k;
            if (q == s->ports[i] || !s->work_port[q]) continue;
            if (!s->outward[s->cell_of[q] - 1]) only_stub = false;
        }
        if (!only_stub) s->barred[comp] = 1;
    }
}

static still_status mark_outward(still_space *s)
{
    uint32_t *links = still_calloc((size_t)s->n_cells * 2, sizeof links[0]);
    uint8_t *anchored = still_calloc(s->n_cells, 1);
    still_status status = links != NULL && anchored != NULL ? STILL_OK : STILL_E_NOMEM;
    bool changed = status == STILL_OK;
    if (status == STILL_OK) {
        look_into_cells(s, anchored);
        for (uint32_t i = 0; i < s->n_cells; i++)
            s->outward[i] = s->outlets[i] != 0 && !anchored[i];
    }
    while (changed) {
        changed = false;
        count_links(s, links, links + s->n_cells);
        for (uint32_t i = 0; i < s->n_cells; i++) {
            if (s->outward[i] || anchored[i] || links[i] == 0 || links[s->n_cells + i] != 1)
                continue;
            s->outward[i] = 1;
            changed = true;
            break; /* one leaf at a time: its neighbours' counts have changed */
        }
    }
    if (status == STILL_OK) bar_devices(s, anchored);
    still_free(links);
    still_free(anchored);
    return status;
}

still_status still_space_build(still_space *s, const still_plant *plant, const still_state *state,
                               const uint8_t *work_port, const uint8_t *shut,
                               const still_targets *targets)
{
    *s = (still_space){
        .plant = plant, .state = state, .work_port = work_port, .shut = shut, .targets = targets};
    size_t n = plant->n_ports;
    s->ports = still_calloc(n, sizeof s->ports[0]);
    s->room_of = still_calloc(n, sizeof s->room_of[0]);
    s->cell_of = still_calloc(n, sizeof s->cell_of[0]);
    s->queue = still_calloc(n, sizeof s->queue[0]);
    s->parent = still_calloc(n, sizeof s->parent[0]);
    s->stamp = still_calloc(n, sizeof s->stamp[0]);
    if (!s->ports || !s->room_of || !s->cell_of || !s->queue || !s->parent || !s->stamp)
        return STILL_E_NOMEM;
    for (uint32_t i = 0; i < n; i++)
        if (work_port[i]) s->ports[s->n_ports++] = i;
    s->n_cells = flood(s, s->cell_of, STILL_PASS_CELL);
    s->outward = still_calloc(s->n_cells, 1);
    s->outlets = still_calloc(s->n_cells, 1);
    s->barred = still_calloc(plant->n_comps, 1);
    if (!s->outward || !s->outlets || !s->barred) return STILL_E_NOMEM;
    still_status status = mark_outward(s);
    if (status == STILL_OK) s->n_rooms = flood(s, s->room_of, STILL_PASS_ROOM);
    return status;
}

void still_space_clear(still_space *s)
{
    still_free(s->ports);
    still_free(s->room_of);
    still_free(s->cell_of);
    still_free(s->outward);
    still_free(s->outlets);
    still_free(s->barred);
    still_free(s->queue);
    still_free(s->parent);
    still_free(s->stamp);
    *s = (still_space){0};
}
