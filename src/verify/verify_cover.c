/* Opening pressures (L2; METHOD section 5), by naive relaxation.
 *
 * Problem: c(x) = the lowest opening pressure of any cover that the ways out of piece x reach,
 * where the back pressure of a relief valve may depend on c of a vessel. Method: everything starts
 * at infinity and is lowered by the rules, again and again, until nothing changes (Bellman and
 * Ford's relaxation). Why it is right: the rules are monotone and add only numbers that are not
 * negative; a ring of ways that covers nothing is never lowered and stays at infinity. Whole plant
 * is swept forward and backward in turn, so that long rows settle fast. */
#include "verify_relief.h"

static const double SLACK_BAR = 1e-9; /* rounding of unit conversion, far below any gauge */

static bool lower(double *x, double value)
{
    if (!(value < *x)) return false;
    *x = value;
    return true;
}

static bool along_ways(const still_verify_relief *r, double *x)
{
    bool changed = false;
    for (uint32_t i = 0; i < r->n_ways; i++)
        if (lower(&x[r->ways[i].from], x[r->ways[i].to])) changed = true;
    for (uint32_t i = r->n_ways; i-- > 0;)
        if (lower(&x[r->ways[i].from], x[r->ways[i].to])) changed = true;
    for (uint32_t i = 0; i < r->n_forks; i++) {
        double highest = 0;
        for (uint32_t k = 0; k < r->forks[i].n; k++)
            if (x[r->forks[i].behind[k]] > highest) highest = x[r->forks[i].behind[k]];
        if (r->forks[i].n > 0 && lower(&x[r->forks[i].common], highest)) changed = true;
    }
    return changed;
}

/* Set pressure + back pressure; infinity where the outlet leads nowhere by L2. */
static double opens_at(const still_verify_relief *r, const still_verify_cover *c)
{
    double back = r->vessel[c->out];
    if (!isinf(r->open[c->out])) back = isnan(c->back) ? r->open[c->out] : c->back;
    if (isinf(back)) return back;
    return c->balanced ? c->set : c->set + back;
}

bool still_verify_covered(const still_verify_relief *r, uint32_t piece)
{
    if (isnan(r->design[piece])) return !isinf(r->open[piece]);
    return r->opening[piece] <= r->design[piece] + SLACK_BAR;
}

/* A covered vessel with vapour space passes its value on to what relieves into it. */
static bool vessels(still_verify_relief *r)
{
    bool changed = false;
    for (uint32_t i = 0; i < r->n; i++) {
        if (!r->vapour_vessel[i] || !still_verify_covered(r, i)) continue;
        double value = isnan(r->design[i]) ? r->open[i] : r->opening[i];
        if (lower(&r->vessel[i], value)) changed = true;
    }
    return changed;
}

void still_verify_relief_settle(still_verify_relief *r)
{
    while (along_ways(r, r->open)) {
    }
    for (uint32_t i = 0; i < r->n; i++) {
        r->opening[i] = r->open[i];
        r->vessel[i] = (double)INFINITY;
    }
    bool changed = true;
    while (changed) {
        changed = false;
        for (uint32_t i = 0; i < r->n_covers; i++)
            if (lower(&r->opening[r->covers[i].in], opens_at(r, &r->covers[i]))) changed = true;
        if (along_ways(r, r->opening)) changed = true;
        if (vessels(r)) changed = true;
        if (along_ways(r, r->vessel)) changed = true;
    }
}
