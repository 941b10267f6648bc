/* Which word was meant.
 * Problem: of an id, an option or a word of the format that is not known, name those that were
 * probably meant. Method: optimal string alignment (Damerau 1964: insert, delete, replace, swap
 * neighbours) by rows of the table of Wagner and Fischer (1974), with cheaper steps for what people
 * get wrong most, letter case and the marks inside of ids. Bytes, not characters: the answer is a
 * hint. Cost: product of the lengths, which are bounded. */
#include "nearest.h"

#include <stdio.h>
#include <string.h>

enum { LONGEST = 63, EDIT = 2, SLIP = 1, FAR = 4 };

static unsigned least(unsigned a, unsigned b)
{
    return a < b ? a : b;
}

static char lower(char c)
{
    return (char)(c >= 'A' && c <= 'Z' ? c - 'A' + 'a' : c);
}

static unsigned gap(char c)
{
    return c == '-' || c == '_' || c == '/' || c == '.' ? SLIP : EDIT;
}

static unsigned replace(char a, char b)
{
    if (a == b) return 0;
    return lower(a) == lower(b) ? SLIP : EDIT;
}

unsigned still_near_distance(const char *word, const char *meant)
{
    unsigned rows[3][LONGEST + 1];
    size_t n = strlen(word), m = strlen(meant);
    if (n == 0 || m == 0 || n > LONGEST || m > LONGEST) return STILL_NEAR_NONE;
    unsigned *last = rows[0], *row = rows[1], *before = rows[2];
    last[0] = 0;
    for (size_t k = 1; k <= m; k++) last[k] = last[k - 1] + gap(meant[k - 1]);
    for (size_t i = 1; i <= n; i++) {
        char a = word[i - 1];
        row[0] = last[0] + gap(a);
        for (size_t k = 1; k <= m; k++) {
            char b = meant[k - 1];
            row[k] =
                least(last[k - 1] + replace(a, b), least(last[k] + gap(a), row[k - 1] + gap(b)));
            if (i > 1 && k > 1 && lower(a) == lower(meant[k - 2]) && lower(word[i - 2]) == lower(b))
                row[k] = least(row[k], before[k - 2] + EDIT);
        }
        unsigned *spare = before;
        before = last;
        last = row;
        row = spare;
    }
    unsigned most = least(FAR, 2 * least((unsigned)n, (unsigned)m) / 3);
    return last[m] > most ? STILL_NEAR_NONE : last[m];
}

void still_near_offer(still_near *near, const char *word)
{
    enum { MOST = sizeof near->best / sizeof near->best[0] };
    unsigned cost = still_near_distance(near->to, word);
    if (cost == STILL_NEAR_NONE) return;
    for (int i = 0; i < near->n; i++)
        if (strcmp(near->best[i], word) == 0) return;
    int at = near->n < MOST ? near->n++ : MOST;
    while (at > 0 && cost < near->cost[at - 1]) {
        if (at < MOST) {
            near->best[at] = near->best[at - 1];
            near->cost[at] = near->cost[at - 1];
        }
        at--;
    }
    if (at == MOST) return;
    near->best[at] = word;
    near->cost[at] = cost;
}

void still_near_say(const still_near *near, char *text, size_t size)
{
    size_t len = 0;
    if (size > 0) text[0] = '\0';
    for (int i = 0; i < near->n && len < size; i++) {
        int n = snprintf(text + len, size - len, "%s\"%s\"", i == 0 ? "; nearest: " : ", ",
                         near->best[i]);
        if (n > 0) len += (size_t)n;
    }
}
