/* A drawing as a light tree, by libxml2's SAX2 callbacks.
 * Method: elements are kept in an arena; whole subtrees that hold pictures and texts only are
 * passed over by name, so that the tree is a fraction of the file. Line numbers are the parser's
 * own counter at the start tag, which does not stick at 65,535 as those of its tree do.
 * Trust: no network, no entities, no document type at all. Cost: linear in the file. */
#include "dexpi_tree.h"

#include "diags.h"
#include "saxtext.h"

#include <limits.h>
#include <string.h>

#include <libxml/parser.h>

enum { DEPTH_MAX = 64, VALUE_MAX = 4096, ATTRS_MAX = 10000 };

typedef struct parse {
    still_arena *arena;
    const char *file;
    still_diags *diags;
    xmlParserCtxtPtr ctxt;
    still_xml *root, *at;
    unsigned depth, skip;
    still_status status;
} parse;

/* No pipe in these, whatever they hold (docs/METHOD.md, drawings). */
static const char *const passed_over[] = {
    "ShapeCatalogue", "Drawing",      "Label",      "Text",    "Presentation", "Extent",
    "PolyLine",       "Line",         "Circle",     "Ellipse", "Shape",        "TrimmedCurve",
    "CompositeCurve", "BsplineCurve", "CenterLine", "Scale",   "History"};

static uint32_t line_now(const parse *p)
{
    int line = p->ctxt->input != NULL ? p->ctxt->input->line : 0;
    return line > 0 ? (uint32_t)line : 0;
}

static void stop(parse *p, still_status status)
{
    if (p->status == STILL_OK) p->status = status;
    xmlStopParser(p->ctxt);
}

static void fault(parse *p, const char *code, const char *text)
{
    if (p->status != STILL_OK) return;
    still_diags_add(p->diags, STILL_SEV_ERROR, code, p->file, line_now(p), 0, "", NULL, "%s", text);
    stop(p, STILL_E_INPUT);
}

static const char *value_of(parse *p, const xmlChar *from, const xmlChar *to)
{
    size_t len = (size_t)(to - from);
    if (len > VALUE_MAX) return "";
    char *copy = still_arena_alloc(p->arena, len + 1, 1);
    if (copy == NULL) return NULL;
    copy[still_saxtext_value(copy, (const char *)from, len)] = '\0';
    return copy;
}

static still_xml *make(parse *p, const xmlChar *name, int n, const xmlChar **given)
{
    still_xml *e = STILL_ARENA_NEW(p->arena, 1, still_xml);
    if (n > ATTRS_MAX) n = ATTRS_MAX;
    still_xml_attr *attrs = STILL_ARENA_NEW(p->arena, (size_t)n, still_xml_attr);
    if (e == NULL || attrs == NULL) return NULL;
    for (int i = 0; i < n; i++) {
        const xmlChar **at = given + (ptrdiff_t)i * 5;
        attrs[i].name = still_arena_str(p->arena, (const char *)at[0]);
        attrs[i].value = value_of(p, at[3], at[4]);
        if (attrs[i].name == NULL || attrs[i].value == NULL) return NULL;
    }
    *e = (still_xml){.attrs = attrs, .n_attrs = (size_t)n, .parent = p->at, .line = line_now(p)};
    e->name = still_arena_str(p->arena, (const char *)name);
    return e->name != NULL ? e : NULL;
}

static void on_start(void *data, const xmlChar *name, const xmlChar *prefix, const xmlChar *uri,
                     int n_ns, const xmlChar **ns, int n, int n_default, const xmlChar **attributes)
{
    parse *p = data;
    (void)prefix, (void)uri, (void)n_ns, (void)ns, (void)n_default;
    if (p->status != STILL_OK) return;
    if (p->depth + p->skip >= DEPTH_MAX) {
        fault(p, "STILL-0107", "elements are nested too deeply");
        return;
    }
    bool over = p->skip > 0;
    for (size_t i = 0; i < sizeof passed_over / sizeof passed_over[0] && !over; i++)
        over = strcmp((const char *)name, passed_over[i]) == 0;
    if (over && p->depth > 0) {
        p->skip++;
        return;
    }
    if (p->depth == 0 && strcmp((const char *)name, "PlantModel") != 0) {
        fault(p, "STILL-0106",
              "the root element is not \"PlantModel\": no drawing of DEXPI 1 (Proteus XML)");
        return;
    }
    still_xml *e = make(p, name, n, attributes);
    if (e == NULL) {
        stop(p, STILL_E_NOMEM);
        return;
    }
    if (p->at == NULL)
        p->root = e;
    else if (p->at->last == NULL)
        p->at->first = p->at->last = e;
    else
        p->at->last = p->at->last->next = e;
    p->at = e;
    p->depth++;
}

static void on_end(void *data, const xmlChar *name, const xmlChar *prefix, const xmlChar *uri)
{
    parse *p = data;
    (void)name, (void)prefix, (void)uri;
    if (p->status != STILL_OK) return;
    if (p->skip > 0) {
        p->skip--;
        return;
    }
    p->at = p->at->parent;
    p->depth--;
}

static void on_doctype(void *data, const xmlChar *name, const xmlChar *external, const xmlChar *sys)
{
    (void)name, (void)external, (void)sys;
    fault(data, "STILL-0104", "a document type declaration is not allowed");
}

static void on_error(void *data, xmlErrorPtr error)
{
    parse *p = data;
    if (p->status != STILL_OK || error == NULL || error->level == XML_ERR_WARNING) return;
    /* A prefix that nothing declares, or a namespace that is no URI, does no harm here. */
    if (error->domain == XML_FROM_NAMESPACE) return;
    if (error->code == XML_ERR_NO_MEMORY) {
        stop(p, STILL_E_NOMEM);
        return;
    }
    char text[300];
    still_saxtext_problem(text, sizeof text, error->message);
    fault(p, "STILL-0105", text);
}

still_status still_xml_parse(const still_xml **root, still_arena *arena, const char *file,
                             const char *bytes, size_t len, still_diags *diags)
{
    enum { CHUNK = 1 << 20 };
    xmlSAXHandler sax;
    parse p = {.arena = arena, .file = file, .diags = diags};
    memset(&sax, 0, sizeof sax);
    sax.initialized = XML_SAX2_MAGIC;
    sax.startElementNs = on_start;
    sax.endElementNs = on_end;
    sax.internalSubset = on_doctype;
    sax.serror = on_error;
    p.ctxt = xmlCreatePushParserCtxt(&sax, &p, NULL, 0, NULL);
    if (p.ctxt == NULL) return STILL_E_NOMEM;
    xmlCtxtUseOptions(p.ctxt, XML_PARSE_NONET);
    for (size_t at = 0; at < len && p.status == STILL_OK;) {
        size_t n = len - at < CHUNK ? len - at : CHUNK;
        (void)xmlParseChunk(p.ctxt, bytes + at, (int)n, 0);
        at += n;
    }
    if (p.status == STILL_OK) (void)xmlParseChunk(p.ctxt, NULL, 0, 1);
    if (p.status == STILL_OK && (p.root == NULL || p.depth > 0))
        fault(&p, "STILL-0105", "not well-formed: the document is cut off");
    xmlFreeParserCtxt(p.ctxt);
    if (p.status == STILL_OK) *root = p.root;
    return p.status;
}

const char *still_xml_get(const still_xml *e, const char *name)
{
    for (size_t i = 0; i < e->n_attrs; i++)
        if (strcmp(e->attrs[i].name, name) == 0) return e->attrs[i].value;
    return "";
}

bool still_xml_is(const still_xml *e, const char *name)
{
    return e != NULL && strcmp(e->name, name) == 0;
}

const still_xml *still_xml_walk(const still_xml *e, const still_xml *top)
{
    if (e->first != NULL) return e->first;
    while (e != top && e->next == NULL) e = e->parent;
    return e == top ? NULL : e->next;
}

const still_xml *still_xml_generic_at(const still_xml *e, const char *set, const char *name)
{
    for (const still_xml *g = e->first; g != NULL; g = g->next) {
        if (!still_xml_is(g, "GenericAttributes")) continue;
        if (set != NULL && strcmp(still_xml_get(g, "Set"), set) != 0) continue;
        for (const still_xml *a = g->first; a != NULL; a = a->next)
            if (strcmp(still_xml_get(a, "Name"), name) == 0 && still_xml_get(a, "Value")[0] != '\0')
                return a;
    }
    return NULL;
}

const char *still_xml_generic(const still_xml *e, const char *set, const char *name)
{
    const still_xml *a = still_xml_generic_at(e, set, name);
    return a != NULL ? still_xml_get(a, "Value") : "";
}
