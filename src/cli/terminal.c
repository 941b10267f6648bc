/* The terminal.
 * The line of progress is written by a handler of SIGALRM: no thread, so that the library runs as
 * it does without. The handler formats by hand into a buffer of its own and calls only what may be
 * called there (POSIX.1-2017, 2.4.3: clock_gettime, getpgrp, tcgetpgrp, write). Calls that it
 * interrupts start again (SA_RESTART). `live` is taken away before the program itself writes, so
 * the two never write at once. */
#include "terminal.h"

#include "stillset/diag.h"

#include <errno.h>
#include <signal.h>
#include <stdlib.h>
#include <string.h>
#include <sys/ioctl.h>
#include <sys/time.h>
#include <time.h>
#include <unistd.h>

enum { LINE = 200, TAIL = 24, SMALLEST = 40 };

static struct {
    char text[LINE];
    size_t len;
    struct timespec start;
    struct sigaction before;
    bool begun;
} progress;
static volatile sig_atomic_t live, shown;

static const char wipe[] = "\r\033[K";

/* It understands control sequences. */
static bool able(FILE *stream)
{
    const char *term = getenv("TERM");
    return isatty(fileno(stream)) && term != NULL && term[0] != '\0' && strcmp(term, "dumb") != 0;
}

/* Columns of a terminal; 0 = not known. */
static unsigned columns(FILE *stream)
{
    struct winsize size;
    if (ioctl(fileno(stream), TIOCGWINSZ, &size) == 0 && size.ws_col > 0) return size.ws_col;
    const char *said = getenv("COLUMNS");
    unsigned n = 0;
    for (; said != NULL && *said >= '0' && *said <= '9' && n < 10000; said++)
        n = n * 10 + (unsigned)(*said - '0');
    return said != NULL && *said == '\0' ? n : 0;
}

still_style still_terminal_style(FILE *stream)
{
    still_style style = STILL_STYLE_INIT;
    const char *none = getenv("NO_COLOR");
    if (!isatty(fileno(stream))) return style;
    style.width = columns(stream);
    style.marks = able(stream) && (none == NULL || none[0] == '\0');
    return style;
}

static void on_tick(int number)
{
    int error = errno;
    struct timespec now;
    char out[LINE + TAIL + sizeof wipe], digits[20];
    size_t n = 0, d = 0;
    (void)number;
    /* In the background it would be stopped for writing; -1 = not the terminal of this session. */
    pid_t front = live ? tcgetpgrp(STDERR_FILENO) : -1;
    if (live && (front == -1 || front == getpgrp()) && clock_gettime(CLOCK_MONOTONIC, &now) == 0) {
        unsigned long s = (unsigned long)(now.tv_sec - progress.start.tv_sec -
                                          (now.tv_nsec < progress.start.tv_nsec));
        do digits[d++] = (char)('0' + s % 10);
        while ((s /= 10) > 0 && d < sizeof digits);
        out[n++] = '\r';
        memcpy(out + n, progress.text, progress.len);
        n += progress.len;
        memcpy(out + n, " ... ", 5);
        n += 5;
        while (d > 0) out[n++] = digits[--d];
        memcpy(out + n, " s\033[K", 5);
        n += 5;
        shown = 1;
        if (write(STDERR_FILENO, out, n) < 0) live = 0;
    }
    errno = error;
}

static void tick_each_second(time_t seconds)
{
    const struct itimerval timer = {{seconds, 0}, {seconds, 0}};
    (void)setitimer(ITIMER_REAL, &timer, NULL);
}

/* "DOING WHAT", cleaned, in at most `room` bytes; a byte is never narrower than what it shows. */
static void put_words(const char *doing, const char *what, size_t room)
{
    char *clean = NULL;
    size_t size = 0;
    FILE *to = open_memstream(&clean, &size);
    progress.len = 0;
    if (to == NULL) return;
    still_diag_text(doing, to);
    if (what[0] != '\0') fputc(' ', to);
    still_diag_text(what, to);
    if (fclose(to) == 0) {
        size_t n = size < room ? size : room;
        while (n > 0 && n < size && ((unsigned char)clean[n] & 0xC0) == 0x80) n--;
        memcpy(progress.text, clean, n);
        progress.len = n;
    }
    free(clean);
}

void still_terminal_begin(const char *doing, const char *what)
{
    struct sigaction act = {.sa_handler = on_tick, .sa_flags = SA_RESTART};
    unsigned wide = columns(stderr);
    if (progress.begun || !able(stderr)) return;
    if (wide == 0) wide = STILL_STYLE_PLAIN;
    if (wide < SMALLEST) return;
    put_words(doing, what, wide - TAIL < LINE ? wide - TAIL : LINE);
    sigemptyset(&act.sa_mask);
    if (progress.len == 0 || clock_gettime(CLOCK_MONOTONIC, &progress.start) != 0) return;
    if (sigaction(SIGALRM, &act, &progress.before) != 0) return;
    progress.begun = true;
    live = 1;
    tick_each_second(1);
}

void still_terminal_hold(void)
{
    live = 0;
    if (!shown) return;
    shown = 0;
    /* What can't be wiped can't be helped. */
    if (write(STDERR_FILENO, wipe, sizeof wipe - 1) < 0) return;
}

void still_terminal_go(void)
{
    if (progress.begun) live = 1;
}

void still_terminal_end(void)
{
    still_terminal_hold();
    if (!progress.begun) return;
    tick_each_second(0);
    (void)sigaction(SIGALRM, &progress.before, NULL);
    progress.begun = false;
}
