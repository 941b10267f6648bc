#include "source.h"

#include "alloc.h"

#include <errno.h>
#include <fcntl.h>
#include <stdio.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

struct still_source {
    char *path;        /* to open it again; NULL = memory or spool */
    int fd;            /* open file, or -1 */
    FILE *spool;       /* copy of what cannot be read twice */
    const char *bytes; /* memory */
    char *owned;       /* the same, once it is ours */
    size_t len, pos;
    struct stat was;
    bool kept, standard;
};

still_source *still_source_open(const char *path)
{
    still_source *s = still_calloc(1, sizeof *s);
    if (s == NULL) {
        errno = ENOMEM;
        return NULL;
    }
    s->standard = strcmp(path, "-") == 0;
    s->fd = s->standard ? STDIN_FILENO : open(path, O_RDONLY | O_CLOEXEC);
    if (s->fd < 0 || fstat(s->fd, &s->was) != 0) goto fail;
    if (S_ISDIR(s->was.st_mode)) {
        errno = EISDIR;
        goto fail;
    }
    if (s->standard || !S_ISREG(s->was.st_mode)) {
        s->spool = tmpfile();
        if (s->spool == NULL) goto fail;
    } else {
        s->path = still_strndup(path, strlen(path));
        if (s->path == NULL) {
            errno = ENOMEM;
            goto fail;
        }
    }
    return s;
fail:;
    int why = errno;
    still_source_free(s);
    errno = why;
    return NULL;
}

still_source *still_source_memory(const void *bytes, size_t len)
{
    still_source *s = still_calloc(1, sizeof *s);
    if (s == NULL) return NULL;
    s->fd = -1;
    s->bytes = len > 0 ? bytes : "";
    s->len = len;
    return s;
}

void still_source_free(still_source *s)
{
    if (s == NULL) return;
    if (s->fd >= 0 && !s->standard) close(s->fd);
    if (s->spool != NULL) fclose(s->spool);
    still_free(s->path);
    still_free(s->owned);
    still_free(s);
}

uint64_t still_source_size(const still_source *s)
{
    if (s->bytes != NULL) return s->len;
    return s->path != NULL ? (uint64_t)s->was.st_size : 0;
}

ptrdiff_t still_source_next(still_source *s, void *buf, size_t len)
{
    if (s->bytes != NULL) {
        size_t n = s->len - s->pos < len ? s->len - s->pos : len;
        memcpy(buf, s->bytes + s->pos, n);
        s->pos += n;
        return (ptrdiff_t)n;
    }
    ssize_t n;
    do n = read(s->fd, buf, len);
    while (n < 0 && errno == EINTR);
    if (n > 0 && s->spool != NULL && fwrite(buf, 1, (size_t)n, s->spool) != (size_t)n) return -1;
    return n;
}

bool still_source_keep(still_source *s)
{
    s->kept = true;
    if (s->bytes != NULL && s->owned == NULL) {
        s->owned = still_malloc(s->len);
        if (s->owned == NULL) return false;
        memcpy(s->owned, s->bytes, s->len);
        s->bytes = s->owned;
    }
    still_source_rest(s);
    return true;
}

/* Is the file behind the path still the one that was read? */
static bool reopen(still_source *s)
{
    if (s->fd >= 0) return true;
    s->fd = open(s->path, O_RDONLY | O_CLOEXEC);
    if (s->fd < 0) return false;
    struct stat now;
    if (fstat(s->fd, &now) == 0 && now.st_dev == s->was.st_dev && now.st_ino == s->was.st_ino &&
        now.st_size == s->was.st_size && now.st_mtim.tv_sec == s->was.st_mtim.tv_sec &&
        now.st_mtim.tv_nsec == s->was.st_mtim.tv_nsec)
        return true;
    close(s->fd);
    s->fd = -1;
    return false;
}

size_t still_source_at(still_source *s, uint64_t offset, void *buf, size_t len)
{
    if (s->bytes != NULL) {
        if (offset >= s->len) return 0;
        size_t n = s->len - offset < len ? (size_t)(s->len - offset) : len;
        memcpy(buf, s->bytes + offset, n);
        return n;
    }
    if (s->spool != NULL) {
        if (fseeko(s->spool, (off_t)offset, SEEK_SET) != 0) return 0;
        return fread(buf, 1, len, s->spool);
    }
    if (!reopen(s)) return 0;
    size_t have = 0;
    while (have < len) {
        ssize_t n = pread(s->fd, (char *)buf + have, len - have, (off_t)(offset + have));
        if (n < 0 && errno == EINTR) continue;
        if (n <= 0) break;
        have += (size_t)n;
    }
    return have;
}

void still_source_rest(still_source *s)
{
    if (s->path == NULL || s->fd < 0) return;
    close(s->fd);
    s->fd = -1;
}
