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

/*
 * Returns the end of a clause after the number that only states how the foundation is joined, or NULL. After "and"
 * other words begin.
 */
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

/* Returns the end of all such clauses and of the mark after them. */
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

/* Returns true for further values after the unit: "62 sts (66, 74)", "62 sts (66 sts, 74 sts)". */
static bool values_follow(const char *text)
{
    const char *c = hk_blanks_skipped(text);
    if (*c != '(' && *c != '[')
        return false;
    size_t values = 0;
    do {
        c = hk_blanks_skipped(c + 1);
        if (!hk_is_digit(*c))
            return false;
        values++;
        c = hk_blanks_skipped(stitch_words(c + hk_digit_run(c)));
    } while (*c && strchr(HK_VALUE_MARKS "/", *c));
    return values > 1 && (*c == ')' || *c == ']');
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
    const char *list_end, *list = hk_list_without_bracket(number, &list_end, arena);
    if (list && list_end > c) {
        begin->list = list;
        c = list_end;
    }
    bool graded = begin->count.by_size || wrong || begin->list;
    if (wrong || begin->list || hk_numbers_follow(c))
        begin->wrong = (size_t)(number - text) + 1;
    c = stitch_words(c);
    if (!graded && values_follow(c))
        begin->wrong = (size_t)(number - text) + 1;
    /* "Cast on 4 sts at beg of next 2 rows"; "ch 3 at underarm" begins a piece. */
    static const char *const edges[] = {"at", "on each end", "each end", "each side", "on each side", "onto", NULL},
                             *const ends[] = {"at end",           "at the end", "at beg",  "at the beg", "at beginning",
                                              "at the beginning", "at each",    "at both", NULL};
    if (hk_word_of(hk_blanks_skipped(c), kind == HK_BEGIN_CAST_ON ? edges : ends))
        return false;
    c = clauses(c, &begin->joined);
    begin->length = (size_t)(c - text);
    return true;
}

static const char *const waits[] = {"held", "on hold", "holder", "waste yarn", "left unworked", "unworked", "skipped",
                                    "that were left", "remaining", "rem", NULL};

/* Returns the first of the words between `text` and `end`; NULL if none. */
static const char *word_among(const char *text, const char *end, const char *const *words)
{
    for (size_t i = 0; words[i]; i++) {
        const char *found = hk_word_find(text, words[i]);
        if (found && found < end)
            return found;
    }
    return NULL;
}

/* Returns the length up to the first of the marks outside brackets: "46 (52, 58) sts, then rejoin yarn". */
static size_t length_to(const char *text, const char *marks)
{
    size_t depth = 0, i = 0;
    for (; text[i]; i++) {
        depth += text[i] == '(';
        depth -= depth > 0 && text[i] == ')';
        if (depth == 0 && strchr(marks, text[i]))
            break;
    }
    return i;
}

static bool edge_read(const char *text, size_t size_count, struct hk_begin *begin, struct hk_arena *arena)
{
    static const char *const edges[] = {"on an edge of", "along an edge of", "on an existing edge of",
                                        "around an edge of", NULL};
    static const char *const helds[] = {"work on the", "work on",  "working on the", "working on",   "return to the",
                                        "return the",  "place the", "slip the",       "work across the", "return",
                                        "slip",        "place",     NULL};
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
    size_t length = length_to(text, ",.:;");
    const char *held = c ? word_among(c, text + length, waits) : NULL;
    if (c && held && counted(text, c, HK_BEGIN_HELD, size_count, begin, arena)) {
        begin->length = length + (text[length] != '\0');
        begin->of = hk_arena_text(arena, c, (size_t)(text + length - c));
        return begin->of;
    }
    return false;
}

/* Reads "the first 20 sts only", "these 17 sts only", "the last 20 sts only". */
static bool only_read(const char *text, size_t size_count, struct hk_begin *begin, struct hk_arena *arena)
{
    static const char *const works[] = {"working on", "work on", "continue on", "cont on", "working over",
                                        "work over", "working across", NULL};
    static const char *const lasts[] = {"the last", "last", NULL};
    static const char *const nexts[] = {"the next", "next", NULL};
    static const char *const which[] = {"the first", "first", "these", "the next", "next", "the", NULL};
    const char *c = hk_word_of(text, works), *end = text + strcspn(text, ".:;"), *only = hk_word_find(text, "only");
    if (!c || !only || only > end)
        return false;
    c = hk_blanks_skipped(c);
    const char *last = hk_word_of(c, lasts), *behind = last ? last : hk_word_of(c, which);
    if (!counted(text, behind ? behind : c, HK_BEGIN_ONLY, size_count, begin, arena))
        return false;
    begin->last = last != NULL;
    begin->next = hk_word_of(c, nexts) != NULL;
    only += strlen("only");
    begin->length = (size_t)(only - text) + (*only && strchr(",.:;", *only));
    return true;
}

/*
 * Reads a sentence without work: "Sk next 6 sts of body for the underarm.", "Join yarn in next unworked st", "Skip 4
 * sts, rejoin yarn to next st.".
 */
/* Returns the joining after "Place center 20 sts on holder, rejoin yarn"; NULL if there is none. */
static const char *hold_passed(const char *unit, const char *end)
{
    static const char *const holds[] = {"holder", "hold", "waste yarn", "scrap yarn", NULL};
    const char *hold = word_among(unit, end, holds), *comma = hold ? strpbrk(hold, ",;") : NULL;
    return comma && comma < end ? hk_blanks_skipped(comma + 1) : NULL;
}

/* Returns true when work follows the joining of yarn after a comma. */
static bool works_behind(const char *text, const char *end)
{
    static const char *const joins[] = {"join", "rejoin", "attach", "reattach", "return", NULL};
    const char *join = word_among(text, end, joins);
    const char *from = join ? join : text, *comma = from + length_to(from, ",");
    return comma < end && hk_blanks_skipped(comma + 1) < end;
}

static bool left_read(const char *text, size_t size_count, struct hk_begin *begin, struct hk_arena *arena)
{
    static const char *const skips[] = {"sk next", "skip next", "miss next", "sk the next", "skip the next",
                                        "miss the next", "sk", "skip", "miss", NULL};
    static const char *const joins[] = {"join yarn",       "rejoin yarn",
                                        "attach yarn",     "join the yarn",
                                        "rejoin the yarn", "reattach yarn",
                                        "then join yarn",  "then rejoin yarn",
                                        "and join yarn",   "and rejoin yarn",
                                        "rejoin",          "reattach",
                                        "return to",       NULL};
    static const char *const places_alone[] = {"to", "in", NULL};
    static const char *const places[] = {"next", "unworked", "remaining", "rem", "free", "unused", "skipped", NULL};
    size_t length = length_to(text, ".:;");
    static const char *const places_first[] = {"place next", "place the next", "place center", "place centre",
                                               "place the center", "place the centre", "leave next", "leave center",
                                               "slip next", "leave the center", "leave", "place", NULL};
    const char *c = hk_word_of(text, skips), *end = text + length, *hold = c ? NULL : hk_word_of(text, places_first);
    bool wrong = false, skipped = c || hold;
    c = c ? c : hold;
    *begin = (struct hk_begin){.kind = HK_BEGIN_LEFT};
    if (skipped) {
        c = hk_blanks_skipped(c);
        const char *number = c;
        if (!hk_whole_scan(&c, size_count, &begin->count, &wrong, arena))
            return false;
        if (wrong)
            begin->wrong = (size_t)(number - text) + 1;
        const char *unit = stitch_words(c);
        const char *join = hold ? hold_passed(unit, end) : unit;
        if (!join)
            return false;
        join += strspn(join, ", ");
        const char *comma = strchr(unit, ',');
        bool more = comma && comma < end, joined = hk_word_of(join, joins) || hk_word_of(join, places_alone) ||
                                                   (more && hk_word_of(hk_blanks_skipped(comma + 1), joins));
        bool unit_missing = unit == c && (hold || *c != ',' || !joined); /* not in "Sk 16, rejoin yarn." */
        if (unit_missing || (more && !joined))
            return false; /* "Sk next 2 sts, dc in next st" is a row */
    } else {
        c = hk_word_of(text, joins);
        c = c ? c : hk_word_of(text, places_alone);
        if (!c || !word_among(c, end, places))
            return false;
    }
    if (works_behind(c, end)) /* "Rejoin yarn to rem sts, bind off 16 sts, k to end" is a row */
        return false;
    begin->of = hk_arena_text(arena, c, (size_t)(end - c));
    begin->length = length + (text[length] != '\0');
    return begin->of;
}

static bool pick_up_read(const char *text, size_t size_count, struct hk_begin *begin, struct hk_arena *arena)
{
    static const char *const words[] = {
        "pick up and knit", "pick up and k", "pick up & knit", "pick up & k", "puk", "pick up", NULL};
    static const char *const joins[] = {"join yarn and", "rejoin yarn and", "attach yarn and", "with rs facing,",
                                        "join the yarn and", NULL};
    const char *joined = hk_word_of(text, joins);
    const char *c = hk_word_of(joined ? hk_blanks_skipped(joined) : text, words);
    if (!c)
        return false;
    if (hk_word_at(hk_blanks_skipped(c), "and"))
        return false;
    const char *number = hk_blanks_skipped(c);
    static const char *const ratios[] = {"for every", "for each", "in every", "in each", "per", "out of every", NULL};
    if (word_among(number, text + length_to(text, ".:;"), ratios)) { /* "3 sts for every 4 rows": its row states the
                                                                      * stitches */
        *begin = (struct hk_begin){.kind = HK_BEGIN_JOIN};
        return true;
    }
    if (hk_word_at(number, "about") || !counted(text, number, HK_BEGIN_PICK_UP, size_count, begin, arena))
        return false;
    /* "... sts evenly along the neck edge" */
    size_t rest = strcspn(text + begin->length, ",.;:");
    if (!strchr(",.;:", text[begin->length - 1])) {
        begin->length += rest;
        bool closed = false;
        const char *end = clauses(text + begin->length, &closed);
        begin->joined |= closed;
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
    bool joined = false; /* the ring is closed, stated or not */
    c = clauses(c, &joined);
    *begin = (struct hk_begin){.kind = HK_BEGIN_RING, .joined = true, .length = (size_t)(c - text)};
    return true;
}

/* Reads "Join yarn at underarm", "work along the right front edge". */
static bool join_read(const char *text, struct hk_begin *begin, struct hk_arena *arena)
{
    static const char *const words[] = {"join yarn",   "join the yarn", "rejoin yarn",
                                        "attach yarn", "join new yarn", NULL};
    static const char *const works[] = {"work along", "working along", "work around the", "working around the",
                                        "work across the", "work down", "work up", "work evenly along", NULL};
    static const char *const edges[] = {"edge", "edges", "neck", "neckline", "row ends", "armhole", "underarm",
                                        "opening", "side", "sides", "border", NULL};
    size_t length = strcspn(text, ",.;:");
    const char *c = hk_word_of(text, words), *along = hk_word_of(text, works);
    if (!c && !(along && word_among(along, text + length, edges) && strcspn(text, "0123456789") >= length))
        return false;
    *begin = (struct hk_begin){.kind = HK_BEGIN_JOIN, .length = length + (text[length] != '\0')};
    begin->of = hk_arena_text(arena, text, length);
    return begin->of;
}

/* Returns the text after an opening such as "Foundation chain: ", "Foundation: ", "Loosely ". */
static const char *opening(const char *text)
{
    static const char *const words[] = {"foundation chain:", "foundation ch:", "foundation:", "starting chain:",
                                        "loosely",           "begin:",         "start:",      "to begin,",
                                        "to start,",         "set-up:",        "make",        NULL};
    const char *c = hk_word_of(text, words);
    return hk_blanks_skipped(c ? c : text);
}

/* Skips "using the long-tail method", "with MC and 5 mm hook" after the number, and records its start. */
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
        ring_read(text, begin) || left_read(text, size_count, begin, arena) ||
        only_read(text, size_count, begin, arena) || join_read(text, begin, arena))
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
