/* Findings and assumptions: adding, accepting by name, finishing. */
#include "assemble.h"

#include "alloc.h"

#include <stdlib.h>
#include <string.h>

void still_add_finding(still_assembly *a, const char *rule, const char *id, bool blocks,
                       bool acceptable, const char *text)
{
    if (text == NULL) a->failed = true;
    for (size_t i = 0; i < a->n_findings && !a->failed; i++)
        if (strcmp(a->findings[i].rule, rule) == 0 && strcmp(a->findings[i].id, id) == 0 &&
            strcmp(a->findings[i].text, text) == 0)
            return;
    if (a->failed ||
        !still_grow(&a->findings, &a->findings_cap, a->n_findings + 1, sizeof a->findings[0])) {
        a->failed = true;
        return;
    }
    still_finding *f = &a->findings[a->n_findings++];
    *f = (still_finding){
        .rule = rule, .id = id, .text = text, .blocks = blocks, .acceptable = blocks && acceptable};
    size_t rule_len = strlen(rule);
    for (size_t i = 0; i < a->opts->n_accept && f->acceptable; i++) {
        const char *accept = a->opts->accept[i];
        if (strncmp(accept, rule, rule_len) == 0 && accept[rule_len] == ':' &&
            strcmp(accept + rule_len + 1, id) == 0)
            f->accepted = true;
    }
}

void still_add_assumption(still_assembly *a, const char *rule, const char *id, const char *text)
{
    if (text == NULL) a->failed = true;
    for (size_t i = 0; i < a->n_assumptions && !a->failed; i++)
        if (strcmp(a->assumptions[i].rule, rule) == 0 && strcmp(a->assumptions[i].id, id) == 0 &&
            strcmp(a->assumptions[i].text, text) == 0)
            return;
    if (a->failed || !still_grow(&a->assumptions, &a->assumptions_cap, a->n_assumptions + 1,
                                 sizeof a->assumptions[0])) {
        a->failed = true;
        return;
    }
    a->assumptions[a->n_assumptions++] = (still_remark){rule, id, text};
}

/* Most dangerous first: closed-in liquid, relief lost, grade, then the rest; notes last. */
static int weight(const still_finding *f)
{
    static const char *const order[] = {"L6", "D4", "I3", "N5", "N4", "D6", "E2", "E3", "E7"};
    if (!f->blocks) return 100;
    for (int i = 0; i < (int)(sizeof order / sizeof order[0]); i++)
        if (strcmp(f->rule, order[i]) == 0) return i;
    return 50;
}

static int by_weight(const void *pa, const void *pb)
{
    const still_finding *a = pa, *b = pb;
    int c = weight(a) - weight(b);
    if (c == 0) c = strcmp(a->rule, b->rule);
    if (c == 0) c = strcmp(a->id, b->id);
    return c != 0 ? c : strcmp(a->text, b->text);
}

static int by_rule(const void *pa, const void *pb)
{
    const still_remark *a = pa, *b = pb;
    int c = strcmp(a->rule, b->rule);
    if (c == 0) c = strcmp(a->id, b->id);
    return c != 0 ? c : strcmp(a->text, b->text);
}

static const still_remark cautions[] = {
    {"P7", "", "Only competent persons, authorised by the site, may isolate plant by this list."},
    {"P7", "",
     "The local code and the site's own permit rules come first, wherever they ask for more."},
    {"P7", "", "Walk the drawing down before work: the program's data may be wrong."},
    {"P7", "",
     "A closed valve may pass. Prove zero before the first bolt, and watch while the section is "
     "apart."},
    {"P5", "", "Leave two bolts partly engaged until the joint has parted without pressure."},
    {"P8", "",
     "Never let a warm or high-pressure side into a cold line that may hold liquid: equalise "
     "through the "
     "smallest opening first, wait, then open slowly."},
};

void still_assemble_finish(still_assembly *a)
{
    still_record *r = a->record;
    r->cautions = cautions;
    r->n_cautions = sizeof cautions / sizeof cautions[0];
    if (a->n_findings > 1) qsort(a->findings, a->n_findings, sizeof a->findings[0], by_weight);
    if (a->n_assumptions > 1)
        qsort(a->assumptions, a->n_assumptions, sizeof a->assumptions[0], by_rule);
    still_finding *findings = STILL_ARENA_NEW(a->arena, a->n_findings, still_finding);
    still_remark *assumptions = STILL_ARENA_NEW(a->arena, a->n_assumptions, still_remark);
    if (findings == NULL || assumptions == NULL) {
        a->failed = true;
        return;
    }
    r->ready = r->feasible;
    for (size_t i = 0; i < a->n_findings; i++) {
        findings[i] = a->findings[i];
        if (findings[i].blocks && !findings[i].accepted) r->ready = false;
    }
    for (size_t i = 0; i < a->n_assumptions; i++) assumptions[i] = a->assumptions[i];
    r->findings = findings;
    r->n_findings = a->n_findings;
    r->assumptions = assumptions;
    r->n_assumptions = a->n_assumptions;
}
