/* Values of a policy file's attributes. */
#include "policyvalue.h"

#include "hazardclass.h"
#include "pipesize.h"
#include "utf8.h"

#include <stdio.h>
#include <string.h>

/* Id of the element for messages, cleaned; NULL = none. */
static const char *component_of(const still_policy_value *v, char *buf, size_t size)
{
    const char *id = still_small_get(v->element, "id");
    if (id == NULL) return NULL;
    still_utf8_clean(buf, size, id, strlen(id), '?');
    return buf;
}

static void fault(still_policy_value *v, still_code code, const char *attribute, const char *why)
{
    const char *id = still_small_get(v->element, "id");
    const char *value = still_small_get(v->element, attribute);
    v->good = false;
    still_report_add(v->file->report, code, v->element->tag, attribute, id, "%s: %s \"%.60s\" %s",
                     v->element->name, attribute, value != NULL ? value : "", why);
}

void still_value_known(still_policy_value *v, const char *const *known)
{
    char id[256];
    for (uint32_t i = 0; i < v->element->n_attrs; i++) {
        const char *name = v->element->attrs[i].name;
        const char *const *k = known;
        while (*k != NULL && strcmp(*k, name) != 0) k++;
        if (*k != NULL) continue;
        v->good = false;
        still_report_add(v->file->report, STILL_CODE_ATTRIBUTE, v->element->tag, name,
                         component_of(v, id, sizeof id), "%s has no attribute \"%.80s\"",
                         v->element->name, name);
    }
}

const char *still_value_required(still_policy_value *v, const char *name)
{
    const char *value = still_small_get(v->element, name);
    char id[256];
    if (value != NULL) return value;
    v->good = false;
    still_report_add(v->file->report, STILL_CODE_MISSING, v->element->tag, NULL,
                     component_of(v, id, sizeof id), "%s has no \"%s\"", v->element->name, name);
    return "";
}

const char *still_value_id(still_policy_value *v)
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
        fault(v, STILL_CODE_ID, "id", "is not printable text without blank or comma");
    return id;
}

/* Text for people: control characters, and what turns the direction of text, become "?". */
const char *still_value_text(still_policy_value *v, const char *name, const char *otherwise)
{
    char clean[600];
    const char *value = still_small_get(v->element, name);
    if (value == NULL) return otherwise;
    if (strlen(value) > 500) {
        fault(v, STILL_CODE_LENGTH, name, "is longer than 500 bytes");
        return otherwise;
    }
    still_utf8_clean(clean, sizeof clean, value, strlen(value), '?');
    const char *kept = still_arena_str(&v->file->arena, clean);
    return kept != NULL ? kept : value;
}

unsigned still_value_one(still_policy_value *v, const char *name, const still_value_word *words,
                         unsigned otherwise)
{
    const char *value = still_small_get(v->element, name);
    if (value == NULL) return otherwise;
    for (const still_value_word *w = words; w->word != NULL; w++)
        if (strcmp(value, w->word) == 0) return w->value;
    fault(v, STILL_CODE_WORD, name, "is not a value of this attribute");
    return otherwise;
}

unsigned still_value_set(still_policy_value *v, const char *name, const still_value_word *words,
                         unsigned otherwise)
{
    const char *at = still_small_get(v->element, name);
    unsigned set = 0;
    char item[24];
    if (at == NULL) return otherwise;
    while (still_next_statement(&at, item, sizeof item)) {
        const still_value_word *w = words;
        while (w->word != NULL && strcmp(item, w->word) != 0) w++;
        if (w->word == NULL) {
            fault(v, STILL_CODE_WORD, name, "has a word that is no value of this attribute");
            return otherwise;
        }
        set |= w->value;
    }
    if (set != 0) return set;
    fault(v, STILL_CODE_WORD, name, "names nothing");
    return otherwise;
}

static void quantity_fault(still_policy_value *v, const char *name, still_quantity_fault why)
{
    static const struct {
        still_code code;
        const char *why;
    } faults[] = {
        [STILL_QUANTITY_NOT_A_NUMBER] = {STILL_CODE_NUMBER, "does not begin with a number"},
        [STILL_QUANTITY_NO_UNIT] = {STILL_CODE_NO_UNIT, "has no unit"},
        [STILL_QUANTITY_BAD_UNIT] = {STILL_CODE_UNIT, "has no unit of this kind"},
        [STILL_QUANTITY_NO_GAUGE] = {STILL_CODE_GAUGE,
                                     "does not say whether it is gauge or absolute"},
        [STILL_QUANTITY_BELOW] = {STILL_CODE_RANGE, "is below what can be"},
        [STILL_QUANTITY_TOO_LARGE] = {STILL_CODE_RANGE, "is too large"}};
    fault(v, faults[why].code, name, faults[why].why);
}

double still_value_quantity(still_policy_value *v, const char *name, still_dim dim,
                            double otherwise)
{
    const char *value = still_small_get(v->element, name);
    double got = otherwise;
    if (value == NULL) return otherwise;
    still_quantity_fault why = still_quantity_parse(value, strlen(value), dim, &got);
    if (why != STILL_QUANTITY_OK) quantity_fault(v, name, why);
    return got;
}

double still_value_size(still_policy_value *v, const char *name)
{
    const char *value = still_small_get(v->element, name);
    if (value == NULL) return 0;
    if (!still_pipe_nominal(value, strlen(value)))
        return 1000 * still_value_quantity(v, name, STILL_DIM_LENGTH, 0);
    const still_pipe_size *size = still_pipe_find(value, strlen(value));
    if (size != NULL) return size->dn;
    fault(v, STILL_CODE_PIPE_SIZE, name, "is not in the pipe table");
    return 0;
}

/* H and three digits, or EUH and three; the last two or all three may be "x". */
static bool is_statement(const char *s)
{
    size_t head = strncmp(s, "EUH", 3) == 0 ? 3 : 1;
    if (s[0] != (head == 3 ? 'E' : 'H') || strlen(s) != head + 3) return false;
    bool any = false;
    for (size_t i = head; i < head + 3; i++) {
        if (s[i] == 'x')
            any = true;
        else if (any || s[i] < '0' || s[i] > '9')
            return false;
    }
    return true;
}

const char *still_value_hazards(still_policy_value *v, const char *name, bool *none)
{
    const char *value = still_small_get(v->element, name), *at = value;
    char item[16];
    *none = false;
    if (value == NULL) return "";
    while (still_next_statement(&at, item, sizeof item)) {
        if (strcmp(item, "none") == 0) {
            *none = true;
        } else if (!is_statement(item)) {
            fault(v, STILL_CODE_HAZARD, name,
                  "is not a list of H-statements such as H331, H2xx, EUH029, or none");
            break;
        }
    }
    return value;
}
