/* Positions of valves and blinds. Those of three-way valves are sets of ports, such as "a-c". */
#include "reader.h"

#include <stdio.h>
#include <string.h>

bool still_reader_positions(still_reader *r, still_attr a)
{
    char kept[64] = "";
    size_t at = 0, n = 0;
    unsigned have = 0;
    still_raw item;
    while (still_reader_item(&r->raw[a], &at, &item)) {
        unsigned way = still_way_value(item.p, item.len);
        if (way == 0 || (have >> way & 1) != 0) {
            n = 0;
            break;
        }
        have |= 1u << way;
        n += (size_t)snprintf(kept + n, sizeof kept - n, "%s%s", n > 0 ? " " : "",
                              still_way_text(way));
    }
    if (n > 0) return still_reader_intern(r, kept, n, &r->text[a]);
    still_reader_fault_value(r, STILL_CODE_POSITIONS, a, "is not a list such as \"a-c b-c\"");
    return false;
}

static bool self_acting(uint8_t kind)
{
    return kind == STILL_KIND_CHECK || kind == STILL_KIND_RELIEF || kind == STILL_KIND_REGULATOR ||
           kind == STILL_KIND_RUPTURE_DISC || kind == STILL_KIND_FLOAT ||
           kind == STILL_KIND_EXCESS_FLOW || kind == STILL_KIND_SELF_CLOSING;
}

/* Does the list of positions hold this one? */
static bool has_way(const char *positions, const char *way)
{
    size_t n = strlen(way);
    for (const char *p = positions; n > 0 && *p != '\0';) {
        size_t len = strcspn(p, " ");
        if (len == n && memcmp(p, way, n) == 0) return true;
        p += len;
        if (*p == ' ') p++;
    }
    return false;
}

/* After kind and positions: a position that the device can have. A self-acting device's is kept
 * as text only, so that nothing can take it for a fact. */
bool still_reader_position(still_reader *r, still_attr a)
{
    const still_raw *raw = &r->raw[a];
    uint8_t kind = r->word[STILL_ATTR_KIND];
    r->word[a] =
        still_reader_word(STILL_VOC_still_position, 1, STILL_POSITION_COUNT - 1, raw->p, raw->len);
    r->text[a].v = 0;
    if (kind == STILL_KIND_THREE_WAY) {
        if (r->word[a] == STILL_POSITION_UNKNOWN) return true;
        r->word[a] = 0;
        const char *way = still_way_text(still_way_value(raw->p, raw->len));
        if (still_reader_has(r, STILL_ATTR_POSITIONS) &&
            has_way(still_text(r->plant, r->text[STILL_ATTR_POSITIONS]), way))
            return still_reader_intern(r, way, strlen(way), &r->text[a]);
        still_reader_fault_value(r, STILL_CODE_POSITION, a,
                                 "is not among the positions of this valve");
        return false;
    }
    if (r->word[a] == 0) {
        bool way = still_way_value(raw->p, raw->len) != 0;
        if (way)
            still_reader_fault_value(r, STILL_CODE_POSITION, a,
                                     "is a position of three-way valves only");
        else
            still_reader_fault_word(r, a, STILL_VOC_still_position, 1, STILL_POSITION_COUNT - 1);
        return false;
    }
    if (r->elem == STILL_ELEM_BLIND && r->word[a] == STILL_POSITION_THROTTLED) {
        still_reader_fault_value(r, STILL_CODE_POSITION, a, "is not a position of a blind");
        return false;
    }
    if (self_acting(kind)) {
        r->word[a] = 0;
        return still_reader_intern(r, raw->p, raw->len, &r->text[a]);
    }
    return true;
}
