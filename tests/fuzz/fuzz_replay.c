/* Run a fuzz entry over files and folders, and over each file with bytes changed, cut and doubled.
 * The changes come from a fixed seed, so that every run is the same.
 * Usage: PROGRAM [-m CHANGES] PATH… */
#include <dirent.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size);

enum { MOST = 256 * 1024 };

static uint32_t next_random(uint32_t *x)
{
    *x ^= *x << 13;
    *x ^= *x >> 17;
    *x ^= *x << 5;
    return *x;
}

static void change(uint8_t *buf, size_t *n, uint32_t *x)
{
    static const char odd[] = "<>\"'&=/ .,;#\0\x80\xff-0";
    for (uint32_t k = next_random(x) % 4; *n > 8; k--) {
        size_t at = next_random(x) % *n, len = next_random(x) % (*n - at) % 64;
        switch (next_random(x) % 4) {
        case 0: buf[at] = (uint8_t)odd[next_random(x) % (sizeof odd - 1)]; break;
        case 1: buf[at] ^= (uint8_t)(1u << next_random(x) % 8); break;
        case 2:
            memmove(buf + at, buf + at + len, *n - at - len);
            *n -= len;
            break;
        default:
            if (*n + len > MOST) break;
            memmove(buf + at + len, buf + at, *n - at);
            *n += len;
            break;
        }
        if (k == 0) break;
    }
}

static int run_file(const char *path, unsigned changes)
{
    static uint8_t whole[MOST], buf[MOST];
    FILE *f = fopen(path, "rb");
    if (f == NULL) return 1;
    size_t n = fread(whole, 1, sizeof whole, f);
    fclose(f);
    LLVMFuzzerTestOneInput(whole, n);
    uint32_t seed = 2463534242u;
    for (unsigned i = 0; i < changes; i++) {
        size_t len = n;
        memcpy(buf, whole, n);
        change(buf, &len, &seed);
        /* An exact block, so that a sanitizer sees a byte read too far. */
        uint8_t *exact = malloc(len > 0 ? len : 1);
        if (exact == NULL) return 1;
        memcpy(exact, buf, len);
        LLVMFuzzerTestOneInput(exact, len);
        free(exact);
    }
    return 0;
}

static int run_path(const char *path, unsigned changes)
{
    struct stat st;
    if (stat(path, &st) != 0) return 1;
    if (!S_ISDIR(st.st_mode)) return run_file(path, changes);
    DIR *dir = opendir(path);
    if (dir == NULL) return 1;
    int bad = 0;
    for (struct dirent *e; (e = readdir(dir)) != NULL;) {
        char file[1024];
        if (e->d_name[0] == '.') continue;
        int n = snprintf(file, sizeof file, "%s/%s", path, e->d_name);
        if (n > 0 && (size_t)n < sizeof file) bad |= run_path(file, changes);
    }
    closedir(dir);
    return bad;
}

int main(int argc, char **argv)
{
    unsigned changes = 0;
    int bad = 0, first = 1;
    if (argc > 2 && strcmp(argv[1], "-m") == 0) {
        changes = (unsigned)strtoul(argv[2], NULL, 10);
        first = 3;
    }
    for (int i = first; i < argc; i++) {
        if (run_path(argv[i], changes) == 0) continue;
        fprintf(stderr, "%s: cannot be read\n", argv[i]);
        bad = 1;
    }
    return bad;
}
