/* Message catalogues: looked up, formatted by, and refused where they could do harm. The format of
 * the file is that of GNU gettext's manual, section "The Format of GNU MO Files" (from memory; the
 * catalogues that msgfmt makes are read in tests of the pack). */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <cmocka.h>

#include "alloc.h"
#include "arena.h"
#include "messages.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

typedef struct pair {
    const char *key, *text;
} pair;

/** A catalogue of pairs that are in order of their keys. @return heap memory of its exact length */
static unsigned char *made_of(const pair *pairs, size_t n, size_t *len, bool swapped)
{
    size_t total = 28 + 16 * n;
    for (size_t i = 0; i < n; i++) total += strlen(pairs[i].key) + strlen(pairs[i].text) + 2;
    unsigned char *bytes = calloc(1, total);
    assert_non_null(bytes);
    size_t at = 28 + 16 * n;
    uint32_t words[7] = {0x950412deU, 0, (uint32_t)n, 28, (uint32_t)(28 + 8 * n), 0, 0};
    for (int side = 0; side < 2; side++)
        for (size_t i = 0; i < n; i++) {
            const char *s = side == 0 ? pairs[i].key : pairs[i].text;
            uint32_t entry[2] = {(uint32_t)strlen(s), (uint32_t)at};
            for (int k = 0; k < 8; k++) {
                unsigned shift = (unsigned)(k % 4) * 8U;
                if (swapped) shift = 24U - shift;
                bytes[28 + 8 * n * (size_t)side + 8 * i + (size_t)k] =
                    (unsigned char)(entry[k / 4] >> shift);
            }
            memcpy(bytes + at, s, strlen(s) + 1);
            at += strlen(s) + 1;
        }
    for (int k = 0; k < 28; k++) {
        unsigned shift = (unsigned)(k % 4) * 8U;
        if (swapped) shift = 24U - shift;
        bytes[k] = (unsigned char)(words[k / 4] >> shift);
    }
    *len = total;
    return bytes;
}

static const pair good[] = {{"", "Content-Type: text/plain; charset=UTF-8\n"},
                            {"%s holds back %s", "hinter %2$s: %1$s"},
                            {"%u of %zu, %.4g barg", "%2$zu, davon %1$u; %3$.4g barg"},
                            {"100 % of it", "alles davon"},
                            {"a safe place", "eine ungefährliche Stelle"},
                            {"open", "offen"}};
enum { N_GOOD = sizeof good / sizeof good[0] };

static const char *said(still_buf *buf, const still_messages *m, const char *format, ...)
{
    va_list args;
    va_start(args, format);
    still_buf_clear(buf);
    still_say_args(buf, m, format, args);
    va_end(args);
    assert_false(buf->failed);
    return buf->text;
}

static void looked_up_and_said(void **state)
{
    (void)state;
    for (int swapped = 0; swapped < 2; swapped++) {
        size_t len;
        const char *why, *key;
        unsigned char *bytes = made_of(good, N_GOOD, &len, swapped == 1);
        still_messages m;
        still_buf buf = STILL_BUF_INIT;
        assert_true(still_messages_open(&m, bytes, len, &why, &key));
        assert_string_equal(still_messages_get(&m, "open"), "offen");
        assert_string_equal(still_messages_get(&m, "closed"), "closed");
        assert_string_equal(still_messages_get(&m, ""), "");
        assert_string_equal(still_messages_get(NULL, "open"), "open");
        assert_string_equal(said(&buf, &m, "%s holds back %s", "HV-1", "P-2"), "hinter P-2: HV-1");
        assert_string_equal(said(&buf, &m, "%u of %zu, %.4g barg", 3U, (size_t)7, 2.5),
                            "7, davon 3; 2.5 barg");
        /* A part of a sentence is looked up, an id that is a word of the catalogue is not. */
        assert_string_equal(said(&buf, &m, "%s holds back %s", "open", "a safe place"),
                            "hinter eine ungefährliche Stelle: open");
        assert_string_equal(said(&buf, &m, "%s and %d%%", "x", -4), "x and -4%");
        assert_string_equal(said(&buf, NULL, "%s holds back %s", "HV-1", "P-2"),
                            "HV-1 holds back P-2");
        still_arena arena;
        still_arena_init(&arena);
        arena.messages = &m;
        assert_string_equal(still_arena_printf(&arena, "%s holds back %s", "A", "B"),
                            "hinter B: A");
        assert_string_equal(still_arena_word(&arena, "open"), "offen");
        still_arena_clear(&arena);
        still_buf_clear(&buf);
        free(bytes);
    }
}

static void long_texts_are_whole(void **state)
{
    (void)state;
    char long_text[3000];
    memset(long_text, 'x', sizeof long_text - 1);
    long_text[sizeof long_text - 1] = '\0';
    still_buf buf = STILL_BUF_INIT;
    assert_int_equal(strlen(said(&buf, NULL, "<%s>", long_text)), 3001);
    size_t len;
    const char *why, *key;
    unsigned char *bytes = made_of(good, N_GOOD, &len, false);
    still_messages m;
    assert_true(still_messages_open(&m, bytes, len, &why, &key));
    assert_int_equal(strlen(said(&buf, &m, "<%s>", long_text)), 3001);
    still_buf_clear(&buf);
    free(bytes);
}

/** Placeholders that differ from the English ones could read what was never given. */
static void placeholders_that_differ_are_refused(void **state)
{
    (void)state;
    static const pair bad[] = {
        {"%s shut", "%s %s zu"},     {"%s shut", "%u zu"},      {"%s shut", "%2$s zu"},
        {"%s shut", "zu"},           {"%s shut", "%n zu %s"},   {"%s shut", "%ls zu"},
        {"%s of %u", "%1$s %1$s"},   {"%s of %u", "%2$s %1$u"}, {"%zu parts", "%u Teile"},
        {"%.4g barg", "%.4Lg barg"}, {"%s shut", "%*s zu"},     {"%s shut", "%99$s zu"}};
    for (size_t i = 0; i < sizeof bad / sizeof bad[0]; i++) {
        size_t len;
        const char *why = "", *key = "";
        still_messages m;
        unsigned char *bytes = made_of(&bad[i], 1, &len, false);
        if (still_messages_open(&m, bytes, len, &why, &key))
            fail_msg("taken: \"%s\" for \"%s\"", bad[i].text, bad[i].key);
        assert_string_equal(key, bad[i].key);
        assert_non_null(strstr(why, "placeholders"));
        free(bytes);
    }
}

static void what_is_no_catalogue_is_refused(void **state)
{
    (void)state;
    size_t len;
    const char *why, *key;
    still_messages m;
    unsigned char *bytes = made_of(good, N_GOOD, &len, false);
    /* Cut off anywhere: refused, or at least nothing is read beyond its end (sanitizer). */
    for (size_t n = 0; n < len; n++) {
        unsigned char *part = malloc(n > 0 ? n : 1);
        assert_non_null(part);
        memcpy(part, bytes, n);
        assert_false(still_messages_open(&m, part, n, &why, &key));
        free(part);
    }
    /* Each byte changed, in several ways. */
    for (size_t i = 0; i < len; i++) {
        static const unsigned char masks[] = {1, 0x20, 0x80, 0xFF};
        for (size_t k = 0; k < sizeof masks; k++) {
            still_buf buf = STILL_BUF_INIT;
            bytes[i] ^= masks[k];
            if (still_messages_open(&m, bytes, len, &why, &key)) {
                (void)said(&buf, &m, "%s holds back %s", "HV-1", "P-2");
                (void)said(&buf, &m, "%u of %zu, %.4g barg", 3U, (size_t)7, 2.5);
            }
            bytes[i] ^= masks[k];
            still_buf_clear(&buf);
        }
    }
    free(bytes);
    static const pair unsorted[] = {{"b", "x"}, {"a", "y"}};
    bytes = made_of(unsorted, 2, &len, false);
    assert_false(still_messages_open(&m, bytes, len, &why, &key));
    free(bytes);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(looked_up_and_said),
        cmocka_unit_test(long_texts_are_whole),
        cmocka_unit_test(placeholders_that_differ_are_refused),
        cmocka_unit_test(what_is_no_catalogue_is_refused),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
