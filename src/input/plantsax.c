/* The parser's callbacks.
 * Method: libxml2's push parser with SAX2 callbacks, fed in chunks: no tree is built, and nothing
 * an item is allocated here. Names of elements and attributes come from the parser's dictionary,
 * so each is one pointer, looked up in a small table made at the start of the parse.
 * Trust: no network, no entities, no document type at all (a DOCTYPE ends the reading).
 * Cost: linear in the file. */
#include "plantsax.h"

#include "alloc.h"
#include "nearest.h"
#include "saxtext.h"

#include <stdio.h>
#include <string.h>

#include <libxml/parser.h>
#include <libxml/parserInternals.h>

#define NAMESPACE "urn:stillset:plant:1"

enum { SLOTS = 512, DEPTH_MAX = 8, OTHER = 255 };

/* What a name of the parser's dictionary means to us. */
typedef struct slot {
    const xmlChar *name;
    uint8_t attr, elem;
} slot;

struct still_sax {
    still_reader *r;
    xmlParserCtxtPtr ctxt;
    const xmlChar *ns;
    slot slots[SLOTS];
    unsigned depth;      /* of known elements */
    unsigned skip;       /* depth within an unknown element */
    uint8_t path[4];     /* known elements around */
    bool stopped, fatal; /* fatal: not well-formed */
    bool texted;         /* text was reported in this element */
};

typedef still_sax parse;

static size_t slot_of(const parse *p, const xmlChar *name)
{
    uintptr_t h = (uintptr_t)name;
    size_t i = (size_t)((h ^ (h >> 7)) * 0x9E3779B1u >> 7) & (SLOTS - 1);
    while (p->slots[i].name != NULL && p->slots[i].name != name) i = (i + 1) & (SLOTS - 1);
    return i;
}

static slot *slot_named(parse *p, const char *text)
{
    const xmlChar *name = xmlDictLookup(p->ctxt->dict, (const xmlChar *)text, -1);
    if (name == NULL) return NULL;
    slot *s = &p->slots[slot_of(p, name)];
    if (s->name == NULL) *s = (slot){name, OTHER, OTHER};
    return s;
}

static bool make_slots(parse *p)
{
    for (unsigned a = 0; a < STILL_ATTR_COUNT; a++) {
        slot *s = slot_named(p, still_attr_of((still_attr)a)->text);
        if (s == NULL) return false;
        s->attr = (uint8_t)a;
    }
    for (unsigned e = 0; e < STILL_ELEM_COUNT; e++) {
        slot *s = slot_named(p, still_elem_of((still_elem)e)->text);
        if (s == NULL) return false;
        s->elem = (uint8_t)e;
    }
    p->ns = xmlDictLookup(p->ctxt->dict, (const xmlChar *)NAMESPACE, -1);
    return p->ns != NULL;
}

static void stop(parse *p)
{
    p->stopped = true;
    xmlStopParser(p->ctxt);
}

static void start_unknown(parse *p, const xmlChar *name, const char *why)
{
    char nearest[100];
    still_near near = STILL_NEAR_INIT((const char *)name);
    for (unsigned e = 0; e < STILL_ELEM_COUNT; e++)
        if (p->depth == 0 || (still_elem_of((still_elem)e)->parents >> p->path[p->depth - 1] & 1))
            still_near_offer(&near, still_elem_of((still_elem)e)->text);
    still_near_say(&near, nearest, sizeof nearest);
    still_report_add(p->r->report, STILL_CODE_ELEMENT, p->r->tag, NULL, NULL,
                     "element \"%.80s\" %s%s", (const char *)name, why, nearest);
    p->skip = 1;
}

static void unknown_attribute(parse *p, const xmlChar *prefix, const xmlChar *name)
{
    char text[200];
    const still_raw *id = &p->r->raw[STILL_ATTR_ID];
    bool has_id = (p->r->seen & STILL_ATTR_BIT(ID)) != 0;
    snprintf(text, sizeof text, "%.80s%s%.80s", prefix != NULL ? (const char *)prefix : "",
             prefix != NULL ? ":" : "", (const char *)name);
    char component[256] = "";
    if (has_id && id->len < sizeof component) memcpy(component, id->p, id->len);
    char nearest[100];
    still_near near = STILL_NEAR_INIT(text);
    for (unsigned a = 0; a < STILL_ATTR_COUNT; a++)
        if (still_elem_of(p->r->elem)->allowed >> a & 1)
            still_near_offer(&near, still_attr_of((still_attr)a)->text);
    still_near_say(&near, nearest, sizeof nearest);
    still_report_add(p->r->report, STILL_CODE_ATTRIBUTE, p->r->tag, text, component,
                     "%s has no attribute \"%s\"%s", still_elem_of(p->r->elem)->text, text,
                     nearest);
}

static still_raw unescape(still_raw v)
{
    char *p = NULL;
    memcpy(&p, &v.p, sizeof p); /* an allocated copy of the parser's: it may be changed */
    return (still_raw){p, still_saxtext_value(p, p, v.len)};
}

static void take_attributes(parse *p, int n, const xmlChar **attributes)
{
    still_reader *r = p->r;
    still_attr_set allowed = still_elem_of(r->elem)->allowed;
    bool odd = false;
    r->seen = 0;
    for (int i = 0; i < n; i++) {
        const xmlChar **at = attributes + (ptrdiff_t)i * 5;
        unsigned a = at[1] == NULL ? p->slots[slot_of(p, at[0])].attr : OTHER;
        if (p->slots[slot_of(p, at[0])].name == NULL) a = OTHER;
        if (a == OTHER || (allowed >> a & 1) == 0) {
            odd = true;
            continue;
        }
        still_raw v = {(const char *)at[3], (size_t)(at[4] - at[3])};
        if (!still_saxtext_held(p->ctxt, at[3]) && memchr(v.p, '&', v.len) != NULL) v = unescape(v);
        r->raw[a] = v;
        if (a == STILL_ATTR_ID) still_names_expect(&r->plant->names, v.p, v.len);
        r->seen |= (still_attr_set)1 << a;
    }
    for (int i = 0; odd && i < n; i++) {
        const xmlChar **at = attributes + (ptrdiff_t)i * 5;
        const slot *s = &p->slots[slot_of(p, at[0])];
        if (at[1] != NULL || s->name == NULL || s->attr == OTHER || (allowed >> s->attr & 1) == 0)
            unknown_attribute(p, at[1], at[0]);
    }
}

static void on_start(void *data, const xmlChar *name, const xmlChar *prefix, const xmlChar *uri,
                     int n_ns, const xmlChar **ns, int n, int n_default, const xmlChar **attributes)
{
    parse *p = data;
    still_reader *r = p->r;
    (void)prefix, (void)n_ns, (void)ns, (void)n_default;
    if (p->stopped) return;
    p->texted = false;
    if (p->skip > 0) {
        if (++p->skip > DEPTH_MAX) {
            still_report_add(r->report, STILL_CODE_DEPTH,
                             still_saxtext_start(p->ctxt, n, attributes), NULL, NULL,
                             "elements are nested too deeply");
            stop(p);
        }
        return;
    }
    r->tag = still_saxtext_start(p->ctxt, n, attributes);
    const slot *s = &p->slots[slot_of(p, name)];
    unsigned elem = uri == p->ns && s->name != NULL ? s->elem : OTHER;
    if (p->depth == 0 && elem != STILL_ELEM_PLANT) {
        still_report_add(r->report, STILL_CODE_ROOT, r->tag, NULL, NULL,
                         "the root element is not \"plant\" of the namespace %s", NAMESPACE);
        stop(p);
        return;
    }
    if (elem == OTHER) {
        start_unknown(p, name, "is unknown");
        return;
    }
    uint32_t parents = still_elem_of((still_elem)elem)->parents;
    if (p->depth > 0 && (parents >> p->path[p->depth - 1] & 1) == 0) {
        start_unknown(p, name, "cannot stand here");
        return;
    }
    p->path[p->depth++] = (uint8_t)elem;
    r->elem = (still_elem)elem;
    take_attributes(p, n, attributes);
    still_reader_element(r);
    if (r->status != STILL_OK) stop(p);
}

static void on_end(void *data, const xmlChar *name, const xmlChar *prefix, const xmlChar *uri)
{
    parse *p = data;
    (void)name, (void)prefix, (void)uri;
    if (p->stopped) return;
    p->texted = false;
    if (p->skip > 0)
        p->skip--;
    else if (p->depth > 0)
        p->depth--;
}

static void on_text(void *data, const xmlChar *text, int len)
{
    parse *p = data;
    if (p->stopped || p->skip > 0 || p->texted) return;
    const xmlChar *ink = still_saxtext_ink(text, len);
    if (ink == NULL) return;
    uint32_t at = still_saxtext_held(p->ctxt, ink) ? still_saxtext_offset(p->ctxt, ink) : p->r->tag;
    still_report_add(p->r->report, STILL_CODE_TEXT, at, NULL, NULL,
                     "text stands where only elements can");
    p->texted = true;
}

static void on_doctype(void *data, const xmlChar *name, const xmlChar *external, const xmlChar *sys)
{
    parse *p = data;
    (void)name, (void)external, (void)sys;
    if (p->stopped) return;
    uint32_t at = still_saxtext_tag(p->ctxt, still_saxtext_now(p->ctxt));
    still_report_add(p->r->report, STILL_CODE_DOCTYPE, at, NULL, NULL,
                     "a document type declaration is not allowed");
    stop(p);
}

static void on_error(void *data, xmlErrorPtr error)
{
    parse *p = data;
    if (p->stopped || p->fatal || error == NULL) return;
    if (error->code == XML_ERR_NO_MEMORY) {
        p->r->status = STILL_E_NOMEM;
        stop(p);
        return;
    }
    if (error->level == XML_ERR_WARNING) return;
    p->fatal = true;
    char text[317]; /* 299 bytes of the parser's own */
    still_saxtext_problem(text, sizeof text, error->message);
    uint32_t at = still_saxtext_offset(p->ctxt, still_saxtext_now(p->ctxt));
    still_report_add(p->r->report, STILL_CODE_SYNTAX, at, NULL, NULL, "%s", text);
    stop(p);
}

still_sax *still_sax_new(still_reader *r)
{
    xmlSAXHandler sax;
    parse *p = still_calloc(1, sizeof *p);
    if (p == NULL) return NULL;
    memset(&sax, 0, sizeof sax);
    sax.initialized = XML_SAX2_MAGIC;
    sax.startElementNs = on_start;
    sax.endElementNs = on_end;
    sax.characters = sax.ignorableWhitespace = on_text;
    sax.cdataBlock = on_text;
    sax.internalSubset = on_doctype;
    sax.serror = on_error;
    p->r = r;
    p->ctxt = xmlCreatePushParserCtxt(&sax, p, NULL, 0, NULL);
    if (p->ctxt == NULL || !make_slots(p)) {
        still_sax_free(p);
        return NULL;
    }
    xmlCtxtUseOptions(p->ctxt, XML_PARSE_NONET);
    return p;
}

void still_sax_free(still_sax *p)
{
    if (p == NULL) return;
    if (p->ctxt != NULL) xmlFreeParserCtxt(p->ctxt);
    still_free(p);
}

bool still_sax_feed(still_sax *p, const char *bytes, size_t len)
{
    xmlParseChunk(p->ctxt, bytes, (int)len, len == 0);
    return !p->stopped && !p->fatal;
}
