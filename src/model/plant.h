/** @file plant.h  The plant as it is kept in memory: components, ports, spools, services, feeds.
 *
 *  Built once by input/, then read only. Every array is owned by the plant and freed with it.
 *  Only facts of the file stand here; what a fact counts as (RULES N, D, L) is decided by the
 *  modules that use it.
 *
 *  *Components* are what the file calls vessel, valve, pump, compressor, exchanger, fitting,
 *  blind, cap, outlet, limit and spool; all share one numbering (still_comp_id), in file order.
 *  Every component but a spool has ports; a spool joins two ports of others. So the plant is a
 *  graph whose nodes are ports: a spool is an edge between two ports, and a component joins its
 *  own ports or not, depending on its kind.
 *
 *  Units inside: metres, cubic metres, kelvin, bar absolute; bores and walls in millimetres. */
#ifndef STILL_PLANT_H
#define STILL_PLANT_H

#include "names.h"
#include "words.h"

#include <math.h>
#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#define STILL_NONE UINT32_MAX

typedef struct still_comp_id {
    uint32_t v;
} still_comp_id;
typedef struct still_port_id {
    uint32_t v;
} still_port_id;
typedef struct still_service_id {
    uint32_t v;
} still_service_id;
typedef struct still_side_id {
    uint32_t v;
} still_side_id;
typedef struct still_feed_id {
    uint32_t v;
} still_feed_id;

/** Standard atmosphere in bar: gauge = absolute - this. Exact by definition (CGPM 1954). */
#define STILL_ATM_BAR 1.01325
/** 0 degC in kelvin. Exact by definition of the Celsius scale (SI brochure). */
#define STILL_ZERO_DEGC_K 273.15

/** Quantities that a component may state, in the unit that the name ends in. */
typedef enum still_q {
    STILL_Q_BORE_MM, /**< inside diameter, resolved by the pipe-size table */
    STILL_Q_ELEVATION_M,
    STILL_Q_LENGTH_M,
    STILL_Q_VOLUME_M3,
    STILL_Q_DIAMETER_M, /**< of a vessel, inside; its straight part is LENGTH_M */
    STILL_Q_BOTTOM_M,   /**< elevation of the lowest inside point of a vessel */
    STILL_Q_SHAPE,      /**< of a vessel: a still_shape, exact in a double */
    STILL_Q_HEADS,      /**< of a vessel: a still_heads */
    STILL_Q_FILL,       /**< 0..1 */
    STILL_Q_WALL_MM,
    STILL_Q_SET_PRESSURE_BARA,
    STILL_Q_BACK_PRESSURE_BARA,
    STILL_Q_RATING_BARA,
    STILL_Q_DESIGN_PRESSURE_BARA,
    STILL_Q_MIN_TEMPERATURE_K,
    STILL_Q_MODULUS_GPA,     /**< of the pipe's material: Young's modulus */
    STILL_Q_POISSON,         /**< Poisson's ratio */
    STILL_Q_EXPANSION_PER_K, /**< thermal expansion, of length */
    STILL_Q_HEAT_KW,         /**< heat put in on purpose, such as tracing */
    STILL_Q_SHEET_X, /**< where its symbol stands on the drawing; only for the layout of pictures */
    STILL_Q_SHEET_Y, /**< upward */
    STILL_Q_COUNT
} still_q;

/** Texts that an element may carry. */
typedef enum still_t {
    STILL_T_NAME,
    STILL_T_PLACE,
    STILL_T_NOTE,
    STILL_T_DRAWING,
    STILL_T_KIND, /**< free kind of a vessel or exchanger */
    STILL_T_SIZE, /**< bore as written, such as "DN50" */
    STILL_T_MATERIAL,
    STILL_T_POSITIONS, /**< of a three-way valve, such as "a-c b-c" */
    STILL_T_POSITION,  /**< of a three-way valve where it names one of those, such as "a-c"; of a
                            self-acting device the word that is ignored (its byte stays 0) */
    STILL_T_NORMAL,    /**< `normal` in the same cases */
    STILL_T_COUNT
} still_t;

/** A component, 32 bytes. Words are the enumerations of words.h in the bits that they need;
 *  0 = not said. What one states beyond that (quantities, texts) is a run of facts, which all
 *  that state the same share. */
typedef struct still_comp {
    still_name id;
    uint32_t src;     /**< byte offset of its start tag in the input */
    uint32_t a, b;    /**< spool: ports joined (from, to); else first port and number of ports */
    uint32_t service; /**< still_service_id or STILL_NONE; defaulted from its spools (FORMAT.md) */
    uint32_t facts;   /**< first of its run in fact_what[] and fact_value[] */
    uint32_t cls : 4, kind : 6, position : 3, normal : 3, lockable : 2, sealed : 2, use : 2,
        condition : 3, drive : 3, fails : 3, feeds_complete : 1;
    uint32_t manual_opening : 2, override : 2, contents : 3, role : 3, leads_to : 3, shared : 2,
        fitted : 2, dead : 2, balanced : 2, cavity_relieved : 2, people : 2, end_from : 2,
        end_to : 2, removable : 2;
} still_comp;

/** End of a run of facts; else fact_what[] holds a still_q, or STILL_Q_COUNT and a still_t. */
#define STILL_FACT_END 255

/** A port. */
typedef struct still_port {
    uint32_t comp;  /**< component that owns it */
    uint32_t spool; /**< component number of the spool joined to it, or STILL_NONE */
    uint32_t kind;  /**< what many ports share: number in port_kinds[] */
} still_port;

/** What is said of a port; one for all ports of which the same is said. */
typedef struct still_port_kind {
    still_name name;   /**< such as "in" */
    uint32_t side;     /**< exchanger: its side (still_side_id); else STILL_NONE */
    float elevation_m; /**< its own or its component's; NAN = not said */
} still_port_kind;

/** A side of an exchanger. */
typedef struct still_side {
    still_name id;
    uint32_t comp, src;
    uint32_t service; /**< or STILL_NONE */
    uint8_t contents;
    double volume_m3, fill, design_pressure_bara; /**< NAN = not said */
    double bottom_m; /**< elevation of its lowest inside point; NAN = not said */
} still_side;

/** What flows in a line. NAN = not said. */
typedef struct still_service {
    still_name id, name, substance, hazard;
    uint32_t src;
    uint8_t phase, condenses, asphyxiant;
    double temperature_K, pressure_bara, design_pressure_bara, min_temperature_K;
    double auto_ignition_K, density_kg_m3;
    double expansivity_per_K, compressibility_per_bar; /**< of the liquid, where it has no equation
                                                          of state in the program */
} still_service;

typedef struct still_feed {
    still_name id, name, place,
        isolator; /**< isolator: the text that names it; equal text, one isolator */
    uint32_t src;
    uint8_t kind, lockable, stored;
    uint32_t ref0, n_refs; /**< refs[]: component numbers that it supplies, ascending */
} still_feed;

typedef struct still_sequence {
    still_name id, name, place, off_at;
    uint32_t src;
    uint8_t kind;
    uint32_t ref0, n_refs; /**< refs[]: component numbers that it acts on, ascending */
} still_sequence;

typedef struct still_gauge {
    still_name id, name, place;
    uint32_t src;
    uint8_t kind;
    uint32_t on;  /**< component number */
    uint32_t via; /**< component number of its root valve, or STILL_NONE = not said */
} still_gauge;

/** A pair of the index from components to feeds. */
typedef struct still_comp_feed {
    uint32_t comp, feed;
} still_comp_feed;

/** The plant. Read only once built. */
typedef struct still_plant {
    still_names names;
    still_name id, name, revision, note;
    uint8_t people;
    char digest[65];             /**< SHA-256 of the input bytes, hexadecimal */
    char *file;                  /**< path as given, for messages */
    struct still_source *source; /**< where it was read from (source.h); NULL = not read */

    still_comp *comps;
    uint32_t n_comps;
    still_port *ports;
    uint32_t n_ports;
    still_port_kind *port_kinds;
    uint32_t n_port_kinds;
    struct still_index *index; /**< components by id, made when first asked for */
    uint8_t *fact_what;        /**< still_q, STILL_Q_COUNT + still_t, or STILL_FACT_END */
    double *fact_value;        /**< a quantity, or the number of a name (exact in a double) */
    uint32_t n_facts;

    still_service *services;
    uint32_t n_services;
    still_side *sides;
    uint32_t n_sides;
    still_feed *feeds;
    uint32_t n_feeds;
    still_sequence *sequences;
    uint32_t n_sequences;
    still_gauge *gauges;
    uint32_t n_gauges;
    uint32_t *refs;
    uint32_t n_refs;
    still_comp_feed *comp_feeds;
    uint32_t n_comp_feeds; /**< sorted by component, then feed */
} still_plant;

/** @return an empty plant, or NULL when memory is out. */
still_plant *still_plant_new(void);
/** Free it with all that it owns; NULL is allowed. */
void still_plant_free(still_plant *plant);

/** Ids of components that may have been meant by one that the plant does not have, for a message:
 *  `; nearest: "HV-1"`, or nothing. Cost: a look at each id. */
void still_plant_near(char *text, size_t size, const still_plant *plant, const char *id);
/** Component with this id, or STILL_NONE. Cost: expected constant, once a first call has made the
 *  table that it looks into; linear when there is no memory for that. Any number of threads. */
still_comp_id still_plant_find(const still_plant *plant, const char *id);

static inline const char *still_text(const still_plant *plant, still_name name)
{
    return still_names_text(&plant->names, name);
}
static inline const char *still_id_of(const still_plant *plant, uint32_t comp)
{
    return still_names_text(&plant->names, plant->comps[comp].id);
}
static inline still_name still_port_name(const still_plant *plant, uint32_t port)
{
    return plant->port_kinds[plant->ports[port].kind].name;
}
/** Side of an exchanger that a port belongs to, or STILL_NONE. */
static inline uint32_t still_port_side(const still_plant *plant, uint32_t port)
{
    return plant->port_kinds[plant->ports[port].kind].side;
}
/** Elevation of a port in metres; NAN = not said. */
static inline double still_port_elevation_m(const still_plant *plant, uint32_t port)
{
    return (double)plant->port_kinds[plant->ports[port].kind].elevation_m;
}
/** A quantity that the component states itself, or NAN. */
double still_comp_q(const still_plant *plant, uint32_t comp, still_q what);
/** A text of the component, or "". Borrowed. */
const char *still_comp_t(const still_plant *plant, uint32_t comp, still_t what);
/** Bore in mm: its own, else that of the spools joined to it where these agree; NAN = unknown. */
double still_comp_bore_mm(const still_plant *plant, uint32_t comp);
/** Size as a person writes it, such as "DN50" or "52.5 mm": its own, else of its spools where
 *  these agree; "" = unknown. Borrowed. */
const char *still_comp_size(const still_plant *plant, uint32_t comp);
/** Port at the other end of the spool joined to a port, or STILL_NONE. */
static inline uint32_t still_port_across(const still_plant *plant, uint32_t port)
{
    uint32_t s = plant->ports[port].spool;
    if (s == STILL_NONE) return STILL_NONE;
    return plant->comps[s].a == port ? plant->comps[s].b : plant->comps[s].a;
}
/** Whether the pipe joined to a port is said to end there in a flange. */
static inline bool still_flanged_at(const still_plant *plant, uint32_t port)
{
    uint32_t s = plant->ports[port].spool;
    if (s == STILL_NONE) return false;
    const still_comp *c = &plant->comps[s];
    return (c->a == port ? c->end_from : c->end_to) == STILL_ENDS_FLANGED;
}
/** Port of a component by name, or STILL_NONE. */
uint32_t still_comp_port(const still_plant *plant, uint32_t comp, const char *name);
/** "HV-1.in": for messages; written to buf, cut to size. @return buf */
const char *still_port_label(const still_plant *plant, uint32_t port, char *buf, size_t size);
/** First entry of comp_feeds for a component; *n gets how many there are. */
const still_comp_feed *still_comp_feeds(const still_plant *plant, uint32_t comp, size_t *n);
/** One of the stop kinds of FORMAT.md (globe … stop-check). */
static inline bool still_kind_stops(unsigned kind)
{
    return kind >= STILL_KIND_GLOBE && kind <= STILL_KIND_STOP_CHECK;
}

/** Worked by hand: said so, or no drive said (FORMAT.md). */
static inline bool still_by_hand(const still_comp *c)
{
    return c->drive == STILL_DRIVE_NOT_SAID || c->drive == STILL_DRIVE_HAND;
}
/** A pump or compressor. */
static inline bool still_is_machine(const still_comp *c)
{
    return c->cls == STILL_CLASS_PUMP || c->cls == STILL_CLASS_COMPRESSOR;
}
/** A relief valve or rupture disc. */
static inline bool still_relieves(const still_comp *c)
{
    return c->cls == STILL_CLASS_VALVE &&
           (c->kind == STILL_KIND_RELIEF || c->kind == STILL_KIND_RUPTURE_DISC);
}
/** An outlet that leads to a safe place, flare or scrubber, once nothing is fitted on it. */
static inline bool still_outlet_to_open(const still_comp *c)
{
    return c->cls == STILL_CLASS_OUTLET &&
           (c->leads_to == STILL_LEADS_SAFE_PLACE || c->leads_to == STILL_LEADS_FLARE_OR_SCRUBBER);
}
/** An outlet said to stand open to a safe place, flare or scrubber: "the open" of rule L2. */
static inline bool still_outlet_open(const still_comp *c)
{
    return c->fitted == STILL_FITTED_OPEN && still_outlet_to_open(c);
}
/** Design pressure of a service in bar absolute; NAN = unknown, or no service (STILL_NONE). */
static inline double still_service_design_bara(const still_plant *plant, uint32_t service)
{
    return service == STILL_NONE ? (double)NAN : plant->services[service].design_pressure_bara;
}
/** Design pressure of an exchanger side in bar absolute: its own, else its service's; NAN =
 * unknown. */
static inline double still_side_design_bara(const still_plant *plant, uint32_t side)
{
    double own = plant->sides[side].design_pressure_bara;
    return isnan(own) ? still_service_design_bara(plant, plant->sides[side].service) : own;
}

#endif
