/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Parses places of other work: row ends, stitches left, the last row of a piece, both sides of a chain. */
#include "pattern/row_parser.h"

#include "base/text.h"

#include <string.h>

#define STS "st|sts|stitch|stitches"
#define CHS "ch|chs|chain|chains"
#define WORKS_MOST 8

/* Returns the longest heading at the next token, with or without a plural s; NULL if none. */
size_t hk_work_name_ahead(const char *text, const char *name)
{
    size_t bytes = strlen(name);
    if (!hk_text_starts(text, name)) { /* "sleeve" of "Sleeves" */
        if (bytes < 3 || hk_lower(name[bytes - 1]) != 's' || !hk_text_starts_part(text, name, bytes - 1))
            return 0;
        bytes--;
    } else if (hk_lower(text[bytes]) == 's') {
        bytes++;
    }
    return hk_is_letter(text[bytes]) || hk_is_digit(text[bytes]) ? 0 : bytes;
}

static const struct hk_work_name *name_ahead(const struct hk_row_parser *parser, size_t *length)
{
    const struct hk_work_name *best = NULL;
    *length = 0;
    for (size_t i = 0; i < parser->words->work_count; i++) {
        const size_t bytes = hk_work_name_ahead(hk_token_text(parser), parser->words->works[i].name);
        if (bytes > *length) {
            best = &parser->words->works[i];
            *length = bytes;
        }
    }
    return best;
}

/* Reads the name of a heading. "right sleeve" belongs to the Sleeves, unless a heading is more specific. */
static const struct hk_work_name *name_take(struct hk_row_parser *parser)
{
    size_t length, start = parser->now;
    hk_row_take(parser, "the");
    const struct hk_work_name *work = name_ahead(parser, &length);
    if (!work && hk_row_take(parser, "left|right|first|second|other"))
        work = name_ahead(parser, &length);
    if (!work) {
        parser->now = start;
        return NULL;
    }
    size_t end = hk_token(parser)->at + length;
    while (hk_token(parser)->at < end)
        parser->now++;
    hk_row_take(parser, "edge|edges|section|piece|panel"); /* "of the left front edge" */
    return work;
}

/* Reads "right front and back", "all motifs". Returns false, without advancing, if there is no such name. */
static bool names_take(struct hk_row_parser *parser, struct hk_where *where)
{
    struct hk_parts works[WORKS_MOST];
    size_t count = 0, start = parser->now;
    bool all = hk_row_take(parser, "all|both");
    for (size_t behind = parser->now; count < WORKS_MOST; behind = parser->now) {
        if (count > 0 && !hk_row_take(parser, "and|&"))
            break;
        const struct hk_work_name *work = name_take(parser);
        if (!work) {
            parser->now = behind;
            break;
        }
        works[count++] = work->parts;
    }
    struct hk_parts *kept = count ? hk_arena_take(parser->arena, count, sizeof *kept) : NULL;
    if (!kept) {
        parser->now = start;
        return false;
    }
    memcpy(kept, works, count * sizeof *kept);
    where->works = kept;
    where->work_count = count;
    where->all = all;
    return true;
}

#define SIDE "edge|edges|side|sides|end|ends"

/* Reads "of right front", "along the back", "down the left side of back". */
bool hk_row_other_works(struct hk_row_parser *parser, struct hk_where *where)
{
    size_t start = parser->now;
    if (!hk_row_take(parser, "of|from|on|along|across|around|at|in|down|up"))
        return false;
    if (names_take(parser, where))
        return true;
    hk_row_take(parser, "the");
    while (hk_row_take(parser, "left|right|first|second|other|opposite|long|short|front|back"))
        ;
    if (hk_row_take(parser, SIDE) && hk_row_take(parser, "of") && names_take(parser, where))
        return true;
    parser->now = start;
    return false;
}

/* Reads "down the side", "along left edge" after row ends, without the name of a piece. */
static void side_take(struct hk_row_parser *parser)
{
    size_t start = parser->now;
    bool way = hk_row_take(parser, "along|across|around|down|up|on|at");
    hk_row_take(parser, "of? the");
    while (hk_row_take(parser, "left|right|first|second|other|opposite|long|short|front"))
        ;
    if (!way || !hk_row_take(parser, SIDE))
        parser->now = start;
}

static bool unknown_work(struct hk_row_parser *parser)
{
    size_t start = parser->now;
    if (hk_row_take(parser, "of the?") && hk_token(parser)->kind == HK_TOKEN_WORD &&
        !hk_row_ahead(parser, "previous|prev|last|row|rnd|round|edge|work|base|piece|this|same|foundation")) {
        hk_row_mistake(parser, HK_CODE_NAME_UNKNOWN, hk_token(parser)->at, "no piece or part has this name");
        hk_row_hint(parser, "write it as its heading does");
        return true;
    }
    parser->now = start;
    return false;
}

/* Reads "every other row end", "3 of every 4 row ends", after "each" or "every". */
static void some_of(struct hk_row_parser *parser, struct hk_where *where)
{
    if (hk_row_take(parser, "other|second|alternate") || hk_row_take(parser, "2 nd")) {
        where->take = 1;
        where->of = 2;
    } else if (hk_row_take(parser, "third") || hk_row_take(parser, "3 rd")) {
        where->take = 1;
        where->of = 3;
    }
}

/* Reads "skipping every other row end", "skipping every 4th row end" after row ends. */
static void skipping(struct hk_row_parser *parser, struct hk_where *where)
{
    size_t start = parser->now;
    hk_row_mark(parser, ',');
    if (hk_row_take(parser, "skipping|skip|sk|missing every")) {
        int64_t of = 0;
        if (hk_row_take(parser, "other|second"))
            of = 2;
        else if (hk_row_take(parser, "third"))
            of = 3;
        else if (hk_row_take(parser, "fourth"))
            of = 4;
        else if (hk_token(parser)->kind == HK_TOKEN_NUMBER && hk_token(parser)->value > 1 &&
                 hk_token(parser)->value < 100) {
            of = hk_token(parser)->value;
            parser->now++;
            hk_row_take(parser, "nd|rd|th");
        }
        if (of > 0 && hk_row_take(parser, "row|rows end|ends?")) {
            where->take = of - 1;
            where->of = of;
            return;
        }
    }
    parser->now = start;
}

static bool named(struct hk_row_parser *parser, struct hk_where *where, enum hk_other_kind other)
{
    where->what = HK_WHAT_OTHER;
    where->other = other;
    if (!hk_row_other_works(parser, where) && unknown_work(parser))
        return true;
    if (other == HK_OTHER_ROW_ENDS) {
        side_take(parser);
        skipping(parser, where);
    }
    return true;
}

/* "row end", "dc row end", "side of each dc row", "end of row". */
static bool row_ends_take(struct hk_row_parser *parser, struct hk_where *where)
{
    size_t start = parser->now;
    hk_row_stitch_take(parser);
    if (hk_row_take(parser, "row - end|ends " STS "?") || hk_row_take(parser, "row end|ends " STS "?") ||
        hk_row_take(parser, "row|rows along|across|down|up the? side|sides"))
        return true;
    parser->now = start;
    if (hk_row_take(parser, SIDE " of the?")) {
        bool each = hk_row_take(parser, "each|every");
        some_of(parser, where);
        hk_row_stitch_take(parser);
        if (hk_row_take(parser, "row|rows")) {
            if (each)
                where->which = HK_WHICH_EACH;
            return true;
        }
    }
    parser->now = start;
    return false;
}

bool hk_row_other_take(struct hk_row_parser *parser, struct hk_where *where)
{
    size_t start = parser->now;
    some_of(parser, where);
    if (row_ends_take(parser, where))
        return named(parser, where, HK_OTHER_ROW_ENDS);
    if (where->of > 0) {
        where->take = where->of = 0;
        parser->now = start;
        return false;
    }
    if (hk_row_take(parser, "held|unused|free " STS))
        return named(parser, where, HK_OTHER_LEFT);
    if (hk_row_take(parser, "underarm chain|ch " STS) || hk_row_take(parser, "underarm " CHS) ||
        hk_row_take(parser, CHS " of|at the? underarm"))
        return named(parser, where, HK_OTHER_CHAINS);
    if (hk_row_take(parser, "free|unused? loop|loops|lp|lps of the? foundation|starting|beg|beginning " CHS "|edge?") ||
        hk_row_take(parser, "foundation|starting|beg|beginning " CHS "|edge " STS "?")) {
        size_t behind = parser->now;
        if (hk_row_other_works(parser, where)) {
            where->what = HK_WHAT_OTHER;
            where->other = HK_OTHER_FOUNDATION;
            return true;
        }
        parser->now = behind;
    }
    parser->now = start;
    return false;
}

bool hk_row_some_others(struct hk_row_parser *parser, struct hk_where *where)
{
    size_t start = parser->now;
    const struct hk_token *token = hk_token(parser);
    if (token->kind != HK_TOKEN_NUMBER || token->value < 1 || token->value > 99)
        return false;
    parser->now++;
    if (hk_row_take(parser, "out? of|in|for every") && hk_token(parser)->kind == HK_TOKEN_NUMBER &&
        hk_token(parser)->value > token->value && hk_token(parser)->value < 100) {
        struct hk_where found = *where;
        int64_t of = hk_token(parser)->value;
        parser->now++;
        if (hk_row_other_take(parser, &found) && found.other == HK_OTHER_ROW_ENDS && found.of == 0) {
            found.which = HK_WHICH_EACH;
            found.take = token->value;
            found.of = of;
            *where = found;
            return true;
        }
    }
    parser->now = start;
    return false;
}

void hk_row_other_of(struct hk_row_parser *parser, struct hk_where *where)
{
    if (where->what == HK_WHAT_SKIPPED) {
        where->other = HK_OTHER_LEFT;
        if (hk_row_other_works(parser, where))
            where->what = HK_WHAT_OTHER;
        return;
    }
    if ((where->what != HK_WHAT_ANY && where->what != HK_WHAT_STITCH) || where->within ||
        where->which == HK_WHICH_SAME)
        return;
    size_t start = parser->now;
    if (hk_row_take(parser, "of|along the? edge|base") && !hk_row_ahead(parser, "of|row|rnd|round")) {
        where->what = HK_WHAT_OTHER;
        where->other = HK_OTHER_BASE;
        return;
    }
    parser->now = start;
    if (hk_row_other_works(parser, where)) {
        where->what = HK_WHAT_OTHER;
        where->other = HK_OTHER_STITCHES;
    }
}

bool hk_row_hold_take(struct hk_row_parser *parser)
{
    size_t start = parser->now;
    if (hk_row_take(parser, "on|onto|to|from hold"))
        return true;
    if (hk_row_take(parser, "on|onto|to|from a|the|one|separate?")) {
        hk_row_take(parser, "piece|length of");
        hk_row_take(parser, STS);
        if (hk_row_take(parser, "holder|holders|hold") ||
            hk_row_take(parser, "scrap|waste|spare|contrasting|contrast yarn|thread|needle|needles?"))
            return true;
    }
    parser->now = start;
    return false;
}

/* Reads the first word of a heading, "heel" for "Heel flap", if only one heading begins with it. */
static bool first_word_take(struct hk_row_parser *parser, struct hk_where *where)
{
    const struct hk_work_name *only = NULL;
    const struct hk_token *token = hk_token(parser);
    if (token->kind != HK_TOKEN_WORD || hk_row_ahead(parser, "left|right|first|second|upper|lower|other"))
        return false;
    for (size_t i = 0; i < parser->words->work_count; i++) {
        const struct hk_work_name *work = &parser->words->works[i];
        if (!hk_text_starts_part(work->name, hk_token_text(parser), token->length) || work->name[token->length] != ' ')
            continue;
        if (only)
            return false;
        only = work;
    }
    struct hk_parts *kept = only ? hk_arena_take(parser->arena, 1, sizeof *kept) : NULL;
    if (!kept)
        return false;
    *kept = only->parts;
    where->works = kept;
    where->work_count = 1;
    parser->now++;
    return true;
}

/*
 * "held instep sts", "sts of body", "right sleeve sts", "sts from holder": reads stitches of other work; else does not
 * advance.
 */
static bool sts_take(struct hk_row_parser *parser, struct hk_where *where)
{
    size_t start = parser->now;
    struct hk_where found = {.given = true,
                             .worded = true,
                             .what = HK_WHAT_OTHER,
                             .other = HK_OTHER_STITCHES,
                             .count = {.one = 1},
                             .stitch = SIZE_MAX,
                             .at = hk_token(parser)->at};
    bool held = hk_row_take(parser, "held|reserved|unused|resting");
    bool named = !held && (names_take(parser, &found) || first_word_take(parser, &found));
    held |= named && hk_row_take(parser, "held");
    if (held && !named && !hk_row_ahead(parser, STS)) { /* "held instep sts" */
        for (int i = 0; i < 2 && hk_token(parser)->kind == HK_TOKEN_WORD && !hk_row_ahead(parser, STS); i++)
            parser->now++;
    }
    bool good = hk_row_take(parser, STS);
    if (good && hk_row_hold_take(parser))
        held = true;
    if (good && !named && hk_row_other_works(parser, &found)) {
        named = true;
        held |= hk_row_take(parser, "holder|hold");
    }
    if (!good || (!held && !named)) {
        parser->now = start;
        return false;
    }
    if (held)
        found.other = HK_OTHER_LEFT;
    *where = found;
    return true;
}

bool hk_row_other_sts(struct hk_row_parser *parser, size_t from, struct hk_where *where)
{
    size_t start = parser->now;
    parser->now = from;
    if (sts_take(parser, where))
        return true;
    parser->now = start;
    return false;
}

bool hk_row_across_others(struct hk_row_parser *parser, struct hk_where *where)
{
    size_t start = parser->now;
    struct hk_graded_count count;
    if (hk_row_take(parser, "across|over|along")) {
        hk_row_take(parser, "the|these|those|all? of? the|these|those");
        hk_row_take(parser, "next|first");
        bool numbered = hk_row_number_ahead(parser);
        if ((!numbered || hk_row_number_of_places(parser, &count))) {
            size_t at = hk_token(parser)->at;
            bool other = sts_take(parser, where);
            if (!other && numbered && hk_row_take(parser, STS)) {
                *where = (struct hk_where){.given = true, .worded = true, .stitch = SIZE_MAX, .at = at};
                other = true;
            }
            if (other) {
                if (numbered)
                    where->count = count;
                else
                    where->which = HK_WHICH_EACH;
                return true;
            }
        }
    }
    parser->now = start;
    return false;
}

bool hk_row_layers_take(struct hk_row_parser *parser, struct hk_where *where)
{
    size_t start = parser->now;
    if (!hk_row_take(parser, "through|thru"))
        return false;
    if (hk_row_take(parser, "both|all layers|thicknesses|pieces|edges")) {
        where->both_layers = true;
        hk_row_other_works(parser, where);
        return true;
    }
    if (names_take(parser, where) && where->work_count == 2) {
        where->both_layers = true;
        return true;
    }
    where->works = NULL;
    where->work_count = 0;
    parser->now = start;
    return false;
}
