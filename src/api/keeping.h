/** @file keeping.h  --keep: what was named, and what the plan says of it. Inner header of api/. */
#ifndef STILL_API_KEEPING_H
#define STILL_API_KEEPING_H

#include "assemble.h"
#include "judge.h"

/** Look up what is to stay in service.
 *  @param[out] out  component numbers, arena memory, each once
 *  @return STILL_OK, STILL_E_NO_COMP, STILL_E_USAGE (no equipment; what is opened or has to be
 *          switched off for it; said in diags), STILL_E_NOMEM */
STILL_NODISCARD still_status still_kept_find(uint32_t **out, size_t *n, still_arena *arena,
                                             const still_plant *plant, const still_targets *targets,
                                             const still_plan_opts *opts, still_diags *diags);
/** Ends that may be lost: those accepted by name, I8:ID. */
void still_kept_waive(still_in_service *service, const still_plan_opts *opts);
/** Fill option_keep, and tell of each what it keeps; a feed that is locked further up blocks. */
void still_assemble_kept(still_assembly *a, still_judging *judging);
/** Why no choice keeps it all in service, arena memory; NULL when memory is out. */
const char *still_kept_obstacle(still_assembly *a, const still_judging *judging);

#endif
