/* Pressure against temperature of one closed-in piece as a table. */
#include "output.h"

#include "number.h"

#include <math.h>

enum { PRESSURE_DIGITS = 10 };

/* Three decimals; more for a temperature that has more, such as one given in degF. */
static void temperature(still_buf *out, double degC)
{
    bool exact = fabs(degC - round(degC * 1000.0) / 1000.0) < 1e-9;
    still_number_fixed(out, degC, exact ? 3 : 9);
}

static void pressure(still_buf *out, double bara)
{
    still_buf_char(out, ',');
    if (isfinite(bara)) still_number_plain(out, bara, PRESSURE_DIGITS);
}

void still_curve_csv_write(still_buf *out, const still_curve_record *r)
{
    still_buf_add(out, "temperature_degC,rigid_bara,pipe_bara\n");
    for (size_t i = 0; i < r->n_rows; i++) {
        temperature(out, r->rows[i].degC);
        pressure(out, r->rows[i].rigid_bara);
        pressure(out, r->rows[i].pipe_bara);
        still_buf_char(out, '\n');
    }
}
