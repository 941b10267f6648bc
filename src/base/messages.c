/* Reading of message catalogues, and formatting by them.
 *
 * Why a text can do no harm: arguments are fetched by the English format, which the compiler has
 * checked; a translation only names those fetched, each by its own placeholder, and was refused at
 * opening if it names one that the key has not, or another kind of it. */
#include "messages.h"

#include <stdint.h>
#include <stdio.h>
#include <string.h>

enum { MOST_ARGS = 16, SPEC = 24 };

/** A placeholder: its number from 0, and its words without that number ("%.4g"). */
typedef struct spec {
    unsigned nth;
    char conv; /* s c d u g f; '%' for a percent sign; 0 = not understood */
    char size; /* 'l', 'L' for ll, 'z', or 0 */
    char text[SPEC];
    size_t len; /* in the format */
} spec;

/** Take a placeholder at a '%'. @param[in,out] next  number of one that bears none */
static spec take_spec(const char *at, unsigned *next)
{
    spec s = {.conv = 0, .len = 1};
    size_t i = 1, n = 0;
    unsigned numbered = 0;
    size_t digits = 0;
    while (at[i + digits] >= '0' && at[i + digits] <= '9' && digits < 3) {
        numbered = numbered * 10 + (unsigned)(at[i + digits] - '0');
        digits++;
    }
    if (digits > 0 && numbered > 0 && at[i + digits] == '$')
        i += digits + 1;
    else
        numbered = 0;
    s.text[n++] = '%';
    while (at[i] != '\0' && strchr("-+ #0123456789.", at[i]) != NULL && n + 4 < SPEC)
        s.text[n++] = at[i++];
    if (at[i] == 'l' || at[i] == 'z') {
        s.size = at[i];
        s.text[n++] = at[i++];
        if (s.size == 'l' && at[i] == 'l') {
            s.size = 'L';
            s.text[n++] = at[i++];
        }
    }
    if (at[i] == '\0' || strchr("scdugf%", at[i]) == NULL) return s;
    s.conv = at[i];
    s.text[n++] = at[i++];
    s.text[n] = '\0';
    s.len = i;
    if (s.conv != '%') s.nth = numbered > 0 ? numbered - 1 : (*next)++;
    return s;
}

/** Kinds of the arguments of a format, by number. @return how many, or -1 when it is not understood
 */
static int kinds_of(const char *format, uint16_t kinds[MOST_ARGS])
{
    unsigned next = 0, most = 0;
    memset(kinds, 0, MOST_ARGS * sizeof kinds[0]);
    for (const char *at = format; (at = strchr(at, '%')) != NULL;) {
        spec s = take_spec(at, &next);
        if (s.conv == 0 || s.nth >= MOST_ARGS) return -1;
        at += s.len;
        if (s.conv == '%') continue;
        uint16_t kind = (uint16_t)((unsigned char)s.conv << 8U | (unsigned char)s.size);
        if (kinds[s.nth] != 0 && kinds[s.nth] != kind) return -1;
        kinds[s.nth] = kind;
        if (s.nth + 1 > most) most = s.nth + 1;
    }
    for (unsigned i = 0; i < most; i++)
        if (kinds[i] == 0) return -1;
    return (int)most;
}

/** A text that is no format may hold a lone '%': "100 % of". Then its key is never one either. */
static bool fits(const char *key, const char *text)
{
    uint16_t a[MOST_ARGS], b[MOST_ARGS];
    int n = kinds_of(key, a);
    if (n < 0) return true;
    return kinds_of(text, b) == n && memcmp(a, b, sizeof a) == 0;
}

static uint32_t word_at(const still_messages *m, size_t at)
{
    const unsigned char *b = m->bytes + at;
    if (m->swapped)
        return (uint32_t)b[0] << 24U | (uint32_t)b[1] << 16U | (uint32_t)b[2] << 8U | b[3];
    return (uint32_t)b[3] << 24U | (uint32_t)b[2] << 16U | (uint32_t)b[1] << 8U | b[0];
}

/** Text number i of a table, or NULL when it does not lie in the file whole. */
static const char *text_at(const still_messages *m, size_t table, size_t i)
{
    size_t len = word_at(m, table + 8 * i), from = word_at(m, table + 8 * i + 4);
    if (from >= m->len || len >= m->len - from || m->bytes[from + len] != 0) return NULL;
    return (const char *)m->bytes + from;
}

bool still_messages_open(still_messages *out, const void *bytes, size_t len, const char **why,
                         const char **key)
{
    still_messages m = {.bytes = bytes, .len = len};
    *key = "";
    *why = "it is no message catalogue (.mo), or is cut off";
    if (len < 28 || len > UINT32_MAX) return false;
    if (word_at(&m, 0) != 0x950412deU) m.swapped = true;
    if (word_at(&m, 0) != 0x950412deU || word_at(&m, 4) >> 16U != 0) return false;
    m.n = word_at(&m, 8);
    m.keys = word_at(&m, 12);
    m.texts = word_at(&m, 16);
    if (m.n > len / 16 || m.keys > len - 8 * m.n || m.texts > len - 8 * m.n) return false;
    const char *before = NULL;
    for (size_t i = 0; i < m.n; i++) {
        const char *k = text_at(&m, m.keys, i), *t = text_at(&m, m.texts, i);
        if (k == NULL || t == NULL) return false;
        *key = k;
        if (before != NULL && strcmp(before, k) >= 0) {
            *why = "its texts are not in order";
            return false;
        }
        before = k;
        if (k[0] != '\0' && !fits(k, t)) {
            *why = "placeholders of this text are not those of the English one";
            return false;
        }
    }
    *out = m;
    return true;
}

const char *still_messages_get(const still_messages *m, const char *key)
{
    if (m == NULL || key == NULL || key[0] == '\0') return key;
    size_t low = 0, high = m->n;
    while (low < high) {
        size_t mid = low + (high - low) / 2;
        const char *k = (const char *)m->bytes + word_at(m, m->keys + 8 * mid + 4);
        int side = strcmp(key, k);
        if (side == 0) {
            const char *text = (const char *)m->bytes + word_at(m, m->texts + 8 * mid + 4);
            return text[0] != '\0' ? text : key;
        }
        if (side < 0)
            high = mid;
        else
            low = mid + 1;
    }
    return key;
}

typedef union arg {
    const char *s;
    int d;
    unsigned u;
    long ld;
    unsigned long lu;
    long long lld;
    unsigned long long llu;
    size_t z;
    double g;
} arg;

/* One argument by its placeholder. A format that is no literal: its kinds were checked. */
#pragma GCC diagnostic push
#pragma GCC diagnostic ignored "-Wformat-nonliteral"
static void put(still_buf *out, const still_messages *m, const spec *s, arg a)
{
    char text[512];
    int n = 0;
    if (s->conv == 's') {
        const char *words = a.s != NULL ? a.s : "";
        if (strchr(words, ' ') != NULL) words = still_messages_get(m, words);
        if (strcmp(s->text, "%s") == 0)
            still_buf_add(out, words);
        else
            still_buf_printf(out, s->text, words);
        return;
    }
    if (s->conv == 'g' || s->conv == 'f')
        n = snprintf(text, sizeof text, s->text, a.g);
    else if (s->size == 'z')
        n = snprintf(text, sizeof text, s->text, a.z);
    else if (s->size == 'L')
        n = s->conv == 'u' ? snprintf(text, sizeof text, s->text, a.llu)
                           : snprintf(text, sizeof text, s->text, a.lld);
    else if (s->size == 'l')
        n = s->conv == 'u' ? snprintf(text, sizeof text, s->text, a.lu)
                           : snprintf(text, sizeof text, s->text, a.ld);
    else if (s->conv == 'u')
        n = snprintf(text, sizeof text, s->text, a.u);
    else
        n = snprintf(text, sizeof text, s->text, a.d);
    if (n < 0 || (size_t)n >= sizeof text)
        out->failed = true;
    else
        still_buf_addn(out, text, (size_t)n);
}

static void plain(still_buf *out, const char *format, va_list args)
{
    va_list again;
    va_copy(again, args);
    int len = vsnprintf(NULL, 0, format, args);
    char small[512], *text = small;
    if (len >= 0 && (size_t)len < sizeof small) {
        vsnprintf(small, sizeof small, format, again);
        still_buf_addn(out, text, (size_t)len);
    } else if (len < 0) {
        out->failed = true;
    } else {
        /* Room in the buffer, then the text in its place. */
        size_t at = out->len;
        for (int i = 0; i < len && !out->failed; i++) still_buf_char(out, ' ');
        if (!out->failed) vsnprintf(out->text + at, (size_t)len + 1, format, again);
    }
    va_end(again);
}
#pragma GCC diagnostic pop

static arg fetch(uint16_t kind, va_list *args)
{
    arg a = {.s = NULL};
    char conv = (char)(kind >> 8U), size = (char)(kind & 255U);
    if (conv == 's')
        a.s = va_arg(*args, const char *);
    else if (conv == 'g' || conv == 'f')
        a.g = va_arg(*args, double);
    else if (size == 'z')
        a.z = va_arg(*args, size_t);
    else if (size == 'L' && conv == 'u')
        a.llu = va_arg(*args, unsigned long long);
    else if (size == 'L')
        a.lld = va_arg(*args, long long);
    else if (size == 'l' && conv == 'u')
        a.lu = va_arg(*args, unsigned long);
    else if (size == 'l')
        a.ld = va_arg(*args, long);
    else if (conv == 'u')
        a.u = va_arg(*args, unsigned);
    else
        a.d = va_arg(*args, int);
    return a;
}

void still_say_args(still_buf *out, const still_messages *m, const char *format, va_list args)
{
    uint16_t kinds[MOST_ARGS];
    arg given[MOST_ARGS];
    int n = m == NULL ? -1 : kinds_of(format, kinds);
    if (n < 0) {
        plain(out, format, args);
        return;
    }
    va_list rest;
    va_copy(rest, args);
    for (int i = 0; i < n; i++) given[i] = fetch(kinds[i], &rest);
    va_end(rest);
    unsigned next = 0;
    const char *at = still_messages_get(m, format), *sign;
    while ((sign = strchr(at, '%')) != NULL) {
        still_buf_addn(out, at, (size_t)(sign - at));
        spec s = take_spec(sign, &next);
        if (s.conv == '%')
            still_buf_char(out, '%');
        else if (s.conv != 0 && s.nth < (unsigned)n)
            put(out, m, &s, given[s.nth]);
        at = sign + s.len;
    }
    still_buf_add(out, at);
}

void still_say(still_buf *out, const still_messages *m, const char *format, ...)
{
    va_list args;
    va_start(args, format);
    still_say_args(out, m, format, args);
    va_end(args);
}
