/* Looking a job up in a policy, and the policy that is built in.
 * Method: the answer is the highest grade over all cells whose column applies and whose class is
 * the job's own or less dangerous. Why it is right: each condition is a lower end on one quantity,
 * so a step toward danger only adds cells to choose the highest from (docs/METHOD.md, Policy).
 * Sources: table D of HSG253 (F-HSG-8); the cells are our own. Cost: linear in the cells. */
#include "policy.h"

#include "messages.h"

#include "alloc.h"
#include "plant.h"

#include <math.h>

#define COUNT(a) (sizeof(a) / sizeof(a)[0])

/* A value that rounding may have left a little short of an edge counts as at it. */
#define EDGE 1e-9

const char *still_release_text(still_release release)
{
    switch (release) {
    case STILL_RELEASE_LOW: return "low";
    case STILL_RELEASE_MEDIUM: return "medium";
    case STILL_RELEASE_HIGH: return "high";
    }
    return "";
}

still_release still_release_of(double line_mm, double pressure_bara, bool people_high)
{
    static const still_release table_d[3][3] = {
        {STILL_RELEASE_LOW, STILL_RELEASE_LOW, STILL_RELEASE_MEDIUM},
        {STILL_RELEASE_LOW, STILL_RELEASE_MEDIUM, STILL_RELEASE_HIGH},
        {STILL_RELEASE_MEDIUM, STILL_RELEASE_HIGH, STILL_RELEASE_HIGH},
    };
    double barg = pressure_bara - STILL_ATM_BAR;
    int size = isnan(line_mm) || line_mm >= 200 - EDGE ? 2 : line_mm >= 50 - EDGE ? 1 : 0;
    int pressure = isnan(barg) || barg > 50 + EDGE ? 2 : barg >= 10 - EDGE ? 1 : 0;
    still_release release = table_d[size][pressure];
    if (people_high && release < STILL_RELEASE_HIGH) release = (still_release)(release + 1);
    return release;
}

/* The table of rule I3: its classes, most dangerous first. */
static const still_policy_class classes[] = {
    {"very-hazardous", "very hazardous",
     "H220 H224 H240 H241 H242 H250 H260 H270 H271 H300 H310 H330 H331 H340 H350 H360 H370 H372",
     false, STILL_TRAIT_AUTO_IGNITION, NAN, NAN},
    {"hazardous", WORD("hazardous"), "H2xx H3xx", false, STILL_TRAIT_STEAM | STILL_TRAIT_ASPHYXIANT,
     STILL_ZERO_DEGC_K + 60, STILL_ZERO_DEGC_K - 10},
    {"no-statement", "no H2xx or H3xx statement", "H4xx", true, 0, NAN, NAN},
};

static const still_policy_column columns[] = {
    {"high", "release high", STILL_RELEASE_HIGH, 0, 0, false, STILL_POLICY_WORK_ANY,
     STILL_OPENING_ANY},
    {"medium", "release medium", STILL_RELEASE_MEDIUM, 0, 0, false, STILL_POLICY_WORK_ANY,
     STILL_OPENING_ANY},
    {"low", "release low", STILL_RELEASE_LOW, 0, 0, false, STILL_POLICY_WORK_ANY,
     STILL_OPENING_ANY},
};

/* Ours, invented: the outcome table of HSG253 is not to be had. */
static const still_policy_cell cells[COUNT(classes) * COUNT(columns)] = {
    {STILL_GRADE_POSITIVE, false},     {STILL_GRADE_DOUBLE_BLEED, false},
    {STILL_GRADE_SINGLE_BLEED, true},  {STILL_GRADE_DOUBLE_BLEED, false},
    {STILL_GRADE_DOUBLE_BLEED, false}, {STILL_GRADE_SINGLE_BLEED, true},
    {STILL_GRADE_SINGLE_BLEED, false}, {STILL_GRADE_SINGLE_BLEED, false},
    {STILL_GRADE_SINGLE, false},
};

const still_policy *still_policy_builtin(void)
{
    static const still_policy builtin = {.id = "built-in",
                                         .name = "the program's own cautious table",
                                         .builtin = true,
                                         .classes = classes,
                                         .columns = columns,
                                         .cells = cells,
                                         .n_classes = COUNT(classes),
                                         .n_columns = COUNT(columns)};
    return &builtin;
}

const char *still_policy_caution(const still_policy *policy)
{
    if (policy->builtin)
        return "the grades asked for come from this program's own table: its cells are invented, "
               "no "
               "regulator's and not those of HSG253, of which only table D (release) is used; "
               "local "
               "code and the site's own rules come first";
    return "the grades asked for come from the site's policy file, which is as good as whoever "
           "wrote "
           "and approved it; local code comes first";
}

void still_policy_free(still_policy *policy)
{
    if (policy == NULL) return;
    still_arena arena = policy->arena; /* holds the texts and tables, not the policy itself */
    still_arena_clear(&arena);
    still_free(policy);
}

static bool applies(const still_policy_column *c, const still_job *job, still_release release)
{
    if ((c->work >> job->work & 1) == 0 || (c->opening & job->opening) == 0) return false;
    if (c->people_high && !job->people_high) return false;
    if (release < c->release_from) return false;
    if (job->pressure_bara < c->pressure_from_bara - EDGE) return false; /* NAN: it applies */
    return !(job->line_mm < c->size_from_mm - EDGE);
}

bool still_column_beyond(const still_policy_column *a, const still_policy_column *b)
{
    if ((a->work & b->work & 1u << STILL_WORK_OPEN) == 0) return false;
    if ((a->opening & ~(unsigned)b->opening) != 0) return false;
    if (b->people_high && !a->people_high) return false;
    return a->release_from >= b->release_from && a->pressure_from_bara >= b->pressure_from_bara &&
           a->size_from_mm >= b->size_from_mm;
}

/* Is a cell to be named rather than the one that is best so far? A higher grade; at the same
 * grade the job's own class, then the column with the narrower conditions. */
static bool goes_before(const still_policy *p, const still_ruling *best, size_t row, size_t column)
{
    const still_policy_cell *cell = &p->cells[row * p->n_columns + column];
    if (best->row == STILL_RULED_BY_WORK || cell->grade > best->cell.grade) return true;
    if (cell->grade < best->cell.grade || row > best->row) return false;
    return column != best->column &&
           still_column_beyond(&p->columns[column], &p->columns[best->column]);
}

still_ruling still_policy_rule(const still_policy *policy, const still_job *job)
{
    still_ruling r = {.row = STILL_RULED_BY_WORK, .column = STILL_RULED_BY_WORK};
    bool risk = false;
    r.release = still_release_of(job->line_mm, job->pressure_bara, job->people_high);
    for (size_t row = job->class_at; row < policy->n_classes; row++)
        for (size_t c = 0; c < policy->n_columns; c++) {
            if (!applies(&policy->columns[c], job, r.release)) continue;
            const still_policy_cell *cell = &policy->cells[row * policy->n_columns + c];
            /* R of any cell that asks for the grade in the end. */
            if (r.row == STILL_RULED_BY_WORK || cell->grade > r.cell.grade)
                risk = cell->risk;
            else if (cell->grade == r.cell.grade && cell->risk)
                risk = true;
            if (!goes_before(policy, &r, row, c)) continue;
            r.row = row;
            r.column = c;
            r.cell = *cell;
        }
    r.cell.risk = risk;
    bool forced = job->work != STILL_WORK_OPEN;
    if (r.row != STILL_RULED_BY_WORK && (!forced || r.cell.grade == STILL_GRADE_POSITIVE)) return r;
    r.row = r.column = STILL_RULED_BY_WORK;
    r.cell = (still_policy_cell){STILL_GRADE_POSITIVE, false};
    return r;
}
