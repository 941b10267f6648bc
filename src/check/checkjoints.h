/** @file checkjoints.h  Rules that look at how parts are joined. Used by check.c only. */
#ifndef STILL_CHECKJOINTS_H
#define STILL_CHECKJOINTS_H

#include "plant.h"
#include "report.h"

/** Unequal design pressures at one joint: see checkjoints.c. @return STILL_OK */
STILL_NODISCARD still_status still_check_design(const still_plant *plant, still_report *report);
/** Parts that nothing joins to the largest one. @return STILL_OK, STILL_E_NOMEM */
STILL_NODISCARD still_status still_check_connected(const still_plant *plant, still_report *report);

#endif
