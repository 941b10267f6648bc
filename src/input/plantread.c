/* Reading the plant file: bytes in chunks, digest and limits; parsing, resolving, reporting. */
#include "plantread.h"

#include "alloc.h"
#include "digest.h"
#include "plantsax.h"
#include "reader.h"

#include <errno.h>
#include <stdio.h>
#include <string.h>
#include <strings.h>

enum { CHUNK = 64 * 1024 };

/* Look at the first bytes: another encoding is refused before the parser sees any. */
static bool encoding_is_utf8(still_reader *r, const char *b, size_t len)
{
    static const char *const marks[] = {"\xFE\xFF", "\xFF\xFE", "\x4C\x6F\xA7\x94"};
    size_t i = len >= 3 && memcmp(b, "\xEF\xBB\xBF", 3) == 0 ? 3 : 0;
    bool other = len >= 2 && (b[0] == '\0' || b[1] == '\0');
    for (size_t k = 0; k < sizeof marks / sizeof marks[0]; k++) {
        size_t n = strlen(marks[k]);
        if (len >= n && memcmp(b, marks[k], n) == 0) other = true;
    }
    size_t at = 0;
    if (!other && len - i > 6 && memcmp(b + i, "<?xml ", 6) == 0) {
        size_t end = i;
        while (end + 1 < len && b[end] != '>') end++;
        for (size_t k = i; k + 9 < end; k++) {
            if (memcmp(b + k, "encoding", 8) != 0) continue;
            for (k += 8; k < end && (b[k] == ' ' || b[k] == '=' || b[k] == '\n'); k++) {
            }
            at = k;
            other = end - k < 7 || strncasecmp(b + k + 1, "UTF-8", 5) != 0 || b[k + 6] != b[k];
            break;
        }
    }
    if (other)
        still_report_add(r->report, STILL_CODE_ENCODING, (uint32_t)at, NULL, NULL,
                         "the encoding is not UTF-8");
    return !other;
}

/* Offsets are 32 bits wide, so 4 GiB is the end. */
static bool too_large(still_reader *r, uint64_t size, const char *file)
{
    if (size < UINT32_MAX) return false;
    still_report_add(r->report, STILL_CODE_SIZE, STILL_NOWHERE, NULL, NULL, "%s has 4 GiB or more",
                     file);
    r->status = STILL_E_LIMIT;
    return true;
}

/* Feed the parser. @return the whole file went through it. */
static bool feed(still_reader *r, still_sax *sax, still_source *source, still_digest *digest,
                 const char *file)
{
    char *chunk = still_malloc(CHUNK);
    uint64_t total = 0;
    bool whole = false;
    if (chunk == NULL) r->status = STILL_E_NOMEM;
    if (chunk == NULL || too_large(r, still_source_size(source), file)) goto out;
    /* About what a plant file names; a guess that is short costs a growth of the table. */
    if (!still_names_reserve(&r->plant->names, (size_t)(still_source_size(source) / 128))) {
        r->status = STILL_E_NOMEM;
        goto out;
    }
    for (;;) {
        size_t have = 0; /* fill the chunk: what is read from a pipe comes in small pieces */
        ptrdiff_t n = 1;
        while (have < CHUNK && n > 0) {
            n = still_source_next(source, chunk + have, CHUNK - have);
            if (n > 0) have += (size_t)n;
        }
        if (n < 0) {
            char why[100] = "";
            if (strerror_r(errno, why, sizeof why) != 0) why[0] = '\0';
            still_report_add(r->report, STILL_CODE_FILE, STILL_NOWHERE, NULL, NULL,
                             "%s cannot be read: %s", file, why);
            r->status = STILL_E_IO;
            break;
        }
        if (total == 0 && have == 0) {
            still_report_add(r->report, STILL_CODE_SYNTAX, STILL_NOWHERE, NULL, NULL,
                             "not well-formed: the file is empty; a plant file begins with <plant "
                             "xmlns=\"urn:stillset:plant:1\" id=\"...\"> and ends with </plant>");
            break;
        }
        if (total == 0 && !encoding_is_utf8(r, chunk, have)) break;
        total += have;
        if (too_large(r, total, file)) break;
        still_digest_add(digest, chunk, have);
        if (!still_sax_feed(sax, chunk, have)) break;
        if (have == 0) {
            whole = true;
            break;
        }
    }
out:
    still_free(chunk);
    return whole;
}

static still_status parse_source(still_reader *r, still_source *source, const char *file)
{
    still_sax *sax = still_sax_new(r);
    still_digest *digest = still_digest_new();
    still_status status = STILL_E_NOMEM;
    if (sax == NULL || digest == NULL) goto out;
    bool whole = feed(r, sax, source, digest, file);
    still_digest_text(digest, r->plant->digest);
    status = r->status;
    if (status == STILL_OK && !whole) status = STILL_E_INPUT;
out:
    still_sax_free(sax);
    still_digest_free(digest);
    return status;
}

/* The whole run, once a source is open; takes the source. */
static still_status read_source(still_plant **out, const char *file, still_source *source,
                                still_diags *diags)
{
    still_reader *r = still_malloc(sizeof *r);
    still_status status = STILL_E_NOMEM;
    if (r == NULL || still_reader_init(r, file, source) != STILL_OK) goto out;
    status = parse_source(r, source, file);
    if (status == STILL_OK) {
        still_reader_resolve(r);
        status = r->status;
    }
    if (status == STILL_OK && still_report_errors(r->report) > 0) status = STILL_E_INPUT;
    if (!still_source_keep(source) && status == STILL_OK) status = STILL_E_NOMEM;
    still_status flushed = still_report_flush(r->report, diags);
    if (flushed != STILL_OK && status == STILL_OK) status = flushed;
    if (status == STILL_OK) {
        r->plant->source = source;
        *out = r->plant;
        r->plant = NULL;
        source = NULL;
    }
    still_reader_clear(r);
out:
    still_free(r);
    still_source_free(source);
    return status;
}

still_status still_read_plant(still_plant **out, const char *path, still_diags *diags)
{
    still_source *source = still_source_open(path);
    if (source != NULL) return read_source(out, path, source, diags);
    int why = errno;
    if (why == ENOMEM) return STILL_E_NOMEM;
    still_report *report = still_report_new(path, NULL);
    if (report == NULL) return STILL_E_NOMEM;
    char text[100] = "";
    if (strerror_r(why, text, sizeof text) != 0) text[0] = '\0';
    still_report_add(report, STILL_CODE_FILE, STILL_NOWHERE, NULL, NULL, "%s cannot be opened: %s",
                     path, text);
    still_status status = still_report_flush(report, diags);
    still_report_free(report);
    return status == STILL_OK ? STILL_E_IO : status;
}

still_status still_read_plant_memory(still_plant **out, const char *name, const void *bytes,
                                     size_t len, still_diags *diags)
{
    still_source *source = still_source_memory(bytes, len);
    if (source == NULL) return STILL_E_NOMEM;
    return read_source(out, name, source, diags);
}
