/** @file near.h  How far one word is from another: for messages about words that are not known. */
#ifndef STILLSET_NEAR_H
#define STILLSET_NEAR_H

#include <stddef.h>

#ifdef __cplusplus
extern "C" {
#endif

/** Distance of a word from what was meant by it: 2 for each letter that is missing, too many, or
 *  another one, and for two neighbours that changed places; 1 for a letter in the other case, and
 *  for a "-", "_", "/" or "." that is missing or too many.
 *  @return the distance, or STILL_NEAR_NONE when that is too far to be meant (more than 4, or more
 *          than one letter in two) or a word is empty or has more than 63 bytes */
unsigned still_near_distance(const char *word, const char *meant);
enum { STILL_NEAR_NONE = 1000 };

#ifdef __cplusplus
}
#endif
#endif
