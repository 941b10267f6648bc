/** @file qr.h  QR codes (ISO/IEC 18004), made by libqrencode, which is loaded when one is asked
 * for.
 */
#ifndef STILL_QR_H
#define STILL_QR_H

#include "canvas.h"
#include "strbuf.h"

#include "stillset/status.h"

#include <stdbool.h>
#include <stdint.h>

typedef struct still_qr {
    uint32_t width; /**< modules on each side */
    uint8_t *dark;  /**< row by row: 1 = dark; heap, still_qr_clear */
} still_qr;

/** Modules of light around a code (ISO/IEC 18004: four; from memory). */
enum { STILL_QR_QUIET = 4 };

/** Encode a text at error correction M, in the smallest code that holds it.
 *  @return STILL_OK, STILL_E_NOMEM, STILL_E_INTERNAL (the library is missing, or the text too long)
 */
STILL_NODISCARD still_status still_qr_make(still_qr *out, const char *text);
void still_qr_clear(still_qr *qr);
/** Path data of the dark modules, a module being 1 wide, the quiet zone included. */
void still_qr_path(still_buf *out, const still_qr *qr);
/** Draw it with its quiet zone in a square at (x, y). */
void still_qr_draw(still_canvas *c, const still_qr *qr, double x, double y, double side);

#endif
