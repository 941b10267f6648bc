/* Reading the plant file: what comes out, every file of tests/bad, memory running out. */
#include <dirent.h>
#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include <cmocka.h>

#include "alloc.h"
#include "check.h"
#include "codes.h"
#include "plantread.h"
#include "checklist.h"
#include "policy.h"
#include "site.h"
#include "stateread.h"

#define STILL_TESTS_DIR STILL_SOURCE_DIR "/tests"

#define HEAD "<plant xmlns=\"urn:stillset:plant:1\" id=\"p\">"

static const char full[] =
    "<?xml version=\"1.0\" encoding=\"utf-8\"?>\n"
    "<plant xmlns=\"urn:stillset:plant:1\" id=\"p-1\" name=\"a &amp; b &lt;&#38;#38;\" "
    "revision=\"B\""
    " people=\"high\" note=\"two&#10;lines\">\n"
    "  <gauge id=\"PI-1\" kind=\"pressure\" on=\"V-1\" via=\"HV-1\" place=\"roof\"/>\n"
    "  <spool id=\"S-1\" from=\"V-1.liq\" to=\"HV-1.in\" length=\"0.6 m\" bore=\"DN50\" "
    "service=\"L\""
    " ends=\"flanged welded\" removable=\"yes\"/>\n"
    "  <vessel id=\"V-1\" kind=\"separator\" volume=\"3.2 m3\" contents=\"two-phase\" fill=\"0.45\""
    " elevation=\"2 m\" role=\"low-pressure\"><port id=\"liq\" elevation=\"2.5 m\"/>"
    "<port id=\"top\"/></vessel>\n"
    "  <valve id=\"HV-1\" kind=\"globe\" position=\"throttled\" normal=\"open\" "
    "lockable=\"assumed\""
    " sealed=\"open\" place=\"under V-1\" feeds=\"complete\"/>\n"
    "  <spool id=\"S-2\" from=\"HV-1.out\" to=\"T-1.x\" bore=\"DN50\" wall=\"5 mm\" "
    "service=\"L\"/>\n"
    "  <fitting id=\"T-1\" kind=\"tee\" elevation=\"1 m\" sheet=\" 12.5  -3e1 \"/>\n"
    "  <spool id=\"S-3\" from=\"E-1.in\" to=\"T-1.a\" service=\"L\" bore=\"52.5 mm\"/>\n"
    "  <spool id=\"S-4\" from=\"E-1.hot\" to=\"TV.1.c\" service=\"W\" bore=\"NPS 1 1/2\" "
    "schedule=\"80\"/>\n"
    "  <exchanger id=\"E-1\" kind=\"plate\"><side id=\"cold\" volume=\"1 L\"><port "
    "id=\"in\"/></side>"
    "<side id=\"warm\" fill=\"1\" contents=\"liquid\"><port id=\"hot\" elevation=\"1 ft\"/>"
    "<port id=\"hot2\"/></side></exchanger>\n"
    "  <valve id=\"TV.1\" kind=\"three-way\" positions=\"c-a b-c\" position=\"a-c\" "
    "normal=\"c-b\"/>\n"
    "  <valve id=\"CV-1\" kind=\"check\" position=\"closed\"/>\n"
    "  <service id=\"L\" substance=\"ammonia\" phase=\"liquid\" pressure=\"2 bara\""
    " temperature=\"-34 degC\" hazard=\"H221+H331 H314\" condenses=\"no\"/>\n"
    "  <service id=\"W\" substance=\"brine\" density=\"1100 kg/m3\" hazard=\"none\"/>\n"
    "  <feed id=\"F-1\" kind=\"electrical\" supplies=\"S-2, HV-1  S-2\" isolator=\"Q1\" "
    "stored=\"none\"/>\n"
    "  <feed id=\"F-2\" kind=\"air\" supplies=\"HV-1\" lockable=\"yes\"/>\n"
    "  <sequence id=\"Q-1\" kind=\"defrost\" acts-on=\"HV-1,V-1\" off-at=\"panel\"/>\n"
    "</plant>\n";

static still_plant *read_text(const char *text, still_status want)
{
    still_plant *p = NULL;
    still_status got = still_read_plant_memory(&p, "memory", text, strlen(text), NULL);
    assert_int_equal(got, want);
    if (want != STILL_OK) assert_null(p);
    return p;
}

static uint32_t comp(const still_plant *p, const char *id)
{
    uint32_t c = still_plant_find(p, id).v;
    assert_int_not_equal(c, STILL_NONE);
    return c;
}

static void near(double got, double want)
{
    assert_true(fabs(got - want) < 1e-9);
}

static void reads_components(void **state)
{
    (void)state;
    still_plant *p = read_text(full, STILL_OK);
    assert_string_equal(still_text(p, p->id), "p-1");
    assert_string_equal(still_text(p, p->name), "a & b <&#38;");
    assert_string_equal(still_text(p, p->note), "two lines");
    assert_string_equal(still_text(p, p->revision), "B");
    assert_int_equal(p->people, STILL_PEOPLE_HIGH);
    assert_int_equal(p->n_comps, 10);
    uint32_t v = comp(p, "V-1"), hv = comp(p, "HV-1"), s1 = comp(p, "S-1"), s2 = comp(p, "S-2");
    assert_string_equal(still_comp_t(p, v, STILL_T_KIND), "separator");
    near(still_comp_q(p, v, STILL_Q_VOLUME_M3), 3.2);
    near(still_comp_q(p, v, STILL_Q_FILL), 0.45);
    assert_int_equal(p->comps[v].contents, STILL_CONTENTS_TWO_PHASE);
    assert_int_equal(p->comps[v].role, STILL_ROLE_LOW_PRESSURE);
    assert_int_equal(p->comps[hv].kind, STILL_KIND_GLOBE);
    assert_int_equal(p->comps[hv].position, STILL_POSITION_THROTTLED);
    assert_int_equal(p->comps[hv].normal, STILL_POSITION_OPEN);
    assert_int_equal(p->comps[hv].lockable, STILL_LOCKABLE_ASSUMED);
    assert_int_equal(p->comps[hv].sealed, STILL_SEALED_OPEN);
    assert_int_equal(p->comps[hv].feeds_complete, 1);
    assert_string_equal(still_comp_t(p, hv, STILL_T_PLACE), "under V-1");
    assert_int_equal(p->comps[s1].end_from, STILL_ENDS_FLANGED);
    assert_int_equal(p->comps[s1].end_to, STILL_ENDS_WELDED);
    assert_int_equal(p->comps[s1].removable, STILL_YESNO_YES);
    assert_int_equal(p->comps[s1].a, still_comp_port(p, v, "liq"));
    assert_int_equal(p->comps[s1].b, still_comp_port(p, hv, "in"));
    assert_int_equal(still_port_across(p, p->comps[s1].a), p->comps[s1].b);
    near(still_comp_q(p, s1, STILL_Q_LENGTH_M), 0.6);
    near(still_comp_q(p, s1, STILL_Q_WALL_MM), 3.91);        /* ASME B36.10M, STD */
    near(still_comp_q(p, s1, STILL_Q_BORE_MM), 60.3 - 7.82); /* ASME B36.10M */
    near(still_comp_q(p, s2, STILL_Q_BORE_MM), 50.3);
    near(still_comp_q(p, s2, STILL_Q_WALL_MM), 5);
    near(still_comp_q(p, comp(p, "S-4"), STILL_Q_BORE_MM), 48.3 - 2 * 5.08); /* ASME B36.10M */
    near(still_comp_q(p, comp(p, "S-3"), STILL_Q_BORE_MM), 52.5);
    assert_true(isnan(still_comp_q(p, comp(p, "S-3"), STILL_Q_WALL_MM)));
    assert_string_equal(still_comp_t(p, comp(p, "S-4"), STILL_T_SIZE), "NPS 1 1/2");
    for (uint32_t i = 0; i < p->n_comps; i++) assert_memory_equal(full + p->comps[i].src, "<", 1);
    still_plant_free(p);
}

static void N1_ports(void **state)
{
    (void)state;
    still_plant *p = read_text(full, STILL_OK);
    uint32_t v = comp(p, "V-1"), t = comp(p, "T-1"), e = comp(p, "E-1"), tv = comp(p, "TV.1");
    assert_int_equal(p->comps[v].b, 2);
    near(still_port_elevation_m(p, still_comp_port(p, v, "liq")), 2.5);
    near(still_port_elevation_m(p, still_comp_port(p, v, "top")), 2);
    assert_int_equal(p->comps[t].b, 2); /* named by spools only, in the order of appearance */
    assert_string_equal(still_text(p, still_port_name(p, p->comps[t].a)), "x");
    assert_string_equal(still_text(p, still_port_name(p, p->comps[t].a + 1)), "a");
    near(still_port_elevation_m(p, p->comps[t].a), 1);
    near(still_comp_q(p, t, STILL_Q_SHEET_X), 12.5);
    near(still_comp_q(p, t, STILL_Q_SHEET_Y), -30);
    assert_true(isnan(still_comp_q(p, v, STILL_Q_SHEET_X)));
    assert_int_equal(p->comps[e].b, 3);
    assert_int_equal(still_port_side(p, still_comp_port(p, e, "in")), 0);
    assert_int_equal(still_port_side(p, still_comp_port(p, e, "hot2")), 1);
    near(still_port_elevation_m(p, still_comp_port(p, e, "hot")), (double)0.3048f);
    assert_true(isnan(still_port_elevation_m(p, still_comp_port(p, e, "hot2"))));
    assert_int_equal(p->comps[tv].b, 3);
    assert_int_not_equal(still_comp_port(p, tv, "c"), STILL_NONE);
    assert_int_equal(still_comp_port(p, tv, "in"), STILL_NONE);
    for (uint32_t i = 0; i < p->n_ports; i++) {
        uint32_t c = p->ports[i].comp;
        assert_in_range(i, p->comps[c].a, p->comps[c].a + p->comps[c].b - 1);
    }
    still_plant_free(p);
}

static void D5_three_way_positions(void **state)
{
    (void)state;
    still_plant *p = read_text(full, STILL_OK);
    uint32_t tv = comp(p, "TV.1"), cv = comp(p, "CV-1");
    assert_string_equal(still_comp_t(p, tv, STILL_T_POSITIONS), "a-c b-c");
    assert_string_equal(still_comp_t(p, tv, STILL_T_POSITION), "a-c");
    assert_string_equal(still_comp_t(p, tv, STILL_T_NORMAL), "b-c");
    assert_int_equal(p->comps[tv].position, STILL_POSITION_NOT_SAID);
    /* A self-acting device's position is ignored: nothing can take it for a fact. */
    assert_int_equal(p->comps[cv].position, STILL_POSITION_NOT_SAID);
    assert_string_equal(still_comp_t(p, cv, STILL_T_POSITION), "closed");
    still_plant_free(p);
}

static void services_and_defaults(void **state)
{
    (void)state;
    still_plant *p = read_text(full, STILL_OK);
    assert_int_equal(p->n_services, 2);
    assert_int_equal(p->services[0].phase, STILL_PHASE_LIQUID);
    assert_int_equal(p->services[0].condenses, STILL_YESNO_NO);
    assert_string_equal(still_text(p, p->services[0].hazard), "H221 H331 H314");
    near(p->services[0].temperature_K, 239.15);
    near(p->services[0].pressure_bara, 2);
    assert_true(isnan(p->services[0].design_pressure_bara));
    near(p->services[1].density_kg_m3, 1100);
    assert_int_equal(p->comps[comp(p, "V-1")].service, 0);
    assert_int_equal(p->comps[comp(p, "HV-1")].service, 0);
    assert_int_equal(p->comps[comp(p, "T-1")].service, 0);
    assert_int_equal(p->comps[comp(p, "CV-1")].service, STILL_NONE);
    assert_int_equal(p->comps[comp(p, "E-1")].service, STILL_NONE);
    assert_int_equal(p->sides[0].service, 0);
    assert_int_equal(p->sides[1].service, 1);
    near(p->sides[0].volume_m3, 0.001);
    assert_int_equal(p->sides[1].contents, STILL_CONTENTS_LIQUID);
    still_plant_free(p);
}

static void feeds_gauges_sequences(void **state)
{
    (void)state;
    still_plant *p = read_text(full, STILL_OK);
    uint32_t hv = comp(p, "HV-1");
    size_t n = 0;
    assert_int_equal(p->n_feeds, 2);
    assert_int_equal(p->feeds[0].n_refs, 2);
    assert_true(p->refs[p->feeds[0].ref0] < p->refs[p->feeds[0].ref0 + 1]);
    const still_comp_feed *f = still_comp_feeds(p, hv, &n);
    assert_int_equal(n, 2);
    assert_int_equal(f[0].feed, 0);
    assert_int_equal(f[1].feed, 1);
    assert_string_equal(still_text(p, p->feeds[0].isolator), "Q1");
    assert_int_equal(p->feeds[0].stored, STILL_STORED_NONE);
    assert_int_equal(p->feeds[1].lockable, STILL_LOCKABLE_YES);
    assert_int_equal(p->gauges[0].on, comp(p, "V-1"));
    assert_int_equal(p->gauges[0].via, hv);
    assert_int_equal(p->sequences[0].n_refs, 2);
    assert_string_equal(still_text(p, p->sequences[0].off_at), "panel");
    assert_int_equal(still_plant_find(p, "F-1").v, STILL_NONE);
    assert_int_equal(still_plant_find(p, "nothing").v, STILL_NONE);
    still_plant_free(p);
}

/* N2: a component without service is unknown where one of its spools says none. */
static void N2_service_not_guessed(void **state)
{
    (void)state;
    still_plant *p =
        read_text(HEAD "<service id=\"L\"/><cap id=\"A\"/><cap id=\"B\"/><valve id=\"H\"/>"
                       "<spool id=\"S\" from=\"A.in\" to=\"H.in\" service=\"L\"/>"
                       "<spool id=\"T\" from=\"H.out\" to=\"B.in\"/></plant>",
                  STILL_OK);
    assert_int_equal(p->comps[comp(p, "H")].service, STILL_NONE);
    assert_int_equal(p->comps[comp(p, "A")].service, 0);
    assert_int_equal(p->comps[comp(p, "H")].kind, STILL_KIND_NOT_SAID);
    still_plant_free(p);
}

static void empty_and_one(void **state)
{
    (void)state;
    still_plant *p = read_text("<plant xmlns=\"urn:stillset:plant:1\" id=\"p\"/>", STILL_OK);
    assert_int_equal(p->n_comps, 0);
    /* SHA-256 of these bytes by coreutils sha256sum. */
    assert_string_equal(p->digest,
                        "1b0fd0a64f06a227667cf8a3e6b276ac365f5857fa9cc26b9e2fda45d251b7f5");
    still_plant_free(p);
    p = read_text(HEAD "<limit id=\"x\"/></plant>", STILL_OK);
    assert_int_equal(p->n_comps, 1);
    assert_int_equal(p->n_ports, 1);
    still_plant_free(p);
    read_text("", STILL_E_INPUT);
    read_text("\n", STILL_E_INPUT);
}

/* Start tags that straddle the chunks in which the file is read keep their offsets. */
static void chunk_borders(void **state)
{
    (void)state;
    static char text[200 * 1024];
    for (size_t shift = 0; shift < 200; shift += 7) {
        size_t n = 0;
        n += (size_t)snprintf(text, sizeof text, "%s<!--", HEAD);
        memset(text + n, 'x', 65400 + shift - n);
        n = 65400 + shift;
        n += (size_t)snprintf(text + n, sizeof text - n, "-->");
        size_t first = n;
        for (int i = 0; i < 4; i++)
            n += (size_t)snprintf(text + n, sizeof text - n,
                                  "<valve id=\"HV-%d\" kind=\"globe\" place=\"a &amp; b\"/>", i);
        snprintf(text + n, sizeof text - n, "</plant>");
        still_plant *p = read_text(text, STILL_OK);
        assert_int_equal(p->n_comps, 4);
        assert_int_equal(p->comps[0].src, first);
        for (uint32_t i = 0; i < 4; i++) {
            assert_memory_equal(text + p->comps[i].src, "<valve id=", 10);
            assert_string_equal(still_comp_t(p, i, STILL_T_PLACE), "a & b");
        }
        still_plant_free(p);
    }
}

/* Line numbers go on beyond 65535, where the parser's own tree would stop counting. */
static void lines_beyond_65535(void **state)
{
    (void)state;
    enum { LINES = 70000 };
    static char text[LINES + 500];
    size_t n = (size_t)snprintf(text, sizeof text, "\xEF\xBB\xBF%s", HEAD);
    memset(text + n, '\n', LINES);
    n += LINES;
    snprintf(text + n, sizeof text - n, "  <valve id=\"HV-1\" kind=\"glob\"/></plant>");
    still_diags *d = still_diags_new();
    still_plant *p = NULL;
    assert_int_equal(still_read_plant_memory(&p, "m", text, strlen(text), d), STILL_E_INPUT);
    assert_int_equal(still_diags_count(d), 1);
    assert_int_equal(still_diags_at(d, 0)->line, LINES + 1);
    assert_int_equal(still_diags_at(d, 0)->column, 26);
    assert_string_equal(still_diags_at(d, 0)->source_line,
                        "  <valve id=\"HV-1\" kind=\"glob\"/></plant>");
    still_diags_free(d);
}

/* A long line is cut around the place; nothing that a terminal obeys gets through. */
static void caret_in_long_lines(void **state)
{
    (void)state;
    static char text[4000], line[4000];
    size_t n = (size_t)snprintf(text, sizeof text, "%s", HEAD);
    for (int i = 0; i < 100; i++)
        n += (size_t)snprintf(text + n, sizeof text - n, "<!--\xC3\xA4\xC2\x9B-->\t");
    snprintf(text + n, sizeof text - n, "<valve id=\"HV-1\" kind=\"\xC2\x9B\" /></plant>");
    still_diags *d = still_diags_new();
    still_plant *p = NULL;
    assert_int_equal(still_read_plant_memory(&p, "m\x1B", text, strlen(text), d), STILL_E_INPUT);
    const still_diag *g = still_diags_at(d, 0);
    assert_true(strlen(g->source_line) < 300);
    assert_memory_equal(g->source_line, "...", 3);
    assert_memory_equal(g->source_line + g->caret - 1, "\xC2\x9B", 2);
    FILE *f = tmpfile();
    assert_non_null(f);
    still_diag_write(g, f);
    rewind(f);
    size_t got = fread(line, 1, sizeof line - 1, f);
    line[got] = '\0';
    fclose(f);
    assert_null(strstr(line, "\xC2\x9B"));
    assert_null(strchr(line, '\x1B'));
    assert_memory_equal(line, "m?:1: error: STILL-0301: ", 25);
    still_diags_free(d);
}

static void same_from_file_and_memory(void **state)
{
    (void)state;
    char path[] = "/tmp/still-input-XXXXXX";
    int fd = mkstemp(path);
    assert_true(fd >= 0);
    assert_int_equal(write(fd, full, strlen(full)), strlen(full));
    close(fd);
    still_plant *a = NULL, *b = read_text(full, STILL_OK);
    assert_int_equal(still_read_plant(&a, path, NULL), STILL_OK);
    assert_string_equal(a->digest, b->digest);
    assert_string_equal(a->file, path);
    assert_int_equal(a->n_facts, b->n_facts);
    /* Once the file is another, its lines are not shown any more. */
    still_diags *d = still_diags_new();
    assert_int_equal(truncate(path, 10), 0);
    assert_int_equal(still_check_plant(a, d), STILL_OK);
    assert_true(still_diags_count(d) > 0);
    assert_int_equal(still_diags_at(d, 0)->line, 0);
    still_diags_free(d);
    still_plant_free(a);
    still_plant_free(b);
    unlink(path);
}

static uint8_t code_seen[STILL_CODE_COUNT];

static void note_code(const char *code)
{
    for (unsigned c = 0; c < STILL_CODE_COUNT; c++)
        if (strcmp(still_code_text((still_code)c), code) == 0) code_seen[c] = 1;
}

static void STILL_0101_no_file(void **state)
{
    (void)state;
    static const char *const paths[] = {"/nonexistent/plant.xml", "/", "/dev/null/x"};
    for (size_t i = 0; i < sizeof paths / sizeof paths[0]; i++) {
        still_plant *p = NULL;
        still_diags *d = still_diags_new();
        assert_int_equal(still_read_plant(&p, paths[i], d), STILL_E_IO);
        assert_null(p);
        assert_int_equal(still_diags_errors(d), 1);
        assert_string_equal(still_diags_at(d, 0)->code, "STILL-0101");
        assert_int_equal(still_diags_at(d, 0)->line, 0);
        note_code(still_diags_at(d, 0)->code);
        still_diags_free(d);
    }
}

static void STILL_0102_four_gib(void **state)
{
    (void)state;
    char path[] = "/tmp/still-input-XXXXXX";
    int fd = mkstemp(path);
    assert_true(fd >= 0);
    int sparse = ftruncate(fd, (off_t)UINT32_MAX + 1);
    close(fd);
    if (sparse == 0) {
        still_plant *p = NULL;
        still_diags *d = still_diags_new();
        assert_int_equal(still_read_plant(&p, path, d), STILL_E_LIMIT);
        assert_null(p);
        assert_string_equal(still_diags_at(d, 0)->code, "STILL-0102");
        note_code("STILL-0102");
        still_diags_free(d);
    }
    unlink(path);
    if (sparse != 0) skip();
}

static void STILL_0401_small_file_over_1_mib(void **state)
{
    (void)state;
    enum { MOST = 1024 * 1024 };
    static char text[MOST + 2];
    const char *head = "<policy xmlns=\"urn:stillset:policy:1\" id=\"p\"><column id=\"c\"/><class";
    still_policy *policy = NULL;
    memset(text, ' ', MOST + 1);
    memcpy(text, head, strlen(head));
    for (size_t len = MOST; len <= MOST + 1; len++) {
        still_diags *d = still_diags_new();
        still_status s = still_policy_read_memory(&policy, "m", text, len, d);
        assert_int_equal(s, len > MOST ? STILL_E_LIMIT : STILL_E_INPUT);
        assert_int_equal(still_diags_errors(d), 1);
        assert_string_equal(still_diags_at(d, 0)->code, len > MOST ? "STILL-0401" : "STILL-0105");
        still_diags_free(d);
    }
    note_code("STILL-0401");
}

static void other_encodings(void **state)
{
    (void)state;
    static const struct {
        const char *bytes;
        size_t len;
    } rows[] = {{"\xFF\xFE<\0p\0", 6}, {"\xFE\xFF\0<\0p", 6}, {"<\0?\0x\0m\0", 8},
                {"\0<\0?\0x", 6},      {"\0\0\0<", 4},        {"\x4C\x6F\xA7\x94", 4}};
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        still_plant *p = NULL;
        still_policy *policy = NULL;
        still_diags *d = still_diags_new();
        assert_int_equal(still_read_plant_memory(&p, "m", rows[i].bytes, rows[i].len, d),
                         STILL_E_INPUT);
        assert_int_equal(still_policy_read_memory(&policy, "m", rows[i].bytes, rows[i].len, d),
                         STILL_E_INPUT);
        assert_int_equal(still_diags_errors(d), 2);
        assert_string_equal(still_diags_at(d, 0)->code, "STILL-0103");
        assert_string_equal(still_diags_at(d, 1)->code, "STILL-0103");
        still_diags_free(d);
    }
}

/* Fail the first, second, third … allocation until one reading goes through. */
static void memory_out(const char *text, still_status want)
{
    for (uint64_t n = 1; n < 5000; n++) {
        still_plant *p = NULL;
        still_alloc_fail_at(0);
        still_diags *d = still_diags_new();
        still_alloc_fail_at(n);
        still_status s = still_read_plant_memory(&p, "m", text, strlen(text), d);
        if (s == STILL_OK) {
            still_status c = still_check_plant(p, d);
            if (c == STILL_OK && still_diags_dropped(d) == 0) {
                still_alloc_fail_at(0);
                still_plant_free(p);
                still_diags_free(d);
                assert_int_equal(want, STILL_OK);
                assert_true(n > 20);
                return;
            }
        }
        still_alloc_fail_at(0);
        still_plant_free(p);
        bool dropped = still_diags_dropped(d) > 0;
        still_diags_free(d);
        if (s == want && want != STILL_OK && !dropped) {
            assert_true(n > 20);
            return;
        }
        if (s != want) assert_int_equal(s, STILL_E_NOMEM);
    }
    fail();
}

static void memory_out_good(void **state)
{
    (void)state;
    memory_out(full, STILL_OK);
}

static void memory_out_bad(void **state)
{
    (void)state;
    memory_out(HEAD "<service id=\"a b\"/><vessel id=\"V\" volume=\"1\"><port id=\"a\"/>"
                    "<port id=\"a\"/></vessel><fitting id=\"T\"/><thing/>"
                    "<spool id=\"S\" from=\"V.b\" to=\"T.a\"/></plant>",
               STILL_E_INPUT);
}

static void keeps_at_most_ten_thousand(void **state)
{
    (void)state;
    enum { N = 10500 };
    static char text[N * 20 + 200];
    size_t n = (size_t)snprintf(text, sizeof text, "%s", HEAD);
    for (int i = 0; i < N; i++) n += (size_t)snprintf(text + n, sizeof text - n, "<x/>\n");
    snprintf(text + n, sizeof text - n, "</plant>");
    still_diags *d = still_diags_new();
    still_plant *p = NULL;
    assert_int_equal(still_read_plant_memory(&p, "m", text, strlen(text), d), STILL_E_INPUT);
    assert_int_equal(still_diags_count(d), 10000);
    assert_int_equal(still_diags_errors(d), N);
    assert_int_equal(still_diags_dropped(d), N - 10000);
    still_diags_free(d);
}

/* State files of tests/bad are of the tutorial plant. */
static still_status read_today(still_state **out, const char *path, still_diags *d)
{
    still_plant *p = NULL;
    assert_int_equal(still_read_plant(&p, STILL_SOURCE_DIR "/plants-demo/tutorial.xml", NULL),
                     STILL_OK);
    still_status s = still_read_state(out, p, path, d);
    still_plant_free(p);
    return s;
}

/* A file of tests/bad: its comment says which code is expected, and where. */
static void bad_file(void **state)
{
    const char *name = *state;
    char path[600], bytes[16 * 1024], code[16];
    unsigned line = 0, column = 0;
    snprintf(path, sizeof path, "%s/bad/%s", STILL_TESTS_DIR, name);
    FILE *f = fopen(path, "rb");
    assert_non_null(f);
    size_t n = fread(bytes, 1, sizeof bytes - 1, f);
    fclose(f);
    bytes[n] = '\0';
    const char *at = strstr(bytes, "expect: ");
    assert_non_null(at);
    assert_int_equal(sscanf(at, "expect: %15s %u:%u", code, &line, &column), 3);
    assert_memory_equal(code, name, strlen(code));
    still_diags *d = still_diags_new();
    still_plant *p = NULL;
    still_policy *policy = NULL;
    still_state *today = NULL;
    still_site *site = NULL;
    still_checklists *lists = NULL;
    bool of_site = strstr(bytes, "urn:stillset:site:1") != NULL;
    bool of_lists = strstr(bytes, "urn:stillset:checklists:1") != NULL;
    bool of_policy = strstr(bytes, "urn:stillset:policy:1") != NULL;
    bool of_state = strstr(bytes, "<state ") != NULL;
    still_status s = of_policy  ? still_policy_read(&policy, path, d)
                     : of_state ? read_today(&today, path, d)
                     : of_site  ? still_site_read(&site, path, d)
                     : of_lists ? still_checklists_read(&lists, path, d)
                                : still_read_plant(&p, path, d);
    assert_null(policy);
    assert_null(site);
    assert_null(lists);
    bool warning = strcmp(code, "STILL-0500") > 0;
    assert_int_equal(today != NULL, of_state && warning);
    assert_int_equal(s, warning ? STILL_OK : STILL_E_INPUT);
    if (p != NULL) assert_int_equal(still_check_plant(p, d), STILL_OK);
    size_t hits = 0;
    for (size_t i = 0; i < still_diags_count(d); i++) {
        const still_diag *g = still_diags_at(d, i);
        assert_string_equal(g->file, path);
        assert_int_equal(g->severity == STILL_SEV_ERROR, strcmp(g->code, "STILL-0500") < 0);
        if (strcmp(g->code, code) == 0 && g->line == line && g->column == column) hits++;
        if (line > 0 && g->line > 0) assert_in_range(g->caret, 1, strlen(g->source_line) + 1);
    }
    assert_int_equal(hits, 1);
    /* Errors do not come in swarms: what one mistake causes is one error. */
    if (!warning) assert_in_range(still_diags_errors(d), 1, 2);
    note_code(code);
    still_plant_free(p);
    still_state_free(today);
    still_diags_free(d);
}

static void every_code_has_an_input(void **state)
{
    (void)state;
    for (unsigned c = 0; c < STILL_CODE_COUNT; c++)
        if (!code_seen[c]) fail_msg("%s has no input", still_code_text((still_code)c));
}

static void codes_are_in_order(void **state)
{
    (void)state;
    for (unsigned c = 0; c < STILL_CODE_COUNT; c++) {
        const char *text = still_code_text((still_code)c);
        assert_int_equal(strlen(text), 10);
        if (c > 0) assert_true(strcmp(still_code_text((still_code)(c - 1)), text) < 0);
        assert_true(still_code_summary((still_code)c)[0] != '\0');
        assert_int_equal(still_code_severity((still_code)c) == STILL_SEV_WARNING, text[7] == '5');
    }
    assert_string_equal(still_code_text(STILL_CODE_COUNT), "");
}

static int by_text(const void *a, const void *b)
{
    return strcmp(a, b);
}

int main(void)
{
    enum { MAX = 300 };
    static char names[MAX][256];
    static struct CMUnitTest tests[MAX + 32];
    static const struct CMUnitTest fixed[] = {
        cmocka_unit_test(reads_components),
        cmocka_unit_test(N1_ports),
        cmocka_unit_test(D5_three_way_positions),
        cmocka_unit_test(services_and_defaults),
        cmocka_unit_test(feeds_gauges_sequences),
        cmocka_unit_test(N2_service_not_guessed),
        cmocka_unit_test(empty_and_one),
        cmocka_unit_test(chunk_borders),
        cmocka_unit_test(lines_beyond_65535),
        cmocka_unit_test(caret_in_long_lines),
        cmocka_unit_test(same_from_file_and_memory),
        cmocka_unit_test(STILL_0101_no_file),
        cmocka_unit_test(STILL_0102_four_gib),
        cmocka_unit_test(STILL_0401_small_file_over_1_mib),
        cmocka_unit_test(other_encodings),
        cmocka_unit_test(memory_out_good),
        cmocka_unit_test(memory_out_bad),
        cmocka_unit_test(keeps_at_most_ten_thousand),
        cmocka_unit_test(codes_are_in_order),
    };
    size_t n_files = 0, n = sizeof fixed / sizeof fixed[0];
    memcpy(tests, fixed, sizeof fixed);
    DIR *dir = opendir(STILL_TESTS_DIR "/bad");
    if (dir == NULL) return 1;
    for (struct dirent *e; (e = readdir(dir)) != NULL && n_files < MAX;)
        if (strncmp(e->d_name, "STILL-", 6) == 0 && strstr(e->d_name, ".xml") != NULL)
            snprintf(names[n_files++], sizeof names[0], "%s", e->d_name);
    closedir(dir);
    qsort(names, n_files, sizeof names[0], by_text);
    for (size_t i = 0; i < n_files; i++)
        tests[n++] = (struct CMUnitTest){names[i], bad_file, NULL, NULL, names[i]};
    tests[n++] = (struct CMUnitTest)cmocka_unit_test(every_code_has_an_input);
    return _cmocka_run_group_tests("test_input", tests, n, NULL, NULL);
}
