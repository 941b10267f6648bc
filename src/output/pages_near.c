/* A gap close up, on a page of A3. What is tried, one after the other: the plant beyond it up to
 * the next device, two components far, one, nothing beyond the devices that shut it in. A gap that
 * has no room even so is said in words, with the pages of the areas that show it. */
#include "pages.h"

#include "diagram.h"

enum {
    MOST_DRAWN = 200, /* a gap of more parts has no room in any case */
    MOST_PAGES = 150  /* pages that are named */
};

static still_status in_words(still_canvas *out, const still_pages *p, uint32_t segment)
{
    uint32_t from = p->shown_at[segment], to = p->shown_at[segment + 1];
    still_status status = still_diagram_words(out, p->cov, p->plant, segment);
    if (status != STILL_OK) return status;
    still_buf text = STILL_BUF_INIT;
    still_buf_printf(&text, "This part has no room on one page. It is drawn on page%s",
                     to - from == 1 ? "" : "s");
    for (uint32_t i = from; i < to && i < from + MOST_PAGES; i++)
        still_buf_printf(&text, "%s %u", i > from ? "," : "",
                         still_pages_of_area(p, p->shown_on[i]));
    if (to - from > MOST_PAGES) still_buf_printf(&text, " and %u more", to - from - MOST_PAGES);
    still_buf_add(&text, ".");
    if (text.failed) out->failed = true;
    out->layer = STILL_LAYER_PAGE;
    if (!text.failed)
        (void)still_canvas_flowed(out, STILL_LOOK_TXT, 28.0, 150.0, 16.0, out->width - 56.0,
                                  text.text, false);
    still_buf_clear(&text);
    return out->failed ? STILL_E_NOMEM : STILL_OK;
}

still_status still_pages_near(still_canvas *out, const still_pages *p, uint32_t segment)
{
    static const unsigned depths[] = {0, 2, 1, STILL_DIAGRAM_ALONE};
    const still_segment *s = &p->cov->segments[segment];
    for (size_t i = 0; i < sizeof depths / sizeof depths[0] && s->ids.n <= MOST_DRAWN; i++) {
        still_status status = still_diagram_coverage(out, p->cov, p->plant, segment, depths[i]);
        if (status != STILL_OK || still_pages_on_a3(out)) return status;
        still_canvas_clear(out);
    }
    return in_words(out, p, segment);
}
