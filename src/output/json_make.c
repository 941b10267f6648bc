#include "json_make.h"

#include "glyph.h"

#include <math.h>

void still_json_put(still_json *j, json_t *object, const char *key, json_t *value)
{
    if (json_object_set_new(object, key, value) != 0 && j->status == STILL_OK)
        j->status = STILL_E_NOMEM;
}

void still_json_add(still_json *j, json_t *array, json_t *value)
{
    if (json_array_append_new(array, value) != 0 && j->status == STILL_OK)
        j->status = STILL_E_NOMEM;
}

json_t *still_json_text(still_json *j, const char *s)
{
    json_t *value = json_string(s);
    if (value == NULL && !still_glyph_valid(s)) j->status = STILL_E_INTERNAL;
    return value;
}

json_t *still_json_text_or_null(still_json *j, const char *s)
{
    return s[0] != '\0' ? still_json_text(j, s) : json_null();
}

json_t *still_json_number(double x)
{
    return isfinite(x) ? json_real(x) : json_null();
}

json_t *still_json_strings(still_json *j, still_strings list)
{
    json_t *array = json_array();
    for (size_t i = 0; i < list.n; i++) still_json_add(j, array, still_json_text(j, list.items[i]));
    return array;
}

static int to_buffer(const char *bytes, size_t len, void *data)
{
    still_buf *out = data;
    still_buf_addn(out, bytes, len);
    return out->failed ? -1 : 0;
}

still_status still_json_finish(still_json *j, json_t *root, still_buf *out)
{
    size_t before = out->len;
    if (j->status == STILL_OK &&
        json_dump_callback(root, to_buffer, out, JSON_INDENT(1) | JSON_REAL_PRECISION(9)) != 0)
        j->status = out->failed ? STILL_E_NOMEM : STILL_E_INTERNAL;
    if (j->status == STILL_OK) still_buf_char(out, '\n');
    if (j->status == STILL_OK && out->failed) j->status = STILL_E_NOMEM;
    if (j->status != STILL_OK && out->text != NULL) {
        out->len = before;
        out->text[before] = '\0';
    }
    json_decref(root);
    return j->status;
}
