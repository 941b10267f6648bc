#include "options.h"

#include "stillset/near.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

typedef int (*take)(still_cli *cli, char *value);

typedef struct option {
    const char *name, *value, *summary;
    const char *commands; /* in which it is allowed: names between spaces, "*" = all */
    take run;             /* NULL: not in this version, refused by name */
} option;

/* Say what is wrong with a word of the command line, which may hold anything. */
static int refuse(const char *what, const char *value, const char *why)
{
    if (value != NULL)
        still_cli_error("%s: \"%s\" %s", what, value, why);
    else
        still_cli_error("%s %s", what, why);
    return 2;
}

/* Split a comma-separated value in place: argv's strings may be written to (C11 5.1.2.2.1). */
static int split(char *value, const char ***items, size_t *n)
{
    size_t count = 1;
    for (const char *c = value; *c; c++) count += *c == ',';
    const char **list = realloc(*items, (*n + count) * sizeof *list);
    if (list == NULL) {
        return still_cli_failed(STILL_E_NOMEM, NULL);
    }
    *items = list;
    for (char *start = value;;) {
        char *comma = strchr(start, ',');
        if (comma != NULL) *comma = '\0';
        list[(*n)++] = start;
        if (comma == NULL) return 0;
        start = comma + 1;
    }
}

static int take_target(still_cli *cli, char *value)
{
    return split(value, &cli->targets, &cli->n_targets);
}

static int take_accept(still_cli *cli, char *value)
{
    return split(value, &cli->accept, &cli->n_accept);
}

static int take_avoid(still_cli *cli, char *value)
{
    return split(value, &cli->avoid, &cli->n_avoid);
}

static int take_keep(still_cli *cli, char *value)
{
    return split(value, &cli->keep, &cli->n_keep);
}

static int take_found(still_cli *cli, char *value)
{
    return split(value, &cli->found, &cli->n_found);
}

/* "12": up to the comma or the end. */
static bool whole_number(const char *text, const char *end, uint32_t *out)
{
    uint32_t n = 0;
    if (text == end || end - text > 6) return false;
    for (; text < end; text++) {
        if (*text < '0' || *text > '9') return false;
        n = n * 10 + (uint32_t)(*text - '0');
    }
    *out = n;
    return n > 0;
}

static int add_done(still_cli *cli, uint32_t from, uint32_t to)
{
    uint32_t *list = realloc(cli->done, (cli->n_done + to - from + 1) * sizeof *list);
    if (list == NULL) {
        return still_cli_failed(STILL_E_NOMEM, NULL);
    }
    cli->done = list;
    for (uint32_t i = from; i <= to; i++) list[cli->n_done++] = i;
    return 0;
}

/* "3,5,7-12": steps, and first and last of several. */
static int take_done(still_cli *cli, char *value)
{
    for (const char *at = value;; at++) {
        const char *end = at + strcspn(at, ","), *dash = memchr(at, '-', (size_t)(end - at));
        uint32_t from, to;
        bool good = whole_number(at, dash != NULL ? dash : end, &from) &&
                    whole_number(dash != NULL ? dash + 1 : at, end, &to) && from <= to;
        if (!good)
            return refuse("--done", value,
                          "is no list of steps; write numbers of steps such as 3,5,7-12");
        int code = add_done(cli, from, to);
        if (code != 0) return code;
        if (*end == '\0') return 0;
        at = end;
    }
}

static int take_from(still_cli *cli, char *value)
{
    if (value[0] == '\0') return refuse("--from", value, "is no file; name one");
    cli->from = value;
    return 0;
}

static int take_state(still_cli *cli, char *value)
{
    if (value[0] == '\0') return refuse("--state", value, "is no file; name one");
    cli->state = value;
    return 0;
}

static int take_policy(still_cli *cli, char *value)
{
    if (value[0] == '\0') return refuse("--policy", value, "is no file; name one");
    cli->policy = value;
    return 0;
}

static int take_site(still_cli *cli, char *value)
{
    if (value[0] == '\0') return refuse("--site", value, "is no file; name one");
    cli->site = value;
    return 0;
}

static int take_checklists(still_cli *cli, char *value)
{
    if (value[0] == '\0') return refuse("--checklists", value, "is no file; name one");
    cli->checklists = value;
    return 0;
}

static int take_grade(still_cli *cli, char *value)
{
    for (still_grade g = STILL_GRADE_POLICY; g <= STILL_GRADE_POSITIVE; g++) {
        if (strcmp(still_grade_text(g), value) != 0) continue;
        cli->grade = g;
        return 0;
    }
    return refuse("--grade", value,
                  "is no grade; it can be policy, single, double, single-bleed, double-bleed or "
                  "positive");
}

static int take_work(still_cli *cli, char *value)
{
    for (still_work w = STILL_WORK_OPEN; w <= STILL_WORK_LONG_TERM; w++) {
        if (strcmp(still_work_text(w), value) != 0) continue;
        cli->work = w;
        return 0;
    }
    return refuse("--work", value,
                  "is no kind of work; it can be open, entry, hot-work or long-term");
}

static int take_format(still_cli *cli, char *value)
{
    static const char *const names[] = {"text", "json", "csv", "svg", "png", "pdf"};
    for (int i = 0; i < 6; i++) {
        if (strcmp(names[i], value) != 0) continue;
        cli->format = (still_format)i;
        cli->format_said = true;
        cli->html = false;
        return 0;
    }
    if (strcmp(value, "html") == 0) {
        cli->html = true;
        cli->format = STILL_FORMAT_PDF;
        cli->format_said = true;
        return 0;
    }
    return refuse("--format", value,
                  "is no format; it can be text, json, csv, svg, png, pdf or html");
}

static int take_paper(still_cli *cli, char *value)
{
    static const char *const names[] = {"a4", "a3", "letter", "tabloid"};
    for (int i = 0; i < 4; i++) {
        if (strcmp(names[i], value) != 0) continue;
        cli->paper = (still_paper)i;
        cli->paper_said = true;
        return 0;
    }
    return refuse("--paper", value, "is no paper: a4, a3, letter or tabloid");
}

static int take_units(still_cli *cli, char *value)
{
    cli->us = strcmp(value, "us") == 0;
    if (cli->us || strcmp(value, "si") == 0) return 0;
    return refuse("--units", value, "is no set of units: si or us");
}

static int take_locale(still_cli *cli, char *value)
{
    cli->locale = value;
    return 0;
}

static int take_messages(still_cli *cli, char *value)
{
    if (value[0] == '\0') return refuse("--messages", value, "is no file");
    cli->messages = value;
    return 0;
}

static int take_around(still_cli *cli, char *value)
{
    cli->around = value;
    return 0;
}

static int take_ambient(still_cli *cli, char *value)
{
    cli->ambient = value;
    return 0;
}

static int take_curve(still_cli *cli, char *value)
{
    cli->curve = value;
    return 0;
}

static int take_depth(still_cli *cli, char *value)
{
    unsigned depth = 0;
    const char *c = value;
    for (; *c >= '0' && *c <= '9' && depth < 100000; c++) depth = depth * 10 + (unsigned)(*c - '0');
    if (c == value || *c != '\0' || depth > 99999)
        return refuse("--depth", value, "is no number up to 99999; write digits, such as 3");
    cli->depth = depth;
    cli->depth_said = true;
    return 0;
}

static int take_page(still_cli *cli, char *value)
{
    unsigned page = 0;
    const char *c = value;
    for (; *c >= '0' && *c <= '9' && page < 100000; c++) page = page * 10 + (unsigned)(*c - '0');
    if (c == value || *c != '\0' || page == 0 || page > 99999)
        return refuse("--page", value, "is no number from 1 to 99999; write digits, such as 3");
    cli->page = page;
    return 0;
}

static int take_table(still_cli *cli, char *value)
{
    static const char *const names[] = {"segments", "places", "since"};
    for (int i = 0; i < 3; i++) {
        if (strcmp(names[i], value) != 0) continue;
        cli->table = (still_coverage_table)i;
        cli->table_said = true;
        return 0;
    }
    return refuse("--table", value, "is no table; it can be segments, places or since");
}

static int take_since(still_cli *cli, char *value)
{
    if (value[0] == '\0') return refuse("--since", value, "is no file; name one");
    cli->since = value;
    return 0;
}

static int take_output(still_cli *cli, char *value)
{
    if (value[0] == '\0') return refuse("-o", value, "is no file; name one");
    cli->output = strcmp(value, "-") == 0 ? NULL : value;
    return 0;
}

static int take_assume(still_cli *cli, char *value)
{
    (void)value;
    cli->assume_lockable = true;
    return 0;
}

static int take_losses(still_cli *cli, char *value)
{
    (void)value;
    cli->accept_losses = true;
    return 0;
}

static int take_explain(still_cli *cli, char *value)
{
    (void)value;
    cli->explain = true;
    return 0;
}

static int take_quiet(still_cli *cli, char *value)
{
    (void)value;
    cli->quiet = true;
    return 0;
}

static int take_paths(still_cli *cli, char *value)
{
    (void)value;
    cli->paths = true;
    return 0;
}

static int take_help(still_cli *cli, char *value)
{
    (void)value;
    cli->help = true;
    return 0;
}

static int take_version(still_cli *cli, char *value)
{
    (void)value;
    cli->version = true;
    return 0;
}

static const option options[] = {
    {"--target", "ID", "the component to be opened", " plan ", take_target},
    {"--grade", "GRADE",
     "policy (default), single, double, single-bleed,\n                         double-bleed or "
     "positive",
     " plan ", take_grade},
    {"--policy", "FILE", "a site's policy instead of the one built in", " plan ", take_policy},
    {"--site", "FILE", "what the site says of hold time, gas test, tests and gear", " plan ",
     take_site},
    {"--checklists", "FILE", "a site's own checklists of the work", " plan ", take_checklists},
    {"--avoid", "ID,...", "devices that pass, are stuck or out of reach", " plan ", take_avoid},
    {"--keep", "ID,...", "equipment that must stay in service, with supply and relief", " plan ",
     take_keep},
    {"--state", "FILE", "what was found today, laid over the plant file", " plan relief verify ",
     take_state},
    {"--done", "STEP,...", "go on from a plan before: its steps done, such as 1-8,11", " plan ",
     take_done},
    {"--found", "ID=WHAT,...", "what was found on the way: passing, stuck or open", " plan ",
     take_found},
    {"--from", "PLAN.json", "the plan before (not said: the one that the other options give)",
     " plan ", take_from},
    {"--work", "KIND", "open, entry, hot-work or long-term", " plan ", take_work},
    {"--accept", "RULE:ID,...", "accept findings by name", " plan relief ", take_accept},
    {"--around", "ID", "what is drawn: around a component; of relief, one part (not said: all)",
     " draw relief ", take_around},
    {"--depth", "N", "how many components around it (draw: 4; relief: to the next device)",
     " draw relief ", take_depth},
    {"--ambient", "T", "highest temperature that closed-in fluid warms up to (not said: 40 degC)",
     " plan relief ", take_ambient},
    {"--page", "N", "only this page of the picture of a whole plant", " relief ", take_page},
    {"--table", "NAME", "with --format csv: segments (not said), places or since", " relief ",
     take_table},
    {"--curve", "ID", "pressure against temperature of the part with this component or spool",
     " relief ", take_curve},
    {"--since", "OLD", "an older revision of the plant file: say what changed since", " relief ",
     take_since},
    {"--paper", "PAPER", "of --format pdf: a4 (not said), letter; a3 or tabloid for the diagram",
     " plan ", take_paper},
    {"--units", "UNITS", "of a pack: si (not said), or us: US customary in front", " plan ",
     take_units},
    {"--locale", "LANGUAGE", "of a pack: en (not said) or de; comma or point with it", " plan ",
     take_locale},
    {"--messages", "FILE.mo", "of a pack: a site's own catalogue for that language", " plan ",
     take_messages},
    {"--format", "FORMAT",
     "plan, relief: text, json, csv; these, draw and --curve (also csv): svg, png, pdf",
     " plan draw relief verify ", take_format},
    {"-o", "FILE", "write there instead of to standard output", " plan draw import relief verify ",
     take_output},
    {"--explain", NULL, "text: also why devices near the boundary are no points", " plan ",
     take_explain},
    {"--paths", NULL, "svg, png, pdf: also the paths of the proof, by number", " plan ",
     take_paths},
    {"--assume-lockable", NULL, "hand valves of a drawing count as lockable, to be looked at",
     " import ", take_assume},
    {"--accept-losses", NULL, "exit status 0 though something was lost", " import ", take_losses},
    {"--quiet", NULL, "say errors only: no warnings, notes and progress", "*", take_quiet},
    {"--help", NULL, "print this and stop", "*", take_help},
    {"--version", NULL, "print the version and stop", "*", take_version},
};
enum { N_OPTIONS = sizeof options / sizeof options[0] };

static bool allowed(const option *o, const char *command)
{
    if (o->commands[0] == '*') return true;
    if (command == NULL) return false;
    const char *at = strstr(o->commands, command);
    size_t len = strlen(command);
    return at != NULL && at > o->commands && at[-1] == ' ' && at[len] == ' ';
}

/* An option that the command does not have. */
static int not_here(const option *o, const char *command)
{
    char with[80] = "";
    size_t len = 0;
    if (command == NULL) {
        still_cli_error("%s needs a command before it: stillset%.*s %s%s%s", o->name,
                        (int)strcspn(o->commands + 1, " ") + 1, o->commands, o->name,
                        o->value ? " " : "", o->value ? o->value : "");
        return 2;
    }
    if (!still_cli_is_command(command)) return 2;
    for (const char *c = o->commands; c[0] == ' ' && c[1] != '\0'; c += strcspn(c + 1, " ") + 1) {
        int n = snprintf(with + len, sizeof with - len, "%s%.*s", len > 0 ? "," : "",
                         (int)strcspn(c + 1, " ") + 1, c);
        if (n < 0 || (size_t)n >= sizeof with - len) break;
        len += (size_t)n;
    }
    still_cli_error(
        "%s: \"%s\" is a command without this option; it goes with%s; stillset %s --help "
        "lists its options",
        o->name, command, with, command);
    return 2;
}

static int unknown(const char *arg, const char *command)
{
    char word[64];
    const option *best = NULL;
    unsigned cost = STILL_NEAR_NONE;
    size_t len = strcspn(arg, "=");
    snprintf(word, sizeof word, "%.*s", (int)(len < sizeof word ? len : sizeof word - 1), arg);
    for (int k = 0; k < N_OPTIONS; k++) {
        unsigned d = still_near_distance(word, options[k].name);
        if (d >= cost || options[k].summary == NULL || !allowed(&options[k], command)) continue;
        cost = d;
        best = &options[k];
    }
    still_cli_error("unknown option \"%s\"%s%s; stillset%s%s --help lists all", arg,
                    best != NULL ? "; nearest: " : "", best != NULL ? best->name : "",
                    command != NULL ? " " : "", command != NULL ? command : "");
    return 2;
}

/* Take one option at argv[*i]. @return exit status, or -1 when it is none */
static int take_option(still_cli *cli, int argc, char **argv, int *i)
{
    char *arg = argv[*i];
    if (arg[0] != '-' || strcmp(arg, "-") == 0) return -1;
    for (int k = 0; k < N_OPTIONS; k++) {
        const option *o = &options[k];
        size_t len = strlen(o->name);
        bool joined = strncmp(arg, o->name, len) == 0 && arg[len] == '=' && o->name[1] == '-';
        if (strcmp(arg, o->name) != 0 && !joined) continue;
        if (!allowed(o, cli->command)) return not_here(o, cli->command);
        if (o->run == NULL) {
            still_cli_error("%s is not in this version; stillset --help lists what is", o->name);
            return 2;
        }
        if (o->value == NULL && joined)
            return refuse(o->name, NULL, "takes no value: leave out = and what follows");
        if (o->value == NULL) return o->run(cli, NULL);
        if (joined) return o->run(cli, arg + len + 1);
        if (*i + 1 >= argc) {
            still_cli_error("%s needs a value: %s %s; stillset%s%s --help says more", o->name,
                            o->name, o->value, cli->command ? " " : "",
                            cli->command ? cli->command : "");
            return 2;
        }
        return o->run(cli, argv[++*i]);
    }
    return unknown(arg, cli->command);
}

int still_cli_parse(still_cli *cli, int argc, char **argv)
{
    *cli = (still_cli){
        .format = STILL_FORMAT_TEXT, .grade = STILL_GRADE_POLICY, .work = STILL_WORK_BY_TARGET};
    for (int i = 1; i < argc; i++) {
        int status = take_option(cli, argc, argv, &i);
        if (status > 0) return status;
        if (status == 0) continue;
        if (cli->command == NULL) {
            cli->command = argv[i];
        } else if (strcmp(cli->command, "import") == 0 && cli->source == NULL) {
            cli->source = argv[i];
        } else if (cli->plant == NULL) {
            cli->plant = argv[i];
        } else if (strcmp(cli->command, "verify") == 0 && cli->record == NULL) {
            cli->record = argv[i];
        } else {
            still_cli_error("one plant file at a time: \"%s\" is one too many; several targets are "
                            "parted by commas, and a name with blanks stands in quotes",
                            argv[i]);
            return 2;
        }
    }
    return 0;
}

void still_cli_clear(still_cli *cli)
{
    free(cli->targets);
    free(cli->accept);
    free(cli->avoid);
    free(cli->keep);
    free(cli->done);
    free(cli->found);
    *cli = (still_cli){.command = NULL};
}

void still_cli_help(const still_command *commands, size_t n, const char *command)
{
    if (command == NULL) {
        printf("usage: stillset COMMAND [OPTIONS] PLANT\n\n"
               "Works out how to make a stretch of pressurised plant safe to open.\n\ncommands:\n");
        for (size_t i = 0; i < n; i++)
            if (commands[i].run != NULL)
                printf("  %-8s %s\n", commands[i].name, commands[i].summary);
    } else {
        for (size_t i = 0; i < n; i++)
            if (strcmp(commands[i].name, command) == 0 && commands[i].run != NULL)
                printf("usage: stillset %s\n\n%s\n", commands[i].usage, commands[i].summary);
    }
    printf("\noptions:\n");
    for (int k = 0; k < N_OPTIONS; k++) {
        const option *o = &options[k];
        if (o->summary == NULL || (command != NULL && !allowed(o, command))) continue;
        char left[40];
        snprintf(left, sizeof left, "%s%s%s", o->name, o->value ? " " : "",
                 o->value ? o->value : "");
        printf("  %-22s %s\n", left, o->summary);
    }
    printf("\nPLANT: a plant file (docs/FORMAT.md), or - for standard input\n"
           "exit:  0 yes; 1 no (cannot be isolated, or not ready); 2 wrong use; 3 bad input;\n"
           "       4 system; 70 internal\n\n"
           "Only competent persons may isolate plant. Local code and site rules come first.\n");
}
