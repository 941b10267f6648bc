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

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(N2_no_import_when_memory_runs_out),
        cmocka_unit_test(N2_what_is_no_drawing_is_refused),
        cmocka_unit_test(N2_changed_bytes_give_a_plant_or_none),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
