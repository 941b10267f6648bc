/* What a demand says: the row and column, all that went in, and what was assumed. */
#include "demandparts.h"

#include "alloc.h"
#include "messages.h"
#include "hazard.h"
#include "saturation.h"
#include "strbuf.h"

#include <stdarg.h>
#include <stdio.h>
#include <string.h>

void still_asking_assume(still_asking *a, const char *id, const char *format, ...)
{
    still_buf text = STILL_BUF_INIT;
    va_list args;
    va_start(args, format);
    still_say_args(&text, a->arena->messages, format, args);
    va_end(args);
    const char *kept = text.failed ? NULL : still_arena_str(a->arena, text.text);
    still_buf_clear(&text);
    const still_remark *last = a->n_assumptions > 0 ? &a->assumptions[a->n_assumptions - 1] : NULL;
    if (kept != NULL && last != NULL && strcmp(last->id, id) == 0 && strcmp(last->text, kept) == 0)
        return;
    if (kept == NULL || !still_grow(&a->assumptions, &a->cap_assumptions, a->n_assumptions + 1,
                                    sizeof a->assumptions[0])) {
        a->nomem = true;
        return;
    }
    a->assumptions[a->n_assumptions++] = (still_remark){"I3", id, kept};
}

static void assume_of_service(still_asking *a, const still_service *s, const still_classed *c)
{
    const char *id = still_text(a->plant, s->id),
               *worst = still_arena_word(a->arena, a->policy->classes[0].name);
    if ((c->assumed & STILL_CLASSED_NO_SUBSTANCE) != 0)
        still_asking_assume(a, id, "it counts as %s (its substance is not said)", worst);
    if ((c->assumed & STILL_CLASSED_NO_STATEMENTS) != 0)
        still_asking_assume(a, id,
                            "it counts as %s (the plant file gives no hazard statements, and the "
                            "program knows none for %s)",
                            worst, still_text(a->plant, s->substance));
    if ((c->assumed & STILL_CLASSED_UNMATCHED) != 0)
        still_asking_assume(a, id, "it counts as %s (no class of the policy names %s)", worst,
                            c->unmatched);
    if ((c->assumed & STILL_CLASSED_NO_TEMPERATURE) != 0)
        still_asking_assume(a, id,
                            "its temperature counts the dangerous way (it is not said, and the "
                            "policy asks for it)");
    if ((c->assumed & STILL_CLASSED_AUTO_IGNITION) != 0)
        still_asking_assume(a, id, "it is %s its auto-ignition temperature (which is not said)",
                            s->temperature_K > STILL_ZERO_DEGC_K + 60
                                ? "taken to be above"
                                : still_arena_word(a->arena, "below"));
    if ((c->assumed & STILL_CLASSED_ASPHYXIANT) != 0)
        still_asking_assume(a, id, "it counts as an asphyxiant (it is not said to be none)");
    if ((c->assumed & STILL_CLASSED_STEAM) != 0)
        still_asking_assume(a, id, "it counts as steam (its phase is not said)");
    if (isnan(s->pressure_bara))
        still_asking_assume(a, id, "its normal pressure counts as the highest (it is not said)");
}

/* Standstill: saturation at ambient; what does not condense, and what the program has no equation
 * for, stays at its normal pressure. */
static double standstill_bara(const still_asking *a, const still_service *s)
{
    still_substance substance = still_substance_of(still_text(a->plant, s->substance));
    still_saturation at;
    if (substance == STILL_SUBSTANCE_OTHER || s->condenses == STILL_YESNO_NO)
        return s->pressure_bara;
    if (!still_saturation_at(substance, a->opts.ambient_K, &at)) return (double)NAN;
    return at.pressure_bara;
}

const still_known *still_asking_service(still_asking *a, uint32_t service)
{
    still_known *k = &a->services[service];
    if (k->done) return k;
    const still_service *s = &a->plant->services[service];
    k->done = true;
    k->classed = still_class_of(a->policy, a->plant, service);
    k->standstill_bara = standstill_bara(a, s);
    assume_of_service(a, s, &k->classed);
    return k;
}

void still_asking_people(still_asking *a)
{
    const still_plant *p = a->plant;
    bool careful = a->work == STILL_WORK_ENTRY || a->work == STILL_WORK_HOT_WORK;
    a->people_said = true;
    for (size_t i = 0; i < a->targets->n; i++) {
        uint32_t comp = a->targets->items[i].comp;
        unsigned people = p->comps[comp].people;
        if (people == STILL_PEOPLE_NOT_SAID) people = p->people;
        if (people == STILL_PEOPLE_HIGH) a->people_high = true;
        if (people != STILL_PEOPLE_NOT_SAID) continue;
        a->people_said = false;
        if (careful) a->people_high = true;
        still_asking_assume(a, still_id_of(p, comp),
                            careful ? "many people, a tight place or a fire that spreads count as "
                                      "near by (people is not said)"
                                    : "no more people than usual are near by, the place is not "
                                      "tight and a fire would not spread (people is not said)");
    }
}

static void add_statements(still_buf *buf, const still_asking *a, const still_service *s)
{
    const still_plant *p = a->plant;
    const still_hazard *known = still_hazard_of(still_substance_of(still_text(p, s->substance)));
    const char *said = still_text(p, s->hazard), *at = said;
    char item[16];
    size_t n = 0;
    still_buf_add(buf, known != NULL ? known->statements : "");
    n = known != NULL ? strlen(known->statements) : 0;
    while (still_next_statement(&at, item, sizeof item)) {
        if (strcmp(item, "none") == 0) continue;
        if (known != NULL && strstr(known->statements, item) != NULL) continue;
        still_buf_printf(buf, "%s%s", n > 0 ? " " : "", item);
        n++;
    }
    if (n == 0)
        still_say(buf, a->arena->messages, "%s",
                  known == NULL && said[0] == '\0' ? "hazard statements not said"
                                                   : "no hazard statement");
}

static void add_fluid(still_buf *buf, still_asking *a, const still_worst *worst)
{
    const still_plant *p = a->plant;
    const char *name = still_arena_word(
        a->arena, worst->row < a->policy->n_classes ? a->policy->classes[worst->row].name : "");
    if (worst->held.service == STILL_NONE) {
        still_say(buf, a->arena->messages, "substance unknown (%s has no service), so %s",
                  worst->held.comp != STILL_NONE ? still_id_of(p, worst->held.comp)
                                                 : "what is opened",
                  name);
        return;
    }
    const still_service *s = &p->services[worst->held.service];
    const char *substance = still_text(p, s->substance);
    unsigned phase = s->phase == STILL_PHASE_NOT_SAID ? STILL_PHASE_UNKNOWN : s->phase;
    still_say(buf, a->arena->messages, "%s, phase %s, ",
              substance[0] != '\0' ? substance : "substance not said",
              still_arena_word(a->arena, still_word(STILL_VOC_still_phase, phase)));
    add_statements(buf, a, s);
    still_say(buf, a->arena->messages, " (service %s): %s by %s", still_text(p, s->id), name,
              still_asking_service(a, worst->held.service)->classed.by);
}

static void add_pressure(still_buf *buf, const still_asking *a, const still_peak *peak)
{
    const still_plant *p = a->plant;
    const char *where = peak->held.service != STILL_NONE
                            ? still_text(p, p->services[peak->held.service].id)
                        : peak->held.comp != STILL_NONE ? still_id_of(p, peak->held.comp)
                                                        : "";
    if (peak->unknown || isnan(peak->bara))
        still_say(buf, a->arena->messages, "pressure unknown (%s), so the highest", where);
    else
        still_say(buf, a->arena->messages, "up to %.4g barg (%s)", peak->bara - STILL_ATM_BAR,
                  where);
}

static void add_line(still_buf *buf, const still_asking *a)
{
    if (a->line_unknown != STILL_NONE) {
        still_say(buf, a->arena->messages, "line size unknown (%s), so the largest",
                  still_id_of(a->plant, a->line_unknown));
        return;
    }
    const char *size = still_comp_size(a->plant, a->line_at);
    still_say(buf, a->arena->messages, "lines up to ");
    if (size[0] != '\0')
        still_buf_add(buf, size);
    else
        still_say(buf, a->arena->messages, "%.4g mm", a->line_mm);
    still_say(buf, a->arena->messages, " (%s)", still_id_of(a->plant, a->line_at));
}

static const char *work_words(const still_asking *a, still_work work)
{
    const char *words = "";
    switch (work) {
    case STILL_WORK_BY_TARGET:
    case STILL_WORK_OPEN: words = "opening"; break;
    case STILL_WORK_ENTRY: words = "entry"; break;
    case STILL_WORK_HOT_WORK: words = "hot work"; break;
    case STILL_WORK_LONG_TERM: words = "long-term isolation"; break;
    }
    return still_arena_word(a->arena, words);
}

static const char *row_words(still_asking *a, const still_ruling *ruling, const still_job *job)
{
    if (ruling->row == STILL_RULED_BY_WORK)
        return still_arena_printf(a->arena, "%s: always positive", work_words(a, job->work));
    return still_arena_printf(a->arena, "%s, %s",
                              still_arena_word(a->arena, a->policy->classes[ruling->row].name),
                              still_arena_word(a->arena, a->policy->columns[ruling->column].name));
}

void still_asking_words(still_asking *a, still_source_demand *d, const still_job *job,
                        const still_ruling *ruling, const still_worst *worst,
                        const still_peak *peak)
{
    still_buf buf = STILL_BUF_INIT;
    add_fluid(&buf, a, worst);
    still_buf_add(&buf, "; ");
    add_pressure(&buf, a, peak);
    still_buf_add(&buf, "; ");
    add_line(&buf, a);
    still_say(&buf, a->arena->messages,
              "; people near by: %s%s; work: %s; release %s by table D of HSG253",
              still_arena_word(a->arena, job->people_high ? "high" : "normal"),
              a->people_said ? "" : " (not said)", work_words(a, job->work),
              still_arena_word(a->arena, still_release_text(ruling->release)));
    d->because = buf.failed ? NULL : still_arena_str(a->arena, buf.text);
    d->row = row_words(a, ruling, job);
    still_buf_clear(&buf);
    if (d->because == NULL || d->row == NULL) a->nomem = true;
}

void still_asking_standstill(still_asking *a, still_source_demand *d, const still_job *job,
                             const still_peak *peak)
{
    still_buf buf = STILL_BUF_INIT;
    still_ruling ruling = still_policy_rule(a->policy, job);
    d->standstill_grade = ruling.cell.grade;
    still_say(&buf, a->arena->messages,
              "at standstill, all at %.4g degC, the table would ask for %s: ",
              a->opts.ambient_K - STILL_ZERO_DEGC_K,
              still_arena_word(a->arena, still_grade_text(ruling.cell.grade)));
    add_pressure(&buf, a, peak);
    d->standstill = buf.failed ? NULL : still_arena_str(a->arena, buf.text);
    still_buf_clear(&buf);
    if (d->standstill == NULL) a->nomem = true;
}
