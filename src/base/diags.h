/** @file diags.h  Adding to the caller's list of diagnostics. */
#ifndef STILL_DIAGS_H
#define STILL_DIAGS_H

#include "stillset/diag.h"

/** Add a diagnostic; every string is copied. `diags` may be NULL (nothing is kept).
 *  When memory runs out the diagnostic is counted as dropped.
 *  @param source_line  the input's line or NULL */
#if defined(__GNUC__)
__attribute__((format(printf, 9, 10)))
#endif
void still_diags_add(still_diags *diags, still_severity severity, const char *code,
                     const char *file, uint32_t line, uint32_t column, const char *component,
                     const char *source_line, const char *format, ...);

/** Add a finished diagnostic; its strings are copied. `diags` may be NULL. */
void still_diags_put(still_diags *diags, const still_diag *diag);
/** Count one that is not kept. `diags` may be NULL. */
void still_diags_drop(still_diags *diags, still_severity severity);

#endif
