/* Plan the isolation of many components on a plant that is read once: for timings and for checks
 * that need hundreds of plans on a large plant.
 * usage: plan_many PLANT < ids       one line each: id feasible sources points seconds
 * Two lines before them, on standard error: the seconds that reading took, and how many plans. */
#include "stillset/plan.h"

#include <stdio.h>
#include <string.h>
#include <time.h>

#if defined(__GLIBC__)
#include <malloc.h>
#endif

static double seconds(void)
{
    struct timespec t;
    clock_gettime(CLOCK_MONOTONIC, &t);
    return (double)t.tv_sec + (double)t.tv_nsec / 1e9;
}

int main(int argc, char **argv)
{
    if (argc != 2) {
        fprintf(stderr, "usage: plan_many PLANT < ids\n");
        return 2;
    }
    still_plant *plant = NULL;
#if defined(__GLIBC__)
    mallopt(M_MMAP_THRESHOLD, 128 * 1024); /* as the program does */
#endif
    double start = seconds();
    still_status status = still_plant_read(&plant, argv[1], NULL);
    if (status != STILL_OK) {
        fprintf(stderr, "plan_many: %s: %s\n", argv[1], still_status_text(status));
        return 3;
    }
    fprintf(stderr, "read in %.6f s\n", seconds() - start);
#if defined(__GLIBC__)
    mallopt(M_MMAP_THRESHOLD, 32 * 1024 * 1024); /* as the program does once a plant is read */
    mallopt(M_TRIM_THRESHOLD, 1024 * 1024 * 1024);
    mallopt(M_TOP_PAD, 4 * 1024 * 1024);
#endif
    char id[512];
    unsigned n = 0;
    still_plan_opts opts = STILL_PLAN_OPTS_INIT;
    opts.grade = STILL_GRADE_SINGLE;
    while (fgets(id, sizeof id, stdin) != NULL) {
        id[strcspn(id, "\r\n")] = '\0';
        const char *target = id;
        still_plan *plan = NULL;
        start = seconds();
        status = still_plan_make(&plan, plant, NULL, &target, 1, &opts, NULL);
        double took = seconds() - start;
        if (status != STILL_OK) {
            fprintf(stderr, "plan_many: %s: %s\n", id, still_status_text(status));
            still_plant_free(plant);
            return 4;
        }
        const still_record *r = still_plan_record(plan);
        printf("%s %d %u %u %.9f\n", id, r->feasible, r->cost_sources, r->cost_points, took);
        still_plan_free(plan);
        n++;
    }
    still_plant_free(plant);
    fprintf(stderr, "%u plans\n", n);
    return 0;
}
