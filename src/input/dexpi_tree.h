/** @file dexpi_tree.h  A drawing as a light tree: elements, attributes, line numbers.
 *
 *  Only what can matter for pipes is kept: pictures, texts and the catalogue of symbols are passed
 *  over, and so are values longer than a limit. Within input/ only. */
#ifndef STILL_DEXPI_TREE_H
#define STILL_DEXPI_TREE_H

#include "arena.h"
#include "stillset/diag.h"
#include "stillset/status.h"

#include <stdbool.h>

typedef struct still_xml_attr {
    const char *name, *value;
} still_xml_attr;

typedef struct still_xml {
    const char *name; /**< without a namespace prefix */
    const still_xml_attr *attrs;
    size_t n_attrs;
    struct still_xml *parent, *first, *last, *next;
    uint32_t line; /**< where its start tag begins or ends, 1-based */
} still_xml;

/** Parse a drawing. No network, no entities but the five of XML, no document type declaration.
 *  @param[out] root  in the arena; untouched on failure
 *  @param file       stands for the file in messages
 *  @return STILL_OK; STILL_E_INPUT (not well-formed, a document type declaration, nested too
 *          deeply, another root: says so in diags); STILL_E_NOMEM. Cost: linear. */
STILL_NODISCARD still_status still_xml_parse(const still_xml **root, still_arena *arena,
                                             const char *file, const char *bytes, size_t len,
                                             still_diags *diags);
/** Value of an attribute, or "". */
const char *still_xml_get(const still_xml *e, const char *name);
/** Is it an element of that name? NULL is not. */
bool still_xml_is(const still_xml *e, const char *name);
/** The next element in document order below `top`, or NULL: a walk without recursion. */
const still_xml *still_xml_walk(const still_xml *e, const still_xml *top);
/** First value that is not empty of a generic attribute, directly below the element, or "".
 *  @param set  only of that set; NULL = of any */
const char *still_xml_generic(const still_xml *e, const char *set, const char *name);
/** The generic attribute itself, or NULL. */
const still_xml *still_xml_generic_at(const still_xml *e, const char *set, const char *name);

#endif
