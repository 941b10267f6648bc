/* Fuzz entry of the reader of state files: any bytes at all must give a state or errors; a state
 * that was read keeps what state.h promises, and can be planned for. Run as fuzz_input.c is. */
#include <stddef.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#include "stateread.h"
#include "stillset/plan.h"

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size);

/* Ids are those of the tutorial plant, and one valve more: so its state files are read. */
static const char plant_text[] =
    "<plant xmlns='urn:stillset:plant:1' id='quay-room-3'>"
    "<service id='LQ' substance='ammonia' phase='liquid' design-pressure='19 barg'/>"
    "<vessel id='V-1' contents='two-phase' fill='0.45' service='LQ'><port id='ret'/></vessel>"
    "<limit id='PL-3'/><valve id='CV-1' kind='check'/>"
    "<valve id='HV-1' kind='globe' position='open' lockable='yes'/>"
    "<valve id='HV-2' kind='globe' position='open' lockable='yes'/>"
    "<valve id='MV-1' kind='control' drive='motor' manual-opening='yes'/>"
    "<valve id='TW-1' kind='three-way' positions='a-c b-c' position='a-c' lockable='yes'/>"
    "<blind id='BL-1' kind='spectacle' position='open'/><cap id='C-1'/>"
    "<spool id='S-1' from='PL-3.in' to='CV-1.in' service='LQ'/>"
    "<spool id='S-2' from='CV-1.out' to='HV-1.in' service='LQ'/>"
    "<spool id='S-3' from='HV-1.out' to='MV-1.in' service='LQ'/>"
    "<spool id='S-4' from='MV-1.out' to='BL-1.in' service='LQ'/>"
    "<spool id='S-5' from='BL-1.out' to='TW-1.a' service='LQ'/>"
    "<spool id='S-6' from='TW-1.b' to='C-1.in' service='LQ'/>"
    "<spool id='S-7' from='TW-1.c' to='HV-2.in' service='LQ'/>"
    "<spool id='S-8' from='HV-2.out' to='V-1.ret' service='LQ'/>"
    "<feed id='MCC-1/4' kind='electrical' supplies='MV-1' lockable='yes'/></plant>";

/* Said only of what can have it, in the order of the plant. */
static int sound(const still_plant *plant, const still_state *state)
{
    for (size_t i = 0; i < state->n; i++) {
        const still_state_item *at = &state->items[i];
        if (at->comp >= plant->n_comps) return 0;
        unsigned cls = plant->comps[at->comp].cls;
        if (i > 0 && state->items[i - 1].comp >= at->comp) return 0;
        if (at->position != 0 && cls != STILL_CLASS_VALVE && cls != STILL_CLASS_BLIND) return 0;
        if (at->way != 0 && plant->comps[at->comp].kind != STILL_KIND_THREE_WAY) return 0;
        if (at->condition != 0 && cls != STILL_CLASS_VALVE) return 0;
        if (at->contents != 0 && cls != STILL_CLASS_VESSEL) return 0;
    }
    return strlen(state->digest) == 64;
}

static void plan_for(const still_plant *plant, const still_state *state)
{
    still_plan_opts opts = STILL_PLAN_OPTS_INIT;
    still_plan *plan = NULL;
    const char *target = "MV-1";
    opts.grade = STILL_GRADE_SINGLE;
    if (still_plan_make(&plan, plant, state, &target, 1, &opts, NULL) != STILL_OK) abort();
    still_plan_free(plan);
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    static still_plant *plant;
    still_state *state = NULL;
    if (plant == NULL && still_plant_read_memory(&plant, "plant", plant_text, sizeof plant_text - 1,
                                                 NULL) != STILL_OK)
        abort();
    still_diags *diags = still_diags_new();
    if (diags == NULL) return 0;
    still_status status = still_state_read_memory(&state, plant, "fuzz", data, size, diags);
    if ((status == STILL_OK) != (state != NULL)) abort();
    if (status == STILL_E_INPUT && still_diags_errors(diags) == 0) abort();
    if (status == STILL_OK && still_diags_errors(diags) != 0) abort();
    if (state != NULL && !sound(plant, state)) abort();
    if (state != NULL) plan_for(plant, state);
    still_state_free(state);
    still_diags_free(diags);
    return 0;
}
