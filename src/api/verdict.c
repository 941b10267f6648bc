/* The public call that checks a plan from a file: read it, ask verify, keep what it says. */
#include "stillset/plan.h"

#include "alloc.h"
#include "arena.h"
#include "diags.h"
#include "given.h"
#include "planread.h"
#include "shared.h"
#include "state.h"
#include "verify.h"

#include <string.h>

struct still_verdict {
    still_arena arena;
    still_verdict_record record;
};

static const char *kept(still_verdict *v, const char *text, bool *failed)
{
    const char *copy = still_arena_str(&v->arena, text);
    if (copy == NULL) *failed = true;
    return copy == NULL ? "" : copy;
}

/* A plan made for what was found on a day says nothing about another day. */
static void same_day(bool *agrees, const still_record *r, const still_state *state,
                     still_diags *found)
{
    if (r->state_digest[0] == '\0') return;
    if (state != NULL && strcmp(r->state_digest, state->digest) == 0) return;
    *agrees = false;
    still_diags_add(found, STILL_SEV_ERROR, "I7", "", 0, 0, "", NULL, "%s",
                    state == NULL
                        ? "the plan was made for a state of the plant that is not given here"
                        : "the plan was made for another state of the plant than the one given");
}

static still_status keep(still_verdict *v, const still_plant *plant, unsigned given,
                         const still_diags *found)
{
    static const struct {
        unsigned bit;
        const char *text;
    } parts[] = {
#define X(name, bit, text) {1u << (bit), text},
        STILL_GIVEN_TABLE(X)
#undef X
    };
    enum { N_PARTS = sizeof parts / sizeof parts[0] };
    still_verdict_record *r = &v->record;
    bool failed = false;
    size_t n = still_diags_count(found);
    still_disagreement *against = STILL_ARENA_NEW(&v->arena, n, still_disagreement);
    const char **not_checked = STILL_ARENA_NEW(&v->arena, N_PARTS, const char *);
    if (against == NULL || not_checked == NULL) return STILL_E_NOMEM;
    for (size_t i = 0; i < n; i++) {
        const still_diag *d = still_diags_at(found, i);
        against[i] = (still_disagreement){kept(v, d->code, &failed), kept(v, d->component, &failed),
                                          kept(v, d->text, &failed)};
    }
    for (size_t i = 0; i < N_PARTS; i++)
        if (!(given & parts[i].bit)) not_checked[r->not_checked.n++] = parts[i].text;
    r->not_checked.items = not_checked;
    r->against = against;
    r->n_against = n;
    r->n_more = still_diags_dropped(found);
    r->plant_id = kept(v, still_text(plant, plant->id), &failed);
    r->plant_digest = kept(v, plant->digest, &failed);
    return failed ? STILL_E_NOMEM : STILL_OK;
}

static uint8_t word_of(still_vocabulary vocabulary, const char *text)
{
    return (uint8_t)still_word_value(vocabulary, text, strlen(text));
}

/* A plan that goes on from another begins where that one was left: the record says where, and a
 * person has to see that it is so. Laid over the state that is given. */
static still_status left_by(still_state **out, const still_plant *plant, const still_state *state,
                            const still_record *r)
{
    still_state *s = still_state_copy(state);
    if (s == NULL) return STILL_E_NOMEM;
    *out = s;
    for (size_t i = 0; i < r->n_found; i++) {
        const still_found *f = &r->found[i];
        uint32_t comp = still_plant_find(plant, f->id).v;
        if (comp == STILL_NONE) continue; /* verify says so */
        still_state_item *at = still_state_at(s, comp);
        if (at == NULL) return STILL_E_NOMEM;
        if (plant->comps[comp].kind == STILL_KIND_THREE_WAY)
            at->way = (uint8_t)still_way_value(f->position, strlen(f->position));
        else
            at->position = word_of(STILL_VOC_still_position, f->position);
        at->condition = word_of(STILL_VOC_still_condition, f->condition);
        at->contents = word_of(STILL_VOC_still_contents, f->contents);
    }
    return STILL_OK;
}

/* Check what was read. Takes nothing over. */
static still_status judge(still_verdict **out, const still_plant *plant, const still_state *state,
                          const still_record *record, unsigned given)
{
    still_verdict *v = still_calloc(1, sizeof *v);
    still_diags *found = still_diags_new();
    still_status status = v != NULL && found != NULL ? STILL_OK : STILL_E_NOMEM;
    still_state *left = NULL;
    bool agrees = false;
    if (v != NULL) still_arena_init(&v->arena);
    if (record->feasible) given |= STILL_GIVEN_OBSTACLE; /* there is none */
    if (status == STILL_OK && record->goes_on) status = left_by(&left, plant, state, record);
    if (status == STILL_OK)
        status =
            still_verify_part(&agrees, plant, left != NULL ? left : state, record, given, found);
    if (status == STILL_OK) {
        same_day(&agrees, record, state, found);
        v->record.agrees = agrees;
        status = keep(v, plant, given, found);
    }
    still_diags_free(found);
    still_state_free(left);
    if (status == STILL_OK)
        *out = v;
    else
        still_verdict_free(v);
    return status;
}

still_status still_verify_plan(still_verdict **out, const still_plant *plant,
                               const still_state *state, const char *path, still_diags *diags)
{
    still_arena arena;
    still_record record;
    unsigned given = 0;
    still_arena_init(&arena);
    still_status status = still_read_plan(&record, &given, &arena, path, diags);
    if (status == STILL_OK) status = judge(out, plant, state, &record, given);
    still_arena_clear(&arena);
    return status;
}

still_status still_verify_plan_memory(still_verdict **out, const still_plant *plant,
                                      const still_state *state, const char *name, const void *bytes,
                                      size_t len, still_diags *diags)
{
    still_arena arena;
    still_record record;
    unsigned given = 0;
    still_arena_init(&arena);
    still_status status = still_read_plan_memory(&record, &given, &arena, name, bytes, len, diags);
    if (status == STILL_OK) status = judge(out, plant, state, &record, given);
    still_arena_clear(&arena);
    return status;
}

const still_verdict_record *still_verdict_record_of(const still_verdict *verdict)
{
    return &verdict->record;
}

void still_verdict_free(still_verdict *verdict)
{
    if (verdict == NULL) return;
    still_arena_clear(&verdict->arena);
    still_free(verdict);
}

still_status still_verdict_write_text(char **bytes, size_t *len, const still_verdict *verdict,
                                      const still_style *style)
{
    still_buf buf = STILL_BUF_INIT;
    still_verdict_text_write(&buf, &verdict->record, style);
    return still_give(bytes, len, &buf, STILL_OK);
}

still_status still_verdict_write(char **bytes, size_t *len, const still_verdict *verdict,
                                 still_format format, still_diags *diags)
{
    still_buf buf = STILL_BUF_INIT;
    still_status status = STILL_OK;
    if (format == STILL_FORMAT_TEXT) {
        still_verdict_text_write(&buf, &verdict->record, NULL);
    } else if (format == STILL_FORMAT_JSON) {
        status = still_verdict_json_write(&buf, &verdict->record);
    } else {
        still_diags_add(diags, STILL_SEV_ERROR, "STILL-USE", "", 0, 0, "", NULL,
                        "a verdict is written as text or json");
        return STILL_E_USAGE;
    }
    return still_give(bytes, len, &buf, status);
}
