#include "strbuf.h"

#include "alloc.h"

#include <stdarg.h>
#include <stdint.h>
#include <stdio.h>
#include <string.h>

static bool room(still_buf *buf, size_t more)
{
    if (buf->failed) return false;
    if (more >= SIZE_MAX - buf->len - 1 ||
        !still_grow(&buf->text, &buf->cap, buf->len + more + 1, 1)) {
        buf->failed = true;
        return false;
    }
    return true;
}

void still_buf_addn(still_buf *buf, const char *s, size_t len)
{
    if (!room(buf, len)) return;
    memcpy(buf->text + buf->len, s, len);
    buf->len += len;
    buf->text[buf->len] = '\0';
}

void still_buf_add(still_buf *buf, const char *s)
{
    still_buf_addn(buf, s, strlen(s));
}

void still_buf_char(still_buf *buf, char c)
{
    still_buf_addn(buf, &c, 1);
}

void still_buf_printf(still_buf *buf, const char *format, ...)
{
    va_list args, again;
    va_start(args, format);
    va_copy(again, args);
    int len = vsnprintf(NULL, 0, format, args);
    va_end(args);
    if (len < 0) buf->failed = true;
    if (len >= 0 && room(buf, (size_t)len)) {
        vsnprintf(buf->text + buf->len, (size_t)len + 1, format, again);
        buf->len += (size_t)len;
    }
    va_end(again);
}

void still_buf_clear(still_buf *buf)
{
    still_free(buf->text);
    *buf = (still_buf)STILL_BUF_INIT;
}
