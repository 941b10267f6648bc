/* Tests of the text form of a plan, and of what all forms have in common. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <cmocka.h>

#include "alloc.h"
#include "glyph.h"
#include "output.h"
#include "output_sample.h"

#include <locale.h>
#include <stdio.h>
#include <string.h>

#define EVIL_ID "HV-9\x1b[31m\"<&'\xE2\x80\xAE,=1+1"
#define FAMILY "\xF0\x9F\x91\xA8\xE2\x80\x8D\xF0\x9F\x91\xA9"
#define HEBREW "\xD7\xA9\xD7\x9C\xD7\x95\xD7\x9D\xE2\x80\x8F"

static char *text_of(const still_record *r)
{
    still_buf out = STILL_BUF_INIT;
    still_text_write(&out, r, NULL);
    assert_false(out.failed);
    return out.text;
}

static void has(const char *text, const char *words)
{
    if (strstr(text, words) == NULL) fail_msg("\"%s\" is not in:\n%s", words, text);
}

static void lacks(const char *text, const char *words)
{
    if (strstr(text, words) != NULL) fail_msg("\"%s\" is in:\n%s", words, text);
}

/** Every line at most 80 columns, save one that holds `whole` alone; no line ends in a space; no
 *  character steers the terminal. */
static void check_lines(const char *text, const char *whole)
{
    for (const char *line = text; *line != '\0';) {
        size_t len = strcspn(line, "\n");
        char copy[4096];
        assert_true(len < sizeof copy);
        memcpy(copy, line, len);
        copy[len] = '\0';
        if (still_glyph_width(copy) > 80 && (whole == NULL || strcmp(copy, whole) != 0))
            fail_msg("wider than 80: %s", copy);
        assert_false(len > 0 && copy[len - 1] == ' ');
        for (const char *s = copy; *s != '\0';) {
            uint32_t cp;
            s += still_glyph_next(s, &cp);
            assert_false(still_glyph_hostile(cp));
        }
        assert_int_equal(line[len], '\n');
        line += len + 1;
    }
}

static void order(const char *text, const char *const *words, size_t n)
{
    for (size_t i = 0; i < n; i++) {
        const char *at = strstr(text, words[i]);
        if (at == NULL) fail_msg("\"%s\" is missing, or not in its place", words[i]);
        text = at;
    }
}

static void text_says_verdict_then_findings_then_tags(void **state)
{
    (void)state;
    static const char *const words[] = {"ISOLATION PLAN",
                                        "harbour-3",
                                        "3f2a90b1c4d5e6f7",
                                        "Target",
                                        "MV-1",
                                        "asked for: policy",
                                        "double-bleed",
                                        "NOT READY: 2 findings block",
                                        "CAUTION",
                                        "FINDINGS",
                                        "[D4] PSV-1",
                                        "Cannot be accepted",
                                        "[E2] MV-1",
                                        "--accept E2:MV-1",
                                        "Accepted by name: L6:S-3",
                                        "TAG LIST",
                                        "TAG 1",
                                        "CLOSE HV-1",
                                        "open -> closed",
                                        "TAG 4",
                                        "STILL LIVE",
                                        "ASSUMPTIONS",
                                        "STEPS TO ISOLATE",
                                        "[ ]   1.",
                                        "Stage 1: isolate",
                                        "IF NOT",
                                        "STEPS TO RESTORE",
                                        "LIQUID CLOSED IN",
                                        "UNCOVERED, outside the boundary",
                                        "COMPARTMENTS",
                                        "PROOF",
                                        "CAUTIONS",
                                        SAMPLE_DIGEST};
    still_record r = sample_record();
    char *text = text_of(&r);
    order(text, words, COUNT(words));
    check_lines(text, NULL);
    still_free(text);
}

static void N2_unknown_numbers_are_called_unknown(void **state)
{
    (void)state;
    still_record r = sample_record();
    char *text = text_of(&r);
    has(text, "enclosed mass unknown");
    has(text, "mass unknown");
    has(text, "pressure at: unknown");
    has(text, "heights are missing");
    has(text, "root valve unknown");
    lacks(text, "nan");
    lacks(text, " 0 kg");
    has(text, "only assumes that it can be locked");
    still_free(text);
}

static void I8_live_neighbours_and_look_alikes(void **state)
{
    (void)state;
    still_record r = sample_record();
    char *text = text_of(&r);
    has(text, "HV-3 ** LOOK-ALIKE");
    lacks(text, "V-2 ** LOOK-ALIKE");
    still_free(text);
}

static void P7_cautions_stand_at_the_top_and_in_full(void **state)
{
    (void)state;
    still_record r = sample_record();
    char *text = text_of(&r);
    const char *top = strstr(text, "CAUTION "), *findings = strstr(text, "FINDINGS");
    assert_non_null(top);
    assert_true(top < findings);
    has(text, "  - The drawing must be walked down before work");
    still_free(text);
}

static void F_OSH_7_legends_are_given_word_for_word(void **state)
{
    (void)state;
    still_record r = sample_record();
    char *text = text_of(&r);
    has(text, "Do Not Open");
    has(text, "Do Not Close");
    has(text, "Do Not Energize");
    still_buf csv = STILL_BUF_INIT;
    still_csv_write(&csv, &r);
    has(csv.text, "\"Do Not Close\"");
    still_buf_clear(&csv);
    still_free(text);
}

static void I5_proof_says_when_it_proves_nothing(void **state)
{
    (void)state;
    still_record r = sample_record();
    char *text = text_of(&r);
    has(text, "V-1 > S-1 > HV-1 > S-2 > MV-1");
    has(text, "fewer are not enough");
    still_free(text);
    r.cost_points = 4;
    text = text_of(&r);
    has(text, "NOT proven");
    still_free(text);
}

static void I6_obstacle_with_path_and_help(void **state)
{
    (void)state;
    still_record r = sample_infeasible();
    char *text = text_of(&r);
    static const char *const words[] = {
        "CANNOT BE ISOLATED",    "WHY IT CANNOT",   "can be locked", "V-1 > S-1 > HV-1",
        "all of these together", "S-1: fit a hand", "none: no plan"};
    order(text, words, COUNT(words));
    lacks(text, "READY:");
    still_free(text);
}

static void ready_needs_more_than_the_flag(void **state)
{
    (void)state;
    still_record r = sample_record();
    r.ready = true;
    char *text = text_of(&r);
    has(text, "NOT READY: 2 findings block");
    still_free(text);
    r.n_findings = 0;
    text = text_of(&r);
    has(text, "VERDICT     READY\n");
    still_free(text);
}

/** Fill a record with one string wherever a person wrote it. */
static still_record hostile(const char *s, still_point *point, still_finding *finding,
                            still_step *step, still_live_item *live, const char **list)
{
    still_record r = sample_record();
    *point = (still_point){1, s, s, s, STILL_ACTION_CLOSE, s, s, s, s, s, s, 1, true, false};
    *finding = (still_finding){"E2", s, s, true, true, false};
    *step = (still_step){1, 1, s, s, s, 1, s, s, s, s, s};
    *live = (still_live_item){s, s, s, true};
    list[0] = list[1] = s;
    r.plant_name = r.plant_id = r.plant_revision = r.target_what = r.target_place = s;
    r.grade_because = r.plant_file = s;
    r.targets = r.inside = (still_strings){list, 2};
    r.points = point;
    r.findings = finding;
    r.steps = r.restore = step;
    r.still_live = live;
    r.n_points = r.n_findings = r.n_steps = r.n_restore = r.n_still_live = 1;
    return r;
}

static void text_keeps_80_columns_whatever_names_hold(void **state)
{
    (void)state;
    static char long_name[301], wide[301 * 3];
    memset(long_name, 'x', 300);
    for (size_t i = 0; i < 300; i++) memcpy(wide + 3 * i, "\xE6\xB0\xB4", 3);
    const char *const names[] = {"a\nb\r\nc\td", EVIL_ID,    HEBREW, FAMILY, "=cmd|' /C calc'!A0",
                                 "\xC2\x9B[2J",  "\x7f\x01", "x",    "",     "e\xCC\x81\xCC\x81"};
    still_point point;
    still_finding finding;
    still_step step;
    still_live_item live;
    const char *list[2];
    for (size_t i = 0; i < COUNT(names); i++) {
        still_record r = hostile(names[i], &point, &finding, &step, &live, list);
        char *text = text_of(&r);
        check_lines(text, NULL);
        still_free(text);
    }
    for (size_t len = 60; len <= 300; len++) {
        static char name[301];
        memcpy(name, long_name, len);
        name[len] = '\0';
        still_record r = hostile(name, &point, &finding, &step, &live, list);
        /* "RULE:ID" is one word too. */
        finding.acceptable = false;
        char *text = text_of(&r);
        check_lines(text, name);
        has(text, name);
        still_free(text);
    }
    still_record r = hostile("", &point, &finding, &step, &live, list);
    r.plant_name = wide;
    char *text = text_of(&r);
    check_lines(text, NULL);
    still_free(text);
}

static void text_of_a_bad_byte_is_a_question_mark(void **state)
{
    (void)state;
    still_record r = sample_record();
    r.plant_name = "caf\xE9 \xC0\xAF \xED\xA0\x80 x";
    char *text = text_of(&r);
    has(text, "caf? ?? ??? x");
    still_free(text);
}

static void every_form_stands_empty_lists(void **state)
{
    (void)state;
    still_record r = sample_empty();
    for (int feasible = 0; feasible < 2; feasible++) {
        r.feasible = feasible == 1;
        char *text = text_of(&r);
        check_lines(text, NULL);
        still_free(text);
        still_buf out = STILL_BUF_INIT;
        assert_int_equal(still_json_write(&out, &r), STILL_OK);
        still_buf_clear(&out);
        still_csv_write(&out, &r);
        has(out.text, "\"tag\",\"action\",\"id\"");
        assert_int_equal(strcspn(out.text, "\n") + 1, out.len);
        still_buf_clear(&out);
    }
}

/** No form may depend on the user's locale, whichever of these this machine has. */
static void locale_changes_nothing(void **state)
{
    (void)state;
    static const char *const locales[] = {"de_DE.UTF-8", "de_DE", "fr_FR.UTF-8", "C.UTF-8"};
    still_record r = sample_record();
    char *before = text_of(&r);
    still_buf json = STILL_BUF_INIT, again = STILL_BUF_INIT;
    assert_int_equal(still_json_write(&json, &r), STILL_OK);
    for (size_t i = 0; i < COUNT(locales); i++) {
        if (setlocale(LC_ALL, locales[i]) == NULL) continue;
        char *after = text_of(&r);
        assert_string_equal(before, after);
        still_free(after);
        assert_int_equal(still_json_write(&again, &r), STILL_OK);
        assert_string_equal(json.text, again.text);
        still_buf_clear(&again);
        setlocale(LC_ALL, "C");
    }
    still_buf_clear(&json);
    still_free(before);
}

static char *styled(const still_record *r, unsigned width, bool marks)
{
    const still_style style = {width, marks};
    still_buf out = STILL_BUF_INIT;
    still_text_write(&out, r, &style);
    assert_false(out.failed);
    return out.text;
}

/* What is between "ESC [" and "m" taken out, in place. Nothing else may follow an ESC, no line may
 * begin or end within marks, and no blank but one in a label or number stands in them. */
static void strip_marks(char *text)
{
    bool on = false;
    char *to = text;
    for (const char *s = text; *s != '\0';) {
        if (*s == '\n') assert_false(on);
        if (*s != '\033') {
            *to++ = *s++;
            continue;
        }
        size_t len = strcspn(s, "m") + 1;
        bool off = len == 4 && memcmp(s, "\033[0m", 4) == 0;
        assert_true(off || (len == 4 && memcmp(s, "\033[1m", 4) == 0) ||
                    (len == 7 && memcmp(s, "\033[1;31m", 7) == 0) ||
                    (len == 5 && memcmp(s, "\033[33m", 5) == 0));
        assert_int_equal(off, on);
        on = !off;
        s += len;
    }
    assert_false(on);
    *to = '\0';
}

static void marks_change_nothing_but_the_marks(void **state)
{
    static const unsigned widths[] = {0, 60, 80, 120};
    (void)state;
    still_record records[] = {sample_record(), sample_infeasible()};
    for (size_t k = 0; k < 2; k++)
        for (size_t i = 0; i < sizeof widths / sizeof widths[0]; i++) {
            char *plain = styled(&records[k], widths[i], false);
            char *marked = styled(&records[k], widths[i], true);
            lacks(plain, "\033");
            has(marked, "\033[1;31m");
            has(marked, "\033[1mFINDINGS\033[0m");
            strip_marks(marked);
            assert_string_equal(plain, marked);
            still_free(plain);
            still_free(marked);
        }
}

static void an_id_cannot_bring_marks_of_its_own(void **state)
{
    (void)state;
    still_record r = sample_record();
    r.plant_name = EVIL_ID;
    char *text = styled(&r, 100, true);
    lacks(text, "\033[31m");
    strip_marks(text);
    lacks(text, "\033");
    still_free(text);
}

static size_t widest(const char *text)
{
    size_t most = 0;
    for (; *text != '\0'; text += strcspn(text, "\n") + 1)
        if (strcspn(text, "\n") > most) most = strcspn(text, "\n");
    return most;
}

static void a_width_is_kept_within_its_bounds(void **state)
{
    static const struct {
        unsigned said;
        size_t used;
    } rows[] = {{0, 80},  {1, 60},  {59, 60},   {60, 60},   {61, 61},
                {80, 80}, {99, 99}, {120, 120}, {121, 120}, {4000000000U, 120}};
    (void)state;
    still_record r = sample_record();
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        char *text = styled(&r, rows[i].said, false);
        const char *rule = strstr(text, "\n==");
        assert_non_null(rule);
        assert_int_equal(strcspn(rule + 1, "\n"), rows[i].used);
        /* A digest of 64 letters stands whole, on a line of its own. */
        assert_true(widest(text) <= (rows[i].used < 70 ? 70 : rows[i].used));
        still_free(text);
    }
    char *plain = text_of(&r), *said = styled(&r, 80, false);
    assert_string_equal(plain, said);
    still_free(plain);
    still_free(said);
}

static void out_of_memory_is_always_told(void **state)
{
    (void)state;
    still_record r = sample_record(), no = sample_infeasible();
    for (int form = 0; form < 4; form++) {
        bool failed = true;
        for (uint64_t n = 1; failed; n++) {
            still_buf out = STILL_BUF_INIT;
            still_alloc_fail_at(n);
            if (form == 0) still_text_write(&out, &r, NULL);
            if (form == 1) still_csv_write(&out, &r);
            if (form == 2) still_text_write(&out, &no, NULL);
            failed = out.failed;
            if (form == 3) {
                still_status status = still_json_write(&out, &r);
                failed = status != STILL_OK;
                assert_true(status == STILL_OK || status == STILL_E_NOMEM);
            }
            still_alloc_fail_at(0);
            still_buf_clear(&out);
            assert_true(n < 100000);
        }
    }
}

static void actions_have_the_words_of_the_format(void **state)
{
    (void)state;
    assert_string_equal(still_action_text(STILL_ACTION_CLOSE), "close");
    assert_string_equal(still_action_text(STILL_ACTION_FIT), "fit");
    assert_string_equal(still_action_text(STILL_ACTION_REMOVE), "remove");
    assert_string_equal(still_action_text(STILL_ACTION_SWITCH_OFF), "switch-off");
    assert_string_equal(still_action_text(STILL_ACTION_OPEN), "open");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(text_says_verdict_then_findings_then_tags),
        cmocka_unit_test(N2_unknown_numbers_are_called_unknown),
        cmocka_unit_test(I8_live_neighbours_and_look_alikes),
        cmocka_unit_test(P7_cautions_stand_at_the_top_and_in_full),
        cmocka_unit_test(F_OSH_7_legends_are_given_word_for_word),
        cmocka_unit_test(I5_proof_says_when_it_proves_nothing),
        cmocka_unit_test(I6_obstacle_with_path_and_help),
        cmocka_unit_test(ready_needs_more_than_the_flag),
        cmocka_unit_test(text_keeps_80_columns_whatever_names_hold),
        cmocka_unit_test(text_of_a_bad_byte_is_a_question_mark),
        cmocka_unit_test(every_form_stands_empty_lists),
        cmocka_unit_test(locale_changes_nothing),
        cmocka_unit_test(marks_change_nothing_but_the_marks),
        cmocka_unit_test(an_id_cannot_bring_marks_of_its_own),
        cmocka_unit_test(a_width_is_kept_within_its_bounds),
        cmocka_unit_test(out_of_memory_is_always_told),
        cmocka_unit_test(actions_have_the_words_of_the_format),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
