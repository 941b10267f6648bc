/* What removes a gap of closed-in liquid, in the record and in words (L6). */
#include "assemble.h"

#include "describe.h"

#define SAY(...) still_arena_printf(a->arena, __VA_ARGS__)

static const char *leads_to(const still_plant *plant, uint32_t outlet)
{
    switch (plant->comps[outlet].leads_to) {
    case STILL_LEADS_SAFE_PLACE: return "a safe place";
    case STILL_LEADS_FLARE_OR_SCRUBBER: return "flare or scrubber";
    case STILL_LEADS_CLOSED_DRAIN: return "a closed drain";
    case STILL_LEADS_RECOVERY: return "recovery";
    case STILL_LEADS_WATER: return "water";
    default: return "an outlet";
    }
}

static const char *drain_text(still_assembly *a, const still_gap_remedy *r)
{
    uint32_t outlet = r->ids[r->n_ids - 1];
    const char *by = still_join_ids(a->arena, a->plant, r->ids, r->n_ids - 1);
    const char *place = leads_to(a->plant, outlet), *id = still_id_of(a->plant, outlet);
    if (by == NULL) return NULL;
    if (r->stays_open)
        return SAY("open %s to %s (%s) as soon as the last point is closed, and leave it open: the "
                   "segment then stands open there",
                   by, id, place);
    return SAY("let the liquid out by %s to %s (%s) as soon as the last point is closed: by the "
               "elevations of the file all of it runs down there, and vapour alone stays below the "
               "design pressure",
               by, id, place);
}

static const char *text_of(still_assembly *a, const still_gap_remedy *r)
{
    const char *id = still_id_of(a->plant, r->ids[0]);
    switch (r->kind) {
    case STILL_GAP_ORDER:
        return SAY("close %s last, only after pumping down to %s has been shown to be complete "
                   "(P2): until then the segment has cover through it, and vapour alone stays "
                   "below the design pressure",
                   id, still_id_of(a->plant, r->ids[1]));
    case STILL_GAP_OPEN:
        return SAY("with %s opened, slowly, and left open it would have cover", id);
    case STILL_GAP_DRAIN: return drain_text(a, r);
    }
    return NULL;
}

static const char *kind_of(still_gap_kind kind)
{
    switch (kind) {
    case STILL_GAP_ORDER: return "order";
    case STILL_GAP_OPEN: return "open";
    case STILL_GAP_DRAIN: return "drain";
    }
    return "";
}

const char *still_assemble_remedies(still_assembly *a, size_t number, still_closed_in *out)
{
    const still_gap_remedies *known = &a->remedies[number];
    still_gap_remedy_item *list = STILL_ARENA_NEW(a->arena, known->n, still_gap_remedy_item);
    const char *text = "What removes it: ";
    if (list == NULL) return NULL;
    for (size_t i = 0; i < known->n; i++) {
        list[i].kind = kind_of(known->items[i].kind);
        list[i].text = text_of(a, &known->items[i]);
        if (list[i].text == NULL || !still_list_ids(a->arena, a->plant, known->items[i].ids,
                                                    known->items[i].n_ids, &list[i].ids))
            return NULL;
        text = SAY("%s%s%s", text, i > 0 ? "; or " : "", list[i].text);
        if (text == NULL) return NULL;
    }
    out->remedies = list;
    out->n_remedies = known->n;
    if (known->n == 0)
        text = "No order, valve to leave open or place to drain is known that removes it";
    return SAY("%s.%s", text, known->untried ? " Not all could be tried." : "");
}
