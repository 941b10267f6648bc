/** @file canvas.h  A drawing as a list of primitives: what every form of picture is made from.
 *
 *  The drawing code puts paths, texts and groups on a canvas, in page coordinates (pixels, x to
 *  the right, y down). svg.c and paint.c turn the finished list into bytes, and tests measure it.
 *  How things look is one table (canvas_look.c), so that no form differs from another.
 *
 *  Errors stick: draw freely, ask `failed` once at the end. */
#ifndef STILL_CANVAS_H
#define STILL_CANVAS_H

#include "strbuf.h"

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

/** Looks; the table is in the same order. */
typedef enum still_look {
    STILL_LOOK_TXT,
    STILL_LOOK_ID,
    STILL_LOOK_SYM,
    STILL_LOOK_FULL,
    STILL_LOOK_OVER,
    STILL_LOOK_PIPE,
    STILL_LOOK_PIPE_LIVE,
    STILL_LOOK_PIPE_IN,
    STILL_LOOK_BOUND,
    STILL_LOOK_HATCH,
    STILL_LOOK_FLAG,
    STILL_LOOK_WARN,
    STILL_LOOK_SHUT,
    STILL_LOOK_BAND_EDGE,
    STILL_LOOK_BAND_PATH,
    STILL_LOOK_GROUND_PATH,
    STILL_LOOK_FRAME_THICK,
    STILL_LOOK_FRAME_THIN,
    STILL_LOOK_RULE,
    STILL_LOOK_CELL,
    STILL_LOOK_GRID, /**< from here on: charts */
    STILL_LOOK_BLANK,
    STILL_LOOK_LEVEL,
    STILL_LOOK_DESIGN,
    STILL_LOOK_LEADER,
    STILL_LOOK_CURVE,
    STILL_LOOK_CURVE_RIGID,
    /* From here on: looks of pictures of closed-in liquid, in no other picture. */
    STILL_LOOK_CUT_ITSELF,
    STILL_LOOK_CUT_PERSON,
    STILL_LOOK_CUT_PLAN,
    STILL_LOOK_CUT_STUB,
    STILL_LOOK_NOT_FULL,
    STILL_LOOK_COVERED,
    STILL_LOOK_COVERS,
    STILL_LOOK_RING_ITSELF,
    STILL_LOOK_RING_PERSON,
    STILL_LOOK_MILD,
    STILL_LOOK_PROOF_1, /**< paths of a proof, in pictures of a plan that ask for them */
    STILL_LOOK_PROOF_2,
    STILL_LOOK_PROOF_3,
    /* From here on: looks of the pages of a pack. */
    STILL_LOOK_INK,   /**< a filled area without an edge */
    STILL_LOOK_SHADE, /**< behind the heads of tables */
    STILL_LOOK_HAIR,  /**< lines of tables */
    STILL_LOOK_BOX,   /**< a box to tick, a frame to write in */
    STILL_LOOK_CUT,   /**< where to cut */
    STILL_LOOK_COUNT
} still_look;

/** No fill, or no stroke. */
#define STILL_NO_COLOUR UINT32_MAX

/** A look: colours as 0xRRGGBB, lengths in pixels. Texts use `fill` and `bold` only. */
typedef struct still_look_row {
    const char *name;
    uint32_t fill, stroke;
    double width, dash_on, dash_off;
    bool round, bold; /**< round ends of lines; bold type */
} still_look_row;

/** What a primitive is part of: which ones may lie on which. */
typedef enum still_layer {
    STILL_LAYER_PAGE,   /**< title, legend, lists */
    STILL_LAYER_PIPE,   /**< pipes and what goes along with them */
    STILL_LAYER_SYMBOL, /**< symbols, and letters inside them */
    STILL_LAYER_MARK,   /**< frames, boundary bars */
    STILL_LAYER_LABEL
} still_layer;

typedef enum still_anchor {
    STILL_ANCHOR_START,
    STILL_ANCHOR_MIDDLE,
    STILL_ANCHOR_END
} still_anchor;

typedef enum still_pkind {
    STILL_PRIM_PATH,
    STILL_PRIM_TEXT,
    STILL_PRIM_OPEN, /**< a group begins; its text says what it is, for those who can't see it */
    STILL_PRIM_CLOSE
} still_pkind;

/** A step of a path: 'M' and 'L' use the last point, 'C' (cubic curve) all three, 'Z' none. */
typedef struct still_pstep {
    char op;
    double x[3], y[3];
} still_pstep;

typedef struct still_prim {
    still_pkind kind;
    still_look look;
    still_layer layer;
    uint32_t owner;  /**< node that it belongs to, or UINT32_MAX */
    size_t first, n; /**< path: its steps */
    double x, y;     /**< text: its baseline at the anchor */
    double size;     /**< of type */
    still_anchor anchor;
    size_t text; /**< where its text starts in `texts` */
} still_prim;

typedef struct still_canvas {
    double width, height;       /**< of the page */
    double width_mm, height_mm; /**< the same on paper */
    double x0, y0;              /**< added to all coordinates given */
    still_layer layer;          /**< of what is drawn next */
    uint32_t owner;
    still_prim *prims;
    size_t n_prims, cap_prims;
    still_pstep *steps;
    size_t n_steps, cap_steps;
    still_buf texts;       /**< each with a zero behind it */
    still_buf title, desc; /**< of the whole */
    bool failed;           /**< memory ran out at some point: the drawing is not whole */
} still_canvas;

const still_look_row *still_look_of(still_look look);
/** Width of a text at a size of type: enough for DejaVu Sans, one of the widest fonts in use, and
 *  so for most others (tests/unit/test_canvas.c measures it). */
double still_text_width(const char *s, double size, bool bold);

/** Bytes of a text that fit in one line of so much room: up to a space where there is one, at least
 *  one character, all of it where it fits. */
size_t still_text_break(const char *s, double size, double room, bool bold);

/** Free all that it holds. */
void still_canvas_clear(still_canvas *c);
/** Begin a path; move and draw on from there; close the figure. */
void still_canvas_path(still_canvas *c, still_look look);
void still_canvas_move(still_canvas *c, double x, double y);
void still_canvas_to(still_canvas *c, double x, double y);
void still_canvas_curve(still_canvas *c, const double x[3], const double y[3]);
void still_canvas_end(still_canvas *c);

void still_canvas_line(still_canvas *c, still_look look, double x1, double y1, double x2,
                       double y2);
void still_canvas_rect(still_canvas *c, still_look look, double x, double y, double w, double h,
                       double radius);
void still_canvas_circle(still_canvas *c, still_look look, double x, double y, double r);
/** A shape given as SVG path data around (x, y), mirrored left to right if asked. Understood: M, L,
 *  H, V, Q, Z in capitals, and A for arcs of circles. */
void still_canvas_shape(still_canvas *c, still_look look, double x, double y, bool mirrored,
                        const char *data);
/** Short slanted strokes along the line from (x1, y1) to (x2, y2), reaching `half` to each side:
 *  hatching that every form draws alike. */
void still_canvas_hatch(still_canvas *c, still_look look, double x1, double y1, double x2,
                        double y2, double half);
/** Text with its baseline at y, cleaned (glyph.h); nothing for "". */
void still_canvas_text(still_canvas *c, still_look look, double x, double y, double size,
                       still_anchor anchor, const char *s);
/** Text cut off with "..." where it is wider than `room`; what is cut has to stand elsewhere. */
void still_canvas_fitted(still_canvas *c, still_look look, double x, double y, double size,
                         double room, const char *s);
/** Text over as many lines as it needs, 5 pixels between them. @param measure  draw nothing
 *  @return height used */
double still_canvas_flowed(still_canvas *c, still_look look, double x, double y, double size,
                           double room, const char *s, bool measure);
/** Everything that is on another canvas, its upper left corner at (x, y). */
void still_canvas_copy(still_canvas *to, const still_canvas *from, double x, double y);
void still_canvas_open(still_canvas *c, const char *what);
void still_canvas_close(still_canvas *c);
/** Text of a primitive. */
static inline const char *still_prim_text(const still_canvas *c, const still_prim *p)
{
    return c->texts.text + p->text;
}

#endif
