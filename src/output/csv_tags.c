#include "output.h"

#include "alloc.h"
#include "glyph.h"

#include <csv.h>
#include <string.h>

static const char *const columns[] = {
    "tag",    "action", "id",      "what",  "place",   "from",    "to",        "hold",
    "legend", "why",    "counted", "level", "lock_no", "done_by", "date_time", "removed_by"};

/** True when a spreadsheet could take the cell for a formula: it starts with one of = + - @, also
 *  in full width, or with a character that some programs skip before looking. */
static bool looks_like_formula(const char *s)
{
    static const char *const starts[] = {"=",
                                         "+",
                                         "-",
                                         "@",
                                         "\t",
                                         "\r",
                                         "\n",
                                         "\xEF\xBC\x9D",
                                         "\xEF\xBC\x8B",
                                         "\xEF\xBC\x8D",
                                         "\xEF\xBC\xA0"};
    for (size_t i = 0; i < sizeof starts / sizeof starts[0]; i++)
        if (strncmp(s, starts[i], strlen(starts[i])) == 0) return true;
    return false;
}

/** The text of a cell. Quoting carries line breaks and tabs, so these stay. */
static void clean(still_buf *cell, const char *s)
{
    if (looks_like_formula(s)) still_buf_char(cell, '\'');
    while (*s != '\0') {
        uint32_t cp;
        size_t len = still_glyph_next(s, &cp);
        bool breaks = cp == '\n' || cp == '\r' || cp == '\t';
        if (!breaks && still_glyph_hostile(cp))
            still_buf_char(cell, '?');
        else
            still_buf_addn(cell, s, len);
        s += len;
    }
}

static void quote(still_buf *out, const char *s, size_t len)
{
    size_t need = csv_write(NULL, 0, s, len);
    char *quoted = still_malloc(need + 1);
    if (quoted == NULL) {
        out->failed = true;
        return;
    }
    csv_write(quoted, need, s, len);
    still_buf_addn(out, quoted, need);
    still_free(quoted);
}

void still_csv_cell(still_buf *out, const char *s, char after)
{
    still_buf text = STILL_BUF_INIT;
    clean(&text, s);
    if (text.failed)
        out->failed = true;
    else
        quote(out, text.text != NULL ? text.text : "", text.len);
    still_buf_clear(&text);
    if (after == '\n') still_buf_char(out, '\r');
    still_buf_char(out, after);
}

static void number(still_buf *out, uint32_t n)
{
    still_buf text = STILL_BUF_INIT;
    still_buf_printf(&text, "%u", n);
    if (text.failed)
        out->failed = true;
    else
        still_csv_cell(out, text.text, ',');
    still_buf_clear(&text);
}

void still_csv_write(still_buf *out, const still_record *r)
{
    size_t n = sizeof columns / sizeof columns[0];
    for (size_t i = 0; i < n; i++) still_csv_cell(out, columns[i], i + 1 < n ? ',' : '\n');
    for (size_t i = 0; i < r->n_points; i++) {
        const still_point *p = &r->points[i];
        number(out, p->tag);
        still_csv_cell(out, still_action_text(p->action), ',');
        still_csv_cell(out, p->id, ',');
        still_csv_cell(out, p->what, ',');
        still_csv_cell(out, p->place, ',');
        still_csv_cell(out, p->from, ',');
        still_csv_cell(out, p->to, ',');
        still_csv_cell(out, p->hold, ',');
        still_csv_cell(out, p->legend, ',');
        still_csv_cell(out, p->why, ',');
        still_csv_cell(out, p->counted ? "yes" : "no", ',');
        number(out, p->level);
        for (size_t k = 0; k < 4; k++) still_csv_cell(out, "", k < 3 ? ',' : '\n');
    }
}
