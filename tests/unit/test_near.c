/* Tests of the words that were meant, and of what is said to do about each message. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <cmocka.h>

#include "codes.h"
#include "nearest.h"

#include <stdio.h>
#include <string.h>

static void distances(void **state)
{
    static const struct {
        const char *word, *meant;
        unsigned distance;
    } rows[] = {{"HV-1", "HV-1", 0},         {"hv-1", "HV-1", 2},  {"HV1", "HV-1", 1},
                {"HV_1", "HV-1", 2},         {"VH-1", "HV-1", 2},  {"HV-2", "HV-1", 2},
                {"HV-11", "HV-1", 2},        {"HV-1", "HV-11", 2}, {"--taget", "--target", 2},
                {"--tragte", "--target", 4}, {"plann", "plan", 2}, {"Single", "single", 1}};
    (void)state;
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++)
        if (still_near_distance(rows[i].word, rows[i].meant) != rows[i].distance)
            fail_msg("%s, %s: %u", rows[i].word, rows[i].meant,
                     still_near_distance(rows[i].word, rows[i].meant));
}

static void what_is_far_is_not_meant(void **state)
{
    static const char *const rows[][2] = {{"", "a"},           {"a", ""},   {"H9", "H2"},
                                          {"NO-1", "HV-1"},    {"x", "y"},  {"pump", "vessel"},
                                          {"--foo", "--keep"}, {"-v", "-o"}};
    char longer[80];
    (void)state;
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++)
        assert_int_equal(still_near_distance(rows[i][0], rows[i][1]), STILL_NEAR_NONE);
    memset(longer, 'a', sizeof longer);
    longer[63] = '\0';
    assert_int_equal(still_near_distance(longer, longer), 0);
    longer[63] = 'a';
    longer[64] = '\0';
    assert_int_equal(still_near_distance(longer, longer), STILL_NEAR_NONE);
}

static void at_most_three_are_named_nearest_first(void **state)
{
    static const char *const words[] = {"HV-9", "HV-8", "PUMP", "HV-7", "hv-1", "HV-7", "HV-6"};
    still_near near = STILL_NEAR_INIT("HV-1");
    char text[100], cut[20];
    (void)state;
    still_near_say(&near, text, sizeof text);
    assert_string_equal(text, "");
    for (size_t i = 0; i < sizeof words / sizeof words[0]; i++) still_near_offer(&near, words[i]);
    still_near_say(&near, text, sizeof text);
    assert_string_equal(text, "; nearest: \"HV-9\", \"HV-8\", \"HV-7\"");
    still_near_offer(&near, "HV1");
    still_near_say(&near, text, sizeof text);
    assert_string_equal(text, "; nearest: \"HV1\", \"HV-9\", \"HV-8\"");
    still_near_say(&near, cut, sizeof cut);
    assert_true(strlen(cut) < sizeof cut);
}

/* Every code says what to do, in one line as texts of messages are. */
static void every_code_says_what_to_do(void **state)
{
    (void)state;
    for (unsigned i = 0; i < STILL_CODE_COUNT; i++) {
        const char *code = still_code_text((still_code)i), *next = still_diag_next(code);
        if (next[0] == '\0') fail_msg("%s says nothing", code);
        assert_null(strchr(next, '\n'));
        assert_int_not_equal(next[strlen(next) - 1], '.');
        assert_true(next[0] >= 'a' && next[0] <= 'z');
    }
    assert_true(still_diag_next("STILL-PLAN")[0] != '\0');
    assert_string_equal(still_diag_next("STILL-USE"), "");
    assert_string_equal(still_diag_next(""), "");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(distances),
        cmocka_unit_test(what_is_far_is_not_meant),
        cmocka_unit_test(at_most_three_are_named_nearest_first),
        cmocka_unit_test(every_code_says_what_to_do),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
