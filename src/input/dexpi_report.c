/* The import report: for people, and as JSON (docs/FORMAT.md). Losses come worst first, then by
 * line of the drawing. Cost: a sort of the losses; counting classes is quadratic in their number.
 */
#include "dexpi.h"

#include "alloc.h"
#include "utf8.h"

#include <stdlib.h>
#include <string.h>

static void plain(still_buf *out, const char *s)
{
    for (size_t left = strlen(s); left > 0;) {
        uint32_t c = 0;
        size_t n = still_utf8_next(s, left, &c);
        if (still_utf8_control(c))
            still_buf_char(out, '?');
        else
            still_buf_addn(out, s, n);
        s += n;
        left -= n;
    }
}

static void quoted(still_buf *out, const char *s)
{
    still_buf_char(out, '"');
    for (size_t left = strlen(s); left > 0;) {
        uint32_t c = 0;
        size_t n = still_utf8_next(s, left, &c);
        if (c == '"' || c == '\\')
            still_buf_printf(out, "\\%c", (int)c);
        else if (c == UINT32_MAX)
            still_buf_char(out, '?');
        else if (c < 32)
            still_buf_printf(out, "\\u%04x", (unsigned)c);
        else
            still_buf_addn(out, s, n);
        s += n;
        left -= n;
    }
    still_buf_char(out, '"');
}

static void key(still_buf *out, const char *name, const char *value)
{
    still_buf_printf(out, ", \"%s\": ", name);
    if (value == NULL || value[0] == '\0')
        still_buf_add(out, "null");
    else
        quoted(out, value);
}

static size_t count(const still_dx *dx, still_dx_loss what)
{
    size_t n = 0;
    for (size_t i = 0; i < dx->n_lost; i++) n += dx->lost[i].what == what;
    return n;
}

static size_t losses(const still_dx *dx)
{
    size_t n = 0;
    for (size_t i = 0; i < dx->n_lost; i++) n += dx->lost[i].what < STILL_DX_FIRST_NOTE;
    return n;
}

static size_t drawn(const still_dx *dx)
{
    size_t n = 0;
    for (size_t i = 0; i < dx->n_items; i++)
        n += dx->items[i].at != NULL && dx->items[i].kind != STILL_DX_INSTRUMENT;
    return n;
}

static size_t drawn_joints(const still_dx *dx)
{
    size_t n = 0;
    for (size_t i = 0; i < dx->n_joints; i++)
        n += dx->items[dx->joints[i].a].at != NULL && dx->items[dx->joints[i].b].at != NULL;
    return n;
}

/* The losses of one sort, each on a line. */
static void list(still_buf *out, const still_dx *dx, still_dx_loss what)
{
    size_t n = count(dx, what);
    if (n == 0) return;
    still_buf_printf(out, "\n%zu x %s: %s\n", n, still_dx_loss_text(what),
                     still_dx_loss_what(what));
    for (size_t i = 0; i < dx->n_lost; i++) {
        const still_dx_lost *l = &dx->lost[i];
        if (l->what != what) continue;
        still_buf_add(out, "  ");
        plain(out, dx->file);
        still_buf_printf(out, ":%u: ", l->line);
        plain(out, l->id);
        still_buf_add(out, l->text[0] != '\0' ? ": " : "");
        plain(out, l->text);
        still_buf_char(out, '\n');
    }
}

void still_dx_report_text(still_buf *out, const still_dx *dx)
{
    size_t lost = losses(dx), notes = dx->n_lost - lost;
    still_buf_add(out, "Import of ");
    plain(out, dx->file);
    still_buf_printf(out, ": %zu parts, %zu joints, %zu segments\n%zu loss%s, %zu assumption%s\n",
                     drawn(dx), drawn_joints(dx), dx->n_segments, lost, lost == 1 ? "" : "es",
                     notes, notes == 1 ? "" : "s");
    if (lost > 0) still_buf_add(out, "\nLOSSES, worst first\n");
    for (int w = 0; w < (int)STILL_DX_FIRST_NOTE; w++) list(out, dx, (still_dx_loss)w);
    if (notes > 0) still_buf_add(out, "\nASSUMPTIONS, to be looked at in the plant\n");
    for (int w = (int)STILL_DX_FIRST_NOTE; w < (int)STILL_DX_LOSS_COUNT; w++)
        list(out, dx, (still_dx_loss)w);
    still_buf_add(out, "\nA drawing does not say contents, phases, elevations, lengths, positions "
                       "or what can be locked:\nall of it counts the dangerous way until it is "
                       "written into the plant file.\n");
}

static void json_lost(still_buf *out, const still_dx *dx, bool notes)
{
    const char *comma = "";
    for (int w = 0; w < (int)STILL_DX_LOSS_COUNT; w++) {
        if ((w >= (int)STILL_DX_FIRST_NOTE) != notes) continue;
        for (size_t i = 0; i < dx->n_lost; i++) {
            const still_dx_lost *l = &dx->lost[i];
            if ((int)l->what != w) continue;
            still_buf_printf(out, "%s\n    {\"kind\": \"%s\", \"line\": %u", comma,
                             still_dx_loss_text(l->what), l->line);
            key(out, "id", l->id);
            key(out, "text", l->text);
            still_buf_char(out, '}');
            comma = ",";
        }
    }
}

static void json_counts(still_buf *out, const still_dx *dx)
{
    const char *comma = "";
    for (int w = 0; w < (int)STILL_DX_LOSS_COUNT; w++) {
        size_t n = count(dx, (still_dx_loss)w);
        if (n == 0) continue;
        still_buf_printf(out, "%s\"%s\": %zu", comma, still_dx_loss_text((still_dx_loss)w), n);
        comma = ", ";
    }
}

static void json_parts(still_buf *out, const still_dx *dx)
{
    const char *comma = "";
    for (size_t i = 0; i < dx->n_items; i++) {
        const still_dx_item *it = &dx->items[i];
        if (it->at == NULL || (it->kind == STILL_DX_INSTRUMENT && it->joints == 0)) continue;
        still_buf_printf(out, "%s\n    {\"line\": %u, \"kind\": \"%s\", \"operated\": %s", comma,
                         it->line, still_dx_kind_text(it->kind), it->operated ? "true" : "false");
        key(out, "id", it->id);
        key(out, "drawing_id", it->raw);
        key(out, "element", it->at->name);
        key(out, "class", it->cls);
        key(out, "tag", it->tag);
        key(out, "line_number", it->line_no);
        key(out, "number", it->number);
        if (it->kind == STILL_DX_NOZZLE) {
            key(out, "of", dx->items[it->owner].id);
            key(out, "chamber", it->chamber);
        }
        double at[2];
        if (still_dx_place(it, at)) still_buf_printf(out, ", \"at\": [%.9g, %.9g]", at[0], at[1]);
        still_buf_char(out, '}');
        comma = ",";
    }
}

/* Parts of equipment, such as chambers: equipment within equipment. */
static void json_inner(still_buf *out, const still_dx *dx)
{
    const char *comma = "";
    for (const still_xml *e = dx->root; e != NULL; e = still_xml_walk(e, dx->root)) {
        const still_xml *of = NULL;
        for (const still_xml *p = e->parent; p != NULL && still_xml_is(e, "Equipment");
             p = p->parent)
            if (still_xml_is(p, "Equipment")) of = p;
        if (of == NULL) continue;
        still_buf_printf(out, "%s\n    {\"line\": %u", comma, e->line);
        key(out, "drawing_id", still_xml_get(e, "ID"));
        key(out, "class", still_xml_get(e, "ComponentClass"));
        key(out, "of", still_xml_get(of, "ID"));
        still_buf_char(out, '}');
        comma = ",";
    }
}

static void json_joints(still_buf *out, const still_dx *dx)
{
    const char *comma = "";
    for (size_t i = 0; i < dx->n_joints; i++) {
        const still_dx_joint *j = &dx->joints[i];
        still_buf_printf(out, "%s\n    {\"drawn\": %s", comma,
                         j->segment != STILL_DX_NONE ? "true" : "false");
        key(out, "from", dx->items[j->a].id);
        key(out, "to", dx->items[j->b].id);
        key(out, "spool", j->id);
        if (j->segment != STILL_DX_NONE) key(out, "segment", dx->segments[j->segment].id);
        still_buf_char(out, '}');
        comma = ",";
    }
}

void still_dx_report_json(still_buf *out, const still_dx *dx)
{
    size_t lost = losses(dx);
    still_buf_add(out, "{\n  \"format\": \"stillset-import-1\", \"from\": \"dexpi\"");
    key(out, "drawing", dx->file);
    for (const still_xml *e = dx->root->first; e != NULL; e = e->next) {
        if (!still_xml_is(e, "PlantInformation")) continue;
        key(out, "program", still_xml_get(e, "OriginatingSystem"));
        key(out, "schema", still_xml_get(e, "SchemaVersion"));
        key(out, "units", still_xml_get(e, "Units"));
        break;
    }
    still_buf_printf(out,
                     ",\n  \"systems\": %zu, \"segments\": %zu, \"parts_drawn\": %zu, "
                     "\"joints_drawn\": %zu,\n  \"n_losses\": %zu, \"n_assumptions\": %zu,\n"
                     "  \"counts\": {",
                     dx->n_systems, dx->n_segments, drawn(dx), drawn_joints(dx), lost,
                     dx->n_lost - lost);
    json_counts(out, dx);
    still_buf_add(out, "},\n  \"losses\": [");
    json_lost(out, dx, false);
    still_buf_add(out, "],\n  \"assumptions\": [");
    json_lost(out, dx, true);
    still_buf_add(out, "],\n  \"parts\": [");
    json_parts(out, dx);
    still_buf_add(out, "],\n  \"inner\": [");
    json_inner(out, dx);
    still_buf_add(out, "],\n  \"joints\": [");
    json_joints(out, dx);
    still_buf_add(out, "]\n}\n");
}
