/* Importing drawings: memory running out at every place; what is no drawing; changed bytes. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include "alloc.h"
#include "stillset/import.h"
#include "stillset/plan.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define DRAWING STILL_SOURCE_DIR "/tests/cli/plants/drawing.xml"

static char *read_drawing(size_t *len)
{
    FILE *f = fopen(DRAWING, "rb");
    assert_non_null(f);
    char *text = malloc(1 << 16);
    assert_non_null(text);
    *len = fread(text, 1, 1 << 16, f);
    fclose(f);
    return text;
}

static still_status import(still_import **out, const char *text, size_t len)
{
    const still_import_opts opts = {true};
    return still_import_dexpi_memory(out, "drawing", text, len, &opts, NULL);
}

static void N2_no_import_when_memory_runs_out(void **given)
{
    (void)given;
    size_t len = 0;
    char *text = read_drawing(&len);
    still_import *got = NULL;
    uint64_t n = 1;
    for (; n < 100000; n++) {
        still_alloc_fail_at(n);
        still_status status = import(&got, text, len);
        still_alloc_fail_at(0);
        if (status == STILL_OK) break;
        assert_int_equal(status, STILL_E_NOMEM);
        assert_null(got);
    }
    assert_in_range(n, 100, 99999);
    assert_true(still_import_losses(got) > 0);
    still_import_free(got);
    free(text);
}

static void N2_what_is_no_drawing_is_refused(void **given)
{
    (void)given;
    static const char *const bad[] = {"",
                                      "<",
                                      "<Model/>",
                                      "<PlantModel>",
                                      "<!DOCTYPE PlantModel><PlantModel/>",
                                      "<PlantModel>&x;</PlantModel>"};
    still_import *got = NULL;
    for (size_t i = 0; i < sizeof bad / sizeof bad[0]; i++) {
        assert_int_equal(import(&got, bad[i], strlen(bad[i])), STILL_E_INPUT);
        assert_null(got);
    }
    assert_int_equal(import(&got, "<PlantModel/>", 13), STILL_OK);
    assert_true(still_import_losses(got) == 0);
    still_import_free(got);
}

/* One byte changed or left out, at every place: either no drawing, or a plant that can be read. */
static void N2_changed_bytes_give_a_plant_or_none(void **given)
{
    (void)given;
    size_t len = 0;
    char *text = read_drawing(&len);
    static const char with[] = {'<', '"', ' ', '.', '1', '\0', '\x80'};
    for (size_t i = 0; i < len; i++) {
        char old = text[i];
        text[i] = with[i % sizeof with];
        still_import *got = NULL;
        still_status status = import(&got, text, len);
        assert_true(status == STILL_OK || status == STILL_E_INPUT);
        still_import_free(got);
        text[i] = old;
    }
    free(text);
}

/* A tank with two chambers, and a relief valve between two pipes. */
#define VALUE(name, value, unit)                                                                   \
    "<GenericAttributes><GenericAttribute Name='" name "' Value='" value "' Units='" unit          \
    "'/></GenericAttributes>"
#define UPPER(value, unit) VALUE("UpperLimitDesignPressure", value, unit)
#define LOWER(value, unit) VALUE("LowerLimitDesignPressure", value, unit)
#define SIZE(dn) VALUE("NominalDiameterRepresentationAssignmentClass", "DN " dn, "")
#define TANK(more, one, two)                                                                       \
    "<PlantModel><Equipment ID='T' ComponentClass='Tank'>" more                                    \
    "<Equipment ID='K1' ComponentClass='Chamber'>" one "</Equipment>"                              \
    "<Equipment ID='K2' ComponentClass='Chamber'>" two "</Equipment><Nozzle ID='N1'/>"             \
    "</Equipment></PlantModel>"
#define RELIEF(value, in, ends_in, out, ends_out)                                                  \
    "<PlantModel><PipingNetworkSystem>"                                                            \
    "<PipingNetworkSegment ID='S1'>" SIZE(                                                         \
        in) "<Connection " ends_in "/></PipingNetworkSegment>"                                     \
            "<PipingNetworkSegment ID='S2'>" SIZE(                                                 \
                out) "<Connection " ends_out "/></PipingNetworkSegment>"                           \
                     "<PipingNetworkSegment ID='S3'>"                                              \
                     "<PipingComponent ID='R' "                                                    \
                     "ComponentClass='SpringLoadedGlobeSafetyValve'>" value                        \
                     "</PipingComponent></PipingNetworkSegment></PipingNetworkSystem>"             \
                     "<Equipment ID='A' ComponentClass='Tank'><Nozzle ID='N1'/></Equipment>"       \
                     "<Equipment ID='B' ComponentClass='Tank'><Nozzle "                            \
                     "ID='N2'/></Equipment></PlantModel>"
#define SET(value, unit) VALUE("SetPressureHigh", value, unit)
#define COMES "FromID='N1' ToID='R'"
#define LEAVES "FromID='R' ToID='N2'"

static void N2_pressures_are_taken_at_the_reading_that_is_not_optimistic(void **given)
{
    (void)given;
    static const struct {
        const char *drawing, *want; /* NULL = not taken */
    } rows[] = {
        {TANK("", UPPER("6", "barg"), UPPER("4", "BarGauge")), "design-pressure=\"4 barg\""},
        {TANK("", UPPER("6", "bara"), UPPER("8", "barg")), "design-pressure=\"4.98675 barg\""},
        /* Not said: the lower one. Below zero: only gauge can be meant. */
        {TANK("", UPPER("6", "Bar"), UPPER("8", "barg")), "design-pressure=\"4.98675 barg\""},
        {TANK("", UPPER("6", "Bar") LOWER("-1", "Bar"), UPPER("8", "barg")),
         "design-pressure=\"6 barg\""},
        {TANK("", UPPER("6", "Bar") LOWER("-1", "bar"), UPPER("8", "barg")),
         "design-pressure=\"4.98675 barg\""},
        {TANK("", UPPER("6", "Bar") LOWER("-1", "barg"), UPPER("8", "barg")),
         "design-pressure=\"4.98675 barg\""},
        {TANK(UPPER("3", "barg"), UPPER("6", "barg"), UPPER("8", "barg")),
         "design-pressure=\"3 barg\""},
        /* One chamber says nothing, or nothing that can be read. */
        {TANK("", UPPER("6", "barg"), ""), NULL},
        {TANK(UPPER("3", "barg"), "", ""), NULL},
        {TANK("", UPPER("6", "barg"), UPPER("8", "psi")), NULL},
        {TANK("", UPPER("6", "barg"), UPPER("8,5", "barg")), NULL},
        {TANK("", UPPER("6", "barg"), UPPER("1e9", "barg")), NULL},
        {TANK("", UPPER("6", "barg"), UPPER("-2", "barg")), NULL},
        {TANK("", UPPER("6", "barg"), UPPER("6", "")), NULL},
        /* The higher one, and only where order and sizes agree on the direction. */
        {RELIEF(SET("6", "Bar"), "25", COMES, "50", LEAVES), "set-pressure=\"6 barg\""},
        {RELIEF(SET("6", "bara"), "25", COMES, "50", LEAVES), "set-pressure=\"6 bara\""},
        {RELIEF(SET("6", "Bar"), "50", COMES, "25", LEAVES), NULL},
        {RELIEF(SET("6", "Bar"), "25", COMES, "25", LEAVES), NULL},
        {RELIEF(SET("6", "Bar"), "25", COMES, "50", "FromID='N2' ToID='R'"), NULL},
        {RELIEF(SET("6", "Bar"), "?", COMES, "50", LEAVES), NULL},
        {RELIEF(SET("-1", "Bar"), "25", COMES, "50", LEAVES), NULL},
        {RELIEF(SET("6", "psig"), "25", COMES, "50", LEAVES), NULL},
    };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        still_import *got = NULL;
        size_t len;
        assert_int_equal(import(&got, rows[i].drawing, strlen(rows[i].drawing)), STILL_OK);
        const char *plant = still_import_plant(got, &len);
        if (rows[i].want == NULL ? strstr(plant, "-pressure=") != NULL
                                 : strstr(plant, rows[i].want) == NULL)
            fail_msg("row %zu: %s", i, plant);
        const char *report = still_import_report(got, STILL_IMPORT_JSON, &len);
        bool lost = strstr(report, "\"text\": \"UpperLimitDesignPressure") != NULL ||
                    strstr(report, "\"text\": \"SetPressureHigh") != NULL;
        assert_true(lost == (rows[i].want == NULL));
        still_import_free(got);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(N2_no_import_when_memory_runs_out),
        cmocka_unit_test(N2_what_is_no_drawing_is_refused),
        cmocka_unit_test(N2_pressures_are_taken_at_the_reading_that_is_not_optimistic),
        cmocka_unit_test(N2_changed_bytes_give_a_plant_or_none),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
