/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "pattern/colours.h"

#include "base/text.h"

#include <string.h>

struct reader {
    const char *text, *c;
    const struct hk_setting_words *words;
    struct hk_colours *colours;
    struct hk_arena *arena;
};

static const char *const row_words[] = {"rows", "row", "rnds", "rnd", "rounds", "round", NULL};

static bool words(struct reader *r, const char *const *list)
{
    const char *end = hk_word_of(hk_blanks_skipped(r->c), list);
    r->c = end ? end : r->c;
    return end;
}

static void problem(struct reader *r, const char *at, const char *text, const char *hint)
{
    if (r->colours->problem)
        return;
    r->colours->problem = text;
    r->colours->hint = hint;
    r->colours->problem_at = (size_t)(at - r->text);
}

static const char sequence_hint[] = "write it as \"Colour sequence: 2 rows A, 4 rows B\", with roles of yarns.csv";

/* ---- The opening ---- */

const char *hk_colours_name_at(const char *text)
{
    static const char *const names[] = {
        "stripe sequence", "striped sequence", "stripe pattern",  "striped pattern", "stripe patt",
        "striped patt",    "stripe repeat",    "colour sequence", "color sequence",  "colour order",
        "color order",     "colour pattern",   "color pattern",   "stripes",         NULL};
    return hk_word_of(text, names);
}

static const char *named_behind(const char *c)
{
    static const char *const fillers[] = {"the", "this", "following", "same", NULL};
    for (const char *end; (end = hk_word_of(hk_blanks_skipped(c), fillers));)
        c = end;
    return hk_colours_name_at(hk_blanks_skipped(c));
}

const char *hk_colours_intro(const char *text)
{
    static const char *const leads[] = {"working in",  "work in",    "cont in", "continuing in",
                                        "continue in", "keeping to", "in",      NULL};
    const char *lead = hk_word_of(text, leads), *end = lead ? named_behind(lead) : NULL;
    return end && *end == ',' ? end + 1 : NULL;
}

bool hk_colours_wanted(const char *text)
{
    for (const char *c = text; *c; c++)
        if ((c == text || c[-1] == ' ') && hk_word_at(c, "in") && named_behind(c + 2))
            return true;
    return false;
}

/* Skips the opening words: "Colour sequence:", "Work in stripes of", "Alternate". Returns false if there are none. */
static bool opening(struct reader *r)
{
    static const char *const alternates[] = {"alternate", "alternating", "work alternately", "alternately work", NULL};
    static const char *const verbs[] = {"work in", "working in", "cont in", "continue in", "work", "use", NULL};
    static const char *const intros[] = {"as follows", "in this order", "in the following order", "in the order", "of",
                                         NULL};
    if (words(r, alternates))
        return true;
    words(r, verbs);
    const char *end = named_behind(r->c);
    if (!end)
        return false;
    r->c = end;
    const char *bracket = hk_blanks_skipped(r->c), *close = *bracket == '(' ? strchr(bracket, ')') : NULL;
    if (close && hk_is_digit(*hk_blanks_skipped(bracket + 1)) && strchr(":=", *hk_blanks_skipped(close + 1)) &&
        *hk_blanks_skipped(close + 1)) /* "(6 rows):" */
        r->c = close + 1;
    bool opened = words(r, intros);
    const char *mark = hk_blanks_skipped(r->c);
    if (*mark && strchr(":=-", *mark)) {
        r->c = mark + 1;
        opened = true;
    }
    return opened;
}

/* ---- The colours ---- */

static bool number(struct reader *r, struct hk_graded_count *value)
{
    bool wrong = false;
    const char *c = hk_blanks_skipped(r->c), *start = c;
    if (!hk_whole_scan(&c, r->words->words->size_count, value, &wrong, r->arena))
        return false;
    bool more = hk_numbers_follow(c);
    if ((wrong || more) && !r->colours->wrong)
        r->colours->wrong = (size_t)(start - r->text) + 1;
    r->c = more ? strpbrk(c, ")]") + 1 : c;
    return true;
}

/* Reads "2 rows" and advances. Returns false, without advancing, if the text is different. */
static bool rows_scan(struct reader *r, struct hk_graded_count *rows)
{
    struct reader ahead = *r;
    if (!number(&ahead, rows) || !words(&ahead, row_words))
        return false;
    *r = ahead;
    return true;
}

static bool yarn_scan(struct reader *r, size_t *role)
{
    static const char *const fillers[] = {"in", "of", "with", "using", "the", "yarn", "colour", "color", NULL};
    struct reader ahead = *r;
    while (words(&ahead, fillers))
        ;
    const char *c = hk_blanks_skipped(ahead.c);
    *role = hk_yarn_at(&c, r->words);
    if (*role == SIZE_MAX)
        return false;
    r->c = c;
    return true;
}

/*
 * Reads one colour: "2 rows A", "A for 2 rows", "A (2 rows)", "A"; *each: "2 rows each of", valid for the colours after
 * it. Returns false if it is not a colour.
 */
static bool colour_scan(struct reader *r, struct hk_graded_count *each)
{
    static const char *const eaches[] = {"each of", "each in", "each", "of each", NULL}, *const fors[] = {"for", "x",
                                                                                                          "-", ":",
                                                                                                          NULL};
    struct hk_graded_count rows = *each;
    struct reader ahead = *r;
    ahead.c = hk_blanks_skipped(ahead.c);
    ahead.c += strspn(ahead.c, "*([ ");
    bool counted = rows_scan(&ahead, &rows);
    if (counted && words(&ahead, eaches))
        *each = rows;
    size_t role;
    if (!yarn_scan(&ahead, &role))
        return false;
    struct reader behind = ahead;
    const char *bracket = hk_blanks_skipped(behind.c);
    behind.c = *bracket == '(' ? bracket + 1 : behind.c;
    words(&behind, fors);
    struct hk_graded_count again;
    if (!counted && rows_scan(&behind, &again)) {
        static const char *const every[] = {"each", "of each", "in each", NULL};
        struct reader ended = behind;
        if (!words(&ended, every)) { /* in "A, B 2 rows each" the rows apply to all */
            const char *close = hk_blanks_skipped(behind.c);
            rows = again;
            behind.c = *bracket == '(' && *close == ')' ? close + 1 : behind.c;
            ahead = behind;
        }
    }
    struct hk_colours *colours = r->colours;
    if (colours->count == HK_COLOURS_MOST) {
        problem(r, r->c, "a sequence of more than 64 colours is not read", "write the rows with their yarns");
        return false;
    }
    r->c = ahead.c;
    colours->colours[colours->count].role = role;
    colours->colours[colours->count++].rows = rows;
    return true;
}

static void colours_scan(struct reader *r)
{
    static const char *const joins[] = {"and then", "and", "then", "&", "/", NULL};
    struct hk_graded_count each = {0};
    struct reader ahead = *r;
    while (colour_scan(&ahead, &each)) {
        *r = ahead;
        const char *c = hk_blanks_skipped(ahead.c);
        ahead.c = *c == ',' || *c == ';' ? c + 1 : c;
        words(&ahead, joins);
    }
}

/* ---- The words after them ---- */

static bool rows_reported(const struct hk_graded_count *rows)
{
    return rows->one > 0 || rows->by_size;
}

static bool rows_same(const struct reader *r, struct hk_graded_count a, struct hk_graded_count b)
{
    size_t size = 0;
    while (size < r->words->words->size_count && hk_graded_in(a, size) == hk_graded_in(b, size))
        size++;
    return size == r->words->words->size_count;
}

/* Reads the rows for all colours: "; work 1 rnd each", "every 2 rows", "(1 row each)". */
static bool each_scan(struct reader *r)
{
    static const char *const works[] = {
        "work",          "working",      "worked", "knit", "changing colour", "changing color", "changing",
        "change colour", "change color", "change", NULL};
    static const char *const everys[] = {"every other", "every", "each for", "each", NULL};
    static const char *const eaches[] = {
        "each", "of each",         "in each", "with each",       "per", "colour", "color",
        "yarn", "of each in turn", "in turn", "before changing", NULL};
    struct reader ahead = *r;
    struct hk_graded_count rows = {.one = 1};
    words(&ahead, works);
    bool other = hk_word_at(hk_blanks_skipped(ahead.c), "every other");
    bool every = words(&ahead, everys);
    rows.one = other ? 2 : 1;
    if (!rows_scan(&ahead, &rows) && !(every && words(&ahead, row_words)))
        return false;
    bool each = every;
    while (words(&ahead, eaches))
        each = true;
    if (!each)
        return false;
    for (size_t i = 0; i < r->colours->count; i++)
        if (rows_reported(&r->colours->colours[i].rows) && !rows_same(r, r->colours->colours[i].rows, rows))
            return false; /* other rows are stated */
    for (size_t i = 0; i < r->colours->count; i++)
        r->colours->colours[i].rows = rows;
    *r = ahead;
    return true;
}

static bool repeat_scan(struct reader *r)
{
    static const char *const repeats[] = {"rep from *",
                                          "repeat from *",
                                          "rep from",
                                          "rep these",
                                          "repeat these",
                                          "repeating",
                                          "rep this sequence",
                                          "repeat this sequence",
                                          "rep sequence",
                                          "repeat sequence",
                                          "and rep",
                                          "and repeat",
                                          "rep",
                                          "repeat",
                                          "throughout",
                                          "in turn",
                                          "in this order",
                                          "in this sequence",
                                          "as set",
                                          "this sequence",
                                          "and so on",
                                          "to end",
                                          "*",
                                          NULL};
    if (!words(r, repeats))
        return false;
    struct hk_graded_count rows;
    rows_scan(r, &rows);
    return true;
}

static bool carry_scan(struct reader *r)
{
    static const char *const carries[] = {"carrying", "carry", "do not cut", "without cutting", NULL};
    if (!words(r, carries))
        return false;
    r->colours->carried = true;
    r->c += strcspn(r->c, ".;");
    return true;
}

/* Returns true when all words are understood up to the end of the sentence or to the number of rows it applies to. */
static bool ending(struct reader *r)
{
    static const char *const ons[] = {"for", "until", "over", NULL};
    for (;;) {
        struct reader ahead = *r;
        const char *c = hk_blanks_skipped(ahead.c);
        bool counted = true; /* "A, B, C. Work 1 row each." */
        for (size_t i = 0; i < r->colours->count; i++)
            counted &= rows_reported(&r->colours->colours[i].rows);
        ahead.c = c + strspn(c, counted ? ",;()] " : ",;.()] ");
        if (each_scan(&ahead) || repeat_scan(&ahead) || carry_scan(&ahead)) {
            *r = ahead;
            continue;
        }
        r->c = c + strspn(c, ")] ");
        r->colours->goes_on = hk_word_of(hk_blanks_skipped(r->c), ons) != NULL;
        return r->colours->goes_on || !*r->c || *r->c == '.' || (*r->c == ';' && !r->c[1]);
    }
}

bool hk_colours_read(const char *text, const struct hk_setting_words *setting_words, struct hk_colours *colours,
                     struct hk_arena *arena)
{
    *colours = (struct hk_colours){0};
    struct reader r = {text, text, setting_words, colours, arena};
    if (!opening(&r))
        return false;
    const char *start = hk_blanks_skipped(r.c), *stop = start;
    bool figure = false, yarn = false;
    while (*stop && (*stop != '.' || (stop[1] && stop[1] != ' '))) {
        const char *name = stop;
        yarn |= (stop == start || strchr(" (*", stop[-1])) && hk_yarn_at(&name, setting_words) != SIZE_MAX;
        figure |= hk_is_digit(*stop);
        stop++;
    }
    if (!yarn && !figure) /* "Stripes: see chart" */
        return false;
    colours_scan(&r);
    if (colours->count < 2)
        problem(&r, start, "these colours are not read", sequence_hint);
    else if (!ending(&r))
        problem(&r, hk_blanks_skipped(r.c), "the words after these colours are not read", sequence_hint);
    for (size_t i = 0; i < colours->count; i++)
        if (!rows_reported(&colours->colours[i].rows))
            problem(&r, start, "the number of rows of each of these colours is not stated", sequence_hint);
    if (colours->problem)
        r.c = r.c > stop ? r.c : stop;
    if (!colours->goes_on)
        r.c += *r.c == '.' || *r.c == ';';
    colours->length = (size_t)(r.c - text);
    return !arena->out_of_memory;
}
