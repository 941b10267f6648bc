/* Taking values out of a JSON tree: types, missing keys, and the path of each fault. */
#include "planjson.h"

#include "diags.h"
#include "strbuf.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

void *still_planjson_room(still_planjson *r, size_t n, size_t size)
{
    void *p = still_arena_alloc(r->arena, n, size);
    if (p == NULL) r->status = STILL_E_NOMEM;
    return p;
}

static void add_path(still_buf *buf, const still_place *at)
{
    if (at == NULL) return;
    add_path(buf, at->up);
    if (at->key != NULL)
        still_buf_printf(buf, "%s%s", buf->len > 0 ? "." : "", at->key);
    else if (at->up != NULL)
        still_buf_printf(buf, "[%zu]", at->index);
}

void still_planjson_fault(still_planjson *r, const still_place *at, const char *key,
                          const char *what)
{
    still_buf buf = STILL_BUF_INIT;
    add_path(&buf, at);
    if (key != NULL) still_buf_printf(&buf, "%s%s", buf.len > 0 ? "." : "", key);
    still_diags_add(r->diags, STILL_SEV_ERROR, "STILL-PLAN", r->file, 0, 0, "", NULL, "%s %s",
                    buf.text == NULL || buf.len == 0 ? "the record" : buf.text, what);
    if (buf.failed)
        r->status = STILL_E_NOMEM;
    else if (r->status == STILL_OK)
        r->status = STILL_E_INPUT;
    still_buf_clear(&buf);
}

bool still_planjson_has(const still_place *at, const char *key)
{
    json_t *value = json_object_get(at->value, key);
    return value != NULL && !json_is_null(value);
}

/* The value under a key, or NULL: missing, null, or not of the type (a fault). */
static json_t *get(still_planjson *r, const still_place *at, const char *key, still_need need,
                   bool right, const char *what)
{
    json_t *value = json_object_get(at->value, key);
    if (value == NULL || json_is_null(value)) {
        if (need == STILL_MUST) still_planjson_fault(r, at, key, "is missing");
        return NULL;
    }
    if (right) return value;
    still_planjson_fault(r, at, key, what);
    return NULL;
}

void still_planjson_part(still_planjson *r, const still_place *at, const char *key, unsigned part)
{
    if (!still_planjson_has(at, key)) r->given &= ~part;
}

bool still_planjson_down(still_planjson *r, still_place *out, const still_place *at,
                         const char *key, json_type type, still_need need)
{
    json_t *value = json_object_get(at->value, key);
    bool right = value != NULL && json_typeof(value) == type;
    *out = (still_place){at, key, 0, NULL};
    out->value = get(r, at, key, need, right, type == JSON_OBJECT ? "is no object" : "is no list");
    return out->value != NULL;
}

bool still_planjson_entry(still_planjson *r, still_place *out, const still_place *list, size_t i)
{
    *out = (still_place){list, NULL, i, json_array_get(list->value, i)};
    if (json_is_object(out->value)) return true;
    still_planjson_fault(r, out, NULL, "is no object");
    return false;
}

static const char *copy(still_planjson *r, const char *text)
{
    const char *s = still_arena_str(r->arena, text);
    if (s == NULL) r->status = STILL_E_NOMEM;
    return s == NULL ? "" : s;
}

const char *still_planjson_text(still_planjson *r, const still_place *at, const char *key,
                                still_need need, const char *other)
{
    json_t *value =
        get(r, at, key, need, json_is_string(json_object_get(at->value, key)), "is no string");
    return value == NULL ? other : copy(r, json_string_value(value));
}

bool still_planjson_bool(still_planjson *r, const still_place *at, const char *key, still_need need,
                         bool other)
{
    json_t *value = get(r, at, key, need, json_is_boolean(json_object_get(at->value, key)),
                        "is neither true nor false");
    return value == NULL ? other : json_is_true(value);
}

uint64_t still_planjson_count(still_planjson *r, const still_place *at, const char *key,
                              still_need need, uint64_t most, uint64_t other)
{
    json_t *value = get(r, at, key, need, json_is_integer(json_object_get(at->value, key)),
                        "is no whole number");
    if (value == NULL) return other;
    json_int_t n = json_integer_value(value);
    if (n >= 0 && (uint64_t)n <= most) return (uint64_t)n;
    still_planjson_fault(r, at, key, "is out of range");
    return other;
}

uint32_t still_planjson_count32(still_planjson *r, const still_place *at, const char *key,
                                still_need need, uint64_t other)
{
    return (uint32_t)still_planjson_count(r, at, key, need, UINT32_MAX, other);
}

double still_planjson_number(still_planjson *r, const still_place *at, const char *key)
{
    json_t *value =
        get(r, at, key, STILL_MAY, json_is_number(json_object_get(at->value, key)), "is no number");
    return value == NULL ? (double)NAN : json_number_value(value);
}

still_strings still_planjson_list(still_planjson *r, const still_place *list)
{
    size_t n = json_array_size(list->value);
    still_strings out = {still_planjson_room(r, n, sizeof(const char *)), 0};
    for (size_t i = 0; out.items != NULL && i < n; i++) {
        json_t *value = json_array_get(list->value, i);
        const still_place at = {list, NULL, i, value};
        if (json_is_string(value))
            out.items[out.n++] = copy(r, json_string_value(value));
        else
            still_planjson_fault(r, &at, NULL, "is no string");
    }
    return out;
}

still_strings still_planjson_strings(still_planjson *r, const still_place *at, const char *key,
                                     still_need need)
{
    still_place list;
    if (!still_planjson_down(r, &list, at, key, JSON_ARRAY, need)) return (still_strings){NULL, 0};
    return still_planjson_list(r, &list);
}
