/** @file check.h  What is odd in a plant although it can be read: warnings only.
 *
 *  One function a rule; nothing here changes the plant or stops a command. */
#ifndef STILL_CHECK_H
#define STILL_CHECK_H

#include "plant.h"
#include "stillset/diag.h"
#include "stillset/status.h"

/** Add a warning for everything that is odd, in the order of the file.
 *  @param plant  as read; its source is looked into for the lines shown, so two threads may not
 *                check one plant at the same time
 *  @param diags  may be NULL
 *  @return STILL_OK, STILL_E_NOMEM. Cost: near linear in the plant. */
STILL_NODISCARD still_status still_check_plant(const still_plant *plant, still_diags *diags);

#endif
