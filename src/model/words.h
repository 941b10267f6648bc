/** @file words.h  The closed vocabularies of the plant file: every attribute whose value is one of
 *  a few words. In each enumeration 0 means "not said"; what that counts as is RULES N2's business,
 *  not this file's. */
#ifndef STILL_WORDS_H
#define STILL_WORDS_H

#include <stddef.h>
#include <stdint.h>

// clang-format off
#define STILL_CLASS_WORDS(X, E)                                                                    \
    X(E, VESSEL, "vessel")                                                                         \
    X(E, VALVE, "valve") X(E, PUMP, "pump") X(E, COMPRESSOR, "compressor")                         \
        X(E, EXCHANGER, "exchanger") X(E, FITTING, "fitting") X(E, BLIND, "blind")                 \
            X(E, CAP, "cap") X(E, OUTLET, "outlet") X(E, LIMIT, "limit") X(E, SPOOL, "spool")

/** Kinds of all classes that have a closed list of them. Vessels and exchangers name their kind
 *  freely (STILL_T_KIND). The stop valves come first. */
#define STILL_KIND_WORDS(X, E)                                                                     \
    X(E, GLOBE, "globe")                                                                           \
    X(E, GATE, "gate") X(E, BALL, "ball") X(E, PLUG_VALVE, "plug") X(E, BUTTERFLY, "butterfly")    \
        X(E, DIAPHRAGM, "diaphragm") X(E, NEEDLE, "needle") X(E, ANGLE, "angle") X(E, STOP_CHECK,  \
                                                                                   "stop-check")   \
            X(E, CHECK, "check") X(E, CONTROL, "control") X(E, EXPANSION, "expansion")             \
                X(E, REGULATOR, "regulator") X(E, SOLENOID, "solenoid") X(E, RELIEF, "relief")     \
                    X(E, EXCESS_FLOW, "excess-flow") X(E, SELF_CLOSING, "self-closing")            \
                        X(E, FLOAT, "float") X(E, RUPTURE_DISC, "rupture-disc")                    \
                            X(E, THREE_WAY, "three-way") X(E, UNKNOWN, "unknown") X(E, TEE, "tee") \
                                X(E, REDUCER, "reducer") X(E, ELBOW, "elbow")                      \
                                    X(E, STRAINER, "strainer") X(E, FILTER, "filter")              \
                                        X(E, METER, "meter") X(E, SIGHT_GLASS, "sight-glass")      \
                                            X(E, HOSE, "hose") X(E, NODE, "node")                  \
                                                X(E, SPECTACLE, "spectacle") X(E, SPADE, "spade")  \
                                                    X(E, REMOVABLE_SPOOL, "removable-spool")       \
                                                        X(E, CAP, "cap") X(E, PLUG, "plug")        \
                                                            X(E, BLIND_FLANGE, "blind-flange")     \
                                                                X(E, DRAIN, "drain")               \
                                                                    X(E, VENT, "vent")             \
                                                                        X(E, PURGE, "purge")

#define STILL_POSITION_WORDS(X, E)                                                                 \
    X(E, OPEN, "open") X(E, CLOSED, "closed") X(E, THROTTLED, "throttled") X(E, UNKNOWN, "unknown")
#define STILL_LOCKABLE_WORDS(X, E) X(E, YES, "yes") X(E, NO, "no") X(E, ASSUMED, "assumed")
#define STILL_SEALED_WORDS(X, E) X(E, OPEN, "open") X(E, CLOSED, "closed")
#define STILL_USE_WORDS(X, E) X(E, OPERATION, "operation") X(E, SERVICE, "service")
#define STILL_CONDITION_WORDS(X, E)                                                                \
    X(E, SOUND, "sound")                                                                           \
    X(E, PASSING, "passing") X(E, SEIZED, "seized") X(E, UNREACHABLE, "unreachable")
#define STILL_DRIVE_WORDS(X, E)                                                                    \
    X(E, HAND, "hand")                                                                             \
    X(E, MOTOR, "motor") X(E, AIR, "air") X(E, HYDRAULIC, "hydraulic") X(E, SPRING, "spring")
#define STILL_FAILS_WORDS(X, E)                                                                    \
    X(E, OPEN, "open") X(E, CLOSED, "closed") X(E, STAYS, "stays") X(E, UNKNOWN, "unknown")
#define STILL_OVERRIDE_WORDS(X, E) X(E, UP, "up") X(E, DOWN, "down") X(E, UNKNOWN, "unknown")
#define STILL_YESNO_WORDS(X, E) X(E, YES, "yes") X(E, NO, "no")
#define STILL_CONTENTS_WORDS(X, E)                                                                 \
    X(E, LIQUID, "liquid") X(E, VAPOUR, "vapour") X(E, TWO_PHASE, "two-phase") X(E, NONE, "none")
#define STILL_PHASE_WORDS(X, E)                                                                    \
    X(E, LIQUID, "liquid")                                                                         \
    X(E, VAPOUR, "vapour") X(E, TWO_PHASE, "two-phase") X(E, UNKNOWN, "unknown")
#define STILL_ROLE_WORDS(X, E)                                                                     \
    X(E, LOW_PRESSURE, "low-pressure")                                                             \
    X(E, HIGH_PRESSURE, "high-pressure") X(E, OIL, "oil") X(E, OTHER, "other")
#define STILL_LEADS_WORDS(X, E)                                                                    \
    X(E, SAFE_PLACE, "safe-place")                                                                 \
    X(E, FLARE_OR_SCRUBBER, "flare-or-scrubber") X(E, CLOSED_DRAIN, "closed-drain")                \
        X(E, RECOVERY, "recovery") X(E, WATER, "water")
#define STILL_FITTED_WORDS(X, E) X(E, OPEN, "open") X(E, CAP, "cap") X(E, PLUG, "plug")
#define STILL_ENDS_WORDS(X, E)                                                                     \
    X(E, FLANGED, "flanged") X(E, WELDED, "welded") X(E, THREADED, "threaded")
#define STILL_SHAPE_WORDS(X, E) X(E, HORIZONTAL, "horizontal") X(E, VERTICAL, "vertical")
#define STILL_HEADS_WORDS(X, E)                                                                    \
    X(E, FLAT, "flat")                                                                             \
    X(E, DISHED, "dished") X(E, ELLIPTICAL, "elliptical") X(E, HEMISPHERICAL, "hemispherical")
#define STILL_PEOPLE_WORDS(X, E) X(E, HIGH, "high") X(E, NORMAL, "normal")
#define STILL_GAUGE_WORDS(X, E)                                                                    \
    X(E, PRESSURE, "pressure") X(E, LEVEL, "level") X(E, TEMPERATURE, "temperature")
#define STILL_FEED_WORDS(X, E)                                                                     \
    X(E, ELECTRICAL, "electrical")                                                                 \
    X(E, AIR, "air") X(E, HYDRAULIC, "hydraulic") X(E, HEATING, "heating")
#define STILL_STORED_WORDS(X, E)                                                                   \
    X(E, NONE, "none")                                                                             \
    X(E, AIR, "air") X(E, ACCUMULATOR, "accumulator") X(E, SPRING, "spring")                       \
        X(E, BATTERY, "battery") X(E, CAPACITOR, "capacitor") X(E, UNKNOWN, "unknown")
#define STILL_SEQUENCE_WORDS(X, E)                                                                 \
    X(E, DEFROST, "defrost")                                                                       \
    X(E, LEVEL, "level") X(E, START, "start") X(E, PURGE, "purge") X(E, OTHER, "other")

// clang-format on

/** All vocabularies: enumeration type, prefix of its constants, table. */
#define STILL_VOCABULARIES(V)                                                                      \
    V(still_class, STILL_CLASS, STILL_CLASS_WORDS)                                                 \
    V(still_kind, STILL_KIND, STILL_KIND_WORDS)                                                    \
    V(still_position, STILL_POSITION, STILL_POSITION_WORDS)                                        \
    V(still_lockable, STILL_LOCKABLE, STILL_LOCKABLE_WORDS)                                        \
    V(still_sealed, STILL_SEALED, STILL_SEALED_WORDS)                                              \
    V(still_use, STILL_USE, STILL_USE_WORDS)                                                       \
    V(still_condition, STILL_CONDITION, STILL_CONDITION_WORDS)                                     \
    V(still_drive, STILL_DRIVE, STILL_DRIVE_WORDS)                                                 \
    V(still_fails, STILL_FAILS, STILL_FAILS_WORDS)                                                 \
    V(still_override, STILL_OVERRIDE, STILL_OVERRIDE_WORDS)                                        \
    V(still_yesno, STILL_YESNO, STILL_YESNO_WORDS)                                                 \
    V(still_contents, STILL_CONTENTS, STILL_CONTENTS_WORDS)                                        \
    V(still_phase, STILL_PHASE, STILL_PHASE_WORDS)                                                 \
    V(still_role, STILL_ROLE, STILL_ROLE_WORDS)                                                    \
    V(still_leads, STILL_LEADS, STILL_LEADS_WORDS)                                                 \
    V(still_fitted, STILL_FITTED, STILL_FITTED_WORDS)                                              \
    V(still_ends, STILL_ENDS, STILL_ENDS_WORDS)                                                    \
    V(still_shape, STILL_SHAPE, STILL_SHAPE_WORDS)                                                 \
    V(still_heads, STILL_HEADS, STILL_HEADS_WORDS)                                                 \
    V(still_people, STILL_PEOPLE, STILL_PEOPLE_WORDS)                                              \
    V(still_gauge_kind, STILL_GAUGE, STILL_GAUGE_WORDS)                                            \
    V(still_feed_kind, STILL_FEED, STILL_FEED_WORDS)                                               \
    V(still_stored, STILL_STORED, STILL_STORED_WORDS)                                              \
    V(still_sequence_kind, STILL_SEQUENCE, STILL_SEQUENCE_WORDS)

#define STILL_WORD_ENUM(prefix, name, word) prefix##_##name,
#define STILL_VOCABULARY_ENUM(type, prefix, table)                                                 \
    typedef enum type { prefix##_NOT_SAID, table(STILL_WORD_ENUM, prefix) prefix##_COUNT } type;
STILL_VOCABULARIES(STILL_VOCABULARY_ENUM)

/** Which vocabulary: STILL_VOC_still_class and so on. */
#define STILL_VOCABULARY_ID(type, prefix, table) STILL_VOC_##type,
typedef enum still_vocabulary {
    STILL_VOCABULARIES(STILL_VOCABULARY_ID) STILL_VOC_COUNT
} still_vocabulary;

/** Word of a value; "" for not said or out of range. */
const char *still_word(still_vocabulary vocabulary, unsigned value);
/** Value of a word of len bytes, or 0 (not said) when the vocabulary lacks it. */
unsigned still_word_value(still_vocabulary vocabulary, const char *s, size_t len);
/** A way through a three-way valve, such as "c-a", as a set of ports: bits 0 to 2 for a to c; 0
 * when it cannot be read. */
unsigned still_way_value(const char *s, size_t len);
/** Its text in the order of the ports ("a-c"), so that equal ways are equal text; "" for no way. */
const char *still_way_text(unsigned set);
/** Number of values, "not said" included. */
unsigned still_word_count(still_vocabulary vocabulary);

#endif
