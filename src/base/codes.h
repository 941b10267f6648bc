/** @file codes.h  Every diagnostic that the program can give about its input.
 *
 *  One table: name, code, severity, summary. Numbers are never reused. 01xx the file as such,
 *  02xx elements, ids and references, 03xx values, 04xx a site's own files, 05xx what can be read
 * but is odd. */
#ifndef STILL_CODES_H
#define STILL_CODES_H

#include "stillset/diag.h"

#define STILL_CODE_TABLE(X)                                                                        \
    X(STILL_CODE_FILE, "STILL-0101", STILL_SEV_ERROR, "file cannot be read")                       \
    X(STILL_CODE_SIZE, "STILL-0102", STILL_SEV_ERROR, "file of 4 GiB or more")                     \
    X(STILL_CODE_ENCODING, "STILL-0103", STILL_SEV_ERROR, "encoding other than UTF-8")             \
    X(STILL_CODE_DOCTYPE, "STILL-0104", STILL_SEV_ERROR, "document type declaration")              \
    X(STILL_CODE_SYNTAX, "STILL-0105", STILL_SEV_ERROR, "not well-formed XML")                     \
    X(STILL_CODE_ROOT, "STILL-0106", STILL_SEV_ERROR, "not a file of this format")                 \
    X(STILL_CODE_DEPTH, "STILL-0107", STILL_SEV_ERROR, "elements nested too deeply")               \
    X(STILL_CODE_ELEMENT, "STILL-0201", STILL_SEV_ERROR, "unknown element")                        \
    X(STILL_CODE_ATTRIBUTE, "STILL-0202", STILL_SEV_ERROR, "unknown attribute")                    \
    X(STILL_CODE_MISSING, "STILL-0203", STILL_SEV_ERROR, "required attribute missing")             \
    X(STILL_CODE_TEXT, "STILL-0204", STILL_SEV_ERROR, "text between elements")                     \
    X(STILL_CODE_ID, "STILL-0205", STILL_SEV_ERROR, "id that is not printable text")               \
    X(STILL_CODE_ID_TWICE, "STILL-0206", STILL_SEV_ERROR, "id used twice")                         \
    X(STILL_CODE_REFERENCE, "STILL-0207", STILL_SEV_ERROR, "reference to what is not there")       \
    X(STILL_CODE_REFERENCE_KIND, "STILL-0208", STILL_SEV_ERROR, "reference to the wrong kind")     \
    X(STILL_CODE_PORT, "STILL-0209", STILL_SEV_ERROR, "no such port")                              \
    X(STILL_CODE_PORT_TAKEN, "STILL-0210", STILL_SEV_ERROR, "port joined twice")                   \
    X(STILL_CODE_PORT_SELF, "STILL-0211", STILL_SEV_ERROR, "spool from a port to itself")          \
    X(STILL_CODE_OTHER_PLANT, "STILL-0212", STILL_SEV_ERROR, "state of another plant")             \
    X(STILL_CODE_WORD, "STILL-0301", STILL_SEV_ERROR, "value that the attribute does not have")    \
    X(STILL_CODE_NUMBER, "STILL-0302", STILL_SEV_ERROR, "not a number")                            \
    X(STILL_CODE_NO_UNIT, "STILL-0303", STILL_SEV_ERROR, "number without unit")                    \
    X(STILL_CODE_UNIT, "STILL-0304", STILL_SEV_ERROR, "unit unknown or of another kind")           \
    X(STILL_CODE_GAUGE, "STILL-0305", STILL_SEV_ERROR, "gauge or absolute not said")               \
    X(STILL_CODE_RANGE, "STILL-0306", STILL_SEV_ERROR, "value that cannot be")                     \
    X(STILL_CODE_PIPE_SIZE, "STILL-0307", STILL_SEV_ERROR, "size not in the pipe table")           \
    X(STILL_CODE_POSITION, "STILL-0308", STILL_SEV_ERROR,                                          \
      "position that the device does not have")                                                    \
    X(STILL_CODE_POSITIONS, "STILL-0309", STILL_SEV_ERROR, "positions that cannot be read")        \
    X(STILL_CODE_HAZARD, "STILL-0310", STILL_SEV_ERROR, "not a hazard statement")                  \
    X(STILL_CODE_LENGTH, "STILL-0311", STILL_SEV_ERROR, "value too long")                          \
    X(STILL_CODE_SMALL, "STILL-0401", STILL_SEV_ERROR,                                             \
      "policy, state, site or checklist file of more than 1 MiB")                                  \
    X(STILL_CODE_POLICY_SIZE, "STILL-0402", STILL_SEV_ERROR,                                       \
      "policy with too many classes or columns, or none")                                          \
    X(STILL_CODE_POLICY_CLASS, "STILL-0403", STILL_SEV_ERROR, "policy without a class for it")     \
    X(STILL_CODE_POLICY_COLUMN, "STILL-0404", STILL_SEV_ERROR, "policy without a column for it")   \
    X(STILL_CODE_POLICY_CELL, "STILL-0405", STILL_SEV_ERROR, "cell missing or given twice")        \
    X(STILL_CODE_POLICY_WORK, "STILL-0406", STILL_SEV_ERROR,                                       \
      "entry, hot work or long-term below positive")                                               \
    X(STILL_CODE_POLICY_ORDER, "STILL-0407", STILL_SEV_ERROR, "lower grade nearer to danger")      \
    X(STILL_CODE_SAID_TWICE, "STILL-0408", STILL_SEV_ERROR, "said twice in a site file")           \
    X(STILL_CODE_NO_LINE, "STILL-0409", STILL_SEV_ERROR, "checklist without a line for it")        \
    X(STILL_CODE_CONTROL, "STILL-0501", STILL_SEV_WARNING, "control characters replaced")          \
    X(STILL_CODE_SCHEDULE, "STILL-0502", STILL_SEV_WARNING, "schedule without nominal size")       \
    X(STILL_CODE_EMPTY, "STILL-0503", STILL_SEV_WARNING, "plant without components")               \
    X(STILL_CODE_NO_SERVICE, "STILL-0504", STILL_SEV_WARNING, "service not said")                  \
    X(STILL_CODE_DESIGN_DIFFERS, "STILL-0505", STILL_SEV_WARNING, "unequal design pressures")      \
    X(STILL_CODE_POSITION_IGNORED, "STILL-0506", STILL_SEV_WARNING, "position ignored")            \
    X(STILL_CODE_UNCONNECTED, "STILL-0507", STILL_SEV_WARNING, "part not connected")               \
    X(STILL_CODE_DEAD_END, "STILL-0508", STILL_SEV_WARNING, "port not joined")                     \
    X(STILL_CODE_NO_FEED, "STILL-0509", STILL_SEV_WARNING, "feed not said")                        \
    X(STILL_CODE_SUBSTANCE, "STILL-0510", STILL_SEV_WARNING, "substance not known")                \
    X(STILL_CODE_NO_SET_PRESSURE, "STILL-0511", STILL_SEV_WARNING, "set pressure not said")        \
    X(STILL_CODE_NO_LOCKABLE, "STILL-0512", STILL_SEV_WARNING, "lockable not said")                \
    X(STILL_CODE_NO_FILL, "STILL-0513", STILL_SEV_WARNING, "fill not said")                        \
    X(STILL_CODE_NO_VOLUME, "STILL-0514", STILL_SEV_WARNING, "volume not said")                    \
    X(STILL_CODE_NO_KIND, "STILL-0515", STILL_SEV_WARNING, "kind not said")                        \
    X(STILL_CODE_FEEDS_NOTHING, "STILL-0516", STILL_SEV_WARNING, "feed that supplies nothing")     \
    X(STILL_CODE_SHAPE, "STILL-0517", STILL_SEV_WARNING, "volume and shape disagree")

#define X(name, code, severity, summary) name,
typedef enum still_code { STILL_CODE_TABLE(X) STILL_CODE_COUNT } still_code;
#undef X

/** Code as printed, such as "STILL-0201"; "" when out of range. */
const char *still_code_text(still_code code);
/** Severity of a code. */
still_severity still_code_severity(still_code code);
/** A few words on what the code means; "" when out of range. */
const char *still_code_summary(still_code code);

#endif
