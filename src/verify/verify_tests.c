/* P6: no test pressure above what a point withstands that parts the work from the plant.
 * Method: one pass over the points; the rating is worked out as for D7. */
#include "verify_rules.h"

#include <math.h>

/* A figure was read from nine digits. */
static const double SLACK_BARG = 1e-6;

void still_verify_tests(still_verify *v)
{
    const still_record *r = v->rec;
    double most = r->tests.strength_barg;
    if (isnan(most) || r->tests.tightness_barg > most) most = r->tests.tightness_barg;
    if (isnan(most)) return;
    for (size_t i = 0; i < r->n_points; i++) {
        const still_point *t = &r->points[i];
        uint32_t comp = v->point_comp[i];
        if (comp == STILL_NONE || !v->barrier[comp] || t->level > 1) continue;
        double rating = still_verify_rating(v, comp) - STILL_ATM_BAR;
        if (isnan(rating))
            still_verify_against(v, "P6", t->id,
                                 "a test at %.6g barg against \"%s\", whose rating is not known",
                                 most, t->id);
        else if (most > rating + SLACK_BARG)
            still_verify_against(v, "P6", t->id, "a test at %.6g barg against \"%s\", rated %.6g",
                                 most, t->id, rating);
    }
}
