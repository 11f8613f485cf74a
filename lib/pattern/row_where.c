/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Parses the places of a row: which of them, their kind, the end of "each". */
#include "pattern/row_parser.h"

#include "base/text.h"

#include <inttypes.h>
#include <string.h>

#define STS "st|sts|stitch|stitches"
#define SPS "sp|sps|space|spaces|lp|lps|loop|loops|arch|arches"
#define ROW "row|rnd|round|rows|rnds|rounds"

static const struct hk_graded_count one = {.one = 1};

/* ---- Words without effect on the count ---- */

/* "back loop only of", "the top two loops of": skips the loops, which do not affect the count. */
static bool take_loops(struct hk_row_parser *parser)
{
    size_t start = parser->now;
    hk_row_take(parser, "the");
    if (hk_row_take(parser, "blo|flo|bl|fl of|on? the?"))
        return true;
    bool loops =
        hk_row_take(parser, "back|front|third|both|horizontal|top|far|near|third|lower") || hk_row_take(parser, "3 rd");
    if (loops && hk_row_take(parser, "2|two? loop|loops|lp|lps|bar|bars|bump|bumps only? of|on? the?"))
        return true;
    parser->now = start;
    return false;
}

/* "of the row below", "of rnd 1", "as join", "made". */
static void take_tail(struct hk_row_parser *parser)
{
    size_t start = parser->now;
    if (hk_row_take(parser, "of|on|from the? previous|prev|last|preceding|same|this? " ROW)) {
        hk_row_take(parser, "below");
        if (hk_token(parser)->kind == HK_TOKEN_NUMBER)
            parser->now++;
        return;
    }
    parser->now = start;
    hk_row_take(parser, "made");
}

/* "same st as joining", "as last dc": skips another name of the same place. */
static void take_as(struct hk_row_parser *parser)
{
    if (!hk_row_take(parser,
                     "as the? join|joining|joined|sl|slip|slst|last|first|previous|beg|beginning|turning|ch|base"))
        return;
    while (hk_token(parser)->kind == HK_TOKEN_WORD && !hk_row_ahead(parser, "and|then|join|turn|across|around|to"))
        parser->now++;
    if (hk_row_mark(parser, '-') && hk_token(parser)->kind == HK_TOKEN_NUMBER)
        parser->now++;
}

/* ---- Kinds ---- */

static bool ordinal(struct hk_row_parser *parser, int64_t *nth)
{
    static const struct {
        const char *word;
        int64_t value;
    } words[] = {{"first", 1}, {"second", 2},  {"third", 3},  {"fourth", 4}, {"fifth", 5},
                 {"sixth", 6}, {"seventh", 7}, {"eighth", 8}, {"last", -1}};
    for (size_t i = 0; i < sizeof words / sizeof *words; i++) {
        if (hk_row_take(parser, words[i].word)) {
            *nth = words[i].value;
            return true;
        }
    }
    if (hk_row_take(parser, "center|centre|middle")) {
        *nth = 0;
        return true;
    }
    const struct hk_token *token = hk_token(parser);
    if (token->kind != HK_TOKEN_NUMBER || token[1].kind != HK_TOKEN_WORD || token[1].at != token->at + token->length)
        return false;
    parser->now++;
    if (hk_row_take(parser, "st|nd|rd|th")) {
        *nth = token->value;
        return true;
    }
    parser->now--;
    return false;
}

bool hk_row_space_take(struct hk_row_parser *parser, int64_t *chains)
{
    size_t start = parser->now;
    bool chain = hk_row_take(parser, "corner? ch|chain");
    *chains = 0;
    if (chain) {
        hk_row_mark(parser, '-');
        if (hk_token(parser)->kind == HK_TOKEN_NUMBER)
            *chains = parser->tokens[parser->now++].value;
        hk_row_mark(parser, '-');
    } else if (hk_token(parser)->kind == HK_TOKEN_NUMBER) {
        *chains = parser->tokens[parser->now++].value;
        hk_row_mark(parser, '-');
        if (!hk_row_take(parser, "ch|chain")) {
            parser->now = start;
            return false;
        }
        hk_row_mark(parser, '-');
    } else if (hk_row_take(parser, "corner " SPS)) {
        *chains = -1;
        return true;
    }
    if (hk_row_take(parser, SPS))
        return true;
    parser->now = start;
    return false;
}

/* "ch-3", "beg ch", "turning chain", "tch": parses the chain at the start of the row. */
static bool take_counting_chain(struct hk_row_parser *parser, int64_t *chains)
{
    size_t start = parser->now;
    bool named = hk_row_take(parser, "beg|beginning|starting|start|turning|initial|t");
    *chains = 0;
    hk_row_mark(parser, '-');
    if (named && hk_token(parser)->kind == HK_TOKEN_NUMBER) { /* UK "turning 3 ch" */
        *chains = parser->tokens[parser->now++].value;
        hk_row_mark(parser, '-');
        if (hk_row_take(parser, "ch|chain"))
            return true;
        parser->now = start;
        return false;
    }
    named = named || hk_row_ahead(parser, "tch");
    if (hk_row_take(parser, "ch|chain|tch")) {
        bool dash = hk_row_mark(parser, '-');
        if (hk_token(parser)->kind == HK_TOKEN_NUMBER) {
            *chains = parser->tokens[parser->now++].value;
            named = true;
        } else {
            parser->now -= dash;
        }
        if (named && !hk_row_ahead(parser, SPS) && !hk_row_ahead(parser, "- " SPS))
            return true;
    }
    parser->now = start;
    return false;
}

bool hk_row_group_take(struct hk_row_parser *parser)
{
    size_t start = parser->now;
    if (hk_token(parser)->kind ==
        HK_TOKEN_NUMBER) { /* "3-dc group"; in "2 shells" the number is not part of the name */
        parser->now++;
        hk_row_mark(parser, '-');
        if (hk_row_stitch_take(parser) == SIZE_MAX) {
            parser->now = start;
            return false;
        }
        hk_row_mark(parser, '-');
    }
    if (hk_row_take(parser, "shell|shells|group|groups|grp|grps|fan|fans") || hk_row_take(parser, "v -? " STS) ||
        hk_row_take(parser, "vst|vsts"))
        return true;
    parser->now = start;
    return hk_row_definition_take(parser) != NULL;
}

/* Parses a group; two stitches in one place are a group too. */
static bool take_group(struct hk_row_parser *parser)
{
    return hk_row_group_take(parser) || hk_row_take(parser, "inc|incs");
}

/* Parses the neighbour of a gap, of any kind. */
static bool gap_side(struct hk_row_parser *parser)
{
    int64_t chains;
    return hk_row_space_take(parser, &chains) || take_group(parser) || hk_row_stitches_take(parser) != SIZE_MAX ||
           hk_row_take(parser, STS);
}

/* "between next 2 dc", "between shell and next shell". */
static bool kind_gap(struct hk_row_parser *parser, struct hk_where *where)
{
    if (!hk_row_take(parser, "between the? next? 2|two? the?"))
        return false;
    where->what = HK_WHAT_GAP;
    gap_side(parser);
    if (hk_row_take(parser, "and the? next?"))
        gap_side(parser);
    return true;
}

/* Parses the words after "3rd ch": "from hook", "of turning ch", "of 3", "of ch-5 sp". */
static bool nth_chain(struct hk_row_parser *parser, struct hk_where *where, int64_t nth)
{
    if (hk_row_take(parser, "from the? hook")) {
        where->what = HK_WHAT_NTH_CHAIN;
        where->nth = nth;
        return true;
    }
    if (!hk_row_take(parser, "of the? next?"))
        return false;
    if (hk_row_space_take(parser, &where->chains)) { /* a stitch in a chain of a space is worked in the space */
        where->what = HK_WHAT_SPACE;
        where->of_chains = where->chains == 0;
        return true;
    }
    where->what = HK_WHAT_TOP;
    if (take_counting_chain(parser, &where->chains))
        return true;
    if (hk_token(parser)->kind != HK_TOKEN_NUMBER)
        return false;
    where->chains = parser->tokens[parser->now++].value;
    hk_row_take(parser, "ch|chain|chs|chains");
    return true;
}

/* "next shell", "5 dc": parses the group that a stitch belongs to. */
static bool nth_of_group(struct hk_row_parser *parser)
{
    if (take_group(parser) || hk_row_take(parser, "cluster|cl"))
        return true;
    if (!hk_row_take(parser, "3|5"))
        return false;
    hk_row_stitches_take(parser);
    return true;
}

/* "3rd ch from hook", "3rd ch of turning ch", "centre dc of next shell"; else does not advance. */
static bool kind_nth(struct hk_row_parser *parser, struct hk_where *where)
{
    size_t start = parser->now;
    int64_t nth = 0;
    struct hk_where found = *where;
    if (!ordinal(parser, &nth))
        return false;
    bool good;
    if (nth > 0 && hk_row_take(parser, "ch|chain")) {
        good = nth_chain(parser, &found, nth);
    } else {
        found.what = HK_WHAT_GROUP;
        found.within = true;
        found.nth = nth;
        found.stitch = hk_row_stitches_take(parser);
        good = (found.stitch != SIZE_MAX || hk_row_take(parser, STS)) &&
               hk_row_take(parser, "of|in the? next|same|last|first?") && nth_of_group(parser);
    }
    if (good)
        *where = found;
    else
        parser->now = start;
    return good;
}

/* Parses the words after "top of": a counting chain, or another stitch. Returns false if it is not a chain. */
static bool kind_top(struct hk_row_parser *parser, struct hk_where *where)
{
    static const struct {
        const char *word;
        enum hk_which which;
    } words[] = {{"first", HK_WHICH_FIRST}, {"last", HK_WHICH_LAST}, {"same", HK_WHICH_SAME}, {"next", HK_WHICH_NEXT}};
    for (size_t i = 0; i < sizeof words / sizeof *words; i++)
        if (hk_row_take(parser, words[i].word))
            where->which = words[i].which;
    size_t start = parser->now;
    int64_t chains = 0;
    bool chain = take_counting_chain(parser, &chains);
    if (!chain && hk_row_take(parser, "ch|chain")) {
        chain = !hk_row_mark_ahead(parser, '-') && !hk_row_ahead(parser, SPS);
        parser->now = chain ? parser->now : start;
    }
    if (chain)
        *where = (struct hk_where){.given = true,
                                   .worded = where->worded,
                                   .what = HK_WHAT_TOP,
                                   .which = where->which,
                                   .count = where->count,
                                   .chains = chains,
                                   .stitch = SIZE_MAX,
                                   .at = where->at};
    return chain;
}

/* Parses a kind of place; where->count has its number already. */
static bool where_kind(struct hk_row_parser *parser, struct hk_where *where)
{
    int64_t chains = 0;
    take_loops(parser);
    where->stitch = SIZE_MAX;
    if (hk_row_other_take(parser, where) || kind_nth(parser, where) || kind_gap(parser, where))
        return true;
    size_t tokens = 0, longer = hk_row_stitch_ahead(parser, &tokens);
    if (longer != SIZE_MAX && tokens > 2) { /* "ch-3 picot", "3-dc cl" */
        parser->now += tokens;
        where->what = HK_WHAT_STITCH;
        where->stitch = longer;
        return true;
    }
    if (hk_row_take(parser, "sp|space between the? next? 2|two?")) {
        where->what = HK_WHAT_GAP;
        gap_side(parser);
        return true;
    }
    if (hk_row_take(parser, "top of the?") && kind_top(parser, where))
        return true;
    if (hk_row_take(parser, "magic|adjustable|center|centre|starting|beg? ring|loop|circle|lp") ||
        hk_row_take(parser, "ring|circle") || hk_row_take(parser, "center|centre of the? ring|circle") ||
        hk_row_take(parser, "mr|mc")) {
        where->what = HK_WHAT_RING;
        return true;
    }
    if (hk_row_take(parser, "marked " STS) || hk_row_take(parser, STS " with|at the? marker|m") ||
        (hk_row_ahead(parser, "marker|m") && hk_token(parser)[1].kind != HK_TOKEN_NUMBER &&
         hk_row_take(parser, "marker|m"))) {
        where->what = HK_WHAT_MARKED;
        return true;
    }
    if (hk_row_take(parser, "skipped|unworked|missed")) {
        where->what = HK_WHAT_SKIPPED;
        if (!hk_row_take(parser, STS "|ch|chs")) {
            where->stitch = hk_row_stitches_take(parser);
            hk_row_take(parser, STS);
        }
        hk_row_other_of(parser, where);
        return true;
    }
    if (hk_row_take(parser, STS " at base of the?") || hk_row_take(parser, "base of the?")) {
        take_counting_chain(parser, &chains);
        where->which = HK_WHICH_SAME;
        return true;
    }
    size_t space = parser->now;
    if (hk_row_space_take(parser, &chains)) {
        where->what = HK_WHAT_SPACE;
        where->chains = chains;
        where->of_chains = chains == 0 && parser->now - space > 1;
        for (; space < parser->now; space++)
            if (parser->tokens[space].kind == HK_TOKEN_NUMBER && chains == 0) {
                hk_row_mistake(parser, HK_CODE_RANGE, parser->tokens[space].at, "a space of 0 chains is none");
                hk_row_hint(parser, "write of how many chains it is, such as ch-2 sp");
            }
        if (hk_row_take(parser, "of|in the?|each? next|same|last?"))
            take_group(parser);
        return true;
    }
    if (hk_row_take(parser, "corner|corners")) {
        where->what = HK_WHAT_SPACE;
        where->chains = -1;
        return true;
    }
    if (take_counting_chain(parser, &chains)) {
        where->what = HK_WHAT_TOP;
        where->chains = chains;
        return true;
    }
    if (hk_row_take(parser, "ch|chs|chain|chains")) {
        where->what = HK_WHAT_CHAIN;
        return true;
    }
    if (take_group(parser)) {
        where->what = HK_WHAT_GROUP;
        return true;
    }
    if (hk_row_take(parser, STS)) {
        where->what = HK_WHAT_ANY;
        hk_row_other_of(parser, where);
        return true;
    }
    size_t stitch = hk_row_stitches_take(parser);
    if (stitch == SIZE_MAX)
        return false;
    hk_row_take(parser, STS);
    where->what = HK_WHAT_STITCH;
    where->stitch = stitch;
    hk_row_other_of(parser, where);
    return true;
}

/* ---- Which places ---- */

static bool refuse_other(struct hk_row_parser *parser)
{
    hk_row_mistake(parser, HK_CODE_ROW_PLACE, hk_token(parser)->at, "\"every other\" is not read");
    hk_row_hint(parser, "write what repeats: *sc in next st, sk next st; rep from * across");
    return false;
}

static bool two_ways(struct hk_row_parser *parser, size_t at, int64_t number)
{
    hk_row_mistake(parser, HK_CODE_ROW_PLACE, at, "in %d can be read in two ways", (int)number);
    hk_row_hint(parser, "write in each of next %d sts for once in each, or in next st for all in one", (int)number);
    return false;
}

/* Reports "same 3 sts": the same place is one. */
static bool refuse_same(struct hk_row_parser *parser, size_t at, int64_t number)
{
    hk_row_mistake(parser, HK_CODE_ROW_PLACE, at, "the same place is one, not %d", (int)number);
    hk_row_hint(parser, "write in same st for all in one, or in each of next %d sts", (int)number);
    return false;
}

/* "and each ch-1 sp", "and in each ch": parses several kinds of places for one "each". */
static bool where_besides(struct hk_row_parser *parser, struct hk_where *where)
{
    for (;;) {
        size_t start = parser->now;
        bool each = hk_row_take(parser, "and|& in|into? each|every") || hk_row_take(parser, "and|&");
        struct hk_where other = {.given = true, .which = HK_WHICH_EACH, .count = one};
        if (!each || hk_row_ahead(parser, "next|last|first|in|same|to|top") || !where_kind(parser, &other)) {
            parser->now = start;
            return true;
        }
        struct hk_where *kept = hk_arena_take(parser->arena, 1, sizeof *kept);
        if (!kept)
            return false;
        *kept = other;
        where->besides = kept;
        where = kept;
    }
}

/* Parses the words after "each". */
static bool where_each(struct hk_row_parser *parser, struct hk_where *where)
{
    where->which = HK_WHICH_EACH;
    bool found;
    if (hk_row_ahead(parser, "other|alternate|second") && !hk_row_other_take(parser, where))
        return refuse_other(parser);
    if (where->what == HK_WHAT_OTHER)
        return true;
    bool of = hk_row_take(parser, "of the?");
    bool next = hk_row_take(parser, "next|following"), first = !next && hk_row_take(parser, "first");
    bool last = !next && !first && hk_row_take(parser, "last");
    hk_row_take(parser, "remaining|rem");
    size_t tokens;
    bool named = hk_row_stitch_ahead(parser, &tokens) != SIZE_MAX; /* "each of 3-dc cl" */
    if (!named && hk_row_number_ahead(parser) && (of || next || first || last)) {
        size_t start = parser->now;
        int64_t chains;
        if (hk_token(parser)->kind == HK_TOKEN_NUMBER && hk_row_space_take(parser, &chains)) {
            parser->now = start; /* "each of 2-ch sps" */
        } else {
            where->limit = HK_LIMIT_COUNT;
            where->which = last ? HK_WHICH_LAST : first ? HK_WHICH_FIRST : HK_WHICH_NEXT;
            if (!hk_row_number_of_places(parser, &where->count))
                return false;
            bool kind = where_kind(parser, where);
            if (!kind)
                where->what = HK_WHAT_ANY;
            where->worded = next || first || last || kind; /* "in each of 3" is short notation */
            take_tail(parser);
            return true;
        }
    }
    if (!where_kind(parser, where))
        return hk_row_unknown(parser);
    take_tail(parser);
    return where_besides(parser, where) && hk_row_limit(parser, where, &found);
}

static bool where_rows_below(struct hk_row_parser *parser, struct hk_where *where)
{
    size_t start = parser->now;
    if (hk_row_number_ahead(parser)) {
        parser->now++;
        if (hk_row_take(parser, ROW " below|down")) {
            where->what = HK_WHAT_BELOW;
            return true;
        }
    }
    parser->now = start;
    return false;
}

/* Reports "3rd" before a word that names no place. */
static bool refuse_ordinal(struct hk_row_parser *parser)
{
    hk_row_mistake(parser, HK_CODE_ROW_PLACE, hk_token(parser)->at, "of what this is the %" PRId64 "%.2s is not read",
                   hk_token(parser)->value, hk_token_text(parser) + hk_token(parser)->length);
    hk_row_hint(parser, "write what it is part of: 3rd ch from hook, 2nd dc of next shell");
    return false;
}

static bool ordinal_ahead(struct hk_row_parser *parser)
{
    size_t start = parser->now;
    int64_t nth;
    bool ahead = hk_token(parser)->kind == HK_TOKEN_NUMBER && ordinal(parser, &nth);
    parser->now = start;
    return ahead;
}

/* "rem 16 sts" */
static bool rest_ahead(struct hk_row_parser *parser)
{
    size_t start = parser->now;
    if (hk_row_take(parser, "rem|remaining") && hk_row_number_ahead(parser))
        return true;
    parser->now = start;
    return false;
}

/* "center 20 sts" */
static bool center_take(struct hk_row_parser *parser)
{
    size_t start = parser->now;
    int64_t chains;
    if (hk_row_take(parser, "center|centre|middle") && hk_token(parser)->kind == HK_TOKEN_NUMBER) {
        size_t number = parser->now;
        bool space = hk_row_space_take(parser, &chains);
        parser->now = space ? start : number;
        return !space;
    }
    parser->now = start;
    return false;
}

bool hk_row_where_words(struct hk_row_parser *parser, struct hk_where *where, bool *found)
{
    size_t start = parser->now, at = hk_token(parser)->at;
    *where = (struct hk_where){.given = true, .worded = true, .count = one, .stitch = SIZE_MAX, .at = at};
    *found = true;
    hk_row_take(parser, "the|a|an");
    take_loops(parser);
    hk_row_take(parser, "the");
    size_t behind_loops = parser->now;
    if (hk_row_some_others(parser, where))
        return true;
    if (hk_row_take(parser, "each|every"))
        return where_each(parser, where);
    if (hk_row_take(parser, "all of? the?") && hk_row_number_ahead(parser)) { /* "in all 8 sts" */
        where->limit = HK_LIMIT_COUNT;
        if (!hk_row_number_of_places(parser, &where->count))
            return false;
        if (!where_kind(parser, where))
            where->what = HK_WHAT_ANY;
        take_tail(parser);
        return true;
    }
    parser->now = behind_loops;
    if (hk_row_take(parser, "all|remaining|rem remaining|rem? the? " STS)) {
        where->which = HK_WHICH_EACH;
        bool limited;
        return hk_row_limit(parser, where, &limited) && (limited || (where->limit = HK_LIMIT_END, true));
    }
    bool nth_kind =
        hk_row_ahead(parser, "first|last|second|third|fourth|center|centre|middle") && kind_nth(parser, where);
    if (nth_kind) {
        take_tail(parser);
        return true;
    }
    if (hk_row_take(parser, "next|following|nxt") || rest_ahead(parser))
        where->which = HK_WHICH_NEXT;
    else if (center_take(parser))
        where->center = true;
    else if (hk_row_take(parser, "first"))
        where->which = HK_WHICH_FIRST;
    else if (hk_row_take(parser, "last|final"))
        where->which = HK_WHICH_LAST;
    else if (hk_row_take(parser, "same|that|this"))
        where->which = HK_WHICH_SAME;
    bool qualified = parser->now > start && !hk_row_ahead(parser, "the");
    size_t number_at = hk_token(parser)->at;
    int64_t ignored;
    size_t before = parser->now;
    bool is_space = hk_token(parser)->kind == HK_TOKEN_NUMBER && hk_row_space_take(parser, &ignored);
    parser->now = before;
    struct hk_where nth = *where;
    if (!is_space && kind_nth(parser, &nth)) {
        nth.which = where->which;
        *where = nth;
        take_tail(parser);
        return true;
    }
    size_t tokens;
    bool named = hk_row_stitch_ahead(parser, &tokens) != SIZE_MAX; /* in "3-dc cl" 3 is not a number of places */
    named |= !is_space && hk_token(parser)->kind == HK_TOKEN_NUMBER && take_group(parser);
    parser->now = before;
    if (ordinal_ahead(parser))
        return refuse_ordinal(parser);
    if (!is_space && !named && hk_row_number_ahead(parser)) {
        if (!hk_row_number_of_places(parser, &where->count))
            return false;
        if (where->which == HK_WHICH_SAME && (where->count.one != 1 || where->count.by_size))
            return refuse_same(parser, number_at, where->count.one);
        if (!qualified && where->count.one != 1)
            return two_ways(parser, number_at, where->count.one);
        size_t behind = parser->now;
        if (!where_kind(parser, where))
            where->what = HK_WHAT_ANY;
        where->worded = qualified || parser->now > behind; /* "in 1" is short notation */
        take_tail(parser);
        where_rows_below(parser, where);
        return true;
    }
    if (where_kind(parser, where)) {
        if (where->which == HK_WHICH_SAME)
            take_as(parser);

        take_tail(parser);
        where_rows_below(parser, where);
        return true;
    }
    if (where->which == HK_WHICH_SAME) { /* "in same" */
        take_as(parser);
        return true;
    }
    parser->now = start;
    *found = false;
    return true;
}

static bool is_dash(const struct hk_token *token)
{
    return token->kind == HK_TOKEN_MARK && token->mark == '-';
}

/* Returns true for a number of places, not the 2 of "ch-2 sps" or "2-ch sps". */
static bool places_ahead(const struct hk_row_parser *parser)
{
    const struct hk_token *token = hk_token(parser);
    return hk_row_number_ahead(parser) && !is_dash(&token[-1]) && !is_dash(&token[1]);
}

/* Reports several places without a number, from the token `from` on: "in sts", "in next shells". */
static bool refuse_plural(struct hk_row_parser *parser, size_t from)
{
    const size_t end = parser->now;
    for (parser->now = from; parser->now < end && !places_ahead(parser); parser->now++) {
        if (!hk_row_ahead(parser, "sts|stitches|sps|spaces|lps|arches|chs|chains|shells|groups|fans|corners"))
            continue;
        hk_row_mistake(parser, HK_CODE_ROW_PLACE, hk_token(parser)->at, "the number of these places is not stated");
        hk_row_hint(parser, "write each st across, or their number: next 3 sts");
        return true;
    }
    parser->now = end;
    return false;
}

bool hk_row_where(struct hk_row_parser *parser, struct hk_where *where, bool *found)
{
    size_t start = parser->now;
    *found = false;
    struct hk_where layers = {0};
    bool both = hk_row_layers_take(parser, &layers);
    hk_row_take(parser, "all");
    if (hk_row_take(parser, "around|round|about")) {
        if (!hk_row_take(parser, "the? post|posts|stem of the?") &&
            !hk_row_ahead(parser, "the? next|each|first|last|same|dc|tr|sc|hdc|htr|st|sts|corresponding"))
            goto none;
    } else if (where_rows_below(parser, where)) {
        *where = (struct hk_where){
            .given = true, .what = HK_WHAT_BELOW, .count = one, .stitch = SIZE_MAX, .at = parser->tokens[start].at};
        *found = true;
        return true;
    } else if (!hk_row_ahead(parser,
                             "between the? next|2|two|dc|sc|tr|hdc|st|sts|shells|groups") && /* part of the place */
               !hk_row_take(parser, "in|into|on|over|under|through|onto|at")) {
        goto none;
    }
    const size_t words = parser->now;
    if (!hk_row_where_words(parser, where, found))
        return false;
    if (*found && where->which != HK_WHICH_EACH && where->which != HK_WHICH_SAME && where->what != HK_WHAT_GAP &&
        where->what != HK_WHAT_OTHER && refuse_plural(parser, words))
        return false;
    if (*found) {
        where->both_layers = both || hk_row_layers_take(parser, &layers);
        if (layers.work_count > 0) {
            if (where->what != HK_WHAT_OTHER)
                where->other = HK_OTHER_STITCHES;
            where->what = HK_WHAT_OTHER;
            where->works = layers.works;
            where->work_count = layers.work_count;
        }
        return true;
    }
none:
    parser->now = start;
    return true;
}

/* ---- Limits ---- */

/* Parses the limit after "to". */
static bool limit_place(struct hk_row_parser *parser, struct hk_where *where, bool *found)
{
    struct hk_where until;
    if (!hk_row_where_words(parser, &until, found))
        return false;
    if (!*found)
        return true;
    struct hk_where *kept = hk_arena_take(parser->arena, 1, sizeof *kept);
    if (!kept)
        return false;
    *kept = until;
    where->limit = HK_LIMIT_PLACE;
    where->until = kept;
    return true;
}

static bool limit_before(struct hk_row_parser *parser, struct hk_where *where, size_t start, bool *found)
{
    if (!hk_row_number(parser, &where->last))
        return false;
    size_t tokens;
    if (!hk_row_take(parser, STS) && hk_row_stitch_ahead(parser, &tokens) != SIZE_MAX &&
        parser->tokens[parser->now + tokens].kind == HK_TOKEN_WORD) {
        hk_row_stitches_take(parser);
        if (!hk_row_ahead(parser, "before")) /* "to 2 dc before ch-2 sp" */
            parser->now -= tokens;
    }
    if (hk_row_take(parser, "before|of the? end of? the?|this? row|rnd|round?") ||
        hk_row_take(parser, "rem|remain|remaining|remains|left") || hk_row_take(parser, "are|is left|unworked") ||
        hk_row_take(parser, "from the? end")) {
        where->limit = HK_LIMIT_LAST;
        *found = true;
        return true;
    }
    if (hk_row_take(parser, "before|from the?"))
        return limit_place(parser, where, found);
    parser->now = start;
    *found = false;
    return true;
}

/* "3rd st of next shell", "last dc of shell": returns true for one place in a group, not a number of places. */
static bool group_member_ahead(struct hk_row_parser *parser)
{
    size_t start = parser->now;
    struct hk_where member = {0};
    bool ahead = kind_nth(parser, &member);
    parser->now = start;
    return ahead;
}

bool hk_row_limit(struct hk_row_parser *parser, struct hk_where *where, bool *found)
{
    size_t start = parser->now;
    *found = false;
    bool swept = hk_row_take(parser, "all? the? way? across|around|along") || hk_row_take(parser, "all? round");
    if (swept) {
        hk_row_take(parser, "the? row|rnd|round|edge");
        where->limit = HK_LIMIT_END;
        *found = true;
    }
    size_t behind = parser->now;
    if (!hk_row_take(parser, "to|till|until|up|ending to?"))
        return true;
    bool within = hk_row_take(parser, "within");
    hk_row_take(parser, "the");
    if (!within && hk_row_take(parser, "end of? the?|this? row|rnd|round?")) {
        where->limit = HK_LIMIT_END;
        *found = true;
        return true;
    }
    if (group_member_ahead(parser))
        return limit_place(parser, where, found);
    if (hk_row_take(parser, "last")) {
        where->last = one;
        int64_t chains;
        size_t before = parser->now;
        if (hk_row_space_take(parser, &chains) || take_group(parser)) {
            parser->now = before - 1;
            where->last = (struct hk_graded_count){0};
            return limit_place(parser, where, found);
        }
        parser->now = before;
        if (hk_row_number_ahead(parser) && !hk_row_number(parser, &where->last))
            return false;
        if (!hk_row_take(parser, STS))
            hk_row_stitches_take(parser);
        if (!hk_row_take(parser, "before|of the? end") && hk_row_take(parser, "before")) {
            if (!limit_place(parser, where, found)) /* "to last 2 dc before ch-2 sp" */
                return false;
            if (*found)
                return true;
            return hk_row_unknown(parser);
        }
        where->limit = HK_LIMIT_LAST;
        *found = true;
        return true;
    }
    bool next_space = false;
    if (hk_row_number_ahead(parser)) {
        size_t before = parser->now;
        int64_t chains;
        next_space = hk_row_space_take(parser, &chains);
        parser->now = before;
    }
    if (hk_row_number_ahead(parser) && !next_space) {
        if (!limit_before(parser, where, start, found))
            return false;
        if (*found)
            return true;
    } else if (!limit_place(parser, where, found)) {
        return false;
    }
    if (!*found) {
        parser->now = behind;
        *found = swept;
    }
    return true;
}
