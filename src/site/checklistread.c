/* Reading a file of checklists (docs/FORMAT.md, section 2.3).
 *
 *     <checklists xmlns="urn:stillset:checklists:1" id="built-in">
 *       <checklist kind="pump">
 *         <line when="work" do="…" expect="…" if-not="…" source="common practice, no source"/>
 *       </checklist>
 *     </checklists>
 *
 * Method: elements in the order of the file; the lines of a kind are counted first, so that each
 * list lies in one piece. */
#include "checklist.h"

#include "alloc.h"
#include "checklistbytes.h"
#include "smallvalue.h"

#include <string.h>

static const still_small_kind kind_of_file = {"checklists", "urn:stillset:checklists:1", false};

static const still_value_word kinds[] = {{"any", STILL_OPENED_ANY},
                                         {"motor-operated-valve", STILL_OPENED_MOTOR_VALVE},
                                         {"control-valve", STILL_OPENED_CONTROL_VALVE},
                                         {"stop-valve", STILL_OPENED_STOP_VALVE},
                                         {"check-valve", STILL_OPENED_CHECK_VALVE},
                                         {"relief-valve", STILL_OPENED_RELIEF_VALVE},
                                         {"pump", STILL_OPENED_PUMP},
                                         {"compressor", STILL_OPENED_COMPRESSOR},
                                         {"strainer", STILL_OPENED_STRAINER},
                                         {"gauge", STILL_OPENED_GAUGE},
                                         {"exchanger", STILL_OPENED_EXCHANGER},
                                         {"vessel", STILL_OPENED_VESSEL},
                                         {"vessel-entry", STILL_OPENED_VESSEL_ENTRY},
                                         {"pipe", STILL_OPENED_PIPE},
                                         {NULL, 0}};

const char *still_opened_text(still_opened kind)
{
    for (const still_value_word *w = kinds; w->word != NULL; w++)
        if (w->value == (unsigned)kind) return w->word;
    return "";
}

typedef struct reading {
    still_small *file;
    still_checklists *lists;
    bool memory_out;
} reading;

static void take_line(reading *r, uint32_t number, still_work_line *out)
{
    static const char *const known[] = {"when", "do", "expect", "if-not", "source", "note", NULL};
    static const still_value_word when[] = {
        {"let-off", STILL_LINE_LET_OFF},   {"before", STILL_LINE_BEFORE}, {"work", STILL_LINE_WORK},
        {"close-up", STILL_LINE_CLOSE_UP}, {"try", STILL_LINE_TRY},       {NULL, 0}};
    still_small_value v = {r->file, &r->file->elements[number], true};
    still_value_known(&v, known);
    for (int i = 0; i < 5; i++) {
        const char *value = still_value_required(&v, known[i]);
        if (v.good && value[0] == '\0')
            still_value_fault(&v, STILL_CODE_WORD, known[i], "is empty");
    }
    out->when = (still_line_when)still_value_one(&v, "when", when, STILL_LINE_WORK);
    out->what = still_value_text(&v, "do", "");
    out->expect = still_value_text(&v, "expect", "");
    out->if_not = still_value_text(&v, "if-not", "");
    out->source = still_value_text(&v, "source", "");
}

/* Every kind needs lines for the work and for closing up: else a step would be missing. */
static void check_lines(reading *r, const still_small_element *e, const still_checklist *list)
{
    static const char *const words[] = {NULL, NULL, "work", "close-up"};
    for (still_line_when when = STILL_LINE_WORK; when <= STILL_LINE_CLOSE_UP; when++) {
        bool found = false;
        for (size_t i = 0; i < list->n; i++) found = found || list->lines[i].when == when;
        if (!found)
            still_report_add(r->file->report, STILL_CODE_NO_LINE, e->tag, NULL, NULL,
                             "the checklist has no line with when=\"%s\"", words[when]);
    }
}

static void take_list(reading *r, uint32_t number)
{
    static const char *const known[] = {"kind", "name", "note", NULL};
    const still_small_element *all = r->file->elements;
    still_small_value v = {r->file, &all[number], true};
    still_value_known(&v, known);
    (void)still_value_required(&v, "kind");
    still_checklist *list = &r->lists->of[still_value_one(&v, "kind", kinds, STILL_OPENED_ANY)];
    if (!v.good) return;
    if (list->lines != NULL) {
        still_report_add(r->file->report, STILL_CODE_SAID_TWICE, all[number].tag, "kind", NULL,
                         "a checklist of this kind stands here twice");
        return;
    }
    size_t n = 0;
    for (uint32_t i = number + 1; i < r->file->n && all[i].parent != 0; i++)
        n += all[i].parent == number;
    still_work_line *lines = STILL_ARENA_NEW(&r->file->arena, n + 1, still_work_line);
    if (lines == NULL) {
        r->memory_out = true;
        return;
    }
    list->lines = lines;
    for (uint32_t i = number + 1; i < r->file->n && all[i].parent != 0; i++)
        if (all[i].parent == number && strcmp(all[i].name, "line") == 0)
            take_line(r, i, &lines[list->n++]);
    check_lines(r, &all[number], list);
}

static void take_elements(reading *r)
{
    static const char *const known[] = {"id", "name", "note", NULL};
    const still_small_element *all = r->file->elements;
    still_small_value v = {r->file, &all[0], true};
    still_value_known(&v, known);
    r->lists->id = still_value_id(&v);
    for (uint32_t i = 1; i < r->file->n && !r->memory_out; i++) {
        bool list = all[i].parent == 0 && strcmp(all[i].name, "checklist") == 0;
        bool line = all[i].parent != 0 && strcmp(all[all[i].parent].name, "checklist") == 0 &&
                    all[all[i].parent].parent == 0 && strcmp(all[i].name, "line") == 0;
        if (list)
            take_list(r, i);
        else if (!line)
            still_report_add(r->file->report, STILL_CODE_ELEMENT, all[i].tag, NULL, NULL,
                             "element \"%.80s\" is unknown or cannot stand here", all[i].name);
    }
}

/* Texts of what was read lie in the file's arena, which the lists take over. */
static still_status finish(still_checklists **out, still_small *file, still_status status,
                           still_diags *diags)
{
    reading r = {.file = file, .lists = still_calloc(1, sizeof *r.lists)};
    if (r.lists == NULL) {
        status = STILL_E_NOMEM;
    } else {
        still_arena_init(&r.lists->arena);
        if (status == STILL_OK) take_elements(&r);
        if (status == STILL_OK) {
            memcpy(r.lists->digest, file->digest, sizeof r.lists->digest);
            r.lists->arena = file->arena;
            still_arena_init(&file->arena);
        }
        if (r.memory_out) status = STILL_E_NOMEM;
    }
    still_status closed = still_small_close(file, diags);
    if (status == STILL_OK || closed == STILL_E_NOMEM) status = closed;
    if (status == STILL_OK)
        *out = r.lists;
    else
        still_checklists_free(r.lists);
    return status;
}

still_status still_checklists_read(still_checklists **out, const char *path, still_diags *diags)
{
    still_small file;
    still_status status = still_small_read(&file, path, &kind_of_file);
    return finish(out, &file, status, diags);
}

still_status still_checklists_read_memory(still_checklists **out, const char *name,
                                          const void *bytes, size_t len, still_diags *diags)
{
    still_small file;
    still_status status = still_small_read_memory(&file, name, bytes, len, &kind_of_file);
    return finish(out, &file, status, diags);
}

still_status still_checklists_builtin(still_checklists **out)
{
    still_status status = still_checklists_read_memory(
        out, "built-in checklists", still_checklist_bytes, still_checklist_bytes_len, NULL);
    if (status == STILL_OK) (*out)->digest[0] = '\0';
    return status == STILL_OK || status == STILL_E_NOMEM ? status : STILL_E_INTERNAL;
}

void still_checklists_free(still_checklists *lists)
{
    if (lists == NULL) return;
    still_arena_clear(&lists->arena);
    still_free(lists);
}
