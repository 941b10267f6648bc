/** @file quantity.h  Quantities as the plant file writes them ("0.6 m", "19 barg"), into the unit
 *  used inside.
 *
 *  Form: a decimal number (sign, digits, one point, an exponent of ten; "." whatever the locale),
 *  blanks or none, a unit. A bare number is refused; so are a pressure of which gauge or absolute
 *  is not said, infinities, NaN and hexadecimal numbers. */
#ifndef STILL_QUANTITY_H
#define STILL_QUANTITY_H

#include <stddef.h>

/** Kind of quantity: units taken, unit inside, range. */
typedef enum still_dim {
    STILL_DIM_LENGTH,    /**< m mm in ft → m, not negative */
    STILL_DIM_ELEVATION, /**< m mm in ft → m, any sign */
    STILL_DIM_VOLUME,    /**< m3 L ft3 gal(US) → m3, not negative */
    STILL_DIM_PRESSURE, /**< barg bara kPag kPaa MPag MPaa psig psia → bar absolute, not below 0 */
    STILL_DIM_TEMPERATURE,     /**< degC degF K → K, not below 0 */
    STILL_DIM_MASS,            /**< kg lb → kg, not negative */
    STILL_DIM_POWER,           /**< kW → kW, not negative */
    STILL_DIM_DENSITY,         /**< kg/m3 → kg/m3, more than 0 */
    STILL_DIM_MODULUS,         /**< GPa → GPa, more than 0 */
    STILL_DIM_EXPANSIVITY,     /**< 1/K, 1/degF → 1/K */
    STILL_DIM_COMPRESSIBILITY, /**< 1/bar, 1/MPa, 1/psi → 1/bar, more than 0 */
    STILL_DIM_TIME             /**< s min h → s, more than 0 */
} still_dim;

/** Why a quantity was not taken. */
typedef enum still_quantity_fault {
    STILL_QUANTITY_OK,
    STILL_QUANTITY_NOT_A_NUMBER, /**< does not begin with a decimal number */
    STILL_QUANTITY_NO_UNIT,      /**< a bare number */
    STILL_QUANTITY_BAD_UNIT,     /**< no unit of this kind */
    STILL_QUANTITY_NO_GAUGE,     /**< a pressure unit that leaves open: gauge or absolute */
    STILL_QUANTITY_BELOW,        /**< below absolute zero, or negative where that cannot be */
    STILL_QUANTITY_TOO_LARGE     /**< magnitude above 1e12 in the unit inside */
} still_quantity_fault;

/** Read a quantity.
 *  @param s, len  text; blanks around it are skipped
 *  @param[out] out  value in the unit inside; untouched on failure
 *  @return STILL_QUANTITY_OK or the first fault found */
still_quantity_fault still_quantity_parse(const char *s, size_t len, still_dim dim, double *out);

/** Read a bare number (a fraction or a count).
 *  @return STILL_QUANTITY_OK, STILL_QUANTITY_NOT_A_NUMBER, STILL_QUANTITY_TOO_LARGE */
still_quantity_fault still_number_parse(const char *s, size_t len, double *out);

/** Read the number that a text begins with, correctly rounded; no blanks are skipped.
 *  @return bytes taken, 0 when there is none. The value may be infinite. */
size_t still_number_prefix(const char *s, size_t len, double *out);

#endif
