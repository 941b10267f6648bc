/* What to do about each message. A switch without default: a code without advice does not compile
 * where warnings are errors. */
#include "codes.h"

#include <string.h>

static const char *of_files(still_code code)
{
    switch ((int)code) {
    case STILL_CODE_FILE:
        return "look at the name of the file, the folder, and whether it may be read";
    case STILL_CODE_SIZE: return "split the plant: one file for each part that is isolated as one";
    case STILL_CODE_ENCODING: return "save the file as UTF-8, and let its first line say no other";
    case STILL_CODE_DOCTYPE: return "take the line with <!DOCTYPE out; nothing needs it";
    case STILL_CODE_SYNTAX:
        return "mend the XML at the place shown: a tag that is not closed, a quote that is "
               "missing, "
               "or & and < that must be written &amp; and &lt;";
    case STILL_CODE_ROOT:
        return "look whether it is the file that was meant; the first element of each kind of file "
               "is in docs/FORMAT.md";
    case STILL_CODE_DEPTH: return "look for a tag that is not closed";
    default: return "";
    }
}

static const char *of_elements(still_code code)
{
    switch ((int)code) {
    case STILL_CODE_ELEMENT:
        return "use an element of docs/FORMAT.md; what is only for people goes into a comment";
    case STILL_CODE_ATTRIBUTE:
        return "use an attribute of docs/FORMAT.md; words for people go into note=\"...\"";
    case STILL_CODE_MISSING: return "add what is missing; docs/FORMAT.md says what it can hold";
    case STILL_CODE_TEXT:
        return "put it into an attribute, such as note=\"...\", or between <!-- and -->";
    case STILL_CODE_ID:
        return "use letters, digits and marks, without blank and comma: HV-1, P-2/4";
    case STILL_CODE_ID_TWICE:
        return "give one of the two another id: ids are unique over the whole file";
    case STILL_CODE_REFERENCE:
        return "write the id as it stands in the file, letter case too (the end of a spool: "
               "ID.PORT), or "
               "add what is named";
    case STILL_CODE_REFERENCE_KIND: return "name one of the right kind";
    case STILL_CODE_PORT:
        return "valves, pumps and blinds have in and out, caps, outlets and limits in, three-way "
               "valves a, b and c; others those that they list";
    case STILL_CODE_PORT_TAKEN:
        return "branch with a fitting: <fitting id=\"T-1\" kind=\"tee\"/> takes as many spools as "
               "are named";
    case STILL_CODE_PORT_SELF: return "let the spool end at another port";
    case STILL_CODE_OTHER_PLANT:
        return "give the state file of this plant, or mend its plant=\"...\"";
    default: return "";
    }
}

static const char *of_values(still_code code)
{
    switch ((int)code) {
    case STILL_CODE_WORD: return "use one of the words of docs/FORMAT.md, in small letters";
    case STILL_CODE_NUMBER: return "write digits with a point: 2.5";
    case STILL_CODE_NO_UNIT:
        return "write the unit behind the number: \"0.6 m\", \"19 barg\", \"-34 degC\"";
    case STILL_CODE_UNIT: return "use a unit of docs/FORMAT.md for this quantity";
    case STILL_CODE_GAUGE: return "write barg or bara, psig or psia, kPag or kPaa";
    case STILL_CODE_RANGE: return "look whether number and unit are what was meant";
    case STILL_CODE_PIPE_SIZE:
        return "use a size of the table, such as DN50 or NPS 2, or the bore itself: \"52.5 mm\"";
    case STILL_CODE_POSITION:
        return "use a position that the device has: open, closed, throttled or unknown; a blind "
               "open or "
               "closed; a three-way valve one of its positions";
    case STILL_CODE_POSITIONS: return "list joined ports, each once: \"a-c b-c\"";
    case STILL_CODE_HAZARD: return "write hazard statements such as \"H221 H331 H314\"";
    case STILL_CODE_LENGTH: return "shorten it";
    default: return "";
    }
}

static const char *of_sites(still_code code)
{
    switch ((int)code) {
    case STILL_CODE_SMALL: return "look whether it is the file that was meant";
    case STILL_CODE_POLICY_SIZE: return "a policy has 1 to 64 classes and columns (docs/POLICY.md)";
    case STILL_CODE_POLICY_CLASS: return "add a class for it (docs/POLICY.md)";
    case STILL_CODE_POLICY_COLUMN: return "add such a column (docs/POLICY.md)";
    case STILL_CODE_POLICY_CELL: return "give each class one cell for each column";
    case STILL_CODE_POLICY_WORK: return "let the cell say positive";
    case STILL_CODE_POLICY_ORDER:
        return "raise this cell, or look whether classes and columns stand in the right order";
    case STILL_CODE_SAID_TWICE: return "keep the one that holds";
    case STILL_CODE_NO_LINE: return "add a line for it";
    default: return "";
    }
}

static const char *of_oddities(still_code code)
{
    switch ((int)code) {
    case STILL_CODE_CONTROL: return "type the text anew: a copy brought signs that are not seen";
    case STILL_CODE_SCHEDULE: return "give bore as DN or NPS, or the wall in mm";
    case STILL_CODE_EMPTY: return "add what the plant is made of, within <plant>";
    case STILL_CODE_NO_SERVICE:
        return "say service=\"...\"; until then it counts as full of liquid, under pressure";
    case STILL_CODE_DESIGN_DIFFERS:
        return "look at both nameplates, and at what stands between them";
    case STILL_CODE_POSITION_IGNORED: return "leave position out: the device sets itself";
    case STILL_CODE_UNCONNECTED: return "join it by a spool, or take it out";
    case STILL_CODE_DEAD_END:
        return "join the port by a spool, or end it with a cap, an outlet or a limit; until then "
               "it "
               "counts as an open end under pressure";
    case STILL_CODE_NO_FEED:
        return "add its feeds, or say feeds=\"complete\"; until then each plan asks for them";
    case STILL_CODE_SUBSTANCE:
        return "use a substance that the program has, or give density and more (docs/FORMAT.md); "
               "until then masses are not known";
    case STILL_CODE_NO_SET_PRESSURE: return "say set-pressure; until then it covers nothing";
    case STILL_CODE_NO_LOCKABLE:
        return "look in the plant and say lockable yes or no; until then it is no point";
    case STILL_CODE_NO_FILL: return "say fill; until then it counts as full";
    case STILL_CODE_NO_VOLUME: return "say volume; until then masses are not known";
    case STILL_CODE_NO_KIND: return "say kind; until then it counts as what cannot be closed";
    case STILL_CODE_FEEDS_NOTHING: return "say supplies=\"...\", or take the feed out";
    case STILL_CODE_SHAPE: return "mend the one that is wrong";
    default: return "";
    }
}

const char *still_diag_next(const char *code)
{
    if (strcmp(code, "STILL-PLAN") == 0)
        return "a plan as stillset plan --format json writes it is wanted; its keys are in "
               "docs/plan.schema.json";
    for (int i = 0; i < (int)STILL_CODE_COUNT; i++) {
        still_code c = (still_code)i;
        if (strcmp(still_code_text(c), code) != 0) continue;
        const char *const said[] = {of_files(c), of_elements(c), of_values(c), of_sites(c),
                                    of_oddities(c)};
        for (int k = 0; k < 5; k++)
            if (said[k][0] != '\0') return said[k];
    }
    return "";
}
