/** @file smallxml.h  Reading a small file of our own format (not the plant) into a list of
 * elements.
 *
 *  For files that people write by hand: a site's policy and the like. Elements stand in the order
 *  of the file, each with its parent; what they mean is for the caller, who adds what is wrong to
 *  the report and closes the file, which gives out all problems in the order of their places. */
#ifndef STILL_SMALLXML_H
#define STILL_SMALLXML_H

#include "arena.h"
#include "digest.h"
#include "report.h"

#include <stdbool.h>

/** Most bytes of such a file. */
#define STILL_SMALL_MOST (UINT32_C(1) << 20)
/** Parent of the root. */
#define STILL_SMALL_NO_PARENT UINT32_MAX

typedef struct still_small_attr {
    const char *name, *value; /**< name with its prefix, where it has one */
} still_small_attr;

typedef struct still_small_element {
    const char *name; /**< an element of another namespace: with "{}" before it */
    const still_small_attr *attrs;
    uint32_t n_attrs;
    uint32_t parent; /**< number of the element that it stands in */
    uint32_t tag;    /**< byte offset of its start tag */
} still_small_element;

typedef struct still_small {
    still_arena arena; /**< holds all texts */
    still_small_element *elements;
    size_t n, cap;
    char digest[STILL_DIGEST_TEXT]; /**< SHA-256 of the bytes */
    still_report *report;
    still_source *source;
} still_small;

/** What such a file is: its root element, its namespace, and whether it may do without one. */
typedef struct still_small_kind {
    const char *root, *ns;
    bool bare; /**< elements without a namespace are its own too, where the root has none */
} still_small_kind;

/** Read and parse a file.
 *  @param[out] out  in place; pair: still_small_close, also after a failure
 *  @param path      file, or "-" for standard input
 *  @param kind      borrowed for the call
 *  @return STILL_OK (text between elements is an error in the report all the same); STILL_E_INPUT
 *          (not well-formed, a document type declaration, another encoding or root: in the report);
 *          STILL_E_LIMIT (more than STILL_SMALL_MOST); STILL_E_IO; STILL_E_NOMEM.
 *  No network, no entities but the five of XML. Cost: linear. */
STILL_NODISCARD still_status still_small_read(still_small *out, const char *path,
                                              const still_small_kind *kind);
/** The same from memory, borrowed until still_small_close. */
STILL_NODISCARD still_status still_small_read_memory(still_small *out, const char *name,
                                                     const void *bytes, size_t len,
                                                     const still_small_kind *kind);
/** Give out all problems, and free everything.
 *  @return STILL_OK, STILL_E_INPUT (there were errors), STILL_E_NOMEM */
STILL_NODISCARD still_status still_small_close(still_small *file, still_diags *diags);
/** Value of an attribute, or NULL. */
const char *still_small_get(const still_small_element *e, const char *name);

#endif
