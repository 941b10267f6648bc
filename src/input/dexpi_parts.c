/* The parts of a drawing: equipment, nozzles, what stands in segments, instruments.
 * Method: one walk that notes every id, one that makes items, one for drives and signals. A chain
 * holds the children of a segment in the order of the file; what is neither known decoration nor a
 * known part, but has an id, is taken for an unknown part. Cost: linear. */
#include "dexpi.h"

#include "alloc.h"
#include "pipesize.h"

#include <string.h>

static bool one_of(const char *s, const char *const *list, size_t n)
{
    for (size_t i = 0; i < n; i++)
        if (strcmp(s, list[i]) == 0) return true;
    return false;
}
#define ONE_OF(s, list) one_of(s, list, sizeof(list) / sizeof(list)[0])

static const char *const chain_items[] = {"PipingComponent",
                                          "PipeOffPageConnector",
                                          "PipeConnectorSymbol",
                                          "PropertyBreak",
                                          "InlinePrimaryElement",
                                          "ProcessInstrument",
                                          "Component",
                                          "Nozzle",
                                          "Equipment"};
static const char *const decoration[] = {"Connection",
                                         "GenericAttributes",
                                         "Association",
                                         "PipeFlowArrow",
                                         "PipeSlopeSymbol",
                                         "InsulationSymbol",
                                         "ConnectionPoints",
                                         "Position",
                                         "PersistentID",
                                         "InformationFlow",
                                         "SignalLine",
                                         "InstrConn",
                                         "NominalDiameter",
                                         "InsideDiameter",
                                         "OutsideDiameter",
                                         "OperatorType",
                                         "Description",
                                         "Component",
                                         "MinimumDesignPressure",
                                         "MaximumDesignPressure"};

static uint32_t raw_of(const still_dx *dx, const char *raw)
{
    still_name name;
    if (raw[0] == '\0' || !still_names_find(&dx->raws, raw, strlen(raw), &name) ||
        name.v >= dx->n_raw)
        return STILL_DX_NONE;
    return name.v;
}

uint32_t still_dx_find(const still_dx *dx, const char *raw)
{
    still_name name;
    if (raw[0] == '\0' || !still_names_find(&dx->raws, raw, strlen(raw), &name) ||
        name.v >= dx->n_raw)
        return STILL_DX_NONE;
    return dx->item_of[name.v];
}

/* Note an id of an element. */
static void note_id(still_dx *dx, const still_xml *e)
{
    const char *raw = still_xml_get(e, "ID");
    still_name name;
    if (raw[0] == '\0') return;
    if (!still_names_add(&dx->raws, raw, strlen(raw), &name) ||
        !still_grow(&dx->item_of, &dx->cap_raw[0], name.v + 1u, sizeof *dx->item_of) ||
        !still_grow(&dx->segment_of, &dx->cap_raw[1], name.v + 1u, sizeof *dx->segment_of) ||
        !still_grow(&dx->element_of, &dx->cap_raw[2], name.v + 1u, sizeof *dx->element_of) ||
        !still_grow(&dx->twice, &dx->cap_raw[3], name.v + 1u, sizeof *dx->twice)) {
        dx->nomem = true;
        return;
    }
    for (; dx->n_raw <= name.v; dx->n_raw++) {
        dx->item_of[dx->n_raw] = dx->segment_of[dx->n_raw] = STILL_DX_NONE;
        dx->element_of[dx->n_raw] = NULL;
        dx->twice[dx->n_raw] = 0;
    }
    if (dx->element_of[name.v] == NULL)
        dx->element_of[name.v] = e;
    else
        dx->twice[name.v] = 1;
}

static const char *first_of(const still_xml *e, const char *const *names, size_t n)
{
    for (size_t i = 0; i < n; i++) {
        const char *value = still_xml_generic(e, NULL, names[i]);
        if (value[0] == '\0') value = still_xml_get(e, names[i]);
        if (value[0] != '\0') return value;
    }
    return "";
}

static const still_xml *around(const still_xml *e, const char *name, bool outermost)
{
    const still_xml *found = NULL;
    for (e = e->parent; e != NULL; e = e->parent) {
        if (!still_xml_is(e, name)) continue;
        found = e;
        if (!outermost) break;
    }
    return found;
}

/* How many process nodes; is the first a centre, without a type? */
static uint32_t process_nodes(const still_xml *e, bool *centre)
{
    uint32_t n = 0;
    *centre = false;
    for (const still_xml *c = e->first; c != NULL; c = c->next) {
        if (!still_xml_is(c, "ConnectionPoints")) continue;
        bool first = true;
        for (const still_xml *node = c->first; node != NULL; node = node->next) {
            if (!still_xml_is(node, "Node")) continue;
            const char *type = still_xml_get(node, "Type");
            if (first && type[0] == '\0') *centre = true;
            if (strcmp(type, "process") == 0) n++;
            first = false;
        }
    }
    return n;
}

static void ports_of(still_dx_item *it)
{
    bool centre = false;
    uint32_t nodes = process_nodes(it->at, &centre);
    if (it->kind == STILL_DX_STOP && centre && nodes == 3) it->kind = STILL_DX_THREE_WAY;
    it->ports = still_dx_kind_ports(it->kind);
    if (it->ports != STILL_DX_ANY && nodes > 0 && nodes < it->ports) it->ports = nodes;
}

static void words_of(still_dx_item *it)
{
    static const char *const tags[] = {"TagName", "TagNameAssignmentClass",
                                       "ItemTagAssignmentClass", "FNO"};
    const still_xml *system = around(it->at, "PipingNetworkSystem", false);
    it->tag = still_xml_get(it->at, "TagName");
    if (it->tag[0] == '\0') it->tag = first_of(it->at, tags, 4);
    it->line_no = "";
    if (system != NULL) {
        static const char *const line[] = {"LineNumberAssignmentClass"};
        it->line_no = first_of(system, line, 1);
    }
    it->number = still_xml_generic(it->at, NULL, "PipingComponentNumberAssignmentClass");
}

/* Make an item of an element. */
static uint32_t make_item(still_dx *dx, const still_xml *e)
{
    still_dx_item it = {.at = e, .line = e->line, .owner = STILL_DX_NONE, .note = "", .fails = ""};
    it.kind = still_dx_kind_of(dx, e, &it.cls, &it.stop);
    it.raw = still_xml_get(e, "ID");
    const char *wish =
        it.raw[0] != '\0' ? it.raw : still_dx_printf(dx, "%s/line-%u", e->name, e->line);
    it.id = still_dx_id(dx, wish, it.kind != STILL_DX_NOZZLE); /* a port has no dot */
    words_of(&it);
    if (it.kind == STILL_DX_NOZZLE) {
        const still_xml *equipment = around(e, "Equipment", true);
        it.owner =
            equipment != NULL ? still_dx_find(dx, still_xml_get(equipment, "ID")) : STILL_DX_NONE;
        if (equipment != NULL && it.owner != STILL_DX_NONE && dx->items[it.owner].at != equipment)
            it.owner = STILL_DX_NONE;
        for (size_t i = dx->n_items; equipment != NULL && it.owner == STILL_DX_NONE && i-- > 0;)
            if (dx->items[i].at == equipment) it.owner = (uint32_t)i;
        if (it.owner == STILL_DX_NONE) it.kind = STILL_DX_LIMIT;
    }
    ports_of(&it);
    uint32_t raw = raw_of(dx, it.raw);
    it.twice = raw != STILL_DX_NONE && dx->twice[raw] != 0;
    uint32_t index = still_dx_add(dx, &it);
    if (dx->nomem) return STILL_DX_NONE;
    if (raw != STILL_DX_NONE && dx->item_of[raw] == STILL_DX_NONE) dx->item_of[raw] = index;
    if (it.twice)
        still_dx_lose(dx, STILL_DX_LOSS_ID_TWICE, it.line, it.id,
                      "the id \"%s\" stands more than once", it.raw);
    if (strcmp(it.id, wish) != 0)
        still_dx_lose(dx, STILL_DX_LOSS_RENAMED, it.line, it.id, "the id \"%s\" became \"%s\"",
                      wish, it.id);
    if (it.raw[0] == '\0')
        still_dx_lose(dx, STILL_DX_LOSS_RENAMED, it.line, it.id, "a part without id");
    if (it.kind == STILL_DX_OTHER || it.kind == STILL_DX_EQUIPMENT || it.kind == STILL_DX_VALVE)
        still_dx_lose(dx, STILL_DX_LOSS_UNKNOWN, it.line, it.id, "%s of class \"%s\"", e->name,
                      it.cls);
    if (it.kind == STILL_DX_HEATER)
        still_dx_lose(dx, STILL_DX_LOSS_HEAT, it.line, it.id, "class \"%s\"", it.cls);
    return index;
}

/* Nominal size as the pipe table has it, or "". */
static const char *bore_of(still_dx *dx, const still_xml *e)
{
    static const char *const whole[] = {"NominalDiameterRepresentationAssignmentClass"};
    if (e == NULL) return "";
    const char *text = first_of(e, whole, 1);
    if (text[0] == '\0') {
        const char *type =
            still_xml_generic(e, NULL, "NominalDiameterTypeRepresentationAssignmentClass");
        const char *n = still_xml_generic(
            e, NULL, "NominalDiameterNumericalValueRepresentationAssignmentClass");
        if (type[0] != '\0' && n[0] != '\0') text = still_dx_printf(dx, "%s %s", type, n);
    }
    if (text[0] == '\0') return "";
    const still_pipe_size *size = still_pipe_find(text, strlen(text));
    if (size != NULL) return still_dx_printf(dx, "DN%u", size->dn);
    still_dx_lose(dx, STILL_DX_LOSS_SIZE, e->line, still_xml_get(e, "ID"), "\"%s\"", text);
    return "";
}

static const char *service_of(still_dx *dx, const char *code)
{
    if (code[0] == '\0') return "";
    for (size_t i = 0; i + 1 < dx->n_services; i += 2)
        if (strcmp(dx->services[i], code) == 0) return dx->services[i + 1];
    const char *id = still_dx_id(dx, code, true);
    if (!still_grow(&dx->services, &dx->cap_services, dx->n_services + 2, sizeof *dx->services)) {
        dx->nomem = true;
        return "";
    }
    dx->services[dx->n_services++] = code;
    dx->services[dx->n_services++] = id;
    return id;
}

/* A segment with its chain. */
static void make_segment(still_dx *dx, const still_xml *e)
{
    static const char *const fluid[] = {"FluidCodeAssignmentClass", "Fluid"};
    const still_xml *system = around(e, "PipingNetworkSystem", false);
    still_dx_segment s = {.at = e, .chain = (uint32_t)dx->n_chain};
    const char *raw = still_xml_get(e, "ID");
    s.id = still_dx_id(dx, raw[0] != '\0' ? raw : still_dx_printf(dx, "segment/line-%u", e->line),
                       true);
    s.bore = bore_of(dx, e);
    if (s.bore[0] == '\0') s.bore = bore_of(dx, system);
    const char *code = first_of(e, fluid, 2);
    if (code[0] == '\0' && system != NULL) code = first_of(system, fluid, 2);
    s.service = code;
    for (const still_xml *c = e->first; c != NULL && !dx->nomem; c = c->next) {
        bool known = ONE_OF(c->name, chain_items);
        bool odd = !known && !ONE_OF(c->name, decoration) && still_xml_get(c, "ID")[0] != '\0';
        if (!known && !odd) continue;
        uint32_t item = make_item(dx, c);
        if (!still_grow(&dx->chain, &dx->cap_chain, dx->n_chain + 1, sizeof *dx->chain)) {
            dx->nomem = true;
            return;
        }
        dx->chain[dx->n_chain++] = item;
    }
    s.n_chain = (uint32_t)dx->n_chain - s.chain;
    if (!still_grow(&dx->segments, &dx->cap_segments, dx->n_segments + 1, sizeof *dx->segments)) {
        dx->nomem = true;
        return;
    }
    uint32_t r = raw_of(dx, raw);
    if (r != STILL_DX_NONE && dx->segment_of[r] == STILL_DX_NONE)
        dx->segment_of[r] = (uint32_t)dx->n_segments;
    dx->segments[dx->n_segments++] = s;
}

static void make_items(still_dx *dx)
{
    for (const still_xml *e = dx->root; e != NULL && !dx->nomem; e = still_xml_walk(e, dx->root)) {
        bool in_segment = still_xml_is(e->parent, "PipingNetworkSegment");
        if (still_xml_is(e, "PipingNetworkSystem")) dx->n_systems++;
        if (still_xml_is(e, "PipingNetworkSegment"))
            make_segment(dx, e);
        else if (in_segment)
            continue;
        else if (still_xml_is(e, "Equipment") && around(e, "Equipment", false) == NULL)
            (void)make_item(dx, e);
        else if (still_xml_is(e, "Nozzle") || still_xml_is(e, "PipingComponent") ||
                 still_xml_is(e, "PipeOffPageConnector") ||
                 still_xml_is(e, "PipeConnectorSymbol") || still_xml_is(e, "PropertyBreak") ||
                 still_xml_is(e, "ProcessInstrumentationFunction"))
            (void)make_item(dx, e);
    }
    for (size_t i = 0; i < dx->n_segments && !dx->nomem; i++)
        dx->segments[i].service = service_of(dx, dx->segments[i].service);
}

static void drive(still_dx *dx, const char *raw, const char *fails)
{
    uint32_t item = still_dx_find(dx, raw);
    if (item == STILL_DX_NONE) return;
    dx->items[item].operated = true;
    if (fails[0] != '\0') dx->items[item].fails = fails;
}

/* Where a valve goes without supply, as the drive beside the reference has it. */
static const char *fails_of(const still_xml *system)
{
    for (const still_xml *c = system->first; c != NULL; c = c->next) {
        const char *v = still_xml_generic(c, NULL, "FailActionSpecialization");
        if (strcmp(v, "FailClose") == 0) return "closed";
        if (strcmp(v, "FailOpen") == 0) return "open";
        if (strcmp(v, "FailRetainPosition") == 0) return "stays";
    }
    return "";
}

/* Which valves are no hand valves. */
static void find_drives(still_dx *dx)
{
    for (const still_xml *e = dx->root; e != NULL; e = still_xml_walk(e, dx->root)) {
        const char *cls = still_xml_get(e, "ComponentClass");
        bool reference = still_xml_is(e, "ActuatingSystemComponent");
        bool signal =
            still_xml_is(e, "InformationFlow") &&
            (strcmp(cls, "SignalConveyingFunction") == 0 || strcmp(cls, "SignalLineFunction") == 0);
        for (const still_xml *c = e->first; c != NULL && (reference || signal); c = c->next) {
            const char *type = still_xml_get(c, "Type");
            if (reference && strcmp(type, "refers to") == 0)
                drive(dx, still_xml_get(c, "ItemID"), fails_of(e->parent));
            if (signal && strcmp(type, "has logical end") == 0)
                drive(dx, still_xml_get(c, "ItemID"), "");
            if (signal && still_xml_is(c, "Connection")) drive(dx, still_xml_get(c, "ToID"), "");
        }
    }
}

/* What the part itself says of drives and instruments; the chamber of a nozzle. */
static void find_links(still_dx *dx, still_dx_item *it)
{
    for (const still_xml *c = it->at->first; c != NULL; c = c->next) {
        if (still_xml_is(c, "Component") &&
            strcmp(still_xml_get(c, "ComponentClass"), "Actuator") == 0)
            it->operated = true;
        if (!still_xml_is(c, "Association")) continue;
        const char *type = still_xml_get(c, "Type");
        uint32_t raw = raw_of(dx, still_xml_get(c, "ItemID"));
        const still_xml *to = raw == STILL_DX_NONE ? NULL : dx->element_of[raw];
        /* A drive that is named and not there is a drive all the same. */
        if (strcmp(type, "is referenced by") == 0 &&
            (to == NULL || still_xml_is(to, "ActuatingSystemComponent")))
            it->operated = true;
        if (it->kind == STILL_DX_NOZZLE && strcmp(type, "is the location of") == 0 &&
            still_xml_is(to, "ProcessSignalGeneratingFunction"))
            it->seat = true;
        if (it->kind == STILL_DX_NOZZLE && strcmp(type, "is located in") == 0 &&
            still_xml_is(to, "Equipment") && it->chamber == NULL)
            it->chamber = still_xml_get(to, "ID");
    }
}

const still_xml *still_dx_chamber(const still_dx *dx, const still_dx_item *nozzle)
{
    uint32_t raw = raw_of(dx, nozzle->chamber);
    if (raw == STILL_DX_NONE || dx->twice[raw] != 0) return NULL;
    const still_xml *chamber = dx->element_of[raw], *e = chamber->parent;
    while (e != NULL && e != dx->items[nozzle->owner].at) e = e->parent;
    return e != NULL ? chamber : NULL;
}

void still_dx_parts(still_dx *dx)
{
    for (const still_xml *e = dx->root; e != NULL && !dx->nomem; e = still_xml_walk(e, dx->root))
        note_id(dx, e);
    if (!dx->nomem) make_items(dx);
    if (dx->nomem) return;
    find_drives(dx);
    for (size_t i = 0; i < dx->n_items; i++) find_links(dx, &dx->items[i]);
}
