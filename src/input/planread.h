/** @file planread.h  Reading a plan record (docs/plan.schema.json) back from JSON. */
#ifndef STILL_PLANREAD_H
#define STILL_PLANREAD_H

#include "arena.h"
#include "given.h"
#include "stillset/diag.h"
#include "stillset/record.h"
#include "stillset/status.h"

/** Read a plan record: all keys that the second check looks at; others are left aside.
 *
 *  `target`, `grade.achieved` and `points` with `id` and `action` must be there; an entry of a list
 *  that is given must be whole. Every fault is added to diags with the path of its key.
 *  @param[out] out    memory in the arena; strings never NULL. Untouched on failure
 *  @param[out] given  STILL_GIVEN_*: what the record says
 *  @param path        file, or "-" for standard input
 *  @return STILL_OK; STILL_E_INPUT (errors stand in diags); STILL_E_LIMIT (more than 256 MiB);
 *          STILL_E_IO (cannot be read); STILL_E_NOMEM
 *  Cost: linear in the file, which is held in memory. */
STILL_NODISCARD still_status still_read_plan(still_record *out, unsigned *given, still_arena *arena,
                                             const char *path, still_diags *diags);
/** As still_read_plan, from memory. @param name  stands for the file in messages */
STILL_NODISCARD still_status still_read_plan_memory(still_record *out, unsigned *given,
                                                    still_arena *arena, const char *name,
                                                    const void *bytes, size_t len,
                                                    still_diags *diags);

#endif
