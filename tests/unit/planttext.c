/* Statements of a small plant (plantkit.h) as a plant file. */
#include "plantkit.h"

#include <stdio.h>
#include <string.h>

enum { MAX_PARTS = 160, MAX_WORDS = 64 };

/* A component: attributes as XML, listed ports as XML, and how many ports were given out. */
typedef struct part {
    char element[16], id[40];
    still_buf attributes, ports;
    unsigned given;
} part;

typedef struct writer {
    part *parts;
    size_t n;
    still_buf pipes, raw;
    const char *statement; /* for messages */
} writer;

static void wrong(const writer *w, const char *why)
{
    fail_msg("%s in \"%s\"", why, w->statement);
}

/* Split at blanks, in place. */
static size_t split(char *text, char **words)
{
    size_t n = 0;
    for (char *at = text; *at != '\0';) {
        at += strspn(at, " \n");
        if (*at == '\0') break;
        assert_true(n < MAX_WORDS);
        words[n++] = at;
        at += strcspn(at, " \n");
        if (*at != '\0') *at++ = '\0';
    }
    return n;
}

/* ` name='value'` with '_' as blank; nothing for an empty value. */
static void attribute(still_buf *to, const char *name, size_t name_len, const char *value)
{
    if (*value == '\0') return;
    still_buf_char(to, ' ');
    still_buf_addn(to, name, name_len);
    still_buf_add(to, "='");
    for (; *value != '\0'; value++) still_buf_char(to, *value == '_' ? ' ' : *value);
    still_buf_char(to, '\'');
}

static part *new_part(writer *w, const char *element, const char *id)
{
    if (w->n == MAX_PARTS) wrong(w, "too many components");
    part *p = &w->parts[w->n++];
    memset(p, 0, sizeof *p);
    snprintf(p->element, sizeof p->element, "%s", element);
    snprintf(p->id, sizeof p->id, "%s", id);
    return p;
}

static part *find(const writer *w, const char *id, size_t len)
{
    for (size_t i = 0; i < w->n; i++)
        if (strlen(w->parts[i].id) == len && memcmp(w->parts[i].id, id, len) == 0)
            return &w->parts[i];
    return NULL;
}

static bool is_position(const char *word)
{
    return strcmp(word, "open") == 0 || strcmp(word, "closed") == 0 ||
           strcmp(word, "throttled") == 0 || strcmp(word, "unknown") == 0;
}

/* One word of a statement behind the id. */
static void add_word(part *p, char *word, bool first)
{
    char *sign = strchr(word, '=');
    if (word[0] == '+') {
        char *at = strchr(word, '@');
        if (at != NULL) *at++ = '\0';
        still_buf_printf(&p->ports, "<port id='%s'", word + 1);
        if (at != NULL) still_buf_printf(&p->ports, " elevation='%s m'", at);
        still_buf_add(&p->ports, "/>");
    } else if (sign != NULL) {
        attribute(&p->attributes, word, (size_t)(sign - word), sign + 1);
    } else if (strcmp(word, "lockable") == 0) {
        still_buf_add(&p->attributes, " lockable='yes'");
    } else if (is_position(word) && !first) {
        attribute(&p->attributes, "position", 8, word);
    } else {
        attribute(&p->attributes, "kind", 4, word);
    }
}

/* The short forms: element and attributes of each. */
static const char *const shorts[][3] = {
    {"hand", "valve", " kind='globe' position='open' lockable='yes'"},
    {"shut", "valve", " kind='globe' position='closed' lockable='yes'"},
    {"tee", "fitting", " kind='tee'"},
    {"strainer", "fitting", " kind='strainer'"},
    {"cap", "cap", " kind='cap'"},
    {"limit", "limit", ""},
    {"vent", "outlet", " kind='vent' leads-to='safe-place' shared='no' fitted='plug'"},
    {"drain", "outlet", " kind='drain' leads-to='safe-place' shared='no' fitted='plug'"},
};

static bool short_form(writer *w, char **words, size_t n)
{
    size_t s = 0, n_shorts = sizeof shorts / sizeof shorts[0];
    while (s < n_shorts && strcmp(shorts[s][0], words[0]) != 0) s++;
    if (s == n_shorts) return false;
    for (size_t i = 1; i < n; i++) {
        if (strchr(words[i], '=') != NULL) continue;
        part *p = new_part(w, shorts[s][1], words[i]);
        still_buf_add(&p->attributes, shorts[s][2]);
        for (size_t k = 1; k < n; k++) {
            char *sign = strchr(words[k], '=');
            if (sign != NULL)
                attribute(&p->attributes, words[k], (size_t)(sign - words[k]), sign + 1);
        }
    }
    return true;
}

static bool given(char **words, size_t n, const char *name)
{
    size_t len = strlen(name);
    for (size_t i = 0; i < n; i++)
        if (strncmp(words[i], name, len) == 0 && words[i][len] == '=') return true;
    return false;
}

static void add_pipe(writer *w, const char *id, const char *from, const char *to, char **words,
                     size_t n)
{
    still_buf *b = &w->pipes;
    still_buf_printf(b, "<spool id='%s' from='%s' to='%s'", id, from, to);
    if (!given(words, n, "length")) still_buf_add(b, " length='1 m'");
    if (!given(words, n, "bore")) still_buf_add(b, " bore='50 mm'");
    if (!given(words, n, "service")) still_buf_add(b, " service='LQ'");
    for (size_t i = 0; i < n; i++) {
        char *sign = strchr(words[i], '=');
        if (sign != NULL) attribute(b, words[i], (size_t)(sign - words[i]), sign + 1);
    }
    still_buf_add(b, "/>");
}

/* The ports by which an item of a run is entered and left. */
typedef struct ends {
    char id[40], enter[64], leave[64];
} ends;

static void fresh_port(part *p, char *out, size_t size)
{
    p->given++;
    snprintf(out, size, "%s.%u", p->id, p->given);
    if (strcmp(p->element, "vessel") == 0) still_buf_printf(&p->ports, "<port id='%u'/>", p->given);
}

static ends ends_of(writer *w, const char *item, bool first, bool last)
{
    ends e = {"", "", ""};
    bool back = item[0] == '^';
    const char *id = item + back, *dot = strchr(id, '.');
    size_t len = dot != NULL ? (size_t)(dot - id) : strlen(id);
    part *p = find(w, id, len);
    snprintf(e.id, sizeof e.id, "%.*s", (int)len, id);
    if (dot != NULL) {
        const char *second = strchr(dot + 1, '.');
        int n = second != NULL ? (int)(second - id) : (int)strlen(id);
        snprintf(e.enter, sizeof e.enter, "%.*s", n, id);
        snprintf(e.leave, sizeof e.leave, "%s.%s", e.id, second != NULL ? second + 1 : dot + 1);
        return e;
    }
    if (p == NULL) {
        wrong(w, "no such component, or ports missing");
        return e;
    }
    if (strcmp(p->element, "vessel") == 0 || strcmp(p->element, "fitting") == 0) {
        if (!first) fresh_port(p, e.enter, sizeof e.enter);
        if (!last) fresh_port(p, e.leave, sizeof e.leave);
        return e;
    }
    bool one = strcmp(p->element, "limit") == 0 || strcmp(p->element, "cap") == 0 ||
               strcmp(p->element, "outlet") == 0;
    snprintf(e.enter, sizeof e.enter, "%s.%s", p->id, back ? "out" : "in");
    snprintf(e.leave, sizeof e.leave, "%s.%s", p->id, one || back ? "in" : "out");
    return e;
}

static void run(writer *w, char **words, size_t n)
{
    ends before = {"", "", ""};
    size_t items = 0, count = 0;
    for (size_t i = 1; i < n; i++) items += strchr(words[i], '=') == NULL;
    for (size_t i = 1; i < n; i++) {
        if (strchr(words[i], '=') != NULL) continue;
        count++;
        ends e = ends_of(w, words[i], count == 1, count == items);
        if (count > 1) {
            char id[96], seek[112];
            snprintf(id, sizeof id, "%s~%s", before.id, e.id);
            snprintf(seek, sizeof seek, "<spool id='%s'", id);
            /* A second pipe between the same two. */
            while (w->pipes.text != NULL && strstr(w->pipes.text, seek) != NULL) {
                size_t len = strlen(id);
                snprintf(id + len, sizeof id - len, "'");
                id[len] = '+';
                snprintf(seek, sizeof seek, "<spool id='%s'", id);
            }
            add_pipe(w, id, before.leave, e.enter, words, n);
        }
        before = e;
    }
}

static void statement(writer *w, char *text)
{
    char *words[MAX_WORDS];
    text += strspn(text, " \n");
    if (*text == '<') {
        still_buf_add(&w->raw, text);
        return;
    }
    size_t n = split(text, words);
    if (n == 0 || short_form(w, words, n)) return;
    if (n < 2) {
        wrong(w, "a statement of one word");
    } else if (strcmp(words[0], "run") == 0) {
        run(w, words, n);
    } else if (strcmp(words[0], "pipe") == 0) {
        assert_true(n >= 4);
        add_pipe(w, words[1], words[2], words[3], words + 4, n - 4);
    } else {
        part *p = new_part(w, words[0], words[1]);
        for (size_t i = 2; i < n; i++) add_word(p, words[i], i == 2);
    }
}

static const char head[] =
    "<plant xmlns='urn:stillset:plant:1' id='test-plant'>\n"
    "<service id='LQ' substance='ammonia' phase='liquid' temperature='-30 degC' pressure='2 barg'"
    " design-pressure='19 barg' min-temperature='-50 degC'/>\n"
    "<service id='VP' substance='ammonia' phase='vapour' temperature='20 degC' pressure='1 barg'"
    " design-pressure='19 barg' min-temperature='-50 degC'/>\n"
    "<service id='WT' substance='ammonia' phase='two-phase' temperature='-30 degC' pressure='1 "
    "barg'"
    " design-pressure='19 barg' min-temperature='-50 degC'/>\n"
    "<service id='W' substance='brine' phase='liquid' temperature='10 degC' pressure='2 barg'"
    " design-pressure='10 barg' density='1000 kg/m3' hazard='none'/>\n";

void kit_xml(still_buf *xml, const char *text)
{
    static part parts[MAX_PARTS];
    static char line[4096];
    writer w = {.parts = parts, .statement = line};
    for (const char *at = text; *at != '\0';) {
        size_t len = strcspn(at, ";");
        char copy[sizeof line];
        assert_true(len < sizeof line);
        memcpy(line, at, len);
        line[len] = '\0';
        memcpy(copy, line, len + 1);
        statement(&w, copy);
        at += len + (at[len] == ';');
    }
    still_buf_add(xml, head);
    for (size_t i = 0; i < w.n; i++) {
        part *p = &parts[i];
        still_buf_printf(xml, "<%s id='%s'%s>%s</%s>\n", p->element, p->id,
                         p->attributes.text ? p->attributes.text : "",
                         p->ports.text ? p->ports.text : "", p->element);
        still_buf_clear(&p->attributes);
        still_buf_clear(&p->ports);
    }
    if (w.raw.text) still_buf_add(xml, w.raw.text);
    if (w.pipes.text) still_buf_add(xml, w.pipes.text);
    still_buf_add(xml, "</plant>\n");
    still_buf_clear(&w.raw);
    still_buf_clear(&w.pipes);
    assert_false(xml->failed);
}
