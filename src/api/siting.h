/** @file siting.h  A site's own files beside its policy: the site file, checklists. */
#ifndef STILL_SITING_H
#define STILL_SITING_H

#include "checklist.h"
#include "site.h"
#include "stillset/plan.h"

/** What a plan is made with. */
typedef struct still_siting {
    still_site *site;             /**< NULL = none was given */
    still_checklists *checklists; /**< the given ones, those of the site file, or those built in */
    still_checklists *builtin;    /**< NULL, or of where kinds come from that the given ones lack */
} still_siting;

/** Read what the options name.
 *  @param[out] out       owned by the caller, still_siting_clear also on failure
 *  @param[in,out] ambient_K  set to the site's where the options have none
 *  @return as still_site_read and still_checklists_read */
STILL_NODISCARD still_status still_siting_read(still_siting *out, double *ambient_K,
                                               const still_plan_opts *opts, still_diags *diags);
void still_siting_clear(still_siting *siting);

#endif
