/* Findings and whether the plan is ready: it is when its boundary holds and every finding that
 * blocks has been accepted by name. */
#include "verify_rules.h"

#include <string.h>

/* Notes do not block: the standstill line of I3, L7, L8, I8. */
static bool may_be_note(const char *rule)
{
    static const char *const notes[] = {"I3", "L7", "L8", "I8"};
    for (size_t i = 0; i < sizeof notes / sizeof notes[0]; i++)
        if (strcmp(rule, notes[i]) == 0) return true;
    return false;
}

/* Is RULE:ID among what was accepted on the command line? */
static bool listed(const still_record *r, const still_finding *f)
{
    size_t len = strlen(f->rule);
    for (size_t i = 0; i < r->option_accept.n; i++) {
        const char *a = r->option_accept.items[i];
        if (strncmp(a, f->rule, len) == 0 && a[len] == ':' && strcmp(a + len + 1, f->id) == 0)
            return true;
    }
    return false;
}

static void one_finding(still_verify *v, const still_finding *f)
{
    if (f->rule[0] == '\0' || f->text[0] == '\0')
        still_verify_against(v, "I7", f->id, "a finding without rule or text");
    if (!f->blocks && !may_be_note(f->rule))
        still_verify_against(v, f->rule, f->id, "finding [%s] does not block, though it is no note",
                             f->rule);
    if (strcmp(f->rule, "D4") == 0 && (f->acceptable || f->accepted || !f->blocks))
        still_verify_against(v, "D4", f->id, "a lost relief path cannot be accepted by name");
    if (f->accepted && !f->acceptable)
        still_verify_against(v, f->rule, f->id, "finding [%s] is accepted, but cannot be", f->rule);
    if (f->accepted && !listed(v->rec, f))
        still_verify_against(v, f->rule, f->id, "finding [%s] is accepted, but nobody did",
                             f->rule);
}

void still_verify_findings(still_verify *v)
{
    const still_record *r = v->rec;
    bool ready = r->feasible;
    for (size_t i = 0; i < r->n_findings; i++) {
        one_finding(v, &r->findings[i]);
        if (r->findings[i].blocks && !r->findings[i].accepted) ready = false;
    }
    for (size_t i = 0; i < r->n_assumptions; i++)
        if (r->assumptions[i].text[0] == '\0')
            still_verify_against(v, "I7", r->assumptions[i].id, "an assumption without text");
    if (ready != r->ready)
        still_verify_against(v, "I7", v->subject, "the record says %s, its findings say %s",
                             r->ready ? "ready" : "not ready", ready ? "ready" : "not ready");
}
