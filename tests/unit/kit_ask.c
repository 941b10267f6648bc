/* Questions that a row may ask (plantkit.h), and how their answers are written.
 *
 *   feasible, ready, grade        yes | no; yes | no; grade achieved
 *   cost                          "SOURCES POINTS"
 *   mass                          kilograms with three decimals, or "unknown"
 *   points                        counted ids in bytewise order; tags: all ids in the order of
 * operation tag ID                        "ACTION FROM>TO HOLD: LEGEND", or "none" sources, inside
 * ID            ids taken inside; yes | no finding RULE [ID]             "blocks", "accepted",
 * "final" (cannot be accepted), "note", "none" assumed RULE [ID]             yes | no path, help,
 * help-is, best     the obstacle: ids; ids; "any" | "all"; grade proof, bound, feeds paths parted
 * by " | "; number; ids shut-in ID                    "STATE WHERE" of the closed-in segment that
 * holds it, or "none" closed-by ID, cover ID, conditions ID, size ID, remedies ID of that segment;
 * size: "LITRES KILOGRAMS" rooms, room ID                number of compartments; ids of the one
 * that holds it vent ID, drain ID, prove ID, gauge ID, liquid ID, room-size ID, pockets ID    of
 * that one; not-shown ID, air ID, held ID (litres and kilograms of liquid, then of vapour), loosen
 * ID, evaporate ID, suction ID, lowest ID, place ID (of its first pocket), seconds OUTLET;
 * inventory as held; told RULE WORDS               yes | no: a finding of the rule says so live ID
 * "live" | "look-alike" | "no" phases, back-phases each once in a row steps PHASE, back PHASE ids
 * of the steps of a phase, "-" for none change PHASE ID, change-back PHASE ID "FROM>TO" of the
 * first step that changes it, or "none" says PHASE WORDS, back-says PHASE WORDS             yes |
 * no: a step of the phase says so cautioned RULE WORDS          yes | no relief ID "covered |
 * uncovered" and the opening pressure in barg, or "none" full ID                       yes | no:
 * the piece counts as full of liquid joined A B                    yes | no: the two stand in one
 * piece (L1) */
#include "plantkit.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

typedef void (*answerer)(kit *k, const char *a, const char *b);

static void say(kit *k, const char *text)
{
    still_buf_add(&k->answer, text);
}

static void yes(kit *k, bool is)
{
    say(k, is ? "yes" : "no");
}

static void list(kit *k, const still_strings *ids)
{
    for (size_t i = 0; i < ids->n; i++)
        still_buf_printf(&k->answer, "%s%s", i ? " " : "", ids->items[i]);
}

static void number(kit *k, double value, const char *unit)
{
    if (isnan(value))
        say(k, "unknown");
    else
        still_buf_printf(&k->answer, "%.4g%s", value, unit);
}

static void feasible(kit *k, const char *a, const char *b)
{
    (void)a, (void)b;
    yes(k, k->r->feasible);
}

static void ready(kit *k, const char *a, const char *b)
{
    (void)a, (void)b;
    yes(k, k->r->ready);
}

static void grade(kit *k, const char *a, const char *b)
{
    (void)a, (void)b;
    say(k, k->r->grade_achieved);
}

static void cost(kit *k, const char *a, const char *b)
{
    (void)a, (void)b;
    still_buf_printf(&k->answer, "%u %u", k->r->cost_sources, k->r->cost_points);
}

static void mass(kit *k, const char *a, const char *b)
{
    (void)a, (void)b;
    if (isnan(k->r->cost_mass_kg))
        say(k, "unknown");
    else
        still_buf_printf(&k->answer, "%.3f", k->r->cost_mass_kg);
}

static int by_bytes(const void *pa, const void *pb)
{
    const char *const *a = pa, *const *b = pb;
    return strcmp(*a, *b);
}

static void points(kit *k, const char *a, const char *b)
{
    const char *ids[64];
    still_strings counted = {ids, 0};
    (void)a, (void)b;
    for (size_t i = 0; i < k->r->n_points && counted.n < 64; i++)
        if (k->r->points[i].counted) ids[counted.n++] = k->r->points[i].id;
    qsort(ids, counted.n, sizeof ids[0], by_bytes);
    list(k, &counted);
}

static void tags(kit *k, const char *a, const char *b)
{
    (void)a, (void)b;
    for (size_t i = 0; i < k->r->n_points; i++)
        still_buf_printf(&k->answer, "%s%s", i ? " " : "", k->r->points[i].id);
}

static void tag(kit *k, const char *a, const char *b)
{
    const still_point *p = kit_point(k, a);
    (void)b;
    if (p == NULL)
        say(k, "none");
    else
        still_buf_printf(&k->answer, "%s %s>%s %s: %s", still_action_text(p->action), p->from,
                         p->to, p->hold, p->legend);
}

static void sources(kit *k, const char *a, const char *b)
{
    (void)a, (void)b;
    for (size_t i = 0; i < k->r->n_sources_inside; i++)
        still_buf_printf(&k->answer, "%s%s", i ? " " : "", k->r->sources_inside[i].id);
}

static void inside(kit *k, const char *a, const char *b)
{
    bool is = false;
    (void)b;
    for (size_t i = 0; i < k->r->inside.n; i++) is |= strcmp(k->r->inside.items[i], a) == 0;
    yes(k, is);
}

static void finding(kit *k, const char *a, const char *b)
{
    const still_finding *f = kit_finding(k, a, b[0] ? b : NULL);
    if (f == NULL)
        say(k, "none");
    else if (!f->blocks)
        say(k, "note");
    else
        say(k, f->accepted ? "accepted" : f->acceptable ? "blocks" : "final");
}

static void assumed(kit *k, const char *a, const char *b)
{
    yes(k, kit_assumption(k, a, b[0] ? b : NULL) != NULL);
}

static void path(kit *k, const char *a, const char *b)
{
    (void)a, (void)b;
    list(k, &k->r->obstacle.path);
}

static void help(kit *k, const char *a, const char *b)
{
    (void)a, (void)b;
    for (size_t i = 0; i < k->r->obstacle.n_would_help; i++)
        still_buf_printf(&k->answer, "%s%s", i ? " " : "", k->r->obstacle.would_help[i].id);
}

static void help_is(kit *k, const char *a, const char *b)
{
    (void)a, (void)b;
    say(k, k->r->obstacle.help_is_set ? "all" : "any");
}

static void best(kit *k, const char *a, const char *b)
{
    (void)a, (void)b;
    say(k, k->r->obstacle.best_grade);
}

static void proof(kit *k, const char *a, const char *b)
{
    (void)a, (void)b;
    for (size_t i = 0; i < k->r->proof.n_paths; i++) {
        say(k, i ? " | " : "");
        list(k, &k->r->proof.paths[i].ids);
    }
}

static void bound(kit *k, const char *a, const char *b)
{
    (void)a, (void)b;
    still_buf_printf(&k->answer, "%u", k->r->proof.bound);
}

static void feeds(kit *k, const char *a, const char *b)
{
    (void)a, (void)b;
    list(k, &k->r->proof.feeds);
}

static void shut_in(kit *k, const char *a, const char *b)
{
    const still_closed_in *c = kit_closed_in(k, a);
    (void)b;
    if (c == NULL)
        say(k, "none");
    else
        still_buf_printf(&k->answer, "%s %s", c->state, c->where);
}

static const still_closed_in *segment(kit *k, const char *id)
{
    const still_closed_in *c = kit_closed_in(k, id);
    if (c == NULL) fail_msg("no closed-in segment holds %s", id);
    return c;
}

static void closed_by(kit *k, const char *a, const char *b)
{
    (void)b;
    list(k, &segment(k, a)->closed_by);
}

static void cover(kit *k, const char *a, const char *b)
{
    (void)b;
    list(k, &segment(k, a)->covered_by);
}

static void conditions(kit *k, const char *a, const char *b)
{
    (void)b;
    list(k, &segment(k, a)->conditions);
}

/* "order P V / open X / drain DV O", or "none". */
static void remedies(kit *k, const char *a, const char *b)
{
    const still_closed_in *c = segment(k, a);
    (void)b;
    if (c->n_remedies == 0) say(k, "none");
    for (size_t i = 0; i < c->n_remedies; i++) {
        still_buf_printf(&k->answer, "%s%s", i > 0 ? " / " : "", c->remedies[i].kind);
        for (size_t n = 0; n < c->remedies[i].ids.n; n++)
            still_buf_printf(&k->answer, " %s", c->remedies[i].ids.items[n]);
    }
}

static void size(kit *k, const char *a, const char *b)
{
    const still_closed_in *c = segment(k, a);
    (void)b;
    number(k, c->volume_m3 * 1000, " L ");
    number(k, c->mass_kg, " kg");
}

static void rooms(kit *k, const char *a, const char *b)
{
    (void)a, (void)b;
    still_buf_printf(&k->answer, "%zu", k->r->n_compartments);
}

static const still_compartment *room_of(kit *k, const char *id)
{
    const still_compartment *c = kit_room(k, id);
    if (c == NULL) fail_msg("no compartment holds %s", id);
    return c;
}

static void room(kit *k, const char *a, const char *b)
{
    (void)b;
    list(k, &room_of(k, a)->ids);
}

static void vent(kit *k, const char *a, const char *b)
{
    (void)b;
    list(k, &room_of(k, a)->vent);
}

static void drain(kit *k, const char *a, const char *b)
{
    (void)b;
    list(k, &room_of(k, a)->drain);
}

static void prove(kit *k, const char *a, const char *b)
{
    (void)b;
    list(k, &room_of(k, a)->prove);
}

static void gauge(kit *k, const char *a, const char *b)
{
    const still_compartment *c = room_of(k, a);
    (void)b;
    still_buf_printf(&k->answer, "%s%s%s", c->gauge, c->gauge[0] ? " " : "", c->gauge_via);
}

static void liquid(kit *k, const char *a, const char *b)
{
    (void)b;
    yes(k, room_of(k, a)->liquid);
}

static void room_size(kit *k, const char *a, const char *b)
{
    const still_compartment *c = room_of(k, a);
    (void)b;
    number(k, c->volume_m3 * 1000, " L ");
    number(k, c->mass_kg, " kg");
}

static void pockets(kit *k, const char *a, const char *b)
{
    const still_compartment *c = room_of(k, a);
    (void)b;
    if (!c->drainage_shown) say(k, "not shown");
    for (size_t i = 0; i < c->n_pockets; i++) {
        say(k, i ? " | " : "");
        list(k, &c->pockets[i].ids);
        say(k, ": ");
        number(k, c->pockets[i].volume_m3 * 1000, " L ");
        number(k, c->pockets[i].mass_kg, " kg");
    }
}

static void not_shown(kit *k, const char *a, const char *b)
{
    (void)b;
    list(k, &room_of(k, a)->not_shown);
}

static void air(kit *k, const char *a, const char *b)
{
    const still_compartment *c = room_of(k, a);
    (void)b;
    say(k, c->air_in[0] != '\0' ? c->air_in : c->flashes ? "flashes" : "none");
}

static void amount(kit *k, const still_inventory *held)
{
    number(k, held->liquid_m3 * 1000, " L ");
    number(k, held->liquid_kg, " kg ");
    number(k, held->vapour_m3 * 1000, " L ");
    number(k, held->vapour_kg, " kg");
}

static void held(kit *k, const char *a, const char *b)
{
    (void)b;
    amount(k, &room_of(k, a)->holds);
}

static void inventory(kit *k, const char *a, const char *b)
{
    (void)a, (void)b;
    amount(k, &k->r->inventory);
}

static const still_pocket *pocket_of(kit *k, const char *id)
{
    const still_compartment *c = room_of(k, id);
    if (c->n_pockets == 0) fail_msg("no pocket at %s", id);
    return c->pockets;
}

static void loosen(kit *k, const char *a, const char *b)
{
    (void)b;
    say(k, pocket_of(k, a)->loosen);
}

static void evaporate(kit *k, const char *a, const char *b)
{
    (void)b;
    say(k, pocket_of(k, a)->evaporate);
}

static void suction(kit *k, const char *a, const char *b)
{
    (void)b;
    say(k, pocket_of(k, a)->suction);
}

static void lowest(kit *k, const char *a, const char *b)
{
    (void)b;
    number(k, pocket_of(k, a)->lowest_m, " m");
}

static void place(kit *k, const char *a, const char *b)
{
    (void)b;
    say(k, pocket_of(k, a)->place);
}

static void seconds(kit *k, const char *a, const char *b)
{
    (void)b;
    for (size_t i = 0; i < k->r->n_compartments; i++) {
        const still_compartment *c = &k->r->compartments[i];
        for (size_t n = 0; n < c->n_let_down; n++) {
            const still_letting *l = &c->let_down[n];
            if (strcmp(l->through, a) != 0) continue;
            say(k, k->answer.len > 0 ? " " : "");
            number(k, isnan(l->liquid_s) ? l->vapour_s : l->liquid_s, " s");
        }
    }
}

static void told(kit *k, const char *a, const char *b)
{
    bool is = false;
    for (size_t i = 0; i < k->r->n_findings; i++)
        if (strcmp(k->r->findings[i].rule, a) == 0 && strstr(k->r->findings[i].text, b) != NULL)
            is = true;
    yes(k, is);
}

static void live(kit *k, const char *a, const char *b)
{
    (void)b;
    for (size_t i = 0; i < k->r->n_still_live; i++) {
        if (strcmp(k->r->still_live[i].id, a) != 0) continue;
        say(k, k->r->still_live[i].look_alike ? "look-alike" : "live");
        return;
    }
    say(k, "no");
}

static void phases_of(kit *k, const still_step *steps, size_t n)
{
    for (size_t i = 0; i < n; i++)
        if (i == 0 || strcmp(steps[i].phase, steps[i - 1].phase) != 0)
            still_buf_printf(&k->answer, "%s%s", i ? " " : "", steps[i].phase);
}

static void phases(kit *k, const char *a, const char *b)
{
    (void)a, (void)b;
    phases_of(k, k->r->steps, k->r->n_steps);
}

static void back_phases(kit *k, const char *a, const char *b)
{
    (void)a, (void)b;
    phases_of(k, k->r->restore, k->r->n_restore);
}

static void steps_of(kit *k, const still_step *steps, size_t n, const char *phase)
{
    for (size_t i = 0; i < n; i++)
        if (strcmp(steps[i].phase, phase) == 0)
            still_buf_printf(&k->answer, "%s%s", k->answer.len ? " " : "",
                             steps[i].id[0] ? steps[i].id : "-");
}

static void steps(kit *k, const char *a, const char *b)
{
    (void)b;
    steps_of(k, k->r->steps, k->r->n_steps, a);
}

static void back(kit *k, const char *a, const char *b)
{
    (void)b;
    steps_of(k, k->r->restore, k->r->n_restore, a);
}

static void change_of(kit *k, bool backward, const char *phase, const char *id)
{
    const still_step *s = backward ? k->r->restore : k->r->steps;
    size_t n = backward ? k->r->n_restore : k->r->n_steps;
    for (size_t i = 0; i < n; i++) {
        if (strcmp(s[i].phase, phase) != 0 || strcmp(s[i].id, id) != 0 || s[i].to[0] == '\0')
            continue;
        still_buf_printf(&k->answer, "%s>%s", s[i].from, s[i].to);
        return;
    }
    say(k, "none");
}

static void change(kit *k, const char *a, const char *b)
{
    change_of(k, false, a, b);
}

static void change_back(kit *k, const char *a, const char *b)
{
    change_of(k, true, a, b);
}

static bool step_says(const still_step *s, const char *words)
{
    return strstr(s->do_text, words) != NULL || strstr(s->why, words) != NULL ||
           strstr(s->expect, words) != NULL || strstr(s->if_not, words) != NULL;
}

static void says_of(kit *k, const still_step *list_of, size_t n, const char *phase,
                    const char *words)
{
    bool is = false;
    for (size_t i = 0; i < n; i++)
        is |= strcmp(list_of[i].phase, phase) == 0 && step_says(&list_of[i], words);
    yes(k, is);
}

static void says(kit *k, const char *a, const char *b)
{
    says_of(k, k->r->steps, k->r->n_steps, a, b);
}

static void back_says(kit *k, const char *a, const char *b)
{
    says_of(k, k->r->restore, k->r->n_restore, a, b);
}

static void cautioned(kit *k, const char *a, const char *b)
{
    bool is = false;
    for (size_t i = 0; i < k->r->n_cautions; i++)
        is |= strcmp(k->r->cautions[i].rule, a) == 0 && strstr(k->r->cautions[i].text, b) != NULL;
    yes(k, is);
}

static uint32_t piece_number(kit *k, const char *id)
{
    const still_comp *c = &k->plant->comps[kit_comp(k, id)];
    if (!k->has_relief) {
        assert_int_equal(still_relief_build(&k->relief, k->plant, k->state, NULL), STILL_OK);
        k->has_relief = true;
    }
    return k->relief.piece_of_port[c->a];
}

static void relief(kit *k, const char *a, const char *b)
{
    uint32_t piece = piece_number(k, a);
    const still_relief_piece *p = &k->relief.pieces[piece];
    (void)b;
    say(k, p->covered ? "covered " : "uncovered ");
    if (isinf(p->open_bar))
        say(k, "none");
    else
        still_buf_printf(&k->answer, "%.2f", p->open_bar);
}

static void full(kit *k, const char *a, const char *b)
{
    uint32_t piece = piece_number(k, a);
    (void)b;
    yes(k, k->relief.pieces[piece].full);
}

static void joined(kit *k, const char *a, const char *b)
{
    uint32_t one = piece_number(k, a), other = piece_number(k, b);
    yes(k, one == other);
}

static const struct {
    const char *question;
    answerer answer;
} table[] = {
    {"feasible", feasible},
    {"ready", ready},
    {"grade", grade},
    {"cost", cost},
    {"mass", mass},
    {"points", points},
    {"tags", tags},
    {"tag", tag},
    {"sources", sources},
    {"inside", inside},
    {"finding", finding},
    {"assumed", assumed},
    {"path", path},
    {"help", help},
    {"help-is", help_is},
    {"best", best},
    {"proof", proof},
    {"bound", bound},
    {"feeds", feeds},
    {"shut-in", shut_in},
    {"closed-by", closed_by},
    {"cover", cover},
    {"conditions", conditions},
    {"remedies", remedies},
    {"size", size},
    {"rooms", rooms},
    {"room", room},
    {"vent", vent},
    {"drain", drain},
    {"prove", prove},
    {"gauge", gauge},
    {"liquid", liquid},
    {"room-size", room_size},
    {"pockets", pockets},
    {"not-shown", not_shown},
    {"air", air},
    {"held", held},
    {"inventory", inventory},
    {"loosen", loosen},
    {"evaporate", evaporate},
    {"suction", suction},
    {"lowest", lowest},
    {"place", place},
    {"seconds", seconds},
    {"told", told},
    {"live", live},
    {"phases", phases},
    {"back-phases", back_phases},
    {"steps", steps},
    {"back", back},
    {"change", change},
    {"change-back", change_back},
    {"says", says},
    {"back-says", back_says},
    {"cautioned", cautioned},
    {"relief", relief},
    {"full", full},
    {"joined", joined},
};

const char *kit_ask(kit *k, const char *question)
{
    char words[3][64] = {"", "", ""};
    const char *at = question;
    for (int i = 0; i < 3 && *at != '\0'; i++) {
        size_t len = i < 2 ? strcspn(at, " ") : strlen(at);
        snprintf(words[i], sizeof words[i], "%.*s", (int)len, at);
        at += len + (at[len] == ' ');
    }
    k->answer.len = 0;
    if (k->answer.text != NULL) k->answer.text[0] = '\0';
    for (size_t i = 0; i < sizeof table / sizeof table[0]; i++) {
        if (strcmp(table[i].question, words[0]) != 0) continue;
        table[i].answer(k, words[1], words[2]);
        return k->answer.text != NULL ? k->answer.text : "";
    }
    fail_msg("no such question: %s", question);
    return "";
}
