/** @file strbuf.h  A growing text. Errors stick: append freely, ask once at the end. */
#ifndef STILL_STRBUF_H
#define STILL_STRBUF_H

#include <stdbool.h>
#include <stddef.h>

typedef struct still_buf {
    char *text; /**< zero-terminated once anything was added; NULL before */
    size_t len, cap;
    bool failed; /**< memory ran out at some point: the text is not whole */
} still_buf;

#define STILL_BUF_INIT                                                                             \
    {                                                                                              \
        NULL, 0, 0, false                                                                          \
    }

void still_buf_add(still_buf *buf, const char *s);
void still_buf_addn(still_buf *buf, const char *s, size_t len);
void still_buf_char(still_buf *buf, char c);
#if defined(__GNUC__)
__attribute__((format(printf, 2, 3)))
#endif
void still_buf_printf(still_buf *buf, const char *format, ...);
void still_buf_clear(still_buf *buf);

#endif
