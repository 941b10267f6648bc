/** @file coverage_parts.h  Parts of the record of closed-in liquid that are made apart. */
#ifndef STILL_COVERAGE_PARTS_H
#define STILL_COVERAGE_PARTS_H

#include "arena.h"
#include "segments.h"
#include "stillset/coverage.h"

/** Fill the record's places.
 *  @param list  the segments of the record, in the order of `found`
 *  @return STILL_OK, STILL_E_NOMEM */
STILL_NODISCARD still_status still_coverage_places(still_coverage_record *record,
                                                   still_arena *arena, const still_plant *plant,
                                                   const still_state *state,
                                                   const still_segments *found,
                                                   const still_segment *list);

#endif
