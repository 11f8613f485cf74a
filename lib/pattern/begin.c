/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "pattern/begin.h"

#include "base/text.h"

#include <string.h>

static const char *const ring_words[] = {"magic ring",      "magic circle", "magic loop", "adjustable ring",
                                         "adjustable loop", "MR",           "MC ring",    NULL};

bool hk_row_in_ring(const char *text)
{
    static const char *const words[] = {"ring", "MR", "magic circle", "magic loop", "adjustable loop", NULL};
    for (size_t i = 0; words[i]; i++)
        if (hk_word_find(text, words[i]))
            return true;
    return false;
}

bool hk_row_founds(const char *text)
{
    static const char *const words[] = {"fsc",
                                        "fhdc",
                                        "fdc",
                                        "fhtr",
                                        "ftr",
                                        "foundation single",
                                        "foundation half",
                                        "foundation double",
                                        "foundation treble",
                                        NULL};
    for (size_t i = 0; words[i]; i++)
        for (const char *c = text; *c; c++) /* "12fsc" too */
            if (hk_text_starts(c, words[i]) && (c == text || !hk_is_letter(c[-1])))
                return true;
    return false;
}

/* A clause behind the number that only says how it is closed; its end, or NULL. Behind "and" something else begins. */
static const char *clause(const char *text, bool *joined)
{
    static const char *const joins[] = {"join",
                                        "sl st in first",
                                        "sl st to first",
                                        "sl st into first",
                                        "slip stitch in first",
                                        "slip stitch to first",
                                        "ss in first",
                                        "ss to first",
                                        "ss into first",
                                        "and join",
                                        "sl st to form",
                                        "slip stitch to form",
                                        "ss to form",
                                        "sl st in 1st",
                                        "sl st to 1st",
                                        "connect",
                                        NULL};
    static const char *const others[] = {"being careful",
                                         "taking care",
                                         "without twisting",
                                         "pm",
                                         "place marker",
                                         "place a marker",
                                         "to form",
                                         "mark",
                                         "do not twist",
                                         "turn",
                                         "and turn",
                                         "leaving",
                                         NULL};
    const char *join = hk_word_of(text, joins);
    if (!join && !hk_word_of(text, others))
        return NULL;
    *joined |= join != NULL;
    size_t depth = 0;
    const char *c = text;
    for (; *c && (depth > 0 || (!strchr(",;.:", *c) && (c == text || !hk_word_at(c, " and ")))); c++) {
        depth += *c == '(';
        depth -= depth > 0 && *c == ')';
    }
    return c;
}

/* Clauses, and the mark behind the last of them. */
static const char *clauses(const char *c, bool *joined)
{
    for (;;) {
        const char *next = hk_blanks_skipped(c);
        if (*next == '(') { /* "(multiple of 6)" */
            const char *close = strchr(next, ')');
            if (!close)
                return c;
            c = close + 1;
            continue;
        }
        if (*next == ',' || *next == ';')
            next = hk_blanks_skipped(next + 1);
        const char *end = clause(next, joined);
        if (!end)
            break;
        c = end;
    }
    const char *mark = hk_blanks_skipped(c), *behind = hk_word_at(mark, "and");
    return behind ? behind : *mark && strchr(",;.:", *mark) ? mark + 1 : c;
}

static const char *stitch_words(const char *c)
{
    static const char *const words[] = {"sts", "st", "stitches", "stitch", "chs", "ch", "chains", NULL};
    const char *end = hk_word_of(hk_blanks_skipped(c), words);
    return end ? end : c;
}

static bool counted(const char *text, const char *c, enum hk_begin_kind kind, size_t size_count, struct hk_begin *begin,
                    struct hk_arena *arena)
{
    static const char *const stitches[] = {"sts", "st", NULL};
    bool wrong = false;
    c = hk_blanks_skipped(c);
    const char *number = c;
    *begin = (struct hk_begin){.kind = kind};
    if (!hk_whole_scan(&c, size_count, &begin->count, &wrong, arena))
        return false;
    if (hk_is_letter(*c) && !hk_word_of(c, stitches))
        return false;
    if (wrong || hk_numbers_follow(c))
        begin->wrong = (size_t)(number - text) + 1;
    c = stitch_words(c);
    static const char *const edges[] = {"at", "on each end", "each end", "each side", "on each side", "onto", NULL};
    if (kind == HK_BEGIN_CAST_ON && hk_word_of(hk_blanks_skipped(c), edges)) /* "cast on 4 sts at beg of next 2 rows" */
        return false;
    c = clauses(c, &begin->joined);
    begin->length = (size_t)(c - text);
    return true;
}

static bool edge_read(const char *text, size_t size_count, struct hk_begin *begin, struct hk_arena *arena)
{
    static const char *const edges[] = {"on an edge of", "along an edge of", "on an existing edge of",
                                        "around an edge of", NULL};
    static const char *const helds[] = {"work on the", "work on", "return to the", "place the", "slip the", NULL};
    const char *c = hk_word_of(text, edges);
    if (c) {
        if (!counted(text, c, HK_BEGIN_EDGE, size_count, begin, arena))
            return false;
        const char *kind = hk_blanks_skipped(text + begin->length);
        size_t length = strcspn(kind, ",.:;");
        if (strchr(",.:;", text[begin->length - 1]) || length == 0)
            return true;
        begin->stitch = hk_arena_text(arena, kind, length);
        begin->length = (size_t)(kind - text) + length + (kind[length] != '\0');
        return begin->stitch != NULL;
    }
    c = hk_word_of(text, helds);
    const char *held = c ? hk_word_find(c, "held") : NULL;
    if (c && held && (size_t)(held - c) < 40 && counted(text, c, HK_BEGIN_HELD, size_count, begin, arena)) {
        begin->length = strcspn(text, ".,:;");
        begin->length += text[begin->length] != '\0';
        return true;
    }
    return false;
}

static bool pick_up_read(const char *text, size_t size_count, struct hk_begin *begin, struct hk_arena *arena)
{
    static const char *const words[] = {
        "pick up and knit", "pick up and k", "pick up & knit", "pick up & k", "puk", "pick up", NULL};
    const char *c = hk_word_of(text, words);
    if (!c)
        return false;
    if (hk_word_at(hk_blanks_skipped(c), "and"))
        return false;
    const char *number = hk_blanks_skipped(c);
    if (hk_word_at(number, "about") || !counted(text, number, HK_BEGIN_PICK_UP, size_count, begin, arena))
        return false;
    /* "... sts evenly along the neck edge" */
    size_t rest = strcspn(text + begin->length, ",.;:");
    if (!strchr(",.;:", text[begin->length - 1])) {
        begin->length += rest;
        bool joined = false;
        const char *end = clauses(text + begin->length, &joined);
        begin->joined |= joined;
        begin->length = (size_t)(end - text);
    }
    return true;
}

static bool ring_read(const char *text, struct hk_begin *begin)
{
    static const char *const makes[] = {"make a",       "make an",  "make",   "begin with a",
                                        "start with a", "create a", "form a", "with a",
                                        "work a",       "into a",   NULL};
    const char *c = hk_word_of(text, makes);
    c = hk_word_of(hk_blanks_skipped(c ? c : text), ring_words);
    if (!c)
        return false;
    bool joined = false; /* the ring is closed, whether they say so or not */
    c = clauses(c, &joined);
    *begin = (struct hk_begin){.kind = HK_BEGIN_RING, .joined = true, .length = (size_t)(c - text)};
    return true;
}

static bool join_read(const char *text, struct hk_begin *begin)
{
    static const char *const words[] = {"join yarn",   "join the yarn", "rejoin yarn",
                                        "attach yarn", "join new yarn", NULL};
    if (!hk_word_of(text, words))
        return false;
    size_t length = strcspn(text, ",.;:");
    *begin = (struct hk_begin){.kind = HK_BEGIN_JOIN, .length = length + (text[length] != '\0')};
    return true;
}

/* "Foundation chain: ", "Foundation: ", "Loosely ". */
static const char *opening(const char *text)
{
    static const char *const words[] = {"foundation chain:", "foundation ch:", "foundation:", "starting chain:",
                                        "loosely",           "begin:",         "start:",      "to begin,",
                                        "to start,",         "set-up:",        "make",        NULL};
    const char *c = hk_word_of(text, words);
    return hk_blanks_skipped(c ? c : text);
}

/* "using the long-tail method", "with MC and 5 mm hook" behind the number. */
static void with_setting(const char *text, struct hk_begin *begin)
{
    static const char *const how[] = {"using", "with", "in", "loosely", NULL};
    const char *rest = hk_blanks_skipped(text + begin->length);
    if (strchr(".:;", text[begin->length - 1]) || !hk_word_of(rest, how))
        return;
    begin->setting = (size_t)(rest - text) + 1;
    rest += strcspn(rest, ",.;:");
    begin->length = (size_t)(clauses(rest, &begin->joined) - text);
}

bool hk_begin_read(const char *text, size_t size_count, struct hk_begin *begin, struct hk_arena *arena)
{
    static const char *const chains[] = {"chain", "ch", "a chain of", "chains", NULL};
    static const char *const casts[] = {"cast on", "cast-on", "CO", "provisionally cast on", NULL};
    if (edge_read(text, size_count, begin, arena) || pick_up_read(text, size_count, begin, arena) ||
        ring_read(text, begin) || join_read(text, begin))
        return true;
    const char *c = opening(text);
    const char *chain = hk_word_of(c, chains), *cast = hk_word_of(c, casts);
    if (hk_text_starts(c, "ch") && hk_is_digit(c[2])) /* "ch72" */
        chain = c + 2;
    if (hk_text_starts(c, "co") && hk_is_digit(c[2])) /* "CO84" */
        cast = c + 2;
    if (chain && hk_word_at(hk_blanks_skipped(chain), "of"))
        chain = hk_blanks_skipped(chain) + 2;
    const char *number = chain ? chain : cast;
    enum hk_begin_kind kind = chain ? HK_BEGIN_CHAIN : HK_BEGIN_CAST_ON;
    if (!number || !counted(text, number, kind, size_count, begin, arena))
        return false;
    with_setting(text, begin);
    return true;
}
