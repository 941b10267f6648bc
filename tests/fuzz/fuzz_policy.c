/* Fuzz entry of the reader of policy files: any bytes at all must give a policy or errors, and a
 * policy that was read keeps what policy.h promises. Run as fuzz_input.c is. */
#include <stddef.h>
#include <stdint.h>
#include <stdlib.h>

#include "policy.h"

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size);

/* Entry is positive, and a more dangerous class never asks for less. */
static int sound(const still_policy *p)
{
    still_grade before = STILL_GRADE_POSITIVE;
    if (p->n_classes == 0 || p->n_columns == 0) return 0;
    for (size_t row = 0; row < p->n_classes; row++) {
        still_job job = {row, 80, 6, false, STILL_WORK_OPEN, STILL_OPENING_VALVE};
        still_grade open = still_policy_rule(p, &job).cell.grade;
        job.work = STILL_WORK_ENTRY;
        if (open > before || still_policy_rule(p, &job).cell.grade != STILL_GRADE_POSITIVE)
            return 0;
        before = open;
    }
    return 1;
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    still_policy *policy = NULL;
    still_diags *diags = still_diags_new();
    if (diags == NULL) return 0;
    still_status status = still_policy_read_memory(&policy, "fuzz", data, size, diags);
    if ((status == STILL_OK) != (policy != NULL)) abort();
    if (status == STILL_E_INPUT && still_diags_errors(diags) == 0) abort();
    if (status == STILL_OK && still_diags_errors(diags) != 0) abort();
    if (policy != NULL && !sound(policy)) abort();
    still_policy_free(policy);
    still_diags_free(diags);
    return 0;
}
