/* Quantities with units.
 * Problem: exact, and the same in every locale.
 * Method: a number of up to 2^53 times a power of ten up to 10^22 is one exact product or quotient
 * (W. D. Clinger, "How to read floating point numbers accurately", PLDI 1990, doi
 * 10.1145/93542.93557). What is longer goes to strtod with this thread's locale set to "C" for
 * the call. The text is checked before, so strtod never sees "inf", "nan" or "0x".
 * Factors: NIST SP 811 (2008), appendix B.8: foot 0.3048 m, inch 0.0254 m, pound 0.453 592 37 kg
 * and standard gravity 9.806 65 m/s2 exact; US gallon = 231 in3, exact; psi = lbf/in2 follows.
 * Gauge = absolute - 1.01325 bar (standard atmosphere). */
#include "quantity.h"

#include <float.h>
#include <locale.h>
#include <math.h>
#include <stdbool.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#if FLT_EVAL_METHOD != 0
#error "the exact product needs arithmetic in plain double"
#endif

#define ATM_BAR 1.01325
#define PSI_BAR 0.06894757293168361 /* 0.45359237 * 9.80665 / 0.0254^2 / 1e5 */
#define LARGEST 1e12

typedef enum how {
    TIMES,    /* value * factor */
    OVER,     /* value / factor: one rounding where the factor is a power of ten */
    GAUGE,    /* value * factor + atmosphere */
    GAUGE_BY, /* value / factor + atmosphere */
    CELSIUS,
    FAHRENHEIT
} how;

static const struct unit {
    const char *name;
    still_dim dim;
    how how;
    double factor;
} units[] = {
    {"m", STILL_DIM_LENGTH, TIMES, 1},
    {"mm", STILL_DIM_LENGTH, OVER, 1000},
    {"in", STILL_DIM_LENGTH, TIMES, 0.0254},
    {"ft", STILL_DIM_LENGTH, TIMES, 0.3048},
    {"m3", STILL_DIM_VOLUME, TIMES, 1},
    {"L", STILL_DIM_VOLUME, OVER, 1000},
    {"ft3", STILL_DIM_VOLUME, TIMES, 0.028316846592},
    {"gal(US)", STILL_DIM_VOLUME, TIMES, 0.003785411784},
    {"barg", STILL_DIM_PRESSURE, GAUGE, 1},
    {"bara", STILL_DIM_PRESSURE, TIMES, 1},
    {"kPag", STILL_DIM_PRESSURE, GAUGE_BY, 100},
    {"kPaa", STILL_DIM_PRESSURE, OVER, 100},
    {"MPag", STILL_DIM_PRESSURE, GAUGE, 10},
    {"MPaa", STILL_DIM_PRESSURE, TIMES, 10},
    {"psig", STILL_DIM_PRESSURE, GAUGE, PSI_BAR},
    {"psia", STILL_DIM_PRESSURE, TIMES, PSI_BAR},
    {"degC", STILL_DIM_TEMPERATURE, CELSIUS, 1},
    {"degF", STILL_DIM_TEMPERATURE, FAHRENHEIT, 1},
    {"K", STILL_DIM_TEMPERATURE, TIMES, 1},
    {"kg", STILL_DIM_MASS, TIMES, 1},
    {"lb", STILL_DIM_MASS, TIMES, 0.45359237},
    {"kW", STILL_DIM_POWER, TIMES, 1},
    {"kg/m3", STILL_DIM_DENSITY, TIMES, 1},
    {"GPa", STILL_DIM_MODULUS, TIMES, 1},
    {"1/K", STILL_DIM_EXPANSIVITY, TIMES, 1},
    {"1/degF", STILL_DIM_EXPANSIVITY, TIMES, 1.8},
    {"1/bar", STILL_DIM_COMPRESSIBILITY, TIMES, 1},
    {"1/MPa", STILL_DIM_COMPRESSIBILITY, OVER, 10},
    {"1/psi", STILL_DIM_COMPRESSIBILITY, OVER, PSI_BAR},
    {"s", STILL_DIM_TIME, TIMES, 1},
    {"min", STILL_DIM_TIME, TIMES, 60},
    {"h", STILL_DIM_TIME, TIMES, 3600},
};

/* Pressure units that do not say whether gauge or absolute is meant. */
static const char *const vague[] = {"bar", "kPa", "MPa", "Pa", "psi", "mbar", "atm"};

static bool digit(char c)
{
    return c >= '0' && c <= '9';
}

/* The long way: strtod in the "C" locale, for this thread only. */
static double by_strtod(const char *s, size_t len)
{
    char buf[400];
    if (len >= sizeof buf) return HUGE_VAL;
    memcpy(buf, s, len);
    buf[len] = '\0';
    locale_t c = newlocale(LC_ALL_MASK, "C", (locale_t)0);
    if (c == (locale_t)0) return HUGE_VAL;
    locale_t before = uselocale(c);
    double v = strtod(buf, NULL);
    uselocale(before);
    freelocale(c);
    return v;
}

size_t still_number_prefix(const char *s, size_t len, double *out)
{
    static const double tens[] = {1e0,  1e1,  1e2,  1e3,  1e4,  1e5,  1e6,  1e7,
                                  1e8,  1e9,  1e10, 1e11, 1e12, 1e13, 1e14, 1e15,
                                  1e16, 1e17, 1e18, 1e19, 1e20, 1e21, 1e22};
    size_t i = 0, digits = 0;
    uint64_t m = 0;
    int power = 0, e = 0;
    bool point = false, exact = true;
    bool minus = len > 0 && s[0] == '-';
    if (len > 0 && (s[0] == '-' || s[0] == '+')) i++;
    for (; i < len && (digit(s[i]) || (s[i] == '.' && !point)); i++) {
        if (s[i] == '.') {
            point = true;
            continue;
        }
        digits++;
        if (m > (UINT64_C(1) << 53) / 10 - 1)
            exact = false;
        else
            m = m * 10 + (uint64_t)(s[i] - '0');
        if (point && power > -1000) power--;
    }
    if (digits == 0 || s[i - 1] == '.') return 0;
    if (i + 1 < len && (s[i] == 'e' || s[i] == 'E')) {
        size_t k = i + 1;
        bool down = s[k] == '-';
        if (s[k] == '-' || s[k] == '+') k++;
        if (k < len && digit(s[k])) {
            for (; k < len && digit(s[k]); k++)
                if (e < 10000) e = e * 10 + (s[k] - '0');
            power += down ? -e : e;
            i = k;
        }
    }
    if (!exact || power > 22 || power < -22) {
        *out = by_strtod(s, i);
        return i;
    }
    double v = power < 0 ? (double)m / tens[-power] : (double)m * tens[power];
    *out = minus ? -v : v;
    return i;
}

static void trim(const char **s, size_t *len)
{
    while (*len > 0 && (*s)[0] == ' ') {
        (*s)++;
        (*len)--;
    }
    while (*len > 0 && (*s)[*len - 1] == ' ') (*len)--;
}

still_quantity_fault still_number_parse(const char *s, size_t len, double *out)
{
    trim(&s, &len);
    double v;
    size_t n = still_number_prefix(s, len, &v);
    if (n == 0 || n != len) return STILL_QUANTITY_NOT_A_NUMBER;
    if (!(fabs(v) <= LARGEST)) return STILL_QUANTITY_TOO_LARGE;
    *out = v;
    return STILL_QUANTITY_OK;
}

static bool same(const char *name, const char *s, size_t len)
{
    return name[0] == s[0] && strncmp(name, s, len) == 0 && name[len] == '\0';
}

static double convert(const struct unit *u, double v)
{
    switch (u->how) {
    case TIMES: return v * u->factor;
    case OVER: return v / u->factor;
    case GAUGE: return v * u->factor + ATM_BAR;
    case GAUGE_BY: return v / u->factor + ATM_BAR;
    case CELSIUS: return v + 273.15;
    case FAHRENHEIT: return (v + 459.67) * 5 / 9;
    }
    return (double)NAN;
}

still_quantity_fault still_quantity_parse(const char *s, size_t len, still_dim dim, double *out)
{
    trim(&s, &len);
    double v;
    size_t n = still_number_prefix(s, len, &v);
    if (n == 0) return STILL_QUANTITY_NOT_A_NUMBER;
    s += n;
    len -= n;
    trim(&s, &len);
    if (len == 0) return STILL_QUANTITY_NO_UNIT;
    still_dim units_of = dim == STILL_DIM_ELEVATION ? STILL_DIM_LENGTH : dim;
    for (size_t i = 0; i < sizeof units / sizeof units[0]; i++) {
        if (units[i].dim != units_of || !same(units[i].name, s, len)) continue;
        double si = convert(&units[i], v);
        if (!(fabs(si) <= LARGEST)) return STILL_QUANTITY_TOO_LARGE;
        if (dim != STILL_DIM_ELEVATION && si < 0) return STILL_QUANTITY_BELOW;
        if ((dim == STILL_DIM_DENSITY || dim == STILL_DIM_COMPRESSIBILITY ||
             dim == STILL_DIM_MODULUS || dim == STILL_DIM_TIME) &&
            !(si > 0))
            return STILL_QUANTITY_BELOW;
        *out = si;
        return STILL_QUANTITY_OK;
    }
    if (dim == STILL_DIM_PRESSURE)
        for (size_t i = 0; i < sizeof vague / sizeof vague[0]; i++)
            if (same(vague[i], s, len)) return STILL_QUANTITY_NO_GAUGE;
    return STILL_QUANTITY_BAD_UNIT;
}
