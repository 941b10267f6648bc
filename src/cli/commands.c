#include "options.h"

#include <errno.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

static void print_diags(const still_diags *diags)
{
    for (size_t i = 0; i < still_diags_count(diags); i++)
        still_diag_write(still_diags_at(diags, i), stderr);
    if (still_diags_dropped(diags) > 0)
        fprintf(stderr, "stillset: %zu more problems are not shown\n", still_diags_dropped(diags));
}

static int failed(still_status status, const still_diags *diags)
{
    if (status == STILL_E_INTERNAL)
        fprintf(stderr, "stillset: the second check did not agree with the plan: no plan is given. "
                        "This is a fault of the program; please report it with the plant file\n");
    else if (still_diags_errors(diags) == 0)
        fprintf(stderr, "stillset: %s\n", still_status_text(status));
    return still_status_exit(status);
}

static int need_plant(const still_cli *cli)
{
    if (cli->plant != NULL) return 0;
    fprintf(stderr, "stillset: %s needs a plant file\n", cli->command);
    return 2;
}

int still_run_check(const still_cli *cli)
{
    if (need_plant(cli) != 0) return 2;
    still_plant *plant = NULL;
    still_diags *diags = still_diags_new();
    if (diags == NULL) return still_status_exit(STILL_E_NOMEM);
    still_status status = still_plant_read(&plant, cli->plant, diags);
    if (status == STILL_OK) status = still_check(plant, diags);
    still_diags_sort(diags);
    print_diags(diags);
    int code = status == STILL_OK ? 0 : failed(status, diags);
    if (status == STILL_OK || status == STILL_E_INPUT)
        printf("%s: %zu error%s, %zu warning%s\n", cli->plant, still_diags_errors(diags),
               still_diags_errors(diags) == 1 ? "" : "s", still_diags_warnings(diags),
               still_diags_warnings(diags) == 1 ? "" : "s");
    still_plant_free(plant);
    still_diags_free(diags);
    return code;
}

/* Write to a file that appears whole or not at all. */
static int write_file(const char *path, const char *bytes, size_t len)
{
    size_t room = strlen(path) + 16;
    char *temp = malloc(room);
    if (temp == NULL) return still_status_exit(STILL_E_NOMEM);
    snprintf(temp, room, "%s.XXXXXX", path);
    int fd = mkstemp(temp);
    mode_t mask = umask(0);
    (void)umask(mask);
    if (fd >= 0) (void)fchmod(fd, 0666 & ~mask);
    FILE *to = fd < 0 ? NULL : fdopen(fd, "wb");
    bool good = to != NULL && fwrite(bytes, 1, len, to) == len;
    int error = errno;
    if (to != NULL && fclose(to) != 0) good = false;
    if (good && rename(temp, path) != 0) good = false;
    if (!good) {
        fprintf(stderr, "stillset: %s: %s\n", path, strerror(errno != 0 ? errno : error));
        if (fd >= 0) (void)unlink(temp);
    }
    free(temp);
    return good ? 0 : 4;
}

static int write_plan(const still_cli *cli, const still_plan *plan, still_diags *diags)
{
    char *bytes = NULL;
    size_t len = 0;
    still_status status = still_plan_write(&bytes, &len, plan, cli->format, diags);
    if (status != STILL_OK) {
        fprintf(stderr, "stillset: the plan could not be written: %s\n", still_status_text(status));
        return still_status_exit(status);
    }
    int code = 0;
    if (cli->output != NULL)
        code = write_file(cli->output, bytes, len);
    else if (fwrite(bytes, 1, len, stdout) != len)
        code = 4;
    still_bytes_free(bytes);
    if (code == 0) code = still_plan_record(plan)->ready ? 0 : 1;
    return code;
}

int still_run_plan(const still_cli *cli)
{
    if (need_plant(cli) != 0) return 2;
    if (cli->n_targets == 0) {
        fprintf(stderr, "stillset: plan needs --target ID\n");
        return 2;
    }
    still_plant *plant = NULL;
    still_plan *plan = NULL;
    const still_plan_opts opts = {cli->grade, cli->work, cli->accept, cli->n_accept};
    still_diags *diags = still_diags_new();
    if (diags == NULL) return still_status_exit(STILL_E_NOMEM);
    still_status status = still_plant_read(&plant, cli->plant, diags);
    if (status == STILL_OK)
        status = still_plan_make(&plan, plant, NULL, cli->targets, cli->n_targets, &opts, diags);
    print_diags(diags);
    int code = status == STILL_OK ? write_plan(cli, plan, diags) : failed(status, diags);
    still_plan_free(plan);
    still_plant_free(plant);
    still_diags_free(diags);
    return code;
}
