/* Values of attributes: each by the rule that plantvocab.h names for it. */
#include "reader.h"

#include "alloc.h"
#include "utf8.h"

#include <stdarg.h>
#include <stdio.h>
#include <string.h>

enum { ID_MAX = 255, VALUE_MAX = 4096, LIST_MAX = 1024 * 1024, SHOW = 60 };

void still_reader_fault(still_reader *r, still_code code, still_attr attr, const char *format, ...)
{
    char text[600], id[ID_MAX + 1] = "";
    va_list args;
    va_start(args, format);
    vsnprintf(text, sizeof text, format, args);
    va_end(args);
    const still_raw *raw = &r->raw[STILL_ATTR_ID];
    if ((r->seen & STILL_ATTR_BIT(ID)) != 0) still_utf8_clean(id, sizeof id, raw->p, raw->len, '?');
    const char *at = attr < STILL_ATTR_COUNT ? still_attr_of(attr)->text : NULL;
    const char *what = still_elem_of(r->elem)->text;
    if (id[0] != '\0')
        still_report_add(r->report, code, r->tag, at, id, "%s \"%.80s\": %s", what, id, text);
    else
        still_report_add(r->report, code, r->tag, at, NULL, "%s: %s", what, text);
}

/* "attribute "value"" for messages, cut to a readable length. */
void still_reader_fault_value(still_reader *r, still_code code, still_attr a, const char *why)
{
    const still_raw *raw = &r->raw[a];
    int n = raw->len > SHOW ? SHOW : (int)raw->len;
    still_reader_fault(r, code, a, "%s \"%.*s%s\" %s", still_attr_of(a)->text, n, raw->p,
                       raw->len > SHOW ? "..." : "", why);
}

static void nomem(still_reader *r)
{
    if (r->status == STILL_OK) r->status = STILL_E_NOMEM;
}

bool still_reader_intern(still_reader *r, const char *s, size_t len, still_name *out)
{
    if (still_names_add(&r->plant->names, s, len, out)) return true;
    nomem(r);
    return false;
}

static bool plain(const char *s, size_t len)
{
    for (size_t i = 0; i < len; i++)
        if ((unsigned char)(s[i] - 0x20) >= 0x5F) return false;
    return true;
}

/* Printable text without blank or comma; a port's also without the dot that parts it off. */
static bool id_is_good(const char *s, size_t len, bool dots)
{
    if (len == 0 || len > ID_MAX) return false;
    for (size_t i = 0; i < len;) {
        uint32_t c = (unsigned char)s[i];
        if (c > ' ' && c < 0x7F)
            i++;
        else
            i += still_utf8_next(s + i, len - i, &c);
        if (c == ',' || c <= ' ') return false;
        if (c >= 0x7F && (still_utf8_blank(c) || still_utf8_control(c))) return false;
        if (c == '.' && !dots) return false;
    }
    return true;
}

static bool take_id(still_reader *r, still_attr a)
{
    const still_raw *raw = &r->raw[a];
    if (!id_is_good(raw->p, raw->len, r->elem != STILL_ELEM_PORT)) {
        still_reader_fault_value(r, STILL_CODE_ID, a,
                                 raw->len == 0       ? "is empty"
                                 : raw->len > ID_MAX ? "is longer than 255 bytes"
                                                     : "has a character that an id cannot have");
        return false;
    }
    return still_reader_intern(r, raw->p, raw->len, &r->text[a]);
}

/* Text for people: line breaks become blanks, other control characters U+FFFD. */
static bool take_text(still_reader *r, still_attr a)
{
    const still_raw *raw = &r->raw[a];
    if (plain(raw->p, raw->len)) return still_reader_intern(r, raw->p, raw->len, &r->text[a]);
    if (!still_grow(&r->scratch, &r->cap_scratch, raw->len * 3, 1)) {
        nomem(r);
        return false;
    }
    size_t out = 0;
    bool replaced = false;
    for (size_t i = 0; i < raw->len;) {
        uint32_t c;
        size_t n = still_utf8_next(raw->p + i, raw->len - i, &c);
        if (c == '\t' || c == '\n' || c == '\r') {
            r->scratch[out++] = ' ';
        } else if (still_utf8_control(c)) {
            memcpy(r->scratch + out, "\xEF\xBF\xBD", 3);
            out += 3;
            replaced = true;
        } else {
            memcpy(r->scratch + out, raw->p + i, n);
            out += n;
        }
        i += n;
    }
    if (replaced)
        still_reader_fault(r, STILL_CODE_CONTROL, a, "control characters in %s are replaced",
                           still_attr_of(a)->text);
    return still_reader_intern(r, r->scratch, out, &r->text[a]);
}

/* A word from lo to hi of a vocabulary, or 0. */
uint8_t still_reader_word(still_vocabulary voc, unsigned lo, unsigned hi, const char *s, size_t len)
{
    for (unsigned i = lo; i <= hi && len > 0; i++) {
        const char *w = still_word(voc, i);
        if (w[0] == s[0] && strncmp(w, s, len) == 0 && w[len] == '\0') return (uint8_t)i;
    }
    return 0;
}

/* A word that the attribute does not have, and those that it has. */
void still_reader_fault_word(still_reader *r, still_attr a, still_vocabulary voc, unsigned lo,
                             unsigned hi)
{
    char text[460] = "is not a value of this attribute; it can be";
    size_t len = strlen(text);
    for (unsigned i = lo; i <= hi && len < sizeof text; i++) {
        int n = snprintf(text + len, sizeof text - len, "%s %s", i == lo ? "" : ",",
                         still_word(voc, i));
        if (n > 0) len += (size_t)n;
    }
    still_reader_fault_value(r, STILL_CODE_WORD, a, text);
}

static bool take_word(still_reader *r, still_attr a, still_vocabulary voc, unsigned lo, unsigned hi)
{
    const still_raw *raw = &r->raw[a];
    r->word[a] = still_reader_word(voc, lo, hi, raw->p, raw->len);
    if (r->word[a] != 0) return true;
    still_reader_fault_word(r, a, voc, lo, hi);
    return false;
}

void still_reader_fault_quantity(still_reader *r, still_attr a, still_quantity_fault fault)
{
    static const struct {
        still_code code;
        const char *why;
    } faults[] = {
        [STILL_QUANTITY_NOT_A_NUMBER] = {STILL_CODE_NUMBER, "is not a decimal number with a unit"},
        [STILL_QUANTITY_NO_UNIT] = {STILL_CODE_NO_UNIT, "has no unit"},
        [STILL_QUANTITY_BAD_UNIT] = {STILL_CODE_UNIT, "has a unit unknown for this quantity"},
        [STILL_QUANTITY_NO_GAUGE] = {STILL_CODE_GAUGE, "does not say gauge or absolute"},
        [STILL_QUANTITY_BELOW] = {STILL_CODE_RANGE, "is below what can be"},
        [STILL_QUANTITY_TOO_LARGE] = {STILL_CODE_RANGE, "is too large to be"},
    };
    still_reader_fault_value(r, faults[fault].code, a, faults[fault].why);
}

static bool take_quantity(still_reader *r, still_attr a)
{
    const still_raw *raw = &r->raw[a];
    still_quantity_fault fault =
        still_quantity_parse(raw->p, raw->len, (still_dim)still_attr_of(a)->dim, &r->q[a]);
    if (fault == STILL_QUANTITY_OK) return true;
    still_reader_fault_quantity(r, a, fault);
    return false;
}

static bool take_fill(still_reader *r, still_attr a)
{
    const still_raw *raw = &r->raw[a];
    if (still_number_parse(raw->p, raw->len, &r->q[a]) == STILL_QUANTITY_NOT_A_NUMBER) {
        still_reader_fault_value(r, STILL_CODE_NUMBER, a, "is not a decimal number");
        return false;
    }
    if (r->q[a] >= 0 && r->q[a] <= 1) return true;
    still_reader_fault_value(r, STILL_CODE_RANGE, a, "is not from 0 to 1");
    return false;
}

/* Two numbers parted by blanks. */
static bool take_sheet(still_reader *r, still_attr a)
{
    const still_raw *raw = &r->raw[a];
    size_t i = 0;
    while (i < raw->len && raw->p[i] == ' ') i++;
    size_t gap = i;
    while (gap < raw->len && raw->p[gap] != ' ') gap++;
    still_quantity_fault x = still_number_parse(raw->p + i, gap - i, &r->sheet[0]);
    still_quantity_fault y = still_number_parse(raw->p + gap, raw->len - gap, &r->sheet[1]);
    if (x == STILL_QUANTITY_OK && y == STILL_QUANTITY_OK) return true;
    if (x == STILL_QUANTITY_NOT_A_NUMBER || y == STILL_QUANTITY_NOT_A_NUMBER)
        still_reader_fault_value(r, STILL_CODE_NUMBER, a,
                                 "is not two decimal numbers parted by a blank");
    else
        still_reader_fault_value(r, STILL_CODE_RANGE, a, "is too large to be");
    return false;
}

/* Next item of a list parted by blanks or commas. */
bool still_reader_item(const still_raw *raw, size_t *at, still_raw *item)
{
    const char *p = raw->p;
    while (*at < raw->len && (p[*at] == ' ' || p[*at] == ',')) (*at)++;
    size_t from = *at;
    while (*at < raw->len && p[*at] != ' ' && p[*at] != ',') (*at)++;
    *item = (still_raw){p + from, *at - from};
    return item->len > 0;
}

static bool take_ends(still_reader *r, still_attr a)
{
    size_t at = 0;
    still_raw item;
    int n = 0;
    for (; still_reader_item(&r->raw[a], &at, &item); n++) {
        uint8_t w =
            still_reader_word(STILL_VOC_still_ends, 1, STILL_ENDS_COUNT - 1, item.p, item.len);
        if (w == 0 || n >= 2) break;
        r->ends_said[n] = w;
    }
    if (n == 2 && item.len == 0) return true;
    still_reader_fault_value(r, STILL_CODE_WORD, a,
                             "is not one of flanged, welded, threaded for each end");
    return false;
}

static bool take_list(still_reader *r, still_attr a)
{
    size_t at = 0;
    still_raw item;
    r->ref0 = r->plant->n_refs;
    while (still_reader_item(&r->raw[a], &at, &item)) {
        still_name name;
        if (!id_is_good(item.p, item.len, true)) {
            still_reader_fault_value(r, STILL_CODE_ID, a, "has a character that an id cannot have");
            continue;
        }
        if (!still_reader_intern(r, item.p, item.len, &name)) return false;
        if (!still_grow(&r->plant->refs, &r->cap_refs, (size_t)r->plant->n_refs + 1,
                        sizeof r->plant->refs[0])) {
            nomem(r);
            return false;
        }
        r->plant->refs[r->plant->n_refs++] = name.v;
    }
    r->n_refs = r->plant->n_refs - r->ref0;
    return true;
}

static bool take_name_ref(still_reader *r, still_attr a)
{
    const still_raw *raw = &r->raw[a];
    if (!id_is_good(raw->p, raw->len, true)) {
        still_reader_fault_value(r, STILL_CODE_REFERENCE, a, "is not an id");
        return false;
    }
    return still_reader_intern(r, raw->p, raw->len, &r->text[a]);
}

/* "component.port": the last dot parts them. */
static bool take_port_ref(still_reader *r, still_attr a)
{
    const still_raw *raw = &r->raw[a];
    size_t dot = raw->len;
    while (dot > 0 && raw->p[dot - 1] != '.') dot--;
    still_end *end = &r->port_ref[a == STILL_ATTR_FROM ? 0 : 1];
    if (dot < 2 || !id_is_good(raw->p, dot - 1, true) ||
        !id_is_good(raw->p + dot, raw->len - dot, false)) {
        still_reader_fault_value(r, STILL_CODE_REFERENCE, a, "is not of the form component.port");
        return false;
    }
    return still_reader_intern(r, raw->p, dot - 1, &end->comp) &&
           still_reader_intern(r, raw->p + dot, raw->len - dot, &end->port);
}

/* GHS statement: H and three digits, EUH likewise, up to two letters behind; or "none". */
static bool is_hazard(const char *s, size_t len)
{
    size_t i = len > 2 && memcmp(s, "EU", 2) == 0 ? 2 : 0;
    if (len < i + 4 || len > i + 6 || s[i] != 'H') return false;
    for (size_t k = i + 1; k < i + 4; k++)
        if (s[k] < '0' || s[k] > '9') return false;
    for (size_t k = i + 4; k < len; k++)
        if (strchr("FfDdiA", s[k]) == NULL) return false;
    return true;
}

static bool take_hazard(still_reader *r, still_attr a)
{
    char kept[VALUE_MAX + 1];
    const still_raw *raw = &r->raw[a];
    size_t n = raw->len;
    for (size_t i = 0; i < n; i++) kept[i] = raw->p[i] == '+' ? ' ' : raw->p[i];
    still_raw text = {kept, n}, item;
    size_t at = 0, items = 0;
    bool none = false;
    while (still_reader_item(&text, &at, &item)) {
        items++;
        if (item.len == 4 && memcmp(item.p, "none", 4) == 0)
            none = true;
        else if (!is_hazard(item.p, item.len))
            goto bad;
    }
    if (items > 0 && (!none || items == 1)) return still_reader_intern(r, kept, n, &r->text[a]);
bad:
    still_reader_fault_value(r, STILL_CODE_HAZARD, a, "is not a list of H-statements");
    return false;
}

static bool take(still_reader *r, still_attr a)
{
    const still_attr_info *info = still_attr_of(a);
    const still_elem_info *elem = still_elem_of(r->elem);
    still_vocabulary voc = (still_vocabulary)info->vocabulary;
    switch ((still_value)info->how) {
    case STILL_VALUE_ID: return take_id(r, a);
    case STILL_VALUE_TEXT: return take_text(r, a);
    case STILL_VALUE_WORD: return take_word(r, a, voc, 1, still_word_count(voc) - 1);
    case STILL_VALUE_KIND:
        if (elem->vocabulary == STILL_VOC_COUNT) return take_text(r, a);
        return take_word(r, a, (still_vocabulary)elem->vocabulary, elem->kind_lo, elem->kind_hi);
    case STILL_VALUE_POSITION: return still_reader_position(r, a);
    case STILL_VALUE_POSITIONS: return still_reader_positions(r, a);
    case STILL_VALUE_QUANTITY: return take_quantity(r, a);
    case STILL_VALUE_FILL: return take_fill(r, a);
    case STILL_VALUE_SHEET: return take_sheet(r, a);
    case STILL_VALUE_SIZE: return true;
    case STILL_VALUE_ENDS: return take_ends(r, a);
    case STILL_VALUE_NAME_REF: return take_name_ref(r, a);
    case STILL_VALUE_PORT_REF: return take_port_ref(r, a);
    case STILL_VALUE_LIST: return take_list(r, a);
    case STILL_VALUE_HAZARD: return take_hazard(r, a);
    case STILL_VALUE_COMPLETE:
        if (r->raw[a].len == 8 && memcmp(r->raw[a].p, "complete", 8) == 0) return true;
        still_reader_fault_value(r, STILL_CODE_WORD, a,
                                 "is not a value of this attribute; it can be complete");
        return false;
    }
    return false;
}

void still_reader_values(still_reader *r)
{
    const still_attr_set late = STILL_ATTR_BIT(POSITION) | STILL_ATTR_BIT(NORMAL);
    r->ok = 0;
    r->word[STILL_ATTR_KIND] = 0;
    r->n_refs = 0;
    r->ref0 = r->plant->n_refs;
    for (int pass = 0; pass < 2; pass++) {
        still_attr_set todo = pass == 0 ? r->seen & ~late : r->seen & late;
        while (todo != 0 && r->status == STILL_OK) {
            still_attr a = still_reader_next(&todo);
            bool list = still_attr_of(a)->how == STILL_VALUE_LIST;
            if (r->raw[a].len > (list ? LIST_MAX : VALUE_MAX)) {
                still_reader_fault(r, STILL_CODE_LENGTH, a, "%s is too long",
                                   still_attr_of(a)->text);
                continue;
            }
            if (take(r, a)) r->ok |= (still_attr_set)1 << a;
        }
    }
}
