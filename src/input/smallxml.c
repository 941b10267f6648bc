/* Small files of our own, as a list of elements, by libxml2's SAX2 callbacks.
 * Method: the whole file is taken into memory (it has a limit), parsed in one go, and each start
 * tag is kept with its byte offset, from which the report finds line and column.
 * Trust: no network, no entities, no document type at all. Cost: linear in the file. */
#include "smallxml.h"

#include "alloc.h"
#include "saxtext.h"

#include <errno.h>
#include <stdbool.h>
#include <stdio.h>
#include <string.h>

#include <libxml/parser.h>
#include <libxml/parserInternals.h>

enum { DEPTH_MAX = 8 };

typedef struct parse {
    still_small *file;
    xmlParserCtxtPtr ctxt;
    const still_small_kind *kind;
    bool bare;   /* the root has no namespace */
    uint32_t at; /* element around, or STILL_SMALL_NO_PARENT */
    unsigned depth;
    bool texted; /* text was reported already in this element */
    still_status status;
} parse;

static void stop(parse *p, still_status status)
{
    if (p->status == STILL_OK) p->status = status;
    xmlStopParser(p->ctxt);
}

static void fault(parse *p, still_code code, uint32_t at, const char *text)
{
    if (p->status != STILL_OK) return;
    still_report_add(p->file->report, code, at, NULL, NULL, "%s", text);
    stop(p, STILL_E_INPUT);
}

static const char *value_of(parse *p, const xmlChar *from, const xmlChar *to)
{
    size_t len = (size_t)(to - from);
    char *copy = still_arena_alloc(&p->file->arena, len + 1, 1);
    if (copy == NULL) return NULL;
    copy[still_saxtext_value(copy, (const char *)from, len)] = '\0';
    return copy;
}

static bool take_attributes(parse *p, still_small_element *e, int n, const xmlChar **given)
{
    still_small_attr *attrs = STILL_ARENA_NEW(&p->file->arena, (size_t)n, still_small_attr);
    if (attrs == NULL) return false;
    for (int i = 0; i < n; i++) {
        const xmlChar **at = given + (ptrdiff_t)i * 5;
        attrs[i].name =
            still_arena_printf(&p->file->arena, "%s%s%s", at[1] != NULL ? (const char *)at[1] : "",
                               at[1] != NULL ? ":" : "", (const char *)at[0]);
        attrs[i].value = value_of(p, at[3], at[4]);
        if (attrs[i].name == NULL || attrs[i].value == NULL) return false;
    }
    e->attrs = attrs;
    e->n_attrs = (uint32_t)n;
    return true;
}

static void on_start(void *data, const xmlChar *name, const xmlChar *prefix, const xmlChar *uri,
                     int n_ns, const xmlChar **ns, int n, int n_default, const xmlChar **attributes)
{
    parse *p = data;
    still_small *file = p->file;
    (void)prefix, (void)n_ns, (void)ns, (void)n_default;
    if (p->status != STILL_OK) return;
    still_small_element e = {.parent = p->at, .tag = still_saxtext_start(p->ctxt, n, attributes)};
    if (p->depth == 0) p->bare = uri == NULL && p->kind->bare;
    bool ours = uri == NULL ? p->bare : !p->bare && strcmp((const char *)uri, p->kind->ns) == 0;
    p->texted = false;
    if (p->depth == 0 && (!ours || strcmp((const char *)name, p->kind->root) != 0)) {
        char text[200];
        snprintf(text, sizeof text, "the root element is not \"%s\" of the namespace %s%s",
                 p->kind->root, p->kind->ns, p->kind->bare ? ", or of none" : "");
        fault(p, STILL_CODE_ROOT, e.tag, text);
        return;
    }
    if (p->depth >= DEPTH_MAX) {
        fault(p, STILL_CODE_DEPTH, e.tag, "elements are nested too deeply");
        return;
    }
    e.name = still_arena_printf(&file->arena, "%s%s", ours ? "" : "{}", (const char *)name);
    if (e.name == NULL || !take_attributes(p, &e, n, attributes) ||
        !still_grow(&file->elements, &file->cap, file->n + 1, sizeof file->elements[0])) {
        stop(p, STILL_E_NOMEM);
        return;
    }
    p->at = (uint32_t)file->n;
    p->depth++;
    file->elements[file->n++] = e;
}

static void on_end(void *data, const xmlChar *name, const xmlChar *prefix, const xmlChar *uri)
{
    parse *p = data;
    (void)name, (void)prefix, (void)uri;
    if (p->status != STILL_OK || p->at == STILL_SMALL_NO_PARENT) return;
    p->at = p->file->elements[p->at].parent;
    p->depth--;
    p->texted = false;
}

static void on_text(void *data, const xmlChar *text, int len)
{
    parse *p = data;
    if (p->status != STILL_OK || p->texted) return;
    const xmlChar *ink = still_saxtext_ink(text, len);
    if (ink == NULL) return;
    if (!still_saxtext_held(p->ctxt, ink)) ink = still_saxtext_now(p->ctxt);
    still_report_add(p->file->report, STILL_CODE_TEXT, still_saxtext_offset(p->ctxt, ink), NULL,
                     NULL, "text stands where only elements can");
    p->texted = true;
}

static void on_doctype(void *data, const xmlChar *name, const xmlChar *external, const xmlChar *sys)
{
    parse *p = data;
    (void)name, (void)external, (void)sys;
    fault(p, STILL_CODE_DOCTYPE, still_saxtext_tag(p->ctxt, still_saxtext_now(p->ctxt)),
          "a document type declaration is not allowed");
}

static void on_error(void *data, xmlErrorPtr error)
{
    parse *p = data;
    if (p->status != STILL_OK || error == NULL || error->level == XML_ERR_WARNING) return;
    if (error->code == XML_ERR_NO_MEMORY) {
        stop(p, STILL_E_NOMEM);
        return;
    }
    char text[300];
    still_saxtext_problem(text, sizeof text, error->message);
    fault(p, STILL_CODE_SYNTAX, still_saxtext_offset(p->ctxt, still_saxtext_now(p->ctxt)), text);
}

static still_status parse_bytes(still_small *file, const char *bytes, size_t len,
                                const still_small_kind *kind)
{
    xmlSAXHandler sax;
    parse p = {.file = file, .kind = kind, .at = STILL_SMALL_NO_PARENT};
    memset(&sax, 0, sizeof sax);
    sax.initialized = XML_SAX2_MAGIC;
    sax.startElementNs = on_start;
    sax.endElementNs = on_end;
    sax.characters = sax.ignorableWhitespace = on_text;
    sax.cdataBlock = on_text;
    sax.internalSubset = on_doctype;
    sax.serror = on_error;
    p.ctxt = xmlCreatePushParserCtxt(&sax, &p, NULL, 0, NULL);
    if (p.ctxt == NULL) return STILL_E_NOMEM;
    xmlCtxtUseOptions(p.ctxt, XML_PARSE_NONET);
    (void)xmlParseChunk(p.ctxt, bytes, (int)len, 0);
    if (p.status == STILL_OK) (void)xmlParseChunk(p.ctxt, NULL, 0, 1);
    if (p.status == STILL_OK && file->n == 0)
        fault(&p, STILL_CODE_SYNTAX, (uint32_t)len, "not well-formed: the document is empty");
    xmlFreeParserCtxt(p.ctxt);
    return p.status;
}

/* Only UTF-8: its marks and declaration are looked at before the parser sees a byte. */
static bool encoding_is_utf8(still_small *file, const char *b, size_t len)
{
    const char *end = len > 0 ? memchr(b, '>', len) : NULL;
    const char *at = NULL;
    bool other = len >= 2 && (b[0] == '\0' || b[1] == '\0' || memcmp(b, "\xFE\xFF", 2) == 0 ||
                              memcmp(b, "\xFF\xFE", 2) == 0);
    other = other || (len >= 4 && memcmp(b, "\x4C\x6F\xA7\x94", 4) == 0); /* EBCDIC */
    for (const char *k = b; end != NULL && !other && k + 9 < end && at == NULL; k++)
        if (memcmp(k, "encoding", 8) == 0) at = k + 8;
    if (at != NULL && memchr(b, '?', (size_t)(at - b)) != NULL) {
        while (at < end && (*at == ' ' || *at == '=' || *at == '\n' || *at == '\t')) at++;
        char name[6] = "";
        for (int i = 0; i < 5 && at + 1 + i < end; i++)
            name[i] = (char)(at[1 + i] >= 'a' ? at[1 + i] - 32 : at[1 + i]);
        other = strcmp(name, "UTF-8") != 0 || end - at < 7 || at[6] != at[0];
    }
    if (other)
        still_report_add(file->report, STILL_CODE_ENCODING, 0, NULL, NULL,
                         "the encoding is not UTF-8");
    return !other;
}

static still_status too_large(still_small *file, const char *name)
{
    still_report_add(file->report, STILL_CODE_SMALL, STILL_NOWHERE, NULL, NULL,
                     "%s has more than 1 MiB", name);
    return STILL_E_LIMIT;
}

/* All bytes of the source, at most one more than the limit. */
static still_status slurp(still_small *file, const char *name, char **bytes, size_t *len)
{
    size_t cap = 0, have = 0;
    for (;;) {
        if (!still_grow(bytes, &cap, have + 4096, 1)) return STILL_E_NOMEM;
        ptrdiff_t n = still_source_next(file->source, *bytes + have, cap - have);
        if (n < 0) {
            char why[100] = "";
            if (strerror_r(errno, why, sizeof why) != 0) why[0] = '\0';
            still_report_add(file->report, STILL_CODE_FILE, STILL_NOWHERE, NULL, NULL,
                             "%s cannot be read: %s", name, why);
            return STILL_E_IO;
        }
        if (n == 0) break;
        have += (size_t)n;
        if (have > STILL_SMALL_MOST) return too_large(file, name);
    }
    *len = have;
    return STILL_OK;
}

static still_status read_source(still_small *file, const char *name, const still_small_kind *kind)
{
    char *bytes = NULL;
    size_t len = 0;
    still_digest *digest = NULL;
    still_status status = slurp(file, name, &bytes, &len);
    if (status != STILL_OK) goto out;
    digest = still_digest_new();
    status = STILL_E_NOMEM;
    if (digest == NULL) goto out;
    still_digest_add(digest, bytes, len);
    still_digest_text(digest, file->digest);
    status =
        encoding_is_utf8(file, bytes, len) ? parse_bytes(file, bytes, len, kind) : STILL_E_INPUT;
    if (!still_source_keep(file->source) && status == STILL_OK) status = STILL_E_NOMEM;
out:
    still_digest_free(digest);
    still_free(bytes);
    return status;
}

still_status still_small_read(still_small *out, const char *path, const still_small_kind *kind)
{
    *out = (still_small){0};
    still_arena_init(&out->arena);
    out->source = still_source_open(path);
    int why = errno;
    if (out->source == NULL && why == ENOMEM) return STILL_E_NOMEM;
    out->report = still_report_new(path, out->source);
    if (out->report == NULL) return STILL_E_NOMEM;
    if (out->source != NULL) return read_source(out, path, kind);
    char text[100] = "";
    if (strerror_r(why, text, sizeof text) != 0) text[0] = '\0';
    still_report_add(out->report, STILL_CODE_FILE, STILL_NOWHERE, NULL, NULL,
                     "%s cannot be opened: %s", path, text);
    return STILL_E_IO;
}

still_status still_small_read_memory(still_small *out, const char *name, const void *bytes,
                                     size_t len, const still_small_kind *kind)
{
    *out = (still_small){0};
    still_arena_init(&out->arena);
    out->source = still_source_memory(bytes, len);
    if (out->source == NULL) return STILL_E_NOMEM;
    out->report = still_report_new(name, out->source);
    if (out->report == NULL) return STILL_E_NOMEM;
    return read_source(out, name, kind);
}

still_status still_small_close(still_small *file, still_diags *diags)
{
    still_status status = STILL_OK;
    if (file->report != NULL) {
        if (still_report_errors(file->report) > 0) status = STILL_E_INPUT;
        still_status flushed = still_report_flush(file->report, diags);
        if (flushed != STILL_OK) status = flushed;
    }
    still_report_free(file->report);
    still_source_free(file->source);
    still_free(file->elements);
    still_arena_clear(&file->arena);
    *file = (still_small){0};
    return status;
}

const char *still_small_get(const still_small_element *e, const char *name)
{
    for (uint32_t i = 0; i < e->n_attrs; i++)
        if (strcmp(e->attrs[i].name, name) == 0) return e->attrs[i].value;
    return NULL;
}
