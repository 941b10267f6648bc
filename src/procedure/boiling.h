/** @file boiling.h  How cold letting down can make a part (E7), and what it withstands. */
#ifndef STILL_BOILING_H
#define STILL_BOILING_H

#include "plant.h"
#include "substance.h"

/** What a part is chilled to when its contents boil at one atmosphere. */
typedef struct still_chill {
    still_substance substance;
    double boils_K;    /**< boiling or, of carbon dioxide, sublimation point at 1 atm */
    const char *words; /**< "-33 degC" */
    double least_K;    /**< min-temperature, its own or its service's; NAN = not said */
    bool own;          /**< it is its own */
    uint32_t service;  /**< that carries the substance */
    bool withstood;    /**< said, and not above the boiling point */
} still_chill;

/** Chill of a component that carries ammonia, propane or carbon dioxide (an exchanger: of its
 *  coldest such side). @return false where it carries none of them */
bool still_chill_of(still_chill *out, const still_plant *plant, uint32_t comp);

#endif
