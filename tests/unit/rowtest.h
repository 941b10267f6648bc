/** @file rowtest.h  A row of a table as a test of its own. */
#ifndef STILL_TEST_ROWTEST_H
#define STILL_TEST_ROWTEST_H

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <string.h>
#include <cmocka.h>

/** @param row  handed to the test, as its state, which does not write to it
 *  @param after  teardown, or NULL */
static inline struct CMUnitTest row_test(const char *name, CMUnitTestFunction test,
                                         CMFixtureFunction after, const void *row)
{
    void *given; /* cmocka's state is not const */
    memcpy(&given, &row, sizeof given);
    return (struct CMUnitTest){name, test, NULL, after, given};
}

#endif
