/* The plant file of a drawing: ports, elements, spools. Cost: linear in parts and joints, but for
 * the nozzles of each equipment, which are looked for in all parts. */
#include "dexpi.h"

#include "utf8.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

static void text(still_buf *out, const char *s)
{
    for (size_t left = strlen(s); left > 0;) {
        uint32_t c = 0;
        size_t n = still_utf8_next(s, left, &c);
        if (c == '&')
            still_buf_add(out, "&amp;");
        else if (c == '<')
            still_buf_add(out, "&lt;");
        else if (c == '"')
            still_buf_add(out, "&quot;");
        else if (c == '\n' || c == '\t' || c == '\r')
            still_buf_char(out, ' ');
        else if (still_utf8_control(c))
            still_buf_char(out, '?');
        else
            still_buf_addn(out, s, n);
        s += n;
        left -= n;
    }
}

static void attribute(still_buf *out, const char *name, const char *value)
{
    if (value == NULL || value[0] == '\0') return;
    still_buf_printf(out, " %s=\"", name);
    text(out, value);
    still_buf_char(out, '"');
}

static bool two_sided(still_dx_kind kind)
{
    return kind == STILL_DX_STOP || kind == STILL_DX_VALVE || kind == STILL_DX_CHECK ||
           kind == STILL_DX_CONTROL || kind == STILL_DX_RELIEF || kind == STILL_DX_DISC ||
           kind == STILL_DX_BLIND || kind == STILL_DX_PUMP;
}

/* Take one of a few named ports: the wished one if it is free, else the first free one. */
static const char *take(uint32_t *taken, const char *const *names, unsigned n, unsigned wish)
{
    if (wish >= n || (*taken >> wish & 1) != 0)
        for (wish = 0; wish + 1 < n && (*taken >> wish & 1) != 0;) wish++;
    *taken |= UINT32_C(1) << wish;
    return names[wish];
}

static const char *port_of(still_dx *dx, uint32_t *taken, uint32_t item, const char *node,
                           bool arrives)
{
    static const char *const sides[] = {"in", "out"}, *const ways[] = {"a", "b", "c"};
    const still_dx_item *it = &dx->items[item];
    if (it->kind == STILL_DX_NOZZLE) {
        uint32_t owner = it->owner;
        const char *port = dx->items[owner].kind == STILL_DX_PUMP
                               ? take(&taken[owner], sides, 2, arrives ? 0 : 1)
                               : it->id;
        return still_dx_printf(dx, "%s.%s", dx->items[owner].id, port);
    }
    const char *port = "in";
    if (two_sided(it->kind))
        port = take(&taken[item], sides, 2, arrives ? 0 : 1);
    else if (it->kind == STILL_DX_THREE_WAY)
        port = take(&taken[item], ways, 3, (unsigned)strtoul(node, NULL, 10) - 1u);
    else if (it->kind != STILL_DX_CAP && it->kind != STILL_DX_LIMIT &&
             it->kind != STILL_DX_OUTLET && !(it->kind == STILL_DX_INSTRUMENT && it->joints < 2))
        port = still_dx_printf(dx, "p%u", ++taken[item]);
    return still_dx_printf(dx, "%s.%s", it->id, port);
}

static void name_joints(still_dx *dx)
{
    uint32_t *taken = STILL_ARENA_NEW(dx->arena, dx->n_items, uint32_t);
    uint32_t *of_segment = STILL_ARENA_NEW(dx->arena, dx->n_segments, uint32_t);
    if (taken == NULL || of_segment == NULL) {
        dx->nomem = true;
        return;
    }
    for (size_t i = 0; i < dx->n_joints && !dx->nomem; i++) {
        still_dx_joint *j = &dx->joints[i];
        j->pa = port_of(dx, taken, j->a, j->node_a, false);
        j->pb = port_of(dx, taken, j->b, j->node_b, true);
        if (j->segment == STILL_DX_NONE) {
            uint32_t added = dx->items[j->b].at == NULL ? j->b : j->a;
            j->id = still_dx_id(dx, still_dx_printf(dx, "%s/pipe", dx->items[added].id), true);
            continue;
        }
        const still_dx_segment *s = &dx->segments[j->segment];
        j->id = s->n_joints == 1
                    ? s->id
                    : still_dx_id(dx, still_dx_printf(dx, "%s/%u", s->id, ++of_segment[j->segment]),
                                  true);
    }
}

bool still_dx_place(const still_dx_item *it, double at[2])
{
    const still_xml *of = it->at != NULL ? it->at : it->place, *l = NULL;
    if (of == NULL) return false;
    for (const still_xml *p = of->first; p != NULL && l == NULL; p = p->next)
        for (l = still_xml_is(p, "Position") ? p->first : NULL; l != NULL; l = l->next)
            if (still_xml_is(l, "Location")) break;
    if (l == NULL) return false;
    static const char *const names[] = {"X", "Y"};
    for (int k = 0; k < 2; k++) {
        const char *value = still_xml_get(l, names[k]);
        char *end = NULL;
        at[k] = strtod(value, &end);
        if (end == value || *end != '\0' || !(at[k] > -1e12 && at[k] < 1e12)) return false;
    }
    return true;
}

static void words(still_buf *out, still_dx *dx, const still_dx_item *it)
{
    const char *name = it->tag;
    if (name[0] == '\0' && it->line_no[0] != '\0' && it->number[0] != '\0')
        name = still_dx_printf(dx, "%s %s", it->line_no, it->number);
    double at[2];
    if (still_dx_place(it, at))
        attribute(out, "sheet", still_dx_printf(dx, "%.9g %.9g", at[0], at[1]));
    attribute(out, "name", name);
    attribute(out, "note", it->note[0] != '\0' ? it->note : it->cls);
}

static void valve(still_buf *out, still_dx *dx, uint32_t item)
{
    const still_dx_item *it = &dx->items[item];
    static const char *const plain[STILL_DX_KIND_COUNT] = {
        [STILL_DX_THREE_WAY] = "three-way", [STILL_DX_VALVE] = "unknown",
        [STILL_DX_CHECK] = "check",         [STILL_DX_CONTROL] = "control",
        [STILL_DX_RELIEF] = "relief",       [STILL_DX_DISC] = "rupture-disc"};
    bool hand = it->kind == STILL_DX_STOP && !it->operated;
    const char *kind = it->kind == STILL_DX_STOP ? it->stop : plain[it->kind];
    if (it->kind == STILL_DX_STOP && it->operated) kind = "control";
    still_buf_add(out, "  <valve");
    attribute(out, "id", it->id);
    attribute(out, "kind", kind);
    if (hand && dx->opts->assume_lockable) attribute(out, "lockable", "assumed");
    if (!hand && it->operated) attribute(out, "fails", it->fails);
    if (it->kind == STILL_DX_RELIEF) attribute(out, "set-pressure", still_dx_set(dx, item));
    words(out, dx, it);
    still_buf_add(out, "/>\n");
}

/* A volume, where its unit is known. */
static const char *volume_of(still_dx *dx, const still_dx_item *it)
{
    static const char *const units[] = {"MetreCubed", "m3", "m\xC2\xB3", "m^3"};
    if (it->at == NULL) return "";
    const still_xml *v = still_xml_generic_at(it->at, NULL, "NominalCapacity(Volume)");
    if (v == NULL) return "";
    const char *number = still_xml_get(v, "Value");
    char *end = NULL;
    double x = strtod(number, &end);
    bool known = false;
    for (size_t i = 0; i < sizeof units / sizeof units[0]; i++)
        known = known || strcmp(still_xml_get(v, "Units"), units[i]) == 0;
    if (known && end != number && *end == '\0' && isfinite(x) && x > 0 && x < 1e9)
        return still_dx_printf(dx, "%.9g m3", x);
    still_dx_lose(dx, STILL_DX_LOSS_VALUE, v->line, it->id, "volume \"%s\" \"%s\"", number,
                  still_xml_get(v, "Units"));
    return "";
}

/* The ports of an equipment: its nozzles, and pipes that end on it directly. */
static void ports(still_buf *out, const still_dx *dx, uint32_t item, const char *chamber)
{
    for (size_t i = 0; i < dx->n_items; i++)
        if (dx->items[i].owner == item &&
            (chamber == NULL || strcmp(dx->items[i].chamber, chamber) == 0))
            still_buf_printf(out, "    <port id=\"%s\"/>\n", dx->items[i].id);
    for (uint32_t k = 1; k <= dx->items[item].joints; k++)
        still_buf_printf(out, "    <port id=\"p%u\"/>\n", k);
}

static void exchanger(still_buf *out, still_dx *dx, uint32_t item)
{
    const still_dx_item *it = &dx->items[item];
    still_buf_add(out, "  <exchanger");
    attribute(out, "id", it->id);
    attribute(out, "kind", it->cls);
    words(out, dx, it);
    still_buf_add(out, ">\n");
    if (!it->split) {
        still_buf_add(out, "   <side id=\"all\"");
        attribute(out, "design-pressure", still_dx_design(dx, it->at));
        still_buf_add(out, ">\n");
        ports(out, dx, item, NULL);
        still_buf_add(out, "   </side>\n");
    }
    for (size_t i = 0; i < dx->n_items && it->split; i++) {
        bool first = dx->items[i].owner == item;
        for (size_t k = 0; k < i && first; k++)
            first = dx->items[k].owner != item ||
                    strcmp(dx->items[k].chamber, dx->items[i].chamber) != 0;
        if (!first) continue;
        still_buf_add(out, "   <side");
        attribute(out, "id", still_dx_id(dx, dx->items[i].chamber, true));
        attribute(out, "design-pressure", still_dx_design(dx, still_dx_chamber(dx, &dx->items[i])));
        still_buf_add(out, ">\n");
        ports(out, dx, item, dx->items[i].chamber);
        still_buf_add(out, "   </side>\n");
    }
    still_buf_add(out, "  </exchanger>\n");
}

static void simple(still_buf *out, still_dx *dx, const still_dx_item *it, const char *element,
                   const char *kind)
{
    still_buf_printf(out, "  <%s", element);
    attribute(out, "id", it->id);
    attribute(out, "kind", kind);
    if (it->kind == STILL_DX_BLIND) attribute(out, "position", "unknown");
    if (it->kind == STILL_DX_PUMP) attribute(out, "design-pressure", still_dx_design(dx, it->at));
    words(out, dx, it);
    still_buf_add(out, "/>\n");
}

static void vessel(still_buf *out, still_dx *dx, uint32_t item)
{
    const still_dx_item *it = &dx->items[item];
    still_buf_add(out, "  <vessel");
    attribute(out, "id", it->id);
    attribute(out, "kind", it->cls);
    attribute(out, "volume", volume_of(dx, it));
    attribute(out, "design-pressure", still_dx_design(dx, it->at));
    words(out, dx, it);
    still_buf_add(out, ">\n");
    ports(out, dx, item, NULL);
    still_buf_add(out, "  </vessel>\n");
}

static void element(still_buf *out, still_dx *dx, uint32_t item)
{
    const still_dx_item *it = &dx->items[item];
    switch (it->kind) {
    case STILL_DX_STOP:
    case STILL_DX_THREE_WAY:
    case STILL_DX_VALVE:
    case STILL_DX_CHECK:
    case STILL_DX_CONTROL:
    case STILL_DX_RELIEF:
    case STILL_DX_DISC: valve(out, dx, item); break;
    case STILL_DX_BLIND: simple(out, dx, it, "blind", "spectacle"); break;
    case STILL_DX_CAP: simple(out, dx, it, "cap", it->at != NULL ? "blind-flange" : "plug"); break;
    case STILL_DX_REDUCER: simple(out, dx, it, "fitting", "reducer"); break;
    case STILL_DX_TEE: simple(out, dx, it, "fitting", "tee"); break;
    case STILL_DX_STRAINER: simple(out, dx, it, "fitting", "strainer"); break;
    case STILL_DX_METER: simple(out, dx, it, "fitting", "meter"); break;
    case STILL_DX_NODE:
    case STILL_DX_MARK:
    case STILL_DX_HEATER:
    case STILL_DX_OTHER:
    case STILL_DX_BRANCH: simple(out, dx, it, "fitting", "node"); break;
    case STILL_DX_OUTLET:
    case STILL_DX_LIMIT: simple(out, dx, it, "limit", NULL); break;
    case STILL_DX_PUMP:
        simple(out, dx, it, strstr(it->cls, "ompressor") != NULL ? "compressor" : "pump", NULL);
        break;
    case STILL_DX_VESSEL:
    case STILL_DX_EQUIPMENT: vessel(out, dx, item); break;
    case STILL_DX_EXCHANGER: exchanger(out, dx, item); break;
    case STILL_DX_INSTRUMENT:
        if (it->joints == 1) simple(out, dx, it, "cap", "plug");
        if (it->joints > 1) simple(out, dx, it, "fitting", "node");
        break;
    case STILL_DX_NOZZLE:
    case STILL_DX_KIND_COUNT: break;
    }
}

static const char *plant_id(still_dx *dx)
{
    for (const still_xml *e = dx->root->first; e != NULL; e = e->next) {
        const char *number = still_xml_generic(e, NULL, "DrawingNumberAssignmentClass");
        if (still_xml_is(e, "MetaData") && number[0] != '\0') return number;
    }
    return "drawing";
}

void still_dx_write(still_buf *out, still_dx *dx)
{
    name_joints(dx);
    still_buf_add(out, "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n"
                       "<plant xmlns=\"urn:stillset:plant:1\"");
    attribute(out, "id", still_dx_id(dx, plant_id(dx), true));
    still_buf_add(out, ">\n");
    for (size_t i = 0; i + 1 < dx->n_services && !dx->nomem; i += 2) {
        still_buf_add(out, "  <service");
        attribute(out, "id", dx->services[i + 1]);
        attribute(out, "note", "fluid code of the drawing; substance not said");
        still_buf_add(out, "/>\n");
    }
    for (size_t i = 0; i < dx->n_items && !dx->nomem; i++) element(out, dx, (uint32_t)i);
    for (size_t i = 0; i < dx->n_joints && !dx->nomem; i++) {
        const still_dx_joint *j = &dx->joints[i];
        still_buf_add(out, "  <spool");
        attribute(out, "id", j->id);
        attribute(out, "from", j->pa);
        attribute(out, "to", j->pb);
        if (j->segment != STILL_DX_NONE) {
            attribute(out, "bore", dx->segments[j->segment].bore);
            attribute(out, "service", dx->segments[j->segment].service);
        }
        still_buf_add(out, "/>\n");
    }
    still_buf_add(out, "</plant>\n");
    if (out->failed) dx->nomem = true;
}
