/* The appendix: the numbers behind it. */
#include "pack.h"

#include "text_parts.h"

#include <string.h>

#define SAY(...) still_pack_say(p, __VA_ARGS__)
#define FIGURE(value, unit) still_pack_figure(p, (value), 4, (unit))

static void room(still_pack *p, const still_compartment *c, size_t n)
{
    still_pack_text(
        p, STILL_P_STRONG,
        c->liquid ? SAY("Compartment %zu, %s, can hold liquid", n, still_pack_word(p, c->where))
                  : SAY("Compartment %zu, %s, holds no liquid", n, still_pack_word(p, c->where)));
    still_pblock *f = still_pack_block(p, STILL_PB_FIELDS);
    still_pack_field(p, f, SAY("parts"), still_pack_ids(p, c->ids, 0));
    still_pack_field(p, f, SAY("let off by"), still_pack_way(p, c->vent));
    if (c->liquid || c->drain.n > 0)
        still_pack_field(p, f, SAY("drained by"), still_pack_way(p, c->drain));
    for (size_t i = 0; i < c->n_further; i++)
        still_pack_field(p, f, SAY("and by"), still_pack_way(p, c->further[i]));
    still_pack_field(p, f, SAY("proved at"), still_pack_way(p, c->prove));
    still_pack_field(p, f, SAY("gauge"),
                     c->gauge[0]
                         ? SAY("%s, root valve %s", c->gauge,
                               c->gauge_via[0] ? c->gauge_via : still_pack_word(p, "unknown"))
                         : still_pack_word(p, "none"));
    still_pack_field(p, f, SAY("holds"),
                     SAY("volume %s, mass %s; liquid %s, vapour %s", FIGURE(c->volume_m3, "m3"),
                         FIGURE(c->mass_kg, "kg"), FIGURE(c->holds.liquid_kg, "kg"),
                         FIGURE(c->holds.vapour_kg, "kg")));
    if (c->liquid && c->drain.n == 0)
        still_pack_field(p, f, SAY("liquid left"), SAY("unknown: there is no drain"));
    else if (c->liquid && !c->drainage_shown)
        still_pack_field(p, f, SAY("liquid left"),
                         SAY("not known, heights are missing in the plant file, at %s",
                             still_pack_ids(p, c->not_shown, 0)));
    else if (c->liquid && c->n_pockets == 0)
        still_pack_field(p, f, SAY("liquid left"), SAY("none by the elevations of the file"));
    for (size_t i = 0; i < c->n_pockets; i++) {
        const still_pocket *k = &c->pockets[i];
        still_pack_field(p, f, SAY("liquid left"),
                         SAY("at %s: at most %s, %s, lowest at %s; %s",
                             still_pack_ids(p, k->ids, 0), FIGURE(k->volume_m3, "m3"),
                             FIGURE(k->mass_kg, "kg"), FIGURE(k->lowest_m, "m"),
                             still_pack_words(p, k->how)));
    }
    for (size_t i = 0; i < c->n_let_down; i++)
        still_pack_field(p, f, SAY("time"),
                         SAY("through %s: %s", c->let_down[i].through,
                             still_pack_words(p, c->let_down[i].text)));
}

static void inside(still_pack *p)
{
    const still_record *r = p->r;
    if (!r->feasible) return;
    still_pack_heading(p, SAY("What lies inside"));
    still_pblock *f = still_pack_block(p, STILL_PB_FIELDS);
    still_pack_field(p, f, SAY("inside the boundary"), still_pack_ids(p, r->inside, 0));
    for (size_t i = 0; i < r->n_between; i++)
        still_pack_field(p, f, SAY("between two points"), still_pack_ids(p, r->between[i].ids, 0));
    for (size_t i = 0; i < r->n_sources_inside; i++)
        still_pack_field(p, f, SAY("source inside"),
                         SAY("%s: %s", r->sources_inside[i].id,
                             still_pack_words(p, r->sources_inside[i].treatment)));
    for (size_t i = 0; i < r->n_compartments; i++) room(p, &r->compartments[i], i + 1);
    if (r->n_compartments > 0)
        still_pack_text(p, STILL_P_SMALL,
                        SAY("A pipe that dips between its ends is not seen; times prove nothing."));
}

static void segment(still_pack *p, const still_closed_in *c)
{
    bool open = strcmp(c->state, "uncovered") == 0;
    const char *name = c->ids.n > 0 ? c->ids.items[0] : "";
    for (size_t i = 1; i < c->ids.n; i++)
        if (strcmp(c->ids.items[i], name) < 0) name = c->ids.items[i];
    still_pack_text(p, open ? STILL_P_WARN : STILL_P_STRONG,
                    SAY("%s: %s, %s the boundary", name, still_pack_word(p, c->state),
                        still_pack_word(p, c->where)));
    still_pblock *f = still_pack_block(p, STILL_PB_FIELDS);
    if (strcmp(c->during, "steps") == 0)
        still_pack_field(
            p, f, SAY("when"),
            c->until_step > 0
                ? SAY("on the way: from step %u to step %u", c->from_step, c->until_step)
                : SAY("from step %u to the end of the steps", c->from_step));
    if (strcmp(c->during, "restore") == 0)
        still_pack_field(
            p, f, SAY("when"),
            c->until_step > 0
                ? SAY("on the way back: from step %u to step %u", c->from_step, c->until_step)
                : SAY("from step %u of the way back to its end", c->from_step));
    still_pack_field(p, f, SAY("parts"), still_pack_ids(p, c->ids, 0));
    still_pack_field(p, f, SAY("shut in by"), still_pack_ids(p, c->closed_by, 0));
    if (c->covered_by.n > 0)
        still_pack_field(p, f, SAY("covered by"), still_pack_ids(p, c->covered_by, 0));
    if (c->conditions.n > 0)
        still_pack_field(p, f, SAY("as long as these stand as they do"),
                         still_pack_ids(p, c->conditions, 0));
    still_pack_field(p, f, SAY("why"), still_pack_words(p, c->why));
    still_pack_field(
        p, f, SAY("figures"),
        SAY("volume %s, mass %s; pressure rises by %s; the weakest part reaches its "
            "design pressure at %s",
            FIGURE(c->volume_m3, "m3"), FIGURE(c->mass_kg, "kg"), FIGURE(c->bar_per_K, "bar/K"),
            strcmp(c->state, "not-full") == 0 ? SAY("no temperature up to ambient")
                                              : FIGURE(c->reaches_design_at_degC, "degC")));
    if (c->n_curve > 0) {
        still_pblock *b = still_pack_block(p, STILL_PB_CHART);
        b->segment = c;
        b->text = name;
        f = still_pack_block(p, STILL_PB_FIELDS);
    }
    for (size_t i = 0; i < c->n_remedies; i++)
        still_pack_field(p, f, SAY("what removes it"), still_pack_words(p, c->remedies[i].text));
}

static void closed_in(still_pack *p)
{
    const still_record *r = p->r;
    if (!r->feasible) return;
    still_pack_heading(p, SAY("Liquid that this plan shuts in"));
    if (r->n_closed_in == 0) still_pack_text(p, STILL_P_PLAIN, SAY("None was found."));
    for (int open = 1; open >= 0; open--)
        for (size_t i = 0; i < r->n_closed_in; i++)
            if ((strcmp(r->closed_in[i].state, "uncovered") == 0) == (open == 1))
                segment(p, &r->closed_in[i]);
    still_pack_text(p, STILL_P_SMALL,
                    SAY("Warming to %s, thermal expansion of closed-in fluid only. Fire, blocked "
                        "discharge, capacity and inlet loss are not checked.",
                        FIGURE(r->option_ambient_degC, "degC")));
}

/* The points of the plan that lie on a way: "HV-1 (tag 2), HV-2 (tag 3)". */
static const char *points_on(still_pack *p, const still_proof_path *way)
{
    const char *text = "";
    for (size_t i = 0; i < way->ids.n; i++) {
        uint32_t tag = still_text_tag_of(p->r, way->ids.items[i]);
        bool counted = tag > 0 && tag <= p->r->n_points && p->r->points[tag - 1].counted;
        if (!counted) continue;
        text = SAY("%s%s%s", text, text[0] ? ", " : "", SAY("%s (tag %u)", way->ids.items[i], tag));
    }
    return text[0] ? text : way->point;
}

static void proof(still_pack *p)
{
    const still_record *r = p->r;
    if (!r->feasible) return;
    const char *const titles[] = {SAY("Way"), SAY("cut at"), SAY("from the source to the work"),
                                  NULL};
    const double shares[] = {0.07, 0.16, 0.77};
    still_pack_heading(p, SAY("Paths of the proof"));
    still_pack_text(p, STILL_P_PLAIN, still_pack_proof(p));
    if (r->proof.n_paths == 0) return;
    still_pblock *t = still_pack_table(p, SAY("Paths of the proof"), titles, shares);
    for (size_t i = 0; i < r->proof.n_paths; i++) {
        const still_proof_path *way = &r->proof.paths[i];
        still_prow *row = still_pack_row(p, t);
        still_pack_put(p, row, 0, STILL_P_PLAIN, SAY("%zu", i + 1));
        still_pack_put(p, row, 1, STILL_P_PLAIN, points_on(p, way));
        still_pack_put(p, row, 2, STILL_P_PLAIN, still_pack_way(p, way->ids));
    }
}

static void demands(still_pack *p)
{
    const still_record *r = p->r;
    if (r->n_demands == 0) return;
    const char *const titles[] = {SAY("Source"), SAY("Grade"), SAY("Row of the policy"),
                                  SAY("because"), NULL};
    const double shares[] = {0.14, 0.14, 0.2, 0.52};
    still_pack_heading(p, SAY("What the policy asks for, source by source"));
    still_pblock *t = still_pack_table(p, SAY("Demands of the policy"), titles, shares);
    for (size_t i = 0; i < r->n_demands; i++) {
        const still_demand *d = &r->demands[i];
        still_prow *row = still_pack_row(p, t);
        still_pack_put(p, row, 0, STILL_P_STRONG, d->source);
        still_pack_put(p, row, 1, STILL_P_PLAIN, still_pack_word(p, d->grade));
        still_pack_put(p, row, 2, STILL_P_PLAIN, d->row);
        if (d->risk)
            still_pack_put(p, row, 2, STILL_P_STRONG, SAY("a person accepts what is left"));
        still_pack_put(p, row, 3, STILL_P_PLAIN, still_pack_words(p, d->because));
    }
}

/* @param only  those of a rule; "" = all, without their ids; NULL = all with them */
static void list(still_pack *p, const char *heading, const still_remark *remarks, size_t n,
                 const char *only)
{
    still_pblock *items = NULL;
    for (size_t i = 0; i < n; i++) {
        const still_remark *m = &remarks[i];
        if (only != NULL && only[0] != '\0' && strcmp(m->rule, only) != 0) continue;
        if (items == NULL) {
            still_pack_heading(p, heading);
            items = still_pack_block(p, STILL_PB_ITEMS);
        }
        bool named = m->id[0] != '\0' && only == NULL;
        still_pack_item(p, items,
                        named ? SAY("%s (%s): %s", m->id, m->rule, still_pack_words(p, m->text))
                              : still_pack_words(p, m->text));
    }
}

static void notes(still_pack *p)
{
    const still_record *r = p->r;
    still_pblock *items = NULL;
    for (size_t i = 0; i < r->n_findings; i++) {
        const still_finding *f = &r->findings[i];
        if (f->blocks) continue;
        if (items == NULL) {
            still_pack_heading(p, SAY("Findings that do not block"));
            items = still_pack_block(p, STILL_PB_ITEMS);
        }
        still_pack_item(p, items, SAY("%s (%s): %s", f->id, f->rule, still_pack_words(p, f->text)));
    }
}

static void reasons(still_pack *p, const char *heading, const still_step *steps, size_t n)
{
    const char *const titles[] = {SAY("Step"), SAY("Why"), NULL};
    const double shares[] = {0.07, 0.93};
    if (n == 0) return;
    still_pack_heading(p, heading);
    still_pblock *t = still_pack_table(p, heading, titles, shares);
    for (size_t i = 0; i < n; i++) {
        if (steps[i].why[0] == '\0') continue;
        still_prow *row = still_pack_row(p, t);
        still_pack_put(p, row, 0, STILL_P_PLAIN, SAY("%u", steps[i].n));
        still_pack_put(p, row, 1, STILL_P_PLAIN, still_pack_words(p, steps[i].why));
    }
}

static void positions(still_pack *p, const char *heading, const still_position_of *list_of,
                      size_t n)
{
    if (n == 0) return;
    still_pack_heading(p, heading);
    still_pblock *items = still_pack_block(p, STILL_PB_ITEMS);
    for (size_t i = 0; i < n; i++)
        still_pack_item(p, items,
                        SAY("%s: %s", list_of[i].id, still_pack_word(p, list_of[i].position)));
}

static void found(still_pack *p)
{
    const still_record *r = p->r;
    if (r->n_found == 0) return;
    still_pack_heading(p, SAY("Found today, by the state file"));
    still_pblock *items = still_pack_block(p, STILL_PB_ITEMS);
    for (size_t i = 0; i < r->n_found; i++) {
        const still_found *f = &r->found[i];
        const char *text = f->id;
        const char *const said[] = {f->position, f->condition, f->contents, f->energised};
        for (int k = 0; k < 4; k++)
            if (said[k][0] != '\0') text = SAY("%s; %s", text, still_pack_word(p, said[k]));
        still_pack_item(p, items, text);
    }
}

static void options(still_pack *p, still_pblock *f, const char *name, still_strings ids)
{
    if (ids.n > 0) still_pack_field(p, f, name, still_pack_ids(p, ids, 0));
}

static void origin(still_pack *p)
{
    const still_record *r = p->r;
    still_pack_heading(p, SAY("Made from"));
    still_pblock *f = still_pack_block(p, STILL_PB_FIELDS);
    still_pack_field(p, f, SAY("plan record, SHA-256"), p->digest);
    still_pack_field(p, f, SAY("plant file"), r->plant_file);
    still_pack_field(p, f, SAY("its SHA-256"), r->plant_digest);
    still_pack_field(p, f, SAY("state file, SHA-256"), r->state_digest);
    still_pack_field(p, f, SAY("policy"),
                     r->policy_id[0] ? (r->policy_digest[0]
                                            ? SAY("%s, SHA-256 %s", r->policy_id, r->policy_digest)
                                            : SAY("%s, built in", r->policy_id))
                                     : "");
    if (r->site_id[0])
        still_pack_field(p, f, SAY("site file"), SAY("%s, SHA-256 %s", r->site_id, r->site_digest));
    if (r->checklists_digest[0])
        still_pack_field(p, f, SAY("checklists"),
                         SAY("%s, SHA-256 %s", r->checklists_id, r->checklists_digest));
    still_pack_field(p, f, SAY("grade asked for"), still_pack_word(p, r->option_grade));
    options(p, f, SAY("avoided"), r->option_avoid);
    options(p, f, SAY("kept in service"), r->option_keep);
    options(p, f, SAY("accepted"), r->option_accept);
    still_pack_field(p, f, SAY("program"), SAY("%s %s", r->program, r->version));
}

void still_pack_more(still_pack *p)
{
    const still_record *r = p->r;
    still_pack_part(p, "appendix", SAY("F. Appendix"), SAY("for the engineer"), 8.5);
    inside(p);
    closed_in(p);
    proof(p);
    demands(p);
    list(p, SAY("Why these points"), r->explain, r->n_explain, "I1");
    notes(p);
    list(p, SAY("Assumptions"), r->assumptions, r->n_assumptions, NULL);
    found(p);
    positions(p, SAY("Found otherwise than in the plant file"), r->start, r->n_start);
    positions(p, SAY("After the last step, otherwise than in the plant file"), r->end, r->n_end);
    reasons(p, SAY("Why each step"), r->steps, r->n_steps);
    reasons(p, SAY("Why each step of the way back"), r->restore, r->n_restore);
    list(p, SAY("Cautions"), r->cautions, r->n_cautions, "");
    origin(p);
}
