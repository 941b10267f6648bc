#include "siting.h"

#include "arena.h"
#include "shared.h"

static still_status read_own(still_siting *out, const still_plan_opts *opts, still_diags *diags)
{
    if (opts->checklists != NULL)
        return still_checklists_read(&out->checklists, opts->checklists, diags);
    still_arena arena;
    still_arena_init(&arena);
    const char *path = still_site_beside(&arena, opts->site, out->site->checklists);
    still_status status =
        path == NULL ? STILL_E_NOMEM : still_checklists_read(&out->checklists, path, diags);
    still_arena_clear(&arena);
    return status;
}

/* A kind that the site's own lists lack keeps the one built in. */
static still_status read_checklists(still_siting *out, const still_plan_opts *opts,
                                    still_diags *diags)
{
    bool of_site = out->site != NULL && out->site->checklists[0] != '\0';
    if (opts->checklists == NULL && !of_site) return still_checklists_builtin(&out->checklists);
    still_status status = read_own(out, opts, diags);
    if (status == STILL_OK) status = still_checklists_builtin(&out->builtin);
    for (int k = 0; k < STILL_OPENED_COUNT && status == STILL_OK; k++)
        if (out->checklists->of[k].n == 0) out->checklists->of[k] = out->builtin->of[k];
    return status;
}

still_status still_siting_read(still_siting *out, double *ambient_K, const still_plan_opts *opts,
                               still_diags *diags)
{
    still_status status = STILL_OK;
    *out = (still_siting){0};
    if (opts->site != NULL) status = still_site_read(&out->site, opts->site, diags);
    if (status == STILL_OK) status = read_checklists(out, opts, diags);
    if (status == STILL_OK && opts->ambient == NULL && out->site != NULL &&
        out->site->ambient[0] != '\0')
        status = still_read_ambient(ambient_K, out->site->ambient, diags);
    return status;
}

void still_siting_clear(still_siting *siting)
{
    still_site_free(siting->site);
    still_checklists_free(siting->checklists);
    still_checklists_free(siting->builtin);
    *siting = (still_siting){0};
}
