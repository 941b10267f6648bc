#include "qr.h"

#include "alloc.h"

#include <dlfcn.h>
#include <qrencode.h>
#include <stddef.h>
#include <string.h>

still_status still_qr_make(still_qr *out, const char *text)
{
    QRcode *(*encode)(const char *, int, QRecLevel, QRencodeMode, int) = NULL;
    void (*release)(QRcode *) = NULL;
    void *library = dlopen("libqrencode.so.4", RTLD_NOW | RTLD_LOCAL);
    if (library == NULL) return STILL_E_INTERNAL;
    void *symbol = dlsym(library, "QRcode_encodeString");
    memcpy(&encode, &symbol, sizeof encode);
    symbol = dlsym(library, "QRcode_free");
    memcpy(&release, &symbol, sizeof release);
    if (encode == NULL || release == NULL) return STILL_E_INTERNAL;
    QRcode *code = encode(text, 0, QR_ECLEVEL_M, QR_MODE_8, 1);
    if (code == NULL) return STILL_E_INTERNAL;
    size_t n = (size_t)code->width * (size_t)code->width;
    uint8_t *dark = still_malloc(n);
    for (size_t i = 0; i < n && dark != NULL; i++) dark[i] = code->data[i] & 1U;
    if (dark != NULL) *out = (still_qr){(uint32_t)code->width, dark};
    release(code);
    return dark != NULL ? STILL_OK : STILL_E_NOMEM;
}

void still_qr_clear(still_qr *qr)
{
    still_free(qr->dark);
    *qr = (still_qr){0, NULL};
}

/** Length of the run of dark modules at (x, y); 0 = it is light, or not the first of its run. */
static uint32_t run_at(const still_qr *qr, uint32_t x, uint32_t y)
{
    const uint8_t *row = qr->dark + (size_t)y * qr->width;
    uint32_t n = 0;
    if (x > 0 && row[x - 1]) return 0;
    while (x + n < qr->width && row[x + n]) n++;
    return n;
}

void still_qr_path(still_buf *out, const still_qr *qr)
{
    for (uint32_t y = 0; y < qr->width; y++)
        for (uint32_t x = 0; x < qr->width; x++) {
            uint32_t n = run_at(qr, x, y);
            if (n > 0)
                still_buf_printf(out, "M%u %uh%uv1h-%uz", x + STILL_QR_QUIET, y + STILL_QR_QUIET, n,
                                 n);
        }
}

void still_qr_draw(still_canvas *c, const still_qr *qr, double x, double y, double side)
{
    double module = side / (qr->width + 2 * STILL_QR_QUIET);
    for (uint32_t j = 0; j < qr->width; j++)
        for (uint32_t i = 0; i < qr->width; i++) {
            uint32_t n = run_at(qr, i, j);
            if (n > 0)
                still_canvas_rect(c, STILL_LOOK_INK, x + (i + STILL_QR_QUIET) * module,
                                  y + (j + STILL_QR_QUIET) * module, n * module, module, 0.0);
        }
}
