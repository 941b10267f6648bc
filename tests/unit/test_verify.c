/* The second check of a plan (rule I7): right records pass, each wrong one is caught for its rule.
 *
 * Three small plants, a right record for each, made by hand; a case changes the plant's text, the
 * state or the record in one place and names the rule (and component) that must speak. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <math.h>
#include <stdio.h>
#include <string.h>
#include <cmocka.h>

#include "alloc.h"
#include "arena.h"
#include "plantread.h"
#include "rowtest.h"
#include "strbuf.h"
#include "verify.h"

#define HEAD "<plant xmlns=\"urn:stillset:plant:1\" id=\"P\" name=\"p\" revision=\"A\">"
#define LIQ                                                                                        \
    "<service id=\"LQ\" substance=\"ammonia\" phase=\"liquid\" temperature=\"-30 degC\" "          \
    "pressure=\"2 barg\" design-pressure=\"19 barg\"/>"
#define VAP                                                                                        \
    "<service id=\"VP\" substance=\"ammonia\" phase=\"vapour\" temperature=\"20 degC\" "           \
    "pressure=\"1 barg\" design-pressure=\"19 barg\"/>"
#define SPOOL(id, from, to, service)                                                               \
    "<spool id=\"" id "\" from=\"" from "\" to=\"" to                                              \
    "\" length=\"1 m\" bore=\"50 mm\" service=\"" service "\"/>"
#define GLOBE(id, position)                                                                        \
    "<valve id=\"" id "\" kind=\"globe\" position=\"" position "\" lockable=\"yes\"/>"

/* A: control valve MV-1 between two vessels, with a drain and a relief valve. Its isolator also
 * serves pump P-9. */
static const char plant_a[] = HEAD LIQ
    "<vessel id=\"V-1\" service=\"LQ\" volume=\"1 m3\" contents=\"two-phase\" fill=\"0.5\">"
    "<port id=\"liq\"/></vessel>"
    "<vessel id=\"V-2\" service=\"LQ\" volume=\"1 m3\" contents=\"two-phase\" fill=\"0.5\">"
    "<port id=\"in\"/><port id=\"out\"/></vessel>" GLOBE("HV-1", "open") GLOBE("HV-2", "open")
        GLOBE(
            "HV-3",
            "closed") "<valve id=\"MV-1\" kind=\"control\" drive=\"motor\" manual-opening=\"yes\"/>"
                      "<valve id=\"RV-1\" kind=\"relief\" set-pressure=\"18 barg\"/>"
                      "<pump id=\"P-9\"/><limit id=\"L-9\"/>"
                      "<fitting id=\"T-1\" kind=\"tee\"/><fitting id=\"T-2\" kind=\"tee\"/>"
                      "<outlet id=\"O-1\" kind=\"drain\" leads-to=\"safe-place\" shared=\"no\"/>"
                      "<outlet id=\"O-2\" kind=\"vent\" leads-to=\"safe-place\" shared=\"no\" "
                      "fitted=\"open\"/>" SPOOL("S-1", "V-1.liq", "HV-1.in", "LQ") SPOOL(
                          "S-2", "HV-1.out", "T-1.a", "LQ") SPOOL("S-3", "T-1.b", "MV-1.in", "LQ")
                          SPOOL("S-4", "MV-1.out", "T-2.a", "LQ") SPOOL(
                              "S-5", "T-2.b", "HV-2.in",
                              "LQ") SPOOL("S-6", "HV-2.out", "V-2.in",
                                          "LQ") SPOOL("S-7", "T-1.c", "HV-3.in",
                                                      "LQ") SPOOL("S-8", "HV-3.out", "O-1.in", "LQ")
                              SPOOL("S-9", "T-2.c", "RV-1.in", "LQ") SPOOL(
                                  "S-10", "RV-1.out", "O-2.in",
                                  "LQ") SPOOL("S-20", "V-2.out", "P-9.in", "LQ")
                                  SPOOL("S-21", "P-9.out", "L-9.in",
                                        "LQ") "<feed id=\"F-2\" kind=\"electrical\" "
                                              "supplies=\"MV-1\" isolator=\"SW\" lockable=\"yes\"/>"
                                              "<feed id=\"F-1\" kind=\"electrical\" "
                                              "supplies=\"P-9\" isolator=\"SW\" lockable=\"yes\"/>"
                                              "<feed id=\"F-3\" kind=\"air\" supplies=\"V-1\" "
                                              "lockable=\"yes\"/>"
                                              "<sequence id=\"SQ\" kind=\"defrost\" "
                                              "acts-on=\"MV-1\"/></plant>";

/* C: strainer F-1 behind one side of exchanger E-1, whose other side stays live. No way out. */
static const char plant_c[] =
    HEAD VAP "<limit id=\"L-1\"/><limit id=\"L-2\"/><limit id=\"L-3\"/>" GLOBE(
        "HV-1",
        "open") "<exchanger id=\"E-1\"><side id=\"t\" service=\"VP\" contents=\"vapour\"><port "
                "id=\"t1\"/><port "
                "id=\"t2\"/></side>"
                "<side id=\"s\" service=\"VP\" contents=\"vapour\"><port id=\"s1\"/><port "
                "id=\"s2\"/></side></exchanger>"
                "<fitting id=\"F-1\" kind=\"strainer\"/><cap id=\"K-1\" kind=\"cap\"/>" SPOOL(
                    "S-1", "L-1.in", "HV-1.in", "VP") SPOOL("S-2", "HV-1.out", "E-1.t1", "VP")
                    SPOOL("S-3", "E-1.t2", "F-1.a", "VP") SPOOL("S-4", "F-1.b", "K-1.in", "VP")
                        SPOOL("S-5", "L-2.in", "E-1.s1", "VP")
                            SPOOL("S-6", "E-1.s2", "L-3.in", "VP") "</plant>";

/* D: strainer F-1 with vessel V-1 inside its boundary, and a feed kept out by HV-5. */
static const char plant_d[] = HEAD VAP
    "<limit id=\"L-1\"/><fitting id=\"F-1\" kind=\"strainer\"/>" GLOBE("HV-1", "open") GLOBE(
        "HV-5",
        "open") "<vessel id=\"V-1\" service=\"VP\" volume=\"1 m3\" contents=\"vapour\">"
                "<port id=\"a\"/><port id=\"b\"/></vessel>"
                "<exchanger id=\"E-1\"><side id=\"t\" service=\"VP\" contents=\"vapour\"><port "
                "id=\"t1\"/><port "
                "id=\"t2\"/></side>"
                "</exchanger><cap id=\"K-1\" kind=\"cap\"/>" SPOOL("S-1", "F-1.a", "V-1.a", "VP")
                    SPOOL("S-2", "V-1.b", "HV-1.in", "VP") SPOOL("S-3", "HV-1.out", "L-1.in", "VP")
                        SPOOL("S-4", "F-1.b", "HV-5.in", "VP")
                            SPOOL("S-5", "HV-5.out", "E-1.t1", "VP")
                                SPOOL("S-6", "E-1.t2", "K-1.in",
                                      "VP") "<feed id=\"FD\" kind=\"heating\" supplies=\"E-1\" "
                                            "lockable=\"yes\"/></plant>";

/* N: cannot be isolated, since HV-1 is not said to be lockable. */
static const char plant_n[] =
    HEAD LIQ "<limit id=\"L-1\"/><valve id=\"HV-1\" kind=\"globe\" position=\"open\"/>" GLOBE(
        "HV-2", "open") "<valve id=\"MV-1\" kind=\"control\"/>"
                        "<vessel id=\"V-2\" service=\"LQ\" contents=\"liquid\"><port "
                        "id=\"in\"/></vessel>" SPOOL("S-1", "L-1.in", "HV-1.in", "LQ")
                            SPOOL("S-2", "HV-1.out", "MV-1.in", "LQ")
                                SPOOL("S-4", "MV-1.out", "HV-2.in", "LQ")
                                    SPOOL("S-6", "HV-2.out", "V-2.in", "LQ") "</plant>";

/* A record and all that it points to. */
typedef struct book {
    still_record r;
    still_arena arena;
    still_plant *plant;
    still_state *state;
    still_point points[8];
    still_step steps[24], restore[16];
    still_proof_path paths[6];
    still_source_inside sources[3];
    still_compartment rooms[3];
    still_closed_in closed[3];
    still_position_of start[4], end[8];
    still_finding findings[4];
    still_remark assumptions[4];
    still_help help[4];
} book;

static still_strings list(book *b, const char *words)
{
    still_strings s = {STILL_ARENA_NEW(&b->arena, strlen(words) + 1, const char *), 0};
    for (const char *at = words; *at != '\0';) {
        size_t len = strcspn(at, " ");
        char *w = still_arena_alloc(&b->arena, len + 1, 1);
        memcpy(w, at, len);
        s.items[s.n++] = w;
        at += len + strspn(at + len, " ");
    }
    return s;
}

static void step(book *b, bool back, const char *phase, const still_point *t, const char *id,
                 const char *to)
{
    still_step *s = back ? &b->restore[b->r.n_restore++] : &b->steps[b->r.n_steps++];
    *s = (still_step){.stage = 1,
                      .phase = phase,
                      .do_text = "do it",
                      .id = id,
                      .from = "",
                      .to = to,
                      .why = "",
                      .expect = "",
                      .if_not = ""};
    s->n = (uint32_t)(back ? b->r.n_restore : b->r.n_steps);
    if (t != NULL) s->tag = t->tag;
}

static void point(book *b, const char *id, still_action action, const char *from, const char *to)
{
    still_point *t = &b->points[b->r.n_points++];
    bool barrier = action != STILL_ACTION_OPEN && action != STILL_ACTION_SWITCH_OFF;
    *t = (still_point){.tag = (uint32_t)b->r.n_points,
                       .id = id,
                       .what = "",
                       .place = "",
                       .action = action,
                       .from = from,
                       .to = to,
                       .hold = "lock",
                       .legend = "",
                       .why = "",
                       .isolator = "",
                       .level = barrier ? 1 : 0,
                       .counted = action != STILL_ACTION_OPEN};
    if (t->counted) b->r.cost_points++;
}

/* Steps for the points: MV-… is an override, other things opened are drains. */
static void all_steps(book *b, const char *sequence)
{
    still_record *r = &b->r;
    step(b, false, "prepare", NULL, "", "");
    if (sequence != NULL) step(b, false, "shut-down", NULL, sequence, "");
    for (size_t i = 0; i < r->n_points; i++)
        if (b->points[i].counted || b->points[i].id[0] == 'M')
            step(b, false, "isolate", &b->points[i], b->points[i].id, b->points[i].to);
    for (size_t i = 0; i < r->n_points; i++)
        if (b->points[i].counted || b->points[i].id[0] == 'M')
            step(b, false, "lock-and-tag", &b->points[i], b->points[i].id, "");
    for (size_t i = 0; i < r->n_points; i++)
        if (!b->points[i].counted && b->points[i].id[0] != 'M')
            step(b, false, "release", &b->points[i], b->points[i].id, b->points[i].to);
    step(b, false, "verify", NULL, "", "");
    step(b, false, "work", NULL, "", "");
    for (size_t i = 0; i < r->n_points; i++)
        if (!b->points[i].counted)
            step(b, true, "close-up", &b->points[i], b->points[i].id, b->points[i].from);
    step(b, true, "inspect", NULL, "", "");
    step(b, true, "clear", NULL, "", "");
    for (size_t i = r->n_points; i-- > 0;)
        if (b->points[i].counted)
            step(b, true, "reopen", &b->points[i], b->points[i].id, b->points[i].from);
}

static void path(book *b, const char *ids, const char *pt)
{
    b->paths[b->r.proof.n_paths++] = (still_proof_path){list(b, ids), NULL, pt};
    b->r.proof.bound++;
}

static void end_at(book *b, const char *id, const char *position)
{
    b->end[b->r.n_end++] = (still_position_of){id, position};
}

static void finding(book *b, const char *rule, const char *id)
{
    b->findings[b->r.n_findings++] = (still_finding){rule, id, "words", true, true, false};
}

static void room(book *b, const char *ids, const char *vent, const char *drain, bool liquid)
{
    b->rooms[b->r.n_compartments++] = (still_compartment){.ids = list(b, ids),
                                                          .liquid = liquid,
                                                          .vent = list(b, vent),
                                                          .drain = list(b, drain),
                                                          .prove = list(b, vent),
                                                          .gauge = "",
                                                          .gauge_via = ""};
}

static void blank(book *b, const char *target, bool feasible)
{
    still_record *r = &b->r;
    const still_plant *p = b->plant;
    *r = (still_record){.program = "stillset",
                        .version = "0",
                        .plant_name = "",
                        .plant_revision = "",
                        .plant_file = "",
                        .option_grade = "single",
                        .option_work = "open",
                        .target_what = "",
                        .target_place = "",
                        .work = "open",
                        .grade_required = "single",
                        .grade_because = "asked for"};
    r->plant_id = still_text(p, p->id);
    r->plant_digest = p->digest;
    r->feasible = r->ready = feasible;
    r->grade_achieved = feasible ? "single" : "none";
    r->proof.kind = feasible ? "paths" : "";
    r->obstacle.text = feasible ? "" : "no device";
    r->obstacle.best_grade = feasible ? "" : "none";
    r->targets = list(b, target);
    r->points = b->points;
    r->steps = b->steps;
    r->restore = b->restore;
    r->proof.paths = b->paths;
    r->sources_inside = b->sources;
    r->compartments = b->rooms;
    r->closed_in = b->closed;
    r->start = b->start;
    r->end = b->end;
    r->findings = b->findings;
    r->assumptions = b->assumptions;
    r->obstacle.would_help = b->help;
}

static void book_a(book *b)
{
    blank(b, "MV-1", true);
    point(b, "F-1", STILL_ACTION_SWITCH_OFF, "on", "off");
    point(b, "HV-1", STILL_ACTION_CLOSE, "open", "closed");
    point(b, "MV-1", STILL_ACTION_OPEN, "unknown", "open");
    point(b, "HV-2", STILL_ACTION_CLOSE, "open", "closed");
    point(b, "HV-3", STILL_ACTION_OPEN, "closed", "open");
    all_steps(b, "SQ");
    b->r.inside = list(b, "MV-1 S-2 S-3 S-4 S-5 S-7 S-8 S-9 S-10 T-1 T-2 HV-3 RV-1 O-1 O-2");
    path(b, "V-1 S-1 HV-1 S-2 T-1 S-3 MV-1", "HV-1");
    path(b, "V-2 S-6 HV-2 S-5 T-2 S-4 MV-1", "HV-2");
    b->r.proof.feeds = list(b, "F-1");
    end_at(b, "HV-1", "closed");
    end_at(b, "HV-2", "closed");
    end_at(b, "HV-3", "open");
    end_at(b, "MV-1", "open");
    room(b, "S-2 S-3 S-4 S-5 S-7 S-8 S-9 T-1 T-2 MV-1 HV-3 O-1", "HV-3 O-1", "HV-3 O-1", true);
    room(b, "S-10 O-2", "O-2", "", false);
    b->closed[b->r.n_closed_in++] =
        (still_closed_in){.ids = list(b, "S-2 S-3 S-4 S-5 S-7 S-9 T-1 T-2"),
                          .closed_by = list(b, "HV-1 HV-2 HV-3"),
                          .covered_by = list(b, "RV-1"),
                          .where = "inside",
                          .state = "covered",
                          .why = "",
                          .during = ""};
    /* From the closing of HV-1 until MV-1 is opened by hand: no relief valve on that side. */
    b->closed[b->r.n_closed_in++] = (still_closed_in){.ids = list(b, "S-2 S-3 S-7 T-1"),
                                                      .closed_by = list(b, "HV-1 HV-3 MV-1"),
                                                      .where = "inside",
                                                      .state = "uncovered",
                                                      .why = "",
                                                      .during = "steps",
                                                      .from_step = 4,
                                                      .until_step = 5};
    finding(b, "L6", "S-2");
    b->findings[b->r.n_findings - 1].accepted = true;
    b->r.option_accept = list(b, "L6:S-2");
}

static void book_c(book *b)
{
    blank(b, "F-1", true);
    point(b, "HV-1", STILL_ACTION_CLOSE, "open", "closed");
    all_steps(b, NULL);
    b->r.inside = list(b, "F-1 S-2 S-3 S-4 E-1 K-1");
    path(b, "L-1 S-1 HV-1 S-2 E-1 S-3 F-1", "HV-1");
    end_at(b, "HV-1", "closed");
    room(b, "S-2 S-3 S-4 E-1 F-1", "", "", false);
    finding(b, "E2", "F-1");
    b->r.ready = false;
}

static void book_d(book *b)
{
    blank(b, "F-1", true);
    point(b, "HV-1", STILL_ACTION_CLOSE, "open", "closed");
    point(b, "HV-5", STILL_ACTION_CLOSE, "open", "closed");
    all_steps(b, NULL);
    b->r.inside = list(b, "F-1 S-1 S-2 S-4 V-1");
    b->sources[b->r.n_sources_inside++] = (still_source_inside){"V-1", "empty it"};
    b->r.cost_sources = 1;
    path(b, "L-1 S-3 HV-1 S-2 V-1 S-1 F-1", "HV-1");
    path(b, "FD E-1 S-5 HV-5 S-4 F-1", "HV-5");
    end_at(b, "HV-1", "closed");
    end_at(b, "HV-5", "closed");
    room(b, "S-1 S-2 S-4 V-1 F-1", "", "", false);
    finding(b, "E2", "F-1");
    b->findings[0].accepted = true;
    b->r.option_accept = list(b, "E2:F-1");
    b->r.state_digest = b->r.policy_id = b->r.policy_digest = b->r.grade_shortfall = "";
    b->r.site_id = b->r.site_digest = b->r.checklists_id = b->r.checklists_digest = "";
}

static void book_n(book *b)
{
    blank(b, "MV-1", false);
    b->r.obstacle.path = list(b, "L-1 S-1 HV-1 S-2 MV-1");
    b->help[b->r.obstacle.n_would_help++] = (still_help){"HV-1", "make it lockable"};
    b->help[b->r.obstacle.n_would_help++] = (still_help){"S-2", "a valve here"};
}

/* Changes to a right record. */
#define CHANGE(name, ...)                                                                          \
    static void name(book *b)                                                                      \
    {                                                                                              \
        still_record *r = &b->r;                                                                   \
        (void)r;                                                                                   \
        __VA_ARGS__                                                                                \
    }

static void steps_again(book *b, const char *sequence)
{
    b->r.n_steps = b->r.n_restore = 0;
    all_steps(b, sequence);
}
static void extra_barrier(book *b, const char *id, still_action action, const char *from)
{
    point(b, id, action, from, "closed");
    steps_again(b, "SQ");
}

CHANGE(two_targets, r->targets = list(b, "MV-1 HV-1");)
CHANGE(no_such_target, r->targets = list(b, "MV-7");)
CHANGE(spool_target, r->targets = list(b, "S-2");)
CHANGE(other_digest, r->plant_digest = "00";)
CHANGE(odd_work, r->work = "play";)
CHANGE(null_text, b->points[0].id = NULL;)
CHANGE(null_array, r->findings = NULL; r->n_findings = 2;)
CHANGE(null_id_in_list, r->inside.items[2] = NULL;)
CHANGE(unknown_inside, r->inside.items[1] = "S-99";)
CHANGE(unknown_point, b->points[1].id = "HV-99"; steps_again(b, "SQ");)
CHANGE(unknown_step, b->steps[0].id = "X-1";)
CHANGE(wrong_tag, b->points[1].tag = 3;)
CHANGE(not_counted, b->points[1].counted = false;)
CHANGE(open_counted, b->points[4].counted = true; r->cost_points++;)
CHANGE(wrong_cost, r->cost_points++;)
CHANGE(wrong_level, b->points[1].level = 2;)
CHANGE(level_of_open, b->points[4].level = 1;)
CHANGE(twice, extra_barrier(b, "HV-1", STILL_ACTION_CLOSE, "open");)
CHANGE(relief_point, extra_barrier(b, "RV-1", STILL_ACTION_CLOSE, "unknown");)
CHANGE(target_point, extra_barrier(b, "MV-1", STILL_ACTION_CLOSE, "unknown");)
CHANGE(vessel_point, extra_barrier(b, "V-1", STILL_ACTION_CLOSE, "unknown");)
CHANGE(spool_point, extra_barrier(b, "S-1", STILL_ACTION_REMOVE, "unknown");)
CHANGE(fit_a_valve, b->points[1].action = STILL_ACTION_FIT;)
CHANGE(odd_action, b->points[1].action = (still_action)9;)
CHANGE(tag_only, b->points[1].hold = "tag";)
CHANGE(left_open, b->points[1].to = "open";)
CHANGE(found_closed, b->points[1].from = "closed";)
CHANGE(bad_legend, b->points[1].legend = "Do Not Close";)
CHANGE(bad_legend_open, b->points[4].legend = "Do Not Open";)
CHANGE(drop_hv2, r->n_points = 0; r->cost_points = 0;
       point(b, "F-1", STILL_ACTION_SWITCH_OFF, "on", "off");
       point(b, "HV-1", STILL_ACTION_CLOSE, "open", "closed");
       point(b, "MV-1", STILL_ACTION_OPEN, "unknown", "open");
       point(b, "HV-3", STILL_ACTION_OPEN, "closed", "open"); steps_again(b, "SQ");)
CHANGE(beyond, extra_barrier(b, "HV-4", STILL_ACTION_CLOSE, "open");)
CHANGE(both_inside, extra_barrier(b, "HV-6", STILL_ACTION_CLOSE, "open");)
CHANGE(short_inside, r->inside.n--;)
CHANGE(long_inside, r->inside = list(b, "MV-1 S-2 S-3 S-4 S-5 S-7 S-8 S-9 S-10 T-1 T-2 HV-3 RV-1 "
                                        "O-1 O-2 S-6");)
CHANGE(inside_twice, r->inside = list(b, "MV-1 S-2 S-3 S-4 S-5 S-7 S-8 S-9 S-10 T-1 T-2 HV-3 RV-1 "
                                         "O-1 O-2 O-2");)
CHANGE(odd_mass, r->cost_mass_kg = -1;)
CHANGE(no_treatment, b->sources[0].treatment = "";)
CHANGE(unlisted_source, r->n_sources_inside = 0; r->cost_sources = 0;)
CHANGE(wrong_sources, r->cost_sources = 2;)
CHANGE(false_source, b->sources[r->n_sources_inside++] = (still_source_inside){"L-1", "x"};
       r->cost_sources = 2;)
CHANGE(source_twice, b->sources[r->n_sources_inside++] = (still_source_inside){"V-1", "x"};)
CHANGE(opened_outside, point(b, "HV-4", STILL_ACTION_OPEN, "open", "open"); steps_again(b, "SQ");)
CHANGE(no_feed, r->n_points = 0; r->cost_points = 0;
       point(b, "HV-1", STILL_ACTION_CLOSE, "open", "closed");
       point(b, "MV-1", STILL_ACTION_OPEN, "unknown", "open");
       point(b, "HV-2", STILL_ACTION_CLOSE, "open", "closed");
       point(b, "HV-3", STILL_ACTION_OPEN, "closed", "open"); steps_again(b, "SQ");
       r->proof.feeds.n = 0;)
CHANGE(higher_feed, b->points[0].id = "F-2"; steps_again(b, "SQ"); r->proof.feeds = list(b, "F-2");)
CHANGE(other_feed, point(b, "F-3", STILL_ACTION_SWITCH_OFF, "on", "off"); steps_again(b, "SQ");
       r->proof.feeds = list(b, "F-1 F-3");)
CHANGE(feed_twice, point(b, "F-2", STILL_ACTION_SWITCH_OFF, "on", "off"); steps_again(b, "SQ");
       r->proof.feeds = list(b, "F-1 F-2");)
CHANGE(feed_unknown, b->points[0].id = "HV-3"; steps_again(b, "SQ");)
CHANGE(feed_level, b->points[0].level = 2;)
CHANGE(no_sequence, steps_again(b, NULL);)
CHANGE(odd_proof, r->proof.kind = "trust";)
CHANGE(bound_too_low, r->proof.n_paths--;)
CHANGE(bound_lies, r->proof.bound++;)
CHANGE(proof_feed, r->proof.feeds = list(b, "F-2");)
CHANGE(proof_no_feeds, r->proof.feeds.n = 0;)
CHANGE(path_gap, b->paths[0].ids = list(b, "V-1 S-1 HV-1 S-2 T-1 MV-1");)
CHANGE(path_hop, b->paths[0].ids = list(b, "V-1 S-1 HV-1 S-2 T-2 S-4 MV-1");)
CHANGE(path_short, b->paths[0].ids = list(b, "V-1 S-1 HV-1 S-2 T-1");)
CHANGE(path_empty, b->paths[0].ids.n = 0;)
CHANGE(path_unknown, b->paths[0].ids = list(b, "V-1 S-1 HV-9 S-2 T-1 S-3 MV-1");)
CHANGE(path_from_nowhere, b->paths[0].ids = list(b, "HV-1 S-2 T-1 S-3 MV-1");)
CHANGE(path_from_spool, b->paths[0].ids = list(b, "S-1 HV-1 S-2 T-1 S-3 MV-1");)
CHANGE(path_back, b->paths[0].ids = list(b, "V-1 S-1 HV-1 S-1 HV-1 S-2 T-1 S-3 MV-1");)
CHANGE(path_two_points, b->paths[0].ids = list(b, "V-1 S-1 HV-1 S-2 T-1 S-3 MV-1");
       b->paths[0].point = "HV-2";)
CHANGE(path_shared, b->paths[1] = b->paths[0];)
CHANGE(path_from_inside, b->paths[0].ids = list(b, "V-1 S-1 F-1");)
CHANGE(path_wrong_side, b->paths[0].ids = list(b, "L-2 S-5 E-1 S-3 F-1");)
CHANGE(path_locked_feed, b->paths[0].ids = list(b, "F-1 MV-1");)
CHANGE(path_other_feed, b->paths[1].ids = list(b, "FD S-5 HV-5 S-4 F-1");)
CHANGE(grade_claim, r->grade_achieved = "double-bleed";)
CHANGE(grade_short, r->grade_required = "double";)
CHANGE(grade_unsaid, r->grade_because = "";)
CHANGE(entry_single, r->work = "entry";)
CHANGE(grade_none, r->grade_achieved = "single";)
CHANGE(step_number, b->steps[3].n = 9;)
CHANGE(step_words, b->steps[3].do_text = "";)
CHANGE(step_tag, b->steps[3].tag = 5;)
CHANGE(odd_phase, b->steps[0].phase = "dance";)
CHANGE(phase_back, still_step s = b->steps[1]; b->steps[1] = b->steps[2]; b->steps[2] = s;
       b->steps[1].n = 2; b->steps[2].n = 3;)
CHANGE(stage_back, b->steps[0].stage = 2;)
CHANGE(stage_zero, b->steps[4].stage = 0;)
CHANGE(no_work, r->n_steps--;)
CHANGE(no_verify, b->steps[r->n_steps - 2].phase = "release";)
CHANGE(early_work, step(b, false, "prepare", NULL, "", ""); b->steps[r->n_steps - 1].stage = 2;
       step(b, false, "verify", NULL, "", ""); b->steps[r->n_steps - 1].stage = 2;
       step(b, false, "work", NULL, "", ""); b->steps[r->n_steps - 1].stage = 2;)
CHANGE(no_isolate_step, b->steps[3].id = ""; b->steps[3].tag = 0;)
CHANGE(no_lock_step, b->steps[7].id = ""; b->steps[7].tag = 0;)
CHANGE(reopened, b->steps[r->n_steps - 2].id = "HV-1"; b->steps[r->n_steps - 2].to = "open";)
CHANGE(not_closed, b->steps[3].to = "";)
CHANGE(override_late, b->steps[4].phase = "prepare"; b->steps[4].id = ""; b->steps[4].tag = 0;
       b->steps[4].phase = "isolate"; b->steps[r->n_steps - 3].id = "MV-1";
       b->steps[r->n_steps - 3].tag = 3;)
CHANGE(override_after, still_step s = b->steps[4]; b->steps[4] = b->steps[5]; b->steps[5] = s;
       b->steps[4].n = 5; b->steps[5].n = 6;)
CHANGE(opened_untagged, b->steps[6].id = "HV-6"; b->steps[6].to = "open"; b->steps[6].tag = 0;
       b->steps[6].phase = "isolate";)
CHANGE(no_inspection, b->restore[2].phase = b->restore[3].phase = "x";)
CHANGE(lock_early, b->restore[0].id = "HV-1"; b->restore[0].tag = 2;)
CHANGE(tag_left, r->n_restore--;)
CHANGE(override_back_late, step(b, true, "x", &b->points[2], "MV-1", "closed");)
CHANGE(restore_untagged, b->restore[0].tag = 0; b->restore[0].id = "HV-2";)
CHANGE(test_at_rating, r->tests.strength_barg = r->tests.tightness_barg = 19;)
CHANGE(test_above_rating, r->tests.strength_barg = 20.9;)
CHANGE(leak_test_above_rating, r->tests.strength_barg = (double)NAN;
       r->tests.tightness_barg = 20.9;)
CHANGE(no_test_figures, r->tests.strength_barg = r->tests.tightness_barg = (double)NAN;)
CHANGE(start_lies, b->start[r->n_start++] = (still_position_of){"HV-1", "closed"};)
CHANGE(start_same, b->start[r->n_start++] = (still_position_of){"HV-1", "open"};)
CHANGE(start_unknown, b->start[r->n_start++] = (still_position_of){"HV-77", "open"};)
CHANGE(start_twice, b->start[r->n_start++] = (still_position_of){"HV-1", "open"};
       b->start[r->n_start++] = (still_position_of){"HV-1", "open"};)
CHANGE(end_short, b->end[0] = b->end[--r->n_end];)
CHANGE(end_lies, b->end[2].position = "closed";)
CHANGE(end_feed, end_at(b, "F-3", "off");)
CHANGE(hv2_today, b->points[3].from = "closed";
       b->start[r->n_start++] = (still_position_of){"HV-2", "closed"};)
CHANGE(hv2_no_start, b->points[3].from = "closed";)
CHANGE(v1_empty_unsaid, r->n_sources_inside = 0; r->cost_sources = 0;)
CHANGE(v1_empty, v1_empty_unsaid(b);
       b->assumptions[r->n_assumptions++] = (still_remark){"N3", "V-1", "found empty"};)
CHANGE(no_override, b->steps[4].id = ""; b->steps[4].to = ""; b->steps[4].tag = 0; r->n_end--;)
CHANGE(no_segment, r->n_closed_in = 0;)
CHANGE(segment_unsaid_finding, r->n_findings = 0; r->option_accept.n = 0;
       b->closed[0].state = "uncovered";)
CHANGE(segment_not_full, b->closed[0].state = "not-full";)
CHANGE(segment_odd, b->closed[0].state = "fine";)
CHANGE(segment_where, b->closed[0].where = "outside";)
CHANGE(segment_nowhere, b->closed[0].where = "there";)
CHANGE(segment_by_none, b->closed[0].covered_by.n = 0;)
CHANGE(segment_told, b->closed[0].state = "uncovered"; finding(b, "L6", "S-2"); r->ready = false;)
CHANGE(segment_part, b->closed[0].state = "uncovered"; finding(b, "L6", "S-2"); r->ready = false;
       b->closed[0].ids.n = 3;)
CHANGE(vent_shut_drain, b->rooms[0].vent = list(b, "O-1");)
CHANGE(vent_not_outlet, b->rooms[0].vent = list(b, "HV-3");)
CHANGE(vent_outside, b->rooms[0].vent = list(b, "HV-2 O-1");)
CHANGE(vent_apart, b->rooms[0].vent = list(b, "HV-3 O-2");)
CHANGE(no_drain, b->rooms[0].drain.n = 0;)
CHANGE(no_prove, b->rooms[0].prove.n = 0;)
CHANGE(told_prove, b->rooms[0].prove.n = 0; finding(b, "E2", "S-2"); r->ready = false;)
CHANGE(room_empty, b->rooms[1].ids.n = 0;)
CHANGE(room_outside, b->rooms[1].ids = list(b, "S-10 O-2 S-6");)
CHANGE(room_missing, r->n_compartments = 1;)
CHANGE(room_merged, b->rooms[0].ids = list(b, "S-2 S-3 S-4 S-5 S-7 S-8 S-9 S-10 T-1 T-2 MV-1 HV-3 "
                                              "O-1 O-2");
       r->n_compartments = 1;)
CHANGE(drain_unopened, r->n_points--; steps_again(b, "SQ"); r->n_end = 0;
       end_at(b, "HV-1", "closed"); end_at(b, "HV-2", "closed"); end_at(b, "MV-1", "open");)
CHANGE(drain_only, b->rooms[0].vent.n = b->rooms[0].prove.n = 0; finding(b, "E2", "S-2");
       r->ready = false;)
CHANGE(not_ready, r->ready = false;)
CHANGE(ready_anyway, r->ready = true;)
CHANGE(accepted_by_none, r->option_accept.n = 0;)
CHANGE(accepted_not_acceptable, b->findings[0].acceptable = false;)
CHANGE(accept_d4, finding(b, "D4", "V-1"); r->ready = false;)
CHANGE(soft_finding, finding(b, "E9", "V-1"); b->findings[r->n_findings - 1].blocks = false;)
CHANGE(mute_finding, finding(b, "E9", "V-1"); b->findings[r->n_findings - 1].text = "";
       r->ready = false;)
CHANGE(mute_assumption, b->assumptions[r->n_assumptions++] = (still_remark){"N2", "V-1", ""};)
CHANGE(note, finding(b, "L7", "V-1"); b->findings[r->n_findings - 1].blocks = false;)
CHANGE(hv1_assumed, b->points[1].assumed_lockable = true;
       b->assumptions[r->n_assumptions++] = (still_remark){"D1", "HV-1", "assumed"};)
CHANGE(feed_tagged, b->points[0].hold = "tag"; finding(b, "N5", "F-1"); r->ready = false;)
CHANGE(feed_tagged_unsaid, b->points[0].hold = "tag";)
CHANGE(n_ready, r->ready = true;)
CHANGE(n_points_too, point(b, "HV-2", STILL_ACTION_CLOSE, "open", "closed");)
CHANGE(n_steps_too, step(b, false, "work", NULL, "", "");)
CHANGE(n_no_path, r->obstacle.path.n = 0;)
CHANGE(n_gap, r->obstacle.path = list(b, "L-1 S-1 S-2 MV-1");)
CHANGE(n_soft, r->obstacle.path = list(b, "V-2 S-6 HV-2 S-4 MV-1");)
CHANGE(n_short, r->obstacle.path = list(b, "L-1 S-1 HV-1 S-2");)
CHANGE(n_unknown, r->obstacle.path = list(b, "L-1 S-1 HV-9 S-2 MV-1");)
CHANGE(n_mute, r->obstacle.text = "";)
CHANGE(n_best, r->obstacle.best_grade = "double";)
CHANGE(n_no_help, b->help[0].id = "S-4";)
CHANGE(n_help_target, b->help[0].id = "MV-1";)
CHANGE(n_help_none, r->obstacle.n_would_help = 0;)
CHANGE(n_help_pump, b->help[0].id = "L-1";)
CHANGE(n_help_set, r->obstacle.help_is_set = true;)
CHANGE(n_help_bad_set, r->obstacle.help_is_set = true; b->help[0].id = "S-4";
       b->help[1].id = "S-6";)

typedef struct row {
    const char *name;
    char plant;
    const char *find, *replace; /* in the plant's text; NULL = as it is */
    const char *today;          /* "ID position condition contents", "-" = as it is; NULL = none */
    void (*change)(book *b);
    const char *code, *id; /* NULL code = must agree; NULL id = any */
} row;

#define HV1 "id=\"HV-1\" kind=\"globe\" position=\"open\" lockable=\"yes\""
#define S5 "<spool id=\"S-5\""

#define S10 SPOOL("S-10", "RV-1.out", "O-2.in", "LQ")
#define S9_S10 SPOOL("S-9", "T-2.c", "RV-1.in", "LQ") S10
#define BEFORE_RELIEF                                                                              \
    SPOOL("S-9", "T-2.c", "HX.in", "LQ") SPOOL("S-11", "HX.out", "RV-1.in", "LQ") S10
/* A relief valve into vessel V-3, which has one of its own. */
#define INTO_VESSEL(set, set_of_vessel, more)                                                      \
    "<vessel id=\"V-3\" service=\"LQ\" contents=\"two-phase\" fill=\"0.5\"><port id=\"a\"/>"       \
    "<port id=\"b\"/></vessel><valve id=\"RW\" kind=\"relief\" set-pressure=\"" set " barg\"" more \
    "/><valve id=\"RX\" kind=\"relief\" set-pressure=\"" set_of_vessel "\"/>"                      \
    "<outlet id=\"O-3\" kind=\"vent\" leads-to=\"safe-place\" shared=\"no\" "                      \
    "fitted=\"open\"/>" SPOOL("S-9", "T-2.c", "RW.in", "LQ")                                       \
        SPOOL("S-11", "RW.out", "V-3.a", "LQ") SPOOL("S-12", "V-3.b", "RX.in", "LQ")               \
            SPOOL("S-13", "RX.out", "O-3.in", "LQ") S10
/* A three-way valve with RV-1 behind one port and RW behind port b. */
#define THREE_WAY(at, first, set, positions, near, far)                                            \
    "<valve id=\"TW\" kind=\"three-way\" positions=\"" positions "\"/>"                            \
    "<valve id=\"RW\" kind=\"relief\" set-pressure=\"" set " barg\"/>"                             \
    "<outlet id=\"O-3\" kind=\"vent\" leads-to=\"safe-place\" shared=\"no\" "                      \
    "fitted=\"open\"/>" SPOOL("S-9", at, "TW." near, "LQ") SPOOL("S-11", "TW." far, first, "LQ")   \
        SPOOL("S-12", "TW.b", "RW.in", "LQ") SPOOL("S-13", "RW.out", "O-3.in", "LQ") S10
/* Pipe of unknown design pressure that stands open to the air. */
#define VENTED                                                                                     \
    "<service id=\"UN\" substance=\"ammonia\" phase=\"liquid\"/>"                                  \
    "<outlet id=\"O-3\" kind=\"vent\" leads-to=\"safe-place\" shared=\"no\" "                      \
    "fitted=\"open\"/>" SPOOL("S-9", "T-2.c", "RV-1.in", "UN")                                     \
        SPOOL("S-11", "T-2.d", "O-3.in", "UN") S10

static const row rows[] = {
    {"I7_right_with_override_and_drain", 'A', NULL, NULL, NULL, NULL, NULL, NULL},
    {"I7_right_exchanger_side", 'C', NULL, NULL, NULL, NULL, NULL, NULL},
    {"I7_right_source_inside", 'D', NULL, NULL, NULL, NULL, NULL, NULL},
    {"I6_right_infeasible", 'N', NULL, NULL, NULL, NULL, NULL, NULL},
    {"I6_right_set_of_places", 'N', NULL, NULL, NULL, n_help_set, NULL, NULL},
    {"I7_right_closed_today", 'A', NULL, NULL, "HV-2 closed - -", hv2_today, NULL, NULL},
    {"N3_right_emptied_today", 'D', NULL, NULL, "V-1 - - none", v1_empty, NULL, NULL},
    {"N3_emptied_today_unsaid", 'D', NULL, NULL, "V-1 - - none", v1_empty_unsaid, "N3", "V-1"},
    {"N2_side_of_contents_not_said_is_full", 'D', " contents=\"vapour\"><port id=\"t1\"/>",
     "><port id=\"t1\"/>", NULL, NULL, "L6", "S-5"},
    {"D1_right_assumed_lockable", 'A', HV1,
     "id=\"HV-1\" kind=\"globe\" position=\"open\" "
     "lockable=\"assumed\"",
     NULL, hv1_assumed, NULL, NULL},
    {"L7_right_note", 'A', NULL, NULL, NULL, note, NULL, NULL},
    {"L6_right_said_uncovered", 'A', "set-pressure=\"18 barg\"", "", NULL, segment_told, NULL,
     NULL},
    {"E2_right_missing_told", 'A', NULL, NULL, NULL, told_prove, NULL, NULL},
    {"N5_right_unlockable_told", 'A', "supplies=\"P-9\" isolator=\"SW\" lockable=\"yes\"",
     "supplies=\"P-9\" isolator=\"SW\"", NULL, feed_tagged, NULL, NULL},
    {"D7_right_rating_enough", 'A', HV1, HV1 " rating=\"19 barg\"", NULL, NULL, NULL, NULL},
    {"E4_right_drain_to_recovery", 'A', "leads-to=\"safe-place\" shared=\"no\"/>",
     "leads-to=\"recovery\" shared=\"no\"/>", NULL, drain_only, NULL, NULL},

    {"I1_second_target_is_not_cut_off", 'A', NULL, NULL, NULL, two_targets, "I1", "V-1"},
    {"I7_no_such_target", 'A', NULL, NULL, NULL, no_such_target, "I7", "MV-7"},
    {"I5_paths_lead_to_another_target", 'A', NULL, NULL, NULL, spool_target, "I5", "HV-1"},
    {"I7_other_bytes", 'A', NULL, NULL, NULL, other_digest, "I7", NULL},
    {"I7_odd_work", 'A', NULL, NULL, NULL, odd_work, "I7", NULL},
    {"I7_null_text", 'A', NULL, NULL, NULL, null_text, "I7", NULL},
    {"I7_null_array", 'A', NULL, NULL, NULL, null_array, "I7", NULL},
    {"I7_null_in_list", 'A', NULL, NULL, NULL, null_id_in_list, "I7", NULL},
    {"I7_unknown_inside", 'A', NULL, NULL, NULL, unknown_inside, "I7", "S-99"},
    {"I7_unknown_point", 'A', NULL, NULL, NULL, unknown_point, "I7", "HV-99"},
    {"I7_unknown_step", 'A', NULL, NULL, NULL, unknown_step, "I7", "X-1"},
    {"I7_odd_action", 'A', NULL, NULL, NULL, odd_action, "I7", "HV-1"},
    {"P1_tag_out_of_order", 'A', NULL, NULL, NULL, wrong_tag, "P1", "HV-1"},
    {"I4_barrier_not_counted", 'A', NULL, NULL, NULL, not_counted, "I4", "HV-1"},
    {"I4_drain_counted", 'A', NULL, NULL, NULL, open_counted, "I4", "HV-3"},
    {"I4_wrong_cost", 'A', NULL, NULL, NULL, wrong_cost, "I4", NULL},
    {"I2_wrong_level", 'A', NULL, NULL, NULL, wrong_level, "I2", "HV-1"},
    {"I2_level_of_drain", 'A', NULL, NULL, NULL, level_of_open, "I2", "HV-3"},
    {"I2_level_of_feed", 'A', NULL, NULL, NULL, feed_level, "I2", "F-1"},
    {"I4_counted_twice", 'A', NULL, NULL, NULL, twice, "I4", "HV-1"},
    {"D1_not_lockable", 'A', HV1, "id=\"HV-1\" kind=\"globe\" position=\"open\" lockable=\"no\"",
     NULL, NULL, "D1", "HV-1"},
    {"D1_lockable_not_said", 'A', HV1, "id=\"HV-1\" kind=\"globe\" position=\"open\"", NULL, NULL,
     "D1", "HV-1"},
    {"D1_assumed_unsaid", 'A', HV1,
     "id=\"HV-1\" kind=\"globe\" position=\"open\" "
     "lockable=\"assumed\"",
     NULL, NULL, "D1", "HV-1"},
    {"D1_target_as_point", 'A', NULL, NULL, NULL, target_point, "D1", "MV-1"},
    {"D1_vessel_as_point", 'A', NULL, NULL, NULL, vessel_point, "D1", "V-1"},
    {"D1_spool_as_point", 'A', NULL, NULL, NULL, spool_point, "D1", "S-1"},
    {"D1_fit_a_valve", 'A', NULL, NULL, NULL, fit_a_valve, "D1", "HV-1"},
    {"D1_tag_without_lock", 'A', NULL, NULL, NULL, tag_only, "D1", "HV-1"},
    {"D1_left_open", 'A', NULL, NULL, NULL, left_open, "D1", "HV-1"},
    {"D1_open_blind", 'A', "<valve id=\"HV-1\" kind=\"globe\" position=\"open\" lockable=\"yes\"/>",
     "<blind id=\"HV-1\" kind=\"spectacle\" position=\"open\"/>", NULL, NULL, "D1", "HV-1"},
    {"D2_control_valve", 'A', HV1, "id=\"HV-1\" kind=\"control\" lockable=\"yes\"", NULL, NULL,
     "D2", "HV-1"},
    {"D2_check_valve", 'A', HV1, "id=\"HV-1\" kind=\"check\" lockable=\"yes\"", NULL, NULL, "D2",
     "HV-1"},
    {"D2_relief_valve", 'A', NULL, NULL, NULL, relief_point, "D2", "RV-1"},
    {"N2_valve_of_unknown_kind", 'A', HV1, "id=\"HV-1\" kind=\"unknown\" lockable=\"yes\"", NULL,
     NULL, "N2", "HV-1"},
    {"D3_actuated", 'A', HV1, HV1 " drive=\"air\" fails=\"closed\"", NULL, NULL, "D3", "HV-1"},
    {"D6_passing", 'A', HV1, HV1 " condition=\"passing\"", NULL, NULL, "D6", "HV-1"},
    {"D6_seized_today", 'A', NULL, NULL, "HV-1 - seized -", NULL, "D6", "HV-1"},
    {"D6_drain_out_of_reach", 'A', NULL, NULL, "HV-3 - unreachable -", NULL, "D6", "HV-3"},
    {"D7_rated_too_low", 'A', HV1, HV1 " rating=\"16 barg\"", NULL, NULL, "D7", "HV-1"},
    {"D7_rating_assumed_unsaid", 'A',
     "length=\"1 m\" bore=\"50 mm\" service=\"LQ\"/><spool id=\"S-2\"",
     "length=\"1 m\" bore=\"50 mm\"/><spool id=\"S-2\"", NULL, NULL, "D7", "HV-1"},
    {"P1_found_otherwise", 'A', NULL, NULL, NULL, found_closed, "P1", "HV-1"},
    {"P1_tag_forbids_closed", 'A', NULL, NULL, NULL, bad_legend, "P1", "HV-1"},
    {"P1_tag_forbids_open", 'A', NULL, NULL, NULL, bad_legend_open, "P1", "HV-3"},
    {"I1_source_reached", 'A', NULL, NULL, NULL, drop_hv2, "I1", "V-2"},
    {"I1_limit_reached", 'A', NULL, NULL, NULL, drop_hv2, "I1", "L-9"},
    {"I1_shared_outlet", 'A', "leads-to=\"safe-place\" shared=\"no\"/>",
     "leads-to=\"safe-place\"/>", NULL, NULL, "I1", "O-1"},
    {"I1_open_end", 'C', "<cap id=\"K-1\" kind=\"cap\"/>",
     "<fitting id=\"K-1\" kind=\"node\"><port id=\"in\"/><port id=\"x\"/></fitting>", NULL, NULL,
     "I1", "K-1"},
    {"I1_open_end_at_valve", 'A', S5,
     "<valve id=\"HV-8\" kind=\"globe\" position=\"closed\"/>" SPOOL("S-88", "T-2.z", "HV-8.in",
                                                                     "LQ") S5,
     NULL, NULL, "I1", "HV-8"},
    {"I1_check_valve_counts_open", 'A', S5,
     "<valve id=\"CV-8\" kind=\"check\"/><limit id=\"L-8\"/>" SPOOL(
         "S-88", "CV-8.in", "T-2.z", "LQ") SPOOL("S-89", "L-8.in", "CV-8.out", "LQ") S5,
     NULL, NULL, "I1", "L-8"},
    {"I1_closed_valve_counts_open", 'A', S5,
     GLOBE("HV-8", "closed") "<limit id=\"L-8\"/>" SPOOL("S-88", "HV-8.in", "T-2.z", "LQ")
         SPOOL("S-89", "L-8.in", "HV-8.out", "LQ") S5,
     NULL, NULL, "I1", "L-8"},
    {"I1_inside_left_out", 'A', NULL, NULL, NULL, short_inside, "I1", "O-2"},
    {"I1_inside_too_long", 'A', NULL, NULL, NULL, long_inside, "I1", "S-6"},
    {"I1_inside_twice", 'A', NULL, NULL, NULL, inside_twice, "I1", "O-2"},
    {"I1_opened_outside", 'A', "<spool id=\"S-21\" from=\"P-9.out\" to=\"L-9.in\"",
     GLOBE("HV-4", "open") SPOOL("S-22", "P-9.out", "HV-4.in",
                                 "LQ") "<spool id=\"S-21\" from=\"HV-4.out\" to=\"L-9.in\"",
     NULL, opened_outside, "I1", "HV-4"},
    {"I4_parts_nothing_outside", 'A', "<spool id=\"S-21\" from=\"P-9.out\" to=\"L-9.in\"",
     GLOBE("HV-4", "open") SPOOL("S-22", "P-9.out", "HV-4.in",
                                 "LQ") "<spool id=\"S-21\" from=\"HV-4.out\" to=\"L-9.in\"",
     NULL, beyond, "I4", "HV-4"},
    {"I4_parts_nothing_inside", 'A', S5,
     GLOBE("HV-6", "open") SPOOL("S-66", "T-1.x", "HV-6.in", "LQ")
         SPOOL("S-67", "HV-6.out", "T-2.x", "LQ") S5,
     NULL, both_inside, "I4", "HV-6"},
    {"I4_avoidable_source", 'D', "<spool id=\"S-1\" from=\"F-1.a\"",
     GLOBE("HV-0", "open")
         SPOOL("S-0", "F-1.a", "HV-0.in", "VP") "<spool id=\"S-1\" from=\"HV-0.out\"",
     NULL, NULL, "I4", "V-1"},
    {"I4_odd_mass", 'A', NULL, NULL, NULL, odd_mass, "I4", NULL},
    {"N4_no_treatment", 'D', NULL, NULL, NULL, no_treatment, "N4", "V-1"},
    {"N4_false_source", 'D', NULL, NULL, NULL, false_source, "N4", "L-1"},
    {"N4_source_twice", 'D', NULL, NULL, NULL, source_twice, "N4", "V-1"},
    {"N3_source_unlisted", 'D', NULL, NULL, NULL, unlisted_source, "I1", "V-1"},
    {"N3_contents_not_said", 'D', " contents=\"vapour\"", "", NULL, unlisted_source, "I1", "V-1"},
    {"N3_listed_but_empty", 'D', NULL, NULL, "V-1 - - none", NULL, "N4", "V-1"},
    {"I4_wrong_number_of_sources", 'D', NULL, NULL, NULL, wrong_sources, "I4", NULL},
    {"N5_feed_not_locked", 'A', NULL, NULL, NULL, no_feed, "N5", "F-1"},
    {"N5_not_the_lowest_feed", 'A', NULL, NULL, NULL, higher_feed, "N5", "F-2"},
    {"N5_needless_feed", 'A', NULL, NULL, NULL, other_feed, "N5", "F-3"},
    {"N5_isolator_twice", 'A', NULL, NULL, NULL, feed_twice, "N5", "F-2"},
    {"N5_feed_of_another_isolator", 'A', "supplies=\"MV-1\" isolator=\"SW\"",
     "supplies=\"MV-1\" isolator=\"SX\"", NULL, NULL, "N5", "F-2"},
    {"N5_feed_of_a_pipe_inside", 'A', "supplies=\"V-1\"", "supplies=\"S-4\"", NULL, NULL, "N5",
     "F-3"},
    {"N5_no_feed_at_all", 'A', NULL, NULL, NULL, feed_unknown, "I7", "HV-3"},
    {"N5_lock_on_unlockable", 'A', "supplies=\"P-9\" isolator=\"SW\" lockable=\"yes\"",
     "supplies=\"P-9\" isolator=\"SW\"", NULL, NULL, "N5", "F-1"},
    {"N5_unlockable_unsaid", 'A', "supplies=\"P-9\" isolator=\"SW\" lockable=\"yes\"",
     "supplies=\"P-9\" isolator=\"SW\"", NULL, feed_tagged_unsaid, "N5", "F-1"},
    {"N6_sequence_left_on", 'A', NULL, NULL, NULL, no_sequence, "N6", "SQ"},
    {"N6_sequence_on_a_point", 'A', "acts-on=\"MV-1\"", "acts-on=\"HV-1\"", NULL, no_sequence, "N6",
     "SQ"},
    {"I5_odd_kind", 'A', NULL, NULL, NULL, odd_proof, "I5", NULL},
    {"I5_path_missing", 'A', NULL, NULL, NULL, bound_too_low, "I5", NULL},
    {"I5_bound_lies", 'A', NULL, NULL, NULL, bound_lies, "I5", NULL},
    {"I5_other_feed", 'A', NULL, NULL, NULL, proof_feed, "I5", "F-1"},
    {"I5_feed_left_out", 'A', NULL, NULL, NULL, proof_no_feeds, "I5", "F-1"},
    {"I5_path_with_gap", 'A', NULL, NULL, NULL, path_gap, "I5", "HV-1"},
    {"I5_path_hops", 'A', NULL, NULL, NULL, path_hop, "I5", "HV-1"},
    {"I5_path_ends_early", 'A', NULL, NULL, NULL, path_short, "I5", "HV-1"},
    {"I5_path_empty", 'A', NULL, NULL, NULL, path_empty, "I5", "HV-1"},
    {"I5_path_of_unknown_ids", 'A', NULL, NULL, NULL, path_unknown, "I5", "HV-1"},
    {"I5_path_from_no_source", 'A', NULL, NULL, NULL, path_from_nowhere, "I5", "HV-1"},
    {"I5_path_from_a_pipe", 'A', NULL, NULL, NULL, path_from_spool, "I5", "S-1"},
    {"I5_path_turns_back", 'A', NULL, NULL, NULL, path_back, "I5", "HV-1"},
    {"I5_path_of_another_point", 'A', NULL, NULL, NULL, path_two_points, "I5", "HV-2"},
    {"I5_paths_share_a_device", 'A', NULL, NULL, NULL, path_shared, "I5", "HV-1"},
    {"I5_path_from_inside", 'D', NULL, NULL, NULL, path_from_inside, "I5", "V-1"},
    {"I5_path_changes_sides", 'C', NULL, NULL, NULL, path_wrong_side, "I5", "HV-1"},
    {"I5_path_from_locked_feed", 'A', NULL, NULL, NULL, path_locked_feed, "I5", "F-1"},
    {"I5_path_feed_supplies_other", 'D', NULL, NULL, NULL, path_other_feed, "I5", "FD"},
    {"I2_grade_not_confirmed", 'A', NULL, NULL, NULL, grade_claim, "I2", NULL},
    {"I2_grade_without_boundary", 'N', NULL, NULL, NULL, grade_none, "I2", NULL},
    {"I2_grade_unsaid", 'A', NULL, NULL, NULL, grade_unsaid, "I2", NULL},
    {"I3_grade_short", 'A', NULL, NULL, NULL, grade_short, "I3", NULL},
    {"I3_entry_behind_one_valve", 'A', NULL, NULL, NULL, entry_single, "I3", NULL},
    {"P1_step_number", 'A', NULL, NULL, NULL, step_number, "P1", NULL},
    {"P1_step_without_words", 'A', NULL, NULL, NULL, step_words, "P1", NULL},
    {"P1_step_with_other_tag", 'A', NULL, NULL, NULL, step_tag, "P1", NULL},
    {"P1_odd_phase", 'A', NULL, NULL, NULL, odd_phase, "P1", NULL},
    {"P1_phase_runs_back", 'A', NULL, NULL, NULL, phase_back, "P1", NULL},
    {"P1_stage_runs_back", 'A', NULL, NULL, NULL, stage_back, "P1", NULL},
    {"P1_stage_zero", 'A', NULL, NULL, NULL, stage_zero, "P1", NULL},
    {"P1_no_work", 'A', NULL, NULL, NULL, no_work, "P1", NULL},
    {"P1_no_verification", 'A', NULL, NULL, NULL, no_verify, "P1", NULL},
    {"P1_work_in_an_early_stage", 'A', NULL, NULL, NULL, early_work, "P1", NULL},
    {"P1_point_without_isolate", 'A', NULL, NULL, NULL, no_isolate_step, "P1", "HV-1"},
    {"P1_point_without_lock", 'A', NULL, NULL, NULL, no_lock_step, "P1", "HV-1"},
    {"P3_barrier_reopened", 'A', NULL, NULL, NULL, reopened, "P3", "HV-1"},
    {"P3_barrier_never_closed", 'A', NULL, NULL, NULL, not_closed, "P3", "HV-1"},
    {"E1_override_in_release", 'A', NULL, NULL, NULL, override_late, "E1", "MV-1"},
    {"E1_override_after_the_last_point", 'A', NULL, NULL, NULL, override_after, "E1", "MV-1"},
    {"E1_override_without_manual_opening", 'A', " manual-opening=\"yes\"", "", NULL, NULL, "E1",
     "MV-1"},
    {"E1_opened_without_tag", 'A', S5,
     GLOBE("HV-6", "closed") SPOOL("S-66", "T-1.x", "HV-6.in", "LQ")
         SPOOL("S-67", "HV-6.out", "T-2.x", "LQ") S5,
     NULL, opened_untagged, "E1", "HV-6"},
    {"P6_no_inspection", 'A', NULL, NULL, NULL, no_inspection, "P6", NULL},
    {"P6_lock_off_early", 'A', NULL, NULL, NULL, lock_early, "P6", "HV-1"},
    {"P6_tag_left", 'A', NULL, NULL, NULL, tag_left, "P6", "F-1"},
    {"P6_override_back_late", 'A', NULL, NULL, NULL, override_back_late, "P6", "MV-1"},
    {"P6_right_test_at_the_rating", 'A', NULL, NULL, NULL, test_at_rating, NULL, NULL},
    {"P6_right_no_figures", 'A', NULL, NULL, NULL, no_test_figures, NULL, NULL},
    {"P6_strength_test_above_the_rating", 'A', NULL, NULL, NULL, test_above_rating, "P6", "HV-1"},
    {"P6_leak_test_above_the_rating", 'A', NULL, NULL, NULL, leak_test_above_rating, "P6", "HV-2"},
    {"P6_test_against_an_unknown_rating", 'A', "pressure=\"2 barg\" design-pressure=\"19 barg\"",
     "pressure=\"2 barg\"", NULL, test_at_rating, "P6", "HV-1"},
    {"P6_barrier_moved_early", 'A', NULL, NULL, NULL, restore_untagged, "P6", "HV-2"},
    {"I7_start_lies", 'A', NULL, NULL, NULL, start_lies, "I7", "HV-1"},
    {"I7_start_says_nothing_new", 'A', NULL, NULL, NULL, start_same, "I7", "HV-1"},
    {"I7_start_of_unknown", 'A', NULL, NULL, NULL, start_unknown, "I7", "HV-77"},
    {"I7_start_twice", 'A', NULL, NULL, NULL, start_twice, "I7", "HV-1"},
    {"I7_start_left_out", 'A', NULL, NULL, "HV-2 closed - -", hv2_no_start, "I7", "HV-2"},
    {"I1_end_left_out", 'A', NULL, NULL, NULL, end_short, "I1", "HV-1"},
    {"I7_end_lies", 'A', NULL, NULL, NULL, end_lies, "I7", "HV-3"},
    {"I7_end_of_other_feed", 'A', NULL, NULL, NULL, end_feed, "I7", "F-3"},
    {"L2_relief_valve_set_too_high", 'A', "18 barg", "20 barg", NULL, NULL, "L2", "S-2"},
    {"L2_relief_valve_without_set", 'A', "set-pressure=\"18 barg\"", "", NULL, NULL, "L2", "S-2"},
    {"L2_back_pressure_declared", 'A', "18 barg\"", "18 barg\" back-pressure=\"2 barg\"", NULL,
     NULL, "L2", "S-2"},
    {"L2_right_balanced", 'A', "18 barg\"", "18 barg\" back-pressure=\"2 barg\" balanced=\"yes\"",
     NULL, NULL, NULL, NULL},
    {"L2_outlet_capped", 'A', " fitted=\"open\"", "", NULL, NULL, "L2", "S-2"},
    {"L2_reached_at_its_outlet", 'A',
     SPOOL("S-9", "T-2.c", "RV-1.in", "LQ") SPOOL("S-10", "RV-1.out", "O-2.in", "LQ"),
     SPOOL("S-9", "T-2.c", "RV-1.out", "LQ") SPOOL("S-10", "RV-1.in", "O-2.in", "LQ"), NULL, NULL,
     "L2", "S-2"},
    {"L2_relief_valve_seized", 'A', NULL, NULL, "RV-1 - seized -", NULL, "L2", "S-2"},
    {"L2_design_pressure_unknown", 'A', " design-pressure=\"19 barg\"", "", NULL, NULL, "L2",
     "S-2"},
    {"L2_no_override_no_way", 'A', NULL, NULL, NULL, no_override, "L2", "S-2"},
    {"L2_cover_unsaid", 'A', NULL, NULL, NULL, segment_by_none, "L2", "S-2"},
    {"L3_called_not_full", 'A', NULL, NULL, NULL, segment_not_full, "L3", "S-2"},
    {"L6_uncovered_left_out", 'A', "18 barg", "20 barg", NULL, no_segment, "L6", "S-2"},
    {"L6_uncovered_in_part", 'A', "18 barg", "20 barg", NULL, segment_part, "L6", "S-7"},
    {"L6_no_finding", 'A', NULL, NULL, NULL, segment_unsaid_finding, "L6", "S-2"},
    {"L6_odd_state", 'A', NULL, NULL, NULL, segment_odd, "L6", "S-2"},
    {"L6_wrong_side", 'A', NULL, NULL, NULL, segment_where, "L6", "S-2"},
    {"L6_no_side", 'A', NULL, NULL, NULL, segment_nowhere, "L6", "S-2"},
    {"L6_segment_outside", 'A', "<spool id=\"S-1\" from=\"V-1.liq\"",
     GLOBE("HV-0", "closed")
         SPOOL("S-0", "V-1.liq", "HV-0.in", "LQ") "<spool id=\"S-1\" from=\"HV-0.out\"",
     NULL, NULL, "L6", "S-1"},

    /* Ways and covers: "!L" = no rule of that letter may speak, whatever else is odd. */
    {"L2_check_valve_forward", 'A', S9_S10,
     "<valve id=\"CV\" kind=\"check\"/>" SPOOL("S-9", "T-2.c", "CV.in", "LQ")
         SPOOL("S-11", "CV.out", "RV-1.in", "LQ") S10,
     NULL, NULL, "!L", NULL},
    {"L2_check_valve_backward", 'A', S9_S10,
     "<valve id=\"CV\" kind=\"check\"/>" SPOOL("S-9", "T-2.c", "CV.out", "LQ")
         SPOOL("S-11", "CV.in", "RV-1.in", "LQ") S10,
     NULL, NULL, "L2", "S-2"},
    {"L2_ring_of_check_valves", 'A', S9_S10,
     "<valve id=\"CV\" kind=\"check\"/>"
     "<valve id=\"CW\" kind=\"check\"/>" SPOOL("S-9", "T-2.c", "CV.in", "LQ")
         SPOOL("S-11", "CV.out", "CW.in", "LQ") SPOOL("S-12", "CW.out", "T-2.d", "LQ") S10,
     NULL, NULL, "L2", "S-2"},
    {"L2_hand_valve_open", 'A', S9_S10, GLOBE("HX", "open") BEFORE_RELIEF, NULL, NULL, "!L", NULL},
    {"L2_hand_valve_sealed_open", 'A', S9_S10,
     "<valve id=\"HX\" kind=\"globe\" sealed=\"open\"/>" BEFORE_RELIEF, NULL, NULL, "!L", NULL},
    {"L2_hand_valve_closed", 'A', S9_S10, GLOBE("HX", "closed") BEFORE_RELIEF, NULL, NULL, "L2",
     "S-2"},
    {"L2_hand_valve_closed_today", 'A', S9_S10,
     "<valve id=\"HX\" kind=\"globe\" sealed=\"open\"/>" BEFORE_RELIEF, "HX closed - -", NULL, "L2",
     "S-2"},
    {"L2_hand_valve_unknown", 'A', S9_S10, GLOBE("HX", "unknown") BEFORE_RELIEF, NULL, NULL, "L2",
     "S-2"},
    {"L2_actuated_valve_open", 'A', S9_S10,
     "<valve id=\"HX\" kind=\"ball\" drive=\"air\" "
     "position=\"open\" fails=\"open\"/>" BEFORE_RELIEF,
     NULL, NULL, "L2", "S-2"},
    {"L2_solenoid_valve_open", 'A', S9_S10, "<valve id=\"HX\" kind=\"solenoid\"/>" BEFORE_RELIEF,
     NULL, NULL, "L2", "S-2"},
    {"L2_stop_check_open", 'A', S9_S10,
     "<valve id=\"HX\" kind=\"stop-check\" position=\"open\"/>" BEFORE_RELIEF, NULL, NULL, "!L",
     NULL},
    {"L2_stop_check_closed", 'A', S9_S10,
     "<valve id=\"HX\" kind=\"stop-check\" position=\"closed\"/>" BEFORE_RELIEF, NULL, NULL, "L2",
     "S-2"},
    {"L2_blind_open", 'A', S9_S10,
     "<blind id=\"HX\" kind=\"spectacle\" position=\"open\"/>" BEFORE_RELIEF, NULL, NULL, "!L",
     NULL},
    {"L2_blind_unknown", 'A', S9_S10, "<blind id=\"HX\" kind=\"spectacle\"/>" BEFORE_RELIEF, NULL,
     NULL, "L2", "S-2"},
    {"L2_rupture_disc", 'A', "id=\"RV-1\" kind=\"relief\"", "id=\"RV-1\" kind=\"rupture-disc\"",
     NULL, NULL, "!L", NULL},
    {"L2_into_a_covered_vessel", 'A', S9_S10, INTO_VESSEL("3", "15 barg", ""), NULL, NULL, "!L",
     NULL},
    {"L2_into_a_vessel_back_pressure", 'A', S9_S10, INTO_VESSEL("5", "15 barg", ""), NULL, NULL,
     "L2", "S-2"},
    {"L2_into_a_vessel_balanced", 'A', S9_S10, INTO_VESSEL("5", "15 barg", " balanced=\"yes\""),
     NULL, NULL, "!L", NULL},
    {"L2_into_a_vessel_uncovered", 'A', S9_S10, INTO_VESSEL("3", "20 barg", ""), NULL, NULL, "L2",
     "S-2"},
    {"L2_three_way_both_covered", 'A', S9_S10,
     THREE_WAY("T-2.c", "RV-1.in", "17", "a-c b-c", "c", "a"), NULL, NULL, "!L", NULL},
    {"L2_three_way_one_uncovered", 'A', S9_S10,
     THREE_WAY("T-2.c", "RV-1.in", "20", "a-c b-c", "c", "a"), NULL, NULL, "L2", "S-2"},
    {"L2_three_way_not_from_its_common_port", 'A', S9_S10,
     THREE_WAY("T-2.c", "RV-1.in", "17", "a-c b-c", "a", "c"), NULL, NULL, "L2", "S-2"},
    {"L2_three_way_without_common_port", 'A', S9_S10,
     THREE_WAY("T-2.c", "RV-1.in", "17", "a-c a-b", "c", "a"), NULL, NULL, "L2", "S-2"},
    {"L2_open_outlet_covers_unknown_design", 'A', S9_S10, VENTED, NULL, NULL, "!L", NULL},
    {"L3_vapour_is_not_full", 'A', "phase=\"liquid\"", "phase=\"vapour\"", NULL, segment_not_full,
     "!L", NULL},

    {"E4_way_skips_the_valve", 'A', NULL, NULL, NULL, vent_shut_drain, "E4", "O-1"},
    {"E4_way_ends_in_a_valve", 'A', NULL, NULL, NULL, vent_not_outlet, "E4", "HV-3"},
    {"E4_way_through_a_point", 'A', NULL, NULL, NULL, vent_outside, "E4", "HV-2"},
    {"E4_way_not_joined", 'A', NULL, NULL, NULL, vent_apart, "E4", "O-2"},
    {"E4_drain_not_opened", 'A', NULL, NULL, NULL, drain_unopened, "E4", "HV-3"},
    {"E4_proof_of_zero_at_recovery", 'A', "leads-to=\"safe-place\" shared=\"no\"/>",
     "leads-to=\"recovery\" shared=\"no\"/>", NULL, NULL, "E4", "O-1"},
    {"E4_vent_behind_self_closing", 'A', "<valve id=\"HV-3\" kind=\"globe\"",
     "<valve id=\"HV-3\" kind=\"self-closing\"", NULL, NULL, "E4", "HV-3"},
    {"E4_vent_behind_check_valve", 'A', "<valve id=\"HV-3\" kind=\"globe\"",
     "<valve id=\"HV-3\" kind=\"check\"", NULL, NULL, "E4", "HV-3"},
    {"E2_no_drain", 'A', NULL, NULL, NULL, no_drain, "E2", NULL},
    {"E2_no_proof_of_zero", 'A', NULL, NULL, NULL, no_prove, "E2", NULL},
    {"E1_room_without_ids", 'A', NULL, NULL, NULL, room_empty, "E1", NULL},
    {"E1_room_outside", 'A', NULL, NULL, NULL, room_outside, "E1", "S-6"},
    {"E1_room_left_out", 'A', NULL, NULL, NULL, room_missing, "E1", "S-10"},
    {"E1_rooms_merged", 'A', " manual-opening=\"yes\"", "", NULL, NULL, "E1", "S-4"},
    {"E1_override_not_opened", 'A', "kind=\"control\" drive=\"motor\"", "kind=\"check\"", NULL,
     NULL, "E1", "S-4"},
    {"E1_right_stub_of_a_relief_pipe", 'A', NULL, NULL, NULL, room_merged, NULL, NULL},
    {"I7_not_ready_though_clean", 'A', NULL, NULL, NULL, not_ready, "I7", NULL},
    {"I7_ready_with_open_finding", 'C', NULL, NULL, NULL, ready_anyway, "I7", NULL},
    {"I7_infeasible_but_ready", 'N', NULL, NULL, NULL, n_ready, "I7", NULL},
    {"E2_accepted_by_nobody", 'D', NULL, NULL, NULL, accepted_by_none, "E2", "F-1"},
    {"E2_accepted_not_acceptable", 'D', NULL, NULL, NULL, accepted_not_acceptable, "E2", "F-1"},
    {"D4_acceptable", 'A', NULL, NULL, NULL, accept_d4, "D4", "V-1"},
    {"E9_does_not_block", 'A', NULL, NULL, NULL, soft_finding, "E9", "V-1"},
    {"I7_finding_without_words", 'A', NULL, NULL, NULL, mute_finding, "I7", "V-1"},
    {"I7_assumption_without_words", 'A', NULL, NULL, NULL, mute_assumption, "I7", "V-1"},
    {"I6_points_all_the_same", 'N', NULL, NULL, NULL, n_points_too, "I6", NULL},
    {"I6_steps_all_the_same", 'N', NULL, NULL, NULL, n_steps_too, "I6", NULL},
    {"I6_it_can_be_isolated", 'N', "id=\"HV-1\" kind=\"globe\" position=\"open\"", HV1, NULL, NULL,
     "I6", "MV-1"},
    {"I6_right_rating_too_low", 'N', "id=\"HV-1\" kind=\"globe\" position=\"open\"",
     HV1 " rating=\"10 barg\"", NULL, NULL, NULL, NULL},
    {"I6_no_path", 'N', NULL, NULL, NULL, n_no_path, "I6", NULL},
    {"I6_path_with_gap", 'N', NULL, NULL, NULL, n_gap, "I6", NULL},
    {"I6_path_from_a_vessel", 'N', NULL, NULL, NULL, n_soft, "I6", NULL},
    {"I6_path_ends_early", 'N', NULL, NULL, NULL, n_short, "I6", NULL},
    {"I6_path_of_unknown_ids", 'N', NULL, NULL, NULL, n_unknown, "I6", NULL},
    {"I6_no_words", 'N', NULL, NULL, NULL, n_mute, "I6", NULL},
    {"I6_better_grade_claimed", 'N', NULL, NULL, NULL, n_best, "I6", NULL},
    {"I6_place_does_not_help", 'N', NULL, NULL, NULL, n_no_help, "I6", "S-4"},
    {"I6_place_is_the_target", 'N', NULL, NULL, NULL, n_help_target, "I6", "MV-1"},
    {"I6_no_place_named", 'N', NULL, NULL, NULL, n_help_none, "I6", NULL},
    {"I6_set_does_not_help", 'N', NULL, NULL, NULL, n_help_bad_set, "I6", "MV-1"},
    {"I6_pump_with_feeds_may_come_inside", 'N', "<limit id=\"L-1\"/>",
     "<pump id=\"L-1\"/><feed id=\"FP\" kind=\"electrical\" supplies=\"L-1\" lockable=\"yes\"/>"
     "<cap id=\"K-1\" kind=\"cap\"/>" SPOOL("S-0", "K-1.in", "L-1.out", "LQ"),
     NULL, NULL, "I6", NULL},
    {"I6_right_feeds_of_a_pump_would_help", 'N', "<limit id=\"L-1\"/>",
     "<pump id=\"L-1\"/><cap id=\"K-1\" kind=\"cap\"/>" SPOOL("S-0", "K-1.in", "L-1.out", "LQ"),
     NULL, n_help_pump, NULL, NULL},
    {"I6_feeds_of_a_pump_do_not_help", 'N', "<limit id=\"L-1\"/>",
     "<pump id=\"L-1\"/><limit id=\"L-2\"/>" SPOOL("S-0", "L-2.in", "L-1.out", "LQ"), NULL,
     n_help_pump, "I6", "L-1"},
    {"I6_right_blind_end_would_help", 'N', NULL, NULL, NULL, n_help_pump, NULL, NULL},
    {"I6_live_end_is_not_blind", 'N', "<limit id=\"L-1\"/>", "<limit id=\"L-1\" dead=\"no\"/>",
     NULL, n_help_pump, "I6", "L-1"},
    {"I6_blind_end_does_not_help", 'N', "<valve id=\"MV-1\" kind=\"control\"/>",
     "<fitting id=\"MV-1\" kind=\"tee\"/><limit id=\"L-2\"/>" SPOOL("S-9", "L-2.in", "MV-1.x",
                                                                    "LQ"),
     NULL, n_help_pump, "I6", "L-1"},
    {"I6_right_pump_without_feeds", 'N', "<limit id=\"L-1\"/>",
     "<pump id=\"L-1\"/><cap id=\"K-1\" kind=\"cap\"/>" SPOOL("S-0", "K-1.in", "L-1.out", "LQ"),
     NULL, NULL, NULL, NULL},
};

static void read_plant(book *b, const row *c)
{
    const char *text = c->plant == 'A'   ? plant_a
                       : c->plant == 'C' ? plant_c
                       : c->plant == 'D' ? plant_d
                                         : plant_n;
    still_buf buf = STILL_BUF_INIT;
    if (c->find != NULL) {
        const char *at = strstr(text, c->find);
        assert_non_null(at);
        still_buf_addn(&buf, text, (size_t)(at - text));
        still_buf_add(&buf, c->replace);
        text = at + strlen(c->find);
    }
    still_buf_add(&buf, text);
    still_diags *d = still_diags_new();
    still_status s = still_read_plant_memory(&b->plant, "plant.xml", buf.text, buf.len, d);
    for (size_t i = 0; s != STILL_OK && i < still_diags_count(d); i++)
        print_error("%s: %s\n", still_diags_at(d, i)->code, still_diags_at(d, i)->text);
    still_buf_clear(&buf);
    still_diags_free(d);
    assert_int_equal(s, STILL_OK);
}

static void set_today(book *b, const char *today)
{
    if (today == NULL) return;
    b->state = still_state_new();
    still_strings w = list(b, today);
    still_state_item *it = still_state_at(b->state, still_plant_find(b->plant, w.items[0]).v);
    it->position =
        (uint8_t)still_word_value(STILL_VOC_still_position, w.items[1], strlen(w.items[1]));
    it->condition =
        (uint8_t)still_word_value(STILL_VOC_still_condition, w.items[2], strlen(w.items[2]));
    it->contents =
        (uint8_t)still_word_value(STILL_VOC_still_contents, w.items[3], strlen(w.items[3]));
}

static book *open_book(const row *c)
{
    book *b = still_calloc(1, sizeof *b);
    assert_non_null(b);
    still_arena_init(&b->arena);
    read_plant(b, c);
    set_today(b, c->today);
    if (c->plant == 'A') book_a(b);
    if (c->plant == 'C') book_c(b);
    if (c->plant == 'D') book_d(b);
    if (c->plant == 'N') book_n(b);
    if (c->change != NULL) c->change(b);
    return b;
}

static void close_book(book *b)
{
    still_arena_clear(&b->arena);
    still_state_free(b->state);
    still_plant_free(b->plant);
    still_free(b);
}

/* Does a diagnostic fit what the row names? Only the first letters count where `letters` is so. */
static bool fits(const still_diag *e, const char *code, const char *id, bool letters)
{
    bool same = letters ? strncmp(e->code, code, strlen(code)) == 0 : strcmp(e->code, code) == 0;
    return same && (id == NULL || strcmp(e->component, id) == 0);
}

static void one_row(void **state)
{
    const row *c = *state;
    book *b = open_book(c);
    still_diags *d = still_diags_new();
    bool quiet = c->code != NULL && c->code[0] == '!';
    bool agrees = c->code != NULL, caught = false;
    assert_int_equal(still_verify_record(&agrees, b->plant, b->state, &b->r, d), STILL_OK);
    for (size_t i = 0; c->code != NULL && i < still_diags_count(d); i++)
        if (fits(still_diags_at(d, i), c->code + quiet, c->id, quiet)) caught = true;
    bool right = caught == (c->code != NULL && !quiet);
    for (size_t i = 0; (!right || (c->code == NULL && !agrees)) && i < still_diags_count(d); i++)
        print_error("[%s] %s: %s\n", still_diags_at(d, i)->code, still_diags_at(d, i)->component,
                    still_diags_at(d, i)->text);
    assert_true(right);
    if (!quiet) assert_int_equal(agrees, c->code == NULL);
    assert_int_equal(still_diags_count(d) > 0, !agrees);
    still_diags_free(d);
    /* Nothing hangs on the list. */
    bool again = !agrees;
    assert_int_equal(still_verify_record(&again, b->plant, b->state, &b->r, NULL), STILL_OK);
    assert_int_equal(again, agrees);
    close_book(b);
}

/* Memory that runs out, at every place in turn: a status, never a verdict. */
static void memory_runs_out(void **state)
{
    (void)state;
    for (size_t k = 0; k < 4; k++) {
        book *b = open_book(&rows[k]);
        still_status s = STILL_E_NOMEM;
        for (uint64_t n = 1; s == STILL_E_NOMEM; n++) {
            bool agrees = false;
            still_alloc_fail_at(n);
            s = still_verify_record(&agrees, b->plant, b->state, &b->r, NULL);
            still_alloc_fail_at(0);
            assert_true(n < 100000);
            assert_int_equal(agrees, s == STILL_OK);
        }
        assert_int_equal(s, STILL_OK);
        close_book(b);
    }
}

/* The way to a source is told in the text, a long one cut in the middle. */
static void I1_text_tells_the_path(void **state)
{
    (void)state;
    const row c = {"", 'A', NULL, NULL, NULL, drop_hv2, "I1", "V-2"};
    book *b = open_book(&c);
    still_diags *d = still_diags_new();
    bool agrees = true, told = false;
    assert_int_equal(still_verify_record(&agrees, b->plant, NULL, &b->r, d), STILL_OK);
    assert_false(agrees);
    for (size_t i = 0; i < still_diags_count(d); i++)
        if (strstr(still_diags_at(d, i)->text, "V-2 > S-6 > HV-2 > S-5 > T-2 > S-4 > MV-1") != NULL)
            told = true;
    assert_true(told);
    still_diags_free(d);
    close_book(b);
}

static void I1_long_path_is_cut(void **state)
{
    (void)state;
    const row c = {"", 'A', NULL, NULL, NULL, NULL, NULL, NULL};
    book *b = open_book(&c);
    still_diags *d = still_diags_new();
    bool agrees = true, told = false;
    still_buf ids = STILL_BUF_INIT;
    for (int i = 0; i < 50; i++) still_buf_add(&ids, "S-1 V-1 ");
    b->paths[0].ids = list(b, ids.text);
    assert_int_equal(still_verify_record(&agrees, b->plant, NULL, &b->r, d), STILL_OK);
    assert_false(agrees);
    for (size_t i = 0; i < still_diags_count(d); i++)
        if (strstr(still_diags_at(d, i)->text, " > (80 more) > ") != NULL) told = true;
    assert_true(told);
    still_buf_clear(&ids);
    still_diags_free(d);
    close_book(b);
}

int main(void)
{
    enum { N = sizeof rows / sizeof rows[0] };
    struct CMUnitTest tests[N + 3];
    for (size_t i = 0; i < N; i++) tests[i] = row_test(rows[i].name, one_row, NULL, &rows[i]);
    tests[N] = (struct CMUnitTest)cmocka_unit_test(memory_runs_out);
    tests[N + 1] = (struct CMUnitTest)cmocka_unit_test(I1_text_tells_the_path);
    tests[N + 2] = (struct CMUnitTest)cmocka_unit_test(I1_long_path_is_cut);
    return cmocka_run_group_tests(tests, NULL, NULL);
}
