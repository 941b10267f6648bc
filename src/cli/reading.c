/* Files that several commands read. */
#include "options.h"

#include <stdio.h>
#include <string.h>

#if defined(__GLIBC__)
#include <malloc.h>
#endif

void still_cli_keep_memory(void)
{
#if defined(__GLIBC__)
    mallopt(M_MMAP_THRESHOLD, 32 * 1024 * 1024);
    mallopt(M_TRIM_THRESHOLD, 1024 * 1024 * 1024);
    mallopt(M_TOP_PAD, 4 * 1024 * 1024);
#endif
}

bool still_cli_both_stdin(const char *a, const char *b)
{
    if (a == NULL || b == NULL || strcmp(a, "-") != 0 || strcmp(b, "-") != 0) return false;
    still_cli_error("only one of two files can be standard input: save the other, and name it");
    return true;
}

still_status still_cli_read(still_plant **plant, still_state **state, const still_cli *cli,
                            still_diags *diags)
{
    still_status status = still_plant_read(plant, cli->plant, diags);
    if (status == STILL_OK && cli->state != NULL)
        status = still_state_read(state, *plant, cli->state, diags);
    return status;
}
