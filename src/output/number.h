/** @file number.h  Numbers for people and pictures, with a point in every locale. */
#ifndef STILL_NUMBER_H
#define STILL_NUMBER_H

#include "strbuf.h"

/** Append x with at most `digits` (1..9) significant digits, without an exponent from 0.0001 to
 *  999,999,999; "unknown" when it is not finite. */
void still_number_add(still_buf *out, double x, int digits);
/** Append x with that many decimals (0..17), never an exponent; "unknown" when it is not finite. */
void still_number_fixed(still_buf *out, double x, int decimals);
/** Append x with that many significant digits (1..17), never an exponent; at most 17 decimals. */
void still_number_plain(still_buf *out, double x, int digits);
/** Append x in the shortest form with at most two decimals: a coordinate of a picture. */
void still_number_coord(still_buf *out, double x);

#endif
