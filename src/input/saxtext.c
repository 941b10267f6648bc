/* Texts of the XML parser's callbacks. */
#include "saxtext.h"

#include <stdio.h>
#include <string.h>

void still_saxtext_problem(char *text, size_t size, const char *message)
{
    snprintf(text, size, "not well-formed: %s", message != NULL ? message : "");
    size_t n = strlen(text);
    while (n > 0 && (text[n - 1] == '\n' || text[n - 1] == '.')) text[--n] = '\0';
    for (size_t i = 0; i < n; i++)
        if (text[i] == '\n') text[i] = ' ';
}

size_t still_saxtext_value(char *out, const char *from, size_t len)
{
    size_t n = 0;
    for (size_t i = 0; i < len; i++) {
        out[n++] = from[i];
        if (from[i] == '&' && len - i >= 5 && memcmp(from + i, "&#38;", 5) == 0) i += 4;
    }
    return n;
}
