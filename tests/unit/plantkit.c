/* Opening, planning and running rows (plantkit.h). */
#include "plantkit.h"

#include "plantread.h"
#include "alloc.h"
#include "rowtest.h"

#include <stdio.h>
#include <string.h>

void kit_open(kit *k, const char *text)
{
    still_buf xml = STILL_BUF_INIT;
    still_diags *diags = still_diags_new();
    *k = (kit){.answer = STILL_BUF_INIT};
    kit_xml(&xml, text);
    still_status status = still_read_plant_memory(&k->plant, "test", xml.text, xml.len, diags);
    for (size_t i = 0; status != STILL_OK && i < still_diags_count(diags); i++)
        print_error("%s: %s\n%s\n", still_diags_at(diags, i)->code, still_diags_at(diags, i)->text,
                    still_diags_at(diags, i)->source_line);
    still_diags_free(diags);
    still_buf_clear(&xml);
    assert_int_equal(status, STILL_OK);
}

uint32_t kit_comp(const kit *k, const char *id)
{
    uint32_t comp = still_plant_find(k->plant, id).v;
    if (comp == STILL_NONE) fail_msg("the plant has no %s", id);
    return comp;
}

/* Next word of a text, parted by blanks and by `stop`. @return false at the end */
static bool next_word(const char **at, char stop, char *word, size_t size)
{
    const char stops[] = {' ', stop, '\0'};
    *at += strspn(*at, stops);
    size_t len = strcspn(*at, stops);
    if (len == 0) return false;
    snprintf(word, size, "%.*s", (int)len, *at);
    *at += len;
    return true;
}

void kit_today(kit *k, const char *text)
{
    char id[64], word[64];
    k->state = still_state_new();
    assert_non_null(k->state);
    while (next_word(&text, ';', id, sizeof id)) {
        assert_true(next_word(&text, ';', word, sizeof word));
        char *value = strchr(word, '=');
        assert_non_null(value);
        *value++ = '\0';
        still_state_item *item = still_state_at(k->state, kit_comp(k, id));
        assert_non_null(item);
        unsigned at = 0;
        if (strcmp(word, "position") == 0)
            item->position =
                (uint8_t)(at = still_word_value(STILL_VOC_still_position, value, strlen(value)));
        if (strcmp(word, "condition") == 0)
            item->condition =
                (uint8_t)(at = still_word_value(STILL_VOC_still_condition, value, strlen(value)));
        if (strcmp(word, "contents") == 0)
            item->contents =
                (uint8_t)(at = still_word_value(STILL_VOC_still_contents, value, strlen(value)));
        assert_int_not_equal(at, 0);
    }
}

void kit_plan(kit *k, const char *ask)
{
    char target[64], word[64];
    static char accepted[8][80];
    const char *accept[8], *one = target;
    still_plan_opts opts = STILL_PLAN_OPTS_INIT;
    opts.grade = STILL_GRADE_SINGLE;
    opts.accept = accept;
    const char *bar = strchr(ask, '|');
    if (bar != NULL) kit_today(k, bar + 1);
    if (!next_word(&ask, ' ', target, sizeof target) || target[0] == '|') return;
    while (next_word(&ask, ',', word, sizeof word) && word[0] != '|') {
        if (strcmp(word, "work=entry") == 0 || strcmp(word, "work=open") == 0) {
            opts.work = word[5] == 'e' ? STILL_WORK_ENTRY : STILL_WORK_OPEN;
            continue;
        }
        if (strncmp(word, "grade=", 6) == 0) {
            opts.grade = word[6] == 'p' ? STILL_GRADE_POSITIVE : STILL_GRADE_DOUBLE_BLEED;
            continue;
        }
        const char *name = strncmp(word, "accept=", 7) == 0 ? word + 7 : word;
        assert_true(opts.n_accept < 8);
        snprintf(accepted[opts.n_accept], sizeof accepted[0], "%s", name);
        accept[opts.n_accept] = accepted[opts.n_accept];
        opts.n_accept++;
    }
    still_diags *diags = still_diags_new();
    still_status status = still_plan_make(&k->plan, k->plant, k->state, &one, 1, &opts, diags);
    for (size_t i = 0; status != STILL_OK && i < still_diags_count(diags); i++)
        print_error("[%s] %s: %s\n", still_diags_at(diags, i)->code,
                    still_diags_at(diags, i)->component, still_diags_at(diags, i)->text);
    still_diags_free(diags);
    assert_int_equal(status, STILL_OK);
    k->r = still_plan_record(k->plan);
}

void kit_close(kit *k)
{
    still_buf_clear(&k->answer);
    if (k->has_relief) still_relief_clear(&k->relief);
    still_plan_free(k->plan);
    still_state_free(k->state);
    still_plant_free(k->plant);
    *k = (kit){.answer = STILL_BUF_INIT};
}

const still_point *kit_point(const kit *k, const char *id)
{
    for (size_t i = 0; i < k->r->n_points; i++)
        if (strcmp(k->r->points[i].id, id) == 0) return &k->r->points[i];
    return NULL;
}

static bool same(const char *got, const char *want)
{
    return want == NULL || strcmp(got, want) == 0;
}

const still_finding *kit_finding(const kit *k, const char *rule, const char *id)
{
    for (size_t i = 0; i < k->r->n_findings; i++)
        if (same(k->r->findings[i].rule, rule) && same(k->r->findings[i].id, id))
            return &k->r->findings[i];
    return NULL;
}

const still_remark *kit_assumption(const kit *k, const char *rule, const char *id)
{
    for (size_t i = 0; i < k->r->n_assumptions; i++)
        if (same(k->r->assumptions[i].rule, rule) && same(k->r->assumptions[i].id, id))
            return &k->r->assumptions[i];
    return NULL;
}

static bool among(const still_strings *list, const char *id)
{
    for (size_t i = 0; i < list->n; i++)
        if (strcmp(list->items[i], id) == 0) return true;
    return false;
}

const still_closed_in *kit_closed_in(const kit *k, const char *id)
{
    for (size_t i = 0; i < k->r->n_closed_in; i++)
        if (among(&k->r->closed_in[i].ids, id)) return &k->r->closed_in[i];
    return NULL;
}

const still_compartment *kit_room(const kit *k, const char *id)
{
    for (size_t i = 0; i < k->r->n_compartments; i++)
        if (among(&k->r->compartments[i].ids, id)) return &k->r->compartments[i];
    return NULL;
}

uint32_t kit_below(kit_random *random, uint32_t n)
{
    uint64_t x = random->state;
    x ^= x >> 12;
    x ^= x << 25;
    x ^= x >> 27;
    random->state = x;
    return (uint32_t)((x * UINT64_C(0x2545F4914F6CDD1D)) >> 32) % n;
}

static kit open_kit;

static void one_row(void **given)
{
    const kit_row *row = *given;
    kit *k = &open_kit;
    kit_open(k, row->plant);
    kit_plan(k, row->plan);
    assert_non_null(row->want[0].question);
    for (size_t i = 0; i < KIT_WANTS && row->want[i].question != NULL; i++) {
        const char *got = kit_ask(k, row->want[i].question);
        if (strcmp(got, row->want[i].answer) != 0)
            print_error("asked: %s\n", row->want[i].question);
        assert_string_equal(got, row->want[i].answer);
    }
}

static int close_row(void **given)
{
    (void)given;
    kit_close(&open_kit);
    return 0;
}

int kit_main(const kit_row *rows, size_t n_rows, const struct CMUnitTest *more, size_t n_more)
{
    struct CMUnitTest *tests = still_calloc(n_rows + n_more, sizeof *tests);
    if (tests == NULL) return 1;
    for (size_t i = 0; i < n_rows; i++)
        tests[i] = row_test(rows[i].name, one_row, close_row, &rows[i]);
    if (n_more > 0) memcpy(tests + n_rows, more, n_more * sizeof *tests);
    int failed = _cmocka_run_group_tests("rules", tests, n_rows + n_more, NULL, NULL);
    still_free(tests);
    return failed != 0;
}
