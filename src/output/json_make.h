/** @file json_make.h  Making a JSON tree without asking after every step.
 *
 *  The first failure sticks; after it every call does nothing but free what it is given. */
#ifndef STILL_JSON_MAKE_H
#define STILL_JSON_MAKE_H

#include "stillset/record.h"
#include "stillset/status.h"
#include "strbuf.h"

#include <jansson.h>

typedef struct still_json {
    still_status status;
} still_json;

/** Put a value under a key; the object owns it then. A NULL value is out of memory. */
void still_json_put(still_json *j, json_t *object, const char *key, json_t *value);
/** Add a value to an array; the array owns it then. */
void still_json_add(still_json *j, json_t *array, json_t *value);
/** A string; STILL_E_INTERNAL when it is not UTF-8. */
json_t *still_json_text(still_json *j, const char *s);
/** A string, or null when it is empty. */
json_t *still_json_text_or_null(still_json *j, const char *s);
/** A number, or null when it is not finite. */
json_t *still_json_number(double x);
/** An array of strings. */
json_t *still_json_strings(still_json *j, still_strings list);

/** Append a tree and a line break, and give the tree back; on failure `out` is as long as before.
 *  @return how the making went, and the writing: STILL_OK, STILL_E_NOMEM, STILL_E_INTERNAL */
STILL_NODISCARD still_status still_json_finish(still_json *j, json_t *root, still_buf *out);

/** Parts of the record that are long enough to stand apart (json_parts.c). */
json_t *still_json_state(still_json *j, const char *digest, const still_found *found, size_t n);
json_t *still_json_points(still_json *j, const still_record *r);
json_t *still_json_demands(still_json *j, const still_record *r);
json_t *still_json_between(still_json *j, const still_record *r);
json_t *still_json_alternatives(still_json *j, const still_record *r);
json_t *still_json_proof(still_json *j, const still_record *r);
json_t *still_json_obstacle(still_json *j, const still_record *r);
json_t *still_json_compartments(still_json *j, const still_record *r);
json_t *still_json_inventory(still_json *j, const still_record *r);
json_t *still_json_closed_in(still_json *j, const still_record *r);
json_t *still_json_live(still_json *j, const still_record *r);
json_t *still_json_tests(still_json *j, const still_record *r);
json_t *still_json_steps(still_json *j, const still_step *steps, size_t n);

#endif
