/** @file pack.h  The pack as a list of blocks, from which every form of it is made (docs/PACK.md).
 *
 *  The builders fill it from a finished record; they decide what is said, and to whom. The writers
 *  (pack_html, pack_pages) decide how it looks, and know nothing of plans. All memory is the
 *  pack's; errors stick (`failed`). Texts are words for people already (figures.h): in the reader's
 *  language, with the reader's units; ids, names and places are the plant file's own. They are not
 *  cleaned or escaped: each writer does that in its own way. */
#ifndef STILL_PACK_H
#define STILL_PACK_H

#include "arena.h"
#include "canvas.h"
#include "figures.h"
#include "plant.h"

#include "stillset/record.h"
#include "stillset/status.h"

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

/** How a line of text looks, or what it is besides text. */
typedef enum still_pstyle {
    STILL_P_PLAIN,
    STILL_P_STRONG,
    STILL_P_ID,    /**< a device: bold and larger */
    STILL_P_LARGE, /**< what is to be done: larger */
    STILL_P_SMALL,
    STILL_P_WARN,  /**< bold behind a warning sign */
    STILL_P_TAG,   /**< number of a tag, in a flag */
    STILL_P_BOX,   /**< a box to tick, what for beside it */
    STILL_P_TICK,  /**< a box to tick; its text, for those who do not see it, says what for */
    STILL_P_CHECK, /**< a small box in front of an item */
    STILL_P_WRITE  /**< room to write; likewise */
} still_pstyle;

typedef struct still_pline {
    still_pstyle style;
    const char *text;
    struct still_pline *next;
} still_pline;

typedef struct still_pcell {
    still_pline *first, *last;
} still_pcell;

typedef struct still_prow {
    still_pcell *cells; /**< one a column; of a group: one */
    bool group;         /**< spans the table: heads the rows behind it */
    struct still_prow *next;
} still_prow;

typedef struct still_pcolumn {
    const char *title;
    double share; /**< of the width */
} still_pcolumn;

/** A tag card. */
typedef struct still_pcard {
    const still_point *point;
    const char *code;   /**< text of its QR code */
    const char *action; /**< "Held closed by a lock", … */
    const char *legend, *hold;
    const char *origin; /**< work, plant, plan: a card that was cut out bears them */
    bool lock;
    struct still_pcard *next;
} still_pcard;

typedef enum still_pkind_of_block {
    STILL_PB_PART,
    STILL_PB_HEADING,
    STILL_PB_TEXT,
    STILL_PB_ITEMS,  /**< rows of one cell, each with a bullet */
    STILL_PB_FIELDS, /**< rows of two cells: label, value */
    STILL_PB_TABLE,
    STILL_PB_DIAGRAM,
    STILL_PB_CHART, /**< of closed-in liquid */
    STILL_PB_CARDS
} still_pkind_of_block;

typedef struct still_pblock {
    still_pkind_of_block kind;
    const char *text; /**< part, heading: its words; table: its caption, for those who can't see it
                       */
    const char *id;   /**< part: name of its anchor */
    const char *note; /**< part: for whom; diagram: what it is */
    still_pstyle style;
    double size;   /**< part: size of its type on paper, points */
    bool one_page; /**< part: set on one page, smaller and with less of `may_cut` where needed */
    bool may_cut;  /**< items: those last may be left out of one page */
    bool boxes;    /**< items: each has a box to tick */
    bool grid;     /**< table: lines between columns */
    bool together; /**< table: on one page where it fits on one */
    bool fresh;    /**< heading: begins a page */
    still_pcolumn *columns;
    size_t n_columns, n_rows;
    still_prow *first_row, *last_row;
    const still_closed_in *segment; /**< chart */
    still_pcard *first_card, *last_card;
    struct still_pblock *next;
} still_pblock;

typedef struct still_pack {
    still_arena arena;
    const still_record *r;
    const still_plant *plant;
    still_figures people;
    const char *language; /**< of its texts */
    const char *digest;   /**< SHA-256 of the record, hexadecimal */
    const char *title;
    still_pblock *first, *last;
    still_pblock spare; /**< takes what is put once memory is out */
    bool failed;
} still_pack;

/** Fill a pack; still_pack_clear it in any case. @return STILL_OK, STILL_E_NOMEM */
STILL_NODISCARD still_status still_pack_build(still_pack *p, const still_record *r,
                                              const still_plant *plant, const still_figures *people,
                                              const char *language, const char *digest);
void still_pack_clear(still_pack *p);

/** What the parts are made of (pack.c). Functions that give a text never give NULL. */
const char *still_pack_say(still_pack *p, const char *format, ...)
#if defined(__GNUC__)
    __attribute__((format(printf, 2, 3)))
#endif
    ;
/** Words of the record, figures rewritten. */
const char *still_pack_words(still_pack *p, const char *words);
/** Words of records that stand in no other vocabulary. */
extern const char *const still_pack_vocabulary[];
/** A word of a closed vocabulary ("open", "lock-and-tag") in the reader's language. */
const char *still_pack_word(still_pack *p, const char *word);
const char *still_pack_figure(still_pack *p, double value, int digits, const char *unit);
/** "a, b and c"; `most` ids at most, then "and 5 more"; 0 = all. "none" for an empty list. */
const char *still_pack_ids(still_pack *p, still_strings ids, size_t most);
/** Ids of a way, an arrow between. */
const char *still_pack_way(still_pack *p, still_strings ids);
/** Whether somebody may approve it: false where a finding that blocks can't be accepted. */
bool still_pack_may_pass(const still_record *r);
/** Where a person finds a component or feed; "" = not said. */
const char *still_pack_place(const still_pack *p, const char *id);

still_pblock *still_pack_part(still_pack *p, const char *id, const char *title, const char *note,
                              double size);
still_pblock *still_pack_heading(still_pack *p, const char *words);
void still_pack_text(still_pack *p, still_pstyle style, const char *words);
still_pblock *still_pack_block(still_pack *p, still_pkind_of_block kind);
/** @param titles  NULL behind the last. @param shares  as many */
still_pblock *still_pack_table(still_pack *p, const char *caption, const char *const *titles,
                               const double *shares);
still_prow *still_pack_row(still_pack *p, still_pblock *table);
still_prow *still_pack_group(still_pack *p, still_pblock *table, const char *words);
void still_pack_put(still_pack *p, still_prow *row, size_t column, still_pstyle style,
                    const char *text);
void still_pack_item(still_pack *p, still_pblock *items, const char *text);
void still_pack_field(still_pack *p, still_pblock *fields, const char *label, const char *text);

/** The parts, in their order. */
void still_pack_lead(still_pack *p);
void still_pack_diagram(still_pack *p);
void still_pack_work(still_pack *p);
void still_pack_back(still_pack *p);
void still_pack_cards(still_pack *p);
void still_pack_more(still_pack *p);
/** The proof that no fewer points are enough, as one paragraph. */
const char *still_pack_proof(still_pack *p);
/** A list of steps as a table. */
void still_pack_steps(still_pack *p, const char *caption, const still_step *steps, size_t n);

/** Draw pressure against temperature of closed-in liquid; its title and description say the same
 *  in words. @return STILL_OK, STILL_E_NOMEM */
STILL_NODISCARD still_status still_pack_chart(still_canvas *out, const still_pack *p,
                                              const still_closed_in *segment);

/** Write it as one HTML file.
 *  @param svg     the diagram as SVG, for a screen; "" = none
 *  @param sheets  the same in sheets, for paper
 *  @return STILL_OK, STILL_E_NOMEM, STILL_E_INTERNAL (the library for the codes is missing) */
STILL_NODISCARD still_status still_pack_html(still_buf *out, const still_pack *p, const char *svg,
                                             const char *sheets);

#endif
