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

const char *still_diagram_kind(still_dia *d, uint32_t comp)
{
    const still_comp *c = &d->plant->comps[comp];
    const char *size = still_comp_size(d->plant, comp);
    const char *what = still_word(STILL_VOC_still_kind, c->kind), *cls = "";
    if (c->cls == STILL_CLASS_VESSEL || c->cls == STILL_CLASS_EXCHANGER) {
        what = still_comp_t(d->plant, comp, STILL_T_KIND);
        if (what[0] == '\0') what = still_word(STILL_VOC_still_class, c->cls);
    } else if (c->cls == STILL_CLASS_LIMIT) {
        what = c->dead == STILL_YESNO_YES ? "drawing ends, dead" : "drawing ends, live";
    } else if (what[0] == '\0') {
        what = still_word(STILL_VOC_still_class, c->cls);
    } else if (c->cls == STILL_CLASS_VALVE && c->kind != STILL_KIND_RUPTURE_DISC) {
        cls = " valve";
    }
    const char *after = "";
    if (c->cls == STILL_CLASS_OUTLET && c->fitted == STILL_FITTED_CAP) after = ", cap fitted";
    if (c->cls == STILL_CLASS_OUTLET && c->fitted == STILL_FITTED_PLUG) after = ", plug fitted";
    /* A dot where pipes meet says what it is. */
    if (c->kind == STILL_KIND_TEE || c->kind == STILL_KIND_NODE) what = "";
    return still_arena_printf(&d->arena, "%s%s%s%s%s", what, cls,
                              size[0] != '\0' && what[0] != '\0' ? " " : "", size, after);
}
