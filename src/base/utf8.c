#include "utf8.h"

#include <string.h>

size_t still_utf8_next(const char *s, size_t len, uint32_t *c)
{
    const unsigned char *u = (const unsigned char *)s;
    *c = UINT32_MAX;
    if (u[0] < 0x80) {
        *c = u[0];
        return 1;
    }
    size_t n = u[0] >= 0xF0 ? 4 : u[0] >= 0xE0 ? 3 : 2;
    if (u[0] < 0xC2 || u[0] > 0xF4 || n > len) return 1;
    uint32_t v = u[0] & (0xFFu >> (n + 1));
    for (size_t i = 1; i < n; i++) {
        if ((u[i] & 0xC0) != 0x80) return 1;
        v = (v << 6) | (u[i] & 0x3Fu);
    }
    static const uint32_t least[] = {0, 0, 0x80, 0x800, 0x10000};
    if (v < least[n] || v > 0x10FFFF || (v >= 0xD800 && v <= 0xDFFF)) return 1;
    *c = v;
    return n;
}

bool still_utf8_valid(const char *s)
{
    for (size_t i = 0, len = strlen(s); i < len;) {
        uint32_t c;
        i += still_utf8_next(s + i, len - i, &c);
        if (c == UINT32_MAX) return false;
    }
    return true;
}

bool still_utf8_control(uint32_t c)
{
    if (c < 0x20 || (c >= 0x7F && c < 0xA0) || c > 0x10FFFF) return true;
    if (c < 0x0600) return c == 0xAD || c == 0x34F || c == 0x061C;
    if (c >= 0x200B && c <= 0x200F) return true; /* zero width, direction marks */
    if (c >= 0x2028 && c <= 0x202E) return true; /* separators, embeddings */
    if (c >= 0x2060 && c <= 0x206F) return true; /* joiners, isolates */
    if (c >= 0xD800 && c <= 0xDFFF) return true;
    if (c >= 0xFFF0 && c <= 0xFFFB) return true;
    if (c >= 0xE0000 && c <= 0xE0FFF) return true; /* tags, variation selectors */
    return c == 0x061C || c == 0x180E || c == 0xFEFF || (c >= 0xFDD0 && c <= 0xFDEF) ||
           (c & 0xFFFE) == 0xFFFE;
}

bool still_utf8_blank(uint32_t c)
{
    return c == ' ' || c == 0xA0 || c == 0x1680 || (c >= 0x2000 && c <= 0x200A) || c == 0x202F ||
           c == 0x205F || c == 0x3000;
}

size_t still_utf8_clean(char *buf, size_t size, const char *s, size_t len, char with)
{
    size_t out = 0;
    for (size_t i = 0; i < len && size > 0;) {
        uint32_t c;
        size_t n = still_utf8_next(s + i, len - i, &c);
        bool bad = still_utf8_control(c);
        size_t need = bad ? 1 : n;
        if (out + need + 1 > size) break;
        if (bad)
            buf[out] = with;
        else
            memcpy(buf + out, s + i, n);
        out += need;
        i += n;
    }
    if (size > 0) buf[out] = '\0';
    return out;
}
