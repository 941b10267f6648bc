/* The page for whoever approves: what is asked, what was found, what has to be decided. */
#include "pack.h"

#include "text_parts.h"

#include <math.h>
#include <string.h>

#define SAY(...) still_pack_say(p, __VA_ARGS__)

/** Size of its type where there is room, in tenths of a point. */
enum { SIZE_TENTHS = 92 };

static const char *work_words(still_pack *p)
{
    const char *work = p->r->work;
    if (strcmp(work, "entry") == 0) return SAY("entry: a person goes in");
    if (strcmp(work, "hot-work") == 0) return SAY("hot work");
    if (strcmp(work, "long-term") == 0) return SAY("long-term isolation");
    return SAY("opening of the equipment");
}

static const char *verdict(still_pack *p)
{
    const still_record *r = p->r;
    size_t n = still_text_blocking(r);
    if (!r->feasible)
        return SAY("CANNOT BE ISOLATED: no choice of points gives the grade that is needed. Do "
                   "not open it.");
    if (!still_pack_may_pass(r))
        return SAY(
            "CANNOT BE APPROVED: a finding that blocks cannot be accepted. Plan or plant must "
            "change; not to be carried out.");
    if (n == 1)
        return SAY("NOT READY: one finding blocks. Not to be carried out until it is cleared or "
                   "accepted by name.");
    if (n > 1)
        return SAY("NOT READY: %zu findings block. Not to be carried out until each one is "
                   "cleared or accepted by name.",
                   n);
    if (!r->ready) return SAY("NOT READY. Not to be carried out.");
    return SAY("READY: no finding blocks. To be approved by a competent person, and checked in "
               "the plant, before the first step.");
}

/* Whose plant, which work. */
static void subject(still_pack *p)
{
    const still_record *r = p->r;
    still_pack_text(p, r->ready ? STILL_P_STRONG : STILL_P_WARN, verdict(p));
    still_pblock *f = still_pack_block(p, STILL_PB_FIELDS);
    still_pack_field(p, f, SAY("Plant:"),
                     SAY("%s, %s, revision %s", r->plant_name, r->plant_id,
                         r->plant_revision[0] ? r->plant_revision : SAY("not said")));
    still_pack_field(
        p, f, SAY("Work:"),
        SAY("%s: %s (%s)", still_pack_ids(p, r->targets, 0), work_words(p), r->target_what));
    still_pack_field(p, f, SAY("Place:"), r->target_place[0] ? r->target_place : SAY("not said"));
    still_pack_field(p, f, SAY("Grade:"),
                     SAY("needed %s, reached %s.",
                         still_pack_word(p, r->grade_required[0] ? r->grade_required : "unknown"),
                         still_pack_word(p, r->grade_achieved[0] ? r->grade_achieved : "none")));
    still_pack_field(p, f, SAY("because:"), still_pack_words(p, r->grade_because));
    still_pack_field(p, f, SAY("short by:"), still_pack_words(p, r->grade_shortfall));
    if (!r->feasible) return;
    still_pack_field(p, f, SAY("Points:"),
                     SAY("%u to lock or fit; %u sources taken inside; %zu tags, %zu steps",
                         r->cost_points, r->cost_sources, r->n_points, r->n_steps));
    if (r->goes_on)
        still_pack_field(p, f, SAY("Goes on:"),
                         SAY("from a plan before, of which %zu steps are done", r->n_done));
}

static void proof(still_pack *p)
{
    const still_record *r = p->r;
    still_pack_heading(p, SAY("Proof, checked a second time by other means"));
    still_pack_text(p, STILL_P_PLAIN, still_pack_proof(p));
    still_strings closed = {0};
    const char **ids = STILL_ARENA_NEW(&p->arena, r->n_points, const char *);
    if (ids == NULL) {
        p->failed = true;
        return;
    }
    for (size_t i = 0; i < r->n_points; i++)
        if (r->points[i].counted) ids[closed.n++] = r->points[i].id;
    closed.items = ids;
    still_pack_text(
        p, STILL_P_PLAIN,
        SAY("Points: %s. With these shut, switched off or fitted, a walk from each source of the "
            "plant does not reach the work.",
            still_pack_ids(p, closed, 0)));
}

static void obstacle(still_pack *p)
{
    const still_obstacle *o = &p->r->obstacle;
    still_pack_heading(p, SAY("Why it cannot be isolated"));
    still_pack_text(p, STILL_P_PLAIN, still_pack_words(p, o->text));
    still_pblock *f = still_pack_block(p, STILL_PB_FIELDS);
    if (o->path.n > 0) still_pack_field(p, f, SAY("Way:"), still_pack_way(p, o->path));
    still_pack_field(p, f, SAY("Best grade:"),
                     still_pack_word(p, o->best_grade[0] ? o->best_grade : "none"));
    if (o->n_would_help == 0) return;
    still_pack_text(p, STILL_P_STRONG,
                    o->help_is_set ? SAY("What would help, all of these together:")
                                   : SAY("What would help, any one of these:"));
    still_pblock *items = still_pack_block(p, STILL_PB_ITEMS);
    for (size_t i = 0; i < o->n_would_help; i++)
        still_pack_item(
            p, items,
            SAY("%s: %s", o->would_help[i].id, still_pack_words(p, o->would_help[i].text)));
}

static void decision_boxes(still_pack *p, still_prow *row)
{
    still_pack_put(p, row, 1, STILL_P_BOX, SAY("accepted"));
    still_pack_put(p, row, 1, STILL_P_BOX, SAY("refused"));
}

/* What blocks comes first, in full: it cannot be left to an appendix. */
static void findings(still_pack *p)
{
    const still_record *r = p->r;
    size_t rest = 0;
    const char *const titles[] = {SAY("What was found"), SAY("Decision"), NULL};
    const double shares[] = {0.86, 0.14};
    still_pblock *t = NULL;
    still_pack_heading(p, SAY("To be decided"));
    for (int accepted = 0; accepted < 2; accepted++)
        for (size_t i = 0; i < r->n_findings; i++) {
            const still_finding *f = &r->findings[i];
            if (!f->blocks || f->accepted != (accepted == 1)) continue;
            if (t == NULL) t = still_pack_table(p, SAY("Findings that block"), titles, shares);
            still_prow *row = still_pack_row(p, t);
            still_pack_put(p, row, 0, accepted ? STILL_P_STRONG : STILL_P_WARN,
                           SAY("%s, rule %s", f->id, f->rule));
            still_pack_put(p, row, 0, STILL_P_PLAIN, still_pack_words(p, f->text));
            if (accepted)
                still_pack_put(p, row, 1, STILL_P_STRONG, SAY("accepted by name for this plan"));
            else if (f->acceptable)
                decision_boxes(p, row);
            else
                still_pack_put(p, row, 1, STILL_P_STRONG,
                               SAY("cannot be accepted: plan or plant must change"));
        }
    for (size_t i = 0; i < r->n_findings; i++) rest += !r->findings[i].blocks;
    const char *others =
        rest > 0 ? SAY("Findings that do not block: %zu, in the appendix.", rest) : "";
    if (t == NULL || rest > 0)
        still_pack_text(p, STILL_P_PLAIN,
                        SAY("%s%s%s", t == NULL ? SAY("No finding blocks.") : "",
                            t == NULL && rest > 0 ? " " : "", others));
}

static void choices(still_pack *p)
{
    const still_record *r = p->r;
    if (!r->feasible) return;
    const char *const titles[] = {SAY("Other choice"), SAY("Decision"), NULL};
    const double shares[] = {0.86, 0.14};
    if (r->n_alternatives == 0)
        still_pack_text(
            p, STILL_P_PLAIN,
            r->alternatives_complete
                ? SAY("No other choice at this grade was found that is better in anything.")
                : SAY("No other choice was found at this grade, but the search was given up."));
    if (r->n_alternatives == 0) return;
    still_pack_heading(p, SAY("Other choices"));
    still_pblock *t = still_pack_table(p, SAY("Other choices of points"), titles, shares);
    for (int near = 1; near >= 0; near--)
        for (size_t i = 0; i < r->n_alternatives; i++) {
            const still_alternative *a = &r->alternatives[i];
            if (a->near != (near == 1)) continue;
            still_prow *row = still_pack_row(p, t);
            if (near == 1)
                still_pack_put(p, row, 0, STILL_P_STRONG,
                               SAY("Near choice %zu, to be declined by name", i + 1));
            still_pack_put(p, row, 0, STILL_P_PLAIN, still_pack_words(p, a->text));
            still_pack_put(p, row, 0, STILL_P_SMALL,
                           SAY("Points: %s", still_pack_ids(p, a->points, 0)));
            if (near == 1) {
                still_pack_put(p, row, 1, STILL_P_BOX, SAY("declined"));
                still_pack_put(p, row, 1, STILL_P_BOX, SAY("plan for it"));
            }
        }
}

/* What is inside has to go somewhere. */
static void masses(still_pack *p)
{
    const still_record *r = p->r;
    if (!r->feasible) return;
    const still_inventory *h = &r->inventory;
    still_pack_heading(p, SAY("What must go somewhere"));
    still_pack_text(
        p, STILL_P_PLAIN,
        SAY("Inside, what is opened included: liquid %s (%s), vapour %s (%s); enclosed mass %s.",
            still_pack_figure(p, h->liquid_kg, 3, "kg"),
            still_pack_figure(p, h->liquid_m3, 3, "m3"),
            still_pack_figure(p, h->vapour_kg, 3, "kg"),
            still_pack_figure(p, h->vapour_m3, 3, "m3"),
            still_pack_figure(p, r->cost_mass_kg, 3, "kg")));
    still_pblock *items = NULL;
    for (size_t i = 0; i < r->n_compartments; i++) {
        const still_compartment *c = &r->compartments[i];
        if (items == NULL) items = still_pack_block(p, STILL_PB_ITEMS);
        double left = 0.0;
        for (size_t k = 0; k < c->n_pockets; k++) left += c->pockets[k].mass_kg;
        const char *stays =
            c->liquid && c->drain.n == 0
                ? SAY("; %s stays inside", still_pack_figure(p, c->mass_kg, 3, "kg"))
            : c->liquid && !c->drainage_shown ? SAY("; what stays behind is not known")
            : c->n_pockets == 0               ? ""
            : isnan(left)                     ? SAY("; some of it stays below the drain")
                                              : SAY("; up to %s of it stays below the drain",
                                                    still_pack_figure(p, left, 3, "kg"));
        still_pack_item(p, items,
                        SAY("%s: let off by %s; drained by %s%s", still_pack_ids(p, c->ids, 4),
                            still_pack_way(p, c->vent),
                            c->liquid || c->drain.n > 0 ? still_pack_way(p, c->drain)
                                                        : SAY("nothing: it holds no liquid"),
                            stays));
    }
}

static void assumptions(still_pack *p)
{
    const still_record *r = p->r;
    if (r->n_assumptions == 0) {
        still_pack_heading(p, SAY("Assumed"));
        still_pack_text(p, STILL_P_PLAIN, SAY("Nothing."));
        return;
    }
    still_pack_heading(
        p, SAY("Assumed (tick: looked at in the plant, and it holds): %zu", r->n_assumptions));
    still_pblock *items = still_pack_block(p, STILL_PB_ITEMS);
    items->may_cut = items->boxes = true;
    for (size_t i = 0; i < r->n_assumptions; i++)
        still_pack_item(p, items,
                        SAY("%s (%s): %s", r->assumptions[i].id, r->assumptions[i].rule,
                            still_pack_words(p, r->assumptions[i].text)));
}

static void approval(still_pack *p)
{
    if (!still_pack_may_pass(p->r))
        still_pack_text(p, STILL_P_WARN,
                        SAY("It cannot be approved: plan or plant must change first."));
    const char *const titles[] = {SAY("Approved"),
                                  SAY("Refused"),
                                  SAY("Name"),
                                  SAY("Signature"),
                                  SAY("Date, time (YYYY-MM-DD hh:mm)"),
                                  NULL};
    const double shares[] = {0.12, 0.12, 0.23, 0.23, 0.3};
    still_pblock *t = still_pack_table(p, SAY("Approval"), titles, shares);
    t->grid = true;
    still_prow *row = still_pack_row(p, t);
    if (still_pack_may_pass(p->r))
        still_pack_put(p, row, 0, STILL_P_TICK, SAY("approved"));
    else
        still_pack_put(p, row, 0, STILL_P_SMALL, SAY("not possible"));
    still_pack_put(p, row, 1, STILL_P_TICK, SAY("refused"));
    still_pack_put(p, row, 2, STILL_P_WRITE, SAY("name"));
    still_pack_put(p, row, 3, STILL_P_WRITE, SAY("signature"));
    still_pack_put(p, row, 4, STILL_P_WRITE, SAY("date and time"));
    still_pack_text(p, STILL_P_SMALL,
                    SAY("Only competent persons authorised by the site may approve and carry out. "
                        "The local code and the site's permit rules come first. The data may be "
                        "wrong: walk the drawing down. Cautions in full in the appendix."));
}

void still_pack_lead(still_pack *p)
{
    still_pblock *part = still_pack_part(p, "decision", SAY("A. Decision"),
                                         SAY("for whoever approves"), SIZE_TENTHS / 10.0);
    part->one_page = true;
    subject(p);
    if (p->r->feasible)
        proof(p);
    else
        obstacle(p);
    findings(p);
    choices(p);
    masses(p);
    assumptions(p);
    approval(p);
}

/* What the picture shows, for those who cannot see it. On paper the picture stands alone. */
static void in_words(still_pack *p)
{
    const still_record *r = p->r;
    still_pack_heading(p, SAY("The diagram in words"));
    still_pblock *items = still_pack_block(p, STILL_PB_ITEMS);
    still_pack_item(p, items, SAY("The work: %s", still_pack_ids(p, r->targets, 0)));
    for (size_t i = 0; i < r->n_points; i++) {
        const still_point *point = &r->points[i];
        still_pack_item(p, items,
                        point->counted ? SAY("Tag %u at the boundary: %s, %s", point->tag,
                                             point->id, still_pack_word(p, point->to))
                                       : SAY("Tag %u: %s, %s", point->tag, point->id,
                                             still_pack_word(p, point->to)));
    }
    if (r->inside.n > 0)
        still_pack_item(p, items, SAY("Inside the boundary: %s", still_pack_ids(p, r->inside, 0)));
    for (size_t i = 0; i < r->n_closed_in; i++)
        if (strcmp(r->closed_in[i].state, "uncovered") == 0)
            still_pack_item(p, items,
                            SAY("Liquid closed in without relief: %s",
                                still_pack_ids(p, r->closed_in[i].ids, 0)));
    for (size_t i = 0; i < r->n_demands; i++)
        still_pack_item(p, items, SAY("Source in reach: %s", r->demands[i].source));
    if (!r->feasible && r->obstacle.path.n > 0)
        still_pack_item(p, items,
                        SAY("Way that nothing can close: %s", still_pack_way(p, r->obstacle.path)));
}

void still_pack_diagram(still_pack *p)
{
    still_pack_part(p, "diagram", SAY("B. Diagram"), SAY("for everybody"), 9.0);
    still_pblock *b = still_pack_block(p, STILL_PB_DIAGRAM);
    b->note = SAY("Diagram of the work and what is around it");
    b->text = SAY("All that it shows stands in words below it.");
    in_words(p);
}
