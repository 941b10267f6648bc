/** @file planning.h  What a plan owns. Inner header of api/. */
#ifndef STILL_PLANNING_H
#define STILL_PLANNING_H

#include "arena.h"
#include "plant.h"
#include "stillset/record.h"

struct still_plan {
    still_arena arena;
    const still_plant *plant;
    still_record record;
};

#endif
