/* Reading the plant file.
 * Method: libxml2's push parser with SAX2 callbacks, fed in chunks: no tree is built, and nothing
 * an item is allocated here. Names of elements and attributes come from the parser's dictionary,
 * so each is one pointer, looked up in a small table made at the start of the parse.
 * Trust: no network, no entities, no document type at all (a DOCTYPE ends the reading), UTF-8 only.
 * Cost: linear in the file. */
#include "plantread.h"

#include "alloc.h"
#include "digest.h"
#include "reader.h"

#include <errno.h>
#include <stdio.h>
#include <string.h>
#include <strings.h>

#include <libxml/parser.h>
#include <libxml/parserInternals.h>

#define NAMESPACE "urn:stillset:plant:1"

enum { CHUNK = 64 * 1024, SLOTS = 512, DEPTH_MAX = 8, OTHER = 255 };

/* What a name of the parser's dictionary means to us. */
typedef struct slot {
    const xmlChar *name;
    uint8_t attr, elem;
} slot;

typedef struct parse {
    still_reader *r;
    xmlParserCtxtPtr ctxt;
    const xmlChar *ns;
    slot slots[SLOTS];
    unsigned depth;      /* of known elements */
    unsigned skip;       /* depth within an unknown element */
    uint8_t path[4];     /* known elements around */
    bool stopped, fatal; /* fatal: not well-formed */
    bool texted;         /* text was reported in this element */
    bool whole;          /* the end of the file was reached */
} parse;

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

/* Offset of a place in the parser's buffer. */
static uint32_t offset_of(const parse *p, const xmlChar *at)
{
    const xmlParserInput *in = p->ctxt->input;
    if (in == NULL) return STILL_NOWHERE;
    uint64_t offset = (uint64_t)in->consumed + (uint64_t)(at - in->base);
    return offset < STILL_NOWHERE ? (uint32_t)offset : STILL_NOWHERE;
}

/* Is a text given to a callback a part of the parser's buffer? */
static bool in_buffer(const parse *p, const xmlChar *text)
{
    const xmlParserInput *in = p->ctxt->input;
    return in != NULL && (uintptr_t)text >= (uintptr_t)in->base &&
           (uintptr_t)text < (uintptr_t)in->end;
}

/* Offset of the "<" before a place. A start tag has no other one, since a value cannot hold it. */
static uint32_t tag_before(const parse *p, const xmlChar *at)
{
    const xmlParserInput *in = p->ctxt->input;
    if (in == NULL) return STILL_NOWHERE;
    while (at > in->base && *at != '<') at--;
    return offset_of(p, at);
}

static void start_unknown(parse *p, const xmlChar *name, const char *why)
{
    still_report_add(p->r->report, STILL_CODE_ELEMENT, p->r->tag, NULL, NULL,
                     "element \"%.80s\" %s", (const char *)name, why);
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
    still_report_add(p->r->report, STILL_CODE_ATTRIBUTE, p->r->tag, text, component,
                     "%s has no attribute \"%s\"", still_elem_of(p->r->elem)->text, text);
}

/* The parser gives "&" in values as "&#38;" where entities are not replaced. */
static still_raw unescape(still_raw v)
{
    char *p = NULL;
    memcpy(&p, &v.p, sizeof p); /* an allocated copy of the parser's: it may be changed */
    size_t out = 0;
    for (size_t i = 0; i < v.len; i++) {
        p[out++] = p[i];
        if (p[i] == '&' && v.len - i >= 5 && memcmp(p + i, "&#38;", 5) == 0) i += 4;
    }
    return (still_raw){p, out};
}

static void take_attributes(parse *p, int n, const xmlChar **attributes)
{
    still_reader *r = p->r;
    uint64_t allowed = still_elem_of(r->elem)->allowed;
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
        if (!in_buffer(p, at[3]) && memchr(v.p, '&', v.len) != NULL) v = unescape(v);
        r->raw[a] = v;
        r->seen |= UINT64_C(1) << a;
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
    const xmlChar *at = p->ctxt->input != NULL ? p->ctxt->input->cur : NULL;
    if (n > 0 && in_buffer(p, attributes[3])) at = attributes[3];
    p->texted = false;
    if (p->skip > 0) {
        if (++p->skip > DEPTH_MAX) {
            still_report_add(r->report, STILL_CODE_DEPTH, tag_before(p, at), NULL, NULL,
                             "elements are nested too deeply");
            stop(p);
        }
        return;
    }
    r->tag = tag_before(p, at);
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
    for (int i = 0; i < len; i++) {
        if (text[i] == ' ' || text[i] == '\n' || text[i] == '\t' || text[i] == '\r') continue;
        uint32_t at = in_buffer(p, text + i) ? offset_of(p, text + i) : p->r->tag;
        still_report_add(p->r->report, STILL_CODE_TEXT, at, NULL, NULL,
                         "text stands where only elements can");
        p->texted = true;
        return;
    }
}

static void on_doctype(void *data, const xmlChar *name, const xmlChar *external, const xmlChar *sys)
{
    parse *p = data;
    (void)name, (void)external, (void)sys;
    if (p->stopped) return;
    uint32_t at = p->ctxt->input != NULL ? tag_before(p, p->ctxt->input->cur) : 0;
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
    char text[300];
    snprintf(text, sizeof text, "%s", error->message != NULL ? error->message : "");
    size_t n = strlen(text);
    while (n > 0 && (text[n - 1] == '\n' || text[n - 1] == '.')) text[--n] = '\0';
    for (size_t i = 0; i < n; i++)
        if (text[i] == '\n') text[i] = ' ';
    uint32_t at = p->ctxt->input != NULL ? offset_of(p, p->ctxt->input->cur) : STILL_NOWHERE;
    still_report_add(p->r->report, STILL_CODE_SYNTAX, at, NULL, NULL, "not well-formed: %s", text);
    stop(p);
}

/* Look at the first bytes: another encoding is refused before the parser sees any. */
static bool encoding_is_utf8(parse *p, const char *b, size_t len)
{
    static const char *const marks[] = {"\xFE\xFF", "\xFF\xFE", "\x4C\x6F\xA7\x94"};
    size_t i = len >= 3 && memcmp(b, "\xEF\xBB\xBF", 3) == 0 ? 3 : 0;
    bool other = len >= 2 && (b[0] == '\0' || b[1] == '\0');
    for (size_t k = 0; k < sizeof marks / sizeof marks[0]; k++) {
        size_t n = strlen(marks[k]);
        if (len >= n && memcmp(b, marks[k], n) == 0) other = true;
    }
    size_t at = 0;
    if (!other && len - i > 6 && memcmp(b + i, "<?xml ", 6) == 0) {
        size_t end = i;
        while (end + 1 < len && b[end] != '>') end++;
        for (size_t k = i; k + 9 < end; k++) {
            if (memcmp(b + k, "encoding", 8) != 0) continue;
            for (k += 8; k < end && (b[k] == ' ' || b[k] == '=' || b[k] == '\n'); k++) {}
            at = k;
            other = end - k < 7 || strncasecmp(b + k + 1, "UTF-8", 5) != 0 || b[k + 6] != b[k];
            break;
        }
    }
    if (other)
        still_report_add(p->r->report, STILL_CODE_ENCODING, (uint32_t)at, NULL, NULL,
                         "the encoding is not UTF-8");
    return !other;
}

/* Offsets are 32 bits wide, so 4 GiB is the end. */
static bool too_large(parse *p, uint64_t size, const char *file)
{
    if (size < UINT32_MAX) return false;
    still_report_add(p->r->report, STILL_CODE_SIZE, STILL_NOWHERE, NULL, NULL,
                     "%s has 4 GiB or more", file);
    p->r->status = STILL_E_LIMIT;
    return true;
}

static void feed(parse *p, still_source *source, still_digest *digest, const char *file)
{
    char *chunk = still_malloc(CHUNK);
    uint64_t total = 0;
    if (chunk == NULL) p->r->status = STILL_E_NOMEM;
    if (chunk == NULL || too_large(p, still_source_size(source), file)) goto out;
    while (!p->stopped) {
        size_t have = 0; /* fill the chunk: what is read from a pipe comes in small pieces */
        ptrdiff_t n = 1;
        while (have < CHUNK && n > 0) {
            n = still_source_next(source, chunk + have, CHUNK - have);
            if (n > 0) have += (size_t)n;
        }
        if (n < 0) {
            char why[100] = "";
            if (strerror_r(errno, why, sizeof why) != 0) why[0] = '\0';
            still_report_add(p->r->report, STILL_CODE_FILE, STILL_NOWHERE, NULL, NULL,
                             "%s cannot be read: %s", file, why);
            p->r->status = STILL_E_IO;
            break;
        }
        if (total == 0 && !encoding_is_utf8(p, chunk, have)) break;
        total += have;
        if (too_large(p, total, file)) break;
        still_digest_add(digest, chunk, have);
        xmlParseChunk(p->ctxt, chunk, (int)have, have == 0);
        if (have == 0) {
            p->whole = true;
            break;
        }
    }
out:
    still_free(chunk);
}

static still_status parse_source(still_reader *r, still_source *source, const char *file)
{
    xmlSAXHandler sax;
    parse *p = still_calloc(1, sizeof *p);
    still_digest *digest = still_digest_new();
    still_status status = STILL_E_NOMEM;
    if (p == NULL || digest == NULL) goto out;
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
    if (p->ctxt == NULL || !make_slots(p)) goto out;
    xmlCtxtUseOptions(p->ctxt, XML_PARSE_NONET);
    feed(p, source, digest, file);
    still_digest_text(digest, r->plant->digest);
    status = r->status;
    if (status == STILL_OK && (p->stopped || p->fatal || !p->whole)) status = STILL_E_INPUT;
out:
    if (p != NULL && p->ctxt != NULL) xmlFreeParserCtxt(p->ctxt);
    still_digest_free(digest);
    still_free(p);
    return status;
}

/* The whole run, once a source is open; takes the source. */
static still_status read_source(still_plant **out, const char *file, still_source *source,
                                still_diags *diags)
{
    still_reader *r = still_malloc(sizeof *r);
    still_status status = STILL_E_NOMEM;
    if (r == NULL || still_reader_init(r, file, source) != STILL_OK) goto out;
    status = parse_source(r, source, file);
    if (status == STILL_OK) {
        still_reader_resolve(r);
        status = r->status;
    }
    if (status == STILL_OK && still_report_errors(r->report) > 0) status = STILL_E_INPUT;
    if (!still_source_keep(source) && status == STILL_OK) status = STILL_E_NOMEM;
    still_status flushed = still_report_flush(r->report, diags);
    if (flushed != STILL_OK && status == STILL_OK) status = flushed;
    if (status == STILL_OK) {
        r->plant->source = source;
        *out = r->plant;
        r->plant = NULL;
        source = NULL;
    }
    still_reader_clear(r);
out:
    still_free(r);
    still_source_free(source);
    return status;
}

still_status still_read_plant(still_plant **out, const char *path, still_diags *diags)
{
    still_source *source = still_source_open(path);
    if (source != NULL) return read_source(out, path, source, diags);
    int why = errno;
    if (why == ENOMEM) return STILL_E_NOMEM;
    still_report *report = still_report_new(path, NULL);
    if (report == NULL) return STILL_E_NOMEM;
    char text[100] = "";
    if (strerror_r(why, text, sizeof text) != 0) text[0] = '\0';
    still_report_add(report, STILL_CODE_FILE, STILL_NOWHERE, NULL, NULL,
                     "%s cannot be opened: %s", path, text);
    still_status status = still_report_flush(report, diags);
    still_report_free(report);
    return status == STILL_OK ? STILL_E_IO : status;
}

still_status still_read_plant_memory(still_plant **out, const char *name, const void *bytes,
                                     size_t len, still_diags *diags)
{
    still_source *source = still_source_memory(bytes, len);
    if (source == NULL) return STILL_E_NOMEM;
    return read_source(out, name, source, diags);
}
