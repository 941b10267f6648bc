/* Commands: check, plan, draw, import. */
#include "options.h"
#include "terminal.h"

#include "stillset/import.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

/* "2 warnings", marked where it is not none. */
static void count(size_t n, const char *what, const char *on)
{
    bool marks = n > 0 && still_terminal_style(stdout).marks;
    printf("%s%zu %s%s%s", marks ? on : "", n, what, n == 1 ? "" : "s", marks ? "\033[0m" : "");
}

int still_run_check(const still_cli *cli)
{
    if (still_cli_need_plant(cli) != 0) return 2;
    still_plant *plant = NULL;
    still_diags *diags = still_diags_new();
    if (diags == NULL) return still_cli_failed(STILL_E_NOMEM, NULL);
    still_cli_progress(cli, "checking", cli->plant);
    still_status status = still_plant_read(&plant, cli->plant, diags);
    if (status == STILL_OK) status = still_check(plant, diags);
    still_diags_sort(diags);
    still_cli_print_diags(diags);
    int code = status == STILL_OK ? 0 : still_cli_failed(status, diags);
    if (status == STILL_OK || status == STILL_E_INPUT) {
        still_terminal_end();
        still_diag_text(cli->plant, stdout);
        fputs(": ", stdout);
        count(still_diags_errors(diags), "error", "\033[1;31m");
        fputs(", ", stdout);
        count(still_diags_warnings(diags), "warning", "\033[33m");
        fputc('\n', stdout);
    }
    still_plant_free(plant);
    still_diags_free(diags);
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
        still_cli_note(
            "--accept %s fits no finding that can be accepted; the plan prints the names "
            "of those that can",
            cli->accept[i]);
    }
}

/* What needs no plant to be refused. */
static int check_use(const still_cli *cli)
{
    if (cli->n_targets == 0 && cli->from == NULL) {
        still_cli_error("plan needs --target ID: what is to be opened, such as --target MV-1");
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

/* What the answer is, for somebody at a terminal who had it written to a file. */
static void note_verdict(const still_record *r)
{
    size_t n = 0;
    for (size_t i = 0; i < r->n_findings; i++)
        n += r->findings[i].blocks && !r->findings[i].accepted;
    if (!r->feasible)
        still_cli_note("CANNOT BE ISOLATED; best grade that can be had: %s; why, and what would "
                       "help, stands in the plan",
                       r->obstacle.best_grade[0] != '\0' ? r->obstacle.best_grade : "none");
    else if (n > 0)
        still_cli_note("NOT READY: %zu finding%s; how to clear or accept %s stands in the plan", n,
                       n == 1 ? " blocks" : "s block", n == 1 ? "it" : "each one");
    else if (!r->ready)
        still_cli_note("NOT READY; why stands in the plan");
}

/* Whether the plan is written as a pack for people. */
static bool is_pack(const still_cli *cli)
{
    return cli->format == STILL_FORMAT_PDF;
}

/* What only a pack has. */
static int check_pack(const still_cli *cli)
{
    const char *option = cli->us                 ? "--units"
                         : cli->locale != NULL   ? "--locale"
                         : cli->messages != NULL ? "--messages"
                         : cli->paper_said       ? "--paper"
                                                 : NULL;
    if (cli->paper_said && cli->html) {
        still_cli_error("--paper is for --format pdf: a browser is told its paper when it prints");
        return 2;
    }
    if (option != NULL && !is_pack(cli)) {
        still_cli_error("%s is for people: say --format pdf or html with it", option);
        return 2;
    }
    if (cli->messages != NULL && cli->locale == NULL) {
        still_cli_error("--messages needs --locale LANGUAGE, the one it is in, such as nl");
        return 2;
    }
    return 0;
}

static int write_plan(const still_cli *cli, const still_plan *plan,
                      const still_catalogue *catalogue, const char *digest, still_diags *diags)
{
    char *bytes = NULL;
    size_t len = 0;
    const still_pack_opts opts = {.paper = cli->paper,
                                  .us_customary = cli->us,
                                  .decimal_comma = catalogue != NULL,
                                  .catalogue = catalogue,
                                  .digest = digest};
    const still_style style = still_cli_style(cli);
    still_status status = is_pack(cli) ? still_plan_pack(&bytes, &len, plan, cli->html, &opts)
                          : cli->format == STILL_FORMAT_TEXT
                              ? still_plan_write_text(&bytes, &len, plan, &style)
                              : still_plan_write(&bytes, &len, plan, cli->format, diags);
    if (status != STILL_OK) {
        still_cli_error("the plan could not be written: %s; --format text and json need no "
                        "library for pictures",
                        still_status_text(status));
        return still_status_exit(status);
    }
    int code = still_cli_deliver(cli, bytes, len);
    if (code == 0 && cli->output != NULL && isatty(STDERR_FILENO))
        note_verdict(still_plan_record(plan));
    if (code == 0) code = still_plan_record(plan)->ready ? 0 : 1;
    return code;
}

int still_run_plan(const still_cli *cli)
{
    if (still_cli_need_plant(cli) != 0) return 2;
    if (check_use(cli) != 0 || check_pack(cli) != 0) return 2;
    still_plant *plant = NULL;
    still_state *state = NULL;
    still_plan *plan = NULL;
    still_catalogue *catalogue = NULL;
    char digest[65] = "";
    still_plan_opts opts = {.grade = cli->grade,
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
                            .paths = cli->paths,
                            .done = cli->done,
                            .n_done = cli->n_done,
                            .found = cli->found,
                            .n_found = cli->n_found,
                            .from = cli->from,
                            .curves = is_pack(cli)};
    still_diags *diags = still_diags_new();
    if (diags == NULL) return still_cli_failed(STILL_E_NOMEM, NULL);
    still_cli_progress(cli, "planning", cli->n_targets > 0 ? cli->targets[0] : cli->from);
    still_status status = still_cli_read(&plant, &state, cli, diags);
    still_cli_keep_memory();
    if (status == STILL_OK && cli->locale != NULL)
        status = still_catalogue_open(&catalogue, cli->locale, cli->messages, diags);
    if (status == STILL_OK)
        status = still_plan_make(&plan, plant, state, cli->targets, cli->n_targets, &opts, diags);
    still_cli_print_diags(diags);
    if (status == STILL_OK) note_unused(cli, still_plan_record(plan));
    if (status == STILL_OK && catalogue != NULL) {
        /* One plan has one digest, that of its English record; then the same plan for its reader.
         */
        status = still_plan_digest(digest, plan);
        still_plan_free(plan);
        plan = NULL;
        opts.catalogue = catalogue;
        if (status == STILL_OK)
            status =
                still_plan_make(&plan, plant, state, cli->targets, cli->n_targets, &opts, NULL);
    }
    int code = status == STILL_OK
                   ? write_plan(cli, plan, catalogue, digest[0] != '\0' ? digest : NULL, diags)
                   : still_cli_failed(status, diags);
    still_plan_free(plan);
    still_catalogue_free(catalogue);
    still_state_free(state);
    still_plant_free(plant);
    still_diags_free(diags);
    return code;
}

int still_run_draw(const still_cli *cli)
{
    enum { DEPTH = 4 };
    if (still_cli_need_plant(cli) != 0) return 2;
    if (cli->depth_said && cli->around == NULL) {
        still_cli_error(
            "--depth needs --around ID: what is drawn, such as --around MV-1 --depth 2");
        return 2;
    }
    if (cli->format_said && (cli->format < STILL_FORMAT_SVG || cli->html)) {
        still_cli_error("draw writes svg, png or pdf; say one of these with --format");
        return 2;
    }
    char *bytes = NULL;
    size_t len = 0;
    still_plant *plant = NULL;
    still_diags *diags = still_diags_new();
    if (diags == NULL) return still_cli_failed(STILL_E_NOMEM, NULL);
    still_format format = cli->format_said ? cli->format : STILL_FORMAT_SVG;
    still_cli_progress(cli, "drawing", cli->around != NULL ? cli->around : cli->plant);
    still_status status = still_plant_read(&plant, cli->plant, diags);
    if (status == STILL_OK)
        status = still_draw(&bytes, &len, plant, cli->around, cli->depth_said ? cli->depth : DEPTH,
                            format, diags);
    still_cli_print_diags(diags);
    int code = 0;
    if (status == STILL_OK) {
        code = still_cli_deliver(cli, bytes, len);
    } else {
        code = still_diags_errors(diags) == 0 ? still_cli_no_picture(status)
                                              : still_status_exit(status);
    }
    still_plant_free(plant);
    still_diags_free(diags);
    return code;
}

/* What needs no drawing to be refused. */
static int check_import(const still_cli *cli)
{
    if (cli->source != NULL && strcmp(cli->source, "csv") == 0) {
        still_cli_error(
            "import csv is not in this version; it reads drawings: import dexpi DRAWING "
            "-o PLANT");
        return 2;
    }
    if (cli->source == NULL || strcmp(cli->source, "dexpi") != 0) {
        still_cli_error("import needs the format to read: import dexpi DRAWING -o PLANT");
        return 2;
    }
    if (cli->plant == NULL) {
        still_cli_error("import needs a drawing: import dexpi DRAWING -o PLANT");
        return 2;
    }
    if (cli->output == NULL) {
        still_cli_error("import needs -o PLANT, a file to write: import dexpi DRAWING -o PLANT");
        return 2;
    }
    return 0;
}

/* The plant file, and its report beside it. */
static int write_import(const still_cli *cli, const still_import *import)
{
    size_t len = 0, room = strlen(cli->output) + sizeof ".import.json";
    char *beside = malloc(room);
    if (beside == NULL) return still_cli_failed(STILL_E_NOMEM, NULL);
    snprintf(beside, room, "%s.import.json", cli->output);
    const char *report = still_import_report(import, STILL_IMPORT_JSON, &len);
    int code = still_cli_write_file(beside, report, len);
    free(beside);
    if (code != 0) return code;
    const char *plant = still_import_plant(import, &len);
    return still_cli_write_file(cli->output, plant, len);
}

int still_run_import(const still_cli *cli)
{
    if (check_import(cli) != 0) return 2;
    still_import *import = NULL;
    const still_import_opts opts = {cli->assume_lockable};
    still_diags *diags = still_diags_new();
    if (diags == NULL) return still_cli_failed(STILL_E_NOMEM, NULL);
    still_cli_progress(cli, "importing", cli->plant);
    still_status status = still_import_dexpi(&import, cli->plant, &opts, diags);
    still_cli_print_diags(diags);
    still_terminal_end();
    int code = 0;
    if (status == STILL_OK) {
        code = write_import(cli, import);
        size_t len = 0;
        const char *report = still_import_report(import, STILL_IMPORT_TEXT, &len);
        if (code == 0 && fwrite(report, 1, len, stdout) != len) code = 4;
        if (code == 0 && still_import_losses(import) > 0 && !cli->accept_losses) code = 1;
    } else {
        if (still_diags_errors(diags) == 0)
            still_cli_error("the drawing could not be imported: %s", still_status_text(status));
        code = still_status_exit(status);
    }
    still_import_free(import);
    still_diags_free(diags);
    return code;
}
