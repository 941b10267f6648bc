/* The pack as blocks: what the parts are made with. */
#include "pack.h"

#include "text_parts.h"

#include <stdarg.h>
#include <string.h>

/* Words that stand in a record, beside those of the plant file (model/words.h): for the catalogue.
 * Marked so that tools/messages.py finds them; looked up like any other. */
const char *const still_pack_vocabulary[] = {
    WORD("on"),        WORD("off"),       WORD("fitted"),       WORD("removed"),
    WORD("single"),    WORD("double"),    WORD("single-bleed"), WORD("double-bleed"),
    WORD("positive"),  WORD("policy"),    WORD("entry"),        WORD("opening"),
    WORD("hot-work"),  WORD("long-term"), WORD("lock"),         WORD("tag"),
    WORD("Tag"),       WORD("inside"),    WORD("between"),      WORD("outside"),
    WORD("covered"),   WORD("uncovered"), WORD("not-full"),     WORD("prepare"),
    WORD("shut-down"), WORD("isolate"),   WORD("lock-and-tag"), WORD("release"),
    WORD("verify"),    WORD("work"),      WORD("close-up"),     WORD("inspect"),
    WORD("clear"),     WORD("leak-test"), WORD("evacuate"),     WORD("break-vacuum"),
    WORD("remove"),    WORD("notify"),    WORD("energise"),     WORD("function-test"),
    WORD("register"),  WORD("stuck"),     WORD("automatic"),    WORD("nothing"),
    WORD("pipe"),      WORD("hold"),      WORD("holds"),        WORD("below"),
    WORD("Shut"),      WORD("Dead."),     WORD("low"),          WORD("medium"),
    WORD("found"),     WORD("goggles"),
};

const char *still_pack_word(still_pack *p, const char *word)
{
    return still_messages_get(p->people.messages, word);
}

/** A finished buffer as text of the pack. */
static const char *kept(still_pack *p, still_buf *buf)
{
    const char *text = buf->failed ? NULL : still_arena_str(&p->arena, buf->text ? buf->text : "");
    if (text == NULL) p->failed = true;
    still_buf_clear(buf);
    return text != NULL ? text : "";
}

const char *still_pack_say(still_pack *p, const char *format, ...)
{
    still_buf buf = STILL_BUF_INIT;
    va_list args;
    va_start(args, format);
    still_say_args(&buf, p->people.messages, format, args);
    va_end(args);
    return kept(p, &buf);
}

const char *still_pack_words(still_pack *p, const char *words)
{
    still_buf buf = STILL_BUF_INIT;
    if (!p->people.us && !p->people.comma) return words;
    still_figures_words(&buf, &p->people, words);
    return kept(p, &buf);
}

const char *still_pack_figure(still_pack *p, double value, int digits, const char *unit)
{
    still_buf buf = STILL_BUF_INIT;
    still_figures_one(&buf, &p->people, value, digits, unit);
    return kept(p, &buf);
}

const char *still_pack_proof(still_pack *p)
{
    still_buf buf = STILL_BUF_INIT;
    still_text_bound(&buf, p->r);
    return kept(p, &buf);
}

const char *still_pack_ids(still_pack *p, still_strings ids, size_t most)
{
    still_buf buf = STILL_BUF_INIT;
    size_t shown = most > 0 && ids.n > most + 1 ? most : ids.n;
    if (ids.n == 0) return still_pack_word(p, "none");
    for (size_t i = 0; i < shown; i++) {
        if (i > 0 && i + 1 == ids.n)
            still_say(&buf, p->people.messages, " and ");
        else if (i > 0)
            still_buf_add(&buf, ", ");
        still_buf_add(&buf, ids.items[i]);
    }
    if (shown < ids.n) still_say(&buf, p->people.messages, " and %zu more", ids.n - shown);
    return kept(p, &buf);
}

const char *still_pack_way(still_pack *p, still_strings ids)
{
    still_buf buf = STILL_BUF_INIT;
    if (ids.n == 0) return still_pack_word(p, "none");
    for (size_t i = 0; i < ids.n; i++) {
        if (i > 0) still_buf_add(&buf, " > ");
        still_buf_add(&buf, ids.items[i]);
    }
    return kept(p, &buf);
}

bool still_pack_may_pass(const still_record *r)
{
    bool may = r->feasible;
    for (size_t i = 0; i < r->n_findings; i++)
        may = may &&
              !(r->findings[i].blocks && !r->findings[i].accepted && !r->findings[i].acceptable);
    return may;
}

const char *still_pack_place(const still_pack *p, const char *id)
{
    const still_record *r = p->r;
    for (size_t i = 0; i < r->n_points; i++)
        if (strcmp(r->points[i].id, id) == 0) return r->points[i].place;
    for (size_t i = 0; i < r->n_still_live; i++)
        if (strcmp(r->still_live[i].id, id) == 0) return r->still_live[i].place;
    uint32_t comp = p->plant != NULL ? still_plant_find(p->plant, id).v : STILL_NONE;
    return comp != STILL_NONE ? still_comp_t(p->plant, comp, STILL_T_PLACE) : "";
}

still_pblock *still_pack_block(still_pack *p, still_pkind_of_block kind)
{
    still_pblock *b = STILL_ARENA_NEW(&p->arena, 1, still_pblock);
    if (b == NULL) {
        /* What is put now goes there, and is thrown away. */
        p->failed = true;
        p->spare = (still_pblock){.kind = STILL_PB_TEXT, .text = "", .id = "", .note = ""};
        return &p->spare;
    }
    *b = (still_pblock){.kind = kind, .text = "", .id = "", .note = ""};
    if (p->last != NULL)
        p->last->next = b;
    else
        p->first = b;
    p->last = b;
    return b;
}

still_pblock *still_pack_part(still_pack *p, const char *id, const char *title, const char *note,
                              double size)
{
    still_pblock *b = still_pack_block(p, STILL_PB_PART);
    b->id = id;
    b->text = title;
    b->note = note;
    b->size = size;
    return b;
}

still_pblock *still_pack_heading(still_pack *p, const char *words)
{
    still_pblock *b = still_pack_block(p, STILL_PB_HEADING);
    b->text = words;
    return b;
}

void still_pack_text(still_pack *p, still_pstyle style, const char *words)
{
    still_pblock *b = still_pack_block(p, STILL_PB_TEXT);
    b->style = style;
    b->text = words;
}

static still_prow *add_row(still_pack *p, still_pblock *b, size_t n)
{
    still_prow *row = STILL_ARENA_NEW(&p->arena, 1, still_prow);
    still_pcell *cells = STILL_ARENA_NEW(&p->arena, n, still_pcell);
    if (row == NULL || cells == NULL) {
        p->failed = true;
        return NULL;
    }
    row->cells = cells;
    if (b->last_row != NULL)
        b->last_row->next = row;
    else
        b->first_row = row;
    b->last_row = row;
    b->n_rows++;
    return row;
}

still_pblock *still_pack_table(still_pack *p, const char *caption, const char *const *titles,
                               const double *shares)
{
    size_t n = 0;
    while (titles[n] != NULL) n++;
    still_pcolumn *columns = STILL_ARENA_NEW(&p->arena, n, still_pcolumn);
    still_pblock *b = still_pack_block(p, STILL_PB_TABLE);
    if (columns == NULL) {
        p->failed = true;
        return b;
    }
    for (size_t i = 0; i < n; i++) columns[i] = (still_pcolumn){titles[i], shares[i]};
    b->text = caption;
    b->columns = columns;
    b->n_columns = n;
    return b;
}

still_prow *still_pack_row(still_pack *p, still_pblock *table)
{
    return add_row(p, table, table->n_columns > 0 ? table->n_columns : 1);
}

void still_pack_put(still_pack *p, still_prow *row, size_t column, still_pstyle style,
                    const char *text)
{
    bool empty = text[0] == '\0' && style != STILL_P_TICK && style != STILL_P_WRITE;
    if (row == NULL || empty) return;
    still_pline *line = STILL_ARENA_NEW(&p->arena, 1, still_pline);
    if (line == NULL) {
        p->failed = true;
        return;
    }
    *line = (still_pline){style, text, NULL};
    still_pcell *cell = &row->cells[column];
    if (cell->last != NULL)
        cell->last->next = line;
    else
        cell->first = line;
    cell->last = line;
}

still_prow *still_pack_group(still_pack *p, still_pblock *table, const char *words)
{
    still_prow *row = add_row(p, table, 1);
    if (row == NULL) return NULL;
    row->group = true;
    still_pack_put(p, row, 0, STILL_P_STRONG, words);
    return row;
}

void still_pack_item(still_pack *p, still_pblock *items, const char *text)
{
    still_pack_put(p, add_row(p, items, 1), 0, STILL_P_PLAIN, text);
}

void still_pack_field(still_pack *p, still_pblock *fields, const char *label, const char *text)
{
    if (text[0] == '\0') return;
    still_prow *row = add_row(p, fields, 2);
    still_pack_put(p, row, 0, STILL_P_PLAIN, label);
    still_pack_put(p, row, 1, STILL_P_PLAIN, text);
}

void still_pack_clear(still_pack *p)
{
    still_arena_clear(&p->arena);
    p->first = p->last = NULL;
}

still_status still_pack_build(still_pack *p, const still_record *r, const still_plant *plant,
                              const still_figures *people, const char *language, const char *digest)
{
    *p = (still_pack){.r = r, .plant = plant, .people = *people, .digest = digest};
    still_arena_init(&p->arena);
    p->arena.messages = people->messages;
    p->language = language;
    p->title = still_pack_say(p, "Isolation for work on %s", still_pack_ids(p, r->targets, 0));
    still_pack_lead(p);
    still_pack_diagram(p);
    still_pack_work(p);
    still_pack_back(p);
    if (r->n_points > 0) still_pack_cards(p);
    still_pack_more(p);
    return p->failed ? STILL_E_NOMEM : STILL_OK;
}
