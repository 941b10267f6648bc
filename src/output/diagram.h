/** @file diagram.h  The picture between its steps: which parts are drawn, how they join, where
 *  they stand. Each step is one file:
 *
 *    diagram_pick    marks the components that are drawn
 *    diagram_graph   makes nodes of them, with labels and the room that these take
 *    diagram_sheet   takes over where parts stand on the drawing, if that is said
 *    diagram_orient  gives every pipe a direction from left to right
 *    diagram_words, diagram_heights  say what stands at a node
 *    diagram_proof   says where paths of the proof run, and draws them
 *    diagram_runs    says which pipes go straight on where pipes part
 *    diagram_layout  has the layout library find columns and heights
 *    diagram_route   turns these into coordinates and runs the pipes between the columns
 *    diagram_pipes   draws pipes, and what lies behind them
 *    diagram_draw    draws nodes and labels, with diagram_symbols
 *    diagram_page    puts title, legend and tag list around it
 *    diagram_paper   lays a plan's picture out for sheets of paper, cut where it has no room on one
 *    diagram_paper_draw  puts such a sheet, or the one that shows all of them, on a canvas
 *    diagram_cover   says what of closed-in liquid stands at a part, and how that looks
 *    diagram_cover_page puts title, key and list of gaps around a picture of closed-in liquid
 *
 *  What is drawn goes to a canvas (canvas.h). Distances are pixels, x to the right, y down.
 *
 *  A picture of closed-in liquid has a coverage record (`cov`), and no plan. Without a plan
 *  (`bare`) the record is empty but for its head, and names no points. */
#ifndef STILL_DIAGRAM_H
#define STILL_DIAGRAM_H

#include "arena.h"
#include "canvas.h"
#include "messages.h"
#include "plant.h"

#include "stillset/coverage.h"
#include "stillset/record.h"
#include "stillset/status.h"

#include <limits.h>

/** Marks of a component. */
enum {
    STILL_MARK_SHOW = 1,
    STILL_MARK_INSIDE = 2,
    STILL_MARK_POINT = 4,
    STILL_MARK_TARGET = 8,
    STILL_MARK_OBSTACLE = 16,
    STILL_MARK_CLOSED_IN = 32, /**< part of closed-in liquid without cover */
    STILL_MARK_VISITED = 64,   /**< for the walk that picks */
    STILL_MARK_ELSEWHERE = 128 /**< part of the picture, on another sheet of paper */
};

/** Least length of a pixel on paper: capitals, 0.729 of the size of type in DejaVu Sans, are 2 mm.
 */
#define STILL_DIAGRAM_LEAST_MM (2.0 / (0.729 * STILL_TYPE))

/** Sizes of type: ids, everything else, the word at the work. */
#define STILL_TYPE_ID 13.0
#define STILL_TYPE 12.0
#define STILL_TYPE_WORK 18.0

typedef enum still_dkind {
    STILL_D_COMP,
    STILL_D_SPOOL,
    STILL_D_TORN, /**< where the plant goes on, out of the picture: of a component, or of a pipe
                     that is cut between two pages */
    STILL_D_BEND  /**< a pipe that passes a column */
} still_dkind;

/** How a line of a label looks. */
typedef enum still_dstyle {
    STILL_LINE_ID,
    STILL_LINE_PLAIN,
    STILL_LINE_LOUD,  /**< bold */
    STILL_LINE_WARN,  /**< bold, with a warning sign in front */
    STILL_LINE_FLAG,  /**< a tag flag, the text behind it */
    STILL_LINE_GAP,   /**< the flag of a part without cover, the text behind it */
    STILL_LINE_MILD,  /**< likewise in white: what is no gap, or is not the one of a close-up */
    STILL_LINE_COVER, /**< the sign of what covers, with a word in it */
    STILL_LINE_WORK   /**< the word on the target */
} still_dstyle;

typedef struct still_dline {
    const char *text;
    still_dstyle style;
    uint32_t tag;
    double height;
    struct still_dline *next;
} still_dline;

typedef struct still_dnode {
    still_dkind kind;
    uint32_t comp;              /**< component; of a torn end: whose; of a bend: the pipe */
    still_dline *above, *below; /**< lines of the label, top first */
    double symbol_w, symbol_h;
    double low;               /**< how far the symbol reaches below the pipe */
    double width, half;       /**< box that is kept free: width, half of the height */
    uint32_t n_left, n_right; /**< pipes on each side */
    uint32_t tag;             /**< of a point; 0 = none */
    bool beside;              /**< its label stands beyond it, `above` alone */
    bool mirrored;            /**< its `in` (a pipe's `from`) is on the right */
    bool ordered;             /**< its pipes on the right have an order */
    uint32_t rank;            /**< column */
    bool placed, columned;    /**< it has a place on the sheet; its column follows the sheet */
    double sheet_x, sheet_y;  /**< that place, y down; after diagram_orient never against a pipe */
    double x, y;
} still_dnode;

/** A stretch between two nodes; after diagram_orient `from` is further left. */
typedef struct still_dedge {
    uint32_t from, to;
    uint32_t port_from, port_to; /**< port at that end, or STILL_NONE */
    uint32_t pipe;               /**< component number of the spool, or STILL_NONE */
    double y_from, y_to;         /**< where it meets its nodes */
    size_t track;                /**< its place among the upright stretches between two columns */
    double track_x;
    uint8_t straight; /**< ends at which it is the main run (diagram_runs.c) */
    int side;         /**< order among the pipes that leave its left node */
    double slant_x;   /**< where a slanted line ends: left of the labels of the next column */
    bool slanted;     /**< no track is free of conflict: drawn as a slanted line */
} still_dedge;

/** A node, and a number to sort it by. */
typedef struct still_dplace {
    double at;
    uint32_t node;
} still_dplace;

typedef struct still_dia {
    still_arena arena;
    const still_record *r;
    const still_plant *plant;
    bool bare;                        /**< no plan: only the plant is drawn */
    const still_coverage_record *cov; /**< closed-in liquid; NULL = not drawn */
    uint32_t *part; /**< by component: its segment in cov, the worst of several, or STILL_NONE */
    uint32_t *nth;  /**< by component: which of that segment's ids it is */
    uint8_t *role;  /**< by component: STILL_ROLE_… */
    uint32_t *here; /**< segments that carry their numbers in this picture, worst first */
    size_t n_here;
    uint32_t focus; /**< the segment of a close-up, or STILL_NONE = the whole plant */
    const struct still_pages *pages; /**< of several pages this one is `area`; else NULL */
    uint32_t area;
    const uint32_t *leaf_of; /**< of several sheets of paper: by component the one that shows it,
                                  1, 2, …, 0 = none; NULL = one picture */
    uint32_t leaf;           /**< the one that is drawn; 0 = all */
    bool plain_order;        /**< sources are not moved to the left */
    bool reordered;          /**< some were */
    double most_area;        /**< with more of boxes it is not laid out, but `full`; 0 = any */
    bool full;
    bool numbered;    /**< how many there are is known */
    bool tight;       /**< short lines and small gaps, to save paper */
    bool sketch;      /**< symbols and tags, but no words */
    uint8_t *lanes;   /**< by component: lanes beside it that paths of the proof take, as bits;
                           NULL = they are not drawn */
    uint8_t *lane_of; /**< by path */
    unsigned n_lanes;
    uint8_t *mark;        /**< by component */
    uint32_t *node_of;    /**< by component: node, or STILL_NONE */
    const uint32_t *list; /**< components that are drawn, in the order of the file, no spools */
    size_t n_list;
    still_dnode *nodes;
    size_t n_nodes, cap_nodes;
    still_dedge *edges;
    size_t n_edges, cap_edges;
    size_t n_shown;  /**< components marked as shown */
    size_t left_out; /**< components that found no room on the page */
    bool by_sheet;   /**< laid out in the order of the drawing */
    uint32_t n_ranks;
    double width, height; /**< of the drawing itself */
} still_dia;

/** Most components on a page; beyond it those nearest to the work are drawn. Without a plan:
 *  STILL_DIAGRAM_MOST_BARE. */
enum { STILL_DIAGRAM_MOST = 400, STILL_DIAGRAM_MOST_BARE = 1500 };

/** What a component is to closed-in liquid. */
enum {
    STILL_ROLE_COVERS = 1, /**< relief valve or open outlet that covers a part */
    STILL_ROLE_NEEDED = 2, /**< cover holds as long as it passes */
    STILL_ROLE_SHUTS = 4,  /**< it shuts in the part of a close-up */
    STILL_ROLE_SPEAKS = 8  /**< the numbers of its part stand at it */
};

/** The port behind a pipe that is cut, on another page. */
uint32_t still_diagram_cut_to(const still_dia *d, uint32_t spool);
/** Of a component whose pipes stand on several pages: whether that of a port is on this one. */
bool still_diagram_on_page(const still_dia *d, uint32_t port);
/** Each step: @return STILL_OK, STILL_E_NOMEM; the layout also STILL_E_INTERNAL. */
STILL_NODISCARD still_status still_diagram_pick(still_dia *d);
/** Instead of it: component `around` (STILL_NONE = all) and what is up to `depth` components away.
 */
STILL_NODISCARD still_status still_diagram_pick_around(still_dia *d, uint32_t around,
                                                       unsigned depth);
/** Instead of it: closed-in liquid. Of the whole plant, the parts that are worst first where not
 *  all finds room; or of one part what shuts it in and the plant beyond, `depth` components far
 *  (0 = up to the next device). */
STILL_NODISCARD still_status still_diagram_pick_cover(still_dia *d, unsigned depth);
STILL_NODISCARD still_status still_diagram_graph(still_dia *d);
STILL_NODISCARD still_status still_diagram_sheet(still_dia *d);
STILL_NODISCARD still_status still_diagram_orient(still_dia *d);
void still_diagram_runs(still_dia *d);
STILL_NODISCARD still_status still_diagram_layout(still_dia *d);
STILL_NODISCARD still_status still_diagram_route(still_dia *d);
/** All of these steps from diagram_graph on. Where that moves sources to the left it is kept only
 * if no more pipes cross than otherwise. @return STILL_OK, STILL_E_NOMEM, STILL_E_INTERNAL */
STILL_NODISCARD still_status still_diagram_arrange(still_dia *d);
/** Say where paths of the proof run, if the record asks for them (diagram_proof.c). */
STILL_NODISCARD still_status still_diagram_proof(still_dia *d);
/** Room that they take above a pipe or a component; 0 = none runs there. */
double still_diagram_proof_room(const still_dia *d, uint32_t comp);
void still_diagram_proof_lines(still_canvas *out, const still_dia *d);
/** Which paths run along a pipe: "path 1, 3"; "" = none; NULL = no memory. */
const char *still_diagram_proof_words(still_dia *d, uint32_t pipe);
/** Both ends and the bends of an edge, from left to right. */
void still_diagram_corners(const still_dia *d, const still_dedge *e, double xs[4], double ys[4]);
/** Area of the boxes of all nodes. */
double still_diagram_area_of(const still_dia *d);
/** How often pipes cross. */
size_t still_diagram_crossings(const still_dia *d);
void still_diagram_pipes(still_canvas *out, const still_dia *d);
void still_diagram_draw(still_canvas *out, const still_dia *d);
void still_diagram_page(still_canvas *out, const still_dia *d);

/** Draw a plan, or a plant without one, on an empty canvas. These are what the forms are made of.
 *  @return STILL_OK, STILL_E_NOMEM, STILL_E_INTERNAL (no layout could be made) */
STILL_NODISCARD still_status still_diagram_plan(still_canvas *out, const still_record *r,
                                                const still_plant *plant);
STILL_NODISCARD still_status still_diagram_plant(still_canvas *out, const still_plant *plant,
                                                 uint32_t around, unsigned depth);

/** The plan's diagram for paper: on one sheet where capitals are then 2 mm high at least; else on
 *  as many as that takes, after one that shows all of them in small, with tags but without words.
 *  Each pipe that is cut says on both sheets where it goes on. There is no frame and no title
 *  block; a line at the top of each sheet bears verdict, number of the sheet and target, and signs
 *  are explained at its foot where there is room.
 *  @param[out] sheets  *n canvases, each of width_mm, and of height_mm or less; the caller clears
 *                      each of them and frees the array (still_diagram_sheets_free)
 *  @param width_mm, height_mm  room for the drawing on a sheet, without the margins of the paper
 *  @return STILL_OK, STILL_E_NOMEM, STILL_E_INTERNAL (no layout could be made)
 *  A component that alone, with its pipes, has no room is drawn smaller than that.
 *  Cost: a few layouts for each sheet. */
STILL_NODISCARD still_status still_diagram_sheets(still_canvas **sheets, size_t *n,
                                                  const still_record *r, const still_plant *plant,
                                                  double width_mm, double height_mm);
void still_diagram_sheets_free(still_canvas *sheets, size_t n);

/** Depth of a close-up that ends at the devices that shut the part in. */
#define STILL_DIAGRAM_ALONE UINT_MAX

/** Draw closed-in liquid: the whole plant, or segment `focus` of the record and what is near. */
STILL_NODISCARD still_status still_diagram_coverage(still_canvas *out,
                                                    const still_coverage_record *cov,
                                                    const still_plant *plant, uint32_t focus,
                                                    unsigned depth);

/** The page of a close-up with nothing drawn on it: the heading, and what the record says. */
STILL_NODISCARD still_status still_diagram_words(still_canvas *out,
                                                 const still_coverage_record *cov,
                                                 const still_plant *plant, uint32_t focus);

/** A layout on a sheet of paper: pixels of a length in mm, the sheet's number of how many. */
typedef struct still_dleaf {
    double width_mm, height_mm;
    uint32_t number, of;
    const uint32_t
        *piece_of; /**< by component: 1, 2, … = its piece of the whole; for the overview */
    uint32_t n_pieces;
} still_dleaf;
/** Length of a pixel in mm with which a drawing fills a sheet, line at the top included. */
double still_diagram_leaf_scale(const still_dia *d, const still_dleaf *leaf);
void still_diagram_leaf(still_canvas *out, const still_dia *d, const still_dleaf *leaf);
/** All sheets in small, with frames around what each shows. */
void still_diagram_overview(still_canvas *out, still_dia *d, const still_dleaf *leaf);
/** The signs of a picture of a plan, in columns. @param measure  draw nothing @return height */
double still_diagram_signs(still_canvas *out, const still_dia *d, double x, double y, double width,
                           bool measure);
/** "NOT READY: ..." and the grade; ids of the targets. */
void still_diagram_verdict(still_buf *out, const still_record *r);
void still_diagram_targets(still_buf *out, const still_record *r);
/** What a picture is, for those who can't see it. */
void still_diagram_describe(still_canvas *out, const still_dia *d);
/** Of a pipe between two sheets of paper: whether its name and size stand on this one, which is
 *  that of the component with fewer pipes. */
bool still_diagram_owns(const still_dia *d, uint32_t spool);
/** True where a torn end stands for a pipe that goes on on another sheet of paper. */
bool still_diagram_is_reference(const still_dia *d, const still_dnode *node);

/** Add a node or an edge. @return its number, or STILL_NONE when memory is out */
uint32_t still_diagram_node(still_dia *d, still_dkind kind, uint32_t comp);
uint32_t still_diagram_edge(still_dia *d, uint32_t from, uint32_t to, uint32_t pipe);
/** Sort by number, then by node. */
void still_diagram_sort(still_dplace *places, size_t n);
/** Order of the nodes in their columns by the sheet.
 *  @param[out] at     nodes by column, from the top; in the arena, as `first`
 *  @param[out] first  by column: its first in `at`; one more at the end
 *  @return STILL_OK, STILL_E_NOMEM */
STILL_NODISCARD still_status still_diagram_sheet_order(still_dia *d, still_dplace **at,
                                                       size_t **first);
/** Give a node its label and the room that it takes (diagram_label.c). */
STILL_NODISCARD still_status still_diagram_label(still_dia *d, still_dnode *node);
/** Width of a line of a label. */
double still_diagram_line_width(const still_dline *line);
/** Component number of an id, or STILL_NONE. */
uint32_t still_diagram_find(const still_dia *d, const char *id);
/** The point of a component, or NULL. */
const still_point *still_diagram_point(const still_dia *d, uint32_t comp);
/** Position of a component once the plan is carried out, today where there is no plan: a word, ""
 *  where it has none. */
const char *still_diagram_position(const still_dia *d, uint32_t comp);
/** Its condition and contents as found today, else as in the plant file: a word, "" = not said. */
const char *still_diagram_condition(const still_dia *d, uint32_t comp);
const char *still_diagram_contents(const still_dia *d, uint32_t comp);
/** What is done to a point, and how it is held: "closed, locked LC". */
const char *still_diagram_held(still_dia *d, uint32_t comp, const still_point *point);
/** Whether something beyond the boundary can push toward the work, by the record or the file. */
bool still_diagram_is_source(const still_dia *d, uint32_t comp);
/** Lines about elevations, of what is to be drained (diagram_heights.c). @return false: no memory
 */
bool still_diagram_elevations(still_dia *d, still_dnode *node);
/** What stands at a valve in words: kind, letters, size (diagram_words.c). */
const char *still_diagram_kind(still_dia *d, uint32_t comp);
const char *still_diagram_letters(const still_comp *c);
/** Half of the length of a node along the pipe: where pipes meet it. */
double still_diagram_reach(const still_dnode *node);
/** True when two edges start, or end, at one place: there they are one pipe. */
bool still_diagram_joined(const still_dedge *a, const still_dedge *b);
/** How a pipe looks. */
still_look still_diagram_pipe_look(const still_dia *d, uint32_t pipe);
/** Likewise the stretch from a component to where the plant goes on beyond the picture. */
still_look still_diagram_torn_look(const still_dia *d, uint32_t comp);
/** How a segment looks, and what is said of it in a word or two (diagram_cover.c). */
still_look still_diagram_part_look(const still_segment *s);
const char *still_diagram_part_words(const still_segment *s);
/** True where it is drawn loud: a gap; of a close-up the part that it is about. */
bool still_diagram_loud(const still_dia *d, uint32_t segment);
/** True where its flag is white: not drawn loud, or accepted. */
bool still_diagram_mild(const still_dia *d, uint32_t segment);
/** Number of an uncovered segment, as in the text form; 0 for others and for stubs. */
uint32_t still_diagram_gap(const still_coverage_record *cov, uint32_t segment);
/** "0.85 L" and "1.67 K": what it holds, and how much warmer it reaches its design pressure. */
void still_diagram_litres(still_buf *out, const still_segment *s);
void still_diagram_kelvins(still_buf *out, const still_segment *s);
/** Fill part, role and the marks of closed-in liquid. */
STILL_NODISCARD still_status still_diagram_parts(still_dia *d);
/** Likewise for pages, on memory of the caller: `mark`, `role`, `part`, `nth` are filled. */
void still_diagram_fill_parts(still_dia *d);
/** Say which pipe of each part carries its numbers, and fill `here`: once nodes are made. */
STILL_NODISCARD still_status still_diagram_speakers(still_dia *d);
/** Lines at a node about closed-in liquid: false when memory is out. */
bool still_diagram_cover_lines(still_dia *d, still_dnode *node);
/** Put a line, or a text that may be long, at the end of a label. @return false: memory is out */
bool still_diagram_add_line(still_dia *d, still_dline **list, still_dstyle style, uint32_t tag,
                            const char *text);
bool still_diagram_add_text(still_dia *d, still_dline **list, still_dstyle style, const char *text);
/** The parts of a page of closed-in liquid, each at its place (diagram_cover_page.c). */
void still_diagram_cover_name(still_buf *out, const still_dia *d);
void still_diagram_cover_verdict(still_buf *out, const still_dia *d);
void still_diagram_cover_desc(still_buf *out, const still_dia *d);
void still_diagram_cover_key(still_canvas *out, const still_dia *d, double x, double y);
/** List of gaps, or what is to be said of one part. @return height used */
double still_diagram_cover_list(still_canvas *out, const still_dia *d, double x, double y,
                                double width, double height);
/** Draw the symbol of a node (diagram_symbols.c). */
void still_diagram_symbol(still_canvas *out, const still_dia *d, const still_dnode *node);
/** Size of the symbol of a component of which the busier side has n pipes. */
void still_diagram_symbol_size(const still_plant *plant, uint32_t comp, uint32_t n, double *w,
                               double *h);
/** True where pipes meet the symbol at heights of their own, not all in its middle. */
bool still_diagram_spreads(const still_plant *plant, uint32_t comp);
/** Width of a flag, and the flag with its middle left at (x, y). */
double still_diagram_flag_width(uint32_t tag);
void still_diagram_flag(still_canvas *out, double x, double y, uint32_t tag);
/** Likewise the flag of a gap, which has a notch instead of a point; white
 *  (mild) where it is no gap. */
void still_diagram_gap_flag(still_canvas *out, double x, double y, uint32_t tag, bool mild);
/** The sign of what covers, with a word in it; its middle left at (x, y). @return its width */
double still_diagram_cover_width(const char *word);
void still_diagram_cover_sign(still_canvas *out, double x, double y, const char *word);
/** A warning sign around (x, y). */
void still_diagram_warning(still_canvas *out, double x, double y);

#endif
