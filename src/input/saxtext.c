/* Texts of the XML parser's callbacks, and their places. */
#include "saxtext.h"

#include "report.h"

#include <stdio.h>
#include <string.h>

void still_saxtext_problem(char *text, size_t size, const char *message)
{
    snprintf(text, size, "not well-formed: %s", message != NULL ? message : "");
    size_t n = strlen(text);
    while (n > 0 && (text[n - 1] == '\n' || text[n - 1] == '.')) text[--n] = '\0';
    for (size_t i = 0; i < n; i++)
        if (text[i] == '\n') text[i] = ' ';
}

size_t still_saxtext_value(char *out, const char *from, size_t len)
{
    size_t n = 0;
    for (size_t i = 0; i < len; i++) {
        out[n++] = from[i];
        if (from[i] == '&' && len - i >= 5 && memcmp(from + i, "&#38;", 5) == 0) i += 4;
    }
    return n;
}

const xmlChar *still_saxtext_ink(const xmlChar *text, int len)
{
    for (int i = 0; i < len; i++)
        if (text[i] != ' ' && text[i] != '\n' && text[i] != '\t' && text[i] != '\r')
            return text + i;
    return NULL;
}

const xmlChar *still_saxtext_now(const xmlParserCtxt *ctxt)
{
    return ctxt->input != NULL ? ctxt->input->cur : NULL;
}

bool still_saxtext_held(const xmlParserCtxt *ctxt, const xmlChar *text)
{
    const xmlParserInput *in = ctxt->input;
    return in != NULL && (uintptr_t)text >= (uintptr_t)in->base &&
           (uintptr_t)text < (uintptr_t)in->end;
}

uint32_t still_saxtext_offset(const xmlParserCtxt *ctxt, const xmlChar *at)
{
    const xmlParserInput *in = ctxt->input;
    if (at == NULL || (at != still_saxtext_now(ctxt) && !still_saxtext_held(ctxt, at)))
        return STILL_NOWHERE;
    uint64_t offset = (uint64_t)in->consumed + (uint64_t)(at - in->base);
    return offset < STILL_NOWHERE ? (uint32_t)offset : STILL_NOWHERE;
}

uint32_t still_saxtext_tag(const xmlParserCtxt *ctxt, const xmlChar *at)
{
    const xmlParserInput *in = ctxt->input;
    if (in == NULL || at == NULL) return STILL_NOWHERE;
    while (at > in->base && (at == in->end || *at != '<')) at--;
    return still_saxtext_offset(ctxt, at);
}

/* The parser stands behind the tag; nearer, where a value is no copy: it cannot hold a "<". */
uint32_t still_saxtext_start(const xmlParserCtxt *ctxt, int n, const xmlChar **attributes)
{
    bool inside = n > 0 && still_saxtext_held(ctxt, attributes[3]);
    return still_saxtext_tag(ctxt, inside ? attributes[3] : still_saxtext_now(ctxt));
}
