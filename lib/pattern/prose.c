/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "pattern/prose.h"

#include "base/text.h"

#include <string.h>

/* ---- Conventions ---- */

static void settle(struct hk_conventions *conventions, enum hk_convention choice, bool counts)
{
    bool usual = choice == HK_CONVENTION_CH3 || choice == HK_CONVENTION_CH4 || choice == HK_CONVENTION_SKIPPED_DC;
    conventions->settled |= 1u << choice;
    conventions->other &= ~(1u << choice);
    if (counts != usual)
        conventions->other |= 1u << choice;
}

/* Settles the convention for a number of chains at the start of a row. */
static void settle_chains(struct hk_conventions *conventions, int64_t chains, bool counts)
{
    if (chains >= 2 && chains <= 4)
        settle(conventions,
               chains == 2   ? HK_CONVENTION_CH2
               : chains == 3 ? HK_CONVENTION_CH3
                             : HK_CONVENTION_CH4,
               counts);
    else if (chains > 4 || counts) /* one chain never counts, unless stated */
        settle(conventions, HK_CONVENTION_CH_OTHER, counts);
}

/*
 * Finds chains mentioned before `end`, and their number: "ch 2", "ch-3", "2 ch"; 0: "turning chain", any number.
 * Returns the text after the words; NULL if there are none.
 */
static const char *chains_named(const char *text, const char *end, int64_t *chains)
{
    static const char *const words[] = {"chains", "chain", "chs", "ch", "tch", "t-ch", NULL};
    for (const char *c = text; c < end; c++) {
        if (c > text && (hk_is_letter(c[-1]) || hk_is_digit(c[-1])))
            continue;
        const char *behind = NULL;
        for (size_t i = 0; words[i] && !behind; i++) /* "ch2" too */
            if (hk_text_starts(c, words[i]) && !hk_is_letter(c[strlen(words[i])]))
                behind = c + strlen(words[i]);
        if (!behind)
            continue;
        const char *number = hk_blanks_skipped(behind + (*behind == '-'));
        size_t digits = hk_digit_run(number);
        behind = digits > 0 ? number + digits : behind;
        if (digits == 0 && c > text) { /* "2 ch", "2-ch" */
            const char *before = c - 1;
            for (; before > text && hk_is_digit(before[-1]); before--)
                digits++;
            number = before;
        }
        *chains = 0;
        for (size_t i = 0; i < digits && i < 3; i++)
            *chains = 10 * *chains + (number[i] - '0');
        return behind;
    }
    return NULL;
}

/* "Join = sl st in top of ch-3": the chain counts as a stitch; "join = sl st in first dc": it does not. */
static bool join_read(const char *text, struct hk_conventions *conventions)
{
    const char *c = hk_word_at(text, "join");
    c = hk_blanks_skipped(c ? c : text);
    if (*c != '=' && *c != ':')
        return false;
    const char *top = hk_word_find(c, "top of"), *first = hk_word_find(c, "first");
    int64_t chains;
    if (top && chains_named(top, top + strlen(top), &chains)) {
        settle_chains(conventions, chains > 0 ? chains : 3, true);
        if (chains == 0)
            settle(conventions, HK_CONVENTION_CH4, true);
    } else if (first && (hk_word_find(first, "dc") || hk_word_find(first, "tr"))) {
        settle(conventions, HK_CONVENTION_CH3, false);
    }
    return top || first;
}

/* Returns true when the word occurs between the text's start and `end`. */
static bool has_word(const char *text, const char *end, const char *word)
{
    const char *found = hk_word_find(text, word);
    return found && found < end;
}

/* Reads a statement on chains named between the text's start and `count` ("counts"). Returns false if none are. */
static bool count_read(const char *text, const char *count, struct hk_conventions *conventions)
{
    int64_t chains;
    const char *behind = chains_named(text, count, &chains);
    if (!behind)
        return false;
    const char *apostrophe = strstr(behind, "n't");
    bool counts =
        !has_word(behind, count, "not") && !has_word(behind, count, "never") && !(apostrophe && apostrophe < count);
    if (has_word(text, count, "skipped") || has_word(text, count, "missed")) {
        bool half = hk_word_find(count, "hdc") || hk_word_find(count, "htr");
        settle(conventions, half ? HK_CONVENTION_SKIPPED_HDC : HK_CONVENTION_SKIPPED_DC, counts);
    } else if (has_word(text, count, "sp") || has_word(text, count, "sps") || has_word(text, count, "spaces")) {
        settle(conventions, HK_CONVENTION_SPACES, counts);
    } else if (chains > 0) {
        settle_chains(conventions, chains, counts);
    } else {
        for (chains = 2; chains <= 5; chains++)
            settle_chains(conventions, chains, counts);
    }
    return true;
}

bool hk_convention_read(const char *text, struct hk_conventions *conventions)
{
    static const char *const words[] = {"counts", "count", "counted", NULL};
    bool any = join_read(text, conventions);
    for (const char *c = text, *from = text; *c; c++) {
        const char *end = c > text && hk_is_letter(c[-1]) ? NULL : hk_word_of(c, words);
        if (!end)
            continue;
        any |= count_read(from, c, conventions);
        from = end;
    }
    return any;
}

/* ---- Definitions ---- */

/* Returns the end of the name, at "=", ":" or a bracket; NULL if there is none near. */
static const char *name_end(const char *text, const char **steps)
{
    static const size_t name_most = 40;
    for (const char *c = text; *c && (size_t)(c - text) < name_most; c++) {
        if (*c == '=' || *c == ':') {
            *steps = c + 1;
            return c;
        }
        if (hk_text_starts(c, " - ")) {
            *steps = c + 2;
            return c;
        }
        if (*c == '(') {
            const char *close = strchr(c, ')');
            if (!close)
                return NULL;
            const char *behind = hk_blanks_skipped(close + 1);
            bool marked = *behind == '=' || *behind == ':'; /* "Cluster (CL) = "; "V-st (dc, ch 1, dc)" has no mark */
            *steps = marked ? behind + 1 : c;
            return marked || !*behind || *behind == '.' ? c : NULL;
        }
        if (strchr(",;.*", *c))
            return NULL;
    }
    return NULL;
}

bool hk_definition_find(const char *text, const char **name, const char **also, size_t *at, size_t *length,
                        struct hk_arena *arena)
{
    static const char *const none[] = {"join",    "note",   "notes", "row",  "rnd",      "round",   "rows", "gauge",
                                       "tension", "size",   "sizes", "hook", "needle",   "needles", "yarn", "step",
                                       "rep",     "repeat", "rpt",   "cont", "continue", NULL};
    const char *steps = NULL, *end = name_end(text, &steps);
    if (!end || !hk_is_letter(text[0]) || hk_word_of(text, none))
        return false;
    size_t bytes = (size_t)(end - text), words = 1;
    while (text[bytes - 1] == ' ')
        bytes--;
    for (size_t i = 0; i < bytes; i++)
        words += text[i] == ' ';
    const char *digit = steps;
    while (*digit && !hk_is_digit(*digit))
        digit++;
    if (*steps == '(' && hk_is_digit(text[bytes - 1])) /* "Ch 26 (30, 34)" */
        return false;
    if (words > 3 || (!*digit && *steps != '('))
        return false;
    const char *from = hk_blanks_skipped(steps);
    size_t stop = strlen(from); /* it contains a digit or a bracket */
    while (strchr(" .", from[stop - 1]))
        stop--;
    *at = (size_t)(from - text);
    *length = stop;
    *name = hk_arena_text(arena, text, bytes);
    *also = NULL;
    if (*end == '(' && end < steps) {
        *also = hk_arena_text(arena, end + 1, strcspn(end + 1, ")"));
        if (!*also)
            return false;
    }
    return *name != NULL;
}

/* ---- Number of copies ---- */

size_t hk_times_read(const char *text, size_t size_count, struct hk_graded_count *times, bool *wrong,
                     struct hk_arena *arena)
{
    static const char *const makes[] = {"make", "work", "x", "knit", "crochet", NULL};
    static const char *const both[] = {"both alike", "make both alike", "both the same", "make two alike", NULL};
    static const char *const alike[] = {"alike", "pieces", "the same", "of these", NULL};
    bool bracket = *text == '(' || *text == '[';
    const char *c = hk_blanks_skipped(text + bracket), *end = hk_word_of(c, both);
    *wrong = false;
    *times = (struct hk_graded_count){.one = 2};
    if (!end) {
        const char *make = hk_word_of(c, makes);
        if (!make && hk_lower(*c) == 'x' && hk_is_digit(c[1])) /* "x2" */
            make = c + 1;
        end = hk_blanks_skipped(make ? make : c);
        if ((!make && !bracket) || !hk_whole_scan(&end, size_count, times, wrong, arena))
            return 0;
        if (hk_numbers_follow(end)) {
            *wrong = true;
            end += strcspn(end, ")]") + 1;
        }
        end += hk_word_at(end, "x") != NULL;
        const char *more = hk_word_of(hk_blanks_skipped(end), alike);
        end = hk_blanks_skipped(more ? more : end);
    }
    if (*end == ',' && hk_word_at(c, "make")) { /* "(make 2, one of them in CC)" */
        end += bracket ? strcspn(end, ")]") : 0;
        return (size_t)(end - text) + (*end != '\0');
    }
    bool closed = *end == ')' || *end == ']', ended = !*end || *end == '.' || (*end == ':' && !end[1]);
    if (bracket ? !closed : !ended)
        return 0;
    return (size_t)(end - text) + (*end != '\0');
}

/* ---- Headings, work ---- */

/* Returns true when the first `length` bytes of the text are one of the words. */
static bool is_one_of(const char *text, size_t length, const char *const *words)
{
    for (; *words; words++)
        if (hk_text_starts(text, *words) && strlen(*words) == length)
            return true;
    return false;
}

bool hk_heading_silent(const char *text, bool *gauge)
{
    static const char *const gauges[] = {"gauge", "tension", "gauge swatch", "tension square", "swatch", NULL};
    static const char *const words[] = {"sizes",
                                        "size",
                                        "finished size",
                                        "finished sizes",
                                        "finished measurements",
                                        "measurements",
                                        "to fit",
                                        "notes",
                                        "note",
                                        "pattern notes",
                                        "materials",
                                        "yarn",
                                        "yarns",
                                        "hook",
                                        "hooks",
                                        "needles",
                                        "needle",
                                        "tools",
                                        "tool",
                                        "notions",
                                        "supplies",
                                        "abbreviations",
                                        "special stitches",
                                        "special stitch",
                                        "stitches",
                                        "stitch guide",
                                        "stitch glossary",
                                        "stitch patterns",
                                        "stitch pattern",
                                        "stitch key",
                                        "terms",
                                        "skill level",
                                        "level",
                                        "difficulty",
                                        "pattern",
                                        "the pattern",
                                        "instructions",
                                        "directions",
                                        "techniques",
                                        "description",
                                        "about",
                                        "copyright",
                                        "colours",
                                        "colors",
                                        "colourway",
                                        "you will need",
                                        "what you need",
                                        "equipment",
                                        "special techniques",
                                        "special abbreviations",
                                        "construction",
                                        "schematic",
                                        "chart",
                                        "charts",
                                        "key",
                                        "contents",
                                        "introduction",
                                        "before you begin",
                                        "tips",
                                        "hints",
                                        "care",
                                        "washing",
                                        "credits",
                                        "contact",
                                        "errata",
                                        NULL};
    size_t length = strcspn(text, ":(");
    length -= length > 0 && text[length - 1] == ' ';
    *gauge = is_one_of(text, length, gauges);
    return *gauge || is_one_of(text, length, words);
}

size_t hk_rows_named(const char *text)
{
    static const char *const counted[] = {"rows",    "row",     "rnds",           "rnd",
                                          "rounds",  "round",   "alternate rows", "alt rows",
                                          "RS rows", "WS rows", "times",          "time",
                                          NULL},
                             *const mores[] = {"more", "further", "additional", "other", "plain",  "straight",
                                               "sc",   "hdc",     "dc",         "tr",    "htr",    "knit",
                                               "purl", "k",       "p",          "st st", "garter", NULL};
    const char *c = hk_is_digit(*text) ? text + hk_digit_run(text) : hk_number_word_end(text), *more;
    if (!c || hk_word_at(text, "one"))
        return 0;
    for (c = hk_blanks_skipped(c); hk_numbers_follow(c); c = hk_blanks_skipped(c))
        c += strcspn(c, ")]") + 1;
    while ((more = hk_word_of(c, mores)))
        c = hk_blanks_skipped(more);
    const char *end = hk_word_of(c, counted);
    return end ? (size_t)(end - text) : 0;
}

bool hk_rows_named_in(const char *text)
{
    if (hk_word_find(text, "gauge") || hk_word_find(text, "tension") || strchr(text, '='))
        return false;
    for (const char *c = text; *c; c++)
        if ((c == text || !(hk_is_letter(c[-1]) || hk_is_digit(c[-1]))) && hk_rows_named(c) > 0)
            return true;
    return false;
}

bool hk_states(const char *text)
{
    static const char *const words[] = {"is",     "are",    "was",      "were",    "has",  "have",
                                        "will",   "should", "forms",    "form",    "sets", "set",
                                        "counts", "count",  "measures", "measure", "note", NULL};
    for (size_t i = 0; words[i]; i++)
        if (hk_word_find(text, words[i]))
            return true;
    return false;
}

bool hk_instructs(const char *text)
{
    static const char *const words[] = {"work",     "rep",     "repeat", "rpt",     "knit",    "purl",      "cont",
                                        "continue", "do this", "do so",  "crochet", "working", "repeating", NULL};
    for (size_t i = 0; words[i]; i++)
        if (hk_word_find(text, words[i]))
            return true;
    return false;
}

/* "Work to end.", "..., work 2 rows": words of a row that were not recognised as one. */
static bool says_to_work(const char *text)
{
    static const char *const verbs[] = {"work", "knit", "purl", "dec", "decrease", "inc", "increase"};
    static const char *const starts[] = {"work",  "keeping patt", "keeping pattern", "still keeping",
                                         "shape", "alternate",    "alternating",     NULL};
    if (hk_word_of(text, starts))
        return true;
    for (size_t i = 0; i < sizeof verbs / sizeof verbs[0]; i++) {
        const char *found = hk_word_find(text, verbs[i]);
        if (found && hk_is_digit(*hk_blanks_skipped(found + strlen(verbs[i]))))
            return true;
    }
    return false;
}

bool hk_speaks_of_work(const char *text)
{
    static const char *const words[] = {"sew",
                                        "sewn",
                                        "sewing",
                                        "seam",
                                        "seams",
                                        "tassel",
                                        "tassels",
                                        "pick up",
                                        "whipstitch",
                                        "whip stitch",
                                        "mattress stitch",
                                        "backstitch",
                                        "embroider",
                                        "fringe",
                                        "fringes",
                                        "pompom",
                                        "pom-pom",
                                        "pompoms",
                                        "pom-poms",
                                        "graft",
                                        "grafting",
                                        "kitchener",
                                        "crochet",
                                        "edging",
                                        "join the",
                                        "i-cord",
                                        "cord",
                                        "attach",
                                        "surface",
                                        "slip stitch together",
                                        "bobbles",
                                        "duplicate stitch",
                                        "applique",
                                        "lace up",
                                        "drawstring",
                                        "tie",
                                        "ties",
                                        NULL};
    for (size_t i = 0; words[i]; i++)
        if (hk_word_find(text, words[i]))
            return true;
    return says_to_work(text);
}
