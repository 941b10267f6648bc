/* Values of the attributes of small files. */
#include "smallvalue.h"

#include "nearest.h"
#include "utf8.h"

#include <stdio.h>
#include <string.h>

/* Id of the element for messages, cleaned; NULL = none. */
static const char *component_of(const still_small_value *v, char *buf, size_t size)
{
    const char *id = still_small_get(v->element, "id");
    if (id == NULL) return NULL;
    still_utf8_clean(buf, size, id, strlen(id), '?');
    return buf;
}

void still_value_fault(still_small_value *v, still_code code, const char *attribute,
                       const char *why)
{
    const char *id = still_small_get(v->element, "id");
    const char *value = still_small_get(v->element, attribute);
    v->good = false;
    still_report_add(v->file->report, code, v->element->tag, attribute, id, "%s: %s \"%.60s\" %s",
                     v->element->name, attribute, value != NULL ? value : "", why);
}

void still_value_known(still_small_value *v, const char *const *known)
{
    char id[256];
    for (uint32_t i = 0; i < v->element->n_attrs; i++) {
        const char *name = v->element->attrs[i].name;
        const char *const *k = known;
        while (*k != NULL && strcmp(*k, name) != 0) k++;
        if (*k != NULL) continue;
        char nearest[100];
        still_near near = STILL_NEAR_INIT(name);
        for (k = known; *k != NULL; k++) still_near_offer(&near, *k);
        still_near_say(&near, nearest, sizeof nearest);
        v->good = false;
        still_report_add(v->file->report, STILL_CODE_ATTRIBUTE, v->element->tag, name,
                         component_of(v, id, sizeof id), "%s has no attribute \"%.80s\"%s",
                         v->element->name, name, nearest);
    }
}

const char *still_value_required(still_small_value *v, const char *name)
{
    const char *value = still_small_get(v->element, name);
    char id[256];
    if (value != NULL) return value;
    v->good = false;
    still_report_add(v->file->report, STILL_CODE_MISSING, v->element->tag, NULL,
                     component_of(v, id, sizeof id), "%s has no \"%s\"", v->element->name, name);
    return "";
}

const char *still_value_id(still_small_value *v)
{
    bool given = still_small_get(v->element, "id") != NULL;
    const char *id = still_value_required(v, "id");
    size_t len = strlen(id);
    bool good = len > 0 && len <= 255;
    for (size_t i = 0; i < len && good;) {
        uint32_t c;
        i += still_utf8_next(id + i, len - i, &c);
        good = c > ' ' && c != ',' && !still_utf8_blank(c) && !still_utf8_control(c);
    }
    if (given && !good)
        still_value_fault(v, STILL_CODE_ID, "id", "is not printable text without blank or comma");
    return id;
}

/* Text for people: control characters, and what turns the direction of text, become "?". */
const char *still_value_text(still_small_value *v, const char *name, const char *otherwise)
{
    char clean[600];
    const char *value = still_small_get(v->element, name);
    if (value == NULL) return otherwise;
    if (strlen(value) > 500) {
        still_value_fault(v, STILL_CODE_LENGTH, name, "is longer than 500 bytes");
        return otherwise;
    }
    still_utf8_clean(clean, sizeof clean, value, strlen(value), '?');
    const char *kept = still_arena_str(&v->file->arena, clean);
    return kept != NULL ? kept : value;
}

void still_value_fault_word(still_small_value *v, const char *name, still_vocabulary voc)
{
    char text[300] = "is not a value of this attribute; it can be";
    size_t len = strlen(text);
    for (unsigned i = 1; i < still_word_count(voc) && len < sizeof text; i++) {
        int n =
            snprintf(text + len, sizeof text - len, "%s %s", i == 1 ? "" : ",", still_word(voc, i));
        if (n > 0) len += (size_t)n;
    }
    still_value_fault(v, STILL_CODE_WORD, name, text);
}

unsigned still_value_one(still_small_value *v, const char *name, const still_value_word *words,
                         unsigned otherwise)
{
    const char *value = still_small_get(v->element, name);
    if (value == NULL) return otherwise;
    for (const still_value_word *w = words; w->word != NULL; w++)
        if (strcmp(value, w->word) == 0) return w->value;
    char text[300] = "is not a value of this attribute; it can be";
    size_t len = strlen(text);
    for (const still_value_word *w = words; w->word != NULL && len < sizeof text; w++) {
        int n = snprintf(text + len, sizeof text - len, "%s %s", w == words ? "" : ",", w->word);
        if (n > 0) len += (size_t)n;
    }
    still_value_fault(v, STILL_CODE_WORD, name, text);
    return otherwise;
}
