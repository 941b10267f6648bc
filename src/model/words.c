#include "words.h"

#include <string.h>

#define WORD(prefix, name, word) word,
#define TABLE(type, prefix, table)                                                                 \
    static const char *const words_##type[] = {"", table(WORD, prefix)};
STILL_VOCABULARIES(TABLE)

static const struct {
    const char *const *words;
    unsigned count;
} vocabularies[] = {
#define ROW(type, prefix, table) {words_##type, prefix##_COUNT},
    STILL_VOCABULARIES(ROW)
#undef ROW
};

const char *still_word(still_vocabulary vocabulary, unsigned value)
{
    if (vocabulary >= STILL_VOC_COUNT || value >= vocabularies[vocabulary].count) return "";
    return vocabularies[vocabulary].words[value];
}

unsigned still_word_value(still_vocabulary vocabulary, const char *s, size_t len)
{
    if (vocabulary >= STILL_VOC_COUNT || len == 0) return 0;
    for (unsigned i = 1; i < vocabularies[vocabulary].count; i++) {
        const char *w = vocabularies[vocabulary].words[i];
        if (strncmp(w, s, len) == 0 && w[len] == '\0') return i;
    }
    return 0;
}

unsigned still_way_value(const char *s, size_t len)
{
    unsigned set = 0;
    if (len < 3 || len > 5 || len % 2 == 0) return 0;
    for (size_t i = 0; i < len; i++) {
        if (i % 2 == 1) {
            if (s[i] != '-') return 0;
            continue;
        }
        if (s[i] < 'a' || s[i] > 'c' || (set >> (s[i] - 'a') & 1) != 0) return 0;
        set |= 1u << (s[i] - 'a');
    }
    return set;
}

const char *still_way_text(unsigned set)
{
    static const char *const texts[] = {"", "", "", "a-b", "", "a-c", "b-c", "a-b-c"};
    return texts[set & 7];
}

unsigned still_word_count(still_vocabulary vocabulary)
{
    return vocabulary < STILL_VOC_COUNT ? vocabularies[vocabulary].count : 0;
}
