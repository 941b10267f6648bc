/** @file messages.h  Texts in the language of a reader.
 *
 *  A text of the program is its own key: the English words. A catalogue gives for a key the words
 *  of another language. The file is a GNU gettext catalogue (.mo; its manual, section "The Format
 *  of GNU MO Files"), so the well-known tools make it; it is read here, and not by the C
 *  library's gettext, because that one speaks a language only where the machine has its locale
 *  installed, and because it is one setting for the whole process.
 *
 *  A catalogue that a site brings along is not trusted: it is looked through once, when it is
 *  opened. A text whose placeholders differ from those of its key is refused, so that no
 *  catalogue can make the program read what it was not given. */
#ifndef STILL_MESSAGES_H
#define STILL_MESSAGES_H

#include "arena.h"
#include "strbuf.h"

#include <stdarg.h>
#include <stdbool.h>
#include <stddef.h>

/** Mark a text that is looked up elsewhere, for the catalogue (tools/messages.py). */
#define WORD(words) words

typedef struct still_messages {
    const unsigned char *bytes; /**< borrowed */
    size_t len, n, keys, texts; /**< number of entries; where their two tables start */
    bool swapped;               /**< written on a machine of the other byte order */
} still_messages;

/** Look through a catalogue.
 *  @param[out] out  borrows bytes; untouched on failure
 *  @param[out] why  on failure: what is wrong, one sentence without a full stop
 *  @param[out] key  on failure: the key whose text is at fault, or ""
 *  @return whether it can be used. Cost: linear in the file */
bool still_messages_open(still_messages *out, const void *bytes, size_t len, const char **why,
                         const char **key);

/** The text of a key: the key itself where the catalogue has none, and where m is NULL. Neither
 *  copied nor freed. Cost: logarithmic in the catalogue. */
#if defined(__GNUC__)
__attribute__((format_arg(2)))
#endif
const char *
still_messages_get(const still_messages *m, const char *key);

/** As printf, the format looked up first; so is each text given for a "%s" that has a space in it:
 *  a part of a sentence, never an id. Placeholders of a translation may be numbered ("%2$s").
 *  Without a catalogue this is still_buf_printf. Known: %s %c %d %u %g %f with flags, width,
 *  precision, and lengths l, ll, z; no '*'. */
#if defined(__GNUC__)
__attribute__((format(printf, 3, 4)))
#endif
void still_say(still_buf *out, const still_messages *m, const char *format, ...);
void still_say_args(still_buf *out, const still_messages *m, const char *format, va_list args);

#endif
