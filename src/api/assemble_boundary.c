/* The boundary in the record: head, points' proof, sources inside, obstacle. */
#include "assemble.h"

#include "describe.h"

#include <math.h>
#include <string.h>

#define SAY(...) still_arena_printf(a->arena, __VA_ARGS__)

static bool ids_of(still_assembly *a, const still_list *list, still_strings *out)
{
    if (still_list_ids(a->arena, a->plant, list->items, list->n, out)) return true;
    a->failed = true;
    return false;
}

static const char *treatment(still_assembly *a, uint32_t comp)
{
    uint8_t cls = a->plant->comps[comp].cls;
    if (cls != STILL_CLASS_VESSEL) {
        size_t n;
        const still_comp_feed *feeds = still_comp_feeds(a->plant, comp, &n);
        const char *text = "stopped; locked off by";
        for (size_t i = 0; i < n && text != NULL; i++) {
            uint32_t feed = still_isolator_feed(a->plant, feeds[i].feed);
            text = SAY("%s %s", text, still_text(a->plant, a->plant->feeds[feed].id));
        }
        return text;
    }
    return "to be emptied with the section before anything is opened";
}

/* The feed in which a path starts stands in the layer of what it feeds. */
static bool fill_layers(still_assembly *a, const still_iso_path *from, still_proof_path *to)
{
    uint32_t *layers = STILL_ARENA_NEW(a->arena, to->ids.n, uint32_t);
    uint32_t at = 0;
    if (layers == NULL) {
        a->failed = true;
        return false;
    }
    if (from->feed != STILL_NONE) layers[at++] = from->layers[0];
    for (uint32_t k = 0; k < from->comps.n; k++) layers[at++] = from->layers[k];
    to->layers = layers;
    return true;
}

static void fill_paths(still_assembly *a)
{
    const still_isolation *iso = a->iso;
    still_record *r = a->record;
    still_proof_path *paths = STILL_ARENA_NEW(a->arena, iso->n_paths, still_proof_path);
    if (paths == NULL) {
        a->failed = true;
        return;
    }
    for (uint32_t i = 0; i < iso->n_paths && !a->failed; i++) {
        still_strings ids;
        bool plain = !a->layered && iso->paths[i].point != STILL_NONE;
        paths[i].layers = NULL;
        paths[i].point = plain ? still_id_of(a->plant, iso->paths[i].point) : "";
        if (!ids_of(a, &iso->paths[i].comps, &ids)) return;
        if (iso->paths[i].feed != STILL_NONE) {
            const char **with_feed = STILL_ARENA_NEW(a->arena, ids.n + 1, const char *);
            if (with_feed == NULL) {
                a->failed = true;
                return;
            }
            with_feed[0] = still_text(a->plant, a->plant->feeds[iso->paths[i].feed].id);
            memcpy(with_feed + 1, ids.items, ids.n * sizeof ids.items[0]);
            ids = (still_strings){with_feed, ids.n + 1};
        }
        paths[i].ids = ids;
        if (a->layered && !fill_layers(a, &iso->paths[i], &paths[i])) return;
    }
    r->proof.paths = paths;
    r->proof.n_paths = iso->n_paths;
    r->proof.bound = iso->n_paths;
    r->proof.feeds.items = STILL_ARENA_NEW(a->arena, iso->feeds.n, const char *);
    if (r->proof.feeds.items == NULL) {
        a->failed = true;
        return;
    }
    for (uint32_t i = 0; i < iso->feeds.n; i++)
        r->proof.feeds.items[r->proof.feeds.n++] =
            still_text(a->plant, a->plant->feeds[iso->feeds.items[i]].id);
}

void still_assemble_boundary(still_assembly *a)
{
    const still_isolation *iso = a->iso;
    still_record *r = a->record;
    r->cost_sources = iso->sources.n;
    r->cost_points = iso->points.n + iso->feeds.n;
    r->cost_mass_kg = iso->mass_unknown ? (double)NAN : (double)iso->grams / 1000;
    if (!still_list_ids_sorted(a->arena, a->plant, iso->inside.items, iso->inside.n, &r->inside))
        a->failed = true;
    still_source_inside *sources = STILL_ARENA_NEW(a->arena, iso->sources.n, still_source_inside);
    if (sources == NULL || a->failed) {
        a->failed = true;
        return;
    }
    for (uint32_t i = 0; i < iso->sources.n; i++) {
        sources[i].id = still_id_of(a->plant, iso->sources.items[i]);
        sources[i].treatment = treatment(a, iso->sources.items[i]);
        if (sources[i].treatment == NULL) a->failed = true;
        still_add_finding(a, "N4", sources[i].id, true, true,
                          SAY("it is a source and lies inside the boundary, since no device parts "
                              "it from the work: %s",
                              sources[i].treatment));
    }
    r->sources_inside = sources;
    r->n_sources_inside = iso->sources.n;
    fill_paths(a);
    for (uint32_t i = 0; i < iso->points.n; i++) {
        const char *id = still_id_of(a->plant, iso->points.items[i]);
        const still_comp *c = &a->plant->comps[iso->points.items[i]];
        if (c->cls == STILL_CLASS_VALVE && c->lockable == STILL_LOCKABLE_ASSUMED)
            still_add_assumption(
                a, "D1", id,
                "it can be locked closed (the plant file only assumes so): look at it");
        if (c->cls == STILL_CLASS_BLIND &&
            still_position_now(a->plant, a->state, iso->points.items[i]) == STILL_POSITION_CLOSED)
            still_add_assumption(
                a, "D1", id,
                "the blank is fitted as the plant file says, whole and of full rating: look at it");
    }
    for (uint32_t i = 0; i < iso->unsure.n; i++)
        still_add_assumption(a, "D7", still_id_of(a->plant, iso->unsure.items[i]),
                             "it withstands the highest pressure of its live side (its rating, or "
                             "a design pressure on "
                             "that side, is not in the plant file)");
}

/* Why a component on the way holds nothing back. */
const char *still_why_no_point(still_assembly *a, uint32_t comp)
{
    const still_comp *c = &a->plant->comps[comp];
    const char *id = still_id_of(a->plant, comp);
    if (still_opened_whole(a->iso->zone.targets, comp)) return "";
    if (c->cls == STILL_CLASS_BLIND) return SAY("%s is not fitted (D1)", id);
    if (c->cls != STILL_CLASS_VALVE) return "";
    if (c->kind == STILL_KIND_UNKNOWN || c->kind == 0) return SAY("%s is of unknown kind (N2)", id);
    if (c->kind == STILL_KIND_THREE_WAY)
        return SAY("%s is a three-way valve that no position of closes this way, or that can't be "
                   "locked (D5)",
                   id);
    if (!still_kind_stops(c->kind))
        return SAY("%s is a %s valve, never an isolation point (D2)", id,
                   still_arena_word(a->arena, still_word(STILL_VOC_still_kind, c->kind)));
    if (!still_by_hand(c) && c->fails != STILL_FAILS_CLOSED)
        return SAY("%s is driven and is not said to fail closed (D3)", id);
    still_condition condition = still_condition_now(a->plant, a->state, comp);
    if (condition != STILL_CONDITION_SOUND)
        return SAY(
            "%s is marked %s (D6)", id,
            still_arena_word(a->arena, still_word(STILL_VOC_still_condition, (unsigned)condition)));
    if (c->lockable != STILL_LOCKABLE_YES && c->lockable != STILL_LOCKABLE_ASSUMED)
        return SAY("%s %s (D1)", id,
                   c->lockable == STILL_LOCKABLE_NO ? "cannot be locked"
                                                    : "is not said to be lockable");
    uint32_t d = a->iso->zone.device_of[comp];
    if (d != 0) {
        const still_device *dev = &a->iso->zone.devices[d - 1];
        if (dev->holds[0] && dev->holds[1]) return "";
        return SAY("%s is rated below what can stand against it (D7)", id);
    }
    return SAY("%s is driven, and its feeds are not known or can't all be locked (D3)", id);
}

static const char *obstacle_text(still_assembly *a)
{
    const still_list *way = &a->iso->obstacle;
    uint32_t port = a->iso->blocker_port, source = a->plant->ports[port].comp;
    const char *what = still_describe_comp(a->arena, a->plant, source);
    const char *id = still_id_of(a->plant, source), *text;
    char label[256];
    if (what == NULL) return NULL;
    if (still_port_dangles(a->plant, port))
        text = SAY("port %s is joined to nothing in the plant file, so it counts as a plant limit "
                   "under pressure",
                   still_port_label(a->plant, port, label, sizeof label));
    else if (a->plant->comps[source].cls == STILL_CLASS_OUTLET)
        text = SAY("%s, %s, can be put under pressure by other equipment (shared, or not said to "
                   "be unshared)",
                   id, what);
    else if (a->plant->comps[source].cls == STILL_CLASS_LIMIT)
        text = SAY("%s, %s, counts as under pressure", id, what);
    else
        text = SAY("%s, %s, cannot be taken inside (it needs feeds in the plant file that can all "
                   "be locked)",
                   id, what);
    const char *reach =
        still_opened_whole(a->iso->zone.targets, source)
            ? SAY("%s; it belongs to the target itself, so nothing can stand between", text)
        : still_asked_at(a->iso->zone.asked, port) == STILL_GRADE_POSITIVE
            ? SAY("%s, and reaches the work without a blind, spade or removable pipe and a valve "
                  "outside of it",
                  text)
        : still_grade_layers(still_asked_at(a->iso->zone.asked, port)) == 2
            ? SAY("%s, and reaches the work past fewer than two devices that may be points", text)
            : SAY("%s, and reaches the work without a device that may be a point", text);
    const char *gap = ": ";
    for (uint32_t i = 0; i < way->n && reach != NULL; i++) {
        const char *why = still_why_no_point(a, way->items[i]);
        if (why == NULL) return NULL;
        if (why[0] == '\0') continue;
        reach = SAY("%s%s%s", reach, gap, why);
        gap = "; ";
    }
    return reach;
}

/* The way may start where nothing is but a blind end that the plant file does not know of. */
static const char *if_blind(still_assembly *a, const char *text)
{
    uint32_t port = a->iso->blocker_port, source = a->plant->ports[port].comp;
    const still_comp *c = &a->plant->comps[source];
    char label[256];
    if (text == NULL) return NULL;
    if (still_port_dangles(a->plant, port))
        return SAY("%s. If %s is closed off in truth, draw the cap in the plant file once it has "
                   "been seen in the plant; other ways to the work may remain",
                   text, still_port_label(a->plant, port, label, sizeof label));
    if (c->cls != STILL_CLASS_LIMIT || c->dead != STILL_YESNO_NOT_SAID) return text;
    for (uint32_t i = 0; i < a->iso->n_help; i++)
        if (a->iso->help[i].remedy == STILL_REMEDY_BLIND) return text;
    return SAY(
        "%s. If %s is blind in truth, say so in the plant file (a cap, or dead=\"yes\") once "
        "that has been seen in the plant; other ways to the work may remain",
        text, still_id_of(a->plant, source));
}

static const char *no_bleed_text(still_assembly *a)
{
    const char *gave_up =
        a->iso->complete ? "" : " (the search was given up before all choices were looked at)";
    if (a->iso->zone.asked->bleed_between)
        return SAY(
            "devices enough lie on every way, but no choice of them leaves between a first and "
            "a second one a space that is bled in each of its compartments to a safe place, "
            "flare or scrubber%s",
            gave_up);
    return SAY("no choice of points leaves the space of the work with a bleed in each of its "
               "compartments to a safe place, flare or scrubber%s",
               gave_up);
}

/* A stop valve in a pipe: what it would do to a relief valve beside it, and whether it may not be
 * needed. */
static const char *valve_in(still_assembly *a, uint32_t spool)
{
    const still_plant *p = a->plant;
    const char *text = SAY("a stop valve that can be locked, fitted in %s", still_id_of(p, spool));
    const uint32_t ends[] = {p->ports[p->comps[spool].a].comp, p->ports[p->comps[spool].b].comp};
    for (int k = 0; k < 2 && text != NULL; k++) {
        const still_comp *c = &p->comps[ends[k]];
        if (still_relieves(c))
            text = SAY("%s. It would stand in the relief line of %s: only where the relief code "
                       "allows it, sealed open in service",
                       text, still_id_of(p, ends[k]));
        if (a->iso->help_is_set && c->cls == STILL_CLASS_LIMIT && c->dead == STILL_YESNO_NOT_SAID)
            text = SAY("%s. Not needed if %s is blind in truth, and the plant file says so", text,
                       still_id_of(p, ends[k]));
    }
    return text;
}

static const char *help_text(still_assembly *a, const still_iso_help *help)
{
    const char *id = still_id_of(a->plant, help->comp);
    switch (help->remedy) {
    case STILL_REMEDY_ADD_VALVE: return valve_in(a, help->comp);
    case STILL_REMEDY_LOCKABLE: return SAY("%s made lockable closed", id);
    case STILL_REMEDY_CONDITION: return SAY("%s mended, so that it shuts and can be reached", id);
    case STILL_REMEDY_DRIVE: return SAY("a lockable hand-operated stop valve beside %s", id);
    case STILL_REMEDY_RATING:
        return SAY("%s replaced by a valve of the rating of its live side", id);
    case STILL_REMEDY_BLEED:
        return SAY("a bleed in %s: a valve that can be held open, with an outlet to a safe place",
                   id);
    case STILL_REMEDY_ADD_BLIND: return SAY("a blind, or flanges that take a spade, in %s", id);
    case STILL_REMEDY_FEEDS:
        return SAY("all feeds of %s in the plant file, each with an isolator that can be locked",
                   id);
    case STILL_REMEDY_BLIND:
        return SAY(
            "a word in the plant file that %s is blind (a cap, or dead=\"yes\"), if that has "
            "been seen in the plant",
            id);
    }
    return "";
}

void still_assemble_obstacle(still_assembly *a, still_grade best)
{
    const still_isolation *iso = a->iso;
    still_obstacle *o = &a->record->obstacle;
    if (!ids_of(a, &iso->obstacle, &o->path)) return;
    /* Without a way to show, it is the bleed that is missing. */
    o->text = iso->blocker_port == STILL_NONE ? no_bleed_text(a) : if_blind(a, obstacle_text(a));
    o->best_grade = best == STILL_GRADE_POLICY ? "none" : still_grade_text(best);
    still_help *help = STILL_ARENA_NEW(a->arena, iso->n_help, still_help);
    if (help == NULL || o->text == NULL) {
        a->failed = true;
        return;
    }
    for (uint32_t i = 0; i < iso->n_help; i++) {
        help[i] =
            (still_help){still_id_of(a->plant, iso->help[i].comp), help_text(a, &iso->help[i])};
        if (help[i].text == NULL) a->failed = true;
    }
    o->would_help = help;
    o->n_would_help = iso->n_help;
    o->help_is_set = iso->help_is_set;
}
