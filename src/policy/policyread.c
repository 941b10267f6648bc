/* Reading a site's policy file (docs/POLICY.md).
 *
 *     <policy xmlns="urn:stillset:policy:1" id="site-7" name="…">
 *       <column id="low"  name="release low"/>
 *       <column id="high" name="release high" release="high"/>
 *       <class id="A" name="toxic" hazards="H330 H331" auto-ignition="above">
 *         <cell column="low" grade="double-bleed"/> <cell column="high" grade="positive"/>
 *       </class>
 *       …
 *     </policy>
 *
 * Method: elements in the order of the file, then what needs the whole: every cell once, every job
 * taken by some class and column, nothing below positive for entry, hot work and long-term, and no
 * lower grade nearer to danger (F-POL-9), looked for in all pairs of cells.
 * Cost: the square of the number of cells, of which there are 4096 at most. */
#include "policy.h"

#include "alloc.h"
#include "policyvalue.h"

#include <math.h>
#include <string.h>

static const still_small_kind kind = {"policy", "urn:stillset:policy:1", false};

/* A cell as it was read. */
typedef struct read_cell {
    still_policy_cell cell;
    uint32_t element; /* 1 + number of its element; 0 = none */
} read_cell;

typedef struct reading {
    still_small *file;
    still_policy *policy;
    still_policy_class classes[STILL_POLICY_MOST];
    still_policy_column columns[STILL_POLICY_MOST];
    uint32_t class_at[STILL_POLICY_MOST], column_at[STILL_POLICY_MOST]; /* elements */
    read_cell cells[STILL_POLICY_MOST][STILL_POLICY_MOST];
    size_t n_classes, n_columns;
    bool whole; /* nothing was left out for an error: what needs the whole can be looked for */
} reading;

static void too_many(reading *r, const still_small_element *e)
{
    still_report_add(r->file->report, STILL_CODE_POLICY_SIZE, e->tag, NULL, NULL,
                     "a policy has at most %d classes and %d columns", STILL_POLICY_MOST,
                     STILL_POLICY_MOST);
    r->whole = false;
}

static size_t column_named(const reading *r, const char *id)
{
    size_t i = 0;
    while (i < r->n_columns && strcmp(r->columns[i].id, id) != 0) i++;
    return i;
}

static size_t class_named(const reading *r, const char *id)
{
    size_t i = 0;
    while (i < r->n_classes && strcmp(r->classes[i].id, id) != 0) i++;
    return i;
}

static void id_twice(reading *r, const still_small_element *e, const char *id)
{
    still_report_add(r->file->report, STILL_CODE_ID_TWICE, e->tag, "id", id,
                     "id \"%.80s\" is used twice", id);
    r->whole = false;
}

static void take_column(reading *r, uint32_t number)
{
    static const char *const known[] = {"id",     "name", "release", "pressure-from", "size-from",
                                        "people", "work", "opening", "note",          NULL};
    const still_small_element *e = &r->file->elements[number];
    still_small_value v = {r->file, e, true};
    still_policy_column c = {.work = STILL_POLICY_WORK_ANY, .opening = STILL_OPENING_ANY};
    still_value_known(&v, known);
    c.id = still_value_id(&v);
    c.name = still_value_text(&v, "name", c.id);
    static const still_value_word releases[] = {{"low", STILL_RELEASE_LOW},
                                                {"medium", STILL_RELEASE_MEDIUM},
                                                {"high", STILL_RELEASE_HIGH},
                                                {NULL, 0}};
    static const still_value_word people[] = {{"high", 1}, {"any", 0}, {NULL, 0}};
    static const still_value_word works[] = {{"open", 1u << STILL_WORK_OPEN},
                                             {"entry", 1u << STILL_WORK_ENTRY},
                                             {"hot-work", 1u << STILL_WORK_HOT_WORK},
                                             {"long-term", 1u << STILL_WORK_LONG_TERM},
                                             {NULL, 0}};
    static const still_value_word openings[] = {{"equipment", STILL_OPENING_EQUIPMENT},
                                                {"valve", STILL_OPENING_VALVE},
                                                {"joint", STILL_OPENING_JOINT},
                                                {NULL, 0}};
    c.release_from = (still_release)still_value_one(&v, "release", releases, STILL_RELEASE_LOW);
    c.people_high = still_value_one(&v, "people", people, 0) != 0;
    c.work = (uint8_t)still_value_set(&v, "work", works, c.work);
    c.opening = (uint8_t)still_value_set(&v, "opening", openings, c.opening);
    c.pressure_from_bara = still_value_quantity(&v, "pressure-from", STILL_DIM_PRESSURE, 0);
    c.size_from_mm = still_value_size(&v, "size-from");
    /* One that has an error is kept, so that its cells are no errors too. */
    if (!v.good) r->whole = false;
    if (column_named(r, c.id) < r->n_columns) {
        id_twice(r, e, c.id);
    } else if (r->n_columns == STILL_POLICY_MOST) {
        too_many(r, e);
    } else {
        r->column_at[r->n_columns] = number;
        r->columns[r->n_columns++] = c;
    }
}

/* @return its place, or STILL_POLICY_MOST when it cannot be kept */
static size_t take_class(reading *r, uint32_t number)
{
    static const char *const known[] = {"id",         "name",  "hazards", "auto-ignition", "steam",
                                        "asphyxiant", "above", "below",   "note",          NULL};
    static const still_value_word above[] = {{"above", STILL_TRAIT_AUTO_IGNITION}, {NULL, 0}};
    static const still_value_word steam[] = {{"yes", STILL_TRAIT_STEAM}, {NULL, 0}};
    static const still_value_word choking[] = {{"yes", STILL_TRAIT_ASPHYXIANT}, {NULL, 0}};
    const still_small_element *e = &r->file->elements[number];
    still_small_value v = {r->file, e, true};
    still_policy_class c = {0};
    still_value_known(&v, known);
    c.id = still_value_id(&v);
    c.name = still_value_text(&v, "name", c.id);
    c.hazards = still_value_hazards(&v, "hazards", &c.none);
    c.traits = (uint8_t)(still_value_one(&v, "auto-ignition", above, 0) |
                         still_value_one(&v, "steam", steam, 0) |
                         still_value_one(&v, "asphyxiant", choking, 0));
    c.above_K = still_value_quantity(&v, "above", STILL_DIM_TEMPERATURE, NAN);
    c.below_K = still_value_quantity(&v, "below", STILL_DIM_TEMPERATURE, NAN);
    if (!v.good) r->whole = false;
    if (class_named(r, c.id) < r->n_classes) {
        id_twice(r, e, c.id);
    } else if (r->n_classes == STILL_POLICY_MOST) {
        too_many(r, e);
    } else {
        r->class_at[r->n_classes] = number;
        r->classes[r->n_classes++] = c;
        return r->n_classes - 1;
    }
    return STILL_POLICY_MOST;
}

static void take_cell(reading *r, uint32_t number, size_t row)
{
    static const char *const known[] = {"column", "grade", "risk", "note", NULL};
    static const still_value_word grades[] = {{"single", STILL_GRADE_SINGLE},
                                              {"double", STILL_GRADE_DOUBLE},
                                              {"single-bleed", STILL_GRADE_SINGLE_BLEED},
                                              {"double-bleed", STILL_GRADE_DOUBLE_BLEED},
                                              {"positive", STILL_GRADE_POSITIVE},
                                              {NULL, 0}};
    static const still_value_word risks[] = {{"yes", 1}, {"no", 0}, {NULL, 0}};
    const still_small_element *e = &r->file->elements[number];
    still_small_value v = {r->file, e, true};
    still_value_known(&v, known);
    const char *column = still_value_required(&v, "column");
    (void)still_value_required(&v, "grade");
    still_policy_cell cell = {
        (still_grade)still_value_one(&v, "grade", grades, STILL_GRADE_POSITIVE),
        still_value_one(&v, "risk", risks, 0) != 0};
    size_t at = column_named(r, column);
    if (v.good && at == r->n_columns) {
        still_report_add(r->file->report, STILL_CODE_REFERENCE, e->tag, "column", NULL,
                         "cell: no column \"%.80s\" stands before it", column);
        v.good = false;
    }
    if (!v.good) r->whole = false;
    if (!v.good || row == STILL_POLICY_MOST) return;
    if (r->cells[row][at].element != 0) {
        still_report_add(r->file->report, STILL_CODE_POLICY_CELL, e->tag, "column",
                         r->classes[row].id, "class \"%.80s\" has two cells for column \"%.80s\"",
                         r->classes[row].id, column);
        r->whole = false;
        return;
    }
    r->cells[row][at] = (read_cell){cell, number + 1};
}

static void take_root(reading *r)
{
    static const char *const known[] = {"id", "name", "note", NULL};
    still_small_value v = {r->file, &r->file->elements[0], true};
    still_value_known(&v, known);
    r->policy->id = still_value_id(&v);
    r->policy->name = still_value_text(&v, "name", r->policy->id);
}

/* Elements whose parent is unknown are passed over with it. */
static void take_elements(reading *r)
{
    const still_small_element *all = r->file->elements;
    size_t row = STILL_POLICY_MOST;
    take_root(r);
    for (uint32_t i = 1; i < r->file->n; i++) {
        const char *name = all[i].name, *parent = all[all[i].parent].name;
        if (all[i].parent == 0 && strcmp(name, "column") == 0) {
            take_column(r, i);
        } else if (all[i].parent == 0 && strcmp(name, "class") == 0) {
            row = take_class(r, i);
        } else if (all[i].parent != 0 && strcmp(parent, "class") == 0 &&
                   strcmp(name, "cell") == 0 && all[all[i].parent].parent == 0) {
            take_cell(r, i, row);
        } else if (all[i].parent == 0 || strcmp(parent, "class") == 0 ||
                   strcmp(parent, "column") == 0 || strcmp(parent, "cell") == 0) {
            still_report_add(r->file->report, STILL_CODE_ELEMENT, all[i].tag, NULL, NULL,
                             "element \"%.80s\" is unknown or cannot stand here", name);
            r->whole = false;
        }
    }
}

/* Each cell there; entry, hot work and long-term not below positive where a column names them. */
static void check_cells(reading *r)
{
    for (size_t row = 0; row < r->n_classes; row++)
        for (size_t c = 0; c < r->n_columns; c++) {
            const read_cell *cell = &r->cells[row][c];
            const still_policy_column *column = &r->columns[c];
            if (cell->element == 0) {
                still_report_add(r->file->report, STILL_CODE_POLICY_CELL,
                                 r->file->elements[r->class_at[row]].tag, NULL, r->classes[row].id,
                                 "class \"%.80s\" has no cell for column \"%.80s\"",
                                 r->classes[row].id, column->id);
                r->whole = false;
            } else if (still_small_get(&r->file->elements[r->column_at[c]], "work") != NULL &&
                       column->work != 1u << STILL_WORK_OPEN &&
                       cell->cell.grade != STILL_GRADE_POSITIVE) {
                still_report_add(r->file->report, STILL_CODE_POLICY_WORK,
                                 r->file->elements[cell->element - 1].tag, "grade",
                                 r->classes[row].id,
                                 "column \"%.80s\" is for entry, hot work or long-term isolation, "
                                 "which are always positive",
                                 column->id);
            }
        }
}

/* Every trait, and what has no statement, must be some class's business; a job without any
 * pressure must find a column, whatever is opened. */
static void check_coverage(reading *r)
{
    static const struct {
        uint8_t trait;
        const char *what;
    } traits[] = {{STILL_TRAIT_AUTO_IGNITION, "auto-ignition=\"above\""},
                  {STILL_TRAIT_STEAM, "steam=\"yes\""},
                  {STILL_TRAIT_ASPHYXIANT, "asphyxiant=\"yes\""},
                  {0, "hazards=\"none\""}};
    uint32_t root = r->file->elements[0].tag;
    if (r->n_classes == 0 || r->n_columns == 0) {
        still_report_add(r->file->report, STILL_CODE_POLICY_SIZE, root, NULL, NULL,
                         "the policy has no %s", r->n_classes == 0 ? "class" : "column");
        return;
    }
    for (size_t i = 0; i < sizeof traits / sizeof traits[0]; i++) {
        bool taken = false;
        for (size_t c = 0; c < r->n_classes; c++)
            taken = taken || (traits[i].trait == 0 ? r->classes[c].none
                                                   : (r->classes[c].traits & traits[i].trait) != 0);
        if (!taken)
            still_report_add(r->file->report, STILL_CODE_POLICY_CLASS, root, NULL, NULL,
                             "no class has %s", traits[i].what);
    }
    for (unsigned opening = 1; opening <= STILL_OPENING_JOINT; opening *= 2) {
        bool taken = false;
        for (size_t c = 0; c < r->n_columns; c++) {
            const still_policy_column *k = &r->columns[c];
            taken =
                taken || ((k->opening & opening) != 0 && (k->work >> STILL_WORK_OPEN & 1) != 0 &&
                          k->release_from == STILL_RELEASE_LOW && !k->people_high &&
                          k->pressure_from_bara <= 0 && k->size_from_mm <= 0);
        }
        if (!taken)
            still_report_add(r->file->report, STILL_CODE_POLICY_COLUMN, root, NULL, NULL,
                             "no column takes every opening of %s: one without release, "
                             "pressure-from, size-from and people",
                             opening == STILL_OPENING_EQUIPMENT ? "equipment"
                             : opening == STILL_OPENING_VALVE   ? "a valve"
                                                                : "a joint");
    }
}

/* F-POL-9: one finding a cell. */
static void check_order_at(reading *r, size_t row, size_t c)
{
    const read_cell *cell = &r->cells[row][c];
    for (size_t below = row; below < r->n_classes; below++)
        for (size_t k = 0; k < r->n_columns; k++) {
            if (k != c && !still_column_beyond(&r->columns[c], &r->columns[k])) continue;
            if (cell->cell.grade >= r->cells[below][k].cell.grade) continue;
            still_report_add(r->file->report, STILL_CODE_POLICY_ORDER,
                             r->file->elements[cell->element - 1].tag, "grade", r->classes[row].id,
                             "%s, though class \"%.60s\", column \"%.60s\", less dangerous, has %s",
                             still_grade_text(cell->cell.grade), r->classes[below].id,
                             r->columns[k].id, still_grade_text(r->cells[below][k].cell.grade));
            return;
        }
}

static void check_order(reading *r)
{
    for (size_t row = 0; row < r->n_classes; row++)
        for (size_t c = 0; c < r->n_columns; c++) check_order_at(r, row, c);
}

/* Texts of what was read lie in the file's arena, which the policy takes over. */
static bool keep(reading *r)
{
    still_arena *arena = &r->file->arena;
    size_t n = r->n_classes * r->n_columns;
    still_policy_class *classes = STILL_ARENA_NEW(arena, r->n_classes, still_policy_class);
    still_policy_column *columns = STILL_ARENA_NEW(arena, r->n_columns, still_policy_column);
    still_policy_cell *cells = STILL_ARENA_NEW(arena, n, still_policy_cell);
    if (classes == NULL || columns == NULL || cells == NULL) return false;
    memcpy(classes, r->classes, r->n_classes * sizeof classes[0]);
    memcpy(columns, r->columns, r->n_columns * sizeof columns[0]);
    for (size_t i = 0; i < n; i++) cells[i] = r->cells[i / r->n_columns][i % r->n_columns].cell;
    still_policy *p = r->policy;
    p->classes = classes;
    p->columns = columns;
    p->cells = cells;
    p->n_classes = r->n_classes;
    p->n_columns = r->n_columns;
    memcpy(p->digest, r->file->digest, sizeof p->digest);
    p->arena = *arena;
    still_arena_init(arena);
    return true;
}

/* What both ways of reading share; closes the file. */
static still_status finish(still_policy **out, still_small *file, still_status status,
                           still_diags *diags)
{
    reading *r = still_calloc(1, sizeof *r);
    still_policy *policy = still_calloc(1, sizeof *policy);
    if (r == NULL || policy == NULL) {
        status = STILL_E_NOMEM;
    } else if (status == STILL_OK) {
        *r = (reading){.file = file, .policy = policy, .whole = true};
        take_elements(r);
        if (r->whole) check_coverage(r);
        if (r->whole) check_cells(r);
        if (r->whole) check_order(r);
        if (still_report_errors(file->report) == 0 && !keep(r)) status = STILL_E_NOMEM;
    }
    still_status closed = still_small_close(file, diags);
    if (status == STILL_OK || closed == STILL_E_NOMEM) status = closed;
    still_free(r);
    if (status == STILL_OK)
        *out = policy;
    else
        still_policy_free(policy);
    return status;
}

still_status still_policy_read(still_policy **out, const char *path, still_diags *diags)
{
    still_small file;
    still_status status = still_small_read(&file, path, &kind);
    return finish(out, &file, status, diags);
}

still_status still_policy_read_memory(still_policy **out, const char *name, const void *bytes,
                                      size_t len, still_diags *diags)
{
    still_small file;
    still_status status = still_small_read_memory(&file, name, bytes, len, &kind);
    return finish(out, &file, status, diags);
}
