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
