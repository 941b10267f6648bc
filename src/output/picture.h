/** @file picture.h  From a finished canvas to the bytes of a picture, whatever is on it. */
#ifndef STILL_PICTURE_H
#define STILL_PICTURE_H

#include "canvas.h"
#include "output.h"

/** Turn a finished canvas into bytes, and clear it.
 *  @param[in,out] out  appended to; as it was on failure
 *  @param status       of what was drawn; anything but STILL_OK is handed on
 *  @return status; STILL_E_NOMEM; STILL_E_INTERNAL (a library for PNG and PDF is missing) */
STILL_NODISCARD still_status still_picture_convert(still_buf *out, still_canvas *canvas,
                                                   still_picture form, still_status status);

#endif
