/** @file planjson.h  Inner header of the plan reader: taking values out of a JSON tree.
 *
 *  A place is where one stands in the tree, so that a fault can name the path of its key. The first
 *  fault does not stop the reading; values that are wrong come out as their default. */
#ifndef STILL_PLANJSON_H
#define STILL_PLANJSON_H

#include "arena.h"
#include "stillset/diag.h"
#include "stillset/record.h"
#include "stillset/status.h"

#include <jansson.h>

typedef struct still_planjson {
    still_arena *arena;
    still_diags *diags;
    const char *file;
    still_status status;
    unsigned given;
} still_planjson;

/** One step down the tree: a key, or (key NULL) an entry of a list. */
typedef struct still_place {
    const struct still_place *up;
    const char *key;
    size_t index;
    json_t *value;
} still_place;

typedef enum still_need { STILL_MAY, STILL_MUST } still_need;

/** Room in the arena, or NULL and status STILL_E_NOMEM. */
void *still_planjson_room(still_planjson *r, size_t n, size_t size);
/** A fault at a key of a place (NULL = at the place itself). */
void still_planjson_fault(still_planjson *r, const still_place *at, const char *key,
                          const char *what);
/** Is there a value other than null under the key? */
bool still_planjson_has(const still_place *at, const char *key);
/** A part of the record (bits of given.h) is not given where there is no value under the key. */
void still_planjson_part(still_planjson *r, const still_place *at, const char *key, unsigned part);
/** Step to a value of this type: JSON_OBJECT or JSON_ARRAY. @return false: not there, or a fault */
bool still_planjson_down(still_planjson *r, still_place *out, const still_place *at,
                         const char *key, json_type type, still_need need);
/** Step to an entry of a list, which must be an object. */
bool still_planjson_entry(still_planjson *r, still_place *out, const still_place *list, size_t i);
/** A string; `other` when it is missing, null or wrong. Copied. */
const char *still_planjson_text(still_planjson *r, const still_place *at, const char *key,
                                still_need need, const char *other);
bool still_planjson_bool(still_planjson *r, const still_place *at, const char *key, still_need need,
                         bool other);
/** A whole number from 0 to most. */
uint64_t still_planjson_count(still_planjson *r, const still_place *at, const char *key,
                              still_need need, uint64_t most, uint64_t other);
/** The same for the small counts of a record. */
uint32_t still_planjson_count32(still_planjson *r, const still_place *at, const char *key,
                                still_need need, uint64_t other);
/** A number; NAN when it is missing or null. */
double still_planjson_number(still_planjson *r, const still_place *at, const char *key);
/** A list of strings; empty when it is missing. */
still_strings still_planjson_strings(still_planjson *r, const still_place *at, const char *key,
                                     still_need need);
/** The strings of the list that one stands at. */
still_strings still_planjson_list(still_planjson *r, const still_place *list);

/** Parts of the record (planparts.c). */
void still_planparts_points(still_planjson *r, const still_place *root, still_record *out);
void still_planparts_grade(still_planjson *r, const still_place *root, still_record *out);
void still_planparts_inventory(still_planjson *r, const still_place *root, still_record *out);
void still_planparts_between(still_planjson *r, const still_place *root, still_record *out);
void still_planparts_proof(still_planjson *r, const still_place *root, still_record *out);
void still_planparts_obstacle(still_planjson *r, const still_place *root, still_record *out);
void still_planparts_compartments(still_planjson *r, const still_place *root, still_record *out);
void still_planparts_closed_in(still_planjson *r, const still_place *root, still_record *out);
void still_planparts_found(still_planjson *r, const still_place *state, still_record *out);
void still_planparts_steps(still_planjson *r, const still_place *root, still_record *out);
void still_planparts_tests(still_planjson *r, const still_place *root, still_record *out);
void still_planparts_remarks(still_planjson *r, const still_place *root, still_record *out);

#endif
