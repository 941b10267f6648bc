/* Tests of the picture of a plan. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <cmocka.h>

#include "alloc.h"
#include "output.h"
#include "output_sample.h"
#include "plantread.h"
#include "svg.h"

#include <libxml/parser.h>
#include <libxml/tree.h>
#include <locale.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define HEAD                                                                                       \
    "<plant xmlns='urn:stillset:plant:1' id='p' name='N' revision='1'>"                            \
    "<service id='L' substance='ammonia' phase='liquid' design-pressure='19 barg'/>"

/** Two vessels, the work between two valves, a bleed, a check valve beyond, a motor. */
static const char small[] = HEAD
    "<vessel id='V-1' kind='separator' service='L'><port id='a'/><port id='b'/></vessel>"
    "<vessel id='V-2' kind='receiver' service='L'><port id='a'/></vessel>"
    "<valve id='HV-1' kind='globe' position='open' lockable='yes' bore='DN50'/>"
    "<valve id='HV-2' kind='ball' position='closed' lockable='assumed' bore='DN50'/>"
    "<valve id='CV-9' kind='check'/><valve id='MV-1' kind='control' drive='motor'/>"
    "<valve id='DV-1' kind='needle' position='closed'/><fitting id='T-1' kind='tee'/>"
    "<outlet id='DR-1' kind='drain' leads-to='safe-place' shared='no' fitted='cap'/>"
    "<spool id='S-1' from='V-1.a' to='HV-1.in' length='1 m' bore='DN50' service='L'/>"
    "<spool id='S-2' from='HV-1.out' to='MV-1.in' length='1 m' bore='DN50' service='L'/>"
    "<spool id='S-3' from='MV-1.out' to='T-1.a' length='1 m' bore='DN50' service='L'/>"
    "<spool id='S-5' from='T-1.b' to='HV-2.in' length='1 m' bore='DN50' service='L'/>"
    "<spool id='S-6' from='T-1.c' to='DV-1.in' length='1 m' bore='DN15' service='L'/>"
    "<spool id='S-7' from='DV-1.out' to='DR-1.in' length='1 m' bore='DN15' service='L'/>"
    "<spool id='S-4' from='HV-2.out' to='CV-9.in' length='1 m' bore='DN50' service='L'/>"
    "<spool id='S-8' from='CV-9.out' to='V-2.a' length='1 m' bore='DN50' service='L'/>"
    "<feed id='MCC-1/4' kind='electrical' supplies='MV-1' isolator='x' lockable='yes'/></plant>";

static const char *inside[] = {"DR-1", "DV-1", "MV-1", "S-2", "S-3", "S-5", "S-6", "S-7", "T-1"};

static still_plant *plant_of(const char *xml)
{
    still_plant *plant = NULL;
    still_diags *diags = still_diags_new();
    assert_non_null(diags);
    still_status status = still_read_plant_memory(&plant, "test.xml", xml, strlen(xml), diags);
    if (status != STILL_OK && still_diags_count(diags) > 0)
        fail_msg("%s", still_diags_at(diags, 0)->text);
    still_diags_free(diags);
    assert_int_equal(status, STILL_OK);
    return plant;
}

static still_record small_record(void)
{
    still_record r = sample_record();
    r.inside = (still_strings){inside, COUNT(inside)};
    return r;
}

static char *svg_of(const still_record *r, const still_plant *plant)
{
    still_buf out = STILL_BUF_INIT;
    assert_int_equal(still_picture_write(&out, r, plant, STILL_PICTURE_SVG), STILL_OK);
    assert_non_null(out.text);
    return out.text;
}

static xmlDoc *parse(const char *svg)
{
    xmlDoc *doc = xmlReadMemory(svg, (int)strlen(svg), "x.svg", NULL, XML_PARSE_NONET);
    if (doc == NULL) fail_msg("not well-formed:\n%s", svg);
    return doc;
}

static void has(const char *text, const char *words)
{
    if (strstr(text, words) == NULL) fail_msg("\"%s\" is not in:\n%s", words, text);
}

static void lacks(const char *text, const char *words)
{
    if (strstr(text, words) != NULL) fail_msg("\"%s\" is in:\n%s", words, text);
}

/** Times that a class of line is used. */
static size_t uses(const char *svg, const char *cls)
{
    char pattern[64];
    size_t n = 0;
    snprintf(pattern, sizeof pattern, "class=\"%s\"", cls);
    for (const char *at = strstr(svg, pattern); at != NULL; at = strstr(at + 1, pattern)) n++;
    return n;
}

static void picture_shows_work_points_and_boundary(void **state)
{
    (void)state;
    still_plant *plant = plant_of(small);
    still_record r = small_record();
    char *svg = svg_of(&r, plant);
    xmlFreeDoc(parse(svg));
    const char *const words[] = {"<title id=\"t\">",
                                 "<desc id=\"d\">",
                                 ">WORK<",
                                 ">HV-1<",
                                 ">closed, locked<",
                                 ">open, tagged<",
                                 ">MCC-1/4<",
                                 ">CV-9<",
                                 ">S-5<",
                                 ">3f2a90b1c4d5e6f7<",
                                 ">stillset 0.1.0<",
                                 "walking the line",
                                 "NOT READY: 2 findings block"};
    for (size_t i = 0; i < COUNT(words); i++) has(svg, words[i]);
    /* V-2 lies behind the check valve, which is the next device: the picture ends there. */
    lacks(svg, ">V-2<");
    has(svg, ">to V-2<");
    /* One bar at each of two valves, one in the legend; none at the bleed. */
    assert_int_equal(uses(svg, "bound"), 3);
    assert_int_equal(uses(svg, "frame-thick"), 2);
    /* Tags 1, 2 and 4 at their devices, 3 at what it feeds; each once more below; legend. */
    assert_int_equal(uses(svg, "flag"), 4 + 4 + 1);
    has(svg, "class=\"shut\"");
    still_free(svg);
    still_plant_free(plant);
}

/** A lock makes LC; a tag makes nothing. What pushes is named, inside nothing is. */
static void letters_sources_and_heights_stand_beside_the_symbols(void **state)
{
    (void)state;
    char text[sizeof small + 200];
    const char *at = strstr(small, "<outlet id='DR-1' ");
    assert_non_null(at);
    snprintf(text, sizeof text, "%.*s<outlet elevation='-0.126 m' %s", (int)(at - small), small,
             at + strlen("<outlet "));
    still_plant *plant = plant_of(text);
    still_record r = small_record();
    char *svg = svg_of(&r, plant);
    bool locked = false, tagged = false;
    for (size_t i = 0; i < r.n_points; i++) {
        locked = locked ||
                 (strcmp(r.points[i].hold, "lock") == 0 && strcmp(r.points[i].to, "closed") == 0);
        tagged = tagged || strcmp(r.points[i].hold, "tag") == 0;
    }
    assert_true(locked && tagged);
    has(svg, ">LC<");
    lacks(svg, ">LO<");
    has(svg, ">source<");
    has(svg, ">el. -0.13 m<");
    still_free(svg);
    /* All of it inside: nothing pushes there. */
    static const char *all[] = {"DR-1", "DV-1", "MV-1", "S-2", "S-3", "S-5",
                                "S-6",  "S-7",  "T-1",  "V-1", "V-2"};
    r.inside = (still_strings){all, COUNT(all)};
    svg = svg_of(&r, plant);
    lacks(svg, ">source<");
    still_free(svg);
    still_plant_free(plant);
}

static void L6_uncovered_liquid_is_marked_in_words(void **state)
{
    (void)state;
    still_plant *plant = plant_of(small);
    still_record r = small_record();
    char *svg = svg_of(&r, plant);
    has(svg, ">liquid shut in,<");
    still_free(svg);
    r.n_closed_in = 0;
    svg = svg_of(&r, plant);
    lacks(svg, ">liquid shut in,<");
    still_free(svg);
    still_plant_free(plant);
}

static void I6_obstacle_is_drawn_and_nothing_looks_isolated(void **state)
{
    (void)state;
    still_plant *plant = plant_of(small);
    still_record r = sample_infeasible();
    char *svg = svg_of(&r, plant);
    xmlFreeDoc(parse(svg));
    has(svg, "CANNOT BE ISOLATED");
    has(svg, "open way: V-1 - S-1 - HV-1 - S-2 - MV-1");
    has(svg, ">would help here<");
    assert_true(uses(svg, "band-path") > 2);
    assert_int_equal(uses(svg, "pipe-in"), 1); /* the legend */
    assert_int_equal(uses(svg, "bound"), 1);
    still_free(svg);
    still_plant_free(plant);
}

static void P7_page_says_that_the_line_must_be_walked(void **state)
{
    (void)state;
    still_plant *plant = plant_of(HEAD "<limit id='MV-1' dead='yes'/></plant>");
    still_record r = sample_empty();
    r.targets = (still_strings){sample_target, 1};
    char *svg = svg_of(&r, plant);
    xmlFreeDoc(parse(svg));
    has(svg, "walking the line");
    has(svg, ">drawing ends,<");
    still_free(svg);
    still_plant_free(plant);
}

static void I8_other_ends_and_open_ends_are_shown(void **state)
{
    (void)state;
    still_plant *plant = plant_of(
        HEAD "<valve id='MV-1' kind='unknown'/><valve id='HV-1' kind='globe'/>"
             "<spool id='S-2' from='HV-1.out' to='MV-1.in' length='1 m' bore='DN50'/></plant>");
    still_record r = small_record();
    char *svg = svg_of(&r, plant);
    xmlFreeDoc(parse(svg));
    has(svg, ">open end, live<");
    has(svg, ">unknown valve<");
    still_free(svg);
    still_plant_free(plant);
}

static void nothing_of_the_plant_can_break_out_of_the_page(void **state)
{
    (void)state;
    still_plant *plant = plant_of("<plant xmlns='urn:stillset:plant:1' id='&lt;script&gt;' "
                                  "name='&lt;/svg&gt;&#x202E;&amp;&quot;'>"
                                  "<fitting id='&lt;a&gt;&amp;&quot;&apos;' kind='tee'/></plant>");
    still_record r = sample_empty();
    static const char *target[] = {"<a>&\"'"};
    r.targets = (still_strings){target, 1};
    r.plant_name = "</svg>\x1b[2J\xE2\x80\xAE<script>alert(1)</script>]]>&x;";
    r.plant_id = "<!--";
    r.version = "\"><image href='http://x'/>";
    r.plant_digest = "\xE2\x80\xAE<b>";
    char *svg = svg_of(&r, plant);
    xmlFreeDoc(parse(svg));
    const char *const never[] = {"<script", "<image",       "<!--", "]]>",
                                 "\x1b",    "\xE2\x80\xAE", "href="};
    for (size_t i = 0; i + 1 < COUNT(never); i++) lacks(svg, never[i]);
    has(svg, "&lt;a&gt;&amp;&quot;'");
    still_free(svg);
    still_plant_free(plant);
}

static void a_ring_and_a_loop_can_be_drawn(void **state)
{
    (void)state;
    still_plant *plant = plant_of(
        HEAD "<valve id='MV-1' kind='globe' position='open'/><valve id='B' kind='ball'/>"
             "<fitting id='T' kind='tee'/><vessel id='V' kind='v'><port id='a'/><port id='b'/>"
             "<port id='c'/></vessel><spool id='S-2' from='MV-1.out' to='B.in'/>"
             "<spool id='S-3' from='B.out' to='MV-1.in'/><spool id='S-5' from='V.a' to='V.b'/>"
             "<spool id='S-6' from='V.c' to='T.a'/><spool id='S-7' from='T.b' to='T.c'/></plant>");
    static const char *ring[] = {"B", "T", "V", "S-2", "S-3", "S-5", "S-6", "S-7"};
    still_record r = small_record();
    r.inside = (still_strings){ring, COUNT(ring)};
    r.n_points = 0;
    char *svg = svg_of(&r, plant);
    xmlFreeDoc(parse(svg));
    has(svg, ">S-5<");
    has(svg, ">S-7<");
    still_free(svg);
    still_plant_free(plant);
}

/** A row of n tees with a valve on each, all inside. */
static char *long_plant(size_t n, still_buf *ids, const char **list)
{
    still_buf xml = STILL_BUF_INIT;
    still_buf_add(&xml, HEAD "<fitting id='MV-1' kind='tee'/>");
    for (size_t i = 0; i < n; i++) {
        still_buf_printf(&xml, "<fitting id='T-%zu' kind='tee'/><valve id='X-%zu' kind='gate'/>", i,
                         i);
        if (i == 0) still_buf_add(&xml, "<spool id='S-0' from='MV-1.b' to='T-0.a'/>");
        if (i > 0)
            still_buf_printf(&xml, "<spool id='S-%zu' from='T-%zu.b' to='T-%zu.a'/>", i, i - 1, i);
        still_buf_printf(&xml, "<spool id='R-%zu' from='T-%zu.c' to='X-%zu.in'/>", i, i, i);
    }
    still_buf_add(&xml, "</plant>");
    static const char kinds[] = "TXSR";
    for (size_t i = 0; i < 4 * n; i++) still_buf_printf(ids, "%c-%zu%c", kinds[i % 4], i / 4, '\n');
    char *at = ids->text;
    for (size_t i = 0; i < 4 * n; i++) {
        list[i] = at;
        at += strcspn(at, "\n");
        *at++ = '\0';
    }
    return xml.text;
}

static void a_page_that_is_full_says_so(void **state)
{
    (void)state;
    enum { N = 230 };
    static const char *list[4 * N];
    still_buf ids = STILL_BUF_INIT;
    char *xml = long_plant(N, &ids, list);
    still_plant *plant = plant_of(xml);
    still_record r = small_record();
    r.inside = (still_strings){list, 4 * N};
    r.n_points = 0;
    char *svg = svg_of(&r, plant);
    xmlFreeDoc(parse(svg));
    has(svg, "PAGE FULL: NOT ALL IS DRAWN");
    still_free(svg);
    still_plant_free(plant);
    still_free(xml);
    still_buf_clear(&ids);
}

static void the_same_plan_gives_the_same_picture_in_every_locale(void **state)
{
    (void)state;
    static const char *const locales[] = {"C", "de_DE.UTF-8", "fr_FR.UTF-8", "C.UTF-8"};
    still_plant *plant = plant_of(small);
    still_record r = small_record();
    char *first = svg_of(&r, plant);
    for (size_t i = 0; i < COUNT(locales); i++) {
        if (setlocale(LC_ALL, locales[i]) == NULL) continue;
        char *again = svg_of(&r, plant);
        assert_string_equal(first, again);
        still_free(again);
        setlocale(LC_ALL, "C");
    }
    still_free(first);
    still_plant_free(plant);
}

static void out_of_memory_is_told_and_leaves_nothing(void **state)
{
    (void)state;
    still_plant *plant = plant_of(small);
    still_record r = small_record();
    still_status status = STILL_E_NOMEM;
    for (uint64_t n = 1; status != STILL_OK; n++) {
        still_buf out = STILL_BUF_INIT;
        still_alloc_fail_at(n);
        status = still_picture_write(&out, &r, plant, STILL_PICTURE_SVG);
        still_alloc_fail_at(0);
        if (status != STILL_OK) assert_int_equal(status, STILL_E_NOMEM);
        if (status != STILL_OK) assert_int_equal(out.len, 0);
        still_buf_clear(&out);
        assert_true(n < 100000);
    }
    still_plant_free(plant);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(picture_shows_work_points_and_boundary),
        cmocka_unit_test(letters_sources_and_heights_stand_beside_the_symbols),
        cmocka_unit_test(L6_uncovered_liquid_is_marked_in_words),
        cmocka_unit_test(I6_obstacle_is_drawn_and_nothing_looks_isolated),
        cmocka_unit_test(P7_page_says_that_the_line_must_be_walked),
        cmocka_unit_test(I8_other_ends_and_open_ends_are_shown),
        cmocka_unit_test(nothing_of_the_plant_can_break_out_of_the_page),
        cmocka_unit_test(a_ring_and_a_loop_can_be_drawn),
        cmocka_unit_test(a_page_that_is_full_says_so),
        cmocka_unit_test(the_same_plan_gives_the_same_picture_in_every_locale),
        cmocka_unit_test(out_of_memory_is_told_and_leaves_nothing),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
