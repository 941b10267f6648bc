#include "glyph.h"

#include "utf8.h"

#include <string.h>

size_t still_glyph_next(const char *s, uint32_t *cp)
{
    return still_utf8_next(s, strnlen(s, 4), cp);
}

bool still_glyph_valid(const char *s)
{
    while (*s != '\0') {
        uint32_t cp;
        s += still_glyph_next(s, &cp);
        if (cp == UINT32_MAX) return false;
    }
    return true;
}

typedef struct range {
    uint32_t first, last;
} range;

static bool within(const range *ranges, size_t n, uint32_t cp)
{
    for (size_t i = 0; i < n; i++)
        if (cp >= ranges[i].first && cp <= ranges[i].last) return true;
    return false;
}

size_t still_glyph_columns(uint32_t cp)
{
    /* East Asian Width W and F (Unicode annex 11), with gaps closed: too wide is harmless. */
    static const range wide[] = {
        {0x1100, 0x115F},   {0x231A, 0x231B},   {0x2329, 0x232A},   {0x23E9, 0x23F3},
        {0x25FD, 0x25FE},   {0x2600, 0x27BF},   {0x2B00, 0x2BFF},   {0x2E80, 0x303E},
        {0x3041, 0xA4CF},   {0xA960, 0xA97F},   {0xAC00, 0xD7A3},   {0xF900, 0xFAFF},
        {0xFE10, 0xFE19},   {0xFE30, 0xFE6F},   {0xFF01, 0xFF60},   {0xFFE0, 0xFFE6},
        {0x16FE0, 0x1B2FF}, {0x1F000, 0x1FAFF}, {0x20000, 0x3FFFD},
    };
    if (cp < 0x1100) return 1;
    return within(wide, sizeof wide / sizeof wide[0], cp) ? 2 : 1;
}

size_t still_glyph_width(const char *s)
{
    size_t width = 0;
    while (*s != '\0') {
        uint32_t cp;
        s += still_glyph_next(s, &cp);
        width += still_glyph_columns(cp);
    }
    return width;
}

bool still_glyph_hostile(uint32_t cp)
{
    /* Beyond the control characters: what cannot be seen at all, and private use. ZWNJ and ZWJ
     * stay, since scripts need them. */
    static const range unseen[] = {{0x115F, 0x1160},   {0x17B4, 0x17B5},   {0x180B, 0x180F},
                                   {0x3164, 0x3164},   {0xE000, 0xF8FF},   {0xFFA0, 0xFFA0},
                                   {0x1BCA0, 0x1BCA3}, {0x1D173, 0x1D17A}, {0xE0000, 0x10FFFF}};
    if (cp >= 0x20 && cp < 0x7F) return false;
    if (cp == 0x200C || cp == 0x200D) return false;
    return still_utf8_control(cp) || within(unseen, sizeof unseen / sizeof unseen[0], cp);
}

/** Marks that stand over or under the character before them, of all scripts that share them. */
static bool is_mark(uint32_t cp)
{
    static const range marks[] = {{0x0300, 0x036F}, {0x0483, 0x0489}, {0x0591, 0x05BD},
                                  {0x0610, 0x061A}, {0x064B, 0x065F}, {0x1AB0, 0x1AFF},
                                  {0x1DC0, 0x1DFF}, {0x20D0, 0x20FF}, {0xFE20, 0xFE2F}};
    return cp >= 0x0300 && within(marks, sizeof marks / sizeof marks[0], cp);
}

void still_glyph_clean(still_buf *out, const char *s)
{
    /* No script piles up more; what does would be drawn over the lines around it. */
    enum { MOST_MARKS = 4 };
    unsigned marks = 0;
    while (*s != '\0') {
        uint32_t cp;
        size_t len = still_glyph_next(s, &cp);
        marks = is_mark(cp) ? marks + 1 : 0;
        if (cp == '\n' || cp == '\r' || cp == '\t')
            still_buf_char(out, ' ');
        else if (still_glyph_hostile(cp) || marks == MOST_MARKS + 1)
            still_buf_char(out, '?');
        else if (marks <= MOST_MARKS)
            still_buf_addn(out, s, len);
        s += len;
    }
}
