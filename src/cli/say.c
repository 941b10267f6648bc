/* What the program says on standard error. Errors are always said; notes and warnings not with
 * --quiet. The line of progress is wiped before each. */
#include "options.h"
#include "terminal.h"

#include <stdarg.h>
#include <stdio.h>
#include <string.h>
#include <unistd.h>

static bool quiet;

void still_cli_quiet(bool is)
{
    quiet = is;
}

static const char *mark(const still_style *style, const char *sequence)
{
    return style->marks ? sequence : "";
}

#if defined(__GNUC__)
__attribute__((format(printf, 2, 0)))
#endif
/* In an error "stillset:" is marked, of a note its word. */
static void
say(bool error, const char *format, va_list args)
{
    char text[4096];
    still_style style = still_terminal_style(stderr);
    vsnprintf(text, sizeof text, format, args);
    still_terminal_hold();
    if (error)
        fprintf(stderr, "%sstillset:%s ", mark(&style, "\033[1;31m"), mark(&style, "\033[0m"));
    else
        fprintf(stderr, "stillset: %snote:%s ", mark(&style, "\033[33m"), mark(&style, "\033[0m"));
    still_diag_text(text, stderr);
    fputc('\n', stderr);
    still_terminal_go();
}

void still_cli_error(const char *format, ...)
{
    va_list args;
    va_start(args, format);
    say(true, format, args);
    va_end(args);
}

void still_cli_note(const char *format, ...)
{
    va_list args;
    if (quiet) return;
    va_start(args, format);
    say(false, format, args);
    va_end(args);
}

void still_cli_print_diags(const still_diags *diags)
{
    still_style style = still_terminal_style(stderr);
    enum { CODES = 128 };    /* more than there are */
    const char *said[CODES]; /* codes whose advice was given */
    size_t n_said = 0, errors = 0;
    still_terminal_hold();
    for (size_t i = 0; i < still_diags_count(diags); i++) {
        const still_diag *d = still_diags_at(diags, i);
        bool error = d->severity == STILL_SEV_ERROR, known = false;
        errors += error;
        if (quiet && !error) continue;
        still_diag_write_styled(d, stderr, &style);
        for (size_t k = 0; k < n_said; k++) known = known || strcmp(said[k], d->code) == 0;
        if (known || n_said == CODES) continue;
        said[n_said++] = d->code;
        const char *next = still_diag_next(d->code);
        if (next[0] != '\0')
            fprintf(stderr, "    %snext:%s %s\n", mark(&style, "\033[1m"), mark(&style, "\033[0m"),
                    next);
    }
    size_t more = still_diags_errors(diags) - errors;
    if (!quiet) more = still_diags_dropped(diags);
    if (more > 0)
        fprintf(stderr, "stillset: %zu more problems are not shown; mend these and run it again\n",
                more);
    still_terminal_go();
}

void still_cli_progress(const still_cli *cli, const char *doing, const char *what)
{
    const char *const files[] = {cli->plant,  cli->state,      cli->policy, cli->site,
                                 cli->record, cli->checklists, cli->from,   cli->since};
    if (quiet) return;
    for (size_t i = 0; i < sizeof files / sizeof files[0]; i++) /* somebody may be typing it */
        if (files[i] != NULL && strcmp(files[i], "-") == 0 && isatty(STDIN_FILENO)) return;
    still_terminal_begin(doing, what);
}

int still_cli_failed(still_status status, const still_diags *diags)
{
    const char *next = "";
    if (status == STILL_E_INTERNAL) {
        still_cli_error("the second check did not agree with the plan: no plan is given. This is a "
                        "fault of the program; please report it with the plant file");
        return still_status_exit(status);
    }
    if (status == STILL_E_NOMEM)
        next = "; stop other programs, or cut the plant file down to the part that is isolated";
    if (status == STILL_E_LIMIT) next = "; look whether it is the file that was meant";
    if (diags == NULL || still_diags_errors(diags) == 0)
        still_cli_error("%s%s", still_status_text(status), next);
    return still_status_exit(status);
}

int still_cli_no_picture(still_status status)
{
    still_cli_error("the picture could not be made: %s; try --format svg, which needs the fewest "
                    "libraries",
                    still_status_text(status));
    return still_status_exit(status);
}

int still_cli_need_plant(const still_cli *cli)
{
    if (cli->plant != NULL) return 0;
    still_cli_error("%s needs a plant file: stillset %s PLANT%s; stillset %s --help says more",
                    cli->command, cli->command,
                    strcmp(cli->command, "plan") == 0 ? " --target ID" : "", cli->command);
    return 2;
}
