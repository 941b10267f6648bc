/* Fuzz entry of the readers of site files and of checklists: any bytes at all must give what was
 * asked for or errors, and what was read keeps what site.h and checklist.h promise. Run as
 * fuzz_input.c is. */
#include <stddef.h>
#include <stdint.h>
#include <stdlib.h>

#include "checklist.h"
#include "site.h"

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size);

static int sound_site(const still_site *s)
{
    if (s->hold_time[0] != '\0' && !(s->hold_time_s > 0)) return 0;
    if (s->evacuation_Pa >= 101325 || s->evacuation_Pa < 0) return 0;
    for (size_t i = 0; i < s->n_limits; i++)
        if (s->limits[i].limit[0] == '\0') return 0;
    for (size_t i = 0; i < s->n_gear; i++)
        if (s->gear[i].wear[0] == '\0') return 0;
    return 1;
}

static int sound_lists(const still_checklists *lists)
{
    for (int k = 0; k < STILL_OPENED_COUNT; k++) {
        int work = 0, up = 0;
        for (size_t i = 0; i < lists->of[k].n; i++) {
            const still_work_line *line = &lists->of[k].lines[i];
            work += line->when == STILL_LINE_WORK;
            up += line->when == STILL_LINE_CLOSE_UP;
            if (line->what[0] == '\0' || line->source[0] == '\0') return 0;
        }
        if (lists->of[k].n > 0 && (work == 0 || up == 0)) return 0;
    }
    return 1;
}

static void check_status(still_status status, int read, const still_diags *diags)
{
    if ((status == STILL_OK) != read) abort();
    if (status == STILL_E_INPUT && still_diags_errors(diags) == 0) abort();
    if (status == STILL_OK && still_diags_errors(diags) != 0) abort();
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    still_site *site = NULL;
    still_checklists *lists = NULL;
    still_diags *diags = still_diags_new(), *more = still_diags_new();
    if (diags != NULL && more != NULL) {
        still_status status = still_site_read_memory(&site, "fuzz", data, size, diags);
        check_status(status, site != NULL, diags);
        status = still_checklists_read_memory(&lists, "fuzz", data, size, more);
        check_status(status, lists != NULL, more);
        if (site != NULL && !sound_site(site)) abort();
        if (lists != NULL && !sound_lists(lists)) abort();
    }
    still_site_free(site);
    still_checklists_free(lists);
    still_diags_free(diags);
    still_diags_free(more);
    return 0;
}
