/** @file reader.h  Inner state of one reading of a plant file. Used within input/ only. */
#ifndef STILL_READER_H
#define STILL_READER_H

#include "plant.h"
#include "plantvocab.h"
#include "report.h"

/** Text of an attribute as the parser gives it; not ended by a zero. */
typedef struct still_raw {
    const char *p;
    size_t len;
} still_raw;

/** A reference to a port: names of component and port. Empty names: was reported already. */
typedef struct still_end {
    still_name comp, port;
} still_end;

/** A port that the file lists, before the final numbering. */
typedef struct still_listed {
    still_name name;
    uint32_t side, src;
    float elevation_m; /**< NAN = not said */
} still_listed;

/** Most ports are called "in" or "out": the names that a file uses first have low numbers. */
#define STILL_END_ODD 255

/** A size as written, and what it means; walls of their own are not kept here. */
typedef struct still_size_read {
    char bore[24], schedule[16];
    double bore_mm, wall_mm;
} still_size_read;
enum { STILL_SIZES_KEPT = 8 };

/** What an id stands for. */
typedef enum still_owner {
    STILL_OWNER_COMP,
    STILL_OWNER_SERVICE,
    STILL_OWNER_FEED,
    STILL_OWNER_SEQUENCE,
    STILL_OWNER_GAUGE
} still_owner;
#define STILL_OWNER_SHIFT 29
#define STILL_OWNER_INDEX ((UINT32_C(1) << STILL_OWNER_SHIFT) - 1)

typedef struct still_reader {
    still_plant *plant;
    still_report *report;
    still_status status; /**< STILL_OK, or why the reading has to stop */

    size_t cap_comps, cap_fact_what, cap_fact_value, cap_services, cap_sides, cap_feeds,
        cap_sequences, cap_gauges, cap_refs, cap_listed, cap_ends, cap_odd_ends, cap_owner,
        cap_scratch;
    uint32_t *fact_slots; /**< starts of the runs of facts: open addressing; 0 = free */
    uint32_t n_fact_slots, n_runs;
    still_listed *listed;
    uint32_t n_listed;
    uint8_t *ends; /**< ports of spools, two each: number of the name, or STILL_END_ODD = the next
                      of odd_ends; the components' names stand in a and b */
    still_name *odd_ends;
    uint32_t n_ends, n_odd_ends;
    uint32_t *owner; /**< by name: still_owner above, index below; STILL_NONE = not an id */
    size_t n_owner;
    uint32_t n_looks; /**< for ids that may have been meant */
    char *scratch;
    still_size_read sizes[STILL_SIZES_KEPT]; /**< sizes read lately, the last at size_at - 1 */
    unsigned size_at;

    /* The element being read: what was given, and what could be read of it. */
    still_elem elem;
    uint32_t tag;  /**< byte offset of its start tag */
    uint32_t comp; /**< component that a port or side belongs to */
    uint32_t side; /**< side that a port belongs to, or STILL_NONE */
    still_attr_set seen, ok;
    still_raw raw[STILL_ATTR_COUNT];
    still_name text[STILL_ATTR_COUNT];
    double q[STILL_ATTR_COUNT];
    uint8_t word[STILL_ATTR_COUNT];
    double sheet[2];
    uint8_t ends_said[2];
    still_end port_ref[2]; /**< from, to */
    uint32_t ref0, n_refs;
} still_reader;

/** Begin. @return STILL_OK, STILL_E_NOMEM. Pair: still_reader_clear. */
STILL_NODISCARD still_status still_reader_init(still_reader *r, const char *file,
                                               still_source *source);
/** Free all that is still owned, the plant too. */
void still_reader_clear(still_reader *r);

/** Read the values of r->raw for the attributes in r->seen (readvalue.c). */
void still_reader_values(still_reader *r);
/** Bore, wall and schedule together (readsize.c); mm; NAN = not said or wrong. */
void still_reader_size(still_reader *r, double *bore_mm, double *wall_mm);
/** Keep the element with its values (readelement.c). */
void still_reader_element(still_reader *r);
/** Facts of the component being read: begin a run, add to it, and end it (readfacts.c).
 *  @return start of the run that holds the same facts; r->status is set when memory is out. */
void still_reader_fact(still_reader *r, unsigned what, double value);
uint32_t still_reader_facts_end(still_reader *r, uint32_t start);
/** Resolve all references, number the ports, build the index (readresolve.c). Sets r->status. */
void still_reader_resolve(still_reader *r);
/** Number the ports and join the spools to them (readports.c). Sets r->status. */
void still_reader_ports(still_reader *r);

/** Take the lowest attribute out of a set that is not empty. */
static inline still_attr still_reader_next(still_attr_set *set)
{
    uint64_t half = (uint64_t)*set;
    unsigned a = 0;
    if (half == 0) {
        half = (uint64_t)(*set >> 64);
        a = 64;
    }
    a += (unsigned)__builtin_ctzll(half);
    *set ^= (still_attr_set)1 << a;
    return (still_attr)a;
}

/** Was an attribute given, and could it be read? */
static inline bool still_reader_has(const still_reader *r, still_attr a)
{
    return (r->ok >> a & 1) != 0;
}
/** Report about the element being read, at an attribute or (STILL_ATTR_COUNT) at its tag. */
#if defined(__GNUC__)
__attribute__((format(printf, 4, 5)))
#endif
void still_reader_fault(still_reader *r, still_code code, still_attr attr, const char *format, ...);
/** Report the value of an attribute: `attribute "value" why`. */
void still_reader_fault_value(still_reader *r, still_code code, still_attr a, const char *why);
/** Report a word that is none of those from lo to hi of a vocabulary, and name them. */
void still_reader_fault_word(still_reader *r, still_attr a, still_vocabulary voc, unsigned lo,
                             unsigned hi);
/** Report a quantity that was not taken. */
void still_reader_fault_quantity(still_reader *r, still_attr a, still_quantity_fault fault);
/** Intern; false sets r->status. */
bool still_reader_intern(still_reader *r, const char *s, size_t len, still_name *out);
/** A word from lo to hi of a vocabulary, or 0. */
uint8_t still_reader_word(still_vocabulary voc, unsigned lo, unsigned hi, const char *s,
                          size_t len);
/** Next item of a list parted by blanks or commas, from *at on; false at the end. */
bool still_reader_item(const still_raw *raw, size_t *at, still_raw *item);
/** `positions` of a three-way valve; `position` and `normal` (readposition.c). */
bool still_reader_positions(still_reader *r, still_attr a);
bool still_reader_position(still_reader *r, still_attr a);
/** What an id stands for. @return STILL_NONE when it is no id; else owner and index. */
static inline uint32_t still_reader_owner(const still_reader *r, still_name name)
{
    return name.v < r->n_owner ? r->owner[name.v] : STILL_NONE;
}

#endif
