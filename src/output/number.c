#include "number.h"

#include <inttypes.h>
#include <math.h>
#include <stdio.h>
#include <string.h>

/* snprintf writes the decimal sign of the locale, whatever that is: anything that cannot belong
 * to a number otherwise is that sign. */
static void add_with_point(still_buf *out, const char *s)
{
    bool point = false;
    for (; *s != '\0'; s++) {
        bool plain = strchr("0123456789+-e", *s) != NULL;
        if (plain)
            still_buf_char(out, *s);
        else if (!point)
            still_buf_char(out, '.');
        point = point || !plain;
    }
}

void still_number_add(still_buf *out, double x, int digits)
{
    char text[64];
    if (!isfinite(x)) {
        still_buf_add(out, "unknown");
        return;
    }
    if (fabs(x) >= pow(10.0, digits) && fabs(x) < 1e9)
        snprintf(text, sizeof text, "%.0f", x);
    else
        snprintf(text, sizeof text, "%.*g", digits, x);
    add_with_point(out, text);
}

void still_number_fixed(still_buf *out, double x, int decimals)
{
    char text[340]; /* the largest double has 309 digits */
    if (!isfinite(x)) {
        still_buf_add(out, "unknown");
        return;
    }
    if (fabs(x) < 0.5 * pow(10.0, -decimals)) x = 0.0;
    snprintf(text, sizeof text, "%.*f", decimals, x);
    add_with_point(out, text);
}

void still_number_plain(still_buf *out, double x, int digits)
{
    double whole = isfinite(x) && fabs(x) > 0.0 ? floor(log10(fabs(x))) + 1.0 : 1.0;
    still_number_fixed(out, x, (int)fmax(0.0, fmin(17.0, (double)digits - whole)));
}

void still_number_coord(still_buf *out, double x)
{
    char text[64];
    double rounded = round(x * 100.0);
    if (!(fabs(rounded) < 1e12)) rounded = 0.0;
    int64_t whole = (int64_t)fabs(rounded);
    snprintf(text, sizeof text, "%s%" PRId64, rounded < 0.0 ? "-" : "", whole / 100);
    still_buf_add(out, text);
    int rest = (int)(whole % 100);
    if (rest == 0) return;
    snprintf(text, sizeof text, rest % 10 == 0 ? ".%d" : ".%02d",
             rest % 10 == 0 ? rest / 10 : rest);
    still_buf_add(out, text);
}
