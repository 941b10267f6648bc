/** @file substance.h  The substances that the program has an equation of state for. */
#ifndef STILL_SUBSTANCE_H
#define STILL_SUBSTANCE_H

typedef enum still_substance {
    STILL_SUBSTANCE_OTHER,
    STILL_SUBSTANCE_AMMONIA,
    STILL_SUBSTANCE_CARBON_DIOXIDE,
    STILL_SUBSTANCE_PROPANE,
    STILL_SUBSTANCE_R134A,
    STILL_SUBSTANCE_WATER
} still_substance;

/** Substance of a plant file's name: "ammonia", "carbon-dioxide", "propane", "r134a", "water";
 *  anything else is OTHER. */
still_substance still_substance_of(const char *name);

#endif
