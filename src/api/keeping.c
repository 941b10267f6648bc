/* --keep: equipment that stays in service (docs/METHOD.md, 3.9). */
#include "keeping.h"

#include "alloc.h"
#include "describe.h"
#include "diags.h"
#include "shared.h"

#include <string.h>

#define SAY(...) still_arena_printf(a->arena, __VA_ARGS__)
#define REFUSE(status, ...)                                                                        \
    do {                                                                                           \
        still_diags_add(diags, STILL_SEV_ERROR, "STILL-USE", "", 0, 0, "", NULL, __VA_ARGS__);     \
        return (status);                                                                           \
    } while (0)

static bool may_be_kept(const still_comp *c)
{
    return c->cls == STILL_CLASS_VESSEL || c->cls == STILL_CLASS_EXCHANGER ||
           c->cls == STILL_CLASS_PUMP || c->cls == STILL_CLASS_COMPRESSOR ||
           c->cls == STILL_CLASS_LIMIT || c->cls == STILL_CLASS_OUTLET;
}

/* A feed of what is opened whose isolator a kept component depends on, or STILL_NONE. */
static uint32_t shared_feed(const still_plant *plant, const still_targets *targets, uint32_t kept)
{
    size_t n_kept, n;
    const still_comp_feed *of_kept = still_comp_feeds(plant, kept, &n_kept);
    for (size_t i = 0; i < targets->n; i++) {
        const still_comp_feed *feeds = still_comp_feeds(plant, targets->items[i].comp, &n);
        for (size_t k = 0; k < n; k++)
            for (size_t j = 0; j < n_kept; j++)
                if (still_isolator_feed(plant, feeds[k].feed) ==
                    still_isolator_feed(plant, of_kept[j].feed))
                    return feeds[k].feed;
    }
    return STILL_NONE;
}

still_status still_kept_find(uint32_t **out, size_t *n, still_arena *arena,
                             const still_plant *plant, const still_targets *targets,
                             const still_plan_opts *opts, still_diags *diags)
{
    *n = 0;
    *out = STILL_ARENA_NEW(arena, opts->n_keep, uint32_t);
    if (*out == NULL) return STILL_E_NOMEM;
    for (size_t i = 0; i < opts->n_keep; i++) {
        uint32_t comp = still_plant_find(plant, opts->keep[i]).v;
        if (comp == STILL_NONE)
            return still_refuse_comp(plant, opts->keep[i], " to be kept in service", diags);
        if (!may_be_kept(&plant->comps[comp]))
            REFUSE(STILL_E_USAGE,
                   "\"%s\" is no equipment to be kept in service: name a vessel, exchanger, pump, "
                   "compressor, limit or outlet",
                   opts->keep[i]);
        bool known = false;
        for (size_t k = 0; k < *n; k++) known = known || (*out)[k] == comp;
        for (size_t k = 0; k < targets->n; k++)
            if (targets->items[k].comp == comp)
                REFUSE(STILL_E_USAGE,
                       "\"%s\" is opened: it can't be kept in service; leave it out of --keep",
                       opts->keep[i]);
        uint32_t feed = shared_feed(plant, targets, comp);
        if (feed != STILL_NONE)
            REFUSE(STILL_E_USAGE,
                   "\"%s\" can't be kept in service: feed \"%s\" has to be locked off for the "
                   "work, and its isolator supplies both; leave it out of --keep, or give it an "
                   "isolator of its own",
                   opts->keep[i], still_text(plant, plant->feeds[feed].id));
        if (!known) (*out)[(*n)++] = comp;
    }
    return STILL_OK;
}

void still_kept_waive(still_in_service *s, const still_plan_opts *opts)
{
    for (size_t i = 0; i < opts->n_accept && s->n_kept > 0; i++) {
        if (strncmp(opts->accept[i], "I8:", 3) != 0) continue;
        uint32_t comp = still_plant_find(s->plant, opts->accept[i] + 3).v;
        if (comp != STILL_NONE) s->waived[comp] = 1;
    }
}

/* "E-2 (exchanger)". */
static const char *named(still_assembly *a, uint32_t comp)
{
    const char *what = still_describe_named(a->arena, a->plant, comp);
    return what == NULL ? NULL : SAY("%s, %s,", still_id_of(a->plant, comp), what);
}

/* "E-2 exchanger is not supplied from V-1 any more". */
static const char *loss_words(still_assembly *a, const still_service_loss *loss)
{
    const char *id = named(a, loss->kept);
    char label[256];
    if (id == NULL) return NULL;
    if (loss->port == STILL_NONE) return SAY("%s loses its last relief path (D4)", id);
    const char *at = still_port_label(a->plant, loss->port, label, sizeof label);
    if (loss->unknown)
        return SAY("%s may lose what %s at %s: positions that are not known decide which way is in "
                   "use, and one of the ways is shut",
                   id, loss->delivers ? "it delivers to" : "supplies it", at);
    const char *end = named(a, loss->end);
    if (end == NULL) return NULL;
    return loss->delivers ? SAY("%s does not deliver to %s any more at %s", id, end, at)
                          : SAY("%s is not supplied from %s any more at %s", id, end, at);
}

/* What is left without its feed by the isolators that are locked. */
static void mark_stopped(const still_assembly *a, uint8_t *stopped)
{
    const still_plant *plant = a->plant;
    for (uint32_t comp = 0; comp < plant->n_comps; comp++) {
        size_t n;
        const still_comp_feed *feeds = still_comp_feeds(plant, comp, &n);
        for (size_t k = 0; k < n; k++)
            for (uint32_t i = 0; i < a->iso->feeds.n; i++)
                if (still_isolator_feed(plant, feeds[k].feed) ==
                    still_isolator_feed(plant, a->iso->feeds.items[i]))
                    stopped[comp] = 1;
    }
}

static void tell_one(still_assembly *a, still_in_service *s, const uint8_t *shut,
                     const uint8_t *stopped, uint32_t kept)
{
    still_service_loss loss;
    const char *id = still_id_of(a->plant, kept);
    if (still_service_lost(s, shut, stopped, kept, &loss)) {
        const char *what = loss_words(a, &loss);
        still_add_finding(a, "N5", id, true, false,
                          what == NULL
                              ? NULL
                              : SAY("to be kept in service, but a feed is locked that a way "
                                    "of it depends on: %s",
                                    what));
        return;
    }
    still_add_assumption(
        a, "I8", id,
        "kept in service, as was asked: it stays under pressure beside the work. Its ways of "
        "supply "
        "and delivery were followed through what stands open today, to the first vessel or limit. "
        "Whether what is left of them is enough is not looked at");
}

/* What is lost all the same, since that was accepted by name. */
static void tell_waived(still_assembly *a, still_in_service *s, const uint8_t *shut)
{
    for (uint32_t comp = 0; comp < a->plant->n_comps; comp++) {
        still_service_loss loss;
        if (!s->waived[comp]) continue;
        s->waived[comp] = 0;
        bool lost = still_service_lost(s, shut, NULL, STILL_NONE, &loss) && loss.end == comp;
        s->waived[comp] = 1;
        const char *what = lost ? loss_words(a, &loss) : "";
        if (lost)
            still_add_finding(a, "I8", still_id_of(a->plant, comp), true, true,
                              what == NULL ? NULL
                                           : SAY("of what is to be kept in service: %s", what));
    }
}

void still_assemble_kept(still_assembly *a, still_judging *j)
{
    still_record *r = a->record;
    still_strings keep = {STILL_ARENA_NEW(a->arena, j->service.n_kept, const char *), 0};
    if (keep.items == NULL) {
        a->failed = true;
        return;
    }
    for (size_t i = 0; i < j->service.n_kept; i++)
        keep.items[keep.n++] = still_id_of(a->plant, j->service.kept[i]);
    r->option_keep = keep;
    if (!a->iso->feasible || keep.n == 0) return;
    uint8_t *stopped = still_calloc((size_t)a->plant->n_comps + 1, 1);
    if (stopped == NULL) {
        a->failed = true;
        return;
    }
    mark_stopped(a, stopped);
    for (uint32_t i = 0; i < a->iso->points.n; i++) j->shut[a->iso->points.items[i]] = 1;
    for (size_t i = 0; i < j->service.n_kept; i++)
        tell_one(a, &j->service, j->shut, stopped, j->service.kept[i]);
    tell_waived(a, &j->service, j->shut);
    for (uint32_t i = 0; i < a->iso->points.n; i++) j->shut[a->iso->points.items[i]] = 0;
    still_free(stopped);
}

static const char *list_words(still_assembly *a, const uint32_t *comps, uint32_t n)
{
    const char *text = "";
    for (uint32_t i = 0; i < n && text != NULL; i++)
        text = SAY("%s%s%s", text,
                   i == 0       ? ""
                   : i + 1 == n ? " and "
                                : ", ",
                   still_id_of(a->plant, comps[i]));
    return text;
}

const char *still_kept_obstacle(still_assembly *a, const still_judging *j)
{
    const char *all = list_words(a, j->refused, j->n_refused);
    const char *cause = list_words(a, j->cause, j->n_cause);
    const char *what = loss_words(a, &j->loss);
    if (all == NULL || cause == NULL || what == NULL) return NULL;
    const char *waive = "";
    if (j->loss.port != STILL_NONE && !j->loss.unknown)
        waive = SAY(". If it can do without, plan with --accept I8:%s",
                    still_id_of(a->plant, j->loss.end));
    if (waive == NULL) return NULL;
    return SAY("no choice of points leaves in service what is to be kept%s. Without --keep there "
               "is a choice: %s. With %s closed %s%s",
               a->iso->complete ? "" : " (the search was given up before all choices were seen)",
               all, cause, what, waive);
}
