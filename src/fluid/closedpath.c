/* Along the path of what is shut in and warms up (closedin.h): when a pressure is reached, when it
 * is full of liquid, and rows of a curve.
 * Method: steps that double from 1 K to at most 4 K, then a bracketed search within the step.
 * Why a step cannot hide anything: along the path the pressure first falls or stands and then rises
 * (docs/METHOD.md, "Numbers for closed-in liquid"), so between two temperatures it is nowhere above
 * both of its ends. The 0.1 K below the critical temperature, where a bubble has no answer, are a
 * step of their own; a rise somewhere in them is said of their cold end.
 * Cost: some 30 pressures. */
#include "closedin.h"

#include <math.h>

#define STEP_MAX_K 4.0
#define NEAR_K 1e-7
#define PA_PER_BAR 1e5

typedef struct path {
    const still_closedin *from;
    const still_wall *wall;
    double pressure_bara; /* looked for; how_high only */
} path;

/* What is followed along the path: below 0 = not yet, 0 or above = there. */
typedef still_eos_status measure(double *value, const path *way, double T);

static still_eos_status how_high(double *value, const path *way, double T)
{
    double p = 0;
    still_eos_status status = still_closedin_pressure(&p, NULL, way->from, way->wall, T);
    if (!status) *value = p / way->pressure_bara - 1;
    return status;
}

/* Density that the wall leaves at the vapour pressure. */
static still_eos_status saturated(still_eos_saturation *s, double *density, const path *way,
                                  double T)
{
    const still_closedin *f = way->from;
    still_eos_status status = still_eos_saturation_T(s, f->eos, T);
    if (status) return status;
    *density =
        f->density_kg_m3 / (1 + way->wall->expansion_per_K * (T - f->T_K) +
                            way->wall->compliance_per_bar * (s->pressure_bara - f->pressure_bara));
    return STILL_EOS_OK;
}

static still_eos_status how_full(double *value, const path *way, double T)
{
    double density;
    still_eos_saturation s;
    still_eos_status status = saturated(&s, &density, way, T);
    /* A start at saturation is full; it is known to some 1e-15. */
    if (!status) *value = density / s.liquid_kg_m3 - 1 + 1e-13;
    return status;
}

static still_eos_status how_dry(double *value, const path *way, double T)
{
    double density;
    still_eos_saturation s;
    still_eos_status status = saturated(&s, &density, way, T);
    if (!status) *value = s.vapour_kg_m3 / density - 1 + 1e-13;
    return status;
}

/* Least T within [low, high] where the value is 0 or above; it is below 0 at low and not at high.
 * Bisection and false position (Illinois) by turns. A place without an answer counts as there: the
 * result is then too cold, not too warm. Returns the cold end of what is left. */
static double cross(measure *how, const path *way, double low, double f_low, double high,
                    double f_high)
{
    for (int step = 0; step < 200 && high - low > NEAR_K; step++) {
        double T = low + (high - low) * f_low / (f_low - f_high), f = 0;
        if (step % 4 == 3 || !(T > low && T < high)) T = (low + high) / 2;
        if (how(&f, way, T)) f = -f_low;
        if (f < 0) {
            low = T;
            f_low = f;
            f_high /= 2;
        } else {
            high = T;
            f_high = f;
            f_low /= 2;
        }
    }
    return low;
}

/* End of the next step: no step strides over an end of the gap below the critical temperature. */
static double step_end(const still_eos *eos, double T, double next)
{
    if (!eos) return next;
    double edge = eos->T_c_K - STILL_EOS_CRITICAL_K;
    if (T < edge && next > edge) return edge;
    if (T < eos->T_c_K && next > eos->T_c_K) return eos->T_c_K;
    return next;
}

/* Where the value becomes 0 or above on the way to end. @param limit  whether a state beyond the
 * equation's range has passed what is looked for */
static still_eos_status walk(bool *found, double *T_found, measure *how, const path *way,
                             double end, bool limit)
{
    double T = way->from->T_K, f = 0, step = 1;
    still_eos_status status = how(&f, way, T);
    if (status) return status;
    *found = f >= 0;
    *T_found = T;
    while (!*found && T < end) {
        double next = step_end(way->from->eos, T, fmin(T + step, end)), f_next = 0;
        status = how(&f_next, way, next);
        if (status == STILL_EOS_ABOVE_LIMIT && limit)
            f_next = -f;
        else if (status)
            return status;
        if (f_next >= 0) {
            *found = true;
            *T_found = cross(how, way, T, f, next, f_next);
        }
        T = next;
        f = f_next;
        step = fmin(2 * step, STEP_MAX_K);
    }
    return STILL_EOS_OK;
}

still_eos_status still_closedin_reaches(still_closedin_when *out, const still_closedin *from,
                                        const still_wall *wall, double pressure, double end)
{
    if (!(pressure > 0) || isnan(end)) return STILL_EOS_BAD_INPUT;
    still_closedin_when when = {
        .reached = from->pressure_bara >= pressure, .T_K = from->T_K, .state = STILL_CLOSEDIN_FULL};
    double last = end, p;
    bool limit = false;
    if (from->eos) {
        last = fmin(end, from->eos->T_max_K);
        limit = pressure * PA_PER_BAR <= from->eos->p_max_Pa;
    }
    if (!when.reached && end > from->T_K) {
        path way = {from, wall, pressure};
        still_eos_status status = walk(&when.reached, &when.T_K, how_high, &way, last, limit);
        if (status) return status;
        if (!when.reached && last < end) return STILL_EOS_ABOVE_LIMIT;
    }
    /* The pressure was found there; near the critical point it may be that of the cold end. */
    if (when.reached && from->eos &&
        still_closedin_pressure(&p, &when.state, from, wall, when.T_K) != STILL_EOS_OK)
        when.state = STILL_CLOSEDIN_FULL;
    *out = when;
    return STILL_EOS_OK;
}

/* Liquid and vapour at the cold end of the gap. As dense as at the critical point, or denser: it
 * becomes full within the gap. */
static still_eos_status fate_in_gap(still_closedin_fate *fate, const path *way, double edge)
{
    double density;
    still_eos_saturation s;
    still_eos_status status = saturated(&s, &density, way, edge);
    if (!status)
        *fate = density >= way->from->eos->rho_c_kg_m3 ? STILL_CLOSEDIN_FILLS
                                                       : STILL_CLOSEDIN_PASSES_CRITICAL;
    return status;
}

still_eos_status still_closedin_fills(still_closedin_end *out, const still_closedin *from,
                                      const still_wall *wall, double end)
{
    const still_eos *eos = from->eos;
    if (!eos || isnan(end)) return STILL_EOS_BAD_INPUT;
    double edge = eos->T_c_K - STILL_EOS_CRITICAL_K, last = fmin(end, edge);
    still_closedin_end found = {STILL_CLOSEDIN_STAYS, end, 0};
    path way = {from, wall, 0};
    bool is = false;
    still_eos_status status = STILL_EOS_OK;
    if (from->T_K > edge) {
        found.fate =
            from->density_kg_m3 >= eos->rho_c_kg_m3 ? STILL_CLOSEDIN_FILLS : STILL_CLOSEDIN_DRIES;
        found.T_K = from->T_K;
    } else {
        status = walk(&is, &found.T_K, how_full, &way, last, false);
        if (!status && is) found.fate = STILL_CLOSEDIN_FILLS;
        if (!status && !is) {
            status = walk(&is, &found.T_K, how_dry, &way, last, false);
            if (is) found.fate = STILL_CLOSEDIN_DRIES;
        }
        if (!status && !is) {
            found.T_K = last;
            if (end > edge) status = fate_in_gap(&found.fate, &way, edge);
        }
    }
    if (!status)
        status = still_closedin_pressure(&found.pressure_bara, NULL, from, wall,
                                         fmax(found.T_K, from->T_K));
    if (!status) *out = found;
    return status;
}

still_closedin_curve still_closedin_curve_begin(const still_closedin *from, const still_wall *wall,
                                                double end)
{
    return (still_closedin_curve){.from = from, .wall_given = *wall, .end_K = end};
}

bool still_closedin_curve_next(still_closedin_curve *c, still_closedin_row *row)
{
    double T = c->from->T_K + c->next;
    /* Ambient and start are often whole degrees Celsius: their difference is whole but for
     * rounding. */
    if (c->next > 0 && !(T <= c->end_K + 1e-6)) return false;
    still_closedin_row r = {.T_K = T};
    if (!c->rigid)
        c->rigid = still_closedin_pressure(&r.rigid_bara, NULL, c->from, &STILL_WALL_RIGID, T);
    if (!c->wall) c->wall = still_closedin_pressure(&r.wall_bara, NULL, c->from, &c->wall_given, T);
    r.rigid = c->rigid;
    r.wall = c->wall;
    if (r.rigid && r.wall) return false;
    c->next++;
    *row = r;
    return true;
}
