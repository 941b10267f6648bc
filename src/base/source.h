/** @file source.h  The bytes that a plant was read from, for showing a line of them later.
 *
 *  Nothing of the text is kept in memory for a file: it is read again when a message needs it,
 *  and only if it is still the same file (device, number, size, time of change). */
#ifndef STILL_SOURCE_H
#define STILL_SOURCE_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

typedef struct still_source still_source;

/** Open a file for reading; "-" or what is no regular file (a pipe) is copied to an unnamed
 *  temporary file on the way. @return NULL when it cannot be opened (errno says why; ENOMEM when
 *  memory is out). Free with still_source_free. */
still_source *still_source_open(const char *path);
/** Bytes in memory; borrowed until still_source_keep. @return NULL when memory is out. */
still_source *still_source_memory(const void *bytes, size_t len);
/** NULL is allowed. */
void still_source_free(still_source *s);

/** Size in bytes where it is known beforehand (a file, memory); else 0. */
uint64_t still_source_size(const still_source *s);
/** Next bytes in order, at most len. @return how many; 0 at the end; -1 on failure (errno). */
ptrdiff_t still_source_next(still_source *s, void *buf, size_t len);
/** The reading in order is over: close a file, keep what is needed to look into it again, copy
 *  borrowed memory. @return false when memory is out. */
bool still_source_keep(still_source *s);
/** Look into it again, at any place. @return bytes read; 0 where there are none or the file is
 *  no longer the same. Pair: still_source_rest when done. */
size_t still_source_at(still_source *s, uint64_t offset, void *buf, size_t len);
/** Close what still_source_at opened. */
void still_source_rest(still_source *s);

#endif
