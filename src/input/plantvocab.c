#include "plantvocab.h"

#include <stddef.h>

#define ROW(name, text, how, voc, dim, q, t)                                                       \
    {text,                                                                                         \
     how,                                                                                          \
     (uint8_t)(voc),                                                                               \
     (uint8_t)(dim),                                                                               \
     (uint8_t)(how == STILL_VALUE_QUANTITY ? (q) : STILL_Q_COUNT),                                 \
     (uint8_t)(how == STILL_VALUE_TEXT ? (t) : STILL_T_COUNT)},
static const still_attr_info attrs[] = {STILL_ATTR_TABLE(ROW)};

#define B(name) STILL_ATTR_BIT(name)
#define COMMON (B(ID) | B(NAME) | B(PLACE) | B(NOTE) | B(DRAWING))
/* What every component but a spool and an exchanger may state. */
#define COMP                                                                                       \
    (COMMON | B(SERVICE) | B(BORE) | B(SCHEDULE) | B(ELEVATION) | B(RATING) | B(DESIGN_PRESSURE) | \
     B(MIN_TEMPERATURE) | B(FEEDS) | B(PEOPLE) | B(SHEET))
#define IN(name) (UINT32_C(1) << STILL_ELEM_##name)

static const char *const in_out[] = {"in", "out", NULL};
static const char *const in_only[] = {"in", NULL};
static const char *const none[] = {NULL};

#define FREE STILL_VOC_COUNT, 0, 0
#define KINDS(lo, hi) STILL_VOC_still_kind, STILL_KIND_##lo, STILL_KIND_##hi

static const still_elem_info elems[] = {
    [STILL_ELEM_PLANT] = {"plant", COMMON | B(REVISION) | B(PEOPLE), B(ID), FREE, none, 0},
    [STILL_ELEM_VESSEL] = {"vessel",
                           COMP | B(KIND) | B(VOLUME) | B(CONTENTS) | B(FILL) | B(ROLE) | B(SHAPE) |
                               B(DIAMETER) | B(LENGTH) | B(HEADS) | B(BOTTOM),
                           B(ID), FREE, none, IN(PLANT)},
    [STILL_ELEM_VALVE] = {"valve",
                          COMP | B(KIND) | B(POSITION) | B(NORMAL) | B(LOCKABLE) | B(SEALED) |
                              B(USE) | B(CONDITION) | B(DRIVE) | B(FAILS) | B(MANUAL_OPENING) |
                              B(OVERRIDE) | B(SET_PRESSURE) | B(BACK_PRESSURE) | B(BALANCED) |
                              B(CAVITY_RELIEVED) | B(POSITIONS),
                          B(ID), KINDS(GLOBE, UNKNOWN), in_out, IN(PLANT)},
    [STILL_ELEM_PUMP] = {"pump", COMP, B(ID), FREE, in_out, IN(PLANT)},
    [STILL_ELEM_COMPRESSOR] = {"compressor", COMP, B(ID), FREE, in_out, IN(PLANT)},
    [STILL_ELEM_EXCHANGER] = {"exchanger", (COMP & ~(B(SERVICE) | B(BORE) | B(SCHEDULE))) | B(KIND),
                              B(ID), FREE, none, IN(PLANT)},
    [STILL_ELEM_FITTING] = {"fitting", COMP | B(KIND), B(ID), KINDS(TEE, NODE), none, IN(PLANT)},
    [STILL_ELEM_BLIND] = {"blind", COMP | B(KIND) | B(POSITION), B(ID),
                          KINDS(SPECTACLE, REMOVABLE_SPOOL), in_out, IN(PLANT)},
    [STILL_ELEM_CAP] = {"cap", COMP | B(KIND), B(ID), KINDS(CAP, BLIND_FLANGE), in_only, IN(PLANT)},
    [STILL_ELEM_OUTLET] = {"outlet", COMP | B(KIND) | B(LEADS_TO) | B(SHARED) | B(FITTED), B(ID),
                           KINDS(DRAIN, PURGE), in_only, IN(PLANT)},
    [STILL_ELEM_LIMIT] = {"limit", COMP | B(DEAD), B(ID), FREE, in_only, IN(PLANT)},
    [STILL_ELEM_SPOOL] = {"spool",
                          (COMP & ~(B(ELEVATION) | B(SHEET))) | B(FROM) | B(TO) | B(LENGTH) |
                              B(WALL) | B(MATERIAL) | B(MODULUS) | B(POISSON) | B(EXPANSION) |
                              B(HEAT) | B(ENDS) | B(REMOVABLE),
                          B(ID) | B(FROM) | B(TO), FREE, none, IN(PLANT)},
    [STILL_ELEM_SERVICE] = {"service",
                            COMMON | B(SUBSTANCE) | B(PHASE) | B(TEMPERATURE) | B(PRESSURE) |
                                B(DESIGN_PRESSURE) | B(MIN_TEMPERATURE) | B(CONDENSES) | B(HAZARD) |
                                B(ASPHYXIANT) | B(AUTO_IGNITION) | B(DENSITY) | B(EXPANSIVITY) |
                                B(COMPRESSIBILITY),
                            B(ID), FREE, none, IN(PLANT)},
    [STILL_ELEM_FEED] = {"feed",
                         COMMON | B(KIND) | B(SUPPLIES) | B(ISOLATOR) | B(LOCKABLE) | B(STORED),
                         B(ID), STILL_VOC_still_feed_kind, 1, STILL_FEED_COUNT - 1, none,
                         IN(PLANT)},
    [STILL_ELEM_SEQUENCE] = {"sequence", COMMON | B(KIND) | B(ACTS_ON) | B(OFF_AT), B(ID),
                             STILL_VOC_still_sequence_kind, 1, STILL_SEQUENCE_COUNT - 1, none,
                             IN(PLANT)},
    [STILL_ELEM_GAUGE] = {"gauge", COMMON | B(KIND) | B(ON) | B(VIA), B(ID) | B(ON),
                          STILL_VOC_still_gauge_kind, 1, STILL_GAUGE_COUNT - 1, none, IN(PLANT)},
    [STILL_ELEM_PORT] = {"port", COMMON | B(ELEVATION), B(ID), FREE, none,
                         IN(VESSEL) | IN(FITTING) | IN(SIDE)},
    [STILL_ELEM_SIDE] = {"side",
                         COMMON | B(VOLUME) | B(CONTENTS) | B(FILL) | B(SERVICE) |
                             B(DESIGN_PRESSURE) | B(BOTTOM),
                         B(ID), FREE, none, IN(EXCHANGER)},
};

const still_attr_info *still_attr_of(still_attr attr)
{
    return &attrs[attr];
}

const still_elem_info *still_elem_of(still_elem elem)
{
    return &elems[elem];
}
