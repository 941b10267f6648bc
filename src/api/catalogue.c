/* Catalogues: built in, or a site's own file. */
#include "speak.h"

#include "alloc.h"
#include "catalogbytes.h"
#include "diags.h"
#include "source.h"

#include <errno.h>
#include <string.h>

enum { LANGUAGE_MOST = 16 };
static const size_t FILE_MOST = (size_t)16 * 1024 * 1024;

struct still_catalogue {
    still_messages messages;
    unsigned char *own; /* bytes of a file; NULL = built in */
    char language[LANGUAGE_MOST];
};

#define REFUSE(status, file, ...)                                                                  \
    do {                                                                                           \
        still_diags_add(diags, STILL_SEV_ERROR, "STILL-USE", (file), 0, 0, "", NULL, __VA_ARGS__); \
        return (status);                                                                           \
    } while (0)

/* Letters, digits and '-', as of "de-AT". */
static bool is_language(const char *text)
{
    size_t n = strlen(text);
    static const char known[] = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789-";
    return n > 0 && n < LANGUAGE_MOST && strspn(text, known) == n;
}

static bool speaks(const char *language, const char *wanted)
{
    size_t n = strlen(wanted);
    return strncmp(language, wanted, n) == 0 && (language[n] == '\0' || language[n] == '-');
}

static still_status read_whole(unsigned char **out, size_t *len, const char *path,
                               still_diags *diags)
{
    still_source *source = still_source_open(path);
    if (source == NULL && errno == ENOMEM) return STILL_E_NOMEM;
    if (source == NULL) REFUSE(STILL_E_IO, path, "%s", strerror(errno));
    unsigned char *bytes = NULL;
    size_t cap = 0, n = 0;
    ptrdiff_t got = 0;
    still_status status = STILL_OK;
    do {
        if (!still_grow(&bytes, &cap, n + 65536, 1)) status = STILL_E_NOMEM;
        if (status == STILL_OK) got = still_source_next(source, bytes + n, 65536);
        if (status == STILL_OK && got < 0) status = STILL_E_IO;
        if (status == STILL_OK) n += (size_t)got;
        if (n > FILE_MOST) status = STILL_E_LIMIT;
    } while (status == STILL_OK && got > 0);
    still_source_free(source);
    if (status != STILL_OK) {
        still_free(bytes);
        if (status == STILL_E_NOMEM) return status;
        REFUSE(status, path,
               status == STILL_E_LIMIT ? "a message catalogue has no more than 16 MiB"
                                       : "the message catalogue could not be read");
    }
    *out = bytes;
    *len = n;
    return STILL_OK;
}

static still_status fill(still_catalogue *c, const char *path, still_diags *diags)
{
    const char *why = "", *key = "";
    const void *bytes = still_catalogue_de_bytes;
    size_t len = still_catalogue_de_bytes_len;
    if (path != NULL) {
        still_status status = read_whole(&c->own, &len, path, diags);
        if (status != STILL_OK) return status;
        bytes = c->own;
    }
    if (still_messages_open(&c->messages, bytes, len, &why, &key)) return STILL_OK;
    if (key[0] == '\0') REFUSE(STILL_E_INPUT, path != NULL ? path : "", "%s", why);
    REFUSE(STILL_E_INPUT, path != NULL ? path : "", "%s: \"%s\"", why, key);
}

still_status still_catalogue_open(still_catalogue **out, const char *language, const char *path,
                                  still_diags *diags)
{
    if (!is_language(language))
        REFUSE(STILL_E_USAGE, "", "\"%s\" is no language, such as en, de or de-AT", language);
    if (path == NULL && speaks(language, "en")) {
        *out = NULL;
        return STILL_OK;
    }
    if (path == NULL && !speaks(language, "de"))
        REFUSE(STILL_E_USAGE, "",
               "the language \"%s\" is not built in: en and de are; give a catalogue of your own "
               "with --messages FILE.mo",
               language);
    still_catalogue *c = still_calloc(1, sizeof *c);
    if (c == NULL) return STILL_E_NOMEM;
    memcpy(c->language, language, strlen(language) + 1);
    still_status status = fill(c, path, diags);
    if (status == STILL_OK)
        *out = c;
    else
        still_catalogue_free(c);
    return status;
}

void still_catalogue_free(still_catalogue *catalogue)
{
    if (catalogue == NULL) return;
    still_free(catalogue->own);
    still_free(catalogue);
}

const char *still_catalogue_language(const still_catalogue *catalogue)
{
    return catalogue != NULL ? catalogue->language : "en";
}

const still_messages *still_catalogue_messages(const still_catalogue *catalogue)
{
    return catalogue != NULL ? &catalogue->messages : NULL;
}
