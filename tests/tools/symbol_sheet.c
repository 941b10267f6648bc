/* The page of symbols: docs/pictures/symbols.svg and docs/SYMBOLS.md, made from one table and the
 * program's own drawing code.
 *
 *   symbol_sheet svg|md     writes to standard output; fails when a kind has no row */
#include "alloc.h"
#include "diagram.h"
#include "diags.h"
#include "plantread.h"
#include "svg.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#define ISO10628 "F-SYM-3: ISO 10628-2:2012, ISO 14617-8:2002 (shape from memory)"
#define PLAIN "ISO 10628-2:2012 (shape from memory)"
#define MEMORY "common drawing practice, from memory"
#define GOST "F-SYM-4: GOST 2.785-70 (seen); F-SYM-3: ISO 14617-8:2002 (from memory)"

typedef struct row {
    const char *id;      /* of the component in the plant below, and heading */
    const char *element; /* in the plant file */
    const char *text, *source;
} row;

static const row rows[] = {
    {"globe", "valve kind='globe'", "bow-tie, filled round centre; T = moved by hand", ISO10628},
    {"gate", "valve kind='gate'", "bow-tie, line across the middle", ISO10628},
    {"ball", "valve kind='ball'", "bow-tie, open circle", ISO10628},
    {"plug valve", "valve kind='plug'", "bow-tie, small open box", MEMORY},
    {"butterfly", "valve kind='butterfly'", "two ends, slanted disc on its axis",
     "F-SYM-2: ISA-5.1 habit (seen)"},
    {"diaphragm", "valve kind='diaphragm'", "bow-tie, sagging line", MEMORY},
    {"needle", "valve kind='needle'", "bow-tie, filled point in the middle", MEMORY},
    {"angle", "valve kind='angle'", "triangles at a right angle", MEMORY},
    {"stop-check", "valve kind='stop-check'", "check valve with a stem", MEMORY},
    {"check", "valve kind='check'", "flow from the white to the black triangle; arrow above", GOST},
    {"control", "valve kind='control'", "bow-tie, dome: driven by air or by its own diaphragm",
     "F-SYM-1 (seen); sign on the stem from memory"},
    {"control, motor", "valve kind='control' drive='motor'", "M in a circle: electric motor",
     "F-SYM-1 (seen); sign on the stem from memory"},
    {"control, hydraulic", "valve kind='control' drive='hydraulic'", "H in a box: hydraulic piston",
     "F-SYM-1 (seen); sign on the stem our own"},
    {"control, spring", "valve kind='control' drive='spring'", "zigzag: spring", MEMORY},
    {"expansion", "valve kind='expansion'", "dome; filled point on the inlet side",
     "our own, after common practice"},
    {"regulator", "valve kind='regulator'", "dome with a sensing line to the outlet", MEMORY},
    {"solenoid", "valve kind='solenoid'", "box with a diagonal: coil", MEMORY},
    {"relief", "valve kind='relief'", "angle body, spring on the stem; inlet is the lower triangle",
     ISO10628},
    {"excess-flow", "valve kind='excess-flow'", "arrow against a bar", "our own"},
    {"self-closing", "valve kind='self-closing'", "spring and lever on the stem", "our own"},
    {"float", "valve kind='float'", "ball on an arm", MEMORY},
    {"rupture-disc", "valve kind='rupture-disc'", "bulged disc in its holder", MEMORY},
    {"three-way", "valve kind='three-way'", "third triangle; ports named at their pipes",
     "F-SYM-2: ISA-5.1 habit (seen); the box is our own"},
    {"unknown", "valve kind='unknown'", "bow-tie with a question mark: counts as not closable",
     "our own"},
    {"tee", "fitting kind='tee'", "dot where pipes meet", MEMORY},
    {"node", "fitting kind='node'", "dot where pipes meet", MEMORY},
    {"elbow", "fitting kind='elbow'", "small open circle", "our own"},
    {"reducer", "fitting kind='reducer'", "narrowing piece", MEMORY},
    {"strainer", "fitting kind='strainer'", "box with a zigzag", "our own, after ISO 10628-2"},
    {"filter", "fitting kind='filter'", "box with a dashed line across", PLAIN},
    {"meter", "fitting kind='meter'", "circle with an arrow", "our own, after common practice"},
    {"sight-glass", "fitting kind='sight-glass'", "box with a window", MEMORY},
    {"hose", "fitting kind='hose'", "wavy line", MEMORY},
    {"spectacle, closed", "blind kind='spectacle' position='closed'",
     "filled disc in the line, ring beside it", "F-SYM-6: PIP PIC001 (from memory)"},
    {"spectacle, open", "blind kind='spectacle' position='open'",
     "ring in the line, filled disc beside it", "F-SYM-6: PIP PIC001 (from memory)"},
    {"spade", "blind kind='spade' position='closed'", "filled disc with a handle: fitted", MEMORY},
    {"removable-spool", "blind kind='removable-spool' position='open'",
     "piece between flanges; crossed out when removed", "our own"},
    {"cap", "cap kind='cap'", "closed end", MEMORY},
    {"plug", "cap kind='plug'", "plugged end", MEMORY},
    {"blind-flange", "cap kind='blind-flange'", "plate on a flange", MEMORY},
    {"drain", "outlet kind='drain'", "funnel, D; arrow down", MEMORY},
    {"vent", "outlet kind='vent'", "arrow up, V", MEMORY},
    {"purge", "outlet kind='purge'", "arrow out, P", "our own"},
    {"limit", "limit", "double break line: the drawing ends, or the plant goes on", MEMORY},
    {"vessel", "vessel kind='separator' contents='two-phase'",
     "capsule; level mark where it holds liquid", PLAIN},
    {"exchanger", "exchanger kind='cooler'", "box with a heating line", PLAIN},
    {"pump", "pump", "circle, triangle toward the outlet", PLAIN},
    {"compressor", "compressor", "circle, lines drawing together toward the outlet", PLAIN},
};
enum { N_ROWS = sizeof rows / sizeof rows[0], COLUMNS = 3 };

/* Lines of a picture of closed-in liquid (`relief --format svg`). */
static const struct {
    still_look look;
    bool hatched;
    const char *name, *how, *text;
} lines[] = {
    {STILL_LOOK_CUT_ITSELF, true, "by itself", "heavy, whole, hatched; dark red",
     "no cover; shuts in without anybody's doing"},
    {STILL_LOOK_CUT_PERSON, true, "by a person", "heavy, long dashes, hatched; orange",
     "no cover; a person can shut it in"},
    {STILL_LOOK_CUT_PLAN, false, "by a plan only", "short dashes; violet",
     "no cover; only an isolation plan shuts it in"},
    {STILL_LOOK_CUT_STUB, false, "stub", "dots; grey", "no cover; one valve and caps"},
    {STILL_LOOK_NOT_FULL, false, "not full", "thin, long dashes; grey",
     "not full of liquid, below its design pressure up to ambient"},
    {STILL_LOOK_COVERED, false, "covered", "whole; blue",
     "a relief valve or open outlet covers it"},
};
enum { N_LINES = sizeof lines / sizeof lines[0] };

static still_plant *make_plant(void)
{
    still_buf xml = STILL_BUF_INIT;
    still_plant *plant = NULL;
    still_buf_add(&xml, "<plant xmlns='urn:stillset:plant:1' id='symbols'>");
    for (int i = 0; i < N_ROWS; i++) still_buf_printf(&xml, "<%s id='%d'/>", rows[i].element, i);
    still_buf_add(&xml, "</plant>");
    still_diags *diags = still_diags_new();
    if (!xml.failed &&
        still_read_plant_memory(&plant, "symbols", xml.text, xml.len, diags) != STILL_OK)
        for (size_t i = 0; i < still_diags_count(diags); i++)
            fprintf(stderr, "%s\n", still_diags_at(diags, i)->text);
    still_diags_free(diags);
    still_buf_clear(&xml);
    return plant;
}

/* Every kind of the vocabulary, and every class but spools, must have a row. */
static bool complete(const still_plant *plant)
{
    bool all = true;
    for (unsigned kind = 1; kind < STILL_KIND_COUNT; kind++) {
        bool found = false;
        for (uint32_t c = 0; c < plant->n_comps && !found; c++)
            found = plant->comps[c].kind == kind;
        if (!found) fprintf(stderr, "no row for %s\n", still_word(STILL_VOC_still_kind, kind));
        all = all && found;
    }
    return all;
}

static void cell(still_canvas *c, const still_dia *d, uint32_t i)
{
    double x = 40.0 + 620.0 * (double)(i % COLUMNS), y = 110.0 + 80.0 * (double)(i / COLUMNS);
    still_dnode node = {.kind = STILL_D_COMP, .comp = i, .x = x + 50.0, .y = y + 36.0, .n_left = 1};
    still_diagram_symbol_size(d->plant, i, 1, &node.symbol_w, &node.symbol_h);
    bool end = d->plant->comps[i].cls == STILL_CLASS_CAP ||
               d->plant->comps[i].cls == STILL_CLASS_OUTLET ||
               d->plant->comps[i].cls == STILL_CLASS_LIMIT;
    double reach = still_diagram_reach(&node);
    still_canvas_line(c, STILL_LOOK_PIPE, x, node.y, node.x - reach, node.y);
    if (!end) still_canvas_line(c, STILL_LOOK_PIPE, node.x + reach, node.y, x + 100.0, node.y);
    still_diagram_symbol(c, d, &node);
    char name[80];
    snprintf(name, sizeof name, "%u  %s", i + 1, rows[i].id);
    still_canvas_text(c, STILL_LOOK_ID, x + 120.0, y + 22.0, 14.0, STILL_ANCHOR_START, name);
    still_canvas_text(c, STILL_LOOK_TXT, x + 120.0, y + 40.0, 12.0, STILL_ANCHOR_START,
                      rows[i].text);
    still_canvas_text(c, STILL_LOOK_TXT, x + 120.0, y + 57.0, 12.0, STILL_ANCHOR_START,
                      rows[i].source);
}

static void line(still_canvas *c, uint32_t i, double top)
{
    double x = 40.0 + 620.0 * (double)(i % COLUMNS), y = top + 60.0 * (double)(i / COLUMNS);
    if (lines[i].hatched) still_canvas_hatch(c, STILL_LOOK_SHUT, x, y, x + 100.0, y, 7.5);
    still_canvas_line(c, lines[i].look, x, y, x + 100.0, y);
    still_canvas_text(c, STILL_LOOK_ID, x + 120.0, y - 5.0, 14.0, STILL_ANCHOR_START,
                      lines[i].name);
    still_canvas_text(c, STILL_LOOK_TXT, x + 120.0, y + 13.0, 12.0, STILL_ANCHOR_START,
                      lines[i].text);
}

/* The lines, the flags and the sign of what covers. */
static void closed_in(still_canvas *c, double top)
{
    still_canvas_text(c, STILL_LOOK_ID, 40.0, top, 20.0, STILL_ANCHOR_START, "Closed-in liquid");
    for (uint32_t i = 0; i < N_LINES; i++) line(c, i, top + 40.0);
    double y = top + 156.0;
    still_diagram_gap_flag(c, 40.0, y, 1, false);
    still_canvas_text(c, STILL_LOOK_TXT, 160.0, y + 4.0, 12.0, STILL_ANCHOR_START,
                      "a gap: its number in the text form");
    still_diagram_gap_flag(c, 660.0, y, 1, true);
    still_canvas_text(c, STILL_LOOK_TXT, 780.0, y + 4.0, 12.0, STILL_ANCHOR_START,
                      "not covered, but no gap; close up: another part");
    still_diagram_cover_sign(c, 1280.0, y, "covers");
    still_canvas_text(c, STILL_LOOK_TXT, 1400.0, y + 4.0, 12.0, STILL_ANCHOR_START,
                      "relief valve or open outlet that covers a part");
}

static bool write_svg(const still_plant *plant)
{
    const still_record r = {.feasible = true};
    const still_dia d = {.r = &r, .plant = plant, .bare = true};
    double end = 140.0 + 80.0 * ceil((double)N_ROWS / COLUMNS);
    still_canvas c = {.width = 1900.0, .height = end + 210.0};
    c.width_mm = 420.0;
    c.height_mm = round(c.height * 420.0 / c.width);
    still_buf_add(&c.title, "Symbols of stillset");
    still_buf_add(&c.desc, "Each kind of component with its symbol, what it shows, and its source");
    still_canvas_rect(&c, STILL_LOOK_CELL, 0.0, 0.0, c.width, c.height, 0.0);
    still_canvas_text(&c, STILL_LOOK_ID, 40.0, 56.0, 26.0, STILL_ANCHOR_START, "Symbols");
    still_canvas_text(&c, STILL_LOOK_TXT, 40.0, 82.0, 12.0, STILL_ANCHOR_START,
                      "Open and closed are never shown by filling a body: letters beside it say so "
                      "(NO, NC, NT, LO, LC, CSO, CSC). `in` is on the left.");
    for (uint32_t i = 0; i < N_ROWS; i++) cell(&c, &d, i);
    closed_in(&c, end + 20.0);
    still_buf out = STILL_BUF_INIT;
    still_svg_canvas(&out, &c);
    bool good = !out.failed && fwrite(out.text, 1, out.len, stdout) == out.len;
    still_buf_clear(&out);
    still_canvas_clear(&c);
    return good;
}

static void write_md(void)
{
    printf(
        "# Symbols\n\n"
        "Made by `tools/pictures.sh` from `tests/tools/symbol_sheet.c`: change that, not this "
        "page.\n\n"
        "The symbols are drawn by this project, after the ideas of the standards named beside "
        "each.\n"
        "*From memory* means that the standard itself was not at hand; *seen* that a page which\n"
        "quotes it was. The body tells the kind of valve, what stands on the stem tells who moves\n"
        "it. A filled body for \"normally closed\" is a habit, no rule of a standard, and clashes\n"
        "with the filled parts of globe and needle valves; so open and closed stand in letters\n"
        "beside the symbol: NO, NC, NT normally open, closed, throttled; CSO, CSC car-sealed "
        "open,\n"
        "closed; LO, LC locked open, closed (F-SYM-5, F-TAG-1: seen). A car seal tells of "
        "tampering and does not\nstop a hand. Numbers are those of the table below the picture. "
        "F-SYM-1 (seen): the bow-tie is the common\nbody of valves; what is marked *from memory* "
        "needs a look into the standard.\n\n"
        "![All symbols](pictures/symbols.svg)\n\n"
        "| no. | kind | written as | what it shows | source |\n| --- | --- | --- | --- | --- |\n");
    for (int i = 0; i < N_ROWS; i++)
        printf("| %d | %s | `<%s/>` | %s | %s |\n", i + 1, rows[i].id, rows[i].element,
               rows[i].text, rows[i].source);
    printf(
        "\n## Plans\n\n"
        "In the picture of a plan, nothing is said by colour alone:\n\n"
        "| sign | meaning |\n| --- | --- |\n"
        "| thick whole line | live: under pressure |\n"
        "| thin dashed line | inside: isolated, to be emptied |\n"
        "| hatched line | liquid closed in without relief |\n"
        "| dashed bar, hatched on one side | the boundary; the hatched side stays live |\n"
        "| number in a flag | tag of the list, at its device |\n"
        "| double frame, WORK | the work |\n"
        "| `source` | can push toward the work: by the record, or by the file's word; what goes on "
        "beyond the picture may too |\n"
        "| `LC`, `LO` | locked closed, open, as planned (F-TAG-1) |\n"
        "| `el. 2.10 m` | elevation: of drains, ports of vessels, parts that keep liquid back "
        "(`pocket`), and points from which all pipes rise or run level (`low`), inside |\n"
        "| arrow in a box with `to HV-12, sheet 3` | on paper: the pipe goes on on that sheet |\n"
        "| thin line beside a pipe, `path 1` | with `--paths`: a path of the proof; whole, dotted "
        "or dashed by its number |\n");
    printf(
        "\n## Closed-in liquid\n\n"
        "Lines of `stillset relief --format svg`, worst first, our own. They differ in weight and "
        "dashes; colour\n"
        "comes on top, blue against red and orange. Around a component of a part runs the line of "
        "the part. In a\n"
        "close-up only the part that it is about is hatched.\n\n"
        "| part | line | meaning |\n| --- | --- | --- |\n");
    for (int i = 0; i < N_LINES; i++)
        printf("| %s | %s | %s |\n", lines[i].name, lines[i].how, lines[i].text);
    printf(
        "\nA notched flag bears the number that the part has in the text form, and beside it "
        "litres and the kelvins\n"
        "to its design pressure: yellow a gap, white what is none (in a close-up: another part). "
        "A rounded\n"
        "`covers` stands at each relief valve or open outlet that covers a part; \"cover needs "
        "it\" at what must\n"
        "pass for that; \"shuts it in\" at the devices around the part of a close-up.\n");
}

int main(int argc, char **argv)
{
    still_plant *plant = make_plant();
    bool good = plant != NULL && plant->n_comps == N_ROWS && complete(plant);
    bool svg = argc == 2 && strcmp(argv[1], "svg") == 0;
    if (good && svg) good = write_svg(plant);
    if (good && !svg) write_md();
    still_plant_free(plant);
    return good ? 0 : 1;
}
