/* What a demand says: the row and column, all that went in, and what was assumed. */
#include "demandparts.h"

#include "alloc.h"
#include "hazard.h"
#include "saturation.h"
#include "strbuf.h"

#include <stdarg.h>
#include <stdio.h>
#include <string.h>

void still_asking_assume(still_asking *a, const char *id, const char *format, ...)
{
    char text[400];
    va_list args;
    va_start(args, format);
    vsnprintf(text, sizeof text, format, args);
    va_end(args);
    const still_remark *last = a->n_assumptions > 0 ? &a->assumptions[a->n_assumptions - 1] : NULL;
    if (last != NULL && strcmp(last->id, id) == 0 && strcmp(last->text, text) == 0) return;
    const char *kept = still_arena_str(a->arena, text);
    if (kept == NULL || !still_grow(&a->assumptions, &a->cap_assumptions, a->n_assumptions + 1,
                                    sizeof a->assumptions[0])) {
        a->nomem = true;
        return;
    }
    a->assumptions[a->n_assumptions++] = (still_remark){"I3", id, kept};
}

static void assume_of_service(still_asking *a, const still_service *s, const still_classed *c)
{
    const char *id = still_text(a->plant, s->id), *worst = a->policy->classes[0].name;
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
                            s->temperature_K > STILL_ZERO_DEGC_K + 60 ? "taken to be above"
                                                                      : "below");
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

static void add_statements(still_buf *buf, const still_plant *p, const still_service *s)
{
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
        still_buf_add(buf, known == NULL && said[0] == '\0' ? "hazard statements not said"
                                                            : "no hazard statement");
}

static void add_fluid(still_buf *buf, still_asking *a, const still_worst *worst)
{
    const still_plant *p = a->plant;
    const char *name = worst->row < a->policy->n_classes ? a->policy->classes[worst->row].name : "";
    if (worst->held.service == STILL_NONE) {
        still_buf_printf(buf, "substance unknown (%s has no service), so %s",
                         worst->held.comp != STILL_NONE ? still_id_of(p, worst->held.comp)
                                                        : "what is opened",
                         name);
        return;
    }
    const still_service *s = &p->services[worst->held.service];
    const char *substance = still_text(p, s->substance);
    unsigned phase = s->phase == STILL_PHASE_NOT_SAID ? STILL_PHASE_UNKNOWN : s->phase;
    still_buf_printf(buf, "%s, phase %s, ", substance[0] != '\0' ? substance : "substance not said",
                     still_word(STILL_VOC_still_phase, phase));
    add_statements(buf, p, s);
    still_buf_printf(buf, " (service %s): %s by %s", still_text(p, s->id), name,
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
        still_buf_printf(buf, "pressure unknown (%s), so the highest", where);
    else
        still_buf_printf(buf, "up to %.4g barg (%s)", peak->bara - STILL_ATM_BAR, where);
}

static void add_line(still_buf *buf, const still_asking *a)
{
    if (a->line_unknown != STILL_NONE) {
        still_buf_printf(buf, "line size unknown (%s), so the largest",
                         still_id_of(a->plant, a->line_unknown));
        return;
    }
    const char *size = still_comp_size(a->plant, a->line_at);
    still_buf_add(buf, "lines up to ");
    if (size[0] != '\0')
        still_buf_add(buf, size);
    else
        still_buf_printf(buf, "%.4g mm", a->line_mm);
    still_buf_printf(buf, " (%s)", still_id_of(a->plant, a->line_at));
}

static const char *work_words(still_work work)
{
    switch (work) {
    case STILL_WORK_BY_TARGET:
    case STILL_WORK_OPEN: return "opening";
    case STILL_WORK_ENTRY: return "entry";
    case STILL_WORK_HOT_WORK: return "hot work";
    case STILL_WORK_LONG_TERM: return "long-term isolation";
    }
    return "";
}

static const char *row_words(still_asking *a, const still_ruling *ruling, const still_job *job)
{
    if (ruling->row == STILL_RULED_BY_WORK)
        return still_arena_printf(a->arena, "%s: always positive", work_words(job->work));
    return still_arena_printf(a->arena, "%s, %s", a->policy->classes[ruling->row].name,
                              a->policy->columns[ruling->column].name);
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
    still_buf_printf(&buf, "; people near by: %s%s; work: %s; release %s by table D of HSG253",
                     job->people_high ? "high" : "normal", a->people_said ? "" : " (not said)",
                     work_words(job->work), still_release_text(ruling->release));
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
    still_buf_printf(&buf, "at standstill, all at %.4g degC, the table would ask for %s: ",
                     a->opts.ambient_K - STILL_ZERO_DEGC_K, still_grade_text(ruling.cell.grade));
    add_pressure(&buf, a, peak);
    d->standstill = buf.failed ? NULL : still_arena_str(a->arena, buf.text);
    still_buf_clear(&buf);
    if (d->standstill == NULL) a->nomem = true;
}
