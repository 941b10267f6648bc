/* What stands at a symbol in words. */
#include "diagram.h"

#include <string.h>

const still_point *still_diagram_point(const still_dia *d, uint32_t comp)
{
    const char *id = still_id_of(d->plant, comp);
    for (size_t i = 0; i < d->r->n_points; i++)
        if (strcmp(d->r->points[i].id, id) == 0) return &d->r->points[i];
    return NULL;
}

/* What was found of a component today; without a state file nothing. */
static const still_found *found(const still_dia *d, uint32_t comp)
{
    const char *id = still_id_of(d->plant, comp);
    for (size_t i = 0; i < d->r->n_found; i++)
        if (strcmp(d->r->found[i].id, id) == 0) return &d->r->found[i];
    return NULL;
}

const char *still_diagram_condition(const still_dia *d, uint32_t comp)
{
    const still_found *f = found(d, comp);
    if (f != NULL && f->condition[0] != '\0') return f->condition;
    return still_word(STILL_VOC_still_condition, d->plant->comps[comp].condition);
}

const char *still_diagram_contents(const still_dia *d, uint32_t comp)
{
    const still_found *f = found(d, comp);
    if (f != NULL && f->contents[0] != '\0') return f->contents;
    return still_word(STILL_VOC_still_contents, d->plant->comps[comp].contents);
}

const char *still_diagram_position(const still_dia *d, uint32_t comp)
{
    const still_comp *c = &d->plant->comps[comp];
    const char *id = still_id_of(d->plant, comp);
    for (size_t i = 0; i < d->r->n_end; i++)
        if (strcmp(d->r->end[i].id, id) == 0) return d->r->end[i].position;
    /* Where no step moves anything it stands as it was found. */
    const still_found *today = d->r->n_steps == 0 ? found(d, comp) : NULL;
    if (today != NULL && today->position[0] != '\0') return today->position;
    if (c->position != STILL_POSITION_NOT_SAID)
        return still_word(STILL_VOC_still_position, c->position);
    if (c->sealed != STILL_SEALED_NOT_SAID) return still_word(STILL_VOC_still_sealed, c->sealed);
    const char *named = still_comp_t(d->plant, comp, STILL_T_POSITION);
    if (named[0] != '\0') return named;
    bool has = (c->cls == STILL_CLASS_VALVE && still_kind_stops(c->kind)) ||
               c->cls == STILL_CLASS_BLIND || c->kind == STILL_KIND_THREE_WAY;
    return has ? "unknown" : "";
}

/* Letters for the position in normal running (F-SYM-5, F-TAG-1), "" where none applies. */
const char *still_diagram_letters(const still_comp *c)
{
    if (c->cls != STILL_CLASS_VALVE) return "";
    if (c->sealed == STILL_SEALED_OPEN) return "CSO";
    if (c->sealed == STILL_SEALED_CLOSED) return "CSC";
    unsigned normal = c->normal != STILL_POSITION_NOT_SAID ? c->normal : c->position;
    if (normal == STILL_POSITION_OPEN) return "NO";
    if (normal == STILL_POSITION_CLOSED) return "NC";
    return normal == STILL_POSITION_THROTTLED ? "NT" : "";
}

/* A lock makes it LC or LO (F-TAG-1); a tag holds nothing, so it has no letters. */
const char *still_diagram_held(still_dia *d, uint32_t comp, const still_point *point)
{
    if (strcmp(point->hold, "tag") == 0)
        return still_arena_printf(&d->arena, "%s, tagged", still_arena_word(&d->arena, point->to));
    if (strcmp(point->hold, "lock") != 0)
        return still_arena_printf(&d->arena, "%s, %s", still_arena_word(&d->arena, point->to),
                                  still_arena_word(&d->arena, point->hold));
    const char *letters = "";
    if (d->plant->comps[comp].cls == STILL_CLASS_VALVE) {
        if (strcmp(point->to, "closed") == 0) letters = " LC";
        if (strcmp(point->to, "open") == 0) letters = " LO";
    }
    return still_arena_printf(&d->arena, "%s, locked%s", still_arena_word(&d->arena, point->to),
                              letters);
}

/** True where the record names it as what pushes. */
static bool pushes(const still_record *r, const char *id)
{
    for (size_t i = 0; i < r->n_demands; i++)
        if (strcmp(r->demands[i].source, id) == 0) return true;
    for (size_t i = 0; i < r->proof.n_paths; i++)
        if (r->proof.paths[i].ids.n > 0 && strcmp(r->proof.paths[i].ids.items[0], id) == 0)
            return true;
    return !r->feasible && r->obstacle.path.n > 0 && strcmp(r->obstacle.path.items[0], id) == 0;
}

/* The file's word alone makes it one too: the record names those that were in reach of the work. */
bool still_diagram_is_source(const still_dia *d, uint32_t comp)
{
    const still_comp *c = &d->plant->comps[comp];
    if (d->bare || (d->mark[comp] & (STILL_MARK_INSIDE | STILL_MARK_TARGET))) return false;
    switch ((still_class)c->cls) {
    case STILL_CLASS_VESSEL:
        if (c->contents != STILL_CONTENTS_NONE) return true;
        break;
    case STILL_CLASS_LIMIT:
        if (c->dead != STILL_YESNO_YES) return true;
        break;
    case STILL_CLASS_PUMP:
    case STILL_CLASS_COMPRESSOR: return true;
    case STILL_CLASS_EXCHANGER:
    case STILL_CLASS_VALVE:
    case STILL_CLASS_FITTING:
    case STILL_CLASS_BLIND:
    case STILL_CLASS_CAP:
    case STILL_CLASS_OUTLET:
    case STILL_CLASS_SPOOL:
    case STILL_CLASS_NOT_SAID:
    case STILL_CLASS_COUNT: break;
    }
    return pushes(d->r, still_id_of(d->plant, comp));
}

const char *still_diagram_kind(still_dia *d, uint32_t comp)
{
    const still_comp *c = &d->plant->comps[comp];
    const char *size = still_comp_size(d->plant, comp);
    const char *what = still_word(STILL_VOC_still_kind, c->kind), *cls = "";
    if (c->cls == STILL_CLASS_VESSEL || c->cls == STILL_CLASS_EXCHANGER) {
        what = still_comp_t(d->plant, comp, STILL_T_KIND);
        if (what[0] == '\0') what = still_word(STILL_VOC_still_class, c->cls);
    } else if (c->cls == STILL_CLASS_LIMIT) {
        what = c->dead == STILL_YESNO_YES ? WORD("drawing ends, dead") : WORD("drawing ends, live");
    } else if (what[0] == '\0') {
        what = still_word(STILL_VOC_still_class, c->cls);
    } else if (c->cls == STILL_CLASS_VALVE && c->kind != STILL_KIND_RUPTURE_DISC) {
        cls = " valve";
    }
    const char *after = "";
    if (c->cls == STILL_CLASS_OUTLET && c->fitted == STILL_FITTED_CAP) after = WORD(", cap fitted");
    if (c->cls == STILL_CLASS_OUTLET && c->fitted == STILL_FITTED_PLUG)
        after = WORD(", plug fitted");
    /* A dot where pipes meet says what it is. */
    if (c->kind == STILL_KIND_TEE || c->kind == STILL_KIND_NODE) what = "";
    /* Words of the file's own stay; kind and "valve" are one word in some languages. */
    bool own = (c->cls == STILL_CLASS_VESSEL || c->cls == STILL_CLASS_EXCHANGER) &&
               still_comp_t(d->plant, comp, STILL_T_KIND)[0] != '\0';
    if (cls[0] != '\0')
        what = still_arena_printf(&d->arena, "%s%s", what, cls);
    else if (!own)
        what = still_arena_word(&d->arena, what);
    if (what == NULL) return NULL;
    return still_arena_printf(&d->arena, "%s%s%s%s", what,
                              size[0] != '\0' && what[0] != '\0' ? " " : "", size, after);
}
