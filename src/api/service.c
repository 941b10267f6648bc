/* What kept equipment is supplied from, and delivers to.
 * Problem: a plan must not take it away (docs/METHOD.md, 3.9).
 * Method: from each port a walk against the flow and one with it, today and with the points closed;
 * each twice, with unknown positions shut and open. Why it is right: shutting only takes ways away,
 * so what is reached after is a part of what is reached today, and numbers tell whether it is all
 * of it. Cost: eight walks a port over what is joined to it. */
#include "service.h"

#include "alloc.h"
#include "isolation.h"
#include "state.h"

#include <string.h>

typedef struct walking {
    still_in_service *s;
    const uint8_t *shut, *stopped; /* NULL: as today */
    bool with_flow;                /* else against it */
    bool generous;                 /* unknown positions pass */
    uint8_t mark;
    uint32_t own; /* the kept component: not passed itself */
} walking;

typedef struct reach {
    uint32_t ports, ends;
} reach;

enum { END_TODAY = 1, END_AFTER = 2 };

static bool known(const walking *w, still_position now)
{
    return now == STILL_POSITION_OPEN || now == STILL_POSITION_THROTTLED ||
           (now == STILL_POSITION_UNKNOWN && w->generous);
}

/* From `in` to `out`; without ports of these names the direction is unknown. */
static bool forward(const walking *w, uint32_t comp, uint32_t from, uint32_t to)
{
    uint32_t in = still_comp_port(w->s->plant, comp, "in");
    uint32_t out = still_comp_port(w->s->plant, comp, "out");
    if (in == STILL_NONE || out == STILL_NONE) return w->generous;
    return from == in && to == out;
}

/* The ports that a three-way valve joins as it stands, such as "a-c". */
static bool three_way_joins(const walking *w, uint32_t comp, uint32_t from, uint32_t to)
{
    const still_plant *plant = w->s->plant;
    const char *text = still_way_now(plant, w->s->state, comp);
    const uint32_t ends[] = {from, to};
    if (text[0] == '\0') return w->generous;
    for (int k = 0; k < 2; k++) {
        const char *name = still_text(plant, still_port_name(plant, ends[k]));
        if (name[0] == '\0' || name[1] != '\0' || strchr(text, name[0]) == NULL) return false;
    }
    return true;
}

static bool valve_passes(const walking *w, uint32_t comp, uint32_t from, uint32_t to)
{
    const still_plant *plant = w->s->plant;
    const still_comp *c = &plant->comps[comp];
    still_position now = still_position_now(plant, w->s->state, comp);
    switch (c->kind) {
    case STILL_KIND_RELIEF:
    case STILL_KIND_RUPTURE_DISC:
    case STILL_KIND_SELF_CLOSING: return false;
    case STILL_KIND_CHECK:
    case STILL_KIND_CONTROL:
    case STILL_KIND_EXPANSION:
    case STILL_KIND_REGULATOR:
    case STILL_KIND_SOLENOID:
    case STILL_KIND_FLOAT:
    case STILL_KIND_EXCESS_FLOW: return forward(w, comp, from, to);
    case STILL_KIND_STOP_CHECK: return known(w, now) && forward(w, comp, from, to);
    case STILL_KIND_THREE_WAY: return three_way_joins(w, comp, from, to);
    default: break;
    }
    return still_kind_stops(c->kind) ? known(w, now) : w->generous;
}

/* Fluid may go from one port of a component to another. */
static bool passes(const walking *w, uint32_t comp, uint32_t from, uint32_t to)
{
    const still_plant *plant = w->s->plant;
    const still_comp *c = &plant->comps[comp];
    if (comp == w->own || (w->shut != NULL && w->shut[comp])) return false;
    bool stopped = w->stopped != NULL && w->stopped[comp];
    switch ((still_class)c->cls) {
    case STILL_CLASS_VALVE: return !stopped && valve_passes(w, comp, from, to);
    case STILL_CLASS_BLIND: return known(w, still_position_now(plant, w->s->state, comp));
    case STILL_CLASS_PUMP:
    case STILL_CLASS_COMPRESSOR: return !stopped && forward(w, comp, from, to);
    case STILL_CLASS_EXCHANGER: return still_port_side(plant, from) == still_port_side(plant, to);
    case STILL_CLASS_FITTING:
    case STILL_CLASS_VESSEL: return true;
    case STILL_CLASS_LIMIT:
    case STILL_CLASS_OUTLET:
    case STILL_CLASS_CAP:
    case STILL_CLASS_SPOOL:
    case STILL_CLASS_NOT_SAID:
    case STILL_CLASS_COUNT: break;
    }
    return false;
}

/* Where a way ends: a vessel that holds something, a limit. */
static bool is_end(const still_in_service *s, uint32_t comp)
{
    const still_comp *c = &s->plant->comps[comp];
    if (c->cls == STILL_CLASS_VESSEL)
        return still_contents_now(s->plant, s->state, comp) != STILL_CONTENTS_NONE;
    return c->cls == STILL_CLASS_LIMIT && c->dead != STILL_YESNO_YES;
}

static void over_spool(const walking *w, uint32_t port, uint32_t *tail)
{
    still_in_service *s = w->s;
    uint32_t spool = s->plant->ports[port].spool;
    if (spool == STILL_NONE || (w->shut != NULL && w->shut[spool])) return;
    uint32_t across = still_port_across(s->plant, port);
    if (s->met[across] == s->walk) return;
    s->met[across] = s->walk;
    s->queue[(*tail)++] = across;
}

/* Ports met are those at which a way comes in from the side of the kept component. */
static reach walk(const walking *w, uint32_t start)
{
    still_in_service *s = w->s;
    reach r = {0, 0};
    uint32_t tail = 0;
    s->walk++;
    over_spool(w, start, &tail);
    for (uint32_t head = 0; head < tail; head++) {
        uint32_t port = s->queue[head], comp = s->plant->ports[port].comp;
        const still_comp *c = &s->plant->comps[comp];
        r.ports++;
        if (comp != w->own && is_end(s, comp)) {
            if (s->waived[comp]) continue;
            if ((s->ends[comp] & w->mark) == 0) r.ends++;
            s->ends[comp] |= w->mark;
            continue;
        }
        for (uint32_t k = 0; k < c->b; k++) {
            uint32_t other = c->a + k;
            if (other == port) continue;
            if (w->with_flow ? passes(w, comp, port, other) : passes(w, comp, other, port))
                over_spool(w, other, &tail);
        }
    }
    return r;
}

/* Walk again, and take the marks off. @return an end that was met today and not after */
static uint32_t clear_marks(walking w, uint32_t start)
{
    still_in_service *s = w.s;
    uint32_t gone = STILL_NONE;
    w.shut = w.stopped = NULL;
    w.mark = 0;
    uint32_t n = walk(&w, start).ports;
    for (uint32_t i = 0; i < n; i++) {
        uint32_t comp = s->plant->ports[s->queue[i]].comp;
        if (s->ends[comp] == END_TODAY && gone == STILL_NONE) gone = comp;
        s->ends[comp] = 0;
    }
    return gone;
}

/* One port, one direction. */
static bool loses(walking w, uint32_t port, still_service_loss *loss)
{
    reach today[2], after[2];
    const uint8_t *shut = w.shut, *stopped = w.stopped;
    uint32_t gone[2];
    for (int k = 0; k < 2; k++) {
        w.generous = k == 1;
        w.shut = w.stopped = NULL;
        w.mark = END_TODAY;
        today[k] = walk(&w, port);
        w.shut = shut;
        w.stopped = stopped;
        w.mark = END_AFTER;
        after[k] = walk(&w, port);
        gone[k] = clear_marks(w, port);
    }
    bool unsure = today[0].ends != today[1].ends;
    bool less = after[0].ends < today[0].ends || after[1].ends < today[1].ends;
    if (!less && !(unsure && after[1].ports < today[1].ports)) return false;
    loss->port = port;
    loss->delivers = w.with_flow;
    loss->end = gone[0] != STILL_NONE ? gone[0] : gone[1];
    loss->unknown = loss->end == STILL_NONE;
    return true;
}

/* A machine takes in at `in` and delivers at `out`. */
static bool wrong_way(const still_plant *plant, uint32_t comp, uint32_t port, bool with_flow)
{
    uint8_t cls = plant->comps[comp].cls;
    if (cls != STILL_CLASS_PUMP && cls != STILL_CLASS_COMPRESSOR) return false;
    return port == still_comp_port(plant, comp, with_flow ? "in" : "out");
}

bool still_service_lost(still_in_service *s, const uint8_t *shut, const uint8_t *stopped,
                        uint32_t which, still_service_loss *loss)
{
    *loss = (still_service_loss){.kept = STILL_NONE, .port = STILL_NONE, .end = STILL_NONE};
    for (size_t i = 0; i < s->n_kept; i++) {
        const still_comp *c = &s->plant->comps[s->kept[i]];
        if (which != STILL_NONE && s->kept[i] != which) continue;
        for (uint32_t k = 0; k < c->b; k++)
            for (int with_flow = 0; with_flow < 2; with_flow++) {
                if (wrong_way(s->plant, s->kept[i], c->a + k, with_flow == 1)) continue;
                const walking w = {.s = s,
                                   .shut = shut,
                                   .stopped = stopped,
                                   .with_flow = with_flow == 1,
                                   .own = s->kept[i]};
                if (!loses(w, c->a + k, loss)) continue;
                loss->kept = s->kept[i];
                return true;
            }
    }
    return false;
}

bool still_feed_stays_on(const still_in_service *s, uint32_t feed)
{
    uint32_t isolator = still_isolator_feed(s->plant, feed);
    for (size_t i = 0; i < s->n_kept; i++) {
        size_t n;
        const still_comp_feed *feeds = still_comp_feeds(s->plant, s->kept[i], &n);
        for (size_t k = 0; k < n; k++)
            if (still_isolator_feed(s->plant, feeds[k].feed) == isolator) return true;
    }
    return false;
}

static void mark_stays(still_in_service *s)
{
    for (uint32_t i = 0; i < s->plant->n_comps; i++) {
        size_t n;
        const still_comp_feed *feeds = still_comp_feeds(s->plant, i, &n);
        for (size_t k = 0; k < n && !s->stays[i]; k++)
            s->stays[i] = still_feed_stays_on(s, feeds[k].feed);
    }
    for (size_t i = 0; i < s->n_kept; i++) s->stays[s->kept[i]] = 1;
}

still_status still_in_service_init(still_in_service *s, const still_plant *plant,
                                   const still_state *state, const uint32_t *kept, size_t n_kept)
{
    size_t ports = (size_t)plant->n_ports + 1, comps = (size_t)plant->n_comps + 1;
    *s = (still_in_service){.plant = plant, .state = state, .kept = kept, .n_kept = n_kept};
    if (n_kept == 0) return STILL_OK;
    s->stays = still_calloc(comps, 1);
    s->ends = still_calloc(comps, 1);
    s->waived = still_calloc(comps, 1);
    s->met = still_calloc(ports, sizeof s->met[0]);
    s->queue = still_calloc(ports, sizeof s->queue[0]);
    if (!s->stays || !s->waived || !s->ends || !s->met || !s->queue) return STILL_E_NOMEM;
    mark_stays(s);
    return STILL_OK;
}

void still_in_service_clear(still_in_service *s)
{
    still_free(s->stays);
    still_free(s->waived);
    still_free(s->ends);
    still_free(s->met);
    still_free(s->queue);
    *s = (still_in_service){0};
}
