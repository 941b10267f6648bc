/* stillset: the command line. Uses the public headers only. */
#include "options.h"

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

static int run(const still_cli *cli)
{
    if (cli->version) {
        printf("stillset %s\n", still_version());
        return 0;
    }
    const still_command *command = cli->command == NULL ? NULL : find(cli->command);
    if (cli->command != NULL && command == NULL) {
        fputs("stillset: unknown command ", stderr);
        still_diag_text(cli->command, stderr);
        fputs("; try stillset --help\n", stderr);
        return 2;
    }
    if (command != NULL && command->run == NULL) {
        fprintf(stderr, "stillset: the command %s is not in this version\n", command->name);
        return 2;
    }
    if (cli->help) {
        still_cli_help(commands, N_COMMANDS, cli->command);
        return 0;
    }
    if (command != NULL) return command->run(cli);
    fprintf(stderr, "stillset: no command; try stillset --help\n");
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
    if (code == 0) code = run(&cli);
    still_cli_clear(&cli);
    if (fflush(stdout) != 0 || ferror(stdout)) {
        fprintf(stderr, "stillset: standard output could not be written\n");
        if (code == 0 || code == 1) code = 4;
    }
    return code;
}
