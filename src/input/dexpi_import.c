/* The import as a whole: bytes → tree → parts → joints → plant file and report; the plant file is
 * read again by the ordinary reader before anyone gets it. */
#include "dexpi_import.h"

#include "alloc.h"
#include "dexpi.h"
#include "diags.h"
#include "plantread.h"
#include "source.h"
#include "utf8.h"

#include <errno.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { DRAWING_MAX = 256 * 1024 * 1024, ID_MAX = 200, CHUNK = 1 << 18 };

struct still_import {
    still_buf plant, text, json;
    size_t losses;
};

const char *still_dx_printf(still_dx *dx, const char *format, ...)
{
    va_list args, again;
    va_start(args, format);
    va_copy(again, args);
    int n = vsnprintf(NULL, 0, format, args);
    va_end(args);
    char *s = n < 0 ? NULL : still_arena_alloc(dx->arena, (size_t)n + 1, 1);
    if (s != NULL) (void)vsnprintf(s, (size_t)n + 1, format, again);
    va_end(again);
    if (s != NULL) return s;
    dx->nomem = true;
    return "";
}

void still_dx_lose(still_dx *dx, still_dx_loss what, uint32_t line, const char *id,
                   const char *format, ...)
{
    char text[600];
    va_list args;
    va_start(args, format);
    (void)vsnprintf(text, sizeof text, format, args);
    va_end(args);
    if (!still_grow(&dx->lost, &dx->cap_lost, dx->n_lost + 1, sizeof *dx->lost)) {
        dx->nomem = true;
        return;
    }
    const char *kept = still_dx_printf(dx, "%s", text);
    dx->lost[dx->n_lost] = (still_dx_lost){
        .what = what, .line = line, .order = (uint32_t)dx->n_lost, .id = id, .text = kept};
    dx->n_lost++;
}

uint32_t still_dx_add(still_dx *dx, const still_dx_item *item)
{
    if (dx->n_items >= STILL_DX_NONE ||
        !still_grow(&dx->items, &dx->cap_items, dx->n_items + 1, sizeof *dx->items)) {
        dx->nomem = true;
        return STILL_DX_NONE;
    }
    dx->items[dx->n_items] = *item;
    return (uint32_t)dx->n_items++;
}

void still_dx_join(still_dx *dx, uint32_t a, const char *node_a, uint32_t b, const char *node_b,
                   uint32_t segment)
{
    if (dx->nomem) return;
    if (a == b) { /* the port that lacks its other end is found to be open later */
        still_dx_lose(dx, STILL_DX_LOSS_NO_END, dx->items[a].line, dx->items[a].id,
                      "a pipe from the part to itself");
        return;
    }
    if (!still_grow(&dx->joints, &dx->cap_joints, dx->n_joints + 1, sizeof *dx->joints)) {
        dx->nomem = true;
        return;
    }
    dx->joints[dx->n_joints++] = (still_dx_joint){
        .a = a, .b = b, .segment = segment, .node_a = node_a, .node_b = node_b, .id = ""};
    dx->items[a].joints++;
    dx->items[b].joints++;
    if (segment != STILL_DX_NONE) dx->segments[segment].n_joints++;
}

/* Printable, no blank, no comma, not too long. */
static void clean(char out[ID_MAX + 1], const char *wish, bool dots)
{
    size_t n = 0;
    for (size_t left = strlen(wish); left > 0;) {
        uint32_t c = 0;
        size_t k = still_utf8_next(wish, left, &c);
        bool bad = still_utf8_control(c) || still_utf8_blank(c) || c == ',' || c <= 32 ||
                   (c == '.' && !dots);
        if (n + k > ID_MAX) break;
        if (bad)
            out[n++] = '_';
        else
            for (size_t i = 0; i < k; i++) out[n++] = wish[i];
        wish += k;
        left -= k;
    }
    if (n == 0) out[n++] = '_';
    out[n] = '\0';
}

const char *still_dx_id(still_dx *dx, const char *wish, bool dots)
{
    char base[ID_MAX + 1], id[ID_MAX + 20];
    still_name name;
    clean(base, wish, dots);
    snprintf(id, sizeof id, "%s", base);
    for (unsigned k = 2; still_names_find(&dx->ids, id, strlen(id), &name); k++)
        snprintf(id, sizeof id, "%s_%u", base, k);
    if (!still_names_add(&dx->ids, id, strlen(id), &name)) dx->nomem = true;
    return still_dx_printf(dx, "%s", id);
}

static int by_line(const void *a, const void *b)
{
    const still_dx_lost *x = a, *y = b;
    if (x->line != y->line) return x->line < y->line ? -1 : 1;
    return x->order < y->order ? -1 : x->order > y->order;
}

/* The plant file must pass the reader. */
static still_status read_back(const still_buf *plant, still_diags *diags)
{
    still_plant *made = NULL;
    still_diags *own = still_diags_new();
    if (own == NULL) return STILL_E_NOMEM;
    still_status status = still_read_plant_memory(&made, "import", plant->text, plant->len, own);
    if (status == STILL_E_INPUT || status == STILL_E_LIMIT) {
        for (size_t i = 0; i < still_diags_count(own); i++)
            still_diags_put(diags, still_diags_at(own, i));
        status = STILL_E_INTERNAL;
    }
    still_plant_free(made);
    still_diags_free(own);
    return status;
}

static still_status convert(still_import *made, still_dx *dx, still_diags *diags)
{
    if (!still_names_init(&dx->raws) || !still_names_init(&dx->ids)) return STILL_E_NOMEM;
    still_dx_parts(dx);
    if (!dx->nomem) still_dx_joints(dx);
    if (!dx->nomem) still_dx_close(dx);
    if (!dx->nomem) still_dx_write(&made->plant, dx);
    if (!dx->nomem) still_dx_values(dx);
    if (dx->nomem) return STILL_E_NOMEM;
    if (dx->n_lost > 0) qsort(dx->lost, dx->n_lost, sizeof *dx->lost, by_line);
    for (size_t i = 0; i < dx->n_lost; i++) made->losses += dx->lost[i].what < STILL_DX_FIRST_NOTE;
    still_dx_report_text(&made->text, dx);
    still_dx_report_json(&made->json, dx);
    if (made->plant.failed || made->text.failed || made->json.failed) return STILL_E_NOMEM;
    return read_back(&made->plant, diags);
}

static void dx_clear(still_dx *dx)
{
    still_names_clear(&dx->raws);
    still_names_clear(&dx->ids);
    still_free(dx->item_of);
    still_free(dx->segment_of);
    still_free(dx->element_of);
    still_free(dx->twice);
    still_free(dx->items);
    still_free(dx->segments);
    still_free(dx->joints);
    still_free(dx->chain);
    still_free(dx->lost);
    still_free(dx->services);
    still_free(dx->taken);
}

still_status still_dexpi_import_memory(still_import **out, const char *name, const void *bytes,
                                       size_t len, const still_import_opts *opts,
                                       still_diags *diags)
{
    const still_import_opts defaults = STILL_IMPORT_OPTS_INIT;
    still_arena arena;
    still_dx dx = {.arena = &arena, .file = name, .opts = opts != NULL ? opts : &defaults};
    if (len >= DRAWING_MAX) return STILL_E_LIMIT;
    still_import *made = still_calloc(1, sizeof *made);
    if (made == NULL) return STILL_E_NOMEM;
    still_arena_init(&arena);
    still_status status = still_xml_parse(&dx.root, &arena, name, bytes, len, diags);
    if (status == STILL_OK) status = convert(made, &dx, diags);
    dx_clear(&dx);
    still_arena_clear(&arena);
    if (status == STILL_OK)
        *out = made;
    else
        still_dexpi_import_free(made);
    return status;
}

static still_status read_all(still_buf *all, const char *path, still_diags *diags)
{
    still_source *source = still_source_open(path);
    still_status status = STILL_OK;
    char *chunk = still_malloc(CHUNK);
    int why = source == NULL ? errno : 0;
    ptrdiff_t n = 0;
    if (chunk == NULL || why == ENOMEM) {
        status = STILL_E_NOMEM;
        goto out;
    }
    while (source != NULL && (n = still_source_next(source, chunk, CHUNK)) > 0) {
        still_buf_addn(all, chunk, (size_t)n);
        if (all->failed) status = STILL_E_NOMEM;
        if (all->len >= DRAWING_MAX) status = STILL_E_LIMIT;
        if (status != STILL_OK) goto out;
    }
    if (n < 0) why = errno;
    if (source == NULL || n < 0) {
        char text[100] = "";
        if (strerror_r(why, text, sizeof text) != 0) text[0] = '\0';
        still_diags_add(diags, STILL_SEV_ERROR, "STILL-0101", path, 0, 0, "", NULL,
                        "%s cannot be read: %s", path, text);
        status = STILL_E_IO;
    }
out:
    still_free(chunk);
    still_source_free(source);
    return status;
}

still_status still_dexpi_import(still_import **out, const char *path, const still_import_opts *opts,
                                still_diags *diags)
{
    still_buf all = STILL_BUF_INIT;
    still_status status = read_all(&all, path, diags);
    if (status == STILL_OK)
        status =
            still_dexpi_import_memory(out, path, all.len > 0 ? all.text : "", all.len, opts, diags);
    still_buf_clear(&all);
    return status;
}

still_import_parts still_dexpi_import_parts(const still_import *import)
{
    return (still_import_parts){&import->plant, &import->text, &import->json, import->losses};
}

void still_dexpi_import_free(still_import *import)
{
    if (import == NULL) return;
    still_buf_clear(&import->plant);
    still_buf_clear(&import->text);
    still_buf_clear(&import->json);
    still_free(import);
}
