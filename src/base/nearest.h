/** @file nearest.h  Which of many words was meant by one that is none of them. */
#ifndef STILL_NEAREST_H
#define STILL_NEAREST_H

#include "stillset/near.h"

#include <stdbool.h>

/** The nearest of the words that were offered, at most three. Start from STILL_NEAR_INIT. */
typedef struct still_near {
    const char *to;      /**< what was written; borrowed */
    const char *best[3]; /**< nearest first, of equals the one offered first; borrowed */
    unsigned cost[3];
    int n;
} still_near;
#define STILL_NEAR_INIT(word)                                                                      \
    {                                                                                              \
        (word), {NULL, NULL, NULL}, {0, 0, 0}, 0                                                   \
    }

/** Offer a word. Cost: the product of the two lengths at most. */
void still_near_offer(still_near *near, const char *word);
/** `; nearest: "HV-1", "HV-2"` or, where none is near, nothing. Cut to the room. */
void still_near_say(const still_near *near, char *text, size_t size);

#endif
