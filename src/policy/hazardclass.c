/* The class of a service.
 * Method: every statement, trait and temperature is asked for by itself, and the row nearest to
 * danger that takes any of them wins (F-HSG-10, F-POL-11). What is not known is taken as if it were
 * so: rule N2. Cost: statements times classes. */
#include "hazardclass.h"

#include "hazard.h"

#include <stdio.h>
#include <string.h>

/* Nothing common ignites by itself below this (carbon disulphide: 90 degC, from memory; what does
 * is H250, the worst class anyway). */
#define SURELY_BELOW_K (STILL_ZERO_DEGC_K + 60)

bool still_next_statement(const char **at, char *buf, size_t size)
{
    *at += strspn(*at, " ,\t\n\r");
    size_t len = strcspn(*at, " ,\t\n\r");
    if (len == 0) return false;
    snprintf(buf, size, "%.*s", (int)len, *at);
    *at += len;
    return true;
}

/* Length of a statement without the letters behind its number. */
static size_t root_length(const char *statement)
{
    size_t head = strncmp(statement, "EUH", 3) == 0 ? 6 : 4, len = strlen(statement);
    return len < head ? len : head;
}

bool still_statement_named(const char *list, const char *statement)
{
    char item[16];
    size_t n = root_length(statement);
    while (still_next_statement(&list, item, sizeof item)) {
        size_t len = root_length(item), same = len;
        while (same > 0 && item[same - 1] == 'x') same--;
        if (len == n && strncmp(item, statement, same) == 0) return true;
    }
    return false;
}

typedef struct classing {
    const still_policy *policy;
    const still_service *service;
    still_classed out;
    unsigned statements;
    bool burns;
} classing;

static void consider(classing *c, size_t row, const char *by)
{
    if (row >= c->out.row) return;
    c->out.row = row;
    snprintf(c->out.by, sizeof c->out.by, "%s", by);
}

static void consider_statements(classing *c, const char *list)
{
    char s[12];
    while (still_next_statement(&list, s, sizeof s)) {
        if (strcmp(s, "none") == 0) continue;
        size_t row = 0;
        c->statements++;
        if (still_statement_named("H300 H310 H330 H331", s)) c->out.deadly = true;
        c->burns = c->burns || (strncmp(s, "H22", 3) == 0 && s[3] >= '0' && s[3] <= '6');
        while (row < c->policy->n_classes &&
               !still_statement_named(c->policy->classes[row].hazards, s))
            row++;
        if (row < c->policy->n_classes) {
            consider(c, row, s);
            continue;
        }
        c->out.assumed |= STILL_CLASSED_UNMATCHED;
        snprintf(c->out.unmatched, sizeof c->out.unmatched, "%s", s);
        consider(c, 0, s);
    }
}

/* First class with a trait; the worst where none has it. */
static size_t trait_row(const classing *c, uint8_t trait)
{
    for (size_t row = 0; row < c->policy->n_classes; row++)
        if ((c->policy->classes[row].traits & trait) != 0) return row;
    return 0;
}

/* A trait that is known (assumed = 0) or assumed: listed only where it makes the class worse. */
static void consider_trait(classing *c, uint8_t trait, const char *by, unsigned assumed)
{
    size_t row = trait_row(c, trait);
    if (row < c->out.row) c->out.assumed |= assumed;
    consider(c, row, by);
}

static void consider_none(classing *c)
{
    for (size_t row = 0; row < c->policy->n_classes; row++)
        if (c->policy->classes[row].none) {
            consider(c, row, "no statement");
            return;
        }
    consider(c, 0, "no statement");
}

static void consider_temperature(classing *c)
{
    double T = c->service->temperature_K;
    char by[24];
    for (size_t row = 0; row < c->policy->n_classes; row++) {
        double above = c->policy->classes[row].above_K, below = c->policy->classes[row].below_K;
        if (isnan(T) && !(isnan(above) && isnan(below))) {
            if (row < c->out.row) c->out.assumed |= STILL_CLASSED_NO_TEMPERATURE;
            consider(c, row, "temperature not said");
        }
        if (T > above) {
            snprintf(by, sizeof by, "above %.4g degC", above - STILL_ZERO_DEGC_K);
            consider(c, row, by);
        }
        if (T < below) {
            snprintf(by, sizeof by, "below %.4g degC", below - STILL_ZERO_DEGC_K);
            consider(c, row, by);
        }
    }
}

static void consider_auto_ignition(classing *c, const still_hazard *known)
{
    double T = c->service->temperature_K, ignites = c->service->auto_ignition_K;
    if (known != NULL) ignites = fmin(ignites, known->auto_ignition_K); /* NAN: the other one */
    if (isnan(ignites) && !c->burns) return;
    if (isnan(T)) {
        consider_trait(c, STILL_TRAIT_AUTO_IGNITION, "temperature not said",
                       STILL_CLASSED_NO_TEMPERATURE);
    } else if (isnan(ignites) && T > SURELY_BELOW_K) {
        consider_trait(c, STILL_TRAIT_AUTO_IGNITION, "auto-ignition", STILL_CLASSED_AUTO_IGNITION);
    } else if (isnan(ignites)) {
        if (trait_row(c, STILL_TRAIT_AUTO_IGNITION) < c->out.row)
            c->out.assumed |= STILL_CLASSED_AUTO_IGNITION;
    } else if (T >= ignites) {
        consider_trait(c, STILL_TRAIT_AUTO_IGNITION, "auto-ignition", 0);
    }
}

static void consider_kind(classing *c, still_substance substance, const still_hazard *known)
{
    const still_service *s = c->service;
    bool phase_said = s->phase != STILL_PHASE_NOT_SAID && s->phase != STILL_PHASE_UNKNOWN;
    bool said = s->asphyxiant != STILL_YESNO_NOT_SAID;
    if (substance == STILL_SUBSTANCE_WATER && s->phase != STILL_PHASE_LIQUID)
        consider_trait(c, STILL_TRAIT_STEAM, "steam", phase_said ? 0 : STILL_CLASSED_STEAM);
    if (s->asphyxiant == STILL_YESNO_YES || (known == NULL ? !said : known->asphyxiant))
        consider_trait(c, STILL_TRAIT_ASPHYXIANT, "asphyxiant",
                       known == NULL && !said ? STILL_CLASSED_ASPHYXIANT : 0);
}

still_classed still_class_of(const still_policy *policy, const still_plant *plant, uint32_t service)
{
    classing c = {.policy = policy, .service = &plant->services[service]};
    const char *name = still_text(plant, c.service->substance);
    const char *said = still_text(plant, c.service->hazard);
    still_substance substance = still_substance_of(name);
    const still_hazard *known = still_hazard_of(substance);
    c.out.row = policy->n_classes;
    if (name[0] == '\0') {
        c.out.assumed |= STILL_CLASSED_NO_SUBSTANCE;
        c.out.deadly = true;
        consider(&c, 0, "substance not said");
    } else if (known == NULL && said[0] == '\0') {
        c.out.assumed |= STILL_CLASSED_NO_STATEMENTS;
        c.out.deadly = true;
        consider(&c, 0, "hazard not said");
    }
    if (known != NULL) consider_statements(&c, known->statements);
    consider_statements(&c, said);
    if (c.statements == 0) consider_none(&c);
    consider_kind(&c, substance, known);
    consider_temperature(&c);
    consider_auto_ignition(&c, known);
    return c.out;
}
