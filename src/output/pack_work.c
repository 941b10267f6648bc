/* What whoever does it follows: what stays live, the tags, the steps. */
#include "pack.h"

#include "text_parts.h"

#include <string.h>

#define SAY(...) still_pack_say(p, __VA_ARGS__)

/* ---- still live ---- */

static bool same(const still_live_item *a, const still_live_item *b)
{
    return strcmp(a->place, b->place) == 0 && strcmp(a->why, b->why) == 0;
}

/* Whether somebody who carries this out goes to a place. */
static bool at_work(const still_pack *p, const char *place)
{
    const still_record *r = p->r;
    bool here = strcmp(r->target_place, place) == 0;
    for (size_t i = 0; i < r->n_points && !here; i++) here = strcmp(r->points[i].place, place) == 0;
    return here;
}

/* What could be taken for a point, and is none: what has a tag of its own stands in the tag list.
 */
static bool alike(const still_pack *p, const still_live_item *l)
{
    return l->look_alike && still_text_tag_of(p->r, l->id) == 0;
}

/* What else stays under pressure, without a tag. */
static bool beside(const still_pack *p, const still_live_item *l)
{
    return !l->look_alike && still_text_tag_of(p->r, l->id) == 0;
}

/* A step that is about a device all the same; NULL = none. */
static const still_step *naming(const still_record *r, const char *id)
{
    for (size_t i = 0; i < r->n_steps; i++)
        if (strcmp(r->steps[i].id, id) == 0) return &r->steps[i];
    return NULL;
}

/* By place; those first at which there is something to do. */
static void look_alikes(still_pack *p)
{
    const still_record *r = p->r;
    const char *const titles[] = {SAY("Do not touch"), SAY("Why it is no point"), NULL};
    const double shares[] = {0.22, 0.78};
    still_pblock *t = NULL;
    for (int here = 1; here >= 0; here--)
        for (size_t i = 0; i < r->n_still_live; i++) {
            const char *place = r->still_live[i].place;
            bool before = !alike(p, &r->still_live[i]) || at_work(p, place) != (here == 1);
            for (size_t k = 0; k < i && !before; k++)
                before = alike(p, &r->still_live[k]) && strcmp(r->still_live[k].place, place) == 0;
            if (before) continue;
            if (t == NULL) {
                still_pack_heading(p, SAY("Look-alike valves: easily taken for a point"));
                t = still_pack_table(p, SAY("Look-alike valves"), titles, shares);
            }
            still_pack_group(
                p, t,
                here       ? SAY("%s (here you work)", place[0] ? place : SAY("place not said"))
                      : place[0] ? place
                           : SAY("place not said"));
            for (size_t k = i; k < r->n_still_live; k++) {
                const still_live_item *l = &r->still_live[k];
                if (!alike(p, l) || strcmp(l->place, place) != 0) continue;
                still_prow *row = still_pack_row(p, t);
                const still_step *named = naming(r, l->id);
                still_pack_put(p, row, 0, STILL_P_STRONG, l->id);
                still_pack_put(p, row, 1, STILL_P_SMALL, still_pack_words(p, l->why));
                if (named != NULL)
                    still_pack_put(p, row, 1, STILL_P_STRONG,
                                   SAY("Only as step %u says.", named->n));
            }
        }
}

/* All others with one place and one reason as one row. */
static void other_live(still_pack *p)
{
    const still_record *r = p->r;
    const char *const titles[] = {SAY("Under pressure"), SAY("Place"), SAY("Why"), NULL};
    const double shares[] = {0.42, 0.26, 0.32};
    still_pblock *t = NULL;
    const char **ids = STILL_ARENA_NEW(&p->arena, r->n_still_live, const char *);
    if (ids == NULL) {
        p->failed = true;
        return;
    }
    for (size_t i = 0; i < r->n_still_live; i++) {
        const still_live_item *l = &r->still_live[i];
        bool before = !beside(p, l);
        for (size_t k = 0; k < i && !before; k++)
            before = beside(p, &r->still_live[k]) && same(&r->still_live[k], l);
        if (before) continue;
        still_strings list = {ids, 0};
        for (size_t k = i; k < r->n_still_live; k++)
            if (beside(p, &r->still_live[k]) && same(&r->still_live[k], l))
                ids[list.n++] = r->still_live[k].id;
        if (t == NULL) {
            still_pack_heading(p, SAY("Also under pressure beside the work"));
            t = still_pack_table(p, SAY("Under pressure beside the work"), titles, shares);
        }
        still_prow *row = still_pack_row(p, t);
        still_pack_put(p, row, 0, STILL_P_STRONG, still_pack_ids(p, list, 0));
        still_pack_put(p, row, 1, STILL_P_SMALL, l->place);
        still_pack_put(p, row, 2, STILL_P_SMALL, still_pack_words(p, l->why));
    }
}

static void live(still_pack *p)
{
    const still_record *r = p->r;
    if (!r->feasible)
        still_pack_text(p, STILL_P_WARN,
                        SAY("Everything stays under pressure: nothing is isolated."));
    else if (r->n_still_live == 0)
        still_pack_text(p, STILL_P_PLAIN,
                        SAY("Nothing that the plant file knows of stays under pressure beside the "
                            "work. Look all the same."));
    else
        still_pack_text(p, STILL_P_WARN,
                        SAY("These stay under pressure beside the work. Read the id on the device "
                            "before you put a hand on it."));
    look_alikes(p);
    other_live(p);
}

/* ---- tags ---- */

static const char *action_words(still_pack *p, still_action action)
{
    switch (action) {
    case STILL_ACTION_CLOSE: return SAY("CLOSE, hold closed");
    case STILL_ACTION_FIT: return SAY("FIT, keep fitted");
    case STILL_ACTION_REMOVE: return SAY("REMOVE, keep away");
    case STILL_ACTION_SWITCH_OFF: return SAY("SWITCH OFF, hold off");
    case STILL_ACTION_OPEN: return SAY("OPEN, hold open");
    }
    return "";
}

/* The step that moves, or else first names, a tag. */
static const still_step *step_of(const still_step *steps, size_t n, uint32_t tag)
{
    const still_step *first = NULL;
    for (size_t i = 0; i < n; i++) {
        if (steps[i].tag != tag) continue;
        if (steps[i].to[0] != '\0') return &steps[i];
        if (first == NULL) first = &steps[i];
    }
    return first;
}

static void tag_row(still_pack *p, still_pblock *t, const still_point *point)
{
    still_prow *row = still_pack_row(p, t);
    const still_step *step = step_of(p->r->steps, p->r->n_steps, point->tag);
    bool lock = strcmp(point->hold, "lock") == 0;
    still_pack_put(p, row, 0, STILL_P_TAG, SAY("%u", point->tag));
    still_pack_put(p, row, 1, STILL_P_ID, point->id);
    still_pack_put(p, row, 1, STILL_P_SMALL, still_pack_words(p, point->what));
    if (point->isolator[0] != '\0')
        still_pack_put(p, row, 1, STILL_P_STRONG, SAY("at: %s", point->isolator));
    still_pack_put(p, row, 2, STILL_P_LARGE, action_words(p, point->action));
    if (strcmp(point->from, point->to) == 0)
        still_pack_put(p, row, 2, STILL_P_SMALL,
                       SAY("stands %s already: check it", still_pack_word(p, point->to)));
    else
        still_pack_put(p, row, 2, STILL_P_SMALL,
                       SAY("found %s, leave it %s", still_pack_word(p, point->from),
                           still_pack_word(p, point->to)));
    if (step != NULL) still_pack_put(p, row, 2, STILL_P_SMALL, SAY("step %u", step->n));
    if (point->assumed_lockable)
        still_pack_put(p, row, 2, STILL_P_WARN,
                       SAY("only assumed to be lockable: look before you rely on it"));
    if (lock)
        still_pack_put(p, row, 3, STILL_P_WRITE, SAY("lock number"));
    else
        still_pack_put(p, row, 3, STILL_P_SMALL, SAY("no lock: tag only"));
    still_pack_put(p, row, 4, STILL_P_WRITE, SAY("tag number of the site"));
    still_pack_put(p, row, 5, STILL_P_WRITE, SAY("initials"));
    if (point->counted)
        still_pack_put(p, row, 6, STILL_P_WRITE, SAY("proved"));
    else
        still_pack_put(p, row, 6, STILL_P_SMALL, SAY("not a point"));
}

static void tags(still_pack *p)
{
    const still_record *r = p->r;
    const char *const titles[] = {SAY("Tag"),
                                  SAY("Device"),
                                  SAY("What to do, how to leave it"),
                                  SAY("Lock no."),
                                  SAY("Site's tag no."),
                                  SAY("Initials"),
                                  SAY("Proved"),
                                  NULL};
    const double shares[] = {0.08, 0.24, 0.26, 0.11, 0.11, 0.1, 0.1};
    still_pack_heading(p, SAY("Tag list, in the order of operation"));
    if (r->n_points == 0) {
        still_pack_text(p, STILL_P_PLAIN,
                        r->feasible ? SAY("No points.") : SAY("None: there is no plan."));
        return;
    }
    still_pblock *t = still_pack_table(p, SAY("Tag list"), titles, shares);
    t->grid = t->together = true;
    const char *phase = "", *place = NULL;
    for (size_t i = 0; i < r->n_points; i++) {
        const still_point *point = &r->points[i];
        const still_step *step = step_of(r->steps, r->n_steps, point->tag);
        const char *now = step != NULL ? step->phase : "";
        if (place == NULL || strcmp(phase, now) != 0 || strcmp(place, point->place) != 0)
            still_pack_group(p, t,
                             SAY("%s: %s", still_pack_word(p, now[0] ? now : "isolate"),
                                 point->place[0] ? point->place : SAY("place not said")));
        phase = now;
        place = point->place;
        tag_row(p, t, point);
    }
}

/* ---- steps ---- */

void still_pack_steps(still_pack *p, const char *caption, const still_step *steps, size_t n)
{
    const char *const titles[] = {SAY("Step"),   SAY("Do"),    SAY("Expect"),
                                  SAY("If not"), SAY("Noted"), NULL};
    const double shares[] = {0.09, 0.43, 0.17, 0.2, 0.11};
    still_pblock *t = still_pack_table(p, caption, titles, shares);
    t->grid = true;
    bool several = n > 0 && steps[n - 1].stage != steps[0].stage;
    for (size_t i = 0; i < n; i++) {
        const still_step *s = &steps[i];
        if (i == 0 || s->stage != steps[i - 1].stage || strcmp(s->phase, steps[i - 1].phase) != 0)
            still_pack_group(p, t,
                             several ? SAY("Stage %u: %s", s->stage, still_pack_word(p, s->phase))
                                     : still_pack_word(p, s->phase));
        still_prow *row = still_pack_row(p, t);
        still_pack_put(p, row, 0, STILL_P_BOX, SAY("%u", s->n));
        if (s->tag != 0) still_pack_put(p, row, 0, STILL_P_TAG, SAY("%u", s->tag));
        if (s->id[0] != '\0' && (s->from[0] != '\0' || s->to[0] != '\0'))
            still_pack_put(p, row, 1, STILL_P_ID,
                           SAY("%s: %s > %s", s->id,
                               still_pack_word(p, s->from[0] ? s->from : "unknown"),
                               still_pack_word(p, s->to[0] ? s->to : "unknown")));
        else
            still_pack_put(p, row, 1, STILL_P_ID, s->id);
        if (s->id[0] != '\0') still_pack_put(p, row, 1, STILL_P_SMALL, still_pack_place(p, s->id));
        still_pack_put(p, row, 1, STILL_P_PLAIN, still_pack_words(p, s->do_text));
        still_pack_put(p, row, 4, STILL_P_WRITE, SAY("initials, time, reading"));
        still_pack_put(p, row, 2, STILL_P_SMALL, still_pack_words(p, s->expect));
        still_pack_put(p, row, 3, STILL_P_SMALL, still_pack_words(p, s->if_not));
    }
}

/* The step that hangs a tag, and puts its lock on; else the one that moves the device. */
static const char *held_from(still_pack *p, uint32_t tag)
{
    const still_record *r = p->r;
    const still_step *moved = step_of(r->steps, r->n_steps, tag);
    for (size_t i = 0; i < r->n_steps; i++)
        if (r->steps[i].tag == tag && strcmp(r->steps[i].phase, "lock-and-tag") == 0)
            return SAY("%u", r->steps[i].n);
    return moved != NULL ? SAY("%u", moved->n) : "-";
}

/* Every move of a list, since a device may be moved more than once: "17: open; 18: closed". */
static const char *moves(still_pack *p, const still_step *steps, size_t n, uint32_t tag)
{
    const char *text = "";
    for (size_t i = 0; i < n; i++) {
        if (steps[i].tag != tag || steps[i].to[0] == '\0') continue;
        text = SAY("%s%s%u: %s", text, text[0] ? "; " : "", steps[i].n,
                   still_pack_word(p, steps[i].to));
    }
    return text;
}

static void shift(still_pack *p)
{
    const still_record *r = p->r;
    const char *const titles[] = {SAY("Tag"),
                                  SAY("Device"),
                                  SAY("moved in step"),
                                  SAY("held and tagged from step"),
                                  SAY("moved in step of the way back"),
                                  NULL};
    const double shares[] = {0.08, 0.22, 0.27, 0.16, 0.27};
    if (r->n_points == 0 || !r->feasible) return;
    still_pack_heading(p, SAY("At a change of shift: what stands how, by the last step ticked"));
    still_pblock *t = still_pack_table(p, SAY("Positions by step"), titles, shares);
    t->together = true;
    for (size_t i = 0; i < r->n_points; i++) {
        const still_point *point = &r->points[i];
        const char *there = moves(p, r->steps, r->n_steps, point->tag);
        const char *back = moves(p, r->restore, r->n_restore, point->tag);
        still_prow *row = still_pack_row(p, t);
        still_pack_put(p, row, 0, STILL_P_TAG, SAY("%u", point->tag));
        still_pack_put(p, row, 1, STILL_P_STRONG, point->id);
        still_pack_put(p, row, 2, STILL_P_PLAIN,
                       there[0] ? there : SAY("%s all the time", still_pack_word(p, point->to)));
        still_pack_put(p, row, 3, STILL_P_PLAIN, held_from(p, point->tag));
        still_pack_put(p, row, 4, STILL_P_PLAIN, back[0] ? back : "-");
    }
    still_pack_text(
        p, STILL_P_WARN,
        SAY("Some steps shut and open a device for a while (a hold, a purge, a change of "
            "hose): whoever takes over in the middle of a step reads it from its "
            "beginning, and looks at each device that it names."));
}

void still_pack_work(still_pack *p)
{
    const still_record *r = p->r;
    still_pack_part(p, "steps", SAY("C. Tag list and steps"), SAY("for whoever does it"), 11.0);
    if (!still_pack_may_pass(r))
        still_pack_text(
            p, STILL_P_WARN,
            SAY("STOP: no work by this plan. It cannot be approved (part A): plan or plant "
                "must change. What follows is to be looked at only."));
    else if (!r->ready)
        still_pack_text(p, STILL_P_WARN,
                        SAY("Not to be carried out as long as the decision in part A is not "
                            "\"approved\"."));
    if (still_pack_may_pass(r)) {
        const char *const titles[] = {SAY("Part A approved by"), SAY("Permit no."),
                                      SAY("Date, time (YYYY-MM-DD hh:mm)"), NULL};
        const double shares[] = {0.4, 0.25, 0.35};
        still_pblock *t = still_pack_table(p, SAY("Approval seen"), titles, shares);
        t->grid = true;
        still_prow *row = still_pack_row(p, t);
        still_pack_put(p, row, 0, STILL_P_WRITE, SAY("name"));
        still_pack_put(p, row, 1, STILL_P_WRITE, SAY("permit number"));
        still_pack_put(p, row, 2, STILL_P_WRITE, SAY("date and time"));
    }
    still_pack_heading(p, SAY("Still live beside the work"));
    live(p);
    tags(p);
    if (r->n_first > 0 && r->feasible) {
        still_pack_heading(p, SAY("First: shut what the plan before opened"));
        still_pack_steps(p, SAY("Steps before the steps"), r->first, r->n_first);
    }
    if (r->n_steps > 0) {
        still_pack_heading(p, SAY("Steps to isolate"))->fresh = true;
        still_pack_steps(p, SAY("Steps to isolate"), r->steps, r->n_steps);
    }
    shift(p);
}

static void ticked_off(still_pack *p)
{
    const still_record *r = p->r;
    const char *const titles[] = {
        SAY("Tag"),      SAY("Device"),  SAY("goes back to"), SAY("in step"),
        SAY("Lock off"), SAY("Tag off"), SAY("Initials"),     NULL};
    const double shares[] = {0.08, 0.28, 0.18, 0.1, 0.12, 0.12, 0.12};
    if (r->n_points == 0) return;
    still_pack_heading(p, SAY("Every tag off, every lock accounted for"));
    still_pblock *t = still_pack_table(p, SAY("Tags to be ticked off"), titles, shares);
    t->grid = t->together = true;
    for (size_t i = 0; i < r->n_points; i++) {
        const still_point *point = &r->points[i];
        const still_step *last = NULL;
        for (size_t k = 0; k < r->n_restore; k++)
            if (r->restore[k].tag == point->tag && r->restore[k].to[0] != '\0')
                last = &r->restore[k];
        still_prow *row = still_pack_row(p, t);
        still_pack_put(p, row, 0, STILL_P_TAG, SAY("%u", point->tag));
        still_pack_put(p, row, 1, STILL_P_ID, point->id);
        still_pack_put(p, row, 1, STILL_P_SMALL, point->place);
        still_pack_put(p, row, 2, STILL_P_PLAIN,
                       still_pack_word(p, last != NULL ? last->to : point->to));
        still_pack_put(p, row, 3, STILL_P_PLAIN, last != NULL ? SAY("%u", last->n) : "-");
        if (strcmp(point->hold, "lock") == 0)
            still_pack_put(p, row, 4, STILL_P_TICK, SAY("lock off"));
        else
            still_pack_put(p, row, 4, STILL_P_SMALL, SAY("no lock"));
        still_pack_put(p, row, 5, STILL_P_TICK, SAY("tag off"));
        still_pack_put(p, row, 6, STILL_P_WRITE, SAY("initials"));
    }
}

void still_pack_back(still_pack *p)
{
    const still_record *r = p->r;
    const still_step *steps = r->feasible ? r->restore : r->first;
    size_t n = r->feasible ? r->n_restore : r->n_first;
    if (n == 0) return;
    still_pack_part(p, "back", SAY("D. The way back"), SAY("for whoever does it"), 11.0);
    still_pack_steps(p, SAY("Steps of the way back"), steps, n);
    ticked_off(p);
}

/* ---- cards ---- */

/* How a card says that a device is held. */
static const char *held_words(still_pack *p, const still_point *point)
{
    bool lock = strcmp(point->hold, "lock") == 0;
    switch (point->action) {
    case STILL_ACTION_CLOSE:
        return lock ? SAY("Held closed by a lock") : SAY("Held closed by this tag alone");
    case STILL_ACTION_FIT:
        return lock ? SAY("Kept fitted by a lock") : SAY("Kept fitted by this tag alone");
    case STILL_ACTION_REMOVE:
        return lock ? SAY("Kept away by a lock") : SAY("Kept away by this tag alone");
    case STILL_ACTION_SWITCH_OFF:
        return lock ? SAY("Held off by a lock") : SAY("Held off by this tag alone");
    case STILL_ACTION_OPEN:
        return lock ? SAY("Held open by a lock") : SAY("Held open by this tag alone");
    }
    return "";
}

static const char *upper(still_pack *p, const char *hex)
{
    char *copy = STILL_ARENA_NEW(&p->arena, strlen(hex) + 1, char);
    if (copy == NULL) {
        p->failed = true;
        return "";
    }
    for (size_t i = 0; hex[i] != '\0'; i++)
        copy[i] = hex[i] >= 'a' && hex[i] <= 'z' ? (char)(hex[i] - 'a' + 'A') : hex[i];
    return copy;
}

void still_pack_cards(still_pack *p)
{
    const still_record *r = p->r;
    still_pack_part(p, "cards", SAY("E. Tag cards"), SAY("to cut out, one a tag"), 11.0);
    if (!still_pack_may_pass(r)) {
        still_pack_text(p, STILL_P_WARN, SAY("None: this plan cannot be approved."));
        return;
    }
    still_pack_text(p, STILL_P_SMALL,
                    SAY("Cut along the broken lines. A card is no lock: it says who holds the "
                        "device and why. Only the person who hung it takes it off."));
    still_pblock *b = still_pack_block(p, STILL_PB_CARDS);
    const char *origin = SAY("%s%s; %s; plan %.16s", r->ready ? "" : SAY("NOT READY; "),
                             still_pack_ids(p, r->targets, 2), r->plant_id, p->digest);
    const char *digest = upper(p, p->digest);
    for (size_t i = 0; i < r->n_points; i++) {
        const still_point *point = &r->points[i];
        still_pcard *card = STILL_ARENA_NEW(&p->arena, 1, still_pcard);
        if (card == NULL) {
            p->failed = true;
            return;
        }
        *card = (still_pcard){
            .point = point,
            .code = still_arena_printf(&p->arena, "STILLSET-PLAN-1 %s TAG %u", digest, point->tag),
            .action = held_words(p, point),
            .legend = still_pack_word(p, point->legend),
            .hold = still_pack_words(p, point->why),
            .origin = origin,
            .lock = strcmp(point->hold, "lock") == 0};
        if (card->code == NULL) p->failed = true;
        if (b->last_card != NULL)
            b->last_card->next = card;
        else
            b->first_card = card;
        b->last_card = card;
    }
}
