/* Tests of the JSON and CSV forms of a plan: what other programs read. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <cmocka.h>

#include "alloc.h"
#include "output.h"
#include "output_sample.h"

#include <csv.h>
#include <jansson.h>
#include <string.h>

static void has(const char *text, const char *words)
{
    if (strstr(text, words) == NULL) fail_msg("\"%s\" is not in:\n%s", words, text);
}

static void lacks(const char *text, const char *words)
{
    if (strstr(text, words) != NULL) fail_msg("\"%s\" is in:\n%s", words, text);
}

static json_t *json_of(const still_record *r)
{
    still_buf out = STILL_BUF_INIT;
    assert_int_equal(still_json_write(&out, r), STILL_OK);
    assert_int_equal(out.text[out.len - 1], '\n');
    json_error_t error;
    json_t *root = json_loadb(out.text, out.len, JSON_REJECT_DUPLICATES, &error);
    if (root == NULL) fail_msg("%s", error.text);
    still_buf_clear(&out);
    return root;
}

/** Check the keys of an object against the schema, into every depth. */
static void check_keys(const json_t *schema, const json_t *rule, const json_t *value)
{
    const char *ref = json_string_value(json_object_get(rule, "$ref"));
    if (ref != NULL) {
        const json_t *defs = json_object_get(schema, "$defs");
        check_keys(schema, json_object_get(defs, ref + strlen("#/$defs/")), value);
        return;
    }
    assert_non_null(rule);
    assert_non_null(json_object_get(rule, "description"));
    const json_t *either = json_object_get(rule, "oneOf");
    if (either != NULL) {
        const json_t *other = json_array_get(either, 1);
        if (!json_is_null(value)) check_keys(schema, other, value);
        return;
    }
    const json_t *items = json_object_get(rule, "items");
    for (size_t i = 0; items != NULL && i < json_array_size(value); i++)
        check_keys(schema, items, json_array_get(value, i));
    const json_t *properties = json_object_get(rule, "properties");
    if (properties == NULL) return;
    assert_int_equal(json_object_size(properties), json_object_size(value));
    const char *key;
    json_t *sub;
    void *at = json_object_iter(json_object_get(rule, "properties"));
    for (; at != NULL; at = json_object_iter_next(json_object_get(rule, "properties"), at)) {
        key = json_object_iter_key(at);
        sub = json_object_get(value, key);
        if (sub == NULL) fail_msg("key %s is missing", key);
        check_keys(schema, json_object_iter_value(at), sub);
    }
}

static void json_has_every_key_of_the_schema(void **state)
{
    (void)state;
    json_error_t error;
    json_t *schema = json_load_file(STILL_SOURCE_DIR "/docs/plan.schema.json", 0, &error);
    if (schema == NULL) fail_msg("%s", error.text);
    still_record records[] = {sample_record(), sample_infeasible(), sample_empty()};
    for (size_t i = 0; i < COUNT(records); i++) {
        json_t *root = json_of(&records[i]);
        check_keys(schema, schema, root);
        json_decref(root);
    }
    json_decref(schema);
}

static void json_numbers_are_null_or_nine_digits(void **state)
{
    (void)state;
    still_record r = sample_record();
    still_buf out = STILL_BUF_INIT;
    assert_int_equal(still_json_write(&out, &r), STILL_OK);
    has(out.text, "\"mass_kg\": null");
    has(out.text, "\"volume_m3\": 0.0123456789");
    lacks(out.text, "0.01234567891");
    has(out.text, "\"policy\": null");
    has(out.text, "\"obstacle\": null");
    has(out.text, "\"tag\": null");
    still_buf_clear(&out);
}

static void json_refuses_what_is_not_utf8(void **state)
{
    (void)state;
    still_record r = sample_record();
    r.target_place = "caf\xE9";
    still_point point = sample_points[0];
    point.place = "caf\xE9";
    r.points = &point;
    r.n_points = 1;
    still_buf out = STILL_BUF_INIT;
    still_buf_add(&out, "before");
    assert_int_equal(still_json_write(&out, &r), STILL_E_INTERNAL);
    assert_string_equal(out.text, "before");
    point.place = "";
    static const still_position_of bad[] = {{"\xE9", "open"}};
    r.start = bad;
    assert_int_equal(still_json_write(&out, &r), STILL_E_INTERNAL);
    assert_string_equal(out.text, "before");
    still_buf_clear(&out);
}

/** What libcsv reads back: fields of all rows after one another. */
typedef struct table {
    char field[64][256];
    size_t n, rows;
} table;

static void on_field(void *s, size_t len, void *data)
{
    table *t = data;
    assert_true(t->n < 64 && len < 256);
    memcpy(t->field[t->n], s, len);
    t->field[t->n++][len] = '\0';
}

static void on_row(int c, void *data)
{
    (void)c;
    ((table *)data)->rows++;
}

static void csv_reads_back_and_disarms_formulas(void **state)
{
    (void)state;
    static const struct {
        const char *place, *cell;
    } rows[] = {{"under \"V-1\", walkway", "under \"V-1\", walkway"},
                {"=HYPERLINK(\"x\")", "'=HYPERLINK(\"x\")"},
                {"+1", "'+1"},
                {"-1", "'-1"},
                {"@SUM(A1)", "'@SUM(A1)"},
                {"\t=1", "'\t=1"},
                {"\r=1", "'\r=1"},
                {"\xEF\xBC\x9D x", "'\xEF\xBC\x9D x"},
                {"\xEF\xBC\x8B x", "'\xEF\xBC\x8B x"},
                {"\xEF\xBC\x8D x", "'\xEF\xBC\x8D x"},
                {"\xEF\xBC\xA0 x", "'\xEF\xBC\xA0 x"},
                {"two\r\nlines", "two\r\nlines"},
                {"\x1b[2J", "?[2J"},
                {"'=1", "'=1"},
                {"", ""}};
    for (size_t i = 0; i < COUNT(rows); i++) {
        still_record r = sample_record();
        still_point point = sample_points[0];
        point.place = rows[i].place;
        r.points = &point;
        r.n_points = 1;
        still_buf out = STILL_BUF_INIT;
        still_csv_write(&out, &r);
        assert_false(out.failed);
        assert_memory_equal(out.text + out.len - 2, "\r\n", 2);
        static table t;
        t = (table){.n = 0};
        struct csv_parser parser;
        assert_int_equal(csv_init(&parser, CSV_STRICT | CSV_STRICT_FINI), 0);
        assert_int_equal(csv_parse(&parser, out.text, out.len, on_field, on_row, &t), out.len);
        assert_int_equal(csv_fini(&parser, on_field, on_row, &t), 0);
        csv_free(&parser);
        assert_int_equal(t.rows, 2);
        assert_int_equal(t.n, 32);
        assert_string_equal(t.field[4], "place");
        assert_string_equal(t.field[15], "removed_by");
        assert_string_equal(t.field[16 + 2], "HV-1");
        assert_string_equal(t.field[16 + 4], rows[i].cell);
        assert_string_equal(t.field[16 + 10], "yes");
        assert_string_equal(t.field[16 + 12], "");
        still_buf_clear(&out);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(json_has_every_key_of_the_schema),
        cmocka_unit_test(json_numbers_are_null_or_nine_digits),
        cmocka_unit_test(json_refuses_what_is_not_utf8),
        cmocka_unit_test(csv_reads_back_and_disarms_formulas),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
