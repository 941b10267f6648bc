/** @file report.h  Problems of an input file, gathered by byte offset and given out with line,
 *  column and source line.
 *
 *  An element is known by the byte offset of its start tag only, so that a plant need not keep a
 *  line number an item. The source is looked into again when the report is given out. */
#ifndef STILL_REPORT_H
#define STILL_REPORT_H

#include "codes.h"
#include "source.h"
#include "stillset/status.h"

typedef struct still_report still_report;

/** Offset of a problem that has no place in the file. */
#define STILL_NOWHERE UINT32_MAX

/** @param file    name for messages; copied
 *  @param source  where to find the text; borrowed; NULL = no lines can be shown
 *  @return NULL when memory is out. Free with still_report_free. */
still_report *still_report_new(const char *file, still_source *source);
void still_report_free(still_report *r);
/** Add a problem.
 *  @param offset     byte offset of the start tag, or of the place itself; STILL_NOWHERE = none
 *  @param attribute  attribute of that tag to point at (its value); NULL = the offset itself
 *  @param component  id of the element concerned, or NULL
 *  @param format     one line without full stop; control characters in it come out as "?" */
#if defined(__GNUC__)
__attribute__((format(printf, 6, 7)))
#endif
void still_report_add(still_report *r, still_code code, uint32_t offset, const char *attribute,
                      const char *component, const char *format, ...);
/** Errors added so far. */
size_t still_report_errors(const still_report *r);
/** Give all out in the order of their places, and empty the report.
 *  @return STILL_OK, STILL_E_NOMEM (some could not be kept) */
STILL_NODISCARD still_status still_report_flush(still_report *r, still_diags *diags);

#endif
