/** @file plantvocab.h  Elements and attributes of the plant file: one table each. */
#ifndef STILL_PLANTVOCAB_H
#define STILL_PLANTVOCAB_H

#include "plant.h"
#include "quantity.h"

#include <assert.h>

/** How the value of an attribute is read. */
typedef enum still_value {
    STILL_VALUE_ID,
    STILL_VALUE_TEXT,
    STILL_VALUE_WORD,
    STILL_VALUE_KIND,     /**< word or text, as the element has it */
    STILL_VALUE_POSITION, /**< a word; of a three-way valve one of its positions */
    STILL_VALUE_POSITIONS,
    STILL_VALUE_QUANTITY,
    STILL_VALUE_FILL,
    STILL_VALUE_SHEET, /**< two numbers */
    STILL_VALUE_SIZE,  /**< bore and schedule: read together, see readsize.c */
    STILL_VALUE_ENDS,
    STILL_VALUE_NAME_REF, /**< id of another element */
    STILL_VALUE_PORT_REF,
    STILL_VALUE_LIST, /**< ids parted by blanks or commas */
    STILL_VALUE_HAZARD,
    STILL_VALUE_COMPLETE
} still_value;

/* name, text, how, vocabulary, dimension, still_q, still_t */
#define STILL_ATTR_WORD(X, name, text, voc)                                                        \
    X(name, text, STILL_VALUE_WORD, STILL_VOC_##voc, 0, 0, 0)
#define STILL_ATTR_Q(X, name, text, dim, q)                                                        \
    X(name, text, STILL_VALUE_QUANTITY, 0, STILL_DIM_##dim, q, 0)
#define STILL_ATTR_T(X, name, text, t) X(name, text, STILL_VALUE_TEXT, 0, 0, 0, t)
#define STILL_ATTR_OTHER(X, name, text, how) X(name, text, how, 0, 0, 0, 0)

/** Every attribute. The order has no meaning outside the program. */
#define STILL_ATTR_TABLE(X)                                                                        \
    STILL_ATTR_OTHER(X, ID, "id", STILL_VALUE_ID)                                                  \
    STILL_ATTR_T(X, NAME, "name", STILL_T_NAME)                                                    \
    STILL_ATTR_T(X, PLACE, "place", STILL_T_PLACE)                                                 \
    STILL_ATTR_T(X, NOTE, "note", STILL_T_NOTE)                                                    \
    STILL_ATTR_T(X, DRAWING, "drawing", STILL_T_DRAWING)                                           \
    STILL_ATTR_T(X, MATERIAL, "material", STILL_T_MATERIAL)                                        \
    STILL_ATTR_T(X, REVISION, "revision", STILL_T_COUNT)                                           \
    STILL_ATTR_T(X, SUBSTANCE, "substance", STILL_T_COUNT)                                         \
    STILL_ATTR_T(X, ISOLATOR, "isolator", STILL_T_COUNT)                                           \
    STILL_ATTR_T(X, OFF_AT, "off-at", STILL_T_COUNT)                                               \
    STILL_ATTR_OTHER(X, KIND, "kind", STILL_VALUE_KIND)                                            \
    STILL_ATTR_OTHER(X, POSITION, "position", STILL_VALUE_POSITION)                                \
    STILL_ATTR_OTHER(X, NORMAL, "normal", STILL_VALUE_POSITION)                                    \
    STILL_ATTR_OTHER(X, POSITIONS, "positions", STILL_VALUE_POSITIONS)                             \
    STILL_ATTR_OTHER(X, SERVICE, "service", STILL_VALUE_NAME_REF)                                  \
    STILL_ATTR_OTHER(X, ON, "on", STILL_VALUE_NAME_REF)                                            \
    STILL_ATTR_OTHER(X, VIA, "via", STILL_VALUE_NAME_REF)                                          \
    STILL_ATTR_OTHER(X, FROM, "from", STILL_VALUE_PORT_REF)                                        \
    STILL_ATTR_OTHER(X, TO, "to", STILL_VALUE_PORT_REF)                                            \
    STILL_ATTR_OTHER(X, SUPPLIES, "supplies", STILL_VALUE_LIST)                                    \
    STILL_ATTR_OTHER(X, ACTS_ON, "acts-on", STILL_VALUE_LIST)                                      \
    STILL_ATTR_OTHER(X, BORE, "bore", STILL_VALUE_SIZE)                                            \
    STILL_ATTR_OTHER(X, SCHEDULE, "schedule", STILL_VALUE_SIZE)                                    \
    STILL_ATTR_OTHER(X, FILL, "fill", STILL_VALUE_FILL)                                            \
    STILL_ATTR_OTHER(X, SHEET, "sheet", STILL_VALUE_SHEET)                                         \
    STILL_ATTR_OTHER(X, ENDS, "ends", STILL_VALUE_ENDS)                                            \
    STILL_ATTR_OTHER(X, HAZARD, "hazard", STILL_VALUE_HAZARD)                                      \
    STILL_ATTR_OTHER(X, FEEDS, "feeds", STILL_VALUE_COMPLETE)                                      \
    STILL_ATTR_WORD(X, LOCKABLE, "lockable", still_lockable)                                       \
    STILL_ATTR_WORD(X, SEALED, "sealed", still_sealed)                                             \
    STILL_ATTR_WORD(X, USE, "use", still_use)                                                      \
    STILL_ATTR_WORD(X, CONDITION, "condition", still_condition)                                    \
    STILL_ATTR_WORD(X, DRIVE, "drive", still_drive)                                                \
    STILL_ATTR_WORD(X, FAILS, "fails", still_fails)                                                \
    STILL_ATTR_WORD(X, MANUAL_OPENING, "manual-opening", still_yesno)                              \
    STILL_ATTR_WORD(X, OVERRIDE, "override", still_override)                                       \
    STILL_ATTR_WORD(X, CONTENTS, "contents", still_contents)                                       \
    STILL_ATTR_WORD(X, ROLE, "role", still_role)                                                   \
    STILL_ATTR_WORD(X, LEADS_TO, "leads-to", still_leads)                                          \
    STILL_ATTR_WORD(X, SHARED, "shared", still_yesno)                                              \
    STILL_ATTR_WORD(X, FITTED, "fitted", still_fitted)                                             \
    STILL_ATTR_WORD(X, DEAD, "dead", still_yesno)                                                  \
    STILL_ATTR_WORD(X, BALANCED, "balanced", still_yesno)                                          \
    STILL_ATTR_WORD(X, CAVITY_RELIEVED, "cavity-relieved", still_yesno)                            \
    STILL_ATTR_WORD(X, PEOPLE, "people", still_people)                                             \
    STILL_ATTR_WORD(X, REMOVABLE, "removable", still_yesno)                                        \
    STILL_ATTR_WORD(X, SHAPE, "shape", still_shape)                                                \
    STILL_ATTR_WORD(X, HEADS, "heads", still_heads)                                                \
    STILL_ATTR_WORD(X, PHASE, "phase", still_phase)                                                \
    STILL_ATTR_WORD(X, CONDENSES, "condenses", still_yesno)                                        \
    STILL_ATTR_WORD(X, ASPHYXIANT, "asphyxiant", still_yesno)                                      \
    STILL_ATTR_WORD(X, STORED, "stored", still_stored)                                             \
    STILL_ATTR_Q(X, ELEVATION, "elevation", ELEVATION, STILL_Q_ELEVATION_M)                        \
    STILL_ATTR_Q(X, LENGTH, "length", LENGTH, STILL_Q_LENGTH_M)                                    \
    STILL_ATTR_Q(X, VOLUME, "volume", VOLUME, STILL_Q_VOLUME_M3)                                   \
    STILL_ATTR_Q(X, DIAMETER, "diameter", LENGTH, STILL_Q_DIAMETER_M)                              \
    STILL_ATTR_Q(X, BOTTOM, "bottom", ELEVATION, STILL_Q_BOTTOM_M)                                 \
    STILL_ATTR_Q(X, WALL, "wall", LENGTH, STILL_Q_COUNT)                                           \
    STILL_ATTR_Q(X, SET_PRESSURE, "set-pressure", PRESSURE, STILL_Q_SET_PRESSURE_BARA)             \
    STILL_ATTR_Q(X, BACK_PRESSURE, "back-pressure", PRESSURE, STILL_Q_BACK_PRESSURE_BARA)          \
    STILL_ATTR_Q(X, RATING, "rating", PRESSURE, STILL_Q_RATING_BARA)                               \
    STILL_ATTR_Q(X, DESIGN_PRESSURE, "design-pressure", PRESSURE, STILL_Q_DESIGN_PRESSURE_BARA)    \
    STILL_ATTR_Q(X, MIN_TEMPERATURE, "min-temperature", TEMPERATURE, STILL_Q_MIN_TEMPERATURE_K)    \
    STILL_ATTR_Q(X, TEMPERATURE, "temperature", TEMPERATURE, STILL_Q_COUNT)                        \
    STILL_ATTR_Q(X, PRESSURE, "pressure", PRESSURE, STILL_Q_COUNT)                                 \
    STILL_ATTR_Q(X, AUTO_IGNITION, "auto-ignition", TEMPERATURE, STILL_Q_COUNT)                    \
    STILL_ATTR_Q(X, DENSITY, "density", DENSITY, STILL_Q_COUNT)                                    \
    STILL_ATTR_Q(X, MODULUS, "elastic-modulus", MODULUS, STILL_Q_MODULUS_GPA)                      \
    STILL_ATTR_OTHER(X, POISSON, "poisson", STILL_VALUE_FILL)                                      \
    STILL_ATTR_Q(X, EXPANSION, "thermal-expansion", EXPANSIVITY, STILL_Q_EXPANSION_PER_K)          \
    STILL_ATTR_Q(X, HEAT, "heat", POWER, STILL_Q_HEAT_KW)                                          \
    STILL_ATTR_Q(X, EXPANSIVITY, "expansivity", EXPANSIVITY, STILL_Q_COUNT)                        \
    STILL_ATTR_Q(X, COMPRESSIBILITY, "compressibility", COMPRESSIBILITY, STILL_Q_COUNT)

/** Words that a component keeps: attribute, field, its bits, number of values. */
#define STILL_COMP_WORD_TABLE(X)                                                                   \
    X(LOCKABLE, lockable, 2, STILL_LOCKABLE_COUNT)                                                 \
    X(SEALED, sealed, 2, STILL_SEALED_COUNT)                                                       \
    X(USE, use, 2, STILL_USE_COUNT)                                                                \
    X(CONDITION, condition, 3, STILL_CONDITION_COUNT)                                              \
    X(DRIVE, drive, 3, STILL_DRIVE_COUNT)                                                          \
    X(FAILS, fails, 3, STILL_FAILS_COUNT)                                                          \
    X(MANUAL_OPENING, manual_opening, 2, STILL_YESNO_COUNT)                                        \
    X(OVERRIDE, override, 2, STILL_OVERRIDE_COUNT)                                                 \
    X(CONTENTS, contents, 3, STILL_CONTENTS_COUNT)                                                 \
    X(ROLE, role, 3, STILL_ROLE_COUNT)                                                             \
    X(LEADS_TO, leads_to, 3, STILL_LEADS_COUNT)                                                    \
    X(SHARED, shared, 2, STILL_YESNO_COUNT)                                                        \
    X(FITTED, fitted, 2, STILL_FITTED_COUNT)                                                       \
    X(DEAD, dead, 2, STILL_YESNO_COUNT)                                                            \
    X(BALANCED, balanced, 2, STILL_YESNO_COUNT)                                                    \
    X(CAVITY_RELIEVED, cavity_relieved, 2, STILL_YESNO_COUNT)                                      \
    X(PEOPLE, people, 2, STILL_PEOPLE_COUNT)                                                       \
    X(REMOVABLE, removable, 2, STILL_YESNO_COUNT)

#define STILL_ATTR_ENUM(name, ...) STILL_ATTR_##name,
typedef enum still_attr { STILL_ATTR_TABLE(STILL_ATTR_ENUM) STILL_ATTR_COUNT } still_attr;

/** A set of attributes. */
__extension__ typedef unsigned __int128 still_attr_set;
static_assert(STILL_ATTR_COUNT <= 128, "an attribute is a bit of a set");
#define STILL_ATTR_BIT(name) ((still_attr_set)1 << STILL_ATTR_##name)

/** What is known of an attribute. */
typedef struct still_attr_info {
    const char *text;
    uint8_t how;        /**< still_value */
    uint8_t vocabulary; /**< of a word */
    uint8_t dim;        /**< of a quantity */
    uint8_t q;          /**< still_q under which a component keeps it, or STILL_Q_COUNT */
    uint8_t t;          /**< still_t likewise, or STILL_T_COUNT */
} still_attr_info;

/** Every element. Components first, in the order of still_class. */
typedef enum still_elem {
    STILL_ELEM_PLANT,
    STILL_ELEM_VESSEL,
    STILL_ELEM_VALVE,
    STILL_ELEM_PUMP,
    STILL_ELEM_COMPRESSOR,
    STILL_ELEM_EXCHANGER,
    STILL_ELEM_FITTING,
    STILL_ELEM_BLIND,
    STILL_ELEM_CAP,
    STILL_ELEM_OUTLET,
    STILL_ELEM_LIMIT,
    STILL_ELEM_SPOOL,
    STILL_ELEM_SERVICE,
    STILL_ELEM_FEED,
    STILL_ELEM_SEQUENCE,
    STILL_ELEM_GAUGE,
    STILL_ELEM_PORT,
    STILL_ELEM_SIDE,
    STILL_ELEM_COUNT
} still_elem;

static_assert((int)STILL_ELEM_SPOOL == (int)STILL_CLASS_SPOOL, "elements and classes agree");

/** What is known of an element. */
typedef struct still_elem_info {
    const char *text;
    still_attr_set allowed, required;
    uint8_t vocabulary;       /**< of `kind`; STILL_VOC_COUNT = free text */
    uint8_t kind_lo, kind_hi; /**< first and last kind */
    const char *const *ports; /**< ports that the class gives, NULL at the end; NULL = none */
    uint32_t parents;         /**< set of elements that it may stand in */
} still_elem_info;

const still_attr_info *still_attr_of(still_attr attr);
const still_elem_info *still_elem_of(still_elem elem);

#endif
