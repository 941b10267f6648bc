/* Fuzz entry of the planner: on every plant that can be read, a plan for every component must come
 * out, or be refused for a stated reason; the second check must agree each time (I7), and text,
 * JSON and tag list must be written. */
#include <stddef.h>
#include <stdint.h>
#include <stdlib.h>

#include "plant.h"
#include "stillset/plan.h"

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size);

static void plan_one(const still_plant *plant, const char *id)
{
    still_plan *plan = NULL;
    still_plan_opts opts = STILL_PLAN_OPTS_INIT;
    opts.grade = STILL_GRADE_SINGLE;
    still_status status = still_plan_make(&plan, plant, NULL, &id, 1, &opts, NULL);
    if (status == STILL_E_UNSUPPORTED) return;
    if (status != STILL_OK) abort();
    for (still_format f = STILL_FORMAT_TEXT; f <= STILL_FORMAT_CSV; f++) {
        char *bytes = NULL;
        size_t len = 0;
        if (still_plan_write(&bytes, &len, plan, f, NULL) != STILL_OK) abort();
        still_bytes_free(bytes);
    }
    still_plan_free(plan);
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    still_plant *plant = NULL;
    if (still_plant_read_memory(&plant, "fuzz", data, size, NULL) != STILL_OK) return 0;
    for (uint32_t i = 0; i < plant->n_comps && i < 60; i++) plan_one(plant, still_id_of(plant, i));
    still_plant_free(plant);
    return 0;
}
