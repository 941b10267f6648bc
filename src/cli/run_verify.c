/* stillset verify PLANT PLAN.json */
#include "options.h"

#include <stdio.h>
#include <string.h>

/* What needs no file to be refused. */
static int check_use(const still_cli *cli)
{
    if (cli->plant == NULL || cli->record == NULL)
        still_cli_error(
            "verify needs a plant file and a plan: stillset verify PLANT PLAN.json; stillset "
            "plan --format json -o PLAN.json writes one");
    else if (still_cli_both_stdin(cli->plant, cli->record) ||
             still_cli_both_stdin(cli->plant, cli->state) ||
             still_cli_both_stdin(cli->record, cli->state))
        return 2;
    else if (cli->format != STILL_FORMAT_TEXT && cli->format != STILL_FORMAT_JSON)
        still_cli_error("verify writes text or json; say one of these with --format");
    else
        return 0;
    return 2;
}

int still_run_verify(const still_cli *cli)
{
    if (check_use(cli) != 0) return 2;
    char *bytes = NULL;
    size_t len = 0;
    const still_style style = still_cli_style(cli);
    still_plant *plant = NULL;
    still_state *state = NULL;
    still_verdict *verdict = NULL;
    still_diags *diags = still_diags_new();
    if (diags == NULL) return still_cli_failed(STILL_E_NOMEM, NULL);
    still_cli_progress(cli, "verifying", cli->record);
    still_status status = still_cli_read(&plant, &state, cli, diags);
    if (status == STILL_OK) status = still_verify_plan(&verdict, plant, state, cli->record, diags);
    if (status == STILL_OK && cli->format == STILL_FORMAT_TEXT)
        status = still_verdict_write_text(&bytes, &len, verdict, &style);
    else if (status == STILL_OK)
        status = still_verdict_write(&bytes, &len, verdict, cli->format, diags);
    still_cli_print_diags(diags);
    int code = still_status_exit(status);
    if (status == STILL_OK) {
        code = still_cli_deliver(cli, bytes, len);
        if (code == 0 && !still_verdict_record_of(verdict)->agrees) code = 1;
    } else if (still_diags_errors(diags) == 0) {
        still_cli_error("%s", still_status_text(status));
    }
    still_verdict_free(verdict);
    still_state_free(state);
    still_plant_free(plant);
    still_diags_free(diags);
    return code;
}
