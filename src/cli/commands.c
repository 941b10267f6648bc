#include "options.h"

#include "stillset/import.h"

#include <errno.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

void still_cli_print_diags(const still_diags *diags)
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
    still_cli_print_diags(diags);
    int code = status == STILL_OK ? 0 : failed(status, diags);
    if (status == STILL_OK || status == STILL_E_INPUT) {
        still_diag_text(cli->plant, stdout);
        printf(": %zu error%s, %zu warning%s\n", still_diags_errors(diags),
               still_diags_errors(diags) == 1 ? "" : "s", still_diags_warnings(diags),
               still_diags_warnings(diags) == 1 ? "" : "s");
    }
    still_plant_free(plant);
    still_diags_free(diags);
    return code;
}

static int file_failed(const char *path)
{
    int error = errno;
    fputs("stillset: ", stderr);
    still_diag_text(path, stderr);
    fprintf(stderr, ": %s\n", strerror(error));
    return 4;
}

/* Write into what is there: a pipe or a device is no place for a rename. */
static int write_into(const char *path, const char *bytes, size_t len)
{
    FILE *to = fopen(path, "wb");
    if (to == NULL) return file_failed(path);
    bool good = fwrite(bytes, 1, len, to) == len;
    if (fclose(to) != 0) good = false;
    return good ? 0 : file_failed(path);
}

/* Write to a file that appears whole or not at all. A link is followed; an existing file keeps its
 * mode. */
static int write_file(const char *given, const char *bytes, size_t len)
{
    struct stat old;
    mode_t mask = umask(0), mode = 0666;
    (void)umask(mask);
    mode &= ~mask;
    char *path = realpath(given, NULL);
    if (path != NULL && stat(path, &old) == 0) {
        if (!S_ISREG(old.st_mode)) {
            free(path);
            return write_into(given, bytes, len);
        }
        mode = old.st_mode & 07777;
    }
    const char *final = path != NULL ? path : given;
    size_t room = strlen(final) + 16;
    char *temp = malloc(room);
    if (temp == NULL) {
        free(path);
        return still_status_exit(STILL_E_NOMEM);
    }
    snprintf(temp, room, "%s.XXXXXX", final);
    int fd = mkstemp(temp);
    if (fd >= 0) (void)fchmod(fd, mode);
    FILE *to = fd < 0 ? NULL : fdopen(fd, "wb");
    bool good = to != NULL && fwrite(bytes, 1, len, to) == len;
    if (to != NULL && fclose(to) != 0) good = false;
    if (good && rename(temp, final) != 0) good = false;
    int code = good ? 0 : file_failed(given);
    if (!good && fd >= 0) (void)unlink(temp);
    free(temp);
    free(path);
    return code;
}

/* An accepted name that fits nothing is most likely mistyped. */
static void note_unused(const still_cli *cli, const still_record *record)
{
    for (size_t i = 0; i < cli->n_accept; i++) {
        bool fits = false;
        for (size_t k = 0; k < record->n_findings && !fits; k++) {
            const still_finding *f = &record->findings[k];
            size_t n = strlen(f->rule);
            fits = f->accepted && strncmp(cli->accept[i], f->rule, n) == 0 &&
                   cli->accept[i][n] == ':' && strcmp(cli->accept[i] + n + 1, f->id) == 0;
        }
        if (fits) continue;
        fputs("stillset: note: --accept ", stderr);
        still_diag_text(cli->accept[i], stderr);
        fputs(" fits no finding that can be accepted\n", stderr);
    }
}

/* What needs no plant to be refused. */
static int check_use(const still_cli *cli)
{
    if (cli->n_targets == 0 && cli->from == NULL) {
        fprintf(stderr, "stillset: plan needs --target ID\n");
        return 2;
    }
    const char *const files[] = {cli->plant, cli->state,      cli->policy,
                                 cli->site,  cli->checklists, cli->from};
    enum { N = sizeof files / sizeof files[0] };
    for (int i = 0; i < N; i++)
        for (int k = 0; k < i; k++)
            if (still_cli_both_stdin(files[i], files[k])) return 2;
    return 0;
}

/* Write to where the result goes, and free it. */
int still_cli_deliver(const still_cli *cli, char *bytes, size_t len)
{
    int code = 0;
    if (cli->output != NULL)
        code = write_file(cli->output, bytes, len);
    else if (fwrite(bytes, 1, len, stdout) != len)
        code = 4;
    still_bytes_free(bytes);
    return code;
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
    int code = still_cli_deliver(cli, bytes, len);
    if (code == 0) code = still_plan_record(plan)->ready ? 0 : 1;
    return code;
}

int still_run_plan(const still_cli *cli)
{
    if (need_plant(cli) != 0) return 2;
    if (check_use(cli) != 0) return 2;
    still_plant *plant = NULL;
    still_state *state = NULL;
    still_plan *plan = NULL;
    const still_plan_opts opts = {.grade = cli->grade,
                                  .work = cli->work,
                                  .accept = cli->accept,
                                  .n_accept = cli->n_accept,
                                  .ambient = cli->ambient,
                                  .avoid = cli->avoid,
                                  .n_avoid = cli->n_avoid,
                                  .keep = cli->keep,
                                  .n_keep = cli->n_keep,
                                  .policy = cli->policy,
                                  .site = cli->site,
                                  .checklists = cli->checklists,
                                  .explain = cli->explain,
                                  .done = cli->done,
                                  .n_done = cli->n_done,
                                  .found = cli->found,
                                  .n_found = cli->n_found,
                                  .from = cli->from};
    still_diags *diags = still_diags_new();
    if (diags == NULL) return still_status_exit(STILL_E_NOMEM);
    still_status status = still_cli_read(&plant, &state, cli, diags);
    still_cli_keep_memory();
    if (status == STILL_OK)
        status = still_plan_make(&plan, plant, state, cli->targets, cli->n_targets, &opts, diags);
    still_cli_print_diags(diags);
    if (status == STILL_OK) note_unused(cli, still_plan_record(plan));
    int code = status == STILL_OK ? write_plan(cli, plan, diags) : failed(status, diags);
    still_plan_free(plan);
    still_state_free(state);
    still_plant_free(plant);
    still_diags_free(diags);
    return code;
}

static int no_picture(still_status status)
{
    fprintf(stderr, "stillset: the picture could not be made: %s\n", still_status_text(status));
    return still_status_exit(status);
}

int still_run_draw(const still_cli *cli)
{
    enum { DEPTH = 4 };
    if (need_plant(cli) != 0) return 2;
    if (cli->depth_said && cli->around == NULL) {
        fprintf(stderr, "stillset: --depth needs --around ID\n");
        return 2;
    }
    if (cli->format_said && cli->format < STILL_FORMAT_SVG) {
        fprintf(stderr, "stillset: draw writes svg, png or pdf\n");
        return 2;
    }
    char *bytes = NULL;
    size_t len = 0;
    still_plant *plant = NULL;
    still_diags *diags = still_diags_new();
    if (diags == NULL) return still_status_exit(STILL_E_NOMEM);
    still_format format = cli->format_said ? cli->format : STILL_FORMAT_SVG;
    still_status status = still_plant_read(&plant, cli->plant, diags);
    if (status == STILL_OK)
        status = still_draw(&bytes, &len, plant, cli->around, cli->depth_said ? cli->depth : DEPTH,
                            format, diags);
    still_cli_print_diags(diags);
    int code = 0;
    if (status == STILL_OK) {
        code = still_cli_deliver(cli, bytes, len);
    } else {
        code = still_diags_errors(diags) == 0 ? no_picture(status) : still_status_exit(status);
    }
    still_plant_free(plant);
    still_diags_free(diags);
    return code;
}

/* A message about the curve; its words hold ids of the plant. */
static void say_of_curve(const still_curve_record *r, const char *what, const char *text)
{
    if (text[0] == '\0') return;
    fputs("stillset: curve of ", stderr);
    still_diag_text(r->segment->name, stderr);
    fprintf(stderr, ": %s", what);
    still_diag_text(text, stderr);
    fputc('\n', stderr);
}

static int write_curve(const still_cli *cli, const still_coverage *coverage, still_diags *diags)
{
    char *bytes = NULL;
    size_t len = 0;
    int code = 1;
    still_curve *curve = NULL;
    still_status status = still_coverage_curve(&curve, coverage, cli->curve, diags);
    still_cli_print_diags(diags);
    if (status != STILL_OK) return failed(status, diags);
    const still_curve_record *r = still_curve_record_of(curve);
    say_of_curve(r, "", r->conflict);
    say_of_curve(r, r->n_rows == 0 ? "no numbers: " : "", r->stops);
    if (r->n_rows == 1 && r->complete)
        say_of_curve(r, "", "one row: ambient is not a whole kelvin above the start");
    if (r->n_rows > 0) {
        status = still_curve_write(&bytes, &len, curve,
                                   cli->format_said ? cli->format : STILL_FORMAT_CSV, diags);
        code = status == STILL_OK ? still_cli_deliver(cli, bytes, len) : failed(status, diags);
        if (code == 0 && !r->complete) code = 1;
    }
    still_curve_free(curve);
    return code;
}

/* What needs no plant to be refused. */
static int check_relief(const still_cli *cli)
{
    if (cli->curve != NULL && cli->format_said && cli->format < STILL_FORMAT_CSV)
        fprintf(stderr, "stillset: relief --curve writes csv, svg, png or pdf\n");
    else if (cli->table_said && (cli->format != STILL_FORMAT_CSV || cli->curve != NULL))
        fprintf(stderr, "stillset: relief --table is a table of --format csv\n");
    else if (cli->table == STILL_TABLE_SINCE && cli->since == NULL)
        fprintf(stderr, "stillset: relief --table since needs --since OLD\n");
    else if (cli->page != 0 &&
             (cli->format < STILL_FORMAT_SVG || cli->curve != NULL || cli->around != NULL))
        fprintf(stderr, "stillset: relief --page is one of a whole plant: --format svg, png or "
                        "pdf, without --around and --curve\n");
    else if (cli->curve != NULL && cli->around != NULL)
        fprintf(stderr, "stillset: relief draws --curve ID or --around ID, not both at once\n");
    else
        return 0;
    return 2;
}

/* Read the older revision and compare. */
static still_status compare(const still_cli *cli, still_coverage *coverage, still_diags *diags)
{
    still_plant *old = NULL;
    if (cli->since == NULL) return STILL_OK;
    still_status status = still_plant_read(&old, cli->since, diags);
    if (status == STILL_OK) status = still_coverage_since(coverage, old, diags);
    still_plant_free(old);
    return status;
}

/* A picture; of a whole plant that does not fit on a page it is said how many pages it has. Where
 * one picture leaves something out that is said instead: pages of a large plant take time. */
static still_status draw_relief(char **bytes, size_t *len, const still_cli *cli,
                                const still_coverage *coverage, still_diags *diags)
{
    uint32_t n = 1;
    if (cli->page != 0)
        return still_coverage_draw_page(bytes, len, coverage, cli->page, cli->format, diags);
    still_status status =
        still_coverage_draw(bytes, len, coverage, cli->around, cli->depth, cli->format, diags);
    if (status != STILL_OK || cli->around != NULL || cli->format == STILL_FORMAT_PDF) return status;
    uint32_t left_out = still_coverage_left_out(coverage);
    if (left_out > 0) {
        fprintf(stderr,
                "stillset: note: one picture: %u components have no room on it and ARE NOT DRAWN; "
                "--format pdf draws all, on pages that can be printed on A3, and --page N one of "
                "these\n",
                left_out);
        return status;
    }
    status = still_coverage_pages(&n, coverage);
    if (status == STILL_OK && n > 1)
        fprintf(stderr,
                "stillset: note: one picture of all; as PDF it has %u pages that can be "
                "printed on A3, and --page N draws one\n",
                n);
    if (status != STILL_OK) {
        still_bytes_free(*bytes);
        *bytes = NULL;
    }
    return status;
}

int still_run_relief(const still_cli *cli)
{
    bool picture = cli->format >= STILL_FORMAT_SVG && cli->curve == NULL;
    if (need_plant(cli) != 0 || check_relief(cli) != 0) return 2;
    if (still_cli_both_stdin(cli->plant, cli->since) ||
        still_cli_both_stdin(cli->plant, cli->state) ||
        still_cli_both_stdin(cli->since, cli->state))
        return 2;
    if (cli->depth_said && cli->around == NULL) {
        fprintf(stderr, "stillset: --depth needs --around ID\n");
        return 2;
    }
    if (cli->around != NULL && !picture) {
        fprintf(stderr, "stillset: relief --around is a picture: --format svg, png or pdf\n");
        return 2;
    }
    char *bytes = NULL;
    size_t len = 0;
    still_plant *plant = NULL;
    still_state *state = NULL;
    still_coverage *coverage = NULL;
    const still_coverage_opts opts = {cli->ambient, cli->accept, cli->n_accept};
    still_diags *diags = still_diags_new();
    if (diags == NULL) return still_status_exit(STILL_E_NOMEM);
    still_status status = still_cli_read(&plant, &state, cli, diags);
    if (status == STILL_OK) status = still_coverage_make(&coverage, plant, state, &opts, diags);
    if (status == STILL_OK) status = compare(cli, coverage, diags);
    int code = 0;
    if (status == STILL_OK && cli->curve != NULL) {
        code = write_curve(cli, coverage, diags);
    } else {
        if (status == STILL_OK && picture)
            status = draw_relief(&bytes, &len, cli, coverage, diags);
        else if (status == STILL_OK && cli->table_said)
            status = still_coverage_write_table(&bytes, &len, coverage, cli->table);
        else if (status == STILL_OK)
            status = still_coverage_write(&bytes, &len, coverage, cli->format, diags);
        still_cli_print_diags(diags);
        if (status == STILL_OK)
            code = still_cli_deliver(cli, bytes, len);
        else
            code =
                picture && status == STILL_E_INTERNAL ? no_picture(status) : failed(status, diags);
        if (status == STILL_OK && code == 0 && still_coverage_record_of(coverage)->n_gaps > 0)
            code = 1;
    }
    still_coverage_free(coverage);
    still_state_free(state);
    still_plant_free(plant);
    still_diags_free(diags);
    return code;
}

/* What needs no drawing to be refused. */
static int check_import(const still_cli *cli)
{
    if (cli->source != NULL && strcmp(cli->source, "csv") == 0) {
        fprintf(stderr, "stillset: import csv is not in this version\n");
        return 2;
    }
    if (cli->source == NULL || strcmp(cli->source, "dexpi") != 0) {
        fprintf(stderr, "stillset: import needs the format to read: import dexpi DRAWING\n");
        return 2;
    }
    if (cli->plant == NULL) {
        fprintf(stderr, "stillset: import needs a drawing\n");
        return 2;
    }
    if (cli->output == NULL) {
        fprintf(stderr, "stillset: import needs -o PLANT, a file to write\n");
        return 2;
    }
    return 0;
}

/* The plant file, and its report beside it. */
static int write_import(const still_cli *cli, const still_import *import)
{
    size_t len = 0, room = strlen(cli->output) + sizeof ".import.json";
    char *beside = malloc(room);
    if (beside == NULL) return still_status_exit(STILL_E_NOMEM);
    snprintf(beside, room, "%s.import.json", cli->output);
    const char *report = still_import_report(import, STILL_IMPORT_JSON, &len);
    int code = write_file(beside, report, len);
    free(beside);
    if (code != 0) return code;
    const char *plant = still_import_plant(import, &len);
    return write_file(cli->output, plant, len);
}

int still_run_import(const still_cli *cli)
{
    if (check_import(cli) != 0) return 2;
    still_import *import = NULL;
    const still_import_opts opts = {cli->assume_lockable};
    still_diags *diags = still_diags_new();
    if (diags == NULL) return still_status_exit(STILL_E_NOMEM);
    still_status status = still_import_dexpi(&import, cli->plant, &opts, diags);
    still_cli_print_diags(diags);
    int code = 0;
    if (status == STILL_OK) {
        code = write_import(cli, import);
        size_t len = 0;
        const char *report = still_import_report(import, STILL_IMPORT_TEXT, &len);
        if (code == 0 && fwrite(report, 1, len, stdout) != len) code = 4;
        if (code == 0 && still_import_losses(import) > 0 && !cli->accept_losses) code = 1;
    } else {
        if (still_diags_errors(diags) == 0)
            fprintf(stderr, "stillset: the drawing could not be imported: %s\n",
                    still_status_text(status));
        code = still_status_exit(status);
    }
    still_import_free(import);
    still_diags_free(diags);
    return code;
}
