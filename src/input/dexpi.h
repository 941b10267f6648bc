/** @file dexpi.h  A drawing as parts and joints, between its XML and the plant file. Within input/
 * only.
 *
 *  Order of the work: parts (dexpi_parts.c) → joints (dexpi_chain.c) → every port carries one pipe,
 *  open ones get a limit (dexpi_close.c) → plant file (dexpi_write.c) and report
 *  (dexpi_report.c). Pressures: dexpi_values.c. The argument for each stands in docs/METHOD.md,
 * drawings. */
#ifndef STILL_DEXPI_H
#define STILL_DEXPI_H

#include "dexpi_tree.h"
#include "names.h"
#include "stillset/import.h"
#include "strbuf.h"

#define STILL_DX_NONE UINT32_MAX
#define STILL_DX_ANY UINT32_MAX /**< as many ports as there are joints */

/** What a part is for us: name, word in the report, ports. */
#define STILL_DX_KINDS(X)                                                                          \
    X(STOP, "stop", 2)                                                                             \
    X(THREE_WAY, "three-way", 3)                                                                   \
    X(VALVE, "valve-unknown", 2)                                                                   \
    X(CHECK, "check", 2)                                                                           \
    X(CONTROL, "control", 2)                                                                       \
    X(RELIEF, "relief", 2)                                                                         \
    X(DISC, "rupture-disc", 2)                                                                     \
    X(BLIND, "blind", 2)                                                                           \
    X(CAP, "cap", 1)                                                                               \
    X(REDUCER, "reducer", 2)                                                                       \
    X(TEE, "tee", 3)                                                                               \
    X(NODE, "node", 2)                                                                             \
    X(STRAINER, "strainer", 2)                                                                     \
    X(METER, "meter", 2)                                                                           \
    X(MARK, "mark", 2)                                                                             \
    X(HEATER, "inline-exchanger", 2)                                                               \
    X(OTHER, "other", 2)                                                                           \
    X(OUTLET, "outlet", 1)                                                                         \
    X(LIMIT, "limit", 1)                                                                           \
    X(NOZZLE, "nozzle", STILL_DX_ANY)                                                              \
    X(PUMP, "pump", STILL_DX_ANY)                                                                  \
    X(VESSEL, "vessel", STILL_DX_ANY)                                                              \
    X(EXCHANGER, "exchanger", STILL_DX_ANY)                                                        \
    X(EQUIPMENT, "equipment-unknown", STILL_DX_ANY)                                                \
    X(INSTRUMENT, "instrument", STILL_DX_ANY)                                                      \
    X(BRANCH, "branch", STILL_DX_ANY)

#define X(name, text, ports) STILL_DX_##name,
typedef enum still_dx_kind { STILL_DX_KINDS(X) STILL_DX_KIND_COUNT } still_dx_kind;
#undef X

/** What was lost or is uncertain, worst first; the last ones are no losses. */
#define STILL_DX_LOSSES(X)                                                                         \
    X(NO_END, "connection-to-nothing", "a connection names nothing that is a part")                \
    X(ID_TWICE, "id-twice", "an id stands twice; such a part is never closable")                   \
    X(JOINTS, "too-many-joints", "more pipes than the part has ports; never closable")             \
    X(UNKNOWN, "unknown-part", "a part that cannot be mapped; passes, never closable")             \
    X(BRANCH, "branch-somewhere", "a branch on a line, nobody says where; joined to all of it")    \
    X(OPEN_PIPE, "open-pipe", "a pipe without a second end; became a limit")                       \
    X(OPEN_PORT, "open-port", "a port that no pipe is joined to; became a limit")                  \
    X(OPEN_NOZZLE, "open-nozzle", "a nozzle that no pipe is joined to; became a limit")            \
    X(NO_NOZZLE, "no-connection", "equipment to which nothing is connected")                       \
    X(SIDES, "sides-unknown", "an exchanger whose sides are not told apart; all ports joined")     \
    X(VOID, "pipe-in-the-void", "a pipe without ends and parts; left out")                         \
    X(RENAMED, "renamed", "an id that cannot stand in a plant file; renamed")                      \
    X(SIZE, "size", "a pipe size that is not in the table; left out")                              \
    X(HEAT, "heat", "a source of heat that the plant file does not show")                          \
    X(VALUE, "value", "a value that is not taken")                                                 \
    X(OPERATED, "operated", "a valve with a drive; never a point")                                 \
    X(LOCK, "lockable-assumed", "a hand valve taken for lockable; to be looked at")                \
    X(DIRECTION, "direction", "a direction from the order of the drawing; to be looked at")

#define X(name, text, what) STILL_DX_LOSS_##name,
typedef enum still_dx_loss { STILL_DX_LOSSES(X) STILL_DX_LOSS_COUNT } still_dx_loss;
#undef X
#define STILL_DX_FIRST_NOTE STILL_DX_LOSS_OPERATED /**< from here on no losses */

/** A part of the drawing, or one that was added to end a pipe. */
typedef struct still_dx_item {
    const still_xml *at;    /**< NULL = added */
    const still_xml *place; /**< of an added one: beside what it stands */
    const char *raw;        /**< id in the drawing */
    const char *id;         /**< id in the plant file */
    const char *cls;        /**< class as the drawing has it */
    const char *stop;       /**< our word for a stop valve */
    const char *fails, *chamber, *note;
    const char *tag, *line_no, *number;
    still_dx_kind kind;
    uint32_t ports, joints, line;
    uint32_t owner; /**< of a nozzle: its equipment, or STILL_DX_NONE */
    bool operated, twice, seat, split;
} still_dx_item;

/** A run of pipe. */
typedef struct still_dx_segment {
    const still_xml *at;
    const char *id;
    uint32_t chain, n_chain; /**< its items in still_dx.chain */
    uint32_t n_joints;
    const char *bore, *service;
} still_dx_segment;

/** Two parts joined; from a to b in the order of the drawing. */
typedef struct still_dx_joint {
    uint32_t a, b, segment;      /**< segment: STILL_DX_NONE = added */
    const char *node_a, *node_b; /**< node numbers, or "" */
    const char *id, *pa, *pb;    /**< spool id and ports in the plant file */
} still_dx_joint;

typedef struct still_dx_lost {
    still_dx_loss what;
    uint32_t line, order;
    const char *id, *text;
} still_dx_lost;

typedef struct still_dx {
    still_arena *arena;
    const still_xml *root;
    const char *file;
    const still_import_opts *opts;
    bool nomem;
    still_names raws, ids;
    uint32_t *item_of; /**< by raw id: item, or STILL_DX_NONE */
    uint32_t *segment_of;
    const still_xml **element_of; /**< by raw id: the first element that has it */
    uint8_t *twice;               /**< by raw id: do several elements have it? */
    size_t n_raw, cap_raw[4];
    still_dx_item *items;
    size_t n_items, cap_items;
    still_dx_segment *segments;
    size_t n_segments, cap_segments;
    still_dx_joint *joints;
    size_t n_joints, cap_joints;
    uint32_t *chain;
    size_t n_chain, cap_chain;
    still_dx_lost *lost;
    size_t n_lost, cap_lost;
    const char **services;
    size_t n_services, cap_services;
    const still_xml **taken; /**< values that stand in the plant file */
    size_t n_taken, cap_taken;
    size_t n_systems;
} still_dx;

/** Kind of a class: by the table of docs/METHOD.md (dexpi_class.c).
 *  @param[out] stop  word of a stop valve, or NULL
 *  @return STILL_DX_KIND_COUNT when the table has no such class */
still_dx_kind still_dx_class(const char *cls, const char **stop);
/** Kind of a piping component or equipment by all that it says; its class text in *cls. */
still_dx_kind still_dx_kind_of(still_dx *dx, const still_xml *e, const char **cls,
                               const char **stop);
const char *still_dx_kind_text(still_dx_kind kind);
const char *still_dx_loss_text(still_dx_loss loss);
const char *still_dx_loss_what(still_dx_loss loss);
uint32_t still_dx_kind_ports(still_dx_kind kind);

/** The steps, in this order. Memory that is out sets dx->nomem, and the rest does nothing. */
void still_dx_parts(still_dx *dx);
void still_dx_joints(still_dx *dx);
void still_dx_close(still_dx *dx);
void still_dx_write(still_buf *out, still_dx *dx);
void still_dx_values(still_dx *dx);
void still_dx_report_text(still_buf *out, const still_dx *dx);
void still_dx_report_json(still_buf *out, const still_dx *dx);

/** Where a part stands on the sheet, in units of the drawing, y upward. @return false: not said */
bool still_dx_place(const still_dx_item *it, double at[2]);
/** Design pressure of an equipment with all its chambers, or of one chamber; set pressure of a
 *  relief valve; or "". What is taken is no loss (still_dx_values, after still_dx_write). */
const char *still_dx_design(still_dx *dx, const still_xml *e);
const char *still_dx_set(still_dx *dx, uint32_t item);
/** The chamber that a nozzle names, if it is one of its equipment; else NULL. */
const still_xml *still_dx_chamber(const still_dx *dx, const still_dx_item *nozzle);
/** Shared helpers (dexpi_parts.c, dexpi_import.c). */
uint32_t still_dx_find(const still_dx *dx, const char *raw);
uint32_t still_dx_add(still_dx *dx, const still_dx_item *item);
void still_dx_join(still_dx *dx, uint32_t a, const char *node_a, uint32_t b, const char *node_b,
                   uint32_t segment);
/** An id for the plant file that nothing has yet: cleaned, made unique. */
const char *still_dx_id(still_dx *dx, const char *wish, bool dots);
#if defined(__GNUC__)
__attribute__((format(printf, 5, 6)))
#endif
void still_dx_lose(still_dx *dx, still_dx_loss what, uint32_t line, const char *id,
                   const char *format, ...);
#if defined(__GNUC__)
__attribute__((format(printf, 2, 3)))
#endif
const char *
still_dx_printf(still_dx *dx, const char *format, ...);

#endif
