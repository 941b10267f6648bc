/** @file relief_parts.h  Parts of the forms of closed-in liquid that stand apart. */
#ifndef STILL_RELIEF_PARTS_H
#define STILL_RELIEF_PARTS_H

#include "json_make.h"
#include "pen.h"

#include "stillset/coverage.h"

/** "12.3 barg" from bar absolute, to so many digits. */
void still_relief_text_gauge(still_pen *pen, double bara, int digits);
/** WHAT CHANGED SINCE …; nothing where that was not asked for. */
void still_relief_text_since(still_pen *pen, const still_coverage_record *r);
/** WHERE A NEW RELIEF VALVE WOULD CLOSE GAPS; nothing where there is no gap. */
void still_relief_text_places(still_pen *pen, const still_coverage_record *r);

/** An array. */
json_t *still_relief_json_places(still_json *j, const still_coverage_record *r);
/** An object, or null where that was not asked for. */
json_t *still_relief_json_since(still_json *j, const still_coverage_record *r);

#endif
