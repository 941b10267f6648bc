/* stillset: the command line. Uses the public headers only. */
#include "options.h"
#include "terminal.h"

#include "stillset/near.h"

#include <stdio.h>
#include <string.h>

#if defined(__GLIBC__)
#include <malloc.h>
#endif

static const still_command commands[] = {
    {"check", "check PLANT", "report what is wrong or odd in a plant file", still_run_check},
    {"plan", "plan PLANT --target ID,... [OPTIONS]",
     "plan the isolation of a component: points, steps, what is left to look at", still_run_plan},
    {"draw", "draw PLANT [--around ID [--depth N]] [--format svg|png|pdf] [-o FILE]",
     "draw a plant, or the neighbourhood of a component", still_run_draw},
    {"import", "import dexpi DRAWING -o PLANT [--assume-lockable] [--accept-losses]",
     "make a plant file from a drawing, with a report of what was lost", still_run_import},
    {"relief",
     "relief PLANT [--since OLD] [--ambient T] [--accept RULE:ID,...] [OPTIONS]\n"
     "       stillset relief PLANT [--around ID [--depth N]] --format svg|png|pdf [-o FILE]\n"
     "       stillset relief PLANT --curve ID [--ambient T] [--format csv|svg|png|pdf] [-o FILE]",
     "find every part that can be shut in, what covers it, and the numbers", still_run_relief},
    {"survey", NULL, NULL, NULL},
    {"verify", "verify PLANT PLAN.json [--format text|json] [-o FILE]",
     "check a plan, also one made by hand, and say what fails and along which path",
     still_run_verify},
};
enum { N_COMMANDS = sizeof commands / sizeof commands[0] };

static const still_command *find(const char *name)
{
    for (int i = 0; i < N_COMMANDS; i++)
        if (strcmp(commands[i].name, name) == 0) return &commands[i];
    return NULL;
}

/* A path or a plant in the place of the command is told apart from a slip. */
static void unknown(const char *name)
{
    const char *best = NULL;
    unsigned cost = STILL_NEAR_NONE;
    for (int i = 0; i < N_COMMANDS; i++) {
        unsigned d = commands[i].run != NULL ? still_near_distance(name, commands[i].name) : cost;
        if (d >= cost) continue;
        cost = d;
        best = commands[i].name;
    }
    if (best != NULL)
        still_cli_error("unknown command \"%s\"; nearest: %s; stillset --help lists all", name,
                        best);
    else
        still_cli_error("unknown command \"%s\"; first the command, then the plant file: stillset "
                        "check PLANT; stillset --help lists all",
                        name);
}

bool still_cli_is_command(const char *name)
{
    if (find(name) != NULL) return true;
    unknown(name);
    return false;
}

static int run(const still_cli *cli)
{
    if (cli->version) {
        printf("stillset %s\n", still_version());
        return 0;
    }
    const still_command *command = cli->command == NULL ? NULL : find(cli->command);
    if (cli->command != NULL && !still_cli_is_command(cli->command)) return 2;
    if (command != NULL && command->run == NULL) {
        still_cli_error(
            "the command %s is not in this version; stillset --help lists those that are",
            command->name);
        return 2;
    }
    if (cli->help) {
        still_cli_help(commands, N_COMMANDS, cli->command);
        return 0;
    }
    if (command != NULL) return command->run(cli);
    still_cli_error(
        "no command; stillset plan PLANT --target ID makes a plan, stillset --help lists "
        "all");
    return 2;
}

int main(int argc, char **argv)
{
    still_cli cli;
#if defined(__GLIBC__)
    /* What is large goes back to the system as soon as it is freed: reading a plant of a refinery
     * takes a seventh less memory at its peak. */
    mallopt(M_MMAP_THRESHOLD, 128 * 1024);
#endif
    int code = still_cli_parse(&cli, argc, argv);
    if (code == 0) {
        still_cli_quiet(cli.quiet);
        code = run(&cli);
    }
    still_terminal_end();
    still_cli_clear(&cli);
    if (fflush(stdout) != 0 || ferror(stdout)) {
        still_cli_error("standard output could not be written; look where it goes, or write to a "
                        "file with -o FILE");
        if (code == 0 || code == 1) code = 4;
    }
    return code;
}
