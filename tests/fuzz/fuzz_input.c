/* Fuzz entry of the reader: any bytes at all must give a plant or diagnostics, and the checks must
 * hold on every plant. Built with libFuzzer it is its own program; else fuzz_replay.c runs it over
 * the files of its corpus (tests/bad and plants-demo). */
#include <stddef.h>
#include <stdint.h>
#include <stdlib.h>

#include "check.h"
#include "plantread.h"

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size);

/* What plant.h promises of every plant. */
static int sound(const still_plant *p)
{
    for (uint32_t i = 0; i < p->n_comps; i++) {
        const still_comp *c = &p->comps[i];
        if (c->facts >= p->n_facts || c->id.v == 0) return 0;
        if (c->service != STILL_NONE && c->service >= p->n_services) return 0;
        if (c->cls != STILL_CLASS_SPOOL) {
            for (uint32_t k = 0; k < c->b; k++)
                if (p->ports[c->a + k].comp != i || p->ports[c->a + k].kind >= p->n_port_kinds)
                    return 0;
        } else if (p->ports[c->a].spool != i || p->ports[c->b].spool != i || c->a == c->b) {
            return 0;
        }
        if (still_plant_find(p, still_id_of(p, i)).v != i) return 0;
    }
    for (uint32_t i = 0; i < p->n_feeds; i++)
        for (uint32_t k = 0; k < p->feeds[i].n_refs; k++)
            if (p->refs[p->feeds[i].ref0 + k] >= p->n_comps) return 0;
    return 1;
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    still_plant *plant = NULL;
    still_diags *diags = still_diags_new();
    if (diags == NULL) return 0;
    still_status status = still_read_plant_memory(&plant, "fuzz", data, size, diags);
    if ((status == STILL_OK) != (plant != NULL)) abort();
    if (status == STILL_E_INPUT && still_diags_errors(diags) == 0) abort();
    if (status == STILL_OK && still_diags_errors(diags) != 0) abort();
    if (plant != NULL) {
        if (!sound(plant)) abort();
        if (still_check_plant(plant, diags) != STILL_OK) abort();
    }
    still_plant_free(plant);
    still_diags_free(diags);
    return 0;
}
