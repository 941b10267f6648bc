/* Every port of the plant file carries one pipe; what is open gets a limit.
 * Method, part by part: fewer joints than ports: a limit for each that is missing. More: the part
 * is not what its class says, and joins all (a node, never closable). A nozzle or limit with
 * several pipes gets a node before it. A pump has two ports; further ones go over a node.
 * Why it is safe: nothing is parted here that the drawing joins, and nothing closable is added.
 * Cost: linear in parts times joints of the few parts with several. */
#include "dexpi.h"

#include <string.h>

static uint32_t add(still_dx *dx, still_dx_kind kind, const still_dx_item *by, const char *suffix,
                    const char *note)
{
    still_dx_item it = {.kind = kind,
                        .place = by->at != NULL ? by->at : by->place,
                        .cls = "",
                        .raw = "",
                        .note = note,
                        .tag = "",
                        .line_no = "",
                        .number = "",
                        .fails = "",
                        .ports = STILL_DX_ANY,
                        .line = by->line,
                        .owner = STILL_DX_NONE};
    it.id = still_dx_id(dx, still_dx_printf(dx, "%s/%s", by->id, suffix), true);
    return still_dx_add(dx, &it);
}

/* All joints of one part become those of another. */
static void move(still_dx *dx, uint32_t from, uint32_t to)
{
    for (size_t i = 0; i < dx->n_joints; i++) {
        if (dx->joints[i].a == from) dx->joints[i].a = to;
        if (dx->joints[i].b == from) dx->joints[i].b = to;
    }
    dx->items[to].joints += dx->items[from].joints;
    dx->items[from].joints = 0;
}

/* Put a node before a part with one port that has several pipes. */
static void fan_out(still_dx *dx, uint32_t i)
{
    uint32_t node = add(dx, STILL_DX_NODE, &dx->items[i], "joint", "several pipes end at one port");
    if (dx->nomem) return;
    move(dx, i, node);
    still_dx_join(dx, node, "", i, "", STILL_DX_NONE);
}

static void open_port(still_dx *dx, uint32_t i, still_dx_loss loss, const char *note)
{
    uint32_t limit = add(dx, STILL_DX_LIMIT, &dx->items[i], "end", note);
    if (dx->nomem) return;
    still_dx_join(dx, i, "", limit, "", STILL_DX_NONE);
    still_dx_lose(dx, loss, dx->items[i].line, dx->items[i].id, "%s%s%s",
                  still_dx_kind_text(dx->items[i].kind), dx->items[i].cls[0] != '\0' ? ", " : "",
                  dx->items[i].cls);
}

static void close_nozzle(still_dx *dx, uint32_t i)
{
    if (dx->items[i].joints > 1) fan_out(dx, i);
    if (dx->items[i].joints > 0) return;
    if (!dx->items[i].seat) {
        open_port(dx, i, STILL_DX_LOSS_OPEN_NOZZLE, "nozzle without a pipe in the drawing");
        return;
    }
    uint32_t cap = add(dx, STILL_DX_CAP, &dx->items[i], "instrument",
                       "the nozzle of an instrument, closed by it");
    if (!dx->nomem) still_dx_join(dx, i, "", cap, "", STILL_DX_NONE);
}

/* A pump has `in` and `out`; with more connections than that a node takes those behind the first
 * one. */
static void close_pump(still_dx *dx, uint32_t i, size_t n)
{
    uint32_t nozzles = 0, node = STILL_DX_NONE;
    for (size_t k = 0; k < n; k++) nozzles += dx->items[k].owner == i;
    uint32_t all = nozzles + dx->items[i].joints;
    if (all == 0)
        still_dx_lose(dx, STILL_DX_LOSS_NO_NOZZLE, dx->items[i].line, dx->items[i].id, "%s",
                      dx->items[i].cls);
    for (uint32_t k = all; k < 2 && !dx->nomem; k++)
        open_port(dx, i, STILL_DX_LOSS_OPEN_PORT, "port of a pump without a pipe in the drawing");
    if (all <= 2 || dx->nomem) return;
    node = add(dx, STILL_DX_NODE, &dx->items[i], "ports", "further ports of a pump");
    if (dx->nomem) return;
    bool kept = false;
    for (size_t k = 0; k < n; k++) {
        if (dx->items[k].owner != i) continue;
        if (kept) dx->items[k].owner = node;
        kept = true;
    }
    move(dx, i, node);
    still_dx_join(dx, i, "", node, "", STILL_DX_NONE);
    if (!kept) /* no nozzle: the other port has nothing of its own, but the node joins all */
        still_dx_join(dx, i, "", node, "", STILL_DX_NONE);
}

static void close_equipment(still_dx *dx, uint32_t i, size_t n)
{
    still_dx_item *it = &dx->items[i];
    uint32_t nozzles = 0, told = 0;
    for (size_t k = 0; k < n; k++) {
        if (dx->items[k].owner != i) continue;
        nozzles++;
        told += dx->items[k].chamber != NULL;
    }
    if (nozzles + it->joints == 0)
        still_dx_lose(dx, STILL_DX_LOSS_NO_NOZZLE, it->line, it->id, "%s", it->cls);
    if (it->kind != STILL_DX_EXCHANGER) return;
    it->split = nozzles > 0 && told == nozzles && it->joints == 0;
    if (!it->split && nozzles + it->joints > 0)
        still_dx_lose(dx, STILL_DX_LOSS_SIDES, it->line, it->id, "%u of %u nozzles name a chamber",
                      told, nozzles);
}

static void close_part(still_dx *dx, uint32_t i)
{
    still_dx_item *it = &dx->items[i];
    if (it->joints > it->ports) {
        still_dx_lose(dx, STILL_DX_LOSS_JOINTS, it->line, it->id, "%s with %u pipes", it->cls,
                      it->joints);
        if (it->kind == STILL_DX_LIMIT || it->kind == STILL_DX_OUTLET)
            fan_out(dx, i);
        else if (it->kind != STILL_DX_TEE)
            it->kind = STILL_DX_NODE;
        return;
    }
    if (it->kind == STILL_DX_LIMIT || it->kind == STILL_DX_OUTLET) return;
    for (uint32_t k = it->joints; k < dx->items[i].ports && !dx->nomem; k++)
        open_port(dx, i, STILL_DX_LOSS_OPEN_PORT, "port without a pipe in the drawing");
}

/* What is to be known of valves, though nothing is lost. */
static void note_valve(still_dx *dx, still_dx_item *it)
{
    if (it->twice && it->kind == STILL_DX_STOP) it->kind = STILL_DX_VALVE;
    if (it->operated && it->kind <= STILL_DX_BLIND)
        still_dx_lose(dx, STILL_DX_LOSS_OPERATED, it->line, it->id, "%s%s%s", it->cls,
                      it->fails[0] != '\0' ? ", without supply: " : "", it->fails);
}

/* The same for what is known only when all ports are. */
static void note_use(still_dx *dx, const still_dx_item *it)
{
    if (it->kind == STILL_DX_STOP && !it->operated && dx->opts->assume_lockable)
        still_dx_lose(dx, STILL_DX_LOSS_LOCK, it->line, it->id, "%s", it->cls);
    if (it->kind == STILL_DX_CHECK || it->kind == STILL_DX_RELIEF || it->kind == STILL_DX_DISC ||
        it->kind == STILL_DX_PUMP)
        still_dx_lose(dx, STILL_DX_LOSS_DIRECTION, it->line, it->id, "%s", it->cls);
}

void still_dx_close(still_dx *dx)
{
    size_t n = dx->n_items;
    for (size_t i = 0; i < n && !dx->nomem; i++) note_valve(dx, &dx->items[i]);
    for (size_t i = 0; i < n && !dx->nomem; i++) {
        still_dx_item *it = &dx->items[i];
        if (it->kind == STILL_DX_NOZZLE)
            close_nozzle(dx, (uint32_t)i);
        else if (it->kind == STILL_DX_PUMP)
            close_pump(dx, (uint32_t)i, n);
        else if (it->kind == STILL_DX_INSTRUMENT || it->kind == STILL_DX_BRANCH)
            continue;
        else if (it->ports == STILL_DX_ANY)
            close_equipment(dx, (uint32_t)i, n);
        else
            close_part(dx, (uint32_t)i);
    }
    for (size_t i = 0; i < n && !dx->nomem; i++) note_use(dx, &dx->items[i]);
}
