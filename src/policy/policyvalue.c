/* Values of a policy file's attributes. */
#include "policyvalue.h"

#include "hazardclass.h"
#include "pipesize.h"
#include "utf8.h"

#include <stdio.h>
#include <string.h>

unsigned still_value_set(still_small_value *v, const char *name, const still_value_word *words,
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
            still_value_fault(v, STILL_CODE_WORD, name,
                              "has a word that is no value of this attribute");
            return otherwise;
        }
        set |= w->value;
    }
    if (set != 0) return set;
    still_value_fault(v, STILL_CODE_WORD, name, "names nothing");
    return otherwise;
}

static void quantity_fault(still_small_value *v, const char *name, still_quantity_fault why)
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
    still_value_fault(v, faults[why].code, name, faults[why].why);
}

double still_value_quantity(still_small_value *v, const char *name, still_dim dim, double otherwise)
{
    const char *value = still_small_get(v->element, name);
    double got = otherwise;
    if (value == NULL) return otherwise;
    still_quantity_fault why = still_quantity_parse(value, strlen(value), dim, &got);
    if (why != STILL_QUANTITY_OK) quantity_fault(v, name, why);
    return got;
}

double still_value_size(still_small_value *v, const char *name)
{
    const char *value = still_small_get(v->element, name);
    if (value == NULL) return 0;
    if (!still_pipe_nominal(value, strlen(value)))
        return 1000 * still_value_quantity(v, name, STILL_DIM_LENGTH, 0);
    const still_pipe_size *size = still_pipe_find(value, strlen(value));
    if (size != NULL) return size->dn;
    still_value_fault(v, STILL_CODE_PIPE_SIZE, name, "is not in the pipe table");
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

const char *still_value_hazards(still_small_value *v, const char *name, bool *none)
{
    const char *value = still_small_get(v->element, name), *at = value;
    char item[16];
    *none = false;
    if (value == NULL) return "";
    while (still_next_statement(&at, item, sizeof item)) {
        if (strcmp(item, "none") == 0) {
            *none = true;
        } else if (!is_statement(item)) {
            still_value_fault(v, STILL_CODE_HAZARD, name,
                              "is not a list of H-statements such as H331, H2xx, EUH029, or none");
            break;
        }
    }
    return value;
}
