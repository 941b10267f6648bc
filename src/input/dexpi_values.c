/* Pressures of a drawing: which are taken, and at which reading; what is not taken is a loss.
 *
 * Problem: units such as "Bar" do not say gauge or absolute, and a wrong reading must not make
 * anything look stronger, or relieved earlier, than it is.
 * Method: a design pressure is taken at the lower reading, absolute; as gauge only where the lower
 * limit beside it is below zero in the same unit, which no absolute pressure can be. Of an
 * equipment the lowest of all its chambers counts, and only if every chamber has one. A set
 * pressure is taken at the higher reading, gauge, and only where it is clear which way the relief
 * valve blows: one pipe comes and one leaves in the order of the drawing, and the one that leaves
 * is larger (outlets of relief valves are no smaller than inlets: common practice, no source).
 * Cost: linear in the equipment looked at, and in the joints for each relief valve. */
#include "dexpi.h"

#include "alloc.h"
#include "pipesize.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#define ATM_BAR 1.01325

static const char upper[] = "UpperLimitDesignPressure", lower[] = "LowerLimitDesignPressure";

typedef enum reading { NONE, GAUGE, ABSOLUTE, UNSAID } reading;

/* A pressure in bar as its unit has it. */
static reading read_bar(const still_xml *a, double *bar)
{
    static const struct {
        const char *text;
        reading how;
    } units[] = {{"Bar", UNSAID},     {"bar", UNSAID},    {"barg", GAUGE},
                 {"BarGauge", GAUGE}, {"bara", ABSOLUTE}, {"BarAbsolute", ABSOLUTE}};
    if (a == NULL) return NONE;
    const char *number = still_xml_get(a, "Value"), *unit = still_xml_get(a, "Units");
    char *end = NULL;
    *bar = strtod(number, &end);
    if (end == number || *end != '\0' || !(fabs(*bar) < 1e5)) return NONE;
    for (size_t i = 0; i < sizeof units / sizeof units[0]; i++)
        if (strcmp(units[i].text, unit) == 0) return units[i].how;
    return NONE;
}

static void take(still_dx *dx, const still_xml *a)
{
    if (!still_grow(&dx->taken, &dx->cap_taken, dx->n_taken + 1, sizeof *dx->taken)) {
        dx->nomem = true;
        return;
    }
    dx->taken[dx->n_taken++] = a;
}

/* The design pressure that stands at one element. @return false: none that can be read */
static bool design_at(const still_xml *e, double *gauge)
{
    const still_xml *a = still_xml_generic_at(e, NULL, upper);
    const still_xml *low = still_xml_generic_at(e, NULL, lower);
    double bar, least;
    reading how = read_bar(a, &bar);
    if (how == UNSAID && read_bar(low, &least) == UNSAID && least < 0 &&
        strcmp(still_xml_get(low, "Units"), still_xml_get(a, "Units")) == 0)
        how = GAUGE;
    *gauge = how == GAUGE ? bar : bar - ATM_BAR;
    return how != NONE && *gauge > -ATM_BAR;
}

const char *still_dx_design(still_dx *dx, const still_xml *e)
{
    double lowest = HUGE_VAL, gauge;
    if (e == NULL) return "";
    for (const still_xml *p = e; p != NULL; p = still_xml_walk(p, e)) {
        if (!still_xml_is(p, "Equipment")) continue;
        bool chamber = strcmp(still_xml_get(p, "ComponentClass"), "Chamber") == 0;
        if (design_at(p, &gauge))
            lowest = fmin(lowest, gauge);
        else if (chamber || still_xml_generic_at(p, NULL, upper) != NULL)
            return "";
    }
    if (!(lowest < HUGE_VAL)) return "";
    for (const still_xml *p = e; p != NULL; p = still_xml_walk(p, e))
        if (still_xml_is(p, "Equipment") && still_xml_generic_at(p, NULL, upper) != NULL)
            take(dx, still_xml_generic_at(p, NULL, upper));
    return still_dx_printf(dx, "%.9g barg", lowest);
}

static unsigned size_of(const still_dx *dx, const still_dx_joint *j)
{
    if (j->segment == STILL_DX_NONE) return 0;
    const char *bore = dx->segments[j->segment].bore;
    const still_pipe_size *size = still_pipe_find(bore, strlen(bore));
    return size != NULL ? size->dn : 0;
}

const char *still_dx_set(still_dx *dx, uint32_t item)
{
    unsigned in = 0, out = 0;
    for (size_t i = 0; i < dx->n_joints; i++) {
        if (dx->joints[i].b == item) in = size_of(dx, &dx->joints[i]);
        if (dx->joints[i].a == item) out = size_of(dx, &dx->joints[i]);
    }
    if (in == 0 || out <= in) return "";
    const still_xml *a = still_xml_generic_at(dx->items[item].at, NULL, "SetPressureHigh");
    double bar;
    reading how = read_bar(a, &bar);
    if (how == NONE || bar <= 0) return "";
    take(dx, a);
    return still_dx_printf(dx, "%.9g %s", bar, how == ABSOLUTE ? "bara" : "barg");
}

void still_dx_values(still_dx *dx)
{
    static const char *const names[] = {upper,
                                        lower,
                                        "UpperLimitDesignTemperature",
                                        "LowerLimitDesignTemperature",
                                        "SetPressureHigh",
                                        "SetPressureLow",
                                        "ValvePositionAssignmentClass",
                                        "LockMechanismAssignmentClass",
                                        "HeatTracingTypeSpecialization"};
    for (const still_xml *e = dx->root; e != NULL && !dx->nomem; e = still_xml_walk(e, dx->root)) {
        if (!still_xml_is(e, "GenericAttribute") || still_xml_get(e, "Value")[0] == '\0') continue;
        const char *name = still_xml_get(e, "Name");
        bool matters = false, taken = false;
        for (size_t i = 0; i < sizeof names / sizeof names[0]; i++)
            matters = matters || strcmp(name, names[i]) == 0;
        for (size_t i = 0; matters && i < dx->n_taken; i++) taken = taken || dx->taken[i] == e;
        if (!matters || taken) continue;
        const still_xml *of = e->parent;
        while (of->parent != NULL && still_xml_get(of, "ID")[0] == '\0') of = of->parent;
        still_dx_lose(dx, STILL_DX_LOSS_VALUE, e->line, still_xml_get(of, "ID"), "%s %s %s", name,
                      still_xml_get(e, "Value"), still_xml_get(e, "Units"));
    }
}
