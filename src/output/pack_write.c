/* From a record to the bytes of its pack. */
#include "output.h"

#include "diagram.h"
#include "paint.h"
#include "svg.h"

#include <stdio.h>

/* On a screen the diagram whole; on paper its sheets, for A4 upright. */
static still_status html(still_buf *out, const still_pack *p)
{
    enum { WIDTH_MM = 176, HEIGHT_MM = 235 };
    still_canvas c = {0}, *sheets = NULL;
    size_t n = 0;
    still_buf screen = STILL_BUF_INIT, paper = STILL_BUF_INIT;
    char mark[32];
    still_status status = still_diagram_plan(&c, p->r, p->plant);
    if (status == STILL_OK) still_svg_inside(&screen, &c, "s-");
    if (status == STILL_OK)
        status = still_diagram_sheets(&sheets, &n, p->r, p->plant, WIDTH_MM, HEIGHT_MM);
    for (size_t i = 0; i < n && status == STILL_OK; i++) {
        snprintf(mark, sizeof mark, "p%zu-", i);
        still_svg_inside(&paper, &sheets[i], mark);
        still_canvas_clear(&sheets[i]);
    }
    if (status == STILL_OK && (screen.failed || paper.failed)) status = STILL_E_NOMEM;
    if (status == STILL_OK)
        status = still_pack_html(out, p, screen.text != NULL ? screen.text : "",
                                 paper.text != NULL ? paper.text : "");
    still_diagram_sheets_free(sheets, n);
    still_buf_clear(&screen);
    still_buf_clear(&paper);
    still_canvas_clear(&c);
    return status;
}

static still_status sheets_of(still_canvas **sheets, size_t *n, const still_pack *p,
                              still_paper paper, bool upright)
{
    double width, height;
    still_pack_sheet_area(paper, upright, &width, &height);
    return still_diagram_sheets(sheets, n, p->r, p->plant, width, height);
}

/* On its side, unless it takes fewer sheets upright. Where there are many it is not tried: the
 * drawing is wide, and each try lays all of them out. */
static still_status pdf(still_buf *out, const still_pack *p, still_paper paper)
{
    enum { FEW = 12 };
    still_canvas *sheets = NULL, *others = NULL;
    size_t n = 0, n_others = 0;
    bool upright = false;
    still_ppages pages = {0};
    still_status status = sheets_of(&sheets, &n, p, paper, false);
    if (status == STILL_OK && n > 1 && n <= FEW)
        status = sheets_of(&others, &n_others, p, paper, true);
    if (status == STILL_OK && n_others > 0 && n_others < n) {
        still_diagram_sheets_free(sheets, n);
        sheets = others;
        n = n_others;
        others = NULL;
        upright = true;
    }
    if (status == STILL_OK) status = still_pack_set(&pages, p, paper, sheets, n, upright);
    if (status == STILL_OK) status = still_paint_pdf_pack(out, &pages, p);
    still_ppages_clear(&pages);
    still_diagram_sheets_free(sheets, n);
    still_diagram_sheets_free(others, n_others);
    return status;
}

still_status still_pack_write(still_buf *out, const still_record *r, const still_plant *plant,
                              still_pack_form form, still_paper paper, const still_figures *people,
                              const char *language, const char *digest)
{
    still_pack p;
    still_buf made = STILL_BUF_INIT;
    still_status status = still_pack_build(&p, r, plant, people, language, digest);
    if (status == STILL_OK && form == STILL_PACK_HTML) status = html(&made, &p);
    if (status == STILL_OK && form == STILL_PACK_PDF) status = pdf(&made, &p, paper);
    if (status == STILL_OK && made.failed) status = STILL_E_NOMEM;
    if (status == STILL_OK) still_buf_addn(out, made.text, made.len);
    if (status == STILL_OK && out->failed) status = STILL_E_NOMEM;
    still_buf_clear(&made);
    still_pack_clear(&p);
    return status;
}
