/* How things look: the one table for every form of picture, and the width of texts.
 *
 * Colours differ in lightness too, and every difference is one of line or word as well, since it
 * gets printed in black and white: live pipes are thick and whole, those inside thin and dashed,
 * what is shut in is hatched. Of closed-in liquid, what is worse is heavier, and each sort has
 * dashes of its own; blue against orange and red, so that nobody takes cover for a gap. Text is
 * nearly black on white or on a light yellow. */
#include "canvas.h"

#include "glyph.h"

#define NONE STILL_NO_COLOUR
#define INK 0x111111
#define PAPER 0xFFFFFF
#define LIGHT 0xFFE49A

static const still_look_row looks[STILL_LOOK_COUNT] = {
    {"txt", INK, NONE, 0.0, 0.0, 0.0, false, false},
    {"id", INK, NONE, 0.0, 0.0, 0.0, false, true},
    {"sym", PAPER, INK, 2.0, 0.0, 0.0, false, false},
    {"full", INK, INK, 1.0, 0.0, 0.0, false, false},
    {"over", NONE, INK, 2.0, 0.0, 0.0, true, false},
    {"pipe", NONE, INK, 3.0, 0.0, 0.0, false, false},
    {"pipe-live", NONE, 0x9A3200, 5.0, 0.0, 0.0, false, false},
    {"pipe-in", NONE, 0x0A4A86, 2.4, 9.0, 4.0, false, false},
    {"bound", NONE, INK, 4.0, 12.0, 5.0, false, false},
    {"hatch", NONE, INK, 1.4, 0.0, 0.0, false, false},
    {"flag", LIGHT, INK, 2.0, 0.0, 0.0, false, false},
    {"warn", LIGHT, INK, 2.0, 0.0, 0.0, false, false},
    {"shut", NONE, 0x444444, 2.6, 0.0, 0.0, false, false},
    {"band-edge", NONE, INK, 22.0, 0.0, 0.0, false, false},
    {"band-path", NONE, 0xF0C63C, 19.0, 0.0, 0.0, false, false},
    {"ground-path", 0xF0C63C, INK, 1.5, 0.0, 0.0, false, false},
    {"frame-thick", NONE, INK, 5.0, 0.0, 0.0, false, false},
    {"frame-thin", NONE, INK, 1.6, 0.0, 0.0, false, false},
    {"rule", NONE, INK, 1.6, 0.0, 0.0, false, false},
    {"cell", PAPER, INK, 1.2, 0.0, 0.0, false, false},
    {"grid", NONE, 0xD0D0D0, 1.0, 0.0, 0.0, false, false},
    {"blank", PAPER, NONE, 0.0, 0.0, 0.0, false, false},
    {"level", NONE, INK, 1.6, 2.0, 3.5, false, false},
    {"design", NONE, INK, 2.6, 0.0, 0.0, false, false},
    {"leader", NONE, 0x555555, 1.0, 0.0, 0.0, false, false},
    {"curve", NONE, 0x0A4A86, 3.4, 0.0, 0.0, false, false},
    {"curve-rigid", NONE, 0x9A3200, 2.6, 11.0, 5.0, false, false},
    {"cut-itself", NONE, 0xA82300, 7.0, 0.0, 0.0, false, false},
    {"cut-person", NONE, 0xD07A00, 6.0, 22.0, 5.0, false, false},
    {"cut-plan", NONE, 0x7B4FA3, 4.0, 8.0, 6.0, false, false},
    {"cut-stub", NONE, 0x5C5C5C, 4.0, 3.0, 4.0, false, false},
    {"not-full", NONE, 0x5C5C5C, 1.8, 14.0, 4.0, false, false},
    {"covered", NONE, 0x005C8A, 2.8, 0.0, 0.0, false, false},
    {"covers", 0xD8ECF7, 0x005C8A, 2.0, 0.0, 0.0, false, false},
    {"ring-itself", NONE, 0xA82300, 3.5, 0.0, 0.0, false, false},
    {"ring-person", NONE, 0xD07A00, 3.5, 11.0, 3.0, false, false},
    {"mild", PAPER, INK, 1.4, 0.0, 0.0, false, false},
    {"proof-1", NONE, INK, 1.6, 0.0, 0.0, false, false},
    {"proof-2", NONE, INK, 1.6, 2.5, 3.0, false, false},
    {"proof-3", NONE, INK, 1.6, 12.0, 3.0, false, false},
    {"ink", INK, NONE, 0.0, 0.0, 0.0, false, false},
    {"shade", 0xE8E8E8, NONE, 0.0, 0.0, 0.0, false, false},
    {"hair", NONE, 0x555555, 0.5, 0.0, 0.0, false, false},
    {"box", PAPER, INK, 1.1, 0.0, 0.0, false, false},
    {"cut", NONE, 0x555555, 0.8, 5.0, 3.0, false, false},
};

const still_look_row *still_look_of(still_look look)
{
    return &looks[look < STILL_LOOK_COUNT ? look : STILL_LOOK_TXT];
}

/** Hundredths of the size that a character outside ASCII takes at most, in DejaVu Sans Bold or
 *  the font that stands in for it. */
static double other_width(uint32_t cp)
{
    bool digraph = (cp >= 0x1C4 && cp <= 0x1CC) || (cp >= 0x1F1 && cp <= 0x1F3);
    bool broad = (cp >= 0x300 && cp < 0x370) || cp == 0x428 || cp == 0x429 || cp == 0x448 ||
                 cp == 0x449 || (cp >= 0x460 && cp <= 0x489) || cp >= 0x514;
    if (digraph) return 160.0;
    if (cp == 0x2013 || cp == 0x2014 || cp == 0x2026 || (cp >= 0x2018 && cp <= 0x201E))
        return 101.0;
    if (!broad) return 125.0;
    return still_glyph_columns(cp) == 2 ? 240.0 : 205.0;
}

/** Width of the character at *s in hundredths of the size; *s goes on to the next one. */
static double next_width(const char **s, bool bold)
{
    /* Advance widths of DejaVu Sans, plain and bold, for U+0020 to U+007E, in hundredths of the
     * size, rounded up. */
    static const uint8_t ascii[2][95] = {
        {32, 41, 46, 84, 64, 96, 78, 28, 40, 40, 50, 84, 32, 37,  32, 34, 64, 64, 64,
         64, 64, 64, 64, 64, 64, 64, 34, 34, 84, 84, 84, 54, 100, 69, 69, 70, 78, 64,
         58, 78, 76, 30, 30, 66, 56, 87, 75, 79, 61, 79, 70, 64,  62, 74, 69, 99, 69,
         62, 69, 40, 34, 40, 84, 50, 50, 62, 64, 55, 64, 62, 36,  64, 64, 28, 28, 58,
         28, 98, 64, 62, 64, 64, 42, 53, 40, 64, 60, 82, 60, 60,  53, 64, 34, 64, 84},
        {35, 46,  53, 84, 70, 101, 88, 31,  46, 46, 53, 84, 38, 42,  38, 37, 70, 70,  70,
         70, 70,  70, 70, 70, 70,  70, 40,  40, 84, 84, 84, 59, 100, 78, 77, 74, 84,  69,
         69, 83,  84, 38, 38, 78,  64, 100, 84, 86, 74, 86, 78, 73,  69, 82, 78, 111, 78,
         73, 73,  46, 37, 46, 84,  50, 50,  68, 72, 60, 72, 68, 44,  72, 72, 35, 35,  67,
         35, 105, 72, 69, 72, 72,  50, 60,  48, 72, 66, 93, 65, 66,  59, 72, 37, 72,  84}};
    uint32_t cp;
    *s += still_glyph_next(*s, &cp);
    if (cp >= 0x20 && cp < 0x7F) return (double)ascii[bold ? 1 : 0][cp - 0x20];
    return other_width(cp);
}

double still_text_width(const char *s, double size, bool bold)
{
    double width = 0.0;
    while (*s != '\0') width += next_width(&s, bold);
    return width * size / 100.0;
}

size_t still_text_break(const char *s, double size, double room, bool bold)
{
    const char *at = s, *space = NULL;
    double width = 0.0;
    while (*at != '\0') {
        const char *before = at;
        width += next_width(&at, bold);
        if (*before == ' ' && before > s) space = before;
        if (before == s || width * size / 100.0 <= room) continue;
        return (size_t)((space != NULL ? space : before) - s);
    }
    return (size_t)(at - s);
}
