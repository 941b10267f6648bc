/** @file output.h  What a finished plan record looks like: text, JSON, tag list, picture.
 *
 *  Every function takes a finished record and appends to a buffer of the caller. Nothing is
 *  computed here that the record does not say, so a writer can be wrong only in how it says it.
 *  The same record gives the same bytes, whatever the user's locale, clock or terminal.
 *
 *  An unknown number is written as "unknown" (text, picture) or null (JSON), never as 0. */
#ifndef STILL_OUTPUT_H
#define STILL_OUTPUT_H

#include "pack_pages.h"
#include "plant.h"
#include "strbuf.h"
#include "stillset/coverage.h"
#include "stillset/plan.h"
#include "stillset/record.h"
#include "stillset/status.h"
#include "stillset/style.h"

/** Write a plan for a terminal or a plain printer: no line wider than the style says, save one
 *  that holds nothing but an id which is itself wider. What of the record would steer a terminal or
 *  turn the direction of text is replaced by '?'.
 *  @param[in,out] out  appended to; out->failed says that memory ran out
 *  @param r            the record
 *  @param style        NULL = 80 columns, no marks
 *  Cost: linear in the record. Loads no library. */
void still_text_write(still_buf *out, const still_record *r, const still_style *style);

/** Write a plan as JSON, format "stillset-plan-1" (docs/plan.schema.json): every key is there,
 *  numbers have at most nine significant digits, unknown numbers are null.
 *  @param[in,out] out  appended to; as it was when the call fails
 *  @return STILL_OK, STILL_E_NOMEM, STILL_E_INTERNAL (a text of the record is not UTF-8)
 *  Cost: linear in the record. */
STILL_NODISCARD still_status still_json_write(still_buf *out, const still_record *r);

/** Write the tag list as CSV (RFC 4180, UTF-8, header row), with empty columns for people to
 *  fill in. A cell that a spreadsheet could take for a formula gets an apostrophe in front.
 *  @param[in,out] out  appended to; out->failed says that memory ran out
 *  Cost: linear in the tag list. */
void still_csv_write(still_buf *out, const still_record *r);

/** One cell of a CSV table, cleaned and quoted, and what stands behind it: ',' or '\n' (written as
 *  CR LF). */
void still_csv_cell(still_buf *out, const char *text, char after);

/** Write closed-in liquid of a whole plant (coverage.h): as for plans above, format
 *  "stillset-relief-1" (docs/relief.schema.json). */
void still_relief_text_write(still_buf *out, const still_coverage_record *r,
                             const still_style *style);
STILL_NODISCARD still_status still_relief_json_write(still_buf *out,
                                                     const still_coverage_record *r);
void still_relief_csv_write(still_buf *out, const still_coverage_record *r);
/** Likewise the places for new relief valves, and what changed since an older revision. */
void still_relief_csv_places(still_buf *out, const still_coverage_record *r);
void still_relief_csv_since(still_buf *out, const still_coverage_record *r);

/** Write one curve (coverage.h) as a table, lines ended by LF, plain numbers. */
void still_curve_csv_write(still_buf *out, const still_curve_record *r);

/** Write a verdict of the second check for a terminal: one line for each disagreement, and for each
 *  thing that was not checked; lines are not broken. out->failed says that memory ran out. */
void still_verdict_text_write(still_buf *out, const still_verdict_record *r,
                              const still_style *style);
/** The same as JSON, format "stillset-verify-1".
 *  @return STILL_OK, STILL_E_NOMEM, STILL_E_INTERNAL (a text is not UTF-8) */
STILL_NODISCARD still_status still_verdict_json_write(still_buf *out,
                                                      const still_verdict_record *r);

/** Forms of a picture. */
typedef enum still_picture {
    STILL_PICTURE_SVG,
    STILL_PICTURE_PNG, /**< 150 dots per inch */
    STILL_PICTURE_PDF
} still_picture;

/** Write a picture of the neighbourhood of the work as one page: what lies inside, the points,
 *  and the plant beyond each point up to the next device. Where the target cannot be isolated:
 *  the path that nothing can close.
 *  @param[in,out] out  appended to; as it was when the call fails
 *  @param plant        the plant that the record was made for
 *  @return STILL_OK, STILL_E_NOMEM, STILL_E_INTERNAL (no layout could be made, or a library for
 *          PNG and PDF is missing)
 *  Cost: loads the layout library on the first call; grows faster than linearly with what is
 *  drawn, so a page that would hold more than 400 symbols draws only those nearest to the work
 *  and says so. */
STILL_NODISCARD still_status still_picture_write(still_buf *out, const still_record *r,
                                                 const still_plant *plant, still_picture form);
/** Draw a plant without a plan.
 *  @param around  component number, or STILL_NONE = the whole plant
 *  @param depth   how many components away from it are drawn; without `around` not used
 *  @return as still_picture_write */
STILL_NODISCARD still_status still_picture_plant(still_buf *out, const still_plant *plant,
                                                 uint32_t around, unsigned depth,
                                                 still_picture form);
/** Draw the curve of a closed-in piece as a chart on one page.
 *  @return STILL_OK, STILL_E_NOMEM, STILL_E_INTERNAL (a library for PNG and PDF is missing) */
STILL_NODISCARD still_status still_picture_curve(still_buf *out, const still_curve_record *r,
                                                 still_picture form);
/** Draw closed-in liquid on one page.
 *  @param plant  the plant that the record was made for
 *  @param focus  index of a segment of the record, or STILL_NONE = the whole plant
 *  @param depth  how many components beyond the devices that shut it in are drawn; 0 = up to the
 *                next device. Without `focus` not used
 *  @return as still_picture_write */
STILL_NODISCARD still_status still_picture_coverage(still_buf *out,
                                                    const still_coverage_record *cov,
                                                    const still_plant *plant, uint32_t focus,
                                                    unsigned depth, still_picture form);

/** How many components of a plant that leaves out: 0, or those beyond the most on one page. */
uint32_t still_picture_left_out(const still_plant *plant);

/** Components beyond which a plant is not drawn on pages. */
enum { STILL_PICTURE_PAGES_MOST = 250000 };

/** The same on several pages (pages.h).
 *  @param out      NULL = only say how many there are
 *  @param page     1, 2, …; 0 = all, as PDF only
 *  @param n_pages  how many there are
 *  @return as still_picture_write; STILL_E_USAGE (there is no such page), STILL_E_UNSUPPORTED (more
 *          than STILL_PICTURE_PAGES_MOST components) */
STILL_NODISCARD still_status still_picture_pages(still_buf *out, const still_coverage_record *cov,
                                                 const still_plant *plant, uint32_t page,
                                                 still_picture form, uint32_t *n_pages);

/** Forms of a pack. */
typedef enum still_pack_form { STILL_PACK_PDF, STILL_PACK_HTML } still_pack_form;

/** Write a plan as the pack that people work by (docs/PACK.md).
 *  @param[in,out] out  appended to; as it was when the call fails
 *  @param plant     the plant that the record was made for
 *  @param digest    SHA-256 of the record as JSON, in English, hexadecimal
 *  @return as still_picture_write; STILL_E_INTERNAL also where the library for the codes is missing
 */
STILL_NODISCARD still_status still_pack_write(still_buf *out, const still_record *r,
                                              const still_plant *plant, still_pack_form form,
                                              still_paper paper, const still_figures *people,
                                              const char *language, const char *digest);

#endif
