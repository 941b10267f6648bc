/* The public calls on plants and plans. */
#include "stillset/plan.h"

#include "alloc.h"
#include "speak.h"
#include "digest.h"
#include "shared.h"
#include "planning.h"
#include "check.h"
#include "diags.h"
#include "output.h"
#include "plantread.h"
#include "stateread.h"

#include <math.h>
#include <string.h>

still_status still_plant_read(still_plant **out, const char *path, still_diags *diags)
{
    return still_read_plant(out, path, diags);
}

still_status still_plant_read_memory(still_plant **out, const char *name, const void *bytes,
                                     size_t len, still_diags *diags)
{
    return still_read_plant_memory(out, name, bytes, len, diags);
}

still_status still_state_read(still_state **out, const still_plant *plant, const char *path,
                              still_diags *diags)
{
    return still_read_state(out, plant, path, diags);
}

still_status still_state_read_memory(still_state **out, const still_plant *plant, const char *name,
                                     const void *bytes, size_t len, still_diags *diags)
{
    return still_read_state_memory(out, plant, name, bytes, len, diags);
}

still_status still_check(const still_plant *plant, still_diags *diags)
{
    return still_check_plant(plant, diags);
}

const char *still_grade_text(still_grade grade)
{
    switch (grade) {
    case STILL_GRADE_POLICY: return "policy";
    case STILL_GRADE_SINGLE: return "single";
    case STILL_GRADE_DOUBLE: return "double";
    case STILL_GRADE_SINGLE_BLEED: return "single-bleed";
    case STILL_GRADE_DOUBLE_BLEED: return "double-bleed";
    case STILL_GRADE_POSITIVE: return "positive";
    }
    return "";
}

const char *still_work_text(still_work work)
{
    switch (work) {
    case STILL_WORK_BY_TARGET: return "";
    case STILL_WORK_OPEN: return "open";
    case STILL_WORK_ENTRY: return "entry";
    case STILL_WORK_HOT_WORK: return "hot-work";
    case STILL_WORK_LONG_TERM: return "long-term";
    }
    return "";
}

#define REFUSE(status, ...)                                                                        \
    do {                                                                                           \
        still_diags_add(diags, STILL_SEV_ERROR, "STILL-USE", "", 0, 0, "", NULL, __VA_ARGS__);     \
        return (status);                                                                           \
    } while (0)

const still_record *still_plan_record(const still_plan *plan)
{
    return &plan->record;
}

void still_plan_free(still_plan *plan)
{
    if (plan == NULL) return;
    still_arena_clear(&plan->arena);
    still_free(plan);
}

still_status still_plan_write(char **bytes, size_t *len, const still_plan *plan,
                              still_format format, still_diags *diags)
{
    still_buf buf = STILL_BUF_INIT;
    still_status status = STILL_OK;
    (void)diags;
    switch (format) {
    case STILL_FORMAT_TEXT: still_text_write(&buf, &plan->record, NULL); break;
    case STILL_FORMAT_JSON: status = still_json_write(&buf, &plan->record); break;
    case STILL_FORMAT_CSV: still_csv_write(&buf, &plan->record); break;
    case STILL_FORMAT_SVG:
    case STILL_FORMAT_PNG:
    case STILL_FORMAT_PDF:
        status = still_picture_write(&buf, &plan->record, plan->plant, still_picture_of(format));
        break;
    }
    return still_give(bytes, len, &buf, status);
}

still_status still_plan_digest(char digest[65], const still_plan *plan)
{
    still_buf json = STILL_BUF_INIT;
    still_status status = still_json_write(&json, &plan->record);
    if (status == STILL_OK && json.failed) status = STILL_E_NOMEM;
    still_digest *d = status == STILL_OK ? still_digest_new() : NULL;
    if (status == STILL_OK && d == NULL) status = STILL_E_NOMEM;
    if (d != NULL) {
        still_digest_add(d, json.text, json.len);
        still_digest_text(d, digest);
    }
    still_digest_free(d);
    still_buf_clear(&json);
    return status;
}

still_status still_plan_pack(char **bytes, size_t *len, const still_plan *plan, bool html,
                             const still_pack_opts *opts)
{
    const still_pack_opts usual = {0};
    char own[65];
    still_buf buf = STILL_BUF_INIT;
    still_status status = STILL_OK;
    if (opts == NULL) opts = &usual;
    const still_figures people = {still_catalogue_messages(opts->catalogue), opts->us_customary,
                                  opts->decimal_comma};
    if (opts->digest == NULL) status = still_plan_digest(own, plan);
    if (status == STILL_OK)
        status = still_pack_write(&buf, &plan->record, plan->plant,
                                  html ? STILL_PACK_HTML : STILL_PACK_PDF, opts->paper, &people,
                                  still_catalogue_language(opts->catalogue),
                                  opts->digest != NULL ? opts->digest : own);
    return still_give(bytes, len, &buf, status);
}

still_status still_plan_write_text(char **bytes, size_t *len, const still_plan *plan,
                                   const still_style *style)
{
    still_buf buf = STILL_BUF_INIT;
    still_text_write(&buf, &plan->record, style);
    return still_give(bytes, len, &buf, STILL_OK);
}

still_status still_draw(char **bytes, size_t *len, const still_plant *plant, const char *around,
                        unsigned depth, still_format format, still_diags *diags)
{
    still_buf buf = STILL_BUF_INIT;
    uint32_t comp = STILL_NONE;
    if (format != STILL_FORMAT_SVG && format != STILL_FORMAT_PNG && format != STILL_FORMAT_PDF)
        REFUSE(STILL_E_USAGE, "a plant is drawn as svg, png or pdf");
    if (around != NULL) comp = still_plant_find(plant, around).v;
    if (around != NULL && comp == STILL_NONE) return still_refuse_comp(plant, around, "", diags);
    still_status status = still_picture_plant(&buf, plant, comp, depth, still_picture_of(format));
    return still_give(bytes, len, &buf, status);
}

void still_bytes_free(char *bytes)
{
    still_free(bytes);
}
