/* stillset relief PLANT */
#include "options.h"

#include <stdio.h>
#include <string.h>

/* Why the curve has no numbers, or fewer than were asked for. */
static void say_of_curve(const still_curve_record *r, const char *what, const char *text)
{
    if (text[0] != '\0') still_cli_error("curve of %s: %s%s", r->segment->name, what, text);
}

static int write_curve(const still_cli *cli, const still_coverage *coverage, still_diags *diags)
{
    char *bytes = NULL;
    size_t len = 0;
    int code = 1;
    still_curve *curve = NULL;
    still_status status = still_coverage_curve(&curve, coverage, cli->curve, diags);
    still_cli_print_diags(diags);
    if (status != STILL_OK) return still_cli_failed(status, diags);
    const still_curve_record *r = still_curve_record_of(curve);
    say_of_curve(r, "", r->conflict);
    say_of_curve(r, r->n_rows == 0 ? "no numbers: " : "", r->stops);
    if (r->n_rows == 1 && r->complete)
        still_cli_note("curve of %s: one row: ambient is not a whole kelvin above the start; a "
                       "higher --ambient gives more",
                       r->segment->name);
    if (r->n_rows > 0) {
        status = still_curve_write(&bytes, &len, curve,
                                   cli->format_said ? cli->format : STILL_FORMAT_CSV, diags);
        code = status == STILL_OK ? still_cli_deliver(cli, bytes, len)
                                  : still_cli_failed(status, diags);
        if (code == 0 && !r->complete) code = 1;
    }
    still_curve_free(curve);
    return code;
}

/* What needs no plant to be refused. */
static int check_relief(const still_cli *cli)
{
    if (cli->html)
        still_cli_error(
            "relief writes no html; say text, json, csv, svg, png or pdf with --format");
    else if (cli->curve != NULL && cli->format_said && cli->format < STILL_FORMAT_CSV)
        still_cli_error(
            "relief --curve writes csv, svg, png or pdf; say one of these with --format");
    else if (cli->table_said && (cli->format != STILL_FORMAT_CSV || cli->curve != NULL))
        still_cli_error(
            "relief --table is a table of --format csv; add that, and leave out --curve");
    else if (cli->table == STILL_TABLE_SINCE && cli->since == NULL)
        still_cli_error(
            "relief --table since needs --since OLD, an older revision of the plant file");
    else if (cli->page != 0 &&
             (cli->format < STILL_FORMAT_SVG || cli->curve != NULL || cli->around != NULL))
        still_cli_error("relief --page is one of a whole plant: --format svg, png or pdf, without "
                        "--around and --curve");
    else if (cli->curve != NULL && cli->around != NULL)
        still_cli_error("relief draws --curve ID or --around ID, not both at once: leave one out");
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
        still_cli_note("one picture: %u components have no room on it and ARE NOT DRAWN; "
                       "--format pdf draws all, on pages that can be printed on A3, and --page N "
                       "one of these",
                       left_out);
        return status;
    }
    status = still_coverage_pages(&n, coverage);
    if (status == STILL_OK && n > 1)
        still_cli_note("one picture of all; as PDF it has %u pages that can be printed on A3, and "
                       "--page N draws one",
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
    if (still_cli_need_plant(cli) != 0 || check_relief(cli) != 0) return 2;
    if (still_cli_both_stdin(cli->plant, cli->since) ||
        still_cli_both_stdin(cli->plant, cli->state) ||
        still_cli_both_stdin(cli->since, cli->state))
        return 2;
    if (cli->depth_said && cli->around == NULL) {
        still_cli_error(
            "--depth needs --around ID: what is drawn, such as --around MV-1 --depth 2");
        return 2;
    }
    if (cli->around != NULL && !picture) {
        still_cli_error("relief --around is a picture: add --format svg, png or pdf");
        return 2;
    }
    char *bytes = NULL;
    size_t len = 0;
    const still_style style = still_cli_style(cli);
    still_plant *plant = NULL;
    still_state *state = NULL;
    still_coverage *coverage = NULL;
    const still_coverage_opts opts = {cli->ambient, cli->accept, cli->n_accept};
    still_diags *diags = still_diags_new();
    if (diags == NULL) return still_cli_failed(STILL_E_NOMEM, NULL);
    still_cli_progress(cli, "looking for closed-in liquid in", cli->plant);
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
        else if (status == STILL_OK && cli->format == STILL_FORMAT_TEXT)
            status = still_coverage_write_text(&bytes, &len, coverage, &style);
        else if (status == STILL_OK)
            status = still_coverage_write(&bytes, &len, coverage, cli->format, diags);
        still_cli_print_diags(diags);
        if (status == STILL_OK)
            code = still_cli_deliver(cli, bytes, len);
        else
            code = picture && status == STILL_E_INTERNAL ? still_cli_no_picture(status)
                                                         : still_cli_failed(status, diags);
        if (status == STILL_OK && code == 0 && still_coverage_record_of(coverage)->n_gaps > 0)
            code = 1;
    }
    still_coverage_free(coverage);
    still_state_free(state);
    still_plant_free(plant);
    still_diags_free(diags);
    return code;
}
