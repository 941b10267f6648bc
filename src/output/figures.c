/* Units and decimal signs for people. Factors: NIST SP 811 (2008), appendix B; from memory, to at
 * least seven digits. */
#include "figures.h"

#include "number.h"

#include <ctype.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

typedef struct unit {
    const char *si, *us; /* us NULL: the same for everybody, only the decimal sign differs */
    double factor, offset;
} unit;

/* Longer ones first where one begins another. */
static const unit units[] = {
    {"bar/K", "psi/degF", 14.503774 / 1.8, 0.0},
    {"barg", "psig", 14.503774, 0.0},
    {"bara", "psia", 14.503774, 0.0},
    {"bar", "psi", 14.503774, 0.0},
    {"kPa", "psi", 0.14503774, 0.0},
    {"Pa", "micron Hg", 7.5006168, 0.0},
    {"degC", "degF", 1.8, 32.0},
    {"K", "degF", 1.8, 0.0}, /* in a record always a difference */
    {"m3", "ft3", 35.314667, 0.0},
    {"kg/h", "lb/h", 2.2046226, 0.0},
    {"kg", "lb", 2.2046226, 0.0},
    {"kW", "BTU/h", 3412.1416, 0.0},
    {"mm", "in", 1.0 / 25.4, 0.0},
    {"L", "gal(US)", 0.26417205, 0.0},
    {"ppm", NULL, 0.0, 0.0},
    {"min", NULL, 0.0, 0.0},
    {"m", "ft", 1.0 / 0.3048, 0.0},
    {"s", NULL, 0.0, 0.0},
    {"h", NULL, 0.0, 0.0},
    {"x", NULL, 0.0, 0.0},
    {"%", NULL, 0.0, 0.0},
};
enum { N_UNITS = sizeof units / sizeof units[0] };

static bool is_word(char c)
{
    return isalnum((unsigned char)c) || c == '_' || ((unsigned char)c & 0x80U) != 0;
}

/** Length of a number at s: digits, a point with digits behind; 0 = none. */
static size_t number_at(const char *s)
{
    size_t n = s[0] == '-' ? 1 : 0, digits = 0;
    while (isdigit((unsigned char)s[n + digits])) digits++;
    if (digits == 0) return 0;
    n += digits;
    if (s[n] != '.' || !isdigit((unsigned char)s[n + 1])) return n;
    n++;
    while (isdigit((unsigned char)s[n])) n++;
    return n;
}

/** The unit at s, whole, or NULL. "m" in "3 m/s" is none: a rate that is not known stays. */
static const unit *unit_at(const char *s)
{
    for (int i = 0; i < N_UNITS; i++) {
        size_t n = strlen(units[i].si);
        if (strncmp(s, units[i].si, n) != 0) continue;
        if (!is_word(s[n]) && s[n] != '/') return &units[i];
    }
    return NULL;
}

static void add_number(still_buf *out, const still_figures *people, const char *s, size_t n)
{
    for (size_t i = 0; i < n; i++) still_buf_char(out, people->comma && s[i] == '.' ? ',' : s[i]);
}

static void add_double(still_buf *out, const still_figures *people, double x, int digits)
{
    still_buf text = STILL_BUF_INIT;
    still_number_add(&text, x, digits);
    if (text.failed)
        out->failed = true;
    else
        add_number(out, people, text.text, text.len);
    still_buf_clear(&text);
}

/** A figure as it stands in the record, converted in front where that is asked for. */
static void add_figure(still_buf *out, const still_figures *people, const char *s, size_t n,
                       const unit *u)
{
    bool both = people->us && u->us != NULL;
    if (both) {
        add_double(out, people, strtod(s, NULL) * u->factor + u->offset, 4);
        still_buf_printf(out, " %s [", u->us);
    }
    add_number(out, people, s, n);
    still_buf_char(out, ' ');
    still_buf_add(out, u->si);
    if (both) still_buf_char(out, ']');
}

void still_figures_words(still_buf *out, const still_figures *people, const char *words)
{
    if (!people->us && !people->comma) {
        still_buf_add(out, words);
        return;
    }
    for (const char *s = words; *s != '\0';) {
        bool starts = s == words || (!is_word(s[-1]) && s[-1] != '.' && s[-1] != '-' &&
                                     s[-1] != ',' && s[-1] != '/');
        size_t n = starts ? number_at(s) : 0;
        const unit *u = n > 0 && s[n] == ' ' ? unit_at(s + n + 1) : NULL;
        if (u == NULL) {
            size_t skip = n > 0 ? n : 1;
            still_buf_addn(out, s, skip);
            s += skip;
            continue;
        }
        add_figure(out, people, s, n, u);
        s += n + 1 + strlen(u->si);
    }
}

void still_figures_one(still_buf *out, const still_figures *people, double value, int digits,
                       const char *si)
{
    if (!isfinite(value)) {
        still_buf_add(out, still_messages_get(people->messages, "unknown"));
        return;
    }
    /* A small vessel in litres; what is next to nothing as less than a gram. */
    if (strcmp(si, "m3") == 0 && fabs(value) < 0.1) {
        value *= 1000.0;
        si = "L";
    }
    if ((strcmp(si, "kg") == 0 || strcmp(si, "L") == 0) && value > 0.0 && value < 0.001) {
        still_buf_add(out, still_messages_get(people->messages, "less than"));
        still_buf_char(out, ' ');
        value = 0.001;
    }
    still_buf text = STILL_BUF_INIT;
    still_number_add(&text, value, digits);
    const unit *u = unit_at(si);
    if (text.failed) {
        out->failed = true;
    } else if (u != NULL) {
        add_figure(out, people, text.text, text.len, u);
    } else {
        add_number(out, people, text.text, text.len);
        if (si[0] != '\0') still_buf_printf(out, " %s", si);
    }
    still_buf_clear(&text);
}
