/** @file checklistbytes.h  The checklists that are built in, as bytes: made by the build from
 *  src/procedure/checklists.xml. */
#ifndef STILL_CHECKLISTBYTES_H
#define STILL_CHECKLISTBYTES_H

#include <stddef.h>

extern const unsigned char still_checklist_bytes[];
extern const size_t still_checklist_bytes_len;

#endif
