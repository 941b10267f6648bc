/* From the class of a part to its kind.
 * Method: one table each for classes, type names and vendor classes, compared without case, blanks
 * and punctuation; a class given as URI counts as its last part. What no table has is never
 * closable. Source: the class names of the DEXPI P&ID specification 1.3 and 1.4 (DEXPI e.V.,
 * CC BY 4.0), and those counted in public drawings. */
#include "dexpi.h"

#include <ctype.h>
#include <string.h>

typedef struct row {
    const char *cls; /* lower case, letters and digits only */
    still_dx_kind kind;
    const char *stop;
} row;

static const row classes[] = {
    {"ballvalve", STILL_DX_STOP, "ball"},
    {"gatevalve", STILL_DX_STOP, "gate"},
    {"plugvalve", STILL_DX_STOP, "plug"},
    {"butterflyvalve", STILL_DX_STOP, "butterfly"},
    {"globevalve", STILL_DX_STOP, "globe"},
    {"shutoffvalve", STILL_DX_STOP, "gate"},
    {"tightshutoffvalve", STILL_DX_STOP, "gate"},
    {"wedgegatevalve", STILL_DX_STOP, "gate"},
    {"needlevalve", STILL_DX_STOP, "needle"},
    {"diaphragmvalve", STILL_DX_STOP, "diaphragm"},
    {"angleballvalve", STILL_DX_STOP, "ball"},
    {"angleglobevalve", STILL_DX_STOP, "angle"},
    {"angleplugvalve", STILL_DX_STOP, "plug"},
    {"anglevalve", STILL_DX_STOP, "angle"},
    {"operatedvalve", STILL_DX_VALVE, NULL},
    {"customoperatedvalve", STILL_DX_VALVE, NULL},
    {"checkvalve", STILL_DX_CHECK, NULL},
    {"swingcheckvalve", STILL_DX_CHECK, NULL},
    {"globecheckvalve", STILL_DX_CHECK, NULL},
    {"controlvalve", STILL_DX_CONTROL, NULL},
    {"controlvalvesandregulators", STILL_DX_CONTROL, NULL},
    {"pressurereducercornervalve", STILL_DX_CONTROL, NULL},
    {"safetyvalveorfitting", STILL_DX_RELIEF, NULL},
    {"springloadedangleglobesafetyvalve", STILL_DX_RELIEF, NULL},
    {"springloadedglobesafetyvalve", STILL_DX_RELIEF, NULL},
    {"safetyvalve", STILL_DX_RELIEF, NULL},
    {"anglesafetyvalve", STILL_DX_RELIEF, NULL},
    {"rupturedisc", STILL_DX_DISC, NULL},
    {"spectacleblind", STILL_DX_BLIND, NULL},
    {"lineblind", STILL_DX_BLIND, NULL},
    {"blindflange", STILL_DX_CAP, NULL},
    {"pipereducer", STILL_DX_REDUCER, NULL},
    {"reducer", STILL_DX_REDUCER, NULL},
    {"concentricdiameterchange", STILL_DX_REDUCER, NULL},
    {"pipetee", STILL_DX_TEE, NULL},
    {"pipingnetworkbranch", STILL_DX_TEE, NULL},
    {"mixedorbarredtee", STILL_DX_TEE, NULL},
    {"flange", STILL_DX_NODE, NULL},
    {"strainer", STILL_DX_STRAINER, NULL},
    {"conicalstrainer", STILL_DX_STRAINER, NULL},
    {"filter", STILL_DX_STRAINER, NULL},
    {"inlineprimaryelement", STILL_DX_METER, NULL},
    {"venturitube", STILL_DX_METER, NULL},
    {"flowlimiterwithpressurerecuperation", STILL_DX_METER, NULL},
    {"levelindicator", STILL_DX_METER, NULL},
    {"levelalarmcontrolelement", STILL_DX_METER, NULL},
    {"otherinlineinstruments", STILL_DX_METER, NULL},
    {"offlineinstruments", STILL_DX_METER, NULL},
    {"coriolismassflowmeter", STILL_DX_METER, NULL},
    {"arrow", STILL_DX_MARK, NULL},
    {"insulationsymbol", STILL_DX_MARK, NULL},
    {"pipebreak", STILL_DX_MARK, NULL},
    {"gap", STILL_DX_MARK, NULL},
    {"propertybreak", STILL_DX_MARK, NULL},
    {"opendrainsystem", STILL_DX_OUTLET, NULL},
    {"funnel", STILL_DX_OUTLET, NULL},
    {"custompipingcomponent", STILL_DX_OTHER, NULL},
    {"custominlineprimaryelement", STILL_DX_OTHER, NULL},
    {"specialitempipingcomponent", STILL_DX_OTHER, NULL},
    {"clampon", STILL_DX_OTHER, NULL},
    {"thermowell", STILL_DX_OTHER, NULL},
    {"steamtrap", STILL_DX_OTHER, NULL},
    {"flowinpipeoffpageconnector", STILL_DX_LIMIT, NULL},
    {"flowoutpipeoffpageconnector", STILL_DX_LIMIT, NULL},
    {"flowinpipeconnectorsymbol", STILL_DX_LIMIT, NULL},
    {"flowoutpipeconnectorsymbol", STILL_DX_LIMIT, NULL},
    {"opc", STILL_DX_LIMIT, NULL},
};

/* Vendor classes, and those of equipment, by a word in them; in this order. */
typedef struct part {
    const char *word;
    still_dx_kind kind;
} part;

static const part equipment[] = {{"pump", STILL_DX_PUMP},        {"compressor", STILL_DX_PUMP},
                                 {"blower", STILL_DX_PUMP},      {"exchanger", STILL_DX_EXCHANGER},
                                 {"heater", STILL_DX_EXCHANGER}, {"cooler", STILL_DX_EXCHANGER},
                                 {"tank", STILL_DX_VESSEL},      {"vessel", STILL_DX_VESSEL},
                                 {"column", STILL_DX_VESSEL},    {"tower", STILL_DX_VESSEL},
                                 {"drum", STILL_DX_VESSEL},      {"basin", STILL_DX_VESSEL},
                                 {"barrel", STILL_DX_VESSEL},    {"silo", STILL_DX_VESSEL}};

/* Vendor classes of piping components; all but globe valves worked by hand are never closable. */
static const part vendor[] = {{"threeway", STILL_DX_THREE_WAY}, {"safetyvalve", STILL_DX_RELIEF},
                              {"flaptrap", STILL_DX_CHECK},     {"orificeplate", STILL_DX_METER},
                              {"detector", STILL_DX_METER},     {"exchanger", STILL_DX_HEATER},
                              {"heater", STILL_DX_HEATER},      {"funnel", STILL_DX_OUTLET}};

enum { PLAIN = 80 };

/* Lower case, letters and digits only; of a URI the last part. */
static void plain(char out[PLAIN], const char *s)
{
    size_t n = 0;
    if (strstr(s, "://") != NULL && strrchr(s, '/') != NULL) s = strrchr(s, '/') + 1;
    for (; *s != '\0' && n + 1 < PLAIN; s++)
        if (isalnum((unsigned char)*s)) out[n++] = (char)tolower((unsigned char)*s);
    out[n] = '\0';
}

still_dx_kind still_dx_class(const char *cls, const char **stop)
{
    char text[PLAIN];
    plain(text, cls);
    *stop = NULL;
    for (size_t i = 0; i < sizeof classes / sizeof classes[0]; i++) {
        if (strcmp(classes[i].cls, text) != 0) continue;
        *stop = classes[i].stop;
        return classes[i].kind;
    }
    return STILL_DX_KIND_COUNT;
}

static still_dx_kind by_word(const part *table, size_t n, const char *text)
{
    for (size_t i = 0; i < n; i++)
        if (strstr(text, table[i].word) != NULL) return table[i].kind;
    return STILL_DX_KIND_COUNT;
}

static still_dx_kind vendor_kind(const char *cls, const char *sub, const char **stop)
{
    char text[PLAIN], below[PLAIN];
    plain(text, cls);
    plain(below, sub);
    still_dx_kind kind = by_word(vendor, sizeof vendor / sizeof vendor[0], text);
    if (kind != STILL_DX_KIND_COUNT) return kind;
    bool general = strcmp(below, "general") == 0;
    if (strcmp(text, "valveglobetype") == 0) {
        if (!general && strcmp(below, "manuallyadjusted") != 0) return STILL_DX_CONTROL;
        *stop = "globe";
        return STILL_DX_STOP;
    }
    if (strcmp(text, "valvegeneral") == 0) return general ? STILL_DX_VALVE : STILL_DX_CONTROL;
    return STILL_DX_OTHER;
}

static bool empty_class(const char *cls)
{
    char text[PLAIN];
    plain(text, cls);
    return text[0] == '\0';
}

static still_dx_kind equipment_kind(still_dx *dx, const still_xml *e, const char **cls)
{
    char text[PLAIN];
    if (empty_class(*cls)) *cls = still_xml_generic(e, "XVTAttributes", "CLASS");
    (void)dx;
    plain(text, *cls);
    still_dx_kind kind = by_word(equipment, sizeof equipment / sizeof equipment[0], text);
    return kind == STILL_DX_KIND_COUNT ? STILL_DX_EQUIPMENT : kind;
}

still_dx_kind still_dx_kind_of(still_dx *dx, const still_xml *e, const char **cls,
                               const char **stop)
{
    *cls = still_xml_get(e, "ComponentClass");
    *stop = NULL;
    if (still_xml_is(e, "Nozzle")) return STILL_DX_NOZZLE;
    if (still_xml_is(e, "Equipment")) return equipment_kind(dx, e, cls);
    if (still_xml_is(e, "PipeOffPageConnector") || still_xml_is(e, "PipeConnectorSymbol"))
        return STILL_DX_LIMIT;
    if (still_xml_is(e, "PropertyBreak")) return STILL_DX_MARK;
    if (still_xml_is(e, "ProcessInstrumentationFunction")) return STILL_DX_INSTRUMENT;
    if (empty_class(*cls)) {
        const char *v = still_xml_generic(e, "XVTAttributes", "CLASS");
        const char *s = still_xml_generic(e, "XVTAttributes", "SUB_CLASS");
        *cls = still_dx_printf(dx, "%s%s%s", v, s[0] != '\0' ? " / " : "", s);
        return vendor_kind(v, s, stop);
    }
    still_dx_kind kind = STILL_DX_KIND_COUNT;
    const char *type = still_xml_generic(e, NULL, "TypeNameAssignmentClass");
    if (strstr(*cls, "Custom") != NULL && type[0] != '\0') kind = still_dx_class(type, stop);
    if (kind == STILL_DX_KIND_COUNT) kind = still_dx_class(*cls, stop);
    return kind == STILL_DX_KIND_COUNT ? STILL_DX_OTHER : kind;
}

const char *still_dx_kind_text(still_dx_kind kind)
{
#define X(name, text, ports) text,
    static const char *const texts[] = {STILL_DX_KINDS(X)};
#undef X
    return texts[kind];
}

uint32_t still_dx_kind_ports(still_dx_kind kind)
{
#define X(name, text, ports) ports,
    static const uint32_t n[] = {STILL_DX_KINDS(X)};
#undef X
    return n[kind];
}

const char *still_dx_loss_text(still_dx_loss loss)
{
#define X(name, text, what) text,
    static const char *const texts[] = {STILL_DX_LOSSES(X)};
#undef X
    return texts[loss];
}

const char *still_dx_loss_what(still_dx_loss loss)
{
#define X(name, text, what) what,
    static const char *const texts[] = {STILL_DX_LOSSES(X)};
#undef X
    return texts[loss];
}
