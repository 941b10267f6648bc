#include "shared.h"

#include "diags.h"
#include "quantity.h"
#include "warming.h"

#include <string.h>

still_status still_read_ambient(double *ambient_K, const char *text, still_diags *diags)
{
    double value = STILL_AMBIENT_K;
    if (text != NULL && still_quantity_parse(text, strlen(text), STILL_DIM_TEMPERATURE, &value) !=
                            STILL_QUANTITY_OK) {
        still_diags_add(diags, STILL_SEV_ERROR, "STILL-USE", "", 0, 0, "", NULL,
                        "the ambient is no temperature with a unit, such as \"40 degC\"");
        return STILL_E_USAGE;
    }
    *ambient_K = value;
    return STILL_OK;
}

still_picture still_picture_of(still_format format)
{
    if (format == STILL_FORMAT_PNG) return STILL_PICTURE_PNG;
    return format == STILL_FORMAT_PDF ? STILL_PICTURE_PDF : STILL_PICTURE_SVG;
}

still_status still_give(char **bytes, size_t *len, still_buf *buf, still_status status)
{
    if (status == STILL_OK && buf->failed) status = STILL_E_NOMEM;
    if (status != STILL_OK) {
        still_buf_clear(buf);
        return status;
    }
    *bytes = buf->text;
    *len = buf->len;
    return STILL_OK;
}
