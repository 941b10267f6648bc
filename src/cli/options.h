/** @file options.h  The command line: one table of commands, one of options, serving parser and
 * help. */
#ifndef STILL_OPTIONS_H
#define STILL_OPTIONS_H

#include "stillset/coverage.h"
#include "stillset/plan.h"
#include "stillset/style.h"

#include <stdbool.h>

/** What the command line said. Strings are borrowed from argv. */
typedef struct still_cli {
    const char *command;
    const char *plant;
    const char *record; /**< verify: the plan */
    const char *output; /**< -o, or NULL = standard output */
    still_format format;
    still_grade grade;
    still_work work;
    const char **targets;
    size_t n_targets;
    const char **accept;
    size_t n_accept;
    const char **avoid;
    size_t n_avoid;
    const char **keep;
    size_t n_keep;
    uint32_t *done; /**< steps of the plan before */
    size_t n_done;
    const char **found;
    size_t n_found;
    const char *from;       /**< record of the plan before, or NULL */
    const char *state;      /**< what was found today, or NULL */
    const char *policy;     /**< a site's policy file, or NULL = the one built in */
    const char *site;       /**< a site file, or NULL */
    const char *checklists; /**< or NULL */
    const char *ambient;    /**< or NULL */
    const char *curve;      /**< or NULL = all parts */
    const char *since;      /**< older revision, or NULL */
    const char *around;     /**< or NULL = the whole plant */
    unsigned depth;
    unsigned page;              /**< 0 = all */
    still_coverage_table table; /**< of relief as CSV */
    bool table_said;
    bool format_said, depth_said;
    const char *source; /**< import: the format to read, or NULL */
    bool assume_lockable, accept_losses, explain, paths;
    bool html;           /**< --format html */
    bool paper_said, us; /**< of a pack */
    still_paper paper;
    const char *locale;   /**< language of a pack, or NULL = English */
    const char *messages; /**< a site's own catalogue, or NULL */
    bool help, version, quiet;
} still_cli;

/** A command: its name, what it does, how it is run. */
typedef struct still_command {
    const char *name, *usage, *summary;
    int (*run)(const still_cli *cli);
} still_command;

/** Parse. Misuse is explained on standard error. @return 0, or 2 for misuse, 4 when memory is out
 */
int still_cli_parse(still_cli *cli, int argc, char **argv);
void still_cli_clear(still_cli *cli);
/** Whether there is such a command; if not, that is explained. */
bool still_cli_is_command(const char *name);
/** Print the help of the program, or of one command, to standard output. */
void still_cli_help(const still_command *commands, size_t n, const char *command);

#if defined(__GNUC__)
#define STILL_CLI_FORMAT __attribute__((format(printf, 1, 2)))
#else
#define STILL_CLI_FORMAT
#endif
/** Say an error on standard error: what is wrong, and what to do. The whole text is cleaned. */
STILL_CLI_FORMAT void still_cli_error(const char *format, ...);
/** Likewise a note, which --quiet keeps back. */
STILL_CLI_FORMAT void still_cli_note(const char *format, ...);
/** From here on only errors are said, and no progress is shown. */
void still_cli_quiet(bool is);
/** What was found in the input, on standard error; behind the first of each kind what to do. */
void still_cli_print_diags(const still_diags *diags);
/** Show that the program is at work, unless --quiet: "DOING WHAT ... 3 s". */
void still_cli_progress(const still_cli *cli, const char *doing, const char *what);
/** Write a result to where it goes, and free it. @return exit status */
int still_cli_deliver(const still_cli *cli, char *bytes, size_t len);
/** Write a file that appears whole or not at all. @return exit status; a failure is explained */
int still_cli_write_file(const char *path, const char *bytes, size_t len);
/** How text is to look: as the terminal has it where the result goes to one, else plain. */
still_style still_cli_style(const still_cli *cli);
/** Explain a failure that no diagnostic explains, and what to do. @return exit status */
int still_cli_failed(still_status status, const still_diags *diags);
/** Explain that no picture was made. @return exit status */
int still_cli_no_picture(still_status status);
/** Explain that the plant file is missing. @return 0, or 2 */
int still_cli_need_plant(const still_cli *cli);

/** From here on what is freed is kept for the next use: a search takes and frees the same again and
 *  again. Call it once a plant is read. */
void still_cli_keep_memory(void);

/** Two of the files are standard input: explained. @return whether that is so */
bool still_cli_both_stdin(const char *a, const char *b);
/** Read a plant file, and the state file if there is one.
 *  @param[out] plant, state  untouched where nothing was read; state stays NULL without a file */
still_status still_cli_read(still_plant **plant, still_state **state, const still_cli *cli,
                            still_diags *diags);

/** Commands. @return exit status */
int still_run_check(const still_cli *cli);
int still_run_plan(const still_cli *cli);
int still_run_draw(const still_cli *cli);
int still_run_import(const still_cli *cli);
int still_run_verify(const still_cli *cli);
int still_run_relief(const still_cli *cli);

#endif
