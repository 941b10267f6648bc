/* What the second check says of a plan, for a terminal and as JSON. */
#include "output.h"

#include "json_make.h"
#include "pen.h"
#include "utf8.h"

#include <string.h>

/* A text of a file that anyone wrote: what steers a terminal comes out as '?'. */
static void add_clean(still_buf *out, const char *text)
{
    char part[256];
    for (size_t len = strlen(text), at = 0; at < len;) {
        size_t n = len - at < 200 ? len - at : 200;
        while (at + n < len && n > 190 && ((unsigned char)text[at + n] & 0xC0) == 0x80) n--;
        size_t kept = still_utf8_clean(part, sizeof part, text + at, n, '?');
        still_buf_addn(out, part, kept);
        at += n;
    }
}

static void marked(still_buf *out, const still_style *style, still_ink ink, const char *text)
{
    still_ink_add(out, style != NULL && style->marks, ink, text, strlen(text));
}

void still_verdict_text_write(still_buf *out, const still_verdict_record *r,
                              const still_style *style)
{
    size_t n = r->n_against + r->n_more;
    marked(out, style, r->agrees ? STILL_INK_BOLD : STILL_INK_ALARM,
           r->agrees ? "agrees" : "refuted");
    if (r->agrees)
        still_buf_add(out, ": nothing was found against the plan\n");
    else
        still_buf_printf(out, ": %zu disagreement%s\n", n, n == 1 ? "" : "s");
    for (size_t i = 0; i < r->n_against; i++) {
        still_buf_char(out, '[');
        add_clean(out, r->against[i].rule);
        still_buf_add(out, "] ");
        add_clean(out, r->against[i].id);
        still_buf_add(out, r->against[i].id[0] != '\0' ? ": " : "");
        add_clean(out, r->against[i].text);
        still_buf_char(out, '\n');
    }
    if (r->n_more > 0) still_buf_printf(out, "... and %zu more\n", r->n_more);
    if (r->not_checked.n > 0) {
        marked(out, style, STILL_INK_WARN, "not checked");
        still_buf_add(out, ", since the plan does not say it:\n");
    }
    for (size_t i = 0; i < r->not_checked.n; i++) {
        still_buf_add(out, "  ");
        add_clean(out, r->not_checked.items[i]);
        still_buf_char(out, '\n');
    }
}

still_status still_verdict_json_write(still_buf *out, const still_verdict_record *r)
{
    still_json maker = {STILL_OK}, *j = &maker;
    json_t *root = json_object(), *plant = json_object(), *against = json_array();
    still_json_put(j, root, "format", json_string("stillset-verify-1"));
    still_json_put(j, plant, "id", still_json_text(j, r->plant_id));
    still_json_put(j, plant, "digest", still_json_text(j, r->plant_digest));
    still_json_put(j, root, "plant", plant);
    still_json_put(j, root, "agrees", json_boolean(r->agrees));
    for (size_t i = 0; i < r->n_against; i++) {
        json_t *o = json_object();
        still_json_put(j, o, "rule", still_json_text(j, r->against[i].rule));
        still_json_put(j, o, "id", still_json_text(j, r->against[i].id));
        still_json_put(j, o, "text", still_json_text(j, r->against[i].text));
        still_json_add(j, against, o);
    }
    still_json_put(j, root, "against", against);
    still_json_put(j, root, "more", json_integer((json_int_t)r->n_more));
    still_json_put(j, root, "not_checked", still_json_strings(j, r->not_checked));
    return still_json_finish(j, root, out);
}
