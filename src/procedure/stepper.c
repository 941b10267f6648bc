/* Builder of a list of steps. */
#include "plan_order.h"

#include "alloc.h"

#include <string.h>

still_step *still_stepper_add(still_stepper *s, const char *id, uint32_t tag, const char *do_text,
                              const char *why, const char *expect, const char *if_not)
{
    if (id == NULL || do_text == NULL || why == NULL || expect == NULL || if_not == NULL ||
        !still_grow(&s->steps, &s->cap, s->n + 1, sizeof s->steps[0]))
        s->failed = true;
    if (s->failed) return NULL;
    still_step *step = &s->steps[s->n];
    *step = (still_step){.n = (uint32_t)++s->n,
                         .stage = s->stage > 0 ? s->stage : 1,
                         .phase = s->phase,
                         .do_text = do_text,
                         .id = id,
                         .tag = tag,
                         .from = "",
                         .to = "",
                         .why = why,
                         .expect = expect,
                         .if_not = if_not};
    return step;
}

still_status still_stepper_finish(still_stepper *s, const still_step **steps, size_t *n)
{
    still_step *kept = s->failed ? NULL : STILL_ARENA_NEW(s->arena, s->n, still_step);
    if (kept != NULL) {
        if (s->n > 0) memcpy(kept, s->steps, s->n * sizeof kept[0]);
        *steps = kept;
        *n = s->n;
    }
    still_free(s->steps);
    return kept != NULL ? STILL_OK : STILL_E_NOMEM;
}
