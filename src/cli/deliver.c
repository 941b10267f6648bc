/* Where results go. */
#include "options.h"
#include "terminal.h"

#include <errno.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

static const char *what_to_do(int error)
{
    switch (error) {
    case EACCES:
    case EPERM:
    case EROFS: return "write to a folder that you may write to: -o FILE";
    case ENOENT:
    case ENOTDIR: return "make the folder first, or look at its name";
    case EISDIR: return "name a file in it";
    case ENOSPC:
    case EFBIG:
    case EDQUOT: return "make room, or write elsewhere: -o FILE";
    default: return "write elsewhere: -o FILE";
    }
}

static int file_failed(const char *path)
{
    int error = errno;
    still_cli_error("%s: %s; %s", path, strerror(error), what_to_do(error));
    return 4;
}

/* Write into what is there: a pipe or a device is no place for a rename. */
static int write_into(const char *path, const char *bytes, size_t len)
{
    FILE *to = fopen(path, "wb");
    if (to == NULL) return file_failed(path);
    bool good = fwrite(bytes, 1, len, to) == len;
    if (fclose(to) != 0) good = false;
    return good ? 0 : file_failed(path);
}

/* A link is followed; an existing file keeps its mode. */
int still_cli_write_file(const char *given, const char *bytes, size_t len)
{
    struct stat old;
    mode_t mask = umask(0), mode = 0666;
    (void)umask(mask);
    mode &= ~mask;
    char *path = realpath(given, NULL);
    if (path != NULL && stat(path, &old) == 0) {
        if (!S_ISREG(old.st_mode)) {
            free(path);
            return write_into(given, bytes, len);
        }
        mode = old.st_mode & 07777;
    }
    const char *final = path != NULL ? path : given;
    size_t room = strlen(final) + 16;
    char *temp = malloc(room);
    if (temp == NULL) {
        free(path);
        return still_cli_failed(STILL_E_NOMEM, NULL);
    }
    snprintf(temp, room, "%s.XXXXXX", final);
    int fd = mkstemp(temp);
    if (fd >= 0) (void)fchmod(fd, mode);
    FILE *to = fd < 0 ? NULL : fdopen(fd, "wb");
    bool good = to != NULL && fwrite(bytes, 1, len, to) == len;
    if (to != NULL && fclose(to) != 0) good = false;
    if (good && rename(temp, final) != 0) good = false;
    int code = good ? 0 : file_failed(given);
    if (!good && fd >= 0) (void)unlink(temp);
    free(temp);
    free(path);
    return code;
}

int still_cli_deliver(const still_cli *cli, char *bytes, size_t len)
{
    int code = 0;
    still_terminal_end();
    if (cli->output != NULL)
        code = still_cli_write_file(cli->output, bytes, len);
    else if (fwrite(bytes, 1, len, stdout) != len)
        code = 4;
    still_bytes_free(bytes);
    return code;
}

still_style still_cli_style(const still_cli *cli)
{
    const still_style plain = STILL_STYLE_INIT;
    return cli->output != NULL ? plain : still_terminal_style(stdout);
}
