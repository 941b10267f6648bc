#include "describe.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static const char *drive_words(const still_comp *c)
{
    switch ((still_drive)c->drive) {
    case STILL_DRIVE_MOTOR: return "motor-operated ";
    case STILL_DRIVE_AIR: return "air-operated ";
    case STILL_DRIVE_HYDRAULIC: return "hydraulic ";
    case STILL_DRIVE_SPRING: return "spring-driven ";
    case STILL_DRIVE_HAND:
    case STILL_DRIVE_NOT_SAID:
    case STILL_DRIVE_COUNT: break;
    }
    return "";
}

const char *still_describe_comp(still_arena *arena, const still_plant *plant, uint32_t comp)
{
    const still_comp *c = &plant->comps[comp];
    const char *size = still_comp_size(plant, comp);
    const char *gap = size[0] != '\0' ? " " : "";
    const char *kind = still_word(STILL_VOC_still_kind, c->kind);
    const char *cls = still_word(STILL_VOC_still_class, c->cls), *named;
    const char *free_kind = still_comp_t(plant, comp, STILL_T_KIND);
    switch ((still_class)c->cls) {
    case STILL_CLASS_VALVE:
        if (c->kind == STILL_KIND_UNKNOWN || c->kind == 0)
            return still_arena_printf(arena, "valve of unknown kind%s%s", gap, size);
        if (c->kind == STILL_KIND_RUPTURE_DISC)
            return still_arena_printf(arena, "rupture disc%s%s", gap, size);
        /* Put together first, since a language may have one word for the two. */
        named = still_arena_printf(arena, "%s%s", kind, " valve");
        if (named == NULL) return NULL;
        return still_arena_printf(arena, "%s%s%s%s", drive_words(c), named, gap, size);
    case STILL_CLASS_VESSEL:
    case STILL_CLASS_EXCHANGER:
        if (free_kind[0] == '\0') return still_arena_word(arena, cls);
        return still_arena_printf(arena, "%s (%s)", still_arena_word(arena, cls), free_kind);
    case STILL_CLASS_BLIND:
        named = c->kind == STILL_KIND_SPECTACLE ? "spectacle blind" : still_arena_word(arena, kind);
        return still_arena_printf(arena, "%s%s%s", named, gap, size);
    case STILL_CLASS_FITTING:
    case STILL_CLASS_CAP:
        return still_arena_printf(arena, "%s%s%s", still_arena_word(arena, kind[0] ? kind : cls),
                                  gap, size);
    case STILL_CLASS_OUTLET:
        return still_arena_printf(arena, "%s outlet", still_arena_word(arena, kind));
    case STILL_CLASS_LIMIT: return "end of the drawing";
    case STILL_CLASS_PUMP:
    case STILL_CLASS_COMPRESSOR: return still_arena_word(arena, cls);
    case STILL_CLASS_SPOOL:
        return still_arena_printf(arena, "%s%s%s", still_arena_word(arena, "pipe"), gap, size);
    case STILL_CLASS_NOT_SAID:
    case STILL_CLASS_COUNT: break;
    }
    return "component of unknown kind";
}

const char *still_describe_named(still_arena *arena, const still_plant *plant, uint32_t comp)
{
    const char *what = still_describe_comp(arena, plant, comp);
    const char *name = still_comp_t(plant, comp, STILL_T_NAME);
    if (what == NULL || name[0] == '\0') return what;
    return still_arena_printf(arena, "%s (%s)", what, name);
}

const char *still_describe_feed(still_arena *arena, const still_plant *plant, uint32_t feed)
{
    const still_feed *f = &plant->feeds[feed];
    const char *kind = still_word(STILL_VOC_still_feed_kind, f->kind);
    const char *list = still_join_ids(arena, plant, plant->refs + f->ref0, f->n_refs);
    if (list == NULL) return NULL;
    return still_arena_printf(arena, "%s feed of %s",
                              still_arena_word(arena, kind[0] ? kind : "unknown"), list);
}

const char *still_describe_position(const still_plant *plant, const still_state *state,
                                    uint32_t comp)
{
    still_position now = still_position_now(plant, state, comp);
    /* A three-way valve stands in a position of its own, such as "a-c". */
    const still_comp *c = &plant->comps[comp];
    if (now == STILL_POSITION_UNKNOWN && c->cls == STILL_CLASS_VALVE &&
        c->kind == STILL_KIND_THREE_WAY) {
        const char *set = still_way_now(plant, state, comp);
        if (set[0] != '\0') return set;
    }
    return still_word(STILL_VOC_still_position, (unsigned)now);
}

const char *still_describe_shut(const still_comp *valve, bool turned)
{
    if (turned) return "The mark on the spindle stands at that position; flow noise dies away.";
    if (!still_by_hand(valve)) return "The indicator stands at closed; flow noise dies away.";
    if (valve->kind == STILL_KIND_BALL || valve->kind == STILL_KIND_PLUG_VALVE ||
        valve->kind == STILL_KIND_BUTTERFLY)
        return "The handle stands across the pipe, against its stop; flow noise dies away.";
    return "The spindle comes to a firm stop; flow noise dies away.";
}

static uint32_t pipe_end(const still_plant *plant, uint32_t comp, int end)
{
    return end == 0 ? plant->comps[comp].a : plant->comps[comp].b;
}

const char *still_point_place(const still_plant *plant, uint32_t comp)
{
    const char *place = still_comp_t(plant, comp, STILL_T_PLACE);
    for (int end = 0; end < 2 && plant->comps[comp].cls == STILL_CLASS_SPOOL; end++)
        if (place[0] == '\0')
            place =
                still_comp_t(plant, plant->ports[pipe_end(plant, comp, end)].comp, STILL_T_PLACE);
    return place;
}

const char *still_describe_joints(still_arena *arena, const still_plant *plant, uint32_t comp)
{
    const char *text = "";
    if (plant->comps[comp].cls != STILL_CLASS_SPOOL) return text;
    for (int end = 0; end < 2 && text != NULL; end++) {
        uint32_t port = pipe_end(plant, comp, end);
        if (!still_flanged_at(plant, port)) continue;
        text = still_arena_printf(arena, "%s%s%s.%s", text, text[0] ? " or " : "",
                                  still_id_of(plant, plant->ports[port].comp),
                                  still_text(plant, still_port_name(plant, port)));
    }
    return text == NULL || text[0] == '\0'
               ? text
               : still_arena_printf(arena, " (its joint with %s)", text);
}

bool still_list_ids(still_arena *arena, const still_plant *plant, const uint32_t *comps, uint32_t n,
                    still_strings *out)
{
    out->items = STILL_ARENA_NEW(arena, n, const char *);
    if (out->items == NULL) return false;
    for (uint32_t i = 0; i < n; i++) out->items[i] = still_id_of(plant, comps[i]);
    out->n = n;
    return true;
}

static int by_bytes(const void *pa, const void *pb)
{
    const char *const *a = pa, *const *b = pb;
    return strcmp(*a, *b);
}

bool still_list_ids_sorted(still_arena *arena, const still_plant *plant, const uint32_t *comps,
                           uint32_t n, still_strings *out)
{
    if (!still_list_ids(arena, plant, comps, n, out)) return false;
    if (n > 1) qsort(out->items, n, sizeof out->items[0], by_bytes);
    return true;
}

static const char *join_some(still_arena *arena, const still_plant *plant, const uint32_t *comps,
                             uint32_t n, uint32_t shown)
{
    const char *text = "";
    for (uint32_t i = 0; i < shown && text != NULL; i++) {
        const char *gap = i == 0 ? "" : i + 1 == n ? " and " : ", ";
        text = still_arena_printf(arena, "%s%s%s", text, gap, still_id_of(plant, comps[i]));
    }
    if (text != NULL && n > shown)
        text = still_arena_printf(arena, "%s and %u more", text, n - shown);
    return text;
}

const char *still_join_ids(still_arena *arena, const still_plant *plant, const uint32_t *comps,
                           uint32_t n)
{
    enum { SHOWN = 6 };
    return join_some(arena, plant, comps, n, n > SHOWN ? SHOWN : n);
}

const char *still_join_all(still_arena *arena, const still_plant *plant, const uint32_t *comps,
                           uint32_t n)
{
    return join_some(arena, plant, comps, n, n);
}
