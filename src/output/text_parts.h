/** @file text_parts.h  The parts of the text form of a plan, one function a part, in the order
 *  in which they are written. Each leaves out its heading where the record has nothing to say,
 *  save where nothing is itself worth saying. */
#ifndef STILL_TEXT_PARTS_H
#define STILL_TEXT_PARTS_H

#include "messages.h"
#include "pen.h"

#include "stillset/record.h"

/** Columns of a part's body: labels start at LABEL, what they name at BODY. */
enum { STILL_TEXT_ITEM = 2, STILL_TEXT_LABEL = 6, STILL_TEXT_BODY = 18 };

/** "label     words" on lines of its own; nothing when the words are empty. */
void still_text_field(still_pen *pen, const char *label, const char *words);
/** "label     id, id, …" */
void still_text_field_ids(still_pen *pen, const char *label, still_strings ids);
/** "label     id > id > …", or "NONE" */
void still_text_way(still_pen *pen, const char *label, still_strings ids);
/** Tag of a component or feed, or 0. */
uint32_t still_text_tag_of(const still_record *r, const char *id);
/** Number of findings that block and are not accepted. */
size_t still_text_blocking(const still_record *r);
/** "READY", "NOT READY: 2 findings block" or "CANNOT BE ISOLATED"; to a buffer, for every form. */
void still_text_verdict(still_buf *out, const still_record *r);
/** The proof that no fewer points are enough, as one paragraph, in the language of the record. */
void still_text_bound(still_buf *out, const still_record *r);

void still_text_top(still_pen *pen, const still_record *r);
void still_text_obstacle(still_pen *pen, const still_record *r);
void still_text_findings(still_pen *pen, const still_record *r);
void still_text_tags(still_pen *pen, const still_record *r);
void still_text_sources(still_pen *pen, const still_record *r);
void still_text_live(still_pen *pen, const still_record *r);
void still_text_assumptions(still_pen *pen, const still_record *r);
void still_text_steps(still_pen *pen, const char *heading, const still_step *steps, size_t n);
/** How each tagged device stands at any step, for those who take over. */
void still_text_shift(still_pen *pen, const still_record *r);
void still_text_positions(still_pen *pen, const char *heading, const still_position_of *positions,
                          size_t n);
/** All that the state file says. */
void still_text_found(still_pen *pen, const still_found *found, size_t n);
void still_text_closed_in(still_pen *pen, const still_record *r);
void still_text_compartments(still_pen *pen, const still_record *r);
void still_text_proof(still_pen *pen, const still_record *r);
void still_text_choices(still_pen *pen, const still_record *r);
void still_text_end(still_pen *pen, const still_record *r);

/** The plan before, what was found, and the tags that hang (when this plan goes on from one). */
void still_text_before(still_pen *pen, const still_record *r);

#endif
