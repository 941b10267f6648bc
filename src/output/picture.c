#include "picture.h"

#include "paint.h"
#include "svg.h"

still_status still_picture_convert(still_buf *out, still_canvas *canvas, still_picture form,
                                   still_status status)
{
    still_buf text = STILL_BUF_INIT;
    if (status == STILL_OK && form == STILL_PICTURE_SVG) still_svg_canvas(&text, canvas);
    if (status == STILL_OK && form == STILL_PICTURE_PNG) status = still_paint_png(&text, canvas);
    if (status == STILL_OK && form == STILL_PICTURE_PDF) status = still_paint_pdf(&text, canvas);
    if (status == STILL_OK && !text.failed) still_buf_addn(out, text.text, text.len);
    if (status == STILL_OK && (text.failed || out->failed)) status = STILL_E_NOMEM;
    still_buf_clear(&text);
    still_canvas_clear(canvas);
    return status;
}
