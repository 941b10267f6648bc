/** @file status.h  What a call answers.
 *
 *  Every fallible call returns a still_status; 0 is success. Details of a failure go to the
 *  caller's still_diags list (diag.h). There is no hidden last-error state. */
#ifndef STILLSET_STATUS_H
#define STILLSET_STATUS_H

#ifdef __cplusplus
extern "C" {
#endif

#if defined(__GNUC__)
#define STILL_NODISCARD __attribute__((warn_unused_result))
#else
#define STILL_NODISCARD
#endif

/** Every status: name, number, exit status of the command line, text. Numbers are never reused. */
#define STILL_STATUS_TABLE(X)                                                                      \
    X(STILL_OK, 0, 0, "done")                                                                      \
    X(STILL_E_NOMEM, 1, 4, "out of memory")                                                        \
    X(STILL_E_IO, 2, 4, "a file could not be read or written")                                     \
    X(STILL_E_INPUT, 3, 3, "the input has errors")                                                 \
    X(STILL_E_USAGE, 4, 2, "wrong use")                                                            \
    X(STILL_E_UNSUPPORTED, 5, 2, "this version cannot do that yet")                                \
    X(STILL_E_NO_COMP, 6, 2, "the plant has no such component")                                    \
    X(STILL_E_LIMIT, 7, 3, "the input is larger than a stated limit")                              \
    X(STILL_E_INTERNAL, 8, 70, "internal error: nothing that was computed may be used")

#define X(name, number, exit_status, text) name = number,
typedef enum still_status { STILL_STATUS_TABLE(X) } still_status;
#undef X

/** Text of a status: one line, no full stop. Never NULL. */
const char *still_status_text(still_status status);
/** Exit status that the command line gives for a status (0, 2, 3, 4 or 70). */
int still_status_exit(still_status status);

/** Version of the library as "major.minor.patch". */
const char *still_version(void);

#ifdef __cplusplus
}
#endif
#endif
