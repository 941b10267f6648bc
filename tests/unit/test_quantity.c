/* Quantities. Outside values: NIST SP 811 (2008) appendix B.8 (foot, inch, gallon (US), pound,
 * psi) and the definitions of degC, degF and the standard atmosphere (1.01325 bar). */
#include <locale.h>
#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <string.h>

#include <cmocka.h>

#include "quantity.h"

typedef struct row {
    const char *text;
    still_dim dim;
    still_quantity_fault fault;
    double value; /* exact */
} row;

static const row rows[] = {
    {"0.6 m", STILL_DIM_LENGTH, STILL_QUANTITY_OK, 0.6},
    {"0.6m", STILL_DIM_LENGTH, STILL_QUANTITY_OK, 0.6},
    {"  0.6   m  ", STILL_DIM_LENGTH, STILL_QUANTITY_OK, 0.6},
    {"+.5 m", STILL_DIM_LENGTH, STILL_QUANTITY_OK, 0.5},
    {"6e-1 m", STILL_DIM_LENGTH, STILL_QUANTITY_OK, 0.6},
    {"52.5 mm", STILL_DIM_LENGTH, STILL_QUANTITY_OK, 0.0525},
    {"1 in", STILL_DIM_LENGTH, STILL_QUANTITY_OK, 0.0254}, /* NIST SP 811 B.8, exact */
    {"1 ft", STILL_DIM_LENGTH, STILL_QUANTITY_OK, 0.3048}, /* NIST SP 811 B.8, exact */
    {"-0 m", STILL_DIM_LENGTH, STILL_QUANTITY_OK, 0},
    {"0.59999999999999998 m", STILL_DIM_LENGTH, STILL_QUANTITY_OK, 0.59999999999999998},
    {"123456789012.345678901 mm", STILL_DIM_LENGTH, STILL_QUANTITY_OK,
     123456789012.345678901 / 1000},
    {"-1.5 m", STILL_DIM_ELEVATION, STILL_QUANTITY_OK, -1.5},
    {"3.2 m3", STILL_DIM_VOLUME, STILL_QUANTITY_OK, 3.2},
    {"500 L", STILL_DIM_VOLUME, STILL_QUANTITY_OK, 0.5},
    {"1 ft3", STILL_DIM_VOLUME, STILL_QUANTITY_OK, 0.028316846592},     /* 0.3048^3, exact */
    {"1 gal(US)", STILL_DIM_VOLUME, STILL_QUANTITY_OK, 0.003785411784}, /* 231 in3, exact */
    {"0 barg", STILL_DIM_PRESSURE, STILL_QUANTITY_OK, 1.01325},
    {"19 bara", STILL_DIM_PRESSURE, STILL_QUANTITY_OK, 19},
    {"100 kPaa", STILL_DIM_PRESSURE, STILL_QUANTITY_OK, 1},
    {"-100 kPag", STILL_DIM_PRESSURE, STILL_QUANTITY_OK, -1 + 1.01325},
    {"1.9 MPaa", STILL_DIM_PRESSURE, STILL_QUANTITY_OK, 19},
    {"1 MPag", STILL_DIM_PRESSURE, STILL_QUANTITY_OK, 10 + 1.01325},
    {"-34 degC", STILL_DIM_TEMPERATURE, STILL_QUANTITY_OK, -34 + 273.15},
    {"212 degF", STILL_DIM_TEMPERATURE, STILL_QUANTITY_OK, 373.15}, /* boiling point of water */
    {"32 degF", STILL_DIM_TEMPERATURE, STILL_QUANTITY_OK, 273.15},
    {"0 K", STILL_DIM_TEMPERATURE, STILL_QUANTITY_OK, 0},
    {"1 lb", STILL_DIM_MASS, STILL_QUANTITY_OK, 0.45359237}, /* NIST SP 811 B.8, exact */
    {"7.5 kW", STILL_DIM_POWER, STILL_QUANTITY_OK, 7.5},
    {"870 kg/m3", STILL_DIM_DENSITY, STILL_QUANTITY_OK, 870},
    {"", STILL_DIM_LENGTH, STILL_QUANTITY_NOT_A_NUMBER, 0},
    {"m", STILL_DIM_LENGTH, STILL_QUANTITY_NOT_A_NUMBER, 0},
    {"- 1 m", STILL_DIM_LENGTH, STILL_QUANTITY_NOT_A_NUMBER, 0},
    {"5. m", STILL_DIM_LENGTH, STILL_QUANTITY_NOT_A_NUMBER, 0},
    {". m", STILL_DIM_LENGTH, STILL_QUANTITY_NOT_A_NUMBER, 0},
    {"nan m", STILL_DIM_LENGTH, STILL_QUANTITY_NOT_A_NUMBER, 0},
    {"inf m", STILL_DIM_LENGTH, STILL_QUANTITY_NOT_A_NUMBER, 0},
    {"-infinity m", STILL_DIM_LENGTH, STILL_QUANTITY_NOT_A_NUMBER, 0},
    {"\xE2\x88\x92"
     "3 m",
     STILL_DIM_ELEVATION, STILL_QUANTITY_NOT_A_NUMBER, 0}, /* U+2212 */
    {"0x10 m", STILL_DIM_LENGTH, STILL_QUANTITY_BAD_UNIT, 0},
    {"0,6 m", STILL_DIM_LENGTH, STILL_QUANTITY_BAD_UNIT, 0},
    {"1.2.3 m", STILL_DIM_LENGTH, STILL_QUANTITY_BAD_UNIT, 0},
    {"1e m", STILL_DIM_LENGTH, STILL_QUANTITY_BAD_UNIT, 0},
    {"6", STILL_DIM_LENGTH, STILL_QUANTITY_NO_UNIT, 0},
    {"19 ", STILL_DIM_PRESSURE, STILL_QUANTITY_NO_UNIT, 0},
    {"6 M", STILL_DIM_LENGTH, STILL_QUANTITY_BAD_UNIT, 0},
    {"6 m m", STILL_DIM_LENGTH, STILL_QUANTITY_BAD_UNIT, 0},
    {"6 bara", STILL_DIM_LENGTH, STILL_QUANTITY_BAD_UNIT, 0},
    {"6 gal", STILL_DIM_VOLUME, STILL_QUANTITY_BAD_UNIT, 0},
    {"6 degc", STILL_DIM_TEMPERATURE, STILL_QUANTITY_BAD_UNIT, 0},
    {"19 bar", STILL_DIM_PRESSURE, STILL_QUANTITY_NO_GAUGE, 0},
    {"250 psi", STILL_DIM_PRESSURE, STILL_QUANTITY_NO_GAUGE, 0},
    {"100 kPa", STILL_DIM_PRESSURE, STILL_QUANTITY_NO_GAUGE, 0},
    {"1 MPa", STILL_DIM_PRESSURE, STILL_QUANTITY_NO_GAUGE, 0},
    {"-1.02 barg", STILL_DIM_PRESSURE, STILL_QUANTITY_BELOW, 0},
    {"-0.1 bara", STILL_DIM_PRESSURE, STILL_QUANTITY_BELOW, 0},
    {"-274 degC", STILL_DIM_TEMPERATURE, STILL_QUANTITY_BELOW, 0},
    {"-460 degF", STILL_DIM_TEMPERATURE, STILL_QUANTITY_BELOW, 0},
    {"-1 K", STILL_DIM_TEMPERATURE, STILL_QUANTITY_BELOW, 0},
    {"-1 mm", STILL_DIM_LENGTH, STILL_QUANTITY_BELOW, 0},
    {"-1 L", STILL_DIM_VOLUME, STILL_QUANTITY_BELOW, 0},
    {"0 kg/m3", STILL_DIM_DENSITY, STILL_QUANTITY_BELOW, 0},
    {"1e13 m", STILL_DIM_LENGTH, STILL_QUANTITY_TOO_LARGE, 0},
    {"1e400 m", STILL_DIM_LENGTH, STILL_QUANTITY_TOO_LARGE, 0},
    {"1e99999999999 m", STILL_DIM_LENGTH, STILL_QUANTITY_TOO_LARGE, 0},
};
enum { ROWS = sizeof rows / sizeof rows[0] };

static void run_row(void **state)
{
    const row *r = *state;
    double v = -77;
    assert_int_equal(still_quantity_parse(r->text, strlen(r->text), r->dim, &v), r->fault);
    double want = r->fault == STILL_QUANTITY_OK ? r->value : -77;
    if (r->dim == STILL_DIM_TEMPERATURE)
        assert_true(fabs(v - want) < 1e-12 * 400);
    else
        assert_true(!(v < want) && !(v > want));
}

/* psi = lbf/in2: 6.894 757 E+03 Pa (NIST SP 811 B.8). */
static void psi(void **state)
{
    (void)state;
    double v = 0;
    assert_int_equal(still_quantity_parse("1 psia", 6, STILL_DIM_PRESSURE, &v), STILL_QUANTITY_OK);
    assert_true(fabs(v * 1e5 - 6894.757) < 5e-4);
    assert_int_equal(still_quantity_parse("150 psig", 8, STILL_DIM_PRESSURE, &v),
                     STILL_QUANTITY_OK);
    assert_true(fabs(v - (150 * 0.06894757293168361 + 1.01325)) < 1e-12);
}

static void text_ends_at_its_length(void **state)
{
    (void)state;
    double v = 0;
    assert_int_equal(still_quantity_parse("12 mm", 4, STILL_DIM_LENGTH, &v), STILL_QUANTITY_OK);
    assert_true(!(v < 12) && !(v > 12));
    assert_int_equal(still_quantity_parse("12 m", 3, STILL_DIM_LENGTH, &v), STILL_QUANTITY_NO_UNIT);
}

static void locale_does_not_matter(void **state)
{
    (void)state;
    static const char *const tried[] = {"de_DE.UTF-8", "fr_FR.UTF-8", "de_DE", "C.UTF-8"};
    for (size_t i = 0; i < sizeof tried / sizeof tried[0]; i++) {
        setlocale(LC_ALL, tried[i]);
        double v = 0;
        assert_int_equal(still_quantity_parse("0.5 m", 5, STILL_DIM_LENGTH, &v), STILL_QUANTITY_OK);
        assert_true(!(v < 0.5) && !(v > 0.5));
        const char *longer = "0.50000000000000000000000 m";
        assert_int_equal(still_quantity_parse(longer, strlen(longer), STILL_DIM_LENGTH, &v),
                         STILL_QUANTITY_OK);
        assert_true(!(v < 0.5) && !(v > 0.5));
    }
    setlocale(LC_ALL, "C");
}

static void bare_numbers(void **state)
{
    (void)state;
    double v = 0;
    assert_int_equal(still_number_parse("0.45", 4, &v), STILL_QUANTITY_OK);
    assert_true(!(v < 0.45) && !(v > 0.45));
    assert_int_equal(still_number_parse("0.45 m", 6, &v), STILL_QUANTITY_NOT_A_NUMBER);
    assert_int_equal(still_number_parse("", 0, &v), STILL_QUANTITY_NOT_A_NUMBER);
    assert_int_equal(still_number_parse("1e300", 5, &v), STILL_QUANTITY_TOO_LARGE);
}

int main(void)
{
    static struct CMUnitTest tests[ROWS + 4];
    static row own[ROWS];
    memcpy(own, rows, sizeof own);
    for (size_t i = 0; i < ROWS; i++)
        tests[i] = (struct CMUnitTest){own[i].text, run_row, NULL, NULL, &own[i]};
    tests[ROWS] = (struct CMUnitTest)cmocka_unit_test(psi);
    tests[ROWS + 1] = (struct CMUnitTest)cmocka_unit_test(text_ends_at_its_length);
    tests[ROWS + 2] = (struct CMUnitTest)cmocka_unit_test(locale_does_not_matter);
    tests[ROWS + 3] = (struct CMUnitTest)cmocka_unit_test(bare_numbers);
    return cmocka_run_group_tests(tests, NULL, NULL);
}
