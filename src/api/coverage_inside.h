/** @file coverage_inside.h  What stands behind the public coverage. Inner header of api/. */
#ifndef STILL_COVERAGE_INSIDE_H
#define STILL_COVERAGE_INSIDE_H

#include "arena.h"
#include "segments.h"
#include "stillset/coverage.h"

struct still_coverage {
    still_arena arena;
    const still_plant *plant;
    still_segments found; /**< a segment's `number` is its place here */
    still_coverage_record record;
    const char *ambient; /**< as asked for, or NULL */
    bool failed;         /**< memory ran out */
};

#endif
