/** @file given.h  What a plan record says: one bit for each part of it that may be missing.
 *
 *  A record made by the planner says all of it. One made by hand must say what the boundary needs
 *  (target, grade, points); what else is missing is not looked at by the second check. */
#ifndef STILL_GIVEN_H
#define STILL_GIVEN_H

#define STILL_GIVEN_TABLE(X)                                                                       \
    X(PLANT_ID, 0, "plant.id")                                                                     \
    X(DIGEST, 1, "plant.digest: that the plan was made for this very file")                        \
    X(WORK, 2, "work: taken for open")                                                             \
    X(REQUIRED, 3, "grade.required, grade.because: whether the grade is enough")                   \
    X(COST, 4, "cost")                                                                             \
    X(LEVELS, 5, "level of each point: taken as they lie")                                         \
    X(HANDLING, 6, "tag, from, hold, legend of each point")                                        \
    X(TREATMENTS, 7, "treatment of each source inside")                                            \
    X(INSIDE, 8, "inside")                                                                         \
    X(BETWEEN, 9, "between")                                                                       \
    X(PROOF, 10, "proof: that fewer points are not enough")                                        \
    X(COMPARTMENTS, 11, "compartments: ways to let off, drain, prove zero")                        \
    X(CLOSED_IN, 12, "closed_in: liquid that the plan shuts in")                                   \
    X(STEPS, 13, "steps: the order, and sequences put off")                                        \
    X(RESTORE, 14, "restore: the way back")                                                        \
    X(START, 15, "start")                                                                          \
    X(END, 16, "end")                                                                              \
    X(ASSUMPTIONS, 17, "assumptions")                                                              \
    X(FINDINGS, 18, "findings, ready")                                                             \
    X(OBSTACLE, 19, "obstacle")                                                                    \
    X(TESTS, 20, "tests: pressures of the tests on the way back")

#define X(name, bit, text) STILL_GIVEN_##name = 1u << (bit),
enum { STILL_GIVEN_TABLE(X) STILL_GIVEN_ALL = (1u << 21) - 1 };
#undef X

#endif
